"""Bleach told as a story: the dose for several tanks, the strength made, the water a jug is enough for, how strong it was.

Everything follows from milliliters = liters × mg/L ÷ (10 × percent). The water is what stands in the tank: a size with its share,
or both tanks together; a jug that was only bought is no dose.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.bleach import DOSE_SOURCE, MG_PER_ML_AND_PERCENT, ML_PER_CUP, ML_PER_FL_OZ, household
from cabassist.estimate.quantities import exact, figure, ranged, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, wanted

_BLEACH = Lazy(
    r"\b(?:bleach|chlorine|clorox|hypochlorite|sanit[iy]\w*|disinfect\w*)\b|<ppm>.*<percent>|<percent>.*<ppm>"
)
_SMALL = frozenset({"floz", "cup", "tbsp", "tsp", "mL", "pt", "drop"})
_LARGE = frozenset({"gal", "L", "qt"})
_POURED = Lazy(
    r"\b(?:dump\w*|pour\w*|put|add\w*|us(?:e|ed)|glug\w*|tip\w*|threw|slopp?\w*|splash\w*|went) (?:in )?(?:about |a |an |full |whole |another |exactly )*$"
)
_BOUGHT = Lazy(
    r"\b(?:bought|buy|picked up|got|have|grabbed|found|only|there is|sells|comes in|from) (?:me |us )?(?:about |a |an |one |only |just )*$"
)
_ENOUGH = Lazy(r"\b(?:enough|how many (?:gallons|liters|litres|tanks)|treat|go(?:es)?)\b")
_FILL = Lazy(r"^(?:of (?:it|that|the tank)|full|gone|filled)\b|\bfull\b")
_ALREADY = Lazy(
    r"\b(?:strip|already|reads?|now|shows?|tests?|tested|says?|at present|is at|got) (?:\w+ )?(?:at |about )?$"
)
_STRENGTHENED = Lazy(
    r"\b(?:want|need|bring it (?:up )?to|get it (?:up )?to|up to|should be|has to be) (?:it )?(?:at |to )?$"
)
_TOGETHER = Lazy(r"\b(?:both|altogether|together|in all|total|tanks|and)\b")
_HALVES = Lazy(r"\b(?:more|less|instead|difference|versus|vs|rather|weaker|stronger)\b")
_BESIDE = frozenset({"people", "clock", "F", "C", "temp", "min", "h", "day", "night", "week", "mi", "driver"})
_NAMES = {"floz": "fl oz", "mL": "mL", "cup": "cup", "tbsp": "tbsp", "tsp": "tsp", "qt": "qt", "gal": "gal", "L": "L"}
_A_CUP = Lazy(r"\b(?:a|one) (?:whole |full |entire )(?:measuring )?cup\b(?! (?:and|less))")


@dataclass
class _Told:
    """What was told, volumes in milliliters."""

    water: list[float] = field(default_factory=list)
    bleach: list[float] = field(default_factory=list)
    strengths: list[float] = field(default_factory=list)
    target: list[float] = field(default_factory=list)
    already: float = 0.0


def bleach(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the bleach comes to; None when an amount has no place or nothing follows."""
    frame = question.frame
    want = wanted(question) or want
    if not _BLEACH.search(frame):
        return None
    told = _told(question)
    if told is None or len(told.water) > 1 and not _TOGETHER.search(frame):
        return None
    water = sum(told.water)
    strength = told.strengths[0] if len(told.strengths) == 1 else None
    target = told.target[0] - told.already if len(told.target) == 1 else None
    poured = told.bleach[0] if len(told.bleach) == 1 else None
    if len(told.strengths) == 2:
        return _weaker(told, water, target, want, frame)
    if target is not None and target <= 0:
        return None
    if want.kind == "volume" and strength and target and water and poured is None:
        return _dose(told, water, strength, target, want, frame)
    if told.already:
        return None
    if want.kind == "volume" and strength and target and poured and not water and _ENOUGH.search(frame):
        liters = poured * MG_PER_ML_AND_PERCENT * strength / target
        unit = want.unit if want.unit in ("gal", "L", "qt") else "gal"
        line = f"{shown(poured)} mL × 10 × {shown(strength)} % ÷ {shown(target)} mg/L = {shown(liters)} L"
        return exact("water it is enough for", converted(liters, "L", unit), unit, working=(line,), source=DOSE_SOURCE)
    if want.kind == "strength" and strength and water and poured and target is None:
        ppm = poured * MG_PER_ML_AND_PERCENT * strength / (water / 1000)
        line = f"{shown(poured)} mL × 10 × {shown(strength)} % ÷ {shown(water / 1000)} L = {shown(ppm)} mg/L"
        return ranged("chlorine", ppm, "mg/L", 0.9 * ppm, 1.1 * ppm, working=(line,), source=DOSE_SOURCE)
    if want.kind in ("strength", "share") and strength is None and water and poured and target and not told.strengths:
        percent = water / 1000 * target / (MG_PER_ML_AND_PERCENT * poured)
        line = f"{shown(water / 1000)} L × {shown(target)} mg/L ÷ (10 × {shown(poured)} mL) = {shown(percent)} %"
        return ranged("strength of the bleach", percent, "percent", 0.9 * percent, 1.1 * percent, working=(line,), source=DOSE_SOURCE)  # fmt: skip
    return None


