"""A trip told as a story: when the coach leaves or must be there, how far it is, how fast, how long the stops take, two time zones."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, half_unsaid, hour_of, last_at, parts, spans_between

_SOURCE = "arithmetic"
_OTHER = Lazy(
    r"\b(?:duty|legal\w*|hours of service|sleeper|berth|allowance|limit|hours (?:left|remaining)|drive(?:n)? today|(?:can|may) i (?:still|legally)|logs?|mpg|to the gallon"
    r"|diesel|def|gallons?|recheck|torque|wind|chill|tread|charge\w*|battery)\b|<(?:gal|L|mpg|Ah|A|V|gph)(?:/\w+)?>|\bhours? (?:driving|driven)\b"
)
_SPEED = Lazy(
    r"\b(?:at|hold(?:ing)?|figure|figuring|averag\w*|avg|doing|do|make|making|run|running|roll|rolling|cruis\w*|speed|going|only|call it|say|maybe|about|plan(?:ning)? on)(?: \w+){0,3} $| @ $"
)
_SPEED_AFTER = Lazy(
    r"^ (?:mph|an hour|the (?:whole|entire) way|all the way|average|avg|all (?:in|the way)|on this|in this|in the|with the|tops|miles an)\b"
)
_START = Lazy(
    r"\b(?:left|leave|leaving|leaves|roll\w*|depart\w*|departure|pull(?:ed|ing)? (?:out|away)|start\w*|set(?:ting)? (?:off|out)|off|wheels up|hit the road|on the road|out the door|from|go|going|move"
    r"|moving|now|it is|it)\b(?! (?:for|of)\b)"
)
_DUE = Lazy(
    r"\b(?:by|due|puck|drops?|game|tip ?off|face ?off|kick ?off|doors?|arriv\w*|there|get in|be in|check ?in|(?<!bus )call|appointment|ferry|flight|lands?|boards?|closes?|opens?|meeting|practice|warm ?ups?|skate|before|starts?|need to be|must be|have to be|want(?:s)? to be"
    r"|curfew|till|until|expect\w*|ice time|show|in (?:the )?(?:hotel|rink|arena|town))\b"
)
_NOW_AFTER = Lazy(r"^ (?:now|already|right now)\b")
_NOW = Lazy(r"\b(?:now|already)(?: \w+){0,2} $")
_STOP = Lazy(
    r"\b(?:stop\w*|break\w*|lunch|dinner|supper|breakfast|fuel\w*|food|meal|halt\w*|rest|border|customs|scale|traffic|tolls?|chains?|construction|delay\w*|layover|pause|pit|walk|feed\w*|eat\w*|bathroom|restroom|coffee"
    r"|lost|lose|waiting|wait|held up|plus|and|another|loading|unload\w*)\b"
)
_HOURS_DRIVEN = Lazy(r"\b(?:in|took|takes|for|over|drive|driving|after)(?: \w+){0,2} $")
_DRIVE_AFTER = Lazy(r"^ (?:of )?(?:drive|driving|run|trip|road|on the road|at the wheel|behind the wheel)\b")
_LEAD = Lazy(
    r"^ (?:\w+ )?(?:ahead|early|earlier|before|beforehand|prior|of (?:cushion|slack|margin|spare)|cushion|spare|in hand|to spare|to (?:unload|warm|dress|set|change)|for (?:warm|unload|dress|check))\b"
)
_UNTIL_THEN = Lazy(r"^ (?:left )?(?:to go )?(?:to|till?|until)\b(?: \w+){0,3} $|^ left (?:to|till?|until|before)\b")
_LEAD_BEFORE = Lazy(r"\b(?:cushion|margin|buffer|slack|spare|early by|ahead by)(?: of)? $")
_COUNT = Lazy(
    r"\b(?P<n>one|two|three|four|five|six|a couple of|\d) (?:\w+ ){0,2}(?:stops?|breaks?|halts?)(?: of| at| for|, about|,| x| @)?(?: \w+)? $"
)
_COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "a couple of": 2}
_LEAVES = Lazy(
    r"\b(?:latest|last (?:minute|moment)|when|what time|by when|how (?:late|early))\b[^.?]*\b(?:leave|pull (?:out|away)|roll|depart|set (?:off|out)|start|go|get going|head out|hit the road|be (?:rolling|moving)|on the road|out the door|wheels)\b"
    r"|\b(?:leave|departure|depart) (?:by|time|at)\b(?! <)|\bdepart(?:ure)? $|\b(?:leave|depart|roll|start) when\b|\blatest (?:departure|start|time to (?:leave|go|roll))"
)
_ARRIVES = Lazy(
    r"\b(?:eta|land|arriv\w+|get (?:there|in|to)|be there|be in|there|roll in|pull in|pull up|clock (?:say|read|show)|reach|are we in|be in|when (?:are|will|do) we|what time (?:is|will|do|are))\b"
)
_ON_TIME = Lazy(
    r"\b(?:make it|make the|on time|in time|late|early enough|enough time|possible|do it|do we (?:make|have)|will we be|are we (?:ok|okay|good|late)|spare|slack)\b"
)
_HOW_LONG = Lazy(
    r"\b(?:how (?:long|many hours|much time)|total (?:time|hours)|hours (?:does|do|is|will|in)|door to door|trip time)\b"
)
_HOW_FAST = Lazy(r"\b(?:what (?:average )?speed|how fast|(?:what|which) average|(?:avg|average) speed|what (?:am i|are we|have i|have we) (?:been )?averag\w*|what (?:is |was )?(?:the|our|my) (?:average|avg)|average (?:speed )?(?:do|must|should|have|need)|(?:do|must|should|have to|need to) (?:i|we)? ?average|what (?:do|must) (?:i|we) (?:have to |need to )?(?:average|hold|run))\b")  # fmt: skip
_HOW_FAR = Lazy(r"\b(?:how far|how many (?:miles|kilomet\w+|km)|what distance)\b")
_EVENING = Lazy(r"\b(?:puck|game|warm ?ups?|tip ?off|face ?off|kick ?off|doors?|show|concert)\b")
"""What starts in the evening when the half of the day is not said."""
_DONE = Lazy(r"\b(?:done|driven|drove|covered|knocked off|behind)(?: \w+){0,2} $")
_DONE_AFTER = Lazy(r"^ (?:\w+ )?(?:so far|already|done|behind us|in the bag|driven)\b")
_BESIDE_AFTER = Lazy(r"^ (?:yesterday|last night|ago|back|of (?:snow|visibility)|yesterday)\b|^ on yesterday")
_ZONES = {"newfoundland": 1.5, "atlantic": 1.0, "eastern": 0.0, "central": -1.0, "mountain": -2.0, "pacific": -3.0}
_ZONE = Lazy(r"\b(newfoundland|atlantic|eastern|central|mountain|pacific|est|edt|cst|cdt|mst|mdt|pst|pdt)\b")
_LETTERS = {"e": "eastern", "c": "central", "m": "mountain", "p": "pacific"}
_THERE = Lazy(
    r"\b(?:there|rink|arena|their|hotel|destination|game|local|host|arriv\w*|they (?:are|run)|into|puck|doors?)(?: \S+){0,4} $"
)
_HERE = Lazy(r"\b(?:from|here|home|our|we (?:are|run)|leave|leaving|left|roll|start|depart|out|off)(?: \S+){0,5} $")
_LOSES = Lazy(r"\b(?:lose|losing|lost) (?:an |one |<h> ?)(?:hour )?(?:going|on the|crossing|at the (?:line|zone|time)|to the (?:time|zone)|with the (?:time|zone)|time zone)?|\b(?:clocks? (?:go(?:es)?|jump|is|are) )(?:forward|ahead)")  # fmt: skip
_CLOCK_APART = Lazy(r"\b(?:clocks?|time)(?: there| over there)?(?: is| are| runs?| ' s)* <h> (?:ahead|later|behind|earlier)\b|<h> (?:ahead|later|behind|earlier) (?:(?:over|up|out|down) )?there\b")  # fmt: skip
"""The hours between two clocks are no time in hand."""
_GAINS = Lazy(r"\b(?:gain|gaining|gained|get back) (?:an |one |<h>)|\bclocks? (?:go(?:es)?|is|are) back")


@dataclass
class _Trip:
    far: list[float] = field(default_factory=list)
    done: float = 0.0
    speed: float | None = None
    halts: float = 0.0
    lead: float = 0.0
    hours: float | None = None
    start: Part | None = None
    due: Part | None = None
    unsaid: Part | None = None
    """A time of day that is neither by its words: the question tells which."""
    have: float | None = None
    """Hours that are left until the coach must be there."""
    evening: bool = False
    """Whether what is to be reached starts in the evening."""
    other_speed: float | None = None
    metric: bool = False
    count: float = 0.0
    """How many stops of the length that follows."""


def undistanced(q: Question) -> str:
    """What is asked back when a time of leaving or arriving is asked for without the way; "" when that is not so."""
    if _OTHER.search(q.frame) or not (_LEAVES.search(q.frame) or _WHEN_THERE.search(q.frame)):
        return ""
    found = parts(q)
    if not found or any(part.kind not in ("clock", "speed", "n", "n/time") for part in found):
        return ""
    speeds = [part for part in found if part.kind != "clock" and (part.kind == "speed" or _SPEED.search(part.left))]
    return "How far is it, in miles?" if speeds else "How far is it in miles, and at what speed?"


_WHEN_THERE = Lazy(r"\b(?:when|what time) (?:do|will|are|am|would|can) (?:i|we) (?:\w+ )?(?:get there|be there|arrive|get in|pull in|pull up|roll in|show up|land|there)\b")  # fmt: skip


def journey(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What follows from a trip that is told: when it arrives or must leave, how long it takes, how fast or far it goes."""
    if _OTHER.search(q.frame) or _CLOCK_APART.search(q.frame):
        return None
    trip = _told(q)
    if trip is None:
        return None
    shift = _zone_shift(q)
    if shift is None or not _resolved(q, trip):
        return None
    if trip.other_speed is not None:
        return _slower(trip)
    if not trip.far and trip.speed is None and trip.start is not None and trip.due is not None:
        return _apart(q, trip, shift)
    if _HOW_FAR.search(q.frame) and not trip.far:
        return _distance(trip)
    if not trip.far and trip.hours is not None and trip.speed is None and (trip.start or trip.due):
        return _by_hours(q, trip, shift, want.judged)
    if not trip.far:
        return None
    far = sum(trip.far) - trip.done
    if _HOW_FAST.search(q.frame):
        return _needed_speed(trip, far, shift)
    if trip.speed is None or trip.speed < 5 or far <= 0 or trip.hours is not None:
        return None
    need = far / trip.speed + trip.halts
    working = [f"{' + '.join(map(shown, trip.far))}{f' - {shown(trip.done)}' if trip.done else ''} mi ÷ {shown(trip.speed)} mph = {shown(far / trip.speed)} h"]  # fmt: skip
    if trip.halts:
        working.append(f"+ {shown(trip.halts)} h of stops = {shown(need)} h")
    if shift:
        working.append(f"the clock there is {duration(abs(shift))} {'ahead' if shift > 0 else 'behind'}")
    leaves = _LEAVES.search(q.frame) is not None
    if trip.have is not None:
        return _in_time(trip, need, working) if _ON_TIME.search(q.frame) or want.judged else None
    if trip.due is not None and trip.start is not None and not leaves:
        return _against(trip, need, shift, working) if _ON_TIME.search(q.frame) or want.judged else None
    if trip.due is not None and not leaves and want.judged and not shift and _WILL_BE_IN_TIME.search(q.frame):
        clock = now.hour + now.minute / 60
        trip.start = Part(Amount(clock, "clock"), "clock", clock, "", "", "", "")
        return _against(trip, need, shift, [*working, f"leaving now, at {time_of_day(clock)}"])
    if trip.due is not None and (leaves or not _ARRIVES.search(q.frame)):
        at = _due(trip) - trip.lead - need - shift
        if trip.lead:
            working.append(f"- {shown(trip.lead)} h beforehand")
        return _answer(need, working, f"Leave by {time_of_day(at)} at the latest.")
    if trip.lead:
        return None
    first = trip.start or (trip.due if trip.due is not None and not leaves and not _DUE_HARD.search(trip.due.left) else None)  # fmt: skip
    if first is not None and not leaves and (_ARRIVES.search(q.frame) or want.clock or want.kind in ("time", "")):
        at = hour_of(first) + need + shift
        if half_unsaid(first) and (_NOW_AFTER.search(first.right) or _NOW.search(first.left)):
            clock = now.hour + now.minute / 60  # "it's quarter past two now" is in the half of the day that it is
            at += min((0.0, 12.0), key=lambda half: min((one := abs(hour_of(first) + half - clock) % 24), 24 - one))
        where = " by the clock there" if shift else ""
        return _answer(need, working, f"There at about {time_of_day(at)}{where}.")
    if first is None and not leaves and not shift and (_HOW_LONG.search(q.frame) or want.kind == "time"):
        return _answer(need, working, "")
    return None


