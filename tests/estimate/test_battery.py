"""Battery: charge, hours, charging, freezing, cranking."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.battery import (
    amp_hours_used,
    battery_hours,
    charge_hours,
    charge_hours_between,
    cranking_power,
    freezing_point,
    house_battery_hours,
    peukert_hours,
    state_of_charge,
)
from cabassist.units import registry

Q = registry().Quantity


@pytest.mark.parametrize(
    ("volts", "charge", "slack"),
    [(12.65, 100, 0.1), (12.45, 75, 0.1), (12.24, 50, 1), (12.06, 25, 0.1), (11.89, 0, 0.1), (12.35, 63, 2)],
)
def test_charge_at_rest(volts: float, charge: float, slack: float):
    """BCI table at 80 °F; 12.35 V lies between 50 and 75 %."""
    found = state_of_charge(Q(volts, "V"))

    assert found.value == pytest.approx(charge, abs=slack)
    assert found.low <= found.value <= found.high


@pytest.mark.parametrize(
    ("degrees", "correction"), [(0, -0.192), (20, -0.144), (40, -0.096), (60, -0.048), (80, 0), (100, 0.048)]
)
def test_a_cold_reading_is_corrected(degrees: float, correction: float):
    """BCI-type correction table: a reading of 12.24 minus the correction is 50 % at every temperature."""
    found = state_of_charge(Q(12.24 - correction, "V"), battery_temperature=Q(degrees, "degF"))

    assert found.value == pytest.approx(50, abs=0.1)


def test_a_cold_battery_has_less_than_its_volts_say():
    """12.45 V at 20 °F is 12.306 V corrected: 57.9 %, not 75."""
    assert state_of_charge(Q(12.45, "V"), battery_temperature=Q(20, "degF")).value == pytest.approx(57.9, abs=0.1)


def test_beyond_the_correction_table_only_a_bound():
    """At -10 °F it is at most what the correction of 0 °F gives: 12.45 - 0.192 = 12.258 V, 52 %."""
    found = state_of_charge(Q(12.45, "V"), battery_temperature=Q(-10, "degF"))

    assert found.value is None
    assert found.high == pytest.approx(52.1, abs=0.2)
    assert "ends at 0" in found.verdict
    assert state_of_charge(Q(12.45, "V"), battery_temperature=Q(110, "degF")).low is not None


def test_a_24_volt_bank():
    """24.48 V is two halves of 12.24: 50 %."""
    assert state_of_charge(Q(24.48, "V"), nominal=Q(24, "V")).value == pytest.approx(50, abs=0.5)


def test_a_charging_voltage_is_no_rest_voltage():
    """13.4 V is a charger, not a charge."""
    found = state_of_charge(Q(13.4, "V"))

    assert found.value is None
    assert "rest" in found.verdict


@pytest.mark.parametrize("volts", [0, 17, 48])
def test_volts_no_battery_has(volts: float):
    """A 12 V bank reads neither 0 nor 48."""
    with pytest.raises(ValueError, match="Read the meter again"):
        state_of_charge(Q(volts, "V"))


def test_a_flat_battery_freezes_near_13_f():
    """SG 1.120 freezes near +13 °F, 25 % (1.155) near +3 °F: Army OD1002, TM 5-1185 Table III, interpolated.

    A much-copied table says -10 and -16 °F, which errs on the dangerous side.
    """
    assert freezing_point(1.120).value == pytest.approx(13, abs=0.5)
    assert freezing_point(1.155).value == pytest.approx(3, abs=0.5)
    found = state_of_charge(Q(11.89, "V"), outside=Q(10, "degF"))
    assert "can freeze" in found.verdict
    assert "Never charge" in found.verdict


@pytest.mark.parametrize(
    ("gravity", "point"), [(1.000, 32), (1.100, 19), (1.150, 5), (1.200, -16), (1.250, -62), (1.280, -90)]
)
def test_the_army_table(gravity: float, point: float):
    """U.S. Army OD1002 and TM 5-1185 Table III."""
    assert freezing_point(gravity).value == pytest.approx(point)


def test_freezing_risk():
    """SG 1.150 at 0 °F: risk, it freezes at +5. SG 1.250 at -20 °F: none (Army table)."""
    assert freezing_point(1.150, outside=Q(0, "degF")).verdict.startswith("It can freeze")
    assert freezing_point(1.250, outside=Q(-20, "degF")).verdict.startswith("No freezing risk")
    assert freezing_point(1.150, outside=Q(7, "degF")).verdict.startswith("Close")
    assert freezing_point(1.150, outside=Q(-15, "degC")).unit == "C"


def test_beyond_the_army_table():
    """1.290 has no number, only the end of the table; 2 is no gravity."""
    assert freezing_point(1.290).value is None
    assert freezing_point(1.290).high == pytest.approx(-90)
    with pytest.raises(ValueError, match="specific gravity"):
        freezing_point(2.0)


def test_peukert_in_its_rated_form():
    """k 1.2, 100 Ah at 20 h: 8.71 h at 10 A, 0.02; exactly 20.0 h at 5 A."""
    assert peukert_hours(100, 10, 1.2) == pytest.approx(8.71, abs=0.02)
    assert peukert_hours(100, 5, 1.2) == 20.0
    found = house_battery_hours(Q(100, "A*h"), Q(10, "A"), stop_at=0)
    assert found.value == pytest.approx(8.71, abs=0.02)


def test_peukert_in_its_basic_form():
    """t = Cp / I^k; Cp 100, k 1.2, 5 A: 14.5 h (electrotechnik.net). A one-hour rating makes both forms one."""
    assert peukert_hours(100, 5, 1.2, rated_hours=1) == pytest.approx(100**1.2 / 5**1.2, rel=1e-9)
    assert pytest.approx(14.5, abs=0.05) == 100 / 5**1.2


def test_hours_down_to_a_level():
    """By hand: 400 Ah, 20 A, from full to half: 10 h; from 80 %: 6 h; 240 W at 12 V are the same 20 A."""
    assert battery_hours(Q(400, "A*h"), Q(20, "A")).value == pytest.approx(10)
    assert battery_hours(Q(400, "A*h"), Q(20, "A"), charge=0.8).value == pytest.approx(6)
    assert battery_hours(Q(400, "A*h"), Q(240, "W")).value == pytest.approx(10)
    assert battery_hours(Q(400, "A*h"), Q(480, "W"), nominal=Q(24, "V")).value == pytest.approx(10)


def test_nothing_to_use_below_the_level():
    """At 40 % with a stop at 50 there are no hours, and it says to charge."""
    found = battery_hours(Q(400, "A*h"), Q(20, "A"), charge=0.4)

    assert found.value == 0
    assert "charge it now" in found.verdict


def test_hours_in_the_cold():
    """At 30 °F the range runs from the Army's 65 % cranking share to no loss; below 0 °F there is no number."""
    warm = house_battery_hours(Q(400, "A*h"), Q(20, "A"))
    cold = house_battery_hours(Q(400, "A*h"), Q(20, "A"), battery_temperature=Q(30, "degF"))
    frozen = house_battery_hours(Q(400, "A*h"), Q(20, "A"), battery_temperature=Q(-1, "degF"))

    assert cold.low == pytest.approx(0.65 * warm.value)
    assert cold.high == pytest.approx(warm.value)
    assert cold.low < cold.value < cold.high
    assert frozen.value is None
    assert frozen.high < cold.value


