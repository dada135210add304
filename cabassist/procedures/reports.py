"""Lines that drivers say at the steps of a procedure, from which the report network learns: `knowledge/reports/<procedure>.txt`.

A block a step, in order: `# ` and what the step tells to do, then a line for each saying. A plain line tells the step done,
`! ` begins one that does not (trouble, not yet, something else in its words), `? ` a question about the step.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

STEP, UNDONE, ASKED = "# ", "! ", "? "


@dataclass(frozen=True)
class Block:
    """What is said at one step."""

    line: int
    """Where the block begins in its file, from 1."""
    do: str
    done: tuple[str, ...]
    undone: tuple[str, ...]
    asked: tuple[str, ...]


def blocks_in(path: Path) -> list[Block]:
    """The blocks of a file, in order. Lines before the first step belong to none and are left out."""
    found: list[Block] = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if line.startswith(STEP):
            found.append(Block(number, line.removeprefix(STEP).strip(), (), (), ()))
        elif line.strip() and found:
            last = found[-1]
            if line.startswith(UNDONE):
                last = Block(last.line, last.do, last.done, (*last.undone, line.removeprefix(UNDONE)), last.asked)
            elif line.startswith(ASKED):
                last = Block(last.line, last.do, last.done, last.undone, (*last.asked, line.removeprefix(ASKED)))
            else:
                last = Block(last.line, last.do, (*last.done, line), last.undone, last.asked)
            found[-1] = last
    return found
