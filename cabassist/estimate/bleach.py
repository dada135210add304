"""Making water safe: bleach in household measures, by the strength on its label, and boiling."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING, Any

from cabassist.estimate.amounts import FOOT_M, gal
from cabassist.estimate.quantities import exact, figure, measure, not_negative, positive, ranged, shown, withheld
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

ML_PER_FL_OZ, ML_PER_CUP, ML_PER_TABLESPOON, ML_PER_TEASPOON = 29.5735, 236.588, 14.7868, 4.92892
MG_PER_ML_AND_PERCENT = 10.0
"""Chlorine in one millilitre of a solution of one percent by volume: 1 g in 100 mL."""
SHOCK_MG_PER_L = 50.0
DOSE_SOURCE = "mL = L x mg/L ÷ (10 x label %), arithmetic (1 % holds 10,000 mg/L); 50 mg/L for tanks (Oregon Health Authority, official)"
PLAIN_BLEACH = (5.0, 9.0)
"""Label strengths of ordinary household bleach, percent. From memory."""
DROPS_PER_GAL = {6.0: 8, 8.25: 6}
DROPS_SOURCE = "EPA and CDC leaflets: 8 drops a gallon of 6 %, 6 of 8.25 % (published, secondary)"
BOIL_SOURCE = "EPA leaflet, 2017 (official)"


def bleach_dose(water: Quantity[Any], label_percent: float, *, target_mg_per_l: float = SHOCK_MG_PER_L) -> Estimate:
    """Household bleach for a tank, in household measures.

    Args:
        water: to be treated [volume].
        label_percent: strength on the bleach's label, percent.
        target_mg_per_l: chlorine wanted, mg/L (ppm); 50 for sanitizing a tank.

    Returns:
        US fluid ounces; beside them millilitres and cups.

    Raises:
        ValueError: an impossible number.

    Source: mL = L x mg/L ÷ (10 x %); 50 mg/L (Oregon Health Authority, official).
    """
    litres = not_negative(water, "m^3", "the water") * 1000
    strength = _strength(label_percent)
    if not 0 < target_mg_per_l <= 1000:
        raise ValueError(f"I can't use {shown(target_mg_per_l)} mg/L as a dose. 50 is the dose for a tank.")
    ml = litres * target_mg_per_l / (MG_PER_ML_AND_PERCENT * strength)
    return ranged(
        "bleach",
        ml / ML_PER_FL_OZ,
        "fl oz",
        ml / ML_PER_FL_OZ * 0.9,
        ml / ML_PER_FL_OZ * 1.1,
        working=(
            f"{shown(gal(litres / 1000))} gal = {shown(litres)} L",
            f"{shown(litres)} L x {shown(target_mg_per_l)} mg/L ÷ (10 x {shown(strength)}) = {shown(ml)} mL",
            f"{shown(ml)} mL ÷ {ML_PER_FL_OZ} = {shown(ml / ML_PER_FL_OZ)} fl oz",
        ),
        assumptions=(
            "plain, unscented household bleach, not old",
            "the label's percent is by weight, so it is 3 to 6 % stronger than this; within 10 %",
        ),
        source=DOSE_SOURCE,
        verdict=f"About {household(ml)}.{_odd_bleach(strength)}",
        also=(figure("millilitres", ml, "mL"), figure("cups", ml / ML_PER_CUP, "cup")),
    )


def _strength(label_percent: float) -> float:
    if not 0.5 <= label_percent <= 20:
        raise ValueError(
            f"Bleach of {shown(label_percent)} percent? Read the strength on its label, such as 6 or 8.25."
        )
    return label_percent


def _odd_bleach(strength: float) -> str:
    low, high = PLAIN_BLEACH
    if low <= strength <= high:
        return ""
    return f" {shown(strength)} % is not ordinary household bleach. Read its label: it may not be for water at all."


FRACTIONS = {0.0: "", 0.25: "¼", 1 / 3: "⅓", 0.5: "½", 2 / 3: "⅔", 0.75: "¾", 1.0: ""}


def household(ml: float) -> str:
    """A volume in kitchen measures, within 5 %: "1⅓ cups", "2½ tablespoons", "¼ teaspoon", "8 drops"."""
    for size, one in ((ML_PER_CUP, "cup"), (ML_PER_TABLESPOON, "tablespoon"), (ML_PER_TEASPOON, "teaspoon")):
        count = ml / size
        whole = floor(count)
        part = min(FRACTIONS, key=lambda f: abs(count - whole - f))
        near = whole + part
        if near >= 0.25 and abs(near - count) <= 0.05 * count:
            many = "s" if near > 1.01 else ""
            number = str(round(near)) if part in (0.0, 1.0) else f"{whole or ''}{FRACTIONS[part]}"
            return f"{number} {one}{many}"
    drops = max(round(ml / 0.05), 1)
    return f"{drops} drop{'' if drops == 1 else 's'}" if ml < 2 else f"{shown(ml, 2)} millilitres"


def bleach_strength(water: Quantity[Any], bleach: Quantity[Any], label_percent: float) -> Estimate:
    """Chlorine that an amount of bleach makes in water, mg/L.

    Args:
        water: the water [volume].
        bleach: what goes in [volume].
        label_percent: strength on the label, percent.

    Raises:
        ValueError: an impossible number.

    Source: mg/L = mL x 10 x % ÷ L.
    """
    litres, ml = positive(water, "m^3", "the water") * 1000, not_negative(bleach, "m^3", "the bleach") * 1e6
    strength = _strength(label_percent)
    made = ml * MG_PER_ML_AND_PERCENT * strength / litres
    return ranged(
        "chlorine",
        made,
        "mg/L",
        made * 0.9,
        made * 1.1,
        working=(f"{shown(ml)} mL x 10 x {shown(strength)} ÷ {shown(litres)} L = {shown(made)} mg/L",),
        assumptions=("nothing in the water uses it up", "the label's percent is by weight: within 10 %"),
        source="mg/L = mL x 10 x % ÷ L, arithmetic",
        verdict=_odd_bleach(strength).strip(),
    )


def drinking_drops(water: Quantity[Any], label_percent: float, *, cloudy_or_very_cold: bool = False) -> Estimate:
    """Drops of bleach that make water fit to drink in an emergency.

    Args:
        water: to be treated [volume].
        label_percent: strength on the label, percent; only the leaflets' two are known here.
        cloudy_or_very_cold: doubles the dose.

    Returns:
        Drops; None for a strength the leaflets do not name.

    Raises:
        ValueError: an impossible number.

    Source: EPA and CDC leaflets (secondary).
    """
    gallons = gal(positive(water, "m^3", "the water"))
    each = DROPS_PER_GAL.get(round(_strength(label_percent), 4))
    if each is None:
        verdict = "The leaflets give drops for 6 and 8.25 percent bleach only. Boil the water instead."
        return withheld("drops of bleach", "drops", verdict, source=DROPS_SOURCE)
    factor = 2 if cloudy_or_very_cold else 1
    drops = each * factor * gallons
    doubled = " x 2 for cloudy or very cold water" if cloudy_or_very_cold else ""
    return exact(
        "drops of bleach",
        drops,
        "drops",
        working=(f"{each} drops x {shown(gallons)} gal{doubled} = {shown(drops)} drops",),
        assumptions=("plain, unscented bleach", "clear water; filter it first"),
        source=DROPS_SOURCE,
        verdict=f"About {shown(drops, 2)} drops. Stir, and wait 30 minutes before drinking.",
        also=(figure("wait", 30.0, "min"),),
    )


def boil_time(elevation: Quantity[Any]) -> Estimate:
    """Minutes of rolling boil that make water safe.

    Args:
        elevation: height above the sea [length].

    Source: EPA leaflet 2017: one minute, three above 5,000 ft (official).
    """
    feet = measure(elevation, "m", "the elevation") / FOOT_M
    minutes = 3.0 if feet > 5000 else 1.0
    return exact(
        "boil",
        minutes,
        "min",
        working=(f"{shown(feet)} ft is {'above' if feet > 5000 else 'not above'} 5,000 ft: {shown(minutes)} min",),
        source=BOIL_SOURCE,
        verdict=f"Let it boil hard for {shown(minutes)} minute{'' if minutes == 1 else 's'}.",
    )
