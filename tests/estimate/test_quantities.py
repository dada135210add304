"""The rim of the calculations: checks on the way in, writing on the way out."""

from __future__ import annotations

import math
import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.quantities import (
    BTU_PER_H_F_IN_W_PER_K,
    CELSIUS,
    FAHRENHEIT,
    between,
    duration,
    exact,
    figure,
    interpolated,
    measure,
    not_negative,
    positive,
    pressure_unit_of,
    ranged,
    roughly,
    scale_of,
    share,
    shown,
    some_share,
    temperature_k,
    whole,
    withheld,
)
from cabassist.units import registry

Q = registry().Quantity


def test_a_reading_and_a_difference_are_not_interchangeable():
    """10 °F of difference are no temperature; 10 °F of temperature are."""
    assert temperature_k(Q(10, "degF"), "the air") == pytest.approx(260.928, abs=0.001)
    assert temperature_k(Q(260, "kelvin"), "the air") == pytest.approx(260)
    with pytest.raises(pint.DimensionalityError):
        temperature_k(Q(10, "delta_degF"), "the air")
    with pytest.raises(pint.DimensionalityError):
        measure(Q(10, "degF"), "delta_degC", "the difference")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(value: float):
    """No calculation starts from it."""
    with pytest.raises(ValueError, match="plain number"):
        measure(Q(value, "gallon"), "gallon", "the water")


def test_signs_are_checked_with_the_driver_s_own_words():
    """The message names the thing and what was said."""
    with pytest.raises(ValueError, match="-5 gal for the water: it must be more than zero"):
        positive(Q(-5, "gallon"), "m**3", "the water")
    with pytest.raises(ValueError, match="can't be below zero"):
        not_negative(Q(-5, "gallon"), "m**3", "the water")
    assert not_negative(Q(0, "gallon"), "m**3", "the water") == 0


def test_shares_and_counts():
    """A share is 0 to 1, some share not nothing, a count whole."""
    assert share(0, "it") == 0
    assert some_share(1, "it") == 1
    assert whole(2, "it") == 2
    for call in (
        lambda: share(1.3, "it"),
        lambda: some_share(0, "it"),
        lambda: whole(0, "it"),
        lambda: whole(1.5, "it"),
    ):
        with pytest.raises(ValueError, match="it"):
            call()


def test_the_scale_is_the_one_that_was_said():
    """Celsius in, Celsius out; kelvin counts as Celsius."""
    assert scale_of(Q(1, "degF")) == FAHRENHEIT
    assert scale_of(Q(1, "degC")) == scale_of(Q(300, "kelvin")) == CELSIUS
    assert FAHRENHEIT.show(273.15) == "32 °F"
    assert CELSIUS.gap(283.15, 258.15) == "10 °C + 15 °C"
    assert FAHRENHEIT.gap(283.15, 273.15) == "50 °F - 32 °F"


@pytest.mark.parametrize(("unit", "name"), [("psi", "psi"), ("bar", "bar"), ("kPa", "kPa"), ("atm", "psi")])
def test_the_pressure_unit_is_the_one_that_was_said(unit: str, name: str):
    """Bar stays bar."""
    assert pressure_unit_of(Q(1, unit)).name == name


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (91_502, "91,502"),
        (22.222, "22.22"),
        (0.985, "0.985"),
        (60.0, "60"),
        (-0.5, "-0.5"),
        (1e-12, "0"),
        (1999.6, "2,000"),
    ],
)
def test_numbers_as_a_pocket_calculator_takes_them(value: float, text: str):
    """No exponent, no trailing zeros, no dust."""
    assert shown(value) == text


@pytest.mark.parametrize(
    ("hours", "text"),
    [(9.4, "9 h 24 min"), (0.5, "30 minutes"), (1 / 60, "1 minute"), (72, "3 days"), (2, "2 h"), (0.999, "1 h")],
)
def test_lengths_of_time(hours: float, text: str):
    """To the minute where it is arithmetic."""
    assert duration(hours) == text


@pytest.mark.parametrize(
    ("hours", "text"),
    [
        (19.99, "20 hours"),
        (0.21, "15 minutes"),
        (0.07, "4 minutes"),
        (1, "1 hour"),
        (80, "3.3 days"),
        (0, "less than a minute"),
    ],
)
def test_rough_lengths_of_time(hours: float, text: str):
    """No more digits than an estimate has."""
    assert roughly(hours) == text


def test_a_range_in_words():
    """Between two ends, or nothing where they are the same or open."""
    assert between(16, 26.7) == ", between 16 and 27 hours"
    assert between(30, 207) == ", between 30 hours and 8.6 days"
    assert between(2, 2.01) == between(None, 2) == ""


def test_an_open_end_is_none():
    """Endless is written as no end."""
    assert ranged("it", 1, "h", 0.5, math.inf).high is None
    assert exact("it", 1, "h").low == exact("it", 1, "h").high == 1
    assert withheld("it", "h", "no").value is None
    assert figure("it", 1, "h").low == 1


def test_tables_are_not_extrapolated():
    """Straight lines inside, nothing outside."""
    table = ((0.0, 10.0), (1.0, 20.0), (3.0, 0.0))

    assert interpolated(table, 0.5) == 15
    assert interpolated(table, 2) == 10
    assert interpolated(table, 3) == 0
    assert interpolated(table, -0.01) is None
    assert interpolated(table, 3.01) is None


def test_btu_per_degree_as_pint_has_it():
    """1 BTU/h·°F = 0.527528 W/K."""
    assert pytest.approx(Q(1, "Btu/h/delta_degF").m_as("W/K"), rel=1e-9) == BTU_PER_H_F_IN_W_PER_K


MODULES = (
    "battery brakes cabin co cold cords driving_hours duty fuel heat_pad lumped power quantities tires triangles wheels "
    "wind_chill"
).split()


def test_importing_a_calculation_loads_no_heavy_package():
    """pint, numpy and pydantic are loaded when a quantity is made, not before."""
    names = ", ".join(f"cabassist.estimate.{name}" for name in MODULES)
    code = f"import sys, {names}; print([name for name in ('pint', 'numpy', 'pydantic') if name in sys.modules])"

    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


@given(st.floats(-80, 150))
def test_temperatures_round_trip(degrees: float):
    """What is read is what is shown again."""
    assert FAHRENHEIT.degrees(temperature_k(Q(degrees, "degF"), "it")) == pytest.approx(degrees, abs=1e-6)
    assert CELSIUS.degrees(temperature_k(Q(degrees, "degC"), "it")) == pytest.approx(degrees, abs=1e-6)
