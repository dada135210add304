"""Duty status over time: entries, rests, and the hours they add up to. Pure sums; the rules are in `driving_hours.py`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from typing import Literal

Status = Literal["off duty", "berth", "driving", "on duty"]
RESTING: frozenset[Status] = frozenset({"off duty", "berth"})
STATUSES: tuple[Status, ...] = ("off duty", "berth", "driving", "on duty")


@dataclass(frozen=True)
class DutyEntry:
    """One line of a driver's day: from `start` to `end`; an `end` of None still goes on."""

    status: Status
    start: datetime
    end: datetime | None = None


@dataclass(frozen=True)
class Span:
    """A stretch of one status in UTC; status None is time nobody wrote down."""

    status: Status | None
    start: datetime
    end: datetime

    @property
    def hours(self) -> float:
        """Length in hours."""
        return (self.end - self.start).total_seconds() / 3600


def spans(entries: Sequence[DutyEntry], now: datetime) -> list[Span]:
    """The entries as stretches without holes up to `now`; holes get the status None.

    What lies after `now` is left out, an open entry runs to `now`.

    Raises:
        ValueError: a time without zone, an end before its start, entries that overlap, an open entry that is not the
            last, or an unknown status.
    """
    _aware(now)
    found: list[Span] = []
    ordered = sorted(entries, key=lambda entry: _aware(entry.start))
    for number, entry in enumerate(ordered):
        if entry.status not in STATUSES:
            raise ValueError(f"I don't know the duty status '{entry.status}'. Say off duty, berth, driving or on duty.")
        if entry.end is None and number < len(ordered) - 1:
            raise ValueError(
                f"'{entry.status}' from {entry.start:%d %b %H:%M} has no end, but more follows. Say when it ended."
            )
        start, end = _aware(entry.start), now.astimezone(UTC) if entry.end is None else _aware(entry.end)
        if entry.end is not None and end <= start:
            raise ValueError(
                f"'{entry.status}' from {entry.start:%d %b %H:%M} ends before it starts. Say its times again."
            )
        end = min(end, now.astimezone(UTC))
        if start >= end:
            continue
        if found and start < found[-1].end:
            raise ValueError(f"Two entries overlap at {entry.start:%d %b %H:%M}. Say which one is right.")
        if found and start > found[-1].end:
            found.append(Span(None, found[-1].end, start))
        found.append(Span(entry.status, start, end))
    if found and found[-1].end < now.astimezone(UTC):
        found.append(Span(None, found[-1].end, now.astimezone(UTC)))
    return found


def joined(found: Sequence[Span], statuses: frozenset[Status]) -> list[Span]:
    """Stretches in which the status stayed within `statuses`, neighbors joined; each carries its first status."""
    runs: list[Span] = []
    for span in found:
        if span.status not in statuses:
            continue
        if runs and runs[-1].end == span.start:
            runs[-1] = Span(runs[-1].status, runs[-1].start, span.end)
        else:
            runs.append(span)
    return runs


def hours_of(found: Sequence[Span], statuses: frozenset[Status | None], since: datetime) -> float:
    """Hours spent in `statuses` after `since`."""
    cut = since.astimezone(UTC)
    return sum(
        max(0.0, (span.end - max(span.start, cut)).total_seconds()) / 3600
        for span in found
        if span.status in statuses and span.end > cut
    )


def day_of(moment: datetime, home: tzinfo, day_starts: time) -> date:
    """The carrier's 24-hour day a moment belongs to, at the home terminal."""
    local = moment.astimezone(home)
    return local.date() if local.time() >= day_starts else local.date() - timedelta(days=1)


def hours_by_day(
    found: Sequence[Span], statuses: frozenset[Status | None], home: tzinfo, day_starts: time
) -> dict[date, float]:
    """Hours in `statuses` on each of the carrier's days."""
    total: dict[date, float] = {}
    for span in found:
        if span.status not in statuses:
            continue
        edges = [span.start, *_day_edges(span, home, day_starts), span.end]
        for first, last in pairwise(edges):
            day = day_of(first, home, day_starts)
            total[day] = total.get(day, 0.0) + (last - first).total_seconds() / 3600
    return total


def _day_edges(span: Span, home: tzinfo, day_starts: time) -> list[datetime]:
    """Starts of the carrier's days strictly inside a span, in UTC."""
    day = day_of(span.start, home, day_starts)
    edges: list[datetime] = []
    while True:
        day += timedelta(days=1)
        edge = datetime.combine(day, day_starts, tzinfo=home).astimezone(UTC)
        if edge >= span.end:
            return edges
        if edge > span.start:
            edges.append(edge)


def _aware(moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError("A duty time needs its time zone.")
    return moment.astimezone(UTC)
