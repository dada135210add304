"""Heat loss, cool-down, degree days, conduction and people's heat."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.cabin import (
    CFM_F_BTU_H,
    cabin_temperature_after,
    conduction,
    degree_day_heat,
    degree_days,
    fuel_for_heat,
    heat_loss,
    hours_until_cabin_at,
    people_heat,
)
from cabassist.units import registry

Q = registry().Quantity
UA, CAPACITY = Q(400, "Btu/h/delta_degF"), Q(5000, "Btu/delta_degF")


def test_loss_through_shell_and_leaks():
    """UA 400, 70 in, 10 out, 60 cfm: 24,000 + 1.08 x 60 x 60 = 3,888: 27,888 BTU/h, 1 (psychrometric rule)."""
    found = heat_loss(UA, Q(70, "degF"), Q(10, "degF"), infiltration=Q(60, "ft**3/min"))

    assert found.value == pytest.approx(27_888, abs=1)
    assert found.unit == "BTU/h"


def test_air_factor_against_psychrolib():
    """1.08 BTU/h per cfm·°F; moist air at 70 °F by psychrolib gives 1.078."""
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.IP)
    volume = psychrolib.GetDryAirVolume(70, 14.696)

    assert pytest.approx(60 * 0.24 / volume, abs=0.005) == CFM_F_BTU_H


def test_air_factor_in_an_example():
    """Load sheet example: 20,000 ft³ at half a change an hour is 166.7 cfm; 20 °F make 3,600 BTU/h."""
    both = heat_loss(UA, Q(70, "degF"), Q(50, "degF"), infiltration=Q(20_000 * 0.5, "ft**3/h"))

    assert both.value - 400 * 20 == pytest.approx(3_600, abs=1)


def test_no_loss_when_it_is_warm_outside():
    """Nothing is lost to warmer air."""
    assert heat_loss(UA, Q(70, "degF"), Q(80, "degF")).value == 0


def test_cool_down_without_heat():
    """UA 400, C 5,000, 68 in, 0 out: tau 12.5 h; 42.1 °F after 6 h; 32 °F after 9.4 h; 0.1 (lumped body, Incropera)."""
    after = cabin_temperature_after(Q(68, "degF"), Q(0, "degF"), UA, CAPACITY, Q(6, "h"))
    until = hours_until_cabin_at(Q(32, "degF"), Q(68, "degF"), Q(0, "degF"), UA, CAPACITY)

    assert after.value == pytest.approx(42.1, abs=0.1)
    assert after.low < after.value < after.high
    assert next(one for one in after.also if one.name == "time constant").value == pytest.approx(12.5)
    assert until.value == pytest.approx(9.4, abs=0.1)
    assert until.low < until.value < until.high


def test_the_people_alone_keep_it_above_something():
    """12,800 BTU/h over 400 BTU/h·°F keep it 32 °F above outside: at 0 °F it never falls to 32, at -1 it does."""

    def until(outside: float):
        return hours_until_cabin_at(
            Q(32, "degF"), Q(68, "degF"), Q(outside, "degF"), UA, CAPACITY, heat=Q(12_800, "Btu/h"), loss_spread=0
        )

    assert until(0.01).value is None
    assert "does not get down" in until(0.01).verdict
    assert until(-1).value is not None


def test_a_target_above_the_start_is_refused():
    """The cabin can't cool to something warmer."""
    with pytest.raises(ValueError, match="warmer"):
        hours_until_cabin_at(Q(70, "degF"), Q(68, "degF"), Q(0, "degF"), UA, CAPACITY)


@pytest.mark.parametrize(("high", "low", "days"), [(40, 20, 35), (50, 40, 20), (60, 40, 15), (65, 65, 0), (90, 70, 0)])
def test_degree_days(high: float, low: float, days: float):
    """Means of 30, 45 and 50 °F make 35, 20 and 15 (NWS and EIA usage); never below 0."""
    assert degree_days(Q(high, "degF"), Q(low, "degF")).value == pytest.approx(days)


def test_a_high_below_the_low_is_refused():
    """They were taken for each other."""
    with pytest.raises(ValueError, match="below the low"):
        degree_days(Q(20, "degF"), Q(40, "degF"))


def test_a_heating_season_of_oil():
    """675 BTU/h·°F x 24 x 5,000 = 81,000,000 BTU; over 138,690 x 0.78 = 748.8 gal (article with EIA factors)."""
    heat = degree_day_heat(Q(675, "Btu/h/delta_degF"), Q(5000, "delta_degF*day"))

    assert heat.value == pytest.approx(81_000_000)
    assert fuel_for_heat(Q(heat.value, "Btu"), Q(138_690, "Btu/gallon"), 0.78).value == pytest.approx(748.8, abs=0.1)


def test_a_day_of_propane():
    """20,000 BTU/h delivered for 24 h, efficiency 0.80, 91,502 BTU/gal (NFPA 58): 6.56 gal, 0.05."""
    found = fuel_for_heat(Q(20_000 * 24, "Btu"), Q(91_502, "Btu/gallon"), 0.80)

    assert found.value == pytest.approx(6.56, abs=0.05)


@pytest.mark.parametrize("efficiency", [0, -0.1, 1.1])
def test_impossible_efficiencies_are_refused(efficiency: float):
    """Nothing burns with none or more than all of its heat."""
    with pytest.raises(ValueError, match="efficiency"):
        fuel_for_heat(Q(1, "Btu"), Q(91_502, "Btu/gallon"), efficiency)


def test_conduction_through_an_insulated_wall():
    """100 ft² of R-13.73 and 60 °F: 437 BTU/h, 1 (R-value table article)."""
    found = conduction(Q(100, "ft**2"), Q(13.73, "h*ft**2*delta_degF/Btu"), Q(60, "delta_degF"))

    assert found.value == pytest.approx(437, abs=1)


def test_conduction_in_metric_units():
    """By hand: 10 m² x 30 K / 2 m²K/W = 150 W."""
    found = conduction(Q(10, "m**2"), Q(2, "K*m**2/W"), Q(30, "delta_degC"))

    assert (found.value, found.unit) == (pytest.approx(150), "W")


def test_heat_of_the_people():
    """Seated 115 to 130 W, 70 W of it warming the air (ASHRAE 2013 ch. 18); at rest 115 W, 90 W (AC Engineering 7.16)."""
    seated, asleep = people_heat(24), people_heat(24, "asleep")

    assert (seated.low, seated.high) == (24 * 115, 24 * 130)
    assert seated.also[0].value == 24 * 70
    assert asleep.value == 24 * 115
    assert asleep.also[0].value == 24 * 90
    assert people_heat(0).value == 0
    with pytest.raises(ValueError, match="people"):
        people_heat(-1)


@given(outside=st.floats(-60, 30), colder=st.floats(0, 40), leak=st.floats(0, 500))
def test_colder_never_lasts_longer(outside: float, colder: float, leak: float):
    """Colder outside, or more leaks, never keep the cabin warm longer."""

    def until(out: float, cfm: float) -> float:
        return hours_until_cabin_at(
            Q(32, "degF"), Q(68, "degF"), Q(out, "degF"), UA, CAPACITY, infiltration=Q(cfm, "ft**3/min")
        ).value

    assert until(outside - colder, 0) <= until(outside, 0) + 1e-9
    assert until(outside, leak) <= until(outside, 0) + 1e-9
