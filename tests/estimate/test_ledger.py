"""The ledger of one supply, against formulas done by hand and against the hourly filter beside it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import ledger
from cabassist.estimate.courses import even_course
from cabassist.estimate.learning import Step, Supply, hours_to, learn
from cabassist.estimate.ledger import Account, Seen, Written, entry

NOON = datetime(2026, 1, 15, 12, tzinfo=UTC)
FALLING = Supply("fresh", 100.0, "m^3", 2.0, 0.3, 0.5)
RISING = Supply("waste", 100.0, "m^3", 2.0, 0.3, 0.5, rising=True)


def seen(hour: float, level: float, sd: float = 4.0, *, afresh: bool = False) -> Seen:
    return Seen(NOON + timedelta(hours=hour), level, sd, f"{level:g} x 1 = {level:g}", f"{sd:g} x 1", afresh)


def account(
    supply: Supply, readings: Sequence[Seen], *, limit: float = 0.0, margin: float | None = 1.0, horizon: float = 400
) -> Account:
    """A supply of which the same is used every hour."""
    return Account(
        supply,
        Written("gal", 1.0, "hours", 1.0),
        "2 x 1 = 2",
        tuple(readings),
        lambda since, until, known: even_course((until - since) / timedelta(hours=1)),
        lambda since, known: iter(even_course(1) * int(horizon)),
        limit,
        margin,
        0.1,
    )


def test_one_reading_lasts_as_long_as_physics_says():
    """100 at 2 an hour: 50 hours; after 10 of them 40."""
    made = entry(account(FALLING, [seen(0, 100)]), NOON + timedelta(hours=10))

    assert made.left.value == pytest.approx(40)
    assert made.level == pytest.approx(80)
    assert made.forecasts == ((NOON, pytest.approx(50)),)


def test_the_ledger_agrees_with_the_filter_hour_by_hour():
    """Stretches and hours are two ways to add up the same; levels as the second reading would have it."""
    readings = [seen(0, 95), seen(6, 78), seen(15, 58)]
    made = entry(account(FALLING, readings), NOON + timedelta(hours=15))
    belief = learn(FALLING, [Step(95, 4, refilled=True), Step(78, 4, 6, 6), Step(58, 4, 9, 9)])
    early, middle, late = hours_to(FALLING, belief, np.ones(400), 0.0)

    assert made.belief == belief
    assert (made.left.low, made.left.value, made.left.high) == pytest.approx((early, middle, late), abs=0.15)


def test_a_second_reading_by_hand():
    """From 95 ± 4, 12 expected used in 6 h, read 78 ± 4: the textbook's gain, by pencil.

    Variance before: 16 + 36 x 0.36 + (0.5 x 2 x 6)² ÷ 6 = 34.96; gain 34.96 ÷ 50.96 = 0.686; level 83 - 0.686 x 5 = 79.57.
    Tie -6 x 0.36 = -2.16; rate 2 + 2.16 ÷ 50.96 x 5 = 2.212.
    """
    made = entry(account(FALLING, [seen(0, 95), seen(6, 78)]), NOON + timedelta(hours=6))

    assert made.belief.level == pytest.approx(79.57, abs=0.005)
    assert made.belief.rate == pytest.approx(2.212, abs=0.0005)


def test_waste_fills_to_its_limit_with_a_margin():
    """From 30 to 90 at 2 an hour: 30 h in the middle; an hour is kept in hand before the early end."""
    made = entry(account(RISING, [seen(0, 30)], limit=90), NOON)
    assert made.left.low is not None

    assert made.left.value == pytest.approx(30)
    assert made.act == pytest.approx(made.left.low - 1)


def test_over_the_limit_is_now():
    """Waste at 95 % with a limit of 90."""
    made = entry(account(RISING, [seen(0, 95)], limit=90), NOON)

    assert (made.left.value, made.act) == (0, 0)
    assert made.left.verdict == "It is there now."


def test_what_lies_beyond_the_hours_ahead_is_not_made_up():
    """With ten hours to look at, fifty are only "more"."""
    made = entry(account(FALLING, [seen(0, 100)], horizon=10), NOON)

    assert made.left.value is None
    assert made.left.verdict == "More than 10 h, as far as I look ahead."
    assert made.act is None


def test_a_rise_is_a_fill_and_keeps_the_rate():
    """40, then 90: no use makes that. The rate learned before stands."""
    before = entry(account(FALLING, [seen(0, 80), seen(10, 40)]), NOON + timedelta(hours=10))
    after = entry(account(FALLING, [seen(0, 80), seen(10, 40), seen(12, 90)]), NOON + timedelta(hours=12))

    assert after.odd == "against"
    assert after.level == pytest.approx(90)
    assert after.rate.value == pytest.approx(before.rate.value)


@pytest.mark.parametrize(("level", "odd"), [(94, ""), (60, "fast"), (30, "fast"), (97, "")])
def test_a_fall_far_faster_than_expected_is_odd(level: float, odd: str):
    """From 96, 4 are used in two hours; a needle may wander, 36 and more are not the needle."""
    assert entry(account(FALLING, [seen(0, 96), seen(2, level)]), NOON + timedelta(hours=2)).odd == odd


def test_no_reading_no_ledger():
    """It says what is missing."""
    with pytest.raises(ValueError, match="at least one reading of the fresh"):
        entry(account(FALLING, []), NOON)


def test_very_many_readings_are_cut_short():
    """Only the newest are walked through; the answer still comes."""
    readings = [seen(hour, 100 - hour / 10) for hour in range(200)]
    made = entry(account(FALLING, readings, horizon=900), NOON + timedelta(hours=200))

    assert len(made.forecasts) == ledger.MOST_FORECASTS


@given(st.lists(st.floats(0, 100), min_size=1, max_size=6), st.floats(0, 30), st.sampled_from([FALLING, RISING]))
def test_ends_are_in_order_and_levels_in_the_tank(levels: list[float], age: float, supply: Supply):
    """Early before middle before late, whatever was read."""
    readings = [seen(5 * i, level) for i, level in enumerate(levels)]
    made = entry(account(supply, readings, limit=90 if supply.rising else 0), readings[-1].at + timedelta(hours=age))
    ends = [end for end in (made.left.low, made.left.value, made.left.high) if end is not None]

    assert ends == sorted(ends)
    assert 0 <= made.level <= 100
    assert made.rate.value is not None
    assert made.rate.value > 0


@given(st.floats(0, 100), st.floats(0, 50))
def test_more_in_the_tank_lasts_longer(level: float, more: float):
    """Never the other way round."""
    less, full = (entry(account(FALLING, [seen(0, min(x, 100))]), NOON).left.value for x in (level, level + more))
    assert less is not None
    assert full is not None

    assert less <= full + 1e-3
