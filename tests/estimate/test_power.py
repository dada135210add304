"""Breakers, loads and shedding."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.power import (
    ElectricLoad,
    amps,
    breaker_left,
    continuous_limit,
    outlet_capacity,
    shore_load,
    watts,
)
from cabassist.units import registry

Q = registry().Quantity
V120 = Q(120, "V")


@pytest.mark.parametrize(("breaker", "limit"), [(15, 12), (20, 16), (30, 24), (50, 40), (100, 80), (17, 13.6)])
def test_eighty_percent_of_any_breaker(breaker: float, limit: float):
    """15, 20, 30 and 50 A carry 12, 16, 24 and 40 A for hours: NEC 210.19(A), 210.20(A)."""
    found = continuous_limit(Q(breaker, "A"), V120)

    assert found.value == pytest.approx(limit)
    assert found.also[0].value == pytest.approx(limit * 120)


def test_a_heater_on_a_15_and_a_20_amp_outlet():
    """1,500 W on 120 V are 12.5 A: refused on 15 A for a night, allowed on 20 A with 3.5 A left to 16 (NEC 210.20)."""
    small, big = (breaker_left(Q(rating, "A"), V120, [Q(1500, "W")]) for rating in (15, 20))

    assert amps(Q(1500, "W"), V120).value == pytest.approx(12.5)
    assert small.value == pytest.approx(-0.5)
    assert small.verdict.startswith("Not for hours")
    assert big.value == pytest.approx(3.5)
    assert big.verdict.startswith("Allowed")


def test_exactly_eighty_percent_is_allowed():
    """12 A on 15 A fit; a hair more does not."""
    assert breaker_left(Q(15, "A"), V120, [Q(1440, "W")]).verdict.startswith("Allowed")
    assert breaker_left(Q(15, "A"), V120, [Q(1441, "W")]).verdict.startswith("Not for hours")


def test_more_than_the_rating_trips():
    """16 A trip a 15 A breaker, and nobody is told to hold it in."""
    found = breaker_left(Q(15, "A"), V120, [Q(10, "A"), Q(6, "A")])

    assert "trip" in found.verdict
    assert "Never tape" in found.verdict


def test_a_short_load_may_use_the_whole_breaker():
    """A kettle for ten minutes: 14 A on 15 A."""
    assert breaker_left(Q(15, "A"), V120, [Q(14, "A")], continuous=False).value == pytest.approx(1)


def test_an_empty_breaker_has_all_left():
    """Nothing on: 24 A of a 30 A breaker."""
    assert breaker_left(Q(30, "A"), V120, []).value == pytest.approx(24)


def test_watts_and_amps_undo_each_other():
    """20 A at 120 V are 2,400 W."""
    assert watts(Q(20, "A"), V120).value == pytest.approx(2400)
    assert amps(Q(2400, "W"), V120).value == pytest.approx(20)


def test_park_outlets():
    """30 A 120 V: 3,600 VA; 50 A 120/240 V: 12,000 VA; 20 A: 2,400 VA (NEC 551.46, 551.73)."""

    def rating(amp: float, legs: int = 1) -> float:
        return outlet_capacity(Q(amp, "A"), V120, legs=legs).also[0].value

    assert rating(20) == pytest.approx(2_400)
    assert rating(30) == pytest.approx(3_600)
    assert rating(50, legs=2) == pytest.approx(12_000)


def test_how_many_heaters_fit():
    """By hand: 2,880 W / 1,500 W: one; 1,440 W: two; none of 3,000 W. On two legs of 50 A: 3 each of 1,500 W."""

    def fit(amp: float, load: float, legs: int = 1) -> float:
        return outlet_capacity(Q(amp, "A"), V120, legs=legs, each=Q(load, "W")).also[-1].value

    assert fit(30, 1500) == 1
    assert fit(30, 1440) == 2
    assert fit(30, 3000) == 0
    assert fit(50, 1500, legs=2) == 6


LOADS = [
    ElectricLoad("microwave", Q(1500, "W"), 0.05, 1),
    ElectricLoad("coffee maker", Q(1000, "W"), 0.1, 2),
    ElectricLoad("block heater", Q(1000, "W"), 0.5, 3),
    ElectricLoad("heat tape", Q(90, "W"), 0.8),
]


def test_sheds_in_order_until_it_fits():
    """3,590 W are 29.9 A: over 24 but not over 30. Without the microwave 17.4 A: enough, nothing else goes."""
    found = shore_load(LOADS, Q(30, "A"), V120)

    assert found.value == pytest.approx(3590 / 120)
    assert "Switch off microwave" in found.verdict
    assert "coffee" not in found.verdict
    assert "will trip" not in found.verdict
    assert next(one for one in found.also if one.name == "after shedding").value == pytest.approx(2090 / 120)
    assert next(one for one in found.also if one.name == "average").value == pytest.approx(747 / 120)


def test_what_may_not_be_shed_stays_on():
    """On 15 A all that may go goes; the heat tape stays."""
    found = shore_load(LOADS, Q(15, "A"), V120)

    assert "microwave, then coffee maker" in found.verdict
    assert "heat tape" not in found.verdict
    assert "will trip" in found.verdict


def test_nothing_to_shed_says_so():
    """A load that may never be shed is not offered."""
    found = shore_load([ElectricLoad("heater", Q(1500, "W"))], Q(15, "A"), V120)

    assert "find a bigger outlet" in found.verdict


def test_shedding_that_does_not_help_enough_says_so():
    """Even without the microwave 12.5 A stay on 12."""
    found = shore_load(
        [ElectricLoad("heater", Q(1500, "W")), ElectricLoad("microwave", Q(1500, "W"), 0.1, 1)], Q(15, "A"), V120
    )

    assert "Even without microwave" in found.verdict


def test_two_equal_loads_count_twice():
    """Two heaters of the same name are two heaters."""
    heater = ElectricLoad("heater", Q(600, "W"))

    assert shore_load([heater, heater], Q(15, "A"), V120).value == pytest.approx(10)


def test_all_that_fits_is_left_alone():
    """90 W on 30 A."""
    assert shore_load(LOADS[3:], Q(30, "A"), V120).verdict.startswith("It fits")


def test_impossible_input_is_refused():
    """No breaker, no volts, negative loads, a duty over one."""
    with pytest.raises(ValueError, match="breaker"):
        continuous_limit(Q(0, "A"), V120)
    with pytest.raises(ValueError, match="voltage"):
        continuous_limit(Q(15, "A"), Q(0, "V"))
    with pytest.raises(ValueError, match="load"):
        breaker_left(Q(15, "A"), V120, [Q(-1, "W")])
    with pytest.raises(ValueError, match="percent"):
        shore_load([ElectricLoad("heater", Q(1, "W"), 1.5)], Q(15, "A"), V120)
    with pytest.raises(pint.DimensionalityError):
        continuous_limit(Q(15, "V"), V120)
    with pytest.raises(pint.DimensionalityError):
        breaker_left(Q(15, "A"), V120, [Q(5, "kg")])


@given(st.lists(st.tuples(st.floats(0, 3000), st.integers(0, 5)), max_size=8), st.floats(5, 100))
def test_shedding_never_goes_further_than_needed(rows: list[tuple[float, int]], breaker: float):
    """Put the last load shed back on and the limit is passed; with all of them off it is kept, or nothing is left."""
    loads = [ElectricLoad(f"load {number}", Q(power, "W"), 1.0, order) for number, (power, order) in enumerate(rows)]
    found = shore_load(loads, Q(breaker, "A"), V120)
    rest = next(one for one in found.also if one.name == "after shedding").value
    shed = [one.value for one in found.also if one.name.startswith("shed: ")]

    assert rest <= found.value + 1e-6
    if shed:
        assert rest + shed[-1] > 0.8 * breaker
    if rest > 0.8 * breaker * (1 + 1e-6):
        assert len(shed) == sum(load.shed_order > 0 for load in loads)
