"""Compiled patterns that are kept from one run to the next.

Python compiles an expression anew in every process, and the few hundred that a first answer needs take a sixth of its
time. What the compiler of the standard library makes of an expression is a list of numbers; those are kept, and the
expression is made from them again. Python does not promise the way there, so whatever goes wrong with it (another
Python, a damaged file) only means that the expression is compiled as usual.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
import sys
import zipfile
from pathlib import Path
from typing import Any

import numpy as np

from cabassist.procedures.library import write_cache

MOST = 1500
"""Expressions that are kept: more than a long evening needs, of about 3 kB each."""

_Key = tuple[str, int]


class KeptPatterns:
    """The expressions kept in a folder, for this Python only. Pure lookups; `write` puts down what came new."""

    def __init__(self, folder: Path) -> None:
        """Read what the folder holds; a file that is missing or damaged holds nothing."""
        self.folder = folder
        self._path = folder / f"patterns-{_language()}.npz"
        self._rows: dict[_Key, dict[str, Any]] = {}
        self._code = np.zeros(0, np.uint32)
        self._new: dict[_Key, tuple[dict[str, Any], list[int]]] = {}
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError, EOFError, zipfile.BadZipFile):
            with np.load(io.BytesIO(self._path.read_bytes()), allow_pickle=False) as stored:
                rows = json.loads(bytes(stored["rows"]))
                self._code = stored["code"].astype(np.uint32, copy=False)
            self._rows = {(row["pattern"], row["asked"]): row for row in rows}

    def compiled(self, pattern: str, flags: int) -> re.Pattern[str]:
        """As re.compile. Raises re.error when the pattern is wrong."""
        row = self._rows.get((pattern, flags))
        if row is not None:
            with contextlib.suppress(Exception):  # a damaged row: anything may be wrong with it
                return _made_of(row, self._code[row["from"] : row["to"]].tolist())
        try:
            row, code = _taken_apart(pattern, flags)
            made = _made_of(row, code)
        except re.error:
            raise
        except Exception:  # a Python that compiles in another way
            return re.compile(pattern, flags)
        self._new[pattern, flags] = (row, code)
        return made

    def write(self) -> None:
        """Put down what was compiled since it was read, beside what was kept; nothing when there is nothing new."""
        if not self._new or len(self._rows) >= MOST:
            return
        rows, parts = list(self._rows.values()), [self._code]
        end = len(self._code)
        for row, code in self._new.values():
            rows.append({**row, "from": end, "to": end + len(code)})
            parts.append(np.array(code, np.uint32))
            end += len(code)
        body = io.BytesIO()
        np.savez(body, rows=np.array(json.dumps(rows).encode()), code=np.concatenate(parts))
        write_cache(self._path, body.getvalue(), "patterns-*.npz")
        self._new.clear()


def _language() -> str:
    """What a compiled expression depends on: the Python and the language of its search machine."""
    machine = getattr(getattr(re, "_compiler", None), "_sre", None)
    return f"{sys.implementation.cache_tag}-{sys.hexversion:x}-{getattr(machine, 'MAGIC', 0)}"


def _taken_apart(pattern: str, flags: int) -> tuple[dict[str, Any], list[int]]:
    compiler, parser = re._compiler, re._parser  # type: ignore[attr-defined]
    parsed = parser.parse(pattern, flags)
    code = compiler._code(parsed, flags)
    row = {
        "pattern": pattern,
        "asked": flags,
        "flags": flags | parsed.state.flags,
        "groups": parsed.state.groups - 1,
        "names": dict(parsed.state.groupdict),
    }
    return row, code


def _made_of(row: dict[str, Any], code: list[int]) -> re.Pattern[str]:
    names = dict(row["names"])
    by_number: list[str | None] = [None] * (row["groups"] + 1)
    for name, number in names.items():
        by_number[number] = name
    make = re._compiler._sre.compile  # type: ignore[attr-defined]
    made: re.Pattern[str] = make(row["pattern"], row["flags"], code, row["groups"], names, tuple(by_number))
    return made
