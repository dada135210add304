"""`cabassist coach show|check|new`."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cabassist.coach import Coach
from cabassist.procedures import yamlfile

from .conftest import Run, json_of, loose_controls

DEFAULTS = "\n" * 400
"""Enter at every question."""

INTERVIEW = (
    "the interview ends at once: assigning one field runs the validator of the whole coach on a model that has no"
    " other field yet; and parse_to refuses a bare number"
)


@pytest.fixture
def written(tmp_path: Path, coach_text: str) -> Callable[..., Path]:
    """Writes the demo coach with one thing replaced."""

    def made(old: str = "", new: str = "", name: str = "coach.yaml") -> Path:
        assert old in coach_text
        path = tmp_path / name
        path.write_text(coach_text.replace(old, new, 1), encoding="utf-8")
        return path

    return made


# -- show -------------------------------------------------------------------------------------------


def test_the_coach_is_shown_with_units(run: Run):
    """Name and file first, then each value with the unit that it is kept in."""
    lines = [line.strip() for line in run("coach", "show").output.splitlines()]

    assert lines[0].startswith("the Loon (")
    assert lines[0].endswith("demo.yaml)")
    for line in ("capacity_gal: 120.0 gal", "depth_in: 24.0 in", "nut_torque_ft_lb: 475.0 ft_lb", "gauge_awg: 10"):
        assert line in lines


def test_the_coach_as_json_is_the_whole_profile(run: Run, coach: Coach):
    """It can be read back into the same coach."""
    assert Coach.model_validate(json_of(run("coach", "show", "--json").stdout)) == coach


def test_a_profile_cannot_send_escape_sequences(run: Run, written: Callable[..., Path]):
    """A profile that someone else wrote cannot write to the terminal."""
    path = written("name: the Loon", 'name: "the \\e]0;pwned\\aLoon"')

    assert loose_controls(run("--coach", str(path), "coach", "show", color=True).output) == set()


# -- check ------------------------------------------------------------------------------------------


def test_a_sound_profile_is_said_to_be_sound(run: Run, written: Callable[..., Path]):
    """With what it holds; exit code 0; JSON is an empty list."""
    path = written()
    result = run("coach", "check", str(path))

    assert result.exit_code == 0
    assert result.output == f"{path}: sound. the Loon: 2 tanks, 3 cylinders, 52 carried items.\n"
    assert json_of(run("coach", "check", str(path), "--json").stdout) == []


def test_the_profile_in_use_is_checked_when_none_is_named(run: Run, written: Callable[..., Path]):
    """The one of `--coach`, or of the variable."""
    path = written("  volts: 12\n", "  volts: 13\n")

    assert run("coach", "check").exit_code == 0
    assert run("--coach", str(path), "coach", "check").exit_code == 2


def test_problems_are_printed_as_file_line_field_and_what_is_allowed(run: Run, written: Callable[..., Path]):
    """Exit code 2; the same parts as JSON."""
    path = written("    capacity_gal: 120\n", "    capacity_gal: 1200\n")
    result = run("coach", "check", str(path))
    as_json = run("coach", "check", str(path), "--json")
    (problem,) = json_of(as_json.stdout)

    assert result.exit_code == as_json.exit_code == 2
    assert result.stderr == f"{path}:8: tanks[0].capacity_gal: {problem['message']}\n"
    for words in ("less than or equal to 500", "not 1200", "Capacity when full.", "Unit: gal"):
        assert words in problem["message"]
    assert (problem["file"], problem["line"], problem["where"]) == (str(path), 8, "tanks[0].capacity_gal")
    assert problem["code"] == "less_than_equal"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "must hold a mapping"),
        (b"[1, 2]", "must hold a mapping"),
        (b"id: [", "not sound YAML"),
        (b"id: a\nid: b\n", "'id' is there twice"),
        (b"\xff\xfe\x00", "is not UTF-8 text. Save it as UTF-8."),
        (b"\x00\x01\x02", "not sound YAML"),
        (b"#" * 2_000_001, "is larger than 2,000,000 bytes."),
        (b"[" * 100_000, "not sound YAML"),
        (b"id: !!python/object/apply:os.system ['touch pwned']\n", "not sound YAML"),
    ],
    ids=["empty", "list", "broken", "twice", "not UTF-8", "binary", "too big", "deep", "python"],
)
def test_a_file_that_is_no_profile_is_named(run: Run, tmp_path: Path, body: bytes, said: str):
    """Exit code 2, the file, what is wrong; never a traceback."""
    path = tmp_path / "coach.yaml"
    path.write_bytes(body)
    result = run("coach", "check", str(path))

    assert result.exit_code == 2
    assert str(path) in result.stderr
    assert said in result.stderr
    assert loose_controls(result.output) == set()


def test_a_folder_or_a_missing_file_is_named(run: Run, tmp_path: Path):
    """With the next action."""
    assert "is a folder. Name a file in it." in run("coach", "check", str(tmp_path)).stderr
    assert "does not exist. Check the name" in run("coach", "check", str(tmp_path / "none.yaml")).stderr


def test_a_profile_that_may_not_be_read_is_named(
    run: Run, open_folder: Path, as_nobody: Callable[[], Any], coach_text: str
):
    """Exit code 2."""
    path = open_folder / "coach.yaml"
    path.write_text(coach_text, encoding="utf-8")
    path.chmod(0)
    with as_nobody():
        result = run("coach", "check", str(path))

    assert result.exit_code == 2
    assert "cannot be read (Permission denied). Check its permissions." in result.stderr


# -- new --------------------------------------------------------------------------------------------


def test_an_interview_answered_with_enter_writes_the_bundled_coach(run: Run, tmp_path: Path, coach: Coach):
    """The file is sound and holds the same coach."""
    path = tmp_path / "mine" / "coach.yaml"
    result = run("coach", "new", str(path), text=DEFAULTS)

    assert result.exit_code == 0
    assert f"cabassist coach check {path}" in result.output
    assert run("coach", "check", str(path)).exit_code == 0
    assert yamlfile.validate(yamlfile.load(path), Coach) == coach


def test_an_interview_without_a_file_writes_where_every_command_looks(run: Run):
    """In the data folder; from then on it is the coach in use."""
    result = run("coach", "new", text="grey-heron\nthe Heron\n" + DEFAULTS)

    assert result.exit_code == 0
    assert (Path(os.environ["CABASSIST_DATA"]) / "coach.yaml").is_file()
    assert run("coach", "show").output.startswith("the Heron (")


def test_a_wrong_answer_is_asked_again(run: Run, tmp_path: Path):
    """With what is allowed; a word that is none of the choices, a name with capitals."""
    path = tmp_path / "coach.yaml"
    result = run("coach", "new", str(path), text="Grey Heron\ngrey-heron\nthe Heron\nimperial\nmetric\n" + DEFAULTS)
    made = yamlfile.validate(yamlfile.load(path), Coach)

    assert result.exit_code == 0
    assert "one of: us, metric" in result.output
    assert (made.id, made.name, made.units) == ("grey-heron", "the Heron", "metric")


def asked_until(question: str, run: Run, tmp_path: Path) -> int:
    """How many answers come before a question, when each is Enter."""
    shown = run("coach", "new", str(tmp_path / "count.yaml"), text=DEFAULTS).output
    assert question in shown
    before = shown[: shown.index(question)]
    return before.count("]: ")


@pytest.mark.parametrize(("answer", "inches"), [("14", 14.0), ("14 in", 14.0), ("30 cm", 11.811), ("1 ft", 12.0)])
def test_a_quantity_may_have_its_own_unit(run: Run, tmp_path: Path, answer: str, inches: float):
    """The interview says so; a bare number is in the unit shown (2.54 cm to the inch)."""
    skipped = asked_until("bowl to tank in:", run, tmp_path)
    path = tmp_path / "coach.yaml"
    run("coach", "new", str(path), text="\n" * skipped + answer + DEFAULTS)
    made = yamlfile.validate(yamlfile.load(path), Coach)

    assert made.toilet.bowl_to_tank_in == pytest.approx(inches, abs=0.001)


@pytest.mark.parametrize("answer", ["900", "-1", "5 gal", "a lot", "1/0", "((("])
def test_a_quantity_out_of_range_is_asked_again_with_the_range(run: Run, tmp_path: Path, answer: str):
    """The range and the unit are said with the complaint, and Enter then keeps the value."""
    skipped = asked_until("bowl to tank in:", run, tmp_path)
    path = tmp_path / "coach.yaml"
    result = run("coach", "new", str(path), text="\n" * skipped + answer + DEFAULTS)
    made = yamlfile.validate(yamlfile.load(path), Coach)

    assert "Allowed: 1 to 60 in" in result.output
    assert made.toilet.bowl_to_tank_in == 12


def test_a_file_that_is_there_is_not_written_over(run: Run, written: Callable[..., Path]):
    """Unless `--force` says so; without it nothing is asked."""
    path = written()
    before = path.read_bytes()
    result = run("coach", "new", str(path), text=DEFAULTS)

    assert result.exit_code == 2
    assert "is there already. Name another file, or add --force" in result.stderr
    assert path.read_bytes() == before


def test_force_writes_over_a_file(run: Run, written: Callable[..., Path]):
    """What was wrong before is sound after."""
    path = written("  volts: 12\n", "  volts: 13\n")

    assert run("coach", "new", str(path), "--force", text=DEFAULTS).exit_code == 0
    assert run("coach", "check", str(path)).exit_code == 0


def test_an_interview_that_is_broken_off_writes_nothing(run: Run, tmp_path: Path):
    """The end of the input half way leaves no half file."""
    path = tmp_path / "coach.yaml"
    result = run("coach", "new", str(path), text="grey-heron\n")

    assert result.exit_code == 1
    assert "Aborted" in result.output
    assert not path.exists()


def test_a_place_that_cannot_be_written_is_named(run: Run, open_folder: Path, as_nobody: Callable[[], Any]):
    """After the interview the file's name and the next action are said."""
    open_folder.chmod(0o555)
    with as_nobody():
        result = run("coach", "new", str(open_folder / "coach.yaml"), text=DEFAULTS)

    assert result.exit_code == 2
    assert "cannot be written (Permission denied). Name a file in a folder you may write to." in result.stderr
