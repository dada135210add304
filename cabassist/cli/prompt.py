"""The conversation at the prompt: guided demo on the first start, history, completion, timers that speak up."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from cabassist import places
from cabassist.cli.shared import Given, now, open_journal, print_lines, safe
from cabassist.dialogue.resuming import LEAVE, take_up
from cabassist.dialogue.session import Session, load_mind
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY


def converse_at_prompt(given: Given, demo: bool | None) -> None:
    """Talk until the driver leaves."""
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    with open_journal(given.journal_file()) as journal:
        first = journal.count() == 0
        click.echo(f"cabassist, coach: {mind.coach.name}. Type help, or quit to leave.")
        if demo or (demo is None and first):
            play_demo(mind)
        session = Session(mind, journal, actor=given.actor)
        offer = take_up(session, now())
        if offer:
            click.echo(offer)
        try:
            if sys.stdin.isatty() and sys.stdout.isatty():
                _interactive(session)
            else:
                _piped(session)
        except (EOFError, KeyboardInterrupt):
            pass
        click.echo("Goodbye. Everything said is in the journal.")


def play_demo(mind: Mind) -> None:
    """A short walk with the bundled coach; nothing of it is kept."""
    click.echo("A short demo first. Nothing in it is recorded.\n")
    for note, said, lines in demo_turns(mind):
        click.echo(f"# {note}\nyou> {said}")
        print_lines(lines)
        click.echo("")
    click.echo("End of the demo. Now it is your turn.\n")


def demo_turns(mind: Mind) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """The turns of the guided demo: a note, what is said, the answer's lines."""
    from cabassist.procedures import yamlfile

    turns = yamlfile.load(mind.knowledge.folder / "guided-demo.yaml").data
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal, actor="demo")
        for number, turn in enumerate(turns, 1):
            note = f"Demo, {number} of {len(turns)}: {turn['note']}"
            yield note, turn["say"], session.hear(turn["say"], now()).show


def _answer(session: Session, text: str) -> bool:
    """One turn; False when the driver leaves."""
    if text.strip().lower() in LEAVE:
        return False
    print_lines(session.hear(text, now()).show)
    return True


def _piped(session: Session) -> None:
    for raw in sys.stdin:
        text = raw.rstrip("\n")
        click.echo(safe(f"you> {text}"))
        if not _answer(session, text):
            return
        click.echo("")


def _interactive(session: Session) -> None:
    from prompt_toolkit import PromptSession
    from prompt_toolkit.auto_suggest import AutoSuggestFromHistory
    from prompt_toolkit.completion import FuzzyWordCompleter
    from prompt_toolkit.history import FileHistory, InMemoryHistory
    from prompt_toolkit.patch_stdout import patch_stdout

    knowledge = session.mind.knowledge
    words = [knowledge.title(name) for name in knowledge.ids] + [
        "next",
        "back",
        "repeat",
        "why",
        "how many left",
        "skip",
        "pause",
        "resume",
        "stop",
        "start over",
        "undo",
        "help",
        "quit",
    ]
    try:
        places.data_folder().mkdir(parents=True, exist_ok=True)
        history: FileHistory | InMemoryHistory = FileHistory(str(places.data_folder() / "history"))
    except OSError:
        history = InMemoryHistory()
    prompt: PromptSession[str] = PromptSession(
        history=history,
        auto_suggest=AutoSuggestFromHistory(),
        completer=FuzzyWordCompleter(words),
        complete_while_typing=False,
    )
    lock = threading.Lock()
    with patch_stdout(raw=True), _announcing(session, lock):
        while True:
            text = prompt.prompt("you> ")
            with lock:
                if not _answer(session, text):
                    return


@contextmanager
def _announcing(session: Session, lock: threading.Lock, say: Callable[[str], None] = click.echo) -> Iterator[None]:
    """Announce timers while the prompt waits."""
    ended = threading.Event()

    def watch() -> None:
        while not ended.wait(1.0):
            with lock:
                for announce in session.announcements(now()):
                    say(f"\a*** Timer: {announce}")

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        ended.set()
        watcher.join(2.0)
