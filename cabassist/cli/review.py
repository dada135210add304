"""`cabassist review ...`: sessions read again, and what needs work."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cabassist.cli.journal import counted, existing
from cabassist.cli.shared import Commands, Given, json_option, now, print_json, safe
from cabassist.errors import JournalError, UnknownName

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind
    from cabassist.journal import Journal
    from cabassist.review.conversation import Conversation, Turn, Walk
    from cabassist.review.marks import Mark
    from cabassist.review.needs import Gathering, Need


@click.group(cls=Commands)
def review() -> None:
    """For trainers: read sessions again, see what needs work, mend it, and see what drivers have learned.

    \b
    list, show          sessions, and one of them as a conversation
    needs               what needs work, worst first
    mark                say that an answer was right or wrong
    assign, misheard    propose what a wording or a word means
    diff, replay        look at what is proposed, and try it on old sessions
    accept, discard     make it count, or forget it
    draft, check        begin a new procedure; check all of your own
    sheet, quiz, sign-off    what a driver has been walked through and knows
    report              all of it as one page with charts
    """


def mind_of(given: Given) -> Mind:
    """Everything a turn knows, for these files."""
    from cabassist.dialogue.session import load_mind

    return load_mind(given.coach_file(), given.knowledge_folder())


@review.command("list")
@click.option("--last", default=30, show_default=True, type=click.IntRange(1), help="How many, newest first.")
@click.option("--all", "every", is_flag=True, help="All of them.")
@json_option
@click.pass_obj
def list_(given: Given, last: int, every: bool, as_json: bool) -> None:
    """List sessions, newest first."""
    from cabassist.review.conversation import conversations, latest_sessions

    with existing(given) as journal:
        names = latest_sessions(journal, None if every else last)
        told = {one.session: _summary(one) for one in conversations(journal, None if every else names)}
    rows = [told[name] for name in names if name in told]
    if as_json:
        print_json(rows)
        return
    click.echo(f"{'session':<24} {'begun':<16} {'min':>4} {'turns':>5} {'not':>4} {'asked':>5} {'haz':>4}  who; walks")
    for row in rows:
        walks = ", ".join(f"{w['topic']} {w['reached']}/{w['of']}" for w in row["walks"][:3])
        more = f" and {len(row['walks']) - 3} more" if len(row["walks"]) > 3 else ""
        click.echo(
            safe(
                f"{row['session']:<24} {row['begun'][:16]:<16} {row['minutes']:>4.0f} {row['turns']:>5} {row['unanswered']:>4} "
                f"{row['asked_back']:>5} {row['hazards']:>4}  {', '.join(row['actors'])}; {walks}{more}"
            )
        )
    click.echo(f"{counted(len(rows), 'session')}. not: not answered; asked: asked back; haz: hazards.")


def _summary(told: Conversation) -> dict[str, Any]:
    return {
        "session": told.session,
        "coach": told.coach,
        "begun": told.start.isoformat(),
        "minutes": round(told.minutes, 1),
        "actors": list(told.actors),
        "turns": len(told.turns),
        "unanswered": told.count("unknown"),
        "asked_back": told.count("clarify"),
        "hazards": told.count("hazard"),
        "walks": [_walk(walk) for walk in told.walks],
    }


def _walk(walk: Walk) -> dict[str, Any]:
    return {
        "topic": walk.topic,
        "by": walk.by,
        "ended": walk.ended,
        "reached": walk.reached,
        "of": walk.of,
        "seconds": {str(step): round(seconds) for step, seconds in sorted(walk.seconds.items())},
        "skipped": [{"step": step, "reason": reason} for step, reason in walk.skips],
        "asked_why": walk.whys,
        "repeated": walk.repeats,
        "cautions": walk.cautions,
        "cautions_passed_over": walk.cautions_passed,
    }


@review.command()
@click.argument("session")
@json_option
@click.pass_obj
def show(given: Given, session: str, as_json: bool) -> None:
    """Read one SESSION like a conversation."""
    from cabassist.review.marks import marks

    with existing(given) as journal:
        told = conversation_of(journal, session)
        marked = marks(journal)
    if as_json:
        turns = [
            {
                "turn": number, "at": t.at.isoformat(), "actor": t.actor, "text": t.text, "heard": t.heard or None,
                "kind": t.kind, "topic": t.topic, "confidence": t.confidence, "step": t.step, "say": t.say,
                "options": t.options or t.nearest, "moves": t.moves, "notes": t.notes, "taken": t.taken, "id": t.id,
                "mark": vars(m) if (m := marked.get((told.session, t.id))) else None,
            }
            for number, t in enumerate(told.turns, 1)
        ]  # fmt: skip
        print_json({**_summary(told), "said": turns})
        return
    click.echo(safe(f"{told.session}, coach {told.coach}, {told.start:%Y-%m-%d}, {told.minutes:.0f} minutes"))
    for number, turn in enumerate(told.turns, 1):
        for line in _lines(number, turn, marked.get((told.session, turn.id))):
            click.echo(safe(line))
    click.echo("")
    for walk in told.walks:
        click.echo(safe(_walk_line(walk)))


def conversation_of(journal: Journal, session: str) -> Conversation:
    """One session. Raises UnknownName with the nearest names."""
    from cabassist.procedures.library import nearest
    from cabassist.review.conversation import conversations, latest_sessions

    told = next(conversations(journal, [session]), None)
    if told is None:
        near = nearest(session, latest_sessions(journal, 500))
        raise UnknownName("session", session, near, "It may have been erased. See `cabassist review list`.")
    return told


def _lines(number: int, turn: Turn, mark: Mark | None) -> Iterable[str]:
    sure = f" {turn.confidence:.2f}" if turn.question else ""
    step = f", step {turn.step[0]} of {turn.step[1]}" if turn.step else ""
    yield f"\n#{number} {turn.at:%H:%M:%S} {turn.actor}: {turn.text}"
    if turn.heard:
        level = f" (confidence {turn.heard_confidence:.2f})" if turn.heard_confidence is not None else ""
        yield f"    heard: {turn.heard}{level}"
    if mark is not None and mark.said:
        yield f"    really said: {mark.said} ({mark.by})"
    yield f"    [{turn.kind}{sure}{' ' + turn.topic if turn.topic else ''}{step}] {turn.say}"
    if turn.cautioned:
        yield "    a caution was said"
    offered = turn.options or turn.nearest
    if offered and turn.kind in ("clarify", "unknown"):
        yield f"    offered: {', '.join(offered)}"
    if turn.taken:
        yield f"    took: {turn.taken}"
    elif turn.refused_choice:
        yield "    took none of what was offered"
    for note in turn.notes:
        yield f"    {note}"
    if mark is not None and mark.right is not None:
        meant = f", meant: {mark.topic}" if mark.topic else ""
        yield f"    marked {'right' if mark.right else 'WRONG'} by {mark.by}{meant}"


def _walk_line(walk: Walk) -> str:
    ended = {"end": "done", "stop": "stopped", "left": "left open"}[walk.ended]
    slow = sorted(walk.seconds.items(), key=lambda row: -row[1])[:3]
    parts = [f"{walk.topic}: {ended} at step {walk.reached} of {walk.of}"]
    if slow:
        parts.append("longest: " + ", ".join(f"step {step} {seconds / 60:.1f} min" for step, seconds in slow))
    if walk.skips:
        parts.append("skipped: " + ", ".join(f"{step} ({reason or 'no reason'})" for step, reason in walk.skips))
    if walk.whys:
        parts.append(f"asked why at {', '.join(map(str, walk.whys))}")
    if walk.repeats:
        parts.append(f"repeated {', '.join(map(str, walk.repeats))}")
    if walk.cautions:
        parts.append(f"cautions {walk.cautions}, passed over {walk.cautions_passed}")
    return "; ".join(parts)


@review.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.pass_obj
def play(given: Given, files: tuple[Path, ...]) -> None:
    """Have recorded conversations again, by their own clock, in the journal.

    FILES are JSON Lines as in demo_sessions/; each becomes a session of its file's name.
    """
    from cabassist.cli.replay import read_recording
    from cabassist.journal import Journal
    from cabassist.review.recordings import play as played

    recordings = [(path.stem, read_recording(path)) for path in files]
    mind = mind_of(given)
    with Journal(given.journal_file()) as journal:
        for name, turns in recordings:
            click.echo(safe(f"{name}: {counted(played(journal, name, turns, mind), 'turn')}"))


def key_of(need: Need) -> str:
    """A short name of a row that stays the same while the ranking changes."""
    return need.sort[0] + hashlib.blake2b(need.name.encode(), digest_size=2).hexdigest()


@contextmanager
def uncollected() -> Iterator[None]:
    """No search for cycles: turns hold none, and looking for some among millions takes a fifth of the time."""
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def gathering(journal: Journal, mind: Mind) -> Gathering:
    """Where needs are gathered, with what a trainer has marked and taught; no conversation is in it yet."""
    from cabassist import places
    from cabassist.journal.store import RECORD
    from cabassist.procedures.layer import read_layer
    from cabassist.review.marks import marks
    from cabassist.review.needs import Gathering

    layer = read_layer(places.trainer_folder(), mind.knowledge.raw_procedures)[0]
    accepted = [event.at.isoformat() for event in journal.read(session=RECORD, kind="taught")]
    return Gathering(marks(journal), (text for text, _ in layer.wordings), accepted[-1] if accepted else "")


def ranked(gathered: Gathering, mind: Mind) -> list[Need]:
    """What needs work, worst first; to be asked once."""
    from cabassist.review.clusters import Likeness

    return gathered.needs(Likeness(mind.matcher, (phrase.text for phrase in mind.knowledge.phrases)))


def needs_of(journal: Journal, mind: Mind) -> list[Need]:
    """What needs work in a journal, worst first."""
    from cabassist.review.conversation import conversations

    gathered = gathering(journal, mind)
    with uncollected():
        for told in conversations(journal):
            gathered.add(told)
    return ranked(gathered, mind)


def need_of(journal: Journal, mind: Mind, key: str) -> Need:
    """The row of that key. Raises UnknownName."""
    found = next((need for need in needs_of(journal, mind) if key_of(need) == key), None)
    if found is None:
        raise UnknownName("row", key, [], "See `cabassist review needs`.")
    return found


@review.command()
@click.option("--top", default=15, show_default=True, type=click.IntRange(1), help="How many rows.")
@json_option
@click.pass_obj
def needs(given: Given, top: int, as_json: bool) -> None:
    """What needs work, ranked by how often and how bad.

    A row is a question in all its wordings, a step at which drivers stop or ask why, or a misheard word. Its key is what
    `assign` and `draft` take.
    """
    mind = mind_of(given)
    with existing(given) as journal:
        found = needs_of(journal, mind)
    if as_json:
        print_json([_need(need) for need in found[:top]])
        return
    for number, need in enumerate(found[:top], 1):
        troubles = ", ".join(f"{trouble} {count}" for trouble, count in need.troubles.most_common())
        click.echo(safe(f"{number:>3}. {key_of(need)}  {need.badness:>6.1f}  {need.sort}: {need.name}"))
        click.echo(safe(f"       {troubles}; in {counted(len(need.sessions), 'session')}"))
        for wording, count in need.wordings.most_common(6):
            if wording != need.name:
                click.echo(safe(f"       {'meant' if need.sort == 'word' else 'also'}: {wording} ({count})"))
        if need.sort == "question" and need.topics:
            click.echo(safe(f"       answered or offered: {', '.join(t for t, _ in need.topics.most_common(3))}"))
        for example in need.examples[:2]:
            click.echo(safe(f"       in {example.session}: {example.text[:90]}"))
    click.echo(f"{counted(len(found), 'row')}. See one: cabassist review show SESSION")


def _need(need: Need) -> dict[str, Any]:
    return {
        "key": key_of(need),
        "sort": need.sort,
        "name": need.name,
        "badness": need.badness,
        "troubles": dict(need.troubles),
        "sessions": sorted(need.sessions),
        "wordings": dict(need.wordings),
        "topics": dict(need.topics),
        "examples": [vars(example) for example in need.examples],
    }


@review.command()
@click.argument("session")
@click.argument("turn", type=click.IntRange(1))
@click.argument("verdict", type=click.Choice(["right", "wrong"]))
@click.option("--topic", help="What should have been answered.")
@click.option("--said", default="", help="What was really said, where it was misheard.")
@click.pass_obj
def mark(given: Given, session: str, turn: int, verdict: str, topic: str | None, said: str) -> None:
    """Say that the answer to TURN of SESSION was right or wrong. TURN is its number in `show`."""
    from cabassist import places
    from cabassist.procedures.library import load_knowledge
    from cabassist.review.marks import Mark
    from cabassist.review.marks import mark as marked

    if topic is not None:
        load_knowledge(given.knowledge_folder(), places.cache_folder()).procedure(topic)
    with existing(given) as journal:
        told = conversation_of(journal, session)
        if turn > len(told.turns):
            raise JournalError(
                f"Session {session} has {counted(len(told.turns), 'turn')}. See `cabassist review show`."
            )
        found = told.turns[turn - 1]
        made = Mark(session, found.id, verdict == "right", topic, said, given.actor)
        marked(journal, made, at=now(), coach=told.coach)
    click.echo(safe(f"Marked {verdict}: {found.text}"))


def _add_commands() -> None:
    from cabassist.cli import review_mend, review_people

    for command in (*review_mend.COMMANDS, *review_people.COMMANDS):
        review.add_command(command)


_add_commands()
