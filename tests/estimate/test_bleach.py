"""Bleach doses and boiling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import bleach
from cabassist.units import registry

Q = registry().Quantity


@pytest.mark.parametrize(
    ("label", "fl_oz", "household"),
    # References, water test case 1: 100 gal at 50 mg/L, ±3 %. The reference's formula line lacks a factor of 1,000
    # (a solution of 1 % holds 10,000 mg in a litre, 10 in a millilitre); its figures do not.
    [(8.25, 7.76, "1 cup"), (6, 10.7, "1⅓ cups"), (5.25, 12.2, "1½ cups")],
)
def test_sanitizing_a_tank_of_100_gallons(label, fl_oz, household):
    """50 mg/L (Oregon Health Authority)."""
    dose = bleach.bleach_dose(Q(100, "gal"), label)

    assert dose.value == pytest.approx(fl_oz, rel=0.03)
    assert dose.verdict == f"About {household}."


@pytest.mark.parametrize(
    ("gallons", "fl_oz", "label", "mg_per_l", "off"),
    # West Virginia, haul residual; Oregon, wall wash (says about 200); extension rule of 1 gal in 1,000.
    [(1000, 3, 5.25, 1.23, 0.05), (5, 1.5, 8.25, 193, 5), (1000, 128, 5.25, 52.5, 0.3)],
)
def test_what_a_dose_makes(gallons, fl_oz, label, mg_per_l, off):
    """References, water test case 2 and the simple rule."""
    made = bleach.bleach_strength(Q(gallons, "gal"), Q(fl_oz, "fluid_ounce"), label)

    assert made.value == pytest.approx(mg_per_l, abs=off)


@pytest.mark.parametrize(("label", "drops"), [(6, 8), (8.25, 6), (5.25, None)])
def test_drops_for_a_gallon_of_drinking_water(label, drops):
    """EPA and CDC leaflets; another strength is not worked out from them."""
    dose = bleach.drinking_drops(Q(1, "gal"), label)

    assert dose.value == drops
    if drops:
        assert "30 minutes" in dose.verdict
        assert bleach.drinking_drops(Q(1, "gal"), label, cloudy_or_very_cold=True).value == 2 * drops
    else:
        assert "Boil" in dose.verdict


def test_drops_agree_with_the_dose_in_ppm():
    """8 drops of 0.05 mL of 6 % in a gallon: 6.3 mg/L; 6 of 8.25 %: 6.5 (references, arithmetic)."""
    assert bleach.bleach_strength(Q(1, "gal"), Q(8 * 0.05, "mL"), 6).value == pytest.approx(6.3, abs=0.05)
    assert bleach.bleach_strength(Q(1, "gal"), Q(6 * 0.05, "mL"), 8.25).value == pytest.approx(6.5, abs=0.05)


@pytest.mark.parametrize(("label", "odd"), [(4.9, True), (5, False), (9, False), (12.5, True)])
def test_odd_bleach_is_named(label, odd):
    """Household bleach is 5 to 9 % (from memory); pool chlorine and splash-less kinds are not."""
    assert ("not ordinary" in bleach.bleach_dose(Q(100, "gal"), label).verdict) is odd


@pytest.mark.parametrize("label", [0, 0.4, -6, 50, 825])
def test_impossible_labels_are_refused(label):
    """825 percent was 8.25."""
    with pytest.raises(ValueError, match="label"):
        bleach.bleach_dose(Q(100, "gal"), label)


@pytest.mark.parametrize(("feet", "minutes"), [(0, 1), (5000, 1), (5001, 3), (9000, 3)])
def test_boiling(feet, minutes):
    """One minute; three above 5,000 ft (EPA leaflet, 2017)."""
    assert bleach.boil_time(Q(feet, "ft")).value == minutes


@pytest.mark.parametrize(
    ("ml", "words"),
    [
        (236.6, "1 cup"),
        (59.1, "¼ cup"),
        (29.6, "2 tablespoons"),
        (14.8, "1 tablespoon"),
        (2.46, "½ teaspoon"),
        (0.4, "8 drops"),
        (0.05, "1 drop"),
    ],
)
def test_household_measures(ml, words):
    """US cup 236.6 mL, tablespoon 14.79, teaspoon 4.93, drop 0.05 (references)."""
    assert bleach.household(ml) == words


@given(st.floats(0.5, 20), st.floats(1, 1000), st.floats(1, 500))
def test_dose_and_strength_turn_each_other_round(label, gallons, target):
    """The dose for a strength makes that strength."""
    dose = bleach.bleach_dose(Q(gallons, "gal"), label, target_mg_per_l=target)
    made = bleach.bleach_strength(Q(gallons, "gal"), Q(dose.value, "fluid_ounce"), label)

    assert made.value == pytest.approx(target, rel=1e-4)
