"""`cabassist review assign|misheard|draft|check|diff|replay|accept|discard`: from what needs work to what is mended."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from cabassist import places
from cabassist.cli.journal import counted, existing
from cabassist.cli.shared import ANSWERED, NOT_ANSWERED, Given, json_option, now, print_json, safe

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind
    from cabassist.journal import Journal
    from cabassist.review.replaying import Replayed
    from cabassist.review.workshop import Workshop

REPLAYED = 300
"""Sessions that a replay takes unless more are asked for, newest first."""


@click.command()
@click.argument("row")
@click.argument("topic")
@click.option("--only", multiple=True, help="Only this wording of the row; may be given several times.")
@click.pass_obj
def assign(given: Given, row: str, topic: str, only: tuple[str, ...]) -> None:
    """Propose that the wordings of ROW mean TOPIC. ROW is a key of `needs`, or a wording in quotes.

    Nothing changes for drivers before it is accepted.
    """
    from cabassist.cli.review import mind_of, need_of
    from cabassist.review.workshop import Workshop

    mind = mind_of(given)
    workshop = Workshop(places.trainer_folder(), mind)
    wordings = [row]
    if " " not in row:
        with existing(given) as journal:
            wordings = list(need_of(journal, mind, row).wordings)
    for wording in only or wordings:
        before = workshop.propose_wording(wording, topic)
        over = f" (it wins over the shipped {before})" if before else ""
        click.echo(safe(f"Proposed: '{wording}' means {topic}{over}."))
    click.echo("Look at it with `cabassist review diff`, try it with `cabassist review replay`.")


@click.command()
@click.argument("heard")
@click.argument("meant")
@click.pass_obj
def misheard(given: Given, heard: str, meant: str) -> None:
    """Propose that the word HEARD is MEANT, whenever it is heard."""
    from cabassist.cli.review import mind_of
    from cabassist.review.workshop import Workshop

    Workshop(places.trainer_folder(), mind_of(given)).propose_misheard(heard, meant)
    click.echo(safe(f"Proposed: '{heard}' is '{meant}'. Try it with `cabassist review replay`."))


@click.command()
@click.argument("row")
@click.argument("name", metavar="ID")
@click.option("--system", required=True, help="Folder of the knowledge it belongs to, for example water.")
@click.option("--title", required=True, help="Names the act or the sign, no full stop.")
@click.pass_obj
def draft(given: Given, row: str, name: str, system: str, title: str) -> None:
    """Begin a new procedure ID from a template, with the wordings of ROW, or with none when ROW is '-'."""
    from cabassist.cli.review import mind_of, need_of
    from cabassist.review.drafts import draft as drafted

    asks: list[str] = []
    if row != "-":
        mind = mind_of(given)
        with existing(given) as journal:
            asks = list(need_of(journal, mind, row).wordings)
    path = drafted(places.trainer_folder(), name, system, title, asks, given.knowledge_folder())
    click.echo(safe(f"{path}\nFill it in, then run `cabassist review check`."))


@click.command()
@click.pass_obj
def check(given: Given) -> None:
    """Check all of your own: wordings, misheard words and drafts. Exit code 0: nothing is wrong."""
    from cabassist.cli.review import mind_of
    from cabassist.review.drafts import check_drafts
    from cabassist.review.workshop import Workshop

    mind = mind_of(given)
    folder = places.trainer_folder()
    problems = [*Workshop(folder, mind).problems(), *check_drafts(folder, mind)]
    for problem in problems:
        click.echo(safe(str(problem)))
    click.echo(f"{counted(len(problems), 'problem')} found in {safe(str(folder))}.")
    raise SystemExit(NOT_ANSWERED if problems else ANSWERED)


@click.command()
def diff() -> None:
    """What accepting the proposals would change, as a diff."""
    from cabassist.review.workshop import diff as differences

    click.echo(safe(differences(places.trainer_folder())) or "Nothing is proposed.")


@click.command()
@click.option("--sessions", default=REPLAYED, show_default=True, type=click.IntRange(1), help="How many, newest first.")
@json_option
@click.pass_obj
def replay(given: Given, sessions: int, as_json: bool) -> None:
    """Try the proposals on old sessions: what would be answered differently, better or worse.

    Exit code 0: nothing gets worse. 1: something does.
    """
    from cabassist.cli.review import mind_of
    from cabassist.review.workshop import Workshop

    mind = mind_of(given)
    with existing(given) as journal:
        found = _replayed(journal, mind, Workshop(places.trainer_folder(), mind), sessions)
    if as_json:
        print_json(_as_json(found))
    else:
        _print(found)
    raise SystemExit(NOT_ANSWERED if found.count("worse") else ANSWERED)


def with_proposed(mind: Mind, workshop: Workshop) -> Mind:
    """The mind as it would be if everything proposed were accepted."""
    from cabassist.language.taught import TaughtMatcher, with_taught

    layer = workshop.accepted() | workshop.proposed()
    base = mind.matcher.base if isinstance(mind.matcher, TaughtMatcher) else mind.matcher
    return replace(mind, matcher=with_taught(base, layer, None), misheard=layer.misheard)


def _replayed(journal: Journal, mind: Mind, workshop: Workshop, sessions: int) -> Replayed:
    from cabassist.language.normalise import bare
    from cabassist.review.conversation import conversations, latest_sessions
    from cabassist.review.marks import marks
    from cabassist.review.replaying import replayed

    taught = {bare(text): topic for text, topic in workshop.proposed().wordings}
    told = conversations(journal, latest_sessions(journal, sessions))
    return replayed(told, mind, with_proposed(mind, workshop), marks(journal), taught)


def _print(found: Replayed) -> None:
    for row in found.differences:
        click.echo(safe(f"{row.judged.upper():<6} {row.session}: {row.text}"))
        click.echo(safe(f"       was: {row.before}\n       now: {row.after}\n       {row.why}"))
    if found.followed:
        click.echo(
            f"{counted(found.followed, 'later turn')} would go on differently because of these; "
            f"{found.found_their_step} of them led nowhere before and are a step now."
        )
    click.echo(
        f"{counted(found.sessions, 'session')}, {counted(found.turns, 'turn')}: {found.count('better')} better, "
        f"{found.count('worse')} worse, {found.count('look')} to be looked at."
    )


def _as_json(found: Replayed) -> dict[str, Any]:
    rows = [{**vars(row), "before": str(row.before), "after": str(row.after)} for row in found.differences]
    counts = {judged: found.count(judged) for judged in ("better", "worse", "look")}
    return {
        "sessions": found.sessions,
        "turns": found.turns,
        **counts,
        "followed": found.followed,
        "found_their_step": found.found_their_step,
        "differences": rows,
    }


@click.command()
@click.option("--anyway", is_flag=True, help="Also when the replay finds something worse.")
@click.option("--sessions", default=REPLAYED, show_default=True, type=click.IntRange(1), help="How many are replayed.")
@click.pass_obj
def accept(given: Given, anyway: bool, sessions: int) -> None:
    """Make the proposals count for drivers, after a replay in which nothing got worse."""
    from cabassist.cli.review import mind_of
    from cabassist.journal import EventDraft
    from cabassist.review.marks import note
    from cabassist.review.workshop import Workshop

    mind = mind_of(given)
    workshop = Workshop(places.trainer_folder(), mind)
    with existing(given) as journal:
        if not workshop.proposed():
            click.echo("Nothing is proposed.")
            raise SystemExit(NOT_ANSWERED)
        found = _replayed(journal, mind, workshop, sessions)
        _print(found)
        if found.count("worse") and not anyway:
            click.echo("Not accepted: something got worse. Mend the wording, discard it, or say --anyway.")
            raise SystemExit(NOT_ANSWERED)
        layer = workshop.accept()
        topics = sorted({topic for _, topic in layer.wordings})
        told = {
            "wordings": len(layer.wordings),
            "topics": topics,
            "misheard": len(layer.misheard),
            "worse": found.count("worse"),
        }
        note(journal, [EventDraft("taught", told)], at=now(), coach=mind.coach.id, by=given.actor)
    words = f"{counted(len(layer.wordings), 'wording')} and {counted(len(layer.misheard), 'misheard word')}"
    click.echo(f"Accepted: {words}. Drivers are answered with it from the next start on.")


@click.command()
def discard() -> None:
    """Forget what is proposed."""
    from cabassist.review.workshop import discard as forget

    forget(places.trainer_folder())
    click.echo("Nothing is proposed any more.")


COMMANDS = (assign, misheard, draft, check, diff, replay, accept, discard)
