"""`cabassist ask`, `show` and `topics`."""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from cabassist import places
from cabassist.coach import Coach, facts
from cabassist.dialogue.phrases import caution_line
from cabassist.dialogue.session import WORD_LISTS, Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.procedures.library import Knowledge

from .conftest import ODD_TEXTS, Launch, Run, json_of, loose_controls

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
    return sorted(path.stem for path in places.knowledge_folder().glob("*/*.yaml") if path.parent.name != "coaches")


@pytest.mark.parametrize("name", all_ids())
def test_every_procedure_is_printed_whole_and_cautions_first(run: Run, knowledge: Knowledge, coach: Coach, name: str):
    """All steps in order, what must never be done, whom to call, sources; no hole anywhere.

    The cautions of a step are the lines right above it; those of the procedure come before the first step.
    """
    result = run("show", name)
    procedure, words = knowledge.procedure(name), facts(coach)
    lines = result.output.splitlines()
    numbered = [i for i, line in enumerate(lines) if re.match(r"[ \d]\d\. ", line)]

    assert result.exit_code == 0
    assert lines[0] == procedure.title.upper()
    assert [int(lines[i][:2]) for i in numbered] == list(range(1, len(procedure.steps) + 1))
    for at, step in zip(numbered, procedure.steps, strict=True):
        assert lines[at - len(step.cautions) : at] == [caution_line(c, words) for c in step.cautions]
    for caution in procedure.cautions:
        assert lines.index(caution_line(caution, words)) < numbered[0]
    for heading in ("Never:", "Stop when:", "Call:", "Sources:"):
        assert heading in lines
    assert not re.search(r"[{}]", result.output)
    assert loose_controls(result.output) == set()


def test_places_and_sizes_are_those_of_the_coach(run: Run, coach_text: str, tmp_path: Path):
    """Another coach, other words; nothing of the demo coach is left."""
    other = tmp_path / "coach.yaml"
    text = coach_text.replace("bay 4 on the right side", "the locker behind the axle").replace(
        "units: us", "units: metric"
    )
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


# -- ask --------------------------------------------------------------------------------------------

DUMP = "how do I dump the waste tank"


@pytest.mark.parametrize(
    ("text", "code", "kind"),
    [
        (DUMP, 0, "procedure"),
        ("I smell gas", 0, "hazard"),
        ("waste is at 40 percent", 0, "reading"),
        ("can I pour gasoline into the diesel", 0, "refuse"),
        ("help", 0, "control"),
        ("what is the capital of France", 1, "unknown"),
        ("it is stuck", 1, "clarify"),
        ("", 1, "unknown"),
    ],
)
def test_the_exit_code_tells_whether_it_was_answered(run: Run, text: str, code: int, kind: str):
    """0 answered, 1 not answered; the kind stands in the JSON form."""
    result = run("ask", text, "--json")

    assert json_of(result.stdout)["kind"] == kind
    assert result.exit_code == code


def test_a_question_is_answered_with_its_first_step(run: Run):
    """Title, cautions, what to bring, the step, and where the rest is."""
    lines = run("ask", DUMP).output.splitlines()

    assert lines[0].startswith("Dump the waste tank.")
    assert any(line.startswith("WARNING: ") for line in lines)
    assert any(line.startswith("Bring: ") for line in lines)
    assert any(line.startswith("Step 1 of ") for line in lines)
    assert "cabassist show dump-waste-tank" in lines[-1]


def test_words_need_no_quotes(run: Run):
    """`cabassist ask how do I dump the waste tank` is the same question."""
    apart = json_of(run("ask", "--json", *DUMP.split()).stdout)
    whole = json_of(run("ask", "--json", DUMP).stdout)

    assert apart["topic"] == whole["topic"] == "dump-waste-tank"
    assert apart["show"] == whole["show"]


def test_a_hazard_begins_with_its_signal_word(run: Run):
    """The first line says DANGER, the second what to do at once."""
    lines = run("ask", "the gas alarm is going off and it smells").output.splitlines()

    assert lines[0].startswith("DANGER")
    assert "Get everyone out now." in lines[1]


def test_a_question_and_its_answer_are_put_on_record(run: Run):
    """In the driver's journal, with the name that was given."""
    run("--actor", "Ann", "ask", DUMP)
    with Journal(places.journal_file()) as journal:
        events = list(journal.read())

    assert [e.kind for e in events if e.kind in ("said", "answered")] == ["said", "answered"]
    assert events[0].payload == {"text": DUMP}
    assert {e.actor for e in events} == {"Ann"}


def test_another_journal_may_be_named(run: Run, tmp_path: Path):
    """By option; the driver's own is not made."""
    run("--journal", str(tmp_path / "other.sqlite"), "ask", DUMP)

    assert (tmp_path / "other.sqlite").is_file()
    assert not places.journal_file().exists()


