"""Questions about tires, wheel nuts and axles."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cabassist.dialogue.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_units import converted

SET_AT_F = 65.0
"""Where a tire was set when nobody says: a shop; common practice, no source."""


_REAR = r"\b(?:drives?|rears?|tag|trailing|duals?|inner|outer|back)\b"


def tire_said(s: Sheet) -> None:
    """Inputs of "what will they read at ten below"."""
    q = s.q
    position = "rear" if q.has(_REAR) else "front" if q.has(r"\b(?:steers?|fronts?|left front|right front)\b") else ""
    if position:
        s.note("position", position)
    pressures = [a for a in (*q.of("psi"), *q.of("lb")) if not a.per]
    pairs = q.find(
        r"({psi}|{n}) (?:psi )?(?:set )?(?:at|when it was|in) (?:a |the )?({temp}|{n}) .*?(?:\bat|\bto|\bnow|\bin|\bnow it|\bit) ({temp}|{n})",
        r"\b(?:at|if it is|in) ({temp}) .*?({psi}|{n}) at ({temp}|{n})",
    )
    read = q.one(
        r"\b(?:reads?|reading|shows?|showing|is at|are at|now at|measures?) (?:only |now )?({psi}|{n})(?! degrees| below)",
        r"\bis ({psi}|{n}) (?:low|okay|ok|fine|enough|too low|right|good)",
        r"\bis ({n}|{psi}) (?:over|under|from spec)",
    )
    temps = q.of("temp")
    if (
        read is not None
        and read not in q.of("temp")
        and (read.unit != "n" or 30 <= read.value <= 160)
        and not q.has(r"\bwhat (?:will|should|would|does) (?:they|it|the \w+) read\b")
    ):
        s.say("read", read, "psi")
        pressures = [a for a in pressures if a != read]
    if len(pairs) == 3 and pairs[0].unit in ("psi", "kPa", "bar", "n") and pairs[0].unit != "temp":
        s.say("set_to", pairs[0], "psi")
        s.say("set_at", pairs[1], q.scale)
        s.say("now", pairs[2], q.scale)
        return
    if len(pairs) == 3:
        s.say("now", pairs[0], q.scale)
        s.say("set_to", pairs[1], "psi")
        s.say("set_at", pairs[2], q.scale)
        return
    if pressures:
        s.say("set_to", pressures[0], "psi")
    else:
        bare = q.one(
            r"\b(?:set to|set at|was|were|filled to|pumped to|aired (?:up )?to|inflated to|at|if it was) (?:a |about )?({n})(?! degrees)(?= at| when| in| warm| cold)",
            r"\bset (?:to|at) ({n})(?= $|,| psi)",
            r"^ ({n}) (?:warm|psi)",
        )
        if bare is not None and 20 <= bare.value <= 160:
            s.say("set_to", bare, "psi")
    _tire_ask(s)
    trip = q.find(r"\bfrom (?:\w+ )?(?:at )?({temp}|{n}) (?:degrees )?to (?:\w+ )?(?:at )?({temp}|{n})")
    if len(trip) == 2:
        s.say("set_at", trip[0], q.scale)
        s.say("now", trip[1], q.scale)
        return
    set_at = q.one(
        r"\b(?:set|filled|pumped|inflated|aired|checked)\b[^<]{0,30}\b(?:at|in) (?:a |the )?(?:shop at )?({temp}|{n})(?= |$)",
        r"\b(?:set|filled|pumped|inflated|aired|checked|was|were)\b[^<]*(?:<psi>|<n>|<kPa>|<bar>)? ?[^<]{0,25}\b(?:at|in) (?:a |the )?(?:shop at )?({temp}|{n})",
        r"({temp}) (?:shop|garage|day|morning|when)",
        r"\b(?:shop|garage) (?:at |is |was )*({temp}|{n})",
    )
    if (
        set_at is not None
        and set_at != read
        and (set_at.unit != "n" or abs(set_at.value) <= 110)
        and s.number_or("set_to") != set_at.value
    ):
        if len(temps) > 1 or not s.follows:
            later = [t for t in temps if t != set_at]
            if later or q.has(r"\bset\b|\bshop\b|\binflated\b"):
                s.say("set_at", set_at, q.scale)
    rest = [t for t in temps if not (s.has("set_at") and "set_at" in s.fresh and t.value == s.number("set_at"))]
    now = rest[-1] if rest else q.one(r"\bat ({n})(?: degrees)?(?= |$)")
    if now is not None and now.unit == "n" and (now.value > 75 or (s.has("read") and now.value == s.number("read"))):
        now = None
    if now is not None and not ("set_at" in s.fresh and now.unit == "n" and s.number("set_at") == now.value):
        s.say("now", now, q.scale)


def _tire_ask(s: Sheet) -> None:
    q = s.q
    if q.has(r"\bper (?:ten|10) degrees\b|\bper <temp>|\bper <n> degrees"):
        s.note("ask", "per ten")
    elif q.has(r"\b(?:drop|lose|loss|how much (?:does|will|do))\b"):
        s.note("ask", "change")
    elif q.has(r"\bshould i add\b|\bhow many pounds .* add\b"):
        s.note("ask", "add")
    elif q.has(r"\bspread\b"):
        s.note("ask", "spread")
    elif q.has(r"\bfrom spec\b|\bover the max\b|\bhow low is too low\b"):
        s.note("ask", "spec")


def _spec(s: Sheet) -> float:
    rear = s.text("position") == "rear"
    value = s.coach.wheels.rear_psi if rear else s.coach.wheels.front_psi
    s.profile("set_to", value, "psi", f"{'rear' if rear else 'front'} tires {shown(value)} psi cold")
    return s.number("set_to", "psi")


def tire_pressure(s: Sheet) -> Estimate:
    """A tire's pressure at another temperature, or whether a reading is low."""
    from cabassist.estimate import tires

    ask = s.text("ask")
    if ask == "per ten":
        spec = _spec(s)
        before = tires.tire_pressure(quantity(spec, "psi"), quantity(60, "F"), quantity(50, "F"))
        drop = spec - (before.value or spec)
        return replace(
            with_verdict(before, f"About {shown(drop, 2)} psi for every 10 °F: 2 percent."),
            name="lost for 10 °F",
            value=drop,
            low=drop * 0.9,
            high=drop * 1.1,
            also=(),
        )
    if ask == "spread" and (pair := s.q.find(r"({psi}|{n}) and (?:a )?({psi}|{n})")) and len(pair) == 2:
        apart = abs(pair[0].value - pair[1].value)
        spec = _spec(s)
        return exact(
            "apart",
            apart,
            "psi",
            working=(f"{shown(pair[0].value)} and {shown(pair[1].value)}: {shown(apart)} psi apart",),
            source="coach profile",
            verdict=f"Set both to {shown(spec)} psi cold; duals should be alike.",
        )
    if s.q.has(r"\bhow low is too low\b"):
        spec = _spec(s)
        value = tires.RUN_FLAT_SHARE * spec
        return exact(
            "flat below",
            value,
            "psi",
            working=(f"{tires.RUN_FLAT_SHARE:g} x {shown(spec)} = {shown(value)} psi",),
            source="a fifth low counts as run flat (from memory)",
            verdict="A tire a fifth low counts as flat: do not drive on it. In the cold it reads lower: say the temperature.",
        )
    if s.has("read") and not s.has("now") and ask in ("spec", "spread", ""):
        if s.latest("outside_temp") is None or ask == "spec":
            spec = _spec(s)
            off = s.number("read", "psi") - spec
            share = s.number("read", "psi") / spec
            verdict = f"{shown(abs(off), 3)} psi {'under' if off < 0 else 'over'} the {shown(spec)} psi cold." + (
                " A fifth low counts as flat: do not drive on it."
                if share < tires.RUN_FLAT_SHARE
                else " In the cold a tire reads lower: say the temperature."
            )
            return exact(
                "from the cold setting",
                off,
                "psi",
                working=(f"{shown(s.number('read', 'psi'))} - {shown(spec)} = {shown(off)} psi",),
                source="coach profile",
                verdict=verdict,
            )
    if not s.has("now"):
        s.from_reading("now", "outside_temp", "outside temperature", "F")
    if not s.has("now"):
        raise Missing("now", "How cold are the tires now?", "temp")
    _spec(s)
    s.assume("set_at", SET_AT_F, "F", f"set at {SET_AT_F:g} °F (common practice, no source; say where)")
    if s.has("read"):
        found = tires.tire_reading(s.amount("read"), s.amount("set_to"), s.amount("set_at"), s.amount("now"))
        return found
    found = tires.tire_pressure(s.amount("set_to"), s.amount("set_at"), s.amount("now"))
    change = next((f for f in found.also if f.name == "change"), None)
    if ask in ("change", "add") and change is not None and found.value is not None:
        lost = -change.value
        also = (figure("pressure then", found.value, found.unit, found.low, found.high),)
        return replace(
            found,
            name="lost",
            value=lost,
            low=-(change.high if change.high is not None else change.value),
            high=-(change.low if change.low is not None else change.value),
            also=also,
        )
    return found


