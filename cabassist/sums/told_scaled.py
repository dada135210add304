"""Propane by the scale, burned twice as fast, or told by the heat that is wanted."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit, compiled
from cabassist.language.calculation_units import PER_H, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, implied, wanted

_GAS = Lazy(r"\b(?:propane|lp|lpg|gas|burn\w*|bottles?|cylinders?|furnaces?|heat)\b|<(?:lb|cylinder)")
_TIMES = (
    (2.0, Lazy(r"\b(?:doubles?|doubled|twice|two times|<n> times as (?:much|fast))\b")),
    (3.0, Lazy(r"\b(?:triples?|tripled|three times)\b")),
    (0.5, Lazy(r"\b(?:halves|halved|half (?:that|of that|as much))\b")),
)  # fmt: skip
_PART_OF_THAT = compiled(r"({part}) (?:of )?(?:that|as much|it|what)(?= )")
_TAGS = re.compile(r"<[^<> ]+>")
_FEWER = Lazy(r"\b(?:fewer|less|shorter|sooner|lose|lost|difference|more|longer|gain\w*|extra)\b")
_DEGREES = Lazy(r"\b(?:at|below|zero|minus|above|degrees?|to|when it is|it is|hits?|goes|drops)\b")


def doubled(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Hours that propane lasts when the cold doubles what is burned, and how many fewer that is."""
    frame = q.frame
    if not _GAS.search(frame) or q.has(r"\b(?:enough|make it|diesel|water|cylinders double|each|when do|what time)\b"):
        return None
    want = wanted(q) or implied(q)
    if want is None or want.kind != "time":
        return None
    told = [(match.start(), factor) for factor, way in _TIMES if (match := way.search(frame)) is not None]
    part = _PART_OF_THAT.search(frame)
    if part is not None and q.amount_at(part.start(1)).unit == "part":
        told.append((part.start(), q.amount_at(part.start(1)).value))
    held = [one for one in q.amounts if one.tag in ("lb", "kg", "gal")]
    rates = [one for one in q.amounts if one.unit in ("lb", "kg", "gal") and one.per in ("h", "day")]
    found = placed(q)
    if len(told) != 1 or len(held) != 1 or len(rates) != 1 or found is None:
        return None
    (at, factor) = told[0]
    times = [q.amount_at(part.start(1))] if part is not None else [one for one in q.amounts if one.tag == "n" and one.value == factor]  # fmt: skip
    rest = [one for one in found if one.amount not in (*held, *rates, *times)]
    if not all(_is_cold(one) for one in rest) or {held[0].unit, rates[0].unit} in ({"gal", "lb"}, {"gal", "kg"}):
        return None
    changed = _changed(q, at, rates[0], [one.amount for one in rest])
    if changed is None and not _FEWER.search(frame):
        return None
    before = converted(held[0].value, held[0].unit, rates[0].unit) / (rates[0].value * PER_H[rates[0].per])
    after = before / factor
    lines = (f"{shown(held[0].value)} {held[0].unit} ÷ {shown(rates[0].value)} {rates[0].tag} = {shown(before)} h", f"{shown(factor)} times as fast: {shown(after)} h")  # fmt: skip
    if _FEWER.search(frame):
        other = abs(before - after)
        verdict = f"{duration(after)} instead of {duration(before)}."
        return exact("fewer" if after < before else "more", other, "h", working=(*lines, f"{shown(before)} − {shown(after)} = {shown(other)} h"), source="arithmetic", verdict=verdict, also=(figure("then", after, "h"), figure("before", before, "h")))  # fmt: skip
    if not changed:
        return exact("lasts", before, "h", working=lines[:1], source="arithmetic", verdict=f"{duration(before)} at that rate.", also=(figure("otherwise", after, "h"),))  # fmt: skip
    return exact("lasts", after, "h", working=lines, source="arithmetic", verdict=f"{duration(after)} at that rate; {duration(before)} before.", also=(figure("before", before, "h"),))  # fmt: skip


