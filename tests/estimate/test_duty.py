"""Duty entries: stretches, holes, and the carrier's days."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from cabassist.estimate.duty import DutyEntry, Span, day_of, hours_by_day, hours_of, joined, spans

NOW = datetime(2026, 1, 15, 17, tzinfo=UTC)
DRIVING = frozenset({"driving"})


def at(hour: int, minute: int = 0, day: int = 15) -> datetime:
    return datetime(2026, 1, day, hour, minute, tzinfo=UTC)


def test_entries_become_stretches_without_holes():
    """What nobody wrote down stays visible, and what lies ahead is left out."""
    found = spans(
        [DutyEntry("driving", at(9), at(11)), DutyEntry("on duty", at(6), at(8)), DutyEntry("berth", at(16), at(20))],
        NOW,
    )

    assert [span.status for span in found] == ["on duty", None, "driving", None, "berth"]
    assert found[-1].end == NOW
    assert sum(span.hours for span in found) == pytest.approx(11)


def test_an_open_entry_runs_until_now():
    """'Driving' without an end still goes on."""
    assert spans([DutyEntry("driving", at(15))], NOW) == [Span("driving", at(15), NOW)]


def test_entries_ahead_of_now_are_not_there_yet():
    """A plan is no record."""
    assert spans([DutyEntry("driving", at(18), at(20))], NOW) == []


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ([DutyEntry("driving", at(8), at(7))], "ends before"),
        ([DutyEntry("driving", at(8), at(10)), DutyEntry("on duty", at(9), at(11))], "overlap"),
        ([DutyEntry("driving", at(8)), DutyEntry("on duty", at(9), at(11))], "no end"),
        ([DutyEntry("driving", datetime(2026, 1, 15, 8), at(9))], "time zone"),
        ([DutyEntry("napping", at(8), at(9))], "duty status"),
    ],
)
def test_entries_that_cannot_be_are_refused(entries: list[DutyEntry], said: str):
    """Backwards, overlapping, open in the middle, without a zone, unknown."""
    with pytest.raises(ValueError, match=said):
        spans(entries, NOW)


def test_off_duty_and_berth_join_to_one_rest():
    """Five hours off and three in the berth, one after the other, are eight in a row; work between parts them."""
    rest = frozenset({"off duty", "berth"})
    found = spans(
        [DutyEntry("off duty", at(1), at(6)), DutyEntry("berth", at(6), at(9)), DutyEntry("driving", at(9))], NOW
    )
    parted = spans(
        [DutyEntry("off duty", at(1), at(6)), DutyEntry("on duty", at(6), at(7)), DutyEntry("berth", at(7), at(9))],
        at(9),
    )

    assert [run.hours for run in joined(found, rest)] == [8]
    assert [run.hours for run in joined(parted, rest)] == [5, 2]


def test_hours_since_a_moment():
    """A stretch that began before counts in part."""
    found = spans([DutyEntry("driving", at(8), at(12))], at(12))

    assert hours_of(found, DRIVING, at(10)) == pytest.approx(2)
    assert hours_of(found, DRIVING, at(13)) == 0


def test_days_of_the_home_terminal():
    """22:00 to 02:00 home time are two hours on each day, whatever the date in UTC."""
    home = ZoneInfo("America/Chicago")
    found = spans([DutyEntry("driving", at(4), at(8))], at(8))

    assert hours_by_day(found, DRIVING, home, time(0)) == {
        date(2026, 1, 14): pytest.approx(2),
        date(2026, 1, 15): pytest.approx(2),
    }


def test_a_carrier_day_that_starts_at_noon():
    """11:00 belongs to the day before, 12:00 to its own."""
    assert day_of(at(11), UTC, time(12)) == date(2026, 1, 14)
    assert day_of(at(12), UTC, time(12)) == date(2026, 1, 15)


def test_the_clock_change_adds_no_hours():
    """From midnight to 06:00 on the day clocks go forward are five hours of driving."""
    home = ZoneInfo("America/Chicago")
    start, end = datetime(2026, 3, 8, 0, tzinfo=home), datetime(2026, 3, 8, 6, tzinfo=home)
    found = spans([DutyEntry("driving", start, end)], end)

    assert hours_by_day(found, DRIVING, home, time(0)) == {date(2026, 3, 8): pytest.approx(5)}
