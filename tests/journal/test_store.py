"""The journal's file: append and read, nothing else, and nothing acknowledged is ever lost."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
import textwrap
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from cabassist.errors import FileProblem, JournalBusy, JournalDamaged, JournalError, JournalTooNew
from cabassist.journal import EventDraft, Journal
from cabassist.journal.chain import rows, verify
from cabassist.journal.store import APPLICATION_ID, IN_MEMORY, SCHEMA_VERSION

from .conftest import added, broken_links

SAVED = Path(__file__).parents[1] / "data" / "journals"

# -- append and read --------------------------------------------------------------------------------


@pytest.fixture(params=["file", "memory"])
def either(request: pytest.FixtureRequest, path: Path) -> Iterator[Journal]:
    """The same contract for a journal in a file and one in memory."""
    with Journal(path if request.param == "file" else IN_MEMORY) as made:
        yield made


def test_what_is_appended_is_read_back_as_it_was(either: Journal, now: datetime):
    """Every field comes back, in order, and `append` returns the same."""
    made = added(either, now, {"text": "°F 🚌", "n": [1, None, {"deep": True}]}, {"text": "second"})

    assert list(either.read()) == made
    assert made[0].payload == {"text": "°F 🚌", "n": [1, None, {"deep": True}]}
    assert (made[0].at, made[0].coach, made[0].session, made[0].actor) == (now, "loon", "one", "Ann")
    assert (made[0].kind, made[0].format) == ("said", 1)
    assert either.count() == 2


def test_an_empty_journal_has_nothing(either: Journal):
    """No events, no last session."""
    assert list(either.read()) == []
    assert either.count() == 0
    assert either.last_session() is None


def test_rows_are_selected_one_by_one(either: Journal, now: datetime):
    """By the statement given, with its values; an event that is added meanwhile spoils nothing."""
    added(either, now, {"n": 1}, {"n": 2})
    added(either, now, {"n": 3}, session="two")
    found = either.select("SELECT seq, session FROM events WHERE session <> ? AND seq < ? ORDER BY seq", ("two", 9))

    assert next(found) == (1, "one")
    added(either, now, {"n": 4}, session="two")
    assert list(found) == [(2, "one")]
    assert list(either.select("SELECT count(*) FROM events")) == [(4,)]


def test_a_fault_while_selecting_is_explained(journal: Journal, path: Path, now: datetime):
    """A statement that cannot be run, and a text in which bits have flipped, found only when its row is reached."""
    added(journal, now, {"n": 1})
    with pytest.raises(FileProblem, match=r"journal\.sqlite: cannot be used \(no such column: colour\)"):
        next(journal.select("SELECT colour FROM events"))

    found = journal.select("SELECT seq, CAST(x'ff' AS TEXT) FROM events")
    with pytest.raises(JournalDamaged, match="is not a sound journal"):
        list(found)


def test_appending_nothing_changes_nothing(either: Journal, now: datetime):
    """An empty batch is allowed."""
    assert added(either, now) == []
    assert either.count() == 0


def test_reading_can_be_narrowed_to_a_session_and_a_kind(either: Journal, now: datetime):
    """Both at once as well; a name nobody used gives nothing."""
    added(either, now, {"n": 1}, session="one", kind="said")
    added(either, now, {"n": 2}, session="one", kind="answered")
    added(either, now, {"n": 3}, session="two", kind="said")

    assert [e.payload["n"] for e in either.read(session="one")] == [1, 2]
    assert [e.payload["n"] for e in either.read(kind="said")] == [1, 3]
    assert [e.payload["n"] for e in either.read(session="one", kind="said")] == [1]
    assert list(either.read(session="' OR 1=1 --")) == []
    assert either.last_session() == "two"


def test_the_zone_of_a_time_is_kept(either: Journal):
    """A night arrival at home time is read back with its offset."""
    at = datetime(2026, 1, 15, 21, 40, 5, 123456, tzinfo=timezone(timedelta(hours=-6)))
    added(either, at, {"n": 1})
    (event,) = either.read()

    assert event.at == at
    assert event.at.utcoffset() == timedelta(hours=-6)


def test_ids_sort_by_time_also_when_the_clock_goes_back(either: Journal, now: datetime):
    """The order of ids is the order in which things happened, whatever the clock said."""
    for minutes in (0, 5, -600, -600, 1, 10):
        added(either, now + timedelta(minutes=minutes), {"n": 1}, {"n": 2})
    names = [event.id for event in either.read()]

    assert names == sorted(names)
    assert len(set(names)) == 12


def test_ids_go_on_after_opening_again_with_a_clock_that_went_back(path: Path, now: datetime):
    """The last id on disk counts, not the last one in memory."""
    with Journal(path) as first:
        (before,) = added(first, now, {"n": 1})
    with Journal(path) as second:
        (after,) = added(second, now - timedelta(days=30), {"n": 2})

    assert after.id > before.id


def test_the_digest_of_every_event_follows_from_the_one_before(path: Path, now: datetime):
    """Worked out again from what is read, across two openings."""
    for n in range(2):
        with Journal(path) as journal:
            added(journal, now, {"n": n, "text": "°F"}, {"n": n, "value": 0.1})
    with Journal(path) as journal:
        events = list(journal.read())

    assert len(events) == 4
    assert broken_links(events) == []


def test_a_change_made_behind_the_journals_back_breaks_the_chain(path: Path, now: datetime):
    """Someone who drops the triggers and edits a row is found out."""
    with Journal(path) as journal:
        events = added(journal, now, {"n": 1}, {"n": 2}, {"n": 3})
    with sqlite3.connect(path) as other:
        other.execute("DROP TRIGGER events_stay")
        other.execute("UPDATE events SET payload = '{\"n\":9}' WHERE seq = 2")
    other.close()
    with Journal(path) as journal:
        found = broken_links(list(journal.read()))

    assert found == [events[1].id]


# -- append-only ------------------------------------------------------------------------------------

CHANGES = [
    "UPDATE events SET payload = '{}'",
    "UPDATE events SET actor = 'nobody' WHERE seq = 1",
    "UPDATE OR REPLACE events SET seq = 2 WHERE seq = 1",
    "DELETE FROM events",
    "DELETE FROM events WHERE seq = 2",
]
REPLACES = [
    "INSERT OR REPLACE INTO events SELECT * FROM events WHERE seq = 1",
    "REPLACE INTO events SELECT 3, id, at, coach, session, 'nobody', kind, payload, format, digest FROM events WHERE seq = 1",
]


@pytest.mark.parametrize("statement", CHANGES + REPLACES)
def test_the_journal_refuses_every_change(journal: Journal, now: datetime, statement: str):
    """UPDATE, DELETE and REPLACE are refused with a sentence, and everything is as it was."""
    before = added(journal, now, {"n": 1}, {"n": 2})
    with pytest.raises(sqlite3.IntegrityError, match="the journal is append-only: add a correction instead"):
        journal._db.execute(statement)

    assert list(journal.read()) == before


@pytest.mark.parametrize(
    "statement",
    [
        *CHANGES,
        *(statement for statement in REPLACES),
    ],
)
def test_another_programs_connection_is_refused_too(path: Path, now: datetime, statement: str):
    """The database itself says no, also to a tool that knows nothing of us."""
    with Journal(path) as journal:
        before = added(journal, now, {"n": 1}, {"n": 2})
    other = sqlite3.connect(path, isolation_level=None)
    try:
        with pytest.raises(sqlite3.IntegrityError, match="append-only"):
            other.execute(statement)
    finally:
        other.close()
    with Journal(path) as journal:
        assert list(journal.read()) == before


def test_a_journal_has_nothing_but_append_and_read():
    """No method of it can change or remove an event."""
    public = {name for name in vars(Journal) if not name.startswith("_")}

    assert public == {"append", "read", "select", "last_session", "count", "close"}


@pytest.mark.parametrize(
    "statement",
    [
        *CHANGES,
        *REPLACES,
        "INSERT INTO events SELECT 9, 'x', at, coach, session, actor, kind, payload, format, digest FROM events LIMIT 1",
        "WITH two AS (SELECT 2 AS seq) DELETE FROM events WHERE seq IN (SELECT seq FROM two) RETURNING seq",
        "DROP TRIGGER events_remain",
        "DROP TABLE events",
    ],
)
def test_a_selection_changes_nothing(journal: Journal, now: datetime, statement: str):
    """Not even what the triggers let pass; and the next append goes on."""
    before = added(journal, now, {"n": 1}, {"n": 2})
    schema = list(journal.select("SELECT sql FROM sqlite_master"))
    with pytest.raises(FileProblem, match="is read-only"):
        list(journal.select(statement))

    assert list(journal.read()) == before
    assert list(journal.select("SELECT sql FROM sqlite_master")) == schema
    assert len(added(journal, now, {"n": 3})) == 1


# -- all or none ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "bad",
    [{"n": {1, 2}}, {"n": object()}, {"n": "\ud800"}, {"n": float("nan")}],
    ids=["set", "object", "lone surrogate", "not a number"],
)
def test_a_batch_is_stored_whole_or_not_at_all(journal: Journal, now: datetime, bad: dict[str, Any]):
    """When the second event cannot be stored, the first is not there either, and the journal goes on."""
    before = added(journal, now, {"n": 0})
    with pytest.raises((TypeError, ValueError, JournalError)):
        added(journal, now, {"n": 1}, bad, {"n": 3})

    assert list(journal.read()) == before
    added(journal, now, {"n": 4})
    assert [e.payload["n"] for e in journal.read()] == [0, 4]
    assert broken_links(list(journal.read())) == []


def test_a_payload_that_is_no_json_does_not_count_as_damage(journal: Journal, now: datetime):
    """The file is sound; only the fault of the caller is reported."""
    with pytest.raises((ValueError, JournalError)) as caught:
        added(journal, now, {"n": float("nan")})

    assert not isinstance(caught.value, JournalDamaged)


# -- crashes ----------------------------------------------------------------------------------------

WRITER = """
    import sys
    from datetime import datetime, timezone
    from cabassist.journal import EventDraft, Journal

    journal = Journal(sys.argv[1])
    n = 0
    while True:
        drafts = [EventDraft("said", {"n": n + i, "text": "x" * 200}) for i in range(3)]
        made = journal.append(drafts, at=datetime.now(timezone.utc), coach="loon", session="one", actor="Ann")
        print(*(event.id for event in made), flush=True)
        n += 3
