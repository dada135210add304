"""A driver's day told as a story: when it began, what was driven, worked and rested, in spells and between times of day.

49 CFR 395.5, passenger carriers: ten hours of driving and no driving after fifteen on duty since eight in a row off; time off
inside the day does not count.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.driving_hours import (
    DRIVING_H,
    HELPER,
    ON_DUTY_H,
    REST_H,
    SOURCE,
    SPLIT_SOURCE,
    half_hour_break,
    hours_left,
    split_rest,
)
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, hour_of, last_at, parts, spans_between

_NAMED = Lazy(
    r"\b(?:driv\w+|drove|wheel|on duty|off duty|duty|came on|clocked (?:in|on)|signed on|sleeper|berth|logs?|logbook|on since|been on|pre ?trip|clock|legal\w*|shift|quit|my <h>)\b"
)
_DAY = Lazy(
    r"\b(?:driv(?:e|en|ing)|drove|wheel|behind the wheel|on duty|duty|limit|legal\w*|hours (?:left|remaining|used)|clock|quit|hours (?:up|over))\b|<h> (?:up|over)"
)
_OTHER = Lazy(
    r"\b(?:week|weekly|charge\w*|battery|furnace|propane|tank|fresh|waste|def|mpg|to the gallon|tread|recheck|torque\w*|idle|idling|generator)\b"
    r"|<(?:gal|L|mpg|Ah|A|V|gph|lb|psi|W|BTU)(?:/\w+)?>|\b(?:sixty|seventy|<n>) (?:hours? )?(?:in|/) (?:seven|eight|<n>|<day>)|<day>"
)
_DROVE = Lazy(r"\b(?:drove|driven|driving|drive|wheel|wheel time|rolled|running|on the road)\b(?! (?:left|limit))")
_WORKED = Lazy(
    r"\b(?:pre ?trip|post ?trip|load\w*|unload\w*|fuel\w*|inspect\w*|paperwork|work\w*|wait(?:ed|ing)? (?:on|around|at)|clean\w*|dump\w*|wash\w*|chain\w*|walk ?round|walkaround|check in|shop|yard|other duty)\b"
)
_RESTED = Lazy(
    r"\b(?:off|off duty|rest\w*|nap\w*|slept|sleep|asleep|break|lunch|dinner|supper|hotel|bunk|berth|laid over|layover|sat|bed|meal|free|ate)\b"
)
_ON_DUTY = Lazy(r"\b(?:on duty|on the clock|on shift|been on|on call)\b")
_SO_FAR = Lazy(r"^ (?:hours? )?(?:so far|already|today|since)\b")
_BEGAN = Lazy(r"\b(?:on|came on|start\w*|began|clocked (?:in|on)|signed on|reported|report|up|on duty|since)(?: \w+){0,2} $")  # fmt: skip
_NOW = Lazy(r"\b(?:now|it|it is|currently|already)(?: is| now| about| just)* $")
_UNTIL = Lazy(r"\b(?:to|till|until|through|-) $")
_OPENS = Lazy(r"\b(?:from|between) $")
_STOPPED = Lazy(
    r"\b(?:off|quit|parked|stopped|finish(?:ed|es|ing)?|shut (?:it )?down|went off|done|released)(?: \w+){0,3} $"
)
_FULL_NIGHT = Lazy(
    r"\b(?:after|had|with|got|following|since) (?:a |my |an? )?(?:full|good|long|whole|proper|legal) (?:night|rest|sleep|eight|<h>)|\bsince my (?:sleep|rest|night|<h>)"
)
_UNFORESEEN = Lazy(
    r"\b(?:nobody|no one|not|never|wasn ?'? ?t|was not|no) (?:\w+ )?(?:forecast\w*|call(?:ed|ing)|predict\w*|saw|expect\w*|warn\w*|in the forecast)|\bunforecast|\bunexpected\w*|\bout of nowhere\b|\bsurprise\b|\bno warning\b"
)
_FORESEEN = Lazy(
    r"\b(?:was|were|had been|it was|all) (?:forecast|predicted|called for|expected|known)\b|\b(?:knew|known) (?:about|of|it|before)|\bforecast (?:said|had|called)|\bsaw it coming"
)
_ADVERSE = Lazy(
    r"\b(?:adverse|bad weather|weather (?:extra|allowance|exception|extension)|snow\w*|ice|icy|blizzard|storm|fog|white ?out)\b"
)
_CLAIMS_IT = Lazy(r"\b(?:extra|allowance|exception|extension|two more|adverse|bonus)\b")
_WHEN = Lazy(r"\b(?:at )?what time\b|\bwhen (?:do|does|must|will|is|are|am|should|would|have|has|can|could|may|the (?:earliest|soonest|latest))\b|\bby when\b|\bclock time\b|\b(?:earliest|soonest)\b")  # fmt: skip
_AGAIN = Lazy(
    r"\b(?:drive|roll|go|start|back (?:on|behind)|be back|on the road|take (?:it|her|the wheel)|leave|pull out)\b[^.?]*\b(?:again|next|earliest|soonest)\b|\b(?:again|next|earliest|soonest)\b[^.?]*\b(?:drive|driving|roll|go|leave|behind the wheel|start)\b|\blegal again\b|\b(?:eight|<h>) (?:hours )?(?:(?:is|are) )?(?:up|over|done)\b|\brest (?:is )?(?:up|over|done)\b"
)
_LIMIT_15 = Lazy(r"\b(?:on ?duty|duty|fifteen|<h> limit|15)\b")
_ENDS = Lazy(
    r"\b(?:stop\w* (?:me|driving)|limit|used up|run(?:s)? out|up|out of (?:hours|time)|expire\w*|over|end\w*|(?:have|need|must) (?:i )?(?:to )?(?:stop|park|be off|quit|shut)|quit|done)\b"
)
_LEFT = Lazy(
    r"\b(?:left|remain\w*|still (?:drive|have|legally|got)|how (?:much|many|long|far)|(?:can|may|could) i (?:\w+ )?(?:drive|still|go)|what (?:have|do) i (?:got|have)|(?:more )?driving (?:is|have|do))\b"
)
_MORE = Lazy(r"^ (?:more|longer|further|to go|of (?:driving|wheel)|left to|away|out|drive|run|leg|stretch)\b")


@dataclass
class _Day:
    driven: list[float] = field(default_factory=list)
    worked: list[float] = field(default_factory=list)
    off: list[float] = field(default_factory=list)
    on_duty: float | None = None
    began: Part | None = None
    now: Part | None = None
    stopped: Part | None = None
    rest: float | None = None
    woke: bool = False
    plan: float | None = None
    far: float | None = None
    speed: float | None = None


def shift(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of driving left, the time of day a limit ends the driving, or when one may drive again."""
    if not _NAMED.search(q.frame) or not _DAY.search(q.frame) or _OTHER.search(q.frame):
        return None
    if _OTHER_DRIVER.search(q.frame):
        return None  # whose hours are whose is another reader's to tell
    day = _told(q)
    if day is None:
        return None
    if _WHEN.search(q.frame):
        return _at_clock(q, day)
    legal = day.far is not None and _MAKE_IT.search(q.frame)
    if not (_LEFT.search(q.frame) or day.plan is not None or legal) or day.stopped is not None:
        return None
    if want.kind not in ("time", "", "distance") or (day.rest is not None and day.rest < REST_H):
        return None
    adverse = _adverse(q)
    if adverse is None:
        return None
    duty = _duty(day)
    if (
        duty is not None
        and not day.driven
        and day.began is not None
        and day.now is not None
        and _OF_FIFTEEN.search(q.frame)
    ):
        left = max(0.0, ON_DUTY_H - duty)
        return exact("on duty left", left, "h", working=(f"15 - {shown(duty)} h on duty = {shown(left)} h",), source=SOURCE, verdict=HELPER)  # fmt: skip
    if duty is None or not day.driven:
        return None
    driven = sum(day.driven)
    if driven > 12.0 or duty > 24.0:
        return None
    plan, miles = day.plan, None
    if plan is None and day.far is not None and day.speed and (want.judged or _MAKE_IT.search(q.frame)):
        plan = miles = day.far / day.speed
    try:
        found = hours_left(
            driven, max(duty, driven), adverse="met on the way" if adverse else None, planned_driving_h=plan
        )
    except ValueError:
        return None
    if plan is not None:
        fits = plan <= (found.value or 0.0) + 1e-6
        if miles is not None:
            left = found.value or 0.0
            enough = f"{'Yes, enough' if fits else 'No, not enough'}: {duration(plan)} needed, {duration(left)} of driving left. {HELPER}"
            return replace(found, name="needed", value=plan, low=plan, high=plan, verdict=enough, also=(figure("driving left", left, "h"), *found.also))  # fmt: skip
        return replace(found, verdict=f"{'Yes' if fits else 'No'}: {duration(plan)} needed. {found.verdict}")
    if _DUTY_LEFT.search(q.frame) and len(found.also) > 1:
        rest = found.also[1]
        return replace(found, name="on duty left", value=rest.value, low=rest.value, high=rest.value, also=(figure("driving left", found.value or 0.0, "h"),), verdict=HELPER)  # fmt: skip
    return found


