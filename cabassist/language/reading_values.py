"""From an amount and a name to a reading: the unit that was meant, how exact it is, or why it cannot be."""

from __future__ import annotations

import math
from dataclasses import replace

from cabassist.language.numbers import as_decimal
from cabassist.language.plausibility import BATTERY_V, is_tank, refusal, wrong_unit
from cabassist.language.reading_names import SHARES, TEMPERATURES, Name, Setting, allowed_units
from cabassist.language.reading_parts import TEMPERATURE_UNITS, Amount, Subject
from cabassist.language.reading_types import Reading, Refusal

NEVER = 100.0
"""How ill an amount fits a subject that cannot have it."""
SPREAD = {
    "percent": 7.0,
    "fraction": 0.07,
    "F": 4.0,
    "C": 2.0,
    "V": 0.2,
    "psi": 4.0,
    "in": 1.0,
    "cm": 2.5,
    "persons": 2.0,
    "ppm": 5.0,
}
"""Least half-width of "about" in a unit."""
FIXED_SPREAD = (*SHARES, "F", "C", "V")
"""Units in which "about" does not grow with the value; in others it is at least a tenth."""
NUDGE = 0.02
"""How far "just under a quarter" lies from a quarter."""
NEARLY_FULL, NEARLY_EMPTY = 0.95, 0.05
FREEZING_F = 32.0
NEEDLES = frozenset({"propane", "diesel", "def", "house_battery", "air_pressure", "co_ppm", "place", "tank", "pair"})
"""What has a needle or an indicator."""
FILLS = frozenset({"propane", "diesel", "def", "house_battery", "place", "tank", "other", "pair"})
"""What can be full or empty, water tanks apart."""
WEIGHED = frozenset({"weighs", "weigh", "weighing", "weighed", "weight", "scale", "scales", "gross", "tare", "net"})
"""Words that make a bare number of a cylinder its weight."""
MAY_BE_ONE = frozenset({*TEMPERATURES, "passengers", "co_ppm", "generator_hours"})


def misfit(setting: Setting, subject: Subject, amount: Amount) -> float:
    """How ill an amount fits a subject: 0 well, `NEVER` not at all."""
    what, coach = subject.what, setting.coach
    if what == "elsewhere":
        return 0.5
    if amount.kind in ("same", "relative"):
        return NEVER if what == "temperature" else 0.0
    if amount.kind == "red":
        return 0.0 if what in ("propane", "place", "air_pressure") else NEVER
    if amount.kind == "pegged":
        return 0.0 if is_tank(what, coach) else NEVER
    if amount.flag:
        return 0.0 if what in NEEDLES or is_tank(what, coach) else NEVER
    if amount.level:
        return (0.5 if subject.loose else 0.0) if what in FILLS or is_tank(what, coach) else NEVER
    if not amount.unit and amount.kind == "integer" and amount.number == 1 and not amount.of and what not in MAY_BE_ONE:
        # "one" by itself is a pronoun far more often than one percent.
        return NEVER
    if what in _GENERAL:
        return _misfit_of_general(subject, amount)
    return _misfit_of_named(setting, subject, amount)


_GENERAL = frozenset({"place", "temperature", "tank", "other", "pair", "side"})


def _misfit_of_general(subject: Subject, amount: Amount) -> float:
    what, unit, fraction = subject.what, amount.unit, amount.kind == "fraction" and not amount.unit
    bare, temperature = not unit and not fraction, unit in TEMPERATURE_UNITS
    fits = {
        "place": fraction
        or temperature
        or unit in ("percent", "lb", "kg", "gal", "L")
        or (bare and subject.place != "spare")
        or (subject.place == "spare" and unit in ("psi", "bar")),
        "temperature": temperature or bare,
        "tank": not unit or unit in ("percent", "gal", "L", "in", "cm", "ft"),
        "side": not fraction and unit in ("psi", "bar", "lb", ""),
    }.get(what, True)
    cost = {"tank": 1.0, "other": 1.0, "pair": 2.0, "side": 0.5}.get(what, 0.0)
    return cost if fits else NEVER


