"""Sums told in passing: bare levels beside a unit, bottles named by their pounds, paces and goes; every figure by hand (arithmetic, no source needed)."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_plainly import told_plainly
from cabassist.sums.working_order import levels_told

NOW = datetime(2026, 1, 15, 10, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        # A level that moved over a span, and where it stands.
        ("eight gallons of water gone in two hours and thirty six still in the fresh how long at that pace", 9.0, "h"),
        ("in two hours the fresh gave up ten gallons, now forty gallons, how many more hours like that", 8.0, "h"),
        ("in the last four hours the waste rose twelve gallons, it's fifty six now, hours to full", 8.0, "h"),
        ("black tank took in ten gallons the last four hours, stands at fifty five, how many hours to full", 10.0, "h"),
        ("nine pounds of propane gone in six hours and twenty one still in the bottle, how long", 14.0, "h"),
        ("the fresh dropped 20 liters in 2 hours, 200 now, how many hours left", 20.0, "h"),
        ("fresh was full at six am, its two in the afternoon and we are at sixty percent, how long will it last", 12.0, "h"),
        ("dumped the waste at ten am, at four pm it's 24 gallons, when is it full", 14.0, "h"),
        ("woke up at five am, it was thirty two pounds at nine pm, now twenty four, when are we out", 24.0, "h"),
        # Propane.
        ("could i put twelve more pounds into a thirty pound cylinder that's a quarter full", 19.5, "lb"),
        ("minus ten out, is thirty five pounds in the forty fine", 35.0, "lb"),
        ("both forties empty, could they take seventy eight pounds between them", 78.0, "lb"),
        ("two thirties, can i put 28 pounds in each", 56.0, "lb"),
        ("how many thirty pound bottles do we need for four nights when each night uses fifteen pounds", 2.0, "cylinders"),
        ("a night burns twelve pounds, how many twenty pound cylinders for five nights", 3.0, "cylinders"),
        ("both bottles together weighed a hundred pounds with 56 pounds of steel, 1.1 pounds an hour, how many hours", 40.0, "h"),
        ("both bottles weighed 108 pounds with 30 pounds of steel each, 1.5 pounds an hour, how many hours", 32.0, "h"),
        ("we lose 21548 btu an hour, furnaces eighty percent, from ten pm to six am, how many pounds of propane", 10.0, "lb"),
        ("from full on a forty pounder its down to a half in ten hours, what's the burn", 2.0, "lb/h"),
        # One tank.
        ("it's eight pm and the fresh has twenty gallons, want it at eighty by eight thirty pm, what flow do i need", 2.0, "gal/min"),
        ("the gauge says point seven, hose 6 gpm, how long till full", 6.0, "min"),
        ("black's at seventy gallons, each time somebody goes thats half a gallon, how many more goes has it got", 20.0, "times"),
        ("can the waste take twenty more gallons, it stands at fifty two", 72.0, "gal"),
        ("grey at thirty two gallons of eighty, four gallons an hour, if they ease off to three how much later is it full", 4.0, "h"),
        ("is sixty gallons enough for twenty seven if eighteen used thirty six same per person", 54.0, "gal"),
        ("waste full in nine hours they say, fresh forty gallons at five gallons an hour, which is first", 8.0, "h"),
        ("was eighteen inches in fresh this morning and eleven tonight, what did they use in gallons", 35.0, "gal"),
        ("four foot long eighteen inches wide fifteen deep, what's it hold", 48 * 18 * 15 / 231, "gal"),
        ("two hoses on, four gallons a minute plus two, sixty gallons to go, how long", 10.0, "min"),
        # Bleach that is left.
        ("only five ounces of the six percent bleach left, how much water can i make fifty ppm with it", 46.875, "gal"),
    ],
)  # fmt: skip
def test_what_is_told_in_passing_is_worked_out(text: str, value: float, unit: str, coach: Coach) -> None:
    found = told_plainly(read_question(text), coach, NOW)
    assert found is not None
    assert found[1].value == pytest.approx(value, rel=0.002)
    assert found[1].unit == unit


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("its twenty below so forty five pounds in the forty should be alright, no?", "No."),
        ("would fifty pounds in a forty be too much", "Yes, that is too much"),
        ("both twenties are empty, can they take forty five pounds between them", "No."),
        ("twenty five pounds more into a forty pounder thats half full, fine?", "No."),
        ("is it ok to squeeze another ten pounds in a forty pound bottle that is three quarters full", "Weigh it first."),
        ("can the holding tank hold fifteen more gallons, its on seventy", "No: 85 gallons"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said_so(text: str, said: str, coach: Coach) -> None:
    found = told_plainly(read_question(text), coach, NOW)
    assert found is not None
    assert found[1].verdict.startswith(said)


@pytest.mark.parametrize(
    "text",
    [
        "can the waste take twenty more flushes, it stands at sixty gallons",
        "will fifteen pounds in the forty make it to morning",
        "would thirty pounds in both forties get us through the night",
        "six gallons went in two hours, forty now, how long",  # in, or gone
        "in the last three hours it rose nine gallons, it's sixty five now, how long till full",  # which tank
        "waste lost nine gallons in three hours, it's sixty five now, how long",
        "the waste rose nine gallons in three hours, fifteen gallons of room, how many hours",
        "we had a full tank of propane at noon, its eight in the evening and the gauge shows a third, how much longer",
    ],
)
def test_what_is_open_is_left_to_others(text: str, coach: Coach) -> None:
    assert told_plainly(read_question(text), coach, NOW) is None


def test_a_bare_level_is_said_with_the_unit_it_was_taken_in(coach: Coach) -> None:
    found = told_plainly(
        read_question("waste climbed eight gallons over two hours and its at sixty, how long till full"), coach, NOW
    )
    assert found is not None
    assert "I took 60 as gallons." in found[1].verdict


@pytest.mark.parametrize(
    ("text", "levels"),
    [
        ("nine kilos in the left one, fourteen in the right, which bottle first", [("left", 9.0, "kg"), ("right", 14.0, "kg")]),
        ("left bottle point six, right bottle point two, which first", [("left", 0.6, "part"), ("right", 0.2, "part")]),
        ("near bottle has eleven pounds and the far bottle thirty pounds, which first", [("near", 11.0, "lb"), ("far", 30.0, "lb")]),
        ("front bottle was half this morning, now its a quarter, rear is three quarters, which first", [("front", 0.25, "part"), ("rear", 0.75, "part")]),
    ],
)  # fmt: skip
def test_what_is_in_each_cylinder_now(text: str, levels: list[tuple[str, float, str]]) -> None:
    assert list(levels_told(read_question(text))) == levels


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("clock's five to nine pm, leaving nine twenty pm", ["clock", "clock"]),
        ("fresh was eighteen inches this morning and eleven tonight", ["in", "n"]),
        ("the fresh is eighteen inches, we leave at eleven tonight", ["in", "clock"]),
    ],
)
def test_times_of_day_beside_levels(text: str, tags: list[str]) -> None:
    assert [one.tag for one in read_question(text).amounts] == tags
