"""What the journal remembers of readings, for a conversation that begins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Any

from cabassist.dialogue.telling import same
from cabassist.dialogue.types import Stored
from cabassist.journal import Journal
from cabassist.journal.events import Event
from cabassist.language.reading_types import Reading

REMEMBERED = timedelta(days=14)
"""How long readings of earlier conversations count."""


def recalled(journal: Journal, coach: str, now: datetime, before: str | None = None) -> tuple[Stored, ...]:
    """The readings of a coach that stand on record and still count at a moment, oldest first.

    `before` is the id of an event: only what was recorded earlier counts.
    """
    events = [
        event
        for kind in ("reading", "withdrawn")
        for event in journal.read(kind=kind)
        if before is None or event.id < before
    ]
    events.sort(key=lambda event: event.id)
    return stored_from(events, coach=coach, since=now - REMEMBERED, until=now)


def stored_from(events: Iterable[Event], *, coach: str, since: datetime, until: datetime) -> tuple[Stored, ...]:
    """The readings of a coach that stand, from the journal's events, oldest first.

    Args:
        events: in the order in which they were added; kinds other than reading and withdrawn are passed over.
        coach: whose.
        since, until: both ends included.
    """
    standing: list[Stored] = []
    for event in events:
        if event.coach != coach or event.kind not in ("reading", "withdrawn"):
            continue
        reading = _reading_from(event.payload)
        if reading is None:
            continue
        if event.kind == "withdrawn":
            last = next((held for held in reversed(standing) if same(held.reading, reading)), None)
            if last is not None:
                standing.remove(last)
        elif since <= (at := _told_at(event)) <= until:
            standing.append(Stored(reading, at))
    return tuple(standing)


def _told_at(event: Event) -> datetime:
    """When a reading was told; one that an undo brought back keeps its time."""
    at = event.payload.get("at")
    try:
        return datetime.fromisoformat(at) if isinstance(at, str) else event.at
    except ValueError:
        return event.at


def _reading_from(payload: Mapping[str, Any]) -> Reading | None:
    """A reading from its event; None when the event is not of the shape we know."""
    what, value = payload.get("what"), payload.get("value")
    if not isinstance(what, str) or not (value is None or isinstance(value, (int, float))):
        return None
    return Reading(
        what,
        payload.get("which"),
        None if value is None else float(value),
        payload.get("unit"),
        approx=bool(payload.get("approx")),
        low=_number(payload.get("low")),
        high=_number(payload.get("high")),
        flag=payload.get("flag"),
        counted_from=payload.get("from"),
        said=str(payload.get("said", "")),
    )


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None
