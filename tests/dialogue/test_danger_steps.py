"""Reports in own words move a danger on by one step; nothing else opens from within it. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def at_step(talk: Conversation, danger: str, number: int) -> None:
    talk.say(danger)
    for _ in range(number - 1):
        talk.say("next")
    assert talk.state.walk is not None
    assert talk.state.walk.number == number


@pytest.mark.parametrize(
    ("danger", "number", "said"),
    [
        ("I smell gas", 1, "stopped in a pullout, brake on, motor off"),
        ("I smell gas", 2, "shook every one of them awake"),
        ("I smell gas", 5, "heard no hiss, so I shut both valves on my way out"),
        ("I smell gas", 6, "they're all a hundred paces away, upwind"),
        ("I smell gas", 8, "twenty four, that's all of us"),
        ("I smell gas", 9, "all in the motel lobby, it's warm there"),
        ("the CO alarm is going off", 7, "valves are shut, did it from outside"),
    ],
)
def test_a_report_goes_on_by_one(talk: Conversation, danger: str, number: int, said: str):
    at_step(talk, danger, number)
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == number + 1


def test_people_who_are_far_off_go_back_for_no_valve(talk: Conversation):
    at_step(talk, "I smell gas", 5)
    reply = talk.say("everybody's up the hill, well upwind")
    assert reply.step is not None
    assert reply.step.index == 6


@pytest.mark.parametrize(
    "said",
    ["all in the gym, it's warm", "all thirty are here, none missing", "we all stand by the trees, upwind", "I can't get a signal here"],
)  # fmt: skip
def test_the_call_is_passed_by_no_other_report(talk: Conversation, said: str):
    at_step(talk, "I smell gas", 7)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == 7


@pytest.mark.parametrize(
    "said", ["two are still inside", "I can still smell it", "one is missing", "the rear door won't open"]
)
def test_trouble_moves_nothing_on(talk: Conversation, said: str):
    at_step(talk, "I smell gas", 3)
    talk.say(said)
    assert talk.state.walks[-1].number == 3


def test_the_last_step_is_left_by_no_report(talk: Conversation):
    at_step(talk, "I smell gas", 10)
    talk.say("nobody goes near it, no smoking, engines off")
    assert [walk.topic for walk in talk.state.walks] == ["propane-smell"]


def test_a_protest_keeps_the_step(talk: Conversation):
    at_step(talk, "I smell gas", 5)
    talk.say("nobody goes back in there, keep to the gas smell")
    assert talk.state.walk is not None
    assert talk.state.walk.number == 5


def test_a_count_of_people_is_no_temperature(talk: Conversation):
    at_step(talk, "I smell gas", 4)
    talk.say("nobody's inside, all thirty here")
    assert not [one for one in talk.state.stored if one.reading.what == "inside_temp"]


def test_a_later_deed_passes_no_call(talk: Conversation):
    at_step(talk, "there is sewage on the ground", 4)
    talk.say("soaked it with disinfectant")
    assert talk.state.walk is not None
    assert talk.state.walk.number == 4


def test_waste_that_is_named_is_a_danger_of_its_own(talk: Conversation):
    talk.say("I smell gas")
    assert talk.say("sewage is running out of bay 4").topic == "clean-up-waste-spill"


def test_somewhere_to_stand_is_no_spill(talk: Conversation):
    at_step(talk, "the CO alarm is going off", 3)
    talk.say("all out on the grass")
    assert [walk.topic for walk in talk.state.walks] == ["carbon-monoxide-alarm"]