"""


def test_a_process_that_is_killed_loses_nothing_that_was_acknowledged(path: Path, now: datetime):
    """Killed four times at a random moment of appending: all is there, in whole batches, and the chain holds."""
    chance = random.Random(15)
    acknowledged: list[str] = []
    for _ in range(4):
        writer = subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(WRITER), str(path)], stdout=subprocess.PIPE, text=True
        )
        assert writer.stdout is not None
        acknowledged += writer.stdout.readline().split()
        time.sleep(chance.uniform(0.02, 0.2))
        writer.kill()
        acknowledged += [name for line in writer.stdout if line.endswith("\n") for name in line.split()]
        writer.stdout.close()
        writer.wait()
        with Journal(path) as journal:
            events = list(journal.read())
        on_disk = [event.id for event in events]
        # at most the batch in flight is more than was acknowledged, and it is whole
        assert on_disk[: len(acknowledged)] == acknowledged
        assert len(on_disk) - len(acknowledged) in (0, 3)
        acknowledged = on_disk
        assert broken_links(events) == []
    with Journal(path) as journal:
        added(journal, now, {"n": 1})

        assert journal.count() == len(acknowledged) + 1


def test_an_append_is_on_the_disk_when_it_returns(journal: Journal, path: Path, now: datetime):
    """WAL with synchronous FULL: another connection sees it while ours is still open."""
    added(journal, now, {"n": 1})
    other = sqlite3.connect(path)
    seen = other.execute("SELECT count(*) FROM events").fetchone()[0]
    other.close()

    assert seen == 1
    assert journal._db.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
    assert journal._db.execute("PRAGMA synchronous").fetchone()[0] == 2


# -- other files ------------------------------------------------------------------------------------


def database(path: Path, script: str) -> bytes:
    """A database made by this script; its bytes."""
    made = sqlite3.connect(path)
    made.executescript(script)
    made.close()
    return path.read_bytes()


NEWER = f"""
    CREATE TABLE events (seq INTEGER PRIMARY KEY, body TEXT);
    INSERT INTO events VALUES (1, 'something new');
    PRAGMA application_id = {APPLICATION_ID};
    PRAGMA user_version = {SCHEMA_VERSION + 1};
