"""The cabin in the cold: heat it loses, how it cools without heat, degree days, the heat of the people.

Loss is U·A times the difference, plus the cold air that leaks in; cooling is one lump (`lumped.py`). How long the
furnaces must run is in `furnaces.py`.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.lumped import (
    LOSS_SPREAD,
    LUMPED_SOURCE,
    capacity_text,
    cooling_line,
    loss_text,
    temperature_after_k,
    time_to_reach_s,
)
from cabassist.estimate.quantities import (
    BTU_J,
    BTU_PER_H_F_IN_W_PER_K,
    CELSIUS,
    FAHRENHEIT,
    GALLON_M3,
    PRACTICE,
    Scale,
    duration,
    exact,
    figure,
    measure,
    not_negative,
    positive,
    ranged,
    roughly,
    scale_of,
    share,
    shown,
    some_share,
    temperature_k,
    whole,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

CFM_F_BTU_H = 1.08
"""BTU/h for each cfm and °F: 0.075 lb/ft³ × 0.24 × 60 (psychrometric rule; psychrolib at 70 °F gives 1.078)."""
CFM_M3_PER_S = 0.3048**3 / 60
R_US_IN_M2K_PER_W = 0.17611016
"""1 h·ft²·°F/BTU in m²·K/W."""
DEGREE_DAY_BASE_F = 65.0
"""Base temperature of heating degree days (NWS and EIA usage)."""

LOSS_SOURCE = "conduction, Q = UA·ΔT (ASHRAE Fundamentals, from memory); 1.08 BTU/h per cfm·°F (psychrometric rule)"
Activity = Literal["seated", "asleep"]
PEOPLE_W: dict[Activity, tuple[float, float, float, float, str]] = {
    "seated": (122.5, 115.0, 130.0, 70.0, "ASHRAE Fundamentals 2013, ch. 18 Table 1 (published, secondary)"),
    "asleep": (
        115.0,
        115.0,
        115.0,
        90.0,
        "Air Conditioning Engineering, Table 7.16, at rest, 20 °C (published, secondary)",
    ),
}
"""Watts a person gives off: in all, low, high, the part that warms the air, source."""


def heat_loss(
    ua: Quantity[Any], inside: Quantity[Any], outside: Quantity[Any], *, infiltration: Quantity[Any] | None = None
) -> Estimate:
    """Heat the cabin loses through its shell and by the cold air that leaks in.

    Args:
        ua: loss through the shell for each degree [power/temperature].
        inside: cabin air [temperature].
        outside: outside air [temperature].
        infiltration: cold air that leaks in [volume/time].

    Returns:
        BTU/h, or W when `outside` is in Celsius; 0 when it is not colder outside.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss, leak or temperature.

    Source: Q = UA·ΔT; 1.08 BTU/h per cfm·°F.
    """
    scale = scale_of(outside)
    shell = positive(ua, "W/K", "the cabin's heat loss")
    flow = 0.0 if infiltration is None else not_negative(infiltration, "m**3/s", "the air that leaks in")
    inside_k, outside_k = temperature_k(inside, "the cabin"), temperature_k(outside, "the outside")
    span = inside_k - outside_k
    leak = _leak_w_k(flow)
    lines = [f"Shell: {loss_text(scale, shell)} × {scale.show_span(span)} = {_power(scale, shell * span)}."]
    if flow:
        lines.append(f"Leaks: {_leak_text(scale, flow)} × {scale.show_span(span)} = {_power(scale, leak * span)}.")
        lines.append(f"Together {_power(scale, (shell + leak) * span)}.")
    lost = max(0.0, (shell + leak) * span)
    return exact(
        "heat loss",
        _in_power_unit(scale, lost),
        _power_unit(scale),
        working=tuple(lines),
        assumptions=("shell and leak values as given; a strong wind lets more air in",),
        source=LOSS_SOURCE,
        verdict="" if lost else "None: it is not colder outside than inside.",
    )


def cabin_temperature_after(
    start: Quantity[Any],
    outside: Quantity[Any],
    ua: Quantity[Any],
    heat_capacity: Quantity[Any],
    elapsed: Quantity[Any],
    *,
    infiltration: Quantity[Any] | None = None,
    heat: Quantity[Any] | None = None,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Cabin temperature some time after the heat failed.

    Assumes the cabin is one lump, doors stay shut and the outside stays as cold.

    Args:
        start: cabin now [temperature].
        outside: outside air [temperature].
        ua: loss through the shell for each degree [power/temperature].
        heat_capacity: heat the cabin holds for each degree [energy/temperature].
        elapsed: how long [time].
        infiltration: cold air that leaks in [volume/time].
        heat: heat still given off inside, by people or one furnace [power].
        loss_spread: how far the heat loss may be off, as a share.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss, capacity, time or temperature.

    Source: lumped cooling (Incropera; Cengel; Lienhard).
    """
    scale = scale_of(outside)
    start_k, outside_k, loss, held, power = _cabin(start, outside, ua, heat_capacity, infiltration, heat, loss_spread)
    seconds = not_negative(elapsed, "s", "the time")

    def after(loss_w_k: float) -> float:
        return temperature_after_k(start_k, outside_k + power / loss_w_k, held / loss_w_k, seconds)

    around_k, constant, hours = outside_k + power / loss, held / loss / 3600, seconds / 3600
    now = after(loss)
    bounds = sorted((after(loss * (1 + loss_spread)), after(loss * max(1 - loss_spread, 1e-9))))
    return ranged(
        "cabin temperature",
        scale.degrees(now),
        scale.letter,
        scale.degrees(bounds[0]),
        scale.degrees(bounds[1]),
        working=(
            *_constant_lines(scale, loss, held, outside_k, power, infiltration),
            f"{scale.show(around_k)} + ({scale.gap(start_k, around_k)}) × e^(-{shown(hours)}/"
            f"{shown(constant)}) = {scale.show(now)}.",
        ),
        assumptions=_cabin_notes(loss_spread),
        source=LUMPED_SOURCE,
        verdict=f"About {scale.show(now, 2)} after {duration(hours)}.",
        also=(figure("settles at", scale.degrees(around_k), scale.letter), figure("time constant", constant, "h")),
    )


