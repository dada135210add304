"""Whether the fresh water runs out first or the waste tank fills first, from what each holds and what flows."""

from __future__ import annotations

from datetime import datetime, timedelta

from cabassist.coach import Tank
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import PER_H
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, per_hour
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, at_clock, role
from cabassist.sums.told_parts import to_deadline

_FRESH = r"(?:fresh|clean|drinking|potable)"
_WASTE = r"(?:waste|black|gr[ae]y|sewage|holding)"
_OUT = r"(?:use[sd]?|using|draws?|drawing|down|drink|out|burn|dropping|drops)"
_IN = r"(?:gains?|gaining|up|rising|rises|fills?|filling|in|into|coming|put|puts|adds?|adding|climbing|ends up)"
_ROLES = (
    role("fresh", "volume|share", 0.0,
        (2.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^<#\s]+)* # |# (?:[a-z]+ ){{0,3}}?{_FRESH}\b"), (-1.0, rf"\b{_WASTE}\b(?: [^<#\s]+)* # "),
        bare=0.7, each=False),
    role("waste", "volume|share", 0.0,
        (2.5, rf"\b{_WASTE}\b(?: (?!{_FRESH})[^<#\s]+)* # |# (?:of |in )?(?:the )?{_WASTE}\b|<gal> tank (?:(?:is|at|now) )*# "), (-1.0, rf"\b{_FRESH}\b(?: [^<#\s]+)* # "),
        never=r"\b(?:out )?of # |# tank\b|# of room|# (?:of )?(?:room|space|free)\b", bare=0.7, each=False),
    role("waste_size", "volume", -1.0,
        (2.5, rf"\b{_WASTE}\b(?: [^#]{{0,30}})? (?:of|out of) # |\b{_WASTE} (?:tank )?# tank|\b{_WASTE} (?:tank )?# (?:at|is|,)?|# (?:gal )?{_WASTE} tank"),
        (2.0, rf"\b{_WASTE} (?:tank )?(?:that )?(?:is |' s )?an? # (?:,|and|at|is|with|gallon)"),
        (1.0, r"# tank\b|<(?:part|percent|gal|n)> (?:full )?(?:out )?of (?:a |an )?# "), never=rf"# (?:left|remaining)\b|# (?:[a-z]+ ){{0,3}}?{_FRESH}\b", bare=0.7, each=False),
    role("fresh_size", "volume", -1.2, (2.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^#\s]+)* of # |# (?:gal )?{_FRESH} tank"), bare=0.7, each=False),
    role("fresh_rate", "volume/time|n/time|share/time", 0.3,
        (1.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^<#\s]+)* # |# (?:of )?{_FRESH}\b"), (1.0, rf"\b{_OUT}(?: [^<#\s]+){{0,3}} # "), never=r"\b(?:rising|rises|filling|fills|gaining|gains|climbing|up) (?:by |about )?# ", each=False),
    role("waste_rate", "volume/time|n/time|share/time", 0.3,
        (1.5, rf"\b{_WASTE}\b(?: (?!{_FRESH})[^<#\s]+)* # |# (?:\w+ ){{0,3}}?{_WASTE}\b"), (1.0, rf"\b{_IN}(?: [^<#\s]+){{0,3}} # |# (?:\w+ ){{0,2}}?(?:in|into)\b"), never=r"\b(?:dropping|drops|falling|draining|drawing|down|using) (?:by |about )?# ", each=False),
    role("fresh_use", "volume/time|n/time", 0.0, (1.5, rf"# (?:of )?{_FRESH}|\b{_OUT}(?: [^<#\s]+){{0,2}} # |# used|# each\b|<people> (?:\w+ )?(?:, )?# ")),
    role("waste_use", "volume/time|n/time", 0.0, (2.0, rf"# (?:\w+ ){{0,4}}?(?:{_WASTE}|drains?)\b|\b(?:puts?|adds?|ends up)(?: [^<#\s]+){{0,2}} # "), bare=1.0),
    role("waste_use", "n", -1.5, (3.5, rf"# of (?:it|that) (?:\w+ ){{0,4}}?(?:{_WASTE}|in|into)\b")),
    role("waste_use", "n", -1.5, (3.5, rf"# (?:of (?:it|that|them|which) )?(?:\w+ ){{0,2}}?(?:to|into|in|down) the (?:drain|{_WASTE})\b")),
    role("waste_room", "volume|share", -1.5, (4.0, r"# (?:of )?(?:room|space|free)\b|\broom for # ")),
    role("people", "people", 1.0),
    role("limit", "share", -2.0, (4.0, r"\b(?:limit|full at|to|at most|until|till)(?: \w+)? # "), bare=1.0),
    role("limit", "volume", -9.0),
    role("reserve", "volume|share|n", -9.0),
    role("waste_room", "n", -9.0),
    role("limit", "n", -9.0),
    role("fresh_before", "n", -9.0),
    role("waste_before", "n", -9.0),
    role("waste_part", "share", -9.0),
    role("fresh_before", "volume|share|length", -9.0),
    role("waste_before", "volume|share|length", -9.0),
    role("elapsed", "time", -9.0),
    role("clock_before", "clock", -9.0),
    role("now", "clock", -9.0),
    role("deadline", "clock", -9.0),
    role("needed", "time", -9.0),
    role("fresh_lasts", "time", -9.0),
    role("waste_lasts", "time", -9.0),
    role("propane", "mass|volume|share|n", -9.0),
    role("propane_size", "mass|volume|n", -9.0),
    role("propane_rate", "mass/time|volume/time|share/time|n/time|power|energy|n", -9.0),
    role("propane_reserve", "mass|volume|share", -9.0),
    role("propane_lasts", "time", -9.0),
    role("bottles", "count cylinder|n|people", -9.0),  # that hold so much each, or are so full
    role("furnaces", "count furnace|count heater|n", -9.0),
    role("duty", "share", -9.0),  # of the time that they burn
    role("diesel", "volume|share|n", -9.0),
    role("diesel_size", "volume|n", -9.0),
    role("diesel_rate", "volume/time|share/time|n/time|n", -9.0),
    role("diesel_reserve", "volume|share", -9.0),
    role("diesel_lasts", "time", -9.0),
    role("battery", "charge|share|n", -9.0),  # amp hours left, or how full the bank is
    role("battery_size", "charge|n", -9.0),
    role("battery_rate", "current|n", -9.0, many=True),
    role("battery_usable", "share", -9.0),  # how much of it may be drawn
    role("battery_lasts", "time", -9.0),
    role("shower_use", "volume|n", -9.0),
    role("shower_minutes", "time|n", -9.0),
    role("shower_flow", "volume/time", -9.0),
    role("showers", "count shower|people|n", -9.0),
    role("beside", "mass|volume|share|time|people|clock|temperature|n|length|volume/time|count shower", -9.0, many=True),
    role("beside", "clock", -1.0, many=True),
    role("beside", "n", -2.5, (3.5, r"# tanks\b"), many=True),
)  # fmt: skip
EMPTY = Lazy(
    rf"\b{_WASTE}(?: tank)?(?: is| was)?(?: (?:just|freshly|been))* (?:empty|emptied|dumped|pumped out|drained)\b|\bempty (?:<gal> )?{_WASTE}\b"
    rf"|\b(?:dumped|emptied|pumped out|drained) (?:the |our )?{_WASTE}\b|\bnothing in (?:the |our )?{_WASTE}\b"
)
_BEFORE = Lazy(
    rf"\b(?:will|does|do|is|would|has|gets?) (?:[^ .;<]+ ){{0,3}}?(?P<one>{_FRESH}|{_WASTE})\b[^.;]{{0,60}}?\bbefore (?:[^ .;<]+ ){{0,6}}?(?P<other>{_FRESH}|{_WASTE})\b"
)
GIVES_OUT = Lazy(
    r"\b(?:dry|out|empty|full|overflow\w*|quits?|gives? out|trouble) (?:[^ .;<]+ ){0,3}?(?:by|before|within|in|inside) (?:[^ .;<]+ ){0,3}?<(?:clock|h|min|day)>"
)
_IN_GALLONS = Lazy(r"\b(?:gallons|gal|gals)\b")
_FIRST = Lazy(r"\b(?:first|sooner|soonest|before the|which one)\b")


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    both = Lazy(rf"\b{_FRESH}\b").search(frame) and Lazy(rf"\b{_WASTE}\b").search(frame)
    return bool(both and _FIRST.search(frame)) and want.kind in ("", "time", "which")


def tank_gallons(term: Term, tank: Tank, size: float, unit_of: set[str], factor: float) -> float | None:
    """What an amount comes to in a tank; a number without a unit is in that of the others."""
    kind = term.kind if term.kind != "n" else next(iter(unit_of)) if len(unit_of) == 1 else ""
    if kind == "volume":
        return term.value * (factor if term.kind == "n" else 1.0)
    if kind == "length":
        return _deep(tank, size, term.value)
    share = term.value / (100 if term.kind == "n" else 1)
    return share * size if kind == "share" and share <= 1 else None


def _deep(tank: Tank, size: float, inches: float) -> float | None:
    """Gallons of so many inches in a tank with upright walls."""
    upright = tank.shape == "rectangular" and inches <= tank.depth_in
    return inches / tank.depth_in * size if upright else None


def _elapsed(t: Told) -> float | None:
    """Hours between the two readings of a tank."""
    before = t.value("clock_before")
    if before is None:
        return t.value("elapsed")
    now = t.value("now")
    return ((_hour(t.now) if now is None else now) - before) % 24


def _hour(moment: datetime) -> float:
    return moment.hour + moment.minute / 60


def tank_flow(t: Told, name: str, size: float, factor: float, change: float | None) -> tuple[float, str] | None:
    """Gallons an hour out of the fresh, or into the waste tank; the change is that between two readings."""
    rate = t.one(f"{name}_rate")
    if rate is not None:
        hourly: float | None = per_hour(rate) * (factor if rate.kind == "n/time" else 1.0)
        if rate.kind in ("n", "n/time") and _by_percent(t, name):
            an_hour = per_hour(rate) if rate.kind == "n/time" else rate.value * PER_H[_spans(t) or "h"]
            hourly = an_hour / 100 * size
        elif rate.kind == "n":  # "55 gallons a day out, 50 in"
            hourly = rate.value * factor * PER_H[_spans(t) or "h"]
        if rate.kind == "share/time":
            hourly = rate.value * size
        elif rate.kind == "length/time":
            hourly = _deep(t.coach.tank(name), size, rate.value)
        return None if hourly is None else (hourly, f"{name}: {shown(hourly)} gal an hour")
    if change is not None:
        hours = _elapsed(t)
        if not hours or change <= 0:
            return None
        return change / hours, f"{name}: {shown(change)} gal ÷ {shown(hours)} h = {shown(change / hours)} gal an hour"
    people, use = t.value("people"), t.one(f"{name}_use")
    other = t.one("fresh_use") if name == "waste" else None
    if use is None or people is None:
        return None
    value = (
        per_hour(use) if "/" in use.kind else use.value * (1.0 if other is not None and other.per == "h" else 1 / 24)
    )
    value *= factor if use.kind in ("n", "n/time") else 1.0
    return people * value, f"{name}: {shown(people)} x {shown(use.amount.value)} gal = {shown(24 * people * value)} gal a day"  # fmt: skip


def _by_percent(t: Told, name: str) -> bool:
    """Whether a rate without a unit is in percent: as the other rate is, or as the levels are when nothing is told in gallons."""
    rates = {term.kind for one in ("fresh_rate", "waste_rate") for term in t.roles.get(one, [])} - {"n", "n/time"}
    levels = {kind for term in t.roles.get(name, []) for kind in (kinds_told(t) if term.kind == "n" else {term.kind})}
    if rates:
        return rates == {"share/time"} and "share" in levels
    return levels == {"share"} and not any(term.kind == "volume" for terms in t.roles.values() for term in terms) and not _IN_GALLONS.search(t.question.frame)  # fmt: skip


def _spans(t: Told) -> str:
    """The time that the rates are told in, when it is one."""
    spans = {term.per for name in ("fresh_rate", "waste_rate") for term in t.roles.get(name, []) if term.per}
    return next(iter(spans)) if len(spans) == 1 else ""


def _judged(frame: str, dry: float, full: float, needed: float | None) -> str:
    """Yes or no, when that is asked: whether it lasts so long, whether one tank is done before the other."""
    first = min(dry, full)
    if needed is not None:
        return "Yes: " if (first >= needed) is (GIVES_OUT.search(frame) is None) else "No: "
    match = _BEFORE.search(frame)
    if match is None:
        return ""
    wet = [Lazy(rf"\b{_FRESH}\b").search(match[name]) is not None for name in ("one", "other")]
    if wet[0] is wet[1]:
        return ""
    return "Yes: " if (dry < full) is wet[0] else "No: "


def into_waste(t: Told, down: tuple[float, str]) -> tuple[float, str]:
    """What comes into the waste tank when only the use is told."""
    part = t.value("waste_part")
    if part is None:
        t.assumed.append("all that is used ends up in the waste tank")
        return down[0], f"waste: {shown(down[0])} gal an hour"
    return down[0] * part, f"waste: {shown(100 * part)} % of {shown(down[0])} = {shown(down[0] * part)} gal an hour"


def waste_room_of(t: Told, inside: float, size: float, kinds: set[str], factor: float) -> float | None:
    """Gallons that the waste tank still takes."""
    free, limit, tank = t.one("waste_room"), t.one("limit"), t.coach.tank("waste")
    if free is not None:
        return tank_gallons(free, tank, size, kinds, factor)
    most = size if limit is None else tank_gallons(limit, tank, size, kinds, factor)
    return None if most is None else most - inside


def kinds_told(t: Told) -> set[str]:
    """What numbers without a unit are in: as the levels are, else as the rates."""
    levels, rates = ("fresh", "waste", "fresh_before", "waste_before"), ("fresh_rate", "waste_rate", "fresh_use")
    kinds = {term.kind for name in levels for term in t.roles.get(name, []) if term.kind != "n"}
    kinds = kinds or {term.kind.partition("/")[0] for name in rates for term in t.roles.get(name, []) if term.kind != "n/time"}  # fmt: skip
    return kinds or ({"volume"} if _IN_GALLONS.search(t.question.frame) else set())


def _which_first(t: Told) -> Estimate | None:
    fresh, waste = t.one("fresh"), t.one("waste")
    free = t.one("waste_room")
    if free is not None and (waste is not None or t.has("limit")):
        return None
    empty = waste is None and free is None and not t.has("waste") and EMPTY.search(t.question.frame) is not None
    if waste is not None and EMPTY.search(t.question.frame):
        return None
    if fresh is None or (waste is None and free is None and not empty) or (t.has("fresh_use") and t.has("fresh_rate")):
        return None
    sizes = {}
    for name in ("fresh", "waste"):
        said = t.value(f"{name}_size")
        sizes[name] = said if said is not None else t.coach.tank(name).capacity_gal
        if said is None:
            t.assumed.append(f"{name} tank {shown(sizes[name])} gal (profile)")
    kinds = kinds_told(t)
    told_in = [term.factor for terms in t.roles.values() for term in terms if term.kind == "volume"]
    factor = told_in[0] if told_in else 1.0

    def held(term: Term | None, name: str) -> float | None:
        return None if term is None else tank_gallons(term, t.coach.tank(name), sizes[name], kinds, factor)

    have = held(fresh, "fresh")
    inside = 0.0 if waste is None else held(waste, "waste")
    reserve = held(t.one("reserve"), "fresh") or 0.0
    if have is None or inside is None:
        return None
    were, was = held(t.one("fresh_before"), "fresh"), held(t.one("waste_before"), "waste")
    down = tank_flow(t, "fresh", sizes["fresh"], factor, None if were is None else were - have)
    up = tank_flow(t, "waste", sizes["waste"], factor, None if was is None else inside - was)
    if up is None and down is not None and not t.has("waste_rate"):
        up = into_waste(t, down)
    room = waste_room_of(t, inside, sizes["waste"], kinds, factor)
    if down is None or up is None or room is None or not down[0] or not up[0]:
        return None
    dry, full = (have - reserve) / down[0], room / up[0]
    if room < 0 or have > sizes["fresh"] * 1.02 or inside > sizes["waste"] * 1.02:
        return None
    first = min(dry, full)
    if first <= 0:
        return None
    verdict = f"{'Waste full' if full < dry else 'Fresh empty'} first, in about {duration(first)}."
    if abs(dry - full) <= 0.02 * first:
        verdict = f"Both at about the same time, in about {duration(first)}."
    now, needed = t.value("now"), t.value("needed")
    start = t.now if now is None else t.now + timedelta(hours=(now - _hour(t.now) + 12) % 24 - 12)
    if t.has("deadline"):
        needed = to_deadline(t)
    judged = _judged(t.question.frame, dry, full, needed)
    if judged:
        verdict = f"{judged}{verdict[0].lower()}{verdict[1:]}"
    if t.want.clock:
        verdict = f"{verdict} {at_clock(start, first)}"
    work = (
        down[1],
        up[1],
        f"{shown(have - reserve)} gal ÷ {shown(down[0])} = {shown(dry)} h until the fresh is empty",
        f"{shown(room)} gal ÷ {shown(up[0])} = {shown(full)} h until the waste is full",
    )
    gap = abs(dry - full)
    left = figure("left in the fresh", have - down[0] * first, "gal")
    if dry <= full:
        left = figure("room left in the waste", room - up[0] * first, "gal")
    also = (figure("fresh empty", dry, "h"), figure("waste full", full, "h"), figure("between them", gap, "h"), left)
    return exact("which comes first", first, "h", working=work, assumptions=tuple(t.assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


def _solve(t: Told) -> Estimate | None:
    """Fresh or waste; with propane or diesel beside them, or in showers, as `sums_first` works them out."""
    from cabassist.sums.sums_first import GAS, SHOWERS, first_of, showers_both

    if t.roles.keys() & SHOWERS:
        return showers_both(t)
    return first_of(t) if t.roles.keys() & GAS else _which_first(t)


BOTH = Family("both", lambda _question: "which-first", _applies, _ROLES, _solve)
