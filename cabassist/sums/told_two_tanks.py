"""Fresh water and waste of two moments: how much lighter or heavier the coach is by what left it, or came aboard."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_WATER_LB_PER_GAL = 8.337
"""Water at 60 °F (CoolProp)."""
_ASKED = Lazy(r"\b(?:lighter|heavier|(?:lost|gained|shed|dropped|put on) (?:in )?(?:weight|pounds)|weight (?:have|has|did)|weigh\w* (?:less|more)|less weight|change (?:of|in) weight|pounds (?:of water )?(?:gone|off|less|more))\b")  # fmt: skip
_OTHER = Lazy(r"\b(?:diesel|propane|fuel|axle|bags?|limit|scale|each|an hour|per hour|people)\b")
_LATER = Lazy(r"\b(?:now|today|this morning|at present|it is|we are (?:at|down)|since then|after|tonight)\b")
_FRESH = r"(?:fresh|clean|potable)"
_WASTE = r"(?:waste|black|gr[ae]y|holding|sewage)"
_EMPTY = rf"\b(?:empty|bone dry|no|nothing in(?: the)?|zero) {_WASTE}\b|\b{_WASTE}(?: (?:tank|was|is|at|and|on))* (?:empty|dry|zero)\b"
_DRY = rf"\b(?:empty|no) {_FRESH}\b|\b{_FRESH}(?: (?:tank|was|is|at))* (?:empty|dry|gone)\b"
_TAG = r"<(?:gal|L|n)>"


def water_gone(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds between two moments, each told with its fresh water and its waste; None when a level of one is not told."""
    if not _ASKED.search(q.frame) or _OTHER.search(q.frame) or not q.has(_FRESH) or not q.has(_WASTE):
        return None
    if any(one.unit not in ("gal", "L", "n") or one.per or one.each for one in q.amounts):
        return None
    metric = any(one.unit == "L" for one in q.amounts)
    if metric and any(one.unit == "gal" for one in q.amounts):
        return None
    marked = list(re.finditer(_TAG, q.frame))
    later = next((found.start() for found in _LATER.finditer(q.frame) if marked and found.start() > marked[0].start()), None)  # fmt: skip
    if later is None or len(marked) != len(q.amounts):
        return None
    moments = [_levels(q, marked, 0, later), _levels(q, marked, later, len(q.frame))]
    if None in moments or sum(len(one or {}) for one in moments) != 4:
        return None
    first, last = (sum((one or {}).values()) for one in moments)
    change = converted(last - first, "L", "gal") if metric else last - first
    pounds = abs(change) * _WATER_LB_PER_GAL
    unit = "L" if metric else "gal"
    lines = (
        f"{shown(first)} {unit} aboard then, {shown(last)} {unit} now",
        f"{shown(abs(change))} gal × {_WATER_LB_PER_GAL} lb = {shown(pounds)} lb",
    )
    also = (figure("water", abs(change), "gal"),)
    return exact("change of weight", pounds, "lb", working=lines, source="water 8.337 lb/gal (CoolProp)", verdict=f"{shown(pounds, 3)} pounds {'lighter' if change <= 0 else 'heavier'}.", also=also)  # fmt: skip


def _levels(q: Question, marked: list[re.Match[str]], start: int, end: int) -> dict[str, float] | None:
    """The fresh water and the waste of one moment."""
    part = q.frame[start:end]
    found: dict[str, float] = {}
    for name, empty in (("fresh", _DRY), ("waste", _EMPTY)):
        if re.search(empty, part):
            found[name] = 0.0
    for amount, tag in zip(q.amounts, marked, strict=True):
        if not start <= tag.start() < end:
            continue
        behind = re.match(
            rf" (?:gallons |in |of |the |our |on |clean )*({_FRESH}|{_WASTE})\b", q.frame[tag.end() : end]
        )
        before = re.search(rf"({_FRESH}|{_WASTE})(?: (?:tank|water|was|is|at|had|has|of|with|read|reads|down to|up to))* $", q.frame[start : tag.start()])  # fmt: skip
        named = behind or before
        if named is None:
            return None
        name = "fresh" if re.fullmatch(_FRESH, named[1]) else "waste"
        if name in found:
            return None
        found[name] = amount.value
    return found if len(found) == 2 else None
