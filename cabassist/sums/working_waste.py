"""Questions about the waste tank: hours until it is full, flushes left, by when to dump."""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.sums.working_levels import (
    needed_hours,
    people_said,
    tank_levels,
    two_levels,
)
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also
from cabassist.sums.working_use import (
    against_needed,
    at_percent,
    deadline,
    from_readings,
    galley_said,
    rate_of_use,
    rate_wanted,
    straight,
    tank_error,
    two_said,
    use_of,
    uses_said,
    worked_out,
)

_LIMIT = (
    r"\b(?:until|till|til|before|reach|reaches|hits?|gets? to|get to|goes to|to)\b(?:(?!full|empty|fill)[^<,]){0,30}({percent}|{part})",
    r"\bto ({percent}|{part})\b",
    r"\bwhen (?:is |will )?(?:it|the waste|the tank) (?:be |at |hit |reach )*({percent}|{part})",
    r"\b(?:till|until|before|when|hours to) (?:(?:it|the|waste|tank|is|be|at|gets?|to|hits?|reach\w*|will|would) )*({percent})",
    r"\b(?:till|until|to|at|hits?|reach|reaches|before|by) ({n}) (?:$|[,.?-]|percent|on the)",
    r"({percent}|{n}) (?:' ?s |s |is |being )?(?:my|the|our) (?:limit|max|maximum|mark|line)\b",
)
_LIMIT_ALONE = r"\b(?:till|until|before|when|hours to) (?:(?:it|the|waste|tank|is|be|at|gets?|to|hits?|reach\w*|will|would) )*<percent>"
"""A level that stands behind "till" or "when" is the one asked about, also when no other is told."""


def waste_hours_said(s: Sheet) -> None:
    """Inputs of "how long until the waste is full"."""
    q = s.q
    people_said(s)
    galley_said(s)
    if two_said(s):
        two = two_levels(s)
        size = s.q.one(r"\bfull at ({n}|{water})", r"\bfull (?:is |at )?({n}) gallons")
        if size is not None:
            s.say("waste_capacity", size, "gal")
            return
        limit = next(
            (
                a
                for a in q.every(r"\b(?:until|till|reach\w*|hits?|gets? to|to)\b[^<,]{0,30}({percent}|{part}|{n})")
                if two is None or a not in two.used
            ),
            None,
        )
        if limit is not None:
            s.note("limit", limit.value / (1 if limit.unit == "part" else 100))
        return
    needed_hours(s)
    flush_gal = q.one(
        r"({vol}) (?:a|per|each|to a|to the) flush",
        r"\bflush(?:es)? (?:use|uses|takes?|is|at|of) (?:about )?({vol})",
        r"{flush} (?:of|at) ({vol})",
        r"\bflush\w*\b.*?\bat ({vol}|{gal/each})",
    )
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
    limit = (
        q.one(*_LIMIT)
        if len(levels) > 1
        or q.has(_LIMIT_ALONE)
        or q.has(r"({percent}|{n}) (?:' ?s |s |is )?(?:my|the|our) (?:limit|max)")
        or q.has(
            r"\b(?:reach\w*|hits?|gets? to) <percent>|\bwhen (?:is|will) (?:it|the waste) (?:be |at |hit )*<percent>|\bwhen it <percent>"
        )
        else None
    )
    if limit is not None and limit.value not in (0,):
        s.note("limit", limit.value / (1 if limit.unit == "part" else 100))
        used.append(limit)
    tank_levels(s, ("waste",), used)


