"""`cabassist replay FILE`: a recorded session against today's knowledge."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from cabassist.cli.shared import ANSWERED, NOT_ANSWERED, Given, json_option, parse_time, print_json, safe
from cabassist.errors import FileProblem

COMPARED = ("kind", "topic", "step", "options", "readings", "withdrawn")


def read_recording(path: Path) -> list[dict[str, Any]]:
    """The turns of a recorded session: JSON Lines with `text`, `now` and `answered`.

    Raises:
        FileProblem: it cannot be read, or a line is not a turn.
    """
    from cabassist.procedures.yamlfile import read_text

    turns: list[dict[str, Any]] = []
    for number, line in enumerate(read_text(path).splitlines(), 1):
        if not line.strip():
            continue
        try:
            turn = json.loads(line)
            if not isinstance(turn, dict) or not isinstance(turn.get("text"), str):
                raise ValueError('needs "text"')
            parse_time(turn["now"])
            if not isinstance(turn.get("answered"), dict):
                raise ValueError('needs "answered"')
        except (ValueError, KeyError, TypeError, RecursionError) as error:
            raise FileProblem(
                f"{path}:{number}", f"is not a recorded turn ({error}).", "Record it again with `converse`."
            ) from None
        turns.append(turn)
    if not turns:
        raise FileProblem(path, "holds no turns.", "Name a recorded session.")
    return turns


def differences(turns: list[dict[str, Any]], given: Given) -> list[dict[str, Any]]:
    """What would be answered differently today, turn by turn."""
    from cabassist import places
    from cabassist.dialogue.session import Session, as_contract, load_mind
    from cabassist.journal import Journal
    from cabassist.journal.store import IN_MEMORY

    mind = load_mind(given.coach or places.demo_coach(), given.knowledge_folder())
    found = []
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal)
        for number, turn in enumerate(turns, 1):
            at: datetime = parse_time(turn["now"])
            today = as_contract(session.hear(turn["text"], at, turn.get("actor")), 0.0)
            before = turn["answered"]
            changed = [key for key in COMPARED if key in before and before[key] != today[key]]
            if changed:
                found.append({"turn": number, "text": turn["text"], "changed": changed,
                              "before": {k: before[k] for k in changed}, "today": {k: today[k] for k in changed}})  # fmt: skip
    return found


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def replay(given: Given, file: Path, as_json: bool) -> None:
    """Run a recorded session against today's knowledge and show what would be answered differently.

    Exit code 0: the same answers. 1: some differ. FILE is JSON Lines as in demo_sessions/.
    """
    turns = read_recording(file)
    found = differences(turns, given)
    if as_json:
        print_json({"file": str(file), "turns": len(turns), "different": found})
    else:
        for row in found:
            click.echo(safe(f"turn {row['turn']}: {row['text']}"))
            for key in row["changed"]:
                click.echo(f"  {key}: was {json.dumps(row['before'][key])}, is {json.dumps(row['today'][key])}")
        click.echo(f"{len(turns)} turns, {len(found)} answered differently.")
    raise SystemExit(NOT_ANSWERED if found else ANSWERED)
