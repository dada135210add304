"""A step that is a procedure by name offers to walk through that one."""

from __future__ import annotations

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


def test_a_step_of_a_round_offers_its_own_steps(mind: Mind):
    talk = Conversation(mind)
    talk.say("park for the night")
    reply = talk.say("repeat")
    while "Connect shore power." not in reply.say:
        reply = talk.say("next")
        if "Tell me the" in reply.say and reply.kind == "control":
            reply = talk.say("can't see it")
    assert "For its own steps say: connect shore power." in reply.say
    opened = talk.say("connect shore power")
    assert (opened.kind, opened.topic) == ("procedure", "connect-shore-power")
    assert "Park the coach for the night waits" in opened.say


def test_other_steps_do_not(mind: Mind):
    talk = Conversation(mind)
    talk.say("connect shore power")
    assert "own steps" not in talk.say("next").say
