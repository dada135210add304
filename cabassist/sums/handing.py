"""A sum whose amounts get their roles from the network, instead of from cues beside each role.

Of every family that the question may be, the ways to hand out the roles are tried, each as likely as the network has it. What
comes out is as likely as all ways that come to it together.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from itertools import islice, product
from pathlib import Path
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.errors import Problem
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import Question, compiled, read_question
from cabassist.language.role_network import Handed, RoleNetwork, kind_of_unit
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import Wanted, implied, wanted
from cabassist.sums.families import Family, Role, Told, agree
from cabassist.sums.marked import marked
from cabassist.sums.summing import FAMILIES, as_wanted
from cabassist.sums.sums_compared import COMPARED
from cabassist.sums.sums_fill import FILL
from cabassist.sums.told_sums import FAMILIES as TOLD

OF_TANKS: tuple[Family, ...] = (*FAMILIES, COMPARED, FILL)
NO_FAMILY = "none"
"""The file of texts with amounts that belong to no family."""
_LEAST = 0.03
"""A family less likely than this is not tried."""
_FAINT = -5.0
"""A role less likely than this, as a logarithm, is not tried."""
_FAINT_KIND = 0.01
"""How likely an answer of a kind is at least, that the network thinks is not wanted."""
_CLOCK = re.compile(r"\b\d\d?:\d\d\b")
_TIMES = frozenset({"h", "min", "days"})
_YES_NO = re.compile(r"(?:Yes|No)\b")
_PLAIN = math.log(0.7)
"""From here on a role is sure enough to be told."""
_DENIED = 2.5
"""How much less likely, as a logarithm, a role is that the words around the amount deny; in the marked wordings that hardly ever happens."""
_MOST = 60
"""Ways that are worked out in a family."""
_BEHIND = 3.0
"""How much less likely than one that comes out, as a logarithm, another way may be to be worked out as well."""


class Found(NamedTuple):
    """What a question comes to, and how likely that is."""

    calculation: str
    estimate: Estimate
    sure: float
    """How likely it is, of all that the amounts may be for, with or without an answer."""
    roles: tuple[tuple[str, str], ...] = ()
    """What each amount was taken for: ("size", "80 gal")."""
    family: str = ""
    placed: tuple[str, ...] = ()
    """The role of each amount of the question, in order."""


def marks_amiss(folder: Path) -> list[Problem]:
    """What is wrong with the marked wordings of a knowledge folder: marks that are not sound, unknown roles, other amounts than are read."""
    found = []
    families = {family.name: family for family in (*OF_TANKS, *TOLD)}
    for path in sorted((folder / "roles").glob("*.txt")):
        where, family = str(path.relative_to(folder.parent)), families.get(path.stem)
        if family is None:
            found += [Problem(where, 1, "", f"there is no family '{path.stem}'", "reference")] * (
                path.stem != NO_FAMILY
            )
            continue
        roles = {one.name for one in family.roles} | {"beside"}
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            try:
                one = marked(line)
            except ValueError as error:
                found.append(Problem(where, number, "", str(error), "mark"))
                continue
            if unknown := sorted(set(one.roles) - roles):
                found.append(Problem(where, number, "", f"the family has no role '{unknown[0]}'", "reference"))
            read = len(read_question(one.text).amounts)
            if read != len(one.roles):
                found.append(
                    Problem(where, number, "", f"{len(one.roles)} amounts are marked and {read} are read", "mark")
                )
    return found


def handed_out(question: Question, network: RoleNetwork, coach: Coach, now: datetime) -> Found | None:
    """The likeliest thing that the question's amounts come to; None when nothing does."""
    if not question.amounts:
        return None
    handed = network.hand_out(question)
    made: list[_Made] = []
    for family in (*OF_TANKS, *TOLD):
        chance = math.exp(handed.families.get(family.name, -99.0))
        if chance >= _LEAST:
            made += [one._replace(mass=chance * one.mass) for one in _made(family, question, handed, coach, now)]
    if not made:
        return None
    alike: list[list[_Made]] = []
    for one in sorted(made, key=lambda one: -one.mass):
        group = next((group for group in alike if agree(group[0].estimate, one.estimate)), None)
        if group is None:
            alike.append([one])
        else:
            group.append(one)
    masses = [sum(one.mass for one in group) for group in alike]
    best = max(range(len(alike)), key=masses.__getitem__)
    first = alike[best][0]
    return Found(first.calculation, first.estimate, masses[best], first.roles, first.family, first.placed)


class _Made(NamedTuple):
    """What one way to hand out the roles comes to."""

    mass: float
    calculation: str
    estimate: Estimate
    roles: tuple[tuple[str, str], ...]
    family: str
    placed: tuple[str, ...]


