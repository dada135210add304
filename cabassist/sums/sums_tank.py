"""Sums over the size and depth of a tank, the weight of water, and bleach."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.working_sheet import in_unit, quantity, with_also, with_verdict

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding|septic|poo)\b")
_PROPANE = Lazy(r"\b(?:propane|lp|lpg|bottles?|pounders?|furnaces?|btus?|wc|tare)\b")
_ELSEWHERE = Lazy(r"\b(?:diesel|fuel|batter\w*|bank|amps?|tires?|axles?|hose|cord|fro[sz]\w*|freez\w*|ice)\b")
_ROUND = Lazy(r"\b(?:round|dia|cylindrical|cylinder|drum|on its side|lying|diameter|across)\b")
_TOP = Lazy(
    r"\b(?:from|off|below|shy of|under) the (?:very )?top\b|\bdown from\b|\bof air\b|\bempty space\b|\bto the (?:water|sewage|surface)\b"
)

# -- depth and size -----------------------------------------------------------------------------

_DEPTH_ROLES = (
    role("size", "length", 0.0, (2.0, r"(?:x|by|times|\*) # | # (?:x|by|times|\*)\b|# (?:long|wide|high|tall|deep|in length|in width|length|width)\b"), bare=0.3, many=True),
    role("depth", "length", 0.4,
        (1.5, r"\b(?:stick|dipstick|tape|gauge|reads?|says?|shows?|measure\w*|wet|up to|at|standing at|have|has|with|is) (?:(?:is|at|about|up|to|says|reads|shows|wet) ){0,2}# "),
        (1.5, r"# (?:\w+ ){0,2}?(?:of water|of sewage|of waste|on the stick|on the dipstick|in it|down|from the top|from the bottom|of air|up)\b"),
        bare=1.0),
    role("height", "length", 0.2,
        (2.0, r"# (?:deep|high|tall|inside height)\b|\b(?:tank|it) (?:(?:is|it|that|are|s|') ){0,3}# |# tank\b|# / <|\bheight (?:is |of )?# |\bout of # "),
        bare=0.8),
    role("across", "length", -1.0, (3.5, r"# (?:across|diameter|in diameter|round|dia)\b|\bdiameter (?:of |is )?# "), bare=0.5),
    role("long", "length", -1.0, (3.0, r"# long\b|\blength (?:of |is )?# "), bare=0.5),
    role("capacity", "volume", 0.0,
        (2.0, r"# (?:(?:fresh|waste|black|water|holding|clean|gr[ae]y) ){0,2}tank\b|\b(?:holds|capacity|out of|tank is|tank of|tank) (?:(?:is|of|about|a|,) ){0,2}# |<in> / # |\bof (?:a|the|our) # "),
        (1.0, r"\band # |# (?:capacity|total|when full)\b|<in> (?:deep |high |tall )?# "),
        bare=0.8),
    role("volume", "volume", 0.3,
        (1.5, r"\b(?:is|are|for|at|have|has|want|put|there|there is|there are|hold|show) (?:about |only )?# |# (?:in it|in there|left|deep|of (?:water|waste|sewage|fresh)|in the)\b"),
        never=r"# (?:(?:fresh|waste|black|water|holding|clean) ){0,2}tank\b", bare=0.8),
    role("share", "share", 0.5),
)  # fmt: skip


_TANKS = Lazy(r"\b(?:tanks?|fresh|waste|black|gr[ae]y|water|holding|sewage|drum|stick|dipstick)\b|<gal>")
_MEASURED = frozenset({"in", "cm", "ft", "m", "mm"})


def _depth_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    if _PROPANE.search(frame) or _ELSEWHERE.search(frame) or any("/" in term.kind for term in terms):
        return False
    if not _TANKS.search(frame):
        return False
    lengths = any(term.kind == "length" and term.unit in _MEASURED for term in terms)
    lengths = lengths or re.search(r"<n> (?:x|by) <n> (?:x|by) <n>", frame) is not None
    return (lengths and want.kind in ("volume", "", "share", "length")) or want.kind == "length"


class _Vessel(NamedTuple):
    """The tank a question is about."""

    height: float
    """Inches."""
    capacity: float
    """Gallons."""
    shape: Literal["rectangular", "horizontal-cylinder"]
    measured: Estimate | None = None
    """How its capacity follows from its inside measures, when these were told."""


def _vessel(t: Told) -> _Vessel | None:
    """The tank as told, or the coach's own; None when what was told does not make one."""
    from cabassist.estimate import tanks

    sizes = t.all("size")
    if sizes:
        inches = _in_one_unit(sizes, t.roles.get("depth", [])) if len(sizes) == 3 else None
        if inches is None or any(t.has(name) for name in ("capacity", "height", "across", "long")):
            return None
        full = tanks.capacity_from_size(*(quantity(one, "in") for one in (inches[2], inches[0], inches[1])))
        return _Vessel(inches[2], full.value or 0.0, "rectangular", full)
    if t.has("across", "long") and _ROUND.search(t.question.frame):
        if t.has("height") and not t.has("depth"):
            t.roles = {**{k: v for k, v in t.roles.items() if k != "height"}, "depth": t.roles["height"]}
        across, long = t.value("across") or 0.0, t.value("long") or 0.0
        full = tanks.capacity_from_size(quantity(across, "in"), quantity(long, "in"), shape="horizontal-cylinder")
        return _Vessel(across, full.value or 0.0, "horizontal-cylinder", full)
    name = "waste" if _WASTE.search(t.question.frame) else "fresh"
    own = t.coach.tank(name)
    capacity, height = t.value("capacity"), t.value("height")
    if height is None:
        t.assumed.append(f"{name} tank {shown(own.depth_in)} in high (profile)")
    if capacity is None:
        t.assumed.append(f"{name} tank {shown(own.capacity_gal)} gal (profile)")
        if height is not None and abs(height - own.depth_in) > 0.1:
            return None  # another tank, whose size is not said
    return _Vessel(
        own.depth_in if height is None else height, own.capacity_gal if capacity is None else capacity, own.shape
    )


