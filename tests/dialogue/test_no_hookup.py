"""A place without an outlet passes the step that wants shore power; a coach that is plugged in and dark does not."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import at, number


@pytest.mark.parametrize(
    "said",
    ["no hookup at this place", "can't plug her in, no power in this yard", "nowhere to plug in", "there ain't no outlet around here"],
)  # fmt: skip
def test_no_outlet_passes_the_step_and_says_what_is_off(mind: Mind, said: str):
    talk = at(mind, "park the coach for the night", 7)
    reply = talk.say(said)
    assert number(talk) == 8
    assert "heat tape" in reply.say


@pytest.mark.parametrize("said", ["plugged in but no power inside", "no power yet", "the breaker tripped, no power"])
def test_trouble_with_the_power_passes_nothing(mind: Mind, said: str):
    talk = at(mind, "park the coach for the night", 7)
    talk.say(said)
    assert not (talk.state.walk and talk.state.walk.topic == "park-for-the-night" and talk.state.walk.number > 7)


def test_it_is_said_at_that_step_alone(mind: Mind):
    talk = at(mind, "park the coach for the night", 2)
    assert "heat tape, tank pads" not in talk.say("no hookup at this place").say
