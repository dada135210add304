"""What is sound of a damaged journal, into a new file. The damaged one is only read.

Every event proves itself by its digest and the one before, so after a hole only the first event cannot be proved; it is
kept and counted as such. Altered events are left out. The new journal is chained again from its first hole on, and its
last event says what was found, so that nobody takes it for the original.
"""

from __future__ import annotations

import json
import shutil
import sqlite3
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cabassist.errors import FileProblem
from cabassist.journal.chain import Row, stub_digest
from cabassist.journal.events import EventDraft
from cabassist.journal.pages import carved
from cabassist.journal.store import ERASED, RECORD, TOMBSTONE, Journal


@dataclass(frozen=True)
class Rescued:
    """How many events were saved, how many of those are unproved, and how many are known to be lost."""

    saved: int
    unproved: int
    lost: int
    head: str
    """Digest of the last event that was saved, as the damaged file had it."""


def rescue(damaged: Path, new: Path, *, at: datetime, by: str) -> Rescued:
    """Save what is sound of `damaged` into the new file `new`.

    Raises:
        FileProblem: the damaged file cannot be read, nothing in it is an event, or the new one exists.
    """
    if new.exists():
        raise FileProblem(new, "exists already.", "Name a file that does not.")
    with tempfile.TemporaryDirectory(prefix="cabassist-") as folder:
        copy = Path(folder) / "damaged.sqlite"
        try:
            shutil.copyfile(damaged, copy)
            log = damaged.with_name(damaged.name + "-wal")
            if log.exists():
                shutil.copyfile(log, Path(folder) / "damaged.sqlite-wal")
        except OSError as error:
            raise FileProblem(damaged, f"cannot be read ({error.strerror}).", "Check the name.") from None
        found = _found(copy, Path(folder))
    kept, unproved, lost = proved(found)
    if not kept:
        raise FileProblem(damaged, "holds no event that can be saved.", "Look for an export or a backup.")
    kept = _without_torn_stubs(kept)
    told = {"from": damaged.name, "saved": len(kept), "unproved": unproved, "lost": lost, "head": kept[-1].digest}
    with Journal(new) as journal:
        _write(journal, kept)
        journal.append([EventDraft("rescued", told)], at=at, coach=kept[-1].coach, session=RECORD, actor=by)
    return Rescued(len(kept), unproved, lost, kept[-1].digest)


def _found(copy: Path, folder: Path) -> list[Row]:
    """Candidates for each event: by way of SQLite from both ends, and from the bare pages when that fails."""
    log = folder / "log"
    if (folder / "damaged.sqlite-wal").exists():
        shutil.copyfile(folder / "damaged.sqlite-wal", log)  # opening the copy may use the log up
    rows: list[Row] = []
    whole = False
    for order in ("", " DESC"):
        try:
            db = sqlite3.connect(copy)
            try:
                db.execute("PRAGMA writable_schema = ON")  # a file cut short is otherwise refused at once
                for row in db.execute(
                    "SELECT seq, id, at, coach, session, actor, kind, payload, format, digest FROM events NOT INDEXED"
                    f" ORDER BY seq{order}"
                ):
                    if all(isinstance(value, str) for value in (*row[1:8], row[9])) and isinstance(row[8], int):
                        rows.append(Row(*row))
                whole = True
            finally:
                db.close()
        except (sqlite3.Error, UnicodeDecodeError):
            continue
        if whole:
            return rows
    return [*rows, *carved(copy, log)]


def proved(candidates: Iterable[Row]) -> tuple[list[Row], int, int]:
    """Those that prove themselves in order, how many of them had nothing before to prove them, how many are lost."""
    choices: dict[int, dict[Row, None]] = {}
    for row in candidates:
        choices.setdefault(row.seq, {})[row] = None
    kept: list[Row] = []
    unproved = lost = 0
    before: set[str] = {""}
    last = 0
    for seq in sorted(choices):
        following = list(choices.get(seq + 1, ()))
        hole = seq != last + 1
        good: Row | None = None
        for row in choices[seq]:
            if row.kind == ERASED:
                good = row
                break  # never bring back words of which an erased copy exists
            own = {row.digest_after(previous) for previous in before} if not hole else set()
            if row.digest in own:
                good = good or row
            elif any(later.digest in {later.digest_after(made) for made in own} for later in following):
                made = next(m for m in own if any(later.digest_after(m) == later.digest for later in following))
                good = good or row._replace(digest=made)  # only the digest itself was hit
        if good is None and hole:
            # the event after it vouches for its digest; of its words only the id can be held against its neighbours
            low = kept[-1].id[:16] if kept else ""
            good = next(
                (
                    row
                    for row in choices[seq]
                    for later in following
                    if later.digest_after(row.digest) == later.digest and low < row.id[:16] < later.id[:16]
                ),
                None,
            )
            unproved += good is not None
        lost += max(0, seq - last - 1) + (good is None)
        if good is not None:
            kept.append(good)
        before = {good.digest} if good is not None else {row.digest for row in choices[seq]}
        last = seq
    return kept, unproved, lost


def _without_torn_stubs(kept: list[Row]) -> list[Row]:
    """Erased events that no saved tombstone accounts for prove nothing and hold nothing; they are left out."""
    fitting: set[int] = set()
    waiting: dict[str, list[Row]] = {}
    for row in kept:
        if row.kind == ERASED:
            waiting.setdefault(row.session, []).append(row)
        elif row.kind == TOMBSTONE:
            told = json.loads(row.payload)
            stubs = waiting.pop(told.get("session"), [])
            if stub_digest(stubs) == told.get("stubs"):
                fitting.update(stub.seq for stub in stubs)
    return [row for row in kept if row.kind != ERASED or row.seq in fitting]


def _write(journal: Journal, kept: list[Row]) -> None:
    with journal._transaction() as db:
        previous = ""
        for seq, row in enumerate(kept, 1):
            digest = row.digest if row.kind == ERASED else row.digest_after(previous)
            db.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row._replace(seq=seq, digest=digest))
            previous = digest
