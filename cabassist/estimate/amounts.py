"""Amounts of propane and water: their own checks at the door, and the units a working is written in.

May import `quantities` and `types` only.
"""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.quantities import BTU_J, GALLON_M3, LB_KG, measure, shown

if TYPE_CHECKING:
    from pint import Quantity

FOOT_M = 0.3048
HOUR_S = 3600.0
DAY_S = 86_400.0


def gal(m3: float) -> float:
    """US gallons, 231 cubic inches each."""
    return m3 / GALLON_M3


def lb(kg: float) -> float:
    """Pounds."""
    return kg / LB_KG


def btu(joule: float) -> float:
    """BTU."""
    return joule / BTU_J


def btu_per_h(watt: float) -> float:
    """BTU an hour."""
    return watt * HOUR_S / BTU_J


def mass_or_volume(quantity: Quantity[Any], what: str) -> Literal["kg", "m^3"]:
    """Which of the two an amount is measured by.

    Raises:
        DimensionalityError: neither.
    """
    if quantity.check("[mass]"):
        return "kg"
    measure(quantity, "m^3", what)
    return "m^3"


def people(value: float) -> float:
    """A number of people, or an average of it.

    Raises:
        ValueError: it is negative.
    """
    if not isfinite(value) or value < 0:
        raise ValueError(f"There can't be {shown(value)} people. Say how many are aboard.")
    return float(value)


def spread(value: float, what: str) -> float:
    """Half the 10–90 % range as a share of the value; 0 when it is exact.

    Raises:
        ValueError: it is negative, or so wide that the lower end would mean nothing.
    """
    if not (isfinite(value) and 0 <= value < 1):
        raise ValueError(f"I can't use {value:g} as the uncertainty of {what}. 0.2 means 20 percent either way.")
    return float(value)


def percent(part: float) -> str:
    """A share as a working shows it: "40 %"."""
    return f"{shown(100 * part, 3)} %"
