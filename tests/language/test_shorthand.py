"""Times and amounts as they are jotted down."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.shorthand import written_out


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("idle 2215-0545", {"clock": [22.25, 5.75]}),
        ("waste 0800 20 gal, 1130 41 gal", {"clock": [8.0, 11.5], "gal": [20.0, 41.0]}),
        ("drove 5h20 so far", {"h": [5 + 20 / 60]}),
        ("bank 35->80%", {"n": [35.0], "percent": [80.0]}),
        ("a couple of hours on a couple gallons", {"h": [2.0], "gal": [2.0]}),
        ("since half nine", {"clock": [9.5]}),
    ],
)
def test_jotted_amounts_are_read(text: str, units: dict[str, list[float]]) -> None:
    amounts = read_question(text).amounts
    for unit, values in units.items():
        assert [one.value for one in amounts if one.unit == unit] == pytest.approx(values)


@pytest.mark.parametrize("text", ["1500-2000 watts", "half ten gallons", "fresh at half, 0.5 gal", "call 555-0142"])
def test_what_is_no_time_stays(text: str) -> None:
    assert written_out(text) == text
