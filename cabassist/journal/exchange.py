"""The record as JSON Lines: out without loss, and in again only when every line is sound.

The first line tells what follows; then comes one event a line with its digest. An import works the whole chain out
again and stores all of it or nothing. It fills a new journal, or goes on where a journal that holds the same beginning
ends. In a pseudonymised export names are replaced, so its digests cannot be kept: importing it starts a new chain.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from typing import IO, Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, StrictInt, StrictStr, StringConstraints, ValidationError

from cabassist.errors import JournalError
from cabassist.journal.chain import Row, rows, verify
from cabassist.journal.events import FORMAT, canonical
from cabassist.journal.store import ERASED, TOMBSTONE, Journal

MAX_LINE_BYTES = 1_000_000
"""More than the longest event we write by far; a longer line is no export of ours."""
MAX_DEPTH = 12
M = TypeVar("M", bound=BaseModel)
ROLES = frozenset({"driver", "relief-driver", "lead-driver", "second-driver", "trainer", "demo", ""})
"""Names that are jobs and not persons; they are kept, for they are words of everyday speech too."""
NOTHING = "Nothing was imported."
NAME_FIELDS = frozenset({"by", "actor", "driver", "name", "who"})
"""Fields of payloads that hold a person's name."""

_Name = Annotated[StrictStr, StringConstraints(max_length=400)]
_Digest = Annotated[StrictStr, StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class _Line(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Heading(_Line):
    """The first line of an export."""

    cabassist_journal: StrictInt = Field(ge=1, le=1, description="Version of the export's shape.")
    events: StrictInt = Field(ge=0, description="How many lines follow.")
    head: StrictStr = Field(description="Digest of the last event, empty in a pseudonymised export.")
    pseudonymised: bool = Field(strict=True, description="Whether names are replaced.")


class Entry(_Line):
    """One event of an export."""

    id: Annotated[StrictStr, StringConstraints(pattern=r"^[0-9a-f]{32}$")] = Field(description="The event's id.")
    at: StrictStr = Field(max_length=40, description="ISO 8601 with its offset.")
    coach: _Name = Field(description="The coach's id.")
    session: Annotated[_Name, StringConstraints(min_length=1)] = Field(description="The conversation.")
    actor: _Name = Field(description="Who spoke.")
    kind: Annotated[_Name, StringConstraints(min_length=1)] = Field(description="What happened.")
    payload: dict[str, Any] = Field(description="Its details.")
    format: StrictInt = Field(ge=1, le=FORMAT, description="Version of the event's shape.")
    digest: _Digest | None = Field(description="Its place in the chain; null in a pseudonymised export.")


def export(journal: Journal, out: IO[str], aliases: Mapping[str, str] | None = None) -> int:
    """Write every event, one a line, and return how many.

    Args:
        aliases: a pseudonym for each name (see `pseudonyms`); None keeps the names and the digests.
    """
    count, head = journal.count(), ""
    found: Iterator[Row] = rows(journal, count)  # another process may go on writing meanwhile
    if aliases is not None:
        count -= sum(1 for row in rows(journal, count) if row.kind in (ERASED, TOMBSTONE))
        found = _hidden(found, aliases)
    else:
        with journal._explained():
            last = journal._db.execute("SELECT digest FROM events WHERE seq = ?", (count,)).fetchone()
        head = last[0] if last else ""
    heading = {"cabassist_journal": 1, "events": count, "head": head, "pseudonymised": aliases is not None}
    out.write(json.dumps(heading) + "\n")
    for row in found:
        body = {**row._asdict(), "payload": json.loads(row.payload), "digest": row.digest or None}
        del body["seq"]
        out.write(json.dumps(body, ensure_ascii=False) + "\n")
    return count


def _hidden(found: Iterable[Row], aliases: Mapping[str, str]) -> Iterator[Row]:
    """The events with other names; what was erased is left out, for a tombstone proves nothing without digests."""
    hide = hider(aliases)
    for row in found:
        if row.kind not in (ERASED, TOMBSTONE):
            payload = canonical(hide(json.loads(row.payload)))
            yield row._replace(actor=aliases.get(row.actor, row.actor), payload=payload, digest="")


def pseudonyms(found: Iterable[Row]) -> dict[str, str]:
    """A pseudonym for each person's name among actors and payloads, in order of appearance: person-1, person-2."""
    made: dict[str, str] = {}
    for row in found:
        names = [row.actor]
        if any(f'"{name}":' in row.payload for name in NAME_FIELDS):
            payload = json.loads(row.payload)
            names += [value for key, value in payload.items() if key in NAME_FIELDS and isinstance(value, str)]
        for name in names:
            if name not in made and name.lower() not in ROLES:
                made[name] = f"person-{len(made) + 1}"
    return made


def hider(aliases: Mapping[str, str]) -> Callable[[Any], Any]:
    """A function that replaces each name wherever it stands as a word in a text, or in the texts of lists and fields."""
    folded = {name.lower(): alias for name, alias in aliases.items()}
    names = "|".join(re.escape(name) for name in sorted(folded, key=len, reverse=True))
    pattern = re.compile(rf"(?<!\w)(?:{names})(?!\w)", re.IGNORECASE) if names else None

    def hidden(value: Any) -> Any:
        if isinstance(value, str):
            return pattern.sub(lambda m: folded[m.group().lower()], value) if pattern else value
        if isinstance(value, list):
            return [hidden(item) for item in value]
        if isinstance(value, dict):
            return {key: hidden(item) for key, item in value.items()}
        return value

    return hidden


def import_lines(journal: Journal, file: IO[bytes], name: str) -> int:
    """Store the events of an export, all or nothing, and return how many are new.

    Raises:
        JournalError: a line is not sound, named by its number, or the journal holds something else.
    """
    lines = _numbered(file, name)
    first = next(lines, None)
    if first is None:
        raise JournalError(f"{name}: is empty. Name a file that `cabassist journal export` wrote.")
    heading = _read(Heading, first[1], f"{name}:{first[0]}")
    with journal._transaction():
        before = journal.count()
        count = _stored(journal, lines, heading.pseudonymised, name, rows(journal, before))
        if count != heading.events:
            raise JournalError(
                f"{name}: holds {count} events, but its first line says {heading.events}: it was cut off or "
                f"added to. {NOTHING} Export it again."
            )
        fault = next(iter(verify(rows(journal)).faults), None)
        if fault is not None:
            where = f"{name}:{fault.seq + 1}"  # the heading is line 1
            raise JournalError(f"{where}: event {fault.id}: {fault.message}. {NOTHING} Export it again.")
    return max(0, count - before)


def _stored(
    journal: Journal, lines: Iterator[tuple[int, bytes]], pseudonymised: bool, name: str, mine: Iterator[Row]
) -> int:
    """Hold each line against what the journal has already, and add what it has not; how many lines there were."""
    seen: set[str] = set()
    previous, count = "", 0
    for number, line in lines:
        where = f"{name}:{number}"
        row = _row(_read(Entry, line, where), count + 1, previous, pseudonymised, where)
        if row.id[:16] in seen:
            raise JournalError(f"{where}: the id {row.id} is there twice. {NOTHING}")
        seen.add(row.id[:16])
        previous, count = row.digest, count + 1
        here = next(mine, None)
        if here is None:
            journal._db.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
        elif here != row:
            raise JournalError(
                f"{where}: differs from event {here.id} of {journal.path}. {NOTHING} "
                "Import into a new file with --journal."
            )
    return count


def _numbered(file: IO[bytes], name: str) -> Iterator[tuple[int, bytes]]:
    number = 0
    while line := file.readline(MAX_LINE_BYTES + 1):
        number += 1
        if len(line) > MAX_LINE_BYTES:
            raise JournalError(f"{name}:{number}: is longer than {MAX_LINE_BYTES:,} bytes. {NOTHING}")
        if line.strip():
            yield number, line


def _read(model: type[M], line: bytes, where: str) -> M:
    """One line as its model; the error names the field and what is allowed."""
    try:
        body = json.loads(line.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_constant)
        if _deeper_than(body, MAX_DEPTH):
            raise ValueError(f"nested deeper than {MAX_DEPTH} levels")
        if not isinstance(body, dict):
            raise ValueError("must be one JSON object")
        return model.model_validate(body)
    except ValidationError as error:
        item = error.errors()[0]
        field = ".".join(map(str, item["loc"]))
        said = f"'{field}': {item['msg']}"
    except UnicodeDecodeError:
        said = "is not UTF-8 text"
    except json.JSONDecodeError as error:
        said = f"is not sound JSON ({error.msg}, column {error.colno})"
    except RecursionError:
        said = f"nested deeper than {MAX_DEPTH} levels"
    except ValueError as error:
        said = str(error)
    raise JournalError(f"{where}: {said}. {NOTHING}")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        twice = next(key for key, _ in pairs if sum(key == other for other, _ in pairs) > 1)
        raise ValueError(f"'{twice[:40]}' is there twice")
    return made


def _no_constant(text: str) -> None:
    raise ValueError(f"{text} is not a number that can be stored")


def _deeper_than(value: Any, levels: int) -> bool:
    if isinstance(value, dict):
        return levels == 0 or any(_deeper_than(item, levels - 1) for item in value.values())
    if isinstance(value, list):
        return levels == 0 or any(_deeper_than(item, levels - 1) for item in value)
    return False


def _row(entry: Entry, seq: int, previous: str, pseudonymised: bool, where: str) -> Row:
    """The event as the file will hold it."""
    try:
        at = datetime.fromisoformat(entry.at)
        if at.tzinfo is None or at.isoformat() != entry.at:
            raise ValueError("not as we write it")
    except ValueError:
        raise JournalError(f"{where}: 'at': must be a time such as 2026-01-15T21:40:00+00:00. {NOTHING}") from None
    if (entry.digest is None) != pseudonymised:
        raise JournalError(f"{where}: 'digest': must be there, but for a pseudonymised export. {NOTHING}")
    body = canonical(entry.payload)
    try:
        for text in (entry.coach, entry.session, entry.actor, entry.kind, body):
            text.encode()
            if "\0" in text:
                raise ValueError("holds a null character")
    except ValueError:
        raise JournalError(f"{where}: holds a character that is no text. {NOTHING}") from None
    if "Infinity" in body and not _finite(entry.payload):
        raise JournalError(f"{where}: 'payload': holds a number that is too large. {NOTHING}")
    row = Row(
        seq, entry.id, entry.at, entry.coach, entry.session, entry.actor, entry.kind, body, FORMAT, entry.digest or ""
    )
    return row if entry.digest else row._replace(digest=row.digest_after(previous))


def _finite(value: Any) -> bool:
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, dict):
        return all(_finite(item) for item in value.values())
    return all(_finite(item) for item in value) if isinstance(value, list) else True
