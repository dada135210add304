"""Wind chill and frostbite against the weather service's chart."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.wind_chill import coldest_unheated, frostbite_time, wind_chill
from cabassist.units import registry

Q = registry().Quantity


@pytest.mark.parametrize(
    ("air", "wind", "chill"),
    [
        (40, 5, 36),
        (30, 15, 19),
        (20, 20, 4),
        (10, 10, -4),
        (5, 25, -17),
        (0, 15, -19),
        (0, 20, -22),
        # A much-copied chart carries the -15 °F values on its -10 °F row; -35 is the formula's.
        (-10, 20, -35),
        (-20, 30, -53),
        (-30, 40, -71),
        (-40, 60, -91),
    ],
)
def test_the_chart(air: float, wind: float, chill: int):
    """NWS wind chill chart of 1 November 2001, whole degrees."""
    found = wind_chill(Q(air, "degF"), Q(wind, "mph"))

    assert round(found.value) == chill
    assert found.low == found.high == found.value


def test_the_same_in_metric_units():
    """-20 °C and 32.19 km/h are -4 °F and 20 mph: 35.74 - 2.486 - 35.75 x 1.6150 - 1.71 x 1.6150 = -27.2 °F = -32.9 °C."""
    found = wind_chill(Q(-20, "degC"), Q(20, "mph"))

    assert found.unit == "C"
    assert found.value == pytest.approx(-32.9, abs=0.05)


@pytest.mark.parametrize(("air", "wind"), [(50.1, 15), (70, 15), (30, 2.9), (30, 0)])
def test_outside_its_limits_it_is_not_defined(air: float, wind: float):
    """Above 50 °F or under 3 mph there is no number."""
    found = wind_chill(Q(air, "degF"), Q(wind, "mph"))

    assert found.value is None
    assert "not defined" in found.verdict


def test_at_its_limits_it_is_defined():
    """50 °F and 3 mph are inside, also when they come from metric units."""
    assert wind_chill(Q(50, "degF"), Q(3, "mph")).value is not None
    assert wind_chill(Q(10, "degC"), Q(4.828032, "km/h")).value is not None


@pytest.mark.parametrize(
    ("air", "wind", "minutes"),
    # Wind chill -17, -19, -35, -41, -53: NWS chart, 30 minutes from about -18 °F; the rest from memory.
    [(5, 25, None), (0, 15, 30), (-10, 20, 30), (-15, 20, 10), (-20, 30, 10), (-30, 40, 2)],
)
def test_frostbite(air: float, wind: float, minutes: float | None):
    """30 minutes at a wind chill of about -18 °F or below, less in the colder bands, no number above."""
    found = frostbite_time(Q(air, "degF"), Q(wind, "mph"))

    assert found.value == minutes
    if minutes is None:
        assert found.low == 30
    else:
        assert found.low < minutes == found.high


def test_frostbite_where_wind_chill_is_not_defined():
    """No wind: no number is invented, but cover up below freezing."""
    found = frostbite_time(Q(-20, "degF"), Q(0, "mph"))

    assert found.value is None
    assert "cover the skin" in found.verdict


def test_wind_does_not_cool_a_tank_below_the_air():
    """The wrong answer would be the wind chill of -39 °F (NWS explanation, from memory)."""
    found = coldest_unheated(Q(-10, "degF"), Q(30, "mph"))

    assert found.value == -10.0
    assert "not the wind chill" in found.verdict
    assert round(found.also[0].value) == -39


def test_a_calm_night_has_no_wind_chill_to_name():
    """Without wind only the air temperature is said."""
    assert coldest_unheated(Q(-25, "degC")).value == -25.0
    assert coldest_unheated(Q(-25, "degC"), Q(0, "km/h")).also == ()


def test_a_negative_wind_is_refused():
    """And a temperature difference is no air temperature."""
    with pytest.raises(ValueError, match="below zero"):
        wind_chill(Q(0, "degF"), Q(-5, "mph"))
    with pytest.raises(pint.DimensionalityError):
        wind_chill(Q(0, "delta_degF"), Q(5, "mph"))


@given(air=st.floats(-50, 50), wind=st.floats(3, 80), colder=st.floats(0, 30), stronger=st.floats(0, 30))
def test_colder_and_windier_never_feels_warmer(air: float, wind: float, colder: float, stronger: float):
    """Wind chill falls with the temperature; in the cold it falls with the wind."""
    here = wind_chill(Q(air, "degF"), Q(wind, "mph")).value

    assert wind_chill(Q(air - colder, "degF"), Q(wind, "mph")).value <= here + 1e-6
    assert wind_chill(Q(air, "degF"), Q(wind + stronger, "mph")).value <= here + 1e-6
