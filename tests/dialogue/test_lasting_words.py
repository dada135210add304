"""How long something lasts, in words of everyday."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    ["does it fit till seven in the morning", "is there room till seven", "do we make it to 7 am without dumping"],
)
def test_a_level_until_a_time(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("waste is a half")
    reply = talk.say(said)
    assert reply.kind == "calculation"
    assert reply.estimate is not None
    assert reply.estimate.unit == "h"


@pytest.mark.parametrize(
    "said", ["how long are the lights good for with no hookup", "how many hours of light do we have unplugged"]
)
def test_lights_are_the_house_battery(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("house batteries 12.4")
    assert "amps the house draws" in talk.say(said).say
    talk.say("house draws 10 amps")
    assert talk.say(said).kind == "calculation"


@pytest.mark.parametrize(
    "said", ["and if both furnaces run all night without stopping", "what if both furnaces run nonstop"]
)
def test_furnaces_that_never_stop(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("both bottles are half")
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(12.3, abs=0.2)


@pytest.mark.parametrize("said", ["does the hose fit", "will the cap fit", "are we good to go"])
def test_other_fits(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("waste is a half")
    assert talk.say(said).kind != "calculation"


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("whats the fuel gauge need to be for 200 miles", 33.3),
        ("what does the fuel gauge have to show to do 180 miles", 30.0),
    ],
)
def test_the_gauge_for_a_distance(mind: Mind, said: str, value: float):
    """No level is asked for: the coach's profile has the tank and what it burns."""
    reply = Conversation(mind).say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, abs=0.1)
    assert "At least a quarter of 200 gallons" in " ".join(reply.show)


@pytest.mark.parametrize(
    "said", ["how much diesel do i burn idling till seven", "idling till seven, how many gallons is that"]
)
def test_idling_until_a_time(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert reply.estimate is not None
    assert (reply.estimate.name, reply.estimate.unit) == ("diesel needed", "gal")


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("we need 3 hours 20 for 190 miles, when do we get in if we leave at 22:15", "01:35"),
        ("4 hours 40 for 260 miles, if we roll out at 21:30 when are we in", "02:10"),
        ("gps says 190 miles, 3 hours 20, when do we need to leave to be there at six am", "02:40"),
    ],
)
def test_a_told_drive(mind: Mind, said: str, at: str):
    assert at in Conversation(mind).say(said).say
