"""What needs work: counted, weighed, and ten wordings of one question in one row."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.types import Mind
from cabassist.review.clusters import Likeness, clustered
from cabassist.review.conversation import Conversation, Turn, Walk
from cabassist.review.marks import Mark
from cabassist.review.needs import Gathering, Need, differing

SEAT = [
    "my seat will not go back",
    "the driver seat is stuck",
    "seat does not recline",
    "how do i adjust the seat",
    "the seat is broken",
]
TOLL = ["where do i pay the toll", "how do tolls work here", "is there a toll on this road", "do we need to pay toll"]
FILL = [
    "how do i fill the fresh tank",
    "fill up the fresh water",
    "top up the drinking water",
    "how do we take on water",
    "where do i hook the hose to fill water",
]


@pytest.fixture(scope="module")
def likeness(mind: Mind) -> Likeness:
    """Tells how near wordings are."""
    return Likeness(mind.matcher, [phrase.text for phrase in mind.knowledge.phrases])


def test_wordings_of_one_question_are_one_row(likeness: Likeness):
    """Also of questions to which there is no answer, which the matcher alone cannot tell apart."""
    groups = clustered(dict.fromkeys([*SEAT, *TOLL, *FILL, "who won the game"], 1.0), likeness)

    for wordings in (SEAT, TOLL, FILL):
        assert any(set(group) >= set(wordings) for group in groups), groups
    for one, other in ((SEAT, TOLL), (SEAT, FILL), (TOLL, FILL)):
        assert not any(set(group) & set(one) and set(group) & set(other) for group in groups), groups
    assert ["who won the game"] in groups


def test_the_wording_that_weighs_most_leads(likeness: Likeness):
    """It names the row."""
    weights = {**dict.fromkeys(SEAT, 1.0), SEAT[2]: 5.0}

    assert clustered(weights, likeness)[0][0] == SEAT[2]


def test_no_wordings_make_no_rows(likeness: Likeness):
    """An empty record needs nothing."""
    assert clustered({}, likeness) == []


AT = datetime.fromisoformat("2026-01-15T21:40:00+00:00")


def turn(text: str, kind: str, minute: int = 0, **more: object) -> Turn:
    """A turn of a test; its id is its text."""
    return Turn(text, AT.replace(minute=minute), "Ann", text, kind=kind, **more)  # type: ignore[arg-type]


def needs(
    likeness: Likeness, *turns: Turn, walks: tuple[Walk, ...] = (), marks: dict[tuple[str, str], Mark] | None = None
):
    """The rows of one session, by name."""
    gathering = Gathering(marks or {})
    gathering.add(Conversation("s", "loon", list(turns), list(walks)))
    return {need.name: need for need in gathering.needs(likeness)}


def test_each_trouble_is_counted_on_its_question(likeness: Likeness):
    """Not answered, choice not taken, unsure; an answer that is sure is none."""
    found = needs(
        likeness,
        turn("where is the kettle", "unknown", verdict="unknown"),
        turn("the light", "clarify", verdict="clarify", options=("bay-lights", "outside-lights")),
        turn("gelled fuel or so", "procedure", verdict="answer", confidence=0.3, topic="gelled-diesel"),
        turn(
            "how do i dump the waste tank", "procedure", 9, verdict="answer", confidence=0.99, topic="dump-waste-tank"
        ),
    )

    assert {name: dict(need.troubles) for name, need in found.items()} == {
        "where is the kettle": {"unanswered": 1},
        "the light": {"choice not taken": 1},
        "gelled fuel or so": {"unsure": 1},
    }


def test_a_choice_that_is_taken_is_no_trouble(likeness: Likeness):
    """The assistant asked back, the driver chose."""
    found = needs(
        likeness,
        turn("the light", "clarify", verdict="clarify", options=("bay-lights", "outside-lights")),
        turn("one", "procedure", taken="bay-lights"),
    )

    assert found == {}


@pytest.mark.parametrize(
    ("text", "minute", "counts"),
    [("it is the waste tank, dump it", 1, 1), ("any gas left", 1, 0), ("dump waste tank now", 20, 0)],
)
def test_the_same_in_other_words_soon_after_is_a_rephrase(likeness: Likeness, text: str, minute: int, counts: int):
    """Other words, or much later, is another question."""
    found = needs(
        likeness,
        turn("dump the waste tank", "procedure", 0, verdict="answer", topic="stow-waste-hose"),
        turn(text, "procedure", minute, verdict="answer", topic="dump-waste-tank"),
    )
    row = found.get("dump the waste tank")

    assert (row.troubles["rephrased"] if row else 0) == counts


def test_steps_at_which_drivers_stop_skip_or_ask_are_rows(likeness: Likeness):
    """Stopping after the last step is none."""
    walk = Walk("t", AT, "Ann", of=9, step=4, ended="stop", whys=[2, 2], skips=[(3, "frozen")])
    done = Walk("u", AT, "Ann", of=9, step=9, ended="stop")
    found = needs(likeness, turn("x", "step"), walks=(walk, done))

    assert {name: dict(need.troubles) for name, need in found.items()} == {
        "t:4": {"stopped": 1},
        "t:2": {"asked why": 2},
        "t:3": {"skipped": 1},
    }


def test_a_mark_outweighs_and_clears(likeness: Likeness):
    """Marked wrong comes first, marked right is no trouble any more."""
    turns = (
        turn("where is the kettle", "unknown", verdict="unknown"),
        turn("who won the game", "unknown", verdict="unknown"),
    )
    marked = {
        ("s", "where is the kettle"): Mark("s", "where is the kettle", False, "galley"),
        ("s", "who won the game"): Mark("s", "who won the game", True),
    }
    found = needs(likeness, *turns, marks=marked)

    assert list(found) == ["where is the kettle"]
    assert found["where is the kettle"].badness == 11.0


def test_what_was_taught_since_is_mended(likeness: Likeness):
    """The same trouble before it was taught does not count, after it does."""
    told = Conversation("s", "loon", [turn("Where is the kettle?", "unknown", verdict="unknown")], [])
    counts = []
    for since in ("2026-01-16T00:00:00+00:00", "2026-01-14T00:00:00+00:00"):
        gathering = Gathering({}, ["where is the kettle"], since)
        gathering.add(told)
        counts.append(len(gathering.needs(likeness)))

    assert counts == [0, 1]


def test_next_that_leads_nowhere_counts_on_the_question_before(likeness: Likeness):
    """However often a driver who is lost says it, it counts three times."""
    nowhere = [turn(f"next {n}", "control", n, say="No procedure is open. Ask for one.") for n in range(1, 8)]
    found = needs(likeness, turn("put water in", "clarify", verdict="clarify", options=("a", "b")), *nowhere)

    assert dict(found["put water in"].troubles) == {"choice not taken": 1, "nothing open": 3}


def test_misheard_words_are_rows_of_their_own(likeness: Likeness):
    """What the recogniser repaired, and what a trainer put right."""
    heard = turn("diesel half", "reading", heard="die sell half")
    wrong = turn("start the jenny", "unknown")
    found = needs(
        likeness,
        heard,
        wrong,
        marks={("s", "start the jenny"): Mark("s", "start the jenny", None, said="start the genny")},
    )

    assert {need.name: list(need.wordings) for need in found.values() if need.sort == "word"} == {
        "die sell": ["diesel"],
        "jenny": ["genny"],
    }


@pytest.mark.parametrize(
    ("heard", "meant", "runs"),
    [
        ("die sell half", "diesel half", [("die sell", "diesel")]),
        ("same", "same", []),
        ("", "x", []),
        ("a b c", "a x c", [("b", "x")]),
    ],
)
def test_the_words_that_differ_are_found(heard: str, meant: str, runs: list[tuple[str, str]]):
    """Runs of words, not letters."""
    assert differing(heard, meant) == runs


def test_worse_comes_first(likeness: Likeness):
    """By weight, not by number alone."""
    rows = [Need("step", "a"), Need("step", "b")]
    for _ in range(3):
        rows[0].add("asked why", "s", "", "")
    rows[1].add("unanswered", "s", "", "")

    assert rows[0].badness < rows[1].badness
