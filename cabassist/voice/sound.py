"""Sound as numbers: reading files, levels, and taking a steady noise away.

A high-pass does not help against engine hum, as the recognisers hear nothing below 130 Hz anyway; subtracting the
noise's own spectrum does (see `Denoiser`).
"""

from __future__ import annotations

import math
import sys
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from cabassist.errors import FileProblem
from cabassist.voice.heard import RATE, SAMPLE_BYTES

Floats = NDArray[np.float32]

FULL_SCALE = 32768.0
MAX_FILE_BYTES = 500_000_000
"""More than two hours of stereo at 44.1 kHz; longer recordings are cut by whoever made them."""
_FRAME = 512
_HOP = 128
_OVER_SUBTRACTION = 3.0
_FLOOR = 0.3
"""Share of each band's amplitude that always stays; less leaves artefacts that are heard as words."""
_QUIETEST_DB = -100.0


class Level(NamedTuple):
    """How loud a piece of sound is: both in dB below full scale, and the share of samples at full scale."""

    loudness: float
    peak: float
    clipped: float


def as_floats(pcm: bytes) -> Floats:
    """PCM as numbers between -1 and 1; a lone byte at the end is left out."""
    whole = len(pcm) - len(pcm) % SAMPLE_BYTES
    return np.frombuffer(pcm[:whole], "<i2").astype(np.float32) / np.float32(FULL_SCALE)


def as_pcm(samples: NDArray[np.floating]) -> bytes:
    """Numbers between -1 and 1 as PCM; what lies outside is cut off."""
    scaled = np.clip(np.rint(np.asarray(samples, np.float64) * FULL_SCALE), -FULL_SCALE, FULL_SCALE - 1)
    return bytes(scaled.astype("<i2").tobytes())


def level(pcm: bytes) -> Level:
    """How loud a piece of sound is."""
    samples = as_floats(pcm)
    if not samples.size:
        return Level(_QUIETEST_DB, _QUIETEST_DB, 0.0)
    size = np.abs(samples)
    power = float(np.mean(samples.astype(np.float64) ** 2))
    return Level(_decibels(math.sqrt(power)), _decibels(float(size.max())), float(np.mean(size >= 0.999)))


def _decibels(amplitude: float) -> float:
    return max(_QUIETEST_DB, 20 * math.log10(max(amplitude, 1e-9)))


def read_sound(path: Path) -> bytes:
    """A sound file as 16 kHz mono PCM; another sample rate, more channels and other formats are converted.

    Raises:
        FileProblem: there is no such file, it is too long, or it holds no sound that can be read.
    """
    import miniaudio

    ask = "Give a WAV, FLAC, MP3 or Ogg Vorbis file."
    try:
        size = path.stat().st_size
        body = path.read_bytes() if size <= MAX_FILE_BYTES else b""
    except OSError as error:
        raise FileProblem(path, f"cannot be read ({error.strerror}).", ask) from None
    if size > MAX_FILE_BYTES:
        raise FileProblem(path, "is too long to be heard in one go.", "Cut it into pieces.")
    try:
        decoded = miniaudio.decode(body, miniaudio.SampleFormat.SIGNED16, nchannels=1, sample_rate=RATE)
    except (miniaudio.DecodeError, miniaudio.MiniaudioError, ValueError):
        raise FileProblem(path, "holds no sound that can be read.", ask) from None
    if not decoded.num_frames:
        raise FileProblem(path, "holds no sound.", ask)
    samples = decoded.samples
    if sys.byteorder == "big":
        samples.byteswap()
    return bytes(samples.tobytes())


class Denoiser:
    """Takes a steady noise away from a stream of sound by spectral subtraction.

    Boll, "Suppression of acoustic noise in speech using spectral subtraction", IEEE Trans. ASSP 27(2), 1979, with a
    high floor. What comes out lags what goes in by one frame (32 ms); `flush` gives the rest.
    """

    def __init__(self, noise: bytes) -> None:
        self._window = np.hanning(_FRAME + 1)[:-1]
        self._noise = self._spectrum_of(as_floats(noise))
        self._odd = b""
        self._waiting = np.zeros(0)
        self._sum = np.zeros(0)
        self._weight = np.zeros(0)

    def _spectrum_of(self, noise: Floats) -> NDArray[np.float64] | None:
        if noise.size < 2 * _FRAME:
            return None
        starts = range(0, noise.size - _FRAME + 1, _HOP)
        frames = np.stack([noise[at : at + _FRAME] for at in starts]) * self._window
        found: NDArray[np.float64] = np.mean(np.abs(np.fft.rfft(frames)) ** 2, axis=0)
        return found

    def feed(self, pcm: bytes) -> bytes:
        """The next piece, cleaned; with too little noise to learn from, as it is."""
        if self._noise is None:
            return pcm
        pcm = self._odd + pcm
        self._odd = pcm[len(pcm) - len(pcm) % SAMPLE_BYTES :]
        self._waiting = np.concatenate([self._waiting, as_floats(pcm)])
        count = (self._waiting.size - _FRAME) // _HOP + 1
        if count < 1:
            return b""
        used = count * _HOP
        length = used - _HOP + _FRAME
        self._sum = np.concatenate([self._sum, np.zeros(max(0, length - self._sum.size))])
        self._weight = np.concatenate([self._weight, np.zeros(max(0, length - self._weight.size))])
        frames = np.stack([self._waiting[i * _HOP : i * _HOP + _FRAME] for i in range(count)]) * self._window
        cleaned = self._cleaned(frames, self._noise)
        square = self._window**2
        for i in range(count):
            self._sum[i * _HOP : i * _HOP + _FRAME] += cleaned[i] * self._window
            self._weight[i * _HOP : i * _HOP + _FRAME] += square
        self._waiting = self._waiting[used:]
        return self._given(used)

    def flush(self) -> bytes:
        """What is left at the end of an utterance; the noise is kept for the next."""
        if self._noise is None:
            return b""
        rest = self._waiting.size
        self._odd = b""
        out = self.feed(bytes(SAMPLE_BYTES * _FRAME))
        self._waiting = np.zeros(0)
        self._sum = np.zeros(0)
        self._weight = np.zeros(0)
        return out[: SAMPLE_BYTES * rest]

    def _cleaned(self, frames: NDArray[np.float64], noise: NDArray[np.float64]) -> NDArray[np.float64]:
        spectra = np.fft.rfft(frames)
        kept = np.maximum(1 - _OVER_SUBTRACTION * noise / (np.abs(spectra) ** 2 + 1e-12), _FLOOR**2)
        gain = np.sqrt(kept)
        padded = np.pad(gain, ((0, 0), (1, 1)), mode="edge")
        smooth = (padded[:, :-2] + padded[:, 1:-1] + padded[:, 2:]) / 3
        found: NDArray[np.float64] = np.fft.irfft(spectra * smooth, n=_FRAME)
        return found

    def _given(self, used: int) -> bytes:
        out = self._sum[:used] / np.maximum(self._weight[:used], 1e-3)
        self._sum, self._weight = self._sum[used:], self._weight[used:]
        return as_pcm(out)
