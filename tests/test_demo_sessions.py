"""The recorded sessions are answered today as they were recorded."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.cli.replay import differences, read_recording
from cabassist.cli.shared import Given

SESSIONS = sorted((Path(__file__).parents[1] / "demo_sessions").glob("*.jsonl"))


def test_there_are_at_least_eight_recorded_sessions():
    """One for each situation that the assistant is made for."""
    assert len(SESSIONS) >= 8


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_recorded_session_is_answered_as_it_was(path: Path):
    """Kind, topic, step, options and readings of every turn are the same."""
    turns = read_recording(path)

    assert all(turn["answered"]["kind"] for turn in turns)
    assert differences(turns, Given(None, None, None, "driver")) == []
