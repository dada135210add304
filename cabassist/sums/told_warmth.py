"""Warmth put into water or lost by it: how long until it freezes, what a pad or a heat tape must give, what it uses.

Water stores 1 BTU a pound and degree; 1 W is 3.412 BTU/h. Every amount is water, a temperature, a loss, a pad, a length of tape
or a time; one that is none of them leaves the question to the readers that ask.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.cold import FUSION_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.water import LB_PER_GAL_BY_F
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.plugged import all_put, counted_things
from cabassist.sums.told_parts import FREEZING_F

BTU_PER_WH = 3.412
LB_PER_GAL = LB_PER_GAL_BY_F[-1][1]
FUSION_BTU_PER_LB = 143.35
SOURCE = "heat = pounds × degrees (1 BTU/lb·°F), 8.337 lb/gal; 1 W = 3.412 BTU/h"

_ABOUT = Lazy(
    r"\b(?:pads?|heat(?:ing|er)? (?:tape|trace|cable)s?|tapes?|trace|freez\w*|fro[sz]en?|ice|warm\w*|hold|keep|thaw\w*|bay|tank|pipes?|waste|water|fresh)\b"
)
_HEATS = Lazy(r"\b(?:pads?|tapes?|trace|blankets?|warmers?)\b")
_NOT_HERE = Lazy(
    r"\b(?:propane|furnaces?|btu (?:rating|furnace)|cabin|coach (?:loses|cools)|bunks?|wind ?chill|gusts?|diesel|gel\w*|coolant|sleeping bags?|inside the coach|generator|inverter|charger|fridge)\b|<(?:furnace|mph|km/h|psi|lb|kg)[/>]"
)
_OUTSIDE = Lazy(
    r"\b(?:outside|outdoors|out there|out|air|ambient|weather|forecast|night|tonight|low|when it is|when it|it is|bay air) (?:is |at |of |says |goes |down |to |around |about |temp\w* )*$"
)
_OUTSIDE_AFTER = Lazy(r"^(?:degrees? )?(?:outside|outdoors|out|air|out there|ambient|in the bay air)\b")
_HOLD = Lazy(r"\b(?:hold(?:s|ing)?|keep(?:s|ing)?|stay(?:s)?|want|maintain)\b[^.]{0,26}$")
_TO = Lazy(r"(?:^|\b)(?:to|up to|down to|till?|until|reach\w*|hits?|gets? to|before) (?:it is |it |at |about )*$")
_PER_DEGREE = Lazy(r"^(?:(?:for|per|a|each|every) )+(?:degree|deg)\b|^/ ?(?:degree|deg|f)\b")
_PER_FOOT = Lazy(r"^(?:a|per|/|each|every|the) ?(?:running )?(?:foot|ft|feet)\b")
_LOSES = Lazy(r"\b(?:down|los(?:es?|ing|t|s)|sheds?|leaks?|gives? (?:off|up)|bleeds?)\b")
_FREEZES = Lazy(r"\b(?:freez\w*|fro[sz]en?|ice|thirty two)\b")
_SOLID = Lazy(r"\b(?:frozen solid|freeze solid|solid|all ice|block of ice)\b")
_WARMS = Lazy(r"\b(?:warm|heat|bring|raise|get|take)\w*\b")
_STARTS = Lazy(r"\b(?:from|starts?|quit|off|lost|since|went|at|died|now|is) (?:about |at )?$")
_ENOUGH = Lazy(r"\b(?:is|are|will|does|do|can|would)\b.*\b(?:enough|hold|do it|keep up|cover|make it up)\b|\benough\b")
_STILL = Lazy(r"\b(?:still|net|short|balance|uncovered|missing)\b")


@dataclass
class _Told:
    """What was told of warmth, in gallons, °F, BTU/h and watts."""

    gallons: float | None = None
    degrees: list[tuple[str, float]] = field(default_factory=list)
    """Each with "out", "hold", "to" or "water"."""
    loss: float | None = None
    per_degree: float | None = None
    watts: float = 0.0
    per_foot: float | None = None
    feet: float = 0.0
    volts: float | None = None
    hours: float | None = None
    start: float | None = None
    share: float = 1.0

    def degree(self, name: str) -> float | None:
        """The one temperature of that name, or None."""
        found = [value for one, value in self.degrees if one == name]
        return found[0] if len(found) == 1 else None


def warmth(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the question's warmth comes to; None when an amount has no place or nothing follows."""
    frame = question.frame
    want = wanted(question) or want
    if not _ABOUT.search(frame) or _NOT_HERE.search(frame) or not question.amounts:
        return None
    told = _told(question)
    if told is None:
        return None
    heats = _HEATS.search(frame) is not None
    if heats and (told.per_foot is not None or told.watts) and told.gallons is None and not told.degrees and told.loss is None:  # fmt: skip
        return _used(told, want, frame)
    if told.per_foot is not None or told.feet or told.volts is not None:
        return None
    if told.gallons is not None and told.loss is None and told.per_degree is None and not told.watts:
        return _taken(told, want, frame)
    if heats and told.watts and told.gallons is not None and told.loss is None and told.per_degree is None:
        return _warming(told, want, frame)
    if told.loss is not None and told.per_degree is None:
        return _steady(told, want, frame, heats)
    return None if told.per_degree is None else _by_degree(told, want, frame, heats)


