"""From what needs work to what is mended: proposed, tried on old sessions, accepted."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.errors import ContentProblems, FileProblem, JournalError, UnknownName
from cabassist.journal import Journal
from cabassist.language.taught import with_taught
from cabassist.procedures.layer import Layer
from cabassist.review.conversation import conversations
from cabassist.review.drafts import check_drafts, draft
from cabassist.review.marks import Mark, mark, marks
from cabassist.review.replaying import Answered, judge, replayed
from cabassist.review.workshop import Workshop, diff, discard

from .conftest import Talk

WATER = "how do I put water in this thing"


def taught(mind: Mind, layer: Layer) -> Mind:
    """The mind with a layer on top."""
    return replace(mind, matcher=with_taught(mind.matcher, layer, None), misheard=layer.misheard)


# -- marks ------------------------------------------------------------------------------------------


def test_the_newest_mark_counts(journal: Journal, talk: Talk, mind: Mind, now):
    """A trainer may think again; both stay on record."""
    talk("one", "help")
    (told,) = conversations(journal)
    for right in (False, True):
        mark(journal, Mark("one", told.turns[0].id, right, None, "", "Kim"), at=now, coach="loon")

    assert [made.right for made in marks(journal).values()] == [True]
    assert len(list(journal.read(kind="marked"))) == 2


def test_a_mark_needs_its_turn(journal: Journal, talk: Talk, now):
    """A mistyped name is said, and nothing is written."""
    talk("one", "help")
    with pytest.raises(JournalError, match="has no turn"):
        mark(journal, Mark("one", "0" * 16, True), at=now, coach="loon")

    assert list(journal.read(kind="marked")) == []


def test_a_mark_in_a_journal_that_is_not_sound_is_an_error_of_ours(tmp_path: Path, now):
    """The message names the file; no trainer sees what SQLite raised."""
    path = tmp_path / "journal.sqlite"
    with Journal(path) as journal:
        with closing(sqlite3.connect(path)) as other:
            other.execute("DROP TABLE events")
        with pytest.raises(FileProblem, match=r"journal\.sqlite: cannot be used"):
            mark(journal, Mark("one", "0" * 16, True), at=now, coach="loon")


# -- the workshop -----------------------------------------------------------------------------------


def test_nothing_counts_before_it_is_accepted(trainer: Path, mind: Mind):
    """Proposed, seen as a diff, accepted, and then gone from the proposals."""
    workshop = Workshop(trainer, mind)
    workshop.propose_wording(WATER, "fill-fresh-water")
    workshop.propose_misheard("die cell", "diesel")

    assert not workshop.accepted()
    assert "+how do I put water in this thing" in diff(trainer)
    assert "+die cell = diesel" in diff(trainer)
    layer = workshop.accept()
    assert workshop.accepted() == layer
    assert layer.wordings == ((WATER, "fill-fresh-water"),)
    assert not workshop.proposed()
    assert diff(trainer) == ""
    assert workshop.problems() == []


def test_a_wording_moves_away_from_its_former_topic(trainer: Path, mind: Mind):
    """A trainer who thinks again need not look for the old line."""
    workshop = Workshop(trainer, mind)
    workshop.propose_wording(WATER, "check-fresh-level")
    workshop.accept()
    workshop.propose_wording(WATER, "fill-fresh-water")
    workshop.accept()

    assert workshop.accepted().wordings == ((WATER, "fill-fresh-water"),)
    assert workshop.problems() == []


def test_a_proposal_can_be_forgotten(trainer: Path, mind: Mind):
    """And forgetting nothing is no error."""
    workshop = Workshop(trainer, mind)
    discard(trainer)
    workshop.propose_wording(WATER, "fill-fresh-water")
    discard(trainer)

    assert not workshop.proposed()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("it smells of gas in here", "sign of a hazard"),
        ("next", "is a command"),
        ("", "must be words"),
        ("17 34", "must be words"),
        ("x" * 300, "at most 200"),
    ],
)
def test_what_must_not_be_taught_is_refused(trainer: Path, mind: Mind, text: str, message: str):
    """With the reason, and nothing is written."""
    workshop = Workshop(trainer, mind)
    with pytest.raises(ContentProblems, match=message):
        workshop.propose_wording(text, "fill-fresh-water")

    assert not trainer.exists()


@pytest.mark.parametrize(
    ("heard", "meant", "message"),
    [
        ("thirty", "forty", "numbers"),
        ("not", "now", "numbers"),
        ("die sell", "20", "numbers"),
        ("next", "back", "command"),
        ("water", "waste", "known wordings"),
        ("gas smell", "gash smell", "hazard"),
        ("ab", "abc", "three letters"),
        ("same", "same", "three letters"),
    ],
)
def test_a_word_whose_change_could_mislead_is_refused(trainer: Path, mind: Mind, heard: str, meant: str, message: str):
    """A repair must not turn one reading into another, a no into a yes, or talk a hazard away."""
    with pytest.raises(ContentProblems, match=message):
        Workshop(trainer, mind).propose_misheard(heard, meant)


def test_an_unknown_topic_is_named_with_its_neighbours(trainer: Path, mind: Mind):
    """As everywhere."""
    with pytest.raises(UnknownName, match="fill-fresh-water"):
        Workshop(trainer, mind).propose_wording(WATER, "fill-fresh-watr")


def test_a_shipped_wording_that_loses_is_told(trainer: Path, mind: Mind):
    """The trainer's wins, but knowingly."""
    shipped = next(p for p in mind.knowledge.phrases if p.label == "bay-lights")

    assert Workshop(trainer, mind).propose_wording(shipped.text, "outside-lights") == "bay-lights"


