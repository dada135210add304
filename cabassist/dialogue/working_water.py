"""Questions about fresh water and waste: filling, lasting, which comes first, weights, depths, bleach."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from cabassist.dialogue.working_levels import (
    TwoLevels,
    change_over_time,
    hours_until_clock,
    is_capacity,
    needed_hours,
    people_said,
    tank_levels,
    two_levels,
)
from cabassist.dialogue.working_sheet import READING_ERROR, Missing, Sheet, quantity, with_also, with_verdict
from cabassist.estimate.clock import clock
from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Amount, converted

HABIT = {"fresh": 2.0, "waste": 1.6}
"""Gallons a person uses, and puts into the waste tank, in a day when nobody says; common practice, no source."""
HABIT_SPREAD = 0.3
FILL_MARGIN_H = 1.0


# -- what is used -----------------------------------------------------------------------------------

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
        rate = amount.value / hours * (100 if amount.unit == "part" else 1)
        if amount.unit in ("part", "percent"):
            s.note(f"{tank}_percent", rate, "percent/h")
        else:
            s.note(f"{tank}_rate", rate, f"{amount.unit}/h")
        s.inputs.pop("needed", None)
        return used
    waste = q.one(*_WASTE_USE)
    shares = [a for a in q.of("use") if a != waste and not is_capacity(q, a)]
    if waste is not None and (tank in ("waste", "both") or shares):
        s.say("waste_use", _per_day(waste), "gal/day")
        used.append(waste)
    main = "fresh" if tank == "both" else tank
    if shares:
        s.say(f"{main}_use", _per_day(shares[0]), "gal/day")
        used.append(shares[0])
        if tank == "both" and len(shares) > 1 and waste is None:
            s.say("waste_use", _per_day(shares[1]), "gal/day")
            used.append(shares[1])
        elif tank == "both" and waste is None and q.has(r"\ball of it\b|\bsame\b.*\bwaste\b|\bboth\b.*\beach\b"):
            s.say("waste_use", _per_day(shares[0]), "gal/day")
        s.drop(f"{main}_rate")
        return used
    if waste is not None and tank == "waste":
        s.drop("waste_rate")
        return used
    rate = q.one(*_GROUP_RATE)
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


def _per_day(amount: Amount) -> Amount:
    return amount if amount.per else amount._replace(per="day")


def _use(s: Sheet, tank: str) -> tuple[float, Any, Any, float]:
    """(people, each a day, together, spread) as the calculations take them."""
    if s.has(f"{tank}_rate"):
        return 0.0, quantity(0, "gal/day"), s.amount(f"{tank}_rate"), 0.0
    s.people()
    spread = 0.0
    if not s.has(f"{tank}_use"):
        s.assume(f"{tank}_use", HABIT[tank], "gal/day", f"{HABIT[tank]:g} gal a person a day (common practice, no source; say your own)")
        spread = HABIT_SPREAD
    elif s.inputs[f"{tank}_use"].origin == "assumed":
        spread = HABIT_SPREAD
    other = s.amount("galley") if s.has("galley") else None
    return s.number("people"), s.amount(f"{tank}_use"), other, spread


def _tank_error(s: Sheet, tank: str) -> float:
    held = s.inputs.get(f"{tank}_share")
    return READING_ERROR if held is not None and held.origin == "reading" else 0.0


def _shares(s: Sheet, tank: str, two: TwoLevels) -> tuple[float, float]:
    """Both levels as shares of full."""
    if two.unit == "part":
        return two.first, two.last
    capacity = s.capacity(tank)
    return two.first / capacity, two.last / capacity


def _two_said(s: Sheet) -> bool:
    """Note two levels some hours apart, if the text has them."""
    two = two_levels(s)
    if two is None:
        return False
    for name, value in (("first", two.first), ("last", two.last), ("apart", two.hours)):
        s.note(name, value, "h" if name == "apart" else two.unit)
    return True


# -- fresh ------------------------------------------------------------------------------------------


def fresh_hours_said(s: Sheet) -> None:
    """Inputs of "how long will the fresh last" and its relatives."""
    q = s.q
    people_said(s)
    _galley(s)
    if _two_said(s):
        return
    needed_hours(s)
    used = uses_said(s, "fresh")
    shower = q.one(r"({vol}) showers?", r"({vol}) (?:a|per|each|for a|for each|in a) shower", r"\bshowers? (?:use|uses|takes?|at|of|is) (?:about )?({vol})")
    count = q.one(r"({shower})")
    if shower is not None:
        s.say("shower_gal", shower)
        used.append(shower)
    if count is not None:
        s.note("showers", count.value)
    if q.has(r"\bshowers?\b"):
        s.note("ask", "showers")
        minutes = q.one(r"({min}) shower")
        flow = q.one(r"({flow})")
        if minutes and flow:
            s.note("shower_gal", minutes.value * converted(flow.value, "gpm" if flow.unit == "gal" else flow.tag, "gpm"), "gal")
    elif q.has(r"\bhow (?:much|many gallons(?: of)?)(?: fresh| clean| drinking)?(?: water)? .*\b(?:need|use|take|go through|carry|want)\b"):
        s.note("ask", "needed")
        days = q.one(r"({day}|{night}|{h})")
        if days is not None:
            s.note("needed", converted(days.value, days.unit, "h"), "h")
    elif q.has(r"\bhow fast\b|\bgallons (?:a|per) (?:hour|day)\b.*\bare we\b"):
        s.note("ask", "rate")
    tank_levels(s, ("fresh",), used)


def _galley(s: Sheet) -> None:
    s.say("galley", s.q.one(r"({rate}) (?:\w+ ){0,4}?(?:galley|kitchen|dishes|cooking)", r"\b(?:galley|kitchen) (?:uses|takes|adds|is) (?:another )?({rate})"))


def fresh_hours(s: Sheet) -> Estimate:
    """How long the fresh water lasts, what is needed, or how many showers are in it."""
    from cabassist.estimate import water

    if s.has("first", "last", "apart"):
        return _against_needed(s, _straight(s, "fresh"))
    if s.text("ask") == "rate":
        return _rate(s, "fresh")
    if s.text("ask") == "needed":
        return _needed(s, "fresh")
    if s.text("ask") == "showers":
        return _showers(s)
    level = s.level("fresh")
    if level is None:
        raise Missing("fresh", "How much is in the fresh tank?", "percent")
    if s.has("fresh_percent") and s.number("fresh_percent"):
        return _against_needed(s, _at_percent(s, "fresh", 100 * level))
    if not s.has("fresh_use") and not s.has("fresh_rate") and not s.said("people") and (read := _from_readings(s, "fresh", 0.0)):
        return read
    gallons = level * s.capacity("fresh")
    aboard, each, other, spread = _use(s, "fresh")
    if s.has("fresh_gal"):
        s.assumed[:] = [line for line in s.assumed if not line.startswith("fresh tank")]
    error = _tank_error(s, "fresh")
    found = water.hours_left(
        s.amount("fresh_gal") if s.said("fresh_gal") else quantity(gallons, "gal"),
        aboard,
        each,
        other=other,
        fresh_spread=min(0.5, error / level) if level > error else 0.0,
        use_spread=spread,
    )
    return _against_needed(s, found)


def _showers(s: Sheet) -> Estimate:
    from cabassist.estimate import water

    if not s.has("shower_gal"):
        raise Missing("shower_gal", "How many gallons does one shower take?", "gal")
    level = s.level("fresh")
    if level is None:
        raise Missing("fresh", "How much is in the fresh tank?", "percent")
    gallons = level * s.capacity("fresh")
    found = water.uses_left(quantity(gallons, "gal"), s.amount("shower_gal"), "showers")
    wanted = s.number("showers") if s.has("showers") else s.number("people") if s.said("people") else 0.0
    if wanted:
        enough = (found.value or 0) >= wanted
        found = with_verdict(found, f"{'Yes' if enough else 'No'}: enough for {shown(found.value or 0)}, {shown(wanted)} wanted.")
    return found


def _needed(s: Sheet, tank: str) -> Estimate:
    """Gallons that people use in a time."""
    if not s.has("needed"):
        raise Missing("needed", "For how many days?", "day")
    aboard, each, other, spread = _use(s, tank)
    hours = s.number("needed", "h")
    daily = float(each.to("gallon/day").magnitude) * aboard + (float(other.to("gallon/day").magnitude) if other is not None else 0.0)
    value = daily * hours / 24
    capacity = s.coach.tank(tank).capacity_gal
    verdict = f"About {shown(value, 3)} gallons; the {tank} tank holds {shown(capacity)}."
    line = f"{shown(daily)} gal a day x {shown(hours / 24)} days = {shown(value)} gal"
    people = f"{shown(aboard)} people x {shown(float(each.to('gallon/day').magnitude))} gal = {shown(daily)} gal a day"
    return Estimate(
        "water needed", value, "gal", value / (1 + spread), value * (1 + spread), (people, line) if aboard else (line,), (), "people x use x time, arithmetic", verdict
    )


def _rate(s: Sheet, tank: str) -> Estimate:
    """Gallons an hour: by the last two readings, or by people and use."""
    pair = s.shares_read(tank)
    if pair is not None and not s.said("people") and (pair[1][0] > pair[0][0]) == (tank == "waste"):
        (first, first_at), (last, last_at) = pair
        hours = (last_at - first_at).total_seconds() / 3600
        value = abs(last - first) * s.capacity(tank) / hours
        line = f"{shown(100 * abs(last - first), 3)} % of {shown(s.capacity(tank))} gal in {shown(hours, 3)} h = {shown(value, 3)} gal an hour"
        return Estimate(f"{tank} rate", value, "gal/h", value * 0.7, value * 1.4, (line,), ("the last two readings",), "straight line, arithmetic")
    aboard, each, other, spread = _use(s, tank)
    daily = float(each.to("gallon/day").magnitude) * aboard + (float(other.to("gallon/day").magnitude) if other is not None else 0.0)
    value = daily / 24
    line = f"{shown(aboard)} people x {shown(float(each.to('gallon/day').magnitude))} gal a day ÷ 24 = {shown(value, 3)} gal an hour"
    return Estimate(f"{tank} rate", value, "gal/h", value / (1 + spread), value * (1 + spread), (line,), (), "people x use, arithmetic", "", (figure("a day", daily, "gal/day"),))


def _straight(s: Sheet, tank: str) -> Estimate:
    """A straight line through two levels said in the question."""
    from cabassist.estimate.tanks import straight_line

    first, last = s.number("first"), s.number("last")
    unit = s.inputs["first"].unit
    rising = tank == "waste"
    limit = (s.number("limit") if s.has("limit") else 1.0) if rising else 0.0
    if unit == "gal":
        target = limit * s.capacity(tank) if rising else 0.0
        return straight_line(f"{tank} tank lasts", first, last, s.number("apart"), target=target, unit="gal", rising=rising)
    return straight_line(f"{tank} tank lasts", first * 100, last * 100, s.number("apart"), target=limit * 100, unit="percent", rising=rising)


def _from_readings(s: Sheet, tank: str, limit: float) -> Estimate | None:
    """A straight line through the last two stored levels, when they moved the right way."""
    pair = s.shares_read(tank)
    if pair is None:
        return None
    (first, first_at), (last, last_at) = pair
    if (last > first) != (tank == "waste") or abs(last - first) < 0.02 or (last_at - first_at).total_seconds() > 3 * 86400:
        return None
    from cabassist.estimate.tanks import straight_line

    apart = (last_at - first_at).total_seconds() / 3600
    found = straight_line(f"{tank} tank lasts", first * 100, last * 100, apart, target=limit * 100, unit="percent", rising=tank == "waste", error=3.0)
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


# -- waste ------------------------------------------------------------------------------------------

_LIMIT = (
    r"\b(?:until|till|til|before|reach|reaches|hits?|gets? to|get to|goes to|to)\b(?:(?!full|empty|fill)[^<,]){0,30}({percent}|{part})",
    r"\bto ({percent}|{part})\b",
    r"\bwhen (?:is |will )?(?:it|the waste|the tank) (?:be |at |hit |reach )*({percent}|{part})",
)


def waste_hours_said(s: Sheet) -> None:
    """Inputs of "how long until the waste is full"."""
    q = s.q
    people_said(s)
    _galley(s)
    if _two_said(s):
        two = two_levels(s)
        limit = next((a for a in q.every(r"\b(?:until|till|reach\w*|hits?|gets? to|to)\b[^<,]{0,30}({percent}|{part}|{n})") if two is None or a not in two.used), None)
        if limit is not None:
            s.note("limit", limit.value / (1 if limit.unit == "part" else 100))
        return
    needed_hours(s)
    flush_gal = q.one(r"({vol}) (?:a|per|each|to a|to the) flush", r"\bflush(?:es)? (?:use|uses|takes?|is|at|of) (?:about )?({vol})", r"{flush} (?:of|at) ({vol})", r"\bflush\w*\b.*?\bat ({vol}|{gal/each})")
    flushes = q.one(r"({flush})", r"\bflush(?:es|ing)? (?:\w+ )?({n}) times", r"({n}) (?:times|flushes)\b")
    spent = [a for a in (flush_gal, flushes) if a is not None]
    used = [] if flush_gal is not None else uses_said(s, "waste")
    if flush_gal is not None and flushes is None and (word := re.search(r"\b(once|twice)\b", q.frame)):
        s.note("flushes", 2.0 if word[1] == "twice" else 1.0)
    used += spent
    if flush_gal is not None:
        s.say("flush_gal", flush_gal)
        if flushes is not None:
            s.note("flushes", flushes.value)
    if q.has(r"\bhow many (?:more )?flushes\b|\bflushes left\b"):
        s.note("ask", "flushes")
    elif q.has(r"\bhow fast\b"):
        s.note("ask", "rate")
    elif q.has(r"\bhow full will\b|\bdoes (?:it|that) fit\b|\boverfull\b|\bwill (?:it|that) fit\b"):
        s.note("ask", "after")
    levels = [a for a in (*q.of("part"), *q.of("gal"), *q.of("n")) if a not in used]
    limit = q.one(*_LIMIT) if len(levels) > 1 or q.has(r"\b(?:reach\w*|hits?|gets? to) <percent>|\bwhen (?:is|will) (?:it|the waste) (?:be |at |hit )*<percent>|\bwhen it <percent>") else None
    if limit is not None and limit.value not in (0,):
        s.note("limit", limit.value / (100 if limit.unit == "percent" else 1))
        used.append(limit)
    tank_levels(s, ("waste",), used)


def waste_hours(s: Sheet) -> Estimate:
    """How long until the waste tank is full, or at the level asked about."""
    from cabassist.estimate import waste

    limit = s.number("limit") if s.has("limit") else 1.0
    if s.has("first", "last", "apart"):
        return _against_needed(s, _straight(s, "waste"))
    if s.text("ask") == "rate":
        return _rate(s, "waste")
    level = s.level("waste")
    if level is None:
        raise Missing("waste", "How full is the waste tank?", "percent")
    capacity = s.capacity("waste")
    if s.has("waste_percent") and s.number("waste_percent"):
        return _against_needed(s, _at_percent(s, "waste", 100 * (limit - level)))
    if s.has("flush_gal") and s.text("ask") in ("after", "flushes"):
        return _flushes(s, level, capacity)
    if s.text("ask") == "flushes":
        s.profile("flush_gal", s.coach.toilet.flush_gal, "gal", f"{shown(s.coach.toilet.flush_gal)} gal a flush")
        return _flushes(s, level, capacity)
    if s.has("flush_gal", "flushes"):
        s.inputs["waste_use"] = replace_input(s, "waste_use", s.number("flush_gal", "gal") * s.number("flushes"), "gal/day")
    if not s.has("waste_use") and not s.has("waste_rate") and not s.said("people"):
        read = _from_readings(s, "waste", limit)
        if read is not None:
            return _against_needed(s, read)
    aboard, each, other, spread = _use(s, "waste")
    found = waste.hours_until(
        level, quantity(capacity, "gal"), aboard, each, other=other, limit=limit, level_error=_tank_error(s, "waste"), use_spread=spread
    )
    if limit == 1.0 and found.value is not None and level < 0.9:
        ninety = waste.hours_until(level, quantity(capacity, "gal"), aboard, each, other=other, limit=0.9).value or 0.0
        found = with_also(found, figure("at 90 percent", ninety, "h"))
    return _against_needed(s, found)


def _at_percent(s: Sheet, tank: str, left: float) -> Estimate:
    """Hours until a tank has moved by a number of percent, at the rate said."""
    rate = s.number(f"{tank}_percent") / (24 if s.inputs[f"{tank}_percent"].unit.endswith("day") else 1)
    hours = max(0.0, left) / rate
    line = f"{shown(left)} % ÷ {shown(rate)} % an hour = {shown(hours)} h"
    return exact(f"{tank} lasts", hours, "h", working=(line,), source="straight line, arithmetic")


def replace_input(s: Sheet, name: str, value: float, unit: str) -> Any:
    """An input worked out from what was said."""
    from cabassist.dialogue.working_sheet import Input

    return Input(name, value, unit)


def _against_needed(s: Sheet, found: Estimate) -> Estimate:
    """Yes or no first, when the question names how long it must last."""
    if not s.has("needed") or found.value is None:
        return found
    needed = s.number("needed", "h")
    low = found.low if found.low is not None else found.value
    word = "Yes" if low >= needed else "No" if found.value < needed else "Barely"
    return with_verdict(found, f"{word}: {roughly(needed)} needed, about {roughly(found.value)} there.")


def _flushes(s: Sheet, level: float, capacity: float) -> Estimate:
    from cabassist.estimate import waste, water

    if s.text("ask") == "flushes":
        to_full = level >= 0.9 or s.q.has(r"\bfull\b")
        room = (1.0 if to_full else 0.9) * capacity - level * capacity
        found = water.uses_left(quantity(max(0.0, room), "gal"), s.amount("flush_gal"), "flushes")
        return replace(found, assumptions=(*found.assumptions, "up to full" if to_full else "up to 90 % of the tank"))
    s.people()
    uses = s.number("flushes") if s.has("flushes") else 1.0
    return waste.overfull_check(quantity(level * capacity, "gal"), quantity(capacity, "gal"), s.number("people"), s.amount("flush_gal"), uses)


def which_first_said(s: Sheet) -> None:
    """Inputs of "which comes first"."""
    people_said(s)
    used = uses_said(s, "both")
    tank_levels(s, ("fresh", "waste"), used)


def which_first(s: Sheet) -> Estimate:
    """Which comes first, fresh empty or waste full."""
    from cabassist.estimate import waste

    fresh = s.level("fresh")
    if fresh is None:
        raise Missing("fresh", "How much is in the fresh tank?", "percent")
    level = s.level("waste")
    if level is None:
        raise Missing("waste", "How full is the waste tank?", "percent")
    s.people()
    for tank in ("fresh", "waste"):
        s.assume(f"{tank}_use", HABIT[tank], "gal/day", f"{tank}: {HABIT[tank]:g} gal a person a day (common practice, no source; say your own)")
    gallons = fresh * s.capacity("fresh")
    found = waste.comes_first(
        quantity(gallons, "gal"), level, quantity(s.capacity("waste"), "gal"), s.number("people"), s.amount("fresh_use"), s.amount("waste_use")
    )
    if s.has("fresh_gal"):
        s.assumed[:] = [line for line in s.assumed if not line.startswith("fresh tank")]
    return found


# -- deadlines --------------------------------------------------------------------------------------


def dump_deadline_said(s: Sheet) -> None:
    """Inputs of "when must we dump"."""
    waste_hours_said(s)


def dump_deadline(s: Sheet) -> Estimate:
    """By what clock time to dump."""
    from cabassist.estimate import waste

    level = s.level("waste")
    if level is None and not s.has("first"):
        raise Missing("waste", "How full is the waste tank?", "percent")
    limit = s.number("limit") if s.has("limit") else 0.9
    if s.has("first", "last", "apart"):
        s.note("limit", limit)
        return _deadline(s, _straight(s, "waste"), "dump deadline", "Dump")
    assert level is not None
    capacity = quantity(s.capacity("waste"), "gal")
    if not s.has("waste_use") and not s.has("waste_rate") and not s.said("people"):
        read = _from_readings(s, "waste", limit)
        if read is not None:
            return _deadline(s, read, "dump deadline", "Dump")
    aboard, each, other, spread = _use(s, "waste")
    found = waste.dump_deadline(
        level, capacity, aboard, each, s.now, other=other, limit=limit, level_error=_tank_error(s, "waste"), use_spread=spread
    )
    return _against_needed(s, found)


def fill_by_said(s: Sheet) -> None:
    """Inputs of "when must we fill"."""
    people_said(s)
    _galley(s)
    if _two_said(s):
        return
    needed_hours(s)
    tank_levels(s, ("fresh",), uses_said(s, "fresh"))


def fill_by(s: Sheet) -> Estimate:
    """By what clock time to fill fresh water."""
    needed = s.inputs.pop("needed", None)
    found = _deadline(s, fresh_hours(s), "fill by", "Fill fresh")
    if needed is not None:
        s.inputs["needed"] = needed
        found = _against_needed(s, found)
    return found


def _deadline(s: Sheet, lasts: Estimate, name: str, act: str) -> Estimate:
    """A margin before the early end of a time, as a clock time."""
    if lasts.value is None:
        return lasts
    early = lasts.low if lasts.low is not None else lasts.value
    left = max(0.0, early - FILL_MARGIN_H)
    when = clock(s.now, left)
    verdict = f"{act} before {when}." if left > 0 else f"{act} now: the time is over or nearly so."
    working = (*lasts.working, f"early end {shown(early)} h - {FILL_MARGIN_H:g} h in hand = {shown(left)} h: {when}")
    also = (figure(lasts.name, lasts.value, "h", lasts.low, lasts.high), *lasts.also)
    assumptions = (*lasts.assumptions, f"{FILL_MARGIN_H:g} h in hand (common practice, no source)")
    return exact(name, left, "h", working=working, assumptions=assumptions, source=lasts.source, verdict=verdict, also=also)


# -- filling ----------------------------------------------------------------------------------------


def fill_time_said(s: Sheet) -> None:
    """Inputs of "how long does it take to fill"."""
    q = s.q
    used: list[Amount] = []
    bucket = q.find(
        r"({water}) (?:bucket|pail|jug|can|jerry can) (?:\w+ ){0,5}?({s}|{min})",
        r"({s}|{min}) (?:\w+ ){0,5}?(?:for |to fill |fills? )?(?:a |an )?({water}) (?:bucket|pail|jug|can)",
        r"({s}|{min}) to (?:get|fill|put|run) (?:in )?({water})(?! (?:at|with))",
        r"({water}) (?:takes?|in|every|took|per) (?:about |just |only )?({s})",
        r"({water}) (?:takes?|every|took) (?:about |just |only )?({s}|{min})",
        *(() if q.of("flow") else (r"({water}) in ({s}|{min})",)),
    )
    if len(bucket) == 2:
        volume, time = (bucket[0], bucket[1]) if bucket[0].unit in ("gal", "L", "qt") else (bucket[1], bucket[0])
        s.note("flow", converted(volume.value, volume.unit, "gal") / converted(time.value, time.unit, "min"), "gpm")
        s.note("bucket", volume.value, volume.unit)
        s.note("bucket_time", time.value, time.unit)
        used += bucket
    elif q.has(r"\bbucket\b") and (time_only := q.one(r"\bbucket (?:\w+ ){0,3}?(?:in )?({min}|{s})")):
        s.assume("bucket_size", 5, "gal", "a five gallon bucket")
        s.note("flow", 5 / converted(time_only.value, time_only.unit, "min"), "gpm")
        used.append(time_only)
    flow = q.one(r"({flow})")
    if flow is not None:
        s.say("flow", flow, "gal")
        used.append(flow)
    rise = q.find(r"({short}) in ({min}|{h}|{s})", r"\b(?:in|after) ({min}|{h}) .*?({short})")
    if len(rise) == 2 and flow is None:
        inches, time = (rise[0], rise[1]) if rise[0].unit in ("in", "cm", "mm") else (rise[1], rise[0])
        inside = s.tank("fresh")
        gallons = converted(inches.value, inches.unit, "in") / inside.depth_in * inside.capacity_gal
        s.note("flow", gallons / converted(time.value, time.unit, "min"), "gpm")
        s.note("risen", gallons, "gal")
        used += rise
    share_rise = q.find(r"\bfrom ({part}|{n}) to ({part}|{n}) in ({min}|{h})")
    if len(share_rise) == 3:
        a, b, time = share_rise
        scale = 1.0 if a.unit == "part" or b.unit == "part" else 100.0
        s.note("flow", (b.value - a.value) / scale * s.tank("fresh").capacity_gal / converted(time.value, time.unit, "min"), "gpm")
        s.note("fresh_share", b.value / (scale if b.unit != "part" else 1), "part")
        used += share_rise
    if not s.has("diameter"):
        hose = q.one(r"({in}) (?:\w+ ){0,2}?hose")
        if hose is not None:
            s.note("diameter", hose.value, "in")
            used.append(hose)
            s.say("hose_length", q.one(r"({ft}|{m}) (?:\w+ )?hose|hose.*({ft}|{m})"))
            s.say("tap_psi", q.one(r"({psi})"))
    _fill_elapsed(s, used)
    _fill_amounts(s, used)


def _fill_elapsed(s: Sheet, used: list[Amount]) -> None:
    """How long it may take, has run, or when it began."""
    q = s.q
    limit = q.one(r"\b(?:in|within|is|enough) ({min}|{h})\b(?: enough)?", r"({min}|{h}) (?:\w+ )?enough")
    ran = q.one(r"\b(?:been filling|filling for|run(?:ning)?(?: for)?|been on|ran|on for|after|hose on for|for) (?:about )?({min}|{h})", r"({min}|{h}) ago")
    if ran is not None and ran not in used and q.has(r"\bhow (?:much|full|many gallons)\b|\blonger\b|\bago\b|\bbeen\b"):
        s.note("ran", converted(ran.value, ran.unit, "min"), "min")
        used.append(ran)
    elif limit is not None and limit not in used and q.has(r"\b(?:can|is|will|do|could|enough)\b"):
        s.note("limit_min", converted(limit.value, limit.unit, "min"), "min")
        used.append(limit)
    began = q.one(r"\b(?:started|at|since|from|on at) ({clock})")
    if began is not None and q.has(r"\bstart|\bsince\b|\bwhen\b|\bwhat time\b"):
        s.note("began", began.value, "clock" if not began.pieces else "clock?")
    if q.has(r"\bhow (?:much water|many gallons|much goes|much will|full)\b") and s.has("ran"):
        s.note("ask", "filled")
    elif q.has(r"\b(?:what|how much) (?:flow|gallons a minute|gpm)\b|\bwhat the flow\b|\bhow many gallons (?:a|per) minute\b"):
        s.note("ask", "flow")
    elif "ask" in s.inputs:
        s.drop("ask")


def _fill_amounts(s: Sheet, used: list[Amount]) -> None:
    q = s.q
    target = q.one(r"\b(?:up )?to ({part})\b", r"\b(?:up )?to ({part}) full")
    start = q.one(r"\bfrom (?:about )?({part}|{water})", r"\b(?:started|start|starting) (?:at|from|with) (?:about )?({part}|{water})")
    if target is not None and target not in used and q.has(r"\bto <(?:part|percent)>"):
        s.note("target", target.value / (100 if target.unit == "percent" else 1))
        used.append(target)
    already = q.one(r"\b(?:has|have|with|there is|got|holding|it at|tank at) (?:about )?({water}) (?:\w+ )?(?:in|already|now)\b", r"({water}) (?:already )?in (?:it|the tank|there)\b", r"\b(?:has|got) ({water})\b")
    holds = [a for a in q.of("water") if is_capacity(q, a) and a not in used]
    volumes = [a for a in q.of("water") if a not in used and a not in holds]
    for size in holds[:1]:
        s.say("fresh_capacity", size)
        used.append(size)
    product = q.find(r"({percent}|{part}) (?:full )?of (?:a |the )?({water})")
    if len(product) == 2:
        s.note("fresh_share", product[0].value, product[0].unit)
        s.say("fresh_capacity", product[1])
        used += product
        volumes = [a for a in volumes if a not in product]
    wanted = q.one(r"\b(?:needs?|takes?|wants?|holds?|for the other|the other|another|put in|for) ({n})(?= |$)(?! (?:minutes|more))")
    if not volumes and wanted is not None and wanted not in used and wanted.value > 1 and s.has("flow"):
        volumes = [wanted._replace(unit="gal")]
        used.append(wanted)
    if start is None and already is None and volumes:
        s.drop("fresh_share", "fresh_gal", "fresh_capacity")
        s.note("fill_gal", sum(converted(a.value, a.unit, "gal") for a in volumes[:1]), "gal")
        s.inputs["fill"] = replace_input(s, "fill", volumes[0].value, volumes[0].unit)
        used += volumes
    elif start is not None or already is not None:
        s.drop("fill_gal", "fill")
    tank_levels(s, ("fresh",), used)


def fill_time(s: Sheet) -> Estimate:
    """Minutes to fill."""
    from cabassist.estimate import hose, water

    if s.text("ask") == "flow" and s.has("bucket", "bucket_time"):
        return hose.flow_rate(s.amount("bucket"), s.amount("bucket_time"))
    if not s.has("flow"):
        return _without_flow(s)
    flow = s.amount("flow")
    if float(flow.to("gallon/minute").magnitude) <= 0:
        raise ValueError("A flow must be more than zero. Say gallons a minute, or the seconds for a bucket.")
    extra = _bucket_line(s)
    if s.text("ask") == "filled":
        level = s.level("fresh") or 0.0
        return _filled(s, level, flow)
    if s.has("fill_gal"):
        water_in = s.amount("fill") if s.has("fill") else s.amount("fill_gal")
        found = water.fill_time(water_in, flow, started=s.now)
    else:
        level = s.level("fresh")
        if level is None:
            s.assume("fresh_share", 0.0, "part", "from empty: less if there is water in it")
            level = 0.0
        if s.has("ran"):
            gained = s.number("ran") * float(flow.to("gallon/minute").magnitude) / s.capacity("fresh")
            level = min(1.0, level + gained)
            extra = (*extra, f"{shown(s.number('ran'))} min so far: now {shown(100 * level, 3)} % full")
        target = s.number("target") if s.has("target") else 1.0
        found = water.fill_plan(level, quantity(s.capacity("fresh"), "gal"), flow, target=target, started=s.now)
    if s.has("limit_min") and found.value is not None:
        word = "Yes" if found.value <= s.number("limit_min") else "No"
        found = with_verdict(found, f"{word}: {roughly(found.value / 60)} needed, {roughly(s.number('limit_min') / 60)} there.")
    return replace(found, working=(*extra, *found.working))


def _bucket_line(s: Sheet) -> tuple[str, ...]:
    if s.has("bucket", "bucket_time"):
        return (f"{shown(s.number('bucket'))} {s.inputs['bucket'].unit} in {shown(s.number('bucket_time'))} {s.inputs['bucket_time'].unit} = {shown(s.number('flow'))} gal a minute",)
    if s.has("risen"):
        return (f"{shown(s.number('risen'))} gal came in so far: {shown(s.number('flow'))} gal a minute",)
    return ()


def _without_flow(s: Sheet) -> Estimate:
    from cabassist.estimate import hose

    if s.has("diameter", "tap_psi"):
        s.profile("hose_length", s.coach.fresh_hose.length_ft, "ft", f"hose {shown(s.coach.fresh_hose.length_ft)} ft")
        flow = hose.hose_flow(s.amount("tap_psi"), s.amount("hose_length"), s.amount("diameter"))
        if flow.value is not None:
            s.inputs["flow"] = replace_input(s, "flow", flow.value, "gpm")
            s.assumed += [*flow.working, *flow.assumptions]
            return fill_time(s)
    raise Missing("flow", "How many gallons a minute does the hose give? Or say how long a five gallon bucket takes.", "gpm")


def _filled(s: Sheet, level: float, flow: Any) -> Estimate:
    from cabassist.estimate import water

    known = s.has("fresh_share") or s.has("fresh_gal")
    if known:
        return water.filled_after(level, quantity(s.capacity("fresh"), "gal"), flow, s.amount("ran"))
    rate = float(flow.to("gallon/minute").magnitude)
    value = rate * s.number("ran")
    line = f"{shown(rate)} gal a minute x {shown(s.number('ran'))} min = {shown(value)} gal"
    return exact("water put in", value, "gal", working=(line,), source="flow x time, arithmetic")


LOOK_SHARE = 0.8


def _look_at(lasts: Estimate, what: str) -> Estimate:
    """A share of the early end of a time, as the moment to look."""
    if lasts.value is None:
        return lasts
    early = lasts.low if lasts.low is not None else lasts.value
    line = f"{LOOK_SHARE:g} x {shown(early, 3)} h = {shown(LOOK_SHARE * early, 3)} h"
    also = (figure(lasts.name, lasts.value, "h", lasts.low, lasts.high), *lasts.also)
    verdict = f"Look at the {what} again in {roughly(LOOK_SHARE * early)}."
    return exact("look after", LOOK_SHARE * early, "h", working=(*lasts.working, line), assumptions=(*lasts.assumptions, "four fifths of the early end (common practice, no source)"), source=lasts.source, verdict=verdict, also=also)


def when_to_look_said(s: Sheet) -> None:
    """Inputs of "when do I go and look"; the waste tank is looked at by its own rate."""
    if s.q.has(r"\b(?:waste|black|sewage|holding)\b"):
        s.note("tank", "waste")
        waste_hours_said(s)
        return
    fill_time_said(s)


def when_to_look(s: Sheet) -> Estimate:
    """When to go and look while the tank fills."""
    if s.text("tank") == "waste":
        s.note("limit", 0.9)
        return _look_at(waste_hours(s), "waste tank")
    if s.q.has(r"\b(?:propane|gas|cylinder|bottle)\b"):
        from cabassist.dialogue.working_propane import propane_days

        s.note("unit", "h")
        return _look_at(propane_days(s), "propane gauges")
    found = fill_time(s)
    look = next((f for f in found.also if f.name == "look after"), None)
    if look is None:
        return found
    if s.has("limit_min"):
        word = "Yes" if s.number("limit_min") <= look.value else "No"
        found = with_verdict(replace(found, verdict=found.verdict.removeprefix("Yes: ").removeprefix("No: ")), f"{word}.")
    others = tuple(f for f in found.also if f is not look)
    lines = found.working
    if s.has("began"):
        began = s.inputs["began"]
        since = 24 - hours_until_clock(s, Amount(float(began.value), "clock", pieces=("?",) if began.unit == "clock?" else ()))
        if 0 < since < 6:
            lines = (*lines, f"started {roughly(since)} ago")
    return replace(found, name="look after", value=look.value, low=look.value, high=look.value, working=lines, also=(figure("fill time", found.value or 0.0, "min", found.low, found.high), *others))
