"""Upkeep by days, miles and trips, and its export."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta

import pytest
from icalendar import Calendar

from cabassist.coach import Coach
from cabassist.record.entries import Record
from cabassist.record.upkeep import day_in, done, done_in, due_list, ends_trip, needed, trip_ended
from cabassist.record.upkeep_export import as_calendar, as_csv
from tests.record.conftest import NOON, later


@pytest.mark.parametrize(
    ("text", "item"),
    [
        ("greased the latches today", "lubricate-latches"),
        ("I've oiled the locks and springs", "lubricate-latches"),
        ("latches and locks oiled", "lubricate-latches"),
        ("tested the CO alarm and it works", "test-co-alarm"),
        ("heat tape is tested", "test-heat-tape"),
        ("disinfected the water tank three days ago", "disinfect-fresh-tank"),
        ("Dave cleaned the generator screens", "clean-generator-screen"),
    ],
)
def test_work_is_heard_as_done(text: str, item: str, coach: Coach):
    found = done_in(text, coach)

    assert found is not None
    assert found.id == item


@pytest.mark.parametrize(
    "text",
    [
        "how do I grease the latches",
        "have we greased the latches",
        "need to grease the latches",
        "we have not greased the latches",
        "tested the CO alarm?",
        "checked the tires, one is flat",
        "checked the heat tape, no light",
        "the latches need oil",
        "grease the latches tomorrow",
        "tank is disinfected but it stinks",
    ],
)
def test_questions_plans_denials_and_trouble_are_no_work_done(text: str, coach: Coach):
    """Trouble found on the way must reach the procedures, and must not be ticked off."""
    assert done_in(text, coach) is None


@pytest.mark.parametrize(
    ("words", "days"), [("today", 0), ("yesterday", 1), ("three days ago", 3), ("two weeks ago", 14), ("on monday", 3), ("last thursday", 7)]
)  # fmt: skip
def test_when_it_was_done(words: str, days: int):
    """15 January 2026 is a Thursday."""
    assert day_in(f"greased the latches {words}", NOON) == NOON - timedelta(days=days)


def row(item: str, coach: Coach, record: Record, hours: float, odometer: float | None = None):
    return next((r for r in due_list(coach, record, later(hours), odometer) if r.id == item), None)


def test_days_count_from_the_last_time(coach: Coach):
    """Every 30 days: soon at 27, due at 30, overdue at 31."""
    record = Record((done("lubricate-latches", NOON, NOON, "Ann", miles=None, said=""),))
    states = [row("lubricate-latches", coach, record, 24 * day).state for day in (0, 26, 27, 30, 31)]  # type: ignore[union-attr]

    assert states == ["not due", "not due", "soon", "due", "overdue"]


def test_whichever_limit_comes_first_counts(coach: Coach):
    """The generator's screens: 14 days or 3,000 miles."""
    record = Record((done("clean-generator-screen", NOON, NOON, "Ann", miles=10_000, said=""),))

    assert row("clean-generator-screen", coach, record, 24, 10_500).state == "not due"  # type: ignore[union-attr]
    assert row("clean-generator-screen", coach, record, 24, 12_800).state == "soon"  # type: ignore[union-attr]
    assert row("clean-generator-screen", coach, record, 24, 13_001).state == "overdue"  # type: ignore[union-attr]
    assert row("clean-generator-screen", coach, record, 24 * 15, 10_500).state == "overdue"  # type: ignore[union-attr]


def test_miles_without_an_odometer_are_asked_for(coach: Coach):
    record = Record((done("clean-generator-screen", NOON, NOON, "Ann", miles=None, said=""),))

    assert "say the odometer" in row("clean-generator-screen", coach, record, 24).words  # type: ignore[union-attr]


def test_a_trip_makes_work_by_trips_due(coach: Coach):
    record = Record((done("stow-kit", NOON, NOON, "Ann", miles=None, said=""),))
    assert row("stow-kit", coach, record, 1).state == "not due"  # type: ignore[union-attr]

    record = record.with_entries(trip_ended(later(2), "Ann", "trip is over"))
    assert row("stow-kit", coach, record, 3).state == "due"  # type: ignore[union-attr]


def test_wheel_nuts_are_due_once_after_a_wheel_was_off(coach: Coach):
    """Nothing is due before, 50 miles after it is, and once it is done nothing again."""
    assert row("recheck-wheel-nuts", coach, Record(), 0) is None
    record = Record((needed("recheck-wheel-nuts", NOON, "Ann", miles=1000, said=""),))
    assert row("recheck-wheel-nuts", coach, record, 1, 1020).state == "not due"  # type: ignore[union-attr]
    assert row("recheck-wheel-nuts", coach, record, 1, 1051).state == "overdue"  # type: ignore[union-attr]

    record = record.with_entries(done("recheck-wheel-nuts", later(2), later(2), "Ann", miles=1052, said=""))
    assert row("recheck-wheel-nuts", coach, record, 3, 1100) is None


def test_wheel_nuts_without_an_odometer_are_due(coach: Coach):
    """Nobody can say that fifty miles are not over."""
    record = Record((needed("recheck-wheel-nuts", NOON, "Ann", miles=None, said=""),))

    assert row("recheck-wheel-nuts", coach, record, 1).state == "due"  # type: ignore[union-attr]


def test_what_nobody_recorded_counts_as_due(coach: Coach):
    assert row("test-co-alarm", coach, Record(), 0).state == "no record"  # type: ignore[union-attr]


def test_cylinders_are_due_by_their_stamps(coach: Coach):
    """49 CFR 180.209(e), 85 FR 68790: 12 years after manufacture; the inside one was made in September 2018."""
    found = row("cylinder-2-inside", coach, Record(), 0)

    assert found is not None
    assert found.due_on == date(2030, 9, 1)


def test_the_end_of_a_trip():
    assert ends_trip("the trip is over")
    assert not ends_trip("when is the trip over")


def test_the_calendar_is_sound_and_stable(coach: Coach):
    """Parsed again by the library; days are all-day events, the rest to-dos; the same UID at every export (RFC 5545)."""
    record = Record((done("lubricate-latches", NOON, NOON, "Ann", miles=None, said=""),))
    first, second = (
        Calendar.from_ical(as_calendar(due_list(coach, record, later(h)), coach, later(h))) for h in (0, 48)
    )
    events = {str(e["uid"]): e for e in first.walk("VEVENT")}
    latches = events[f"lubricate-latches.{coach.id}@cabassist"]

    assert latches["dtstart"].dt == date(2026, 2, 14)
    assert len(first.walk("VTODO")) == 8
    assert {str(e["uid"]) for e in second.walk("VEVENT")} == set(events)


def test_csv_reads_back_and_holds_no_formula(coach: Coach):
    """A name that begins like a formula stays text in a spreadsheet (OWASP, CSV injection)."""
    record = Record((done("lubricate-latches", NOON, NOON, "=cmd()", miles=None, said=""),))
    rows = list(csv.DictReader(io.StringIO(as_csv(due_list(coach, record, NOON)))))
    latches = next(r for r in rows if r["id"] == "lubricate-latches")

    assert latches["due_on"] == "2026-02-14"
    assert latches["by"] == "'=cmd()"
