"""Questions about propane burned: how long it lasts, how many hours of burning, what a time takes."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from cabassist.estimate.quantities import figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.sums.working_levels import needed_hours
from cabassist.sums.working_sheet import READING_ERROR, Input, Missing, Sheet, quantity, with_also, with_verdict

ROLE_WORDS = {
    "outside": r"outside|outer|curb ?side|main",
    "inside": r"inside|inner|street ?side|second|reserve",
    "spare": r"spare",
}


SIZES = (20.0, 30.0, 40.0, 60.0, 100.0)


def burners_said(s: Sheet) -> list[Amount]:
    """Note furnaces, their input and how much of the time they burn."""
    q = s.q
    used: list[Amount] = []
    duty = q.one(
        r"({percent}|{part}) (?:of the time|duty|duty cycle|on time|on)\b",
        r"\b(?:duty|cycle|on|running|runs?|burn\w*) (?:cycle )?(?:of |is |at |about |a )?({percent}|{part})(?! full)",
        r"\b(?:on|running|runs|burning) ({part}|{percent})",
        r"({n}) minutes (?:in|of|out of) (?:every|each|the) hour",
    )
    if (
        duty is not None
        and duty.value > 0
        and not q.has(r"\bcylinder is at <percent> and")
        and (q.has(r"\b(?:time|duty|cycl\w*|on)\b") or q.of("btu"))
    ):
        s.note("duty", duty.value / (100 if duty.unit == "percent" else 60 if duty.unit == "n" else 1))
        used.append(duty)
    elif q.has(
        r"\b(?:flat out|non ?stop|constant\w*|all the time|the whole time|never (?:shut|shuts|cycle|cycles|turn|turns|switch|go|goes|kick|kicks)(?: off)?|do not shut off|without a break|continuous\w*|full time|wide open|steady)\b"
    ):
        s.note("duty", 1.0)
    minutes = q.one(r"({min}) (?:in|of|out of|an|per|every) (?:every |each |the |an )?hour")
    if minutes is not None:
        s.note("duty", minutes.value / 60)
    input_each = q.one(r"({btu})")
    if input_each is None:
        bare = q.one(
            r"\bfurnaces? (?:is |are |burns? |of |at |takes )*({n})(?= |$)",
            r"\b(?:at|burning|using) ({n}|{n/h})\b(?! degrees)",
        )
        input_each = bare._replace(unit="BTU/h", per="") if bare is not None and bare.value >= 5000 else None
    count = q.one(r"({furnace})", r"({n}) (?:of them|{btu})", r"({n}) {btu}")
    if count is not None and count.value >= 5000 and input_each is None:
        input_each, count = count._replace(unit="BTU/h"), None
        if q.has(r"\b(?:both|two)\b"):
            s.note("input", input_each.value, "BTU/h")
            s.note("furnaces", 2.0)
            return [*used, input_each]
    if input_each is not None:
        average = q.has(
            r"\baverage|\bin all\b|\btogether\b|\btotal\b|\bper hour\b(?!.*furnace)|\bloses?\b|\bneed(?:s|ing)?\b"
        )
        s.note(
            "input",
            converted(input_each.value, input_each.unit, "BTU/h") if input_each.unit == "kW" else input_each.value,
            "BTU/h",
        )
        s.note("furnaces", 1.0 if average and count is None else (count.value if count is not None else 1.0))
        used += [a for a in (input_each, count) if a is not None]
    elif count is not None and count.unit in ("furnace", "heater"):
        s.note("furnaces", count.value)
        used.append(count)
    elif q.has(r"\bboth furnaces\b|\bboth (?:run|on|running|of them)\b|\btwo furnaces\b"):
        s.note("furnaces", 2.0)
    elif q.has(r"\b(?:a|the|single|just the) (?:front |rear |one )?furnace\b|\bone furnace\b"):
        s.note("furnaces", 1.0)
    return used


def _burn(s: Sheet, *, steady: bool = False) -> Estimate:
    """BTU an hour burned: from what was said, or from the coach's heat loss at the outside temperature."""
    from cabassist.estimate import furnaces

    if s.has("input"):
        inputs = [s.amount("input")] * max(1, round(s.number("furnaces") if s.has("furnaces") else 1))
        if not s.has("duty"):
            s.assume("duty", 1.0, "", "burning all the time")
        return furnaces.burn_from_furnaces(inputs, s.number("duty"))
    if steady or s.has("duty"):
        plates = [f.input_btu_per_h for f in s.coach.furnaces]
        if not plates:
            raise Missing("input", "How many BTU an hour does the furnace burn?", "BTU/h")
        count = (
            round(s.number("furnaces"))
            if s.has("furnaces")
            else (len(plates) if steady and s.q.has(r"\bboth\b") else 1 if steady else len(plates))
        )
        if not s.has("duty"):
            s.assume("duty", 1.0, "", "burning all the time")
        chosen = plates[:count] if count <= len(plates) else [plates[0]] * count
        s.assumed.append(
            f"{count} furnace{'s' if count > 1 else ''}, {' and '.join(shown(p) for p in chosen)} BTU/h (profile)"
        )
        return furnaces.burn_from_furnaces([quantity(p, "BTU/h") for p in chosen], s.number("duty"))
    s.outside("How cold is it outside, or how many pounds do you burn a day?")
    return coach_burn(s)


