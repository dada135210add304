"""Work of a later step told early, reasons why a step does not apply, and what a plain statement never does. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def place(talk: Conversation) -> tuple[str, int]:
    """The walk in hand and its step."""
    assert talk.state.walk is not None
    return talk.state.walk.topic, talk.state.walk.number


@pytest.mark.parametrize(
    ("walk", "step", "said", "of"),
    [
        ("prepare to depart", 6, "the bay lights are all off", 9),
        ("prepare to depart", 3, "I killed the scene lights", 10),
        ("prepare to depart", 2, "chocks are picked up", 6),
        ("prepare to depart", 1, "galley is latched", 12),
        ("prepare to depart", 1, "roof's clear of ice", 11),
        ("prepare to depart", 5, "I briefed the team", 15),
        ("park for the night", 1, "motor's off", 4),
        ("park for the night", 4, "we're plugged in, tester is green", 7),
        ("park for the night", 5, "I plugged the block heater in", 8),
        ("park for the night", 9, "opened the other cylinder", 12),
        ("park for the night", 8, "vents are clear of snow", 13),
        ("park for the night", 12, "the red light is lit", 14),
        ("park for the night", 7, "62 it is", 9),
    ],
)
def test_what_is_told_early_is_kept_for_its_step(talk: Conversation, walk: str, step: int, said: str, of: int):
    """The step in hand stays, and the record tells of which step it was."""
    talk.say(walk)
    talk.until_step(step)
    reply = talk.say(said)
    assert f"Noted for step {of}." in reply.say
    assert place(talk)[1] == step
    assert talk.events[-1].kind == "told-done"
    assert talk.events[-1].payload["step"] == of


def test_a_step_told_before_is_passed_with_a_word(talk: Conversation):
    talk.say("park for the night")
    talk.say("engine is off")
    talk.until_step(3)
    reply = talk.say("next")
    assert reply.say.startswith("Step 4 was done before")
    assert place(talk) == ("park-for-the-night", 5)


def test_several_passed_steps_are_named_by_number(talk: Conversation):
    talk.say("prepare to depart")
    for said in ("block heater is unplugged", "hoses are stowed", "chocks are away"):
        talk.say(said)
    talk.until_step(3)
    assert talk.say("next").say.startswith("Steps 4, 5 and 6 were done before.")


def test_a_step_with_a_caution_is_said_all_the_same(talk: Conversation):
    """Only with the words that it was told."""
    talk.say("park for the night")
    talk.say("parking brake is set")
    reply = talk.say("next")
    assert place(talk)[1] == 2
    assert "You said that this is done" in reply.say


def test_undo_takes_it_back(talk: Conversation):
    talk.say("park for the night")
    talk.say("engine's off")
    talk.say("undo")
    assert talk.state.walk is not None
    assert talk.state.walk.done == ()


def test_what_is_undone_before_its_step_is_not_kept(talk: Conversation):
    """The brake test starts the engine before it stops it."""
    talk.say("test the air brakes")
    talk.say("engine is off")
    assert talk.state.walk is not None
    assert talk.state.walk.done == ()


@pytest.mark.parametrize(
    "said", ["lights are off", "thermostat is up", "the hatch is closed", "I unlocked the box", "it's in"]
)
def test_a_plain_statement_opens_nothing(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.until_step(3)
    reply = talk.say(said)
    assert reply.kind in ("control", "step")
    assert place(talk)[0] == "park-for-the-night"


@pytest.mark.parametrize(
    ("said", "topic"),
    [("how do I turn off the bay lights", "bay-lights"), ("turn the outside scene lights on or off", "outside-lights")],
)
def test_a_wish_still_opens(talk: Conversation, said: str, topic: str):
    talk.say("prepare to depart")
    talk.say(said)
    assert place(talk)[0] == topic


def test_a_danger_is_heard(talk: Conversation):
    talk.say("park for the night")
    assert talk.say("the vents are clear but I smell gas").kind == "hazard"
    assert talk.say("the bay is on fire").kind == "hazard"


@pytest.mark.parametrize(
    "said", ["no slope here", "it's flat", "its level, no need", "dead level", "no hill", "the lot is level, no chocks needed"]
)  # fmt: skip
def test_level_ground_needs_no_chocks(talk: Conversation, said: str):
    """At the step it is passed without a skip; before it, when it is reached."""
    talk.say("park for the night")
    talk.until_step(3)
    talk.say(said)
    assert place(talk) == ("park-for-the-night", 4)
    early = Conversation(talk.mind)
    early.say("park for the night")
    early.say(said)
    assert place(early) == ("park-for-the-night", 1)
    early.say("next")
    assert "Step 3 does not apply." in early.say("next").say
    assert place(early) == ("park-for-the-night", 4)
    assert early.state.walk is not None
    assert early.state.walk.skipped == ()


def test_a_flat_tire_is_no_level_ground(talk: Conversation):
    talk.say("park for the night")
    talk.say("the left front tire is flat")
    assert talk.state.walk is None or not talk.state.walk.done
