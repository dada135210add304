"""Hours left of a limit that the driver names: "driven six and a half of my eleven", "bus rules fifteen on duty, been on nine".

The rule is the one that is told, for a driver knows which one his run is under; where it is that of goods the answer says what
holds with passengers. Only when each amount is the limit, hours that count against it, or a rest beside them.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.driving_hours import HELPER
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, half_unsaid, hour_of, parts

_CUES = ("driv", "drove", "duty", "window", "rule", "wheel", "limit")
_DRIVING, _DUTY = frozenset({10.0, 11.0, 13.0}), frozenset({14.0, 15.0, 16.0})
_LIMIT_AFTER = Lazy(
    r"^ (?:hours? )?(?:(?:rule|limit|window|clock|max\w*|allow\w*)\b|(?:of |for )?(?:driving|on duty|duty|behind the wheel|at the wheel)(?: time)?\b(?! already| so far| today| since))"
)
_LIMIT_BEFORE = Lazy(
    r"\b(?:(?:of|out of|from) (?:my |the |our |those |his )?|(?:my|the) (?:legal |allowed )?|allowed |limit(?: of| is| ' s)? |rules? (?:is |of |says |gives? (?:me |us )?|allows? )?|max(?:imum)? (?:of |is )?|(?:get|gets|have|has) )$"
)
_DONE_BEFORE = Lazy(
    r"\b(?:driv(?:en|ing)|drove|drive|used(?: up)?|done|did|put|so far|already|burn\w*|logged|put in|(?:been|was) (?:on|driving|at it|going|behind the wheel|at the wheel)(?: duty)?|on duty|worked|wheel|book|clocked|eaten|gone)(?: (?:for|about|is|are|was|i have|have|it is|another|then|and|first|already|today|so far|up|in))* $"
)
_DONE_AFTER = Lazy(
    r"^ (?:straight |solid |in |already |so far |today |behind (?:the wheel|me)|driven|driving already|gone|used|done|into (?:my|the|it)|of it|of (?:them|that)|on the (?:book|log|clock)|at the wheel|down)"
)
_REST_BEFORE = Lazy(
    r"\b(?:sat|sit|sitting|break|lunch|dinner|supper|breakfast|rest\w*|nap\w*|stop\w*|wait\w*|parked|off|slept)(?: (?:for|about|down|was|of|there|took|around|duty|at|the|dock|rink|lot|out|in))* $"
)
_REST_AFTER = Lazy(
    r"^ (?:\w+ )?(?:lunch|break|stop|nap|sit|sit ?down|rest|off|dinner|supper|breakfast|wait|fuel|load\w*|food|coffee|parked)\b"
)
_NEED_BEFORE = Lazy(
    r"\b(?:trip|run|leg|ride|drive (?:ahead|home|there)|it|need|needs|to go|still)(?: (?:is|are|takes|of|about|another|left|me))* $"
)
_NEED_AFTER = Lazy(r"^ (?:to go|ahead|more (?:to|of)|left to (?:go|do)|of road|away|run|trip)\b")
_LEFT = Lazy(
    r"\b(?:left|remain\w*|still|more|can i (?:drive|do)|have i got|what (?:have|do) i (?:got|have)|got)\b|\bhow (?:long|much|many)\b|\bwhat (?:can|may)\b"
)
_MAKES = Lazy(r"\b(?:finish|make it|get there|enough|fit|done|legal|within|inside|under|can i)\b")
_ELSE = Lazy(
    r"\b(?:co ?driver|partner|relief|split|berth|bunk|sleeper|week|days|reset|restart|34|adverse|generator|genny|idl\w*|furnace|battery|water|between us|both of us|two drivers|team driv\w+|other driver|tomorrow|yesterday)\b|<(?:mi|km|mph|gal|A|V|lb|psi|driver)(?:/\w+)*>"
)


_THEN_TOO = Lazy(
    r"^ (?!.*\b(?:trip|leg|need|left|off|rest|sat|more to)\b)(?:\w+ ){0,4}?(?:and|then|plus)(?: (?:another|then|i|did))* $"
)
""" "Drove two forty before the rink and five ten after"."""
_DID = Lazy(r"\b(?:did|done|drove|driven|used) (?:about )?$")


class _Told(NamedTuple):
    limit: Part
    done: list[Part]
    rests: list[Part]
    needed: list[Part]
    clocks: list[Part]


def _hours(part: Part) -> float:
    """Hours, also where they are said as a time: "done seven fifteen"."""
    if part.kind == "n" and part.value >= 100 and len(part.amount.pieces) == 2:
        return hour_of(part)
    return part.value


def _placed(q: Question) -> _Told | None:
    """Each amount by what it is; None when one is none of these, or which is the limit stays open."""
    found = [part for part in parts(q) if part.kind not in ("people", "temperature")]
    if len(found) < len(
        [
            one
            for one in q.amounts
            if one.unit not in ("people", "F", "C", "temp") and q.words[one.start : one.end] != ("one",)
        ]
    ):
        return None
    limits = [part for part in found if _limits(part, q.frame)]
    if len(limits) != 1:
        return None
    told = _Told(limits[0], [], [], [], [])
    for part in found:
        if part is limits[0]:
            continue
        if part.kind == "clock" and _DID.search(part.left):
            told.done.append(part._replace(kind="time"))  # "did six this morning" are hours
        elif part.kind == "clock":
            told.clocks.append(part)
        elif part.kind not in ("time", "n"):
            return None
        elif _REST_AFTER.search(part.right) or _REST_BEFORE.search(part.left):
            told.rests.append(part)
        elif (
            _DONE_BEFORE.search(part.left)
            or _DONE_AFTER.search(part.right)
            or told.done
            and _THEN_TOO.search(part.left)
        ):
            told.done.append(part)
        elif _NEED_BEFORE.search(part.left) or _NEED_AFTER.search(part.right):
            told.needed.append(part)
        else:
            return None
    return told


_RULED = Lazy(r"\b(?:rules?|limit\w*|window|allow\w*|carriers?|passenger|legal\w*|max\w*|law)\b")
"""Without such a word "fifteen hours on duty" are hours that were worked."""
_RULE_AFTER = Lazy(r"^ (?:hours? )?(?:\w+ ){0,3}?(?:rule|limit|window|clock|max\w*|allow\w*|drive time)\b")


def _limits(part: Part, frame: str) -> bool:
    """Whether an amount is the limit: hours that a rule has, with its words beside them."""
    if part.kind not in ("time", "n") or part.value not in _DRIVING | _DUTY or part.unit == "min":
        return False
    if _DONE_BEFORE.search(part.left) and not part.right.startswith((" hour rule", " rule", " limit")):
        return False
    if _RULE_AFTER.search(part.right) or _LIMIT_BEFORE.search(part.left):
        return True
    return _LIMIT_AFTER.search(part.right) is not None and _RULED.search(frame) is not None


def _of_other(part: Part, on_duty: bool) -> bool:
    """Whether hours are driving where the limit is one of duty, or the other way round."""
    drives, works = (words.search(f"{part.left}{part.right}") is not None for words in (_DRIVE_WORD, _DUTY_WORD))
    return (drives and not works) if on_duty else (works and not drives)


_DUTY_WORD = Lazy(r"\bduty\b|\bwindow\b")
_DRIVE_WORD = Lazy(r"\bdriv\w*|\bdrove\b|\bwheel\b")
_GOODS = {11.0: "10 hours of driving", 14.0: "15 hours on duty"}
"""What holds with passengers, 49 CFR 395.5, in place of the rule of goods, 49 CFR 395.3."""


def limit_left(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours that are left of a limit that is told, or when a window that is told ends."""
    if not names_any(q.text.lower(), _CUES) or _ELSE.search(q.frame):
        return None
    told = _placed(q)
    if told is None:
        return None
    limit = told.limit.value
    on_duty = limit in _DUTY
    if told.clocks:
        return _window(q, told) if on_duty and not (told.done or told.rests or told.needed) else None
    if not told.done or not (_LEFT.search(q.frame) or (told.needed and _MAKES.search(q.frame))):
        return None
    if on_duty and (told.rests or not _DUTY_WORD.search(q.frame)):
        return None  # whether a rest counts on duty is another question
    if not on_duty and not _DRIVE_WORD.search(q.frame):
        return None
    if any(_of_other(part, on_duty) for part in told.done):
        return None
    hours = [_hours(part) for part in told.done]
    done = sum(hours)
    left = limit - done
    if not 0 < done <= 24 or any(one > limit + 6 for one in hours) or len(told.needed) > 1:
        return None
    name = "on-duty time" if on_duty else "driving"
    line = f"{shown(limit)} - {' - '.join(shown(one) for one in hours)} = {shown(left)} h"
    said = (
        f"{duration(left)} of {name} left"
        if left > 1 / 60
        else f"Nothing left: over by {duration(-left)}"
        if left < -1 / 60
        else "Nothing left"
    )
    if told.needed:
        need = _hours(told.needed[0])
        if need <= left:
            said = f"Yes: {said}, {duration(need)} needed"
        elif need > limit:
            said = f"No: {said}, {duration(need)} needed"
        else:
            return None  # whether what is driven is part of the trip is not told
        if not _MAKES.search(q.frame):
            return None
    with_people = f" With passengers the rule is {_GOODS[limit]}." if limit in _GOODS else ""
    also = (figure("limit", limit, "h"),)
    return exact(f"{name} left", max(left, 0.0), "h", working=(line,), source="arithmetic on the limit that was told", verdict=f"{said} of the {shown(limit)} you named.{with_people} {HELPER}", also=also)  # fmt: skip