def coach_burn(s: Sheet) -> Estimate:
    """Propane burned to hold the cabin at the known outside temperature, by the profile's heat loss."""
    from cabassist.estimate.furnaces import burn_from_heat_loss

    return burn_from_heat_loss(outside=s.amount("outside"), **coach_heat(s))


def coach_heat(s: Sheet) -> dict[str, Any]:
    """What the heat loss of the coach takes besides the air outside, by the profile and who is aboard."""
    from cabassist.units import registry

    cabin = s.coach.cabin
    if not s.has("inside"):
        s.profile("inside", cabin.setpoint_f, "F", f"{shown(cabin.setpoint_f)} °F inside")
    s.people()
    return {
        "ua": registry().Quantity(cabin.ua_btu_per_h_f, "Btu/hour/delta_degF"),
        "infiltration": quantity(cabin.infiltration_cfm, "cfm"),
        "inside": s.amount("inside"),
        "aboard": s.number("people"),
        "efficiency": sum(f.efficiency for f in s.coach.furnaces) / len(s.coach.furnaces) if s.coach.furnaces else 0.8,
        "inputs": [quantity(f.input_btu_per_h, "BTU/h") for f in s.coach.furnaces],
    }


def propane_said(s: Sheet, used: list[Amount]) -> None:
    """Note what is in the cylinders: gallons, pounds, shares, how many and how big."""
    q = s.q
    sizes = q.every(r"({lb|kg}) (?:propane |steel |lp |gas )?(?:bottle|cylinder|pounder|tank)s?\b") + [
        a for a in q.of("lb") if a.unit == "lb" and is_pounder(q, a)
    ]
    if sizes and sizes[0].value in SIZES:
        s.say("size", sizes[0])
        used += sizes
    gallons = [a for a in q.of("vol") if a not in used and not a.per]
    pounds = [a for a in q.of("lb") if a not in used and not a.per]
    capacity = q.one(
        r"\b(?:water capacity|wc) (?:of |is |stamp(?:ed)? (?:is )?)*({lb}|{n})", r"({lb}) (?:of )?(?:water capacity|wc)"
    )
    if capacity is not None:
        s.say("water_capacity", capacity, "lb")
        return
    if pounds and pounds[0].value in SIZES and [a for a in q.of("part") if a not in used]:
        s.say("size", pounds[0])
        used.append(pounds[0])
        pounds = pounds[1:]
    weighs = r"\b(?:weighs?|weighed|weighing|scales? says?|scales?|reads|gross) (?:in at |says |reads |is |of |about )*({lb|n})"
    gross = q.has(r"\b(?:weighs?|weighed|scales?|weighing|gross)\b") and (bool(pounds) or q.one(weighs) is not None)
    tare = q.one(
        r"\b(?:tare|empty weight|empty|tw) (?:weight )?(?:is |of |at |stamped |weighs )*({lb|n})",
        r"({lb}) (?:tare|empty)",
    )
    if gross:
        whole = q.one(weighs) or next((a for a in pounds if a != tare), None)
        s.say("gross", whole, "lb")
        s.say("tare", tare, "lb")
        if tare is None and not s.has("tare"):
            s.drop("tare")
        return
    if gallons:
        s.drop("pounds", "shares")
        s.note("gallons", sum(converted(a.value, a.unit, "gal") for a in gallons), "gal")
        return
    if pounds:
        bare = q.every(r"\band ({n}) (?:pounds )?in the other") or q.every(r"\band ({n}) in")
        s.drop("gallons", "shares")
        s.note("pounds", sum(converted(a.value, a.unit, "lb") for a in pounds) + sum(a.value for a in bare), "lb")
        return
    _shares_said(s, used)


