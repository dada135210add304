"""A level told by where the needle lies: it is stored, whatever procedure, sum or command its words are like."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("words", "what", "value", "flag"),
    [
        ("the waste needle is resting against the upper stop", "waste", None, "high"),
        ("def has every bar lit except the top one", "def", None, "high"),
        ("diesel needle's flat on its stop", "diesel", None, "low"),
        ("air gauge sits right at the edge of the red", "air_pressure", None, "low"),
        ("fuel needle is pointing straight up and down", "diesel", 0.5, None),
        ("inside bottle's gauge is bang in the middle of the dial", "propane", 0.5, None),
        ("outside bottle: I'd split the difference between a quarter and a half", "propane", 0.375, None),
    ],
)
def test_it_is_a_reading(talk: Conversation, words: str, what: str, value: float | None, flag: str | None) -> None:
    reply = talk.say(words)
    assert reply.kind == "reading"
    assert [(one.what, one.value, one.flag) for one in reply.readings] == [(what, value, flag)]


def test_a_question_beside_it_is_answered(talk: Conversation) -> None:
    """The walk opens all the same."""
    reply = talk.say("the waste needle's up against the top stop. How do I dump the waste tank?")
    assert reply.kind == "procedure"
    assert reply.topic is not None


def test_it_puts_right_what_was_told(talk: Conversation) -> None:
    talk.say("fresh a half")
    reply = talk.say("no, the needle's halfway between a half and three quarters")
    assert [one.value for one in reply.readings] == [0.625]
    assert [one.value for one in reply.withdrawn] == [0.5]


def test_in_a_walk_that_asks_for_one_level_it_needs_no_name(talk: Conversation) -> None:
    talk.say("show me how to fill the fresh tank")
    reply = talk.say("needle's only just off its peg")
    assert [(one.what, one.flag) for one in reply.readings] == [("fresh", "low")]
