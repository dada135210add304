"""The rim of the dialogue: what is written, and what happens when it cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

import pytest

from cabassist.dialogue.resuming import take_up
from cabassist.dialogue.session import Session, as_contract
from cabassist.dialogue.types import Mind
from cabassist.errors import JournalBusy
from cabassist.journal import Event, EventDraft, Journal
from cabassist.journal.store import IN_MEMORY
from tests.dialogue.conversation import NOON


class StubbornJournal(Journal):
    """A journal that cannot be written while `locked`."""

    locked = False

    def append(self, drafts: Sequence[EventDraft], **about: Any) -> list[Event]:
        if self.locked:
            raise JournalBusy("journal.sqlite: another cabassist is writing to it. Close the other one.")
        return super().append(drafts, **about)


@pytest.fixture
def session(mind: Mind) -> Session:
    return Session(mind, StubbornJournal(IN_MEMORY), actor="Robin")


def test_everything_said_and_answered_is_on_record_with_who_and_when(session: Session):
    """The words as they were said come first, the answer last."""
    session.hear("How do I empty the waste tank?", NOON)
    events = list(session.journal.read())

    assert events[0].kind == "said"
    assert events[0].payload == {"text": "How do I empty the waste tank?"}
    assert events[-1].kind == "answered"
    assert {(event.actor, event.at) for event in events} == {("Robin", NOON)}
    assert [event.id for event in events] == sorted(event.id for event in events)


def test_a_hazard_is_answered_even_when_nothing_can_be_written(session: Session):
    """The reply says what stands in the way; at the next turn nothing is missing."""
    session.journal.locked = True  # type: ignore[attr-defined]
    reply = session.hear("it smells of gas", NOON)
    session.journal.locked = False  # type: ignore[attr-defined]
    session.hear("next", NOON + timedelta(minutes=1))

    assert reply.kind == "hazard"
    assert "Not recorded yet" in reply.show[-1]
    assert [e.payload["text"] for e in session.journal.read(kind="said")] == ["it smells of gas", "next"]


def test_two_terminals_on_one_journal_agree_on_rolling(session: Session, mind: Mind):
    """What one is told the other takes up, either way, and its own words as before."""
    other = Session(mind, session.journal)
    session.hear("we are rolling", NOON)
    assert other.look_around(NOON)
    assert other.state.rolling
    assert not other.look_around(NOON)

    other.hear("we are parked", NOON + timedelta(minutes=5))
    reply = session.hear("how do I connect shore power", NOON + timedelta(minutes=6))
    assert not session.state.rolling
    assert reply.kind == "procedure"
    assert not other.look_around(NOON)


def test_a_terminal_opened_later_does_not_roll_for_what_is_long_over(session: Session, mind: Mind):
    session.hear("we are rolling", NOON)
    later = Session(mind, session.journal)
    assert not later.look_around(NOON + timedelta(days=1))
    assert not later.state.rolling


def test_taking_the_turns_again_brings_a_session_back(session: Session, mind: Mind):
    """A walk stands at the same step with the same timers."""
    for minute, text in enumerate(["how do I connect shore power", "next", "next", "step 11", "fresh is at half"]):
        session.hear(text, NOON + timedelta(minutes=minute))
    again = Session(mind, session.journal)
    take_up(again, NOON + timedelta(minutes=5))

    assert again.state.walks == session.state.walks
    assert again.state.timers == session.state.timers
    assert again.state.stored == session.state.stored
    assert again.state.timers


def test_a_reply_for_programs_has_every_field_of_the_contract(session: Session):
    """Field for field, and nothing else."""
    body = as_contract(session.hear("how do I empty the waste tank", NOON), 1.0)

    assert set(body) == {
        "kind",
        "topic",
        "options",
        "nearest",
        "confidence",
        "step",
        "readings",
        "withdrawn",
        "estimate",
        "say",
        "show",
        "ms",
    }
    assert body["step"] == {"index": 1, "of": body["step"]["of"]}


def test_lone_surrogates_do_not_break_the_record(session: Session):
    """Half a character from a broken terminal is stored as a question mark."""
    session.hear("fill \ud800 the tank", NOON)

    assert next(session.journal.read(kind="said")).payload["text"] == "fill ? the tank"
