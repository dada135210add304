"""Greetings, leaving, what is asked vaguely, and what is said when the coach sets off with steps left out. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said", ["good morning", "good evening", "hello", "hi there", "morning", "hey", "good morning everyone"]
)
def test_a_greeting_is_returned(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "control"
    assert reply.say.startswith(("Good ", "Hello"))
    assert "Say what you need." in reply.say


def test_a_greeting_tells_what_is_open(talk: Conversation):
    talk.say("log the left mirror is cracked")
    talk.say("park for the night")
    lines = " ".join(talk.say("good morning").show)
    assert "Open defect 1" in lines
    assert "In hand: Park the coach for the night" in lines
    assert talk.state.walk is not None


@pytest.mark.parametrize(
    "said",
    ["what do I need to do before we leave at 8", "good morning, getting ready to leave", "ok so what all has to be done before departure"],
)  # fmt: skip
def test_who_leaves_gets_the_last_round(talk: Conversation, said: str):
    """The inspection is named with it."""
    reply = talk.say(said)
    assert (reply.kind, reply.topic) == ("procedure", "prepare-to-depart")
    assert "Inspect the coach before a trip" in reply.show[0]


@pytest.mark.parametrize(
    "said", ["is the coach ready to drive", "are we ready to go", "is the bus ready", "can we leave"]
)
def test_ready_is_never_said(talk: Conversation, said: str):
    """What is on record against it comes first, and the round is offered."""
    reply = talk.say(said)
    assert reply.options == ("prepare-to-depart",)
    talk.say("no")
    talk.say("left headlight is out")
    reply = talk.say(said)
    assert reply.show[0].startswith("STOP: defect 1")
    assert talk.say("yes").topic == "prepare-to-depart"


@pytest.mark.parametrize(
    "said", ["can we leave the hose on", "is the water ready to drink", "are we ready for the next step"]
)
def test_other_questions_are_left(talk: Conversation, said: str):
    assert talk.say(said).options != ("prepare-to-depart",)


@pytest.mark.parametrize(
    ("said", "option"),
    [("heater's not right", "furnace-will-not-light"), ("the toilet is acting up", "toilet-trouble"), ("trouble with the pump", "pump-keeps-running")],
)  # fmt: skip
def test_vague_trouble_is_asked_back(talk: Conversation, said: str, option: str):
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert option in reply.options


@pytest.mark.parametrize("said", ["how much is left", "how much have we got", "how much do we have left"])
def test_how_much_of_what(talk: Conversation, said: str):
    assert talk.say(said).say.startswith("How much of what?")
    talk.say("waste at forty")
    talk.say("thanks")
    assert "Waste 40 %" in talk.say(said).say


def test_a_reading_left_out_is_named_when_the_coach_rolls(talk: Conversation):
    talk.say("prepare to depart")
    talk.until_step(23)
    talk.say("next")
    reply = talk.say("we're rolling")
    assert reply.show[0].startswith("STOP")
    assert "Skipped: Look at the air needles." in reply.show


def test_a_round_that_is_not_done_is_named_when_the_coach_rolls(talk: Conversation):
    talk.say("prepare to depart")
    talk.until_step(3)
    assert talk.say("rolling").show[0] == "STOP: last round not done."
    assert talk.state.rolling


def test_gas_that_is_half_shut_off_is_named_when_the_coach_rolls(talk: Conversation):
    talk.say("shut off the propane")
    talk.say("next")
    talk.say("stop")
    assert talk.say("rolling").show[0] == "STOP: gas shut-off not done."


def test_nothing_is_held_against_a_coach_with_all_done(talk: Conversation):
    assert talk.say("rolling").show[0].startswith("Rolling.")


@pytest.mark.parametrize(
    "said", ["test the co alarm", "how do I test the co alarm", "how do I check the co detector works"]
)
def test_how_the_alarm_is_tested(talk: Conversation, said: str):
    reply = talk.say(said)
    assert "test button" in reply.say
    assert reply.options == ("keep-cabin-warm",)
    talk.say("park for the night")
    assert "Still at step 1" in talk.say(said).say


def test_what_the_light_is(talk: Conversation):
    talk.say("park for the night")
    talk.until_step(14)
    assert "heat tape's pilot light" in talk.say("what is the red light").say
    reply = talk.say("the red light isn't on")
    assert reply.options == ("check-heat-tape",)


@pytest.mark.parametrize(
    "said", ["how warm should I leave it inside", "what temperature should I set the thermostat to tonight"]
)
def test_how_warm_for_the_night(talk: Conversation, said: str, mind: Mind):
    talk.say("park for the night")
    assert mind.facts["cabin.night_setpoint"] in talk.say(said).say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 1


def test_why_is_of_the_step_once_the_walk_was_spoken_of(talk: Conversation):
    talk.say("park for the night")
    talk.say("how long will 20 gallons last 2 people at 2 gallons a day each")
    assert talk.say("why").show[0] == "Working:"
    talk.say("engine's off")
    assert "Wind" in talk.say("why").say


@pytest.mark.parametrize("said", ["block heater is in", "I put the block heater in", "plugged in the block heater"])
def test_what_was_plugged_in_opens_nothing(talk: Conversation, said: str):
    assert talk.say(said).kind == "control"
    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["about to leave", "what should I check before we go", "we're about to head out"])
def test_a_few_words_of_leaving_may_mean_more_than_one_round(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert set(reply.options) >= {"prepare-to-depart", "pre-trip-inspection"}