"""


def test_a_journal_of_a_newer_version_is_refused(path: Path):
    """The message names the file, both versions and what to do."""
    database(path, NEWER)
    with pytest.raises(JournalTooNew) as caught:
        Journal(path)

    assert str(path) in str(caught.value)
    assert f"journal version {SCHEMA_VERSION + 1}" in str(caught.value)
    assert str(caught.value).endswith("Update cabassist, or choose another file with --journal.")


def test_a_newer_journal_in_wal_mode_is_not_touched(path: Path):
    """Not one byte of the file changes."""
    before = database(path, "PRAGMA journal_mode = WAL;" + NEWER)
    with pytest.raises(JournalTooNew):
        Journal(path)

    assert path.read_bytes() == before


SWITCHED = "WAL mode is switched on before the file is known to be ours"


def test_a_newer_journal_is_not_touched_in_any_mode(path: Path):
    """“Nothing was changed” is true, whichever journal mode the newer version uses."""
    before = database(path, NEWER)
    with pytest.raises(JournalTooNew):
        Journal(path)

    assert path.read_bytes() == before


def test_another_programs_database_is_refused(path: Path):
    """Our tables are not put beside someone else's."""
    database(path, "CREATE TABLE photos (name TEXT); INSERT INTO photos VALUES ('a.jpg');")
    with pytest.raises(JournalError, match=r"is a database, but not a cabassist journal\. Choose another file"):
        Journal(path)

    assert sqlite3.connect(path).execute("SELECT name FROM sqlite_master").fetchall() == [("photos",)]


