"""The entries of the record: what was said about the coach and its crew, by whom and when.

An entry is one event of the journal. Nothing is overwritten: a repair, a correction or a withdrawal is a further entry.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from typing import Any

from cabassist.journal.events import Event, EventDraft, canonical

DEFECT, NOTE, STAGE, UPKEEP, DUTY, KIT, TRIP = (
    "defect", "defect-note", "defect-stage", "upkeep", "duty", "kit", "trip",
)  # fmt: skip
KINDS = (DEFECT, NOTE, STAGE, UPKEEP, DUTY, KIT, TRIP)
"""Kinds of events that are entries of the record."""
TAKEN_BACK = "taken-back"
"""Kind of the event that takes entries back; its payload holds their `keys`."""


@dataclass(frozen=True)
class Entry:
    """One entry. `about` is the event's payload."""

    key: str
    kind: str
    at: datetime
    by: str
    about: Mapping[str, Any] = field(hash=False)

    def text(self, name: str) -> str:
        """A text of the payload, empty when it is not there or no text."""
        found = self.about.get(name)
        return found if isinstance(found, str) else ""

    def number(self, name: str) -> float | None:
        """A number of the payload, or None."""
        found = self.about.get(name)
        return float(found) if isinstance(found, (int, float)) and not isinstance(found, bool) else None

    def names(self, name: str) -> tuple[str, ...]:
        """A list of texts of the payload; what is no text is left out."""
        found = self.about.get(name)
        return tuple(item for item in found if isinstance(item, str)) if isinstance(found, list) else ()

    def draft(self) -> EventDraft:
        """The event that puts this entry into the journal."""
        return EventDraft(self.kind, {**self.about, "key": self.key})


@dataclass(frozen=True)
class Record:
    """The entries that stand, oldest first."""

    entries: tuple[Entry, ...] = ()

    def of(self, kind: str) -> list[Entry]:
        """The entries of one kind."""
        return [entry for entry in self.entries if entry.kind == kind]

    @cached_property
    def keys(self) -> frozenset[str]:
        """The keys of all entries."""
        return frozenset(entry.key for entry in self.entries)

    def with_entries(self, *added: Entry) -> Record:
        """The record with further entries; one that is there already is not added again."""
        new = tuple(entry for entry in added if entry.key not in self.keys)
        return Record((*self.entries, *new)) if new else self

    def without(self, keys: Iterable[str]) -> Record:
        """The record without some entries."""
        gone = frozenset(keys)
        return Record(tuple(entry for entry in self.entries if entry.key not in gone))


def made(kind: str, at: datetime, by: str, about: Mapping[str, Any]) -> Entry:
    """A new entry. Its key follows from its content and time, so that replaying a conversation adds nothing twice."""
    content = f"{kind}\0{at.isoformat()}\0{canonical(dict(about))}"
    return Entry(hashlib.blake2b(content.encode(), digest_size=8).hexdigest(), kind, at, by, about)


def recorded(events: Iterable[Event], coach: str) -> Record:
    """The record of a coach from the journal's events, in the order in which they were added.

    Events of other kinds are passed over. Duty status belongs to the driver and is taken from every coach.
    """
    found: dict[str, Entry] = {}
    for event in events:
        if event.coach != coach and event.kind != DUTY:
            continue
        if event.kind in KINDS:
            key = event.payload.get("key")
            key = key if isinstance(key, str) and key else event.id
            found.setdefault(key, Entry(key, event.kind, event.at, event.actor, event.payload))
        elif event.kind == TAKEN_BACK:
            keys = event.payload.get("keys")
            for key in keys if isinstance(keys, list) else ():
                found.pop(key, None) if isinstance(key, str) else None
    return Record(tuple(found.values()))


def withdrawal(keys: Iterable[str]) -> EventDraft:
    """The event that takes entries back."""
    return EventDraft(TAKEN_BACK, {"keys": sorted(keys)})
