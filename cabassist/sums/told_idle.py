"""Sums over fuel that is burned standing still, idling or by the generator: how long it lasts, what is burned, what is left."""

from __future__ import annotations

from cabassist.estimate.quantities import duration, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.nights import nights_of
from cabassist.sums.told_fuel import BURNED_TOO
from cabassist.sums.told_parts import ENDS, EVEN, OTHERS, STARTS, asks_lack, between, hour_of, lasting, listed, result
from cabassist.sums.told_road_fuel import gallons_priced
from cabassist.sums.told_units import as_spoken

_ROLES = (
    role("fuel", "volume", 0.6, (0.6, r"\b(?:have|got|with|left|there is|of|tank)(?: about| only)* # ")),
    role("rate", "volume/time|n/time", 0.8, many=True),
    role("rate", "n", -1.6, (3.0, r"\b(?:plus|and|generator|heater)(?: \w+){0,3} # "), many=True),
    role("hours", "time|time/time", 0.3),
    role("fuel", "n", -9.0),
    role("from", "n", -9.0),
    role("to", "n", -9.0),
    role("after", "volume|n", -2.0),
    role("reserve", "volume|n", -2.0),
    role("reserve_share", "share", -2.0, (3.2, r"\b(?:before|until|till?|down to|hits?|reach(?:es)?|gets? to|falls? to|drops? to|above|keep)(?: (?:it|we|i|hits?|reach|gets? to|is|at|down to|a|the))* # ")),
    role("share", "share", -2.0, (3.2, r"# (?:a )?(?:full )?(?:tank )?(?:of|in|left)\b|\b(?:have|got|with|at|is)(?: about)* # ")),
    role("on_part", "share", -2.0),
    role("other_rate", "volume/time|n/time|n", -2.0),
    role("times", "n|time", -2.0),
    role("price", "n", -2.0),
    role("a gallon", "volume", -2.0),
    role("from", "clock", 0.0, *STARTS),
    role("to", "clock", 0.0, *ENDS),
    OTHERS,
    role("beside", "people|temperature", -0.5, many=True),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    burns = question.has(r"\b(?:idl\w+|generator)\b") and any(one.kind in ("volume/time", "n/time") for one in terms)
    return burns and not question.has(
        r"\b(?:water|waste|fresh|propane|furnace\w*|miles|showers?)\b|<(?:lb|mpg|mi|A|Ah)>"
    )


def _solve(t: Told) -> Estimate | None:
    """Hours that fuel lasts at idle, what is burned in some, or what is left after them."""
    as_spoken(t, "volume", "fuel", "after", "reserve", "rate", "other_rate")
    rates, fuel, spell = [one.value for one in t.all("rate")], t.value("fuel"), t.one("hours")
    hours = None if spell is None else spell.value * (24 if spell.kind == "time/time" else 1)  # "ten hours a night"
    if nights_of(t.question) is not None:
        hours = None  # "how many nights of ten hours": the hours of each, not those it has to last
    start, end, after, part = t.one("from"), t.one("to"), t.value("after"), t.value("on_part")
    if start is not None and end is not None and hours is None:
        hours = between(start, end)
    elif end is not None:
        return None
    times = t.one("times")
    if times is not None:
        if hours is None:
            return None
        hours *= times.value / 24 if times.kind == "time" else times.value
    if after is not None:
        return _rate(t, fuel, after, hours) if not rates else None
    burned = sum(rates) * (1.0 if part is None else part)
    other = t.value("other_rate")
    if burned <= 0:
        return None
    if other is not None:
        saved = abs(burned - other) * (hours or 0.0)
        return result(t, "difference", saved, "gal", (f"{shown(abs(burned - other))} gal an hour x {shown(hours)} h = {shown(saved)} gal",)) if hours and fuel is None else None  # fmt: skip
    share, size = t.value("share"), fuel
    if share is not None:
        size = float(t.coach.diesel.capacity_gal) if fuel is None else fuel
        fuel = share * size
    keep = _kept(t, size)
    if fuel is None or t.has("price"):
        if hours is None or fuel is not None or t.want.kind not in ("volume", "money", ""):
            return None
        return _burned(t, burned, hours, rates)
    usable = fuel - keep
    lasts = usable / burned
    line = f"({shown(fuel)} - {shown(keep)}) gal ÷ {shown(burned)} gal an hour = {shown(lasts)} h" if keep else f"{shown(fuel)} gal ÷ ({listed(rates)}) gal an hour = {shown(lasts)} h"  # fmt: skip
    if usable <= 0:
        return None
    first = None if start is None else hour_of(start)
    if hours is None:
        return result(t, "lasts", lasts, "h", (line,), lasting(t, lasts, None, first)) if t.want.kind in ("time", "") else None  # fmt: skip
    left = fuel - burned * hours
    used = f"{shown(fuel)} - {shown(burned)} gal an hour x {shown(hours)} h = {shown(left)} gal"
    if t.want.judged or left < 0:
        enough = left >= keep - EVEN
        word = "Yes" if enough != asks_lack(t.question) else "No"
        verdict = f"{word}, it {'lasts' if enough else 'does not last'}: {duration(lasts)} against {duration(hours)}."
        return result(t, "lasts", lasts, "h", (line, used), verdict, (figure("left", left, "gal"),))
    if t.want.kind == "time":
        return None
    full = fuel / share if share else fuel
    return result(t, "left", left, "gal", (used,), also=(figure("burned", burned * hours, "gal"), figure("of what it was full", 100 * left / full, "percent")))  # fmt: skip


def _kept(t: Told, size: float | None) -> float:
    """Gallons that are to stay in the tank."""
    part = t.value("reserve_share")
    return (t.value("reserve") or 0.0) + (part or 0.0) * (size or 0.0)


def _rate(t: Told, before: float | None, after: float, hours: float | None) -> Estimate | None:
    """What was burned an hour, from what there was before and after."""
    if before is None or not hours or before <= after:
        return None
    rate = (before - after) / hours
    return result(t, "burned an hour", rate, "gal/h", (f"({shown(before)} - {shown(after)}) gal ÷ {shown(hours)} h = {shown(rate)} gal an hour",), also=(figure("burned", before - after, "gal"),))  # fmt: skip


def _burned(t: Told, burned: float, hours: float, rates: list[float]) -> Estimate:
    """What is burned in some hours, and what it costs."""
    gallons, price = burned * hours, t.value("price")
    price = None if price is None else price / gallons_priced(t)
    line = f"({listed(rates)}) gal an hour x {shown(hours)} h = {shown(gallons)} gal" if len(rates) > 1 else f"{shown(burned)} gal an hour x {shown(hours)} h = {shown(gallons)} gal"  # fmt: skip
    if price is not None:
        both = t.question.has(BURNED_TOO)
        verdict = f"{shown(gallons)} gallons are burned." if both else ""
        return result(t, "cost", gallons * price, "dollars", (line,), verdict, (figure("burned", gallons, "gal"),))
    return result(t, "burned", gallons, "gal", (line,))


IDLE = Family("idle", lambda _q: "idle-hours", _applies, _ROLES, _solve)
