"""Trips to a place whose clock is told to be so many hours ahead or behind: when they get there by both clocks, or must leave."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_AT = r"(?:(?:over|up|out|down) )?(?:there\b|(?:at|in) (?:the|their) (?:rink|arena|hotel|venue|end|place|town|city)\b)"
_AHEAD = rf"\b(?:they|it|(?:the|their) (?:clocks?|time)|(?:the |that )?(?:rink|arena|hotel|venue|town|city))(?: there| over there)?(?: is| are| runs?| run| ' s| ' re)* ({{h}}) (ahead|later|behind|earlier)(?: of (?:us|ours?)(?: clock| time)?| (?:than|from) (?:us|ours|here))?(?: {_AT})?"
_TELLS_PLACE = Lazy(rf"\b(?:they|their|rink|arena|hotel|venue|town|city)\b[^,]* <h> (?:ahead|later|behind|earlier)\b|<h> (?:ahead|later|behind|earlier) {_AT}|\bclocks? there\b")  # fmt: skip
_BEHIND = Lazy(r"<h> (?:behind|earlier)\b")
_ARRIVES = Lazy(
    r"\b(?:what time|when|arriv\w*|eta)\b(?=.*\b(?:there|arriv\w*|get in|pull in|roll in|eta|their clock|local)\b)"
)
_MUST_LEAVE = Lazy(r"\b(?:leave|pull out|roll(?: out)?|set off|head out|depart|get going)(?: here)?(?: by| at the latest| on our clock| our time)? $|\b(?:latest|when|what time)\b[^,.]*\b(?:leave|pull out|roll|set off|head out|depart)\b")  # fmt: skip
_STARTS = r"\b(?:leav\w+|left|start\w*|depart\w*|roll\w*|pull\w* out|set(?:ting)? off|head\w* out|off)(?: out)?(?: here)?(?: at)? ({clock})"
_DUE = r"\b(?:game|puck(?: drop)?|face ?off|tip ?off|kick ?off|warm ?ups?|skate|due|be there|there by|there|by|practice|doors?|starts?|drops?)(?: is| ' s| at| by| in|,| there| their)* ({clock})"
_SPEED = r"\b(?:at|averag\w+|doing|making|running|hold\w*)(?: about| around)? ({n|mph})(?= |$)"
_SLOWEST, _FASTEST, _MOST_APART = 15.0, 90.0, 5.0


def clock_apart(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The time there, or the time to leave here, over a distance at a speed; a stop that is told is read elsewhere."""
    if len(q.amounts) != 4 or not _TELLS_PLACE.search(q.frame):
        return None
    apart, speed = q.one(_AHEAD), q.one(_SPEED)
    ways = [one for one in q.amounts if one.unit == "mi" and not one.per]
    clocks = [one for one in q.amounts if one.unit == "clock"]
    if apart is None or speed is None or len(ways) != 1 or len(clocks) != 1 or clocks[0].pieces:
        return None
    if not 0 < (shift := apart.value) <= _MOST_APART or apart.unit != "h" or not _SLOWEST <= speed.value <= _FASTEST:
        return None
    shift = -shift if _BEHIND.search(q.frame) else shift
    hours = ways[0].value / speed.value
    line = f"{shown(ways[0].value)} mi ÷ {shown(speed.value)} mph = {shown(hours)} h"
    said = f"the clock there is {shown(abs(shift))} h {'ahead' if shift > 0 else 'behind'}"
    due = q.one(_DUE)
    if _MUST_LEAVE.search(q.frame) and due is clocks[0] and q.one(_STARTS) is None:
        here = due.value - shift - hours
        verdict = f"Leave by {time_of_day(here)} by the clock here."
    elif _ARRIVES.search(q.frame) and q.one(_STARTS) is clocks[0]:
        here = clocks[0].value + hours
        verdict = f"There at about {time_of_day(here + shift)} by the clock there, {time_of_day(here)} by the one here."
    else:
        return None
    return exact("door to door", hours, "h", working=(line, said), source="arithmetic", verdict=verdict)
