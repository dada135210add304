"""Calculation questions known by the words beside their amounts, in any order; numbers worked out by hand."""

from __future__ import annotations

import math

import pytest

from tests.sums.test_working import ask, talk, value

# fmt: off
TOLD = [
    # BCI rest voltages: 12.65 V 100 %, 12.45 75 %, 12.24 50 %, 12.06 25 %.
    ("meter says 12.24 and rested. percent?", 50, "percent", 1),
    ("what soc is 12 point 45 volts", 75, "percent", 1),
    ("24 volt bank resting at 24.9 volts percent?", 75, "percent", 1),
    # Amp hours: batteries in parallel add them, in series their volts (arithmetic).
    ("four 100 ah batteries in parallel, 50 percent usable, load 16 amps, hours?", 12.5, "h", .01),
    ("two 6 volt 220 ah batteries in series, half usable, 5.5 amps draw, how many hours", 20, "h", .01),
    ("six amp draw on two 90 amp hour batteries paralleled use half only how long", 15, "h", .01),
    ("180 ah at 12 v feeding 300 w through an inverter that's 90% efficient, only use half. hours", 180*.5*12*.9/300, "h", .01),
    ("amp draw 14, bank 420 amp hours, only half of that is usable, how many hours", 15, "h", .01),
    ("bank at 90 percent, 260 ah, 13 amp draw, hours to 40 percent", 10, "h", .01),
    ("40 amp charger, 240 ah bank at 50 percent, 85% efficient, hours to full", 120/40/.85, "h", .01),
    ("took 120 ah out overnight. charger does 45 amps at 85 percent. hours", 120/45/.85, "h", .01),
    # NEC 210.19(A): 80 % of a breaker for hours on end.
    ("15 amp circuit at 120 with a 1200 heater and a 500 kettle and 300 charger running for hours, how many watts over", 560, "W", .1),
    ("load is 22 amps on a 20 amp plug, running for hours. how many amps do i have to shed", 6, "A", .01),
    ("how many watts can a 15 amp 120 volt outlet give all night", 1440, "W", .1),
    ("got a 900 watt microwave and a 750 watt kettle on one 15 amp 120 v circuit for hours how many watts over the limit", 210, "W", .1),
    ("1150 watts at 115 volts, amps?", 10, "A", .01),
    # NEC Ch. 9 Table 8, 75 °C: 10 AWG 1.24, 12 AWG 1.98, 14 AWG 3.14 ohms a thousand feet.
    ("dc pump 30 ft one way 14 awg 7 a 12 v voltage drop", 2*7*30*3.14/1000, "V", .01),
    ("12v 10 amps 12 gauge 20 feet round trip drop", 10*20*1.98/1000, "V", .01),
    # Conduction, Q = UA x difference.
    ("heat pad 200 watts, tank loses 6 w per degree c. how cold outside can it get and still hold 5 c", 5-200/6, "C", .01),
    ("90w pad loses 4.5 watts per c lowest temp in celsius to keep water at 2", -18, "C", .01),
    ("pad is 150 w. loss is 3 watts per degree f. coldest air it will hold 40 in", -10, "F", .01),
    # Newton's law of cooling (Incropera; Cengel; Lienhard).
    ("time constant 8 hours, cabin 72, outside 12, how long till 42 inside", 8*math.log(2), "h", .01),
    ("tau 9 h, 65 in, 5 out, no heat, after 3 hours?", 5+60*math.exp(-1/3), "F", .01),
    ("no furnace. was 70, one hour later 62, its 10 out. how long from now to 40", math.log(52/30)/math.log(60/52), "h", .01),
    ("it was 64 at 10 pm and 58 at 11 pm and 4 outside, when do we hit 40", math.log(54/36)/math.log(60/54), "h", .01),
    # Gas law: p2 = (p1 + 14.696)(T2 + 459.67)/(T1 + 459.67) - 14.696.
    ("its 20 below now. fronts were aired to 110 in a 60 degree shop. what should the gauge show", 124.696*439.67/519.67-14.696, "psi", .05),
    ("set the steers to 115 in the shop at 68, its minus 12 out, what should they read", 129.696*447.67/527.67-14.696, "psi", .05),
    ("115 psi @ 80 f, reading @ 20 f", 129.696*479.67/539.67-14.696, "psi", .05),
    # 49 CFR 393.75: 4/32 in front, 2/32 elsewhere.
    ("steer tread 7/32 how many 32nds above the minimum", 3, "1/32 in", .01),
    ("how far above the limit is a drive tire at 5/32", 3, "1/32 in", .01),
    # 49 CFR 395.5: 10 h driving, 15 h on duty, 60 h in 7 days or 70 in 8.
    ("drove 6.5 on duty 9 since my eight off, driving left", 3.5, "h", .01),
    ("drove 3 hours loaded for 1 then drove 4 more, took 2 off at lunch. driving left", 3, "h", .01),
    ("70 in 8: 10 9 8 11 9 10 7 so far and 2 today, hours left", 4, "h", .01),
    ("60/7 carrier 52 hours used in last six days and 3 so far today, how many left", 5, "h", .01),
    ("my 8 day total is 63.5 on a 70. what have i got left", 6.5, "h", .01),
    ("i got 4 hours left, my partner is fresh out of the bunk after nine hours. total driving between us", 14, "h", .01),
    ("me 6 driven him 3 driven how much can the two of us still drive altogether", 11, "h", .01),
    # Arithmetic.
    ("legs of 188, 240 and 95.5 miles total", 523.5, "mi", .01),
    ("275 miles at 50 average plus two half hour stops how long door to door", 6.5, "h", .01),
    ("how long is 350 miles at 58 mph with three 20 minute stops", 350/58+1, "h", .01),
    ("330 miles in 6 hours what average speed", 55, "mph", .01),
    ("how far do we get in 4 and a half hours at 62 mph", 279, "mi", .01),
    ("512 miles on 84 gallons, mpg?", 512/84, "mpg", .01),
    ("odometer went from 120400 to 120952 and it took 92 gallons, mileage?", 6, "mpg", .01),
    ("engine idles 1.1 gph for 7 and a half hours, fuel?", 8.25, "gal", .01),
    ("22 hockey bags at 45 pounds and 10 suitcases at 30, total weight", 1290, "lb", .1),
    ("26 guys at 200 plus fifty five pounds of bags each how heavy is that", 6630, "lb", .1),
    ("twelve stick bags 25 kilos each plus four trunks 40 kilos how many kilos", 460, "kg", .1),
    ("steer axle 14,250 limit 14,600, how many pounds left", 350, "lb", .1),
]
"""Question, value, unit, tolerance."""

