"""All people told to be out of a danger of the air: on to the call for help or far away, and never back in to wake anybody."""

from __future__ import annotations

import pytest

from cabassist.dialogue.all_out import is_plain
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

CO, SMOKE, GAS = "co alarm is going off", "there's smoke in the back", "I smell gas inside"


@pytest.mark.parametrize(
    "said",
    [
        "everybody's out in the fresh air",
        "we're all outside, counted thirty one",
        "all thirty one of us are out on the grass",
        "nobody's left inside, all accounted for",
        "everyone I had aboard is outside, I checked every bunk",
        "bus is empty, everybody's in the arena",
        "I got everyone out and counted them",
        "whole team's out, I did a head count",
    ],
)
def test_with_carbon_monoxide_the_call_comes_next(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say(CO)
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == 4
    assert "Nobody goes back in" in reply.say


@pytest.mark.parametrize(
    "said",
    [
        "most of them are out",
        "all the kids are out but coach is still in there",
        "everyone is out I think",
        "they're all out except Billy",
        "almost everyone is out",
        "one player's still in his bunk",
        "is everybody out?",
        "tell everyone to get out",
        "everyone's out but I'm going back for the dog",
    ],
)
def test_where_it_is_not_plain_the_step_stays(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say(CO)
    talk.say(said)
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.at) == ("carbon-monoxide-alarm", 0)
    assert not is_plain(said)


def test_somebody_inside_is_told_to_the_fire_service(mind: Mind):
    talk = Conversation(mind)
    talk.say(CO)
    reply = talk.say("all the kids are out but coach is still in there")
    assert reply.say.startswith("Then not all are out.")


@pytest.mark.parametrize(
    ("danger", "said", "step"),
    [
        (SMOKE, "everybody's out and counted, standing across the road", 3),
        (SMOKE, "everybody's off and nobody's left inside", 3),
        (SMOKE, "everyone's out, nobody's missing, we're two hundred yards upwind", 7),
        (SMOKE, "everyone's out and a hundred yards up the road, all thirty counted", 7),
        (GAS, "everyone's outside already and accounted for", 6),
        (GAS, "all thirty one are out, we're way up the road", 6),
        (GAS, "everyone's out and two hundred steps upwind, counted", 7),
    ],
)
def test_with_fire_and_gas_they_go_far_away_first(mind: Mind, danger: str, said: str, step: int):
    talk = Conversation(mind)
    talk.say(danger)
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == step


def test_the_ill_are_never_passed_over(mind: Mind):
    talk = Conversation(mind)
    talk.say(CO)
    assert talk.say("everyone's out, two feel sick").kind == "hazard"
    assert talk.state.walk is not None
    assert talk.state.walk.at == 0


@pytest.mark.parametrize("said", ["everyone's getting out", "everyone should be out by now"])
def test_who_is_still_on_the_way_out_has_sleepers_to_wake(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say(CO)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.at <= 1


@pytest.mark.parametrize(
    "said",
    [
        "they're all out, driver's going back in for the extinguisher",
        "one of the dads went back inside",
        "everyone's out, coach ran back in for the bags",
    ],
)
def test_nobody_goes_back_in(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say(SMOKE)
    reply = talk.say(said)
    assert "obody goes back in" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.at == 0


def test_next_passes_over_no_step(mind: Mind):
    talk = Conversation(mind)
    talk.say(CO)
    reply = talk.say("everyone's out, next")
    assert reply.step is not None
    assert reply.step.index == 2


def test_what_was_measured_is_kept(mind: Mind):
    talk = Conversation(mind)
    talk.say(CO)
    talk.say("they're all out in the snow and the co meter says forty parts per million")
    assert [one.reading.what for one in talk.state.stored] == ["co_ppm"]
