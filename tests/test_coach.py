"""The coach profile: what it takes, what it refuses and how it says so."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from pydantic import BaseModel, ValidationError

from cabassist.coach import CONDITIONS, SITUATIONS, Coach, Part, facts, holds, rebuilt
from cabassist.dialogue.session import load_coach
from cabassist.errors import ContentProblems
from cabassist.procedures import yamlfile
from cabassist.procedures.checker import texts
from cabassist.procedures.library import Knowledge
from cabassist.procedures.model import Step
from cabassist.units import parse_to

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
Other = Callable[[dict[str, Any]], Coach]


def read(text: str) -> Coach:
    """A profile from its text."""
    return yamlfile.validate(yamlfile.parse(text, "coach.yaml"), Coach)


def changed(text: str, old: str, new: str) -> str:
    """The text with the first `old` replaced; a test that no longer fits the demo coach fails here."""
    assert old in text
    return text.replace(old, new, 1)


def line_of(text: str, needle: str) -> int:
    """The 1-based line on which `needle` begins."""
    return text[: text.index(needle)].count("\n") + 1


# -- what the demo coach is -------------------------------------------------------------------------


def test_the_demo_coach_has_the_assumed_values(coach: Coach):
    """The bundled profile is the coach that question sets and calculations assume."""
    assert (coach.tank("fresh").capacity_gal, coach.tank("fresh").depth_in) == (120, 24)
    assert (coach.tank("waste").capacity_gal, coach.tank("waste").depth_in) == (80, 20)
    assert (coach.diesel.capacity_gal, coach.diesel.def_capacity_gal) == (200, 15)
    assert {cylinder.nominal_lb for cylinder in coach.propane.cylinders} == {40}
    assert coach.house_battery.volts == 12
    assert coach.people.max_passengers == 40
    assert coach.drive == "left-hand"


def test_the_demo_coach_is_equipped_as_the_procedures_expect(coach: Coach):
    """No gauges on the tanks, a heat tape with a light, two cylinders that change over by themselves, a spare."""
    waste = coach.tank("waste")

    assert not coach.tank("fresh").gauge
    assert not waste.gauge
    assert waste.heat_tape is not None
    assert waste.heat_tape.pilot_light_color == "red"
    assert coach.propane.automatic_changeover
    assert [cylinder.role for cylinder in coach.propane.cylinders] == ["outside", "inside", "spare"]
    assert coach.shore.pilot_light
    assert coach.shore.transfer_delay_min == 10
    assert coach.people.drivers == 2


def test_a_profile_does_not_change_once_it_is_read(coach: Coach):
    """Nothing in the program can alter the coach behind another part's back."""
    with pytest.raises(ValidationError):
        coach.name = "another"  # type: ignore[misc]


def test_tanks_and_cylinders_are_found_by_name(coach: Coach):
    """A tank that is not there is a KeyError, a cylinder that is not there is None."""
    outside = coach.cylinder("outside")

    assert coach.tank("waste").name == "waste"
    assert outside is not None
    assert outside.role == "outside"
    assert coach.cylinder("upstairs") is None
    with pytest.raises(KeyError):
        coach.tank("galley")


# -- every field explains itself --------------------------------------------------------------------


