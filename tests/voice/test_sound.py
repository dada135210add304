"""Sound files as 16 kHz mono, levels, and noise taken away."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np
import pytest

from cabassist.errors import FileProblem
from cabassist.voice.heard import RATE
from cabassist.voice.sound import Denoiser, as_floats, as_pcm, level, read_sound


def tone(hertz: float, duration: float, rate: int = RATE) -> np.ndarray:
    """A sine at half of full scale."""
    return 0.5 * np.sin(2 * np.pi * hertz * np.arange(int(duration * rate)) / rate)


def write(path: Path, channels: list[np.ndarray], rate: int, width: int = 2) -> Path:
    """A WAV file."""
    both = np.stack(channels, axis=1)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(len(channels))
        file.setsampwidth(width)
        file.setframerate(rate)
        body = (both * 32767).astype("<i2") if width == 2 else ((both + 1) * 127).astype(np.uint8)
        file.writeframes(body.tobytes())
    return path


def loudest_hertz(pcm: bytes) -> float:
    """The frequency that is strongest."""
    samples = as_floats(pcm)
    return float(np.argmax(np.abs(np.fft.rfft(samples))) * RATE / samples.size)


@pytest.mark.parametrize(("rate", "width"), [(8000, 2), (16000, 2), (22050, 2), (44100, 2), (48000, 2), (16000, 1)])
def test_any_rate_and_width_becomes_16_khz(tmp_path: Path, rate: int, width: int):
    """The pitch stays, and so does the length."""
    pcm = read_sound(write(tmp_path / "a.wav", [tone(440, 1.0, rate)], rate, width))

    assert len(pcm) / 2 / RATE == pytest.approx(1.0, abs=0.01)
    assert loudest_hertz(pcm) == pytest.approx(440, abs=3)


def test_stereo_becomes_mono(tmp_path: Path):
    """What stands on one side only is heard at half its size."""
    left = tone(440, 0.5)
    pcm = read_sound(write(tmp_path / "a.wav", [left, np.zeros_like(left)], RATE))

    assert len(pcm) == 2 * left.size
    assert np.abs(as_floats(pcm)).max() == pytest.approx(0.25, abs=0.02)


@pytest.mark.parametrize("body", [b"", b"RIFF", b"not a sound at all" * 100, b"RIFF\xff\xff\xff\xffWAVEfmt \x10\0\0\0"])
def test_what_is_no_sound_is_named(tmp_path: Path, body: bytes):
    """The message names the file and what to give instead."""
    path = tmp_path / "bad.wav"
    path.write_bytes(body)

    with pytest.raises(FileProblem, match=r"bad\.wav.*Give a WAV"):
        read_sound(path)


def test_a_missing_file_is_named(tmp_path: Path):
    with pytest.raises(FileProblem, match=r"none\.wav.*No such file"):
        read_sound(tmp_path / "none.wav")


def test_level_tells_silence_and_clipping():
    """Full-scale square waves are clipped, silence is as quiet as it gets."""
    square = as_pcm(np.sign(tone(100, 0.5)))

    assert level(b"").loudness == -100
    assert level(bytes(3200)).peak == -100
    assert level(square).clipped > 0.9
    assert level(as_pcm(tone(100, 0.5))).clipped == 0
    assert level(as_pcm(tone(100, 0.5))).loudness == pytest.approx(-9.03, abs=0.05)  # 0.5 / √2


@pytest.mark.parametrize("block", [100, 1024, 7777, 1_000_000])
def test_noise_goes_and_the_voice_stays(block: int):
    """In blocks of any length the same comes out as in one piece, as long as what went in."""
    dice = np.random.default_rng(4)
    noise = dice.normal(0, 0.02, 3 * RATE)
    whole = noise[RATE:].copy()
    whole[RATE // 2 : RATE] += tone(600, 0.5)
    pcm = as_pcm(whole)
    denoiser = Denoiser(as_pcm(noise[:RATE]))
    out = b"".join(denoiser.feed(pcm[at : at + block]) for at in range(0, len(pcm), block)) + denoiser.flush()
    cleaned = as_floats(out)

    assert len(out) == len(pcm)
    assert np.std(cleaned[RATE + 2000 :]) < 0.5 * np.std(whole[RATE + 2000 :])
    assert np.std(cleaned[RATE // 2 : RATE]) == pytest.approx(np.std(whole[RATE // 2 : RATE]), rel=0.05)


def test_without_noise_to_learn_from_nothing_is_changed():
    pcm = as_pcm(tone(440, 0.3))
    denoiser = Denoiser(b"")

    assert denoiser.feed(pcm) + denoiser.flush() == pcm
