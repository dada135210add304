"""Amounts whose words lead astray, written plainly; those that could mean two things are left alone."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.plain_amounts import plainly_written


@pytest.mark.parametrize(
    ("said", "values"),
    [
        ("220 miles at fifty five and half an hour breakfast", [220.0, 55.0, 0.5]),
        ("at 55 and three quarters of an hour breakfast, 220 miles", [55.0, 0.75, 220.0]),
        ("fifty two and a half hour lunch, 260 miles", [52.0, 0.5, 260.0]),
        ("off duty since half past midnight", [0.5]),
        ("leave at quarter to midnight", [23.75]),
        ("leaving at half past noon", [12.5]),
        ("genset 4 kW minus 20% for altitude, 2500 W on", [4.0, 20.0, 2500.0]),
        ("5000 watt generator minus 1000 watts for altitude", [5000.0, 1000.0]),
        ("34 l per 100, 480 km", [34.0, 100.0, 480.0]),
        ("gone 21,000 miles and lost three thirty seconds", [21000.0, 3.0]),
        ("at five below the 200 watt pad just holds 35", [-5.0, 200.0, 35.0]),
        ("idling forty minutes at every stop, six stops, a gallon an hour", [6.0, 40.0, 1.0]),
        ("two heaters, 1000 W and 1500 W, on a 20 amp breaker", [1000.0, 1500.0, 20.0]),
        ("tires at 108 psi and the wash bay is sixty", [108.0, 60.0]),
    ],
)
def test_such_amounts_stand_alone(said: str, values: list[float]) -> None:
    assert [one.value for one in read_question(said).amounts] == pytest.approx(values)


@pytest.mark.parametrize(
    "said",
    [
        "drove fifty five and a half hours this week",
        "it is minus 20 outside",
        "two heaters of 1000 W and a 1500 W kettle",
        "two pads of 150 watts, 7 watts a degree, keep 36",
        "filled for three thirty seconds at 5 gallons a minute",
        "34 liters per 100 miles, 480 km",
        "we are parked in bay sixty",
        "two heaters at 1500 W each and 900 W more",
    ],
)
def test_what_is_plain_is_left_as_it_was_said(said: str) -> None:
    assert plainly_written(said) == said


def test_bare_stops_on_the_road_are_of_minutes():
    assert "stops of twenty minutes when" in plainly_written(
        "240 miles at fifty five two stops of twenty when do we get there"
    )
    assert plainly_written("two stops of twenty pounds each") == "two stops of twenty pounds each"
