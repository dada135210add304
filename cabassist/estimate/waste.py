"""The waste tank: hours until it must be dumped, the deadline by the clock, and which tank comes first.

Ninety percent is the working limit: the last tenth is for the road home, not for people.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import hypot
from typing import TYPE_CHECKING, Any

from cabassist.estimate import water
from cabassist.estimate.amounts import gal, people, percent, spread
from cabassist.estimate.clock import about_same, between, clock
from cabassist.estimate.quantities import (
    duration,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    share,
    shown,
    some_share,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

LIMIT = 0.9
"""Share of full at which the tank is to be dumped. Common practice, no source."""
MARGIN_H = 1.0
"""Hours in hand before the limit for a dump deadline. Common practice, no source."""
ARITHMETIC = "room ÷ inflow, arithmetic"


def hours_until(
    level: float,
    capacity: Quantity[Any],
    aboard: float,
    per_person: Quantity[Any],
    *,
    other: Quantity[Any] | None = None,
    limit: float = LIMIT,
    level_error: float = 0.0,
    use_spread: float = 0.0,
) -> Estimate:
    """Hours until the waste tank reaches a limit, and until it is full.

    Args:
        level: share of full now, 0–1.
        capacity: of the tank [volume].
        aboard: people.
        per_person: what each puts in [volume per time].
        other: galley and the like for all together [volume per time].
        limit: share of full at which it must be dumped; 1 for full.
        level_error: half the 10–90 % range of the level, as a share of full; 0 when exact.
        use_spread: half the 10–90 % range of the inflow, as a share; 0 when exact.

    Returns:
        Hours to the limit, 0 when it is reached; None when nothing flows in.

    Raises:
        ValueError: an impossible number.

    Source: room ÷ inflow, arithmetic.
    """
    now, top = share(level, "the waste level"), some_share(limit, "the limit")
    full = gal(positive(capacity, "m^3", "the tank's capacity"))
    off, wide = share(level_error, "the level's error"), spread(use_spread, "the inflow")
    daily, line = water.daily_use(aboard, per_person, other)
    if daily == 0:
        return withheld("waste tank lasts", "h", "Nothing flows in, so it does not fill.", working=(line,))
    room = max(top - now, 0.0) * full
    to_limit, to_full = room / daily * 24, (1 - now) * full / daily * 24
    early, late = max(top - now - off, 0.0) * full / daily * 24, max(top - now + off, 0.0) * full / daily * 24
    low = max(to_limit - hypot(to_limit - early, to_limit - to_limit / (1 + wide)), 0.0)
    high = to_limit + hypot(late - to_limit, to_limit * wide)
    return ranged(
        "waste tank lasts",
        to_limit,
        "h",
        low,
        high,
        working=(
            line,
            f"({shown(top)} - {shown(now)}) x {shown(full)} gal = {shown(room)} gal of room",
            f"{shown(room)} gal ÷ {shown(daily)} gal a day x 24 = {shown(to_limit)} h",
        ),
        assumptions=("inflow spread evenly over day and night",),
        source=ARITHMETIC,
        verdict=_until_words(to_limit, low, high, top),
        also=(figure("full", to_full, "h"), figure("days", to_limit / 24, "days", low / 24, high / 24)),
    )


def _until_words(hours: float, low: float, high: float, limit: float) -> str:
    what = "full" if limit == 1 else f"at {percent(limit)}"
    if hours == 0:
        return f"It is {what} now. Dump it."
    return f"About {duration(hours)} until it is {what}{between(low, high)}."


@dataclass(frozen=True)
class DumpStop:
    """A planned stop where the tank can be dumped."""

    name: str
    at: datetime


def dump_deadline(
    level: float,
    capacity: Quantity[Any],
    aboard: float,
    per_person: Quantity[Any],
    now: datetime,
    *,
    other: Quantity[Any] | None = None,
    limit: float = LIMIT,
    margin: Quantity[Any] | None = None,
    away: Sequence[tuple[datetime, datetime]] = (),
    stops: Sequence[DumpStop] = (),
    level_error: float = 0.0,
    use_spread: float = 0.0,
) -> Estimate:
    """By what clock time to dump, and at which planned stop at the latest.

    The deadline lies a margin before the early (10 %) end of the time to the limit.

    Args:
        level, capacity, aboard, per_person, other, limit, level_error, use_spread: as in `hours_until`.
        now: the clock, with its zone.
        margin: time in hand [time]; one hour when left out.
        away: times when nobody is aboard and nothing flows in, from–to.
        stops: planned stops where it can be dumped.

    Returns:
        Hours from now to the deadline (0 when it is past); beside them hours to the limit.

    Raises:
        ValueError: an impossible number, or a clock without its zone.

    Source: room ÷ inflow, arithmetic; the margin is common practice, no source.
    """
    reached = hours_until(
        level,
        capacity,
        aboard,
        per_person,
        other=other,
        limit=limit,
        level_error=level_error,
        use_spread=use_spread,
    )
    if reached.value is None or reached.low is None or reached.high is None:
        return reached
    margin_h = MARGIN_H if margin is None else not_negative(margin, "h", "the margin")
    gaps = [(_hours_from(now, start), _hours_from(now, end)) for start, end in sorted(away)]
    low, middle, high = (_with_gaps(h, gaps) for h in (reached.low, reached.value, reached.high))
    due = max(low - margin_h, 0.0)
    waits = f"nobody aboard for {shown(middle - reached.value)} h of it: {shown(middle)} h" if gaps else ""
    return replace(
        reached,
        name="dump deadline",
        value=due,
        low=max(low - margin_h, 0.0),
        high=max(high - margin_h, 0.0),
        working=(
            *reached.working,
            *((waits,) if waits else ()),
            f"early end {shown(low)} h - {shown(margin_h)} h in hand = {shown(due)} h: {clock(now, due)}",
        ),
        assumptions=(*reached.assumptions, f"{shown(margin_h)} h in hand (common practice, no source)"),
        verdict=_deadline_words(now, due, stops),
        also=(figure("limit reached", middle, "h", low, high),),
    )


def _hours_from(now: datetime, then: datetime) -> float:
    if then.tzinfo is None:
        raise ValueError("The times of the plan need their time zone.")
    return (then - now).total_seconds() / 3600


def _with_gaps(hours: float, gaps: Sequence[tuple[float, float]]) -> float:
    """The clock hours until `hours` of inflow have passed, standing still during the gaps."""
    passed = 0.0
    for start, end in gaps:
        begins, ends = max(start, passed), max(end, passed)
        if begins > hours:
            break
        hours += ends - begins
        passed = ends
    return hours


def _deadline_words(now: datetime, due: float, stops: Sequence[DumpStop]) -> str:
    if due == 0:
        return "Dump now."
    words = f"Dump before {clock(now, due)}."
    if not stops:
        return words
    in_time = [(hours, stop) for stop in stops if 0 <= (hours := _hours_from(now, stop.at)) <= due]
    if not in_time:
        return f"{words} No planned stop is early enough."
    hours, last = max(in_time, key=lambda pair: pair[0])
    return f"{words} The last stop in time is {last.name}, at {clock(now, hours)}."


def comes_first(
    fresh: Quantity[Any],
    waste_level: float,
    waste_capacity: Quantity[Any],
    aboard: float,
    fresh_per_person: Quantity[Any],
    waste_per_person: Quantity[Any],
    *,
    limit: float = 1.0,
) -> Estimate:
    """Which comes first, fresh empty or waste full, and when.

    Args:
        fresh: what is in the fresh tank [volume].
        waste_level: share of full of the waste tank, 0–1.
        waste_capacity: of the waste tank [volume].
        aboard: people.
        fresh_per_person, waste_per_person: what each uses and puts in [volume per time].
        limit: share at which the waste tank counts as full.

    Returns:
        Hours to the first of the two; beside them both.

    Raises:
        ValueError: an impossible number.

    Source: arithmetic.
    """
    dry = water.hours_left(fresh, aboard, fresh_per_person)
    full = hours_until(waste_level, waste_capacity, aboard, waste_per_person, limit=limit)
    known = [one.value for one in (dry, full) if one.value is not None]
    working = (*(f"fresh: {line}" for line in dry.working), *(f"waste: {line}" for line in full.working))
    if not known:
        return withheld("which comes first", "h", "Nothing is used and nothing flows in.", working=working)
    first = min(known)
    if dry.value is not None and full.value is not None and about_same(dry.value, full.value):
        verdict = f"Both at about the same time, in about {duration(first)}."
    elif first == full.value:
        verdict = f"Waste full first, in about {duration(first)}."
    else:
        verdict = f"Fresh empty first, in about {duration(first)}."
    also = tuple(
        figure(name, one.value, "h")
        for name, one in (("fresh empty", dry), ("waste full", full))
        if one.value is not None
    )
    return exact(
        "which comes first",
        first,
        "h",
        working=working,
        assumptions=("use and inflow spread evenly over day and night",),
        source="arithmetic",
        verdict=verdict,
        also=also,
    )


def overfull_check(
    inside: Quantity[Any],
    capacity: Quantity[Any],
    aboard: float,
    per_flush: Quantity[Any],
    uses: float,
    *,
    other: Quantity[Any] | None = None,
    limit: float = 1.0,
) -> Estimate:
    """Whether the waste tank takes what a number of people will put in.

    Args:
        inside: what is in it now [volume].
        capacity: of the tank [volume].
        aboard: people.
        per_flush: water of one flush [volume].
        uses: flushes of each.
        other: anything else that runs in meanwhile [volume].
        limit: share of full that must not be passed.

    Returns:
        Gallons in the tank afterwards, were it big enough; beside them what is added and the room left.

    Raises:
        ValueError: an impossible number.

    Source: people x flushes x gallons a flush, arithmetic.
    """
    heads, flush = people(aboard), gal(not_negative(per_flush, "m^3", "the flush"))
    begun, full = gal(not_negative(inside, "m^3", "the waste")), gal(positive(capacity, "m^3", "the tank's capacity"))
    top = some_share(limit, "the limit") * full
    if begun > full * 1.000001:
        raise ValueError(f"A tank of {shown(full)} gallons can't hold {shown(begun)}. Say it again.")
    if uses < 0:
        raise ValueError("The number of flushes can't be less than zero.")
    more = 0.0 if other is None else gal(not_negative(other, "m^3", "the rest"))
    added = heads * uses * flush + more
    after = begun + added
    rest = f" + {shown(more)}" if more else ""
    if after > top:
        verdict = f"Warning: too full by {shown(after - top, 3)} gallons. Dump it first."
    else:
        verdict = f"It takes that, with {shown(top - after, 3)} gallons to spare."
    return exact(
        "in the waste tank",
        after,
        "gal",
        working=(
            f"{shown(heads)} people x {shown(uses)} uses x {shown(flush)} gal{rest} = {shown(added)} gal more",
            f"{shown(begun)} + {shown(added)} = {shown(after)} gal, against {shown(top)} gal",
        ),
        assumptions=("the number of uses is what was said",),
        source="arithmetic",
        verdict=verdict,
        also=(figure("added", added, "gal"), figure("room left", top - after, "gal")),
    )


def inflow_per_person(
    flushes: float, per_flush: Quantity[Any], *, basin: Quantity[Any] | None = None, shower: Quantity[Any] | None = None
) -> Estimate:
    """What one person puts into the waste tank in a day, from habits.

    Args:
        flushes: flushes a day.
        per_flush: water of one flush [volume].
        basin: water at the basin a day [volume].
        shower: water for showers a day [volume].

    Returns:
        Gallons a day for one person.

    Raises:
        ValueError: an impossible number.

    Source: sum, arithmetic; habits differ by half either way (common practice, no source).
    """
    if flushes < 0:
        raise ValueError("The number of flushes can't be less than zero.")
    flush = gal(not_negative(per_flush, "m^3", "the flush"))
    washed = 0.0 if basin is None else gal(not_negative(basin, "m^3", "the basin"))
    showered = 0.0 if shower is None else gal(not_negative(shower, "m^3", "the shower"))
    total = flushes * flush + washed + showered
    return ranged(
        "waste of a person",
        total,
        "gal/day",
        total * 0.67,
        total * 1.5,
        working=(
            f"{shown(flushes)} x {shown(flush)} gal + {shown(washed)} basin + {shown(showered)} shower"
            f" = {shown(total)} gal a day",
        ),
        assumptions=("habits differ by half either way (common practice, no source)",),
        source="arithmetic",
    )
