"""When the screen opens, and what it is given."""

from __future__ import annotations

import sys
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.cli import screen
from cabassist.cli.shared import Given, terminal_can
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.errors import ContentProblems, VoiceUnavailable
from cabassist.journal import Journal

from .conftest import Run

HERE = Given(None, None, None, "driver")


class Stream:
    """A standard stream that is a terminal, or not."""

    encoding = "utf-8"

    def __init__(self, terminal: bool) -> None:
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal


@pytest.mark.skipif(sys.platform == "win32", reason="TERM says nothing there")
@pytest.mark.parametrize(
    ("term", "ins", "outs", "can"),
    [
        ("xterm-256color", True, True, True),
        ("screen", True, True, True),
        ("dumb", True, True, False),
        ("", True, True, False),
        ("xterm", False, True, False),  # words from a file or a pipe
        ("xterm", True, False, False),  # answers into a file or a pipe
    ],
)
def test_the_screen_needs_a_terminal_that_can(
    monkeypatch: pytest.MonkeyPatch, term: str, ins: bool, outs: bool, can: bool
):
    monkeypatch.setenv("TERM", term)
    monkeypatch.setattr(sys, "stdin", Stream(ins))
    monkeypatch.setattr(sys, "stdout", Stream(outs))

    assert terminal_can() is can


def test_a_pipe_and_plain_get_the_prompt(run: Run):
    for options in ((), ("--plain",)):
        assert "you> thanks\nYou are welcome." in run("--no-demo", *options, text="thanks\n").output


@pytest.mark.parametrize(("hour", "dark"), [(6, True), (7, False), (12, False), (18, False), (19, True), (23, True)])
def test_the_dark_colors_come_first_at_night(hour: int, dark: bool):
    assert screen.is_night(datetime(2026, 1, 15, hour, 59)) is dark


def test_the_first_start_shows_the_demo_and_keeps_nothing_of_it():
    opened = screen.opened(HERE, None)

    assert len(opened.shown) > 5
    assert any("DANGER" in line for before in opened.shown for line in before.lines)
    assert opened.notes[-1].startswith("End of the demo.")
    assert opened.session.journal.count() == 0
    opened.session.journal.close()


def test_an_open_walk_is_offered(mind: Mind, tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    with Journal(path) as journal:
        Session(mind, journal).hear("how do I plug in at the hotel", datetime.now().astimezone() - timedelta(minutes=5))
    opened = screen.opened(Given(None, path, None, "driver"), None)

    assert opened.shown == ()
    assert opened.notes == ("You were at step 1 of 15: Connect shore power. Say resume, stop, or ask something else.",)
    opened.session.journal.close()


def test_an_unusable_journal_is_said_and_the_screen_opens_all_the_same(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    path.write_bytes(b"no database at all, but long enough to be taken for one" * 10)
    opened = screen.opened(Given(None, path, None, "driver"), False)

    assert "journal.sqlite" in opened.notes[0]
    assert opened.notes[1] == "Going on without a record."
    opened.session.journal.close()


def test_an_unusable_profile_is_an_error_of_the_command(tmp_path: Path):
    path = tmp_path / "coach.yaml"
    path.write_text("id: ours\n", encoding="utf-8")

    with pytest.raises(ContentProblems, match=r"coach\.yaml:1"):
        screen.opened(Given(path, None, None, "driver"), False)


class Part:
    """Stands for a microphone, recognisers or the detector of speech."""

    def __init__(self, *given: object) -> None:
        if len(given) == 2:  # recognisers, which are given somebody to tell
            given[1]("Getting the words ready.")  # type: ignore[operator]

    def close(self) -> None: ...


def test_what_the_voice_lacks_is_told_to_the_screen_and_not_printed_over_it(
    mind: Mind, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
):
    """A speaker that is missing, a model that was named and is missing, and what the recognisers say while loading."""
    pytest.importorskip("pocketsphinx")
    pytest.importorskip("miniaudio")

    def silent(**_: object) -> None:
        raise VoiceUnavailable("No loudspeaker found. Connect one.")

    for place in ("microphone.DeviceMicrophone", "worker.Worker", "endpoint.Silero"):
        monkeypatch.setattr(f"cabassist.voice.{place}", Part)
    monkeypatch.setattr("cabassist.voice.speaking.open_speaker", silent)
    monkeypatch.setenv("CABASSIST_VOSK_MODEL", str(tmp_path / "none"))
    told: list[str] = []
    with screen.parts_of(HERE, mind, told.append) as parts:
        assert parts.voice is None

    assert str(tmp_path / "none") in told[0]
    assert told[1:] == ["Getting the words ready.", "No loudspeaker found. Connect one.\nAnswers are shown as text."]
    assert capsys.readouterr() == ("", "")
