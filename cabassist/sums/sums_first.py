"""Which supply is the first to give out when propane or diesel is told beside the tanks, and how many showers both tanks allow."""

from __future__ import annotations

from datetime import timedelta

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_units import PER_H
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told, at_clock
from cabassist.sums.sums_both import EMPTY, GIVES_OUT, into_waste, kinds_told, tank_flow, tank_gallons, waste_room_of
from cabassist.sums.sums_water_events import OF_GROUP
from cabassist.sums.told_parts import to_deadline

GAS = frozenset(
    {"propane", "propane_rate", "propane_lasts", "diesel", "diesel_rate", "diesel_lasts", "battery", "battery_size", "battery_rate", "battery_lasts"}
)  # fmt: skip
SHOWERS = frozenset({"shower_use", "shower_flow", "shower_minutes", "showers"})
_HALVES = 2


def first_of(t: Told) -> Estimate | None:
    """The first of the supplies that are told, with the hours of each."""
    hours: dict[str, float] = {}
    work: list[str] = []
    flows: dict[str, tuple[float, float]] = {}  # what there is, and what goes an hour, in the unit of the supply
    for name, of in (("Fresh empty", _fresh), ("Waste full", _waste), ("Propane empty", _propane), ("Diesel empty", _diesel), ("House battery empty", _battery)):  # fmt: skip
        found = of(t, flows)
        if found is None:
            return None
        if found:
            hours[name] = found[0]
            work.append(f"{name.lower()}: {found[1]} = {shown(found[0])} h")
    if len(hours) < _HALVES or min(hours.values()) <= 0:
        return None
    order = sorted(hours, key=hours.__getitem__)
    first = hours[order[0]]
    now, needed = t.value("now"), t.value("needed")
    start = t.now
    if now is not None:
        start += timedelta(hours=(now - t.now.hour - t.now.minute / 60 + 12) % 24 - 12)
    if t.has("deadline"):
        needed = to_deadline(t)
    verdict = f"{order[0]} first, in about {duration(first)}, then {order[1][0].lower()}{order[1][1:]}."
    if hours[order[1]] - first <= 0.02 * first:
        verdict = f"{order[0]} and {order[1][0].lower()}{order[1][1:]} at about the same time, in about {duration(first)}."  # fmt: skip
    if needed is not None:
        lasts = (first >= needed) is (GIVES_OUT.search(t.question.frame) is None)
        verdict = f"{'Yes' if lasts else 'No'}: {verdict[0].lower()}{verdict[1:]}"
    elif t.want.judged and (claimed := _claimed(t.question.frame)):
        verdict = f"{'Yes' if claimed == order[0] else 'No'}: {verdict[0].lower()}{verdict[1:]}"
    if t.want.clock:
        verdict = f"{verdict} {at_clock(start, first)}"
    also = [*(figure(name.lower(), hours[name], "h") for name in order), figure("between them", hours[order[1]] - first, "h")]  # fmt: skip
    for name, unit in (("propane", "lb"), ("fresh", "gal"), ("diesel", "gal"), ("battery", "Ah")):
        if name in flows:
            have, rate = flows[name]
            also.append(figure(f"{name} left then", have - rate * first, unit))
    source = f"{HEAT_SOURCE}; {WEIGHT_SOURCE}" if t.has("propane") else "arithmetic"
    return exact("which comes first", first, "h", working=tuple(work), assumptions=tuple(t.assumed), source=source, verdict=verdict, also=tuple(also))  # fmt: skip


_CLAIMS = (
    ("Fresh empty", r"fresh|clean|drinking|water"),
    ("Waste full", r"waste|black|gr[ae]y|sewage|holding"),
    ("Propane empty", r"propane|gas|bottles?|cylinders?|heat|furnace"),
    ("Diesel empty", r"diesel|fuel"),
    ("House battery empty", r"batter\w+|bank|amps?|fans?|lights?|power"),
)
_OF_CLAIM = Lazy(
    r"\b(?:says?|said|reckons?|swears?|thinks?|bets?|claims?|told|guess\w*|is|will|does|i am|sure)(?: (?:it|me|us|that|is|will|be|the|our|my|on|would|she|he))* (?P<what>\w+)(?: [^ .,?<]+){0,4}? (?:first|before)\b"
)


