"""The journal's file: SQLite in WAL mode, flushed at every append, closed to change.

A process that is killed at any moment loses at most the append it was in. Corrections are new events;
the database itself refuses UPDATE, DELETE and REPLACE. The one exception is blanking an event that a later
tombstone names (see `erasing`); the database checks that nothing else changes with it.
"""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any

from cabassist.errors import FileProblem, JournalBusy, JournalDamaged, JournalError, JournalTooNew
from cabassist.journal.events import FORMAT, Event, EventDraft, canonical, chained, new_id

SCHEMA_VERSION = 2
APPLICATION_ID = 0x43414241
BUSY_TIMEOUT_S = 3.0
IN_MEMORY = ":memory:"
RECORD = "record"
"""The session of events about the record itself: tombstones, rescues, a trainer's marks."""
TOMBSTONE = "tombstone"
ERASED = "erased"

_GUARDS = f"""
CREATE TRIGGER events_stay BEFORE UPDATE ON events
WHEN NOT (
    OLD.kind NOT IN ('{TOMBSTONE}', '{ERASED}') AND NEW.kind = '{ERASED}' AND NEW.actor = '' AND NEW.payload = '{{}}'
    AND NEW.id = substr(OLD.id, 1, 16) || '0000000000000000'
    AND NEW.seq = OLD.seq AND NEW.at = OLD.at AND NEW.coach = OLD.coach AND NEW.session = OLD.session
    AND NEW.format = OLD.format AND NEW.digest = OLD.digest
    AND EXISTS (
        SELECT 1 FROM events AS stone WHERE stone.kind = '{TOMBSTONE}' AND stone.seq > OLD.seq
        AND json_extract(stone.payload, '$.session') = OLD.session
    )
)
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
CREATE TRIGGER events_remain BEFORE DELETE ON events
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
CREATE TRIGGER events_once BEFORE INSERT ON events
WHEN EXISTS (SELECT 1 FROM events WHERE seq = NEW.seq OR id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: add a correction instead'); END;
"""
_SCHEMA = f"""
CREATE TABLE events (
    seq INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    at TEXT NOT NULL,
    coach TEXT NOT NULL,
    session TEXT NOT NULL,
    actor TEXT NOT NULL,
    kind TEXT NOT NULL,
    payload TEXT NOT NULL CHECK (json_valid(payload)),
    format INTEGER NOT NULL,
    digest TEXT NOT NULL
) STRICT;
CREATE INDEX events_by_session ON events (session, seq);
CREATE INDEX events_by_kind ON events (kind, seq);
{_GUARDS}
PRAGMA application_id = {APPLICATION_ID};
PRAGMA user_version = {SCHEMA_VERSION};
"""
_FROM_1_TO_2 = f"""
DROP TRIGGER IF EXISTS events_stay;
DROP TRIGGER IF EXISTS events_remain;
DROP TRIGGER IF EXISTS events_once;
{_GUARDS}
PRAGMA user_version = 2;
"""
"""Version 2 lets a session be blanked that a tombstone names; the events are the same."""
_COLUMNS = "id, at, coach, session, actor, kind, payload, format, digest"


