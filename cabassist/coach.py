"""The profile of one coach: what it carries, where, and how big.

No procedure and no calculation holds a number of any particular coach; they take it from here.
Each measured field keeps its unit in its name and accepts either a bare number in that unit or a
string with any unit of the same kind ("450 L" for a field in gallons). May import `units`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, Literal, TypeVar, get_args

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator, model_validator

from cabassist.units import UnitsPreference, measured_value, spoken

Side = Literal["left", "right", "rear", "front", "center"]
NEEDED: Any = ...


class Part(BaseModel):
    """Base of every part of the profile: unknown keys are refused, values do not change."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    @field_validator("*", mode="before")
    @classmethod
    def _read_quantity(cls, given: Any, about: ValidationInfo) -> Any:
        field = cls.model_fields[str(about.field_name)]
        if isinstance(given, bool) and field.annotation is not bool:
            raise ValueError("a yes or no is not a number")
        return measured_value(given, field.json_schema_extra)


def measured(unit: str, low: float, high: float, sentence: str, default: Any = NEEDED) -> Any:
    """A number in `unit` between `low` and `high`, with a sentence of help."""
    extra: Any = {"unit": unit, "measured": True}
    return Field(default, ge=low, le=high, description=sentence, json_schema_extra=extra)


def counted(low: int, high: int, sentence: str, default: Any = NEEDED) -> Any:
    """A whole number between `low` and `high`, with a sentence of help."""
    return Field(default, ge=low, le=high, description=sentence, json_schema_extra={"unit": "count"})


def words(sentence: str, default: Any = NEEDED) -> Any:
    """A place or a short phrase that fits into a spoken sentence."""
    return Field(default, min_length=2, max_length=80, description=sentence, json_schema_extra={"unit": "words"})


def name_field(pattern: str, sentence: str) -> Any:
    """A short name that other data refers to."""
    return Field(pattern=pattern, description=sentence, json_schema_extra={"unit": "name"})


def choice(sentence: str, default: Any = NEEDED) -> Any:
    """A yes/no, or one of a few words."""
    return Field(default, description=sentence, json_schema_extra={"unit": "choice"})


def several(low: int, high: int, sentence: str) -> Any:
    """A list of parts, at least `low` and at most `high`."""
    return Field(min_length=low, max_length=high, description=sentence, json_schema_extra={"unit": "list"})


class HeatTape(Part):
    """An electric tape on a tank, and the light that proves it."""

    power_w: float = measured("W", 5, 500, "Power of the heat tape.")
    pilot_light_place: str = words("Where its pilot light is seen from, as words after 'at'.")
    pilot_light_color: str = words("Color of the pilot light when the tape works.")


class Tank(Part):
    """A fresh or waste tank, or another one the coach has."""

    name: str = name_field(r"^[a-z][a-z_]*$", "fresh, waste, or another name in small letters.")
    capacity_gal: float = measured("gal", 1, 500, "Capacity when full.")
    depth_in: float = measured("in", 2, 80, "Inside height of the tank.")
    shape: Literal["rectangular", "horizontal-cylinder"] = choice("Shape, for depth to volume.")
    length_in: float = measured("in", 4, 240, "Inside length of the tank.", default=48.0)
    side: Side = choice("Side of the coach where the tank is reached.")
    bay: str = words("Bay that holds the tank.")
    fill_place: str = words("Where it is filled.", default="none")
    overflow_place: str = words("Where it spits when it is full.", default="none")
    drain_place: str = words("Where it is drained.", default="none")
    valve_place: str = words("Where its dump or drain valve is.", default="none")
    level_view_place: str = words("Where the level is seen.")
    gauge: bool = choice("Whether a working gauge shows the level.")
    heat_pad_w: float = measured("W", 0, 1000, "Power of the heat pad, 0 for none.", default=0.0)
    heat_loss_w_per_k: float = measured("W/K", 0.1, 100, "Heat the tank loses for each degree.", default=5.0)
    heat_tape: HeatTape | None = choice("The heat tape on the tank, if any.", default=None)


