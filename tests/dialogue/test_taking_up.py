"""Back to a procedure that waits or was stopped, in a driver's own words. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _waiting(talk: Conversation, other: str = "check the engine's fluids", step: int = 4) -> None:
    talk.say("park the coach for the night")
    talk.say(f"go to step {step}")
    talk.say(other)


@pytest.mark.parametrize(
    "words",
    [
        "not that, back to parking",
        "nah, not now. parking.",
        "stop this, parking",
        "wrong one, i want the parking list",
        "that's not what i asked for, park for the night",
        "no i don't need any coolant. take me back to the parking",
        "forget that, parking",
        "later. parking first",
        "no no, the parking",
        "not the fluids, the parking",
        "leave it, continue parking",
    ],
)
def test_what_came_between_is_left_for_the_walk_named(talk: Conversation, words: str):
    """It was opened by mistake: it is closed, none of its steps is skipped, and the other one stands where it stood."""
    _waiting(talk)
    reply = talk.say(words)

    assert reply.topic == "park-for-the-night"
    assert [(walk.topic, walk.number, walk.skipped) for walk in talk.state.walks] == [("park-for-the-night", 4, ())]
    assert "Check the engine's fluids is closed." in reply.show


@pytest.mark.parametrize(
    "words",
    [
        "i'm still parking",
        "let me finish the parking",
        "no, i was doing the parking",
        "hang on, i was parking",
        "not that, go back to what i was doing",
    ],
)
def test_a_walk_is_taken_up_by_saying_that_one_is_in_it(talk: Conversation, words: str):
    _waiting(talk)
    reply = talk.say(words)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("park-for-the-night", 4)


def test_a_name_that_two_could_have_means_the_one_that_waits(talk: Conversation):
    """ "Shore power" is no reason to pull its plug."""
    talk.say("connect shore power")
    talk.say("next")
    talk.say("lock a bay")
    reply = talk.say("stop this, shore power")

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("connect-shore-power", 2)]
    assert reply.topic == "connect-shore-power"


def test_what_is_not_open_is_opened_in_place_of_what_was_not_meant(talk: Conversation):
    talk.say("park the coach for the night")
    talk.say("plan the driving hours")
    reply = talk.say("not that. departure checks")

    assert reply.topic == "prepare-to-depart"
    assert [walk.topic for walk in talk.state.walks] == ["park-for-the-night", "prepare-to-depart"]


def test_work_begun_in_between_waits(talk: Conversation):
    """Only what stands at its first step is closed without being asked to."""
    _waiting(talk)
    talk.say("next")
    talk.say("not that, back to parking")

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("check-fluids", 2), ("park-for-the-night", 4)]


def test_trouble_told_is_no_name(talk: Conversation):
    _waiting(talk, "test the air brakes")
    talk.say("not that, it's leaking")

    assert talk.state.walks[-1].topic == "check-air-brakes"
    assert talk.state.walks[-1].skipped == ()


def test_a_reason_of_the_waiting_step_skips_nothing_here(talk: Conversation):
    _waiting(talk, "check the heat tape on the waste tank", step=8)
    reply = talk.say("skip it, the heater plug is frozen solid")

    assert reply.say.startswith("Nothing is skipped.")
    assert (talk.state.walks[-1].at, talk.state.walks[-1].skipped) == (0, ())


@pytest.mark.parametrize(
    "words",
    [
        "resume",
        "carry on",
        "oops, no, carry on",
        "oops no carry on with the parking",
        "go on with parking",
        "i want to finish the parking",
        "pick up the parking where i left off",
        "back to it",
        "wait no, keep going",
        "i didn't mean stop, keep going",
        "don't stop, continue",
    ],
)
def test_a_stopped_walk_goes_on_where_it_was_stopped(talk: Conversation, words: str):
    talk.say("park the coach for the night")
    talk.say("go to step 4")
    assert "Say resume to go on with it." in talk.say("stop").show
    reply = talk.say(words)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("park-for-the-night", 4)
    assert talk.state.left == ()


def test_a_step_without_a_walk_names_the_one_that_was_stopped(talk: Conversation):
    talk.say("park the coach for the night")
    talk.say("next")
    talk.say("stop")

    assert "Park the coach for the night was stopped at step 2: say resume to go on with it." in talk.say("next").say
    assert talk.state.walks == ()


def test_a_stopped_walk_opened_anew_says_where_it_stood(talk: Conversation):
    talk.say("park the coach for the night")
    talk.say("go to step 4")
    talk.say("stop")

    assert talk.say("park the coach for the night").show[0].startswith("You stopped it at step 4")
    assert talk.state.walks[-1].number == 1


def test_what_was_stopped_yesterday_is_not_taken_up(talk: Conversation):
    talk.say("park the coach for the night")
    talk.say("next")
    talk.say("stop")
    talk.say("resume", minutes=13 * 60)

    assert talk.state.walks == ()


def test_a_danger_that_was_left_is_not_resumed_so(talk: Conversation):
    talk.say("it smells of gas in here")
    talk.say("stop")
    talk.say("yes, everybody is out")
    talk.say("resume")

    assert talk.state.walks == ()


@pytest.mark.parametrize("words", ["brake set. next", "i set the brake, what's next", "parking brake is set"])
def test_a_step_of_the_walk_that_is_offered_again_is_done(talk: Conversation, words: str):
    """After a stop the walk under it is offered; what is reported of its step need not be said twice."""
    talk.say("park the coach for the night")
    talk.say("next")
    talk.say("test the air brakes")
    talk.say("stop")
    reply = talk.say(words)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("park-for-the-night", 3)


@pytest.mark.parametrize("words", ["next", "ok next"])
def test_next_alone_shows_the_step_that_waited(talk: Conversation, words: str):
    talk.say("park the coach for the night")
    talk.say("next")
    talk.say("test the air brakes")
    talk.say("stop")
    reply = talk.say(words)

    assert reply.step is not None
    assert reply.step.index == 2


def test_a_title_with_its_step(talk: Conversation):
    """The caution of the whole is said although its first steps are passed over."""
    reply = talk.say("go on with park the coach for the night at step 5")

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("park-for-the-night", 5)
    assert any(line.startswith("DANGER:") for line in reply.show)


def test_a_name_alone_that_the_step_in_hand_may_speak_of_moves_nothing(talk: Conversation):
    talk.say("test the air brakes")
    talk.say("check the engine's fluids")
    talk.say("park the coach for the night")
    talk.say("next")
    before = talk.state.walks
    talk.say("brake")

    assert talk.state.walks == before


def test_a_smell_before_carry_on_is_heard(talk: Conversation):
    talk.say("park the coach for the night")
    talk.say("stop")

    assert talk.say("it smells of gas, carry on").kind == "hazard"


@pytest.mark.parametrize("words", ["parking", "the parking first"])
def test_a_name_alone_takes_up_what_waits_by_it(talk: Conversation, words: str):
    _waiting(talk, "check the tires")
    talk.say("next")
    talk.say(words)

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("check-tires", 2), ("park-for-the-night", 4)]
