"""The last sum once more with a reading put right, levels added to it, and what a reading comes to without a word of which tank."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        (["waste at twelve inches", "two gallons a flush how many flushes", "correction ten inches"], "so what does that make it", 20),
        (["diesel half", "how many miles at six to the gallon", "sorry diesel three quarters"], "work it out again", 900),
        (["outside bottle half", "how many pounds is that", "no wait it's a quarter"], "what does it come to now", 10),
        (["fresh at half", "three gallons a shower how many showers", "sorry fresh a quarter"], "two gallon showers again then", 15),
        (["fresh fifty, waste a quarter", "how heavy is the water in the fresh tank"], "add the waste to that", 667),
        (["fresh fifty, waste a quarter", "how many gallons is in the fresh"], "plus the waste", 80),
        (["outside half, inside a quarter", "how many pounds in the outside"], "add the inside one", 30),
        (["show me how to dump the waste tank"], "how many gallons is eighty percent anyway", 64),
        (["fresh at a quarter"], "what's a quarter in gallons", 30),
        (["def at half"], "how many gallons would fill it", 7.5),
        (["waste ten inches"], "how much room does that leave", 40),
        (["spare cylinder is empty"], "how many pounds will the guy put in", 40),
        (["fresh is eight inches down from the top"], "four gallons a shower how many showers", 20),
        (["generator hours 1140"], "oil is due at 1250, how many hours away", 110),
        (["generator hours 1142"], "oil change at 1200, how long have I got", 58),
        (["spare is a quarter", "how many gallons to fill it"], "at three fifty a gallon what's that cost", 25),
        (["how many miles in five hours at fifty eight"], "and if the snow keeps us down to forty", 200),
        (["how far in four hours at sixty"], "what if a headwind slows us to fifty", 200),
    ],
)  # fmt: skip
def test_goes_on_from_what_stands(talk: Conversation, before: list[str], said: str, value: float) -> None:
    for one in before:
        talk.say(one)
    stored = talk.state.stored
    reply = talk.say(said)
    assert reply.kind == "calculation", reply.say
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert not reply.readings
    assert talk.state.stored == stored


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (["fresh at sixty", "how heavy is the water in the fresh tank"], "add the fresh to that"),
        (["fresh at sixty", "how heavy is the water in the fresh tank"], "add the waste to that"),
        (["fresh fifty, waste a quarter", "how much do both tanks weigh"], "add the waste to that"),
        (["it was sixty five in the yard when I set that one hundred, what will it read at ten"], "and at twenty below"),
    ],
)  # fmt: skip
def test_asks_back_and_stores_nothing(talk: Conversation, before: list[str], said: str) -> None:
    for one in before:
        talk.say(one)
    stored, log = talk.state.stored, talk.state.record
    reply = talk.say(said)
    assert reply.kind in ("clarify", "calculation"), reply.say
    assert talk.state.stored == stored
    assert talk.state.record == log


def test_a_defect_is_still_added(talk: Conversation) -> None:
    talk.say("fresh at sixty")
    talk.say("how heavy is the water in the fresh tank")
    assert talk.say("add a loose wiper on the left to that").kind == "defect"


def test_a_bottle_holds_bleach_while_the_tank_is_sanitized(talk: Conversation) -> None:
    """9.3 fl oz of 8.25 % for 120 gal at 50 mg/L, by proportion."""
    talk.say("take me through sanitizing the fresh tank")
    reply = talk.say("the jug says 8.25, how much for a full tank")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(9.31, rel=0.01)
    assert not talk.state.stored
    reply = talk.say("but all they have is six percent")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(12.8, rel=0.01)
    reply = talk.say("same bleach but just half a tank")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(6.4, rel=0.01)
    assert talk.say("outside bottle is at half").readings[0].what == "propane"


def test_and_on_duty_after_hours_left_starts_no_duty(talk: Conversation) -> None:
    talk.say("driven five hours since noon after ten hours off, how many hours of driving do I have left")
    record = talk.state.record
    talk.say("and on duty")
    assert talk.state.record == record
