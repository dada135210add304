"""Defects put right: the place, the words, one more told in place of an answer, one entered by mistake."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.record.defects import all_defects, open_defects
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "no wait its bay 2 not bay 3",
        "sorry, bay 2, not bay 3",
        "actually it's bay two",
        "not bay 3, it's bay 2",
        "hang on, make that bay 2",
        "it should be bay 2 instead of bay 3",
        "my mistake, I meant bay 2",
    ],
)
def test_the_bay_is_put_right(talk: Conversation, said: str):
    talk.say("log the latch sticks on bay 3")
    reply = talk.say(said)
    (defect,) = all_defects(talk.state.record)
    assert defect.place.bays == ("bay 2",)
    assert defect.place.side == "right"
    assert "bay 3" not in defect.words()
    assert reply.kind == "defect"
    assert talk.state.walk is None
    talk.say("undo")
    assert all_defects(talk.state.record)[0].place.bays == ("bay 3",)


def test_of_two_the_one_that_has_the_wrong_place(talk: Conversation):
    talk.say("log the bay 3 latch sticks")
    talk.say("log the bay 1 lamp is dead")
    talk.say("wait, it's bay 4 not bay 3")
    assert [defect.place.bays for defect in all_defects(talk.state.record)] == [("bay 4",), ("bay 1",)]


def test_the_side_alone_and_another_part(talk: Conversation):
    talk.say("log a cracked lamp at bay 4")
    talk.say("actually it's the left side")
    assert all_defects(talk.state.record)[0].place.bays == ("bay 4",)
    talk.say("no, it's the left rear door")
    (defect,) = all_defects(talk.state.record)
    assert defect.place.bays == ()
    assert "bay 4" not in defect.words()


def test_where_it_is_asked_a_place_is_the_answer(talk: Conversation):
    talk.say("log a cracked lamp")
    talk.say("no, on the left side")
    (defect,) = all_defects(talk.state.record)
    assert defect.place.side == "left"
    assert defect.what == "a cracked lamp"


@pytest.mark.parametrize(
    "said",
    [
        "change defect 2 to bay 2 latch sticks",
        "correct number 2 to bay 2 latch sticks",
        "defect 2 should say bay 2 latch sticks",
        "edit defect two so it says bay 2 latch sticks",
    ],
)
def test_the_words_of_one_are_changed_by_its_number(talk: Conversation, said: str):
    """What keeps the coach follows from the new words."""
    talk.say("log a loose trim at bay 1")
    talk.say("log a cracked lamp at bay 4")
    talk.say(said)
    first, second = all_defects(talk.state.record)
    assert "trim" in first.what
    assert second.what == "bay 2 latch sticks"
    assert second.place.bays == ("bay 2",)
    assert second.unclear


@pytest.mark.parametrize("said", ["fix number 1, it's bay 5", "defect 1 is in bay 5", "correct defect 1, that's bay 5"])
def test_the_place_of_one_is_changed_by_its_number(talk: Conversation, said: str):
    talk.say("log a cracked lamp at bay 4")
    talk.say("log a loose trim at bay 1")
    talk.say(said)
    assert [defect.place.bays for defect in all_defects(talk.state.record)] == [("bay 5",), ("bay 1",)]


def test_its_grade_and_its_place_alone(talk: Conversation):
    talk.say("log a cracked lamp at bay 4")
    talk.say("change defect 1 to next service")
    talk.say("change defect 1 to bay 5")
    (defect,) = all_defects(talk.state.record)
    assert (defect.what, defect.severity, defect.place.bays) == ("a cracked lamp at bay 5", "service", ("bay 5",))


def test_a_number_that_is_not_there_logs_nothing(talk: Conversation):
    talk.say("log a cracked lamp at bay 4")
    assert "no defect 7" in talk.say("change defect 7 to bay 2 latch sticks").say
    assert len(all_defects(talk.state.record)) == 1


@pytest.mark.parametrize(
    "said",
    [
        "and the bay 3 latch sticks, log that too",
        "also the bay 3 latch sticks",
        "and the bay 3 latch sticks",
        "log the bay 3 latch sticks as well",
        "the bay 3 latch sticks, write that down too",
    ],
)
def test_one_more_in_place_of_an_answer(talk: Conversation, said: str):
    talk.say("log a cracked lamp")
    talk.say(said)
    first, second = all_defects(talk.state.record)
    assert not first.place.known
    assert second.what.removeprefix("the ") == "bay 3 latch sticks"
    assert second.place.bays == ("bay 3",)


@pytest.mark.parametrize("said", ["bay 4", "it's in bay 4", "and it's at bay 4"])
def test_an_answer_stays_one(talk: Conversation, said: str):
    talk.say("log a cracked lamp")
    talk.say(said)
    (defect,) = all_defects(talk.state.record)
    assert defect.place.bays == ("bay 4",)


@pytest.mark.parametrize(
    "said",
    [
        "take defect 2 off the list, it was a mistake",
        "delete defect 2, entered in error",
        "remove number 2, I logged the wrong bus",
        "cross out defect two, it never broke",
    ],
)
def test_the_newest_entered_by_mistake_is_taken_off(talk: Conversation, said: str):
    talk.say("log a loose trim at bay 1")
    talk.say("log a cracked lamp at bay 4")
    talk.say("next service")
    talk.say("how do I park for the night")
    talk.say("next")
    talk.say(said)
    assert [defect.number for defect in all_defects(talk.state.record)] == [1]
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2
    talk.say("undo")
    assert len(open_defects(talk.state.record)) == 2


def test_an_older_one_is_closed_and_the_numbers_stay(talk: Conversation):
    talk.say("log a loose trim at bay 1")
    talk.say("log a cracked lamp at bay 4")
    talk.say("take defect 1 off the list, that was a mistake")
    assert [defect.number for defect in open_defects(talk.state.record)] == [2]
    assert all_defects(talk.state.record)[0].stages[-1].note == "entered by mistake"


@pytest.mark.parametrize("actor", ["driver", "Sam"])
def test_one_that_stops_the_coach_or_is_of_another_is_only_signed_off(talk: Conversation, actor: str):
    talk.say("log the trim at bay 1 is loose, it stops the coach" if actor == "driver" else "log a loose trim at bay 1")
    talk.say("next service" if actor != "driver" else "it stops the coach")
    if actor != "driver":
        talk.say("this is Sam speaking")
    talk.say("take defect 1 off the list, it was a mistake")
    (defect,) = open_defects(talk.state.record)
    assert defect.state == "repaired"
