"""What drivers tell, and what they only talk about.

The tables write readings as `what/which value unit`, with `~` when told vaguely, `top` or `bottom` for depths,
and `low` or `high` in place of a value for a mere needle position.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.coach import Coach
from cabassist.language import readings
from cabassist.language.plausibility import is_gross, limits
from cabassist.language.reading_terms import Terms, terms
from cabassist.language.readings import Heard, Reading, echo, fraction_of_full
from cabassist.places import knowledge_folder
from cabassist.procedures import yamlfile

SHIPPED = yamlfile.load(knowledge_folder() / "reading-terms.yaml").data


def hear(text: str, coach: Coach, previous: Sequence[Reading] = ()) -> Heard:
    """What the shipped vocabulary hears in a text."""
    return readings.hear(text, coach, vocabulary(tuple(tank.name for tank in coach.tanks)), previous)


@cache
def vocabulary(tanks: tuple[str, ...]) -> Terms:
    """The shipped vocabulary for a coach with these tanks."""
    return terms(SHIPPED, tanks)


OtherCoach = Callable[[dict[str, Any]], Coach]


def written(reading: Reading) -> str:
    """A reading in the notation of the tables."""
    name = reading.what + (f"/{reading.which}" if reading.which else "")
    parts = [name, reading.flag or "" if reading.value is None else f"{reading.value:g} {reading.unit}"]
    return " ".join(filter(None, [*parts, reading.counted_from, "~" if reading.approx else ""]))


def told(heard: Heard) -> list[str]:
    """All readings in the notation of the tables, in order of their names."""
    return sorted(written(reading) for reading in heard.readings)


def table(text: str) -> list[tuple[str, list[str]]]:
    """The rows `utterance => reading; reading` of a table."""
    rows = [line.split("=>") for line in text.strip().splitlines()]
    return [(said.strip(), sorted(r.strip() for r in expected.split(";") if r.strip())) for said, expected in rows]


LEVELS = table("""
fresh's at five eighths => fresh 0.625 fraction
clean tank 3/5 => fresh 0.6 fraction
potable's down to a fifth => fresh 0.2 fraction
drinking water seventy one percent => fresh 71 percent
fresh 44 pct => fresh 44 percent
ninety one gallons in the fresh tank => fresh 91 gal
fresh three hundred and ten litres => fresh 310 L
fresh at thirty => fresh 30 percent
fresh 0.7 => fresh 0.7 fraction
fresh ¼ => fresh 0.25 fraction
fresh 8 quarts => fresh 2 gal
fresh is down three inches => fresh 3 in top
fresh four and a half inches below the rim => fresh 4.5 in top
fresh tank nine inches deep => fresh 9 in bottom
fresh thirteen and three quarter inches up from the bottom => fresh 13.75 in bottom
a foot and a half of water in the fresh => fresh 1.5 ft bottom
fresh 42 cm off the bottom => fresh 42 cm bottom
fresh 250 mm deep => fresh 25 cm bottom
fresh eleven inches => fresh 11 in
fresh is bone dry => fresh 0 fraction
the outside one half, inside full, twenty below => propane/outside 0.5 fraction; propane/inside 1 fraction; outside_temp -20 F
outside bottle half, inside one three quarters => propane/outside 0.5 fraction; propane/inside 0.75 fraction
the spare one two thirds => propane/spare 0.6667 fraction
inside full, minus fifteen => propane/inside 1 fraction; outside_temp -15 F
fresh chock-a-block => fresh 1 fraction
the fresh is brimming => fresh 1 fraction
fresh tank's overflowing => fresh 1 fraction
water is gushing out of the overflow => fresh 1 fraction
fresh two thirds empty => fresh 0.3333 fraction
fresh is sixty percent gone => fresh 40 percent
fresh shows three of four lights => fresh 0.75 fraction
fresh went from seventy to fifty five percent => fresh 55 percent
black tank at two fifths => waste 0.4 fraction
grey water thirty five percent => waste 35 percent
holding tank sixty one gallons => waste 61 gal
dunny tank's half full => waste 0.5 fraction
waste six inches from the top => waste 6 in top
waste gauge is in the red => waste high
diesel three sixteenths => diesel 0.1875 fraction
five eighths of a tank of fuel => diesel 0.625 fraction
diesel ninety five gallons => diesel 95 gal
fuel needle on E => diesel low
diesel gauge pegged on f => diesel high
ad blue a third => def 0.3333 fraction
exhaust fluid seven gallons => def 7 gal
d.e.f. at sixty percent => def 60 percent
we're out of def => def 0 fraction
""")

CYLINDERS = table("""
outside cylinder two fifths => propane/outside 0.4 fraction
the inside bottle has nine kilos left => propane/inside 9 kg
inside at a third => propane/inside 0.3333 fraction
the outside one's at ten percent => propane/outside 10 percent
outside one forty percent => propane/outside 40 percent
kerb side lpg half => propane/curb-side 0.5 fraction
nearside bottle full => propane/curb-side 1 fraction
offside bottle 12 lb => propane/street-side 12 lb
propane is thirty percent on the street side => propane/street-side 30 percent
driver's side propane a quarter => propane/street-side 0.25 fraction
left cylinder three eighths => propane/left 0.375 fraction
spare cylinder's full => propane/spare 1 fraction
spares empty => propane/spare 0 fraction
spares about a third => propane/spare 0.3333 fraction ~
curbsides a quarter => propane/curb-side 0.25 fraction
propane at seventy => propane 70 percent
both bottles half => propane/inside 0.5 fraction; propane/outside 0.5 fraction
inside and outside cylinders are both empty => propane/inside 0 fraction; propane/outside 0 fraction
two cylinders at half, inside and out => propane/outside 0.5 fraction; propane/inside 0.5 fraction
the bottles are full, in and out => propane/outside 1 fraction; propane/inside 1 fraction
changeover has gone red on the inside cylinder => propane/inside low
forty pound cylinder on the outside is at half => propane/outside 0.5 fraction
""")

ELECTRICAL = table("""
house battery thirteen one => house_battery 13.1 V
house bank twelve point zero five => house_battery 12.05 V
aux battery twelve eighty => house_battery 12.8 V
house battery at twelve => house_battery 12 V
house battery seventy => house_battery 70 percent
house batteries 88% => house_battery 88 percent
house bank drawing fourteen amps => house_battery 14 A
house battery amps are at minus nine => house_battery -9 A
thirteen point three volts => house_battery 13.3 V
house battery's fully charged => house_battery 1 fraction
shore one sixteen => shore_voltage 116 V
pedestal reads 122.5 volts => shore_voltage 122.5 V
a hundred and four volts on shore => shore_voltage 104 V
hookup's down to ninety seven => shore_voltage 97 V
""")

WEATHER = table("""
minus nineteen outside => outside_temp -19 F
it's fourteen below => outside_temp -14 F
eleven below zero celsius out => outside_temp -11 C
it's six above outside => outside_temp 6 F
outside -7C => outside_temp -7 C
ambient's at forty one => outside_temp 41 F
negative three out there => outside_temp -3 F
seven degrees below freezing outside => outside_temp 25 F
eight degrees celsius below freezing outside => outside_temp -8 C
five degrees of frost out => outside_temp 27 F
cabin's at sixty three => inside_temp 63 F
seventy one in here => inside_temp 71 F
inside temp 18 celsius => inside_temp 18 C
the air outside is nine below => outside_temp -9 F
""")

PRESSURES = table("""
left front one oh seven => tire_pressure/left front 107 psi
front right tyre 111 => tire_pressure/right front 111 psi
passenger side drive outer ninety six => tire_pressure/right drive outer 96 psi
driver side tag 93 pounds => tire_pressure/left tag 93 psi
curb side front one hundred and nine psi => tire_pressure/right front 109 psi
right outer dual ninety nine => tire_pressure/right drive outer 99 psi
left steer 7.5 bar => tire_pressure/left front 7.5 bar
LF 103 RF 104 => tire_pressure/left front 103 psi; tire_pressure/right front 104 psi
both fronts at one ten => tire_pressure/left front 110 psi; tire_pressure/right front 110 psi
right rear 97 => tire_pressure/right rear 97 psi
air's at one eighteen => air_pressure 118 psi
primary ninety two secondary ninety five => air_pressure/primary 92 psi; air_pressure/secondary 95 psi
air pressure 800 kPa => air_pressure 8 bar
secondary needle's in the red => air_pressure/secondary low
""")

COUNTS = table("""
odometer two hundred eighty thousand and fifteen => odometer 280015 mi
odo three oh nine four one two => odometer 309412 mi
502,118 km on the clock => odometer 502118 km
twenty seven aboard => passengers 27 persons
head count is thirty five => passengers 35 persons
we've got nineteen kids on the bus => passengers 19 persons
thirty out of thirty two aboard => passengers 30 persons
nobody on board => passengers 0 persons
co reads eleven => co_ppm 11 ppm
35 parts per million on the co meter => co_ppm 35 ppm
genny at fourteen oh six => generator_hours 1406 h
hour meter reads 2,087.5 => generator_hours 2087.5 h
""")

VAGUE = table("""
fresh about half => fresh 0.5 fraction ~
fresh just under a third => fresh 0.3133 fraction ~
waste a bit over three quarters => waste 0.77 fraction ~
waste half and a bit => waste 0.52 fraction ~
I reckon diesel's at sixty percent => diesel 60 percent ~
waste fiftyish percent => waste 50 percent ~
fresh ninety odd gallons => fresh 90 gal ~
fresh is nearly full => fresh 0.95 fraction ~
outside cylinder's almost empty => propane/outside 0.05 fraction ~
waste thirty to forty percent => waste 35 percent ~
fresh is somewhere between a quarter and a half => fresh 0.375 fraction ~
fresh half waste maybe a quarter => fresh 0.5 fraction; waste 0.25 fraction ~
shore's around one twelve => shore_voltage 112 V ~
it's roughly nine below outside => outside_temp -9 F ~
""")

SEVERAL = table("""
waste ten fresh ninety percent => waste 10 percent; fresh 90 percent
fresh thirty waste twenty gallons => fresh 30 gal; waste 20 gal
fresh and waste are at seventy and fifteen percent => fresh 70 percent; waste 15 percent
fresh, waste and diesel are all at half => diesel 0.5 fraction; fresh 0.5 fraction; waste 0.5 fraction
inside seventy outside six below => inside_temp 70 F; outside_temp -6 F
it's sixty two inside and the inside cylinder's at twenty percent => inside_temp 62 F; propane/inside 20 percent
outside cylinder half and it's nine below outside => outside_temp -9 F; propane/outside 0.5 fraction
propane outside thirty inside eighty => propane/outside 30 percent; propane/inside 80 percent
it's eight below and the waste is at a third => outside_temp -8 F; waste 0.3333 fraction
a third in the fresh and two thirds in the waste => fresh 0.3333 fraction; waste 0.6667 fraction
outside minus nine celsius inside twenty one => outside_temp -9 C; inside_temp 21 C
house battery's twelve seven and ninety percent => house_battery 12.7 V; house_battery 90 percent
fresh half, waste too => fresh 0.5 fraction; waste 0.5 fraction
diesel five eighths, def the same => def 0.625 fraction; diesel 0.625 fraction
thirty one passengers and forty percent fresh => fresh 40 percent; passengers 31 persons
left and right front are both one oh six => tire_pressure/left front 106 psi; tire_pressure/right front 106 psi
Fresh: 35%. Waste: 70%. Diesel: 1/4. => diesel 0.25 fraction; fresh 35 percent; waste 70 percent
""")

REPAIRED = table("""
fresh thirty, um, thirty five percent => fresh 35 percent
street side no curb side bottle a quarter => propane/curb-side 0.25 fraction
the inside um outside cylinder is full => propane/outside 1 fraction
waste eighteen make that eighty percent => waste 80 percent
diesel three uh five eighths => diesel 0.625 fraction
fresh at twenty, no, waste => waste 20 percent
fresh seventy not seventeen => fresh 70 percent
shore one oh six sorry one sixteen => shore_voltage 116 V
fresh forty scratch that waste forty five => waste 45 percent
fresh fifty fifty five percent => fresh 55 percent
""")

MISHEARD = table("""
fresh at six tea percent => fresh 60 percent
waist tank at to fifths => waste 0.4 fraction
pro pain in side a third => propane/inside 0.3333 fraction
deaf fluid at half => def 0.5 fraction
dye sell have a tank => diesel 0.5 fraction
diesel won hundred gallons => diesel 100 gal
house battery twelve point ate => house_battery 12.8 V
chore power one fifteen => shore_voltage 115 V
outside for below => outside_temp -4 F
fersh tank 30 precent => fresh 30 percent
outisde cylnder qaurter => propane/outside 0.25 fraction
generater 1330 hours => generator_hours 1330 h
""")

AMONG_OTHER_WORDS = table("""
hey coach, for the log, fresh is at fifty five percent => fresh 55 percent
can you note waste at thirty percent => waste 30 percent
we need to dump the waste is at eighty eight => waste 88 percent
waste is at ninety should we stop => waste 90 percent
we're on a fifth of the diesel, is that enough to get home? => diesel 0.2 fraction
the eighty gallon waste tank is forty percent full => waste 40 percent
I just checked and the outside cylinder reads twenty percent => propane/outside 20 percent
when I looked just now the fresh was at a third => fresh 0.3333 fraction
fresh was at three eighths btw => fresh 0.375 fraction
waste was two thirds full => waste 0.6667 fraction
outside was minus eight at noon => outside_temp -8 F
outside cylinder was a quarter => propane/outside 0.25 fraction
""")


SHY_OF_THE_TOP = table("""
fresh two inches shy of full => fresh 2 in top
waste is three inches short of the lid => waste 3 in top
waste six inches under the cap => waste 6 in top
fresh has four inches to go to the rim => fresh 4 in top
we've four inches of freeboard in the waste => waste 4 in top
fresh about three inches shy of the rim => fresh 3 in top ~
waste is within three inches of the top => waste 3 in top
fresh ten inches above the floor => fresh 10 in bottom
waste seven inches up off the base => waste 7 in bottom
waste is ten percent shy of full => waste 90 percent
fresh is an eighth short of full => fresh 0.875 fraction
diesel is an eighth down from full => diesel 0.875 fraction
fresh just shy of the half mark => fresh 0.48 fraction ~
""")

SLIPS = table("""
house bank to well point seven => house_battery 12.7 V
house battery too well point four volts => house_battery 12.4 V
house bank thirteen joint two => house_battery 13.2 V
outside my nest twenty => outside_temp -20 F
outside minas fourteen => outside_temp -14 F
waste at thirdy percent => waste 30 percent
fresh tank nighty percent => fresh 90 percent
diesel three court hers => diesel 0.75 fraction
odometer two too six nine oh one => odometer 226901 mi
odo 226.9 thousand => odometer 226900 mi
""")

TORN_APART = table("""
right side, rear outer: 94 psi => tire_pressure/right rear outer 94 psi
inner dual, left rear, 92 => tire_pressure/left rear inner 92 psi
tire, right front, 108 psi => tire_pressure/right front 108 psi
passenger side, front tire, 105 => tire_pressure/right front 105 psi
driver's front is at one hundred and six => tire_pressure/left front 106 psi
steers: left 108, right 110 => tire_pressure/left front 108 psi; tire_pressure/right front 110 psi
left front, right front 105 and 107 => tire_pressure/left front 105 psi; tire_pressure/right front 107 psi
propane, curb side: 22 pounds => propane/curb-side 22 lb
air, secondary, 112 => air_pressure/secondary 112 psi
we're parked outside, propane at forty percent => propane 40 percent
propane on the curb side weighs fifty five with the bottle => propane/curb-side 55 lb
""")

BROKEN_OFF = table("""
fresh one quarter, negative, one half => fresh 0.5 fraction
waste forty percent. negative. fifty percent. => waste 50 percent
outside, negative, five => outside_temp -5 F
passengers twenty... twenty one => passengers 21 persons
odometer 226,900... 226,910 => odometer 226910 mi
shore one fourteen -- one sixteen => shore_voltage 116 V
fresh thirty... waste forty percent => fresh 30 percent; waste 40 percent
diesel sixty, as you were, seventy percent => diesel 70 percent
waste twenty, let me rephrase, thirty percent => waste 30 percent
waste sixty, disregard, seventy percent => waste 70 percent
fresh half, or should I say a third => fresh 0.3333 fraction ~
""")

NEEDLES = table("""
waste tank pegged, light is red => waste high
waste tank good and nearly to the brim => waste 0.95 fraction ~
waste close to the brim => waste 0.95 fraction ~
fuel gauge low => diesel low
low fuel light is on => diesel low
propane gauge resting on the lower stop => propane low
diesel needle kissing the E => diesel low
waste needle up against the top stop => waste high
outside bottle is finished, empty => propane/outside 0 fraction
fuel needle lying on empty => diesel 0 fraction
no water left in the fresh tank => fresh 0 fraction
fresh needle pinned on full => fresh 1 fraction
""")

HEADS = table("""
twenty nine passengers boarded => passengers 29 persons
thirty four seated and strapped in => passengers 34 persons
twenty five checked in and aboard => passengers 25 persons
count is thirty => passengers 30 persons
I count twenty six people => passengers 26 persons
boarding complete, thirty one => passengers 31 persons
one passenger short, thirty one aboard => passengers 31 persons
ten passengers have boarded so far => passengers 10 persons
fresh one quarter with 28 passengers. enough until noon? => fresh 0.25 fraction; passengers 28 persons
""")

PRESENT_ALL_THE_SAME = table("""
fresh is half this morning => fresh 0.5 fraction
waste now reads seventy, was fifty at noon => waste 70 percent
we're left with thirty gallons of fresh => fresh 30 gal
the right front holds 108 => tire_pressure/right front 108 psi
waste holds forty gallons at present => waste 40 gal
outside bottle weighs in at 48 pounds gross => propane/outside 48 lb
shore feed measures one eighteen volts => shore_voltage 118 V
put me down for a third on the waste => waste 0.3333 fraction
I'd call the waste forty percent => waste 40 percent ~
house voltage 13.6 with the generator on => house_battery 13.6 V
we've two hundred eighteen thousand four hundred and six miles => odometer 218406 mi
""")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        *LEVELS,
        *CYLINDERS,
        *ELECTRICAL,
        *WEATHER,
        *PRESSURES,
        *COUNTS,
        *VAGUE,
        *SEVERAL,
        *REPAIRED,
        *MISHEARD,
        *AMONG_OTHER_WORDS,
        *SHY_OF_THE_TOP,
        *SLIPS,
        *TORN_APART,
        *BROKEN_OFF,
        *NEEDLES,
        *HEADS,
        *PRESENT_ALL_THE_SAME,
        ("waste is nearly full, about ninety percent", ["waste 90 percent ~"]),
        ("fresh's a bit over half, sixty percent", ["fresh 60 percent"]),
        ("fresh half, waste sixty percent", ["fresh 0.5 fraction", "waste 60 percent"]),
    ],
)
def test_a_report_is_stored_as_told(said: str, expected: list[str], coach: Coach) -> None:
    """Value and unit stay as said; what was not said comes from the subject and the profile."""
    heard = hear(said, coach)

    assert told(heard) == expected
    assert not heard.refused
    assert not heard.withdrawn


@pytest.mark.parametrize(
    "said",
    """
