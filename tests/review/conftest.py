"""A small record to review, and a mind to review it with."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import EventDraft, Journal
from cabassist.journal.store import IN_MEMORY


@pytest.fixture
def journal() -> Iterator[Journal]:
    """An empty journal."""
    with Journal(IN_MEMORY) as made:
        yield made


@pytest.fixture
def trainer(tmp_path: Path) -> Path:
    """The trainer's folder of a test; not made yet."""
    return tmp_path / "trainer"


Talk = Callable[..., None]


@pytest.fixture
def talk(journal: Journal, mind: Mind, now: datetime) -> Talk:
    """Has a conversation, one utterance a minute: `talk("one", "how do I dump", "next", actor="Ann")`."""

    def talked(session: str, *texts: str, actor: str = "Ann", day: int = 0) -> None:
        made = Session(mind, journal, actor=actor, name=session)
        for minute, text in enumerate(texts):
            made.hear(text, now + timedelta(days=day, minutes=minute))

    return talked


def wrote(journal: Journal, at: datetime, session: str, *events: tuple[str, dict[str, object]]) -> None:
    """Events as they are, for what the dialogue cannot be made to write."""
    for kind, payload in events:
        journal.append([EventDraft(kind, payload)], at=at, coach="loon", session=session, actor="Ann")