class Hose(Part):
    """A hose the coach carries."""

    length_ft: float = measured("ft", 1, 200, "Length of the hose.")
    place: str = words("Bay or locker where it is kept.")


class Toilet(Part):
    """The toilet above the waste tank."""

    bowl_to_tank_in: float = measured("in", 1, 60, "Distance from the bowl to the top of the tank.")
    flush_gal: float = measured("gal", 0.05, 7, "Water for one flush.")
    pump_switch_place: str = words("Where the water pump's switch is.")


class Cylinder(Part):
    """A propane cylinder."""

    role: Literal["outside", "inside", "spare"] = choice("Which place it feeds from.")
    nominal_lb: float = measured("lb", 4, 420, "Pounds of propane it holds at its legal fill.")
    tare_lb: float = measured("lb", 5, 400, "Empty weight, the TW stamp.")
    place: str = words("Where it stands.")
    side_name: Literal["curb-side", "street-side", "none"] = choice("Side name drivers use for it.", default="none")
    gauge: bool = choice("Whether it has its own gauge.")
    made: date = choice("Month of manufacture stamped on it, as a date.")
    requalified: date | None = choice("Last requalification date, if any.", default=None)
    requalified_mark: Literal["", "E", "S"] = choice("Letter after the last requalification date.", default="")


class Propane(Part):
    """The cylinders and what joins them."""

    cylinders: list[Cylinder] = several(1, 6, "Every cylinder aboard.")
    automatic_changeover: bool = choice("Whether a changeover valve switches by itself.")
    changeover_place: str = words("Where the changeover and its indicator are.")
    shutoff_place: str = words("Where the propane is shut off at once.")


class Furnace(Part):
    """A propane furnace."""

    name: str = words("What drivers call it, for example 'front furnace'.")
    input_btu_per_h: float = measured("Btu/h", 5_000, 120_000, "Fuel input when it burns.")
    efficiency: float = measured("fraction", 0.4, 1.0, "Share of the input that warms the cabin.")
    place: str = words("Where it is.")


class Cabin(Part):
    """The heated space."""

    ua_btu_per_h_f: float = measured(
        "Btu/h/delta_degF", 50, 3000, "Heat lost through the shell for each degree Fahrenheit."
    )
    infiltration_cfm: float = measured("ft^3/min", 0, 1000, "Cold air that leaks in.")
    heat_capacity_btu_per_f: float = measured("Btu/delta_degF", 100, 50_000, "Heat stored for each degree Fahrenheit.")
    setpoint_f: float = measured("degF", 40, 85, "Usual thermostat setting.")
    night_setpoint_f: float = measured("degF", 40, 85, "Thermostat setting while people sleep.")
    thermostat_place: str = words("Where the thermostat is.")
    co_alarm_place: str = words("Where the carbon monoxide alarm is.")
    exits: str = words("The emergency exits, in words.")


class Cord(Part):
    """The shore power cord."""

    length_ft: float = measured("ft", 3, 200, "Length of the cord.")
    gauge_awg: int = counted(4, 18, "Wire size, AWG.")
    place: str = words("Bay where the cord is kept.")
    port_place: str = words("The opening through which it leaves a locked bay.")
    adapter_place: str = words("Where the plug adapter is kept.")


class Shore(Part):
    """The shore power inlet."""

    amps: int = counted(10, 100, "Rating of the inlet, amps.")
    volts: int = counted(100, 250, "Nominal voltage.")
    inlet_place: str = words("Where the inlet is.")
    pilot_light: bool = choice("Whether the plug has a pilot light.")
    transfer_delay_min: float = measured("min", 0, 60, "Wait between plugging in and power inside.")
    confirm_place: str = words("Where power is confirmed inside.")
    panel_place: str = words("Where the coach's breakers are.")
    cord: Cord


class Load(Part):
    """An electrical load that runs on shore power."""

    name: str = words("What it is.")
    watts: float = measured("W", 1, 10_000, "Power while on.")
    duty: float = measured("fraction", 0, 1, "Share of the time it is on.", default=1.0)
    shed_order: int = counted(0, 99, "Order in which to switch it off, 0 for never.", default=0)


