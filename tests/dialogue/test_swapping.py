"""A sum asked again of another driver or another tank."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

# 10 hours of driving and 15 on duty, time off duty inside the day not counted: 49 CFR 395.5(a)
MINE = "I've driven 5 hours and been on duty 12, how many hours can I still drive"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("said", "hours", "limit"),
    [
        ("my relief driver is rested", 10, "driving"),
        ("and the other fellow, he has put in three at the wheel", 7, "driving"),
        ("what about her, she drove two and has been on duty eleven", 4, "on-duty"),
        ("the second driver hasn't driven yet", 10, "driving"),
        ("two of those I was off duty, asleep in the bunk", 5, "driving and on-duty"),
        ("oh I had an hour off duty for supper", 4, "on-duty"),
        ("make it fourteen on duty", 1, "on-duty"),
        ("actually I've driven eight", 2, "driving"),
    ],
)
def test_hours_are_worked_out_anew_for_whom_they_are_meant(talk: Conversation, said: str, hours: float, limit: str):
    talk.say(MINE)
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(hours)
    assert f"by the {limit} limit" in reply.say


def test_the_hours_of_one_driver_are_never_those_of_the_other(talk: Conversation):
    talk.say(MINE)
    assert "The other driver" in talk.say("and my partner drove four").say
    assert talk.say("what if I'd driven two").kind == "clarify"  # how long the speaker was on duty is not what his is


def test_no_more_can_be_off_duty_than_was_not_driven(talk: Conversation):
    talk.say("driven eight, on duty nine, how long can I still drive")
    assert talk.say("three of those were off duty").kind == "clarify"


@pytest.mark.parametrize(
    ("before", "said", "hours"),
    [
        ("waste at 30 percent rising 7 percent an hour, when is it full", "and the fresh at 45 percent using 3 percent an hour", 15),
        ("fresh is 90 gallons and we use 9 an hour, how long does it last", "what about the waste at 20 gallons, 6 gallons an hour going in", 10),
    ],
)  # fmt: skip
def test_the_same_is_asked_of_another_tank(talk: Conversation, before: str, said: str, hours: float):
    """Plain arithmetic: (80 - 20) / 6 of the demo coach's waste tank of 80 gallons."""
    talk.say(before)
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(hours)
