"""Diesel: gelling in the cold, range and idle hours, heat and weight - and gasoline, which never goes in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import (
    FAHRENHEIT,
    GALLON_M3,
    MEMORY,
    PRACTICE,
    ZERO_CELSIUS_K,
    Scale,
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
)
from cabassist.estimate.types import Estimate, Figure

if TYPE_CHECKING:
    from pint import Quantity

MILE_M = 1609.344
MPG_TIMES_L_PER_100_KM = 235.214583
"""Miles a gallon times liters for 100 km."""
CLOUD_TYPICAL_F = 15.0
CLOUD_LOW_F, CLOUD_HIGH_F, CLOUD_EXTREME_F = -18.0, 20.0, 40.0
"""Cloud point of No. 2: about 15 °F typical, -18 to +20 usual, up to +40 (filter maker's bulletin; fuel dealer)."""
CAUTION_F = 5.0
"""Closer than this above the cloud point is too close (common practice, no source)."""
BLEND_F_PER_TENTH, BLEND_LEAST_F_PER_TENTH = 3.0, 1.0
"""°F that each 10 % of No. 1 lowers the cloud point: 3 by rule of thumb, less with modern fuel (from memory)."""
DIESEL_BTU_PER_GAL = 137_381.0
"""Diesel of 15 ppm sulfur or less: EIA energy calculators, 2021."""
DIESEL_LB_PER_GAL, DIESEL_LIGHT, DIESEL_HEAVY = 7.09, 6.94, 7.24
"""SG 0.85 × 8.337 lb/gal (SG from memory); ends of the range ± 15 lb on 100 gal."""
ECONOMY_SPREAD = 0.10
"""How far miles a gallon and idle use may be off in winter, as a share (common practice, no source)."""

CLOUD_SOURCE = "filter maker's bulletin and fuel dealer on cloud points (published, secondary)"
FLASH_SOURCE = "flash points: ASTM D975 Table 1 and COMAR 03.03.05.02 (published), gasoline Fire Engineering and NIOSH"


def gel_risk(coldest: Quantity[Any], *, cloud_point: Quantity[Any] | None = None) -> Estimate:
    """Whether diesel will cloud with wax: the coldest temperature ahead against the fuel's cloud point.

    Args:
        coldest: coldest temperature the fuel will see [temperature].
        cloud_point: the fuel's cloud point, as the seller states it; a typical No. 2 when left out [temperature].

    Returns:
        Degrees above the cloud point, below zero under it. Without a cloud point the range spans the usual No. 2.

    Raises:
        DimensionalityError: an argument is no temperature.
        ValueError: a temperature below absolute zero.

    Source: cloud points by filter maker's bulletin; 5 °F of caution is common practice.
    """
    scale = scale_of(coldest)
    cold_k = temperature_k(coldest, "the coldest temperature")
    cold_f = FAHRENHEIT.degrees(cold_k)
    known = cloud_point is not None
    cloud_k = _kelvin(CLOUD_TYPICAL_F) if cloud_point is None else temperature_k(cloud_point, "the cloud point")
    margin = scale.span(cold_k - cloud_k)
    low, high = (
        (margin, margin)
        if known
        else (
            scale.span(cold_k - _kelvin(CLOUD_HIGH_F)),
            scale.span(cold_k - _kelvin(CLOUD_LOW_F)),
        )
    )
    if known:
        verdict = _known_cloud(cold_f, FAHRENHEIT.degrees(cloud_k), scale.show(cloud_k))
    else:
        verdict = _unknown_cloud(cold_f, scale)
    return ranged(
        "margin above the cloud point",
        margin,
        scale.letter,
        low,
        high,
        working=(f"{scale.gap(cold_k, cloud_k)} = {scale.show_span(cold_k - cloud_k)}.",),
        assumptions=(
            *(() if known else ("cloud point of a typical No. 2; ask the seller for the real one",)),
            f"closer than {shown(CAUTION_F)} °F is too close ({PRACTICE})",
            "additives lower the plugging point, not the cloud point; only No. 1 lowers that",
        ),
        source=CLOUD_SOURCE,
        verdict=verdict,
    )


def blended_cloud_point(
    cloud_point: Quantity[Any], share_no1: float, *, per_tenth: Quantity[Any] | None = None
) -> Estimate:
    """Cloud point after blending No. 1 into No. 2: a rule of thumb from memory, with a wide range.

    Args:
        cloud_point: of the No. 2 [temperature].
        share_no1: share of No. 1 in the blend.
        per_tenth: lowering for each 10 %, 3 °F when left out [temperature difference].

    Returns:
        The cloud point in its own scale; plan with the upper end of the range.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a share outside 0 to 1, or a negative lowering.

    Source: rule of thumb, from memory; a laboratory reports that modern fuel responds less.
    """
    scale = scale_of(cloud_point)
    cloud_k = temperature_k(cloud_point, "the cloud point")
    tenths = share(share_no1, "the share of number 1") * 10
    each_k = BLEND_F_PER_TENTH / 1.8 if per_tenth is None else not_negative(per_tenth, "delta_degC", "the lowering")
    least_k = BLEND_LEAST_F_PER_TENTH / 1.8 if per_tenth is None else each_k
    found = cloud_k - tenths * each_k
    return ranged(
        "cloud point of the blend",
        scale.degrees(found),
        scale.letter,
        scale.degrees(found),
        scale.degrees(cloud_k - tenths * least_k),
        working=(f"{scale.show(cloud_k)} - {shown(tenths)} × {scale.show_span(each_k)} = {scale.show(found)}.",),
        assumptions=("modern fuel may answer only a third as much",) if per_tenth is None else (),
        source=f"rule of thumb, 3 °F for each 10 % ({MEMORY})" if per_tenth is None else "lowering as given",
        verdict=f"About {scale.show(found, 3)}"
        + (
            f", but plan with {scale.show(cloud_k - tenths * least_k, 3)}: the rule is from memory."
            if per_tenth is None
            else "."
        ),
    )


def gasoline_in_diesel() -> Estimate:
    """How much gasoline may go into diesel so that it does not gel: none, whatever the share.

    Source: ASTM D975 Table 1; COMAR 03.03.05.02; Fire Engineering; NIOSH Pocket Guide.
    """
    return exact(
        "gasoline allowed",
        0.0,
        "percent",
        working=(
            "Number 2 diesel gives off fumes that light only at 125 °F (52 °C) or more, gasoline at about -45 °F (-43 °C).",
        ),
        source=FLASH_SOURCE,
        verdict="No. Never put gasoline in diesel, not even a little: its vapor can explode. Use number 1 or treatment.",
    )


def diesel_range(
    fuel: Quantity[Any],
    economy: Quantity[Any],
    *,
    reserve: Quantity[Any] | None = None,
    economy_spread: float = ECONOMY_SPREAD,
) -> Estimate:
    """Distance the diesel aboard lasts.

    Args:
        fuel: diesel in the tank [volume].
        economy: distance on a volume [length/volume].
        reserve: diesel to leave in the tank [volume].
        economy_spread: how far the economy may be off, as a share; 0 when it is exact.

    Returns:
        Miles, or kilometres when the economy is metric; 0 when only the reserve is left.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative amount or no economy.

    Source: arithmetic.
    """
    tank, left = _tank(fuel, reserve)
    per = positive(economy, "m/m**3", "the economy")
    off = share(economy_spread, "the uncertainty of the economy")
    unit, metre, name, volume = _economy_units(economy)
    use, each = left / volume, per / metre * volume
    return ranged(
        "range on diesel",
        use * each,
        unit,
        use * each * (1 - off),
        use * each * (1 + off),
        working=(
            *_reserve_line(tank / volume, use, name),
            f"{shown(use)} {name} × {shown(each)} {unit}/{name} = {shown(use * each)} {unit}.",
        ),
        assumptions=_spread_note(off, "headwind, snow and idling shorten it"),
        source="arithmetic with the coach's own figure",
        verdict=f"About {shown(use * each, 3)} {'miles' if unit == 'mi' else 'kilometres'}."
        if use
        else "Only the reserve is left.",
    )


def mileage(distance: Quantity[Any], burned: Quantity[Any]) -> Estimate:
    """Miles to the gallon from a distance and the fuel it took.

    Args:
        distance: how far [length].
        burned: fuel used, or filled in afterwards [volume].

    Returns:
        Miles a gallon; `also` has liters per 100 km.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no distance or no fuel.

    Source: arithmetic.
    """
    miles, gallons = positive(distance, "mile", "the distance"), positive(burned, "gallon", "the fuel")
    return exact(
        "mileage",
        miles / gallons,
        "mpg",
        working=(f"{shown(miles, 6)} mi ÷ {shown(gallons)} gal = {shown(miles / gallons)} miles a gallon",),
        assumptions=("filled to the same mark before and after",),
        source="arithmetic",
        also=(figure("liters per 100 km", MPG_TIMES_L_PER_100_KM * gallons / miles, "L/100 km"),),
    )


def idle_hours(
    fuel: Quantity[Any],
    idle_use: Quantity[Any],
    *,
    reserve: Quantity[Any] | None = None,
    use_spread: float = ECONOMY_SPREAD,
) -> Estimate:
    """Hours the engine can idle on the diesel aboard.

    Args:
        fuel: diesel in the tank [volume].
        idle_use: diesel used at idle [volume/time].
        reserve: diesel to leave in the tank [volume].
        use_spread: how far the use may be off, as a share; 0 when it is exact.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative amount or no use.

    Source: arithmetic.
    """
    tank, left = _tank(fuel, reserve)
    use = positive(idle_use, "m**3/h", "the idle use")
    off = share(use_spread, "the uncertainty of the use")
    name, volume = _volume_unit(fuel)
    hours = left / use
    return ranged(
        "idle hours",
        hours,
        "h",
        hours / (1 + off),
        hours / (1 - off) if off < 1 else None,
        working=(
            *_reserve_line(tank / volume, left / volume, name),
            f"{shown(left / volume)} {name} ÷ {shown(use / volume)} {name}/h = {shown(hours)} h.",
        ),
        assumptions=_spread_note(off, "fast idle and heaters use more"),
        source="arithmetic with the coach's own figure",
        verdict=f"About {roughly(hours)} at idle." if hours else "Only the reserve is left.",
    )


def diesel_needed(
    *,
    distance: Quantity[Any] | None = None,
    economy: Quantity[Any] | None = None,
    idle_time: Quantity[Any] | None = None,
    idle_use: Quantity[Any] | None = None,
    aboard: Quantity[Any] | None = None,
    use_spread: float = ECONOMY_SPREAD,
) -> Estimate:
    """Diesel for a distance, for a time at idle, or for both, and whether what is aboard is enough.

    Args:
        distance: way to drive, with `economy` [length].
        economy: distance on a volume [length/volume].
        idle_time: time at idle, with `idle_use` [time].
        idle_use: diesel used at idle [volume/time].
        aboard: diesel in the tank [volume].
        use_spread: how far the use may be off, as a share; 0 when it is exact.

    Returns:
        Gallons; `also` has what is left.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: half a pair, nothing asked, or a negative amount.

    Source: arithmetic.
    """
    if (distance is None) != (economy is None) or (idle_time is None) != (idle_use is None):
        raise ValueError("I need the distance with the miles a gallon, or the idle time with the gallons an hour.")
    off = share(use_spread, "the uncertainty of the use")
    gallons, lines = 0.0, []
    if distance is not None and economy is not None:
        miles, each = not_negative(distance, "mile", "the distance"), positive(economy, "mile/gallon", "the economy")
        gallons += miles / each
        lines.append(f"{shown(miles)} mi ÷ {shown(each)} mi/gal = {shown(miles / each)} gal.")
    if idle_time is not None and idle_use is not None:
        hours, rate = not_negative(idle_time, "h", "the idle time"), positive(idle_use, "gallon/h", "the idle use")
        gallons += hours * rate
        lines.append(f"{shown(hours)} h × {shown(rate)} gal/h = {shown(hours * rate)} gal.")
    if not lines:
        raise ValueError("I need a distance with miles a gallon, or an idle time with gallons an hour.")
    if len(lines) > 1:
        lines.append(f"Together {shown(gallons)} gal.")
    also: tuple[Figure, ...] = ()
    verdict = f"About {shown(gallons, 3)} gallons."
    if aboard is not None:
        have = not_negative(aboard, "gallon", "the diesel aboard")
        also = (figure("left", have - gallons, "gal", have - gallons * (1 + off), have - gallons * (1 - off)),)
        verdict += (
            f" Enough: {shown(have - gallons, 3)} gallons stay."
            if have >= gallons * (1 + off)
            else f" Not safely enough with {shown(have)} aboard: refuel."
        )
    return ranged(
        "diesel needed",
        gallons,
        "gal",
        gallons * (1 - off),
        gallons * (1 + off),
        working=tuple(lines),
        assumptions=_spread_note(off, "headwind, snow and long idling take more"),
        source="arithmetic with the coach's own figures",
        verdict=verdict,
        also=also,
    )


def diesel_heat(fuel: Quantity[Any]) -> Estimate:
    """Heat in an amount of diesel.

    Args:
        fuel: how much [volume].

    Returns:
        BTU.

    Raises:
        DimensionalityError: not a volume.
        ValueError: a negative amount.

    Source: 137,381 BTU/gal, EIA energy calculators 2021.
    """
    gallons = not_negative(fuel, "gallon", "the diesel")
    return exact(
        "heat in the diesel",
        gallons * DIESEL_BTU_PER_GAL,
        "BTU",
        working=(f"{shown(gallons)} gal × 137,381 BTU/gal = {shown(gallons * DIESEL_BTU_PER_GAL)} BTU.",),
        source="137,381 BTU/gal, EIA energy calculators 2021 (published)",
    )


def diesel_weight(fuel: Quantity[Any]) -> Estimate:
    """Weight of an amount of diesel.

    Args:
        fuel: how much [volume].

    Returns:
        Pounds.

    Raises:
        DimensionalityError: not a volume.
        ValueError: a negative amount.

    Source: SG 0.85 (from memory) × 8.337 lb/gal.
    """
    gallons = not_negative(fuel, "gallon", "the diesel")
    return ranged(
        "weight of the diesel",
        gallons * DIESEL_LB_PER_GAL,
        "lb",
        gallons * DIESEL_LIGHT,
        gallons * DIESEL_HEAVY,
        working=(f"{shown(gallons)} gal × 7.09 lb/gal = {shown(gallons * DIESEL_LB_PER_GAL)} lb.",),
        assumptions=("specific gravity 0.85; winter fuel is lighter",),
        source=f"specific gravity 0.85 ({MEMORY}) × 8.337 lb/gal (CoolProp)",
    )


def _known_cloud(cold_f: float, cloud_f: float, cloud: str) -> str:
    if cold_f <= cloud_f:
        return f"Risk: it gets as cold as the cloud point of {cloud} or colder, so wax can plug the filter. Treat or blend before."
    if cold_f <= cloud_f + CAUTION_F:
        return f"Caution: close to the cloud point of {cloud}. Take winter fuel or treatment."
    return f"No gel risk: it stays clear of the cloud point of {cloud}."


def _unknown_cloud(cold_f: float, scale: Scale) -> str:
    typical, extreme = scale.show(_kelvin(CLOUD_TYPICAL_F), 2), scale.show(_kelvin(CLOUD_EXTREME_F), 2)
    ask = "Ask the seller for the cloud point."
    if cold_f <= CLOUD_LOW_F:
        return f"Risk: colder than any usual number 2 bears. {ask}"
    if cold_f <= CLOUD_TYPICAL_F:
        return f"Risk: at or below the {typical} at which number 2 typically clouds, unless it is winter fuel. {ask}"
    if cold_f <= CLOUD_HIGH_F:
        return f"Caution: number 2 typically clouds near {typical}, some a few degrees above. {ask}"
    if cold_f <= CLOUD_EXTREME_F:
        return f"No risk with usual fuel; fuel from a warm place can cloud as high as {extreme}. {ask}"
    return "No gel risk."


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8 + ZERO_CELSIUS_K


def _tank(fuel: Quantity[Any], reserve: Quantity[Any] | None) -> tuple[float, float]:
    """Cubic metres in the tank, and those above the reserve."""
    tank = not_negative(fuel, "m**3", "the diesel")
    kept = 0.0 if reserve is None else not_negative(reserve, "m**3", "the reserve")
    return tank, max(0.0, tank - kept)


def _reserve_line(tank: float, use: float, name: str) -> tuple[str, ...]:
    return (f"{shown(tank)} - {shown(tank - use)} kept = {shown(use)} {name} to use.",) if tank > use else ()


def _volume_unit(fuel: Quantity[Any]) -> tuple[str, float]:
    metric = "lit" in str(fuel.units) or "meter" in str(fuel.units)
    return ("L", 0.001) if metric else ("gal", GALLON_M3)


def _economy_units(economy: Quantity[Any]) -> tuple[str, float, str, float]:
    if "meter" in str(economy.units):
        return "km", 1000.0, "L", 0.001
    return "mi", MILE_M, "gal", GALLON_M3


def _spread_note(off: float, note: str) -> tuple[str, ...]:
    return (f"use right within {shown(off * 100)} % ({PRACTICE}); {note}",) if off else ("use as given",)
