"""Defects taken back with the reason, or by their number. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.record.defects import all_defects, open_defects
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "undo that, it's only a leaf",
        "scratch that, that's just grease",
        "nah, take that back, it holds",
        "drop that one, I was looking at the wrong door",
        "never mind, it's just mud",
        "forget it, the hinge is fine",
        "strike it from the list",
    ],
)
def test_the_one_just_logged_is_taken_back(talk: Conversation, said: str):
    """The walk in hand stays where it is."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("log a defect, the bay 2 hinge is bent")
    reply = talk.say(said)
    assert reply.say.startswith("Undone: that defect.")
    assert not all_defects(talk.state.record)
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2


def test_by_its_number(talk: Conversation):
    talk.say("log a defect, the bay 2 hinge is bent")
    talk.say("log a defect, the reading lamp at bunk 4 is dead")
    talk.say("undo defect 2")
    assert [defect.number for defect in open_defects(talk.state.record)] == [1]


@pytest.mark.parametrize("said", ["undo defect 3", "cancel defect number three", "take back defect 3"])
def test_a_number_that_nobody_has_logs_nothing(talk: Conversation, said: str):
    assert "no defect 3" in talk.say(said).say
    assert not all_defects(talk.state.record)


def test_more_told_since_it_was_logged(talk: Conversation):
    """With its place told too the whole entry goes, not only the place."""
    talk.say("log a defect, a hinge is bent")
    talk.say("bay 2")
    talk.say("no, scratch that, it's just a shadow")
    talk.say("next service")
    assert not [defect for defect in open_defects(talk.state.record) if defect.state == "reported"]
