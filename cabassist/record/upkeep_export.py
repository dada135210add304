"""Upkeep for other programs: CSV (RFC 4180) and iCalendar (RFC 5545, by the icalendar library)."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from cabassist.coach import Coach
from cabassist.record.upkeep import Due

COLUMNS = (
    "id",
    "name",
    "state",
    "due_on",
    "left_days",
    "left_miles",
    "left_trips",
    "last_done",
    "by",
    "topic",
    "words",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def as_csv(rows: Sequence[Due]) -> str:
    """The rows as CSV with a head line. A text that a spreadsheet would take for a formula gets a quote before it."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for row in rows:
        values = (
            row.id, row.name, row.state, row.due_on.isoformat() if row.due_on else "", row.left_days, row.left_miles,
            row.left_trips, row.last.isoformat() if row.last else "", row.by, row.topic, row.words,
        )  # fmt: skip
        writer.writerow([_tame(value) for value in values])
    return out.getvalue()


def _tame(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value.startswith(_FORMULA) else value


def as_calendar(rows: Sequence[Due], coach: Coach, now: datetime) -> bytes:
    """The rows as a calendar: an all-day event with an alarm where a day is known, a to-do where miles or trips decide.

    Each has the same UID in every export, so that importing again moves it instead of doubling it.
    """
    from icalendar import Alarm, Calendar, Event, Todo

    calendar = Calendar()
    calendar.add("prodid", "-//cabassist//upkeep//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Upkeep of {coach.name}")
    stamp = now.astimezone(UTC).replace(microsecond=0)
    for row in rows:
        item = Event() if row.due_on else Todo()
        item.add("uid", f"{row.id}.{coach.id}@cabassist")
        item.add("dtstamp", stamp)
        item.add("summary", row.name)
        item.add("description", f"{coach.name}: {row.words}. How: cabassist show {row.topic}")
        item.add("categories", ["upkeep", row.state])
        if row.due_on:
            item.add("dtstart", row.due_on)
            item.add("dtend", row.due_on + timedelta(days=1))
            item.add("transp", "TRANSPARENT")
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", row.name)
            alarm.add("trigger", timedelta(hours=-12))
            item.add_component(alarm)
        else:
            item.add("status", "NEEDS-ACTION")
        calendar.add_component(item)
    return bytes(calendar.to_ical())
