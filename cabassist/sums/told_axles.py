"""Axle weights added up, and one weight against its limit, where no load that moves is told beside them."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted

_NAMED = Lazy(r"\b(?:steers?|front|drives?|rear|tags?|trailer|tandems?|second|third|axle)\b")
_TOTAL = Lazy(
    r"\b(?:total|in all|altogether|all together|add up|adds? up|gross|come to|comes to|sum|whole (?:coach|thing|rig|bus)|what (?:does|do|is|' s) (?:the |it |she |we |they )?(?:coach |bus |rig )?(?:all )?(?:weigh\w*|together)|coach weigh|how heavy)\b"
)
_LIMIT = Lazy(
    r"\b(?:limit\w*|rat(?:ed|ing)|max\w*|allow\w*|legal|good for|can (?:have|take|carry|hold)|may (?:have|weigh|carry)|supposed to)\b"
)
_LIMIT_AT = r"\b(?:limit\w*|rating|rated|max\w*|legal|allow\w*|good for|can (?:have|take|carry|hold)|may (?:have|weigh|carry))(?: (?:is|at|for|of|to|only|up|just|a|the|gross|weight|on|it|that|axle|' s|are|be|with|about)){0,4} ({n|lb})|({n|lb}) (?:is |' s )?(?:the |its |a |my )?(?:\w+ )?(?:limit|max\w*|rating|legal|allowed)\b"
_ASKED = Lazy(r"\b(?:left|more|still|over|under|room|spare|short|heavy|light|ok|okay|legal|within|add|load)\b")
_ELSE = Lazy(r"\b(?:water|gallons?|gal|waste|dump|drain|fuel|diesel|tank|bags?|people|passengers?|trunks?|gear|each|apiece|jack\w*|percent|shift\w*|mov\w*|added|adding|unload\w*|put on|take off|percent)\b|<(?!n>|lb>)[^>]+>")  # fmt: skip
_LIGHTEST, _HEAVIEST = 2_000.0, 99_900.0
_AXLE_LB, _COACH_LB = 20_000.0, 80_000.0


def axles(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The weights of all axles in one sum, or what one weight lacks to its limit."""
    if not names_any(q.text.lower(), ("axle", "steer", "drive", "tag", "scale", "gross", "weigh")) or _ELSE.search(
        q.frame
    ):
        return None
    told = [one for one in q.amounts if q.words[one.start : one.end] != ("one",)]
    if not 2 <= len(told) <= 5 or any(one.unit not in ("n", "lb") or one.per or one.each for one in told):
        return None
    if want.kind not in ("mass", "") or not all(_LIGHTEST <= one.value <= _HEAVIEST for one in told):
        return None
    limits = q.find(_LIMIT_AT)
    if not limits and not _LIMIT.search(q.frame) and _TOTAL.search(q.frame):
        if len(_NAMED.findall(q.frame)) < len(told) and not q.has(r"\baxles\b"):
            return None
        total = sum(one.value for one in told)
        line = f"{' + '.join(shown(one.value, 6) for one in told)} = {shown(total, 6)} lb"
        return exact("weight", total, "lb", working=(line,), source="arithmetic")
    if len(limits) != 1 or len(told) != 2 or not _ASKED.search(q.frame):
        return None
    limit, weighs = limits[0].value, next(one.value for one in told if one is not limits[0])
    gap = limit - weighs
    line = f"{shown(limit, 6)} - {shown(weighs, 6)} = {shown(gap, 6)} lb"
    judged = q.has(r"\b(?:ok|okay|legal|within|am i|are we|is (?:it|that|she)|still under)\b")
    over_asked = q.has(r"\b(?:over|too heavy)\b") and not q.has(r"\b(?:over or|or over)\b")
    yes = (gap < 0) if over_asked else gap >= 0
    said = f"{shown(abs(gap), 6)} pounds {'under' if gap >= 0 else 'over'} the limit."
    return exact("left" if gap >= 0 else "over", abs(gap), "lb", working=(line,), source="arithmetic", verdict=f"{'Yes' if yes else 'No'}: {said}" if judged else said)  # fmt: skip
