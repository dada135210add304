"""How the rows between the top line and the line to type into are shared out.

The cautions of the step in hand and its own sentence always stand, the conversation has a third of the screen, and at
least the most pressing supply is seen; what is left goes to the rest of the step, then to the other supplies.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.containers import Horizontal

from cabassist.screen.board import Clocks, Supplies
from cabassist.screen.talk import StepPanel


@dataclass(frozen=True)
class Rooms:
    """Rows for the step in hand and for the supplies; the conversation has the others."""

    step: int
    supplies: int


def talk_rows(screen: int) -> int:
    """Rows that the conversation has at least on a screen of so many: a third."""
    return -(-screen // 3)


def shared_out(screen: int, middle: int, step: int, least: int, supplies: int) -> Rooms:
    """Who has how many of the `middle` rows of a screen.

    `step` rows would show all of the step, `least` its cautions and its sentence, `supplies` every supply that was read.
    """
    most_pressing = min(1, supplies)
    room = middle - talk_rows(screen)
    step = max(min(step, room - most_pressing), min(least, middle - most_pressing - 1))
    return Rooms(step, max(most_pressing, min(supplies, room - step)))


class Middle(Horizontal):
    """Conversation and step on one side, supplies and clocks on the other; one below the other on a narrow screen."""

    def share(self) -> None:
        """Share the rows out anew, once all is laid out."""
        self.call_after_refresh(self._share)

    def on_resize(self) -> None:
        """Another size, other shares."""
        self.share()

    def on_laid(self) -> None:
        """Another step."""
        self._share()

    def _share(self) -> None:
        if not self.is_attached or not self.query(StepPanel):
            return
        panel, supplies, clocks = self.query_one(StepPanel), self.query_one(Supplies), self.query_one(Clocks)
        step, least = panel.rows_wanted()
        height, middle = self.screen.size.height, self.size.height
        if self.screen.has_class("-narrow"):
            middle -= clocks.outer_size.height
            plenty = middle - step - height // 2
            rooms = shared_out(height, middle, step, least, supplies.rows_wanted(plenty))
            supplies.fit(rooms.supplies)
        else:
            rooms = shared_out(height, middle, step, least, 0)
            supplies.fit(None)
        panel.take(max(1, rooms.step), step)


__all__ = ["Middle", "Rooms", "shared_out", "talk_rows"]
