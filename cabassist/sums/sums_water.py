"""Sums over fresh water and waste: what is in a tank, what flows, how long it goes, whether it is enough.

One balance answers them all: what is to flow = rate x time. What the question leaves out of it is what it wants.
"""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import PER_H
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told
from cabassist.sums.sums_water_events import events, for_a_day, shower_time
from cabassist.sums.sums_water_flow import FILLING, flows_in
from cabassist.sums.sums_water_rate import IN_H, flow_rate, mended_flow
from cabassist.sums.sums_water_rate_asked import filled_at, inverse, rate_told
from cabassist.sums.sums_water_roles import ROLES
from cabassist.sums.sums_water_standing import standing
from cabassist.sums.sums_water_tank import EMPTY_NOW, FRESH, STARTS_FULL, WASTE, Tank, says_waste, to_the_end
from cabassist.sums.sums_water_time import flows_within, hours_needed, how_long, level_then

_ELSEWHERE = Lazy(
    r"\b(?:diesel|fuel|mpg|batter\w*|bank|amps?|tires?|axles?|luggage|bags?|miles|drove|driving|chill|freez\w*|fro[sz]e\w*|ice|solid|idle|generator|bleach|ppm"
    r"|propane|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?|mix(?:es|ed|ing|ture)?|blend\w*|number (?:one|two|1|2)|(?:lit(?:er|re)s?|gallons?) (?:per|for|to the|a)(?= (?:hundred|<n>|<km>))|coolant|oil|def|cord|breaker|heater|weigh\w*|heavier|lighter)\b"
)
"""Words of sums that are not about water alone."""


def applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    """Whether the sum is about water in tanks."""
    if want.kind not in ("time", "volume", "share", "people", "times", "") or _ELSEWHERE.search(question.frame):
        return False
    both = WASTE.search(question.frame) and FRESH.search(question.frame)
    named = WASTE.search(question.frame) or FRESH.search(question.frame) or FILLING.search(question.frame)
    water = (
        bool(named)
        or _PASSED.search(question.frame) is not None
        or "tank" in question.frame
        or "gauge" in question.frame
        or "water" in question.frame
    )
    if dumped_by(question):
        return False
    return bool(
        water or any(term.kind in ("people", "volume/time") for term in terms) or (want.rate and want.kind == "volume")
    ) and not (both and "first" in question.frame)


def dumped_by(question: Question) -> bool:
    """Whether it is asked when to look or to dump, which leaves an hour in hand and is reckoned elsewhere."""
    frame = question.frame
    dumps = _DUMPING.search(frame) and not (_LIMIT.search(frame) or EMPTY_NOW.search(frame))
    return bool(_LOOKING.search(frame) or dumps)


_PASSED = Lazy(r"<(?:gal|L|percent|part)> (?:left )?at <clock>.*<(?:gal|L|percent|part)>")
"""Two levels at two times need no name of a tank: what falls is used up, what rises fills."""
_LOOKING = Lazy(r"\b(?:look|looking|peek|check on|go check|come back|go back)\b")
_DUMPING = Lazy(
    r"\b(?:dump|empty it|emptied)\b.*\b(?:by|when|due)\b|\b(?:by when|when|latest|how soon|how late)\b.*\bdump\b"
)
"""By when to dump leaves a margin of its own, unless a limit is told."""
_LIMIT = Lazy(r"<percent>.*<percent>|<part>.*<percent>|<gal>.*<percent>|\blimit\b")


