"""Sums over warmth: a cabin some hours after the heat failed, by its time constant or by how fast it cooled; wind against wind."""

from __future__ import annotations

import math
import re
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.lumped import LUMPED_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.estimate.wind_chill import wind_chill_f
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import (
    ENDS,
    OTHERS,
    STARTS,
    WATER_LB,
    between,
    degrees_f,
    hour_now,
    hour_of,
    result,
)
from cabassist.sums.told_units import as_spoken

_INSIDE = r"\b(?:inside|in here|in the (?:cabin|coach|bus)|cabin|coach|interior|in)\b"
_MARKED = -9.0
"""The base of roles that no cue can tell: only the network hands them out."""
_ANY = "time|clock|distance|speed|temperature|length|depth|mass|volume|share|watts|volts|current|charge|heat|pressure|people|n"
"""Kinds of which an amount may be told in passing."""
_ASIDE = role("beside", _ANY, _MARKED, many=True)
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
    role("seen", "clock|n", _MARKED),  # when it was as warm as "later"
    role("from", "n", _MARKED),
    role("further", "time", _MARKED),  # the time from then on that is asked about
    role("start", "depth", _MARKED),  # "it is 66 in, 20 out" is heard as inches
    role("rate", "temperature|temperature/time|n|n/time", _MARKED),  # what it falls by in an hour
    _ASIDE,
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = [one for one in terms if one.kind in ("temperature", "n")]
    other = r"\b(?:water|tank|pad|btu\w*|watts?|propane|wind|tires?|tyres?|batter\w*|diesel|gel\w*|hose)\b|<(?:psi|gal|mph|lb|W|A|BTU|BTU/h|mi|L)>"
    return len(warm) >= 2 and want.kind in ("temperature", "time", "") and not question.has(other)


def _hours(t: Told) -> float | None:
    span, start, end = t.value("span"), t.one("from"), t.one("to")
    if span is not None or end is None:
        return None if start is not None and end is not None else span
    return between(_now(t) if start is None else start, end)


def _now(t: Told) -> Term:
    """The time of day by the clock, as one that was told."""
    return Term(Amount(hour_now(t), "clock"), "clock", hour_now(t), "")


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


_BELOW = Lazy(
    r"\b(?:below|under|colder|less than|freez\w*|frozen|ice|(?:down|drop\w*|falls?|fallen|cool\w*|gets?|got) to|hits?|reach\w*)\b"
)
_KEPT = Lazy(
    r"\b(?:above|over(?= (?:about )?<(?:F|C|temp|n)>)|warmer|stay\w*|still(?! (?:be )?(?:below|under|colder))|keeps?|holds?|lasts?|ok|okay|safe|fine|make it|without|not|never|won|before (?=(?:\w+ )?(?:freez|ice|hit|gets?|reach)))\b"
)
_ASKING = Lazy(r"\b(?:will|would|is|are|does|do|can|could|am|has|have)\b")


def _asks_below(frame: str) -> bool:
    """Whether it is asked if it gets so cold, and not if it stays warm: what the asking clause says first of the two."""
    clauses = [one for one in re.split(r"[,.;?]", frame) if _ASKING.search(one) and (_BELOW.search(one) or _KEPT.search(one))]  # fmt: skip
    asked = clauses[-1] if clauses else frame
    asked = asked[found.start() :] if (found := _ASKING.search(asked)) else asked
    below, kept = _BELOW.search(asked), _KEPT.search(asked)
    return below is not None and (kept is None or below.start() < kept.start())


def _verdict(t: Told, then: float, target: float) -> str:
    """Whether it stays above a temperature."""
    stays = then >= target
    said = f"{shown((target - 32) / 1.8, 3)} °C" if t.question.scale == "C" else f"{shown(target, 3)} °F"
    if _asks_below(t.question.frame):
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

