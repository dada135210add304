"""The temperature outside, told in a sentence about something else."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "degrees", "unit"),
    [
        ("we just rolled up, it's seventeen below and windy, where do I start", -17, "F"),
        ("pulled in at 9 and it's 4 F outside, how do I connect shore power", 4, "F"),
        ("it's -26 C, how do I dump the waste tank", -26, "C"),
        ("woke up to minus thirty one and the engine will not start", -31, "F"),
        ("twelve below and snowing, how do I park for the night", -12, "F"),
        ("the furnace won't light and it's 3 degrees out here", 3, "F"),
    ],
)
def test_it_is_stored_and_the_rest_is_answered(mind: Mind, said: str, degrees: float, unit: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    (reading,) = reply.readings
    assert (reading.what, reading.value, reading.unit) == ("outside_temp", degrees, unit)
    assert reply.kind in ("procedure", "clarify", "unknown", "hazard")


@pytest.mark.parametrize(
    "said",
    [
        "if it's twenty below outside how do I park",
        "it's supposed to be 15 below tonight, how do I protect the water",
        "it was 8 below last night, how do I start the engine",
        "it's ten past nine outside the arena, how do I park",
        "the furnace won't light and it's 48 degrees in the cabin",
    ],
)
def test_what_is_no_temperature_outside_now_is_not(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say(said)
    assert not [one for one in talk.state.stored if one.reading.what == "outside_temp"]


def test_a_danger_keeps_it_too(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("it's 22 below out and I smell gas in the coach")
    assert reply.kind == "hazard"
    assert [one.value for one in reply.readings] == [-22]


@pytest.mark.parametrize(
    ("before", "said", "asked"),
    [
        ("it's 12 degrees outside", "minus 35 outside", True),
        ("it's 12 degrees outside", "minus 22 outside", False),
        ("it's 30 below outside", "it's 14 above outside", True),
        ("fresh is half", "minus 74 outside", True),
        ("fresh is half", "minus 66 outside", False),
    ],
)
def test_weather_that_hardly_can_be_is_stored_and_queried(mind: Mind, before: str, said: str, asked: bool):
    talk = Conversation(mind)
    talk.say(before)
    reply = talk.say(said)
    assert [reading.what for reading in reply.readings] == ["outside_temp"]
    assert ("Is that right?" in reply.say) == asked


@pytest.mark.parametrize(
    "said", ["27 of us aboard now", "two kids on board", "so there are 29 of us", "that makes 26 people on board today"]
)
def test_a_head_count_asks_nothing(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert (reply.kind, [reading.what for reading in reply.readings]) == ("reading", ["passengers"])


def test_more_than_a_head_count_may_be_a_danger(mind: Mind):
    """What is told of those who are counted is judged."""
    reply = Conversation(mind).say("two kids on board have a headache and feel sick")
    assert (reply.kind, reply.topic) == ("hazard", "carbon-monoxide-alarm")