def part_of(annotation: Any) -> type[Part] | None:
    """The part of the profile in an annotation, through lists and optionals."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation  # type: ignore[return-value]
    return next((found for inner in get_args(annotation) if (found := part_of(inner))), None)


def all_fields(model: type[Part] = Coach) -> Iterator[tuple[str, Any]]:
    """Every field of the profile with its path, parts of parts included."""
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        if inner is not None:
            for below, found in all_fields(inner):
                yield f"{name}.{below}", found
        else:
            yield name, field


LEAVES = dict(all_fields())
MEASURED = {
    name: field
    for name, field in LEAVES.items()
    if isinstance(field.json_schema_extra, dict) and field.json_schema_extra.get("measured")
}


@pytest.mark.parametrize("name", sorted(LEAVES))
def test_every_field_has_a_unit_and_a_sentence_of_help(name: str):
    """The interview and the error messages are made from these."""
    field = LEAVES[name]

    assert isinstance(field.json_schema_extra, dict)
    assert field.json_schema_extra["unit"]
    assert re.fullmatch(r"\S.*\.", field.description)


@pytest.mark.parametrize("name", sorted(MEASURED))
def test_every_measured_field_has_a_range(name: str):
    """A slip of one digit is caught where it is made."""
    low = next(m.ge for m in MEASURED[name].metadata if hasattr(m, "ge"))
    high = next(m.le for m in MEASURED[name].metadata if hasattr(m, "le"))

    assert low < high


FAULTY_UNITS = {
    "degF": "parse_to cannot read temperatures",
    "fraction": "pint has no unit called fraction",
}


@pytest.mark.parametrize(
    "unit",
    sorted({str(field.json_schema_extra["unit"]) for field in MEASURED.values()} - {"1"}),
)
def test_every_unit_of_the_profile_can_be_written_out(unit: str):
    """A value with the very unit that the help names is read."""
    assert parse_to(f"50 {unit}", unit) == pytest.approx(50)


# -- quantities -------------------------------------------------------------------------------------

CAPACITY = "    capacity_gal: 120\n"


@pytest.mark.parametrize(
    ("written", "gallons"),
    [
        ("450 L", 118.877),
        ("0.45 m^3", 118.877),
        ("120 gal", 120.0),
        ("99.9 imperial_gallon", 119.975),
        ("120.5", 120.5),
    ],
)
def test_a_capacity_may_be_written_with_any_unit_of_volume(coach_text: str, written: str, gallons: float):
    """450 L become gallons (231 cubic inches each, NIST Handbook 44); imperial gallons are 4.54609 L."""
    made = read(changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n"))

    assert made.tank("fresh").capacity_gal == pytest.approx(gallons, abs=0.001)


@pytest.mark.parametrize(
    ("old", "new", "value"),
    [
        ("  setpoint_f: 66\n", "  setpoint_f: 19 degC\n", 66.2),
        ("  setpoint_f: 66\n", "  setpoint_f: '66'\n", 66.0),
        ("    efficiency: 0.78\n", "    efficiency: 78 percent\n", 0.78),
    ],
)
def test_a_temperature_or_a_share_may_have_its_unit_too(coach_text: str, old: str, new: str, value: float):
    """Celsius for a thermostat and percent for an efficiency are taken like litres for a tank."""
    made = read(changed(coach_text, old, new))

    assert value in (
        pytest.approx(made.cabin.setpoint_f, abs=0.01),
        pytest.approx(made.furnaces[0].efficiency, abs=0.0001),
    )


# Both sides of each bound, and what is no number at all.
@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("0.99", "greater than or equal to 1"),
        ("500.1", "less than or equal to 500"),
        ("1900 L", "less than or equal to 500"),
        ("-120", "greater than or equal to 1"),
        (".inf", "less than or equal to 500"),
        (".nan", "less than or equal to 500"),
        ("null", "valid number"),
        ("[120]", "valid number"),
        ("{gal: 120}", "valid number"),
    ],
)
def test_a_value_out_of_range_names_file_line_field_and_what_is_allowed(coach_text: str, written: str, said: str):
    """The message leads to the place and says the bound, the meaning and the unit."""
    text = changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n")
    with pytest.raises(ContentProblems) as caught:
        read(text)
    (problem,) = caught.value.problems

    assert (problem.file, problem.line) == ("coach.yaml", line_of(text, f"capacity_gal: {written}"))
    assert problem.where == "tanks[0].capacity_gal"
    assert said in problem.message
    assert "Capacity when full." in problem.message
    assert "Unit: gal" in problem.message


@pytest.mark.parametrize("written", ["1", "500", "1892.7 L"])
def test_the_bounds_themselves_are_allowed(coach_text: str, written: str):
    """From 1 to 500 gallons, both included."""
    made = read(changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n"))

    assert 1 <= made.tank("fresh").capacity_gal <= 500


@pytest.mark.parametrize("written", ["5 ft", "5 bananas", "''", "a lot"])
def test_text_that_is_no_quantity_is_refused(coach_text: str, written: str):
    """The message repeats the text and names the unit wanted."""
    with pytest.raises(ContentProblems, match="cannot be read as a quantity in gal"):
        read(changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n"))


@pytest.mark.parametrize("written", ["5 ft", "5 bananas"])
def test_text_that_is_no_quantity_names_its_own_field_and_line(coach_text: str, written: str):
    """A wrong unit is reported where it stands, with the meaning of the field, like a wrong number."""
    text = changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n")
    with pytest.raises(ContentProblems) as caught:
        read(text)
    (problem,) = caught.value.problems

    assert problem.line == line_of(text, f"capacity_gal: {written}")
    assert problem.where == "tanks[0].capacity_gal"
    assert "Capacity when full." in problem.message


@pytest.mark.parametrize("written", ["'1/0 gal'", "'((((('"])
def test_a_broken_expression_in_a_profile_is_an_ordinary_problem(coach_text: str, written: str):
    """No text in a profile raises anything but ContentProblems."""
    with pytest.raises(ContentProblems):
        read(changed(coach_text, CAPACITY, f"    capacity_gal: {written}\n"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (CAPACITY, "    capacity_gal: yes\n"),
        ("  drivers: 2\n", "  drivers: on\n"),
    ],
)
def test_yes_is_not_a_number(coach_text: str, old: str, new: str):
    """A yes where a number belongs is refused; it does not become one gallon or one driver."""
    with pytest.raises(ContentProblems):
        read(changed(coach_text, old, new))


# -- other wrong input ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "at", "where", "said"),
    [
        # an unknown key gets the nearest known one
        ("    bay: bay 3", "    baay: bay 3", "baay:", "tanks[0].baay", ["'baay' is not known", "did you mean 'bay'?"]),
        ("toilet:", "toillet:", "toillet:", "toillet", ["'toillet' is not known", "did you mean 'toilet'?"]),
        # nothing is near: all that is allowed
        ("  flush_gal", "  zzz: 1\n  flush_gal", "zzz:", "toilet.zzz", ["bowl_to_tank_in, flush_gal, pump_switch_place"]),
        # one of a few words
        ("    side: left\n", "    side: port\n", "side: port", "tanks[0].side", ["'left', 'right', 'rear'", "'port'"]),
        ("    shape: rect", "    shape: round-rect", "shape: round", "tanks[0].shape", ["horizontal-cylinder"]),
        ("  volts: 12\n", "  volts: 13\n", "volts: 13", "house_battery.volts", ["12 or 24", "not 13"]),
        # counted, not measured
        ("    gauge_awg: 10\n", "    gauge_awg: 3\n", "gauge_awg", "shore.cord.gauge_awg", ["equal to 4", "Wire size"]),
        ("    gauge_awg: 10\n", "    gauge_awg: 9.5\n", "gauge_awg", "shore.cord.gauge_awg", ["integer", "not 9.5"]),
        # names and places
        ("id: northern", "id: Northern", "id: North", "id", ["pattern", "Short hyphenated name"]),
        ("name: the Loon", "name: x", "name: x", "name", ["at least 2 characters", "What people call it."]),
        ("name: the Loon", f"name: {'x' * 81}", "name: xx", "name", ["at most 80 characters"]),
        # a date
        ("made: 2019-05-01", "made: some day", "made: some", "propane.cylinders[0].made", ["date", "'some day'"]),
        # lists
        ("bays:\n", "bays: []\nbay_s:\n", "bays: []", "bays", ["at least 1"]),
        ("kit:\n", "kit: 5\nkits:\n", "kit: 5", "kit", ["list", "not 5", "Carried kit."]),
        # a part that is no part
        ("toilet:\n", "toilet: blue\ntoilets:\n", "toilet: blue", "toilet", ["not 'blue'"]),
    ],
)  # fmt: skip
def test_wrong_input_names_line_field_and_what_is_allowed(
    coach_text: str, old: str, new: str, at: str, where: str, said: list[str]
):
    """Whatever is wrong, the message leads there and says what would be right."""
    text = changed(coach_text, old, new)
    with pytest.raises(ContentProblems) as caught:
        read(text)
    problem = next(p for p in caught.value.problems if p.where == where)

    assert str(problem).startswith(f"coach.yaml:{line_of(text, at)}: {where}: ")
    for words in said:
        assert words in problem.message


def test_a_wrong_yes_or_no_says_what_is_allowed(coach_text: str):
    """A gauge is true or false; the message says these two words."""
    with pytest.raises(ContentProblems) as caught:
        read(changed(coach_text, "    gauge: false\n", "    gauge: sometimes\n"))

    assert "true" in str(caught.value)
    assert "false" in str(caught.value)


@pytest.mark.parametrize(
    ("old", "where", "help_words"),
    [
        (CAPACITY, "tanks[0].capacity_gal", "Capacity when full. Unit: gal"),
        ("id: northern-loon\n", "id", "Short hyphenated name of the coach."),
        ("      tare_lb: 30\n", "propane.cylinders[0].tare_lb", "Empty weight, the TW stamp. Unit: lb"),
    ],
)  # fmt: skip
def test_a_missing_field_is_named_with_its_help(coach_text: str, old: str, where: str, help_words: str):
    """The line is that of the part that lacks it."""
    with pytest.raises(ContentProblems) as caught:
        read(changed(coach_text, old, ""))
    (problem,) = caught.value.problems

    assert problem.where == where
    assert "is missing" in problem.message
    assert help_words in problem.message


@pytest.mark.parametrize("new", ["", "    capacity_gal: [120]\n", "    capacity_gal: 900\n"])
def test_a_problem_of_a_measured_field_says_its_whole_range(coach_text: str, new: str):
    """Missing, not a number or too large: the answer to "what then?" is "1 to 500 gal" each time."""
    with pytest.raises(ContentProblems) as caught:
        read(changed(coach_text, CAPACITY, new))

    assert "1 to 500" in str(caught.value)


def test_all_problems_are_told_at_once(coach_text: str):
    """Two slips give two messages."""
    text = changed(changed(coach_text, CAPACITY, "    capacity_gal: 0\n"), "  volts: 12\n", "  volts: 13\n")
    with pytest.raises(ContentProblems) as caught:
        read(text)

    assert [p.where for p in caught.value.problems] == ["tanks[0].capacity_gal", "house_battery.volts"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("  - name: waste\n", "  - name: fresh\n", "tanks: fresh is there twice"),
        ("  - name: waste\n", "  - name: galley\n", "one tank called fresh and one called waste"),
        ("id: flashlight,", "id: gloves,", "kit: gloves is there twice"),
        ("    - role: inside\n", "    - role: outside\n", "propane.cylinders: outside is there twice"),
    ],
)
def test_parts_that_do_not_fit_together_are_refused(coach_text: str, old: str, new: str, said: str):
    """Names are unique, and every coach has a fresh and a waste tank."""
    with pytest.raises(ContentProblems, match=said):
        read(changed(coach_text, old, new))


def test_several_spare_cylinders_are_allowed(coach: Coach, other_coach: Other):
    """Only the places that feed are unique."""
    propane = coach.propane.model_dump()
    propane["cylinders"].append({**propane["cylinders"][2], "place": "the rack in bay 9"})

    assert len(other_coach({"propane": propane}).propane.cylinders) == 4


# -- conditions -------------------------------------------------------------------------------------


def tank(coach: Coach, name: str, **fields: Any) -> dict[str, Any]:
    """The tanks with one of them altered."""
    return {"tanks": [{**t.model_dump(), **(fields if t.name == name else {})} for t in coach.tanks]}


def cylinders(coach: Coach, roles: tuple[str, ...], **fields: Any) -> dict[str, Any]:
    """The propane with only these cylinders, each altered."""
    kept = [{**c.model_dump(), **fields} for c in coach.propane.cylinders if c.role in roles]
    return {"propane": {**coach.propane.model_dump(), "cylinders": kept}}


OPPOSITES: dict[str, Callable[[Coach], dict[str, Any]]] = {
    "fresh-gauge": lambda c: tank(c, "fresh", gauge=True),
    "waste-gauge": lambda c: tank(c, "waste", gauge=True),
    "fresh-heat-pad": lambda c: tank(c, "fresh", heat_pad_w=0),
    "heat-tape": lambda c: tank(c, "waste", heat_tape=None),
    "second-cylinder": lambda c: cylinders(c, ("outside", "spare")),
    "spare-cylinder": lambda c: cylinders(c, ("outside", "inside")),
    "automatic-changeover": lambda c: {"propane": {**c.propane.model_dump(), "automatic_changeover": False}},
    "cylinder-gauge": lambda c: cylinders(c, ("outside", "inside", "spare"), gauge=False),
    "two-furnaces": lambda c: {"furnaces": [c.furnaces[0].model_dump()]},
    "plug-pilot-light": lambda c: {"shore": {**c.shore.model_dump(), "pilot_light": False}},
    "generator": lambda c: {"generator": None},
    "def-tank": lambda c: {"diesel": {**c.diesel.model_dump(), "def_capacity_gal": 0}},
    "block-heater": lambda c: {"diesel": {**c.diesel.model_dump(), "block_heater_place": "none"}},
    "two-drivers": lambda c: {"people": {**c.people.model_dump(), "drivers": 1}},
    "hub-piloted": lambda c: {"wheels": {**c.wheels.model_dump(), "mounting": "stud-piloted"}},
    "marker-lamp": lambda c: {"switches": []},
}
"""For each condition, the change that turns it round on the demo coach."""


def test_every_condition_has_a_coach_that_turns_it_round():
    """The table above misses none."""
    assert OPPOSITES.keys() == CONDITIONS.keys()


@pytest.mark.parametrize("condition", sorted(OPPOSITES))
def test_a_condition_follows_the_profile(coach: Coach, other_coach: Other, condition: str):
    """The demo coach has no tank gauges and all the rest; one change turns each condition round."""
    here = not condition.endswith(("fresh-gauge", "waste-gauge"))
    other = other_coach(OPPOSITES[condition](coach))

    assert holds(condition, coach) is here
    assert holds(condition, other) is not here
    assert holds(f"not {condition}", coach) is not here
    assert holds(f"not {condition}", other) is here


@pytest.mark.parametrize(("freezing", "cold"), [(True, True), (False, False), (None, True)])
def test_cold_is_assumed_until_a_reading_says_otherwise(coach: Coach, freezing: bool | None, cold: bool):
    """When nothing is known about the weather, the steps for frost are kept."""
    assert holds("freezing", coach, freezing=freezing) is cold
    assert holds("not freezing", coach, freezing=freezing) is not cold


@pytest.mark.parametrize("condition", ["heat_tape", "", "not ", "freezingg", "not not freezing"])
def test_an_unknown_condition_is_an_error(coach: Coach, condition: str):
    """A misspelt condition never silently drops a step."""
    with pytest.raises(KeyError):
        holds(condition, coach)


# -- facts ------------------------------------------------------------------------------------------


def steps_for(coach: Coach, knowledge: Knowledge, name: str, *, freezing: bool | None = None) -> list[Step]:
    """The steps of a procedure that apply to a coach."""
    steps = knowledge.procedure(name).steps
    return [step for step in steps if all(holds(c, coach, freezing=freezing) for c in step.only_when)]


def texts_of(step: Step) -> list[str]:
    """Every text of a step that a driver may be shown."""
    wait = [step.wait.reason, step.wait.announce] if step.wait else []
    return [step.do, step.why, step.done_when, *wait, *(caution.text for caution in step.cautions)]


def test_every_placeholder_of_the_knowledge_is_a_fact_of_the_demo_coach(coach: Coach, knowledge: Knowledge):
    """No driver of the demo coach is ever shown a hole."""
    known = facts(coach)
    used = {
        name
        for topic in knowledge.ids
        for _, text in texts(knowledge.procedure(topic))
        for name in PLACEHOLDER.findall(text)
    }

    assert used
    assert used <= known.keys()


def test_every_fact_is_plain_words(coach: Coach):
    """Facts are put into sentences as they are, so none is empty and none holds a placeholder."""
    for name, words in facts(coach).items():
        assert re.fullmatch(r"[a-z_]+\.[a-z0-9_-]+", name)
        assert words.strip() == words != ""
        assert "{" not in words


def test_facts_are_said_in_the_units_the_profile_prefers(coach: Coach, other_coach: Other):
    """120 gallons on a US coach are 454 litres on a metric one (by hand, 3.785 L to the gallon)."""
    metric = other_coach({"units": "metric"})

    assert facts(coach)["fresh.capacity"] == "120 gallons"
    assert facts(metric)["fresh.capacity"] == "454 litres"
    assert facts(coach)["shore.transfer_delay"] == facts(metric)["shore.transfer_delay"] == "10 minutes"


def test_places_of_the_kit_are_facts(coach: Coach):
    """Where each carried item is comes from the profile alone."""
    known = facts(coach)

    for item in coach.kit:
        assert known[f"kit.{item.id}"] == item.place


def test_bays_are_listed_by_who_may_use_them(coach: Coach, other_coach: Other):
    """Two are joined by "and", none is said to be none."""
    alone = other_coach({"bays": [coach.bays[0].model_dump()]})

    assert facts(coach)["bays.team"] == "bay 1 and bay 2"
    assert facts(alone)["bays.team"] == "bay 1"
    assert facts(alone)["bays.drivers"] == "none"


def holes(coach: Coach, knowledge: Knowledge) -> list[str]:
    """Where a step that applies to this coach names something that is not there."""
    known = facts(coach)
    return [
        f"{topic}: {{{name}}} in “{text}”"
        for topic in knowledge.ids
        for step in steps_for(coach, knowledge, topic)
        for text in texts_of(step)
        for name in PLACEHOLDER.findall(text)
        if known.get(name, "none") == "none"
    ]


LESSER: dict[str, Callable[[Coach], dict[str, Any]]] = {
    "no heat tape": OPPOSITES["heat-tape"],
    "no heat pad": OPPOSITES["fresh-heat-pad"],
    "one cylinder": lambda c: cylinders(c, ("outside",)),
    "no spare cylinder": OPPOSITES["spare-cylinder"],
    "no generator": OPPOSITES["generator"],
    "no exhaust fluid, no block heater": lambda c: {
        "diesel": {**c.diesel.model_dump(), "def_capacity_gal": 0, "block_heater_place": "none"}
    },
}
"""Coaches that lack something the demo coach has."""


@pytest.mark.parametrize("lacking", sorted(LESSER))
def test_a_coach_that_lacks_something_is_not_told_where_it_is(
    coach: Coach, other_coach: Other, knowledge: Knowledge, lacking: str
):
    """In the steps that are left, every place that is named is there: no hole and no "at none"."""
    other = other_coach(LESSER[lacking](coach))

    assert holes(other, knowledge) == []


@pytest.mark.parametrize("parts", [{"switches": []}, {"furnaces": []}], ids=["no switches", "no furnaces"])
def test_a_place_that_the_profile_leaves_out_is_not_called_none(
    other_coach: Other, knowledge: Knowledge, parts: dict[str, Any]
):
    """The profile may list no switches or furnaces; then a sentence says so, or the step is left out."""
    assert holes(other_coach(parts), knowledge) == []


@pytest.mark.parametrize(
    ("lacking", "condition"), [("no heat tape", "heat-tape"), ("one cylinder", "second-cylinder"), ("no generator", "generator")]
)  # fmt: skip
def test_steps_for_what_a_coach_lacks_are_dropped(
    coach: Coach, other_coach: Other, knowledge: Knowledge, lacking: str, condition: str
):
    """At least one procedure has a step with the condition; it is there for the demo coach and not for the other."""
    other = other_coach(LESSER[lacking](coach))
    with_it = [
        (topic, step.do)
        for topic in knowledge.ids
        for step in knowledge.procedure(topic).steps
        if condition in step.only_when
    ]

    assert with_it
    for topic, do in with_it:
        assert do in [step.do for step in steps_for(coach, knowledge, topic, freezing=True)]
        assert do not in [step.do for step in steps_for(other, knowledge, topic, freezing=True)]


@pytest.mark.parametrize("freezing", [True, False])
@pytest.mark.parametrize("lacking", [None, *sorted(LESSER)])
def test_no_procedure_is_left_without_steps(
    coach: Coach, other_coach: Other, knowledge: Knowledge, lacking: str | None, freezing: bool
):
    """Every procedure has something to do on every coach in every weather."""
    other = other_coach(LESSER[lacking](coach)) if lacking else coach
    empty = [topic for topic in knowledge.ids if not steps_for(other, knowledge, topic, freezing=freezing)]

    assert empty == []


def test_conditions_and_situations_do_not_share_a_name():
    """A condition is decided by the profile or by readings, never by both."""
    assert not CONDITIONS.keys() & SITUATIONS


# -- the compiled copy ------------------------------------------------------------------------------


@pytest.mark.parametrize("parts", [{}, {"generator": None, "loads": [], "switches": [], "units": "metric"}])
def test_a_coach_is_rebuilt_from_its_own_dump(other_coach: Other, parts: dict[str, Any]):
    """Without checking, and still the same to the last date and optional part."""
    made = other_coach(parts)
    again = rebuilt(Coach, made.model_dump(mode="json"))

    assert again == made
    assert facts(again) == facts(made)
    assert again.model_dump() == made.model_dump()


@pytest.fixture
def profile(tmp_path: Path, coach_text: str) -> Path:
    """A profile in a file of its own."""
    path = tmp_path / "coach.yaml"
    path.write_text(coach_text, encoding="utf-8")
    return path


def test_the_second_start_takes_the_compiled_copy(profile: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """No YAML is read while the file stays as it is."""
    first = load_coach(profile, tmp_path / "cache")

    def unexpected(*_: object) -> None:
        raise AssertionError("a YAML file was read")

    monkeypatch.setattr(yamlfile, "load", unexpected)

    assert load_coach(profile, tmp_path / "cache") == first


def test_a_changed_profile_is_read_again(profile: Path, tmp_path: Path):
    """An edit is seen at once, also one that keeps the size; a wrong one is refused."""
    load_coach(profile, tmp_path / "cache")
    text = profile.read_text(encoding="utf-8")
    profile.write_text(text.replace("capacity_gal: 120", "capacity_gal: 130"), encoding="utf-8")
    os.utime(profile, (2_000_000_000, 2_000_000_000))
    changed_to = load_coach(profile, tmp_path / "cache").tank("fresh").capacity_gal
    profile.write_text(text.replace("capacity_gal: 120", "capacity_gal: 999"), encoding="utf-8")
    with pytest.raises(ContentProblems):
        load_coach(profile, tmp_path / "cache")

    assert changed_to == 130


def test_two_coaches_do_not_share_a_copy(profile: Path, tmp_path: Path, coach_text: str):
    """The copy belongs to the file that it was made from."""
    other = tmp_path / "other.yaml"
    other.write_text(coach_text.replace("the Loon", "the Teal"), encoding="utf-8")

    for _ in range(2):
        assert load_coach(profile, tmp_path / "cache").name == "the Loon"
        assert load_coach(other, tmp_path / "cache").name == "the Teal"


@pytest.mark.parametrize(
    "damaged",
    [
        b"",
        b"null",
        b"5",
        b'{"tanks": [5]}',
        b'{"id": "northern-loon", "na',
        b"\xff\xfe",
        *(body for body in (b"{}", b"[]", b'{"id": "northern-loon", "name": "the Loon"}')),
    ],
)
def test_a_damaged_copy_is_made_again(profile: Path, tmp_path: Path, damaged: bytes):
    """A cache that a crash or a full disk left half written costs time and nothing else."""
    whole = load_coach(profile, tmp_path / "cache")
    (copy,) = (tmp_path / "cache").glob("coach-*.json")
    copy.write_bytes(damaged)

    assert load_coach(profile, tmp_path / "cache") == whole
