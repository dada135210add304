"""People who come or go, told with how many there are now. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def stored(talk: Conversation) -> dict[str, float | None]:
    return {one.reading.what: one.reading.value for one in talk.state.stored}


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("we took on three more, 27 now", 27),
        ("there were 24, three more got on, twenty seven now", 27),
        ("we dropped off two at the hotel, so 22 now", 22),
        ("one of the parents joined us, we're 25", 25),
        ("another two kids came aboard, that makes twenty six", 26),
        ("27 now, three more got on", 27),
        ("there are 27 of us since we picked up three more at the hotel", 27),
    ],
)
@pytest.mark.parametrize("before", ["waste is two thirds", "fresh is half", ""])
def test_how_many_there_are_now_is_a_head_count(talk: Conversation, before: str, said: str, count: float):
    """Never the level that was told before."""
    if before:
        talk.say(before)
    held = stored(talk)
    reply = talk.say(said)
    assert reply.kind == "reading"
    assert f"{count} people aboard." in reply.say
    assert stored(talk) == {**held, "passengers": count}


@pytest.mark.parametrize("said", ["picked up two more, thirty or so I think", "three more got on, thirty maybe"])
def test_people_who_came_move_no_level(talk: Conversation, said: str):
    talk.say("waste is two thirds")
    talk.say(said)
    assert stored(talk)["waste"] == pytest.approx(2 / 3, abs=0.01)


def test_the_level_itself_is_still_renewed(talk: Conversation):
    talk.say("waste is two thirds")
    talk.say("it's at 80 percent now")
    assert stored(talk)["waste"] == 80.0
