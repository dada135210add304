"""How long until water freezes - in the tank, in a hose, in a bay - once heat or shore power is lost.

Each body of water is one lump: it loses heat in proportion to how much warmer it is than the air (Newton's law),
cools to freezing, then gives off its latent heat while it turns to ice. Wind takes heat away faster, yet nothing
is ever cooled below the temperature of the air. Heat pads are in `heat_pad.py`, skin in `wind_chill.py`, the cabin
in `cabin.py`.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from cabassist.estimate.heat_pad import STILL_FILM_M2K_PER_W
from cabassist.estimate.lumped import (
    FREEZING_K,
    LOSS_SPREAD,
    LUMPED_SOURCE,
    capacity_text,
    cooling_line,
    energy_text,
    loss_per_degree,
    loss_text,
    temperature_after_k,
    time_to_reach_s,
)
from cabassist.estimate.quantities import (
    BTU_J,
    BTU_PER_H_F_IN_W_PER_K,
    LB_KG,
    MEMORY,
    PRACTICE,
    Scale,
    between,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    roughly,
    scale_of,
    share,
    shown,
    temperature_k,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

WATER_KG_PER_M3 = 1000.0
"""Water near freezing: 8.345 lb/gal at 39 °F (CoolProp)."""
WATER_J_PER_KG_K = 4186.8
"""1.00 BTU/lb·°F (CoolProp gives 1.005 at 40 °F)."""
FUSION_J_PER_KG = 333_430.0
"""Heat of fusion, 143.35 BTU/lb (iapws: IAPWS-95 minus ice Ih at 273.15 K)."""
ICE_GROWTH = 1.0907
"""Volume of ice made from one volume of water (iapws, CoolProp)."""


AIR_W_PER_MK = 0.0236
AIR_M2_PER_S = 1.25e-5
AIR_PRANDTL = 0.71
"""Air at about 14 °F and sea level: conductivity, kinematic viscosity, Prandtl number (from memory)."""
RUBBER_W_PER_MK = 0.16
"""Rubber and soft vinyl hose (from memory)."""

FUSION_SOURCE = "heat of fusion 143.35 BTU/lb (iapws, IAPWS-95), water 8.345 lb/gal at 39 °F (CoolProp)"
FREEZE_SOURCE = f"{LUMPED_SOURCE}; {FUSION_SOURCE}"


def hours_to_freeze(
    water: Quantity[Any],
    start: Quantity[Any],
    air: Quantity[Any],
    heat_loss: Quantity[Any],
    *,
    heater: Quantity[Any] | None = None,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Hours until a tank's water reaches freezing once its heat fails, and until it is solid.

    Assumes the water is one lump, the air round the tank is as cold as outside from the first minute, the tank's own
    wall holds no heat, and ice does not slow the loss: all on the careful side.

    Args:
        water: how much water [volume].
        start: its temperature now [temperature].
        air: air round the tank [temperature].
        heat_loss: heat lost for each degree, as in the profile [power/temperature].
        heater: power that still heats it, if any [power].
        loss_spread: how far the heat loss may be off, as a share; 0 when it is exact.

    Returns:
        Hours to first ice. None when it never freezes; `also` has the hours until solid.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no water, water already ice or boiling, or an impossible loss.

    Source: lumped cooling (Incropera); heat of fusion (iapws).
    """
    scale = scale_of(air)
    mass = positive(water, "m**3", "the water") * WATER_KG_PER_M3
    start_k, air_k = _water_k(start), temperature_k(air, "the air")
    loss = positive(heat_loss, "W/K", "the heat loss")
    power = 0.0 if heater is None else not_negative(heater, "W", "the heater")
    share(loss_spread, "the uncertainty of the heat loss")
    held = mass * WATER_J_PER_KG_K

    def times_h(loss_w_k: float) -> tuple[float, float]:
        around = air_k + power / loss_w_k
        first = time_to_reach_s(start_k, around, FREEZING_K, held / loss_w_k)
        if around >= FREEZING_K or math.isinf(first):
            return math.inf, math.inf
        return first / 3600, (first + mass * FUSION_J_PER_KG / (loss_w_k * (FREEZING_K - around))) / 3600

    first, solid = times_h(loss)
    early, early_solid = times_h(loss * (1 + loss_spread))
    late, late_solid = times_h(loss * (1 - loss_spread)) if loss_spread < 1 else (math.inf, math.inf)
    around_k = air_k + power / loss
    assumptions = (
        f"heat loss right within {shown(loss_spread * 100)} % ({PRACTICE})" if loss_spread else "heat loss as given",
        "the air round the tank is as cold as outside at once; still fittings and hoses freeze before the tank",
    )
    warm = _heater_line(scale, air_k, loss, power, around_k)
    if math.isinf(first):
        return withheld(
            "time until the water freezes",
            "h",
            f"It does not freeze: the water settles at {scale.show(around_k)}."
            + (f" With a somewhat leakier tank it could reach freezing in {roughly(early)}." if early < 1e6 else ""),
            low=early,
            working=warm or (f"The air is {scale.show(air_k)}, not below {scale.show(FREEZING_K)}.",),
            assumptions=assumptions,
            source=FREEZE_SOURCE,
        )
    return ranged(
        "time until the water freezes",
        first,
        "h",
        early,
        late,
        working=(
            *_held_lines(scale, mass, loss),
            *warm,
            cooling_line(scale, start_k, around_k, FREEZING_K, held / loss / 3600, first),
            *_solid_lines(scale, mass, loss, around_k, solid - first),
        ),
        assumptions=assumptions,
        source=FREEZE_SOURCE,
        verdict=_freeze_verdict(first, solid, early, late),
        also=(figure("frozen solid", solid, "h", early_solid, late_solid),),
    )


