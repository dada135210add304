"""Questions about diesel: range, idling, weight; what a CO reading means; plain conversions of units."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import converted, same_kind
from cabassist.sums.degrees_apart import degrees_apart, in_other_scale
from cabassist.sums.told_turned import of_litres
from cabassist.sums.working_levels import hours_until_clock, needed_hours
from cabassist.sums.working_sheet import UNIT_NAMES, Missing, Sheet, quantity, with_also, with_verdict
from cabassist.sums.working_trip import distances_told


def _fuel_said(s: Sheet, used: list[Amount]) -> None:
    """Note what is in the tank: gallons or a share of it."""
    q = s.q
    reserve = q.one(
        r"\b(?:keep|keeping|leave|leaving|reserve of|with|still have) (?:a )?({water}|{n}) (?:in (?:the tank|it)|reserve|in reserve|left|back)",
        r"\b(?:reserve|keep|still keep)\b[^<]{0,12}({water})",
        r"({water}) reserve",
    )
    if reserve is not None:
        s.say("reserve", reserve, "gal")
        used.append(reserve)
    leaving = q.one(r"\b(?:leaving|keeping|leave|keep) ({water}|{n})(?= |$)(?! (?:miles|people|percent|hours))")
    if reserve is None and leaving is not None:
        s.say("reserve", leaving, "gal")
        used.append(leaving)
    product = q.find(r"({part}) of ({water})")
    if len(product) == 2:
        s.drop("share")
        s.assumed.append(f"{shown(product[0].value)} of {shown(product[1].value)} {product[1].unit}")
        s.note(
            "fuel", product[0].value / (100 if product[0].unit == "percent" else 1) * product[1].value, product[1].unit
        )
        return
    volumes = [a for a in q.of("water") if a not in used and not a.per]
    size = q.one(r"({water}) (?:fuel |diesel )?tank\b", r"\btank (?:holds|of|is) ({water})")
    share = next((a for a in q.of("part") if a not in used), None)
    if size is None and share is not None and len(volumes) == 1 and not q.has(r"\b(?:left|aboard|used|burned)\b"):
        size = volumes[0]
    if size is not None and (share is not None or q.has(r"\bfull\b")) and size in volumes:
        s.say("size", size)
        volumes.remove(size)
    if volumes:
        s.drop("share")
        s.say("fuel", volumes[0])
    elif share is not None:
        s.drop("fuel")
        s.note("share", share.value / (100 if share.unit == "percent" else 1))
    elif q.has(r"\bfull (?:tank|load|fuel)\b|\bfull\b|\bfilled up\b"):
        s.note("share", 1.0)
    elif q.has(r"\b(?:on|with|at) ({n})(?: of diesel| gallons)?(?= |$)"):
        bare = q.one(r"\b(?:on|with) ({n})(?= |$)")
        if bare is not None and 5 <= bare.value <= 400 and not q.has(r"<n> (?:people|furnaces)"):
            s.say("fuel", bare, "gal")
            s.assumed.append(f"{shown(bare.value)} taken as gallons")


def _fuel(s: Sheet) -> Any:
    from cabassist.language.plausibility import fraction_of_full

    if s.has("fuel"):
        return s.amount("fuel")
    capacity = s.number("size", "gal") if s.has("size") else s.coach.diesel.capacity_gal
    if s.has("share"):
        if not s.has("size"):
            s.assumed.append(f"diesel tank {shown(capacity)} gal (profile)")
        return quantity(s.number("share") * capacity, "gal")
    held = s.latest("diesel")
    share = fraction_of_full(held.reading, s.coach) if held is not None else None
    if held is None or share is None:
        raise Missing("share", "How much diesel is in the tank?", "percent")
    s.assumed.append(f"diesel at {shown(100 * share, 3)} %, {s.age(held)}")
    return quantity(share * capacity, "gal")


_MILEAGE = r"\b(?:mpg|mileage|miles (?:per|to the|a) gallon|fuel economy|economy|how many miles (?:are we|am i|do we|do i) (?:getting|get)|l(?:iters|itres)? per (?:100|hundred))\b"


def mileage_said(s: Sheet) -> bool:
    """Note a distance driven and the fuel it took; False when the mileage is told, or something else is asked."""
    q = s.q
    if q.of("mpg") or not q.has(_MILEAGE) or q.has(r"\b(?:range|how far|make it|enough|reserve)\b"):
        return False
    odometer = q.find(r"\bfrom ({n}|{mi|km}) to ({n}|{mi|km})", r"({n}|{mi|km}) (?:to|then|now) ({n}|{mi|km})")
    if len(odometer) == 2 and 1000 <= odometer[0].value < odometer[1].value:
        far = odometer[1]._replace(value=odometer[1].value - odometer[0].value)
        unit = "km" if "km" in (odometer[0].unit, odometer[1].unit) else "mi"
    else:
        legs = distances_told(q)
        if len(legs) != 1:
            return False
        far, unit = legs[0]
    fuel = [a for a in q.of("water") if not a.per]
    if len(fuel) != 1:
        return False
    s.note("ask", "mileage")
    s.note("distance", far.value, unit)
    s.say("fuel", fuel[0])
    return True


def unfuelled_said(s: Sheet) -> bool:
    """Note a distance whose mileage is asked without the fuel it took; False when the question is another one."""
    q = s.q
    legs = distances_told(q)
    if s.follows or q.of("mpg") or q.of("water") or len(legs) != 1 or len(q.amounts) != 1:
        return False
    if not q.has(
        r"\bwhat (?:is |was |are )?(?:my |our |the )?(?:mpg|mileage)\b|\b(?:mpg|mileage) $|\bmileage (?:are|did|do)\b"
    ):
        return False
    s.note("ask", "mileage")
    s.note("distance", legs[0][0].value, legs[0][1])
    return True


_GAUGE = r"\b(?:gauge|needle|tank)\b(?: \w+){0,3} (?:need|needs|should|must|have to|has to|got to|gotta|ought to)\b|\b(?:should|must|does|do) (?:the |my |our )?(?:(?:fuel|diesel) )?(?:gauge|needle|tank)(?: \w+){0,3} (?:be|read|show|say|stand|sit|point|at|have)\b|\bhow full\b.*\b(?:need|should|must|have to|has to)\b|\b(?:on|by) the (?:fuel |diesel )?(?:gauge|needle)\b"
_EIGHTHS = ("empty", "an eighth", "a quarter", "three eighths", "half", "five eighths", "three quarters", "seven eighths", "full")  # fmt: skip


def _gauge_asked(q: Question) -> bool:
    """Whether it is asked where the fuel gauge must stand for a distance: no level has to be told for that."""
    return q.has(_GAUGE) and [one.unit in ("mi", "km") for one in q.amounts] == [True]


def _on_gauge(s: Sheet, found: Estimate) -> Estimate:
    """So many gallons, with the least eighth of the tank that holds the most that it may be."""
    full = s.coach.diesel.capacity_gal
    most = found.high if found.high is not None else found.value
    if found.value is None or most is None:
        return found
    found = with_also(found, figure("of the tank", 100 * found.value / full, "percent"))
    if most > full:
        verdict = f"More than a full tank of {shown(full)}: plan a fuel stop."
        return with_verdict(found, verdict)
    eighth = min(8, max(1, math.ceil(8 * most / full - 1e-9)))
    return with_verdict(found, f"At least {_EIGHTHS[eighth]} of {shown(full)} gallons, and a reserve on top.")


def diesel_range_said(s: Sheet) -> None:
    """Inputs of "how far can we go on the diesel"."""
    if mileage_said(s) or unfuelled_said(s):
        return
    q = s.q
    used: list[Amount] = []
    if len({a.value for a in q.of("mpg")}) > 1:
        raise ValueError("One mileage at a time, please: ask for each by itself.")
    economy = q.one(
        r"({mpg})", r"\b(?:at|doing|get|gets|getting) (?:about )?({n}) (?:to the gallon|a gallon|per gallon|mpg)"
    )
    per_hundred = q.one(r"({L|n}) (?:per|a|for) (?:hundred|100)")
    if economy is not None:
        s.say("economy", economy, "mi/gallon")
        if s.inputs["economy"].unit == "mpg":
            s.note("economy", economy.value, "mi/gallon")
        used.append(economy)
    elif per_hundred is not None and q.has(r"\bkm\b|\bkilomet\w+\b|\bhundred\b"):
        s.note("economy", 100 / per_hundred.value / 1.609344 * 3.785411784, "mi/gallon")
        used.append(per_hundred)
    distance = q.one(r"({mi|km})")
    if distance is not None:
        s.say("distance", distance)
    if (
        "economy" not in s.fresh
        and (mileage := q.one(r"\bat ({n})(?= |$)(?! (?:gallons|percent))")) is not None
        and mileage.value <= 15
        and (q.of("water") or q.of("part"))
    ):
        s.note("economy", mileage.value, "mi/gallon")
        used.append(mileage)
    _fuel_said(s, used)
    idle = q.one(r"\bidle (?:for )?({h})", r"({h}) (?:of )?idling")
    use = q.one(r"({gal/h|gph})")
    if use is not None:
        s.note("idle_use", use.value, "gal/h")
    if idle is not None:
        s.note("idle_h", converted(idle.value, idle.unit, "h"), "h")
    if q.has(r"\bhow (?:much diesel|much fuel|many gallons)\b") or _gauge_asked(q):
        s.note("ask", "needed")
    elif q.has(r"\bhow far\b|\bhow many (?:miles|kilomet\w+|km)\b|\brange\b"):
        s.note("ask", "range")


def _economy(s: Sheet) -> Any:
    if not s.has("economy"):
        s.profile(
            "economy",
            s.coach.diesel.miles_per_gal,
            "mi/gallon",
            f"{shown(s.coach.diesel.miles_per_gal)} miles a gallon",
        )
    return s.amount("economy")


_ADDED = r"\b(?:add|buy|take on|more|short|put in|top up)\b"


def diesel_range(s: Sheet) -> Estimate:
    """How far the diesel goes, or what a distance takes."""
    from cabassist.estimate import fuel

    if s.text("ask") == "mileage":
        s.need("fuel", "How many gallons did it take?", "gal")
        return fuel.mileage(s.amount("distance"), s.amount("fuel"))
    economy = _economy(s)
    spread = 0.0 if s.said("economy") else 0.1
    told = s.has("fuel") or s.has("share") or s.has("size")
    if s.has("distance") and (s.text("ask") == "needed" or (s.said("economy") and not told)):
        aboard = s.amount("fuel") if s.has("fuel") else None
        if aboard is not None and s.q.has(_ADDED):
            needed = fuel.diesel_needed(distance=s.amount("distance"), economy=economy, use_spread=0.0)
            short = max(0.0, (needed.value or 0.0) - s.number("fuel", "gal"))
            line = f"{shown(needed.value or 0.0)} - {shown(s.number('fuel', 'gal'))} = {shown(short)} gal to add"
            return exact(
                "to add",
                short,
                "gal",
                working=(*needed.working, line),
                source=needed.source,
                verdict="With nothing in reserve: add some more.",
            )
        if s.has("idle_h"):
            idle_use = s.number("idle_use") if s.has("idle_use") else s.coach.diesel.idle_gal_per_h
            return fuel.diesel_needed(
                distance=s.amount("distance"),
                economy=economy,
                idle_time=s.amount("idle_h"),
                idle_use=quantity(idle_use, "gal/h"),
                aboard=aboard,
                use_spread=spread,
            )
        found = fuel.diesel_needed(distance=s.amount("distance"), economy=economy, aboard=aboard, use_spread=spread)
        return _on_gauge(s, found) if aboard is None and _gauge_asked(s.q) else found
    there = _fuel(s)
    if s.has("idle_h") and s.has("distance"):
        return fuel.diesel_needed(
            distance=s.amount("distance"),
            economy=economy,
            idle_time=s.amount("idle_h"),
            idle_use=quantity(s.coach.diesel.idle_gal_per_h, "gal/h"),
            aboard=there,
            use_spread=spread,
        )
    found = fuel.diesel_range(
        there, economy, reserve=s.amount("reserve") if s.has("reserve") else None, economy_spread=spread
    )
    if s.has("distance") and found.value is not None:
        wanted = s.number("distance", found.unit)
        low = found.low if found.low is not None else found.value
        word = "Yes" if low >= wanted else "No" if found.value < wanted else "Barely, with nothing in hand"
        found = with_verdict(found, f"{word}: {shown(wanted, 4)} {found.unit} asked.")
        used = wanted / found.value * float(there.to("gallon").magnitude) if found.value else 0.0
        found = with_also(found, figure("left after that", float(there.to("gallon").magnitude) - used, "gal"))
    return found


def idle_said(s: Sheet) -> None:
    """Inputs of "how long can we idle"."""
    q = s.q
    used: list[Amount] = []
    use = q.one(
        r"({gal/h|L/h|gph})",
        r"\b({n/h})",
        r"\b(?:idle|idling|burns?|uses?) (?:burn |rate |use )?(?:is |at |about )*({n}) (?:an hour|a gallon)",
        r"\b(?:idle|idling) (?:burn|rate|use) (?:is |at |about )*({n})",
        r"\b(?:idle|idling|idles) at (?:about )?({n})(?= |$)(?! (?:degrees|rpm|below))",
        r"\bidl(?:e|es|ed|ing) (?:for )?(?:about )?<(?:h|min)> at (?:about )?({n})(?= |$)(?! (?:degrees|rpm|below))",
    )
    if use is not None:
        s.say("use", use, "gal/h")
        if s.inputs["use"].unit == "gph":
            s.note("use", use.value, "gal/h")
        used.append(use)
    hours = q.one(
        r"\b(?:idle|idling|idles)\b[^<]{0,20}({h})",
        r"({h}) (?:of )?(?:at idle|idle|idling)",
        r"\b(?:in|for) ({h})",
        r"({h})",
    )
    if hours is not None and not hours.per:
        s.note("hours", converted(hours.value, hours.unit, "h") if hours.unit != "night" else 9.0 * hours.value, "h")
    else:
        span = q.find(r"\bfrom ({clock}|{n}) (?:at night )?(?:to|till|until) ({clock}|{n})")
        if len(span) == 2:
            from cabassist.sums.working_levels import clock_hours

            s.note("hours", clock_hours(*span), "h")
            used += span
        else:
            needed_hours(s)
            till = q.one(r"\b(?:till|until|til) (?:about |around )?({n})(?= ,| $|$| how| what)")
            if s.has("needed"):
                s.note("hours", s.number("needed", "h"), "h")
            elif till is not None and 1 <= till.value <= 12:  # "idling till seven": the next seven
                s.say("until", till, "h")
                s.note("hours", hours_until_clock(s, till), "h")
                used.append(till)
            elif q.has(r"\ball night\b|\bovernight\b|\ba night\b"):
                s.note("hours", 9.0, "h")
                s.assumed.append("a night of 9 hours")
    economy = q.one(r"({mpg})")
    if economy is not None:
        s.note("economy", economy.value, "mi/gallon")
    _fuel_said(s, used)
    if (
        "fuel" in s.fresh
        and s.inputs["fuel"].unit == "gal"
        and s.q.has(r"<gal/h>")
        and s.number("fuel") == (s.number("use") if s.has("use") else None)
    ):
        s.inputs.pop("fuel")
    distance = q.one(r"({mi|km})")
    if distance is not None:
        s.say("distance", distance)
    if q.has(
        r"\bhow much (?:diesel|fuel)\b|\bhow many gallons\b|\bin gallons\b|\bfuel (?:burned|goes)\b|\bburn a gallon\b|\bdoes .* burn\b|\bburns? how much\b|\bhow much for\b|\bcost(?: \w+)? in (?:fuel|diesel)\b|\b(?:diesel|fuel) (?:used|use|burn)\b|\b(?:will|do|would) (?:i|we|it) (?:burn|use)\b"
    ) and not q.has(r"\bleft\b|\benough\b"):
        s.note("ask", "burned")
    elif q.has(r"\bhow many (?:hours|nights)\b|\bhow long\b|\bhours (?:left|of)\b"):
        s.note("ask", "hours")
    elif q.has(_STILL_IN):
        s.note("ask", "left")


_STILL_IN = r"\bwhat (?:is |' s |s )?(?:still |left )?in (?:there|it|the tank)\b|\bwhats (?:still |left )?in (?:there|it|the tank)\b|\bhow (?:much|full)(?: \w+){0,3} (?:left|now|still|in the tank)\b|\bwhat (?:is |s |' s |does that |do i have |have i got )?(?:left|leave|remains?)\b"
_HOURLY = r"\b(?:an|per|a) hour\b|\bthat <h>|\bhourly\b|\bburn rate\b"


def idle_hours(s: Sheet) -> Estimate:
    """Hours of idling, or what idling burns."""
    from cabassist.estimate import fuel

    spread = 0.0 if s.said("use") else 0.1
    if not s.has("use"):
        s.profile(
            "use",
            s.coach.diesel.idle_gal_per_h,
            "gal/h",
            f"{shown(s.coach.diesel.idle_gal_per_h)} gallons an hour at idle",
        )
    use = s.amount("use")
    if s.has("distance") and s.has("hours"):
        burned = s.text("ask") == "burned" and not s.has("fuel") and not s.has("share")
        return fuel.diesel_needed(
            distance=s.amount("distance"),
            economy=_economy(s),
            idle_time=s.amount("hours"),
            idle_use=use,
            aboard=None if burned else _fuel(s),
            use_spread=spread,
        )
    burns = s.text("ask") == "burned" or (
        s.said("use") and s.text("ask") != "hours" and not s.has("fuel") and not s.has("share")
    )
    if burns and s.has("hours"):
        return fuel.diesel_needed(idle_time=s.amount("hours"), idle_use=use, use_spread=spread)
    if s.has("hours", "fuel") and not s.said("use") and s.q.has(_HOURLY):
        rate = s.number("fuel", "gal") / s.number("hours", "h")
        line = f"{shown(s.number('fuel', 'gal'))} gal ÷ {shown(s.number('hours', 'h'))} h = {shown(rate)} gal an hour"
        return exact("burned at idle", rate, "gal/h", working=(line,), source="arithmetic")
    if s.text("ask") == "left" and s.has("hours") and s.said("use"):
        there = float(_fuel(s).to("gallon").magnitude)
        gone = float(use.to("gallon/hour").magnitude) * s.number("hours", "h")
        line = f"{shown(there)} - {shown(gone)} = {shown(there - gone)} gal"
        return exact("left", max(0.0, there - gone), "gal", working=(line,), source="arithmetic", also=(figure("burned", gone, "gal"),))  # fmt: skip
    found = fuel.idle_hours(_fuel(s), use, reserve=s.amount("reserve") if s.has("reserve") else None, use_spread=spread)
    if s.has("hours") and found.value is not None:
        hours = s.number("hours", "h")
        low = found.low if found.low is not None else found.value
        word = "Yes" if low >= hours else "No" if found.value < hours else "Barely"
        found = with_verdict(found, f"{word}: {roughly(hours)} asked.")
        found = with_also(found, figure("burned in that time", float(use.to("gallon/hour").magnitude) * hours, "gal"))
    return found


def diesel_weight_said(s: Sheet) -> None:
    """Inputs of "what does the diesel weigh"."""
    _fuel_said(s, [])
    if s.q.has(r"\bper gallon\b|\ba gallon\b") and not s.q.of("water"):
        s.note("fuel", 1.0, "gal")
    s.say("over", s.q.one(r"\b(?:more than|over|under|less than) ({lb})"))
    if s.q.has(r"\btopping off\b|\bfilling up\b|\bfill it\b|\bheavier than the water\b"):
        s.note("share", 1.0)


def diesel_weight(s: Sheet) -> Estimate:
    """Weight of diesel."""
    from cabassist.estimate import fuel

    amount = _fuel(s)
    found = fuel.diesel_weight(amount)
    if s.has("over") and found.value is not None:
        limit = s.number("over", "lb")
        found = with_verdict(found, f"{'Over' if found.value > limit else 'Under'} {shown(limit)} pounds.")
    return found


# -- carbon monoxide --------------------------------------------------------------------------------


def co_said(s: Sheet) -> None:
    """Inputs of "what does nine ppm mean"."""
    weighed = s.q.one("({weighed})")
    if weighed is not None:
        s.note("mg", weighed.value)
        return
    s.drop("mg")
    value = s.q.one(r"({ppm})", r"\b(?:is|reads?|reading of|shows?|says?|detector) ({n})", r"({n})")
    if value is not None:
        s.note("ppm", value.value, "ppm")


def co_meaning(s: Sheet) -> Estimate:
    """What a carbon monoxide reading means."""
    from cabassist.estimate import co

    if s.has("mg"):
        return co.ppm_of(s.number("mg"))
    if not s.has("ppm"):
        limits = tuple(text for _, text in co.LIMITS)
        also = (
            figure("an alarm must sound within 4 hours at", co.ALARM[0][0], "ppm"),
            figure("OSHA 8-hour average", 50.0, "ppm"),
        )
        return Estimate(
            "carbon monoxide limits",
            None,
            "ppm",
            None,
            None,
            limits,
            (),
            co.LIMIT_SOURCE,
            "None is right. 35 to 50 ppm are limits of a working day, and an alarm may stay silent below 70. Whatever it shows above zero: fresh air, and find the source.",
            also,
        )
    if s.q.has(r"\b(?:mg|milligrams?)\b"):
        return co.mg_per_m3(s.number("ppm"))
    found = co.co_reading(s.number("ppm"))
    if s.number("ppm") > 0 and s.q.has(r"\b(?:how long|safe|okay|ok|can we stay|sleep|stay|fine)\b"):
        # No time and no level is safe: nothing here may be taken for a number to live by.
        return replace(found, value=None, low=None, high=None)
    return found


# -- conversions ------------------------------------------------------------------------------------


def conversion_said(s: Sheet) -> None:
    """Inputs of "how many litres is fifty gallons"."""
    q = s.q
    s.drop("apart")
    if (apart := degrees_apart(q, asked_unit(q))) is not None:
        s.note("apart", *apart)
        return
    wanted = asked_unit(q)
    if wanted:
        s.note("to", wanted)
    measured = [a for a in q.amounts if a.unit not in ("n", "part", "people", "used")]
    tag = measured[0].tag if measured else ""
    if q.has(r"\bimperial\b"):
        source = measured[0] if measured else q.one(r"({n})")
        if source is not None:
            first = q.frame.find("imperial") < max(q.frame.find(" us "), q.frame.find(" american "), 0) or q.has(
                r"imperial (?:gallons )?(?:to|in|is)"
            )
            s.note("amount", source.value, "igal" if first else "gal")
            s.note("to", "gal" if first else "igal")
        return
    if measured:
        unit = {
            "gal/min": "gpm",
            "mi/h": "mph",
            "km/h": "km/h",
            "temp": "F" if s.text("to") == "C" else "C" if s.text("to") == "F" else q.scale,
        }.get(tag, tag)
        s.note("amount", measured[0].value, unit)
        if len(measured) == 1 and not wanted and s.has("to"):
            pass
        return
    bare = q.one(r"({n})")
    if bare is not None:
        unit = _unit_before_to(q.frame)
        if unit:
            s.note("amount", bare.value, unit)
        elif s.has("amount"):
            s.note("amount", bare.value, s.inputs["amount"].unit)


def _unit_before_to(frame: str) -> str:
    import re

    from cabassist.language.calculation_units import UNIT_WORDS

    match = re.search(r" (\w+(?: \w+)?) to ", frame)
    if not match:
        return ""
    words = match[1].split()
    return UNIT_WORDS.get(match[1], UNIT_WORDS.get(words[-1], ""))


def conversion(s: Sheet) -> Estimate:
    """An amount in another unit."""
    if s.has("apart"):
        return in_other_scale(s.number("apart"), s.inputs["apart"].unit)
    if s.q.has(r"\b(?:mpg|miles per gallon)\b") and s.has("amount") and s.inputs["amount"].unit == "L":
        from cabassist.estimate.fuel import MPG_TIMES_L_PER_100_KM

        value = MPG_TIMES_L_PER_100_KM / s.number("amount")
        return exact(
            "miles per gallon",
            value,
            "mi/gal",
            working=(f"235.2 ÷ {shown(s.number('amount'))} L per 100 km = {shown(value)}",),
            source="exact definitions (NIST Handbook 44)",
        )
    if not s.has("amount"):
        raise Missing("amount", "How much is to be converted?", "")
    if s.inputs["amount"].unit == s.text("to") == "mpg" and (told := of_litres(s.q)) is not None:
        return told
    have, wanted = s.inputs["amount"].unit, s.text("to") or _usual_twin(s.inputs["amount"].unit)
    if not wanted or not same_kind(have, wanted):
        raise ValueError("I can't turn one into the other: they measure different things.")
    value = converted(s.number("amount"), have, wanted)
    shown_from, shown_to = UNIT_NAMES.get(have, have), UNIT_NAMES.get(wanted, wanted)
    if {have, wanted} == {"F", "C"}:
        line = (
            f"({shown(s.number('amount'))} - 32) ÷ 1.8 = {shown(value)}"
            if wanted == "C"
            else f"{shown(s.number('amount'))} x 1.8 + 32 = {shown(value)}"
        )
    else:
        line = f"{shown(s.number('amount'))} {shown_from} = {shown(value)} {shown_to}"
    return exact(
        "conversion",
        value,
        "gal" if wanted == "igal" else shown_to,
        working=(line,),
        source="exact definitions (NIST Handbook 44 App. C)",
    )


def _usual_twin(unit: str) -> str:
    return {
        "gal": "L",
        "L": "gal",
        "F": "C",
        "C": "F",
        "lb": "kg",
        "kg": "lb",
        "mi": "km",
        "km": "mi",
        "ft": "m",
        "m": "ft",
        "in": "cm",
        "cm": "in",
        "psi": "kPa",
        "kPa": "psi",
        "bar": "psi",
        "mph": "km/h",
        "km/h": "mph",
        "lb-ft": "N·m",
        "N·m": "lb-ft",
    }.get(unit, "")
