"""Somebody missing keeps the coach where it is, until heads are counted anew."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    [
        "one kid is missing",
        "headcount is short by one",
        "we're one short",
        "someone is not here, we are 33 and should be 34",
        "count is off by one",
        "we are two kids short",
        "not everyone is back on the bus",
        "a girl never came back from the washroom",
        "one of the players isn't here",
        "can't find one of the kids",
        "what do I do if a kid is missing",
        "we are one short, what do i do",
        "the list says 34, i count 33",
        "we forgot someone",
        "somebody got left at the rest stop",
        "a kid went to the store and hasn't come back",
        "the passenger in bunk 4 is gone",
        "headcount doesn't match",
    ],
)
def test_nobody_drives_off_without_one(said: str, mind: Mind):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "hazard"
    assert (
        reply.say.startswith("Somebody is missing: do not move the coach.") or "do not move the coach" in reply.show[0]
    )
    assert talk.state.missing


@pytest.mark.parametrize(
    "said",
    ["a wheel chock is missing", "the first aid kit is missing", "we're short on propane", "we're one chock short", "we're off", "somebody lost a key", "someone is missing a glove", "nobody is missing", "somebody left the tap on", "the kids aren't here yet", "one of the kids has gone to bed", "the water is gone"],
)  # fmt: skip
def test_what_else_is_missing_is_nobody(said: str, mind: Mind):
    talk = Conversation(mind)
    assert "Somebody is missing" not in talk.say(said).say
    assert not talk.state.missing


@pytest.mark.parametrize("said", ["i count 33", "33", "thirty three", "33 aboard", "there are 33"])
def test_a_count_that_has_fallen_short_stops_the_last_round(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("34 people aboard")
    talk.say("make the last round before departure")
    talk.say("go to step 14")
    reply = talk.say(said)
    assert reply.say.startswith("33 counted, 34 before. One is missing: do not move the coach.")
    assert talk.state.walk is not None
    assert talk.state.walk.number == 14
    for _ in range(3):  # no "next" passes it
        talk.say("next")
    assert talk.state.walk.number == 14
    assert talk.say("can we go").say.startswith("No.")
    after = talk.say("i count 34")
    assert after.step is not None
    assert after.step.index == 15
    assert not talk.state.missing


@pytest.mark.parametrize("said", ["there should be 34 but i have 33", "i keep getting 33", "only 33 of them came back", "tyler isn't on the bus"])  # fmt: skip
def test_where_heads_were_spoken_of(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("34 aboard")
    assert "missing: do not move the coach" in talk.say(said).say
    assert talk.state.missing


@pytest.mark.parametrize("said", ["all here", "everyone's here"])
def test_that_all_are_here_is_no_count(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("make the last round before departure")
    talk.say("go to step 14")
    assert talk.say(said).say == "How many is that? Count heads, and say the number."
    assert talk.state.walk is not None
    assert talk.state.walk.number == 14


def test_said_again_the_smaller_count_stands(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 people aboard")
    talk.say("make the last round before departure")
    talk.say("go to step 14")
    talk.say("33 aboard")
    reply = talk.say("33 aboard")
    assert [(one.what, one.value) for one in reply.readings] == [("passengers", 33)]
    assert not talk.state.missing


def test_how_many_slept_aboard_is_no_measure_for_the_morning(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 people aboard")
    talk.say("6 aboard")
    talk.say("make the last round before departure", minutes=5)
    talk.say("go to step 13")
    assert "You told me" not in talk.say("next").say
    assert "34 before" in talk.say("33 aboard").say


def test_a_count_in_the_step_before_is_no_temperature(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 aboard. minus 19 out")
    talk.say("make the last round before departure")
    talk.say("go to step 13")
    assert "One is missing" in talk.say("i count 33").say
    assert [one.reading.value for one in talk.state.stored if one.reading.what == "outside_temp"] == [-19]


def test_found_heads_are_counted_once_more(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 aboard")
    talk.say("one missing")
    assert talk.say("we found him").say.startswith("Good. Count heads once more")
    assert talk.state.missing


def test_rolling_is_told_off(mind: Mind):
    talk = Conversation(mind)
    talk.say("one kid is missing")
    assert talk.say("we are rolling now").show[0] == "STOP: one missing."


def test_in_a_danger_nobody_goes_back_in(mind: Mind):
    talk = Conversation(mind)
    talk.say("fire at the back")
    reply = talk.say("one kid is missing")
    assert reply.say.startswith("Go back in for nobody.")
    assert reply.kind == "hazard"


def test_fewer_than_before_is_named(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 aboard")
    assert "It was 34." in talk.say("33 aboard").say
    other = Conversation(mind)
    other.say("34 aboard")
    assert "It was 34." not in other.say("no, 33").say


def test_a_second_next_says_that_the_step_is_skipped(mind: Mind):
    talk = Conversation(mind)
    talk.say("34 people aboard")
    talk.say("make the last round before departure")
    talk.say("go to step 14")
    assert talk.say("next").say.startswith("Tell me the head count first")
    assert talk.say("next").say.startswith("Step 14 skipped: heads were not counted.")


def test_a_reading_not_given_at_the_first_step_is_named(mind: Mind):
    talk = Conversation(mind)
    talk.say("check the battery before the night")
    reply = talk.say("next")
    assert reply.say.startswith("Step 1: no reading given.")
    assert reply.step is not None
    assert reply.step.index == 2
