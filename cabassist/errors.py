"""Everything cabassist raises on purpose.

    CabassistError            base: a message for a person, ending in the next action
    ├── FileProblem           a file cannot be read or written; carries `path`
    ├── ContentProblems       a data file is wrong; carries a list of `Problem`
    ├── JournalError          the journal cannot be used as it stands
    │   ├── JournalTooNew     written by a newer cabassist
    │   ├── JournalBusy       another process holds it
    │   └── JournalDamaged    SQLite says the file is not sound
    ├── VoiceUnavailable      no engine, model, microphone or speaker; the conversation goes on in text
    └── UnknownName           an id nobody knows; carries `name` and `nearest`

The command line turns each of these into one clear line and exit code 2. A traceback that reaches
a driver is a fault of ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Problem:
    """One thing wrong in a data file, at a place a person can go to."""

    file: str
    line: int
    where: str
    message: str
    code: str = "invalid"

    def __str__(self) -> str:
        at = f"{self.where}: " if self.where else ""
        return f"{self.file}:{self.line}: {at}{self.message}"


class CabassistError(Exception):
    """A message for a person; `str()` of it is what they are shown."""


class FileProblem(CabassistError):
    """A file cannot be read or written."""

    def __init__(self, path: Path | str, what: str, next_step: str) -> None:
        self.path = str(path)
        super().__init__(f"{self.path}: {what} {next_step}")


class ContentProblems(CabassistError):
    """A data file holds something that is not allowed."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class JournalError(CabassistError):
    """The journal cannot be used as it stands."""


class JournalTooNew(JournalError):
    """The journal was written by a newer cabassist."""


class JournalBusy(JournalError):
    """Another process holds the journal's write lock."""


class JournalDamaged(JournalError):
    """SQLite reports that the journal's file is not sound."""


class VoiceUnavailable(CabassistError):
    """An engine, a model, a microphone or a speaker is missing or does not work here."""


class UnknownName(CabassistError):
    """An id nobody knows."""

    def __init__(self, kind: str, name: str, nearest: list[str], next_step: str) -> None:
        self.name = name
        self.nearest = nearest
        hint = f" Did you mean {', '.join(nearest)}?" if nearest else ""
        super().__init__(f"There is no {kind} called '{name}'.{hint} {next_step}")
