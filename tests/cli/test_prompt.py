"""The conversation at the prompt: the first start, leaving, coming back."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from cabassist.cli.prompt import _announcing
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind, State, Timer
from cabassist.journal import Journal

from .conftest import ODD_TEXTS, ROOT, Launch, Run, loose_controls

DUMP = "how do I dump the waste tank"


def journal_path() -> Path:
    """The driver's journal in these tests."""
    return Path(os.environ["CABASSIST_DATA"]) / "journal.sqlite"


def on_record(kind: str = "said") -> list[str]:
    """What the journal holds."""
    with Journal(journal_path()) as journal:
        return [str(event.payload.get("text", event.payload.get("topic"))) for event in journal.read(kind=kind)]


def test_the_first_start_plays_the_demo_and_then_listens(run: Run):
    """The demo shows each of its turns, is left out of the record, and ends by handing over."""
    result = run(text=f"{DUMP}\nquit\n")
    demo, mine = result.output.split("End of the demo. Now it is your turn.")

    assert result.exit_code == 0
    assert "A short demo first. Nothing in it is recorded." in demo
    assert demo.count("you> ") == demo.count("# Demo, ") >= 5
    assert "Dump the waste tank. 28 steps." in demo
    assert "gives no reason" not in demo
    assert "DANGER" in demo
    assert f"you> {DUMP}" in mine
    assert "Step 1 of " in mine
    assert result.output.endswith("Goodbye. Everything said is in the journal.\n")
    assert on_record() == [DUMP]


def test_later_starts_go_straight_to_the_prompt(run: Run):
    """`--demo` plays it again; `--no-demo` leaves it out on the first start too."""
    first = run("--no-demo", text="help\n").output
    second = run(text="help\n").output
    asked_for = run("--demo", text="help\n").output

    assert "A short demo first." not in first + second
    assert "A short demo first." in asked_for


@pytest.mark.parametrize("word", ["quit", "exit", "Bye", " q "])
def test_a_word_leaves(run: Run, word: str):
    """What comes after it is not heard."""
    result = run("--no-demo", text=f"{word}\n{DUMP}\n")

    assert result.exit_code == 0
    assert "Step 1" not in result.output
    assert on_record() == []


def test_the_end_of_the_input_leaves_too(run: Run):
    """Also with nothing said at all."""
    result = run("--no-demo", text="")

    assert result.exit_code == 0
    assert result.output.endswith("Goodbye. Everything said is in the journal.\n")


def test_everything_said_and_answered_is_on_record(run: Run):
    """With the name of who said it."""
    run("--no-demo", "--actor", "Ann", text=f"{DUMP}\nnext\n")
    with Journal(journal_path()) as journal:
        events = list(journal.read())

    assert [e.payload["text"] for e in events if e.kind == "said"] == [DUMP, "next"]
    assert [e.payload["topic"] for e in events if e.kind == "answered"] == ["dump-waste-tank"] * 2
    assert {e.actor for e in events} == {"Ann"}


def test_a_walk_that_was_open_is_offered_again(run: Run):
    """At its step; `resume` goes on there, in the same session."""
    run("--no-demo", text=f"{DUMP}\nnext\nnext\n")
    result = run(text="resume\n")
    with Journal(journal_path()) as journal:
        sessions = {event.session for event in journal.read()}

    assert "You were at step 3 of " in result.output
    assert "Step 3 of " in result.output.split("you> resume")[1]
    assert len(sessions) == 1


@pytest.mark.parametrize("last", ["stop", "thanks"])
def test_without_an_open_walk_nothing_is_offered(run: Run, last: str):
    """A walk that was stopped, or none at all."""
    run("--no-demo", text=f"{DUMP}\n{last}\n" if last == "stop" else f"{last}\n")

    assert "You were at step" not in run(text="").output


