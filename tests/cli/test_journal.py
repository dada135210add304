"""`cabassist journal`: the record proved, copied, mended and thinned out from the command line."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import pytest

from cabassist import places

from .conftest import Run, json_of


@pytest.fixture
def record(run: Run) -> Path:
    """A journal with one conversation in it."""
    run("ask", "how do I dump the waste tank")
    return places.journal_file()


def session_of(record: Path) -> str:
    """The name of its conversation."""
    with sqlite3.connect(record) as db:
        found = db.execute("SELECT session FROM events").fetchone()[0]
    db.close()
    return str(found)


def test_a_record_is_proved_and_its_head_can_be_held_against_it_later(run: Run, record: Path):
    """Exit code 0 while it is sound, also with the head of before."""
    first = run("journal", "verify", "--json")
    head = json_of(first.stdout)["head"]
    run("ask", "is it cold")

    assert first.exit_code == 0
    assert json_of(first.stdout)["sound"] is True
    assert run("journal", "verify", "--expect", head).exit_code == 0
    assert run("journal", "verify", "--expect", "0" * 64).exit_code == 1


def test_an_altered_record_is_named_and_the_way_out_is_told(run: Run, record: Path):
    """Exit code 1, the event's number, and what to do."""
    with sqlite3.connect(record) as db:
        db.execute("DROP TRIGGER events_stay")
        db.execute("UPDATE events SET actor = 'nobody' WHERE seq = 2")
    db.close()
    done = run("journal", "verify")

    assert done.exit_code == 1
    assert "event 2 (" in done.stdout
    assert "NOT sound: 1 fault." in done.stdout
    assert "journal rescue" in done.stdout


@pytest.mark.parametrize("command", [("verify",), ("export",), ("erase", "x", "--by", "Kim", "--reason", "r")])
def test_a_missing_journal_is_not_made(run: Run, command: tuple[str, ...]):
    """A mistyped name must not look like an empty, sound record."""
    done = run("journal", *command)

    assert done.exit_code == 2
    assert "does not exist" in done.stderr
    assert not places.journal_file().exists()


def test_out_and_in_again(run: Run, record: Path, tmp_path: Path):
    """The copy proves sound with the head of the original."""
    out, copy = tmp_path / "out.jsonl", str(tmp_path / "copy.sqlite")
    head = json_of(run("journal", "verify", "--json").stdout)["head"]

    assert run("journal", "export", str(out)).exit_code == 0
    assert run("--journal", copy, "journal", "import", str(out)).exit_code == 0
    assert json_of(run("--journal", copy, "journal", "verify", "--json").stdout)["head"] == head
    assert run("journal", "export", str(out)).exit_code == 2  # never over an existing file


def test_an_export_can_be_read_from_standard_output(run: Run, record: Path):
    """One JSON object a line."""
    lines = run("journal", "export").stdout.splitlines()

    assert json.loads(lines[0])["events"] == len(lines) - 1


def test_a_refused_import_leaves_no_file(run: Run, record: Path, tmp_path: Path):
    """Not even an empty journal."""
    bad, copy = tmp_path / "bad.jsonl", tmp_path / "copy.sqlite"
    bad.write_text(run("journal", "export").stdout.replace("waste", "fresh"), encoding="utf-8")
    done = run("--journal", str(copy), "journal", "import", str(bad))

    assert done.exit_code == 2
    assert "bad.jsonl:2:" in done.stderr
    assert [file.name for file in tmp_path.iterdir()] == ["bad.jsonl"]


def test_a_session_is_erased_after_a_question_and_a_tombstone_stays(run: Run, record: Path):
    """No at the question changes nothing; then the words are gone and the record is sound."""
    name = session_of(record)
    asked = run("journal", "erase", name, "--by", "Kim", "--reason", "asked for it", text="n\n")
    count = run("journal", "export").stdout
    done = run("journal", "erase", name, "--by", "Kim", "--reason", "asked for it", "--yes")
    told = json_of(run("journal", "verify", "--json").stdout)

    assert asked.exit_code == 1
    assert "waste" in count
    assert done.exit_code == 0
    assert told["sound"]
    assert [stone["signed"] for stone in told["tombstones"]] == [True]
    assert "waste" not in run("journal", "export").stdout


def test_a_rescue_saves_into_a_new_file(run: Run, record: Path, tmp_path: Path):
    """Exit code 0 when nothing is lost."""
    new = tmp_path / "new.sqlite"
    done = run("journal", "rescue", str(record), str(new), "--json")

    assert done.exit_code == 0
    assert json_of(done.stdout)["lost"] == 0
    assert run("--journal", str(new), "journal", "verify").exit_code == 0
