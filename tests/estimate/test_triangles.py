"""Warning triangles by kind of road, 49 CFR 392.22."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.triangles import triangle_distances
from cabassist.units import registry

Q = registry().Quantity


def places(*args: object, **more: object) -> list[float]:
    return [place.value for place in triangle_distances(*args, **more).also]


def test_divided_and_one_way():
    """10, 100 and 200 ft toward traffic, all behind: 392.22(b)(2)(v)."""
    assert places("divided") == places("one-way") == [10, 100, 200]
    assert all("behind" in place.name for place in triangle_distances("divided").also)


def test_two_way():
    """10 and 100 ft toward traffic, 100 ft the other way: 392.22(b)(1), FMCSA Safety Planner."""
    found = triangle_distances("two-way")

    assert [place.value for place in found.also] == [10, 100, 100]
    assert "ahead" in found.also[2].name
    assert found.value == 100


def test_past_a_crest():
    """Stopped 300 ft past a crest: one 100 to 500 ft back at the crest, 392.22(b)(2)(iv)."""
    found = triangle_distances("two-way", blocked_view=Q(300, "ft"))

    assert found.also[1].value == pytest.approx(300)
    assert (found.also[1].low, found.also[1].high) == (100, 500)
    assert "100 to 500 feet behind" in found.verdict


@pytest.mark.parametrize(("feet", "moved"), [(499, True), (500, True), (501, False)])
def test_within_500_feet_only(feet: float, moved: bool):
    """A curve farther than 500 ft moves nothing."""
    assert ("100 to 500" in triangle_distances("divided", blocked_view=Q(feet, "ft")).verdict) is moved


def test_five_hundred_feet_in_metres():
    """152.4 m is 500 ft exactly."""
    assert "100 to 500" in triangle_distances("divided", blocked_view=Q(152.4, "m")).verdict


def test_a_curve_near_the_coach_still_gets_100_feet():
    """Never closer than 100 ft."""
    assert triangle_distances("two-way", blocked_view=Q(40, "ft")).also[1].value == 100


def test_a_curve_ahead():
    """On a two-way road the one ahead moves; on a divided road nobody comes from there."""
    assert places("two-way", blocked_view=Q(300, "ft"), blocked_side="ahead") == [10, 100, pytest.approx(300)]
    assert places("divided", blocked_view=Q(300, "ft"), blocked_side="ahead") == [10, 100, 200]


def test_town_and_leak():
    """In town only when dark and poorly lit; with a leak no flame: 392.22(b)(2)(iii), (vi)."""
    assert "not required" in triangle_distances("two-way", district=True, dark_and_poorly_lit=False).verdict
    assert "are needed" in triangle_distances("two-way", district=True).verdict
    assert "flame" in triangle_distances("two-way", leak=True).verdict
    assert "flame" not in triangle_distances("two-way").verdict


def test_within_ten_minutes():
    """Flashers at once, devices within 10 minutes: 392.22 (FMCSA Safety Planner)."""
    assert any("10 minutes" in note for note in triangle_distances("divided").assumptions)


def test_impossible_roads_are_refused():
    """An unknown road, a negative distance, a distance in pounds."""
    with pytest.raises(ValueError, match="two-way, divided or one-way"):
        triangle_distances("dirt")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="distance"):
        triangle_distances("divided", blocked_view=Q(-1, "ft"))
    with pytest.raises(pint.DimensionalityError):
        triangle_distances("divided", blocked_view=Q(1, "lb"))


@given(st.sampled_from(["two-way", "divided", "one-way"]), st.floats(0, 2000), st.sampled_from(["behind", "ahead"]))
def test_always_three_and_never_beyond_500_feet(road: str, feet: float, side: str):
    """Whatever the road, three devices between 10 and 500 ft."""
    found = places(road, blocked_view=Q(feet, "ft"), blocked_side=side)

    assert len(found) == 3
    assert found[0] == 10
    assert all(100 <= place <= 500 for place in found[1:])
