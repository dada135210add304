"""The ear made of the voice room: its loop runs in a thread of its own, its turns are taken by the screen.

So there is one order of turns, whoever speaks or types, and what was said aloud stands on the screen like the rest.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, cast

from cabassist.screen.ear import EarState, Hub

if TYPE_CHECKING:  # loaded when the microphone is switched on: the screen must stand at once
    from cabassist.dialogue.session import Session
    from cabassist.dialogue.types import Mind, Reply, State
    from cabassist.journal import Journal
    from cabassist.voice.conversation import Hearer, Voice
    from cabassist.voice.endpoint import Endpointer
    from cabassist.voice.microphone import Microphone
    from cabassist.voice.repair import Repairer

NEEDED = ("miniaudio", "pocketsphinx")
"""What a microphone and the recogniser that is always there are made of."""


@dataclass(frozen=True)
class Parts:
    """What a conversation by voice is put together from."""

    microphone: Microphone
    hearer: Hearer
    endpointer: Endpointer
    voice: Voice | None
    repairer: Repairer | None
    trigger: str


def can_hear() -> bool:
    """Whether the packages are installed."""
    return all(importlib.util.find_spec(name) is not None for name in NEEDED)


class VoiceEar:
    """Listens hands-free. `open_parts` loads microphone and engines and tells what is missing; leaving its block closes them."""

    def __init__(
        self,
        open_parts: Callable[[Mind, Callable[[str], None]], AbstractContextManager[Parts]],
        clock: Callable[[], datetime],
    ) -> None:
        self._open, self._clock = open_parts, clock
        self._loading = self._unwanted = False
        self._parts: Parts | None = None
        self._partial = ""
        self._due: list[str] = []
        self._asked: tuple[str, ...] = ()

    @property
    def state(self) -> EarState:
        """What it does now."""
        if self._loading and not self._unwanted:
            return "loading"
        if self._parts is None:
            return "off"
        return "hearing" if self._partial else "listening"

    @property
    def partial(self) -> str:
        """Words heard so far."""
        return self._partial

    @property
    def hint(self) -> str:
        """How to switch it on, or how to talk to it."""
        if self._parts is None:
            return "F10 switches it on."
        return f'Say "{self._parts.trigger}" and your question.' if self._parts.trigger else "Speak."

    def start(self, hub: Hub) -> None:
        """Load and listen until stopped. Raises CabassistError when there is no microphone or no recogniser."""
        session = hub.session
        self._unwanted = False
        if session is None or self._loading or self._parts is not None:
            return
        self._loading = True

        def told(text: str) -> None:
            if not self._unwanted:
                hub.show_lines(text.splitlines())

        try:
            with self._open(session.mind, told) as parts:
                if self._unwanted:
                    return
                self._parts, self._loading = parts, False
                self._run(parts, cast("Session", _Shared(session, hub, self)), hub)
        finally:
            self._parts, self._loading, self._unwanted, self._partial = None, False, False, ""

    def _run(self, parts: Parts, session: Session, hub: Hub) -> None:
        from cabassist.voice.conversation import Conversation, Show
        from cabassist.voice.spoken import for_ear
        from cabassist.voice.turns import Turns

        def lines(shown: Iterable[str]) -> None:
            shown = tuple(shown)
            if shown != self._asked:  # the screen has shown the answer of a turn already
                hub.show_lines(shown)

        def ear(reply: Reply) -> str:
            return for_ear(reply, pace="full", rolling=session.state.rolling)

        def partial(text: str) -> None:
            self._partial = text

        show = Show(lines=lines, partial=partial, heard=lambda _: partial(""))
        turns = Turns(session, repairer=parts.repairer, trigger=parts.trigger, ear=ear)
        Conversation(turns, parts.hearer, parts.endpointer, show, clock=self._clock, voice=parts.voice).run(
            parts.microphone
        )

    def stop(self) -> None:
        """Listen no more. What is being loaded is closed as soon as it is there, unless it is wanted again by then."""
        self._unwanted = self._loading
        if self._parts is not None:
            self._parts.microphone.close()

    def announce(self, text: str) -> None:
        """Said by the loop, which knows what else is being said."""
        if self._parts is not None:
            self._due.append(text)

    def due(self) -> tuple[str, ...]:
        """What is to be announced, once."""
        due, self._due = tuple(self._due), []
        self._asked = tuple(f"*** Timer: {text}" for text in due[-1:])  # shown already
        return due

    def answered(self, lines: tuple[str, ...]) -> None:
        """The lines of a turn that the screen has shown."""
        self._asked = lines


class _Shared:
    """The session as the voice's loop sees it: turns go through the screen, timers come from it."""

    def __init__(self, session: Session, hub: Hub, ear: VoiceEar) -> None:
        self._session, self._hub, self._ear = session, hub, ear

    @property
    def state(self) -> State:
        return self._session.state

    @property
    def mind(self) -> Mind:
        return self._session.mind

    @property
    def journal(self) -> Journal:
        return self._session.journal

    @property
    def name(self) -> str:
        return self._session.name

    @property
    def actor(self) -> str:
        return self._session.actor

    def hear(self, text: str, now: datetime, actor: str | None = None) -> Reply:
        reply = self._hub.take_turn_for(text, now)
        self._ear.answered(reply.show)
        return reply

    def announcements(self, now: datetime) -> tuple[str, ...]:
        return self._ear.due()


__all__ = ["Parts", "VoiceEar", "can_hear"]
