"""Events read straight from the pages of a SQLite file, for when the database itself can no longer be opened.

Only what is needed for our one table: the leaves of a table B-tree and their overflow pages. A cell that does not have
the shape of an event is passed over; whether one is sound is decided later, by its digest.

Source: "Database File Format", sections 1.3 (header), 1.6 (B-tree pages), 2.1 (records), 4.1 (WAL), sqlite.org, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from cabassist.journal.chain import Row

PAGE_BYTES = 4096
"""SQLite's usual page, taken when the header does not tell a possible one."""
_LEAF = 0x0D
_COLUMNS = 10
_MAX_PAYLOAD = 4_000_000
_ID = re.compile(r"^[0-9a-f]{32}$")
_DIGEST = re.compile(r"^[0-9a-f]{64}$")


def carved(path: Path, log: Path | None) -> Iterator[Row]:
    """Everything in the file and its write-ahead log that looks like an event, in no order, doubles included."""
    body = path.read_bytes()
    size = int.from_bytes(body[16:18], "big") or PAGE_BYTES
    size = 65536 if size == 1 else size
    if size < 512 or size & (size - 1):
        size = PAGE_BYTES
    pages = {number + 1: body[start : start + size] for number, start in enumerate(range(0, len(body), size))}
    for number, page in pages.items():
        yield from _leaf(page, 100 if number == 1 else 0, pages)
    if log is not None and log.is_file():
        frames = log.read_bytes()[32:]
        for start in range(0, len(frames) - size - 23, size + 24):
            page = frames[start + 24 : start + 24 + size]
            pages[int.from_bytes(frames[start : start + 4], "big")] = page
            yield from _leaf(page, 0, pages)


def _leaf(page: bytes, offset: int, pages: dict[int, bytes]) -> Iterator[Row]:
    if page[offset : offset + 1] != bytes([_LEAF]):
        return
    count = int.from_bytes(page[offset + 3 : offset + 5], "big")
    for index in range(min(count, len(page) // 4)):
        at = offset + 8 + 2 * index
        start = int.from_bytes(page[at : at + 2], "big")
        try:
            row = _cell(page, start, pages)
        except (IndexError, ValueError):  # cut off or flipped: its digest would not fit either
            continue
        if row is not None:
            yield row


def _cell(page: bytes, start: int, pages: dict[int, bytes]) -> Row | None:
    length, start = _varint(page, start)
    rowid, start = _varint(page, start)
    if not 0 < length <= _MAX_PAYLOAD:
        return None
    usable = len(page)
    local = length
    if length > usable - 35:
        least = (usable - 12) * 32 // 255 - 23
        local = least + (length - least) % (usable - 4)
        local = local if local <= usable - 35 else least
    body = page[start : start + local]
    follow = int.from_bytes(page[start + local : start + local + 4], "big") if local < length else 0
    seen: set[int] = set()
    while len(body) < length and follow in pages and follow not in seen:
        seen.add(follow)
        body += pages[follow][4 : 4 + length - len(body)]
        follow = int.from_bytes(pages[follow][:4], "big")
    return _record(body, rowid) if len(body) == length else None


def _record(body: bytes, rowid: int) -> Row | None:
    end, at = _varint(body, 0)
    types: list[int] = []
    while at < end:
        kind, at = _varint(body, at)
        types.append(kind)
    if len(types) != _COLUMNS or any(kind < 13 or kind % 2 == 0 for kind in (*types[1:8], types[9])):
        return None
    texts: list[str] = []
    for kind in types[1:8]:
        texts.append(body[at : at + (kind - 13) // 2].decode())
        at += (kind - 13) // 2
    width = {1: 1, 2: 2, 8: 0, 9: 0}.get(types[8])
    if width is None:
        return None
    form = int(types[8] == 9) if width == 0 else int.from_bytes(body[at : at + width], "big")
    digest = body[at + width : at + width + (types[9] - 13) // 2].decode()
    if not _ID.match(texts[0]) or not _DIGEST.match(digest):
        return None
    return Row(rowid, texts[0], texts[1], texts[2], texts[3], texts[4], texts[5], texts[6], form, digest)


def _varint(body: bytes, at: int) -> tuple[int, int]:
    """A variable-length integer and the place after it. Raises IndexError at the end of the bytes."""
    value = 0
    for step in range(8):
        byte = body[at + step]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + step + 1
    return value << 8 | body[at + 8], at + 9