def _solve_depth(t: Told) -> Estimate | None:
    vessel = _vessel(t)
    if vessel is None:
        return None
    inside = [name for name in ("depth", "volume", "share") if t.has(name)]
    if _INCH_IS.search(t.question.frame):
        return None if sorted(inside) != ["depth", "volume"] or t.want.kind not in ("volume", "") else _by_the_inch(t)
    if _PER_INCH.search(t.question.frame):
        each = vessel.capacity / vessel.height
        line = f"{shown(vessel.capacity)} gal ÷ {shown(vessel.height)} in = {shown(each)} gal an inch"
        return None if inside else exact("gallons per inch", each, "gal", working=(line,), source="geometry")
    if not inside:
        return vessel.measured if t.want.kind in ("volume", "") else None
    if len(inside) > 1:
        return None
    if vessel.measured is not None:
        t.assumed.extend(vessel.measured.working)
    if inside == ["depth"]:
        return _at_depth(t, vessel, t.value("depth"))
    volume = t.value("volume")
    if volume is None:
        volume = (t.value("share") or 0.0) * vessel.capacity
        if vessel.measured is not None and t.want.kind in ("volume", ""):
            line = f"{shown(volume / vessel.capacity, 3)} of {shown(vessel.capacity)} gal = {shown(volume)} gal"
            return exact("in the tank", volume, "gal", working=(line,), source=vessel.measured.source)
    return _depth_of(t, vessel, volume)


_INCH_IS = Lazy(
    r"\b(?:each|every|an|one|per) inch (?:is|holds|equals|makes|means|of)\b|<gal> (?:to the|for every|for each|per|an|each|every) inch\b"
)


def _by_the_inch(t: Told) -> Estimate | None:
    """Inches times what each of them holds."""
    depth, each = t.value("depth"), t.value("volume")
    if depth is None or each is None:
        return None
    line = f"{shown(depth)} in x {shown(each)} gal an inch = {shown(depth * each)} gal"
    return exact("gallons", depth * each, "gal", working=(line,), source="arithmetic")


