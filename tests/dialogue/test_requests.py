"""A request after a report or a remark, and a choice made otherwise."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "topic"),
    [
        ("the house battery is low", "the charger is on at last. how do I test the air brakes", "check-air-brakes"),
        ("how do I check the tires", "makes sense. walk me through unplugging the shore power", "disconnect-shore-power"),
        ("I smell propane", "the gas company cleared it. take me through the soap test", "leak-test-propane"),
        ("how do I dump the waste tank", "well well. show me how to stow the waste hose", "stow-waste-hose"),
    ],
)  # fmt: skip
def test_the_request_at_the_end_counts(talk: Conversation, before: str, said: str, topic: str):
    """What is told before it does not hide what is asked for."""
    talk.say(before)

    assert talk.say(said).topic == topic
    assert talk.state.walks[-1].topic == topic


def test_a_remark_before_a_command(talk: Conversation):
    """ "Figures. Next" goes on."""
    talk.say("how do I connect shore power")
    reply = talk.say("typical. ok next")

    assert reply.step is not None
    assert reply.step.index == 2


@pytest.mark.parametrize("said", ["oh no i meant the first", "sorry the first one", "wait, number one"])
def test_another_option_may_have_been_meant(talk: Conversation, said: str):
    """The walk just opened gives way to it."""
    options = talk.say("lights").options
    talk.say("the second one")
    reply = talk.say(said)

    assert reply.topic == options[0]
    assert [walk.topic for walk in talk.state.walks] == [options[0]]


def test_a_thing_and_a_deed_answer_a_question_back(talk: Conversation):
    """What the options do not hold may be meant all the same."""
    assert talk.say("I need to do the tank").kind == "clarify"

    assert talk.say("the waste one, empty it").topic == "dump-waste-tank"


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("whiffs a bit of gas up front, it can wait till the next fuel stop surely", "propane-smell"),
        ("half the bunks feel queasy and thick-headed, they can sleep it off can't they", "carbon-monoxide-alarm"),
        ("rear wheel's smoking a little, I'll nurse it to the next exit", "smoke-or-fire"),
        ("exhaust fumes in the cabin but we are nearly there so I carry on", "carbon-monoxide-alarm"),
    ],
)
def test_who_wants_to_leave_a_danger_for_later_is_warned_of_it(talk: Conversation, said: str, topic: str):
    """A refusal would only say no; people have to get out."""
    reply = talk.say(said)

    assert (reply.kind, reply.topic) == ("hazard", topic)


@pytest.mark.parametrize(
    ("before", "said", "topic"),
    [
        (["flat on the right rear what now"], "how do I jack this thing", "jack-the-coach"),
        (["flat on the right rear what now", "next"], "how do I torque them", "torque-wheel-nuts"),
        (["waste at 70 percent"], "show me how to drain it", "dump-waste-tank"),
        (["fresh is a quarter"], "tell me how to fill it up", "fill-fresh-water"),
        (["nothing comes out of the tap", "it's twelve degrees out"], "yeah take me to thawing it", "thaw-frozen-water-line"),
        (["nothing comes out of the tap"], "sure, walk me through thawing the line", "thaw-frozen-water-line"),
    ],
)  # fmt: skip
def test_a_deed_on_what_was_spoken_of(talk: Conversation, before: list[str], said: str, topic: str):
    """The verb tells which procedure, beside the walk in hand."""
    for one in before:
        talk.say(one)
    reply = talk.say(said)

    assert (reply.kind, reply.topic) == ("procedure", topic)