def is_pounder(q: Question, amount: Amount) -> bool:
    """Whether a weight names a cylinder: "a forty pounder"."""
    return q.words[amount.end - 1] in ("pounder", "pounders")


def _shares_said(s: Sheet, used: list[Amount]) -> None:
    """ "outside forty percent, inside full", "two cylinders both half", "a bottle and a half"."""
    q = s.q
    parts = [a for a in q.of("part") if a not in used]
    tokens = q.frame.split()
    amounts = iter(q.amounts)
    at = [next(amounts) if word.startswith("<") else None for word in tokens]
    pattern = re.compile("|".join(f"(?P<{role}>{names})" for role, names in ROLE_WORDS.items()))
    roles: dict[str, float] = {}
    for i, word in enumerate(tokens):
        match = pattern.fullmatch(word)
        if not match or (i + 1 < len(tokens) and tokens[i + 1] in ("temperature", "temp", "air")):
            continue
        role = str(match.lastgroup)
        for k in range(i + 1, min(i + 9, len(tokens))):
            near = at[k]
            if pattern.fullmatch(tokens[k]):
                break
            if near is not None and near in parts:
                roles[role] = near.value / (100 if near.unit == "percent" else 1)
                break
            if tokens[k] in ("full", "empty") and tokens[k - 1] not in ("half",):
                roles[role] = 1.0 if tokens[k] == "full" else 0.0
                break
    if roles:
        s.drop("gallons", "pounds", "shares")
        for role, share in roles.items():
            s.note(f"share_{role}", share, "part")
        return
    count = q.one(r"({cylinder})", r"({n}) (?:full |half |<part> )?(?:<lb> |<kg> )(?:propane )?(?:bottles|cylinders)")
    many = (
        count.value
        if count is not None
        else 2.0
        if q.has(
            r"\bboth (?:bottles|cylinders|of them|are|at|half|full|<(?:part|percent)>)|\btwo (?:bottles|cylinders)\b"
        )
        else 1.0
    )
    if parts and q.has(r"\bother (?:one |is |one is |at |bottle |cylinder )*full\b"):
        s.drop("gallons", "pounds")
        s.note("cylinders", 1 + parts[0].value / (100 if parts[0].unit == "percent" else 1))
        return
    bottle_and = q.one(r"\b(?:bottle|cylinder) and ({part})")
    if bottle_and is not None:
        s.note("cylinders", 1 + bottle_and.value)
        return
    first = parts[0] if parts else None
    if first is not None and not first.per:
        s.drop("gallons", "pounds")
        share = first.value / (100 if first.unit == "percent" else 1)
        s.note(
            "cylinders",
            sum(p.value / (100 if p.unit == "percent" else 1) for p in parts)
            if len(parts) > 1 and not q.has(r"\bboth\b")
            else share * many,
        )
    elif (
        s.has("size")
        and "size" in s.fresh
        and count is None
        or q.has(
            r"\b(?:a|one|each|both|<cylinder>|<n>|the|two)? ?(?:full|fresh) (?:one|cylinder|bottle|pounder|<lb>|tank)|\bfull\b|\bpounder\b|<lb> (?:bottle|cylinder)|<cylinder>"
        )
        and (count is not None or q.has(r"\bfull\b|\bpounder|<lb>"))
    ):
        s.note("cylinders", many)


