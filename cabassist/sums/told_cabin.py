"""Sums over warmth: a cabin some hours after the heat failed, by its time constant or by how fast it cooled; wind against wind."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.lumped import LUMPED_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.wind_chill import wind_chill_f
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import ENDS, OTHERS, STARTS, WATER_LB, ahead, between, degrees_f, hour_now, result

_INSIDE = r"\b(?:inside|in here|in the (?:cabin|coach|bus)|cabin|coach|interior|in)\b"
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
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = [one for one in terms if one.kind in ("temperature", "n")]
    other = r"\b(?:water|tank|pad|btu\w*|watts?|propane|wind|tires?|tyres?|batter\w*|diesel|gel\w*|hose)\b|<(?:psi|gal|mph|lb|W|A|BTU|BTU/h|mi|L)>"
    return len(warm) >= 2 and want.kind in ("temperature", "time", "") and not question.has(other)


def _hours(t: Told) -> float | None:
    span, start, end = t.value("span"), t.one("from"), t.one("to")
    if span is not None or end is None:
        return None if start is not None and end is not None else span
    return ahead(hour_now(t), end.value) if start is None else between(start, end)


def _solve(t: Told) -> Estimate | None:
    start, outside = degrees_f(t, "start"), degrees_f(t, "outside")
    if start is None or outside is None or start <= outside:
        return None
    tau, apart, later, fell = t.value("tau"), t.value("apart"), degrees_f(t, "later"), t.value("fell")
    if fell is not None:
        if later is not None:
            return None
        metric = t.question.scale == "C"
        term = t.roles["fell"][0]
        degrees = term.value if term.kind == "n" else (term.value - 32 if metric else term.value)
        later = start - (degrees * 1.8 if term.kind == "n" and metric else degrees)
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
    hours, target = _hours(t), degrees_f(t, "target")
    if hours is None:
        return None
    if t.want.kind == "time" and target is None:
        return None
    if apart is not None and t.question.has(r"\b(?:from now|another|more)\b") and later is not None:
        since = later
    then = outside + (since - outside) * math.exp(-hours / tau)
    lines.append(
        f"{shown(outside)} + ({shown(since)} - {shown(outside)}) x e^(-{shown(hours)}/{shown(tau)}) = {shown(then)} °F"
    )
    verdict = ""
    if target is not None:
        stays = then >= target
        if t.question.has(r"\b(?:below|under|colder)\b"):
            verdict = f"{'No, it stays above' if stays else 'Yes, it falls below'} {shown(target, 3)} °F."
        else:
            verdict = f"{'Yes, it stays above' if stays else 'No, it falls below'} {shown(target, 3)} °F."
    also = (figure("time constant", tau, "h"),)
    t.assumed.append("outside stays as cold, heat stays off")
    celsius = t.question.scale == "C"
    if celsius:
        return result(t, "temperature then", (then - 32) / 1.8, "C", tuple(lines), verdict.replace(f"{shown(target or 0.0, 3)} °F", f"{shown(((target or 32.0) - 32) / 1.8, 3)} °C"), also, LUMPED_SOURCE)  # fmt: skip
    return result(t, "temperature then", then, "F", tuple(lines), verdict, also, LUMPED_SOURCE)


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


CABIN = Family(lambda _q: "cabin-cool-down", _applies, _ROLES, _solve)

_CHILL_ROLES = (
    role("air", "temperature", 0.5, many=True),
    role("wind", "speed", 0.5, many=True),
    role("wind", "n", -1.6, (3.0, r"\b(?:from|blow\w*|wind\w*|gust\w*|to)(?: at| of| goes from| from| is)* # |# (?:to|mile|mph)"), many=True),
    role("beside", "people|time|clock", -0.5, many=True),
)  # fmt: skip


def _chill_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return (
        want.difference
        and question.has(r"\b(?:wind\w*|blow\w*|gust\w*|feels?)\b")
        and question.has(r"\b(?:colder|difference|warmer|more|worse)\b")
    )


def _chill(t: Told) -> Estimate | None:
    """Degrees by which one wind feels colder than another."""
    airs, winds = [one.value for one in t.all("air")], [one.value for one in t.all("wind")]
    if len(winds) != 2 or not 1 <= len(airs) <= 2:
        return None
    first, second = (
        wind_chill_f(air, wind) for air, wind in zip(airs * (2 if len(airs) == 1 else 1), winds, strict=True)
    )
    if first is None or second is None:
        return None
    celsius = t.question.scale == "C"
    gap = abs(first - second) / (1.8 if celsius else 1.0)
    unit = "C" if celsius else "F"
    each = [(one - 32) / 1.8 if celsius else one for one in (first, second)]
    line = f"{shown(each[0])} °{unit} against {shown(each[1])} °{unit}"
    return result(t, "difference", gap, unit, (line,), f"{shown(gap, 3)} degrees {'colder' if second < first else 'warmer'}.", source="National Weather Service, 1 November 2001")  # fmt: skip


CHILL = Family(lambda _q: "wind-chill", _chill_applies, _CHILL_ROLES, _chill)

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
)  # fmt: skip


def _pad_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = want.kind in ("watts", "temperature", "power")
    return warm and any(one.kind in ("watts", "loss") for one in terms) and question.has(r"\b(?:degree|deg)\b|<W/deg")


def _pad(t: Told) -> Estimate | None:
    """Watts that hold a tank at a temperature, or the coldest air in which a pad holds it: loss a degree times the degrees."""
    pad, loss, hold, air = t.value("pad"), t.value("loss"), degrees_f(t, "hold"), degrees_f(t, "air")
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


PAD = Family(lambda _q: "heat-pad-watts", _pad_applies, _PAD_ROLES, _pad)

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
)  # fmt: skip


def _chilling_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    kinds = {one.kind for one in terms}
    return (
        want.kind == "time"
        and {"volume", "heat"} <= kinds
        and not question.has(r"\b(?:propane|furnace|solid|burn\w*)\b")
    )


def _chilling(t: Told) -> Estimate | None:
    """Hours until water has cooled to a temperature, at the heat that it loses an hour."""
    gallons, loss, start, end = t.value("water"), t.value("loss"), degrees_f(t, "start"), degrees_f(t, "end")
    if gallons is None or not loss or start is None:
        return None
    if end is None:
        if not t.question.has(r"\bfreez\w*\b"):
            return None
        end = _FREEZING_F
    if not start > end >= _FREEZING_F:
        return None
    hours = gallons * WATER_LB * (start - end) / loss  # a BTU warms a pound of water by a degree Fahrenheit
    work = f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(loss)} BTU/h = {shown(hours)} h"
    verdict = "Ice begins then; it is not frozen through." if end == _FREEZING_F else ""
    return result(t, "hours to that temperature", hours, "h", (work,), verdict, source="heat balance")


CHILLING = Family(lambda _q: "freeze-time", _chilling_applies, _CHILLING_ROLES, _chilling)
