"""The screen of a rolling coach: one line that a glance takes in, no typing, dangers as ever."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.dialogue.types import Mind, Reply
from cabassist.screen import glance
from cabassist.screen.ear import EarState, NoEar
from cabassist.screen.help import HELP

from .conftest import LARGE, SMALL, Cab

Drive = Callable[..., None]
SHORE = "how do I plug in at the hotel"


def lines_shown(cab: Cab) -> list[str]:
    """Rows with anything to read on them."""
    return [row.strip(" │┃║═╔╗╚╝") for row in cab.rows if any(c.isalnum() for c in row)]


def test_the_limit_is_one_glance():
    """2 s a look (NHTSA visual-manual guidelines, 78 FR 24817, 2013) at 180 words a minute (common practice, no source).

    By hand: 2 / 60 * 180 = 6 words.
    """
    assert glance.MAX_WORDS == 6


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_a_key_locks_the_screen_and_a_key_frees_it(drive: Drive, size: tuple[int, int]):
    async def story(cab: Cab) -> None:
        await cab.say(SHORE)
        await cab.press("f8")
        assert lines_shown(cab) == [glance.UNHEARD]
        said = cab.session.journal.count()
        await cab.press("enter", "f2", "f1", "f9", "ctrl+p")
        assert lines_shown(cab) == [glance.UNHEARD]
        await cab.press(*"we smell gas", "enter")
        assert lines_shown(cab) == [glance.LOCKED]
        assert cab.session.journal.count() == said
        await cab.press("f8")
        assert "Connect shore power waits at step 1: say resume." in cab.text
        await cab.press(*"resume", "enter")
        assert "STEP 1 of " in cab.text

    drive(story, size)


def test_one_touch_frees_it(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("we are rolling")
        await cab.pilot.click("#glance")
        await cab.settle()
        assert not cab.session.state.rolling
        assert "PARKED" in cab.text

    drive(story)


def test_an_open_sheet_gives_way(drive: Drive):
    """The road comes first, whatever was looked at."""

    async def story(cab: Cab) -> None:
        await cab.press("f9")
        await cab.say("we are rolling")
        assert lines_shown(cab) == [glance.UNHEARD]

    drive(story)


class OpenEar(NoEar):
    """A microphone that is on."""

    state: EarState = "listening"


def test_speaking_is_asked_for_only_where_it_is_heard(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("we are rolling")
        assert lines_shown(cab) == [glance.ROLLING]

    drive(story, ear=OpenEar())


def test_letters_do_not_cover_a_danger(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("we are rolling", "it smells of rotten eggs back here")
        await cab.press(*"next")
        assert lines_shown(cab) == ["⚠ DANGER: Get everyone out now."]

    drive(story)


@pytest.mark.parametrize("line", [glance.ROLLING, glance.UNHEARD, glance.LOCKED])
def test_what_always_stands_fits_in_a_glance(line: str):
    assert glance.fits(line)


def test_a_spoken_danger_takes_the_line(drive: Drive):
    """What the microphone hears is answered all the same."""

    async def story(cab: Cab) -> None:
        await cab.say("we are rolling", "it smells of rotten eggs back here")
        assert lines_shown(cab) == ["⚠ DANGER: Get everyone out now."]

    drive(story)


def test_a_spoken_question_is_put_off_in_one_line(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("we are rolling", SHORE)
        (line,) = lines_shown(cab)
        assert len(line.split()) <= glance.MAX_WORDS
        await cab.say("we are parked")
        assert "1 Connect shore power" in cab.text

    drive(story)


def test_what_is_on_record_against_it_is_shown_at_once(drive: Drive):
    """It is obeyed all the same."""

    async def story(cab: Cab) -> None:
        await cab.say("log the bay 3 latch sticks", "the cord is plugged in", "we are rolling")
        assert cab.session.state.rolling
        assert lines_shown(cab) == ["STOP: defect 1, cord in."]

    drive(story)


def test_a_timer_ends_in_one_line_and_the_rest_waits(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say(
            "remind me in 5 minutes to look at the cord and the heat tape and the door seals", "we are rolling"
        )
        cab.now += timedelta(minutes=6)
        await cab.pilot.pause(1.2)
        (line,) = lines_shown(cab)
        assert line == "A timer ended. Look when parked."
        await cab.say("we are parked")
        assert "the heat tape and the door seals" in cab.text

    drive(story)


kinds = st.sampled_from(["hazard", "refuse", "calculation", "reading", "control", "unknown", "clarify"])


@given(kinds, st.text("ab .!?,", max_size=200))
def test_no_line_is_longer_than_a_glance(kind: str, said: str):
    line = glance.line_for(Reply(kind, said, (said,)))  # type: ignore[arg-type]

    assert 0 < len(line.split()) <= glance.MAX_WORDS


@given(st.text(max_size=200))
def test_no_announcement_is_longer_than_a_glance(said: str):
    assert 0 < len(glance.announced(said).split()) <= glance.MAX_WORDS


def test_every_danger_has_a_line_of_its_own(mind: Mind):
    """Its first words, or the order to listen and stop; always named a danger."""
    for name in mind.knowledge.hazards:
        line = glance.line_for(Reply("hazard", mind.knowledge.procedure(name).escape, ()))
        assert line.startswith("DANGER: "), name
        assert len(line.split()) <= glance.MAX_WORDS, name


def test_help_promises_an_answer_to_a_danger_only_where_it_is_heard():
    words = " ".join(HELP.split())
    assert "A danger told to the microphone is answered all the same." in words
    assert "Without a microphone (F10) nothing is heard while rolling, dangers neither" in words


def test_help_cites_the_rules():
    for rule in ("49 CFR 392.80", "49 CFR 392.82", "78 FR 24817", "2 seconds", "12 seconds"):
        assert rule in " ".join(HELP.split())
