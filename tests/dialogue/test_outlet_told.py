"""An outlet that is burned, wet or broken is not used. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "the outlet has a brown mark is that ok",
        "socket's a bit black around one hole",
        "the receptacle looks melted",
        "outlet looks discolored but it works",
        "outlet is wet, ok to plug in?",
        "the outlet is loose in the wall",
    ],
)
def test_it_is_refused_and_is_no_spill(talk: Conversation, said: str):
    reply = talk.say(said)

    assert reply.kind == "refuse"
    assert reply.show[0].startswith("WARNING: No. Do not use this")
    assert not reply.options
    assert talk.state.walks == ()


@pytest.mark.parametrize("said", ["there's a little brown on one slot but it looks dry, good enough right", "the cover is cracked", "there's ice in it"])  # fmt: skip
def test_in_the_walk_the_step_stays_for_the_next_outlet(talk: Conversation, said: str):
    talk.say("connect shore power")
    talk.say("next")
    reply = talk.say(said)

    assert reply.kind == "refuse"
    assert any(line.startswith("Instead: Ask the building's staff") for line in reply.show)
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("connect-shore-power", 2)


def test_no_marks_are_the_step_done(talk: Conversation):
    talk.say("connect shore power")
    talk.say("next")
    talk.say("it's dry and whole, no brown marks")
    assert talk.state.walk is not None
    assert talk.state.walk.number == 3


@pytest.mark.parametrize("said", ["the outlet has no brown marks", "the outlet isn't burned"])
def test_no_marks_open_nothing(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "control"
    assert not reply.options


def test_with_the_plug_in_the_breaker_comes_first(talk: Conversation):
    talk.say("we are plugged in")
    reply = talk.say("the outlet looks a bit brown, is that ok")
    assert any("breaker switched off before you pull it" in line for line in reply.show)


@pytest.mark.parametrize(
    "said",
    [
        "the outlet is smoking",
        "the outlet is brown and we are plugged in",
        "the shore cord plug is black and starting to burn",
        "the outlet is melted and still live",
        "there is a brown puddle under the coach",
    ],
)
def test_what_is_a_danger_now_stays_one(talk: Conversation, said: str):
    assert talk.say(said).kind == "hazard"


def test_a_fault_to_be_kept_is_kept(talk: Conversation):
    assert talk.say("the outlet is burned, log it").kind == "defect"


def test_sewage_told_at_the_outlet_is_a_danger(talk: Conversation):
    talk.say("plugged in but no power inside")
    talk.say("next")
    assert talk.say("brown water is pouring out from under the coach").topic == "clean-up-waste-spill"
