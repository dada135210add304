"""Distances and times of a trip: legs added up, door to door, average speed. Plain arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from cabassist.estimate.driving_hours import DRIVING_H
from cabassist.estimate.quantities import duration, exact, figure, not_negative, positive, shown
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

_UNITS = {"mile": ("mi", "mph"), "kilometer": ("km", "km/h")}


def _units(distance: Quantity[Any]) -> tuple[str, str, str]:
    name = "kilometer" if "kilometer" in str(distance.units) else "mile"
    return name, *_UNITS[name]


def legs_total(legs: Sequence[Quantity[Any]]) -> Estimate:
    """The sum of several legs, in the unit of the first.

    Args:
        legs: each distance [length].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative distance.

    Source: arithmetic.
    """
    name, unit, _ = _units(legs[0])
    lengths = [not_negative(leg, name, "the distance") for leg in legs]
    total = sum(lengths)
    line = f"{' + '.join(shown(one) for one in lengths)} = {shown(total, 6)} {unit}"
    return exact("distance in all", total, unit, working=(line,), source="arithmetic")


def door_to_door(distance: Quantity[Any], speed: Quantity[Any], stops: Sequence[Quantity[Any]] = ()) -> Estimate:
    """Hours for a distance at an average speed, with the stops.

    Args:
        distance: how far [length].
        speed: average while rolling [length/time].
        stops: how long each stop takes [time].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no speed, a negative distance or stop.

    Source: arithmetic; 10 hours of driving, 49 CFR 395.5(a)(1).
    """
    name, unit, speed_unit = _units(distance)
    far = not_negative(distance, name, "the distance")
    fast = positive(speed, f"{name}/hour", "the speed")
    waits = [not_negative(stop, "hour", "the stop") for stop in stops]
    rolling, standing = far / fast, sum(waits)
    lines = [f"{shown(far, 6)} {unit} ÷ {shown(fast)} {speed_unit} = {shown(rolling)} h"]
    if waits:
        written = " + ".join((shown(rolling), *(shown(wait) for wait in waits)))
        lines.append(f"{written} = {shown(rolling + standing)} h")
    verdict = f"{duration(rolling + standing)}."
    if rolling > DRIVING_H:
        verdict += " That is more than one driver's 10 hours of driving."
    return exact(
        "time in all" if waits else "time",
        rolling + standing,
        "h",
        working=tuple(lines),
        assumptions=("the average holds, no delays",),
        source="arithmetic",
        verdict=verdict,
        also=(figure("driving", rolling, "h"),) if waits else (),
    )


def legs_time(legs: Sequence[tuple[Quantity[Any], Quantity[Any]]]) -> Estimate:
    """Hours for several legs, each at its own average speed.

    Args:
        legs: each distance with its speed [length, length/time].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no speed, or a negative distance.

    Source: arithmetic.
    """
    parts = [door_to_door(distance, speed) for distance, speed in legs]
    total = sum(part.value or 0.0 for part in parts)
    lines = [line for part in parts for line in part.working]
    lines.append(f"{' + '.join(shown(part.value or 0.0) for part in parts)} = {shown(total)} h")
    return exact("time in all", total, "h", working=tuple(lines), source="arithmetic", verdict=f"{duration(total)}.")


def average_speed(distance: Quantity[Any], time: Quantity[Any]) -> Estimate:
    """The speed that covers a distance in a time.

    Args:
        distance: how far [length].
        time: how long [time].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no time, or a negative distance.

    Source: arithmetic.
    """
    name, unit, speed_unit = _units(distance)
    far, span = not_negative(distance, name, "the distance"), positive(time, "hour", "the time")
    line = f"{shown(far, 6)} {unit} ÷ {shown(span)} h = {shown(far / span)} {speed_unit}"
    return exact("average speed", far / span, speed_unit, working=(line,), source="arithmetic")


def distance_in(speed: Quantity[Any], time: Quantity[Any]) -> Estimate:
    """How far an average speed goes in a time.

    Args:
        speed: average [length/time].
        time: how long [time].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative speed or time.

    Source: arithmetic.
    """
    name, unit, speed_unit = _units(speed)
    fast, span = not_negative(speed, f"{name}/hour", "the speed"), not_negative(time, "hour", "the time")
    line = f"{shown(fast)} {speed_unit} x {shown(span)} h = {shown(fast * span)} {unit}"
    return exact("distance", fast * span, unit, working=(line,), source="arithmetic")