go back to step three
skip to number four
wake me at half past five
set a timer for forty minutes
tell me when the fresh gets below thirty percent
warn me if co goes over twenty
let me know once the diesel is at a quarter
if the waste is over ninety we dump
what's the wind chill at ten below
is a third of a bottle enough for tonight
is thirty percent in the fresh okay
how long will sixty gallons last
how much is forty percent of the fresh tank
should the left front be at one oh five
what does twelve one mean on the house battery
is the waste tank full
do we need a full tank of diesel
it's going to be twenty five below tonight
they're calling for minus thirty
tomorrow will be fifteen above
we're planning on thirty two passengers
the waste tank holds eighty gallons
the fresh tank is a hundred and twenty gallons
the fresh tank is twenty four inches deep
the coach is forty four feet long
shore inlet is rated for thirty amps
a twelve volt battery
the hotel is sixty miles from the rink
yesterday it was forty below
the fresh was at half this morning
outside cylinder was half last week
waste was a third before we filled up
fresh was full when I got her
waste was half but we dumped
inside cylinder used to be a quarter
the boys are thirsty
the whole team is thirsty aboard
thirsty passengers aboard
sick passengers aboard
the floor is dirty aboard
we won below
they ate below deck
a perfect waste of water
a quarrel in the back
feeling cold in here
he hindered the eleventh man
we had thirty aboard last trip
I put fifty gallons in the fresh
we added two gallons of def
bought ninety gallons of diesel
drained ten gallons out of the waste
we use fifteen gallons a day
we get through nine gallons of fresh a night
the kids drink about thirty liters of drinking water per day
keep the cabin at sixty six
don't let the air get below ninety
make sure the fronts are at one ten
fill the fresh to three quarters
empty the waste tank
make it sixty eight in here
lamp in bay two is dead
seat fourteen won't recline
the left front tire is flat
the fuel gauge is stuck on full
the waste gauge reads empty but it's stuck
the inside cylinder valve is half open
half the lights are out
two passengers are sick
the fresh isn't full yet
thermostat is set to sixty five
starter battery twelve two
coolant's at one eighty
water pressure forty psi
wind's at thirty
my phone is at twenty percent
the parking lot is full
diesel's three eighty a gallon
the generator ran for three hours
left bottle two here
there are two dials on the propane
nothing's coming out of the overflow
why is water running out of the overflow
this morning the fresh stood at full
the waste read forty percent this morning
departed with 180 gallons of diesel
we left with waste at ten percent
left Fargo with diesel at seven eighths
rolled out with the diesel at three quarters
began the trip with waste at ten percent
at noon the outside temperature stood at minus ten
at departure the propane read full
overnight it dropped to minus thirty
the last crew logged waste at sixty percent
waste got up to seventy percent before the dump
originally fresh at full
in the night the outside fell to minus twenty eight
topped the diesel with ninety gallons
should be about half left on the fresh when we get there
set cabin to 65
six passengers got off at Duluth
six passengers boarded at Fargo
two passengers just boarded
boarded at nine thirty
count the passengers
we can seat forty passengers
a full cylinder weighs seventy pounds
bottle two weighs seventy pounds full
hold the cabin at seventy
CO above 35 ppm is bad
did I log waste at forty
in Winnipeg it is minus forty
house battery wall point three
the needle is low
what does pegged mean
stop at three inches from the top on the fresh
thanks
    """.strip().splitlines(),
)
def test_talk_is_no_reading(said: str, coach: Coach) -> None:
    """Commands, questions, plans, conditions, the past, sizes, faults, and other things' numbers store nothing."""
    heard = hear(said, coach)

    assert told(heard) == []
    assert not heard.refused