def _at_depth(t: Told, vessel: _Vessel, depth: float | None) -> Estimate | None:
    """What is in a tank at a depth, or what still goes in above it."""
    from cabassist.estimate import tanks

    if depth is None or depth > vessel.height or t.want.kind == "length":
        return None
    found = tanks.volume_at_depth(
        quantity(depth, "in"), quantity(vessel.height, "in"), quantity(vessel.capacity, "gal"),
        shape=vessel.shape, counted_from="top" if _TOP.search(t.question.frame) else "bottom",
    )  # fmt: skip
    share = next((one.value for one in found.also if one.unit == "fraction"), None)
    if share is not None:
        found = with_also(found, figure("percent full", share * 100, "percent"))
    return _room(found, vessel.capacity) if _ROOM.search(t.question.frame) else found


def _depth_of(t: Told, vessel: _Vessel, volume: float) -> Estimate | None:
    """How deep a volume stands, or how far below the top."""
    from cabassist.estimate import tanks

    if volume > vessel.capacity or t.want.kind != "length":
        return None
    found = tanks.depth_at_volume(
        quantity(volume, "gal"),
        quantity(vessel.height, "in"),
        quantity(vessel.capacity, "gal"),
        shape=vessel.shape,
    )
    found = with_also(found, figure("in the tank", volume, "gal"))
    if found.value is None or not (_TOP.search(t.question.frame) or "far down" in t.question.frame):
        return found
    down = vessel.height - found.value
    line = f"{shown(vessel.height)} - {shown(found.value)} in = {shown(down)} in from the top"
    return exact("from the top", down, "in", working=(*found.working, line), source=found.source)


_PER_INCH = Lazy(r"\b(?:per|an|each|every) inch\b")
_ROOM = Lazy(
    r"\bhow (?:much|many gallons|many more gallons) (?:\w+ ){0,3}?(?:more|room|fits?|to fill|to go|can i (?:add|put)|does it (?:need|take))\b|\broom (?:left|is)\b|\bto fill it\b|\btop it (?:off|up)\b"
)


def _room(found: Estimate, capacity: float) -> Estimate:
    """What still goes in above a depth."""
    inside = found.value or 0.0
    room = capacity - inside
    line = f"{shown(capacity)} - {shown(inside)} gal = {shown(room)} gal"
    return exact("room", room, "gal", working=(*found.working, line), source=found.source, also=(figure("in it", inside, "gal"),))  # fmt: skip


def _in_one_unit(sizes: list[Term], beside: list[Term]) -> list[float] | None:
    """Three inside measures in inches; a number without a unit has that of the others, and inches when none has one."""
    units = {term.unit for term in (*sizes, *beside) if term.kind == "length"}
    if any(term.kind == "n" for term in sizes) and len(units) > 1:
        return None
    bare = {"ft": 12.0, "cm": 1 / 2.54, "m": 39.3701}.get(next(iter(units), "in"), 1.0)
    return [term.value * (bare if term.kind == "n" else 1.0) for term in sizes]


DEPTH = Family(lambda _question: "tank-depth", _depth_applies, _DEPTH_ROLES, _solve_depth)

# -- weight of water ----------------------------------------------------------------------------

_WEIGHT_ROLES = (
    role("on", "volume|share", 0.6, (1.5, r"\b(?:add\w*|took on|take on|taking on|filled|fill|put in|putting|load\w*|plus|on) (?:\w+ )?# |\b(?:fresh|waste|clean|black) (?:is |at |has )?# "), bare=2.0, many=True),
    role("off", "volume|share", -1.0, (3.5, r"\b(?:dump\w*|drain\w*|emptied|minus|less|lost|used|got rid of|let out|off) (?:\w+ )?# "), bare=1.0, many=True),
    role("capacity", "volume", -0.5, (2.5, r"<(?:part|percent)> (?:full )?of (?:a |the |our )?# |# (?:(?:fresh|waste|black|water|clean) )*tank\b")),
    role("beside", "n", -2.5, (3.5, r"# tanks\b"), many=True),
    role("limit", "mass", -0.5, (2.0, r"\b(?:over|under|more than|less than|below|above|limit(?: is| of)?|have|only|than) # ")),
)  # fmt: skip
_WEIGHED = Lazy(r"\b(?:water|fresh|waste|tanks?|black|gr[ae]y|sewage|dump\w*)\b|<(?:gal|L|qt)>")


