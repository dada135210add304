"""Questions of when the propane runs out while the weather changes: "minus 5 tonight and minus 20 tomorrow, 30 pounds left"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from cabassist.estimate.quantities import roughly
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.sums.told_parted import Part, parts
from cabassist.sums.working_order import levels_told
from cabassist.sums.working_propane import coach_heat
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity
from cabassist.sums.working_unplaced import WORDED

_LASTS = Lazy(
    r"\b(?:run(?:s|ning)? (?:out|dry)|last|lasts|hold out|how long|when|what time|empty|enough|how many (?:hours|days)|out of (?:propane|gas)|carry us|make it)\b"
)
_GAS = Lazy(
    r"\b(?:propane|propain|lpg?|gas(?! ?station)|cylinders?|bottles?|pounders?)\b|<(?:lb|kg)>(?! (?:people|bags?))|<cylinder>"
)
_OTHER = Lazy(
    r"\b(?:diesel|gel\w*|waste|fresh|water|batter\w*|tires?|tyres?|pipes?|hose|freez\w*|idle|wind ?chill|frostbite|bleach|retest\w*|vapou?r\w*|boil\w*|feed|duty|cycle)\b|<(?:BTU/h|BTU|kW|psi|V|A|mi|mph)(?:/\w+)?>|<(?:lb|gal|kg|part|percent)/"
)
_PERIODS = (
    r"tomorrow night|tomorrow|tonight|overnight|today|this (?:afternoon|evening|morning)|right now|now|"
    r"(?:the )?day after(?: tomorrow| that)?|(?:the )?(?:next|following) (?:day|night)|after that|from then on|and then|then|the rest|"
    r"(?:on |by )?(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)"
)
_RIGHT = Lazy(
    rf"^ (?:degrees )?(?:out |outside )?(?:for |on |by |is |during |the whole |all )?(?:the )?(?P<period>{_PERIODS})\b"
)
_LEFT = Lazy(
    rf"\b(?P<period>{_PERIODS})(?: (?:it|is|it ' s|at|of|the|a|low|high|down|to|around|about|gets?|drops?|goes|falls?|will|be|we|have|ll|'|s|warms?|up)){{0,6}} $"
)
_SPAN = Lazy(
    r"^ (?:degrees )?(?:out |outside )?(?:(?:right )?now |today |tonight |first )?for (?:the )?(?:next |first |whole )?(?:about )?$"
)
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MORNING_H, _EVENING_H = 6, 18
"""A night told of ends at six, an afternoon at eighteen hours."""
AHEAD_H = 14 * 24
"""Hours that are looked ahead; the last temperature told is taken to stay."""


def forecast_asked(q: Question) -> bool:
    """Whether it asks how long the propane lasts and tells two temperatures or more, each with its time."""
    if not (_GAS.search(q.frame) and _LASTS.search(q.frame)) or _OTHER.search(q.frame):
        return False
    told = _told(q)
    return told is not None and len(told) > 1


def _told(q: Question) -> list[tuple[Amount, str, Amount | None]] | None:
    """Each temperature with the period it is told for, and the length when it is for so many hours; None when one has neither."""
    found: list[tuple[Amount, str, Amount | None]] = []
    every = parts(q)
    for number, part in enumerate(every):
        if part.unit not in ("F", "C", "temp"):
            continue
        following = every[number + 1] if number + 1 < len(every) else None
        span = following is not None and following.kind == "time" and _SPAN.search(part.right) is not None
        period = _period(part)
        if span and following is not None:
            found.append((part.amount, "span", following.amount))
        elif period:
            found.append((part.amount, period, None))
        else:
            return None
    return found


def _period(part: Part) -> str:
    match = _RIGHT.search(part.right) or _LEFT.search(part.left)
    return match["period"] if match else ""


def forecast_said(s: Sheet) -> None:
    """Inputs of "minus 5 tonight and minus 20 tomorrow, 30 pounds left, when does it run out"."""
    q = s.q
    told = _told(q) or []
    if told:
        for name in [name for name in s.inputs if name.startswith("air ")]:
            del s.inputs[name]
    for number, (air, period, span) in enumerate(told):
        scale = q.scale if air.unit == "temp" else air.unit
        length = "" if span is None else f"{converted(span.value, _HOURS.get(span.unit, span.unit), 'h'):g}"
        s.note(f"air {number}", air.value, scale)
        s.note(f"when {number}", f"{period} {length}".strip())
    s.note(WORDED, by_words(q, *(span for _, _, span in told if span is not None)))
    levels = list(levels_told(q))
    for place, value, unit in levels:
        s.note(f"{place} left", value, unit)
    if not levels:
        s.say("propane", next((a for a in q.amounts if a.unit in ("lb", "kg", "gal", "L") and not a.per), None))
    people = next((a for a in q.amounts if a.unit == "people"), None)
    s.say("people", people)


_HOURS = {"night": "day"}


def forecast(s: Sheet) -> Estimate:
    """Hours until the propane is gone, hour by hour over the temperatures told; the last one is taken to stay."""
    from cabassist.estimate.furnaces import run_out_over_forecast

    left = _propane(s)
    airs: list[Any] = []
    at = s.now
    number = 0
    while s.has(f"air {number}"):
        air = s.amount(f"air {number}")
        last = not s.has(f"air {number + 1}")
        until = _until(s.text(f"when {number}"), at, s.text(f"when {number + 1}") if not last else "", s.now)
        if until <= at and not last:
            raise ValueError(
                "Say the temperatures in the order in which they come, each with its time: tonight, tomorrow."
            )
        hours = AHEAD_H - len(airs) if last else round((until - at).total_seconds() / 3600)
        airs += [air] * max(0, hours)
        at = max(at, until)
        number += 1
    if not airs:
        raise Missing("air 0", "How cold does it get, and when?", "temp")
    found = run_out_over_forecast(left, airs[:AHEAD_H], s.now, **coach_heat(s))
    night = f"each temperature is taken as the average of its time; a night ends at {_MORNING_H:02d}:00; after {at:%a %H:%M} it stays at the last temperature told"
    beyond = found.value is None or found.value > (at - s.now).total_seconds() / 3600
    later = f" That is beyond the {roughly((at - s.now).total_seconds() / 3600)} of weather told: ask again with the next forecast." if beyond else ""  # fmt: skip
    return replace(found, assumptions=(night, *found.assumptions), verdict=f"{found.verdict}{later}")


def _propane(s: Sheet) -> Any:
    """The propane left: as told in all, or in each cylinder, or as read."""
    if s.has("propane"):
        return s.amount("propane")
    total = None
    own: dict[str, float] = {one.role: one.nominal_lb for one in s.coach.propane.cylinders}
    for name, given in list(s.inputs.items()):
        if name.endswith(" left"):
            size = own.get(name.removesuffix(" left"), next(iter(own.values()), 40.0))
            part = given.unit in ("part", "percent")
            pounds = (
                float(given.value) * size / (100 if given.unit == "percent" else 1) if part else s.number(name, "lb")
            )
            if given.unit in ("gal", "L"):
                from cabassist.estimate.propane import LB_PER_GAL

                pounds = s.number(name, "gal") * LB_PER_GAL
            total = (total or 0.0) + pounds
    if total is None:
        total = _read(s)
    if total is None:
        raise Missing("propane", "How many pounds of propane are left?", "lb")
    return quantity(total, "lb")


def _read(s: Sheet) -> float | None:
    """Pounds in the cylinders that were read; None when none was."""
    from cabassist.estimate.quantities import shown
    from cabassist.language.plausibility import fraction_of_full

    pounds = None
    for cylinder in s.coach.propane.cylinders:
        held = s.latest("propane", cylinder.role)
        share = None if held is None else fraction_of_full(held.reading, s.coach)
        if held is not None and share is not None:
            pounds = (pounds or 0.0) + share * cylinder.nominal_lb
            s.assumed.append(f"{cylinder.role} cylinder at {shown(100 * share, 3)} %, {s.age(held)}")
    return pounds


def _until(period: str, at: datetime, following: str, now: datetime) -> datetime:
    """When a period told of ends, that begins at `at`."""
    word, _, length = period.partition(" ")
    if word == "span":
        return at + timedelta(hours=float(length or 0))
    today, tomorrow = _at(now, 0, 0), _at(now, 1, 0)
    night_end = _at(now, 0 if now.hour < _MORNING_H else 1, _MORNING_H)
    if period in ("now", "right now", "today") or period.startswith("this "):
        return today + timedelta(hours=_EVENING_H) if now.hour < _EVENING_H else night_end
    if period in ("tonight", "overnight"):
        return night_end
    if period == "tomorrow":
        end = tomorrow + timedelta(hours=_EVENING_H)
        return end if "night" in following else tomorrow + timedelta(hours=24 + _MORNING_H)
    if period == "tomorrow night":
        return tomorrow + timedelta(hours=24 + _MORNING_H)
    day = next((i for i, name in enumerate(_DAYS) if name in period), None)
    if day is not None:
        ahead = (day - now.weekday()) % 7
        return _at(now, ahead + 1, _MORNING_H)
    return at + timedelta(hours=12 if "night" in period else 24)


def _at(now: datetime, days: int, hour: int) -> datetime:
    return (now + timedelta(days=days)).replace(hour=hour, minute=0, second=0, microsecond=0)
