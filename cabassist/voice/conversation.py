"""The hands-free conversation: sound in, answers said aloud, in one loop.

While an answer is being said the microphone stays open. The assistant's own words coming back from the loudspeaker are
told by their likeness to what is being said; anything else interrupts it.
"""

from __future__ import annotations

import queue
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from cabassist.errors import VoiceUnavailable
from cabassist.voice.endpoint import Endpointer, Event
from cabassist.voice.heard import Hypothesis, seconds
from cabassist.voice.judging import Verdict
from cabassist.voice.microphone import Microphone
from cabassist.voice.sound import level
from cabassist.voice.turns import Answer, Turns, is_echo
from cabassist.voice.worker import Hearing

ANNOUNCE_EVERY = 1.0
"""Seconds of sound between two looks at the timers."""
FAREWELLS = frozenset({"goodbye", "bye", "good bye", "quit listening", "stop listening", "that's all for now"})


class Hearer(Protocol):
    """The engines, in a child process or not (see `worker`)."""

    partial: Hypothesis | None

    def begin(self, noise: bytes) -> None:
        """A new utterance."""

    def sound(self, pcm: bytes) -> object:
        """More of it."""

    def prepare(self) -> None:
        """The driver may have finished: begin to hear what was said so far, and return at once."""

    def look(self) -> Hearing:
        """What has been said up to now."""

    def more(self) -> Hearing:
        """The same, heard by the engines that take their time, too."""

    def drop(self) -> None:
        """Forget it."""


class Sounding(Protocol):
    """Something that is being said."""

    @property
    def over(self) -> bool:
        """Whether it has ended."""

    def stop(self) -> None:
        """Silence it."""


class Voice(Protocol):
    """A speaker (see `speaking`)."""

    def say(self, text: str) -> Sounding:
        """Begin to say a text."""

    def slower(self) -> bool:
        """Speak slower; False when that is not possible."""

    def faster(self) -> bool:
        """Speak faster."""

    def louder(self) -> bool:
        """Speak louder."""

    def softer(self) -> bool:
        """Speak softer."""


@dataclass
class Show:
    """What the front end does with lines, partial texts and levels; each may do nothing."""

    lines: Callable[[Iterable[str]], None]
    partial: Callable[[str], None] = lambda _: None
    loudness: Callable[[float], None] = lambda _: None
    heard: Callable[[str], None] = lambda _: None