def content(s: Sheet) -> tuple[Any, float, str]:
    """What is left as a quantity, half its range as a share, and its working line."""
    from cabassist.estimate import propane

    size = s.number("size", "lb") if s.has("size") else None
    if s.has("gallons"):
        return s.amount("gallons"), 0.0, ""
    if s.has("pounds"):
        return s.amount("pounds"), 0.0, ""
    if s.has("gross"):
        found = weighed(s)
        return quantity(found.value or 0.0, "lb"), 0.0, found.working[0]
    nominal = size or next((c.nominal_lb for c in s.coach.propane.cylinders if c.role != "spare"), 40.0)
    if s.has("cylinders"):
        pounds = s.number("cylinders") * nominal
        if size is None:
            s.assumed.append(f"{shown(nominal)} lb cylinders (profile)")
        return quantity(pounds, "lb"), 0.0, f"{shown(s.number('cylinders'))} x {shown(nominal)} lb = {shown(pounds)} lb"
    parts: list[Estimate] = []
    names: list[str] = []
    for cylinder in s.coach.propane.cylinders:
        share = share_of(s, cylinder.role)
        if share is None:
            continue
        error = 0.0 if s.said(f"share_{cylinder.role}") else READING_ERROR
        parts.append(propane.content_from_gauge(share, quantity(size or cylinder.nominal_lb, "lb"), gauge_error=error))
        names.append(f"{cylinder.role}: {parts[-1].working[0]}")
    if not parts:
        raise Missing("cylinders", "How much propane is in the cylinders? Say pounds, gallons or percent.", "percent")
    whole = propane.content_of_all(parts) if len(parts) > 1 else parts[0]
    value = whole.value or 0.0
    spread = min(0.9, (value - (whole.low or value)) / value) if value else 0.0
    return quantity(value, "lb"), spread, "; ".join(names)


def share_of(s: Sheet, role: str) -> float | None:
    """Share of a legal fill in one cylinder, as said or as read."""
    from cabassist.language.plausibility import fraction_of_full

    if s.has(f"share_{role}"):
        return s.number(f"share_{role}")
    if role == "spare" and not s.q.has(r"\bspare\b"):
        return None
    if any(s.said(f"share_{other}") for other in ("outside", "inside", "spare")):
        return None
    held = s.latest("propane", role)
    if held is None and role == "outside":
        held = next(
            (
                h
                for h in reversed(s.stored)
                if h.reading.what == "propane" and h.reading.which is None and h.reading.value is not None
            ),
            None,
        )
    share = fraction_of_full(held.reading, s.coach) if held is not None else None
    if held is not None and share is not None:
        s.assumed.append(f"{role} cylinder at {shown(100 * share, 3)} %, {s.age(held)}")
        s.inputs[f"share_{role}"] = Input(f"share_{role}", share, "part", "reading", held.at)
    return share


def weighed(s: Sheet) -> Estimate:
    """What is in a cylinder by the scale and its tare."""
    from cabassist.estimate import propane

    if not s.has("tare"):
        fits = next((c for c in s.coach.propane.cylinders), None)
        if fits is None or s.has("size"):
            raise Missing("tare", "What is the tare, the TW stamp, in pounds?", "lb")
        s.profile("tare", fits.tare_lb, "lb", f"tare {shown(fits.tare_lb)} lb")
    nominal = s.number("size", "lb") if s.has("size") else next((c.nominal_lb for c in s.coach.propane.cylinders), 40.0)
    found = propane.content_from_weight(s.amount("gross"), s.amount("tare"), nominal=quantity(nominal, "lb"))
    if found.value is not None:
        found = with_also(found, figure("percent full", 100 * found.value / nominal, "percent"))
    return found


def propane_days_said(s: Sheet) -> None:
    """Inputs of "how long will the propane last"."""
    q = s.q
    needed_hours(s)
    temp = q.one(r"({temp})") or (
        q.one(r"\b(?:at|to|around|of|drops to) ({n})(?! ?(?:percent|amps|of|in|pound))\b(?= |$)")
        if q.has(r"\b(?:heat|cold|coach|stays|drops)\b")
        else None
    )
    used = burners_said(s)
    held = q.one(
        r"({temp}|{n}) inside\b",
        r"\b(?:inside|thermostat|hold\w* (?:it|us)|keep\w* (?:it|us)) (?:at |is |to )+({temp}|{n})\b",
    )
    if temp is None and held is not None and 40 <= held.value <= 85:
        s.say("inside", held, q.scale)
    if temp is not None and temp not in used and (temp.unit != "n" or abs(temp.value) <= 60):
        inside = q.one(
            r"({temp}|{n}) inside\b", r"\b(?:inside|thermostat|hold\w*|keep\w* it) (?:at |is |to )*({temp}|{n})\b"
        )
        temps = [t for t in (*q.of("temp"), temp) if t != inside]
        s.say("inside", inside, "temp" if inside and inside.unit != "n" else q.scale)
        if temps:
            s.say("outside", temps[-1], q.scale)
    if q.has(r"<(?:gal|lb)/(?:day|h)>|\bburned|\bused|\bdropped|\bwent down|\bsince\b") and _rate_said(s):
        return
    gone = q.every(
        r"\b(?:ate|eats|eaten|swallowed|drank|burned|burnt|used|went through|gone through|got through|guzzled|sucked|chewed through|cost us)(?: up| down| about| around| over| nearly| almost| us)* ({lb}|{gal}|{kg})"
    )
    used = [*used, *gone]
    propane_said(s, used)
    people = q.of("people")
    if people:
        s.note("people", sum(a.value for a in people), "people")