_CHILL_ROLES = (
    role("air", "temperature", 0.5, many=True),
    role("wind", "speed", 0.5, many=True),
    role("wind", "n", -1.6, (3.0, r"\b(?:from|blow\w*|wind\w*|gust\w*|to)(?: at| of| goes from| from| is)* # |# (?:to|mile|mph)"), many=True),
    role("beside", "people|time|clock", -0.5, many=True),
    role("air", "n", _MARKED, many=True),
    role("felt", "temperature|n", _MARKED),
    role("limit", "temperature|n", _MARKED),
    _ASIDE,
)  # fmt: skip


def _chill_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return (
        want.difference
        and question.has(r"\b(?:wind\w*|blow\w*|gust\w*|feels?)\b")
        and question.has(r"\b(?:colder|difference|warmer|more|worse)\b")
    )


def _chill(t: Told) -> Estimate | None:
    """Degrees by which one wind feels colder than another."""
    frame = t.question.frame
    things = _THINGS.search(frame) and (not _FELT.search(frame) or _FREEZES_UP.search(frame))
    if things or _NO_SKIN.search(frame):
        return None
    metric = t.question.scale == "C"
    airs = [converted(one.value, "C", "F") if metric and one.kind == "n" else one.value for one in t.all("air")]
    winds = [_mph(t, one) for one in t.all("wind")]
    if t.want.kind not in (("temperature", "speed", "") if t.has("felt") else ("temperature", "")):
        return None
    if t.has("felt"):
        return None if not airs and _ASKS_FELT.search(frame) else _from_felt(t, airs, winds)
    if len(winds) == 1 == len(airs):
        return _one_chill(t, airs[0], winds[0])
    if not 1 <= len(winds) <= 2 or not 1 <= len(airs) <= 2 or "limit" in t.roles:
        return None
    airs, winds = (one * (2 if len(one) == 1 else 1) for one in (airs, winds))
    first, second = (wind_chill_f(air, wind) for air, wind in zip(airs, winds, strict=True))
    if first is None or second is None:
        return None
    celsius = t.question.scale == "C"
    gap = abs(first - second) / (1.8 if celsius else 1.0)
    unit = "C" if celsius else "F"
    each = [(one - 32) / 1.8 if celsius else one for one in (first, second)]
    line = f"{shown(each[0])} °{unit} against {shown(each[1])} °{unit}"
    return result(t, "difference", gap, unit, (line,), f"{shown(gap, 3)} degrees {'colder' if second < first else 'warmer'}.", source="National Weather Service, 1 November 2001")  # fmt: skip


_NO_SKIN = Lazy(
    r"\b(?:can|will|does|do|would|could|is|are|get|gets|make|makes|freezes?) (?:the |our |my |a |that |those |these |your )?(?:\w+ )?(?:water|tanks?|pipes?|hoses?|lines?|fuel|diesel|engine|valves?|plumbing|radiator|coolant|batter\w*|drains?|pump)\b"
)
"""Wind cools no thing below the air."""
_FREEZES_UP = Lazy(r"\b(?:freez\w*|frozen|fro[sz]e|burst\w*|gel\w*|crack\w*|ic(?:e|ed) up)\b")
_ASKS_FELT = Lazy(
    r"\b(?:what|how)\b[^,.<]*\b(?:feels?|felt|feel like|wind ?chill|chill)\b(?! (?:\w+ ){0,3}<)|\b(?:feels? like|wind ?chill|felt(?: temp\w*)?) $"
)
"""Asks how it feels: then that is not told."""
_THINGS = Lazy(r"\b(?:pipes?|plumbing|hoses?|valves?|water lines?|lines?|radiator|batter\w*)\b")
_FELT = Lazy(r"\b(?:feels?|wind ?chill|chill|skin|face|fingers|hands|ears|frostbit\w*|us|we|i|me|guys|people|kids)\b")
_TAKEN_OFF = Lazy(
    r"\bhow (?:many degrees|much) (?:\S+ ){0,6}?(?:takes?|knocks?|shaves?|strips?) (?:\S+ ){0,3}?(?:off|away)\b"
)
_ABOVE_OR_BELOW = Lazy(
    r"\b(above|over|warmer|stay\w*(?! in\b)|better than|colder|below|under|worse than|past|beyond)\b"
)
"""Of these the last one tells which way a limit is asked about; "stay in" asks neither."""
_NWS = "National Weather Service, 1 November 2001"


