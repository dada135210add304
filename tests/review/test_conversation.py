"""A recorded session read again: turns, walks, and what of it counts."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from cabassist.journal import Journal
from cabassist.journal.erasing import erase_session
from cabassist.review.conversation import Reading, Walk, conversations, latest_sessions

from .conftest import Talk, wrote


def answer(
    kind: str, topic: str | None = None, step: list[int] | None = None, **more: object
) -> tuple[str, dict[str, object]]:
    """An answered event."""
    return "answered", {"kind": kind, "topic": topic, "step": step, "say": "", "options": [], "nearest": [], **more}


def test_a_walk_is_told_with_its_times_and_its_end(journal: Journal, talk: Talk):
    """Seconds at each step, a skip with its reason, a why, a repeat, and where it was left."""
    talk(
        "one",
        "how do I dump the waste tank",
        "next",
        "why",
        "repeat",
        "skip this because the sun is up",
        "next",
        "stop",
    )
    (told,) = conversations(journal)
    (walk,) = told.walks

    assert [turn.text for turn in told.turns][:2] == ["how do I dump the waste tank", "next"]
    assert told.turns[0].question
    assert not told.turns[1].question
    assert (walk.topic, walk.by, walk.ended) == ("dump-waste-tank", "Ann", "stop")
    assert walk.skips == [(2, "the sun is up")]
    assert walk.whys == [2]
    assert walk.repeats == [2]
    assert walk.seconds == {1: 60.0, 2: 180.0, 3: 60.0, 4: 60.0}
    assert (walk.reached, told.minutes) == (4, 6.0)


def test_a_caution_that_is_skipped_is_passed_over(journal: Journal, now: datetime):
    """Said before the step; the driver skips instead of going on."""
    caution = "Warning. It can burn you. Open the valve."
    wrote(
        journal,
        now,
        "one",
        ("said", {"text": "how"}),
        ("asked", {"verdict": "answer"}),
        ("walk", {"topic": "t", "step": 1, "of": 3, "move": "open"}),
        answer("procedure", "t", [1, 3], say=caution),
        ("said", {"text": "next"}),
        ("walk", {"topic": "t", "step": 2, "of": 3, "move": "next"}),
        answer("step", "t", [2, 3], say=caution),
        ("said", {"text": "skip"}),
        ("walk", {"topic": "t", "step": 3, "of": 3, "move": "next"}),
        ("skip", {"topic": "t", "step": 2, "reason": "done before"}),
        answer("step", "t", [3, 3], say="Shut it."),
    )
    (told,) = conversations(journal)

    assert (told.walks[0].cautions, told.walks[0].cautions_passed) == (2, 1)


@pytest.mark.parametrize(
    ("walk", "done"),
    [
        (Walk("t", datetime.min, "Ann", of=3, step=1, ended="end"), True),
        (Walk("t", datetime.min, "Ann", of=3, step=3, ended="stop"), True),
        (Walk("t", datetime.min, "Ann", of=3, step=1, seconds={3: 5.0}), True),
        (Walk("t", datetime.min, "Ann", of=3, step=2, ended="stop"), False),
        (Walk("t", datetime.min, "Ann", of=0, step=1), False),  # an old event that did not say how many steps there are
    ],
)
def test_a_walk_is_done_when_its_last_step_was_reached(walk: Walk, done: bool):
    """Closed at its end or left there; also when the driver went back afterwards."""
    assert walk.done is done


def test_a_reading_is_kept_as_it_was_told(journal: Journal, now: datetime):
    """As data for the figures, in words for the reader; what is withdrawn is only told."""
    outside = {"what": "propane", "which": "outside", "value": 40, "unit": "percent"}
    wrote(
        journal,
        now,
        "one",
        ("said", {"text": "propane outside 40 percent"}),
        ("reading", outside),
        ("reading", {"what": "outside_temperature", "which": None, "value": None, "unit": None}),
        ("withdrawn", outside),
        answer("reading"),
    )
    (told,) = conversations(journal)

    assert told.turns[0].readings == (
        Reading("propane", "outside", 40, "percent"),
        Reading("outside_temperature", "", None, ""),
    )
    assert told.turns[0].notes == (
        "reading: propane outside 40 percent",
        "reading: outside temperature None None",
        "withdrawn: propane outside 40 percent",
    )


def test_what_was_heard_stands_beside_what_was_understood(journal: Journal, now: datetime):
    """The recogniser's text belongs to the utterance after it, and only when it differs."""
    wrote(
        journal,
        now,
        "one",
        ("heard", {"text": "diesel half", "original": "die sell half", "confidence": 0.7}),
        ("said", {"text": "diesel half"}),
        answer("reading"),
        ("heard", {"text": "next", "original": "next", "confidence": 0.9}),
        ("said", {"text": "next"}),
        answer("step"),
        ("said", {"text": "typed"}),
        answer("unknown"),
    )
    (told,) = conversations(journal)

    assert [(turn.heard, turn.heard_confidence) for turn in told.turns] == [
        ("die sell half", 0.7),
        ("", 0.9),
        ("", None),
    ]


def test_an_old_or_broken_off_session_is_read_all_the_same(journal: Journal, now: datetime):
    """Events with fewer fields, of unknown kinds, before anything was said, and a turn without an answer."""
    wrote(
        journal,
        now,
        "one",
        ("timer", {"announce": "over"}),
        ("of-the-future", {"x": 1}),
        ("said", {"text": "how"}),
        ("answered", {"kind": "procedure", "topic": "t"}),
        ("said", {"text": "and then the power went"}),
    )
    (told,) = conversations(journal)

    assert [(turn.kind, turn.topic, turn.step) for turn in told.turns] == [("procedure", "t", None), ("", None, None)]


def test_an_erased_session_and_the_record_itself_are_no_conversations(journal: Journal, talk: Talk, now: datetime):
    """What was erased does not come back in a list."""
    talk("one", "help")
    talk("two", "help")
    erase_session(journal, "one", by="Kim", reason="asked", at=now, key=b"k" * 32)

    assert [told.session for told in conversations(journal)] == ["two"]
    assert list(conversations(journal, ["one"])) == []


@pytest.mark.parametrize(("count", "names"), [(2, ["c", "a"]), (None, ["c", "a", "b"])])
def test_the_newest_sessions_come_first(journal: Journal, now: datetime, count: int | None, names: list[str]):
    """By their last event, not by their name."""
    for session in "bac":
        wrote(journal, now, session, ("said", {"text": "x"}))
        now += timedelta(minutes=1)

    assert latest_sessions(journal, count) == names


def test_an_empty_journal_has_no_sessions(journal: Journal):
    """Nothing, and no error."""
    assert latest_sessions(journal, 5) == []
    assert list(conversations(journal)) == []
