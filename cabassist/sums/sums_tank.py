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
from cabassist.sums.told_units import as_spoken
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
    role("air", "length", -9.0),
    role("was", "length", -9.0),
    role("each", "volume", -9.0),
    role("add", "volume", -9.0, many=True),
    role("out", "volume", -9.0, many=True),
    role("limit", "length|share|volume|n", -9.0),
    role("air", "n", -9.0),
    role("leave", "length", -9.0),
)  # fmt: skip


_UPRIGHT = Lazy(r"# (?:high|tall|deep|in height|in depth)\b|\bheight (?:is |of )?#")
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
        inches = _in_one_unit(sizes, t.roles.get("depth", [])) if len(sizes) in (2, 3) else None
        if inches is None or any(t.has(name) for name in ("capacity", "height", "across", "long")):
            return None
        if len(inches) == 2:
            return _by_inches(t, inches[0] * inches[1] / 231)
        upright = next((k for k, one in enumerate(sizes) if _UPRIGHT.search(one.around)), 2)
        high, (long, wide) = inches[upright], [one for k, one in enumerate(inches) if k != upright]
        full = tanks.capacity_from_size(*(quantity(one, "in") for one in (high, long, wide)))
        return _Vessel(high, full.value or 0.0, "rectangular", full)
    if t.has("across", "long") and _ROUND.search(t.question.frame):
        if t.has("height") and not t.has("depth"):
            t.roles = {**{k: v for k, v in t.roles.items() if k != "height"}, "depth": t.roles["height"]}
        across, long = t.value("across") or 0.0, t.value("long") or 0.0
        full = tanks.capacity_from_size(quantity(across, "in"), quantity(long, "in"), shape="horizontal-cylinder")
        return _Vessel(across, full.value or 0.0, "horizontal-cylinder", full)
    name = "waste" if _WASTE.search(t.question.frame) else "fresh"
    own = t.coach.tank(name)
    capacity, height = t.value("capacity"), _inches(t, "height")
    if height is None:
        t.assumed.append(f"{name} tank {shown(own.depth_in)} in high (profile)")
    if capacity is None:
        t.assumed.append(f"{name} tank {shown(own.capacity_gal)} gal (profile)")
        if height is not None and abs(height - own.depth_in) > 0.1:
            return None  # another tank, whose size is not said
    return _Vessel(
        own.depth_in if height is None else height, own.capacity_gal if capacity is None else capacity, own.shape
    )


_ENOUGH = Lazy(r"\b(?:enough|at least|do us|suffice)\b")
_TOO_MUCH = Lazy(r"(?<!without )(?<!not )\b(?:overflow\w*|spill\w*|run(?:s|ning)? over|too (?:much|many)|over the (?:top|brim|limit|line|mark))\b|\b(?:put|push|bring|take|go|be|get)s? (?:\w+ ){0,2}?(?:over|past|above) (?:the |my )?<(?:in|percent|part|gal|L|n)>")  # fmt: skip
"""Asks whether it is more than fits: the yes and the no change places."""
_OR = Lazy(r"\bor (?:\w+ ){0,3}$")


def _asks_too_much(frame: str) -> bool:
    """Not "does it fit or will it overflow", which is answered by whether it fits."""
    found = _TOO_MUCH.search(frame)
    return found is not None and _OR.search(frame[: found.start()]) is None


_PAST = Lazy(r"\b(?:is|are|am|has|have) (?:\S+ ){1,12}?(?:past|over|above|beyond|passed|more than|higher than)\b")
_ANY_HEIGHT = 1000.0
"""Inches that stand for a height that was not told where only what each inch holds is known."""


def _by_inches(t: Told, each: float) -> _Vessel:
    """A tank of which it is known what each inch holds."""
    height = _inches(t, "height")
    if height is None:
        return _Vessel(_ANY_HEIGHT, each * _ANY_HEIGHT, "rectangular")
    line = f"{shown(height)} in x {shown(each)} gal an inch = {shown(height * each)} gal"
    return _Vessel(height, height * each, "rectangular", exact("tank holds", height * each, "gal", working=(line,), source="geometry"))  # fmt: skip


