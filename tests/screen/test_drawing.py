"""What is drawn by the screen and by the plain commands alike."""

from __future__ import annotations

import subprocess
import sys
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.cli.plots import blocks_shown
from cabassist.screen.drawing import known_by
from cabassist.screen.look import wants_ascii

START = datetime.fromisoformat("2026-01-15T08:00:00-06:00")


@pytest.mark.parametrize(("value", "asked"), [(None, False), ("", False), ("0", False), ("1", True), ("yes", True)])
def test_screen_and_commands_read_the_wish_for_ascii_alike(
    monkeypatch: pytest.MonkeyPatch, value: str | None, asked: bool
):
    for name in ("LC_ALL", "LC_CTYPE", "CABASSIST_ASCII"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "en_US.UTF-8")
    monkeypatch.setenv("TERM", "xterm")
    if value is not None:
        monkeypatch.setenv("CABASSIST_ASCII", value)

    assert wants_ascii(encoding="utf-8") is asked
    assert blocks_shown() is not asked


def test_readings_known_at_the_end_of_each_column():
    """Four columns of an hour: a reading at the very end of a column counts in it, by hand."""
    times = [START + timedelta(minutes=minutes) for minutes in (60, 61, 239)]

    assert known_by(times, START, START + timedelta(hours=4), 4) == [1, 2, 2, 3]


@given(st.lists(st.integers(-50, 500), max_size=20).map(sorted), st.integers(1, 80))
def test_columns_are_those_of_a_full_scan(minutes: list[int], width: int):
    """Against a twin that looks at every reading for every column."""
    times, last = [START + timedelta(minutes=number) for number in minutes], START + timedelta(minutes=400)
    ends = [START + (last - START) * column / width for column in range(1, width + 1)]

    assert known_by(times, START, last, width) == [sum(at <= end for at in times) for end in ends]


def test_the_commands_draw_without_the_screen():
    """A plain command starts without Textual."""
    code = "import sys, cabassist.cli.plots; print('textual' in sys.modules)"

    assert (
        subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout.strip()
        == "False"
    )
