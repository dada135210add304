"""The record is proved to be as it was written, and an erased session leaves proof behind."""

from __future__ import annotations

import json
import sqlite3
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.errors import JournalError
from cabassist.journal import Journal
from cabassist.journal.chain import file_faults, rows, verify
from cabassist.journal.erasing import erase_session, signing_key
from cabassist.journal.store import RECORD

from .conftest import added

KEY = b"k" * 32
SECRET = "my knee hurts since Duluth"


def tampered(path: Path, *statements: str) -> None:
    """Someone with the file in hand who takes the guards away first."""
    with sqlite3.connect(path) as db:
        for name in ("events_stay", "events_remain", "events_once"):
            db.execute(f"DROP TRIGGER IF EXISTS {name}")
        for statement in statements:
            db.execute(statement)
    db.close()


def talked(journal: Journal, now: datetime) -> None:
    """Two sessions, taking turns."""
    for minute in range(3):
        at = now + timedelta(minutes=minute)
        added(journal, at, {"text": f"ours {minute}"}, session="ours")
        added(journal, at, {"text": f"{SECRET} {minute}"}, session="theirs")


def test_a_record_that_nobody_touched_is_sound(journal: Journal, now: datetime):
    """Every digest follows, and the head is that of the last event."""
    talked(journal, now)
    verdict = verify(rows(journal))

    assert verdict.sound
    assert verdict.events == 6
    assert verdict.head == [event.digest for event in journal.read()][-1]


def test_an_empty_record_is_sound(journal: Journal):
    """Nothing said, nothing wrong."""
    assert verify(rows(journal)).sound


@pytest.mark.parametrize(
    ("statement", "seq", "message"),
    [
        ('UPDATE events SET payload = \'{"text":"x"}\' WHERE seq = 3', 3, "does not follow"),
        ("UPDATE events SET actor = 'Bob' WHERE seq = 1", 1, "does not follow"),
        ("UPDATE events SET at = '2026-01-16T21:40:00+00:00' WHERE seq = 6", 6, "does not follow"),
        ("DELETE FROM events WHERE seq = 1", 2, "1 before it missing"),
        ("DELETE FROM events WHERE seq IN (3, 4)", 5, "2 before it missing"),
        ("UPDATE events SET kind = 'erased', payload = '{}', actor = '' WHERE seq = 2", 2, "words are left"),
        (
            "UPDATE events SET kind = 'erased', payload = '{}', actor = '', id = substr(id, 1, 16) || '0000000000000000'"
            " WHERE seq = 2",
            2,
            "no tombstone",
        ),
    ],
)
def test_whatever_is_altered_is_found_at_its_place(
    journal: Journal, path: Path, now: datetime, statement: str, seq: int, message: str
):
    """Changed, removed or blanked without a tombstone: the first fault names the event."""
    talked(journal, now)
    tampered(path, statement)
    verdict = verify(rows(journal))

    assert not verdict.sound
    assert verdict.faults[0].seq == seq
    assert message in verdict.faults[0].message


def test_a_tail_cut_off_shows_against_a_digest_that_was_written_down(journal: Journal, path: Path, now: datetime):
    """The chain alone cannot know that there was more."""
    talked(journal, now)
    head = verify(rows(journal)).head
    tampered(path, "DELETE FROM events WHERE seq > 4")

    assert verify(rows(journal)).sound
    assert "cut off" in verify(rows(journal), expected=head).faults[0].message


def test_a_head_written_down_earlier_is_still_there_later(journal: Journal, now: datetime):
    """New events after it do no harm."""
    talked(journal, now)
    head = verify(rows(journal)).head
    added(journal, now + timedelta(hours=1), {"text": "more"})

    assert verify(rows(journal), expected=head).sound


def test_an_erased_session_leaves_no_word_and_the_chain_holds(journal: Journal, path: Path, now: datetime):
    """Neither the file nor its log holds the words, the name or the chance of the ids; the rest is untouched."""
    talked(journal, now)
    before = [event for event in journal.read() if event.session == "ours"]
    ids = [event.id for event in journal.read(session="theirs")]
    erase_session(journal, "theirs", by="Kim", reason="asked for it", at=now + timedelta(days=1), key=KEY)
    raw = b"".join(file.read_bytes() for file in path.parent.glob(path.name + "*"))
    verdict = verify(rows(journal), KEY)

    assert verdict.sound
    assert (verdict.erased, verdict.events) == (3, 7)
    assert [event for event in journal.read() if event.session == "ours"] == before
    assert [(e.kind, e.actor, e.payload) for e in journal.read(session="theirs")] == [("erased", "", {})] * 3
    assert SECRET.encode() not in raw
    assert not any(name.encode() in raw for name in ids)
    (stone,) = verdict.tombstones
    assert (stone.session, stone.by, stone.reason, stone.events, stone.signed) == (
        "theirs",
        "Kim",
        "asked for it",
        3,
        True,
    )


def test_a_tombstone_is_not_the_last_conversation(journal: Journal, now: datetime):
    """A driver who comes back is offered the own walk, not the trainer's work."""
    talked(journal, now)
    erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)

    assert journal.last_session() == "theirs"
    assert [event.session for event in journal.read(kind="tombstone")] == [RECORD]


