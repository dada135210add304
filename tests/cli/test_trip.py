"""`cabassist trip new|check|show`."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
import yaml

from cabassist.cli import trip

from .conftest import Run, json_of

NOW = datetime.fromisoformat("2026-01-15T07:10:00-06:00")
FILE = """\
name: to the cup
start: 2026-01-15T08:00:00-06:00
end: 2026-01-17T08:00:00-06:00
aboard: 14
weather:
  daily:
    - {date: 2026-01-15, low_f: -12 C, high_f: 20}
    - {date: 2026-01-16, low_f: 5, high_f: 15}
    - {date: 2026-01-17, low_f: 0, high_f: 12}
stops:
  - name: rink
    arrive: 2026-01-15T14:00:00-06:00
    leave: 2026-01-15T20:00:00-06:00
    aboard: 2
    services: [dump, water, propane]
    miles: 120
levels: {fresh: 0.9, waste: 0.3, propane: 0.9, diesel: 0.8}
"""


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trip, "now", lambda: NOW)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "trip.yaml"
    path.write_text(FILE, encoding="utf-8")
    return path


def test_a_sound_trip_is_called_sound(run: Run, file: Path):
    """With its length and its stops."""
    result = run("trip", "check", str(file))

    assert result.exit_code == 0
    assert "sound. to the cup: 48 hours, 1 stops." in result.output


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ("aboard: 14", "aboard: many", ":4: aboard:"),
        ("high_f: 20", "high_f: -40", "the low is above the high"),
        ("high_f: 20", "high_f: hot", "cannot be read"),
        ("services: [dump", "services: [laundry", ":15:"),
        ("leave: 2026-01-15T20", "leave: 2026-01-15T10", "leaves before it arrives"),
        ("    - {date: 2026-01-17, low_f: 0, high_f: 12}\n", "", "Add that day to the forecast"),
        ("name: to the cup", "name: [", "YAML"),
    ],
)
def test_a_faulty_trip_is_told_with_its_place(run: Run, file: Path, old: str, new: str, complaint: str):
    """What is wrong and where; exit code 2."""
    assert old in FILE
    file.write_text(FILE.replace(old, new, 1), encoding="utf-8")
    result = run("trip", "check", str(file))

    assert result.exit_code == 2
    assert complaint in result.output
    assert "Traceback" not in result.output


def test_a_trip_that_is_not_there(run: Run, tmp_path: Path):
    """How to make one."""
    result = run("trip", "show", str(tmp_path / "none.yaml"))

    assert result.exit_code == 2
    assert "cabassist trip new" in result.output


def test_a_trip_is_followed_to_its_end(run: Run, file: Path):
    """The first shortfall with its chance, each supply at the end, the fewest stops; each day by its name."""
    result = run("trip", "show", str(file))

    assert result.exit_code == 0
    for words in (
        "First, waste is at 90 %: chance",
        "propane at the end:",
        "Fewest service stops",
        "rink, 14:00 on Thursday: ",
    ):
        assert words in result.output
    assert "tomorrow" not in result.output


def test_the_same_trip_gives_the_same_answer_and_its_working(run: Run, file: Path):
    """Seeded; with --why where the levels come from."""
    first, second = (json_of(run("trip", "show", str(file), "--json").stdout) for _ in range(2))

    assert first == second
    assert first["service_stops"]["value"] == 1
    assert "fresh: 90 % from the trip file, rate before any reading" in run("trip", "show", str(file), "--why").output


def test_levels_that_the_file_leaves_out_come_from_the_readings(run: Run, file: Path, monkeypatch: pytest.MonkeyPatch):
    """And what nobody knows is said to be unknown."""
    from cabassist.cli import supplies

    monkeypatch.setattr(supplies, "now", lambda: NOW)
    run("reading", "waste at twenty percent")
    file.write_text(FILE.replace("waste: 0.3, ", "").replace(", diesel: 0.8", ""), encoding="utf-8")
    origins = json_of(run("trip", "show", str(file), "--json").stdout)["origins"]

    assert "waste: 20 % as read, rate before any reading" in origins
    assert any(origin.startswith("diesel: level unknown") for origin in origins)


def test_a_trip_under_way_counts_from_now(run: Run, file: Path, monkeypatch: pytest.MonkeyPatch):
    """36 hours in, twelve are left; after its end nothing is."""
    monkeypatch.setattr(trip, "now", lambda: datetime.fromisoformat("2026-01-16T20:30:00-06:00"))
    assert json_of(run("trip", "show", str(file), "--json").stdout)["hours"] == 12

    monkeypatch.setattr(trip, "now", lambda: datetime.fromisoformat("2026-01-18T08:00:00-06:00"))
    result = run("trip", "show", str(file))
    assert result.exit_code == 2
    assert "This trip is over" in result.output


def test_the_interview_writes_a_trip_that_can_be_shown(run: Run, tmp_path: Path):
    """Wrong answers are asked again; Enter keeps what is offered."""
    path = tmp_path / "new.yaml"
    answers = ["cup trip", "soon", "2026-01-15 08:00", "2026-01-16 20:00", "26", "5", "-12 C", "warm", "0", "15",
        "rink", "2026-01-15 14:00", "2026-01-15 20:00", "3", "water shop", "water, dump", "water", "220", ""]  # fmt: skip
    result = run("trip", "new", str(path), text="\n".join(answers) + "\n")
    written = yaml.safe_load(path.read_text(encoding="utf-8"))

    assert result.exit_code == 0
    assert "That is no time." in result.output
    assert "That is no temperature." in result.output
    assert "Not known: shop." in result.output
    assert written["weather"]["daily"][0] == {"date": "2026-01-15", "low_f": 5.0, "high_f": "-12 C"}
    assert written["stops"][0]["services"] == ["water", "dump"]
    assert run("trip", "check", str(path)).exit_code == 0


def test_a_trip_file_is_not_written_over(run: Run, file: Path):
    """Unless that is asked for."""
    assert run("trip", "new", str(file)).exit_code == 2
    assert run("trip", "new", str(file), "--blank", "--force").exit_code == 0
    assert run("trip", "check", str(file)).exit_code == 0