_ENDS = Lazy(
    r"\b(?:when|what time)\b[^.?]*\b(?:shut|close|end|run out|up|out|done|over|off duty|quit|stop|finish)\w*\b"
)
_BEGAN = Lazy(
    r"\b(?:start\w*|came on|come on|on duty|clocked in|began|signed (?:in|on)|on|punched in)(?: (?:at|duty|about|it|work|this))* $"
)


def _window(q: Question, told: _Told) -> Estimate | None:
    """When a window of so many hours ends that began at a time of day."""
    if len(told.clocks) != 1 or not _ENDS.search(q.frame) or not _BEGAN.search(told.clocks[0].left):
        return None
    start, limit = hour_of(told.clocks[0]), told.limit.value
    other = (
        f" ({time_of_day(start + 12 + limit)} if you started in the afternoon)" if half_unsaid(told.clocks[0]) else ""
    )
    line = f"{time_of_day(start)} + {shown(limit)} h = {time_of_day(start + limit)}"
    with_people = f" With passengers the rule is {_GOODS[limit]}." if limit in _GOODS else ""
    return exact("window", limit, "h", working=(line,), source="arithmetic on the limit that was told", verdict=f"It ends at {time_of_day(start + limit)}{other}.{with_people} {HELPER}")  # fmt: skip


