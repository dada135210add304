"""Numbers of a question that its answer made no use of.

An answer that leaves out a number the driver gave is often the answer to another question: "I need 64 gallons at four a
minute" must not get the time for a whole tank. Every number counts as used that stands among the inputs or in the
working, as it was said or in a plain relation to it; what is left is named instead of a result.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.sums.working_sheet import Input

_NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")
WORDED = "by words"
"""The input that lists amounts by the words they were said in, when no single number stands for them."""
_CLOCK = re.compile(r"\b\d{1,2}:\d{2}\b")
_MADE = re.compile(r"\b\d{1,2}:\d{2}\b|\bbetween [^.;:]*? and [^.;:]*?(?=[.;:,]|$)")
_ODOMETER = 1000.0
"""From here on two numbers may be readings of an odometer, of which only the distance between them goes into a sum."""
_NEAR = 0.006
"""Share by which two numbers may differ and still be the same, for the working shows rounded ones."""
_BESIDE = frozenset({"F", "C", "temp", "people", "clock", "lb-ft", "N·m"})
"""Kinds that are often told beside: how cold it is, how many are aboard, how tight the nuts were."""


def unplaced(
    question: Question,
    inputs: tuple[Input, ...],
    estimate: Estimate,
    coach: Coach,
    beside: bool = True,
    strict: bool = False,
) -> tuple[Amount, ...]:
    """The amounts of the question that neither an input nor the working holds.

    `strict` asks for each number itself, not for what another one makes of it. `beside` says whether a temperature, the people aboard and the like may be told without being used.
    """
    held = list(_held(inputs, estimate))
    known = sizes(coach)
    kinds = {one.unit for one in inputs if one.origin == "said"}
    found = []
    for amount in question.amounts:
        if amount.unit in ("clock", "year", "month", "used") or (amount.unit == "n" and amount.value == 1):
            continue
        if told_beside(question, amount) or _worded(question, amount, inputs):
            continue
        shared = amount.unit == "people" and any(one.each for one in question.amounts)
        if beside and not shared and amount.unit in _BESIDE and not kinds & _alike(amount.unit):
            continue
        if any(_same(abs(amount.value), size) for size in known.get(amount.unit, ())):
            continue
        if not any(_same(one, number) for one in _forms(amount, question, strict) for number in held):
            found.append(amount)
    clocks = [one for one in question.amounts if one.unit == "clock"]
    if len(clocks) == 2 and not _spans(clocks, held, estimate):
        found += clocks
    return tuple(found)


def _spans(clocks: list[Amount], held: list[float], estimate: Estimate) -> bool:
    """Whether the hours between two times of day, or a time of day, stand in the answer."""
    gap = abs(clocks[0].value - clocks[1].value) % 12
    near = any(_same(one, hours) for one in held for hours in (gap, 12 - gap, 12 + gap, 24 - gap) if hours > 0)
    return near or _CLOCK.search(f"{estimate.verdict} {' '.join(estimate.working)}") is not None


def sizes(coach: Coach) -> dict[str, list[float]]:
    """What the profile knows by its size, by unit: it may be told beside, "in the 120 gallon tank"."""
    return {
        "gal": [*(tank.capacity_gal for tank in coach.tanks), coach.diesel.capacity_gal],
        "in": [tank.depth_in for tank in coach.tanks],
        "lb": [cylinder.nominal_lb for cylinder in coach.propane.cylinders],
        "V": [coach.house_battery.volts, coach.shore.volts],
    }


def words(question: Question, amounts: tuple[Amount, ...]) -> str:
    """The amounts as they were said: "64 gallons" and "half an hour"."""
    return " and ".join(f"“{' '.join(question.words[a.start : a.end])}”" for a in amounts)


def told_beside(question: Question, amount: Amount) -> bool:
    """A time of day in bare numbers, the wind chill, the rest behind a driver: none of them goes into a sum."""
    before, after = question.words[max(0, amount.start - 2) : amount.start], question.words[amount.end : amount.end + 4]
    if amount.unit == "n" and before[-1:] == ("at",):
        return len(amount.pieces) == 2 or (amount.value <= 12 and any(a.unit == "clock" for a in question.amounts))
    if amount.unit in ("F", "C", "temp"):
        return "chill" in before
    return amount.unit in ("h", "n") and bool({"off", "berth", "bunk", "sleeper", "rest"} & {*after})


def _worded(question: Question, amount: Amount, inputs: tuple[Input, ...]) -> bool:
    """Whether an input notes the amount by its words: "9 10 8 11", a week's days, is heard as one number."""
    said = " ".join(question.words[amount.start : amount.end])
    return any(one.name == WORDED and said in str(one.value).split("; ") for one in inputs)


def _alike(unit: str) -> set[str]:
    return {"F", "C", "temp"} if unit in ("F", "C", "temp") else {unit}


def _held(inputs: tuple[Input, ...], estimate: Estimate) -> Iterator[float]:
    for one in inputs:
        if isinstance(one.value, str):
            yield from map(_float, _NUMBER.findall(one.value))
        else:
            yield abs(float(one.value))
    # a time of day and the ends of a range are made by the answer and may be like any number by chance
    verdict = _MADE.sub(" ", estimate.verdict)
    for line in (*estimate.working, *estimate.assumptions, verdict):
        yield from map(_float, _NUMBER.findall(line))
    for figure in estimate.also:
        yield abs(figure.value)
    if estimate.value is not None:
        yield abs(estimate.value)


def _float(written: str) -> float:
    return float(written.replace(",", ""))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= _NEAR * max(one, other) + 1e-9


def _forms(amount: Amount, question: Question, strict: bool) -> Iterator[float]:
    """A number as it may stand in a working: as a share or in percent, a minute's worth in an hour's, times another."""
    value = abs(amount.value)
    yield value
    if amount.unit in ("percent", "part", "n") and amount.per in ("", "h", "day"):
        yield from (value * 100, value / 100)
    if amount.per or amount.unit in ("h", "min", "s", "n", "gpm", "gph", "L/min"):
        yield from (value * 60, value / 60)
    if amount.unit in ("kW", "ton", "kg", "L", "mL", "n"):
        yield from (value * 1000, value / 1000)
    if amount.unit in ("percent", "part"):
        yield from (abs(1 - value), abs(100 - value))
    if len(amount.pieces) == 2 and all(piece.isdigit() for piece in amount.pieces):
        yield float("".join(amount.pieces))
        yield float(".".join(amount.pieces))
    if len(amount.pieces) == 2 and all(piece.isdigit() for piece in amount.pieces):
        yield float(amount.pieces[0]) * float(amount.pieces[1])  # "two fifty foot cords"
    for other in question.amounts if strict else ():
        if other is not amount and other.unit == "n" and 1 < other.value <= 12:
            yield value * other.value  # two cords of fifty feet
        if other is not amount and min(value, other.value) >= _ODOMETER:
            yield abs(value - other.value)
    for other in () if strict else question.amounts:
        if other is not amount and other.value and other.unit not in _BESIDE:
            yield from (value * abs(other.value), value / abs(other.value))
            if value:
                yield abs(other.value) / value
            if other.unit == amount.unit:
                yield from (value + abs(other.value), abs(value - abs(other.value)))