def tread_said(s: Sheet) -> None:
    """Inputs of "is four thirty seconds legal on a steer tire"."""
    q = s.q
    if q.has(_REAR):
        s.note("position", "rear")
    elif q.has(r"\b(?:steers?|fronts?)\b"):
        s.note("position", "front")
    depth = q.one(r"({32nds})", r"({mm})", r"\btread (?:is |of |at |it )*({n})")
    if depth is not None:
        s.note("depth", depth.value, "mm" if depth.unit == "mm" else "32nds")
    if q.has(r"\bretread|\brecap|\bregroove"):
        s.note("ask", "retread")
    elif q.has(
        r"\bhow much wear\b|\bhow much (?:\w+ )?before\b|\bwear is left\b|\bhow much .* left\b|\bhow many <?32nds>?\b.*\bbefore\b|\bhow many (?:more )?thirty seconds?\b"
    ):
        s.note("ask", "left")


def tread(s: Sheet) -> Estimate:
    """Whether a tread is deep enough."""
    from cabassist.estimate import tires

    position: Literal["front", "rear"] = "rear" if s.text("position") == "rear" else "front"
    if s.text("ask") == "retread":
        return tires.retread_allowed(position)
    limits = {"front": tires.STEER_TREAD_32NDS, "rear": tires.OTHER_TREAD_32NDS}
    if not s.has("depth"):
        value = limits[position] if s.text("position") else limits["front"]
        other: tuple[Figure, ...] = () if s.text("position") else (figure("other tires", limits["rear"], "32nds in"),)
        verdict = (
            f"At least {value:g}/32 inch on a {position} tire."
            if s.text("position")
            else "At least 4/32 inch on the front, 2/32 on the others."
        )
        return exact(
            "least tread",
            value,
            "32nds in",
            source=tires.RULE_SOURCE,
            verdict=verdict,
            also=(*other, figure("millimeters", converted(value, "32nds", "mm"), "mm")),
            working=("49 CFR 393.75(b), (c): 4/32 in front, 2/32 elsewhere.",),
        )
    if not s.text("position"):
        s.assumed.append("taken as a front tire, the stricter limit; say if it is not")
    depth = quantity(s.number("depth", "in"), "in")
    found = tires.tread(depth, position)
    left = converted(s.number("depth"), s.inputs["depth"].unit, "32nds") - limits[position]
    found = with_also(found, figure("left to the limit", left, "32nds in"))
    if s.text("ask") == "left" and found.value is not None:
        return replace(
            found,
            name="left to the limit",
            value=left,
            low=left,
            high=left,
            also=(figure("tread", found.value, "32nds in"), *(f for f in found.also if f.name != "left to the limit")),
        )
    return found


