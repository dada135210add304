"""The families of sums, tried in turn on a question."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.sum_terms import terms
from cabassist.language.wanted import Wanted, implied, wanted
from cabassist.sums.families import Family, Told, answered, likeliest
from cabassist.sums.sums_bleach import BLEACH
from cabassist.sums.sums_both import BOTH
from cabassist.sums.sums_bottles import VAPOR, WHICH
from cabassist.sums.sums_compared import COMPARED, SCALED, compares
from cabassist.sums.sums_depth import DEPTH
from cabassist.sums.sums_fill import FILL
from cabassist.sums.sums_mixing import MIXING
from cabassist.sums.sums_propane import PROPANE
from cabassist.sums.sums_water import WATER
from cabassist.sums.sums_weight import WEIGHT
from cabassist.sums.told_gas import told_gas
from cabassist.sums.told_gas_day import days_of_parts
from cabassist.sums.told_tanks import told_tank
from cabassist.sums.told_vessel import told_vessel
from cabassist.sums.working_sheet import in_unit

FAMILIES: tuple[Family, ...] = (WATER, BOTH, PROPANE, VAPOR, WHICH, DEPTH, WEIGHT, BLEACH, SCALED, MIXING)


def summed(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the question's amounts come to, with the calculation it belongs to; None when not every amount has its place."""
    want = wanted(question) or implied(question)
    found = terms(question)
    if found and len(found) < 6 and FILL.applies(question, want or Wanted(), found):
        limited = answered(FILL, found, lambda roles: Told(roles, question, want or Wanted(), coach, now))
        if limited is not None:
            return FILL.calculation(question), limited[1]
    by_parts = days_of_parts(question)
    if by_parts is not None:
        return "propane-hours", by_parts
    vessel = told_vessel(question, want, coach) if question.amounts else None
    if vessel is not None:
        return vessel
    if want is None or len(question.amounts) > 9:
        return None
    families = (COMPARED,) if compares(question) else FAMILIES
    best = None if families != FAMILIES else told_tank(question, want, coach, now)
    best = best or (told_gas(question, want, now) if families == FAMILIES else None)
    if best is None and found:
        best = likeliest(families, question, want, found, lambda roles: Told(roles, question, want, coach, now))
    if best is None:
        return None
    calculation, estimate = best
    return calculation, as_wanted(estimate, want)


def as_wanted(estimate: Estimate, want: Wanted) -> Estimate:
    """An answer in the unit that it is wanted in."""
    if want.kind in ("energy", "power") and estimate.unit in ("lb/h", "lb/day", "gal/h") and estimate.value is not None:
        return _in_heat(estimate, want)
    if "/" in estimate.unit:
        return _in_that_time(_rate_in(estimate, want.unit))
    unit = want.unit or ("percent" if want.kind == "share" else "")
    return in_unit(estimate, unit) if unit else estimate


def _in_heat(estimate: Estimate, want: Wanted) -> Estimate:
    """Propane burned in a time as the heat it gave."""
    if estimate.value is None or estimate.unit == "gal/h":
        return estimate
    hourly = estimate.value / (24 if estimate.unit == "lb/day" else 1) * BTU_PER_LB
    line = f"{shown(estimate.value)} {estimate.unit} × {BTU_PER_LB:,.0f} BTU/lb = {shown(hourly, 6)} BTU/h"
    used = figure(estimate.name, estimate.value, estimate.unit)
    if want.rate == "day":
        return replace(estimate, value=24 * hourly, low=None, high=None, unit="BTU/day", working=(*estimate.working, line), also=(used,))  # fmt: skip
    return exact("heat", hourly, "BTU/h", working=(*estimate.working, line), assumptions=estimate.assumptions, source=HEAT_SOURCE, verdict=estimate.verdict, also=(used, *estimate.also))  # fmt: skip


_METRIC = {"L": "gal", "kg": "lb"}


_TIMES = {"h": "in an hour", "day": "in a day", "min": "in a minute"}


def _in_that_time(rate: Estimate) -> Estimate:
    """A rate with the amount that it comes to in its time."""
    of, per = rate.unit.split("/")
    if per not in _TIMES or rate.value is None:
        return rate
    return replace(rate, also=(*rate.also, figure(_TIMES[per], rate.value, of)))


def _rate_in(estimate: Estimate, unit: str) -> Estimate:
    """A rate in the unit it is wanted in: liters a minute for gallons a minute."""
    of, per = estimate.unit.split("/")
    if of != _METRIC.get(unit) or estimate.value is None:
        return estimate
    other = figure(estimate.name, estimate.value, estimate.unit)
    return exact(
        estimate.name, converted(estimate.value, of, unit), f"{unit}/{per}", working=estimate.working, assumptions=estimate.assumptions,
        source=estimate.source, verdict=estimate.verdict, also=(other, *estimate.also),
    )  # fmt: skip
