"""Tanks: depth ↔ volume, shares, and the straight line through two readings.

A rectangular tank fills in step with its depth; a cylinder lying on its side does not.
"""

from __future__ import annotations

from math import acos, hypot, pi, sin
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.amounts import gal, percent
from cabassist.estimate.quantities import (
    GALLON_M3,
    duration,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    share,
    shown,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

Shape = Literal["rectangular", "horizontal-cylinder"]
INCH_M = 0.0254
DEPTH_ERROR_M = 0.5 * INCH_M
"""Half the 10–90 % range of a depth judged by eye or stick: half an inch. Common practice, no source."""
RANGE_Z = 1.2816
"""Standard deviations from the middle to the 10 % or 90 % end of a normal distribution."""
GEOMETRY = "geometry; 1 gal = 231 in³ exactly (WAC 296-307-40029)"


def fraction_at_depth(depth_share: float, shape: Shape) -> float:
    """Share of the volume below a depth given as a share of the inside height.

    Source: circular segment, (θ - sin θ) / 2π with θ = 2·acos(1 - 2h/d).
    """
    part = share(depth_share, "the depth")
    if shape == "rectangular":
        return part
    theta = 2 * acos(1 - 2 * part)
    return (theta - sin(theta)) / (2 * pi)


def depth_at_fraction(fraction: float, shape: Shape) -> float:
    """Depth as a share of the inside height at which that share of the volume is below; turns `fraction_at_depth` round."""
    part = share(fraction, "the level")
    if shape == "rectangular":
        return part
    low, high = 0.0, 1.0
    while high - low > 1e-12:
        middle = (low + high) / 2
        if fraction_at_depth(middle, shape) < part:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def volume_at_depth(
    depth: Quantity[Any],
    height: Quantity[Any],
    capacity: Quantity[Any],
    *,
    shape: Shape = "rectangular",
    counted_from: Literal["bottom", "top"] = "bottom",
    depth_error: Quantity[Any] | None = None,
) -> Estimate:
    """Gallons in a tank from a measured depth.

    Args:
        depth: of the water, or of the air above it when counted from the top [length].
        height: inside height of the tank, the diameter of a lying cylinder [length].
        capacity: of the full tank [volume].
        shape: "rectangular" or "horizontal-cylinder".
        counted_from: "bottom" or "top".
        depth_error: half the 10–90 % range of the depth [length]; half an inch when left out.

    Returns:
        Gallons, with the share of full beside.

    Raises:
        ValueError: deeper than the tank is high, or an impossible number.

    Source: geometry of the shape.
    """
    depth_m, height_m = not_negative(depth, "m", "the depth"), positive(height, "m", "the tank's height")
    full = gal(positive(capacity, "m^3", "the tank's capacity"))
    off_m = DEPTH_ERROR_M if depth_error is None else not_negative(depth_error, "m", "the depth's error")
    if depth_m > height_m * 1.000001:
        raise ValueError(
            f"{shown(depth_m / INCH_M)} inches is more than the tank's {shown(height_m / INCH_M)} inches. Measure again."
        )
    wet_m = depth_m if counted_from == "bottom" else height_m - depth_m
    level, low, high = (
        fraction_at_depth(min(max(m / height_m, 0.0), 1.0), shape) for m in (wet_m, wet_m - off_m, wet_m + off_m)
    )
    return ranged(
        "in the tank",
        level * full,
        "gal",
        low * full,
        high * full,
        working=(
            *_depth_lines(depth_m / INCH_M, height_m / INCH_M, shape, counted_from),
            f"{shown(level)} of {shown(full)} gal = {shown(level * full)} gal",
        ),
        assumptions=(
            "the coach stands level",
            f"the depth may be {shown(off_m / INCH_M)} in off either way (common practice, no source)",
        ),
        source=GEOMETRY,
        also=(figure("share of full", level, "fraction", low, high),),
    )


def _depth_lines(depth_in: float, height_in: float, shape: Shape, counted_from: str) -> tuple[str, ...]:
    lines: tuple[str, ...] = ()
    wet = depth_in
    if counted_from == "top":
        wet = max(height_in - depth_in, 0.0)
        lines = (f"{shown(height_in)} in - {shown(depth_in)} in of air = {shown(wet)} in of water",)
    part = min(wet / height_in, 1.0)
    lines = (*lines, f"{shown(wet)} in ÷ {shown(height_in)} in = {shown(part)} of the height")
    if shape == "horizontal-cylinder":
        theta = 2 * acos(1 - 2 * part)
        lines = (*lines, f"lying cylinder: angle 2·acos(1 - 2 x {shown(part)}) = {shown(theta)}, (angle - sin) ÷ 2π")
    return lines


def depth_at_volume(
    volume: Quantity[Any], height: Quantity[Any], capacity: Quantity[Any], *, shape: Shape = "rectangular"
) -> Estimate:
    """How deep a volume stands in a tank, in inches from the bottom.

    Args:
        volume: in the tank [volume].
        height: inside height of the tank [length].
        capacity: of the full tank [volume].
        shape: "rectangular" or "horizontal-cylinder".

    Raises:
        ValueError: more than the tank holds, or an impossible number.

    Source: geometry of the shape.
    """
    inside, full = not_negative(volume, "m^3", "the volume"), positive(capacity, "m^3", "the tank's capacity")
    height_in = positive(height, "m", "the tank's height") / INCH_M
    level = _level(inside, full)
    depth = depth_at_fraction(level, shape) * height_in
    return exact(
        "depth",
        depth,
        "in",
        working=(
            f"{shown(gal(inside))} ÷ {shown(gal(full))} gal = {shown(level)} of full",
            f"at {shown(depth / height_in)} of {shown(height_in)} in = {shown(depth)} in",
        ),
        assumptions=("the coach stands level",),
        source=GEOMETRY,
    )


def _level(inside_m3: float, full_m3: float) -> float:
    if inside_m3 > full_m3 * 1.000001:
        raise ValueError(f"A tank of {shown(gal(full_m3))} gallons can't hold {shown(gal(inside_m3))}. Say it again.")
    return min(inside_m3 / full_m3, 1.0)


def level_of(volume: Quantity[Any], capacity: Quantity[Any]) -> Estimate:
    """What share of a tank a volume fills, and the room left.

    Args:
        volume: in the tank [volume].
        capacity: of the full tank [volume].

    Raises:
        ValueError: more than the tank holds, or an impossible number.

    Source: arithmetic.
    """
    inside, full = not_negative(volume, "m^3", "the volume"), positive(capacity, "m^3", "the tank's capacity")
    level = _level(inside, full)
    room = gal(full * (1 - level))
    return exact(
        "level",
        level,
        "fraction",
        working=(
            f"{shown(gal(inside))} ÷ {shown(gal(full))} gal = {percent(level)}",
            f"{shown(gal(full))} - {shown(gal(inside))} = {shown(room)} gal of room",
        ),
        source="arithmetic",
        also=(figure("room left", room, "gal"),),
    )


def capacity_from_size(
    height: Quantity[Any],
    length: Quantity[Any],
    width: Quantity[Any] | None = None,
    *,
    shape: Shape = "rectangular",
) -> Estimate:
    """Gallons a tank holds, from its inside measures.

    Args:
        height: inside height, the diameter of a lying cylinder [length].
        length: inside length [length].
        width: inside width, for a rectangular tank only [length].
        shape: "rectangular" or "horizontal-cylinder".

    Raises:
        ValueError: the width is missing, or a measure is not above zero.

    Source: 231 in³ to the gallon (WAC 296-307-40029).
    """
    high, long = positive(height, "m", "the height") / INCH_M, positive(length, "m", "the length") / INCH_M
    if shape == "rectangular":
        if width is None:
            raise ValueError("I need the tank's width as well.")
        wide = positive(width, "m", "the width") / INCH_M
        cubic_in, sides = high * long * wide, f"{shown(long)} x {shown(wide)} x {shown(high)} in"
    else:
        cubic_in, sides = pi / 4 * high**2 * long, f"π/4 x {shown(high)}² x {shown(long)} in"
    gallons = cubic_in * INCH_M**3 / GALLON_M3
    return exact(
        "tank holds",
        gallons,
        "gal",
        working=(f"{sides} = {shown(cubic_in)} in³", f"{shown(cubic_in)} ÷ 231 = {shown(gallons)} gal"),
        assumptions=("square corners, nothing inside the tank",),
        source=GEOMETRY,
    )


def straight_line(
    name: str,
    first: float,
    last: float,
    hours: float,
    *,
    target: float,
    unit: str,
    rising: bool = False,
    error: float = 0.0,
) -> Estimate:
    """Hours from the second of two readings until a level, if it goes on changing as between them.

    Args:
        name: of the answer.
        first, last, target: levels, all in `unit`.
        hours: between the readings, above zero.
        rising: whether the target is a ceiling (waste) or a floor (fresh, propane).
        error: half the 10–90 % range of one reading, in `unit`; 0 when both are exact.

    Returns:
        Hours; zero when it is there already; None when the level does not move toward the target.

    Raises:
        ValueError: no time between the readings.

    Source: straight line, arithmetic; range by first-order propagation of the two readings' errors.
    """
    if hours <= 0:
        raise ValueError("The two readings need some time between them.")
    change = last - first if rising else first - last
    togo = max(target - last if rising else last - target, 0.0)
    each_hour = change / hours
    went = "up" if rising else "down"
    lines = (f"{shown(first)} → {shown(last)} {unit} in {shown(hours)} h: {went} {shown(each_hour)} {unit} an hour",)
    assumptions = ("it goes on as between the two readings: same people, same weather", "no fill or dump in between")
    source = "straight line through two readings, arithmetic"
    if togo == 0:
        return exact(name, 0.0, "h", working=lines, assumptions=assumptions, source=source, verdict="It is there now.")
    if change <= 0:
        verdict = f"It did not go {went} between these readings, so they give no time. Was it filled or dumped?"
        return withheld(name, "h", verdict, working=lines, assumptions=assumptions, source=source)
    left = togo / each_hour
    off = error * hypot(left / change, (hours + left) / change)
    vague = change <= error * 2**0.5
    return ranged(
        name,
        left,
        "h",
        max(left - off, 0.0),
        None if vague else left + off,
        working=(*lines, f"{shown(togo)} {unit} to go ÷ {shown(each_hour)} an hour = {shown(left)} h"),
        assumptions=assumptions,
        source=source,
        verdict=f"About {duration(left)}."
        + (" The change is within the gauge's error; read it again." if vague else ""),
        also=(figure("rate", each_hour, f"{unit}/h"),),
    )
