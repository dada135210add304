"""Hours of service for passenger carriers, 49 CFR 395.5, against the rule's own numbers."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate.driving_hours import (
    HELPER,
    half_hour_break,
    hours_left,
    hours_left_around_rest,
    hours_left_from_entries,
    rest_needed,
    restart,
    split_rest,
    two_drivers,
)
from cabassist.estimate.duty import DutyEntry
from cabassist.estimate.types import Estimate


def limit(found: Estimate, name: str) -> float:
    return next(one.value for one in found.also if one.name == f"{name} limit")


def day(hour: float, number: int = 15) -> datetime:
    return datetime(2026, 1, number, tzinfo=UTC) + timedelta(hours=hour)


def entries(*parts: tuple[str, float, float]) -> list[DutyEntry]:
    return [DutyEntry(status, day(start), day(end)) for status, start, end in parts]


NIGHT = ("off duty", -2.0, 6.0)


def test_a_day_with_two_hours_off():
    """Off 8 h, on at 06:00, 2 h work, 7 h driving, 2 h off, now 17:00: 3 h driving, 6 h duty (395.5(a)).

    Counting the time off, as the rule for goods does, would leave 4 h of duty.
    """
    log = entries(NIGHT, ("on duty", 6, 8), ("driving", 8, 15), ("off duty", 15, 17))
    found = hours_left_from_entries(log, day(17))

    assert found.value == 3
    assert limit(found, "on-duty") == 6
    assert found.low == found.high == 3


def test_both_limits_at_once():
    """9 h driving and 5 h other work: 1 h by both; at 15 h on duty nothing to drive, work still lawful (395.5(a))."""
    found, done = hours_left(9, 14), hours_left(9, 15)

    assert found.value == 1
    assert "driving and on-duty" in found.verdict
    assert done.value == 0
    assert "Other work is still lawful" in done.verdict


def test_plain_numbers_with_time_off_inside():
    """Driven 5, 'on duty' 14 with 6 of them off: 8 on duty; 5 h left by driving, 7 by duty."""
    with_off, without = hours_left(5, 14, off_duty_inside_h=6), hours_left(5, 14)

    assert (with_off.value, limit(with_off, "on-duty")) == (5, 7)
    assert without.value == 1


def test_seventy_hours_in_eight_days():
    """9, 10, 8, 9, 10, 11, 8 = 65 h, today 2: 3 h left of 70 (395.5(b)); 34 h off would change nothing (395.3)."""
    week = [9, 10, 8, 9, 10, 11, 8]
    found = hours_left(0, 2, earlier_days_h=week, week_days=8)

    assert found.value == 3
    assert "weekly" in found.verdict
    assert any("34-hour" in note for note in found.assumptions)


def test_sixty_hours_in_seven_days():
    """Of the same days the last six and today count: 56 + 2 of 60 leave 2; the careful one when nobody said which."""
    week = [9, 10, 8, 9, 10, 11, 8]

    assert hours_left(0, 2, earlier_days_h=week, week_days=7).value == 2
    unsaid = hours_left(0, 2, earlier_days_h=week)
    assert unsaid.value == 2
    assert any("ask the carrier" in note for note in unsaid.assumptions)


def test_a_week_in_one_sum():
    """55 h this week, today's in it: 5 left of 60."""
    assert hours_left(0, 2, week_total_h=55, week_days=7).value == 5


def test_a_week_with_missing_days_says_so():
    """Two days told of six: the rest is unknown, not zero for sure."""
    found = hours_left(0, 2, earlier_days_h=[9, 9], week_days=7)

    assert "4 earlier days are missing" in found.verdict


def test_thirty_four_hours_off_do_not_restart_the_week():
    """Seven days of 9 h from noon to 21:00, then 34 h off: the same days still count (395.3 is for goods)."""
    log = []
    for number in range(1, 8):
        log.append(DutyEntry("driving", day(12, number), day(21, number)))
        log.append(DutyEntry("off duty", day(21, number), day(12, number + 1)))
    log[-1] = DutyEntry("off duty", day(21, 7), day(7, 9))
    found = hours_left_from_entries(log, day(7, 9), week_days=8)

    # Days 2 to 9 January: 6 x 9 = 54 of 70; a restart would leave 70.
    assert limit(found, "weekly") == 16
    assert found.value == 10


