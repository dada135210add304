"""Trips told whole: a stretch at one speed and the rest at another, how late a slower pace makes it, a trip within a limit of hours."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.driving_hours import HELPER
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted

_SLOWEST, _FASTEST = 10.0, 85.0
_ELSE = Lazy(
    r"\b(?:gallons?|fuel|diesel|mpg|propane|tank|co ?driver|partner|split|break|stops?|lunch|left at|leave|leaving)\b"
)
_FIRST = Lazy(r"\b(?:first|for|do|doing|drive|drove|goes|go)(?: (?:the|about|only|a))* $")
_FIRST_AFTER = Lazy(r"^(?:miles )?(?:of (?:it|that|them) )?(?:at|doing|in snow at|is at|are at|of \w+ at)(?: about)? $")
_REST_LEFT = Lazy(r"\b(?:the )?(?:rest|remainder|remaining|others?|last (?:part|bit|stretch))(?: of (?:it|the way|the trip))?(?: (?:is|at|we|do|doing|about|was|can|be))* $")  # fmt: skip
_REST_RIGHT = Lazy(r"^(?:miles an hour |mph )?(?:for |on )?(?:the )?(?:rest|remainder|remaining|after that|from there|whole way after|the others?)\b")  # fmt: skip


def _speed(one: Said) -> bool:
    return one.unit in ("n", "mph") and not one.amount.per and _SLOWEST <= one.value <= _FASTEST


def _plain(q: Question) -> tuple[Said, ...] | None:
    """The amounts where each is one of a trip; "one driver" tells no number."""
    found = placed(q)
    if found is None:
        return None
    kept = tuple(one for one in found if not (one.unit in ("driver", "people") and one.value == 1) and one.unit not in ("F", "C", "temp"))  # fmt: skip
    return None if any(one.amount.each or one.amount.per or one.unit not in ("mi", "n", "mph", "h", "clock") for one in kept) else kept  # fmt: skip


def stretches(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours for so many miles at one speed and what is left of the way at another."""
    if want.kind != "time" or want.clock or len(q.amounts) < 4 or not names_any(q.text.lower(), ("rest", "remain", "after that", "from there")):  # fmt: skip
        return None
    found = _plain(q)
    if found is None or len(found) != 4 or _ELSE.search(q.frame):
        return None
    whole, part, slow, fast = found
    if whole.unit != "mi" or part.unit not in ("mi", "n") or not (_speed(slow) and _speed(fast)):
        return None
    if not (_FIRST.search(part.left) and _FIRST_AFTER.search(f"{part.right} ")) or not 0 < part.value < whole.value:
        return None
    if not (_REST_LEFT.search(fast.left) or _REST_RIGHT.search(fast.right)):
        return None
    times = part.value / slow.value, (whole.value - part.value) / fast.value
    hours = sum(times)
    line = f"{shown(part.value)} mi ÷ {shown(slow.value)} + {shown(whole.value - part.value)} mi ÷ {shown(fast.value)} = {shown(hours)} h"  # fmt: skip
    return exact("on the road", hours, "h", working=(line,), source="arithmetic", verdict=f"{duration(hours)} without stops.")  # fmt: skip


_PLANNED = Lazy(r"\b(?:plan\w*|figur\w*|schedul\w*|dispatch|office|booked|supposed|meant|expect\w*|counted|thought)\b")
_DOING = Lazy(
    r"\b(?:doing|making|averaging|average|holding|running|only|got|get|getting|manage\w*|going|do|hold)(?: (?:about|only|just|a|at))* $"
)
_CLOCK_LEFT = Lazy(r"\b(?:in|there|arrive|due|by) (?:at|by|around) $|\b(?:at|by) $")
_LATE = Lazy(r"\bhow (?:many (?:minutes|mins|hours)|much|long)(?: \w+){0,4} (?:late|later|behind|over)\b|\bhow late\b|\b(?:minutes|hours) (?:late|behind)\b")  # fmt: skip


def late_by(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How late a pace makes it that is slower than the planned one, over the whole way."""
    if not names_any(q.text.lower(), ("late", "behind")) or not _LATE.search(q.frame) or not _PLANNED.search(q.frame):
        return None
    found = _plain(q)
    if found is None or not 3 <= len(found) <= 4 or _ELSE.search(q.frame):
        return None
    ways = [one for one in found if one.unit == "mi"]
    actual = [one for one in found if _speed(one) and _DOING.search(one.left)]
    planned = [one for one in found if _speed(one) and one not in actual and one.value > 12]
    rest = [one for one in found if one not in (*ways, *actual, *planned)]
    if [len(ways), len(actual), len(planned)] != [1, 1, 1] or actual[0].value >= planned[0].value:
        return None
    if any(one.unit not in ("clock", "n") or one.value > 24 or not _CLOCK_LEFT.search(one.left) for one in rest):
        return None
    if Lazy(r"\b(?:after|already|so far|now at|halfway|since (?:noon|then))\b|\bfor the (?:first|last)\b").search(
        q.frame
    ):
        return None  # a part of the way is driven
    hours = [ways[0].value / one[0].value for one in (planned, actual)]
    late = hours[1] - hours[0]
    line = f"{shown(ways[0].value)} mi ÷ {shown(actual[0].value)} - {shown(ways[0].value)} ÷ {shown(planned[0].value)} = {shown(late)} h"
    value, unit = (late, "h") if want.unit == "h" else (late * 60, "min")
    return exact("late", value, unit, working=(line,), source="arithmetic", verdict=f"{duration(late)} late.", also=(figure("on the way", hours[1], "h"),))  # fmt: skip


_LIMITS = Lazy(r"^(?:hours? )?(?:limit|max\w*|rule|is the limit|allowed|legal|of driving|at the wheel|to drive)\b")
_LIMIT_LEFT = Lazy(r"\b(?:limit|allowed|max\w*|rule|legal)(?: (?:of|is|to|at|says))* $")
_CAN = Lazy(r"\b(?:can i|can we|could i|do it|make it|alone|legal\w*|fit|within|inside|under|enough)\b")


def within_limit(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of a trip at a speed, and whether they are within a limit that is told."""
    if not names_any(q.text.lower(), ("limit", "allow", "rule", "legal", "max")) or not _CAN.search(q.frame):
        return None
    found = _plain(q)
    if (
        found is None
        or len(found) != 3
        or _ELSE.search(q.frame)
        or q.has(r"\b(?:already|so far|today|driven|used|left)\b")
    ):
        return None
    ways = [one for one in found if one.unit == "mi"]
    limits = [one for one in found if one.unit in ("h", "n") and one.value <= 16 and (_LIMITS.search(one.right) or _LIMIT_LEFT.search(one.left))]  # fmt: skip
    speeds = [one for one in found if _speed(one) and one not in limits]
    if [len(ways), len(limits), len(speeds)] != [1, 1, 1]:
        return None
    hours, limit = ways[0].value / speeds[0].value, limits[0].value
    gap = figure("to spare" if hours <= limit else "over", abs(limit - hours), "h")
    said = f"{'Yes' if hours <= limit else 'No'}: {duration(hours)} at the wheel, the limit is {shown(limit)} hours. {HELPER}"
    line = f"{shown(ways[0].value)} mi ÷ {shown(speeds[0].value)} = {shown(hours)} h"
    return exact("at the wheel", hours, "h", working=(line,), source="arithmetic", verdict=said, also=(gap,))
