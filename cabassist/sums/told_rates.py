"""Levels read at two times: how fast a tank goes, and when it is full or empty."""

from __future__ import annotations

import re
from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach, Tank
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.summing import summed

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")
_FRESH = Lazy(r"\b(?:fresh|clean water|drinking)\b")
_FUEL = Lazy(r"\b(?:diesel|fuel)\b")
_NOT_HERE = Lazy(r"\b(?:propane|gas|cylinders?|bottles?|batter\w+|psi|tires?|brakes?|degrees|temperature|miles|odometer)\b|<(?:F|C|temp|V|A|psi|lb|kg|mi|mpg|gal/\w+|n/\w+)>")  # fmt: skip
_FULL = Lazy(r"\b(?:full|top|overflow\w*|brim)\b")
_EMPTY = Lazy(r"\b(?:empty|dry|run(?:s)? out|gone|last|out of|zero)\b")
_RATE = Lazy(r"\b(?:how (?:fast|much (?:an|per|a|each|every) hour|many gallons (?:an|per) hour)|rate|(?:an|per|each) hour|hourly)\b")  # fmt: skip
_SIZE_AFTER = Lazy(r"^ (?:gallon |gal )?(?:tank|one|deep|capacity)\b")
_SIZE_BEFORE = Lazy(r"\b(?:tank(?: depth)?|holds?|depth|capacity|deep)(?: is| of| ' s|,)*(?: an?| the)* $")
_LATER = Lazy(r"^ (?:later|after(?:wards)?|on|of driving)\b")
_DEPTHS = frozenset({"mm", "cm", "in"})
_VOLUMES = frozenset({"gal", "L"})
_SHARES = frozenset({"percent", "part"})
_PASSING = Lazy(r"^ (?:is |on |at )?(?:by the way|that coach)|\bcoach(?: number)? $|\b(?:number|no|won|lost|bunk|room|route|exit) $")  # fmt: skip


class _Reading(NamedTuple):
    hour: float | None
    """The time of day it was read at; None while no time was told beside it."""
    level: float
    unit: str


