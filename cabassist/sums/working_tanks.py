"""Questions about what is in a tank: its weight, its depth, and bleach for it."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import converted, same_kind
from cabassist.sums.working_levels import is_capacity, tank_levels
from cabassist.sums.working_sheet import Input, Missing, Sheet, quantity, with_also, with_verdict

VOLUMES = ("gal", "L", "qt", "pt", "mL", "floz", "cup", "tbsp", "tsp")


# -- weight -----------------------------------------------------------------------------------------


def water_weight_said(s: Sheet) -> None:
    """Inputs of "what does the water weigh"."""
    q = s.q
    volumes = [a for a in q.of("vol") if not is_capacity(q, a) and not a.per]
    both = q.has(
        r"\b(?:fresh|clean)\b.*\b(?:waste|black)\b|\b(?:waste|black)\b.*\b(?:fresh|clean)\b|\btwo tanks\b|<n> tanks|\bboth tanks\b"
    )
    if both:
        s.note("ask", "both")
        tank_levels(s, ("fresh", "waste"))
        return
    if volumes:
        s.drop("fresh_share", "waste_share", "ask")
        s.note("volume", sum(converted(a.value, a.unit, volumes[0].unit) for a in volumes), volumes[0].unit)
        return
    tank = "waste" if q.has(r"\b(?:waste|black|sewage|holding|gr[ae]y|dump\w*|dirty)\b") else "fresh"
    if q.has(r"\b(?:fresh|clean|waste|black|tank|water|dump)\b") or not s.has("tank"):
        s.note("tank", tank)
    tank = s.text("tank")
    tank_levels(s, (tank,))
    if q.has(r"\bfull (?:fresh |waste |water )?tank\b|\btank full\b|\bfull (?:fresh|waste)\b") and not s.has(
        f"{tank}_share"
    ):
        s.note(f"{tank}_share", 1.0, "part")
    s.say("over", q.one(r"\b(?:over|more than|under|less than|above|below) ({lb})"))


def water_weight(s: Sheet) -> Estimate:
    """Weight of water, fresh or waste or both."""
    from cabassist.estimate import water, wheels

    if s.text("ask") == "both":
        volumes = {}
        for tank in ("fresh", "waste"):
            level = s.level(tank)
            if level is None:
                raise Missing(tank, f"How full is the {tank} tank?", "percent")
            volumes[tank] = level * s.capacity(tank)
        return wheels.water_weight(quantity(volumes["fresh"], "gal"), quantity(volumes["waste"], "gal"))
    if s.has("volume"):
        return _compared(s, water.weight(s.amount("volume")))
    tank = s.text("tank") or "fresh"
    level = s.level(tank)
    if level is None:
        raise Missing(tank, f"How full is the {tank} tank?", "percent")
    found = water.weight(quantity(level * s.capacity(tank), "gal"))
    line = f"{shown(100 * level, 3)} % of {shown(s.capacity(tank))} gal = {shown(level * s.capacity(tank))} gal"
    return _compared(s, replace(found, working=(line, *found.working)))


def _compared(s: Sheet, found: Estimate) -> Estimate:
    if not s.has("over") or found.value is None:
        return found
    limit = s.number("over", "lb")
    return with_verdict(found, f"{'Over' if found.value > limit else 'Under'} {shown(limit)} pounds.")


# -- depth ------------------------------------------------------------------------------------------


def tank_depth_said(s: Sheet) -> None:
    """Inputs of "how many gallons is nine inches"."""
    q = s.q
    sizes = q.find(
        r"({any}) (?:long |wide |deep |high |tall )?(?:by|x|times) ({any}) (?:long |wide |deep |high |tall )?(?:by|x|times) ({any})"
    )
    if len(sizes) != 3:
        sizes = q.find(
            r"({len}|{n}) long,? (?:by |and )?({len}|{n}) wide,? (?:by |and )?({len}|{n}) (?:high|deep|tall)",
            r"({len}|{n}) long(?:(?!<).)*({len}|{n}) wide(?:(?!<).)*({len}|{n}) (?:high|deep|tall)",
        )
    if len(sizes) == 3:
        unit = next((a.unit for a in sizes if a.unit != "n"), "in")
        for name, amount in zip(("size_a", "size_b", "size_c"), sizes, strict=True):
            s.note(name, amount.value, unit if amount.unit == "n" else amount.unit)
        s.note("ask", "capacity")
    tank = "waste" if q.has(r"\b(?:waste|black|sewage|holding|gr[ae]y|dirty|toilet|septic|poo)\b") else "fresh"
    if not s.follows or q.has(r"\b(?:waste|fresh|black|clean|sewage|holding)\b"):
        s.note("tank", tank)
    tank = s.text("tank")
    if q.has(r"\b(?:round|cylindrical|cylinder|lying|on its side|horizontal)\b"):
        s.note("shape", "horizontal-cylinder")
        s.say(
            "across",
            q.one(r"({short}) (?:across|diameter|in diameter|wide|round)", r"\bdiameter (?:of |is )?({short})"),
            "in",
        )
        s.say("long", q.one(r"({len}|{n}) long", r"\blength (?:of |is )?({len})"), "in")
    s.say(
        "high",
        q.one(
            r"({len}) (?:high|tall) tank|\btank (?:is )?({len}) (?:high|tall|deep)",
            r"({short}) (?:high|tall)\b",
            r"({short}) deep tank",
        ),
        "in",
    )
    holds = [a for a in q.of("water") if is_capacity(q, a)]
    if holds:
        s.say("holds", holds[0])
    if q.has(
        r"\b(?:gallons|galons|lit(?:er|re)s|gal) (?:per|an|to the|in an|in each|for each|each|to an) inch\b|\binch (?:of \w+ )?(?:come|comes|hold|holds|worth|is|equal)|\bper inch\b|\bwhat (?:does|is) <in> of \w+ (?:come|hold)"
    ):
        s.note("ask", "per inch")
        return
    skip = {s.inputs[name].value for name in ("across", "long", "high") if name in s.fresh}
    depth = (
        next((a for a in q.of("short") if a.value not in skip or s.text("ask") == "capacity"), None)
        if len(sizes) != 3
        else q.one(r"({short}) (?:deep|of water|in it|up)")
    )
    bare = q.one(r"\bdepth (?:is |at |it )?({n})\b", r"\bmark ({n})\b", r"\bdeep(?: is)? ({n})\b")
    if depth is None and bare is not None and not sizes:
        depth = bare
    if q.has(r"\bhow full\b"):
        s.note("unit", "percent")
    wants_depth = q.has(
        r"\bhow deep\b|\bhow many (?:inches|inchs|centimet\w+)\b|\bwhat depth\b|\bin inches\b|\bto inches\b"
    )
    if depth is not None and not wants_depth:
        s.drop("volume", "share")
        s.say("depth", depth, "in")
        s.note(
            "from",
            "top"
            if q.has(
                r"\b(?:from|off|below|shy of|under|to) the (?:very )?top\b|\bdown from\b|\bto the sewage\b|\bof air\b|\bdown <in>|\bempty space\b"
            )
            else "bottom",
        )
        own_size = s.tank(tank or "fresh").capacity_gal
        compared = next((a for a in q.of("water") if a not in holds and a.value != own_size), None)
        s.say("over", compared)
    elif wants_depth or s.follows:
        volume = next((a for a in q.of("water") if a not in holds), None)
        share = q.one(r"({part})")
        if volume is not None:
            s.drop("share", "depth")
            s.say("volume", volume)
        elif share is not None:
            s.drop("volume", "depth")
            s.say("share", share, "percent")
        elif q.has(r"\bfull\b"):
            s.note("share", 1.0, "part")


_ROOM = r"\bhow (?:many|much)(?: \w+)? more\b|\bhow much room\b|\broom (?:for|is|left)\b|\bstill (?:go|fit)\b"


def tank_depth(s: Sheet) -> Estimate:
    """Gallons at a depth, or the depth of an amount."""
    from cabassist.estimate import tanks

    if s.text("ask") == "capacity" and s.has("size_a", "size_b", "size_c") and not s.has("depth"):
        return tanks.capacity_from_size(s.amount("size_c"), s.amount("size_a"), s.amount("size_b"))
    tank = s.tank(s.text("tank") or "fresh")
    height, capacity, shape = quantity(tank.depth_in, "in"), quantity(tank.capacity_gal, "gal"), tank.shape
    own = True
    if s.text("shape") and s.has("across", "long"):
        shape, height, own = "horizontal-cylinder", s.amount("across"), False
        size = tanks.capacity_from_size(height, s.amount("long"), shape=shape)
        if not s.has("depth"):
            return size
        capacity = quantity(size.value or 0.0, "gal")
        s.assumed += size.working
    elif s.has("size_a", "size_b", "size_c"):
        size = tanks.capacity_from_size(s.amount("size_c"), s.amount("size_a"), s.amount("size_b"))
        height, capacity, shape, own = s.amount("size_c"), quantity(size.value or 0.0, "gal"), "rectangular", False
    else:
        if s.has("high"):
            height, own = s.amount("high"), s.has("high") and not s.has("holds")
        if s.has("holds"):
            capacity = s.amount("holds")
    if own:
        s.assumed.append(f"{tank.name} tank {shown(tank.capacity_gal)} gal, {shown(tank.depth_in)} in high (profile)")
    gallons, inches = float(capacity.to("gallon").magnitude), float(height.to("inch").magnitude)
    if s.text("ask") == "per inch":
        value = gallons / inches
        note = "" if shape == "rectangular" else "On the average: a round tank holds more in the middle."
        return exact(
            "gallons per inch",
            value,
            "gal",
            working=(f"{shown(gallons)} gal ÷ {shown(inches)} in = {shown(value)} gal an inch",),
            source="geometry",
            verdict=note,
        )
    if s.has("depth"):
        depth = s.amount("depth")
        found = tanks.volume_at_depth(
            depth, height, capacity, shape=shape, counted_from="top" if s.text("from") == "top" else "bottom"
        )
        if s.has("over") and found.value is not None:
            limit = s.number("over", "gal")
            found = with_verdict(
                found,
                f"{'Yes' if found.value > limit else 'No'}: {shown(found.value, 3)} gallons, against {shown(limit)}.",
            )
        share = next((f for f in found.also if f.unit == "fraction"), None)
        if share is not None:
            found = with_also(found, figure("percent full", share.value * 100, "percent"))
        if s.q.has(_ROOM) and found.value is not None:
            room = gallons - found.value
            found = with_verdict(with_also(found, figure("room", room, "gal")), f"{shown(room, 3)} gallons more go in.")
        return found
    if s.has("volume"):
        return tanks.depth_at_volume(s.amount("volume"), height, capacity, shape=shape)
    if s.has("share"):
        part = s.number("share") / (100 if s.inputs["share"].unit == "percent" else 1)
        found = tanks.depth_at_volume(quantity(part * gallons, "gal"), height, capacity, shape=shape)
        return replace(
            found,
            working=(f"{shown(100 * part)} % of {shown(gallons)} gal = {shown(part * gallons)} gal", *found.working),
        )
    held = next((one for one in reversed(s.stored) if one.reading.what in ("fresh", "waste")), None)
    level = s.level(held.reading.what) if held is not None and not s.said("shape") else None
    if held is None or level is None:
        raise Missing("depth", "How many inches?", "in")
    holds = s.tank(held.reading.what).capacity_gal
    return exact(
        f"in the {held.reading.what} tank",
        level * holds,
        "gal",
        working=(f"{shown(100 * level, 3)} % of {shown(holds)} gal = {shown(level * holds, 3)} gal",),
        source="geometry",
    )


# -- bleach -----------------------------------------------------------------------------------------

_STRENGTH = (
    r"\b(?:bleach|bleech|clorox|label|jug|bottle|strength|it|at|is|says|got|of) (?:\w+ ){0,2}?(?:at |is |says |of )?({percent})",
    r"({percent}) (?:\w+ ){0,2}?(?:bleach|bleech|clorox|sodium|hypochlorite|chlorine|strength|stuff)",
    r"({percent})",
)


def bleach_dose_said(s: Sheet) -> None:
    """Inputs of "how much bleach"."""
    q = s.q
    s.say("percent", q.one(*_STRENGTH))
    if not s.has("percent"):
        s.say("percent", q.one(r"\b(?:bleach|bleech|label|jug) (?:is |says |at )*({n})\b"), "percent")
    s.say("ppm", q.one(r"({ppm})"))
    small = q.one(
        r"({cup|tbsp|tsp|floz|mL|drop|pt}) (?:\w+ ){0,2}?(?:of )?(?:the )?(?:<percent> )?(?:\w+ )?(?:bleach|bleech|clorox|it|that)",
        r"\b(?:bleach|put|add|added|use|used|poured|dumped) (?:in |already )?({cup|tbsp|tsp|floz|mL|drop|pt|qt})",
        r"({cup|tbsp|tsp|floz|mL|drop|pt|qt}) of (?:the |that )?<percent>",
    )
    whole = q.one(r"({gal|qt}) of (?:<percent> )?(?:\w+ )?(?:bleach|bleech|clorox)")
    bleach = small or whole
    if bleach is not None and q.has(
        r"\bhow strong\b|\bwhat (?:ppm|strength|concentration)\b|\bhow many ppm\b|\btoo (?:much|strong|little)\b|\benough\b|\bis <"
    ):
        s.say("bleach", bleach)
        s.note("ask", "strength")
    elif bleach is None and s.fresh & {"ppm"}:
        s.drop("ask")
    if q.has(r"\bdrink(?:able|ing)?\b(?! water tank)|\bdrops\b|\bsafe to drink\b|\bemergency\b") and not q.has(
        r"\btank\b.*\bsaniti|\bshock\b|\bdrinking water tank\b"
    ):
        s.note("ask", "drink")
        if q.has(r"\bcloudy\b|\bmurky\b|\b(?:ice|very) cold\b|\bmuddy\b"):
            s.note("cloudy", 1.0)
    volumes = [a for a in q.of("water") if a != bleach]
    if volumes:
        s.drop("fresh_share")
        s.say("volume", volumes[0])
    else:
        share = q.one(r"({part|percent}) (?:a |of a |of the )?(?:tank|full)\b")
        if share is not None and share.unit == "part":
            s.drop("volume")
            s.note("fresh_share", share.value, "part")
    if (
        q.has(r"\bper gallon\b|\b(?:for|to) (?:a|each|every|one) gallon\b|\ba gallon of (?:tank|water)\b")
        and not volumes
    ):
        s.note("volume", 1.0, "gal")


def bleach_dose(s: Sheet) -> Estimate:
    """How much bleach, or how strong an amount makes it."""
    from cabassist.estimate import bleach

    if not s.has("volume"):
        tank = s.tank("fresh")
        share = s.number("fresh_share") if s.has("fresh_share") else 1.0
        s.inputs["volume"] = Input("volume", share * tank.capacity_gal, "gal", "profile")
        s.assumed.append(
            f"{'' if share == 1 else shown(share) + ' of '}the full fresh tank, {shown(tank.capacity_gal)} gal (profile)"
        )
    if not s.has("percent"):
        if s.unknown("percent"):
            return _any_strength(s)
        raise Missing("percent", "What percent does the bleach's label say?", "percent")
    percent = s.number("percent")
    if not 1 <= percent <= 20:
        raise ValueError(f"{shown(percent)} percent is no household bleach. Labels say between 5 and 9 percent.")
    if s.text("ask") == "strength" and s.has("bleach"):
        found = bleach.bleach_strength(s.amount("volume"), s.amount("bleach"), percent)
        if found.value is None:
            return found
        ratio = found.value / bleach.SHOCK_MG_PER_L
        verdict = (
            "About right for sanitizing (50)."
            if 0.85 <= ratio <= 1.5
            else "Not enough: sanitizing takes 50."
            if ratio < 1
            else "More than the 50 for sanitizing; rinse well."
        )
        return with_verdict(found, f"{shown(found.value, 3)} mg per liter. {verdict}")
    if s.text("ask") == "drink":
        return bleach.drinking_drops(s.amount("volume"), percent, cloudy_or_very_cold=s.has("cloudy"))
    target = s.number("ppm") if s.has("ppm") else bleach.SHOCK_MG_PER_L
    found = bleach.bleach_dose(s.amount("volume"), percent, target_mg_per_l=target)
    wanted = s.text("unit")
    if (
        wanted in VOLUMES
        and found.value is not None
        and same_kind(found.unit, wanted)
        and all(f.unit != wanted for f in found.also)
    ):
        found = with_also(
            found, figure(wanted, converted(found.value, "floz", wanted), {"floz": "fl oz"}.get(wanted, wanted))
        )
    return found


def _any_strength(s: Sheet) -> Estimate:
    """A range over the household strengths, when nobody knows the label."""
    from cabassist.estimate import bleach

    target = s.number("ppm") if s.has("ppm") else bleach.SHOCK_MG_PER_L
    weak, strong, middle = (
        bleach.bleach_dose(s.amount("volume"), p, target_mg_per_l=target) for p in (5.25, 8.25, 6.0)
    )
    return replace(
        middle,
        low=strong.value,
        high=weak.value,
        assumptions=("6 % bleach; labels run from 5.25 to 8.25 %", *middle.assumptions),
        verdict=f"{middle.verdict} Read the label before pouring.",
    )
