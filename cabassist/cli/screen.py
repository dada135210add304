"""Opening the screen: when the terminal can show it, and what it is given."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime
from typing import TYPE_CHECKING

import click

from cabassist import places
from cabassist.cli.shared import Given, now, open_journal
from cabassist.screen.app import CabApp, Exchanged, Opened
from cabassist.screen.ear import Ear, NoEar
from cabassist.screen.hearing import Parts, VoiceEar, can_hear
from cabassist.screen.look import Look, wants_ascii

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind

NIGHT_FROM, NIGHT_UNTIL = 19, 7
"""Hours between which the dark colors come first."""


def converse_on_screen(given: Given, demo: bool | None) -> None:
    """Talk until the driver leaves. Raises CabassistError when the files in use are unusable."""
    app = CabApp(
        lambda: opened(given, demo),
        clock=now,
        look=Look(wants_ascii()),
        ear=_ear(given),
        night=is_night(now()),
        folder=places.data_folder(),
        profile_path=given.coach,
    )
    trouble = app.run()
    if trouble is not None:
        raise trouble
    click.echo("Goodbye. Everything said is in the journal.")


def _ear(given: Given) -> Ear:
    """The microphone, where the packages for it are installed."""
    return VoiceEar(lambda mind, told: parts_of(given, mind, told), now) if can_hear() else NoEar()


@contextmanager
def parts_of(given: Given, mind: Mind, told: Callable[[str], None]) -> Iterator[Parts]:
    """Microphone, recognisers and voice, closed again at the end.

    Args:
        given: the files in use.
        mind: for the words that are heard.
        told: told, in lines, what is missing while the rest goes on, and what takes long.

    Raises:
        CabassistError: there is no microphone or no recogniser.
    """
    from cabassist.cli.voice import repairer_of, setup_of, speaker_of
    from cabassist.voice.endpoint import Endpointer, Silero
    from cabassist.voice.microphone import DeviceMicrophone
    from cabassist.voice.turns import DEFAULT_TRIGGER
    from cabassist.voice.worker import Worker

    with ExitStack() as opened_parts:
        microphone = DeviceMicrophone()
        opened_parts.callback(microphone.close)
        worker = Worker(setup_of(given, DEFAULT_TRIGGER, told), told)
        opened_parts.callback(worker.close)
        speaker = speaker_of(None, told)
        if speaker is not None:
            opened_parts.callback(speaker.close)
        repairer = repairer_of(given, mind, DEFAULT_TRIGGER)
        yield Parts(microphone, worker, Endpointer(Silero()), speaker, repairer, DEFAULT_TRIGGER)


def is_night(moment: datetime) -> bool:
    """Whether it is likely dark in winter."""
    return moment.hour >= NIGHT_FROM or moment.hour < NIGHT_UNTIL


def opened(given: Given, demo: bool | None) -> Opened:
    """A session on the files in use, taken up where the last one ended. Called in a worker while the screen stands."""
    from cabassist.cli.prompt import demo_turns
    from cabassist.dialogue.resuming import take_up
    from cabassist.dialogue.session import Session, load_mind

    mind = load_mind(given.coach_file(), given.knowledge_folder())
    notes: list[str] = []
    journal = open_journal(given.journal_file(), lambda text: notes.extend(text.splitlines()))
    shown: list[Exchanged] = []
    if demo or (demo is None and journal.count() == 0):
        shown = [Exchanged("", ("A short demo first. Nothing in it is recorded.",))]
        shown += [Exchanged(said, lines, note) for note, said, lines in demo_turns(mind)]
        notes.append("End of the demo. Now it is your turn. F1 is help, PgUp shows the demo.")
    session = Session(mind, journal, actor=given.actor)
    offer = take_up(session, now())
    return Opened(session, tuple(filter(None, [*notes, offer])), tuple(shown))
