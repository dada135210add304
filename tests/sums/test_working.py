"""Calculation questions in many wordings, each with its answer worked out by hand, and what they lean on."""

from __future__ import annotations

import math
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import yaml

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.language.reading_types import Reading
from cabassist.sums.outright import OUTRIGHT
from cabassist.sums.working import CALCULATIONS, Pending, Worked, say, show, work_out

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
COACH = Coach.model_validate(yaml.safe_load((ROOT / "knowledge" / "coaches" / "demo.yaml").read_text()))


class Held:
    """A stored reading for tests."""

    def __init__(
        self, what: str, value: float, unit: str | None, which: str | None = None, hours_ago: float = 0.0
    ) -> None:
        self.reading = Reading(what, which, value, unit)
        self.at = NOW - timedelta(hours=hours_ago)


def ask(
    text: str, *, hints: Any = (), stored: Any = (), pending: Pending | None = None, last: Worked | None = None
) -> Worked | None:
    return work_out(text, hints, coach=COACH, stored=stored, now=NOW, pending=pending, last=last)


def talk(*turns: str, stored: Any = ()) -> list[Worked | None]:
    """What each turn of a conversation about calculations gives."""
    said: list[Worked | None] = []
    pending: Pending | None = None
    last: Worked | None = None
    for turn in turns:
        worked = ask(turn, stored=stored, pending=pending, last=last)
        said.append(worked)
        if worked is not None:
            pending = worked.pending
            last = worked if worked.estimate is not None else last
    return said


def value(worked: Worked | None) -> float | None:
    assert worked is not None
    assert worked.estimate is not None, (worked.question, worked.refused)
    return worked.estimate.value


