"""The waste tank: hours, deadlines, which comes first, overfull."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import waste
from cabassist.units import registry

Q = registry().Quantity
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


def also(estimate, name):
    """A further figure of an estimate by its name."""
    return next(figure for figure in estimate.also if figure.name == name)


def test_hours_until_90_percent_and_full():
    """80 gal at 40 %, 24 people, 1.6 gal a day: 40 ÷ 38.4 x 24 = 25 h; full after 48 ÷ 38.4 x 24 = 30 h."""
    until = waste.hours_until(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"))

    assert until.value == pytest.approx(25)
    assert also(until, "full").value == pytest.approx(30)


@pytest.mark.parametrize(("level", "hours"), [(0.89, 0.5), (0.9, 0), (0.95, 0)])
def test_both_sides_of_the_limit(level, hours):
    """0.8 gal of room at 38.4 gal a day is half an hour; at the limit it is time."""
    until = waste.hours_until(level, Q(80, "gal"), 24, Q(1.6, "gal/day"))

    assert until.value == pytest.approx(hours, abs=1e-6)
    assert ("Dump it" in until.verdict) is (hours == 0)


def test_nobody_aboard_gives_no_time():
    """No division by zero."""
    assert waste.hours_until(0.4, Q(80, "gal"), 0, Q(1.6, "gal/day")).value is None


def test_deadline_by_the_clock():
    """25 h to 90 % less one in hand: 24 h, 21:40 tomorrow."""
    due = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW)

    assert due.value == pytest.approx(24)
    assert due.verdict == "Dump before 21:40 tomorrow."


def test_deadline_is_told_in_the_local_time_of_now():
    """A clock change in the night shifts the wall clock, not the hours (US clocks went back on 1 Nov 2026)."""
    evening = datetime(2026, 10, 31, 21, 40, tzinfo=ZoneInfo("America/Chicago"))
    due = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), evening)

    assert due.verdict == "Dump before 20:40 tomorrow."


def test_an_empty_coach_does_not_fill_the_tank():
    """Eight hours at the rink put the deadline off by eight hours; a stay after the deadline by none."""
    away = [(NOW + timedelta(hours=10), NOW + timedelta(hours=18))]
    due = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, away=away)
    after = [(NOW + timedelta(hours=30), NOW + timedelta(hours=38))]

    assert due.value == pytest.approx(32)
    assert waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, away=after).value == pytest.approx(24)


def test_the_last_stop_in_time_is_named():
    """Of stops after 9, 23 and 30 hours the second is the last before 24."""
    stops = [waste.DumpStop(name, NOW + timedelta(hours=h)) for name, h in (("A", 9), ("B", 23), ("C", 30))]
    due = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, stops=stops)
    late = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, stops=stops[2:])

    assert "last stop in time is B, at 20:40 tomorrow" in due.verdict
    assert "No planned stop is early enough" in late.verdict


def test_a_doubtful_level_brings_the_deadline_forward():
    """The early end counts: five points of a gauge are 2.5 h here."""
    sure = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW)
    doubtful = waste.dump_deadline(0.4, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, level_error=0.05)

    assert sure.value - doubtful.value == pytest.approx(2.5)
    assert waste.dump_deadline(0.88, Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW).verdict == "Dump now."


@pytest.mark.parametrize(
    ("fresh_gal", "level", "words"),
    # 20 people: fresh lasts gal ÷ 40 x 24 h; waste (1 - level) x 80 ÷ 32 x 24 h.
    [(40, 0.6, "Both at about the same time"), (40, 0.2, "Fresh empty first"), (40, 0.8, "Waste full first")],
)
def test_which_comes_first(fresh_gal, level, words):
    """24 h of fresh against 24, 48 and 12 h of room."""
    first = waste.comes_first(Q(fresh_gal, "gal"), level, Q(80, "gal"), 20, Q(2, "gal/day"), Q(1.6, "gal/day"))

    assert words in first.verdict
    assert first.value == min(also(first, "fresh empty").value, also(first, "waste full").value)


def test_the_team_comes_back_from_the_rink():
    """60 gal at 40, 24 people, 1.28 gal a flush, two each: +61.4, too full (references, waste test case 3)."""
    check = waste.overfull_check(Q(40, "gal"), Q(60, "gal"), 24, Q(1.28, "gal"), 2)

    assert also(check, "added").value == pytest.approx(61.4, abs=0.05)
    assert check.value == pytest.approx(101.4, abs=0.05)
    assert check.verdict.startswith("Warning")


@pytest.mark.parametrize(("uses", "warned"), [(0.65, False), (0.66, True)])
def test_both_sides_of_overfull(uses, warned):
    """20 gal of room take 0.651 flushes of 24 people."""
    check = waste.overfull_check(Q(40, "gal"), Q(60, "gal"), 24, Q(1.28, "gal"), uses)

    assert check.verdict.startswith("Warning") is warned


def test_impossible_levels_are_refused():
    """More than full, or a level in percent."""
    with pytest.raises(ValueError, match="can't hold"):
        waste.overfull_check(Q(70, "gal"), Q(60, "gal"), 24, Q(1.28, "gal"), 1)
    with pytest.raises(ValueError, match="waste level"):
        waste.hours_until(40, Q(80, "gal"), 24, Q(1.6, "gal/day"))


def test_inflow_from_habits():
    """Five flushes of a quarter gallon and half a gallon at the basin: 1.75 gal a day."""
    habits = waste.inflow_per_person(5, Q(0.25, "gal"), basin=Q(0.5, "gal"))

    assert habits.value == pytest.approx(1.75)
    assert habits.low < habits.value < habits.high


@given(
    st.floats(0, 1), st.integers(1, 60), st.integers(1, 20), st.floats(0.05, 10), st.floats(0, 0.2), st.floats(0, 0.8)
)
def test_more_people_never_later(level, aboard, more, each, off, wide):
    """And the range always holds the value."""
    one = waste.hours_until(level, Q(80, "gal"), aboard, Q(each, "gal/day"), level_error=off, use_spread=wide)
    two = waste.hours_until(level, Q(80, "gal"), aboard + more, Q(each, "gal/day"))

    assert two.value <= one.value
    assert one.low <= one.value <= one.high


@given(st.floats(0.01, 40), st.lists(st.tuples(st.floats(0, 60), st.floats(0.1, 10)), max_size=4))
def test_time_away_never_brings_the_deadline_forward(hours_in, gaps):
    """Overlapping stays count once: never later than all of them together."""
    level = 0.9 - hours_in * 0.02
    away = [(NOW + timedelta(hours=begin), NOW + timedelta(hours=begin + length)) for begin, length in gaps]
    base = waste.dump_deadline(max(level, 0), Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, margin=Q(0, "h"))
    put_off = waste.dump_deadline(max(level, 0), Q(80, "gal"), 24, Q(1.6, "gal/day"), NOW, away=away, margin=Q(0, "h"))

    assert base.value - 1e-6 <= put_off.value <= base.value + sum(length for _, length in gaps) + 1e-6
