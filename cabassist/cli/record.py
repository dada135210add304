"""`cabassist defects`, `upkeep`, `rounds`, `duty` and `handover`: the record on the command line."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cabassist.cli.shared import ANSWERED, Given, json_option, now, print_json, print_lines
from cabassist.errors import CabassistError, FileProblem, UnknownName

if TYPE_CHECKING:
    from datetime import datetime

    from cabassist.coach import Coach
    from cabassist.dialogue.types import Mind, State
    from cabassist.journal import Event, Journal
    from cabassist.record.defects import Defect, DefectState
    from cabassist.record.entries import Entry, Record
    from cabassist.record.rounds import RoundWalked
    from cabassist.record.upkeep import Due


class RecordProblem(CabassistError):
    """Something that cannot be put on record, with what to do instead."""


def _journal(given: Given) -> Journal:
    """The journal itself: a record that cannot be opened is an error here, not something to go on without."""
    from cabassist.journal import Journal

    return Journal(given.journal_file())


def _coach(given: Given) -> Coach:
    from cabassist import places
    from cabassist.dialogue.session import load_coach

    return load_coach(given.coach_file(), places.cache_folder())


def _record(journal: Journal, coach: Coach) -> Record:
    from cabassist.dialogue.session import record_in

    return record_in(journal, coach.id)


def _keep(journal: Journal, coach: Coach, given: Given, entries: Sequence[Entry], at: datetime) -> None:
    """Put entries into the journal, in a session of their own."""
    drafts = [entry.draft() for entry in entries]
    journal.append(drafts, at=at, coach=coach.id, session=f"record-{secrets.token_hex(4)}", actor=given.actor)


def _events(journal: Journal, coach: Coach, *kinds: str) -> list[Event]:
    found = [event for kind in kinds for event in journal.read(kind=kind) if event.coach == coach.id]
    return sorted(found, key=lambda event: event.id)


def _odometer(journal: Journal, coach: Coach, at: datetime) -> float | None:
    """The latest odometer reading that stands [mi], or None."""
    from datetime import datetime

    from cabassist.dialogue.recall import stored_from
    from cabassist.record.upkeep import miles_of

    events = _events(journal, coach, "reading", "withdrawn")
    since = datetime.min.replace(tzinfo=at.tzinfo)
    read = [
        s.reading for s in stored_from(events, coach=coach.id, since=since, until=at) if s.reading.what == "odometer"
    ]
    return miles_of(read[-1].value, read[-1].unit) if read else None


# -- defects ------------------------------------------------------------------------------------


@click.group(invoke_without_command=True)
@json_option
@click.pass_context
def defects(ctx: click.Context, as_json: bool) -> None:
    """List the open defects, show one, add one, or move one on.

    The states are reported, acknowledged, repaired and checked; one that is checked is closed.
    """
    if ctx.invoked_subcommand is None:
        _list_defects(ctx.obj, as_json, everything=False)


@defects.command("list")
@click.option("--all", "everything", is_flag=True, help="Also those that are signed off.")
@json_option
@click.pass_obj
def list_defects(given: Given, everything: bool, as_json: bool) -> None:
    """List the open defects, those that keep the coach parked first."""
    _list_defects(given, as_json, everything=everything)


def _list_defects(given: Given, as_json: bool, *, everything: bool) -> None:
    from cabassist.record.defects import all_defects, open_defects

    coach = _coach(given)
    with _journal(given) as journal:
        record = _record(journal, coach)
    rows = all_defects(record) if everything else open_defects(record)
    if as_json:
        print_json([_defect_json(row) for row in rows])
        return
    if not rows:
        click.echo("No defects on record." if everything else "No open defects on record. Look round all the same.")
        return
    for row in rows:
        mark = "WARNING: " if row.stops or row.unclear else ""
        print_lines([f"{mark}{row.words()}. {row.state.capitalize()} by {row.stages[-1].by}. {row.verdict()}"])


def _defect_json(row: Defect) -> dict[str, Any]:
    more = {"state": row.state, "open": row.open, "stops": row.stops, "unclear": row.unclear, "verdict": row.verdict()}
    return {**asdict(row), **more}


def _defect(record: Record, number: int) -> Defect:
    from cabassist.record.defects import all_defects

    rows = all_defects(record)
    if not 1 <= number <= len(rows):
        has = f"There are {len(rows)}." if rows else "There are none."
        raise RecordProblem(f"There is no defect {number}. {has} See: cabassist defects list --all")
    return rows[number - 1]


@defects.command("show")
@click.argument("number", type=int)
@json_option
@click.pass_obj
def show_defect(given: Given, number: int, as_json: bool) -> None:
    """Show one defect with everything that was said about it."""
    coach = _coach(given)
    with _journal(given) as journal:
        row = _defect(_record(journal, coach), number)
    if as_json:
        print_json(_defect_json(row))
        return
    print_lines(defect_lines(row))


def defect_lines(row: Defect) -> list[str]:
    """One defect for a terminal."""
    lines = [f"Defect {row.words()}", row.verdict()]
    lines += [
        f"  {s.state:<13}{s.at.astimezone():%a %d %b %Y %H:%M}  {s.by}{f' ({s.note})' if s.note else ''}"
        for s in row.stages
    ]
    lines += [f"  photo        {photo}" for photo in row.photos]
    lines += [f"  said         {remark}" for remark in row.remarks]
    return lines


@defects.command("add")
@click.argument("text", nargs=-1, required=True)
@click.option("--photo", "photos", multiple=True, type=click.Path(path_type=Path), help="A photo; its path is kept.")
@click.option("--severity", type=click.Choice(["stop", "today", "service"]), help="How bad it is.")
@json_option
@click.pass_obj
def add_defect(
    given: Given, text: tuple[str, ...], photos: tuple[Path, ...], severity: str | None, as_json: bool
) -> None:
    """Report a defect in your own words: what, and where."""
    from cabassist import places
    from cabassist.dialogue.session import load_terms
    from cabassist.language.normalise import clean, has_words
    from cabassist.procedures.library import load_knowledge
    from cabassist.record.defect_words import DefectWords, read_report, wants_record
    from cabassist.record.defects import noted, reported

    said = clean(" ".join(text))[:600]
    if not has_words(said):
        raise RecordProblem(
            "Nothing to report. Say what is wrong and where: cabassist defects add cracked lamp in bay 3"
        )
    for photo in photos:
        _existing(photo)
    coach = _coach(given)
    knowledge = load_knowledge(given.knowledge_folder(), places.cache_folder())
    words = DefectWords.made(load_terms(knowledge, places.cache_folder())["defect-words"])
    at = now()
    entry = reported(read_report(wants_record(said, 1.0) or said, coach, words, said), said, at, given.actor)
    with _journal(given) as journal:
        record = _record(journal, coach).with_entries(entry)
        made = next(row for row in _all(record) if row.key == entry.key)
        more = [noted(made, at, given.actor, photo=str(photo.resolve())) for photo in photos]
        if severity and made.severity != "stop":
            more.append(noted(made, at, given.actor, said=f"severity: {severity}", severity=severity))
        _keep(journal, coach, given, [entry, *more], at)
        _show_kept(record.with_entries(*more), entry.key, as_json)


def _all(record: Record) -> list[Defect]:
    from cabassist.record.defects import all_defects

    return all_defects(record)


def _existing(photo: Path) -> None:
    try:
        there = photo.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        raise FileProblem(photo, "is not a file.", "Check the path of the photo.")


def _show_kept(record: Record, key: str, as_json: bool) -> None:
    row = next(row for row in _all(record) if row.key == key)
    if as_json:
        print_json(_defect_json(row))
        return
    if row.stops or row.unclear:
        print_lines([f"WARNING: {row.verdict()}"])
    if row.unclear:
        print_lines([f"{row.asks} When it does, say so: number {row.number} still works."])
    print_lines([f"On record: defect {row.words()}, {row.state}."])


@defects.command("photo")
@click.argument("number", type=int)
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def photo_of(given: Given, number: int, file: Path, as_json: bool) -> None:
    """Keep the path of a photo with a defect; the file stays where it is."""
    from cabassist.record.defects import noted

    _existing(file)
    coach, at = _coach(given), now()
    with _journal(given) as journal:
        record = _record(journal, coach)
        row = _defect(record, number)
        entry = noted(row, at, given.actor, photo=str(file.resolve()))
        _keep(journal, coach, given, [entry], at)
        _show_kept(record.with_entries(entry), row.key, as_json)


def _moving(state: DefectState, sentence: str) -> click.Command:
    @click.argument("number", type=int)
    @click.option("--note", default="", help="A remark, for example who did the work.")
    @json_option
    @click.pass_obj
    def moved(given: Given, number: int, note: str, as_json: bool) -> None:
        from cabassist.record.defects import staged

        coach, at = _coach(given), now()
        with _journal(given) as journal:
            record = _record(journal, coach)
            row = _defect(record, number)
            try:
                entry = staged(row, state, at, given.actor, note=note)
            except ValueError as error:
                raise RecordProblem(str(error)) from None
            _keep(journal, coach, given, [entry], at)
            _show_kept(record.with_entries(entry), row.key, as_json)

    moved.__doc__ = sentence
    name: str = {"acknowledged": "acknowledge", "repaired": "repaired", "checked": "sign-off"}[state]
    return defects.command(name)(moved)


_moving("acknowledged", "Say that you have read of a defect (49 CFR 396.13).")
_moving("repaired", "Say that a defect is repaired; --note says by whom.")
_moving("checked", "Sign a repaired defect off once you have seen it work.")


# -- upkeep -------------------------------------------------------------------------------------


@click.group(invoke_without_command=True)
@click.option("--csv", "csv_file", type=click.Path(path_type=Path), help="Write CSV to a file, - for standard output.")
@click.option("--ics", "ics_file", type=click.Path(path_type=Path), help="Write a calendar (iCalendar), - as above.")
@json_option
@click.pass_context
def upkeep(ctx: click.Context, csv_file: Path | None, ics_file: Path | None, as_json: bool) -> None:
    """Show the upkeep of the coach and when it is due, by days, miles or trips."""
    if ctx.invoked_subcommand is not None:
        return
    from cabassist.record.upkeep import due_list
    from cabassist.record.upkeep_export import as_calendar, as_csv

    given: Given = ctx.obj
    coach, at = _coach(given), now()
    with _journal(given) as journal:
        rows = due_list(coach, _record(journal, coach), at, _odometer(journal, coach, at))
    if csv_file is not None:
        _write(csv_file, as_csv(rows).encode())
    if ics_file is not None:
        _write(ics_file, as_calendar(rows, coach, at))
    if as_json:
        print_json([asdict(row) for row in rows])
    elif csv_file is None and ics_file is None:
        print_lines(_upkeep_lines(rows))


def _upkeep_lines(rows: Sequence[Due]) -> list[str]:
    if not rows:
        return ["The coach's profile lists no upkeep. Add it under `upkeep` in the profile."]
    lines = []
    for row in rows:
        last = f" Last: {row.last.astimezone():%d %b %Y}, {row.by}." if row.last else ""
        lines.append(f"{row.state:<10} {row.name}: {row.words}.{last}  [{row.id}]")
    return lines


@upkeep.command("done")
@click.argument("item", metavar="ID")
@click.option("--on", "day", type=click.DateTime(["%Y-%m-%d"]), help="The day it was done, when not today.")
@click.option("--miles", type=click.FloatRange(0, 9_999_999), help="The odometer then, in miles.")
@json_option
@click.pass_obj
def upkeep_done(given: Given, item: str, day: datetime | None, miles: float | None, as_json: bool) -> None:
    """Put work on record as done. ID is in the brackets of `cabassist upkeep`."""
    from cabassist.procedures.library import nearest
    from cabassist.record.upkeep import done, due_list

    coach, at = _coach(given), now()
    names = [entry.id for entry in coach.upkeep]
    if item not in names:
        raise UnknownName("upkeep", item, nearest(item, names), "See: cabassist upkeep")
    on = day.replace(hour=12).astimezone() if day else at
    if on.date() > at.date():
        raise RecordProblem(f"{on:%Y-%m-%d} is still to come. Give the day on which it was done.")
    with _journal(given) as journal:
        record = _record(journal, coach)
        odometer = _odometer(journal, coach, at)
        entry = done(
            item, min(on, at), at, given.actor, miles=odometer if miles is None else miles, said="command line"
        )
        _keep(journal, coach, given, [entry], at)
        rows = due_list(coach, record.with_entries(entry), at, odometer)
    found = next((row for row in rows if row.id == item), None)
    if as_json:
        print_json(asdict(found) if found else None)
    else:
        print_lines([f"On record: {item}." + (f" Next: {found.words}." if found else "")])


def _write(path: Path, body: bytes) -> None:
    if str(path) == "-":
        click.echo(body, nl=False)
        return
    try:
        path.write_bytes(body)
    except OSError as error:
        raise FileProblem(path, f"cannot be written ({error.strerror}).", "Name a file in a folder you may write to.") from None  # fmt: skip
    click.echo(f"Written: {path}", err=True)


# -- rounds -------------------------------------------------------------------------------------


@click.group(invoke_without_command=True)
@json_option
@click.pass_context
def rounds(ctx: click.Context, as_json: bool) -> None:
    """List the rounds that were walked, or show one: what was ticked, skipped and why, and read on the way."""
    if ctx.invoked_subcommand is not None:
        return
    coach, walked = _rounds(ctx.obj)
    if as_json:
        print_json([asdict(row) for row in walked])
        return
    if not walked:
        names = ", ".join(f"{entry.name} ({entry.topic})" for entry in coach.rounds)
        click.echo(f"No round on record. Rounds of {coach.name}: {names}. Begin one by asking for it.")
    for row in walked:
        done = sum(tick.mark == "done" for tick in row.ticks)
        print_lines(
            [
                f"{row.number:>4}  {row.began.astimezone():%a %d %b %H:%M}  {row.name}: {row.ending}, {done} of {len(row.ticks)} done, "
                f"{len(row.skipped)} skipped, {row.missed} not reached. {', '.join(row.by)}"
            ]
        )


def _rounds(given: Given) -> tuple[Coach, list[RoundWalked]]:
    from cabassist.record.rounds import rounds_walked

    coach = _coach(given)
    with _journal(given) as journal:
        events = _events(journal, coach, "walk", "skip", "no-reading", "reading")
    return coach, rounds_walked(events, coach)


@rounds.command("show")
@click.argument("number", type=int)
@click.option("--html", "file", type=click.Path(path_type=Path), help="Write a page that prints.")
@json_option
@click.pass_obj
def show_round(given: Given, number: int, file: Path | None, as_json: bool) -> None:
    """Show one round step by step. NUMBER is that of `cabassist rounds`."""
    from cabassist import places
    from cabassist.coach import facts
    from cabassist.dialogue.phrases import filled
    from cabassist.procedures.library import load_knowledge
    from cabassist.record.pages import round_html

    coach, walked = _rounds(given)
    row = next((row for row in walked if row.number == number), None)
    if row is None:
        raise RecordProblem(f"There is no round {number}. See: cabassist rounds")
    knowledge = load_knowledge(given.knowledge_folder(), places.cache_folder())
    procedure, words = knowledge.procedure(row.topic), facts(coach)
    steps = [filled(step.do, words) for step in procedure.steps]
    does = [steps[tick.step] if tick.step < len(steps) else f"step {tick.step + 1}" for tick in row.ticks]
    if as_json:
        print_json({**asdict(row), "title": procedure.title, "steps": does})
    if file is not None:
        _write(file, round_html(row, procedure.title, coach.name, does).encode())
    if as_json or file is not None:
        return
    lines = [f"{procedure.title}, {row.began.astimezone():%a %d %b %Y %H:%M}, {row.ending}. {', '.join(row.by)}"]
    for place, (tick, do) in enumerate(zip(row.ticks, does, strict=True), 1):
        mark = {"done": "[x]", "skipped": "[-]", "not done": "[ ]"}[tick.mark]
        reason = f" (skipped: {tick.reason})" if tick.mark == "skipped" else ""
        told = f" ({', '.join(tick.readings)})" if tick.readings else ""
        lines.append(f"{mark} {place:>2}. {do}{told}{reason}")
    print_lines(lines)


# -- duty and hand-over -------------------------------------------------------------------------


@click.command()
@json_option
@click.pass_obj
def duty(given: Given, as_json: bool) -> None:
    """Show each driver's duty status and the driving hours left (49 CFR 395.5). A helper, not a logging device."""
    from cabassist.dialogue.duty import estimate_of, lines_of
    from cabassist.record.duty import changes, drivers

    coach, at = _coach(given), now()
    with _journal(given) as journal:
        record = _record(journal, coach)
    people = drivers(record)
    if as_json:
        body = []
        for who in people:
            found = estimate_of(record, who, at)
            moved = [{"at": when, "status": status} for when, status in changes(record, who)]
            body.append({"driver": who, "changes": moved, "left": asdict(found) if found else None})
        print_json(body)
        return
    lines = lines_of(record, at)
    print_lines(lines or ["No duty status on record. Say, for example: on duty; driving; off duty; berth."])


