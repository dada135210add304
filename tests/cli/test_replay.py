"""`cabassist replay FILE`: a recorded session against today's knowledge."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from .conftest import Run, json_of, loose_controls

CLOCK = "2026-01-15T21:40:00-06:00"
SAID = ["how do I dump the waste tank", "next", "waste at 40 percent", "it smells of gas in here", "stop"]
Recorded = Callable[..., Path]


@pytest.fixture
def recorded(run: Run, tmp_path: Path) -> Recorded:
    """Records these words with `converse`, each turn altered by `change`."""

    def made(*said: str, change: Callable[[int, dict[str, Any]], None] = lambda _, __: None) -> Path:
        turns = [{"text": text, "now": CLOCK} for text in said]
        out = run("converse", "--jsonl", text="".join(json.dumps(turn) + "\n" for turn in turns)).stdout
        path = tmp_path / "session.jsonl"
        with path.open("w", encoding="utf-8") as file:
            for number, (turn, line) in enumerate(zip(turns, out.splitlines(), strict=True), 1):
                whole: dict[str, Any] = {**turn, "answered": json.loads(line)}
                change(number, whole)
                file.write(json.dumps(whole) + "\n")
        return path

    return made


def test_a_session_that_is_answered_the_same_ends_with_0(run: Run, recorded: Recorded):
    """Text and JSON say how many turns there were."""
    path = recorded(*SAID)
    result = run("replay", str(path))

    assert (result.exit_code, result.output) == (0, "5 turns, 0 answered differently.\n")
    assert json_of(run("replay", str(path), "--json").stdout) == {"file": str(path), "turns": 5, "different": []}


def test_a_turn_that_is_answered_differently_is_shown(run: Run, recorded: Recorded):
    """What was said, what was answered, what is answered today; exit code 1."""

    def otherwise(number: int, turn: dict[str, Any]) -> None:
        if number == 2:
            turn["answered"]["topic"] = "stow-waste-hose"
            turn["answered"]["step"] = {"index": 5, "of": 6}

    path = recorded(*SAID, change=otherwise)
    result = run("replay", str(path))
    as_json = run("replay", str(path), "--json")
    (row,) = json_of(as_json.stdout)["different"]

    assert result.exit_code == as_json.exit_code == 1
    assert "turn 2: next\n" in result.output
    assert '  topic: was "stow-waste-hose", is "dump-waste-tank"\n' in result.output
    assert result.output.endswith("5 turns, 1 answered differently.\n")
    assert (row["turn"], row["text"], row["changed"]) == (2, "next", ["topic", "step"])
    assert row["before"]["topic"] == "stow-waste-hose"
    assert row["today"]["topic"] == "dump-waste-tank"


def test_the_wording_and_the_time_taken_are_not_compared(run: Run, recorded: Recorded):
    """A better sentence is not another answer."""

    def reworded(_: int, turn: dict[str, Any]) -> None:
        turn["answered"].update(say="other words", show=["other words"], ms=0, confidence=0.5)

    assert run("replay", str(recorded(*SAID, change=reworded))).exit_code == 0


def test_empty_lines_are_passed_over(run: Run, recorded: Recorded):
    """A recording that a person has looked at may have them."""
    path = recorded(*SAID)
    path.write_text("\n" + path.read_text(encoding="utf-8").replace("\n", "\n\n"), encoding="utf-8")

    assert run("replay", str(path)).output == "5 turns, 0 answered differently.\n"


def test_a_replay_writes_nothing(run: Run, recorded: Recorded):
    """The record of the driver's own sessions is not touched."""
    path = recorded(*SAID)
    before = path.read_bytes()
    run("replay", str(path))

    assert path.read_bytes() == before
    assert not Path(os.environ["CABASSIST_DATA"]).exists()


ANSWER = '"answered": {"kind": "unknown"}'


@pytest.mark.parametrize(
    "line",
    [
        "nonsense",
        '{"text": "next"',
        "5",
        "null",
        "[]",
        f'{{"now": "{CLOCK}", {ANSWER}}}',
        f'{{"text": 5, "now": "{CLOCK}", {ANSWER}}}',
        f'{{"text": "next", {ANSWER}}}',
        f'{{"text": "next", "now": "later", {ANSWER}}}',
        f'{{"text": "next", "now": 5, {ANSWER}}}',
        f'{{"text": "next", "now": "{CLOCK}"}}',
        f'{{"text": "next", "now": "{CLOCK}", "answered": "yes"}}',
        "[" * 100_000,
        "\x00\x01",
    ],
)
def test_a_damaged_line_is_named(run: Run, recorded: Recorded, line: str):
    """File and line, what is wrong and the next action; exit code 2; nothing is replayed."""
    path = recorded(*SAID)
    with path.open("a", encoding="utf-8") as file:
        file.write(line + "\n")
    result = run("replay", str(path))

    assert result.exit_code == 2
    assert result.stderr.startswith(f"{path}:6: is not a recorded turn (")
    assert result.stderr.endswith("Record it again with `converse`.\n")
    assert result.stdout == ""


@pytest.mark.parametrize(
    "clock",
    [
        "0001-01-01T00:00:00",
        "9999-12-31T23:59:59-12:00",
    ],
)
def test_a_clock_at_the_end_of_time_is_no_traceback(run: Run, tmp_path: Path, clock: str):
    """It is answered or refused."""
    path = tmp_path / "session.jsonl"
    said = ["how do I connect shore power", *(f"go to step {n}" for n in range(1, 15))]
    path.write_text("".join(f'{{"text": "{text}", "now": "{clock}", {ANSWER}}}\n' for text in said), encoding="utf-8")

    assert run("replay", str(path)).exit_code in (1, 2)


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "holds no turns. Name a recorded session."),
        (b"\n\n", "holds no turns. Name a recorded session."),
        (b"\xff\xfe", "is not UTF-8 text. Save it as UTF-8."),
        (b" " * 2_000_001, "is larger than 2,000,000 bytes."),
    ],
)
def test_a_file_that_is_no_recording_is_named(run: Run, tmp_path: Path, body: bytes, said: str):
    """Exit code 2."""
    path = tmp_path / "session.jsonl"
    path.write_bytes(body)
    result = run("replay", str(path))

    assert result.exit_code == 2
    assert f"{path}: {said}" in result.stderr


def test_a_recording_cannot_send_escape_sequences(run: Run, recorded: Recorded):
    """What was said is shown again only in a form that is safe to print."""

    def hostile(number: int, turn: dict[str, Any]) -> None:
        if number == 2:
            turn["text"] = "next \x1b]0;pwned\x07\u202e"
            turn["answered"]["topic"] = "\x1b[31mred"

    result = run("replay", str(recorded(*SAID, change=hostile)), color=True)

    assert result.exit_code == 1
    assert loose_controls(result.output) == set()
