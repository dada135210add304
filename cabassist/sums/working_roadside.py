"""Questions about warning triangles and air-brake tests."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Sheet, quantity, with_verdict
from cabassist.sums.working_unplaced import WORDED


def triangles_said(s: Sheet) -> None:
    """Inputs of "how far back do the triangles go"."""
    q = s.q
    # How many lanes and triangles there are stands in no sum.
    s.note(
        WORDED,
        by_words(
            q,
            *q.every(
                r"({n}) (?:way|lane|lanes|ways|(?:\w+ )?(?:triangles?|flares?|reflectors?|devices?|cones?))(?= |$)"
            ),
        ),
    )
    if q.has(
        r"\b(?:divided|freeway|interstate|dual carriageway|four lane|highway with a median|motorway)\b"
    ) and not q.has(r"\bundivided\b"):
        s.note("road", "divided")
    elif q.has(r"\bone ?way\b") or any(a.value == 1 for a in q.every(r"({n}) way")):
        s.note("road", "one-way")
    elif q.has(r"<n> way\b") or q.has(
        r"\b(?:two lane|two way|<n> lane|<n> directions|two directions|undivided|country road|back road)\b"
    ):
        s.note("road", "two-way")
    if q.has(r"\b(?:curve|hill|crest|bend|rise|obstruction)\b"):
        near = q.one(r"({ft}|{yd}|{m})")
        s.note("blocked", converted(near.value, near.unit, "ft") if near is not None else 500.0, "ft")
        s.note("side", "ahead" if q.has(r"\bahead\b|\bin front\b") else "behind")
    elif (paces := q.one(r"({ft}|{yd}|{m})")) is not None:
        s.note("distance", converted(paces.value, paces.unit, "ft"), "ft")
    if q.has(r"\b(?:town|district|city|street|residential)\b"):
        s.note("district", 1.0)
        if q.has(r"\b(?:lit|lights|daylight|noon|day)\b") and not q.has(r"\b(?:dark|unlit|poorly)\b"):
            s.note("lit", 1.0)
    if q.has(r"\b(?:leak\w*|fuel spill)\b"):
        s.note("leak", 1.0)
    if q.has(r"\b(?:steps|paces)\b"):
        s.note("ask", "paces")
    elif q.has(r"\b(?:first triangle|from the bumper|closest|nearest)\b"):
        s.note("ask", "near")
    elif q.has(r"\benough\b"):
        s.note("ask", "enough")


def triangles(s: Sheet) -> Estimate:
    """Where the triangles go."""
    from cabassist.estimate import triangles as rule

    if s.text("ask") == "paces":
        feet = s.number("distance") if s.has("distance") else rule.MIDDLE_FT
        value = feet / rule.PACE_FT
        return exact(
            "paces",
            value,
            "paces",
            working=(f"{shown(feet)} ft ÷ {rule.PACE_FT:g} ft = {shown(value)}",),
            assumptions=(f"a pace of {rule.PACE_FT:g} ft (common practice, no source): measure your own",),
            source="arithmetic",
            verdict=f"About {shown(value, 3)} paces for {shown(feet)} feet.",
        )
    road: Literal["two-way", "divided", "one-way"] = (
        "divided" if s.text("road") == "divided" else "one-way" if s.text("road") == "one-way" else "two-way"
    )
    if not s.text("road"):
        s.assumed.append("two-way road; on a divided or one-way road 10, 100 and 200 feet behind")
    side: Literal["behind", "ahead"] = "ahead" if s.text("side") == "ahead" else "behind"
    found = rule.triangle_distances(
        road,
        blocked_view=s.amount("blocked") if s.has("blocked") else None,
        blocked_side=side,
        district=s.has("district"),
        dark_and_poorly_lit=not s.has("lit"),
        leak=s.has("leak"),
    )
    if s.text("ask") == "near":
        return replace(found, value=rule.NEAR_FT, low=rule.NEAR_FT, high=rule.NEAR_FT, name="nearest triangle")
    if s.text("ask") == "enough" and s.has("distance") and found.value is not None:
        return with_verdict(found, "Yes." if s.number("distance") >= found.value else "Not enough.")
    return found


_BUILD = r"\b(?:buil[dt]\w*|compressor|pump\w*|from <(?:n|psi)> to)\b"


def brakes_said(s: Sheet) -> None:
    """Inputs of "does two psi in a minute pass"."""
    q = s.q
    fall = q.find(r"\b(?:dropp?ed|fell|went|leaked)(?: down)? (?:from )?({psi}|{n}) (?:down )?to ({psi}|{n})")
    if len(fall) == 2 and fall[0].value > fall[1].value:
        on = q.has(r"\b(?:applied|foot on|brakes on|pedal|held|foot down|with the brakes on)\b")
        s.note("applied" if on else "static", fall[0].value - fall[1].value, "psi")
        s.say("time", q.one(r"({s|min})"))
        return
    if _read_twice(s):
        return
    pair = q.find(r"\bfrom ({psi}|{n}) to ({psi}|{n})", r"({n}|{psi}) to ({n}|{psi})")
    time = q.one(r"\b(?:in|took|takes?|over|after) (?:about )?({s}|{min})", r"({s|min})")
    if q.has(_BUILD) and not q.has(r"\bleak"):
        s.note("build", 1.0)
        if len(pair) == 2:
            s.say("start", pair[0], "psi")
            s.say("end", pair[1], "psi")
        s.say("time", time)
        return
    warning = q.one(r"\b(?:warning|buzzer|low air(?: \w+)?|light|alarm)\b[^<]{0,25}({psi}|{n})")
    spring = q.one(
        r"\b(?:spring brakes?|parking brakes?|knob|button|valve|popped(?: out)?|pop(?:s)?(?: out)?)\b[^<]{0,25}({psi}|{n})"
    )
    cut_in = q.one(r"\bcut(?:s|ting)? ?in\b[^<]{0,15}({psi}|{n})", r"\bin at ({psi}|{n})")
    cut_out = q.one(
        r"\bcut(?:s|ting)? ?out\b[^<]{0,15}({psi}|{n})",
        r"\bin at (?:<psi>|<n>) (?:and )?out at ({psi}|{n})",
        r"\bgovernor\b.*\bout at ({psi}|{n})",
    )
    taken = [a for a in (warning, spring, cut_in, cut_out) if a is not None]
    if warning is not None and (spring is None or warning != spring):
        s.say("warning", warning, "psi")
        if q.has(r"\b(?:no|not|none|never|did not|hasn't|without)\b"):
            s.note("no_warning", 1.0)
    if spring is not None and spring != warning:
        s.say("spring", spring, "psi")
    s.say("cut_in", cut_in, "psi")
    s.say("cut_out", cut_out, "psi")
    statics = q.one(
        r"({psi}|{n}|{lb}) (?:psi )?(?:static|released|brakes off|foot off)",
        r"({psi/min}|{lb/min}) (?:static|released)",
    )
    applied = q.one(
        r"({psi}|{n}|{lb}) (?:psi )?(?:applied|foot on|brakes on|held)", r"({psi/min}|{lb/min}) (?:applied|held)"
    )
    if statics is not None and statics not in taken:
        s.say("static", statics, "psi")
    if applied is not None and applied not in taken and applied != statics:
        s.say("applied", applied, "psi")
    if not ({"static", "applied"} & s.fresh):
        drop = q.one(
            r"({psi/min}|{lb/min})",
            r"({psi}|{lb}|{n}) (?:psi |pounds )?(?:in|per|over|drop|loss)\b",
            r"\b(?:lost|lose|loses|drop(?:ped)?|down|leak\w*) (?:about |of )*({psi}|{lb}|{n})",
            r"\bdoes ({psi}|{n})",
        )
        if drop is not None and drop not in taken:
            on = q.has(r"\b(?:applied|foot on|brakes on|pedal|held|foot down|with the brakes on)\b")
            s.say("applied" if on else "static", drop, "psi")
    s.say("time", time)
    if q.has(
        r"\bhow much leak\b|\bwhat psi\b|\bhow long should\b|\bhow many psi loss\b|\ballowed\b|\bsupposed to\b|\bwhat (?:is|are) the (?:limit|number)s?\b"
    ):
        s.note("ask", "limit")


_MOST_MINUTES = 30.0


def _read_twice(s: Sheet) -> bool:
    """Note what the gauge lost between two times of day, "118 psi at 5:52 and 111 at 5:55"; False when it is not so told."""
    q = s.q
    clocks = [a for a in q.amounts if a.unit == "clock"]
    first = q.find(r"({psi}|{n}) at {clock}[^<]*<(?:psi|n)> at {clock}", r"at {clock}[^<]*({psi}|{n})[^<]*at {clock}")
    read = [a for a in q.amounts if a.unit in ("psi", "n") and not a.per and 40 <= a.value <= 160]
    if len(clocks) != 2 or len(read) != 2 or not first or "psi" not in (read[0].unit, read[1].unit):
        return False
    minutes = 60 * ((clocks[1].value - clocks[0].value) % 12)
    if not 0 < minutes <= _MOST_MINUTES or read[0].value <= read[1].value or q.has(_BUILD):
        return False
    on = q.has(
        r"\b(?:applied|foot (?:\w+ )?on|brakes? on|pedal (?:\w+ )?(?:down|held|pressed)|held|foot (?:\w+ )?down|with the brakes on|pressing|pressed)\b"
    )
    s.note("applied" if on else "static", read[0].value - read[1].value, "psi")
    s.note("time", minutes, "min")
    s.note("apart", minutes / 60, "h")
    s.note(WORDED, by_words(q, *read, *clocks, *q.of("people"), *(a for a in q.of("n") if a not in read)))
    return True


def brakes(s: Sheet) -> Estimate:
    """Verdicts of an air-brake test."""
    from cabassist.estimate import brakes as test

    found: list[Estimate] = []
    minute = quantity(1, "min")
    if s.has("build"):
        if not s.has("time"):
            return exact(
                "build-up time allowed",
                test.BUILD_UP_S,
                "s",
                source=test.CDL_SOURCE,
                verdict=f"At most {test.BUILD_UP_S:g} seconds from 85 to 100 psi.",
                working=("CDL manual § 5.3, dual system: 85 to 100 psi within 45 s.",),
            )
        return test.build_up(
            s.amount("time"),
            start=s.amount("start") if s.has("start") else None,
            end=s.amount("end") if s.has("end") else None,
        )
    time = s.amount("time") if s.has("time") else minute
    for name, on in (("static", False), ("applied", True)):
        if s.has(name):
            given = s.inputs[name]
            drop = quantity(float(given.value), "psi")
            found.append(test.leak_down(drop, minute if "/min" in given.unit else time, applied=on))
    if s.has("warning"):
        at = s.amount("warning")
        found.append(test.low_air_warning(None, dropped_to=at) if s.has("no_warning") else test.low_air_warning(at))
    if s.has("spring"):
        found.append(test.spring_brakes(s.amount("spring")))
    if s.has("cut_in") or s.has("cut_out"):
        found.append(_governor(s))
    if not found:
        return _limit(s)
    first = found[0]
    if len(found) > 1:
        failed = [e for e in found if e.verdict.startswith("Fail")]
        first = failed[0] if failed else found[0]
        others = [e for e in found if e is not first]
        first = replace(
            first,
            verdict=f"{'Fail' if failed else 'Pass'}. " + " ".join(e.verdict for e in found),
            also=(*first.also, *(figure(e.name, e.value, e.unit) for e in others if e.value is not None)),
            working=tuple(line for e in found for line in e.working),
        )
    return first


def _governor(s: Sheet) -> Estimate:
    from cabassist.estimate import brakes as test

    if s.has("cut_in") and s.has("cut_out"):
        return test.governor(s.amount("cut_in"), s.amount("cut_out"))
    if s.has("cut_in"):
        value = s.number("cut_in", "psi")
        good = value >= test.BUS_CUT_IN_PSI
        return exact(
            "governor cut-in",
            value,
            "psi",
            source=test.CDL_SOURCE,
            working=(f"{shown(value)} psi against {test.BUS_CUT_IN_PSI:g}; about {test.USUAL_CUT_IN_PSI:g} is usual.",),
            verdict=f"{'Pass' if good else 'Fail'}: a bus must cut in at {test.BUS_CUT_IN_PSI:g} psi or above.",
        )
    value = s.number("cut_out", "psi")
    usual = abs(value - test.USUAL_CUT_OUT_PSI) <= test.USUAL_SPREAD_PSI
    return exact(
        "governor cut-out",
        value,
        "psi",
        source=test.CDL_SOURCE,
        working=(f"{shown(value)} psi; about {test.USUAL_CUT_OUT_PSI:g} is usual.",),
        verdict=f"{'Pass: usual' if usual else 'Not usual: have it looked at'}; about {test.USUAL_CUT_OUT_PSI:g} psi is the common figure.",
    )


def _limit(s: Sheet) -> Estimate:
    """What the test allows, when no result was told."""
    from cabassist.estimate import brakes as test

    q = s.q
    if q.has(r"\b(?:buzzer|warning|low air)\b"):
        return exact(
            "low-air warning by",
            test.WARNING_PSI,
            "psi",
            source=test.CDL_SOURCE,
            verdict=f"Before {test.WARNING_PSI:g} psi.",
        )
    if q.has(r"\b(?:spring|parking|pop)\b"):
        return Estimate(
            "spring brakes come on",
            test.SPRING_HIGH_PSI,
            "psi",
            test.SPRING_LOW_PSI,
            test.SPRING_HIGH_PSI,
            (),
            (),
            test.CDL_SOURCE,
            "Between 45 and 20 psi.",
        )
    if q.has(r"\b(?:governor|cut)\b"):
        return exact(
            "governor cut-in",
            test.USUAL_CUT_IN_PSI,
            "psi",
            source=test.CDL_SOURCE,
            verdict="In at about 100 psi, never under 85 on a bus; out at about 125.",
            also=(figure("governor cut-out", test.USUAL_CUT_OUT_PSI, "psi"),),
        )
    on = q.has(r"\b(?:applied|foot on|brakes on|with the brakes|pedal)\b")
    value = test.LEAK_PSI_PER_MIN[(on, 1)]
    other = test.LEAK_PSI_PER_MIN[(not on, 1)]
    return exact(
        "air loss allowed",
        value,
        "psi/min",
        source=test.CDL_SOURCE,
        verdict=f"{'3 psi a minute applied, 2 released' if on else '2 psi a minute released, 3 applied'}.",
        also=(figure("applied" if not on else "released", other, "psi/min"),),
        working=("CDL manual § 5.3: 2 psi a minute released, 3 applied.",),
    )