def test_another_programs_database_is_not_touched(path: Path):
    """Not one byte of it changes: the other program may not cope with another mode."""
    before = database(path, "CREATE TABLE photos (name TEXT);")
    with pytest.raises(JournalError):
        Journal(path)

    assert path.read_bytes() == before


def test_an_empty_database_of_another_program_is_refused(path: Path):
    """It says whose it is, even before it has tables."""
    database(path, "PRAGMA application_id = 77;")
    with pytest.raises(JournalError, match="not a cabassist journal"):
        Journal(path).close()


@pytest.mark.parametrize(
    "body", [b"hello\n", b"\x00" * 5000, bytes(range(256)) * 40, b"SQLite format 3\x00" + b"x" * 3000]
)
def test_a_file_that_is_no_database_is_damaged_and_left_alone(path: Path, body: bytes):
    """It is named, kept as it is, and another one is proposed."""
    path.write_bytes(body)
    with pytest.raises(JournalDamaged) as caught:
        Journal(path)

    assert str(caught.value).startswith(f"{path}: is not a sound journal")
    assert str(caught.value).endswith("Keep the file, and start a new one with --journal.")
    assert path.read_bytes() == body


def test_an_empty_file_becomes_a_journal(path: Path, now: datetime):
    """What a crash left at the very first start does no harm."""
    path.touch()
    with Journal(path) as journal:
        added(journal, now, {"n": 1})

        assert journal.count() == 1


def test_damage_inside_the_file_is_reported_when_it_is_met(path: Path, now: datetime):
    """Reading and appending say that the file is not sound; neither gives a raw error of SQLite."""
    with Journal(path) as journal:
        added(journal, now, *({"n": n, "text": "x" * 300} for n in range(200)))
    body = path.read_bytes()
    path.write_bytes(body[: 3 * 4096] + b"A" * (len(body) - 3 * 4096))
    with Journal(path) as journal:
        with pytest.raises(JournalDamaged, match="Keep the file"):
            list(journal.read())
        with pytest.raises(JournalDamaged, match="Keep the file"):
            added(journal, now, {"n": 1})


def test_a_file_cut_short_is_damaged(path: Path, now: datetime):
    """Half a file is never taken for a whole one."""
    with Journal(path) as journal:
        added(journal, now, *({"n": n, "text": "x" * 300} for n in range(200)))
    path.write_bytes(path.read_bytes()[:9000])
    with pytest.raises(JournalDamaged), Journal(path) as journal:
        list(journal.read())


# -- places that cannot be used ---------------------------------------------------------------------


def test_a_folder_is_not_a_journal(tmp_path: Path):
    """The message names it and what to do."""
    with pytest.raises(FileProblem, match=r"cannot be used .*Check the folder, or choose another with --journal\."):
        Journal(tmp_path)


def test_a_file_where_the_folder_should_be(tmp_path: Path):
    """The folder cannot be made; nothing is changed."""
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    with pytest.raises(FileProblem, match=r"cannot be made .*Choose another with --journal\."):
        Journal(tmp_path / "data" / "deep" / "journal.sqlite")


