"""Adding a model: from a folder, an archive or an address, safely.

What comes from outside is not trusted: an archive may name paths outside its folder, hold links, or unpack to more than
the disk. Nothing appears among the models before all of it is there and looks like a model.
"""

from __future__ import annotations

import contextlib
import hashlib
import lzma
import os
import shutil
import stat
import tarfile
import tempfile
import urllib.error
import urllib.parse
import urllib.request
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Literal

from cabassist.errors import FileProblem, VoiceUnavailable
from cabassist.voice.models import looks_like_whisper, sha256_of, store
from cabassist.voice.vosk import looks_like_model

MAX_UNPACKED = 6_000_000_000
"""Bytes; the largest published vosk models unpack to about 4 GB."""
MAX_FILES = 20_000
MAX_RATIO = 60
"""Unpacked size over packed size; models hardly shrink, bombs do."""
TIMEOUT = 30.0
_BLOCK = 1 << 20
_DAMAGED = (
    zipfile.BadZipFile,
    tarfile.TarError,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    NotImplementedError,  # a way of packing that is not known here
    RuntimeError,  # a password is needed
    ValueError,
)

Kind = Literal["vosk", "whisper"]
Progress = Callable[[int, int | None], None]
"""Told the bytes done so far, and of how many when that is known."""


@dataclass(frozen=True)
class Added:
    """A model that now stands among the others. `sha256` is that of the archive, None for a folder."""

    kind: Kind
    folder: Path
    size: int
    sha256: str | None


def add_model(
    source: str,
    data: Path,
    *,
    sha256: str | None = None,
    progress: Progress = lambda done, of: None,
    max_unpacked: int = MAX_UNPACKED,
) -> Added:
    """Put the model at `source`, a folder, a zip or tar file, or an http(s) address, into the data folder.

    A download that was broken off goes on where it stopped. With `sha256` an archive that differs is refused.

    Raises:
        FileProblem: the source cannot be read, is no archive, is hostile or too large, or the disk is full.
        VoiceUnavailable: it holds no model of a known kind, or its SHA-256 is another.
    """
    scheme = urllib.parse.urlparse(source).scheme
    with _guarded(source):
        store(data).mkdir(parents=True, exist_ok=True)
        if scheme in ("http", "https"):
            return _from_archive(_fetched(source, data, progress), data, sha256, max_unpacked, keep=False)
        path = Path(source).expanduser()
        if path.is_dir():
            if sha256:
                raise VoiceUnavailable("A folder has no SHA-256 of its own. Give the archive, or leave --sha256 out.")
            return _from_folder(path, data)
        if not path.is_file():
            raise FileProblem(source, "is no folder, no file and no web address.", "Check how it is written.")
        return _from_archive(path, data, sha256, max_unpacked, keep=True)


@contextlib.contextmanager
def _guarded(source: str) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise FileProblem(
            source, f"cannot be added ({error.strerror or error}).", "Check it and free some space."
        ) from None


# -- fetching -----------------------------------------------------------------------------------


def _fetched(address: str, data: Path, progress: Progress) -> Path:
    """The file at an address, downloaded or finished from where an earlier download stopped."""
    name = hashlib.sha256(address.encode()).hexdigest()[:16]
    part = store(data) / f"{name}.part"
    have = part.stat().st_size if part.exists() else 0
    request = urllib.request.Request(address, headers={"Range": f"bytes={have}-"} if have else {})
    try:
        with urllib.request.urlopen(request, timeout=TIMEOUT) as answer:
            resumed = have > 0 and answer.status == 206
            length = answer.headers.get("Content-Length")
            done = have if resumed else 0
            whole = int(length) + done if length and length.isdigit() else None
            if whole is not None and whole > MAX_UNPACKED:
                raise FileProblem(address, "is too large for a model.", "Check the address.")
            with part.open("ab" if resumed else "wb") as out:
                done = _copied(answer, out, done, whole, address, progress)
    except urllib.error.HTTPError as error:
        if error.code == 416 and have:  # the earlier download was already whole
            return part
        raise FileProblem(address, f"was refused ({error.code} {error.reason}).", "Check the address.") from None
    except (urllib.error.URLError, TimeoutError, ValueError) as error:
        reason = getattr(error, "reason", error)
        raise FileProblem(address, f"cannot be reached ({reason}).", "Run the same command again to go on.") from None
    if whole is not None and done < whole:
        raise FileProblem(address, "broke off.", "Run the same command again to go on from there.")
    return part


def _copied(source: IO[bytes], out: IO[bytes], done: int, whole: int | None, address: str, progress: Progress) -> int:
    while block := source.read(_BLOCK):
        out.write(block)
        done += len(block)
        if done > MAX_UNPACKED:
            raise FileProblem(address, "is too large for a model.", "Check the address.")
        progress(done, whole)
    return done


# -- unpacking ----------------------------------------------------------------------------------


