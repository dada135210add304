"""Questions that build on the last number, on a reading that stands or on the heads aboard."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value", "unit"),
    [
        # 21,548 BTU a pound (NFPA 58 Annex B, repeated by suppliers)
        (["inside bottle half", "how many pounds is in the inside one"], "one furnace at twenty thousand btu flat out how long does that last", 21.55, "h"),
        (["inside bottle half", "how many pounds is in the inside one", "one furnace at twenty thousand btu flat out how long does that last"], "and both furnaces", 10.77, "h"),
        # 12.24 V and 12.06 V at rest at 80 F are 50 and 25 percent (BCI table)
        (["house battery twelve point oh six"], "how full is that at eighty degrees", 25, "percent"),
        (["house battery 12.06", "how full is that at eighty degrees", "sorry it says twelve point two four"], "and now how full", 50, "percent"),
        (["generator hours 310"], "oil is due at 400, how many hours is that", 90, "h"),
        (["odometer 201500"], "the next service is due at 210000 how many miles is that", 8500, "mi"),
        (["twenty aboard"], "a gallon and a half each, what does that come to", 30, "gal"),
        (["what does an 1800 watt heater pull at 120 volts"], "and a 600 watt kettle on top of that", 20, "A"),
        (["sixty gallons, 20 people, a gallon and a half each a day, how many hours does it last"], "and with ten more people", 32, "h"),
        (["had eight off, came on at five, six hours driving three hours loading, how much longer can I drive"], "and if I'd only driven four", 6, "h"),
    ],
)  # fmt: skip
def test_what_stands_is_put_into_the_question(
    talk: Conversation, before: list[str], said: str, value: float, unit: str
):
    """Plain arithmetic on what was told before; the published figures are named above their rows."""
    for words in before:
        talk.say(words)
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert reply.estimate.unit == unit
    assert reply.readings == ()


def test_a_temperature_of_the_question_in_the_other_scale(talk: Conversation):
    """-40 is the same in both scales; -10 C is 14 F."""
    talk.say("it's been minus forty celsius all night how do I start the engine")

    assert "-40 F" in talk.say("what's that in fahrenheit").say
    assert "14 F" in talk.say("and minus ten").say


@pytest.mark.parametrize(("before", "said"), [("thirty aboard", "how many have I got aboard"), ("cabin's at 61", "what did I say it was in here"), ("waste at 20", "what's the waste at")])  # fmt: skip
def test_what_stands_is_read_back(talk: Conversation, before: str, said: str):
    """A question about the record stores nothing."""
    told = talk.say(before).readings[0]
    reply = talk.say(said)

    assert f"{told.value:g}" in reply.say
    assert reply.readings == ()


@pytest.mark.parametrize("walk", ["", "check the fluids"])
def test_how_far_it_is_after_the_level_is_put_right(talk: Conversation, walk: str):
    """By the new level, with the figure asked about last; and no count of steps."""
    if walk:
        talk.say(walk)
    talk.say("diesel half")
    talk.say("six miles to the gallon how far does that get me")
    talk.say("sorry diesel's a quarter")
    reply = talk.say("so how far now")

    assert reply.kind == "calculation"
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(300)
