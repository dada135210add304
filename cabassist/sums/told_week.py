"""A week's hours told among other things: the days in a row, today, and a long rest that sets nothing back."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.driving_hours import HELPER, NO_RESTART, REST_H, SOURCE, WEEK_H
from cabassist.estimate.quantities import duration, exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_duty import FOR_TOMORROW
from cabassist.sums.told_parted import Part, parts, spans_between
from cabassist.sums.told_zones import ZONES

_LIMIT = Lazy(r"\b(60|70|sixty|seventy)(?: hours?)? ?(?:in|/|over|per|for|-|hours in)? ?(?:the )?(?:last )?(7|8|seven|eight)\b", re.IGNORECASE)  # fmt: skip
_DAYS_OF = {"60": 7, "sixty": 7, "70": 8, "seventy": 8}
_SPAN = {"7": 7, "seven": 7, "8": 8, "eight": 8}
_NOTHING_TODAY = Lazy(r"\b(?:nothing|none|zero|no hours|not (?:worked|started|been on))\b(?: \w+){0,3} today\b|\btoday (?:is |' s )?(?:nothing|zero|none)\b")  # fmt: skip
_TODAY = Lazy(r"^ (?:hours? )?(?:so far |already |on duty |worked |in )*today\b")
_TODAY_BEFORE = Lazy(r"\btoday(?: so far| is| i have| i)?(?: \w+)? $")
_BEGINS = Lazy(
    r"\b(?:now|it is|it) (?:\w+ )?(?:<\w+> )?(?:\w+day )?morning\b|\bthis morning\b|\b(?:have|get|got) (?:\w+ ){0,4}today\b|\bleft (?:for )?today\b"
)
"""The day has only begun, and nothing of it is worked."""
_RESET = Lazy(
    r"\b(?:re ?set\w*|re ?start\w*|clean slate|slate (?:is )?(?:wiped|clean)|fresh (?:week|start|sixty|seventy|60|70|<n>|<h>)|start(?:s)? (?:over|fresh|again|anew|clean)|back (?:at|to) zero|clears?|wipes?|zeroe?s)\b"
)
_LONG_REST_H = 24.0
_DAY_H = 24.0
_BETWEEN = frozenset({",", "and", "then", "plus", "+", "-"})
_LEAST = 5
"""So many hours in a row are the days of a week."""


def week_story(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What is left of 60 hours in 7 days or 70 in 8, when a long rest is told as if it set the sum back."""
    limit = _LIMIT.search(q.text)
    if limit is None or _DAYS_OF[limit[1].lower()] != _SPAN[limit[2].lower()]:
        return None
    found = parts(q)
    rests = [part for part in found if part.kind == "time" and part.unit in ("h", "day") and part.value >= _LONG_REST_H]
    if not rests or not _RESET.search(q.text.lower()):
        return None
    days = _row(q)
    if days and days[0] == _SPAN[limit[2].lower()] and q.text[limit.end() : limit.end() + 1] in (":", ","):
        days = days[1:]  # "70 in 8: 11, 12, 10" begins its row with the days of the limit
    if len(days) < _LEAST:
        return None
    today = next((part.value for part in found if part.kind in ("n", "time") and part.value <= _DAY_H and (_TODAY.search(part.right) or _TODAY_BEFORE.search(part.left))), None)  # fmt: skip
    span = _DAYS_OF[limit[1].lower()]
    if today is None:
        if not _NOTHING_TODAY.search(q.frame) and not (len(days) < span and _BEGINS.search(q.frame)):
            return None
        today = 0.0
    counted = days[-(span - 1 - q.has(FOR_TOMORROW)) :]
    total = sum(counted) + today
    left = max(0.0, WEEK_H[span] - total)
    line = f"{WEEK_H[span]:g} - ({' + '.join(map(shown, counted))} + {shown(today)} today) = {shown(WEEK_H[span] - total)} h"
    return exact("hours left this week", left, "h", working=(line,), assumptions=(NO_RESTART, "the daily limits are not checked"), source=SOURCE, verdict=f"No restart with passengers, a long rest does not reset the week: {shown(left)} hours of the {WEEK_H[span]:g} are left. {HELPER}")  # fmt: skip