# fmt: off
QUESTIONS: list[tuple[Any, ...]] = [
    # Filling: gallons ÷ flow.
    ("we need ninety gallons and the spigot gives six a minute, how long's that take", "fill-time", 15, "min", .1),
    ("tank is at forty percent, hose does five gallons a minute, how many minutes to full", "fill-time", 14.4, "min", .1),
    ("a three gallon pail fills in twenty four seconds, how long for sixty gallons", "fill-time", 8, "min", .1),
    ("it takes forty five seconds to fill a five gallon bucket, how long to put in eighty gallons", "fill-time", 12, "min", .1),
    ("how much water goes in if the hose runs for ten minutes at four and a half gallons a minute", "fill-time", 45, "gal", .1),
    ("what's the flow if a two gallon jug fills in fifteen seconds", "fill-time", 8, "gal/min", .1),
    ("how long from a quarter up to three quarters at four gallons a minute", "fill-time", 15, "min", .1),
    ("can we top off seventy five gallons in twenty minutes at three a minute", "fill-time", 25, "min", .1, "No"),
    ("hundred and fifty litres at ten litres a minute, how many minutes", "fill-time", 15, "min", .1),
    ("I started at 9:20 pm with the tank a third full and five gallons a minute, when's it full", "fill-time", 16, "min", .1),
    ("fresh tank holds 100 gallons and is a third full the hose gives three gallons a minute how long to fill it", "fill-time", 22.22, "min", .05),
    ("bucket test five gallons in forty seconds how many gallons a minute is that", "fill-time", 7.5, "gal/min", .05),
    ("how long for 85 gal at 7.5 gpm", "fill-time", 11.33, "min", .05),
    ("started filling at ten past nine at four gallons a minute tank was empty when is it full", "fill-time", 30, "min", .05),
    ("whats the time to fill 110 gallons with a hose doing 5.5 gallons per minute", "fill-time", 20, "min", .05),
    ("it took two minutes to get eight gallons in how long for the other sixty", "fill-time", 15, "min", .05),
    ("fill 75gal @ 5gpm how long", "fill-time", 15, "min", .05),
    ("the tank's got twenty gallons in it already and holds a hundred and twenty, at eight gallons a minute when's it full", "fill-time", 12.5, "min", .05),
    ("if it takes half an hour to fill ninety gallons what's the hose giving in gallons a minute", "fill-time", 3, "gal/min", .05),
    ("hose gives us six and a quarter gallons a minute and we need a hundred and five gallons how many minutes", "fill-time", 16.8, "min", .05),
    ("how long to fill sixty gallons if a one gallon jug takes twelve seconds", "fill-time", 12, "min", .05),
    ("water's at a quarter and I started the hose at eight forty at six a minute when is it full", "fill-time", 15, "min", .05),
    # Looking: four fifths of the filling time, cut to minutes.
    ("when do I go look if it's filling from empty at six gallons a minute", "when-to-look", 16, "min", .1),
    ("fresh is at thirty percent of 120 gallons and the hose is four gallons a minute when should I go check", "when-to-look", 16, "min", 1.1),
    # Fresh: gallons ÷ (people x use) x 24.
    ("sixty gallons, eighteen of us at two and a half gallons a head a day, how long does that last", "fresh-hours", 32, "h", .1),
    ("will fifty gallons do twenty people for a day at three gallons each", "fresh-hours", 20, "h", .1, "No"),
    ("how many five gallon showers are in ninety gallons", "fresh-hours", 18, "showers", .1),
    ("fresh went from ninety percent to sixty percent in eight hours, when's it dry", "fresh-hours", 16, "h", .1),
    ("we use forty gallons a day and there's two thirds of a tank of fresh, how many days", "fresh-hours", 2, "days", .01),
    ("how much fresh do twenty four people need for three days at two gallons each a day", "fresh-hours", 144, "gal", .1),
    ("fresh was at 100 gallons at noon and 85 at five pm, how many hours till empty", "fresh-hours", 28.333, "h", .1),
    ("30 people 2.2 gal each per day and 90 gal on board how many hours", "fresh-hours", 32.73, "h", .05),
    ("fresh 120 full, 40 passengers each use 1.5 gallons a day, how long", "fresh-hours", 48, "h", .05),
    ("there's forty five gallons of fresh left and it dropped fifteen in the last five hours when do we run out", "fresh-hours", 15, "h", .05),
    ("fresh down to thirty gallons with twenty four aboard at two gallons per person per day does that get us through ten hours", "fresh-hours", 15, "h", .05, "Yes"),
    ("twenty five on board fifty gallons fresh everybody uses about a gallon and a half a day how many hours of water", "fresh-hours", 32, "h", .05),
    ("if we go through two gallons an hour how long will forty eight gallons of fresh water last", "fresh-hours", 24, "h", .05),
    ("is sixty gallons enough for twenty five people for a day at two gallons apiece", "fresh-hours", 28.8, "h", .1, "Yes"),
    ("the lads use a gallon and a half each a day, twenty of them, and the clean tank has forty five gallons, how long are we good", "fresh-hours", 36, "h", .05),
    ("fresh at 70 percent this morning at seven and 55 percent at one pm, how long until it's gone", "fresh-hours", 22, "h", .05),
    ("a hundred gallons in the fresh and we lose about four gallons an hour how long till we're at twenty gallons", "fresh-hours", 20, "h", .05),
    ("if showers are three gallons each how many can we have and still keep twenty gallons out of eighty", "fresh-hours", 20, "showers", .1),
    # Waste: room ÷ inflow.
    ("waste's at half with thirty on board putting in one and a half gallons a day each, how many hours till full", "waste-hours", 21.333, "h", .1),
    ("the eighty gallon holding tank has thirty gallons in it and gains four gallons an hour, when is it full", "waste-hours", 12.5, "h", .1),
    ("sewage was a quarter at six am and a half at two pm, how long until ninety percent at that rate", "waste-hours", 12.8, "h", .1),
    ("if the waste is at seventy percent and goes up three percent an hour how long have I got", "waste-hours", 10, "h", .1),
    ("twenty six people, each flushes five times a day at half a gallon, waste starts at twenty percent, hours till full", "waste-hours", 64/65*24, "h", .1),
    ("will the waste hold twelve hours at sixty percent with twenty aboard at 1.6 each", "waste-hours", 24, "h", .1, "Yes"),
    ("waste tank 80 gallons at 62 percent 28 people 1.5 gal each a day when is it ninety percent full", "waste-hours", 12.8, "h", .05),
    ("waste rose from 30 to 50 percent between nine am and three pm when will it be full", "waste-hours", 15, "h", .05),
    ("if each flush is a quarter gallon how many flushes till the waste is full it's at forty percent", "waste-hours", 192, "flushes", .5),
    ("waste has 50 gallons in it, 30 people flush twice each at 0.5 gallon, does it fit", "waste-hours", 80, "gal", .5),
    ("waste is a third full it takes in three gallons an hour how long before it's full", "waste-hours", 17.78, "h", .05),
    ("black tank went from a tenth to four tenths in nine hours how long till it tops out", "waste-hours", 18, "h", .05),
    ("holding tank is half full and 32 people add 1.25 gallons each a day when's it at ninety percent", "waste-hours", 32/40*24, "h", .1),
    ("how long till black's brim full, it's at five eighths and gains two and a half gallons every hour", "waste-hours", 12, "h", .05),
    ("with eighteen aboard flushing six times a day at a third of a gallon how long will the waste take to go from a quarter to full", "waste-hours", 60/36*24, "h", .1),
    ("waste tank's forty percent thirty five people one point four gallons each a day how many hours till we must dump at ninety percent", "waste-hours", 40/49*24, "h", 1.1),
    # The sooner of the two.
    ("a hundred gallons fresh, waste sixty percent, thirty people, two gallons each and one and a half into the waste, which one first", "which-first", .4*80/45*24, "h", .1, "Waste"),
    ("fresh at a quarter, waste at a third, twenty people using 2 gallons a day and putting 1.5 in the waste, what comes first", "which-first", 18, "h", .1, "Fresh"),
    ("fresh 90 gal waste 20 percent of 80, 30 people, 2 gal in and 1.6 gal out each per day, which hits first", "which-first", 32, "h", .2, "waste"),
    ("fresh a third waste two thirds twenty eight people using two and putting in one and three quarters which is first", "which-first", 26.667/49*24, "h", .2, "Waste"),
    # Room to 90 %, less an hour in hand.
    ("waste is at half with twenty aboard at two gallons each a day, by when do we have to dump", "dump-deadline", 18.2, "h", .1),
    # Hours left, less an hour in hand.
    ("fresh two thirds, thirty people at two gallons each, when must we fill", "fill-by", 31, "h", .1),
    # 8.337 lb a gallon.
    ("what do seventy five gallons of water weigh", "water-weight", 625.3, "lb", 1),
    ("dumping a full waste tank makes us how many pounds lighter", "water-weight", 667, "lb", 1),
    ("what does eighty percent of the fresh tank weigh in pounds", "water-weight", 800.4, "lb", 1),
    ("how much heavier are we with 100 gallons fresh and 60 gallons waste", "water-weight", 1333.9, "lb", 2),
    ("how much do 200 litres of water weigh in pounds", "water-weight", 440.5, "lb", .6),
    # Share of the height; the demo coach has 120 gal on 24 in and 80 gal on 20 in.
    ("ten and a half inches in the fresh tank, how many gallons", "tank-depth", 52.5, "gal", .1),
    ("waste is four inches from the top, what percent is that", "tank-depth", 80, "percent", .1),
    ("how deep is ninety gallons in the fresh", "tank-depth", 18, "in", .1),
    ("a tank fifty inches long, twenty wide and eighteen high, how many gallons", "tank-depth", 18000/231, "gal", .1),
    ("a round tank lying on its side twenty inches across and sixty long, five inches deep, how many gallons", "tank-depth", 15.95, "gal", .1),
    ("fresh is 13 inches deep in the 24 inch tank how many gallons", "tank-depth", 65, "gal", .1),
    ("nine inches of waste in a twenty inch deep eighty gallon tank what percent", "tank-depth", 45, "percent", .1),
    ("how many gallons is 40 cm in the waste tank", "tank-depth", 62.99, "gal", .1),
    ("water in the fresh stands at twenty one inches so how many gallons do I have", "tank-depth", 105, "gal", .1),
    ("how many liters is six inches in the waste tank", "tank-depth", 24*3.78541, "L", .3),
    ("sixteen inches up in the clean tank is how many gallons and what percent", "tank-depth", 80, "gal", .1),
    ("if the waste is thirteen inches deep what percent full is it", "tank-depth", 65, "percent", .1),
    # mL = L x mg/L ÷ (10 x percent).
    ("how much six percent bleach for eighty gallons at fifty ppm", "bleach-dose", 8.53, "fl oz", .05),
    ("cups of 8.25 percent bleach to shock a hundred and twenty gallons", "bleach-dose", 1.164, "cup", .01),
    ("how many ml of five percent bleach for two hundred litres", "bleach-dose", 200, "mL", 1),
    ("what strength do I get from half a cup of six percent bleach in sixty gallons", "bleach-dose", 31.25, "mg/L", .3),
    ("drops of eight and a quarter percent bleach to make three gallons safe to drink", "bleach-dose", 18, "drops", .1),
    ("bleach for the 120 gallon fresh tank, 7.5 percent, how many ounces and cups", "bleach-dose", 10.24, "fl oz", .05),
    ("how many tablespoons of 6 percent bleach for ten gallons at 50 ppm", "bleach-dose", 10*3.785411784*50/60/14.7868, "tbsp", .05),
    ("clorox 7.5%, 120 gal tank, want 50 ppm, how many cups", "bleach-dose", 454.249*50/75/236.588, "cup", .01),
    ("one cup of 8.25 percent bleach in a hundred gallons gives what ppm", "bleach-dose", 236.588*82.5/378.54, "mg/L", .5),
    # Lumped cooling, and never below the air.
    ("outside it's minus eighteen c and windy forty kph, what's the lowest the waste tank can drop to unheated", "freeze-time", -18, "C", .1, "not the wind chill"),
    ("fifty gallons at forty five degrees, ten below outside, loses four and a half watts per degree c, how long till it starts to freeze", "freeze-time", 13.19, "h", .1),
    ("how long until thirty gallons at fifty f freezes if it's losing three hundred watts", "freeze-time", 4.40, "h", .05),
    ("how much heat comes out of twenty gallons at forty degrees until it's a block of ice", "freeze-time", 25260, "BTU", 50),
    ("water in the tank at 50 f, 60 gallons, air zero f, loses 5 watts per degree c, hours to freezing", "freeze-time", 23.58, "h", .1),
    ("wind thirty, temperature minus twenty fahrenheit, can the water in a pipe get colder than minus twenty", "freeze-time", -20, "F", .1),
    ("the coach sits at twenty below with a forty mile wind how cold does the water in the tank end up with no heat", "freeze-time", -20, "F", .1, "not the wind chill"),
    ("tank's unheated, air is minus twelve c, wind chill minus twenty five c, how cold does the water end up", "freeze-time", -12, "C", .1, "not the wind chill"),
    ("how long for eighty gallons at 42 degrees to get to freezing at ten above with the pad off, loss is four and a half watts per kelvin", "freeze-time", 80*3.785411784*4186.8/4.5/3600*math.log(32/22), "h", .3),
    ("a tank of water outside at minus thirty with wind of twenty can it go lower than minus thirty", "freeze-time", -30, "F", .1, "not the wind chill"),
    # Loss per degree x degrees.
    ("what watts does a pad need to hold the tank at forty f when it's ten below and it loses three watts per degree", "heat-pad-watts", 150, "W", .5),
    ("tank loses four and a half watts per degree c, air is minus twenty c, how many watts to keep it at three c", "heat-pad-watts", 103.5, "W", .5),
    ("will a 120 watt pad hold the fresh at thirty two when it's twenty below", "heat-pad-watts", 28, "F", .3),
    ("tank pad is 160 watts and it's 30 below, does the fresh stay above freezing", "heat-pad-watts", 34, "F", .2, "hold"),
    ("what outside temp is the 160 watt pad good to, holding 35", "heat-pad-watts", -29, "F", .2),
    ("heat loss is six watts per degree celsius tank at four c outside minus thirty c what size pad", "heat-pad-watts", 204, "W", .5),
    # National Weather Service formula of 2001.
    ("twenty five below and a fifteen mile wind, what's it feel like", "wind-chill", -51.42, "F", .1),
    ("wind chill at sixty degrees and twenty mile an hour wind", "wind-chill", None,"F", 0),
    ("what's the wind chill at minus 20 c with 40 km/h wind in celsius", "wind-chill", -34.1, "C", .1),
    ("thirty five mile wind and five below how cold does it feel", "wind-chill", -34.29, "F", .2),
    # Bands of wind chill.
    ("minus thirty with a thirty mile wind how long till skin freezes", "frostbite", 2, "min", .1),
    # Forecast less cloud point.
    ("cloud point's twelve and it's going to five tonight, will the diesel gel", "gel-risk", -7, "F", .1, "Risk"),
    # Time constant 5,000 ÷ 283.2 h.
    ("cabin at seventy, five above outside, furnaces dead, how many hours to fifty", "cabin-cool-down", 6.49, "h", .05),
    ("what'll it be inside after four hours with no heat, zero out, starting at sixty six", "cabin-cool-down", 52.6, "F", .1),
    # 283.2 BTU/h per degree: 240 + 1.08 x 40.
    ("BTU an hour at fifteen below holding sixty eight", "heat-loss", 83*283.2, "BTU/h", 5),
    ("a coach that loses three hundred btu per degree, seventy inside and minus ten out, how much heat", "heat-loss", 24000, "BTU/h", 5),
    ("what share of the time does one 35,000 BTU furnace at 80 percent efficiency run if we're losing fourteen thousand BTU", "heat-loss", 50, "percent", .5),
    ("inside seventy outside ten below UA two hundred and forty how much heat do we lose", "heat-loss", 19200, "BTU/h", 5),
    ("coach at 68 inside 20 below outside with 283 btu per degree, what's the heat load", "heat-loss", 88*283, "BTU/h", 10),
    ("seventy two inside and it's eight below how many btu an hour if we lose two hundred and eighty per degree", "heat-loss", 80*280, "BTU/h", 20),
    # Amp hours ÷ amps.
    ("two hundred amp hours usable, pulling eight amps, how many hours", "battery-hours", 25, "h", .1),
    ("four hundred amp hour bank at eighty percent, twelve amp draw, how long down to fifty", "battery-hours", 10, "h", .1),
    ("a 240 watt load on the 12 volt bank, four hundred amp hours, how long to half", "battery-hours", 10, "h", .1),
    ("how many amp hours does a 90 watt fridge use in ten hours on 12 volts", "battery-hours", 75, "Ah", .1),
    ("house bank 200 amp hours at twelve volts running a 600 watt inverter load at ninety percent efficiency how long till it's half", "battery-hours", 1.8, "h", .02),
    ("two 100 amp hour batteries at 80 percent drawing 10 amps how many hours to 50 percent", "battery-hours", 6, "h", .05),
    ("how long can I run a 9 amp furnace fan on 120 usable amp hours", "battery-hours", 13.33, "h", .02),
    ("drawing eighteen amps from a three hundred amp hour bank down to half how many hours", "battery-hours", 150/18, "h", .05),
    ("how many amp hours does the furnace fan use overnight if it draws six amps for ten hours", "battery-hours", 60, "Ah", .1),
    ("220 Ah bank, 60% left, 11 A load, how long to 50%", "battery-hours", 2, "h", .02),
    ("battery is at ninety percent of 400 amp hours drawing 22 amps how long until sixty percent", "battery-hours", 120/22, "h", .05),
    # Amp hours ÷ (amps x efficiency), 85 % when not said.
    ("how long to put 150 amp hours back at 50 amps", "battery-charge-time", 150/50/.85, "h", .05),
    ("bank's at forty percent, 400 amp hours, charger 60 amps at 90 percent efficiency, time to full", "battery-charge-time", 240/54, "h", .05),
    ("charging 200 amp hours at 25 amps, eighty percent efficient, how long", "battery-charge-time", 10, "h", .05),
    ("how long to charge from 50 to 90 percent at 30 amps on the 400 amp hour bank", "battery-charge-time", 6.27, "h", .02),
    # BCI table: 12.24 V 50 %, 12.45 V 75 %, 12.65 V 100 %.
    ("what percent is twelve point three at rest", "battery-state", 57.14, "percent", .2),
    ("battery at 12.06 volts what's the state of charge", "battery-state", 25, "percent", .1),
    ("12.45v rested, how full's the bank", "battery-state", 75, "percent", .5),
    ("what does 12.6 volts mean in percent", "battery-state", 93.75, "percent", .3),
    # U.S. Army table.
    ("at what temperature does a battery at a quarter charge freeze", "battery-freezing", 2.9, "F", .1),
    ("half charged battery, twenty below, does it freeze", "battery-freezing", -11.8, "F", .1, "can freeze"),
    ("specific gravity 1.2 what temp does the battery freeze", "battery-freezing", -16, "F", .1),
    # 80 % for hours on end.
    ("what can a twenty amp outlet run continuously in watts", "breaker-limit", 1920, "W", 1),
    ("fifteen hundred watt heater on a twenty amp breaker all night, ok", "breaker-limit", 12.5, "A", .1),
    ("can I put a 1000 watt block heater and a 700 watt kettle on one fifteen amp circuit", "breaker-limit", 1700/120, "A", .1, "Not"),
    ("how many 400 watt heat lamps can go on a twenty amp circuit for hours", "breaker-limit", 4, "lamps", .1),
    ("30 amp pedestal how many watts continuous", "breaker-limit", 2880, "W", 1),
    ("block heater 1500 watts plus charger 600 watts on a 20 amp breaker, too much?", "breaker-limit", 17.5, "A", .05, "not for hours"),
    ("fifteen amp breaker eighty percent rule how many amps and watts", "breaker-limit", 12, "A", .1),
    ("does a 1200 watt microwave and a 900 watt coffee maker trip a fifteen amp breaker", "breaker-limit", 17.5, "A", .1, "trip"),
    ("what's the most a 50 amp pedestal leg gives continuous", "breaker-limit", 40, "A", .1),
    ("can I leave a fifteen hundred watt heater running all night on a fifteen amp outlet", "breaker-limit", 12.5, "A", .05, "Not for"),
    # Watts ÷ volts.
    ("how many amps does a twelve hundred watt heater draw at 120 volts", "shore-load", 10, "A", .1),
    ("how many amps is 1800 watts at 115 volts", "shore-load", 15.65, "A", .02),
    ("total of block heater charger and fridge in watts", "shore-load", 1780, "W", 1),
    # Two wires; NEC Table 8: 14 AWG 3.14, 12 AWG 1.98, 10 AWG 1.24 ohm per 1,000 ft.
    ("volts lost over seventy five feet of ten gauge carrying twenty amps", "voltage-drop", 3.72, "V", .02),
    ("what do we have left at the end of 150 feet of 12 gauge at 10 amps starting from 118", "voltage-drop", 112.06, "V", .05),
    ("12 awg cord 100 feet 15 amps 120 volts what's the voltage drop", "voltage-drop", 5.94, "V", .02),
    ("how much do we drop on two fifty foot fourteen gauge cords at ten amps", "voltage-drop", 6.28, "V", .02),
    ("percent drop on 75 ft of 10 gauge at 24 amps at 120 volts", "voltage-drop", 3.72, "percent", .02),
    ("supply is 117 volts 20 amps on 100 feet of 10 gauge what's left at the coach", "voltage-drop", 117-4.96, "V", .03),
    ("v drop 16 awg 50 ft 8 amps 120v", "voltage-drop", 2*8*50*4.99/1000, "V", .02),
    ("sixteen gauge fifty foot cord at thirteen amps what's the drop", "voltage-drop", 2*50*13*4.99/1000, "V", .02),
    # The same turned round.
    ("longest ten gauge run for twenty four amps at five percent on one twenty", "cord-length", 100.8, "ft", .2),
    ("how long a 14 awg cord for eight amps at three percent", "cord-length", 71.66, "ft", .2),
    ("can I run 16 amps through a hundred feet of 12 gauge and stay under five percent", "cord-length", 94.7, "ft", .1, "limit"),
    ("max run on #12 for a 10 amp load at 3%", "cord-length", 3.6/(2*10*1.98/1000), "ft", .1),
    ("longest eight gauge cord for thirty amps and no more than three percent", "cord-length", 3.6/(2*30*.778/1000), "ft", .2),
    # NEC 400.5, UL 817.
    ("how many amps is a sixteen gauge fifty foot cord good for", "cord-ampacity", 13, "A", .1),
    ("what gauge do I want for fifteen amps over a hundred feet", "cord-ampacity", 8, "AWG", .1),
    # 10 h driving, 15 h on duty, 60 in 7 days or 70 in 8.
    ("drove seven and a quarter hours, on duty nine, what's left", "driving-hours", 2.75, "h", .01),
    ("I'm at nine hours behind the wheel and fourteen on duty, how much is left", "driving-hours", 1, "h", .01),
    ("been on duty thirteen and a half hours, four of them driving, how long can I drive", "driving-hours", 1.5, "h", .01),
    ("thirteen on duty counting three hours off at the motel, drove eight, hours left", "driving-hours", 2, "h", .01),
    ("sixty two hours in the last eight days, how much is left", "driving-hours", 8, "h", .01),
    ("does a five and three hour berth split count", "driving-hours", 8, "h", .01, "Valid"),
    ("when do I get a 34 hour restart driving passengers", "driving-hours", None,"h", 0),
    ("I slept six hours, how much longer before I can drive", "driving-hours", 2, "h", .01),
    ("driving since five am with two hours off at lunch and I've been behind the wheel nine hours it's now five pm how many left", "driving-hours", 1, "h", .01),
    ("I've used 8.25 of my ten driving hours how much is left", "driving-hours", 1.75, "h", .01),
    ("on duty 60 hours in 7 days already can I drive tomorrow", "driving-hours", 0, "h", .01),
    ("one driver has three hours left the other six how long can we go between us", "driving-hours", 9, "h", .01),
    ("came on duty at seven this morning it's now six pm and I've driven eight hours how many hours left", "driving-hours", 2, "h", .01),
    ("eight hours in the berth and now I'm fresh how many can I drive before I stop", "driving-hours", 10, "h", .01),
    ("split sleeper six and a half hours and one and a half hours is that ok", "driving-hours", 8, "h", .01, "Not valid"),
    ("11 hours on duty, 8.5 of it driving. left?", "driving-hours", 1.5, "h", .01),
    ("I did six hours driving and ten on duty can I make a three hour drive", "driving-hours", 4, "h", .01, "fit"),
    ("sixty six hours in eight days how much have I got", "driving-hours", 4, "h", .01),
    # (p + 14.696) x T2 ÷ T1 - 14.696.
    ("ninety five psi at sixty five degrees, what's that at minus twenty five", "tire-pressure", 76.18, "psi", .1),
    ("tires were seven bar at twenty c, what at minus twenty c", "tire-pressure", 5.9066, "bar", .02),
    ("tires 105 psi at 60 f, reading at minus 10 f", "tire-pressure", 88.88, "psi", .05),
    ("tire was 100 psi at 70 degrees and reads 85 at zero, is it leaking", "tire-pressure", .16, "psi", .1, "explains"),
    ("how much psi do we lose going from sixty degrees to minus thirty on a hundred and ten psi tire", "tire-pressure", 21.6, "psi", .1),
    ("tires at 100 psi set at sixty f what's the gauge say at twenty below", "tire-pressure", 114.696*439.67/519.67-14.696, "psi", .05),
    ("115 psi at 75F in the shop, now it's -5F", "tire-pressure", (115+14.696)*(454.67/534.67)-14.696, "psi", .05),
    ("set the tires to one twenty at fifty degrees now it's thirty below what do they read", "tire-pressure", (120+14.696)*(429.67/509.67)-14.696, "psi", .05),
    # 4/32 in front, 2/32 elsewhere.
    ("is three thirty seconds ok on the front", "tread-limit", 3, "1/32 in", .01, "Out"),
    ("front steer tread 5/32 how much before it's illegal", "tread-limit", 1, "1/32 in", .01),
    ("9/32 on the steers, how much life left", "tread-limit", 5, "1/32 in", .01),
    # 475 ± 25 lb-ft.
    ("lug nuts torqued to 460, okay", "wheel-torque", -15, "lb-ft", .1, "Inside"),
    ("are wheel nuts at 500 foot pounds ok", "wheel-torque", 25, "lb-ft", .01, "Inside"),
    # 50 to 100 miles.
    ("wheel went on at 88,400 and we're at 88,430, how far to the recheck", "wheel-recheck", 20, "mi", .1),
    # 10, 100 and 200 feet.
    ("stopped on the interstate, how far back is the farthest triangle", "triangle-distances", 200, "ft", .1),
    ("triangles on a one-way street how far is the last one", "triangle-distances", 200, "ft", .1),
    # CDL manual 5.3.
    ("lost two and a half pounds in a minute with my foot on the brake, pass", "air-brake-verdict", 2.5, "psi/min", .01, "Pass"),
    ("air went from 85 to 100 in forty seconds, good build up?", "air-brake-verdict", 40, "s", .1, "Pass"),
    ("brakes built up from 85 to 100 psi in 38 seconds is that ok", "air-brake-verdict", 38, "s", .1, "Pass"),
    ("governor cut out 120 cut in 95 good?", "air-brake-verdict", 95, "psi", .1, "Pass"),
    # Gallons x miles a gallon.
    ("a hundred and ten gallons of diesel at five and a half miles a gallon, how far", "diesel-range", 605, "mi", 1),
    ("how many gallons to drive 330 miles at six to the gallon", "diesel-range", 55, "gal", .1),
    ("diesel half of 200 gallons at 6.2 mpg how far leaving 20 gallons", "diesel-range", 496, "mi", .5),
    ("180 miles to go, 40 gallons, 5.5 mpg do we make it", "diesel-range", 220, "mi", .5, "Yes"),
    ("need to go 480 miles at six mpg how much fuel is that", "diesel-range", 80, "gal", .5),
    ("150 gal, 6.3 mpg, keep 25 in reserve, range", "diesel-range", 125*6.3, "mi", .5),
    ("will seventy five gallons do four hundred and twenty miles at six mpg", "diesel-range", 450, "mi", .5, "Yes"),
    # Gallons ÷ gallons an hour; 7.09 lb a gallon for weight.
    ("idle for eight hours at point nine gallons an hour burns how much", "idle-hours", 7.2, "gal", .05),
    ("how long can sixty three gallons idle at point nine an hour", "idle-hours", 70, "h", .1),
    ("two hundred gallon diesel tank at three eighths, idling at 0.9 gallons an hour, how many hours", "idle-hours", 83.33, "h", .1),
    ("ten hours idling at one gallon an hour and then 150 miles at six mpg how many gallons", "idle-hours", 35, "gal", .2),
    ("idling all night, nine hours at .8 an hour, gallons?", "idle-hours", 7.2, "gal", .05),
    # 7.09 lb a gallon.
    ("what do a hundred and forty gallons of diesel weigh", "diesel-weight", 992.6, "lb", 1),
    # 20,000 lb single, 34,000 tandem.
    ("steer axle scaled nineteen thousand eight hundred, legal", "axle-load", 200, "lb", 1),
    # 91,502 BTU a gallon, 21,548 a pound.
    ("eight gallons of propane and one forty thousand BTU furnace running half the time, how many days", "propane-days-left", 1.525, "days", .01),
    ("two 35,000 BTU furnaces thirty percent of the time on fourteen gallons, how many days", "propane-days-left", 2.542, "days", .01),
    ("outside at half and inside full, burning twenty thousand BTU an hour, how many days", "propane-days-left", 60*21548/20000/24, "days", .02),
    ("one bottle at half the other full, forty pounders, furnaces average fifteen thousand btu an hour, how many days", "propane-days-left", 60*21548/15000/24, "days", .02),
    ("how many days do two full forty pound bottles last at twenty two thousand btu an hour", "propane-days-left", 80*21548/22000/24, "days", .02),
    # The same, in hours.
    ("how many hours will thirty pounds run a 30,000 BTU furnace flat out", "propane-hours", 21.55, "h", .1),
    ("propane 7 gallons two furnaces 30,000 BTU each on a third of the time, hours left", "propane-hours", 32.03, "h", .1),
    ("each cylinder 40 pounds, outside at 30 percent, inside at 80 percent, burn is 18,000 btu an hour, how long will the propane last", "propane-hours", 52.67, "h", .05),
    ("we're losing 20,000 BTU an hour and the furnaces are 80 percent efficient, how many gallons of propane a day", "propane-hours", 6.567, "gal/day", .01),
    ("how many pounds of propane does a 35,000 btu furnace burn in ten hours at 40 percent duty", "propane-hours", 6.497, "lb", .01),
    ("how many btu in 12 gallons of propane", "heat-in-fuel", 1098024, "BTU", 10),
    ("how many hours of heat in a forty pound bottle with both thirty five thousand furnaces flat out", "propane-hours", 40*21548/70000, "h", .1),
    # 4.24 lb a gallon.
    ("how many gallons in a sixty pound cylinder", "propane-weight", 14.15, "gal", .1),
    ("bottle weighs fifty five with a thirty pound tare, how many gallons of propane", "propane-weight", 5.896, "gal", .05),
    ("forty pound cylinder at sixty percent, how many BTU", "propane-weight", 24*21548, "BTU", 100),
    ("cylinder with a water capacity of 95 pounds holds how much propane", "propane-weight", 39.9, "lb", .1),
    ("a forty pound bottle reads a quarter how many pounds is left", "propane-weight", 10, "lb", .1),
    ("scale shows 47 pounds on a bottle stamped TW 29 how much gas", "propane-weight", 18, "lb", .1),
    ("twenty pounds of propane is how many btu", "heat-in-fuel", 430960, "BTU", 10),
    ("bottle reads 58 lb on the scale, TW 30.5, how many gallons of gas in her", "propane-weight", 27.5/4.24, "gal", .03),
    ("I weighed the bottle at 49 pounds tare 28 how many percent of a forty pound fill", "propane-weight", 52.5, "percent", .2),
    # Trade table for a 100-lb cylinder.
    ("can a hundred pound cylinder with fifty pounds left feed two 40,000 BTU furnaces at zero", "vaporization", 64000, "BTU/h", 10, "Warning"),
    ("how many BTU an hour does a hundred pound cylinder half full give at twenty", "vaporization", 94000, "BTU/h", 10),
    # 12 years first, 5 after an E; asked in January 2026.
    ("cylinder stamped 06-15, when's it due", "requalification", 17, "months", .1),
    ("requalified april 2022 with an E, when is the cylinder due", "requalification", 15, "months", .1),
    ("is a cylinder dated 11-2012 legal to fill", "requalification", -14, "months", .1, "Overdue"),
    ("bottle made 08/2014, is it out of date", "requalification", 7, "months", .1),
    # Exact definitions.
    ("what's minus thirty celsius in fahrenheit", "unit-conversion", -22, "F", .1),
    ("four hundred kilometres in miles", "unit-conversion", 248.5, "mi", .1),
    ("how many psi is seven and a half bar", "unit-conversion", 108.8, "psi", .1),
    ("how many liters in thirty gallons", "unit-conversion", 113.56, "L", .1),
    ("what is 65 f in c", "unit-conversion", 18.33, "C", .02),
    ("-22 F in C", "unit-conversion", -30, "C", .05),
    # What it is; no level is safe.
    ("carbon monoxide meter says 45, what's that mean", "co-meaning", 45, "ppm", .1),
]
"""Question, calculation, value, unit, tolerance, and words of the verdict."""
# fmt: on


