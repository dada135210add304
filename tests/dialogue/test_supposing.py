"""What is supposed of the last sum in words of its own, and numbers asked of what was told. Sentences are our own; the numbers are worked out beside them."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_BLEACH = "how much five percent bleach for the whole tank at 50 ppm"
_BURN = "two heaters at twenty thousand BTU each running half the time, how many hours"
_CORD = "sixty feet of fourteen gauge with ten amps at 120 volts, what's the voltage drop"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _value(talk: Conversation, words: str) -> float | None:
    estimate = talk.say(words).estimate
    return estimate.value if estimate is not None else None


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        (["20 pounds left in the bottle", f"20 pounds of propane, {_BURN}"], "what if they're on full blast", 10.77),
        ([f"20 pounds of propane, {_BURN}"], "and if they only run a quarter of the time", 43.1),
        ([f"20 pounds of propane, {_BURN}", "and flat out"], "no, half the time", 21.55),
        (["20 pounds of propane, one 30,000 btu furnace on sixty percent, how long"], "and wide open", 14.37),
        (["20 pounds of propane, one 30,000 btu furnace on sixty percent, how long"], "eighty percent if the wind gets up", 17.96),
        ([_BLEACH], "all the shop carries is eight percent", 9.6),
        ([_BLEACH], "and if it's only half full", 7.68),
        ([_BLEACH], "what if we just fill it three quarters", 11.52),
        ([_CORD], "how about thirty feet at eight amps", 1.507),
        ([_CORD, "and with a ten gauge"], "what about forty feet of the fourteen", 2.512),
        (["set at 105 at sixty degrees and it's ten now, what should they read"], "and if it drops to minus twenty", 86.6),
        (["set at 105 at sixty degrees and it's ten below now, what should they read"], "what if it warms up to forty", 100.4),
        (["how long to fill the fresh at six gallons a minute"], "and at ten a minute", 12),
    ],
)  # fmt: skip
def test_what_is_supposed(talk: Conversation, before: list[str], said: str, value: float):
    """Propane 21,548 BTU/lb; doses 120 gal × 50 mg/L ÷ (10 × %); drops 2 × A × ft × ohm/1000 ft; pressures by absolute temperature."""
    for words in before:
        talk.say(words)
    assert _value(talk, said) == pytest.approx(value, rel=0.01)


def test_it_is_no_reading_what_is_supposed(talk: Conversation):
    talk.say("outside bottle has 20 pounds")
    talk.say("both heaters are sixty thousand BTU between them at half the time, how long")
    reply = talk.say("seventy percent if it snows")
    assert not reply.readings
    assert len(talk.state.stored) == 1


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("20 pounds of propane, both furnaces are sixty thousand together at half the time, how long", 14.37),
        ("20 pounds of propane and two heaters with a total of 50,000 btu, how many hours", 8.62),
        ("20 pounds of propane, two furnaces at 25,000 btu each, how many hours", 8.62),
        ("ninety gallons of fresh, thirty people at a gallon and a half a day, how many days", 2.0),
    ],
)
def test_of_all_or_of_each(talk: Conversation, said: str, value: float):
    """20 lb × 21,548 ÷ 30,000; ÷ 50,000; 90 ÷ (30 × 1.5)."""
    assert _value(talk, said) == pytest.approx(value, rel=0.01)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        (["outside's a half, inside a quarter", "spare is full"], "how many pounds have we got in all", 70),
        (["outside's a half, inside a quarter", "spare is full"], "what's in both in pounds", 30),
        (["outside's a half, inside a quarter"], "how much propane is that all told", 30),
        (["fresh is at 60 gallons", "waste is at a quarter"], "and what do those two weigh", 667),
        (["fresh is at 90 gallons"], "what percentage", 75),
        (["fresh is at 90 gallons", "what does fresh say"], "what's that in percent", 75),
        (["waste is five inches deep", "no, five from the top"], "how many gallons is that", 60),
        (["waste is five inches deep", "how many gallons is that"], "and what percent", 25),
        (["generator hours 430"], "how far off five hundred is it", 70),
        (["generator hours 430", "how many hours until 500"], "at ten a night how many nights would that be", 7),
        (["odometer 80000"], "how many miles till it reaches 82500", 2500),
        (["fresh at 60 gallons"], "twenty people at a gallon and a half a day, how many days", 2),
        (["fresh at 60 gallons", "twenty people at a gallon and a half a day, how many days"], "and if it's fifteen people", 2.67),
        (["25 showers at four gallons each, how many gallons", "fresh at 60 gallons"], "how many of us can have one with what we've got", 15),
    ],
)  # fmt: skip
def test_asked_of_what_was_told(talk: Conversation, before: list[str], said: str, value: float):
    """By the demo coach's sizes (40 lb cylinders, 120 and 80 gal, 20 in deep), water 8.337 lb/gal."""
    for words in before:
        talk.say(words)
    assert _value(talk, said) == pytest.approx(value, rel=0.01)


def test_one_level_is_no_pair(talk: Conversation):
    talk.say("waste is at a quarter")
    reply = talk.say("what do those two weigh together")
    assert reply.kind == "clarify"
    assert reply.estimate is None


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("but i came on duty at eight this morning, no breaks", 1.3),
        ("i clocked in at noon though", 5.0),
        ("and my shift started at 0730", 0.8),
    ],
)
def test_on_duty_by_the_clock(talk: Conversation, said: str, left: float):
    """Said at 21:42; 15 h on duty and 10 h of driving are allowed."""
    talk.say("driven five hours, how long can i still drive")
    assert _value(talk, said) == pytest.approx(left, abs=0.06)


def test_whether_it_lasts_is_asked_of_the_last_number(talk: Conversation):
    """20 lb × 21,548 ÷ 60,000 = 7.2 h, and it is 21:42."""
    talk.say("20 pounds of propane, two furnaces at 30,000 btu each, how many hours")
    assert "Not enough for 8 h" in talk.say("is that enough till six in the morning").say
    assert "Enough for 5 h" in talk.say("will it last for five hours").say


@pytest.mark.parametrize("said", ["so how many nights is that at three", "at eight a minute"])
def test_what_has_no_place_is_asked_back(talk: Conversation, said: str):
    talk.say("12 amps at 120 volts, how many watts")
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert not reply.options
    assert not talk.state.walks


def test_a_rate_is_no_pause(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("how long does it take at six gallons a minute")
    talk.say("and at four a minute")
    assert talk.state.walks
    assert not talk.state.walks[-1].paused
