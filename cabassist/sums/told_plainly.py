"""Questions whose words place every amount and mean one sum only; they are read before all other readers.

Each reader knows one kind: a rule of so much for every so much, what a fill costs, a burner that is on and off, water that runs in
and out together. It answers only when every amount of the question is one of its own; the network need not look at it again.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.sums.told_cost import cost
from cabassist.sums.told_drawn import drawn
from cabassist.sums.told_from_top import from_top
from cabassist.sums.told_mix import by_rule, for_each
from cabassist.sums.told_needed import gas_needed, water_needed
from cabassist.sums.told_on_off import on_off
from cabassist.sums.told_pads import pads
from cabassist.sums.told_scaled import doubled, heat_of, on_scale
from cabassist.sums.told_showering import showering

Reader = Callable[[Question, Coach, datetime], Estimate | None]

READERS: tuple[tuple[str, Reader], ...] = (
    ("bleach-dose", by_rule),
    ("fill-time", for_each),
    ("propane-weight", cost),
    ("propane-hours", on_off),
    ("waste-hours", from_top),
    ("fill-time", drawn),
    ("fresh-hours", showering),
    ("propane-hours", doubled),
    ("propane-hours", gas_needed),
    ("fresh-hours", water_needed),
    ("propane-weight", on_scale),
    ("propane-hours", heat_of),
    ("heat-pad-watts", pads),
)
"""Each reader with the calculation that takes up a follow-up."""


def told_plainly(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the question comes to, with its calculation; None when no reader has a place for every amount."""
    if not question.amounts:
        return None
    for calculation, read in READERS:
        found = read(question, coach, now)
        if found is not None:
            return calculation, found
    return None
