"""How fast a cylinder gives gas in the cold, and the pressure that its temperature makes.

Tables are interpolated, never extrapolated: outside them no number is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.amounts import btu_per_h, lb
from cabassist.estimate.quantities import (
    exact,
    figure,
    interpolated,
    not_negative,
    positive,
    ranged,
    shown,
    temperature_k,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

BOIL_OFF_AIR_F = (0, 20, 40, 60, 70)
BOIL_OFF_BTU_PER_H: dict[int, tuple[int, ...]] = {
    100: (113_000, 167_000, 214_000, 277_000, 300_000),
    90: (104_000, 152_000, 200_000, 247_000, 277_000),
    80: (94_000, 137_000, 180_000, 214_000, 236_000),
    70: (83_000, 122_000, 160_000, 199_000, 214_000),
    60: (75_000, 109_000, 140_000, 176_000, 192_000),
    50: (64_000, 94_000, 125_000, 154_000, 167_000),
    40: (55_000, 79_000, 105_000, 131_000, 141_000),
    30: (45_000, 66_000, 85_000, 107_000, 118_000),
    20: (36_000, 51_000, 68_000, 83_000, 92_000),
    10: (28_000, 38_000, 49_000, 60_000, 66_000),
}
"""Full-time draw of a 100-lb cylinder by pounds left and air temperature in °F."""
BOIL_OFF_SOURCE = "LP-gas trade table for a 100-lb cylinder, Flame Engineering propane page (published, secondary)"
OTHER_SIZE_SPREAD = 0.3
"""Half the 10–90 % range when the 100-lb table is scaled to another size. From memory."""

WAGNER = (-6.67833, 1.15437, -1.64984, -2.70017)
CRITICAL_K, CRITICAL_PA = 369.82, 4_255_760.0
PRESSURE_SOURCE = "Wagner equation for pure propane, McGarry 1983 constants (published; as in the chemicals library)"
COMMERCIAL_PSIG = ((70.0, 127.0), (100.0, 196.0), (105.0, 210.0), (130.0, 287.0))
COMMERCIAL_SOURCE = "NFPA 58 Annex B table for commercial propane, as suppliers repeat it (published, secondary)"
BOILING_F, HOTTEST_F = -44.0, 130.0
ATMOSPHERE_PA, PSI_PA = 101_325.0, 6894.757293168


def vaporization(left: Quantity[Any], air: Quantity[Any], *, nominal: Quantity[Any] | None = None) -> Estimate:
    """Heat that a cylinder can boil off without a pause, by what is left in it and the air around it.

    Bilinear between the entries of the trade table for a 100-lb cylinder. Another size is read at the same share
    of its fill and scaled by wall area, (size ÷ 100)^⅔ for similar shapes: an indication only, with a wide range.

    Args:
        left: propane in the cylinder [mass].
        air: air temperature at the cylinder [temperature].
        nominal: the size it is called by [mass]; 100 lb when left out.

    Returns:
        BTU an hour; None outside the table (below 0 °F, above 70 °F, under a tenth of a fill).

    Raises:
        ValueError: more left than a cylinder of that size holds, or an impossible number.

    Source: trade table (secondary); the scaling is a rule of similar shapes, from memory.
    """
    left_lb = lb(not_negative(left, "kg", "the propane left"))
    size_lb = 100.0 if nominal is None else lb(positive(nominal, "kg", "the cylinder's size"))
    air_f = _fahrenheit(temperature_k(air, "the air at the cylinder"))
    if left_lb > size_lb * 1.02:
        raise ValueError(f"A {shown(size_lb)} lb cylinder can't hold {shown(left_lb)} lb. Say it again.")
    at_lb = min(100 * left_lb / size_lb, 100.0)
    table = _boil_off(at_lb, air_f)
    scale = (size_lb / 100) ** (2 / 3)
    other = abs(size_lb - 100) > 0.5
    name = "boils off"
    lines: tuple[str, ...] = (f"{shown(left_lb)} of {shown(size_lb)} lb is as {shown(at_lb)} lb in a 100-lb cylinder",)
    if table is None:
        return withheld(name, "BTU/h", _outside_table(at_lb, air_f, scale), working=lines, source=BOIL_OFF_SOURCE)
    value = table * scale
    lines = (*lines, f"table at {shown(at_lb)} lb and {shown(air_f)} °F: {shown(table)} BTU/h")
    if not other:
        return exact(name, value, "BTU/h", working=lines, assumptions=_BOIL_OFF_ASSUMPTIONS, source=BOIL_OFF_SOURCE)
    return ranged(
        name,
        value,
        "BTU/h",
        value * (1 - OTHER_SIZE_SPREAD),
        value * (1 + OTHER_SIZE_SPREAD),
        working=(*lines, f"x ({shown(size_lb)} ÷ 100)^⅔ = {shown(scale)} for the smaller wall: {shown(value)} BTU/h"),
        assumptions=(
            *_BOIL_OFF_ASSUMPTIONS,
            "the table is for 100 lb; another size is scaled by wall area (from memory)",
        ),
        source=BOIL_OFF_SOURCE,
        verdict="Only an indication: there is no table for this size here.",
    )


_BOIL_OFF_ASSUMPTIONS = ("full-time draw, one cylinder, bare wall in still air, no frost or snow on it",)


def _fahrenheit(kelvin: float) -> float:
    return kelvin * 1.8 - 459.67


def _boil_off(at_lb: float, air_f: float) -> float | None:
    air_f = round(air_f, 6)
    column = tuple(
        (float(pounds), interpolated(tuple(zip(map(float, BOIL_OFF_AIR_F), map(float, row), strict=True)), air_f))
        for pounds, row in sorted(BOIL_OFF_BTU_PER_H.items())
    )
    known = tuple((pounds, rate) for pounds, rate in column if rate is not None)
    return interpolated(known, round(at_lb, 6)) if known else None


def _outside_table(at_lb: float, air_f: float, scale: float) -> str:
    if at_lb < min(BOIL_OFF_BTU_PER_H):
        return "The table stops at a tenth of a fill. So little left boils off slowly; change over."
    if air_f > BOIL_OFF_AIR_F[-1]:
        return f"The table stops at {BOIL_OFF_AIR_F[-1]} °F. It boils off at least as fast when warmer."
    at_zero = (_boil_off(at_lb, 0.0) or 0.0) * scale
    return f"The table stops at 0 °F, where this cylinder gives about {shown(at_zero, 2)} BTU/h. Colder gives less."


def can_feed(
    demand: Quantity[Any],
    air: Quantity[Any],
    open_cylinders: Sequence[Quantity[Any]],
    *,
    nominal: Quantity[Any] | None = None,
) -> Estimate:
    """Whether the cylinders that are open can boil off gas fast enough for everything that burns at once.

    Args:
        demand: fuel input of all furnaces that can burn together [power].
        air: air temperature at the cylinders [temperature].
        open_cylinders: propane left in each cylinder that feeds now [mass]; two only when both really feed.
        nominal: the size they are called by [mass]; 100 lb when left out.

    Returns:
        BTU an hour they can give; None outside the table, where the verdict still warns if even the table's
        coldest column is too little.

    Raises:
        ValueError: no cylinder, or an impossible number.

    Source: as `vaporization`.
    """
    if not open_cylinders:
        raise ValueError("Say how much is left in the cylinder that feeds.")
    wanted = btu_per_h(not_negative(demand, "W", "the furnaces' input"))
    each = [vaporization(left, air, nominal=nominal) for left in open_cylinders]
    values = [one.value for one in each if one.value is not None]
    working = tuple(line for one in each for line in one.working)
    if len(values) < len(each):
        return _cannot_tell(wanted, air, open_cylinders, nominal, each)
    supply = sum(values)
    low, high = sum(one.low or 0.0 for one in each), sum(one.high or 0.0 for one in each)
    return ranged(
        "boils off",
        supply,
        "BTU/h",
        low,
        high,
        working=(*working, f"furnaces {shown(wanted)} BTU/h against {shown(supply)} BTU/h"),
        assumptions=each[0].assumptions,
        source=BOIL_OFF_SOURCE,
        verdict=_feeding(wanted, low, supply, high),
        also=(figure("furnaces burn", wanted, "BTU/h"), figure("in hand", supply - wanted, "BTU/h")),
    )


def _feeding(wanted: float, low: float, supply: float, high: float) -> str:
    if wanted <= low:
        return "It can feed them."
    if wanted > high:
        return "Warning: it cannot feed them all the time. Run one furnace, or change to a fuller cylinder."
    more = "more" if wanted > supply else "nearly as much"
    return f"Warning: they burn {more} than it may give. Keep a fuller cylinder ready or run one furnace."


def _cannot_tell(
    wanted: float,
    air: Quantity[Any],
    open_cylinders: Sequence[Quantity[Any]],
    nominal: Quantity[Any] | None,
    each: Sequence[Estimate],
) -> Estimate:
    """Outside the table: no number, yet below 0 °F the 0 °F column is a ceiling and may already be too low."""
    verdict = next(one.verdict for one in each if one.value is None)
    ceiling = 0.0
    if _fahrenheit(temperature_k(air, "the air at the cylinder")) < BOIL_OFF_AIR_F[0]:
        at_zero = [vaporization(left, _zero_fahrenheit(air), nominal=nominal) for left in open_cylinders]
        ceiling = sum(one.value or 0.0 for one in at_zero)
        if ceiling and wanted > ceiling:
            verdict = f"Warning: even at 0 °F it would not feed {shown(wanted)} BTU/h all the time. {verdict}"
    return withheld(
        "boils off",
        "BTU/h",
        verdict,
        high=ceiling or None,
        working=tuple(line for one in each for line in one.working),
        assumptions=_BOIL_OFF_ASSUMPTIONS,
        source=BOIL_OFF_SOURCE,
        also=(figure("furnaces burn", wanted, "BTU/h"),),
    )


def _zero_fahrenheit(like: Quantity[Any]) -> Quantity[Any]:
    return type(like)(459.67 / 1.8, "kelvin")


def vapor_pressure(at: Quantity[Any], *, kind: Literal["pure", "commercial"] = "pure") -> Estimate:
    """Gauge pressure in a cylinder at rest, by the temperature of the liquid.

    Args:
        at: temperature of the liquid [temperature].
        kind: "pure" propane by equation, or "commercial" by its own table; never the two mixed.

    Returns:
        psi on a gauge; None below propane's boiling point, above 130 °F, or outside the commercial table.

    Raises:
        ValueError: an impossible temperature.

    Source: Wagner equation (McGarry 1983); NFPA 58 Annex B for commercial propane (secondary).
    """
    kelvin = temperature_k(at, "the propane")
    degrees = _fahrenheit(kelvin)
    source = PRESSURE_SOURCE if kind == "pure" else COMMERCIAL_SOURCE
    if degrees < BOILING_F:
        verdict = "Colder than propane boils (-44 °F): the cylinder has no pressure and gives no gas."
        return withheld("gauge pressure", "psi", verdict, source="OSHA chemical data 563 (official)")
    psi = _pure_psig(kelvin) if kind == "pure" else _commercial_psig(degrees)
    if psi is None or degrees > HOTTEST_F:
        return withheld(
            "gauge pressure", "psi", "There is no published figure here at that temperature.", source=source
        )
    off = 4.5 if kind == "pure" else 0.0
    how = "Wagner equation" if kind == "pure" else "table, straight in log pressure over 1/T between its rows"
    return ranged(
        "gauge pressure",
        psi,
        "psi",
        max(psi - off, 0.0),
        psi + off,
        working=(f"at {shown(degrees)} °F: {how} gives {shown(psi)} psi above the air",),
        assumptions=(f"{kind} propane, at rest, some liquid left", "sea level"),
        source=source,
    )


def _pure_psig(kelvin: float) -> float | None:
    a, b, c, d = WAGNER
    tau = 1 - kelvin / CRITICAL_K
    if tau <= 0:
        return None
    pressure_pa = CRITICAL_PA * exp((a * tau + b * tau**1.5 + c * tau**3 + d * tau**6) / (1 - tau))
    return (pressure_pa - ATMOSPHERE_PA) / PSI_PA


def _commercial_psig(degrees_f: float) -> float | None:
    air = ATMOSPHERE_PA / PSI_PA
    rows = tuple((-1 / (row_f + 459.67), log(psig + air)) for row_f, psig in COMMERCIAL_PSIG)
    straight = interpolated(rows, -1 / (round(degrees_f, 6) + 459.67))
    return None if straight is None else exp(straight) - air
