"""A question's amounts, each with the words of its own: those since the amount before it and up to the next one.

A family of `sums` weighs every amount of a question against every role. A trip or a day at the wheel is told as a story, with
people, weather and scores in it. Its readers here take what they need by the words right beside it, leave out kinds that their
subject never uses, and answer only when nothing of the kinds it does use is left over.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cabassist.language.asked_for import kind_of
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_clock import spans
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy

_WIDE = 8
"""Words that are looked at on each side, past other amounts."""


class Part(NamedTuple):
    """One amount with its words."""

    amount: Amount
    kind: str
    """As `asked_for.terms_of` has them: distance, speed, time, clock, mass, volume, n, ..."""
    value: float
    """In the base unit of its kind: miles, hours, pounds, gallons, °F, psi."""
    left: str
    """Words since the amount before it, with a space at the end; a sentence before is cut off."""
    right: str
    """Words up to the next amount or mark, with a space in front."""
    before: str
    """More words to the left, other amounts as their tags, in the same sentence."""
    after: str
    """More words to the right."""

    @property
    def unit(self) -> str:
        """The unit as it was said."""
        return self.amount.unit


_ENDS = frozenset({".", "?", "!"})


def parts(question: Question) -> list[Part]:
    """Every amount that measures something known, in order; others are left out."""
    tokens = question.frame.split()
    places = [i for i, token in enumerate(tokens) if token.startswith("<") and token.endswith(">")]
    if len(places) != len(question.amounts):
        return []
    found: list[Part] = []
    for place, amount in zip(places, question.amounts, strict=True):
        if amount.unit == "n" and question.words[amount.start : amount.end] == ("one",):
            continue
        known = kind_of(amount, question.scale)
        if known is None:
            continue
        kind, value = known
        found.append(
            Part(
                amount,
                kind,
                value,
                f" {' '.join(_run(tokens, place, -1, True))} ",
                f" {' '.join(_run(tokens, place, 1, True))} ",
                f" {' '.join(_run(tokens, place, -1, False))} ",
                f" {' '.join(_run(tokens, place, 1, False))} ",
            )
        )
    return found


def _run(tokens: Sequence[str], place: int, step: int, own: bool) -> list[str]:
    """Words from a place on to one side, up to the end of the sentence; with `own` to the next amount, and to a comma on the right."""
    found: list[str] = []
    at = place + step
    while 0 <= at < len(tokens) and len(found) < _WIDE:
        token = tokens[at]
        if token in _ENDS or (own and (token.startswith("<") or (token == "," and (step > 0 or found)))):
            break
        found.append(token)
        at += step
    return found if step > 0 else found[::-1]


def last_at(pattern: Lazy, text: str) -> int:
    """Where the last match of a pattern ends; -1 for none. What stands nearer to an amount counts more."""
    ends = [match.end() for match in pattern.finditer(text)]
    return ends[-1] if ends else -1


def hour_of(part: Part) -> float:
    """A time of day in hours; "six thirty" is heard as 630."""
    value = part.value
    return value // 100 + value % 100 / 60 if part.kind == "n" and value >= 100 else value


def half_unsaid(part: Part) -> bool:
    """Whether the half of the day was not said."""
    return hour_of(part) < 13 and (part.kind == "n" or bool(part.amount.pieces))


def spans_between(start: Part, end: Part, shift: float = 0.0) -> list[float]:
    """Hours from a time of day to a later one, in each half of the day that is not said.

    Args:
        start: the earlier time.
        end: the later time, by a clock that is `shift` hours ahead of the other.
    """
    firsts, lasts = ((hour_of(one), hour_of(one) + 12) if half_unsaid(one) else (hour_of(one),) for one in (start, end))
    next_day = end.amount.tomorrow and not start.amount.tomorrow
    return spans(firsts, [last - shift for last in lasts], next_day)
