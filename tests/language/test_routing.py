"""From a ranking to a decision, on both sides of each bound."""

from __future__ import annotations

from typing import Any

import pytest

from cabassist.language.matching import Ranking
from cabassist.language.routing import Bounds, decide
from cabassist.language.wishes import asks_leave

HAZARDS = frozenset({"propane-smell"})
BOUNDS = Bounds()


def ranking(**changed: Any) -> Ranking:
    """A clear answer, with some figures changed."""
    plain: dict[str, Any] = {
        "procedures": (("dump-waste-tank", 0.9), ("stow-waste-hose", 0.03), ("propane-smell", 0.01)),
        "wishes": (("dump-on-ground", 0.01),),
        "wish": 0.01,
        "calculations": (("waste-hours", 0.01),),
        "work_out": 0.01,
        "telling": 0.0,
        "defect": 0.0,
        "out_of_scope": 0.02,
        "ambiguous": 0.01,
        "hazard": 0.01,
        "fit": 1.6,
    }
    return Ranking(**(plain | changed))


def test_a_clear_best_is_answered():
    """The likeliest procedure, with its probability."""
    decision = decide(ranking(), None, hazards=HAZARDS, vague_options=())

    assert (decision.verdict, decision.topics[0], decision.confidence) == ("answer", "dump-waste-tank", 0.9)


@pytest.mark.parametrize(("chance", "verdict"), [(BOUNDS.hazard, "hazard"), (BOUNDS.hazard - 0.01, "answer")])
def test_a_hazard_outranks_a_likelier_question_from_its_bound_on(chance: float, verdict: str):
    """It need not be the best, only likely enough."""
    decision = decide(ranking(hazard=chance), None, hazards=HAZARDS, vague_options=())

    assert decision.verdict == verdict


def test_a_sign_of_a_hazard_is_enough_even_when_the_matcher_is_not_sure():
    """Words that report gas are not argued away by a clear question beside them."""
    decision = decide(ranking(hazard=0.02), "propane-smell", hazards=HAZARDS, vague_options=())

    assert (decision.verdict, decision.topics) == ("hazard", ("propane-smell",))


def test_an_unsafe_wish_is_refused_before_it_is_answered():
    """Even when a procedure is near."""
    decision = decide(ranking(wish=BOUNDS.wish), None, hazards=HAZARDS, vague_options=())

    assert (decision.verdict, decision.wish) == ("refuse", "dump-on-ground")


@pytest.mark.parametrize(
    ("hazard", "verdict"), [(BOUNDS.hazard_in_wish, "hazard"), (BOUNDS.hazard_in_wish - 0.01, "refuse")]
)
def test_a_wish_about_a_danger_that_may_be_there_is_warned_of(hazard: float, verdict: str):
    """Refusing alone would leave people where they are."""
    decision = decide(
        ranking(wish=BOUNDS.wish, wishes=(("sleep-on", BOUNDS.wish),), hazard=hazard),
        None,
        hazards=HAZARDS,
        homes={"wish:sleep-on": "propane-smell"},
    )

    assert decision.verdict == verdict


@pytest.mark.parametrize(
    ("said", "leave"),
    [
        ("can I hold the drain open with a wedge", True),
        ("gonna wedge the drain open overnight", True),
        ("the drain wedged open overnight, that's fine?", True),
        ("no ignition, thermostat calling, gas ok", False),
        ("how do I drain the tank", False),
    ],
)
def test_asking_leave_makes_a_likely_wish_a_wish(said: str, leave: bool):
    """ "Can I", "I'm gonna" and "ok?" at the end; "gas ok" reports."""
    decision = decide(ranking(wish=BOUNDS.wish_with_cue), None, hazards=HAZARDS, supposed=asks_leave(said))

    assert decision.verdict == ("refuse" if leave else "answer")


def test_what_is_outside_is_unknown_with_the_nearest():
    """Never a confident wrong procedure."""
    decision = decide(ranking(out_of_scope=BOUNDS.outside), None, hazards=HAZARDS, vague_options=())

    assert decision.verdict == "unknown"
    assert len(decision.topics) == 3


def test_what_is_vague_is_asked_back_with_the_choices_of_its_nearest_vague_wording():
    """Two choices from the wording, the rest from the ranking."""
    decision = decide(
        ranking(ambiguous=BOUNDS.vague), None, hazards=HAZARDS, vague_options=("check-heat-tape", "bay-lights")
    )

    assert decision.verdict == "clarify"
    assert decision.topics[:2] == ("check-heat-tape", "bay-lights")


def test_two_equally_near_procedures_are_asked_back():
    """Half and half is no answer."""
    decision = decide(
        ranking(procedures=(("a", 0.33), ("b", 0.32), ("c", 0.3))), None, hazards=HAZARDS, vague_options=()
    )

    assert decision.verdict == "clarify"


def test_a_calculation_counts_for_the_procedure_it_belongs_to():
    """Asking how long the tank takes is asking about filling it."""
    decision = decide(
        ranking(
            procedures=(("dump-waste-tank", 0.3), ("fill-fresh-water", 0.2), ("stow-waste-hose", 0.01)),
            calculations=(("fill-time", 0.4),),
        ),
        None,
        hazards=HAZARDS,
        homes={"calc:fill-time": "fill-fresh-water"},
    )

    assert decision.topics[0] == "fill-fresh-water"
    assert decision.confidence == pytest.approx(0.6)
