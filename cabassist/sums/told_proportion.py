"""Plain proportions: what one amount of a thing does, for another amount; what so much every so often comes to.

"Five bottles last nine days, how many for thirty" is a rule of three. It only holds where both grow together, so that
degrees, volts and pressures, and more hands for one job, are left out; and it is answered only when each of the three
amounts has a name and two of them share it.
"""

from __future__ import annotations

import math
from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, HOURS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.families import at_clock

_NOT_LINEAR = frozenset({"F", "C", "temp", "V", "psi", "bar", "kPa", "A", "Ah", "W", "kW", "mpg", "mph", "km/h", "BTU", "BTU/h", "ppm", "mg/L", "32nds", "awg", "heater", "furnace", "cylinder/day", "percent", "part"})  # fmt: skip
_OTHERS = Lazy(
    r"\b(?:driving|drove|duty|odometer|axles?|tires?|volts?|amps?|bleach|propane|furnaces?|batter\w*|degrees?|wind|brakes?|speed|mpg|freez\w*|half|quarter|third|full|empty|left|tank holds|already|limit|reserve|keep|minus|except|instead|both|each|more|other|another|first|torque|generator|idl\w*|btus?)\b"
)
_DOES = Lazy(
    r"^(?:[a-z]+ ){0,5}?(?:do(?:es)?|did|last(?:s|ed)?|takes?|took|treats?|covers?|covered|to fill|fill(?:s|ed)|serves?|wash(?:es)?|feeds?|used?|uses|costs?|in|for|every|per|over|(?:get|go|went|goes) through|makes?|and used|is good for) (?:us |me |the |about |up |another |a )*$"
)
"""What ties the second amount to the first: so much does, lasts, covers, takes so much."""
_SHARED = Lazy(r"\b(?:same (?:rate|pace|speed|flow|hose)|(?:at|keeps?) th(?:at|is) (?:rate|pace|up))\b")
_ASKS = Lazy(r"\bhow (?:many|much|long)\b|\bneeds? (?:how much|what)\b|\bwhat (?:do|will|does|would)\b")
_VOLUMES = frozenset(one for one, (kind, _) in FACTORS.items() if kind == "volume")
_SKIPPED = frozenset("of the those these a an big small whole more full new extra plain paper in".split())
_WORKERS = Lazy(
    r"\b(?:guys|helpers?|hands|drivers?|of us|people) (?:\w+ )?(?:load|unload|carry|clean|strip|wash|fill|take|need|do)\w*\b"
)


class _Named(NamedTuple):
    """An amount with what it is an amount of."""

    said: Said
    name: str
    """A kind ("volume", "time", "length", "mass"), "people", or a noun in the singular."""
    value: float
    """In the first unit that its kind was told in, or as it was said."""
    called: str = ""
    """The word of what is counted, as it was said."""


def _noun(words: str) -> str:
    """The thing that is counted, in the singular; "" when none stands there."""
    for word in words.split()[:4]:
        if word in _SKIPPED:
            continue
        if not word.isalpha() or len(word) < 3:
            return ""
        for ending, kept in (("boxes", "box"), ("ies", "y"), ("ches", "ch"), ("shes", "sh"), ("sses", "ss"), ("s", "")):
            if word.endswith(ending):
                return word[: -len(ending)] + kept
        return word
    return ""


def _word(words: str) -> str:
    """The thing that is counted, as it was said."""
    return next((word for word in words.split()[:4] if word not in _SKIPPED), "")


def _named(question: Question) -> list[_Named] | None:
    """Each amount with its name; None when one has none."""
    found = placed(question)
    if found is None:
        return None
    named: list[_Named] = []
    units: dict[str, str] = {}
    for one in found:
        if one.unit in _NOT_LINEAR or one.amount.per or one.amount.each:
            return None
        if one.unit in FACTORS:
            kind = FACTORS[one.unit][0]
            base = units.setdefault(kind, one.unit)
            named.append(_Named(one, kind, converted(one.value, one.unit, base)))
        elif one.unit == "n":
            named.append(_Named(one, _noun(one.right), one.value, _word(one.right)))
        else:
            named.append(_Named(one, one.unit, one.value, question.words[one.amount.end - 1]))
    return named