def _claimed(frame: str) -> str:
    """The supply that somebody says is the first to give out."""
    match = _OF_CLAIM.search(frame)
    return next((name for name, words in _CLAIMS if match and Lazy(rf"^(?:{words})$").search(match["what"])), "")


def _size(t: Told, name: str) -> float:
    said = t.value(f"{name}_size")
    if said is None:
        said = t.coach.tank(name).capacity_gal
        t.assumed.append(f"{name} tank {shown(said)} gal (profile)")
    return said


def _factor(t: Told) -> float:
    """What one of the volume that is spoken in is in gallons."""
    return next((one.factor for terms in t.roles.values() for one in terms if one.kind == "volume"), 1.0)


def _fresh(t: Told, flows: dict[str, tuple[float, float]]) -> tuple[float, str] | tuple[()] | None:
    """Hours until the fresh is empty; nothing when it is not told, None when it does not come out."""
    lasts = t.value("fresh_lasts")
    if lasts is not None:
        return (lasts, "told") if not t.has("fresh") else None
    level = t.one("fresh")
    if level is None:
        return () if not t.has("fresh") else None
    size, kinds, tank = _size(t, "fresh"), kinds_told(t), t.coach.tank("fresh")
    have = tank_gallons(level, tank, size, kinds, _factor(t))
    kept = t.one("reserve")
    reserve = 0.0 if kept is None else tank_gallons(kept, tank, size, kinds, _factor(t))
    before = t.one("fresh_before")
    were = None if before is None else tank_gallons(before, tank, size, kinds, _factor(t))
    if have is None or reserve is None or have > size * _OVERFULL:
        return None
    down = tank_flow(t, "fresh", size, _factor(t), None if were is None else were - have)
    if down is None or down[0] <= 0:
        return None
    flows["fresh"] = (have, down[0])
    return (have - reserve) / down[0], f"{shown(have - reserve)} gal ÷ {shown(down[0])} gal an hour"


def _waste(t: Told, flows: dict[str, tuple[float, float]]) -> tuple[float, str] | tuple[()] | None:
    """Hours until the waste is full."""
    lasts = t.value("waste_lasts")
    if lasts is not None:
        return (lasts, "told") if not t.has("waste") else None
    level, free = t.one("waste"), t.one("waste_room")
    empty = level is None and EMPTY.search(t.question.frame) is not None
    if level is None and free is None and not (empty and t.roles.keys() & {"waste_rate", "waste_use", "waste_part"}):
        return () if not t.roles.keys() & {"waste", "waste_rate", "waste_use", "limit"} else None
    size, kinds = _size(t, "waste"), kinds_told(t)
    tank = t.coach.tank("waste")
    inside = 0.0 if level is None else tank_gallons(level, tank, size, kinds, _factor(t))
    if inside is None or inside > size * _OVERFULL:
        return None
    before = t.one("waste_before")
    was = None if before is None else tank_gallons(before, tank, size, kinds, _factor(t))
    up = tank_flow(t, "waste", size, _factor(t), None if was is None else inside - was)
    if up is None and "fresh" in flows and not t.has("waste_rate"):
        up = into_waste(t, (flows["fresh"][1], ""))
    room = waste_room_of(t, inside, size, kinds, _factor(t))
    if up is None or up[0] <= 0 or room is None:
        return None
    return room / up[0], f"{shown(room)} gal ÷ {shown(up[0])} gal an hour"


_OVERFULL = 1.02