def _misfit_of_named(setting: Setting, subject: Subject, amount: Amount) -> float:
    what, unit = subject.what, amount.unit
    allowed = allowed_units(what, setting.coach)
    if what == "air_pressure" and subject.loose and unit in TEMPERATURE_UNITS:
        return 0.0
    if not unit and amount.kind == "fraction":
        return 0.0 if "fraction" in allowed else NEVER
    if not unit:
        return 0.3 if subject.loose else 0.0
    if what == "house_battery" and unit == "V" and subject.hint == "A":
        return NEVER
    pounds = what in ("tire_pressure", "air_pressure") and unit == "lb"
    degrees = what in TEMPERATURES and unit in TEMPERATURE_UNITS
    return 0.0 if pounds or degrees or unit in allowed else NEVER


def reading_of(
    setting: Setting,
    name: Name,
    amount: Amount,
    said: str,
    shared: str = "",
    hint: str = "",
    base: Reading | None = None,
) -> Reading | Refusal | None:
    """The reading that an amount gives for a name, a refusal, or None when the two do not go together.

    Args:
        setting: what the sentence is read against.
        name: what the reading is of.
        amount: what was told.
        said: the words it was told in.
        shared: the unit told of another thing of the same kind in the same sentence.
        hint: the unit that the words for the subject imply.
        base: the reading that "the same" and "half of that" refer to.
    """
    what, which = name
    if amount.kind in ("same", "relative"):
        return _derived(setting, name, amount, said, base)
    if amount.flag:
        red = "red" in setting.reader.texts[amount.start : amount.end] and amount.kind == "flag"
        # The red of a waste gauge or a CO meter lies at its top.
        return Reading(
            what, which, None, None, flag="high" if red and what in ("waste", "co_ppm") else amount.flag, said=said
        )
    allowed = allowed_units(what, setting.coach)
    if amount.kind == "fraction" and not amount.unit and not amount.of and allowed and "fraction" not in allowed:
        return None  # three eighths is a level, and no mileage
    number, unit = _quantity(setting, what, amount, shared, hint)
    if unit not in allowed:
        return wrong_unit(what, which, unit, allowed) if allowed and unit else None
    reading = vaguely(
        Reading(what, which, rounded(number, unit), unit, counted_from=amount.counted_from, said=said), amount
    )
    refused = refusal(reading, setting.coach)
    other = _other_hearing(amount, unit) if refused else None
    if other is not None:
        again = replace(reading, value=other)
        return again if refusal(again, setting.coach) is None else refused
    return refused or reading


def _quantity(setting: Setting, what: str, amount: Amount, shared: str, hint: str) -> tuple[float, str]:
    """The number and its unit; where none was said, the one that the subject and the profile imply."""
    number, unit = amount.number or 0.0, amount.unit
    metric = setting.coach.units == "metric"
    if amount.freezing is not None:
        return (
            (amount.freezing, "C") if unit == "C" or (unit != "F" and metric) else (FREEZING_F + amount.freezing, "F")
        )
    if what in TEMPERATURES:
        return number, unit if unit not in ("", "degrees") else shared or ("C" if metric else "F")
    if what in ("tire_pressure", "air_pressure"):
        return number, "psi" if unit in ("", "lb") and shared != "bar" else unit or shared
    if what == "house_battery":
        return _battery(setting, amount, hint)
    if unit:
        return number, unit
    if what == "propane" and amount.kind != "fraction" and WEIGHED & set(setting.reader.texts):
        return number, "kg" if metric else "lb"
    if amount.of and what != "passengers":
        return number / amount.of, "fraction"
    fixed = {
        "shore_voltage": "V", "passengers": "persons", "co_ppm": "ppm", "generator_hours": "h",
        "odometer": "km" if metric or hint == "km" else "mi",
    }.get(what)  # fmt: skip
    if fixed:
        return number, shared or fixed
    fraction = amount.kind == "fraction" or (amount.kind == "decimal" and 0 < number < 1)
    return number, "fraction" if fraction else shared or "percent"


