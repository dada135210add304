"""What every command shares: options, printing, errors that read like sentences."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

import click

from cabassist import places
from cabassist.errors import CabassistError, ContentProblems, FileProblem, JournalError, Problem
from cabassist.language.normalise import literal

ANSWERED, NOT_ANSWERED, MISUSE = 0, 1, 2
SIGNAL_STYLE = {
    "DANGER": {"bold": True, "reverse": True},
    "WARNING": {"bold": True},
    "CAUTION": {"bold": True},
    "NOTICE": {"underline": True},
}
"""Signal words stand out by weight as well as by being there; color alone tells nothing."""
_SIGNAL = re.compile(r"^(DANGER|WARNING|CAUTION|NOTICE):")


if TYPE_CHECKING:
    from cabassist.coach import Coach
    from cabassist.dialogue.session import Session
    from cabassist.dialogue.types import Mind
    from cabassist.journal import Journal


@dataclass
class Given:
    """What was given on the command line, or stands in the environment."""

    coach: Path | None
    journal: Path | None
    knowledge: Path | None
    actor: str

    def coach_file(self) -> Path:
        """The coach profile in use."""
        return self.coach or places.coach_file()

    def load_coach(self) -> Coach:
        """That profile. Raises ContentProblems naming file, line, field and what is allowed."""
        from cabassist.dialogue.session import load_coach

        return load_coach(self.coach_file(), places.cache_folder())

    def journal_file(self) -> Path:
        """The journal in use."""
        return self.journal or places.journal_file()

    def knowledge_folder(self) -> Path:
        """The knowledge in use."""
        return self.knowledge or places.knowledge_folder()


class Failure(click.ClickException):
    """An error of ours, shown as its own sentence, exit code 2."""

    exit_code = MISUSE

    def show(self, file: IO[Any] | None = None) -> None:
        """Print it to standard error."""
        click.echo(safe(self.format_message()), err=True)


safe = literal
"""A text as a terminal may print it."""


class Commands(click.Group):
    """A group that turns our errors into one clear message and never shows a traceback for them."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command."""
        try:
            return super().invoke(ctx)
        except CabassistError as error:
            raise Failure(str(error)) from None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which one is nearest."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from cabassist.procedures.library import nearest

            near = nearest(args[0], self.list_commands(ctx))
            hint = f" Did you mean {' or '.join(near)}?" if near else ""
            question = safe(" ".join(args)[:60])
            message = f'{safe(error.message)}{hint} To ask something, write: cabassist ask "{question}"'
            raise click.UsageError(message, ctx) from None


def terminal_can() -> bool:
    """Whether there is a terminal that can move its cursor."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return False
    return sys.platform == "win32" or os.environ.get("TERM", "dumb") not in ("", "dumb", "unknown")


def plain_output() -> bool:
    """Whether output must be free of color and weight."""
    return bool(os.environ.get("NO_COLOR")) or not sys.stdout.isatty()


def print_lines(lines: Iterable[str]) -> None:
    """Print reply lines; a signal word stands out."""
    for line in lines:
        found = _SIGNAL.match(line)
        if found and not plain_output():
            word = found.group(1)
            click.echo(click.style(f" {word} ", **SIGNAL_STYLE[word]) + safe(line[len(word) + 1 :]))
        else:
            click.echo(safe(line))


@contextmanager
def content_checked(as_json: bool) -> Iterator[None]:
    """Print the problems that a check finds as JSON, when that is asked for, and end with the code of misuse."""
    try:
        yield
    except ContentProblems as error:
        if not as_json:
            raise
        print_problems(error.problems)
        raise SystemExit(MISUSE) from None


def print_problems(problems: Iterable[Problem]) -> None:
    """Problems of content as JSON."""
    print_json([asdict(problem) for problem in problems])


def print_json(body: Any) -> None:
    """Print one JSON object."""
    click.echo(json.dumps(body, ensure_ascii=False, indent=2, default=str))


def _beside(text: str) -> None:
    click.echo(text, err=True)


def open_journal(path: Path | str, told: Callable[[str], None] = _beside) -> Journal:
    """The journal at `path`; one in memory when it cannot be used, and that is told: an answer must not wait for a file."""
    from cabassist.journal import Journal
    from cabassist.journal.store import IN_MEMORY

    try:
        return Journal(path)
    except (JournalError, FileProblem) as error:
        told(f"{error}\nGoing on without a record.")
        return Journal(IN_MEMORY)


def remembering(given: Given, mind: Mind, journal: Journal, at: datetime) -> Session:
    """A session for one question, which knows the readings of this coach."""
    from cabassist.dialogue.recall import recalled
    from cabassist.dialogue.session import Session

    session = Session(mind, journal, actor=given.actor)
    session.state = replace(session.state, stored=recalled(journal, mind.coach.id, at))
    return session


def now() -> datetime:
    """The clock of the command line."""
    return datetime.now().astimezone()


def parse_time(text: str) -> datetime:
    """A time as ISO 8601; one without a zone is local. Raises ValueError."""
    found = datetime.fromisoformat(text)
    if not 1970 <= found.year <= 9000:
        raise ValueError("the year must lie between 1970 and 9000")
    return found if found.tzinfo else found.astimezone()


json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