def _inches(t: Told, name: str) -> float | None:
    """The value of a role; a length without a unit in a tank measured in centimeters is in these too."""
    term = t.one(name)
    if term is None or term.kind != "n" or name not in ("depth", "air", "was", "height"):
        return None if term is None else term.value
    units = {one.unit for listed in t.roles.values() for one in listed if one.kind == "length"}
    return term.value * ({"cm": 1 / 2.54, "mm": 1 / 25.4}.get(next(iter(units)), 1.0) if len(units) == 1 else 1.0)


def _level(t: Told, vessel: _Vessel, names: tuple[str, ...] = ("depth", "air", "volume", "share")) -> float | None:
    """Gallons that are in the tank, by the one of these roles that was told; None when it was not said in one way."""
    from cabassist.estimate import tanks

    inside = [name for name in names if t.has(name)]
    told = _inches(t, inside[0]) if len(inside) == 1 else None
    if told is None or (inside[0] == "air" and vessel.height == _ANY_HEIGHT):
        return None
    if inside[0] == "volume":
        return told
    wet = vessel.height - told if inside[0] == "air" else told
    part = told if inside[0] == "share" else wet / vessel.height
    if not 0 <= part <= 1:
        return None
    return vessel.capacity * (part if inside[0] == "share" else tanks.fraction_at_depth(part, vessel.shape))


def _as_level(t: Told, limit: Term) -> Term | None:
    """A limit without a unit in that of the level; None when the level is told in two ways."""
    levels = [one for name in ("depth", "air", "volume", "share") for one in t.roles.get(name, []) if one.kind != "n"]
    return _as_beside(limit, levels[0]) if len({one.kind for one in levels}) == 1 else None


def _limit(t: Told, vessel: _Vessel) -> float | None:
    """Gallons at the level that must not be passed."""
    from cabassist.estimate import tanks

    limit, leave = t.one("limit"), t.value("leave")
    if leave is not None:
        return vessel.capacity * tanks.fraction_at_depth(max(1 - leave / vessel.height, 0.0), vessel.shape)
    if limit is not None and limit.kind == "n":
        limit = _as_level(t, limit)
    if limit is None:
        return None
    if limit.kind == "share":
        return limit.value * vessel.capacity
    if limit.kind == "volume":
        return limit.value
    return vessel.capacity * tanks.fraction_at_depth(min(limit.value / vessel.height, 1.0), vessel.shape)


def _told_in(t: Told, vessel: _Vessel, name: str, gallons: float, line: str, verdict: str = "") -> Estimate:
    """Gallons in a tank, as inches or percent when these are wanted."""
    from cabassist.estimate import tanks

    part = max(min(gallons / vessel.capacity, 1.0), 0.0)
    inches, percent = tanks.depth_at_fraction(part, vessel.shape) * vessel.height, part * 100
    figures = [figure(name, gallons, "gal"), figure("depth", inches, "in")]
    if vessel.height != _ANY_HEIGHT:
        figures.append(figure("percent of full", percent, "percent"))
    if _TOP.search(t.question.frame) and vessel.height != _ANY_HEIGHT and t.want.kind == "length":
        figures[1] = figure("from the top", vessel.height - inches, "in")
    unit = {"length": "in", "share": "percent"}.get(t.want.kind, "gal")
    main = next((one for one in figures if one.unit == unit), figures[0])
    others = tuple(one for one in figures if one is not main)
    return exact(main.name, main.value or 0.0, main.unit, working=(line,), source=tanks.GEOMETRY, verdict=verdict, also=others)  # fmt: skip


