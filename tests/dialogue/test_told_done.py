"""Work told done with no walk in hand opens no procedure for it. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


def test_work_told_done_is_acknowledged_and_its_procedure_offered(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("handed the coach over to the new driver, told her everything")
    assert reply.show == ("Good, that is done.", "Say yes to open: Hand the coach over to the next driver.")
    assert talk.state.walk is None
    assert talk.say("yes").topic == "hand-over-coach"


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("take me through handing over the coach", "hand-over-coach"),
        ("we're at the dump station, what's the first thing", "dump-waste-tank"),
        ("the waste valve is frozen", "frozen-waste-valve"),
        ("water pump keeps running", "pump-keeps-running"),
        ("hours left, two drivers", "plan-driving-hours"),
    ],
)
def test_what_asks_or_tells_trouble_opens_its_procedure(mind: Mind, said: str, topic: str):
    assert Conversation(mind).say(said).topic == topic