class HouseBattery(Part):
    """The house battery bank."""

    volts: Literal[12, 24] = choice("Nominal voltage.")
    capacity_ah: float = measured("Ah", 20, 5000, "Capacity at the 20 hour rate.")
    peukert: float = measured("1", 1.0, 1.6, "Peukert exponent.", default=1.2)
    place: str = words("Where the bank is.")
    charger_place: str = words("Where the charger is.")


class Generator(Part):
    """The engine-driven generator module."""

    watts: float = measured("W", 100, 50_000, "Continuous output.")
    place: str = words("Where the module is.")
    screen_place: str = words("Where its air screens are.")


class Diesel(Part):
    """Fuel tank and exhaust fluid."""

    capacity_gal: float = measured("gal", 10, 500, "Capacity of the fuel tank.")
    miles_per_gal: float = measured("mi/gal", 0.5, 20, "Miles on one gallon.")
    idle_gal_per_h: float = measured("gal/h", 0.1, 5, "Fuel used at idle.")
    fill_place: str = words("Where diesel is filled.")
    def_capacity_gal: float = measured("gal", 0, 60, "Capacity of the exhaust fluid tank, 0 for none.", default=0.0)
    block_heater_place: str = words("Where the block heater plugs in, or 'none'.", default="none")


class Bay(Part):
    """A luggage bay."""

    name: str = words("What it is called.")
    side: Side = choice("Side of the coach.")
    users: Literal["team", "drivers", "equipment"] = choice("Who may put things there.")
    holds: str = words("What it is for.")


class Switch(Part):
    """A light switch that people must understand."""

    name: str = words("What it lights.")
    place: str = words("Where the switch is.")
    circuit: Literal["always-live", "marker-lights", "ignition"] = choice("What it takes its power from.")


class Wheels(Part):
    """Tires and wheel nuts."""

    front_psi: float = measured("psi", 30, 160, "Cold pressure of the front tires.")
    rear_psi: float = measured("psi", 30, 160, "Cold pressure of the rear tires.")
    nut_torque_ft_lb: float = measured("ft_lb", 50, 800, "Final torque of the wheel nuts.")
    recheck_miles: float = measured("mi", 5, 500, "Distance after which nuts are checked again.")
    mounting: Literal["hub-piloted", "stud-piloted"] = choice("How the wheels are centered.")


class KitItem(Part):
    """A carried tool, spare or supply."""

    id: str = name_field(r"^[a-z][a-z0-9-]*$", "Short hyphenated name that procedures use.")
    name: str = words("What it is called.")
    place: str = words("Where it is kept.")


class Upkeep(Part):
    """Work that comes round again by days, miles or trips; 0 leaves one of them out, the first that is reached counts."""

    id: str = name_field(r"^[a-z][a-z0-9-]*$", "Short hyphenated name of the work.")
    name: str = words("What is done, as the start of a sentence, for example 'Lubricate latches'.")
    topic: str = name_field(r"^[a-z0-9]+(-[a-z0-9]+)*$", "The procedure that shows how, by its id.")
    every_days: float = measured("day", 0, 7300, "Days between, 0 for none.", default=0.0)
    every_miles: float = measured("mi", 0, 1_000_000, "Miles between, 0 for none.", default=0.0)
    every_trips: int = counted(0, 1000, "Trips between, 0 for none.", default=0)
    after: str = Field(
        default="",
        pattern=r"^([a-z0-9]+(-[a-z0-9]+)*)?$",
        description="Due once after this procedure, by its id; empty for work that always comes round.",
        json_schema_extra={"unit": "name"},
    )
    by_walk: bool = choice("Whether finishing that procedure without a skip counts as done.", default=False)
    verbs: str = Field(
        min_length=3,
        max_length=200,
        description="Words that say it is done, with commas between: greased, oiled.",
        json_schema_extra={"unit": "words"},
    )
    things: str = Field(
        min_length=3,
        max_length=200,
        description="What they are said of, with commas between: latches, locks.",
        json_schema_extra={"unit": "words"},
    )

    @model_validator(mode="after")
    def _comes_round(self) -> Upkeep:
        if not (self.every_days or self.every_miles or self.every_trips):
            raise ValueError("give every_days, every_miles or every_trips")
        return self