_MORE_TO_DRIVE = Lazy(r"\bhow (?:many|much|long)\b[^.?]*\b(?:drive|driving)\b")


def undriven_of(q: Question) -> str:
    """What is asked back when a rule and the time of coming on are told, but not what was driven since; "" when not so."""
    if not names_any(q.text.lower(), _CUES) or _ELSE.search(q.frame) or not _MORE_TO_DRIVE.search(q.frame):
        return ""
    told = _placed(q)
    if told is None or told.limit.value in _DUTY or told.done or told.rests or told.needed or not told.clocks:
        return ""
    return "How many hours have you driven since then?"


_OFF = Lazy(
    r"\b(?:shut (?:her |it )?down|went off|came off|got off|off duty|signed off|clocked out|punched out|knocked off|parked(?: it)?|quit|done|off)(?: (?:at|duty|the clock|about|last night|yesterday|it|for|the|night|work|around))* $"
)
_REST_TOLD = Lazy(
    r"\b(?:need|needs|have to have|have to (?:take|get|be)|must have|want|takes?|gets?|owe|with|plus|then|,|at least)(?: (?:a|my|full|at least|to have|to take|my full|the|about))* $"
)
_OFF_AFTER = Lazy(r"^ (?:\w+ )?(?:off|rest|break|sleep|down|in the (?:bunk|hotel|motel))\b")
_BACK = Lazy(
    r"\b(?:when|what time|earliest|soonest)\b[^.?]*\b(?:go|roll|good|back|start|on|drive|leave|legal|out|again|ready|move|fresh)\b|\bearliest\b|\b(?:back(?: on)?|roll|go|on) (?:when|at what time)\b"
)
_LONGEST_REST_H = 34.0


