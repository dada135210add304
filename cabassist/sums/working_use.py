"""How fast water is used and waste made: by people, by a rate that was said, or by the readings."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cabassist.estimate.clock import clock
from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.sums.working_levels import (
    change_over_time,
    is_capacity,
    two_levels,
)
from cabassist.sums.working_sheet import READING_ERROR, Input, Missing, Sheet, quantity, with_verdict

HABIT = {"fresh": 2.0, "waste": 1.6}
"""Gallons a person uses, and puts into the waste tank, in a day when nobody says; common practice, no source."""


HABIT_SPREAD = 0.3


FILL_MARGIN_H = 1.0


_WASTE_USE = (
    r"\b(?:put|puts|putting|adds?|adding|makes?|produces?|send|sends|dumps?|goes|down) (?:about |in |into )*({use}|{n}|{rate}) (?:\w+ ){0,4}?(?:in|into|to|down|of waste|waste)\b",
    r"\b(?:waste|sewage|black|gr[ae]y)\b[^<,]{0,30}\b(?:at|by|gets|takes|of) ({use})",
    r"({use}) (?:of |in |into |to |goes |go )*(?:the )?(?:waste|black|sewage|holding|gr[ae]y)",
    r"\band (?:put|puts|adds?|makes?) (?:in )?({use}|{n})",
    r"\band (?:about )?({n}|{use}|{water}) (?:of it |goes |going )?(?:in|into|to) (?:the )?(?:waste|black|sewage|holding|gr[ae]y)",
    r"({use}|{n}) of (?:that|it) (?:goes|ends up|going)\b",
)


_GROUP_RATE = (
    r"\b(?:going|goes|comes|coming|rises?|rising|fills?|filling|climb\w*) (?:up |in )?(?:at |by )?(?:about )?({rate})",
    r"\b(?:using|use|uses|used|drop\w*|losing|going through|go through|goes through|burn\w*|draw\w*|down) (?:about |by |at )?({rate})",
    r"({rate}) (?:in all|total|altogether|between us|for everybody|for everyone|for all)\b",
    r"({rate})",
)


def uses_said(s: Sheet, tank: str) -> list[Amount]:
    """Note what is used a day, each or together, for one tank or for both."""
    q = s.q
    used: list[Amount] = []
    moved = change_over_time(s)
    if moved is not None and tank != "both":
        amount, hours, used = moved
        an_hour = amount.value / hours * (100 if amount.unit == "part" else 1)
        if amount.unit in ("part", "percent"):
            s.note(f"{tank}_percent", an_hour, "percent/h")
        else:
            s.note(f"{tank}_rate", an_hour, f"{amount.unit}/h")
        s.inputs.pop("needed", None)
        return used
    waste = q.one(*_WASTE_USE)
    shares = [a for a in q.of("use") if a != waste and not is_capacity(q, a)]
    if waste is not None and (tank in ("waste", "both") or shares):
        s.say("waste_use", _per_day(waste), "gal/day")
        used.append(waste)
    main = "fresh" if tank == "both" else tank
    if tank == "both" and len(shares) < 2:
        used += _in_and_out(s, waste is None, not shares)
    if shares:
        s.say(f"{main}_use", _per_day(shares[0]), "gal/day")
        used.append(shares[0])
        if tank == "both" and len(shares) > 1 and waste is None:
            s.say("waste_use", _per_day(shares[1]), "gal/day")
            used.append(shares[1])
        elif (
            tank == "both"
            and waste is None
            and not s.has("waste_use")
            and q.has(r"\ball of it\b|\bsame\b.*\bwaste\b|\bboth\b.*\beach\b")
        ):
            s.say("waste_use", _per_day(shares[0]), "gal/day")
        s.drop(f"{main}_rate")
        return used
    if waste is not None and tank == "waste":
        s.drop("waste_rate")
        return used
    rate = q.one(*_GROUP_RATE)
    if rate is not None and rate.unit == "n" and rate.per == "h" and _only_percent(q, tank):
        rate = rate._replace(unit="percent")
        s.assumed.append(f"{rate.value:g} an hour taken as percent, as the level was told")
        s.note(f"{main}_percent", rate.value, "percent/h")
        return [*used, rate._replace(unit="n")]
    if rate is not None and rate.unit != "percent":
        small = bool(q.of("people")) and rate.per == "day" and rate.value <= 10
        together = q.has(r"\b(?:in all|total|altogether|between us|everybody|together|we use|we are using|going up)\b")
        s.say(f"{main}_{'use' if small and not together else 'rate'}", rate, "gal")
        s.drop(f"{main}_{'rate' if small and not together else 'use'}")
        used.append(rate)
    elif rate is not None:
        s.say(f"{main}_percent", rate)
        used.append(rate)
    return used


def _only_percent(q: Question, tank: str) -> bool:
    """Whether the level stands in percent and no volume is told, so that a bare rate means percent too."""
    return tank == "waste" and bool(q.of("percent")) and not q.of("water") and not q.of("people")


def _in_and_out(s: Sheet, no_waste: bool, no_fresh: bool) -> list[Amount]:
    """ "using two and putting in one and a half", "two gallons each in and 1.7 out"."""
    in_use = (
        s.q.one(r"\b(?:using|use|uses|drinking|drink) (?:up |about )?({n}|{water}|{rate})(?= |$)") if no_fresh else None
    )
    put_in = (
        s.q.one(
            r"({n}|{water}|{rate}|{use}) out\b",
            r"\b(?:putting|put|puts|adding|adds|making) (?:in |out |down |back )*({n}|{water}|{rate})(?= |$)",
        )
        if no_waste
        else None
    )
    for name, found in (("fresh_use", in_use), ("waste_use", put_in)):
        s.say(name, _per_day(found) if found is not None else None, "gal/day")
    return [a for a in (in_use, put_in) if a is not None]


def _per_day(amount: Amount) -> Amount:
    return amount if amount.per else amount._replace(per="day")


def use_of(s: Sheet, tank: str) -> tuple[float, Any, Any, float]:
    """(people, each a day, together, spread) as the calculations take them."""
    if s.has(f"{tank}_rate"):
        return 0.0, quantity(0, "gal/day"), s.amount(f"{tank}_rate"), 0.0
    s.people()
    spread = 0.0
    if not s.has(f"{tank}_use"):
        s.assume(
            f"{tank}_use",
            HABIT[tank],
            "gal/day",
            f"{HABIT[tank]:g} gal a person a day (common practice, no source; say your own)",
        )
        spread = HABIT_SPREAD
    elif s.inputs[f"{tank}_use"].origin == "assumed":
        spread = HABIT_SPREAD
    other = s.amount("galley") if s.has("galley") else None
    return s.number("people"), s.amount(f"{tank}_use"), other, spread


def tank_error(s: Sheet, tank: str) -> float:
    """Half the range of a level that was read off; 0 for one given in the question."""
    held = s.inputs.get(f"{tank}_share")
    return READING_ERROR if held is not None and held.origin == "reading" else 0.0


def two_said(s: Sheet) -> bool:
    """Note two levels some hours apart, if the text has them."""
    two = two_levels(s)
    if two is None:
        return False
    for name, value in (("first", two.first), ("last", two.last), ("apart", two.hours)):
        s.note(name, value, "h" if name == "apart" else two.unit)
    return True


def galley_said(s: Sheet) -> None:
    """Note what the galley uses."""
    s.say(
        "galley",
        s.q.one(
            r"({rate}) (?:\w+ ){0,4}?(?:galley|kitchen|dishes|cooking)",
            r"\b(?:galley|kitchen) (?:uses|takes|adds|is) (?:another )?({rate})",
        ),
    )


def water_needed(s: Sheet, tank: str) -> Estimate:
    """Gallons that people use in a time."""
    if not s.has("needed"):
        raise Missing("needed", "For how many days?", "day")
    aboard, each, other, spread = use_of(s, tank)
    hours = s.number("needed", "h")
    daily = float(each.to("gallon/day").magnitude) * aboard + (
        float(other.to("gallon/day").magnitude) if other is not None else 0.0
    )
    value = daily * hours / 24
    capacity = s.coach.tank(tank).capacity_gal
    verdict = f"About {shown(value, 3)} gallons; the {tank} tank holds {shown(capacity)}."
    line = f"{shown(daily)} gal a day x {shown(hours / 24)} days = {shown(value)} gal"
    people = f"{shown(aboard)} people x {shown(float(each.to('gallon/day').magnitude))} gal = {shown(daily)} gal a day"
    return Estimate(
        "water needed",
        value,
        "gal",
        value / (1 + spread),
        value * (1 + spread),
        (people, line) if aboard else (line,),
        (),
        "people x use x time, arithmetic",
        verdict,
    )


def rate_of_use(s: Sheet, tank: str) -> Estimate:
    """Gallons an hour: by the last two readings, or by people and use."""
    pair = s.shares_read(tank)
    if pair is not None and not s.said("people") and (pair[1][0] > pair[0][0]) == (tank == "waste"):
        (first, first_at), (last, last_at) = pair
        hours = (last_at - first_at).total_seconds() / 3600
        value = abs(last - first) * s.capacity(tank) / hours
        line = f"{shown(100 * abs(last - first), 3)} % of {shown(s.capacity(tank))} gal in {shown(hours, 3)} h = {shown(value, 3)} gal an hour"
        return Estimate(
            f"{tank} rate",
            value,
            "gal/h",
            value * 0.7,
            value * 1.4,
            (line,),
            ("the last two readings",),
            "straight line, arithmetic",
        )
    aboard, each, other, spread = use_of(s, tank)
    daily = float(each.to("gallon/day").magnitude) * aboard + (
        float(other.to("gallon/day").magnitude) if other is not None else 0.0
    )
    value = daily / 24
    line = f"{shown(aboard)} people x {shown(float(each.to('gallon/day').magnitude))} gal a day ÷ 24 = {shown(value, 3)} gal an hour"
    return Estimate(
        f"{tank} rate",
        value,
        "gal/h",
        value / (1 + spread),
        value * (1 + spread),
        (line,),
        (),
        "people x use, arithmetic",
        "",
        (figure("a day", daily, "gal/day"),),
    )


def straight(s: Sheet, tank: str) -> Estimate:
    """A straight line through two levels said in the question."""
    from cabassist.estimate.tanks import straight_line

    first, last = s.number("first"), s.number("last")
    unit = s.inputs["first"].unit
    rising = tank == "waste"
    limit = (s.number("limit") if s.has("limit") else 1.0) if rising else 0.0
    if unit == "gal":
        target = limit * s.capacity(tank) if rising else 0.0
        return straight_line(
            f"{tank} tank lasts", first, last, s.number("apart"), target=target, unit="gal", rising=rising
        )
    return straight_line(
        f"{tank} tank lasts",
        first * 100,
        last * 100,
        s.number("apart"),
        target=limit * 100,
        unit="percent",
        rising=rising,
    )


def rate_wanted(s: Sheet) -> None:
    """Ask for the rate that "at this rate" speaks of, when neither the question nor the readings hold one.

    Raises:
        Missing: how many are aboard, from which it follows.
    """
    if s.q.has(
        r"\b(?:at|same) (?:this|that|the|same)? ?(?:same )?(?:rate|pace)\b|\bkeeps? (?:going|up|on) (?:like|at)\b"
    ):
        raise Missing("people", "How many are aboard, or what did the gauge show earlier, and when?", "people")


def from_readings(s: Sheet, tank: str, limit: float) -> Estimate | None:
    """A straight line through the last two stored levels, when they moved the right way."""
    pair = s.shares_read(tank)
    if pair is None:
        return None
    (first, first_at), (last, last_at) = pair
    if (
        (last > first) != (tank == "waste")
        or abs(last - first) < 0.02
        or (last_at - first_at).total_seconds() > 3 * 86400
    ):
        return None
    from cabassist.estimate.tanks import straight_line

    apart = (last_at - first_at).total_seconds() / 3600
    found = straight_line(
        f"{tank} tank lasts",
        first * 100,
        last * 100,
        apart,
        target=limit * 100,
        unit="percent",
        rising=tank == "waste",
        error=3.0,
    )
    age = (s.now - last_at).total_seconds() / 3600
    if age > 0.1 and found.value is not None:
        found = replace(
            found,
            value=max(0.0, found.value - age),
            low=None if found.low is None else max(0.0, found.low - age),
            high=None if found.high is None else max(0.0, found.high - age),
            working=(*found.working, f"less {shown(age, 3)} h since the last reading"),
        )
    return found


def at_percent(s: Sheet, tank: str, left: float) -> Estimate:
    """Hours until a tank has moved by a number of percent, at the rate said."""
    rate = s.number(f"{tank}_percent") / (24 if s.inputs[f"{tank}_percent"].unit.endswith("day") else 1)
    hours = max(0.0, left) / rate
    line = f"{shown(left)} % ÷ {shown(rate)} % an hour = {shown(hours)} h"
    return exact(f"{tank} lasts", hours, "h", working=(line,), source="straight line, arithmetic")


def worked_out(name: str, value: float, unit: str) -> Input:
    """An input worked out from what was said."""
    return Input(name, value, unit)


def against_needed(s: Sheet, found: Estimate) -> Estimate:
    """Yes or no first, when the question names how long it must last."""
    if not s.has("needed") or found.value is None:
        return found
    needed = s.number("needed", "h")
    low = found.low if found.low is not None else found.value
    word = "Yes" if low >= needed else "No" if found.value < needed else "Barely"
    return with_verdict(found, f"{word}: {roughly(needed)} needed, about {roughly(found.value)} there.")


def deadline(s: Sheet, lasts: Estimate, name: str, act: str) -> Estimate:
    """A margin before the early end of a time, as a clock time."""
    if lasts.value is None:
        return lasts
    early = lasts.low if lasts.low is not None else lasts.value
    left = max(0.0, early - FILL_MARGIN_H)
    when = clock(s.now, left)
    verdict = (
        f"{act} before {when}; the limit is at {clock(s.now, early)[:5]}."
        if left > 0
        else f"{act} now: the time is over or nearly so."
    )
    working = (*lasts.working, f"early end {shown(early)} h - {FILL_MARGIN_H:g} h in hand = {shown(left)} h: {when}")
    also = (figure(lasts.name, lasts.value, "h", lasts.low, lasts.high), *lasts.also)
    assumptions = (*lasts.assumptions, f"{FILL_MARGIN_H:g} h in hand (common practice, no source)")
    return exact(
        name, left, "h", working=working, assumptions=assumptions, source=lasts.source, verdict=verdict, also=also
    )
