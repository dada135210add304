"""What a value can be on this coach, and what it means there.

The limits refuse slips of the tongue, the ear and the keyboard; they are wide enough for anything true.
May import `units`, but only when a value is in another unit than the profile's: the registry loads slowly.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple

from cabassist.language.reading_types import Reading, Refusal

if TYPE_CHECKING:
    from cabassist.coach import Coach, Cylinder

PROPANE_LB_PER_GAL = 4.20
"""Liquid propane at 60 °F. NFPA 58, Annex B property table."""
SLACK = 1.02
"""A reading may pass a capacity by this much: profiles and gauges are rounded."""
GROSS_WORDS = ("gross", "weighs", "weigh", "weighing", "weighed", "scale", "scales", "with the bottle", "with bottle", "with the tare", "including tare",
    "tare included", "with tare", "total weight", "bottle and all", "cylinder and all", "all up")  # fmt: skip

OUTSIDE_F = (-80.0, 130.0)
INSIDE_F = (-40.0, 140.0)
BATTERY_V = {12: (9.0, 16.0), 24: (18.0, 32.0)}
SHORE_V = (0.0, 280.0)
BATTERY_A = (-1000.0, 1000.0)
TIRE_PSI = (0.0, 160.0)
AIR_PSI = (0.0, 200.0)
ODOMETER_MI = (0.0, 3_000_000.0)
CO_PPM = (0.0, 10_000.0)
GENERATOR_H = (0.0, 1_000_000.0)

LABELS = {
    "fresh": "Fresh water", "waste": "Waste", "propane": "Propane", "house_battery": "House battery", "diesel": "Diesel", "def": "DEF fluid",
    "outside_temp": "Outside", "inside_temp": "Inside", "shore_voltage": "Shore power", "tire_pressure": "Tire", "air_pressure": "Air pressure",
    "odometer": "Odometer", "passengers": "Passengers", "co_ppm": "Carbon monoxide", "generator_hours": "Generator",
}  # fmt: skip
SHOWN_UNITS = {
    "percent": "%", "gal": "gallons", "L": "litres", "lb": "pounds", "kg": "kg", "in": "inches", "cm": "cm", "ft": "feet", "V": "volts", "A": "amps",
    "psi": "psi", "bar": "bar", "F": "°F", "C": "°C", "mi": "miles", "km": "km", "persons": "people", "ppm": "ppm", "h": "hours",
}  # fmt: skip
ONE_OF = {
    "gal": "gallon",
    "L": "litre",
    "lb": "pound",
    "in": "inch",
    "ft": "foot",
    "V": "volt",
    "A": "amp",
    "mi": "mile",
    "persons": "person",
    "h": "hour",
}
WORD_FRACTIONS = {
    0.25: "a quarter", 0.5: "half", 0.75: "three quarters", 0.3333: "a third", 0.6667: "two thirds", 0.2: "a fifth", 0.4: "two fifths",
    0.6: "three fifths", 0.8: "four fifths", 0.125: "an eighth", 0.375: "three eighths", 0.625: "five eighths", 0.875: "seven eighths",
}  # fmt: skip
SHARES = ("percent", "fraction")
PINT_UNITS = {"F": "degF", "C": "degC"}


class Limits(NamedTuple):
    """The least and greatest value in some unit; `open_ends` leaves both out."""

    low: float
    high: float
    open_ends: bool = False


def converted(value: float, unit: str, to_unit: str) -> float:
    """A value in another unit of the same kind."""
    if unit == to_unit:
        return value
    from cabassist.units import convert

    return convert(value, PINT_UNITS.get(unit, unit), PINT_UNITS.get(to_unit, to_unit))


def is_tank(what: str, coach: Coach) -> bool:
    """Whether the profile has a water tank of that name."""
    return any(tank.name == what for tank in coach.tanks)


def label(what: str, which: str | None = None) -> str:
    """How a driver is told what a reading is about: "Outside cylinder", "Left front tire"."""
    if what == "propane":
        if which == "both":
            return "Both cylinders"
        return f"{which.capitalize()} cylinder" if which else "Propane"
    if what == "tire_pressure":
        return f"{which.capitalize()} tire" if which else "Tires"
    if what == "air_pressure" and which:
        return f"{which.capitalize()} air"
    return LABELS.get(what, what.replace("_", " ").capitalize())


def shown(value: float, unit: str | None) -> str:
    """A value with its unit, short: "40 %", "two thirds", "-12 °F"."""
    if unit in (None, "fraction"):
        if value in (0, 1):
            return "full" if value else "empty"
        words = WORD_FRACTIONS.get(round(value, 4))
        return words or f"{value * 100:.0f} %"
    number = f"{value:,.0f}" if float(value).is_integer() else f"{value:,.4g}" if abs(value) < 1000 else f"{value:,.1f}"
    name = ONE_OF[unit] if value == 1 and unit in ONE_OF else SHOWN_UNITS.get(unit, unit)
    return f"{number} {name}"


def cylinder_of(which: str | None, coach: Coach) -> Cylinder | None:
    """The cylinder a driver means by "outside", "street-side" or "left", else the first that feeds."""
    cylinders = coach.propane.cylinders
    if which in ("left", "right"):  # the driver sits on the street's side
        which = "street-side" if (which == "left") == (coach.drive == "left-hand") else "curb-side"
    for cylinder in cylinders:
        if which in (cylinder.role, cylinder.side_name):
            return cylinder
    return next((c for c in cylinders if c.role != "spare"), cylinders[0] if cylinders else None)


def is_gross(reading: Reading) -> bool:
    """Whether a cylinder's weight was said with the cylinder itself."""
    return reading.unit in ("lb", "kg") and any(words in reading.said.lower() for words in GROSS_WORDS)


