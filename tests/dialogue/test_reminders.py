"""Standing requests speak up when their time or level comes, once."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("remind me in ten minutes", 10),
        ("set a timer for 25 minutes", 25),
        ("give me a shout in half an hour", 30),
        ("remind me in an hour and a half to look at the tank", 60),
        ("wake me in two hours", 120),
    ],
)
def test_a_reminder_speaks_up_when_its_time_has_come(talk: Conversation, text: str, minutes: int):
    """Not before, and once."""
    reply = talk.say(text)
    before = talk.wait(minutes - 1)
    at = talk.wait(minutes / 2 + 2)

    assert reply.kind == "control"
    assert talk.state.stored == ()
    assert before == ()
    assert len(at) == 1


def test_what_to_be_reminded_of_is_said(talk: Conversation):
    """The reminder keeps the words."""
    talk.say("remind me to check the fresh tank in 9 minutes")

    assert talk.wait(10) == ("Reminder: check the fresh tank.",)


@pytest.mark.parametrize(
    ("text", "quiet", "loud"),
    [
        (
            "tell me when the waste gets to ninety percent",
            "waste is at eighty percent",
            "waste is at ninety two percent",
        ),
        (
            "if propane gets under a quarter say so",
            "outside cylinder is at half",
            "outside cylinder is at twenty percent",
        ),
        ("let me know when fresh drops below a third", "fresh is at half", "fresh is at thirty percent"),
    ],
)
def test_an_alert_waits_for_its_level_and_stores_none_itself(talk: Conversation, text: str, quiet: str, loud: str):
    """The level asked for is no reading."""
    asked = talk.say(text)
    stored = talk.state.stored
    first = talk.say(quiet)
    second = talk.say(loud)
    third = talk.say(loud)

    assert asked.kind == "control"
    assert stored == ()
    assert not any("wanted to know" in line for line in first.show)
    assert any("wanted to know" in line for line in second.show)
    assert not any("wanted to know" in line for line in third.show)


def test_seconds_are_no_time_of_day(talk: Conversation):
    """ "For 20" alone would be eight in the evening."""
    reply = talk.say("set a timer for 20 seconds")

    assert "in 20 seconds" in reply.say


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("gimme a five minute timer", 5),
        ("three hour timer please", 180),
        ("put twelve minutes on the clock", 12),
        ("can you time me for 25 minutes", 25),
        ("i need a countdown for an hour and a half", 90),
        ("half hour timer", 30),
        ("set one for eight minutes", 8),
        ("start the clock for two and a half hours", 150),
    ],
)
def test_a_timer_by_its_length(mind: Mind, said: str, minutes: float):
    """No reminding word is needed, in a walk either."""
    talk = Conversation(mind)
    talk.say("how do I connect shore power")
    talk.say(said)

    assert [timer.due - talk.now for timer in talk.state.timers] == [timedelta(minutes=minutes)]


def test_another_number_keeps_the_unit_of_the_timer(mind: Mind):
    """ "Make it four" after hours means hours."""
    talk = Conversation(mind)
    talk.say("two hour timer")
    reply = talk.say("actually make it four")

    assert "four hours" in reply.say
    assert [timer.due - talk.now for timer in talk.state.timers] == [timedelta(hours=4)]


@pytest.mark.parametrize("said", ["the heat tape has a two hour timer", "it takes a ten minute wait", "is there a one hour limit here"])  # fmt: skip
def test_a_length_told_sets_no_timer(mind: Mind, said: str):
    """Only a wish sets one."""
    talk = Conversation(mind)
    talk.say(said)

    assert talk.state.timers == ()
