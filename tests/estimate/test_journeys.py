"""Distances, times and loads of a trip: plain arithmetic, worked out by hand."""

from __future__ import annotations

import pytest

from cabassist.estimate.fuel import mileage
from cabassist.estimate.journeys import average_speed, distance_in, door_to_door, legs_total
from cabassist.estimate.loading import axle_with, counted_weight
from cabassist.estimate.lumped import hours_with_constant, temperature_with_constant
from cabassist.units import registry

Q = registry().Quantity


def test_legs_and_speeds():
    """Sums and quotients, in the unit of what was told."""
    assert legs_total([Q(120, "mile"), Q(88.5, "mile")]).value == pytest.approx(208.5)
    assert legs_total([Q(120, "kilometer"), Q(80, "kilometer")]).unit == "km"
    assert average_speed(Q(330, "mile"), Q(6, "hour")).value == pytest.approx(55)
    assert distance_in(Q(60, "mile/hour"), Q(90, "minute")).value == pytest.approx(90)


def test_door_to_door_counts_stops_and_warns_of_a_long_day():
    """330 mi at 55 mph and 45 minutes; more than 10 hours of driving is more than one driver's day (49 CFR 395.5)."""
    found = door_to_door(Q(330, "mile"), Q(55, "mile/hour"), [Q(45, "minute")])

    assert found.value == pytest.approx(6.75)
    assert found.also[0].value == pytest.approx(6)
    assert "10 hours" in door_to_door(Q(660, "mile"), Q(60, "mile/hour")).verdict
    with pytest.raises(ValueError, match="speed"):
        door_to_door(Q(10, "mile"), Q(0, "mile/hour"))


def test_counted_loads_and_their_limit():
    """34 x 38 + 6 x 55 = 1,622 lb."""
    loads = [(34.0, Q(38, "pound")), (6.0, Q(55, "pound"))]

    assert counted_weight(loads).value == pytest.approx(1622)
    assert counted_weight(loads, limit=Q(1500, "pound")).verdict == "Over the 1,500 by 122."
    assert counted_weight([(4.0, Q(20, "kilogram"))]).unit == "kg"
    with pytest.raises(ValueError, match="negative"):
        counted_weight([(-1.0, Q(20, "pound"))])


def test_an_axle_with_water_over_it():
    """100 gal of 8.337 lb (CoolProp, 60 °F) on 18,900 lb against 20,000 (23 CFR 658.17)."""
    found = axle_with(Q(18900, "pound"), Q(20000, "pound"), water=Q(100, "gallon"))

    assert found.value == pytest.approx(19733.7, abs=0.1)
    assert found.verdict.startswith("Under the 20,000")
    off = axle_with(Q(20400, "pound"), Q(20000, "pound"), water=Q(60, "gallon"), taken_off=True)
    assert off.value == pytest.approx(20400 - 500.22, abs=0.1)


def test_mileage():
    """418 mi on 71.5 gal; 235.2 turns miles a gallon into liters per 100 km."""
    found = mileage(Q(418, "mile"), Q(71.5, "gallon"))

    assert found.value == pytest.approx(5.846, abs=0.001)
    assert found.also[0].value == pytest.approx(40.23, abs=0.01)


def test_cooling_by_a_time_constant():
    """68 °F in, 0 out, 12.5 h: 42.1 °F after 6 h, freezing after 9.4 h (lumped cooling, Incropera)."""
    start, out, tau = Q(68, "degF"), Q(0, "degF"), Q(12.5, "hour")

    assert temperature_with_constant(start, out, tau, Q(6, "hour")).value == pytest.approx(42.08, abs=0.01)
    assert hours_with_constant(Q(32, "degF"), start, out, tau).value == pytest.approx(9.42, abs=0.01)
    assert hours_with_constant(Q(-5, "degF"), start, out, tau).value is None
    with pytest.raises(ValueError, match="warmer"):
        hours_with_constant(Q(80, "degF"), start, out, tau)
