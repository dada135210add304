"""Sums over a driver's day: what was driven, worked and rested, and whether what is left of it is enough.

49 CFR 395.5: ten hours of driving, and no driving after fifteen on duty, since eight consecutive hours off; sixty hours on
duty in seven days, or seventy in eight, and no restart.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.clock import time_of_day
from cabassist.estimate.driving_hours import DRIVING_H, HELPER, NO_RESTART, ON_DUTY_H, REST_H, WEEK_H
from cabassist.estimate.quantities import duration, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import EVEN, OTHERS, between, hour_now, hour_of, listed, result
from cabassist.sums.told_units import as_spoken

_SOURCE = "49 CFR 395.5"
_OTHER = r"(?:he|she|they|his|her|mate|partner|co ?driver|other (?:guy|driver|one|fellow)|buddy|relief|second driver)"
_ROLES = (
    role("rest", "time|n", -1.6, (4.4, r"\b(?:after|had|following|with|on) (?:a |my |our )?(?:full |good )?# (?:hours )?(?:off|rest|sleep|of (?:rest|sleep))\b|# (?:hours )?off (?:duty )?(?:last night|overnight|before|,? (?:then )?(?:came|started|began))\b"), bare=0.3),
    role("driven", "time|n", -1.6, (3.3, r"\b(?:used(?: up)?|drove|driven|driving|drive|behind the wheel|at the wheel|run|ran)(?: for| about| another| a further| just| already| only| it)* # |# (?:hours )?(?:of )?(?:driving|driven|behind the wheel|at the wheel|more driving)\b|\bthen (?:another )?# driving"), never=r"# (?:hours )?(?:off|left|loading|rest)\b|# (?:hours )?(?:of )?(?:driving |drive time |wheel time )(?:left|remaining)\b|\bnot driving # ", bare=0.2, many=True),
    role("off", "time|n", -1.6, (3.5, r"# (?:hours )?(?:\w+ ){0,2}(?:off(?: duty)?|rest\w*|break|nap|in the (?:bunk|berth|sleeper)|asleep|for (?:lunch|dinner|supper))\b|\b(?:off(?: duty)?|rested|break|lunch|nap|slept|bunk) (?:for |of |about |was )*# "), (0.5, r"\bthen #"), never=r"\bafter # (?:hours )?off\b.* (?:drove|came)", bare=0.3, many=True),
    role("duty", "time|n", -1.6, (3.3, r"# (?:hours )?(?:of |on |at |for |with )?(?:the )?(?:load\w*|unload\w*|fuel\w*|pre ?trip\w*|inspect\w*|post ?trip|wait\w*|paperwork|other work|work\w*|clean\w*|dump\w*|walk ?round)\b|\b(?:loaded|loading|unloading|fueling|pre ?trip|inspecting|waited|worked|working|paperwork) (?:for |about |took )*# "), bare=0.3, many=True),
    role("on_duty", "time|n", -1.6, (4.4, r"\b(?:on (?:duty|the clock|shift)|been on)(?: for| about| already)* # |# (?:hours )?(?:on (?:duty|the clock|shift))\b"), never=r"\bdriv\w+ # ", bare=0.2),
    role("limit", "time|n", -2.0, (4.5, r"\bof (?:my|the|our) # (?:driving )?(?:hours?)?|# (?:hours )?(?:(?:is|are) )?(?:(?:the )?(?:legal )?(?:limit|max\w*)|allowed|permitted|allowance)\b|\b(?:limit|max\w*|allowed|allowance)(?: is| of|,)* # "), bare=0.2, many=True),
    role("left", "time|n", -1.6, (3.8, r"# (?:hours )?(?:\w+ ){0,2}(?:left|remaining|to drive|in hand)\b|\b(?:i (?:have )?(?:got )?|i have (?:got )?|i've (?:got )?|mine is|me) # "), bare=0.4),
    role("left_b", "time|n", -1.6, (4.2, rf"\b{_OTHER}\b(?: is| has| have| had| got| still| fresh| with| can| legally| drive)* # |# (?:from|for|by) (?:my |the )?{_OTHER}\b"), bare=0.4),
    role("start", "clock", 0.2, (0.8, r"# [^#]*<clock>"), (1.5, r"\b(?:on duty|came on|start\w*|signed on|clocked in|up|since|on|from|began)(?: since| at| from| duty| on)* # ")),
    role("start", "n", -1.8, (3.2, r"\b(?:came on(?: duty)?|started|on duty|signed on|began|clocked in)(?: at| since) # ")),
    role("now", "clock", 0.1, (0.8, r"<clock>[^#]* # "), (1.5, r"\b(?:now|it is|it|is|at)(?: now| about)* # |# now\b")),
    role("now", "n", -9.0),
    role("driven_b", "time|n", -2.0, many=True),
    role("plan", "time|n", -2.0, many=True),
    role("stopped", "clock|n", -2.0, (6.0, r"\b(?:shut (?:it |her |the \w+ )?down|parked|quit|signed off|clocked off|clocked out|knocked off|(?:came|went|go|got|been) off(?: duty)?|off duty|stopped|put her to bed)(?: (?:and|went|off|duty|the coach|the bus|driving|it|her|for the night|last night|tonight))*(?: at| since)? # ")),
    role("again", "clock|n", -2.0),
    role("week", "time|n", -2.0, many=True),
    role("today", "time|n", -2.0),
    role("week_limit", "time|n", -2.0),
    role("week_span", "time|n", -2.0),
    role("distance", "distance", 0.5),
    role("speed", "speed", 0.8),
    role("speed", "n", -1.6, (3.1, r"<(?:mi|km)>[^#]{0,30}\bat (?:about |around )?# |\b(?:averag\w+|avg|doing) (?:about |around )?# ")),
    role("drivers", "drivers", 0.0),
    role("drivers", "people", -9.0),  # "the two of us": only the network hands it out
    role("driven", "clock", -9.0, many=True),  # "drove 3:30"
    role("drivers", "n", -2.0, (4.0, r"# (?:drivers|of us)\b")),
    role("off_from", "clock|n", -9.0, many=True),  # "off from one till four"
    role("off_to", "clock|n", -9.0, many=True),
    role("drove_from", "clock|n", -9.0, many=True),
    role("drove_to", "clock|n", -9.0, many=True),
    role("on_duty_b", "time|n", -9.0),
    role("days_off", "time|n", -9.0, many=True),  # days in the week on which nothing was worked
    OTHERS,
    role("beside", "people|temperature", -0.5, many=True),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if not question.has(
        r"\b(?:used(?: up)?|drove|driven|driving|drive|behind the wheel|on duty|off duty|drivers?|legal\w*|hours (?:left|remaining)|hours of service)\b|<driver>"
    ):
        return False
    week = r"\b(?:days?|week|60|70|sixty|seventy|sleeper|berth|split|restart|reset|34|snow|adverse|storm|fifteen|sixteen)\b|<day>|<(?:gal|L|mpg|Ah|A|W|lb|psi)>"
    return want.kind in ("time", "distance", "") and not question.has(week)


_ELSEWHERE = (
    r"\b(?:berth|blizzard|adverse|bad weather extra|extra two|two extra|nobody (?:had |has )?(?:called (?:it|for|this|that)|forecast\w*|predicted|expected|saw)|un(?:forecast|expected|foreseen|predicted)|not (?:forecast|predicted|expected))\b"
    r"|\b(?:eastern|central|mountain|pacific|atlantic|est|cst|mst|pst|edt|cdt|mdt|pdt)(?: standard| daylight)?(?: time| zone)?\b(?! (?:station|park|avenue|street|rink|arena|run|leg|pass|road|roads|drive|stretch|section|grade|town|hill|route|way|bit|part|highway))|\btime ?zones?\b"
)
"""A split rest in the berth is reckoned elsewhere. Weather that nobody forecast gives up to two hours more (49 CFR 395.1(b)), and time zones shift the clock: not reckoned here."""
_PARTNER_FRESH = rf"\b{_OTHER}\b(?: \w+){{0,3}} (?:fresh|rested)\b|\b(?:fresh|rested) (?:\w+ )?{_OTHER}\b"
_BETWEEN_TWO = r"\b(?:two of us|between us|both of us|the two|both rested|combined)\b"
_IS_LEFT = Lazy(
    r"^(?!.*\b(?:driven|drove|driving|used|done|did)(?: \w+)? # ).*# (?:hours )?(?:of )?(?:driving |drive time |wheel time )?(?:left|remaining)\b"
)
_JOINTLY = r"\b(?:together|between us|both|we|us|total|combined)\b"


_CAME_OFF = Lazy(r"\boff(?: duty| the clock)?(?: (?:since|at|from))+(?: about| around)? # ")


def _solve(t: Told) -> Estimate | None:
    if t.question.has(_ELSEWHERE) or any(_IS_LEFT.search(one.around) for one in t.roles.get("driven", [])):
        return None
    as_spoken(t, "distance", "distance")
    as_spoken(t, "speed", "speed")
    t.value("drivers")
    if t.has("stopped"):
        return _rested(t)
    if t.has("again"):
        return _off_by(t)
    rest = t.value("rest")
    if t.has("start", "now") and _CAME_OFF.search(t.roles["start"][0].around):
        return _enough_rest(t, between(*t.all("start"), *t.all("now"))) if rest in (None, REST_H) and set(t.roles) <= {"start", "now", "rest", "limit", "beside"} else None  # fmt: skip
    if t.has("week"):
        return _week(t)
    if rest is not None and set(t.roles) <= {"rest", "drivers", "limit", "now", "beside"}:
        return None if t.has("limit") and t.value("limit") != REST_H else _enough_rest(t, rest, t.one("now"))
    if rest is not None and rest < REST_H:
        return None
    if _is_spent(t):
        return _all_spent(t)
    if t.has("left") or t.has("left_b") or t.has("driven_b"):
        return _shared(t)
    if t.has("driven") and t.question.has(_PARTNER_FRESH):
        return _shared(t) if t.question.has(_JOINTLY) else None
    if t.has("driven") and t.question.has(_BETWEEN_TWO):
        return None  # which of the two drove which?
    limits = {one.value for one in t.all("limit")}
    if not limits <= {DRIVING_H, ON_DUTY_H}:
        return None
    return _day(t, limits)


_SPENT = r"\b(?:used (?:it |them )?(?:all )?up|used(?: up)? all|out of|timed out|maxed|burn(?:ed|t)? (?:up|through)|all gone|all used|ran out|run out|hit|reached|at the end of)\b"
_ASKS_REST = r"\bhow (?:long|many hours|much (?:time|rest|longer))\b[^?.]{0,50}?(?<!driven )\b(?:off|rest|sleep|break|parked|stay put|wait|sit(?: out)?|down|in the bunk)\b|\bhow (?:much|many hours of) (?:rest|sleep|time off)\b|\b(?:rest|break|time off) (?:do|must|is|have)\b[^?.]{0,20}\b(?:need\w*|take|required|long)\b"
"""How long one must be off is asked for."""


def _is_spent(t: Told) -> bool:
    """Whether it is asked how long to be off once the ten hours of driving, or the fifteen on duty, are used up."""
    if not t.question.has(_ASKS_REST) or not {*t.roles} <= {"driven", "limit", "on_duty", "off", "now", "beside"}:
        return False
    hours = {name: sum(one.value for one in found) for name, found in t.roles.items()}
    limits = {one.value for one in t.roles.get("limit", [])}
    if not limits <= {DRIVING_H, ON_DUTY_H, REST_H}:
        return False
    told = "driven" in hours or "on_duty" in hours
    spent = DRIVING_H <= hours.get("driven", 0.0) <= ON_DUTY_H or hours.get("on_duty", 0.0) >= ON_DUTY_H
    return spent or (not told and bool(limits & {DRIVING_H, ON_DUTY_H}) and t.question.has(_SPENT))


def _all_spent(t: Told) -> Estimate:
    """Eight hours off in a row, or what is missing of them."""
    for name in ("driven", "limit", "on_duty"):
        t.all(name)
    off, now = t.total("off") or 0.0, t.one("now")
    if off:
        return _enough_rest(t, off, now)
    at = "" if now is None else f", not before {time_of_day(hour_of(now) + REST_H)}"
    return result(t, "rest needed", REST_H, "h", (f"{shown(REST_H)} h off in a row",), f"8 hours off in a row{at}. {HELPER}", source=_SOURCE)  # fmt: skip


_REST_DRIVEN = r"\b(?:rest|remainder|others?|everything else|all else)\b(?: (?:of (?:it|that|the (?:time|day|shift))|was|is|has|been|i|we|have|all|just|only|pure|solid|nothing but|spent|straight|plain))* (?:driving|drove|driven|(?:at|behind) the wheel|wheel time|on the road)\b|\b(?:driving|drove|driven|(?:at|behind) the wheel)(?: (?:for|all))* (?:the (?:whole )?rest|otherwise|all the (?:rest|other)|every other (?:minute|hour))\b|\b(?:otherwise|apart from that|besides that|other than that)(?: (?:i|we|have|was|been|it|is|just|only|all|nothing but))* (?:driving|drove|driven|(?:at|behind) the wheel)\b"
"""All that was not off or other work was driving."""


def _spells(t: Told, name: str) -> list[float] | None:
    """Hours of the spells that are told by two times of day each; None when one of a pair is missing."""
    starts, ends = t.all(f"{name}_from"), t.all(f"{name}_to")
    hours = []
    for end in ends:
        before = [one for one in starts if one.amount.start < end.amount.start]
        if before:
            starts.remove(before[-1])
            hours.append(between(before[-1], end))
            continue
        told = [one for one in t.question.amounts if one.start < end.amount.start][-1:]
        if not told or t.question.words[told[0].start : told[0].end] != ("one",):
            return None
        hours.append((hour_of(end) - 1) % 12)  # a bare "one" is no amount: "from one till four"
    return None if starts or not all(hours) else hours


def _day(t: Told, limits: set[float]) -> Estimate | None:
    """What is left of one driver's day, against what is planned if that is told."""
    driven, offs, works = ([_spoken_hours(one) for one in t.all(name)] for name in ("driven", "off", "duty"))
    off_spells, drives = _spells(t, "off"), _spells(t, "drove")
    if off_spells is None or drives is None:
        return None
    driven, offs = driven + drives, offs + off_spells
    start, now, on_duty = t.one("start"), t.one("now"), t.value("on_duty")
    if any(one > ON_DUTY_H for one in (*driven, *works)):
        return None
    if any(one >= REST_H for one in offs):
        return (
            None  # when the eight hours were told apart from what was driven before them, it is not known which counts
        )
    if not driven and start is not None and now is not None and t.question.has(_REST_DRIVEN):
        driven = [between(start, now) - sum(offs) - sum(works)]
        if not 0 < driven[0] <= ON_DUTY_H:
            return None
    if not driven and not t.question.has(_FRESH) and not t.has("rest"):
        return _fifteen(t, offs, works, limits)
    total = sum(driven)
    left = DRIVING_H - total
    if left < 0:
        return _over(t, total) if t.question.has(_TOO_LONG) else None
    lines = [f"{shown(DRIVING_H)} - ({listed(driven) or 0}) = {shown(left)} h of driving"]
    worked = None
    if start is not None and now is not None:
        if on_duty is not None or start.kind == "n" and not 0 < hour_of(start) < 24:
            return None
        worked = _span(start, now, total + sum(offs)) - sum(offs)
        if worked + 0.05 < total:
            return None
    elif (
        start is not None and on_duty is None and not t.has("plan") and not t.has("distance") and t.question.has(_ENDS)
    ):
        return _both(t, start, left, offs, lines)
    elif start is not None and not works and not offs:
        return None  # it is not known what of the day was off duty
    else:
        worked = total + sum(works) if on_duty is None else max(on_duty + sum(works), total)
    rest_of_day = ON_DUTY_H - worked
    lines.append(f"{shown(ON_DUTY_H)} - {shown(worked)} = {shown(rest_of_day)} h on duty")
    least = max(0.0, min(left, rest_of_day))
    name = "driving" if left <= rest_of_day else "on-duty"
    also = (figure("driving limit", left, "h"), figure("on-duty limit", rest_of_day, "h"))
    hour = hour_of(start) + worked + sum(offs) if start is not None and now is not None else None
    found = _against(t, least, lines, name, also, hour)
    if found is None or start is None or now is None:
        return found
    over = time_of_day(hour_of(start) + ON_DUTY_H + sum(offs))
    return replace(found, verdict=f"{found.verdict} The 15 on duty end at {over}.")


