"""The amounts of a calculation question as terms: what each measures, in one unit a kind, and the words it stands among.

Every volume becomes gallons, every weight pounds, every time hours, so that a sum over them needs no units. What a term
is for is told by cues over its surroundings, in which `#` stands for the term itself and `<gal>` for its neighbours:
"in the <gal> # a day each" (see `dialogue/sums.py`).
"""

from __future__ import annotations

from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_clock import spans
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, PER_H, converted
from cabassist.language.lazy import Lazy

_REACH = 7
"""Words on each side that can tell what a term is for."""
_BASE = {"volume": "gal", "mass": "lb", "time": "h", "length": "in", "energy": "BTU", "power": "BTU/h"}
_FLOW = {"gpm": ("volume/time", 60.0), "gph": ("volume/time", 1.0), "L/min": ("volume/time", 60.0)}
_OF_BATTERY = {"A": "current", "Ah": "charge"}
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
    def factor(self) -> float:
        """What one of its unit is in the unit of its kind: 0.264 for liters; a number without a unit is taken in it."""
        return self.value / self.amount.value if self.amount.value and not self.amount.per else 1.0

    @property
    def per(self) -> str:
        """h, day, min, s: the time a rate was told in."""
        return self.amount.per

    @property
    def unit(self) -> str:
        """The unit as it was said."""
        return self.amount.unit


def terms(question: Question) -> tuple[Term, ...] | None:
    """Every amount as a term; None when one of them measures something that no sum here takes.

    "From nine tonight to seven" and "210 miles at 50" are one length of time each.
    """
    tokens, amounts = question.frame.split(), list(question.amounts)
    if sum(token.startswith("<") for token in tokens) != len(amounts):
        return None
    tokens, amounts = _dutied(*_driven(*_spanned(tokens, amounts)))
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    found = []
    for place, amount in zip(places, amounts, strict=True):
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


_TO = frozenset({"to", "till", "until", "through", "-", "and"})
_BETWEEN = 3
"""Words that may stand between the two times of a span: "from nine tonight, that is, to seven"."""


def _spanned(tokens: list[str], amounts: list[Amount]) -> tuple[list[str], list[Amount]]:
    """Tokens and amounts with "from <clock> to <clock>" as one length of time."""
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    for k in range(len(places) - 1):
        first, last = places[k], places[k + 1]
        one, other = amounts[k], amounts[k + 1]
        opened = tokens[first - 1 : first] in (["from"], ["between"])
        if one.unit != "clock" or not opened or last - first > _BETWEEN + 1 or tokens[last - 1] not in _TO:
            continue
        hours = hours_until(one, other)
        if hours is None:
            continue
        hours += _further_days(tokens, first, last, one.value + hours)
        span = Amount(hours, "h", start=one.start, end=other.end)
        spanned = [*tokens[: first - 1], "for", "<h>", *tokens[last + 1 :]]
        return spanned, [*amounts[:k], span, *amounts[k + 2 :]]
    return tokens, amounts


_DAY_H = 24.0
_WEEKDAYS = {f"{name}day": place for place, name in enumerate("mon tues wednes thurs fri satur sun".split())}


def _further_days(tokens: list[str], first: int, last: int, until: float) -> float:
    """Hours of the whole days between two times whose days are named, beside what the clock tells: "noon tuesday to noon thursday"."""
    named = [next((_WEEKDAYS[word] for word in (*tokens[at + 1 : at + 3], *tokens[at - 1 : at]) if word in _WEEKDAYS), None) for at in (first, last)]  # fmt: skip
    if named[0] is None or named[1] is None:
        return 0.0
    days = (named[1] - named[0]) % 7
    return 24.0 * (days - (until >= _DAY_H)) if days else 0.0  # past midnight, the next day is counted already


def hours_until(start: Amount, end: Amount) -> float | None:
    """Hours from a time of day to another; "till seven" after ten at night is the next seven."""
    if end.unit != "clock" and (end.unit != "n" or end.per or not 1 <= end.value <= 12 or end.value % 1):
        return None
    firsts, lasts = ((one.value,) if one.unit == "clock" and not one.pieces else (one.value, one.value + 12) for one in (start, end))  # fmt: skip
    return min(one or 24.0 for one in spans(firsts, lasts, end.tomorrow and not start.tomorrow))


_OUT_OF_AN_HOUR = Lazy(r"<min> (?:(?:(?:out )?of|in|for) )?(?:every|each|an|per|the|a) hours?(?= )")


def _dutied(tokens: list[str], amounts: list[Amount]) -> tuple[list[str], list[Amount]]:
    """Tokens and amounts with "25 minutes out of every hour" as a share of the time."""
    said = f"{' '.join(tokens)} "
    match = _OUT_OF_AN_HOUR.search(said)
    if match is None:
        return tokens, amounts
    at = said.count("<", 0, match.start())
    share = amounts[at]._replace(value=amounts[at].value / 60, unit="part")
    said = f"{said[: match.start()]}<part> of the time{said[match.end() :]}"
    return said.split(), [*amounts[:at], share, *amounts[at + 1 :]]


_SPEEDS = frozenset("average averaging averages doing at make making do run running cruising".split())


def _driven(tokens: list[str], amounts: list[Amount]) -> tuple[list[str], list[Amount]]:
    """Tokens and amounts with a distance and the speed it is driven at as one length of time."""
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    ways = [k for k, one in enumerate(amounts) if one.unit in ("mi", "km") and not one.per]
    speeds = [
        k
        for k, one in enumerate(amounts)
        if one.unit in ("mph", "km/h")
        or (one.unit in ("mi", "km") and one.per == "h")
        or (one.unit == "n" and not one.per and 20 <= one.value <= 120 and tokens[places[k] - 1] in _SPEEDS)
    ]
    if len(ways) != 1 or len(speeds) != 1 or not amounts[speeds[0]].value:
        return tokens, amounts
    way, speed = ways[0], speeds[0]
    metric = amounts[speed].unit in ("km/h", "km") or (amounts[speed].unit == "n" and amounts[way].unit == "km")
    far = converted(amounts[way].value, amounts[way].unit, "km" if metric else "mi")
    took = amounts[way]._replace(value=far / amounts[speed].value, unit="h")
    tokens = [*tokens[: places[way]], "<h>", *tokens[places[way] + 1 :]]
    kept = [i for i in range(len(tokens)) if i != places[speed]]
    return [tokens[i] for i in kept], [took if k == way else one for k, one in enumerate(amounts) if k != speed]


def _measured(amount: Amount, scale: str) -> tuple[str, float] | None:
    """The kind and value of an amount."""
    value, unit = amount.value, amount.unit
    if unit in _FLOW:
        kind, factor = _FLOW[unit]
        return kind, value * factor * (1.0 if unit != "L/min" else converted(1.0, "L", "gal"))
    if unit in OWN:
        kind, value = _own(unit, value, scale)
    elif unit in _OF_BATTERY:
        kind = _OF_BATTERY[unit]
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
    if amount.per not in PER_H:
        return None
    if kind == "energy":
        return "power", value * PER_H[amount.per]
    return f"{kind}/time", value * PER_H[amount.per] if kind != "n" else value


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
    return term.value * PER_H[term.per] if term.kind == "n/time" else term.value
