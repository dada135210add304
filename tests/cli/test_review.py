"""`cabassist review`: what a trainer does, from the demo sessions to a repair that is accepted."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cabassist import places

from .conftest import Run, json_of, loose_controls

SESSIONS = Path(__file__).parents[2] / "demo_sessions"


def recording(folder: Path, name: str, *texts: str) -> Path:
    """A recorded conversation, one utterance a minute."""
    path = folder / f"{name}.jsonl"
    turns = [
        {"text": text, "now": f"2026-01-15T21:{minute:02}:00-06:00", "actor": "Ann", "answered": {}}
        for minute, text in enumerate(texts)
    ]
    path.write_text("\n".join(map(json.dumps, turns)), encoding="utf-8")
    return path


@pytest.fixture
def played(run: Run, tmp_path: Path) -> None:
    """Two short conversations in the journal."""
    one = recording(tmp_path, "one", "how do I dump the waste tank", "next", "stop", "how do I use the printer")
    two = recording(tmp_path, "two", "where is the printer paper", "next", "it smells of gas")
    done = run("review", "play", str(one), str(two))

    assert done.stdout.splitlines() == ["one: 4 turns", "two: 3 turns"]


def test_sessions_are_listed_and_read(run: Run, played: None):
    """The newest first; one as a conversation, and as JSON."""
    rows = json_of(run("review", "list", "--json").stdout)
    text = run("review", "show", "one").stdout

    assert [row["session"] for row in rows] == ["two", "one"]
    assert rows[0]["hazards"] == 1
    assert "#1 21:40" not in text  # the clock of the recording, not of the reader
    assert "#1 21:00:00 Ann: how do I dump the waste tank" in text
    assert "dump-waste-tank: stopped at step 2 of" in text
    assert json_of(run("review", "show", "one", "--json").stdout)["said"][1]["text"] == "next"


def test_a_session_is_not_played_twice(run: Run, played: None, tmp_path: Path):
    """A second time would count every trouble double."""
    done = run("review", "play", str(tmp_path / "one.jsonl"))

    assert done.exit_code == 2
    assert "holds a session 'one' already" in done.stderr


def test_a_mistyped_session_is_named_with_its_neighbours(run: Run, played: None):
    """As everywhere."""
    done = run("review", "show", "onne")

    assert done.exit_code == 2
    assert "Did you mean one" in done.stderr


def test_from_a_need_to_a_repair(run: Run, played: None):
    """Found, assigned, seen as a diff, tried, accepted; then it is answered and no longer a need."""
    rows = json_of(run("review", "needs", "--json", "--top", "50").stdout)
    key = next(row["key"] for row in rows if "printer" in row["name"])
    assigned = run("review", "assign", key, "report-a-defect")
    diff = run("review", "diff").stdout
    tried = run("review", "replay", "--json")
    before = run("ask", "how do I use the printer", "--json")
    accepted = run("review", "accept")
    after = json_of(run("ask", "how do I use the printer", "--json").stdout)
    left = json_of(run("review", "needs", "--json", "--top", "50").stdout)

    assert "Proposed" in assigned.stdout
    assert "+how do i use the printer" in diff
    assert tried.exit_code == 0
    assert json_of(tried.stdout)["better"] >= 1
    assert json_of(tried.stdout)["worse"] == 0
    assert json_of(before.stdout)["topic"] != "report-a-defect"
    assert accepted.exit_code == 0
    assert (after["kind"], after["topic"]) == ("procedure", "report-a-defect")
    assert not any("use the printer" in wording for row in left for wording in row["wordings"])
    assert run("journal", "verify").exit_code == 0


def test_what_makes_something_worse_is_not_accepted(run: Run, played: None):
    """Unless the trainer says so."""
    run("review", "assign", "how do I dump the waste tank", "summer-changes")
    refused = run("review", "accept")
    run("review", "discard")

    assert refused.exit_code == 1
    assert "WORSE" in refused.stdout
    assert "Not accepted" in refused.stdout
    assert not (places.trainer_folder() / "wordings").exists()
    assert run("review", "accept").exit_code == 1


def test_proposals_are_seen_and_forgotten_without_a_coach(run: Run, tmp_path: Path):
    """Only the trainer's folder is looked at: a profile that is not sound, or no knowledge, is no hindrance."""
    wordings = places.trainer_folder() / "proposed" / "wordings"
    wordings.mkdir(parents=True)
    (wordings / "report-a-defect.txt").write_text("how do i use the printer\n", encoding="utf-8")
    spoiled = tmp_path / "coach.yaml"
    spoiled.write_text("id: [", encoding="utf-8")
    given = ("--coach", str(spoiled), "--knowledge", str(tmp_path / "nowhere"))

    assert "+how do i use the printer" in run(*given, "review", "diff").stdout
    assert run(*given, "review", "discard").exit_code == 0
    assert not wordings.exists()
    assert run(*given, "review", "diff").stdout.strip() == "Nothing is proposed."


@pytest.mark.parametrize("command", [("replay",), ("accept",), ("needs",), ("assign", "qabcd", "x")])
def test_a_profile_that_is_not_sound_leaves_no_journal_open(
    run: Run, played: None, tmp_path: Path, command: tuple[str, ...]
):
    """SQLite keeps its log beside a journal for as long as somebody has it open."""
    spoiled = tmp_path / "coach.yaml"
    spoiled.write_text("id: [", encoding="utf-8")
    done = run("--coach", str(spoiled), "review", *command)

    assert done.exit_code == 2
    assert "coach.yaml" in done.stderr
    assert [path.name for path in places.journal_file().parent.glob("*.sqlite-*")] == []


