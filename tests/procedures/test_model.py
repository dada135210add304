"""The shape of a procedure: what is required, what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from cabassist.procedures.library import Calculation, Harmless, Vague, Wish
from cabassist.procedures.model import READING_NAMES, Caution, Procedure, Source, Step, Wait


def body(**fields: Any) -> dict[str, Any]:
    """The smallest sound procedure, with some fields replaced; a field given as None is left out."""
    whole = {
        "id": "close-the-valve",
        "system": "water",
        "kind": "procedure",
        "title": "Close the valve",
        "summary": "The valve is closed and stays closed.",
        "asks": [f"how do I close it, number {n}" for n in range(15)],
        "steps": [{"do": "Turn the valve."}, {"do": "Check the valve."}],
        "never": ["Never force it."],
        "stop_when": ["It does not turn."],
        "call": "The carrier's maintenance.",
        "sources": [{"name": "Turning it by hand", "kind": "common practice"}],
        **fields,
    }
    return {name: value for name, value in whole.items() if value is not None}


def fault(**fields: Any) -> str:
    """What the model says about a procedure with these fields."""
    with pytest.raises(ValidationError) as caught:
        Procedure.model_validate(body(**fields))
    return str(caught.value)


def test_the_smallest_procedure_is_sound():
    """What may be left out is empty."""
    made = Procedure.model_validate(body())

    assert made.cautions == made.needs == made.then == made.related == made.offers == []
    assert made.escape == ""
    assert made.steps[0] == Step(do="Turn the valve.")


@pytest.mark.parametrize(
    "name",
    ["id", "system", "kind", "title", "summary", "asks", "steps", "never", "stop_when", "call", "sources"],
)
def test_what_every_procedure_must_have(name: str):
    """Leaving it out is an error that names it."""
    assert f"{name}\n  Field required" in fault(**{name: None})


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"asks": ["only one"]}, "at least 15 items"),
        ({"asks": [f"ask {n}" for n in range(14)]}, "at least 15 items"),
        ({"steps": [{"do": "Turn it."}]}, "at least 2 items"),
        ({"steps": [{"do": "Turn it."}] * 31}, "at most 30 items"),
        ({"never": []}, "at least 1 item"),
        ({"stop_when": []}, "at least 1 item"),
        ({"sources": []}, "at least 1 item"),
        ({"sources": [{"name": "Somebody said", "kind": "hearsay"}]}, "'published', 'common practice' or 'from memory'"),
        ({"id": "Close The Valve"}, "should match pattern"),
        ({"id": "close--valve"}, "should match pattern"),
        ({"system": "engine"}, "'water', 'waste', 'propane'"),
        ({"kind": "tip"}, "'procedure' or 'hazard'"),
        ({"title": "x" * 71}, "at most 70 characters"),
        ({"cautions": [{"signal": "ATTENTION", "text": "Mind the edge."}]}, "'DANGER', 'WARNING', 'CAUTION' or 'NOTICE'"),
        ({"cautions": [{"signal": "NOTICE", "text": "Mind."}]}, "at least 8 characters"),
        ({"hint": "x"}, "Extra inputs are not permitted"),
        ({"steps": [{"do": "Turn it.", "then": "x"}, {"do": "Look."}]}, "Extra inputs are not permitted"),
        ({"kind": "hazard"}, "a hazard needs an escape line"),
        ({"escape": "Get out now."}, "only a hazard has one"),
        ({"steps": [{"do": "Read it.", "reading": "depth"}, {"do": "Look."}]}, "reading 'depth' is not one of fresh"),
        ({"steps": [{"do": "Fill it.", "ends_when": "full"}, {"do": "Look."}]}, "ends_when needs a reading"),
        ({"steps": [{"do": "Fill it.", "reading": "fresh", "ends_when": "half"}, {"do": "Look."}]}, "'full' or 'empty'"),
        ({"steps": [{"do": "Wait.", "wait": {"minutes": 5}}, {"do": "Look."}]}, "Field required"),
    ],
)  # fmt: skip
def test_what_a_procedure_may_not_be(fields: dict[str, Any], said: str):
    """Each rule of the shape refuses its failing example."""
    assert said in fault(**fields)


def test_a_hazard_has_an_escape_line():
    """With its escape line a hazard is sound."""
    made = Procedure.model_validate(body(kind="hazard", escape="Get everyone out now."))

    assert made.escape == "Get everyone out now."


@pytest.mark.parametrize("minutes", [-10, 0, float("nan"), float("inf"), 1e12, ""])
def test_a_wait_is_a_time_that_passes(minutes: object):
    """A timer can only be made from minutes above zero that end some day."""
    with pytest.raises(ValidationError):
        Wait.model_validate({"minutes": minutes, "reason": "the transfer", "announce": "The time is over."})


def test_a_procedure_does_not_change_once_it_is_read():
    """The walk in hand cannot alter the knowledge."""
    made = Procedure.model_validate(body())
    with pytest.raises(ValidationError):
        made.steps[0].do = "Something else."  # type: ignore[misc]


def fields_of(*models: type[BaseModel]) -> Iterator[tuple[str, str]]:
    """Every field of these models with its sentence."""
    for model in models:
        for name, field in model.model_fields.items():
            yield f"{model.__name__}.{name}", field.description or ""


def test_every_field_has_a_sentence_for_the_trainers_guide():
    """The guide is made from these, so none may be missing."""
    without = [
        name
        for name, sentence in fields_of(Procedure, Step, Caution, Wait, Source, Wish, Vague, Calculation, Harmless)
        if not sentence.endswith(".")
    ]

    assert without == []


def test_readings_have_the_names_of_the_scripting_contract():
    """The list is the contract's, in its order; a profile may add more."""
    assert READING_NAMES == (
        "fresh", "waste", "propane", "house_battery", "diesel", "def", "outside_temp", "inside_temp", "shore_voltage",
        "tire_pressure", "air_pressure", "odometer", "passengers", "co_ppm", "generator_hours",
    )  # fmt: skip