def _changed(t: Told, vessel: _Vessel) -> Estimate | None:
    """What went in or out between two depths, the depth after some goes in or out, or the room up to a limit."""
    now, limit = _level(t, vessel), _limit(t, vessel)
    more, less = t.total("add") or 0.0, t.total("out") or 0.0
    if t.has("was"):
        before = _level(t, vessel, ("was",))
        if now is None or before is None or more or less or limit is not None:
            return None
        line = f"{shown(before)} gal before, {shown(now)} gal now: {shown(abs(before - now))} gal"
        return _told_in(t, vessel, "went out" if before > now else "came in", abs(before - now), line)
    if now is None:
        if limit is not None or t.has("depth") or not (more or less) or t.want.kind == "volume":
            return None  # gallons are what was told
        line = f"{shown(abs(more - less))} gal of {shown(vessel.capacity / vessel.height)} gal an inch"
        return _told_in(t, vessel, "difference", abs(more - less), line) if vessel.shape == "rectangular" else None
    then = now + more - less
    top = vessel.capacity if limit is None else limit
    line = f"{shown(now)} + {shown(more)} - {shown(less)} gal = {shown(then)} gal"
    if limit is not None and not (more or less):
        line = f"{shown(top)} - {shown(now)} gal = {shown(top - now)} gal"
        enough, past = _ENOUGH.search(t.question.frame), _PAST.search(t.question.frame)
        judged = (now >= top if enough else now > top) if t.want.judged or past else None
        verdict = "" if judged is None or not (enough or past) else f"{'Yes' if judged else 'No'}: {shown(now)} against {shown(top)} gallons."  # fmt: skip
        return _told_in(t, vessel, "to the limit", abs(top - now), line, verdict)
    if then < 0:
        return None
    fits = then <= top * 1.001
    yes = fits is not _asks_too_much(t.question.frame)
    verdict = f"{'Yes' if yes else 'No'}: {shown(then)} of {shown(top)} gallons." if t.want.judged or not fits else ""
    return _told_in(t, vessel, "in the tank", then, line, verdict)


def _solve_depth(t: Told) -> Estimate | None:
    if t.want.kind not in ("volume", "", "share", "length"):
        return None
    as_spoken(t, "volume", "capacity", "volume", "each", "add", "out")
    if t.has("each") and (t.has("size") or t.has("capacity")):
        return None
    each = t.value("each")
    vessel = _vessel(t) if each is None else _by_inches(t, each)
    if vessel is None:
        return None
    if any(t.has(name) for name in ("was", "add", "out", "limit", "leave")):
        return _changed(t, vessel)
    if vessel.height == _ANY_HEIGHT or (t.has("air") and not t.has("depth")):
        return _by_level(t, vessel)
    inside = [name for name in ("depth", "volume", "share") if t.has(name)]
    if each is None and _INCH_IS.search(t.question.frame):
        return None if sorted(inside) != ["depth", "volume"] or t.want.kind not in ("volume", "") else _by_the_inch(t)
    if each is None and _PER_INCH.search(t.question.frame):
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
        return _at_depth(t, vessel, _inches(t, "depth"))
    volume = t.value("volume")
    if volume is None:
        volume = (t.value("share") or 0.0) * vessel.capacity
        if vessel.measured is not None and _ROOM.search(t.question.frame):
            return _told_in(t, vessel, "room", vessel.capacity - volume, f"{shown(vessel.capacity)} - {shown(volume)} gal")  # fmt: skip
        if vessel.measured is not None and t.want.kind in ("volume", ""):
            line = f"{shown(volume / vessel.capacity, 3)} of {shown(vessel.capacity)} gal = {shown(volume)} gal"
            return exact("in the tank", volume, "gal", working=(line,), source=vessel.measured.source)
    return _depth_of(t, vessel, volume)


def _by_level(t: Told, vessel: _Vessel) -> Estimate | None:
    """What is in a tank, or still goes in, by the air above it or by what each inch holds."""
    if not any(t.has(name) for name in ("depth", "air", "volume", "share")):
        each = vessel.capacity / vessel.height
        line = f"{shown(each)} gal an inch"
        return exact("gallons per inch", each, "gal", working=(line,), source="geometry") if t.has("size") else None
    now = _level(t, vessel)
    if now is None:
        return None
    if _ROOM.search(t.question.frame):
        line = f"{shown(vessel.capacity)} - {shown(now)} gal = {shown(vessel.capacity - now)} gal"
        return None if vessel.height == _ANY_HEIGHT else _told_in(t, vessel, "room", vessel.capacity - now, line)
    return _told_in(t, vessel, "in the tank", now, f"{shown(now)} gal in it")


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
    r"\bhow many more (?:gallons|galons|gals?|liters|litres|will|can|would|could|does|do|until|till|to)\b|\bhow (?:much|many gallons|many more gallons) (?:\w+ ){0,3}?(?:more|room|place|space|fits?|to fill|to go|can i (?:add|put)|does it (?:need|take))\b|\b(?:room|place|space) (?:is |' s )?(?:left|is|still)\b|\bto fill it\b|\btop it (?:off|up)\b"
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


