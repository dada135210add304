"""Cords told piece by piece: what they lose together, how thick or long they may be, how warm they get.

Every length belongs to a gauge, every amp to the load; a distance that no cord covers, or an amount of another kind,
leaves the question to the readers that ask.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.cords import COLD_C, TABLE_SOURCE, ohm_per_foot, thinnest_cord
from cabassist.estimate.quantities import exact, figure, ranged, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.plugged import counted_things

_CORD = Lazy(r"\b(?:gauge|gage|awg|cords?|extensions?|cables?|wires?|leads?)\b|<(?:awg|cord)>")
_LENGTHS = frozenset({"ft", "m", "yd"})
_BESIDE = frozenset({"people", "clock", "F", "C", "temp", "mi", "km", "night", "bag", "driver"})
"""Told in passing: a cord loses the same whoever is aboard."""
_AWAY = Lazy(r"^(?:away|off|from|to (?:the|a|that)|over to|between)\b")
_NEXT = Lazy(
    r"^(?:footers?|foot)?(?: ?(?:and|plus|then|with|into|,|&|\+))?(?: (?:and|then|plus))?(?: (?:an?|the|one|another))?$"
)
_SET = Lazy(
    r"^(?:of (?:them|those|these|the))?$|^(?:(?:of (?:them|those|these|the)|cords|extensions|pieces|lengths|x) ?)+(?:,|of|at)?$"
)
_BREAKER = Lazy(r"^(?:\w+ )?(?:breaker|circuit|outlet|fuse|pedestal|service|receptacle)\b")
_LOST_BY = Lazy(
    r"\b(?:los(?:e|es|ing|t)|drop(?:s|ped)?(?: of| is)?|eats?|eating) (?:about |only )?$|\b(?:drop|loss)(?: of| is| at|,) $"
)
_LOST_AFTER = Lazy(r"^(?:drop|lost|loss|(?:is |are |get )?(?:lost|dropped|gone))\b")
_MOST = Lazy(
    r"\b(?:under|below|within|more than|at most|max\w*|no more than|over|allow\w*|limit(?: of)?|exceed\w*|keep(?: it| the drop)?(?: to| at)?|less than) (?:about |a )?$"
)
_FAR = Lazy(r"\b(?:coach|bus|inlet|far end|inside|aboard|end)\b")
_NEAR = Lazy(r"\b(?:wall|post|socket|outlet|pedestal|plug|building|supply|source|panel)\b")
_GAUGE_ASKED = Lazy(
    r"\b(?:what|which|how (?:thick|heavy|big)|thinnest)\b[^.?]{0,24}\b(?:gauge|gage|awg|wire|cord|cable)\b|\bgauge (?:do|must|should|needed)\b"
)
_AMPS_ASKED = Lazy(
    r"\bhow (?:many|much) (?:amps|current|load)\b|\bmost (?:amps|current)\b|\bmax(?:imum)? (?:amps|current)\b"
)
_END_ASKED = Lazy(
    r"\b(?:at|do (?:i|we) (?:see|get|have)|' ll (?:i|we) see|will (?:i|we) (?:see|have|get)|left|arriv\w*|reach\w*|end up)\b[^.?]{0,30}\b(?:coach|bus|inlet|end|inside|aboard|volts)\b|\bwhat (?:do|will|' ll|would) (?:i|we) (?:see|read|measure|have|get)\b"
)
_DIFFERENT = Lazy(
    r"\b(?:instead|rather|versus|vs|swap\w*|compared?|better|save[ds]?|difference|less than (?:the|a|with)|or)\b"
)
_WARMTH = Lazy(r"\b(?:watts?|heat|warm\w*|hot)\b")
_OHMS = Lazy(r"\bohms?\b|\bresistance\b")
_UNSURE = Lazy(
    r"\b(?:something else|unknown|no idea|not sure|do not know|other (?:cord|one|piece)|parallel|side by side|separate\w*|each (?:its|their) own)\b"
)


@dataclass
class _Cords:
    """What was told of cords."""

    feet: list[float] = field(default_factory=list)
    gauges: list[int] = field(default_factory=list)
    order: list[str] = field(default_factory=list)
    """Lengths and gauges as they came, "l" and "g"."""
    amps: float = 0.0
    watts: float = 0.0
    near: float | None = None
    far: float | None = None
    lost: float | None = None
    most: float | None = None
    """Share of the voltage that may be lost."""
    most_volts: float | None = None
    away: list[float] = field(default_factory=list)
    counts: float | None = None


def cords(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the cords of a question lose or may be; None when an amount has no place or nothing follows."""
    frame = question.frame
    want = wanted(question) or want
    if not _CORD.search(frame) or _DIFFERENT.search(frame) or _UNSURE.search(frame):
        return None
    lost = _between_meters(question, want)
    if lost is not None:
        return lost
    told = _told(question)
    if told is None:
        return None
    volts = told.near
    assumed: tuple[str, ...] = ()
    if volts is None:
        volts, assumed = 120.0, ("120 V at the outlet",)
    amps = told.amps + told.watts / volts
    if told.lost is None and told.near is not None and told.far is not None:
        told.lost = told.near - told.far
    if told.lost is not None:
        return None if told.feet or told.gauges or told.most or told.most_volts else _warm(told.lost, amps, frame)
    if _CARRIES.search(frame) and not _DROPS.search(frame) and (rated := _rated(told, amps)) is not None:
        return rated
    if not amps:
        return _amps(told, volts, assumed) if _AMPS_ASKED.search(frame) else None
    if told.feet and told.gauges:
        if told.most is not None or told.far is not None or told.most_volts is not None:
            return None
        runs = _runs(told)
        return None if runs is None else _drop(runs, amps, volts, want, frame, assumed)
    if told.feet and told.most_volts is None and told.far is None and _GAUGE_ASKED.search(frame):
        return _gauge(told, amps, volts, assumed)
    return None


