"""What the screen wants of a microphone and a voice, and what stands in when there is none."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Literal, Protocol

if TYPE_CHECKING:
    from cabassist.dialogue.session import Session
    from cabassist.dialogue.types import Reply

EarState = Literal["missing", "off", "loading", "listening", "hearing"]


class Hub(Protocol):
    """What an ear wants of the screen; each may be called from any thread."""

    @property
    def session(self) -> Session | None:
        """The session that is talked with; only looked at, never asked past the screen."""
        ...

    def take_turn_for(self, text: str, now: datetime) -> Reply:
        """Take a turn for the ear, show it, and give the answer back."""
        ...

    def show_lines(self, lines: Iterable[str]) -> None:
        """Show lines that are no turn, such as a question about what was heard."""
        ...


class Ear(Protocol):
    """A microphone with a recogniser behind it, and a voice that answers what it heard."""

    @property
    def state(self) -> EarState:
        """What it does now."""
        ...

    @property
    def partial(self) -> str:
        """Words heard so far, may still change."""
        ...

    @property
    def hint(self) -> str:
        """How to get it, or how to talk to it, in one short line."""
        ...

    def start(self, hub: Hub) -> None:
        """Load, and listen from now on; takes long, so it is called in a worker. Raises CabassistError when it cannot."""
        ...

    def stop(self) -> None:
        """Listen no more; safe to call twice."""
        ...

    def announce(self, text: str) -> None:
        """Say a timer's words as soon as nothing else is being said."""
        ...


class NoEar:
    """No microphone: the driver types."""

    state: EarState = "missing"
    partial = ""

    def __init__(self, hint: str = "No voice here. To get it: pip install 'cabassist[voice]'") -> None:
        self.hint = hint

    def start(self, hub: Hub) -> None:
        """There is nothing to start."""

    def stop(self) -> None:
        """There is nothing to stop."""

    def announce(self, text: str) -> None:
        """There is nothing to speak with."""
