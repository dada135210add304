"""Sums of water and of weights asked on. Sentences are our own; the numbers are worked out beside them."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_SHOWERS = ["fresh is 80 percent", "sixteen showers at three minutes each, two gallons a minute, how many gallons"]
_FLUSHES = ["waste is 8 inches deep", "twelve kids flushing three times each at one gallon, how much goes in"]


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        (_SHOWERS, "how many guys can shower then", 16),  # 96 ÷ 6
        (_SHOWERS, "so how many can shower at two minutes each", 24),  # 96 ÷ 4
        ([*_SHOWERS, "no sorry, fresh is sixty percent"], "how many can shower now", 12),  # 72 ÷ 6
        (_FLUSHES, "ten but only twice each", 20),
        (_FLUSHES, "once each", 12),
        ([*_FLUSHES, "what's for dinner"], "so fifteen kids but only once each", 15),
        (["fresh is a quarter", "the hose gives nine gallons a minute, how long to fill it"], "and what'll it weigh, the part i'm putting in", 750),  # 90 gal × 8.337 lb
        (["twenty players at two hundred pounds what do they come to"], "make it thirty", 6000),
        (["twenty players at two hundred pounds what do they come to"], "plus thirty pounds of gear apiece", 4600),
        (["how many gallons go in a forty pound bottle"], "and two of em", 18.87),  # 80 lb ÷ 4.24
        (["how many gallons go in a forty pound bottle", "and three of em"], "one's half full, so two and a half bottles worth", 23.58),  # 100 ÷ 4.24
        (["how many gallons go in a forty pound bottle", "so one and a half bottles"], "and two and a half bottles", 23.58),
    ],
)  # fmt: skip
def test_asked_on(talk: Conversation, before: list[str], said: str, value: float):
    for words in before:
        talk.say(words)
    stored = talk.state.stored
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert talk.state.stored == stored


@pytest.mark.parametrize(
    "said",
    [
        "sorry the depth was ten inches i had the stick upside down",
        "no, ten inches, i was holding it the wrong way up",
        "wait, the reading was ten inches",
    ],
)
def test_a_depth_put_right_with_its_reason(talk: Conversation, said: str):
    talk.say("waste is twelve inches deep")
    reply = talk.say(said)
    assert reply.kind == "reading"
    assert (reply.readings[0].value, len(reply.withdrawn)) == (10, 1)
    assert talk.say("room now?").estimate.value == pytest.approx(40, rel=0.01)  # type: ignore[union-attr]  # half of 80


def test_the_sum_of_readings_anew(talk: Conversation):
    talk.say("propane outside full inside thirty percent spare empty")
    assert talk.say("how many pounds altogether").estimate.value == pytest.approx(52)  # type: ignore[union-attr]
    talk.say("correction, inside's fifty percent")
    assert talk.say("so now?").estimate.value == pytest.approx(60)  # type: ignore[union-attr]
