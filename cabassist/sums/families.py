"""Sums over the amounts of a question: every amount gets a role, and the formula that takes exactly these answers.

Questions of one kind differ in order, units and words, but not in what the amounts are for. So each family of sums lists
the roles that its amounts can have, with cues from the words around them, and a function that works out what follows
from them. All ways to hand out the roles are tried, the likeliest first; one counts only when the formula takes every
amount that was said. When two nearly as likely ways give different answers, there is none: a wrong number is worse.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import islice, product
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, roughly
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted

_MARGIN = 0.75
"""How much likelier the best way must be than another with a different answer."""
_FAR = 2.5
"""How much less likely than the likeliest way the one that comes out may be."""
_MOST = 4000
"""Ways to hand out the roles that are looked at."""
_LEAST = -1.2
"""What a role must reach at all, so that the rarer ones need a word that speaks for them."""
_LOOKED_AT = 400
"""Of these, the likeliest that are worked out."""


class Role(NamedTuple):
    """What an amount can be for."""

    name: str
    kinds: frozenset[str]
    base: float
    """How likely it is before a word is looked at."""
    cues: tuple[tuple[float, str], ...] = ()
    """Patterns over the words around the amount, itself as #, with what each adds."""
    never: str = ""
    """A pattern that rules it out."""
    bare: float = 0.0
    """What it costs to take a number without a unit for it; 0 when that can not be."""
    many: bool = False
    """Whether several amounts can have it."""
    each: bool | None = None
    """Whether the amount must, or must not, be for each person."""


def role(name: str, kinds: str, base: float, *cues: tuple[float, str], never: str = "", bare: float = 0.0, many: bool = False, each: bool | None = None) -> Role:  # fmt: skip
    """A role; its kinds in one text, with bars between."""
    return Role(name, frozenset(kinds.split("|")), base, cues, never, bare, many, each)


@dataclass
class Told:
    """The amounts of one way to hand out the roles; a formula takes what it uses."""

    roles: Mapping[str, list[Term]]
    """The amounts by role; a formula may rename one."""
    question: Question
    want: Wanted
    coach: Coach
    now: datetime
    level_of: Callable[[str], float | None] = lambda _tank: None
    """Share of full of a tank as it was last read."""
    taken: set[str] = field(default_factory=set)
    assumed: list[str] = field(default_factory=list)
    doubt: float = 0.0
    """How much less likely the outcome makes the way: nobody asks for the time until what is past."""

    def has(self, *names: str) -> bool:
        """Whether every role is filled."""
        return all(name in self.roles for name in names)

    def one(self, name: str) -> Term | None:
        """The amount of a role, taken; None when nothing has it, or several amounts do."""
        found = self.roles.get(name, [])
        if len(found) != 1:
            return None
        self.taken.add(name)
        return found[0]

    def all(self, name: str) -> list[Term]:
        """Every amount of a role, taken."""
        if name in self.roles:
            self.taken.add(name)
        return list(self.roles.get(name, []))

    def value(self, name: str) -> float | None:
        """The value of a role's only amount, taken."""
        found = self.one(name)
        return None if found is None else found.value

    def total(self, name: str) -> float | None:
        """The sum of a role's amounts, taken; None when it has none."""
        found = self.all(name)
        return sum(term.value for term in found) if found else None

    def whole(self) -> bool:
        """Whether every amount was taken."""
        return set(self.roles) - {"beside"} <= self.taken


class Family(NamedTuple):
    """Sums over amounts of the same roles."""

    name: str
    calculation: Callable[[Question], str]
    """The calculation that takes up a follow-up question."""
    applies: Callable[[Question, Wanted, tuple[Term, ...]], bool]
    roles: tuple[Role, ...]
    solve: Callable[[Told], Estimate | None]


def today_at(now: datetime, hour: float | None) -> datetime:
    """That hour of today; now when none is told."""
    return now if hour is None else now.replace(hour=int(hour) % 24, minute=round(hour % 1 * 60) % 60)


