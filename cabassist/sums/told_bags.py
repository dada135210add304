"""How many more bags go into a bay: its limit, what is in it already, and what each of the others weighs."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_THINGS = r"(?:bags?|duffels?|trunks?|cases|suitcases|boxes|totes|bins|crates|of (?:those|them|these|the \w+))"
_ASKED = Lazy(
    rf"\bhow many\b(?: \w+){{0,4}}? {_THINGS}\b|\bhow many more\b|\bhow many (?:can|will|may|could|do|does|would|go|fit)\b"
)
_FIT = Lazy(r"\b(?:fits?|go|goes|take|hold|load|put|add|room|stow|carry|squeeze|more|allowed|legal\w*)\b")
_OTHERWISE = Lazy(
    r"\b(?:axles?|people|passengers|players?|fans?|payload|water|fuel|diesel|propane|gallons?|take (?:off|out)|come (?:off|out)|remove\w*|instead)\b"
)
_OF_THEM = frozenset({"of", "x", "×"})
_WEIGHED = frozenset({"of", "at", "@", "x", "×"})
_MOST_LB, _LEAST_LIMIT_LB = 200.0, 300.0
"""No bag weighs more, no bay holds less."""


def bags_left(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whole bags of one weight that still go under a limit, beside others that are in already; None when one amount has no place."""
    if not _ASKED.search(q.frame) or not _FIT.search(q.frame) or _OTHERWISE.search(q.frame) or len(q.amounts) < 4:
        return None
    limits = [one for one in q.amounts if _pounds(one) >= _LEAST_LIMIT_LB]
    rest = [one for one in q.amounts if one not in limits]
    if len(limits) != 1 or any(one.per for one in q.amounts) or limits[0].unit == "bag":
        return None
    loaded = _pairs(q, rest)
    if loaded is None:
        return None
    pairs, single = loaded
    limit = _pounds(limits[0])
    there = sum(many * each for many, each in pairs)
    left = limit - there
    lines = tuple(f"{shown(many)} × {shown(each)} lb = {shown(many * each)} lb" for many, each in pairs)
    lines = (*lines, f"{shown(limit)} − {shown(there)} = {shown(left)} lb")
    if left < 0:
        return exact("that many fit", 0.0, "count", working=lines, source="arithmetic", verdict=f"None: it is {shown(-left)} pounds over already.")  # fmt: skip
    many = math.floor(left / single + 1e-9)
    lines = (*lines, f"{shown(left)} ÷ {shown(single)} lb = {shown(left / single)}")
    return exact("that many fit", float(many), "count", working=lines, source="arithmetic", verdict=f"{shown(left)} pounds are left, each weighs {shown(single)}.")  # fmt: skip


def _pairs(q: Question, rest: list[Amount]) -> tuple[list[tuple[float, float]], float] | None:
    """How many of which weight are in already, and the weight of each of the others."""
    pairs: list[tuple[float, float]] = []
    singles: list[float] = []
    count: float | None = None
    for one in rest:
        weighed = one.unit == "n" and count is not None and q.words[one.start - 1] in _WEIGHED  # "12 bags of 62"
        if one.unit in ("lb", "kg") or weighed or (one.unit == "n" and one.each):
            each = _pounds(one)
            if not 0 < each <= _MOST_LB:
                return None
            if count is None:
                singles.append(each)
            else:
                pairs.append((count, each))
                count = None
        elif one.unit in ("bag", "n", "people") and one.value % 1 == 0 and count is None:
            if singles and q.words[one.end : one.end + 1] and q.words[one.end] in _OF_THEM:
                pairs.append((one.value, singles.pop()))  # "at 62 pounds, 26 of them"
            else:
                count = one.value
        else:
            return None
    return (pairs, singles[0]) if count is None and len(singles) == 1 and pairs else None


def _pounds(one: Amount) -> float:
    """A weight in pounds; a bare number is one already."""
    return converted(one.value, one.unit, "lb") if one.unit in ("lb", "kg") else one.value if one.unit == "n" else 0.0
