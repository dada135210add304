"""Questions whose answer is a yes or no, or that are asked backwards; the formulas stand in the comments."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.handing import handed_out
from cabassist.sums.working import work_out
from cabassist.sums.working_cylinders import dates_in
from tests.dialogue.conversation import NOON

WORKED = (
    # Gallons ÷ (gallons a head and day x days); the next fill fills nothing now.
    ("ration is 3 gallons per person per day, 96 gallons aboard, next fill in exactly two days, how many people is that", 16, "persons", ""),
    # Gallons ÷ (flow x minutes), as they say it who learned English late.
    ("shower give 3 gallon for minute, each girl 3 minutes, we have 72 gallon, how many girls can wash", 8, "persons", ""),
    # 4.54609 ÷ 3.785412 US gallons in an imperial one.
    ("He sells by the imperial gallon, eighty of them. What's eighty of theirs in our US gallons?", 96.08, "gal", ""),
    ("the pump counts imperial gallons and says 25, what is that in US gallons", 30.02, "gal", ""),
    # NFPA vaporization table: 66,000 BTU/h at 30 lb and 20 °F. The year counts for nothing.
    ("I've been on the road since '88. Hundred pound cylinder, thirty pounds left, 20 Fahrenheit out. Can it feed two 32,000 BTU furnaces?", 66000, "BTU/h", "Yes"),
    # 49 CFR 180.209(e): twelve years from June 2012, by January 2026.
    ("bottle's stamped 06-12, nothing after it, may they refill it today", -19, "months", "No"),
    # 49 CFR 173.304a: a cylinder is called by its legal fill.
    ("it's sold as a 40-pounder, do I have to take 80 percent of that again", 40, "lb", "No"),
    # Magnus formula: 68 °F at 55 % is saturated at 51.2 °F.
    ("bunks at 68 Fahrenheit, 55 percent humidity, the pane measured at 42, will water form on it", 51.2, "F", "Yes"),
    # 120 gal x 2.5 %; 160 gal x 3 %.
    ("DEF at a third of a 12 gallon tank, she takes 2.5 percent of the diesel and we'll burn 120 gallons of diesel, enough DEF?", 3, "gal", "Yes"),
    ("four gallons of DEF left, 3 percent of the diesel, 160 gallons of diesel to burn, will we run out of DEF", 4.8, "gal", "Yes"),
    # 1 N·m is 0.737562 lb-ft.
    ("wrench is marked in newton meters and clicked at 640, nuts want 450 to 500 foot pounds, is that tight enough", 472.0, "lb-ft", "Yes"),
    # (105 + 14.7) x (518.67 + ...) ÷ absolute temperature, less 14.7: set where it is warm for where it is cold.
    ("steers should read 105 psi at minus five, it is 58 in the shop, what do I set them at", 121.6, "psi", ""),
    # Distance ÷ speed from noon, the hour that it is.
    ("560 miles to go at 50 mph, will we be there by 7 tomorrow morning", 11.2, "h", "Yes"),
    ("780 miles, averaging 48, four hours of stops, do we make it by 7 tomorrow morning", 20.25, "h", "No"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), WORKED)
def test_it_is_answered_with_the_number_and_the_verdict(
    text: str, value: float, unit: str, verdict: str, mind: Mind
) -> None:
    worked = work_out(text, [], coach=mind.coach, stored=(), now=NOON)
    assert worked is not None
    assert worked.estimate is not None, worked.question
    assert worked.estimate.value == pytest.approx(value, rel=0.005)
    assert worked.estimate.unit == unit
    assert worked.estimate.verdict.startswith(verdict)


@pytest.mark.parametrize(
    "text",
    [
        "collar says TW 10.25, scale reads 11.19, is the 20 pound cylinder more than half",
        "stamped tw 12.18 and it weighs 21, is it half full",
    ],
)
def test_a_stamped_weight_is_no_date(text: str) -> None:
    assert not dates_in(text)


def test_handed_out_the_scale_is_set_against_a_share_of_the_fill(mind: Mind) -> None:
    network = mind.role_network
    assert network is not None
    found = handed_out(read_question("tare is 27 lb, on the scale it's 44 lb, is my forty pounder under half"), network, mind.coach, NOON)  # fmt: skip
    assert found is None or found.estimate.verdict.startswith("Yes")
