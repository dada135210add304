"""Words to sound: espeak-ng everywhere, the system's own voice where there is one.

pyttsx3 is kept for what it is good at, SAPI and NSSpeech, and there in a child process (`system_voice`). Its espeak-ng
driver is not used: its callbacks come from another thread and race with the call that asked for them, it says only
the last of several texts, it plays through a shell command that cannot be stopped at once, it prints to standard
output, and a file it cannot write hangs it. The same library called directly in its synchronous mode gives the sound
of a sentence within milliseconds as plain numbers, so that is what is done here.
"""

from __future__ import annotations

import contextlib
import ctypes
import sys
import threading
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple, Protocol

from cabassist.errors import VoiceUnavailable

SAMPLE_BYTES = 2
DEFAULT_VOICE = "en-us"
LANGUAGE = "en"


class Sound(NamedTuple):
    """Mono sound: signed 16 bit little-endian samples, and how many of them make a second."""

    pcm: bytes
    rate: int

    @property
    def seconds(self) -> float:
        """How long it lasts [s]."""
        return len(self.pcm) / SAMPLE_BYTES / self.rate


class Synthesiser(Protocol):
    """An engine that turns words into sound."""

    name: str

    def voices(self) -> list[str]:
        """Names by which a voice can be asked for."""

    def sound(self, text: str, *, rate: int, voice: str | None = None) -> Sound:
        """A text as sound, at `rate` words a minute.

        Raises:
            VoiceUnavailable: there is no such voice, or the engine gave nothing.
        """

    def close(self) -> None:
        """Let the engine go."""


class _Voice(ctypes.Structure):
    _fields_ = (
        ("name", ctypes.c_char_p),
        ("languages", ctypes.c_char_p),
        ("identifier", ctypes.c_char_p),
        ("gender", ctypes.c_ubyte),
        ("age", ctypes.c_ubyte),
        ("variant", ctypes.c_ubyte),
        ("xx1", ctypes.c_ubyte),
        ("score", ctypes.c_int),
        ("spare", ctypes.c_void_p),
    )


_SYNCHRONOUS, _DONT_EXIT, _UTF8, _RATE, _OK = 2, 0x8000, 1, 1, 0
"""From speak_lib.h of espeak-ng 1.52. Without `_DONT_EXIT` a missing data file ends the whole process."""
_BUFFER_MS = 200
_ON_SOUND = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p)


class Espeak:
    """espeak-ng in its synchronous mode: `sound` returns when all of it is there.

    The library keeps one state for the whole process, so there is one of these (`espeak`) and calls are serialised.
    """

    name = "espeak-ng"

    def __init__(self, library: ctypes.CDLL, data: Path | None) -> None:
        self._library = library
        self._lock = threading.Lock()
        self._pieces: list[bytes] = []
        library.espeak_ListVoices.restype = ctypes.POINTER(ctypes.POINTER(_Voice))
        where = str(data).encode() if data else None
        self._sample_rate = int(library.espeak_Initialize(_SYNCHRONOUS, _BUFFER_MS, where, _DONT_EXIT))
        if self._sample_rate <= 0:
            raise VoiceUnavailable(f"The speech engine espeak-ng does not start. {_INSTALL}")
        self._heard = _ON_SOUND(self._take)  # kept, as the library calls it for as long as it lives
        library.espeak_SetSynthCallback(self._heard)
        self._english = self._listed()

    def _take(self, samples: ctypes._Pointer[ctypes.c_short], count: int, _events: int | None) -> int:
        if samples and count > 0:
            self._pieces.append(ctypes.string_at(samples, count * SAMPLE_BYTES))
        return 0

    def _listed(self) -> dict[str, bytes]:
        listed = self._library.espeak_ListVoices(None)
        found: dict[str, bytes] = {}
        index = 0
        while listed[index]:
            voice = listed[index].contents
            # the first byte of `languages` is a priority
            language = (voice.languages or b"")[1:].decode("ascii", "replace")
            if language.startswith(LANGUAGE) and voice.identifier:
                found.setdefault(language, voice.identifier)
            index += 1
        return found

    def voices(self) -> list[str]:
        """The English voices, by the short name of their kind of English."""
        return sorted(self._english)

    def sound(self, text: str, *, rate: int, voice: str | None = None) -> Sound:
        """A text as sound, at `rate` words a minute (80 to 450). Raises VoiceUnavailable for an unknown voice."""
        wanted = voice or DEFAULT_VOICE
        name, plus, variant = wanted.partition("+")
        body = text.encode()
        with self._lock:
            called = self._english.get(name, name.encode()) + (plus + variant).encode()
            known = b"\0" not in called and self._library.espeak_SetVoiceByName(called) == _OK
            answer = self._library.espeak_SetParameter(_RATE, rate, 0)
            self._pieces = []
            if known and answer == _OK:
                size = ctypes.c_size_t(len(body) + 1)
                answer = self._library.espeak_Synth(ctypes.c_char_p(body), size, 0, 0, 0, _UTF8, None, None)
            pcm = b"".join(self._pieces)
        if not known:
            raise no_such_voice(wanted, self.voices())
        if answer != _OK:
            raise VoiceUnavailable(f"The speech engine espeak-ng gave no sound. {_INSTALL}")
        return Sound(pcm, self._sample_rate)

    def close(self) -> None:
        """Nothing: the library stays, as it cannot be started twice in a process."""


_INSTALL = "Install one: pip install espeakng-loader. Answers go on as text."
_NAMES = {
    "linux": ("libespeak-ng.so.1",),
    "darwin": ("/opt/homebrew/lib/libespeak-ng.1.dylib", "/usr/local/lib/libespeak-ng.1.dylib"),
    "win32": (r"C:\Program Files\eSpeak NG\libespeak-ng.dll",),
}


def no_such_voice(wanted: str, known: list[str]) -> VoiceUnavailable:
    """The error for a voice that the engine does not have, with the nearest it has."""
    from rapidfuzz import process

    near = [name for name, _, _ in process.extract(wanted, known, limit=4)] or known[:4]
    choice = f"Take one of {', '.join(near)}, or leave the voice out." if near else "Leave the voice out."
    return VoiceUnavailable(f"There is no voice called {wanted!r}. {choice}")


def _of_the_system() -> Iterator[tuple[ctypes.CDLL, Path | None]]:
    for name in _NAMES.get(sys.platform, ()):
        with contextlib.suppress(OSError):
            yield ctypes.CDLL(name), None


def _of_the_wheel() -> Iterator[tuple[ctypes.CDLL, Path | None]]:
    try:
        import espeakng_loader

        data = Path(espeakng_loader.get_data_path())
        if (data / "phontab").is_file():
            yield ctypes.CDLL(espeakng_loader.get_library_path()), data.parent
    except (ImportError, OSError, RuntimeError):
        return  # no such wheel, or it is damaged: the caller says what to install


SOURCES: tuple[Callable[[], Iterator[tuple[ctypes.CDLL, Path | None]]], ...] = (_of_the_system, _of_the_wheel)
"""Where the library is looked for, in order."""


@cache
def espeak() -> Espeak:
    """The process's one espeak-ng: the system's, else the one from the espeakng-loader wheel.

    Raises:
        VoiceUnavailable: there is none, or none starts.
    """
    for source in SOURCES:
        for library, data in source():
            with contextlib.suppress(VoiceUnavailable, AttributeError):  # too old or damaged: try the next
                return Espeak(library, data)
    raise VoiceUnavailable(f"There is no speech engine. {_INSTALL}")