def _due(trip: _Trip) -> float:
    """The hour to be there by; for what starts in the evening the one after noon, when the half of the day is not said."""
    assert trip.due is not None
    evening = trip.evening or _EVENING.search(trip.due.left) is not None
    return hour_of(trip.due) + (12.0 if half_unsaid(trip.due) and evening and hour_of(trip.due) < 11 else 0.0)


def _by_hours(q: Question, trip: _Trip, shift: float, judged: bool) -> Estimate | None:
    """When a drive that is told in hours ends, or must begin."""
    assert trip.hours is not None
    need = trip.hours + trip.halts
    working = [f"{shown(trip.hours)} + {shown(trip.halts)} h = {shown(need)} h"] if trip.halts else []
    if trip.due is not None and trip.start is None and _LEAVES.search(q.frame):
        return _answer(need, working, f"Leave by {time_of_day(_due(trip) - trip.lead - need - shift)} at the latest.")  # fmt: skip
    if trip.start is not None and trip.due is not None and judged:
        return _against(trip, need, shift, working)
    if trip.start is not None and trip.due is None and not trip.lead and _ARRIVES.search(q.frame):
        return _answer(need, working, f"There at about {time_of_day(hour_of(trip.start) + need + shift)}.")
    return None


def _resolved(q: Question, trip: _Trip) -> bool:
    """Give a time of day that no word told its place by what is asked; False when it has none."""
    leaves = _LEAVES.search(q.frame) is not None
    if trip.unsaid is not None:
        if leaves and trip.due is None:
            trip.due = trip.unsaid
        elif not leaves and trip.start is None:
            trip.start = trip.unsaid
        else:
            return False
    # who asks when to leave has told no time of leaving
    return not (leaves and trip.due is None and trip.start is not None)


