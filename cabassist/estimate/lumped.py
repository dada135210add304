"""A body that cools as one lump: Newton's law, in SI floats, and how its working is written.

The temperature difference to the surroundings shrinks by the same share in equal times; valid while the body is
nearly one temperature inside (Biot number below 0.1), which stirred water and a cabin's air are taken to be.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import (
    BTU_J,
    BTU_PER_H_F_IN_W_PER_K,
    PRACTICE,
    Scale,
    duration,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    roughly,
    scale_of,
    shown,
    temperature_k,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

FREEZING_K = 273.15
LUMPED_SOURCE = "lumped cooling, Newton's law (Incropera; Cengel; Lienhard)"
LOSS_SPREAD = 0.2
"""How far a coach's heat loss may be off, as a share, for the 10-90 % range; common practice, no source."""


def time_constant_s(
    density_kg_m3: float, volume_m3: float, specific_heat_j_kg_k: float, film_w_m2_k: float, area_m2: float
) -> float:
    """Time constant of a lumped body, ρVc/hA, in seconds. Source: Incropera, Fundamentals of Heat and Mass Transfer."""
    return density_kg_m3 * volume_m3 * specific_heat_j_kg_k / (film_w_m2_k * area_m2)


def temperature_after_k(start_k: float, around_k: float, time_constant_s: float, elapsed_s: float) -> float:
    """Temperature of a lumped body after a time. Source: Incropera; Cengel; Lienhard."""
    return around_k + (start_k - around_k) * math.exp(-elapsed_s / time_constant_s)


def time_to_reach_s(start_k: float, around_k: float, target_k: float, time_constant_s: float) -> float:
    """Seconds until a lumped body reaches `target_k`; infinity when it never does, 0 when it is there.

    A body that already passed the target on its way to `around_k` is there.
    """
    if start_k == target_k or (start_k - target_k) * (start_k - around_k) < 0:
        return 0.0
    if (target_k - around_k) * (start_k - around_k) <= 0:
        return math.inf
    ratio = (start_k - around_k) / (target_k - around_k)
    return time_constant_s * math.log(ratio) if ratio > 1 else 0.0


def _never(scale: Scale, target_k: float, air_k: float) -> Estimate:
    verdict = f"It never gets to {scale.show(target_k)}: outside is {scale.show(air_k)}."
    return withheld("time until it is that cold", "h", verdict, source=LUMPED_SOURCE)


def cooling_from_readings(
    first: Quantity[Any], later: Quantity[Any], outside: Quantity[Any], apart: Quantity[Any], target: Quantity[Any]
) -> Estimate:
    """Hours from the later reading until a tank, bay or cabin reaches `target`, from how fast it cooled so far.

    Assumes the same air outside and no heat before and after.

    Args:
        first: the earlier reading [temperature].
        later: the later reading [temperature].
        outside: air outside [temperature].
        apart: time between the two [time].
        target: the temperature asked about [temperature].

    Returns:
        Hours after the later reading; None when it never gets there. Range: each reading off by 1 °F.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: the readings show no cooling towards the outside.

    Source: lumped cooling, Newton's law (Incropera; Cengel; Lienhard).
    """
    scale = scale_of(later)
    first_k, later_k = temperature_k(first, "the first reading"), temperature_k(later, "the later reading")
    air_k, target_k = temperature_k(outside, "the air outside"), temperature_k(target, "the target")
    gap_s = positive(apart, "s", "the time between the readings")
    if not air_k < later_k < first_k:
        raise ValueError(
            "The two readings must fall and stay above the outside. Say first reading, later one, outside."
        )

    def constant_s(first_reading_k: float, later_reading_k: float) -> float:
        if not air_k < later_reading_k < first_reading_k:
            return math.inf
        return gap_s / math.log((first_reading_k - air_k) / (later_reading_k - air_k))

    off = 1 / 1.8
    constant = constant_s(first_k, later_k)
    hours = time_to_reach_s(later_k, air_k, target_k, constant) / 3600
    if math.isinf(hours):
        return _never(scale, target_k, air_k)
    return ranged(
        "time until it is that cold",
        hours,
        "h",
        time_to_reach_s(later_k, air_k, target_k, constant_s(first_k + off, later_k - off)) / 3600,
        time_to_reach_s(later_k, air_k, target_k, constant_s(first_k - off, later_k + off)) / 3600 if hours else 0.0,
        working=(
            f"Above outside it fell from {scale.show_span(first_k - air_k)} to {scale.show_span(later_k - air_k)} in"
            f" {shown(gap_s / 3600)} h: time constant {shown(gap_s / 3600)} ÷ ln({shown(scale.span(first_k - air_k))}/"
            f"{shown(scale.span(later_k - air_k))}) = {shown(constant / 3600)} h.",
            cooling_line(scale, later_k, air_k, target_k, constant / 3600, hours),
        ),
        assumptions=("outside stays as cold, heat stays off", "each reading right within 1 °F (" + PRACTICE + ")"),
        source=LUMPED_SOURCE,
        verdict=f"At {scale.show(target_k)} in about {roughly(hours)}."
        if hours
        else f"It is at {scale.show(target_k)} now.",
        also=(figure("time constant", constant / 3600, "h"),),
    )