def _made(family: Family, question: Question, handed: Handed, coach: Coach, now: datetime) -> list[_Made]:
    """What the likeliest ways of a family come to."""
    of_tanks = family in OF_TANKS
    found = terms(question) if of_tanks else terms_of(question)
    if not found:
        return []
    heard = wanted(question) or implied(question) if of_tanks else asked_for(question)
    likeliest = max(handed.wanted, key=handed.wanted.__getitem__)
    wants = [heard or Wanted(), wanted_as(likeliest)]
    if likeliest == "count" and of_tanks and (heard is None or heard.kind == ""):
        wants.append(Wanted("people", "people"))  # "how many heads is that good for"
    made: list[_Made] = []
    least = -math.inf
    for likely, given in _ways(family, found, question, handed):
        if likely < least:
            break
        answers = [
            one for want in wants if (one := _answer(family, given, question, want, handed, coach, now)) is not None
        ]
        if answers:
            least = max(least, likely - _BEHIND)
            fits, estimate = max(answers, key=lambda one: one[0])
            roles = _told_roles(family, given, question, handed)
            at = {term.amount.start: name for name, amounts in given.items() for term in amounts}
            placed = tuple(at.get(amount.start, "") for amount in question.amounts)
            calculation = family.calculation(question)
            made.append(_Made(fits * math.exp(likely), calculation, estimate, roles, family.name, placed))
    return made


def _told_roles(
    family: Family, given: dict[str, list[Term]], question: Question, handed: Handed
) -> tuple[tuple[str, str], ...]:
    """What each amount was taken for, in order; nothing when the network is not sure of one of them."""
    at = {amount.start: place for place, amount in enumerate(question.amounts)}
    placed = sorted((at[term.amount.start], name, term) for name, amounts in given.items() for term in amounts)
    if any(handed.role(family.name, name, place) < _PLAIN for place, name, _ in placed):
        return ()
    return tuple(
        (name, " ".join(question.words[term.amount.start : term.amount.end]))
        for _, name, term in placed
        if name != "beside"
    )


def _answer(
    family: Family,
    given: dict[str, list[Term]],
    question: Question,
    want: Wanted,
    handed: Handed,
    coach: Coach,
    now: datetime,
) -> tuple[float, Estimate] | None:
    """What comes of one way to hand out the roles, and how likely an answer of that kind is wanted."""
    told = Told(dict(given), question, want, coach, now)
    try:
        estimate = family.solve(told)
    except (ValueError, ArithmeticError, AssertionError, LookupError, TypeError, AttributeError):
        return None  # an amount that can not have that role: pint's errors are of these kinds too
    if estimate is None or not told.whole() or (estimate.value is None and not estimate.verdict):
        return None
    if estimate.value == 0 and estimate.unit in _TIMES:
        return None  # nobody asks for the time until what is there already
    estimate = replace(estimate, assumptions=tuple(dict.fromkeys((*told.assumed, *estimate.assumptions))))
    estimate = as_wanted(estimate, want) if family in OF_TANKS else estimate
    kinds = {kind_of_unit(estimate.unit)} if estimate.value is not None else {"word"}
    kinds |= {"clock"} if _CLOCK.search(estimate.verdict) else set()
    kinds |= {"yes-no"} if _YES_NO.match(estimate.verdict) else {"word"} if estimate.verdict else set()
    fits = sum(math.exp(chance) for kind, chance in handed.wanted.items() if kind in kinds)
    return max(fits, _FAINT_KIND) * math.exp(-told.doubt), estimate


def wanted_as(kind: str) -> Wanted:
    """What is wanted, as the families know it, by the kind of answer."""
    if kind == "yes-no":
        return Wanted(judged=True)
    return Wanted("time", clock=True) if kind == "clock" else Wanted("" if kind in ("word", "count") else kind)


def _ways(family: Family, found: Sequence[Term], question: Question, handed: Handed) -> list[tuple[float, dict[str, list[Term]]]]:  # fmt: skip
    """The ways to hand out the roles, each with the logarithm of its chance, the likeliest first."""
    at = {amount.start: place for place, amount in enumerate(question.amounts)}
    many = {one.name for one in family.roles if one.many} | {"beside"}
    choices = []
    for term in found:
        place = at.get(term.amount.start)
        if place is None:
            return []
        fitting = [
            (score - (_DENIED if denied else 0.0), name)
            for name, denied in _names(family, term).items()
            if (score := handed.role(family.name, name, place)) > _FAINT
        ]
        if not fitting:
            return []
        choices.append(sorted(fitting, reverse=True)[:5])
    ways = []
    for way in islice(product(*choices), 20 * _MOST):
        given: dict[str, list[Term]] = {}
        for term, (_, name) in zip(found, way, strict=True):
            if name in given and name not in many:
                break
            given.setdefault(name, []).append(term)
        else:
            ways.append((sum(score for score, _ in way), given))
    return sorted(ways, key=lambda pair: -pair[0])[:_MOST]


def _names(family: Family, term: Term) -> dict[str, bool]:
    """The roles that an amount can have, and whether the words around it deny the role, as they hardly ever do rightly."""
    found = {"beside": False}
    for one in family.roles:
        if _can_be(one, term):
            denied = bool(one.never) and compiled(one.never).search(term.around) is not None
            found[one.name] = denied and found.get(one.name, True)
    return found


def _can_be(one: Role, term: Term) -> bool:
    """Whether an amount is of a kind that the role takes, whatever the words."""
    fits = term.kind in one.kinds or (term.kind == "n" and bool(one.bare))
    return fits and (one.each is None or term.each == one.each)
