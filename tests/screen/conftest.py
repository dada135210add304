"""The screen driven without a terminal: a pilot presses keys, and what is shown is read back as text."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from datetime import datetime, timedelta
from typing import Any

import pytest
from textual.color import Color
from textual.pilot import Pilot
from textual.strip import Strip

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.screen.app import CabApp, Opened
from cabassist.screen.look import Look

START = "2026-01-15T21:40:00-06:00"
SMALL, LARGE = (80, 24), (200, 60)


class Cab:
    """The application with a clock that a test moves, and what is seen on it."""

    def __init__(self, mind: Mind, journal: Journal, **more: Any) -> None:
        self.now = datetime.fromisoformat(START)
        self.session = Session(mind, journal)
        self.notes: tuple[str, ...] = ()
        look = more.pop("look", Look())
        self.app = CabApp(lambda: Opened(self.session, self.notes), clock=lambda: self.now, look=look, **more)
        self.pilot: Pilot[Any]

    async def settle(self) -> None:
        """Until everything said is answered, and drawn."""
        for _ in range(600):
            await self.pilot.pause(0.02)
            if self.app.idle:
                break
        assert self.app.idle
        await self.pilot.pause(0.1)

    async def say(self, *texts: str, minutes: float = 1) -> None:
        """Say these, some minutes apart, as if typed."""
        for text in texts:
            self.now += timedelta(minutes=minutes)
            self.app.say(text)
            await self.settle()

    async def press(self, *keys: str) -> None:
        """Press keys."""
        await self.pilot.press(*keys)
        await self.settle()

    async def type(self, text: str) -> None:
        """Type a line and press Enter; what no key gives is pasted."""
        from textual.events import Paste

        self.app.query_one("#say").post_message(Paste(text))
        await self.pilot.pause()
        await self.press("enter")

    def strips(self) -> list[Strip]:
        """What is drawn, row by row."""
        return self.app.screen._compositor.render_strips()

    @property
    def rows(self) -> list[str]:
        """What is seen, row by row."""
        return [strip.text.rstrip() for strip in self.strips()]

    @property
    def text(self) -> str:
        """What is seen, as one text without the breaks of lines."""
        return " ".join(" ".join(self.rows).split())

    @property
    def conversation(self) -> str:
        """All lines of the conversation, also those scrolled away."""
        from textual.widgets import Static

        return "\n".join(str(part.content) for part in self.app.screen_stack[0].query("#talk Static").results(Static))

    def colors(self) -> set[tuple[Color, Color]]:
        """Pairs of ink and paper that are drawn with something to read."""
        found = set()
        for strip in self.strips():
            for segment in strip:
                style = segment.style
                if any(c.isalnum() for c in segment.text) and style and style.color and style.bgcolor:
                    ink, paper = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
                    found.add((paper, ink) if style.reverse else (ink, paper))
        return found


Drive = Callable[[Callable[[Cab], Awaitable[None]]], None]


@pytest.fixture
def journal() -> Iterator[Journal]:
    with Journal(IN_MEMORY) as made:
        yield made


@pytest.fixture
def drive(mind: Mind, journal: Journal) -> Callable[..., None]:
    """Runs a story on the screen at a size."""

    def driven(story: Callable[[Cab], Awaitable[None]], size: tuple[int, int] = SMALL, **more: Any) -> None:
        async def whole() -> None:
            cab = Cab(mind, journal, **more)
            async with cab.app.run_test(size=size) as pilot:
                cab.pilot = pilot
                await cab.settle()
                await story(cab)

        asyncio.run(whole())

    return driven