_CARRIES = Lazy(
    r"\b(?:cord|cable|extension|it|that|this|lead)\b(?: \w+){0,3} (?:good for|rated (?:for|at)|carry|carries|handle|handles|stand|big enough|heavy enough|thick enough|stout enough|up to it|up to the job)\b"
    r"|\b(?:big|heavy|thick|stout|fat) enough\b|\btoo (?:thin|light|small|skinny|weak)\b|\bundersized\b|\b(?:max\w*|most|how many) amps\b.*\b(?:carry|take|handle|good for|rated|allowed|legal\w*)\b"
)
_DROPS = Lazy(
    r"\b(?:drop\w*|los(?:e|es|ing|t|s)|volts? (?:at|lost|left|will)|how many volts|what voltage|<percent>|voltage)\b|<percent>"
)


def _rated(told: _Cords, amps: float) -> Estimate | None:
    """What one cord set of that wire and length may carry, and whether the load is within it."""
    from cabassist.estimate.cords import cord_limit
    from cabassist.sums.working_sheet import quantity

    if len(set(told.gauges)) != 1 or not told.feet or told.far is not None or told.most_volts is not None:
        return None
    flow = quantity(amps, "A") if amps else None
    found = cord_limit(told.gauges[0], quantity(sum(told.feet), "ft"), current=flow)
    if found.value is None or not amps:
        return found
    fits = amps <= found.value
    verdict = f"{'Yes' if fits else 'No, too small'}: {shown(amps)} amps on a cord for {shown(found.value)}."
    if not fits:
        verdict += " It gets hot. Take a thicker or shorter one."
    return replace(found, verdict=verdict, also=(*found.also, figure("load", amps, "A")))


_LOSS = Lazy(r"\b(?:los(?:e|es|ing|t|s)|drop\w*|eat\w*|gone|missing)\b")
_NO_READING = Lazy(r"\b(?:more than|less than|limit|max\w*|allow\w*|within|under|below|should|rated)\b")


def _between_meters(question: Question, want: Wanted) -> Estimate | None:
    """The share, or the volts, that are lost between what is read at the supply and what is read at the coach."""
    found = placed(question)
    if found is None or len(found) != 2 or found[0].unit != "V" or found[1].unit not in ("V", "n"):
        return None
    frame = question.frame
    near, far = found[0].value, found[1].value
    if not _NEAR.search(found[0].left + found[0].right) or not _LOSS.search(frame) or _NO_READING.search(frame):
        return None
    if not 60 <= far < near <= 260 or any(one.amount.per for one in found):
        return None
    lost, share = near - far, 100 * (near - far) / near
    line = f"({shown(near)} - {shown(far)}) V ÷ {shown(near)} V = {shown(share)} %"
    if want.kind == "share" or question.has(r"\b(?:what|how many) per ?cent\w*\b|\bwhat share\b"):
        return exact("share lost", share, "percent", working=(line,), source="arithmetic", also=(figure("voltage drop", lost, "V"),))  # fmt: skip
    return exact("voltage drop", lost, "V", working=(line,), source="arithmetic", also=(figure("share lost", share, "percent"),))  # fmt: skip


