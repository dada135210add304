"""Out as JSON Lines and in again: nothing lost, and nothing unsound let in."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.errors import JournalError
from cabassist.journal import EventDraft, Journal
from cabassist.journal.chain import rows, verify
from cabassist.journal.erasing import erase_session
from cabassist.journal.exchange import MAX_LINE_BYTES, export, import_lines, pseudonyms
from cabassist.journal.store import IN_MEMORY

from .conftest import added

KEY = b"k" * 32


def exported(journal: Journal, **more: Any) -> str:
    """The export as text."""
    out = io.StringIO()
    export(journal, out, **more)
    return out.getvalue()


def imported(text: str | bytes, into: Journal | None = None) -> Journal:
    """A journal filled from an export."""
    journal = into or Journal(IN_MEMORY)
    import_lines(journal, io.BytesIO(text.encode() if isinstance(text, str) else text), "out.jsonl")
    return journal


@pytest.fixture
def talked(journal: Journal, now: datetime) -> Journal:
    """Two sessions, one of them erased, and a time with an offset."""
    added(journal, now, {"text": "how do I dump", "n": [1, None, 0.1, {"°F": True}]}, {"text": "two"}, session="a")
    added(journal, now.astimezone(timezone(timedelta(hours=-6))), {"text": "secret"}, session="b")
    erase_session(journal, "b", by="Kim", reason="asked", at=now, key=KEY)
    added(journal, now - timedelta(days=2), {"text": "clock went back"}, session="c")
    return journal


def test_a_round_trip_loses_nothing(talked: Journal):
    """Every column of every event, digests and erased ones included, and the export of the import is the same."""
    text = exported(talked)
    again = imported(text)

    assert list(rows(again)) == list(rows(talked))
    assert verify(rows(again), KEY).sound
    assert exported(again) == text


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**60), 2**60)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(st.text(st.characters(exclude_categories=["Cs"]), max_size=8), JSON, max_size=4))
def test_any_payload_survives(payload: dict[str, Any]):
    """Whatever JSON can say comes back the same."""
    with Journal(IN_MEMORY) as journal:
        at = datetime(2026, 1, 15, tzinfo=timezone(timedelta(hours=-6)))
        journal.append([EventDraft("said", payload)], at=at, coach="loon", session="one", actor="Ann")
        again = imported(exported(journal))

        assert list(rows(again)) == list(rows(journal))


def test_an_empty_journal_makes_a_round_trip(journal: Journal):
    """One line, no events."""
    assert imported(exported(journal)).count() == 0


def test_an_import_goes_on_where_the_same_journal_ends(talked: Journal, now: datetime):
    """Sent twice, the second time with more: only what is new is added."""
    copy = imported(exported(talked))
    added(talked, now + timedelta(days=1), {"text": "new"}, {"text": "newer"})
    new = import_lines(copy, io.BytesIO(exported(talked).encode()), "out.jsonl")

    assert new == 2
    assert list(rows(copy)) == list(rows(talked))
    assert import_lines(copy, io.BytesIO(exported(talked).encode()), "out.jsonl") == 0


def test_another_journal_is_not_mixed_in(talked: Journal, now: datetime):
    """The message names the line, the event and the way out; nothing changes."""
    with Journal(IN_MEMORY) as other:
        added(other, now, {"text": "mine"})
        before = list(rows(other))
        with pytest.raises(JournalError, match=r"out\.jsonl:2: differs .* Nothing was imported.*--journal"):
            imported(exported(talked), other)

        assert list(rows(other)) == before


def changed(change: Callable[[dict[str, Any]], Any]) -> Callable[[list[str]], str]:
    """A change of the second event's JSON."""

    def made(lines: list[str]) -> str:
        body = json.loads(lines[2])
        change(body)
        lines[2] = json.dumps(body)
        return "\n".join(lines)

    return made


def replaced(line: str) -> Callable[[list[str]], str]:
    """Another third line."""
    return lambda lines: "\n".join([*lines[:2], line, *lines[3:]])