_OF_FIFTEEN = Lazy(
    r"\bleft (?:of|on|in) (?:my |the )?(?:<n>|<h>|duty|clock)|\b(?:on duty|duty) (?:time |hours? )?left\b"
)
_MAKE_IT = Lazy(r"\b(?:make it|legal\w*|enough|allowed|can i (?:drive|do|finish) (?:it|that|the|those))\b")
_OTHER_DRIVER = Lazy(
    r"\b(?:partner|co ?driver|mate|buddy|relief|between us|both of us|he|she|his|her) (?:\w+ )?(?:drove|driven|has|have|is|did|drive)\b|\bbetween (?:us|the two)\b|<driver>"
)
_DUTY_LEFT = Lazy(r"\b(?:on duty|duty) (?:time |hours? )?(?:left|remaining|do i have|have i)\b|\bduty (?:hours|time) (?:are|is|have) \w* ?left\b")  # fmt: skip


def _adverse(q: Question) -> bool | None:
    """Whether two hours more may be driven for weather that nobody could know of; None when it can not be told."""
    if not _ADVERSE.search(q.frame):
        return False
    if _FORESEEN.search(q.frame) and not _UNFORESEEN.search(q.frame):
        return None
    if _UNFORESEEN.search(q.frame):
        return True
    return None if _CLAIMS_IT.search(q.frame) else False


