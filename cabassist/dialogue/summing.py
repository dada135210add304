"""The families of sums, tried in turn on a question."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.dialogue.sums import Family, Told, answered
from cabassist.dialogue.sums_both import BOTH
from cabassist.dialogue.sums_bottles import VAPOR, WHICH
from cabassist.dialogue.sums_fill import FILL
from cabassist.dialogue.sums_propane import PROPANE
from cabassist.dialogue.sums_tank import BLEACH, DEPTH, WEIGHT
from cabassist.dialogue.sums_water import WATER
from cabassist.dialogue.working_sheet import in_unit
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import terms
from cabassist.language.wanted import Wanted, implied, wanted

FAMILIES: tuple[Family, ...] = (WATER, BOTH, PROPANE, VAPOR, WHICH, DEPTH, WEIGHT, BLEACH)


COMPARED = Lazy(
    r"\b(?:much|many \w+) sooner\b|\b(?:do|would|will) (?:i|we) gain\b|\bhow many extra\b|\bvs\b|\bversus\b"
)
"""These ask for the difference of two sums, which none of them is."""


def summed(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the question's amounts come to, with the calculation it belongs to; None when not every amount has its place."""
    want = wanted(question) or implied(question)
    found = terms(question)
    if found and len(found) < 6 and FILL.applies(question, want or Wanted(), found):
        limited = answered(FILL, found, lambda roles: Told(roles, question, want or Wanted(), coach, now))
        if limited is not None:
            return FILL.calculation(question), limited[1]
    if want is None or COMPARED.search(question.frame) or not found or len(found) > 9:
        return None
    best: tuple[float, str, Estimate] | None = None
    for family in FAMILIES:
        if not family.applies(question, want, found):
            continue
        made = answered(family, found, lambda roles: Told(roles, question, want, coach, now))
        if made is not None and (best is None or made[0] > best[0]):
            best = (made[0], family.calculation(question), made[1])
    if best is None:
        return None
    unit = want.unit or ("percent" if want.kind == "share" else "")
    return best[1], in_unit(best[2], unit) if unit else best[2]
