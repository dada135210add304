"""Decoding in a process of its own: the engines hold the interpreter's lock, and a damaged model may crash them.

The main process sends sound and gets hypotheses. At each pause it may ask to look at what was said so far; if the
driver goes on, the same utterance is heard again from its beginning at the next look.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cabassist.errors import CabassistError, VoiceUnavailable
from cabassist.voice.heard import Hypothesis, Patient, Recogniser, nothing_heard, seconds
from cabassist.voice.sound import Denoiser, level

if TYPE_CHECKING:
    from cabassist.voice.whisper import Whisper

START_SECONDS = 180.0
FRESH_SECONDS = 0.3
"""What was prepared stands if no more than this, which is silence, has come since."""
ANSWER_SECONDS = 60.0


@dataclass(frozen=True)
class Setup:
    """What the child process needs to load its engines."""

    knowledge: Path
    coach: Path
    cache: Path
    vosk: Path | None = None
    whisper: Path | None = None
    trigger: str = ""


@dataclass(frozen=True)
class Hearing:
    """What the engines made of one utterance, the most trusted first."""

    hypotheses: tuple[Hypothesis, ...]
    more: bool = False
    """Whether an engine that takes its time has not been asked yet."""
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


class Ears:
    """Engines that hear the same utterance; runs in the child, and in tests without one.

    `live` engines hear while the driver speaks. `later` ones hear a whole utterance and take their time. What is heard up
    to a silence too short to be an end is prepared, so that it is ready when the silence turns out to be one.
    """

    def __init__(self, live: Sequence[Recogniser], later: Sequence[Patient] = ()) -> None:
        self.live = tuple(live)
        self.later = tuple(later)
        self.partial: Hypothesis | None = None
        self._noise = b""
        self._raw = bytearray()
        self._cleaned = bytearray()
        self._denoiser: Denoiser | None = None
        self._looked: Hearing | None = None
        self._prepared: Hearing | None = None
        self._prepared_at = 0

    @property
    def engines(self) -> tuple[str, ...]:
        """Names of all engines."""
        return tuple(engine.name for engine in (*self.live, *self.later))

    def begin(self, noise: bytes) -> None:
        """A new utterance, after this noise."""
        self.drop()
        self._noise = noise

    def sound(self, pcm: bytes) -> Hypothesis | None:
        """More of it; a partial hypothesis when there is a new one."""
        self._raw += pcm
        if self._looked is not None:
            if self._prepared is None or seconds(bytes(self._raw[self._prepared_at :])) <= FRESH_SECONDS:
                return None
            # It was no end: hear on, so that there are partials, and little is left to do at the next one.
            self._prepared = None
            return self._begin_again()
        if self._denoiser is None:
            self._denoiser = Denoiser(self._noise)
        return self._accept(self._denoiser.feed(pcm))

    def _accept(self, cleaned: bytes) -> Hypothesis | None:
        found = None
        self._cleaned += cleaned
        for engine in self.live:
            found = engine.accept(cleaned) or found
        self.partial = found or self.partial
        return found

    def prepare(self) -> None:
        """The driver may have finished: hear with all engines what was said so far, the later ones beside the live ones."""
        self._prepared = None
        self._flush()
        self._begin_later()
        self._prepared, self._prepared_at = self._with_later(self._finished()), len(self._raw)

    def look(self) -> Hearing:
        """What has been said up to now. If the driver goes on, the next look hears it all again."""
        ready, self._prepared = self._prepared, None
        if ready is not None and seconds(bytes(self._raw[self._prepared_at :])) <= FRESH_SECONDS:
            return ready
        self._flush()
        return self._finished()

    def _flush(self) -> None:
        """Let the live engines have all that was said."""
        if self._looked is not None or self._denoiser is None:
            self._begin_again()
        assert self._denoiser is not None
        self._accept(self._denoiser.flush())

    def _finished(self) -> Hearing:
        """What the live engines make of it."""
        raw = bytes(self._raw)
        about = level(raw)
        found = tuple(engine.finish() for engine in self.live)
        self._looked = Hearing(found, bool(self.later), seconds(raw), about.loudness, about.clipped)
        return self._looked

    def _begin_again(self) -> Hypothesis | None:
        """Hear the utterance again from its beginning."""
        for engine in self.live:
            engine.reset()
        self._looked, self._denoiser, self._cleaned = None, Denoiser(self._noise), bytearray()
        return self._accept(self._denoiser.feed(bytes(self._raw)))

    def more(self) -> Hearing:
        """What was looked at, heard by the engines that take their time, too."""
        looked = self._looked or self.look()
        if not looked.more:
            return looked
        self._begin_later()
        return self._with_later(looked)

    def _begin_later(self) -> None:
        """Let the engines that take their time begin."""
        for engine in self.later:
            engine.reset()
            engine.accept(bytes(self._cleaned))
            engine.begin()

    def _with_later(self, looked: Hearing) -> Hearing:
        """What was looked at, and what the engines that have begun make of it."""
        found = tuple(engine.finish() for engine in self.later)
        self._looked = replace(looked, hypotheses=(*looked.hypotheses, *found), more=False)
        return self._looked

    def drop(self) -> None:
        """Forget the utterance."""
        for engine in self.live:
            engine.reset()
        self._raw, self._cleaned = bytearray(), bytearray()
        self._denoiser, self._looked, self.partial = None, None, None
        self._prepared, self._prepared_at = None, 0

    def hear(self, pcm: bytes, noise: bytes = b"") -> Hearing:
        """One whole utterance, by all engines."""
        self.begin(noise)
        self.sound(pcm)
        self.look()
        found = self.more()
        self.drop()
        return found

    def close(self) -> None:
        """Free the engines."""
        for engine in (*self.live, *self.later):
            engine.close()


def load_ears(setup: Setup, announce: Callable[[str], None] = lambda _: None) -> Ears:
    """The engines of a setup. Raises VoiceUnavailable or another CabassistError when none can be used."""
    from cabassist.dialogue.session import load_coach
    from cabassist.procedures.library import load_knowledge
    from cabassist.voice.language_files import language_files
    from cabassist.voice.sphinx import Beside, Pocketsphinx, bundled_model

    knowledge = load_knowledge(setup.knowledge, setup.cache)
    coach = load_coach(setup.coach, setup.cache)
    files = language_files(
        knowledge, coach, setup.cache, bundled_model().dictionary, trigger=setup.trigger, announce=announce
    )
    live: list[Recogniser] = []
    later: list[Patient] = []
    if setup.vosk is not None:
        from cabassist.voice.vosk import Vosk

        try:
            live.append(Vosk(setup.vosk, files.sentences.read_text(encoding="utf-8").splitlines()))
        except VoiceUnavailable as error:
            announce(str(error))
    beside: Beside = "nothing"
    if setup.whisper is not None:
        try:
            whisper = _open_engine(setup)
            later.append(whisper)
            beside = "tuned" if whisper.tuned else "open"
        except VoiceUnavailable as error:
            announce(str(error))
    live.append(Pocketsphinx(files, beside=beside))
    return Ears(live, later)


def _open_engine(setup: Setup) -> Whisper:
    """Whisper, with the tuning that comes with the knowledge where it fits the weights and the cache can be written."""
    from cabassist.voice.tuning import TUNING, fits, tuned
    from cabassist.voice.whisper import Whisper

    assert setup.whisper is not None
    tuning = setup.knowledge / TUNING
    try:
        if fits(setup.whisper, tuning):
            return Whisper(tuned(setup.whisper, tuning, setup.cache), tuned=True)
    except (OSError, ValueError):
        pass
    return Whisper(setup.whisper)


class _Gone(Exception):
    """Nobody listens to the child any more."""


def _child(connection: Connection, setup: Setup) -> None:
    """The child's loop: commands in, answers out, until the connection closes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the conversation, which then ends the child

    def send(kind: str, body: object) -> None:
        try:
            connection.send((kind, body))
        except OSError:
            raise _Gone from None

    # Only the connection may break without a word: what goes wrong in loading and hearing must be told.
    with contextlib.suppress(_Gone):
        try:
            ears = load_ears(setup, lambda text: send("told", text))
        except (CabassistError, OSError) as error:
            send("failed", str(error))
            return
        send("ready", ears.engines)
        while True:
            try:
                command, argument = connection.recv()
            except (EOFError, OSError):
                return
            if command == "begin":
                ears.begin(argument)
            elif command == "sound":
                partial = ears.sound(argument)
                if partial is not None:
                    send("partial", partial)
            elif command == "prepare":
                ears.prepare()
            elif command == "look":
                send("heard", ears.look())
            elif command == "more":
                send("heard", ears.more())
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

    def prepare(self) -> None:
        """The driver may have finished: begin to hear what was said so far, and return at once."""
        self._send("prepare")

    def look(self) -> Hearing:
        """What has been said up to now."""
        return self._asked("look")

    def more(self) -> Hearing:
        """What was looked at, heard by the engines that take their time, too."""
        return self._asked("more")

    def _asked(self, command: str) -> Hearing:
        self._send(command)
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
        self.look()
        found = self.more()
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
