"""Questions about cords: the voltage they lose, how long they may be, what they carry."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_power import loads_said, supply_of
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also, with_verdict

_BOTH_WAYS = r"\b(?:round ?trip|there and back|out and back|both ways|both legs)\b"
_OWN_CORD = r"\b(?:our|my|the coach's|the coach|shore) (?:own |shore |power |big |yellow )*(?:cord|cable)\b|\b(?:the|that|this) (?:shore |power )?(?:cord|cable)\b"
"""The cord in bay 6, which the profile knows, and not one that the question describes."""


def cord_said(s: Sheet) -> None:
    """Inputs of questions about cords."""
    q = s.q
    if len({a.value for a in q.of("awg")}) > 1:
        raise ValueError("One wire at a time, please: ask for each gauge by itself.")
    gauge = q.one(r"({awg})", r"({n}) ga\b", r"\b(?:number|no|#) ({n}) (?:wire|cord|cable)\b")
    if gauge is None:
        bare = q.one(
            r"\b(?:on|through|of|a) (?:a )?({n})(?: cord| wire| cable)?(?= |$)(?! (?:amp|volt|feet|foot|twenty))",
            r"\bawg ({n})",
        )
        gauge = (
            bare
            if bare is not None and bare.value in (18, 16, 14, 12, 10, 8, 6) and not q.has(r"\b(?:breaker|circuit)\b")
            else None
        )
    if gauge is not None:
        s.note("gauge", gauge.value)
    amps = q.one(r"({A})") or q.one(r"\b(?:at|for|carry|pull|pulling) ({n})(?= |$)(?! (?:gauge|volts))")
    if (
        amps is not None
        and amps != gauge
        and (amps.unit == "A" or (5 <= amps.value <= 60 and amps.value not in (100, 110, 115, 120)))
    ):
        s.drop("watts")
        s.say("amps", amps, "A")
    loads_said(s, amps)
    s.inputs.pop("load_amps", None)
    if "watts" in s.fresh and "amps" not in s.fresh:
        s.inputs.pop("amps", None)
    cords = q.find(r"({n}|{cord}) ({ft}|{m}) (?:<awg> )?(?:\w+ )?(?:cord|cable|extension|footer|lead)s")
    feet = q.one(r"({n}) '(?= |$)")
    length = q.one(r"({long})") or (feet._replace(unit="ft") if feet is not None else None)
    if len(cords) == 2:
        s.note("length", cords[0].value * cords[1].value, cords[1].unit)
    elif length is not None:
        more = q.has(r"\b(?:another|add|adding|extra|one more)\b.*<(?:ft|m)>")
        if more:
            s.note("more", converted(length.value, length.unit, "ft"), "ft")
        else:
            s.say("length", length)
            if q.has(_BOTH_WAYS):
                s.note("length", length.value / 2, length.unit)
                s.assumed.append(f"{shown(length.value)} {length.unit} there and back, half of it one way")
    volts = q.one(
        r"({V})",
        r"\b(?:on|at|from|with|has|reads|got) ({n})(?: volts| at the wall| volt)?(?= |$)",
        r"({n}) (?:at the wall|volts|at the outlet|at the church)",
    )
    if (
        volts is not None
        and volts != gauge
        and volts != amps
        and ((volts.unit == "V" and 10 <= volts.value <= 260) or (volts.unit == "n" and 90 <= volts.value <= 260))
    ):
        s.say("volts", volts, "V")
    drop = q.one(r"({percent})")
    if q.has(r"\bhow many volts\b"):
        s.note("unit", "V")
    if drop is not None:
        s.note("most", drop.value / 100)
    above = q.one(r"\b(?:above|over|below|under) ({n}|{V})(?= |$)(?! ?percent)")
    if above is not None and 90 <= above.value <= 260 and q.has(r"\bhold\b|\bstay\b|\bdrop below\b|\babove\b"):
        s.note("above", above.value)
        if s.has("volts") and s.number("volts") == above.value:
            s.inputs.pop("volts")
    if q.has(_OWN_CORD):
        s.note("own", "cord")
    if q.has(r"\bcold\b|\bcopper at\b"):
        temp = q.one(r"({temp})")
        s.say("wire_temp", temp)


def _cord(s: Sheet, *, length: bool) -> None:
    """Take the profile's cord when the question means it; a cord that is half described is asked about.

    Raises:
        Missing: the length or the gauge of another cord.
    """
    cord = s.coach.shore.cord
    own = s.has("own") or not (s.said("gauge") or s.said("length") or s.has("volts"))
    if length and not own:
        s.need("length", "How long is it, in feet?", "ft")
        s.need("gauge", "What gauge is the wire?", "")
    if not s.has("gauge"):
        s.profile("gauge", float(cord.gauge_awg), "", f"{cord.gauge_awg} gauge cord")
    if length and not s.has("length"):
        s.profile("length", cord.length_ft, "ft", f"{shown(cord.length_ft)} ft cord")
    if length and s.has("more"):
        s.note("length", s.number("length", "ft") + s.number("more"), "ft")
        s.inputs.pop("more")


def _amps(s: Sheet, question: str) -> None:
    if s.said("watts") and s.said("amps") and s.q.of("W") and s.q.of("A"):
        raise ValueError("Amps and watts both: say the whole load in amps.")
    if not s.has("amps") and s.has("watts"):
        supply = float(supply_of(s).magnitude)
        s.inputs["amps"] = s.inputs["watts"]._replace(name="amps", value=s.number("watts") / supply, unit="A")
        s.assumed.append(f"{shown(s.number('watts'))} W ÷ {shown(supply)} V = {shown(s.number('watts') / supply)} A")
    if not s.has("amps"):
        raise Missing("amps", question, "A")


def voltage_drop(s: Sheet) -> Estimate:
    """Volts lost along a cord."""
    from cabassist.estimate import cords

    _amps(s, "How many amps run through it?")
    _cord(s, length=True)
    if not s.q.has(r"\bhow many volts\b") and s.q.has(
        r"\b(?:percent|percentage) drop\b|\b(?:what|how many) percent\b|\bdrop in percent\b"
    ):
        s.note("unit", "percent")
    supply = supply_of(s)
    found = cords.voltage_drop(
        supply,
        s.amount("amps"),
        s.amount("length"),
        round(s.number("gauge")),
        conductor_temperature=s.amount("wire_temp") if s.has("wire_temp") else None,
    )
    dropped = found.value
    if dropped is None:
        return found
    if s.has("above"):
        end = float(supply.magnitude) - dropped
        found = with_verdict(found, f"{'Yes' if end >= s.number('above') else 'No'}: {shown(end, 4)} volts at the end.")
    if s.has("most"):
        share = 100 * dropped / float(supply.magnitude)
        most = 100 * s.number("most")
        found = with_verdict(
            found, f"{'More' if share > most else 'Less'} than {shown(most)} percent: {shown(share, 3)}."
        )
    if s.q.has(
        r"\bvoltage at the end\b|\bleft at the end\b|\bhave left at\b|\bwhat do we see\b|\bleft at the coach\b|\bleft for the coach\b|\bvolts (?:are )?left\b|\bat the far end\b|\bwhat voltage\b|\bsee at the coach\b|\bsee on board\b|\bsee aboard\b|\bvolts at the coach\b"
    ) or (s.follows and s.text("ask") == "end"):
        s.note("ask", "end")
        end_figure = next(f for f in found.also if f.name == "at the end")
        lost = figure("lost", dropped, "V", found.low, found.high)
        found = replace(
            found,
            name="at the end",
            value=end_figure.value,
            low=end_figure.low,
            high=end_figure.high,
            also=(lost, *(f for f in found.also if f is not end_figure)),
        )
    return found


def cord_length(s: Sheet) -> Estimate:
    """The longest cord for a load."""
    from cabassist.estimate import cords
    from cabassist.estimate.power import CONTINUOUS_SHARE

    if not s.has("amps") and not s.has("watts"):
        carried = CONTINUOUS_SHARE * s.coach.shore.amps
        s.assume(
            "amps",
            carried,
            "A",
            f"{shown(carried)} amps, all the {s.coach.shore.amps} amp inlet carries for hours",
        )
    _amps(s, "How many amps is it to carry?")
    _cord(s, length=False)
    most = s.number("most") if s.has("most") else 0.03
    found = cords.longest_cord(supply_of(s), s.amount("amps"), round(s.number("gauge")), most_drop=most)
    if s.has("more") and not s.has("length"):
        s.note("length", s.coach.shore.cord.length_ft + s.number("more"), "ft")
    if s.has("length") and found.value is not None:
        length = s.number("length", "ft")
        word = (
            "Yes, fine"
            if length <= found.value
            else "Too long"
            if length > (found.high or found.value)
            else "At the limit"
        )
        found = with_verdict(found, f"{word}: {shown(length)} feet asked.")
        lost = cords.voltage_drop(supply_of(s), s.amount("amps"), quantity(length, "ft"), round(s.number("gauge")))
        if lost.value is not None:
            found = with_also(found, figure("drop over that length", lost.value, "V", lost.low, lost.high))
    return found


def cord_ampacity(s: Sheet) -> Estimate:
    """Amps a cord carries, or the wire a load needs."""
    from cabassist.estimate import cords

    wants_gauge = (
        s.q.has(r"\bwhat (?:gauge|gage|wire|size|awg|cord)\b|\bhow thick\b|\bwhich gauge\b|\bwhat gage\b")
        or s.text("ask") == "gauge"
    )
    if wants_gauge and not s.has("gauge"):
        s.note("ask", "gauge")
        _amps(s, "How many amps is it to carry?")
        return _thinnest(s)
    _cord(s, length=True)
    if s.has("most") and not s.has("amps") and not s.has("watts"):
        return _most_amps(s)
    if not s.has("amps") and s.has("watts"):
        _amps(s, "")
    found = cords.cord_limit(
        round(s.number("gauge")), s.amount("length"), current=s.amount("amps") if s.has("amps") else None
    )
    limit = found.value
    if limit is not None:
        found = with_also(found, figure("power", limit * float(supply_of(s).magnitude), "W"))
        if s.has("amps"):
            found = with_verdict(found, "Yes." if s.number("amps") <= limit else "No.")
    return found


def _most_amps(s: Sheet) -> Estimate:
    """The amps that lose no more than a share of the voltage along a cord, or that it carries at all."""
    from cabassist.estimate import cords

    gauge, length, volts = round(s.number("gauge")), s.number("length", "ft"), float(supply_of(s).magnitude)
    each = cords.ohm_per_foot(gauge)
    by_drop = s.number("most") * volts / (2 * length * each)
    limit = cords.cord_limit(gauge, s.amount("length")).value or cords.AMPACITY[gauge]
    value = min(by_drop, limit)
    line = f"{shown(s.number('most') * volts)} V ÷ (2 x {shown(length)} ft x {shown(each * 1000)} ÷ 1000) = {shown(by_drop)} A"
    return exact(
        "most amps",
        value,
        "A",
        working=(line, f"the cord carries {shown(limit)} A at most"),
        source=cords.TABLE_SOURCE,
        verdict=f"{shown(value, 3)} amps at most.",
    )


def _thinnest(s: Sheet) -> Estimate:
    """The thinnest wire that may carry the amps and does not lose too much."""
    from cabassist.estimate import cords

    if not s.has("length"):
        s.profile("length", s.coach.shore.cord.length_ft, "ft", f"{shown(s.coach.shore.cord.length_ft)} ft cord")
    amps = s.number("amps")
    most = s.number("most") if s.has("most") else 0.03
    by_drop = cords.thinnest_cord(supply_of(s), s.amount("amps"), s.amount("length"), most_drop=most)
    carries: int | None = None
    for gauge in (18, 16, 14, 12, 10, 8, 6):
        limit = cords.cord_limit(gauge, s.amount("length"))
        if (limit.value if limit.value is not None else cords.AMPACITY[gauge]) >= amps:
            carries = gauge
            break
    if by_drop.value is None or carries is None:
        return by_drop
    value = min(float(carries), by_drop.value)
    lines = (
        *by_drop.working,
        f"{carries} gauge carries {shown(amps)} A; the thicker of the two counts: {shown(value)} gauge.",
    )
    return replace(
        by_drop, value=value, low=value, high=value, working=lines, verdict=f"{shown(value)} gauge or thicker."
    )
