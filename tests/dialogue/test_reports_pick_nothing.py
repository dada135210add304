"""A question which of several is meant, left unanswered in a walk, and the reports that follow. Sentences are our own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cabassist.dialogue.choosing import reports
from cabassist.dialogue.types import Asking, Mind
from tests.dialogue.conversation import Conversation

OFFERED = ("bay-lights", "adjust-a-latch", "load-luggage")


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    talk = Conversation(mind)
    talk.say("dump the waste tank")
    talk.until_step(3)
    talk.state = replace(talk.state, asking=Asking("choice", OFFERED), question="it's on my head")
    return talk


@pytest.mark.parametrize(
    "said", ["chocks are in bay 5", "the shovel is in bay 2", "i'm holding the latch up", "the bay light is hung up high"]
)  # fmt: skip
def test_a_report_picks_nothing(talk: Conversation, said: str):
    """Though it shares a word with what was offered."""
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "dump-waste-tank"


@pytest.mark.parametrize("said", ["the lights one", "the bay lights please", "i mean the bay lights", "i want the one about the lights", "number one"])  # fmt: skip
def test_a_name_still_picks(talk: Conversation, said: str):
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "bay-lights"


@pytest.mark.parametrize("said", ["how do i close the bay latch", "it's the bay lights one", "is the light on?", "bay lights"])  # fmt: skip
def test_requests_and_names_are_no_reports(said: str):
    assert not reports(said)
