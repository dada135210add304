"""A defect named by its number long after it was logged: an answer to what it asks, and never a new defect."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.record.defects import open_defects
from tests.dialogue.conversation import Conversation


def logged(mind: Mind, what: str) -> Conversation:
    """A conversation in which a defect was logged, and something else came between."""
    talk = Conversation(mind)
    talk.say(f"log this: {what}")
    talk.say("thanks")
    return talk


@pytest.mark.parametrize(
    "said",
    ["defect 1, I see along the whole side in it", "about defect one I can still see the whole side in that mirror"],
)
def test_what_it_asks_is_answered(said: str, mind: Mind):
    talk = logged(mind, "left mirror is cracked")
    reply = talk.say(said)
    assert "defect 1 need not stop the coach" in reply.say
    assert [defect.number for defect in open_defects(talk.state.record)] == [1]


def test_what_is_no_answer_is_asked_again_and_then_taken(mind: Mind):
    """The question stays open for a yes."""
    talk = logged(mind, "left mirror is cracked")
    reply = talk.say("defect 1 is only scratched on the rim")
    assert reply.say.endswith("Do you still see along the whole side in that mirror?")
    assert "need not stop the coach" in talk.say("yes").say


def test_a_defect_without_a_question_is_told_and_nothing_is_logged(mind: Mind):
    talk = logged(mind, "a dead reading lamp in bunk four")
    talk.say("3")
    reply = talk.say("defect 1 was there yesterday already")
    assert reply.say.startswith("Defect 1: a dead reading lamp in bunk four.")
    assert len(open_defects(talk.state.record)) == 1


def test_yes_with_a_reason_is_a_yes(mind: Mind):
    talk = Conversation(mind)
    talk.say("log this: left mirror is cracked")
    assert "need not stop the coach" in talk.say("yeah, only a corner of the glass is gone").say


def test_yes_with_a_doubt_is_asked_again(mind: Mind):
    talk = Conversation(mind)
    talk.say("log this: left mirror is cracked")
    assert talk.say("yeah, but the lower half is blind").kind == "clarify"


@pytest.mark.parametrize(
    "said", ["brake is set, heard it hiss", "brakes set and I heard the air go", "parking brake's on, it hissed"]
)
def test_air_that_leaves_as_the_brake_is_set_is_no_defect(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("park the coach for the night")
    talk.say("next")
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == 3
    assert not open_defects(talk.state.record)


def test_air_that_goes_on_leaving_is(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("log that the brake keeps hissing after it is set")
    assert reply.kind == "defect"