@pytest.mark.parametrize("row", QUESTIONS, ids=lambda row: row[0][:60])
def test_a_question_is_answered_with_the_number_worked_out_by_hand(row):
    """The calculation, the number, its unit and the word that must be said."""
    question, calculation, expected, unit, tolerance = row[:5]

    worked = ask(question)

    assert worked is not None
    assert worked.calculation == calculation
    assert worked.estimate is not None, worked.question or worked.refused
    if expected is None:
        assert worked.estimate.value is None
        assert worked.estimate.verdict
    else:
        assert worked.estimate.value == pytest.approx(expected, abs=tolerance)
    assert worked.estimate.unit == unit
    if len(row) > 5:
        assert row[5].lower() in worked.estimate.verdict.lower()
    assert say(worked)
    assert show(worked)
    assert not worked.estimate.working or all(isinstance(line, str) for line in worked.estimate.working)


def test_what_is_missing_is_asked_for_one_thing_at_a_time():
    """Cylinders first, then the cold; then the answer comes."""
    first, second, third = talk("how long will the propane last", "outside a half, inside full", "minus ten")

    assert "cylinders" in first.question
    assert "cold" in second.question
    assert value(third) == pytest.approx(60 * 21_548 / (283.2 * 76 - 24 * 238.8) * 0.78 / 24, rel=0.01)