@pytest.mark.parametrize(
    ("before", "said", "expected", "gone"),
    [
        ("fresh at thirty percent", "no, make that thirteen", "fresh 13 percent", 1),
        ("fresh at thirty percent", "sorry a third", "fresh 0.3333 fraction", 1),
        ("fresh at thirty percent", "not thirty, forty", "fresh 40 percent", 1),
        ("fresh at thirty percent", "I said thirteen", "fresh 13 percent", 1),
        ("fresh at thirty percent", "no the waste", "waste 30 percent", 1),
        ("fresh at thirty percent", "that was the waste tank", "waste 30 percent", 1),
        ("fresh at thirty percent", "it's fifty now", "fresh 50 percent", 0),
        ("fresh at thirty percent", "gallons, not percent", "fresh 30 gal", 1),
        ("fresh at thirty percent", "waste is half of that", "waste 15 percent", 0),
        ("fresh at thirty percent", "and waste is double that", "waste 60 percent", 0),
        ("fresh at thirty percent", "waste as well", "waste 30 percent", 0),
        ("fresh at thirty percent", "roughly", "fresh 30 percent ~", 1),
        ("fresh seven inches", "from the top", "fresh 7 in top", 1),
        ("fresh seven inches from the top", "no, eight", "fresh 8 in top", 1),
        ("fresh thirty waste sixty", "other way round", "fresh 60 percent; waste 30 percent", 2),
        ("propane at a third", "the outside one", "propane/outside 0.3333 fraction", 1),
        ("outside cylinder a third", "no the inside", "propane/inside 0.3333 fraction", 1),
        ("outside cylinder a third", "same for the inside", "propane/inside 0.3333 fraction", 0),
        ("outside cylinder a third", "the other one's full", "propane/inside 1 fraction", 0),
        ("inside cylinder thirty percent", "outside fifty", "propane/outside 50 percent", 0),
        ("left front one oh four", "right front's the same", "tire_pressure/right front 104 psi", 0),
        ("left front one oh four", "no, one oh seven", "tire_pressure/left front 107 psi", 1),
        ("left drive outer ninety", "sorry, inner", "tire_pressure/left drive inner 90 psi", 1),
        ("primary one ten", "that's the secondary", "air_pressure/secondary 110 psi", 1),
        ("shore one nineteen", "no one oh nine", "shore_voltage 109 V", 1),
        ("house battery twelve six", "no twelve three", "house_battery 12.3 V", 1),
        ("outside minus eight", "celsius I mean", "outside_temp -8 C", 1),
        ("outside is eight", "below", "outside_temp -8 F", 1),
        ("it's sixty inside", "no that's outside", "outside_temp 60 F", 1),
        (
            "left rear outer tire ninety five psi",
            "inner dual on that corner, ninety three",
            "tire_pressure/left rear inner 93 psi",
            0,
        ),
        ("left rear outer 95 psi", "its inner mate is ninety one", "tire_pressure/left rear inner 91 psi", 0),
        ("waste thirty percent", "I should have said fresh", "fresh 30 percent", 1),
        ("waste thirty percent", "that figure belongs to the fresh", "fresh 30 percent", 1),
        ("outside minus three", "fahrenheit, to be clear", "outside_temp -3 F", 1),
        ("waste 40 percent", "negative, 45 percent", "waste 45 percent", 1),
        # Taking back tells nothing in its place.
        ("diesel at ninety percent", "strike that last entry", "", 1),
        ("diesel at ninety percent", "disregard my last reading", "", 1),
        ("diesel at ninety percent", "that reading was wrong, take it out", "", 1),
        ("fresh half, waste a third", "delete the waste reading", "", 1),
        ("fresh half, waste a third", "scratch that", "", 2),
        ("fresh half", "delete reminder two", "", 0),
        ("fresh half", "strike the awning at six", "", 0),
        # What is named beside the last reading never overwrites it.
        ("left rear outer 95 psi", "the dual beside it, ninety", "", 0),
        ("left front 104", "and the right? 106", "", 0),
        # Where people are, and what is dry, is no reading.
        ("outside minus twenty five", "they're all in the lobby", "", 0),
        ("outside bottle three quarters", "looks good and dry", "", 0),
        # A level that has moved since leaves the one before standing.
        ("fresh at ninety gallons", "down to eighty", "fresh 80 gal", 0),
        ("outside minus twelve", "it dropped to minus fifteen", "outside_temp -15 F", 0),
        ("waste 40 percent", "no, it went up to fifty", "waste 50 percent", 1),
        # A new report takes nothing back, and talk is left alone.
        ("fresh at thirty percent", "waste is at ten percent", "waste 10 percent", 0),
        ("fresh at thirty percent", "how long will that last", "", 0),
        ("fresh at thirty percent", "is it the same for the waste", "", 0),
        ("fresh at thirty percent", "hold on the waste is leaking", "", 0),
        ("fresh at thirty percent", "three", "", 0),
        ("fresh at thirty percent", "no", "", 0),
    ],
)
def test_a_sentence_leans_on_the_one_before(before: str, said: str, expected: str, gone: int, coach: Coach) -> None:
    """Corrections replace, follow-ups stand beside, and other talk leaves the earlier readings alone."""
    previous = hear(before, coach).readings
    heard = hear(said, coach, previous)

    assert told(heard) == sorted(r for r in expected.split("; ") if r)
    assert len(heard.withdrawn) == gone
    assert set(heard.withdrawn) <= set(previous)


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ("fresh at a hundred and ten percent", "out_of_range"),
        ("waste six fifths", "out_of_range"),
        ("waste minus five percent", "negative"),
        ("fresh 31 inches deep", "out_of_range"),
        ("fresh minus two inches", "negative"),
        ("waste ninety gallons", "out_of_range"),
        ("diesel 900 litres", "out_of_range"),
        ("outside cylinder fifty pounds", "out_of_range"),
        ("house battery 130 volts", "out_of_range"),
        ("house battery seven volts", "out_of_range"),
        ("outside minus two hundred", "out_of_range"),
        ("inside four hundred degrees", "out_of_range"),
        ("shore eleven hundred volts", "out_of_range"),
        ("shore minus ten volts", "negative"),
        ("left front 1070 psi", "out_of_range"),
        ("right tag zero psi", "out_of_range"),
        ("air pressure two fifty", "out_of_range"),
        ("primary minus ten psi", "negative"),
        ("odometer four million miles", "out_of_range"),
        ("forty one passengers aboard", "out_of_range"),
        ("twenty and a half passengers", "not_whole"),
        ("minus two passengers", "negative"),
        ("co eleven thousand ppm", "out_of_range"),
        ("co minus three ppm", "negative"),
        ("generator minus forty hours", "negative"),
        ("fresh forty volts", "unit"),
        ("shore twelve amps", "unit"),
    ],
)
def test_what_cannot_be_is_refused(said: str, reason: str, coach: Coach) -> None:
    """Nothing impossible is stored; the driver is told why."""
    heard = hear(said, coach)

    assert heard.readings == ()
    assert [refusal.reason for refusal in heard.refused] == [reason]
    assert len(heard.refused[0].message) > 20


