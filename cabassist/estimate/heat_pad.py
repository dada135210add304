"""Heat pads: the watts that hold a tank at a temperature, and whether the pad on it is enough.

In the steady state the pad's watts equal the heat lost: U·A times how much warmer the water is than the air.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from cabassist.estimate.lumped import FREEZING_K, LOSS_SPREAD, loss_line, loss_per_degree
from cabassist.estimate.quantities import (
    MPH_M_PER_S,
    PRACTICE,
    Scale,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    scale_of,
    share,
    shown,
    temperature_k,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

STILL_FILM_M2K_PER_W = 0.68 * 0.17611016
"""Air film indoors, R 0.68 h·ft²·°F/BTU (R-value tables)."""
WINDY_FILM_M2K_PER_W = 0.17 * 0.17611016
"""Air film outdoors in a 15 mph wind, R 0.17 (R-value tables)."""
WINDY_FILM_M_PER_S = 15 * MPH_M_PER_S

CONDUCTION_SOURCE = "conduction, Q = UA·ΔT (ASHRAE Fundamentals, from memory)"


def heat_pad_watts(hold: Quantity[Any], air: Quantity[Any], heat_loss: Quantity[Any]) -> Estimate:
    """Watts a heat pad must give to hold a tank at a temperature.

    Args:
        hold: temperature to hold [temperature].
        air: air round the tank [temperature].
        heat_loss: heat lost for each degree [power/temperature].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss or temperature.

    Source: conduction, Q = UA·ΔT.
    """
    scale = scale_of(hold)
    hold_k, air_k = temperature_k(hold, "the temperature to hold"), temperature_k(air, "the air")
    loss = positive(heat_loss, "W/K", "the heat loss")
    watts = max(0.0, loss * (hold_k - air_k))
    return exact(
        "heat pad needed",
        watts,
        "W",
        working=(
            *loss_line(scale, loss),
            f"{shown(loss_per_degree(scale, loss))} W per °{scale.letter} × ({scale.gap(hold_k, air_k)})"
            f" = {shown(loss_per_degree(scale, loss))} × {shown(scale.span(hold_k - air_k))}"
            f" = {shown(loss * (hold_k - air_k))} W.",
        ),
        assumptions=("heat loss as given; the air temperature counts, not the wind chill",),
        source=CONDUCTION_SOURCE,
        verdict="" if watts else "None: the air is not colder than that.",
    )


def heat_pad_holds(
    pad: Quantity[Any],
    air: Quantity[Any],
    heat_loss: Quantity[Any],
    *,
    hold: Quantity[Any] | None = None,
    wind: Quantity[Any] | None = None,
    surface: Quantity[Any] | None = None,
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Whether a heat pad keeps a tank at a temperature, and at what the water settles.

    A wind counts as faster heat loss only where the tank's bare `surface` is given; in a shut bay it does not reach the
    tank. It never cools anything below the air temperature.

    Args:
        pad: power of the pad [power].
        air: air round the tank [temperature].
        heat_loss: heat lost for each degree in still air [power/temperature].
        hold: temperature to hold, freezing when left out [temperature].
        wind: wind on the tank [speed].
        surface: outside surface of the tank that the wind reaches [area].
        loss_spread: how far the heat loss may be off, as a share.

    Returns:
        The temperature at which the water settles, in the scale of `air`.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible loss, power, wind or surface.

    Source: conduction, Q = UA·ΔT; air films R 0.68 still and R 0.17 at 15 mph (R-value tables).
    """
    scale = scale_of(air)
    power = not_negative(pad, "W", "the heat pad")
    air_k = temperature_k(air, "the air")
    hold_k = FREEZING_K if hold is None else temperature_k(hold, "the temperature to hold")
    still_loss = positive(heat_loss, "W/K", "the heat loss")
    speed = 0.0 if wind is None else not_negative(wind, "m/s", "the wind")
    share(loss_spread, "the uncertainty of the heat loss")
    loss, most, wind_lines, wind_notes = _loss_in_wind(scale, still_loss, speed, surface)
    settles = air_k + power / loss
    low_k = air_k + power / (most * (1 + loss_spread))
    high_k = air_k + power / (loss * max(1 - loss_spread, 1e-9))
    needed = max(0.0, loss * (hold_k - air_k))
    coldest_k = hold_k - power / loss
    per_degree = loss_per_degree(scale, loss)
    return ranged(
        "temperature the pad holds",
        scale.degrees(settles),
        scale.letter,
        scale.degrees(low_k),
        scale.degrees(high_k),
        working=(
            *loss_line(scale, still_loss),
            *wind_lines,
            f"Pad: {shown(power)} W ÷ {shown(per_degree)} W per °{scale.letter} ="
            f" {scale.show_span(settles - air_k)} above the air.",
            f"{scale.show(air_k)} + {scale.show_span(settles - air_k)} = {scale.show(settles)}.",
            f"To hold {scale.show(hold_k)}: {shown(per_degree)} × {shown(scale.span(hold_k - air_k))}"
            f" = {shown(loss * (hold_k - air_k))} W.",
        ),
        assumptions=(
            f"heat loss right within {shown(loss_spread * 100)} % ({PRACTICE})",
            "the pad is on all the time and has power",
            *wind_notes,
        ),
        source=f"{CONDUCTION_SOURCE}; air films from R-value tables (published)",
        verdict=_pad_verdict(scale, settles, low_k, hold_k, power, needed),
        also=(
            figure("needed", needed, "W"),
            figure("coldest air it holds in", scale.degrees(coldest_k), scale.letter),
        ),
    )


