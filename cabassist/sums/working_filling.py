"""Questions about filling the fresh tank: how long it takes, what has gone in, when to go and look."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import asked_unit
from cabassist.language.calculation_units import converted
from cabassist.sums.working_levels import (
    is_capacity,
    tank_levels,
)
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_verdict
from cabassist.sums.working_use import worked_out
from cabassist.sums.working_waste import waste_hours, waste_hours_said


def fill_time_said(s: Sheet) -> None:
    """Inputs of "how long does it take to fill"."""
    q = s.q
    used: list[Amount] = []
    bucket = q.find(
        r"\b(?:bucket|pail|jug)\b[^<]{0,12}({water})[^<]{0,25}({s}|{min})",
        r"({h}) to (?:fill|get|put|run) (?:in )?({water})(?! (?:at|with))",
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
        s.note(
            "flow",
            (b.value - a.value) / scale * s.tank("fresh").capacity_gal / converted(time.value, time.unit, "min"),
            "gpm",
        )
        s.note("fresh_share", b.value / (scale if b.unit != "part" else 1), "part")
        used += share_rise
    if not s.has("diameter"):
        hose = q.one(r"({in}) (?:\w+ ){0,2}?hose")
        if hose is not None:
            s.note("diameter", hose.value, "in")
            used.append(hose)
            s.say("hose_length", q.one(r"({ft}|{m}) (?:\w+ )?hose|hose.*({ft}|{m})"))
            s.say("tap_psi", q.one(r"({psi})"))
    bare = q.of("n")
    if s.follows and flow is None and len(bare) == len(q.amounts) == 1 and 0 < bare[0].value <= 30 and s.has("flow"):
        s.say("flow", bare[0], "gpm")
        used += bare
    _fill_elapsed(s, used)
    _fill_amounts(s, used)


def _fill_elapsed(s: Sheet, used: list[Amount]) -> None:
    """How long it may take, has run, or when it began."""
    q = s.q
    limit = q.one(r"\b(?:in|within|is|enough) ({min}|{h})\b(?: enough)?", r"({min}|{h}) (?:\w+ )?enough")
    ran = q.one(
        r"\b(?:been filling|filling for|run(?:ning)?(?: for)?|been on|ran|on for|after|hose on for|for) (?:about )?({min}|{h})",
        r"({min}|{h}) ago",
    )
    if ran is not None and ran not in used and q.has(r"\bhow (?:much|full|many gallons)\b|\blonger\b|\bago\b|\bbeen\b"):
        s.note("ran", converted(ran.value, ran.unit, "min"), "min")
        used.append(ran)
    elif limit is not None and limit not in used and q.has(r"\bhow full\b|\bhow (?:much water|many gallons)\b"):
        s.note("ran", converted(limit.value, limit.unit, "min"), "min")
        used.append(limit)
    elif limit is not None and limit not in used and q.has(r"\b(?:can|is|will|do|could|enough)\b"):
        s.note("limit_min", converted(limit.value, limit.unit, "min"), "min")
        used.append(limit)
    elif (
        "ran" not in s.fresh
        and q.has(r"\bhow (?:many gallons|much water)\b")
        and (span := q.one(r"({min})")) is not None
        and span not in used
    ):
        s.note("ran", span.value, "min")
        used.append(span)
    began = q.one(r"\b(?:started|turned|opened|at|since|from|on)(?: (?:at|on|it|the \w+)){0,3} ({clock})")
    if began is not None and q.has(r"\bstart|\bsince\b|\bwhen\b|\bwhat time\b|\bturned\b|\bopened\b"):
        s.note("began", began.value, "clock" if not began.pieces else "clock?")
    if q.has(r"\bhow (?:much water|many gallons|much goes|much will|full)\b") and s.has("ran"):
        s.note("ask", "filled")
    elif asked_unit(q) == "gpm" or q.has(
        r"\b(?:what|how much) (?:flow|gallons a minute|gpm)\b|\bwhat the flow\b|\bhow many gallons (?:a|per) minute\b"
    ):
        s.note("ask", "flow")
    elif "ask" in s.inputs:
        s.drop("ask")


def _fill_amounts(s: Sheet, used: list[Amount]) -> None:
    q = s.q
    between = q.find(r"\bfrom ({water}|{n}) (?:up )?to (?:a )?({water}|{n})(?! (?:minutes|percent))")
    if len(between) == 2 and {a.unit for a in between} & {"gal", "L"}:
        unit = next(a.unit for a in between if a.unit in ("gal", "L"))
        s.drop("fresh_share", "fresh_gal")
        s.note("fill_gal", converted(between[1].value - between[0].value, unit, "gal"), "gal")
        s.inputs.pop("fill", None)
        return
    target = q.one(r"\b(?:up )?to ({part})\b", r"\b(?:up )?to ({part}) full")
    start = q.one(
        r"\bfrom (?:about )?({part}|{water})",
        r"\b(?:started|start|starting) (?:at|from|with) (?:about )?({part}|{water})",
    )
    if target is not None and target not in used and q.has(r"\bto <(?:part|percent)>"):
        s.note("target", target.value / (100 if target.unit == "percent" else 1))
        used.append(target)
    already = q.one(
        r"\b(?:has|have|with|there is|got|holding|it at|tank at) (?:about )?({water}) (?:\w+ )?(?:in|already|now)\b",
        r"({water}) (?:already )?in (?:it|the tank|there)\b",
        r"\b(?:has|got) ({water})\b",
    )
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
    wanted = q.one(
        r"\b(?:needs?|takes?|wants?|holds?|for the other|the other|another|put in|for) ({n})(?= |$)(?! (?:minutes|more))"
    )
    if not volumes and wanted is not None and wanted not in used and wanted.value > 1 and s.has("flow"):
        volumes = [wanted._replace(unit="gal")]
        used.append(wanted)
    if q.has(r"\b(?:drain|drains|draining|emptying|empties)\b") and volumes and not holds:
        start, already = None, None  # what is in it runs out
        s.note("ask", "drained")
    if start is None and already is None and volumes:
        s.drop("fresh_share", "fresh_gal", "fresh_capacity")
        s.note("fill_gal", sum(converted(a.value, a.unit, "gal") for a in volumes[:1]), "gal")
        s.inputs["fill"] = worked_out("fill", volumes[0].value, volumes[0].unit)
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
        return _filled(s, s.level("fresh") or 0.0, flow)
    if s.has("fill_gal"):
        water_in = s.amount("fill") if s.has("fill") else s.amount("fill_gal")
        found = water.fill_time(water_in, flow, started=_started(s))
        if s.text("ask") == "drained":
            found = replace(found, verdict="")
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
        found = water.fill_plan(level, quantity(s.capacity("fresh"), "gal"), flow, target=target, started=_started(s))
    if s.has("limit_min") and found.value is not None:
        word = "Yes" if found.value <= s.number("limit_min") else "No"
        found = with_verdict(
            found, f"{word}: {roughly(found.value / 60)} needed, {roughly(s.number('limit_min') / 60)} there."
        )
    return replace(found, working=(*extra, *found.working))


def _bucket_line(s: Sheet) -> tuple[str, ...]:
    if s.has("bucket", "bucket_time"):
        return (
            f"{shown(s.number('bucket'))} {s.inputs['bucket'].unit} in {shown(s.number('bucket_time'))} {s.inputs['bucket_time'].unit} = {shown(s.number('flow'))} gal a minute",
        )
    if s.has("risen"):
        return (f"{shown(s.number('risen'))} gal came in so far: {shown(s.number('flow'))} gal a minute",)
    return ()


def _without_flow(s: Sheet) -> Estimate:
    from cabassist.estimate import hose

    if s.has("diameter", "tap_psi"):
        s.profile("hose_length", s.coach.fresh_hose.length_ft, "ft", f"hose {shown(s.coach.fresh_hose.length_ft)} ft")
        flow = hose.hose_flow(s.amount("tap_psi"), s.amount("hose_length"), s.amount("diameter"))
        if flow.value is not None:
            s.inputs["flow"] = worked_out("flow", flow.value, "gpm")
            s.assumed += [*flow.working, *flow.assumptions]
            return fill_time(s)
    raise Missing(
        "flow", "How many gallons a minute does the hose give? Or say how long a five gallon bucket takes.", "gpm"
    )


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
    return exact(
        "look after",
        LOOK_SHARE * early,
        "h",
        working=(*lasts.working, line),
        assumptions=(*lasts.assumptions, "four fifths of the early end (common practice, no source)"),
        source=lasts.source,
        verdict=verdict,
        also=also,
    )


def _started(s: Sheet) -> datetime:
    """When the hose was turned on, as told; now when it was not."""
    if not s.has("began"):
        return s.now
    began, now = s.inputs["began"], s.now.hour + s.now.minute / 60
    hour = float(began.value)
    if began.unit == "clock?" and hour < 12:  # the half of the day nearer to now
        hour = min((hour, hour + 12), key=lambda one: min(abs(one - now), 24 - abs(one - now)))
    return s.now.replace(hour=int(hour) % 24, minute=round(hour % 1 * 60) % 60, second=0, microsecond=0)


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
        from cabassist.sums.working_propane import propane_days

        s.note("unit", "h")
        return _look_at(propane_days(s), "propane gauges")
    found = fill_time(s)
    look = next((f for f in found.also if f.name == "look after"), None)
    if look is None:
        return found
    if s.has("limit_min"):
        word = "Yes" if s.number("limit_min") <= look.value else "No"
        found = with_verdict(
            replace(found, verdict=found.verdict.removeprefix("Yes: ").removeprefix("No: ")), f"{word}."
        )
    others = tuple(f for f in found.also if f is not look)
    if s.has("began") and found.value is not None:
        full = _started(s) + timedelta(minutes=found.value)
        found = with_verdict(found, f"Full at {full:%H:%M}.")
    return replace(
        found,
        name="look after",
        value=look.value,
        low=look.value,
        high=look.value,
        also=(figure("fill time", found.value or 0.0, "min", found.low, found.high), *others),
    )
