"""What each amount of a question is, told by its unit and by the words beside it, in any order.

"Inside 65, outside 5" and "65 inside and 5 outside" mean the same. Each role names the units it can have and the words
that go with it; amounts and roles are then paired so that as many roles as possible are filled and the words stand as
near as possible. Nothing is guessed: an amount without a word of its role nearby stays unplaced.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, compiled

_REACH = 7
"""Words on either side of an amount that may tell its role."""
_COMMA, _STOP = 2, 4
"""How many words a comma and the end of a sentence count as."""


class Role(NamedTuple):
    """What an amount can be in a question."""

    name: str
    kind: str
    """Kinds of amounts it can be, as in `calculation_inputs.KINDS`: "temp|n"."""
    before: str
    """Words that tell it before the amount, as a pattern over the frame."""
    after: str = ""
    """Words that tell it after the amount."""
    fits: Callable[[Amount], bool] | None = None
    """Whether a value can be meant."""


def _cost(words: Sequence[str]) -> int:
    return sum({",": _COMMA, ".": _STOP}.get(word, 1) for word in words)


def _before(cue: str, words: Sequence[str]) -> int | None:
    """How far the last match of a cue stands before the end of these words; None when there is none."""
    best: int | None = None
    if cue:
        text = f" {' '.join(words)} "
        for match in compiled(rf"(?<=\s)(?:{cue})(?=\s)").finditer(text):
            away = _cost(text[match.end() :].split())
            best = away if best is None else min(best, away)
    return best


def _after(cue: str, words: Sequence[str]) -> int | None:
    """How far the first match of a cue stands after the beginning of these words."""
    if not cue:
        return None
    text = f" {' '.join(words)} "
    match = compiled(rf"(?<=\s)(?:{cue})(?=\s)").search(text)
    return None if match is None else _cost(text[: match.start()].split())


def distances(q: Question, roles: Sequence[Role]) -> list[list[int | None]]:
    """For each amount of the question, how far it is from the words of each role; None where it cannot be it."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    tags = {
        role.kind: compiled(f"^(?:{{{role.kind}}})$" if "|" not in role.kind else _any_of(role.kind)) for role in roles
    }
    found: list[list[int | None]] = []
    for number, (place, amount) in enumerate(zip(at, q.amounts, strict=True)):
        start = at[number - 1] + 1 if number else 0
        end = at[number + 1] if number + 1 < len(at) else len(tokens)
        before, after = tokens[max(start, place - _REACH) : place], tokens[place + 1 : min(end, place + 1 + _REACH)]
        row: list[int | None] = []
        for role in roles:
            if not tags[role.kind].match(tokens[place]) or (role.fits is not None and not role.fits(amount)):
                row.append(None)
                continue
            ways = [d for d in (_before(role.before, before), _after(role.after, after)) if d is not None]
            row.append(min(ways) if ways else None)
        found.append(row)
    return found


def _any_of(kinds: str) -> str:
    return "^(?:" + "|".join(f"{{{kind}}}" for kind in kinds.split("|")) + ")$"


def placed(q: Question, roles: Sequence[Role], spent: Sequence[Amount] = ()) -> dict[str, Amount]:
    """Each role with its amount: as many roles as possible, then the nearest words.

    Args:
        q: the question.
        roles: what its amounts can be.
        spent: amounts that have a role already.
    """
    away = distances(q, roles)
    best: tuple[int, int, tuple[tuple[int, int], ...]] = (0, 0, ())

    def tried(number: int, free: frozenset[int], cost: int, pairs: tuple[tuple[int, int], ...]) -> None:
        nonlocal best
        if len(pairs) + min(len(free), len(away) - number) < best[0]:
            return
        if number == len(away):
            if (len(pairs), -cost) > (best[0], -best[1]):
                best = (len(pairs), cost, pairs)
            return
        if q.amounts[number] not in spent:
            for role in sorted(free):
                distance = away[number][role]
                if distance is not None:
                    tried(number + 1, free - {role}, cost + distance, (*pairs, (number, role)))
        tried(number + 1, free, cost, pairs)

    tried(0, frozenset(range(len(roles))), 0, ())
    return {roles[role].name: q.amounts[number] for number, role in best[2]}


def degrees_in(q: Question) -> Question:
    """The question with "68 in, 0 out" as a temperature: an "in" after a number is no inch where warmth is spoken of."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    amounts = list(q.amounts)
    for number, (place, amount) in enumerate(zip(at, q.amounts, strict=True)):
        if amount.unit == "in" and q.words[amount.end - 1] == "in" and -60 <= amount.value <= 110:
            amounts[number] = amount._replace(unit="n", end=amount.end - 1)
            tokens[place] = "<n> in"
    return replace(q, amounts=tuple(amounts), frame=f" {' '.join(tokens)} ") if tuple(amounts) != q.amounts else q


def by_words(q: Question, *used: Amount) -> str:
    """Amounts as they were said, for the input `WORDED`: those that stand in no sum as one number."""
    return "; ".join(" ".join(q.words[a.start : a.end]) for a in used)