@pytest.mark.parametrize(
    ("said", "choices"),
    [
        ("air 1180 psi", ("118 psi", "180 psi")),
        ("house battery 126 volts", ("12.6 volts", "16 volts")),
        ("waste minus ten percent", ("10 %",)),
        ("outside minus 300", ("-30 °F",)),
        ("twelve and a half passengers", ("12 people", "13 people")),
        ("inside cylinder sixty pounds", ("60 pounds gross",)),
        ("fifty five passengers", ()),
    ],
)
def test_a_refusal_asks_for_the_likely_slip(said: str, choices: tuple[str, ...], coach: Coach) -> None:
    """One figure, one point or one sign too many; what would still be impossible is not offered."""
    (refusal,) = hear(said, coach).refused

    assert refusal.choices == choices
    assert all(choice in refusal.message for choice in choices)


@pytest.mark.parametrize(
    ("said", "stored"),
    [
        ("fresh half and waste at two hundred percent", ["fresh 0.5 fraction"]),
        ("left front one oh four right front one thousand and forty", ["tire_pressure/left front 104 psi"]),
        ("sixty passengers and diesel a third", ["diesel 0.3333 fraction"]),
    ],
)
def test_the_possible_is_stored_beside_the_impossible(said: str, stored: list[str], coach: Coach) -> None:
    """One slip does not lose the rest of the sentence."""
    heard = hear(said, coach)

    assert told(heard) == stored
    assert len(heard.refused) == 1