def torque_said(s: Sheet) -> None:
    """Inputs of "is four hundred foot pounds enough"."""
    q = s.q
    torque = q.one(r"({torque})")
    if torque is not None:
        s.say("torque", torque)
    elif q.has(r"\bfoot bar\b|<ft> bar"):
        bar = q.one(r"({ft}) (?:bar|pipe|breaker|cheater)")
        s.say("bar", bar)
        value = q.one(r"\bfor ({n})", r"({n})")
        s.say("torque", value, "lb-ft")
    else:
        bare = q.one(r"\b(?:is|to|at|only goes to|set to) ({n})\b(?! or)", r"({n})")
        if bare is not None and 50 <= bare.value <= 1000:
            s.say("torque", bare, "lb-ft")
    if q.has(r"\b(?:oil|dry|lube|lubricate|anti ?seize)\b"):
        s.note("ask", "threads")
    elif q.has(r"\bconvert\b"):
        s.note("ask", "convert")
    elif q.has(r"<n> or <n>"):
        s.drop("torque")
        s.inputs.pop("torque", None)


def wheel_torque(s: Sheet) -> Estimate:
    """The torque, or whether one is inside its window."""
    from cabassist.estimate import wheels

    if s.text("ask") == "threads":
        return wheels.thread_condition(s.coach.wheels.mounting)
    target = s.coach.wheels.nut_torque_ft_lb
    if s.has("bar") and s.has("torque"):
        force = s.number("torque", "lb-ft") / s.number("bar", "ft")
        return exact(
            "push at the end of the bar",
            force,
            "lb",
            working=(
                f"{shown(s.number('torque', 'lb-ft'))} lb-ft ÷ {shown(s.number('bar', 'ft'))} ft = {shown(force)} lb",
            ),
            source="arithmetic",
            verdict="No measure: use a torque wrench.",
        )
    if not s.has("torque") or s.text("ask") == "convert":
        value = s.number("torque", "lb-ft") if s.has("torque") else target
        if not s.has("torque"):
            s.assumed.append("as in the profile; the coach's plate comes first")
        metric = figure("newton meters", value * wheels.FT_LB_N_M, "N·m")
        window = wheels.HUB_WINDOW_FT_LB
        return exact(
            "wheel nut torque",
            value,
            "lb-ft",
            working=(f"{shown(value)} lb-ft x 1.3558 = {shown(metric.value)} N·m",),
            source=wheels.TORQUE_SOURCE,
            verdict=""
            if s.has("torque")
            else f"{shown(value)} foot-pounds, {shown(value - window)} to {shown(value + window)}. Check again after {shown(s.coach.wheels.recheck_miles)} miles.",
            also=(metric,),
        )
    found = wheels.nut_torque(s.amount("torque"), target=quantity(target, "lb-ft"))
    return with_also(
        found,
        figure(
            "wanted",
            target if s.inputs["torque"].unit == "lb-ft" else target * wheels.FT_LB_N_M,
            s.inputs["torque"].unit,
        ),
    )