def _mph(t: Told, wind: Term) -> float:
    """A wind in mph; one without a unit is in that of the other, or of the scale."""
    if wind.kind != "n":
        return wind.value
    spoken = next((one.unit for one in t.question.amounts if one.unit in ("mph", "km/h", "kn", "m/s")), "")
    return converted(wind.value, spoken or ("km/h" if t.question.scale == "C" else "mph"), "mph")


def _one_chill(t: Told, air: float, wind: float) -> Estimate | None:
    """What one wind makes of the air, and whether that is past a limit, or how far under the air it feels."""
    felt, limit = wind_chill_f(air, wind), degrees_f(t, "limit")
    if felt is None:
        return None
    line, verdict = f"air {shown(air)} °F, wind {shown(wind)} mph: {shown(felt)} °F", ""
    if limit is not None:
        colder = felt < limit
        asked = _ABOVE_OR_BELOW.findall(t.question.frame)
        asks_above = bool(asked) and asked[-1] in ("above", "over", "warmer", "better than") or bool(asked) and asked[-1].startswith("stay")  # fmt: skip
        verdict = (
            f"{'No' if colder == asks_above else 'Yes'}, it feels {'colder' if colder else 'no colder'} than that."
        )
    elif t.want.difference or _TAKEN_OFF.search(t.question.frame):
        gap = (air - felt) / (1.8 if t.question.scale == "C" else 1.0)
        return result(t, "difference", gap, t.question.scale, (line,), f"{shown(gap, 3)} degrees colder.", source=_NWS)
    celsius = t.question.scale == "C"
    return result(t, "wind chill", (felt - 32) / 1.8 if celsius else felt, "C" if celsius else "F", (line,), verdict, source=_NWS)  # fmt: skip


def _from_felt(t: Told, airs: list[float], winds: list[float]) -> Estimate | None:
    """The wind, or the air, by what it feels like."""
    felt = degrees_f(t, "felt")
    if felt is None or len(airs) + len(winds) != 1:
        return None
    if winds:
        pull = winds[0] ** 0.16
        air = (felt - 35.74 + 35.75 * pull) / (0.6215 + 0.4275 * pull)
        celsius = t.question.scale == "C"
        return result(t, "air temperature", (air - 32) / 1.8 if celsius else air, "C" if celsius else "F", (f"wind {shown(winds[0])} mph, felt {shown(felt)} °F: {shown(air)} °F",), source=_NWS) if wind_chill_f(air, winds[0]) is not None else None  # fmt: skip
    pull = (35.74 + 0.6215 * airs[0] - felt) / (35.75 - 0.4275 * airs[0])
    if pull <= 0 or airs[0] > 50 or pull ** (1 / 0.16) < 3:
        return None
    wind = float(pull ** (1 / 0.16))
    metric = t.question.scale == "C"
    return result(t, "wind", converted(wind, "mph", "km/h") if metric else wind, "km/h" if metric else "mph", (f"air {shown(airs[0])} °F, felt {shown(felt)} °F: {shown(wind)} mph",), source=_NWS)  # fmt: skip


CHILL = Family("chill", lambda _q: "wind-chill", _chill_applies, _CHILL_ROLES, _chill)

_PAD_ROLES = (
    role("pad", "watts", 0.5, never=r"# (?:for |per |a |an )?(?:each|every|per|a|for each|for every)? ?degree"),
    role("loss", "watts", -1.6, (4.6, r"# (?:for |per |an? )?(?:each|every|per|a|for each|for every)? ?(?:degree|deg)\b")),
    role("loss", "loss", 1.0),
    role("hold", "temperature", 0.0, (2.5, r"\b(?:held?|hold|keep|stay|stays|kept|above|want|maintain|to|like|needs?)(?: \w+){0,4} # ")),
    role("hold", "n", -1.6, (3.2, r"\b(?:held?|hold|keep|stay|stays|kept|above|maintain|to)(?: \w+){0,4} # ")),
    role("air", "temperature", 0.0, (2.5, r"\b(?:outside|out|air|when|it is|its|at|in)(?: \w+){0,2} # |# (?:outside|out|air|night|weather)\b")),
    role("air", "n", -1.6, (3.2, r"\b(?:outside|air|when it is)(?: \w+){0,1} # |# (?:outside|out)\b")),
    OTHERS,
    role("beside", "people|clock|volume", -0.8, many=True),
    role("pads", "n", _MARKED),  # how many of the pad there are
    role("volts", "volts|n", _MARKED),
    role("spare", "share|n", _MARKED),  # the share to add for safety
    role("pad", "n", _MARKED),
    role("loss", "n", _MARKED),
    _ASIDE,
)  # fmt: skip


