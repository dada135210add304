"""Opening the screen: when the terminal can show it, and what it is given."""

from __future__ import annotations

from datetime import datetime

import click

from cabassist import places
from cabassist.cli.shared import Given, now
from cabassist.screen.app import CabApp, Exchanged, Opened
from cabassist.screen.look import Look, wants_ascii

NIGHT_FROM, NIGHT_UNTIL = 19, 7
"""Hours between which the dark colors come first."""


def converse_on_screen(given: Given, demo: bool | None) -> None:
    """Talk until the driver leaves. Raises CabassistError when the files in use are unusable."""
    app = CabApp(
        lambda: opened(given, demo),
        clock=now,
        look=Look(wants_ascii()),
        night=is_night(now()),
        profile_path=given.coach or places.data_folder() / "coach.yaml",
        export_folder=places.data_folder(),
    )
    trouble = app.run()
    if trouble is not None:
        raise trouble
    click.echo("Goodbye. Everything said is in the journal.")


def is_night(moment: datetime) -> bool:
    """Whether it is likely dark in winter."""
    return moment.hour >= NIGHT_FROM or moment.hour < NIGHT_UNTIL


def opened(given: Given, demo: bool | None) -> Opened:
    """A session on the files in use, taken up where the last one ended. Called in a worker while the screen stands."""
    from cabassist.cli.prompt import demo_turns
    from cabassist.dialogue.resuming import take_up
    from cabassist.dialogue.session import Session, load_mind
    from cabassist.errors import FileProblem, JournalError
    from cabassist.journal import Journal
    from cabassist.journal.store import IN_MEMORY

    mind = load_mind(given.coach_file(), given.knowledge_folder())
    notes: list[str] = []
    try:
        journal = Journal(given.journal_file())
    except (JournalError, FileProblem) as error:  # an answer must not wait for a file
        journal = Journal(IN_MEMORY)
        notes += [str(error), "Going on without a record."]
    shown: list[Exchanged] = []
    if demo or (demo is None and journal.count() == 0):
        shown = [Exchanged("", ("A short demo first. Nothing in it is recorded.",))]
        shown += [Exchanged(said, lines, note) for note, said, lines in demo_turns(mind)]
        notes.append("End of the demo. Now it is your turn. F1 is help, PgUp shows the demo.")
    session = Session(mind, journal, actor=given.actor)
    offer = take_up(session, now())
    return Opened(session, tuple(filter(None, [*notes, offer])), tuple(shown))
