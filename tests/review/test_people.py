"""Drivers: their sheets, their quizzes, their sign-offs."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from cabassist.dialogue.types import Mind
from cabassist.errors import JournalError
from cabassist.journal import EventDraft, Journal
from cabassist.review.conversation import conversations
from cabassist.review.marks import note
from cabassist.review.quiz import CHOICES, Question, Score, chosen, quiz, scored
from cabassist.review.sheet import QUIZZED, record_events, sheets, sign_off

from .conftest import Talk


def test_a_sheet_tells_what_was_walked_and_how(journal: Journal, talk: Talk, now: datetime):
    """Two walks of one procedure by one driver, and nothing of another's."""
    talk("one", "how do I dump the waste tank", "next", "stop", actor="Ann")
    talk(
        "two",
        "how do I dump the waste tank",
        "skip this because it is done",
        "next",
        "next",
        "stop",
        actor="Ann",
        day=1,
    )
    talk("three", "how do I use the bay lights", "stop", actor="Bob", day=2)
    made = sheets(conversations(journal), record_events(journal))
    row = made["Ann"].topics["dump-waste-tank"]

    assert set(made) == {"Ann", "Bob"}
    assert set(made["Ann"].topics) == {"dump-waste-tank"}
    assert (row.times, row.done, row.skipped, row.furthest[0]) == (2, 0, 1, 4)
    assert (row.first, row.last) == (now, now + timedelta(days=1))
    assert row.signed is None


def test_a_sign_off_and_a_quiz_stand_on_the_sheet(journal: Journal, now: datetime):
    """With who and when, also for somebody who never spoke."""
    sign_off(journal, "Ann", "dump-waste-tank", "saw it", by="Kim", at=now, coach="loon")
    payload = {"driver": "Ann", "topic": "dump-waste-tank", "right": 4, "of": 6, "seed": 1}
    note(journal, [EventDraft(QUIZZED, payload)], at=now, coach="loon", by="Kim")
    row = sheets(conversations(journal), record_events(journal))["Ann"].topics["dump-waste-tank"]

    assert row.signed == (now, "Kim")
    assert row.quizzes == [(now, 4, 6)]


@pytest.mark.parametrize("by", ["Ann", "ann", " ANN "])
def test_nobody_signs_off_themselves(journal: Journal, now: datetime, by: str):
    """However the name is written."""
    with pytest.raises(JournalError, match="own work"):
        sign_off(journal, "Ann", "dump-waste-tank", "", by=by, at=now, coach="loon")

    assert journal.count() == 0


@pytest.mark.parametrize("topic", ["dump-waste-tank", "propane-smell", "connect-shore-power", "change-a-tire"])
def test_every_question_has_one_right_choice_from_the_procedure(mind: Mind, topic: str):
    """Four different choices; the right one is what the procedure says at that place."""
    procedure = mind.knowledge.procedure(topic)
    others = [mind.knowledge.procedure(name) for name in mind.knowledge.ids if name != topic]
    asked = quiz(procedure, others, 30, 1)
    dos = [step.do for step in procedure.steps]

    assert len(asked) >= 6
    for question in asked:
        right = question.choices[question.right]
        assert len(set(question.choices)) == CHOICES
        if question.sort == "order":
            before = next(do for do in dos if f"“{do}”" in question.text)
            assert dos[dos.index(before) + 1] == right
        elif question.sort == "done":
            step = next(step for step in procedure.steps if f"“{step.do}”" in question.text)
            assert step.done_when == right
        elif question.sort == "caution":
            step = next(step for step in procedure.steps if f"“{step.do}”" in question.text)
            texts = {caution.text for caution in step.cautions}
            assert texts & set(question.choices) == {right}
        else:
            assert right == procedure.escape


def test_a_hazard_is_asked_for_what_to_do_at_once(mind: Mind):
    """First of all."""
    procedure = mind.knowledge.procedure("propane-smell")
    others = [mind.knowledge.procedure(name) for name in sorted(mind.knowledge.hazards) if name != procedure.id]

    assert quiz(procedure, others, 1, 5)[0].sort == "first"


def test_the_same_seed_asks_the_same(mind: Mind):
    """So that a quiz can be looked at again."""
    procedure = mind.knowledge.procedure("dump-waste-tank")

    assert quiz(procedure, [], 6, 3) == quiz(procedure, [], 6, 3)
    assert quiz(procedure, [], 6, 3) != quiz(procedure, [], 6, 4)


QUESTION = Question(
    "order",
    "What comes next?",
    ("Open the valve of the waste tank.", "Put the gloves on.", "Push the bay door shut.", "Rinse the hose."),
    1,
)


@pytest.mark.parametrize(
    ("answer", "place"),
    [
        ("2", 1),
        ("number 2", 1),
        ("two", 1),
        ("Two.", 1),
        ("put the gloves on", 1),
        ("gloves on", 1),
        ("you rinse the hose", 3),
        ("", None),
        ("5", None),
        ("0", None),
        ("22", None),
        ("no idea", None),
        ("the", None),
    ],
)
def test_an_answer_is_a_number_or_clear_words(answer: str, place: int | None):
    """What is not clear is no answer, never a lucky hit."""
    assert chosen(QUESTION, answer) == place


def test_the_score_is_honest():
    """No answer and missing answers are wrong, and guessing is named."""
    score = scored([QUESTION] * 4, ["2", "1", ""])

    assert score == Score(1, 4)
    assert str(score) == "1 of 4 right; guessing gives about 1.0."