def _changed(q: Question, at: int, rate: Amount, colds: list[Amount]) -> bool | None:
    """Whether the hours at the changed rate are asked for, not those at the told one; None when the words do not tell."""
    asked = q.frame.rfind("how ")
    if Lazy(r"\bboth\b|\beach way\b").search(q.frame):
        return None
    places = [match.start() for match in _TAGS.finditer(q.frame)]
    where = dict(zip(q.amounts, places, strict=True))
    last = [one for one in colds if where[one] > asked]
    told = [one for one in colds if where[one] < asked]
    if not last:
        return None if told or Lazy(r" (?:with|without|when|while)\b").search(q.frame[asked:]) else True
    like = [one for one in told if abs(one.value) == abs(last[-1].value)]
    if len(told) == 2 and len(like) == 1:
        return like[0] is told[1]  # the rate is told first, with the first of them
    if len(told) != 1:
        return None
    first = where[told[0]]
    if first > at:
        other = True
    elif first < where[rate]:
        other = False
    else:
        other = Lazy(r" (?:and|but|,|\.) ").search(q.frame[where[rate] : first]) is not None
    return other if like else not other


def _is_cold(one: Said) -> bool:
    """Whether an amount says how cold it is."""
    if one.unit in ("F", "C", "temp"):
        return True
    return one.amount.tag == "n" and (_DEGREES.search(one.left) is not None or Lazy(r"^(?:below|above|degrees?|out\b|outside)").search(one.right) is not None)  # fmt: skip


_BURNER = Lazy(
    r"\b(?:furnaces?|heaters?|burners?|an hour|per hour|hours?|days?|nights?|lose|loses|loss|diesel|gasoline|water|melt|freez\w*|ice)\b"
)


