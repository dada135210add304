"""How numbers, lengths of time and clock times are written in workings and verdicts.

May import nothing of ours. The clock is always handed in; nothing here reads it.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

TIE = 0.03
"""Two times closer than this share of the longer one are "about the same time"."""


def number(value: float, digits: int = 4) -> str:
    """A number a person can copy into a pocket calculator: 91,502; 22.22; 0.985; 60."""
    if abs(value) >= 1000:
        return f"{value:,.0f}"
    if value and abs(value) < 1e-4:
        return f"{value:.3g}"
    return f"{value:.{digits}g}"


def percent(fraction: float) -> str:
    """A share as whole percent, or with one decimal where whole ones would hide it."""
    shown = 100 * fraction
    return f"{shown:.1f} %" if 0 < shown < 10 and abs(shown - round(shown)) > 0.05 else f"{shown:.0f} %"


def duration(hours: float) -> str:
    """A length of time for the ear: "22 minutes", "9.5 hours", "2.4 days"."""
    if hours < 1.5:
        minutes = round(hours * 60)
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    if hours < 36:
        return f"{number(hours, 3)} hours"
    return f"{number(hours / 24, 2)} days"


def between(low: float | None, high: float | None) -> str:
    """", between 2 and 3 days", or nothing where both ends say the same."""
    if low is None or high is None:
        return ""
    first, last = duration(low), duration(high)
    if first == last:
        return ""
    return f", between {first} and {last}"


def later(now: datetime, hours: float) -> datetime:
    """The moment `hours` after `now`, in the zone of `now` and right across a clock change.

    Raises:
        ValueError: `now` does not say its zone.
    """
    if now.tzinfo is None:
        raise ValueError("The time of day needs its time zone.")
    return (now.astimezone(UTC) + timedelta(hours=hours)).astimezone(now.tzinfo)


def clock(now: datetime, hours: float) -> str:
    """The clock time `hours` from `now`, cut down to the minute: "21:40 tomorrow", "06:15 on Thursday".

    Raises:
        ValueError: `now` does not say its zone.
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


def hours_between(first: datetime, last: datetime, what: str) -> float:
    """Hours from `first` to `last`.

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