def _battery(setting: Setting, amount: Amount, hint: str) -> tuple[float, str]:
    """The number and unit of a battery reading: a bare number that can be its voltage is one."""
    nominal = setting.coach.house_battery.volts
    low, high = BATTERY_V[nominal]
    number, unit = amount.number or 0.0, amount.unit
    split = as_decimal(amount.said, low, high)
    if unit == "V" or (not unit and hint == "V"):
        return (split if split is not None else number), "V"
    if unit or hint == "A":
        return number, unit or "A"
    if amount.kind == "fraction":
        return number, "fraction"
    if split is not None or (amount.kind == "decimal" and 0 < number < 1):
        # "point five" has lost its whole number; the limit for volts asks for it.
        return split if split is not None else number, "V"
    least = 10.0 if nominal == 12 else 20.0
    if least <= number <= high or (amount.kind == "decimal" and low - 2 <= number <= high + 2):
        return number, "V"
    # A lost point: 126 for 12.6. The limit for volts then asks which was meant.
    return number, "V" if 10 * low < number <= 10 * high and number != 100 else "percent"


def _other_hearing(amount: Amount, unit: str) -> float | None:
    """Another way to hear a number in pieces that cannot be true: a stutter, or a "one" that stood for a thing."""
    said = amount.said
    if len(said) < 2:
        return None
    if said[0] == "1" and amount.after_place and unit in (*SHARES, "lb", "kg", "gal", "L"):
        return float("".join(said[1:]))
    first, last = said[0], said[-1]
    stutter = len(said) == len(first) == len(last) == 2 and first[1] == "0" and first[0] == last[0]
    return float(last) if stutter else None


def rounded(number: float, unit: str | None) -> float:
    """A value without the noise of binary fractions, and without a negative zero."""
    return round(number, 4 if unit == "fraction" else 3) + 0.0


def vaguely(reading: Reading, amount: Amount) -> Reading:
    """The reading with its plausible range when it was told vaguely."""
    value, unit = reading.value, reading.unit or ""
    most = {"fraction": 1.0, "percent": 100.0}.get(unit, math.inf)
    least = 0.0 if unit in SHARES else -math.inf
    if value is None or not amount.hedge or not least <= value <= most:
        return reading
    if amount.hedge == "range":
        return replace(reading, approx=True, low=amount.low, high=amount.high)
    width = max(SPREAD.get(unit, 0.0), 0.0 if unit in FIXED_SPREAD else 0.1 * abs(value))
    if amount.level:
        value = NEARLY_FULL if value else NEARLY_EMPTY
    elif unit == "fraction":
        nudged = value + {"under": -NUDGE, "over": NUDGE}.get(amount.hedge, 0.0)
        value = rounded(min(most, max(least, nudged)), unit)
    # "just over half" is hardly less than half.
    low = value - (width / 4 if amount.hedge == "over" else width)
    high = value + (width / 4 if amount.hedge == "under" else width)
    return replace(reading, value=value, approx=True, low=round(max(low, least), 4), high=round(min(high, most), 4))


def _derived(setting: Setting, name: Name, amount: Amount, said: str, base: Reading | None) -> Reading | Refusal | None:
    """A reading told by another: "the same", "half of that"."""
    if base is None or (base.value is None and amount.kind == "relative"):
        return None
    if base.unit is not None and base.unit not in allowed_units(name[0], setting.coach):
        return None
    factor = amount.number if amount.kind == "relative" and amount.number else 1.0
    value, low, high = (
        None if v is None else rounded(v * factor, base.unit) for v in (base.value, base.low, base.high)
    )
    made = vaguely(replace(base, what=name[0], which=name[1], value=value, low=low, high=high, said=said), amount)
    return refusal(made, setting.coach) or made
