"""A carbon monoxide alarm that is told dead sends nobody out, and lets nobody sleep aboard."""

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
        "how many folks can sleep aboard with the CO alarm dead",
        "our carbon monoxide alarm doesn't work, can they sleep in here",
        "the CO detector won't light up",
    ],
)
def test_nobody_sleeps_with_a_dead_alarm(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "refuse"
    assert "Nobody sleeps aboard" in reply.say


@pytest.mark.parametrize(
    "said",
    [
        "the co alarm is going off and the battery's dead too",
        "carbon monoxide alarm dead and two of us have a headache",
        "CO alarm is dead now but it was screaming all night",
    ],
)
def test_an_alarm_that_sounded_or_somebody_ill_is_a_danger(talk: Conversation, said: str):
    assert talk.say(said).topic == "carbon-monoxide-alarm"
    assert talk.say("repeat").kind != "refuse"


def test_the_engine_is_not_idled_for_sleepers(talk: Conversation):
    assert talk.say("can I leave the diesel idling all night to keep the boys warm").kind == "refuse"
    assert talk.say("is it all right to idle the engine all night with folks asleep").kind == "refuse"


def test_firemen_who_clear_it_close_the_danger(talk: Conversation):
    talk.say("I smell gas")
    for _ in range(9):
        talk.say("next")
    assert "closed" in talk.say("firemen say it's clear, go back in").say


def test_after_a_leak_nobody_is_led_back_to_the_valves(talk: Conversation):
    talk.say("change over the cylinders")
    talk.say("I smell gas")
    for _ in range(9):
        talk.say("next")
    reply = talk.say("the fire chief says the air is safe")
    assert "until a technician has tested" in reply.say
    assert "Back to step" not in reply.say
