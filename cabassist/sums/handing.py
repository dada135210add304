"""A sum whose amounts get their roles from the network, instead of from cues beside each role.

Of every family that the question may be, the ways to hand out the roles are tried, each as likely as the network has it. What
comes out is as likely as all ways that come to it together.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from itertools import islice, product
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import Question
from cabassist.language.role_network import NO_SUM, Handed, RoleNetwork
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import Wanted, implied, wanted
from cabassist.sums.families import Family, Role, Told, agree
from cabassist.sums.sums_compared import COMPARED
from cabassist.sums.sums_fill import FILL
from cabassist.sums.summing import FAMILIES, as_wanted
from cabassist.sums.told_sums import FAMILIES as TOLD

OF_TANKS: tuple[Family, ...] = (*FAMILIES, COMPARED, FILL)
_LEAST = 0.03
"""A family less likely than this is not tried."""
_FAINT = -5.0
"""A role less likely than this, as a logarithm, is not tried."""
_MOST = 600
"""Ways that are worked out in a family."""


class Found(NamedTuple):
    """What a question comes to, and how likely that is."""

    calculation: str
    estimate: Estimate
    chance: float
    """Of all that the question may come to, it being a sum of these families or none."""
    sure: float
    """How likely the ways that come to it are in themselves."""


def handed_out(question: Question, network: RoleNetwork, coach: Coach, now: datetime) -> Found | None:
    """The likeliest thing that the question's amounts come to; None when nothing does."""
    if not question.amounts:
        return None
    handed = network.hand_out(question)
    made: list[tuple[float, str, Estimate]] = []
    for family in (*OF_TANKS, *TOLD):
        chance = math.exp(handed.families.get(family.name, -99.0))
        if chance < _LEAST:
            continue
        of_tanks = family in OF_TANKS
        found = terms(question) if of_tanks else terms_of(question)
        if not found:
            continue
        want = (wanted(question) or implied(question) if of_tanks else asked_for(question)) or Wanted()
        for likely, given in _ways(family, found, question, handed):
            told = Told(given, question, want, coach, now)
            try:
                estimate = family.solve(told)
            except (ValueError, ArithmeticError, AssertionError):
                continue  # an amount that can not have that role
            if estimate is not None and told.whole() and (estimate.value is not None or estimate.verdict):
                lines = tuple(dict.fromkeys((*told.assumed, *estimate.assumptions)))
                estimate = replace(estimate, assumptions=lines)
                made.append((chance * math.exp(likely - told.doubt), family.calculation(question), as_wanted(estimate, want) if of_tanks else estimate))
    if not made:
        return None
    groups: list[tuple[float, str, Estimate]] = []
    for mass, calculation, estimate in sorted(made, key=lambda one: -one[0]):
        for i, (sum_, name, known) in enumerate(groups):
            if agree(known, estimate):
                groups[i] = (sum_ + mass, name, known)
                break
        else:
            groups.append((mass, calculation, estimate))
    best = max(groups, key=lambda one: one[0])
    none = math.exp(handed.families.get(NO_SUM, -99.0))
    return Found(best[1], best[2], best[0] / (sum(one[0] for one in groups) + none), best[0])


def _ways(family: Family, found: Sequence[Term], question: Question, handed: Handed) -> list[tuple[float, dict[str, list[Term]]]]:  # fmt: skip
    """The ways to hand out the roles, each with the logarithm of its chance, the likeliest first."""
    at = {amount.start: place for place, amount in enumerate(question.amounts)}
    many = {one.name for one in family.roles if one.many} | {"beside"}
    choices = []
    for term in found:
        place = at.get(term.amount.start)
        if place is None:
            return []
        names = {one.name for one in family.roles if _can_be(one, term)} | {"beside"}
        fitting = [(score, name) for name in names if (score := handed.role(family.name, name, place)) > _FAINT]
        if not fitting:
            return []
        choices.append(sorted(fitting, reverse=True)[:5])
    ways = []
    for way in islice(product(*choices), 4 * _MOST):
        given: dict[str, list[Term]] = {}
        for term, (_, name) in zip(found, way, strict=True):
            if name in given and name not in many:
                break
            given.setdefault(name, []).append(term)
        else:
            ways.append((sum(score for score, _ in way), given))
    return sorted(ways, key=lambda pair: -pair[0])[:_MOST]


def _can_be(one: Role, term: Term) -> bool:
    """Whether an amount is of a kind that the role takes, whatever the words."""
    fits = term.kind in one.kinds or (term.kind == "n" and bool(one.bare))
    return fits and (one.each is None or term.each == one.each)
