"""`cabassist converse --jsonl`: the conversation for programs, one JSON object a line."""

from __future__ import annotations

import json
import sys
import time
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from cabassist.cli.shared import Given, now, parse_time

MAX_LINE = 200_000


@click.command()
@click.option("--jsonl", is_flag=True, required=True, help="One JSON object a line in, one a line out.")
@click.option("--coach", type=click.Path(path_type=Path), help="Coach profile to use.")
@click.option("--journal", type=click.Path(path_type=Path), help="Journal to write to; in memory when left out.")
@click.option("--now", "clock", help="Clock of the first turn, ISO 8601; it stands still until a turn gives its own.")
@click.pass_obj
def converse(given: Given, jsonl: bool, coach: Path | None, journal: Path | None, clock: str | None) -> None:
    """Talk to the assistant from another program.

    In: {"text": "...", "now": "2026-01-15T21:40:00-06:00", "actor": "name"} or {"reset": true}.
    A bad line gets an object with "error"; the conversation goes on.
    """
    from cabassist.dialogue.session import Session, as_contract, load_mind
    from cabassist.errors import CabassistError
    from cabassist.journal import Journal
    from cabassist.journal.store import IN_MEMORY

    try:
        fixed: datetime | None = parse_time(clock) if clock else None
    except ValueError:
        raise click.BadParameter("must be a time such as 2026-01-15T21:40:00-06:00", param_hint="--now") from None
    mind = load_mind(coach or given.coach_file(), given.knowledge_folder())
    where = journal or given.journal or IN_MEMORY
    session = Session(mind, Journal(where), actor=given.actor)
    start = fixed
    for raw in sys.stdin.buffer:
        begun = time.perf_counter()
        try:
            body = _parsed(raw)
            if body.get("reset"):
                session.journal.close()
                session = Session(mind, Journal(IN_MEMORY if where == IN_MEMORY else where), actor=given.actor)
                fixed = start
                _emit({"reset": True})
                continue
            if "now" in body:
                fixed = parse_time(body["now"])
            reply = session.hear(body["text"], fixed or now(), body.get("actor"))
            _emit(as_contract(reply, (time.perf_counter() - begun) * 1000))
        except (ValueError, CabassistError) as error:
            _emit({"error": str(error)})


def _parsed(raw: bytes) -> dict[str, Any]:
    if len(raw) > MAX_LINE:
        raise ValueError(f"the line is longer than {MAX_LINE:,} bytes; send less text")
    try:
        body = json.loads(raw.decode("utf-8"))
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError):
        raise ValueError('not a JSON object in UTF-8; send {"text": "..."}') from None
    if not isinstance(body, dict):
        raise ValueError('not a JSON object; send {"text": "..."}')
    if body.get("reset"):
        return body
    if not isinstance(body.get("text"), str):
        raise ValueError('"text" is missing or not a string; send {"text": "..."}')
    if "now" in body:
        try:
            parse_time(body["now"])
        except (ValueError, TypeError):
            raise ValueError('"now" must be a time such as "2026-01-15T21:40:00-06:00"') from None
    if not isinstance(body.get("actor"), (str, type(None))):
        raise ValueError('"actor" must be a string')
    return body


def _emit(body: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(body, ensure_ascii=False) + "\n")
    sys.stdout.flush()
