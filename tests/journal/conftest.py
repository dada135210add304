"""Journals for these tests, and short ways to write into them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from cabassist.journal import Event, EventDraft, Journal
from cabassist.journal.events import canonical, chained


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the journal of a test lies."""
    return tmp_path / "journal.sqlite"


@pytest.fixture
def journal(path: Path) -> Iterator[Journal]:
    """An empty journal in a file."""
    with Journal(path) as made:
        yield made


def added(
    journal: Journal, at: datetime, *payloads: dict[str, Any], session: str = "one", kind: str = "said"
) -> list[Event]:
    """Events with these payloads, appended together."""
    drafts = [EventDraft(kind, payload) for payload in payloads]
    return journal.append(drafts, at=at, coach="loon", session=session, actor="Ann")


def broken_links(events: list[Event]) -> list[str]:
    """Ids of events whose digest does not follow from the event before."""
    previous, wrong = "", []
    for e in events:
        parts = (e.id, e.at.isoformat(), e.coach, e.session, e.actor, e.kind, canonical(e.payload), str(e.format))
        if chained(previous, *parts) != e.digest:
            wrong.append(e.id)
        previous = e.digest
    return wrong
