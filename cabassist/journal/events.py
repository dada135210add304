"""What the journal holds: one thing that was said, answered, stored or decided."""

from __future__ import annotations

import hashlib
import json
import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import Any

FORMAT = 1
"""Version of the events' shape; old versions are read for ever."""


@dataclass(frozen=True)
class EventDraft:
    """An event before the journal gives it an id, a time and a place in the chain."""

    kind: str
    payload: dict[str, Any]


@dataclass(frozen=True)
class Event:
    """One event as it stands in the journal."""

    id: str
    at: datetime
    coach: str
    session: str
    actor: str
    kind: str
    payload: dict[str, Any]
    format: int
    digest: str


def new_id(at: datetime, previous: str) -> str:
    """An id that sorts after `previous` even when the clock has gone back.

    48 bits of milliseconds, 16 bits of counter, 64 bits of chance, in hexadecimal.
    """
    milliseconds, counter = max(0, int(at.timestamp() * 1000)), 0
    if previous:
        last, last_counter = int(previous[:12], 16), int(previous[12:16], 16)
        if milliseconds <= last:
            milliseconds, counter = last, last_counter + 1
            if counter > 0xFFFF:
                milliseconds, counter = last + 1, 0
    return f"{milliseconds:012x}{counter:04x}{secrets.token_hex(8)}"


def canonical(payload: dict[str, Any]) -> str:
    """A payload as JSON text that is the same for the same content."""
    return json.dumps(payload, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def chained(previous: str, *parts: str) -> str:
    """The digest of an event: SHA-256 over the one before and its own parts."""
    digest = hashlib.sha256(previous.encode())
    for part in parts:
        body = part.encode()
        digest.update(len(body).to_bytes(8, "big") + body)
    return digest.hexdigest()
