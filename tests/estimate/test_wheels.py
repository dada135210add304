"""Wheel nuts, axle limits, water's weight, jacks."""

from __future__ import annotations

from datetime import date

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.wheels import (
    axle_limit,
    bridge_formula,
    jack_check,
    jack_inspection,
    nut_torque,
    thread_condition,
    torque_recheck,
    water_weight,
)
from cabassist.units import registry

Q = registry().Quantity


def ft_lb(value: float) -> pint.Quantity:
    return Q(value, "foot * pound_force")


@pytest.mark.parametrize(
    ("torque", "said"),
    [
        (430, "Outside"),
        (449, "Outside"),
        (450, "Inside"),
        (475, "Inside"),
        (500, "Inside"),
        (501, "Outside"),
        (520, "Outside"),
    ],
)
def test_torque_window(torque: float, said: str):
    """Hub-piloted M22x1.5: 475 ± 25 lb-ft (Trucknews, wheel article)."""
    assert nut_torque(ft_lb(torque)).verdict.startswith(said)


@pytest.mark.parametrize(("torque", "said"), [(609, "Outside"), (611, "Inside"), (677, "Inside"), (679, "Outside")])
def test_torque_window_in_newton_metres(torque: float, said: str):
    """450 to 500 lb-ft are 610 to 678 N·m (conversion)."""
    found = nut_torque(Q(torque, "N*m"))

    assert found.verdict.startswith(said)
    assert found.unit == "N·m"


def test_the_plate_comes_first():
    """A coach's own figure replaces the window; too loose and too tight are told apart."""
    assert nut_torque(ft_lb(430), target=ft_lb(430), window=ft_lb(10)).verdict.startswith("Inside")
    assert "too loose" in nut_torque(ft_lb(430)).verdict
    assert "too tight" in nut_torque(ft_lb(520)).verdict
    assert any("plate" in note for note in nut_torque(ft_lb(475)).assumptions)


def test_threads_are_from_memory():
    """TMC RP 222 is unconfirmed: oil for hub-piloted, dry for ball seats, ask the maker."""
    assert "oil" in thread_condition("hub-piloted").verdict
    assert "dry" in thread_condition("stud-piloted").verdict
    assert "From memory" in thread_condition("stud-piloted").verdict


def test_recheck_distance():
    """Fitted at 12,300 mi: re-check at 12,350 to 12,400 (Trucknews: after 50 to 100 miles)."""
    found = torque_recheck(Q(12_300, "mile"))

    assert (found.low, found.high) == (pytest.approx(12_350), pytest.approx(12_400))


@pytest.mark.parametrize(
    ("now", "said"),
    [(12_300, "Not yet"), (12_349, "Not yet"), (12_350, "Due now"), (12_400, "Due now"), (12_401, "Overdue")],
)
def test_when_the_recheck_is_due(now: float, said: str):
    """Both sides of 50 and 100 miles."""
    assert torque_recheck(Q(12_300, "mile"), now=Q(now, "mile")).verdict.startswith(said)


def test_the_profile_may_ask_for_more():
    """A coach that is checked after 150 km."""
    found = torque_recheck(Q(20_000, "km"), first=Q(150, "km"))

    assert (found.value, found.unit) == (pytest.approx(20_150), "km")


def test_an_odometer_that_ran_backwards_is_refused():
    """It can't be less than at fitting."""
    with pytest.raises(ValueError, match="below"):
        torque_recheck(Q(12_300, "mile"), now=Q(12_000, "mile"))


@pytest.mark.parametrize(("feet", "axles", "pounds"), [(4, 2, 34_000), (48, 5, 78_000), (51, 5, 80_000)])
def test_bridge_formula(feet: float, axles: int, pounds: float):
    """W = 500[LN/(N-1) + 12N + 36]; examples of the FHWA pamphlet and an examples page; 79,875 rounds to 80,000."""
    assert bridge_formula(Q(feet, "ft"), axles).value == pounds


def test_more_than_the_gross_limit_says_so():
    """70 ft on 6 axles give 96,000 by the formula, but 80,000 is the law."""
    found = bridge_formula(Q(70, "ft"), 6)

    assert found.value == 96_000
    assert "80,000 pounds gross" in found.verdict


@pytest.mark.parametrize(
    ("pounds", "axles", "left"),
    [(20_000, "single", 0), (20_001, "single", -1), (33_000, "tandem", 1_000), (80_001, "gross", -1)],
)
def test_axle_limits(pounds: float, axles: str, left: float):
    """23 USC 127, 23 CFR 658.17: 20,000, 34,000 and 80,000 lb."""
    found = axle_limit(Q(pounds, "lb"), axles)

    assert found.value == pytest.approx(left)
    assert found.verdict.startswith("Within" if left >= 0 else "Over")