def hours_to_freeze_at_loss(water: Quantity[Any], start: Quantity[Any], loss: Quantity[Any]) -> Estimate:
    """Hours until water reaches freezing, and is solid, when it loses a known steady power.

    Args:
        water: how much water [volume].
        start: its temperature now [temperature].
        loss: heat it loses [power].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no water, no loss, or water already ice or boiling.

    Source: heat of fusion (iapws); arithmetic.
    """
    scale = scale_of(start)
    mass = positive(water, "m**3", "the water") * WATER_KG_PER_M3
    start_k = _water_k(start)
    power = positive(loss, "W", "the heat loss")
    cooling, fusing = mass * WATER_J_PER_KG_K * (start_k - FREEZING_K), mass * FUSION_J_PER_KG
    first, solid = cooling / power / 3600, (cooling + fusing) / power / 3600
    rate = f"{shown(power)} W" if scale.metric else f"{shown(power)} W = {shown(power * 3600 / BTU_J)} BTU/h"
    return exact(
        "time until the water freezes",
        first,
        "h",
        working=(
            *_reserve_lines(scale, mass, start_k),
            f"To freezing: {energy_text(scale, cooling)} ÷ {rate} = {shown(first)} h.",
            f"Until solid: {energy_text(scale, cooling + fusing)} ÷ {rate} = {shown(solid)} h.",
        ),
        assumptions=("the loss stays the same while the water cools: careful, it shrinks as the water gets colder",),
        source=FUSION_SOURCE,
        verdict=_freeze_verdict(first, solid),
        also=(figure("frozen solid", solid, "h"),),
    )


