"""Reading YAML with the line of every value, and nothing in it executed or expanded."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel, ConfigDict, Field

from cabassist.errors import ContentProblems, FileProblem, Problem
from cabassist.procedures import yamlfile
from cabassist.procedures.yamlfile import MAX_BYTES, MAX_DEPTH, YamlFile, dotted, parse


def problem_of(text: str) -> Problem:
    """The only problem that parsing a text gives."""
    with pytest.raises(ContentProblems) as caught:
        parse(text, "some.yaml")
    (problem,) = caught.value.problems
    return problem


# -- files ------------------------------------------------------------------------------------------


def test_a_file_is_read_with_the_line_of_every_value(tmp_path: Path):
    """Keys, list items and nested values all know their line."""
    path = tmp_path / "a.yaml"
    path.write_text("# head\nid: x\nsteps:\n  - do: one\n  - do: two\n    why: >-\n      because\n", encoding="utf-8")
    file = yamlfile.load(path)

    assert file.data == {"id": "x", "steps": [{"do": "one"}, {"do": "two", "why": "because"}]}
    assert file.line(("id",)) == 2
    assert file.line(("steps", 1)) == 5
    assert file.line(("steps", 1, "why")) == 6
    assert file.name == str(path)


def test_a_file_may_be_shown_under_another_name(tmp_path: Path):
    """Messages name the file as the trainer knows it, not where it is installed."""
    path = tmp_path / "a.yaml"
    path.write_text("a: [", encoding="utf-8")
    with pytest.raises(ContentProblems, match=r"^knowledge/water/a\.yaml:"):
        yamlfile.load(path, "knowledge/water/a.yaml")


def test_a_missing_file_is_named(tmp_path: Path):
    """The message names the file and the next action."""
    with pytest.raises(FileProblem, match=r"none\.yaml: does not exist\. Check the name"):
        yamlfile.load(tmp_path / "none.yaml")


def test_a_folder_is_not_a_file(tmp_path: Path):
    """The message says that it is a folder."""
    with pytest.raises(FileProblem, match=r"is a folder\. Name a file in it\."):
        yamlfile.load(tmp_path)


@pytest.mark.parametrize("body", [bytes(range(256)), b"\xff\xfe\x00a", b"id: caf\xe9\n"])
def test_a_binary_file_is_not_text(tmp_path: Path, body: bytes):
    """Bytes that are not UTF-8 are refused before anything is parsed."""
    path = tmp_path / "a.yaml"
    path.write_bytes(body)
    with pytest.raises(FileProblem, match=r"a\.yaml: is not UTF-8 text\. Save it as UTF-8\."):
        yamlfile.load(path)


def test_a_file_that_is_too_big_is_not_read(tmp_path: Path):
    """At the limit it is read; one byte more and it is refused by its size alone."""
    path = tmp_path / "big.yaml"
    path.write_text("#" * (MAX_BYTES - 1) + "\n", encoding="utf-8")
    at_the_limit = yamlfile.load(path).data
    path.write_text("#" * MAX_BYTES + "\n", encoding="utf-8")
    with pytest.raises(FileProblem, match=r"larger than 2,000,000 bytes\. Split it"):
        yamlfile.load(path)

    assert at_the_limit is None


def test_a_file_that_may_not_be_read_is_named(open_folder: Path, as_nobody: Callable[[], Any]):
    """The message says why and what to do."""
    path = open_folder / "a.yaml"
    path.write_text("id: x\n", encoding="utf-8")
    path.chmod(0)
    with as_nobody(), pytest.raises(FileProblem, match=r"cannot be read \(Permission denied\)\. Check its perm"):
        yamlfile.load(path)


def test_a_path_with_a_null_character_does_not_exist():
    """A name that no file can have is an ordinary error."""
    with pytest.raises((FileProblem, ValueError), match=r"null|does not exist"):
        yamlfile.load(Path("a\0b"))


def test_windows_line_ends_and_other_languages_are_fine(tmp_path: Path):
    """A profile saved by another editor is read all the same, with the right lines."""
    path = tmp_path / "a.yaml"
    path.write_bytes("id: x\r\nname: Łoś 🚌\r\n".encode())
    file = yamlfile.load(path)

    assert file.data == {"id": "x", "name": "Łoś 🚌"}
    assert file.line(("name",)) == 2


def test_a_byte_order_mark_is_fine(tmp_path: Path):
    """Some editors put one before the first letter."""
    path = tmp_path / "a.yaml"
    path.write_bytes("\ufeffid: x\n".encode())

    assert yamlfile.load(path).data == {"id": "x"}


# -- what is not sound ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("id: x\nname: a: b\n", 2, "mapping values are not allowed"),
        ("id: x\n\tname: y\n", 2, "not sound YAML: found"),
        ("id: 'x\n", 2, "unexpected end of stream"),
        ("id: x\n---\nid: y\n", 2, "another document"),
        ("id: x\nid: y\n", 2, "'id' is there twice"),
        ("a:\n  - {b: 1, c: 2, b: 3}\n", 2, "'b' is there twice"),
        ("a: &x 1\na: 2\n", 2, "'a' is there twice"),
        ("id: !!python/object/apply:os.system ['true']\n", 1, "could not determine a constructor"),
        ("id: x\nrun: !!python/name:os.system\n", 2, "could not determine a constructor"),
    ],
)
def test_broken_yaml_names_its_line(text: str, line: int, said: str):
    """What is wrong and where, in one line."""
    problem = problem_of(text)

    assert problem.line == line
    assert said in problem.message
    assert "\n" not in str(problem)


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x1b", "\x9b", "\ufffe"])
def test_control_characters_are_not_yaml(character: str):
    """A profile cannot smuggle an escape sequence in as it is; the message does not repeat it."""
    problem = problem_of(f"id: a{character}b\n")

    assert "not sound YAML" in problem.message
    assert character not in problem.message


def test_a_problem_is_one_line():
    """A list of problems has one line for each."""
    assert "\n" not in str(problem_of("id: a\x1bb\n"))


@pytest.mark.parametrize("text", ["a: &x 1\nb: *x\n", "a: &x {b: 1}\nc:\n  <<: *x\n", "a: &x [*x]\n"])
def test_aliases_are_refused(text: str):
    """A reference to another value is an error that says so, where it stands or where the value does."""
    problem = problem_of(text)
    anchor, alias = (text[: text.index(sign)].count("\n") + 1 for sign in "&*")

    assert "aliases" in problem.message
    assert problem.line in (anchor, alias)


def test_a_small_file_never_grows(tmp_path: Path):
    """Eleven values that each hold ten times the one before are refused at once ("a billion laughs")."""
    text = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
        f"a{level}: &a{level} [{', '.join([f'*a{level - 1}'] * 10)}]\n" for level in range(1, 5)
    )
    begun = time.perf_counter()
    with pytest.raises(ContentProblems):
        parse(text, "some.yaml")

    assert time.perf_counter() - begun < 0.1


@pytest.mark.parametrize("depth", [MAX_DEPTH + 1, 200])
def test_deep_nesting_is_refused(depth: int):
    """Deeper than any of our files goes, the reader stops and says so."""
    assert f"deeper than {MAX_DEPTH} levels" in problem_of("[" * depth + "]" * depth).message


def test_nesting_as_deep_as_ours_is_read():
    """The limit leaves room for every shape we have."""
    assert parse("[" * (MAX_DEPTH - 1) + "]" * (MAX_DEPTH - 1), "some.yaml").data is not None


@pytest.mark.parametrize("text", ["[" * 100_000, "{a: " * 50_000, "- " * 100_000, "? " * 50_000])
def test_nesting_without_end_is_an_ordinary_problem(text: str):
    """A file of nothing but brackets neither crashes nor hangs."""
    assert "not sound YAML" in problem_of(text).message


@pytest.mark.parametrize(
    "text",
    ["? [1, 2]\n: 3\n", "? {a: 1}\n: 3\n", "a: !!bool maybe\n", "a: !!timestamp soon\n"],
    ids=["list as key", "mapping as key", "bad boolean", "bad time"],
)
def test_odd_yaml_is_an_ordinary_problem(text: str):
    """Whatever YAML allows and we do not, is ContentProblems and nothing else."""
    assert "not sound YAML" in problem_of(text).message


@pytest.mark.parametrize("text", ["id: x\nmade: 2019-13-01\n", "id: x\nsize: !!int big\n"])
def test_a_value_that_cannot_be_made_names_its_line(text: str):
    """A thirteenth month is reported where it stands."""
    assert problem_of(text).line == 2


# -- models -----------------------------------------------------------------------------------------


class Wheel(BaseModel):
    """A small model for these tests."""

    model_config = ConfigDict(extra="forbid")
    torque: float = Field(ge=50, le=800, description="Final torque.", json_schema_extra={"unit": "ft_lb"})


class Axle(BaseModel):
    """A model with parts."""

    model_config = ConfigDict(extra="forbid")
    name: str = Field(min_length=2, description="What it is called.")
    wheels: list[Wheel] = Field(min_length=1, description="Its wheels.")
    spare: Wheel | None = Field(default=None, description="Its spare.")


def problems_of(text: str) -> list[str]:
    """All problems of a text as an axle."""
    with pytest.raises(ContentProblems) as caught:
        yamlfile.validate(parse(text, "axle.yaml"), Axle)
    return [str(problem) for problem in caught.value.problems]


def test_a_sound_file_becomes_its_model():
    """Values come through as they are."""
    made = yamlfile.validate(parse("name: front\nwheels: [{torque: 475}]\n", "axle.yaml"), Axle)

    assert made == Axle(name="front", wheels=[Wheel(torque=475)])


@pytest.mark.parametrize("text", ["", "# nothing\n", "[]", "just words", "42", "null", "2020-01-01"])
def test_a_file_that_is_no_mapping_is_refused(text: str):
    """An empty file and a list are told what a profile is."""
    assert problems_of(text) == ["axle.yaml:1: the file must hold a mapping of keys to values"]


def test_each_problem_has_its_line_place_and_rule():
    """Too small, unknown with a hint, and missing, each where it belongs."""
    found = problems_of("name: x\nwheels:\n  - torque: 1000\n  - torqe: 475\n")

    for problem, begins, said in zip(
        found,
        [
            "axle.yaml:1: name: ",
            "axle.yaml:3: wheels[0].torque: ",
            "axle.yaml:4: wheels[1].torque: 'torque' is missing",
            "axle.yaml:4: wheels[1].torqe: 'torqe' is not known here; did you mean 'torque'?",
        ],
        [
            ["at least 2 characters", "not 'x'", "What it is called."],
            ["less than or equal to 800", "not 1000", "Final torque.", "Unit: ft_lb"],
            ["Final torque.", "Unit: ft_lb"],
            [],
        ],
        strict=True,
    ):
        assert problem.startswith(begins)
        for words in said:
            assert words in problem


def test_an_unknown_key_without_a_near_one_lists_what_is_allowed():
    """The list is that of the part in which the key stands."""
    assert problems_of("name: front\nwheels: [{torque: 475}]\nqq: 1\n") == [
        "axle.yaml:3: qq: 'qq' is not known here; allowed: name, wheels, spare"
    ]
    assert problems_of("name: front\nwheels: [{torque: 475}]\nspare: {torque: 475, qq: 1}\n") == [
        "axle.yaml:3: spare.qq: 'qq' is not known here; allowed: torque"
    ]


@pytest.mark.parametrize("key", ["5", "true", "null", "2020-01-01", "1.5"])
def test_a_key_that_is_no_word_is_refused(key: str):
    """YAML makes numbers and dates of such keys; they are unknown here like any other."""
    (found, *_) = problems_of(f"{key}: x\nname: front\nwheels: [{{torque: 475}}]\n")

    assert found.startswith("axle.yaml:")


# -- places in a file -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "shown"),
    [((), ""), (("id",), "id"), (("steps", 2, "do"), "steps[2].do"), ((3, "asks", 0), "[3].asks[0]")],
)
def test_a_path_is_shown_as_people_write_it(path: yamlfile.Key, shown: str):
    """Keys with dots, indexes in brackets."""
    assert dotted(path) == shown


def test_a_place_without_a_line_has_that_of_its_parent():
    """A missing key is reported where its mapping begins."""
    file = parse("id: x\nsteps:\n  - do: one\n", "some.yaml")

    assert file.line(("steps", 0, "why")) == 3
    assert file.line(("steps", 9)) == 2
    assert file.line(("nothing",)) == 1
    assert YamlFile("some.yaml", None, {}).line(("id",)) == 1


def test_the_lines_under_a_part_can_be_taken_out():
    """An entry of a list is validated alone and still names the lines of the whole file."""
    file = parse("- a: 1\n- b: 2\n  c: 3\n", "some.yaml")

    assert file.under(1) == {(): 2, ("b",): 2, ("c",): 3}


def test_a_problem_is_made_at_its_place():
    """The checker reports with file, line, place, words and a stable code."""
    file = parse("id: x\nthen:\n  - y\n", "some.yaml")

    assert file.problem(("then", 0), "there is no procedure 'y'", "reference") == Problem(
        "some.yaml", 3, "then[0]", "there is no procedure 'y'", "reference"
    )
