"""`cabassist converse --jsonl`: the scripting contract, line for line."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cabassist.journal import Journal

from .conftest import ODD_TEXTS, ROOT, Run, loose_controls

FIELDS = {
    "kind",
    "topic",
    "options",
    "nearest",
    "confidence",
    "step",
    "readings",
    "withdrawn",
    "estimate",
    "say",
    "show",
    "ms",
}
KINDS = {"procedure", "step", "hazard", "reading", "calculation", "clarify", "defect", "refuse", "control", "unknown"}
READING_FIELDS = {"what", "which", "value", "unit", "approx", "flag", "from"}
UNITS = set("fraction percent gal L lb kg in cm ft V A psi bar F C mi km persons ppm h".split())
EVENING = "2026-01-15T21:40:00-06:00"
DUMP = "how do I dump the waste tank"
Talk = Callable[..., list[dict[str, Any]]]


@pytest.fixture
def talk(run: Run) -> Talk:
    """Says these lines and gives what came back; there is always one line out for one in."""

    def said(
        *lines: Any, args: tuple[str, ...] = ("--now", EVENING), before: tuple[str, ...] = ()
    ) -> list[dict[str, Any]]:
        raw = [
            line if isinstance(line, bytes) else json.dumps({"text": line} if isinstance(line, str) else line).encode()
            for line in lines
        ]
        result = run(*before, "converse", "--jsonl", *args, text=b"\n".join(raw) + b"\n")
        out = [json.loads(line) for line in result.stdout.split("\n")[:-1]]
        assert result.exit_code == 0
        assert len(out) == len(lines)
        return out

    return said


def assert_contract(out: dict[str, Any]) -> None:
    """Every field of the contract is there, of its type, and no other."""
    assert set(out) == FIELDS
    assert out["kind"] in KINDS
    assert out["topic"] is None or isinstance(out["topic"], str)
    assert all(isinstance(name, str) for name in out["options"] + out["nearest"])
    assert isinstance(out["confidence"], (int, float))
    assert 0 <= out["confidence"] <= 1
    if out["step"] is not None:
        assert set(out["step"]) == {"index", "of"}
        assert 1 <= out["step"]["index"] <= out["step"]["of"]
    for reading in out["readings"] + out["withdrawn"]:
        assert set(reading) == READING_FIELDS
        assert reading["unit"] is None or reading["unit"] in UNITS
        assert isinstance(reading["approx"], bool)
        assert reading["flag"] in (None, "low", "high")
        assert reading["from"] in (None, "top", "bottom")
    if out["estimate"] is not None:
        keys = {"value", "unit", "low", "high", "working", "assumptions", "source", "verdict", "also"}
        assert set(out["estimate"]) == keys
        assert isinstance(out["estimate"]["working"], list)
    assert isinstance(out["say"], str)
    assert out["say"].strip()
    assert out["show"]
    assert all(isinstance(line, str) for line in out["show"])
    assert isinstance(out["ms"], (int, float))
    assert out["ms"] >= 0


# -- answers ----------------------------------------------------------------------------------------

CONVERSATION = [
    ("how do I dump the waste tank", "procedure"),
    ("next", "step"),
    ("why", "step"),
    ("how many left", "control"),
    ("waste at forty percent", "reading"),
    ("undo", "control"),
    ("it smells of gas in here", "hazard"),
    ("stop", "control"),
    ("resume", "step"),
    ("can I dump it in the ditch", "refuse"),
    ("log that the bay 3 light is broken", "defect"),
    ("how do you know", "control"),
    ("what is the capital of France", "unknown"),
    ("", "unknown"),
]


def test_every_kind_of_answer_has_exactly_the_fields_of_the_contract(talk: Talk):
    """A whole evening in one conversation, each answer of the kind that the contract names."""
    answers = talk(*(said for said, _ in CONVERSATION))

    for out in answers:
        assert_contract(out)
    assert [(said, out["kind"]) for (said, _), out in zip(CONVERSATION, answers, strict=True)] == CONVERSATION


def test_a_walk_counts_its_steps_from_one(talk: Talk):
    """The procedure opens at step 1, `next` goes to 2, `back` to 1 again, always of the same number."""
    opened, after, before = talk(DUMP, "next", "back")

    assert opened["topic"] == after["topic"] == before["topic"] == "dump-waste-tank"
    assert [out["step"]["index"] for out in (opened, after, before)] == [1, 2, 1]
    assert len({out["step"]["of"] for out in (opened, after, before)}) == 1


def test_cautions_come_first_for_the_eye(talk: Talk):
    """In what is shown, no caution stands after the step's own line."""
    for out in talk(DUMP, *["next"] * 20):
        lines = out["show"]
        at = [i for i, line in enumerate(lines) if line.startswith("Step ")]
        cautions = [
            i for i, line in enumerate(lines) if line.split(":")[0] in ("DANGER", "WARNING", "CAUTION", "NOTICE")
        ]
        if at and cautions:
            assert max(cautions) < at[0]


