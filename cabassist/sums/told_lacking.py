"""Questions that lack one thing, whatever else is told, and those that no number answers: a level, a flow, a battery under load."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, shown, withheld
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.working_sheet import quantity

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")
_TILL_FULL = Lazy(r"\b(?:how (?:long|many (?:more )?(?:hours|minutes))|when)\b[^?]*\b(?:full|fill|overflow\w*)\b")
_LEVELS = frozenset({"gal", "L", "part", "percent", "in", "cm", "mm"})


def unlevelled(q: Question) -> str:
    """The waste tank rises at so much an hour, and when it is full is asked: how full it is now was not told."""
    if not _WASTE.search(q.frame) or not _TILL_FULL.search(q.frame) or q.has(r"\b(?:empty|dumped|half|full now)\b"):
        return ""
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "L/h", "percent/h", "gal/day")]
    told = [one for one in q.amounts if one.tag in _LEVELS]
    others = [one for one in q.amounts if one.tag == "n"]
    return "How full is the waste tank now?" if len(rates) == 1 and not told and not others else ""


_FILLS = Lazy(r"\bhow (?:long|many minutes)\b[^?]*\bfill(?:s|ing|ed)?\b")
_FRESH = Lazy(r"\b(?:fresh|water|hose)\b")


def unflowed(q: Question) -> str:
    """How long the fresh tank takes to fill from a level that is told: what the hose gives was not told."""
    if not _FILLS.search(q.frame) or not _FRESH.search(q.frame) or _WASTE.search(q.frame):
        return ""
    levels = [one for one in q.amounts if one.tag in _LEVELS]
    if len(levels) != 1 or len(q.amounts) != 1 or q.has(r"\b(?:propane|diesel|bucket|psi|trickle)\b"):
        return ""
    return "How many gallons a minute does the hose give? Or say how long a five gallon bucket takes."


_DRAWS = Lazy(r"\b(?:pull\w*|draw\w*|running|load\w*|inverter|under load|right (?:now|this))\b")
_CHARGE = Lazy(r"\b(?:what|how many) (?:percent|charge|state)\b|\bhow (?:full|charged)\b|\bstate of charge\b|\bsoc\b|\bpercent (?:charge|charged|full|is)\b")  # fmt: skip
_BATTERY = Lazy(r"\b(?:batter\w+|bank)\b[^<]*<n>")


def under_load(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The charge by volts that are read while amps are drawn: no number can be given."""
    bare = _BATTERY.search(q.frame) is not None  # "the battery shows twelve point one"
    volts = [one for one in q.amounts if one.unit == "V" or (bare and one.tag == "n" and one.value % 1 and 9 <= one.value <= 16)]  # fmt: skip
    amps = [one for one in q.amounts if one.unit == "A"]
    if len({one.value for one in volts}) != 1 or len(amps) != 1 or not 9 <= volts[0].value <= 16:
        return None
    if not _DRAWS.search(q.frame) or not _CHARGE.search(q.frame) or q.has(r"<Ah>|\b(?:shore|charger|charging|hours?)\b"):  # fmt: skip
        return None
    line = f"{shown(volts[0].value)} V with {shown(amps[0].value)} A drawn is no rest voltage"
    return withheld("charge", "percent", "That can't be told under load: the load pulls the volts down. Switch it off, let the bank rest some hours, then read the volts again.", working=(line,))  # fmt: skip


_WATER_LB_PER_GAL = 8.337
"""Water at 60 °F (CoolProp)."""


def part_for_full(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds saved by carrying a share of a tank instead of a full one."""
    if not q.has(r"\b(?:instead of|rather than) (?:a |being )?(?:full|filled|topped)\b") or not _FRESH.search(q.frame):
        return None
    if not q.has(r"\b(?:lighter|pounds?|lbs?|weight|save\w*)\b") or q.has(r"\b(?:diesel|propane)\b"):
        return None
    shares = [one for one in q.amounts if one.unit in ("part", "percent")]
    sizes = [one for one in q.amounts if one.tag in ("gal", "n")]
    if len(shares) != 1 or len(sizes) > 1 or 1 + len(sizes) != len(q.amounts):
        return None
    size = sizes[0].value if sizes else coach.tank("fresh").capacity_gal
    share = shares[0].value / (100 if shares[0].unit == "percent" else 1)
    if not 20 <= size <= 500 or not 0 < share < 1:
        return None
    pounds = size * (1 - share) * _WATER_LB_PER_GAL
    line = f"{shown(size)} × (1 − {shown(share)}) × {_WATER_LB_PER_GAL} lb = {shown(pounds)} lb"
    return exact("difference", pounds, "lb", working=(line,), source="water 8.337 lb/gal (CoolProp)", verdict=f"{shown(pounds)} pounds lighter.")  # fmt: skip


_WIRES = (6, 8, 10, 12, 14, 16, 18)
"""Sizes that stand in the table of wires."""


def low_volt_wire(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Volts that fall off on a wire of the coach's own low voltage, out and back."""
    if not q.has(r"\b(?:how many volts|volts?|drop)\b.*\b(?:wire|line|run|way|drop\w*|lose|fall\w*)\b|\bdrop\b"):
        return None
    told = [one for one in q.amounts if q.words[one.start : one.end] != ("one",)]
    volts = [one for one in told if one.unit == "V"]
    wires = [one for one in told if one.unit == "awg"]
    ways = [one for one in told if one.unit in ("ft", "m")]
    amps = [one for one in told if one.unit == "A"]
    if [len(volts), len(wires), len(ways), len(amps)] != [1, 1, 1, 1] or len(told) != 4 or volts[0].value > 60:
        return None
    if not q.has(r"\bone way\b|<n> way\b|\beach way\b"):
        return None
    from cabassist.estimate.cords import voltage_drop

    if wires[0].value not in _WIRES:
        return None
    return voltage_drop(quantity(volts[0].value, "V"), quantity(amps[0].value, "A"), quantity(ways[0].value, ways[0].unit), int(wires[0].value))  # fmt: skip