def test_missing_folders_are_made(tmp_path: Path):
    """The first start needs no preparation."""
    path = tmp_path / "a" / "b" / "journal.sqlite"
    Journal(path).close()

    assert path.is_file()


def test_a_read_only_file_is_read_but_not_written(open_folder: Path, now: datetime, as_nobody: Callable[[], Any]):
    """What is in it can be looked at; an append says that it is read-only, and nothing is lost."""
    path = open_folder / "journal.sqlite"
    with Journal(path) as journal:
        before = added(journal, now, {"n": 1})
    path.chmod(0o444)
    with as_nobody(), Journal(path) as journal:
        with pytest.raises(
            FileProblem, match=r"is read-only\. Change its permissions, or choose another with --journal"
        ):
            added(journal, now, {"n": 2})

        assert list(journal.read()) == before


def test_a_read_only_folder_is_named(open_folder: Path, as_nobody: Callable[[], Any]):
    """A journal cannot be begun there."""
    open_folder.chmod(0o555)
    with as_nobody(), pytest.raises(FileProblem, match=r"journal\.sqlite: cannot be used"):
        Journal(open_folder / "journal.sqlite")


def test_a_file_that_may_not_be_read_is_named(open_folder: Path, as_nobody: Callable[[], Any]):
    """Someone else's journal is not ours to open."""
    path = open_folder / "journal.sqlite"
    Journal(path).close()
    path.chmod(0)
    with as_nobody(), pytest.raises(FileProblem, match=r"journal\.sqlite: cannot be used"):
        Journal(path)


def test_a_full_disk_loses_only_the_entry_that_did_not_fit(journal: Journal, path: Path, now: datetime):
    """The message says so; what was there stays, the batch is whole or absent, and it goes on once there is room.

    The disk is played by SQLite's own limit of pages, which fails with the same error.
    """
    added(journal, now, {"n": 0})
    journal._db.execute("PRAGMA max_page_count = 16")
    stored = 1

    def until_full() -> None:
        nonlocal stored
        while True:
            added(journal, now, {"n": stored, "text": "x" * 900}, {"n": stored + 1, "text": "x" * 900})
            stored += 2

    with pytest.raises(JournalError, match=r"the disk is full; the last entry was not saved\. Free some space"):
        until_full()

    assert [e.payload["n"] for e in journal.read()] == list(range(stored))
    journal._db.execute("PRAGMA max_page_count = 100000")
    added(journal, now, {"n": stored})
    assert journal.count() == stored + 1
    assert broken_links(list(journal.read())) == []


# -- several at once --------------------------------------------------------------------------------

HOLDER = """
    import sqlite3, sys
    db = sqlite3.connect(sys.argv[1], isolation_level=None)
    db.execute(sys.argv[2])
    print("held", flush=True)
    sys.stdin.read()
"""


@contextmanager
def held(path: Path, lock: str = "BEGIN IMMEDIATE") -> Iterator[None]:
    """Another process that holds the journal's lock."""
    other = subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(HOLDER), str(path), lock],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert other.stdin is not None
    assert other.stdout is not None
    assert other.stdout.readline() == "held\n"
    try:
        yield
    finally:
        other.stdin.close()
        other.wait()
        other.stdout.close()


def test_a_journal_that_another_process_writes_to_is_busy(path: Path, now: datetime):
    """After the short wait that was asked for; later the append works, and nothing was lost."""
    with Journal(path, busy_timeout_s=0.1) as journal:
        added(journal, now, {"n": 1})
        with held(path):
            begun = time.perf_counter()
            with pytest.raises(JournalBusy) as caught:
                added(journal, now, {"n": 2})
            waited = time.perf_counter() - begun
            seen = journal.count()
        added(journal, now, {"n": 3})

        assert str(caught.value).startswith(f"{path}: another cabassist is writing to it.")
        assert str(caught.value).endswith("Close the other one, or choose another file with --journal.")
        assert 0.05 < waited < 2
        assert seen == 1
        assert [e.payload["n"] for e in journal.read()] == [1, 3]


def test_a_journal_being_made_by_another_process_is_busy(path: Path):
    """A file that is locked whole cannot be opened yet; the message is the same."""
    database(path, "")
    with held(path, "BEGIN EXCLUSIVE"), pytest.raises(JournalBusy):
        Journal(path, busy_timeout_s=0.1)


