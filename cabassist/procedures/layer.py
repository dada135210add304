"""What a trainer has taught on top of the shipped knowledge: wordings and misheard words, in a folder of the user's own.

    trainer/wordings/<topic>.txt    one wording a line, meaning that topic
    trainer/misheard.txt            `heard = meant`, one a line
    trainer/proposed/...            the same, not yet accepted; only the trainer's commands look at it

The shipped knowledge is never written to, so an update loses nothing. A line that cannot be used (a topic that an update
renamed) is left out when a conversation starts, for a driver must not wait for a trainer's slip; `check` names it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from cabassist.errors import FileProblem, Problem

PROPOSED = "proposed"
MISHEARD = "misheard.txt"
MAX_WORDING = 200
_PAIR = re.compile(r"^\s*(?P<heard>[^=]+?)\s*=\s*(?P<meant>[^=]+?)\s*$")


@dataclass(frozen=True)
class Layer:
    """A trainer's layer: `wordings` as (text, topic), `misheard` by the word that was heard."""

    wordings: tuple[tuple[str, str], ...] = ()
    misheard: tuple[tuple[str, str], ...] = ()

    @property
    def fingerprint(self) -> str:
        """Changes with the wordings."""
        return hashlib.blake2b(repr(self.wordings).encode(), digest_size=10).hexdigest()

    def __or__(self, other: Layer) -> Layer:
        """Both together; where they disagree, `other` wins."""
        wordings = dict(self.wordings) | dict(other.wordings)
        misheard = dict(self.misheard) | dict(other.misheard)
        return Layer(tuple(sorted(wordings.items())), tuple(sorted(misheard.items())))

    def __bool__(self) -> bool:
        return bool(self.wordings or self.misheard)


def read_layer(folder: Path, topics: Mapping[str, object]) -> tuple[Layer, list[Problem]]:
    """The layer in a folder, and what in it cannot be used; an absent folder is an empty layer."""
    if not folder.is_dir():
        return Layer(), []
    problems: list[Problem] = []
    wordings: dict[str, str] = {}
    for path in sorted((folder / "wordings").glob("*.txt")):
        name = f"{folder.name}/wordings/{path.name}"
        if path.stem not in topics:
            problems.append(Problem(name, 1, "", f"there is no procedure '{path.stem}'", "reference"))
            continue
        for number, line in _lines(path, name, problems):
            if len(line) > MAX_WORDING or not any(c.isalpha() for c in line):
                problems.append(Problem(name, number, "", f"must be words, at most {MAX_WORDING} characters", "length"))
            elif wordings.setdefault(line, path.stem) != path.stem:
                problems.append(Problem(name, number, "", f"already means '{wordings[line]}'", "claimed-twice"))
    misheard: dict[str, str] = {}
    path = folder / MISHEARD
    if path.exists():
        name = f"{folder.name}/{MISHEARD}"
        for number, line in _lines(path, name, problems):
            found = _PAIR.match(line)
            if found is None or len(line) > MAX_WORDING:
                problems.append(Problem(name, number, "", "must be written: heard = meant", "shape"))
            else:
                misheard[found["heard"].lower()] = found["meant"].lower()
    return Layer(tuple(sorted(wordings.items())), tuple(sorted(misheard.items()))), problems


def _lines(path: Path, name: str, problems: list[Problem]) -> Iterable[tuple[int, str]]:
    from cabassist.procedures.yamlfile import read_text

    try:
        text = read_text(path)
    except FileProblem as error:
        problems.append(Problem(name, 1, "", str(error), "file"))
        return []
    return [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1) if line.strip()]


def mended(text: str, misheard: Iterable[tuple[str, str]]) -> str:
    """A text with each misheard word replaced by what was meant; whole words only, longest first."""
    meant = dict(misheard)
    words = "|".join(re.escape(word) for word in sorted(meant, key=len, reverse=True))
    if not words:
        return text
    return re.sub(rf"(?<!\w)(?:{words})(?!\w)", lambda m: meant[m.group().lower()], text, flags=re.IGNORECASE)