def _told(question: Question) -> _Cords | None:
    """Every amount in its place, or None."""
    found = placed(question)
    if found is None:
        return None
    told = _Cords()
    unit = next((one.unit for one in found if one.unit in _LENGTHS), "")
    many: float | None = None
    for one in found:
        if counted_things(one) or (one.unit == "heater" and one.value <= 8):
            if many is not None:
                return None
            many = one.value
            continue
        load = told.amps, told.watts
        if not _put(told, one, unit):
            return None
        if many is not None and (told.amps, told.watts) != load:
            told.amps = load[0] + many * (told.amps - load[0])
            told.watts = load[1] + many * (told.watts - load[1])
            many = None
    if many is not None:
        return None
    if told.counts is not None and len(told.feet) > 1:
        if told.counts != len(told.feet):
            return None
    elif told.counts is not None:
        told.feet *= round(told.counts)
    if not told.feet and len(told.away) == 1:
        told.feet = told.away
        told.order.insert(0, "l")
    elif told.away and sum(told.feet) < max(told.away) - 1e-6:
        return None  # the cords do not reach
    return told


def _put(told: _Cords, one: Said, unit: str) -> bool:
    """Give an amount its place; False when it has none."""
    value = one.value
    if one.amount.per or (one.amount.each and one.unit not in ("W", "kW", "A")):
        return False
    if one.unit in _LENGTHS:
        feet = converted(value, one.unit, "ft")
        (told.away if _AWAY.search(one.right) else told.feet).append(feet)
        if told.feet and not _AWAY.search(one.right):
            told.order.append("l")
        return True
    if one.unit == "awg":
        told.gauges.append(round(value))
        told.order.append("g")
        return value % 1 == 0 and 0 <= value <= 18
    if one.unit == "A":
        if not _BREAKER.search(one.right):
            told.amps += value
        return True
    if one.unit in ("W", "kW"):
        told.watts += value * (1000 if one.unit == "kW" else 1)
        return True
    if one.unit == "percent":
        if told.most is not None or not _MOST.search(one.left):
            return False
        told.most = value / 100
        return True
    if one.unit in ("cord", "n") and value % 1 == 0 and 2 <= value <= 6 and (one.unit == "cord" or (one.after in _LENGTHS and _SET.search(one.right))):  # fmt: skip
        if told.counts is not None:
            return False
        told.counts = value
        return True
    if one.unit == "n" and one.after in _LENGTHS and 5 <= value <= 200 and unit and _NEXT.search(one.right):
        told.feet.append(converted(value, unit, "ft"))
        told.order.append("l")
        return True
    if one.unit == "V" or (one.unit == "n" and (100 <= value <= 130 or 200 <= value <= 250)):
        return _volts(told, one)
    return one.unit in _BESIDE


def _volts(told: _Cords, one: Said) -> bool:
    """A voltage: what is lost, what is there, or what is left at the end."""
    if one.unit == "V" and one.value < 30 and (_LOST_BY.search(one.left) or _LOST_AFTER.search(one.right)):
        if told.lost is not None:
            return False
        told.lost = one.value
        return True
    if one.unit == "V" and one.value < 30 and _MOST.search(one.left):
        told.most_volts, fresh = one.value, told.most_volts is None
        return fresh
    if not 90 <= one.value <= 260:
        return False
    behind = one.right.split(",")[0]
    if _FAR.search(behind) or (_FAR.search(one.left) and not _NEAR.search(one.left)):
        if told.far is not None:
            return False
        told.far = one.value
        return True
    if told.near is not None:
        return False
    told.near = one.value
    return True


def _runs(told: _Cords) -> list[tuple[float, int]] | None:
    """Each length in feet with its gauge."""
    if len(told.gauges) == 1:
        return [(one, told.gauges[0]) for one in told.feet]
    if len(told.gauges) != len(told.feet) or told.counts not in (None, float(len(told.feet))):
        return None
    pairs = [told.order[i : i + 2] for i in range(0, len(told.order), 2)]
    if any(pair != pairs[0] for pair in pairs) or len(set(pairs[0])) != 2:
        return None
    return list(zip(told.feet, told.gauges, strict=True))