def test_a_session_that_is_talked_in_again_can_be_erased_again(journal: Journal, now: datetime):
    """Each tombstone accounts for its own part."""
    talked(journal, now)
    erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)
    added(journal, now + timedelta(hours=1), {"text": "again"}, session="theirs")
    erase_session(journal, "theirs", by="Kim", reason="again", at=now, key=KEY)
    verdict = verify(rows(journal), KEY)

    assert verdict.sound
    assert [stone.events for stone in verdict.tombstones] == [3, 1]


@pytest.mark.parametrize("session", ["nobody", RECORD, ""])
def test_what_cannot_be_erased_is_said(journal: Journal, now: datetime, session: str):
    """A name nobody used, and the record's own events."""
    talked(journal, now)
    with pytest.raises(JournalError):
        erase_session(journal, session, by="Kim", reason="asked", at=now, key=KEY)

    assert journal.count() == 6


def test_an_erased_session_is_not_erased_twice(journal: Journal, now: datetime):
    """The second request has nothing to do."""
    talked(journal, now)
    erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)
    with pytest.raises(JournalError, match="nothing to erase"):
        erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)


def forged(key: bytes, journal: Journal) -> dict[str, object]:
    """A tombstone's payload with another reason, its signature kept."""
    (stone,) = journal.read(kind="tombstone")
    return {**stone.payload, "reason": "no reason"}


def test_a_forged_tombstone_is_found_with_the_key(journal: Journal, path: Path, now: datetime):
    """Rewritten with a fitting digest, so that the chain holds; only the signature gives it away."""
    talked(journal, now)
    erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)
    last = list(rows(journal))[-1]
    body = json.dumps(forged(KEY, journal), sort_keys=True, separators=(",", ":"))
    made = last._replace(payload=body)
    digest = made.digest_after(list(rows(journal))[-2].digest)
    tampered(path, f"UPDATE events SET payload = '{body}', digest = '{digest}' WHERE seq = {last.seq}")

    assert verify(rows(journal)).sound
    assert "signature" in verify(rows(journal), KEY).faults[0].message


BLANK = "kind = 'erased', actor = '', payload = '{}', id = substr(id, 1, 16) || '0000000000000000'"


@pytest.mark.parametrize(
    "statement",
    [
        f"UPDATE events SET {BLANK} WHERE session = 'ours'",
        f"UPDATE events SET {BLANK} WHERE session = 'theirs' AND kind = 'said'",
        f"UPDATE events SET {BLANK} WHERE kind = 'tombstone'",
        f"UPDATE events SET {BLANK}, at = '2020-01-01T00:00:00+00:00' WHERE session = 'named'",
        f"UPDATE events SET {BLANK}, digest = 'x' WHERE session = 'named'",
        f"UPDATE events SET {BLANK}, seq = 90 WHERE session = 'named'",
        "UPDATE events SET kind = 'erased' WHERE session = 'named'",
        "UPDATE events SET payload = '{\"text\":\"better\"}' WHERE session = 'named'",
        "UPDATE events SET actor = 'Ann' WHERE kind = 'erased'",
        "DELETE FROM events WHERE kind = 'erased'",
    ],
)
def test_the_way_of_a_tombstone_leads_nowhere_else(journal: Journal, now: datetime, statement: str):
    """A session without one, what was said after it, the stone itself, and any change beside the blanking."""
    talked(journal, now)
    erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)
    added(journal, now + timedelta(hours=1), {"text": "after"}, session="theirs")
    added(journal, now + timedelta(hours=1), {"text": "not yet blanked"}, session="named")
    added(journal, now + timedelta(hours=1), {"session": "named"}, session=RECORD, kind="tombstone")
    before = list(rows(journal))
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        journal._db.execute(statement)

    assert list(rows(journal)) == before


def test_the_key_is_made_once_for_its_owner_only(tmp_path: Path):
    """Thirty-two bytes, the same the next time, and nobody else may read it."""
    path = tmp_path / "new" / "key"

    assert signing_key(path, make=False) is None
    made = signing_key(path, make=True)
    assert made is not None
    assert len(made) == 32
    assert signing_key(path, make=True) == made
    assert path.stat().st_mode & 0o077 == 0


def test_a_text_that_a_flipped_bit_made_something_else_is_a_fault_and_no_crash(
    journal: Journal, path: Path, now: datetime
):
    """SQLite hands such a value out as bytes or nothing; the event is named all the same."""
    talked(journal, now)
    with sqlite3.connect(path) as db:
        db.execute("PRAGMA writable_schema = ON")
        db.execute("UPDATE sqlite_master SET sql = replace(sql, ') STRICT', ')') WHERE name = 'events'")
    db.close()
    tampered(path, "UPDATE events SET actor = x'ff00' WHERE seq = 2", "UPDATE events SET session = x'00' WHERE seq = 4")
    with Journal(path) as again:
        verdict = verify(rows(again))

    assert {fault.seq for fault in verdict.faults} == {2, 4}


def test_a_damaged_index_is_found_too(journal: Journal, path: Path, now: datetime):
    """Every event is as it was, but a search would miss one."""
    talked(journal, now)
    assert file_faults(journal) == []
    root = journal._db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'events_by_kind'").fetchone()[0]
    journal.close()
    body = bytearray(path.read_bytes())
    at = body.index(b"said", (root - 1) * 4096)
    body[at : at + 4] = b"sold"
    path.write_bytes(bytes(body))
    with Journal(path) as again:
        assert verify(rows(again)).sound
        assert "the file: " in file_faults(again)[0].message
