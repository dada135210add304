"""Amounts said short, one after the other, put right in one breath, and numbers that are names."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question


def tags(text: str) -> list[tuple[float, str]]:
    return [(round(one.value, 3), one.tag) for one in read_question(text).amounts]


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        # one plug of so many amps
        ("there is one twenty amp hundred and twenty volt outlet", [(1, "n"), (20, "A"), (120, "V")]),
        ("they gave us one fifty amp two forty hookup", [(1, "n"), (50, "A"), (240, "V")]),
        ("a twenty amp one fifteen", [(20, "A"), (115, "V")]),
        ("just one thirty amp pedestal", [(1, "n"), (30, "A")]),
        ("the alternator makes one thirty amps", [(130, "A")]),
        ("a one twenty volt plug", [(120, "V")]),
        # weights by their thousands and hundreds
        ("tandem scaled thirty one six hundred", [(31600, "n")]),
        ("drive axle twenty one four, limit twenty two", [(21400, "n"), (22000, "n")]),
        ("scale says steers thirteen two and drives thirty three five", [(13200, "n"), (33500, "n")]),
        ("gross seventy six three forty", [(76340, "n")]),
        ("house battery twelve six", [(126, "n")]),
        ("steers at one oh five psi", [(105, "psi")]),
        # hours of several days
        ("drove nine eleven eight ten and seven this week", [(9, "n"), (11, "n"), (8, "n"), (10, "n"), (7, "n")]),
        ("hours were ten ten nine and a half eleven", [(10, "n"), (10, "n"), (9.5, "n"), (11, "n")]),
        ("odometer one eighty one four oh two", [(181402, "n")]),
        ("the odometer read one eighteen four twelve", [(118412, "n")]),
        # times of day
        ("it's ten forty five now and I drove five hours", [(10.75, "clock"), (5, "h")]),
        ("wheels roll at six sharp", [(6, "clock")]),
        ("slept in the bunk from two until five", [(2, "clock"), (5, "clock")]),
        ("off duty from eleven thirty to one", [(11.5, "clock"), (1, "clock")]),
        ("i had the coach from eight to noon", [(8, "clock"), (12, "clock")]),
        ("the tire was one ten, it is one oh five now", [(110, "n"), (105, "n")]),
        ("pressure went from four to six", [(4, "n"), (6, "n")]),
        # stamps of month and year
        ("stamped 07-18 S on the collar", [(18, "n")]),
        # names
        ("up the M22 for 30 miles", [(30, "mi")]),
        ("take US 41 for 30 miles", [(30, "mi")]),
        # units
        ("CO at 30 mg/m³", [(30, "mg/m3")]),
        ("30 milligrams per cubic meter", [(30, "mg/m3")]),
        ("2.5 km/L", [(5.88, "mpg")]),
        ("three kilometers to the liter", [(7.056, "mpg")]),
        ("loses 9 W per °C", [(9, "W/degC")]),
        ("loses 9 W/°C", [(9, "W/degC")]),
        ("fifteen thousand, forty thousand hundred pounder", [(15000, "n"), (40000, "n"), (100, "lb")]),
        # put right in the same breath
        ("fresh shows a quarter no three eighths", [(0.375, "part")]),
        ("sixty no sixty four", [(64, "n")]),
        ("a third, sorry, a half", [(0.5, "part")]),
        ("90 psi, make that 95", [(95, "psi")]),
        ("twenty, I mean thirty gallons", [(30, "gal")]),
        ("ten below no twelve", [(-12, "temp")]),
        ("thirty pounds, no twenty pound bottle aboard", [(30, "lb"), (20, "lb")]),
        ("what is it at 20 F? no, 25", [(20, "F"), (25, "n")]),
        ("thirty or no forty", [(30, "n"), (40, "n")]),
    ],
)
def test_amounts_as_said(text: str, amounts: list[tuple[float, str]]) -> None:
    assert tags(text) == amounts
