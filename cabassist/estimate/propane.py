"""Propane: what is in the cylinders, how fast it burns, and how long it lasts.

Gauge or scale → pounds; furnaces, or the coach's heat loss → BTU an hour; the two together → hours,
a run-out time and a fill-by time. A cylinder's name is its legal fill (42 % of its water weight):
nothing here takes 80 % of it a second time. The burn is worked out in `furnaces.py`; what belongs to
the cylinder itself (legal fill, order of use, dates; boil-off in the cold) in `cylinders.py` and `boil_off.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from math import hypot
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.amounts import (
    HOUR_S,
    btu,
    btu_per_h,
    gal,
    lb,
    mass_or_volume,
    percent,
    spread,
)
from cabassist.estimate.clock import between, clock, hours_between, later
from cabassist.estimate.quantities import (
    BTU_J,
    GALLON_M3,
    LB_KG,
    duration,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    share,
    shown,
    some_share,
    withheld,
)
from cabassist.estimate.tanks import straight_line
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

BTU_PER_GAL = 91_502.0
BTU_PER_LB = 21_548.0
HEAT_SOURCE = "NFPA 58 Annex B property table, heat of the vapor, as suppliers repeat it (published, secondary)"
LB_PER_GAL = 4.24
WEIGHT_SOURCE = "4.24 lb/gal at 60 °F, the trade figure behind the cylinders' gallons (published, secondary)"
HEAT_J_PER_M3 = BTU_PER_GAL * BTU_J / GALLON_M3
HEAT_J_PER_KG = BTU_PER_LB * BTU_J / LB_KG

SHELL_FACTOR = 0.504 / 0.42
"""Share of the shell's volume → share of the legal fill: SG 0.504 (NFPA 58) over 42 % of water weight."""
GAUGE_ERROR = 0.05
"""Half the 10–90 % range of a cylinder's needle, as a share of full. Common practice, no source."""
SCALE_ERROR_KG = 1.0 * LB_KG
"""Half the 10–90 % range of weighing a cylinder: one pound. Common practice, no source."""
MARGIN_H = 6.0
"""Hours in hand between the fill and the early end of the run-out. Common practice, no source."""
OVERFILLED = "Above its legal fill. Do not use it. Have the filler bleed it down."


def content_from_gauge(
    fraction: float,
    nominal: Quantity[Any],
    *,
    gauge: Literal["fill", "shell"] = "fill",
    gauge_error: float = GAUGE_ERROR,
) -> Estimate:
    """Pounds in a cylinder from its gauge, with gallons and BTU.

    Args:
        fraction: what the gauge shows, 0–1.
        nominal: the size the cylinder is called by, its legal fill [mass].
        gauge: "fill" when 1 is a legal fill; "shell" when it shows percent of the whole shell (80 = filled).
        gauge_error: half the 10–90 % range of the reading, as a share of full; 0 to take it as exact.

    Raises:
        ValueError: the fraction is not a share, or the size not above zero.

    Source: 0.42 x water weight (49 CFR 173.304a table, 29 CFR 1910.110 example); the constants above.
    """
    part, size_kg = share(fraction, "the propane gauge"), positive(nominal, "kg", "the cylinder's size")
    off = share(gauge_error, "the gauge's error")
    factor = SHELL_FACTOR if gauge == "shell" else 1.0
    left_kg, low_kg, high_kg = (min(max(p, 0.0), 1.0) * factor * size_kg for p in (part, part - off, part + off))
    scaled = f" of the shell x {shown(factor)}" if gauge == "shell" else ""
    return _content(
        left_kg,
        low_kg,
        high_kg,
        working=(f"{shown(part)}{scaled} x {shown(lb(size_kg))} lb = {shown(lb(left_kg))} lb",),
        assumptions=(
            f"{shown(lb(size_kg))} lb is the legal fill already; 80 % is not taken off again",
            f"the needle may be {percent(off)} of full off either way (common practice, no source)",
        ),
        source=f"size = 0.42 x water weight (29 CFR 1910.110 example); {WEIGHT_SOURCE}; {HEAT_SOURCE}",
        verdict=OVERFILLED if left_kg > size_kg else "",
    )


