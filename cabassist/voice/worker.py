"""Decoding in a process of its own: the engines hold the interpreter's lock, and a damaged model may crash them.

The main process sends sound and gets hypotheses. At each pause it may ask to look at what was said so far; if the
driver goes on, the same utterance is heard again from its beginning at the next look.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

from cabassist.errors import CabassistError, VoiceUnavailable
from cabassist.voice.heard import Hypothesis, Recogniser, nothing_heard
from cabassist.voice.sound import Denoiser, level

START_SECONDS = 180.0
ANSWER_SECONDS = 60.0


@dataclass(frozen=True)
class Setup:
    """What the child process needs to load its engines."""

    knowledge: Path
    coach: Path
    cache: Path
    narrow: Literal["pocketsphinx", "vosk"] = "pocketsphinx"
    vosk: Path | None = None
    whisper: Path | None = None
    trigger: str = ""
    second_pass: bool | None = None
    """Whether pocketsphinx hears again with plain English; None: when nothing better is there."""


@dataclass(frozen=True)
class Hearing:
    """What all engines made of one utterance, the narrow one first."""

    hypotheses: tuple[Hypothesis, ...]
    seconds: float = 0.0
    loudness: float = -100.0
    clipped: float = 0.0

    @property
    def best(self) -> Hypothesis:
        """The hypothesis of the first engine that heard words."""
        return next((h for h in self.hypotheses if h.text), nothing_heard("none"))

    @property
    def spotted(self) -> tuple[str, ...]:
        """Hazard phrases spotted by any engine."""
        return tuple(dict.fromkeys(phrase for h in self.hypotheses for phrase in h.spotted))


@dataclass
class Ears:
    """Several engines that hear the same utterance; runs in the child, and in tests without one."""

    engines: list[Recogniser]
    _noise: bytes = b""
    _raw: bytearray = field(default_factory=bytearray)
    _live: Denoiser | None = None
    _looked: bool = False

    def begin(self, noise: bytes) -> None:
        """A new utterance, after this noise."""
        self.drop()
        self._noise = noise

    def sound(self, pcm: bytes) -> Hypothesis | None:
        """More of it; a partial hypothesis when there is a new one."""
        self._raw += pcm
        if self._looked:
            return None
        if self._live is None:
            self._live = Denoiser(self._noise)
        return self._accept(pcm, self._live.feed(pcm))

    def _accept(self, raw: bytes, cleaned: bytes) -> Hypothesis | None:
        partial = None
        for engine in self.engines:
            # Subtraction helps the engine with the narrow model only; it costs the open one words.
            found = engine.accept(raw if engine.name == "whisper" else cleaned)
            partial = partial or found
        return partial

    def look(self) -> Hearing:
        """What has been said up to now."""
        raw = bytes(self._raw)
        if self._looked or self._live is None:
            for engine in self.engines:
                engine.reset()
            self._live = Denoiser(self._noise)
            self._accept(raw, self._live.feed(raw))
        self._accept(b"", self._live.flush())
        self._looked = True
        about = level(raw)
        found = tuple(engine.finish() for engine in self.engines)
        return Hearing(found, len(raw) / 32_000, about.loudness, about.clipped)

    def drop(self) -> None:
        """Forget the utterance."""
        for engine in self.engines:
            engine.reset()
        self._raw, self._live, self._looked = bytearray(), None, False

    def hear(self, pcm: bytes, noise: bytes = b"") -> Hearing:
        """One whole utterance."""
        self.begin(noise)
        self.sound(pcm)
        found = self.look()
        self.drop()
        return found


def load_ears(setup: Setup, announce: Callable[[str], None] = lambda _: None) -> Ears:
    """The engines of a setup. Raises VoiceUnavailable or another CabassistError when none can be used."""
    from cabassist.dialogue.session import load_coach
    from cabassist.procedures.library import load_knowledge
    from cabassist.voice.language_files import language_files
    from cabassist.voice.sphinx import Pocketsphinx, bundled_model

    knowledge = load_knowledge(setup.knowledge, setup.cache)
    coach = load_coach(setup.coach, setup.cache)
    files = language_files(
        knowledge, coach, setup.cache, bundled_model().dictionary, trigger=setup.trigger, announce=announce
    )
    engines: list[Recogniser] = []
    if setup.narrow == "vosk" and setup.vosk is not None:
        from cabassist.voice.vosk import Vosk

        engines.append(Vosk(setup.vosk, files.sentences.read_text(encoding="utf-8").splitlines()))
    else:
        second = setup.whisper is None if setup.second_pass is None else setup.second_pass
        engines.append(Pocketsphinx(files, second_pass=second))
    if setup.whisper is not None:
        from cabassist.voice.whisper import Whisper

        try:
            engines.append(Whisper(setup.whisper))
        except VoiceUnavailable as error:
            announce(str(error))
    return Ears(engines)


def _child(connection: Connection, setup: Setup) -> None:
    """The child's loop: commands in, answers out, until the connection closes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the conversation, which then ends the child
    with contextlib.suppress(EOFError, OSError, BrokenPipeError):
        try:
            ears = load_ears(setup, lambda text: connection.send(("told", text)))
        except CabassistError as error:
            connection.send(("failed", str(error)))
            return
        connection.send(("ready", [engine.name for engine in ears.engines]))
        while True:
            command, argument = connection.recv()
            if command == "begin":
                ears.begin(argument)
            elif command == "sound":
                partial = ears.sound(argument)
                if partial is not None:
                    connection.send(("partial", partial))
            elif command == "look":
                connection.send(("heard", ears.look()))
            elif command == "drop":
                ears.drop()
            else:
                return