_ENDS = r"\b(?:fifteen|15|window|clock|day|shift|duty)\b(?: \S+){0,6} (?:ends?|over|up|out|close\w*|expire\w*|done|shut\w*|run)\b|\b(?:fifteen|15|<h>|<n>) (?:\w+ ){0,3}(?:ends?|over|up|out|run(?:s)? out)\b|\b(?:when|what time)\b[^?.]*\b(?:fifteen|15|window)\b|\b(?:when|what time) (?:do|does|is|are) (?:my |the )?<(?:h|n)>"
"""When the fifteen hours run out is asked for."""


def _both(t: Told, start: Term, left: float, offs: list[float], lines: list[str]) -> Estimate:
    """What is left of the ten hours of driving, and the time of day at which the fifteen on duty end, when it is not told what time it is."""
    until = ON_DUTY_H + sum(offs)
    at = time_of_day(hour_of(start) + until)
    lines.append(f"{time_of_day(hour_of(start))} + 15 h + {shown(sum(offs))} h off = {at}")
    verdict = (
        f"{duration(left)} of the 10 hours of driving left, and none after {at}, when the 15 on duty end. {HELPER}"
    )
    return result(t, "driving limit", left, "h", tuple(lines), verdict, (figure("until the on-duty limit", until, "h"),), _SOURCE)  # fmt: skip


