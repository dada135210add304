"""`cabassist ask`, `show` and `topics`."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cabassist.coach import facts
from cabassist.procedures.library import Knowledge

from .conftest import Run, json_of, loose_controls

# -- topics -----------------------------------------------------------------------------------------


def test_every_topic_is_listed_under_its_system(run: Run, knowledge: Knowledge):
    """Id and title, and a hazard is called one."""
    lines = run("topics").output.splitlines()

    for name in knowledge.ids:
        (line,) = [line for line in lines if line.startswith(f"  {name} ")]
        assert knowledge.title(name) in line
        assert line.endswith("(hazard)") is (name in knowledge.hazards)
    assert [line for line in lines if not line.startswith(" ")] == [
        f"{system}:" for system in ("body", "heat", "kit", "loading", "power", "propane", "road", "trip", "waste", "water")
    ]  # fmt: skip


def test_topics_as_json(run: Run, knowledge: Knowledge):
    """The same rows for a program."""
    rows = json_of(run("topics", "--json").stdout)

    assert [row["id"] for row in rows] == knowledge.ids
    assert all(set(row) == {"system", "id", "kind", "title"} for row in rows)


def test_one_system_can_be_listed_alone(run: Run):
    """Both as text and as JSON."""
    text = run("topics", "--system", "heat").output
    rows = json_of(run("topics", "--system", "heat", "--json").stdout)

    assert text.startswith("heat:\n")
    assert {row["id"] for row in rows} == {"furnace-will-not-light", "keep-cabin-warm", "carbon-monoxide-alarm"}
    assert len(text.splitlines()) == len(rows) + 1


# -- show -------------------------------------------------------------------------------------------


def all_ids() -> list[str]:
    """The ids of what is shipped, for naming tests."""
    from cabassist import places

    return sorted(path.stem for path in places.knowledge_folder().glob("*/*.yaml") if path.parent.name != "coaches")


@pytest.mark.parametrize("name", all_ids())
def test_every_procedure_is_printed_whole(run: Run, knowledge: Knowledge, name: str):
    """All steps in order, all that must never be done, whom to call, sources, and no hole anywhere."""
    result = run("show", name)
    procedure = knowledge.procedure(name)
    lines = result.output.splitlines()

    assert result.exit_code == 0
    assert lines[0] == procedure.title.upper()
    numbers = [int(found.group(1)) for line in lines if (found := re.match(r" ?(\d+)\. ", line))]
    assert numbers == list(range(1, len(procedure.steps) + 1))
    for heading in ("Never:", "Stop when:", "Call:", "Sources:"):
        assert heading in lines
    assert not re.search(r"[{}]", result.output)
    assert loose_controls(result.output) == set()


@pytest.mark.parametrize("name", all_ids())
def test_a_caution_stands_before_its_step(run: Run, knowledge: Knowledge, coach, name: str):
    """The cautions of a step are the lines right above it; those of the procedure come before the first step."""
    from cabassist.dialogue.phrases import caution_line

    lines = run("show", name).output.splitlines()
    procedure = knowledge.procedure(name)
    words = facts(coach)
    for number, step in enumerate(procedure.steps, 1):
        at = next(i for i, line in enumerate(lines) if re.match(rf" ?{number}\. ", line))
        if step.cautions:
            assert lines[at - len(step.cautions) : at] == [caution_line(c, words) for c in step.cautions]
    first = next(i for i, line in enumerate(lines) if re.match(r" ?1\. ", line))
    for caution in procedure.cautions:
        assert lines.index(caution_line(caution, words)) < first


def test_places_and_sizes_are_those_of_the_coach(run: Run, coach_text: str, tmp_path: Path):
    """Another coach, other words; nothing of the demo coach is left."""
    other = tmp_path / "coach.yaml"
    text = coach_text.replace("bay 4 on the right side", "the locker behind the axle").replace("units: us", "units: metric")
    other.write_text(text, encoding="utf-8")
    here = run("show", "dump-waste-tank").output
    there = run("--coach", str(other), "show", "dump-waste-tank").output

    assert "bay 4 on the right side" in here
    assert "20 feet" in here
    assert "bay 4 on the right side" not in there
    assert "the locker behind the axle" in there
    assert "6.1 metres" in there


@pytest.mark.parametrize("name", all_ids())
def test_every_procedure_as_json(run: Run, knowledge: Knowledge, name: str):
    """The same fields as the file, with the coach's words filled in."""
    body = json_of(run("show", name, "--json").stdout)

    assert body["id"] == name
    assert len(body["steps"]) == len(knowledge.procedure(name).steps)
    assert "{" not in "".join(step["do"] + step["why"] + step["done_when"] for step in body["steps"])


def test_a_coach_that_lacks_what_a_step_names_never_shows_a_hole(run: Run, coach_text: str, tmp_path: Path):
    """No heat tape, one cylinder, no generator: every procedure is still whole sentences."""
    text = re.sub(r"    heat_tape:\n(      .*\n)+", "", coach_text)
    text = re.sub(r"    - role: (inside|spare)\n(      .*\n)+", "", text)
    text = re.sub(r"generator:\n(  .*\n)+", "", text)
    other = tmp_path / "coach.yaml"
    other.write_text(text, encoding="utf-8")
    for name in all_ids():
        result = run("--coach", str(other), "show", name)

        assert result.exit_code == 0
        assert not re.search(r"[{}]", result.output)


def test_a_step_that_only_sometimes_applies_says_when(run: Run):
    """The printed list is for every coach; conditions stand behind the step."""
    assert "[only when: " in run("show", "prepare-to-depart").output + run("show", "read-propane-gauges").output


@pytest.mark.parametrize("name", ["", "🙂", "dump waste tank", "DUMP-WASTE-TANK", "x" * 10_000])
def test_an_id_that_is_none_is_refused(run: Run, name: str):
    """Exit code 2 and where to look."""
    result = run("show", name)

    assert result.exit_code == 2
    assert "See `cabassist topics`." in result.stderr