def _rate_said(s: Sheet) -> bool:
    """ "we burned a third since yesterday", "went from full to half in two days"."""
    from cabassist.sums.working_levels import two_levels

    q = s.q
    two = two_levels(s)
    if two is not None and two.unit == "part":
        s.note("first", two.first)
        s.note("last", two.last)
        s.note("apart", two.hours, "h")
        return True
    rate = q.one(r"({gal/day|lb/day|gal/h|lb/h})")
    if rate is not None:
        s.note("burned", rate.value, rate.unit)
        s.note("apart", 24.0 if rate.per == "day" else 1.0, "h")
        propane_said(s, [rate])
        return True
    burned = q.one(
        r"\b(?:burned|burnt|used|gone through|went through|dropped|down) (?:about |up |by )?({part}|{gal}|{lb})"
    )
    span = q.one(r"\b(?:in|over|within) (?:the last |the past )?({h})")
    if burned is None:
        return False
    hours = (
        converted(span.value, span.unit, "h")
        if span is not None
        else 24.0
        if q.has(r"\bsince (?:yesterday|last night)|\ba day\b|\bovernight\b")
        else 0.0
    )
    if not hours:
        return False
    s.note("apart", hours, "h")
    if burned.unit in ("part", "percent"):
        share = burned.value / (100 if burned.unit == "percent" else 1)
        s.note("first", 1.0)
        s.note("last", 1.0 - share)
        s.assumed.append("a full cylinder before that")
    else:
        s.say("burned", burned)
        propane_said(s, [burned])
    return True


def propane_days(s: Sheet) -> Estimate:
    """Days the propane lasts, with the clock and the fill-by time."""
    from cabassist.estimate import propane
    from cabassist.estimate.tanks import straight_line

    if s.has("first", "last", "apart"):
        found = straight_line(
            "propane lasts",
            s.number("first") * 100,
            s.number("last") * 100,
            s.number("apart"),
            target=0,
            unit="percent",
        )
        return _in_days(s, found)
    if s.has("burned", "apart"):
        amount, _, _ = content(s)
        burned = s.amount("burned")
        hours = (
            float((amount.to("lb") if amount.check("[mass]") else amount).magnitude)
            / float(burned.to(amount.units).magnitude)
            * s.number("apart", "h")
        )
        line = (
            f"{amount.magnitude:g} left ÷ {burned.magnitude:g} burned x {shown(s.number('apart'))} h = {shown(hours)} h"
        )
        return _in_days(
            s,
            Estimate(
                "propane lasts",
                hours,
                "h",
                hours,
                hours,
                (line,),
                ("it goes on burning as before",),
                "straight line, arithmetic",
            ),
        )
    amount, spread, line = content(s)
    said = s.has("input") and s.said("input")
    burn = _burn(s)
    if burn.value is None:
        return burn
    if burn.value == 0:
        return propane.hours_left(amount, quantity(0, "BTU/h"))
    exact_inputs = said and spread == 0
    least = 0.05 if said else _READ_SPREAD
    burn_spread = (
        0.0 if exact_inputs else max(least, min(0.6, ((burn.high or burn.value) - burn.value) / burn.value or 0.2))
    )
    needed = s.amount("needed") if s.has("needed") else None
    found = propane.run_out(
        amount, quantity(burn.value, "BTU/h"), s.now, propane_spread=spread, burn_spread=burn_spread
    )
    lines = tuple(x for x in (line,) if x)
    found = replace(
        found,
        working=(*lines, *burn.working, *found.working),
        assumptions=(*found.assumptions, *burn.assumptions),
        source=f"{found.source}; {burn.source}",
    )
    if needed is not None and found.value is not None:
        hours = s.number("needed", "h")
        word = "Yes" if (found.low or found.value) >= hours else "No" if found.value < hours else "Barely"
        found = with_verdict(found, f"{word}: {roughly(hours)} needed.")
    return _in_days(s, found)


