"""Moves through a walk in a driver's own words, and timers taken back."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "words",
    [
        "skip that one, Marty did it on the way in",
        "somebody did that already",
        "my partner took care of that",
        "it's been checked already",
        "no need for that",
        "that doesn't apply here",
        "yeah we don't need that step, go on",
    ],
)
def test_a_skip_with_its_reason_moves_on_and_keeps_the_reason(talk: Conversation, words: str):
    """Nobody has to give the reason twice."""
    talk.say("how do I connect shore power")
    reply = talk.say(words)
    skip = next(event for event in talk.events if event.kind == "skip")

    assert reply.step is not None
    assert reply.step.index == 2
    assert skip.payload["reason"]


@pytest.mark.parametrize("words", ["I did that", "who did that", "that did it"])
def test_doing_it_oneself_is_no_skip(talk: Conversation, words: str):
    """A step done is not a step left out."""
    talk.say("how do I connect shore power")
    talk.say(words)

    assert "skip" not in talk.kinds()


def test_back_to_a_walk_that_waits_under_another(talk: Conversation):
    """The walk named comes to the top, at its step."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("how do I check the tires")
    reply = talk.say("let's get back to the shore power")

    assert reply.topic == "connect-shore-power"
    assert reply.step is not None
    assert reply.step.index == 2
    assert [walk.topic for walk in talk.state.walks] == ["check-tires", "connect-shore-power"]


def test_back_from_a_hazard_says_that_it_is_still_open(talk: Conversation):
    """What was interrupted comes back, and the hazard is not forgotten."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("I got a shock from the door handle")
    reply = talk.say("ok can we go back to what we were doing")

    assert reply.topic == "connect-shore-power"
    assert reply.step is not None
    assert reply.step.index == 2
    assert reply.say.startswith("Still open: ")
    assert "shock-from-coach-body" in [walk.topic for walk in talk.state.walks]


def test_back_to_something_else_is_no_return(talk: Conversation):
    """ "Get back to the hotel" names no walk."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("how long to get back to the hotel in Duluth")

    assert talk.state.walks[0].at == 1


def test_on_to_the_last_step_and_to_a_part_named(talk: Conversation):
    """A part is found by the words of its step."""
    talk.say("how do I check the tires")
    named = talk.say("jump to the tread part")
    last = talk.say("skip to the last one")

    assert named.step is not None
    assert "tread" in named.say.lower()
    assert last.step is not None
    assert last.step.index == last.step.of


def test_a_timer_is_taken_back_and_the_others_run_on(talk: Conversation):
    """The newest goes; undo brings it back."""
    talk.say("remind me in ten minutes to look at the hose")
    talk.say("remind me in twenty minutes to lock the bay")
    reply = talk.say("forget that timer")
    left = [timer.announce for timer in talk.state.timers]
    talk.say("undo")

    assert "lock the bay" in reply.say
    assert left == ["Reminder: look at the hose."]
    assert len(talk.state.timers) == 2


def test_how_many_is_no_correction_of_a_reading(talk: Conversation):
    """ "That's how many gallons" asks; it once turned twelve inches into twelve gallons."""
    talk.say("fresh is at twelve inches")
    reply = talk.say("so that's how many gallons")

    assert reply.readings == ()
    assert reply.withdrawn == ()
    assert talk.state.stored[-1].reading.unit == "in"


@pytest.mark.parametrize(
    ("first", "between", "back"),
    [
        ("how do I fill the fresh tank", "find a water leak", "it was only a wet mop, all dry, back to the filling"),
        ("make the last round before departure", "how do I unplug shore power", "cord's in the bay, on with the departure round"),
        ("how do I check the tires", "check the engine's fluids", "oil is fine let's get back to the tires"),
        ("route the cord and lock the bay", "open a bay latch", "ah there it turned. back to the cord"),
        ("how do I winterize the water system", "where is the bleach", "got it, carry on with the winterizing"),
    ],
)  # fmt: skip
def test_a_report_and_back_to_the_walk_named(talk: Conversation, first: str, between: str, back: str):
    """What came between is told to be settled, and the walk named goes on where it stood."""
    topic = talk.say(first).topic
    talk.say("next")
    talk.say(between)
    reply = talk.say(back)

    assert reply.topic == topic
    assert reply.step is not None
    assert reply.step.index == 2


@pytest.mark.parametrize("words", ["the alarm is still on, back to the filling", "can we get back to the filling", "the water came back to the tank"])  # fmt: skip
def test_trouble_is_no_return(talk: Conversation, words: str):
    """What is not settled, and what only goes somewhere, opens nothing by itself."""
    talk.say("how do I change over the propane cylinders")
    reply = talk.say(words)

    assert reply.topic != "fill-fresh-water" or reply.kind != "step"


