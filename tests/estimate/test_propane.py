"""Propane left: content, heat, hours, run-out and fill-by times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import DimensionalityError

from cabassist.estimate import furnaces, propane
from cabassist.units import registry

Q = registry().Quantity
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


def also(estimate, name):
    """A further figure of an estimate by its name."""
    return next(figure for figure in estimate.also if figure.name == name)


@pytest.mark.parametrize(
    ("nominal_lb", "gallons"),
    # Supplier pages for 20 and 100 lb; the rest lb ÷ 4.24 (references, propane, "cylinders, lb → gal").
    [(20, 4.7), (30, 7.1), (40, 9.4), (60, 14.2), (100, 23.6)],
)
def test_a_full_cylinder_holds_the_gallons_it_is_sold_with(nominal_lb, gallons):
    """The name is the legal fill. Taking 80 % of it again would give 18.9 gal for 100 lb."""
    full = propane.content_from_gauge(1, Q(nominal_lb, "lb"))

    assert full.value == pytest.approx(nominal_lb)
    assert also(full, "gallons").value == pytest.approx(gallons, abs=0.06)


def test_a_quarter_of_a_40_lb_cylinder_is_10_pounds():
    """Reading a gauge of "fill": by hand 0.25 x 40 = 10 lb; a second 80 % would give 8."""
    quarter = propane.content_from_gauge(0.25, Q(40, "lb"))

    assert quarter.value == pytest.approx(10)
    assert (quarter.low, quarter.high) == (pytest.approx(8), pytest.approx(12))


def test_a_gauge_of_the_whole_shell_stands_near_80_percent_when_full():
    """42 % of the water's weight is 82.8 % of the shell for pure propane (references, CoolProp), about 83 % here."""
    at_80 = propane.content_from_gauge(0.8, Q(40, "lb"), gauge="shell")
    at_85 = propane.content_from_gauge(0.85, Q(40, "lb"), gauge="shell")

    assert at_80.value == pytest.approx(40 * 0.8 / 0.828, rel=0.01)
    assert at_80.verdict == ""
    assert "legal fill" in at_85.verdict


def test_a_cylinder_is_weighed_less_its_tare():
    """52 lb on the scale with TW 29 is 23 lb; 23 ÷ 4.24 = 5.42 gal by hand."""
    weighed = propane.content_from_weight(Q(52, "lb"), Q(29, "lb"))

    assert weighed.value == pytest.approx(23)
    assert also(weighed, "gallons").value == pytest.approx(5.42, abs=0.01)
    assert weighed.high - weighed.value == pytest.approx(1)


def test_a_cylinder_lighter_than_its_tare_is_refused():
    """One of the two was misread; a pound of scale error is not enough for that."""
    with pytest.raises(ValueError, match="TW stamp"):
        propane.content_from_weight(Q(25, "lb"), Q(29, "lb"))

    assert propane.content_from_weight(Q(28.5, "lb"), Q(29, "lb")).value == 0


@pytest.mark.parametrize(("scale_lb", "warned"), [(70, False), (70.9, False), (71.5, True)])
def test_an_overfilled_cylinder_is_named(scale_lb, warned):
    """Forty pounds over a tare of 30 is the legal fill; more than the scale's error above it is too much."""
    weighed = propane.content_from_weight(Q(scale_lb, "lb"), Q(30, "lb"), nominal=Q(40, "lb"))

    assert ("bleed" in weighed.verdict) is warned


def test_two_cylinders_add_and_their_errors_do_not():
    """10 + 30 lb with 2 lb either way each: root of the sum of squares, 2.83 lb."""
    both = propane.content_of_all(
        [propane.content_from_gauge(0.25, Q(40, "lb")), propane.content_from_gauge(0.75, Q(40, "lb"))]
    )

    assert both.value == pytest.approx(40)
    assert both.low == pytest.approx(40 - 2.83, abs=0.01)
    with pytest.raises(ValueError, match="each cylinder"):
        propane.content_of_all([])


@pytest.mark.parametrize(
    ("amount", "btu"),
    # NFPA 58 Annex B: 91,502 BTU/gal, 21,548 BTU/lb.
    [((1, "gal"), 91_502), ((1, "lb"), 21_548), ((3.785411784, "L"), 91_502), ((0, "gal"), 0)],
)
def test_heat_by_gallon_and_by_pound(amount, btu):
    """Each through its own published figure."""
    assert propane.energy(Q(*amount)).value == pytest.approx(btu, rel=1e-6)


def test_heat_agrees_with_the_combustion_of_pure_propane():
    """chemicals 1.5: HHV 50.330 MJ/kg = 21,638 BTU/lb, within half a percent of the table for vapor."""
    chemicals = pytest.importorskip("chemicals")
    heat = chemicals.combustion_data(formula="C3H8", Hf=chemicals.Hfg("74-98-6"), method="Stoichiometry")
    mj_per_kg = -heat.HHV / heat.MW / 1000
    ours = Q(propane.energy(Q(1, "kg")).value, "Btu").m_as("MJ")

    assert ours == pytest.approx(mj_per_kg, rel=0.005)


def test_density_agrees_with_pure_propane():
    """CoolProp: 506.69 kg/m³ at 60 °F, 4.2285 lb/gal; the trade's 4.24 is within a third of a percent."""
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    lb_per_gal = coolprop.PropsSI("D", "T", 288.706, "Q", 0, "Propane") / 0.45359237 * 0.003785411784

    assert lb_per_gal == pytest.approx(propane.LB_PER_GAL, rel=0.0035)


