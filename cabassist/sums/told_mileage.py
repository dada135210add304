"""The mileage of a run of which it is told what was in the tank before and what is in it now."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_BEFORE = r"\b(?:start\w*|left|leav\w*|began|begin\w*|set off|set out|pulled out|rolled|went|topped|full|had)(?: (?:the \w+|out|off|away|up|with|at|on|from|it|we|about|around))* ({gal|n})"
_NOW = r"\b(?:down to|now(?: it is| at| we have| have| showing| got)?|(?:with|got|have|has|there is|there are|still|to|and|shows?|ended (?:up )?(?:with|at)|finished (?:with|at|on)|arrived with|came in with)(?: about| only| just)?) ({gal|n})(?= (?:left\b|now\b|over\b|after\b|in \b|,|and\b|remain\w*|still|when|at|over|after)| $)"
_ASKED = Lazy(
    r"\b(?:what|how) (?:is |are |was |' s )?(?:she|it|we|i|the (?:coach|bus|old girl)|our|my|this|her)(?: is| are| am)? (?:get\w*|got|mileage|mpg|doing (?:to|a|per) (?:the )?gallon|fuel mileage|burning like)\b|\bwhat (?:mileage|mpg)\b|\bmpg\b|\bmileage\b|\b(?:to the|per|a) gallon\b|\bwhat (?:are|is|am|were) (?:we|she|it|i) getting\b"
)
_OTHER = Lazy(
    r"\b(?:range|how far|make it|reach|propane|water|waste|fresh|black|gr[ea]y|hours?|idl\w+|def|exhaust fluid)\b|\$"
)
_LEAST, _MOST = 2.0, 20.0
"""Miles to the gallon that a coach may do; another figure was no gallons."""


def mileage_by_tank(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Miles to the gallon: the distance over what was in the tank less what is left in it."""
    ways = [one for one in q.amounts if one.unit in ("mi", "km") and not one.per]
    if len(q.amounts) != 3 or len(ways) != 1 or not _ASKED.search(q.frame) or _OTHER.search(q.frame):
        return None
    before = q.one(_BEFORE)
    others = [one for one in q.every(_NOW) if one is not before]
    left = others[0] if len(others) == 1 else None
    if before is None or left is None or "gal" not in (before.unit, left.unit):
        return None
    burned = before.value - left.value
    if burned <= 0 or left.value < 0:
        return None
    far = converted(ways[0].value, ways[0].unit, "mi")
    mileage = far / burned
    if not _LEAST <= mileage <= _MOST:
        return None
    lines = (f"{shown(before.value)} - {shown(left.value)} = {shown(burned)} gal", f"{shown(far)} mi ÷ {shown(burned)} gal = {shown(mileage)} mpg")  # fmt: skip
    return exact("mileage", mileage, "mpg", working=lines, source="arithmetic", also=(figure("burned", burned, "gal"),))
