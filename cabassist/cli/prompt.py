"""The conversation at the prompt: guided demo on the first start, history, completion, timers that speak up."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta

import click

from cabassist import places
from cabassist.cli.shared import Given, now, open_journal, print_lines, safe
from cabassist.dialogue.session import Session, load_mind, restored
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY

LEAVE = frozenset({"quit", "exit", "bye", "goodbye", ":q", "q"})
RESUME_WITHIN = timedelta(hours=18)


def converse_at_prompt(given: Given, demo: bool | None) -> None:
    """Talk until the driver leaves."""
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    with open_journal(given.journal_file()) as journal:
        first = journal.count() == 0
        click.echo(f"cabassist, coach: {mind.coach.name}. Type help, or quit to leave.")
        if demo or (demo is None and first):
            play_demo(mind)
        session = Session(mind, journal, actor=given.actor)
        _offer_resume(session)
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
    from cabassist.procedures import yamlfile

    turns = yamlfile.load(mind.knowledge.folder / "guided-demo.yaml").data
    click.echo("A short demo first. Nothing in it is recorded.\n")
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal, actor="demo")
        for turn in turns:
            click.echo(f"# {turn['note']}\nyou> {turn['say']}")
            print_lines(session.hear(turn["say"], now()).show)
            click.echo("")
    click.echo("End of the demo. Now it is your turn.\n")


def _offer_resume(session: Session) -> None:
    """Put back a walk that was open when the last conversation ended, however it ended."""
    last = session.journal.last_session()
    if last is None:
        return
    said = [
        (str(e.payload["text"]), e.at)
        for e in session.journal.read(session=last, kind="said")
        if e.coach == session.mind.coach.id
    ]
    if not said or now() - said[-1][1] > RESUME_WITHIN:
        return
    trial = Session(session.mind, session.journal, actor=session.actor, name=last)
    restored(trial, said)
    walk = trial.state.walk
    if walk is None:
        return
    session.state, session.name = trial.state, last
    title = session.mind.knowledge.title(walk.topic)
    click.echo(f"You were at step {walk.number} of {len(walk.plan)}: {title}. Say resume, stop, or ask something else.")


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