HOSTILE: dict[str, tuple[Callable[[list[str]], Any], str]] = {
    "huge line": (replaced('{"id": "' + "a" * MAX_LINE_BYTES + '"}'), r":3: is longer than"),
    "deep nesting": (replaced("[" * 200_000 + "]" * 200_000), r":3: nested deeper"),
    "deep payload": (changed(lambda b: b.update(payload={"a": json.loads("[" * 40 + "]" * 40)})), r":3: nested deeper"),
    "no JSON": (replaced("id: 3"), r":3: is not sound JSON"),
    "a list": (replaced("[1, 2]"), r":3: must be one JSON object"),
    "a number": (replaced("7"), r":3: must be one JSON object"),
    "wrong type": (changed(lambda b: b.update(actor=7)), r":3: 'actor': "),
    "payload no object": (changed(lambda b: b.update(payload="x")), r":3: 'payload': "),
    "unknown field": (changed(lambda b: b.update(extra=1)), r":3: 'extra': "),
    "missing field": (changed(lambda b: b.pop("kind")), r":3: 'kind': "),
    "bad id": (changed(lambda b: b.update(id="../../etc/passwd")), r":3: 'id': "),
    "bad time": (changed(lambda b: b.update(at="yesterday")), r":3: 'at': must be a time"),
    "no zone": (changed(lambda b: b.update(at="2026-01-15T21:40:00")), r":3: 'at': must be a time"),
    "another format": (changed(lambda b: b.update(format=99)), r":3: 'format': "),
    "true for one": (changed(lambda b: b.update(format=True)), r":3: "),
    "not a number": (replaced('{"id": NaN}'), r":3: NaN is not a number"),
    "too large a number": (lambda lines: "\n".join([*lines[:2], lines[2].replace('"two"', "1e999")]), r":3: .*too large"),
    "endless digits": (lambda lines: "\n".join([*lines[:2], lines[2].replace('"two"', "9" * 9000)]), r":3: "),
    "key twice": (replaced('{"id": "a", "id": "b"}'), r":3: 'id' is there twice"),
    "lone surrogate": (changed(lambda b: b.update(actor="\ud800")), r":3: "),
    "null character": (changed(lambda b: b.update(actor="a\0b")), r":3: "),
    "altered text": (changed(lambda b: b.update(payload={"text": "other"})), r":3: event .* does not follow"),
    "altered digest": (changed(lambda b: b.update(digest="0" * 64)), r":3: event .* does not follow"),
    "no digest": (changed(lambda b: b.update(digest=None)), r":3: 'digest': must be there"),
    "event twice": (lambda lines: "\n".join([*lines[:3], *lines[2:]]), r":4: the id .* is there twice"),
    "event left out": (lambda lines: "\n".join([*lines[:2], *lines[3:]]), r"holds 4 events, but its first line says 5"),
    "cut off": (lambda lines: "\n".join(lines[:3]), r"holds 2 events, but its first line says 5"),
    "empty": (lambda lines: "", r"is empty"),
    "no heading": (lambda lines: "\n".join(lines[1:]), r":1: "),
    "newer export": (lambda lines: "\n".join([lines[0].replace(": 1,", ": 2,", 1), *lines[1:]]), r":1: 'cabassist_journal'"),
    "not UTF-8": (lambda lines: "\n".join(lines[:2]).encode() + b"\n\xff\xfe\n", r":3: is not UTF-8"),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_import_is_named_by_its_line_and_stores_nothing(talked: Journal, name: str):
    """Whatever is wrong with a file, the journal is as it was."""
    make, message = HOSTILE[name]
    lines = exported(talked).splitlines()
    with Journal(IN_MEMORY) as journal:
        with pytest.raises(JournalError, match=message) as caught:
            imported(make(lines), journal)

        assert journal.count() == 0
        assert len(str(caught.value)) < 400


def test_names_are_replaced_wherever_they_stand(journal: Journal, now: datetime, tmp_path: Path):
    """Among actors and in what was said, whole words only; jobs stay, and the digests go."""
    for actor, text in (("Ann", "ann here, Bob drives"), ("Bob", "I annoy nobody, the driver said"), ("driver", "go")):
        journal.append([EventDraft("said", {"text": text})], at=now, coach="loon", session="one", actor=actor)
    journal.append([EventDraft("signed-off", {"driver": "Zoë"})], at=now, coach="loon", session="record", actor="Kim")
    journal.append([EventDraft("said", {"text": "ask Zoë"})], at=now, coach="loon", session="one", actor="driver")
    text = exported(journal, aliases=pseudonyms(rows(journal)))
    again = imported(text)

    assert [(e.actor, e.payload) for e in again.read()] == [
        ("person-1", {"text": "person-1 here, person-2 drives"}),
        ("person-2", {"text": "I annoy nobody, the driver said"}),
        ("driver", {"text": "go"}),
        ("person-3", {"driver": "person-4"}),
        ("driver", {"text": "ask person-4"}),
    ]
    assert not any(name in text for name in ("Ann", "Bob", "Kim", "Zoë"))
    assert verify(rows(again)).sound


def test_a_pseudonymised_export_leaves_out_what_was_erased(talked: Journal):
    """A tombstone would name the trainer and prove nothing."""
    again = imported(exported(talked, aliases=pseudonyms(rows(talked))))

    assert {event.kind for event in again.read()} == {"said"}
    assert verify(rows(again), KEY).sound
