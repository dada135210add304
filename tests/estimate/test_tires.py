"""Tire pressure against temperature; tread and retreads."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.tires import retread_allowed, tire_pressure, tire_reading, tread
from cabassist.units import registry

Q = registry().Quantity


def degf(value: float) -> pint.Quantity:
    return Q(value, "degF")


@pytest.mark.parametrize(
    ("psi", "then", "now", "expected"),
    [(110, 70, 0, 93.5), (110, 70, 60, 107.6), (120, 70, -10, 99.7), (100, 60, 10, 89.0), (35, 70, 60, 34.1)],
)
def test_pressure_follows_the_temperature(psi: float, then: float, now: float, expected: float):
    """Gas law in absolute pressure and temperature; 0.3 psi. Forgetting the 14.7 would give 95.5 for the first."""
    found = tire_pressure(Q(psi, "psi"), degf(then), degf(now))

    assert found.value == pytest.approx(expected, abs=0.1)
    assert found.low < found.value < found.high


def test_real_air_by_coolprop():
    """Real air of constant density: 110 psig from 70 to 0 °F is 93.2 psig, inside the range of the gas law."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    density = properties.PropsSI("D", "T", 294.261, "P", (110 + 14.696) * 6894.757, "Air")
    real = properties.PropsSI("P", "T", 255.372, "D", density, "Air") / 6894.757 - 14.696
    found = tire_pressure(Q(110, "psi"), degf(70), degf(0))

    assert real == pytest.approx(93.2, abs=0.1)
    assert found.low <= real <= found.high


def test_pressure_in_bar_and_celsius():
    """By hand: (7.5 + 1.01325) x 253.15 / 293.15 - 1.01325 = 6.338 bar."""
    found = tire_pressure(Q(7.5, "bar"), Q(20, "degC"), Q(-20, "degC"))

    assert (found.value, found.unit) == (pytest.approx(6.338, abs=0.001), "bar")


def test_about_two_percent_for_ten_degrees():
    """Rule of the tire industry: about 2 % for each 10 °F; 110 psi from 70 to 60 °F: 107.6, 2.2 %."""
    found = tire_pressure(Q(110, "psi"), degf(70), degf(60))

    assert (110 - found.value) / 110 == pytest.approx(0.02, abs=0.005)


@pytest.mark.parametrize(
    ("read", "said"),
    [
        (93.5, "explains it"),
        (90.6, "explains it"),
        (90.4, "Low beyond"),
        (80, "Low beyond"),
        (74.9, "Low beyond"),
        (74.7, "Far too low"),
        (97, "Higher than"),
    ],
)
def test_cold_is_not_a_leak_and_a_leak_is_not_the_cold(read: float, said: str):
    """110 psig set at 70 °F should read 93.5 at 0 °F (gas law): no leak there; 80 psig is low beyond temperature."""
    found = tire_reading(Q(read, "psi"), Q(110, "psi"), degf(70), degf(0))

    assert said in found.verdict
    assert found.value == pytest.approx(read - 93.52, abs=0.01)


@pytest.mark.parametrize(
    ("parts", "position", "said"),
    [
        (3, "front", "Out"),
        (4, "front", "Allowed"),
        (3, "rear", "Allowed"),
        (2, "rear", "Allowed"),
        (1.9, "rear", "Out"),
    ],
)
def test_tread(parts: float, position: str, said: str):
    """49 CFR 393.75: front 4/32 in, others 2/32; the limit itself is allowed."""
    assert tread(Q(parts / 32, "inch"), position).verdict.startswith(said)
    assert tread(Q(parts / 32 * 25.4, "mm"), position).verdict.startswith(said)


def test_retreads():
    """49 CFR 393.75: no retread on the front wheels of a bus."""
    assert retread_allowed("front").verdict.startswith("Out")
    assert retread_allowed("rear").verdict.startswith("Allowed")


def test_impossible_tires_are_refused():
    """Negative pressure or tread, colder than nothing, a difference for a temperature."""
    with pytest.raises(ValueError, match="pressure"):
        tire_pressure(Q(-5, "psi"), degf(70), degf(0))
    with pytest.raises(ValueError, match="nothing is that cold"):
        tire_pressure(Q(100, "psi"), degf(70), degf(-500))
    with pytest.raises(ValueError, match="tread"):
        tread(Q(-1, "mm"), "front")
    with pytest.raises(pint.DimensionalityError):
        tire_pressure(Q(100, "psi"), Q(70, "delta_degF"), degf(0))


@given(st.floats(0, 150), st.floats(-40, 110), st.floats(-60, 110), st.floats(0, 60))
def test_colder_is_never_higher(psi: float, then: float, now: float, colder: float):
    """And back at the old temperature the old pressure is back."""

    def at(degrees: float) -> float:
        return tire_pressure(Q(psi, "psi"), degf(then), degf(degrees)).value

    assert at(now - colder) <= at(now) + 1e-9
    assert at(then) == pytest.approx(psi, abs=1e-6)