def water_temperature_after(
    water: Quantity[Any],
    start: Quantity[Any],
    air: Quantity[Any],
    heat_loss: Quantity[Any],
    elapsed: Quantity[Any],
    *,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Temperature of a tank's water some time after its heat failed; it stays at freezing while ice forms.

    Args:
        water: how much water [volume].
        start: its temperature now [temperature].
        air: air round the tank [temperature].
        heat_loss: heat lost for each degree [power/temperature].
        elapsed: how long [time].
        loss_spread: how far the heat loss may be off, as a share.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no water, water already ice or boiling, or an impossible loss or time.

    Source: lumped cooling (Incropera).
    """
    scale = scale_of(air)
    mass = positive(water, "m**3", "the water") * WATER_KG_PER_M3
    start_k, air_k = _water_k(start), temperature_k(air, "the air")
    loss = positive(heat_loss, "W/K", "the heat loss")
    seconds = not_negative(elapsed, "s", "the time")
    share(loss_spread, "the uncertainty of the heat loss")

    def after(loss_w_k: float) -> float:
        cooled = temperature_after_k(start_k, air_k, mass * WATER_J_PER_KG_K / loss_w_k, seconds)
        return max(cooled, FREEZING_K) if air_k < FREEZING_K else cooled

    now = after(loss)
    bounds = sorted((after(loss * (1 + loss_spread)), after(loss * max(1 - loss_spread, 1e-9))))
    hours, constant = seconds / 3600, mass * WATER_J_PER_KG_K / loss / 3600
    frozen = now <= FREEZING_K
    return ranged(
        "water temperature",
        scale.degrees(now),
        scale.letter,
        scale.degrees(bounds[0]),
        scale.degrees(bounds[1]),
        working=(
            *_held_lines(scale, mass, loss),
            f"{scale.show(air_k)} + ({scale.gap(start_k, air_k)}) × e^(-{shown(hours)}/{shown(constant)})"
            f" = {scale.show(temperature_after_k(start_k, air_k, constant, hours))}.",
        ),
        assumptions=(f"heat loss right within {shown(loss_spread * 100)} % ({PRACTICE})",),
        source=FREEZE_SOURCE,
        verdict="Ice is forming: the water stays at freezing until it is solid." if frozen else "",
    )


def hours_for_hose_to_freeze(
    inside_diameter: Quantity[Any],
    start: Quantity[Any],
    air: Quantity[Any],
    *,
    wind: Quantity[Any] | None = None,
    wall: Quantity[Any] | None = None,
) -> Estimate:
    """Hours until the standing water in a hose or thin line reaches freezing, and is solid.

    Assumes a full, bare hose in the open, sky and ground as cold as the air, no flow, and the range of a film rule
    (30 %). The length of the hose does not matter.

    Args:
        inside_diameter: bore of the hose [length].
        start: water in it now [temperature].
        air: air round it [temperature].
        wind: wind across it; still air when left out [speed].
        wall: thickness of its wall, 1/8 inch when left out [length].

    Returns:
        Hours to first ice; None when the air is not freezing. `also` has the hours until solid.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible diameter, wall or wind, or water already ice or boiling.

    Source: Churchill and Bernstein 1977, cross flow over a cylinder (from memory); R 0.68 still-air film; lumped
    cooling (Incropera).
    """
    scale = scale_of(air)
    bore = positive(inside_diameter, "m", "the hose's bore")
    thick = 0.003175 if wall is None else positive(wall, "m", "the hose's wall")
    start_k, air_k = _water_k(start), temperature_k(air, "the air")
    speed = 0.0 if wind is None else not_negative(wind, "m/s", "the wind")
    if air_k >= FREEZING_K:
        return withheld(
            "time until the hose freezes",
            "h",
            f"It does not freeze at {scale.show(air_k)}: the air is not below {scale.show(FREEZING_K)}.",
            source=FREEZE_SOURCE,
        )
    outside = bore + 2 * thick
    film = max(1 / STILL_FILM_M2K_PER_W, _cross_flow_film(speed, outside))
    wall_part = math.log(outside / bore) / (2 * math.pi * RUBBER_W_PER_MK)
    mass = WATER_KG_PER_M3 * math.pi * bore**2 / 4

    def times_h(film_w_m2_k: float) -> tuple[float, float]:
        loss = 1 / (1 / (film_w_m2_k * math.pi * outside) + wall_part)
        first = time_to_reach_s(start_k, air_k, FREEZING_K, mass * WATER_J_PER_KG_K / loss)
        return first / 3600, (first + mass * FUSION_J_PER_KG / (loss * (FREEZING_K - air_k))) / 3600

    (first, solid), (early, early_solid), (late, late_solid) = times_h(film), times_h(film * 1.3), times_h(film / 1.3)
    loss = 1 / (1 / (film * math.pi * outside) + wall_part)
    held = mass * WATER_J_PER_KG_K
    return ranged(
        "time until the hose freezes",
        first,
        "h",
        early,
        late,
        working=(
            f"Each metre of {shown(bore * 1000)} mm hose holds {shown(mass, 3)} kg of water: {shown(held, 3)} J per °C.",
            f"Air film {shown(film, 3)} W/m²·°C"
            + (f" in a wind of {scale.speed(speed)}" if speed else " in still air")
            + f", over {shown(math.pi * outside, 3)} m² a metre; hose wall {shown(wall_part, 3)} °C·m/W.",
            f"Loss: 1 ÷ (1/({shown(film, 3)} × {shown(math.pi * outside, 3)}) + {shown(wall_part, 3)})"
            f" = {shown(loss, 3)} W per °C and metre; {shown(held, 3)} ÷ {shown(loss, 3)} = {shown(held / loss)} s.",
            cooling_line(scale, start_k, air_k, FREEZING_K, held / loss / 3600, first),
            f"Ice: {shown(mass, 3)} kg × 333.43 kJ ÷ ({shown(loss, 3)} W × {shown(FREEZING_K - air_k)} °C)"
            f" = {shown(solid - first)} h more.",
        ),
        assumptions=(
            "a full, bare hose in the open with no flow; fittings and drops left in a low spot freeze sooner",
            f"air film right within 30 %, wall {shown(thick * 1000, 2)} mm of rubber ({MEMORY})",
        ),
        source=f"Churchill and Bernstein 1977 (from memory), still film R 0.68 (published); {FREEZE_SOURCE}",
        verdict=_freeze_verdict(first, solid, early, late) + " Drain the hose, then it cannot freeze shut.",
        also=(figure("frozen solid", solid, "h", early_solid, late_solid),),
    )


def hours_for_bay_to_freeze(
    start: Quantity[Any],
    air: Quantity[Any],
    heat_loss: Quantity[Any],
    heat_capacity: Quantity[Any],
    *,
    heater: Quantity[Any] | None = None,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Hours until a heated bay, and the thin lines in it, reach freezing once its heat fails.

    Args:
        start: air in the bay now [temperature].
        air: air outside [temperature].
        heat_loss: heat the bay loses for each degree [power/temperature].
        heat_capacity: heat its air, walls and contents hold for each degree [energy/temperature].
        heater: power that still heats it, if any [power].
        loss_spread: how far the heat loss may be off, as a share.

    Returns:
        Hours until the bay is at freezing; None when it never gets there.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss, capacity or temperature.

    Source: lumped cooling (Incropera).
    """
    scale = scale_of(air)
    start_k, air_k = temperature_k(start, "the bay"), temperature_k(air, "the air")
    loss = positive(heat_loss, "W/K", "the heat loss")
    held = positive(heat_capacity, "J/K", "the heat capacity")
    power = 0.0 if heater is None else not_negative(heater, "W", "the heater")
    share(loss_spread, "the uncertainty of the heat loss")

    def time_h(loss_w_k: float) -> float:
        return time_to_reach_s(start_k, air_k + power / loss_w_k, FREEZING_K, held / loss_w_k) / 3600

    hours, around_k = (0.0 if start_k <= FREEZING_K else time_h(loss)), air_k + power / loss
    source = LUMPED_SOURCE
    assumptions = (f"heat loss right within {shown(loss_spread * 100)} % ({PRACTICE})", "bay doors shut")
    if math.isinf(hours):
        return withheld(
            "time until the bay freezes",
            "h",
            f"It does not freeze: the bay settles at {scale.show(around_k)}.",
            low=time_h(loss * (1 + loss_spread)),
            working=_heater_line(scale, air_k, loss, power, around_k),
            assumptions=assumptions,
            source=source,
        )
    constant = held / loss / 3600
    return ranged(
        "time until the bay freezes",
        hours,
        "h",
        0.0 if hours == 0 else time_h(loss * (1 + loss_spread)),
        0.0 if hours == 0 else time_h(loss * max(1 - loss_spread, 1e-9)),
        working=(
            f"Heat held ÷ heat lost: {capacity_text(scale, held)} ÷ {loss_text(scale, loss)} = {shown(constant)} h.",
            *_heater_line(scale, air_k, loss, power, around_k),
            cooling_line(scale, start_k, around_k, FREEZING_K, constant, hours),
        ),
        assumptions=assumptions,
        source=source,
        verdict=(
            "The bay is at freezing already: drain its lines or warm it now."
            if hours == 0
            else f"The bay is at freezing in {roughly(hours)}; thin lines follow at once, the tank in it later."
        ),
    )


def freezing_reserve(water: Quantity[Any], start: Quantity[Any]) -> Estimate:
    """Heat that water gives off from its temperature until it is frozen solid.

    Args:
        water: how much water [volume].
        start: its temperature [temperature].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no water, or water already ice or boiling.

    Source: heat of fusion (iapws).
    """
    scale = scale_of(start)
    mass = positive(water, "m**3", "the water") * WATER_KG_PER_M3
    start_k = _water_k(start)
    cooling, fusing = mass * WATER_J_PER_KG_K * (start_k - FREEZING_K), mass * FUSION_J_PER_KG
    unit, divisor = ("Wh", 3600.0) if scale.metric else ("BTU", BTU_J)
    return exact(
        "heat until frozen solid",
        (cooling + fusing) / divisor,
        unit,
        working=_reserve_lines(scale, mass, start_k),
        assumptions=(f"ice takes {shown((ICE_GROWTH - 1) * 100, 2)} % more room than the water: a full vessel bursts",),
        source=FUSION_SOURCE,
        also=(figure("heat until first ice", cooling / divisor, unit),),
    )


def _water_k(start: Quantity[Any]) -> float:
    start_k = temperature_k(start, "the water")
    if start_k < FREEZING_K - 1e-9 or start_k > FREEZING_K + 100:
        raise ValueError(
            f"I can't use {start:~P} for water: it is ice or steam then. Say the water's temperature again."
        )
    return max(start_k, FREEZING_K)


def _held_lines(scale: Scale, mass_kg: float, loss_w_k: float) -> tuple[str, ...]:
    held = mass_kg * WATER_J_PER_KG_K
    constant = f"Time constant: {capacity_text(scale, held)} ÷ {loss_text(scale, loss_w_k)} = {shown(held / loss_w_k / 3600)} h."
    if scale.metric:
        return (f"{shown(mass_kg)} kg of water × 1.163 Wh/kg·°C = {capacity_text(scale, held)}.", constant)
    return (
        f"{shown(mass_kg / LB_KG)} lb of water × 1 BTU/lb·°F = {capacity_text(scale, held)}.",
        f"Loss {shown(loss_w_k)} W per °C × 1.896 = {loss_text(scale, loss_w_k)}.",
        constant,
    )


def _reserve_lines(scale: Scale, mass_kg: float, start_k: float) -> tuple[str, ...]:
    span = scale.span(start_k - FREEZING_K)
    total = mass_kg * (WATER_J_PER_KG_K * (start_k - FREEZING_K) + FUSION_J_PER_KG)
    if scale.metric:
        return (f"{shown(mass_kg)} kg × ({shown(span)} °C × 1.163 + 92.62) Wh/kg = {energy_text(scale, total)}.",)
    pounds = mass_kg / LB_KG
    return (
        f"{shown(mass_kg / 1000 / 0.003785411784)} gal × 8.345 lb/gal = {shown(pounds)} lb.",
        f"{shown(pounds)} lb × ({shown(span)} °F × 1 + 143.35) BTU/lb = {energy_text(scale, total)}.",
    )


def _heater_line(scale: Scale, air_k: float, loss_w_k: float, power_w: float, around_k: float) -> tuple[str, ...]:
    if not power_w:
        return ()
    return (
        f"{shown(power_w)} W still on: {shown(power_w)} ÷ {shown(loss_per_degree(scale, loss_w_k))} W per"
        f" °{scale.letter} = {scale.show_span(around_k - air_k)}, so it settles at {scale.show(around_k)}.",
    )


def _solid_lines(scale: Scale, mass_kg: float, loss_w_k: float, around_k: float, hours: float) -> tuple[str, ...]:
    below = FREEZING_K - around_k
    if scale.metric:
        heat, rate = f"{shown(mass_kg)} kg × 92.62 Wh/kg", f"({shown(loss_w_k)} W × {shown(below)})"
    else:
        heat = f"{shown(mass_kg / LB_KG)} lb × 143.35 BTU/lb"
        rate = f"({shown(loss_w_k / BTU_PER_H_F_IN_W_PER_K)} BTU/h × {shown(scale.span(below))})"
    return (f"Ice all through: {heat} ÷ {rate} = {shown(hours)} h more.",)


def _freeze_verdict(first_h: float, solid_h: float, early_h: float | None = None, late_h: float | None = None) -> str:
    start = (
        "Ice can form at once" if first_h < 1 / 120 else f"First ice in {roughly(first_h)}{between(early_h, late_h)}"
    )
    return f"{start}; frozen solid in about {roughly(solid_h)}."


def _cross_flow_film(wind_m_per_s: float, diameter_m: float) -> float:
    """Film of air across a cylinder, W/m²·K: Churchill and Bernstein 1977, from memory."""
    reynolds = wind_m_per_s * diameter_m / AIR_M2_PER_S
    if reynolds * AIR_PRANDTL < 0.2:
        return 0.0
    bracket = math.pow(1 + math.pow(0.4 / AIR_PRANDTL, 2 / 3), 0.25)
    nusselt = 0.3 + 0.62 * math.sqrt(reynolds) * math.cbrt(AIR_PRANDTL) / bracket * math.pow(
        1 + math.pow(reynolds / 282_000, 0.625), 0.8
    )
    return nusselt * AIR_W_PER_MK / diameter_m
