"""The board of supplies and clocks in words that a stranger reads rightly."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from cabassist.dialogue.board import Board, board_of
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.screen.board import full_rows, moved, pressing, safe_moment, short_rows, together
from cabassist.screen.look import Look

from .conftest import LARGE, START, Cab

Drive = Callable[..., None]
NOW = datetime.fromisoformat(START)
TOLD = ("waste 60", "fresh a quarter", "outside bottle a quarter, inside bottle full, 22 below out", "2 aboard")


def board(mind: Mind, journal: Journal, *said: str, later: float = 0) -> Board:
    """The board after all that was said, so many minutes later."""
    session = Session(mind, journal)
    for text in said:
        session.hear(text, NOW)
    return board_of(session.state, mind, NOW + timedelta(minutes=later))


def test_what_runs_out_first_is_at_the_top_also_when_nobody_need_act(mind: Mind, journal: Journal):
    """The first of two cylinders changes over by itself; it is the first to be empty all the same."""
    made = board(mind, journal, *TOLD)

    assert pressing(made)[0].name == "Outside cylinder"
    for rows in (1, 2, 3, 6):
        assert short_rows(made, 78, Look(), rows).plain.startswith("Outside cylinder")


def test_supplies_without_room_are_named_with_their_level(mind: Mind, journal: Journal):
    made = board(mind, journal, *TOLD)
    shown = short_rows(made, 78, Look(), 3).plain.splitlines()

    assert len(shown) == 3
    assert shown[-1].startswith("More (F9): ")
    named = " ".join(shown)
    for line in made.lines:
        if line.level is not None:
            assert line.name in named


@pytest.mark.parametrize("width", [58, 78, 98])
@pytest.mark.parametrize("rows", [1, 2, 4, 6])
def test_short_rows_keep_to_their_room(mind: Mind, journal: Journal, width: int, rows: int):
    shown = short_rows(board(mind, journal, *TOLD, later=90), width, Look(), rows).plain.splitlines()

    assert len(shown) <= rows
    assert max(map(len, shown)) <= width


def test_the_time_of_two_cylinders_is_that_of_both(mind: Mind, journal: Journal):
    made = board(mind, journal, *TOLD)
    outside, inside = (next(line for line in made.lines if line.which == which) for which in ("outside", "inside"))

    assert (together(outside, made), together(inside, made)) == ("", "both")
    assert re.search(r"Inside cylinder .*both: \d", short_rows(made, 78, Look(), 6).plain)
    full = full_rows(made, 98, Look()).plain
    assert re.search(r"both cylinders: .* left   fill by ", full)
    assert "then the inside cylinder feeds" in full


def test_an_empty_cylinder_shares_no_time(mind: Mind, journal: Journal):
    made = board(mind, journal, "outside bottle empty, inside bottle full, 22 below out")

    assert not any(together(line, made) for line in made.lines)


def test_a_level_that_moved_says_so_with_what_was_told(mind: Mind, journal: Journal):
    """Two readings close to each other are put together: the board must not look as if it had misheard."""
    session = Session(mind, journal)
    session.hear("waste 60, 2 aboard", NOW)
    session.hear("waste 65", NOW + timedelta(minutes=40))
    made = board_of(session.state, mind, NOW + timedelta(minutes=41))
    (waste,) = (line for line in made.lines if line.what == "waste")

    assert moved(waste)
    assert re.search(r"told 65 %, 1 minute ago; reckoned now 6[0-4] %", full_rows(made, 54, Look()).plain)
    assert re.search(r"Waste .* 6[0-4] % now ", short_rows(made, 78, Look(), 3).plain)


def test_a_level_as_it_was_told_says_no_more(mind: Mind, journal: Journal):
    made = board(mind, journal, "waste 65")

    assert "% now" not in short_rows(made, 78, Look(), 3).plain
    assert "told just now" in full_rows(made, 54, Look()).plain
    assert "reckoned" not in full_rows(made, 54, Look()).plain


def test_how_the_time_left_has_moved_stands_with_its_words(mind: Mind, journal: Journal):
    """A column of little bars alone means nothing to somebody who was not told."""
    session = Session(mind, journal)
    for minutes, text in enumerate(("fresh 80, 12 aboard", "fresh 70", "fresh 66", "fresh 50")):
        session.hear(text, NOW + timedelta(hours=2 * minutes))
    shown = full_rows(board_of(session.state, mind, NOW + timedelta(hours=7)), 54, Look()).plain

    (line,) = [line for line in shown.splitlines() if set(line) & set("▁▂▃▄▅▆▇")]
    assert line.strip().startswith("time left, at each reading: ")
    assert " to " in line
    assert "forecast" not in shown


def test_when_to_act_is_the_time_of_the_answer():
    """On the safe side: five minutes before within a day, the full hour before later."""
    assert safe_moment(NOW + timedelta(hours=2, minutes=3), NOW) == NOW + timedelta(hours=2)
    assert safe_moment(NOW + timedelta(hours=26), NOW) == NOW + timedelta(hours=25, minutes=20)


def test_a_running_timer_is_not_read_as_over(drive: Drive):
    """And only timers are counted as timers, the nearest first, also when a tank is due before."""

    async def story(cab: Cab) -> None:
        await cab.say(*TOLD, "remind me in 10 minutes to confirm power inside")
        assert "10:00 to go, then: Reminder: confirm power inside." in cab.text
        assert "timer" not in cab.rows[-6:]
        await cab.say("remind me in 40 minutes to call dispatch", "remind me in 3 hours to look at the cord")
        assert "to go, then: Reminder: confirm power inside. +2 timers" in cab.text

    drive(story)


def test_deadlines_tell_what_to_do(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say(*TOLD)
        assert re.search(r"\d\d:\d\d +Inside cylinder: fill", cab.text)
        assert re.search(r"\d\d:\d\d +Waste: dump", cab.text)

    drive(story, LARGE)