_FIRST_WITH_MINUTES, _LAST_WITH_MINUTES = 100, 1500


def _spoken_hours(term: Term) -> float:
    """Hours; "six forty five" is heard as 645, which only hours and minutes can be."""
    with_minutes = term.kind == "n" and _FIRST_WITH_MINUTES <= term.value < _LAST_WITH_MINUTES and term.value % 100 < 60
    return hour_of(term) if with_minutes else term.value


_TOO_LONG = r"\b(?:over|past|too (?:much|long|many)|still legal|legal|illegal|violation|broke|exceed\w*)\b"


def _over(t: Told, total: float) -> Estimate:
    """By how much the driving limit is passed."""
    t.value("limit")
    over = total - DRIVING_H
    line = f"{shown(total)} - {shown(DRIVING_H)} = {shown(over)} h"
    return result(t, "over the limit", over, "h", (line,), f"{'Yes, over' if t.question.has(_BREAKS) and not t.question.has(_OR_BREAKS) else 'No, not legal'}: {duration(over)} over the 10 hours of driving. {HELPER}", source=_SOURCE)  # fmt: skip


def _span(start: Term, end: Term, least: float) -> float:
    """Hours from one time of day to another that hold what was done between them; "six" may be of either half of the day."""
    hours = between(start, end)
    loose = any(one.kind == "n" or one.amount.pieces for one in (start, end))
    return hours + 12 if loose and hours + 0.05 < least and hours + 12 <= 24 else hours