def test_a_file_that_was_spoiled_by_hand_is_named(trainer: Path, mind: Mind):
    """Unsafe lines written past the workshop show in a check."""
    (trainer / "wordings").mkdir(parents=True)
    (trainer / "wordings" / "fill-fresh-water.txt").write_text("I smell gas\n", encoding="utf-8")

    assert "hazard" in str(Workshop(trainer, mind).problems()[0])


# -- replay -----------------------------------------------------------------------------------------


def test_a_replay_shows_what_gets_better(journal: Journal, talk: Talk, mind: Mind):
    """Lost before, walked through now; what follows from it is counted apart."""
    talk("one", WATER, "next", "next", "help")
    layer = Layer(((WATER.lower(), "fill-fresh-water"),))
    found = replayed(conversations(journal), mind, taught(mind, layer), {}, {WATER.lower(): "fill-fresh-water"})
    (row,) = found.differences

    assert (row.judged, row.after.kind, row.after.topic) == ("better", "procedure", "fill-fresh-water")
    assert (found.sessions, found.turns, found.found_their_step) == (1, 4, 2)


def test_a_replay_shows_what_gets_worse(journal: Journal, talk: Talk, mind: Mind):
    """A walk that the driver went along with would no longer open."""
    talk("one", "how do I dump the waste tank", "next")
    layer = Layer((("how do i dump the waste tank", "summer-changes"),))
    found = replayed(conversations(journal), mind, taught(mind, layer), {}, {})

    assert [(row.judged, row.expected) for row in found.differences] == [("worse", "dump-waste-tank")]


def test_the_same_knowledge_makes_no_difference(journal: Journal, talk: Talk, mind: Mind):
    """Whatever was said."""
    talk(
        "one", WATER, "how do I dump the waste tank", "next", "it smells of gas", "waste at 40 percent", "what is a gnu"
    )

    assert replayed(conversations(journal), mind, mind, {}, {}).differences == []


def answered(kind: str, topic: str | None = None, *options: str) -> Answered:
    """An answer of a test."""
    return Answered(kind, topic, 1, options, "")


@pytest.mark.parametrize(
    ("before", "after", "expected", "judged"),
    [
        (answered("unknown"), answered("procedure", "a"), "a", "better"),
        (answered("clarify", None, "b"), answered("clarify", None, "a"), "a", "better"),
        (answered("procedure", "b"), answered("clarify", None, "b", "c"), "a", "better"),
        (answered("procedure", "a"), answered("clarify", None, "a", "c"), "a", "worse"),
        (answered("unknown"), answered("procedure", "b"), "a", "worse"),
        (answered("unknown"), answered("procedure", "b"), None, "look"),
        (answered("procedure", "b"), answered("procedure", "c"), "a", "look"),
        (answered("hazard", "h"), answered("procedure", "a"), "a", "worse"),
        (answered("refuse", "h"), answered("procedure", "a"), "a", "worse"),
        (answered("procedure", "b"), answered("hazard", "a"), "a", "better"),
    ],
)
def test_better_and_worse_are_told_by_what_is_known(
    before: Answered, after: Answered, expected: str | None, judged: str
):
    """A wrong answer is worse than asking back; a lost warning is worst, whatever else is gained."""
    assert judge(before, after, expected, "")[0] == judged


# -- misheard words in a conversation -----------------------------------------------------------------


def test_a_misheard_word_is_understood_as_what_was_meant(mind: Mind, now):
    """The reading is taken."""
    told = replace(mind, misheard=(("die cell", "diesel"),))
    reply = take_turn(State(), "die cell at one half", mind=told, now=now).reply

    assert [(r.what, r.value) for r in reply.readings] == [("diesel", 0.5)]


def test_a_misheard_word_never_talks_a_hazard_away(mind: Mind, now):
    """Even a list that somebody spoiled by hand."""
    told = replace(mind, misheard=(("smell gas", "smell grass"), ("gas", "grass")))

    assert take_turn(State(), "I smell gas", mind=told, now=now).reply.kind == "hazard"


# -- drafts -----------------------------------------------------------------------------------------


def test_a_draft_holds_the_wordings_and_says_what_is_missing(trainer: Path, mind: Mind):
    """It can be read, and the check names what is left to be written."""
    path = draft(
        trainer,
        "replace-kettle",
        "kit",
        'Replace the "kettle"',
        ["where: is the kettle", "- kettle?"],
        mind.knowledge.folder,
    )
    problems = [str(problem) for problem in check_drafts(trainer, mind)]

    assert "where: is the kettle" in path.read_text(encoding="utf-8")
    assert any("at least 15 items" in problem for problem in problems)
    draft(trainer, "boil-kettle", "kit", "Boil the kettle", [f"kettle {n}" for n in range(15)], mind.knowledge.folder)
    assert sum("boil-kettle" in str(problem) and "TODO" in str(problem) for problem in check_drafts(trainer, mind)) > 5


@pytest.mark.parametrize("name", ["../../etc/passwd", "Big", "a--b", "", "a b", "ünd"])
def test_a_draft_needs_a_possible_id(trainer: Path, mind: Mind, name: str):
    """And leaves its folder alone."""
    with pytest.raises(ContentProblems):
        draft(trainer, name, "kit", "Title here", [], mind.knowledge.folder)
    assert not trainer.exists()


def test_a_draft_does_not_take_an_id_that_is_there(trainer: Path, mind: Mind):
    """Neither of the knowledge nor of another draft; and the system must be one."""
    with pytest.raises(FileProblem, match="second of that id"):
        draft(trainer, "dump-waste-tank", "waste", "Dump it", [], mind.knowledge.folder)
    with pytest.raises(ContentProblems, match="must be one of"):
        draft(trainer, "boil-kettle", "wordings", "Boil it", [], mind.knowledge.folder)
