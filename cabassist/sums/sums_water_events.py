"""Sums over what is used a time: flushes and showers of so many people, and how many of them there is water for."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import per_hour
from cabassist.sums.families import Told, done
from cabassist.sums.sums_water_rate import MINUTELY
from cabassist.sums.sums_water_tank import Tank, gallons_there, to_the_end, within_waste
from cabassist.sums.sums_water_time import beside_stock, flows_within, hours_needed, how_long


def shower_time(t: Told, tank: Tank) -> Estimate | None:
    """How many minutes each may shower with what there is."""
    flow, people = t.one("rate"), t.total("people")
    change = to_the_end(t, tank, False)
    by_minute = flow is not None and (flow.per in ("min", "s") or flow.unit in MINUTELY)
    if (
        flow is None
        or not by_minute
        or not flow.value
        or not people
        or change is None
        or not change[0]
        or change[0] < 0
    ):
        return None
    limited = within_waste(t, change[0])
    if limited is None:
        return None
    tank.assume()
    minutes = limited[0] / people / flow.value * 60
    line = f"{shown(limited[0])} gal ÷ {shown(people)} ÷ {shown(flow.value / 60)} gal a minute = {shown(minutes)} min"
    return done("each may shower", minutes, "min", t, (line,), limited[1])


def for_a_day(t: Told, tank: Tank) -> Estimate | None:
    """ "Sixty gallons for 25 people for a day at two gallons apiece": the share is for the one day that is told."""
    people, each, day = t.total("people"), t.value("per_event"), t.one("needed")
    if people is None or each is None or day is None or day.unit not in ("day", "night") or day.amount.value != 1:
        return None
    change = to_the_end(t, tank, False)
    if change is None:
        return None
    total = people * each
    line = f"{shown(people)} x {shown(each)} gal = {shown(total)} gal a day"
    if change[0] is None:
        return done("flows in that time", total, "gal", t, (line,)) if t.want.kind in ("volume", "") else None
    return how_long(t, tank, change[0], change[1], total / 24, line, 24.0, False)


_DAILY = Lazy(r"\b(?:times|flushes|showers|trips) (?:a|per|each|every) day\b|\bdaily\b")


OF_GROUP = Lazy(r"\bhow many (?:out )?of (?:(?:the|our|my|us|these|those|them) )?<(?:n|people|driver)>")
"""Of so many people it is asked how many get one."""


OF_THEM = Lazy(
    r"\bhow many of (?:them|us|the (?:boys|girls|lads|guys|kids|players|team|crew|men|women)) (?:can|could|may|get|will|do)\b(?! flush)"
)
"""How many of those aboard get one, whatever their number."""


def _how_many(t: Told, tank: Tank, each: float, work: tuple[str, ...], group: float | None) -> Estimate | None:
    """How many showers there is water for, or how many flushes still fit; of a group no more than it has."""
    if group is None and t.has("people" if t.want.kind == "people" else "times"):
        return None
    have = gallons_there(t, tank)
    if have is None or have <= 0 or not each:
        return None
    limited = within_waste(t, have)
    if limited is None:
        return None
    have, verdict = limited
    tank.assume()
    count = have / each
    line = f"{shown(have)} gal ÷ {shown(each)} gal = {shown(count)}"
    if group is not None and count >= group:
        count, verdict = group, "All of them."
    heads = t.want.kind == "people" or OF_THEM.search(t.question.frame) is not None
    return done(
        f"{'people' if heads else t.want.unit} it is enough for",
        float(int(count + 1e-9)),
        "persons" if heads else t.want.unit,
        t,
        (*work, line),
        verdict,
    )


_AGAIN = Lazy(r"\b(?:twice|once)\b")
_ONE_EACH = Lazy(r"\b(?:showers?|showering|each|apiece|per|every|rinse|rinses|wash\w*|a head)\b|/each>")


def events(t: Told, tank: Tank) -> Estimate | None:
    """People x times x amount: what flushes and showers come to."""
    people = t.total("people") if t.has("people") else 1.0
    heads = t.roles.get("people", [])
    if len(heads) > 1 and len({one.kind for one in heads}) > 1:
        return None  # "40 of them, waste at 30 of 80": the bare number counts nobody
    if t.has("use") or (t.has("rate") and not t.has("minutes_each")):
        return None
    if not (t.has("people") or t.has("times") or t.want.kind in ("times", "people")):
        return None
    bare = [term for name in ("per_event",) for term in t.roles.get(name, []) if term.kind == "n"]
    if any(
        not (t.want.kind in ("people", "times") and term.each and term in t.roles.get("per_event", [])) for term in bare
    ):
        return None
    group = people if people is not None and OF_GROUP.search(t.question.frame) and not t.has("times") else None
    if group is not None:
        people = 1.0
        t.want = replace(t.want, kind="people", unit="people")
    times = t.one("times")
    again = {"twice": 2.0, "once": 1.0}.get(next(iter(_AGAIN.findall(t.question.frame)), ""), 0.0)
    if again and times is not None:
        return None
    count = again or 1.0 if times is None else 24 * per_hour(times) if times.per else times.value
    if t.has("minutes_each"):
        if not _ONE_EACH.search(t.question.frame) and not (t.has("people", "level") and t.want.judged):
            return None
        flow, minutes = t.one("rate"), t.value("minutes_each")
        if flow is None or minutes is None or not (flow.per in ("min", "s") or flow.unit in MINUTELY):
            return None
        each = flow.value * minutes
        line = f"{shown(minutes * 60)} min x {shown(flow.value / 60)} gal a minute = {shown(each)} gal each"
    else:
        term = t.one("per_event")
        if term is None:
            return None
        each, line = term.value, ""
    if people is None:
        return None
    daily = _DAILY.search(t.question.frame) is not None or (times is not None and times.per in ("day", "h"))
    needed = hours_needed(t)
    if daily and (t.want.kind == "time" or needed is not None):
        hourly = people * count * each / 24
        told = f"{shown(people)} x {shown(count)} x {shown(each)} gal = {shown(24 * hourly)} gal a day"
        change = to_the_end(t, tank, False)
        if change is None:
            return None
        if change[0] is None:
            return flows_within(t, tank, hourly, told, needed, False)
        return how_long(t, tank, change[0], change[1], hourly, told, needed, False)
    total = people * count * each
    parts = [shown(n) for n in (people, count) if n != 1]
    work = (*((line,) if line else ()), f"{' x '.join((*parts, shown(each)))} gal = {shown(total)} gal")
    if t.want.kind in ("times", "people"):
        return _how_many(t, tank, total, work, group)
    if t.want.kind not in ("volume", ""):
        return None
    if t.has("add"):  # "and another twelve gallons from the sinks"
        further = [tank.gallons(one) for one in t.all("add")]
        if any(one is None for one in further):
            return None
        extra = sum(one or 0.0 for one in further)
        work = (*work, f"{shown(total)} + {shown(extra)} = {shown(total + extra)} gal")
        total += extra
    return beside_stock(t, tank, total, work)