_OF_FIFTEEN = r"\b(?:on ?duty|duty|fifteen|15|on the clock|shift|limit|window)\b"


_ASKS_DRIVING = r"\bhow (?:many (?:more )?hours|long|much(?: longer)?)\b[^?.]*\bdriv(?:e|ing)\b"


def _fifteen(t: Told, offs: list[float], works: list[float], limits: set[float]) -> Estimate | None:
    """What is left of the fifteen hours on duty, or the time of day at which they end, when no driving is told."""
    start, now, on_duty, plan = t.one("start"), t.one("now"), t.value("on_duty"), t.total("plan")
    if (ON_DUTY_H not in limits and not t.question.has(_OF_FIFTEEN)) or limits == {DRIVING_H} or t.has("distance"):
        return None
    if start is not None and now is None and on_duty is None and plan is None:
        until = ON_DUTY_H + sum(offs)
        at = time_of_day(hour_of(start) + until)
        line = f"{time_of_day(hour_of(start))} + 15 h + {shown(sum(offs))} h off = {at}"
        if t.question.has(_ASKS_DRIVING):  # fifteen hours on duty are no fifteen at the wheel
            told = f"At most 10 hours of driving since your last 8 off, and none after {at}. Say how many you have driven. {HELPER}"
            return result(t, "driving limit", DRIVING_H, "h", (line, "at most 10 h of it at the wheel"), told, (figure("until the on-duty limit", until, "h"),), _SOURCE)  # fmt: skip
        return result(t, "until the on-duty limit", until, "h", (line,), f"At {at}: no driving after that. {HELPER}", source=_SOURCE)  # fmt: skip
    if start is not None and now is not None and on_duty is None:
        worked = _span(start, now, sum(offs) + sum(works)) - sum(offs)
    elif start is None and (on_duty is not None or works):
        worked = (on_duty or 0.0) + sum(works)
    else:
        return None
    left = max(0.0, ON_DUTY_H - worked)
    return _against(t, left, [f"15 - {shown(worked)} = {shown(left)} h on duty"], "on-duty", ())


