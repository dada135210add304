"""Lengths of time and clock times in verdicts. The clock is always handed in; nothing here reads it.

May import `quantities` only.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from cabassist.estimate.quantities import duration

TIE = 0.03
"""Two times closer than this share of the longer one are "about the same time"."""


def between(low: float | None, high: float | None) -> str:
    """The words ", between 2 days and 3 days", or nothing where there is no range to tell."""
    if low is None or high is None:
        return ""
    first, last = duration(max(low, 0.0)), duration(max(high, 0.0))
    return "" if first == last else f", between {first} and {last}"


def later(now: datetime, hours: float) -> datetime:
    """The moment `hours` after `now`, in the zone of `now` and right across a clock change.

    Raises:
        ValueError: `now` does not say its zone, or the moment is past all calendars.
    """
    if now.tzinfo is None:
        raise ValueError("The time of day needs its time zone.")
    try:
        return (now.astimezone(UTC) + timedelta(hours=hours)).astimezone(now.tzinfo)
    except OverflowError:
        raise ValueError("That is too far off to give a time of day.") from None


def clock(now: datetime, hours: float) -> str:
    """The clock time `hours` from `now`, cut down to the minute: "21:40 tomorrow", "06:15 on Thursday".

    Raises:
        ValueError: as `later`.
    """
    then = later(now, hours)
    days = (then.date() - now.date()).days
    if days == 0:
        return f"{then:%H:%M} today"
    if days == 1:
        return f"{then:%H:%M} tomorrow"
    if 2 <= days <= 6:
        return f"{then:%H:%M} on {then:%A}"
    return f"{then:%H:%M} on {then:%A} {then.day} {then:%B}"


def day_clock(start: datetime, hours: float) -> str:
    """The clock time `hours` from `start` with its weekday: "06:15 on Thursday", a date behind it after six days.

    For plans that are read on another day than the one they start from.

    Raises:
        ValueError: as `later`.
    """
    then = later(start, hours)
    date = "" if (then.date() - start.date()).days <= 6 else f" {then.day} {then:%B}"
    return f"{then:%H:%M} on {then:%A}{date}"


def time_of_day(hour: float) -> str:
    """A time of day from hours after midnight, of this day or another: "06:15"."""
    minutes = round(hour * 60) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def hours_between(first: datetime, last: datetime, what: str) -> float:
    """Hours from `first` to `last`, more than zero.

    Raises:
        ValueError: a time has no zone, or they are not in order.
    """
    if first.tzinfo is None or last.tzinfo is None:
        raise ValueError(f"The times of the {what} need their time zone.")
    hours = (last - first).total_seconds() / 3600
    if hours <= 0:
        raise ValueError(f"The second of the {what} must be later than the first.")
    return hours


def about_same(first: float, second: float) -> bool:
    """Whether two times are too close to tell which comes first."""
    return abs(first - second) <= TIE * max(first, second)
