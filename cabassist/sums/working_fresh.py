"""Questions about fresh water: how long it lasts, by when to fill, and whether fresh or waste comes first."""

from __future__ import annotations

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_levels import (
    needed_hours,
    people_said,
    tank_levels,
)
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_verdict
from cabassist.sums.working_use import (
    HABIT,
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
    water_needed,
)


def fresh_hours_said(s: Sheet) -> None:
    """Inputs of "how long will the fresh last" and its relatives."""
    q = s.q
    people_said(s)
    galley_said(s)
    if two_said(s):
        return
    needed_hours(s)
    used = uses_said(s, "fresh")
    reserve = q.one(
        r"\b(?:till|until|before)\b[^<]{0,25}\b(?:at|to|down to) ({water})",
        r"\b(?:keep|keeping|leave|leaving|hold back|save) ({water})",
    )
    if reserve is not None and (len(q.of("water")) > 1 or s.latest("fresh") is not None or q.of("n")):
        s.say("reserve", reserve)
        used.append(reserve)
    whole = q.one(r"\bout of ({n}|{water})")
    if whole is not None:
        s.say("fresh_gal", whole, "gal")
        used.append(whole)
    shower = q.one(
        r"\bshowers? (?:are|is|take|takes|use|uses|of|at) (?:about )?({vol}|{gal/each})",
        r"({vol}) showers?",
        r"({vol}) (?:a|per|each|for a|for each|in a) shower",
        r"\bshowers? (?:use|uses|takes?|at|of|is) (?:about )?({vol})",
    )
    count = q.one(r"({shower})")
    if shower is not None:
        s.note("shower_gal", shower.value, shower.unit)
        s.inputs.pop("fresh_use", None)
        used.append(shower)
    if count is not None:
        s.note("showers", count.value)
    if q.has(r"\bshowers?\b"):
        s.note("ask", "showers")
        minutes = q.one(r"({min}) shower")
        flow = q.one(r"({flow})")
        if minutes and flow:
            s.note(
                "shower_gal",
                minutes.value * converted(flow.value, "gpm" if flow.unit == "gal" else flow.tag, "gpm"),
                "gal",
            )
    elif q.has(
        r"\bhow (?:much|many gallons(?: of)?)(?: fresh| clean| drinking)?(?: water)? .*\b(?:need|use|take|go through|get through|carry|want)\b"
    ):
        s.note("ask", "needed")
        days = q.one(r"({day}|{night}|{h})")
        if days is not None:
            s.note("needed", converted(days.value, days.unit, "h"), "h")
    elif (
        q.of("people")
        and (q.of("use") or q.of("rate"))
        and q.of("day")
        and q.has(r"\bhow (?:much|many gallons)\b")
        and not q.of("part")
    ):
        s.note("ask", "needed")
        s.note("needed", converted(q.of("day")[0].value, "day", "h"), "h")
    elif q.has(r"\bhow fast\b|\bgallons (?:a|per) (?:hour|day)\b.*\bare we\b"):
        s.note("ask", "rate")
    tank_levels(s, ("fresh",), used)


def fresh_hours(s: Sheet) -> Estimate:
    """How long the fresh water lasts, what is needed, or how many showers are in it."""
    from cabassist.estimate import water

    if s.has("first", "last", "apart"):
        return against_needed(s, straight(s, "fresh"))
    if s.text("ask") == "rate":
        return rate_of_use(s, "fresh")
    if s.text("ask") == "needed":
        return water_needed(s, "fresh")
    if s.text("ask") == "showers":
        return _showers(s)
    level = s.level("fresh")
    if level is None:
        raise Missing("fresh", "How much is in the fresh tank?", "percent")
    if s.has("fresh_percent") and s.number("fresh_percent"):
        return against_needed(s, at_percent(s, "fresh", 100 * level))
    if not s.has("fresh_use") and not s.has("fresh_rate") and not s.said("people"):
        read = from_readings(s, "fresh", 0.0)
        if read is not None:
            return read
        rate_wanted(s)
    gallons = level * s.capacity("fresh")
    aboard, each, other, spread = use_of(s, "fresh")
    if s.has("fresh_gal"):
        s.assumed[:] = [line for line in s.assumed if not line.startswith("fresh tank")]
    error = tank_error(s, "fresh")
    found = water.hours_left(
        s.amount("fresh_gal") if s.said("fresh_gal") else quantity(gallons, "gal"),
        aboard,
        each,
        other=other,
        fresh_spread=min(0.5, error / level) if level > error else 0.0,
        use_spread=spread,
        reserve=s.amount("reserve") if s.has("reserve") else None,
    )
    return against_needed(s, found)


def _showers(s: Sheet) -> Estimate:
    from cabassist.estimate import water

    if not s.has("shower_gal"):
        raise Missing("shower_gal", "How many gallons does one shower take?", "gal")
    level = s.level("fresh")
    if level is None:
        raise Missing("fresh", "How much is in the fresh tank?", "percent")
    gallons = max(0.0, level * s.capacity("fresh") - (s.number("reserve", "gal") if s.has("reserve") else 0.0))
    found = water.uses_left(quantity(gallons, "gal"), s.amount("shower_gal"), "showers")
    wanted = s.number("showers") if s.has("showers") else s.number("people") if s.said("people") else 0.0
    if wanted:
        enough = (found.value or 0) >= wanted
        found = with_verdict(
            found, f"{'Yes' if enough else 'No'}: enough for {shown(found.value or 0)}, {shown(wanted)} wanted."
        )
    return found


def which_first_said(s: Sheet) -> None:
    """Inputs of "which comes first"."""
    people_said(s)
    pair = s.q.find(
        r"({water}) (?:in|used) and ({water}|{use}|{rate}) (?:out|in the waste|to the waste)\b.*\b(?:each|per day|a day)"
    )
    if len(pair) == 2:
        s.note("fresh_use", pair[0].value, "gal/day")
        s.note("waste_use", pair[1].value, "gal/day")
    used = [*pair, *(uses_said(s, "both") if len(pair) != 2 else ())]
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
    if not any(s.has(name) for name in ("people", "fresh_use", "waste_use")):
        raise Missing("people", "How many are aboard?", "people")  # which comes first hangs on what is used
    s.people()
    for tank in ("fresh", "waste"):
        s.assume(
            f"{tank}_use",
            HABIT[tank],
            "gal/day",
            f"{tank}: {HABIT[tank]:g} gal a person a day (common practice, no source; say your own)",
        )
    gallons = fresh * s.capacity("fresh")
    found = waste.comes_first(
        quantity(gallons, "gal"),
        level,
        quantity(s.capacity("waste"), "gal"),
        s.number("people"),
        s.amount("fresh_use"),
        s.amount("waste_use"),
    )
    if s.has("fresh_gal"):
        s.assumed[:] = [line for line in s.assumed if not line.startswith("fresh tank")]
    return found


def fill_by_said(s: Sheet) -> None:
    """Inputs of "when must we fill"."""
    people_said(s)
    galley_said(s)
    if two_said(s):
        return
    needed_hours(s)
    tank_levels(s, ("fresh",), uses_said(s, "fresh"))


def fill_by(s: Sheet) -> Estimate:
    """By what clock time to fill fresh water."""
    needed = s.inputs.pop("needed", None)
    found = deadline(s, fresh_hours(s), "fill by", "Fill fresh")
    if needed is not None:
        s.inputs["needed"] = needed
        found = against_needed(s, found)
    return found
