"""A tank measured from the top down: so many inches of air above the water, in a tank of such a depth."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import PER_H, converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, implied, wanted

_LENGTHS = frozenset({"in", "cm", "ft", "mm"})
_DOWN = (
    compiled(r"({in|cm|mm|ft}) (?:(?:of|left|free|clear) )?(?:(?:the |just |bare |dead )?(?:empty|air|space|headroom|room|gap|nothing|clearance))\b"),
    compiled(r"({in|cm|mm|ft|n}) (?:inches )?(?:(?:is |are |it is |still )?(?:down |short |shy |left |more |still |of room |to go )?(?:from|below|under|to|off|of|till|until|before) (?:the |its )?(?:top|lid|roof|brim|rim|fill neck))\b"),
    compiled(r"\b(?:from the top|top down)(?: (?:down|of|it|is|' s|to|there|the|water|i|measure|we|got|have|a|waste|surface|level|tank|in|its|,))* ({in|cm|mm|ft})(?= )"),
)  # fmt: skip
"""How the inches above the water are told."""
_UP = compiled(r"({in|cm|mm|ft}) (?:deep |high |up )?(?:of (?:water|waste|sewage|stuff|it|gr[ae]y|black) )?(?:in (?:a|the|my|our|it)|up|on the (?:dip)?stick)\b")  # fmt: skip
"""How the inches of water are told."""
_DEEP = compiled(r"({in|cm|mm|ft|n}) (?:inches |- )?(?:deep|high|tall|depth|in depth|top to bottom|all told|overall|tank)\b|\b(?:depth|height)(?: (?:is|of|' s))* ({in|cm|mm|ft|n})")  # fmt: skip
_OTHER = Lazy(r"\b(?:propane|diesel|fuel|bleach)\b")
_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding|crapper|poop|shit)\b")
_ROOM = Lazy(r"\b(?:room|before (?:it|she|the tank|we)|more|to fill|till full|until full|take|fit|space|free|add)\b")
_LEFT = Lazy(
    r"\b(?:in it|in there|in the tank|are left|is left|have i|have we|do i have|do we have|got|water is|is that)\b"
)
_PER_HOUR = {"gal/h": 1.0, "gph": 1.0, "n/h": 1.0, "gal/day": PER_H["day"], "n/day": PER_H["day"]}
_PER_MIN = frozenset({"gal/min", "gpm", "n/min"})
_COUNTED = 3


def from_top(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Gallons in a tank, its room, or the time until it is full or dry, by the inches from the top down."""
    if _OTHER.search(q.frame) or len(q.amounts) < _COUNTED:
        return None
    air = next((one for way in _DOWN if (one := _first(q, way)) is not None), None)
    up = None if air is not None else _first(q, _UP)
    air = air or up
    if air is None:
        return None
    rest = [one for one in q.amounts if one is not air and not _aside(one, q)]
    deep = _first(q, _DEEP)
    if deep is air or deep is None:
        lengths = [one for one in rest if one.unit in _LENGTHS and not one.per]
        deep = lengths[0] if len(lengths) == 1 else None
    if deep is None:
        return None
    rest = [one for one in rest if one is not deep]
    sizes = [one for one in rest if one.unit in ("gal", "L") and not one.per]
    bare = [one for one in rest if one.tag == "n"]
    if not sizes and len(bare) == 1:
        sizes = [bare[0]._replace(unit="gal")]
        rest = [one for one in rest if one is not bare[0]]
    else:
        rest = [one for one in rest if one not in sizes]
    inches = air.value if air.unit == "n" else converted(air.value, air.unit, "in")
    whole = deep.value if deep.unit == "n" else converted(deep.value, deep.unit, "in")
    if len(sizes) != 1 or len(rest) > 1 or not 0 < inches < whole:
        return None
    size = converted(sizes[0].value, sizes[0].unit, "gal")
    if up is not None:
        if not rest:
            return None  # other readers know the stick
        inches = whole - inches
    rate = rest[0] if rest else None
    people = [one for one in q.amounts if one.tag == "people"]
    if rate is not None and (rate.each or (rate.per == "day" and people)):
        if len(people) != 1 or not rate.each:
            return None  # of each, or of all
        rate = rate._replace(value=rate.value * people[0].value, each=False)
    return _answer(q, inches, whole, size, rate)


def _aside(one: Amount, q: Question) -> bool:
    """Whether it is told in passing: who is aboard, how cold it is."""
    return one.tag in ("people", "F", "C", "temp") or (
        one.tag == "n" and one is q.one(r"({n}) (?:on board|aboard|of us|degrees?)\b")
    )


def _first(q: Question, way: object) -> Amount | None:
    match = way.search(q.frame)  # type: ignore[attr-defined]
    if match is None:
        return None
    group = next(i for i in range(1, (match.re.groups or 0) + 1) if match.group(i))
    return q.amount_at(match.start(group))


def _answer(q: Question, inches: float, whole: float, size: float, rate: Amount | None) -> Estimate | None:
    want = wanted(q) or implied(q) or Wanted()
    room = size * inches / whole
    held = size - room
    above = f"{shown(inches)} of {shown(whole)} in are empty: {shown(size)} × {shown(inches)} ÷ {shown(whole)} = {shown(room)} gal of room"
    also = (figure("room", room, "gal"), figure("in it", held, "gal"))
    waste = _WASTE.search(q.frame) is not None
    if rate is None:
        if want.kind == "share":
            return exact(
                "full", 100 * (1 - inches / whole), "percent", working=(above,), source="arithmetic", also=also
            )
        if want.kind not in ("volume", "") or want.rate or want.judged:
            return None
        empty = _ROOM.search(q.frame) is not None and not (_LEFT.search(q.frame) and not Lazy(r"\b(?:before|more|take|fit|add)\b").search(q.frame))  # fmt: skip
        value = room if empty else held
        return exact("room" if empty else "in it", value, "gal", working=(above,), source="arithmetic", also=also[:1] if not empty else also[1:])  # fmt: skip
    if want.kind != "time" or rate.each or rate.value <= 0:
        return None
    if rate.tag in _PER_MIN:
        if waste:
            return None  # pumped out or run in
        minutes = room / rate.value
        return exact("time", minutes, "min", working=(above, f"÷ {shown(rate.value)} gal/min = {shown(minutes)} min"), source="arithmetic", verdict=f"{shown(minutes, 3)} minutes.", also=also[:1])  # fmt: skip
    if rate.tag not in _PER_HOUR:
        return None
    gallons = room if waste else held
    hours = gallons / (rate.value * _PER_HOUR[rate.tag])
    line = f"{shown(gallons)} ÷ {shown(rate.value)} {rate.tag} = {shown(hours)} h"
    return exact("until full" if waste else "until dry", hours, "h", working=(above, line), source="arithmetic", verdict=f"About {duration(hours)}.", also=also)  # fmt: skip
