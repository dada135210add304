"""A quiz made from the procedures themselves: the order of steps, which caution, what tells you it is done.

Every wrong choice is a real step, caution or sign of the same or another procedure, so none can be told by its style.
An answer is a number or words; words count when they fit one choice clearly better than the others.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from cabassist.procedures.model import Procedure

CHOICES = 4
CLEAR, LEAD = 70.0, 12.0
"""Likeness of the words, 0 to 100, that an answer needs, and by how much it must lead."""

Sort = Literal["order", "caution", "done", "first"]


@dataclass(frozen=True)
class Question:
    """One question; `right` is the place of the right choice, from 0."""

    sort: Sort
    text: str
    choices: tuple[str, ...]
    right: int


@dataclass(frozen=True)
class Score:
    """How a quiz went. No answer counts as wrong."""

    right: int
    of: int

    @property
    def by_chance(self) -> float:
        """How many one would get right by guessing."""
        return self.of / CHOICES

    def __str__(self) -> str:
        return f"{self.right} of {self.of} right; guessing gives about {self.by_chance:.1f}."


def quiz(
    procedure: Procedure,
    others: Sequence[Procedure],
    count: int,
    seed: int,
    filled: Callable[[str], str] = str,
) -> list[Question]:
    """Up to `count` questions, the same for the same seed.

    Args:
        procedure: what is asked about.
        others: where wrong cautions and signs come from when the procedure itself has too few.
        filled: puts the coach's own words in place of placeholders.
    """
    chance = random.Random(seed)
    steps = [(filled(s.do), [filled(c.text) for c in s.cautions], filled(s.done_when)) for s in procedure.steps]
    dos = list(dict.fromkeys(do for do, _, _ in steps))
    near_dos = [filled(s.do) for p in others for s in p.steps]
    cautions = [c for _, several, _ in steps for c in several] + [filled(c.text) for c in procedure.cautions]
    far_cautions = [filled(c.text) for p in others for c in (*p.cautions, *(c for s in p.steps for c in s.cautions))]
    signs = [sign for _, _, sign in steps if sign]
    far_signs = [filled(s.done_when) for p in others for s in p.steps if s.done_when]
    made: list[Question] = []

    def add(sort: Sort, text: str, right: str, near: Sequence[str], far: Sequence[str], never: set[str]) -> None:
        wrong = _wrong(right, near, far, never, chance)
        if len(wrong) == CHOICES - 1:
            choices = [right, *wrong]
            chance.shuffle(choices)
            made.append(Question(sort, text, tuple(choices), choices.index(right)))

    if procedure.kind == "hazard":
        escapes = [filled(p.escape) for p in others if p.escape]
        add("first", f"{procedure.title}: what do you do at once?", filled(procedure.escape), [], escapes, set())
    for (do, own, sign), following in zip(steps, [*steps[1:], None], strict=True):
        if following is not None:
            add("order", f"{procedure.title}. After “{do}”, what comes next?", following[0], dos, near_dos, {do})
        if own:
            add(
                "caution",
                f"{procedure.title}. Which caution belongs to “{do}”?",
                own[0],
                cautions,
                far_cautions,
                {*own},
            )
        if sign:
            add("done", f"{procedure.title}. What tells you that “{do}” is done?", sign, signs, far_signs, {do})
    return _mixed(made, count, chance)


def _wrong(right: str, near: Sequence[str], far: Sequence[str], never: set[str], chance: random.Random) -> list[str]:
    """Wrong choices: from the same procedure first, then from others."""
    found: list[str] = []
    for pool in (near, far):
        left = [text for text in dict.fromkeys(pool) if text != right and text not in never and text not in found]
        found += chance.sample(left, min(len(left), CHOICES - 1 - len(found)))
    return found


def _mixed(made: list[Question], count: int, chance: random.Random) -> list[Question]:
    """Some of each sort rather than many of one; cautions first, for they matter most."""
    of_sort: dict[str, list[Question]] = {"first": [], "caution": [], "done": [], "order": []}
    for question in made:
        of_sort[question.sort].append(question)
    for several in of_sort.values():
        chance.shuffle(several)
    chosen: list[Question] = []
    while len(chosen) < count and any(of_sort.values()):
        for several in of_sort.values():
            if several and len(chosen) < count:
                chosen.append(several.pop())
    return chosen


_NUMBER = re.compile(r"^\W*(?:number\s+|choice\s+)?(\d+)\W*$")
_WORDS = ("one", "two", "three", "four")


def chosen(question: Question, answer: str) -> int | None:
    """Which choice an answer means, from 0, or None when it is not clear."""
    from rapidfuzz import fuzz

    from cabassist.language.normalise import bare

    said = bare(answer)
    found = _NUMBER.match(said)
    number = int(found[1]) if found else _WORDS.index(said) + 1 if said in _WORDS else 0
    if number:
        return number - 1 if number <= len(question.choices) else None
    if len(said) < 3:
        return None
    scores = sorted(
        ((fuzz.token_set_ratio(said, bare(choice)), place) for place, choice in enumerate(question.choices)),
        reverse=True,
    )
    return scores[0][1] if scores[0][0] >= CLEAR and scores[0][0] - scores[1][0] >= LEAD else None


def scored(questions: Sequence[Question], answers: Sequence[str]) -> Score:
    """How many answers are right; missing ones are wrong."""
    right = sum(chosen(q, a) == q.right for q, a in zip(questions, answers, strict=False))
    return Score(right, len(questions))
