"""Tires: pressure against temperature, whether a low reading is only the cold, tread and retread rules.

The air in a tire follows the gas law in absolute pressure and absolute temperature.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.quantities import (
    MEMORY,
    PRACTICE,
    PSI_PA,
    PressureUnit,
    Scale,
    exact,
    figure,
    not_negative,
    pressure_unit_of,
    ranged,
    scale_of,
    shown,
    temperature_k,
    tidy,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

ATMOSPHERE_PA = 101_325.0
"""Standard atmosphere, 14.696 psi."""
REAL_AIR_PA = 0.4 * PSI_PA
"""How far real air departs from the gas law here (CoolProp)."""
GAUGE_PA = 3.0 * PSI_PA
"""A hand gauge is trusted within this much (common practice, no source)."""
RUN_FLAT_SHARE = 0.8
"""Below this share of what it should read a tire counts as run flat (from memory)."""
STEER_TREAD_32NDS = 4.0
OTHER_TREAD_32NDS = 2.0
"""49 CFR 393.75: 4/32 in on the front wheels of a bus, 2/32 elsewhere."""
THIRTY_SECOND_M = 0.0254 / 32

GAS_SOURCE = "gas law in absolute pressure and temperature; real air within 0.4 psi (CoolProp)"
RULE_SOURCE = "49 CFR 393.75 (published)"
Position = Literal["front", "rear"]


def gauge_pressure_pa(set_to_pa: float, set_at_k: float, now_k: float) -> float:
    """Gauge pressure of a sealed tire after a change of temperature.

    Source: Gay-Lussac's law; standard atmosphere 101 325 Pa.
    """
    return (set_to_pa + ATMOSPHERE_PA) * now_k / set_at_k - ATMOSPHERE_PA


def tire_pressure(set_to: Quantity[Any], set_at: Quantity[Any], now: Quantity[Any]) -> Estimate:
    """Pressure that a tire shows once its air has warmed or cooled, without any leak.

    Args:
        set_to: gauge pressure when it was set [pressure].
        set_at: temperature of the tire then [temperature].
        now: temperature of the tire now [temperature].

    Returns:
        Gauge pressure in the unit of `set_to`, within 0.4 psi; `also` has the change.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative pressure, or a temperature below absolute zero.

    Source: gas law; CoolProp for real air.
    """
    unit, scale = pressure_unit_of(set_to), scale_of(now)
    set_pa = not_negative(set_to, "Pa", "the tire's pressure")
    set_k, now_k = temperature_k(set_at, "the temperature then"), temperature_k(now, "the temperature now")
    found = gauge_pressure_pa(set_pa, set_k, now_k)
    change = found - set_pa
    way = "down" if change < 0 else "up"
    return ranged(
        "tire pressure",
        unit.of(found),
        unit.name,
        unit.of(found - REAL_AIR_PA),
        unit.of(found + REAL_AIR_PA),
        working=_gas_lines(unit, scale, set_pa, set_k, now_k),
        assumptions=("the tire is as warm as the air, not just driven; no air lost", "sea-level air outside"),
        source=GAS_SOURCE,
        verdict=(
            f"About {unit.show(found, 3)}, {way} {shown(abs(unit.of(change)), 2)} by the temperature alone."
            if abs(change) > 1
            else f"Unchanged, {unit.show(found, 3)}."
        ),
        also=(
            figure("change", unit.of(change), unit.name, unit.of(change - REAL_AIR_PA), unit.of(change + REAL_AIR_PA)),
        ),
    )


def air_pressure_pa(height_ft: float) -> float:
    """Pressure of the air outside at a height above the sea, below 36,000 ft.

    Source: U.S. Standard Atmosphere, 1976.
    """
    return float(ATMOSPHERE_PA * (1 - 6.8756e-6 * height_ft) ** 5.2559)


def tire_pressure_up(set_to_psi: float, set_at_f: float, now_f: float, set_ft: float, now_ft: float) -> Estimate:
    """Gauge pressure in psi of a tire after a change of temperature and of height above the sea.

    A gauge shows what the tire holds above the air outside, so that it climbs as the air thins.

    Raises:
        ValueError: a pressure below nothing, a temperature below absolute zero, or a height no road has.

    Source: gas law; U.S. Standard Atmosphere, 1976.
    """
    if set_to_psi < 0 or min(set_at_f, now_f) <= -459.67:
        raise ValueError("That pressure or temperature can't be. Say it again.")
    if not all(-1500 <= one <= 20_000 for one in (set_ft, now_ft)):
        raise ValueError("No road is that high. Say the height in feet or meters again.")
    there, here = air_pressure_pa(set_ft) / PSI_PA, air_pressure_pa(now_ft) / PSI_PA
    ratio = (now_f + 459.67) / (set_at_f + 459.67)
    found = (set_to_psi + there) * ratio - here
    change = found - set_to_psi
    spread = REAL_AIR_PA / PSI_PA
    way = "up" if change > 0 else "down"
    return ranged(
        "tire pressure",
        found,
        "psi",
        found - spread,
        found + spread,
        working=(
            f"air outside: {shown(there)} psi at {shown(set_ft)} ft, {shown(here)} psi at {shown(now_ft)} ft",
            f"({shown(set_to_psi)} + {shown(there)}) x {shown(now_f + 459.67)} ÷ {shown(set_at_f + 459.67)} - {shown(here)} = {shown(found)} psi",
        ),
        assumptions=("the tire is as warm as the air, not just driven; no air lost",),
        source=f"{GAS_SOURCE}; U.S. Standard Atmosphere 1976",
        verdict=f"About {shown(found, 3)} psi, {way} {shown(abs(change), 2)}, with no air lost.",
        also=(figure("change", change, "psi", change - spread, change + spread),),
    )


def tire_reading(read: Quantity[Any], set_to: Quantity[Any], set_at: Quantity[Any], now: Quantity[Any]) -> Estimate:
    """Whether a tire's reading is what the temperature explains, or lower.

    Args:
        read: gauge pressure read [pressure].
        set_to: gauge pressure when it was set [pressure].
        set_at: temperature of the tire then [temperature].
        now: temperature of the tire now [temperature].

    Returns:
        How far the reading is from what the temperature explains, in the unit of `read`; `also` has what it should be.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative pressure, or a temperature below absolute zero.

    Source: gas law; a fifth low counts as run flat (from memory); 3 psi for the gauge (common practice).
    """
    unit, scale = pressure_unit_of(read), scale_of(now)
    read_pa = not_negative(read, "Pa", "the reading")
    set_pa = not_negative(set_to, "Pa", "the tire's pressure")
    set_k, now_k = temperature_k(set_at, "the temperature then"), temperature_k(now, "the temperature now")
    expected = gauge_pressure_pa(set_pa, set_k, now_k)
    gap = read_pa - expected
    return ranged(
        "difference from what the temperature explains",
        unit.of(gap),
        unit.name,
        unit.of(gap - GAUGE_PA),
        unit.of(gap + GAUGE_PA),
        working=(
            *_gas_lines(unit, scale, set_pa, set_k, now_k),
            f"Read {unit.show(read_pa)} - {unit.show(expected)} = {unit.show(gap, 3)}.",
        ),
        assumptions=("the tire is cold, not just driven", f"gauge right within {unit.show(GAUGE_PA, 2)} ({PRACTICE})"),
        source=f"{GAS_SOURCE}; a fifth low counts as run flat ({MEMORY})",
        verdict=_reading_verdict(unit, gap, read_pa, expected),
        also=(
            figure(
                "should read",
                unit.of(expected),
                unit.name,
                unit.of(expected - REAL_AIR_PA),
                unit.of(expected + REAL_AIR_PA),
            ),
        ),
    )


def tread(depth: Quantity[Any], position: Position) -> Estimate:
    """Whether a bus tire's tread is deep enough.

    Args:
        depth: depth in a major groove [length].
        position: "front" for the steer axle, "rear" for any other.

    Returns:
        Depth in 32nds of an inch; the verdict says in or out.

    Raises:
        DimensionalityError: not a length.
        ValueError: a negative depth.

    Source: 49 CFR 393.75(b), (c).
    """
    parts = tidy(not_negative(depth, "m", "the tread") / THIRTY_SECOND_M)
    limit = STEER_TREAD_32NDS if position == "front" else OTHER_TREAD_32NDS
    where = "a front tire of a bus" if position == "front" else "a tire that is not in front"
    fine = parts >= limit - 1e-6
    return exact(
        "tread",
        parts,
        "1/32 in",
        working=(f"{shown(parts)}/32 in against {shown(limit)}/32 in for {where}.",),
        assumptions=("measured in a major groove, not on a wear bar; the shallowest place counts",),
        source=RULE_SOURCE,
        verdict=(
            f"Allowed: {shown(parts)}/32, at least {shown(limit)}/32 are needed on {where}."
            if fine
            else f"Out: {shown(parts)}/32, at least {shown(limit)}/32 are needed on {where}. Do not drive on it."
        ),
        also=(figure("needed", limit, "1/32 in"),),
    )


def retread_allowed(position: Position) -> Estimate:
    """Whether a regrooved, recapped or retreaded tire may be fitted on a bus.

    Args:
        position: "front" for the steer axle, "rear" for any other.

    Returns:
        No number; the verdict says yes or no.

    Source: 49 CFR 393.75(d).
    """
    verdict = (
        "Out: no regrooved, recapped or retreaded tire on the front wheels of a bus."
        if position == "front"
        else "Allowed: the rule bars retreads only from the front wheels of a bus."
    )
    return withheld("retread", "", verdict, source=RULE_SOURCE)


def _gas_lines(unit: PressureUnit, scale: Scale, set_pa: float, set_k: float, now_k: float) -> tuple[str, ...]:
    zero = 273.15 if scale.metric else 459.67
    then, later = scale.degrees(set_k), scale.degrees(now_k)
    air = shown(unit.of(ATMOSPHERE_PA), 5)
    found = unit.show(gauge_pressure_pa(set_pa, set_k, now_k))
    return (
        f"Absolute: {scale.show(set_k)} = {shown(then + zero, 5)}, {scale.show(now_k)} = {shown(later + zero, 5)}.",
        f"({shown(unit.of(set_pa))} + {air}) × {shown(later + zero, 5)} ÷ {shown(then + zero, 5)} - {air} = {found}.",
    )


def _reading_verdict(unit: PressureUnit, gap: float, read_pa: float, expected: float) -> str:
    should = f"at this temperature it should read about {unit.show(expected, 3)}"
    if read_pa < RUN_FLAT_SHARE * expected:
        return (
            f"Far too low, not just the cold but a leak: {should}. More than a fifth is missing: treat it as flat and do"
            " not drive on it."
        )
    if gap < -GAUGE_PA:
        return f"Low beyond the temperature: {should}, {unit.show(-gap, 2)} are missing. Look for a leak and add air."
    if gap > GAUGE_PA:
        return f"Higher than the temperature explains: {should}. Is it warm from driving? Then let no air out."
    return f"The temperature explains it: {should}. No sign of a leak."
