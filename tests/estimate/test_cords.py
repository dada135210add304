"""Voltage drop, cord length, cord ampacity."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.cords import (
    STRANDED_OHM_PER_KFT,
    circular_mils,
    cord_limit,
    longest_cord,
    ohm_per_foot,
    thinnest_cord,
    voltage_drop,
)
from cabassist.units import registry

Q = registry().Quantity
V120 = Q(120, "V")


@pytest.mark.parametrize(
    ("awg", "drop", "percent"), [(14, 10.05, 8.4), (12, 6.34, 5.3), (10, 3.97, 3.3), (8, 2.49, 2.1)]
)
def test_drop_by_the_table(awg: int, drop: float, percent: float):
    """120 V, 16 A, 100 ft: NEC Ch. 9 Table 8, stranded copper, 75 °C; 0.02 V. One wire only would give half."""
    found = voltage_drop(V120, Q(16, "A"), Q(100, "ft"), awg)

    assert found.value == pytest.approx(drop, abs=0.02)
    assert found.also[0].value == pytest.approx(percent, abs=0.05)
    assert found.low < found.value == found.high


def test_drop_by_resistance_and_by_k():
    """120 V, 20 A, 100 ft, 12 AWG: 7.92 V by resistance, 7.90 by K = 12.9; 0.05 V; over 5 % (electrician exam notes)."""
    table, k = (voltage_drop(V120, Q(20, "A"), Q(100, "ft"), 12, method=method) for method in ("table", "k"))

    assert table.value == pytest.approx(7.92, abs=0.05)
    assert k.value == pytest.approx(7.90, abs=0.05)
    assert "over 5, too much" in table.verdict


def test_three_phase():
    """20 A, 200 ft, 1.1 ohm/kft: 7.62 V (EC&M, Basics of Calculating Voltage Drop; printed 7.7)."""
    found = voltage_drop(
        Q(480, "V"), Q(20, "A"), Q(200, "ft"), 10, resistance=Q(1.1 / 1000, "ohm/ft"), three_phase=True
    )

    assert found.value == pytest.approx(7.62, abs=0.01)


def test_conductor_temperature():
    """R2 = R1 x [1 + 0.00323 x (20 - 75)] = 0.822 R1: NEC Ch. 9 Table 8 note 2; 82 % at 20 °C."""
    assert ohm_per_foot(12, 20) / ohm_per_foot(12, 75) == pytest.approx(0.822, abs=0.001)
    warm, cold = (
        voltage_drop(V120, Q(12, "A"), Q(100, "ft"), 12, conductor_temperature=Q(celsius, "degC"))
        for celsius in (75, 20)
    )
    assert cold.value / warm.value == pytest.approx(0.822, abs=0.001)
    assert cold.low == cold.high == cold.value


def test_a_resistance_given_with_the_question():
    """By hand: 2 x 10 A x 50 ft x 2 ohm / 1000 ft = 2.0 V."""
    found = voltage_drop(V120, Q(10, "A"), Q(50, "ft"), 12, resistance=Q(0.002, "ohm/ft"))

    assert found.value == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("feet", "said"), [(47, "good"), (48, "over 3, not over 5"), (78, "over 3, not over 5"), (80, "over 5")]
)
def test_both_sides_of_the_advice(feet: float, said: str):
    """19 A on 12 AWG lose 0.0627 % a foot: 3 % at 47.8 ft, 5 % at 79.7 ft. NEC notes: 3 % and 5 %, advice only."""
    found = voltage_drop(V120, Q(19, "A"), Q(feet, "ft"), 12)

    assert said in found.verdict
    assert any("advice, not a rule" in note for note in found.assumptions)


def test_a_drop_beyond_the_voltage_is_no_number():
    """100 A over half a mile of 18 gauge would lose more than there is."""
    found = voltage_drop(V120, Q(100, "A"), Q(2640, "ft"), 18)

    assert found.value is None


@pytest.mark.parametrize(("awg", "feet"), [(12, 56.8), (10, 90.7)])
def test_longest_cord(awg: int, feet: float):
    """16 A at 3 % of 120 V: 56.8 ft of 12 AWG, 90.7 of 10; 0.5 (Table 8)."""
    found = longest_cord(V120, Q(16, "A"), awg)

    assert found.value == pytest.approx(feet, abs=0.5)
    assert found.low == found.value < found.high


def test_wire_for_a_drop():
    """1.732 x 12.9 x 200 x 20 / 14.4 V = 6,207 cmil: 12 AWG (EC&M)."""
    found = thinnest_cord(Q(480, "V"), Q(20, "A"), Q(200, "ft"), three_phase=True)

    assert found.value == 12
    assert found.also[0].value == pytest.approx(6_207, abs=1)


def test_no_wire_is_thick_enough():
    """400 A over 1,000 ft."""
    assert thinnest_cord(V120, Q(400, "A"), Q(1000, "ft")).value is None


@pytest.mark.parametrize(("awg", "mils"), [(14, 4_107), (12, 6_530), (10, 10_383), (8, 16_510), (6, 26_251)])
def test_wire_areas(awg: int, mils: int):
    """ASTM B258-02: d = 0.005 x 92^((36 - n)/39) in."""
    assert circular_mils(awg) == pytest.approx(mils, abs=1.5)


def test_awg_ten_in_metric():
    """AWG 10: 2.588 mm, 5.261 mm² (worked page); n 36 is 0.0050 in."""
    assert (circular_mils(10) ** 0.5) * 0.0254 == pytest.approx(2.588, abs=0.001)
    assert circular_mils(36) ** 0.5 / 1000 == pytest.approx(0.005)


@pytest.mark.parametrize("awg", sorted(STRANDED_OHM_PER_KFT))
def test_table_and_k_agree(awg: int):
    """Two sources, one copper: NEC Table 8 against K = 12.9 over ASTM B258 areas, within 3 %."""
    assert ohm_per_foot(awg, method="k") == pytest.approx(ohm_per_foot(awg), rel=0.03)


@pytest.mark.parametrize(
    ("awg", "feet", "limit"),
    [(16, 50, 13), (14, 50, 15), (12, 50, 20), (16, 51, 10), (12, 51, 15), (10, 51, 20), (18, 25, 10)],
)
def test_cord_sets_by_length(awg: int, feet: float, limit: float):
    """UL 817 Tables 114-115: up to 50 ft 13, 15, 20 A; over 50 ft 10, 15, 20 A; ampacity by NEC 400.5(A)(1)."""
    assert cord_limit(awg, Q(feet, "ft")).value == limit


@pytest.mark.parametrize(("awg", "ampacity"), [(18, 10), (16, 13), (14, 18), (12, 25)])
def test_ampacity(awg: int, ampacity: float):
    """NEC 400.5(A)(1), two live wires."""
    found = cord_limit(awg, Q(20, "ft"))

    assert f"carries {ampacity} A" in found.working[0]


def test_fifty_feet_in_metres_is_not_over_fifty():
    """15.24 m is 50 ft exactly."""
    assert cord_limit(12, Q(15.24, "m")).value == 20


def test_a_thirty_amp_cord_is_from_memory():
    """10 AWG carries 30 A, an unconfirmed value: it says so."""
    found = cord_limit(10, Q(50, "ft"), current=Q(24, "A"))

    assert found.value == 30
    assert any("from memory" in note for note in found.assumptions)


def test_what_the_tables_lack_is_not_invented():
    """14 AWG over 50 ft: between the 10 A of 16 AWG and the 15 A of its own shorter set."""
    found = cord_limit(14, Q(100, "ft"), current=Q(12, "A"))

    assert (found.value, found.low, found.high) == (None, 10, 15)
    assert "thicker or shorter" in found.verdict
    assert "all right" in cord_limit(14, Q(100, "ft"), current=Q(10, "A")).verdict
    assert "too much" in cord_limit(14, Q(100, "ft"), current=Q(16, "A")).verdict
    assert cord_limit(22, Q(10, "ft")).value is None


def test_both_sides_of_a_cord_limit():
    """20 A on 12 AWG up to 50 ft; not 20.1."""
    assert cord_limit(12, Q(50, "ft"), current=Q(20, "A")).verdict.startswith("Thick enough")
    assert cord_limit(12, Q(50, "ft"), current=Q(20.1, "A")).verdict.startswith("Too thin")


def test_impossible_cords_are_refused():
    """No length, negative amps, no such wire, a length in amps."""
    with pytest.raises(ValueError, match="length"):
        voltage_drop(V120, Q(10, "A"), Q(0, "ft"), 12)
    with pytest.raises(ValueError, match="current"):
        voltage_drop(V120, Q(-1, "A"), Q(10, "ft"), 12)
    with pytest.raises(ValueError, match="gauge"):
        voltage_drop(V120, Q(1, "A"), Q(10, "ft"), 41)
    with pytest.raises(ValueError, match="drop allowed"):
        longest_cord(V120, Q(1, "A"), 12, most_drop=0)
    with pytest.raises(pint.DimensionalityError):
        voltage_drop(V120, Q(1, "A"), Q(10, "A"), 12)


@given(st.sampled_from([18, 16, 14, 12, 10, 8, 6]), st.floats(0.1, 50), st.floats(1, 100), st.floats(0, 100))
def test_longer_never_loses_less(awg: int, flow: float, feet: float, more: float):
    """A longer cord, or a thinner one, never loses less."""

    def drop(size: int, length: float) -> float:
        found = voltage_drop(Q(10_000, "V"), Q(flow, "A"), Q(length, "ft"), size)
        assert found.value is not None
        return found.value

    assert drop(awg, feet + more) >= drop(awg, feet) - 1e-9
    assert drop(18, feet) >= drop(awg, feet) - 1e-9


@given(st.sampled_from([18, 14, 12, 8]), st.floats(0.5, 50), st.floats(0.005, 0.2))
def test_the_longest_cord_loses_exactly_what_is_allowed(awg: int, flow: float, part: float):
    """Length and drop undo each other."""
    feet = longest_cord(V120, Q(flow, "A"), awg, most_drop=part).value

    assert voltage_drop(V120, Q(flow, "A"), Q(feet, "ft"), awg).value == pytest.approx(120 * part, rel=1e-6)
