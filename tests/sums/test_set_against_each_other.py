"""Sums that set two things against each other, and what is told beside them; each answer worked out by hand beside it.

The charge by the voltage at rest is that of the BCI table (12.24 V at 80 °F is 50 %); a pound of propane gives 21,548 BTU (NFPA 58);
Peukert's law in its rated form is H·(C/(I·H))^k; a cylinder is due by 49 CFR 180.209.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import read_question
from cabassist.language.gluing import glued
from cabassist.language.sum_terms import terms
from cabassist.sums.marked import marked
from cabassist.sums.summing import summed
from cabassist.sums.told_sums import told_sum
from tests.sums.test_marked_wordings import BY_NAME, trouble

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def told(text: str, coach: Coach) -> Estimate | None:
    question = read_question(text)
    found = summed(question, coach, NOW) or told_sum(question, coach, NOW)
    return None if found is None else found[1]


# fmt: off
MARKED = [
    ("tires", "gauge says {now=ninety nine psi} the plate wants {limit=one ten psi} what percent low is that -> 10 percent"),  # 11 of 110
    ("tires", "is {now=94 psi} more than {part=15 percent} below the {limit=110 psi} on the plate -> no"),  # 14.5 %
    ("both", "{propane=twenty pounds} at {propane_rate=two pounds an hour}, bank {battery=150 Ah} at {battery_rate=10 A}, which is out first -> 10 h, propane empty first"),
    ("both", "bank {battery_size=400 Ah}, {battery_usable=half} of it, {battery_rate=16 A}, propane {propane=40 lb} at {propane_rate=2 lb/h}, first out? -> 12.5 h, house battery empty first"),
    ("propane", "which lasts longer {left=20 lb} on a {burner=12,000 BTU} heater or {left=40 lb} on a {burner=25,000 BTU} furnace -> 35.91 h, 1.436 h"),  # 34.48 h for the other
    ("bank", "{rested=12.24 volts} at rest, {capacity=220 Ah}, {load=9 A}, not under {stop=25 percent}, will it go {hours=10 hours} -> no, 6.111 h"),  # 55 Ah
    ("bank", "{missing=90 Ah} to put back at {efficiency=85 percent}, how much sooner with {charger=45 amps} than with {before=20 amps} -> 2.941 h"),  # 5.294 - 2.353
    ("cords", "{near=121 volts} at the post, {far=113 volts} inside, what percent is lost -> 6.612 percent"),  # 8 of 121
    ("water", "{people=40 players} flush {times=2 times} at {per_event=0.4 gal} and the sinks add {add=12 gal}, waste at {level=30 gal} of {capacity=80 gal}, does it fit -> yes, 74 gal"),
    ("loads", "bay takes {limit=1,200 lb}, {moved=450} is in, how many {each=35 lb} bags more -> 21 count"),  # 750 ÷ 35
    ("road", "{distance=185 miles} counting on {speed=50 an hour} with a {stop=20 minute} stop, there by {arrive=4:30 pm}, latest to leave -> 12:28"),
]
READ = [
    ("battery is 100 Ah at the 20 hour rate, peukert 1.25, how many hours do i gain by running 6 amps instead of 12", 9.229, "h"),  # 15.92 - 6.69
    ("28 lb of propane left, has to carry us from noon tuesday to noon thursday, what's the most BTU an hour i can burn", 12569.7, "BTU/h"),  # 48 h
    ("additive says one ounce treats five gallons how many ounces for a hundred and forty gallons of diesel", 28.0, "fl oz"),
    ("the bridge sign says 3.9 metres and the coach is 12 foot 2 with the roof unit, how many inches do i have over the top", 7.54, "in"),  # 153.54 - 146
    ("meter at the pedestal says 121 volts and our panel shows 113, what percent are we losing in the cord", 6.612, "percent"),
    ("215 litres for the last 610 kilometres, what's that in litres per hundred", 35.25, "L/100 km"),
    ("110 gal fresh, 2.5 gal per head per day, 2 days, max headcount", 22.0, "persons"),
    ("showers run two gallons a minute, four minutes each, i've got seventy two gallons, how many of them can wash", 9.0, "persons"),
]
# fmt: on


@pytest.mark.parametrize(("family", "line"), MARKED)
def test_what_is_marked_comes_out(family: str, line: str, coach: Coach) -> None:
    assert trouble(BY_NAME[family], marked(line), coach) == ""


@pytest.mark.parametrize(("text", "value", "unit"), READ)
def test_what_a_reader_makes_of_it(text: str, value: float, unit: str, coach: Coach) -> None:
    found = told(text, coach)
    assert found is not None
    assert found.value == pytest.approx(value, rel=0.002)
    assert found.unit == unit


def test_all_furnaces_count_beside_a_heater(coach: Coach) -> None:
    text = "hundred pounder, 60 lb left in it, 20 F out, can it feed two 42,000 btu furnaces plus a 30,000 water heater together"
    found = told(text, coach)
    assert found is not None
    assert found.verdict.startswith("No")  # 114,000 against 109,000


def test_which_cylinder_is_due_first(coach: Coach) -> None:
    text = "Two cylinders. One's stamped made 11-2015, never retested. The other has 03-22 E on the collar. Which comes due first?"
    found = told(text, coach)
    assert found is not None
    assert found.verdict == "The one stamped 03-22 E first. Due March 2027. The one stamped 11-15: due November 2027."
    assert glued(text) == text


def test_whole_days_between_named_ones() -> None:
    for text, hours in (("from noon tuesday to noon thursday", 48.0), ("from 9 pm friday to 6 am sunday", 33.0), ("from 8 am monday to 5 pm monday", 9.0)):  # fmt: skip
        found = terms(read_question(text))
        assert found is not None
        assert [one.value for one in found] == [hours]


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("ten hours at four dollars twenty a gallon", ["h", "n", "gal"]),
        ("sooner with the 45 A charger than the 20 A one", ["A", "A", "n"]),
        ("forty of them go twice each, and there's another 12 gallons", ["people", "gal"]),
        ("at 48,220 on the odometer, between what two readings", ["n"]),
    ],
)
def test_amounts_read(text: str, tags: list[str]) -> None:
    assert [one.tag for one in read_question(text).amounts] == tags
