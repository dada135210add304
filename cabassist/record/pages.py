"""The pages that print: the hand-over and a round, each one HTML file without any other.

Everything that was said is escaped; light and dark on a screen, black on white on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from cabassist.record.handover import Page
from cabassist.record.rounds import RoundWalked

if TYPE_CHECKING:
    from jinja2 import Environment

MARKS = {"done": "done", "skipped": "SKIPPED", "not done": "NOT DONE"}


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    loader = PackageLoader("cabassist.record")
    return Environment(loader=loader, autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=StrictUndefined)


def handover_html(page: Page) -> str:
    """The hand-over for A4 and letter paper."""
    return _environment().get_template("handover.html").render(page=page)


def round_html(walked: RoundWalked, title: str, coach: str, steps: Sequence[str]) -> str:
    """A round; `steps` are the words of its steps, one for each tick."""
    rows = [{"tick": tick, "mark": MARKS[tick.mark], "do": do} for tick, do in zip(walked.ticks, steps, strict=True)]
    return _environment().get_template("round.html").render(walked=walked, title=title, coach=coach, rows=rows)
