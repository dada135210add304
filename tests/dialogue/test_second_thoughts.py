"""Commands with a second thought, a report or a reason before them, and the record asked in passing. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at, number


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("words", "step"),
    [
        ("oh never mind, go back a step", 2),
        ("forget that, back one please", 2),
        ("no, not that one, next", 4),
        ("I didn't ask for that, carry on", 3),
        ("wrong one, where was I", 3),
    ],
)
def test_what_was_opened_by_mistake_is_left_for_the_walk_under_it(talk: Conversation, words: str, step: int):
    """The walk under it obeys the command, and not the one just opened."""
    talk.say("how do I dump the waste tank")
    talk.until_step(3)
    talk.say("how do I use the bay lights")
    talk.say(words)

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("dump-waste-tank", step)]


def test_a_walk_that_has_moved_is_not_left_by_a_second_thought(talk: Conversation):
    """From its second step on it was meant."""
    talk.say("how do I dump the waste tank")
    talk.say("how do I use the bay lights")
    talk.say("next")
    talk.say("never mind, go back one")

    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("bay-lights", 1)


@pytest.mark.parametrize(
    "words",
    [
        "block heater's been on since midnight, next",
        "cord's been plugged in for about five hours next",
        "it was plugged in overnight, carry on",
        "we had it warming all night next",
    ],
)
def test_a_report_with_next_behind_it_opens_nothing(talk: Conversation, words: str):
    """Since when it has been so is no amount, and the step is ticked."""
    talk.say("how do I start the engine after a night of deep cold")
    talk.until_step(2)
    talk.say(words)

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("cold-start", 3)]


@pytest.mark.parametrize("words", ["the block heater's dead, next", "two of the plugs are burned next"])
def test_trouble_with_next_behind_it_ticks_no_step(talk: Conversation, words: str):
    """A trouble of its own is looked at as such."""
    talk.say("how do I start the engine after a night of deep cold")
    talk.until_step(2)
    talk.say(words)

    assert next(walk.number for walk in talk.state.walks if walk.topic == "cold-start") == 2


@pytest.mark.parametrize("words", ["is the pump off? which step was I on", "did we shut the valve? where was I again"])
def test_the_step_is_said_after_a_question_about_it(talk: Conversation, words: str):
    """Where the walk stands is said, and it stays there."""
    talk.say("how do I winterize the water system")
    talk.until_step(3)
    reply = talk.say(words)

    assert reply.kind == "step"
    assert talk.state.walk is not None
    assert talk.state.walk.number == 3


@pytest.mark.parametrize(
    "words", ["hang on, jump to the low-air warning part", "no, skip ahead to the low air warning bit"]
)
def test_a_part_is_jumped_to_whatever_its_name_sounds_like(talk: Conversation, words: str):
    """The warning is not wished away by who goes on to its test."""
    talk.say("how do I test the air brakes")
    reply = talk.say(words)

    assert reply.kind == "step"
    assert "low-air warning" in reply.say


def test_a_thing_the_coach_has_not_is_skipped_at_its_own_step_only(talk: Conversation):
    """Another step than the one in hand is named, and nothing moves."""
    talk.say("how do I winterize the water system")
    talk.until_step(2)
    reply = talk.say("we'll leave out the shower, there isn't one on ours")

    assert (reply.kind, talk.state.walks[-1].number) == ("control", 2)
    talk.until_step(3)
    talk.say("skip the heat pad, we haven't got one")
    assert talk.state.walks[-1].number == 4


def test_supplies_are_not_skipped_for_want_of_them(talk: Conversation):
    """What keeps people and pipes safe is fetched."""
    talk.say("how do I winterize the water system")
    talk.say("skip the antifreeze, we've got none aboard")

    assert talk.state.walks[-1].number == 1
    assert not talk.state.walks[-1].skipped


@pytest.mark.parametrize(
    "words", ["all stowed and tidy, finished for tonight", "wheels are on, we're done for today", "done for the day"]
)
def test_done_for_the_day_ends_the_walk(talk: Conversation, words: str):
    """With or without what was done before it."""
    talk.say("how do I jack up the coach")
    talk.say("next")
    talk.say(words)

    assert not talk.state.walks


def test_a_walk_is_named_by_the_words_that_opened_it(talk: Conversation):
    """Its title need not hold them."""
    talk.say("set the heat for tonight")
    opened = talk.state.walks[-1].topic
    talk.say("how do I test the air brakes")
    talk.say("back to the heat")

    assert talk.state.walks[-1].topic == opened


def test_a_command_is_no_place_of_a_defect(talk: Conversation):
    """ "Step" is a part of the coach, and of a procedure."""
    talk.say("how do I test the air brakes")
    talk.say("log a cracked lens")
    reply = talk.say("read me that step again")

    assert reply.kind == "step"
    assert talk.say("next").kind == "step"


def test_the_record_is_asked_in_passing(talk: Conversation):
    """What stands on it is told; what does not is not made up, and no walk moves."""
    talk.say("how do I write the report at the end of the day")
    talk.say("log it, the left mirror is cracked")
    there, not_there = talk.say("did you get the mirror as well"), talk.say("is there anything about the fridge")

    assert there.kind == not_there.kind == "control"
    assert "Defect 1" in there.say
    assert not_there.say.startswith("No defect on record names the fridge")
    assert [walk.number for walk in talk.state.walks] == [1]


@pytest.mark.parametrize(
    "words", ["have we got the chocks", "did you get the tickets", "anything on at the rink tonight"]
)
def test_other_questions_are_not_taken_for_one_of_the_record(talk: Conversation, words: str):
    """Nothing is said of defects."""
    talk.say("how do I inspect the coach before a trip")

    assert "defect on record" not in talk.say(words).say


def test_nothing_in_particular_to_log_is_asked_for(talk: Conversation):
    """After a no, too."""
    talk.say("how do I write the report at the end of the day")
    talk.say("leave the bald tire out of the report")
    reply = talk.say("log that as a defect as well then")

    assert reply.kind == "clarify"
    assert "What is wrong" in reply.say


def test_in_a_danger_its_step_comes_before_choices_and_defects(talk: Conversation):
    """A choice of other procedures helps nobody; what is to be logged is logged, and the step said again."""
    talk.say("I got a shock off the door handle and we are plugged in")
    logged = talk.say("ok log it as a defect, shock from the door handle")

    assert logged.kind == "defect"
    assert "This comes first" in logged.say
    assert talk.state.walks[-1].topic == "shock-from-coach-body"
    assert talk.say("who else do I keep away").kind == "step"


@pytest.mark.parametrize(
    ("words", "topic"),
    [
        ("how do I shut the propane off before we fuel up", "shut-off-propane"),
        ("how do I unplug the shore cord before fueling", "disconnect-shore-power"),
    ],
)
def test_a_side_clause_opens_no_procedure_of_its_own(talk: Conversation, words: str, topic: str):
    """What is asked for is the main thing."""
    assert talk.say(words).topic == topic


def test_a_question_after_a_report_is_answered(talk: Conversation):
    """The report is of the walk in hand, the question of another thing."""
    talk.say("how do I open a bay latch")
    talk.say("turn first and then push, the latch is free. what goes in which bay again")

    assert talk.state.walks[-1].topic == "load-luggage"


def test_where_a_thing_is_may_be_asked_behind_a_remark(mind: Mind):
    talk = at(mind, "connect shore power", 3)
    assert "bay 6 door" in talk.say("three lights, wait, where's that tester live again").say
    assert number(talk) == 3
    assert talk.say("smells of gas here, where's the wrench").kind == "hazard"
