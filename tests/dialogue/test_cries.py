"""A danger cried out in one word. Words are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("gas!", "propane-smell"),
        ("gas gas", "propane-smell"),
        ("Propane!!", "propane-smell"),
        ("sewage!", "clean-up-waste-spill"),
        ("shock!", "shock-from-coach-body"),
        ("CO!", "carbon-monoxide-alarm"),
        ("fire!", "smoke-or-fire"),
    ],
)
def test_a_danger_that_is_cried_out_is_there(mind: Mind, said: str, topic: str):
    reply = Conversation(mind).say(said)
    assert (reply.kind, reply.topic) == ("hazard", topic)
    assert at(mind, "load the luggage", 3).say(said).topic == topic


def test_a_word_said_plainly_is_asked_about(mind: Mind):
    reply = Conversation(mind).say("gas")
    assert reply.kind == "clarify"
    assert reply.options[0] == "propane-smell"


@pytest.mark.parametrize("said", ["help!", "emergency", "mayday mayday"])
def test_who_cries_for_help_is_asked_what_it_is(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert "get everyone out" in reply.say
    assert "emergency services" in reply.say


@pytest.mark.parametrize("said", ["help", "propane", "the gas gauge", "what gas is it"])
def test_the_rest_is_no_cry(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind != "hazard"
