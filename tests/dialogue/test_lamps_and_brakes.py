"""Dead lamps and brakes that will not let go are defects, and "write that down" is of what was told. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.record.defects import open_defects
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("said", "stops"),
    [
        ("left tail light is out", True),
        ("right turn signal quit", True),
        ("one of the clearance lights isn't working", True),
        ("a side marker went dark on the right", True),
        ("wipers quit on the left", True),
        ("reading light over bunk 6 is out", False),
        ("aisle light won't come on", False),
    ],
)
@pytest.mark.parametrize("walk", ["", "prepare to depart"])
def test_a_dead_lamp_is_a_defect(talk: Conversation, said: str, stops: bool, walk: str):
    """In a walk too, which stays where it is."""
    if walk:
        talk.say(walk)
    assert talk.say(said).kind == "defect"
    (defect,) = open_defects(talk.state.record)
    assert defect.stops is stops
    assert (talk.state.walk is not None) is bool(walk)


def test_write_that_down_is_of_what_was_kept(talk: Conversation):
    talk.say("reading light over bunk 6 is out")
    assert talk.say("just write that down").say.startswith("It is on the list: defect 1")
    assert len(open_defects(talk.state.record)) == 1


@pytest.mark.parametrize("said", ["no the brake is stuck", "the parking brake is stuck on", "brakes are frozen"])
def test_a_brake_that_holds_is_no_runaway(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind != "hazard"
    assert any(one.stops for one in open_defects(talk.state.record))


@pytest.mark.parametrize("said", ["the coach is rolling away", "the brakes won't hold and we're rolling"])
def test_a_runaway_is_a_danger(talk: Conversation, said: str):
    assert talk.say(said).kind == "hazard"
