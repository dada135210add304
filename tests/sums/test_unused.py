"""A number that would not change the answer, or an answer of another kind, is asked about instead of told."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.dialogue.types import Mind
from cabassist.sums.working import Worked, work_out

NOW = datetime(2026, 1, 15, 14, 0, tzinfo=UTC)


def ask(question: str, mind: Mind) -> Worked | None:
    return work_out(question, (), coach=mind.coach, stored=(), now=NOW)


@pytest.mark.parametrize(
    "question",
    [
        "furnace 35,000 BTU input at 80 percent efficiency, coach loses 14,000 an hour, 30 lb of propane, how many hours",
        "house battery 400 Ah at 80 percent, draw 20 amps, stop at 50 percent, inverter wastes 10 percent, how long",
        "four cylinders of 40 lb, two full, one half, one empty, 12 lb a day, how many days",
        "DEF 10 gallons, 3 percent of fuel, 6.5 mpg, how many miles, keep 2 gallons",
        "two furnaces 30,000 each, one runs half the time the other a quarter, 40 lb, how many hours",
        "half of the 40 lb cylinder left, two heaters at 8,000 and one at 12,000 all on, hours",
        "20 lb of propane, 30,000 BTU furnace, only 75 percent of the heat reaches us, need 12,000 BTU per hour, hours",
        "90 gallons fresh, 30 people at 2 gallons a day each, but 12 get off at noon, how long does it last",
        "crew of 30 uses 2 gal each daily, 18 of them only half that, 100 gallons, days",
    ],
)
def test_no_number_is_told_that_leaves_an_amount_out(mind: Mind, question: str):
    worked = ask(question, mind)
    assert worked is None or worked.estimate is None


def test_two_cylinders_each_with_its_size_and_share_are_added_up(mind: Mind):
    """By hand: 0.7 x 40 + 0.4 x 30 = 40 lb, at 10 lb a day."""
    worked = ask("propane bottle 40 lb at 70 percent and a second of 30 lb at 40 percent, 10 lb a day, days", mind)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(4.0, rel=0.01)
    assert worked.estimate.unit == "days"


def test_what_has_no_use_is_named(mind: Mind):
    worked = ask("DEF 10 gallons, 3 percent of fuel, 6.5 mpg, how many miles, keep 2 gallons", mind)
    assert worked is not None
    assert "2 gallons" in (worked.question or worked.refused)


@pytest.mark.parametrize(
    "question",
    [
        "waste at 44 and it gains 3 an hour, the dump is 7 hours off, what will it read there",
        "luggage bay limit 3000 lb, 40 bags at 55 with 300 lb of tools already in, room for how many more bags",
    ],
)
def test_a_number_of_another_kind_is_no_answer(mind: Mind, question: str):
    worked = ask(question, mind)
    estimate = worked.estimate if worked is not None else None
    assert estimate is None or estimate.unit not in ("h", "lb")


@pytest.mark.parametrize(
    ("question", "value"),
    [
        ("fresh is at 90 gallons, we use 6 an hour and I want 20 kept for the toilet, how many hours", 70 / 6),
        ("furnace burns 1.2 lb an hour, 40 lb cylinder at 60 percent, keep 5 lb for cooking, hours", 19 / 1.2),
        ("100 gallons, 9 an hour, 31 guys aboard, hotel is 200 miles off, how many hours till it is dry", 100 / 9),
        ("tires set to 115 psi at 70, now it is minus 10, 14 hours parked, what should they read", 95.4),
    ],
)
def test_what_is_told_in_passing_hinders_no_answer(mind: Mind, question: str, value: float):
    """Arithmetic by hand; the tire by the gas law."""
    worked = ask(question, mind)
    assert worked is not None
    assert worked.estimate is not None, worked.question or worked.refused
    assert worked.estimate.value == pytest.approx(value, rel=0.005)


def test_room_is_told_beside_what_is_in_it(mind: Mind):
    """9 of 24 inches of 120 gallons are 45, and 75 more go in."""
    worked = ask("fresh stands 9 inches, how many gallons, and how many more can go in", mind)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(45)
    assert any(one.unit == "gal" and one.value == pytest.approx(75) for one in worked.estimate.also)


@pytest.mark.parametrize(
    ("question", "value", "unit"),
    [
        ("tires 8 bar at 20 degrees, now minus 15, how many bar", 6.92, "bar"),
        ("departing 7 h 15, 300 km at 90 km/h, when do I arrive", 300 / 90, "h"),
    ],
)
def test_all_metric_means_degrees_and_hours_of_the_metric_kind(mind: Mind, question: str, value: float, unit: str):
    """(8 + 1.013) x 258.15 / 293.15 - 1.013 bar, by the gas law; the road by arithmetic."""
    worked = ask(question, mind)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.unit == unit
    assert worked.estimate.value == pytest.approx(value, rel=0.005)


@pytest.mark.parametrize(
    "question",
    [
        "12 showers at 3 minutes, head 2 gpm, 20 percent saved by the low flow valve, gallons",
        "28 people at 82 kg plus 20 kg bags each, payload 3 tons, fits?",
        "waste tank 80 gallons, at 22, shop says do not go past 85 percent, rising 4 an hour, hours left",
    ],
)
def test_a_share_that_is_saved_and_a_limit_are_no_level_and_no_weight(mind: Mind, question: str):
    worked = ask(question, mind)
    assert worked is None or worked.estimate is None
