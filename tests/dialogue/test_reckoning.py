"""Calculation questions in a whole turn: what is told beside them, and numbers that no answer may leave out."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("question", "value", "unit"),
    [
        # 48 gal ÷ 6 gal/h; the level alone would be a reading.
        ("fresh is at 48 gallons and we draw six gallons an hour, how many hours is that", 8.0, "h"),
        # (72 - 24) gal ÷ 4 gal/h, 90 % of 80 gal.
        ("waste has 24 gallons in it and takes on four an hour, how long until it's at 90 percent", 12.0, "h"),
        # 90 gal x 7 mi/gal.
        ("90 gallons of diesel at seven miles to the gallon, how far does that go", 630.0, "mi"),
    ],
)
def test_a_question_that_tells_a_level_is_answered(talk: Conversation, question: str, value: float, unit: str):
    """What it tells is kept, and what it asks is worked out."""
    reply = talk.say(question)

    assert reply.kind == "calculation"
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert reply.estimate.unit == unit


def test_a_supposed_level_is_not_kept(talk: Conversation):
    """ "If we had" tells nothing of the tank."""
    talk.say("if fresh was at 48 gallons and we draw six gallons an hour, how many hours is that")

    assert talk.state.stored == ()


def test_a_number_without_a_place_is_named_instead_of_left_out(talk: Conversation):
    """The sum without it would answer another question."""
    reply = talk.say("the hose gives five gallons a minute, there's 77 more, how long to fill 30 gallons")

    assert reply.estimate is None
    assert "77" in reply.say


def test_what_is_told_beside_does_not_stand_in_the_way(talk: Conversation):
    """How many are aboard and how cold it is have nothing to do with a hose."""
    reply = talk.say(
        "thirty aboard, minus ten out, the hose gives five gallons a minute, how long to put in 60 gallons"
    )

    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(12.0)  # 60 ÷ 5


def test_a_report_stays_a_report(talk: Conversation):
    """Numbers alone ask nothing."""
    reply = talk.say("fresh 48 gallons, waste 24 gallons")

    assert reply.kind == "reading"
    assert len(reply.readings) == 2


@pytest.mark.parametrize(
    ("said", "hours", "what", "level"),
    [
        # (100 - 44) % ÷ 7 %/h, (60 - 0) gal ÷ 5 gal/h and so on: plain arithmetic
        ("waste 44 percent and climbs 7 percent an hour, full in", 8.0, "waste", 44),
        ("black tank 25 percent rising 5 percent per hour, full by", 15.0, "waste", 25),
        ("fresh 60 gallons, drops 5 gallons an hour, empty in", 12.0, "fresh", 60),
        ("waste's at 30 percent, gaining 10 percent an hour", 7.0, "waste", 30),
        ("fresh is at 40 gallons, we go through 5 gallons an hour", 8.0, "fresh", 40),
    ],
)
def test_a_level_and_its_rate_are_a_sum_without_a_question(
    talk: Conversation, said: str, hours: float, what: str, level: float
):
    """The level is kept, the rate is none."""
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(hours)
    assert [(one.what, one.value) for one in reply.readings] == [(what, level)]


def test_of_the_waste_the_mark_of_the_board_is_told_too(talk: Conversation):
    """(90 - 44) % ÷ 7 %/h."""
    reply = talk.say("waste 44 percent and climbs 7 percent an hour, full in")
    assert reply.estimate is not None
    assert [round(one.value, 2) for one in reply.estimate.also if one.name == "until 90 percent"] == [6.57]
