"""Steps told to be done before, reports that are of the step or not, and who stays aboard. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    ["already did the shore power", "shore power is already on", "already done", "we did that earlier", "did the shore power an hour ago", "already did it"],
)  # fmt: skip
def test_what_was_done_before_is_done(talk: Conversation, said: str):
    """It is ticked, not skipped, and the record tells that it was done before."""
    talk.say("park for the night")
    talk.until_step(7)
    reply = talk.say(said)
    assert reply.say.startswith("Step 7 was done before.")
    assert talk.state.walk is not None
    assert all(
        skip.reason == "no reading given" or skip.reason == "could not be read" for skip in talk.state.walk.skipped
    )
    told = [event for event in talk.events if event.kind == "told-done"]
    assert told
    assert told[-1].payload["when"] == "done before"


def test_a_later_step_done_before_is_named(talk: Conversation):
    """The step in hand stays."""
    talk.say("park for the night")
    talk.until_step(2)
    reply = talk.say("already plugged in the block heater")
    assert "You are at step 2" in reply.say
    assert reply.step is not None
    assert reply.step.index == 2


def test_done_before_answers_why_it_is_skipped(talk: Conversation):
    talk.say("park for the night")
    talk.until_step(7)
    talk.say("skip")
    assert talk.say("already did it").say.startswith("Step 7 was done before.")


@pytest.mark.parametrize("said", ["already did most of the shore power", "he already did the shore power I think"])
def test_what_is_half_done_or_doubtful_is_not(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.until_step(7)
    assert "was done before" not in talk.say(said).say


@pytest.mark.parametrize(
    ("asked", "step", "said"),
    [
        ("connect shore power", 1, "locked and lit"),
        ("connect shore power", 1, "keys are on the hook"),
        ("connect shore power", 3, "plugging the cord in now"),
        ("park for the night", 2, "the bay doors are shut"),
        ("park for the night", 2, "it's held shut with a strap"),
    ],
)
def test_what_the_step_is_not_about_ticks_nothing(talk: Conversation, asked: str, step: int, said: str):
    talk.say(asked)
    talk.until_step(step)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == step


@pytest.mark.parametrize(
    ("asked", "step", "said"),
    [
        ("park for the night", 9, "furnace is running, warm air coming"),
        ("park for the night", 9, "I hear the furnace and the air is warm"),
        ("park for the night", 2, "brake is set, chocks going in"),
        ("park for the night", 21, "everything dark and shut"),
        ("check the heat tape", 14, "I feel it warm under the tank"),
    ],
)
def test_a_step_is_done_when_its_end_is_told(talk: Conversation, asked: str, step: int, said: str):
    talk.say(asked)
    talk.until_step(step)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == step + 1


@pytest.mark.parametrize("said", ["furnace is running but the air is cold", "no warm air yet from the furnace"])
def test_trouble_ends_no_step(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.until_step(9)
    talk.say(said)
    walk = next(one for one in talk.state.walks if one.topic == "park-for-the-night")
    assert walk.number == 9


def test_warm_air_opens_no_walk(talk: Conversation):
    assert talk.say("furnace is running, warm air coming").kind == "control"
    assert talk.state.walk is None


@pytest.mark.parametrize(
    ("said", "count"),
    [("so thats 2 with me", 2), ("just the two of us tonight", 2), ("that makes three counting me", 3), ("nobody stays", 0)],
)  # fmt: skip
def test_who_stays_is_counted(talk: Conversation, said: str, count: int):
    talk.say("park for the night")
    talk.until_step(6)
    reply = talk.say(said)
    assert [(one.what, one.value) for one in reply.readings] == [("passengers", count)]
    assert talk.state.walk is not None
    assert talk.state.walk.number == 7


def test_people_without_a_number_are_asked_for(talk: Conversation):
    talk.say("park for the night")
    talk.until_step(6)
    assert "How many is that" in talk.say("everyone off except the lead driver asleep in the rear bunk").say
    assert talk.say("2").readings[0].value == 2


@pytest.mark.parametrize("between", [False, True])
def test_a_defect_is_answered_in_words(talk: Conversation, between: bool):
    """Also when the next step was said since; the walk stays."""
    talk.say("park for the night")
    assert "Is it shut or held" in talk.say("log the bay 3 door latch sticks").say
    if between:
        talk.say("next")
    at = talk.state.walk.number if talk.state.walk is not None else 0
    assert "need not stop the coach" in talk.say("its held shut with a strap").say
    assert talk.state.walk is not None
    assert talk.state.walk.number == at


@pytest.mark.parametrize("said", ["it won't stay shut", "it is sort of held with tape"])
def test_half_an_answer_about_a_defect_is_asked_again(talk: Conversation, said: str):
    talk.say("log the bay 3 door latch sticks")
    assert "Say yes or no" in talk.say(said).say


def test_what_is_put_on_at_the_beginning_moves_on(talk: Conversation):
    """Later the same words are a report of something else than the step."""
    talk.say("how do I dump the waste tank")
    step = talk.say("gloves are on").step
    assert step is not None
    assert step.index == 2
    later = talk.say("gloves are on").step
    assert later is None or later.index == 2


def test_what_is_to_be_skipped_is_skipped(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("next")
    assert "skipped" in talk.say("that one was checked this morning already, so skip it").say
