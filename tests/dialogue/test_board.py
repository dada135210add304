"""The board: what it says after a shift, and that every number of it can be worked out again by hand."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.coach import Coach
from cabassist.dialogue.board import Board, BoardLine, board_from, first_due
from cabassist.dialogue.types import Mind, Stored
from cabassist.language.reading_types import Reading

from .by_hand import NUMBER, comes_out, sums
from .conversation import Conversation

MORNING = datetime.fromisoformat("2026-01-15T07:50:00-06:00")

SHIFT = (
    (0, "twenty six aboard this morning"),
    (5, "fresh is at seven eighths"),
    (6, "waste's about a fifth"),
    (10, "outside bottle a half, inside one's full"),
    (11, "it's four below out here"),
    (15, "diesel three quarters, odometer two one two three oh four"),
    (190, "black tank is up to thirty five percent"),
    (192, "fresh water's down to seventy percent"),
    (250, "outside bottle's at three eighths"),
    (251, "nine below outside now"),
    (400, "odometer 212,454, diesel at five eighths"),
    (405, "waste is at forty five"),
)
"""A shift of twelve readings, invented: minutes after ten to eight, and the words."""


@pytest.fixture(scope="module")
def shift(mind: Mind) -> Conversation:
    """The conversation after the shift."""
    talk = Conversation(mind, MORNING.isoformat())
    before = 0.0
    for minute, text in SHIFT:
        reply = talk.say(text, minute - before)
        assert reply.kind == "reading", text
        before = minute
    return talk


@pytest.fixture(scope="module")
def board(shift: Conversation, mind: Mind) -> Board:
    """The board a quarter of an hour after the last reading."""
    return board_from(shift.state.stored, mind.coach, shift.now + timedelta(minutes=15))


def line(board: Board, what: str, which: str | None = None) -> BoardLine:
    return next(one for one in board.lines if (one.what, one.which) == (what, which))


# -- every number by hand -----------------------------------------------------------------------------------------

SETTLED = (("fresh", None), ("waste", None), ("propane", "outside"), ("propane", "inside"), ("diesel", None))
GIVEN = {
    # 10 to 90 % of a bell curve; hours of a day; 2² and the like
    "1.2816", "24", "1", "2", "0", "100",
    # widths that the assumptions and the head of the module name: gauge, brim, unevenness, drift, what lies ahead
    "0.04", "0.01", "0.65", "0.8", "0.28", "0.38", "0.1", "10",
    # profile of the demo coach: tanks, cylinder, fuel tank, shell, air, furnace, thermostat by day and night, mileage
    "120", "80", "40", "200", "240", "0.78", "66", "62", "6",
    # habit; rule of the air's heat; heat of a pound of propane; warmth of a person, 70 W in BTU an hour
    "1.6", "1.08", "21,548", "238.8", "283.2",
    # in hand: people 1 h, heat 6 h, road 50 miles; the waste tank's limit, 0.9 x 80
    "50", "72",
}  # fmt: skip
"""Numbers that no line makes: they stand in the profile, in a source, or are common practice."""
SPOKEN = {"26", "0.875", "0.7", "0.2", "0.35", "0.45", "0.5", "0.375", "0.75", "0.625", "4", "9", "0.13", "0.27"}
"""Numbers that the driver said; "about a fifth" is anything from 0.13 to 0.27."""
CLOCK_WEIGHTS = {"0.3544", "0.9114", "1.62", "1.215", "1.013", "1.418", "1.519", "1.114", "0.6076"}
"""Use by the hour of the day, from `learning.DAY_PATTERN`."""


@pytest.mark.parametrize(("what", "which"), SETTLED)
def test_every_sum_of_the_board_comes_out(board: Board, what: str, which: str | None):
    """The right side of each line is what its left side makes, to the last figures that are shown."""
    found = sums(line(board, what, which).why)

    assert len(found) > 20
    for one in found:
        assert comes_out(one), one


@pytest.mark.parametrize(("what", "which"), SETTLED)
def test_no_number_of_a_sum_comes_from_nowhere(board: Board, what: str, which: str | None):
    """Each part was said, stands in the profile or a source, is a time between readings, or comes out of another line."""
    found = sums(line(board, what, which).why)
    made = {f"{abs(one.result):g}" for one in found}
    for one in found:
        hours = set(re.findall(r"([\d,.]+) (?:h|miles)\b", one.written))
        since = {
            part for part in one.parts if re.search(rf"÷ {re.escape(part)}\)|x {re.escape(part)} ÷ 24", one.written)
        }
        for part in one.parts:
            known = (
                part in GIVEN | SPOKEN | CLOCK_WEIGHTS | hours | since or f"{float(part.replace(',', '')):g}" in made
            )
            # the ends of the range are found by trying: that they are right is what the sums behind them show
            known = known or any(f"end, in {part} " in other.label for other in found)
            pace = one.label.endswith("used since") and what == "diesel"  # miles an hour between two odometers
            assert known or pace, (part, one)


def test_hours_of_a_sum_are_those_between_two_readings(board: Board):
    """What was used from one reading to the next is added up over just that time."""
    for what in ("fresh", "waste"):
        said = [at for at, _ in line(board, what).history] + [board.at]
        hours = [(b - a).total_seconds() / 3600 for a, b in pairwise(said)]
        used = [one for one in sums(line(board, what).why) if one.label.endswith("used since")]
        spans = [sum(float(h) for h in re.findall(r"([\d.]+) h", one.written)) for one in used]

        # the newest stands first in the working
        assert sorted(spans) == pytest.approx(sorted(hours), abs=0.01)


@pytest.mark.parametrize(("what", "which"), SETTLED)
def test_what_the_board_shows_is_what_its_sums_make(board: Board, what: str, which: str | None):
    """Level, time left, both ends of its range and the time to act are results of the working."""
    one = line(board, what, which)
    found = {each.label: each.result for each in sums(one.why)}
    assert one.level is not None
    assert one.estimate is not None
    assert one.estimate.low is not None
    assert one.estimate.high is not None

    assert found["level"] == pytest.approx(100 * one.level, rel=1e-3)
    assert {"to go", "that is"} <= found.keys()
    for label, value in (("early end", one.estimate.low), ("late end", one.estimate.high)):
        written = next(each for each in found if each.startswith(f"{label}, in "))
        assert float(NUMBER.findall(written)[0].replace(",", "")) == pytest.approx(value, rel=1e-3)
    middle = [match[1] for each in found if (match := re.match(r"in ([\d,.]+) (?:h|miles)$", each))]
    assert [float(each.replace(",", "")) for each in middle] == pytest.approx([one.estimate.value], rel=1e-3)
    if one.act_by is not None:
        assert found["act by"] == pytest.approx((one.act_by - board.at).total_seconds() / 3600, rel=1e-3)


def test_fresh_water_worked_out_on_paper(board: Board, coach: Coach):
    """The whole of one supply done again here, with the filter's textbook formulas and no code of ours.

    7/8 of 120 gal at 07:55, 70 % at 11:02, now 14:50; 26 aboard; 2 gal a person and day give or take 28 %.
    """
    weight = {h: w * 24 / 23.7 for h, w in enumerate([0.35] * 6 + [0.9, 1.6, 1.6, 1.2] + [1.0] * 7 + [1.4])}

    def used(start: float, end: float) -> float:
        return 26 * sum(weight[h] * max(0.0, min(end, h + 1) - max(start, h)) for h in weight)

    level, level_var, rate, rate_var, tie = 105.0, 4.8**2, 2 / 24, (0.28 * 2 / 24) ** 2, 0.0
    start, end = 7 + 55 / 60, 11 + 2 / 60
    e, hours = used(start, end), end - start
    level, tie = level - e * rate, tie - e * rate_var
    level_var += e**2 * rate_var + (0.65 * rate * e) ** 2 / hours
    rate_var += (0.04 * 2 / 24) ** 2 * hours / 24
    gain, pull = level_var / (level_var + 4.8**2), tie / (level_var + 4.8**2)
    off = 0.7 * 120 - level
    level, rate = level + gain * off, rate + pull * off
    later = level - used(end, 14 + 50 / 60) * rate

    fresh = line(board, "fresh")
    assert fresh.level == pytest.approx(later / 120, abs=1e-4)
    assert fresh.estimate is not None
    assert f"{24 * rate:.2f} gal a day for each person" in fresh.rate_words
    # 26 people at that rate: the mean of the clock's weights over the hours left is near 1
    assert fresh.left_h == pytest.approx(later / (26 * rate), rel=0.12)


# -- what it says -------------------------------------------------------------------------------------------------


def test_the_board_after_a_shift(board: Board):
    """Each supply with level, age, time left and when to act; what was not read says so."""
    waste, inside, outside = line(board, "waste"), line(board, "propane", "inside"), line(board, "propane", "outside")

    assert waste.age_words == "15 minutes ago"
    assert [round(share, 3) for _, share in waste.history] == [0.2, 0.35, 0.45]
    assert waste.act_words.startswith("dump by ")
    assert waste.act_by is not None
    assert waste.act_by > board.at
    assert outside.act_words == "then the inside cylinder feeds"
    assert outside.left_h is not None
    assert inside.left_h is not None
    assert outside.left_h < inside.left_h
    assert inside.act_words.startswith("fill by ")
    assert "miles" in line(board, "diesel").left_words
    assert line(board, "house_battery").level_words == "not read yet"
    assert len(waste.forecasts) == 3
    first = first_due(board)
    assert first is not None
    assert first.act_by == min(one.act_by for one in board.lines if one.act_by)


def test_a_range_widens_as_its_reading_ages(shift: Conversation, coach: Coach):
    """Six hours later nothing is surer."""
    soon, late = (board_from(shift.state.stored, coach, shift.now + timedelta(hours=h)) for h in (0, 6))

    def width(board: Board, what: str) -> float:
        one = line(board, what)
        assert one.left_high_h is not None
        assert one.left_low_h is not None
        assert one.left_h
        return (one.left_high_h - one.left_low_h) / one.left_h

    assert width(late, "waste") > width(soon, "waste")


def test_without_a_temperature_the_heat_left_is_not_guessed(coach: Coach):
    """The board asks for it."""
    board = board_from((_told("propane", 0.5, "fraction", "outside"),), coach, MORNING)
    one = line(board, "propane", "outside")

    assert one.level == 0.5
    assert one.estimate is None
    assert "outside temperature" in one.left_words


def test_cylinders_that_nobody_read_do_not_count(coach: Coach):
    """A half cylinder alone lasts as long as half of it does."""
    cold = _told("outside_temp", 10.0, "F")
    alone = board_from((cold, _told("propane", 0.5, "fraction", "outside")), coach, MORNING)
    both = board_from((cold, _told("propane", 0.5, "fraction", "both")), coach, MORNING)
    one, two = line(alone, "propane", "outside"), line(both, "propane", "inside")
    assert one.left_h is not None
    assert two.left_h is not None

    assert two.left_h == pytest.approx(2 * one.left_h, rel=0.1)  # by day and night the thermostat differs
    assert line(alone, "propane", "inside").level is None
    assert any("inside cylinder is not counted" in why for why in one.why)


def test_a_changeover_by_hand_has_a_deadline(other_coach: Callable[[dict[str, Any]], Coach], coach: Coach):
    """Nobody need act where the valve switches by itself."""
    by_hand = other_coach({"propane": {**coach.propane.model_dump(), "automatic_changeover": False}})
    told = (
        _told("outside_temp", 10.0, "F"),
        _told("propane", 0.5, "fraction", "outside"),
        _told("propane", 1.0, "fraction", "inside"),
    )

    assert line(board_from(told, coach, MORNING), "propane", "outside").act_by is None
    assert line(board_from(told, by_hand, MORNING), "propane", "outside").act_words.startswith("change over by ")


def test_a_charging_battery_has_no_level(coach: Coach):
    """13.6 V is no rest voltage; 12.24 V at rest is half (BCI table)."""
    charging = board_from((_told("house_battery", 13.6, "V"),), coach, MORNING)
    resting = board_from((_told("house_battery", 12.24, "V"), _told("house_battery", 20.0, "A")), coach, MORNING)

    assert line(charging, "house_battery").level is None
    assert line(resting, "house_battery").level == pytest.approx(0.5)
    assert line(resting, "house_battery").act_words == "charge now"


def test_a_metric_coach_reads_metric(other_coach: Callable[[dict[str, Any]], Coach]):
    """Litres and kilograms, and the sums still come out."""
    metric = other_coach({"units": "metric"})
    told = (
        _told("outside_temp", -20.0, "C"),
        _told("propane", 0.5, "fraction", "outside"),
        _told("fresh", 0.5, "fraction"),
    )
    board = board_from(told, metric, MORNING)

    assert "227 litres" in line(board, "fresh").level_words
    assert "9 kg" in line(board, "propane", "outside").level_words
    for what, which in (("fresh", None), ("propane", "outside")):
        for one in sums(line(board, what, which).why):
            assert comes_out(one), one


# -- laws ---------------------------------------------------------------------------------------------------------


def _told(what: str, value: float, unit: str, which: str | None = None, before_h: float = 0.0) -> Stored:
    return Stored(Reading(what, which, value, unit), MORNING - timedelta(hours=before_h))


@given(st.floats(-60, 50), st.floats(0, 60))
def test_colder_never_lasts_longer(coach: Coach, warm: float, less: float):
    """Heat left at one temperature and at a lower one."""
    left = []
    for degrees in (warm, warm - less):
        told = (_told("outside_temp", degrees, "F"), _told("propane", 0.75, "fraction", "outside"))
        one = line(board_from(told, coach, MORNING), "propane", "outside")
        left.append((one.left_low_h, one.left_h))

    for mild, cold in zip(*left, strict=True):
        assert (cold if cold is not None else 1e9) <= (mild if mild is not None else 1e9) + 1e-3


@given(st.integers(1, 40), st.integers(0, 39), st.sampled_from(["fresh", "waste"]))
def test_more_people_never_later(coach: Coach, few: int, more: int, what: str):
    """Water left and room left with some aboard and with more."""
    left = []
    for aboard in (few, min(few + more, 40)):
        told = (_told("passengers", float(aboard), "persons"), _told(what, 0.5, "fraction"))
        one = line(board_from(told, coach, MORNING), what)
        left.append(one.left_h if one.left_h is not None else 1e9)

    assert left[1] <= left[0] + 1e-3


@given(
    st.lists(st.tuples(st.floats(0.1, 9), st.integers(0, 20)), min_size=1, max_size=8),
    st.sampled_from(["fresh", "waste", "diesel", "propane"]),
    st.floats(0, 40),
)
def test_a_level_stays_between_empty_and_full(coach: Coach, read: list[tuple[float, int]], what: str, age: float):
    """Whatever was read, a fill never exceeds the tank, ends are in order, and nothing is over before now."""
    told, hours = [_told("outside_temp", 0.0, "F", before_h=200)], age + sum(gap for gap, _ in read)
    for gap, level in read:
        hours -= gap
        told.append(_told(what, level / 20, "fraction", "outside" if what == "propane" else None, before_h=hours))
    board = board_from(tuple(told), coach, MORNING)

    for one in board.lines:
        assert one.level is None or 0 <= one.level <= 1
        ends = [end for end in (one.left_low_h, one.left_h, one.left_high_h) if end is not None]
        assert ends == sorted(ends)
        assert one.act_by is None or one.act_by >= MORNING


def test_readings_out_of_order_or_ahead_of_the_clock_do_no_harm(coach: Coach):
    """A clock that was set back: what is later than now does not count yet."""
    told = (
        _told("waste", 0.5, "fraction", before_h=-3),
        _told("waste", 0.2, "fraction", before_h=1),
        _told("waste", 0.1, "fraction", before_h=2),
    )
    one = line(board_from(told, coach, MORNING), "waste")

    assert [share for _, share in one.history] == [0.1, 0.2]
    assert replace(one).left_h is not None


def test_an_empty_tank_is_called_empty(mind: Mind):
    """So is one in which less than half a percent is left."""
    from cabassist.dialogue.board_words import amount_words

    assert {amount_words("fresh", None, level, mind.coach) for level in (0.0, 0.000001, 0.004)} == {"empty"}
    assert amount_words("fresh", None, 0.02, mind.coach).startswith("2 %")
