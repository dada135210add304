"""`cabassist journal verify|export|import|rescue|erase`: the record itself."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cabassist.cli.shared import ANSWERED, NOT_ANSWERED, Given, json_option, now, print_json, safe
from cabassist.errors import FileProblem
from cabassist.files import whole_file

if TYPE_CHECKING:
    from cabassist.journal import Journal

_key_option = click.option(
    "--key", type=click.Path(path_type=Path), help="Key of the tombstones, if it lies elsewhere."
)


@click.group()
def journal() -> None:
    """Prove, copy, mend or thin out what was said and answered.

    Events are never changed. Use `cabassist --journal FILE journal ...` for another file than the usual one.
    """


def existing(given: Given) -> Journal:
    """The journal in use; unlike in a conversation a missing one is an error and none is made."""
    from cabassist.journal import Journal

    path = given.journal_file()
    if not os.path.exists(path):
        raise FileProblem(path, "does not exist.", "Name another with --journal, or have a conversation first.")
    return Journal(path)


def counted(number: int, what: str) -> str:
    """A number of things, as one says it."""
    return f"{number:,} {what}{'' if number == 1 else 's'}"


def key_file(key: Path | None) -> Path:
    """Where the key of the tombstones lies."""
    from cabassist import places

    return key or places.data_folder() / "tombstone.key"


@journal.command()
@click.option("--expect", metavar="DIGEST", help="Digest that an earlier verify printed as head and you wrote down.")
@_key_option
@json_option
@click.pass_obj
def verify(given: Given, expect: str | None, key: Path | None, as_json: bool) -> None:
    """Prove that nothing was altered.

    Every event's digest covers the one before. A tail cut off does not show in the chain itself: write the head down
    elsewhere and give it to --expect. Exit code 0: sound. 1: not.
    """
    from cabassist.journal.chain import file_faults, rows
    from cabassist.journal.chain import verify as verified
    from cabassist.journal.erasing import signing_key

    with existing(given) as record:
        known = signing_key(key_file(key), make=False)
        verdict = verified(rows(record), known, expect)
        verdict.faults += file_faults(record)
    if as_json:
        print_json(
            {
                "sound": verdict.sound,
                "events": verdict.events,
                "erased": verdict.erased,
                "head": verdict.head,
                "faults": [{"event": f.seq, "id": f.id, "message": f.message} for f in verdict.faults],
                "tombstones": [vars(stone) for stone in verdict.tombstones],
            }
        )
    else:
        for fault in verdict.faults:
            click.echo(safe(f"event {fault.seq} ({fault.id}): {fault.message}" if fault.id else fault.message))
        signed = {True: "signature right", False: "signature WRONG", None: "signature not looked at: no such key here"}
        for stone in verdict.tombstones:
            line = f"erased: session {stone.session}, {stone.events} events, by {stone.by} on {stone.at[:16]}"
            click.echo(safe(f"{line}: {stone.reason} ({signed[stone.signed]})"))
        found = "Sound" if verdict.sound else f"NOT sound: {counted(len(verdict.faults), 'fault')}"
        click.echo(f"{found}. {verdict.events:,} events, head {verdict.head or 'none'}")
        if not verdict.sound:
            click.echo("Keep the file as it is. `cabassist journal rescue` saves what is sound into a new one.")
    raise SystemExit(ANSWERED if verdict.sound else NOT_ANSWERED)


@journal.command()
@click.argument("file", type=click.Path(path_type=Path), required=False)
@click.option("--pseudonymise", is_flag=True, help="Replace persons' names; the digests are left out with them.")
@click.pass_obj
def export(given: Given, file: Path | None, pseudonymise: bool) -> None:
    """Write every event as JSON Lines to FILE, or to the screen.

    With --pseudonymise the names of everyone who spoke or is named as a driver become person-1, person-2 everywhere. A
    name that was only ever mentioned in passing is not known as one: read the file before you give it away.
    """
    from cabassist.journal.chain import rows
    from cabassist.journal.exchange import export as written
    from cabassist.journal.exchange import pseudonyms

    with existing(given) as record:
        aliases = pseudonyms(rows(record)) if pseudonymise else None
        if file is None:
            written(record, sys.stdout, aliases)
            return
        with whole_file(file) as out:
            count = written(record, out, aliases)
    click.echo(f"{counted(count, 'event')} written to {safe(str(file))}.")


@journal.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.pass_obj
def import_(given: Given, file: Path) -> None:
    """Store the events of an export, all or none of them.

    They go into a new journal, or into one that holds the beginning of the same record.
    """
    from cabassist.journal import Journal
    from cabassist.journal.exchange import import_lines

    path = given.journal_file()
    made_here = not os.path.exists(path)
    try:
        lines = open(file, "rb")  # noqa: SIM115 - closed below
    except OSError as error:
        raise FileProblem(file, f"cannot be read ({error.strerror}).", "Check the name.") from None
    try:
        with lines, Journal(path) as record:
            count = import_lines(record, lines, file.name)
    except BaseException:
        if made_here:
            for ending in ("", "-wal", "-shm"):
                Path(f"{path}{ending}").unlink(missing_ok=True)
        raise
    click.echo(f"{counted(count, 'new event')} in {safe(str(path))}.")


@journal.command()
@click.argument("damaged", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def rescue(given: Given, damaged: Path, new: Path, as_json: bool) -> None:
    """Save what is sound of the file DAMAGED into the file NEW. DAMAGED is only read.

    Altered events are left out. Exit code 0: all was saved. 1: some is lost.
    """
    from cabassist.journal.rescue import rescue as rescued

    told = rescued(damaged, new, at=now(), by=given.actor)
    if as_json:
        print_json(vars(told))
    else:
        click.echo(f"{counted(told.saved, 'event')} saved into {safe(str(new))}.")
        click.echo(f"{told.lost:,} known to be lost. A tail that is missing cannot be counted.")
        if told.unproved:
            click.echo(f"{told.unproved:,} of the saved ones stand after a hole and cannot be proved.")
    raise SystemExit(NOT_ANSWERED if told.lost else ANSWERED)


@journal.command()
@click.argument("session")
@click.option("--by", required=True, help="Who erases it.")
@click.option("--reason", required=True, help="Why; do not repeat what is to be forgotten.")
@click.option("--yes", is_flag=True, help="Do not ask again.")
@_key_option
@click.pass_obj
def erase(given: Given, session: str, by: str, reason: str, yes: bool, key: Path | None) -> None:
    """Erase what was said in SESSION, for good. A signed tombstone stays, and the chain still proves the rest.

    Exports, backups and wordings already taught are not reached by this.
    """
    from cabassist.journal.erasing import erase_session, signing_key

    with existing(given) as record:
        events = sum(1 for _ in record.read(session=session))
        if events and not yes:
            click.confirm(f"Erase {counted(events, 'event')} of session {safe(session)} for good?", abort=True)
        made = signing_key(key_file(key), make=True)
        assert made is not None
        stone = erase_session(record, session, by=by, reason=reason, at=now(), key=made)
    click.echo(safe(f"{stone.payload['events']} events of session {session} erased. Tombstone {stone.id}."))
