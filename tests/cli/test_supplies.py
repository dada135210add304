"""`cabassist reading`, `readings`, `outlook`, and the plots they print."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from cabassist.cli import supplies
from cabassist.cli.plots import BLOCKS, PLAIN, blocks_shown, line_of, plot

from .conftest import ODD_TEXTS, Run, json_of, loose_controls

MORNING = datetime.fromisoformat("2026-01-15T08:00:00-06:00")


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch):
    """A clock that the test sets, in hours after eight in the morning."""

    def at(hours: float) -> None:
        monkeypatch.setattr(supplies, "now", lambda: MORNING + timedelta(hours=hours))

    at(0)
    return at


@pytest.fixture
def told(run: Run, clock):
    """Some readings of a day, on record."""
    for hours, text in enumerate(
        [
            "fresh at three quarters, waste at a fifth",
            "outside bottle half, inside full, minus five out",
            "waste at forty percent",
        ]
    ):
        clock(hours)
        assert run("reading", text).exit_code == 0
    clock(3)


def test_a_reading_is_recorded_and_answered(run: Run, clock):
    """What it means, how long it lasts; and the next command knows it."""
    result = run("reading", "waste", "at", "forty", "percent")

    assert result.exit_code == 0
    assert result.output.splitlines()[0] == "Waste 40 %, about 32 gallons."
    assert "dump by" in result.output
    assert "Waste 40 %, about 32 gallons. Told just now." in run("readings").output


def test_what_is_no_reading_is_not_recorded(run: Run, clock):
    """An example says how; nothing is written."""
    result = run("reading", "how", "do", "I", "dump")

    assert result.exit_code == 1
    assert result.output.startswith("I found no reading in that.")
    assert run("readings").exit_code == 1


def test_an_impossible_reading_is_refused(run: Run, clock):
    """With the likely slip."""
    result = run("reading", "waste", "140", "percent")

    assert result.exit_code == 1
    assert "can't be" in result.output
    assert run("readings").exit_code == 1


def test_a_reading_that_does_not_fit_is_questioned_across_commands(run: Run, clock, told):
    """Each command is a conversation of its own, but knows the earlier ones."""
    assert "Was it filled?" in run("reading", "fresh at ninety percent").output


def test_readings_are_listed_with_age_and_history(run: Run, told):
    """One line each; the history of what was read twice."""
    lines = run("readings", "--ascii").output.splitlines()

    assert "Fresh water three quarters, about 90 gallons. Told 3 hours ago." in lines
    waste = next(line for line in lines if line.startswith("Waste 40 %"))
    assert waste.endswith("2 readings")
    assert "Told 60 minutes ago." in waste


def test_one_reading_is_listed_and_plotted_in_full(run: Run, told):
    """Every value with its time, then rows with a scale."""
    output = run("readings", "waste", "--ascii").output

    assert output.count("Waste a fifth") == 1
    assert "100 % |" in output
    assert "0 % +---" in output
    assert output.isascii()


def test_readings_as_json(run: Run, told):
    """The latest, its age, its level, and the history."""
    rows = json_of(run("readings", "waste", "--json").stdout)

    assert len(rows) == 1
    assert (rows[0]["what"], rows[0]["value"], rows[0]["unit"], rows[0]["age_h"]) == ("waste", 40.0, "percent", 1.0)
    assert rows[0]["level"] == 0.4
    assert [level for _, level in rows[0]["history"]] == [20.0, 40.0]


def test_the_board_is_printed(run: Run, told):
    """The first thing to do on top, what was not read at the bottom."""
    output = run("outlook").output

    assert output.startswith("First: Waste, dump by ")
    assert "about 41 %, 33 gallons now" in output or "now; read 40 %" in output
    assert "then the inside cylinder feeds" in output
    assert "Not read yet: house battery, diesel, def fluid." in output
    assert "to go:" not in output


def test_the_board_gives_its_working(run: Run, told):
    """With --why each number comes with its sum, its assumptions and its source."""
    output = run("outlook", "waste", "--why").output

    for words in (
        "to go: 72 - ",
        "early end, in ",
        "act by: ",
        "assumed: ",
        "source: Kalman filter",
        "forecast of Thu",
    ):
        assert words in output
    assert "Fresh water" not in output


def test_the_board_as_json(run: Run, told):
    """Every supply, known or not, in the same shape."""
    body = json_of(run("outlook", "--json").stdout)
    by_name = {line["name"]: line for line in body["lines"]}

    assert list(by_name) == [
        "Fresh water",
        "Waste",
        "Outside cylinder",
        "Inside cylinder",
        "House battery",
        "Diesel",
        "DEF fluid",
    ]
    waste = by_name["Waste"]
    assert waste["left_low_h"] < waste["left_h"] < waste["left_high_h"]
    assert waste["act_by"] > body["at"]
    assert waste["why"]
    assert by_name["Diesel"]["level"] is None
    assert len({frozenset(line) for line in body["lines"]}) == 1


@pytest.mark.parametrize("command", ["readings", "outlook"])
def test_with_nothing_on_record_it_says_how_to_begin(run: Run, command: str):
    """Exit code 1, and an example."""
    result = run(command)

    assert result.exit_code == 1
    assert "cabassist reading" in result.output


@pytest.mark.parametrize("name", ODD_TEXTS)
def test_odd_readings_do_no_harm(run: Run, clock, name: str):
    """Whatever comes in, one clear answer and nothing that steers the terminal."""
    result = run("reading", "--", ODD_TEXTS[name])

    assert result.exit_code in (0, 1)
    assert loose_controls(result.output) == set()


# -- plots --------------------------------------------------------------------------------------------------------


def test_a_line_rises_and_falls_with_its_values():
    """Lowest mark for empty, highest for full; plain marks where blocks cannot be trusted."""
    points = [(MORNING + timedelta(hours=h), level) for h, level in enumerate([0, 100, 0])]
    drawn = line_of(points, plain=False, low=0, high=100)

    assert {drawn[0], drawn[-1]} == {BLOCKS[0]}
    assert BLOCKS[-1] in drawn
    assert line_of(points, plain=True, low=0, high=100).translate(str.maketrans(PLAIN, BLOCKS)) == drawn


def test_plots_of_one_value_and_of_one_moment():
    """No division by nothing."""
    point = (MORNING, 20.0)

    assert len(line_of([point], plain=False)) == 1
    assert len(plot([point, point], plain=True)) == 10


@pytest.mark.parametrize(
    ("names", "shown"),
    [
        ({"LANG": "en_US.UTF-8", "TERM": "xterm"}, True),
        ({"LANG": "C", "TERM": "xterm"}, False),
        ({"LANG": "C", "LC_ALL": "C.UTF-8", "TERM": "xterm"}, True),
        ({"LANG": "en_US.UTF-8", "TERM": "dumb"}, False),
        ({"LANG": "en_US.UTF-8", "TERM": "xterm", "CABASSIST_ASCII": "1"}, False),
    ],
)
def test_blocks_only_where_they_can_be_shown(monkeypatch: pytest.MonkeyPatch, names: dict[str, str], shown: bool):
    """By the locale and the kind of terminal."""
    monkeypatch.setattr("sys.platform", "linux")
    for name in ("LANG", "LC_ALL", "LC_CTYPE", "TERM", "CABASSIST_ASCII"):
        monkeypatch.delenv(name, raising=False)
    for name, value in names.items():
        monkeypatch.setenv(name, value)

    assert blocks_shown() is shown