def _in_time(trip: _Trip, need: float, working: list[str]) -> Estimate | None:
    """Whether the hours that are left are enough."""
    assert trip.have is not None
    gap = trip.have - trip.lead - need
    verdict = f"Yes: {duration(gap)} to spare." if gap >= 0 else f"No: {duration(-gap)} late."
    also = (figure("to spare" if gap >= 0 else "late", abs(gap), "h"),)
    return _answer(need, [*working, f"{shown(trip.have)} h there are"], verdict, also)


def _slower(trip: _Trip) -> Estimate | None:
    """The time lost by driving slower, or gained by driving faster."""
    if trip.speed is None or trip.other_speed is None or len(trip.far) != 1 or trip.start or trip.due or trip.hours:
        return None
    far = trip.far[0]
    gap = abs(far / trip.speed - far / trip.other_speed)
    line = f"{shown(far)} mi ÷ {shown(trip.other_speed)} - {shown(far)} mi ÷ {shown(trip.speed)} = {shown(gap)} h"
    way = "longer" if trip.other_speed < trip.speed else "shorter"
    return exact("difference", gap, "h", working=(line,), source=_SOURCE, verdict=f"{duration(gap)} {way}.")


def _apart(q: Question, trip: _Trip, shift: float) -> Estimate | None:
    """Hours from leaving to being there, across two time zones."""
    if not shift or trip.start is None or trip.due is None or not _HOW_LONG.search(q.frame) or trip.halts or trip.lead:
        return None
    span = _span(trip.start, trip.due, shift)
    line = f"{time_of_day(hour_of(trip.start))} to {time_of_day(hour_of(trip.due) - shift)} by the clock here = {shown(span)} h"
    return exact("hours", span, "h", working=(line,), source=_SOURCE)