def recheck_said(s: Sheet) -> None:
    """Inputs of "when do the lug nuts need checking again"."""
    q = s.q
    bare = [a for a in q.of("n") if a.value >= 1000]
    fitted = q.one(
        r"\b(?:changed|went on|fitted|put (?:it |the wheel )?on|on at|wheel (?:change )?(?:was )?at|done at|torqued at|swapped|mounted)\b[^<]*({n}|{mi}|{km})"
    )
    if fitted is None and not bare:
        fitted = next((a for a in (*q.of("mi"), *q.of("km")) if a.value >= 1000 and not a.per), None)
    if fitted is not None and (fitted.value >= 1000 or q.has(r"\bmile zero\b")):
        s.say("fitted", fitted, "mi")
    elif len(bare) > 1:
        low = min(bare, key=lambda a: a.value)
        s.say("fitted", low, "mi")
    others = [a for a in bare if not s.has("fitted") or a.value != s.number("fitted")]
    if others:
        s.say("odometer", others[-1], "mi")
    gone = q.one(
        r"({mi}|{km}) (?:since|ago|later|after|on it)",
        r"\b(?:done|gone|driven|been|come|now at|is) ({mi}|{km})",
        r"({mi|km})",
        r"\bnow at ({n})",
    )
    if gone is not None and gone.value < 1000 and gone != fitted:
        s.note("gone", converted(gone.value, gone.unit if gone.unit != "n" else "mi", "mi"), "mi")
        s.note("gone_unit", gone.unit)


