"""What can be looked at: pure texts made of the state, the board and the coach's profile."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from pydantic import BaseModel
from textual.content import Content

from cabassist.dialogue.board import Board, BoardLine
from cabassist.dialogue.types import Mind, State
from cabassist.screen.board import full_rows, moment_words
from cabassist.screen.drawing import known_by
from cabassist.screen.look import Look
from cabassist.screen.trip import NONE
from cabassist.screen.values import values_of

PLOT_ROWS = 5
PLOT_SPAN = timedelta(days=4)
"""How far back a plot of readings reaches."""


@dataclass(frozen=True)
class View:
    """What a page is made of, and the room it has, in columns."""

    state: State
    mind: Mind
    board: Board | None
    now: datetime
    look: Look
    width: int
    trip: BaseModel | None = None
    """The trip that is planned."""
    ahead: tuple[str, ...] = ()
    """How the supplies fare on it, once that is worked out."""


@dataclass(frozen=True)
class Page:
    """A page: its title, what it is for, its text, and the form that enters something into it."""

    title: str
    about: str
    text: Callable[[View], Content]
    form: str = ""


def supplies(view: View) -> Content:
    """The board, then how each number came about."""
    if view.board is None:
        return view.look.content("No reading stands yet.")
    parts = [full_rows(view.board, view.width, view.look)]
    for line in view.board.lines:
        if line.why:
            parts.append(_title(line.name, view))
            parts += [view.look.content(f"  {text}") for text in (line.act_words, line.rate_words, *line.why) if text]
    return _lines(parts)


def readings(view: View) -> Content:
    """Every supply's readings as a plot and as a list, and the other readings that stand."""
    parts: list[Content] = []
    for line in view.board.lines if view.board else ():
        if line.history:
            parts += [_title(f"{line.name}, {line.level_words}", view), *plot(line, view)]
            shown = [f"{moment_words(at, view.now)} {round(100 * level)} %" for at, level in line.history[-6:]]
            parts.append(view.look.content("  " + ", ".join(shown)))
    known = {(line.what, line.which) for line in view.board.lines} if view.board else set()
    from cabassist.language.plausibility import echo

    rest = [held for held in view.state.stored if (held.reading.what, held.reading.which) not in known]
    if rest:
        parts.append(_title("Other readings", view))
    for held in rest[-20:]:
        when = moment_words(held.at, view.now)
        parts.append(view.look.content(f"  {when:<9} {echo(held.reading, view.mind.coach)}"))
    return (
        _lines(parts) if parts else view.look.content("No reading stands yet. Say, for example: fresh at two thirds.")
    )


def plot(line: BoardLine, view: View) -> list[Content]:
    """A supply's level over the last days: a column for each stretch of time, as high as the latest reading before it."""
    look, columns = view.look, max(12, min(72, view.width - 12))
    since = max(view.now - PLOT_SPAN, min(line.history[0][0], view.now - timedelta(hours=1)))
    ends = known_by([at for at, _ in line.history], since, view.now, columns)
    levels = [line.history[known - 1][1] if known else None for known in ends]
    found: list[Content] = []
    for row in range(PLOT_ROWS, 0, -1):
        cells = "".join(_cell(level, row, look) for level in levels)
        label = "100 %" if row == PLOT_ROWS else "  0 %" if row == 1 else "     "
        found.append(look.content(f"  {label} |{cells}"))
    left, right = moment_words(since, view.now), moment_words(view.now, view.now)
    found.append(look.content(f"         {left}{right:>{max(1, columns - len(left))}}", "$text-muted"))
    return found


def _cell(level: float | None, row: int, look: Look) -> str:
    if level is None:
        return " "
    height = level * PLOT_ROWS - (row - 1)
    if height <= 0:
        return look.signs.levels[0] if row == 1 else " "
    return look.signs.full if height >= 1 else look.signs.levels[int(height * (len(look.signs.levels) - 1))]


def duty(view: View) -> Content:
    """Where each driver stands."""
    from cabassist.dialogue.duty import lines_of

    lines = lines_of(view.state.record, view.now) or ["No duty status is on record. Say, for example: I'm driving."]
    note = "A helper for planning, no logging device: your record of duty status counts."
    return _lines([*(view.look.content(line) for line in lines), Content(""), view.look.content(note, "$text-muted")])