def _pad_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = want.kind in ("watts", "temperature", "power")
    return warm and any(one.kind in ("watts", "loss") for one in terms) and question.has(r"\b(?:degree|deg)\b|<W/deg")


def _pad(t: Told) -> Estimate | None:
    """Watts that hold a tank at a temperature, or the coldest air in which a pad holds it: loss a degree times the degrees.

    By the pad, the loss and the air also how warm it holds, whether that is enough, or what a degree may lose.
    """
    pad, loss, hold, air = t.value("pad"), t.value("loss"), degrees_f(t, "hold"), degrees_f(t, "air")
    pads, volts, extra = t.value("pads"), t.value("volts"), _extra(t)
    if pad is not None:
        pad *= pads or 1
    if t.want.kind in ("current", "charge", "time", "volts") and (volts is None or t.want.kind != "current"):
        return None
    if {"pads", "volts", "spare"} & {*t.roles} or (pad is not None and air is not None):
        return _pad_marked(t, pad, loss, hold, air, volts, extra)
    if loss is None or loss <= 0 or hold is None or not 0 <= hold <= 90:
        return None
    source = "heat balance"
    celsius = t.question.scale == "C"
    degrees = 1.8 if celsius else 1.0  # a loss told by the degree Celsius
    if pad is None:
        if air is None or air >= hold or t.want.kind == "temperature":
            return None
        watts = loss * (hold - air) / degrees
        return result(t, "pad needed", watts, "W", (f"{shown(loss)} W x {shown((hold - air) / degrees)} degrees = {shown(watts)} W",), source=source)  # fmt: skip
    if air is not None or t.want.kind != "temperature":
        return None
    coldest = hold - pad / loss * degrees
    shown_as = converted(coldest, "F", "C") if celsius else coldest
    return result(t, "coldest air", shown_as, "C" if celsius else "F", (f"{shown(pad)} W ÷ {shown(loss)} W = {shown(pad / loss)} degrees",), source=source)  # fmt: skip


_FREEZES = Lazy(
    r"\b(?:will|would|does|do|is|are)\b(?:(?!\b(?:from|without|not|never|keep|keeps|stop|above|enough|hold|holds)\b)[^,.?<]){0,24}?\b(?:freez\w*|frozen|ice up)\b"
)


def _extra(t: Told) -> float:
    """What to multiply the watts by for a spare share."""
    term = t.one("spare")
    return 1.0 if term is None else 1 + (term.value / 100 if term.kind == "n" else term.value)


