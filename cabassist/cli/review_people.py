"""`cabassist review sheet|quiz|sign-off|report`: drivers, and the report."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cabassist import places
from cabassist.cli.journal import counted, existing
from cabassist.cli.shared import ANSWERED, NOT_ANSWERED, Given, json_option, now, print_json, safe
from cabassist.errors import FileProblem, UnknownName
from cabassist.files import write_whole

if TYPE_CHECKING:
    from cabassist.review.conversation import Conversation
    from cabassist.review.sheet import Experience


@click.command()
@click.argument("driver", required=False)
@json_option
@click.pass_obj
def sheet(given: Given, driver: str | None, as_json: bool) -> None:
    """What DRIVER was walked through, when and how well; without a name, who there is."""
    from cabassist.procedures.library import nearest
    from cabassist.review.conversation import conversations
    from cabassist.review.sheet import record_events, sheets

    with existing(given) as journal:
        made = sheets(conversations(journal), record_events(journal))
    if driver is None:
        rows = {name: len(one.topics) for name, one in sorted(made.items())}
        if as_json:
            print_json(rows)
            return
        for name, count in rows.items():
            click.echo(safe(f"{name:<24} {counted(count, 'procedure')}"))
        return
    if driver not in made:
        raise UnknownName("driver", driver, nearest(driver, list(made)), "See `cabassist review sheet`.")
    found = sorted(made[driver].topics.values(), key=lambda row: (row.last is None, row.last), reverse=False)
    if as_json:
        print_json([_experience(row) for row in found])
        return
    for row in found:
        for line in _lines(row):
            click.echo(safe(line))
    click.echo("These are figures, no grade: whether somebody is fit for a job is the trainer's word.")


def _experience(row: Experience) -> dict[str, Any]:
    return {
        **vars(row),
        "quizzes": [{"at": at.isoformat(), "right": right, "of": of} for at, right, of in row.quizzes],
        "signed": {"at": row.signed[0].isoformat(), "by": row.signed[1]} if row.signed else None,
    }


def _lines(row: Experience) -> list[str]:
    lines = [row.topic]
    if row.times and row.last is not None:
        lines.append(
            f"    walked {row.times}x, {row.done}x to the end, furthest step {row.furthest[0]} of {row.furthest[1]}, "
            f"last {row.last:%Y-%m-%d}, {row.minutes:.0f} min in all"
        )
        lines.append(
            f"    {counted(row.skipped, 'step')} skipped; {counted(row.cautions, 'caution')} heard, {row.cautions_passed} passed over"
        )
    lines += [f"    quiz {at:%Y-%m-%d}: {right} of {of} right" for at, right, of in row.quizzes]
    lines.append(f"    signed off {row.signed[0]:%Y-%m-%d} by {row.signed[1]}" if row.signed else "    not signed off")
    return lines


@click.command()
@click.argument("topic")
@click.option("--driver", required=True, help="Who is asked.")
@click.option("--questions", default=6, show_default=True, type=click.IntRange(1, 30), help="How many.")
@click.option("--seed", default=None, type=int, help="The same seed asks the same questions.")
@click.pass_obj
def quiz(given: Given, topic: str, driver: str, questions: int, seed: int | None) -> None:
    """Ask DRIVER about the procedure TOPIC; the result goes on the driver's sheet.

    Answer with a number or in words. What is not answered counts as wrong. Exit code 0: all right. 1: not all.
    """
    from cabassist.coach import facts
    from cabassist.dialogue.phrases import filled
    from cabassist.journal import EventDraft, Journal
    from cabassist.procedures.library import load_knowledge
    from cabassist.review.marks import note
    from cabassist.review.quiz import chosen, scored
    from cabassist.review.quiz import quiz as made
    from cabassist.review.sheet import QUIZZED

    knowledge = load_knowledge(given.knowledge_folder(), places.cache_folder())
    procedure = knowledge.procedure(topic)
    coach = given.load_coach()
    words = facts(coach)
    same = [n for n, raw in knowledge.raw_procedures.items() if raw["system"] == procedure.system and n != topic]
    alike = [n for n in knowledge.hazards if n != topic] if procedure.kind == "hazard" else []
    others = [knowledge.procedure(name) for name in dict.fromkeys([*sorted(alike), *same])]
    begun = now()
    chance = seed if seed is not None else int(begun.timestamp())
    asked = made(procedure, others, questions, chance, lambda text: filled(text, words))
    answers: list[str] = []
    for number, question in enumerate(asked, 1):
        click.echo(safe(f"\n{number}. {question.text}"))
        for place, choice in enumerate(question.choices, 1):
            click.echo(safe(f"   {place}. {choice}"))
        try:
            answers.append(click.prompt("Answer", default="", show_default=False))
        except click.Abort:
            break
        right = chosen(question, answers[-1]) == question.right
        click.echo(safe("Right." if right else f"No: {question.choices[question.right]}"))
    score = scored(asked, answers)
    with Journal(given.journal_file()) as journal:
        payload = {"driver": driver, "topic": topic, "right": score.right, "of": score.of, "seed": chance}
        note(journal, [EventDraft(QUIZZED, payload)], at=begun, coach=coach.id, by=given.actor)
    click.echo(f"\n{score}")
    raise SystemExit(ANSWERED if score.right == score.of else NOT_ANSWERED)


@click.command("sign-off")
@click.argument("driver")
@click.argument("topic")
@click.option("--by", required=True, help="The trainer.")
@click.option("--remark", default="", help="What was seen.")
@click.pass_obj
def sign_off(given: Given, driver: str, topic: str, by: str, remark: str) -> None:
    """Put on record that a trainer has seen DRIVER do TOPIC."""
    from cabassist.procedures.library import load_knowledge
    from cabassist.review.sheet import sign_off as signed

    load_knowledge(given.knowledge_folder(), places.cache_folder()).procedure(topic)
    coach = given.load_coach()
    with existing(given) as journal:
        signed(journal, driver, topic, remark, by=by, at=now(), coach=coach.id)
    click.echo(safe(f"{driver} is signed off for {topic} by {by}."))


@click.command()
@click.argument("page", type=click.Path(path_type=Path))
@click.option("--pseudonymise", is_flag=True, help="Replace persons' names.")
@click.option("--force", is_flag=True, help="Write over an earlier report.")
@click.pass_obj
def report(given: Given, page: Path, pseudonymise: bool, force: bool) -> None:
    """Write the report to PAGE (HTML, no network needed), and its figures beside it as JSON and CSV.

    With --pseudonymise persons' names become the same person-1, person-2 as in `cabassist journal export`, also in what
    was said. A name that was only ever mentioned in passing is not known as one: read the report before you give it away.
    """
    from cabassist.cli.review import gathering, key_of, mind_of, ranked, uncollected
    from cabassist.journal.chain import rows
    from cabassist.journal.exchange import pseudonyms
    from cabassist.review.conversation import conversations
    from cabassist.review.figures import Figuring
    from cabassist.review.report import Content, as_json, days_csv, needs_csv
    from cabassist.review.report import page as drawn
    from cabassist.review.sheet import record_events, sheets

    mind = mind_of(given)
    systems = {name: str(raw["system"]) for name, raw in mind.knowledge.raw_procedures.items()}
    figuring = Figuring(systems, mind.knowledge.hazards)
    with existing(given) as journal:
        gathered = gathering(journal, mind)

        def passing() -> Iterator[Conversation]:
            """The conversations once: needs and figures are taken from each on its way to the sheets."""
            for told in conversations(journal):
                gathered.add(told)
                figuring.add(told)
                yield told

        with uncollected():
            made = sheets(passing(), record_events(journal))
        aliases = pseudonyms(rows(journal)) if pseudonymise else {}
    needs = ranked(gathered, mind)
    content = Content(
        coach=mind.coach.name,
        made=now(),
        figures=figuring.figures,
        needs=needs,
        keys=[key_of(need) for need in needs],
        sheets=made,
        titles={name: mind.knowledge.title(name) for name in mind.knowledge.ids},
        aliases=aliases,
    )
    files = {
        page.with_suffix(".json"): as_json(content),
        page.with_name(f"{page.stem}-days.csv"): days_csv(content),
        page.with_name(f"{page.stem}-needs.csv"): needs_csv(content),
    }
    files[page] = drawn(content, [path.name for path in files])
    taken = [path for path in files if os.path.exists(path)]
    if taken and not force:
        raise FileProblem(taken[0], "exists already.", "Name another page, or say --force.")
    for path, text in files.items():
        write_whole(path, text)
    click.echo(
        safe(f"{page}: {counted(figuring.figures.sessions, 'session')}, {counted(len(needs), 'row')} that need work.")
    )


COMMANDS = (sheet, quiz, sign_off, report)
