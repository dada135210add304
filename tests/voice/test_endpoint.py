"""Where utterances begin and end."""

from __future__ import annotations

import numpy as np
import pytest

from cabassist.voice.endpoint import CHUNK_BYTES, CHUNK_SECONDS, Endpointer, Silero, Timing, utterances


class Scripted:
    """A detector that gives the probabilities it is told, then 0."""

    def __init__(self, script: str) -> None:
        self._chances = iter([float(c) / 10 for c in script])

    def __call__(self, chunk: bytes) -> float:
        assert len(chunk) == CHUNK_BYTES
        return next(self._chances, 0.0)

    def reset(self) -> None:
        """Nothing to forget."""


def kinds(script: str, block: int = CHUNK_BYTES, timing: Timing | None = None) -> list[str]:
    """The events of a script of probabilities in tenths, sound left out."""
    endpointer = Endpointer(Scripted(script), timing)
    sound = bytes(CHUNK_BYTES * len(script))
    events = [e.kind for at in range(0, len(sound), block) for e in endpointer.feed(sound[at : at + block])]
    return [kind for kind in [*events, *(e.kind for e in endpointer.finish())] if kind not in ("sound", "hushed")]


QUIET, SPEECH = "0" * 30, "9" * 20


def test_speech_starts_pauses_and_ends():
    assert kinds(QUIET + SPEECH + QUIET) == ["started", "paused", "ended"]


def test_a_short_silence_is_told_before_the_pause():
    """Also when it turns out to be none; then there is no pause."""

    def told(script: str) -> list[str]:
        endpointer = Endpointer(Scripted(script))
        return [e.kind for e in endpointer.feed(bytes(CHUNK_BYTES * len(script))) if e.kind != "sound"]

    assert told(QUIET + SPEECH + QUIET) == ["started", "hushed", "paused", "ended"]
    assert told(QUIET + SPEECH + "0" * 6 + SPEECH) == ["started", "hushed"]
    assert told(QUIET + SPEECH + "0" * 3 + SPEECH) == ["started"]


def test_a_pause_for_thought_does_not_end_it():
    """Half a second of silence in the middle: looked at twice, ended once."""
    assert kinds(QUIET + SPEECH + "0" * 15 + SPEECH + QUIET) == ["started", "paused", "paused", "ended"]


def test_a_click_is_no_speech():
    assert kinds(QUIET + "9" + QUIET + "90909" + QUIET) == []


def test_doubtful_chunks_keep_an_utterance_alive():
    """Between the two probabilities it neither begins nor ends."""
    assert kinds("4" * 100) == []
    assert kinds(SPEECH + "4" * 100) == ["started", "ended"]


def test_sound_that_ends_in_the_middle_ends_the_utterance():
    assert kinds(QUIET + SPEECH) == ["started", "ended"]


def test_endless_talk_is_cut():
    """Ten minutes of speech come in pieces of half a minute at most."""
    minutes = int(600 / CHUNK_SECONDS)
    found = kinds("9" * minutes)

    assert found.count("cut") == pytest.approx(20, abs=1)
    assert found.count("started") == found.count("cut") + found.count("ended")


@pytest.mark.parametrize("block", [1, 333, CHUNK_BYTES, 5 * CHUNK_BYTES + 1])
def test_blocks_may_have_any_length(block: int):
    assert kinds(QUIET + SPEECH + QUIET, block) == ["started", "paused", "ended"]


def test_the_beginning_is_not_cut_off_and_the_noise_before_it_is_kept():
    """The sound before the first sure chunk belongs to the utterance; what came earlier is noise."""
    marks = np.repeat(np.arange(80, dtype="<i2"), CHUNK_BYTES // 2).tobytes()
    timing = Timing()
    (found,) = utterances([marks], Endpointer(Scripted(QUIET + SPEECH + QUIET), timing))
    first = int(np.frombuffer(found.pcm, "<i2")[0])

    assert 30 - first == pytest.approx(timing.before / CHUNK_SECONDS, abs=1)
    assert len(found.noise) / CHUNK_BYTES == pytest.approx(timing.noise / CHUNK_SECONDS, abs=1)
    assert not found.cut


def test_silero_hears_no_speech_in_silence_and_noise():
    noise = (np.random.default_rng(1).normal(0, 0.05, 32_000) * 32767).astype("<i2").tobytes()

    assert list(utterances([bytes(64_000), noise, bytes(64_000)], Endpointer(Silero()))) == []
