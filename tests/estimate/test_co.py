"""Carbon monoxide: units, meaning, and always the same advice."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.co import LEAVE, co_reading, mg_per_m3, ppm_of


@pytest.mark.parametrize(("ppm", "weight", "printed"), [(50, 57.3, 55), (35, 40.1, 40), (200, 229.1, 229)])
def test_ppm_to_weight(ppm: float, weight: float, printed: float):
    """mg/m³ = ppm x 28.01 / 24.45; 0.3. OSHA prints 55, 40 and 229 (5 % for the first)."""
    found = mg_per_m3(ppm)

    assert found.value == pytest.approx(weight, abs=0.3)
    assert found.value == pytest.approx(printed, rel=0.05)


def test_a_silent_alarm_does_not_make_40_ppm_safe():
    """UL 2034 lets an alarm stay silent below 70 ppm: leave and find the source."""
    found = co_reading(40, alarm_sounding=False)

    assert found.verdict.startswith(LEAVE)
    assert "silent alarm does not make it safe" in found.verdict
    assert any("below 70 ppm" in line for line in found.working)


@pytest.mark.parametrize(
    ("ppm", "span"),
    [(69, None), (70, (60, 240)), (149, (60, 240)), (150, (10, 50)), (399, (10, 50)), (400, (4, 15)), (2000, (4, 15))],
)
def test_when_an_alarm_must_sound(ppm: float, span: tuple[float, float] | None):
    """70 ppm 60-240 min, 150 ppm 10-50, 400 ppm 4-15: UL 2034 sensitivity test."""
    found = [one for one in co_reading(ppm).also if one.name.startswith("alarm")]

    assert [(one.low, one.high) for one in found] == ([] if span is None else [span])


@pytest.mark.parametrize(("ppm", "named"), [(34, False), (35, True)])
def test_limits_are_named_from_their_value_on(ppm: float, named: bool):
    """NIOSH 35 ppm as an average (OSHA CSI page)."""
    assert any("NIOSH: 35" in line for line in co_reading(ppm).working) is named


def test_osha_is_an_eight_hour_average():
    """50 ppm is not a one-hour limit: 29 CFR 1910.1000 Z-1."""
    assert any("8-hour average, not a one-hour limit" in line for line in co_reading(50).working)


def test_immediately_dangerous():
    """IDLH 1,200 ppm (NIOSH)."""
    assert any("immediately dangerous" in line for line in co_reading(1200).working)
    assert not any("immediately dangerous" in line for line in co_reading(1199).working)


def test_nothing_shown_is_no_all_clear_for_the_sick():
    """A zero does not overrule a headache, nor an alarm."""
    assert "headache" in co_reading(0).verdict
    assert co_reading(0, alarm_sounding=True).verdict.startswith(LEAVE)


@pytest.mark.parametrize("ppm", [-1, math.nan, math.inf, 2_000_000])
def test_impossible_readings_still_say_leave(ppm: float):
    """A meter that shows nonsense is no reason to stay."""
    with pytest.raises(ValueError, match="Everyone out"):
        co_reading(ppm)


@given(st.floats(0.01, 1e6), st.sampled_from([None, True, False]))
def test_any_reading_means_leave(ppm: float, alarm: bool | None):
    """Whatever the number and whatever the alarm does."""
    assert co_reading(ppm, alarm_sounding=alarm).verdict.startswith(LEAVE)
    assert mg_per_m3(ppm).verdict == LEAVE


def test_milligrams_turn_back():
    """mg/m³ x 24.45 / 28.01 (NIOSH Pocket Guide): 40 mg/m³ are 35 ppm."""
    assert ppm_of(40).value == pytest.approx(34.9, abs=0.05)
    assert ppm_of(mg_per_m3(50).value or 0.0).value == pytest.approx(50)
    assert ppm_of(40).verdict == LEAVE
