"""Questions about the cabin: how it cools without heat, how much heat it needs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_cooling import cooling, cooling_said
from cabassist.sums.working_freezing import OUTSIDE, temperatures
from cabassist.sums.working_levels import hours_until_clock, needed_hours
from cabassist.sums.working_sheet import Sheet, quantity, with_also, with_verdict
from cabassist.units import registry


def cabin_said(s: Sheet) -> None:
    """Inputs of "how long until the cabin is cold"."""
    if cooling_said(s):
        return
    q = s.q
    pair = q.find(
        r"\bfrom ({temp}|{n}) (?:inside |degrees )?(?:down )?to ({temp}|{n})",
        r"\bfrom ({temp}|{n}) (?:down )?to freezing",
    )
    if pair:
        s.say("start", pair[0], q.scale)
        if len(pair) > 1:
            s.say("target", pair[1], q.scale)
    if q.has(r"\b(?:to|hits?|at|down to|before|reach\w*) freezing\b"):
        s.note("target", 32.0 if q.scale == "F" else 0.0, q.scale)
    start = q.one(
        r"({temp}|{n}) (?:inside|in here|in the cabin|indoors|aboard)\b",
        r"\b(?:inside|cabin|in here) (?:is |at |it |was |now |starts? at )*({temp}|{n})(?! hours)",
    )
    target = q.one(
        r"\b(?:to|hits?|hit|reach\w*|below|under|above|before it|until it|till it|down to|gets? (?:down )?to|drops? to) ({temp}|{n})(?: degrees)? (?:inside|in here|in the cabin|indoors|if|with)",
        r"\b(?:drops? (?:below|under|to)|falls? (?:below|under|to)|hits?|reach\w*|down to|gets? (?:down )?to|above|below|under|before it|until it|till it|how long to) ({temp}|{n})(?! (?:out|outside|mile))",
    )
    spent = [a for a in (*pair, start, target) if a is not None]
    if target is not None and target not in pair:
        s.say("target", target, q.scale)
        if start == target:
            start = None
    if start is not None and start not in pair and start != target:
        s.say("start", start, q.scale)
    out = next((a for a in (q.one(p) for p in OUTSIDE) if a is not None and a not in spent), None)
    rest = [t for t in q.of("temp") if t not in spent and t != out]
    if out is None:
        bare = q.one(r"\bat ({n})(?: outside| out)?(?! (?:percent|am|pm|o'clock))")
        out = rest.pop(0) if rest else bare if bare is not None and bare not in spent else None
    if out is None and start is not None and start.value <= (0 if q.scale == "C" else 32) and "start" in s.fresh:
        out = start
        s.inputs.pop("start")
    s.say("outside", out, q.scale)
    if rest and not s.has("start"):
        s.say("start", rest[0], q.scale)
    hours = q.one(r"\b(?:after|in|for|go) ({h}|{min})", r"({h}) (?:unheated|without|later)")
    if hours is not None:
        s.note("needed", converted(hours.value, hours.unit, "h"), "h")
    elif q.has(r"\b(?:overnight|by morning|all night|till morning)\b"):
        needed_hours(s)
    else:
        off = q.find(r"\boff at ({clock}|{n}).*\bby ({clock}|{n})")
        if len(off) == 2:
            from cabassist.sums.working_levels import clock_hours

            s.note("needed", clock_hours(off[0], off[1]), "h")
        else:
            by = q.one(r"\bby ({clock})")
            if by is not None:
                s.note("needed", hours_until_clock(s, by), "h")
    if q.has(r"\bdegrees an hour\b|\bhow fast\b"):
        s.note("ask", "rate")
    furnaces = q.one(r"({furnace})")
    if furnaces is not None and q.has(r"<furnace> (?:still|on|going|left|running)"):
        s.note("heated_by", furnaces.value)


def _cabin(s: Sheet) -> tuple[Any, Any, Any]:
    cabin = s.coach.cabin
    ureg = registry()
    s.assumed.append(
        f"cabin loses {shown(cabin.ua_btu_per_h_f)} BTU/h per °F and {shown(cabin.infiltration_cfm)} cfm, holds {shown(cabin.heat_capacity_btu_per_f)} BTU per °F (profile)"
    )
    return (
        ureg.Quantity(cabin.ua_btu_per_h_f, "Btu/hour/delta_degF"),
        ureg.Quantity(cabin.heat_capacity_btu_per_f, "Btu/delta_degF"),
        quantity(cabin.infiltration_cfm, "cfm"),
    )


def _inside(s: Sheet, name: str) -> None:
    if not s.has(name) and not s.from_reading(name, "inside_temp", "inside temperature", "F"):
        s.profile(name, s.coach.cabin.setpoint_f, "F", f"{shown(s.coach.cabin.setpoint_f)} °F inside")


def _all_temperatures(s: Sheet) -> None:
    """Refuse a question with a temperature more than it has roles: two readings tell a cooling of their own.

    Raises:
        ValueError: one has no place.
    """
    held = [float(one.value) for one in s.inputs.values() if not isinstance(one.value, str)]
    left = [a for a in (*s.q.of("temp"), *s.q.of("n")) if not any(abs(a.value - value) < 1e-6 for value in held)]
    if len(left) > 0 and len(s.q.of("temp")) + len(s.q.of("n")) > 3:
        raise ValueError(
            "I can't place every temperature. Say what it was, what it is now, outside, and how long between."
        )


_FALLS_BY = r"<(?:temp|F|C|n)(?:/h)?> (?:degrees )?(?:(?:an|per|a|every|each) hour|hourly)\b|<(?:temp|F|C|n)/h>"
"""What it loses an hour is told: the coach's own figures answer something else."""