def rested_at(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """When a rest of so many hours ends that began at a time of day."""
    if not names_any(q.text.lower(), ("when", "what time", "earliest", "soonest")) or not _BACK.search(q.frame):
        return None
    found = [part for part in parts(q) if part.kind not in ("people", "temperature")]
    clocks = [part for part in found if part.kind == "clock"]
    spans = [part for part in found if part.kind == "time" and part.unit in ("h", "min")]
    if [len(clocks), len(spans)] != [1, 1] or len(q.amounts) != 2 or not _OFF.search(clocks[0].left):
        return None
    rest = spans[0].value
    if not (_REST_TOLD.search(spans[0].left) or _OFF_AFTER.search(spans[0].right)) or not 1 <= rest <= _LONGEST_REST_H:
        return None
    at = hour_of(clocks[0])
    other = f" ({time_of_day(at + 12 + rest)} if that was in the afternoon)" if half_unsaid(clocks[0]) else ""
    line = f"{time_of_day(at)} + {shown(rest)} h = {time_of_day(at + rest)}"
    return exact("rest", rest, "h", working=(line,), source="arithmetic on the rest that was told", verdict=f"Back on at {time_of_day(at + rest)}{other}. {HELPER}")  # fmt: skip


_OTHER_DRIVER = Lazy(
    r"\b(?:co ?driver|partner|relief|other (?:driver|guy|fella|fellow|man)|buddy|second driver|swing driver|me|mine|i)\b"
)
_BOTH = Lazy(
    r"\b(?:between (?:us|the two)|together|total|in all|altogether|all told|both of us|combined|we have got|have we got|do we have)\b"
)
_USED_UP = Lazy(
    r"\b(?:drove|driven|driving since|used|done|did|fresh|bunk|slept|sleep|rest\w*|break|after|already|limit|rule|off)\b"
)
"""With one of these, hours may be those that are gone."""
_HAS_LEFT = Lazy(
    r"\b(?:co ?driver|partner|relief|driver|guy|fella|fellow|man|buddy|me|mine|i|she|he|his|hers)(?: (?:has|have|had|got|is|am|' s|at|with|only|still|left|about|down to|clock|on|\w+ clock))* $"
)
_LEFT_WORD = Lazy(r"\bleft\b|\bremain\w*\b|\bgood for\b|\bgot\b")


def both_left(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What two drivers have left between them."""
    if not names_any(q.text.lower(), ("driv",)) or len(q.amounts) != 2 or len(_OTHER_DRIVER.findall(q.frame)) < 2:
        return None
    if not (_BOTH.search(q.frame) and _LEFT_WORD.search(q.frame)) or q.has(
        r"\b(?:apart|who|whose|more than|miles?|when|what time|each|both|switch\w*|first)\b"
    ):
        return None
    found = parts(q)
    if (
        len(found) != 2
        or not any(part.kind == "time" for part in found)
        or any(part.kind not in ("time", "n") for part in found)
    ):
        return None
    if _USED_UP.search(q.frame) or not all(_HAS_LEFT.search(part.left) for part in found):
        return None
    hours = [_hours(part) for part in found]
    if not all(0 < one <= 15 for one in hours):
        return None
    total = sum(hours)
    line = f"{shown(hours[0])} + {shown(hours[1])} = {shown(total)} h"
    return exact("driving left together", total, "h", working=(line,), source="arithmetic", verdict=f"{duration(total)} of driving between the two of you. {HELPER}")  # fmt: skip
