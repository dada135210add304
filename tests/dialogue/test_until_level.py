"""Levels at which the time of the last sum ends. Sentences are our own; the numbers are worked out beside them (fresh 120 gal, waste 80 gal)."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_FRESH = ["fresh is 75 percent", "how long does the fresh last at five gallons an hour"]
_BANK = ["300 amp hours in the bank and i'm pulling twelve amps, how long from full down to half"]
_WASTE = ["waste at 40 percent", "when is the waste full at four gallons an hour"]


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "hours"),
    [
        (_FRESH, "only down to a quarter, the pump sucks air below that", 12),  # (90 - 30) ÷ 5
        (_FRESH, "if we stop at thirty gallons", 12),
        (_FRESH, "until it's down to fifteen percent", 14.4),  # 72 ÷ 5
        ([*_FRESH, "down to a third"], "and to fifty percent", 6),  # 30 ÷ 5
        ([*_FRESH, "down to a third"], "and at ten an hour", 5),  # 50 ÷ 10
        (_BANK, "if i shut off at sixty percent left", 10),  # 300 × 0.4 ÷ 12
        (_BANK, "what if we only go down to eighty percent", 5),  # 300 × 0.2 ÷ 12
        ([*_BANK, "if i quit at 60 percent left"], "no, seventy", 7.5),  # 300 × 0.3 ÷ 12
        (_WASTE, "and if we dump at eighty percent", 8),  # 80 × 0.4 ÷ 4
        (_WASTE, "only up to ninety percent", 10),  # 80 × 0.5 ÷ 4
        (_FRESH, "down to three gallons an hour", 30),  # 90 ÷ 3: a rate, and no level
        (_FRESH, "no, it's fifty percent", 12),  # 60 ÷ 5: what there is now
    ],
)
def test_where_it_ends(talk: Conversation, before: list[str], said: str, hours: float):
    for words in before:
        talk.say(words)
    stored = talk.state.stored
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(hours, rel=0.01)
    assert talk.state.stored == stored or said.startswith("no, it's")


def test_what_is_drawn_is_no_reading(talk: Conversation):
    """Amps that a sum draws, and hours that something runs, are not put on record."""
    talk.say("house battery twelve point six volts")
    talk.say("300 amp hours in the bank and i'm pulling twelve amps, how long from full down to half")
    talk.say("what does the generator burn at half a gallon an hour for eight hours")
    assert [held.reading.value for held in talk.state.stored] == [12.6]
