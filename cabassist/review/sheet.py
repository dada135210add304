"""A driver's sheet: what somebody was walked through, when and how well; quizzes taken; what a trainer signed off.

Figures are given as they are. Nothing is turned into a grade: whether a driver is fit for a job is the trainer's word.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from cabassist.errors import JournalError
from cabassist.journal import Event, EventDraft, Journal
from cabassist.journal.store import RECORD
from cabassist.review.conversation import Conversation
from cabassist.review.marks import note

SIGNED_OFF, QUIZZED = "signed-off", "quizzed"


@dataclass
class Experience:
    """What one driver has done of one procedure."""

    topic: str
    times: int = 0
    done: int = 0
    """Walks that reached the last step."""
    skipped: int = 0
    cautions: int = 0
    cautions_passed: int = 0
    minutes: float = 0.0
    first: datetime | None = None
    last: datetime | None = None
    furthest: tuple[int, int] = (0, 0)
    """The furthest step of the walk that came furthest, and how many there are."""
    quizzes: list[tuple[datetime, int, int]] = field(default_factory=list)
    """When, how many right, of how many."""
    signed: tuple[datetime, str] | None = None
    """When and by whom."""


@dataclass
class Sheet:
    """One driver."""

    driver: str
    topics: dict[str, Experience] = field(default_factory=dict)

    def of(self, topic: str) -> Experience:
        """The row of a topic, made when there is none."""
        return self.topics.setdefault(topic, Experience(topic))


def sheets(told: Iterable[Conversation], record: Iterable[Event]) -> dict[str, Sheet]:
    """A sheet for everyone who spoke, was quizzed or was signed off, by name. `record` are events about the record."""
    made: dict[str, Sheet] = {}
    for one in told:
        for walk in one.walks:
            row = made.setdefault(walk.by, Sheet(walk.by)).of(walk.topic)
            row.times += 1
            row.done += walk.done
            row.skipped += len(walk.skips)
            row.cautions += walk.cautions
            row.cautions_passed += walk.cautions_passed
            row.minutes += sum(walk.seconds.values()) / 60
            row.first = min(row.first or walk.opened, walk.opened)
            row.last = max(row.last or walk.opened, walk.opened)
            row.furthest = max(row.furthest, (walk.reached, walk.of))
    for event in record:
        if event.kind in (SIGNED_OFF, QUIZZED):
            p = event.payload
            row = made.setdefault(p["driver"], Sheet(p["driver"])).of(p["topic"])
            if event.kind == QUIZZED:
                row.quizzes.append((event.at, p["right"], p["of"]))
            else:
                row.signed = (event.at, event.actor)
    return made


def record_events(journal: Journal) -> Iterable[Event]:
    """Quizzes and sign-offs in a journal."""
    for kind in (QUIZZED, SIGNED_OFF):
        yield from journal.read(session=RECORD, kind=kind)


def sign_off(journal: Journal, driver: str, topic: str, remark: str, *, by: str, at: datetime, coach: str) -> Event:
    """Put on record that a trainer has seen a driver do it. Raises JournalError when both are the same person."""
    if by.strip().lower() == driver.strip().lower():
        raise JournalError("Nobody signs off their own work. Give the trainer's name with --by.")
    return note(
        journal,
        [EventDraft(SIGNED_OFF, {"driver": driver, "topic": topic, "remark": remark})],
        at=at,
        coach=coach,
        by=by,
    )[0]
