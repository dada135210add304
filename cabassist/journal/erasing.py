"""Erasing a session on request, so that its words are gone and the chain still proves the rest.

A tombstone is appended: whose session, by whom, why, how many events, and a digest of what is left of them. In the same
transaction each event of the session loses its actor, its kind, its payload and the random half of its id. It keeps its
place, its time and its digest, which the next event's digest covers: so the chain goes on, and that half of the id, now
gone, is what keeps anybody from guessing the words from the digest. The tombstone is signed with a key of this machine
(HMAC-SHA-256), which shows that the erasing was done here; it is no proof against someone who holds that key.

The triggers of the database allow exactly this change and only below a tombstone that names the session.
"""

from __future__ import annotations

import contextlib
import os
import secrets
from datetime import datetime
from pathlib import Path

from cabassist.errors import FileProblem, JournalError
from cabassist.journal.chain import NO_CHANCE, Row, key_name, signature, stub_digest
from cabassist.journal.events import Event, EventDraft
from cabassist.journal.store import ERASED, RECORD, TOMBSTONE, Journal

KEY_BYTES = 32


def signing_key(path: Path, make: bool) -> bytes | None:
    """The key in that file; a new one when there is none and `make`, else None. Raises FileProblem."""
    try:
        if path.exists():
            key = path.read_bytes()
            if len(key) != KEY_BYTES:
                raise FileProblem(path, f"is no signing key ({KEY_BYTES} bytes).", "Name another with --key.")
            return key
        if not make:
            return None
        path.parent.mkdir(parents=True, exist_ok=True)
        key = secrets.token_bytes(KEY_BYTES)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(key)
    except OSError as error:
        raise FileProblem(path, f"cannot be used ({error.strerror}).", "Name another with --key.") from None
    return key


def erase_session(journal: Journal, session: str, *, by: str, reason: str, at: datetime, key: bytes) -> Event:
    """Blank every event of a session and append the tombstone, all or nothing.

    Raises:
        JournalError: there is no such session, it is about the record itself, or it is already erased.
    """
    if session == RECORD:
        raise JournalError("Marks and tombstones cannot be erased: they are what proves the rest.")
    with journal._explained():
        journal._db.execute("PRAGMA secure_delete = ON")  # the old words are overwritten with zeros in the file
        with journal._transaction() as db:
            found = [
                Row(*row)
                for row in db.execute(
                    "SELECT seq, id, at, coach, session, actor, kind, payload, format, digest FROM events"
                    " WHERE session = ? AND kind NOT IN (?, ?) ORDER BY seq",
                    (session, ERASED, TOMBSTONE),
                )
            ]
            if not found:
                raise JournalError(f"There is nothing to erase of a session '{session}'. See `cabassist review list`.")
            payload: dict[str, object] = {
                "session": session,
                "events": len(found),
                "first": found[0].at,
                "last": found[-1].at,
                "stubs": stub_digest(found),
                "by": by,
                "reason": reason,
                "key": key_name(key),
            }
            payload["signature"] = signature(payload, key)
            tombstone = EventDraft(TOMBSTONE, dict(payload))
            (made,) = journal._add([tombstone], at=at, coach=found[0].coach, session=RECORD, actor=by)
            db.execute(
                "UPDATE events SET id = substr(id, 1, 16) || ?, actor = '', kind = ?, payload = '{}'"
                " WHERE session = ? AND kind NOT IN (?, ?)",
                (NO_CHANCE, ERASED, session, ERASED, TOMBSTONE),
            )
        # The log beside the file still holds the old pages until it is written back and cut to nothing. Another
        # reader may hold it up; then the next one to close the journal does it.
        with contextlib.suppress(Exception):
            journal._db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return made
