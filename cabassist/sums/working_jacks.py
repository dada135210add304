"""Questions about jacks: whether one may lift an axle or one side of it, and when it is inspected again."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Missing, Sheet, quantity

if TYPE_CHECKING:
    from pint import Quantity

_JACK = Lazy(r"\bjacks?\b")
_LIFTS = Lazy(
    r"\b(?:can|could|will|would|does|do|is|may|enough|strong|big|okay|ok|rated|rating|capacity|hold|lift|raise|handle|take|pick)\b"
)
_NO_MARK = Lazy(
    r"\b(?:no|not|without|lost its|worn|missing|illegible|unreadable)\b(?: \w+){0,3} (?:mark\w*|rating|rated|label|plate|stamp\w*|decal)\b|\bunmarked\b|\b(?:mark|rating|label|plate|stamp|decal)\w* (?:is |has )?(?:gone|missing|worn|unreadable|illegible|rubbed)"
)
_INSPECTED = Lazy(r"\b(?:inspect\w*|checked|looked over)\b")
_DUE = Lazy(r"\b(?:due|next|again|when|overdue|how long|in date|still)\b")
_OTHER = Lazy(r"\b(?:headphone|cable jack|phone jack|jack ?kni\w*)\b|<(?:psi|bar|V|A|gal|h|min)(?:/\w+)?>")
_UNDER = Lazy(r"\b(?:under|beneath|underneath|crawl\w*|climb\w*|sleep\w*|lie|lying|slide|below it)\b")
"""Who goes under is not answered with a number."""
_AXLE = r"(?:axles?|drives?|drive axle|tag|steer(?: axle)?|front|rear)"
_SIDE = Lazy(r"\b(?:one|<n>|a|each|either|single|just the) (?:\w+ )?(?:side|corner|end|wheel)\b|\bhalf (?:of )?(?:the|an) axle\b|\bper side\b|\bside of\b")  # fmt: skip
_ON_SIDE = Lazy(
    r"<(?:lb|kg|ton)> (?:pounds )?(?:on|at|for|per) (?:the |that |one |<n> |each |a )?(?:\w+ )?(?:side|corner|end|wheel)\b|\b(?:side|corner|end|wheel) (?:weighs?|is|has|carries|of|at) (?:about )?<(?:lb|kg|ton|n)>"
)
_OF_AXLE = Lazy(
    rf"\b{_AXLE} (?:\w+ )?(?:of|is|at|weighs?|weighing|weighed|has|carries|with|scales?|reads?|load(?:ed)?)? ?(?:\w+ )?<(?:lb|kg|ton)>|<(?:lb|kg|ton)> (?:\w+ )?(?:of |on |in )?(?:the |an? |that |each )?(?:\w+ )?axle\b|\baxle\b"
)
LIGHTEST_LB = 2000
"""A bare number from here on can be what an axle weighs."""
_ROLES = (
    Role(
        "rating",
        "lb",
        r"jacks?(?: (?:is|are|rated|says|marked|stamped|good|at|for|of|rating|to|it|reads|with|that|capacity)){0,4}|rated(?: for| at)?|rating(?: of| is)?|marked|stamped",
        r"(?:\w+ ){0,2}jacks?",
    ),
    Role(
        "load",
        "lb|n",
        rf"(?:{_AXLE}|side|corner|coach|load|bus|end|weighs?|weighing|weight|lifting|lift|raise|pick up|hold)(?: (?:of|is|at|weighs?|weighing|that|has|carries|with|scales|about|a|an|up|the|load)){{0,4}}",
        r"(?:\w+ ){0,2}(?:axles?|side|corner|end|load|on (?:it|the|one|each|that)|to lift|of (?:coach|bus|weight))",
        lambda a: a.unit != "n" or a.value >= LIGHTEST_LB,
    ),
)


def jack_asked(q: Question) -> bool:
    """Whether the question is about what a jack may lift, or its inspection."""
    frame = q.frame
    if not _JACK.search(frame) or _OTHER.search(frame) or _UNDER.search(frame):
        return False
    if _INSPECTED.search(frame) and _DUE.search(frame) and _days_in(q.text):
        return True
    told = placed(q, _ROLES)
    if len(told) == 2:
        return True
    if not (_LIFTS.search(frame) and ("?" in q.text or Lazy(r"^ (?:so |and |ok |okay )?(?:can|could|will|would|does|do|is|may|how)\b|\b(?:can|may|could|should) i\b|\benough\b").search(frame))):  # fmt: skip
        return False
    return bool(told) or _NO_MARK.search(frame) is not None


def jack_said(s: Sheet) -> None:
    """Inputs of "can a 12 ton jack lift an axle of 22,000 pounds"."""
    q = s.q
    days = _days_in(q.text) if _INSPECTED.search(q.frame) else []
    if days:
        s.note("inspected", _dated(days[0], s.now.date()).isoformat())
        return
    told = placed(q, _ROLES)
    rating, load = told.get("rating"), told.get("load")
    s.say("rating", rating)
    s.say("load", load, "lb")
    if _NO_MARK.search(q.frame):
        s.note("mark", "none")
    if _SIDE.search(q.frame):
        s.note("lifts", "side")
    if load is None and q.has(r"\baxles?\b") and not s.follows:
        s.note("weighed", "axle")
    if load is not None:
        s.note("weighed", "side" if _ON_SIDE.search(q.frame) else "axle" if _OF_AXLE.search(q.frame) else "load")


def jack(s: Sheet) -> Estimate:
    """What is left of the jack's rating, with what half an axle is; never a leave to go under it."""
    from cabassist.estimate import wheels

    if s.has("inspected"):
        return wheels.jack_inspection(date.fromisoformat(s.text("inspected")), s.now.date())
    if s.text("mark") == "none" and not s.has("rating"):
        load = s.amount("load") if s.has("load") else quantity(1, "lb")
        return wheels.jack_check(load, None)
    s.need("rating", "What rating is marked on the jack, in tons?", "ton")
    if not s.has("load"):
        raise Missing("load", "How heavy is the axle, in pounds?", "lb")
    whole, rating = s.amount("load"), s.amount("rating")
    if s.text("weighed") == "side" or (s.text("weighed") != "axle" and s.text("lifts") != "side"):
        return _judged(wheels.jack_check(whole, rating), rating)
    return on_axle(whole, rating, one_side=s.text("lifts") == "side")