def test_a_hazard_is_one_breath(talk: Talk):
    """Its escape line alone is said; the topic is the hazard's."""
    (out,) = talk("I smell gas")

    assert (out["kind"], out["topic"]) == ("hazard", "propane-smell")
    assert out["say"] == "Get everyone out now. Touch no switch. Make no flame. Stay far upwind."
    assert out["show"][0].startswith("DANGER")


def test_a_reading_is_given_back_as_it_was_said(talk: Talk):
    """Value and unit as said, and what it stands for."""
    (out,) = talk("fresh is at 40 percent")

    assert out["kind"] == "reading"
    (reading,) = out["readings"]
    assert (reading["what"], reading["which"], reading["value"], reading["unit"]) == ("fresh", None, 40, "percent")
    assert (reading["approx"], reading["flag"], reading["from"]) == (False, None, None)
    assert out["withdrawn"] == []


def test_a_corrected_reading_is_withdrawn(talk: Talk):
    """What no longer stands is named."""
    _, out = talk("fresh is at 40 percent", "no, fresh is at 60 percent")

    assert [r["value"] for r in out["readings"]] == [60]
    assert [r["value"] for r in out["withdrawn"]] == [40]


def test_a_question_that_fits_nothing_names_the_nearest(talk: Talk, knowledge):
    """Ids that exist, in `nearest` and not in `options`."""
    (out,) = talk("what is the capital of France")

    assert out["kind"] == "unknown"
    assert out["topic"] is None
    assert out["options"] == []
    assert set(out["nearest"]) <= set(knowledge.ids)


# -- the clock --------------------------------------------------------------------------------------


def test_the_clock_of_a_turn_stands_until_another_is_given(talk: Talk):
    """A reading's age follows the clock that is handed in, not the time of day."""
    later = "2026-01-15T22:10:00-06:00"
    answers = talk(
        "fresh is at 40 percent", {"text": "what readings do we have", "now": later}, "what readings do we have"
    )

    assert "30 minutes ago" in answers[1]["say"]
    assert "30 minutes ago" in answers[2]["say"]


def test_a_clock_may_be_given_in_another_zone_or_without(talk: Talk):
    """The same moment an hour east is the same moment; a time without a zone is local."""
    answers = talk(
        "fresh is at 40 percent",
        {"text": "what readings do we have", "now": "2026-01-15T23:10:00-05:00"},
        {"text": "what readings do we have", "now": "2026-01-16T04:10:00Z"},
        {"text": "what readings do we have", "now": "2026-02-15T22:10:00"},
    )

    assert "30 minutes ago" in answers[1]["say"]
    assert "30 minutes ago" in answers[2]["say"]
    assert "31 days ago" in answers[3]["say"]


def test_a_wait_is_over_when_the_clock_says_so(talk: Talk, mind):
    """The walk to a step that waits sets a timer; a turn after its time announces it first."""
    steps = mind.knowledge.procedure("connect-shore-power").steps
    number = next(n for n, step in enumerate(steps, 1) if step.wait)
    wait = steps[number - 1].wait
    answers = talk(
        "how do I connect shore power",
        f"go to step {number}",
        {"text": "how many left", "now": "2026-01-15T21:45:00-06:00"},
        {"text": "how many left", "now": "2026-01-15T21:51:00-06:00"},
        {"text": "how many left", "now": "2026-01-15T21:52:00-06:00"},
    )

    assert answers[0]["topic"] == "connect-shore-power"
    assert "10 minutes" in answers[1]["say"]
    assert answers[3]["show"][0] == f"Timer: {wait.announce}"
    assert answers[3]["say"].startswith(wait.announce)
    assert all(wait.announce not in answers[i]["say"] for i in (2, 4))


@pytest.mark.parametrize("clock", ["tomorrow", "", "2026-13-01", "21:40", "1768513200"])
def test_a_clock_that_is_none_is_misuse(run: Run, clock: str):
    """`--now` is checked before the first turn; the message shows the form."""
    result = run("converse", "--jsonl", f"--now={clock or ' '}", text=b"")

    assert result.exit_code == 2
    assert "2026-01-15T21:40:00-06:00" in result.stderr


# -- reset and journal ------------------------------------------------------------------------------