def heat_of(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Pounds or gallons of propane that hold so much heat: "how many pounds for 600,000 BTU"."""
    if len(q.amounts) != 1 or q.amounts[0].tag != "BTU" or _BURNER.search(q.frame) or not _GAS.search(q.frame):
        return None
    unit = asked_unit(q)
    if unit not in ("lb", "gal", "kg"):
        return None
    pounds = q.amounts[0].value / BTU_PER_LB
    line = f"{shown(q.amounts[0].value, 7)} BTU ÷ {shown(BTU_PER_LB, 5)} BTU/lb = {shown(pounds)} lb"
    gallons = pounds / LB_PER_GAL
    value = gallons if unit == "gal" else converted(pounds, "lb", unit)
    other = figure("pounds", pounds, "lb") if unit == "gal" else figure("gallons", gallons, "gal")
    return exact("propane", value, unit, working=(line,), source=HEAT_SOURCE, also=(other,))


_SCALE = Lazy(r"\b(?:scales?|weighs?|weighed|weighing|gross|tare|tw|stamped|empty)\b")
_BOTTLE = Lazy(r"\b(?:empty weight|cylinders?|bottles?|tare|propane|tanks?|gas)\b|<cylinder")
_TARE_LEFT = Lazy(
    r"\b(?:tare|tw|empty(?: weight)?|empties|stamped|collar|stamp)(?: (?:is|it|it is|weight|weighs|of|at|' s|each|both|are|on|the|collar|says))* $|\bweighs? (?:about )?$"
)
_TARE_RIGHT = Lazy(
    r"^(?:pounds )?(?:tare|empty|stamped|when empty|when it is empty|on the (?:collar|stamp))\b(?! \w+ <)|^empty\b"
)
_FULL_LEFT = Lazy(
    r"\b(?:full(?: (?:one|bottle|means|is|it|has|holds|takes|would be))*|holds?|takes?|rated|capacity(?: is)?|means|good for)(?: (?:is|of|about|at|it|has|to))* $"
)
_FULL_RIGHT = Lazy(
    r"^(?:pounds )?(?:of (?:gas|propane|it) )?(?:(?:in it|in there|of gas|of propane) )?(?:when )?(?:full|when it is full|to a full)\b|^(?:of (?:gas|propane) )?in it full\b"
)
_NOW = Lazy(
    r"\b(?:scale|scales|now|weighs?|weighing|reads?|gross|says|at|is|' s|cylinders?|bottles?|and|,)(?: (?:is|it|says|about|reads|' s|now|a|in|at|,))* $"
)
_NOW_RIGHT = Lazy(r"^(?:pounds )?(?:on (?:the|my|our) scales?|now|gross|right now|today|at the moment)\b")
_TO_FILL = Lazy(
    r"\b(?:to fill|fill (?:it|her|them|him)|put in|top (?:it|her|them)? ?(?:up|off)|take to|will (?:it|she|he|the man|the guy|they) (?:take|put)|short|refill|go in|more|add)\b"
)
_IN_IT = Lazy(r"\b(?:in it|in there|in them|left|of (?:propane|gas|lp)|propane|gas|inside)\b")
_MASSES = frozenset({"lb", "kg", "n"})


def on_scale(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """What is in cylinders by the scale and the empty weight, what still goes in, and how full they are."""
    if not _SCALE.search(q.frame) or not _BOTTLE.search(q.frame) or not 2 <= len(q.amounts) <= 4:
        return None
    want = wanted(q) or implied(q) or Wanted()
    if want.kind not in ("mass", "volume", "share", "") or want.rate or want.judged:
        return None
    found = placed(q)
    if found is None:
        return None
    tares: list[float] = []
    full: list[float] = []
    gross: list[float] = []
    counted = 0.0
    units = {one.unit for one in q.amounts if one.unit in ("lb", "kg")}
    if len(units) > 1:
        return None
    metric = units == {"kg"}
    for k, one in enumerate(found):
        if one.unit == "cylinder" or (one.unit == "n" and one.value in (2, 3) and Lazy(r"^(?:\w+ )?(?:cylinders|bottles)\b").search(one.right)):  # fmt: skip
            counted = one.value
            continue
        if one.unit not in _MASSES or one.amount.per:
            return None
        following = found[k + 1] if k + 1 < len(found) else None
        on_too = following is not None and one.right in ("and", ", and", ",") and _NOW_RIGHT.search(following.right)
        if _NOW_RIGHT.search(one.right) or on_too:
            gross.append(one.value)
        elif _FULL_RIGHT.search(one.right) or _FULL_LEFT.search(one.left):
            full.append(one.value)
        elif _TARE_RIGHT.search(one.right) or (
            _TARE_LEFT.search(one.left) and not Lazy(r"\bweighs? (?:about )?$").search(one.left)
        ):
            tares.append(one.value)
        elif _NOW.search(one.left) or (k == 0 and len(found) > 1):
            gross.append(one.value)
        else:
            return None
    if len(tares) != 1 or not 1 <= len(gross) <= 2 or len(full) > 1 or (counted and counted != len(gross)):
        return None
    if len(gross) == 2 and not counted and not Lazy(r"\b(?:both|two|each|together|altogether)\b").search(q.frame):
        return None
    inside = [one - tares[0] for one in gross]
    if min(inside) < 0 or (full and max(inside) > full[0] + 1e-6):
        return None
    unit = "kg" if metric else "lb"
    held = sum(inside)
    line = f"{' + '.join(f'{shown(one)} − {shown(tares[0])}' for one in gross)} = {shown(held)} {unit} in {'them' if len(gross) > 1 else 'it'}"
    return _weighed(q, want, held, full[0] * len(gross) if full else None, unit, (line,))


def _weighed(q: Question, want: Wanted, held: float, full: float | None, unit: str, lines: tuple[str, ...]) -> Estimate | None:  # fmt: skip
    fills = _TO_FILL.search(q.frame) is not None
    inside = figure("in it", held, unit)
    if want.kind == "share":
        if full is None or fills:
            return None
        share = 100 * held / full
        return exact("full", share, "percent", working=(*lines, f"{shown(held)} of {shown(full)} = {shown(share, 3)} percent"), source="arithmetic", also=(inside,))  # fmt: skip
    if fills != (full is not None):
        return None  # what is full is not told, or told for nothing
    value, name = (full - held, "to fill") if full is not None else (held, "in it")
    if full is not None:
        lines = (*lines, f"{shown(full)} − {shown(held)} = {shown(value)} {unit} to fill")
    gallons = converted(value, unit, "lb") / LB_PER_GAL
    also = (inside,) if fills else ()
    if want.kind == "volume":
        return exact(name, gallons, "gal", working=(*lines, f"÷ {shown(LB_PER_GAL)} lb/gal = {shown(gallons)} gal"), source=WEIGHT_SOURCE, also=(figure("pounds", value, unit), *also))  # fmt: skip
    if not fills and not _IN_IT.search(q.frame):
        return None
    return exact(name, value, unit, working=lines, source=WEIGHT_SOURCE, also=(figure("gallons", gallons, "gal"), *also))  # fmt: skip
