"""Whisper weights tuned to this trade, its numbers, engine noise and short windows.

What the tuning learned is kept as a small file beside the knowledge: for each matrix the two factors of a change of low rank
(Hu et al., "LoRA: low-rank adaptation of large language models", ICLR 2022), for each bias and norm the change itself. It
fits one set of weights, known by the SHA-256 of one of its matrices. The tuned weights are written once to the cache.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import struct
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, NamedTuple

import numpy as np
from numpy.typing import NDArray

TUNING = "hearing.npz"
"""Name of the file in the knowledge folder."""
KNOWN_BY = "encoder/conv1/weight"
"""The variable whose digest tells which weights a tuning fits."""
_HALF = 4
"""Number of the 16-bit floating-point type in a CTranslate2 file."""
_VERSION = 6


class Variable(NamedTuple):
    """A named array of a CTranslate2 model: its header as it stands in the file, its shape, type and bytes."""

    name: str
    header: bytes
    shape: tuple[int, ...]
    type: int
    body: bytes

    @property
    def values(self) -> NDArray[np.float32]:
        """The array of a 16-bit floating-point variable."""
        return np.frombuffer(self.body, np.float16).reshape(self.shape).astype(np.float32)


def variables(file: BinaryIO, only: str = "") -> tuple[bytes, Iterator[Variable]]:
    """What stands before the variables of a `model.bin`, and the variables one by one, or the `only` one asked for.

    Behind the last of them the file stands at its list of aliases. Raises ValueError for another version of the format.
    """
    begin = _taken(file, 4)
    if struct.unpack("<I", begin)[0] != _VERSION:
        raise ValueError("not a CTranslate2 model of version 6")
    begin += _name(file)[0] + _taken(file, 4)
    count = _taken(file, 4)

    def each() -> Iterator[Variable]:
        for _ in range(struct.unpack("<I", count)[0]):
            raw, name = _name(file)
            axes = _taken(file, 1)
            sizes = _taken(file, 4 * axes[0])
            kind, length = _taken(file, 1), _taken(file, 4)
            size = struct.unpack("<I", length)[0]
            if only and name != only:
                file.seek(size, 1)
                continue
            body = _taken(file, size)
            shape = struct.unpack(f"<{axes[0]}I", sizes)
            yield Variable(name, raw + axes + sizes + kind + length, shape, kind[0], body)

    return begin + count, each()


def _name(file: BinaryIO) -> tuple[bytes, str]:
    length = _taken(file, 2)
    body = _taken(file, struct.unpack("<H", length)[0])
    return length + body, body[:-1].decode("ascii")


def _taken(file: BinaryIO, size: int) -> bytes:
    body = file.read(size)
    if len(body) != size:
        raise ValueError("the model file ends too early")
    return body


def digest(variable: Variable) -> str:
    """SHA-256 of the bytes of a variable, in hexadecimal."""
    return hashlib.sha256(variable.body).hexdigest()


def fits(folder: Path, tuning: Path) -> bool:
    """Whether a tuning was learned on the weights of a folder."""
    try:
        with tuning.open("rb") as stored, np.load(stored) as learned, (folder / "model.bin").open("rb") as file:
            known = str(learned["fits"])
            return any(digest(v) == known for v in variables(file, KNOWN_BY)[1])
    except (OSError, ValueError, EOFError, KeyError, zipfile.BadZipFile):
        return False


def tuned(folder: Path, tuning: Path, cache: Path) -> Path:
    """The folder of the tuned weights, written to the cache when it is not there yet. Raises OSError or ValueError when it cannot be."""
    key = hashlib.sha256(tuning.read_bytes()).hexdigest()[:16]
    ready = cache / f"hearing-{key}"
    if (ready / "model.bin").is_file():
        return ready
    making = cache / f"hearing-{key}.{os.getpid()}"
    making.mkdir(parents=True, exist_ok=True)
    try:
        for path in folder.iterdir():
            if path.is_file() and path.name != "model.bin":
                shutil.copyfile(path, making / path.name)
        _write(folder / "model.bin", tuning, making / "model.bin")
        for old in cache.glob("hearing-*"):
            if old != making:
                shutil.rmtree(old, ignore_errors=True)
        making.rename(ready)
    finally:
        shutil.rmtree(making, ignore_errors=True)
    return ready


def _write(source: Path, tuning: Path, target: Path) -> None:
    """Copy weights one variable after another, changed by the tuning."""
    with np.load(tuning) as learned, source.open("rb") as file, target.open("wb") as out:
        begin, found = variables(file)
        out.write(begin)
        for variable in found:
            out.write(variable.header)
            out.write(_changed(variable, learned) if variable.type == _HALF else variable.body)
        shutil.copyfileobj(file, out)


def _changed(variable: Variable, learned: np.lib.npyio.NpzFile) -> bytes:
    name = variable.name
    if f"{name}:up" in learned:
        change = learned[f"{name}:up"].astype(np.float32) @ learned[f"{name}:down"].astype(np.float32)
    elif f"{name}:add" in learned:
        change = learned[f"{name}:add"].astype(np.float32)
    else:
        return variable.body
    return (variable.values + change.reshape(variable.shape)).astype(np.float16).tobytes()