def test_twenty_pounds_with_a_30_000_btu_burner_last_14_4_hours():
    """NFPA heat value: 20 x 21,548 ÷ 30,000 = 14.4 h (references, propane test case 3)."""
    left = propane.hours_left(Q(20, "lb"), Q(30_000, "Btu/h"))

    assert left.value == pytest.approx(14.4, abs=0.2)
    assert left.low == left.high == left.value


def test_nine_gallons_with_a_furnace_at_40_percent():
    """By hand: 9 x 91,502 ÷ (35,000 x 0.4) = 58.8 h, 2.45 days. Forgetting the duty gives 23.5 h."""
    burn = furnaces.burn_from_furnaces([Q(35_000, "Btu/h")], 0.4)
    left = propane.hours_left(Q(9, "gal"), Q(burn.value, "Btu/h"))

    assert left.value == pytest.approx(58.8, abs=0.05)
    assert also(left, "days").value == pytest.approx(2.45, abs=0.005)


@pytest.mark.parametrize(
    ("needed_h", "words"),
    # 58.8 hours; with 20 % on the burn between 49.0 and 70.6.
    [(49, "Enough for"), (49.1, "may not last"), (70, "may not last"), (71, "Not enough for")],
)
def test_whether_it_is_enough(needed_h, words):
    """Only the early end of the range is counted on."""
    left = propane.hours_left(Q(9, "gal"), Q(14_000, "Btu/h"), needed=Q(needed_h, "h"), burn_spread=0.2)

    assert words in left.verdict


def test_nothing_burned_gives_no_time():
    """No division by zero, and words instead of a number."""
    left = propane.hours_left(Q(9, "gal"), Q(0, "Btu/h"))

    assert left.value is None
    assert "Nothing is burned" in left.verdict


def test_run_out_and_fill_by_are_named_by_the_clock():
    """58.82 h from Thursday 21:40 is Sunday 08:29; early end 49.02 h less 6 h in hand is Saturday 16:41."""
    out = propane.run_out(Q(9, "gal"), Q(14_000, "Btu/h"), NOW)

    assert out.value == pytest.approx(58.82, abs=0.01)
    assert also(out, "fill by").value == pytest.approx(43.02, abs=0.01)
    assert "Fill by 16:41 on Saturday" in out.verdict
    assert any("Sun 08:29" in line for line in out.working)


def test_fill_now_when_the_margin_is_used_up():
    """Both sides of the margin: 6.5 h left is by the clock, 5.9 h is now."""
    burn = Q(91_502, "Btu/h")
    soon = propane.run_out(Q(6.5, "gal"), burn, NOW, burn_spread=0)
    late = propane.run_out(Q(5.9, "gal"), burn, NOW, burn_spread=0)

    assert "Fill by 22:10 today" in soon.verdict
    assert "Fill now" in late.verdict


def test_a_clock_without_zone_is_refused():
    """The time of day would be a guess."""
    with pytest.raises(ValueError, match="time zone"):
        propane.run_out(Q(9, "gal"), Q(14_000, "Btu/h"), datetime(2026, 1, 15, 21, 40))


def test_gallons_for_a_day_of_heat():
    """20,000 BTU/h delivered for 24 h at 0.80: 6.56 gal (references, heat and cold test case 5)."""
    need = propane.propane_needed(Q(20_000, "Btu/h"), Q(24, "h"), efficiency=0.8)

    assert need.value == pytest.approx(6.56, abs=0.05)


def test_straight_line_between_two_readings():
    """9 gal down to 6 in 12 h: 6 ÷ 0.25 = 24 h more."""
    left = propane.hours_left_from_readings(Q(9, "gal"), NOW, Q(6, "gal"), NOW + timedelta(hours=12))

    assert left.value == pytest.approx(24)


def test_a_volume_of_time_is_refused():
    """Dimensions are checked at the door."""
    with pytest.raises(DimensionalityError):
        propane.hours_left(Q(9, "h"), Q(14_000, "Btu/h"))
    with pytest.raises(DimensionalityError):
        propane.hours_left(Q(9, "gal"), Q(14_000, "Btu"))


@pytest.mark.parametrize("bad", [-0.01, 1.01, 40])
def test_an_impossible_gauge_is_refused(bad):
    """A percentage given as a share shows here."""
    with pytest.raises(ValueError, match="gauge"):
        propane.content_from_gauge(bad, Q(40, "lb"))


@pytest.mark.parametrize("call", [(-1, 14_000), (9, -14_000)])
def test_negative_amounts_are_refused(call):
    """Neither less than nothing in the cylinder nor a furnace that makes propane."""
    with pytest.raises(ValueError, match="below zero"):
        propane.hours_left(Q(call[0], "gal"), Q(call[1], "Btu/h"))


@given(st.floats(0.01, 500), st.floats(100, 200_000), st.floats(0, 0.9), st.floats(0, 0.9))
def test_more_propane_never_lasts_less(gallons, burn, spread, more):
    """And the range always holds the value."""
    one = propane.hours_left(Q(gallons, "gal"), Q(burn, "Btu/h"), burn_spread=spread)
    two = propane.hours_left(Q(gallons * (1 + more), "gal"), Q(burn, "Btu/h"), burn_spread=spread)

    assert one.value <= two.value * (1 + 1e-9)
    assert one.low <= one.value <= one.high


@given(st.floats(0, 1), st.floats(4, 420))
def test_a_cylinder_never_holds_more_than_its_fill(fraction, nominal):
    """Neither the value nor its range."""
    left = propane.content_from_gauge(fraction, Q(nominal, "lb"))

    assert 0 <= left.low <= left.value <= left.high <= nominal * (1 + 1e-9)
