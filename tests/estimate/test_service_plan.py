"""The smallest set of service stops."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cabassist.estimate import service_plan, trip
from cabassist.estimate.learning import Belief, Supply
from cabassist.estimate.trip import Heat, Itinerary, Stock, Visit

START = datetime(2026, 1, 15, 8, tzinfo=UTC)


def stock(name, level, rate, service, *, rising=False):
    """A supply that people use, a little unevenly."""
    supply = Supply(name, 100.0, "A*h", rate, 0.1, 0.3, rising)
    return Stock(supply, Belief(level, rate, 1.0, (0.1 * rate) ** 2), 90.0 if rising else 0.0, "people", service)


def run_of(stops, *stocks, hours=72, count=400):
    """A trip with stops at (hour, services)."""
    visits = tuple(Visit(f"stop {h}", h, h + 1, frozenset(services)) for h, services in stops)
    full = np.ones(hours)
    itinerary = Itinerary(START, full * 20, full * 290, full * 260, full * 0, visits)
    return trip.simulate(itinerary, stocks, Heat(150.0), np.random.default_rng(2), trajectories=count)


def test_no_stop_where_none_is_needed():
    """60 of 100 used by the end."""
    plan = service_plan.service_stops(run_of([(24, {"water"})], stock("fresh", 100, 0.04, "water")), 0.1)

    assert plan.value == 0
    assert plan.verdict == "No service stop is needed."


def test_one_stop_in_the_middle():
    """1,440 person-hours at 0.1 use 144: one fill is needed, at 10 h too early, at 36 h right, at 70 too late."""
    run = run_of([(10, {"water"}), (36, {"water"}), (70, {"water"})], stock("fresh", 100, 0.1, "water"))
    plan = service_plan.smallest_service(run, 0.1)

    assert [(s.visit.hour, s.services) for s in plan.stops] == [(36, ("water",))]
    assert plan.enough
    assert plan.smallest


def test_one_place_for_two_needs_beats_two_places():
    """Where water and dump can be had together one stop does; only what is needed is asked for there."""
    stops = [(30, {"water"}), (34, {"water", "dump", "propane"}), (38, {"dump"})]
    run = run_of(stops, stock("fresh", 100, 0.1, "water"), stock("waste", 5, 0.1, "dump", rising=True))
    plan = service_plan.smallest_service(run, 0.2)

    assert [(s.visit.hour, set(s.services)) for s in plan.stops] == [(34, {"water", "dump"})]


def test_when_even_all_stops_are_not_enough():
    """Fresh at 20 with the first water after 60 hours."""
    plan = service_plan.service_stops(run_of([(60, {"water"})], stock("fresh", 20, 0.1, "water")), 0.1)

    assert plan.value is None
    assert "not enough for the fresh" in plan.verdict


def test_a_supply_without_a_service_cannot_be_helped():
    """It is named."""
    plan = service_plan.service_stops(run_of([(30, {"dump"})], stock("fresh", 20, 0.1, "water")), 0.1)

    assert plan.value is None


@pytest.mark.parametrize("bound", [0, 1, -0.1, 10])
def test_a_bound_is_a_chance(bound):
    """Ten percent is 0.1."""
    with pytest.raises(ValueError, match=r"0\.1"):
        service_plan.smallest_service(run_of([], stock("fresh", 100, 0.04, "water")), bound)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 71), st.sets(st.sampled_from(["water", "dump"]), min_size=1)),
        max_size=6,
        unique_by=lambda stop: stop[0],
    ),
    st.floats(0.02, 0.4),
    st.floats(0.02, 0.2),
)
def test_against_the_obvious_way(stops, bound, rate):
    """Every set of stops tried and counted by itself: no smaller one is good, and the chosen one is."""
    stops = sorted(stops, key=lambda stop: stop[0])
    run = run_of(stops, stock("fresh", 90, rate, "water"), stock("waste", 5, rate, "dump", rising=True), count=60)
    plan = service_plan.smallest_service(run, bound)

    def chances(chosen):
        return [
            trip.failed(run, name, [h for h, services in chosen if service in services]).mean()
            for name, service in (("fresh", "water"), ("waste", "dump"))
        ]

    good = [n for n in range(len(stops) + 1) for c in combinations(stops, n) if max(chances(c)) <= bound]
    assert plan.enough is bool(good)
    if good:
        assert len(plan.stops) == min(good)
        done = [(s.visit.hour, set(s.services)) for s in plan.stops]
        assert max(chances(done)) <= bound