def content_from_weight(
    scale: Quantity[Any],
    tare: Quantity[Any],
    *,
    nominal: Quantity[Any] | None = None,
    scale_error: Quantity[Any] | None = None,
) -> Estimate:
    """Pounds in a cylinder from its weight on a scale and the TW stamp, with gallons and BTU.

    Args:
        scale: the cylinder with what is in it [mass].
        tare: the TW stamp [mass].
        nominal: the size it is called by, to see whether it is overfilled [mass].
        scale_error: half the 10–90 % range of the scale [mass]; one pound when left out.

    Raises:
        ValueError: it weighs less than its tare.

    Source: weight minus tare; the constants above.
    """
    scale_kg, tare_kg = positive(scale, "kg", "the weight on the scale"), positive(tare, "kg", "the tare")
    off_kg = SCALE_ERROR_KG if scale_error is None else not_negative(scale_error, "kg", "the scale's error")
    left_kg = scale_kg - tare_kg
    if left_kg < -off_kg:
        raise ValueError(
            f"A cylinder of {shown(lb(tare_kg))} lb tare can't weigh {shown(lb(scale_kg))} lb. "
            "Read the scale and the TW stamp again."
        )
    left_kg = max(left_kg, 0.0)
    over = nominal is not None and left_kg > positive(nominal, "kg", "the cylinder's size") + off_kg
    return _content(
        left_kg,
        max(left_kg - off_kg, 0.0),
        left_kg + off_kg,
        working=(f"{shown(lb(scale_kg))} lb on the scale - {shown(lb(tare_kg))} lb tare = {shown(lb(left_kg))} lb",),
        assumptions=(f"the scale may be {shown(lb(off_kg))} lb off either way (common practice, no source)",),
        source=f"weight minus the TW stamp; {WEIGHT_SOURCE}; {HEAT_SOURCE}",
        verdict=OVERFILLED if over else "",
    )


def content_of_all(cylinders: Sequence[Estimate]) -> Estimate:
    """Pounds in several cylinders together, from their single estimates; their errors are independent.

    Raises:
        ValueError: there is none, or one is no amount in pounds.
    """
    parts = [(c.value, c.low, c.high) for c in cylinders if c.value is not None and c.unit == "lb"]
    if not parts or len(parts) != len(cylinders):
        raise ValueError("I need the pounds in each cylinder that counts.")
    total = sum(value for value, _, _ in parts)
    down = hypot(*(value - (value if low is None else low) for value, low, _ in parts))
    up = hypot(*((value if high is None else high) - value for value, _, high in parts))
    return _content(
        total * LB_KG,
        max(total - down, 0.0) * LB_KG,
        (total + up) * LB_KG,
        working=(f"{' + '.join(shown(value) for value, _, _ in parts)} = {shown(total)} lb",),
        assumptions=("one gauge's error says nothing about the other's",),
        source=f"sum; {WEIGHT_SOURCE}; {HEAT_SOURCE}",
    )


def _content(
    left_kg: float,
    low_kg: float,
    high_kg: float,
    *,
    working: tuple[str, ...],
    assumptions: tuple[str, ...],
    source: str,
    verdict: str = "",
) -> Estimate:
    value, low, high = lb(left_kg), lb(low_kg), lb(high_kg)
    return ranged(
        "propane left",
        value,
        "lb",
        low,
        high,
        working=(
            *working,
            f"{shown(value)} lb ÷ {LB_PER_GAL} lb/gal = {shown(value / LB_PER_GAL)} gal",
            f"{shown(value)} lb x {BTU_PER_LB:,.0f} BTU/lb = {shown(value * BTU_PER_LB)} BTU",
        ),
        assumptions=assumptions,
        source=source,
        verdict=verdict,
        also=(
            figure("gallons", value / LB_PER_GAL, "gal", low / LB_PER_GAL, high / LB_PER_GAL),
            figure("heat", value * BTU_PER_LB, "BTU", low * BTU_PER_LB, high * BTU_PER_LB),
        ),
    )


