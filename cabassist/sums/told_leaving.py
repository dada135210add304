"""When to leave, or when one is there: one time of day, hours told whole, and the clocks of two places.

"Doors at seven eastern, we start from central, eight and a half hours all in, what time do we leave": what is asked tells whether
the time of day is that of the start or of the end, whichever word stands beside it.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Told
from cabassist.sums.told_parted import Part, half_unsaid, hour_of, parts
from cabassist.sums.told_zones import leave_by, there_at, zone_shift

_CUES = ("when", "what time", "leave", "arriv", "eta", "departure")
_GOES = r"(?:leave|leaving|roll|rolling|go|going|depart|pull out|set off|set out|hit the road|head out|start|get going|get rolling|be off|move|be rolling|wheels up|out the door|get out of here|be gone|push off|get out)"
_GETS = r"(?:arriv\w*|get in|get there|pull in|be there|roll in|land|there|be in|make it in|get to|show up|pull up|see (?:the|them)|reach)"
_WHEN = r"\b(?:when|what time|how early|how late|latest|earliest)\b"
_LEAVES = Lazy(
    rf"{_WHEN}(?! we get)(?: [a-z']+){{0,8}}? {_GOES}\b|\b{_GOES} (?:when|at what time|by when)\b|\b(?:latest|what|when is) (?:\w+ )?departure\b|\bdeparture time\b|\bleave by\b|\blatest (?:start|out)\b"
)
_ARRIVES = Lazy(
    rf"{_WHEN}(?: [a-z']+){{0,7}}? {_GETS}\b|\b(?:arrive|get in|get there|pull in|there) (?:when|at what time|by when)\b|\bwhen (?:are we )?in\b|\bin when\b|\b(?:arrival|eta)\b|\bwhat time (?:is that|local|there)\b"
)
_INSIDE = Lazy(
    r"^ (?:\w+ ){0,4}?(?:in (?:it|that|there)(?: already)?|included|already in|counted(?: in)?|is in|of that|of it)\b"
)
_STOPS = Lazy(r"^ (?:\w+ )?(?:stops?|breaks?|halts?)\b")
_ELSE = Lazy(
    r"<h> off\b|\bgo (?:back )?on\b|\bback on\b|\b(?:duty|rule|restart|window|fill\w*|dump|charg\w*|battery|generator|genny|idl\w*|tank|furnace|propane|rest|sleep|slept|speed|average|puck|skate|soundcheck|buffer|early|ahead of|before (?:the|we|puck|doors))\b"
    r"|<(?:mi|km|mph|km/h|gal|L|A|V|W|lb|psi|percent|part)(?:/\w+)*>"
)
_MOST_H = 30.0
_WAY = Lazy(
    r"<h>(?: of driving| of road| drive| on the road)?(?: ,| for| to do| to drive| to cover| to make| over| and| of)+(?: the| those| all| our| about| it)* <mi>"
    r"|<mi>(?: (?:and|,|away|it|it's|that|that's|those|the|this|a|drive|trip|leg|run|way|road|which|should|will|would|'ll|gps|says?|map|about|around|is|in|at|takes?|taking|take|needs?|us|me|coach|bus|to|do|for|of|we|i|figure|reckon|on|there)){0,7} <h>"
)
"""The whole way with the hours that it takes, beside each other: no rate is asked of them."""
_PART_OF_WAY = Lazy(
    r"\b(?:did|done|so far|already|left|more|every|each|first|last|remaining|to go|behind us|in the)\b|<mi>.*<mi>"
)
_SLOWEST, _FASTEST = 15.0, 80.0
"""Miles an hour between which hours and miles told together can be of one drive."""


def _way_told(q: Question) -> Amount | None:
    """The miles that are told with the hours they take; None where they may be part of the way, or are of another drive."""
    miles = [part for part in parts(q) if part.kind == "distance"]
    hours = [part for part in parts(q) if part.kind == "time"]
    if len(miles) != 1 or len(hours) != 1 or hours[0].value <= 0:
        return None
    if not _WAY.search(q.frame) or _PART_OF_WAY.search(q.frame):
        return None
    return miles[0].amount if _SLOWEST <= miles[0].value / hours[0].value <= _FASTEST else None


def leaving(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The time of day to leave at, or of arriving, from one time of day and the hours in between."""
    way = _way_told(q) if names_any(q.text.lower(), _CUES) else None
    if not names_any(q.text.lower(), _CUES) or _ELSE.search(q.frame.replace("<mi>", "") if way else q.frame):
        return None
    leaving_at, arriving_at = _LEAVES.search(q.frame), _ARRIVES.search(q.frame)
    leaves, arrives = leaving_at is not None, arriving_at is not None
    if leaving_at is not None and arriving_at is not None and leaving_at.start() == arriving_at.start():
        # "when do we get in if we leave at ten": what is asked stands first behind the when
        leaves, arrives = leaving_at.end() < arriving_at.end(), arriving_at.end() < leaving_at.end()
    found = [part for part in parts(q) if part.kind not in ("people", "temperature") and part.amount is not way]
    clocks = [part for part in found if part.kind == "clock"]
    if leaves is arrives or len(clocks) != 1:
        return None
    hours = _hours([part for part in found if part is not clocks[0]])
    counted = [
        one
        for one in q.amounts
        if one is not way and one.unit not in ("people", "F", "C", "temp") and q.words[one.start : one.end] != ("one",)
    ]
    if hours is None or not 0 < hours <= _MOST_H or len(found) != len(counted):
        return None
    shift = zone_shift(Told({}, q, want, coach, now))
    if shift is None:
        return None
    at = hour_of(clocks[0])
    unsaid = half_unsaid(clocks[0])
    if unsaid and q.has(r"\b(?:now|right now|it) <clock>|<clock> (?:right )?now\b"):
        here = now.hour + now.minute / 60
        at = min((at, at + 12), key=lambda one: min(abs(one - here), 24 - abs(one - here)))
        unsaid = False
    if leaves:
        ends = [leave_by(one - shift - hours, shift) for one in ((at, at + 12) if unsaid else (at,))]
        line = f"{shown(at)} - {shown(hours)} h"
    else:
        ends = [there_at(one + hours, shift) for one in ((at, at + 12) if unsaid else (at,))]
        line = f"{shown(at)} + {shown(hours)} h"
    said = (
        ends[0]
        if not unsaid
        else f"{ends[0]} With {_said(clocks[0])} in the afternoon: {ends[1][:1].lower()}{ends[1][1:]}"
    )
    return exact("on the way", hours, "h", working=(line,), source="arithmetic", verdict=said)


