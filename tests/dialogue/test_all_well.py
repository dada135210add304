"""Reports that all is well: acknowledged, and a step done only where they answer it."""

from __future__ import annotations

import pytest

from cabassist.dialogue.all_well import is_well
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


WELL = [
    "generator's off",
    "both furnaces are fine",
    "the cord is in and the lamp's green",
    "exhaust is clear of snow",
    "no drips under the sink and the floor's dry",
    "tires look good all round",
    "hose is straight, no kinks",
    "all the bay doors are latched",
    "belts are tight, nothing loose",
    "the plug looks ok, no scorch marks",
    "wipers are fine, just so you know",
    "cable's unplugged and stowed",
]


@pytest.mark.parametrize("said", WELL)
def test_without_a_walk_nothing_opens(talk: Conversation, said: str):
    """Nothing is asked, so nothing is offered."""
    reply = talk.say(said)

    assert reply.kind == "control"
    assert not reply.options
    assert talk.state.walks == ()


@pytest.mark.parametrize("said", WELL)
def test_in_a_walk_on_something_else_no_step_is_passed(talk: Conversation, said: str):
    """The first step of the briefing is about none of them."""
    talk.say("brief the passengers")
    reply = talk.say(said)

    assert reply.kind in ("control", "step")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "brief-passengers"


@pytest.mark.parametrize(
    "said",
    [
        "the furnace is off",
        "furnace is not working",
        "no water at the tap",
        "no power",
        "red light's on at the plug",
        "the co alarm is off",
        "brakes are off",
        "is the cord ok",
        "the drain is frozen shut",
        "vents are clear but it won't light",
        "the door's open",
        "should be fine",
        "engine's hot",
        "the road is closed",
        "two of them are fine",
    ],
)
def test_what_may_be_trouble_is_not_waved_through(said: str):
    """A fault, a danger, a doubt or a question."""
    assert not is_well(said)


def test_it_answers_the_step_that_asks_for_it(talk: Conversation, mind: Mind):
    """A check is done when the thing that it names is in order, and by nothing else."""
    from cabassist.dialogue.all_well import _answers

    assert _answers(["vents are clear of snow"], "Check the furnace vents outside for snow.")
    assert _answers(["engine's off"], "Stop the engine.")
    assert _answers(["the cord's plugged in"], "Plug the cord into the outlet.")
    assert not _answers(["furnace is fine"], "Check the furnace vents outside for snow.")
    assert not _answers(["engine's off"], "Start the engine.")
    assert not _answers(["engine's off"], "Check the oil with the engine off.")
    assert not _answers(["chocks are set"], "Pull the chocks away.")


def test_an_engine_off_on_the_road_is_trouble(talk: Conversation):
    """Rolling, it is not acknowledged as if all were well."""
    talk.say("we are rolling now")

    assert "Good" not in talk.say("engine's off").say
