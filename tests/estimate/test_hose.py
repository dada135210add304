"""Hose flow and what friction takes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import hose
from cabassist.units import registry

Q = registry().Quantity


def also(estimate, name):
    """A further figure of an estimate by its name."""
    return next(figure for figure in estimate.also if figure.name == name)


def test_the_worked_example():
    """200 gpm, 3.048 in, C 140, 30 ft: 9.0 ft in 100 ft ±0.1, 2.7 ft (Engineering ToolBox; water test case 3)."""
    lost = hose.hose_loss(Q(200, "gal/min"), Q(30, "ft"), Q(3.048, "in"))

    assert also(lost, "head lost in 100 ft").value == pytest.approx(9.0, abs=0.1)
    assert also(lost, "head lost").value == pytest.approx(2.7, abs=0.03)
    assert lost.value == pytest.approx(2.7 * 0.4335, abs=0.02)


@pytest.mark.parametrize(
    ("inches", "feet", "gpm"),
    # References, "garden hose, friction only": 40 psi all lost, C 140.
    [(0.5, 50, 8.9), (0.625, 50, 15.9), (0.75, 50, 25.7), (0.625, 100, 10.9)],
)
def test_a_garden_hose_with_40_psi(inches, feet, gpm):
    """An upper bound: fittings and the house's pipe take more."""
    flow = hose.hose_flow(Q(40, "psi"), Q(feet, "ft"), Q(inches, "in"))

    assert flow.value == pytest.approx(gpm, abs=0.1)
    assert flow.high == flow.value
    assert flow.low < flow.value
    assert "At most" in flow.verdict


def test_the_bucket_tells_the_real_flow():
    """Five gallons in 40 seconds: 7.5 gallons a minute."""
    assert hose.flow_rate(Q(5, "gal"), Q(40, "s")).value == pytest.approx(7.5)


@pytest.mark.parametrize(("lift_ft", "flows"), [(92.2, True), (92.3, False)])
def test_no_more_lift_than_the_pressure_gives(lift_ft, flows):
    """0.4335 psi a foot (62.43 lb/ft³ ÷ 144): 40 psi lift water 92.27 ft."""
    flow = hose.hose_flow(Q(40, "psi"), Q(50, "ft"), Q(0.5, "in"), lift=Q(lift_ft, "ft"))

    assert (flow.value > 0) is flows


@given(st.floats(5, 100), st.floats(5, 200), st.floats(0.3, 2))
def test_flow_and_loss_turn_each_other_round(psi, feet, inches):
    """The loss of the flow that a pressure drives is that pressure."""
    flow = hose.hose_flow(Q(psi, "psi"), Q(feet, "ft"), Q(inches, "in")).value
    lost = hose.hose_loss(Q(flow, "gal/min"), Q(feet, "ft"), Q(inches, "in")).value

    assert lost == pytest.approx(psi, rel=1e-5)


@given(st.floats(5, 100), st.floats(5, 200), st.floats(0.1, 100))
def test_a_longer_hose_never_gives_more(psi, feet, more):
    """Same pressure, same bore."""
    one = hose.hose_flow(Q(psi, "psi"), Q(feet, "ft"), Q(0.5, "in")).value
    two = hose.hose_flow(Q(psi, "psi"), Q(feet + more, "ft"), Q(0.5, "in")).value

    assert two <= one
