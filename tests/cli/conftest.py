"""Commands run in this process, and what their output may hold."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

import cabassist
from cabassist.cli.main import cabassist as command

ROOT = str(Path(cabassist.__file__).parents[1])
Run = Callable[..., Result]
Launch = Callable[..., subprocess.CompletedProcess[str]]

ODD_TEXTS = {
    "empty": "",
    "space": "   \t ",
    "one letter": "a",
    "one digit": "7",
    "question mark": "?",
    "ten thousand letters": "a" * 10_000,
    "ten thousand words": "water " * 10_000,
    "emoji": "🚌💧🔥",
    "emoji in a question": "how do I fill the 💧 tank 🙏",
    "joined emoji": "👩‍🔧🏳️‍🌈",
    "Polish": "jak napełnić zbiornik wody?",
    "Chinese": "怎么加水",
    "Arabic": "كيف أملأ خزان المياه",
    "right to left override": "water \u202e retaw",
    "combining marks": "z̸̢̛̖a̷l̵g̶o̴" * 50,
    "no-break spaces": "how\u00a0do\u2003I\u3000fill",
    "control characters": "".join(map(chr, range(1, 32))) + "\x7f\x80\x9b",
    "null": "fill\x00water",
    "escape sequence": "\x1b[2J\x1b[31mfill water\x1b[0m",
    "window title": "\x1b]0;pwned\x07fill water",
    "single-byte escape": "\x9b31mfill water",
    "console markup": "[bold red]fill[/] water [link=https://example.org]x[/link]",
    "HTML": "<script>alert(1)</script> fill <b>water</b>",
    "template": "{fresh.capacity} {0} %s %(x)s ${HOME} $(id) `id` {{7*7}}",
    "SQL": "'; DROP TABLE events; --",
    "path": "../../../../etc/passwd",
    "option": "-x --help=1",
    "JSON": '{"reset": true}',
    "line breaks": "fill\r\nwater\u2028tank\u2029now\x85",
    "lone surrogate": "fill \udcff water",
}
"""What may come in by mistake or by malice."""


def json_of(text: str) -> Any:
    """The one JSON value in a text; nothing may stand around it."""
    return json.loads(text)


def loose_controls(text: str) -> set[str]:
    """Characters that could move a terminal's cursor, change its color or turn its text round."""
    return {repr(c) for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")}


@pytest.fixture
def run() -> Run:
    """Runs `cabassist` in this process; an error that we did not mean to raise comes through as it is.

    With `color=True` escape sequences are kept as they would be on a terminal.
    """

    def invoked(*args: str, text: str | bytes | None = None, color: bool = False) -> Result:
        return CliRunner().invoke(
            command, list(args), input=text, prog_name="cabassist", catch_exceptions=False, color=color
        )

    return invoked


@pytest.fixture
def launch() -> Launch:
    """Runs `cabassist` as its own process, as a driver does."""

    def launched(*args: str, **more: Any) -> subprocess.CompletedProcess[str]:
        env = {**os.environ, "PYTHONPATH": ROOT, "PYTHONIOENCODING": "utf-8", **more.pop("env", {})}
        usual = {"capture_output": True, "text": True, "encoding": "utf-8", "timeout": 60}
        return subprocess.run([sys.executable, "-m", "cabassist", *args], check=False, env=env, **{**usual, **more})

    return launched


def commands(group: click.Group, before: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    """Every command and sub-command, as its words."""
    found: list[tuple[str, ...]] = []
    context = click.Context(group)
    for name in group.list_commands(context):
        inner = group.get_command(context, name)
        real = inner._real() if hasattr(inner, "_real") else inner
        found.append((*before, name))
        if isinstance(real, click.Group):
            found += commands(real, (*before, name))
    return found


ALL_COMMANDS = commands(command)
