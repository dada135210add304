"""Fresh water: hours left, filling, weight."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import DimensionalityError

from cabassist.estimate import water
from cabassist.units import registry

Q = registry().Quantity
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


def also(estimate, name):
    """A further figure of an estimate by its name."""
    return next(figure for figure in estimate.also if figure.name == name)


def test_hours_left_by_hand():
    """60 gal, 20 people, 1.5 gal a day each: 60 ÷ 30 x 24 = 48 h. Forgetting the people would give 960."""
    left = water.hours_left(Q(60, "gal"), 20, Q(1.5, "gal/day"))

    assert left.value == pytest.approx(48)
    assert left.low == left.high == left.value


def test_the_galley_and_a_reserve_count():
    """(60 - 10) ÷ (20 x 1.5 + 10) x 24 = 30 h by hand."""
    left = water.hours_left(
        Q(60, "gal"), 20, Q(1.5, "gal/day"), other=Q(10, "gal/day"), reserve=Q(10, "gal"), needed=Q(24, "h")
    )

    assert left.value == pytest.approx(30)
    assert "Enough for 24 h" in left.verdict


def test_nobody_aboard_gives_no_time():
    """No division by zero."""
    assert water.hours_left(Q(60, "gal"), 0, Q(1.5, "gal/day")).value is None


def test_a_hundred_gallons_at_eight_a_minute():
    """12.5 min ±0.1 (references, water test case 5); look after 80 % of it, cut to whole minutes: 10."""
    filled = water.fill_time(Q(100, "gal"), Q(8, "gal/min"))

    assert filled.value == pytest.approx(12.5, abs=0.1)
    assert also(filled, "look after").value == 10
    assert filled.verdict.startswith("Check the tank in 10 minutes.")


def test_an_uncertain_flow_sends_people_to_look_earlier():
    """25 % either way: full as early as 10 min, so look after 8."""
    filled = water.fill_time(Q(100, "gal"), Q(8, "gal/min"), flow_spread=0.25, started=NOW)

    assert filled.low == pytest.approx(10)
    assert "8 minutes, at 21:48 today" in filled.verdict


def test_a_quick_fill_is_not_left_alone():
    """Two gallons at eight a minute: 15 seconds."""
    assert "Stay at the tank" in water.fill_time(Q(2, "gal"), Q(8, "gal/min")).verdict


def test_filling_from_a_quarter():
    """0.75 x 120 = 90 gal at 4.5 gal a minute: 20 min; 90 x 8.337 = 750 lb."""
    filled = water.fill_plan(0.25, Q(120, "gal"), Q(4.5, "gal/min"))

    assert filled.value == pytest.approx(20)
    assert also(filled, "weight added").value == pytest.approx(750.3, abs=0.1)
    assert water.fill_plan(1, Q(120, "gal"), Q(4.5, "gal/min")).value == 0


def test_a_hundred_gallons_weigh_834_pounds():
    """834 lb ±2 (references, water test case 5)."""
    assert water.weight(Q(100, "gal")).value == pytest.approx(834, abs=2)


def test_weight_agrees_with_the_density_of_water():
    """CoolProp: 8.337 lb/gal at 60 °F, 8.345 at 39 °F."""
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    for degrees_f in (39, 50, 60):
        density = coolprop.PropsSI("D", "T", (degrees_f + 459.67) / 1.8, "P", 101_325, "Water")
        pounds = density * 0.003785411784 / 0.45359237

        assert water.weight(Q(1, "gal"), at=Q(degrees_f, "degF")).value == pytest.approx(pounds, abs=0.003)


@pytest.mark.parametrize(("degrees_f", "known"), [(38.9, False), (39, True), (60, True), (60.1, False)])
def test_no_density_is_invented(degrees_f, known):
    """Two published points; nothing beyond them."""
    assert (water.weight(Q(1, "gal"), at=Q(degrees_f, "degF")).value is not None) is known


def test_whole_showers_only():
    """60 gal, 2 gpm x 4 min each: 7.5, so seven (WaterSense head, 2.0 gpm)."""
    left = water.uses_left(Q(60, "gal"), Q(2, "gal/min") * Q(4, "min"), "showers")

    assert left.value == 7
    assert left.verdict == "Enough for 7 showers."


def test_what_is_in_the_tank_after_a_time():
    """Half of 120 gal and 8 gpm for 5 minutes: 100 gal; for 10 minutes full, with 20 over."""
    part = water.filled_after(0.5, Q(120, "gal"), Q(8, "gal/min"), Q(5, "min"))
    over = water.filled_after(0.5, Q(120, "gal"), Q(8, "gal/min"), Q(10, "min"))

    assert part.value == pytest.approx(100)
    assert part.verdict == ""
    assert over.value == pytest.approx(120)
    assert "20 gallons over" in over.verdict


def test_straight_line_between_two_readings():
    """100 gal down to 70 in 12 h: 28 h more."""
    left = water.hours_left_from_readings(Q(100, "gal"), NOW, Q(70, "gal"), NOW + timedelta(hours=12))

    assert left.value == pytest.approx(28)
    rising = water.hours_left_from_readings(Q(70, "gal"), NOW, Q(100, "gal"), NOW + timedelta(hours=12))
    assert rising.value is None


def test_wrong_dimensions_and_signs_are_refused():
    """At the door, with words."""
    with pytest.raises(DimensionalityError):
        water.fill_time(Q(100, "lb"), Q(8, "gal/min"))
    with pytest.raises(ValueError, match="more than zero"):
        water.fill_time(Q(100, "gal"), Q(0, "gal/min"))
    with pytest.raises(ValueError, match="people"):
        water.hours_left(Q(60, "gal"), -1, Q(1.5, "gal/day"))


@given(st.floats(0, 1), st.floats(1, 500), st.floats(0, 50), st.floats(0, 600))
def test_a_fill_never_exceeds_the_tank(level, capacity, gpm, minutes):
    """Whatever the hose gives: the rest is over, and nothing is lost."""
    filled = water.filled_after(level, Q(capacity, "gal"), Q(gpm, "gal/min"), Q(minutes, "min"))

    assert filled.value <= capacity * (1 + 1e-9)
    poured = level * capacity + gpm * minutes
    assert filled.value + also(filled, "overflowed").value == pytest.approx(poured, rel=1e-6, abs=1e-6)


@given(st.floats(1, 500), st.integers(1, 60), st.integers(1, 20), st.floats(0.1, 20))
def test_more_people_never_last_longer(gallons, aboard, more, each):
    """Same water, same habits."""
    one = water.hours_left(Q(gallons, "gal"), aboard, Q(each, "gal/day"))
    two = water.hours_left(Q(gallons, "gal"), aboard + more, Q(each, "gal/day"))

    assert two.value <= one.value


@given(st.floats(1, 500))
def test_units_round_trip(gallons):
    """The same water in litres gives the same hours."""
    litres = Q(gallons, "gal").to("L")

    assert water.hours_left(litres, 10, Q(2, "gal/day")).value == pytest.approx(
        water.hours_left(Q(gallons, "gal"), 10, Q(2, "gal/day")).value
    )
