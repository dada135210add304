"""A cabin that cools, told by what it loses a degree and what it holds a degree: hours to a temperature, or what it is after some."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.lumped import LUMPED_SOURCE
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted

_LOSES = ("BTU/h/degF", "BTU/h/deg")
_A_DEGREE = Lazy(r"^(?:per|a|each|every|for each|for every) (?:degree|deg)\b")
_HOLDS = ("BTU/deg", "BTU/degF")
_OUTSIDE = Lazy(r"\b(?:outside|outdoors|out there|ambient|air temperature)\b")
_OUT = Lazy(r"^ (?:degrees )?(?:out(?:side|doors)?|ambient)\b")
_NOT_COOLING = Lazy(r"\b(?:furnace (?:on|running|burning)|heater on|warm (?:it )?up|heat (?:it )?up|pads?|tank|water|bay)\b")  # fmt: skip


def by_capacity(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours until it has cooled to a temperature, from heat lost and heat held, each a degree; None when an amount has no place."""
    loses = [one for one in q.amounts if one.tag in _LOSES or (one.tag == "BTU/h" and _A_DEGREE.match(" ".join(q.words[one.end : one.end + 2])))]  # fmt: skip
    holds = [one for one in q.amounts if one.tag in _HOLDS]
    hours = [one for one in q.amounts if one.tag in ("h", "min")]
    degrees = [one for one in q.amounts if one.tag in ("F", "C", "temp") or (one.tag == "n" and -60 <= one.value <= 110)]  # fmt: skip
    if [len(loses), len(holds)] != [1, 1] or len(loses) + len(holds) + len(hours) + len(degrees) != len(q.amounts):
        return None
    if loses[0].value <= 0 or _NOT_COOLING.search(q.frame):
        return None
    tau = holds[0].value / loses[0].value
    line = f"time constant {shown(holds[0].value)} ÷ {shown(loses[0].value)} = {shown(tau)} h"
    outside = _outside(q, degrees)
    if outside is None:
        return None
    rest = [one.value for one in degrees if one is not outside]
    air, want = outside.value, wanted(q) or want
    if len(rest) == 2 and not hours and want.kind == "time":
        start, target = max(rest), min(rest)
        if not start > target > air:
            return None
        cooled = tau * math.log((start - air) / (target - air))
        return exact("cooled to that", cooled, "h", working=(line, f"{shown(tau)} × ln({shown(start - air)} ÷ {shown(target - air)}) = {shown(cooled)} h"), assumptions=("no heat, and outside stays as cold",), source=LUMPED_SOURCE, verdict=f"{duration(cooled)} without heat.", also=(figure("time constant", tau, "h"),))  # fmt: skip
    if len(rest) == 1 and len(hours) == 1 and want.kind != "time" and rest[0] > air:
        span = converted(hours[0].value, hours[0].unit, "h")
        then = air + (rest[0] - air) * math.exp(-span / tau)
        unit = "C" if q.scale == "C" else "F"
        return exact("temperature then", then, unit, working=(line, f"{shown(air)} + {shown(rest[0] - air)} × e^(-{shown(span)} ÷ {shown(tau)}) = {shown(then)} °{unit}"), assumptions=("no heat, and outside stays as cold",), source=LUMPED_SOURCE)  # fmt: skip
    return None


def _outside(q: Question, degrees: list[Amount]) -> Amount | None:
    """The temperature outside, named right behind it or before it; None when not just one is."""
    tags = [i for i, token in enumerate(q.frame.split()) if token.startswith("<")]
    words = q.frame.split()
    behind, before = [], []
    for one, at in zip(q.amounts, tags, strict=False):
        if one not in degrees:
            continue
        if _OUT.search(f" {' '.join(words[at + 1 : at + 4])}"):
            behind.append(one)
        start = max((tag for tag in tags if tag < at), default=-1)
        if _OUTSIDE.search(" ".join(words[max(start + 1, at - 5) : at])):
            before.append(one)
    found = behind or before
    return found[0] if len(found) == 1 else None
