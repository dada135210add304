"""From the words for a subject to the names that readings carry: which cylinder, which tire, which temperature.

"Inside" alone may be the cabin or a cylinder; the amount decides. Sides of the coach follow the profile: the
driver sits on the street's side, whichever side of the road is driven on.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cabassist.language.plausibility import is_tank
from cabassist.language.reading_parts import TEMPERATURE_UNITS, Amount, Reader, Subject
from cabassist.language.reading_types import Reading
from cabassist.language.subjects import position

if TYPE_CHECKING:
    from cabassist.coach import Coach

Name = tuple[str, str | None]
"""What a reading is of, and which one."""

TEMPERATURES = ("outside_temp", "inside_temp")
SHARES = ("fraction", "percent")
TANK_UNITS = ("percent", "fraction", "gal", "L", "in", "cm", "ft")
ALLOWED: dict[str, tuple[str, ...]] = {
    "propane": ("percent", "fraction", "lb", "kg", "gal", "L"),
    "house_battery": ("V", "percent", "fraction", "A"),
    "diesel": ("percent", "fraction", "gal", "L"),
    "def": ("percent", "fraction", "gal", "L"),
    "outside_temp": ("F", "C"),
    "inside_temp": ("F", "C"),
    "shore_voltage": ("V",),
    "tire_pressure": ("psi", "bar"),
    "air_pressure": ("psi", "bar"),
    "odometer": ("mi", "km"),
    "passengers": ("persons",),
    "co_ppm": ("ppm",),
    "generator_hours": ("h",),
}
PAIRS = (
    ("outside", "inside"), ("curb-side", "street-side"), ("primary", "secondary"), ("left", "right"), ("fresh", "waste"), TEMPERATURES,
)  # fmt: skip
COUNTERPART = {one: other for a, b in PAIRS for one, other in ((a, b), (b, a))}


@dataclass(frozen=True)
class Setting:
    """What a sentence is read against."""

    coach: Coach
    reader: Reader
    previous: tuple[Reading, ...]
    """Readings told before, newest last."""
    corrected: bool
    """Something in the sentence takes back what was said before."""
    text: str


def allowed_units(what: str, coach: Coach) -> tuple[str, ...]:
    """The units a reading of this may have."""
    return TANK_UNITS if is_tank(what, coach) else ALLOWED.get(what, ())


def names_of(setting: Setting, subject: Subject, amount: Amount, last: Reading | None) -> list[Name] | None:
    """The names that an amount is told of, none for things that are no reading, None when it is unclear which."""
    if subject.what == "elsewhere":
        return []
    if subject.what == "tank" and subject.both:
        return [(tank.name, None) for tank in setting.coach.tanks]
    if subject.what == "pair":
        if last is not None and is_tank(last.what, setting.coach) and setting.reader.text(subject.start) == "all":
            return []  # "all drained" is said of the one tank that is spoken of, and no level of the other
        return pair_of(last)
    name = name_of(setting, subject, amount, last)
    return None if name is None else _both(subject, name)


def name_of(setting: Setting, subject: Subject, amount: Amount, last: Reading | None) -> Name | None:
    """The name of one subject, given its amount and what was told before it; None when unclear."""
    coach, what = setting.coach, subject.what
    if what == "place":
        return _name_of_place(subject, amount, last)
    if what == "temperature":
        return ("inside_temp" if subject.place == "inside" else "outside_temp"), None
    if what == "air_pressure" and subject.loose and amount.unit in TEMPERATURE_UNITS:
        return "outside_temp", None
    if what == "propane":
        return what, cylinder(subject)
    if what == "tire_pressure":
        return what, tire(subject, coach)
    if what == "side" and last and last.what == "tire_pressure":
        return tire_beside(last, subject, coach)
    if what == "side" and last and last.what == "propane":
        return "propane", cylinder(subject)
    if what == "other" and last:
        return counterpart(last)
    if what == "tank" and last and is_tank(last.what, coach):
        return last.what, None
    return None if what in ("side", "other", "tank") else (what, subject.which)


def _name_of_place(subject: Subject, amount: Amount, last: Reading | None) -> Name:
    place = subject.place or ""
    if place == "spare" and amount.unit in ("psi", "bar"):
        return "tire_pressure", place
    if place not in ("inside", "outside") or subject.pronoun or amount.level or amount.flag:
        return "propane", cylinder(subject)
    fraction = amount.kind == "fraction" and not amount.unit
    if fraction or amount.unit in ("percent", "lb", "kg", "gal", "L"):
        return "propane", place
    if last and last.what == "propane":
        bare = not amount.unit and not amount.below_zero and (amount.number or 0) >= 0
        if amount.kind in ("same", "relative") or (bare and last.which not in (None, place)):
            return "propane", place
        cold = amount.below_zero or (amount.number or 0) < 0
        if cold and last.which == place == "inside":
            return (
                "outside_temp",
                None,
            )  # "inside full, twenty below": the place has named the cylinder, frost is outdoors
    return f"{place}_temp", None


def cylinder(subject: Subject) -> str | None:
    """Which cylinder is meant, in the driver's words."""
    if subject.place in ("driver-side", "passenger-side"):
        return "street-side" if subject.place == "driver-side" else "curb-side"
    if subject.place:
        return subject.place
    side = subject.tire.get("side")
    if side:
        return side
    return {"outer": "outside", "inner": "inside"}.get(subject.tire.get("dual", ""))


def tire(subject: Subject, coach: Coach) -> str | None:
    """A tire's position: "left front", "right drive outer", as far as it was told."""
    if subject.place == "spare":
        return "spare"
    driver, passenger = ("left", "right") if coach.drive == "left-hand" else ("right", "left")
    sides = {"driver-side": driver, "street-side": driver, "passenger-side": passenger, "curb-side": passenger}
    side = subject.tire.get("side") or sides.get(subject.place or "")
    dual = subject.tire.get("dual") or {"outside": "outer", "inside": "inner"}.get(subject.place or "")
    # Only the drive axle has two tires a side.
    axle = subject.tire.get("axle") or ("drive" if dual else None)
    return " ".join(part for part in (side, axle, dual) if part) or None


def tire_beside(last: Reading, subject: Subject, coach: Coach) -> Name:
    """The tire of the last reading with the parts of its position changed that the subject tells."""
    parts = {position(word): word for word in (last.which or "").split()}
    return "tire_pressure", tire(replace(subject, tire={**parts, **subject.tire}), coach)


def counterpart(reading: Reading) -> Name | None:
    """The other one of a pair: the inside cylinder, the right tire, the waste tank."""
    if reading.which:
        first, _, rest = reading.which.partition(" ")
        return (reading.what, f"{COUNTERPART[first]} {rest}".strip()) if first in COUNTERPART else None
    return (COUNTERPART[reading.what], None) if reading.what in COUNTERPART else None


def pair_of(last: Reading | None) -> list[Name] | None:
    """The two that "both" stands for after a reading of one of them."""
    other = counterpart(last) if last else None
    return [(last.what, last.which), other] if last and other else None


def _both(subject: Subject, name: Name) -> list[Name]:
    what, which = name
    if subject.both and what == "propane" and which is None:
        return [("propane", "outside"), ("propane", "inside")]
    if subject.both and what == "air_pressure" and which is None:
        return [(what, "primary"), (what, "secondary")]
    if subject.both and what == "tire_pressure" and which and not which.startswith(("left", "right")):
        return [(what, f"left {which}"), (what, f"right {which}")]
    return [name]