def capacity(what: str, which: str | None, unit: str, coach: Coach, gross: bool = False) -> float | None:
    """The greatest amount in `unit` there is room for, or None where the profile does not know."""
    if unit in ("percent", "fraction"):
        return 100.0 if unit == "percent" else 1.0
    if what == "propane":
        cylinder = cylinder_of(which, coach)
        if cylinder is None:
            return None
        pounds = cylinder.nominal_lb + (cylinder.tare_lb if gross else 0.0)
        if unit in ("gal", "L"):
            return converted(cylinder.nominal_lb / PROPANE_LB_PER_GAL, "gal", unit)
        return converted(pounds, "lb", unit)
    if what == "diesel":
        return converted(coach.diesel.capacity_gal, "gal", unit)
    if what == "def":
        return converted(coach.diesel.def_capacity_gal, "gal", unit) if coach.diesel.def_capacity_gal else None
    if is_tank(what, coach):
        tank = coach.tank(what)
        return (
            converted(tank.depth_in, "in", unit)
            if unit in ("in", "cm", "ft")
            else converted(tank.capacity_gal, "gal", unit)
        )
    return None


def limits(reading: Reading, coach: Coach) -> Limits | None:
    """The least and greatest value this reading can have, in its own unit; None when anything goes."""
    what, unit = reading.what, reading.unit or ""
    if what in ("outside_temp", "inside_temp"):
        low, high = OUTSIDE_F if what == "outside_temp" else INSIDE_F
        return Limits(low, high) if unit == "F" else Limits((low - 32) / 1.8, (high - 32) / 1.8)
    if what == "house_battery" and unit == "V":
        return Limits(*BATTERY_V[coach.house_battery.volts])
    if what == "house_battery" and unit == "A":
        return Limits(*BATTERY_A)
    if what == "shore_voltage":
        return Limits(*SHORE_V)
    if what == "tire_pressure":
        return Limits(
            converted(TIRE_PSI[0], "psi", unit) if unit != "psi" else 0.0, converted(TIRE_PSI[1], "psi", unit), True
        )
    if what == "air_pressure":
        return Limits(0.0, converted(AIR_PSI[1], "psi", unit))
    if what == "odometer":
        return Limits(0.0, converted(ODOMETER_MI[1], "mi", unit))
    if what == "passengers":
        return Limits(0.0, float(coach.people.max_passengers))
    if what == "co_ppm":
        return Limits(*CO_PPM)
    if what == "generator_hours":
        return Limits(*GENERATOR_H)
    if unit in ("percent", "fraction"):
        return Limits(0.0, 100.0 if unit == "percent" else 1.0)
    most = capacity(what, reading.which, unit, coach, is_gross(reading))
    return Limits(0.0, most * SLACK) if most is not None else None


