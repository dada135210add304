"""The wheel holds everything that an installation needs: the package, its types, and the knowledge."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import zipfile
from email import message_from_string
from pathlib import Path

import pytest

import cabassist

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout with the build backend at hand, else with one that pip fetches."""
    folder = tmp_path_factory.mktemp("wheel")
    at_hand = ["--no-build-isolation"] if importlib.util.find_spec("hatchling") else []
    done = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", *at_hand, "--wheel-dir", str(folder), str(ROOT)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    (made,) = folder.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel's content in a folder of its own, far from the checkout."""
    folder = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as opened:
        opened.extractall(folder)
    return folder


def files_under(folder: Path) -> set[str]:
    """The files in a folder, without what Python leaves behind."""
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_the_whole_knowledge_is_inside(wheel: Path):
    """Each file of the knowledge, byte for byte."""
    with zipfile.ZipFile(wheel) as opened:
        inside = {name: opened.read(name) for name in opened.namelist() if name.startswith("cabassist/knowledge/")}

    assert {name.removeprefix("cabassist/knowledge/") for name in inside} == files_under(ROOT / "knowledge")
    for name in ("coaches/demo.yaml", "style.yaml", "steering.yaml", "waste/dump-waste-tank.yaml"):
        assert inside[f"cabassist/knowledge/{name}"] == (ROOT / "knowledge" / name).read_bytes()


def test_the_whole_package_is_inside(wheel: Path):
    """Each module, and the mark that it has types; nothing of the tests."""
    with zipfile.ZipFile(wheel) as opened:
        names = opened.namelist()
    package = {name.removeprefix("cabassist/") for name in names if name.startswith("cabassist/")}

    assert {name for name in package if not name.startswith("knowledge/")} == files_under(ROOT / "cabassist")
    assert "py.typed" in package
    assert {name.split("/")[0] for name in names} == {"cabassist", f"cabassist-{cabassist.__version__}.dist-info"}


def test_the_wheel_says_what_it_is(wheel: Path):
    """Name, version, the Python it needs, its README and its command."""
    with zipfile.ZipFile(wheel) as opened:
        folder = f"cabassist-{cabassist.__version__}.dist-info"
        about = message_from_string(opened.read(f"{folder}/METADATA").decode())
        commands = opened.read(f"{folder}/entry_points.txt").decode()

    assert (about["Name"], about["Version"]) == ("cabassist", cabassist.__version__)
    assert about["Requires-Python"] == ">=3.11"
    assert "cabassist" in about.get_payload()
    assert "cabassist = cabassist.cli:main" in commands


def test_an_installation_needs_no_checkout(installed: Path, tmp_path: Path):
    """From the wheel's content alone, in another folder, the knowledge is found and a procedure is printed."""
    env = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "CABASSIST_KNOWLEDGE")}
    done = subprocess.run(
        [sys.executable, "-m", "cabassist", "show", "dump-waste-tank"],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
        env={**env, "PYTHONPATH": str(installed), "CABASSIST_CACHE": str(tmp_path / "cache")},
    )
    where = subprocess.run(
        [sys.executable, "-c", "from cabassist import places; print(places.knowledge_folder())"],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
        env={**env, "PYTHONPATH": str(installed)},
    )

    assert done.stderr == ""
    assert done.stdout.startswith("DUMP THE WASTE TANK\n")
    assert where.stdout.strip() == str(installed / "cabassist" / "knowledge")


def test_the_data_can_be_opened_as_package_resources(installed: Path, tmp_path: Path):
    """Also through the standard library's own reader of package data."""
    code = (
        "from importlib.resources import files;"
        "print(files('cabassist').joinpath('knowledge', 'coaches', 'demo.yaml').read_text(encoding='utf-8')[:10])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(installed)},
    )

    assert done.stdout == "# The demo\n"
