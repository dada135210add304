"""Wind chill and frostbite: what wind does to bare skin, and what it never does to a tank.

Outside the weather service's limits there is no number: wind chill is not defined there.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from cabassist.estimate.lumped import FREEZING_K
from cabassist.estimate.quantities import (
    MEMORY,
    MPH_M_PER_S,
    exact,
    figure,
    not_negative,
    ranged,
    scale_of,
    shown,
    temperature_k,
    tidy,
    withheld,
)
from cabassist.estimate.types import Estimate, Figure

if TYPE_CHECKING:
    from pint import Quantity

WIND_CHILL_SOURCE = "National Weather Service wind chill formula of 1 November 2001 (published)"

FROSTBITE_BANDS: tuple[tuple[float, float, float, float, str], ...] = (
    (-67.0, 2, 1, 2, "Environment Canada's bands, from memory"),
    (-54.4, 5, 2, 5, "Environment Canada's bands, from memory"),
    (-40.0, 10, 5, 10, "Environment Canada's bands, from memory"),
    (-18.0, 30, 10, 30, "NWS chart, 30 minutes at a wind chill of about -18 °F (published); 10 from memory"),
)
"""Wind chill in °F at or below which skin freezes: minutes, low, high, source."""


def wind_chill_f(air_f: float, wind_mph: float) -> float | None:
    """Wind chill in °F, or None above 50 °F or under 3 mph, where it is not defined.

    Source: National Weather Service, 1 November 2001.
    """
    if air_f > 50 or wind_mph < 3:
        return None
    pull = math.pow(wind_mph, 0.16)
    return 35.74 + 0.6215 * air_f - 35.75 * pull + 0.4275 * air_f * pull


def wind_chill(air: Quantity[Any], wind: Quantity[Any]) -> Estimate:
    """Wind chill on bare skin; not defined above 50 °F or under 3 mph.

    Args:
        air: air temperature [temperature].
        wind: wind speed [speed].

    Returns:
        Wind chill in the scale of `air`, or None where it is not defined.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible temperature or wind.

    Source: National Weather Service, 1 November 2001.
    """
    scale = scale_of(air)
    air_k = temperature_k(air, "the air")
    speed = not_negative(wind, "m/s", "the wind")
    air_f, mph = tidy((air_k - FREEZING_K) * 1.8 + 32), tidy(speed / MPH_M_PER_S)
    chill_f = wind_chill_f(air_f, mph)
    if chill_f is None:
        why = "above 50 °F (10 °C)" if air_f > 50 else "in a wind under 3 mph (5 km/h)"
        return withheld(
            "wind chill",
            scale.letter,
            f"Wind chill is not defined {why}. The air temperature counts: {scale.show(air_k)}.",
            assumptions=(f"limits of the formula, 50 °F and 3 mph ({MEMORY})",),
            source=WIND_CHILL_SOURCE,
        )
    chill_k = (chill_f - 32) / 1.8 + FREEZING_K
    given = (
        ()
        if not scale.metric
        else (f"{scale.show(air_k)} = {shown(air_f)} °F; {scale.speed(speed)} = {shown(mph)} mph.",)
    )
    back = () if not scale.metric else (f"{shown(chill_f)} °F = {scale.show(chill_k, 3)}.",)
    return exact(
        "wind chill",
        scale.degrees(chill_k),
        scale.letter,
        working=(
            *given,
            f"{shown(mph)}^0.16 = {shown(mph**0.16, 5)}.",
            f"35.74 + 0.6215 × {shown(air_f)} - 35.75 × {shown(mph**0.16, 5)} + 0.4275 × {shown(air_f)} ×"
            f" {shown(mph**0.16, 5)} = {shown(chill_f)} °F.",
            *back,
        ),
        assumptions=("for bare skin; it does not lower a pipe or a tank below the air temperature",),
        source=WIND_CHILL_SOURCE,
        verdict=f"Feels like {shown(round(scale.degrees(chill_k)))} °{scale.letter} on bare skin.",
    )


def frostbite_time(air: Quantity[Any], wind: Quantity[Any]) -> Estimate:
    """Minutes until bare skin can freeze, by wind chill; never a promise of safety.

    Args:
        air: air temperature [temperature].
        wind: wind speed [speed].

    Returns:
        Minutes at most; None where the chart gives no time.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible temperature or wind.

    Source: NWS chart, 30 minutes at about -18 °F wind chill (published); shorter bands from memory.
    """
    chill = wind_chill(air, wind)
    scale = scale_of(air)
    if chill.value is None:
        return withheld(
            "time to frostbite",
            "min",
            f"No time is given: {chill.verdict} Below freezing cover the skin all the same.",
            source=chill.source,
        )
    chill_f = chill.value * 1.8 + 32 if scale.metric else chill.value
    for limit_f, minutes, low, high, source in FROSTBITE_BANDS:
        # The chart's colors follow whole degrees.
        if round(chill_f) <= limit_f:
            return ranged(
                "time to frostbite",
                minutes,
                "min",
                low,
                high,
                working=(*chill.working, f"Wind chill {shown(chill_f, 3)} °F: at or below {shown(limit_f)} °F."),
                assumptions=("bare, dry, healthy skin; wet skin and bare metal freeze sooner",),
                source=f"{WIND_CHILL_SOURCE}; {source}",
                verdict=f"Bare skin can freeze in {minutes} minutes or less. Cover up and work in short turns.",
                also=(figure("wind chill", chill.value, scale.letter),),
            )
    return withheld(
        "time to frostbite",
        "min",
        f"The chart gives no time at a wind chill of {shown(chill.value, 2)} °{scale.letter}: it starts at 30 minutes"
        " near -18 °F (-28 °C). Long in the cold, skin can still be hurt.",
        low=30,
        working=chill.working,
        source=f"{WIND_CHILL_SOURCE}; NWS chart",
        also=(figure("wind chill", chill.value, scale.letter),),
    )


def coldest_unheated(air: Quantity[Any], wind: Quantity[Any] | None = None) -> Estimate:
    """The coldest an unheated tank, pipe or hose can get: the air temperature, whatever the wind.

    Args:
        air: air round it [temperature].
        wind: wind, if any [speed].

    Returns:
        The air temperature; `also` has the wind chill, which counts for skin only.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible temperature or wind.

    Source: NWS explanation of wind chill (from memory).
    """
    scale = scale_of(air)
    air_k = temperature_k(air, "the air")
    also: tuple[Figure, ...] = ()
    if wind is not None:
        chill = wind_chill(air, wind)
        also = () if chill.value is None else (figure("wind chill, for skin only", chill.value, scale.letter),)
    return exact(
        "coldest it can get",
        scale.degrees(air_k),
        scale.letter,
        working=(f"Nothing cools below the air round it: {scale.show(air_k)}.",),
        assumptions=("no heat in it and the air stays as it is",),
        source=f"National Weather Service explanation ({MEMORY})",
        verdict=f"{scale.show(air_k)}: the air temperature, not the wind chill. Wind only gets it there faster.",
        also=also,
    )
