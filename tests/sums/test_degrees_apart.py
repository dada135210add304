"""Degrees between two temperatures turn without the 32; a temperature keeps it."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.dialogue.session import load_mind
from cabassist.places import demo_coach
from cabassist.sums.working import work_out

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("question", "value", "unit"),
    [
        ("the cabin came up by 27 °F, how many degrees is that in Celsius", 15, "C"),
        ("it dropped eleven degrees C, what is that in F", 19.8, "F"),
        ("a swing of 36 degrees fahrenheit, what's that in celsius", 20, "C"),
        ("what's a 15 C drop in fahrenheit", 27, "F"),
        ("it's down 45 F since noon, what is that in C", 25, "C"),
        ("it fell to 5 C, what is that in F", 41, "F"),
        ("it went down to 14 F, what is that in C", -10, "C"),
        ("what is 30 C in F", 86, "F"),
        # 1 mile a gallon is 0.425144 km a litre
        ("what is 3 km/L in mpg", 7.056, "mpg"),
        # mg/m³ x 24.45 / 28.01
        ("what is 28.01 mg/m3 of carbon monoxide in ppm", 24.45, "ppm"),
    ],
)
def test_differences_and_units(question: str, value: float, unit: str) -> None:
    worked = work_out(question, (), coach=load_mind(demo_coach()).coach, stored=(), now=NOW)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(value, abs=1e-2)
    assert worked.estimate.unit == unit
