"""Wishes about the voice are understood in the typed conversation, and disturb nothing."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.manner import MANNERS
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Outcome, State


def talk(mind: Mind, now: datetime, *said: str) -> list[Outcome]:
    state, outcomes = State(), []
    for text in said:
        outcomes.append(take_turn(state, text, mind=mind, now=now))
        state = outcomes[-1].state
    return outcomes


def done(outcome: Outcome) -> list[object]:
    return [event.payload["do"] for event in outcome.events if event.kind == "voice"]


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("slower", "slower"),
        ("Speak slower, please.", "slower"),
        ("you're talking too fast", "slower"),
        ("faster", "faster"),
        ("louder!", "louder"),
        ("I can't hear you", "louder"),
        ("quieter", "quieter"),
        ("softer please", "quieter"),
        ("spell that", "spell"),
        ("can you spell it", "spell"),
        ("turn it up", "louder"),
        ("turn it down", "quieter"),
        ("spell", "spell"),
    ],
)
def test_a_wish_about_the_voice_is_put_on_record(mind: Mind, now: datetime, text: str, verb: str):
    """The front end that has a voice acts on the event."""
    outcome = talk(mind, now, "how do I dump the waste tank", text)[-1]

    assert outcome.reply.kind == "control"
    assert done(outcome) == [verb]


@pytest.mark.parametrize("verb", ["slower", "louder", "spell that"])
def test_the_walk_and_its_step_stay(mind: Mind, now: datetime, verb: str):
    """Neither the step nor what is waited for changes, and "repeat" gives the step again."""
    *_, step, wish, again = talk(mind, now, "how do I dump the waste tank", "next", verb, "repeat")

    assert wish.state.walks == step.state.walks
    assert wish.state.asking == step.state.asking
    assert again.reply.say == step.reply.say


def test_repeat_gives_the_answer_and_not_the_wish(mind: Mind, now: datetime):
    """Outside a procedure too."""
    told, *_, again = talk(mind, now, "waste is at forty percent", "slower", "louder", "repeat")

    assert again.reply.say == told.reply.say


def test_spelling_repeats_what_was_said(mind: Mind, now: datetime):
    """The voice spells it; the screen shows it once more."""
    told, wish = talk(mind, now, "waste is at forty percent", "spell that")

    assert wish.reply.say == told.reply.say
    assert wish.reply.readings == ()


def test_with_nothing_said_there_is_nothing_to_spell(mind: Mind, now: datetime):
    """A wish too early is answered all the same."""
    outcome = talk(mind, now, "spell that")[0]

    assert outcome.reply.say == "I have said nothing yet."
    assert done(outcome) == []


@pytest.mark.parametrize("text", ["smell that", "you smell that?", "loader", "shower", "turn it on", "smell"])
def test_what_only_sounds_like_a_wish_is_none(mind: Mind, now: datetime, text: str):
    """ "Smell that" is one letter from "spell that", and may be a hazard."""
    assert done(talk(mind, now, text)[0]) == []


def test_every_wish_has_wordings(mind: Mind):
    """The words are data, so that a trainer can add some."""
    assert MANNERS.keys() <= mind.steering.verbs
