"""Questions for a property of a thing: from the profile, or not known, and the walk stays."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("walk", "said", "told"),
    [
        ("how do I dump the waste tank", "how many feet long is that hose", "20 feet"),
        ("how do I fill the fresh tank", "what's the length of the hose", "50 feet"),
        ("how do I fill the fresh tank", "how much does it hold", "120 gallons"),
        ("connect shore power", "how far does the cord reach", "50 feet"),
        ("connect shore power", "what gauge is the cable", "10 gauge"),
        ("how do I dump the waste tank", "which tank do I do first", "one waste tank"),
        ("how do I dump the waste tank", "how heavy is the cap", "I do not have that"),
        ("connect shore power", "what brand is the plug", "step"),
    ],
)
def test_the_walk_stays(mind: Mind, walk: str, said: str, told: str):
    """The figures are those of the demo coach."""
    talk = Conversation(mind)
    topic = talk.say(walk).topic
    talk.say("next")
    reply = talk.say(said)
    assert told in reply.say.lower() or told in reply.say
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == (topic, 2)
    assert reply.step is not None


@pytest.mark.parametrize(
    "said", ["how long is the waste hose", "how big is the diesel tank", "how much does a bottle hold"]
)
def test_without_a_walk_the_profile_is_read(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert reply.kind == "control"
    assert any(figure in reply.say for figure in ("20 feet", "200 gallons", "40 pounds"))


def test_what_waits_is_said(mind: Mind):
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    assert "Dump the waste tank waits at step 2." in talk.say("how do I connect shore power").say
    assert "Connect shore power waits at step 1." in talk.say("how do I dump the waste tank").say
    hazard = talk.say("I smell gas")
    assert "waits" not in hazard.say
    assert "Dump the waste tank waits at step 2." in hazard.show
