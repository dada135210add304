"""The flow of water that is asked for: what it was, what fills a tank in a time, what may be used so that it lasts."""

from __future__ import annotations

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import per_hour
from cabassist.sums.families import Told, done
from cabassist.sums.sums_water_flow import FILLING
from cabassist.sums.sums_water_rate import BY_HEADS, DRAINING, IN_H, RATES, gallons_told, span_told
from cabassist.sums.sums_water_tank import Tank, to_the_end, within_waste
from cabassist.sums.sums_water_time import hours_needed

_A_PERSON = Lazy(r"\b(?:per|a|every) (?:person|head|rider|player|guy)\b")
_IN_A_SPAN = Lazy(
    r"\b(?:an?|per|each|every|the|in an?) (?:hour|day|night|minute)\b|\b(?:daily|hourly|nightly)\b|[/](?:h|d|hr|day)\b"
)
"""Asks for what may be used in a span of time, not in all."""


def rate_told(t: Told, hourly: float, line: str) -> Estimate:
    """The flow that follows from two readings, what moved, or a bucket."""
    frame = t.question.frame
    factor, _ = IN_H[t.want.rate]
    t.all("level")
    aboard = t.total("people") if BY_HEADS.search(frame) or _A_PERSON.search(frame) else None
    if aboard:
        each = hourly * factor / aboard
        by = f"÷ {shown(aboard)} = {shown(each)} gal each"
        return done("each uses", each, RATES[t.want.rate], t, (line, by), "", figure("each", each, "gal"), figure("all together", hourly * factor, RATES[t.want.rate]))  # fmt: skip
    return done("rate", hourly * factor, RATES[t.want.rate], t, (line,))


def filled_at(t: Told, tank: Tank) -> Estimate | None:
    """The flow that fills a tank in a time."""
    if t.has("before", "level") or t.has("elapsed", "needed"):
        return None
    level = t.one("before") or t.one("level")
    hours = t.value("elapsed") or hours_needed(t)
    parts = [tank.gallons(term, flows=True) for term in t.all("add")]
    put = sum(part or 0.0 for part in parts) if parts else None
    if None in parts:
        return None
    goal = t.one("target")
    top = tank.capacity if goal is None else tank.gallons(goal)
    if put is not None and not FILLING.search(t.question.frame):
        t.doubt += 2.0  # "went from 320 to 260 litres" puts nothing in
    inside = 0.0 if level is None else tank.gallons(level)
    if inside is None or top is None or not hours or inside >= top or (put is not None and level is not None):
        return None
    if put is None:
        tank.used_capacity = tank.used_capacity or goal is None
        tank.assume()
    factor, span = IN_H[t.want.rate]
    went = top - inside if put is None else put
    flow = went / hours * factor
    line = f"{shown(went)} gal ÷ {shown(hours)} h = {shown(flow)} gal {span}"
    return done("flow", flow, RATES[t.want.rate], t, (line,))


_DUMPED_IN_H = 1.0
"""A waste tank that is emptied in less is dumped, not used up."""


def inverse(t: Told, tank: Tank) -> Estimate | None:
    """How many people a level is enough for, or how much may be used in a time, so that it lasts."""
    needed = hours_needed(t)
    if tank.waste and needed and needed < _DUMPED_IN_H and DRAINING.search(t.question.frame):
        tank.rising = False
    change = to_the_end(t, tank, False)
    if change is None or not change[0] or change[0] < 0 or not needed or t.has("rate"):
        return None
    limited = within_waste(t, change[0])
    if limited is None:
        return None
    gallons, limit = limited
    tank.assume()
    if t.want.kind == "people":
        use = t.one("use")
        if use is None or not use.value:
            return None
        people = gallons / (per_hour(use) * needed)
        line = f"{shown(gallons)} gal ÷ ({gallons_told(use)} {span_told(use)} x {shown(needed)} h) = {shown(people)}"
        return done("people it is enough for", float(int(people + 1e-9)), "persons", t, (line,), limit)
    factor, span = IN_H[t.want.rate]
    aboard = t.total("people")
    total = gallons / needed * factor
    work = (f"{shown(gallons)} gal ÷ {shown(needed)} h = {shown(total)} gal {span}",)
    if aboard and not _IN_A_SPAN.search(t.question.frame) and t.want.unit:  # "how many gallons is that for each"
        whole = gallons / aboard
        line = f"{shown(gallons)} gal ÷ {shown(aboard)} = {shown(whole)} gal each"
        return done("each may use", whole, "gal", t, (line,), limit, figure(f"each, {span}", total / aboard, RATES[t.want.rate]))  # fmt: skip
    if aboard:
        each = total / aboard
        return done("each may use", each, RATES[t.want.rate], t, (*work, f"÷ {shown(aboard)} = {shown(each)} gal each"), f"{shown(each)} gallons each {span}. {limit}".strip(), figure("all together", total, RATES[t.want.rate]), figure("each", each, "gal"))  # fmt: skip
    return done("flow", total, RATES[t.want.rate], t, work, limit)
