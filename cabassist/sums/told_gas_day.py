"""Propane over a day that has several parts: so much an hour at night, less by day, nothing for some hours."""

from __future__ import annotations

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy

_GAS = Lazy(r"\b(?:propane|gas|lpg?|cylinders?|bottles?|pounders?|furnaces?)\b")
_DAYS = Lazy(r"\bhow many days\b|\bdays? (?:of (?:gas|propane|heat)|left|is|does|do|will|before)\b|\bhow long\b[^?]*\blast\b|\bin days\b")  # fmt: skip
_NOTHING = Lazy(
    r"\b(?:nothing|none|zero|off|idle|not at all|no burn)(?: (?:for|in|during|the|over|other|remaining|rest|last|of))* $"
)
_OTHER_HOURS = Lazy(r"\bfor (?:the |all )?(?:other|remaining|rest|last)(?: of the)? $")
_DAY_H = 24.0
_COUNTS = frozenset({"cylinder", "n"})
_MOST_COUNT = 6.0
_LEAST_RATE = 1000.0
_PASSING = frozenset({"mi", "km", "people", "temp", "F", "C", "clock", "night", "driver"})
_OTHER = Lazy(r"\b(?:percent|tare|weighs|scale|gallons?|diesel|water|fresh|waste|effic\w*)\b|<(?:percent|part|gal|kW)>")


def days_of_parts(q: Question) -> Estimate | None:
    """Days that pounds last when each day burns at two or more rates, each for its own hours; None when an amount has no place."""
    if not _GAS.search(q.frame) or not _DAYS.search(q.frame) or _OTHER.search(q.frame):
        return None
    words = q.frame.split()
    tags = [i for i, token in enumerate(words) if token.startswith("<")]
    if len(tags) != len(q.amounts):
        return None
    pounds, many = 0.0, 1.0
    parts: list[tuple[float, float]] = []
    rate: float | None = None
    for one, at in zip(q.amounts, tags, strict=True):
        start = max((tag for tag in tags if tag < at), default=-1)
        left = f"{' '.join(words[start + 1 : at])} "
        if one.unit in ("lb", "kg") and not one.per:
            pounds += many * converted(one.value, one.unit, "lb")
            many = 1.0
        elif _is_rate(one, bool(parts)):
            if rate is not None:
                return None
            rate = one.value
        elif one.unit in ("h", "min") and not one.per and rate is not None:
            parts.append((rate, converted(one.value, one.unit, "h")))
            rate = None
        elif one.tag == "n" and rate is not None and parts and _OTHER_HOURS.search(left) and one.value <= _DAY_H:
            parts.append((rate, one.value))
            rate = None
        elif one.unit in ("h", "n") and parts and rate is None and _NOTHING.search(left):
            parts.append((0.0, one.value))
        elif one.unit in _COUNTS and many == 1.0 and one.value % 1 == 0 and 1 <= one.value <= _MOST_COUNT and not parts:
            many = one.value
        elif one.unit not in _PASSING:
            return None
    hours = sum(span for _, span in parts)
    burned = sum(part * span for part, span in parts)
    if rate is not None or len([part for part, _ in parts if part]) < 2 or not pounds or many != 1.0 or hours > _DAY_H:
        return None
    days = pounds * BTU_PER_LB / burned
    lines = (
        f"{' + '.join(f'{shown(part, 6)} × {shown(span)} h' for part, span in parts if part)} = {shown(burned, 7)} BTU a day",
        f"{shown(pounds)} lb × {BTU_PER_LB:,.0f} BTU/lb ÷ {shown(burned, 7)} = {shown(days)} days",
    )
    return exact("lasts", days, "days", working=lines, source=HEAT_SOURCE, verdict=f"About {shown(days, 2)} days.", also=(figure("a day", burned / BTU_PER_LB, "lb/day"), figure("hours", 24 * days, "h")))  # fmt: skip


def _is_rate(one: Amount, later: bool) -> bool:
    """Whether it is what burns in an hour; after one that is told so, a bare number of thousands is one too."""
    return one.tag in ("BTU/h", "BTU") or (later and one.tag in ("n", "n/h") and one.value >= _LEAST_RATE)
