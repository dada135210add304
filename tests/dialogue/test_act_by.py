"""By when to act: from the board's own forecast, or what is missing for it is asked."""

from __future__ import annotations

import pytest

from cabassist.dialogue.board import board_of
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("told", "said", "what", "which"),
    [
        ("waste at 55 percent", "how soon do I have to empty the black tank", "waste", None),
        ("waste at 55 percent", "what's the latest I can dump", "waste", None),
        ("fresh 50 gallons", "by what time must we take on water", "fresh", None),
        ("fresh 50 gallons", "how long will the drinking water last", "fresh", None),
        ("5 degrees outside, outside bottle 14 pounds", "by when must I get the outside bottle filled", "propane", "outside"),
        ("5 degrees outside, outside bottle 14 pounds", "when does the gas run out", "propane", "outside"),
        ("diesel three eighths", "when do we need to fuel up", "diesel", None),
    ],
)  # fmt: skip
def test_the_answer_is_that_of_the_board(mind: Mind, told: str, said: str, what: str, which: str | None):
    talk = Conversation(mind)
    talk.say(told)
    reply = talk.say(said)
    (line,) = (one for one in board_of(talk.state, mind, talk.now).lines if (one.what, one.which) == (what, which))
    assert reply.kind == "calculation"
    assert line.act_words
    assert line.act_words in reply.say
    assert reply.estimate is not None
    assert line.estimate is not None
    assert reply.estimate.value == line.estimate.value


@pytest.mark.parametrize(
    ("said", "asked", "answer", "what"),
    [
        ("when do we next have to dump", "waste", "60 percent", "waste"),
        ("by when do I need propane", "propane", "outside bottle 20 pounds", "propane"),
        ("when must we take on water", "fresh", "half", "fresh"),
        ("what time do we need to refuel", "diesel", "a quarter", "diesel"),
    ],
)
def test_a_level_that_nobody_told_is_asked_for(mind: Mind, said: str, asked: str, answer: str, what: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert asked in reply.say
    talk.say(answer)
    assert [stored.reading.what for stored in talk.state.stored] in ([what], [])


def test_heat_needs_the_temperature(mind: Mind):
    talk = Conversation(mind)
    talk.say("outside bottle 20 pounds")
    reply = talk.say("by when must I fill the propane")
    assert (reply.kind, "temperature" in reply.say) == ("clarify", True)


@pytest.mark.parametrize(
    "said", ["when do I open the dump valve", "how do I fill the fresh tank", "when should I fill the tires"]
)
def test_other_questions_are_none(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("waste at 55 percent, fresh at 50 percent")
    assert "hours" not in talk.say(said).say
