"""The beginning of a new procedure, with the wordings drivers used, for a trainer to fill in and have checked.

A draft lies in the trainer's folder and answers nobody. Once `check` is content it goes into the knowledge by the recipe
"Add a procedure" of the developers' page.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import yaml

from cabassist.coach import facts
from cabassist.dialogue.types import Mind
from cabassist.errors import ContentProblems, FileProblem, Problem
from cabassist.files import write_whole
from cabassist.procedures import yamlfile
from cabassist.procedures.checker import Style, check_procedure
from cabassist.procedures.library import NOT_SYSTEMS
from cabassist.procedures.model import Procedure

TODO = "TODO"
"""What stands where the trainer has to write; `check` finds every one."""

_TEMPLATE = """\
# Fill in every {todo}. Rules: one action a step, at most 20 words, verb first; cautions before the step they belong to.
# Each field is explained in cabassist/procedures/model.py; a neighbour in knowledge/{system}/ is a good pattern.
id: {id}
system: {system}
kind: procedure
title: {title}
summary: {todo}, what it gets done, in one sentence.
asks:
{asks}cautions:
  - {{signal: WARNING, text: "{todo}: what can happen, and how to avoid it."}}
steps:
  - do: "{todo}"
    why: "{todo}"
    done_when: "{todo}"
  - do: "{todo}"
never: ["{todo}"]
stop_when: ["{todo}"]
call: "{todo}: whom to call."
sources:
  - {{name: "{todo}: title and paragraph", kind: from memory}}
"""


def draft(folder: Path, name: str, system: str, title: str, asks: Sequence[str], knowledge: Path) -> Path:
    """Write a draft and return where it lies.

    Raises:
        FileProblem: there is such a draft or procedure already, or the file cannot be written.
        ContentProblems: the id or the system is not possible.
    """
    systems = sorted(p.name for p in knowledge.iterdir() if p.is_dir() and p.name not in NOT_SYSTEMS)
    if system not in systems:
        raise ContentProblems([Problem(name, 1, "system", f"must be one of {', '.join(systems)}", "shape")])
    if not name.replace("-", "").isalnum() or name != name.lower() or not name.isascii() or "--" in name:
        raise ContentProblems([Problem(name, 1, "id", "must be small letters with hyphens: fit-snow-chains", "shape")])
    path = folder / "drafts" / f"{name}.yaml"
    if path.exists() or next(knowledge.glob(f"*/{name}.yaml"), None):
        raise FileProblem(path, "would be the second of that id.", "Choose another id.")
    listed = "".join(f"  - {_quoted(ask)}\n" for ask in dict.fromkeys(asks)) or f'  - "{TODO}"\n'
    text = _TEMPLATE.format(todo=TODO, id=name, system=system, title=_quoted(title), asks=listed)
    write_whole(path, text, advice="Check its folder.")
    return path


def _quoted(text: str) -> str:
    return yaml.safe_dump(text, default_style='"', allow_unicode=True, width=1000).strip()


def check_drafts(folder: Path, mind: Mind) -> list[Problem]:
    """What is still wrong with the drafts, held to the same rules as the knowledge."""
    found: list[Problem] = []
    style = yamlfile.validate(yamlfile.load(mind.knowledge.folder / "style.yaml"), Style)
    for path in sorted((folder / "drafts").glob("*.yaml")):
        name = f"{folder.name}/drafts/{path.name}"
        try:
            file = yamlfile.load(path, name)
            made = yamlfile.validate(file, Procedure)
        except ContentProblems as error:
            found += error.problems
            continue
        found += check_procedure(
            made,
            file,
            style,
            ids=[*mind.knowledge.ids, made.id],
            placeholders=facts(mind.coach),
            kit=[item.id for item in mind.coach.kit],
            calculations=mind.knowledge.calculations,
        )
        todo = [i for i, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if TODO in line and i > 1]
        found += [Problem(name, line, "", f"{TODO} is left to be written", "todo") for line in todo]
    return found