@pytest.mark.parametrize(
    ("said", "accepted"),
    [
        ("fresh one hundred percent", True),
        ("fresh a hundred and twenty gallons", True),
        ("fresh a hundred and thirty gallons", False),
        ("waste twenty inches up from the bottom", True),
        ("waste twenty one inches up from the bottom", False),
        ("outside cylinder forty pounds", True),
        ("outside cylinder sixty five pounds gross", True),
        ("outside cylinder seventy five pounds gross", False),
        ("house battery nine volts", True),
        ("house battery eight point nine volts", False),
        ("outside eighty below", True),
        ("outside eighty one below", False),
        ("left front one fifty nine", True),
        ("left front one sixty", False),
        ("air two hundred psi", True),
        ("air two hundred and one psi", False),
        ("forty aboard", True),
        ("co ten thousand ppm", True),
        ("shore zero volts", True),
    ],
)
def test_both_sides_of_each_limit(said: str, accepted: bool, coach: Coach) -> None:
    """The last possible value is stored, the next one refused."""
    heard = hear(said, coach)

    assert (len(heard.readings), len(heard.refused)) == ((1, 0) if accepted else (0, 1))


@pytest.mark.parametrize(
    ("said", "question"),
    [
        ("we're at a third", "Which one: fresh water, waste, propane or diesel?"),
        ("the tank's at forty percent", "Which one: fresh water, waste, propane or diesel?"),
        ("it's sixty eight degrees", "Is that inside or outside?"),
        ("it's at ninety eight psi", "Which pressure: a tire, or the air gauge?"),
    ],
)
def test_a_clear_amount_of_something_unclear_is_asked_about(said: str, question: str, coach: Coach) -> None:
    """A question instead of a guess."""
    heard = hear(said, coach)

    assert heard == Heard(ask=question)


def test_the_metric_profile_decides_unsaid_units(other_coach: OtherCoach) -> None:
    """Degrees are Celsius and an odometer counts kilometers, unless the driver says otherwise."""
    metric = other_coach({"units": "metric"})

    assert told(hear("outside minus twelve, odometer 400100", metric)) == ["odometer 400100 km", "outside_temp -12 C"]
    assert told(hear("nine degrees below freezing outside", metric)) == ["outside_temp -9 C"]
    assert told(hear("outside minus twelve fahrenheit", metric)) == ["outside_temp -12 F"]


def test_sides_follow_the_steering_wheel(other_coach: OtherCoach) -> None:
    """In a right-hand-drive coach the driver sits on the right, and the curb is on the left."""
    right_hand = other_coach({"drive": "right-hand"})

    assert told(hear("driver side front 105", right_hand)) == ["tire_pressure/right front 105 psi"]
    assert told(hear("nearside front 104", right_hand)) == ["tire_pressure/left front 104 psi"]
    assert told(hear("driver side cylinder half", right_hand)) == ["propane/street-side 0.5 fraction"]


def test_a_24_volt_battery_has_its_own_range(coach: Coach, other_coach: OtherCoach) -> None:
    """ "Twenty five two" is 25.2 V there, and 12.6 V impossible."""
    parts = {"house_battery": {**coach.house_battery.model_dump(), "volts": 24}}
    large = other_coach(parts)

    assert told(hear("house battery twenty five two", large)) == ["house_battery 25.2 V"]
    assert [r.reason for r in hear("house battery 12.6 volts", large).refused] == ["out_of_range"]


