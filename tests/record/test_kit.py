"""Missing kit."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.record.entries import Record
from cabassist.record.kit import kit_in, missing, moved
from tests.record.conftest import NOON, later


@pytest.mark.parametrize(
    ("text", "item", "where"),
    [
        ("the torque wrench is missing", "torque-wrench", "missing"),
        ("we've lost the tire gauge", "tire-gauge", "missing"),
        ("we're out of bleach", "bleach", "missing"),
        ("fire extinguisher is missing", "extinguisher", "missing"),
        ("found the torque wrench", "torque-wrench", "back"),
        ("the torque wrench is back", "torque-wrench", "back"),
    ],
)
def test_kit_is_heard_as_missing_or_back(text: str, item: str, where: str, coach: Coach):
    found = kit_in(text, coach)

    assert found is not None
    assert (found[0].id, found[1]) == (item, where)


@pytest.mark.parametrize(
    "text", ["where is the torque wrench", "is the torque wrench missing", "the waste is gone", "a player is missing", "the oil is gone", "power is back", "two nuts are missing"]
)  # fmt: skip
def test_questions_and_other_things_are_none(text: str, coach: Coach):
    assert kit_in(text, coach) is None


def test_what_the_coach_may_not_drive_without_comes_first(coach: Coach):
    """49 CFR 392.8 and 393.95: extinguisher, warning devices, spare fuses."""
    items = {item.id: item for item in coach.kit}
    record = Record(tuple(moved(items[i], "missing", NOON, "Ann", "") for i in ("bleach", "triangles", "mop")))
    record = record.with_entries(moved(items["mop"], "back", later(1), "Ann", ""))

    assert [(m.item.id, m.stops) for m in missing(coach, record)] == [("triangles", True), ("bleach", False)]
