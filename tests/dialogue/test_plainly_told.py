"""Commands and reports with something told beside them: where I was, quit since it works, note it, log it as well."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize("words", ["Back at the tap. Where was I?", "ok I'm by the hose. which step was I on?", "where were we"])  # fmt: skip
def test_back_from_a_pause(talk: Conversation, words: str) -> None:
    """The step is said again, and the walk is no longer paused."""
    talk.say("show me how to fill the fresh tank")
    talk.say("hold on")
    assert talk.say(words).kind == "step"
    reply = talk.say("okay, go on")
    assert reply.step is not None
    assert reply.step.index == 2


@pytest.mark.parametrize("words", ["start over, I lost my place", "actually start again, my mind wandered", "from the top, I wasn't listening"])  # fmt: skip
def test_starts_over_with_a_reason(talk: Conversation, words: str) -> None:
    talk.say("take me through sanitizing the fresh tank")
    talk.say("next")
    talk.say("next")
    reply = talk.say(words)
    assert reply.step is not None
    assert reply.step.index == 1


@pytest.mark.parametrize("words", ["it came loose, quit", "got it free, never mind", "the hose popped out by itself, stop here"])  # fmt: skip
def test_quits_when_it_works(talk: Conversation, words: str) -> None:
    talk.say("the waste hose is sucked flat and will not come out")
    assert talk.say(words).kind == "control"
    assert talk.state.walk is None


def test_a_danger_is_not_quit_by_that(talk: Conversation) -> None:
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say("it's fixed, quit")
    assert "Stay out" in reply.say


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("generator meter shows 1142.6 hours, jot it down", "generator_hours"),
        ("log the odometer at 48200", "odometer"),
        ("write down that the diesel is at half", "diesel"),
        ("fresh at sixty percent, for the record", "fresh"),
    ],
)
def test_a_reading_to_be_noted_is_no_defect(talk: Conversation, words: str, what: str) -> None:
    talk.say("take me through winterizing the water")
    reply = talk.say(words)
    assert reply.kind in ("reading", "step")
    assert [one.what for one in reply.readings] == [what]


@pytest.mark.parametrize(
    "words",
    [
        "note the fresh gauge is stuck at half",
        "the galley drawer sticks, so the next guy knows",
        "bunk three's curtain rail is loose, just so it's on record",
        "ok put it down as a defect left wiper is loose",
    ],
)
def test_a_fault_to_be_noted_is_a_defect(talk: Conversation, words: str) -> None:
    assert talk.say(words).kind == "defect"


@pytest.mark.parametrize("words", ["read me back everything that's broken", "run through everything that still needs fixing"])  # fmt: skip
def test_all_that_is_broken_is_listed(talk: Conversation, words: str) -> None:
    talk.say("log that the left wiper is loose")
    assert "1 open defect" in talk.say(words).say


def test_a_danger_over_and_a_defect_in_one_breath(talk: Conversation) -> None:
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say("the fire department measured zero and let us back in, write up that the front furnace is dead")
    assert reply.kind == "defect"
    assert "front furnace" in reply.say


def test_a_question_after_what_is_told_ticks_no_step(talk: Conversation) -> None:
    talk.say("we have a flat tire")
    assert talk.say("they put the wheel on, what torque do the nuts get").topic == "torque-wheel-nuts"
    assert talk.state.walks[0].at == 0


def test_returns_to_the_walk_named(talk: Conversation) -> None:
    talk.say("take me through winterizing the water")
    talk.say("next")
    talk.say("how do I shut off the propane")
    reply = talk.say("return to the water")
    assert reply.topic == "winterize-water"
    assert reply.step is not None
    assert reply.step.index == 2


def test_levels_of_both_bottles_after_how_to_tell(talk: Conversation) -> None:
    """They are no amounts of a sum."""
    talk.say("how do I tell how much is left in the bottles")
    reply = talk.say("the outside one's at a quarter, the inside one three quarters")
    assert {one.which for one in reply.readings} == {"outside", "inside"}
    assert reply.estimate is None


def test_all_drained_tells_of_the_one_tank(talk: Conversation) -> None:
    talk.say("waste at seventy percent")
    reply = talk.say("all drained, waste is at zero percent now")
    assert [one.what for one in reply.readings] == ["waste"]
