"""What a recogniser takes and gives, whichever engine is behind it.

Sound is 16 kHz mono PCM, signed 16 bit, little endian, in blocks of any length. An engine is fed blocks, may give
partial hypotheses on the way, and gives a final one at the end of an utterance.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

RATE = 16_000
"""Samples a second of everything that is heard."""
SAMPLE_BYTES = 2


@dataclass(frozen=True)
class Alternative:
    """Something else that may have been said. `confidence` lies between 0 and 1."""

    text: str
    confidence: float


@dataclass(frozen=True)
class Hypothesis:
    """What an engine makes of the sound so far.

    `confidence` lies between 0 and 1: how likely the engine thinks its words are right. An empty `text` means that no
    words were heard.
    """

    text: str
    confidence: float
    engine: str
    final: bool = True
    alternatives: tuple[Alternative, ...] = ()
    expected: bool = False
    """Whether the text is, word for word, a sentence that the engine was told to expect."""
    weighed: bool = False
    """Whether the confidences of the alternatives can be compared with its own."""
    spotted: tuple[str, ...] = ()
    """Hazard phrases found by the low-threshold spotter."""

    @property
    def texts(self) -> tuple[str, ...]:
        """The text and its alternatives, best first, each once."""
        return tuple(dict.fromkeys([self.text, *(other.text for other in self.alternatives)]))


class Recogniser(Protocol):
    """One engine, ready to hear one utterance after the other."""

    name: str

    def accept(self, block: bytes) -> Hypothesis | None:
        """Take a block of sound; a partial hypothesis when it has changed, else None."""

    def finish(self) -> Hypothesis:
        """The final hypothesis; the next block begins a new utterance."""

    def reset(self) -> None:
        """Forget the utterance in hand."""

    def close(self) -> None:
        """Free what the engine holds; may be called twice."""


class Patient(Recogniser, Protocol):
    """An engine that hears a whole utterance at its end, on a second core if there is one."""

    def begin(self) -> None:
        """Begin to work on what was accepted, beside what else is done; `finish` waits for it."""


def nothing_heard(engine: str) -> Hypothesis:
    """The final hypothesis of silence."""
    return Hypothesis("", 0.0, engine)


def seconds(pcm: bytes) -> float:
    """How long a piece of sound is."""
    return len(pcm) / SAMPLE_BYTES / RATE