def cabin_cool_down(s: Sheet) -> Estimate:
    """How the cabin cools without heat."""
    from cabassist.estimate import cabin

    told = cooling(s)
    if told is not None:
        return told
    _all_temperatures(s)
    if s.q.has(_FALLS_BY):
        raise ValueError("I can't place what it falls by. Say what it is inside, and the degrees it loses an hour.")
    s.outside()
    _inside(s, "start")
    ua, held, leak = _cabin(s)
    start, out = s.amount("start"), s.amount("outside")
    if s.has("target") and s.has("needed"):
        after = cabin.cabin_temperature_after(start, out, ua, held, s.amount("needed"), infiltration=leak)
        target = s.number("target", after.unit)
        if after.value is None:
            return after
        word = "Yes" if (after.low or after.value) >= target else "No" if after.value < target else "Barely"
        return with_verdict(after, f"{word}: {shown(target, 3)} °{after.unit} is asked.")
    if s.has("needed"):
        return cabin.cabin_temperature_after(start, out, ua, held, s.amount("needed"), infiltration=leak)
    if s.text("ask") == "rate":
        after = cabin.cabin_temperature_after(start, out, ua, held, quantity(1, "h"), infiltration=leak)
        drop = s.number("start", after.unit) - (after.value or 0.0)
        line = f"{shown(s.number('start', after.unit))} - {shown(after.value or 0.0, 3)} = {shown(drop, 3)} degrees in the first hour"
        return Estimate(
            "first hour's drop",
            drop,
            f"{after.unit}/h",
            drop * 0.8,
            drop * 1.25,
            (*after.working, line),
            after.assumptions,
            after.source,
            f"About {shown(drop, 2)} degrees in the first hour, slower after that.",
        )
    if not s.has("target"):
        s.assume("target", 50.0, "F", "down to 50 °F: say another temperature")
    return cabin.hours_until_cabin_at(s.amount("target"), start, out, ua, held, infiltration=leak)


