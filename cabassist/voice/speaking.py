"""Answers said aloud: which engine, how fast, how loud, and stopping in the middle.

A speaker is opened once. Without engine or loudspeaker that fails with a sentence, which the front end says once on
the screen before it goes on in text. The text is put into words first (`words.in_words`), so nothing that an engine
could misread reaches one.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import tempfile
import wave
from pathlib import Path

import numpy as np

from cabassist.errors import FileProblem, VoiceUnavailable
from cabassist.voice.playback import Loudspeaker, Player, Playing
from cabassist.voice.synthesis import SAMPLE_BYTES, Sound, Synthesiser, espeak
from cabassist.voice.words import in_words

SLOWEST, USUAL, FASTEST = 90, 150, 260
"""Words a minute."""
SOFTEST, USUAL_VOLUME, LOUDEST = 0.1, 0.7, 1.0
"""Share of the loudest sound the device can play."""
FASTER_BY, LOUDER_BY = 1.2, 1.4
"""What one "faster" and one "louder" multiply by; 1.4 is 3 dB."""
_PEAK = 32000
_OWN_VOICES = ("win32", "darwin")
"""Systems with a voice of their own."""
_FILES_ONLY = "This voice was opened for files only. Open it with a loudspeaker to hear it."


class Speaker:
    """Says texts, one at a time.

    Attributes:
        rate: words a minute, `SLOWEST` to `FASTEST`.
        volume: `SOFTEST` to `LOUDEST`.
        engine: name of the speech engine.
    """

    def __init__(
        self, synthesiser: Synthesiser, player: Player | None, *, rate: int, volume: float, voice: str | None
    ) -> None:
        self._synthesiser = synthesiser
        self._player = player
        self._voice = voice
        self._playing: Playing | None = None
        self.engine = synthesiser.name
        self.rate = round(min(max(rate, SLOWEST), FASTEST))
        self.volume = min(max(volume, SOFTEST), LOUDEST)

    def say(self, text: str) -> Playing:
        """Begin to say a text and return at once; what was being said is stopped.

        Raises:
            VoiceUnavailable: the engine or the loudspeaker failed, or the speaker was opened without one.
        """
        self.stop()
        if self._player is None:
            raise VoiceUnavailable(_FILES_ONLY)
        sound = self._sound(text)
        if not sound.pcm:
            self._playing = Playing(0.0)
            self._playing.ended(whole=True)
        else:
            self._playing = self._player.play(sound)
        return self._playing

    def to_wav(self, text: str, path: Path) -> float:
        """Write a text as a WAV file, and give how long it lasts [s]. The file appears whole or not at all.

        Raises:
            FileProblem: it cannot be written.
            VoiceUnavailable: the engine failed.
        """
        sound = self._sound(text)
        body = io.BytesIO()
        with wave.open(body, "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(SAMPLE_BYTES)
            file.setframerate(sound.rate)
            file.writeframes(sound.pcm)
        _write(path, body.getvalue())
        return sound.seconds

    def _sound(self, text: str) -> Sound:
        words = in_words(text)
        sound = self._synthesiser.sound(words, rate=self.rate, voice=self._voice) if words else Sound(b"", 22050)
        samples = np.frombuffer(sound.pcm, "<i2").astype(np.float32)
        loudest = float(np.abs(samples).max()) if samples.size else 0.0
        if loudest == 0.0:
            return Sound(b"", sound.rate)
        scaled = samples * (self.volume * _PEAK / loudest)
        return Sound(np.rint(scaled).astype("<i2").tobytes(), sound.rate)

    def slower(self) -> bool:
        """Speak slower from the next text on; False when it is as slow as it gets."""
        return self._paced(self.rate / FASTER_BY)

    def faster(self) -> bool:
        """Speak faster from the next text on; False when it is as fast as it gets."""
        return self._paced(self.rate * FASTER_BY)

    def louder(self) -> bool:
        """Speak louder from the next text on; False when it is as loud as it gets."""
        return self._loud(self.volume * LOUDER_BY)

    def softer(self) -> bool:
        """Speak softer from the next text on; False when it is as soft as it gets."""
        return self._loud(self.volume / LOUDER_BY)

    def _paced(self, rate: float) -> bool:
        before, self.rate = self.rate, round(min(max(rate, SLOWEST), FASTEST))
        return self.rate != before

    def _loud(self, volume: float) -> bool:
        before, self.volume = self.volume, min(max(volume, SOFTEST), LOUDEST)
        return self.volume != before

    def stop(self) -> None:
        """Silence what is being said."""
        if self._playing is not None:
            self._playing.stop()

    def voices(self) -> list[str]:
        """Names by which a voice can be asked for."""
        return self._synthesiser.voices()

    def close(self) -> None:
        """Silence it and let engine and device go."""
        self.stop()
        if self._player is not None:
            self._player.close()
        self._synthesiser.close()


def open_speaker(
    *,
    rate: int = USUAL,
    volume: float = USUAL_VOLUME,
    voice: str | None = None,
    aloud: bool = True,
    player: Player | None = None,
) -> Speaker:
    """A speaker with the best engine there is: the system's own voice, else espeak-ng.

    Args:
        rate: words a minute; what lies outside `SLOWEST` to `FASTEST` is brought inside.
        volume: share of the loudest, brought inside `SOFTEST` to `LOUDEST`.
        voice: name of a voice of the engine, None for its usual English one.
        aloud: False for files only; then no loudspeaker is needed.
        player: plays the sound instead of the system's loudspeaker.

    Raises:
        VoiceUnavailable: there is no engine, no such voice or no loudspeaker; its text says what to do.
    """
    synthesiser = _synthesiser(voice)
    try:
        if aloud and player is None:
            player = Loudspeaker()
    except VoiceUnavailable:
        synthesiser.close()
        raise
    return Speaker(synthesiser, player, rate=rate, volume=volume, voice=voice)


def _synthesiser(voice: str | None) -> Synthesiser:
    """The engine, after it has said one word: one that starts and stays silent is of no use."""
    if sys.platform in _OWN_VOICES:
        from cabassist.voice.system_voice import SystemVoice

        with contextlib.suppress(VoiceUnavailable):  # espeak-ng comes next
            own = SystemVoice()
            if own.sound("ready", rate=USUAL, voice=voice if voice in own.voices() else None).pcm:
                if voice is None or voice in own.voices():
                    return own
            own.close()
    engine = espeak()
    engine.sound("ready", rate=USUAL, voice=voice)
    return engine


def _write(path: Path, body: bytes) -> None:
    """Write a file so that nobody ever finds half of it."""
    beside = ""
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".said-", suffix=".wav")
        with os.fdopen(handle, "wb") as file:
            file.write(body)
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):  # it may not have been made
            Path(beside).unlink()
        raise FileProblem(path, f"cannot be written ({error.strerror}).", "Give another place for the sound.") from None