def hours_until_cabin_at(
    target: Quantity[Any],
    start: Quantity[Any],
    outside: Quantity[Any],
    ua: Quantity[Any],
    heat_capacity: Quantity[Any],
    *,
    infiltration: Quantity[Any] | None = None,
    heat: Quantity[Any] | None = None,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Hours until the cabin is down at a temperature once the heat failed.

    Args:
        target: temperature asked about [temperature].
        start: cabin now [temperature].
        outside: outside air [temperature].
        ua: loss through the shell for each degree [power/temperature].
        heat_capacity: heat the cabin holds for each degree [energy/temperature].
        infiltration: cold air that leaks in [volume/time].
        heat: heat still given off inside [power].
        loss_spread: how far the heat loss may be off, as a share.

    Returns:
        Hours; None when it never gets that cold.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss, capacity or temperature, or a target above the cabin's temperature.

    Source: lumped cooling (Incropera; Cengel; Lienhard).
    """
    scale = scale_of(outside)
    start_k, outside_k, loss, held, power = _cabin(start, outside, ua, heat_capacity, infiltration, heat, loss_spread)
    target_k = temperature_k(target, "the target")
    if target_k > start_k:
        raise ValueError(
            f"{scale.show(target_k)} is warmer than the cabin's {scale.show(start_k)}. Say a colder target."
        )

    def time_h(loss_w_k: float) -> float:
        return time_to_reach_s(start_k, outside_k + power / loss_w_k, target_k, held / loss_w_k) / 3600

    around_k, hours = outside_k + power / loss, time_h(loss)
    lines = _constant_lines(scale, loss, held, outside_k, power, infiltration)
    if math.isinf(hours):
        return withheld(
            "time until the cabin is that cold",
            "h",
            f"It does not get down to {scale.show(target_k)}: it settles at {scale.show(around_k, 3)}.",
            low=time_h(loss * (1 + loss_spread)),
            working=lines,
            assumptions=_cabin_notes(loss_spread),
            source=LUMPED_SOURCE,
        )
    return ranged(
        "time until the cabin is that cold",
        hours,
        "h",
        time_h(loss * (1 + loss_spread)),
        time_h(loss * max(1 - loss_spread, 1e-9)),
        working=(*lines, cooling_line(scale, start_k, around_k, target_k, held / loss / 3600, hours)),
        assumptions=_cabin_notes(loss_spread),
        source=LUMPED_SOURCE,
        verdict=f"Down to {scale.show(target_k)} in about {roughly(hours)}.",
    )


def conduction(area: Quantity[Any], r_value: Quantity[Any], difference: Quantity[Any]) -> Estimate:
    """Heat through a wall: area times the temperature difference over its R.

    Args:
        area: area of the wall [area].
        r_value: its R in all, films too [area·temperature/power].
        difference: temperature difference across it, as a difference and no reading [temperature difference].

    Returns:
        BTU/h, or W when the area is metric.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible area or R.

    Source: Q = U·A·ΔT, U = 1/ΣR.
    """
    square, resistance = positive(area, "m**2", "the area"), positive(r_value, "K*m**2/W", "the R value")
    span = measure(difference, "delta_degC", "the temperature difference")
    watts = square * span / resistance
    scale = CELSIUS if "meter" in str(area.units) else FAHRENHEIT
    if scale.metric:
        line = f"{shown(square)} m² × {shown(span)} °C ÷ R {shown(resistance)} = {shown(watts)} W."
    else:
        line = (
            f"{shown(square / 0.09290304)} ft² × {shown(span * 1.8)} °F ÷ R-{shown(resistance / R_US_IN_M2K_PER_W)}"
            f" = {_power(scale, watts)}."
        )
    return exact(
        "heat through the wall",
        _in_power_unit(scale, watts),
        _power_unit(scale),
        working=(line,),
        assumptions=("steady state; ribs and frames that cross the insulation lose more",),
        source="conduction, Q = UA·ΔT, U = 1/ΣR (ASHRAE Fundamentals, from memory)",
    )


def degree_days(high: Quantity[Any], low: Quantity[Any], *, base: Quantity[Any] | None = None) -> Estimate:
    """Heating degree days of one day: base minus the mean of high and low, never below zero.

    Args:
        high: the day's high [temperature].
        low: the day's low [temperature].
        base: base temperature, 65 °F when left out [temperature].

    Returns:
        Degree days in the scale of `high`.

    Raises:
        DimensionalityError: an argument is no temperature.
        ValueError: the high is below the low.

    Source: NWS and EIA usage, base 65 °F.
    """
    scale = scale_of(high)
    high_k, low_k = temperature_k(high, "the high"), temperature_k(low, "the low")
    base_k = (DEGREE_DAY_BASE_F - 32) / 1.8 + 273.15 if base is None else temperature_k(base, "the base")
    if high_k < low_k:
        raise ValueError(f"The high of {scale.show(high_k)} is below the low of {scale.show(low_k)}. Say them again.")
    mean_k = (high_k + low_k) / 2
    days = max(0.0, scale.span(base_k - mean_k))
    return exact(
        "heating degree days",
        days,
        f"{scale.letter}-days",
        working=(
            f"Mean: ({scale.show(high_k)} + {scale.show(low_k)}) ÷ 2 = {scale.show(mean_k)}.",
            f"{scale.gap(base_k, mean_k)} = {scale.show_span(base_k - mean_k)}" + ("." if days else ", counted as 0."),
        ),
        source="degree days to 65 °F, NWS and EIA usage (published, secondary)",
    )


def degree_day_heat(ua: Quantity[Any], degree_days: Quantity[Any]) -> Estimate:
    """Heat lost over a span of degree days.

    Args:
        ua: loss for each degree [power/temperature].
        degree_days: sum of degree days [temperature difference·time].

    Returns:
        BTU.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss or sum.

    Source: UA × 24 × degree days (EIA factors, repeated).
    """
    loss = positive(ua, "W/K", "the heat loss") / BTU_PER_H_F_IN_W_PER_K
    days = not_negative(degree_days, "delta_degF*day", "the degree days")
    return exact(
        "heat over the degree days",
        loss * 24 * days,
        "BTU",
        working=(f"{shown(loss)} BTU/h per °F × 24 h × {shown(days)} = {shown(loss * 24 * days)} BTU.",),
        assumptions=("the loss is the same all the time; sun, cooking and people save some of it",),
        source="degree-day method with EIA factors (published, secondary)",
    )


def fuel_for_heat(heat: Quantity[Any], heat_per_gallon: Quantity[Any], efficiency: float) -> Estimate:
    """Gallons of a fuel that give an amount of heat inside.

    Args:
        heat: heat to deliver [energy].
        heat_per_gallon: heat of the fuel [energy/volume].
        efficiency: share of it that warms the cabin.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible amount or efficiency.

    Source: arithmetic.
    """
    wanted = not_negative(heat, "J", "the heat") / BTU_J
    rich = positive(heat_per_gallon, "J/m**3", "the fuel's heat") / BTU_J * GALLON_M3
    part = some_share(efficiency, "the efficiency")
    gallons = wanted / (rich * part)
    return exact(
        "fuel needed",
        gallons,
        "gal",
        working=(
            f"{shown(rich, 6)} BTU/gal × {shown(part)} = {shown(rich * part, 6)} BTU/gal delivered.",
            f"{shown(wanted)} BTU ÷ {shown(rich * part, 6)} = {shown(gallons)} gal.",
        ),
        source="arithmetic",
    )


def people_heat(people: int, activity: Activity = "seated") -> Estimate:
    """Heat the people aboard give off, and the part of it that warms the air.

    Args:
        people: how many.
        activity: "seated" and awake, or "asleep".

    Returns:
        Watts in all; `also` has the part that warms the air, and BTU/h.

    Raises:
        ValueError: fewer than no people.

    Source: ASHRAE Fundamentals 2013 ch. 18 Table 1; Air Conditioning Engineering Table 7.16.
    """
    heads = whole(people, "the people", least=0)
    each, low, high, sensible, source = PEOPLE_W[activity]
    return ranged(
        "heat of the people",
        heads * each,
        "W",
        heads * low,
        heads * high,
        working=(
            f"{heads} × {shown(each)} W = {shown(heads * each)} W = {shown(heads * each * 3600 / BTU_J)} BTU/h.",
            f"Warming the air: {heads} × {shown(sensible)} W = {shown(heads * sensible)} W"
            f" = {shown(heads * sensible * 3600 / BTU_J)} BTU/h; the rest is moisture.",
        ),
        assumptions=("adults; moisture is no heat for the air but fogs the windows",),
        source=source,
        also=(
            figure("warming the air", heads * sensible, "W"),
            figure(
                "in all", heads * each * 3600 / BTU_J, "BTU/h", heads * low * 3600 / BTU_J, heads * high * 3600 / BTU_J
            ),
        ),
    )


def _cabin(
    start: Quantity[Any],
    outside: Quantity[Any],
    ua: Quantity[Any],
    heat_capacity: Quantity[Any],
    infiltration: Quantity[Any] | None,
    heat: Quantity[Any] | None,
    loss_spread: float,
) -> tuple[float, float, float, float, float]:
    start_k, outside_k = temperature_k(start, "the cabin"), temperature_k(outside, "the outside")
    shell = positive(ua, "W/K", "the cabin's heat loss")
    flow = 0.0 if infiltration is None else not_negative(infiltration, "m**3/s", "the air that leaks in")
    held = positive(heat_capacity, "J/K", "the cabin's heat capacity")
    power = 0.0 if heat is None else not_negative(heat, "W", "the heat inside")
    share(loss_spread, "the uncertainty of the heat loss")
    return start_k, outside_k, shell + _leak_w_k(flow), held, power


def _constant_lines(
    scale: Scale, loss: float, held: float, outside_k: float, power: float, infiltration: Quantity[Any] | None
) -> tuple[str, ...]:
    lines = []
    if infiltration is not None:
        flow = float(infiltration.m_as("m**3/s"))
        shell = loss - _leak_w_k(flow)
        lines.append(f"Shell {loss_text(scale, shell)}, leaks {_leak_text(scale, flow)}: {loss_text(scale, loss)}.")
    lines.append(
        f"Time constant: {capacity_text(scale, held)} ÷ {loss_text(scale, loss)} = {shown(held / loss / 3600)} h."
    )
    if power:
        lines.append(
            f"Heat inside: {_power(scale, power)} ÷ {loss_text(scale, loss)} = {scale.show_span(power / loss)} above"
            f" outside, so it settles at {scale.show(outside_k + power / loss)}."
        )
    return tuple(lines)


def _cabin_notes(loss_spread: float) -> tuple[str, ...]:
    off = f"heat loss right within {shown(loss_spread * 100)} % ({PRACTICE})" if loss_spread else "heat loss as given"
    return (off, "doors and vents shut, the outside stays as cold")


def _leak_w_k(flow_m3_s: float) -> float:
    return flow_m3_s / CFM_M3_PER_S * CFM_F_BTU_H * BTU_PER_H_F_IN_W_PER_K


def _leak_text(scale: Scale, flow_m3_s: float) -> str:
    if scale.metric:
        return f"{shown(flow_m3_s * 3600)} m³/h = {loss_text(scale, _leak_w_k(flow_m3_s))}"
    return f"1.08 × {shown(flow_m3_s / CFM_M3_PER_S)} cfm = {loss_text(scale, _leak_w_k(flow_m3_s))}"


def _power_unit(scale: Scale) -> str:
    return "W" if scale.metric else "BTU/h"


def _in_power_unit(scale: Scale, watts: float) -> float:
    return watts if scale.metric else watts * 3600 / BTU_J


def _power(scale: Scale, watts: float) -> str:
    return f"{shown(_in_power_unit(scale, watts), 5)} {_power_unit(scale)}"