_DUE_HARD = Lazy(r"\b(?:by|due|puck|game|before|until|till|must|need)\b")


def _answer(hours: float, working: list[str], verdict: str, also: tuple[Figure, ...] = ()) -> Estimate:
    return exact("door to door", hours, "h", working=tuple(working), source=_SOURCE, verdict=verdict, also=also)


def _told(q: Question) -> _Trip | None:
    """Everything of the trip by its words; None when a number of its kinds has no place."""
    trip = _Trip()
    found = parts(q)
    trip.metric = any(one.unit in ("km", "km/h") or (one.unit == "km" and one.amount.per) for one in found)
    for part in found:
        if part.kind in ("volume", "mileage", "current", "volts", "charge", "tread", "torque", "volume/time"):
            return None
        if part.kind == "distance":
            if _BESIDE_AFTER.search(part.right) and (part.value < 20 or "snow" not in part.right):
                continue
            if (_DONE.search(part.left) or _DONE_AFTER.search(part.right)) and len([p for p in found if p.kind == "distance"]) > 1:  # fmt: skip
                trip.done += part.value
            else:
                trip.far.append(part.value)
        elif part.kind in ("n", "speed") and _SLOWS_FROM.search(part.left) and _TO_NEXT.search(part.after):
            trip.speed = part.value
        elif part.kind in ("n", "speed") and trip.speed is not None and _TO_OTHER.search(part.before):
            trip.other_speed = part.value
        elif part.kind == "speed" or (part.kind in ("n", "n/time") and _is_speed(part, trip)):
            if trip.speed is not None:
                return None
            trip.speed = converted(part.value, "km", "mi") if part.kind != "speed" and trip.metric else part.value
        elif part.kind == "time":
            if not _take_time(trip, part, q):
                return None
        elif part.kind == "clock" or (part.kind == "n" and _is_hour(part)):
            if not _take_clock(trip, part):
                return None
        elif part.kind == "n" and _FAR_BEFORE.search(part.left):
            trip.far.append(converted(part.value, "km", "mi") if trip.metric else part.value)
        elif part.kind == "n" and _OF_THE_WAY.search(part.after):
            trip.done += part.value
        elif part.kind == "n" and _COUNT.search(part.left) and 5 <= part.value <= 90:
            trip.halts += _times(trip, part) * part.value / 60
        elif part.kind == "n" and _NEXT_STOPS.search(part.after):
            trip.count = part.value
        elif part.kind in ("n", "n/time", "length"):
            return None
    return trip


