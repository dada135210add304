"""Fresh water: how long it lasts, how long a fill takes, when to go and look, and what it weighs.

Hose flow is in `hose.py`, bleach in `bleach.py`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from math import floor, hypot
from typing import TYPE_CHECKING, Any

from cabassist.estimate.amounts import DAY_S, gal, people, percent, spread
from cabassist.estimate.clock import between, clock, hours_between
from cabassist.estimate.quantities import (
    duration,
    exact,
    figure,
    interpolated,
    not_negative,
    positive,
    ranged,
    share,
    shown,
    temperature_k,
    withheld,
)
from cabassist.estimate.tanks import straight_line
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

LB_PER_GAL_BY_F = ((39.0, 8.345), (60.0, 8.337))
WEIGHT_SOURCE = "8.337 lb/gal at 60 °F, 8.345 at 39 °F (CoolProp; WAC 296-307-40029 gives 8.328 weighed in air)"
LOOK_SHARE = 0.8
"""Share of the fill time after which to go and look. Common practice, no source."""


def hours_left(
    fresh: Quantity[Any],
    aboard: float,
    per_person: Quantity[Any],
    *,
    other: Quantity[Any] | None = None,
    reserve: Quantity[Any] | None = None,
    needed: Quantity[Any] | None = None,
    fresh_spread: float = 0.0,
    use_spread: float = 0.0,
) -> Estimate:
    """Hours the fresh water lasts.

    Args:
        fresh: what is in the tank [volume].
        aboard: people who use it.
        per_person: what each uses [volume per time].
        other: galley and the like for all together [volume per time].
        reserve: what is to stay in the tank [volume].
        needed: how long it must last [time].
        fresh_spread, use_spread: half the 10–90 % range as a share; 0 when exact.

    Returns:
        Hours, with days beside; None when nobody uses any.

    Raises:
        ValueError: an impossible number.

    Source: water ÷ use, arithmetic.
    """
    have = gal(not_negative(fresh, "m^3", "the fresh water"))
    kept = 0.0 if reserve is None else gal(not_negative(reserve, "m^3", "the reserve"))
    usable = max(have - kept, 0.0)
    daily, line = daily_use(aboard, per_person, other)
    if daily == 0:
        return withheld("fresh water lasts", "h", "Nobody uses any, so it does not run out.", working=(line,))
    hours = usable / daily * 24
    wide = hypot(spread(fresh_spread, "the fresh water"), spread(use_spread, "the use"))
    low, high = hours / (1 + wide), hours * (1 + wide)
    first = f"{shown(have)} - {shown(kept)} gal kept = {shown(usable)} gal" if kept else f"{shown(usable)} gal"
    enough = ""
    if needed is not None:
        wanted = not_negative(needed, "h", "the time it must last")
        enough = f" Enough for {duration(wanted)}." if low >= wanted else f" Do not count on {duration(wanted)}."
    return ranged(
        "fresh water lasts",
        hours,
        "h",
        low,
        high,
        working=(line, f"{first} ÷ {shown(daily)} gal a day x 24 = {shown(hours)} h"),
        assumptions=("use spread evenly over day and night",),
        source="arithmetic",
        verdict=f"About {duration(hours)}{between(low, high)}.{enough}",
        also=(figure("days", hours / 24, "days", low / 24, high / 24),),
    )


def daily_use(aboard: float, per_person: Quantity[Any], other: Quantity[Any] | None = None) -> tuple[float, str]:
    """Gallons a day for everybody, with the line that shows it.

    Raises:
        ValueError: an impossible number.
    """
    heads = people(aboard)
    each = gal(not_negative(per_person, "m^3/s", "the use of a person") * DAY_S)
    shared = 0.0 if other is None else gal(not_negative(other, "m^3/s", "the shared use") * DAY_S)
    total = heads * each + shared
    more = f" + {shown(shared)} shared" if shared else ""
    return total, f"{shown(heads)} people x {shown(each)} gal{more} = {shown(total)} gal a day"


def hours_left_from_readings(
    first: Quantity[Any],
    first_at: datetime,
    last: Quantity[Any],
    last_at: datetime,
    *,
    error: Quantity[Any] | None = None,
) -> Estimate:
    """Hours from the last reading until the fresh tank is empty, if it goes on falling as between two readings.

    Args:
        first, last: what was in the tank [volume].
        first_at, last_at: when, with zone.
        error: half the 10–90 % range of one reading [volume]; exact when left out.

    Returns:
        Hours; None when it did not fall.

    Raises:
        ValueError: times out of order, or an impossible number.

    Source: straight line, arithmetic.
    """
    return straight_line(
        "fresh water lasts",
        gal(not_negative(first, "m^3", "the first reading")),
        gal(not_negative(last, "m^3", "the second reading")),
        hours_between(first_at, last_at, "readings"),
        target=0.0,
        unit="gal",
        error=0.0 if error is None else gal(not_negative(error, "m^3", "the reading's error")),
    )


def uses_left(fresh: Quantity[Any], each: Quantity[Any], what: str = "uses") -> Estimate:
    """How many whole showers, flushes or pots the water is enough for.

    Args:
        fresh: what may be used [volume].
        each: water for one [volume]; a shower is its flow times its length.
        what: the word for many of them.

    Raises:
        ValueError: an impossible number.

    Source: water ÷ water for one, arithmetic.
    """
    have, one = gal(not_negative(fresh, "m^3", "the fresh water")), gal(positive(each, "m^3", "the water for one"))
    whole = float(floor(have / one + 1e-9))
    return exact(
        f"{what} left",
        whole,
        what,
        working=(f"{shown(have)} gal ÷ {shown(one)} gal = {shown(have / one)}, so {shown(whole)} whole {what}",),
        source="arithmetic",
        verdict=f"Enough for {shown(whole)} {what}.",
    )


def fill_time(
    water: Quantity[Any], flow: Quantity[Any], *, flow_spread: float = 0.0, started: datetime | None = None
) -> Estimate:
    """Minutes to fill, and when to go and look.

    Args:
        water: what is to go in [volume].
        flow: of the hose [volume per time].
        flow_spread: half the 10–90 % range of the flow as a share; 0 when it is exact.
        started: the clock with its zone, to name the time to look.

    Returns:
        Minutes; beside them the whole minutes after which to look, and the pounds added.

    Raises:
        ValueError: no flow, or an impossible number.

    Source: water ÷ flow, arithmetic; when to look is common practice, no source.
    """
    gallons = gal(not_negative(water, "m^3", "the water"))
    per_minute = gal(positive(flow, "m^3/s", "the flow") * 60)
    wide = spread(flow_spread, "the flow")
    minutes = gallons / per_minute
    early = minutes / (1 + wide)
    look = float(floor(LOOK_SHARE * early + 1e-6))
    pounds = gallons * LB_PER_GAL_BY_F[1][1]
    check = f"Check the tank in {shown(look)} minute{'' if look == 1 else 's'}" if look >= 1 else "Stay at the tank"
    if started is not None and look >= 1:
        check += f", at {clock(started, look / 60)}"
    return ranged(
        "fill time",
        minutes,
        "min",
        early,
        minutes * (1 + wide),
        working=(
            f"{shown(gallons)} gal ÷ {shown(per_minute)} gal a minute = {shown(minutes)} min",
            f"look at {percent(LOOK_SHARE)} of {shown(early)} min, cut to whole minutes: {shown(look)} min",
            f"{shown(gallons)} gal x {LB_PER_GAL_BY_F[1][1]} lb/gal = {shown(pounds)} lb more",
        ),
        assumptions=("the flow stays the same; somebody else's tap slows it",),
        source=f"arithmetic; {WEIGHT_SOURCE}; when to look is common practice, no source",
        verdict=f"{check}. Full in about {duration(minutes / 60)}.",
        also=(figure("look after", look, "min"), figure("weight added", pounds, "lb")),
    )


def fill_plan(
    level: float,
    capacity: Quantity[Any],
    flow: Quantity[Any],
    *,
    target: float = 1.0,
    flow_spread: float = 0.0,
    started: datetime | None = None,
) -> Estimate:
    """Minutes to fill a tank from one level to another, never beyond full.

    Args:
        level, target: shares of full, 0–1.
        capacity: of the full tank [volume].
        flow, flow_spread, started: as in `fill_time`.

    Raises:
        ValueError: an impossible number.

    Source: as `fill_time`.
    """
    now, goal = share(level, "the fresh level"), share(target, "the level wanted")
    full = positive(capacity, "m^3", "the tank's capacity")
    missing = max(goal - now, 0.0) * full
    filled = fill_time(_like(capacity, missing), flow, flow_spread=flow_spread, started=started)
    first = f"({shown(goal)} - {shown(now)}) x {shown(gal(full))} gal = {shown(gal(missing))} gal to go in"
    return replace(
        filled,
        working=(first, *filled.working),
        also=(figure("water to go in", gal(missing), "gal"), *filled.also),
        verdict=filled.verdict if missing else "It is there already.",
    )


def _like(quantity: Quantity[Any], m3: float) -> Quantity[Any]:
    """A volume from the same registry as another."""
    made: Quantity[Any] = type(quantity)(m3, "m^3")
    return made


def filled_after(level: float, capacity: Quantity[Any], flow: Quantity[Any], time: Quantity[Any]) -> Estimate:
    """What is in the tank after the hose has run for a time, never beyond full.

    Args:
        level: share of full when it began, 0–1.
        capacity: of the full tank [volume].
        flow: of the hose [volume per time].
        time: how long it ran [time].

    Returns:
        Gallons; beside them the share of full and what went over.

    Raises:
        ValueError: an impossible number.

    Source: arithmetic.
    """
    full = gal(positive(capacity, "m^3", "the tank's capacity"))
    begun = share(level, "the fresh level") * full
    run = gal(not_negative(flow, "m^3/s", "the flow") * not_negative(time, "s", "the time"))
    inside, over = min(begun + run, full), max(begun + run - full, 0.0)
    return exact(
        "in the tank",
        inside,
        "gal",
        working=(
            f"{shown(begun)} gal + {shown(run)} gal from the hose = {shown(begun + run)} gal",
            f"{shown(inside)} of {shown(full)} gal = {percent(inside / full)}",
        ),
        source="arithmetic",
        verdict=f"Full, with {shown(over)} gallons over. Shut the water off." if over else "",
        also=(figure("share of full", inside / full, "fraction"), figure("overflowed", over, "gal")),
    )


def weight(water: Quantity[Any], *, at: Quantity[Any] | None = None) -> Estimate:
    """Weight of water, fresh or waste.

    Args:
        water: volume [volume].
        at: its temperature [temperature]; 60 °F when left out.

    Returns:
        Pounds; None at a temperature for which no density is given here.

    Raises:
        ValueError: an impossible number.

    Source: 8.337 lb/gal at 60 °F and 8.345 at 39 °F (CoolProp).
    """
    gallons = gal(not_negative(water, "m^3", "the water"))
    degrees = 60.0 if at is None else round(temperature_k(at, "the water") * 1.8 - 459.67, 6)
    each = interpolated(LB_PER_GAL_BY_F, degrees)
    if each is None:
        return withheld("weight", "lb", "I have the weight of water between 39 and 60 °F only.", source=WEIGHT_SOURCE)
    return exact(
        "weight",
        gallons * each,
        "lb",
        working=(f"{shown(gallons)} gal x {shown(each)} lb/gal = {shown(gallons * each)} lb",),
        assumptions=("waste weighs as much as water",),
        source=WEIGHT_SOURCE,
    )
