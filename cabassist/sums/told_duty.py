"""Sums over a driver's day: what was driven, worked and rested, and whether what is left of it is enough.

49 CFR 395.5: ten hours of driving, and no driving after fifteen on duty, since eight consecutive hours off.
"""

from __future__ import annotations

from cabassist.estimate.driving_hours import DRIVING_H, HELPER, ON_DUTY_H, REST_H
from cabassist.estimate.quantities import duration, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import OTHERS, ahead, listed, result

_SOURCE = "49 CFR 395.5"
_OTHER = r"(?:he|she|they|his|her|mate|partner|co ?driver|other (?:guy|driver|one|fellow)|buddy|relief|second driver)"
_ROLES = (
    role("rest", "time|n", -1.6, (4.4, r"\b(?:after|had|following|with|on) (?:a |my |our )?(?:full |good )?# (?:hours )?(?:off|rest|sleep|of (?:rest|sleep))\b|# (?:hours )?off (?:duty )?(?:last night|overnight|before|,? (?:then )?(?:came|started|began))\b"), bare=0.3),
    role("driven", "time|n", -1.6, (3.3, r"\b(?:used(?: up)?|drove|driven|driving|drive|behind the wheel|at the wheel|run|ran)(?: for| about| another| a further| just| already| only| it)* # |# (?:hours )?(?:of )?(?:driving|driven|behind the wheel|at the wheel|more driving)\b|\bthen (?:another )?# driving"), never=r"# (?:hours )?(?:off|left|loading|rest)\b|# (?:hours )?(?:of )?(?:driving |drive time |wheel time )(?:left|remaining)\b|\bnot driving # ", bare=0.2, many=True),
    role("off", "time|n", -1.6, (3.5, r"# (?:hours )?(?:\w+ ){0,2}(?:off(?: duty)?|rest\w*|break|nap|in the (?:bunk|berth|sleeper)|asleep|for (?:lunch|dinner|supper))\b|\b(?:off(?: duty)?|rested|break|lunch|nap|slept|bunk) (?:for |of |about |was )*# "), (0.5, r"\bthen #"), never=r"\bafter # (?:hours )?off\b.* (?:drove|came)", bare=0.3, many=True),
    role("duty", "time|n", -1.6, (3.3, r"# (?:hours )?(?:of |on |at |for |with )?(?:the )?(?:load\w*|unload\w*|fuel\w*|pre ?trip\w*|inspect\w*|post ?trip|wait\w*|paperwork|other work|work\w*|clean\w*|dump\w*|walk ?round)\b|\b(?:loaded|loading|unloading|fueling|pre ?trip|inspecting|waited|worked|working|paperwork) (?:for |about |took )*# "), bare=0.3, many=True),
    role("on_duty", "time|n", -1.6, (4.4, r"\b(?:on (?:duty|the clock|shift)|been on)(?: for| about| already)* # |# (?:hours )?(?:on (?:duty|the clock|shift))\b"), never=r"\bdriv\w+ # ", bare=0.2),
    role("limit", "time|n", -2.0, (4.5, r"\bof (?:my|the|our) # (?:driving )?(?:hours?)?"), bare=0.2),
    role("left", "time|n", -1.6, (3.8, r"# (?:hours )?(?:\w+ ){0,2}(?:left|remaining|to drive|in hand)\b|\b(?:i (?:have )?(?:got )?|i have (?:got )?|i've (?:got )?|mine is|me) # "), bare=0.4),
    role("left_b", "time|n", -1.6, (4.2, rf"\b{_OTHER}\b(?: is| has| have| had| got| still| fresh| with| can| legally| drive)* # |# (?:from|for|by) (?:my |the )?{_OTHER}\b"), bare=0.4),
    role("start", "clock", 0.2, (0.8, r"# [^#]*<clock>"), (1.5, r"\b(?:on duty|came on|start\w*|signed on|clocked in|up|since|on|from|began)(?: since| at| from| duty| on)* # ")),
    role("start", "n", -1.8, (3.2, r"\b(?:came on(?: duty)?|started|on duty|signed on|began|clocked in)(?: at| since) # ")),
    role("now", "clock", 0.1, (0.8, r"<clock>[^#]* # "), (1.5, r"\b(?:now|it is|it|is|at)(?: now| about)* # |# now\b")),
    role("distance", "distance", 0.5),
    role("speed", "speed", 0.8),
    role("speed", "n", -1.6, (3.1, r"<(?:mi|km)>[^#]{0,30}\bat (?:about |around )?# |\b(?:averag\w+|avg|doing) (?:about |around )?# ")),
    role("drivers", "drivers", 0.0),
    role("drivers", "n", -2.0, (4.0, r"# (?:drivers|of us)\b")),
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


def _solve(t: Told) -> Estimate | None:
    t.value("drivers")
    rest = t.value("rest")
    if rest is not None and rest < REST_H:
        return None
    if t.has("left") or t.has("left_b"):
        return _shared(t)
    driven, offs, works = ([one.value for one in t.all(name)] for name in ("driven", "off", "duty"))
    start, now, on_duty = t.one("start"), t.one("now"), t.value("on_duty")
    if not driven or any(one > ON_DUTY_H for one in (*driven, *works)):
        return None
    if any(one >= REST_H for one in offs):
        return (
            None  # when the eight hours were told apart from what was driven before them, it is not known which counts
        )
    if t.has("limit") and t.value("limit") != DRIVING_H:
        return None
    total = sum(driven)
    left = DRIVING_H - total
    if left < 0:
        return None
    lines = [f"{shown(DRIVING_H)} - ({listed(driven)}) = {shown(left)} h of driving"]
    worked = None
    if start is not None and now is not None:
        if on_duty is not None or start.kind == "n" and not 0 < start.value < 24:
            return None
        worked = ahead(start.value, now.value) - sum(offs)
        if worked + 0.05 < total:
            return None
    elif start is not None and not works and not offs:
        return None  # it is not known what of the day was off duty
    elif now is None or start is not None:
        worked = total + sum(works) if on_duty is None else max(on_duty, total)
    else:
        return None
    rest_of_day = ON_DUTY_H - worked
    lines.append(f"{shown(ON_DUTY_H)} - {shown(worked)} = {shown(rest_of_day)} h on duty")
    least = max(0.0, min(left, rest_of_day))
    limit = "driving" if left <= rest_of_day else "on-duty"
    also = (figure("driving limit", left, "h"), figure("on-duty limit", rest_of_day, "h"))
    return _against(t, least, lines, limit, also)


def _against(t: Told, least: float, lines: list[str], limit: str, also: tuple[Figure, ...]) -> Estimate | None:
    """The hours left, or whether they are enough for a distance that is told."""
    far, speed = t.value("distance"), t.value("speed")
    if speed is None:
        if t.want.kind == "distance" or (far is not None and t.want.judged):
            return None
        verdict = f"{duration(least)} of driving left, by the {limit} limit. {HELPER}"
        return result(t, "driving left", least, "h", tuple(lines), verdict, also, _SOURCE)
    if far is None:
        return None
    need = far / speed
    lines.append(f"{shown(far)} mi ÷ {shown(speed)} mph = {shown(need)} h")
    if t.want.kind == "distance" and not t.want.judged:
        return None
    enough = f"Yes, enough: {duration(need)} needed, {duration(least)} of driving left." if need <= least else f"No, not enough: {duration(need)} needed, {duration(least)} of driving left."  # fmt: skip
    return result(t, "needed", need, "h", tuple(lines), f"{enough} {HELPER}", (figure("driving left", least, "h"), *also), _SOURCE)  # fmt: skip


_FRESH = r"\b(?:fresh|rested|hasn'?t driven|full (?:ten|clock))\b"


def _shared(t: Told) -> Estimate | None:
    """Hours that two drivers have left, together or as miles."""
    mine, his = t.value("left"), t.value("left_b")
    if t.has("driven") or t.has("off") or t.has("start") or mine is None:
        return None
    if his is None and t.question.has(_FRESH):
        his = DRIVING_H
        t.assumed.append("10 hours of driving after 8 off")
    far, speed = t.value("distance"), t.value("speed")
    if any(one > DRIVING_H for one in (mine, his or 0.0)):
        return None
    total = mine + (his or 0.0)
    lines = [f"{shown(mine)} + {shown(his)} = {shown(total)} h"] if his is not None else []
    if speed is None:
        return None if far is not None or his is None or t.want.kind == "distance" else result(t, "driving left", total, "h", tuple(lines), HELPER, source=_SOURCE)  # fmt: skip
    if far is None:
        if t.want.kind != "distance":
            return None
        reach = total * speed
        return result(t, "distance", reach, "mi", (*lines, f"{shown(total)} h x {shown(speed)} mph = {shown(reach)} mi"), HELPER, (figure("hours together", total, "h"),), _SOURCE)  # fmt: skip
    return _against(t, total, lines, "driving", ())


DUTY = Family(lambda _q: "driving-hours", _applies, _ROLES, _solve)
