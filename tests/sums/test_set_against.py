"""Two things set against each other, limits told by stamps and sheets, what is let out: roles marked by hand, each sum worked out beside it."""

from __future__ import annotations

import pytest

from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import Wanted, bare_unit, wanted
from cabassist.sums.families import Family, Told
from cabassist.sums.marked import marked
from cabassist.sums.sums_bleach import BLEACH
from cabassist.sums.sums_depth import DEPTH
from cabassist.sums.sums_fill import FILL
from cabassist.sums.sums_mixing import MIXING
from cabassist.sums.sums_propane import PROPANE
from cabassist.sums.sums_weight import WEIGHT
from cabassist.sums.told_chill import CHILL
from cabassist.sums.told_loads import LOADS
from cabassist.sums.told_road import ROAD
from cabassist.sums.told_tires import TIRES
from cabassist.sums.working import work_out
from tests.sums.test_working import COACH, NOW

OF_TANKS = {"bleach", "depth", "fill", "mixing", "propane", "weight"}

# fmt: off
WORKED = [
    # mL = L x mg/L ÷ (10 x %): 120 x 3.785 x 50 ÷ 60 = 378.5, ÷ 82.5 = 275.3; 103.2 mL = 3.49 fl oz
    (BLEACH, "how many ounces less of {percent=8.25 percent} than of the {other=six percent} for {water=120 gallons} at {ppm=50 ppm}", 3.491, "fl oz", "The stronger takes less"),
    # 200 ÷ 50 = 4 h, 240 ÷ 64 = 3.75 h
    (ROAD, "which is sooner, {distance=200 miles} at {speed=50} or {distance=240 miles} at {speed=64}", 0.25, "h", "The second way, the 240, is sooner by 15 minutes"),
    # the stop belongs to the road behind which it is told: 3.75 + 0.5 = 4.25 h
    (ROAD, "which is sooner, {distance=200 miles} at {speed=50} or {distance=240 miles} at {speed=64} with a {stop=half hour} ferry", 0.25, "h", "The first way"),
    # 600 ÷ 6 = 100 gal, 3 in 100: 3 gal; half of 8 is 4
    (ROAD, "DEF shows {share=half} of {fuel=8 gallons}, it takes {takes=3 gallons} to {takes_of=100} of diesel, {mileage=6 mpg}, {distance=600 miles}, enough?", 3.0, "gal", "Yes: 3 against 4 gallons"),
    (ROAD, "{fuel=2 gallons} of def left, {takes=3 percent} of the diesel, {mileage=6 mpg}, {distance=600 miles}, is it enough", 3.0, "gal", "No: 3 against 2 gallons"),
    # 4 ÷ 0.03 = 133 gallons of diesel, and there are 200
    (MIXING, "{stock=4 gallons} of DEF at {share=3 percent}, {whole=200 gallons} of diesel, which runs dry first", 133.33, "gal", "The DEF first"),
    (MIXING, "{stock=9 gallons} of DEF at {share=3 percent}, {whole=200 gallons} of diesel, which runs dry first", 300.0, "gal", "The diesel first"),
    # (16 - 10) in x 120 ÷ 24
    (DEPTH, "it was {was=sixteen} inches last night and {depth=10 inches} now, {height=24 inches} is {capacity=120 gallons}, how many gallons went", 30.0, "gal", ""),
    # 0.42 x 100 (29 CFR 1910.110) + 30 - 50
    (PROPANE, "WC {water_capacity=100}, TW {tare=30}, the scale says {gross=50 pounds}, how many pounds more may go in", 22.0, "lb", ""),
    (PROPANE, "WC {water_capacity=100}, TW {tare=30}, the scale says {gross=75 pounds}, how many pounds more may go in", 3.0, "lb", "Nothing more"),
    # 24,000 ÷ (2 x 25,000 x 0.8)
    (PROPANE, "we lose {loss=24,000 BTU an hour}, {burners=two furnaces} of {burner=25,000 BTU}, {efficiency=80 percent} efficient, what share of the time do they run", 60.0, "percent", ""),
    # a cylinder is named by its legal fill, 0.42 x 95.2 = 40
    (FILL, "he says a {size=forty pounder} carries only {claimed=32 pounds}, is he right", 40.0, "lb", "No"),
    (FILL, "he says a {size=forty pounder} carries {claimed=40 pounds}, is he right", 40.0, "lb", "Yes"),
    (FILL, "the kid says a {size=forty pounder} carries only {claimed=32 pounds}, is the kid wrong", 40.0, "lb", "Yes"),
    # 20,300 - 60 x 8.337 (WAC 296-307-40029) = 19,800
    (WEIGHT, "the drives weigh {weighs=20,300 lb} of {limit=20,000}, waste over them has {off=60 gallons}, if i dump it am i legal", 19799.8, "lb", "Yes"),
    # 10 x (80 + 20) + 400 x 0.999
    (LOADS, "{count=ten players} at {each=80 kilos}, each with {each=20 kilos} of gear, how many kilos is that", 1000.0, "kg", ""),
    # National Weather Service: 35 °F and 30 mph feel like 21.7
    (CHILL, "what is the wind chill at {air=35 F} and {wind=30 mph} and will the hose freeze", 21.7, "F", "No"),
    (CHILL, "it is {air=20 F} and stays {air=20} with {wind=30 mph}, what is the wind chill and will the hose freeze", 1.3, "F", "Yes"),
    # (100 + 14.7) x 464.7 ÷ 524.7 - 14.7 = 86.9
    (TIRES, "both had {at_first=100 psi} at {set_at=65 F}, at {then_at=5 F} outer says {beside=87}, inner says {now=78}, is the inner only cold", -8.9, "psi", "No"),
    (TIRES, "it had {at_first=100 psi} at {set_at=65 F} and {now=87 psi} today at {then_at=5 F}, does the cold explain that", 0.1, "psi", "Yes"),
]
# fmt: on


