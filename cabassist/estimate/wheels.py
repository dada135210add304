"""Wheels and what rests on them: nut torque, when to check it again, jacks, axle limits, weight of water aboard.

The plate on the coach and the maker's figure come before every figure here.
"""

from __future__ import annotations

import math
from calendar import monthrange
from datetime import date
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.quantities import (
    LB_KG,
    MEMORY,
    exact,
    figure,
    measure,
    not_negative,
    positive,
    ranged,
    shown,
    whole,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

FT_LB_N_M = 1.3558179483314004
MILE_M = 1609.344
FOOT_M = 0.3048
HUB_TORQUE_FT_LB, HUB_WINDOW_FT_LB = 475.0, 25.0
"""Hub-piloted, M22×1.5, 33 mm two-piece flange nut: 475 ± 25 lb-ft (Trucknews, wheel article)."""
RECHECK_MILES = (50.0, 100.0)
RECHECK_INTERVAL_MILES = 10_000.0
"""First re-check after 50 to 100 miles, then at intervals (Trucknews, wheel article)."""
WATER_LB_PER_GAL = 8.337
"""Water at 60 °F in vacuum (CoolProp)."""
SINGLE_AXLE_LB, TANDEM_LB, GROSS_LB = 20_000.0, 34_000.0, 80_000.0
"""23 USC 127; 23 CFR 658.17; FHWA Bridge Formula Weights (2019)."""
BUS_SINGLE_AXLE_LB = 24_000.0
"""Single axle of an over-the-road bus, 23 USC 127 note (from memory)."""

TORQUE_SOURCE = "Trucknews, wheel article: 475 ± 25 lb-ft, re-check after 50 to 100 miles (published, secondary)"
PLATE_FIRST = "the coach's plate or the maker's figure comes first"
AXLE_SOURCE = "23 USC 127, 23 CFR 658.17, FHWA Bridge Formula Weights 2019 (published)"
JACK_SOURCE = "29 CFR 1910.244(a), WAC 296-307-22509 (published)"
Mounting = Literal["hub-piloted", "stud-piloted"]
Axles = Literal["single", "tandem", "gross"]


def nut_torque(
    torque: Quantity[Any], *, target: Quantity[Any] | None = None, window: Quantity[Any] | None = None
) -> Estimate:
    """Whether a wheel nut torque is inside its window.

    Args:
        torque: torque set or read [force·length].
        target: the plate's or the profile's figure, 475 lb-ft for hub-piloted when left out [force·length].
        window: how far it may be off, 25 lb-ft when left out [force·length].

    Returns:
        Distance from the target, in the unit of `torque`; the verdict says inside or outside.

    Raises:
        DimensionalityError: an argument is no torque.
        ValueError: a torque that is not above zero, or a negative window.

    Source: Trucknews, wheel article; the plate comes first.
    """
    unit, factor = ("N·m", 1.0) if "newton" in str(torque.units) else ("lb-ft", FT_LB_N_M)
    read = positive(torque, "N*m", "the torque") / factor
    want = (HUB_TORQUE_FT_LB * FT_LB_N_M if target is None else positive(target, "N*m", "the target torque")) / factor
    slack = HUB_WINDOW_FT_LB * FT_LB_N_M if window is None else not_negative(window, "N*m", "the window")
    low, high = want - slack / factor, want + slack / factor
    fine = low - 1e-6 <= read <= high + 1e-6
    side = "too loose: tighten to the click" if read < low else "too tight: a stud may be stretched, have it checked"
    return exact(
        "off the target torque",
        read - want,
        unit,
        working=(
            f"Window: {shown(want)} - {shown(want - low)} to + {shown(high - want)} = {shown(low)} to {shown(high)} {unit}.",
            f"{shown(read)} - {shown(want)} = {shown(read - want)} {unit}.",
        ),
        assumptions=(
            PLATE_FIRST,
            *(("hub-piloted wheel, M22×1.5, two-piece flange nut",) if target is None else ()),
        ),
        source=TORQUE_SOURCE if target is None else "the target given; the plate or the maker's figure",
        verdict=(
            f"Inside: {shown(read)} {unit}, allowed {shown(low)} to {shown(high)}. {PLATE_FIRST[0].upper()}{PLATE_FIRST[1:]}."
            if fine
            else f"Outside: {shown(read)} {unit}, allowed {shown(low)} to {shown(high)}. It is {side}."
        ),
        also=(figure("lowest", low, unit), figure("highest", high, unit)),
    )


def thread_condition(mounting: Mounting) -> Estimate:
    """Whether the threads are oiled or dry; no number, from memory.

    Args:
        mounting: how the wheel is centered.

    Source: TMC RP 222 (from memory).
    """
    verdict = (
        "Hub-piloted: a drop of light oil on the threads and between nut and washer, never between wheel and hub."
        if mounting == "hub-piloted"
        else "Stud-piloted ball seat: dry."
    )
    return withheld(
        "threads",
        "",
        f"{verdict} From memory: ask the maker.",
        assumptions=(PLATE_FIRST,),
        source=f"TMC RP 222 ({MEMORY})",
    )


def torque_recheck(
    fitted_at: Quantity[Any],
    *,
    now: Quantity[Any] | None = None,
    first: Quantity[Any] | None = None,
    last: Quantity[Any] | None = None,
) -> Estimate:
    """Odometer reading at which wheel nuts are checked again.

    Args:
        fitted_at: odometer when the wheel was fitted [length].
        now: odometer now [length].
        first: distance after which it is due, 50 miles when left out [length].
        last: distance after which it is overdue, 100 miles or `first` if that is more [length].

    Returns:
        The earliest reading; the range runs to the latest. `also` has the distance still to go when `now` is given.

    Raises:
        DimensionalityError: an argument is no distance.
        ValueError: a negative odometer, an odometer below the one at fitting, or distances out of order.

    Source: Trucknews, wheel article.
    """
    unit, metre = ("km", 1000.0) if "meter" in str(fitted_at.units) else ("mi", MILE_M)
    start = not_negative(fitted_at, "m", "the odometer") / metre
    after = (RECHECK_MILES[0] * MILE_M if first is None else positive(first, "m", "the distance")) / metre
    until = (
        max(RECHECK_MILES[1] * MILE_M / metre, after) if last is None else positive(last, "m", "the distance") / metre
    )
    if until < after:
        raise ValueError("The last distance is shorter than the first. Say them again.")
    also = [figure("then every", RECHECK_INTERVAL_MILES * MILE_M / metre, unit)]
    verdict = f"Check the nuts again between {shown(start + after, 6)} and {shown(start + until, 6)} {unit}."
    if now is not None:
        reading = not_negative(now, "m", "the odometer") / metre
        if reading < start - 1e-6:
            raise ValueError(
                f"The odometer now, {shown(reading, 6)}, is below the {shown(start, 6)} at fitting. Read it again."
            )
        also.append(figure("still to go", max(0.0, start + after - reading), unit))
        if reading > start + until + 1e-6:
            verdict = f"Overdue: {shown(reading - start)} {unit} since it was fitted. Stop and check the nuts now."
        elif reading >= start + after - 1e-6:
            verdict = f"Due now: {shown(reading - start)} {unit} since it was fitted. {verdict}"
        else:
            verdict = f"Not yet: {shown(start + after - reading)} {unit} to go. {verdict}"
    return ranged(
        "odometer at the re-check",
        start + after,
        unit,
        start + after,
        start + until,
        working=(
            f"{shown(start, 6)} + {shown(after)} = {shown(start + after, 6)} {unit}; "
            f"{shown(start, 6)} + {shown(until)} = {shown(start + until, 6)} {unit}.",
        ),
        assumptions=(PLATE_FIRST,),
        source=TORQUE_SOURCE,
        verdict=verdict,
        also=tuple(also),
    )


def bridge_formula(spacing: Quantity[Any], axles: int) -> Estimate:
    """Most weight on a group of axles, to the nearest 500 lb.

    Args:
        spacing: distance between the outer axles of the group, taken to the nearest foot [length].
        axles: axles in the group, two or more.

    Returns:
        Pounds by the formula; the verdict names the 80,000 lb gross limit where that is less.

    Raises:
        DimensionalityError: the spacing is no length.
        ValueError: no spacing, or fewer than two axles.

    Source: W = 500[LN/(N-1) + 12N + 36], FHWA Bridge Formula Weights (2019).
    """
    feet = math.floor(positive(spacing, "m", "the spacing") / FOOT_M + 0.5)
    count = whole(axles, "the axles", least=2)
    pounds = 500 * (feet * count / (count - 1) + 12 * count + 36)
    rounded = 500.0 * math.floor(pounds / 500 + 0.5)
    verdict = f"{shown(rounded)} pounds on these {count} axles."
    if rounded > GROSS_LB:
        verdict = f"The formula gives {shown(rounded)}, but 80,000 pounds gross is the limit."
    return exact(
        "bridge formula weight",
        rounded,
        "lb",
        working=(
            f"500 × ({feet} × {count} ÷ {count - 1} + 12 × {count} + 36) = {shown(pounds, 6)} lb,"
            f" to the nearest 500: {shown(rounded)} lb.",
        ),
        assumptions=("Interstate highways; each axle and tandem keeps its own limit", "state limits may differ"),
        source=AXLE_SOURCE,
        verdict=verdict,
    )


def axle_limit(weight: Quantity[Any], axles: Axles, *, over_the_road_bus: bool = False) -> Estimate:
    """Whether a weight keeps the federal limit of a single axle, a tandem or the whole vehicle.

    Args:
        weight: weight on it [mass].
        axles: "single", "tandem" (40 to 96 inches apart) or "gross".
        over_the_road_bus: names the bus's own single-axle limit, which is from memory only.

    Returns:
        Pounds left to the limit, below zero when over.

    Raises:
        DimensionalityError: not a weight.
        ValueError: a negative weight.

    Source: 23 USC 127; 23 CFR 658.17.
    """
    pounds = not_negative(weight, "lb", "the weight")
    limit = {"single": SINGLE_AXLE_LB, "tandem": TANDEM_LB, "gross": GROSS_LB}[axles]
    left = limit - pounds
    bus = over_the_road_bus and axles == "single" and left < 0 and pounds <= BUS_SINGLE_AXLE_LB
    return exact(
        "left to the limit",
        left,
        "lb",
        working=(f"{shown(limit)} - {shown(pounds, 6)} = {shown(left)} lb.",),
        assumptions=("Interstate highways; state limits and the axle's and tires' own ratings may be lower",),
        source=AXLE_SOURCE,
        verdict=(
            f"Within the {shown(limit)} pounds, {shown(left)} left."
            if left >= 0
            else f"Over the {shown(limit)} pounds by {shown(-left)}."
            + (" An over-the-road bus may have 24,000 on a single axle (from memory: check)." if bus else "")
        ),
    )


def water_weight(
    fresh: Quantity[Any],
    waste: Quantity[Any],
    *,
    behind_front_axle: Quantity[Any] | None = None,
    wheelbase: Quantity[Any] | None = None,
) -> Estimate:
    """Weight that fresh and waste water add, and its share on each axle.

    Waste is taken as water.

    Args:
        fresh: fresh water aboard or added [volume].
        waste: waste aboard or added [volume].
        behind_front_axle: distance of the tanks behind the front axle [length].
        wheelbase: distance from the front to the rear axle, or the middle of the rear axles [length].

    Returns:
        Pounds, or kilograms when the fresh water is metric; `also` has the axles' shares when both lengths are given.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative volume, no wheelbase, or only one of the two lengths.

    Source: water 8.337 lb/gal at 60 °F (CoolProp); lever arms.
    """
    litres = "lit" in str(fresh.units) or "meter" in str(fresh.units)
    unit, per_gal = ("kg", WATER_LB_PER_GAL * LB_KG) if litres else ("lb", WATER_LB_PER_GAL)
    parts = [not_negative(tank, "gallon", name) for tank, name in ((fresh, "the fresh water"), (waste, "the waste"))]
    gallons = sum(parts)
    weight = gallons * per_gal
    lines = [f"({shown(parts[0])} + {shown(parts[1])}) gal × {shown(per_gal)} {unit}/gal = {shown(weight)} {unit}."]
    also = []
    if (behind_front_axle is None) != (wheelbase is None):
        raise ValueError("For the axles I need both: how far behind the front axle the tanks are, and the wheelbase.")
    if behind_front_axle is not None and wheelbase is not None:
        back, base = measure(behind_front_axle, "m", "the place"), positive(wheelbase, "m", "the wheelbase")
        rear = weight * back / base
        lines.append(f"Rear: {shown(weight)} × {shown(back / base, 3)} of the wheelbase = {shown(rear)} {unit}.")
        lines.append(f"Front: {shown(weight)} - {shown(rear)} = {shown(weight - rear)} {unit}.")
        also = [figure("rear axle", rear, unit), figure("front axle", weight - rear, unit)]
    return exact(
        "weight of the water",
        weight,
        unit,
        working=tuple(lines),
        assumptions=("waste weighs as much as water",),
        source="water 8.337 lb/gal at 60 °F (CoolProp); lever arms",
        verdict=f"About {shown(weight, 3)} {'kilograms' if litres else 'pounds'} more on the axles.",
        also=tuple(also),
    )


def jack_check(
    load: Quantity[Any],
    rating: Quantity[Any] | None,
    *,
    base_blocked: bool | None = None,
    cribbed: bool | None = None,
) -> Estimate:
    """Whether a jack may lift a load, with the rules that always hold.

    Args:
        load: weight to be lifted [mass].
        rating: rating marked on the jack, None when it has no readable mark [mass].
        base_blocked: whether its base stands on firm blocking.
        cribbed: whether the lifted load is cribbed or blocked.

    Returns:
        Rating left over; None without a marked rating.

    Raises:
        DimensionalityError: an argument is no weight.
        ValueError: no load or a rating that is not above zero.

    Source: 29 CFR 1910.244(a)(1)-(2); WAC 296-307-22509.
    """
    metric = "gram" in str(load.units)
    unit, each = ("kg", 1.0) if metric else ("lb", LB_KG)
    lift = positive(load, "kg", "the load") / each
    never = "Crib or block the load at once. Never go under a load on jacks alone."
    if rating is None:
        return withheld(
            "jack rating left",
            unit,
            f"Do not use it: a jack must have its rating marked. {never}",
            source=JACK_SOURCE,
        )
    can = positive(rating, "kg", "the jack's rating") / each
    wrong = []
    if can < lift - 1e-6:
        wrong.append(f"The jack is too weak: {shown(can)} {unit} for {shown(lift)}.")
    if base_blocked is False:
        wrong.append("Block its base: it must stand firm.")
    if cribbed is False:
        wrong.append("The load is not cribbed.")
    start = "Stop. " + " ".join(wrong) if wrong else f"The rating is enough: {shown(can)} {unit} for {shown(lift)}."
    return exact(
        "jack rating left",
        can - lift,
        unit,
        working=(f"{shown(can)} - {shown(lift)} = {shown(can - lift)} {unit}.",),
        assumptions=(
            "base blocked, a block under the cap where it may slip, the stop mark watched",
            "in frost a hydraulic jack needs antifreeze",
        ),
        source=JACK_SOURCE,
        verdict=f"{start} {never}",
    )


def jack_inspection(last: date, today: date) -> Estimate:
    """Days left until a jack is inspected again, six months after the last time.

    It is also inspected when sent out and when it comes back, and around a shock or an odd load.

    Args:
        last: day of the last inspection.
        today: the day asked about.

    Returns:
        Days left, below zero when overdue; the verdict names the day.

    Raises:
        ValueError: the last inspection is in the future.

    Source: 29 CFR 1910.244(a)(2)(vi).
    """
    if last > today:
        raise ValueError("The last inspection can't be in the future. Say its date again.")
    due = _six_months_later(last)
    left = (due - today).days
    return exact(
        "days to the jack's inspection",
        left,
        "days",
        working=(f"{last:%d %B %Y} + 6 months = {due:%d %B %Y}.",),
        assumptions=("also when it is sent out, when it comes back, and around a shock",),
        source=JACK_SOURCE,
        verdict=f"Inspect it by {due:%d %B %Y}."
        if left >= 0
        else f"Overdue since {due:%d %B %Y}: inspect it before use.",
    )


def _six_months_later(day: date) -> date:
    """The same day six months on, or the last day of that month."""
    year, month = (day.year, day.month + 6) if day.month <= 6 else (day.year + 1, day.month - 6)
    return date(year, month, min(day.day, monthrange(year, month)[1]))