def test_a_bare_number_answers_the_question_asked_back():
    """ "five" is gallons a minute where the flow was asked for, seconds are a bucket's."""
    assert value(talk("how long to fill the tank from empty", "five")[1]) == pytest.approx(24)
    assert value(talk("how long to fill the tank from empty", "fifty seconds")[1]) == pytest.approx(20)
    assert value(talk("how much bleach for the fresh tank", "eight and a quarter")[1]) == pytest.approx(9.31, abs=0.02)
    assert value(
        talk("how many hours till the waste is full", "with thirty on board, forty percent")[1]
    ) == pytest.approx(24)


def test_a_driver_who_does_not_know_gets_a_wider_range():
    """Without the label's strength the dose runs over the strengths that are sold."""
    worked = talk("how much bleach for the fresh tank", "no idea")[1]

    assert worked.estimate.low < 0.8 * worked.estimate.value
    assert worked.estimate.high > 1.1 * worked.estimate.value


def test_driving_hours_go_on_from_turn_to_turn():
    """Asked, told, corrected for time off, then the other driver."""
    asked, told, corrected, other, source = talk(
        "how many hours have i got left to drive",
        "i drove seven and was on duty twelve and a half",
        "five of those were off duty at the hotel",
        "and the other driver, he's rested",
        "where does that come from",
    )

    assert asked.question
    assert value(told) == pytest.approx(2.5)
    assert value(corrected) == pytest.approx(3.0)
    assert value(other) == pytest.approx(10.0)
    assert any(figure.value == pytest.approx(13.0) for figure in other.estimate.also)
    assert source is None


