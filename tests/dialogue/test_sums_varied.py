"""Sums varied in words: a level supposed, hours driven and on duty told or changed, the breaker called one; nothing is stored."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _value(talk: Conversation, said: str) -> float | None:
    reply = talk.say(said)
    assert reply.kind == "calculation", reply.say
    return reply.estimate.value if reply.estimate is not None else None


@pytest.mark.parametrize(
    ("said", "hours"),
    [
        ("and if the tank was full", 32),
        ("what if it was full", 32),
        ("and with a full tank", 32),
        ("say the tank's full", 32),
        ("how about a full tank", 32),
        ("and with only a quarter tank", 8),
        ("if it were three quarters", 24),
        ("suppose we had half a tank", 16),
        ("what if we started with three quarters", 24),
        ("on a quarter tank", 8),
    ],
)
def test_a_level_supposed_in_a_sum_of_water_is_not_stored(talk: Conversation, said: str, hours: float):
    talk.say("sixty gallons in the fresh tank")
    talk.say("how long does that last thirty people at three gallons each a day")
    assert _value(talk, said) == pytest.approx(hours, rel=0.01)
    assert [(one.reading.value, one.reading.unit) for one in talk.state.stored] == [(60, "gal")]


def test_a_level_supposed_of_a_bottle_or_the_waste_tank(talk: Conversation):
    talk.say("inside cylinder is full")
    talk.say(
        "two furnaces are thirty thousand btu together, running half the time, how long does one full forty pound cylinder last"
    )
    first = talk.state.worked
    assert first is not None
    assert first.estimate is not None
    whole = first.estimate.value
    assert whole is not None
    scale = 24 if first.estimate.unit == "days" else 1
    for said, share in (("and with only half a cylinder", 0.5), ("and with a quarter of a bottle", 0.25), ("with a third left", 1 / 3)):  # fmt: skip
        told = talk.say(said).estimate
        assert told is not None
        assert told.value is not None
        assert told.value * (24 if told.unit == "days" else 1) == pytest.approx(whole * scale * share, rel=0.02)
    assert len(talk.state.stored) == 1
    assert talk.say("and if the fresh was half").kind == "control"
    talk.say("waste half")
    talk.say("how long till the waste tank is full with thirty people at a gallon each a day")
    assert _value(talk, "and with three quarters in it") == pytest.approx(16, rel=0.02)


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("four driven, nine on duty", 6),
        ("I've driven four and been on nine", 6),
        ("drove six, on duty eleven", 4),
        ("on duty twelve, driven four", 3),
        ("seven hours at the wheel, on the clock eleven", 3),
        ("drove five and a half, been on ten", 4.5),
        ("nine on duty, four driven", 6),
        ("four hours driven nine hours on duty", 6),
        ("driving's four, on for thirteen", 2),
        ("okay, eleven on, six behind the wheel", 4),
    ],
)
def test_both_hours_told_in_few_words_ask_for_what_is_left(talk: Conversation, said: str, left: float):
    talk.say("am I good to keep driving")
    assert _value(talk, said) == pytest.approx(left)
    assert not talk.state.walks
    assert talk.state.asking is None


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("and if I'd already driven seven", 3),
        ("what if it's seven driven", 3),
        ("say I was on duty for twelve", 3),
        ("on duty was really thirteen", 2),
        ("fine. on duty was really twelve, driven's still four", 3),
        ("sorry, driven was eight", 2),
        ("I was wrong, eleven on duty", 4),
        ("make driven eight", 2),
        ("and if I've been on for fourteen", 1),
        ("with five driven", 5),
    ],
)
def test_one_of_the_hours_is_changed_and_the_other_stands(talk: Conversation, said: str, left: float):
    talk.say("four driven, nine on duty, how long can I drive")
    assert _value(talk, said) == pytest.approx(left)


def test_more_driven_than_on_duty_is_asked_again_and_one_alone_changes_nothing(talk: Conversation):
    talk.say("four driven, nine on duty")
    assert talk.say("what if I'd driven twelve").kind == "clarify"
    other = Conversation(talk.mind)
    assert other.say("nine on duty").kind != "calculation"


@pytest.mark.parametrize(("said", "amps"), [("it's a twenty amp one, what can I pull for hours", 16), ("it's a 30 amp one, what can I draw all night", 24), ("fifteen amp one here, how much can it carry for hours", 12)])  # fmt: skip
def test_the_breaker_in_hand_may_be_called_one(talk: Conversation, said: str, amps: float):
    talk.say("the breaker keeps tripping whenever someone cooks")
    assert _value(talk, said) == pytest.approx(amps)


@pytest.mark.parametrize("said", ["they set the tires to 120 at sixty f, what'll I read at zero", "the shop set the tires to 110 psi at 70 f, what will they read at ten below"])  # fmt: skip
def test_a_pressure_of_a_question_is_not_stored(talk: Conversation, said: str):
    assert talk.say(said).kind == "calculation"
    assert not talk.state.stored
