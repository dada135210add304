"""A sum that goes on with the one before: one of its amounts changed, or one more added, in a few words.

The network reads the first question and the few words as one text. What each new amount is for tells which old one it
replaces; the first question is then put anew with it, and worked out as any other. Nothing is believed unless the network
comes to the first answer from the first question by itself.
"""

from __future__ import annotations

import math
from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, read_question
from cabassist.language.role_network import Handed, RoleNetwork
from cabassist.sums.families import agree
from cabassist.sums.handing import Found, handed_out

BESIDE = "beside"
"""The role of an amount that plays no part."""
_SURE = 0.5
"""How likely the role of a new amount must be."""
_SURE_BARE = 0.6
"""The same of a number without a unit."""
_AS_SURE = 0.8
"""How sure the changed sum must be, as a share of how sure the first one was."""


_RIVAL = 0.4
"""How likely no other amount may be the one that a number without a unit replaces."""


class GoneOn(NamedTuple):
    """What a sum comes to after a change, and the question that it now is."""

    found: Found
    question: str


def gone_on(
    before: str, answer: Estimate, text: str, *, network: RoleNetwork, coach: Coach, now: datetime, least: float
) -> GoneOn | None:
    """The sum `before`, which came to `answer`, with what `text` changes in it.

    None when the network does not come to the answer by itself, sees no change, or is less sure than `least`.
    """
    metric = coach.units == "metric"
    first, added = read_question(before, metric=metric), read_question(text, metric=metric)
    if not first.amounts or not added.amounts:
        return None
    joint = f"{before.rstrip(' .?!,')}. {text}"
    whole = read_question(joint, metric=metric)
    if len(whole.amounts) != len(first.amounts) + len(added.amounts):
        return None  # an amount of one ran into one of the other
    own = handed_out(first, network, coach, now)
    if own is None or not own.placed or not agree(own.estimate, answer):
        return None
    question = _put(first, own, whole, network.hand_out(whole)) or joint
    found = handed_out(read_question(question, metric=metric), network, coach, now)
    least = min(least, _AS_SURE * own.sure)  # of the first question the answer is known to be right
    if found is None or found.sure < least or found.family != own.family or agree(found.estimate, own.estimate):
        return None
    if question == joint:
        told = found.placed[len(first.amounts) :]
        return GoneOn(found, question) if not {BESIDE, ""} & {*told} else None
    return GoneOn(found, question) if found.placed == own.placed else None


def _put(first: Question, own: Found, whole: Question, handed: Handed) -> str | None:
    """The first question with each new amount in the place of the one it replaces; None where none is replaced."""
    words, count = list(first.words), len(first.amounts)
    swaps: dict[int, str] = {}
    for place in range(count, len(whole.amounts)):
        role = _role(handed, own.family, place, _SURE_BARE if whole.amounts[place].unit == "n" else _SURE)
        places = [at for at, name in enumerate(own.placed) if name == role and at not in swaps]
        if not role or role == BESIDE or not places:
            return None
        at = max(places, key=lambda one: handed.role(own.family, BESIDE, one))
        others = [one for one in range(count) if one != at]
        if whole.amounts[place].unit == "n" and any(_replaced(handed, own.family, one) > _RIVAL for one in others):
            return None  # it may as well stand for another amount
        said = _said(whole.amounts[place], first.amounts[at], whole)
        if not said:
            return None
        swaps[at] = said
    for at in sorted(swaps, reverse=True):
        words[first.amounts[at].start : first.amounts[at].end] = [swaps[at]]
    return " ".join(words)


def _replaced(handed: Handed, family: str, place: int) -> float:
    """How likely an amount plays no part any more, 0 to 1."""
    return math.exp(handed.role(family, BESIDE, place))


def _role(handed: Handed, family: str, place: int, least: float) -> str:
    """The role of an amount in a family, when it is likely enough."""
    names = [name.partition(".")[2] for name in handed.roles[place] if name.startswith(f"{family}.")]
    best = max(names, key=lambda name: handed.role(family, name, place), default="")
    return best if best and handed.role(family, best, place) >= math.log(least) else ""


def _said(new: Amount, old: Amount, question: Question) -> str:
    """The new amount in words, with what is left unsaid of its unit as the old one has it; empty where that cannot be written."""
    words = " ".join(question.words[new.start : new.end])
    unit = old.unit if new.unit == "n" else new.unit
    whole = new._replace(unit=unit, per=new.per or old.per, each=new.each or old.each)
    ways = [words]
    if whole.tag != new.tag:
        number = f"{'minus ' if new.value < 0 else ''}{abs(new.value):.6g} {_NAMED.get(unit, unit)}"
        each = " each" if whole.each else ""
        ways = [f"{number}{by}{each}" for by in ([f" a {whole.per}", f" / {whole.per}"] if whole.per else [""])]
    return next((way for way in ways if _reads_as(way, whole)), "")


_NAMED = {"n": "", "temp": "degrees"}
"""Units that are not written as they are called here."""


def _reads_as(words: str, amount: Amount) -> bool:
    read = read_question(words).amounts
    return len(read) == 1 and (read[0].value, read[0].tag) == (amount.value, amount.tag)
