"""The direction of imports between the rooms, and what the pure rooms keep out."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import cabassist

PACKAGE = Path(cabassist.__file__).parent
BASE = {"errors"}

ROOMS: dict[str, set[str]] = {
    "errors": set(),
    "files": set(),
    "units": set(),
    "places": set(),
    "coach": {"units"},
    "procedures": {"units", "coach"},
    "language": {"units", "coach", "procedures"},
    "estimate": {"units"},
    "journal": set(),
    "record": {"units", "coach", "procedures", "language", "estimate", "journal"},
    "sums": {"units", "coach", "procedures", "language", "estimate"},
    "dialogue": {"units", "coach", "procedures", "language", "estimate", "journal", "record", "places", "sums"},
}
"""What each room may import, besides itself and the errors; the command line may import everything."""

FRONT = {"cli", "__main__", "__init__", "voice", "screen", "review"}
"""Rooms at the rim; nothing below may import them."""

HEAVY = ["sqlite3", "textual", "sounddevice", "prompt_toolkit", "click", "platformdirs"]
"""What the pure rooms never load: files of record, screens, sound and the command line."""


def modules() -> Iterator[tuple[str, Path]]:
    """Every module of the package with the room it stands in."""
    for path in sorted(PACKAGE.rglob("*.py")):
        first = path.relative_to(PACKAGE).parts[0]
        yield first.removesuffix(".py"), path


@cache
def parsed(path: Path) -> list[ast.AST]:
    """Every node of a module."""
    return list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))


@cache
def imported_rooms(path: Path) -> set[str]:
    """The rooms that a module imports, also inside functions and for types only."""
    found: set[str] = set()
    for node in parsed(path):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full, so that the direction can be read"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("cabassist.")}
    return found - {"__version__"}


def test_every_room_is_known():
    """A new room gets its row in the table above before it gets code."""
    assert {room for room, _ in modules()} <= ROOMS.keys() | FRONT


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_a_room_imports_only_the_rooms_below_it(room: str):
    """A lower room never knows a higher one."""
    allowed = ROOMS[room] | {room} | BASE
    wrong = [
        f"{path.relative_to(PACKAGE)} imports {sorted(imported_rooms(path) - allowed)}"
        for name, path in modules()
        if name == room and imported_rooms(path) - allowed
    ]

    assert wrong == []


@pytest.mark.parametrize(
    "room",
    ["units", "coach", "procedures", "language", "estimate"],
)
def test_a_pure_room_loads_no_database_screen_or_sound(room: str):
    """Every module of a pure room can be imported in a fresh interpreter without any of them."""
    names = [
        ".".join(["cabassist", *path.relative_to(PACKAGE).with_suffix("").parts]).removesuffix(".__init__")
        for name, path in modules()
        if name == room
    ]
    code = f"import sys, {', '.join(names)}; print([name for name in {HEAVY} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.stderr == ""
    assert done.stdout.strip() == "[]"


def test_a_turn_loads_what_reckons_only_when_it_reckons():
    """A question without an amount is answered before any of it: a cold start has no time for that."""
    late = ("sums.working", "sums.families", "language.calculation_inputs", "language.wanted", "language.readings")
    code = f"import sys, cabassist.dialogue.turn; print([n for n in {late} if f'cabassist.{{n}}' in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.stderr == ""
    assert done.stdout.strip() == "[]"


def test_only_one_module_makes_a_unit_registry():
    """Quantities of two registries cannot be added."""
    makers = [path.name for _, path in modules() if "UnitRegistry(" in path.read_text(encoding="utf-8")]

    assert makers == ["units.py"]


def test_the_clock_is_read_at_the_rim_only():
    """Calculations, language and the reducer get the time as an argument."""
    readers = [
        str(path.relative_to(PACKAGE))
        for room, path in modules()
        if room not in FRONT
        for node in parsed(path)
        if isinstance(node, ast.Attribute) and node.attr in ("now", "today", "utcnow", "time", "monotonic")
        if isinstance(node.value, ast.Name) and node.value.id in ("datetime", "date", "time")
    ]

    assert readers == []