def test_reset_begins_a_fresh_session(talk: Talk):
    """No walk, no readings, the clock of the start again."""
    opened, told, reset, after, readings = talk(
        DUMP, "fresh is at 40 percent", {"reset": True}, "next", "what readings do we have"
    )

    assert opened["step"]["index"] == 1
    assert told["kind"] == "reading"
    assert "error" not in reset
    assert after["step"] is None
    assert after["topic"] is None
    assert "No readings stand yet." in readings["say"]


def test_nothing_is_written_by_default(talk: Talk, monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    """The journal of this command is in memory, whatever the environment says about the driver's own."""
    monkeypatch.setenv("CABASSIST_JOURNAL", str(tmp_path / "own.sqlite"))
    talk(DUMP, "next")

    assert not (tmp_path / "own.sqlite").exists()
    assert not Path(os.environ["CABASSIST_DATA"]).exists()


@pytest.mark.parametrize("where", ["option of the command", "option before it"])
def test_a_journal_that_is_named_is_written(talk: Talk, tmp_path: Path, where: str):
    """Each turn with who said it and when, by the clock that was given."""
    path = tmp_path / "journal.sqlite"
    named = ("--journal", str(path))
    talk(
        {"text": DUMP, "actor": "Ann"},
        {"text": "next", "now": "2026-01-15T21:50:00-06:00"},
        args=("--now", EVENING, *(named if where == "option of the command" else ())),
        before=named if where == "option before it" else (),
    )
    with Journal(path) as journal:
        said = list(journal.read(kind="said"))
        answered = list(journal.read(kind="answered"))

    assert [(e.payload["text"], e.actor) for e in said] == [(DUMP, "Ann"), ("next", "driver")]
    assert [e.at.isoformat() for e in said] == [EVENING, "2026-01-15T21:50:00-06:00"]
    assert [e.payload["topic"] for e in answered] == ["dump-waste-tank"] * 2
    assert len({e.session for e in said + answered}) == 1
    assert {e.coach for e in said} == {"northern-loon"}


def test_a_reset_is_another_session_in_the_journal(talk: Talk, tmp_path: Path):
    """What was said before stays on record."""
    path = tmp_path / "journal.sqlite"
    talk(DUMP, {"reset": True}, DUMP, args=("--journal", str(path)))
    with Journal(path) as journal:
        sessions = [e.session for e in journal.read(kind="said")]

    assert len(sessions) == len(set(sessions)) == 2


def test_the_coach_can_be_named(talk: Talk, coach_text: str, tmp_path: Path):
    """Its words stand in the answers."""
    other = tmp_path / "coach.yaml"
    other.write_text(coach_text.replace("bay 4 on the right side", "the locker behind the axle"), encoding="utf-8")
    (out,) = talk("where do I keep the waste hose", args=("--coach", str(other)))
    whole = "\n".join(
        line for answer in talk(DUMP, *["next"] * 25, args=("--coach", str(other))) for line in answer["show"]
    )

    assert_contract(out)
    assert "the locker behind the axle" in whole
    assert "bay 4 on the right side" not in whole


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (["--coach", "/no/such.yaml"], "/no/such.yaml: does not exist."),
        ([], "Missing option '--jsonl'"),
    ],
)
def test_files_that_cannot_be_used_end_it_before_the_first_turn(run: Run, args: list[str], said: str):
    """Exit code 2 with a sentence."""
    result = run("converse", *(["--jsonl", *args] if args else []), text=b'{"text": "next"}\n')

    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


# -- bad lines --------------------------------------------------------------------------------------

BAD_LINES = {
    "empty": b"",
    "words": b"how do I fill",
    "cut short": b'{"text": "how do I',
    "not UTF-8": b'{"text": "\xff\xfe"}',
    "binary": bytes(range(256)).replace(b"\n", b""),
    "list": b'["text"]',
    "string": b'"text"',
    "number": b"5",
    "null": b"null",
    "no text": b"{}",
    "text is a number": b'{"text": 5}',
    "text is null": b'{"text": null}',
    "text is a list": b'{"text": ["a"]}',
    "now is a word": b'{"text": "next", "now": "later"}',
    "now is a number": b'{"text": "next", "now": 5}',
    "now is null": b'{"text": "next", "now": null}',
    "actor is a number": b'{"text": "next", "actor": 5}',
    "deep": b"[" * 100_000,
    "deep inside": b'{"text": ' + b"[" * 50_000 + b"]" * 50_000 + b"}",
    "long number": b'{"text": ' + b"9" * 5_000 + b"}",
    "too long": b'{"text": "' + b"a" * 300_000 + b'"}',
    "two objects": b'{"text": "next"} {"text": "next"}',
}


