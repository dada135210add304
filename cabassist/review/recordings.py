"""Recorded conversations, played into a journal so that they can be reviewed like any other session."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.errors import JournalError
from cabassist.journal import Journal


def play(journal: Journal, name: str, turns: Iterable[Mapping[str, Any]], mind: Mind) -> int:
    """Have one recorded conversation again, by its own clock, as session `name`; how many turns it had.

    Each turn has `text`, `now` (ISO 8601) and perhaps `actor`.

    Raises:
        JournalError: there is such a session already, or a turn could not be written.
    """
    if next(iter(journal.read(session=name)), None) is not None:
        raise JournalError(f"{journal.path}: holds a session '{name}' already. Rename the file, or leave it out.")
    session = Session(mind, journal, name=name)
    count = 0
    for turn in turns:
        session.hear(turn["text"], datetime.fromisoformat(turn["now"]), turn.get("actor"))
        count += 1
    return count
