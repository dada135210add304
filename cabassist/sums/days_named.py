"""The day of a time of day: "full 30 hours on" from one on Tuesday afternoon is Wednesday."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_DAY = "|".join(_DAYS).lower()
_FROM = Lazy(
    rf"<clock> (?:on )?({_DAY})\b|\b({_DAY})(?: (?:morning|afternoon|evening|night))?(?: at| about| around)* <clock>"
)
_WHEN = Lazy(r"\b(?:when|what (?:day|time|hour)|which day)\b")
_SAYS = Lazy(r"(?P<said>(?:That is at|There at about|Until) (?P<h>\d\d):(?P<min>\d\d)(?: \([^)]*\))?)(?=[,. ])")
_HAIR = 1 / 30


def with_day(question: Question, estimate: Estimate) -> Estimate:
    """The answer with the name of the day, where the question tells the day that it runs from and asks when."""
    told = [*_FROM.finditer(question.frame)]
    match = _SAYS.search(estimate.verdict)
    if len(told) != 1 or match is None or estimate.value is None or estimate.unit not in ("h", "min", "days"):
        return estimate
    if not _WHEN.search(question.frame) or any(day in estimate.verdict for day in _DAYS):
        return estimate
    place = question.frame.count("<", 0, told[0].start() + told[0][0].index("<clock>"))
    start = question.amounts[place]
    hours = converted(estimate.value, "day" if estimate.unit == "days" else estimate.unit, "h")
    end, shown = start.value + hours, int(match["h"]) + int(match["min"]) / 60
    if start.pieces or abs((end - shown + 12) % 24 - 12) > _HAIR:
        return estimate  # it runs from another time, or from which half of the day nobody knows
    later = int((end + _HAIR) // 24)
    day = _DAYS[(_DAYS.index((told[0][1] or told[0][2]).capitalize()) + later) % 7]
    verdict = f"{estimate.verdict[: match.end()]} on {day}{estimate.verdict[match.end() :]}"
    return replace(estimate, verdict=verdict)