def test_a_further_tank_is_known_by_its_name(coach: Coach, other_coach: OtherCoach) -> None:
    """A coach with a grey tank of its own keeps grey water apart from waste."""
    grey = {**coach.tank("waste").model_dump(), "name": "grey", "capacity_gal": 50, "heat_tape": None}
    with_grey = other_coach({"tanks": [*[tank.model_dump() for tank in coach.tanks], grey]})

    assert told(hear("grey's at forty percent and black at ten", with_grey)) == ["grey 40 percent", "waste 10 percent"]
    assert told(hear("gray water half", with_grey)) == ["grey 0.5 fraction"]
    assert hear("grey sixty gallons", with_grey).refused[0].what == "grey"


@pytest.mark.parametrize(
    ("said", "share"),
    [
        ("waste forty percent", 0.40),
        ("fresh three eighths", 0.375),
        ("fresh ninety gallons", 0.75),
        # 30 L are 7.925 gal of 80.
        ("waste thirty litres", 0.0991),
        ("fresh six inches deep", 0.25),
        ("fresh six inches from the top", 0.75),
        # 30.48 cm are 12 in of 24.
        ("fresh 30.48 cm deep", 0.5),
        ("fresh a foot deep", 0.5),
        ("outside cylinder ten pounds", 0.25),
        # 50 lb less 30 lb tare, of 40 lb.
        ("outside cylinder fifty pounds gross", 0.5),
        # 5 gal x 4.20 lb/gal of 40 lb (NFPA 58 Annex B); 4.24 would give 0.53.
        ("outside cylinder five gallons", 0.525),
        ("diesel fifty gallons", 0.25),
        ("def six gallons", 0.4),
        ("fresh bone dry", 0.0),
    ],
)
def test_fraction_of_full(said: str, share: float, coach: Coach) -> None:
    """Any unit a level is told in, as a share of what the profile's tank holds."""
    (reading,) = hear(said, coach).readings

    assert fraction_of_full(reading, coach) == pytest.approx(share, abs=0.0005)


@pytest.mark.parametrize(
    "said", ["it's nine below", "house battery twelve six", "left front one oh four", "fuel needle on E"]
)
def test_what_has_no_full_has_no_share(said: str, coach: Coach) -> None:
    """Temperatures, volts and mere needle positions have no share of full."""
    (reading,) = hear(said, coach).readings

    assert fraction_of_full(reading, coach) is None


@pytest.mark.parametrize(
    ("inches", "share"),
    # Segment of a circle: at a quarter of the height (pi/3 - sqrt(3)/4) / pi. A flat tank would give 0.25.
    [(0, 0.0), (5, 0.1955), (10, 0.5), (15, 0.8045), (20, 1.0)],
)
def test_depth_in_a_lying_cylinder(inches: int, share: float, coach: Coach, other_coach: OtherCoach) -> None:
    """A round tank on its side fills slowly at the bottom and the top."""
    tanks = [{**tank.model_dump(), "shape": "horizontal-cylinder"} for tank in coach.tanks]
    reading = Reading("waste", None, inches, "in", counted_from="bottom")

    assert fraction_of_full(reading, other_coach({"tanks": tanks})) == pytest.approx(share, abs=0.0005)


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ("waste forty percent", "Waste 40 %, about 32 gallons."),
        ("fresh about two thirds", "Fresh water about two thirds, about 80 gallons."),
        ("fresh thirty gallons", "Fresh water 30 gallons, about 25 %."),
        ("fresh six inches from the top", "Fresh water 6 inches from the top, about 90 gallons."),
        ("waste is full", "Waste full, 80 gallons."),
        ("waste is empty", "Waste empty."),
        ("street side bottle a quarter", "Street-side cylinder a quarter, about 10 pounds."),
        ("outside cylinder ten pounds", "Outside cylinder 10 pounds, about 25 %."),
        ("changeover's red on the inside cylinder", "Inside cylinder: low, close to empty."),
        ("house battery twelve six", "House battery 12.6 volts."),
        ("shore ninety eight", "Shore power 98 volts, which is low."),
        ("minus nine outside", "Outside -9 °F."),
        ("left front one oh four", "Left front tire 104 psi."),
        ("secondary air ninety", "Secondary air 90 psi."),
        ("twenty seven aboard", "27 people aboard."),
        ("odometer 306112", "Odometer 306,112 miles."),
    ],
)
def test_echo_reads_back_with_meaning(said: str, line: str, coach: Coach) -> None:
    """One short line, with what it comes to on this coach."""
    (reading,) = hear(said, coach).readings

    assert echo(reading, coach) == line


def test_echo_speaks_metric_to_a_metric_profile(other_coach: OtherCoach) -> None:
    """80 gal are 303 L; 40 % of them 121 L."""
    metric = other_coach({"units": "metric"})
    (reading,) = hear("waste forty percent", metric).readings

    assert echo(reading, metric) == "Waste 40 %, about 121 litres."


@pytest.mark.parametrize(
    ("said", "gross"),
    [
        ("outside cylinder fifty five pounds with the bottle", True),
        ("the outside cylinder weighs fifty five pounds", True),
        ("outside cylinder thirty pounds", False),
        ("outside cylinder half", False),
    ],
)
def test_gross_weight_is_told_by_its_words(said: str, gross: bool, coach: Coach) -> None:
    """A cylinder's weight with the cylinder itself stays as said and is known as such."""
    (reading,) = hear(said, coach).readings

    assert is_gross(reading) is gross


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("fresh about half", 0.43, 0.57),
        ("fresh nearly full", 0.88, 0.9675),
        ("waste forty to fifty percent", 40, 50),
        ("waste about four percent", 0, 11),
        ("fresh about sixty gallons", 54, 66),
    ],
)
def test_a_vague_report_has_a_range(said: str, low: float, high: float, coach: Coach) -> None:
    """The plausible range lies around the value, and inside empty and full."""
    (reading,) = hear(said, coach).readings

    assert reading.approx
    assert (reading.low, reading.high) == pytest.approx((low, high))


def test_each_reading_keeps_the_words_it_was_told_in(coach: Coach) -> None:
    """In a sentence of several, each has its own part."""
    readings = hear("Fresh is at half and waste at a third", coach).readings

    assert [reading.said for reading in readings] == ["Fresh is at half", "waste at a third"]


WORDS = """fresh waste outside inside cylinder propane both battery house shore left right front drive outer air primary tank diesel
def odometer passengers aboard generator co is at about no sorry make that um the and not same of half a third quarter forty twelve six
one oh five hundred minus below zero percent gallons inches from top down volts psi degrees full empty red on e ? , . what if was 40 1/2""".split()


@given(said=st.lists(st.sampled_from(WORDS), max_size=14), after=st.booleans())
def test_whatever_is_said_only_the_possible_is_stored(said: Sequence[str], after: bool, coach: Coach) -> None:
    """No jumble of words raises, stores an impossible value or takes back what was not told."""
    previous = hear("fresh at thirty percent, outside cylinder half", coach).readings if after else ()
    heard = hear(" ".join(said), coach, previous)

    assert set(heard.withdrawn) <= set(previous)
    for reading in heard.readings:
        bounds = None if reading.value is None else limits(reading, coach)
        assert bounds is None or bounds.low <= (reading.value or 0.0) <= bounds.high