def refusal(reading: Reading, coach: Coach) -> Refusal | None:
    """Why a reading cannot be true, or None when it can."""
    value, unit = reading.value, reading.unit
    if value is None:
        return None
    if not math.isfinite(value):
        return _refused(
            reading,
            "out_of_range",
            f"{label(reading.what, reading.which)}: no part of a tank has a zero below its line.",
            (),
        )
    bounds = limits(reading, coach)
    if reading.what == "passengers" and value != int(value):
        around = tuple(shown(v, "persons") for v in (math.floor(value), math.ceil(value)))
        return _refused(
            reading, "not_whole", f"{shown(value, unit)} aboard can't be. Say a whole number of people.", around
        )
    if bounds is None:
        return None
    inside = bounds.low < value < bounds.high if bounds.open_ends else bounds.low <= value <= bounds.high
    if inside:
        return None
    reason = "negative" if value < 0 <= bounds.low else "out_of_range"
    if reading.what == "propane" and unit in ("lb", "kg") and value > 0 and not is_gross(reading):
        most = capacity("propane", reading.which, unit, coach, gross=True)
        if most and value <= most * SLACK:
            message = f"{label(reading.what, reading.which)}: {shown(value, unit)} is more than it holds. With the cylinder itself? Then say {shown(value, unit)} gross."
            return Refusal(reading.what, reading.which, "out_of_range", message, (f"{shown(value, unit)} gross",))
    whole = reading.what in ("passengers", "co_ppm") or unit in SHARES
    slips = tuple(shown(slip, unit) for slip in likely_slips(value, bounds, whole=whole))
    return _refused(
        reading,
        reason,
        f"{label(reading.what, reading.which)}: {shown(value, unit)} can't be; {_room(reading, bounds, coach)}.",
        slips,
    )


def _room(reading: Reading, bounds: Limits, coach: Coach) -> str:
    unit = reading.unit or ""
    if unit in ("percent", "fraction"):
        return "it lies between empty and full"
    most = capacity(reading.what, reading.which, unit, coach, is_gross(reading))
    if most is not None:
        return f"full is {shown(round(most, 1) if most < 100 else round(most), unit)}"
    if reading.what == "passengers":
        return f"the coach carries at most {coach.people.max_passengers}"
    low, high = (round(bound, 1) if abs(bound) < 100 else round(bound) for bound in bounds[:2])
    return (
        f"it lies between {shown(low, None if unit == 'fraction' else unit).rsplit(' ', 1)[0]} and {shown(high, unit)}"
    )


def _refused(reading: Reading, reason: str, message: str, choices: tuple[str, ...]) -> Refusal:
    ask = f" Did you mean {' or '.join(choices)}?" if choices else " Say it again?"
    return Refusal(reading.what, reading.which, reason, message + ask, choices)


def wrong_unit(what: str, which: str | None, unit: str, allowed: Iterable[str]) -> Refusal:
    """A refusal of a value in a unit that does not measure this."""
    names = ["a part of full" if u == "fraction" else "percent" if u == "percent" else SHOWN_UNITS[u] for u in allowed]
    listed = f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else names[0]
    return Refusal(
        what, which, "unit", f"{label(what, which)} isn't told in {SHOWN_UNITS.get(unit, unit)}. Say it in {listed}."
    )