@pytest.mark.parametrize("name", sorted(ODD_TEXTS))
def test_odd_questions_are_answered_without_control_characters(run: Run, name: str):
    """Whatever comes in, what goes out is a short reply that a terminal only prints."""
    result = run("ask", "--", ODD_TEXTS[name], color=True)

    assert result.exit_code in (0, 1)
    assert 0 < len(result.output) < 4_000
    assert loose_controls(result.output) == set()


# -- ask, when the journal cannot be used -----------------------------------------------------------


def unusable_journals(folder: Path) -> dict[str, tuple[Path, str]]:
    """Journals that cannot be opened, and what is said of each."""
    newer, other, text = (folder / f"{name}.sqlite" for name in ("newer", "other", "text"))
    with Journal(newer):
        pass
    for path, script in ((newer, "PRAGMA user_version = 99;"), (other, "CREATE TABLE photos (name TEXT);")):
        made = sqlite3.connect(path)
        made.executescript(script)
        made.close()
    text.write_text("not a database at all\n" * 50, encoding="utf-8")
    return {
        "newer": (newer, "was written by a newer cabassist"),
        "other": (other, "is a database, but not a cabassist journal"),
        "text": (text, "is not a sound journal"),
        "folder": (folder, "cannot be used"),
        "under a file": (text / "journal.sqlite", "cannot be made"),
    }


@pytest.mark.parametrize("kind", ["newer", "other", "text", "folder", "under a file"])
def test_a_journal_that_cannot_be_used_holds_no_answer_back(run: Run, tmp_path: Path, kind: str):
    """The hazard is answered; the file is named with what to do; nothing in it is lost."""
    path, said = unusable_journals(tmp_path)[kind]
    before = path.read_bytes()[100:] if path.is_file() else b""
    result = run("--journal", str(path), "ask", "I smell gas")

    assert "Get everyone out now." in result.stdout
    assert str(path) in result.stderr
    assert said in result.stderr
    assert "--journal" in result.stderr
    assert (path.read_bytes()[100:] if path.is_file() else b"") == before


def test_a_read_only_journal_holds_no_answer_back(
    run: Run, open_folder: Path, as_nobody: Callable[[], Any], monkeypatch: pytest.MonkeyPatch
):
    """The answer comes with the note that it is not on record."""
    path = open_folder / "journal.sqlite"
    monkeypatch.setenv("CABASSIST_DATA", str(open_folder))
    monkeypatch.setenv("CABASSIST_CACHE", str(open_folder))
    with Journal(path):
        pass
    path.chmod(0o444)
    with as_nobody():
        result = run("--journal", str(path), "ask", "I smell gas")

    assert "Get everyone out now." in result.stdout
    assert f"{path}: is read-only." in result.output
    assert "--journal" in result.output


def test_a_full_disk_holds_no_answer_back_and_loses_nothing(mind: Mind, tmp_path: Path, now: datetime):
    """Answers go on, each with the note; once there is room, all that was said is on record in its order.

    The disk is played by SQLite's own limit of pages.
    """
    with Journal(tmp_path / "journal.sqlite") as journal:
        session = Session(mind, journal)
        session.hear(DUMP, now)
        journal._db.execute("PRAGMA max_page_count = 1")
        full = [session.hear(f"next {'please ' * 80}", now) for _ in range(8)]
        danger = session.hear("I smell gas", now)
        journal._db.execute("PRAGMA max_page_count = 100000")
        after = session.hear("stop", now)
        said = [event.payload["text"] for event in journal.read(kind="said")]

    assert any("the disk is full" in reply.show[-1] for reply in full)
    assert danger.show[1] == "Get everyone out now. Touch no switch. Make no flame. Stay far upwind."
    assert "Not recorded yet" in danger.show[-1]
    assert "Not recorded yet" not in "\n".join(after.show)
    assert [text[:5] for text in said] == [DUMP[:5], *["next "] * 8, "I sme", "stop"]


def test_a_busy_journal_holds_no_answer_back_and_loses_nothing(mind: Mind, tmp_path: Path, now: datetime):
    """While another process writes, the answer comes with a note; the next turn puts both on record."""
    path = tmp_path / "journal.sqlite"
    with Journal(path, busy_timeout_s=0.05) as journal:
        session = Session(mind, journal)
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        held = session.hear("I smell gas", now)
        other.execute("ROLLBACK")
        other.close()
        session.hear("stop", now)
        said = [event.payload["text"] for event in journal.read(kind="said")]

    assert "another cabassist is writing" in held.show[-1]
    assert held.kind == "hazard"
    assert said == ["I smell gas", "stop"]