def _told(question: Question) -> _Told | None:
    found = placed(question)
    if found is None:
        return None
    told = _Told()
    whole = all_put(found, told, lambda k, one: _put(told, one, found, k, question), _counts)
    return told if whole else None


def _counts(one: Said) -> bool:
    return counted_things(one) or (one.unit == "heater" and one.value <= 8)


def _put(told: _Told, one: Said, found: tuple[Said, ...], k: int, question: Question) -> bool:
    """Give an amount its place; False when it has none."""
    value, unit = one.value, one.unit
    if one.amount.each and unit not in ("W",):
        return False
    if unit in ("BTU/h", "BTU", "W", "kW") and (one.amount.per.startswith("deg") or _PER_DEGREE.search(one.right)):
        if told.per_degree is not None or unit in ("W", "kW"):
            return False
        told.per_degree = value / (1.8 if one.amount.per == "degC" else 1.0)
        return one.amount.per != "degC"
    if unit in ("BTU/h", "BTU") and (unit == "BTU/h" or one.amount.per == "h"):
        if told.loss is not None or not (_LOSES.search(one.left) or _LOSES.search(one.right)):
            return False
        told.loss = value
        return True
    if unit in ("W", "kW"):
        value *= 1000 if unit == "kW" else 1
        if _PER_FOOT.search(one.right):
            if told.per_foot is not None:
                return False
            told.per_foot = value
            return True
        if _LOSES.search(one.left) or told.watts or one.amount.per:
            return False
        told.watts = value
        return True
    if unit in ("ft", "m"):
        told.feet += converted(value, unit, "ft")
        return True
    if unit == "A" and Lazy(r"^(?:\w+ )?(?:breaker|circuit|fuse|outlet)\b").search(one.right):
        return True
    if unit == "V":
        told.volts, fresh = value, told.volts is None
        return fresh
    if unit in ("gal", "L") and not one.amount.per:
        if told.gallons is not None:
            return False
        told.gallons = converted(value, unit, "gal")
        return True
    if unit in ("h", "min", "night") and not one.amount.per:
        if told.hours is not None or unit == "night":
            return unit == "night"
        told.hours = value * FACTORS[unit][1] / 3600
        return True
    if unit == "clock":
        if not _STARTS.search(one.left):
            return False
        told.start, fresh = value, told.start is None
        return fresh
    if unit == "percent" and Lazy(r"^(?:of )?(?:the )?(?:time|night|duty)\b").search(one.right):
        told.share = value / 100
        return True
    if unit in ("F", "C", "temp") or (unit == "n" and _is_degrees(one, found, k)):
        scale = unit if unit in ("F", "C") else question.scale
        told.degrees.append((_degree_of(one), converted(value, scale, "F")))
        return True
    return unit in ("people", "bag", "mi", "driver")