def _rested(t: Told) -> Estimate | None:
    """Whether the hours since one stopped are eight, how many are missing, and from when on one may drive again."""
    stopped, again = t.one("stopped"), t.one("again") or t.one("now")
    before = [*t.all("driven"), *t.all("duty"), *t.all("on_duty")]  # eight hours off begin the count anew
    if before and again is None and not (t.want.clock or t.question.has(_AGAIN)):
        return None
    limit = t.value("limit")  # "a fresh ten hours of driving" begins with the rest
    if stopped is None or t.value("rest") not in (None, REST_H) or limit not in (None, REST_H, DRIVING_H, ON_DUTY_H):
        return None
    if again is not None:
        return _enough_rest(t, between(stopped, again))
    plan, far, speed = t.total("plan") or 0.0, t.value("distance"), t.value("speed")
    if (far is None) is not (speed is None) or plan > DRIVING_H or (t.total("driven") or 0.0) > ON_DUTY_H:
        return None
    # what was driven before the rest counts no more, and "a fresh ten hours" is what one may drive after it
    at = time_of_day(hour_of(stopped) + REST_H)
    lines = [f"{time_of_day(hour_of(stopped))} + 8 h = {at}"]
    there = ""
    if far is not None and speed is not None:
        lines.append(f"{shown(far)} mi ÷ {shown(speed)} mph = {shown(far / speed)} h")
        if far / speed > DRIVING_H:
            return None
        there = f" There at about {time_of_day(hour_of(stopped) + REST_H + far / speed)}."
    return result(t, "rest needed", REST_H, "h", tuple(lines), f"Not before {at}, after 8 hours off in a row.{there} {HELPER}", source=_SOURCE)  # fmt: skip


