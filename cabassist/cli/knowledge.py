"""`cabassist knowledge check|stats`."""

from __future__ import annotations

from collections import Counter

import click

from cabassist.cli.shared import ANSWERED, NOT_ANSWERED, Given, json_option, print_json, print_problems


@click.group()
def knowledge() -> None:
    """Check and count the knowledge base."""


@knowledge.command()
@json_option
@click.pass_obj
def check(given: Given, as_json: bool) -> None:
    """Hold every file to the rules of wording and reference; print file:line for what is wrong.

    Rules: ASD-STE100 5.1-5.3 (one instruction a sentence, at most 20 words, imperative), Flesch reading ease,
    escape lines under 8 seconds, known placeholders, kit, procedures and calculations, named sources.
    """
    from cabassist.procedures.checker import check_all
    from cabassist.sums.handing import marks_amiss

    problems = [*check_all(given.knowledge_folder(), given.coach_file()), *marks_amiss(given.knowledge_folder())]
    if as_json:
        print_problems(problems)
    else:
        for problem in problems:
            click.echo(str(problem))
        click.echo(f"{len(problems)} problem{'s' if len(problems) != 1 else ''} found.")
    raise SystemExit(NOT_ANSWERED if problems else ANSWERED)


@knowledge.command()
@json_option
@click.pass_obj
def stats(given: Given, as_json: bool) -> None:
    """Count what the knowledge base holds."""
    from cabassist.procedures.library import CALCULATION, OUT_OF_SCOPE, WISH, load_knowledge

    known = load_knowledge(given.knowledge_folder(), None)
    made = [known.procedure(name) for name in known.ids]
    of_topic = Counter(phrase.label for phrase in known.phrases if phrase.label in known.raw_procedures)
    body = {
        "procedures": sum(p.kind == "procedure" for p in made),
        "hazards": sum(p.kind == "hazard" for p in made),
        "steps": sum(len(p.steps) for p in made),
        "cautions": sum(len(p.cautions) + sum(len(s.cautions) for s in p.steps) for p in made),
        "wordings_of_procedures": sum(of_topic.values()),
        "fewest_wordings": min(of_topic.values(), default=0),
        "unsafe_wishes": len(known.raw_wishes),
        "calculations": len(known.calculations),
        "out_of_scope_wordings": sum(p.label == OUT_OF_SCOPE for p in known.phrases),
        "vague_wordings": len(known.vague),
        "wish_wordings": sum(p.label.startswith(WISH) for p in known.phrases),
        "calculation_wordings": sum(p.label.startswith(CALCULATION) for p in known.phrases),
        "published_sources": sum(s.kind == "published" for p in made for s in p.sources),
        "common_practice_sources": sum(s.kind == "common practice" for p in made for s in p.sources),
        "sources_from_memory": sum(s.kind == "from memory" for p in made for s in p.sources),
    }
    if as_json:
        print_json(body)
    else:
        for name, value in body.items():
            click.echo(f"{value:>7,}  {name.replace('_', ' ')}")
