"""Whether a number measures what the question asks for: no hours for "how many amps", no range for "how many gallons more"."""

from __future__ import annotations

from collections.abc import Mapping

from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.sums_compared import compares

_ANSWER: Mapping[str, frozenset[str]] = {
    "current": frozenset({"A"}),
    "charge": frozenset({"Ah"}),
    "speed": frozenset({"mph", "km/h", "kn"}),
    "mileage": frozenset({"mpg", "mi/gal", "L/100 km"}),
    "money": frozenset({"dollars"}),
    "distance": frozenset({"mi", "km", "ft", "m", "paces"}),
    "mass": frozenset({"lb", "kg", "ton"}),
    "volume": frozenset({"gal", "L", "mL", "fl oz", "cup", "qt", "pt", "tbsp", "tsp"}),
    "temperature": frozenset({"F", "C"}),
    "share": frozenset({"percent", "fraction"}),
    "watts": frozenset({"W", "kW", "VA"}),
    "volts": frozenset({"V"}),
    "pressure": frozenset({"psi", "bar", "kPa", "psi/min"}),
    "time": frozenset({"h", "min", "s", "days", "weeks", "months", "day", "night"}),
    "bags": frozenset({"bags", "people", "persons"}),
}
"""Units that answer each kind of question."""
_APART = frozenset({"unit-conversion", "requalification", "co-meaning", "triangle-distances", "frostbite", "gel-risk", "wheel-recheck", "driving-hours", "cord-length"})  # fmt: skip
"""They answer with dates, distances apart or verdicts; the last two tell the times of day and odometers that are asked."""
_DIFFERS = Lazy(r"(?i)\b(?:spare|short|left|room|over|under|more|heavier|lighter|add|difference|gained|saved|colder)\b")
_YES_NO = Lazy(r"(?:Yes|No)\b")
_ANOTHER = Lazy(r"\b(?:instead of|rather than) <|\b(?:do|would|will) (?:i|we) (?:gain|save)\b|\bhow many extra\b")


def measures(question: Question, calculation: str, estimate: Estimate) -> bool:
    """Whether the estimate, or a figure beside it, is of the kind that is asked for."""
    units = {estimate.unit, *(one.unit for one in estimate.also)}
    want = asked_for(question)
    if (compares(question) or _ANOTHER.search(question.frame)) and not _DIFFERS.search(
        f"{estimate.name} {estimate.verdict}"
    ):
        return False
    if estimate.name == "loads that fit" or (want is not None and want.judged and _YES_NO.match(estimate.verdict)):
        return True
    if want is None or calculation in _APART or want.kind not in _ANSWER:
        return True
    return bool(units & _ANSWER[want.kind])