def _drop(
    runs: list[tuple[float, int]], amps: float, volts: float, want: Wanted, frame: str, assumed: tuple[str, ...]
) -> Estimate | None:
    """Volts lost over all the cords, one behind the other."""
    warm = [2 * amps * feet * ohm_per_foot(awg) for feet, awg in runs]
    lost = sum(warm)
    low = sum(2 * amps * feet * ohm_per_foot(awg, COLD_C) for feet, awg in runs)
    if lost >= volts:
        return None
    lines = tuple(
        f"{shown(feet)} ft of {awg} gauge: 2 × {shown(amps)} A × {shown(feet)} ft × {shown(1000 * ohm_per_foot(awg))} ÷ 1000 = {shown(one)} V"
        for (feet, awg), one in zip(runs, warm, strict=True)
    )
    lines = (
        *lines,
        f"{shown(lost)} V of {shown(volts)} V = {shown(100 * lost / volts, 3)} %, {shown(volts - lost)} V are left",
    )
    share = lost / volts
    verdict = (
        "Good, not over 3 percent." if share <= 0.03 else "Over 3 percent, not over 5: a shorter or thicker cord is better."
        if share <= 0.05 else "Over 5 percent, too much: a shorter or thicker cord, or less load."
    )  # fmt: skip
    figures = {
        "V": ("volts lost", lost, "V", low, lost),
        "percent": ("share lost", 100 * share, "percent", 100 * low / volts, 100 * share),
        "end": ("volts at the end", volts - lost, "V", volts - lost, volts - low),
        "W": ("warming the cord", lost * amps, "W", low * amps, lost * amps),
        "ohm": ("resistance there and back", lost / amps, "ohm", low / amps, lost / amps),
    }
    first = "V"
    if want.unit == "percent" or want.kind == "share":
        first = "percent"
    elif _OHMS.search(frame):
        first = "ohm"
    elif want.kind in ("power", "watts"):
        first = "W"
    elif _END_ASKED.search(frame) and not Lazy(r"\b(?:lose|lost|drop|loss)\b").search(frame):
        first = "end"
    elif want.kind not in ("", "volts", "other"):
        return None
    name, value, unit, least, most = figures.pop(first)
    also = tuple(figure(*one) for key, one in figures.items() if key != "ohm")
    return ranged(name, value, unit, least, most, working=lines, assumptions=(*assumed, "plugs and the building's own wires lose more"), source=TABLE_SOURCE, verdict=verdict, also=also)  # fmt: skip


def _warm(lost: float, amps: float, frame: str) -> Estimate | None:
    """Watts that warm the cord, or its ohms, from the volts it loses."""
    if not amps or lost <= 0:
        return None
    watts, ohms = lost * amps, lost / amps
    if _OHMS.search(frame):
        line = f"{shown(lost)} V ÷ {shown(amps)} A = {shown(ohms)} ohm"
        return exact("resistance there and back", ohms, "ohm", working=(line,), source="Ohm's law", also=(figure("volts lost", lost, "V"),))  # fmt: skip
    if not _WARMTH.search(frame):
        return None
    line = f"{shown(lost)} V × {shown(amps)} A = {shown(watts)} W"
    return exact("warming the cord", watts, "W", working=(line,), source="Ohm's law", also=(figure("volts lost", lost, "V"),))  # fmt: skip


def _amps(told: _Cords, volts: float, assumed: tuple[str, ...]) -> Estimate | None:
    """The current at which the cords lose just the share that is allowed, or come down to a voltage told."""
    if not (told.feet and told.gauges):
        return None
    runs = _runs(told)
    allowed = told.most * volts if told.most is not None else None
    if told.most_volts is not None:
        if allowed is not None or told.far is not None:
            return None
        allowed = told.most_volts
    elif told.far is not None:
        if allowed is not None or told.near is None:
            return None
        allowed = volts - told.far
    if runs is None or allowed is None or allowed <= 0:
        return None
    warm, cold = (sum(2 * feet * ohm_per_foot(awg, celsius) for feet, awg in runs) for celsius in (75.0, COLD_C))
    amps = allowed / warm
    lines = (f"{shown(allowed)} V may be lost", f"{shown(allowed)} V ÷ {shown(warm)} ohm = {shown(amps)} A")
    return ranged("amps for that drop", amps, "A", amps, allowed / cold, working=lines, assumptions=(*assumed, "the cord must also carry the amps"), source=TABLE_SOURCE)  # fmt: skip


def _gauge(told: _Cords, amps: float, volts: float, assumed: tuple[str, ...]) -> Estimate:
    """The thinnest wire for the length and the load."""
    from cabassist.sums.working_sheet import quantity

    share = 0.03 if told.most is None else told.most
    found = thinnest_cord(quantity(volts, "V"), quantity(amps, "A"), quantity(sum(told.feet), "ft"), most_drop=share)
    notes = assumed if told.most is not None else (*assumed, "3 percent may be lost")
    return exact(found.name, found.value, found.unit, working=found.working, assumptions=(*notes, *found.assumptions), source=found.source, verdict=found.verdict, also=found.also) if found.value is not None else found  # fmt: skip