class Worker:
    """The engines in a child process. Every method but `close` raises VoiceUnavailable when the child has died."""

    def __init__(self, setup: Setup, announce: Callable[[str], None] = lambda _: None) -> None:
        """Start the child and wait until its engines are loaded."""
        context = multiprocessing.get_context("spawn")
        self._connection, far = context.Pipe()
        self._process = context.Process(target=_child, args=(far, setup), daemon=True, name="cabassist-ears")
        self._process.start()
        far.close()
        self.partial: Hypothesis | None = None
        self.engines: tuple[str, ...] = ()
        while not self.engines:
            kind, body = self._next(START_SECONDS)
            if kind == "told":
                announce(body)
            elif kind == "failed":
                self.close()
                raise VoiceUnavailable(body)
            elif kind == "ready":
                self.engines = tuple(body)

    def _next(self, timeout: float) -> tuple[str, Any]:
        try:
            if self._connection.poll(timeout):
                kind, body = self._connection.recv()
                return str(kind), body
        except (EOFError, OSError):
            pass
        self.close()
        raise VoiceUnavailable("The recogniser has stopped working. Go on in text, or start `cabassist voice` again.")

    def _send(self, command: str, argument: object = None) -> None:
        try:
            self._connection.send((command, argument))
        except (OSError, ValueError):
            self._next(0.0)

    def begin(self, noise: bytes) -> None:
        """A new utterance, after this noise."""
        self.partial = None
        self._send("begin", noise)

    def sound(self, pcm: bytes) -> None:
        """More of it; `partial` then holds what is understood so far, a little later."""
        self._send("sound", pcm)
        while self._ready():
            kind, body = self._next(0.0)
            if kind == "partial":
                self.partial = body

    def _ready(self) -> bool:
        try:
            return self._connection.poll(0.0)
        except (OSError, EOFError):
            return False

    def look(self) -> Hearing:
        """What has been said up to now."""
        self._send("look")
        while True:
            kind, body = self._next(ANSWER_SECONDS)
            if kind == "heard":
                assert isinstance(body, Hearing)
                return body

    def drop(self) -> None:
        """Forget the utterance."""
        self.partial = None
        self._send("drop")

    def hear(self, pcm: bytes, noise: bytes = b"") -> Hearing:
        """One whole utterance."""
        self.begin(noise)
        self.sound(pcm)
        found = self.look()
        self.drop()
        return found

    def close(self) -> None:
        """End the child."""
        with contextlib.suppress(OSError):
            self._connection.close()
        if self._process.is_alive():
            self._process.join(1.0)
            if self._process.is_alive():
                self._process.terminate()
        sys.stderr.flush()
