"""After a tingle no step says to push the plug in until an electrician has cleared it. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

TINGLE = "i felt a tingle when i touched the door handle"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    ["nah it was static, touched it again with nothing", "tried it again and felt nothing", "grabbed the rail, no tingle any more", "nothing when i touch it now"],
)  # fmt: skip
def test_a_hand_is_no_test(talk: Conversation, said: str):
    talk.say(TINGLE)
    reply = talk.say(said)

    assert reply.say.startswith("Do not touch it again.")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "shock-from-coach-body"


@pytest.mark.parametrize("closes", ["false alarm, just static", "no shock, it was only static"])
def test_closed_as_none_it_leaves_what_would_plug_in(talk: Conversation, closes: str):
    talk.say("park the coach for the night")
    talk.say("connect shore power")
    talk.say("go to step 10")
    talk.say(TINGLE)
    reply = talk.say(closes)

    assert "Connect shore power: stopped" in reply.say
    assert [walk.topic for walk in talk.state.walks] == ["park-for-the-night"]
    assert "Push the plug" not in reply.say


def test_asked_for_anew_it_is_said_until_an_electrician_cleared_it(talk: Conversation):
    talk.say(TINGLE)
    talk.say("false alarm")
    assert talk.say("connect shore power").show[0].startswith("DANGER: A tingle was told at")
    assert talk.say("next").show[0].startswith("DANGER: A tingle was told at")
    talk.say("the electrician is coming tomorrow")
    assert talk.state.tingled is not None
    talk.say("the electrician checked it, it's fine")
    assert talk.state.tingled is None
    assert not talk.say("next").show[0].startswith("DANGER: A tingle was told")


def test_another_shock_is_a_danger_still(talk: Conversation):
    talk.say(TINGLE)
    reply = talk.say("he touched it again and got zapped")
    assert "no proof of static" not in reply.say
    assert talk.state.walk is not None
