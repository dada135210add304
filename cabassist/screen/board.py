"""Supplies, timers and deadlines: what runs out, and when something must be done."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Digits, Static

from cabassist.screen.look import Look

if TYPE_CHECKING:
    from cabassist.dialogue.board import Board, BoardLine
    from cabassist.dialogue.types import Timer

SOON = timedelta(hours=6)
"""A deadline nearer than this is marked. Common practice, no source."""
WITH_RANGES = 74
"""Columns from which on a row of a small screen has its bar and its range."""
TREND = 8
"""Readings of which it is shown how the time left has moved."""
WORDS_FOR = {2: "both"}
"""Cylinders that feed one after the other, taken together."""


def hours_words(hours: float) -> str:
    """A time span in few letters: "40 min", "7 h", "2.3 d"."""
    if hours < 1.5:
        return f"{round(hours * 60)} min"
    return f"{hours:.0f} h" if hours < 48 else f"{hours / 24:.1f} d"


def range_words(line: BoardLine, look: Look) -> str:
    """The time left with its range; "" when it is not known."""
    if line.left_h is None:
        return ""
    if line.left_low_h is None:
        return hours_words(line.left_h)
    low, high = hours_words(line.left_low_h), hours_words(line.left_high_h) if line.left_high_h is not None else "more"
    if low.split()[-1] == high.split()[-1]:
        low = low.split()[0]
    return f"{hours_words(line.left_h)} ({low}{look.signs.dash}{high})"


def moment_words(moment: datetime, now: datetime) -> str:
    """A moment as a driver says it: the clock today, the weekday with it later."""
    local = moment.astimezone(now.tzinfo)
    if abs(local - now) < timedelta(minutes=1):
        return "now"
    if local.date() == now.date():
        return f"{local:%H:%M}"
    return f"{local:%a %H:%M}" if local - now < timedelta(days=6) else f"{local:%d %b}"


def safe_moment(act_by: datetime, now: datetime) -> datetime:
    """When to act, as the answers say it: within a day to the five minutes before, later to the full hour before."""
    near = act_by - now < timedelta(hours=24)
    return act_by.replace(minute=act_by.minute // 5 * 5 if near else 0, second=0, microsecond=0)


def act_verb(line: BoardLine) -> str:
    """What must be done: "fill", "dump"."""
    return re.split(r" (?:by|now|within)\b", line.act_words)[0] or "act"


def countdown(due: datetime, now: datetime) -> str:
    """Time to go as minutes and seconds, or hours."""
    seconds = max(0, round((due - now).total_seconds()))
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60:02}:{rest % 60:02}"


def pressing(board: Board) -> list[BoardLine]:
    """The supplies, those to act on or that run out first at the top; what nobody has read comes last."""
    far = board.at + timedelta(days=3650)

    def soonest(line: BoardLine) -> datetime:
        early = line.left_low_h if line.left_low_h is not None else line.left_h
        ends = board.at + timedelta(hours=early) if early is not None else far
        return min(line.act_by or far, ends)

    return sorted(board.lines, key=lambda line: (line.level is None, soonest(line)))


def moved(line: BoardLine) -> bool:
    """Whether the level is another one than was told: used since then, or put together with what was known before."""
    return bool(line.history) and line.level is not None and round(100 * line.level) != round(100 * line.history[-1][1])


def together(line: BoardLine, board: Board) -> str:
    """Whose time left it is when cylinders before this one are used up first: "both"; "" when it is its own."""
    before = [
        other
        for other in board.lines
        if other.what == line.what and other.which and other.level and other.left_h is not None
        and line.left_h is not None and other.left_h < line.left_h
    ]  # fmt: skip
    return WORDS_FOR.get(len(before) + 1, "all") if before else ""


def deadlines(board: Board | None, timers: Sequence[Timer], now: datetime) -> list[tuple[datetime, str]]:
    """What comes next, soonest first: timers, and supplies to act on, each once."""
    found = [(timer.due, timer.announce) for timer in timers if board is None or not timer.about]
    if board is not None:
        found += [
            (safe_moment(line.act_by, board.at), f"{line.name}: {act_verb(line)}")
            for line in board.lines
            if line.act_by is not None
        ]
    return sorted(found, key=lambda pair: pair[0])


def short_rows(board: Board, width: int, look: Look, rows: int) -> Content:
    """The most pressing supplies, one row each; what there is no room for is named in the last, else what nobody has read."""
    known, unread = [line for line in pressing(board) if line.level is not None], _unread(board, look, width)
    shown = len(known) if len(known) <= rows else max(1, rows - 1)
    out = [_short_row(line, board, width, look) for line in known[:shown]]
    if more := known[shown:]:
        names = ", ".join(f"{look.text(line.name)} {_percent(line).strip()}" for line in more)
        unread = [Content.assemble(("More (F9): ", "bold"), look.content(names)).truncate(width, ellipsis=True)]
    return Content("\n").join([*out, *unread][: max(1, rows)])


def _short_row(line: BoardLine, board: Board, width: int, look: Look) -> Content:
    name = look.text(line.name)[:16].ljust(16)
    level = f"{_percent(line)}{' now' if moved(line) else '    '}"
    whose, left, room = together(line, board), range_words(line, look), 23
    if width < WITH_RANGES:
        left, room = hours_words(line.left_h) if line.left_h is not None else "", 11
    else:
        level = f"{look.bar(line.level or 0.0, 6)} {level}"
    left = f"{whose}: {left}" if left and whose else left or line.age_words
    text = Content.assemble(
        (name, "bold"), " ", level, " ", look.content(f"{left:<{room}} "), look.content(_by(line, board.at), "bold")
    )
    return text.truncate(width, ellipsis=True)


def _percent(line: BoardLine) -> str:
    return f"{round(100 * (line.level or 0.0)):>3} %"


def _unread(board: Board, look: Look, width: int = 0) -> list[Content]:
    """What nobody has read yet, in one row when a width is given; a word of help when that is everything."""
    names = [look.text(line.name) for line in pressing(board) if line.level is None]
    if not names:
        return []
    listed, kept, head = ", ".join(names), len(names), "Not read yet: "
    while width and kept > 1 and len(head) + len(listed) > width:
        kept -= 1
        listed = f"{', '.join(names[:kept])} and {len(names) - kept} more"
    rows = [Content.assemble((head, "bold"), look.content(listed, "$text-muted"))]
    if len(names) == len(board.lines):
        rows.append(look.content("Tell me a reading, for example: fresh at two thirds."))
    return rows


def _by(line: BoardLine, now: datetime) -> str:
    """What must be done, and by when: "fill by Tue 17:15"."""
    if line.act_by is None:
        return ""
    mark = "!! " if line.act_by - now < SOON else ""
    when = moment_words(safe_moment(line.act_by, now), now) if line.act_by - now > timedelta(minutes=5) else "now"
    return f"{mark}{act_verb(line)} {'' if when == 'now' else 'by '}{when}"


def trend(line: BoardLine, look: Look) -> str:
    """How the time left has moved with each reading, in columns between its least and its greatest."""
    hours = [left for _, left in line.forecasts][-TREND:]
    low, high = hours_words(min(hours)), hours_words(max(hours))
    return f"time left, at each reading: {look.spark(hours, TREND)} {low if low == high else f'{low} to {high}'}"


def full_rows(board: Board, width: int, look: Look) -> Content:
    """Every supply: level, time left with its range, what to do by when, and what was told.

    What nobody has read yet stands in one line.
    """
    out: list[Content] = []
    bar = max(10, min(30, width - 34))
    for line in pressing(board):
        if line.level is None:
            continue
        name = look.text(line.name)[:18].ljust(18)
        level = f" {look.bar(line.level, bar)} {_percent(line)}{' now' if moved(line) else ''}"
        out.append(Content.assemble((name, "bold"), level))
        left, whose = range_words(line, look), together(line, board)
        if left:
            by = _by(line, board.at) or line.act_words
            head = f"{whose} cylinders: {left} left" if whose else f"{left} left"
            if whose and len(head) + len(by) + 5 > width:
                head = f"{whose}: {left} left"
            out.append(Content.assemble("  ", look.content(head), "   ", look.content(by, "bold")))
        elif line.left_words:
            out.append(look.content(f"  {line.left_words}"))
        told = f"told {line.age_words}"
        if moved(line):
            read = round(100 * line.history[-1][1])
            told = f"told {read} %, {line.age_words}; reckoned now {_percent(line).strip()}"
        out.append(look.content(f"  {told}", "$text-muted"))
        if len(line.forecasts) > 1:
            out.append(look.content(f"  {trend(line, look)}", "$text-muted"))
        out.append(Content(""))
    unread = _unread(board, look)
    return Content("\n").join([*out, *unread] if unread else out[:-1])


class Supplies(VerticalScroll):
    """The board of supplies."""

    can_focus = False

    def __init__(self, look: Look) -> None:
        super().__init__(id="supplies")
        self._look = look
        self._board: Board | None = None
        self._rows: int | None = None
        self._full = False

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static(self._look.content("Tell me a reading, for example: fresh at two thirds."), id="supply-rows")

    def show(self, board: Board | None) -> None:
        """Show this board, in the room there is."""
        self._board = board
        if board is None or not self.is_mounted:
            return
        width = max(20, self.size.width - 2)
        short = self._rows is not None and not self._full
        rows = short_rows(board, width, self._look, self._rows or 1) if short else full_rows(board, width, self._look)
        shown = self.query_one("#supply-rows", Static)
        if shown.content != rows:
            shown.update(rows)

    def rows_wanted(self, plenty: int) -> int:
        """Rows that show every supply: in full where that takes no more than `plenty`, else one row each."""
        if self._board is None:
            return 1
        known, unread = sum(line.level is not None for line in self._board.lines), len(_unread(self._board, self._look))
        full = len(full_rows(self._board, max(20, self.size.width - 2), self._look).plain.splitlines())
        self._full = full <= plenty
        return full if self._full else known + min(1, unread) if known else unread

    def fit(self, rows: int | None) -> None:
        """Take so many rows, and no more; None for all there are beside the conversation."""
        if rows != self._rows:
            self._rows, self.styles.height = rows, rows
        self.show(self._board)

    def on_resize(self) -> None:
        """Another size may hold more."""
        self.show(self._board)


class Clocks(Vertical):
    """Timers counting down, and what comes next."""

    def __init__(self, look: Look) -> None:
        super().__init__(id="clocks")
        self._look = look

    def compose(self) -> ComposeResult:
        """The nearest timer in large figures where there is room, then all."""
        yield Digits("", id="countdown")
        yield Static(id="clock-rows")

    def show(self, board: Board | None, timers: Sequence[Timer], now: datetime, wide: bool) -> None:
        """Show timers and deadlines as they stand now."""
        look, found = self._look, deadlines(board, timers, now)
        running = sorted((t for t in timers if not t.about), key=lambda timer: timer.due)
        large = self.query_one("#countdown", Digits)
        large.display = wide and bool(running) and not look.ascii
        if running:
            large.update(countdown(running[0].due, now))
        rows = self.query_one("#clock-rows", Static)
        if not found:
            shown = look.content("No timer runs, nothing is due.", "$text-muted")
        elif wide:
            shown = Content("\n").join([self._row(due, words, timers, now) for due, words in found[:8]])
        else:
            first, *others = sorted(found, key=lambda pair: pair not in [(t.due, t.announce) for t in running])
            more = min(len(others), max(0, len(running) - 1))
            rest = f"   +{more} timer{'s' if more > 1 else ''}" if more else ""
            room = max(10, self.size.width - len(rest) - 2)
            shown = Content.assemble(
                self._row(*first, timers, now).truncate(room, ellipsis=True), (rest, "$text-muted")
            )
        if rows.content != shown:
            rows.update(shown)

    def _row(self, due: datetime, words: str, timers: Sequence[Timer], now: datetime) -> Content:
        is_timer = any(timer.due == due and timer.announce == words for timer in timers)
        when = f"{countdown(due, now)} to go, then:" if is_timer else f"{moment_words(due, now):<9}"
        sign = self._look.signs.clock if is_timer else self._look.signs.dot
        return Content.assemble((f"{sign} {when} ", "bold"), self._look.content(words))
