"""Diesel in the cold, its range, heat and weight."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.fuel import (
    blended_cloud_point,
    diesel_heat,
    diesel_needed,
    diesel_range,
    diesel_weight,
    gasoline_in_diesel,
    gel_risk,
    idle_hours,
)
from cabassist.units import registry

Q = registry().Quantity


@pytest.mark.parametrize(
    ("forecast", "said"),
    [(5, "Risk"), (15, "Risk"), (15.1, "Caution"), (20, "Caution"), (20.1, "No gel risk"), (25, "No gel risk")],
)
def test_against_a_known_cloud_point(forecast: float, said: str):
    """Cloud 15 °F: forecast 5 is a risk, 25 none, within 5 °F caution (filter maker's bulletin for cloud points)."""
    found = gel_risk(Q(forecast, "degF"), cloud_point=Q(15, "degF"))

    assert found.verdict.startswith(said)
    assert found.value == pytest.approx(forecast - 15)


@pytest.mark.parametrize(
    ("forecast", "said"),
    [(-18, "Risk: colder than any usual"), (15, "Risk"), (16, "Caution"), (30, "warm place"), (41, "No gel risk")],
)
def test_with_an_unknown_cloud_point(forecast: float, said: str):
    """No. 2 clouds at -18 to +20 °F, up to +40 (same bulletin): the range is wide and the seller is asked."""
    found = gel_risk(Q(forecast, "degF"))

    assert said in found.verdict
    assert found.high - found.low == pytest.approx(38)


def test_in_celsius():
    """-15 °C against a cloud point of -7 °C: 8 °C below."""
    found = gel_risk(Q(-15, "degC"), cloud_point=Q(-7, "degC"))

    assert (found.value, found.unit) == (pytest.approx(-8), "C")


def test_gasoline_never_goes_in():
    """Flash point of No. 2 at or above 52 °C (ASTM D975; COMAR 03.03.05.02), of gasoline about -43 °C (NIOSH)."""
    found = gasoline_in_diesel()

    assert found.value == 0
    assert found.verdict.startswith("No. Never")
    assert "52 °C" in found.working[0]


def test_blending_is_a_rule_from_memory():
    """30 % of No. 1 at about 3 °F a tenth: 15 to 6 °F, but perhaps 12 only. A lowering that is given is exact."""
    found, given_rule = (blended_cloud_point(Q(15, "degF"), 0.3, per_tenth=each) for each in (None, Q(3, "delta_degF")))

    assert found.value == pytest.approx(6)
    assert found.high == pytest.approx(12)
    assert "from memory" in found.source
    assert given_rule.high == given_rule.value == pytest.approx(6)


def test_range():
    """By hand: (150 - 30) gal x 6 mi/gal = 720 mi, 10 % either way."""
    found = diesel_range(Q(150, "gallon"), Q(6, "mile/gallon"), reserve=Q(30, "gallon"))

    assert found.value == pytest.approx(720)
    assert (found.low, found.high) == (pytest.approx(648), pytest.approx(792))


def test_range_in_metric_units():
    """By hand: 400 L x 2.5 km/L = 1,000 km."""
    found = diesel_range(Q(400, "L"), Q(2.5, "km/L"), economy_spread=0)

    assert (found.value, found.unit) == (pytest.approx(1000), "km")
    assert found.low == found.high


def test_only_the_reserve_is_left():
    """20 gallons with a reserve of 30 go nowhere, and not backwards."""
    found = diesel_range(Q(20, "gallon"), Q(6, "mile/gallon"), reserve=Q(30, "gallon"))

    assert found.value == 0
    assert "reserve" in found.verdict


def test_idle():
    """By hand: 45 gal / 0.9 gal/h = 50 h."""
    assert idle_hours(Q(45, "gallon"), Q(0.9, "gallon/h")).value == pytest.approx(50)


def test_driving_and_idling_together():
    """By hand: 300 mi / 6 + 10 h x 0.9 = 59 gal; 10 % more is 64.9: 65 gal aboard are enough, 64 are not safely."""

    def needed(aboard: float):
        return diesel_needed(
            distance=Q(300, "mile"),
            economy=Q(6, "mile/gallon"),
            idle_time=Q(10, "h"),
            idle_use=Q(0.9, "gallon/h"),
            aboard=Q(aboard, "gallon"),
        )

    assert needed(65).value == pytest.approx(59)
    assert "Enough" in needed(65).verdict
    assert "refuel" in needed(64).verdict
    assert needed(65).also[0].value == pytest.approx(6)


def test_heat_and_weight():
    """100 gal: 13.74 million BTU, 0.1 % (EIA 137,381 BTU/gal); 709 lb, 15 (SG 0.85 from memory x 8.337)."""
    assert diesel_heat(Q(100, "gallon")).value == pytest.approx(13.74e6, rel=0.001)
    weight = diesel_weight(Q(100, "gallon"))
    assert weight.value == pytest.approx(709, abs=15)
    assert weight.low < weight.value < weight.high


def test_impossible_fuel_is_refused():
    """Negative fuel, no economy, half a pair, nothing asked."""
    with pytest.raises(ValueError, match="diesel"):
        diesel_range(Q(-1, "gallon"), Q(6, "mile/gallon"))
    with pytest.raises(ValueError, match="economy"):
        diesel_range(Q(1, "gallon"), Q(0, "mile/gallon"))
    with pytest.raises(ValueError, match="idle use"):
        idle_hours(Q(1, "gallon"), Q(0, "gallon/h"))
    with pytest.raises(ValueError, match="distance"):
        diesel_needed(distance=Q(100, "mile"))
    with pytest.raises(ValueError, match="distance"):
        diesel_needed()
    with pytest.raises(ValueError, match="share of number 1"):
        blended_cloud_point(Q(15, "degF"), 1.5)
    with pytest.raises(pint.DimensionalityError):
        diesel_weight(Q(1, "lb"))


SEVERITY = {"No gel risk": 0, "No risk with": 1, "Caution": 2, "Risk": 3}


@given(st.floats(-60, 60), st.floats(0, 60), st.one_of(st.none(), st.floats(-40, 40)))
def test_colder_is_never_safer(warm: float, colder: float, cloud: float | None):
    """The verdict never gets milder in the cold."""

    def severity(forecast: float) -> int:
        point = None if cloud is None else Q(cloud, "degF")
        verdict = gel_risk(Q(forecast, "degF"), cloud_point=point).verdict
        return next(rank for start, rank in SEVERITY.items() if verdict.startswith(start))

    assert severity(warm - colder) >= severity(warm)


@given(st.floats(0, 300), st.floats(0, 100), st.floats(0.5, 20))
def test_more_fuel_never_goes_less_far(gallons: float, more: float, economy: float):
    """Range grows with the fuel."""

    def miles(volume: float) -> float:
        return diesel_range(Q(volume, "gallon"), Q(economy, "mile/gallon")).value

    assert miles(gallons + more) >= miles(gallons) - 1e-9