@pytest.mark.parametrize(
    "words",
    ["start the hookup over", "take me through the shore power from the top", "they gave us a better outlet. redo the shore power hookup", "run the shore power steps all over again"],
)  # fmt: skip
def test_a_procedure_named_begins_anew(talk: Conversation, words: str):
    """Named with "over" or "from the top" it stands at its first step, also under another."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("next")
    talk.say("where is the flashlight")
    reply = talk.say(words)

    assert reply.topic == "connect-shore-power"
    assert reply.step is not None
    assert reply.step.index == 1


def test_a_step_just_skipped_is_taken_up_again(talk: Conversation):
    """The one meant is the one left out, and it is no longer counted as skipped."""
    talk.say("how do I connect shore power")
    talk.say("skip that one, my partner did it")
    reply = talk.say("no wait go back to that one, he hasn't")

    assert reply.step is not None
    assert reply.step.index == 1
    assert talk.state.walks[-1].skipped == ()


@pytest.mark.parametrize("words", ["stop the tire check", "that's the tire check done", "ok we're finished with the tire inspection", "end the check please"])  # fmt: skip
def test_a_walk_named_is_ended(talk: Conversation, words: str):
    """Named with what it is, the walk is over."""
    talk.say("how do I check the tires")
    talk.say("next")
    talk.say(words)

    assert talk.state.walks == ()


@pytest.mark.parametrize("words", ["stop the leak", "close the tap", "that's the check valve", "finish the sandwich"])
def test_other_things_are_stopped_too(talk: Conversation, words: str):
    """Stopping a thing ends no walk."""
    talk.say("how do I find a water leak")
    talk.say(words)

    assert "find-water-leak" in [walk.topic for walk in talk.state.walks]


def test_a_name_like_a_command_is_a_name(talk: Conversation):
    """ "Back to the fluids" is near to "back to the list" and means the fluids."""
    talk.say("how do I check the engine's fluids")
    talk.say("next")
    talk.say("how do I start the engine in deep cold")

    assert talk.say("now back to the fluids").topic == "check-fluids"


@pytest.mark.parametrize(
    "words",
    ["thermostats at seventy next", "turned the heat up to eighty, what's next", "I set it at seventy five go on"],
)
def test_what_was_set_to_a_figure_is_done(talk: Conversation, words: str):
    """A setting is no reading, and opens no other walk."""
    talk.say("the front furnace won't light")
    talk.say(words)

    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.at) == ("furnace-will-not-light", 1)
    assert talk.state.stored == ()


@pytest.mark.parametrize(("step", "at"), [(1, 0), (2, 2)])
def test_a_setting_alone_moves_the_step_that_asks_for_it(talk: Conversation, step: int, at: int):
    """Elsewhere the next step must be asked for."""
    talk.say("the front furnace won't light")
    talk.until_step(step)
    talk.say("the heat's set to seventy")

    assert next(walk.at for walk in talk.state.walks if walk.topic == "furnace-will-not-light") == at


@pytest.mark.parametrize(
    "said",
    ["nope still dead next", "no luck, what's next", "that didn't help, next step", "still clogged go on", "same thing, what's next"],
)  # fmt: skip
def test_a_step_that_did_not_help_is_done(talk: Conversation, said: str):
    """The next one is asked for, though trouble is told beside it."""
    talk.say("the toilet won't flush")
    talk.say("next")
    reply = talk.say(said)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("toilet-trouble", 3)


@pytest.mark.parametrize("said", ["never mind where was I", "forget it, where were we", "ok where were we up to"])
def test_the_step_in_hand_is_asked_for_again(talk: Conversation, said: str):
    """After talk of something else."""
    talk.say("loading bags what's the rule")
    talk.say("next")
    talk.say("the coach wants a burger, who delivers")
    reply = talk.say(said)

    assert reply.step is not None
    assert (reply.kind, reply.topic, reply.step.index) == ("step", "load-luggage", 2)


@pytest.mark.parametrize("said", ["continue the hookup", "carry on the shore power", "go on with the plugging in"])
def test_the_walk_that_is_named_goes_on(talk: Conversation, said: str):
    """With or without a "with"."""
    talk.say("hooking up shore power")
    talk.say("next")
    talk.say("how do I dump the waste tank")
    reply = talk.say(said)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("connect-shore-power", 2)


@pytest.mark.parametrize(
    "said",
    ["the fire department checked it and it was just a truck outside, carry on where we were", "the fire crew cleared it, resume"],
)  # fmt: skip
def test_cleared_and_on_with_the_walk(talk: Conversation, said: str):
    """The danger is closed and the walk under it goes on, in one breath."""
    talk.say("how do I keep the cabin warm tonight")
    talk.say("next")
    talk.say("the CO alarm is going off")
    reply = talk.say(said)

    assert reply.step is not None
    assert (reply.kind, reply.topic, reply.step.index) == ("step", "keep-cabin-warm", 2)


@pytest.mark.parametrize("said", ["the fire department said we can't carry on", "the fire crew says don't go back in"])
def test_who_may_not_go_on_stays_in_the_danger(talk: Conversation, said: str):
    talk.say("how do I keep the cabin warm tonight")
    talk.say("the CO alarm is going off")
    talk.say(said)

    assert any(walk.topic == "carbon-monoxide-alarm" for walk in talk.state.walks)


def test_a_meter_in_that_danger_measures_it(talk: Conversation):
    talk.say("the CO alarm is going off")
    reply = talk.say("the meter reads fifty and nobody feels sick")

    assert [(one.what, one.value) for one in reply.readings] == [("co_ppm", 50)]


def test_where_were_we_after_a_remark(talk: Conversation):
    """Also while a reading is waited for."""
    talk.say("brief the passengers")
    talk.say("next")
    reply = talk.say("told them. so where were we")

    assert reply.step is not None
    assert (reply.kind, reply.step.index) == ("step", 2)


def test_the_rest_of_a_check_is_that_check(talk: Conversation):
    assert talk.say("walk me through the rest of the tire check").topic == "check-tires"


@pytest.mark.parametrize(
    ("opened", "said"),
    [
        ("everybody has a headache and the carbon monoxide alarm is going", "all the bays are locked"),
        ("everybody has a headache and the carbon monoxide alarm is going", "plugged into the post and got power"),
        ("how do I read the propane gauges", "the waste valve is shut"),
    ],
)
def test_what_is_done_elsewhere_ticks_no_step(talk: Conversation, opened: str, said: str):
    talk.say(opened)
    talk.say("next")
    before = talk.state.walk
    assert before is not None
    talk.say(said)
    assert [walk.number for walk in talk.state.walks if walk.topic == before.topic] == [before.number]