def _told(question: Question) -> _Told | None:
    found = placed(question)
    if found is None:
        return None
    told = _Told()
    bought: list[float] = []
    asks_dose = not _ENOUGH.search(question.frame) and any(one.unit in ("ppm", "mg/L") for one in found)
    for k, one in enumerate(found):
        value, unit = one.value, one.unit
        if unit in ("ppm", "mg/L"):
            raised = len([o for o in found if o.unit in ("ppm", "mg/L")]) > 1 or any(
                o.unit == "n" and _STRENGTHENED.search(o.left) for o in found
            )
            if raised and _ALREADY.search(one.left):
                if told.already:
                    return None
                told.already = value
            else:
                told.target.append(value)
        elif unit == "percent" and value <= 20 and not _FILL.search(one.right):
            told.strengths.append(value)
        elif unit in ("percent", "part"):
            if len(told.water) != 1 or not _FILL.search(one.right):
                return None
            told.water[0] *= value / (100 if unit == "percent" else 1)
        elif unit in _SMALL or (unit in _LARGE and _is_bleach(one)):
            if one.amount.per or one.amount.each:
                return None
            milliliters = converted(value, unit, "mL")
            if asks_dose and _BOUGHT.search(one.left) and not _POURED.search(one.left):
                bought.append(milliliters)
            elif not any(abs(milliliters - other) <= 0.02 * other for other in told.bleach):
                told.bleach.append(milliliters)
        elif unit in _LARGE and not one.amount.per and not one.amount.each:
            told.water.append(converted(value, unit, "mL"))
        elif (
            unit == "n"
            and _STRENGTHENED.search(one.left)
            and not told.target
            and any(o.unit in ("ppm", "mg/L") for o in found)
        ):
            told.target.append(value)
        elif unit == "n" and 10 <= value <= 500 and one.after in _LARGE and Lazy(r"^(?:and|plus|,|&)$").search(one.right):  # fmt: skip
            told.water.append(converted(value, one.after, "mL"))
        elif unit == "n" and value <= 12 and Lazy(r"\b(?:at|by) $").search(one.left):
            continue  # "they want coffee at seven"
        elif not (unit in _BESIDE or (unit == "people" and k == 0)) or one.amount.per:
            return None
    if not told.bleach and _A_CUP.search(question.frame):
        told.bleach.append(ML_PER_CUP)
    return told if len(told.target) <= 1 and len(told.bleach) <= 1 else None


def _is_bleach(one: Said) -> bool:
    """Whether gallons, quarts or liters are of bleach: "a quart of 6 percent", "a gallon jug"."""
    if one.after == "percent" and one.right.startswith("of"):
        return True  # "a quart of 6 percent"
    return bool(one.right) and Lazy(r"^(?:(?:of|the|plain|regular|household|ordinary) )*(?:bleach|chlorine|jugs?|bottles?)\b").search(one.right) is not None  # fmt: skip


def _dose(told: _Told, water: float, strength: float, target: float, want: Wanted, frame: str) -> Estimate | None:
    """Bleach for the water, in the unit asked for."""
    if _HALVES.search(frame) and not told.already:
        return None
    milliliters = water / 1000 * target / (MG_PER_ML_AND_PERCENT * strength)
    unit = want.unit if want.unit in FACTORS and FACTORS[want.unit][0] == "volume" else "floz"
    value = converted(milliliters, "mL", unit)
    lines = (
        f"{' + '.join(shown(one / 1000) for one in told.water)} L of water",
        *((f"{shown(told.target[0])} - {shown(told.already)} = {shown(target)} mg/L more",) if told.already else ()),
        f"{shown(water / 1000)} L × {shown(target)} mg/L ÷ (10 × {shown(strength)}) = {shown(milliliters)} mL",
    )
    also = (figure("millilitres", milliliters, "mL"), figure("fluid ounces", milliliters / ML_PER_FL_OZ, "fl oz"), figure("cups", milliliters / ML_PER_CUP, "cup"))  # fmt: skip
    return ranged("bleach", value, _NAMES.get(unit, unit), 0.9 * value, 1.1 * value, working=lines, assumptions=("plain, unscented household bleach, not old",), source=DOSE_SOURCE, verdict=f"About {household(milliliters)}.", also=also)  # fmt: skip


def _weaker(told: _Told, water: float, target: float | None, want: Wanted, frame: str) -> Estimate | None:
    """How much more is needed of the weaker of two bleaches."""
    if not (water and target and want.difference and want.kind == "volume") or told.bleach or told.already:
        return None
    if not Lazy(r"\bmore\b").search(frame):
        return None
    doses = sorted(water / 1000 * target / (MG_PER_ML_AND_PERCENT * one) for one in told.strengths)
    unit = want.unit if want.unit in FACTORS else "floz"
    low, high = (converted(one, "mL", unit) for one in doses)
    line = f"{shown(high)} - {shown(low)} = {shown(high - low)} {_NAMES.get(unit, unit)}"
    return exact("more of the weaker", high - low, _NAMES.get(unit, unit), working=(line,), source=DOSE_SOURCE, also=(figure("of the weaker", high, _NAMES.get(unit, unit)), figure("of the stronger", low, _NAMES.get(unit, unit))))  # fmt: skip
