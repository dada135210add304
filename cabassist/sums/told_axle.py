"""An axle, or the whole coach, as water, fuel, people and gear go on or off: its weight then, and the room under a limit."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.wheels import AXLE_SOURCE, GROSS_LB, SINGLE_AXLE_LB, TANDEM_LB, WATER_LB_PER_GAL
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told
from cabassist.sums.told_parts import result

_TANDEM = Lazy(r"\b(?:tandems?|axle group|pair of axles|drive and tag|drives and tags?)\b")
_SINGLE = Lazy(r"\b(?:single|axle|steers?|drives?|tag)\b")
_GROSS = Lazy(r"\b(?:gross|altogether|whole (?:coach|bus|thing)|all axles|the lot|total)\b")
_LEGAL = Lazy(r"\b(?:legal\w*|law|federal|feds?|limits?|allowed|interstate|dot)\b")
_ROOM = Lazy(r"\b(?:room|left|spare|headroom|margin|in hand|how (?:much|far) (?:over|under)|over or under|under or over|(?:over|under) by|how much more|what more|to go)\b")  # fmt: skip
_FINE = Lazy(
    r"\b(?:legal(?! limit)|ok|okay|under|within|inside|fits?|good(?! for)|fine|am i allowed|are we allowed|can (?:i|we) (?!.*\bover\b)|stay|room for|enough|below|clear)\b"
)
_TOO_MUCH = Lazy(r"(?<!or )\b(?:over(?! (?:the (?:wheels?|axle|tag|drives?|steers?|tandem|rear|front)|it\b))|overweight|overloaded|illegal|too (?:heavy|much)|past|exceed\w*|bust\w*)\b")  # fmt: skip
_DIESEL = Lazy(r"# (?:(?:of|our|the|more|extra|worth) ){0,3}(?:diesel|fuel)\b|\b(?:diesel|fuel)(?: \w+){0,2} # ")
OFF_IT = Lazy(
    r"\b(?:mov\w+|shift\w*|tak\w+|took|pull\w*|get|got|lift\w*|haul\w*|slid\w*|slide|carry|carried|lugg?\w*) (?:\w+ ){0,2}# (?:of )?(?:\w+ ){0,4}(?:off|out of|away from|from) (?!(?:\S+ ){0,6}?(?:onto|on to|over to|to|over) (?:the|our|her|it|this|that)\b)"
)
"""So much is moved from where it is weighed, and nothing is said of another axle that it goes to."""
_FITS = 1e-9
_MOST_EACH_LB = 600.0


def legal_limit(frame: str) -> float | None:
    """Pounds that an axle, a pair of axles or the whole vehicle may weigh by law, where no other limit is told.

    Source: 23 USC 127.
    """
    if not _LEGAL.search(frame):
        return None
    if _TANDEM.search(frame):
        return TANDEM_LB
    if _GROSS.search(frame):
        return GROSS_LB
    return SINGLE_AXLE_LB if _SINGLE.search(frame) else None


def on_axle(t: Told) -> Estimate | None:
    """What is on the scale then, with the room under its limit, or how much of something still goes on.

    Source: water 8.337 lb/gal at 60 °F (CoolProp); diesel 7.09 lb/gal (SG 0.85 from memory); 23 USC 127.
    """
    limit = t.value("limit")
    if limit is None and not t.has("limit"):
        limit = legal_limit(t.question.frame)
        if limit is not None:
            t.assumed.append(f"{shown(limit)} lb by law, 23 USC 127")
    weighs, part = t.total("weighs"), t.value("share") if t.has("share") else 1.0
    if part is None or not 0 < part <= 1:
        return None
    lines: list[str] = []
    added = 0.0
    for name, sign in (("on", 1), ("off", -1)):
        for one in t.all(name):
            pounds = _liquid(t, one)
            if pounds is None:
                return None
            lines.append(f"{shown(abs(pounds))} lb {'on' if sign > 0 else 'off'}")
            added += sign * abs(pounds)
    for name, sign in (("moved", 1), ("moved off", -1)):
        for one in t.all(name):
            added += (-1 if OFF_IT.search(one.around) else sign) * abs(one.value)
    counted = _counted(t)
    if counted is None:
        return None
    added += counted[0]
    lines += counted[1]
    there = (weighs or 0.0) + part * added
    if part != 1:
        lines.append(f"{shown(100 * part)} % of {shown(added)} lb = {shown(part * added)} lb")
    if weighs is not None:
        lines.append(f"{shown(weighs)} + {shown(part * added)} = {shown(there)} lb")
    if limit is None:
        if weighs is None and part == 1 or counted[2] is not None or t.want.kind not in ("mass", ""):
            return None
        if weighs is None:
            return result(t, "on that axle", abs(there), "lb", tuple(lines), f"{shown(abs(there))} pounds {'heavier' if there >= 0 else 'lighter'}.")  # fmt: skip
        return result(t, "weight then", there, "lb", tuple(lines), also=(figure("put on", part * added, "lb"),))
    left = limit - there
    lines.append(f"{shown(limit)} - {shown(there)} = {shown(left)} lb")
    if counted[2] is not None:
        each = counted[2] * part
        if not 0 < each <= _MOST_EACH_LB:
            return None
        many = int(left / each + _FITS) if left >= 0 else math.ceil(-left / each - _FITS)
        return result(t, "that many fit" if left >= 0 else "that many must come off", float(many), "count", (*lines, f"{shown(abs(left))} ÷ {shown(each)} = {shown(abs(left) / each)}"))  # fmt: skip
    if t.want.kind == "volume":
        gallons = abs(left) / part / WATER_LB_PER_GAL
        name = "that much may be added" if left >= 0 else "that much must be drained"
        return result(t, name, gallons, "gal", (*lines, f"{shown(abs(left) / part)} lb ÷ {WATER_LB_PER_GAL} = {shown(gallons)} gal"))  # fmt: skip
    if t.want.kind not in ("mass", "") or (weighs is None and not added):
        return None
    return _against(t, there, limit, lines)


def _against(t: Told, there: float, limit: float, lines: Sequence[str]) -> Estimate:
    """The weight then and the room under a limit, with yes or no where that is asked."""
    left, frame = limit - there, t.question.frame
    over = left < 0
    factor, name = (converted(1.0, "lb", "kg"), "kg") if _metric(t) else (1.0, "pounds")
    verdict = f"{'Over' if over else 'Under'} the {shown(limit * factor)} {name}, by {shown(abs(left) * factor)}."
    if t.want.judged:
        words = ([0, *(found.start() for found in pattern.finditer(frame))][-1] for pattern in (_TOO_MUCH, _FINE))
        asks_over = next(words) > next(words)  # what is said last is asked
        verdict = f"{'Yes' if over is asks_over else 'No'}. {verdict}"
    room = figure("over the limit" if over else "left under the limit", abs(left), "lb")
    weight = figure("weight then", there, "lb")
    first, second = (room, weight) if _ROOM.search(frame) else (weight, room)
    return result(t, first.name, first.value or 0.0, "lb", tuple(lines), verdict, (second,), source=f"arithmetic; {AXLE_SOURCE}")  # fmt: skip


def _metric(t: Told) -> bool:
    units = {one.unit for one in t.question.amounts}
    return "kg" in units and "lb" not in units


def _liquid(t: Told, one: Term) -> float | None:
    """Pounds of an amount of water or fuel; a share is of the tank whose size is told, or of the coach's own."""
    if one.kind == "mass":
        return one.value
    gallons = one.value
    if one.kind == "share":
        size = t.value("capacity")
        if size is None:
            from cabassist.sums.sums_depth import OF_WASTE

            name = "waste" if OF_WASTE.search(one.around) else "fresh"
            size = t.coach.tank(name).capacity_gal
            t.assumed.append(f"{name} tank {shown(size)} gal (profile)")
        gallons = one.value * size
    elif one.kind not in ("volume", "n") or t.has("capacity"):
        return None
    return gallons * (DIESEL_LB_PER_GAL if _DIESEL.search(one.around) else WATER_LB_PER_GAL)


