"""What the families of told sums share: the unit of an answer, its time of day, its yes or no."""

from __future__ import annotations

from datetime import timedelta

from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import duration, exact, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_clock import spans
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, hours_until
from cabassist.sums.families import Told, role
from cabassist.sums.working_sheet import in_unit

STARTS = (
    (0.8, r"# [^#]*<clock>"),
    (1.0, r"\bit (?:is )?# "),
    (2.5, r"\b(?:now|already|currently|just)(?: at| about| gone)? # |# (?:now|already)\b"),
)
"""Cues of the time of day from which something runs: it is now, and the other one comes later."""
ENDS = ((0.8, r"<clock>[^#]* # "), (1.0, r"\b(?:till?|until|by|before) # | # $"))
"""Cues of the time of day to which something runs."""
OTHERS = role(
    "beside",
    "n",
    -2.0,
    (
        4.5,
        r"# (?:\w+ )?(?:asleep|seats|filled|sleeping|souls|kids|aboard|behind me|passengers|of us|guys|lads|bunks|goalies|coaches)\b",
    ),
    many=True,
)
"""Those aboard, told in passing."""
MARKED = -9.0
"""The base of roles that no cue can tell: only the network hands them out."""
_ANY = "time|clock|distance|speed|temperature|length|depth|mass|volume|share|watts|volts|current|charge|heat|pressure|people|n"
"""Kinds of which an amount may be told in passing."""
ASIDE = role("beside", _ANY, MARKED, many=True)
"""What is told in passing, of any kind."""
FREEZING_F = 32.0
"""Where water freezes, in °F."""
WATER_LB = 8.34
"""A gallon of water in pounds, WAC 296-307-40029."""
_METRIC = {"mi": "km", "gal": "L", "lb": "kg", "F": "C", "mph": "km/h", "ft": "m"}


def result(
    t: Told,
    name: str,
    value: float,
    unit: str,
    working: tuple[str, ...],
    verdict: str = "",
    also: tuple[Figure, ...] = (),
    source: str = "arithmetic",
) -> Estimate:
    """An exact answer in the unit that was asked for, or in the one that the question speaks in."""
    said = {one.unit for one in t.question.amounts}
    twin = _METRIC.get(unit, "")
    metric = twin in said and unit not in said
    asked = t.want.unit if t.want.unit not in ("h", "min") else ""
    found = exact(name, value, unit, working=working, assumptions=tuple(t.assumed), source=source, verdict=verdict, also=also)  # fmt: skip
    return in_unit(found, asked or (twin if metric else ""))


def ahead(start: float, end: float) -> float:
    """Hours from one time of day on to the next one."""
    return (end - start) % 24


def between(start: Term, end: Term) -> float:
    """Hours from one told time of day to another; without "am" or "pm" the halves of the day that lie nearest."""
    firsts, lasts = ((hour_of(one), hour_of(one) + 12) if _half_open(one) else (hour_of(one),) for one in (start, end))
    found = spans(firsts, lasts, end.amount.tomorrow and not start.amount.tomorrow)
    return min((one for one in found if one > 0), default=0.0)


def hour_of(term: Term) -> float:
    """A time of day in hours: "nine fifteen" is heard as 915."""
    return term.value // 100 + term.value % 100 / 60 if term.kind == "n" and term.value >= 100 else term.value


def _half_open(term: Term) -> bool:
    return hour_of(term) < 13 and (term.kind == "n" or bool(term.amount.pieces))


def degrees_f(t: Told, name: str) -> float | None:
    """A role's temperature in °F; one without a unit is in the scale of the others."""
    term = t.one(name)
    if term is None:
        return None
    return converted(term.value, "C", "F") if term.kind == "n" and t.question.scale == "C" else term.value


def hour_now(t: Told) -> float:
    """The time of day by the clock."""
    return t.now.hour + t.now.minute / 60


def now_term(t: Told) -> Term:
    """The time of day by the clock, as one that was told."""
    return Term(Amount(hour_now(t), "clock"), "clock", hour_now(t), "")


def to_deadline(t: Told) -> float | None:
    """Hours from the time told, or from now, to the time it must last to."""
    now, end = t.one("now"), t.one("deadline")
    if end is None:
        return None
    start = Amount(hour_now(t), "clock") if now is None else now.amount
    return hours_until(start, end.amount)


_ENDS_DRY = r"(?<!the )(?<!a )(?:(?:run|runs|running|go|goes|going|be|come|end|fall|falls|wind) (?:\w+ ){0,2}?(?:out|dry|empty|short|flat|dead|cold|lacking|starved)(?! to\b)|die|dies|quit|quits|starve|starves)\b"
_NOT_ASKED = Lazy(
    rf"\b(?:before|without|until|till?|if)\b(?: (?!will|would|do|does|are|is|am)\S+){{0,4}} {_ENDS_DRY}"
    rf"|\b(?:or|when|how (?:long|many|much|soon)|by how)\b(?: [^ ,.?]+){{0,5}}? {_ENDS_DRY}"
)
_ASKS_LACK = Lazy(
    rf"\b(?:will|would|do|does|did|are|is|am|gonna|going|could|can|shall)\b(?: (?!not|last|hold|make|do|enough|get)[^ .?]+){{0,7}}? {_ENDS_DRY}"
    r"|\b(?:do|will|would|must|should) (?:i|we) (?:\w+ )?(?:need|have to|stop|refill|fill|buy|refuel|swap)(?: \w+){0,2} (?:more|another|refill|fill up|top up|fuel|fuel up|refuel|swap|tank up|bottle|cylinder)\b"
)


def asks_lack(question: Question) -> bool:
    """Whether it is asked if it runs out, so that a yes says that it does not last; "or will we run out" asks if it lasts."""
    return _ASKS_LACK.search(_NOT_ASKED.sub(" ", question.frame)) is not None


EVEN = 1e-6
"""What rounding may take from a time that is just enough."""


def lasting(t: Told, hours: float, needed: float | None, start: float | None) -> str:
    """Whether it lasts as long as is needed, and when it is over."""
    at = time_of_day(start + hours) if start is not None else f"{t.now + timedelta(hours=hours):%H:%M}"
    if needed is None:
        return f"Until {at}." if start is not None or t.want.clock else ""
    line = f"{duration(hours)} against {duration(needed)}"
    lacks = asks_lack(t.question)
    if hours >= needed - EVEN:
        return f"{'No' if lacks else 'Yes'}, it lasts: {line}."
    no = "Yes" if lacks else "No"
    return f"{no}, it runs out at {at}: {line}." if start is not None else f"{no}, it does not last: {line}."


def listed(values: list[float]) -> str:
    """ "3 + 4.5"."""
    return " + ".join(map(shown, values))
