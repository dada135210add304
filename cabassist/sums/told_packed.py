"""How many boxes of one size go into a bay: whole rows along each side, every box turned the same way."""

from __future__ import annotations

from datetime import datetime
from itertools import permutations
from math import floor, prod

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_BOXES = r"(?:totes|boxes|bins|crates|trunks|cases|tubs|cartons|coolers|bags|duffels|chests|cubes|packages|of (?:them|these|those))"
_MANY = Lazy(rf"\bhow many (?:more )?(?:[a-z<>]+ )*?(?P<what>{_BOXES})\b|\bhow many (?:will |would |can |do |i |we |it )*(?:fit|go|take|get|hold)\b")  # fmt: skip
_FIT = Lazy(r"\b(?:fits?|go(?:es)? in\w*|get in\w*|stack\w*|pack\w*|hold|take|room for|load|put in|slide in)\b")
_BAY = r"(?:bays?|compartment|locker|hold|space|hatch|floor|trailer|closet)"
_BAY_BEFORE = Lazy(rf"\b{_BAY}(?: (?:is|are|of|measures?|that|has|inside|under|the|number|' s|one|two|three|:|,))* $")
_BAY_AFTER = Lazy(rf"^ (?:inch |inches |high |deep |tall |long |wide |inside )*(?:luggage |baggage |cargo )*{_BAY}\b")
_SIDE = r"<(?:in|ft|cm|m|n)>(?: (?:long|wide|high|deep|tall|across|inches|in))*"
_TRIPLE = Lazy(rf"{_SIDE} (?:by|x|×|\*) {_SIDE} (?:by|x|×|\*|and) {_SIDE}")
_LENGTHS = frozenset({"in", "ft", "cm", "m"})
_SLACK = 1e-6


def packed(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many boxes fit into a bay; None when not both are told by three sides, or something else is told too."""
    asked = _MANY.search(q.frame)
    found = [*_TRIPLE.finditer(q.frame)]
    if asked is None or len(found) != 2 or len(q.amounts) != 6 or not _FIT.search(q.frame):
        return None
    unit = next((one.unit for one in q.amounts if one.unit in _LENGTHS), "")
    if not unit or any(one.per or one.each for one in q.amounts):
        return None
    sides = [_sides(q.amounts[3 * k : 3 * k + 3], unit) for k in (0, 1)]
    named = [_BAY_BEFORE.search(q.frame[: one.start()]) or _BAY_AFTER.search(q.frame[one.end() :]) for one in found]
    if (named[0] is None) is (named[1] is None):
        return None  # which of them is the bay?
    bay, box = sides if named[0] is not None else sides[::-1]
    if min(box) <= 0:
        return None
    rows = max(
        ([floor(long / side + _SLACK) for long, side in zip(bay, turned, strict=True)] for turned in permutations(box)),
        key=prod,
    )
    count = prod(rows)
    what = (asked["what"] or "boxes").removeprefix("of ")
    what = "boxes" if what in ("them", "these", "those") else what
    lines = (
        f"bay {' x '.join(map(shown, bay))} in, each {' x '.join(map(shown, box))} in",
        f"{' x '.join(map(str, rows))} = {count}",
    )
    return exact(what, float(count), what, working=lines, assumptions=("all turned the same way, in whole rows",), source="arithmetic", verdict="" if count else "Not one fits.")  # fmt: skip


def _sides(three: tuple[Amount, ...] | list[Amount], unit: str) -> list[float]:
    """Three sides in inches; one without a unit is in that of its own three, or else of the others."""
    own = next((one.unit for one in three if one.unit in _LENGTHS), unit)
    return [converted(one.value, own if one.unit == "n" else one.unit, "in") for one in three]
