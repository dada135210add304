"""A procedure that opened on top of the walk in hand and was not meant is closed, dropped, and never in the way. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _topics(talk: Conversation) -> list[str]:
    return [walk.topic for walk in talk.state.walks]


@pytest.mark.parametrize(
    ("title", "step", "opens", "words"),
    [
        ("deal with a flat tire on the road", 2, "where are the triangles set out and how", "not the triangles now, the flat one"),
        ("fill the fresh water tank", 15, "water drips from under the sink", "no leak anywhere, go on with the filling"),
        ("fill the fresh water tank", 3, "pump runs and runs", "the pump isn't the problem... filling!"),
        ("the house battery is low", 7, "the generator is running rough", "forget the generator, I want the battery thing"),
        ("test the air brakes", 20, "how do I use the bay lights", "no, not the lights, keep on with the brakes"),
    ],
)  # fmt: skip
def test_what_is_denied_is_closed_and_the_walk_meant_goes_on(
    talk: Conversation, title: str, step: int, opens: str, words: str
):
    talk.say(title)
    talk.say(f"go to step {step}")
    topics = _topics(talk)
    talk.say(opens)
    assert _topics(talk)[:-1] == topics
    reply = talk.say(words)

    assert _topics(talk) == topics
    assert reply.kind == "step"
    assert reply.topic == topics[-1]
    assert f"Step {step} of" in " ".join(reply.show)
    assert talk.events[-2].payload["move"] == "stop"


def test_the_walk_below_may_be_over(talk: Conversation):
    talk.say("deal with a flat tire on the road")
    talk.say("go to step 25")
    talk.say("set out the warning triangles")
    reply = talk.say("I picked the triangles up, I'm done with the flat")

    assert _topics(talk) == []
    assert reply.show[0] == "That was the last step. Deal with a flat tire on the road is done."


def test_what_is_still_spoken_of_stays_open(talk: Conversation):
    talk.say("fill the fresh water tank")
    talk.say("go to step 3")
    talk.say("pump runs and runs")
    talk.say("no, the pump is still running")

    assert _topics(talk) == ["fill-fresh-water", "pump-keeps-running"]


def test_what_nobody_asked_for_is_dropped_when_the_walk_below_goes_on(talk: Conversation):
    _stray(talk)
    reply = talk.say("back to the filling")

    assert _topics(talk) == ["fill-fresh-water"]
    assert not any("waits at step" in line for line in reply.show)


def test_it_does_not_catch_a_report_of_the_walk_below(talk: Conversation):
    _stray(talk)
    reply = talk.say("switched off, the pump's gone quiet")

    assert _topics(talk) == ["fill-fresh-water"]
    assert reply.step is not None
    assert reply.step.index == 4


def test_what_was_asked_for_waits(talk: Conversation):
    talk.say("test the air brakes")
    talk.say("go to step 20")
    talk.say("how do I use the bay lights")
    talk.say("back to the brakes")

    assert _topics(talk) == ["bay-lights", "check-air-brakes"]


def _stray(talk: Conversation) -> None:
    """The tank being filled, with a procedure on top of it that opened by likeness."""
    from dataclasses import replace

    talk.say("fill the fresh water tank")
    talk.say("go to step 3")
    talk.say("how do I use the bay lights")
    top = replace(talk.state.walks[-1], likened=True)
    talk.state = replace(talk.state, walks=(*talk.state.walks[:-1], top))


@pytest.mark.parametrize("said", ["no I meant check the tires", "not that, check the tires", "no, I wanted to check the tires"])  # fmt: skip
def test_one_denied_for_another_does_not_come_back(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("turn on the scene lights")
    reply = talk.say(said)
    assert [walk.topic for walk in talk.state.walks] == ["check-tires"]
    assert "waits" not in reply.say


def test_one_that_was_asked_for_waits_under_another(mind: Mind):
    talk = Conversation(mind)
    talk.say("dump the waste tank")
    talk.say("check the waste level")
    assert [walk.topic for walk in talk.state.walks] == ["dump-waste-tank", "check-waste-level"]


def test_back_to_the_walk_in_hand_at_a_step(mind: Mind):
    talk = Conversation(mind)
    talk.say("start the pre-trip")
    talk.until_step(6)
    reply = talk.say("go back to the pre-trip inspection, step three")
    assert reply.step is not None
    assert reply.step.index == 3


@pytest.mark.parametrize("said", ["Sam's doing the other side", "coach Mike's on the door", "my partner's got the front door"])  # fmt: skip
def test_what_somebody_else_does_opens_nothing(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("prepare to depart")
    talk.until_step(3)
    talk.say(said)
    assert [walk.topic for walk in talk.state.walks] == ["prepare-to-depart"]
