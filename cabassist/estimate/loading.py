"""Weights that are loaded: so many of this weight and so many of that, and what they do to an axle."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from math import prod
from typing import TYPE_CHECKING, Any

from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, not_negative, positive, shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.wheels import AXLE_SOURCE, WATER_LB_PER_GAL

if TYPE_CHECKING:
    from pint import Quantity

_WHOLE = 1e-6
"""A box counts as whole that is short by no more than the rounding of its units."""


def counted_weight(loads: Sequence[tuple[float, Quantity[Any]]], *, limit: Quantity[Any] | None = None) -> Estimate:
    """The weight of loads told by count and weight each.

    Args:
        loads: how many, and what one of them weighs [mass].
        limit: what they may weigh together [mass].

    Returns:
        The sum, in kilograms when the first is metric; `also` has what is left to the limit, below zero when over.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative count or weight.

    Source: arithmetic.
    """
    unit = "kg" if "kilogram" in str(loads[0][1].units) else "lb"
    parts = []
    lines = []
    for many, each in loads:
        one = not_negative(each, unit, "the weight")
        if many < 0:
            raise ValueError("A count can't be negative.")
        parts.append(many * one)
        lines.append(f"{shown(many)} x {shown(one)} {unit} = {shown(many * one, 6)} {unit}")
    total = sum(parts)
    if len(parts) > 1:
        lines.append(f"{' + '.join(shown(part, 6) for part in parts)} = {shown(total, 6)} {unit}")
    if limit is None:
        return exact("weight in all", total, unit, working=tuple(lines), source="arithmetic")
    most = not_negative(limit, unit, "the limit")
    left = most - total
    lines.append(f"{shown(most, 6)} - {shown(total, 6)} = {shown(left, 6)} {unit}")
    verdict = (
        f"Under the {shown(most, 6)}, {shown(left, 6)} left."
        if left >= 0
        else f"Over the {shown(most, 6)} by {shown(-left, 6)}."
    )
    also = (figure("left to the limit", left, unit),)
    return exact("weight in all", total, unit, working=tuple(lines), source="arithmetic", verdict=verdict, also=also)


def how_many_fit(each: Quantity[Any], limit: Quantity[Any]) -> Estimate:
    """How many of one weight stay within a limit.

    Args:
        each: what one weighs [mass].
        limit: what they may weigh together [mass].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no weight, or a negative limit.

    Source: arithmetic.
    """
    one, most = positive(each, "lb", "the weight"), not_negative(limit, "lb", "the limit")
    many = float(int(most / one + 1e-9))
    return exact(
        "how many fit",
        many,
        "loads",
        working=(f"{shown(most, 6)} ÷ {shown(one)} = {shown(most / one)}",),
        source="arithmetic",
        verdict=f"{shown(many)} of them fit.",
        also=(figure("left to the limit", most - many * one, "lb"),),
    )


def axle_with(
    weight: Quantity[Any],
    limit: Quantity[Any],
    *,
    water: Quantity[Any] | None = None,
    diesel: Quantity[Any] | None = None,
    load: Quantity[Any] | None = None,
    taken_off: bool = False,
) -> Estimate:
    """What an axle weighs once something is put right over it, or taken off it, against a limit.

    Args:
        weight: what the scale says [mass].
        limit: what the axle may weigh [mass].
        water: fresh water or waste [volume].
        diesel: fuel [volume].
        load: anything told by its weight [mass].
        taken_off: whether they are taken off instead.

    Returns:
        The new weight; `also` has what is left to the limit, below zero when over, and what was added.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative weight or volume.

    Source: water 8.337 lb/gal at 60 °F (CoolProp); diesel 7.09 lb/gal (SG 0.85 from memory); 23 CFR 658.17.
    """
    before, most = not_negative(weight, "lb", "the weight"), not_negative(limit, "lb", "the limit")
    added, lines = 0.0, []
    for volume, name, density in ((water, "the water", WATER_LB_PER_GAL), (diesel, "the diesel", DIESEL_LB_PER_GAL)):
        if volume is not None:
            gallons = not_negative(volume, "gallon", name)
            added += gallons * density
            lines.append(f"{shown(gallons)} gal × {shown(density)} lb/gal = {shown(gallons * density)} lb")
    added += 0.0 if load is None else not_negative(load, "lb", "the load")
    sign = -1 if taken_off else 1
    now = before + sign * added
    left = most - now
    lines.append(f"{shown(before, 6)} {'-' if taken_off else '+'} {shown(added, 5)} = {shown(now, 6)} lb")
    lines.append(f"{shown(most, 6)} - {shown(now, 6)} = {shown(left, 5)} lb")
    told = (
        f"under the {shown(most, 6)} pounds by {shown(left, 4)}"
        if left >= 0
        else f"over the {shown(most, 6)} pounds by {shown(-left, 4)}"
    )
    return exact(
        "on the axle then",
        now,
        "lb",
        working=tuple(lines),
        assumptions=(
            "all of it rests on this axle: a tank between the axles loads both",
            "the axle's and tires' own ratings may be lower",
        ),
        source=AXLE_SOURCE,
        verdict=f"{told[0].upper()}{told[1:]}.",
        also=(figure("left to the limit", left, "lb"), figure("taken off" if taken_off else "added", added, "lb")),
    )


def boxes_in(bay: Sequence[float], box: Sequence[float], *, upright: bool = False) -> tuple[int, tuple[int, ...]]:
    """How many boxes go into a bay, all turned the same way: whole boxes along each side, the best turning.

    Args:
        bay: length, width and height, in any one unit.
        box: length, width and height of a box, in the same unit.
        upright: whether the height of the box must stay upright.

    Returns:
        How many in all, and how many along each side of the bay.

    Raises:
        ValueError: a side that is not above nothing.

    Source: arithmetic.
    """
    if min(*bay, *box) <= 0:
        raise ValueError("Every side must be more than nothing.")
    turnings = [turned for turned in permutations(box) if not upright or turned[2] == box[2]]
    ways = [tuple(int(side / one + _WHOLE) for side, one in zip(bay, turned, strict=True)) for turned in turnings]
    best = max(ways, key=prod)
    return prod(best), best
