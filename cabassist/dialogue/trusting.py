"""Whether the last sum, worked out again with what a follow-up says, may be told.

A follow-up changes one amount for another of the same kind and for the same purpose: a rate stays a rate, and what was used by
head stays so. An amount that found no place, or a place that the sum before had not although another of its kind had one, makes
the number a guess, and a guess is worse than asking.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import asked_unit, read_question
from cabassist.language.calculation_units import converted, same_kind
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import wanted

if TYPE_CHECKING:
    from cabassist.sums.working import Worked
    from cabassist.sums.working_sheet import Input

_SHIFTS = (1.0, 100.0, 0.01, 60.0, 1 / 60, 24.0, 1 / 24)
"""How an amount may be written among the inputs: percent as a share, minutes as hours, days as hours."""
_NEAR = 0.011
_APART = 4.0
"""A stock this many times greater than a rate is not taken for one."""


_POURS = Lazy(r"\b(?:does|do|gives?|pours?|runs? at|puts? out|delivers?|manages?|pumps?|fills? at)\b", re.IGNORECASE)


_OF_HEADS = Lazy(
    r"\b(?:half|thirds?|quarters?) of (?:them|us|em|the (?:team|guys|kids|players|passengers|boys|girls|people|bus))\b",
    re.IGNORECASE,
)


def doubtful(before: Worked, after: Worked, text: str) -> bool:
    """Whether the answer `after` to a text that leans on the sum `before` is a guess."""
    if before.estimate is None or after.estimate is None:
        return False
    question = read_question(text)
    old, new = _numbers(before), _numbers(after)
    changed = [one for name, one in new.items() if name not in old or old[name][:3] != one[:3]]
    given = [one for one in question.amounts if one.unit != "clock"]
    if any(not _placed(one, changed, after) for one in given):
        return True
    if _OF_HEADS.search(text) and any(_is_share(one) for one in changed):
        return True  # half of them is no level
    if _POURS.search(text) and any(one.unit in ("n", "used") for one in given):
        rates = [one for one in old.values() if one.origin == "said" and "/" in one.unit]
        if rates and not any("/" in one.unit for one in changed):
            return True  # "one that does nine" does so many a minute, and is no level
    for one in changed:
        bare = any(amount.unit in ("n", "used") and not amount.per and _is(amount, one) for amount in given)
        if one.name in old:
            lost_rate = "/" in old[one.name].unit and "/" not in one.unit and one.unit not in ("gpm", "mpg", "")
            if lost_rate:
                return True
            stood = [other for other in old.values() if other.origin == "said" and _is_share(other)]
            if old[one.name].origin != "said" and _is_share(one) and stood:
                return True  # a level where a share was said that it is to reach
        elif bare or any(_alike(one, other) for other in old.values() if other.origin == "said"):
            return True
    return not _as_asked(before, after, text)


def other_roles(before: Worked, after: Worked) -> bool:
    """Whether an amount put in the place of another was taken for something else: a level to reach for the level now."""
    old, new = (
        {one.name for one in worked.inputs if one.origin == "said" and not isinstance(one.value, str)}
        for worked in (before, after)
    )
    return bool(old - new) and bool(new - old)


def _numbers(worked: Worked) -> dict[str, Input]:
    return {one.name: one for one in worked.inputs if not isinstance(one.value, str)}


def _is(amount: Amount, one: Input) -> bool:
    value = float(one.value)
    if amount.unit != one.unit and same_kind(amount.unit, one.unit) and amount.unit not in ("F", "C"):
        return abs(converted(amount.value, amount.unit, one.unit) - value) <= _NEAR * max(abs(value), 1e-9)
    return any(abs(amount.value * shift - value) <= _NEAR * max(abs(value), 1e-9) for shift in _SHIFTS)


def _placed(amount: Amount, changed: list[Input], after: Worked) -> bool:
    """Whether an amount that was said stands among what the sum was worked out from."""
    if any(_is(amount, one) for one in changed):
        return True
    return any(abs(one - amount.value) <= _NEAR * max(abs(one), 1e-9) for one in _figures(after))


def uses(worked: Worked, value: float) -> bool:
    """Whether a value stands in an answer's inputs or working."""
    if any(not isinstance(one.value, str) and abs(one.value - value) <= 0.01 * abs(value) for one in worked.inputs):
        return True
    return any(abs(one - value) <= 0.01 * abs(value) for one in _figures(worked))


def _figures(worked: Worked) -> list[float]:
    """The numbers that stand in the working."""
    lines = " ".join(worked.estimate.working) if worked.estimate is not None else ""
    return [float(one.replace(",", "")) for one in re.findall(r"-?\d[\d,]*(?:\.\d+)?", lines)]


def _is_share(one: Input) -> bool:
    """Whether an input is a share of full."""
    return one.unit in ("part", "percent") or (not one.unit and one.name in ("limit", "target", "charge", "share"))


def _alike(one: Input, other: Input) -> bool:
    """Whether two inputs measure the same thing, be it a stock or a rate of it of about that size."""
    mine, theirs = one.unit.partition("/"), other.unit.partition("/")
    if not mine[0] or not (mine[0] == theirs[0] or same_kind(mine[0], theirs[0])):
        return False
    if bool(mine[2]) == bool(theirs[2]):
        return True
    return not mine[2] and abs(float(one.value)) < _APART * abs(float(other.value))


def _as_asked(before: Worked, after: Worked, text: str) -> bool:
    """Whether the answer is of the kind that the text asks for, or of the kind it had before."""
    if before.estimate is None or after.estimate is None:
        return True
    question = read_question(text)
    want = wanted(question)
    unit = asked_unit(question) or (want.unit if want is not None else "")
    if unit:
        given = {after.estimate.unit, *(one.unit for one in after.estimate.also)}
        return any(_kind(one) == _kind(unit) or same_kind(one, unit) for one in given)
    return same_kind(before.estimate.unit, after.estimate.unit) or _kind(before.estimate.unit) == _kind(
        after.estimate.unit
    )


def _kind(unit: str) -> str:
    return {"days": "day", "hours": "h", "fl oz": "floz"}.get(unit, unit)