def test_a_bad_line_gets_an_error_and_the_conversation_goes_on(talk: Talk):
    """Each gets one object with `error`, and the walk stands where it stood."""
    lines = [line for bad in BAD_LINES.values() for line in (bad, b'{"text": "where am I"}')]
    opened, *answers = talk(DUMP, *lines)

    for name, error, after in zip(BAD_LINES, answers[0::2], answers[1::2], strict=True):
        assert list(error) == ["error"], name
        assert error["error"].strip()
        assert after["step"] == opened["step"], name


OVERFLOW = "a time past the year 9999 is an OverflowError, which nobody catches: the command ends with a traceback"


@pytest.mark.parametrize(
    "clock",
    [
        "0001-01-01T00:00:00",
        "0001-01-01T00:00:00+14:00",
        "1969-12-31T23:59:59Z",
        "9999-12-31T23:59:59-12:00",
    ],
)
def test_a_clock_at_the_end_of_time_is_no_exit(talk: Talk, clock: str):
    """The first and the last moment that can be written are answered or refused, also where a timer is set."""
    turns = [{"text": f"go to step {number}", "now": clock} for number in range(1, 15)]
    answers = talk("how do I connect shore power", *turns, "next")

    assert all(set(out) == FIELDS or list(out) == ["error"] for out in answers)


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the zone of a process cannot be changed here")
def test_the_last_moment_without_a_zone_is_no_exit(talk: Talk, monkeypatch: pytest.MonkeyPatch):
    """West of Greenwich the last evening of the year 9999 has no moment in UTC."""
    monkeypatch.setenv("TZ", "America/Chicago")
    time.tzset()
    try:
        (out,) = talk({"text": "help", "now": "9999-12-31T23:59:59"})
    finally:
        monkeypatch.undo()
        time.tzset()

    assert list(out) == ["error"]


@pytest.mark.parametrize(
    "line",
    [
        b'{"text": "next \\ud800"}',
        b'{"text": "next", "actor": "\\udfff"}',
    ],
)
def test_half_a_surrogate_pair_does_not_end_the_conversation(talk: Talk, line: bytes):
    """In a text or in a name: that line is answered or refused, and the next one is answered."""
    _, after = talk(line, "help")

    assert set(after) == FIELDS


def test_unknown_keys_are_left_alone(talk: Talk):
    """A newer program may say more than we understand."""
    (out,) = talk({"text": DUMP, "mood": "tired", "reset": False})

    assert out["topic"] == "dump-waste-tank"


def test_odd_texts_are_answered_shortly_and_without_control_characters(talk: Talk):
    """Whatever is typed or pasted, the answer is of the contract and safe to print."""
    answers = talk(*({"text": text} for text in ODD_TEXTS.values()))

    for name, out in zip(ODD_TEXTS, answers, strict=True):
        assert_contract(out)
        shown = "\n".join([out["say"], *out["show"]])
        assert loose_controls(shown) == set(), name
        assert len(shown) < 4_000, name
        for left in ("[bold red]", "<script>", "{fresh.capacity}", "$(id)"):
            assert left not in shown, name


@pytest.mark.parametrize("name", ["empty", "space", "question mark", "emoji", "joined emoji"])
def test_text_without_a_word_is_said_to_be_of_no_use(talk: Talk, name: str):
    """A short clear reply with the next action."""
    (out,) = talk(ODD_TEXTS[name])

    assert out["kind"] == "unknown"
    assert out["confidence"] == 0
    assert "Say what you want to do, or say help." in out["say"]


def test_a_very_long_question_is_cut_and_that_is_said(talk: Talk):
    """The first part is answered."""
    (out,) = talk(DUMP + " " + "please " * 2_000)

    assert "That was long." in out["show"][0]


# -- as a process -----------------------------------------------------------------------------------


def test_each_answer_is_flushed_at_once():
    """A program that waits for the answer before it says more gets it."""
    process = subprocess.Popen(
        [sys.executable, "-m", "cabassist", "converse", "--jsonl"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": ROOT},
    )
    assert process.stdin is not None
    assert process.stdout is not None
    for said in (DUMP, "next"):
        process.stdin.write(json.dumps({"text": said}).encode() + b"\n")
        process.stdin.flush()
        assert_contract(json.loads(process.stdout.readline()))
    process.stdin.close()

    assert process.wait() == 0
    process.stdout.close()


def test_the_last_line_needs_no_end(run: Run):
    """A file without a line end is answered to its end; no input at all is no answer."""
    assert len(run("converse", "--jsonl", text=b'{"text": "help"}').stdout.splitlines()) == 1
    assert run("converse", "--jsonl", text=b"").stdout == ""
