"""`cabassist reading`, `readings` and `outlook`: what was told, and how long it lasts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, Any

import click

from cabassist.cli.shared import (
    ANSWERED,
    NOT_ANSWERED,
    Given,
    json_option,
    now,
    open_journal,
    print_json,
    print_lines,
    remembering,
)

if TYPE_CHECKING:
    from cabassist.dialogue.board import BoardLine
    from cabassist.dialogue.types import Stored

NO_READING = (
    'I found no reading in that. Say what it is and how much, for example: cabassist reading "waste at forty percent"'
)
NONE_YET = 'No readings yet. Tell one, for example: cabassist reading "waste at forty percent"'


@click.command()
@click.argument("text", nargs=-1, required=True)
@json_option
@click.pass_obj
def reading(given: Given, text: tuple[str, ...], as_json: bool) -> None:
    """Record readings. TEXT is what you would say: fresh at half, minus twelve out.

    Says what each means on this coach, and how long it lasts. Exit code 1: nothing was recorded.
    """
    import time

    from cabassist.dialogue.session import as_contract, load_mind

    begun = time.perf_counter()
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    said, at = " ".join(text), now()
    heard = mind.readings_in(said)
    if not (heard.readings or heard.refused or heard.ask):
        if as_json:
            print_json({"readings": [], "say": NO_READING})
        else:
            click.echo(NO_READING)
        raise SystemExit(NOT_ANSWERED)
    with open_journal(given.journal_file()) as journal:
        reply = remembering(given, mind, journal, at).hear(said, at)
    if as_json:
        print_json(as_contract(reply, (time.perf_counter() - begun) * 1000))
    else:
        print_lines(reply.show)
    raise SystemExit(ANSWERED if reply.readings else NOT_ANSWERED)


@click.command()
@click.argument("what", nargs=-1)
@click.option("--ascii", "plain", is_flag=True, help="Plot with plain characters only.")
@json_option
@click.pass_obj
def readings(given: Given, what: tuple[str, ...], plain: bool, as_json: bool) -> None:
    """List the latest readings with their age and history. WHAT narrows it: waste, propane, outside temp.

    Readings of the last 14 days count. With WHAT the history is listed and plotted in full.
    """
    from cabassist.cli.plots import blocks_shown
    from cabassist.dialogue.recall import recalled

    coach, at = given.load_coach(), now()
    with open_journal(given.journal_file()) as journal:
        stored = recalled(journal, coach.id, at)
    wanted = " ".join(what).lower().replace("_", " ").split()
    series = _series(stored, wanted)
    rows = [_row(held, coach, at) for held in series]
    if as_json:
        print_json(rows)
    elif not rows:
        click.echo(f"No reading of that. {NONE_YET.partition('. ')[2]}" if what else NONE_YET)
    else:
        plain = plain or not blocks_shown()
        print_lines(line for held in series for line in _lines(held, coach, at, plain=plain, full=bool(what)))
    raise SystemExit(ANSWERED if rows else NOT_ANSWERED)


def _series(stored: Sequence[Stored], wanted: list[str]) -> list[list[Stored]]:
    """Readings of the same thing together, oldest first; the thing named last comes last."""
    found: dict[tuple[str, str | None], list[Stored]] = {}
    for held in stored:
        name = f"{held.reading.which or ''} {held.reading.what.replace('_', ' ')}".lower()
        if all(word in name for word in wanted):
            found.setdefault((held.reading.what, held.reading.which), []).append(held)
    return list(found.values())


def _points(series: list[Stored], coach: Any) -> tuple[list[tuple[datetime, float]], bool]:
    """What is plotted: shares of full in percent where there is a full, else the values as told."""
    from cabassist.language.plausibility import fraction_of_full

    shares = [(held.at.astimezone(), fraction_of_full(held.reading, coach)) for held in series]
    levels = [(at, 100 * share) for at, share in shares if share is not None]
    if levels:
        return levels, True
    unit = series[-1].reading.unit
    return [
        (held.at.astimezone(), held.reading.value)
        for held in series
        if held.reading.value is not None and held.reading.unit == unit
    ], False


def _row(series: list[Stored], coach: Any, at: datetime) -> dict[str, Any]:
    last = series[-1]
    points, is_level = _points(series, coach)
    return {
        "what": last.reading.what,
        "which": last.reading.which,
        "value": last.reading.value,
        "unit": last.reading.unit,
        "approx": last.reading.approx,
        "flag": last.reading.flag,
        "at": last.at.isoformat(),
        "age_h": round((at - last.at).total_seconds() / 3600, 2),
        "level": round(points[-1][1] / 100, 4) if is_level else None,
        "history": [[moment.isoformat(), round(value, 4)] for moment, value in points],
    }


def _lines(series: list[Stored], coach: Any, at: datetime, *, plain: bool, full: bool) -> list[str]:
    from cabassist.cli.plots import line_of, plot
    from cabassist.dialogue.phrases import ago
    from cabassist.language.plausibility import SHOWN_UNITS, echo

    last = series[-1]
    points, is_level = _points(series, coach)
    scale: dict[str, Any] = {"low": 0.0, "high": 100.0} if is_level else {}
    head = f"{echo(last.reading, coach)} Told {ago(last.at, at)}."
    if not full:
        small = f"  {line_of(points, plain=plain, **scale)}  {len(points)} readings" if len(points) > 1 else ""
        return [head + small]
    told = [f"  {held.at.astimezone():%a %d %b %H:%M}  {echo(held.reading, coach)}" for held in series]
    unit = "%" if is_level else SHOWN_UNITS.get(last.reading.unit or "", "")
    drawn = plot(points, plain=plain, unit=f" {unit}" if unit else "", **scale) if len(points) > 1 else []
    return [head, *told, *drawn, ""]


@click.command()
@click.argument("what", nargs=-1)
@click.option("--why", is_flag=True, help="Print the working of every number.")
@json_option
@click.pass_obj
def outlook(given: Given, what: tuple[str, ...], why: bool, as_json: bool) -> None:
    """Print the board: each supply, its level, how old that is, how long it lasts, by when to act.

    WHAT narrows it: waste, propane. With --why every number comes with the sum that makes it. Exit code 1: nothing
    is known yet.
    """
    from cabassist.dialogue.board import board_from, first_due
    from cabassist.dialogue.recall import recalled

    coach, at = given.load_coach(), now()
    with open_journal(given.journal_file()) as journal:
        stored = recalled(journal, coach.id, at)
    board = board_from(stored, coach, at)
    wanted = " ".join(what).lower().replace("_", " ").split()
    lines = [x for x in board.lines if all(w in f"{x.name} {x.what.replace('_', ' ')}".lower() for w in wanted)]
    known = [line for line in lines if line.level is not None]
    if as_json:
        print_json({"at": board.at.isoformat(), "lines": [_as_json(line) for line in lines]})
    else:
        first = first_due(replace(board, lines=tuple(lines)))
        print_lines(_board_lines(known, lines, first, why=why) if known else [NONE_YET])
    raise SystemExit(ANSWERED if known else NOT_ANSWERED)


def _board_lines(
    known: Sequence[BoardLine], lines: Sequence[BoardLine], first: BoardLine | None, *, why: bool
) -> list[str]:
    width = max(len(line.name) for line in known)
    shown = []
    if first is not None and first.act_words:
        shown += [f"First: {first.name}, {first.act_words}.", ""]
    for line in known:
        shown.append(f"{line.name:<{width}}  {line.level_words}; told {line.age_words}")
        shown += [f"{'':<{width}}  {part}" for part in (line.left_words, line.act_words, line.odd) if part]
        if line.rate_words:
            shown.append(f"{'':<{width}}  goes at {line.rate_words}")
        if why:
            shown += ["", *(f"  {one}" for one in line.why), ""]
    missing = [line.name.lower() for line in lines if line.level is None]
    if missing:
        shown += ["", f"Not read yet: {', '.join(missing)}."]
    return shown if why else [*shown, "", "How each number comes about: cabassist outlook --why"]


def _as_json(line: BoardLine) -> dict[str, Any]:
    def moved(points: Sequence[tuple[datetime, float]]) -> list[list[Any]]:
        return [[at.isoformat(), round(value, 4)] for at, value in points]

    estimate = line.estimate
    return {
        "what": line.what, "which": line.which, "name": line.name, "level": line.level, "level_words": line.level_words,
        "said_at": line.said_at.isoformat() if line.said_at else None, "age_words": line.age_words,
        "left_h": line.left_h, "left_low_h": line.left_low_h, "left_high_h": line.left_high_h, "left_words": line.left_words,
        "left": {"value": estimate.value, "unit": estimate.unit, "low": estimate.low, "high": estimate.high} if estimate else None,
        "act_by": line.act_by.isoformat() if line.act_by else None, "act_words": line.act_words, "rate_words": line.rate_words,
        "odd": line.odd or None, "history": moved(line.history), "forecasts": moved(line.forecasts), "why": list(line.why),
    }  # fmt: skip
