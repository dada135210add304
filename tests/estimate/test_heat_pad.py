"""Heat pads: watts needed, and whether they hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.heat_pad import heat_pad_holds, heat_pad_watts
from cabassist.units import registry

Q = registry().Quantity


def test_watts_to_hold_a_tank_in_celsius():
    """By hand: 5 W/K x (2 + 20) = 110 W. Forgetting the minus sign would give 90 W below zero."""
    assert heat_pad_watts(Q(2, "degC"), Q(-20, "degC"), Q(5, "W/K")).value == pytest.approx(110)


def test_watts_to_hold_a_tank_in_fahrenheit():
    """By hand: 4.5 W/K is 2.5 W a °F; (36 + 13) °F x 2.5 = 122.5 W. Multiplying °F by W/K would give 220.5 W."""
    found = heat_pad_watts(Q(36, "degF"), Q(-13, "degF"), Q(4.5, "W/K"))

    assert found.value == pytest.approx(122.5)
    assert "2.5 W per °F" in found.working[1]


def test_loss_given_a_degree_fahrenheit():
    """3 W a °F over 50 °F are 150 W."""
    assert heat_pad_watts(Q(40, "degF"), Q(-10, "degF"), Q(3, "W/delta_degF")).value == pytest.approx(150)


def test_no_watts_in_warm_air():
    """Air warmer than the water needs no pad."""
    found = heat_pad_watts(Q(36, "degF"), Q(40, "degF"), Q(4.5, "W/K"))

    assert found.value == 0
    assert found.verdict.startswith("None")


@pytest.mark.parametrize(
    ("watts", "said"),
    [(100, "does not hold"), (129, "does not hold"), (131, "barely holds"), (155, "barely holds"), (157, "holds")],
)
def test_both_sides_of_enough(watts: float, said: str):
    """52 °F x 2.5 W = 130 W hold 32 °F in -20 °F; 20 % more, 156 W, hold it even in a leaky tank."""
    found = heat_pad_holds(Q(watts, "W"), Q(-20, "degF"), Q(4.5, "W/K"))

    assert said in found.verdict
    assert found.also[0].value == pytest.approx(130)


def test_where_the_water_settles():
    """By hand: 160 W / 2.5 W a °F = 64 °F above -20 °F: 44 °F; it holds 32 °F down to -32 °F."""
    found = heat_pad_holds(Q(160, "W"), Q(-20, "degF"), Q(4.5, "W/K"))

    assert found.value == pytest.approx(44)
    assert found.also[1].value == pytest.approx(-32)
    assert found.low < found.value < found.high


def test_wind_on_a_bare_tank():
    """By hand: R 0.68 of still air becomes R 0.17 at 15 mph (R-value tables).

    2 m² / 4 W/K = 0.5 m²K/W, less 0.1198 plus 0.0299 = 0.4102: 4.876 W/K. 100 W then hold 20.5 °C above the air.
    """
    found = heat_pad_holds(
        Q(100, "W"), Q(-20, "degC"), Q(4, "W/K"), wind=Q(15, "mph"), surface=Q(2, "m**2"), loss_spread=0
    )

    assert found.value == pytest.approx(-20 + 100 / 4.876, abs=0.02)
    assert found.low == pytest.approx(found.value)


def test_wind_beyond_the_published_film_widens_the_range_only():
    """Above 15 mph no film is published: the value stays, the low end takes no film at all."""

    def pad(mph: float):
        return heat_pad_holds(
            Q(100, "W"), Q(-20, "degC"), Q(4, "W/K"), wind=Q(mph, "mph"), surface=Q(2, "m**2"), loss_spread=0
        )

    assert pad(40).value == pytest.approx(pad(15).value)
    assert pad(40).low < pad(15).low
    # 2 m² / (0.5 - 0.1198) = 5.260 W/K.
    assert pad(40).low == pytest.approx(-20 + 100 / 5.260, abs=0.02)


def test_wind_does_not_reach_a_tank_in_a_shut_bay():
    """Without a bare surface the wind is named and changes nothing."""
    still, windy = (
        heat_pad_holds(Q(100, "W"), Q(-20, "degC"), Q(4, "W/K"), wind=wind) for wind in (None, Q(30, "mph"))
    )

    assert windy.value == still.value
    assert any("never cools below the air" in note for note in windy.assumptions)


def test_impossible_pads_are_refused():
    """A negative pad, a negative wind, no surface."""
    with pytest.raises(ValueError, match="heat pad"):
        heat_pad_holds(Q(-1, "W"), Q(-20, "degC"), Q(4, "W/K"))
    with pytest.raises(ValueError, match="wind"):
        heat_pad_holds(Q(100, "W"), Q(-20, "degC"), Q(4, "W/K"), wind=Q(-1, "mph"))
    with pytest.raises(ValueError, match="surface"):
        heat_pad_holds(Q(100, "W"), Q(-20, "degC"), Q(4, "W/K"), wind=Q(1, "mph"), surface=Q(0, "m**2"))


@given(watts=st.floats(0, 1000), air=st.floats(-60, 60), wind=st.floats(0, 80), square=st.floats(0.1, 10))
def test_wind_never_cools_below_the_air(watts: float, air: float, wind: float, square: float):
    """However strong the wind, the water settles at the air temperature or above."""
    found = heat_pad_holds(Q(watts, "W"), Q(air, "degF"), Q(4, "W/K"), wind=Q(wind, "mph"), surface=Q(square, "m**2"))

    assert found.value >= air - 1e-6
    assert found.low is None or found.low >= air - 1e-6