def _counted(t: Told) -> tuple[float, list[str], float | None] | None:
    """Pounds of what is counted, each weight with the count before it, and the weight of one thing whose number is asked."""
    off = {one.amount.start for one in t.all("count off")}
    counts = sorted([*t.all("count"), *t.all("count off")], key=lambda one: one.amount.start)
    open_ = {one.amount.start for one in counts}
    total, lines, single = 0.0, [], None
    for weight in t.all("each"):
        before = [one for one in counts if one.amount.start < weight.amount.start]
        after = [one for one in counts if one.amount.start > weight.amount.start and one.amount.start in open_]
        if before and before[-1].amount.start in open_:
            one = before[-1]
        elif after and after[0].amount.start - weight.amount.end <= _NEAR:
            one = after[0]
        elif before and weight.each:
            one = before[-1]  # "twenty players at 200, their kit 50 each"
        elif single is None:
            single = weight.value
            continue
        else:
            return None
        open_.discard(one.amount.start)
        sign = -1 if one.amount.start in off else 1
        total += sign * one.value * weight.value
        lines.append(f"{shown(one.value)} x {shown(weight.value)} lb = {shown(one.value * weight.value)} lb")
    return None if open_ else (total, lines, single)


_NEAR = 3
"""So many words after a weight, the number of things that weigh it."""
