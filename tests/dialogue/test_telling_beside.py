"""Readings told beside a question, and readings taken back by a sentence that does only that."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "stored"),
    [
        ("Waste seventy five percent. How long until it is full?", [("waste", 75)]),
        ("Waste at sixty percent. When do I have to dump?", [("waste", 60)]),
        ("Fresh one quarter with 28 passengers. Enough until noon?", [("fresh", 0.25), ("passengers", 28)]),
    ],
)
def test_a_level_told_with_a_question_is_stored_and_the_question_answered(
    said: str, stored: list[tuple[str, float]], mind: Mind
) -> None:
    """The record holds what was told, once, and the reply still answers."""
    talk = Conversation(mind)
    reply = talk.say(said)

    assert sorted((r.what, r.value) for r in reply.readings) == sorted(stored)
    assert talk.kinds().count("reading") == len(stored)
    assert sorted((s.reading.what, s.reading.value) for s in talk.state.stored) == sorted(stored)
    assert "hours" in reply.say


def test_a_reading_is_taken_back_once(mind: Mind) -> None:
    """ "Strike that last entry" leaves nothing standing; said again it withdraws nothing more."""
    talk = Conversation(mind)
    talk.say("Diesel at ninety percent.")
    first = talk.say("Strike that last entry.")
    again = talk.say("Strike that last entry.")

    assert [(r.what, r.value) for r in first.withdrawn] == [("diesel", 90)]
    assert talk.state.stored == ()
    assert again.withdrawn == ()
    assert talk.kinds().count("withdrawn") == 1


def test_taking_back_is_no_defect(mind: Mind) -> None:
    """A word of the record is not logged as a fault of the coach."""
    talk = Conversation(mind)
    talk.say("Fresh half.")
    talk.say("Void that entry please.")

    assert "defect" not in talk.kinds()


@pytest.mark.parametrize(
    "said",
    [
        "the waste tank is empty now and it smells of gas back here",
        "waste tank is at zero percent, how many gallons does the fresh tank hold?",
    ],
)
def test_a_level_told_beside_something_else_moves_no_walk_in_the_record(said: str, mind: Mind) -> None:
    """What the record says of the walk is what the walk does: it stays at its step, whatever the level finishes."""
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    before = talk.state.walks[0]
    heard = len(talk.events)
    reply = talk.say(said)
    moves = [e.payload for e in talk.events[heard:] if e.kind == "walk" and e.payload.get("topic") == before.topic]

    assert [r.what for r in reply.readings] == ["waste"]
    assert talk.state.walks[0] == before
    assert [move for move in moves if move.get("move") in ("next", "end")] == []
