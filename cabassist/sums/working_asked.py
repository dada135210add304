"""Whether a number measures what the question asks for: no hours for "how many amps", no range for "how many gallons more"."""

from __future__ import annotations

from collections.abc import Mapping

from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import same_kind
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import bare_unit
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


_NAMED = {
    "ppm": "mg/L",
    "igal": "imp gal",
    "awg": "AWG",
    "BTU": "BTU/h",
    "night": "days",
    "32nds": "1/32 in",
    "gpm": "gal/min",
    "gph": "gal/h",
    "drop": "drops",
}
"""Units as a question names them, and as an answer may have them."""
_TIMES = frozenset({"h", "min", "s", "days", "weeks", "months"})
_COUNTED = frozenset({"showers", "times", "uses", "flushes", "persons", "people"})
_MEASURED = frozenset({"gal", "L", "lb", "kg", "fl oz", "mL", "percent", "W", "A"})
_REMAINS = Lazy(
    r"\b(?:what|how (?:much|full)) (?:' ?)?(?:ll|will|would|does|do) (?:[a-z]+ ){0,3}?(?:be|have|read|show|left)\b(?! (?:the time|empty|full|dry|out))|\b(?:what|whats|how much|how many gallons)(?: ' s| s| is| are)? (?:still |be |will be )?left\b"
)
""" "What will it read", "what's left": a level, no time."""
_TIME_LEFT = Lazy(r"\b(?:time|hours|days|minutes|driving|long|week|longer) (?:is |are |do |have )?(?:\w+ ){0,2}left\b")
_CONTAINERS = Lazy(
    r"\bhow many (?:(?:of|the|them|those|these|our|my|more|full|extra|<\w+>|gallon|liter|litre) )*(?:jugs?|cans?|jerry ?cans?|pails?|buckets?|trips?|runs|carries|loads|barrels?|kettles?|urns?|people|persons|players|guys|passengers|bags|duffels|trunks|cases)\b"
)
""" "How many of the five gallon jugs": a count, not what is in them."""


_TWO = 2
_TWICE = Lazy(
    r"\b(?:how (?:many|much|long|far|full|deep)|what)\b.*\band (?:how (?:many|much|long|far|full|deep)|what|when)\b(?! (?:' s|is) the (?:weather|rest))"
)
""" "How many gallons is that, and how many more will it take": two numbers."""
_CLOCK = Lazy(r"\d\d:\d\d(?! [ap]m)")


_JUDGED_LAST = Lazy(
    r"(?:,|\.|\band|^) ?(?:(?:is|does|do|will|are|am|can|so|that|this|it|i|we|all|they|too) )*(?:fits?|enough|over|under|ok|okay|all right|too much|too heavy|too many|allowed|legal|over or under|enough for (?:it|that)|make it) $"
)
""" "..., fits?": a yes or no is asked, and no number alone."""
_JUDGES = Lazy(
    r"(?i)\b(?:yes|no|not|over|under|above|below|short|spare|enough|legal|limit|left|too|within|lasts?|fits?|fail\w*|pass\w*|room|warn\w*|good|inside|outside|range|risk|between|due)\b"
)


_ARRIVES = Lazy(
    r"\b(?:what|which) (?:hour|time) (?:do|will|would|am|are|is|shall) (?:i|we|it|the \w+) (?:\w+ )?(?:arrive|there|get|in|be)\b|\barriv\w+ (?:time|at (?:what|which) (?:hour|time))\b|\bwhen (?:do|will|would) (?:i|we) (?:arrive|get there)\b|\beta\b"
)


def another_kind(question: Question, calculation: str, estimate: Estimate) -> bool:
    """Whether the estimate is of another kind than the one asked for, whichever reader gave it.

    A unit that is named must be among its figures, a count is no volume, and what is left is no time.
    """
    if calculation == "driving-hours" and _ARRIVES.search(question.frame):
        return estimate.value is not None and _CLOCK.search(estimate.verdict) is None
    if estimate.value is None or calculation in _APART - {"unit-conversion", "cord-length"}:
        return False
    units = {estimate.unit, *(one.unit for one in estimate.also)}
    for asked in {asked_unit(question), bare_unit(question)[0]} - {"", "m", "night", "day", "F", "C"}:
        given = _NAMED.get(asked, asked)
        if asked == "lb" and "psi" in units:  # pounds of air
            continue
        if question.has(rf"<[^>]*> / {asked} ") or any(
            given in (unit, unit.split("/")[0]) or same_kind(unit.split("/")[0], asked) or same_kind(unit, asked)
            for unit in units
        ):
            continue
        return True
    told = len(units) + len(estimate.also) + len([*_CLOCK.finditer(estimate.verdict)])
    if told < _TWO and _TWICE.search(question.frame):
        return True
    if _JUDGED_LAST.search(question.frame) and not _JUDGES.search(f"{estimate.name} {estimate.verdict}"):
        return True
    if estimate.unit in _TIMES | _COUNTED and _REMAINS.search(question.frame) and not _TIME_LEFT.search(question.frame):
        return True
    return estimate.unit in _MEASURED and not units - _MEASURED and _CONTAINERS.search(question.frame) is not None
