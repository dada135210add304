"""How much will be used and whether that is there, asked in one breath: the amount first, then yes or no."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import HOURS, PER_H, converted
from cabassist.language.lazy import Lazy

_USES = r"(?:need|needs|needed|use|used|burn|burned|take|takes|go through|eat|want|required?|gone|goes)"
_NEED_ASKED = Lazy(
    rf"\bhow (?:much|many)\b(?!(?: \w+){{0,3}} (?:left|over|short|spare|more))(?: (?:of )?\w+){{0,5}}? {_USES}\b|\b(?:gallons|pounds|lbs?) {_USES}\b|\bwhat (?:do|will|does|would) (?:we|i|it|they|that) {_USES}\b|\b(?:need|use|burn|take)s? how (?:much|many)\b"
)
_ENOUGH = Lazy(
    r"\b(?:enough|make it|makes it|last|lasts|do it|do we have (?:it|that)|have (?:i|we) got (?:it|that)|is (?:it|that) ok(?:ay)?|are we ok(?:ay)?|are we good|will (?:it|that) do|cover(?:s|ed)?|got that|have that)\b"
)
_GAS = Lazy(r"\b(?:propane|lp|lpg|gas|burn\w*|bottles?|cylinders?|furnace|heat|pounds?|lbs?)\b|<lb")
_OTHER = Lazy(r"\b(?:diesel|generator|genny|bleach|bags?|axle|weigh\w*|keep|reserve|hold back|leave)\b")
_WATER = frozenset({"gal", "L"})
_MASS = frozenset({"lb", "kg"})


def gas_needed(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Pounds that will burn until then, and whether they are there."""
    if not _GAS.search(q.frame) or _OTHER.search(q.frame) or len(q.amounts) != 3 or not _asked(q):
        return None
    held = [one for one in q.amounts if one.unit in _MASS and not one.per and not one.each]
    rates = [one for one in q.amounts if one.unit in _MASS and one.per in ("h", "day", "night", "week")]
    spans = [one for one in q.amounts if one.unit in HOURS and not one.per and one.unit != "s"]
    bare = [one for one in q.amounts if one.tag == "n"]
    if (
        not held
        and len(rates) == 1
        and q.has(r"\b(?:got|have|has|is|with|there) (?:about |only )?<n>|<n> (?:\w+ )?(?:left|aboard|on board|in)\b")
    ):
        held = [one._replace(unit=rates[0].unit) for one in bare]
    if [len(held), len(rates), len(spans)] != [1, 1, 1]:
        return None
    rate, span = rates[0], spans[0]
    unit = held[0].unit
    hours = span.value * (24.0 if span.unit == "night" and rate.per != "h" else HOURS[span.unit])
    if span.unit == "night" and rate.per == "h":
        return None  # nights of how many hours?
    need = converted(rate.value, rate.unit, unit) * PER_H[rate.per] * hours
    line = f"{shown(rate.value)} {rate.tag} × {shown(span.value)} {span.unit} = {shown(need)} {unit}"
    return _judged("burns", need, held[0].value, unit, line, unit == "lb")


def water_needed(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Gallons that so many people use in so many days, and whether they are there."""
    if (
        _OTHER.search(q.frame)
        or q.has(r"\b(?:propane|waste|black|percent|furnace)\b")
        or len(q.amounts) != 4
        or not _asked(q)
    ):
        return None
    people = [one for one in q.amounts if one.tag == "people"]
    rates = [one for one in q.amounts if one.unit in _WATER and one.per == "day"]
    spans = [one for one in q.amounts if one.unit in ("day", "h", "week") and not one.per]
    held = [one for one in q.amounts if one.tag in ("gal", "L", "n")]
    if [len(people), len(rates), len(spans), len(held)] != [1, 1, 1, 1]:
        return None
    rate = rates[0]
    if not rate.each and not q.has(r"{people} (?:(?:at|on|using|use|drinking|drink|,|@) )?{gal/day|L/day}"):
        return None
    unit = rate.unit
    if held[0].unit not in ("n", unit):
        return None
    days = spans[0].value * HOURS[spans[0].unit] / 24
    need = people[0].value * rate.value * days
    line = f"{shown(people[0].value)} × {shown(rate.value)} {unit} × {shown(days)} days = {shown(need)} {unit}"
    return _judged("water", need, held[0].value, unit, line, False)


def _asked(q: Question) -> bool:
    return _NEED_ASKED.search(q.frame) is not None and _ENOUGH.search(q.frame) is not None


def _judged(name: str, need: float, held: float, unit: str, line: str, of_gas: bool) -> Estimate:
    """The amount that is needed, against what is there."""
    spare = held - need
    enough = spare >= -1e-6
    said = {"lb": "pounds", "gal": "gallons"}.get(unit, unit)
    verdict = f"{'Yes' if enough else 'No, not enough'}: {shown(need)} {said} of {shown(held)}, {shown(abs(spare))} {'to spare' if enough else 'short'}."
    gallons = (figure("gallons", need / LB_PER_GAL, "gal"),) if of_gas else ()
    return exact(name, need, unit, working=(line,), source="arithmetic", verdict=verdict, also=(figure("to spare" if enough else "short", abs(spare), unit), *gallons))  # fmt: skip