_SLOWS_FROM = Lazy(r"\b(?:drop|slow|go|come|cut|went|dropped|slowed)(?: \w+){0,2} from $|\bfrom $")
_TO_NEXT = Lazy(r"^ (?:down )?to (?:about )?<(?:n|mph|km/h)>")
_TO_OTHER = Lazy(r"\bfrom <(?:n|mph|km/h)> (?:down )?to (?:about )?$")
_FAR_BEFORE = Lazy(r"\b(?:dist|distance)(?: is| of)? $")
_OF_THE_WAY = Lazy(r"^ (?:out )?of (?:the |our |those |a )?<(?:mi|km)>")
""" "120 of the 410 miles" are done."""
_NEXT_STOPS = Lazy(r"^ (?:x |@ |of )?<(?:min|h)> (?:\w+ )?(?:stops|breaks|halts)\b")


def _is_speed(part: Part, trip: _Trip) -> bool:
    at_speed = 15 <= part.value <= (130 if trip.metric else 80) and part.amount.per in ("", "h")
    return at_speed and (_SPEED.search(part.left) is not None or _SPEED_AFTER.search(part.right) is not None) and not _COUNT.search(part.left)  # fmt: skip


def _is_hour(part: Part) -> bool:
    value = part.value
    whole = 1 <= value <= 12 or (100 <= value < 2400 and value % 100 < 60 and value % 1 == 0)
    return whole and (_START.search(part.left) is not None or _DUE.search(part.left) is not None)