def _pad_marked(t: Told, pad: float | None, loss: float | None, hold: float | None, air: float | None, volts: float | None, extra: float) -> Estimate | None:  # fmt: skip
    """Pads beside the air: enough or not, how warm they hold, how much of the time they are on, how many amps or pads it takes."""
    celsius = t.question.scale == "C"
    degrees, source = 1.8 if celsius else 1.0, "heat balance"
    if pad is not None and loss is None:
        if hold is None or air is None or hold <= air or volts is not None:
            return None
        each = pad / extra / ((hold - air) / degrees)
        return result(t, "loss a degree", each, "W", (f"{shown(pad / extra)} W ÷ {shown((hold - air) / degrees)} degrees = {shown(each)} W",), source=source)  # fmt: skip
    if loss is None or loss <= 0:
        return None
    if hold is None or air is None:
        known = hold if air is None else air
        if pad is None or known is None or volts is not None:
            return None
        step = pad / extra / loss * degrees
        found = known - step if air is None else known + step
        name = "coldest air" if air is None else "it holds"
        return result(t, name, (found - 32) / 1.8 if celsius else found, "C" if celsius else "F", (f"{shown(pad)} W ÷ {shown(loss)} W = {shown(pad / loss)} degrees",), source=source)  # fmt: skip
    if hold <= air:
        return None
    gap = (hold - air) / degrees
    watts = loss * gap * extra
    line = f"{shown(loss)} W x {shown(gap)} degrees{f' x {shown(extra)}' if extra != 1 else ''} = {shown(watts)} W"
    needed = figure("needed", watts, "W")
    if pad is None:
        if volts:
            return result(t, "current", watts / volts, "A", (line, f"{shown(watts)} W ÷ {shown(volts)} V"), also=(needed,), source=source)  # fmt: skip
        return result(t, "pad needed", watts, "W", (line,), source=source)
    if volts is not None:
        return None
    if t.question.has(r"\bhow many (?:of (?:them|the|those|these) ?|such )?(?:<W> )?(?:pads?|mats?|blankets?|heaters?|them)\b") and "pads" not in t.roles:  # fmt: skip
        count = math.ceil(watts / pad - 1e-9)
        return result(t, "pads", float(count), "", (line, f"{shown(watts)} W ÷ {shown(pad)} W = {shown(watts / pad)}"), also=(needed,), source=source)  # fmt: skip
    if t.question.has(r"\b(?:of the time|percent|duty|share|part)\b"):
        return result(t, "on", watts / pad * 100, "percent", (line, f"÷ {shown(pad)} W"), also=(needed,), source=source)
    holds = pad >= watts - 1e-6
    short = figure("to spare" if holds else "short", abs(pad - watts), "W")
    verdict = f"{'Yes, it holds' if holds else 'No, it is too weak'}: {shown(watts)} W are needed."
    if _FREEZES.search(t.question.frame):
        warm = air + pad / extra / loss * degrees
        verdict = (
            f"{'Yes, it freezes' if warm < _FREEZING_F else 'No, it does not freeze'}: {shown(watts)} W are needed."
        )
    elif t.question.has(r"\btoo (?:weak|small|little)\b"):
        verdict = f"{'No, it holds' if holds else 'Yes, it is too weak'}: {shown(watts)} W are needed."
    if t.question.has(r"\bhow (?:much|many)\b[^?]*\b(?:short|over|spare|extra|left|more)\b"):
        return result(t, short.name, short.value, "W", (line,), verdict, (needed,), source)
    return result(t, "pad needed", watts, "W", (line,), verdict, (short,), source)


PAD = Family("pad", lambda _q: "heat-pad-watts", _pad_applies, _PAD_ROLES, _pad)

_FREEZING_F = 32.0
_CHILLING_ROLES = (
    role("water", "volume", 0.8),
    role("loss", "heat", 0.8),
    role("start", "temperature", 0.4, (1.0, r"\b(?:at|is|from|now|water)(?: now| at| about)* # "), never=r"\b(?:to|till?|until|hits?|reach\w*|down to) # "),
    role("start", "n", -1.6, (2.8, r"\b(?:at|is|from|water)(?: now| at| about)* # "), never=r"\b(?:to|till?|until|hits?|reach\w*|down to) # "),
    role("end", "temperature", 0.0, (2.0, r"\b(?:to|till?|until|hits?|reach\w*|down to)(?: it| it hits| it is| it gets to)* # ")),
    role("end", "n", -1.6, (3.2, r"\b(?:to|till?|until|hits?|reach\w*|down to)(?: it| it hits| it is| it gets to)* # ")),
    OTHERS,
    role("beside", "people|clock", -0.8, many=True),
    role("size", "volume|n", _MARKED),  # of the tank, where its level is a share
    role("level", "share", _MARKED),
    role("loss", "watts|n", _MARKED),
    role("heater", "watts|heat", _MARKED),  # what a pad or heater puts back
    role("span", "time", _MARKED),  # after how long its temperature is asked, or in which it cooled so far
    role("from", "clock|n", _MARKED),
    role("by", "clock|n", _MARKED),  # until when it must stay above the end
    role("water", "mass|n", _MARKED),
    _ASIDE,
)  # fmt: skip


