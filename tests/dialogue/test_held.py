"""What a reading that stands comes to in another unit."""

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
        (["outside bottle 30 percent", "inside bottle three quarters"], "how many pounds have we got in the outside one", 12, "lb"),
        (["outside bottle 30 percent", "inside bottle half"], "what do the two weigh together", 32, "lb"),
        (["waste five inches"], "so how many gallons is that", 20, "gal"),
        (["fresh a quarter"], "what's that in litres", 113.56, "L"),
        (["diesel at three quarters", "it's ten below"], "how many gallons is in the diesel tank", 150, "gal"),
        (["fresh fifty percent"], "how heavy is it", 500.22, "lb"),
        (["fresh at half", "how many gallons is that", "waste a quarter"], "and that", 20, "gal"),
        (["fresh at half", "waste a quarter", "how many gallons is in the waste"], "and the fresh", 60, "gal"),
        (["waste at 30", "no wait waste was 45"], "how much is it now", 36, "gal"),
        (["fresh at half", "waste a quarter"], "and what's the fresh gallons wise", 60, "gal"),
        (["fresh at half", "waste a quarter"], "what is in the waste in percent terms", 25, "percent"),
    ],
)  # fmt: skip
def test_a_level_in_the_unit_asked_for(talk: Conversation, before: list[str], said: str, value: float, unit: str):
    """Share times the size in the demo coach's profile (40 lb cylinders, 120, 80 and 200 gal); water 8.337 lb/gal (CoolProp)."""
    for words in before:
        talk.say(words)
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.unit == unit
    assert reply.estimate.value == pytest.approx(value, abs=0.3)
    assert reply.readings == ()


@pytest.mark.parametrize("said", ["how many gallons does the hose hold", "how many gallons do we need for thirty people", "how many pounds is in the spare", "how heavy is the jack"])  # fmt: skip
def test_no_level_is_taken_for_another_things_amount(talk: Conversation, said: str):
    """Only what was told can be turned."""
    talk.say("fresh at a quarter")
    reply = talk.say(said)

    assert reply.estimate is None or not reply.estimate.name.startswith("held-")


@pytest.mark.parametrize(
    ("said", "name", "other"),
    [
        ("so what's in the outside one", "Outside cylinder", "Inside"),
        ("whats left in the inside bottle", "Inside cylinder", "Outside"),
        ("how much is in the fresh tank", "Fresh water", "cylinder"),
        ("what have we got in the fresh", "Fresh water", "cylinder"),
    ],
)
def test_what_is_in_a_thing_that_was_read_is_read_back(talk: Conversation, said: str, name: str, other: str):
    """That one alone, with its age, and no procedure opens."""
    talk.say("outside half inside three quarters")
    talk.say("fresh at a third")
    reply = talk.say(said)

    assert reply.kind == "control"
    assert reply.say.startswith(name)
    assert "Said " in reply.say
    assert other not in reply.say
    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["what's in the fresh tank", "what's in the first aid kit", "how much bleach is in the fresh tank"])  # fmt: skip
def test_nothing_is_read_back_that_was_not_read(talk: Conversation, said: str):
    """A waste level tells nothing of it."""
    talk.say("waste at a third")

    assert "Said " not in talk.say(said).say


@pytest.mark.parametrize(
    ("told", "said", "pounds"),
    [
        ("diesel at half", "how heavy is that", 709),
        ("diesel a quarter", "what does it weigh", 354.5),
        ("twenty gallons of diesel", "how much does that weigh", 141.8),
        ("waste at half", "how much would that weigh", 333.5),
    ],
)
def test_what_a_level_weighs(talk: Conversation, told: str, said: str, pounds: float):
    """In a walk too, where it asks for no source."""
    talk.say("I think the diesel gelled")
    talk.say(told)
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.unit == "lb"
    assert reply.estimate.value == pytest.approx(pounds, rel=0.01)
