"""Entries put right later, by their name, their value or as the last told."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind, Reply
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def stands(talk: Conversation) -> list[str]:
    """The entries that stand, as `what/which value unit`."""
    held = [stored.reading for stored in talk.state.stored]
    return sorted(f"{one.what}{f'/{one.which}' if one.which else ''} {one.value:g} {one.unit}" for one in held)


@pytest.mark.parametrize(
    ("before", "said", "left"),
    [
        (["waste at 35", "def forty percent"], "delete the waste one, somebody bumped the gauge", ["def 40 percent"]),
        (["outside bottle half", "inside bottle full"], "strike the outside cylinder reading", ["propane/inside 1 fraction"]),
        (["fresh seventy gallons", "it's 14 out"], "scratch the seventy that gauge sticks", ["outside_temp 14 F"]),
        (["left front 112", "right front 96"], "lose the right front one it was the spare", ["tire_pressure/left front 112 psi"]),
        (["diesel at a quarter"], "erase that, i had the wrong truck", []),
        (["fresh at a third"], "undo that, it was two thirds", ["fresh 0.6667 fraction"]),
        (["waste twelve inches"], "no wait waste was nine", ["waste 9 in"]),
        (["inside bottle 70 percent"], "inside was 40 not 70", ["propane/inside 40 percent"]),
        (["twenty six aboard"], "no twenty seven, one was still at the desk", ["passengers 27 persons"]),
        (["waste a quarter", "fresh half"], "make waste three quarters", ["fresh 0.5 fraction", "waste 0.75 fraction"]),
        (["odometer 301220"], "change the odometer to 301250", ["odometer 301250 mi"]),
    ],
)  # fmt: skip
def test_only_what_is_right_stands(talk: Conversation, before: list[str], said: str, left: list[str]):
    """The entry meant is gone, however many were told since, and the right one stands in its place."""
    for words in before:
        talk.say(words)
    reply = talk.say(said)

    assert stands(talk) == left
    assert reply.withdrawn


@pytest.mark.parametrize("said", ["drop the hose", "forget the waste", "cancel the timer", "no two of them are sick", "lose the jug of fresh water"])  # fmt: skip
def test_other_talk_takes_nothing_back(talk: Conversation, said: str):
    """Things are dropped and forgotten too, and "no" may begin any sentence."""
    talk.say("waste at sixty")
    talk.say("thirty aboard")
    reply: Reply = talk.say(said)

    assert stands(talk) == ["passengers 30 persons", "waste 60 percent"]
    assert not reply.withdrawn


def test_a_reading_taken_back_is_no_all_clear(talk: Conversation):
    """The carbon monoxide walk that a reading opened stays until somebody says that it was none."""
    talk.say("CO meter says 120 ppm")
    undone = talk.say("undo")

    assert [reading.what for reading in undone.withdrawn] == ["co_ppm"]
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "carbon-monoxide-alarm"
    assert "false alarm" in undone.say
    talk.say("false alarm, it was the clock")
    assert talk.state.walk is None