def _loss_in_wind(
    scale: Scale, loss_w_k: float, wind_m_per_s: float, surface: Quantity[Any] | None
) -> tuple[float, float, tuple[str, ...], tuple[str, ...]]:
    """Loss in the wind, the most it can be, working and assumptions."""
    if not wind_m_per_s:
        return loss_w_k, loss_w_k, (), ()
    note = "wind takes heat away faster but never cools below the air temperature"
    if surface is None:
        return loss_w_k, loss_w_k, (), (note, "the tank is in a shut bay: the wind does not blow on it")
    area = positive(surface, "m**2", "the tank's surface")
    rest = max(area / loss_w_k - STILL_FILM_M2K_PER_W, 0.0)
    part = min(wind_m_per_s / WINDY_FILM_M_PER_S, 1.0)
    film = 1 / (1 / STILL_FILM_M2K_PER_W + part * (1 / WINDY_FILM_M2K_PER_W - 1 / STILL_FILM_M2K_PER_W))
    loss = area / (rest + film)
    beyond = wind_m_per_s > WINDY_FILM_M_PER_S * (1 + 1e-9)
    most = (area / rest if rest else math.inf) if beyond else loss
    line = (
        f"Wind {scale.speed(wind_m_per_s)} on {shown(area)} m²: {shown(area)} ÷ ({shown(area / loss_w_k, 3)} -"
        f" {shown(STILL_FILM_M2K_PER_W, 3)} + {shown(film, 3)}) = {shown(loss)} W per °C."
    )
    if not beyond:
        return loss, loss, (line,), (note,)
    return loss, most, (line,), (note, "air film known up to 15 mph; the low end takes no film at all")


def _pad_verdict(scale: Scale, settles: float, low_k: float, hold_k: float, power_w: float, needed_w: float) -> str:
    want = scale.show(hold_k)
    if settles < hold_k:
        return f"It does not hold {want}: the water goes down to {scale.show(settles, 3)}. {shown(needed_w, 3)} W are needed."
    if low_k < hold_k:
        return f"It barely holds {want}: {shown(power_w)} W for the {shown(needed_w, 3)} W needed, with little margin."
    return f"It holds {want} with a margin: {shown(power_w)} W for the {shown(needed_w, 3)} W needed."
