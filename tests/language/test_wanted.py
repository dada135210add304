"""What a question wants, by its words and by the unit that has no number."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.language.wanted import wanted


@pytest.mark.parametrize(
    ("question", "kind", "unit"),
    [
        ("70 gal fresh, 28 people, 2 each a day - hrs??", "time", "h"),
        ("how many gallons is 9 inches", "volume", "gal"),
        ("propane for a 10 hour night at 30000 btu, pounds", "mass", "lb"),
        ("how deep is 40 gallons", "length", ""),
        ("how full is it at 30 of 80 gallons", "share", ""),
        ("how many people can shower on 60 gallons", "people", "people"),
        ("when is the waste full", "time", ""),
        ("which bottle first, 12 lb or 30 lb", "which", ""),
    ],
)
def test_what_is_wanted(question: str, kind: str, unit: str):
    """A unit without a number is what is asked for."""
    want = wanted(read_question(question))

    assert want is not None
    assert (want.kind, want.unit) == (kind, unit)


def test_an_amount_in_a_time_is_wanted():
    """ "Gallons an hour" is a rate, and "8 gallons an hour" none that is wanted."""
    want = wanted(read_question("how many gallons an hour may we use"))

    assert want is not None
    assert (want.unit, want.rate) == ("gal", "h")


def test_a_report_wants_nothing():
    """A level that is told."""
    assert wanted(read_question("waste at 40 percent, 30 aboard")) is None
