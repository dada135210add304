"""Levels of cylinders without their names, and the test of an alarm, in a walk. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def levels(talk: Conversation) -> list[tuple[str | None, float | None]]:
    """The levels of the cylinders that stand."""
    return [(one.reading.which, one.reading.value) for one in talk.state.stored if one.reading.what == "propane"]


@pytest.mark.parametrize("step", [8, 9, 11])
@pytest.mark.parametrize("said", ["both at 60", "both are about 60", "both of them at sixty percent"])
def test_both_are_of_both_cylinders(talk: Conversation, step: int, said: str):
    """At their step, and on the way to it."""
    talk.say("park for the night")
    talk.until_step(step)
    talk.say(said)
    assert levels(talk) == [("outside", 60.0), ("inside", 60.0)]


def test_both_told_early_are_only_confirmed(talk: Conversation):
    talk.say("park for the night")
    talk.until_step(10)
    talk.say("both at 60")
    reply = talk.say("next")
    assert "You told me: Outside cylinder 60 %" in reply.say
    assert "Inside cylinder 60 %" in reply.say


@pytest.mark.parametrize("said", ["60 and 40", "sixty and forty percent", "it's 60, the other's 40"])
def test_two_levels_are_of_outside_and_inside(talk: Conversation, said: str):
    talk.say("read the propane gauges")
    talk.until_step(9)
    reply = talk.say(said)
    assert levels(talk) == [("outside", 60.0), ("inside", 40.0)]
    assert "Other way round?" in " ".join(reply.show)


def test_one_level_is_of_the_cylinder_of_the_step(talk: Conversation):
    talk.say("read the propane gauges")
    talk.until_step(9)
    talk.say("60")
    talk.say("a quarter")
    assert levels(talk) == [("outside", 60.0), ("inside", 0.25)]


@pytest.mark.parametrize(
    "said", ["beeped loud", "it chirped nice and loud", "loud and clear", "yep works", "it screamed", "it went off when I pressed it"]
)  # fmt: skip
def test_an_alarm_that_sounds_is_tested(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.until_step(10)
    assert talk.say(said).kind == "step"
    assert talk.state.walk is not None
    assert talk.state.walk.number == 11


@pytest.mark.parametrize("said", ["not a peep", "it didn't beep", "no sound at all", "it's dead"])
def test_an_alarm_that_is_silent_is_warned_of(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.until_step(10)
    assert "nobody sleeps aboard" in talk.say(said).say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 10


@pytest.mark.parametrize("said", ["the co alarm is going off", "the co alarm keeps beeping", "co alarm went off"])
def test_an_alarm_is_an_alarm(talk: Conversation, said: str):
    """Also in the step that tests it, where nothing says that it was pressed."""
    talk.say("park for the night")
    talk.until_step(10)
    assert talk.say(said).kind == "hazard"


@pytest.mark.parametrize("said", ["half and full, street side and curb side", "full and half on the curb side and the street side"])  # fmt: skip
def test_levels_that_cannot_be_placed_are_asked_and_not_stored(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert "Which level is of which cylinder?" in reply.say
    assert levels(talk) == []
    talk.say("curb side full, street side half")
    assert levels(talk) == [("curb-side", 1.0), ("street-side", 0.5)]
