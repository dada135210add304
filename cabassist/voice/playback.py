"""Sound to the loudspeaker through miniaudio, in a way that it can be stopped at once."""

from __future__ import annotations

import contextlib
import ctypes
import sys
import threading
import time
from collections.abc import Callable, Generator
from typing import Any, Protocol

from cabassist.errors import VoiceUnavailable
from cabassist.voice.synthesis import SAMPLE_BYTES, Sound

PERIOD_MS, PERIODS = 40, 3
"""The device holds this much sound ahead: a stop is heard within an eighth of a second."""
LATE_S = 3.0
"""A device that is so much behind its own time has gone."""
NO_DEVICE = "Connect a loudspeaker or a headset and start again. Answers go on as text."


class Playing:
    """A sound that is being played. `seconds` is how long it lasts when nobody stops it."""

    def __init__(self, seconds: float, halt: Callable[[], None] = lambda: None) -> None:
        self.seconds = seconds
        self._halt = halt
        self._over = threading.Event()
        self._whole = False
        self._began = time.monotonic()

    def ended(self, *, whole: bool) -> None:
        """Called by the player: it is over, to its end or not."""
        if not self._over.is_set():
            self._whole = whole
            self._over.set()

    @property
    def over(self) -> bool:
        """Whether nothing is heard of it any more."""
        return self._over.is_set()

    def stop(self) -> None:
        """Silence it at once; nothing happens when it is over."""
        if not self.over:
            self.ended(whole=False)
            self._halt()

    def wait(self) -> bool:
        """Wait until it is over. True when it was played to its end, False when it was stopped or the device went."""
        left = self.seconds + LATE_S - (time.monotonic() - self._began)
        if not self._over.wait(max(0.0, left)):
            self.stop()
        return self._whole


class Player(Protocol):
    """Something that plays sound, one at a time."""

    def play(self, sound: Sound) -> Playing:
        """Begin to play, and return at once. What was playing is stopped. Raises VoiceUnavailable."""

    def close(self) -> None:
        """Let the device go."""


class Loudspeaker:
    """The system's default output.

    Raises:
        VoiceUnavailable: there is none, or miniaudio is not installed.
    """

    def __init__(self) -> None:
        try:
            import miniaudio
        except ImportError:
            install = "Install the voice parts: pip install 'cabassist[voice]'. Answers go on as text."
            raise VoiceUnavailable(f"The player for sound is not installed. {install}") from None
        quiet_alsa()
        self._miniaudio = miniaudio
        # The null backend takes any sound and plays none; JACK complains on the terminal when no server runs.
        self._backends = [b for b in miniaudio.Backend if b.name not in ("NULL", "CUSTOM", "JACK")]
        self._device: Any = None
        self._playing: Playing | None = None
        self._open(22050)

    def _open(self, rate: int) -> None:
        self._shut()
        try:
            self._device = self._miniaudio.PlaybackDevice(
                output_format=self._miniaudio.SampleFormat.SIGNED16, nchannels=1, sample_rate=rate,
                buffersize_msec=PERIOD_MS, callback_periods=PERIODS, backends=self._backends, app_name="cabassist",
            )  # fmt: skip
        except self._miniaudio.MiniaudioError:
            raise VoiceUnavailable(f"There is no loudspeaker. {NO_DEVICE}") from None

    def play(self, sound: Sound) -> Playing:
        """Begin to play. A device that went is looked for once more. Raises VoiceUnavailable."""
        if self._playing is not None:
            self._playing.stop()
        if self._device is None or self._device.sample_rate != sound.rate:
            self._open(sound.rate)
        try:
            return self._begin(sound)
        except self._miniaudio.MiniaudioError:
            self._open(sound.rate)
        try:
            return self._begin(sound)
        except self._miniaudio.MiniaudioError:
            self._shut()
            raise VoiceUnavailable(f"The loudspeaker does not play. {NO_DEVICE}") from None

    def _begin(self, sound: Sound) -> Playing:
        self._silence()
        playing = Playing(sound.seconds, self._silence)
        feed = fed(sound, playing)
        next(feed)
        self._device.start(feed)
        self._playing = playing
        return playing

    def _silence(self) -> None:
        if self._device is not None:
            with contextlib.suppress(self._miniaudio.MiniaudioError):  # a device that went is silent already
                self._device.stop()

    def _shut(self) -> None:
        if self._device is not None:
            self._device.close()
            self._device = None

    def close(self) -> None:
        """Stop what is playing and let the device go."""
        if self._playing is not None:
            self._playing.stop()
        self._shut()


def fed(sound: Sound, playing: Playing) -> Generator[bytes, int, None]:
    """What the device is given, as many frames as it asks for; `playing` is over when the last of it was heard."""
    frames = yield b""
    pcm = memoryview(sound.pcm)
    at = 0
    while at < len(pcm):
        size = frames * SAMPLE_BYTES
        piece = bytes(pcm[at : at + size])
        at += size
        frames = yield piece + bytes(size - len(piece))
    ahead = sound.rate * PERIOD_MS * PERIODS // 1000
    while ahead > 0:
        ahead -= frames
        frames = yield bytes(frames * SAMPLE_BYTES)
    playing.ended(whole=True)


_SAYS = ctypes.CFUNCTYPE(None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p)
_SAYS_NOTHING = _SAYS(lambda *_: None)
"""Kept, as ALSA calls it for as long as the process lives."""


def quiet_alsa() -> None:
    """Keep ALSA, the sound library of Linux, from writing pages to the terminal when there is no card."""
    if sys.platform == "linux":
        with contextlib.suppress(OSError, AttributeError):  # without the library nothing is written
            ctypes.CDLL("libasound.so.2").snd_lib_error_set_handler(_SAYS_NOTHING)