def energy(propane: Quantity[Any]) -> Estimate:
    """Heat in an amount of propane given by volume or by weight.

    Args:
        propane: liquid propane [volume at 60 °F, or mass].

    Source: NFPA 58 Annex B, 91,502 BTU/gal and 21,548 BTU/lb (secondary).
    """
    heat_j, line = heat_of(propane)
    return exact(
        "heat in the propane",
        btu(heat_j),
        "BTU",
        working=(line,),
        assumptions=("liquid at 60 °F", "gross heat; an appliance's efficiency comes off this"),
        source=HEAT_SOURCE,
    )


def heat_of(propane: Quantity[Any]) -> tuple[float, str]:
    """Heat of an amount of propane in joules, with the line that shows it.

    Raises:
        DimensionalityError, ValueError: no amount of propane.
    """
    if mass_or_volume(propane, "the propane") == "kg":
        left_kg = not_negative(propane, "kg", "the propane")
        heat_j = left_kg * HEAT_J_PER_KG
        return heat_j, f"{shown(lb(left_kg))} lb x {BTU_PER_LB:,.0f} BTU/lb = {shown(btu(heat_j))} BTU"
    left_m3 = not_negative(propane, "m^3", "the propane")
    heat_j = left_m3 * HEAT_J_PER_M3
    return heat_j, f"{shown(gal(left_m3))} gal x {BTU_PER_GAL:,.0f} BTU/gal = {shown(btu(heat_j))} BTU"


def propane_needed(burn: Quantity[Any], time: Quantity[Any], *, efficiency: float = 1.0) -> Estimate:
    """Gallons of propane for a length of time.

    Args:
        burn: fuel burned, or heat delivered when an efficiency is given [power].
        time: how long [time].
        efficiency: share of the fuel's heat that counts in `burn`.

    Raises:
        ValueError: an impossible number.

    Source: heat ÷ (heat in a gallon x efficiency); NFPA 58 Annex B (secondary).
    """
    burn_w, time_s = not_negative(burn, "W", "the burn"), not_negative(time, "s", "the time")
    part = some_share(efficiency, "the efficiency")
    gallons = gal(burn_w * time_s / part / HEAT_J_PER_M3)
    below = f"({BTU_PER_GAL:,.0f} x {shown(part)})" if part < 1 else f"{BTU_PER_GAL:,.0f} BTU/gal"
    pounds = gallons * BTU_PER_GAL / BTU_PER_LB
    return exact(
        "propane needed",
        gallons,
        "gal",
        working=(f"{shown(btu_per_h(burn_w))} BTU/h x {shown(time_s / HOUR_S)} h ÷ {below} = {shown(gallons)} gal",),
        assumptions=("the same burn all the time",),
        source=HEAT_SOURCE,
        also=(figure("pounds", pounds, "lb"),),
    )


def hours_left(
    propane: Quantity[Any],
    burn: Quantity[Any],
    *,
    needed: Quantity[Any] | None = None,
    propane_spread: float = 0.0,
    burn_spread: float = 0.0,
) -> Estimate:
    """Hours an amount of propane lasts at a burn, and whether that is long enough.

    Args:
        propane: what is left [volume or mass].
        burn: fuel burned, averaged over time [power]; the `burn_…` functions give it.
        needed: how long it must last [time].
        propane_spread: half the 10–90 % range of what is left, as a share; 0 when exact.
        burn_spread: the same for the burn.

    Returns:
        Hours, with days beside; None when nothing is burned.

    Raises:
        ValueError: an impossible number.

    Source: heat ÷ burn; NFPA 58 Annex B heat of propane (secondary).
    """
    heat_j, line = heat_of(propane)
    burn_w = not_negative(burn, "W", "the burn")
    if burn_w == 0:
        return withheld("propane lasts", "h", "Nothing is burned, so it does not run out.", working=(line,))
    wide = hypot(spread(propane_spread, "the propane"), spread(burn_spread, "the burn"))
    hours = heat_j / burn_w / HOUR_S
    low, high = hours / (1 + wide), hours * (1 + wide)
    return ranged(
        "propane lasts",
        hours,
        "h",
        low,
        high,
        working=(
            line,
            f"{shown(btu(heat_j))} BTU ÷ {shown(btu_per_h(burn_w))} BTU/h = {shown(hours)} h",
            f"{shown(hours)} h ÷ 24 = {shown(hours / 24, 3)} days",
            *((f"early {shown(hours)} ÷ {shown(1 + wide)}, late {shown(hours)} x {shown(1 + wide)}",) if wide else ()),
        ),
        assumptions=("the same burn all the time", "the cylinder gives its last pound; in deep cold it may not"),
        source=HEAT_SOURCE,
        verdict=f"About {duration(hours)}{between(low, high)}.{_enough(low, high, needed)}",
        also=(figure("days", hours / 24, "days", low / 24, high / 24),),
    )