class Conversation:
    """Runs the loop until the sound ends, the driver says goodbye, or `close` of the microphone."""

    def __init__(
        self,
        turns: Turns,
        hearer: Hearer,
        endpointer: Endpointer,
        show: Show,
        *,
        clock: Callable[[], datetime],
        voice: Voice | None = None,
        interruptible: bool = True,
        typed: queue.Queue[str] | None = None,
        push_to_talk: bool = False,
    ) -> None:
        """`typed` brings lines from the keyboard; with `push_to_talk` an empty one begins and ends an utterance."""
        self._turns = turns
        self._hearer = hearer
        self._endpointer = endpointer
        self._show = show
        self._clock = clock
        self._voice = voice
        self._interruptible = interruptible
        self._typed = typed or queue.Queue()
        self._push = push_to_talk
        self._talking = False
        self._saying = ""
        self._said_last = ""
        self._sounding: Sounding | None = None
        self._looked: tuple[Hearing, Verdict] | None = None
        self._begun_while_speaking = False
        self._left = False
        self._waited = 0.0
        self.waits: list[float] = []
        """Seconds from asking the engines for the final text to having the answer ready, one for each answer."""

    def run(self, microphone: Microphone) -> None:
        """Listen until the end. Raises VoiceUnavailable when the microphone or the engines are gone; nothing is lost."""
        since = 0.0
        for block in microphone.blocks():
            self._show.loudness(level(block).loudness)
            self._keyboard()
            if self._push:
                if self._talking:
                    self._hearer.sound(block)
            else:
                self._listen(self._endpointer.feed(block))
            since += seconds(block)
            if since >= ANNOUNCE_EVERY:
                since = 0.0
                self._announce()
            if self._left:
                return
        if not self._push:
            self._listen(self._endpointer.finish())
        elif self._talking:
            self._push_ended()
        self._keyboard()

    # -- sound ----------------------------------------------------------------------------------

    def _listen(self, events: Iterable[Event]) -> None:
        for event in events:
            if self._speaking and not self._interruptible:
                self._drop()
                continue
            if event.kind == "started":
                self._begun_while_speaking = self._speaking
                self._looked = None
                self._hearer.begin(event.pcm)
            elif event.kind == "sound":
                self._hearer.sound(event.pcm)
                self._follow()
            elif event.kind == "hushed":
                self._hearer.prepare()
            elif event.kind == "paused":
                self._look()
                if self._looked is not None and self._turns.settled(self._looked[1]):
                    self._endpointer.end_now()
                    self._ended()
                    return
            else:
                if self._looked is None or event.kind == "cut":
                    self._look()
                self._ended()

    @property
    def _speaking(self) -> bool:
        return self._sounding is not None and not self._sounding.over

    def _follow(self) -> None:
        """Show what is understood so far; stop talking when the driver says something of their own."""
        partial = self._hearer.partial
        if partial is None or not partial.text:
            return
        self._show.partial(partial.text)
        if self._speaking and not is_echo(partial.text, self._saying) and self._sounding is not None:
            if len(partial.text.split()) > 1 or partial.text not in self._saying.lower().split():
                self._sounding.stop()

    def _look(self) -> None:
        began = time.monotonic()
        hearing = self._hearer.look()
        if self._begun_while_speaking and is_echo(hearing.best.text, self._saying):
            self._looked = None
            return
        self._looked = self._turns.consider(hearing, self._clock())
        if hearing.more and not self._turns.enough(self._looked[1]):
            self._looked = self._turns.consider(self._hearer.more(), self._clock())
        self._waited = time.monotonic() - began

    def _ended(self) -> None:
        looked, self._looked = self._looked, None
        self._drop()
        if looked is None:
            return
        hearing, verdict = looked
        self._show.heard((verdict.text or hearing.best.text) if verdict.action != "ignore" else "")
        if verdict.action != "ignore" and hearing.best.text in FAREWELLS:
            self._left = True
            return
        began = time.monotonic()
        self._give(self._turns.resolve(hearing, verdict, self._clock()))
        self.waits.append(self._waited + time.monotonic() - began)

    def _drop(self) -> None:
        self._hearer.drop()
        self._looked = None

    # -- keyboard, timers, answers ---------------------------------------------------------------

    def _keyboard(self) -> None:
        while not self._typed.empty():
            line = self._typed.get_nowait().strip()
            if line in ("quit", "exit", "bye"):
                self._left = True
            elif line:
                self._give(self._turns.typed(line, self._clock()))
            elif self._push and not self._talking:
                self._silence()
                self._hearer.begin(b"")
                self._talking = True
                self._begun_while_speaking = False
                self._show.lines(["Listening. Press Enter when you have finished."])
            elif self._push:
                self._push_ended()

    def _push_ended(self) -> None:
        self._talking = False
        self._look()
        self._ended()

    def _announce(self) -> None:
        for text in self._turns.session.announcements(self._clock()):
            self._give(Answer((f"*** Timer: {text}",), f"Timer. {text}"))

    def _give(self, answer: Answer) -> None:
        if answer.manner is not None:
            self._manner(answer.manner)
        if answer.show:
            self._show.lines(answer.show)
        if answer.say:
            self._said_last = answer.say
            self._say(answer.say)

    def _manner(self, manner: str) -> None:
        if self._voice is None:
            self._show.lines(["There is no voice to change."])
            return
        if manner == "spell":
            from cabassist.voice.spoken import spelled

            self._say(spelled(self._said_last))
            return
        change = {
            "slower": self._voice.slower, "faster": self._voice.faster, "louder": self._voice.louder, "quieter": self._voice.softer,
        }[manner]  # fmt: skip
        changed = change()
        self._say((self._said_last or "All right.") if changed else "I can't go any further that way.")

    def _say(self, text: str) -> None:
        if self._voice is None:
            return
        self._silence()
        try:
            self._saying = text
            self._sounding = self._voice.say(text)
        except VoiceUnavailable as error:
            self._voice = None
            self._show.lines([str(error), "Going on in text."])

    def _silence(self) -> None:
        if self._sounding is not None:
            self._sounding.stop()
