"""One word names a page of the record; a lamp on the entry steps is no exit."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("defects", "open defect"),
        ("the faults", "open defect"),
        ("rounds", "pre-trip"),
        ("trip", "trip file"),
        ("kit", "missing"),
        ("duty", "duty status"),
    ],
)
def test_a_page_is_read(mind: Mind, said: str, told: str):
    talk = Conversation(mind)
    talk.say("the left turn signal is dead")
    reply = talk.say(said)
    assert told in reply.say
    assert talk.state.asking is None or talk.state.asking.what != "choice"


@pytest.mark.parametrize(
    "said",
    [
        "cracked step light at the entry door",
        "the stepwell lamp on the front door won't come on",
        "front door step light flickers",
        "log that the bulb over the entry steps is dead",
    ],
)
def test_a_step_lamp_keeps_no_coach_parked(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert "must not move" not in reply.say
    assert "exit" not in reply.say


@pytest.mark.parametrize(
    "said", ["the emergency exit light is dead", "the entry door won't open", "roof hatch is stuck"]
)
def test_an_exit_does(mind: Mind, said: str):
    assert "must not move" in Conversation(mind).say(said).say