@given(text=st.text(max_size=80))
def test_any_text_can_be_listened_to(text: str, coach: Coach) -> None:
    """Nothing a driver can type raises."""
    assert isinstance(hear(text, coach), Heard)


RUN_ON = table("""
shores at one seventeen => shore_voltage 117 V
odos at 284550 => odometer 284550 mi
cabins still at sixty two degrees => inside_temp 62 F
airs only ninety psi => air_pressure 90 psi
diesels down to a quarter => diesel 0.25 fraction
gens at 640 hours => generator_hours 640 h
""")


@pytest.mark.parametrize(("said", "expected"), RUN_ON)
def test_is_may_be_run_on_to_a_name(coach: Coach, said: str, expected: list[str]) -> None:
    """Recognisers leave the apostrophe of "air's at" out."""
    assert told(hear(said, coach)) == expected


@pytest.mark.parametrize("said", ["horns at three eighths", "make it six minutes each", "three gallons each", "make it an eighth"])  # fmt: skip
def test_another_things_amount_moves_no_reading(coach: Coach, said: str) -> None:
    """A level that cannot be a mileage, or a time, leaves the mileage as it was told."""
    before = Reading("odometer", None, 284116.0, "mi")

    assert hear(said, coach, [before]).readings == ()


@pytest.mark.parametrize("said", ["three quarts of drinking water apiece", "a gallon of fresh per head", "two litres of fresh water each"])  # fmt: skip
def test_what_each_gets_is_in_no_tank(coach: Coach, said: str) -> None:
    """A share by head is no level."""
    assert hear(said, coach).readings == ()


OF_ITS_OWN = table("""
we let two off, so 26 people now => passengers 26 persons
we've got 19 players on tonight => passengers 19 persons
now 21 heads => passengers 21 persons
we're 23 today => passengers 23 persons
there are 25 of us => passengers 25 persons
no, 17 kids => passengers 17 persons
warmed up some, minus six now => outside_temp -6 F
it got colder, minus eighteen now => outside_temp -18 F
it warmed to seven above => outside_temp 7 F
it's down to minus 23 now => outside_temp -23 F
it's sixteen below => outside_temp -16 F
""")
BEFORE = (
    Reading("outside_temp", None, -9.0, "F"),
    Reading("propane", "inside", 45.0, "percent"),
    Reading("diesel", None, 50.0, "gal"),
    Reading("fresh", None, 0.5, "fraction"),
    Reading("passengers", None, 30.0, "persons"),
    Reading("inside_temp", None, 61.0, "F"),
)


@pytest.mark.parametrize("before", BEFORE, ids=lambda reading: reading.what)
@pytest.mark.parametrize(("said", "expected"), OF_ITS_OWN)
def test_people_and_cold_are_what_they_are_whatever_came_before(
    coach: Coach, before: Reading, said: str, expected: list[str]
) -> None:
    """A number that tells what it is of never completes the reading before, and nothing is complained of."""
    heard = hear(said, coach, [before])

    assert told(heard) == expected
    assert (heard.refused, heard.ask) == ((), "")


@pytest.mark.parametrize("said", ["five hours now", "now 60 miles", "three kids sick now", "we've got four stops today"])  # fmt: skip
def test_a_number_of_another_kind_leaves_the_reading_before(coach: Coach, said: str) -> None:
    """It is neither stored nor complained of."""
    heard = hear(said, coach, [Reading("fresh", None, 55.0, "percent")])

    assert (heard.readings, heard.refused) == ((), ())


def test_cold_degrees_are_outside_unless_the_cabin_was_spoken_of(coach: Coach) -> None:
    """From well above freezing on it may be either, and is asked."""
    fresh, cabin = Reading("fresh", None, 0.5, "fraction"), Reading("inside_temp", None, 61.0, "F")

    assert told(hear("nine degrees now", coach, [fresh])) == ["outside_temp 9 F"]
    assert told(hear("64 degrees now", coach, [cabin])) == ["inside_temp 64 F"]
    assert hear("it's 64 degrees now", coach, [fresh]).ask == "Is that inside or outside?"


def test_a_current_below_zero_stays_the_batterys(coach: Coach) -> None:
    """A battery that is drawn from reads below zero."""
    assert told(hear("now minus 15", coach, [Reading("house_battery", None, -9.0, "A")])) == ["house_battery -15 A"]


def test_what_a_question_supposes_is_no_level(coach: Coach) -> None:
    """A level that is stated before the question still is one."""
    supposed = "50 gallons of diesel at 5 miles a gallon, is 210 miles with 30 miles to spare in reach?"
    assert told(hear(supposed, coach)) == []
    assert told(hear("30 gallons of fuel, can we reach the rink 150 miles off?", coach)) == []
    assert told(hear("diesel is at 50 gallons, is 210 miles in reach?", coach)) == ["diesel 50 gal"]


def test_so_much_a_flush_is_no_level(coach: Coach) -> None:
    """Though a level of a tank was told before it."""
    waste = Reading("waste", None, 40.0, "gal")
    assert told(hear("ten people two flushes each 1.28 a flush", coach, [waste])) == []
    assert told(hear("one point six a flush", coach, [waste])) == []


WAS_AND_IS = table("""
it was eight below when I crawled out and it's two below now => outside_temp -2 F
shore was one twelve before the heaters went off and now it's one nineteen => shore_voltage 119 V
lounge was 54 when we lit the furnace but now it's up to 67 => inside_temp 67 F
right tag was 82 when I checked it, now 96 => tire_pressure/right tag 96 psi
left tag was down at 60, aired it up to 92 => tire_pressure/left tag 92 psi
waste was a third before breakfast and is now three quarters => waste 0.75 fraction
fresh was at half when I checked, and the waste is full now => fresh 0.5 fraction; waste 1 fraction
outside fell from six to minus four => outside_temp -4 F
house battery has come up from 12.1 to 12.8 => house_battery 12.8 V
outside it was minus nine when I got up =>
right front 98, 111 now => tire_pressure/right front 111 psi
""")
"""What was once and what is now in one sentence: the later one stands."""
CIRCUMSTANCES = table("""
right steer one oh four cold => tire_pressure/right front 104 psi
both tags ninety six warm => tire_pressure/left tag 96 psi; tire_pressure/right tag 96 psi
house bank's fourteen one with the engine running => house_battery 14.1 V
shore was 119 just now => shore_voltage 119 V
genset hrs 1877.5 => generator_hours 1877.5 h
the generator's clock reads 640 => generator_hours 640 h
generator ran for five hours =>
ran the generator, two hours it was =>
""")
"""What is told beside an amount, and the other names of a meter."""
WHEELS = table("""
the inside one of the street side duals is down to 79 => tire_pressure/left drive inner 79 psi
outside tire on the curb side duals ninety nine => tire_pressure/right drive outer 99 psi
inside left dual at 88 => tire_pressure/left drive inner 88 psi
curb side inside duals at 95 => tire_pressure/right drive inner 95 psi
inner dual, right, 93 => tire_pressure/right drive inner 93 psi
drivers front 117 => tire_pressure/left front 117 psi
steers are one oh nine left and one eleven right => tire_pressure/left front 109 psi; tire_pressure/right front 111 psi
left steer was soft, put some air in it, reads 112 now => tire_pressure/left front 112 psi
the inside one is at 30 percent => propane/inside 30 percent
""")
WRITTEN_WITH_A_LINE = table("""
waste three over eight => waste 0.375 fraction
it's four over zero out here => outside_temp 4 F
fresh 3/4 => fresh 0.75 fraction
""")