def fresh_times(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the fresh tank gains or loses an hour by two readings, and when it is full or empty."""
    return _by_two(q, want, now, coach) if _FRESH.search(q.frame) and not _WASTE.search(q.frame) and not _FUEL.search(q.frame) else None  # fmt: skip


def waste_times(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The same of the waste tank."""
    return _by_two(q, want, now, coach) if _WASTE.search(q.frame) and not _FRESH.search(q.frame) and not _FUEL.search(q.frame) else None  # fmt: skip


def fuel_times(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Diesel burned an hour by two readings, and when the tank is empty."""
    water = _WASTE.search(q.frame) or _FRESH.search(q.frame)
    return _by_two(q, want, now, coach) if _FUEL.search(q.frame) and not water else None


def _by_two(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    frame = q.frame
    if _NOT_HERE.search(frame) or len(q.amounts) < 4:
        return None
    told = _readings(q)
    if told is None or summed(q, coach, now) is not None:
        return None  # the families of water tell it already
    (first, last), span, size = told
    change = last.level - first.level
    if not change or span <= 0:
        return None
    rate = abs(change) / span
    rises = change > 0
    if rises and _FUEL.search(frame):
        return None  # it was filled between them
    unit = last.unit or "gal"
    line = f"({shown(last.level)} − {shown(first.level)}) ÷ {shown(span)} h = {shown(rate)} {unit}/h"
    want = wanted(q) or want
    asks_end = (_FULL if rises else _EMPTY).search(frame) is not None and (want.kind == "time" or want.clock or _WHEN.search(frame) is not None)  # fmt: skip
    if not asks_end:
        if (_FULL.search(frame) or _EMPTY.search(frame)) or not _RATE.search(frame):
            return None
        return exact("an hour", rate, f"{unit}/h", working=(line,), source="arithmetic")
    if rises:
        whole = size if size is not None else _whole(unit, coach.tank("waste" if _WASTE.search(frame) else "fresh"))
        if whole is None or whole <= last.level:
            return None
        hours = (whole - last.level) / rate
        line2 = f"({shown(whole)} − {shown(last.level)}) ÷ {shown(rate)} = {shown(hours)} h"
    else:
        hours = last.level / rate
        line2 = f"{shown(last.level)} ÷ {shown(rate)} = {shown(hours)} h"
    end = "Full" if rises else "Empty"
    verdict = f"{end} in {duration(hours)}."
    if last.hour is not None:
        verdict = f"{end} at {time_of_day((last.hour + hours) % 24)}, {duration(hours)} after the last reading."
    also = figure("an hour", rate, f"{unit}/h")
    return exact("time left", hours, "h", working=(line, line2), source="arithmetic", verdict=verdict, also=(also,))


_WHEN = Lazy(r"\b(?:when|what time|which time|how (?:long|many (?:more )?hours)|at what)\b")


def _whole(unit: str, tank: Tank) -> float | None:
    """The tank of the profile in the unit of the readings."""
    if unit in _DEPTHS:
        return converted(tank.depth_in, "in", unit)
    if unit in _VOLUMES:
        return converted(tank.capacity_gal, "gal", unit)
    return {"percent": 100.0, "part": 1.0}.get(unit)  # of a whole


def _readings(q: Question) -> tuple[tuple[_Reading, _Reading], float, float | None] | None:
    """Both readings, the hours between them, and the size of the tank when it is told."""
    pieces = re.split(r"<[^>]+>", q.frame)
    levels: list[Amount] = []
    clocks: list[Amount] = []
    spans: list[Amount] = []
    size: Amount | None = None
    for i, one in enumerate(q.amounts):
        left, right = pieces[i], pieces[i + 1]
        if one.per or one.each:
            return None
        if one.unit == "people" or (one.unit == "n" and _PASSING.search(left)):
            continue
        deep = one.unit in _DEPTHS
        sized = _SIZE_AFTER.search(right) or (_SIZE_BEFORE.search(left) and (deep or one.describes))
        if size is None and sized and (deep or one.unit in _VOLUMES):
            size = one
        elif one.unit == "clock":
            clocks.append(one)
        elif one.unit in ("h", "min"):
            if not _LATER.search(right):
                return None
            spans.append(one)
        elif one.unit in (*_VOLUMES, *_DEPTHS, *_SHARES) or one.unit == "n":
            if one.unit == "n" and _AT.search(left) and one.value <= 12 and levels and len(clocks) < 2:
                clocks.append(one)
            else:
                levels.append(one)
        else:
            return None
    if len(levels) != 2:
        return None
    units = {one.unit for one in levels} - {"n"}
    if len(units) > 1:
        return None
    unit = units.pop() if units else (size.unit if size is not None and size.unit in _DEPTHS else "gal")
    if size is not None and (size.unit in _DEPTHS) != (unit in _DEPTHS):
        return None
    first, last = levels
    end: float | None
    if len(clocks) == 2 and not spans:
        hours = _hours_between(clocks)
        if hours is None:
            return None
        span, end = hours
    elif len(spans) == 1 and len(clocks) <= 1:
        span = spans[0].value / (60 if spans[0].unit == "min" else 1)
        end = None  # when the last reading was is not told
    else:
        return None
    whole = None
    if size is not None:
        whole = converted(size.value, size.unit, unit) if unit in (*_VOLUMES, *_DEPTHS) else None
    return (_Reading(None, first.value, unit), _Reading(end, last.value, unit)), span, whole


_AT = Lazy(r"\b(?:at|by) $")


def _hours_between(clocks: list[Amount]) -> tuple[float, float] | None:
    """Hours from the first time to the second, less than half a day, and the second by the clock."""
    first, last = (one.value for one in clocks)
    halves = [one.unit == "n" or bool(one.pieces) for one in clocks]
    gap = (last - first) % (12 if any(halves) else 24)
    if gap <= 0:
        return None
    if not halves[1]:
        return gap, last
    return (gap, (first + gap) % 24) if not halves[0] else (gap, last)
