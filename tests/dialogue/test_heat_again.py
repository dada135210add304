"""How to get the heat back after the cylinders were shut. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    ["i shut the gas bottles, how do i get the heat back", "we closed the cylinders, what do i do to get heat again", "how do i turn the gas back on", "can i open the valves again"],
)  # fmt: skip
def test_first_why_then_how(talk: Conversation, said: str):
    reply = talk.say(said)

    assert reply.show[0].startswith("Was there a smell or a leak?")
    assert any("Open the valve slowly" in line for line in reply.show)
    assert not any("Turn off the heat" in line for line in reply.show)
    assert talk.state.walks == ()


def test_after_a_leak_they_stay_shut(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("the fire service fixed the leak, they say it's safe now")
    reply = talk.say("how do i get the heat back")

    assert "licensed propane technician" in reply.say
    assert not any("Open the valve" in line for line in reply.show)


def test_without_shut_valves_it_is_the_heat_that_is_asked_for(talk: Conversation):
    talk.say("how do i get the heat back")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "keep-cabin-warm"