def wheel_recheck(s: Sheet) -> Estimate:
    """When the nuts are checked again."""
    from cabassist.estimate import wheels

    first = quantity(s.coach.wheels.recheck_miles, "mi")
    if s.has("fitted"):
        held = s.latest("odometer")
        now = (
            s.amount("odometer")
            if s.has("odometer")
            else quantity(held.reading.value or 0.0, held.reading.unit or "mi")
            if held is not None and (held.reading.value or 0) >= s.number("fitted")
            else None
        )
        if now is None and s.has("gone"):
            now = quantity(s.number("fitted", "mi") + s.number("gone", "mi"), "mi")
        found = wheels.torque_recheck(s.amount("fitted"), now=now, first=first)
        if s.q.has(r"\b(?:how many to go|miles to go|how (?:many|much) (?:more|further)|how far to)\b"):
            left = next((f for f in found.also if f.name == "still to go"), None)
            if left is not None:
                return replace(
                    found,
                    name=left.name,
                    value=left.value,
                    low=left.value,
                    high=left.value,
                    also=(
                        figure("odometer at the re-check", found.value or 0.0, found.unit, found.low, found.high),
                        *(f for f in found.also if f is not left),
                    ),
                )
        return found
    least, most = s.coach.wheels.recheck_miles, max(wheels.RECHECK_MILES[1], s.coach.wheels.recheck_miles)
    if s.has("gone"):
        gone = s.number("gone", "mi")
        to_go = max(0.0, least - gone)
        verdict = (
            f"Not yet: {shown(to_go, 3)} miles to go."
            if gone < least
            else "Due now."
            if gone <= most
            else "Overdue: check the nuts now."
        )
        return Estimate(
            "miles to the re-check",
            to_go,
            "mi",
            to_go,
            max(0.0, most - gone),
            (f"{shown(least)} - {shown(gone, 4)} = {shown(least - gone, 4)} mi",),
            (wheels.PLATE_FIRST,),
            wheels.TORQUE_SOURCE,
            verdict,
        )
    return Estimate(
        "re-check after",
        least,
        "mi",
        least,
        most,
        (f"{shown(least)} to {shown(most)} mi",),
        (wheels.PLATE_FIRST,),
        wheels.TORQUE_SOURCE,
        f"After {shown(least)} miles, at the latest {shown(most)}.",
        (figure("kilometers", converted(least, "mi", "km"), "km"),),
    )


def axle_said(s: Sheet) -> None:
    """Inputs of "is the drive axle over"."""
    q = s.q
    bridge = q.find(r"({n}) axles .*?({ft}|{n})|({ft}) .*?({n}) axles")
    if q.has(r"\bbridge\b") and len(bridge) >= 2:
        feet = next((a for a in bridge if a.unit == "ft"), bridge[1])
        count = next(a for a in bridge if a is not feet)
        s.note("axles", count.value)
        s.say("spacing", feet, "ft")
    weight = q.one(r"({lb})", r"({n})(?! (?:passengers|people|bags|axles|feet))")
    if weight is not None and weight.unit == "n" and weight.value < 1000:
        weight = weight._replace(
            value=weight.value * 1000 if 5 <= weight.value <= 80 and not weight.pieces else weight.value
        )
        if weight.pieces and len(weight.pieces) == 2:
            weight = weight._replace(value=float(f"{weight.pieces[0]}.{weight.pieces[1]}") * 1000)
    if weight is not None and weight.unit == "n" and weight.pieces and 1000 > weight.value > 50:
        weight = None
    if weight is not None and weight.value >= 1000:
        s.say("weight", weight, "lb")
    if q.has(r"\b(?:gross|total|all up|whole)\b"):
        s.note("group", "gross")
    elif q.has(r"\b(?:tandem|duals? and tag|drive and tag|rear axles|both rear|rears together)\b"):
        s.note("group", "tandem")
    elif q.has(r"\b(?:axle|steer|drive|front|tag|rear)\b"):
        s.note("group", "single")


def axle_load(s: Sheet) -> Estimate:
    """What is left to an axle's legal limit."""
    from cabassist.estimate import wheels

    if s.has("axles", "spacing"):
        return wheels.bridge_formula(s.amount("spacing"), round(s.number("axles")))
    group: Literal["single", "tandem", "gross"] = (
        "gross" if s.text("group") == "gross" else "tandem" if s.text("group") == "tandem" else "single"
    )
    if not s.has("weight"):
        if s.q.has(r"\b(?:limit|maximum|max|how much (?:weight )?can|how much may)\b"):
            limits = {"single": wheels.SINGLE_AXLE_LB, "tandem": wheels.TANDEM_LB, "gross": wheels.GROSS_LB}
            bus = (
                (figure("over-the-road bus, single axle (from memory)", wheels.BUS_SINGLE_AXLE_LB, "lb"),)
                if group == "single"
                else ()
            )
            return exact(
                "most allowed",
                limits[group],
                "lb",
                source=wheels.AXLE_SOURCE,
                verdict=f"{shown(limits[group])} pounds on a {group} axle, if plate and tires allow it.".replace(
                    "on a gross axle", "in all"
                ),
                also=bus,
                working=("23 CFR 658.17: 20,000 single, 34,000 tandem, 80,000 in all.",),
            )
        raise Missing("weight", "What does the scale say, in pounds?", "lb")
    return wheels.axle_limit(s.amount("weight"), group, over_the_road_bus=group == "single")