def _duty(day: _Day) -> float | None:
    """Hours on duty; time off inside the day does not count."""
    told = sum(day.driven) + sum(day.worked)
    if day.began is not None and day.now is not None:
        spans = (one - sum(day.off) for one in spans_between(day.began, day.now))
        return min((one for one in spans if one + 0.3 >= told), default=None)
    if day.on_duty is not None:
        return day.on_duty
    if day.began is not None and not (day.worked or day.off or len(day.driven) > 1):
        return None  # what of the day was off duty is not known
    return told


def _between(start: Part, end: Part) -> float:
    """Hours from one time of day to a later one; an unsaid half of the day is the one that makes it shortest."""
    return min((one for one in spans_between(start, end) if one > 0.01), default=0.0)


def _told(q: Question) -> _Day | None:
    """The spells of the day; None when a time has no place in it."""
    day, found = _Day(), []
    for part in parts(q):
        if part.kind == "distance":
            if day.far is not None:
                return None
            day.far = part.value
        elif part.kind == "speed" or (part.kind == "n" and day.far is not None and _AT_SPEED.search(part.left) and 20 <= part.value <= 80):  # fmt: skip
            day.speed = part.value
        elif part.kind in ("time", "clock", "n", "time/time"):
            found.append(part)
    last_clock: Part | None = None
    doing = ""
    skip = -1
    for k, part in enumerate(found):
        if part.kind == "clock" and _SPENT.search(part.left) and part.value <= ON_DUTY_H:
            part = part._replace(kind="time")  # "driven 7:20" tells hours and minutes
        timed = part.kind == "clock" or (part.kind == "n" and (_is_hour(part) or (doing != "" and part.value >= 100 and _GOES_ON.search(f"{part.left}#") is not None)))  # fmt: skip
        if k == skip:
            last_clock = part
            continue
        if part.amount.per == "day" and part.amount.value in (DRIVING_H, ON_DUTY_H):
            continue  # "I've got ten hours a day"
        if part.kind == "time" and (part.amount.per or part.amount.each):
            return None
        if timed:
            following = found[k + 1] if k + 1 < len(found) else None
            goes_on = doing and _GOES_ON.search(f"{part.left}#") and following is not None and following.left == " to "
            opened = (
                _OPENS.search(part.left) is not None
                and following is not None
                and _UNTIL.search(following.left) is not None
            )
            if following is not None and (opened or goes_on) and following.kind in ("clock", "n"):
                doing = _activity(part) or doing
                if not _spell(day, doing, _between(part, following), part):
                    return None
                skip = k + 1
                continue
            if not _clock(day, part, last_clock):
                return None
            last_clock = part
            continue
        if _PLANNED.search(f"{part.left}#{part.right}"):
            day.plan = part.value
            continue
        if part.kind == "n" and _IN_PASSING.search(part.left) and part.value <= 12:
            continue  # "it came down around four"
        if part.kind == "n" and (
            _LIMIT_OF.search(part.left)
            or not (
                0 < part.value <= 24 or (len(part.amount.pieces) == 2 and part.value % 100 < 60 and part.value < 2400)
            )
        ):
            if _LIMIT_OF.search(part.left) and part.value in (DRIVING_H, ON_DUTY_H):
                continue
            return None
        if part.kind == "time" and part.value == REST_H and day.stopped is not None:
            continue  # "when is my eight hours up"
        if part.kind == "time" and part.value in (DRIVING_H, ON_DUTY_H) and (_LIMIT_OF.search(part.left) or _LIMIT_AFTER.search(part.right)):  # fmt: skip
            continue
        if _STILL_LEFT.search(part.right):
            return None  # it is what is left, not what was spent
        if part.kind == "n" and part.value >= 100 and part.value % 100 < 60:
            part = part._replace(value=part.value // 100 + part.value % 100 / 60)  # "thirteen twenty on duty"
        doing = _activity(part) or (doing if _GOES_ON.search(f"{part.left}#{part.right}") else "")
        if not _spell(day, doing, part.value, part):
            return None
    return day


_AT_SPEED = Lazy(r"\b(?:at|averag\w*|doing|hold\w*)(?: about| around)? $")
_PLANNED = Lazy(
    r"\b(?:can|could|may|legal|allowed|ok|okay|fine|possible)\b(?: \w+){0,4} # (?:hours? )?(?:more|longer|further)\b|\b(?:can|could|may|legal|allowed|ok|okay)\b(?: \w+){0,4} another # "
)
_STILL_LEFT = Lazy(r"^ (?:hours? )?(?:of )?(?:driving |drive time |wheel time )?(?:left|remaining|to drive|in hand)\b")
_IN_PASSING = Lazy(r"\b(?:around|about|at) $")
_LIMIT_OF = Lazy(r"\b(?:of (?:my|the|our)?|my|the)(?: full| total)? $")
_GOES_ON = Lazy(r"\b(?:another|more|further|again)\b|^ (?:, )?(?:and |then |plus |\+ )*#")
"""With these a spell is of the kind of the one before."""
_LIMIT_AFTER = Lazy(
    r"^ (?:hour )?(?:limit|rule|clock|on duty (?:hours|limit)|of driving (?:limit|allowed)|driving limit|on duty hours)\b"
)


_OF_NEXT = Lazy(r"^ (?:hours? )?(?:on duty|driv(?:en|ing)|drove|off)(?: for)? <(?:n|h)>")
""" "Driven 9 on duty 12": the words between tell what follows."""


def _activity(part: Part) -> str:
    """What the time was spent on, by the words right behind it or before it: drove, worked, off, on duty, berth."""
    after = "" if _OF_NEXT.search(part.after) else " ".join(part.right.split()[:4])
    rest = "off" if _FULL_NIGHT.search(f"{part.left}<h>") else ""
    for pattern, doing in (
        (_AFTER_OFF, "off"),
        (_AFTER_DROVE, "drove"),
        (_AFTER_DUTY, "on duty"),
        (_AFTER_WORK, "worked"),
    ):
        if pattern.search(f" {after} "):
            return doing
    if last_at(_OFF_LATER, part.right) >= 0 and not _DROVE.search(part.left):
        return "off"
    if rest:
        return "rest"
    ends = {
        "drove": last_at(_DROVE, part.left),
        "worked": last_at(_WORKED, part.left),
        "off": last_at(_RESTED, part.left),
        "on duty": last_at(_ON_DUTY, part.left),
    }
    best = max(ends, key=lambda one: ends[one])
    return best if ends[best] >= 0 else ""


_AFTER_OFF = Lazy(
    r"^ (?:more )?(?:hours? )?(?:of )?(?:fully )?(?:off\b|rest\b|sleep\b|break\b|nap\b|lunch|dinner|supper|meal|in (?:the|a) (?:\w+ )?(?:bunk|berth|sleeper|hotel|bed)|asleep|at the hotel|for (?:lunch|dinner|supper|a nap))"
)
_OFF_LATER = Lazy(r"\b(?:off(?: duty)?|asleep|nap|bunk|berth|resting)\b")
_AFTER_DROVE = Lazy(
    r"^ (?:more )?(?:hours? )?(?:of )?(?:driv|drove (?!for|about|another|until|till|from|some|$)\w|at the wheel|behind the wheel|wheel|on the road)"
)
_AFTER_DUTY = Lazy(r"^ (?:hours? )?(?:total )?(?:on duty|on the clock|on shift|duty)")
_AFTER_WORK = Lazy(
    r"^ (?:more )?(?:hours? )?(?:of |on |doing |for |with )?(?:the |a |my )?(?:pre ?trip|post ?trip|loading|unloading|fuell?ing|inspect(?:ing|ion)|paperwork|working\b|work\b|cleaning|dumping|washing|chaining|walk ?(?:a)?round|other)"
)


def _spell(day: _Day, doing: str, hours: float, part: Part) -> bool:
    if doing == "rest" or (doing == "off" and hours >= REST_H and not day.driven):
        day.rest = hours
        return True
    if doing == "drove":
        day.driven.append(hours)
    elif doing == "worked":
        day.worked.append(hours)
    elif doing == "off":
        if hours >= REST_H:
            return False  # what was driven before a full rest does not count, and which is which is not known
        day.off.append(hours)
    elif doing == "on duty":
        if day.on_duty is not None:
            return False
        day.on_duty = hours
    else:
        return False
    return True


def _is_hour(part: Part) -> bool:
    value = part.value
    fits = 1 <= value <= 12.99 or (100 <= value < 2400 and value % 100 < 60)
    near = _BEGAN.search(part.left) or _NOW.search(part.left) or _OPENS.search(part.left) or _UNTIL.search(part.left) or _STOPPED.search(part.left)  # fmt: skip
    return fits and bool(near) and not _SPENT.search(part.left) and not _MORE.search(part.right)


_SPENT = Lazy(r"\b(?:on duty|been on|driven|drove|driving|up|off|used up) $")


def _clock(day: _Day, part: Part, before: Part | None) -> bool:
    """Take a time of day: when the day began, until when one was off, when it is now, when one stopped."""
    if _NOW_AFTER.search(part.right) or _NOW.search(part.left):
        day.now = part
        return True
    if _UNTIL.search(part.left):
        doing = _activity(part)
        if before is None or doing == "":
            return False
        return _spell(day, doing, _between(before, part), part)
    began, stopped = last_at(_BEGAN, part.left), last_at(_STOPPED, part.left)
    woke = _WOKE.search(part.left) is not None
    if woke and day.began is not None:
        return True
    if began >= 0 and (began >= stopped) and not _OFF_BEFORE.search(part.left) and (day.began is None or day.woke):
        day.began, day.woke = part, woke
        return True
    if stopped >= 0 and day.stopped is None:
        day.stopped = part
        return True
    return False


_WOKE = Lazy(r"\b(?:woke|up|got up|awake|alarm)(?: \w+){0,2} $")
"""Getting up begins no duty when the coming on duty is told as well."""
_NOW_AFTER = Lazy(r"^ (?:now|right now|already)\b")
_OFF_BEFORE = Lazy(r"\boff\b[^.]{0,20} $")


def _at_clock(q: Question, day: _Day) -> Estimate | None:
    """The time of day at which a limit ends the driving, or at which one may drive again."""
    if day.stopped is not None:
        if not _AGAIN.search(q.frame) or day.driven or day.worked:
            return None
        at = hour_of(day.stopped) + REST_H
        line = f"{time_of_day(hour_of(day.stopped))} + 8 h = {time_of_day(at)}"
        return exact("rest needed", REST_H, "h", working=(line,), source=SOURCE, verdict=f"Not before {time_of_day(at)}, after 8 hours off in a row. {HELPER}")  # fmt: skip
    if day.rest is not None and day.rest < REST_H:
        return None
    if not _ENDS.search(q.frame) or day.began is None or day.on_duty is not None:
        return None
    fifteen = any(part.value == ON_DUTY_H and part.kind in ("n", "time") for part in parts(q))
    if (fifteen or _LIMIT_15.search(q.frame)) and not day.driven:
        until = ON_DUTY_H + sum(day.off)
        at = hour_of(day.began) + until
        lines = (f"{time_of_day(hour_of(day.began))} + 15 h{f' + {shown(sum(day.off))} h off' if day.off else ''} = {time_of_day(at)}",)  # fmt: skip
        told = f"At {time_of_day(at)} the fifteen hours on duty are used up: no driving after that. {HELPER}"
        return exact("until the on-duty limit", until, "h", working=lines, source=SOURCE, verdict=told, assumptions=("time off duty inside the day does not count",))  # fmt: skip
    return None


_BERTH = Lazy(r"\b(?:berth|bunk|sleeper|split)\b")
_OTHER_PART = Lazy(
    r"\b(?:other|second|rest of|remaining|how much more|how long must|how (?:long|many hours) (?:does|do|must|should|more)|need to)\b"
)
_IN_BERTH = Lazy(r"\b(?:berth|bunk|sleeper|in it|in there|back there|split|laid down|slept)\b")
_MORE_IN = Lazy(
    r"^ (?:hours? )?(?:more )?(?:and (?:later )?|in (?:it|there|the (?:\w+ )?(?:berth|bunk|sleeper))|more\b|plus|after that)"
)
_RULE = frozenset({8.0, 2.0, 7.0, 10.0})


def berth(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether two periods in the sleeper berth make a split rest, or how long the other one must be."""
    if not _BERTH.search(q.frame) or not q.has(
        r"\b(?:split|count\w*|valid|legal\w*|good|ok|okay|enough|other|second)\b"
    ):
        return None
    spells = [part for part in parts(q) if part.kind in ("time", "n") and not part.amount.per]
    if any(part.kind == "clock" for part in parts(q)):
        return None
    periods: list[float] = []
    for part in spells:
        driving = _DROVE.search(part.left.split(",")[-1]) or _AFTER_DROVE.search(part.right)
        if driving:
            continue
        if _RULE_WORDS.search(part.left) or _RULE_AFTER.search(part.right):
            continue
        if _IN_BERTH.search(part.right) or _IN_BERTH.search(part.left) or _MORE_IN.search(part.right) or periods:
            periods.append(part.value)
        elif part.kind == "time":
            return None
    if len(periods) == 2 and all(0 < one < 24 for one in periods):
        found = split_rest(*periods)
        valid = found.verdict.startswith("Valid")
        return replace(found, verdict=f"{'Yes. ' if valid else 'No. '}{found.verdict}")
    if len(periods) == 1 and _OTHER_PART.search(q.frame) and 2 <= periods[0] < 12:
        other = max(2.0, REST_H - periods[0])
        return exact("the other period", other, "h", working=(f"8 - {shown(periods[0])} = {shown(REST_H - periods[0])} h, and at least 2",), source=SPLIT_SOURCE, verdict=f"At least {duration(other)} in the berth: 8 hours in all, neither under 2. {HELPER}")  # fmt: skip
    return None


_RULE_WORDS = Lazy(r"\b(?:it is not|isn ?t|not|under|least|minimum|rule|all|full)(?: \w+)? $")
_RULE_AFTER = Lazy(r"^ (?:in (?:one|<n>|a) (?:go|row|stretch)|in a row|straight|at once|consecutive)")

_HALF_HOUR = Lazy(r"<(?:min|h)>|\bhalf (?:an )?hour\b")
_BREAK = Lazy(r"\b(?:break|sit|rest|pause)\b")
_MUST = Lazy(r"\b(?:need|must|have to|has to|got to|gotta|require\w*|rule|mandatory|supposed to|how long must|says|said|saying|law|owe)\b")  # fmt: skip


def no_break(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A driver of passengers owes no 30-minute break: that is a rule for goods."""
    half = any(part.kind == "time" and abs(part.value - 0.5) < 0.01 for part in parts(q))
    if not half or not _BREAK.search(q.frame) or not _MUST.search(q.frame) or not q.has(r"\b(?:driv\w+|wheel|duty)\b"):
        return None
    if q.has(r"\b(?:left|remain\w*|how (?:much|many hours)|eta|arriv\w*|get there)\b|<(?:mi|mph)>") or not q.has(r"\b(?:rule|law|require\w*|mandatory|federal|freight|truck\w*|after <h>|dispatch|supposed|must|have to|need|got to)\b"):  # fmt: skip
        return None
    return half_hour_break()
