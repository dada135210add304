"""The matcher on the shipped knowledge; how good it is on unseen questions is measured in tests/bench."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.matching import Matcher, vectors_for
from cabassist.procedures.library import Phrase


def test_every_title_finds_its_own_procedure(mind: Mind):
    """Whoever knows the name is led there."""
    wrong = {name: mind.matcher.rank(mind.knowledge.title(name)).best for name in mind.knowledge.ids}

    assert {name: best for name, best in wrong.items() if name != best} == {}


def test_all_meanings_together_are_certain(mind: Mind):
    """The figures are probabilities over all meanings."""
    ranking = mind.matcher.rank("how do I get the dump hose out")
    rest = ranking.wish + ranking.work_out + ranking.telling + ranking.defect + ranking.out_of_scope + ranking.ambiguous

    assert 0 <= rest <= 1
    assert sum(chance for _, chance in ranking.procedures) + rest == pytest.approx(1.0, abs=0.05)
    assert list(ranking.procedures) == sorted(ranking.procedures, key=lambda row: -row[1])


def test_a_new_procedure_is_found_without_training(mind: Mind):
    """A trainer's phrasings count from the next start on."""
    asks = [
        "the awning over the door is stuck out", "how do I roll the awning in", "canopy will not retract", "the sun shade arm is jammed",
        "bring the awning back in before we drive", "awning motor hums but nothing moves",
    ]  # fmt: skip
    known = mind.knowledge
    phrases = [*known.phrases, *(Phrase(a, "retract-awning") for a in asks)]
    larger = dataclasses.replace(known, phrase_source=lambda: phrases)
    matcher = Matcher.of(
        larger,
        mind.matcher.encoder,
        np.concatenate([mind.matcher.vectors, vectors_for(asks, mind.matcher.encoder, {})]),
    )

    ranking = matcher.rank("the awning won't come back in")

    assert ranking.best == "retract-awning"


def test_ranking_is_a_function_of_the_text(mind: Mind):
    """The same text twice gives the same figures."""
    assert mind.matcher.rank("is the tape on") == mind.matcher.rank("is the tape on")
