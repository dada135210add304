"""Time until water freezes in tank, hose and bay."""

from __future__ import annotations

import warnings

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import cold
from cabassist.estimate.cold import (
    freezing_reserve,
    hours_for_bay_to_freeze,
    hours_for_hose_to_freeze,
    hours_to_freeze,
    hours_to_freeze_at_loss,
    water_temperature_after,
)
from cabassist.units import registry

Q = registry().Quantity


def degf(value: float) -> pint.Quantity:
    return Q(value, "degF")


def tank(air: float, gallons: float = 40, start: float = 50, **more: object):
    return hours_to_freeze(Q(gallons, "gallon"), degf(start), degf(air), Q(4.5, "W/K"), **more)


def test_heat_from_50_f_until_frozen_solid():
    """40 gal cooled 50 to 32 °F and frozen: 334 lb x (18 + 143.4) = 53,900 BTU, 1 % (iapws heat of fusion)."""
    found = freezing_reserve(Q(40, "gallon"), degf(50))

    assert found.value == pytest.approx(53_900, rel=0.01)
    assert found.unit == "BTU"


def test_constants_against_iapws():
    """Heat of fusion 333.43 kJ/kg and 9.07 % of growth: IAPWS-95 minus ice Ih at 273.15 K."""
    iapws = pytest.importorskip("iapws")
    ice_module = pytest.importorskip("iapws._iapws")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        water, ice = iapws.IAPWS95(T=273.16, x=0), ice_module._Ice(273.15, 0.101325)

    assert pytest.approx(water.h - ice["h"], rel=0.002) == cold.FUSION_J_PER_KG / 1000
    assert pytest.approx(water.rho / ice["rho"], rel=0.001) == cold.ICE_GROWTH


