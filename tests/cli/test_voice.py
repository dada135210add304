"""`cabassist voice` and its parts, without a sound card."""

from __future__ import annotations

import hashlib
import wave
import zipfile
from pathlib import Path

import numpy as np
import pytest

from cabassist import places
from cabassist.errors import VoiceUnavailable
from cabassist.journal import Journal
from cabassist.voice.sound import read_sound

from .conftest import Run, json_of

SOUNDS = Path(__file__).parents[1] / "data" / "voice"
needs_engine = pytest.importorskip("pocketsphinx")


@pytest.fixture(autouse=True)
def no_sound_card(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same everywhere: no microphone and no loudspeaker."""
    monkeypatch.setattr("cabassist.voice.microphone._captures", list)

    def silent(**_: object) -> None:
        raise VoiceUnavailable("There is no loudspeaker.")

    monkeypatch.setattr("cabassist.voice.speaking.open_speaker", silent)


def written(path: Path, *pieces: bytes) -> Path:
    """A WAV file of pieces of sound, with silence around each."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(16_000)
        file.writeframes(bytes(16_000) + bytes(32_000).join(pieces) + bytes(48_000))
    return path


def test_a_file_is_written_down(run: Run):
    result = run("voice", "transcribe", str(SOUNDS / "waste-forty.flac"))

    assert result.exit_code == 0
    assert "forty percent" in result.stdout


def test_as_json_with_the_original_and_the_confidence(run: Run):
    body = json_of(run("voice", "transcribe", "--json", str(SOUNDS / "gas.flac")).stdout)
    (found,) = body["utterances"]

    assert found["original"]
    assert 0 <= found["confidence"] <= 1
    assert "i smell gas" in found["hazards"]


def test_stereo_at_another_rate_is_heard_too(run: Run, tmp_path: Path):
    samples = np.frombuffer(read_sound(SOUNDS / "waste-forty.flac"), "<i2")
    with wave.open(str(tmp_path / "s.wav"), "wb") as file:
        file.setnchannels(2)
        file.setsampwidth(2)
        file.setframerate(48_000)
        file.writeframes(np.repeat(np.repeat(samples, 3), 2).tobytes())

    assert "forty percent" in run("voice", "transcribe", str(tmp_path / "s.wav")).stdout


def test_silence_is_said_to_be_silence(run: Run, tmp_path: Path):
    result = run("voice", "transcribe", str(written(tmp_path / "s.wav", b"")))

    assert result.exit_code == 1
    assert "No speech was heard." in result.stderr


@pytest.mark.parametrize("body", [None, b"", b"RIFFnonsense"])
def test_a_file_that_is_no_sound_is_named(run: Run, tmp_path: Path, body: bytes | None):
    path = tmp_path / "bad.wav"
    if body is not None:
        path.write_bytes(body)
    result = run("voice", "transcribe", str(path))

    assert result.exit_code == 2
    assert "bad.wav" in result.stderr


def test_a_conversation_from_a_sound_file(run: Run, tmp_path: Path):
    """Asked, stepped on and a reading stored; all of it shown, and on record with what the recogniser wrote."""
    pieces = [read_sound(SOUNDS / f"{name}.flac") for name in ("waste-forty", "gas")]
    sound = written(tmp_path / "talk.wav", *pieces)
    result = run("voice", "--always", "--mute", "--sound", str(sound))

    assert result.exit_code == 0
    assert "at forty percent" in result.stdout
    assert "DANGER" in result.stdout
    with Journal(places.journal_file()) as journal:
        assert [e.payload["value"] for e in journal.read(kind="reading")] == [40.0]
        assert [e.payload["action"] for e in journal.read(kind="heard")] == ["act", "act"]


def test_without_a_microphone_it_goes_on_in_text(run: Run):
    """Once said, and what is typed is answered and kept."""
    result = run("voice", text="how do I dump the waste tank\nnext\nquit\n")

    assert result.exit_code == 0
    assert result.stderr.count("No microphone found.") == 1
    assert "Step 2" in result.stdout
    with Journal(places.journal_file()) as journal:
        assert len(list(journal.read(kind="said"))) == 2


def test_without_a_loudspeaker_answers_are_text(run: Run, tmp_path: Path):
    sound = written(tmp_path / "talk.wav", read_sound(SOUNDS / "waste-forty.flac"))
    result = run("voice", "--always", "--sound", str(sound))

    assert result.exit_code == 0
    assert result.stderr.count("There is no loudspeaker.") == 1
    assert "40" in result.stdout


def test_check_names_what_to_mend(run: Run):
    result = run("voice", "check", "--json")
    checks = {row["part"]: row for row in json_of(result.stdout)["checks"]}

    assert result.exit_code == 1
    assert not checks["microphone"]["works"]
    assert "--device" in checks["microphone"]["about"]
    assert checks["pocketsphinx"]["works"]
    assert not checks["speaker"]["works"]


def test_a_model_is_added(run: Run, tmp_path: Path):
    archive = tmp_path / "small.zip"
    with zipfile.ZipFile(archive, "w") as made:
        made.writestr("small-en/am/final.mdl", b"x" * 100)
    digest = hashlib.sha256(archive.read_bytes()).hexdigest()
    body = json_of(run("voice", "model", "add", "--json", "--sha256", digest, str(archive)).stdout)
    refused = run("voice", "model", "add", "--sha256", "0" * 64, str(archive))

    assert (body["kind"], body["sha256"]) == ("vosk", digest)
    assert Path(body["folder"]).is_dir()
    assert refused.exit_code == 2
    assert digest in refused.stderr
