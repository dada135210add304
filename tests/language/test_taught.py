"""How a trainer's wordings bear on the matching, and what they may never do."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.matching import Matcher
from cabassist.language.routing import decide
from cabassist.language.taught import with_taught
from cabassist.procedures.layer import Layer

WATER = "how do i put water in this thing"
TAUGHT = Layer(((WATER, "fill-fresh-water"), ("where is the kettle", "summer-changes")))


@pytest.fixture(scope="module")
def taught(mind: Mind) -> Matcher:
    """The matcher with two wordings taught."""
    return with_taught(mind.matcher, TAUGHT, None)


def test_an_empty_layer_changes_nothing(mind: Mind):
    """The very same matcher: a cold start costs nothing more."""
    assert with_taught(mind.matcher, Layer(), None) is mind.matcher
    assert with_taught(mind.matcher, Layer((), (("a", "b"),)), None) is mind.matcher


@pytest.mark.parametrize("text", [WATER, "How do I put water in this thing?", "how do i put water into this thing"])
def test_a_taught_wording_means_what_was_taught(taught: Matcher, mind: Mind, text: str):
    """Also with another case, a question mark or a small word more; surely enough to be answered."""
    decision = decide(taught.rank(text), None, hazards=mind.knowledge.hazards)

    assert (decision.verdict, decision.topics[0]) == ("answer", "fill-fresh-water")


@pytest.mark.parametrize(
    "text",
    [
        "the light",
        "it's stuck",
        "what's for dinner",
        "how do i dump the waste tank",
        "where is the spare kettle holder bracket screw",
        "",
    ],
)
def test_another_text_means_what_it_did(taught: Matcher, mind: Mind, text: str):
    """Vague questions and those without an answer lie close together as vectors; the words keep them apart."""
    assert taught.rank(text) == mind.matcher.rank(text)


@pytest.mark.parametrize(
    "text", ["it smells of gas in here", "the smoke alarm is going off", "can I sleep with the stove burning"]
)
def test_no_wording_takes_weight_from_a_warning(mind: Mind, text: str):
    """Even taught word for word: the hazard and the unsafe wish stay as likely as before."""
    before = mind.matcher.rank(text)
    after = with_taught(mind.matcher, Layer(((text, "summer-changes"),)), None).rank(text)

    assert after.hazard == before.hazard
    assert after.wish == before.wish
    for name in mind.knowledge.hazards & dict(after.procedures).keys():
        assert dict(after.procedures)[name] == dict(before.procedures)[name]


def test_the_probabilities_still_sum_to_one(taught: Matcher):
    """Over all meanings: what is given to the topic is taken elsewhere."""
    ranking = replace(taught.rank(WATER))
    known = sum(value for _, value in ranking.procedures)

    assert known + ranking.wish + ranking.work_out + ranking.telling + ranking.defect <= 1.0001


def test_vectors_are_worked_out_once(mind: Mind, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The second start takes them from the cache; a damaged copy is made again."""
    first = with_taught(mind.matcher, TAUGHT, tmp_path)
    (kept,) = tmp_path.glob("taught-*.npz")
    monkeypatch.setattr("cabassist.language.taught.vectors_for", lambda *_: pytest.fail("worked out again"))
    second = with_taught(mind.matcher, TAUGHT, tmp_path)
    monkeypatch.undo()
    kept.write_bytes(b"damaged")
    third = with_taught(mind.matcher, TAUGHT, tmp_path)

    for other in (second, third):
        assert np.array_equal(first.taught.vectors, other.taught.vectors)  # type: ignore[attr-defined]