def test_water_constants_against_coolprop():
    """8.345 lb/gal at 39 °F, specific heat 1.005 BTU/lb·°F at 40 °F."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    density = properties.PropsSI("D", "T", 277.04, "P", 101325, "Water")

    assert pytest.approx(density, rel=1e-3) == cold.WATER_KG_PER_M3
    assert density * 0.003785411784 / 0.45359237 == pytest.approx(8.345, abs=0.001)
    assert pytest.approx(properties.PropsSI("C", "T", 277.6, "P", 101325, "Water"), rel=0.006) == cold.WATER_J_PER_KG_K


def test_a_tank_that_loses_its_heat():
    """By hand: 40 gal 333.8 BTU/°F over 4.5 W/K = 8.530 BTU/h·°F is 39.13 h; times ln(45/27) = 19.99 h to first ice.

    Ice all through: 333.8 x 143.35 / (8.530 x 27) = 207.8 h more. Taking 4.5 W for 4.5 BTU/h would give 38 h.
    """
    found = tank(5)

    assert found.value == pytest.approx(19.99, abs=0.02)
    assert found.also[0].value == pytest.approx(19.99 + 207.8, abs=0.3)
    assert found.low == pytest.approx(19.99 / 1.2, abs=0.02)
    assert found.high == pytest.approx(19.99 / 0.8, abs=0.03)
    assert any("39.13" in line for line in found.working)


def test_the_same_tank_in_metric_units():
    """150 L at 10 °C in -15 °C, 4.5 W/K: 150 x 4186.8 / 4.5 / 3600 = 38.77 h; times ln(25/15) = 19.80 h."""
    found = hours_to_freeze(Q(150, "L"), Q(10, "degC"), Q(-15, "degC"), Q(4.5, "W/K"), loss_spread=0)

    assert found.value == pytest.approx(19.80, abs=0.01)
    assert found.low == found.high == found.value
    assert any("Wh per °C" in line for line in found.working)


@pytest.mark.parametrize(("watts", "freezes"), [(0, True), (60, True), (67, True), (68, False), (200, False)])
def test_a_weak_heater_only_delays(watts: float, freezes: bool):
    """4.5 W/K x 15 °C = 67.5 W hold freezing in -15 °C air."""
    found = hours_to_freeze(
        Q(150, "L"), Q(10, "degC"), Q(-15, "degC"), Q(4.5, "W/K"), heater=Q(watts, "W"), loss_spread=0
    )

    assert (found.value is not None) is freezes
    assert ("does not freeze" in found.verdict) is not freezes


def test_water_in_air_above_freezing_never_freezes():
    """At 32 °F and above no number is given."""
    assert tank(32).value is None
    assert tank(33).value is None
    assert tank(31.9).value is not None


def test_water_at_freezing_makes_ice_at_once():
    """Water of 32 °F has no cooling time left, only its latent heat."""
    found = tank(0, start=32)

    assert found.value == 0
    assert found.also[0].value > 100
    assert "at once" in found.verdict


def test_a_known_loss_in_watts():
    """By hand: 40 gal from 50 °F: 6,009 BTU / 511.8 BTU/h (150 W) = 11.74 h; 53,861 / 511.8 = 105.2 h till solid."""
    found = hours_to_freeze_at_loss(Q(40, "gallon"), degf(50), Q(150, "W"))

    assert found.value == pytest.approx(11.74, abs=0.02)
    assert found.also[0].value == pytest.approx(105.2, abs=0.3)


def test_water_stays_at_freezing_while_ice_forms():
    """After 30 h the 40 gal tank is past its first ice, yet not below 32 °F."""

    def after(hours: float):
        return water_temperature_after(Q(40, "gallon"), degf(50), degf(5), Q(4.5, "W/K"), Q(hours, "h"))

    # By hand: 5 + 45 x e^(-10/39.13) = 39.85 °F.
    assert after(10).value == pytest.approx(39.85, abs=0.02)
    assert after(30).value == pytest.approx(32.0)
    assert "Ice" in after(30).verdict


def test_a_hose_freezes_in_minutes_and_wind_hastens_it():
    """A bare five-eighths hose at 0 °F: minutes, not hours; in wind sooner, and never in air above freezing."""
    still = hours_for_hose_to_freeze(Q(0.625, "inch"), degf(50), degf(0))
    windy = hours_for_hose_to_freeze(Q(0.625, "inch"), degf(50), degf(0), wind=Q(15, "mph"))

    assert still.value < 0.5
    assert windy.value < still.value
    assert windy.low < windy.value < windy.high
    assert hours_for_hose_to_freeze(Q(0.625, "inch"), degf(50), degf(40), wind=Q(40, "mph")).value is None


def test_air_of_the_hose_against_coolprop():
    """Air at -10 °C and one atmosphere: conductivity, kinematic viscosity and Prandtl number within 3 %."""
    properties = pytest.importorskip("CoolProp.CoolProp")

    def air(what: str) -> float:
        return float(properties.PropsSI(what, "T", 263.15, "P", 101325, "Air"))

    assert pytest.approx(air("L"), rel=0.03) == cold.AIR_W_PER_MK
    assert pytest.approx(air("V") / air("D"), rel=0.03) == cold.AIR_M2_PER_S
    assert pytest.approx(air("PRANDTL"), rel=0.03) == cold.AIR_PRANDTL


def test_a_bay_without_heat():
    """By hand: 80 BTU/°F over 20 BTU/h·°F is 4 h; times ln(50/37) = 1.204 h from 45 to 32 °F in -5 °F."""
    found = hours_for_bay_to_freeze(
        degf(45), degf(-5), Q(20, "Btu/h/delta_degF"), Q(80, "Btu/delta_degF"), loss_spread=0
    )

    assert found.value == pytest.approx(1.204, abs=0.001)


def test_a_bay_heater_that_is_enough():
    """37 °F x 20 BTU/h = 740 BTU/h = 217 W hold the bay at 32 °F in -5 °F."""

    def bay(watts: float):
        return hours_for_bay_to_freeze(
            degf(45), degf(-5), Q(20, "Btu/h/delta_degF"), Q(80, "Btu/delta_degF"), heater=Q(watts, "W"), loss_spread=0
        )

    assert bay(216).value is not None
    assert bay(218).value is None


def test_a_bay_that_is_frozen_already():
    """A bay below freezing has no time left."""
    found = hours_for_bay_to_freeze(degf(30), degf(-5), Q(20, "Btu/h/delta_degF"), Q(80, "Btu/delta_degF"))

    assert found.value == 0
    assert "already" in found.verdict


@pytest.mark.parametrize("start", [31, 213, -460])
def test_water_that_is_ice_or_steam_is_refused(start: float):
    """Liquid water is between 32 and 212 °F."""
    with pytest.raises(ValueError, match="again"):
        tank(0, start=start)


def test_impossible_amounts_are_refused():
    """No water and no heat loss give no time; a difference is no reading."""
    with pytest.raises(ValueError, match="more than zero"):
        tank(0, gallons=0)
    with pytest.raises(ValueError, match="heat loss"):
        hours_to_freeze(Q(40, "gallon"), degf(50), degf(0), Q(0, "W/K"))
    with pytest.raises(pint.DimensionalityError):
        hours_to_freeze(Q(40, "gallon"), Q(50, "delta_degF"), degf(0), Q(4.5, "W/K"))
    with pytest.raises(pint.DimensionalityError):
        hours_to_freeze(Q(40, "kg"), degf(50), degf(0), Q(4.5, "W/K"))


@given(air=st.floats(-60, 31), colder=st.floats(0, 30), gallons=st.floats(1, 300), start=st.floats(32, 80))
def test_colder_never_lasts_longer(air: float, colder: float, gallons: float, start: float):
    """Colder air gives the first ice, and the last, no later."""
    mild, cold_one = tank(air, gallons, start), tank(air - colder, gallons, start)

    assert cold_one.value <= mild.value + 1e-9
    assert cold_one.also[0].value <= mild.also[0].value + 1e-6


@given(air=st.floats(-60, 31), gallons=st.floats(1, 300), more=st.floats(0, 100))
def test_more_water_never_freezes_sooner(air: float, gallons: float, more: float):
    """A fuller tank holds out at least as long."""
    assert tank(air, gallons + more).value >= tank(air, gallons).value - 1e-9


@given(air=st.floats(-60, 31), wind=st.floats(0, 60), stronger=st.floats(0, 40))
def test_more_wind_never_helps_a_hose(air: float, wind: float, stronger: float):
    """Wind only hastens."""

    def hose(mph: float) -> float:
        return hours_for_hose_to_freeze(Q(0.5, "inch"), degf(50), degf(air), wind=Q(mph, "mph")).value

    assert hose(wind + stronger) <= hose(wind) + 1e-12
