"""`cabassist knowledge check|stats`."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from .conftest import Run, json_of


@pytest.fixture
def copied(tmp_path: Path, knowledge_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the shipped knowledge that may be broken."""
    folder = tmp_path / "knowledge"
    shutil.copytree(knowledge_folder, folder, ignore=shutil.ignore_patterns("*.npz"))
    monkeypatch.setenv("CABASSIST_CACHE", str(tmp_path / "cache"))
    return folder


def test_the_shipped_knowledge_passes(run: Run):
    """Nothing is found, exit code 0."""
    result = run("knowledge", "check")

    assert (result.exit_code, result.output) == (0, "0 problems found.\n")


def test_the_check_as_json_is_a_list(run: Run):
    """Empty when all is well."""
    assert json_of(run("knowledge", "check", "--json").stdout) == []


def test_problems_are_printed_as_file_and_line(run: Run, copied: Path):
    """Exit code 1, one line for each, and their number."""
    path = copied / "waste" / "dump-waste-tank.yaml"
    text = path.read_text(encoding="utf-8").replace("{waste.side}", "{waste.sied}").replace("headlamp,", "headlmap,", 1)
    path.write_text(text, encoding="utf-8")
    result = run("--knowledge", str(copied), "knowledge", "check")
    as_json = run("--knowledge", str(copied), "knowledge", "check", "--json")
    lines = result.output.splitlines()

    assert result.exit_code == as_json.exit_code == 1
    assert lines[-1] == f"{len(lines) - 1} problems found."
    for line in lines[:-1]:
        assert re.match(r"knowledge/waste/dump-waste-tank\.yaml:\d+: \S+: ", line)
    found = json_of(as_json.stdout)
    assert [f"{p['file']}:{p['line']}: {p['where']}: {p['message']}" for p in found] == lines[:-1]
    assert {p["code"] for p in found} == {"placeholder", "kit"}


def test_a_broken_file_is_a_problem_like_any_other(run: Run, copied: Path):
    """The check goes on to the end and says where."""
    (copied / "waste" / "dump-waste-tank.yaml").write_text("id: [", encoding="utf-8")
    result = run("--knowledge", str(copied), "knowledge", "check")

    assert result.exit_code == 1
    assert "knowledge/waste/dump-waste-tank.yaml:" in result.output


def test_the_check_is_against_the_coach_that_is_named(run: Run, copied: Path, coach_text: str):
    """A coach that does not carry an item fails procedures that need it."""
    other = copied.parent / "coach.yaml"
    other.write_text(coach_text.replace("id: torque-wrench,", "id: torque-key,"), encoding="utf-8")
    result = run("--coach", str(other), "--knowledge", str(copied), "knowledge", "check")

    assert result.exit_code == 1
    assert "'torque-wrench' is not in the carried kit" in result.output


def test_the_figures_agree_in_both_forms(run: Run, knowledge):
    """At least the 72 topics; text and JSON hold the same."""
    as_json = json_of(run("knowledge", "stats", "--json").stdout)
    text = run("knowledge", "stats").output
    in_text = {
        name.replace(" ", "_"): int(value.replace(",", ""))
        for value, name in (line.split(None, 1) for line in text.splitlines())
    }

    assert in_text == as_json
    assert as_json["procedures"] + as_json["hazards"] == len(knowledge.ids) >= 72
    assert as_json["hazards"] == len(knowledge.hazards)
    assert as_json["fewest_wordings"] >= 15
    assert as_json["steps"] == sum(len(knowledge.procedure(name).steps) for name in knowledge.ids)


@pytest.mark.parametrize("command", ["check", "stats"])
def test_a_folder_that_is_not_there_is_a_clear_error(run: Run, command: str):
    """Exit code 2."""
    result = run("--knowledge", "/no/such/folder", "knowledge", command)

    assert result.exit_code == 2
    assert "/no/such/folder: is not a folder of knowledge." in result.stderr


@pytest.mark.xfail(strict=True, raises=ValueError, reason="min() of no wordings: a traceback")
def test_an_empty_folder_is_a_clear_error(run: Run, tmp_path: Path):
    """Exit code 2 and a sentence."""
    assert run("--knowledge", str(tmp_path), "knowledge", "stats").exit_code == 2