def _take_time(trip: _Trip, part: Part, q: Question) -> bool:
    """Stops, what is wanted in hand before the start, and the hours of the drive."""
    if part.amount.per or part.amount.each and part.value > 2:
        return False
    if re.search(r"\b(?:lose|losing|lost|gain|gaining|gained) $", part.left) and part.value == 1 and (_LOSES.search(q.frame) or _GAINS.search(q.frame)) and re.search(r"zone|going|cross|clock|line|time", q.frame):  # fmt: skip
        return True  # an hour of the zone, not of the road
    if _UNTIL_THEN.search(part.right) and part.value > 0.5 and trip.have is None:
        trip.have = part.value
        return True
    if _LEAD.search(part.right) or _LEAD_BEFORE.search(part.left):
        if trip.lead:
            return False
        trip.lead = part.value
        return True
    short = part.value <= 3
    if short and (_STOP.search(part.right) or _STOP.search(part.left)):
        trip.halts += _times(trip, part) * part.value
        return True
    if trip.hours is None and (_HOURS_DRIVEN.search(part.left) or _DRIVE_AFTER.search(part.right) or part.right.strip() == ""):  # fmt: skip
        trip.hours = part.value
        return True
    return False


def _times(trip: _Trip, part: Part) -> float:
    """How many stops of one length there are."""
    if trip.count:
        many, trip.count = trip.count, 0.0
        return many
    told = _COUNT.search(part.left) or (_COUNTED_BEFORE.search(part.before) if part.amount.each else None)
    if told is None:
        return 1.0
    return float(_COUNTS.get(told["n"]) or int(told["n"]))


_COUNTED_BEFORE = Lazy(r"\b(?P<n>one|two|three|four|five|six|\d) (?:\w+ )?(?:stops|breaks)\b")


def _take_clock(trip: _Trip, part: Part) -> bool:
    """Take a time of day as the one of leaving or the one to be there by; one that no word tells waits for the question."""
    start, due = last_at(_START, part.left), last_at(_DUE, part.left)
    if _CARRIED.search(part.left):
        start, due = -1, max(due, 0)
    now = _NOW_AFTER.search(part.right) is not None
    if trip.due is not None and _BE_THERE.search(part.left) and _EVENING.search(trip.due.left):
        trip.due, trip.evening = (
            None,
            True,
        )  # the event only says why: "face off at seven, I want to be there at half past five"
    if trip.start is not None and (now or _NOW.search(part.left)) and trip.due is None:
        trip.due = part  # "pulled out at 6:40, now it's 11:15"
    elif (now or start > due) and trip.start is None:
        trip.start = part
    elif trip.due is None and (due >= max(start, 0) or (start < 0 and due < 0 and _DUE.search(part.right))):
        trip.due = part
    elif start < 0 and due < 0 and trip.unsaid is None:
        trip.unsaid = part
    else:
        return False
    return True


_BE_THERE = Lazy(r"\b(?:be|get|arrive) (?:there|in|at the \w+)(?: at| by| for)* $")
_CARRIED = Lazy(r"\b(?:ferry|flight|train|boat|plane|shuttle)\b(?: \w+){0,3} $")
"""What leaves without the coach must be reached by then."""