def solve(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    t.roles = {name: [_as_clock(x) if name in _CLOCKS else x for x in found] for name, found in t.roles.items()}
    if t.want.kind == "volume/time":
        t.want = replace(t.want, kind="volume")  # of what time is told by the words
    if t.want.kind not in ("time", "volume", "share", "people", "times", "") or not _made_plain(t):
        return None
    further = t.roles.get("needed", [])
    if len(further) == 1 and further[0].kind == "n":  # "thats ten hours, and after another eight"
        passed = t.roles.get("elapsed", [])
        if len(passed) != 1 or not passed[0].amount.value:
            return None
        hours = further[0].value * passed[0].value / passed[0].amount.value
        t.roles = {**t.roles, "needed": [further[0]._replace(kind="time", value=hours)]}
    if t.has("capacity") and t.roles["capacity"][0].kind == "n" and not (t.has("level") or t.has("before")):
        return None
    alone = t.has("before") and not (t.has("level") or t.has("elapsed") or t.has("clock_before"))
    if alone and _STARTING.search(t.roles["before"][0].around):
        t.roles = {**{k: v for k, v in t.roles.items() if k != "before"}, "level": t.roles["before"]}  # "starts at"
    if any(_WHEN_AT.search(term.around) for name in ("level", "room") for term in t.roles.get(name, [])):
        return None
    tank = Tank(t)
    t.want = _asked(t)
    if t.has("level", "people", "rate") and not (t.has("needed") or t.has("deadline")) and t.want.kind == "time" and _LONG_EACH.search(t.question.frame):  # fmt: skip
        return shower_time(t, tank)
    if t.has("per_event", "people", "needed") and not t.has("times") and t.roles["per_event"][0].each:
        return for_a_day(t, tank)
    if t.has("per_event") or t.has("minutes_each"):
        return events(t, tank)
    fills = t.has("add") or _TO_FULL.search(t.question.frame) is not None or (t.has("target") and FILLING.search(t.question.frame) is not None)  # fmt: skip
    if t.want.rate and fills and not t.has("rate") and any(name in t.roles for name in ("elapsed", "needed", "deadline")):  # fmt: skip
        return filled_at(t, tank)
    ends = t.has("needed") or t.has("deadline")
    stock = t.has("level") or t.has("room") or STARTS_FULL.search(t.question.frame) is not None
    if ends and stock and (t.want.rate or t.want.kind == "people"):
        return inverse(t, tank)
    two = t.has("before", "level") and not any(name in t.roles for name in ("elapsed", "clock_before", "rate", "use"))
    if (two and not t.want.rate) or not any(name in t.roles for name in _FLOWING):
        return standing(t, tank)
    rate = flow_rate(t, tank)
    if rate is None:
        return None
    hourly, line, filling = rate
    into = flows_in(t, tank, filling)
    if into is None:
        return None
    filling = into
    mended = mended_flow(t, tank, hourly, line)
    if mended is None:
        return None
    hourly, line = mended
    if t.want.rate and not ends and (t.has("before") or t.has("moved") or t.has("bucket")):
        return rate_told(t, hourly, line)
    if not _brought_on(t, tank, hourly, filling):
        return None
    if t.has("before", "elapsed") and not t.has("level") and (t.has("rate") or t.has("use")):
        start, since = t.one("before"), t.value("elapsed")
        held = None if start is None else tank.gallons(start)
        return None if held is None or since is None else level_then(t, tank, held, hourly, line, since, filling)
    change = to_the_end(t, tank, filling)
    if change is None:
        return None
    gallons, goal = change
    needed = hours_needed(t)
    if needed is None and t.has("deadline"):
        return None
    if gallons is None:
        return flows_within(t, tank, hourly, line, needed, filling)
    return how_long(t, tank, gallons, goal, hourly, line, needed, filling)


def _made_plain(t: Told) -> bool:
    """Reads the amounts that were told in two halves or a loose word; False when one stays in doubt.

    "Between five and eleven" is one span, whose end is the hour it is; "up an eighth every day" is a rate; "fifty in" of a
    tank is no depth when the tank is not so deep.
    """
    roles = dict(t.roles)
    span = roles.get("clock_before", [])
    if len(span) == 1 and span[0].kind == "time":
        if t.has("elapsed") or t.has("now"):
            return False
        ends = [one for one in t.question.amounts if one.end == span[0].amount.end and one.unit == "clock"]
        del roles["clock_before"]
        roles["elapsed"] = span
        if ends:
            roles["now"] = [Term(ends[0], "clock", ends[0].value, " # ")]
    for name in ("rate", "use"):
        timed = [_timed(term) for term in roles.get(name, [])]
        if None in timed:
            return False
        if timed:
            roles[name] = [term for term in timed if term is not None]
    height = next((term.value for term in roles.get("height", [])), None)
    for name in ("level", "before"):
        for term in roles.get(name, []):
            deepest = max(t.coach.tank(one).depth_in for one in ("fresh", "waste")) if height is None else height
            if (
                term.kind == "length"
                and _LOOSE_IN.search(term.around)
                and t.question.words[term.amount.end - 1] == "in"
            ):
                if term.value <= deepest:
                    return False
                roles[name] = [term._replace(kind="n")]
    t.roles = roles
    return True


_LOOSE_IN = Lazy(r"\b(?:it|she|tank) (?:(?:has|have|got|is|only|about) ){1,3}# (?:,|\.|$)")
_EACH_TIME = Lazy(r"# (?:of \w+ )?(?:every|each|per|an?) (?:single )?(?P<span>hour|day|minute|night)\b")


def _timed(term: Term) -> Term | None:
    """A rate whose time stands apart: "up an eighth every day"; None when no time is told for it."""
    if "/" in term.kind:
        return term
    found = _EACH_TIME.search(term.around)
    if found is None:
        return None
    per = {"hour": "h", "day": "day", "minute": "min", "night": "day"}[found["span"]]
    factor = PER_H[per] if term.kind != "n" else 1.0
    return term._replace(kind=f"{term.kind}/time", value=term.value * factor, amount=term.amount._replace(per=per))


_WHEN_AT = Lazy(r"\bwhen (?:is|will|does|do) (?:it|we|that|the \w+(?: tank)?) (?:be |get |reach |hit )?(?:at |to )?# ")
"""What is asked for is no level that was read: nothing then tells how much is in the tank."""
_RATE_PUT = Lazy(r"\b(?:(?:per|a|each|every) (?:person|head|man|player|rider|passenger)) (?:per|a|an|each|every) (?P<one>hour|day)\b|\b(?:per|a|an|each|every) (?P<other>hour|day) (?:per|a|each) (?:person|head|man|player|rider|passenger)\b")  # fmt: skip
_RATE_NEEDED = Lazy(
    r"\b(?:what|how (?:much|many gallons|fast)) (?:(?!long\b|time\b)[a-z]+ ){0,4}?(?:rate|flow|hose|tap|spigot|pump|faucet|hydrant) (?:does |must |should |would |has |have |needs? )?(?:(?:it|to|need) ){0,3}(?:have to be|need to be|to be|be|do|to do|give|to give|make|run|put out)\b(?: per (?P<per>minute|hour|day)\b)?"
)
"""What flow would do it."""
_CAN_SHOWER = Lazy(
    r"\bhow many (?:(?:of|people|them|us|the|guys|players|kids|more) ){0,3}(?:can|could|may|will|get) (?:\w+ ){0,2}?(?:shower\b|<n>|wash\b|rinse\b)|\bshowers? (?:[.,?] )?how many\b|\bshowers? [:,.] (?:[^?]+ )?how many $|\bhow many (?:\w+ ){0,2}?(?:<gal> |<L> )?(?:rinses|showers)\b"
)
"""Asks how many get a shower."""
_OF_US = Lazy(r"\bhow many of (?:us|them|the \w+) (?:can|could|may|will|get|gets|are)\b")
_AFFORD = Lazy(
    r"\b(?:(?P<hour>(?:an|per|each|every|the|in an) hour|hourly)|(?P<day>(?:a|per|each|every|the|in a) day|daily)|each|apiece|per head|a head)\b(?! night)"
)
"""What may be used an hour, a day, or by each."""
_SPENT = frozenset({"rate", "use", "per_event", "minutes_each", "moved", "before", "bucket", "times", "add"})
_WHAT_THEN = Lazy(r"\bwhat (?:will|would|do|does|am|are) (?:i|we|it|the \w+) (?:then )?(?:have|hold|read|show|be at|end up with|left with)\b")  # fmt: skip
_TIME_ASKED = Lazy(r"\bhow (?:long|soon|many (?:hours|minutes))\b|\bwhen (?:is|will|does|do|are)\b|\bwhat time\b")


def _asked(t: Told) -> Wanted:
    """What is wanted: "what will i have" is no time, "per person per day what's that" a rate when none was told."""
    if t.want.kind == "time" and _WHAT_THEN.search(t.question.frame) and not _TIME_ASKED.search(t.question.frame):
        return replace(t.want, kind="", unit="", clock=False)
    counted = _CAN_SHOWER.search(t.question.frame)
    if (
        counted
        and t.want.kind in ("", "volume")
        and not t.has("people")
        and (t.has("minutes_each") or t.has("per_event"))
    ):
        showers = "showers" in counted[0] or "rinses" in counted[0]
        return replace(t.want, kind="times" if showers else "people", unit="showers" if showers else "people")
    if t.want.unit == "showers" and _OF_US.search(t.question.frame) and not t.has("people"):
        return replace(t.want, kind="people", unit="people")
    afford = _AFFORD.search(t.question.frame)
    if afford and not (t.want.rate or t.want.judged) and t.want.kind in ("", "volume") and (t.has("needed") or t.has("deadline")) and not any(name in t.roles for name in _SPENT):  # fmt: skip
        per = "h" if afford["hour"] else "day"
        if afford["hour"] or afford["day"] or t.has("people"):
            return replace(t.want, rate=per)
    asked = _RATE_NEEDED.search(t.question.frame)
    if asked and not t.want.rate and not any(name in t.roles for name in ("rate", "use", "bucket", "moved")):
        spans = t.roles.get("needed") or t.roles.get("elapsed") or []
        per = {"minute": "min", "hour": "h", "day": "day"}.get(asked["per"] or "") or (spans[0].unit if spans else "")
        if per in IN_H:
            return replace(t.want, kind="", unit="", rate=per)
    found = _RATE_PUT.search(t.question.frame)
    told = any(name in t.roles for name in ("use", "rate", "per_event", "needed", "deadline", "target"))
    if found is None or told or t.want.rate or t.want.kind not in ("", "volume"):
        return t.want
    return replace(t.want, rate={"hour": "h", "day": "day"}[found["one"] or found["other"]])


_STARTING = Lazy(r"\b(?:starts?|started|starting|begins?|began|from|was)(?: out)?(?: at| with)? # ")
_FLOWING = frozenset({"use", "rate", "bucket", "moved", "before"})
_CLOCKS = frozenset({"now", "deadline", "clock_before"})


def _as_clock(term: Term) -> Term:
    """A time of day said in plain numbers: "its eleven forty now"."""
    if term.kind != "n" or not 100 <= term.value < 2400 or term.value % 100 >= 60:
        return term
    hour = term.value // 100 + term.value % 100 / 60
    return term._replace(kind="clock", value=hour, amount=term.amount._replace(value=hour, unit="clock", pieces=("?",)))


_LONG_EACH = Lazy(r"\bhow long (?:can|may|could) <people> (?:\w+ ){0,2}?shower\b|\bhow long (?:\w+ ){0,4}?(?:each|everybody|everyone|every|shower|a shower)\b|\bminutes (?:[\w<>]+ ){0,6}?(?:each|apiece|per|everybody|everyone|every)\b")  # fmt: skip


def _brought_on(t: Told, tank: Tank, hourly: float, filling: bool) -> bool:
    """Brings "was at twenty, hose on for ten minutes at four a minute" on to the level now; False when it can not be."""
    if not t.has("before", "elapsed") or t.has("level"):
        return True
    first, passed = t.one("before"), t.value("elapsed")
    was = None if first is None else tank.gallons(first)
    if first is None or was is None or passed is None:
        return False
    flows = t.has("rate") or t.has("use")
    if flows and t.want.kind in ("", "volume") and not (t.want.judged or t.want.difference or any(name in t.roles for name in ("needed", "deadline", "target"))):  # fmt: skip
        return True  # what is in it now is what is asked
    inside = was + (1 if filling or (tank.waste and tank.rising) else -1) * hourly * passed
    t.roles = {**t.roles, "level": [first._replace(kind="volume", value=inside)]}
    return True


_TO_FULL = Lazy(r"\b(?:to|till|until) (?:full|the top|the brim)\b|\bto fill\b|\bfull in\b")


def _calculation(question: Question) -> str:
    if WASTE.search(question.frame) and not (FRESH.search(question.frame) and not says_waste(question.frame)):
        return "waste-hours"
    return (
        "fill-time"
        if FILLING.search(question.frame) or re.search(r"<(?:gpm|[^>]+/min)>", question.frame)
        else "fresh-hours"
    )


WATER = Family("water", _calculation, applies, ROLES, solve)
