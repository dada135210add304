"""What a propane vessel boils off (trade table, references 1), holds (80 %, legal fill) and shows (CoolProp within 4.5 psi)."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.wanted import wanted
from cabassist.sums.told_vessel import told_vessel
from tests.sums.test_working import COACH

# fmt: off
WORKED = [
    ("sixty pounds in a hundred pounder, 20 degrees out, two 40 thousand BTU furnaces both running, can it keep up", 109_000, "BTU/h", "Yes"),
    ("100-lb cylinder, 25 lb left, 40F, 90k furnace nonstop. enough?", 76_500, "BTU/h", "No"),  # between 68,000 and 85,000
    ("hundred pound bottle with seventy pounds in it and its sixty degrees how many btu an hour can it make", 199_000, "BTU/h", ""),
    ("our under floor propane tank is 40 gallons and the gauge says 30 %. how many gallons to the 80 % stop", 20.0, "gal", "80"),
    ("a propane tank of fifty gallons filled to the eighty percent stop holds how many gallons", 40.0, "gal", ""),
    ("30 lb bottle has 12 lb left, how many pounds can they put in", 18.0, "lb", "A 30"),
    ("the guy wants to fill only 32 pounds in my empty 40 pound cylinder because of an 80 percent rule. how many pounds is it allowed", 40.0, "lb", "A 40"),
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), WORKED)
def test_what_a_vessel_gives_and_takes(text: str, value: float, unit: str, verdict: str) -> None:
    question = read_question(text)
    made = told_vessel(question, wanted(question), COACH)
    assert made is not None
    assert made[1].unit == unit
    assert made[1].value == pytest.approx(value, rel=2e-3)
    assert made[1].verdict.startswith(verdict)


def test_below_the_table_there_is_no_number() -> None:
    question = read_question(
        "two 30,000 furnaces on one 100 pound bottle, 60 pounds in it, 12 below zero. how many btu an hour will it give"
    )
    made = told_vessel(question, wanted(question), COACH)
    assert made is not None
    assert made[1].value is None


def test_the_gauge_on_the_cylinder_follows_the_cold() -> None:
    made = told_vessel(read_question("what pressure should the propane bottle show at 40 F"), None, COACH)
    assert made is not None
    assert made[1].value == pytest.approx(63.9, abs=1.0)  # CoolProp, pure propane