def _propane(t: Told, flows: dict[str, tuple[float, float]]) -> tuple[float, str] | tuple[()] | None:
    """Hours until the propane is gone, from pounds, gallons or a share of bottles whose size is told or stands in the profile."""
    lasts = t.value("propane_lasts")
    if lasts is not None:
        return (lasts, "told") if not t.has("propane") else None
    level = t.one("propane")
    if level is None:
        return () if not t.roles.keys() & {"propane", "propane_rate"} else None
    count, size = t.value("bottles"), _pounds(t.one("propane_size"))
    if size is None and any(one.kind.startswith("share") for name in _OF_GAS for one in t.roles.get(name, [])):
        feeding = [one for one in t.coach.propane.cylinders if one.role != "spare"]
        size = feeding[0].nominal_lb if count is not None else sum(one.nominal_lb for one in feeding)
        t.assumed.append(f"propane {shown(size)} lb (profile)")
    full = (size or 0.0) * (count or 1.0)
    have = _held(level, full)
    if level.kind in ("mass", "volume") and count is not None:
        have = None if have is None else have * count  # "two bottles with 15 pounds in each"
    kept = t.one("propane_reserve")
    reserve = 0.0 if kept is None else _held(kept, full)
    rate, duty = _burn(t, full), t.value("duty") if t.has("duty") else 1.0
    if have is None or reserve is None or rate is None or not duty or rate <= 0:
        return None
    rate *= duty
    flows["propane"] = (have, rate)
    return (have - reserve) / rate, f"{shown(have - reserve)} lb ÷ {shown(rate)} lb an hour"


_OF_GAS = ("propane", "propane_rate", "propane_reserve")


def _pounds(term: Term | None) -> float | None:
    if term is None:
        return None
    return term.value * LB_PER_GAL if term.kind == "volume" else term.value


def _held(term: Term, full: float) -> float | None:
    if term.kind == "share":
        return term.value * full if full else None
    return _pounds(term)


def _burn(t: Told, full: float) -> float | None:
    """Pounds an hour of all the furnaces."""
    rate = t.one("propane_rate")
    if rate is None:
        return None
    many = t.value("furnaces") or 1.0
    if rate.kind in ("power", "energy"):
        return many * rate.value / BTU_PER_LB
    if rate.kind == "volume/time":
        return many * rate.value * LB_PER_GAL
    if rate.kind == "share/time":
        return rate.value * full if full else None
    return many * (rate.value * PER_H[rate.per] if rate.kind == "n/time" else rate.value)


def _diesel(t: Told, flows: dict[str, tuple[float, float]]) -> tuple[float, str] | tuple[()] | None:
    """Hours until the diesel is down to what is kept."""
    lasts = t.value("diesel_lasts")
    if lasts is not None:
        return (lasts, "told") if not t.has("diesel") else None
    level, rate = t.one("diesel"), t.one("diesel_rate")
    if level is None:
        return () if rate is None else None
    size = t.value("diesel_size")
    if size is None and any(one.kind in ("share", "share/time") for name in ("diesel", "diesel_rate", "diesel_reserve") for one in t.roles.get(name, [])):  # fmt: skip
        size = t.coach.diesel.capacity_gal
        t.assumed.append(f"diesel tank {shown(size)} gal (profile)")
    kept = t.one("diesel_reserve")

    def gallons(one: Term) -> float:
        return (
            one.value * (size or 0.0) if one.kind == "share" else one.value * (_factor(t) if one.kind == "n" else 1.0)
        )

    if rate is None:
        return None
    hourly = rate.value * PER_H[rate.per] * _factor(t) if rate.kind == "n/time" else rate.value * (_factor(t) if rate.kind == "n" else 1.0)  # fmt: skip
    if rate.kind == "share/time":
        hourly = rate.value * (size or 0.0)
    have, reserve = gallons(level), 0.0 if kept is None else gallons(kept)
    if hourly <= 0:
        return None
    flows["diesel"] = (have, hourly)
    return (have - reserve) / hourly, f"{shown(have - reserve)} gal ÷ {shown(hourly)} gal an hour"