DEPTH = Family("depth", lambda _question: "tank-depth", _depth_applies, _DEPTH_ROLES, _solve_depth)

# -- weight of water ----------------------------------------------------------------------------

_WEIGHT_ROLES = (
    role("on", "volume|share", 0.6, (1.5, r"\b(?:add\w*|took on|take on|taking on|filled|fill|put in|putting|load\w*|plus|on) (?:\w+ )?# |\b(?:fresh|waste|clean|black) (?:is |at |has )?# "), bare=2.0, many=True),
    role("off", "volume|share", -1.0, (3.5, r"\b(?:dump\w*|drain\w*|emptied|minus|less|lost|used|got rid of|let out|off) (?:\w+ )?# "), bare=1.0, many=True),
    role("capacity", "volume", -0.5, (2.5, r"<(?:part|percent)> (?:full )?of (?:a |the |our )?# |# (?:(?:fresh|waste|black|water|clean) )*tank\b")),
    role("beside", "n", -2.5, (3.5, r"# tanks\b"), many=True),
    role("before", "share|volume", -9.0, bare=0.1),
    role("now", "share|volume", -9.0, bare=0.1),
    role("fresh", "share", -9.0, bare=0.1),
    role("waste", "share", -9.0, bare=0.1),
    role("weighs", "mass|n", -9.0),
    role("capacity", "n", -9.0),
    role("limit", "n", -9.0),
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

    pounds, weighs, one = t.value("limit"), t.value("weighs"), water.weight(quantity(1.0, "gal"))
    if pounds is None or not one.value:
        return None
    pounds = pounds if weighs is None else abs(pounds - weighs)
    gallons = pounds / one.value
    line = f"{shown(pounds)} lb ÷ {shown(one.value)} lb/gal = {shown(gallons)} gal"
    return exact("water", gallons, "gal", working=(line,), assumptions=one.assumptions, source=one.source)


_NO_WATER = Lazy(
    r"\b(?:diesel|fuel|propane|lp|lpg|gasoline|petrol|kerosene|oil|def|ad ?blue|urea|coolant|antifreeze)\b"
)
_OF_WATER = Lazy(r"\b(?:water|fresh|waste|black|gr[ae]y|sewage|potable|holding|clean)\b")
_OF_FUEL = Lazy(
    r"# (?:(?:of|our|the|more|extra|winter|number) ){0,3}(?:diesel|fuel|propane|lp|lpg|gasoline|petrol|kerosene|oil|def|ad ?blue|urea|coolant|antifreeze)\b"
)
"""What weighs otherwise than water."""
_LEVELS = frozenset({"before", "now", "fresh", "waste"})


def _as_beside(term: Term, other: Term) -> Term:
    """A level without a unit in that of the other one: "from 20 to ninety percent"."""
    if term.kind != "n":
        return term
    return term._replace(kind=other.kind, value=term.value * (0.01 if other.kind == "share" else other.factor))


def _is_fuel(t: Told) -> bool:
    """Whether it is fuel or the like that is weighed, and not water."""
    moved = [one for name in ("on", "off", "capacity") for one in t.roles.get(name, [])]
    named = _NO_WATER.search(t.question.frame) and not _OF_WATER.search(t.question.frame)
    return bool(named) or any(_OF_FUEL.search(one.around) for one in moved)


def _solve_weight(t: Told) -> Estimate | None:
    from cabassist.estimate import water

    as_spoken(t, "mass", "weighs", "limit")
    as_spoken(t, "volume", "on", "off", "capacity")
    if t.want.kind not in ("mass", "volume", "") or _is_fuel(t):
        return None
    if t.want.kind == "volume":
        return _gallons_of(t)
    levels = [term for name in ("before", "now", "fresh", "waste") for term in t.roles.get(name, [])]
    if any(term.kind == "n" for term in levels):
        told = [term for term in levels if term.kind != "n"]
        if len(told) != 1 or (told[0].kind == "share" and any(term.value > 100 for term in levels)):
            return None  # in what it is told nobody knows
        t.roles = {name: [_as_beside(x, told[0]) for x in found] if name in _LEVELS else found for name, found in t.roles.items()}  # fmt: skip
    on, off = t.all("on"), t.all("off")
    if t.has("before", "now"):
        before, now = t.all("before"), t.all("now")
        on, off = (on or now), (off or before)
        if len(on) + len(off) > 2:
            return None
    capacity = t.value("capacity")
    own = t.coach.tank("waste" if _WASTE.search(t.question.frame) else "fresh").capacity_gal
    both = [(name, term) for name in ("fresh", "waste") for term in t.all(name)]

    def gallons(term: Term) -> float:
        for name, one in both:
            if one is term:
                full = t.coach.tank(name).capacity_gal
                t.assumed.append(f"{name} tank {shown(full)} gal (profile)")
                return term.value * full
        if term.kind == "share":
            if capacity is None:
                t.assumed.append(f"tank {shown(own)} gal (profile)")
            return term.value * (capacity if capacity is not None else own)
        return term.value

    on = [*on, *(term for _, term in both)]
    shares = any(term.kind == "share" for term in (*on, *off))
    if not on and not off and capacity is not None and not shares:
        net, on_only = capacity, True
    elif capacity is not None and not shares:
        return None
    else:
        net, on_only = sum(map(gallons, on)) - sum(map(gallons, off)), not off
    if not net or (shares and len((*on, *off)) > 1 and not both and not t.has("before", "now")):
        return None
    found = water.weight(quantity(abs(net), "gal"))
    if found.value is None:
        return None
    weighed = found.value
    if len((*on, *off)) > 1:
        parts = " ".join([*(f"+ {shown(gallons(one))}" for one in on), *(f"- {shown(gallons(one))}" for one in off)])
        found = exact(found.name, weighed, "lb", working=(f"{parts.removeprefix('+ ')} = {shown(net)} gal", *found.working), assumptions=found.assumptions, source=found.source)  # fmt: skip
    pounds, limit, weighs = weighed, t.value("limit"), t.value("weighs")
    if weighs is not None:
        pounds = weighs + (weighed if net > 0 else -weighed)
        line = f"{shown(weighs)} {'+' if net > 0 else '-'} {shown(weighed)} lb = {shown(pounds)} lb"
        found = exact("weight then", pounds, "lb", working=(*found.working, line), source=found.source, also=(figure("the water", weighed, "lb"),))  # fmt: skip
    if limit is not None:
        over = pounds > limit
        found = with_verdict(found, f"{'Over' if over else 'Under'} {shown(limit)} pounds, by {shown(abs(pounds - limit))}.")  # fmt: skip
        found = with_also(found, figure("over" if over else "under", abs(pounds - limit), "lb"))
    if weighs is not None or limit is not None:
        return found
    if on_only and not t.want.difference:
        return found
    return with_verdict(found, f"{shown(pounds)} pounds {'heavier' if net > 0 else 'lighter'}.")


WEIGHT = Family("weight", lambda _question: "water-weight", _weight_applies, _WEIGHT_ROLES, _solve_weight)

# -- bleach -------------------------------------------------------------------------------------

_BLEACH_ROLES = (
    role("water", "volume", 0.5,
        (2.0, r"# (?:(?:fresh|water|drinking|of water|gallon|of) )*(?:tank|water)\b|\b(?:tank(?: of| is| holds)?|in(?:to)?|for|to|sanitize|treat) (?:the |a |about |our )?# "), bare=0.9),
    role("percent", "share", 0.5, (1.5, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite|chlorine)\b|\b(?:bleach|label|jug|bottle) (?:\w+ ){0,3}?# "), bare=1.2),
    role("percent", "n", -1.8, (3.0, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite)\b|\b(?:bleach|label|jug) (?:\w+ ){0,3}?# ")),
    role("part", "share", -1.5, (4.0, r"# (?:full )?of (?:a|the|our) <|# full\b|<gal> tank (?:is |at |that is )?# ")),
    role("ppm", "strength", 1.0),
    role("have", "strength|n", -9.0),
    role("ppm", "n", -9.0),
    role("add", "volume", -9.0),
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

    if _TO_DRINK.search(t.question.frame) or t.want.kind not in ("volume", "strength", "mass", ""):
        return None
    if t.has("have", "water") and not t.has("percent"):
        return _thinned(t)
    water, percent = t.value("water"), t.one("percent")
    have = t.value("have") or 0.0
    if water is None and not t.has("bleach", "ppm") and _OWN_TANK.search(t.question.frame):
        water = t.coach.tank("fresh").capacity_gal
        t.assumed.append(f"fresh tank {shown(water)} gal (profile)")
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
        if poured is None or (t.want.kind == "volume" and not t.has("ppm")) or poured > 0.05 * water:
            return None
        found = bleach.bleach_strength(quantity(water, "gal"), quantity(poured, "gal"), label)
        target = t.value("ppm")
        if have and found.value is not None:
            line = f"{shown(found.value)} + {shown(have)} mg/L that was there = {shown(found.value + have)} mg/L"
            found = exact(found.name, found.value + have, "mg/L", working=(*found.working, line), assumptions=found.assumptions, source=found.source)  # fmt: skip
        if target is None and t.want.judged:
            target = bleach.SHOCK_MG_PER_L
        still = t.want.kind == "volume" or _STILL.search(t.question.frame) is not None
        if target is not None and found.value is not None and still:
            if target <= have:
                return None
            dose = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target - have)
            more = (dose.value or 0.0) - poured * 128
            line = f"{shown(dose.value or 0.0)} - {shown(poured * 128)} fl oz = {shown(more)} fl oz"
            return exact("still to add", more, "fl oz", working=(*dose.working, line), source=dose.source) if more > 0 else None  # fmt: skip
        if target is not None and found.value is not None:
            enough = found.value >= 0.97 * target
            if Lazy(r"\btoo (?:strong|much)\b").search(t.question.frame):
                enough = found.value > 1.03 * target
            elif Lazy(r"\btoo (?:weak|little)\b").search(t.question.frame):
                enough = not enough
            return with_verdict(
                found, f"{'Yes' if enough else 'No'}: {shown(found.value, 3)} against {shown(target)} mg per liter."
            )
        return found if target is None else None
    if t.want.kind == "strength":
        return None
    target = _times(t) * (t.value("ppm") or bleach.SHOCK_MG_PER_L) - have
    if target <= 0:
        return None
    found = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target)
    return in_unit(found, t.want.unit) if t.want.unit in ("cup", "tbsp", "tsp", "mL", "L", "qt", "pt", "gal") else found


_TO_DRINK = Lazy(
    r"\bdrops?\b|\bcloudy\b|\bmurky\b|\bto drink\b|\bdrinkable\b|\b(?:make|treat\w*|for) (?:\S+ ){0,5}?(?:safe|drinking)\b"
)
"""Water to drink takes drops, far less than the shock dose."""
_OWN_TANK = Lazy(r"\b(?:fresh|(?:the|our|my|whole) (?:\w+ )?tank)\b")


def _thinned(t: Told) -> Estimate | None:
    """What plain water makes of the chlorine, or how much of it brings the chlorine down to what is wanted."""
    water, have, target, added = t.value("water"), t.value("have"), t.value("ppm"), t.value("add")
    if not water or not have or (target is None) is (added is None):
        return None
    if target is not None:
        more = water * (have / target - 1) if target else 0.0
        line = f"{shown(water)} gal x ({shown(have)} ÷ {shown(target)} - 1) = {shown(more)} gal"
        return exact("plain water", more, "gal", working=(line,), source="arithmetic") if more > 0 else None
    left = have * water / (water + (added or 0.0))
    line = f"{shown(have)} mg/L x {shown(water)} ÷ {shown(water + (added or 0.0))} gal = {shown(left)} mg/L"
    return exact("chlorine", left, "mg/L", working=(line,), source="arithmetic")


_TREATS = Lazy(
    r"\b(?:treats?|sanitiz\w* how|good for|enough for|(?<!to )do at)\b.*<(?:ppm|mg/L)>|\bhow many (?:gallons|liters|litres)\b(?! of (?:the )?(?:<[^>]+> )?(?:bleach|clorox|chlorine))"
)
_STILL = Lazy(r"\bhow much more\b|\bhow many more\b|\bstill (?:need|add)\b")


BLEACH = Family("bleach", lambda _question: "bleach-dose", _bleach_applies, _BLEACH_ROLES, _solve_bleach)
