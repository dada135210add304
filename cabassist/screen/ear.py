"""What the screen wants of a microphone and a voice, and what stands in when there is none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, Protocol

EarState = Literal["missing", "off", "loading", "listening", "hearing"]


class Ear(Protocol):
    """A microphone with a recogniser behind it, and a voice that answers.

    `start` may take long: the screen calls it in a worker. `heard` is called from any thread with each finished
    utterance; `partial` is what has been understood of the one that is being said.
    """

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
        """How to get it, or how to switch it on, in one short line."""
        ...

    def start(self, heard: Callable[[str], None]) -> None:
        """Listen from now on. Raises CabassistError when that is not possible."""
        ...

    def stop(self) -> None:
        """Listen no more; safe to call twice."""
        ...

    def speak(self, text: str) -> None:
        """Say a text without waiting for its end; a later text cuts an earlier one off."""
        ...


class NoEar:
    """No microphone: the driver types."""

    state: EarState = "missing"
    partial = ""

    def __init__(self, hint: str = "No voice here: type, or see the README for voice.") -> None:
        self.hint = hint

    def start(self, heard: Callable[[str], None]) -> None:
        """There is nothing to start."""

    def stop(self) -> None:
        """There is nothing to stop."""

    def speak(self, text: str) -> None:
        """There is nothing to speak with."""
