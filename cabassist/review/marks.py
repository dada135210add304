"""What a trainer has said about turns: right, wrong, what was meant, what was really said. Marks are events of the record.

A mark names its turn by the first half of the answer's id: the other half is what protects an erased session.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from cabassist.errors import JournalError
from cabassist.journal import Event, EventDraft, Journal
from cabassist.journal.store import RECORD

MARKED = "marked"


@dataclass(frozen=True)
class Mark:
    """A trainer's word on one turn; the newest counts."""

    session: str
    turn: str
    right: bool | None
    topic: str | None = None
    """What should have been answered, when that is known."""
    said: str = ""
    """What was really said, where it was misheard."""
    by: str = ""


def note(journal: Journal, drafts: list[EventDraft], *, at: datetime, coach: str, by: str) -> list[Event]:
    """Put something about the record itself on record."""
    return journal.append(drafts, at=at, coach=coach, session=RECORD, actor=by)


def mark(journal: Journal, made: Mark, *, at: datetime, coach: str) -> Event:
    """Put a mark on record. Raises JournalError when there is no such turn."""
    found = journal.select(
        "SELECT 1 FROM events WHERE session = ? AND kind = 'answered' AND substr(id, 1, 16) = ?",
        (made.session, made.turn),
    )
    if next(found, None) is None:
        raise JournalError(f"Session {made.session} has no turn {made.turn}. See `cabassist review show`.")
    payload = {
        "session": made.session,
        "turn": made.turn,
        "right": made.right,
        "topic": made.topic,
        "said": made.said,
    }
    return note(journal, [EventDraft(MARKED, payload)], at=at, coach=coach, by=made.by)[0]


def marks(journal: Journal) -> dict[tuple[str, str], Mark]:
    """The newest mark of each turn, by session and turn."""
    return {(made.session, made.turn): made for made in _all(journal)}


def _all(journal: Journal) -> Iterator[Mark]:
    for event in journal.read(session=RECORD, kind=MARKED):
        p: dict[str, Any] = event.payload
        yield Mark(p["session"], p["turn"], p.get("right"), p.get("topic"), p.get("said", ""), event.actor)