def _chilling_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    kinds = {one.kind for one in terms}
    return (
        want.kind == "time"
        and {"volume", "heat"} <= kinds
        and not question.has(r"\b(?:propane|furnace|solid|burn\w*)\b")
    )


def _chilling(t: Told) -> Estimate | None:
    """Hours until water has cooled to a temperature, at the heat that it loses an hour; or its temperature after some hours, or the loss."""
    as_spoken(t, "volume", "size")
    gallons, loss, start, end = _gallons(t), _btu(t, "loss"), degrees_f(t, "start"), degrees_f(t, "end")
    heater, span, begun, by = _btu(t, "heater"), t.value("span"), t.one("from"), t.one("by")
    if loss is not None and heater is not None:
        loss -= heater
    if by is not None:
        if span is not None:
            return None
        span = between(_now(t) if begun is None else begun, by)
    if gallons is None or start is None or (loss is not None and loss <= 0):
        return None
    if span is not None:
        return _chilled(t, gallons, loss, start, end, span)
    if loss is None:
        return None
    if end is None:
        if not t.question.has(r"\b(?:freez\w*|frozen|ice)\b"):
            return None
        end = _FREEZING_F
    if not start > end >= _FREEZING_F:
        return None
    hours = gallons * WATER_LB * (start - end) / loss  # a BTU warms a pound of water by a degree Fahrenheit
    work = f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(loss)} BTU/h = {shown(hours)} h"
    verdict = "Ice begins then; it is not frozen through." if end == _FREEZING_F else ""
    if begun is not None or t.want.clock:
        at = hour_of(begun) if begun is not None else hour_now(t)
        verdict = f"That is at {time_of_day(at + hours)}. {verdict}".strip()
    return result(t, "hours to that temperature", hours, "h", (work,), verdict, source="heat balance")


def _gallons(t: Told) -> float | None:
    """The water, told outright, by its weight, or as a share of the tank."""
    water, size, level = t.one("water"), t.value("size"), t.value("level")
    if water is None:
        return None if size is None else size * (1.0 if level is None else level)
    if size is not None or level is not None:
        return None
    return water.value / WATER_LB if water.kind == "mass" else water.value


_BTU_IN_WATT = 3.412142


def _btu(t: Told, name: str) -> float | None:
    """A flow of heat in BTU/h."""
    term = t.one(name)
    if term is None:
        return None
    return term.value * _BTU_IN_WATT if term.kind == "watts" else term.value


def _chilled(t: Told, gallons: float, loss: float | None, start: float, end: float | None, hours: float) -> Estimate | None:  # fmt: skip
    """Water that cools so long: its temperature then and whether that is above a limit, or the heat that it lost an hour."""
    held = gallons * WATER_LB
    if loss is None:
        if end is None or not start > end >= _FREEZING_F or hours <= 0:
            return None
        found = held * (start - end) / hours
        return result(t, "loss", found, "BTU/h", (f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(hours)} h = {shown(found)} BTU/h",), source="heat balance")  # fmt: skip
    then = start - loss * hours / held
    if then < _FREEZING_F:
        if end is None and not t.want.judged:
            return None
        then = _FREEZING_F
    line = f"{shown(start)} - {shown(loss)} BTU/h x {shown(hours)} h ÷ {shown(held)} lb = {shown(then)} °F"
    limit = end if end is not None else _FREEZING_F if t.want.judged else None
    verdict = ""
    if limit is not None:
        above = then >= limit and not (end is None and then <= _FREEZING_F)
        asks_below = _asks_below(t.question.frame)
        verdict = f"{'No' if above == asks_below else 'Yes'}, it is {'above' if above else 'not above'} {shown(limit, 3)} °F then."
    celsius = t.question.scale == "C"
    return result(t, "temperature then", (then - 32) / 1.8 if celsius else then, "C" if celsius else "F", (line,), verdict, source="heat balance")  # fmt: skip


CHILLING = Family("chilling", lambda _q: "freeze-time", _chilling_applies, _CHILLING_ROLES, _chilling)
