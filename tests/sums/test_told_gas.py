"""Propane told in any order, each worked out by hand beside it with 21,548 BTU/lb and 4.24 lb/gal (NFPA 58 Annex B, trade)."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.wanted import wanted
from cabassist.sums.told_gas import told_gas
from tests.sums.test_working import NOW

# fmt: off
WORKED = [
    ("the two furnaces are thirty thousand and twenty thousand and they're each on forty percent of the time how many pounds a day do we burn", 20000 * 24 / 21548, "lb/day", ""),
    ("two 30 pounders, one at half and the other at 80 percent, the furnace 30k runs a third of the time. hours?", 39 * 21548 / 10000, "h", ""),
    ("Scale says the bottle's 58 pounds, tare 29. We burn a pound and a half an hour. How many hours is left", 29 / 1.5, "h", ""),
    ("last evening at nine the scale said seventy pounds and at seven this morning sixty two, the empty bottle's thirty, how many hours of propane from then on", 32 / 0.8, "h", ""),
    ("four nights of nine hours with the furnace at 40,000 going sixty percent, how many pounds of gas", 24000 * 36 / 21548, "lb", ""),
    ("we used 11 lb between nine last night and six. 24 left. hours?", 24 * 9 / 11, "h", ""),
    ("both 40 lb bottles full, coach loses 18,000 btu an hour, furnace 80 percent efficient, how many days", 80 * 21548 * 0.8 / 18000, "h", ""),
    ("35,000 btu furnace half the time, 20 lb left, does it see us through nine hours?", 20 * 21548 / 17500, "h", "Yes"),
    ("heater's 9 kilowatts, 12 kg of gas, flat out, how many hours", 12 * 2.204623 * 21548 * 0.00029307107 / 9, "h", ""),
    ("burned 4 gallons of propane in 2 days, how many pounds a day is that", 8.48, "lb/day", ""),
    ("one of the forty pounders is dry, the other has 22 pounds, 30,000 btu furnace on a quarter of the time at 12 degrees, hours?", 22 * 21548 / 7500, "h", ""),
    ("furnace is 28,000 btu and burns 15 minutes out of every hour, 21 pounds left, how many hours", 21 * 21548 / 7000, "h", ""),
]
LEFT = [
    "both cylinders have 18 pounds, burning a pound an hour, how long",  # each, or together
    "three nights with a 30,000 btu furnace, how many pounds of propane",  # nights of how many hours
    "20 below, 100 lb bottle with 30 lb in it, 40,000 btu furnace nonstop, will it do",  # whether it boils off
    "furnace 30k running half the time, how long does the propane last",  # how much there is
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), WORKED)
def test_a_story_of_propane_is_read(text: str, value: float, unit: str, verdict: str) -> None:
    question = read_question(text)
    want = wanted(question)
    assert want is not None
    made = told_gas(question, want, NOW)
    assert made is not None
    assert made[1].unit == unit
    assert made[1].value == pytest.approx(value, rel=1e-3)
    assert made[1].verdict.startswith(verdict)


@pytest.mark.parametrize("text", LEFT)
def test_what_is_not_sure_gets_no_number(text: str) -> None:
    question = read_question(text)
    want = wanted(question)
    assert want is None or told_gas(question, want, NOW) is None