_ASKS_OFF = r"\b(?:when|what time|latest|how late|by when)\b.*\b(?:off|park\w*|stop\w*|shut down|quit|turn in|bed|done driving)\b|\b(?:off|parked|stopped|shut down|in bed|quit)(?: duty)? (?:by|when|at what)\b"


def _off_by(t: Told) -> Estimate | None:
    """By when one must be off duty to drive again at a time that is told."""
    again, limits = t.one("again"), {one.value for one in t.all("limit")}
    if (
        again is None
        or not t.question.has(_ASKS_OFF)
        or not limits <= {REST_H, DRIVING_H}
        or t.value("rest") not in (None, REST_H)
    ):
        return None
    if not set(t.roles) <= {"again", "limit", "rest", "beside"}:
        return None
    at = time_of_day(hour_of(again) - REST_H)
    line = f"{time_of_day(hour_of(again))} - 8 h = {at}"
    return result(t, "rest needed", REST_H, "h", (line,), f"Off duty by {at}, to have 8 hours off in a row. {HELPER}", source=_SOURCE)  # fmt: skip


_AGAIN = r"\b(?:earliest|soonest|again|next|when (?:can|may|could|am)|what time|from when|back (?:on|behind))\b"


def _enough_rest(t: Told, hours: float, now: Term | None = None) -> Estimate:
    """Whether so many hours off are the eight, and what is missing; when they are full, where the time is told."""
    missing = max(0.0, REST_H - hours)
    line = f"{shown(hours)} h off, 8 are needed"
    from_then = "" if now is None else f", not before {time_of_day(hour_of(now) + missing)}"
    if missing:
        return result(t, "rest still needed", missing, "h", (line,), f"No, not rested: {duration(missing)} more{from_then}. {HELPER}", source=_SOURCE)  # fmt: skip
    return result(t, "rest", hours, "h", (line,), f"Yes, rested: {duration(hours)} off in a row. {HELPER}", source=_SOURCE)  # fmt: skip


_DAY_H = 24.0
_RUN_TOGETHER = 3


def _day_by_day(term: Term) -> list[float]:
    """The hours of each day, where they were heard as one number: "9 8 10 11 7"."""
    pieces = [float(one) for one in term.amount.pieces if one.isdigit()]
    split = len(pieces) >= _RUN_TOGETHER and len(pieces) == len(term.amount.pieces) and max(pieces) <= _DAY_H
    return pieces if split and term.kind == "n" and term.value > _DAY_H else [term.value]


