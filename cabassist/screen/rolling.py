"""The screen of a coach that rolls: one line, no typing, one press when it is parked."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key
from textual.reactive import reactive
from textual.screen import Screen
from textual.widgets import Static

from cabassist.screen import glance
from cabassist.screen.look import Look
from cabassist.screen.talk import Say

SHOWN_S = 8.0
"""How long an answer stands before the line goes back to what it always says."""


class RollingScreen(Screen[None]):
    """At most one short line. Answers are spoken."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("f8", "parked", "Parked")]
    line: reactive[str] = reactive(glance.UNHEARD)

    def __init__(self, look: Look, heard: Callable[[], bool]) -> None:
        super().__init__()
        self._look, self._heard = look, heard
        self._back = self.set_timer(SHOWN_S, self._usual, pause=True)

    def compose(self) -> ComposeResult:
        """The line."""
        yield Static(id="glance")

    def on_mount(self) -> None:
        """What it always says."""
        self._usual()

    def watch_line(self, line: str) -> None:
        """Draw it; a danger is framed as well."""
        shown = self.query_one("#glance", Static)
        danger = line.startswith("DANGER")
        shown.set_class(danger, "danger")
        sign = f"{self._look.signs.alert} " if danger else ""
        shown.update(self._look.content(f"{sign}{line}"))

    def say(self, line: str) -> None:
        """Show another line for a while. One that a glance would not take in is not shown."""
        self.line = line if glance.fits(line) else self._always
        self._back.reset()
        self._back.resume()

    @property
    def _always(self) -> str:
        return glance.ROLLING if self._heard() else glance.UNHEARD

    def _usual(self) -> None:
        self.line = self._always
        self._back.pause()

    def on_key(self, event: Key) -> None:
        """Letters go nowhere: that must be seen, or one waits for an answer. A danger that is shown stays."""
        if event.is_printable and not self.line.startswith(("DANGER", glance.STOP)):
            self.say(glance.LOCKED)

    def action_parked(self) -> None:
        """The coach stands."""
        self.app.post_message(Say("we are parked"))

    def on_click(self) -> None:
        """One press anywhere near the line."""
        self.action_parked()
