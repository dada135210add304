"""The sheet of one calculation: what the question said, what readings and profile add, what must be asked.

What was said in the question outweighs stored readings, and these outweigh the profile. Nothing said in a question
is stored. Every value that was not said leaves a line among the assumptions.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from cabassist.coach import Coach, Tank
from cabassist.estimate.quantities import roughly, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted, same_kind
from cabassist.language.reading_types import Reading
from cabassist.units import registry

if TYPE_CHECKING:
    from pint import Quantity

READING_ERROR = 0.05
"""Half the 10–90 % range of a level that a driver reads off, as a share of full."""


class StoredReading(Protocol):
    """A reading that stands, and when it was said."""

    @property
    def reading(self) -> Reading:
        """What was read."""

    @property
    def at(self) -> datetime:
        """When."""


class Input(NamedTuple):
    """One input of a calculation."""

    name: str
    value: float | str
    unit: str = ""
    origin: str = "said"
    """said, reading, profile or assumed."""
    at: datetime | None = None
    """When a reading was made."""


class Missing(Exception):
    """An input without which there is no answer."""

    def __init__(self, name: str, question: str, unit: str = "") -> None:
        self.name = name
        self.question = question
        self.unit = unit
        super().__init__(question)


_PINT = {
    "gph": "gallon/hour", "gal": "gallon", "L": "liter", "mL": "milliliter", "qt": "quart", "pt": "pint", "floz": "fluid_ounce", "cup": "cup", "tbsp": "tablespoon",
    "tsp": "teaspoon", "drop": "milliliter/20", "F": "degF", "C": "degC", "h": "hour", "min": "minute", "s": "second", "day": "day", "week": "week",
    "A": "ampere", "V": "volt", "W": "watt", "kW": "kilowatt", "Ah": "ampere*hour", "BTU": "Btu", "BTU/h": "Btu/hour", "ft": "foot", "in": "inch",
    "cm": "centimeter", "mm": "millimeter", "m": "meter", "yd": "yard", "mi": "mile", "km": "kilometer", "mph": "mile/hour", "km/h": "kilometer/hour",
    "kn": "knot", "psi": "psi", "kPa": "kilopascal", "bar": "bar", "lb": "pound", "kg": "kilogram", "ton": "short_ton", "gpm": "gallon/minute", "lb-ft": "foot*pound_force",
    "N·m": "newton*meter", "mpg": "mile/gallon", "cfm": "foot^3/minute", "ohm": "ohm", "deg": "delta_degF", "gallon": "gallon", "32nds": "inch/32", "m/s": "meter/second",
}  # fmt: skip


def quantity(value: float, unit: str) -> Quantity[Any]:
    """A pint quantity of a unit as it is written here: "gal/day", "W/K", "mi/gallon"."""
    ureg = registry()
    top, _, bottom = unit.removesuffix("/each").partition("/")
    name = _PINT.get(unit.removesuffix("/each"))
    if name is None:
        name = _PINT.get(top, top) + (f"/({_PINT.get(bottom, bottom)})" if bottom else "")
    return ureg.Quantity(value, name)


class Sheet:
    """Inputs of one calculation, by name."""

    def __init__(
        self,
        question: Question,
        coach: Coach,
        stored: Sequence[StoredReading],
        now: datetime,
        known: Iterable[Input] = (),
        follows: bool = False,
    ) -> None:
        self.q = question
        self.coach = coach
        self.stored = stored
        self.now = now
        self.inputs: dict[str, Input] = {given.name: given for given in known}
        self.fresh: set[str] = set()
        """Names of what this text said."""
        self.assumed: list[str] = []
        self.read: list[Input] = []
        self.follows = follows

    # -- what the text says -------------------------------------------------------------------

    def say(self, name: str, amount: Amount | None, bare: str = "") -> bool:
        """Note an amount from the text; `bare` is the unit of a number without one."""
        if amount is None:
            return False
        tag = amount.tag.removesuffix("/each")
        if tag == "temp":
            tag = self.q.scale
        elif amount.unit == "n":
            tag = bare if not amount.per or "/" in bare else f"{bare}/{amount.per}"
        self.note(name, amount.value, tag)
        return True

    def note(self, name: str, value: float | str, unit: str = "") -> None:
        """Note a value from the text."""
        self.inputs[name] = Input(name, value, unit)
        self.fresh.add(name)

    def drop(self, *names: str) -> None:
        """Forget inputs of the question before that the new one replaces."""
        for name in names:
            if name not in self.fresh:
                self.inputs.pop(name, None)

    # -- what is known ------------------------------------------------------------------------

    def has(self, *names: str) -> bool:
        """Whether all of these are known."""
        return all(name in self.inputs and self.inputs[name].value != "unknown" for name in names)

    def unknown(self, name: str) -> bool:
        """Whether the driver was asked and does not know."""
        return name in self.inputs and self.inputs[name].value == "unknown"

    def number(self, name: str, unit: str = "") -> float:
        """A known input as a float, in a unit of the same kind if one is named."""
        given = self.inputs[name]
        value = float(given.value)
        return (
            converted(value, given.unit, unit)
            if unit and given.unit and given.unit != unit and same_kind(given.unit, unit)
            else value
        )

    def number_or(self, name: str, otherwise: float = float("nan")) -> float:
        """A known input as a float, or `otherwise`."""
        return float(self.inputs[name].value) if self.has(name) else otherwise

    def text(self, name: str) -> str:
        """A known input as a word, or ""."""
        return str(self.inputs[name].value) if name in self.inputs else ""

    def amount(self, name: str) -> Quantity[Any]:
        """A known input as a quantity in the unit it was said in."""
        given = self.inputs[name]
        return quantity(float(given.value), given.unit)

    def need(self, name: str, question: str, unit: str = "") -> None:
        """Ask for an input that is not known.

        Raises:
            Missing: it is not known yet.
        """
        if not self.has(name):
            raise Missing(name, question, unit)

    def profile(self, name: str, value: float, unit: str, words: str) -> None:
        """Take an input from the profile when nothing better is known."""
        if not self.has(name):
            self.inputs[name] = Input(name, value, unit, "profile")
            self.assumed.append(f"{words} (profile)")

    def assume(self, name: str, value: float | str, unit: str, words: str) -> None:
        """Assume an input when nothing better is known."""
        if not self.has(name):
            self.inputs[name] = Input(name, value, unit, "assumed")
            self.assumed.append(words)

    # -- readings -----------------------------------------------------------------------------

    def latest(self, what: str, which: str | None = None) -> StoredReading | None:
        """The latest stored reading with a value."""
        for held in reversed(self.stored):
            if (
                held.reading.what == what
                and held.reading.value is not None
                and (which is None or held.reading.which == which)
            ):
                return held
        return None

    def age(self, held: StoredReading) -> str:
        """How old a reading is, in words."""
        hours = max(0.0, (self.now - held.at).total_seconds() / 3600)
        return f"read {roughly(hours)} ago" if hours >= 1 / 60 else "read just now"

    def from_reading(self, name: str, what: str, words: str, units: str, which: str | None = None) -> bool:
        """Take an input from a stored reading when the text said nothing."""
        if self.has(name):
            return True
        held = self.latest(what, which)
        if held is None or held.reading.value is None:
            return False
        unit = held.reading.unit or ("C" if self.coach.units == "metric" and units == "F" else units)
        self.inputs[name] = Input(name, held.reading.value, unit, "reading", held.at)
        self.assumed.append(f"{words} {shown(held.reading.value)} {_READ.get(unit, unit)}, {self.age(held)}")
        return True

    def outside(self, question: str = "How cold is it outside?") -> None:
        """Know the outside temperature as `outside`.

        Raises:
            Missing: neither text nor reading gives it.
        """
        if not self.from_reading("outside", "outside_temp", "outside temperature", "F"):
            raise Missing("outside", question, "temp")

    def people(self) -> None:
        """Know how many are aboard as `people`: as said, as read, or as usual."""
        if not self.from_reading("people", "passengers", "aboard:", "persons"):
            usual = self.coach.people.usual_passengers
            self.profile("people", usual, "people", f"{usual} people aboard as usual")

    # -- tanks --------------------------------------------------------------------------------

    def tank(self, name: str) -> Tank:
        """The profile's tank."""
        return self.coach.tank(name)

    def capacity(self, tank: str) -> float:
        """Gallons the tank holds: as said, or the profile's."""
        if not self.has(f"{tank}_capacity"):
            self.profile(
                f"{tank}_capacity",
                self.tank(tank).capacity_gal,
                "gal",
                f"{tank} tank {shown(self.tank(tank).capacity_gal)} gal",
            )
        return self.number(f"{tank}_capacity", "gal")

    def level(self, tank: str) -> float | None:
        """Share of full, as said or as read; None when nothing is known."""
        if self.has(f"{tank}_share"):
            given = self.inputs[f"{tank}_share"]
            return float(given.value) / (100 if given.unit == "percent" else 1)
        if self.has(f"{tank}_room"):
            return 1 - self.number(f"{tank}_room", "gal") / self.capacity(tank)
        if self.has(f"{tank}_gal"):
            gallons = self.number(f"{tank}_gal", "gal")
            if gallons > self.capacity(tank) and not self.said(f"{tank}_capacity"):
                raise ValueError(
                    f"The {tank} tank holds {shown(self.capacity(tank))} gallons; {shown(gallons)} can't be in it."
                )
            return gallons / self.capacity(tank)
        if self.has(f"{tank}_depth"):
            from cabassist.estimate.tanks import fraction_at_depth

            inside = self.tank(tank)
            depth = self.number(f"{tank}_depth", "in")
            if depth > inside.depth_in:
                raise ValueError(
                    f"The {tank} tank is {shown(inside.depth_in)} inches high; {shown(depth)} inches can't be."
                )
            share = depth / inside.depth_in
            share = 1 - share if self.text(f"{tank}_from") == "top" else share
            return fraction_at_depth(share, inside.shape)
        return self._level_read(tank)

    def _level_read(self, tank: str) -> float | None:
        from cabassist.language.plausibility import fraction_of_full

        held = self.latest(tank)
        if held is None:
            return None
        share = fraction_of_full(held.reading, self.coach)
        if share is None:
            return None
        self.inputs[f"{tank}_share"] = Input(f"{tank}_share", share, "part", "reading", held.at)
        self.assumed.append(f"{tank} at {shown(100 * share, 3)} %, {self.age(held)}")
        return share

    def said(self, name: str) -> bool:
        """Whether the driver said it in the question."""
        return name in self.inputs and self.inputs[name].origin == "said"

    def shares_read(
        self, what: str, which: str | None = None, least_h: float = 0.5
    ) -> tuple[tuple[float, datetime], tuple[float, datetime]] | None:
        """The latest two stored levels of one supply, far enough apart for a rate."""
        from cabassist.language.plausibility import fraction_of_full

        found: list[tuple[float, datetime]] = []
        for held in reversed(self.stored):
            if held.reading.what == what and (which is None or held.reading.which == which):
                share = fraction_of_full(held.reading, self.coach)
                if share is None:
                    continue
                if not found or (found[-1][1] - held.at).total_seconds() / 3600 >= least_h:
                    found.append((share, held.at))
                if len(found) == 2:
                    return found[1], found[0]
        return None

    # -- the answer ---------------------------------------------------------------------------

    def closed(self, estimate: Estimate) -> Estimate:
        """The estimate with what was taken from readings and profile among its assumptions, in the unit asked for."""
        extra = tuple(line for line in dict.fromkeys(self.assumed) if line not in estimate.assumptions)
        estimate = replace(estimate, assumptions=(*extra, *estimate.assumptions))
        wanted = self.text("unit") or self._metric_twin(estimate.unit)
        return in_unit(estimate, wanted) if wanted else estimate

    def _metric_twin(self, unit: str) -> str:
        """What a metric driver is answered in, unless the US unit was said."""
        if self.coach.units != "metric" or any(a.unit == unit for a in self.q.amounts):
            return ""
        return {"gal": "L", "lb": "kg", "F": "C", "mi": "km", "ft": "m", "in": "cm", "psi": "kPa"}.get(unit, "")


