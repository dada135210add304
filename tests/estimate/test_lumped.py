"""Lumped cooling against worked examples of three textbooks."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.lumped import (
    cooling_from_readings,
    temperature_after_k,
    time_constant_s,
    time_to_reach_s,
)
from cabassist.units import registry

Q = registry().Quantity

KELVIN = st.floats(220, 320)


def test_thermocouple_junction_of_incropera():
    """Incropera, Fundamentals of Heat and Mass Transfer, Ex. 5.1: h 400, k 20, c 400, rho 8500, tau 1 s."""
    diameter = 6 * 400 * 1.0 / (8500 * 400)

    tau = time_constant_s(8500, math.pi * diameter**3 / 6, 400, 400, math.pi * diameter**2)

    assert diameter == pytest.approx(7.06e-4, rel=0.005)
    assert tau == pytest.approx(1.0)
    # 25 °C to 199 °C in gas of 200 °C: the book has 5.2 s.
    assert time_to_reach_s(298.15, 473.15, 472.15, tau) == pytest.approx(5.16, rel=0.005)


def test_thermocouple_of_cengel():
    """Cengel, Heat Transfer, Ex. 4-1: 1 mm, rho 8500, c 320, h 210: 1/tau 0.463 per second, 99 % in 10 s (9.94)."""
    tau = time_constant_s(8500, math.pi * 0.001**3 / 6, 320, 210, math.pi * 0.001**2)

    assert 1 / tau == pytest.approx(0.463, abs=0.001)
    assert time_to_reach_s(0 + 1, 101, 100, tau) == pytest.approx(9.94, rel=0.005)


def test_solder_bead_of_lienhard():
    """Lienhard, A Heat Transfer Textbook, Ex. 1.4: T 1.116 s, 95 % of the change in 3 time constants."""
    assert temperature_after_k(0 + 1, 101, 1.116, 3 * 1.116) == pytest.approx(1 + 95, abs=0.1)


def test_a_body_never_reaches_what_lies_beyond_its_surroundings():
    """A tank in air of 280 K never gets to 273 K; one that has passed the target is there."""
    assert time_to_reach_s(290, 280, 273.15, 100) == math.inf
    assert time_to_reach_s(290, 280, 280, 100) == math.inf
    assert time_to_reach_s(270, 260, 273.15, 100) == 0
    assert time_to_reach_s(273.15, 290, 273.15, 100) == 0


@given(start=KELVIN, around=KELVIN, constant=st.floats(1, 1e6), elapsed=st.floats(0, 1e6))
def test_a_body_stays_between_its_start_and_its_surroundings(
    start: float, around: float, constant: float, elapsed: float
):
    """Nothing cools below the air round it."""
    found = temperature_after_k(start, around, constant, elapsed)

    assert min(start, around) - 1e-9 <= found <= max(start, around) + 1e-9


@given(around=st.floats(220, 270), constant=st.floats(1, 1e5), hours=st.floats(0.01, 3))
def test_time_and_temperature_undo_each_other(around: float, constant: float, hours: float):
    """Going to the temperature after a time takes that time."""
    then = temperature_after_k(300, around, constant, hours * constant)

    assert time_to_reach_s(300, around, then, constant) == pytest.approx(hours * constant, rel=1e-6)


def test_two_readings_tell_the_rest_of_the_cooling():
    """By hand: above outside 68 to 34 °F in 4 h halves; from 34 to 17 °F takes as long again."""
    found = cooling_from_readings(Q(68, "degF"), Q(34, "degF"), Q(0, "degF"), Q(4, "h"), Q(17, "degF"))

    assert found.value == pytest.approx(4.0)
    assert found.low < 4.0 < found.high
    assert found.unit == "h"


def test_readings_that_do_not_fall_are_refused():
    """Rising readings tell nothing about cooling."""
    with pytest.raises(ValueError, match="must fall"):
        cooling_from_readings(Q(60, "degF"), Q(62, "degF"), Q(0, "degF"), Q(1, "h"), Q(32, "degF"))


def test_readings_that_end_above_the_target_say_never():
    """It is 40 °F outside: the cabin never gets to 32."""
    found = cooling_from_readings(Q(68, "degF"), Q(60, "degF"), Q(40, "degF"), Q(1, "h"), Q(32, "degF"))

    assert found.value is None
    assert "never" in found.verdict