def _enough(low: float, high: float, needed: Quantity[Any] | None) -> str:
    if needed is None:
        return ""
    wanted = not_negative(needed, "h", "the time it must last")
    if low >= wanted:
        return f" Enough for {duration(wanted)}."
    if high < wanted:
        return f" Not enough for {duration(wanted)}: {duration(wanted - high)} short at best."
    return f" It may not last {duration(wanted)}. Do not count on it."


def run_out(
    propane: Quantity[Any],
    burn: Quantity[Any],
    now: datetime,
    *,
    margin: Quantity[Any] | None = None,
    propane_spread: float = 0.0,
    burn_spread: float = 0.2,
) -> Estimate:
    """When the propane runs out by the clock, and by when to have it filled.

    The fill is due a margin before the early (10 %) end of the run-out.

    Args:
        propane, burn, propane_spread, burn_spread: as in `hours_left`.
        now: the clock, with its zone.
        margin: time in hand for the errand [time]; six hours when left out.

    Returns:
        Hours until it runs out; beside them hours until the fill is due (negative when that is past).

    Raises:
        ValueError: an impossible number, or a clock without its zone.

    Source: as `hours_left`; the margin is common practice, no source.
    """
    lasts = hours_left(propane, burn, propane_spread=propane_spread, burn_spread=burn_spread)
    if lasts.value is None or lasts.low is None:
        return lasts
    margin_h = MARGIN_H if margin is None else not_negative(margin, "h", "the margin")
    due = lasts.low - margin_h
    act = f"Fill by {clock(now, due)}." if due > 0 else "Fill now: the time in hand is used up."
    return replace(
        lasts,
        name="propane runs out",
        working=(
            *lasts.working,
            f"{later(now, 0):%a %H:%M} + {shown(lasts.value)} h = {later(now, lasts.value):%a %H:%M}",
            f"early end {shown(lasts.low)} h - {shown(margin_h)} h in hand = {shown(due)} h: fill by then",
        ),
        assumptions=(*lasts.assumptions, f"{shown(margin_h)} h in hand for the errand (common practice, no source)"),
        verdict=f"About {duration(lasts.value)} of heat left{between(lasts.low, lasts.high)}. {act}",
        also=(*lasts.also, figure("fill by", due, "h")),
    )


def hours_left_from_readings(
    first: Quantity[Any],
    first_at: datetime,
    last: Quantity[Any],
    last_at: datetime,
    *,
    error: Quantity[Any] | None = None,
) -> Estimate:
    """Hours from the last reading until empty, if the propane goes on falling as between two readings.

    Args:
        first, last: what was left [both volume or both mass].
        first_at, last_at: when, with zone.
        error: half the 10–90 % range of one reading, same dimension; exact when left out.

    Returns:
        Hours; None when it did not fall.

    Raises:
        ValueError: times out of order, or an impossible number.

    Source: straight line, arithmetic.
    """
    unit = "lb" if mass_or_volume(last, "the propane") == "kg" else "gal"
    return straight_line(
        "propane lasts",
        not_negative(first, unit, "the first reading"),
        not_negative(last, unit, "the second reading"),
        hours_between(first_at, last_at, "readings"),
        target=0.0,
        unit=unit,
        error=0.0 if error is None else not_negative(error, unit, "the reading's error"),
    )