@pytest.mark.parametrize(("said", "expected"), [*WAS_AND_IS, *CIRCUMSTANCES, *WHEELS, *WRITTEN_WITH_A_LINE])
def test_the_amount_that_stands_is_told_apart(said: str, expected: list[str], coach: Coach) -> None:
    """From what was once, from what it was told with, and by the place it is of."""
    heard = hear(said, coach)

    assert told(heard) == expected
    assert heard.refused == ()


@pytest.mark.parametrize(
    "said",
    [
        "the other bus rolled in with half a tank of fresh",
        "the coach ahead of us has its waste at ninety percent",
        "their fresh is down to a third",
        "bus 9 says shore is 104 over there",
        "we should head out with at least a half in the diesel",
        "never leave with under a third of fresh",
        "at least an eighth of def at all times",
        "the fresh tank's 24 inches, floor to ceiling",
        "waste tank, 80 gallons capacity",
        "fresh is 120 gallons when full",
    ],
)
def test_what_others_have_what_is_wanted_and_sizes_are_no_reading(said: str, coach: Coach) -> None:
    assert told(hear(said, coach)) == []


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("the other bus is gone, our fresh is at half", ["fresh 0.5 fraction"]),
        ("we should go, waste is at ninety", ["waste 90 percent"]),
        ("I'd say the fresh is at least three quarters", ["fresh 0.77 fraction ~"]),
        ("fresh tank's 18 inches deep", ["fresh 18 in bottom"]),
    ],
)
def test_words_of_that_kind_hide_no_reading(said: str, expected: list[str], coach: Coach) -> None:
    assert told(hear(said, coach)) == expected


@pytest.mark.parametrize("said", ["waste 4/0", "diesel at 2/0", "def 0/0"])
def test_a_zero_below_the_line_is_refused(said: str, coach: Coach) -> None:
    heard = hear(said, coach)

    assert heard.readings == ()
    assert ["zero below its line" in one.message for one in heard.refused] == [True]


def test_only_one_of_both(coach: Coach) -> None:
    """What stands alone before a pause keeps its level, by whatever name the other cylinder goes."""
    both = [Reading("propane", "outside", 0.5, "fraction"), Reading("propane", "inside", 0.5, "fraction")]
    heard = hear("no, just the curb side, the street side's a quarter", coach, both)

    assert told(heard) == ["propane/street-side 0.25 fraction"]
    assert heard.withdrawn == (both[1],)


def test_the_last_level_moves_and_another_takes_its_place(coach: Coach) -> None:
    """Both are told in one breath."""
    fresh = Reading("fresh", None, 0.5, "fraction")
    heard = hear("no, that's the waste, fresh is a third", coach, [fresh])

    assert told(heard) == ["fresh 0.3333 fraction", "waste 0.5 fraction"]
    assert heard.withdrawn == (fresh,)


@pytest.mark.parametrize(
    ("before", "said", "expected"),
    [
        (Reading("house_battery", None, 11.8, "V"), "started the genset, it's 12.9 now", "house_battery 12.9 V"),
        (Reading("tire_pressure", "left tag", 71.0, "psi"), "gave it some air, 94 now", "tire_pressure/left tag 94 psi"),
        (Reading("tire_pressure", "left front", 104.0, "psi"), "and the right's 106", "tire_pressure/right front 106 psi"),
        (Reading("outside_temp", None, 61.0, "F"), "no, that was the inside one", "inside_temp 61 F"),
    ],
)  # fmt: skip
def test_what_was_done_takes_no_amount(before: Reading, said: str, expected: str, coach: Coach) -> None:
    """Nor does a side that only leans on the reading before."""
    assert told(hear(said, coach, [before])) == [expected]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("steers at 117 and 114", []),
        ("left duals 99 and 96 psi, fresh half", ["fresh 0.5 fraction"]),
        ("tags 92/94", []),
    ],
)
def test_two_pressures_of_one_axle_are_asked_apart(said: str, expected: list[str], coach: Coach) -> None:
    """Neither may be put down for both."""
    heard = hear(said, coach)

    assert told(heard) == expected
    assert heard.ask.startswith("Which tire has which")


@pytest.mark.parametrize(
    ("said", "curb", "street"),
    [
        ("full street side and half curb side", 0.5, 1.0),
        ("half curb side, full street side", 0.5, 1.0),
        ("there's a quarter in the street one and a half in the curb one", 0.5, 0.25),
        ("a full bottle on the curb side and half on the street side", 1.0, 0.5),
        ("half a bottle on the street side and a full one on the curb side", 1.0, 0.5),
        ("full curb side, street side half", 1.0, 0.5),
        ("curb side is half, full street side", 0.5, 1.0),
        ("curb side half street side full", 0.5, 1.0),
        ("half on the passenger side and full on the driver's side", 0.5, 1.0),
        ("half in the curb side bottle and the other is full", 0.5, 1.0),
    ],
)
def test_levels_of_cylinders_told_first_are_not_swapped(said: str, curb: float, street: float, coach: Coach) -> None:
    """Nor is one of them lost."""
    heard = {one.which: one.value for one in hear(said, coach).readings}

    assert heard == {"curb-side": curb, "street-side": street}


def test_a_level_before_the_cylinders_keeps_its_place(coach: Coach) -> None:
    assert told(hear("fresh is half, propane a quarter curb side and full street side", coach)) == [
        "fresh 0.5 fraction",
        "propane/curb-side 0.25 fraction",
        "propane/street-side 1 fraction",
    ]


@pytest.mark.parametrize(
    "said", ["half and full, street side and curb side", "half remaining on the street side and full curb side"]
)
def test_levels_of_cylinders_that_cannot_be_placed_are_asked(said: str, coach: Coach) -> None:
    heard = hear(said, coach)

    assert not heard.readings
    assert heard.ask.startswith("Which level is of which")


def test_temperatures_of_places_are_no_cylinders(coach: Coach) -> None:
    assert set(told(hear("40 outside and 68 inside", coach))) == {"outside_temp 40 F", "inside_temp 68 F"}


@pytest.mark.parametrize("said", ["minus 25 outside, 28 of us", "28 of us, minus 25 outside"])
def test_all_of_us_are_counted_beside_other_readings(said: str, coach: Coach) -> None:
    assert set(told(hear(said, coach))) == {"outside_temp -25 F", "passengers 28 persons"}


@pytest.mark.parametrize("said", ["minus 25, two of us outside", "five of us, minus 25 outside"])
def test_some_of_us_are_no_head_count(said: str, coach: Coach) -> None:
    assert told(hear(said, coach)) == ["outside_temp -25 F"]
