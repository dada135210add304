"""The hose: what flows through it, and what pressure it eats."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cabassist.estimate.amounts import FOOT_M, gal, percent
from cabassist.estimate.quantities import exact, figure, not_negative, positive, ranged, shown
from cabassist.estimate.tanks import INCH_M
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

HAZEN_WILLIAMS_SOURCE = "Hazen-Williams formula in US units (Engineering ToolBox, published, secondary)"
PSI_PER_FT = 0.4335
SMOOTH_HOSE = 140.0
FITTINGS_SHARE = 0.4
"""Low end of a real flow as a share of the friction-only one: fittings and house pipe. Common practice, no source."""
FLOW_SPREAD = 0.15
"""Half the 10–90 % range of a hose flow once measured: the house draws water too. Common practice, no source."""


def flow_rate(water: Quantity[Any], time: Quantity[Any]) -> Estimate:
    """Flow of a hose from the time it takes to fill a bucket.

    Args:
        water: the bucket's volume [volume].
        time: to fill it [time].

    Raises:
        ValueError: not above zero.

    Source: volume ÷ time, arithmetic.
    """
    gallons, seconds = gal(positive(water, "m^3", "the bucket")), positive(time, "s", "the time")
    flow = gallons / seconds * 60
    return ranged(
        "flow",
        flow,
        "gal/min",
        flow * (1 - FLOW_SPREAD),
        flow * (1 + FLOW_SPREAD),
        working=(f"{shown(gallons)} gal ÷ {shown(seconds)} s x 60 = {shown(flow)} gal a minute",),
        assumptions=(f"{percent(FLOW_SPREAD)} either way as others draw water (common practice, no source)",),
        source="arithmetic",
    )


def hose_loss(
    flow: Quantity[Any], length: Quantity[Any], diameter: Quantity[Any], *, smoothness: float = SMOOTH_HOSE
) -> Estimate:
    """Pressure a flow loses to friction in a hose or pipe.

    Args:
        flow: through it [volume per time].
        length: of it [length].
        diameter: inside [length].
        smoothness: Hazen-Williams C, 140 for a smooth hose.

    Returns:
        psi; beside it feet of water, feet per 100 ft, and the speed.

    Raises:
        ValueError: an impossible number.

    Source: Hazen-Williams, h per 100 ft = 0.2083·(100/C)^1.852·q^1.852/d^4.8655 (Engineering ToolBox, secondary).
    """
    gpm = gal(not_negative(flow, "m^3/s", "the flow") * 60)
    feet, inches = positive(length, "m", "the hose's length") / FOOT_M, positive(diameter, "m", "the bore") / INCH_M
    per_100_ft = _friction(inches, smoothness) * gpm**1.852
    head_ft = per_100_ft * feet / 100
    speed = 0.4087 * gpm / inches**2
    return exact(
        "pressure lost",
        head_ft * PSI_PER_FT,
        "psi",
        working=(
            f"0.2083 x (100 ÷ {shown(smoothness)})^1.852 x {shown(gpm)}^1.852 ÷ {shown(inches)}^4.8655"
            f" = {shown(per_100_ft)} ft for 100 ft",
            f"x {shown(feet)} ft ÷ 100 = {shown(head_ft)} ft of water x {PSI_PER_FT} = {shown(head_ft * PSI_PER_FT)} psi",
        ),
        assumptions=("cold water in a full straight hose; no fittings",),
        source=HAZEN_WILLIAMS_SOURCE,
        also=(
            figure("head lost", head_ft, "ft"),
            figure("head lost in 100 ft", per_100_ft, "ft"),
            figure("speed", speed, "ft/s"),
        ),
    )


def _friction(inches: float, smoothness: float) -> float:
    """Feet of head lost in 100 ft at 1 gal a minute."""
    if smoothness <= 0:
        raise ValueError("The smoothness of the hose must be more than zero.")
    return float(0.2083 * (100 / smoothness) ** 1.852 / inches**4.8655)


def hose_flow(
    pressure: Quantity[Any],
    length: Quantity[Any],
    diameter: Quantity[Any],
    *,
    lift: Quantity[Any] | None = None,
    smoothness: float = SMOOTH_HOSE,
) -> Estimate:
    """Most that can flow when the whole pressure is spent on friction in the hose: an upper bound.

    Args:
        pressure: at the tap while it runs [pressure].
        length, diameter, smoothness: as in `hose_loss`.
        lift: height of the tank's inlet above the tap [length].

    Returns:
        Gallons a minute at the upper end of the range; a real tap gives less.

    Raises:
        ValueError: an impossible number.

    Source: Hazen-Williams turned round; 0.4335 psi for each foot of lift.
    """
    psi = positive(pressure, "psi", "the pressure")
    feet, inches = positive(length, "m", "the hose's length") / FOOT_M, positive(diameter, "m", "the bore") / INCH_M
    lift_ft = 0.0 if lift is None else not_negative(lift, "m", "the lift") / FOOT_M
    spent = psi - lift_ft * PSI_PER_FT
    if spent <= 0:
        verdict = f"{shown(psi)} psi cannot lift water {shown(lift_ft)} feet. Nothing will flow."
        return exact("flow", 0.0, "gal/min", source=HAZEN_WILLIAMS_SOURCE, verdict=verdict)
    per_100_ft = spent / PSI_PER_FT / feet * 100
    gpm = (per_100_ft / _friction(inches, smoothness)) ** (1 / 1.852)
    return ranged(
        "flow",
        gpm,
        "gal/min",
        gpm * FITTINGS_SHARE,
        gpm,
        working=(
            f"{shown(psi)} psi - {shown(lift_ft)} ft x {PSI_PER_FT} = {shown(spent)} psi for friction",
            f"{shown(spent)} ÷ {PSI_PER_FT} ÷ {shown(feet)} ft x 100 = {shown(per_100_ft)} ft for 100 ft",
            f"({shown(per_100_ft)} ÷ [0.2083 x (100 ÷ {shown(smoothness)})^1.852] x {shown(inches)}^4.8655)^(1 ÷ 1.852)"
            f" = {shown(gpm)} gal a minute",
        ),
        assumptions=("no fittings, no house pipe: the real flow is less (down to 40 %, common practice, no source)",),
        source=HAZEN_WILLIAMS_SOURCE,
        verdict="At most. Time a bucket to know the real flow.",
    )