@pytest.mark.parametrize(
    ("turns", "expected"),
    [
        (("how much can a twenty amp breaker take", "make it a fifteen amp breaker"), 12.0),
        (("what do we lose on a hundred foot twelve gauge at ten amps", "what about with ten gauge"), 2.48),
        (("what do we lose on a hundred foot twelve gauge at ten amps", "and at twenty amps"), 7.92),
        (("how many gallons is nine inches in the fresh", "and in liters"), 170.3),
        (("how many gallons is nine inches in the fresh", "what about twelve inches"), 60.0),
        (("what's the wind chill at ten below with a twenty mile wind", "and at thirty miles an hour"), -39.4),
        (("tires were set to 110 at seventy, what at ten below", "and at minus thirty"), 86.46),
        (("how long to fill ninety gallons at six a minute", "what if it's only three a minute"), 30.0),
        (("how far can we go on half a tank at six miles a gallon", "and at five miles a gallon"), 500.0),
        (("how long does sixty gallons of fresh last with thirty people at two gallons each", "with only twenty people"), 36.0),
        (("how many watts to hold the tank at thirty five when it's ten below", "what about thirty below"), 162.5),
    ],
)  # fmt: skip
def test_a_follow_up_changes_one_input(turns, expected):
    """What is not said again stays as it was."""
    assert value(talk(*turns)[-1]) == pytest.approx(expected, rel=0.005)


