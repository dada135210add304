"""Clock times in words."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from cabassist.estimate.clock import about_same, between, clock, hours_between, later

NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0, "21:40 today"),
        (2.33, "23:59 today"),
        (2.34, "00:00 tomorrow"),
        (24, "21:40 tomorrow"),
        (48, "21:40 on Saturday"),
        (6 * 24, "21:40 on Wednesday"),
        (7 * 24, "21:40 on Thursday 22 January"),
        (-24, "21:40 on Wednesday 14 January"),
    ],
)
def test_words_for_a_clock_time(hours, words):
    """A bare weekday never means the one a week on."""
    assert clock(NOW, hours) == words


def test_hours_pass_right_across_a_clock_change():
    """US clocks go forward on 8 March 2026 at 2:00: four hours after 23:00 it is 04:00."""
    evening = datetime(2026, 3, 7, 23, tzinfo=ZoneInfo("America/Chicago"))

    assert later(evening, 4).hour == 4


def test_times_need_their_zone_and_order():
    """A bare clock time would be a guess."""
    with pytest.raises(ValueError, match="time zone"):
        later(datetime(2026, 1, 15, 21, 40), 1)
    with pytest.raises(ValueError, match="time zone"):
        hours_between(datetime(2026, 1, 15), NOW, "readings")
    with pytest.raises(ValueError, match="later"):
        hours_between(NOW, NOW, "readings")
    with pytest.raises(ValueError, match="too far"):
        later(NOW, 1e9)


def test_a_range_in_words():
    """Nothing is said where both ends say the same."""
    assert between(48, 72) == ", between 2 days and 3 days"
    assert between(48, 48) == ""
    assert between(48, None) == ""


@pytest.mark.parametrize(("one", "two", "same"), [(38.2, 38.2, True), (38.2, 37.2, True), (38.2, 36, False)])
def test_what_counts_as_the_same_time(one, two, same):
    """Within three percent of the longer one."""
    assert about_same(one, two) is same
