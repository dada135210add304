"""Patterns whose compiled form is kept: they must find what freshly compiled ones find, whatever befell the file."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import numpy as np
import pytest

import cabassist
from cabassist.language import kept_patterns
from cabassist.language.kept_patterns import KeptPatterns

TEXT = "OK then, remind me at 6:40 to dump; the waste tank's at two thirds, I'd say"
PATTERNS = [
    (r"(?P<hour>\d{1,2}):(?P<minute>\d\d)", 0),
    (r"(?<=the )(\w+) tank(?:'s)?(?! full)", 0),
    (r"^(?:ok|then|,| )+", re.IGNORECASE),
    (r"\b(two|one) (?:thirds?|third)\b|\bempty\b", 0),
    (r"[^a-z ,;:']", re.IGNORECASE),
]


def kept(folder: Path) -> KeptPatterns:
    """What a second process finds in a folder after a first one has compiled and put down the patterns."""
    first = KeptPatterns(folder)
    for pattern, flags in PATTERNS:
        first.compiled(pattern, int(flags))
    first.write()
    return KeptPatterns(folder)


def file_in(folder: Path) -> Path:
    """The one file of kept patterns."""
    [path] = folder.glob("patterns-*.npz")
    return path


@pytest.mark.parametrize(("pattern", "flags"), PATTERNS)
def test_a_kept_pattern_finds_what_a_fresh_one_finds(
    pattern: str, flags: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """Spans, groups, names and flags are the same, and nothing is compiled again."""
    second = kept(tmp_path)
    monkeypatch.setattr(kept_patterns, "_taken_apart", lambda *_: pytest.fail("compiled again"))

    made, fresh = second.compiled(pattern, int(flags)), re.compile(pattern, flags)

    assert [(m.span(), m.groups(), m.groupdict(), m.lastgroup) for m in made.finditer(TEXT)] == [
        (m.span(), m.groups(), m.groupdict(), m.lastgroup) for m in fresh.finditer(TEXT)
    ]
    assert any(True for _ in fresh.finditer(TEXT))
    assert (made.pattern, made.flags, made.groups, made.groupindex) == (
        fresh.pattern, fresh.flags, fresh.groups, fresh.groupindex
    )  # fmt: skip


def test_every_pattern_of_the_program_can_be_kept(tmp_path: Path):
    """Each literal pattern handed to Lazy comes back equal to what `re` makes of it."""
    found = {
        node.args[0].value
        for path in Path(cabassist.__file__).parent.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Lazy" and node.args
        and isinstance(node.args[0], ast.Constant)
    }  # fmt: skip
    assert len(found) > 100
    first = KeptPatterns(tmp_path)
    for pattern in found:
        first.compiled(pattern, 0)
    first.write()
    second = KeptPatterns(tmp_path)

    assert [pattern for pattern in found if second.compiled(pattern, 0) != re.compile(pattern)] == []


@pytest.mark.parametrize("damage", ["gone", "cut off", "no archive", "one byte", "rows of another shape"])
def test_a_damaged_file_only_costs_time(damage: str, tmp_path: Path):
    """Whatever the file holds, the patterns find the same."""
    kept(tmp_path)
    path = file_in(tmp_path)
    body = path.read_bytes()
    if damage == "gone":
        path.unlink()
    elif damage == "cut off":
        path.write_bytes(body[: len(body) // 2])
    elif damage == "no archive":
        path.write_bytes(b"nothing")
    elif damage == "one byte":
        path.write_bytes(body[:600] + bytes([body[600] ^ 4]) + body[601:])
    else:
        np.savez(path, rows=np.array(b'[{"pattern": "x", "asked": 0, "from": 0}]'), code=np.zeros(3, np.uint32))

    second = KeptPatterns(tmp_path)

    assert [bool(second.compiled(pattern, int(flags)).search(TEXT)) for pattern, flags in PATTERNS] == [True] * 5
    assert second.compiled("x", 0).search("a box")


def test_numbers_that_are_no_program_are_compiled_anew(tmp_path: Path):
    """The search machine itself refuses numbers that make no sense."""
    kept(tmp_path)
    path = file_in(tmp_path)
    with np.load(path) as stored:
        rows, code = stored["rows"], stored["code"]
    np.savez(path, rows=rows, code=np.full_like(code, 4_000_000_000))

    assert KeptPatterns(tmp_path).compiled(*PATTERNS[1]).search(TEXT)


def test_a_python_that_compiles_in_another_way_compiles_as_usual(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Nothing is kept then, and nothing breaks."""

    def missing(*_: object) -> None:
        raise AttributeError("no such way")

    monkeypatch.setattr(kept_patterns, "_taken_apart", missing)
    store = KeptPatterns(tmp_path)

    assert store.compiled(r"tank", 0).search(TEXT)
    store.write()
    assert not list(tmp_path.iterdir())


def test_a_wrong_pattern_is_told(tmp_path: Path):
    """As re.compile does."""
    with pytest.raises(re.error):
        KeptPatterns(tmp_path).compiled("(tank", 0)


def test_a_read_only_folder_is_no_reason_to_fail(tmp_path: Path):
    """The cache is a convenience."""
    store = KeptPatterns(tmp_path / "file" / "below")
    (tmp_path / "file").write_text("not a folder")
    store.compiled("tank", 0)

    store.write()


def test_no_more_than_so_many_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The file is bounded."""
    monkeypatch.setattr(kept_patterns, "MOST", 3)
    kept(tmp_path)
    size = file_in(tmp_path).stat().st_size

    again = KeptPatterns(tmp_path)
    again.compiled("one more", 0)
    again.write()

    assert file_in(tmp_path).stat().st_size == size
