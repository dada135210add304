"""Writing a file whole or not at all.

May import nothing of ours but errors.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from cabassist.errors import FileProblem


@contextmanager
def whole_file(path: Path, *, over: bool = False, advice: str = "Name another file.") -> Iterator[IO[str]]:
    """A text file to write into that takes its name only when all of it is written; its folder is made.

    Nothing is left behind when the writing ends early, and what stood there before stands.

    Args:
        path: where it goes.
        over: write over a file that is there.
        advice: what to do when it cannot be written, in a sentence; a full disk has its own.

    Raises:
        FileProblem: it is there already, or cannot be written.
    """
    if not over and os.path.exists(path):  # Path.exists raises where it may not look
        raise FileProblem(path, "exists already.", "Name a file that does not.")
    part = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with open(part, "w", encoding="utf-8", newline="\n") as file:
            yield file
        part.replace(path)
    except OSError as error:
        step = "Free some space." if error.errno == errno.ENOSPC else advice
        raise FileProblem(path, f"cannot be written ({error.strerror}).", step) from None
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def write_whole(path: Path, text: str, *, advice: str = "Name another file.") -> None:
    """Write a text file whole or not at all, over one that is there. Raises FileProblem."""
    with whole_file(path, over=True, advice=advice) as file:
        file.write(text)