def proportion(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What a rule of three gives; None when an amount has no part in it."""
    frame = question.frame
    want = wanted(question) or want
    if not 3 <= len(question.amounts) <= 5 or not _ASKS.search(frame):
        return None
    if _OTHERS.search(_SHARED.sub(" ", frame)) or _WORKERS.search(frame):
        return None
    named = _named(question)
    if named is None or len(named) == 4:
        return None
    asked = _asked_name(frame, want)
    if len(named) == 5:
        return _double(named, asked)
    first, second, third = named
    if not _DOES.search(second.said.left):
        return None
    if third.name == "" and asked in (first.name, second.name):
        third = third._replace(name=second.name if asked == first.name else first.name)
        third = _in_unit(third, first if third.name == first.name else second)
    if "" in (first.name, second.name) or first.name == second.name:
        return _of_volume(first, second, third, frame) if asked in ("", "volume") else None
    if third.name not in (first.name, second.name):
        return None
    like, other = (first, second) if third.name == first.name else (second, first)
    if asked not in ("", other.name) or (asked == "" and _names_other(frame, third)):
        return None
    if not like.value or {like.name, other.name} == {"people", "time"}:
        return None
    value = other.value * third.value / like.value
    line = f"{shown(other.value)} × {shown(third.value)} ÷ {shown(like.value)} = {shown(value)}"
    return _answer(other, value, line)


def _in_unit(third: _Named, like: _Named) -> _Named:
    """A number without a unit, in the one of the amount it is compared with."""
    return third._replace(value=third.value * like.value / like.said.value if like.said.value else third.value)


def _of_volume(first: _Named, second: _Named, third: _Named, frame: str) -> Estimate | None:
    """ "A quart of it treats 400 gallons of diesel, 150 gallons need how much": all three in gallons."""
    if {first.name, second.name, third.name} != {"volume"} or not Lazy(r"\b(?:treats?|does|good for|is for|goes (?:in|to|with))\b").search(second.said.left):  # fmt: skip
        return None
    if third.said.unit != second.said.unit and third.said.unit == first.said.unit:
        first, second = second, first  # "how many gallons do twelve ounces treat"
    value = converted(first.value * third.value / second.value, _base_unit(first, second, third), first.said.unit)
    line = f"{shown(first.said.value)} {first.said.unit} × {shown(third.said.value)} {third.said.unit} ÷ {shown(second.said.value)} {second.said.unit} = {shown(value)} {first.said.unit}"
    return _answer(first, value, line)


def _base_unit(*named: _Named) -> str:
    """The unit that all volumes of a question were put into: that of the first of them."""
    return min(named, key=lambda one: one.said.amount.start).said.unit


def _names_other(frame: str, third: _Named) -> bool:
    """Whether a thing is asked for that was not told of."""
    asked = Lazy(r"\bhow many ([a-z]+)").search(frame)
    return asked is not None and _noun(asked[1]) not in ("", third.name, "for", "will", "does", "would")


def _asked_name(frame: str, want: Wanted) -> str:
    """The name of what is asked for, or ""."""
    if want.unit in FACTORS:
        return FACTORS[want.unit][0]
    asked = Lazy(r"\bhow many ([a-z]+)").search(frame)
    if asked is not None and asked[1] not in ("for", "will", "do", "does", "would", "should", "can", "on", "in"):
        return _noun(asked[1])
    return "time" if want.kind == "time" else ""


def _double(named: list[_Named], asked: str) -> Estimate | None:
    """ "12 rolls for 34 people over 6 days, how many for 26 people over 10 days"."""
    first, *rest = named
    names = [one.name for one in rest]
    if names[:2] != names[2:] or len({first.name, *names}) != 3 or "" in names or asked not in ("", first.name):
        return None
    if first.name in ("time", "people") or not (rest[0].value and rest[1].value):
        return None
    value = first.value * rest[2].value / rest[0].value * rest[3].value / rest[1].value
    line = f"{shown(first.value)} × {shown(rest[2].value)} ÷ {shown(rest[0].value)} × {shown(rest[3].value)} ÷ {shown(rest[1].value)} = {shown(value)}"
    return _answer(first, value, line)


def _answer(other: _Named, value: float, line: str) -> Estimate:
    """The number in the unit or the name it was told in."""
    if other.said.unit == "s" and value >= 120:
        return exact("in proportion", value / 60, "min", working=(f"{line} s",), assumptions=("both grow together",), source="rule of three")  # fmt: skip
    counted = other.said.unit == "n" or other.name in ("people", other.said.unit)
    if not counted:
        unit = "fl oz" if other.said.unit == "floz" else other.said.unit
        return exact("in proportion", value, unit, working=(line,), assumptions=("both grow together",), source="rule of three")  # fmt: skip
    whole = math.ceil(value - 1e-9)
    verdict = f"{shown(value)}: take {whole}." if abs(whole - value) > 1e-6 else ""
    unit = {"people": "persons"}.get(other.name, other.called)
    return exact("in proportion", value, unit, working=(line,), assumptions=("both grow together",), source="rule of three", verdict=verdict)  # fmt: skip


_EVERY = Lazy(r"\b(?:every|each|per|in|over|within) (?:about )?$")
_FLOWS = Lazy(
    r"\b(?:drips?|leaks?|loses?|gains?|rises?|goes (?:up|down)|drops?|falls?|climbs?|comes? in|uses?|burns?|going (?:up|down))\b"
)


def flowing(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What so much in some minutes or hours comes to in a time told, or when a level that stands there is gone by it."""
    frame = question.frame
    want = wanted(question) or want
    if not _FLOWS.search(frame) or Lazy(r"\b(?:propane|furnaces?|batter\w*|diesel|fuel|degrees?|cylinders?|both|first|second)\b").search(frame):  # fmt: skip
        return None
    found = placed(question)
    if found is None:
        return None
    flow: float | None = None
    moved: Said | None = None
    level: Said | None = None
    hours: float | None = None
    clocks: list[float] = []
    beside = {"people", "mi", "km", "F", "C", "temp"}
    for k, one in enumerate(found):
        nxt = found[k + 1] if k + 1 < len(found) else None
        if one.amount.each or one.amount.per:
            return None
        if one.unit in _VOLUMES:
            if nxt is not None and nxt.unit in ("min", "h", "s") and _EVERY.search(nxt.left) and not nxt.amount.per:
                if moved is not None or not nxt.value:
                    return None
                moved, flow = one, one.value / (nxt.value * HOURS[nxt.unit])
            elif level is None:
                level = one
            else:
                return None
        elif one.unit in ("min", "h", "s", "night", "day"):
            if k and found[k - 1] is moved:
                continue
            if hours is not None:
                return None
            hours = one.value * HOURS[one.unit]
        elif one.unit == "clock":
            clocks.append(one.value)
        elif one.unit == "n" and Lazy(r"\b(?:player|number|bus|coach|bay|seat|row|stall|dock|gate|lot) $").search(
            one.left
        ):
            continue
        elif one.unit not in beside:
            return None
    if flow is None or moved is None:
        return None
    if level is None:
        return _amount(moved, flow, hours, clocks, want)
    return _gone(moved, flow, level, hours, clocks, want, frame, now)


def _amount(moved: Said, flow: float, hours: float | None, clocks: list[float], want: Wanted) -> Estimate | None:
    if want.kind == "time" or want.judged:
        return None
    unit = want.unit if want.unit in _VOLUMES else moved.unit
    each = converted(flow, moved.unit, unit)
    if hours is None and len(clocks) == 2:
        hours = (clocks[1] - clocks[0]) % 24
    elif clocks:
        return None
    if want.rate and hours is None:
        span = {"h": 1.0, "day": 24.0, "min": 1 / 60}[want.rate]
        return exact("rate", each * span, f"{unit}/{want.rate}", working=(f"{shown(each)} {unit} an hour",), source="arithmetic")  # fmt: skip
    if hours is None or want.rate:
        return None
    total = each * hours
    line = f"{shown(each)} {unit} an hour × {shown(hours)} h = {shown(total)} {unit}"
    return exact("comes to", total, unit, working=(line,), source="arithmetic", also=(figure("an hour", each, f"{unit}/h"),))  # fmt: skip


_FULL = Lazy(r"\b(?:full|fills?|overflow\w*|tank holds|hold)\b")
_EMPTY = Lazy(r"\b(?:empty|dry|gone|runs? out|out|last)\b")
_DOWN = Lazy(r"\b(?:drips?|leaks?|loses?|goes down|going down|drops?|falls?|uses?|burns?)\b")


def _gone(
    moved: Said, flow: float, level: Said, hours: float | None, clocks: list[float], want: Wanted, frame: str, now: datetime
) -> Estimate | None:  # fmt: skip
    """Hours until what stands in a tank is gone."""
    if _FULL.search(frame) or not _EMPTY.search(frame) or not _DOWN.search(frame) or hours is not None or len(clocks) > 1:  # fmt: skip
        return None
    if level.amount.describes or Lazy(r"^(?:\w+ )?tank\b").search(level.right) or want.kind not in ("time", ""):
        return None
    stock = converted(level.value, level.unit, moved.unit)
    left = stock / flow
    line = f"{shown(stock)} ÷ {shown(flow)} {moved.unit} an hour = {shown(left)} h"
    start = now
    if clocks:
        start = now.replace(hour=int(clocks[0]) % 24, minute=round(clocks[0] % 1 * 60) % 60, second=0, microsecond=0)
    verdict = at_clock(start, left) if clocks else ""
    return exact("until empty", left, "h", working=(line,), source="arithmetic", verdict=verdict)


_SHARE_ASKED = Lazy(r"\b(?:what (?:share|part|fraction)|(?:what|how many) percent\w*|how full)\b")
_PART_OF = Lazy(r"\b(?:of|out of) (?:the |our |my |a )?$")
_HELD = Lazy(r"^(?:\w+ )?(?:in (?:it|there)|left|aboard|inside)\b|^(?:out )?of\b")


def part(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A share of an amount, or what share one amount is of another of its kind; nothing else may be told."""
    found = placed(question)
    if found is None or len(found) != 2 or any(one.amount.per or one.amount.each for one in found):
        return None
    want = wanted(question) or want
    first, second = found
    frame = question.frame
    if first.unit in ("percent", "part") and _PART_OF.search(second.left) and second.left.strip() in ("of", "of the", "of a", "of our", "of my"):  # fmt: skip
        if second.unit in _NOT_LINEAR or not Lazy(r"^ (?:what is |how (?:much|many \w+) (?:is|are) |so )?<(?:percent|part)>").search(frame):  # fmt: skip
            return None
        if want.kind in ("time", "share") or Lazy(r"\b(?:left|gone|used|last|full|without|more|less)\b").search(frame):
            return None
        share = first.value / (100 if first.unit == "percent" else 1)
        value = share * second.value
        if second.unit not in FACTORS or want.kind not in ("", FACTORS[second.unit][0]):
            return None
        return exact("part of it", value, second.unit, working=(f"{shown(share)} × {shown(second.value)} = {shown(value)}",), source="arithmetic")  # fmt: skip
    if want.kind != "share" or not _SHARE_ASKED.search(frame) or not {first.unit, second.unit} <= {"n", *_VOLUMES}:
        return None
    if Lazy(r"\b(?:more|less|add\w*|us(?:e|ed|es)|burn\w*|los\w+|after|then|gone|went|from|cord|amps?|volts?|batter\w+|bank)\b").search(frame):  # fmt: skip
        return None
    wholes = [_PART_OF.search(one.left) is not None or Lazy(r"^(?:gallon )?(?:\w+ )?tank\b").search(one.right) is not None or one.amount.describes for one in found]  # fmt: skip
    held = [_HELD.search(one.right) is not None or Lazy(r"\b(?:is|are|with|has|holding|at) $").search(one.left) is not None for one in found]  # fmt: skip
    if wholes[0] == wholes[1] or not held[wholes.index(False)]:
        return None
    whole, inside = (first, second) if wholes[0] else (second, first)
    unit = whole.unit if whole.unit != "n" else inside.unit
    top, value = (one.value if one.unit in ("n", unit) else converted(one.value, one.unit, unit) for one in (whole, inside))  # fmt: skip
    if not 0 <= value <= top:
        return None
    share = 100 * value / top
    return exact("share", share, "percent", working=(f"{shown(value)} ÷ {shown(top)} = {shown(share)} %",), source="arithmetic")  # fmt: skip
