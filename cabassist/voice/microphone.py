"""Where sound comes from: a microphone through miniaudio, or a file that is fed as if it were one.

The callback of the device only copies a block into a queue; everything else happens in the thread that reads.
"""

from __future__ import annotations

import contextlib
import queue
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from cabassist.errors import VoiceUnavailable
from cabassist.voice.endpoint import CHUNK_BYTES
from cabassist.voice.heard import RATE, seconds
from cabassist.voice.playback import quiet_alsa
from cabassist.voice.sound import read_sound

BLOCK_MS = 32
BACKLOG = 2_000
"""Blocks kept when nobody reads, about a minute; then the oldest are dropped."""
SILENT_DEVICE = 3.0
"""Seconds without any block after which a device counts as unplugged."""
_NO_DEVICE = "Discard all samples"
"""How ALSA names the device that stands for none."""
_ASK = "Plug one in, choose one with --device, or type instead. `cabassist voice check` lists what there is."


@dataclass(frozen=True)
class Device:
    """A microphone as the system names it."""

    number: int
    name: str


class Microphone(Protocol):
    """Gives blocks of 16 kHz mono PCM."""

    name: str

    def blocks(self) -> Iterator[bytes]:
        """Blocks until the sound ends or `close` is called.

        Raises VoiceUnavailable when the device goes away.
        """

    def close(self) -> None:
        """End the blocks; may be called twice, and from another thread."""


def devices() -> list[Device]:
    """Every microphone, numbered from 1; none when the system has no sound at all."""
    return [Device(number, name) for number, (name, _) in enumerate(_captures(), start=1)]


def _captures() -> list[tuple[str, Any]]:
    try:
        import miniaudio
    except ImportError:
        return []
    quiet_alsa()
    try:
        found = miniaudio.Devices(_backends()).get_captures()
    except (miniaudio.MiniaudioError, OSError):
        return []
    return [(str(entry["name"]), entry["id"]) for entry in found if not str(entry["name"]).startswith(_NO_DEVICE)]


def _backends() -> list[Any]:
    """All but the one that only makes silence, and JACK, which complains on the terminal when no server runs."""
    import miniaudio

    return [backend for backend in miniaudio.Backend if backend.name not in ("NULL", "CUSTOM", "JACK")]


class DeviceMicrophone:
    """A microphone of this machine."""

    def __init__(self, wanted: str | None = None) -> None:
        """Open it: the system's own choice, or the one whose number or part of name is `wanted`.

        Raises VoiceUnavailable when there is none, or when it cannot be opened.
        """
        try:
            import miniaudio
        except ImportError:
            raise VoiceUnavailable("miniaudio is not installed, so there is no microphone. Type instead.") from None
        captures = _captures()
        if not captures:
            raise VoiceUnavailable(f"No microphone found. {_ASK}")
        self.name, identity = _chosen(captures, wanted)
        self._queue: queue.Queue[bytes | None] = queue.Queue(BACKLOG)
        self._closed = False
        self.dropped = 0
        """Blocks lost because nobody read them in time."""
        try:
            self._device = miniaudio.CaptureDevice(
                input_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=RATE,
                buffersize_msec=BLOCK_MS,
                device_id=identity,
                backends=_backends(),
                app_name="cabassist",
            )
            capture = self._capture()
            next(capture)
            self._device.start(capture)
        except (miniaudio.MiniaudioError, OSError) as error:
            raise VoiceUnavailable(f"The microphone '{self.name}' cannot be opened ({error}). {_ASK}") from None

    def _capture(self) -> Any:
        while True:
            block = yield
            try:
                self._queue.put_nowait(bytes(block))
            except queue.Full:
                self.dropped += 1

    def blocks(self) -> Iterator[bytes]:
        """Blocks as they come; a device that falls silent for some seconds has been unplugged."""
        while not self._closed:
            try:
                block = self._queue.get(timeout=SILENT_DEVICE)
            except queue.Empty:
                self.close()
                raise VoiceUnavailable(f"The microphone '{self.name}' has gone away. {_ASK}") from None
            if block is None:
                return
            yield block

    def close(self) -> None:
        """Stop listening."""
        if not self._closed:
            self._closed = True
            self._device.close()
            with contextlib.suppress(queue.Full):  # then the reader finds it closed
                self._queue.put_nowait(None)


def _chosen(captures: list[tuple[str, Any]], wanted: str | None) -> tuple[str, Any]:
    if wanted is None:
        return captures[0][0], None
    if wanted.isdigit() and 1 <= int(wanted) <= len(captures):
        return captures[int(wanted) - 1]
    found = [entry for entry in captures if wanted.lower() in entry[0].lower()]
    if len(found) == 1:
        return found[0]
    names = "; ".join(f"{number} {name}" for number, (name, _) in enumerate(captures, start=1))
    raise VoiceUnavailable(f"There is no one microphone called '{wanted}'. There are: {names}.")


class FileMicrophone:
    """A sound file heard as if it were spoken now; `pace` 1 is real time, 0 as fast as it is read.

    `unplugged_after` seconds the device is gone, as when its plug is pulled.
    """

    def __init__(
        self,
        sound: Path | bytes,
        *,
        pace: float = 0.0,
        unplugged_after: float | None = None,
        wait: Callable[[float], None] = time.sleep,
    ) -> None:
        self.name = sound.name if isinstance(sound, Path) else "sound"
        self._pcm = read_sound(sound) if isinstance(sound, Path) else sound
        self._pace = pace
        self._unplugged_after = unplugged_after
        self._wait = wait
        self._closed = False

    def blocks(self) -> Iterator[bytes]:
        """The file in blocks of 32 ms."""
        for at in range(0, len(self._pcm), CHUNK_BYTES):
            if self._closed:
                return
            if self._unplugged_after is not None and seconds(self._pcm[:at]) >= self._unplugged_after:
                raise VoiceUnavailable(f"The microphone '{self.name}' has gone away. {_ASK}")
            block = self._pcm[at : at + CHUNK_BYTES]
            if self._pace:
                self._wait(seconds(block) / self._pace)
            yield block

    def close(self) -> None:
        """End the blocks."""
        self._closed = True
