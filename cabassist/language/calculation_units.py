"""Units as drivers name them, and plain conversions between them, without pint."""

from __future__ import annotations

import re
from functools import cache

UNIT_NAMES: dict[str, str] = {
    "gal": "gallon gallons gal gals galons galon",
    "igal": "imperial_gallon imperial_gallons uk_gallon uk_gallons",
    "L": "liter liters litre litres l ltr ltrs",
    "mL": "ml milliliter milliliters millilitre millilitres cc",
    "floz": "ounce ounces oz fluid_ounce fluid_ounces fl_oz",
    "cup": "cup cups cupful cupfuls",
    "tbsp": "tablespoon tablespoons tbsp",
    "tsp": "teaspoon teaspoons tsp",
    "qt": "quart quarts qt",
    "pt": "pint pints",
    "drop": "drop drops",
    "percent": "percent",
    "A": "amp amps ampere amperes",
    "Ah": "amp_hour amp_hours ah amphour amphours amp_hr amp_hrs ampere_hours",
    "V": "volt volts",
    "W": "watt watts wats",
    "kW": "kilowatt kilowatts kw",
    "Wh": "watt_hour watt_hours wh",
    "kWh": "kilowatt_hour kilowatt_hours kwh",
    "BTU": "btu btus b_t_u",
    "BTU/h": "btuh btu/h",
    "ft": "foot feet ft footer footers",
    "in": "inch inches inchs",
    "cm": "centimeter centimeters centimetre centimetres cm",
    "mm": "millimeter millimeters millimetre millimetres mm mil",
    "m": "meter meters metre metres",
    "yd": "yard yards",
    "mi": "mile miles mi",
    "km": "kilometer kilometers kilometre kilometres km kms klicks",
    "mph": "mph",
    "km/h": "kph kmh km_/_h",
    "kn": "knots knot kts",
    "m/s": "m_/_s mps meters_a_second metres_a_second meters_per_second metres_per_second meter_a_second metre_a_second",
    "psi": "psi pounds_per_square_inch pounds_of_air pounds_of_pressure psig pounds_pressure",
    "kPa": "kpa kilopascal kilopascals",
    "bar": "bar bars",
    "lb": "pound pounds lb lbs pounder pounders",
    "kg": "kilo kilos kilogram kilograms kg kgs",
    "g": "gram grams gramme grammes",
    "ton": "ton tons",
    "h": "hour hours hr hrs hour_s",
    "min": "minute minutes min mins",
    "s": "second seconds sec secs",
    "day": "day days",
    "night": "night nights",
    "week": "week weeks",
    "month": "month months",
    "year": "year years yrs",
    "awg": "gauge gage awg guage",
    "ppm": "ppm parts_per_million",
    "mg/L": "milligrams_per_liter milligrams_a_liter mg/l milligrams_per_litre milligrams_a_litre",
    "mg/m3": "mg/m³ mg/m_3 mg/cubic_meter mg/cubic_metre mg_per_m³ mg_per_m_3 mg_a_cubic_meter mg_per_cubic_meter mg_per_cubic_metre milligrams_per_cubic_meter"
    " milligrams_per_cubic_metre milligrams_a_cubic_meter milligrams_a_cubic_metre milligram_per_cubic_meter milligram_per_cubic_metre",
    "cfm": "cfm",
    "ohm": "ohm ohms",
    "lb-ft": "foot_pounds foot_pound ft_lb ft_lbs pound_feet lb_ft foot_lbs",
    "N·m": "newton_meters newton_metres newton_meter newton_metre nm n_·_m n_m n_*_m n_._m",
    "mpg": "mpg",
    "gpm": "gpm",
    "gph": "gph",
    "deg": "degree degrees deg degs °",
    "furnace": "furnace furnaces",
    "cylinder": "cylinder cylinders bottle bottles",
    "shower": "shower showers",
    "flush": "flush flushes",
    "heater": "heater heaters",
    "driver": "driver drivers",
    "cord": "cord cords",
    "bag": "bag bags",
}

COUNTS = frozenset({"deg", "furnace", "cylinder", "shower", "flush", "heater", "driver", "cord", "bag"})
UNIT_WORDS = {
    **{name.replace("_", " "): unit for unit, names in UNIT_NAMES.items() for name in names.split() if len(name) > 2 and unit not in COUNTS},
    "celsius": "C", "celcius": "C", "centigrade": "C", "fahrenheit": "F", "c": "C", "f": "F", "lb": "lb", "kg": "kg", "ml": "mL", "gal": "gal",
    "galons": "gal", "inchs": "in", "ours": "h", "cm": "cm", "ft": "ft", "km": "km", "wats": "W", "kilometers an hour": "km/h", "kilometres an hour": "km/h",
    "miles an hour": "mph", "miles per hour": "mph", "miles per gallon": "mpg", "psi": "psi", "kpa": "kPa", "steps": "pace", "paces": "pace", "ah": "Ah",
    "btu an hour": "BTU/h", "btus an hour": "BTU/h", "btu per hour": "BTU/h", "gallons a minute": "gpm", "gallons per minute": "gpm", "gallons an hour": "gal/h",
    "gallons a day": "gal/day", "gallons per inch": "gal/in", "gallons an inch": "gal/in", "wattage": "W", "tonnes": "ton", "months": "month", "mm": "mm",
}  # fmt: skip
del UNIT_WORDS["drop"]