def _against(trip: _Trip, need: float, shift: float, working: list[str]) -> Estimate | None:
    """Whether the coach is there by the time that was told."""
    assert trip.start is not None
    assert trip.due is not None
    span = _span(trip.start, trip.due, shift)
    there = span - trip.lead
    if there <= 0:
        return None
    arrives = hour_of(trip.due) - span + need if half_unsaid(trip.start) else hour_of(trip.start) + need + shift
    gap = there - need
    verdict = f"Yes: {duration(gap)} to spare, there at about {time_of_day(arrives)}." if gap >= 0 else f"No: {duration(-gap)} late, there at about {time_of_day(arrives)}."  # fmt: skip
    return _answer(need, [*working, f"{shown(there)} h there are"], verdict, (figure("to spare" if gap >= 0 else "late", abs(gap), "h"),))  # fmt: skip


_WILL_BE_IN_TIME = Lazy(
    r"^(?!.*\b(?:when|what time|how (?:long|fast))\b).*\b(?:will|do|can|could|would|are|am|is|gonna) (?:we|i|it|the \w+|us)\b[^.?]*\b(?:by|before|for) (?:about )?<(?:clock|n)>"
)


def _span(start: Part, due: Part, shift: float) -> float:
    """Hours between, on one clock; an unsaid half of the day is the one that makes it shortest."""
    return min((one for one in spans_between(start, due, shift) if one > 0.3), default=24.0)


def _needed_speed(trip: _Trip, far: float, shift: float) -> Estimate | None:
    span = trip.hours
    if trip.start is not None and trip.due is not None:
        if span is not None:
            return None
        span = _span(trip.start, trip.due, shift)
    if span is None or trip.speed is not None:
        return None
    rolling = span - trip.halts - trip.lead
    if rolling <= 0.2 or far <= 0:
        return None
    speed = far / rolling
    unit, value = ("km/h", converted(speed, "mi", "km")) if trip.metric else ("mph", speed)
    return exact("average speed", value, unit, working=(f"{shown(far)} mi ÷ {shown(rolling)} h = {shown(speed)} mph",), source=_SOURCE)  # fmt: skip


def _distance(trip: _Trip) -> Estimate | None:
    span = trip.hours
    if trip.start is not None and trip.due is not None:
        if span is not None:
            return None
        span = _span(trip.start, trip.due, 0.0)
    if span is None or trip.speed is None or span <= trip.halts:
        return None
    far = trip.speed * (span - trip.halts)
    unit, value = ("km", converted(far, "mi", "km")) if trip.metric else ("mi", far)
    return exact("distance", value, unit, working=(f"{shown(trip.speed)} mph x {shown(span - trip.halts)} h = {shown(far)} mi",), source=_SOURCE)  # fmt: skip


def _zone_shift(q: Question) -> float | None:
    """Hours by which the clock there is ahead of the one here; None when it can not be told."""
    found = [(match.start(), _zone(match[1])) for match in _ZONE.finditer(q.frame)]
    zones = list(dict.fromkeys(zone for _, zone in found))
    if not zones:
        if _LOSES.search(q.frame) and re.search(r"zone|cross|clock|going east|time", q.frame):
            return 1.0
        return -1.0 if _GAINS.search(q.frame) else 0.0
    if len(zones) == 1:
        return 0.0
    if len(zones) > 2:
        return None
    first, other = zones
    place = next(at for at, zone in found if zone == other)
    first_at = found[0][0]
    there_first = _THERE.search(q.frame[:first_at]) is not None and _HERE.search(q.frame[:place]) is not None
    there_first = there_first and not _HERE.search(q.frame[:first_at])
    return _ZONES[first] - _ZONES[other] if there_first else _ZONES[other] - _ZONES[first]


def _zone(said: str) -> str:
    return said if said in _ZONES else _LETTERS[said[0]]
