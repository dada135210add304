"""Amounts with the words that stand by them: what is said since the amount before, and up to the next one.

Where a sum has roles that words tell (`dialogue/sums.py`), these are looked at some words around an amount. Here an
amount has only the words that are its own, so that "two heaters at 1,500, the charger at 900" can not lend each other theirs.
"""

from __future__ import annotations

from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question


class Said(NamedTuple):
    """An amount and the words of its own."""

    amount: Amount
    left: str
    """Words since the amount before or the start of the sentence, ending in a space."""
    right: str
    """Words up to the next amount or the end of the sentence."""
    before: str
    """Tag of the amount before in the same sentence, or ""."""
    after: str
    """Tag of the next amount in the same sentence, or ""."""

    @property
    def unit(self) -> str:
        """The unit as it was said."""
        return self.amount.unit

    @property
    def value(self) -> float:
        """The number as it was said."""
        return self.amount.value


_ENDS = frozenset(".;")


def placed(question: Question) -> tuple[Said, ...] | None:
    """Every amount of a question with its own words, in order; None when the frame holds others."""
    tokens = question.frame.split()
    places = [i for i, token in enumerate(tokens) if token.startswith("<") and len(token) > 1]
    if len(places) != len(question.amounts):
        return None
    found = []
    for k, (place, amount) in enumerate(zip(places, question.amounts, strict=True)):
        start = places[k - 1] + 1 if k else 0
        end = places[k + 1] if k + 1 < len(places) else len(tokens)
        left, right = tokens[start:place], tokens[place + 1 : end]
        stops = [i for i, word in enumerate(left) if word in _ENDS]
        before = tokens[places[k - 1]] if k and not stops else ""
        left = left[stops[-1] + 1 :] if stops else left
        stop = next((i for i, word in enumerate(right) if word in _ENDS), None)
        after = tokens[places[k + 1]] if k + 1 < len(places) and stop is None else ""
        right = right if stop is None else right[:stop]
        found.append(Said(amount, f"{' '.join(left)} " if left else "", " ".join(right), before[1:-1], after[1:-1]))
    return tuple(found)