def _is_degrees(one: Said, found: tuple[Said, ...], k: int) -> bool:
    """Whether a number without a unit is a temperature: among others, and by the words before it."""
    if not -60 <= one.value <= 120 or one.amount.per:
        return False
    ahead = _OUTSIDE.search(one.left) or _HOLD.search(one.left) or _TO.search(one.left) or Lazy(r"\b(?:at|from|is) $").search(one.left)  # fmt: skip
    return ahead is not None and not Lazy(r"^(?:people|kids|guys|players|bags|pipes|feet|o ' clock|am|pm)\b").search(one.right)  # fmt: skip


def _degree_of(one: Said) -> str:
    """What a temperature is of."""
    if _OUTSIDE_AFTER.search(one.right) or _OUTSIDE.search(one.left):
        return "out"
    if _HOLD.search(one.left):
        return "hold"
    return "to" if _TO.search(one.left) else "water"


def _used(told: _Told, want: Wanted, frame: str) -> Estimate | None:
    """Watts, amps, kilowatt hours or amp hours of a pad or tape."""
    watts = told.watts
    lines: tuple[str, ...] = ()
    if told.per_foot is not None:
        if not told.feet or told.watts:
            return None
        watts = told.per_foot * told.feet
        lines = (f"{shown(told.per_foot)} W a foot × {shown(told.feet)} ft = {shown(watts)} W",)
    elif told.feet:
        return None
    watts_on = watts * told.share
    figures = {"W": ("watts", watts, "W")}
    work = {"W": lines}
    if told.volts:
        figures["A"] = ("amps", watts / told.volts, "A")
        work["A"] = (*lines, f"{shown(watts)} W ÷ {shown(told.volts)} V = {shown(watts / told.volts)} A")
    if told.hours:
        energy = watts_on * told.hours / 1000
        figures["kWh"] = ("energy", energy, "kWh")
        work["kWh"] = (*lines, f"{shown(watts_on)} W × {shown(told.hours)} h = {shown(energy)} kWh")
        if told.volts:
            charge = watts_on * told.hours / told.volts
            figures["Ah"] = ("amp hours", charge, "Ah")
            work["Ah"] = (*lines, f"{shown(watts_on)} W × {shown(told.hours)} h ÷ {shown(told.volts)} V = {shown(charge)} Ah")  # fmt: skip
    elif told.share != 1.0:
        return None
    first = {"A": "A", "W": "W", "kW": "W", "kWh": "kWh", "Wh": "kWh", "Ah": "Ah"}.get(want.unit, "")
    if first not in figures or (first == "W" and not lines):
        return None
    if first in ("A", "W") and told.hours and len({"kWh", "Ah"} & set(figures)) and want.judged:
        return None
    chosen = figures.pop(first)
    return exact(*chosen, working=work[first], source="arithmetic", also=tuple(figure(*one) for one in figures.values()))  # fmt: skip


