"""A danger in which somebody is ill is closed by those who can measure or treat alone. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

GAS, CO, FIRE, SHOCK = "I smell gas in the coach", "the CO alarm is going off", "smoke from the rear bunks", "I felt a tingle on the door handle"  # fmt: skip


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("raised", "ill", "explained"),
    [
        (CO, "one guy won't wake up", "it stopped beeping, someone was frying eggs, false alarm"),
        (CO, "my head is pounding", "the alarm has stopped, false alarm"),
        (CO, "we all feel dizzy", "never mind it was just toast, everybody is fine"),
        (FIRE, "a kid passed out", "turned out it was just toast"),
        (GAS, "one boy is sick", "it was the toilet vent not gas"),
        (SHOCK, "his hand is burned", "false alarm"),
    ],
)
def test_it_stays_open(talk: Conversation, raised: str, ill: str, explained: str):
    talk.say(raised)
    topic = talk.state.topic
    talk.say(ill)
    reply = talk.say(explained)

    assert reply.kind == "refuse"
    assert "stays open" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.topic == topic == talk.state.ill_in


def test_who_can_measure_closes_it(talk: Conversation):
    talk.say(CO)
    talk.say("somebody has a headache")
    assert "stays open" in talk.say("the medics are on the way, false alarm").say
    assert "is closed" in talk.say("the fire service measured, it's all clear").say
    assert talk.state.walk is None
    assert talk.state.ill_in == ""


@pytest.mark.parametrize("well", ["nobody has a headache", "everyone feels fine"])
def test_nobody_ill_holds_nothing_open(talk: Conversation, well: str):
    talk.say(CO)
    talk.say(well)
    assert "is closed" in talk.say("false alarm, it was toast").say


def test_who_does_not_wake_is_carried_out_as_long_as_the_driver_is_inside(talk: Conversation):
    """The step says to wake every sleeper, so nobody is left in his bunk for the words "go back in for nobody"."""
    talk.say(CO)
    talk.say("next")
    assert "carry them out with you" in talk.say("one guy won't wake up").say
    talk.say("everyone is out")
    assert "carry them out" not in talk.say("he does not wake up").say


def test_a_fitting_is_no_fit(talk: Conversation):
    talk.say(GAS)
    reply = talk.say("fire dept came and tightened a fitting on the rear locker, they say it's safe now")
    assert "is closed" in reply.say
    talk.say(GAS)
    assert "emergency services" in talk.say("one of them is fitting").say