def _told(family: Family, line: str, judged: bool = False) -> Told:
    one = marked(f"{line} -> 1 A")
    question = read_question(one.text)
    of_tanks = family.name in OF_TANKS
    found = terms(question) if of_tanks else terms_of(question)
    assert found is not None
    assert len(question.amounts) == len(one.roles)
    role_at = {amount.start: role for amount, role in zip(question.amounts, one.roles, strict=True)}
    roles: dict[str, list[Term]] = {}
    for term in found:
        roles.setdefault(role_at[term.amount.start], []).append(term)
    heard = Wanted(judged=True) if judged else wanted(question) if of_tanks else asked_for(question)
    return Told(roles, question, heard or Wanted(), COACH, NOW)


@pytest.mark.parametrize(("family", "line", "value", "unit", "verdict"), WORKED)
def test_it_comes_out(family: Family, line: str, value: float, unit: str, verdict: str) -> None:
    told = _told(family, line, judged=family in (FILL, WEIGHT))
    made = family.solve(told)
    assert made is not None
    assert told.whole()
    assert made.value == pytest.approx(value, rel=0.01, abs=0.1)
    assert made.unit == unit
    assert verdict in made.verdict


# fmt: off
WRONG = [
    # what is let out comes off
    (WEIGHT, "the drives weigh {weighs=20,300 lb} of {limit=20,000}, waste over them has {on=60 gallons}, if i dump it am i legal"),
    (WEIGHT, "the drives weigh {weighs=20,300 lb} of {limit=20,000}, waste over them has {beside=60 gallons}, if i dump it am i legal"),
    # each brings it
    (LOADS, "{count=ten players} at {each=80 kilos}, each with {moved=20 kilos} of gear, how many kilos is that"),
    # when one leaves is no time to be there, and a warm-up is no stop
    (ROAD, "we roll Tuesday at {arrive=7:45 pm}, {distance=500 miles} at {speed=50}, what time Wednesday are we in"),
    (ROAD, "be there by {arrive=6 pm}, warm up is {stop=an hour} after that, {distance=200 miles} at {speed=50}, when do i leave"),
    # the other one of the pair
    (TIRES, "both had {at_first=100 psi} at {set_at=65 F}, at {then_at=5 F} outer says {now=87}, inner says {beside=78}, is the inner only cold"),
    # another strength, another depth and a stamp belong to the sum
    (BLEACH, "how much less do I pour of {percent=8.25 percent} rather than {beside=5.25}, {water=120 gallons}, {ppm=50 ppm}"),
    (DEPTH, "it was {depth=fifteen inches} and {beside=nine} now, {height=24 inches} is {capacity=120 gallons}, how many gallons went overnight"),
    (PROPANE, "WC {beside=95}, TW {tare=32}, the scale says {gross=58 pounds}, how many pounds more may go in"),
    # a wind chill that is told is no air
    (CHILL, "the wind chill feels like {felt=10 F} at {air=20 F}, will the hose freeze"),
]
# fmt: on


