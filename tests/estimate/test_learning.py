"""What the coach's own readings teach."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import learning
from cabassist.estimate.learning import Belief, Step, Supply

GALLON_M3 = 0.003785411784
TANK = Supply("tank", capacity=100.0, unit="A*h", rate=1.0, rate_spread=0.3, noise=0.0)
"""Round numbers: 100 units, one used for each unit of exposure."""


@pytest.fixture(scope="module")
def bench():
    """The benchmark, whose simulated trips are made by other rules than the model's."""
    path = Path(__file__).resolve().parents[1] / "bench" / "estimates.py"
    spec = importlib.util.spec_from_file_location("bench_estimates", path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_physics_before_any_reading():
    """149.3 W/K over 0.78 for an hour is 689 kJ/K; at 21,548 BTU/lb (50.12 MJ/kg) 13.75 g for a kelvin-hour, by hand."""
    supply = learning.propane_supply(36.3, 149.3, 0.78)

    assert supply.rate == pytest.approx(0.01375, rel=0.001)
    assert learning.start(supply).rate == supply.rate


def test_habit_before_any_reading():
    """Two gallons a day each are 1/12 gal an hour."""
    supply = learning.people_supply("fresh", 120 * GALLON_M3, 2 * GALLON_M3)

    assert supply.rate == pytest.approx(GALLON_M3 / 12)


def test_two_exact_readings_are_conjugate_bayes():
    """Closed form for a normal prior 1 ± 0.3 and one measurement 1.5 of the rate with standard deviation 0.2.

    Posterior mean (1/0.3² x 1 + 1/0.2² x 1.5) ÷ (1/0.3² + 1/0.2²) = 1.3462, sd √(1 ÷ 36.11) = 0.1664 (textbook).
    The measurement: 15 units down over an exposure of 10, the second level ±2, the first known. Drift left out by
    passing no time worth the name.
    """
    belief = Belief(level=80.0, rate=1.0, level_var=1e-12, rate_var=0.09)
    belief = learning.advance(TANK, belief, 1e-9, 10.0)
    belief = learning.observe(TANK, belief, 65.0, 2.0)

    assert belief.rate == pytest.approx(1.3462, abs=1e-4)
    assert belief.rate_sd == pytest.approx(0.1664, abs=1e-4)


def test_many_readings_outweigh_physics():
    """A tank that goes half as fast again as physics says is believed after ten readings."""
    steps = [Step(100 - 1.5 * 8 * k, 1.0, 8.0 * (k > 0), 8.0 * (k > 0)) for k in range(8)]

    assert learning.learn(TANK, steps).rate == pytest.approx(1.5, abs=0.06)


def test_ranges_shrink_with_readings_and_widen_with_age():
    """Each reading makes the rate surer; each hour without one makes the level less sure."""
    steps = [Step(90 - 8.0 * k, 4.0, 8.0 * (k > 0), 8.0 * (k > 0)) for k in range(6)]
    widths = [learning.learn(TANK, steps[: k + 1]).rate_sd for k in range(6)]
    belief = learning.learn(TANK, steps)
    ages = [learning.advance(TANK, belief, h, h).level_sd for h in (0, 5, 10, 20)]

    assert widths[1:] == sorted(widths[1:], reverse=True)
    assert ages == sorted(ages)
    assert ages[0] < ages[-1]


def test_a_fill_keeps_the_rate():
    """And starts the level afresh."""
    steps = [Step(90, 1.0), Step(78, 1.0, 8, 8), Step(100, 1.0, 1, 1, refilled=True)]
    before, after = learning.learn(TANK, steps[:2]), learning.learn(TANK, steps)

    assert after.rate == before.rate
    assert after.level == 100
    assert after.covariance == 0


def test_waste_rises():
    """Fuller than expected means a faster rate."""
    supply = Supply("waste", 100.0, "A*h", 1.0, 0.3, 0.0, rising=True)
    belief = learning.learn(supply, [Step(10, 1.0), Step(22, 1.0, 8, 8)])

    assert belief.rate > 1
    low, middle, high = learning.hours_to(supply, belief, np.ones(400), 90.0)
    assert low < middle < high


def test_hours_to_a_limit_by_hand():
    """50 units at one an hour, the exposure two in each hour: 25 h; nothing else unknown, so no range."""
    belief = Belief(50.0, 1.0, 1e-12, 1e-12)

    assert learning.hours_to(TANK, belief, np.full(100, 2.0), 0.0, forecast_spread=0) == pytest.approx(
        (25, 25, 25), abs=1e-3
    )
    assert learning.hours_to(TANK, belief, np.full(20, 2.0), 0.0, forecast_spread=0) == (None, None, None)


def test_degree_hours_leave_out_what_people_warm():
    """291 in, 261 out, 24 x 70 W ÷ 149.3 W/K = 11.25 K from people: 18.75 K; capped by the furnaces; never below 0."""
    hourly = learning.degree_hours(291.0, np.array([261.0, 300.0]), 24.0, 149.3)

    assert hourly == pytest.approx([18.75, 0], abs=0.01)
    assert learning.degree_hours(291.0, np.array([261.0]), 24.0, 149.3, most_w=1493)[0] == pytest.approx(10)


def test_the_day_pattern_adds_up_to_a_day():
    """24 people for a whole day are 576 person-hours, most of them by day."""
    assert learning.person_hours([24] * 24, 0).sum() == pytest.approx(576)
    assert learning.person_hours([1] * 6, 0).sum() < 3


@pytest.mark.parametrize("call", [(-1.0, 1.0), (1.0, -1.0)])
def test_time_does_not_run_backwards(call):
    """Nor does exposure."""
    with pytest.raises(ValueError, match="less than zero"):
        learning.advance(TANK, learning.start(TANK), *call)


def test_ranges_hold_what_they_promise(bench):
    """The 10–90 % range covers 75–85 % of outcomes over all supplies on simulated trips (150 of each kind)."""
    scores = [bench.score(make, count, 50, 11) for make in bench.WORLDS.values() for count in (1, 3, 5)]
    covered = sum(s.inside for s in scores) / sum(s.trips for s in scores)

    assert 0.75 <= covered <= 0.85


def test_after_three_readings_learning_beats_both_other_ways(bench):
    """Mean error of the hours left, for each supply; three readings of a coarse gauge gain a tenth on physics.

    That tenth needs some hundreds of trips to show: over 100 it can be the other way round by chance.
    """
    for make in bench.WORLDS.values():
        got = bench.score(make, 3, 600, 12)

        assert got.learned < got.physics
        assert got.learned < got.line


@given(st.floats(1, 100), st.floats(0.2, 3), st.floats(0, 20), st.floats(0, 0.9))
def test_colder_or_fuller_with_people_never_lasts_longer(level, exposure, more, rate_sd):
    """More exposure in every hour ends sooner, at every chance."""
    belief = Belief(level, 1.0, 4.0, rate_sd**2 * 0.1)
    one = learning.hours_to(TANK, belief, np.full(600, exposure), 0.0)
    two = learning.hours_to(TANK, belief, np.full(600, exposure + more), 0.0)

    for slow, fast in zip(one, two, strict=True):
        assert (600 if fast is None else fast) <= (600 if slow is None else slow) + 1e-6


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 30), st.floats(0, 60)), min_size=1, max_size=10))
def test_whatever_is_read_the_belief_stays_sound(history):
    """Variances stay positive, the covariance possible, the rate above zero."""
    belief = learning.learn(TANK, [Step(level, 4.0, hours, exposure) for level, hours, exposure in history])

    assert belief.level_var > 0
    assert belief.rate_var > 0
    assert belief.rate > 0
    assert belief.covariance**2 <= belief.level_var * belief.rate_var * (1 + 1e-9)