def test_snow_met_on_the_way_and_snow_known_before():
    """10 h used: 2 h more when met on the way, none when known before (395.1(b)(1); definition from memory)."""
    assert hours_left(10, 12, adverse="met on the way").value == 2
    assert hours_left(10, 12, adverse="known before").value == 0
    assert hours_left(10, 12).value == 0
    assert hours_left(2, 15, adverse="met on the way").value == 2


def test_adverse_hours_do_not_stretch_the_week():
    """The two hours are for the day's limits only."""
    assert hours_left(8, 10, week_total_h=59, week_days=7, adverse="met on the way").value == 1


def test_two_drivers():
    """One with 6.5 h driven, one fresh: 3.5 + 10 = 13.5 h between both; each has limits of his own."""
    found = two_drivers(hours_left(6.5, 7), hours_left(0, 0))

    assert found.value == 13.5
    assert [one.value for one in found.also] == [3.5, 10]
    assert HELPER in found.verdict


@pytest.mark.parametrize(
    ("first", "second", "valid"),
    [(5, 3, True), (3, 5, True), (6, 2, True), (6.5, 1.5, False), (4, 3, False), (8, 1.9, False), (4, 4, True)],
)
def test_split_rest(first: float, second: float, valid: bool):
    """8 h of berth in all, neither part under 2 (395.1(g)(3); FMCSA summary table)."""
    found = split_rest(first, second)

    assert found.verdict.startswith("Valid." if valid else "Not valid")
    assert "from memory" in found.source


def test_counting_around_a_rest():
    """Driving 4 + 3 leaves 3; duty 6 + 8 leaves 1 (395.1(g)(3)(i)-(iv), from memory)."""
    assert hours_left_around_rest(4, 3, 6, 4).value == 3
    assert hours_left_around_rest(4, 3, 6, 8).value == 1
    assert "memory" in hours_left_around_rest(4, 3, 6, 8).verdict


SPLIT = (
    ("off duty", -34.0, -24.0),
    ("driving", -24.0, -18.0),
    ("berth", -18.0, -13.0),
    ("driving", -13.0, -9.0),
    ("berth", -9.0, -6.0),
    ("driving", -6.0, -4.0),
)


def test_a_split_rest_in_the_log():
    """6 h driving, berth 5, driving 4, berth 3, driving 2: counted from the end of the first berth, 4 + 2, 4 h left.

    Without a berth that counts, 12 h of driving since the last 8 h off leave nothing.
    """
    log = entries(*SPLIT)

    assert hours_left_from_entries(log, day(-4), berth_split=True).value == 4
    assert hours_left_from_entries(log, day(-4)).value == 0


def test_time_off_outside_the_berth_makes_no_split():
    """The same rests as off duty are no split."""
    log = entries(*[("off duty" if status == "berth" else status, start, end) for status, start, end in SPLIT])

    assert hours_left_from_entries(log, day(-4), berth_split=True).value == 0


def test_too_short_a_berth_makes_no_split():
    """Berth 5 and 2.9 h are under 8 in all."""
    log = entries(*SPLIT[:4], ("berth", -9.0, -6.1), ("driving", -6.1, -4.0))

    assert hours_left_from_entries(log, day(-4), berth_split=True).value == 0


def test_eight_hours_give_fresh_limits():
    """7.9 h off do not, 8 do; off duty and berth in a row count together."""

    def after(rest: float, *, berth: float = 0.0):
        log = entries(NIGHT, ("driving", 6, 14), ("off duty", 14, 14 + rest))
        if berth:
            log.append(DutyEntry("berth", day(14 + rest), day(14 + rest + berth)))
        return hours_left_from_entries(log, day(14 + rest + berth)).value

    assert after(7.9) == 2
    assert after(8) == 10
    assert after(5, berth=3) == 10


def test_a_rest_in_progress_says_how_long_still():
    """5 h off: 3 more until fresh."""
    log = entries(NIGHT, ("driving", 6, 14), ("off duty", 14, 19))
    found = hours_left_from_entries(log, day(19))

    assert next(one.value for one in found.also if one.name == "rest until fresh") == 3
    assert rest_needed(5).value == 3
    assert rest_needed(8).value == 0


def test_unwritten_time_counts_as_duty_and_widens_the_range():
    """Two hours nobody wrote down: duty 2 h less; as driving 1 h left, as off 3 h."""
    log = entries(NIGHT, ("on duty", 6, 8), ("driving", 8, 15))
    found = hours_left_from_entries(log, day(17))

    assert limit(found, "on-duty") == 4
    assert (found.low, found.value, found.high) == (1, 3, 3)
    assert "not in the log" in found.verdict


