"""A reading that was told just before the step that asks for it, or later in the walk, counts for that step."""

from __future__ import annotations

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


def to_battery_step(talk: Conversation) -> str:
    """On in keeping the cabin warm until the house battery is asked for; what is said there."""
    reply = talk.say("keep the cabin warm tonight")
    while "house battery" not in reply.say.lower() or reply.kind != "step":
        reply = talk.say("next", minutes=0.2)
        if "Tell me the" in reply.say and reply.kind == "control":
            reply = talk.say("can't see it", minutes=0.2)
    return reply.say


def test_what_was_told_a_minute_ago_is_kept_by_next(mind: Mind):
    talk = Conversation(mind)
    talk.say("house battery twelve point six")
    assert "You told me: House battery 12.6" in to_battery_step(talk)
    before = talk.state.walks[-1].at
    talk.say("next")
    assert talk.state.walks[-1].at == before + 1
    assert not [skip for skip in talk.state.walks[-1].skipped if skip.reason == "no reading given"]


def test_what_was_told_an_hour_ago_is_asked_again(mind: Mind):
    talk = Conversation(mind)
    talk.say("house battery twelve point six")
    talk.wait(60)
    assert "You told me" not in to_battery_step(talk)
    assert "Tell me the house battery first" in talk.say("next").say


def test_what_is_told_later_in_the_walk_is_no_longer_skipped(mind: Mind):
    talk = Conversation(mind)
    to_battery_step(talk)
    talk.say("next")
    talk.say("next")
    assert [skip.reason for skip in talk.state.walks[-1].skipped][-1] == "no reading given"
    talk.say("house battery is at twelve point six")
    assert "no reading given" not in [skip.reason for skip in talk.state.walks[-1].skipped]
