"""Questions about what the cold does to skin and to diesel: wind chill, frostbite, gelling."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted
from cabassist.sums.working_roles import Role, by_words, placed
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.sums.working_unplaced import WORDED


def wind_said(s: Sheet) -> None:
    """Inputs of wind chill and frostbite."""
    q = s.q
    chill = q.one(r"\bchil+ (?:is |of |it )*({temp})(?! wind| with| and)", r"\bat wind ?chil+ (?:of )?({temp})")
    if chill is not None and len(q.of("temp")) == 1 and q.of("speed"):
        chill = None  # "wind chill, 12 degrees and 30 mph": the air
    temps = [t for t in q.of("temp") if t != chill]
    asked = q.one(r"\b(?:under|below|over|above) ({temp})")
    if len(temps) > 1 and asked is not None:
        temps = [t for t in temps if t != asked]
        s.say("against", asked, q.scale)
    wind = q.one(
        r"({speed})",
        r"\b(?:wind(?! ?chil)|winds|gust\w*|blowing|breeze|windy)(?:(?!<)[^<]){0,25}({n})",
        r"({n}) (?:mile |knot )?(?:wind|winds|gusts?|breeze)\b",
    )
    bare = [a for a in q.of("n") if a != wind and -80 <= a.value <= 120]
    if wind is None and temps and bare:
        wind, bare = bare[0], bare[1:]
    if wind is None and len(bare) > 1:
        wind, bare = bare[1], bare[:1]
    air = (
        temps[0]
        if temps
        else bare[0]
        if bare and (q.has(r"\bat <n>|\bfor <n>|\b<n> degrees|<n> with|<n> and") or not s.follows)
        else None
    )
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
        return with_also(
            with_verdict(found, f"It makes it feel {shown(colder, 3)} degrees colder."),
            figure("colder by", colder, found.unit),
        )
    if s.has("against") and found.value is not None:
        limit = s.number("against", found.unit)
        return with_verdict(found, f"{'Yes' if found.value < limit else 'No'}: it is {shown(found.value, 3)}.")
    return found


_WHEN = r"\b(?:how (?:long|soon|quick|fast|many)|when)\b"


def frostbite(s: Sheet) -> Estimate:
    """Minutes until bare skin can freeze."""
    from cabassist.estimate import wind_chill as chill

    if s.text("ask") == "starts" and not s.has("air") and not s.has("chill"):
        band = chill.FROSTBITE_BANDS[-1]
        return exact(
            "frostbite starts at a wind chill of",
            band[0],
            "F",
            source=band[4],
            verdict="From a wind chill of about -18 °F bare skin freezes in 30 minutes or less.",
            working=("NWS chart: 30 minutes at about -18 °F",),
        )
    if s.has("chill"):
        found = _by_chill(s, s.number("chill", "F"))
    else:
        if not s.has("wind") and s.has("air"):
            s.assume("wind", 5.0, "mph", "a light wind, 5 miles an hour: say the wind")
        _air_and_wind(s)
        found = (
            chill.frostbite_time(s.amount("air"), s.amount("wind"))
            if s.number("wind") >= 3
            else _by_chill(s, s.number("air", "F"))
        )
    if (
        not s.has("stay")
        and s.q.has(r"\b(?:can|could|will|would|is there|risk\w*|danger\w*|any|worr\w+|is frost ?bite)\b")
        and not s.q.has(_WHEN)
    ):
        found = with_verdict(found, "Not likely." if found.value is None else "Yes.")
    if s.has("stay"):
        stay = s.number("stay")
        if found.value is None:
            return with_verdict(found, "Probably not.")
        word = (
            "Too long"
            if stay >= found.value
            else "A risk"
            if stay >= (found.low or found.value)
            else "Probably safe, with skin covered"
        )
        found = with_verdict(found, f"{word}: {roughly(stay / 60)}.")
    return found


def _by_chill(s: Sheet, chill_f: float) -> Estimate:
    from cabassist.estimate import wind_chill as chill

    for most_f, minutes, low, high, source in chill.FROSTBITE_BANDS:
        if chill_f <= most_f:
            verdict = f"Bare skin can freeze in {shown(minutes)} minutes or less. Cover up and work in short turns."
            return Estimate(
                "time to frostbite",
                minutes,
                "min",
                low,
                high,
                (f"Wind chill {shown(chill_f, 3)} °F: at or below {shown(most_f)} °F.",),
                ("bare, dry, healthy skin; wet skin and bare metal freeze sooner",),
                source,
                verdict,
            )
    return Estimate(
        "time to frostbite",
        None,
        "min",
        None,
        None,
        (f"Wind chill {shown(chill_f, 3)} °F: above -18 °F.",),
        (),
        "NWS chart (published)",
        "The chart gives no time above a wind chill of about -18 °F. Low risk, but cover up.",
    )


_CLOUD = Role("cloud", "temp|n", r"cloud(?: point)?", r"cloud(?: point)?", lambda a: -60 <= a.value <= 60)
_COLD = Role(
    "outside",
    "temp|n",
    r"lows?(?: of| is| to)?|hit(?:ting|s)?|tonight|drops?(?: to)?|going (?:down )?to|outside|forecast|gets? (?:down )?to",
    r"tonight|outside|out|overnight|tomorrow",
    lambda a: -60 <= a.value <= 60,
)


def gel_risk_said(s: Sheet) -> None:
    """Inputs of "will the diesel gel"."""
    q = s.q
    filled = [a for a in q.of("water") if not a.per]
    if len(filled) == 1 and not q.has(r"\b(?:mix\w*|blend\w*|kerosene|number (?:one|1)|no 1|additive|winter)\b"):
        hours = q.every(r"\b(?:after|by|before|until|till|since) ({n})(?= (?:$|[,.]|and\b|or\b|so\b|in the))")
        s.note(WORDED, by_words(q, *filled, *hours))  # how much it is changes nothing
    cloud = q.one(
        r"\bcloud(?: point)? (?:is |of |at |it |was )*({temp}|{n})",
        r"({temp}|{n}) cloud\b",
        r"\b(?:treated to|rated (?:to|for)) ({temp}|{n})",
    )
    if cloud is None:
        cloud = placed(q, (_CLOUD, _COLD)).get("cloud")
    s.say("cloud", cloud, q.scale)
    share = q.one(
        r"({percent|part}) (?:of )?(?:number|no|#) {n}",
        r"({percent}) (?:blend|mix|kerosene)",
        r"\b(?:blend|mix) (?:of )?({percent})",
        r"({percent}) (?:number|no)",
    )
    if share is not None:
        s.note("no1", share.value / (100 if share.unit == "percent" else 1))
    pair = next(
        (
            a
            for a in q.of("n")
            if a.pieces in (("50", "50"), ("70", "30"), ("60", "40"), ("80", "20"), ("30", "70"), ("90", "10"))
        ),
        None,
    )
    pair_slash = q.has(r"\b(?:fifty fifty|50 / 50|half and half)\b") or (
        q.has(r"<part> .*number <n> plus <part>|<part> number")
    )
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
    temp = next(
        (t for t in (q.one(r"\b(?:to|at|of|for|in|going to) ({temp})"), *q.of("temp")) if t is not None and t != cloud),
        None,
    )
    if temp is None:
        bare = q.one(r"\bat ({n})(?! percent)", r"\b(?:going|down|drops?|falls?) to ({n})(?! percent)")
        if bare is None or bare in (cloud, pair):
            told = q.every(
                r"\b(?:lows?|forecast\w*|tonight|overnight|outside|it|supposed to|getting|gets|hit|hitting) (?:is |be |will be |of |to |at |down |hit |' s |going |get )*({n})(?! percent)"
            )
            bare = next((a for a in told if a not in (cloud, pair)), None)
        temp = bare if bare is not None and bare not in (cloud, pair) else None
    if temp is not None:
        s.say("outside", temp, q.scale)


def gel_risk(s: Sheet) -> Estimate:
    """Whether the diesel clouds, or at what temperature."""
    from cabassist.estimate import fuel

    if s.q.has(r"\b(?:gasoline|petrol|gas in the diesel)\b"):
        return fuel.gasoline_in_diesel()
    typical = quantity(fuel.CLOUD_TYPICAL_F, "F")
    if s.has("no1") and s.number("no1") == 1.0:
        if not s.has("outside"):
            return Estimate(
                "cloud point",
                -40.0,
                "F",
                -45.0,
                -35.0,
                (),
                ("straight No. 1",),
                fuel.CLOUD_SOURCE,
                "No. 1 clouds near -40 °F.",
            )
        return fuel.gel_risk(
            s.amount("outside"), cloud_point=s.amount("cloud") if s.has("cloud") else quantity(-40, "F")
        )
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
        return replace(
            found,
            working=(*blend.working, f"plan with {shown(high)} °F", *found.working),
            also=(figure("cloud point of the blend", blend.value or 0.0, "F", blend.low, blend.high), *found.also),
        )
    if s.text("ask") == "cloud" and not s.has("outside"):
        return Estimate(
            "cloud point",
            fuel.CLOUD_TYPICAL_F,
            "F",
            fuel.CLOUD_LOW_F,
            fuel.CLOUD_HIGH_F,
            (),
            ("typical No. 2; winter fuel is lower",),
            fuel.CLOUD_SOURCE,
            "A typical No. 2 clouds at about 15 °F; it can be anywhere from -18 to 20, even 40. Ask the seller for the cloud point.",
        )
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
        return Estimate(
            "share of No. 1",
            None,
            "percent",
            None,
            None,
            (line,),
            ("rule of thumb (from memory)",),
            fuel.CLOUD_SOURCE,
            "Straight number 1: by the rule of thumb no blend of this No. 2 is enough.",
        )
    return Estimate(
        "share of No. 1",
        share,
        "percent",
        share,
        100.0,
        (line,),
        (
            "3 °F for each 10 % is a rule of thumb (from memory); modern fuel may answer only a third as much",
            "5 °F in hand",
        ),
        fuel.CLOUD_SOURCE,
        f"At least {shown(share, 2)} percent by the rule of thumb; straight number 1 is the safe answer.",
    )
