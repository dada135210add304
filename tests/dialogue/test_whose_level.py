"""A level of nothing in particular is asked back with what it may be of, and stored of what is picked."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

OFFERED = {
    "empty": ("fill-fresh-water", "check-waste-level", "swap-or-refill-cylinder", "check-fluids"),
    "full": ("check-fresh-level", "dump-waste-tank", "read-propane-gauges", "check-fluids"),
    "half": ("check-fresh-level", "check-waste-level", "read-propane-gauges", "check-fluids"),
}
"""An empty tank wants filling, a full one dumping; of any other the level is looked at."""


@pytest.mark.parametrize(
    ("said", "level", "pick", "what", "value"),
    [
        ("the tank's bone dry", "empty", "fresh", "fresh", 0.0),
        ("it's on empty", "empty", "number two", "waste", 0.0),
        ("gauge reads a third", "half", "the diesel", "diesel", 0.3333),
        ("tank is full", "full", "i mean the waste one", "waste", 1.0),
        ("we are half full", "half", "3", "propane", 0.5),
    ],
)
def test_what_is_picked_is_stored(mind: Mind, said: str, level: str, pick: str, what: str, value: float):
    talk = Conversation(mind)
    asked = talk.say(said)
    assert (asked.kind, asked.options) == ("clarify", OFFERED[level])
    (reading,) = talk.say(pick).readings
    assert reading.what == what
    assert reading.value == pytest.approx(value, abs=0.01)


def test_no_stores_nothing(mind: Mind):
    talk = Conversation(mind)
    talk.say("the tank is full")
    assert talk.say("none of them").readings == ()
    assert not talk.state.stored


def test_another_question_stands_for_itself(mind: Mind):
    talk = Conversation(mind)
    talk.say("the tank is empty")
    assert talk.say("how do I connect shore power").topic == "connect-shore-power"
    assert talk.say("fresh").readings == ()


@pytest.mark.parametrize(
    ("said", "level", "what"),
    [
        (["it's getting low", "the propane one"], "about a third", "propane"),
        (["looks low", "1"], "forty gallons", "fresh"),
        (["we're running low on diesel"], "an eighth", "diesel"),
        (["the propane is getting low"], "12 pounds", "propane"),
        (["black tank's pretty high"], "85 percent", "waste"),
    ],
)
def test_how_low_is_asked(mind: Mind, said: list[str], level: str, what: str):
    """A supply that runs low is no smell of gas, and no fueling with the engine on."""
    talk = Conversation(mind)
    replies = [talk.say(words) for words in said]
    assert {reply.kind for reply in replies} == {"clarify"}
    assert [reading.what for reading in talk.say(level).readings] == [what]


@pytest.mark.parametrize("said", ["used to be half", "the fresh used to be half", "inside bottle used to be full"])
def test_a_level_that_once_was_raises_nothing(mind: Mind, said: str) -> None:
    """No reading, no walk, no question."""
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert talk.state.walk is None
    assert talk.state.stored == ()


@pytest.mark.parametrize(
    ("said", "named", "what", "which", "value"),
    [
        ("it says 95 psi", "the left front", "tire_pressure", "left front", 95),
        ("it says 95 psi", "that's the air gauge", "air_pressure", None, 95),
        ("it's 71 degrees", "inside", "inside_temp", None, 71),
        ("it's at 14 pounds", "the outside cylinder", "propane", "outside", 14),
        ("it reads 48 volts", "shore", "shore_voltage", None, 48),
    ],
)
def test_the_place_that_was_asked_for_is_taken(
    mind: Mind, said: str, named: str, what: str, which: str | None, value: float
):
    """What was told is stored of it."""
    talk = Conversation(mind)
    assert talk.say(said).kind == "clarify"
    assert [(one.what, one.which, one.value) for one in talk.say(named).readings] == [(what, which, value)]


def test_another_question_is_no_place(mind: Mind) -> None:
    """It is answered, and nothing is stored."""
    talk = Conversation(mind)
    talk.say("it reads 48 volts")
    assert talk.say("how do I connect shore power").topic == "connect-shore-power"
    assert talk.state.stored == ()
