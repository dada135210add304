"""The screen: flow, keys, touch, sizes, resuming, hostile input."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from textual.events import Key, Paste
from textual.widgets import Input

from cabassist.dialogue.resuming import take_up
from cabassist.dialogue.types import Mind, State, Timer, Walk
from cabassist.errors import ContentProblems, FileProblem, Problem
from cabassist.journal import Journal
from cabassist.screen.app import CabApp, Opened
from cabassist.screen.look import Look
from cabassist.screen.talk import Touch, step_lines
from tests.cli.conftest import ODD_TEXTS, loose_controls

from .conftest import LARGE, SMALL, Cab

SHORE = "how do I plug in at the hotel"
Drive = Callable[..., None]


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_a_question_is_answered_cautions_first_and_the_step_stays_in_sight(drive: Drive, size: tuple[int, int]):
    """The step with its number stands below while other things are told."""

    async def story(cab: Cab) -> None:
        await cab.type(SHORE)
        text = cab.text
        assert text.index("WARNING") < text.index("Ask the building's staff which outlet you may use.")
        assert re.search(r"STEP 1 of \d+ Connect shore power", text)
        await cab.say("fresh at two thirds")
        assert "Fresh water two thirds, about 80 gallons." in cab.text
        assert re.search(r"STEP 1 of \d+ Connect shore power", cab.text)

    drive(story, size)


def test_the_lines_of_the_step_are_made_once_an_answer(drive: Drive, monkeypatch: pytest.MonkeyPatch):
    made: list[object] = []

    def counted(walk: Walk | None, mind: Mind) -> tuple[str, ...]:
        made.append(walk)
        return step_lines(walk, mind)

    async def story(cab: Cab) -> None:
        monkeypatch.setattr("cabassist.screen.app.step_lines", counted)
        await cab.say(SHORE, "next")
        assert "STEP 2 of " in cab.text
        assert len(made) == 2

    drive(story)


def test_a_night_arrival_by_function_keys_alone(drive: Drive):
    """From the question to the last check: next, back, why, pause, stop, each by its key."""

    async def story(cab: Cab) -> None:
        await cab.type(SHORE)
        await cab.press("f2")
        assert "STEP 2 of " in cab.text
        await cab.press("f3")
        assert "STEP 1 of " in cab.text
        await cab.press("f5")
        assert "Why:" in cab.text
        await cab.press("f6")
        assert "PAUSED: say resume" in cab.text
        for _ in range(60):
            if cab.session.state.walk is None:
                break
            await cab.press("f2")
            if "Tell me the" in cab.conversation.splitlines()[-1]:
                await cab.say("can't see it")
        assert "That was the last step. Connect shore power is done." in cab.conversation
        assert "STEP" not in cab.text

    drive(story)


def test_every_key_at_the_foot_can_be_touched_and_tabbed_to(drive: Drive):
    """Each is at least 8 columns by 2 rows on the smallest screen."""

    async def story(cab: Cab) -> None:
        await cab.say(SHORE)
        await cab.pilot.click("#key-f2")
        await cab.settle()
        assert "STEP 2 of " in cab.text
        for key in cab.app.query("Key"):
            assert key.size.width >= 8
            assert key.size.height >= 2
        await cab.press("tab", "enter")  # the first button after the line is Next
        assert "STEP 3 of " in cab.text
        await cab.press("escape", *"thanks", "enter")
        assert "You are welcome." in cab.text

    drive(story)


def test_a_choice_can_be_touched(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("it won't open")
        options = [touch for touch in cab.app.query(Touch) if touch.has_class("option")]
        assert len(options) == 3
        await cab.pilot.click(options[1])
        await cab.settle()
        assert "Lock or unlock a bay" in cab.text
        assert cab.session.state.walk is not None

    drive(story)


def test_a_danger_is_framed_and_named(drive: Drive):
    """By word, sign and the shape of its frame, not by color alone."""

    async def story(cab: Cab) -> None:
        await cab.say("it smells of rotten eggs back here")
        assert "⚠ DANGER" in cab.text
        assert "═" in "".join(cab.rows)
        await cab.say("stop", SHORE)
        assert "═" not in "".join(cab.rows)

    drive(story)


def test_the_board_shows_what_runs_out_first(drive: Drive):
    """Level, time left with its range, and when to act; what nobody has read says so."""

    async def story(cab: Cab) -> None:
        await cab.say("fresh at two thirds", "waste at eighty percent", "outside bottle nearly full", "twelve aboard")
        rows = [row for row in cab.rows if "█" in row]
        assert rows[0].startswith(" Waste")
        assert "80 %" in rows[0]
        assert "–" in rows[0]
        assert "by " in rows[1]

    drive(story)


def test_a_timer_counts_down_and_speaks_up_by_itself(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("remind me in 15 minutes to check the cord")
        cab.now += timedelta(minutes=10)
        await cab.pilot.pause(1.2)
        assert "05:00" in cab.text
        assert "Reminder: check the cord." in cab.text
        cab.now += timedelta(minutes=5)
        await cab.pilot.pause(1.2)
        assert "Timer: Reminder: check the cord." in cab.text
        assert cab.session.state.timers == ()

    drive(story)


def test_it_resizes_while_it_is_open(drive: Drive):
    """From small to large and back; step, board and line are there at each size."""

    async def story(cab: Cab) -> None:
        await cab.say("fresh at half", SHORE)
        for width, height in (LARGE, (120, 30), (80, 50), (60, 20), SMALL):
            await cab.pilot.resize_terminal(width, height)
            await cab.pilot.pause(0.2)
            assert len(cab.rows) == height
            for part in ("STEP 1 of ", "you>", "Fresh water", "Next", "PARKED"):
                assert part in cab.text, (width, height, part)

    drive(story)


def test_pages_of_the_conversation_can_be_turned(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("what readings do we have", *["help"] * 4)
        assert "what readings do we have" not in cab.text
        await cab.press(*["pageup"] * 6)
        assert "what readings do we have" in cab.text

    drive(story)


def test_what_is_typed_before_the_session_is_ready_is_answered_then(mind: Mind, journal: Journal):
    """The line takes words at once."""
    from threading import Event

    from cabassist.dialogue.session import Session

    ready = Event()
    session = Session(mind, journal)

    def slow() -> Opened:
        ready.wait(10)
        return Opened(session)

    async def whole() -> None:
        cab = Cab(mind, journal)
        cab.app = CabApp(slow, clock=lambda: cab.now)
        async with cab.app.run_test(size=SMALL) as pilot:
            cab.pilot = pilot
            await pilot.press(*"thanks", "enter")
            assert not cab.app.idle
            assert "You are welcome." not in cab.text
            ready.set()
            await cab.settle()
            assert "You are welcome." in cab.text

    asyncio.run(whole())


def test_an_unusable_profile_ends_it_with_the_error(mind: Mind, journal: Journal):
    """The caller gets the sentence; the screen is gone."""
    wrong = ContentProblems([Problem("coach.yaml", 3, "tanks", "is missing")])

    def broken() -> Opened:
        raise wrong

    async def whole() -> CabApp:
        app = CabApp(broken, clock=lambda: Cab(mind, journal).now)
        async with app.run_test(size=SMALL) as pilot:
            for _ in range(50):
                await pilot.pause(0.02)
        return app

    assert asyncio.run(whole()).return_value is wrong


def test_a_killed_walk_is_offered_at_its_step(drive: Drive, mind: Mind, journal: Journal):
    """With its timer at the right time."""

    async def before(cab: Cab) -> None:
        await cab.say(SHORE, "next", "remind me in 30 minutes to check the cord")

    async def after(cab: Cab) -> None:
        total = len(cab.session.state.walks[-1].plan)
        offered = f"You were at step 2 of {total}: Connect shore power. Say resume, stop, or ask something else."
        assert offered in cab.text
        assert "STEP 2 of " in cab.text
        assert "20:00" in cab.text
        await cab.say("resume")
        assert "Look at the outlet" in cab.text

    drive(before)

    async def whole() -> None:
        cab = Cab(mind, journal)
        cab.now += timedelta(minutes=13)
        cab.notes = (take_up(cab.session, cab.now),)
        async with cab.app.run_test(size=SMALL) as pilot:
            cab.pilot = pilot
            await cab.settle()
            await after(cab)

    asyncio.run(whole())


def test_a_journal_that_cannot_be_written_is_said_and_the_answer_given(drive: Drive, journal: Journal):
    """A full disk holds nothing back."""

    async def story(cab: Cab) -> None:
        def full(*_: object, **__: object) -> None:
            raise FileProblem("journal.sqlite", "the disk is full.", "Free some space.")

        journal.append = full  # type: ignore[method-assign,assignment]
        await cab.say(SHORE)
        assert "STEP 1 of " in cab.text
        assert "Not recorded yet: journal.sqlite: the disk is full. Free some space." in cab.conversation

    drive(story)


@pytest.mark.parametrize("ascii_only", [False, True])
def test_odd_texts_do_no_harm(drive: Drive, ascii_only: bool):
    """Shown as they are: no markup obeyed, no control character, nothing turned round; every one is answered."""

    async def story(cab: Cab) -> None:
        for name, text in ODD_TEXTS.items():
            heard = cab.session.journal.count()
            await cab.say(text)
            shown = "\n".join(cab.rows)
            assert loose_controls(shown) == set(), name
            assert cab.session.journal.count() > heard or not text.strip(), name
            if ascii_only:
                assert shown.isascii(), name
        assert "[bold red]fill[/] water [link=https://example.org]x[/link]" in cab.conversation
        assert "\\x1b[2J" in cab.conversation

    drive(story, look=Look(ascii_only))


def test_a_pasted_flood_is_taken_up_to_its_limit(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.type("water " * 3000)
        assert "That was long. I used the first 600 characters." in cab.conversation
        assert cab.app.query_one("#say", Input).value == ""

    drive(story)


def test_a_leaving_word_leaves_and_stop_does_not(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say(SHORE, "stop")
        assert cab.app.is_running
        cab.app.say("quit")
        await cab.pilot.pause(0.2)
        assert not cab.app.is_running

    drive(story)


def test_the_palette_finds_a_procedure(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.pilot.press("ctrl+p")
        await cab.pilot.pause(0.3)
        await cab.pilot.press(*"torque wheel")
        await cab.pilot.pause(1.0)
        await cab.pilot.press("enter")
        await cab.settle()
        assert cab.session.state.walk is not None
        assert "torque" in cab.session.state.walk.topic

    drive(story)


def test_the_palette_finds_a_procedure_by_how_drivers_ask(drive: Drive):
    """No title holds the word: what is walked on arrival is offered all the same."""

    async def story(cab: Cab) -> None:
        await cab.pilot.press("ctrl+p")
        await cab.pilot.pause(0.3)
        await cab.pilot.press(*"arriv")
        await cab.pilot.pause(1.0)
        await cab.pilot.press("enter")
        await cab.settle()
        assert cab.session.state.walk is not None
        assert cab.session.state.walk.topic == "park-for-the-night"

    drive(story)


def test_what_is_typed_over_the_help_is_not_lost(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.press("f1", *"where", "space", *"am", "space", "i")
        assert cab.app.query_one("#say", Input).value == "where am i"

    drive(story)


BURSTS = {
    "waste is at 60": ("waste is at 60", ""),
    "  next": ("next", ""),
    "we smell  gas ": ("we smell  gas ", ""),
    "bay 3\b2": ("bay 2", ""),
    "thank you\n": ("", "thank you"),
    "how long\nnext": ("next", "how long"),
}
"""Letters typed over the help, what stands in the line then, and what was said. \\b and \\n: Backspace and Enter."""


@pytest.mark.parametrize("burst", BURSTS)
def test_a_burst_of_words_over_the_help_keeps_every_key(drive: Drive, burst: str):
    async def story(cab: Cab) -> None:
        left, said = BURSTS[burst]
        heard: list[str] = []
        cab.app.say = heard.append  # type: ignore[method-assign,assignment]
        await cab.press("f1")
        sheet = cab.app.screen
        for letter in burst:
            key = {"\b": "backspace", "\n": "enter", " ": "space"}.get(letter, letter)
            sheet.post_message(Key(key, letter if letter.isprintable() else None))
        await cab.pilot.pause(0.3)
        assert cab.app.query_one("#say", Input).value == left
        assert heard == [said] * bool(said)
        assert len(cab.app.screen_stack) == 1

    drive(story)


def test_what_is_pasted_over_the_help_goes_to_the_line(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.press("f1")
        cab.app.screen.post_message(Paste("fresh at two thirds\nand more"))
        await cab.pilot.pause(0.3)
        assert cab.app.query_one("#say", Input).value == "fresh at two thirds"
        assert len(cab.app.screen_stack) == 1

    drive(story)


def test_a_burst_of_letters_over_the_help_goes_to_the_line(drive: Drive):
    """As a terminal sends what was typed fast, or pasted: all letters are there before the help is gone."""

    async def story(cab: Cab) -> None:
        await cab.press("f1")
        sheet = cab.app.screen
        for letter in "next":
            sheet.post_message(Key(letter, letter))
        await cab.pilot.pause(0.3)
        assert cab.app.is_running
        assert cab.app.query_one("#say", Input).value == "next"

    drive(story)


def test_the_journal_is_saved_in_a_worker(drive: Drive, tmp_path: Path):
    """A file of JSON lines, whole."""
    from cabassist.journal.exchange import export

    async def story(cab: Cab) -> None:
        await cab.say(SHORE, "next")
        cab.app.action_export()
        for _ in range(100):
            await cab.pilot.pause(0.02)
            if any(tmp_path.iterdir()) and not cab.app.query_one("#work").has_class("on"):
                break
        files = list(tmp_path.iterdir())
        assert [file.name for file in files] == ["journal-20260115-214200.jsonl"]
        import io

        whole = io.StringIO()
        export(cab.session.journal, whole)
        assert files[0].read_text(encoding="utf-8") == whole.getvalue()

    drive(story, folder=tmp_path)


def test_a_timer_that_ran_out_while_it_was_closed_is_said_at_once(mind: Mind, journal: Journal):
    async def whole() -> None:
        cab = Cab(mind, journal)
        cab.session.state = State(timers=(Timer(cab.now - timedelta(minutes=1), "The wait is over.", None),))
        async with cab.app.run_test(size=SMALL) as pilot:
            cab.pilot = pilot
            await cab.settle()
            await pilot.pause(1.2)
            assert "Timer: The wait is over." in cab.conversation

    asyncio.run(whole())