_READ_SPREAD = 0.6
"""Share by which the burn may differ where it is only guessed from the weather: a night may take more than half as much again, as the board reckons."""


def _in_days(s: Sheet, found: Estimate) -> Estimate:
    if found.value is None or s.text("unit") in ("h", "min", "week"):
        return found
    from cabassist.sums.working_sheet import in_unit

    return in_unit(found, "day")


def propane_hours_said(s: Sheet) -> None:
    """Inputs of "how many hours of burn"."""
    used = burners_said(s)
    if s.q.has(r"\b(?:how many btus?|btus? in|how much (?:heat|energy))\b(?!.*{btu})"):
        s.note("ask", "energy")
    elif (
        s.q.has(r"\bhow (?:many|much) (?:gallons|pounds|propane)\b") and s.fresh & {"input", "duty", "furnaces"}
    ) or s.q.has(r"\bhow (?:many|much)\b.*\b(?:using|use|burning|burn)\b"):
        s.note("ask", "burn")
        span = s.q.one(r"({h})")
        s.note("needed", converted(span.value, span.unit, "h") if span is not None else 24.0, "h")
        return
    elif s.fresh & {"input", "duty", "furnaces"}:
        s.drop("ask")
    needed_hours(s)
    propane_said(s, used)


def propane_hours(s: Sheet) -> Estimate:
    """Hours of burning, or the heat in an amount."""
    from cabassist.estimate import propane

    if not any(
        s.has(n) for n in ("gallons", "pounds", "gross", "cylinders", "share_outside", "share_inside", "share_spare")
    ) and s.q.has(r"\b(?:spare|full|forty pounder)\b"):
        s.note("cylinders", 1.0)
    if s.text("ask") == "burn":
        return _burned(s)
    amount, spread, line = content(s)
    lines = (line,) if line else ()
    if s.text("ask") == "energy":
        found = propane.energy(amount)
        return replace(found, working=(*lines, *found.working))
    burn = _burn(s, steady=True)
    if not burn.value:
        return burn
    found = propane.hours_left(
        amount,
        quantity(burn.value, "BTU/h"),
        propane_spread=spread,
        needed=s.amount("needed") if s.has("needed") else None,
    )
    if not s.has("input") and s.inputs["duty"].origin == "assumed":
        # neither the burner nor how long it burns was told: that is the least it lasts, and the ear must hear it
        found = replace(found, verdict=f"{found.verdict} That is with the furnace burning all the time.".strip())
    return replace(
        found, working=(*lines, *burn.working[:1], *found.working), assumptions=(*found.assumptions, *burn.assumptions)
    )


def _burned(s: Sheet) -> Estimate:
    """Gallons and pounds burned in a time."""
    from cabassist.estimate import propane

    lost = s.q.has(r"\b(?:losing|lose|loses|loss|needs?|demand)\b")
    efficiency = s.q.one(r"({percent}) (?:efficien\w*)", r"\befficien\w* (?:of |is |at )?({percent})")
    share = (
        efficiency.value / 100
        if efficiency is not None
        else sum(f.efficiency for f in s.coach.furnaces) / max(1, len(s.coach.furnaces)) or 0.8
    )
    if lost and s.has("input"):
        found = propane.propane_needed(s.amount("input"), s.amount("needed"), efficiency=share)
    else:
        if not s.has("input") and not s.has("duty"):
            temp = s.q.one(r"({temp})")
            s.say("outside", temp)
        burn = _burn(s, steady=s.has("duty") or s.q.has(r"\bflat out\b"))
        found = propane.propane_needed(quantity(burn.value or 0.0, "BTU/h"), s.amount("needed"))
        found = replace(found, working=(*burn.working[:1], *found.working))
    if found.value is None or found.unit != "gal" or any(f.unit == "lb" for f in found.also):
        return found
    pounds = found.value * propane.BTU_PER_GAL / propane.BTU_PER_LB
    return with_also(found, figure("pounds", pounds, "lb"))