def test_a_walk_of_yesterday_is_not_offered(run: Run, mind: Mind):
    """After a long time another driver begins anew."""
    with Journal(journal_path()) as journal:
        Session(mind, journal).hear(DUMP, datetime.now(UTC) - timedelta(hours=30))

    assert "You were at step" not in run(text="").output


def test_a_killed_conversation_is_taken_up_where_it_stood(run: Run):
    """Killed outright between two turns: every answer that was seen is on record, and the step is offered."""
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "cabassist", "--no-demo"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": ROOT, "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdin is not None
    assert process.stdout is not None
    late = threading.Timer(20, process.kill)
    late.start()
    process.stdin.write(f"{DUMP}\nnext\n")
    process.stdin.flush()
    for line in process.stdout:
        if line.startswith("Step 2 of "):
            break
    process.kill()
    process.wait()
    late.cancel()
    process.stdin.close()
    process.stdout.close()

    assert on_record() == [DUMP, "next"]
    assert "You were at step 2 of " in run(text="").output


def test_odd_lines_do_no_harm(launch: Launch):
    """Each gets an answer, bytes of another encoding too; the conversation goes on to its end."""
    lines = [text for text in ODD_TEXTS.values() if not set(text) & set("\r\n")]
    raw = "".join(line + "\n" for line in lines).encode("utf-8", "surrogateescape")
    done = launch("--no-demo", input=raw, text=False, encoding=None)

    assert done.returncode == 0
    assert done.stderr == b""
    assert done.stdout.endswith(b"Goodbye. Everything said is in the journal.\n")
    assert len(on_record()) == len(lines)


def test_what_is_typed_is_never_sent_back_with_control_characters(run: Run):
    """The echo of a piped line cannot move the cursor or set the title."""
    text = "fill \x1b]0;pwned\x07\x1b[31m\u202e water\n"

    assert loose_controls(run("--no-demo", text=text, color=True).output) == set()


def waiting(session: Session, heard: Callable[[str], None], until: Callable[[], bool]) -> None:
    """The prompt waits, five seconds at most, while the watcher looks after the timers."""
    begun = time.perf_counter()
    with _announcing(session, threading.Lock(), heard):
        while not until() and time.perf_counter() - begun < 5:
            time.sleep(0.02)


def test_a_timer_speaks_up_by_itself_and_is_put_on_record(mind: Mind):
    """Once, while the prompt waits for somebody to type."""
    said: list[str] = []
    with Journal(journal_path()) as journal:
        session = Session(mind, journal)
        session.state = State(timers=(Timer(datetime.now(UTC) - timedelta(seconds=1), "The wait is over.", None),))
        waiting(session, said.append, lambda: bool(said))
        recorded = [event.payload for event in journal.read(kind="timer")]

    assert said == ["\a*** Timer: The wait is over."]
    assert session.state.timers == ()
    assert recorded == [{"announce": "The wait is over."}]


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals here")
def test_a_conversation_at_a_terminal():
    """Typed at a real prompt: an answer, the history kept, and a clean end."""
    import pty

    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "cabassist", "--plain", "--no-demo"],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "PYTHONPATH": ROOT, "TERM": "xterm"},
    )
    os.close(theirs)
    late = threading.Timer(20, process.kill)
    late.start()
    seen, to_say = b"", {b"you>": b"thanks\r", b"You are welcome.": b"quit\r"}
    try:
        while part := os.read(ours, 65536):
            seen += part
            if b"\x1b[6n" in part:  # the terminal is asked where its cursor is
                os.write(ours, b"\x1b[1;1R")
            for cue, words in list(to_say.items()):
                if cue in seen:
                    os.write(ours, words)
                    del to_say[cue]
    except OSError:  # the terminal's other end is closed
        pass
    late.cancel()
    os.close(ours)

    assert process.wait() == 0
    assert b"You are welcome." in seen
    assert b"Goodbye." in seen
    assert on_record() == ["thanks"]
    assert "thanks" in (Path(os.environ["CABASSIST_DATA"]) / "history").read_text(encoding="utf-8")
