"""Damp air. Check values: psychrometric tables at sea level (from memory) and the Magnus formula worked by hand."""

from __future__ import annotations

import pytest

from cabassist.estimate.damp import dew_point, driest_allowed, sweats
from cabassist.estimate.tires import air_pressure_pa, tire_pressure_up


@pytest.mark.parametrize(("air", "humidity", "dew"), [(68, 0.5, 48.7), (70, 0.4, 44.6), (50, 1.0, 50.0)])
def test_the_dew_point(air: float, humidity: float, dew: float):
    assert dew_point(air, humidity).value == pytest.approx(dew, abs=0.3)


def test_a_window_below_the_dew_point_sweats():
    assert sweats(38, 70, 0.4).verdict.startswith("Yes")
    assert sweats(55, 70, 0.4).verdict.startswith("No")
    assert driest_allowed(41, 72).value == pytest.approx(32.6, abs=0.3)


def test_damp_outside_the_formula_has_no_number():
    assert dew_point(-60, 0.5).value is None
    with pytest.raises(ValueError, match="humidity"):
        dew_point(70, 0.0)


def test_a_tire_gains_at_height():
    # U.S. Standard Atmosphere 1976: 696.8 hPa at 10,000 ft.
    assert air_pressure_pa(10_000) == pytest.approx(69_680, rel=1e-3)
    assert tire_pressure_up(110, 60, 60, 0, 10_000).value == pytest.approx(110 + 14.696 - 10.106, abs=0.02)
    with pytest.raises(ValueError, match="high"):
        tire_pressure_up(110, 60, 60, 0, 90_000)