def test_a_log_without_a_rest_asks_for_it():
    """The hours hold only if 8 h off came before; the driver may say so."""
    log = entries(("driving", 6, 10))
    unsure, sure = hours_left_from_entries(log, day(10)), hours_left_from_entries(log, day(10), rested_before=True)

    assert unsure.verdict.startswith("Only if you had 8 hours off")
    assert (unsure.low, unsure.value) == (0, 6)
    assert (sure.low, sure.value) == (6, 6)


def test_the_clock_time_of_the_limit():
    """3 h left at 17:00: it ends at 20:00."""
    log = entries(NIGHT, ("on duty", 6, 8), ("driving", 8, 15), ("off duty", 15, 17))

    assert any("20:00" in line for line in hours_left_from_entries(log, day(17)).working)


def test_a_plan_that_fits_and_one_that_does_not():
    """3 h left: 3 fit, 3.5 do not."""
    assert "fit." in hours_left(7, 8, planned_driving_h=3).verdict
    assert "do not fit: 0.5 hours too much" in hours_left(7, 8, planned_driving_h=3.5).verdict


def test_no_restart_and_no_break_for_passengers():
    """Pages that give bus drivers either are wrong: both stand in 395.3, not in 395.5."""
    for found in (restart(), half_hour_break()):
        assert found.value is None
        assert "goods" in found.verdict
        assert "395.3" in found.source


def test_every_answer_says_it_is_a_helper():
    """And none claims to be a log."""
    log = entries(NIGHT, ("driving", 6, 10))
    fresh = hours_left(0, 0)

    for found in (
        fresh,
        hours_left(10, 15),
        hours_left_from_entries(log, day(12)),
        two_drivers(fresh, fresh),
        split_rest(5, 3),
        hours_left_around_rest(1, 1, 1, 1),
        rest_needed(3),
        restart(),
        half_hour_break(),
    ):
        assert HELPER in found.verdict
        assert "395" in found.source


@pytest.mark.parametrize(
    "call",
    [
        lambda: hours_left(-1, 5),
        lambda: hours_left(6, 5),
        lambda: hours_left(5, 6, off_duty_inside_h=2),
        lambda: hours_left(5, 6, off_duty_inside_h=7),
        lambda: hours_left(5, 500),
        lambda: hours_left(5, float("nan")),
        lambda: hours_left(0, 0, earlier_days_h=[25]),
        lambda: split_rest(-1, 9),
        lambda: rest_needed(-1),
        lambda: hours_left_around_rest(5, 1, 4, 1),
        lambda: hours_left_from_entries([], day(12)),
        lambda: two_drivers(restart(), hours_left(0, 0)),
    ],
)
def test_impossible_hours_are_refused(call):
    """With a sentence that says what to say instead."""
    with pytest.raises(ValueError, match=r"[Ss]ay"):
        call()


HOURS = st.floats(0, 15)


@given(driven=HOURS, work=HOURS, more=HOURS, week=st.lists(st.floats(0, 24), max_size=8))
def test_more_hours_driven_never_leave_more(driven: float, work: float, more: float, week: list[float]):
    """More driving, more work or a fuller week never leaves more; never below zero, never above ten."""

    def left(drive: float, other: float, days: list[float]) -> float:
        value = hours_left(drive, drive + other, earlier_days_h=days, week_days=8).value
        assert value is not None
        return value

    here = left(driven, work, week)

    assert 0 <= here <= 10
    assert left(driven + more, work, week) <= here + 1e-9
    assert left(driven, work + more, week) <= here + 1e-9
    assert left(driven, work, [min(24, hours + more) for hours in week]) <= here + 1e-9


@given(st.floats(0, 10), st.floats(0, 10), st.floats(0, 7.9))
def test_log_and_plain_numbers_agree(work: float, drive: float, off: float):
    """The same day told in numbers and written down gives the same hours."""
    parts = [NIGHT, ("on duty", 6, 6 + work), ("driving", 6 + work, 6 + work + drive)]
    end = 6 + work + drive
    log = entries(*[part for part in (*parts, ("off duty", end, end + off)) if part[2] - part[1] > 1e-3])
    told = hours_left(drive if drive > 1e-3 else 0, (work if work > 1e-3 else 0) + (drive if drive > 1e-3 else 0))
    written = hours_left_from_entries(log, day(end + off))

    assert written.value == pytest.approx(told.value, abs=0.01)