def on_axle(whole: Quantity[Any], rating: Quantity[Any], *, one_side: bool) -> Estimate:
    """A jack against the weight of an axle, of which it lifts one side or all."""
    from cabassist.estimate import wheels

    of_whole, of_half = wheels.jack_check(whole, rating), wheels.jack_check(whole / 2, rating)
    found, other = (of_half, of_whole) if one_side else (of_whole, of_half)
    full = whole.m_as(found.unit)
    if one_side:
        beside = f"One side is about half, {shown(full / 2)} {found.unit}; the whole axle at once {'would be within it too' if _left(of_whole) >= 0 else 'is too much'}."
    else:
        beside = f"One side is about half, {shown(full / 2)} {found.unit}: {'within the rating' if _left(of_half) >= 0 else 'still more than the rating'}."
    found = replace(
        found,
        working=(f"half of {shown(full)} {found.unit} on each side = {shown(full / 2)} {found.unit}.", *found.working),
        assumptions=("both sides carry the same: luggage or a slope can shift it", *found.assumptions),
        also=(figure("left with the whole axle" if one_side else "left with one side", _left(other), found.unit),),
    )
    return _judged(found, rating, beside)


def _left(found: Estimate) -> float:
    return found.value if found.value is not None else 0.0


def _judged(found: Estimate, rating: Quantity[Any], beside: str = "") -> Estimate:
    """The rating as the number, yes or no first, and the caution last."""
    judged, caution = found.verdict.split(" Crib ", 1)
    left = figure("left of it", _left(found), found.unit)
    rated = rating.m_as(found.unit)
    word = "No." if _left(found) < 0 else "Yes, by its rating."
    middle = f" {beside}" if beside else ""
    verdict = f"{word} {judged.removeprefix('Stop. ')}{middle} Crib {caution}"
    return replace(found, name="jack rating", value=rated, low=rated, high=rated, verdict=verdict, also=(left, *found.also))  # fmt: skip


_MONTHS = "january february march april may june july august september october november december".split()
_NAMED = "|".join(f"{name[:3]}(?:{name[3:]})?" if len(name) > 3 else name for name in _MONTHS)
_DAY = Lazy(
    rf"\b(?P<m1>{_NAMED})\.? (?:the )?(?P<d1>\d{{1,2}})(?:st|nd|rd|th)?\b(?:,? (?P<y1>20\d\d))?"
    rf"|\b(?P<d2>\d{{1,2}})(?:st|nd|rd|th)?(?: of)? (?P<m2>{_NAMED})\b(?:,? (?P<y2>20\d\d))?"
    r"|\b(?P<y3>20\d\d)-(?P<m3>\d\d)-(?P<d3>\d\d)\b"
)


def _days_in(text: str) -> list[tuple[int, int, int]]:
    """Days told by month and day, with the year or 0: "march 3", "3rd of March 2026", "2026-03-03"."""
    found = []
    for match in _DAY.finditer(text.lower()):
        year, month, day = (match[f"{one}1"] or match[f"{one}2"] or match[f"{one}3"] for one in "ymd")
        number = int(month) if month.isdigit() else next(i for i, m in enumerate(_MONTHS, 1) if m[:3] == month[:3])
        found.append((int(year or 0), number, int(re.sub(r"\D", "", day))))
    return found


def _dated(told: tuple[int, int, int], today: date) -> date:
    """A day without its year is the last one past. Raises ValueError when the calendar has no such day."""
    year, month, day = told
    if year:
        return date(year, month, day)
    this = date(today.year, month, day)
    return this if this <= today else date(today.year - 1, month, day)