def _week(t: Told) -> Estimate | None:
    """What is left of sixty hours in seven days or seventy in eight, and of the day if that is told too."""
    told = sorted((*t.all("week"), *t.all("days_off")), key=lambda one: one.amount.start)
    free = {one.amount.start for one in t.roles.get("days_off", [])}
    days = [hours for one in told for hours in ([0.0] * round(one.value / (_DAY_H if one.kind == "time" else 1)) if one.amount.start in free else _day_by_day(one))]  # fmt: skip
    if len(t.roles["week"]) == 1 and free:
        days = [sum(days)]  # the sum of the week, in which there were days off
    limit, span = t.value("week_limit"), t.one("week_span")
    length = None if span is None else round(span.value / 24 if span.kind == "time" else span.value)
    if limit is None:
        limit = WEEK_H.get(length or 0)
    length = length or next((many for many, most in WEEK_H.items() if most == limit), None)
    if limit is None or length is None or WEEK_H.get(length) != limit:
        return None
    if len(days) > 1 and (len(days) > length or max(days) > _DAY_H):
        return None
    driven, works, today = ([one.value for one in t.all(name)] for name in ("driven", "duty", "today"))
    tomorrow = t.question.has(FOR_TOMORROW)  # the oldest day drops out by then
    if tomorrow and len(days) == 1:
        return None  # and of a sum nobody knows what
    counted = days[-(length - (1 if today or driven or works else 0) - (1 if tomorrow else 0)) :]
    worked = sum(today) if today else sum(driven) + sum(works)
    left = limit - sum(counted) - worked
    if left <= 0 and not (t.has("plan") or t.has("distance")):
        return None
    lines = [f"{shown(limit)} - ({listed([*counted, worked])}) = {shown(left)} h"]
    t.assumed.append(NO_RESTART)
    if tomorrow:
        lines[0] = f"{lines[0]} for tomorrow, after 8 h off"
    elif driven:
        left = min(left, DRIVING_H - sum(driven), ON_DUTY_H - worked)
        lines.append(f"{shown(DRIVING_H)} - {shown(sum(driven))} h of driving, {shown(ON_DUTY_H)} - {shown(worked)} h on duty")  # fmt: skip
    found = _against(t, max(0.0, left), lines, "week's", (figure("worked in these days", sum(counted) + worked, "h"),))
    if found is None or t.has("plan") or t.has("distance") or not t.question.has(_RESETS):
        return found
    return replace(found, verdict=f"No, no restart with passengers, a long rest does not reset the week: {found.verdict}")  # fmt: skip


FOR_TOMORROW = r"\b(?:left|have|got|legal|available|remain\w*|allowed|work|drive|hours|budget|spend|room)\b[^.?]*\btomorrow\b(?! (?:off|is (?:off|free|a day off)))|\btomorrow\b[^.?]*\b(?:how (?:many|much|long)|what (?:is left|do i|have i|will i|would i|can i))\b"
"""What is left of the week once today is over."""
_RESETS = r"\b(?:re ?sets?|re ?starts?|start(?:s|ed)? (?:over|fresh|again|clean|anew)|back (?:at|to) (?:zero|nothing|<n>)|clear(?:s|ed)?|wip(?:e|es|ed)|zero(?:e?d|es)?|clean slate|fresh (?:week|sixty|seventy|<n>|<h>))\b"
""" "Did the weekend off reset it": with passengers nothing does, 49 CFR 395.3 is for goods."""


_BREAKING = r"(?:breaks? (?:my|the|our|any)|bust|busts|blow|violat\w*|exceeds?|illegal\w*|against the law|too (?:long|far|much|many)|(?:is|am|are|be|going|go|goes|put|puts|push|pushes|take|takes)(?: \w+){0,3} over(?! (?:the (?:pass|border|hill|bridge)|to|there|here))|run (?:me |us )?(?:out(?! there)|over|short)|(?:be|come up|am i|are we) short)\b"
_BREAKS = rf"(?<!how many hours )\b{_BREAKING}"
""" "Would that break my week": yes when it is not enough."""
_OR_BREAKS = rf"\b(?:or|without|before|not)\b(?: \w+){{0,4}} {_BREAKING}|\b(?:how (?:many|much|far)|what)\b(?: \w+){{0,5}} (?:over|short)\b"