def heat_loss_said(s: Sheet) -> None:
    """Inputs of "how much heat do we need"."""
    q = s.q
    temperatures(
        s,
        "inside",
        "outside",
        (
            r"({temp}|{n}) (?:inside|in here|in the cabin|indoors|in)\b(?! the (?:tank|bottle|mix))",
            r"\b(?:inside|cabin|thermostat|indoors) (?:is |at |to |of |it |temp\w* )*({temp}|{n})",
            r"\b(?:hold|holds|holding|keeping|keep it at|keep us at|keep it|keep) (?:it |us |the cabin )?(?:at )?({temp}|{n})",
            r"\b(?:for|at) ({temp}|{n}) inside",
        ),
    )
    each = q.one(
        r"({perdeg})",
        r"\b(?:ua|loss) (?:of |is )?({n})",
        r"({BTU|BTU/h}) (?:per|a|for each|for every|each|every) degree",
    )
    if each is not None:
        metric = each.per == "degC" or (each.per != "degF" and q.scale == "C")
        s.note("ua", each.value * (3.412142 if each.unit == "W" else 1) * (1 / 1.8 if metric else 1), "BTU/h/F")
        leak = q.one(r"({cfm})")
        s.note("cfm", leak.value if leak is not None else 0.0, "cfm")
    count = q.one(r"({furnace})")
    if count is not None:
        s.note("furnaces", count.value)
    elif q.has(r"\bboth furnaces\b|\bboth\b|\bthe furnaces\b"):
        s.note("furnaces", float(len(s.coach.furnaces) or 2))
    steady = q.one(
        r"\b(?:los(?:e|es|ing)|loss (?:of|is)|need|needs|needing) (?:about )?({BTU|BTU/h|kW})",
        r"({BTU|BTU/h|kW}) (?:of )?(?:heat )?(?:loss|lost)",
    )
    if steady is not None and steady != each:
        s.note(
            "loss_btu",
            converted(steady.value, "BTU/h" if steady.unit.startswith("BTU") else steady.unit, "BTU/h"),
            "BTU/h",
        )
    given = next((a for a in q.of("BTU|BTU/h|kW") if a not in (steady, each)), None)
    if given is not None:
        s.note(
            "input", converted(given.value, "BTU/h" if given.unit.startswith("BTU") else given.unit, "BTU/h"), "BTU/h"
        )
    efficiency = q.one(r"({percent}) (?:efficien\w*)", r"\befficien\w* (?:of |is |at )?({percent}|{n})")
    if efficiency is not None:
        s.note("efficiency", efficiency.value / (100 if efficiency.unit == "percent" or efficiency.value > 1 else 1))
    if q.has(r"\bduty\b|\bpercent of the time\b|\bhow hard\b|\bhow much of the time\b|\bhow often\b"):
        s.note("ask", "duty")
    elif q.has(r"\b(?:how cold can|what outside|lowest outside|before the furnaces)\b"):
        s.note("ask", "coldest")
    elif q.has(r"\bwhat inside\b"):
        s.note("ask", "inside")
    elif q.has(r"\b(?:keep up|keep it|hold|holds|enough)\b"):
        s.note("ask", "enough")
    elif q.has(r"\bsave\b"):
        s.note("ask", "save")
    elif not s.follows:
        s.drop("ask")


def _delivered(s: Sheet) -> tuple[float, float]:
    """BTU/h of input that can burn, and the share of it that warms the cabin."""
    efficiency = (
        s.number("efficiency")
        if s.has("efficiency")
        else sum(f.efficiency for f in s.coach.furnaces) / max(1, len(s.coach.furnaces)) or 0.8
    )
    if s.has("input"):
        each = s.number("input") * (
            s.number("furnaces") if s.has("furnaces") and s.number("furnaces") > 1 and s.said("furnaces") else 1
        )
        return each, efficiency
    plates = [f.input_btu_per_h for f in s.coach.furnaces]
    count = min(len(plates), max(1, round(s.number("furnaces")))) if s.has("furnaces") else len(plates)
    s.assumed.append(
        f"{count} furnace{'s' if count != 1 else ''}, {shown(sum(plates[:count]))} BTU/h of input, {shown(100 * efficiency)} % of it heat (profile)"
    )
    return sum(plates[:count]), efficiency