@pytest.mark.parametrize(("family", "line"), WRONG)
def test_roles_that_the_words_deny_give_nothing(family: Family, line: str) -> None:
    assert family.solve(_told(family, line)) is None


# fmt: off
ASKED = [
    # (120 - 113) ÷ 4 = 1.75 psi a minute, 3 are allowed applied (CDL manual § 5.3)
    ("foot on the brake, engine off, 120 psi at 6:10 and 113 at 6:14, single coach, pass?", 1.75, "psi/min", "Pass"),
    ("brakes off, 120 psi at 6:10 and 111 at 6:13, does it pass", 3.0, "psi/min", "Fail"),
    # 600 N·m x 0.7376 = 442.5 lb-ft
    ("he pulled the nuts to 600 newton metres and the sheet says 450 to 500 foot pounds, is he inside", 442.5, "lb-ft", "No"),
    ("the nuts are at 480 foot pounds, the plate says 400 to 450 foot pounds, is that inside", 480.0, "lb-ft", "No"),
    # 8 - 15 = -7: neither the gallons nor the hour change it
    ("a hundred gallons aboard, cloud point 15 F, tonight 8 F, snow after nine, will it gel", -7.0, "F", "Risk"),
    # TM 5-1185: 1.200 freezes at -16
    ("hydrometer gives 1.200 in every one of the six cells, tonight minus 20, will the battery freeze", -16.0, "F", "freeze"),
    # 7.5 h in all, half an hour short of eight (49 CFR 395.1(g)(3))
    ("5 hours 30 last night in the berth and then 2 hours this morning, does that count as a split", 7.5, "h", "Not valid"),
    # 30 h after Tuesday 13:00
    ("the waste holds 300 litres, had 120 litres at one o'clock Tuesday afternoon and fills at 6 litres an hour, how many hours till it is full", 30.0, "h", ""),
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), ASKED)
def test_it_is_read(text: str, value: float, unit: str, verdict: str) -> None:
    worked = work_out(text, (), coach=COACH, stored=(), now=NOW)
    assert worked is not None
    assert worked.estimate is not None, worked
    assert worked.estimate.value == pytest.approx(value, abs=0.3)
    assert worked.estimate.unit == unit
    assert verdict in worked.estimate.verdict


def test_what_was_burned_is_not_what_is_left() -> None:
    worked = work_out("the furnaces ate nine pounds of propane last night, when do I have to swap", (("propane-days-left", 0.9),), coach=COACH, stored=(), now=NOW)  # fmt: skip
    assert worked is None or worked.estimate is None


def test_the_day_is_named_where_one_is_told() -> None:
    from cabassist.estimate.quantities import exact
    from cabassist.sums.days_named import with_day

    question = read_question(
        "it had 120 litres at one o'clock Tuesday afternoon, 6 litres an hour, what day and time is it full"
    )
    found = exact(
        "full", 30.0, "h", source="arithmetic", working=(), verdict="That is at 19:00 (7:00 pm), 30 hours on."
    )
    assert with_day(question, found).verdict == "That is at 19:00 (7:00 pm) on Wednesday, 30 hours on."
    other = exact(
        "full", 30.0, "h", source="arithmetic", working=(), verdict="That is at 20:00 (8:00 pm), 30 hours on."
    )
    assert with_day(question, other) == other  # it runs from another time


def test_years_that_are_counted_are_not_asked_for() -> None:
    assert bare_unit(read_question("he's been here two years, do we get there"))[0] == ""
