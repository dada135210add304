"""The one pint registry, and quantities as drivers write and read them.

Loading pint takes longer than answering a question, so the registry is made on first use.
May import nothing of ours.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

UnitsPreference = Literal["us", "metric"]

SPOKEN_UNITS: dict[str, tuple[str, str]] = {
    "gal": ("gallon", "gallons"),
    "L": ("litre", "litres"),
    "in": ("inch", "inches"),
    "cm": ("centimetre", "centimetres"),
    "ft": ("foot", "feet"),
    "m": ("metre", "metres"),
    "lb": ("pound", "pounds"),
    "kg": ("kilogram", "kilograms"),
    "W": ("watt", "watts"),
    "V": ("volt", "volts"),
    "A": ("amp", "amps"),
    "Ah": ("amp hour", "amp hours"),
    "min": ("minute", "minutes"),
    "h": ("hour", "hours"),
    "psi": ("psi", "psi"),
    "kPa": ("kilopascal", "kilopascals"),
    "ft_lb": ("foot-pound", "foot-pounds"),
    "N_m": ("newton metre", "newton metres"),
    "Btu/h": ("BTU an hour", "BTU an hour"),
    "mi": ("mile", "miles"),
    "km": ("kilometre", "kilometres"),
    "mph": ("mile an hour", "miles an hour"),
    "degF": ("degree Fahrenheit", "degrees Fahrenheit"),
    "degC": ("degree Celsius", "degrees Celsius"),
    "percent": ("percent", "percent"),
    "persons": ("person", "people"),
}
"""How each unit is said, for one and for many."""

METRIC_TWIN: dict[str, str] = {
    "gal": "L",
    "in": "cm",
    "ft": "m",
    "lb": "kg",
    "psi": "kPa",
    "ft_lb": "N_m",
    "mi": "km",
    "degF": "degC",
}
"""What a metric reader is shown in place of each US unit."""

PINT_NAMES: dict[str, str] = {
    "ft_lb": "foot * pound_force",
    "N_m": "newton * meter",
    "persons": "dimensionless",
    "fraction": "dimensionless",
}

_NUMBER = r"[+-]?(?=\.?\d)(?:\d{1,3}(?:,\d{3})+|\d*)(?:\.\d+)?"
_UNIT = r"[A-Za-z°%_]+(?:(?:\^|\*\*)[1-4])?"
_WRITTEN = re.compile(rf"\s*({_NUMBER})\s*({_UNIT}(?:\s?[*/ ]\s?{_UNIT}){{0,3}})?\s*", re.ASCII)
"""One number and one unit; a comma only stands between thousands. Nothing else reaches pint, which would work it out."""


@cache
def registry() -> UnitRegistry[Any]:
    """The application's only unit registry (US liquid gallons, offset temperatures)."""
    import pint

    return pint.UnitRegistry(cache_folder=":auto:")


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """`value` in another unit of the same kind.

    Raises:
        pint.DimensionalityError: the two units do not measure the same thing.
    """
    if from_unit == to_unit:
        return value
    ureg = registry()
    quantity = ureg.Quantity(value, PINT_NAMES.get(from_unit, from_unit))
    return float(quantity.to(PINT_NAMES.get(to_unit, to_unit)).magnitude)


def parse_to(text: str, unit: str) -> float:
    """A written quantity such as "450 L", as a float in `unit`.

    Raises:
        ValueError: it cannot be read, or measures something else.
    """
    found = _WRITTEN.fullmatch(text)
    complaint = f"'{text}' cannot be read as a quantity in {unit}"
    if found is None:
        raise ValueError(complaint)
    value, written = float(found.group(1).replace(",", "")), found.group(2)
    if written is None:
        return value
    if unit in ("degF", "degC"):  # to pint a bare F is a farad and a bare C a coulomb
        written = {"F": "degF", "C": "degC"}.get(written.lstrip("°").upper(), written)
    import pint

    try:
        ureg = registry()
        # only names of units are handed on, so that no text is ever worked out as an expression
        quantity = ureg.Quantity(value, ureg.parse_units(PINT_NAMES.get(written, written.replace("%", "percent"))))
        return float(quantity.to(PINT_NAMES.get(unit, unit)).magnitude)
    except (pint.PintError, TypeError, AttributeError, ValueError, ArithmeticError) as error:
        raise ValueError(complaint) from error


def measured_value(given: Any, about: Any) -> Any:
    """What was given for a field of a profile or trip file: a written quantity as a number in the field's unit.

    Args:
        given: as it stands in the file; anything but text passes unchanged.
        about: the field's `json_schema_extra`; "unit" and "measured" say that it is measured, and in what.

    Raises:
        ValueError: the text cannot be read, or measures something else.
    """
    if isinstance(given, str) and isinstance(about, dict) and about.get("measured"):
        return parse_to(given, str(about["unit"]))
    return given


def spoken(value: float, unit: str, preference: UnitsPreference = "us") -> str:
    """A quantity in whole words for screen and ear: "120 gallons", "1 inch", "454 litres"."""
    if preference == "metric" and unit in METRIC_TWIN:
        twin = METRIC_TWIN[unit]
        value, unit = convert(value, unit, twin), twin
        value = round(value) if abs(value) >= 10 else round(value, 1)
    one, many = SPOKEN_UNITS[unit]
    shown = f"{value:,.0f}" if float(value).is_integer() else f"{value:,.6g}"
    return f"{shown} {one if value == 1 else many}"
