"""What only sounds as if it leaned on the reading before, and is none. Sentences are our own."""

from __future__ import annotations

from functools import cache

import pytest

from cabassist.coach import Coach
from cabassist.language import readings
from cabassist.language.reading_terms import Terms
from tests.language.test_readings import vocabulary


@cache
def _terms(names: tuple[str, ...]) -> Terms:
    return vocabulary(names)


def _heard(said: str, coach: Coach, *before: str) -> readings.Heard:
    terms = _terms(tuple(tank.name for tank in coach.tanks))
    previous: tuple[readings.Reading, ...] = ()
    for text in before:
        previous = (*previous, *readings.hear(text, coach, terms, previous).readings)
    assert previous or not before
    return readings.hear(said, coach, terms, previous)


@pytest.mark.parametrize(
    "said",
    [
        "keys handed over", "keys are over there", "over", "it's over", "nearly there", "under the seat", "almost done",
        "below the bunk", "stop all of them", "all of them", "stop both", "close both of them", "cancel all of those",
    ],
)  # fmt: skip
def test_it_puts_no_level_right(coach: Coach, said: str) -> None:
    heard = _heard(said, coach, "inside cylinder is full", "outside cylinder is at ten percent")
    assert not heard.readings
    assert not heard.withdrawn


@pytest.mark.parametrize("said", ["roughly", "a bit over", "that's about right", "just under"])
def test_how_exactly_it_holds_is_still_heard(coach: Coach, said: str) -> None:
    heard = _heard(said, coach, "inside cylinder is full")
    assert [one.approx for one in heard.readings] == [True]


@pytest.mark.parametrize(
    "said", ["same for both", "both", "they're both the same", "both of them", "same on all of them"]
)
def test_of_both_is_still_heard(coach: Coach, said: str) -> None:
    heard = _heard(said, coach, "outside cylinder is at ten percent")
    assert {one.which for one in heard.readings} == {"inside", "outside"}


@pytest.mark.parametrize(
    "said", ["morning, -18 now", "-18 now", "good morning, minus 18 now", "currently minus eighteen"]
)
def test_a_number_below_zero_told_of_now_is_the_cold(coach: Coach, said: str) -> None:
    assert [(one.what, one.value) for one in _heard(said, coach).readings] == [("outside_temp", -18.0)]
