"""Cold hands are no frozen valve."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "paused"),
    [
        ("my fingers are frozen, I'll do that after a warm up", True),
        ("feet are like ice and freezing", False),
        ("man my hands are numb", False),
        ("I'm freezing, back in a bit", True),
        ("my beard's frozen", False),
    ],
)
def test_the_walk_stays_where_it_is(mind: Mind, said: str, paused: bool):
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    assert talk.say(said).kind == "control"
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("dump-waste-tank", 2)
    assert talk.state.walk.paused is paused


def test_in_a_danger_nobody_is_sent_inside(mind: Mind):
    talk = Conversation(mind)
    talk.say("I smell gas")
    assert "away from the coach" in talk.say("my hands are freezing").say


@pytest.mark.parametrize(
    "said", ["my hand is frozen to the valve", "my fingers are numb and tingling", "the kids are freezing"]
)
def test_what_may_be_more_is_looked_at(mind: Mind, said: str):
    assert "Get warm first" not in Conversation(mind).say(said).say