def _from_archive(path: Path, data: Path, sha256: str | None, bound: int, *, keep: bool) -> Added:
    digest = sha256_of(path)
    if sha256 is not None and digest != sha256.strip().lower():
        if not keep:
            path.unlink()
        raise VoiceUnavailable(f"The SHA-256 is {digest}, not {sha256}. The model was not added. Fetch it again.")
    with tempfile.TemporaryDirectory(dir=store(data), prefix=".unpacking-") as folder:
        target = Path(folder)
        try:
            if zipfile.is_zipfile(path):
                _unzip(path, target, bound)
            elif tarfile.is_tarfile(path):
                _untar(path, target, bound)
            else:
                raise FileProblem(path, "is neither a zip nor a tar archive.", "Give the archive as it was published.")
        except _DAMAGED as error:
            raise FileProblem(path, f"is damaged ({error}).", "Fetch it again.") from None
        added = _from_folder(target, data, name=path.stem if keep else None, move=True)
    if not keep:
        path.unlink(missing_ok=True)
    return Added(added.kind, added.folder, added.size, digest)


def safe_path(name: str, target: Path, archive: Path) -> Path:
    """Where a member of an archive goes. Raises FileProblem for one that would leave the folder."""
    pure = PurePosixPath(name.replace("\\", "/"))
    if pure.is_absolute() or ".." in pure.parts or (pure.parts and ":" in pure.parts[0]) or "\0" in name:
        raise FileProblem(
            archive, f"names the path '{name}' outside its own folder.", "It was not unpacked. Do not use it."
        )
    return target / pure


class _Budget:
    """Counts what has been unpacked."""

    def __init__(self, archive: Path, bound: int) -> None:
        self._archive = archive
        self._left = min(bound, MAX_RATIO * max(archive.stat().st_size, 100_000))
        self._files = 0

    def file(self) -> None:
        """One more file."""
        self._files += 1
        if self._files > MAX_FILES:
            raise FileProblem(self._archive, "holds too many files for a model.", "It was not added.")

    def copy(self, source: IO[bytes], out: IO[bytes]) -> None:
        """Copy what is really there; the sizes that an archive states may be lies."""
        while block := source.read(_BLOCK):
            self._left -= len(block)
            if self._left < 0:
                raise FileProblem(self._archive, "unpacks to far more than a model holds.", "It was not added.")
            out.write(block)


def _unzip(path: Path, target: Path, bound: int) -> None:
    budget = _Budget(path, bound)
    with zipfile.ZipFile(path) as archive:
        for member in archive.infolist():
            goes = safe_path(member.filename, target, path)
            if stat.S_ISLNK(member.external_attr >> 16):
                raise FileProblem(path, f"holds the link '{member.filename}'.", "It was not unpacked. Do not use it.")
            budget.file()
            if member.is_dir():
                goes.mkdir(parents=True, exist_ok=True)
                continue
            goes.parent.mkdir(parents=True, exist_ok=True)
            with archive.open(member) as source, goes.open("xb") as out:
                budget.copy(source, out)


def _untar(path: Path, target: Path, bound: int) -> None:
    budget = _Budget(path, bound)
    with tarfile.open(path) as archive:
        for member in archive:
            goes = safe_path(member.name, target, path)
            budget.file()
            if member.isdir():
                goes.mkdir(parents=True, exist_ok=True)
                continue
            source = archive.extractfile(member) if member.isreg() else None
            if source is None:
                raise FileProblem(
                    path, f"holds the link or device '{member.name}'.", "It was not unpacked. Do not use it."
                )
            goes.parent.mkdir(parents=True, exist_ok=True)
            with goes.open("xb") as out:
                budget.copy(source, out)


# -- placing ------------------------------------------------------------------------------------


def _from_folder(folder: Path, data: Path, name: str | None = None, move: bool = False) -> Added:
    """Copy or move the model inside a folder, which may lie one or two levels down."""
    for found in (
        folder,
        *sorted(p for p in folder.glob("*") if p.is_dir()),
        *sorted(p for p in folder.glob("*/*") if p.is_dir()),
    ):
        kind: Kind | None = "vosk" if looks_like_model(found) else "whisper" if looks_like_whisper(found) else None
        if kind is None:
            continue
        called = found.name if found != folder or name is None else name
        goes = store(data) / kind / called
        goes.parent.mkdir(parents=True, exist_ok=True)
        if found.resolve() == goes.resolve():
            return Added(kind, goes, _size(goes), None)
        staged = goes.with_name(f".{called}.{os.getpid()}")
        try:
            if move:
                shutil.move(str(found), str(staged))
            else:
                shutil.copytree(found, staged, symlinks=False)
            shutil.rmtree(goes, ignore_errors=True)
            staged.replace(goes)
        finally:
            shutil.rmtree(staged, ignore_errors=True)
        os.utime(goes)
        return Added(kind, goes, _size(goes), None)
    raise VoiceUnavailable(
        f"{folder if not move else 'The archive'} holds neither a vosk model (am/final.mdl) nor a Whisper model for "
        "CTranslate2 (model.bin, config.json). Check that it is the right one."
    )


def _size(folder: Path) -> int:
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