def test_the_bus_axle_is_from_memory():
    """24,000 lb for an over-the-road bus is unconfirmed: named, not used."""
    found = axle_limit(Q(23_000, "lb"), "single", over_the_road_bus=True)

    assert found.value == pytest.approx(-3_000)
    assert "from memory" in found.verdict
    assert "from memory" not in axle_limit(Q(24_500, "lb"), "single", over_the_road_bus=True).verdict


def test_weight_of_water_and_waste():
    """100 gal fresh and 60 gal waste: 1,334 lb, 5 (8.337 lb/gal, CoolProp)."""
    assert water_weight(Q(100, "gallon"), Q(60, "gallon")).value == pytest.approx(1_334, abs=5)


def test_weight_of_water_by_coolprop():
    """Water at 60 °F: 8.337 lb/gal."""
    properties = pytest.importorskip("CoolProp.CoolProp")
    density = properties.PropsSI("D", "T", 288.706, "P", 101325, "Water")

    assert water_weight(Q(1, "m**3"), Q(0, "L")).value == pytest.approx(density, rel=1e-3)


def test_weight_on_each_axle():
    """By hand: 1,000 gal·8.337 lb, 15 of 25 ft behind the front axle: 0.6 of it on the rear axle."""
    found = water_weight(Q(1000, "gallon"), Q(0, "gallon"), behind_front_axle=Q(15, "ft"), wheelbase=Q(25, "ft"))
    rear, front = found.also

    assert rear.value == pytest.approx(0.6 * 8_337)
    assert rear.value + front.value == pytest.approx(found.value)


def test_a_tank_behind_the_rear_axle_lifts_the_front():
    """Its share on the rear axle is more than its weight."""
    found = water_weight(Q(100, "gallon"), Q(0, "gallon"), behind_front_axle=Q(30, "ft"), wheelbase=Q(25, "ft"))

    assert found.also[0].value > found.value
    assert found.also[1].value < 0


def test_half_of_the_lengths_is_refused():
    """Both or none."""
    with pytest.raises(ValueError, match="both"):
        water_weight(Q(1, "gallon"), Q(1, "gallon"), wheelbase=Q(25, "ft"))


def test_jacks():
    """29 CFR 1910.244(a): rating marked and enough, base blocked, load cribbed at once."""

    def check(rating: float | None, **more: bool):
        return jack_check(Q(12_000, "lb"), None if rating is None else Q(rating, "lb"), **more)

    assert check(12_000).verdict.startswith("The rating is enough")
    assert check(11_999).verdict.startswith("Stop. The jack is too weak")
    assert "base" in check(20_000, base_blocked=False).verdict
    assert check(20_000, cribbed=False).verdict.startswith("Stop")
    assert check(None).value is None
    for found in (check(12_000), check(11_999), check(None)):
        assert "Never go under a load on jacks alone" in found.verdict


def test_jack_inspection():
    """Every 6 months (1910.244(a)(2)(vi)): 31 August is due on the last of February, also in a leap year."""
    assert jack_inspection(date(2025, 8, 31), date(2026, 2, 28)).value == 0
    assert jack_inspection(date(2025, 8, 31), date(2026, 3, 1)).verdict.startswith("Overdue")
    assert jack_inspection(date(2027, 8, 31), date(2028, 2, 28)).value == 1
    assert jack_inspection(date(2026, 1, 15), date(2026, 7, 15)).value == 0
    with pytest.raises(ValueError, match="future"):
        jack_inspection(date(2026, 2, 1), date(2026, 1, 1))


def test_impossible_wheels_are_refused():
    """No torque, one axle, no spacing, negative water."""
    with pytest.raises(ValueError, match="torque"):
        nut_torque(ft_lb(0))
    with pytest.raises(ValueError, match="axles"):
        bridge_formula(Q(10, "ft"), 1)
    with pytest.raises(ValueError, match="spacing"):
        bridge_formula(Q(0, "ft"), 2)
    with pytest.raises(ValueError, match="waste"):
        water_weight(Q(1, "gallon"), Q(-1, "gallon"))
    with pytest.raises(pint.DimensionalityError):
        nut_torque(Q(475, "lb"))


@given(st.floats(1, 100), st.floats(0, 50), st.integers(2, 9))
def test_a_longer_group_never_carries_less(feet: float, more: float, axles: int):
    """The formula grows with the spacing."""
    assert bridge_formula(Q(feet + more, "ft"), axles).value >= bridge_formula(Q(feet, "ft"), axles).value