def _battery(t: Told, flows: dict[str, tuple[float, float]]) -> tuple[float, str] | tuple[()] | None:
    """Hours until the house battery has given what it may."""
    lasts, level, size = t.value("battery_lasts"), t.one("battery"), t.value("battery_size")
    if lasts is not None:
        return (lasts, "told") if level is None else None
    rates, part = t.all("battery_rate"), t.value("battery_usable")
    if level is None and size is None:
        return () if not rates else None
    if size is None and level is not None and level.kind == "share":
        size = float(t.coach.house_battery.capacity_ah)
        t.assumed.append(f"{shown(size)} Ah (profile)")
    have = size or 0.0
    if level is not None:
        have = level.value * have if level.kind == "share" else level.value
    if part is not None:
        have = have - (1 - part) * size if size is not None else have * part
    drawn = sum(one.value for one in rates)
    if have <= 0 or drawn <= 0:
        return None
    flows["battery"] = (have, drawn)
    return have / drawn, f"{shown(have)} Ah ÷ {shown(drawn)} A"


def showers_both(t: Told) -> Estimate | None:
    """How many showers there are before the fresh is down to what is kept or the waste is full, whichever is sooner."""
    use, flow, minutes = t.one("shower_use"), t.one("shower_flow"), t.value("shower_minutes")
    each = None if use is None else use.value * (_factor(t) if use.kind == "n" else 1.0)
    if use is None and flow is not None and minutes is not None:
        each = flow.value * minutes
    elif flow is not None or minutes is not None:
        return None
    level, inside, free = t.one("fresh"), t.one("waste"), t.one("waste_room")
    if not each or level is None:
        return None
    size, kinds, tank = _size(t, "fresh"), kinds_told(t), t.coach.tank("fresh")
    have = tank_gallons(level, tank, size, kinds, _factor(t))
    kept = t.one("reserve")
    reserve = 0.0 if kept is None else tank_gallons(kept, tank, size, kinds, _factor(t))
    if inside is None and free is None and EMPTY.search(t.question.frame) is None:
        return None
    waste, full = t.coach.tank("waste"), _size(t, "waste")
    held = 0.0 if inside is None else tank_gallons(inside, waste, full, kinds, _factor(t))
    if have is None or reserve is None or held is None:
        return None
    room, part = waste_room_of(t, held, full, kinds, _factor(t)), t.value("waste_part") if t.has("waste_part") else 1.0
    if room is None or not part:
        return None
    by_fresh, by_waste = (have - reserve) / each, room / (each * part)
    many = max(0, int(min(by_fresh, by_waste) + 1e-9))
    limits = "the waste is full first" if by_waste < by_fresh else "the fresh is out first"
    verdict = f"{many} showers, {limits}."
    needed = t.value("showers")
    also = [figure("by the fresh", by_fresh, "count"), figure("by the waste", by_waste, "count")]
    if needed is not None:
        verdict = f"{'Yes' if many >= needed else 'No'}, {verdict}"
        also.append(figure("to spare" if many >= needed else "short", abs(many - needed), "count"))
    work = (
        f"{shown(have - reserve)} gal ÷ {shown(each)} gal = {shown(by_fresh)}",
        f"{shown(room)} gal of room ÷ {shown(each * part)} gal = {shown(by_waste)}",
    )
    if OF_GROUP.search(t.question.frame) and needed is not None:
        return exact("showers", min(float(many), needed), "persons", working=work, assumptions=tuple(t.assumed), source="arithmetic", verdict=verdict.removeprefix("No, ").removeprefix("Yes, "), also=tuple(also))  # fmt: skip
    return exact("showers", float(many), "count", working=work, assumptions=tuple(t.assumed), source="arithmetic", verdict=verdict, also=tuple(also))  # fmt: skip
