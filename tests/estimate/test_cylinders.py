"""The cylinder itself: legal fill, order of use, requalification."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import cylinders
from cabassist.estimate.cylinders import CylinderLevel
from cabassist.units import registry

Q = registry().Quantity
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


def also(estimate, name):
    """A further figure of an estimate by its name."""
    return next(figure for figure in estimate.also if figure.name == name)


@pytest.mark.parametrize(
    ("water_lb", "propane_lb"),
    # References, "water capacity marks": WC x 0.42. The 20-lb mark is secondary, the others from memory.
    [(47.6, 20.0), (71.4, 30.0), (95.2, 40.0), (143, 60.1), (238, 100.0)],
)
def test_legal_fill_is_42_percent_of_the_water(water_lb, propane_lb):
    """0.42 rule; a further 80 % would give 16 lb for the first."""
    assert cylinders.fill_from_water_capacity(Q(water_lb, "lb")).value == pytest.approx(propane_lb, abs=0.05)


def test_a_20_lb_cylinder_holds_4_73_gallons():
    """WC 47.6 lb → 20.0 lb ±0.05, 4.73 gal ±0.05 (references, propane test case 2; CoolProp density)."""
    fill = cylinders.fill_from_water_capacity(Q(47.6, "lb"))

    assert fill.value == pytest.approx(20.0, abs=0.05)
    assert also(fill, "gallons").value == pytest.approx(4.73, abs=0.05)


def test_the_worked_example_of_the_osha_rule():
    """100 gal, SG 0.510, filled at 40 °F: 79.8 gal ±0.2 (29 CFR 1910.110(b)(19))."""
    most = cylinders.maximum_fill(Q(100, "gal"), specific_gravity=0.510, volume_correction=1.031)

    assert most.value == pytest.approx(79.8, abs=0.2)


@pytest.mark.parametrize(("gravity", "known"), [(0.503, False), (0.504, True), (0.510, True), (0.511, False)])
def test_no_filling_density_is_invented(gravity, known):
    """42 % holds for SG 0.504 to 0.510 only (49 CFR 173.304a table; the band from memory)."""
    assert (cylinders.maximum_fill(Q(100, "gal"), specific_gravity=gravity).value is not None) is known


BURN = Q(21_548, "Btu/h")
"""A pound an hour."""


def test_the_feeding_cylinder_goes_first():
    """At a pound an hour 30 lb feeding and 10 lb beside it: changeover after 30 h, 40 in all."""
    plan = cylinders.order_of_use(
        [CylinderLevel("inside", Q(10, "lb")), CylinderLevel("outside", Q(30, "lb"), feeding=True)],
        BURN,
        automatic_changeover=True,
        now=NOW,
    )

    assert plan.value == pytest.approx(30)
    assert also(plan, "hours in all").value == pytest.approx(40)
    assert "03:40 on Saturday" in plan.verdict
    assert "by itself" in plan.verdict


def test_otherwise_the_emptier_one_goes_first_and_the_spare_last():
    """So that one is empty to take along while a full one is left."""
    plan = cylinders.order_of_use(
        [
            CylinderLevel("spare", Q(5, "lb"), connected=False),
            CylinderLevel("outside", Q(30, "lb")),
            CylinderLevel("inside", Q(10, "lb")),
        ],
        BURN,
        automatic_changeover=False,
    )

    assert [figure.name for figure in plan.also[1:]] == ["inside", "outside", "spare"]
    assert "lever" in plan.verdict


def test_the_last_cylinder_has_nothing_to_change_over_to():
    """An empty one does not count."""
    plan = cylinders.order_of_use(
        [CylinderLevel("outside", Q(0, "lb")), CylinderLevel("inside", Q(2, "gal"))], BURN, automatic_changeover=True
    )

    assert plan.verdict.startswith("Only the inside cylinder is left")
    empty = cylinders.order_of_use([CylinderLevel("outside", Q(0, "lb"))], BURN, automatic_changeover=True)
    assert empty.value == 0


def test_made_in_march_2013_and_never_requalified_is_overdue():
    """Asked on 1 Dec 2026; first due 12 years after manufacture (references, propane test case 6; 49 CFR 180.209(e))."""
    due = cylinders.requalification(date(2013, 3, 1), date(2026, 12, 1))

    assert due.value == -21
    assert "Overdue since March 2025" in due.verdict


def test_requalified_06_23_e_is_due_june_2028():
    """Five years after an external visual check (references, propane test case 6)."""
    due = cylinders.requalification(date(2010, 1, 1), date(2026, 12, 1), last=date(2023, 6, 1), mark="E")

    assert (also(due, "due year").value, also(due, "due month").value) == (2028, 6)
    assert due.verdict == "Due June 2028."


@pytest.mark.parametrize(
    ("on", "words"),
    [(date(2025, 2, 28), "Due March 2025"), (date(2025, 3, 1), "this month"), (date(2025, 4, 1), "Overdue")],
)
def test_both_sides_of_the_due_month(on, words):
    """The stamp names a month."""
    assert words in cylinders.requalification(date(2013, 3, 1), on).verdict


def test_no_letter_is_a_water_jacket_test_good_for_12_years():
    """Older training text; HM-219B restores it (references)."""
    due = cylinders.requalification(date(2000, 1, 1), date(2026, 1, 1), last=date(2015, 5, 1))

    assert also(due, "due year").value == 2027


@pytest.mark.parametrize(
    ("on", "words"),
    [(date(2024, 1, 1), "In date"), (date(2026, 1, 1), "unsettled"), (date(2029, 1, 1), "Overdue on either")],
)
def test_a_proof_pressure_test_gives_no_number(on, words):
    """7 years in older text, 10 later: unsettled in the references, so the dates are said and none is chosen."""
    due = cylinders.requalification(date(2005, 1, 1), on, last=date(2018, 6, 1), mark="S")

    assert due.value is None
    assert words in due.verdict


def test_dates_out_of_order_are_refused():
    """Made in the future, or requalified before it was made."""
    with pytest.raises(ValueError, match="stamps"):
        cylinders.requalification(date(2027, 1, 1), date(2026, 1, 1))
    with pytest.raises(ValueError, match="stamps"):
        cylinders.requalification(date(2013, 1, 1), date(2026, 1, 1), last=date(2012, 1, 1))


@given(st.lists(st.floats(0, 100), min_size=1, max_size=4), st.booleans())
def test_the_order_never_changes_the_hours_in_all(pounds, automatic):
    """At a pound an hour the sum of the pounds, whichever goes first."""
    plan = cylinders.order_of_use(
        [CylinderLevel(f"number {i}", Q(lb, "lb")) for i, lb in enumerate(pounds)],
        BURN,
        automatic_changeover=automatic,
    )
    hours = [figure.value for figure in plan.also if figure.name == "hours in all"] or [0.0]

    assert hours[0] == pytest.approx(sum(pounds), abs=1e-6)
