"""The families of sums, tried in turn on a question."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.dialogue.sums import Family, Told, answered
from cabassist.dialogue.sums_both import BOTH
from cabassist.dialogue.sums_bottles import VAPOR, WHICH
from cabassist.dialogue.sums_compared import COMPARED, SCALED, compares
from cabassist.dialogue.sums_fill import FILL
from cabassist.dialogue.sums_propane import PROPANE
from cabassist.dialogue.sums_tank import BLEACH, DEPTH, WEIGHT
from cabassist.dialogue.sums_water import WATER
from cabassist.dialogue.working_sheet import in_unit
from cabassist.estimate.quantities import exact, figure
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import terms
from cabassist.language.wanted import Wanted, implied, wanted

FAMILIES: tuple[Family, ...] = (WATER, BOTH, PROPANE, VAPOR, WHICH, DEPTH, WEIGHT, BLEACH, SCALED)


def summed(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the question's amounts come to, with the calculation it belongs to; None when not every amount has its place."""
    want = wanted(question) or implied(question)
    found = terms(question)
    if found and len(found) < 6 and FILL.applies(question, want or Wanted(), found):
        limited = answered(FILL, found, lambda roles: Told(roles, question, want or Wanted(), coach, now))
        if limited is not None:
            return FILL.calculation(question), limited[1]
    if want is None or not found or len(found) > 9:
        return None
    best: tuple[float, str, Estimate] | None = None
    for family in (COMPARED,) if compares(question) else FAMILIES:
        if not family.applies(question, want, found):
            continue
        made = answered(family, found, lambda roles: Told(roles, question, want, coach, now))
        if made is not None and (best is None or made[0] > best[0]):
            best = (made[0], family.calculation(question), made[1])
    if best is None:
        return None
    if "/" in best[2].unit:
        return best[1], _rate_in(best[2], want.unit)
    unit = want.unit or ("percent" if want.kind == "share" else "")
    return best[1], in_unit(best[2], unit) if unit else best[2]


_METRIC = {"L": ("gal", 3.785411784), "kg": ("lb", 0.45359237)}


def _rate_in(estimate: Estimate, unit: str) -> Estimate:
    """A rate in the unit it is wanted in: liters a minute for gallons a minute."""
    of, per = estimate.unit.split("/")
    if unit not in _METRIC or of != _METRIC[unit][0] or estimate.value is None:
        return estimate
    other = figure(estimate.name, estimate.value, estimate.unit)
    return exact(
        estimate.name, estimate.value * _METRIC[unit][1], f"{unit}/{per}", working=estimate.working, assumptions=estimate.assumptions,
        source=estimate.source, verdict=estimate.verdict, also=(other, *estimate.also),
    )  # fmt: skip