# -- ask, when the knowledge cannot be used ---------------------------------------------------------


@pytest.fixture
def little(tmp_path: Path, knowledge_folder: Path, knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A knowledge folder that may be broken: the hazards, one procedure, and everything that all questions need."""
    folder = tmp_path / "knowledge"
    folder.mkdir()
    for path in knowledge_folder.iterdir():
        if path.is_file() and (path.suffix == ".npz" or path.stem in {*WORD_LISTS, "style"}):
            shutil.copy(path, folder)
    for name in (*knowledge.hazards, "dump-waste-tank"):
        system = knowledge.procedure(name).system
        (folder / system).mkdir(exist_ok=True)
        shutil.copy(knowledge_folder / system / f"{name}.yaml", folder / system)
    monkeypatch.setenv("CABASSIST_CACHE", str(tmp_path / "cache"))
    return folder


def test_a_little_knowledge_is_enough_to_answer(run: Run, little: Path):
    """The folder that the next test breaks."""
    assert "Get everyone out now." in run("--knowledge", str(little), "ask", "I smell gas").stdout


@pytest.mark.parametrize(
    ("name", "body"),
    [
        ("steering.yaml", None),
        ("steering.yaml", b"next: ["),
        ("steering.yaml", b""),
        ("steering.yaml", b"[]"),
        ("steering.yaml", b"next: 5\n"),
        ("hazard-signs.yaml", None),
        ("hazard-signs.yaml", b"{}"),
        ("hazard-signs.yaml", b"words: {}\nsigns: {propane-smell: {reports: ['(']}}\n"),
        ("hurt-signs.yaml", None),
        ("hurt-signs.yaml", b"{}"),
        ("hurt-signs.yaml", b"words: {}\nsigns: {}\nleave: ['(']\n"),
        ("wish-signs.yaml", None),
        ("wish-signs.yaml", b"{}"),
        ("wish-signs.yaml", b"safe: []\nfixed: {}\nwords: {}\nsigns: {dump-waste-on-ground: [waste ground]}\n"),
        ("twins.yaml", b"- [one]\n"),
        ("encoder.npz", None),
        ("encoder.npz", b""),
        ("encoder.npz", b"PK\x03\x04 cut short"),
        ("vectors.npz", None),
        ("vectors.npz", b""),
        ("vectors.npz", b"PK\x03\x04 cut short"),
        ("waste/dump-waste-tank.yaml", b"id: ["),
        ("calculations.yaml", b"\xff\xfe"),
    ],
)
def test_knowledge_that_is_missing_or_broken_is_named(
    run: Run, launch: Launch, little: Path, name: str, body: bytes | None
):
    """Exit code 2 and the file, or an answer all the same; never a traceback."""
    path = little / name
    if body is None:
        path.unlink(missing_ok=True)
    else:
        path.write_bytes(body)
    args = ("--knowledge", str(little), "ask", "I smell gas")
    if path.suffix == ".npz":  # numpy leaves a broken file open, which would disturb a later test here
        done = launch(*args)
        code, answer, error = done.returncode, done.stdout, done.stderr
    else:
        result = run(*args)
        code, answer, error = result.exit_code, result.stdout, result.stderr

    assert "Traceback" not in error
    assert code == 2 or "Get everyone out now." in answer
    assert code == 0 or path.name in error


def kept_vectors(cache: Path) -> list[float]:
    """The vectors in the cache."""
    (path,) = cache.glob("matcher-*.npz")
    with np.load(path) as stored:
        return [float(value) for value in stored["fixed"].ravel()]


def test_a_new_encoder_makes_new_vectors(run: Run, little: Path, tmp_path: Path):
    """Vectors in the cache belong to the encoder that they were made with, not to the wordings alone."""
    run("--knowledge", str(little), "ask", "I smell gas")
    before = kept_vectors(tmp_path / "cache")
    with np.load(little / "encoder.npz") as stored:
        parts = dict(stored)
    parts["words_scale"] = parts["words_scale"] * np.linspace(0.2, 5, len(parts["words_scale"])).reshape(
        parts["words_scale"].shape
    ).astype(parts["words_scale"].dtype)
    np.savez(little / "encoder.npz", **parts)
    (little / "vectors.npz").unlink(missing_ok=True)
    run("--knowledge", str(little), "ask", "I smell gas")

    assert kept_vectors(tmp_path / "cache") != before


def test_a_name_of_another_encoding_does_no_harm(run: Run):
    """Bytes that are not UTF-8 in `--actor` are replaced like those in a question."""
    assert "Get everyone out now." in run("--actor", "J\udcf6rg", "ask", "I smell gas").stdout
