"""The amounts of a calculation question as terms: what each measures, in one unit a kind, and the words it stands among.

Every volume becomes gallons, every weight pounds, every time hours, so that a sum over them needs no units. What a term
is for is told by cues over its surroundings, in which `#` stands for the term itself and `<gal>` for its neighbours:
"in the <gal> # a day each" (see `dialogue/sums.py`).
"""

from __future__ import annotations

from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, converted

_REACH = 7
"""Words on each side that can tell what a term is for."""
_BASE = {"volume": "gal", "mass": "lb", "time": "h", "length": "in", "energy": "BTU", "power": "BTU/h"}
_FLOW = {"gpm": ("volume/time", 60.0), "gph": ("volume/time", 1.0), "L/min": ("volume/time", 60.0)}
_PER_H = {"h": 1.0, "day": 1 / 24, "night": 1 / 24, "min": 60.0, "s": 3600.0, "week": 1 / 168}
OWN = frozenset({"people", "clock", "n", "ppm", "mg/L", "percent", "part", "F", "C", "temp"})
COUNTED = frozenset({"furnace", "heater", "cylinder", "shower", "flush", "driver"})


class Term(NamedTuple):
    """One amount of a question."""

    amount: Amount
    kind: str
    """volume, mass, time, length, energy, power, share, people, clock, n, temperature, strength, count, or one a time: "volume/time"."""
    value: float
    """In gallons, pounds, hours, inches, BTU, BTU/h, a share of 1, °F, mg/L."""
    around: str
    """The words around it, itself as #."""

    @property
    def each(self) -> bool:
        """Whether it is for each person."""
        return self.amount.each

    @property
    def per(self) -> str:
        """h, day, min, s: the time a rate was told in."""
        return self.amount.per

    @property
    def unit(self) -> str:
        """The unit as it was said."""
        return self.amount.unit


def terms(question: Question) -> tuple[Term, ...] | None:
    """Every amount as a term; None when one of them measures something that no sum here takes."""
    tokens = question.frame.split()
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    if len(places) != len(question.amounts):
        return None
    found = []
    for place, amount in zip(places, question.amounts, strict=True):
        if amount.unit == "n" and question.words[amount.start : amount.end] == ("one",):
            continue  # "quick one", "one at half": a count of one changes nothing
        measured = _measured(amount, question.scale)
        if measured is None:
            return None
        kind, value = measured
        if kind == "share" and value > 1:
            return None
        minus = "minus " if value < 0 and kind != "temperature" else ""
        measured = (kind, abs(value) if minus else value)
        named = " pounders" if question.words[amount.end - 1 : amount.end] in (("pounder",), ("pounders",)) else ""
        around = f" {' '.join(tokens[max(0, place - _REACH) : place])} {minus}#{named} {' '.join(tokens[place + 1 : place + 1 + _REACH])} "
        found.append(Term(amount, *measured, around))
    return tuple(found)


def _measured(amount: Amount, scale: str) -> tuple[str, float] | None:
    """The kind and value of an amount."""
    value, unit = amount.value, amount.unit
    if unit in _FLOW:
        kind, factor = _FLOW[unit]
        return kind, value * factor * (1.0 if unit != "L/min" else converted(1.0, "L", "gal"))
    if unit in OWN:
        kind, value = _own(unit, value, scale)
    elif unit in COUNTED:
        kind = f"count {unit}"
    elif unit in FACTORS and FACTORS[unit][0] in _BASE:
        kind = FACTORS[unit][0]
        if kind == "power" and unit != "BTU/h":
            return None  # watts are no heat of a furnace
        value = converted(value, unit, _BASE[kind])
    else:
        return None
    if not amount.per:
        return kind, value
    if amount.per not in _PER_H:
        return None
    if kind == "energy":
        return "power", value * _PER_H[amount.per]
    return f"{kind}/time", value * _PER_H[amount.per] if kind != "n" else value


def _own(unit: str, value: float, scale: str) -> tuple[str, float]:
    if unit in ("percent", "part"):
        return "share", value / (100 if unit == "percent" else 1)
    if unit in ("ppm", "mg/L"):
        return "strength", value
    if unit in ("F", "C", "temp"):
        celsius = unit == "C" or (unit == "temp" and scale == "C")
        return "temperature", converted(value, "C", "F") if celsius else value
    return unit, value


def per_hour(term: Term) -> float:
    """A bare rate in its number an hour: "7 an hour", "40 a day"."""
    return term.value * _PER_H[term.per] if term.kind == "n/time" else term.value
