"""The Whisper engine: what it writes as words, and for real when its package and weights are installed."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist import places
from cabassist.errors import VoiceUnavailable
from cabassist.voice.models import whisper_model
from cabassist.voice.sound import read_sound
from cabassist.voice.whisper import Whisper, once, said

SOUNDS = Path(__file__).parents[1] / "data" / "voice"


@pytest.mark.parametrize(
    ("written", "words"),
    [
        (" Waste tank is at 40%.", "waste tank is at forty percent"),
        ("Go to step 5!", "go to step five"),
        ("It won't light.", "it won't light"),
        ("♪ (music) ♪", "music"),
        ("", ""),
    ],
)
def test_what_it_writes_becomes_words(written: str, words: str):
    assert said(written) == words


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("next step next step next step", "next step"),
        ("next step next step nex", "next step"),
        ("how do i empty the waste tank how do i", "how do i empty the waste tank"),
        ("next next", "next next"),
        ("waste is at five five percent", "waste is at five five percent"),
        ("is the fresh full or is the waste full", "is the fresh full or is the waste full"),
        ("", ""),
    ],
)
def test_what_begins_over_again_is_told_once(text: str, told: str):
    """Short windows make the weights repeat themselves; a driver's own doubled word stays."""
    assert once(text) == told


def test_a_folder_without_weights_is_named(tmp_path: Path):
    pytest.importorskip("faster_whisper", reason="pip install 'cabassist[voice-open]'")

    with pytest.raises(VoiceUnavailable, match="cannot be used"):
        Whisper(tmp_path)


def test_it_hears(tmp_path: Path):
    pytest.importorskip("faster_whisper", reason="pip install 'cabassist[voice-open]'")
    folder = whisper_model(places.data_folder())
    if folder is None:
        pytest.skip("no Whisper weights are installed")
    engine = Whisper(folder)
    engine.accept(read_sound(SOUNDS / "gas.flac"))
    found = engine.finish()
    engine.accept(bytes(64_000))
    silence = engine.finish()
    engine.close()

    assert "gas" in found.text
    assert found.alternatives
    assert all(other.confidence <= found.confidence for other in found.alternatives)
    assert found.confidence > 0.3
    assert silence.text == "" or silence.confidence < found.confidence