class Journal:
    """An open journal.

    Raises:
        FileProblem: the file or its folder cannot be used.
        JournalTooNew: a newer cabassist wrote it.
        JournalBusy: another process holds it.
        JournalDamaged: SQLite says the file is not sound.
    """

    def __init__(self, path: Path | str, busy_timeout_s: float = BUSY_TIMEOUT_S) -> None:
        self.path = str(path)
        self._lock = threading.RLock()
        if self.path != IN_MEMORY:
            try:
                Path(self.path).parent.mkdir(parents=True, exist_ok=True)
            except OSError as error:
                raise FileProblem(
                    path, f"cannot be made ({error.strerror}).", "Choose another with --journal."
                ) from None
        with self._explained():
            self._db = sqlite3.connect(self.path, timeout=busy_timeout_s, isolation_level=None, check_same_thread=False)
        try:
            self._open()
        except BaseException:
            self._db.close()
            raise

    def _open(self) -> None:
        with self._explained():
            self._db.execute("PRAGMA recursive_triggers = ON")  # else INSERT OR REPLACE slips past the delete trigger
            mark, version, tables = self._what_it_is()
            if mark not in (0, APPLICATION_ID) or (tables and mark != APPLICATION_ID):
                raise JournalError(
                    f"{self.path}: is a database, but not a cabassist journal. Choose another file with --journal."
                )
            if version > SCHEMA_VERSION:
                raise JournalTooNew(
                    f"{self.path}: was written by a newer cabassist (journal version {version}, this one knows {SCHEMA_VERSION}). "
                    "Nothing was changed. Update cabassist, or choose another file with --journal."
                )
            self._db.execute("PRAGMA journal_mode = WAL")  # only now: a file that is not ours stays as it is
            self._db.execute("PRAGMA synchronous = FULL")
            if not tables:
                self._bring_to(_SCHEMA, from_version=0)
            elif version < SCHEMA_VERSION:
                # An old journal that cannot be written, or is being written to, can still be read.
                with suppress(sqlite3.OperationalError):
                    self._bring_to(_FROM_1_TO_2, from_version=version)

    def _what_it_is(self) -> tuple[int, int, int]:
        """Application id, version and number of tables, all of one moment: another process may just be making the file."""
        self._db.execute("BEGIN")
        try:
            about = ("PRAGMA application_id", "PRAGMA user_version", "SELECT count(*) FROM sqlite_master")
            mark, version, tables = (int(self._db.execute(one).fetchone()[0]) for one in about)
        finally:
            if self._db.in_transaction:
                self._db.execute("ROLLBACK")
        return mark, version, tables

    def _bring_to(self, script: str, from_version: int) -> None:
        """Run a script in one transaction, unless another process was quicker while we waited for the lock."""
        with self._whole():
            if self._db.execute("PRAGMA user_version").fetchone()[0] == from_version:
                statement = ""  # one by one: `executescript` would end our transaction first
                for line in script.splitlines(keepends=True):
                    statement += line
                    if sqlite3.complete_statement(statement):
                        self._db.execute(statement)
                        statement = ""

    @contextmanager
    def _whole(self) -> Iterator[None]:
        """One transaction; threads of this process wait for each other, for they share the connection."""
        with self._lock:
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                raise

    @contextmanager
    def _transaction(self) -> Iterator[sqlite3.Connection]:
        """All that is written within, or nothing of it; SQLite's errors as ours."""
        with self._explained(), self._whole():
            yield self._db

    @contextmanager
    def _explained(self) -> Iterator[None]:
        """Turn SQLite's errors into ours, naming the file and what to do."""
        try:
            yield
        except sqlite3.OperationalError as error:
            text = str(error)
            if "locked" in text or "busy" in text:
                raise JournalBusy(
                    f"{self.path}: another cabassist is writing to it. Close the other one, or choose another file with --journal."
                ) from None
            if "full" in text:
                raise JournalError(
                    f"{self.path}: the disk is full; the last entry was not saved. Free some space and say it again."
                ) from None
            if "readonly" in text or "read-only" in text:
                raise FileProblem(
                    self.path, "is read-only.", "Change its permissions, or choose another with --journal."
                ) from None
            if "decode" in text:  # a text that is none: bits have flipped
                raise self._damaged(text) from None
            raise FileProblem(
                self.path, f"cannot be used ({text}).", "Check the folder, or choose another with --journal."
            ) from None
        except sqlite3.IntegrityError as error:
            raise JournalError(f"{self.path}: the entry was refused ({error}). Nothing was changed.") from None
        except sqlite3.DatabaseError as error:
            raise self._damaged(str(error)) from None

    def _damaged(self, why: str) -> JournalDamaged:
        return JournalDamaged(
            f"{self.path}: is not a sound journal ({why}). `cabassist journal rescue` saves what is sound of it. "
            "Keep the file, and start a new one with --journal."
        )

    def append(
        self, drafts: Sequence[EventDraft], *, at: datetime, coach: str, session: str, actor: str
    ) -> list[Event]:
        """Add events, all or none, and return them as they now stand on disk."""
        with self._transaction():
            return self._add(drafts, at=at, coach=coach, session=session, actor=actor)

    def _add(self, drafts: Sequence[EventDraft], *, at: datetime, coach: str, session: str, actor: str) -> list[Event]:
        """Add events within a transaction that is open."""
        made: list[Event] = []
        last = self._db.execute("SELECT id, digest FROM events ORDER BY seq DESC LIMIT 1").fetchone()
        previous, digest = last or ("", "")
        for draft in drafts:
            name, when, body = new_id(at, previous), at.isoformat(), canonical(draft.payload)
            digest = chained(digest, name, when, coach, session, actor, draft.kind, body, str(FORMAT))
            self._db.execute(
                f"INSERT INTO events ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (name, when, coach, session, actor, draft.kind, body, FORMAT, digest),
            )
            made.append(Event(name, at, coach, session, actor, draft.kind, draft.payload, FORMAT, digest))
            previous = name
        return made

    def read(self, session: str | None = None, kind: str | None = None) -> Iterator[Event]:
        """Events in the order in which they were added."""
        wanted = [(column, value) for column, value in (("session", session), ("kind", kind)) if value is not None]
        where = " AND ".join(f"{column} = ?" for column, _ in wanted) or "1"
        with self._explained():
            rows = self._db.execute(f"SELECT {_COLUMNS} FROM events WHERE {where} ORDER BY seq", [v for _, v in wanted])
            for name, at, coach, in_session, actor, of_kind, payload, fmt, digest in rows:
                yield Event(
                    name,
                    datetime.fromisoformat(at),
                    coach,
                    in_session,
                    actor,
                    of_kind,
                    json.loads(payload),
                    fmt,
                    digest,
                )

    def select(self, sql: str, given: Sequence[str | int] = ()) -> Iterator[tuple[Any, ...]]:
        """Rows of a SELECT on the table `events`, one by one as they are asked for, for readers who want no whole events.

        Args:
            sql: the statement, with a question mark for each value. One that writes is refused with FileProblem.
            given: the values.
        """
        with self._explained():
            with self._lock:
                self._db.execute("PRAGMA query_only = ON")
                try:
                    found = self._db.execute(sql, given)  # what writes does so here, before its first row
                finally:
                    self._db.execute("PRAGMA query_only = OFF")
            yield from found

    def last_session(self) -> str | None:
        """The session of the newest event that is not about the record itself, or None."""
        with self._explained():
            row = self._db.execute(
                "SELECT session FROM events WHERE session <> ? ORDER BY seq DESC LIMIT 1", (RECORD,)
            ).fetchone()
        return row[0] if row else None

    def count(self) -> int:
        """How many events there are."""
        with self._explained():
            return int(self._db.execute("SELECT count(*) FROM events").fetchone()[0])

    def close(self) -> None:
        """Close the file; safe to call twice."""
        self._db.close()

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