def heat_loss(s: Sheet) -> Estimate:
    """Heat the cabin loses, and whether the furnaces cover it."""
    from cabassist.estimate import cabin

    ureg = registry()
    if s.has("ua"):
        ua, leak = (
            ureg.Quantity(s.number("ua"), "Btu/hour/delta_degF"),
            quantity(s.number("cfm") if s.has("cfm") else 0.0, "cfm"),
        )
        total = s.number("ua") + 1.08 * float(leak.magnitude)
    else:
        ua, _, leak = _cabin(s)
        total = s.coach.cabin.ua_btu_per_h_f + 1.08 * s.coach.cabin.infiltration_cfm
    ask = s.text("ask")
    if s.has("loss_btu"):
        return _duty(s, s.number("loss_btu"), (), (), cabin.LOSS_SOURCE)
    if ask in ("coldest", "inside"):
        return _balance(s, ask, total)
    if not s.has("outside") and ask == "save" and s.has("inside"):
        saved = (s.coach.cabin.setpoint_f - s.number("inside", "F")) * total
        return exact(
            "heat saved",
            saved,
            "BTU/h",
            working=(
                f"{shown(s.coach.cabin.setpoint_f - s.number('inside', 'F'))} °F x {shown(total)} BTU/h per °F = {shown(saved)} BTU/h",
            ),
            source=cabin.LOSS_SOURCE,
            verdict="The same at any outside temperature.",
        )
    s.outside()
    _inside(s, "inside")
    found = cabin.heat_loss(ua, s.amount("inside"), s.amount("outside"), infiltration=leak)
    if found.value is None or ask not in ("duty", "enough"):
        return found
    loss = found.value if found.unit == "BTU/h" else found.value * 3.412142
    if ask == "duty":
        return _duty(s, loss, found.working, found.assumptions, found.source)
    plates, efficiency = _delivered(s)
    share = loss / (plates * efficiency)
    line = f"{shown(loss)} ÷ ({shown(plates)} x {shown(efficiency)}) = {shown(100 * share, 3)} % of the time"
    word = "Yes, but with little in hand" if 0.85 < share <= 1 else "Yes" if share <= 1 else "No"
    verdict = f"{word}: {shown(loss, 3)} BTU an hour lost, {shown(plates * efficiency, 3)} delivered."
    return with_also(
        with_verdict(replace(found, working=(*found.working, line)), verdict),
        figure("heat delivered", plates * efficiency, "BTU/h"),
        figure("share of the time", 100 * share, "percent"),
    )


def _duty(s: Sheet, loss: float, working: tuple[str, ...], assumptions: tuple[str, ...], source: str) -> Estimate:
    """Share of the time the furnaces burn."""
    from cabassist.estimate import furnaces

    plates, efficiency = _delivered(s)
    duty = furnaces.furnace_duty(quantity(loss, "BTU/h"), [quantity(plates, "BTU/h")], efficiency)
    value = None if duty.value is None else duty.value * 100
    lines, taken = (*working, *duty.working), (*assumptions, *duty.assumptions)
    return Estimate(
        duty.name,
        value,
        "percent",
        value,
        value,
        lines,
        taken,
        source,
        duty.verdict,
        (figure("heat loss", loss, "BTU/h"),),
    )


def _balance(s: Sheet, ask: str, total: float) -> Estimate:
    """The outside or inside temperature at which loss and furnaces balance."""
    from cabassist.estimate import cabin

    plates, efficiency = _delivered(s)
    rise = plates * efficiency / total
    line = (
        f"{shown(plates)} x {shown(efficiency)} ÷ {shown(total)} BTU/h per °F = {shown(rise, 3)} °F warmer than outside"
    )
    if ask == "coldest":
        _inside(s, "inside")
        value = s.number("inside", "F") - rise
        return Estimate(
            "coldest the furnaces hold",
            value,
            "F",
            value - rise * 0.2,
            value + rise * 0.2,
            (line, f"{shown(s.number('inside', 'F'))} - {shown(rise, 3)} = {shown(value, 3)} °F"),
            ("loss right within 20 % (common practice, no source)",),
            cabin.LOSS_SOURCE,
            f"They fall behind below about {shown(value, 2)} °F.",
        )
    s.outside()
    value = s.number("outside", "F") + rise
    return Estimate(
        "inside they can hold",
        value,
        "F",
        value - rise * 0.2,
        value + rise * 0.2,
        (line, f"{shown(s.number('outside', 'F'))} + {shown(rise, 3)} = {shown(value, 3)} °F"),
        ("loss right within 20 % (common practice, no source)", "flat out all the time"),
        cabin.LOSS_SOURCE,
        f"About {shown(value, 2)} °F inside, flat out.",
    )
