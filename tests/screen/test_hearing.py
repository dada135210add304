"""What is said to the microphone: heard, answered and shown in one order with what is typed."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event
from typing import Any

import pytest

from cabassist.dialogue.types import Mind
from cabassist.errors import VoiceUnavailable
from cabassist.screen.ear import NoEar
from cabassist.screen.hearing import NEEDED, Parts, VoiceEar, can_hear
from cabassist.voice.endpoint import Endpointer
from tests.voice.test_conversation import Ears, Loudness, Voice, said_and_silence

from .conftest import SMALL, Cab

Drive = Callable[..., None]


LONGEST = 30.0
"""Seconds that a tape waits to be closed."""


class Tape:
    """A microphone that plays a tape, and then waits until it is closed."""

    name = "tape"

    def __init__(self, sound: bytes) -> None:
        self._sound = sound
        self.closed = False

    def blocks(self) -> Iterator[bytes]:
        import time

        for start in range(0, len(self._sound), 3200):
            yield self._sound[start : start + 3200]
        late = time.monotonic() + LONGEST  # a test that fails must end, too
        while not self.closed and time.monotonic() < late:
            time.sleep(0.005)
            yield bytes(3200)

    def close(self) -> None:
        self.closed = True


class Room:
    """Everything a voice needs, with words that are heard one after the other."""

    def __init__(self, *texts: str, broken: bool = False, missing: str = "") -> None:
        self.loaded = Event()
        self.loaded.set()
        self.closed = False
        self.voice = Voice()
        self._tape = Tape(said_and_silence(len(texts)))
        self._texts, self._broken, self._missing = texts, broken, missing

    @contextmanager
    def parts(self, mind: Mind, told: Callable[[str], None]) -> Iterator[Parts]:
        if self._broken:
            raise VoiceUnavailable("No microphone found. Connect one, or type instead.")
        if self._missing:
            told(self._missing)
        self.loaded.wait(20)
        self.closed = False
        yield Parts(self._tape, Ears(*self._texts), Endpointer(Loudness()), self.voice, None, "")  # type: ignore[arg-type]
        self._tape.close()
        self.closed = True


async def until(cab: Cab, seen: Callable[[], Any]) -> None:
    for _ in range(500):
        await cab.pilot.pause(0.02)
        if seen():
            return
    raise AssertionError(cab.text)


def hears(room: Room, cab: Cab) -> VoiceEar:
    ear = VoiceEar(room.parts, lambda: cab.now)
    cab.app.ear = ear
    return ear


def test_what_is_heard_is_answered_on_the_screen_and_aloud(drive: Drive):
    """Once each; the microphone then says that it listens, until it is switched off."""

    async def story(cab: Cab) -> None:
        room = Room("how do I plug in at the hotel", "next")
        ear = hears(room, cab)
        await cab.press("f10")
        await until(cab, lambda: "STEP 2 of " in cab.text)
        await until(cab, lambda: len(room.voice.said) == 2)
        assert "Look at the outlet" in room.voice.said[1]
        assert cab.conversation.count("Connect shore power. 15 steps.") == 1
        assert [e.payload["text"] for e in cab.session.journal.read(kind="said")] == [
            "how do I plug in at the hotel",
            "next",
        ]
        await until(cab, lambda: "Microphone on: listening." in cab.text)
        await cab.press("f10")
        await until(cab, lambda: ear.state == "off")
        await until(cab, lambda: "Microphone off." in cab.text)

    drive(story)


def test_loading_is_stopped_by_escape(drive: Drive):
    """What was loaded in vain is closed, and nothing listens."""

    async def story(cab: Cab) -> None:
        room = Room("how do I plug in at the hotel")
        room.loaded.clear()
        ear = hears(room, cab)
        await cab.press("f10")
        await until(cab, lambda: "getting ready. Esc stops it." in cab.text)
        await cab.press("escape")
        await until(cab, lambda: "Microphone off." in cab.text)
        room.loaded.set()
        await until(cab, lambda: room.closed)
        assert ear.state == "off"
        assert list(cab.session.journal.read(kind="said")) == []

    drive(story)


def test_loading_that_is_wanted_again_goes_on(drive: Drive):
    async def story(cab: Cab) -> None:
        room = Room("how do I plug in at the hotel")
        room.loaded.clear()
        ear = hears(room, cab)
        await cab.press("f10")
        await until(cab, lambda: ear.state == "loading")
        await cab.press("escape")
        await cab.press("f10")
        await until(cab, lambda: ear.state == "loading")
        room.loaded.set()
        await until(cab, lambda: "Connect shore power. 15 steps." in cab.conversation)
        await cab.press("f10")
        await until(cab, lambda: ear.state == "off")

    drive(story)


def test_a_danger_is_heard_while_rolling(drive: Drive):
    async def story(cab: Cab) -> None:
        room = Room("it smells of rotten eggs back here")
        hears(room, cab)
        await cab.say("we are rolling")
        cab.app.action_listen()
        await until(cab, lambda: "DANGER: Get everyone out now." in cab.text)
        await until(cab, lambda: room.voice.said)
        assert len(room.voice.said[0].split()) <= 30
        cab.app.ear.stop()
        await until(cab, lambda: cab.app.ear.state == "off")

    drive(story)


def test_a_timer_is_said_aloud_and_shown_once(drive: Drive):
    async def story(cab: Cab) -> None:
        from datetime import timedelta

        room = Room()
        hears(room, cab)
        await cab.press("f10")
        await cab.say("remind me in 5 minutes to check the cord")
        cab.now += timedelta(minutes=6)
        await until(cab, lambda: room.voice.said)
        assert room.voice.said == ["Timer. Reminder: check the cord."]
        assert cab.conversation.count("Reminder: check the cord.") == 1
        await cab.press("f10")
        await until(cab, lambda: cab.app.ear.state == "off")

    drive(story)


def test_without_a_microphone_it_says_so_and_goes_on(drive: Drive):
    async def story(cab: Cab) -> None:
        hears(Room(broken=True), cab)
        await cab.press("f10")
        await until(cab, lambda: "No microphone found." in cab.text)
        await cab.say("thanks")
        assert "You are welcome." in cab.text

    drive(story)


def test_what_is_missing_while_the_rest_goes_on_is_said_on_the_screen(drive: Drive):
    async def story(cab: Cab) -> None:
        ear = hears(Room(missing="No loudspeaker found. Connect one.\nAnswers are shown as text."), cab)
        await cab.press("f10")
        await until(cab, lambda: "Answers are shown as text." in cab.text)
        assert cab.conversation.splitlines()[-2:] == [
            "No loudspeaker found. Connect one.",
            "Answers are shown as text.",
        ]
        assert ear.state == "listening"
        await cab.press("f10")
        await until(cab, lambda: ear.state == "off")

    drive(story)


def test_without_the_packages_it_says_how_to_get_them(drive: Drive):
    async def story(cab: Cab) -> None:
        assert "pip install 'cabassist[voice]'" in cab.text
        await cab.press("f10")
        assert cab.app.ear.state == "missing"

    drive(story, SMALL, ear=NoEar())


@pytest.mark.parametrize("missing", [None, *NEEDED])
def test_the_packages_are_looked_for(monkeypatch: pytest.MonkeyPatch, missing: str | None):
    found = importlib.util.find_spec

    def spec(name: str, package: str | None = None) -> object:
        return None if name == missing else found("json") if name in NEEDED else found(name, package)

    monkeypatch.setattr(importlib.util, "find_spec", spec)

    assert can_hear() is (missing is None)
