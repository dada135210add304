"""What was noted, and how: levels, grades of defects, timers beside one another, a side matter that is seen to."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("did you catch the inside temperature", "Inside 61"),
        ("have you got the battery noted", "House battery 12.5"),
        ("what did the battery say last time i looked", "House battery 12.5"),
        ("so did you write down the inside temp or not", "Inside 61"),
    ],
)
def test_whether_a_level_was_noted(talk: Conversation, said: str, told: str):
    """It is read back."""
    talk.say("inside temp is sixty one")
    talk.say("house battery twelve and a half volts")
    reply = talk.say(said)

    assert reply.kind == "control"
    assert reply.say.startswith(told)


def test_what_was_just_read_back_is_taken_back(talk: Conversation):
    """ "That one" is the level read back, not the one told last."""
    talk.say("house battery 12.5 volts")
    talk.say("waste at a third")
    talk.say("what did the battery read earlier")
    reply = talk.say("scratch that one, the lights were all on")

    assert [one.what for one in reply.withdrawn] == ["house_battery"]


@pytest.mark.parametrize(
    "said", ["how bad did you log that as", "what grade did you give the marker light", "how serious is that"]
)
def test_how_bad_a_defect_was_put_down_as(talk: Conversation, said: str):
    """With whether the coach may move."""
    talk.say("log a defect, the right rear marker light is out")
    reply = talk.say(said)

    assert reply.kind == "defect"
    assert "must not move" in reply.say


def test_a_second_timer_in_the_unit_of_the_first(talk: Conversation):
    """Named by what it is for."""
    talk.say("set a timer for twenty minutes")
    reply = talk.say("and another for five, got soup on")

    assert "five minutes" in reply.say
    assert len(talk.state.timers) == 2
    assert "soup" in talk.say("drop the soup one").say
    assert len(talk.state.timers) == 1


def test_a_timer_that_has_rung_is_not_looked_for(talk: Conversation):
    """Between the list and the wish it ran out."""
    talk.say("set a timer for twenty minutes")
    talk.say("and another for two, got soup on")
    talk.say("what's running")

    assert "run out" in talk.say("cancel the soup one", minutes=3).say
    assert len(talk.state.timers) == 1


def test_how_to_do_what_a_reminder_is_for(talk: Conversation):
    """ "It" is what the reminder names."""
    talk.say("remind me at eleven to check the tires")

    assert talk.say("and how do i check them again").topic == "check-tires"


@pytest.mark.parametrize(
    "said", ["got it thanks, where was i", "found it, cheers. where were we", "thanks, got it. back to where i was"]
)
def test_a_side_matter_seen_to(talk: Conversation, said: str):
    """Right after it opened it is left for the walk under it."""
    talk.say("how do I dump the waste tank")
    talk.say("how do I stow the waste hose")
    reply = talk.say(said)

    assert reply.topic == "dump-waste-tank"
    assert [walk.topic for walk in talk.state.walks] == ["dump-waste-tank"]


def test_a_step_is_skipped_only_if_it_is_the_one_named(talk: Conversation):
    """Otherwise the step in hand is said once more."""
    talk.say("park for the night")
    same = talk.say("i already did the parking brake so skip this if it's that")
    talk.say("next")
    moved = talk.say("i already did the parking brake so skip this if it's that")

    assert same.step is not None
    assert same.step.index == 1
    assert moved.step is not None
    assert moved.step.index == 3


def test_nobody_touching_the_coach_is_a_report(talk: Conversation):
    """No wish is refused, and no step beyond is passed over."""
    talk.say("the door handle gives me a tingle when I touch it")
    reply = talk.say("right, unplugged, no one's touching her")

    assert reply.kind == "step"
    assert reply.topic == "shock-from-coach-body"