def _weight_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    if want.kind == "volume" and [term.kind for term in terms] == ["mass"]:
        return Lazy(r"\bwater\b").search(frame) is not None and not Lazy(r"\b(?:capacity|wc|propane|ice)\b").search(
            frame
        )
    if want.kind != "mass" or _PROPANE.search(frame) or _ELSEWHERE.search(frame) or "cylinder" in frame:
        return False
    if Lazy(r"\b(?:people|bags?|luggage|gear|guys|filler|pumped|bleach|scale|gas)\b").search(frame):
        return False
    # "8 gallons in, how many pounds" without a word of water may be propane
    return Lazy(r"\b(?:water|fresh|waste|tanks?|black|gr[ae]y|sewage|dump\w*)\b").search(frame) is not None


def _gallons_of(t: Told) -> Estimate | None:
    """How much water has a weight."""
    from cabassist.estimate import water

    pounds, one = t.value("limit"), water.weight(quantity(1.0, "gal"))
    if pounds is None or not one.value:
        return None
    gallons = pounds / one.value
    line = f"{shown(pounds)} lb ÷ {shown(one.value)} lb/gal = {shown(gallons)} gal"
    return exact("water", gallons, "gal", working=(line,), assumptions=one.assumptions, source=one.source)


def _solve_weight(t: Told) -> Estimate | None:
    from cabassist.estimate import water

    if t.want.kind == "volume":
        return _gallons_of(t)
    on, off = t.all("on"), t.all("off")
    capacity = t.value("capacity")
    own = t.coach.tank("waste" if _WASTE.search(t.question.frame) else "fresh").capacity_gal

    def gallons(term: Term) -> float:
        if term.kind == "share":
            if capacity is None:
                t.assumed.append(f"tank {shown(own)} gal (profile)")
            return term.value * (capacity if capacity is not None else own)
        return term.value

    shares = any(term.kind == "share" for term in (*on, *off))
    if not on and not off and capacity is not None and not shares:
        net, on_only = capacity, True
    elif capacity is not None and not shares:
        return None
    else:
        net, on_only = sum(map(gallons, on)) - sum(map(gallons, off)), not off
    if not net or (shares and len((*on, *off)) > 1):
        return None
    found = water.weight(quantity(abs(net), "gal"))
    if found.value is None:
        return None
    weighed = found.value
    if len((*on, *off)) > 1:
        parts = " ".join([*(f"+ {shown(gallons(one))}" for one in on), *(f"- {shown(gallons(one))}" for one in off)])
        found = exact(found.name, weighed, "lb", working=(f"{parts.removeprefix('+ ')} = {shown(net)} gal", *found.working), assumptions=found.assumptions, source=found.source)  # fmt: skip
    pounds, limit = weighed, t.value("limit")
    if limit is not None:
        over = pounds > limit
        found = with_verdict(found, f"{'Over' if over else 'Under'} {shown(limit)} pounds, by {shown(abs(pounds - limit))}.")  # fmt: skip
    if on_only and not t.want.difference:
        return found
    return with_verdict(found, f"{shown(pounds)} pounds {'heavier' if net > 0 else 'lighter'}.")


WEIGHT = Family(lambda _question: "water-weight", _weight_applies, _WEIGHT_ROLES, _solve_weight)

# -- bleach -------------------------------------------------------------------------------------

