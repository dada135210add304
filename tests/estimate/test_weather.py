"""Outside temperatures hour by hour."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import weather

START = datetime(2026, 1, 15, 0, tzinfo=UTC)
DAYS = {date(2026, 1, 15): (255.0, 265.0), date(2026, 1, 16): (250.0, 260.0)}


def test_the_curve_meets_each_low_and_high():
    """Low at seven, high at three in the afternoon; halfway between them the middle."""
    curve = weather.hourly(weather.points_from_daily(DAYS, START), START, 40)

    assert curve[7] == pytest.approx(255)
    assert curve[15] == pytest.approx(265)
    assert curve[11] == pytest.approx(260)
    assert curve[31] == pytest.approx(250)


def test_a_day_that_is_missing_is_named():
    """Nothing is invented for it."""
    points = weather.points_from_daily(DAYS, START)
    with pytest.raises(ValueError, match="Saturday 17 January"):
        weather.hourly(points, START, 80)
    gap = weather.points_from_daily({date(2026, 1, 15): (255, 265), date(2026, 1, 18): (255, 265)}, START)
    with pytest.raises(ValueError, match="Friday 16 January"):
        weather.hourly(gap, START, 72)


def test_a_low_above_its_high_is_refused():
    """They were turned round."""
    with pytest.raises(ValueError, match="Turn them round"):
        weather.points_from_daily({date(2026, 1, 15): (265.0, 255.0)}, START)


def test_a_table_in_either_scale():
    """14 °F and -10 °C are both 263.15 K."""
    fahrenheit = weather.points_from_csv("time,temp_f\n2026-01-15T00:00,14\n2026-01-15T06:00+00:00,5\n", START)
    celsius = weather.points_from_csv("Time, Temp_C\n2026-01-15T00:00:00Z,-10\n", START)

    assert fahrenheit[0] == (START, pytest.approx(263.15))
    assert celsius[0] == (START, pytest.approx(263.15))
    assert weather.hourly(fahrenheit, START, 4, smooth=False)[3] == pytest.approx(263.15 - 2.5)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("hour,degrees\n1,2\n", "columns"),
        ("", "columns"),
        ("time,temp_f\n", "no temperatures"),
        ("time,temp_f\n2026-01-15T00:00,14\nyesterday,3\n", "Line 3"),
        ("time,temp_f\n2026-01-15T00:00,999\n", "Line 2"),
    ],
)
def test_a_table_that_cannot_be_read_names_the_line(text, words):
    """What is wrong, and where."""
    with pytest.raises(ValueError, match=words):
        weather.points_from_csv(text, START)


@given(st.lists(st.tuples(st.floats(220, 270), st.floats(0, 30)), min_size=1, max_size=9))
def test_the_curve_stays_between_the_lows_and_highs(days):
    """Never colder than the coldest low, never warmer than the warmest high."""
    known = {date(2026, 1, 15) + timedelta(days=i): (low, low + more) for i, (low, more) in enumerate(days)}
    curve = weather.hourly(weather.points_from_daily(known, START), START, 24 * len(days))

    assert min(low for low, _ in known.values()) - 1e-9 <= min(curve)
    assert max(curve) <= max(high for _, high in known.values()) + 1e-9
