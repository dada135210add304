"""Follow-ups with a number: so many of it, a share of it, its price, another unit; what cannot be placed is asked back."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State


def last_of(said: str, mind: Mind, now: datetime) -> Reply:
    state = State()
    for text in said.split(" // "):
        outcome = take_turn(state, text, mind=mind, now=now)
        state = outcome.state
    return outcome.reply


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("my kettle is 1200 watts, how many amps is that // and three of those", 30.0),  # 3 x 1200 W / 120 V
        ("hot plate is nine hundred watts, what's it draw in amps // and if i run two", 15.0),  # 1800 / 120
        ("fresh is at eighty gallons // we use four gallons an hour, when do we run dry // with only half the guys aboard, half of that", 40.0),  # 80 / 2
        ("fresh is at eighty gallons // we use four gallons an hour, when do we run dry // what if it's twice that", 10.0),  # 80 / 8
        ("diesel's at half // how many gallons to fill it // and at $3.50 a gallon", 350.0),  # 100 gal
        ("diesel's at half // how many gallons to fill it // what's that at four bucks a gallon", 400.0),
        ("diesel's at half // how many gallons to fill it // four dollars and twenty cents a gallon here, what does that cost", 420.0),
        ("fresh is at half // hows that in gallons", 60.0),  # of 120
        ("walk me through dumping the waste // next // waste is at forty percent // how's that in gallons // and the weight of that", 266.8),  # 32 gal x 8.337
        ("how many gallons in the fresh tank if it's six inches // and pounds", 250.1),  # 30 gal
        ("diesel a quarter is how many gallons", 50.0),  # of 200
        ("outside bottle at half is how many pounds", 20.0),  # of 40 lb
        ("fresh is at a quarter // this hose gives six gallons a minute, how long till it's full // and if the next one does nine", 10.0),  # 90 / 9
        ("outside bottle eighty percent, inside bottle thirty // how many pounds in the inside one // how's that run one furnace, thirty thousand btu an hour, flat out", 8.62),  # 12 lb x 21548 / 30000
    ],
)  # fmt: skip
def test_the_number_follows(mind: Mind, now: datetime, said: str, value: float):
    reply = last_of(said, mind, now)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert not reply.readings


@pytest.mark.parametrize(
    "said",
    [
        "waste is half // how many gallons is that // at four dollars a pound of it",
        "waste is half // how many gallons is that // at four dollars a mile",
        "diesel's at half // how many gallons to fill it // they want three ninety a gallon",
        "how long to fill sixty gallons at six gallons a minute // and pounds",
        "how far can i go on ninety gallons at six miles a gallon // and two of them",
    ],
)
def test_what_has_no_place_is_asked_back(mind: Mind, now: datetime, said: str):
    reply = last_of(said, mind, now)
    assert (reply.kind, reply.options) == ("clarify", ())


@pytest.mark.parametrize(
    "said",
    [
        "thirty bags at forty pounds, what's that // there are three bags leaning on the door and it's windy",
        "thirty bags at forty pounds, what's that // somebody left two bags out in the snow",
        "diesel half, def six gallons",
        "the waste was at sixty when we parked last night",
        "show me how to dump the waste // next // and the weight of that",
    ],
)
def test_what_asks_nothing_is_no_sum_and_no_pause(mind: Mind, now: datetime, said: str):
    reply = last_of(said, mind, now)
    assert reply.kind != "calculation"
    assert not reply.say.startswith("Paused")


@pytest.mark.parametrize(
    "said",
    [
        "other way round, i was on the wrong side of the locker",
        "sorry, other way around, i was looking at them from behind",
        "no wait swap those, i had them mixed up",
        "i mixed them up, other way round",
        "i was facing the wrong way so swap those two",
    ],
)
def test_two_levels_are_swapped_whatever_the_reason(mind: Mind, now: datetime, said: str):
    reply = last_of(f"outside bottle eighty percent, inside bottle thirty // {said}", mind, now)
    assert [(one.which, one.value) for one in reply.readings] == [("outside", 30), ("inside", 80)]
    assert len(reply.withdrawn) == 2


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("oh and the fresh was showing forty percent when i pulled in", ("fresh", 40)),
        ("diesel was three quarters when we got here", ("diesel", 0.75)),
        ("waste was at sixty when we rolled in yesterday", None),
    ],
)
def test_a_level_at_arrival_still_stands(mind: Mind, now: datetime, said: str, told: tuple[str, float] | None):
    readings = last_of(said, mind, now).readings
    assert (readings[0].what, readings[0].value) == told if told else not readings


def test_a_level_told_in_a_danger_is_read_back_and_the_danger_comes_first(mind: Mind, now: datetime):
    said = "i got a shock off the coach's side // we weren't plugged in. the house battery says eleven point nine"
    reply = last_of(said, mind, now)
    assert reply.kind == "reading"
    assert "11.9" in reply.say
    assert reply.topic == "shock-from-coach-body"