def test_hours_to_charge():
    """By hand: 100 Ah / (25 A x 0.8) = 5 h; leaving the efficiency out would give 4."""
    found = charge_hours(Q(100, "A*h"), Q(25, "A"), efficiency=0.8)

    assert found.value == pytest.approx(5)
    assert found.high > found.value
    assert charge_hours(Q(100, "A*h"), Q(25, "A"), efficiency=0.8, to_full=False).high == pytest.approx(5)


def test_hours_to_charge_between_levels():
    """By hand: 400 Ah x 0.3 = 120 Ah / (40 A x 0.75) = 4 h."""
    found = charge_hours_between(Q(400, "A*h"), 0.5, 0.8, Q(40, "A"), efficiency=0.75)

    assert found.value == pytest.approx(4)
    assert found.low == found.high
    with pytest.raises(ValueError, match="below"):
        charge_hours_between(Q(400, "A*h"), 0.8, 0.5, Q(40, "A"))


def test_amp_hours_through_an_inverter():
    """By hand: 1,200 W x 0.25 h / (12 V x 0.8) = 31.25 Ah."""
    found = amp_hours_used(Q(1200, "W"), Q(15, "min"), Q(12, "V"), efficiency=0.8)

    assert found.value == pytest.approx(31.25)


@pytest.mark.parametrize(("degrees", "percent"), [(80, 100), (30, 65), (0, 40), (15, 52.5), (-1, None), (81, None)])
def test_cranking_power(degrees: float, percent: float | None):
    """U.S. Army TM 5-1185: 100 % at 80 °F, 65 at 30, 40 at 0; no number outside."""
    found = cranking_power(Q(degrees, "degF")).value

    assert found == (None if percent is None else pytest.approx(percent))