def _row(q: Question) -> list[float]:
    """The longest row of hours with nothing but commas between them."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    best: list[float] = []
    run: list[float] = []
    last = -1
    for place, amount in zip(at, q.amounts, strict=False):
        apart = {*tokens[last + 1 : place]} - _BETWEEN if last >= 0 else set()
        if apart:
            run = []
        pieces = amount.pieces if len(amount.pieces) > 1 else ()
        hours = [float(one) for one in pieces] if pieces and all(one.isdigit() for one in pieces) else [amount.value]
        if amount.unit in ("n", "h") and not amount.per and max(hours) <= 24:
            run += hours
        else:
            run = []
        if len(run) > len(best):
            best = list(run)
        last = place
    return best


_OFF_AT = Lazy(r"\b(?:off|quit|park\w*|stopp?\w*|finish\w*|shut (?:it )?down|bed|done)\b(?: \w+){0,4} $")
_ON_AT = Lazy(
    r"\b(?:driv\w+|roll\w*|leave|leaving|start\w*|on duty|go|going|behind the wheel|back on|pull out|depart\w*|now|it)\b(?: \w+){0,3} $"
)
_ENOUGH = Lazy(
    r"\b(?:legal\w*|can i|may i|could i|ok|okay|enough|allowed|eight|how much more rest|rest (?:left|do i need|needed)|more (?:rest|off|sleep))\b"
)


def rested(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether the hours between going off and driving again are eight, and how many are still missing."""
    if not _ENOUGH.search(q.frame) or not q.has(r"\b(?:driv\w+|duty|rest|roll\w*|wheel|off)\b"):
        return None
    found = [part for part in parts(q) if part.kind in ("clock", "n", "time", "distance", "volume")]
    found = [
        part
        for part in found
        if not (part.kind in ("n", "time") and part.value == REST_H and not _ON_AT.search(part.left))
    ]
    if len(found) != 2 or any(part.kind not in ("clock", "n") for part in found):
        return None
    off, on = found
    if (
        not _OFF_AT.search(off.left)
        or not _ON_AT.search(on.left)
        or q.has(r"\b(?:drove|driven|left (?:of|on)|waste|fresh|tank|charger)\b")
    ):
        return None
    if not all(part.kind == "clock" or 1 <= part.value <= 12.99 or 100 <= part.value < 2400 for part in found):
        return None
    gaps = [one for one in spans_between(off, on) if 0.2 < one <= 16]
    if not gaps:
        return None
    hours = min(gaps)
    missing = max(0.0, REST_H - hours)
    line = f"{shown(hours)} h off, 8 are needed"
    if missing:
        return exact("rest still needed", missing, "h", working=(line,), source=SOURCE, verdict=f"No, not rested: {duration(hours)} off, 8 hours in a row are needed. {duration(missing)} more. {HELPER}")  # fmt: skip
    return exact("rest", hours, "h", working=(line,), source=SOURCE, verdict=f"Yes, rested: {duration(hours)} off in a row, 8 are needed. {HELPER}")  # fmt: skip


_ZONE = Lazy(r"\b(newfoundland|atlantic|eastern|central|mountain|pacific)\b")
_TURNS_ZONE = Lazy(r"\b(?:what|in|by our|our (?:clock|time)|their (?:clock|time))\b")


def other_zone(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A time of day by the clock of another time zone."""
    zones = [(match.start(), match[1]) for match in _ZONE.finditer(q.frame)]
    found = parts(q)
    if len({name for _, name in zones}) != 2 or len(zones) != 2 or len(found) != 1 or not _TURNS_ZONE.search(q.frame):
        return None
    part = found[0]
    if part.kind != "clock" and not (part.kind == "n" and 1 <= part.value <= 12.99):
        return None
    at = q.frame.find("<")
    (first, one), (second, other) = zones
    here, there = (one, other) if abs(first - at) <= abs(second - at) else (other, one)
    shift = ZONES[there] - ZONES[here]
    hour = part.value + shift
    verdict = f"{time_of_day(part.value)} {here} is {time_of_day(hour)} {there}."
    return exact("difference", abs(shift), "h", working=(f"{there} is {shown(abs(shift))} h {'ahead of' if shift > 0 else 'behind'} {here}",), source="U.S. and Canadian time zones", verdict=verdict)  # fmt: skip


def undriven(q: Question) -> str:
    """What is asked back when hours left are asked for and only times of day are told; "" when that is not so."""
    asked = q.has(
        r"\b(?:how (?:much|many|long)|what)\b[^?]*\b(?:can|may|could|still) (?:i|we)? ?(?:still |legally )?(?:drive|go)\b|\bdriving (?:left|hours left|do i have)\b|\bhow much driving\b"
    )
    if not asked or not q.has(r"\b(?:on since|on duty|came on|started|been on|clocked|signed on|up since)\b"):
        return ""
    found: list[Part] = parts(q)
    if any(part.kind not in ("clock", "n", "people", "distance") for part in found) or q.has(r"\b(?:drove|driven)\b"):
        return ""
    return "How many hours have you driven since your last 8 off, and how many of the rest were off duty?"
