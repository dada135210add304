"""What is carried in place of something else, how many heads or jugs an amount makes, axles on one ticket."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_SWAPS = Lazy(r"\b(?:instead(?: of)?|swap\w*|trad(?:e|es|ed|ing)|replac\w*|in place of|rather than|switch\w*)\b")
_MASSES = ("lb", "kg")
_HEAVY = Lazy(r"\b(?:pounds?|lbs?|kilos?|kg|weigh\w*|lighter|heavier|save[sd]?|difference|lose|gain)\b")
_TANKS = Lazy(r"<(?:gal|L|mi|h|psi|W|A|V|BTU|BTU/h|F|C|temp|part|percent)[/>]")
_PARTED = Lazy(r"\b(?:for|with|by)\b")
_COUNTS = frozenset({"n", "bag", "people"})


def _mass(one: Amount) -> float:
    return converted(one.value, one.unit, "lb") if one.unit in _MASSES else one.value


def swapped(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds lighter or heavier when so many of one weight are carried instead of so many of another."""
    frame = q.frame
    if not _SWAPS.search(frame) or not _HEAVY.search(frame) or _TANKS.search(frame):
        return None
    heads = any(one.unit == "people" for one in q.amounts) and q.has(r"\b(?:pounds?|lbs?)\b")
    if not 2 <= len(q.amounts) <= 4 or not (heads or any(one.unit in _MASSES for one in q.amounts)):
        return None
    at = _SWAPS.search(frame)
    assert at is not None
    place = frame.count("<", 0, at.start())
    ahead = at[0] in ("instead of", "in place of", "rather than")
    if at[0] == "instead":  # "40 bags at 45 pounds, say 38 instead"
        return None
    if ahead:
        new, old = q.amounts[:place], q.amounts[place:]
    else:
        parted = _PARTED.search(frame[at.end() :])
        if parted is None or place:
            return None
        middle = frame[at.end() :].count("<", 0, parted.start())
        old, new = q.amounts[:middle], q.amounts[middle:]
    first, second = _side(old), _side(new)
    if first is None or second is None:
        return None
    if len(old) == 1 and old[0].tag == "n":
        first = _alike(old[0].value, second)
    if len(new) == 1 and new[0].tag == "n":
        second = _alike(new[0].value, first or (None, None))
    if first is None or second is None:
        return None
    shared = [pair for pair in (first, second) if pair[0] is not None]
    weights = [pair for pair in (first, second) if pair[1] is not None]
    if not shared or not weights:
        return None
    was = (first[0] or shared[0][0] or 0.0, first[1] or weights[0][1] or 0.0)
    gets = (second[0] or shared[0][0] or 0.0, second[1] or weights[0][1] or 0.0)
    before, after = was[0] * was[1], gets[0] * gets[1]
    if not before or not after or before == after:
        return None
    working = (
        f"{shown(was[0])} × {shown(was[1])} = {shown(before)} lb",
        f"{shown(gets[0])} × {shown(gets[1])} = {shown(after)} lb",
        f"{shown(after)} − {shown(before)} = {shown(after - before)} lb",
    )
    verdict = f"{shown(abs(after - before))} pounds {'lighter' if after < before else 'heavier'}."
    return exact("difference", abs(after - before), "lb", working=working, source="arithmetic", verdict=verdict)


_NEAR, _FAR = 1.6, 2.0
"""A bare number is what it is so near to, and no other that it is so far from."""


def _alike(value: float, other: tuple[float | None, float | None]) -> tuple[float | None, float | None] | None:
    """Whether a bare number is as many as, or as heavy as, what it stands in for; None when it may be either."""
    many, each = other
    if many is None or each is None or min(value, many, each) <= 0:
        return None
    to_many, to_each = (max(value / one, one / value) for one in (many, each))
    if to_many <= _NEAR and to_each >= _FAR:
        return value, None
    return (None, value) if to_each <= _NEAR and to_many >= _FAR else None


def unlike(q: Question) -> str:
    """A bare number that stands in for bags of a weight, and may be bags or pounds."""
    if not _SWAPS.search(q.frame) or not _HEAVY.search(q.frame) or _TANKS.search(q.frame) or len(q.amounts) != 3:
        return ""
    *sides, last = q.amounts
    if last.tag != "n" or not any(one.unit in _MASSES for one in sides) or not q.has(r"\binstead of <n>"):
        return ""
    return f"Is the {shown(last.value)} how many there are, or the pounds of each? Say both loads with their pounds."


def _side(amounts: tuple[Amount, ...]) -> tuple[float | None, float | None] | None:
    """How many and of what weight each; None when it is neither."""
    many: float | None = None
    each: float | None = None
    for one in amounts:
        if one.per:
            return None
        if one.unit in _MASSES or (one.each and one.unit == "n"):
            if each is not None:
                return None
            each = _mass(one)
        elif one.unit in _COUNTS:
            if many is None and each is None:
                many = one.value
            elif many is not None and each is None and one.unit == "n":
                each = one.value
            elif many is None and one.unit != "n":
                many = one.value
            else:
                return None
        else:
            return None
    return (many, each) if amounts else None


_HEADS = Lazy(r"\bhow many (?:more )?(?:people|souls|players|passengers|guys|kids|heads|of (?:us|them)|men|women|riders|can (?:i|we) (?:board|seat|carry|take))\b")  # fmt: skip
_ROOM = Lazy(r"\b(?:payload|left|limit|room|capacity|spare|allowance|to spare|margin)\b")