@click.command()
@click.option(
    "--html", "file", type=click.Path(path_type=Path), help="Write a page that prints; - for standard output."
)
@click.option("--spoken", "for_ear", is_flag=True, help="Only the summary for the ear, under a minute.")
@json_option
@click.pass_obj
def handover(given: Given, file: Path | None, for_ear: bool, as_json: bool) -> None:
    """One page for the next driver: defects, levels and forecasts, what is due, what is missing."""
    from cabassist.dialogue.keeping import page_now
    from cabassist.dialogue.session import load_mind
    from cabassist.record.handover import json_of, lines_of, spoken
    from cabassist.record.pages import handover_html

    at = now()
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    with _journal(given) as journal:
        events = _events(journal, mind.coach, "reading", "withdrawn", "said", "answered")
        page = page_now(_state(journal, mind, events, at), mind, at, events)
    if file is not None:
        _write(file, handover_html(page).encode())
    if as_json:
        print_json(json_of(page))
    elif for_ear:
        click.echo(spoken(page))
    elif file is None:
        print_lines(lines_of(page))
    raise SystemExit(ANSWERED)


def _state(journal: Journal, mind: Mind, events: Sequence[Event], at: datetime) -> State:
    """Where the coach stands by its journal: the readings that count and the record."""
    from cabassist.dialogue.recall import REMEMBERED, stored_from
    from cabassist.dialogue.types import State

    stored = stored_from(events, coach=mind.coach.id, since=at - REMEMBERED, until=at)
    return State(stored=stored, record=_record(journal, mind.coach))


__all__ = ["defects", "duty", "handover", "rounds", "upkeep"]