def _taken(told: _Told, want: Wanted, frame: str) -> Estimate | None:
    """The heat that must leave water before it starts to freeze, or is frozen solid."""
    start = told.degree("water")
    if want.kind != "energy" or start is None or len(told.degrees) > 2 or told.hours:
        return None
    end = told.degree("to")
    if end is not None and end > start and told.gallons is not None and _WARMS.search(frame):
        heat = told.gallons * LB_PER_GAL * (end - start)
        line = f"{shown(told.gallons)} gal × {LB_PER_GAL} × {shown(end - start)} = {shown(heat)} BTU"
        return exact("heat to put in", heat, "BTU", working=(line,), source=SOURCE)
    if len(told.degrees) == 2 and told.degree("to") != FREEZING_F:
        return None
    if start < FREEZING_F or told.gallons is None or not Lazy(r"\bbtus?\b").search(frame):
        return None
    pounds = told.gallons * LB_PER_GAL
    cooled = pounds * (start - FREEZING_F)
    line = f"{shown(told.gallons)} gal = {shown(pounds)} lb; {shown(pounds)} × {shown(start - FREEZING_F)} = {shown(cooled)} BTU to 32 °F"
    frozen = cooled + pounds * FUSION_BTU_PER_LB
    more = f"+ {shown(pounds)} × {FUSION_BTU_PER_LB} = {shown(frozen)} BTU frozen solid"
    if _SOLID.search(frame):
        return exact("heat to take out", frozen, "BTU", working=(line, more), source=FUSION_SOURCE, also=(figure("down to 32 °F", cooled, "BTU"),))  # fmt: skip
    return exact("heat to take out", cooled, "BTU", working=(line,), source=SOURCE, also=(figure("frozen solid", frozen, "BTU"),))  # fmt: skip


def _warming(told: _Told, want: Wanted, frame: str) -> Estimate | None:
    """How long a pad takes to warm water, or what it must give to do it in a time."""
    first, last = told.degree("water"), told.degree("to")
    if first is None or last is None or len(told.degrees) != 2 or last <= first or told.gallons is None:
        return None
    if want.kind != "time" or told.hours is not None or not _WARMS.search(frame) or told.share != 1.0:
        return None
    heat = told.gallons * LB_PER_GAL * (last - first)
    hours = heat / (told.watts * BTU_PER_WH)
    lines = (
        f"{shown(told.gallons)} gal × {LB_PER_GAL} × {shown(last - first)} = {shown(heat)} BTU",
        f"{shown(heat)} ÷ ({shown(told.watts)} W × {BTU_PER_WH}) = {shown(hours)} h",
    )
    lossless = Lazy(r"\b(?:no loss(?:es)?|without loss(?:es)?|nothing lost|losing nothing|perfect\w*|ignor\w* (?:the )?loss\w*)\b").search(frame)  # fmt: skip
    verdict = "" if lossless else "Longer in truth: the tank loses heat meanwhile."
    done = f"That is at {time_of_day(told.start + hours)}." if told.start is not None else ""
    return exact("warming time", hours, "h", working=lines, assumptions=("no heat is lost",), source=SOURCE, verdict=f"{done} {verdict}".strip())  # fmt: skip


