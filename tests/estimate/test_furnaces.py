"""Propane burned: from the furnaces' plates and from the coach's heat loss."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cabassist.estimate import furnaces, propane
from cabassist.units import registry

Q = registry().Quantity
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


def demo_burn(coach, outside_f, aboard=None):
    """Burn of the demo coach at an outside temperature."""
    cabin = coach.cabin
    return furnaces.burn_from_heat_loss(
        ua=Q(cabin.ua_btu_per_h_f, "Btu/h/delta_degF"),
        infiltration=Q(cabin.infiltration_cfm, "ft^3/min"),
        inside=Q(cabin.setpoint_f, "degF"),
        outside=Q(outside_f, "degF"),
        aboard=coach.people.usual_passengers if aboard is None else aboard,
        efficiency=coach.furnaces[0].efficiency,
        inputs=[Q(furnace.input_btu_per_h, "Btu/h") for furnace in coach.furnaces],
    )


def test_two_furnaces_half_the_time():
    """By hand: (35,000 + 35,000) x 0.5 = 35,000 BTU/h; x 24 ÷ 91,502 = 9.18 gal a day."""
    burn = furnaces.burn_from_furnaces([Q(35_000, "Btu/h")] * 2, 0.5)

    assert burn.value == pytest.approx(35_000)
    assert next(f.value for f in burn.also if f.name == "gallons a day") == pytest.approx(9.18, abs=0.005)


def test_no_furnace_is_refused():
    """There is nothing to work with."""
    with pytest.raises(ValueError, match="which furnace"):
        furnaces.burn_from_furnaces([], 0.5)


def test_heat_loss_of_the_reference_case():
    """UA 400, 70 in, 10 out, 60 cfm → 24,000 + 3,888 = 27,888 BTU/h ±1 (references, heat and cold test case 3)."""
    burn = furnaces.burn_from_heat_loss(
        ua=Q(400, "Btu/h/delta_degF"),
        infiltration=Q(60, "ft^3/min"),
        inside=Q(70, "degF"),
        outside=Q(10, "degF"),
        aboard=0,
        efficiency=1,
        loss_spread=0,
    )

    assert burn.value == pytest.approx(27_888, abs=1)
    assert burn.low == burn.high == burn.value


def test_people_warm_the_cabin():
    """ASHRAE 2013: 70 W of warmth a person, 239 BTU/h; twenty of them take 4,777 BTU/h off."""
    case = {
        "ua": Q(400, "Btu/h/delta_degF"),
        "infiltration": Q(60, "ft^3/min"),
        "inside": Q(70, "degF"),
        "outside": Q(10, "degF"),
        "efficiency": 1,
    }
    alone = furnaces.burn_from_heat_loss(aboard=0, **case)
    full = furnaces.burn_from_heat_loss(aboard=20, **case)

    assert alone.value - full.value == pytest.approx(20 * 70 * 3.412, rel=0.001)


def test_the_air_factor_agrees_with_moist_air():
    """psychrolib at 70 °F gives 1.078 BTU/h per cfm and °F (references); within 1 % of 1.08."""
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.IP)
    volume = psychrolib.GetMoistAirVolume(70, 0.0, 14.696)
    factor = 0.24 * 60 / volume

    assert pytest.approx(factor, rel=0.01) == furnaces.AIR_FACTOR


def test_as_warm_outside_burns_nothing():
    """Both sides: 66 out of 66 burns nothing, 40 does without people."""
    case = {
        "ua": Q(240, "Btu/h/delta_degF"),
        "infiltration": Q(40, "ft^3/min"),
        "inside": Q(66, "degF"),
        "aboard": 0,
        "efficiency": 0.78,
    }
    warm = furnaces.burn_from_heat_loss(outside=Q(66, "degF"), **case)

    assert warm.value == 0
    assert "No heat needed" in warm.verdict
    assert furnaces.burn_from_heat_loss(outside=Q(40, "degF"), **case).value > 0


def test_furnaces_that_cannot_keep_up_are_named():
    """One furnace of 10,000 BTU/h against 30,000 needed burns without a pause; of 40,000 it copes."""
    short = furnaces.burn_for_heat(Q(24_000, "Btu/h"), 0.8, inputs=[Q(10_000, "Btu/h")])
    enough = furnaces.burn_for_heat(Q(24_000, "Btu/h"), 0.8, inputs=[Q(40_000, "Btu/h")])

    assert short.value == pytest.approx(10_000)
    assert "can't keep up" in short.verdict
    assert enough.value == pytest.approx(30_000)
    assert enough.verdict == ""


@pytest.mark.parametrize(("loss", "share"), [(28_000, 0.5), (56_000, 1.0), (56_001, None)])
def test_share_of_the_time_they_burn(loss, share):
    """Share on = loss ÷ (input x efficiency): 28,000 ÷ (70,000 x 0.8) = 0.5 (references, steady furnace duty)."""
    duty = furnaces.furnace_duty(Q(loss, "Btu/h"), [Q(35_000, "Btu/h")] * 2, 0.8)

    assert duty.value == (None if share is None else pytest.approx(share))


@pytest.mark.parametrize("outside_f", [0, 5, 10, 15])
def test_two_cylinders_last_most_of_a_week(coach, outside_f):
    """Common practice, no source: two cylinders feeding the demo coach in fairly cold weather last most of a week."""
    burn = demo_burn(coach, outside_f)
    pounds = sum(c.nominal_lb for c in coach.propane.cylinders if c.role != "spare")
    left = propane.hours_left(Q(pounds, "lb"), Q(burn.value, "Btu/h"))

    assert 4 * 24 <= left.value <= 7 * 24


def test_a_forecast_that_stays_the_same_gives_the_plain_answer(coach):
    """Added up hour by hour or divided at once: the same hours."""
    burn = demo_burn(coach, 10)
    plain = propane.hours_left(Q(20, "lb"), Q(burn.value, "Btu/h"))
    hourly = over_forecast(coach, [10] * 60)

    assert hourly.value == pytest.approx(plain.value, rel=1e-9)
    assert hourly.low < hourly.value < hourly.high


def over_forecast(coach, degrees_f):
    """Run-out of 20 lb in the demo coach over an hourly forecast."""
    cabin = coach.cabin
    return furnaces.run_out_over_forecast(
        Q(20, "lb"),
        [Q(f, "degF") for f in degrees_f],
        NOW,
        ua=Q(cabin.ua_btu_per_h_f, "Btu/h/delta_degF"),
        infiltration=Q(cabin.infiltration_cfm, "ft^3/min"),
        inside=Q(cabin.setpoint_f, "degF"),
        aboard=24,
        efficiency=0.78,
    )


def test_a_forecast_that_ends_first_gives_no_number(coach):
    """What lies beyond it is not invented; what is left at its end is said."""
    out = over_forecast(coach, [10] * 12)

    assert out.value is None
    assert "forecast ends first" in out.verdict
    with pytest.raises(ValueError, match="temperatures"):
        over_forecast(coach, [])


@given(st.floats(-60, 60), st.floats(0, 40), st.integers(0, 40))
def test_colder_never_lasts_longer(coach, outside_f, colder, aboard):
    """Nor do fewer people make it last longer."""
    one, two = demo_burn(coach, outside_f, aboard), demo_burn(coach, outside_f - colder, aboard)
    fewer = demo_burn(coach, outside_f, max(aboard - 5, 0))

    assert two.value >= one.value - 1e-6
    assert fewer.value >= one.value - 1e-6
    assert one.low <= one.value <= one.high


@settings(max_examples=20)
@given(st.lists(st.floats(-40, 40), min_size=30, max_size=60), st.floats(0, 20))
def test_a_colder_forecast_never_lasts_longer(coach, degrees_f, colder):
    """Hour by hour too."""
    one, two = over_forecast(coach, degrees_f), over_forecast(coach, [f - colder for f in degrees_f])
    beyond = float(len(degrees_f))

    assert (two.value or beyond) <= (one.value or beyond) + 1e-6
