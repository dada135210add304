"""`cabassist knowledge check|stats`."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from cabassist.procedures.library import Knowledge

from .conftest import Run, json_of


@pytest.fixture
def part(tmp_path: Path, knowledge_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of one system of the shipped knowledge, which may be broken; what it leads to is missing."""
    folder = tmp_path / "knowledge"
    for name in ("waste", "coaches"):
        shutil.copytree(knowledge_folder / name, folder / name)
    shutil.copy(knowledge_folder / "style.yaml", folder)
    monkeypatch.setenv("CABASSIST_CACHE", str(tmp_path / "cache"))
    return folder


def test_the_shipped_knowledge_passes(run: Run):
    """Nothing is found, exit code 0."""
    result = run("knowledge", "check")

    assert (result.exit_code, result.output) == (0, "0 problems found.\n")


def test_problems_are_printed_as_file_and_line(run: Run, part: Path):
    """Exit code 1, one line for each, and their number; the same as JSON."""
    path = part / "waste" / "dump-waste-tank.yaml"
    text = path.read_text(encoding="utf-8").replace("{waste.side}", "{waste.sied}").replace("headlamp,", "headlmap,", 1)
    path.write_text(text, encoding="utf-8")
    result = run("--knowledge", str(part), "knowledge", "check")
    as_json = run("--knowledge", str(part), "knowledge", "check", "--json")
    *lines, last = result.output.splitlines()
    found = json_of(as_json.stdout)

    assert result.exit_code == as_json.exit_code == 1
    assert last == f"{len(lines)} problems found."
    for line in lines:
        assert re.match(r"knowledge/waste/[a-z-]+\.yaml:\d+: \S+: ", line)
    assert [f"{p['file']}:{p['line']}: {p['where']}: {p['message']}" for p in found] == lines
    ours = [p for p in found if p["file"] == "knowledge/waste/dump-waste-tank.yaml"]
    assert {"placeholder", "kit"} <= {p["code"] for p in ours}
    (kit,) = [p for p in ours if p["code"] == "kit"]
    assert (kit["line"], kit["where"]) == (text[: text.index("needs:")].count("\n") + 1, "needs[0]")


def test_a_broken_file_is_a_problem_like_any_other(run: Run, part: Path):
    """The check says where; it does not end in a traceback."""
    (part / "waste" / "dump-waste-tank.yaml").write_text("id: [", encoding="utf-8")
    result = run("--knowledge", str(part), "knowledge", "check")

    assert result.exit_code == 1
    assert "knowledge/waste/dump-waste-tank.yaml:" in result.output
    assert "not sound YAML" in result.output


def test_the_check_is_against_the_coach_that_is_named(run: Run, part: Path, coach_text: str):
    """A coach that does not carry an item fails procedures that need it."""
    other = part.parent / "coach.yaml"
    other.write_text(coach_text.replace("id: disinfectant,", "id: soap,"), encoding="utf-8")
    said = "'disinfectant' is not in the carried kit"

    assert said not in run("--knowledge", str(part), "knowledge", "check").output
    assert said in run("--coach", str(other), "--knowledge", str(part), "knowledge", "check").output


def test_the_figures_are_those_of_the_knowledge(run: Run, knowledge: Knowledge):
    """At least the 72 topics, each with its wordings."""
    figures = json_of(run("knowledge", "stats", "--json").stdout)

    assert figures["procedures"] + figures["hazards"] == len(knowledge.ids) >= 72
    assert figures["hazards"] == len(knowledge.hazards)
    assert figures["fewest_wordings"] >= 15
    assert figures["steps"] == sum(len(knowledge.procedure(name).steps) for name in knowledge.ids)


def test_the_figures_agree_in_both_forms(run: Run, part: Path):
    """Text and JSON hold the same."""
    as_json = json_of(run("--knowledge", str(part), "knowledge", "stats", "--json").stdout)
    text = run("--knowledge", str(part), "knowledge", "stats").output
    rows = [line.split(None, 1) for line in text.splitlines()]

    assert {name.replace(" ", "_"): int(value.replace(",", "")) for value, name in rows} == as_json
    assert as_json["procedures"] + as_json["hazards"] == len(list((part / "waste").glob("*.yaml")))


@pytest.mark.parametrize("command", ["check", "stats"])
def test_a_folder_that_is_not_there_is_a_clear_error(run: Run, command: str):
    """Exit code 2."""
    result = run("--knowledge", "/no/such/folder", "knowledge", command)

    assert result.exit_code == 2
    assert "/no/such/folder: is not a folder of knowledge." in result.stderr


def test_an_empty_folder_is_a_clear_error(run: Run, tmp_path: Path):
    """Exit code 2 and a sentence."""
    assert run("--knowledge", str(tmp_path), "knowledge", "stats").exit_code == 2
