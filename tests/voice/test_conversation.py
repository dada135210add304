"""The loop from sound to answer, with a file for a microphone, scripted ears and a silent voice."""

from __future__ import annotations

import queue
from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.errors import VoiceUnavailable
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.voice.conversation import Conversation, Show
from cabassist.voice.endpoint import CHUNK_BYTES, Endpointer
from cabassist.voice.heard import Hypothesis
from cabassist.voice.microphone import FileMicrophone
from cabassist.voice.turns import Turns
from cabassist.voice.worker import Hearing

LOUD, QUIET = b"\x01\x40" * (CHUNK_BYTES // 2), bytes(CHUNK_BYTES)


def said_and_silence(number: int) -> bytes:
    """Sound in which somebody speaks so many times."""
    return (QUIET * 30 + LOUD * 20 + QUIET * 30) * number


class Loudness:
    """A detector that takes every loud chunk for speech."""

    def __call__(self, chunk: bytes) -> float:
        return 0.9 if chunk[1] else 0.1

    def reset(self) -> None:
        """Nothing to forget."""


class Ears:
    """Hears what it is told to, utterance by utterance."""

    def __init__(self, *texts: str, confidence: float = 0.98) -> None:
        self._texts = iter(texts)
        self._confidence = confidence
        self._now = ""
        self.partial: Hypothesis | None = None
        self.dropped = 0
        self.prepared = 0

    def begin(self, noise: bytes) -> None:
        self._now = next(self._texts, "")
        self.partial = Hypothesis(self._now, 0.0, "pocketsphinx", final=False)

    def sound(self, pcm: bytes) -> None:
        assert pcm

    def prepare(self) -> None:
        self.prepared += 1

    def look(self) -> Hearing:
        return Hearing((Hypothesis(self._now, self._confidence, "pocketsphinx", expected=True),))

    def more(self) -> Hearing:
        raise AssertionError("nothing more was offered")

    def drop(self) -> None:
        self.dropped += 1


class Saying:
    """A sound that lasts until it is stopped."""

    def __init__(self) -> None:
        self.over = False

    def stop(self) -> None:
        self.over = True


class Voice:
    """Remembers what it was to say, and how."""

    def __init__(self, works: bool = True) -> None:
        self.said: list[str] = []
        self.playing: list[Saying] = []
        self.changes: list[str] = []
        self._works = works

    def say(self, text: str) -> Saying:
        if not self._works:
            raise VoiceUnavailable("There is no loudspeaker.")
        self.said.append(text)
        self.playing.append(Saying())
        return self.playing[-1]

    def slower(self) -> bool:
        self.changes.append("slower")
        return True

    faster = louder = softer = slower


@pytest.fixture
def session(mind: Mind) -> Iterator[Session]:
    with Journal(IN_MEMORY) as journal:
        yield Session(mind, journal)


class Stage:
    """A conversation with everything it needs."""

    def __init__(self, session: Session, now: datetime, ears: Ears, **more: object) -> None:
        self.lines: list[str] = []
        self.conversation = Conversation(
            Turns(session),
            ears,
            Endpointer(Loudness()),
            Show(lines=self.lines.extend),
            clock=lambda: now,
            **more,  # type: ignore[arg-type]
        )


def test_three_utterances_get_three_answers(session: Session, now: datetime):
    """Shown, said, and on record."""
    voice = Voice()
    ears = Ears("how do i dump the waste tank", "next", "waste is at forty percent")
    stage = Stage(session, now, ears, voice=voice)
    stage.conversation.run(FileMicrophone(said_and_silence(3)))

    assert len(voice.said) == 3
    assert "Step 2" in "\n".join(stage.lines)
    assert [e.payload["value"] for e in session.journal.read(kind="reading")] == [40.0]
    assert len(stage.conversation.waits) == 3
    assert ears.prepared == 3


def test_what_is_shown_as_heard_is_what_was_taken_as_said(session: Session, now: datetime):
    """Where a second engine, or a repair, made sense of it: those words are answered and on record, so those are shown."""
    words: list[str] = []

    class Two(Ears):
        def look(self) -> Hearing:
            return Hearing((
                Hypothesis("hunt who i damp the west tang", 0.2, "pocketsphinx"),
                Hypothesis("how do i dump the waste tank", 0.95, "whisper"),
            ))  # fmt: skip

    stage = Stage(session, now, Two("unused"), voice=Voice())
    stage.conversation._show = Show(lines=stage.lines.extend, heard=words.append)
    stage.conversation.run(FileMicrophone(said_and_silence(1)))

    assert words == ["how do i dump the waste tank"]
    assert [e.payload["text"] for e in session.journal.read(kind="said")] == words


def test_speaking_stops_the_answer(session: Session, now: datetime):
    voice = Voice()
    stage = Stage(session, now, Ears("how do i dump the waste tank", "hold on a minute"), voice=voice)
    stage.conversation.run(FileMicrophone(said_and_silence(2)))

    assert voice.playing[0].over
    assert session.state.walk is not None
    assert session.state.walk.paused


def test_its_own_voice_in_the_microphone_stops_nothing(session: Session, now: datetime):
    """What comes back from the loudspeaker is no turn of the driver's."""
    voice = Voice()
    ears = Ears("how do i dump the waste tank", "steps and no more")
    stage = Stage(session, now, ears, voice=voice)
    stage.conversation._turns = Turns(session, ear=lambda reply: "Fourteen steps and no more.")
    stage.conversation.run(FileMicrophone(said_and_silence(2)))

    assert not voice.playing[0].over
    assert len(voice.said) == 1
    assert len(list(session.journal.read(kind="said"))) == 1


def test_without_interruption_nothing_is_heard_while_it_speaks(session: Session, now: datetime):
    voice = Voice()
    ears = Ears("how do i dump the waste tank", "stop")
    Stage(session, now, ears, voice=voice, interruptible=False).conversation.run(FileMicrophone(said_and_silence(2)))

    assert not voice.playing[0].over
    assert session.state.walk is not None


def test_goodbye_ends_it(session: Session, now: datetime):
    stage = Stage(session, now, Ears("goodbye", "next"))
    stage.conversation.run(FileMicrophone(said_and_silence(2)))

    assert list(session.journal.read(kind="said")) == []


def test_a_speaker_that_fails_is_said_once_and_text_goes_on(session: Session, now: datetime):
    stage = Stage(session, now, Ears("how do i dump the waste tank", "next"), voice=Voice(works=False))
    stage.conversation.run(FileMicrophone(said_and_silence(2)))
    shown = "\n".join(stage.lines)

    assert shown.count("There is no loudspeaker.") == 1
    assert shown.count("Going on in text.") == 1
    assert "Step 2" in shown


def test_a_microphone_that_is_unplugged_loses_nothing(session: Session, now: datetime):
    """The error is named; what was said before stands, and the session can go on by typing."""
    stage = Stage(session, now, Ears("how do i dump the waste tank", "next"))

    with pytest.raises(VoiceUnavailable, match="has gone away"):
        stage.conversation.run(FileMicrophone(said_and_silence(2), unplugged_after=3.2))
    assert session.state.walk is not None
    assert session.hear("next", now).step is not None


def test_push_to_talk_takes_what_is_said_between_two_presses(session: Session, now: datetime):
    """Enter, speech, Enter; silence in between does not end it, and without Enter nothing is heard."""
    typed: queue.Queue[str] = queue.Queue()
    ears = Ears("how do i dump the waste tank")
    stage = Stage(session, now, ears, typed=typed, push_to_talk=True)

    class Pressed(FileMicrophone):
        def blocks(self) -> Iterator[bytes]:
            for number, block in enumerate(super().blocks()):
                if number in (20, 70):
                    typed.put("\n")
                yield block

    stage.conversation.run(Pressed(said_and_silence(1)))

    assert stage.lines[0].startswith("Listening.")
    assert session.state.walk is not None


def test_what_is_typed_in_between_is_answered(session: Session, now: datetime):
    typed: queue.Queue[str] = queue.Queue()
    typed.put("how do i dump the waste tank\n")
    typed.put("quit\n")
    stage = Stage(session, now, Ears(), typed=typed)
    stage.conversation.run(FileMicrophone(QUIET * 5))

    assert session.state.walk is not None


def test_slower_says_it_again_slower(session: Session, now: datetime):
    voice = Voice()
    stage = Stage(session, now, Ears("how do i dump the waste tank", "slower"), voice=voice)
    stage.conversation.run(FileMicrophone(said_and_silence(2)))

    assert voice.changes == ["slower"]
    assert voice.said[0] == voice.said[1]


def test_a_typed_wish_changes_the_voice_too(session: Session, now: datetime):
    """It is done, not only answered."""
    typed: queue.Queue[str] = queue.Queue()
    typed.put("how do i dump the waste tank\n")
    typed.put("too fast\n")
    voice = Voice()
    stage = Stage(session, now, Ears(), voice=voice, typed=typed)
    stage.conversation.run(FileMicrophone(QUIET * 5))

    assert voice.changes == ["slower"]
    assert voice.said[0] == voice.said[1]


def test_timers_are_announced(session: Session, now: datetime):
    """Also when nobody says anything."""
    session.hear("remind me in five minutes to check the hose", now)

    stage = Stage(session, now + timedelta(minutes=6), Ears())
    stage.conversation.run(FileMicrophone(QUIET * 80))

    assert any(line.startswith("*** Timer:") for line in stage.lines)