class Round(Part):
    """A check list that is walked with the coach, and the procedure that holds it."""

    name: str = words("What the crew calls it, for example 'departure'.")
    topic: str = name_field(r"^[a-z0-9]+(-[a-z0-9]+)*$", "The procedure that is walked, by its id.")


def usual_rounds() -> list[Round]:
    """The rounds of a coach whose profile names none."""
    usual = {
        "pre-trip": "pre-trip-inspection",
        "departure": "prepare-to-depart",
        "arrival": "park-for-the-night",
        "night": "keep-cabin-warm",
        "turnaround": "service-at-turnaround",
        "post-trip": "post-trip-report",
        "hand-over": "hand-over-coach",
    }
    return [Round(name=name, topic=topic) for name, topic in usual.items()]


class People(Part):
    """Crew and passengers."""

    max_passengers: int = counted(1, 100, "Most passengers carried.")
    usual_passengers: int = counted(0, 100, "Passengers on a usual trip.")
    drivers: int = counted(1, 4, "Drivers aboard.")


class Coach(Part):
    """One coach."""

    id: str = name_field(r"^[a-z][a-z0-9-]*$", "Short hyphenated name of the coach.")
    name: str = words("What people call it.")
    units: UnitsPreference = choice("us or metric.", default="us")
    drive: Literal["left-hand", "right-hand"] = choice("Side of the steering wheel.", default="left-hand")
    tanks: list[Tank] = several(1, 8, "Every water tank.")
    toilet: Toilet
    fresh_hose: Hose
    waste_hose: Hose
    propane: Propane
    furnaces: list[Furnace] = several(0, 6, "Every propane furnace.")
    cabin: Cabin
    shore: Shore
    loads: list[Load] = several(0, 60, "Loads on shore power.")
    house_battery: HouseBattery
    generator: Generator | None = None
    diesel: Diesel
    bays: list[Bay] = several(1, 30, "Every bay.")
    bay_latch: str = words("How the bay latches are made, in words.")
    switches: list[Switch] = several(0, 30, "Light switches.")
    wheels: Wheels
    kit: list[KitItem] = several(0, 120, "Carried kit.")
    people: People
    upkeep: list[Upkeep] = Field(
        default=[], max_length=60, description="Work that comes round again.", json_schema_extra={"unit": "list"}
    )
    rounds: list[Round] = Field(
        default_factory=usual_rounds,
        max_length=20,
        description="Check lists that are walked.",
        json_schema_extra={"unit": "list"},
    )

    @model_validator(mode="after")
    def _names_are_unique(self) -> Coach:
        named: tuple[tuple[str, list[str]], ...] = (
            ("tanks", [tank.name for tank in self.tanks]),
            ("kit", [item.id for item in self.kit]),
            ("upkeep", [item.id for item in self.upkeep]),
            ("rounds", [item.name for item in self.rounds]),
            ("propane.cylinders", [c.role for c in self.propane.cylinders if c.role != "spare"]),
        )
        for label, names in named:
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise ValueError(f"{label}: {', '.join(twice)} is there twice; give each its own name")
        if "fresh" not in [t.name for t in self.tanks] or "waste" not in [t.name for t in self.tanks]:
            raise ValueError("tanks: a coach needs one tank called fresh and one called waste")
        return self

    def tank(self, name: str) -> Tank:
        """The tank of that name. Raises KeyError when the coach has none."""
        for tank in self.tanks:
            if tank.name == name:
                return tank
        raise KeyError(name)

    def cylinder(self, role: str) -> Cylinder | None:
        """The first cylinder of that role, or None."""
        return next((c for c in self.propane.cylinders if c.role == role), None)


P = TypeVar("P", bound=BaseModel)


