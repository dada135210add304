"""Tanks told in any order, with bare numbers and much beside; each worked out by hand beside it."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.wanted import wanted
from cabassist.sums.told_tanks import told_tank
from tests.sums.test_working import COACH, NOW

# fmt: off
WORKED = [
    ("ok so the fresh is at 90 gallons and drops 5 an hour, waste 30 gallons of 80 and climbs 6 an hour, which gives out first", 50 / 6, "h", "Waste full first"),
    ("fresh has forty and goes down five an hour waste has thirty one of eighty and gets three an hour which one stops us first", 8.0, "h", "Fresh empty first"),
    ("waste was at 20 gallons at 6:30 and it's at 41 now at 10, eighty gallon tank, when's it full", 6.5, "h", "That is at 4:30"),
    ("we had 88 gallons of fresh at nine, and 64 at one, how much an hour is that and what time's it dry", 64 / 6, "h", "That is at 11:40"),
    ("27 kids, 2 gallons a minute shower head, 96 gallons in the fresh and i want to keep 15, how many minutes each", 1.5, "min", ""),
    ("shower runs at 1.5 gallons a minute, five minute showers, 80 gallons in the tank and twenty kept back, how many", 8.0, "showers", ""),
    ("Waste at 44 of 80, next dump station is 12 hours away. What can they put in an hour at most?", 3.0, "gal/h", ""),
    ("24 people, 0.4 gallon a flush, five flushes each, room for 40 gallons in the waste, will it go in?", 48.0, "gal", "No"),
    ("half a gallon a flush, four a head overnight, 50 gallons of room, how many people can sleep aboard", 25.0, "persons", ""),
    ("The waste read 18 gallons when we left at 2 and four hours later it reads 42. Tank's an 80. How much longer till full", 38 / 6, "h", "That is at 12:20"),
    ("hose does 6 gallons a minute, the tank's at 40 of 120, how many minutes till it's full", 80 / 6, "min", ""),
    ("tank holds 300 liters, 120 in it, hose gives 15 liters a minute, how long", 12.0, "min", ""),
    ("waste thirty percent at noon, 55 percent at five, how many hours from five till full", 9.0, "h", "That is at"),
    ("eighty gallon waste with fifty in it, thirty of us, a gallon and a half apiece a day, does that get us ten hours to the dump", 16.0, "h", "Yes"),
    ("thirty people a third of a gallon a flush three flushes each will that go in a waste tank with 25 gallons of room", 30.0, "gal", "No"),
    ("waste was forty percent at six a m and sixty at ten how many hours from ten until its full", 8.0, "h", "That is at"),
    ("tank for the waste is ninety gallons with sixty in it, twenty guys, one and a half a day each, will it last the twenty hours to the dump", 24.0, "h", "Yes"),
    ("hose started at 2:15 with the 100 gallon tank at 40 gallons, full at 2:35, gallons a minute?", 3.0, "gal/min", ""),
    ("tank takes 250 liters, 100 liters in it, how many us gallons can still go in", 150 / 3.785411784, "gal", ""),
    ("shower's 1.8 gallons a minute, I'd leave ten gallons in the tank and there's 64 in there, how many five minute showers", 6.0, "showers", ""),
]
LEFT = [
    "waste has 61 and gets 5 an hour, fresh has 55 and goes down 6 an hour, which is first",  # gallons or percent
    "fresh is at 60 gallons and the dog weighs 40, how long",
    "we put four gallons an hour in the waste tank, when is it at 85 percent",  # no level
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), WORKED)
def test_a_story_of_tanks_is_read(text: str, value: float, unit: str, verdict: str) -> None:
    question = read_question(text)
    want = wanted(question)
    assert want is not None
    made = told_tank(question, want, COACH, NOW)
    assert made is not None
    assert made[1].unit == unit
    assert made[1].value == pytest.approx(value, rel=1e-3)
    assert made[1].verdict.startswith(verdict)


@pytest.mark.parametrize("text", LEFT)
def test_what_has_no_place_gets_no_number(text: str) -> None:
    question = read_question(text)
    want = wanted(question)
    assert want is None or told_tank(question, want, COACH, NOW) is None
