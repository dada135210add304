"""Nights of so many hours: "how many nights of ten hours" is answered in nights, whatever it is that lasts."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy

_MANY = r"\bhow many (?:more |such |whole |full |of those |cold |winter )*"
_NIGHTS = r"(?:nights|evenings|overnights|night stops|shifts)"
_LONG = r"<(?:h|min)>"
_OF_HOURS = Lazy(
    rf"{_MANY}{_NIGHTS}(?: of \w+)? (?:of|at|with|like|, each|, at) (?:about |around )?{_LONG}|{_MANY}{_LONG} (?:\w+ )?{_NIGHTS}\b"
)
_HOURS_A_NIGHT = Lazy(rf"{_MANY}{_NIGHTS}\b.*<(?:h|min)/day>|<(?:h|min)/day>.*{_MANY}{_NIGHTS}\b")
_TIMES = frozenset({"h", "min", "days"})


def nights_of(question: Question) -> float | None:
    """Hours of each night, where it is asked how many nights of so many hours; else None."""
    match = _OF_HOURS.search(question.frame)
    if match is None:
        return None
    at = question.frame.count("<", 0, match.start()) + (match[0].count("<") - 1)
    long = question.amounts[at]
    return converted(long.value, long.unit, "h") or None


def in_nights(question: Question, estimate: Estimate) -> Estimate:
    """An answer in hours as nights, where nights of so many hours are asked for; else as it is."""
    if estimate.value is None or estimate.unit not in _TIMES:
        return estimate
    each = nights_of(question)
    if each is None and _HOURS_A_NIGHT.search(question.frame) and estimate.unit in ("h", "days"):
        each = 24.0  # what burns so many hours a night is reckoned by the day already
    if each is None:
        return estimate
    hours = converted(estimate.value, "day" if estimate.unit == "days" else estimate.unit, "h")
    nights = hours / each
    line = f"{shown(hours)} h ÷ {shown(each)} h a night = {shown(nights)}"
    scale = nights / estimate.value if estimate.value else 1.0
    low, high = (None if one is None else one * scale for one in (estimate.low, estimate.high))
    work = (*estimate.working, line) if each != 24 else estimate.working
    also = (figure("hours", hours, "h"),) if each != 24 else ()
    return replace(estimate, name="nights", value=nights, unit="nights", low=low, high=high, working=work, verdict="", also=also)  # fmt: skip
