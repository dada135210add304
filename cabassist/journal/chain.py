"""Whether the record is as it was written: the chain of digests, and what was erased on request.

The digest of an event covers the one before, so a change, a gap or an event slipped in shows at its place. An erased
event keeps its digest but not its words; in its place stands proof in a tombstone, which holds a digest of everything
that is left of the session (see `erasing`). What a chain cannot show is a tail cut off or a record rewritten whole:
write the last digest down elsewhere and hand it in as `expected`.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from cabassist.journal.events import canonical, chained
from cabassist.journal.store import ERASED, TOMBSTONE, Journal

NO_CHANCE = "0" * 16
"""What stands in an erased id where 64 bits of chance stood: without them its words cannot be guessed from its digest."""
MAX_FAULTS = 100
"""Faults kept; a file that is wrong throughout must not fill the memory."""


class Row(NamedTuple):
    """An event exactly as the file holds it; `at` is ISO 8601 and `payload` JSON text."""

    seq: int
    id: str
    at: str
    coach: str
    session: str
    actor: str
    kind: str
    payload: str
    format: int
    digest: str

    def digest_after(self, previous: str) -> str:
        """The digest this event must have when `previous` is the digest before it."""
        return chained(
            previous, self.id, self.at, self.coach, self.session, self.actor, self.kind, self.payload, str(self.format)
        )


@dataclass(frozen=True)
class Fault:
    """One thing wrong, at the place of an event."""

    seq: int
    id: str
    message: str


@dataclass(frozen=True)
class Tombstone:
    """An erased session as its tombstone tells it. `signed` is None when the key is not at hand."""

    session: str
    by: str
    reason: str
    at: str
    events: int
    signed: bool | None


@dataclass
class Verdict:
    """What was found. `head` is the digest of the last event, to be written down elsewhere."""

    events: int = 0
    erased: int = 0
    head: str = ""
    faults: list[Fault] = field(default_factory=list)
    tombstones: list[Tombstone] = field(default_factory=list)

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults


def rows(journal: Journal, upto: int | None = None) -> Iterator[Row]:
    """Every event as the file holds it, in order; only the first `upto` of them when that is given."""
    with journal._explained():
        for row in journal._db.execute(
            "SELECT seq, id, at, coach, session, actor, kind, payload, format, digest FROM events"
            " WHERE ? IS NULL OR seq <= ? ORDER BY seq",
            (upto, upto),
        ):
            yield Row(*row) if tuple(map(type, row)) == _TYPES else _written_out(row)


_TYPES = (int, str, str, str, str, str, str, str, int, str)


def _written_out(row: tuple[Any, ...]) -> Row:
    """A row in which a flipped bit has turned a text into bytes or a number; its digest no longer follows."""
    seq, *texts, form, digest = row
    return Row(int(seq or 0), *map(str, texts), form if isinstance(form, int) else -1, str(digest))  # type: ignore[call-arg, arg-type]


def file_faults(journal: Journal) -> list[Fault]:
    """What SQLite itself finds wrong with the file: damage to an index leaves every event as it was, and still misleads."""
    try:
        found = [row[0] for row in journal._db.execute("PRAGMA integrity_check(10)")]
    except sqlite3.DatabaseError as error:
        found = [str(error)]
    return [Fault(0, "", f"the file: {message}") for message in found if message != "ok"]


def verify(found: Iterable[Row], key: bytes | None = None, expected: str | None = None) -> Verdict:
    """Work every digest out again.

    Args:
        found: the events in order.
        key: the key that tombstones were signed with; without it signatures are not looked at.
        expected: a digest that was written down earlier and must still be among the events.
    """
    verdict = Verdict()
    waiting: dict[str, list[Row]] = {}
    previous, last = "", None
    seen = expected is None
    for row in found:
        verdict.events += 1
        wrong = ""
        place = last.seq + 1 if last is not None else 1
        if row.seq != place:
            wrong = f"{row.seq - place} before it missing"
        elif last is not None and row.id[:16] <= last.id[:16]:
            wrong = "its id is not after the one before"
        elif row.kind == ERASED:
            wrong = _residue(row)
            waiting.setdefault(row.session, []).append(row)
            verdict.erased += 1
        elif row.digest_after(previous) != row.digest:
            wrong = "its digest does not follow: it, or the end of the one before, was altered"
        if wrong:
            _add(verdict, row, wrong)
        if row.kind == TOMBSTONE:
            _read_tombstone(row, waiting, key, verdict)
        previous, last = row.digest, row
        seen = seen or row.digest == expected
    for session, erased in waiting.items():
        _add(verdict, erased[0], f"{len(erased)} erased of session {session}, but no tombstone accounts for them")
    if not seen and last is not None:
        _add(verdict, last, f"no event has the digest {expected}: the record was cut off or written anew")
    verdict.head = previous
    return verdict


def _add(verdict: Verdict, row: Row, message: str) -> None:
    if len(verdict.faults) < MAX_FAULTS:
        verdict.faults.append(Fault(row.seq, row.id, message))


def _residue(row: Row) -> str:
    if row.actor or row.payload != "{}" or row.id[16:] != NO_CHANCE:
        return "is marked as erased, but words are left in it"
    return ""


def stub_digest(erased: Iterable[Row]) -> str:
    """SHA-256 over what is left of erased events: start of the id, time, coach, session, format, digest."""
    digest = hashlib.sha256()
    for row in erased:
        body = "\0".join((row.id[:16], row.at, row.coach, row.session, str(row.format), row.digest))
        digest.update(body.encode() + b"\n")
    return digest.hexdigest()


def signature(payload: dict[str, Any], key: bytes) -> str:
    """HMAC-SHA-256 of a tombstone without its signature."""
    body = canonical({name: value for name, value in payload.items() if name != "signature"})
    return hmac.new(key, body.encode(), hashlib.sha256).hexdigest()


def key_name(key: bytes) -> str:
    """Names a key without giving it away."""
    return hashlib.sha256(b"cabassist tombstone key" + key).hexdigest()[:16]


def _read_tombstone(row: Row, waiting: dict[str, list[Row]], key: bytes | None, verdict: Verdict) -> None:
    try:
        told = json.loads(row.payload)
        session, events = str(told["session"]), int(told["events"])
        stone = (session, str(told["by"]), str(told["reason"]), row.at, events)
        stubs, signed_with, mark = str(told["stubs"]), str(told["key"]), str(told["signature"])
    except (ValueError, KeyError, TypeError):
        _add(verdict, row, "is a tombstone that cannot be read")
        return
    signed: bool | None = None
    if key is not None and signed_with == key_name(key):
        signed = hmac.compare_digest(signature(told, key), mark)
        if not signed:
            _add(verdict, row, f"the signature of the tombstone of session {session} is wrong")
    verdict.tombstones.append(Tombstone(*stone, signed))
    # Popped, so that a second tombstone of a session accounts only for what came after the first. None left at all is
    # what a rescue may leave; that they were not simply removed is proved by the chain.
    erased = waiting.pop(session, [])
    if erased and (len(erased) != events or stub_digest(erased) != stubs):
        _add(verdict, row, f"the tombstone of session {session} does not fit what is left of it")