def likely_slips(value: float, bounds: Limits, whole: bool = False) -> tuple[float, ...]:
    """Up to two values inside the bounds that are one slip away: a sign, a point or a figure too many."""
    size = abs(value)
    if value < 0 <= bounds.low:
        return (size,) if bounds.low < size <= bounds.high else ()
    sign = -1.0 if value < 0 else 1.0
    figures = f"{size:.0f}"
    # A point too few, or a figure heard or typed once too often: 1150 is 115 or 150.
    candidates = [size / 10]
    candidates += [float(figures[:k] + figures[k + 1 :]) for k in range(len(figures)) if len(figures) > 2]
    kept: list[float] = []
    for candidate in (sign * size for size in candidates if size >= 1):
        sound = round(candidate, 0 if whole else 1) == candidate
        if sound and bounds.low < candidate <= bounds.high and candidate not in kept:
            kept.append(candidate)
    return tuple(kept[:2])


def fraction_of_full(reading: Reading, coach: Coach) -> float | None:
    """How full a tank, cylinder or fuel tank is, 0 to 1; None for other readings and for a mere needle position.

    A depth without direction counts from the bottom. Weights of a cylinder said with the cylinder lose its tare.
    """
    value, unit, what = reading.value, reading.unit, reading.what
    if value is None or unit is None or not (what in ("propane", "diesel", "def") or is_tank(what, coach)):
        return None
    if unit in ("fraction", "percent"):
        share = value if unit == "fraction" else value / 100
    elif unit in ("in", "cm", "ft"):
        tank = coach.tank(what)
        depth = converted(value, unit, "in") / tank.depth_in
        share = _filled(1 - depth if reading.counted_from == "top" else depth, tank.shape)
    else:
        full = capacity(what, reading.which, unit, coach)
        if not full:
            return None
        cylinder = cylinder_of(reading.which, coach) if is_gross(reading) else None
        share = (value - (converted(cylinder.tare_lb, "lb", unit) if cylinder else 0.0)) / full
    return min(1.0, max(0.0, share))


def _filled(height: float, shape: str) -> float:
    """The share of a tank's volume below a share of its height."""
    height = min(1.0, max(0.0, height))
    if shape != "horizontal-cylinder":
        return height
    # Circular segment of a circle of diameter 1.
    half_angle = math.acos(1 - 2 * height)
    return (half_angle - math.sin(half_angle) * math.cos(half_angle)) / math.pi


def echo(reading: Reading, coach: Coach) -> str:
    """One short line that says a reading back with its meaning on this coach: "Waste 40 %, about 32 gallons."."""
    name = label(reading.what, reading.which)
    if reading.value is None:
        return f"{name}: {'low, close to empty' if reading.flag == 'low' else 'high'}."
    if reading.what == "passengers":
        return f"{shown(reading.value, 'persons').capitalize()} aboard."
    about = "about " if reading.approx else ""
    direction = {"top": " from the top", "bottom": " from the bottom"}.get(reading.counted_from or "", "")
    return f"{name} {about}{shown(reading.value, reading.unit)}{direction}{_meaning(reading, coach)}."


def _meaning(reading: Reading, coach: Coach) -> str:
    share = fraction_of_full(reading, coach)
    if share is None:
        if reading.what == "shore_voltage" and reading.value is not None and reading.value < 0.9 * coach.shore.volts:
            return ", which is low"
        return ""
    percent = f"{share * 100:.0f} %"
    metric = coach.units == "metric"
    if reading.what == "propane":
        full = capacity("propane", reading.which, "kg" if metric else "lb", coach)
        amount = shown(round((full or 0) * share), "kg" if metric else "lb")
        return f", about {percent}" if reading.unit in ("lb", "kg") else f", about {amount}"
    unit = "L" if metric else "gal"
    full = capacity(reading.what, reading.which, unit, coach)
    if full is None:
        return ""
    if reading.unit in ("gal", "L"):
        return f", about {percent}"
    if share in (0.0, 1.0) and reading.unit in ("fraction", "percent"):
        return f", {shown(round(full), unit)}" if share else ""
    return f", about {shown(round(full * share), unit)}"
