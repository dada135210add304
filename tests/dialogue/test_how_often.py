"""How often work is due, the ways out when the door is jammed, and wishes known by their words. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("how often do the latches have to be oiled", "every 30 days"),
        ("how often should I test the heat tape", "every 14 days or each trip"),
    ],
)
def test_the_interval_comes_from_the_profile(mind: Mind, said: str, told: str):
    reply = Conversation(mind).say(said)
    assert told in reply.say
    assert reply.kind == "control"


def test_what_has_no_interval_is_no_upkeep(mind: Mind):
    assert Conversation(mind).say("how often must a driver take a break").topic == "plan-driving-hours"


@pytest.mark.parametrize(
    "said",
    ["if the front door is stuck, how do we get out", "how do I open the roof hatch when the coach is on its side"],
)
def test_the_ways_out_are_told(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert "roof hatch" in reply.say
    assert "I do not have how" in reply.say


def test_a_jammed_bay_is_no_way_out(mind: Mind):
    assert "Ways out" not in Conversation(mind).say("the bay door is jammed, how do I get it open").say


@pytest.mark.parametrize(
    ("said", "no"),
    [
        ("can I let the dump valve drip a little as we go down the highway", "waste valve stays shut"),
        ("is it ok to drive with the roof vent open a bit", "every roof hatch"),
        ("can we put the tires twenty over the sidewall maximum", "placard's pressure"),
        ("let me top up the propane bottle in my hotel room", "certified filler"),
    ],
)
def test_these_wishes_are_refused_with_their_own_reason(mind: Mind, said: str, no: str):
    reply = Conversation(mind).say(said)
    assert reply.kind == "refuse"
    assert no in reply.say


def test_a_spill_that_is_there_is_no_wish(mind: Mind):
    reply = Conversation(mind).say("waste is dripping out on the highway, can I keep driving")
    assert (reply.kind, reply.topic) == ("hazard", "clean-up-waste-spill")


def test_an_empty_cylinder_feeds_nothing(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("outside cylinder is half and the inside one is empty, minus 9 out")
    assert "cylinder feeds" not in " ".join(reply.show)
