"""What is sound of a damaged file is saved; what is not is not passed off as sound."""

from __future__ import annotations

import random
import sqlite3
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.errors import FileProblem
from cabassist.journal import Journal
from cabassist.journal.chain import Row, rows, verify
from cabassist.journal.erasing import erase_session
from cabassist.journal.rescue import proved, rescue

from .conftest import added

KEY = b"k" * 32
COUNT = 400


@pytest.fixture
def written(path: Path, now: datetime) -> list[Row]:
    """A journal of several hundred events, some of them longer than a page, closed."""
    with Journal(path) as journal:
        for n in range(COUNT // 2):
            body = {"text": f"number {n} " + "x" * (9000 if n % 50 == 7 else 90)}
            added(journal, now + timedelta(minutes=n), body, {"kind": "step"}, session=f"s{n // 20}")
        return list(rows(journal))


def saved(path: Path, now: datetime) -> tuple[list[Row], int, int]:
    """What a rescue puts into the new file, without its closing remark, and its counts; the new file is sound."""
    new = path.with_name("new.sqlite")
    told = rescue(path, new, at=now, by="Kim")
    with Journal(new) as journal:
        assert verify(rows(journal), KEY).faults == []
        found = list(rows(journal))
    assert found[-1].kind == "rescued"
    assert len(found) - 1 == told.saved
    return found[:-1], told.unproved, told.lost


def contents(found: list[Row]) -> set[tuple[str, str]]:
    """What an event says, whatever its place and digest."""
    return {(row.id, row.payload) for row in found}


def test_a_sound_file_is_saved_whole(path: Path, written: list[Row], now: datetime):
    """Digests and all."""
    found, unproved, lost = saved(path, now)

    assert found == written
    assert (unproved, lost) == (0, 0)


@pytest.mark.parametrize("share", [0.9, 0.5, 0.2])
def test_of_a_file_cut_short_the_beginning_is_saved(path: Path, written: list[Row], now: datetime, share: float):
    """Nothing that was not written, and a good part of what the file still has room for beside its indexes."""
    body = path.read_bytes()
    path.write_bytes(body[: int(len(body) * share)])
    found, _, _ = saved(path, now)

    assert contents(found) <= contents(written)
    assert len(found) >= COUNT * share / 4


@pytest.mark.parametrize("seed", range(12))
def test_flipped_bits_cost_only_what_they_hit(path: Path, written: list[Row], now: datetime, seed: int):
    """Five bits anywhere, the header included: most is saved, and nothing altered is among it."""
    chance = random.Random(seed)
    body = bytearray(path.read_bytes())
    for _ in range(5):
        body[chance.randrange(len(body))] ^= 1 << chance.randrange(8)
    path.write_bytes(bytes(body))
    found, unproved, _ = saved(path, now)

    assert len(contents(found) - contents(written)) <= unproved
    assert len(found) >= COUNT * 0.6


def test_a_file_without_its_first_pages_is_saved_from_the_rest(path: Path, written: list[Row], now: datetime):
    """SQLite cannot open it any more; header, schema and the root of the table are gone."""
    body = path.read_bytes()
    path.write_bytes(b"\0" * 8192 + body[8192:])
    found, unproved, _ = saved(path, now)

    assert contents(found) <= contents(written)
    assert len(found) >= COUNT * 0.8
    assert unproved <= 2


def test_an_altered_event_is_left_out_and_its_neighbours_stay(path: Path, written: list[Row], now: datetime):
    """The file is sound for SQLite; only the chain tells."""
    with sqlite3.connect(path) as db:
        db.execute("DROP TRIGGER events_stay")
        db.execute('UPDATE events SET payload = \'{"text":"never said"}\' WHERE seq = 100')
        db.execute("UPDATE events SET digest = ? WHERE seq = 200", ("0" * 64,))
    db.close()
    found, unproved, lost = saved(path, now)

    assert contents(found) == contents(written) - {(written[99].id, written[99].payload)}
    assert (unproved, lost) == (0, 1)


def test_what_follows_a_hole_is_counted_as_unproved():
    """Three events, the middle one gone: the third is believed only because the fourth follows from it."""
    made: list[Row] = []
    for seq in range(1, 5):
        row = Row(seq, f"{seq:016x}" + "c" * 16, "t", "c", "s", "a", "said", "{}", 1, "")
        made.append(row._replace(digest=row.digest_after(made[-1].digest if made else "")))

    assert proved([made[0], made[2], made[3]]) == ([made[0], made[2], made[3]], 1, 1)
    assert proved([made[0], made[3]]) == ([made[0]], 0, 3)
    altered = made[2]._replace(id="f" * 32)  # an id out of order gives it away
    assert proved([made[0], altered, made[3]]) == ([made[0], made[3]], 0, 2)


def test_erased_words_do_not_come_back(path: Path, now: datetime):
    """Neither from a stale page nor from the log; the tombstone still fits."""
    with Journal(path) as journal:
        added(journal, now, {"text": "secret"}, {"text": "secret two"}, session="theirs")
        added(journal, now, {"text": "ours"}, session="ours")
        erase_session(journal, "theirs", by="Kim", reason="asked", at=now, key=KEY)
    body = path.read_bytes()
    path.write_bytes(b"\0" * 100 + body[100:])
    found, _, _ = saved(path, now)

    assert [row.kind for row in found] == ["erased", "erased", "said", "tombstone"]
    assert "secret" not in str(found)


def test_the_damaged_file_is_not_touched(path: Path, written: list[Row], now: datetime):
    """Not a byte, and nothing is left beside it."""
    path.write_bytes(path.read_bytes()[:90_000])
    before = path.read_bytes()
    saved(path, now)

    assert path.read_bytes() == before
    assert {file.name for file in path.parent.iterdir()} == {path.name, "new.sqlite"}


@pytest.mark.parametrize("body", [b"", b"not a database at all", bytes(range(256)) * 64])
def test_a_file_with_nothing_in_it_is_said(path: Path, now: datetime, body: bytes):
    """No new file is made."""
    path.write_bytes(body)
    with pytest.raises(FileProblem, match="no event"):
        rescue(path, path.with_name("new.sqlite"), at=now, by="Kim")

    assert not path.with_name("new.sqlite").exists()


def test_a_missing_or_taken_name_is_said(path: Path, written: list[Row], now: datetime):
    """The damaged file must be there, the new one must not."""
    with pytest.raises(FileProblem, match="cannot be read"):
        rescue(path.with_name("none"), path.with_name("new.sqlite"), at=now, by="Kim")
    with pytest.raises(FileProblem, match="exists already"):
        rescue(path, path, at=now, by="Kim")
