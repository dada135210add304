"""Who sleeps aboard, told at any time: it decides what heat and water will do. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("6 of us sleep here", 6),
        ("two guys are staying on the bus tonight", 2),
        ("just me sleeping aboard", 1),
        ("nobody's sleeping on the coach", 0),
        ("only the two of us are sleeping in the bunks", 2),
    ],
)
def test_sleepers_are_counted(said: str, count: int, mind: Mind):
    talk = Conversation(mind)
    assert talk.say(said).kind == "reading"
    assert [(one.reading.what, one.reading.value) for one in talk.state.stored] == [("passengers", count)]


@pytest.mark.parametrize("said", ["two kids staying on the bus by themselves", "can 6 of us sleep here"])
def test_neither_children_alone_nor_a_question(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say(said)
    assert talk.state.stored == ()
