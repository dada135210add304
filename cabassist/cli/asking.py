"""`cabassist ask`, `show`, `topics`."""

from __future__ import annotations

import time
from typing import Any

import click

from cabassist.cli.shared import (
    ANSWERED,
    NOT_ANSWERED,
    Given,
    json_option,
    now,
    open_journal,
    print_json,
    print_lines,
    remembering,
)


@click.command()
@click.argument("text", nargs=-1, required=True)
@json_option
@click.pass_obj
def ask(given: Given, text: tuple[str, ...], as_json: bool) -> None:
    """Answer one question and end. TEXT is what you would say."""
    from cabassist.dialogue.session import as_contract, load_mind

    begun, at = time.perf_counter(), now()
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    with open_journal(given.journal_file()) as journal:
        reply = remembering(given, mind, journal, at).hear(" ".join(text), at)
    if as_json:
        print_json(as_contract(reply, (time.perf_counter() - begun) * 1000))
    else:
        print_lines(reply.show)
        if reply.step and reply.step.of > 1:
            click.echo(f"To be led through it, run cabassist and ask again. All of it: cabassist show {reply.topic}")
    raise SystemExit(NOT_ANSWERED if reply.kind in ("unknown", "clarify") else ANSWERED)


def _ids(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
    from cabassist import places
    from cabassist.procedures.library import load_knowledge

    return [i for i in load_knowledge(places.knowledge_folder(), places.cache_folder()).ids if i.startswith(incomplete)]


@click.command()
@click.argument("name", metavar="ID", shell_complete=_ids)
@json_option
@click.pass_obj
def show(given: Given, name: str, as_json: bool) -> None:
    """Print a whole procedure, filled in for the coach. ID is a topic's id."""
    from cabassist import places
    from cabassist.coach import facts
    from cabassist.dialogue.phrases import caution_line, filled
    from cabassist.procedures.library import load_knowledge

    knowledge = load_knowledge(given.knowledge_folder(), places.cache_folder())
    procedure = knowledge.procedure(name)
    coach = given.load_coach()
    words = facts(coach)
    if as_json:
        print_json(_filled(procedure.model_dump(mode="json"), words))
        return
    kit = {item.id: item for item in coach.kit}
    lines = [procedure.title.upper(), procedure.summary, ""]
    if procedure.escape:
        lines += [f"DANGER: {filled(procedure.escape, words)}", ""]
    if procedure.needs:
        lines += [
            "You need:",
            *(f"  {kit[n].name}: {kit[n].place}" if n in kit else f"  {n}" for n in procedure.needs),
            "",
        ]
    lines += [caution_line(c, words) for c in procedure.cautions]
    for number, step in enumerate(procedure.steps, 1):
        lines += [caution_line(c, words) for c in step.cautions]
        only = f"  [only when: {', '.join(step.only_when)}]" if step.only_when else ""
        lines.append(f"{number:>2}. {filled(step.do, words)}{only}")
        if step.why:
            lines.append(f"      Why: {filled(step.why, words)}")
        if step.done_when:
            lines.append(f"      Done when: {filled(step.done_when, words)}")
        if step.wait:
            minutes = (
                words.get(step.wait.minutes, step.wait.minutes)
                if isinstance(step.wait.minutes, str)
                else f"{step.wait.minutes:g} minutes"
            )
            lines.append(f"      Wait: {minutes}")
        if step.reading:
            lines.append(f"      Record: {step.reading.replace('_', ' ')}")
    for heading, texts in (("Never", procedure.never), ("Stop when", procedure.stop_when), ("Call", [procedure.call])):
        lines += ["", f"{heading}:", *(f"  {filled(t, words)}" for t in texts)]
    for heading, names in (("Then", procedure.then), ("Related", procedure.related)):
        if names:
            lines += [
                "",
                f"{heading}:",
                *(f"  {n}: {knowledge.title(n)}" for n in names if n in knowledge.raw_procedures),
            ]
    lines += ["", "Sources:", *(f"  {s.name} ({s.kind})" for s in procedure.sources)]
    print_lines(lines)


def _filled(value: Any, words: dict[str, str]) -> Any:
    from cabassist.dialogue.phrases import filled

    if isinstance(value, str):
        return filled(value, words) if "{" in value else value
    if isinstance(value, list):
        return [_filled(item, words) for item in value]
    if isinstance(value, dict):
        return {key: _filled(item, words) for key, item in value.items()}
    return value


@click.command()
@click.option("--system", help="Only this system, for example water.")
@json_option
@click.pass_obj
def topics(given: Given, system: str | None, as_json: bool) -> None:
    """List everything there is a procedure for."""
    from cabassist import places
    from cabassist.errors import UnknownName
    from cabassist.procedures.library import load_knowledge, nearest

    knowledge = load_knowledge(given.knowledge_folder(), places.cache_folder())
    systems = list(dict.fromkeys(raw["system"] for raw in knowledge.raw_procedures.values()))
    if system and system not in systems:
        raise UnknownName("system", system, nearest(system, systems), f"Systems: {', '.join(systems)}.")
    rows = [
        (raw["system"], name, raw["kind"], raw["title"])
        for name, raw in knowledge.raw_procedures.items()
        if system in (None, raw["system"])
    ]
    if as_json:
        print_json([dict(zip(("system", "id", "kind", "title"), row, strict=True)) for row in rows])
        return
    last = ""
    for of_system, name, kind, title in rows:
        if of_system != last:
            click.echo(f"{of_system}:")
            last = of_system
        click.echo(f"  {name:<30} {title}{'  (hazard)' if kind == 'hazard' else ''}")
