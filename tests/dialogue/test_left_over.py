"""What is left after so much, and trips and ranges asked on. Sentences are our own; the numbers are worked out beside them."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_LOAD = "a 20 amp outlet at 120 volts, can a 1,200 watt heater stay on all night"
_TRIP = "200 miles at fifty, how long is that"
_RANGE = ["diesel is at half", "getting six to the gallon, how far does that take us"]


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        (["diesel is at fifty gallons"], "so if we burn twelve and a half tonight what's left", 37.5),
        (["diesel is at fifty gallons", "if the generator uses ten gallons overnight how much is left"], "how far's that at six to the gallon", 240),
        (["fresh is 50 percent"], "what's left after the guys use twenty gallons", 40),  # 60 - 20
        (["inside bottle's full"], "if it burns fifteen pounds what does that leave", 25),  # 40 - 15
        ([_LOAD], "how much does that leave me", 6),  # 0.8 × 20 - 10
        ([_LOAD, "how much does that leave me"], "and if it's only a fifteen amp one", 10),
        (_RANGE, "next fuel's 240 miles on, how much will that burn", 40),  # 240 ÷ 6
        ([*_RANGE, "and at five in the snow"], "the rink is 150 miles, how many gallons will it take", 30),  # 150 ÷ 5
    ],
)  # fmt: skip
def test_what_is_left(talk: Conversation, before: list[str], said: str, value: float):
    for words in before:
        talk.say(words)
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)


def test_more_than_there_is(talk: Conversation):
    talk.say("inside bottle's full")
    assert talk.say("if we burn fifty pounds what's left").kind == "clarify"


def test_what_could_not_be_told_is_not_that(talk: Conversation):
    """ "That" after a number that could not be placed means that number, not the reading told before."""
    talk.say("diesel is at forty gallons")
    talk.say("getting six to the gallon, how far does that take us")
    if talk.say("what if it's nine blorps").kind == "clarify":
        assert talk.say("how far's that at six to the gallon").estimate is None


def test_when_it_gets_there(talk: Conversation):
    talk.say(_TRIP)  # 4 h
    assert "00:30" in talk.say("leaving half past eight tonight, when do we roll in").say
    assert talk.say("roads are bad, say forty").estimate.value == pytest.approx(5, rel=0.01)  # type: ignore[union-attr]
    assert "01:30" in talk.say("and when is that").say
    assert "02:00" in talk.say("what time are we there if we set off at 21:00").say


def test_it_tells_no_hour_that_may_be_either(talk: Conversation):
    talk.say(_TRIP)
    assert "there at" not in talk.say("if we leave at seven when do we get in").say