_BLEACH_ROLES = (
    role("water", "volume", 0.5,
        (2.0, r"# (?:(?:fresh|water|drinking|of water|gallon|of) )*(?:tank|water)\b|\b(?:tank(?: of| is| holds)?|in(?:to)?|for|to|sanitize|treat) (?:the |a |about |our )?# "), bare=0.9),
    role("percent", "share", 0.5, (1.5, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite|chlorine)\b|\b(?:bleach|label|jug|bottle) (?:\w+ ){0,3}?# "), bare=1.2),
    role("percent", "n", -1.8, (3.0, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite)\b|\b(?:bleach|label|jug) (?:\w+ ){0,3}?# ")),
    role("part", "share", -1.5, (4.0, r"# (?:full )?of (?:a|the|our) <|# full\b|<gal> tank (?:is |at |that is )?# ")),
    role("ppm", "strength", 1.0),
    role("bleach", "volume", 0.0,
        (2.0, r"# (?:of )?(?:the |that )?(?:<(?:percent|n)> )?(?:bleach|clorox)\b|# of <|\b(?:pour\w*|put|added|add|dump\w*|use) (?:in )?# |# (?:of <[^>]+> )?(?:goes|went|going) in")),
)  # fmt: skip


def _bleach_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if want.kind not in ("volume", "strength", "mass", "") or Lazy(r"\b(?:drops?|drink(?:able|ing)?|cloudy|murky)\b").search(question.frame):  # fmt: skip
        return False
    named = Lazy(r"\b(?:bleach\w*|clorox|sanitiz\w*|chlorin\w*|hypochlorite|shock)\b").search(question.frame)
    return named is not None or want.kind == "strength" or any(term.kind == "strength" for term in terms)


_DOUBLED = Lazy(r"\b(?:double|twice|triple)\b")


def _times(t: Told) -> float:
    """How many times the dose is wanted."""
    return {"double": 2.0, "twice": 2.0, "triple": 3.0}.get(next(iter(_DOUBLED.findall(t.question.frame)), ""), 1.0)


def _solve_bleach(t: Told) -> Estimate | None:
    from cabassist.estimate import bleach

    water, percent = t.value("water"), t.one("percent")
    if percent is None or (water is None and not t.has("bleach", "ppm")):
        return None
    if t.has("part"):
        part = t.value("part")
        if water is None or part is None:
            return None
        water *= part
    label = percent.value * (100 if percent.kind == "share" else 1)
    if not 1 <= label <= 20:
        return None
    treats = _TREATS.search(t.question.frame) is not None
    if water is None:
        poured, target = t.value("bleach"), t.value("ppm")
        if not treats or not poured or not target:
            return None
        gallons = poured * 10_000 * label / target
        line = f"{shown(poured * 3785.41)} mL x 10,000 x {shown(label)} % ÷ {shown(target)} mg/L"
        return exact("treats", gallons, "gal", working=(f"{line} = {shown(gallons)} gal",), source=bleach.DOSE_SOURCE)
    if treats and not t.has("bleach"):
        return None
    if t.has("bleach"):
        poured = t.value("bleach")
        if poured is None or t.want.kind == "volume" or poured > 0.05 * water:
            return None
        found = bleach.bleach_strength(quantity(water, "gal"), quantity(poured, "gal"), label)
        target = t.value("ppm")
        if target is not None and found.value is not None and _STILL.search(t.question.frame):
            dose = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target)
            more = (dose.value or 0.0) - poured * 128
            line = f"{shown(dose.value or 0.0)} - {shown(poured * 128)} fl oz = {shown(more)} fl oz"
            return exact("still to add", more, "fl oz", working=(*dose.working, line), source=dose.source) if more > 0 else None  # fmt: skip
        if target is not None and found.value is not None:
            enough = found.value >= 0.97 * target
            return with_verdict(
                found, f"{'Yes' if enough else 'No'}: {shown(found.value, 3)} against {shown(target)} mg per liter."
            )
        return found if target is None else None
    if t.want.kind == "strength":
        return None
    found = bleach.bleach_dose(
        quantity(water, "gal"), label, target_mg_per_l=_times(t) * (t.value("ppm") or bleach.SHOCK_MG_PER_L)
    )
    return in_unit(found, t.want.unit) if t.want.unit in ("cup", "tbsp", "tsp", "mL", "L", "qt", "pt", "gal") else found


_TREATS = Lazy(
    r"\b(?:treats?|sanitiz\w* how|good for|enough for|do at)\b.*<(?:ppm|mg/L)>|\bhow many (?:gallons|liters|litres)\b"
)
_STILL = Lazy(r"\bhow much more\b|\bhow many more\b|\bstill (?:need|add)\b")


BLEACH = Family(lambda _question: "bleach-dose", _bleach_applies, _BLEACH_ROLES, _solve_bleach)
