"""Damp air: the dew point, whether a cold surface sweats, and how dry the air must be for it to stay dry.

Magnus formula with the constants of Alduchov and Eskridge (1996, J. Appl. Meteor. 35, 601): 17.625 and 243.04 °C, over water,
within 0.1 °C of the dew point between -40 and +50 °C (constants from memory; they agree with Buck's 1981 formula to 0.1 °C).
Pure: temperatures in °F, relative humidity as a share of 1.
"""

from __future__ import annotations

import math

from cabassist.estimate.quantities import exact, figure, share, shown, withheld
from cabassist.estimate.types import Estimate

_A, _B = 17.625, 243.04
COLDEST_F, WARMEST_F = -40.0, 122.0
"""Where the formula holds."""
SOURCE = "Magnus formula, Alduchov and Eskridge 1996 (from memory)"
CLOSE_F = 1.0
"""A surface this near the dew point may sweat or not (common practice, no source)."""


def saturation(air_f: float) -> float:
    """Vapor pressure of saturated air in hPa."""
    celsius = (air_f - 32) / 1.8
    return 6.1094 * math.exp(_A * celsius / (_B + celsius))


def dew_point_f(air_f: float, humidity: float) -> float:
    """The dew point of air in °F, at a relative humidity above 0 and up to 1."""
    celsius = (air_f - 32) / 1.8
    gamma = math.log(humidity) + _A * celsius / (_B + celsius)
    return 1.8 * (_B * gamma / (_A - gamma)) + 32


def _outside(*degrees: float) -> Estimate | None:
    if all(COLDEST_F <= one <= WARMEST_F for one in degrees):
        return None
    return withheld("dew point", "F", "I know damp air only between -40 and 122 °F.", source=SOURCE)


def dew_point(air_f: float, humidity: float) -> Estimate:
    """The temperature at which the air's moisture settles.

    Raises:
        ValueError: the humidity is no share of 1, or nothing.
    """
    if share(humidity, "the humidity") <= 0:
        raise ValueError("The humidity must be more than nothing. Say it again.")
    if (none := _outside(air_f)) is not None:
        return none
    dew = dew_point_f(air_f, humidity)
    line = f"air {shown(air_f)} °F at {shown(100 * humidity)} %: saturated at {shown(dew, 3)} °F"
    frost = " Below freezing it settles as frost." if dew < 32 else ""
    return exact("dew point", dew, "F", working=(line,), source=SOURCE, verdict=f"Whatever is colder than {shown(dew, 3)} °F sweats.{frost}")  # fmt: skip


def sweats(surface_f: float, air_f: float, humidity: float) -> Estimate:
    """Whether a surface, such as a window, sweats in the air beside it.

    Raises:
        ValueError: as `dew_point`.
    """
    if (none := _outside(air_f, surface_f)) is not None:
        return none
    dew = dew_point(air_f, humidity)
    point = dew.value if dew.value is not None else 0.0
    settles = "frosts over" if surface_f < 32 else "will fog up and sweat"
    if abs(surface_f - point) < CLOSE_F:
        verdict = f"Close: the dew point is {shown(point, 3)} °F, the surface {shown(surface_f)} °F."
    elif surface_f < point:
        verdict = f"Yes, it {settles}: {shown(surface_f)} °F is below the dew point of {shown(point, 3)} °F."
    else:
        verdict = f"No, it stays dry: {shown(surface_f)} °F is above the dew point of {shown(point, 3)} °F."
    driest = driest_allowed(surface_f, air_f)
    also = (figure("highest humidity without it", driest.value or 0.0, "percent"),)
    return exact("dew point", point, "F", working=dew.working, source=SOURCE, verdict=verdict, also=also)


def warmed(air_f: float, humidity: float, later_f: float) -> Estimate:
    """The relative humidity of the same air when it is warmed or cooled, by the saturation at both temperatures.

    Raises:
        ValueError: as `dew_point`.
    """
    if (none := _outside(air_f, later_f)) is not None:
        return none
    held = share(humidity, "the humidity") * saturation(air_f) / saturation(later_f)
    line = f"{shown(100 * humidity)} % x saturation at {shown(air_f)} °F ÷ at {shown(later_f)} °F = {shown(100 * held, 3)} %"
    verdict = "It is saturated: what it can't hold settles." if held > 1 else ""
    return exact("humidity then", 100 * min(held, 1.0), "percent", working=(line,), source=SOURCE, verdict=verdict)


def warmest_allowed(surface_f: float, humidity: float) -> Estimate:
    """The warmest air of a relative humidity in which a surface still stays dry: its dew point is the surface.

    Raises:
        ValueError: as `dew_point`.
    """
    if (none := _outside(surface_f)) is not None:
        return none
    if share(humidity, "the humidity") <= 0:
        raise ValueError("The humidity must be more than nothing. Say it again.")
    celsius = (surface_f - 32) / 1.8
    gamma = _A * celsius / (_B + celsius) - math.log(humidity)
    air = 1.8 * (_B * gamma / (_A - gamma)) + 32
    line = f"dew point {shown(surface_f)} °F at {shown(100 * humidity)} %: air of {shown(air, 3)} °F"
    return exact("warmest air", air, "F", working=(line,), source=SOURCE)


def driest_allowed(surface_f: float, air_f: float) -> Estimate:
    """The highest relative humidity at which a surface stays dry, in percent."""
    if (none := _outside(air_f, surface_f)) is not None:
        return none
    if surface_f >= air_f:
        return exact(
            "highest humidity", 100.0, "percent", source=SOURCE, verdict="A surface as warm as the air stays dry."
        )
    allowed = 100 * saturation(surface_f) / saturation(air_f)
    line = f"saturation at {shown(surface_f)} °F ÷ at {shown(air_f)} °F = {shown(allowed, 3)} %"
    return exact("highest humidity", allowed, "percent", working=(line,), source=SOURCE, verdict=f"Below {shown(allowed, 3)} % the surface stays dry.")  # fmt: skip
