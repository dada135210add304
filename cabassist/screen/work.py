"""Long work: in a worker, with its progress in one line, and stopped by Escape without leaving half of it behind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import IO, TYPE_CHECKING, cast

from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from cabassist.errors import CabassistError
from cabassist.files import whole_file
from cabassist.journal import Journal, exchange

if TYPE_CHECKING:
    from cabassist.screen.app import CabApp

Progress = Callable[[float], bool]
"""Told the share that is done, 0 to 1; answers whether to go on."""

EVERY = 50
"""Lines between two words about the progress."""


class Stopped(Exception):
    """The driver stopped the work."""


def begin(app: CabApp, title: str, work: Callable[[Progress], str]) -> Worker[None]:
    """Do `work` in a thread and show how far it is; what it gives back is shown at its end."""

    def told(share: float) -> bool:
        worker = get_current_worker()
        if not worker.is_cancelled:
            app.call_from_thread(line, f"{title}: {share:.0%}   {app.look.bar(share, 20)}   Esc stops it")
        return not worker.is_cancelled

    def line(text: str) -> None:
        shown = app.screen_stack[0].query_one("#work", Static)
        shown.set_class(bool(text), "on")
        shown.update(app.look.content(text))

    def run() -> None:
        try:
            ended = work(told)
        except Stopped:
            ended = f"{title}: stopped, nothing was left behind."
        except CabassistError as error:
            ended = str(error)
        app.call_from_thread(line, "")
        if ended:
            app.call_from_thread(app.notify, app.look.text(ended), markup=False)

    return app.run_worker(run, thread=True, group="work", exclusive=True, exit_on_error=False)


class Counted:
    """A text file that tells its progress with every line, and ends the work when nobody wants it any more."""

    def __init__(self, file: IO[str], lines: int, told: Progress) -> None:
        self._file, self._lines, self._told, self._written = file, max(1, lines), told, 0

    def write(self, text: str) -> int:
        """Write a line. Raises Stopped."""
        self._written += 1
        if self._written % EVERY == 0 and not self._told(min(1.0, self._written / self._lines)):
            raise Stopped
        return self._file.write(text)


def export(journal: Journal, path: Path, told: Progress) -> str:
    """Write the journal to a file of JSON lines, whole or not at all; gives a sentence about it.

    Raises:
        FileProblem: it cannot be written.
        Stopped: the driver stopped it; nothing is left behind.
    """
    with whole_file(path, over=True, advice="Free some space, then try again.") as file:
        count = exchange.export(journal, cast("IO[str]", Counted(file, journal.count(), told)))
    return f"{count} entries saved in {path}"
