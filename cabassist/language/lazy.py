"""Patterns that are compiled when they are first used: most utterances need few of them, and a quick start matters."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cabassist.language.kept_patterns import KeptPatterns


class Lazy:
    """A regular expression like `re.compile(pattern, flags)`, compiled at its first use.

    A wrong pattern raises re.error then.
    """

    def __init__(self, pattern: str, flags: int = 0) -> None:
        self.pattern = pattern
        self._flags = flags

    @cached_property
    def _compiled(self) -> re.Pattern[str]:
        return _made(self.pattern, self._flags)

    def check(self) -> None:
        """Compile it now. Raises re.error when it is wrong."""
        _ = self._compiled

    def match(self, text: str) -> re.Match[str] | None:
        """As re.Pattern.match."""
        return self._compiled.match(text)

    def search(self, text: str) -> re.Match[str] | None:
        """As re.Pattern.search."""
        return self._compiled.search(text)

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """As re.Pattern.fullmatch."""
        return self._compiled.fullmatch(text)

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """As re.Pattern.finditer."""
        return self._compiled.finditer(text)

    def findall(self, text: str) -> list[str]:
        """As re.Pattern.findall."""
        return self._compiled.findall(text)

    def split(self, text: str) -> list[str]:
        """As re.Pattern.split, without groups."""
        return self._compiled.split(text)

    def sub(self, by: str, text: str, count: int = 0) -> str:
        """As re.Pattern.sub."""
        return self._compiled.sub(by, text, count=count)


@cache
def _made(pattern: str, flags: int) -> re.Pattern[str]:
    """Compiled once, also when written inside a function: the cache of `re` is too small for all of them."""
    kept = _Process.kept
    return kept.compiled(pattern, flags) if kept else re.compile(pattern, flags)


class _Process:
    """What holds for the whole process."""

    kept: KeptPatterns | None = None


def keep_patterns(folder: Path) -> None:
    """Take the compiled form of patterns from this folder from now on, for the whole process."""
    from cabassist.language.kept_patterns import KeptPatterns

    if _Process.kept is None or _Process.kept.folder != folder:  # read once, and nothing compiled since is forgotten
        _Process.kept = KeptPatterns(folder)


def write_patterns() -> None:
    """Put down what was compiled since then, for the next process."""
    if _Process.kept:
        _Process.kept.write()


def names_any(text: str, parts: tuple[str, ...]) -> bool:
    """Whether any of the parts stands in the text, also inside a word: a quick look before a pattern is tried."""
    return any(part in text for part in parts)