def test_two_open_journals_take_turns(path: Path, now: datetime):
    """Their events interleave with one order of ids and one chain."""
    with Journal(path) as first, Journal(path) as second:
        for n in range(5):
            added(first, now, {"n": n}, session="first")
            added(second, now - timedelta(hours=1), {"n": n}, session="second")
        events = list(first.read())

    assert [e.session for e in events] == ["first", "second"] * 5
    assert [e.id for e in events] == sorted(e.id for e in events)
    assert broken_links(events) == []


def test_two_first_starts_at_the_same_time_both_work(path: Path):
    """Whoever comes second finds the tables made and uses them."""
    other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
    other.execute("PRAGMA journal_mode = WAL")
    other.execute("BEGIN IMMEDIATE")
    outcome: list[object] = []

    def begin() -> None:
        try:
            Journal(path).close()
            outcome.append("opened")
        except Exception as error:
            outcome.append(error)

    waiting = threading.Thread(target=begin)
    waiting.start()
    time.sleep(0.3)
    with Journal(IN_MEMORY) as pattern:
        made = pattern._db.execute("SELECT sql FROM sqlite_master WHERE sql NOT NULL").fetchall()
    for (statement,) in made:
        other.execute(statement)
    other.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    other.execute(f"PRAGMA user_version = {SCHEMA_VERSION}")
    other.execute("COMMIT")
    other.close()
    waiting.join()

    assert outcome == ["opened"]


# -- closing, and old journals ----------------------------------------------------------------------


def test_closing_twice_is_fine(path: Path):
    """The end of a block and an explicit close may both come."""
    journal = Journal(path)
    journal.close()
    journal.close()

    assert path.is_file()


@pytest.mark.parametrize("version", range(1, SCHEMA_VERSION + 1))
def test_a_journal_of_every_version_is_read_for_ever(path: Path, now: datetime, version: int):
    """A journal saved by each version is opened, read, and gone on with."""
    database(path, (SAVED / f"version-{version}.sql").read_text(encoding="utf-8"))
    with Journal(path) as journal:
        before = list(journal.read())
        added(journal, now, {"text": "later"})
        after = list(journal.read())

    assert [e.kind for e in before] == ["said", "asked", "answered", "said", "reading", "answered"]
    assert before[0].payload == {"text": "how do I dump the waste tank"}
    assert before[0].at == datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
    assert after[: len(before)] == before
    assert broken_links(after) == []


def test_events_are_kept_as_they_are_whoever_holds_them(journal: Journal, now: datetime):
    """Changing the payload that was handed in later does not change the record."""
    payload = {"n": 1}
    journal.append([EventDraft("said", payload)], at=now, coach="loon", session="one", actor="Ann")
    payload["n"] = 2

    assert [e.payload for e in journal.read()] == [{"n": 1}]


def test_threads_of_one_process_wait_for_each_other(now: datetime):
    """A note of the ear and a typed turn share one journal: every entry is kept, and the chain is whole."""
    with Journal(IN_MEMORY) as journal:

        def say(who: str) -> None:
            for number in range(60):
                draft = EventDraft("said", {"text": f"{who} {number}"})
                journal.append([draft, draft], at=now, coach="c", session="s", actor=who)
                list(journal.select("SELECT count(*) FROM events"))

        with ThreadPoolExecutor(4) as pool:
            for done in [pool.submit(say, f"thread {number}") for number in range(4)]:
                done.result()

        assert journal.count() == 480
        assert not verify(rows(journal)).faults


def test_a_file_that_another_process_is_just_making_is_no_stranger(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """What the file is, is read as of one moment: half of it before and half after the other's start reads as no journal."""
    path = tmp_path / "new.sqlite"
    connect = sqlite3.connect
    meanwhile: list[str] = []

    class Between(sqlite3.Connection):
        """Lets another one make the journal between two looks at it."""

        def execute(self, sql: str, *rest: object) -> sqlite3.Cursor:
            if "sqlite_master" in sql and not meanwhile:
                meanwhile.append(sql)
                monkeypatch.setattr(sqlite3, "connect", connect)
                with suppress(JournalBusy):
                    Journal(path, busy_timeout_s=0.05).close()
            return super().execute(sql, *rest)

    monkeypatch.setattr(sqlite3, "connect", lambda *args, **named: connect(*args, factory=Between, **named))
    with Journal(path) as journal:
        assert meanwhile
        assert list(journal.read()) == []
