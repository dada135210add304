"""A small knowledge base that is sound, for tests that break one thing in it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

PROCEDURE = """\
id: {name}
system: {system}
kind: {kind}
title: Close the {name} valve
summary: The {name} valve is closed and stays closed.
{escape}asks:
{asks}
needs: [gloves]
cautions:
  - signal: CAUTION
    text: The handle is cold. Wear gloves.
steps:
  - do: Turn the handle to the right.
    why: The {{fresh.capacity}} tank runs empty through an open valve.
    done_when: The handle stops.
  - do: If it is cold, warm the handle first.
    only_when: [freezing]
  - do: Check the cap in {{fresh.bay}}.
never:
  - Never force the handle.
stop_when:
  - The handle does not turn.
call: The carrier's maintenance.
then: []
related: [{other}]
sources:
  - {{name: Turning it by hand, kind: common practice}}
"""
"""A procedure with every kind of field that the checker looks at."""


def procedure_text(name: str, other: str, system: str = "water", escape: str = "") -> str:
    """A sound procedure that leads to another; with an escape line it is a hazard."""
    return PROCEDURE.format(
        name=name,
        other=other,
        system=system,
        kind="hazard" if escape else "procedure",
        escape=f"escape: {escape}\n" if escape else "",
        asks="\n".join(f"  - the {name} one, how do I shut it, wording {n}" for n in range(15)),
    )


@pytest.fixture
def small_folder(tmp_path: Path, knowledge_folder: Path) -> Path:
    """A knowledge folder with two procedures and one hazard, the shipped style and the demo coach."""
    folder = tmp_path / "knowledge"
    (folder / "water").mkdir(parents=True)
    (folder / "coaches").mkdir()
    shutil.copy(knowledge_folder / "style.yaml", folder)
    shutil.copy(knowledge_folder / "coaches" / "demo.yaml", folder / "coaches")
    for name, other, escape in (("main", "drain", ""), ("drain", "flood", ""), ("flood", "main", "Get out now.")):
        (folder / "water" / f"{name}.yaml").write_text(procedure_text(name, other, escape=escape), encoding="utf-8")
    return folder
