"""What a new conversation knows of earlier ones."""

from __future__ import annotations

from datetime import timedelta

from cabassist.dialogue.recall import recalled, stored_from
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import EventDraft, Journal
from cabassist.journal.store import IN_MEMORY

from .conversation import NOON


def session(mind: Mind) -> Session:
    return Session(mind, Journal(IN_MEMORY))


def test_readings_come_back_as_they_stood(mind: Mind):
    """Value, range of vague words, and the time at which each was told."""
    talk = session(mind)
    talk.hear("waste at about forty percent", NOON)
    talk.hear("fresh at half", NOON + timedelta(hours=1))
    known = recalled(talk.journal, mind.coach.id, NOON + timedelta(hours=2))

    assert [(held.reading.what, held.reading.value, held.at) for held in known] == [
        ("waste", 40.0, NOON),
        ("fresh", 0.5, NOON + timedelta(hours=1)),
    ]
    assert known[0].reading.low == talk.state.stored[0].reading.low
    assert known[0].reading.low is not None


def test_what_was_taken_back_does_not_come_back(mind: Mind):
    """A correction, and an undo."""
    talk = session(mind)
    talk.hear("waste at forty percent", NOON)
    talk.hear("no, make that fifty", NOON + timedelta(minutes=1))
    talk.hear("fresh at half", NOON + timedelta(minutes=2))
    talk.hear("undo", NOON + timedelta(minutes=3))
    known = recalled(talk.journal, mind.coach.id, NOON + timedelta(hours=1))

    assert [(held.reading.what, held.reading.value) for held in known] == [("waste", 50.0)]


def test_a_reading_that_undo_brought_back_keeps_its_age(mind: Mind):
    """Told at noon, corrected at one, undone at two: it is still from noon."""
    talk = session(mind)
    talk.hear("waste at forty percent", NOON)
    talk.hear("no, make that fifty", NOON + timedelta(hours=1))
    talk.hear("undo", NOON + timedelta(hours=2))
    known = recalled(talk.journal, mind.coach.id, NOON + timedelta(hours=3))

    assert [(held.reading.value, held.at) for held in known] == [(40.0, NOON)]


def test_a_correction_leaves_the_same_reading_of_yesterday_alone(mind: Mind):
    """Only the newest of two alike is meant."""
    talk = session(mind)
    talk.hear("waste at forty percent", NOON - timedelta(days=1))
    talk.hear("just dumped, waste is empty", NOON - timedelta(hours=20))
    talk.hear("waste at forty percent", NOON)
    talk.hear("no, make that fifty", NOON + timedelta(minutes=1))

    assert talk.state.stored[0].reading.value == 40.0
    assert len(talk.state.stored) == 3
    assert len(recalled(talk.journal, mind.coach.id, NOON + timedelta(hours=1))) == 3


def test_old_readings_other_coaches_and_the_future_do_not_count(mind: Mind):
    """Fourteen days, this coach, up to now."""
    talk = session(mind)
    talk.hear("waste at forty percent", NOON)

    assert recalled(talk.journal, mind.coach.id, NOON + timedelta(days=15)) == ()
    assert recalled(talk.journal, "another-coach", NOON) == ()
    assert recalled(talk.journal, mind.coach.id, NOON - timedelta(minutes=1)) == ()


def test_events_of_an_unknown_shape_are_passed_over():
    """A record of a later version does not stop a conversation."""
    odd = [
        {},
        {"what": 7},
        {"what": "waste", "value": "much"},
        {"what": "waste", "value": 1, "unit": "gal", "at": "noon"},
    ]
    with Journal(IN_MEMORY) as journal:
        journal.append([EventDraft("reading", body) for body in odd], at=NOON, coach="c", session="s", actor="a")
        found = stored_from(journal.read(), coach="c", since=NOON, until=NOON)

    assert [(held.reading.value, held.at) for held in found] == [(1.0, NOON)]