def at_clock(start: datetime, hours: float) -> str:
    """The time of day so many hours on: "That is at 22:00 (10:00 pm), 30 hours on."."""
    end = start + timedelta(hours=hours)
    half = f"{end.hour % 12 or 12}:{end:%M} {'am' if end.hour < 12 else 'pm'}"
    later = "" if end.date() == start.date() else f", {roughly(hours)} on"
    return f"That is at {end:%H:%M} ({half}){later}."


def done(name: str, value: float, unit: str, t: Told, work: tuple[str, ...], verdict: str = "", *also: Figure, source: str = "arithmetic") -> Estimate:  # fmt: skip
    """The answer of a formula, with the lines of its working that are not empty and what was assumed."""
    return exact(name, value, unit, working=tuple(line for line in work if line), assumptions=tuple(t.assumed), source=source, verdict=verdict, also=also)  # fmt: skip


def _score(one: Role, term: Term) -> float | None:
    """How well a role fits an amount; None when it can not be."""
    unitless = term.kind == "n" and "n" not in one.kinds
    if term.kind not in one.kinds and not (unitless and one.bare):
        return None
    if one.each is not None and term.each != one.each:
        return None
    if one.never and compiled(one.never).search(term.around):
        return None
    found = one.base - (one.bare if unitless else 0.0)
    found += sum(weight for weight, cue in one.cues if compiled(cue).search(term.around))
    return found if found > _LEAST else None


def ways(roles: Sequence[Role], found: Sequence[Term]) -> list[tuple[float, dict[str, list[Term]]]]:
    """The ways to give each amount a role, the likeliest first."""
    choices = []
    for term in found:
        fitting = [(score, one) for one in roles if (score := _score(one, term)) is not None]
        if not fitting:
            return []  # an amount that can be nothing
        choices.append(sorted(fitting, key=lambda pair: -pair[0])[:6])
    handed: list[tuple[float, dict[str, list[Term]]]] = []
    for way in islice(product(*choices), _MOST):
        given: dict[str, list[Term]] = {}
        for term, (_, one) in zip(found, way, strict=True):
            if one.name in given and not one.many:
                break
            given.setdefault(one.name, []).append(term)
        else:
            handed.append((sum(score for score, _ in way), given))
    return sorted(handed, key=lambda pair: -pair[0])


def answered(family: Family, found: tuple[Term, ...], told: Callable[[Mapping[str, list[Term]]], Told]) -> tuple[float, Estimate] | None:  # fmt: skip
    """What the family makes of the amounts, with how likely it is; None when nothing, or not one thing, follows."""
    made: list[tuple[float, Estimate]] = []
    handed = ways(family.roles, found)[:_LOOKED_AT]
    for score, given in handed:
        way = told(given)
        estimate = family.solve(way)
        if estimate is not None and way.whole():
            lines = tuple(dict.fromkeys((*way.assumed, *estimate.assumptions)))
            made.append((score - way.doubt, replace(estimate, assumptions=lines)))
    if not made:
        return None
    best = max(made, key=lambda pair: pair[0])
    if best[0] < handed[0][0] - _FAR:
        return None  # the words speak for another sum, that does not come out
    rivals = (estimate for score, estimate in made if score >= best[0] - _MARGIN)
    return best if all(agree(best[1], rival) for rival in rivals) else None


def likeliest(
    families: Sequence[Family],
    question: Question,
    want: Wanted,
    found: tuple[Term, ...],
    told: Callable[[Mapping[str, list[Term]]], Told],
) -> tuple[str, Estimate] | None:
    """The answer of the family whose way is the likeliest, with the calculation it belongs to."""
    best: tuple[float, str, Estimate] | None = None
    for family in families:
        if family.applies(question, want, found):
            made = answered(family, found, told)
            if made is not None and (best is None or made[0] > best[0]):
                best = (made[0], family.calculation(question), made[1])
    return None if best is None else best[1:]


def agree(one: Estimate, other: Estimate) -> bool:
    """Whether two answers are as good as the same."""
    if one.value is None or other.value is None:
        return one.value is other.value
    return one.unit == other.unit and abs(one.value - other.value) <= 0.02 * max(abs(one.value), abs(other.value))
