"""The record on the command line."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from icalendar import Calendar

from cabassist.cli.shared import ANSWERED, MISUSE
from tests.cli.conftest import ODD_TEXTS, Run, json_of, loose_controls


def test_a_defect_from_the_report_to_the_signature(run: Run, tmp_path: Path):
    """Each step by whom; signing off before the repair is refused with what to do."""
    photo = tmp_path / "lamp.jpg"
    photo.write_bytes(b"")
    assert "On record: defect 1" in run("defects", "add", "tail light out on the left", "--photo", str(photo)).output
    early = run("defects", "sign-off", "1")
    assert (early.exit_code, "is repaired" in early.output) == (MISUSE, True)
    run("--actor", "Bob", "defects", "acknowledge", "1")
    run("--actor", "Carl", "defects", "repaired", "1", "--note", "new bulb")
    run("--actor", "Ann", "defects", "sign-off", "1")
    shown = json_of(run("defects", "show", "1", "--json").output)

    assert [(s["state"], s["by"]) for s in shown["stages"]] == [
        ("reported", "driver"), ("acknowledged", "Bob"), ("repaired", "Carl"), ("checked", "Ann"),
    ]  # fmt: skip
    assert shown["photos"] == [str(photo.resolve())]
    assert json_of(run("defects", "--json").output) == []
    assert len(json_of(run("defects", "list", "--all", "--json").output)) == 1


def test_a_fault_that_stops_the_coach_is_a_warning(run: Run):
    run("defects", "add", "scratch on the left")
    run("defects", "add", "horn does not sound")
    first = run("defects").output.splitlines()[0]

    assert first.startswith("WARNING: 2, horn")


@pytest.mark.parametrize(
    "args",
    [
        ("defects", "show", "7"),
        ("defects", "sign-off", "0"),
        ("defects", "repaired", "-3"),
        ("defects", "add", " "),
        ("defects", "add", "x", "--photo", "/no/such.jpg"),
        ("defects", "photo", "1", "/etc"),
        ("upkeep", "done", "lubricate-latch"),
        ("upkeep", "done", "lubricate-latches", "--on", "2999-01-01"),
        ("upkeep", "--csv", "/no/such/folder/x.csv"),
        ("rounds", "show", "3"),
        ("handover", "--html", "/no/such/folder/x.html"),
    ],
)
def test_misuse_is_one_clear_line(args: tuple[str, ...], run: Run):
    """No traceback, nothing written, exit code 2."""
    found = run(*args)

    assert found.exit_code == MISUSE
    assert found.output.strip()
    assert "Traceback" not in found.output
    assert json_of(run("defects", "list", "--all", "--json").output) == []


@pytest.mark.parametrize("text", ODD_TEXTS.values(), ids=ODD_TEXTS.keys())
def test_odd_reports_do_no_harm(text: str, run: Run):
    """Whatever it is, it is kept or refused, and no control character reaches the terminal."""
    found = run("defects", "add", "--", text)
    listed = run("defects", color=True)

    assert found.exit_code in (ANSWERED, MISUSE)
    assert listed.exit_code == ANSWERED
    assert loose_controls(listed.output) == set()


def test_upkeep_is_listed_done_and_exported(run: Run, tmp_path: Path):
    assert "No record" not in run("upkeep", "done", "test-co-alarm").output
    rows = {row["id"]: row for row in json_of(run("upkeep", "--json").output)}
    assert rows["test-co-alarm"]["state"] == "not due"
    assert rows["test-heat-tape"]["state"] == "no record"

    table = list(csv.DictReader(io.StringIO(run("upkeep", "--csv", "-").output)))
    assert {row["id"] for row in table} == set(rows)
    calendar = tmp_path / "upkeep.ics"
    run("upkeep", "--ics", str(calendar))
    found = Calendar.from_ical(calendar.read_bytes())
    assert len(found.walk("VEVENT")) + len(found.walk("VTODO")) == len(rows)


def test_the_odometer_said_in_a_conversation_counts(run: Run):
    """Said in one command, used by the next."""
    run("ask", "odometer 123400")
    run("upkeep", "done", "clean-generator-screen")
    rows = {row["id"]: row for row in json_of(run("upkeep", "--json").output)}

    assert rows["clean-generator-screen"]["left_miles"] == pytest.approx(3000)


def test_duty_status_is_shown_by_driver(run: Run):
    assert "No duty status" in run("duty").output
    run("--actor", "Ann", "ask", "on duty")
    run("--actor", "Bob", "ask", "off duty")
    body = json_of(run("duty", "--json").output)

    assert {row["driver"]: row["changes"][-1]["status"] for row in body} == {"Ann": "on duty", "Bob": "off duty"}
    assert "not a logging device" in run("duty").output


def test_a_round_is_listed_and_printed(run: Run, tmp_path: Path):
    run(
        "--no-demo",
        "--plain",
        text="last round before we leave\nnext\nskip it because there is no other driver\nstop\n",
    )
    (row,) = json_of(run("rounds", "--json").output)
    assert (row["name"], row["ending"]) == ("departure", "stopped")
    shown = run("rounds", "show", "1").output
    assert "[x]  1." in shown
    assert "no other driver" in shown
    page = tmp_path / "round.html"
    run("rounds", "show", "1", "--html", str(page))

    assert "SKIPPED" in page.read_text(encoding="utf-8")


def test_the_hand_over_on_screen_for_the_ear_and_on_paper(run: Run, tmp_path: Path):
    run("ask", "fresh at sixty percent")
    run("defects", "add", "horn does not sound")
    shown = run("handover").output
    assert "WARNING: The coach stays parked" in shown
    assert "Fresh water: 60" in shown
    said = run("handover", "--spoken").output
    assert "stays parked" in said
    assert len(said.split()) <= 150
    page = tmp_path / "page.html"
    run("handover", "--html", str(page))
    assert "horn does not sound" in page.read_text(encoding="utf-8")
    assert json_of(run("handover", "--json").output)["may_not_move"] == ["defect 1, horn does not sound"]


def test_a_journal_that_cannot_be_opened_is_said(run: Run, tmp_path: Path):
    """A record that is not there must not read as "no open defects"."""
    broken = tmp_path / "journal.sqlite"
    broken.write_bytes(b"not a database at all, but long enough to look at" * 50)
    found = run("--journal", str(broken), "defects")

    assert found.exit_code == MISUSE
    assert "No open defects" not in found.output