def part_of(annotation: Any) -> type[BaseModel] | None:
    """The model that an annotation names, through lists and optionals."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for inner in get_args(annotation) if (found := part_of(inner))), None)


def rebuilt(model: type[P], stored: dict[str, Any]) -> P:
    """A model from its own JSON dump, without checking it again: a quick start, for dumps that we made."""
    values = dict(stored)
    for name, field in model.model_fields.items():
        if name not in values and field.is_required():
            raise KeyError(name)
        inner, value = part_of(field.annotation), values.get(name)
        if inner is not None and isinstance(value, list):
            values[name] = [rebuilt(inner, item) for item in value]
        elif inner is not None and value is not None:
            values[name] = rebuilt(inner, value)
        elif isinstance(value, str) and date in (field.annotation, *get_args(field.annotation)):
            values[name] = date.fromisoformat(value)
    made: P = model.model_construct(**values)
    return made


def facts(coach: Coach) -> dict[str, str]:
    """Every placeholder a procedure may name, with the words that stand for it on this coach."""

    def say(value: float, unit: str) -> str:
        return spoken(value, unit, coach.units)

    fresh, waste = coach.tank("fresh"), coach.tank("waste")
    feeding = [c for c in coach.propane.cylinders if c.role != "spare"]
    outside, inside, spare = (coach.cylinder(role) for role in ("outside", "inside", "spare"))
    shore, cord, wheels = coach.shore, coach.shore.cord, coach.wheels
    switch = {s.name: s for s in coach.switches}
    found = {
        "coach.name": coach.name,
        "fresh.capacity": say(fresh.capacity_gal, "gal"),
        "fresh.side": fresh.side,
        "fresh.bay": fresh.bay,
        "fresh.fill_place": fresh.fill_place,
        "fresh.overflow_place": fresh.overflow_place,
        "fresh.drain_place": fresh.drain_place,
        "fresh.level_view_place": fresh.level_view_place,
        "fresh.heat_pad": say(fresh.heat_pad_w, "W"),
        "fresh_hose.length": say(coach.fresh_hose.length_ft, "ft"),
        "fresh_hose.place": coach.fresh_hose.place,
        "waste.capacity": say(waste.capacity_gal, "gal"),
        "waste.side": waste.side,
        "waste.bay": waste.bay,
        "waste.drain_place": waste.drain_place,
        "waste.valve_place": waste.valve_place,
        "waste.level_view_place": waste.level_view_place,
        "waste_hose.length": say(coach.waste_hose.length_ft, "ft"),
        "waste_hose.place": coach.waste_hose.place,
        "toilet.bowl_to_tank": say(coach.toilet.bowl_to_tank_in, "in"),
        "pump.switch_place": coach.toilet.pump_switch_place,
        "propane.size": say(feeding[0].nominal_lb, "lb") if feeding else "none",
        "propane.count": str(len(feeding)),
        "propane.changeover_place": coach.propane.changeover_place,
        "propane.shutoff_place": coach.propane.shutoff_place,
        "furnace.count": str(len(coach.furnaces)),
        "furnace.places": " and ".join(f.place for f in coach.furnaces) or NOT_NAMED,
        "cabin.setpoint": say(coach.cabin.setpoint_f, "degF"),
        "cabin.night_setpoint": say(coach.cabin.night_setpoint_f, "degF"),
        "cabin.thermostat_place": coach.cabin.thermostat_place,
        "cabin.co_alarm_place": coach.cabin.co_alarm_place,
        "cabin.exits": coach.cabin.exits,
        "shore.amps": say(shore.amps, "A"),
        "shore.volts": say(shore.volts, "V"),
        "shore.inlet_place": shore.inlet_place,
        "shore.confirm_place": shore.confirm_place,
        "shore.panel_place": shore.panel_place,
        "shore.transfer_delay": say(shore.transfer_delay_min, "min"),
        "cord.length": say(cord.length_ft, "ft"),
        "cord.gauge": f"{cord.gauge_awg} gauge",
        "cord.place": cord.place,
        "cord.port_place": cord.port_place,
        "cord.adapter_place": cord.adapter_place,
        "house.volts": say(coach.house_battery.volts, "V"),
        "house.place": coach.house_battery.place,
        "house.charger_place": coach.house_battery.charger_place,
        "diesel.capacity": say(coach.diesel.capacity_gal, "gal"),
        "diesel.fill_place": coach.diesel.fill_place,
        "diesel.block_heater_place": coach.diesel.block_heater_place,
        "def.capacity": say(coach.diesel.def_capacity_gal, "gal"),
        "bays.team": _listed([b.name for b in coach.bays if b.users == "team"]),
        "bays.drivers": _listed([b.name for b in coach.bays if b.users == "drivers"]),
        "bays.equipment": _listed([b.name for b in coach.bays if b.users == "equipment"]),
        "bays.latch": coach.bay_latch,
        "wheels.front_psi": say(wheels.front_psi, "psi"),
        "wheels.rear_psi": say(wheels.rear_psi, "psi"),
        "wheels.torque": say(wheels.nut_torque_ft_lb, "ft_lb"),
        "wheels.recheck": say(wheels.recheck_miles, "mi"),
        "wheels.mounting": wheels.mounting,
        "people.max": str(coach.people.max_passengers),
        "people.drivers": str(coach.people.drivers),
    }
    for role, cylinder in (("outside", outside), ("inside", inside), ("spare", spare)):
        found[f"propane.{role}_place"] = cylinder.place if cylinder else "none"
    if coach.generator:
        found["generator.place"] = coach.generator.place
        found["generator.screen_place"] = coach.generator.screen_place
    if waste.heat_tape:
        found["heat_tape.light_place"] = waste.heat_tape.pilot_light_place
        found["heat_tape.light_color"] = waste.heat_tape.pilot_light_color
    for key, name in SWITCH_NAMES.items():
        found[f"switch.{key}"] = switch[name].place if name in switch else NOT_NAMED
    for item in coach.kit:
        found[f"kit.{item.id}"] = item.place
    return found


NOT_NAMED = "a place this coach's profile does not name"
"""What a sentence says instead of a place that nobody wrote down."""

SWITCH_NAMES = {
    "bay_lights": "bay lights",
    "rear_bay_lamp": "rear bay lamp",
    "scene_lights": "scene lights",
    "marker_lights": "marker lights",
}
"""Switches that procedures name, and what a profile calls them."""


def _listed(names: list[str]) -> str:
    if len(names) < 2:
        return "".join(names) or "none"
    return f"{', '.join(names[:-1])} and {names[-1]}"


CONDITIONS: dict[str, Callable[[Coach], bool]] = {
    "fresh-gauge": lambda c: c.tank("fresh").gauge,
    "waste-gauge": lambda c: c.tank("waste").gauge,
    "fresh-heat-pad": lambda c: c.tank("fresh").heat_pad_w > 0,
    "heat-tape": lambda c: c.tank("waste").heat_tape is not None,
    "second-cylinder": lambda c: sum(x.role != "spare" for x in c.propane.cylinders) > 1,
    "spare-cylinder": lambda c: c.cylinder("spare") is not None,
    "automatic-changeover": lambda c: c.propane.automatic_changeover,
    "cylinder-gauge": lambda c: any(x.gauge for x in c.propane.cylinders),
    "two-furnaces": lambda c: len(c.furnaces) > 1,
    "plug-pilot-light": lambda c: c.shore.pilot_light,
    "generator": lambda c: c.generator is not None,
    "def-tank": lambda c: c.diesel.def_capacity_gal > 0,
    "block-heater": lambda c: c.diesel.block_heater_place != "none",
    "two-drivers": lambda c: c.people.drivers > 1,
    "hub-piloted": lambda c: c.wheels.mounting == "hub-piloted",
    "marker-lamp": lambda c: any(s.circuit == "marker-lights" for s in c.switches),
}
"""Conditions that the profile decides. `freezing` is decided by the last outside temperature."""

SITUATIONS = frozenset({"freezing"})
"""Conditions that readings decide. When nothing is known they count as met: cold is assumed."""


def holds(condition: str, coach: Coach, *, freezing: bool | None = None) -> bool:
    """Whether a step with this condition applies; a leading `not ` turns it round.

    Raises:
        KeyError: nobody knows the condition.
    """
    negated = condition.startswith("not ")
    name = condition.removeprefix("not ")
    met = (freezing is not False) if name in SITUATIONS else CONDITIONS[name](coach)
    return met is not negated