def defects(view: View) -> Content:
    """Open defects first, with what they mean for driving on."""
    from cabassist.record.defects import all_defects

    found = sorted(
        all_defects(view.state.record), key=lambda defect: (not defect.open, not defect.stops, defect.number)
    )
    parts: list[Content] = []
    for defect in found:
        last = defect.stages[-1]
        parts.append(view.look.content(f"Defect {defect.words()}", "bold"))
        parts.append(view.look.content(f"  {defect.verdict()}", "bold" if defect.stops or defect.unclear else ""))
        when = moment_words(last.at, view.now)
        parts.append(view.look.content(f"  {defect.state}, {last.by}, {when}", "$text-muted"))
        parts += [view.look.content(f"  {remark}") for remark in defect.remarks]
    return _lines(parts) if parts else view.look.content("No defect is on record.")


def upkeep(view: View) -> Content:
    """What is due, the most pressing first, and kit that is missing."""
    from cabassist.dialogue.keeping import odometer_mi
    from cabassist.record.kit import missing
    from cabassist.record.upkeep import due_list

    rows = due_list(view.mind.coach, view.state.record, view.now, odometer_mi(view.state))
    away = missing(view.mind.coach, view.state.record)
    parts = [_title("Missing kit", view)] if away else []
    parts += [view.look.content(f"  {row.item.name}, from {row.item.place}") for row in away]
    parts.append(_title("Upkeep", view))
    for row in rows:
        weight = "bold" if row.state in ("overdue", "due") else ""
        parts.append(view.look.content(f"  {row.name}: {row.words}", weight))
    return _lines(parts) if rows or away else view.look.content("This coach's profile asks for no upkeep.")


def hand_over(view: View) -> Content:
    """The page for the next driver."""
    from cabassist.dialogue.keeping import page_now
    from cabassist.record.handover import lines_of

    return _lines([view.look.content(line) for line in lines_of(page_now(view.state, view.mind, view.now))])


def trip(view: View) -> Content:
    """How every supply fares on the trip, then the trip itself."""
    if view.trip is None:
        return view.look.content("\n".join(view.ahead) or NONE)
    lines = view.ahead or ("Working it out.",)
    return _lines([*(view.look.content(line) for line in lines), _title("The trip", view), *_values(view.trip, view)])


def coach(view: View) -> Content:
    """The whole profile, each value with its unit and what it is."""
    return _lines(_values(view.mind.coach, view))


def _values(model: BaseModel, view: View) -> list[Content]:
    """Every value below what it belongs to: its name, how it stands, and what it is where there is room."""
    found: list[Content] = []
    for group, values in groupby(values_of(model), key=lambda value: value.group):
        if group:
            found.append(_title(f"{group[:1].upper()}{group[1:]}", view))
        rows = list(values)
        wide = max(len(value.name) for value in rows) + 2
        for value in rows:
            line = view.look.content(f"  {value.name:<{wide}}{value.shown}", "bold")
            found.append(Content.assemble(line, view.look.content(f"  {value.about}", "$text-muted")))
    return found


def _title(text: str, view: View) -> Content:
    return Content.assemble("\n", view.look.content(text, "bold underline"))


def _lines(parts: Sequence[Content]) -> Content:
    return Content("\n").join(parts)


PAGES: dict[str, Page] = {
    "supplies": Page("Supplies", "Levels, time left, why", supplies, "readings"),
    "readings": Page("Readings", "History with plots", readings, "readings"),
    "trip": Page("Trip", "How supplies fare to its end", trip, "trip"),
    "duty": Page("Duty", "Duty status and hours", duty, "duty"),
    "defects": Page("Defects", "What is broken", defects, "defects"),
    "upkeep": Page("Upkeep", "What is due, kit that is missing", upkeep, "upkeep"),
    "hand-over": Page("Hand-over", "The page for the next driver", hand_over),
    "coach": Page("Coach", "The profile in use", coach, "coach"),
}
"""Every page by its name."""
