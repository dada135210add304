"""Watts of heat pads and tapes added up, and whether they are as many as the tank needs."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed

_PADS = Lazy(r"\b(?:pads?|tapes?)\b")
_ASKED = Lazy(
    r"\bhow many watts\b|\bwatts (?:in all|altogether|total|all told)\b|\btotal watts\b|\bwhat (?:do|does|is|will) (?:they|that|it|the total|it all)\b|\benough\b"
)
_A_FOOT = Lazy(r"^(?:a|per|each|every|the|/|to the) ?(?:foot|ft)\b")
_NEEDS = Lazy(r"\b(?:needs?|takes?|loses?|wants?|requires?|calls for|loss of|need of)(?: (?:about|around|is|of))* $")
_HAVE = Lazy(
    r"\b(?:have|got|own|with|has|of|pads?|tapes?|at|are|and|plus|is|,|a|on)(?: (?:got|a|the|only|at|of))* $|^$"
)
_OF_PADS = Lazy(r"^(?:watts? )?(?:heat |heating |tank )?(?:pads?|tapes?|elements?|ones?)\b")
_MANY = Lazy(r"^(?:\w+ ){0,2}?(?:pads|tapes|of them)\b|^(?:runs|lengths) of\b")
_MOST = 6


def pads(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Watts of all pads and tapes, against what is needed when that is told."""
    if not _PADS.search(q.frame) or not _ASKED.search(q.frame) or not 2 <= len(q.amounts) <= _MOST:
        return None
    if {one.tag for one in q.amounts} - {"n", "W", "ft"} or q.has(r"\b(?:degrees?|hours|night|amps|battery|breaker)\b"):
        return None
    found = placed(q)
    if found is None:
        return None
    needs = [one for one in found if one.unit == "W" and _NEEDS.search(one.left)]
    judged = q.has(r"\b(?:enough|do it|cover|over|short)\b")
    if len(needs) > 1 or bool(needs) != judged:
        return None
    told = _watts([one for one in found if one not in needs])
    if told is None:
        return None
    total, line = told
    if not needs:
        return exact("in all", total, "W", working=(f"{line} = {shown(total)} W",), source="arithmetic")
    need = needs[0].value
    spare = total - need
    verdict = f"{'Yes' if spare >= 0 else 'No, not enough'}: {shown(total)} watts against {shown(need)}, {shown(abs(spare))} {'over' if spare >= 0 else 'short'}."
    return exact("in all", total, "W", working=(f"{line} = {shown(total)} W",), source="arithmetic", verdict=verdict, also=(figure("over" if spare >= 0 else "short", abs(spare), "W"),))  # fmt: skip


def _watts(rest: list[Said]) -> tuple[float, str] | None:
    """The watts of pads told as so many of so much, or as so much a foot; None when one amount has no place."""
    total, parts = 0.0, []
    count: float | None = None
    foot = [one for one in rest if one.unit == "W" and _A_FOOT.search(one.right)]
    lengths = [one for one in rest if one.unit == "ft"]
    if foot or lengths:
        many = [one for one in rest if one.unit == "n"]
        if [len(foot), len(lengths)] != [1, 1] or len(many) > 1 or len(many) + 2 != len(rest):
            return None
        each = lengths[0].right.startswith(("each", "apiece", "a piece", "long each")) or lengths[0].amount.each
        if many and not (each and _MANY.search(many[0].right)):
            return None
        number = many[0].value if many else 1.0
        return number * foot[0].value * lengths[0].value, f"{shown(number)} × {shown(foot[0].value)} W × {shown(lengths[0].value)} ft"  # fmt: skip
    for one in rest:
        if one.unit == "n" and count is None and (_MANY.search(one.right) or (not one.right and one.after == "W")):
            count = one.value
        elif one.unit == "W" or (one.unit == "n" and count is not None and one.left.endswith("pads of ")):
            if not (_OF_PADS.search(one.right) or _HAVE.search(one.left)):
                return None
            total += (count or 1.0) * one.value
            parts.append(f"{shown(count)} × {shown(one.value)}" if count else shown(one.value))
            count = None
        else:
            return None
    return (total, " + ".join(parts)) if parts and count is None else None
