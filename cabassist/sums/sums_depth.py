"""Sums over the size of a tank and how deep its water stands."""

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
from cabassist.sums.told_units import as_beside, as_spoken
from cabassist.sums.working_sheet import quantity, with_also

OF_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding|septic|poo)\b")
"""Words of the waste tank."""
OF_PROPANE = Lazy(r"\b(?:propane|lp|lpg|bottles?|pounders?|furnaces?|btus?|wc|tare)\b")
"""Words of propane, which is no water."""
OF_OTHERS = Lazy(r"\b(?:diesel|fuel|batter\w*|bank|amps?|tires?|axles?|hose|cord|fro[sz]\w*|freez\w*|ice)\b")
"""Words of sums over something else."""
_ROUND = Lazy(r"\b(?:round|dia|cylindrical|cylinder|drum|on its side|lying|diameter|across)\b")
_TOP = Lazy(
    r"\b(?:from|off|below|shy of|under) the (?:very )?top\b|\bdown from\b|\bof air\b|\bempty space\b|\bto the (?:water|sewage|surface)\b"
)
_ROLES = (
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
    role("was", "length", -9.0, bare=0.1),
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


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    if OF_PROPANE.search(frame) or OF_OTHERS.search(frame) or any("/" in term.kind for term in terms):
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
    name = "waste" if OF_WASTE.search(t.question.frame) else "fresh"
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
    return as_beside(limit, levels[0]) if len({one.kind for one in levels}) == 1 else None


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


def _solve(t: Told) -> Estimate | None:
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
    if len(inside) > 1 or (inside == ["depth"] and _WENT.search(t.question.frame)):
        return None  # what went or came is told by two depths
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


_WENT = Lazy(
    r"\bhow (?:much|many <?\w+>?)(?: of (?:it|that|water|fresh))? (?:went|has gone|have gone|came in|did (?:we|they|the \w+) (?:use|draw|lose|go through)|have (?:we|they) used|was (?:used|drawn|lost)|were (?:used|drawn|lost))\b"
)
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


DEPTH = Family("depth", lambda _question: "tank-depth", _applies, _ROLES, _solve)