def test_the_question_outweighs_the_reading_and_the_reading_the_profile():
    """Three people sources: said, read, as usual."""
    stored = [Held("waste", 50, "percent"), Held("passengers", 20, "persons")]

    assert value(ask("how long till the waste is full", stored=stored)) == pytest.approx(40 / 32 * 24)
    assert value(ask("how long till the waste is full with forty aboard", stored=stored)) == pytest.approx(40 / 64 * 24)
    assert value(ask("how long till the waste is full", stored=stored[:1])) == pytest.approx(40 / 38.4 * 24)
    assert value(ask("waste at a quarter, how long till it's full", stored=stored)) == pytest.approx(60 / 32 * 24)


def test_two_readings_give_the_rate():
    """40 % six hours ago and 55 % now leave 45 points at 2.5 an hour."""
    stored = [Held("waste", 40, "percent", hours_ago=6), Held("waste", 55, "percent")]

    worked = ask("when's the waste full", stored=stored)

    assert value(worked) == pytest.approx(18)
    assert worked.estimate.low < 18 < worked.estimate.high


def test_readings_leave_their_age_among_the_assumptions():
    """A number that rests on an old reading says so."""
    worked = ask("how far can we go on the diesel", stored=[Held("diesel", 0.5, "fraction", hours_ago=3)])

    assert value(worked) == pytest.approx(600)
    assert any("3 hours ago" in line for line in worked.estimate.assumptions)