def _against(
    t: Told, least: float, lines: list[str], limit: str, also: tuple[Figure, ...], hour: float | None = None
) -> Estimate | None:
    """The hours left, or whether they are enough for a distance or for hours that are told; `hour` is the time of day where it follows from the day so far."""
    far, speed, plan, now = t.value("distance"), t.value("speed"), t.total("plan"), t.one("now")
    if speed is None and plan is None:
        if t.want.kind == "distance" or (far is not None and t.want.judged):
            return None
        until = hour if hour is not None else hour_of(now) if now is not None else hour_now(t) if t.want.clock else None
        clock = "" if until is None else f" Until {time_of_day(until + least)}."
        verdict = f"{duration(least)} of driving left, by the {limit} limit.{clock} {HELPER}"
        return result(t, "driving left", least, "h", tuple(lines), verdict, also, _SOURCE)
    if far is None and plan is None:
        if t.want.kind != "distance" or speed is None:
            return None
        reach = least * speed
        lines.append(f"{shown(least)} h x {shown(speed)} mph = {shown(reach)} mi")
        return result(t, "distance", reach, "mi", tuple(lines), HELPER, (figure("driving left", least, "h"), *also), _SOURCE)  # fmt: skip
    need = plan or 0.0
    if far is not None:
        if speed is None:
            return None
        need += far / speed
        lines.append(f"{shown(far)} mi ÷ {shown(speed)} mph = {shown(far / speed)} h")
    elif speed is not None:
        return None
    over = (
        figure("left over", max(0.0, least - need), "h")
        if need <= least + EVEN
        else figure("missing", need - least, "h")
    )
    if t.want.kind == "distance" and not t.want.judged:
        return None
    fits, breaks = need <= least + EVEN, t.question.has(_BREAKS) and not t.question.has(_OR_BREAKS)
    word = "enough" if fits else "not enough"
    said = (
        f"{'No' if fits else 'Yes'}, {'within it' if fits else 'over'}"
        if breaks
        else f"{'Yes' if fits else 'No'}, {word}"
    )
    enough = f"{said}: {duration(need)} needed, {duration(least)} of driving left."
    return result(t, "needed", need, "h", tuple(lines), f"{enough} {HELPER}", (figure("driving left", least, "h"), over, *also), _SOURCE)  # fmt: skip


_FRESH = r"\b(?:fresh|rested|hasn'?t driven|full (?:ten|clock))\b"


_NONE_LEFT = r"\bi (?:have |ve |am )?(?:got )?(?:none|nothing|no (?:hours|time|driving)|zero|out of hours|timed out|all used up|done for|used up)\b|\bmine (?:is|are) (?:all )?(?:gone|used|out|up)\b"


def _shared(t: Told) -> Estimate | None:
    """Hours that two drivers have left, together or as miles."""
    if t.has("off") or t.has("start"):
        return None
    mine, his = _of_one(t, "left", "driven"), _of_one(t, "left_b", "driven_b")
    if mine is None and his is not None and t.question.has(_FRESH):
        mine, his = his, None
    if mine is None and his is not None and t.question.has(_NONE_LEFT):
        mine = 0.0
    if mine is None:
        return None
    if his is None and t.question.has(_FRESH):
        his = DRIVING_H
        t.assumed.append("10 hours of driving after 8 off")
    far, speed, plan = t.value("distance"), t.value("speed"), t.has("plan")
    if any(not 0 <= one <= DRIVING_H for one in (mine, his or 0.0)):
        return None
    total = mine + (his or 0.0)
    lines = [f"{shown(mine)} + {shown(his)} = {shown(total)} h"] if his is not None else []
    if speed is None and not plan:
        return None if far is not None or his is None or t.want.kind == "distance" else result(t, "driving left", total, "h", tuple(lines), HELPER, source=_SOURCE)  # fmt: skip
    if far is None and not plan and t.want.kind == "distance" and speed is not None:
        reach = total * speed
        return result(t, "distance", reach, "mi", (*lines, f"{shown(total)} h x {shown(speed)} mph = {shown(reach)} mi"), HELPER, (figure("hours together", total, "h"),), _SOURCE)  # fmt: skip
    need = far / speed if far is not None and speed is not None else t.total("plan") or 0.0
    beside = () if his is None or need <= mine else (figure("for the other driver", need - mine, "h"),)
    return _against(t, total, lines, "driving", beside)


def _of_one(t: Told, left: str, driven: str) -> float | None:
    """Hours of driving that one of two drivers has left, told so or by what was driven."""
    if t.has(left):
        return None if t.has(driven) else t.value(left)
    spent = t.total(driven)
    if spent is None:
        return None
    on_duty, works = (t.value("on_duty"), t.total("duty") or 0.0) if driven == "driven" else (t.value("on_duty_b"), 0.0)
    return min(DRIVING_H - spent, ON_DUTY_H - max(on_duty or 0.0, spent) - works)


DUTY = Family("duty", lambda _q: "driving-hours", _applies, _ROLES, _solve)
