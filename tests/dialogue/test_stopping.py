"""Walks that end before their last step: by a step that says so, all at once, and a danger left early."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize("said", ["yes it's lit", "the light is glowing", "it's on", "yes", "yep, lit"])
def test_a_step_that_ends_the_walk_ends_it(talk: Conversation, said: str):
    talk.say("check the heat tape")
    talk.until_step(4)
    reply = talk.say(said)
    assert talk.state.walk is None
    assert "ends here" in reply.say


@pytest.mark.parametrize("said", ["it's dark", "no", "it's not lit", "no the light is off"])
def test_it_goes_on_when_that_is_not_so(talk: Conversation, said: str):
    talk.say("check the heat tape")
    talk.until_step(4)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == 5


def test_a_plain_next_says_when_to_go_on(talk: Conversation):
    talk.say("check the heat tape")
    talk.until_step(4)
    assert "only if that is not so" in talk.say("next").say


def test_the_look_before_it_tells_as_much(talk: Conversation):
    talk.say("check the heat tape")
    talk.until_step(3)
    talk.say("it's lit")
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    ["stop everything", "cancel all of it", "leave all that", "close the whole lot", "I'm done with all of this"],
)
def test_everything_is_left_at_once(talk: Conversation, said: str):
    for walk in ("how do I fill the fresh tank", "how do I connect shore power", "check the tires"):
        talk.say(walk)
    reply = talk.say(said)
    assert talk.state.walks == ()
    assert "Connect shore power at step 1" in reply.say
    talk.say("undo")
    assert len(talk.state.walks) == 3


def test_a_danger_stays(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("I smell gas")
    reply = talk.say("cancel everything")
    assert [walk.topic for walk in talk.state.walks] == ["propane-smell"]
    assert "Still open" in reply.say


def test_whether_everybody_is_out_is_asked_once(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("I smell gas")
    assert talk.say("stop").say.endswith("Is everybody out?")
    assert "say resume" in talk.say("yes everybody's out").say
    assert talk.say("resume").topic == "fill-fresh-water"


@pytest.mark.parametrize("said", ["no", "not yet", "two are still inside"])
def test_a_no_takes_the_danger_up_again(talk: Conversation, said: str):
    talk.say("the carbon monoxide alarm is going off")
    talk.say("stop")
    assert talk.say(said).kind == "hazard"


def test_next_after_a_danger_takes_nothing_up_silently(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("next")
    talk.say("there is sewage all over the ground")
    while "last step" not in talk.say("next").say:
        pass
    reply = talk.say("next")
    assert "waits at step 2" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2
