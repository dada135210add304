"""The waste tank on the way to a dump site: what it holds on arrival, and whether that is before the site shuts."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|holding|sewage)\b")
_ARRIVES = Lazy(r"\b(?:pull in|get there|arriv\w*|reach|there|when i get|by then|up the road|away|down the road)\b")
_ASKED = Lazy(r"\b(?:what|how (?:much|full|many gallons))\b[^?]*\b(?:tank|waste|hold|holds|in it|be|have|read|level)\b")
_SHUTS = r"\b(?:shuts?|closes?|closing|locks?(?: up)?|open (?:till|until|to)|(?:till|until) (?:they )?clos\w+)(?: \w+){0,2}? ({clock})"
_NOW = r"\b(?:it|it is|now|time is|leaving at|leave at|rolling at)(?: is| now| about| just)* ({clock})|({clock}) (?:now|right now)\b"
_LEVEL = r"({gal|L|n|percent}) (?:gallons )?(?:out )?of (?:the |a |an |our )?({gal|L|n})"
_BEFORE = Lazy(r"\b(?:before|in time|make it|late|shut|clos\w+|open)\b")


def on_arrival(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the waste tank holds after the drive, with the time of arrival and whether the site is open then."""
    if not _WASTE.search(q.frame) or not _ARRIVES.search(q.frame) or not _ASKED.search(q.frame):
        return None
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "L/h")]
    spans = [one for one in q.amounts if one.tag in ("h", "min")]
    shuts, begun = q.one(_SHUTS), q.one(_NOW)
    pair = q.find(_LEVEL)
    rest = [one for one in q.amounts if one not in (*rates, *spans, *pair, shuts, begun)]
    if [len(rates), len(spans)] != [1, 1] or len(pair) > 2 or any(one.unit not in ("people", "mi", "km") for one in rest[1:]):  # fmt: skip
        return None
    if len(pair) != 2:
        if not rest or rest[0].tag not in ("gal", "L", "n") or rest[0].value <= 0:
            return None
        level, size = rest[0], None
    else:
        level, size = pair
        if any(one.unit not in ("people", "mi", "km") for one in rest):
            return None
    if begun is not None and begun is shuts:
        return None
    unit = "L" if rates[0].unit == "L" else "gal"
    whole = converted(coach.tank("waste").capacity_gal, "gal", unit) if size is None else size.value
    inside = level.value / 100 * whole if level.unit == "percent" else level.value
    hours = converted(spans[0].value, spans[0].unit, "h")
    holds = inside + rates[0].value * hours
    if inside > whole or hours <= 0:
        return None
    line = f"{shown(inside)} + {shown(rates[0].value)} × {shown(hours)} h = {shown(holds)} {unit}"
    room = whole - holds
    lines = [f"{shown(holds, 3)} {'liters' if unit == 'L' else 'gallons'} on arrival, {shown(room, 3)} of room left."]
    if room < 0:
        lines = [f"It is full before that, after {duration((whole - inside) / rates[0].value)}."]
    start = begun.value if begun is not None else now.hour + now.minute / 60
    there = start + hours
    if shuts is not None and not shuts.pieces and (begun is None or not begun.pieces):
        gap = (shuts.value - start) % 24 - hours
        at = f"you are there at {time_of_day(there)}"
        head = ("Yes, " if gap >= 0 else "No, ") if want.judged or _BEFORE.search(q.frame) else ""
        lines = [f"{head}{at}, {duration(abs(gap))} {'before' if gap >= 0 else 'after'} it shuts.", *lines]
    elif shuts is not None:
        return None  # which half of the day is not known
    return exact("in the tank then", holds, unit, working=(line,), source="arithmetic", verdict=" ".join(lines), also=(figure("room left", room, unit),))  # fmt: skip
