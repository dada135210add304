"""A smell of sewage, told apart from gas, smoke and spills."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.odour import of_sewage
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    [
        "should black water stink like that",
        "there's a sewer smell coming into the cabin",
        "the loo stinks to high heaven",
        "why does the holding tank smell today",
        "the shower drain has an awful odor",
    ],
)
def test_it_is_the_toilets_trouble_and_the_gas_is_named(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert (reply.kind, reply.topic) == ("procedure", "toilet-trouble")
    assert "tell me you smell gas" in reply.say


@pytest.mark.parametrize(
    "said",
    [
        "rotten eggs smell by the toilet",
        "the bathroom smells of gas",
        "it smells like sewage by the propane cylinders",
        "sewage smell and two kids have a headache",
        "the furnace smells like a sewer",
        "smells like a sewer and the alarm is beeping",
        "the toilet overflowed and stinks",
        "something burning in the bathroom, it stinks",
        "sewage smell, brown puddle on the carpet",
    ],
)
def test_what_may_be_a_danger_is_left_to_the_hazards(said: str):
    assert not of_sewage(said)


def test_in_a_dump_the_walk_stays(mind: Mind):
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say("whoa that sewage smell")
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("dump-waste-tank", 2)


def test_a_danger_in_hand_is_not_talked_away(mind: Mind):
    talk = Conversation(mind)
    talk.say("I smell gas")
    assert talk.say("it smells more of sewage").topic != "toilet-trouble"
