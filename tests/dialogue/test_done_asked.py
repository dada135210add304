"""Questions whether something was done, in a walk. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def at(talk: Conversation) -> int:
    assert talk.state.walk is not None
    return talk.state.walk.number


@pytest.mark.parametrize(
    "said", ["am i done", "are we done here", "am I finished with this one?", "is that it", "so am i done yet", "is the job done"]
)  # fmt: skip
def test_asking_for_the_end_ticks_no_step(talk: Conversation, said: str):
    talk.say("dump the waste tank")
    talk.until_step(3)
    reply = talk.say(said)
    assert reply.say.startswith("Still at step 3 of ")
    assert at(talk) == 3


@pytest.mark.parametrize(
    "said",
    [
        "wait did i close the valve",
        "did I shut the tap?",
        "hang on, have i put the cap on",
        "not sure, did we already open the door",
        "didn't i put the gloves on",
        "did the other driver close the tap",
        "has the hose been rinsed yet",
        "have the caps been put back",
    ],
)
def test_a_deed_in_doubt_ticks_no_step(talk: Conversation, said: str):
    talk.say("dump the waste tank")
    talk.until_step(3)
    reply = talk.say(said)
    assert "Look before you go on. Still at step 3 of " in reply.say
    assert at(talk) == 3


@pytest.mark.parametrize("said", ["i'm done", "all done", "done", "that's it"])
def test_what_is_told_as_done_is_done(talk: Conversation, said: str):
    talk.say("dump the waste tank")
    talk.until_step(3)
    talk.say(said)
    assert at(talk) == 4


def test_what_was_told_stands_on_record(talk: Conversation):
    talk.say("waste is two thirds")
    talk.say("dump the waste tank")
    assert "Waste two thirds" in talk.say("did i tell you the waste level").say
