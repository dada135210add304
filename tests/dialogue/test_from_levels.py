"""Sums that rest on the levels told: what is missing to full, what the cylinders last, the charge by the volts."""

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
        (["fresh at five eighths"], "how much more can we get in the fresh", 45, "gal"),
        (["fresh is six inches deep"], "so how many more gallons can i add", 90, "gal"),
        (["inside bottle's at a quarter"], "how many pounds will they sell me then", 30, "lb"),
        (["outside bottle's half"], "what am i paying for, in pounds", 20, "lb"),
        (["outside bottle's half", "how many pounds do i have to buy"], "and in gallons", 4.76, "gal"),
        (["fresh at a quarter", "how much more will it take"], "what's that in litres", 340.7, "L"),
        (["fresh at a quarter", "waste at a half", "how much more can the fresh take"], "and the waste", 40, "gal"),
        (["diesel's at a quarter", "how many gallons can i put in"], "how heavy would that be", 1063.5, "lb"),
    ],
)
def test_what_is_missing_to_full(talk: Conversation, before: list[str], said: str, value: float, unit: str):
    """By the demo coach's sizes (40 lb cylinders, 120, 80 and 200 gal); propane 4.2 lb/gal, diesel 7.09 lb/gal."""
    for words in before:
        talk.say(words)
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.unit == unit
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert reply.readings == ()


@pytest.mark.parametrize(
    "said", ["how much more can i put in the luggage bay", "how many pounds do we need for the night"]
)
def test_no_level_is_taken_for_the_room_in_another_thing(talk: Conversation, said: str):
    """Only a tank or cylinder that was read has room that is known."""
    talk.say("fresh at a quarter")
    reply = talk.say(said)

    assert reply.estimate is None or not reply.estimate.name.startswith("held-")


def test_furnaces_burn_what_stands_in_the_cylinders(talk: Conversation):
    """30 and 10 lb at 21,548 BTU/lb, two furnaces of 25,000 BTU/h lit half of the time; then one cylinder alone."""
    talk.say("outside three quarters, inside a quarter")
    both = talk.say("my two furnaces are twenty five thousand each and run half the time, how many hours is that")
    one = talk.say("and only on the inside one")

    assert both.estimate is not None
    assert both.estimate.value == pytest.approx(40 * 21_548 / 25_000, rel=0.01)
    assert any("Inside cylinder" in line for line in both.estimate.assumptions)
    assert one.estimate is not None
    assert one.estimate.value == pytest.approx(10 * 21_548 / 25_000, rel=0.01)


def test_propane_that_the_question_tells_outweighs_the_levels(talk: Conversation):
    """A full cylinder of 30 lb is meant, not what stands."""
    talk.say("outside half, inside half")
    reply = talk.say("how long does a thirty pound bottle last on one furnace of 30,000 btu")

    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(30 * 21_548 / 30_000, rel=0.01)


@pytest.mark.parametrize(
    "said",
    [
        "what percent is that",
        "what's that in percent, it's around seventy in here",
        "what would that be as a percentage",
    ],
)
def test_the_charge_by_the_volts_just_told(talk: Conversation, said: str):
    """12.24 V at rest is half (BCI table), and nothing is stored anew."""
    talk.say("house battery is twelve point two four")
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.unit == "percent"
    assert reply.estimate.value == pytest.approx(50, abs=1)
    assert reply.readings == ()


@pytest.mark.parametrize(
    "said", ["fresh is seven inches deep", "waste's about eleven inches", "the fresh is a foot deep now"]
)
def test_a_depth_that_is_told_is_a_reading(talk: Conversation, said: str):
    """With no question in it there is no sum to tell."""
    reply = talk.say(said)

    assert reply.kind == "reading"
    assert len(reply.readings) == 1


def test_a_rate_of_use_is_no_level(talk: Conversation):
    """The level told before stands."""
    talk.say("fresh at a half")
    reply = talk.say("we get through about fifteen gallons of fresh a night, how many nights is that")

    assert reply.readings == ()
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(4, abs=0.05)


@pytest.mark.parametrize("said", ["when's that, what day", "what day is that", "and when will that be"])
def test_the_moment_of_hours_told(talk: Conversation, said: str):
    """60 hours from Thursday 15 January, 21:42."""
    talk.say("how long do 60 gallons last at 24 gallons a day")

    assert "Sunday" in talk.say(said).say


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("what's minus ten celsius in ours", "14 F"),
        ("and what's sixty litres in our money", "15.9 gallons"),
        ("how many is ninety kilos in american", "198 pounds"),
    ],
)
def test_an_amount_in_our_units(talk: Conversation, said: str, told: str):
    """Those of the coach's profile."""
    reply = talk.say(said)

    assert reply.kind == "calculation"
    assert told in reply.say
    assert reply.readings == ()