def test_a_mark_is_kept_and_shown(run: Run, played: None):
    """With what was meant and what was really said."""
    done = run(
        "--actor", "Kim", "review", "mark", "one", "4", "wrong", "--topic", "report-a-defect", "--said", "a splinter"
    )
    text = run("review", "show", "one").stdout

    assert done.exit_code == 0
    assert "marked WRONG by Kim, meant: report-a-defect" in text
    assert "really said: a splinter (Kim)" in text
    assert run("review", "mark", "one", "99", "right").exit_code == 2
    assert run("review", "mark", "one", "1", "wrong", "--topic", "no-such").exit_code == 2


def test_a_quiz_and_a_sign_off_come_on_the_sheet(run: Run, played: None):
    """Asked in words or numbers; scored without mercy."""
    asked = run(
        "review", "quiz", "dump-waste-tank", "--driver", "Ann", "--questions", "3", "--seed", "4", text="\n\n\n"
    )
    signed = run("review", "sign-off", "Ann", "dump-waste-tank", "--by", "Kim")
    sheet = run("review", "sheet", "Ann").stdout

    assert asked.exit_code == 1
    assert "0 of 3 right; guessing gives about 0.8." in asked.stdout
    assert signed.exit_code == 0
    assert "quiz " in sheet
    assert "signed off " in sheet
    assert run("review", "sign-off", "Ann", "dump-waste-tank", "--by", "Ann").exit_code == 2
    assert run("review", "sheet", "Nobody").exit_code == 2


def test_the_report_and_its_figures_are_written_once(run: Run, played: None, tmp_path: Path):
    """Not over an earlier one, unless that is meant."""
    page = tmp_path / "report.html"

    assert run("review", "report", str(page)).exit_code == 0
    assert {path.name for path in tmp_path.glob("report*")} == {
        "report.html",
        "report.json",
        "report-days.csv",
        "report-needs.csv",
    }
    assert run("review", "report", str(page)).exit_code == 2
    assert run("review", "report", str(page), "--force", "--pseudonymise").exit_code == 0
    assert "Ann" not in page.read_text(encoding="utf-8")


def test_a_pseudonymised_report_has_no_names_in_what_was_said(run: Run, played: None, tmp_path: Path):
    """The same numbers as in an export, so that both can be read side by side; the keys are those of `needs`."""
    path = recording(tmp_path, "three", "where is the kettle of Zoë", "would Ann mend the toaster")
    run("review", "play", str(path))
    run("review", "sign-off", "Zoë", "dump-waste-tank", "--by", "Kim")
    page = tmp_path / "hidden" / "report.html"
    page.parent.mkdir()
    plain = tmp_path / "report.html"
    for made, more in ((plain, ()), (page, ("--pseudonymise",))):
        assert run("review", "report", str(made), *more).exit_code == 0
    exported = [json.loads(line) for line in run("journal", "export", "--pseudonymise").stdout.splitlines()[1:]]
    ann = next(event["actor"] for event in exported if event["kind"] == "said")
    zoe = next(event["payload"]["driver"] for event in exported if event["kind"] == "signed-off")
    named = {row["key"]: row["name"] for row in json_of(plain.with_suffix(".json").read_text("utf-8"))["needs"]}
    told = json_of(page.with_suffix(".json").read_text("utf-8"))
    hidden = {row["key"]: row["name"] for row in told["needs"]}

    assert any("zoë" in name for name in named.values())
    assert hidden == {key: name.replace("zoë", zoe).replace("ann", ann) for key, name in named.items()}
    assert {row["name"] for row in told["drivers"]} == {ann, zoe}
    for file in page.parent.iterdir():
        assert not re.search(r"\b(?:ann|zoë|kim)\b", file.read_text("utf-8"), re.IGNORECASE), file.name


def test_what_was_said_cannot_steer_the_terminal(run: Run, tmp_path: Path):
    """Neither in a list, nor in a session, nor among the needs."""
    path = recording(tmp_path, "odd", "\x1b[2Jwhere is the \x07bell \u202epapyrus")
    run("review", "play", str(path))

    for command in (("list",), ("show", "odd"), ("needs",), ("sheet",)):
        assert loose_controls(run("review", *command).stdout) == set()


@pytest.mark.parametrize("command", [("list",), ("needs",), ("show", "x"), ("sheet",), ("replay",)])
def test_a_missing_journal_is_not_made(run: Run, command: tuple[str, ...]):
    """A mistyped name must not look like a record without faults."""
    done = run("review", *command)

    assert done.exit_code == 2
    assert not places.journal_file().exists()


def test_the_demo_sessions_can_be_reviewed(run: Run):
    """The eight of them: the weakest spots are found, the worst question is repaired, and nothing gets worse."""
    files = sorted(SESSIONS.glob("*.jsonl"))
    run("review", "play", *map(str, files))
    rows = json_of(run("review", "needs", "--json", "--top", "40").stdout)
    worst = next((row for row in rows if row["troubles"].get("choice not taken")), None)

    assert len(json_of(run("review", "list", "--json").stdout)) == len(files) >= 8
    assert len(rows) >= 3
    if worst is not None:  # the knowledge may have learned to answer them all
        topic = "fill-fresh-water" if "water" in worst["name"] else next(iter(worst["topics"]))
        run("review", "assign", worst["key"], topic)
        found = json_of(run("review", "replay", "--json").stdout)
        assert (found["better"] >= 1, found["worse"]) == (True, 0)
