"""Asked in passing about what was said before, levels of what was just spoken of, and alerts taken back. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        ("did we log the fresh yet", "Fresh water 60 %"),
        ("when did I give you the fresh level", "Fresh water 60 %"),
        ("have I told you the propane already", "No propane reading stands"),
        ("hey, did I mention the outside temp", "No outside temp reading stands"),
    ],
)
@pytest.mark.parametrize("walk", ["", "how do I connect shore power"])
def test_whether_and_when_it_was_told(talk: Conversation, words: str, answer: str, walk: str):
    """Answered with what stands, and no procedure opens."""
    talk.say("fresh at sixty percent")
    if walk:
        talk.say(walk)
    walks = talk.state.walks
    reply = talk.say(words)

    assert reply.kind == "control"
    assert reply.say.startswith(answer)
    assert talk.state.walks == walks


def test_what_is_left_on_the_list(talk: Conversation):
    """Of readings without a walk, of steps in one."""
    talk.say("fresh at sixty percent")
    assert "Fresh water" in talk.say("and what's left on your list").say
    talk.say("how do I connect shore power")
    assert "more after this one" in talk.say("what's still on the list").say


def test_the_step_again(talk: Conversation):
    """Only a walk has one; after a no there is none to be said again."""
    talk.say("can the team stay in while I jack it")
    assert talk.say("what was the step again").kind == "control"
    talk.say("how do I connect shore power")
    assert talk.say("what was the step again").kind == "step"


def test_the_limit_again(talk: Conversation):
    """It stands in how the last number was judged."""
    talk.say("how do I test the air brakes")
    talk.say("foot on it one minute it dropped four psi, okay?")
    reply = talk.say("what was the limit again")

    assert reply.kind == "control"
    assert "3 are allowed" in reply.say


@pytest.mark.parametrize(
    ("walk", "words", "step"),
    [
        ("the house battery is low", "which ones do I turn off", "Turn off the scene lights"),
        ("the house battery is low", "okay what should I switch off first", "Turn off the scene lights"),
        ("how do I dump the waste tank", "what do I need to wear", "Put on the gloves"),
        ("how do I connect shore power", "what do I shut off", "Switch off the galley loads"),
    ],
)
def test_what_the_walk_does_it_to(talk: Conversation, walk: str, words: str, step: str):
    """The steps ahead that do it are told, and the walk stays where it is."""
    talk.say(walk)
    walks = talk.state.walks
    reply = talk.say(words)

    assert reply.kind == "step"
    assert step in reply.say
    assert talk.state.walks == walks


@pytest.mark.parametrize(
    "words", ["drop the waste alert", "no need to tell me about the waste any more", "cancel that alert"]
)
def test_an_alert_is_taken_back(talk: Conversation, words: str):
    """So that a level above it raises none."""
    talk.say("let me know if the waste goes over seventy percent")
    assert "no longer watch waste" in talk.say(words).say
    assert not talk.state.alerts
    assert "You wanted to know" not in talk.say("waste at eighty percent").say


def test_the_alarm_of_the_cabin_is_no_alert(talk: Conversation):
    assert "alert is set" not in talk.say("turn off the carbon monoxide alarm").say


@pytest.mark.parametrize(
    ("before", "words", "what", "value", "unit"),
    [
        ("let me know if the waste goes over seventy percent", "it's at forty right now", "waste", 40, "percent"),
        ("tell me when the fresh gets to a quarter", "it's about half now", "fresh", 0.5, "fraction"),
        ("fresh at a hundred and fifty gallons", "a hundred and five I meant", "fresh", 105, "gal"),
        ("fresh at a hundred and fifty gallons", "fifteen", "fresh", 15, "gal"),
        ("waste at a hundred and twenty percent", "sorry, twenty", "waste", 20, "percent"),
    ],
)
def test_a_level_of_what_was_just_spoken_of(
    talk: Conversation, before: str, words: str, what: str, value: float, unit: str
):
    talk.say(before)
    (reading,) = talk.say(words).readings
    assert (reading.what, reading.value, reading.unit) == (what, value, unit)


def test_another_supply_is_named(talk: Conversation):
    """Then it is no correction of the one that could not be."""
    talk.say("fresh at a hundred and fifty gallons")
    (reading,) = talk.say("ten gallons of diesel").readings
    assert reading.what == "diesel"


@pytest.mark.parametrize(
    "words", ["while I'm standing here it's at two thirds", "before I pull the handle, gauge says two thirds"]
)
def test_a_level_after_an_opening(talk: Conversation, words: str):
    """In a walk that asks for one kind of level only it is of that."""
    talk.say("how do I dump the waste tank")
    (reading,) = talk.say(words).readings
    assert (reading.what, reading.value) == ("waste", pytest.approx(2 / 3, abs=0.01))
    assert talk.state.walks[-1].topic == "dump-waste-tank"


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        ("how cold is it out there", "Outside 14 °F"),
        ("so how warm is it in the coach", "Inside 61 °F"),
        ("what's the battery number you have right now", "House battery 12.6 volts"),
        ("how full is the fresh, I lost track", "Fresh water 60 %"),
        ("remind me what the fresh was", "Fresh water 60 %"),
        ("what did I give you for the inside bottle", "Inside cylinder 70 %"),
        ("what have I told you for the spare bottle", "No spare propane reading stands"),
    ],
)
@pytest.mark.parametrize("walk", ["", "how do I connect shore power"])
def test_what_was_told_answers(talk: Conversation, words: str, answer: str, walk: str):
    """Only what was told can, and of several of a kind the one that is named."""
    for told in ("fresh at sixty percent", "14 degrees outside", "inside is 61 degrees", "house battery 12.6 volts", "inside bottle 70 percent", "outside bottle 30 percent"):  # fmt: skip
        talk.say(told)
    if walk:
        talk.say(walk)
    reply = talk.say(words)
    assert reply.kind == "control"
    assert reply.say.startswith(answer)
    assert "Said" in reply.say or "No " in reply.say
    assert reply.say.count("Said") <= 1


@pytest.mark.parametrize(
    "words",
    ["last night it was at twelve nine", "the fresh was half yesterday", "two days ago the waste was at ten percent"],
)
def test_a_level_of_another_day_is_none_now(talk: Conversation, words: str):
    talk.say("fresh at sixty percent")
    reply = talk.say(words)
    assert reply.kind == "control"
    assert not reply.readings
    assert len(talk.state.stored) == 1


def test_and_a_number_after_a_procedure_puts_nothing_right(talk: Conversation):
    talk.say("we have twenty two passengers aboard")
    talk.say("how do I connect shore power")
    talk.say("and thirty")
    assert [held.reading.value for held in talk.state.stored] == [22]


def test_when_it_was_seen_is_no_part_of_a_level(talk: Conversation):
    assert talk.say("waste was forty percent when I lifted the lid").readings[0].value == 40
