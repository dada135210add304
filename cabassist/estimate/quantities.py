"""Quantities at the rim of a calculation: checked on the way in, written on the way out.

Everything that comes in keeps its unit until here, so that a mistake of unit or sign is caught with a
message a driver can act on; what goes out is shown in the scale and the units that came in.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from cabassist.estimate.types import Estimate, Figure

if TYPE_CHECKING:
    from pint import Quantity

ZERO_CELSIUS_K = 273.15
BTU_J = 1055.056
"""The BTU of ISO 31-4, as pint has it."""
BTU_PER_H_F_IN_W_PER_K = BTU_J / 3600 * 1.8
"""1 BTU/h·°F in W/K."""
LB_KG = 0.45359237
GALLON_M3 = 0.003785411784
MPH_M_PER_S = 0.44704
PSI_PA = 6894.757293168

MEMORY = "from memory"
PRACTICE = "common practice, no source"


def measure(quantity: Quantity[Any], unit: str, what: str) -> float:
    """The quantity as a float in `unit`.

    Raises:
        DimensionalityError: it measures something else.
        ValueError: it is not a finite number.
    """
    value = float(quantity.m_as(unit))
    if not math.isfinite(value):
        raise ValueError(f"I can't use {value} for {what}. Say it as a plain number with its unit.")
    return value


def positive(quantity: Quantity[Any], unit: str, what: str) -> float:
    """The quantity in `unit`, more than zero.

    Raises:
        DimensionalityError: it measures something else.
        ValueError: it is zero or less.
    """
    value = measure(quantity, unit, what)
    if value <= 0:
        raise ValueError(f"I can't use {quantity:~P} for {what}: it must be more than zero. Say it again.")
    return value


def not_negative(quantity: Quantity[Any], unit: str, what: str) -> float:
    """The quantity in `unit`, zero or more.

    Raises:
        DimensionalityError: it measures something else.
        ValueError: it is below zero.
    """
    value = measure(quantity, unit, what)
    if value < 0:
        raise ValueError(f"I can't use {quantity:~P} for {what}: it can't be below zero. Say it again.")
    return value


def temperature_k(reading: Quantity[Any], what: str) -> float:
    """A temperature reading in kelvin; a temperature difference is refused.

    Raises:
        DimensionalityError: it is no temperature, or a difference of temperatures.
        ValueError: it is colder than absolute zero.
    """
    kelvin = measure(reading, "degC", what) + ZERO_CELSIUS_K
    if kelvin <= 0:
        raise ValueError(f"I can't use {reading:~P} for {what}: nothing is that cold. Say the temperature again.")
    return kelvin


def share(value: float, what: str) -> float:
    """A part of a whole between 0 and 1.

    Raises:
        ValueError: it is outside that.
    """
    if not 0 <= value <= 1:
        raise ValueError(f"I can't use {shown(value * 100)} percent for {what}. Say a share between 0 and 100 percent.")
    return value


def some_share(value: float, what: str) -> float:
    """A part of a whole above 0 and up to 1.

    Raises:
        ValueError: it is outside that.
    """
    if share(value, what) == 0:
        raise ValueError(f"I can't use 0 percent for {what}: it must be more than nothing. Say it again.")
    return value


def whole(value: int, what: str, *, least: int = 1) -> int:
    """A count of at least `least`.

    Raises:
        ValueError: it is smaller or no whole number.
    """
    if value != int(value) or value < least:
        raise ValueError(f"I can't use {value} for {what}. Say a whole number from {least} up.")
    return int(value)


class Scale(NamedTuple):
    """Fahrenheit with US units, or Celsius with metric ones."""

    letter: Literal["F", "C"]

    @property
    def metric(self) -> bool:
        """Whether the driver speaks metric."""
        return self.letter == "C"

    def degrees(self, kelvin: float) -> float:
        """A temperature reading on this scale."""
        celsius = kelvin - ZERO_CELSIUS_K
        return tidy(celsius if self.metric else celsius * 1.8 + 32)

    def span(self, kelvin: float) -> float:
        """A temperature difference on this scale."""
        return tidy(kelvin if self.metric else kelvin * 1.8)

    def show(self, kelvin: float, digits: int = 4) -> str:
        """A temperature reading as a driver reads it: "-10 °F"."""
        return f"{shown(self.degrees(kelvin), digits)} °{self.letter}"

    def show_span(self, kelvin: float, digits: int = 4) -> str:
        """A difference: "42 °F"."""
        return f"{shown(self.span(kelvin), digits)} °{self.letter}"

    def gap(self, warm_k: float, cold_k: float) -> str:
        """How a difference is written out: "50 °F - 5 °F", or "10 °C + 15 °C" for a cold end below zero."""
        sign = "+" if self.degrees(cold_k) < 0 else "-"
        return f"{self.show(warm_k)} {sign} {shown(abs(self.degrees(cold_k)))} °{self.letter}"

    def speed(self, metre_per_second: float) -> str:
        """A wind speed: "20 mph" or "32 km/h"."""
        if self.metric:
            return f"{shown(metre_per_second * 3.6)} km/h"
        return f"{shown(metre_per_second / MPH_M_PER_S)} mph"


FAHRENHEIT = Scale("F")
CELSIUS = Scale("C")


def scale_of(reading: Quantity[Any]) -> Scale:
    """The scale a temperature was given in."""
    return FAHRENHEIT if "Fahrenheit" in str(reading.units) else CELSIUS


class PressureUnit(NamedTuple):
    """The unit a pressure is written in."""

    name: Literal["psi", "bar", "kPa"]
    pascal: float

    def of(self, pascal: float) -> float:
        """A pressure in this unit."""
        return tidy(pascal / self.pascal)

    def show(self, pascal: float, digits: int = 4) -> str:
        """A pressure as written: "93.5 psi"."""
        return f"{shown(self.of(pascal), digits)} {self.name}"


def pressure_unit_of(pressure: Quantity[Any]) -> PressureUnit:
    """The unit a pressure was given in; psi for any but bar and pascals."""
    given = str(pressure.units)
    if "pascal" in given:
        return PressureUnit("kPa", 1000.0)
    return PressureUnit("bar", 100_000.0) if "bar" in given else PressureUnit("psi", PSI_PA)


def tidy(value: float) -> float:
    """A float without the dust of unit conversion (nine decimals)."""
    return round(value, 9) + 0.0


def shown(value: float, digits: int = 4) -> str:
    """A number as written in a working line: no exponent, no trailing zeros."""
    if abs(value) < 1e-9:
        return "0"
    whole_digits = math.floor(math.log10(abs(value))) + 1
    decimals = max(0, digits - whole_digits)
    text = f"{value:,.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def duration(hours: float) -> str:
    """A length of time in words: "35 minutes", "9 h 24 min", "3.2 days"."""
    if hours < 1 / 60:
        return f"{shown(hours * 3600, 2)} seconds"
    minutes = round(hours * 60)
    if minutes < 60:
        return "1 minute" if minutes == 1 else f"{minutes} minutes"
    if hours >= 48:
        return f"{shown(hours / 24, 2)} days"
    return f"{minutes // 60} h {minutes % 60} min" if minutes % 60 else f"{minutes // 60} h"


def roughly(hours: float) -> str:
    """A length of time as good as an estimate is: "12 minutes", "20 hours", "3.2 days"."""
    if hours < 0.95:
        exact_to = 1 if 1 <= hours * 60 < 3 else None  # half a minute more is much of a shower of two
        minutes = shown(round(hours * 60, exact_to) if hours * 60 < 10 else round(hours * 12) * 5)
        return "less than a minute" if minutes == "0" else f"{minutes} minute{'' if minutes == '1' else 's'}"
    value, unit = (hours, "hour") if hours < 48 else (hours / 24, "day")
    text = shown(value, 2)
    return f"{text} {unit}" if text == "1" else f"{text} {unit}s"


def between(low_h: float | None, high_h: float | None) -> str:
    """The range in words behind a rough time: ", between 16 and 27 hours"; nothing when both say the same."""
    if low_h is None or high_h is None or roughly(low_h) == roughly(high_h):
        return ""
    first, last = roughly(low_h).rsplit(" ", 1), roughly(high_h).rsplit(" ", 1)
    same = first[1].rstrip("s") == last[1].rstrip("s")
    return f", between {first[0] if same else ' '.join(first)} and {' '.join(last)}"


def exact(
    name: str,
    value: float,
    unit: str,
    *,
    working: tuple[str, ...] = (),
    assumptions: tuple[str, ...] = (),
    source: str = "",
    verdict: str = "",
    also: tuple[Figure, ...] = (),
) -> Estimate:
    """An estimate that is plain arithmetic: both ends of its range are the value."""
    value = tidy(value)
    return Estimate(name, value, unit, value, value, working, assumptions, source, verdict, also)


def ranged(
    name: str,
    value: float,
    unit: str,
    low: float | None,
    high: float | None,
    *,
    working: tuple[str, ...] = (),
    assumptions: tuple[str, ...] = (),
    source: str = "",
    verdict: str = "",
    also: tuple[Figure, ...] = (),
) -> Estimate:
    """An estimate with its 10–90 % range; an end that is None or endless is left open."""
    return Estimate(name, tidy(value), unit, _end(low), _end(high), working, assumptions, source, verdict, also)


def withheld(
    name: str,
    unit: str,
    verdict: str,
    *,
    low: float | None = None,
    high: float | None = None,
    working: tuple[str, ...] = (),
    assumptions: tuple[str, ...] = (),
    source: str = "",
    also: tuple[Figure, ...] = (),
) -> Estimate:
    """No number: the verdict says why; a bound that is known may still be given."""
    return Estimate(name, None, unit, _end(low), _end(high), working, assumptions, source, verdict, also)


def figure(name: str, value: float, unit: str, low: float | None = None, high: float | None = None) -> Figure:
    """A further number; without a range of its own it is exact."""
    if low is None and high is None:
        low = high = value
    return Figure(name, tidy(value), unit, _end(low), _end(high))


def _end(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else tidy(value)


def interpolated(table: tuple[tuple[float, float], ...], x: float) -> float | None:
    """The table's second column at `x` on straight lines; None outside the table.

    The first column rises.
    """
    if not table[0][0] <= x <= table[-1][0]:
        return None
    for (x0, y0), (x1, y1) in pairwise(table):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return None