def temperature_with_constant(
    start: Quantity[Any], outside: Quantity[Any], constant: Quantity[Any], elapsed: Quantity[Any]
) -> Estimate:
    """Temperature of a cabin, bay or tank some time after the heat failed, by its time constant.

    Args:
        start: how warm it is at first [temperature].
        outside: air outside [temperature].
        constant: time in which the difference shrinks to 37 % [time].
        elapsed: how long [time].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible temperature, or no time constant.

    Source: lumped cooling, Newton's law (Incropera; Cengel; Lienhard).
    """
    scale = scale_of(start)
    start_k, air_k = temperature_k(start, "the first temperature"), temperature_k(outside, "the air outside")
    tau, seconds = positive(constant, "s", "the time constant"), not_negative(elapsed, "s", "the time")
    then = temperature_after_k(start_k, air_k, tau, seconds)
    return exact(
        "temperature then",
        scale.degrees(then),
        scale.letter,
        working=(
            f"{scale.show(air_k)} + ({scale.gap(start_k, air_k)}) × e^(-{shown(seconds / 3600)}/{shown(tau / 3600)}) ="
            f" {scale.show(then)}.",
        ),
        assumptions=("outside stays as cold, heat stays off",),
        source=LUMPED_SOURCE,
        verdict=f"About {scale.show(then, 3)} after {duration(seconds / 3600)}.",
    )


def hours_with_constant(
    target: Quantity[Any], start: Quantity[Any], outside: Quantity[Any], constant: Quantity[Any]
) -> Estimate:
    """Hours until a cabin, bay or tank is down at a temperature, by its time constant.

    Args:
        target: the temperature asked about [temperature].
        start: how warm it is at first [temperature].
        outside: air outside [temperature].
        constant: time in which the difference shrinks to 37 % [time].

    Returns:
        Hours; None when it never gets there.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible temperature, no time constant, or a target above the first temperature.

    Source: lumped cooling, Newton's law (Incropera; Cengel; Lienhard).
    """
    scale = scale_of(start)
    start_k, air_k = temperature_k(start, "the first temperature"), temperature_k(outside, "the air outside")
    target_k, tau = temperature_k(target, "the target"), positive(constant, "s", "the time constant")
    if target_k > start_k:
        raise ValueError(f"{scale.show(target_k)} is warmer than {scale.show(start_k)}. Say a colder target.")
    hours = time_to_reach_s(start_k, air_k, target_k, tau) / 3600
    if math.isinf(hours):
        return _never(scale, target_k, air_k)
    return exact(
        "time until it is that cold",
        hours,
        "h",
        working=(cooling_line(scale, start_k, air_k, target_k, tau / 3600, hours),),
        assumptions=("outside stays as cold, heat stays off",),
        source=LUMPED_SOURCE,
        verdict=f"Down to {scale.show(target_k)} in about {roughly(hours)}.",
    )


def loss_per_degree(scale: Scale, loss_w_k: float) -> float:
    """Loss in W for each degree of the scale."""
    return loss_w_k if scale.metric else loss_w_k / 1.8


def loss_line(scale: Scale, loss_w_k: float) -> tuple[str, ...]:
    """The line that turns W per °C into W per °F; none when metric."""
    if scale.metric:
        return ()
    return (f"Loss {shown(loss_w_k)} W per °C = {shown(loss_w_k / 1.8)} W per °F.",)


def loss_text(scale: Scale, loss_w_k: float) -> str:
    """A loss as written: "4.5 W per °C" or "8.53 BTU/h per °F"."""
    if scale.metric:
        return f"{shown(loss_w_k)} W per °C"
    return f"{shown(loss_w_k / BTU_PER_H_F_IN_W_PER_K)} BTU/h per °F"


def capacity_text(scale: Scale, held_j_k: float) -> str:
    """Heat held as written: "634 Wh per °C" or "334 BTU per °F"."""
    if scale.metric:
        return f"{shown(held_j_k / 3600)} Wh per °C"
    return f"{shown(held_j_k / BTU_J / 1.8)} BTU per °F"


def energy_text(scale: Scale, joule: float) -> str:
    """An amount of heat as written, in Wh or BTU."""
    return f"{shown(joule / 3600)} Wh" if scale.metric else f"{shown(joule / BTU_J)} BTU"


def cooling_line(
    scale: Scale, start_k: float, around_k: float, target_k: float, constant_h: float, hours: float
) -> str:
    """The working line of the time to reach a temperature."""
    return (
        f"To {scale.show(target_k)}: {shown(constant_h)} h × ln(({scale.gap(start_k, around_k)}) ÷"
        f" ({scale.gap(target_k, around_k)})) = {shown(constant_h)} × ln("
        f"{shown(scale.span(start_k - around_k))}/{shown(scale.span(target_k - around_k))}) = {shown(hours)} h."
    )