def waste_hours(s: Sheet) -> Estimate:
    """How long until the waste tank is full, or at the level asked about."""
    from cabassist.estimate import waste

    limit = s.number("limit") if s.has("limit") else 1.0
    if s.has("first", "last", "apart"):
        return against_needed(s, straight(s, "waste"))
    if s.text("ask") == "rate":
        return rate_of_use(s, "waste")
    level = s.level("waste")
    if level is None:
        raise Missing("waste", "How full is the waste tank?", "percent")
    if s.has("limit") and level >= limit:
        return _past(level, limit)
    capacity = s.capacity("waste")
    if s.has("waste_percent") and s.number("waste_percent"):
        found = at_percent(s, "waste", 100 * (limit - level))
        if limit == 1.0 and level < 0.9:
            ninety = at_percent(s, "waste", 100 * (0.9 - level)).value or 0.0
            found = with_also(found, figure("at 90 percent", ninety, "h"))
        return against_needed(s, found)
    if s.has("flush_gal") and s.text("ask") in ("after", "flushes"):
        return _flushes(s, level, capacity)
    if s.text("ask") == "flushes":
        s.profile("flush_gal", s.coach.toilet.flush_gal, "gal", f"{shown(s.coach.toilet.flush_gal)} gal a flush")
        return _flushes(s, level, capacity)
    if s.has("flush_gal", "flushes"):
        s.inputs["waste_use"] = worked_out("waste_use", s.number("flush_gal", "gal") * s.number("flushes"), "gal/day")
    if not s.has("waste_use") and not s.has("waste_rate") and not s.said("people"):
        read = from_readings(s, "waste", limit)
        if read is not None:
            return against_needed(s, read)
        rate_wanted(s)
    aboard, each, other, spread = use_of(s, "waste")
    found = waste.hours_until(
        level,
        quantity(capacity, "gal"),
        aboard,
        each,
        other=other,
        limit=limit,
        level_error=tank_error(s, "waste"),
        use_spread=spread,
    )
    if limit == 1.0 and found.value is not None and level < 0.9:
        ninety = waste.hours_until(level, quantity(capacity, "gal"), aboard, each, other=other, limit=0.9).value or 0.0
        found = with_also(found, figure("at 90 percent", ninety, "h"))
    return against_needed(s, found)


def _past(level: float, limit: float) -> Estimate:
    """What there is to say of a tank that is past the level asked about: no time is left."""
    verdict = f"It is past {shown(100 * limit)} % already, at {shown(100 * level, 3)} %. Dump now."
    line = f"{shown(100 * level, 3)} % is not below {shown(100 * limit)} %"
    return exact("time to the limit", 0.0, "h", working=(line,), source="arithmetic", verdict=verdict)


def _flushes(s: Sheet, level: float, capacity: float) -> Estimate:
    from cabassist.estimate import waste, water

    if s.text("ask") == "flushes":
        to_full = level >= 0.9 or s.q.has(r"\bfull\b")
        room = (1.0 if to_full else 0.9) * capacity - level * capacity
        found = water.uses_left(quantity(max(0.0, room), "gal"), s.amount("flush_gal"), "flushes")
        return replace(found, assumptions=(*found.assumptions, "up to full" if to_full else "up to 90 % of the tank"))
    s.people()
    uses = s.number("flushes") if s.has("flushes") else 1.0
    return waste.overfull_check(
        quantity(level * capacity, "gal"), quantity(capacity, "gal"), s.number("people"), s.amount("flush_gal"), uses
    )


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
        return deadline(s, straight(s, "waste"), "dump deadline", "Dump")
    assert level is not None
    if s.has("waste_percent") and s.number("waste_percent"):
        return against_needed(s, deadline(s, at_percent(s, "waste", 100 * (limit - level)), "dump deadline", "Dump"))
    capacity = quantity(s.capacity("waste"), "gal")
    if not s.has("waste_use") and not s.has("waste_rate") and not s.said("people"):
        read = from_readings(s, "waste", limit)
        if read is not None:
            return deadline(s, read, "dump deadline", "Dump")
    aboard, each, other, spread = use_of(s, "waste")
    found = waste.dump_deadline(
        level,
        capacity,
        aboard,
        each,
        s.now,
        other=other,
        limit=limit,
        level_error=tank_error(s, "waste"),
        use_spread=spread,
    )
    return against_needed(s, found)