def test_a_nameless_question_is_about_the_reading_just_told():
    """ "how many days is that" after the outside bottle was told."""
    stored = [Held("propane", 0.25, "fraction", "outside"), Held("outside_temp", -12, "F")]

    assert ask("how many days is that", stored=stored).calculation == "propane-days-left"
    assert ask("when do we have to fill it", stored=stored).calculation == "propane-days-left"
    assert ask("when's it full", stored=[Held("waste", 60, "percent")]).calculation == "waste-hours"
    assert ask("how many days is that", stored=[Held("propane", 0.25, "fraction", "outside", hours_ago=5)]) is None


def test_an_impossible_input_is_refused_in_a_sentence():
    """Nothing is worked out from what cannot be."""
    for text in (
        "fresh is at thirty inches, how many gallons is that",
        "how long to fill eighty gallons at zero gallons a minute",
        "how much bleach for a hundred gallons at forty percent bleach",
    ):
        worked = ask(text)
        assert worked is not None
        assert worked.refused.endswith((".", "?")), text
        assert worked.estimate is None
        assert say(worked) == worked.refused


def test_a_wrong_hint_does_not_outweigh_what_the_text_says():
    """The amounts tell that it is a cord, whatever the matcher thinks."""
    worked = ask(
        "what do we lose over eighty feet of ten gauge at fifteen amps",
        hints=[("fresh-hours", 0.6), ("idle-hours", 0.1)],
    )

    assert worked.calculation == "voltage-drop"


