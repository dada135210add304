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


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("start ten minutes", 10),
        ("heater's plugged in, start a quarter of an hour", 15),
        ("cord's hooked up time me twenty minutes", 20),
        ("valves are open count two minutes", 2),
        ("bleach is in set four hours", 240),
    ],
)
def test_a_timer_is_started_by_its_length_after_a_report(mind: Mind, said: str, minutes: int):
    """The word timer is not needed, and no procedure is opened."""
    talk = Conversation(mind)
    talk.say("how do I connect shore power")
    talk.say(said)

    assert [timer.due - talk.now for timer in talk.state.timers] == [timedelta(minutes=minutes)]
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "connect-shore-power"


@pytest.mark.parametrize(
    "said",
    ["we start ten minutes late", "the engine wouldn't start thirty minutes ago", "it needs to start ten minutes before", "should I set ten minutes"],
)  # fmt: skip
def test_who_starts_something_sets_no_timer(mind: Mind, said: str):
    """A subject before it, or a question, makes it no command."""
    talk = Conversation(mind)
    talk.say(said)

    assert talk.state.timers == ()


@pytest.mark.parametrize(
    ("said", "minutes", "announce"),
    [
        ("another one fifteen minutes for the kettle", 15, "Reminder: the kettle."),
        ("and one more, half an hour", 30, "Half an hour is over."),
        ("add a second timer for five minutes", 5, "Five minutes are over."),
        ("also one for eight minutes about the hose", 8, "Reminder: the hose."),
    ],
)
def test_a_second_timer_stands_beside_the_first(talk: Conversation, said: str, minutes: int, announce: str):
    """It is set by its length alone, since a timer was just spoken of."""
    talk.say("set a timer for forty minutes for the laundry")
    talk.say(said)

    assert [timer.announce for timer in talk.state.timers] == ["Reminder: the laundry.", announce]
    assert talk.state.timers[-1].due - talk.now == timedelta(minutes=minutes)


def test_another_length_alone_sets_no_timer(talk: Conversation):
    """No timer was spoken of."""
    talk.say("waste at forty percent")
    talk.say("and another ten minutes")

    assert all("over" not in timer.announce for timer in talk.state.timers)


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("cancel the short one", "Fifty minutes are over."),
        ("kill the long one please", "Reminder: the kettle."),
        ("scrap the first one", "Reminder: the kettle."),
        ("drop the kettle one", "Fifty minutes are over."),
        ("lose the fifty minute one", "Reminder: the kettle."),
    ],
)
def test_the_timer_that_is_named_is_taken_back(talk: Conversation, said: str, left: str):
    """By what it is for, by its length or by its place among several."""
    talk.say("start a timer for fifty minutes")
    talk.say("another one nine minutes for the kettle")
    talk.say("timers")
    reply = talk.say(said)

    assert reply.kind == "control"
    assert [timer.announce for timer in talk.state.timers] == [left]


@pytest.mark.parametrize("said", ["yell at me at eleven", "give us a shout at eleven", "and holler at eleven", "give me a buzz at eleven"])  # fmt: skip
def test_who_is_to_be_shouted_at_sets_a_time(talk: Conversation, said: str):
    """However it is to be said."""
    talk.say(said)

    assert [timer.due.strftime("%H:%M") for timer in talk.state.timers] == ["23:00"]


@pytest.mark.parametrize(
    ("said", "at"),
    [("no make that half past four", "04:30"), ("actually make it six", "06:00"), ("sorry, five fifteen", "05:15")],
)
def test_a_time_of_day_is_moved(talk: Conversation, said: str, at: str):
    """One reminder is left, and it keeps what it is for."""
    talk.say("wake me at four so I can check the bottles")
    talk.say(said)

    assert [(timer.due.strftime("%H:%M"), timer.announce) for timer in talk.state.timers] == [
        (at, "Reminder: check the bottles.")
    ]


def test_what_is_no_time_leaves_the_timer(talk: Conversation):
    talk.say("remind me in ten minutes")
    talk.say("no make that the big one")

    assert len(talk.state.timers) == 1


@pytest.mark.parametrize(
    "said",
    ["what have you got me down to be woken for", "when are you waking me up", "what alarms have I got", "is there anything set to wake me"],
)  # fmt: skip
def test_what_is_set_is_told(talk: Conversation, said: str):
    talk.say("wake me at four to check the bottles")
    reply = talk.say(said)

    assert reply.kind == "control"
    assert "check the bottles" in reply.say


def test_an_alert_for_the_level_told_last(talk: Conversation):
    talk.say("waste thirty percent")
    talk.say("tell me when I report it over sixty")

    assert [(alert.what, alert.level) for alert in talk.state.alerts] == [("waste", pytest.approx(0.6))]
