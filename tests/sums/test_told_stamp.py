"""Stamps on a collar and when they run out: 12 years new, 5 after an E, unsettled after an S (49 CFR 180.209(e), (g))."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_stamp import stamped

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("collar says made 3-12, and under it 9-24 E. can he fill it", "Yes. Due September 2029."),
        ("when is a bottle stamped ten sixteen due", "Due October 2028."),
        ("my propane cylinder was made in june 2017, never retested, how long is it good for", "Yes. Due June 2029."),
        ("retest stamp 04-22E on the street side cylinder, next due?", "Due April 2027."),
        ("is a forty pounder marked 8/13 still legal to fill today", "No. Overdue since August 2025."),
        ("cylinder retested by water jacket in 5-16, no letter, due when", "Due May 2028."),
        ("bottle made 02-15, nothing else on it, it's March 3rd 2027 when we fill. still ok?", "No. Overdue since February 2027."),
        ("the ring on the cylinder says oh nine twenty and a letter s, when is it due", "The rule here is unsettled"),
        ("bottle stamped may twenty fifteen and never retested, is it good today on the first of december twenty twenty eight", "No. Overdue since May 2027."),
        ("requalified october twenty one with an e on it, when is it due", "Overdue since October 2026."),
        ("requalified april eighteen with an s behind it, when does that run out", "The rule here is unsettled"),
        ("cylinder made in april fifteen and never retested, when does it expire", "Due April 2027."),
    ],
)  # fmt: skip
def test_a_stamp_tells_when_it_is_due(text: str, verdict: str) -> None:
    made = stamped(read_question(text), NOW)
    assert made is not None
    assert (made[1].verdict or "").removeprefix("In date. ").startswith(verdict)


@pytest.mark.parametrize(
    "text", ["when is the cylinder due", "5-10 pounds in the bottle, when will it run out", "oil change due 3-12"]
)
def test_without_a_stamp_there_is_no_date(text: str) -> None:
    made = stamped(read_question(text), NOW)
    assert made is None