def test_a_hint_helps_where_the_text_says_little():
    """ "is twelve point three under half" could be anything."""
    assert ask("is twelve point three under half", hints=[("battery-state", 0.8)]).calculation == "battery-state"


@pytest.mark.parametrize(
    "text",
    [
        "how do I fill the fresh tank",
        "fresh is at forty percent",
        "left front is one oh five",
        "outside bottle's down to a quarter, minus twelve out",
        "the dump valve is frozen solid, what do I do",
        "where is the torque wrench",
        "what do I check on the air brakes",
        "how do I read the propane gauges",
        "the furnace won't light",
        "can I tape the breaker so it stays in",
        "next",
        "say that again",
        "it's supposed to hit twenty below tonight",
        "remind me in ten minutes",
        "thanks",
        "which bay is the hose in",
        "we've got thirty passengers aboard",
        "somebody left the water pump on",
        "",
        "???",
    ],
)
def test_what_is_no_calculation_is_left_to_others(text):
    """Statements, procedures and talk give None."""
    assert ask(text) is None


def test_a_told_reading_is_no_follow_up():
    """ "fresh is at a third" after a calculation is a reading."""
    assert talk("sixty gallons of fresh and thirty people, how long", "fresh is at a third")[1] is None


def test_say_gives_the_number_first_then_the_range_and_when_to_act():
    """One breath for the ear."""
    stored = [
        Held("propane", 0.5, "fraction", "outside"),
        Held("propane", 1.0, "fraction", "inside"),
        Held("outside_temp", -12, "F"),
    ]

    text = say(ask("how long will the propane last", stored=stored))

    assert text.startswith("About ")
    assert ", between " in text
    assert "Fill by " in text
    assert say(ask("how much can a thirty amp breaker take")).startswith("24 amps")
    assert say(ask("ten below and a forty mile wind, how cold can the fresh tank get")).startswith("Minus 10")


def test_show_holds_the_number_and_offers_the_working():
    """The working, assumptions and source are long, and told by why."""
    worked = ask("how long to fill a hundred gallons at four and a half gallons a minute")
    lines = show(worked)

    assert lines[0].startswith("fill time: 22.2 min")
    assert lines[-1] == "Say why for the working."
    assert not any("÷" in line or line.startswith("source: ") for line in lines)
    assert worked.estimate is not None
    assert any("100 gal ÷ 4.5" in line for line in worked.estimate.working)


def test_topics_are_those_of_the_knowledge_but_for_one():
    """Hours until the waste is full lead to dumping it, not to looking at it."""
    listed = {
        row["name"]: row["topic"] for row in yaml.safe_load((ROOT / "knowledge" / "calculations.yaml").read_text())
    }
    by_words_only = {one.name for one in OUTRIGHT} - set(listed)
    ours = {name: topic for name, (topic, _, _) in CALCULATIONS.items() if name not in by_words_only}

    assert {name: topic for name, topic in ours.items() if listed.get(name) != topic} == {
        "waste-hours": "dump-waste-tank"
    }
    assert set(listed) - set(ours) == {"outlook"}


def test_the_frame_holds_every_amount():
    """Numbers in words and figures, rates, shares for each person, temperatures with their sign."""
    frame = read_question(
        "twenty two of us at 1.5 gal each a day, minus twelve f out, a five gallon pail in 40 s"
    ).frame

    assert frame == " <people> at <gal/day/each> , <F> out , a <gal> pail in <s> "
    assert [a.value for a in read_question("two fifty foot fourteen gauge cords").amounts] == [2, 50, 14]
    assert read_question("convert pounds to gallons").amounts == ()


def test_loading_needs_neither_pint_nor_numpy():
    """Both are loaded with the first calculation, not with the module."""
    code = "import sys, cabassist.sums.working; print([m for m in ('pint', 'numpy') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)

    assert done.stdout.strip() == "[]"


def test_the_lumped_cooling_of_a_cabin_by_hand():
    """From 65 to 40 at 15 outside: 17.66 h x ln(50/25)."""
    worked = ask("it's sixty five in here and fifteen outside with the furnaces off, how long until it's forty inside")

    assert value(worked) == pytest.approx(5000 / 283.2 * math.log(2), abs=0.05)