JUDGED = [
    ("can i run a 1300 watt heater and a 400 watt fridge overnight on a 15 amp outlet", "No."),
    ("is 1800 watts all night ok on a 20 amp circuit at 120", "Yes."),
    ("will a 100 watt pad keep the tank at 40 when its 0 f out, loses 3 w per degree f", "No."),
    ("aired up to 120 psi at 75 degrees now its 5, reads 101. leak or just cold", "No sign of a leak"),
    ("pumped to 105 when it was 70. its zero now and the gauge reads 70. cold or leak", "a leak"),
    ("inside dual at 2/32 is it legal", "Yes."),
    ("outer dual 1/32 can i run it", "No."),
    ("five hours berth and two and a half hours off, does that split count", "No"),
    ("released leak was 2.5 pounds a minute okay", "Fail"),
    ("minus 20 with 30 mph wind can the kids get frostbite", "Yes."),
    ("rear axle scaled 17,400 and i add 80 gal of water right over it, new weight, still under 20000?", "Yes."),
    ("drive axle at 19,600, putting 70 gallons of fresh over it, ok?", "No."),
    ("35 bags 42 lb each, bay limit 1500, over?", "No."),
    ("gravity is 1.180 and its 20 below, will it freeze", "It can freeze"),
]
"""Question, and what its verdict must hold."""

LACKING = [
    ("voltage drop on 14 gauge at 12 amps 120 volts", "How long"),
    ("volt drop on an 80 ft cord at 13 amps", "gauge"),
    ("set em to 95, dont recall the temperature. what should they be at 10 below", "How warm"),
    ("time constant 11 hours, 66 inside, how long till 40", "outside"),
    ("how long will it take to drive 300 miles", "speed"),
    ("drove 410 miles whats my mpg", "gallons"),
    ("what do 30 bags weigh", "weigh"),
]
"""Question, and a word of what is asked back."""
# fmt: on


@pytest.mark.parametrize("row", TOLD, ids=lambda row: row[0][:60])
def test_every_amount_finds_its_place_by_its_words(row):
    """The number and its unit."""
    question, expected, unit, tolerance = row

    worked = ask(question)

    assert worked is not None
    assert worked.estimate is not None, worked.question or worked.refused
    figures = [(worked.estimate.value, worked.estimate.unit), *((f.value, f.unit) for f in worked.estimate.also[:1])]
    assert worked.estimate.unit == unit, figures
    assert worked.estimate.value == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(("question", "verdict"), JUDGED)
def test_a_yes_or_no_is_said(question: str, verdict: str):
    """What a driver acts on is said, not only its number."""
    worked = ask(question)

    assert worked is not None
    assert worked.estimate is not None, worked.question or worked.refused
    assert verdict in worked.estimate.verdict


@pytest.mark.parametrize(("question", "asked"), LACKING)
def test_a_missing_input_is_asked_for(question: str, asked: str):
    """No default stands in for what the driver's own question lacks."""
    worked = ask(question)

    assert worked is not None
    assert worked.estimate is None
    assert asked in worked.question


def test_what_was_asked_for_completes_the_sum():
    """The answer to a question asked back."""
    assert value(talk("voltage drop on 14 gauge at 12 amps 120 volts", "50 feet")[-1]) == pytest.approx(3.768, abs=0.01)
    assert value(talk("what do 30 bags weigh", "45 pounds")[-1]) == pytest.approx(1350)
    assert value(talk("how long will it take to drive 300 miles", "60 mph")[-1]) == pytest.approx(5)


def test_the_profiles_cord_is_taken_when_it_is_meant():
    """10 AWG, 50 ft in the demo coach: 2 x 24 x 50 x 1.24 / 1000."""
    assert value(ask("what's the drop on the shore cord at 24 amps")) == pytest.approx(2.976, abs=0.01)
