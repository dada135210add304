"""Tuned weights: a small model file made here by the published layout of CTranslate2, and the shipped tuning for real."""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import pytest

from cabassist import places
from cabassist.voice.models import whisper_model
from cabassist.voice.sound import read_sound
from cabassist.voice.tuning import KNOWN_BY, TUNING, digest, fits, tuned, variables
from cabassist.voice.whisper import Whisper

SOUNDS = Path(__file__).parents[1] / "data" / "voice"
ALIASES = struct.pack("<I", 1) + b"\x02\x00b\x00\x02\x00a\x00"


def name(text: str) -> bytes:
    body = text.encode() + b"\0"
    return struct.pack("<H", len(body)) + body


def array(text: str, values: np.ndarray, kind: int) -> bytes:
    sizes = struct.pack(f"<B{values.ndim}I", values.ndim, *values.shape)
    return name(text) + sizes + struct.pack("<BI", kind, values.nbytes) + values.tobytes()


KERNEL = np.arange(12, dtype=np.float16).reshape(2, 2, 3)
MATRIX = np.ones((2, 3), np.float16)
BIAS = np.array([1, 2], np.float16)
HEADS = np.array(6, np.int16)


@pytest.fixture
def weights(tmp_path: Path) -> Path:
    folder = tmp_path / "weights"
    folder.mkdir()
    (folder / "config.json").write_text("{}")
    arrays = [array("heads", HEADS, 2), array("linear/bias", BIAS, 4), array("linear/weight", MATRIX, 4), array(KNOWN_BY, KERNEL, 4)]  # fmt: skip
    begin = struct.pack("<I", 6) + name("WhisperSpec") + struct.pack("<II", 3, len(arrays))
    (folder / "model.bin").write_bytes(begin + b"".join(arrays) + ALIASES)
    return folder


@pytest.fixture
def tuning(tmp_path: Path, weights: Path) -> Path:
    with (weights / "model.bin").open("rb") as file:
        known = next(digest(v) for v in variables(file)[1] if v.name == KNOWN_BY)
    changes = {
        "linear/weight:up": np.array([[1.0], [2.0]], np.float16),
        "linear/weight:down": np.array([[0.5, 0.0, -1.0]], np.float16),
        "linear/bias:add": np.array([0.25, 0.0], np.float16),
    }
    np.savez(tmp_path / TUNING, fits=known, **changes)
    return tmp_path / TUNING


def values(folder: Path) -> dict[str, np.ndarray]:
    with (folder / "model.bin").open("rb") as file:
        found = {v.name: v for v in variables(file)[1]}
        assert file.read() == ALIASES
    assert found["heads"].body == HEADS.tobytes()
    return {key: v.values for key, v in found.items() if v.type == 4}


def test_a_matrix_gets_the_product_of_its_factors_and_a_bias_its_change(tmp_path: Path, weights: Path, tuning: Path):
    made = values(tuned(weights, tuning, tmp_path / "cache"))

    assert np.array_equal(made["linear/weight"], [[1.5, 1, 0], [2, 1, -1]])
    assert np.array_equal(made["linear/bias"], [1.25, 2])
    assert np.array_equal(made[KNOWN_BY], KERNEL)


def test_the_weights_themselves_stay_and_the_tuned_ones_are_made_once(tmp_path: Path, weights: Path, tuning: Path):
    before = (weights / "model.bin").read_bytes()
    old = tmp_path / "cache" / "hearing-0123"
    old.mkdir(parents=True)
    first = tuned(weights, tuning, tmp_path / "cache")
    stamp = (first / "model.bin").stat().st_mtime_ns

    assert tuned(weights, tuning, tmp_path / "cache") == first
    assert (first / "model.bin").stat().st_mtime_ns == stamp
    assert (first / "config.json").read_text() == "{}"
    assert (weights / "model.bin").read_bytes() == before
    assert [path.name for path in (tmp_path / "cache").iterdir()] == [first.name]
    assert not old.exists()


def test_it_fits_the_weights_it_was_learned_on_only(tmp_path: Path, weights: Path, tuning: Path):
    assert fits(weights, tuning)
    body = (weights / "model.bin").read_bytes()
    (weights / "model.bin").write_bytes(body.replace(KERNEL.tobytes(), (KERNEL + 1).tobytes()))
    assert not fits(weights, tuning)
    assert not fits(weights, tmp_path / "missing.npz")
    for broken in (b"PK nothing", b"PK\x03\x04 nothing", b"", tuning.read_bytes()[:200]):
        (tmp_path / "broken.npz").write_bytes(broken)
        assert not fits(weights, tmp_path / "broken.npz")


@pytest.mark.parametrize("cut", [2, 9, 40, 90])
def test_a_file_that_ends_too_early_fits_nothing(weights: Path, tuning: Path, cut: int):
    body = (weights / "model.bin").read_bytes()
    (weights / "model.bin").write_bytes(body[:cut])
    assert not fits(weights, tuning)


def test_another_version_of_the_format_is_left_alone(weights: Path, tuning: Path):
    body = (weights / "model.bin").read_bytes()
    (weights / "model.bin").write_bytes(struct.pack("<I", 7) + body[4:])
    assert not fits(weights, tuning)


def test_the_shipped_tuning_hears_in_a_short_window(tmp_path: Path):
    pytest.importorskip("faster_whisper", reason="pip install 'cabassist[voice-open]'")
    folder, tuning = whisper_model(places.data_folder()), places.knowledge_folder() / TUNING
    if folder is None or not fits(folder, tuning):
        pytest.skip("the weights that the tuning fits are not installed")
    engine = Whisper(tuned(folder, tuning, tmp_path), tuned=True)
    heard = {}
    for clip in ("gas", "dump", "waste-forty"):
        engine.accept(read_sound(SOUNDS / f"{clip}.flac"))
        heard[clip] = engine.finish()
    engine.accept(bytes(64_000))
    silence = engine.finish()
    engine.close()

    assert "gas" in heard["gas"].text
    assert "dump" in heard["dump"].text or "empty" in heard["dump"].text
    assert "waste" in heard["waste-forty"].text
    assert "forty" in heard["waste-forty"].text
    assert silence.text == "" or silence.confidence < heard["gas"].confidence