LETTERS = {"v": "V", "w": "W", "f": "F", "c": "C", "g": "gal"}
"""Units of one letter, set to their number."""
TEMPERATURE_SCALES = {"f": "F", "fahrenheit": "F", "c": "C", "celsius": "C", "centigrade": "C", "celcius": "C"}


@cache
def unit_phrases() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    """Every name of a unit as words, by its first word, longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for unit, names in UNIT_NAMES.items():
        for name in names.split():
            phrase = tuple(part for part in re.split(r"_|(/)", name) if part)
            found.setdefault(phrase[0], []).append((phrase, unit))
    for listed in found.values():
        listed.sort(key=lambda pair: -len(pair[0]))
    return found


FACTORS: dict[str, tuple[str, float]] = {
    "gal": ("volume", 3.785411784), "L": ("volume", 1.0), "mL": ("volume", 0.001), "qt": ("volume", 0.946352946), "pt": ("volume", 0.473176473),
    "floz": ("volume", 0.0295735295625), "fl oz": ("volume", 0.0295735295625), "cup": ("volume", 0.2365882365), "tbsp": ("volume", 0.01478676478125),
    "tsp": ("volume", 0.00492892159375), "drop": ("volume", 0.00005), "igal": ("volume", 4.54609),
    "ft": ("length", 0.3048), "in": ("length", 0.0254), "cm": ("length", 0.01), "mm": ("length", 0.001), "m": ("length", 1.0), "yd": ("length", 0.9144),
    "mi": ("length", 1609.344), "km": ("length", 1000.0), "32nds": ("length", 0.0254 / 32), "1/32 in": ("length", 0.0254 / 32), "pace": ("length", 0.762),
    "lb": ("mass", 0.45359237), "kg": ("mass", 1.0), "g": ("mass", 0.001), "ton": ("mass", 907.18474), "psi": ("pressure", 6.894757293168), "kPa": ("pressure", 1.0), "bar": ("pressure", 100.0),
    "h": ("time", 3600.0), "min": ("time", 60.0), "s": ("time", 1.0), "day": ("time", 86400.0), "days": ("time", 86400.0), "night": ("time", 86400.0), "week": ("time", 604800.0),
    "W": ("power", 1.0), "kW": ("power", 1000.0), "BTU/h": ("power", 0.29307107), "BTU": ("energy", 1055.056), "Wh": ("energy", 3600.0), "kWh": ("energy", 3.6e6),
    "mph": ("speed", 0.44704), "km/h": ("speed", 1 / 3.6), "kn": ("speed", 0.514444), "m/s": ("speed", 1.0), "lb-ft": ("torque", 1.3558179483314), "N·m": ("torque", 1.0),
    "gpm": ("flow", 3.785411784), "L/min": ("flow", 1.0), "gal/h": ("flow", 3.785411784 / 60), "gph": ("flow", 3.785411784 / 60), "month": ("time", 2629746.0), "months": ("time", 2629746.0), "years": ("time", 31556952.0), "year": ("time", 31556952.0),
}  # fmt: skip
"""Each unit's kind and size, for plain conversions; temperatures are apart. NIST Handbook 44 App. C."""


_TIMES = ("s", "min", "h", "day", "night", "week")
HOURS = {unit: FACTORS[unit][1] / FACTORS["h"][1] for unit in _TIMES}
"""Hours in one of each time that a supply is told in."""
PER_H = {unit: FACTORS["h"][1] / FACTORS[unit][1] for unit in _TIMES}
"""What a rate told in each of them is an hour."""


def same_kind(a: str, b: str) -> bool:
    """Whether two units measure the same."""
    if {a, b} <= {"F", "C"}:
        return True
    return a in FACTORS and b in FACTORS and FACTORS[a][0] == FACTORS[b][0]


def converted(value: float, unit: str, wanted: str) -> float:
    """A value in another unit of the same kind.

    Raises:
        KeyError: a unit nobody knows.
    """
    if unit == wanted:
        return value
    if {unit, wanted} == {"F", "C"}:
        return (value - 32) / 1.8 if wanted == "C" else value * 1.8 + 32
    return value * FACTORS[unit][1] / FACTORS[wanted][1]
