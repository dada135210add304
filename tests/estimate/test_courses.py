"""What uses a supply, stretch by stretch."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.courses import (
    House,
    Stretch,
    at,
    cold_course,
    even_course,
    people_course,
    road_course,
    squares,
    total,
    upto,
    written,
)
from cabassist.estimate.furnaces import PERSON_W
from cabassist.estimate.quantities import FAHRENHEIT

NOON = datetime(2026, 1, 15, 12, tzinfo=UTC)
HOUSE = House(292.0, 290.0, 150.0, 15_000.0)


def hours(number: float) -> timedelta:
    return timedelta(hours=number)


def test_a_whole_day_of_people_weighs_24_hours():
    """The clock's weights have mean 1: 10 people for a day are 240 person-hours."""
    assert total(people_course(NOON, NOON + hours(24), ((NOON, 10.0),))) == pytest.approx(240)


def test_people_who_get_off_stop_using_water():
    """20 aboard until 13:30, then 2, both hours of weight 1.0127: 1.0127 x (20 x 1.5 + 2 x 0.5) = 31.39."""
    course = people_course(NOON, NOON + hours(2), ((NOON, 20.0), (NOON + hours(1.5), 2.0)))

    assert total(course) == pytest.approx(31.39, abs=0.01)
    assert written(course) == "20 x 1.013 x 1.5 h + 2 x 1.013 x 0.5 h"


def test_the_cold_of_a_night_by_hand():
    """From 20:00 to 08:00 at 252 K, 5 people: 3 h at 292 K, 9 h at 290 K, less 5 x 70 ÷ 150 K all the time."""
    start = NOON + hours(8)
    course = cold_course(start, start + hours(12), ((NOON, 252.0),), ((NOON, 5.0),), HOUSE, FAHRENHEIT)

    assert total(course) == pytest.approx(3 * 40 + 9 * 38 - 12 * 5 * PERSON_W / 150)
    assert squares(course) == pytest.approx(3 * (40 - 7 / 3) ** 2 + 9 * (38 - 7 / 3) ** 2)


def test_furnaces_heat_no_more_than_they_can_and_never_cool():
    """15 kW over 150 W/K are 100 K at most; in warm air nothing is used."""
    deep = cold_course(NOON, NOON + hours(1), ((NOON, 150.0),), ((NOON, 0.0),), HOUSE, FAHRENHEIT)
    warm = cold_course(NOON, NOON + hours(1), ((NOON, 300.0),), ((NOON, 0.0),), HOUSE, FAHRENHEIT)

    assert (total(deep), written(deep)) == (pytest.approx(100), "180 x 1 h")
    assert (total(warm), written(warm)) == (0, "0 x 1 h")


def test_road_between_two_odometers_is_spread_evenly():
    """120 miles in 4 hours: a stretch of one hour holds 30; before and after nothing is known."""
    odometer = ((NOON, 1000.0), (NOON + hours(4), 1120.0))

    assert total(road_course(NOON + hours(1), NOON + hours(2), odometer, 1.0)) == pytest.approx(30)
    assert road_course(NOON + hours(5), NOON + hours(6), odometer, 1.0) == ()
    assert written(()) == "0"


def test_the_first_hours_of_a_course():
    """Cut in the middle of a stretch."""
    course = (Stretch(2, 3.0, "3"), Stretch(2, 5.0, "5"))

    assert total(upto(course, 3)) == 11
    assert upto(course, 0) == ()
    assert total(upto(course, 99)) == 16


def test_nothing_known_is_said():
    """A value that nobody gave is not made up."""
    with pytest.raises(ValueError, match="Tell a reading first"):
        at((), NOON)
    assert at(((NOON, 7.0),), NOON - hours(3)) == 7.0
    assert even_course(0) == ()


@given(st.floats(0.1, 60), st.floats(0.1, 60), st.integers(0, 40))
def test_a_course_is_the_sum_of_its_parts(first: float, second: float, aboard: int):
    """Cutting it anywhere changes nothing."""
    middle, end = NOON + hours(first), NOON + hours(first + second)
    known = ((NOON, float(aboard)),)
    for course in (
        lambda a, b: people_course(a, b, known),
        lambda a, b: cold_course(a, b, ((NOON, 255.0),), known, HOUSE, FAHRENHEIT),
    ):
        assert total(course(NOON, middle)) + total(course(middle, end)) == pytest.approx(
            total(course(NOON, end)), abs=1e-6
        )