def _said(part: Part) -> str:
    hour = hour_of(part)
    return f"{int(hour) % 12 or 12}:{round(hour % 1 * 60):02d}"


def _hours(told: list[Part]) -> float | None:
    """All hours told, less those that are inside others; stops so many times as there are. None when one is no time."""
    total, k = 0.0, 0
    while k < len(told):
        part = told[k]
        following = told[k + 1] if k + 1 < len(told) else None
        count = part.kind == "n" and part.value in (2, 3, 4, 5) and following is not None and following.kind == "time"
        if (
            count
            and following is not None
            and following.amount.start == part.amount.end
            and _STOPS.search(following.right)
        ):
            total += part.value * following.value
            k += 2
            continue
        if part.kind != "time" or part.unit not in ("h", "min"):
            return None
        if k == 0 or not _INSIDE.search(part.after):
            total += part.value
        k += 1
    return total


_INSTEAD = r"({n|mph|km/h}) (?:mph |miles an hour )?(?:instead of|rather than|versus|vs|and not|over) (?:doing |at |going )?({n|mph|km/h})|\bfrom ({n|mph|km/h}) (?:down |up )?to ({n|mph|km/h})"
_TIME_ASKED = Lazy(
    r"\bhow (?:much|many) (?:more )?(?:longer|time|later|sooner|faster|quicker|slower|earlier|minutes|hours)\b|\bhow much (?:does|do|will|would) (?:it|that|i|we|this) (?:save|lose|cost|add|gain|take)\b|\btime (?:do|does|will|would) (?:i|we|it|that) (?:save|lose|gain)\b|\b(?:minutes|hours|time) (?:saved|lost|more)\b"
)
_SLOWED = Lazy(r"\bfrom <(?:n|mph|km/h)> (?:down |up )?to <")
_SLOWEST, _FASTEST = 15.0, 90.0


def other_speed(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Time saved or lost over a distance at one speed instead of another."""
    if not names_any(
        q.text.lower(), ("instead", "rather", "versus", " vs", " not ", " over ", "from")
    ) or not _TIME_ASKED.search(q.frame):
        return None
    speeds = q.find(_INSTEAD)
    ways = [one for one in q.amounts if one.unit in ("mi", "km") and not one.per]
    if len(speeds) != 2 or len(ways) != 1 or len(q.amounts) != 3 or q.has(r"\$|\b(?:dollars|gallons?|fuel|cost)\b"):
        return None
    metric = ways[0].unit == "km"
    if any(one.unit == ("mph" if metric else "km/h") for one in speeds):
        return None
    if not all(_SLOWEST <= one.value <= _FASTEST * (1.6 if metric else 1) for one in speeds):
        return None
    hours = [ways[0].value / one.value for one in speeds]
    gap = abs(hours[0] - hours[1])
    line = f"{shown(ways[0].value)} ÷ {shown(speeds[0].value)} = {shown(hours[0])} h, ÷ {shown(speeds[1].value)} = {shown(hours[1])} h"
    changed = _SLOWED.search(q.frame) is not None  # the speed that is driven now is told last
    slower = hours[0] < hours[1] if changed else hours[0] > hours[1]
    verdict = (
        f"{duration(max(hours))} against {duration(min(hours))}: {duration(gap)} {'longer' if slower else 'saved'}."
    )
    return exact("difference", gap, "h", working=(line,), source="arithmetic", verdict=verdict)


_LASTS = Lazy(
    r"\bhow (?:many (?:more )?hours|long|much time)\b[^.?]*\b(?:to (?:the|get|go)|till? (?:the|we)|until (?:the|we)|from here|there)\b"
)
_AT_SPEED = (
    r"\b(?:at|doing|averaging|average|running|going|holding) ({n|mph})(?! (?:percent|am|pm|volts?|amps?|psi|miles to))"
)
_PLACE = Lazy(
    r"\b(?:rink|arena|hotel|motel|town|city|border|venue|game|school|home|there|destination|bus barn|next stop|yard)\b"
)
_NO_TRIP = Lazy(r"\b(?:fill|full|empty|dump|propane|tank|water|battery|charge\w*|generator|genny|furnace|heat)\b")


def way_untold(q: Question) -> str:
    """What is asked back when only a speed is told for the hours to a place; "" when that is not so."""
    if len(q.amounts) != 1 or not (_LASTS.search(q.frame) and _PLACE.search(q.frame)) or _NO_TRIP.search(q.frame):
        return ""
    speeds = [one for one in q.every(_AT_SPEED) if _SLOWEST <= one.value <= _FASTEST]
    return "How far is it, in miles?" if speeds else ""
