"""Questions about wheel nuts and axles."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_loads import axle_change, axle_change_said, luggage, luggage_said, unweighed_said
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also
from cabassist.sums.working_unplaced import WORDED


def torque_said(s: Sheet) -> None:
    """Inputs of "is four hundred foot pounds enough"."""
    q = s.q
    s.note(WORDED, by_words(q, *q.every(r"({mm|in})")))  # the size of the nut or the stud
    window = q.find(
        r"\b(?:sheet|plate|book|spec\w*|manual|card|placard|sticker|range|window|wants?|calls? for|between|allowed|says?)\b[^<.]{0,30}({n}|{torque}) (?:to|and|-) ({torque})"
    )
    if len(window) == 2:
        low, high = (a._replace(unit=window[1].unit) if a.unit == "n" else a for a in window)
        s.say("least", low)
        s.say("most", high)
    torque = next((a for a in q.of("torque") if a not in window), None)
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
    if s.has("least") and s.has("most"):
        return _in_window(s)
    found = wheels.nut_torque(s.amount("torque"), target=quantity(target, "lb-ft"))
    return with_also(
        found,
        figure(
            "wanted",
            target if s.inputs["torque"].unit == "lb-ft" else target * wheels.FT_LB_N_M,
            s.inputs["torque"].unit,
        ),
    )


def _in_window(s: Sheet) -> Estimate:
    """Whether a torque lies in the window that a sheet or a plate tells."""
    from cabassist.estimate import wheels

    factor = wheels.FT_LB_N_M
    pulled, least, most = (s.number(name, "lb-ft") for name in ("torque", "least", "most"))
    inside = least <= pulled <= most
    off = 0.0 if inside else least - pulled if pulled < least else pulled - most
    side = "inside" if inside else "under" if pulled < least else "over"
    said = f"{shown(pulled, 4)} foot-pounds is {side} {shown(least, 3)} to {shown(most, 3)}"
    verdict = f"Yes, {said}." if inside else f"No, {said}, by {shown(off, 3)}."
    line = f"{shown(pulled * factor)} N·m ÷ {factor:.4f} = {shown(pulled)} lb-ft"
    return exact("wheel nut torque", pulled, "lb-ft", working=(line, f"{shown(least)} to {shown(most)} lb-ft"), source="the window told; 1 lb-ft = 1.3558 N·m", verdict=verdict, also=(figure("newton meters", pulled * factor, "N·m"), figure("least", least, "lb-ft"), figure("most", most, "lb-ft")))  # fmt: skip


def recheck_said(s: Sheet) -> None:
    """Inputs of "when do the lug nuts need checking again"."""
    q = s.q
    bare = [a for a in q.of("n") if a.value >= 1000]
    fitted = q.one(
        r"\b(?:changed|went on|fitted|put (?:it |the wheel )?on|on at|wheel (?:change )?(?:was )?at|done at|torqued at|swapped|mounted)\b[^<]*({n}|{mi}|{km})"
    )
    if fitted is None and not bare:
        fitted = next((a for a in (*q.of("mi"), *q.of("km")) if a.value >= 1000 and not a.per), None)
    if fitted is not None and fitted.value < 1000 and not q.has(r"\bmile zero\b"):
        fitted = None
    if fitted is not None and (fitted.value >= 1000 or q.has(r"\bmile zero\b")):
        s.say("fitted", fitted, "mi")
    elif len(bare) == 1 and q.has(r"\b(?:on|changed|fitted|torqued|tightened|swapped|put|mounted)\b"):
        s.say("fitted", bare[0], "mi")
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
        if found.high is not None and found.high != found.value:
            found = replace(found, also=(figure("at the latest", found.high, found.unit), *found.also))
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
    if luggage_said(s) or axle_change_said(s) or (s.q.has(r"\bweigh\w*\b|\bheavy\b") and unweighed_said(s)):
        return
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

    if s.text("ask") in ("luggage", "change"):
        return luggage(s) if s.text("ask") == "luggage" else axle_change(s)
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