def boarded(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many people with their bags a payload carries."""
    if not _HEADS.search(q.frame) or not _ROOM.search(q.frame) or len(q.amounts) != 3:
        return None
    if any(one.per or one.unit not in ("lb", "kg", "n") for one in q.amounts):
        return None
    if not any(one.unit in _MASSES for one in q.amounts) or not q.has(r"\b(?:bags?|gear|kit|luggage|duffels?)\b"):
        return None
    whole, *each = sorted(map(_mass, q.amounts), reverse=True)
    one = sum(each)
    if whole < 1000 or not 90 <= each[0] <= 400 or not 5 <= each[1] < each[0]:
        return None
    many = int(whole / one + 1e-9)
    working = (f"{shown(each[0])} + {shown(each[1])} = {shown(one)} lb", f"{shown(whole)} ÷ {shown(one)} = {shown(whole / one)}")  # fmt: skip
    return exact("that many fit", float(many), "persons", working=working, source="arithmetic", verdict=f"{many} people, {shown(many * one)} pounds in all.")  # fmt: skip


_JUGS = r"\bhow many (?:of )?(?:(?:the|them|those|these|our|full) )*(?:{gal|L|qt|floz|cup|pt} )?(?:jugs?|buckets?|cans?|bottles?|carboys?|pails?|cups?|mugs?|trips?|canisters?|glasses)\b"
_NOUN = Lazy(r"\b(?P<what>jugs?|buckets?|cans?|bottles?|carboys?|pails?|cups?|mugs?|trips?|canisters?)\b")
_POURED = Lazy(r"\b(?:out of|come|comes|get|fill(?:ed)? (?:right )?up|serve|urn|pot|thermos|dispenser)\b")
_VESSELS = ("gal", "L", "qt", "pt", "floz", "cup")


def jugs(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many jugs carry so much water, or how many cups an urn pours."""
    cups = q.has(r"<floz> (?:cups?|mugs?|glasses|paper cups?)\b.*\bcups\b|\bcups\b.*<floz>")
    if not q.has(_JUGS) and not cups:
        return None
    if len(q.amounts) != 2 or any(one.unit not in _VESSELS or one.per or one.each for one in q.amounts):
        return None
    if q.has(r"\b(?:left|used|bleach|propane|shower\w*|tank is|dump\w*)\b"):
        return None
    small, large = sorted(q.amounts, key=lambda one: one.value * FACTORS[one.unit][1])
    ratio = large.value * FACTORS[large.unit][1] / (small.value * FACTORS[small.unit][1])
    poured = _POURED.search(q.frame) is not None and not q.has(r"\b(?:haul|carry|bring|need|lug|fetch)\b")
    many = math.floor(ratio + 1e-9) if poured else math.ceil(ratio - 1e-9)
    line = f"{shown(large.value)} {large.unit} ÷ {shown(small.value)} {small.unit} = {shown(ratio)}"
    named = _NOUN.search(q.frame)
    what = "cups" if cups or named is None else named["what"].removesuffix("s") + "s"
    unit = "cup" if what == "cups" else large.unit  # an urn's cups as a measure, beside those that are filled
    held = figure("in all", converted(large.value, large.unit, unit), unit)
    return exact("that many", float(many), what, working=(line,), source="arithmetic", verdict=f"{many} {what}.", also=(held,))  # fmt: skip


_AXLE = Lazy(r"\b(?:steers?|drives?|tags?|front|rear|trailing|bogie)\b[^<]*$")
_GROSS = Lazy(r"\b(?:gross|plate[ds]?|gvwr|gvw|limit|max\w*|allowed|rated)\b[^<]*$")
_GROSS_AFTER = Lazy(r"^ (?:gross|max\w*|limit|gvwr|gvw|on the plate|allowed)\b")


def ticket(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The axles of one ticket added up, and what is left under the gross weight of the plate."""
    if not 2 <= len(q.amounts) <= 5 or any(one.unit not in ("n", "lb") or one.per or one.value < 1000 for one in q.amounts):  # fmt: skip
        return None
    pieces = Lazy(r"<(?:n|lb)>").finditer(q.frame)
    axles, gross, start = [], [], 0
    for one, tag in zip(q.amounts, pieces, strict=True):
        left = q.frame[start : tag.start()]
        limit = _GROSS.search(left) or _GROSS_AFTER.search(q.frame[tag.end() :])
        if limit:
            gross.append(one.value)
        elif _AXLE.search(left):
            axles.append(one.value)
        else:
            return None
        start = tag.end()
    if len(axles) < 2 or len(gross) > 1 or q.has(r"\b(?:each|axle limit|per axle|instead|bridge|jack)\b"):
        return None
    total = sum(axles)
    line = f"{' + '.join(shown(one, 6) for one in axles)} = {shown(total, 6)} lb"
    if not gross:
        asked = q.has(r"\b(?:gross|total|in all|altogether|add up|all together|combined|sum)\b")
        return exact("gross weight", total, "lb", working=(line,), source="arithmetic") if asked else None
    if not q.has(r"\b(?:room|left|under|over|legal|spare|margin|how much|too (?:much|heavy)|ok|okay|payload)\b"):
        return None
    left_over = gross[0] - total
    head = ("Yes. " if left_over >= 0 else "No. ") if q.has(r"\b(?:legal|ok|okay|under|fine)\b") else ""
    verdict = f"{head}{left_over:,.0f} pounds left under the plate." if left_over >= 0 else f"{head}Too heavy by {-left_over:,.0f} pounds."  # fmt: skip
    return exact("left under the plate", abs(left_over), "lb", working=(line, f"{shown(gross[0], 6)} − {shown(total, 6)} = {shown(left_over, 6)} lb"), source="arithmetic", verdict=verdict, also=(figure("gross weight", total, "lb"),))  # fmt: skip
