"""How much water the bleach that is left is enough for: ounces of so many percent, to so many parts in a million."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.bleach import DOSE_SOURCE, MG_PER_ML_AND_PERCENT
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_SMALL = frozenset({"floz", "cup", "tbsp", "tsp", "mL", "pt", "qt"})
_BLEACH = Lazy(r"\b(?:bleach|clorox|chlorine|hypochlorite)\b")
_ASKED = Lazy(
    r"\bhow (?:much water|many (?:gallons|liters|litres)(?: of water)?|big a tank|much of (?:the|a) tank)\b(?! of bleach)[^.?]*\b(?:make|treat|do|does|dose|cover|go|goes|enough|good for|sanit\w*|handle|get|reach|stretch|mix|bring|from (?:it|that)|with (?:it|that))\b|\bgood for how (?:many|much)\b"
)
_MOST_PERCENT = 20.0
"""Bleach of more is no household bleach."""


def water_for(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons of water that so much bleach brings to a strength."""
    if len(q.amounts) != 3 or not _BLEACH.search(q.frame) or not _ASKED.search(q.frame):
        return None
    poured = [one for one in q.amounts if one.unit in _SMALL and not one.per and not one.each]
    strength = [one for one in q.amounts if one.unit == "percent" and 0 < one.value <= _MOST_PERCENT]
    target = [one for one in q.amounts if one.unit in ("ppm", "mg/L") and one.value > 0]
    if [len(poured), len(strength), len(target)] != [1, 1, 1]:
        return None
    milliliters = converted(poured[0].value, poured[0].unit, "mL")
    liters = milliliters * MG_PER_ML_AND_PERCENT * strength[0].value / target[0].value
    unit = want.unit if want.unit in ("L", "gal") else "gal"
    line = f"{shown(milliliters)} mL × 10 × {shown(strength[0].value)} % ÷ {shown(target[0].value)} mg/L = {shown(liters)} L"
    return exact("water it is enough for", converted(liters, "L", unit), unit, working=(line,), source=DOSE_SOURCE, also=(figure("liters", liters, "L"),))  # fmt: skip
