"""Depth and volume, and the straight line through two readings."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import tanks
from cabassist.units import registry

Q = registry().Quantity
SHAPES = ["rectangular", "horizontal-cylinder"]


@pytest.mark.parametrize(
    ("depth", "shape", "level"),
    # Circular segment by hand: at a quarter of the diameter θ = 2π/3, (2π/3 - √3/2) ÷ 2π = 0.1955.
    [
        (0, "horizontal-cylinder", 0),
        (0.25, "horizontal-cylinder", 0.1955),
        (0.5, "horizontal-cylinder", 0.5),
        (0.75, "horizontal-cylinder", 0.8045),
        (1, "horizontal-cylinder", 1),
        (0.25, "rectangular", 0.25),
    ],
)
def test_share_of_the_volume_at_a_depth(depth, shape, level):
    """A lying cylinder holds less than a quarter in its lowest quarter."""
    assert tanks.fraction_at_depth(depth, shape) == pytest.approx(level, abs=0.0001)


@pytest.mark.parametrize(("counted_from", "gallons"), [("bottom", 30), ("top", 90)])
def test_inches_from_the_bottom_and_from_the_top(counted_from, gallons):
    """Six inches in a tank of 24 in and 120 gal: 30 gal of water, or 6 in of air above 90."""
    inside = tanks.volume_at_depth(Q(6, "in"), Q(24, "in"), Q(120, "gal"), counted_from=counted_from)

    assert inside.value == pytest.approx(gallons)
    assert inside.high - inside.value == pytest.approx(2.5)


def test_deeper_than_the_tank_is_refused():
    """24 in are full; 25 were misread."""
    assert tanks.volume_at_depth(Q(24, "in"), Q(24, "in"), Q(120, "gal")).value == pytest.approx(120)
    with pytest.raises(ValueError, match="Measure again"):
        tanks.volume_at_depth(Q(25, "in"), Q(24, "in"), Q(120, "gal"))


def test_depth_of_a_volume():
    """30 of 120 gal stand 6 in deep in 24."""
    assert tanks.depth_at_volume(Q(30, "gal"), Q(24, "in"), Q(120, "gal")).value == pytest.approx(6)
    with pytest.raises(ValueError, match="can't hold"):
        tanks.depth_at_volume(Q(130, "gal"), Q(24, "in"), Q(120, "gal"))


def test_level_and_room():
    """30 of 120 gal: a quarter, with 90 gal of room."""
    level = tanks.level_of(Q(30, "gal"), Q(120, "gal"))

    assert level.value == pytest.approx(0.25)
    assert level.also[0].value == pytest.approx(90)


def test_231_cubic_inches_are_a_gallon():
    """WAC 296-307-40029: 21 x 11 x 100 in = 23,100 in³ = 100 gal; a cylinder holds π/4 of its box."""
    box = tanks.capacity_from_size(Q(21, "in"), Q(100, "in"), Q(11, "in"))
    round_one = tanks.capacity_from_size(Q(20, "in"), Q(48, "in"), shape="horizontal-cylinder")

    assert box.value == pytest.approx(100)
    assert round_one.value == pytest.approx(20 * 20 * 48 * 0.785398 / 231, rel=1e-5)
    with pytest.raises(ValueError, match="width"):
        tanks.capacity_from_size(Q(21, "in"), Q(100, "in"))


def test_the_straight_line_and_its_range():
    """From 45 to 70 in 10 h, 30 to go: 12 h. One point of error: 1 x √(12² + 22²) ÷ 25 = 1.0 h."""
    line = tanks.straight_line("waste", 45, 70, 10, target=100, unit="percent", rising=True, error=1)

    assert line.value == pytest.approx(12)
    assert line.high - line.value == pytest.approx(1.0024, abs=0.001)


@pytest.mark.parametrize(("last", "hours"), [(0.0, 0), (5.0, 0), (8.0, None), (7.9, 290)])
def test_a_line_that_has_arrived_or_leads_nowhere(last, hours):
    """Falling from 8 toward 5 or below: there already, never, or in 2.9 ÷ 0.01 h."""
    line = tanks.straight_line("fresh", 8, last, 10, target=5, unit="gal")

    assert line.value == (None if hours is None else pytest.approx(hours))


@given(st.floats(0, 1), st.sampled_from(SHAPES))
def test_depth_and_volume_turn_each_other_round(level, shape):
    """Within a thousandth of the tank."""
    assert tanks.fraction_at_depth(tanks.depth_at_fraction(level, shape), shape) == pytest.approx(level, abs=1e-6)


@given(st.floats(0, 24), st.floats(0, 24), st.sampled_from(SHAPES), st.sampled_from(["bottom", "top"]))
def test_deeper_is_never_less_and_never_more_than_full(one, two, shape, counted_from):
    """More water from the bottom is more; more air from the top is less."""
    first, second = (
        tanks.volume_at_depth(Q(d, "in"), Q(24, "in"), Q(120, "gal"), shape=shape, counted_from=counted_from)
        for d in sorted((one, two))
    )
    if counted_from == "top":
        first, second = second, first

    assert first.value <= second.value + 1e-6
    assert 0 <= first.low <= first.value
    assert second.value <= second.high <= 120 + 1e-6
