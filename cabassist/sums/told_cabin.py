"""Sums over a cabin some hours after the heat failed, by its time constant or by how fast it cooled."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.lumped import LUMPED_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import (
    ASIDE,
    ENDS,
    FREEZING_F,
    MARKED,
    OTHERS,
    STARTS,
    between,
    degrees_f,
    hour_now,
    hour_of,
    now_term,
    result,
)

_ROLES = (
    role("outside", "temperature", 0.3, (2.0, r"\b(?:outside|outdoors|ambient|out|air)(?: is| at| it is| there)* # |# (?:outside|out(?: there)?|outdoors)\b(?! (?:is |at |it is |it )*<)")),
    role("outside", "n", -1.6, (3.6, r"\b(?:outside|outdoors|ambient|out|air)(?: is| at| it is| there)* # |# (?:outside|out(?: there)?|outdoors)\b(?! (?:is |at |it is |it )*<)")),
    role("start", "temperature", 0.3, (1.2, r"\b(?:inside|cabin|coach|in here|from|was|it is|had|started)(?: is| at| it is| ' s|dropped| from)* # |# (?:inside|in(?: here)?|now|to start|when)\b"), never=r"# (?:outside|out)\b(?! (?:is |at |it is )*<)|\b(?:outside|above|below|over|under) # "),
    role("start", "n", -1.6, (3.2, r"\b(?:inside|cabin|coach|in here|from|was|it is|it|had|started)(?: is| at| it is| ' s|dropped| from)* # |# (?:inside|in(?: here)?|now|to start|when)\b"), never=r"# (?:outside|out)\b(?! (?:is |at |it is )*<)|\b(?:above|below|over|under|outside) # "),
    role("later", "temperature|n", -0.8, (2.4, r"\b(?:to|now|down to|it is|later(?: it is)?|still|it)(?: ' s| now| is)* # |# (?:now|later|after)\b|<h>[^#<]{0,26} (?:it|is) (?:' s )?# "), never=r"# (?:outside|out)\b(?! (?:is |at |it is )*<)|\boutside # "),
    role("fell", "temperature|n", -1.6, (4.4, r"\b(?:falls?|fell|los(?:t|es|ing)|drops?|dropped|cools?|cooled|down)(?: about| by| maybe)* # (?:degrees |f |c )?(?!to\b)"), never=r"\bfrom # ", bare=0.2),
    role("apart", "time", -0.6, (2.6, r"\b(?:in|over|after)(?: the)?(?: first| last| past| only)? # |# (?:ago|later|after (?:the|it|that))\b|\bfirst # ")),
    role("tau", "time", -0.5, (4.0, r"\b(?:time constant|constant|tau)(?: of| is| about| around| say)* # |# (?:\w+ )?(?:time constant|constant|tau)\b")),
    role("span", "time", 0.2, (2.8, r"\b(?:where|how (?:warm|cold)|what temp\w*|be)(?: in here| inside)?(?: after| in)?(?: another)? # "), (1.2, r"\b(?:after|in|for)(?: another)? # |# (?:later|from now|after|on)\b")),
    role("from", "clock", 0.0, *STARTS, (1.5, r"\b(?:now|quit|died|midnight|stopped|failed|it is|is|out|off|since|went out|at)(?: at)? # |# (?:now|and|,)")),
    role("to", "clock", 0.0, *ENDS, (1.8, r"\b(?:by|at|till?|until|be at|come)(?: about)? # $|\bhow (?:warm|cold)\b[^#]{0,26} # |\bby # |\bbefore # |\bwill\b[^#<]{0,40} # |\bcome before # ")),
    role("to", "n", -1.6, (3.0, r"\b(?:by|at) # $|\b(?:by|at) # (?:in the|tomorrow)")),
    role("target", "temperature|n", -1.6, (4.6, r"\b(?:above|below|over|under|stay\w* at|at least|warmer than|colder than) # "), bare=0.2),
    OTHERS,
    role("beside", "people", -0.5, many=True),
    role("seen", "clock|n", MARKED),  # when it was as warm as "later"
    role("from", "n", MARKED),
    role("further", "time", MARKED),  # the time from then on that is asked about
    role("start", "depth", MARKED),  # "it is 66 in, 20 out" is heard as inches
    role("rate", "temperature|temperature/time|n|n/time", MARKED),  # what it falls by in an hour
    ASIDE,
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = [one for one in terms if one.kind in ("temperature", "n")]
    other = r"\b(?:water|tank|pad|btu\w*|watts?|propane|wind|tires?|tyres?|batter\w*|diesel|gel\w*|hose)\b|<(?:psi|gal|mph|lb|W|A|BTU|BTU/h|mi|L)>"
    if not any(one.kind == "temperature" for one in terms) and not question.has(_OF_WARMTH):
        return False
    return len(warm) >= 2 and want.kind in ("temperature", "time", "") and not question.has(other)


_OF_WARMTH = r"\b(?:inside|indoors|in here|outside|outdoors|cabin|coach|aboard|bunks?|degrees?|warm\w*|cold\w*|cool\w*|chill\w*|temp\w*|heat\w*|furnaces?|freez\w*|frozen|drop\w*|fall\w*|fell|los(?:e|es|t|ing))\b"
"""Bare numbers are degrees only where something tells of warmth."""


def _hours(t: Told) -> float | None:
    span, start, end = t.value("span"), t.one("from"), t.one("to")
    if span is not None or end is None:
        return None if start is not None and end is not None else span
    return between(now_term(t) if start is None else start, end)


def _fall(t: Told, name: str) -> float | None:
    """A difference of temperatures in °F."""
    term = t.one(name)
    if term is None:
        return None
    metric = t.question.scale == "C"
    bare = term.kind in ("n", "n/time")
    degrees = term.value if bare or not metric else term.value - 32
    return degrees * 1.8 if bare and metric else degrees


def _said(t: Told, name: str, degrees: float, line: str, verdict: str = "", also: tuple[Figure, ...] = ()) -> Estimate:
    """A temperature in the scale of the question."""
    if t.question.scale == "C":
        return result(t, name, (degrees - 32) / 1.8, "C", (line,), verdict, also, LUMPED_SOURCE)
    return result(t, name, degrees, "F", (line,), verdict, also, LUMPED_SOURCE)


def _steady(t: Told, start: float, rate: float) -> Estimate | None:
    """A cabin that loses as many degrees each hour: hours to a temperature, or the temperature after some hours."""
    target, hours, begun = degrees_f(t, "target"), _hours(t), t.one("from")
    if rate <= 0:
        return None
    if target is None and hours is None and t.question.has(_FREEZES):
        target = FREEZING_F
    t.assumed.append("it goes on falling as fast; it slows as it nears the air outside")
    if hours is None:
        if target is None or target >= start or t.want.kind not in ("time", ""):
            return None
        whole = (start - target) / rate
        at = hour_of(begun) if begun is not None else hour_now(t)
        verdict = f"That is at {time_of_day(at + whole)}." if t.want.clock or begun is not None else ""
        return result(t, "time until it is that cold", whole, "h", (f"({shown(start)} - {shown(target)}) ÷ {shown(rate)} = {shown(whole)} h",), verdict, source="arithmetic")  # fmt: skip
    then = start - rate * hours
    verdict = "" if target is None else _verdict(t, then, target)
    return _said(t, "temperature then", then, f"{shown(start)} - {shown(rate)} x {shown(hours)} = {shown(then)} °F", verdict)  # fmt: skip


def _at_that_rate(t: Told, start: float) -> Estimate | None:
    """Two readings and the time between them, nothing told of the air outside: as many degrees each hour as so far."""
    later, apart, begun, seen = degrees_f(t, "later"), t.value("apart"), t.one("from"), t.one("seen")
    if seen is not None and begun is not None and apart is None:
        apart = between(begun, seen)
    elif seen is not None or begun is not None:
        return None
    if later is None or not apart or later >= start:
        return None
    rate = (start - later) / apart
    said = f"({shown(start)} - {shown(later)}) ÷ {shown(apart)} h = {shown(rate)} degrees an hour"
    t.roles = {name: found for name, found in t.roles.items() if name not in ("from", "seen")}
    t.roles = {**t.roles, "from": [seen]} if seen is not None else t.roles
    if "further" in t.roles and "span" not in t.roles:
        t.roles = {("span" if name == "further" else name): found for name, found in t.roles.items()}
    found = _steady(t, later, rate)
    return None if found is None else replace(found, working=(said, *found.working))


_FREEZES = r"\bfreez\w*\b|\bfrozen\b|\bice\b"
_BELOW = Lazy(
    r"\b(?:below|under|colder|less than|freez\w*|frozen|ice|(?:down|drop\w*|falls?|fallen|cool\w*|gets?|got) to|hits?|reach\w*)\b"
)
_KEPT = Lazy(
    r"\b(?:above|over(?= (?:about )?<(?:F|C|temp|n)>)|warmer|stay\w*|still(?! (?:be )?(?:below|under|colder))|keeps?|holds?|lasts?|ok|okay|safe|fine|make it|without|not|never|won|before (?=(?:\w+ )?(?:freez|ice|hit|gets?|reach)))\b"
)
_ASKING = Lazy(r"\b(?:will|would|is|are|does|do|can|could|am|has|have)\b")


def asks_if_below(frame: str) -> bool:
    """Whether it is asked if it gets so cold, and not if it stays warm: what the asking clause says first of the two."""
    clauses = [one for one in re.split(r"[,.;?]", frame) if _ASKING.search(one) and (_BELOW.search(one) or _KEPT.search(one))]  # fmt: skip
    spoken = [one for one in re.split(r"[,.;?]", frame) if _BELOW.search(one) or _KEPT.search(one)]
    asked = (clauses or spoken or [frame])[-1]
    asked = asked[found.start() :] if (found := _ASKING.search(asked)) else asked
    below, kept = _BELOW.search(asked), _KEPT.search(asked)
    return below is not None and (kept is None or below.start() < kept.start())


def _verdict(t: Told, then: float, target: float) -> str:
    """Whether it stays above a temperature."""
    stays = then >= target
    said = f"{shown((target - 32) / 1.8, 3)} °C" if t.question.scale == "C" else f"{shown(target, 3)} °F"
    if asks_if_below(t.question.frame):
        return f"{'No, it stays above' if stays else 'Yes, it falls below'} {said}."
    return f"{'Yes, it stays above' if stays else 'No, it falls below'} {said}."


def _at_one(t: Told) -> list[Term]:
    """The "one" from which it cools until a told hour: as a bare number it is none of the amounts of these sums."""
    if "to" not in t.roles or "from" in t.roles or "seen" in t.roles:
        return []
    words = t.question.words
    return [
        Term(one, "n", 1.0, " # ")
        for one in t.question.amounts
        if words[one.start : one.end] == ("one",)
        and words[one.start - 1 : one.start] in (("at",), ("from",), ("since",))
    ]


def _solve(t: Told) -> Estimate | None:
    heard = [one._replace(kind="n", value=one.amount.value) if one.unit == "in" else one for one in t.roles.get("start", [])]  # fmt: skip
    if any(one.kind == "depth" for one in heard):
        return None
    t.roles = {**t.roles, "start": heard} if heard else t.roles
    if started := _at_one(t):
        t.roles = {**t.roles, "from": started}
    start, outside = degrees_f(t, "start"), degrees_f(t, "outside")
    rate = _fall(t, "rate")
    if rate is not None:
        return None if start is None or t.has("tau") or t.has("later") else _steady(t, start, rate)
    if start is not None and outside is None and t.has("target", "tau"):
        return _coldest(t, start)
    if start is not None and outside is None and t.has("later") and not t.has("tau") and not t.has("fell"):
        return _at_that_rate(t, start)
    if start is None or outside is None or start <= outside:
        return None
    tau, apart, later = t.value("tau"), t.value("apart"), degrees_f(t, "later")
    begun, seen = t.one("from"), t.one("seen")
    if seen is not None:
        if apart is not None:
            return None
        apart = between(begun, seen) if begun is not None else None
    if t.has("fell"):
        if later is not None:
            return None
        later = start - (_fall(t, "fell") or 0.0)
    lines: list[str] = []
    since = start
    if tau is None:
        if apart is None or later is None or not outside < later < start:
            return None
        tau = apart / math.log((start - outside) / (later - outside))
        lines.append(
            f"time constant {shown(apart)} h ÷ ln({shown(start - outside)} ÷ {shown(later - outside)}) = {shown(tau)} h"
        )
    elif later is not None or apart is not None:
        return None
    further, target = t.value("further"), degrees_f(t, "target")
    hours = _hours(t) if further is None else further
    if hours is None:
        return _reached(t, start, outside, tau, lines)
    if t.want.kind == "time" and (target is None or not t.want.judged):
        return None
    on = further is not None or (apart is not None and t.question.has(r"\b(?:from now|another|more)\b"))
    if on and later is not None:
        since = later
    then = outside + (since - outside) * math.exp(-hours / tau)
    lines.append(
        f"{shown(outside)} + ({shown(since)} - {shown(outside)}) x e^(-{shown(hours)}/{shown(tau)}) = {shown(then)} °F"
    )
    verdict = "" if target is None else _verdict(t, then, target)
    also = (figure("time constant", tau, "h"),)
    t.assumed.append("outside stays as cold, heat stays off")
    celsius = t.question.scale == "C"
    if celsius:
        return result(t, "temperature then", (then - 32) / 1.8, "C", tuple(lines), verdict, also, LUMPED_SOURCE)
    return result(t, "temperature then", then, "F", tuple(lines), verdict, also, LUMPED_SOURCE)


def _coldest(t: Told, start: float) -> Estimate | None:
    """How cold it may be outside for a cabin to stay above a temperature so long."""
    target, tau, hours = degrees_f(t, "target"), t.value("tau"), _hours(t)
    if target is None or not tau or not hours or target >= start:
        return None
    left = math.exp(-hours / tau)
    air = (target - start * left) / (1 - left)
    return _said(t, "coldest air", air, f"({shown(target)} - {shown(start)} x {shown(left)}) ÷ (1 - {shown(left)}) = {shown(air)} °F")  # fmt: skip


def _reached(t: Told, start: float, outside: float, tau: float, lines: list[str]) -> Estimate | None:
    """Hours until a cabin is so cold, from now where its temperature now is told, else from the start; or its time constant."""
    target, later, begun, seen = degrees_f(t, "target"), degrees_f(t, "later"), t.one("from"), t.one("seen")
    constant = figure("time constant", tau, "h")
    if t.want.kind not in ("time", "") and target is not None and not t.want.judged:
        return None
    if target is None:
        if not t.question.has(r"\b(?:constant|tau)\b") or "tau" in t.roles:
            return None
        return result(t, constant.name, tau, "h", tuple(lines), source=LUMPED_SOURCE)
    if not outside < target < start:
        return None
    whole = tau * math.log((start - outside) / (target - outside))
    lines.append(f"{shown(tau)} x ln({shown(start - outside)} ÷ {shown(target - outside)}) = {shown(whole)} h from the start")  # fmt: skip
    t.assumed.append("outside stays as cold, heat stays off")
    since_now = whole
    if later is None and "fell" in t.roles:
        later = start - (_fall(t, "fell") or 0.0)
    if later is not None:
        since_now -= tau * math.log((start - outside) / (later - outside))
    if since_now <= 0:
        return None  # it has been that cold
    at = hour_of(begun) + whole if begun is not None else hour_of(seen) + since_now if seen is not None else hour_now(t) + since_now  # fmt: skip
    verdict = f"That is at {time_of_day(at)}." if t.want.clock or begun is not None or seen is not None else ""
    from_start = figure("from the start", whole, "h")
    whole_first = _FROM_START.search(t.question.frame) is not None
    value = whole if whole_first else since_now
    return result(t, "time until it is that cold", value, "h", tuple(lines), verdict, (constant, figure("from now", since_now, "h") if whole_first else from_start), LUMPED_SOURCE)  # fmt: skip


_NO_CABIN = Lazy(
    r"\b(?:water|tanks?|pads?|btu\w*|watts?|wind|tires?|tyres?|batter\w*|diesel|hose)\b|<(?:psi|gal|mph|lb|W|A|BTU|BTU/h|mi|L)[>/]"
)
_OUTSIDE = Lazy(r"\b(?:outside|outdoors|ambient|out(?: there)?|air)(?: (?:is|at|was|it is|it was|about))* $")
_OUTSIDE_AFTER = Lazy(r"^(?:degrees )?(?:outside|outdoors|out there|out)\b")
_FROM_START = Lazy(
    r"\bfrom (?:when|the (?:start|time|moment|beginning|failure)|failure|it (?:quit|died))\b|\b(?:since|after) (?:it|when|the \w+) (?:quit|died|failed|went|stopped|packed)\b|\bin all\b|\baltogether\b|\b(?:hours|long|minutes) (?:after|since|from) <clock>"
)
_AT = Lazy(r"\bat $")


def cooled(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours until it is so cold inside, by two temperatures, the time between them and the one outside.

    Which is which follows from the order in which a cabin cools: first, later, the one asked about, outside.
    """
    found = placed(q)
    if found is None or want.kind != "time" or _NO_CABIN.search(q.frame):
        return None
    times = [one for one in found if one.unit in ("h", "min") and not one.amount.per]
    clocks = [one for one in found if one.unit == "clock"]
    if clocks:
        clocks += [one for one in found if one.unit == "n" and 1 <= one.value <= 12 and one.value % 1 == 0 and _AT.search(one.left)]  # fmt: skip
    hours = sorted({one.value % 12 for one in clocks}, key=[one.value % 12 for one in clocks].index)
    degrees = [one for one in found if one not in times and one not in clocks and not one.amount.per and (one.unit in ("F", "C", "temp") or (one.unit == "n" and -60 <= one.value <= 110))]  # fmt: skip
    # an amount has the words up to the next one as well: these tell of it when the next has its own
    air = [one for one in degrees if _OUTSIDE_AFTER.search(one.right)] or [one for one in degrees if _OUTSIDE.search(one.left)]  # fmt: skip
    if len(times) + len(clocks) + len(degrees) != len(found) or (len(times), len(hours)) not in ((1, 0), (0, 2)):
        return None
    if len(degrees) != 4 or len(air) != 1 or len({one.unit for one in degrees} & {"F", "C"}) > 1:
        return None
    outside = air[0].value
    apart = converted(times[0].value, times[0].unit, "h") if times else (hours[1] - hours[0]) % 12
    start, later, target = sorted((one.value for one in degrees if one is not air[0]), reverse=True)
    if not start > later > target > outside or apart <= 0:
        return None
    tau = apart / math.log((start - outside) / (later - outside))
    whole = tau * math.log((start - outside) / (target - outside))
    lines = (
        f"time constant {shown(apart)} h ÷ ln({shown(start - outside)} ÷ {shown(later - outside)}) = {shown(tau)} h",
        f"{shown(tau)} x ln({shown(start - outside)} ÷ {shown(target - outside)}) = {shown(whole)} h from the start",
    )
    at = hours[0] + whole if hours else 0.0
    sure = bool(clocks) and not clocks[0].amount.pieces and clocks[0].unit == "clock"
    verdict = f"That is at {time_of_day(at + (clocks[0].value - hours[0] if sure else 0.0))}." if hours else ""
    spans = [figure("from the start", whole, "h"), figure("from the second reading", whole - apart, "h")]
    first, other = spans if _FROM_START.search(q.frame) else spans[::-1]
    return exact(first.name, first.value, "h", working=lines, assumptions=("outside stays as cold, heat stays off",), source=LUMPED_SOURCE, verdict=verdict, also=(other, figure("time constant", tau, "h")))  # fmt: skip


CABIN = Family("cabin", lambda _q: "cabin-cool-down", _applies, _ROLES, _solve)