def _steady(told: _Told, want: Wanted, frame: str, heats: bool) -> Estimate | None:
    """Water or a bay that loses so many BTU an hour: watts that make up for it, what is still lost, or the time to freeze."""
    assert told.loss is not None
    if told.share != 1.0:
        return None
    given = told.watts * BTU_PER_WH
    if want.kind in ("power", "watts") and not told.watts and told.hours is None and told.degree("out") is None:
        watts = told.loss / BTU_PER_WH
        line = f"{shown(told.loss)} BTU/h ÷ {BTU_PER_WH} = {shown(watts)} W"
        return exact("pad needed", watts, "W", working=(line,), source=SOURCE)
    if told.watts and not told.degrees and told.hours is None and _STILL.search(frame):
        net = told.loss - given
        line = f"{shown(told.loss)} - {shown(told.watts)} W × {BTU_PER_WH} = {shown(net)} BTU/h"
        return exact("still lost", max(0.0, net), "BTU/h", working=(line,), source=SOURCE, verdict="" if net > 0 else "The pad gives all of it.", also=(figure("short", max(0.0, net) / BTU_PER_WH, "W"),))  # fmt: skip
    if told.watts and not told.degrees and told.hours is None and _ENOUGH.search(frame):
        needed, spare = told.loss / BTU_PER_WH, told.watts - told.loss / BTU_PER_WH
        line = f"{shown(told.watts)} W × {BTU_PER_WH} = {shown(given)} BTU/h against {shown(told.loss)}"
        verdict = f"{'Yes, it holds' if spare >= 0 else 'No, not enough'}: {shown(told.watts)} watts, {shown(needed)} are needed."
        return exact("pad gives", given, "BTU/h", working=(line,), source=SOURCE, verdict=verdict, also=(figure("pad needed", needed, "W"), figure("to spare" if spare >= 0 else "short", abs(spare), "W")))  # fmt: skip
    start = told.degree("water")
    if want.kind != "time" or start is None or told.gallons is None or not (_FREEZES.search(frame) or told.degree("to") == FREEZING_F) or told.hours:  # fmt: skip
        return None
    if any(name == "hold" for name, _ in told.degrees) or start <= FREEZING_F or _SOLID.search(frame):
        return None
    if [value for name, value in told.degrees if name == "to"] not in ([], [FREEZING_F]):
        return None
    net = told.loss - given
    if net <= 0:
        return None
    heat = told.gallons * LB_PER_GAL * (start - FREEZING_F)
    hours = heat / net
    lines = (
        f"{shown(told.gallons)} gal × {LB_PER_GAL} × {shown(start - FREEZING_F)} = {shown(heat)} BTU",
        f"÷ {shown(net)} BTU/h = {shown(hours)} h",
    )
    return exact("until it freezes", hours, "h", working=lines, assumptions=("the loss stays the same",), source=SOURCE, verdict=f"That is at {time_of_day(told.start + hours)}." if told.start is not None else "")  # fmt: skip


def _by_degree(told: _Told, want: Wanted, frame: str, heats: bool) -> Estimate | None:
    """A loss for each degree: watts to hold a temperature, or the time until the water is at 32."""
    assert told.per_degree is not None
    air = told.degree("out")
    if air is None or told.loss is not None or told.share != 1.0 or told.hours is not None:
        return None
    hold = told.degree("hold")
    if hold is None and len(told.degrees) == 2 and Lazy(r"\b(?:holds?|keeps?)\b").search(frame):
        hold = told.degree("water")
    if want.kind in ("power", "watts") and not told.watts and hold is not None and len(told.degrees) == 2:
        if hold <= air:
            return None
        heat = told.per_degree * (hold - air)
        watts = heat / BTU_PER_WH
        lines = (f"{shown(told.per_degree)} × ({shown(hold)} - {shown(air)}) = {shown(heat)} BTU/h", f"÷ {BTU_PER_WH} = {shown(watts)} W")  # fmt: skip
        return exact("pad needed", watts, "W", working=lines, source=SOURCE, also=(figure("heat lost", heat, "BTU/h"),))
    start = told.degree("water")
    ends = [value for name, value in told.degrees if name == "to"]
    if want.kind != "time" or start is None or told.gallons is None or told.watts or hold is not None:
        return None
    if _SOLID.search(frame) or len(told.degrees) - len(ends) != 2 or len(ends) > 1:
        return None
    if not ends and not _FREEZES.search(frame):
        return None
    end = ends[0] if ends else FREEZING_F
    if not air < end < start or end < FREEZING_F:
        return None
    stored = told.gallons * LB_PER_GAL
    hours = stored / told.per_degree * math.log((start - air) / (end - air))
    lines = (
        f"{shown(told.gallons)} gal hold {shown(stored)} BTU a degree",
        f"{shown(stored)} ÷ {shown(told.per_degree)} × ln({shown(start - air)} ÷ {shown(end - air)}) = {shown(hours)} h",
    )
    at = f"That is at {time_of_day(told.start + hours)}." if told.start is not None else ""
    return exact("until it is that cold", hours, "h", working=lines, assumptions=("the loss for each degree as given",), source=SOURCE, verdict=at)  # fmt: skip