def test_impossible_batteries_are_refused():
    """No capacity, no load, a charge over full, a wild exponent, watts for amp hours."""
    with pytest.raises(ValueError, match="capacity"):
        battery_hours(Q(0, "A*h"), Q(20, "A"))
    with pytest.raises(ValueError, match="load"):
        battery_hours(Q(100, "A*h"), Q(0, "A"))
    with pytest.raises(ValueError, match="charge now"):
        battery_hours(Q(100, "A*h"), Q(10, "A"), charge=1.2)
    with pytest.raises(ValueError, match="Peukert"):
        house_battery_hours(Q(100, "A*h"), Q(10, "A"), exponent=2)
    with pytest.raises(ValueError, match="12 and 24"):
        state_of_charge(Q(12, "V"), nominal=Q(36, "V"))
    with pytest.raises(pint.DimensionalityError):
        battery_hours(Q(100, "W"), Q(10, "A"))


@given(st.floats(50, 1000), st.floats(0.5, 200), st.floats(0, 100), st.floats(1.0, 1.6))
def test_more_load_never_lasts_longer(capacity: float, flow: float, more: float, exponent: float):
    """By amp hours or by Peukert."""
    for hours in (
        lambda load: battery_hours(Q(capacity, "A*h"), Q(load, "A")).value,
        lambda load: house_battery_hours(Q(capacity, "A*h"), Q(load, "A"), exponent=exponent).value,
    ):
        assert hours(flow + more) <= hours(flow) + 1e-9


@given(st.floats(0, 80), st.floats(0, 80))
def test_colder_never_lasts_longer(one: float, other: float):
    """Hours and cranking power never rise in the cold."""
    cold, warm = sorted((one, other))

    def hours(degrees: float) -> float:
        return house_battery_hours(Q(400, "A*h"), Q(20, "A"), battery_temperature=Q(degrees, "degF")).value

    assert hours(cold) <= hours(warm) + 1e-9
    assert cranking_power(Q(cold, "degF")).value <= cranking_power(Q(warm, "degF")).value + 1e-9


@given(st.floats(11.0, 12.75), st.floats(0, 0.5))
def test_more_volts_never_mean_less_charge(volts: float, more: float):
    """Charge rises with the rest voltage."""
    lower, higher = state_of_charge(Q(volts, "V")), state_of_charge(Q(min(volts + more, 12.75), "V"))

    assert higher.value >= lower.value - 1e-9
    assert 0 <= lower.low <= lower.high <= 100
