"""Questions about the cold: freezing water, heat pads, wind chill, gelling diesel, the cabin without heat, heat loss."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cabassist.dialogue.working_levels import hours_until_clock, needed_hours, tank_levels
from cabassist.dialogue.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Amount, converted
from cabassist.units import registry

HELD_F = 40.0
"""Water in a tank that the pad has kept from freezing, when nobody says; common practice, no source."""
_OUT = (
    r"\b(?:outside|out|air|outdoors|ambient|weather) (?:is |at |of |temp\w* |it |was |says |reads )*({temp}|{n})",
    r"({temp}|{n}) (?:degrees )?(?:out|outside|outdoors|air|ambient|weather)\b",
    r"\b(?:it|it is) ({temp}) (?:and|with|out)",
    r"\b(?:drops? to|going (?:down )?to|goes to|forecast (?:is )?|low of|tonight) ({temp})",
)


def temperatures(s: Sheet, warm: str, cold: str, warm_cues: tuple[str, ...]) -> None:
    """Note a warm and a cold temperature by their cues; what is left goes to the cold one, the warmer of two to the warm."""
    q = s.q
    temps = [a for a in q.of("temp")]
    hot = q.one(*warm_cues)
    if hot is not None and hot.unit == "n" and not -60 <= hot.value <= 120:
        hot = None
    out = next((a for a in (q.one(p) for p in _OUT) if a is not None and a != hot and abs(a.value) <= 130), None)
    rest = [t for t in temps if t not in (hot, out)]
    if out is None and rest:
        if hot is None and len(rest) > 1:
            hot, out = max(rest, key=lambda t: t.value), min(rest, key=lambda t: t.value)
        else:
            out = rest[0]
    elif hot is None and rest:
        hot = rest[0]
    if out is None:
        bare = q.one(r"(?<!power)(?<!off)(?<!lost)(?<!plugged in)(?<!quit) at ({n})(?! (?:percent|o'clock|am|pm|in the|more|hours|days))(?= |$)", r"\bfor ({n}) $")
        if bare is not None and bare != hot and -60 <= bare.value <= 100:
            out = bare
    if hot is not None and hot.value <= (0 if (hot.unit if hot.unit in ("F", "C") else q.scale) == "C" else 32) and (warm != "hold" or out is None):
        # What is meant to be warm is not below freezing: "does the pad hold at ten below" tells the air.
        hot, out = (None, hot) if out is None else (out, hot) if out.value > hot.value else (None, out)
    s.say(warm, hot, q.scale)
    s.say(cold, out, q.scale)


def loss_said(s: Sheet) -> None:
    """Note a loss for each degree, or a steady loss, as said."""
    q = s.q
    each = q.one(r"({perdeg})")
    if each is not None:
        unit = each.unit.removesuffix("/h")
        metric = each.per == "degC" or (each.per == "deg" and q.scale == "C")
        s.note("loss_w_k", _w_per_k(each.value, unit, metric), "W/K")
        s.note("loss_said", f"{shown(each.value)} {'BTU/h' if unit == 'BTU' else unit} per °{'C' if metric else 'F'}")
        return
    bare = q.one(r"\b(?:lose|loses|losing|loss of|leaks?) (?:about )?({n}|{W}) (?:watts )?(?:per|a|for each|for every|each) degree")
    if bare is not None:
        s.note("loss_w_k", _w_per_k(bare.value, "W", q.scale == "C"), "W/K")
        return
    steady = q.one(r"\b(?:lose|loses|losing|loss of|loss is|lost) (?:about |heat at |a steady |at )*({W|btu})", r"({W|btu}) (?:of )?(?:heat )?(?:loss|lost)")
    if steady is not None:
        s.drop("loss_w_k")
        s.note("loss_w", converted(steady.value, "BTU/h" if steady.unit.startswith("BTU") else steady.unit, "W"), "W")


def _w_per_k(value: float, unit: str, metric: bool) -> float:
    watts = value * (0.29307107 if unit == "BTU" else 1000 if unit == "kW" else 1)
    return watts if metric else watts * 1.8


def _loss(s: Sheet, tank: str) -> Any:
    if not s.has("loss_w_k"):
        own = s.tank(tank)
        s.profile("loss_w_k", own.heat_loss_w_per_k, "W/K", f"{tank} tank loses {shown(own.heat_loss_w_per_k)} W per °C")
    return registry().Quantity(s.number("loss_w_k"), "W/delta_degC")


# -- freezing ---------------------------------------------------------------------------------------


def freeze_time_said(s: Sheet) -> None:
    """Inputs of "how long until the tank freezes"."""
    q = s.q
    needed_hours(s)
    temperatures(
        s,
        "start",
        "outside",
        (
            r"({temp}|{n}) (?:degree )?water\b",
            r"\bwater (?:that is |in it |in the tank )?(?:is |at |starts? at |starting at |of )*({temp}|{n})\b",
            r"\b(?:tank|fresh|waste|gallons|<gal>|<L>) (?:of water |water )?(?:is |at |starts? at |it at )+({temp})",
            r"\b(?:from|starting at|starts at|started at) ({temp}|{n})",
            r"({temp}) (?:in the tank|tank)\b",
        ),
    )
    loss_said(s)
    wind = q.one(r"({speed})", r"\bwind (?:of |at |is )?({n})", r"\bblowing ({n})")
    s.say("wind", wind, "mph")
    if q.has(r"\bhow (?:cold|low)\b|\bcolder than\b|\bcoldest\b|\blowest\b|\bbelow (?:the )?(?:air|outside)\b|\bcolder than\b"):
        s.note("ask", "coldest")
    elif q.has(r"\bhow much heat\b|\bhow many btus?\b"):
        s.note("ask", "heat")
    elif q.has(r"\b(?:solid|all the way|right through|block of ice|completely)\b"):
        s.note("ask", "solid")
    elif q.has(r"\bhow (?:warm|cold) will\b|\bwhat temp\w*\b.*\bafter\b|\btemperature .* after\b"):
        s.note("ask", "after")
    thing = "hose" if q.has(r"\bhose\b(?! (?:bib|bay))") else "line" if q.has(r"\b(?:pipes?|lines?)\b") else "waste" if q.has(r"\b(?:waste|black|sewage|holding|gr[ae]y)\b") else ""
    if thing or not s.follows:
        s.note("thing", thing or "fresh")
    bore = q.one(r"({in|mm}) (?:hose|pipe|line|pex)")
    s.say("bore", bore)
    volume = next((a for a in q.of("water")), None)
    if volume is not None:
        s.drop("fresh_share", "waste_share")
        s.say("volume", volume)
    elif thing in ("", "waste"):
        tank_levels(s, ("waste" if thing == "waste" else "fresh",), [a for a in q.amounts if a.unit == "n" or a.unit == "percent" and q.has("<percent> chance")])
        s.drop("volume")


def freeze_time(s: Sheet) -> Estimate:
    """Hours until water freezes, or how cold it can get."""
    from cabassist.estimate import cold, wind_chill

    if s.text("ask") == "coldest":
        s.outside("How cold is the air?")
        return wind_chill.coldest_unheated(s.amount("outside"), s.amount("wind") if s.has("wind") else None)
    thing = s.text("thing") or "fresh"
    if thing in ("hose", "line"):
        s.outside()
        s.assume("bore", 0.625 if thing == "hose" else 0.5, "in", f"{'5/8' if thing == 'hose' else '1/2'} inch {thing}")
        s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with")
        found = cold.hours_for_hose_to_freeze(s.amount("bore"), s.amount("start"), s.amount("outside"), wind=s.amount("wind") if s.has("wind") else None)
        return _frozen_by(s, found)
    volume = _volume(s, thing)
    if s.text("ask") == "heat":
        s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with")
        return cold.freezing_reserve(volume, s.amount("start"))
    if s.has("loss_w"):
        s.need("start", "How warm is the water now?", "temp")
        return _solid(s, cold.hours_to_freeze_at_loss(volume, s.amount("start"), quantity(s.number("loss_w"), "W")))
    s.outside()
    s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with: say if it is warmer")
    loss = _loss(s, thing)
    if s.text("ask") == "after" and s.has("needed"):
        return cold.water_temperature_after(volume, s.amount("start"), s.amount("outside"), loss, s.amount("needed"))
    return _solid(s, _frozen_by(s, cold.hours_to_freeze(volume, s.amount("start"), s.amount("outside"), loss)))


def _volume(s: Sheet, tank: str) -> Any:
    if s.has("volume"):
        return s.amount("volume")
    level = s.level(tank)
    if level is None:
        raise Missing(tank, f"How much is in the {tank} tank?", "percent")
    if level <= 0:
        raise ValueError(f"An empty {tank} tank does not freeze. Say how much is in it.")
    return quantity(level * s.capacity(tank), "gal")


def _frozen_by(s: Sheet, found: Estimate) -> Estimate:
    if not s.has("needed"):
        return found
    hours = s.number("needed", "h")
    if found.value is None:
        return with_verdict(found, "No.")
    early, late = found.low or found.value, found.high or found.value
    word = "Yes, it can freeze" if found.value <= hours else "Perhaps: too close to tell" if early <= hours else "No, not"
    _ = late
    return with_verdict(found, f"{word} within {roughly(hours)}.")


def _solid(s: Sheet, found: Estimate) -> Estimate:
    if s.text("ask") != "solid":
        return found
    solid = next((f for f in found.also if f.name == "frozen solid"), None)
    if solid is None or found.value is None:
        return found
    first = figure("first ice", found.value, "h", found.low, found.high)
    return replace(found, name=solid.name, value=solid.value, low=solid.low, high=solid.high, also=(first, *(f for f in found.also if f is not solid)))


# -- heat pads --------------------------------------------------------------------------------------


def heat_pad_said(s: Sheet) -> None:
    """Inputs of "how many watts does the pad need"."""
    q = s.q
    loss_said(s)
    temperatures(
        s,
        "hold",
        "outside",
        (
            r"\b(?:hold|keep|holding|keeping|held)\b(?:(?!outside|out )[^<]){0,25}\b(?:at|above|to) ({temp}|{n})",
            r"\b(?:hold|keep|holding|keeping) ({temp}|{n})",
            r"\b(?:tank|water) (?:at|to stay at) ({temp}|{n}) (?:when|if|with|while)",
        ),
    )
    pad = q.one(r"({W}) (?:of )?(?:heat )?(?:pad|tape|heater|mat)\b", r"\b(?:pad|tape|heater) (?:is |of |gives |puts out |at )*({W})", r"({W})")
    if pad is not None and not s.q.has(r"\bloses <W>|\blosing <W>"):
        s.say("pad", pad)
    tank = "waste" if q.has(r"\b(?:waste|black|sewage|tape|holding tank)\b") else "fresh"
    if not s.follows or q.has(r"\b(?:waste|tape|fresh|black)\b"):
        s.note("tank", tank)
    wind = q.one(r"({speed})")
    s.say("wind", wind, "mph")
    if q.has(r"\b(?:lowest|coldest|how cold|how many degrees|how low|fall behind|falls behind|down to|at what|what outside|good to)\b"):
        s.note("ask", "coldest")
    elif q.has(r"\b(?:enough|big enough|strong enough|keep up|keeps up|hold|holds|cope|copes|stay|stays)\b") and (pad is not None or not q.has(r"\bhow (?:many|much)|\bwhat wattage|\bwatts (?:to|for|needed)")):
        s.note("ask", "holds")
    elif not s.follows:
        s.drop("ask")


def heat_pad(s: Sheet) -> Estimate:
    """Watts a pad needs, or whether it holds."""
    from cabassist.estimate import heat_pad as pads

    tank = s.text("tank") or "fresh"
    loss = _loss(s, tank)
    ask = s.text("ask")
    scale = "C" if s.has("outside") and s.inputs["outside"].unit == "C" else "F"
    if ask in ("coldest", "holds") or (s.has("pad") and not ask):
        if not s.has("pad"):
            own = s.tank(tank)
            watts = own.heat_tape.power_w if tank == "waste" and own.heat_tape else own.heat_pad_w
            if not watts:
                raise Missing("pad", "How many watts is the pad?", "W")
            s.profile("pad", watts, "W", f"{shown(watts)} W {'tape' if tank == 'waste' else 'pad'}")
        hold = s.amount("hold") if s.has("hold") else None
        if ask == "coldest" and not s.has("outside"):
            found = pads.heat_pad_holds(s.amount("pad"), quantity(0, scale), loss, hold=hold)
            cold = next(f for f in found.also if f.name.startswith("coldest"))
            line = f"{shown(s.number('pad'))} W ÷ {shown(s.number('loss_w_k'))} W per °C = {shown(s.number('pad') / s.number('loss_w_k'))} °C above the air"
            verdict = f"Good down to about {shown(cold.value, 3)} °{cold.unit}."
            return Estimate("coldest air it holds in", cold.value, cold.unit, cold.low, cold.high, (line,), found.assumptions, found.source, verdict)
        s.outside()
        return pads.heat_pad_holds(s.amount("pad"), s.amount("outside"), loss, hold=hold)
    s.outside()
    if not s.has("hold"):
        s.assume("hold", 0.0 if scale == "C" else 32.0, scale, "held at freezing; a few degrees more are wiser")
    return pads.heat_pad_watts(s.amount("hold"), s.amount("outside"), loss)


# -- skin -------------------------------------------------------------------------------------------


def wind_said(s: Sheet) -> None:
    """Inputs of wind chill and frostbite."""
    q = s.q
    chill = q.one(r"\bchil+ (?:is |of |it )*({temp})(?! wind| with| and)", r"\bat wind ?chil+ (?:of )?({temp})")
    temps = [t for t in q.of("temp") if t != chill]
    asked = q.one(r"\b(?:under|below|over|above) ({temp})")
    if len(temps) > 1 and asked is not None:
        temps = [t for t in temps if t != asked]
        s.say("against", asked, q.scale)
    wind = q.one(
        r"({speed})",
        r"\b(?:wind|winds|gust\w*|blowing|breeze|windy)(?:(?!<)[^<]){0,25}({n})",
        r"({n}) (?:mile |knot )?(?:wind|winds|gusts?|breeze)\b",
    )
    bare = [a for a in q.of("n") if a != wind and -80 <= a.value <= 120]
    if wind is None and temps and bare:
        wind, bare = bare[0], bare[1:]
    if wind is None and len(bare) > 1:
        wind, bare = bare[1], bare[:1]
    air = temps[0] if temps else bare[0] if bare and (q.has(r"\bat <n>|\bfor <n>|\b<n> degrees|<n> with|<n> and") or not s.follows) else None
    s.say("air", air, q.scale)
    if wind is not None and wind.unit in ("mi", "km"):
        wind = wind._replace(unit="mph" if wind.unit == "mi" else "km/h", per="")
    s.say("wind", wind, "mph")
    if q.has(r"\bno wind\b|\bcalm\b|\bstill air\b|\bdead calm\b"):
        s.note("wind", 0.0, "mph")
    if chill is not None:
        s.say("chill", chill, q.scale)
    stay = q.one(r"({min}|{h})")
    if stay is not None:
        s.note("stay", converted(stay.value, stay.unit, "min"), "min")
    if q.has(r"\bat what (?:wind ?chill|temp\w*)\b|\bwhat wind ?chill\b"):
        s.note("ask", "starts")
    elif q.has(r"\bmuch colder\b|\bhow much lower\b"):
        s.note("ask", "difference")


def _air_and_wind(s: Sheet) -> None:
    if not s.has("air") and not s.from_reading("air", "outside_temp", "outside temperature", "F"):
        raise Missing("air", "How cold is the air?", "temp")
    s.need("wind", "How strong is the wind, in miles an hour?", "mph")


def wind_chill(s: Sheet) -> Estimate:
    """Wind chill on bare skin."""
    from cabassist.estimate import wind_chill as chill

    _air_and_wind(s)
    found = chill.wind_chill(s.amount("air"), s.amount("wind"))
    if s.text("ask") == "difference" and found.value is not None:
        colder = s.number("air", found.unit) - found.value
        return with_also(with_verdict(found, f"It makes it feel {shown(colder, 3)} degrees colder."), figure("colder by", colder, found.unit))
    if s.has("against") and found.value is not None:
        limit = s.number("against", found.unit)
        return with_verdict(found, f"{'Yes' if found.value < limit else 'No'}: it is {shown(found.value, 3)}.")
    return found


def frostbite(s: Sheet) -> Estimate:
    """Minutes until bare skin can freeze."""
    from cabassist.estimate import wind_chill as chill

    if s.text("ask") == "starts" and not s.has("air") and not s.has("chill"):
        band = chill.FROSTBITE_BANDS[-1]
        return exact("frostbite starts at a wind chill of", band[0], "F", source=band[4], verdict="From a wind chill of about -18 °F bare skin freezes in 30 minutes or less.", working=("NWS chart: 30 minutes at about -18 °F",))
    if s.has("chill"):
        found = _by_chill(s, s.number("chill", "F"))
    else:
        if not s.has("wind") and s.has("air"):
            s.assume("wind", 5.0, "mph", "a light wind, 5 miles an hour: say the wind")
        _air_and_wind(s)
        found = chill.frostbite_time(s.amount("air"), s.amount("wind")) if s.number("wind") >= 3 else _by_chill(s, s.number("air", "F"))
    if s.has("stay"):
        stay = s.number("stay")
        if found.value is None:
            return with_verdict(found, "Probably not.")
        word = "Too long" if stay >= found.value else "A risk" if stay >= (found.low or found.value) else "Probably safe, with skin covered"
        found = with_verdict(found, f"{word}: {roughly(stay / 60)}.")
    return found


def _by_chill(s: Sheet, chill_f: float) -> Estimate:
    from cabassist.estimate import wind_chill as chill

    for most_f, minutes, low, high, source in chill.FROSTBITE_BANDS:
        if chill_f <= most_f:
            verdict = f"Bare skin can freeze in {shown(minutes)} minutes or less. Cover up and work in short turns."
            return Estimate("time to frostbite", minutes, "min", low, high, (f"Wind chill {shown(chill_f, 3)} °F: at or below {shown(most_f)} °F.",), ("bare, dry, healthy skin; wet skin and bare metal freeze sooner",), source, verdict)
    return Estimate("time to frostbite", None, "min", None, None, (f"Wind chill {shown(chill_f, 3)} °F: above -18 °F.",), (), "NWS chart (published)", "The chart gives no time above a wind chill of about -18 °F. Low risk, but cover up.")


# -- diesel -----------------------------------------------------------------------------------------


def gel_risk_said(s: Sheet) -> None:
    """Inputs of "will the diesel gel"."""
    q = s.q
    cloud = q.one(r"\bcloud(?: point)? (?:is |of |at |it |was )*({temp}|{n})", r"({temp}|{n}) cloud\b", r"\b(?:treated to|rated (?:to|for)) ({temp}|{n})")
    s.say("cloud", cloud, q.scale)
    share = q.one(r"({percent|part}) (?:of )?(?:number|no|#) {n}", r"({percent}) (?:blend|mix|kerosene)", r"\b(?:blend|mix) (?:of )?({percent})", r"({percent}) (?:number|no)")
    if share is not None:
        s.note("no1", share.value / (100 if share.unit == "percent" else 1))
    pair = next((a for a in q.of("n") if a.pieces in (("50", "50"), ("70", "30"), ("60", "40"), ("80", "20"), ("30", "70"), ("90", "10"))), None)
    pair_slash = q.has(r"\b(?:fifty fifty|50 / 50|half and half)\b") or (q.has(r"<part> .*number <n> plus <part>|<part> number"))
    if pair is not None:
        s.note("no1", min(float(pair.pieces[0]), float(pair.pieces[1])) / 100)
        s.assumed.append("the smaller part of the blend is No. 1")
    elif pair_slash and share is None:
        s.note("no1", 0.5)
    elif q.has(r"\b(?:straight |pure |all )?number (?:one|<n>)\b|\bno 1\b") and share is None:
        number = q.one(r"\bnumber ({n})", r"\bno ({n})")
        if number is not None and number.value == 1 and not q.has(r"\bhow much number\b"):
            s.note("no1", 1.0)
    if q.has(r"\bhow much number <n>|\bhow much (?:kerosene|no)\b"):
        s.note("ask", "share")
    elif q.has(r"\b(?:what temp\w*|at what|how cold|how low|cloud point of|what cloud)\b") and not s.has("outside"):
        s.note("ask", "cloud")
    temp = next((t for t in (q.one(r"\b(?:to|at|of|for|in|going to) ({temp})"), *q.of("temp")) if t is not None and t != cloud), None)
    if temp is None:
        bare = q.one(r"\bat ({n})(?! percent)", r"\b(?:going|down|drops?|falls?) to ({n})(?! percent)")
        temp = bare if bare is not None and bare not in (cloud, pair) else None
    if temp is not None:
        s.say("outside", temp, q.scale)


def gel_risk(s: Sheet) -> Estimate:
    """Whether the diesel clouds, or at what temperature."""
    from cabassist.estimate import fuel

    typical = quantity(fuel.CLOUD_TYPICAL_F, "F")
    if s.has("no1") and s.number("no1") == 1.0:
        if not s.has("outside"):
            return Estimate("cloud point", -40.0, "F", -45.0, -35.0, (), ("straight No. 1",), fuel.CLOUD_SOURCE, "No. 1 clouds near -40 °F.")
        return fuel.gel_risk(s.amount("outside"), cloud_point=s.amount("cloud") if s.has("cloud") else quantity(-40, "F"))
    if s.text("ask") == "share":
        return _share_needed(s)
    if s.has("no1"):
        if not s.has("cloud"):
            s.assumed.append("cloud point of a typical No. 2, 15 °F; ask the seller")
        blend = fuel.blended_cloud_point(s.amount("cloud") if s.has("cloud") else typical, s.number("no1"))
        if not s.has("outside"):
            return blend
        high = blend.high if blend.high is not None else blend.value or 0.0
        found = fuel.gel_risk(s.amount("outside"), cloud_point=quantity(high, "F"))
        return replace(found, working=(*blend.working, f"plan with {shown(high)} °F", *found.working), also=(figure("cloud point of the blend", blend.value or 0.0, "F", blend.low, blend.high), *found.also))
    if s.text("ask") == "cloud" and not s.has("outside"):
        return Estimate("cloud point", fuel.CLOUD_TYPICAL_F, "F", fuel.CLOUD_LOW_F, fuel.CLOUD_HIGH_F, (), ("typical No. 2; winter fuel is lower",), fuel.CLOUD_SOURCE, "A typical No. 2 clouds at about 15 °F; it can be anywhere from -18 to 20, even 40. Ask the seller for the cloud point.")
    s.outside("How cold will it get?")
    return fuel.gel_risk(s.amount("outside"), cloud_point=s.amount("cloud") if s.has("cloud") else None)


def _share_needed(s: Sheet) -> Estimate:
    from cabassist.estimate import fuel

    s.outside("How cold will it get?")
    cloud = s.number("cloud", "F") if s.has("cloud") else fuel.CLOUD_TYPICAL_F
    wanted = s.number("outside", "F") - fuel.CAUTION_F
    tenths = max(0.0, (cloud - wanted) / fuel.BLEND_F_PER_TENTH)
    share = tenths * 10
    line = f"({shown(cloud)} - {shown(wanted)}) ÷ {fuel.BLEND_F_PER_TENTH:g} °F for each 10 % = {shown(share)} %"
    if share > 100:
        return Estimate("share of No. 1", None, "percent", None, None, (line,), ("rule of thumb (from memory)",), fuel.CLOUD_SOURCE, "Straight number 1: by the rule of thumb no blend of this No. 2 is enough.")
    return Estimate("share of No. 1", share, "percent", share, 100.0, (line,), ("3 °F for each 10 % is a rule of thumb (from memory); modern fuel may answer only a third as much", "5 °F in hand"), fuel.CLOUD_SOURCE, f"At least {shown(share, 2)} percent by the rule of thumb; straight number 1 is the safe answer.")


# -- the cabin --------------------------------------------------------------------------------------


def cabin_said(s: Sheet) -> None:
    """Inputs of "how long until the cabin is cold"."""
    q = s.q
    pair = q.find(r"\bfrom ({temp}|{n}) (?:inside |degrees )?(?:down )?to ({temp}|{n})", r"\bfrom ({temp}|{n}) (?:down )?to freezing")
    if pair:
        s.say("start", pair[0], q.scale)
        if len(pair) > 1:
            s.say("target", pair[1], q.scale)
    if q.has(r"\b(?:to|hits?|at|down to|before|reach\w*) freezing\b"):
        s.note("target", 32.0 if q.scale == "F" else 0.0, q.scale)
    start = q.one(r"({temp}|{n}) (?:inside|in here|in the cabin|indoors|aboard)\b", r"\b(?:inside|cabin|in here) (?:is |at |it |was |now |starts? at )*({temp}|{n})(?! hours)")
    target = q.one(
        r"\b(?:to|hits?|hit|reach\w*|below|under|above|before it|down to|gets? (?:down )?to|drops? to|at) ({temp}|{n})(?: degrees)? (?:inside|in here|in the cabin|indoors|if|with)",
        r"\b(?:drops? (?:below|under|to)|falls? (?:below|under|to)|hits?|reach\w*|down to|gets? (?:down )?to|above|below|under|before it|how long to) ({temp}|{n})(?! (?:out|outside|mile))",
    )
    spent = [a for a in (*pair, start, target) if a is not None]
    if target is not None and target not in pair:
        s.say("target", target, q.scale)
        if start == target:
            start = None
    if start is not None and start not in pair and start != target:
        s.say("start", start, q.scale)
    out = next((a for a in (q.one(p) for p in _OUT) if a is not None and a not in spent), None)
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
            from cabassist.dialogue.working_levels import clock_hours

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
    s.assumed.append(f"cabin loses {shown(cabin.ua_btu_per_h_f)} BTU/h per °F and {shown(cabin.infiltration_cfm)} cfm, holds {shown(cabin.heat_capacity_btu_per_f)} BTU per °F (profile)")
    return (
        ureg.Quantity(cabin.ua_btu_per_h_f, "Btu/hour/delta_degF"),
        ureg.Quantity(cabin.heat_capacity_btu_per_f, "Btu/delta_degF"),
        quantity(cabin.infiltration_cfm, "cfm"),
    )


def _inside(s: Sheet, name: str) -> None:
    if not s.has(name) and not s.from_reading(name, "inside_temp", "inside temperature", "F"):
        s.profile(name, s.coach.cabin.setpoint_f, "F", f"{shown(s.coach.cabin.setpoint_f)} °F inside")


def cabin_cool_down(s: Sheet) -> Estimate:
    """How the cabin cools without heat."""
    from cabassist.estimate import cabin

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
        return Estimate("first hour's drop", drop, f"{after.unit}/h", drop * 0.8, drop * 1.25, (*after.working, line), after.assumptions, after.source, f"About {shown(drop, 2)} degrees in the first hour, slower after that.")
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
    each = q.one(r"({perdeg})", r"\b(?:ua|loss) (?:of |is )?({n})")
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
    steady = q.one(r"\b(?:los(?:e|es|ing)|loss (?:of|is)|need|needs|needing) (?:about )?({BTU|BTU/h|kW})", r"({BTU|BTU/h|kW}) (?:of )?(?:heat )?(?:loss|lost)")
    if steady is not None:
        s.note("loss_btu", converted(steady.value, "BTU/h" if steady.unit.startswith("BTU") else steady.unit, "BTU/h"), "BTU/h")
    given = next((a for a in q.of("BTU|BTU/h|kW") if a != steady), None)
    if given is not None:
        s.note("input", converted(given.value, "BTU/h" if given.unit.startswith("BTU") else given.unit, "BTU/h"), "BTU/h")
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
    efficiency = s.number("efficiency") if s.has("efficiency") else sum(f.efficiency for f in s.coach.furnaces) / max(1, len(s.coach.furnaces)) or 0.8
    if s.has("input"):
        each = s.number("input") * (s.number("furnaces") if s.has("furnaces") and s.number("furnaces") > 1 and s.said("furnaces") else 1)
        return each, efficiency
    plates = [f.input_btu_per_h for f in s.coach.furnaces]
    count = min(len(plates), max(1, round(s.number("furnaces")))) if s.has("furnaces") else len(plates)
    s.assumed.append(f"{count} furnace{'s' if count != 1 else ''}, {shown(sum(plates[:count]))} BTU/h of input, {shown(100 * efficiency)} % of it heat (profile)")
    return sum(plates[:count]), efficiency


def heat_loss(s: Sheet) -> Estimate:
    """Heat the cabin loses, and whether the furnaces cover it."""
    from cabassist.estimate import cabin

    ureg = registry()
    if s.has("ua"):
        ua, leak = ureg.Quantity(s.number("ua"), "Btu/hour/delta_degF"), quantity(s.number("cfm") if s.has("cfm") else 0.0, "cfm")
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
        return exact("heat saved", saved, "BTU/h", working=(f"{shown(s.coach.cabin.setpoint_f - s.number('inside', 'F'))} °F x {shown(total)} BTU/h per °F = {shown(saved)} BTU/h",), source=cabin.LOSS_SOURCE, verdict="The same at any outside temperature.")
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
    return with_also(with_verdict(replace(found, working=(*found.working, line)), verdict), figure("heat delivered", plates * efficiency, "BTU/h"), figure("share of the time", 100 * share, "percent"))


def _duty(s: Sheet, loss: float, working: tuple[str, ...], assumptions: tuple[str, ...], source: str) -> Estimate:
    """Share of the time the furnaces burn."""
    from cabassist.estimate import furnaces

    plates, efficiency = _delivered(s)
    duty = furnaces.furnace_duty(quantity(loss, "BTU/h"), [quantity(plates, "BTU/h")], efficiency)
    value = None if duty.value is None else duty.value * 100
    lines, taken = (*working, *duty.working), (*assumptions, *duty.assumptions)
    return Estimate(duty.name, value, "percent", value, value, lines, taken, source, duty.verdict, (figure("heat loss", loss, "BTU/h"),))


def _balance(s: Sheet, ask: str, total: float) -> Estimate:
    """The outside or inside temperature at which loss and furnaces balance."""
    from cabassist.estimate import cabin

    plates, efficiency = _delivered(s)
    rise = plates * efficiency / total
    line = f"{shown(plates)} x {shown(efficiency)} ÷ {shown(total)} BTU/h per °F = {shown(rise, 3)} °F warmer than outside"
    if ask == "coldest":
        _inside(s, "inside")
        value = s.number("inside", "F") - rise
        return Estimate("coldest the furnaces hold", value, "F", value - rise * 0.2, value + rise * 0.2, (line, f"{shown(s.number('inside', 'F'))} - {shown(rise, 3)} = {shown(value, 3)} °F"), ("loss right within 20 % (common practice, no source)",), cabin.LOSS_SOURCE, f"They fall behind below about {shown(value, 2)} °F.")
    s.outside()
    value = s.number("outside", "F") + rise
    return Estimate("inside they can hold", value, "F", value - rise * 0.2, value + rise * 0.2, (line, f"{shown(s.number('outside', 'F'))} + {shown(rise, 3)} = {shown(value, 3)} °F"), ("loss right within 20 % (common practice, no source)", "flat out all the time"), cabin.LOSS_SOURCE, f"About {shown(value, 2)} °F inside, flat out.")


def unlike(a: Amount | None, b: Amount | None) -> bool:
    """Whether two amounts are different ones."""
    return a is not None and a != b
