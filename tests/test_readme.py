"""What the README prints is what the tool prints."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
START = datetime.fromisoformat("2026-01-15T21:40:00-06:00")


def block_after(mark: str) -> list[str]:
    """The lines of the code block after a mark in the README."""
    match = re.search(rf"<!-- {mark} -->\n```\n(.*?)```", README, re.DOTALL)
    assert match is not None, mark
    return match.group(1).splitlines()


def conversation(mind: Mind, said: list[str]) -> list[str]:
    """The lines that the tool prints when these things are said, a minute apart."""
    lines: list[str] = []
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal)
        for number, text in enumerate(said):
            lines.append(f"you> {text}")
            lines += session.hear(text, START + timedelta(minutes=number)).show
            lines.append("")
    return lines[:-1]


def test_the_printed_conversation_is_what_the_tool_answers(mind: Mind):
    """Every line of it, said again with the same clock."""
    printed = block_after("conversation")
    said = [line.removeprefix("you> ") for line in printed if line.startswith("you> ")]

    assert len(said) >= 8
    assert conversation(mind, said) == printed


@pytest.mark.parametrize(
    "command", sorted(set(re.findall(r"^cabassist ((?:ask|show|topics|replay).*)$", README, re.MULTILINE)))
)
def test_the_printed_commands_run(command: str):
    """Each command in the README ends without misuse."""
    import shlex

    done = subprocess.run(
        [sys.executable, "-m", "cabassist", *shlex.split(command)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode in (0, 1), done.stderr
    assert done.stdout.strip()


@pytest.mark.parametrize(
    "path",
    re.findall(
        r"`((?:tests|knowledge|demo_sessions)/[\w./-]+)`", README + (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    ),
)
def test_named_files_exist(path: str):
    """A reader who follows a path finds the file."""
    assert (ROOT / path).exists()
