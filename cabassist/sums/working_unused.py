"""Amounts of a question that make no difference to its answer.

A number that stands among the inputs was read, but a formula may still leave it out: "keep 20 for the toilet" beside a level
and a rate. So each amount is said otherwise, and the question worked out again: where nothing in the answer moves, the amount
had no part in it. What is only told in passing, how many are aboard or how far the hotel is, may be without a part.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.working_unplaced import sizes, told_beside

Again = Callable[[Question], Estimate | None]
"""The answer to a question, worked out as it was the first time; None when it has none."""

BY_RULE = frozenset(
    {
        "requalification", "triangle-distances", "frostbite", "co-meaning", "vaporization", "wheel-recheck", "cylinder-order", "battery-state",
        "wind-chill", "gel-risk", "tread-limit",
    }
)  # fmt: skip
"""What these answer comes from a rule or a table, which ends somewhere; its inputs are dates, marks and readings."""
_ROAD = frozenset({"driving-hours", "diesel-range"})
_WARM = frozenset(
    {
        "cabin-cool-down", "heat-loss", "tire-pressure", "freeze-time", "heat-pad-watts", "propane-hours", "propane-weight", "burn-for-loss",
        "degree-days", "boil-time",
    }
)  # fmt: skip
"""Calculations a temperature belongs to; beside others it is told in passing."""
_UNTIMED = frozenset({"tire-pressure", "wheel-torque", "unit-conversion", "axle-load", "tread-limit", "legal-fill"})
_COUNTS = frozenset({"people", "clock", "year", "month", "used", "awg", "mm", "lb-ft", "N·m", "bag", "night", "driver"})  # fmt: skip
_CURRENT = frozenset({"shore-load", "breaker-limit", "heat-pad-watts", "voltage-drop"})
"""Calculations of current, which know nothing of what is in a tank and take eight tenths of a breaker by themselves."""
_MAINS = (100.0, 130.0)
_SPEEDS = frozenset({"mph", "km/h"})
_LEAST_COUNT = 3
"""A bare "two" or "one" of a question is rarely an amount: "between the two", "which one"."""
_SET_ASIDE = Lazy(
    r"\b(?:last (?:year|week|time|month|season)|yesterday|meter|odometer|mileage|says|phoned|called|used to)\b"
)
_UNUSED_BY = Lazy(r"\b(?:nobody|is off|are off|last (?:year|week|time|season)|bleach|not (?:on|in use|running))\b")
_OF_NOTHING = Lazy(r"\b(?:nothing|none|zero)(?: (?:for|in|during|over|the|other|last|remaining|rest|of))*$")
"""In the hours behind it nothing is used: "and nothing the other four"."""
_REACH = 12


def unused(question: Question, calculation: str, estimate: Estimate, coach: Coach, again: Again) -> tuple[Amount, ...]:
    """The amounts that belong to what was asked and that the answer does not turn on.

    Args:
        question: what was asked.
        calculation: the calculation that answered.
        estimate: its answer.
        coach: the profile, whose sizes may be told beside.
        again: works a question out as this one was.
    """
    if calculation in BY_RULE or not estimate.value or (calculation == "freeze-time" and estimate.unit in ("F", "C")):
        return ()
    found = []
    for place, amount in enumerate(question.amounts):
        if not _belongs(question, amount, calculation, coach) or _told_twice(question, amount):
            continue
        if not _in_working(question, amount, estimate) and _idle(
            question, place, estimate, again, calculation.startswith("propane")
        ):
            found.append(amount)
    return tuple(found)


def _idle(question: Question, place: int, estimate: Estimate, again: Again, of_gas: bool) -> bool:
    """Whether the answer stays the same with other values in that place, or there is none with any of them."""
    made = [again(_said(question, place, value)) for value in _others(question.amounts[place])]
    if any(found is not None and found != estimate for found in made):
        return False
    # only this share fits: it stands in the answer by chance, "70 percent" as the 30 pounds of another bottle
    chance = of_gas and question.amounts[place].unit in ("percent", "part")
    return chance or any(found is not None for found in made)


def _belongs(question: Question, amount: Amount, calculation: str, coach: Coach) -> bool:
    """Whether an amount is of the kind that the calculation is about."""
    unit = amount.unit
    if unit == "people":
        return any(one.each for one in question.amounts)
    if unit in _COUNTS or told_beside(question, amount):
        return False
    if amount.start and question.words[amount.start - 1] in ("/", "per"):
        return False  # "in L / 100 km"
    if calculation in _ROAD:
        rolling = any(one.unit in _SPEEDS or (one.unit in ("mi", "km") and one.per) for one in question.amounts)
        if unit in ("n", "h", "min", "day", "mi", "km"):
            return unit != "n" and rolling and not (unit in ("mi", "km") and question.has(r"\bwhich\b"))
    elif unit in ("mi", "km") or unit in _SPEEDS:
        return False
    if unit in ("F", "C", "temp"):
        return calculation in _WARM and "chill" not in question.words[max(0, amount.start - 5) : amount.start]
    if unit in ("h", "min", "s", "day", "week") and calculation in _UNTIMED:
        return False
    if calculation in _CURRENT and (
        unit in ("gal", "L", "h", "min") or (unit in ("percent", "part") and amount.value in (80, 0.8))
    ):
        return False
    if calculation in _CURRENT and unit in ("A", "ft") and question.has(r"<A> (?:breaker|circuit)|<ft> (?:away|off)"):
        return False
    if calculation in _CURRENT and unit == "n" and _MAINS[0] <= amount.value <= _MAINS[1]:
        return False
    if unit in ("ft", "m") and calculation == "freeze-time":
        return False  # a hose freezes alike at every length
    if (
        unit == "n"
        and amount.value == _LEAST_COUNT - 1
        and question.words[amount.end : amount.end + 1] in (("full",), ("empty",))
    ):
        return True
    known = sizes(coach)
    named = (
        known["gal"]
        if unit == "n" and amount.start and question.words[amount.start - 1] in ("tank", "s", "the")
        else known.get(unit, ())
    )
    if any(abs(abs(amount.value) - size) < 1e-6 for size in named) or _of_the_clock(question, amount):
        return False
    if (
        unit == "n"
        and not amount.per
        and (amount.value < _LEAST_COUNT or amount.value % 1 == 0 and amount.value >= 1000)
    ):
        return False
    before = " ".join(question.words[max(0, amount.start - _REACH) : amount.start])
    after = " ".join(question.words[amount.end : amount.end + 6])
    if _OF_NOTHING.search(before):
        return False
    return not ((unit == "n" and _SET_ASIDE.search(before)) or _UNUSED_BY.search(after))


def _of_the_clock(question: Question, amount: Amount) -> bool:
    """Whether a bare number is one of two times of day: "from 11 till 6"."""
    around = {*question.words[max(0, amount.start - 1) : amount.start], *question.words[amount.end : amount.end + 1]}
    return (
        amount.unit == "n"
        and amount.value <= 12
        and amount.value % 1 == 0
        and bool(around & {"till", "until", "to", "-"})
    )


_NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")
_LARGE = 12
"""Up to here a number may stand in a working by chance."""


def _in_working(question: Question, amount: Amount, estimate: Estimate) -> bool:
    """Whether the working shows a number that only this amount can be."""
    if amount.value <= _LARGE or sum(one.value == amount.value for one in question.amounts) > 1:
        return False
    return any(
        float(number.replace(",", "")) == amount.value for line in estimate.working for number in _NUMBER.findall(line)
    )


def _told_twice(question: Question, amount: Amount) -> bool:
    """Whether other amounts of the question say the same: "lost 6 degrees, was 66, now 60", or the number said again."""
    others = [one for one in question.amounts if one is not amount and not one.per]
    if any(
        abs(one.value - amount.value) < 1e-6 and (one.unit == amount.unit or "n" in (one.unit, amount.unit))
        for one in others
    ):
        return True
    values = [one.value for one in others if one.unit in (amount.unit, "temp", "n")]
    return amount.unit not in ("n", "part") and any(
        abs(abs(a - b) - abs(amount.value)) < 1e-6 or abs(a + b - amount.value) < 1e-6
        for a in values
        for b in values
        if a != b
    )


def _others(amount: Amount) -> Iterator[float]:
    """Values to try in its place: near it, far above and far below."""
    value = amount.value
    if amount.unit in ("n", "people") and value % 1 == 0:
        yield from (value + 1, 3 * value + 1, max(1.0, value // 2))
    else:
        yield from (value * 1.1, value * 3 + 1, value / 3)


def _said(question: Question, place: int, value: float) -> Question:
    """The question with another value in that place."""
    other = question.amounts[place]._replace(value=value, pieces=())
    return replace(question, amounts=(*question.amounts[:place], other, *question.amounts[place + 1 :]))
