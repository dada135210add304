"""Supplies, timers and deadlines: what runs out, and when something must be done."""

from __future__ import annotations

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
NARROW_ROWS = 4
"""Supplies shown on a small screen, the most pressing first."""


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
    high = hours_words(line.left_high_h) if line.left_high_h is not None else "more"
    return f"{hours_words(line.left_h)} ({hours_words(line.left_low_h)}{look.signs.dash}{high})"


def moment_words(moment: datetime, now: datetime) -> str:
    """A moment as a driver says it: the clock today, the weekday with it later."""
    local = moment.astimezone(now.tzinfo)
    if abs(local - now) < timedelta(minutes=1):
        return "now"
    if local.date() == now.date():
        return f"{local:%H:%M}"
    return f"{local:%a %H:%M}" if local - now < timedelta(days=6) else f"{local:%d %b}"


def countdown(due: datetime, now: datetime) -> str:
    """Time to go as minutes and seconds, or hours."""
    seconds = max(0, round((due - now).total_seconds()))
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60:02}:{rest % 60:02}"


def pressing(board: Board) -> list[BoardLine]:
    """The supplies, those to act on first at the top; what nobody has read comes last."""
    far = board.at + timedelta(days=3650)
    return sorted(board.lines, key=lambda line: (line.level is None, line.act_by or far))


def deadlines(board: Board | None, timers: Sequence[Timer], now: datetime) -> list[tuple[datetime, str]]:
    """What comes next, soonest first: timers, and supplies to act on, each once."""
    found = [(timer.due, timer.announce) for timer in timers if board is None or not timer.about]
    if board is not None:
        found += [(line.act_by, f"{line.name}: {line.act_words}") for line in board.lines if line.act_by is not None]
    return sorted(found, key=lambda pair: pair[0])


def short_rows(board: Board, width: int, look: Look, rows: int = NARROW_ROWS) -> Content:
    """The most pressing supplies, one row each, and what nobody has read yet in the last row."""
    out: list[Content] = []
    unread = _unread(board, look, width)
    for line in [line for line in pressing(board) if line.level is not None][: rows - bool(unread)]:
        name = look.text(line.name)[:17].ljust(17)
        level = f"{look.bar(line.level or 0.0, 8)} {round(100 * (line.level or 0.0)):>3} %"
        by = _by(line, board.at)
        left = range_words(line, look) or line.age_words
        text = Content.assemble(
            (name, "bold"), " ", level, "  ", look.content(left.ljust(23)), look.content(by, "bold")
        )
        out.append(text.truncate(width, ellipsis=True))
    return Content("\n").join([*out, *unread])


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
    if line.act_by is None:
        return ""
    mark = "!! " if line.act_by - now < SOON else ""
    when = moment_words(line.act_by, now)
    return f"{mark}{'' if when == 'now' else 'by '}{when}"


def full_rows(board: Board, width: int, look: Look) -> Content:
    """Every supply: level, time left with its range, when to act, age, and how the forecast has moved.

    What nobody has read yet stands in one line.
    """
    out: list[Content] = []
    bar = max(10, min(30, width - 34))
    for line in pressing(board):
        if line.level is None:
            continue
        name = look.text(line.name)[:18].ljust(18)
        level = f" {look.bar(line.level, bar)} {round(100 * line.level):>3} %"
        out.append(Content.assemble((name, "bold"), level))
        left = range_words(line, look)
        by = _by(line, board.at)
        if left:
            out.append(Content.assemble("  ", look.content(f"{left} left"), "   ", look.content(by, "bold")))
        elif line.left_words:
            out.append(look.content(f"  {line.left_words}"))
        moved = [hours for _, hours in line.forecasts]
        trend = f"   forecast {look.spark(moved, 16)}" if len(moved) > 1 else ""
        out.append(look.content(f"  read {line.age_words}{trend}", "$text-muted"))
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

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static(self._look.content("Tell me a reading, for example: fresh at two thirds."), id="supply-rows")

    def show(self, board: Board | None) -> None:
        """Show this board, in the room there is."""
        self._board = board
        if board is None or not self.is_mounted:
            return
        width = max(20, self.size.width - 2)
        little = self.screen.has_class("-narrow") and not self.screen.has_class("-tall")
        rows = (short_rows if little else full_rows)(board, width, self._look)
        self.query_one("#supply-rows", Static).update(rows)

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
            first = self._row(*found[0], timers, now)
            rest = f"   +{len(found) - 1} more" if len(found) > 1 else ""
            room = max(10, self.size.width - len(rest) - 2)
            shown = Content.assemble(first.truncate(room, ellipsis=True), (rest, "$text-muted"))
        if rows.content != shown:
            rows.update(shown)

    def _row(self, due: datetime, words: str, timers: Sequence[Timer], now: datetime) -> Content:
        is_timer = any(timer.due == due and timer.announce == words for timer in timers)
        when = countdown(due, now) if is_timer else moment_words(due, now)
        sign = self._look.signs.clock if is_timer else self._look.signs.dot
        return Content.assemble((f"{sign} {when:<9} ", "bold"), self._look.content(words))