_READ = {"F": "°F", "C": "°C", "persons": "people", "percent": "%"}
UNIT_NAMES = {
    "day": "days", "night": "days", "BTU/h": "BTU/h", "floz": "fl oz", "gpm": "gal/min", "week": "weeks", "in": "in", "32nds": "1/32 in", "cup": "cup",
}  # fmt: skip


def in_unit(estimate: Estimate, wanted: str) -> Estimate:
    """The estimate with its value in another unit of the same kind; the old value stands beside it.

    Left as it is when the kinds differ, or when a further figure has the unit: then the two change places.
    """
    name = UNIT_NAMES.get(wanted, wanted)
    have = estimate.unit
    if estimate.value is None or have == name:
        return estimate
    old = Figure(estimate.name, estimate.value, estimate.unit, estimate.low, estimate.high)
    if same_kind(have, wanted):

        def turned(value: float | None) -> float | None:
            return None if value is None else converted(value, have, wanted)

        also = tuple(f for f in estimate.also if f.unit != name)
        line = f"{shown(estimate.value)} {have} = {shown(turned(estimate.value) or 0.0)} {name}"
        working = (
            estimate.working
            if any(name in w.split() and "=" in w for w in estimate.working[-1:])
            else (*estimate.working, line)
        )
        verdict = estimate.verdict
        if {have, wanted} == {"F", "C"}:
            verdict = re.sub(
                r"(-?\d+(?:\.\d+)?) °[FC]",
                lambda m: f"{shown(converted(float(m[1]), have, wanted), 3)} °{wanted}",
                verdict,
            )
        return replace(
            estimate,
            verdict=verdict,
            value=turned(estimate.value),
            unit=name,
            low=turned(estimate.low),
            high=turned(estimate.high),
            also=(old, *also),
            working=working,
        )
    for figure in estimate.also:
        if figure.unit == name or same_kind(figure.unit, wanted):
            value = converted(figure.value, figure.unit, wanted) if figure.unit != name else figure.value
            low, high = figure.low, figure.high
            if figure.unit != name:
                low = None if low is None else converted(low, figure.unit, wanted)
                high = None if high is None else converted(high, figure.unit, wanted)
            others = tuple(f for f in estimate.also if f is not figure)
            return replace(estimate, name=figure.name, value=value, unit=name, low=low, high=high, also=(old, *others))
    return estimate


def with_also(estimate: Estimate, *figures: Figure) -> Estimate:
    """The estimate with further numbers beside it."""
    return replace(estimate, also=(*estimate.also, *figures))


def with_verdict(estimate: Estimate, first: str) -> Estimate:
    """The estimate with a sentence before its verdict."""
    return replace(estimate, verdict=f"{first} {estimate.verdict}".strip())
