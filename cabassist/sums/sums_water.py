"""Sums over fresh water and waste: what is in a tank, what flows, how long it goes, whether it is enough.

One balance answers them all: what is to flow = rate x time. What the question leaves out of it is what it wants.
"""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.tanks import fraction_at_depth
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import PER_H, converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, hours_until, per_hour
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, at_clock
from cabassist.sums.sums_water_flow import FULL_ASKED, signs
from cabassist.sums.sums_water_roles import ROLES

WASTE = Lazy(
    r"\b(?:waste|black|gr[ae]y|sewage|holding tank|septic|poop?|lavvy|lav|loo|bog|crapper|toilets?|dump\w*|effluent|flush\w*|sewer)\b"
)
FRESH = Lazy(r"\b(?:fresh|clean|drinking|potable|showers?|taps?|drink)\b")
_FILLING = Lazy(
    r"\b(?:hose|spigot|faucet|bucket|pail|jug|fill|filling|filled|fills|top (?:it )?(?:off|up)|to the (?:top|brim))\b"
)
ELSEWHERE = Lazy(
    r"\b(?:diesel|fuel|mpg|batter\w*|bank|amps?|tires?|axles?|luggage|bags?|miles|drove|driving|chill|freez\w*|fro[sz]e\w*|ice|solid|idle|generator|bleach|ppm"
    r"|propane|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?|coolant|oil|def|cord|breaker|heater|weigh\w*|heavier|lighter)\b"
)
"""Words of sums that are not about water alone."""


def applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    """Whether the sum is about water in tanks."""
    if want.kind not in ("time", "volume", "share", "people", "times", "") or ELSEWHERE.search(question.frame):
        return False
    both = WASTE.search(question.frame) and FRESH.search(question.frame)
    named = WASTE.search(question.frame) or FRESH.search(question.frame) or _FILLING.search(question.frame)
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
    dumps = _DUMPING.search(frame) and not (_LIMIT.search(frame) or _EMPTY_NOW.search(frame))
    return bool(_LOOKING.search(frame) or dumps)


_MINUTELY = frozenset({"gpm", "L/min"})
"""Flows a minute that are one word."""
_PASSED = Lazy(r"<(?:gal|L|percent|part)> (?:left )?at <clock>.*<(?:gal|L|percent|part)>")
"""Two levels at two times need no name of a tank: what falls is used up, what rises fills."""
_IN_GALLONS = Lazy(
    r"# (?:left|remaining|in it|in there|aboard|to go|on board)\b|\b(?:has|have|got|there is|there) (?:only |about |s )?# |\bfull at # "
)
_OF_SIZE = Lazy(r"# (?:full )?(?:out )?of (?:a |an |the |our |my )?(?:total )?<(?:gal|L)> ")
"""A bare level beside a size: "seventy of eighty gallons"."""
_LOOKING = Lazy(r"\b(?:look|looking|peek|check on|go check|come back|go back)\b")
_DUMPING = Lazy(
    r"\b(?:dump|empty it|emptied)\b.*\b(?:by|when|due)\b|\b(?:by when|when|latest|how soon|how late)\b.*\bdump\b"
)
"""By when to dump leaves a margin of its own, unless a limit is told."""
_LIMIT = Lazy(r"<percent>.*<percent>|<part>.*<percent>|<gal>.*<percent>|\blimit\b")


class _Tank:
    """The tank a question is about, and amounts of it in gallons."""

    def __init__(self, told: Told) -> None:
        self.told = told
        frame = told.question.frame
        named = WASTE.search(frame) is not None and not (FRESH.search(frame) and not _says_waste(frame))
        flushing = _DOES_TOILETS.search(frame) or (told.has("reserve") and _FOR_TOILETS.search(frame))
        self.waste = named and (_says_waste(frame) or not flushing)
        self.name = "waste" if self.waste else "fresh"
        self.named = WASTE.search(frame) is not None or FRESH.search(frame) is not None
        self.rising = True
        """Whether a waste tank fills; not while it is dumped."""
        self.dumped = False
        """Whether it is let out on purpose, so that sooner is better."""
        own = told.coach.tank(self.name)
        size = told.one("capacity")
        said = None if size is None else size.value * (_unit_told(told) if size.kind == "n" else 1.0)
        self.said = said is not None
        self.capacity = (said if said is not None else own.capacity_gal) * (told.value("tanks") or 1.0)
        height = told.value("height")
        self.height = height if height is not None else own.depth_in
        self.other = abs(self.height - own.depth_in) > 0.1 and self.in_gallons(told)
        self.shape = own.shape if height is None else "rectangular"
        kinds = {t.kind for name in ("level", "before", "target", "room", "reserve") for t in told.roles.get(name, []) if t.kind != "n"}  # fmt: skip
        rates = {t.kind.partition("/")[0] for t in told.roles.get("rate", []) if t.kind != "n/time"}
        rates |= {t.kind.partition("/")[0] for t in (*told.roles.get("use", []), *told.roles.get("per_event", []), *told.roles.get("moved", []), *told.roles.get("bucket", [])) if t.kind not in ("n", "n/time")}  # fmt: skip
        if not kinds and any(_OF_SIZE.search(t.around) for t in told.roles.get("level", [])):
            kinds = {"volume"}
        self.bare = next(iter(kinds)) if len(kinds) == 1 else ""
        self.bare_rate = next(iter(rates)) if not kinds and len(rates) == 1 else ""
        self.factor = _unit_told(told) if "volume" in (self.bare, self.bare_rate) else 1.0
        """Gallons in one of what numbers without a unit are told in."""
        self.used_capacity = False

    @staticmethod
    def in_gallons(told: Told) -> bool:
        """Whether anything is told or wanted in gallons, so that the size of the tank counts."""
        kinds = {term.kind for found in told.roles.values() for term in found}
        return bool(kinds & {"volume", "volume/time"}) or told.want.kind == "volume"

    def gallons(self, term: Term, flows: bool = False) -> float | None:
        """An amount of the tank in gallons; None when it is not known in what it was told, or can not be.

        What `flows` in is in the unit of the rate.
        """
        kind = term.kind if term.kind != "n" else self.bare or (self.bare_rate if flows else self._as_the_rate(term))
        if kind == "volume":
            return term.value * (self.factor if term.kind == "n" else 1.0)
        self.used_capacity = True
        if kind == "share":
            share = term.value / (100 if term.kind == "n" else 1)
            return share * self.capacity if share <= 1 else None
        if kind == "length":
            if self.other and not self.said:
                return None  # a tank of another height than the coach's, whose size is not told
            return self.capacity * fraction_at_depth(term.value / self.height, self.shape) if term.value <= self.height else None  # fmt: skip
        return None

    def _as_the_rate(self, term: Term) -> str:
        """What a bare level is in when only the rate has a unit: "63 left" is in gallons, "at 63" may be percent."""
        sure = self.bare_rate != "volume" or term.value > 100 or _IN_GALLONS.search(term.around)
        return self.bare_rate if sure else ""

    def assume(self) -> None:
        """Say which size was taken from the profile."""
        if self.used_capacity and not self.said:
            self.told.assumed.append(f"{self.name} tank {shown(self.capacity)} gal (profile)")


_FOR_TOILETS = Lazy(r"\b(?:for|to|in) (?:the |our )?(?:toilets?|flush\w*)\b")
"""What stays in "for the toilets" is clean water that flushes them."""
_DOES_TOILETS = Lazy(
    r"\b(?:do|does|run|runs|feed|feeds|supply|supplies|keep) (?:the |our |all |both )?(?:toilets?|flush\w*)\b"
)


def _unit_told(told: Told) -> float:
    """Gallons in the unit of volume that the tank is told in, or else what flows: of litres, 0.264."""
    for names in (("level", "before", "target", "room", "capacity"), ("rate", "use", "moved", "add", "bucket", "second", "against")):  # fmt: skip
        for term in (term for name in names for term in told.roles.get(name, [])):
            if term.kind in ("volume", "volume/time"):
                return 1.0 if term.unit == "gph" or term.unit == "gpm" else converted(1.0, "L" if term.unit == "L/min" else term.unit, "gal")  # fmt: skip
    return 1.0


def _says_waste(frame: str) -> bool:
    return Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b").search(frame) is not None


def solve(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    t.roles = {name: [_as_clock(x) if name in _CLOCKS else x for x in found] for name, found in t.roles.items()}
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
    tank = _Tank(t)
    t.want = _asked(t)
    if t.has("level", "people", "rate") and not (t.has("needed") or t.has("deadline")) and t.want.kind == "time" and _LONG_EACH.search(t.question.frame):  # fmt: skip
        return _shower_time(t, tank)
    if t.has("per_event", "people", "needed") and not t.has("times") and t.roles["per_event"][0].each:
        return _for_a_day(t, tank)
    if t.has("per_event") or t.has("minutes_each"):
        return _events(t, tank)
    fills = t.has("add") or _TO_FULL.search(t.question.frame) is not None or (t.has("target") and _FILLING.search(t.question.frame) is not None)  # fmt: skip
    if t.want.rate and fills and not t.has("rate") and any(name in t.roles for name in ("elapsed", "needed", "deadline")):  # fmt: skip
        return _filled_at(t, tank)
    ends = t.has("needed") or t.has("deadline")
    stock = t.has("level") or t.has("room") or _STARTS_FULL.search(t.question.frame) is not None
    if ends and stock and (t.want.rate or t.want.kind == "people"):
        return _inverse(t, tank)
    two = t.has("before", "level") and not any(name in t.roles for name in ("elapsed", "clock_before", "rate", "use"))
    if (two and not t.want.rate) or not any(name in t.roles for name in _FLOWING):
        return _standing(t, tank)
    rate = _rate(t, tank)
    if rate is None:
        return None
    hourly, line, filling = rate
    into = _flows_in(t, tank, filling)
    if into is None:
        return None
    filling = into
    mended = _mended(t, tank, hourly, line)
    if mended is None:
        return None
    hourly, line = mended
    if t.want.rate and not ends and (t.has("before") or t.has("moved") or t.has("bucket")):
        return _rate_told(t, hourly, line)
    if not _brought_on(t, tank, hourly, filling):
        return None
    if t.has("before", "elapsed") and not t.has("level") and (t.has("rate") or t.has("use")):
        start, since = t.one("before"), t.value("elapsed")
        held = None if start is None else tank.gallons(start)
        return None if held is None or since is None else _level_then(t, tank, held, hourly, line, since, filling)
    change = _change(t, tank, filling)
    if change is None:
        return None
    gallons, goal = change
    needed = _needed(t)
    if needed is None and t.has("deadline"):
        return None
    if gallons is None:
        return _amount_in(t, tank, hourly, line, needed, filling)
    return _time(t, tank, gallons, goal, hourly, line, needed, filling)


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


_WHAT_THEN = Lazy(r"\bwhat (?:will|would|do|does|am|are) (?:i|we|it|the \w+) (?:then )?(?:have|hold|read|show|be at|end up with|left with)\b")  # fmt: skip
_TIME_ASKED = Lazy(r"\bhow (?:long|soon|many (?:hours|minutes))\b|\bwhen (?:is|will|does|do|are)\b|\bwhat time\b")


def _asked(t: Told) -> Wanted:
    """What is wanted: "what will i have" is no time, "per person per day what's that" a rate when none was told."""
    if t.want.kind == "time" and _WHAT_THEN.search(t.question.frame) and not _TIME_ASKED.search(t.question.frame):
        return replace(t.want, kind="", unit="", clock=False)
    asked = _RATE_NEEDED.search(t.question.frame)
    if asked and not t.want.rate and not any(name in t.roles for name in ("rate", "use", "bucket", "moved")):
        spans = t.roles.get("needed") or t.roles.get("elapsed") or []
        per = {"minute": "min", "hour": "h", "day": "day"}.get(asked["per"] or "") or (spans[0].unit if spans else "")
        if per in _IN_H:
            return replace(t.want, kind="", unit="", rate=per)
    found = _RATE_PUT.search(t.question.frame)
    told = any(name in t.roles for name in ("use", "rate", "per_event", "needed", "deadline", "target"))
    if found is None or told or t.want.rate or t.want.kind not in ("", "volume"):
        return t.want
    return replace(t.want, rate={"hour": "h", "day": "day"}[found["one"] or found["other"]])


_STARTING = Lazy(r"\b(?:starts?|started|starting|begins?|began|from|was)(?: out)?(?: at| with)? # ")
_FLOWING = frozenset({"use", "rate", "bucket", "moved", "before"})
_DRAINING = Lazy(r"\b(?:drain\w*|dump\w*|empty|empties|emptying|emptied|pump(?:ed|ing)? out)\b")
_MORE = Lazy(r"\bhow many more gallons\b|\bhow much (?:\w+ )?more\b|\bhow many gallons more\b")
_ROOM = Lazy(
    r"\b(?:gallons|gal|liters|litres) to (?:fill|full|the top|top (?:it )?(?:off|up)|go)\b|\b(?:room|space)\b|\b(?:how (?:much|many (?:us )?(?:gallons|liters|litres))) (?:more|to (?:fill|top|bring|get)|can i (?:add|put|take)|does it (?:need|take)|will it (?:still )?take|fits?)\b|\bto (?:fill it|top it)\b"
    r"|\bhow (?:much|many (?:us )?(?:gallons|liters|litres)) (?:can |will |do |does |would )?(?:still )?(?:go(?:es)? in|fit)\b"
)


_CLOCKS = frozenset({"now", "deadline", "clock_before"})


def _as_clock(term: Term) -> Term:
    """A time of day said in plain numbers: "its eleven forty now"."""
    if term.kind != "n" or not 100 <= term.value < 2400 or term.value % 100 >= 60:
        return term
    hour = term.value // 100 + term.value % 100 / 60
    return term._replace(kind="clock", value=hour, amount=term.amount._replace(value=hour, unit="clock", pieces=("?",)))


_A_PERSON = Lazy(r"\b(?:per|a|every) (?:person|head|rider|player|guy)\b")
_PUMPED_OUT = Lazy(
    r"\bmacerator\b|\b(?:waste|sewer|black|dump) (?:hose|valve|pipe|cock) (?:\w+ )?(?:lets?|passes|runs|takes) (?:\S+ ){0,2}?out\b|\b(?:pump(?:s|ed|ing)?|suck(?:s|ed|ing)?) (?:\w+ ){0,2}?out\b|\bdrains? (?:\w+ ){0,2}?at <(?:gal|L)/h>"
)
_DRAWN = Lazy(
    r"\b(?:run|runs|running|go|goes|going|till|until) (?:(?:it|we|is|are|its) ){0,2}dry\b|\brun(?:s|ning)? out\b|\bleak\w*|\blasts?\b|\bleft (?:on|running|open)\b|\ball gone\b"
)
_HOSED = Lazy(
    r"\b(?:hose|(?<!to a )(?<!next )spigot|hydrant|(?<!next )(?<!the )(?<!a )fill(?:ing|s)?(?! (?:stop|site|point|station|up))|trickl\w*) (?:(?![,.])\S+ ){0,6}?<(?:gal|L|n)/(?:h|day)>|<(?:gal|L|n)/(?:h|day)> (?:\w+ ){0,4}?(?:hose|spigot|hydrant)\b"
)
"""So much an hour that flows in and not out."""
_LET_OUT = Lazy(
    r"(?<!just )(?<!been )(?<!freshly )\b(?:drain\w*|dump\w*|emptying|empties|emptied|(?:to|can|will|does|till|until|when|before|get|gets|go|goes|be|run|runs) (?:(?:it|is|its|we|the|i|tank|waste|black) ){0,3}empty|empty (?:it|the|out|this|them)|^ empty)\b"
)
_HOSE = Lazy(r"\b(?:hose|spigot|hydrant) (?:[a-z]+ ){0,3}# ")
_LONG_EACH = Lazy(r"\bhow long (?:can|may|could) <people> (?:\w+ ){0,2}?shower\b|\bhow long (?:\w+ ){0,4}?(?:each|everybody|everyone|every|shower|a shower)\b|\bminutes (?:[\w<>]+ ){0,6}?(?:each|apiece|per|everybody|everyone|every)\b")  # fmt: skip


def _flows_in(t: Told, tank: _Tank, filling: bool) -> bool | None:
    """Whether the water goes in by a hose; notes when it is let out. None when the signs contradict each other."""
    frame = t.question.frame
    if tank.dumped or _PUMPED_OUT.search(frame) or (filling and _LET_OUT.search(frame)):
        tank.rising, tank.dumped = False, True
        return False
    beside = [term.around for name in ("rate", "moved", "use") for term in t.roles.get(name, [])]
    ends = (_first_in(t, tank, "level", "before"), _first_in(t, tank, "target"))
    found = signs(frame, beside, *ends)
    if tank.waste:
        # what is used ends up in it, so that only what is lost speaks against its filling
        doubtful = found.outward or t.has("reserve") or (filling and not found.inward)  # nobody fills it by the minute
        return None if doubtful else filling
    spent = found.spent or t.has("use") or t.has("reserve") or (t.has("duty") and not _FILLING.search(frame))
    out = found.outward or spent or (not filling and _falling(t, tank))
    hosed = (_HOSED.search(frame) is not None and not t.has("use")) or (
        t.has("moved") and _HOSE.search(t.roles["moved"][0].around) is not None
    )
    if t.has("against"):
        return filling or hosed or (found.inward and not out)
    if found.inward and out:
        return None
    if found.inward:
        return True if filling or hosed or tank.named or _FILLING.search(frame) or _size_told(t, tank) else None
    return (filling or hosed) and not out and not _DRAWN.search(frame)


def _first_in(t: Told, tank: _Tank, *names: str) -> float | None:
    """The first amount there is of some roles, in gallons."""
    found = next((t.roles[name][0] for name in names if name in t.roles), None)
    return None if found is None else tank.gallons(found)


def _falling(t: Told, tank: _Tank) -> bool:
    """Whether a tank held more before."""
    first, last = _first_in(t, tank, "before"), _first_in(t, tank, "level")
    return first is not None and last is not None and first > last


def _size_told(t: Told, tank: _Tank) -> bool:
    """Whether it makes no difference which of the coach's tanks it is, when none was named."""
    rate = t.roles["rate"][0].kind if t.has("rate") else ""
    return tank.said or t.has("room") or rate == "share/time" or (t.has("target") and tank.bare == "volume")


def _rate_told(t: Told, hourly: float, line: str) -> Estimate:
    """The flow that follows from two readings, what moved, or a bucket."""
    frame = t.question.frame
    factor, _ = _IN_H[t.want.rate]
    t.all("level")
    aboard = t.total("people") if _BY_HEADS.search(frame) or _A_PERSON.search(frame) else None
    if aboard:
        each = hourly * factor / aboard
        by = f"÷ {shown(aboard)} = {shown(each)} gal each"
        return _done("each uses", each, _RATES[t.want.rate], t, (line, by), "", figure("each", each, "gal"), figure("all together", hourly * factor, _RATES[t.want.rate]))  # fmt: skip
    return _done("rate", hourly * factor, _RATES[t.want.rate], t, (line,))


def _brought_on(t: Told, tank: _Tank, hourly: float, filling: bool) -> bool:
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


def _shower_time(t: Told, tank: _Tank) -> Estimate | None:
    """How many minutes each may shower with what there is."""
    flow, people = t.one("rate"), t.total("people")
    change = _change(t, tank, False)
    by_minute = flow is not None and (flow.per in ("min", "s") or flow.unit in _MINUTELY)
    if (
        flow is None
        or not by_minute
        or not flow.value
        or not people
        or change is None
        or not change[0]
        or change[0] < 0
    ):
        return None
    tank.assume()
    minutes = change[0] / people / flow.value * 60
    line = f"{shown(change[0])} gal ÷ {shown(people)} ÷ {shown(flow.value / 60)} gal a minute = {shown(minutes)} min"
    return _done("each may shower", minutes, "min", t, (line,))


def _mended(t: Told, tank: _Tank, hourly: float, line: str) -> tuple[float, str] | None:
    """The flow with what flows besides it or against it, and the share of the time in which it flows."""
    hoses, duty = t.value("hoses") or 1.0, t.value("duty") or 1.0
    first = t.roles["rate"][0] if t.has("rate") else None
    total = hourly * hoses * duty
    for term in t.all("second"):
        bare = term.kind == "n"
        if bare and (first is None or not first.amount.value):
            return None
        total += hourly * term.value / first.amount.value if bare and first else per_hour(term)
    against = t.one("against")
    if against is not None:
        total -= per_hour(against) * (tank.capacity if against.kind == "share/time" else 1.0)
        tank.used_capacity = tank.used_capacity or against.kind == "share/time"
    if total <= 0:
        return None
    return (total, line) if total == hourly else (total, f"{line}; together {shown(total)} gal an hour")


_TO_FULL = Lazy(r"\b(?:to|till|until) (?:full|the top|the brim)\b|\bto fill\b|\bfull in\b")


def _filled_at(t: Told, tank: _Tank) -> Estimate | None:
    """The flow that fills a tank in a time."""
    if t.has("before", "level") or t.has("elapsed", "needed"):
        return None
    level = t.one("before") or t.one("level")
    hours = t.value("elapsed") or _needed(t)
    parts = [tank.gallons(term, flows=True) for term in t.all("add")]
    put = sum(part or 0.0 for part in parts) if parts else None
    if None in parts:
        return None
    goal = t.one("target")
    top = tank.capacity if goal is None else tank.gallons(goal)
    if put is not None and not _FILLING.search(t.question.frame):
        t.doubt += 2.0  # "went from 320 to 260 litres" puts nothing in
    inside = 0.0 if level is None else tank.gallons(level)
    if inside is None or top is None or not hours or inside >= top or (put is not None and level is not None):
        return None
    if put is None:
        tank.used_capacity = tank.used_capacity or goal is None
        tank.assume()
    factor, span = _IN_H[t.want.rate]
    went = top - inside if put is None else put
    flow = went / hours * factor
    line = f"{shown(went)} gal ÷ {shown(hours)} h = {shown(flow)} gal {span}"
    return _done("flow", flow, _RATES[t.want.rate], t, (line,))


def _standing(t: Told, tank: _Tank) -> Estimate | None:
    """What is in a tank, or what still goes in, when nothing flows."""
    term = t.one("level")
    if term is not None and t.has("before"):
        return _changed(t, tank, term)
    if term is None or t.want.kind not in ("volume", "share", "") or t.has("needed", "people"):
        return None
    inside = tank.gallons(term)
    if inside is not None and t.has("add") and not t.has("target") and not tank.waste:
        return _to_have(t, tank, inside)
    goal = t.value("target")
    if inside is None or inside > tank.capacity:
        return None
    own = abs(tank.height - t.coach.tank(tank.name).depth_in) < 0.1
    if term.kind == "length" and (_DOWN.search(term.around) or not (own or tank.said or t.want.kind == "share")):
        return None  # told from the top, or in another tank, whose size is not said
    tank.assume()
    if _ROOM.search(t.question.frame) or _MORE.search(t.question.frame):
        top = tank.capacity if goal is None else goal * tank.capacity if goal <= 1 else goal
        room = top - inside
        tank.used_capacity = True
        return _done("room", room, "gal", t, (f"{shown(top)} - {shown(inside)} gal = {shown(room)} gal",)) if room > 0 else None  # fmt: skip
    if goal is not None:
        return None
    if t.want.kind == "volume" and term.kind in ("share", "length"):
        share = 100 * inside / tank.capacity
        return _done("in the tank", inside, "gal", t, (f"{shown(share, 3)} % of {shown(tank.capacity)} gal = {shown(inside)} gal",))  # fmt: skip
    if t.want.kind == "share" and term.kind in ("volume", "length"):
        share = 100 * inside / tank.capacity
        return _done("full", share, "percent", t, (f"{shown(inside)} ÷ {shown(tank.capacity)} gal = {shown(share, 3)} %",))  # fmt: skip
    return None


_DOWN = Lazy(r"# (?:\w+ )?(?:from|off|below|under|shy of|down)\b|\bdown # ")
_MISSING = Lazy(r"\bhow (?:much|many (?:more )?(?:gallons|liters|litres)) (?:\w+ ){0,2}?(?:more|extra|do|must|should|to put|need|short)\b|\b(?:need|needed|short)\b")  # fmt: skip
_WANTS = Lazy(r"\b(?:need|needs|want|wants|have to have|must have|use|using) (?:[a-z]+ ){0,3}?# ")
_MOVED = Lazy(
    r"\b(?:went|gone|came|come|put|poured|added|add|used|use|lost|gained|flowed|ran|run|drained|taken|took|increase|between)\b"
)


def _to_have(t: Told, tank: _Tank, inside: float) -> Estimate | None:
    """What is still to be put in for what will be needed."""
    parts = t.all("add")
    if len(parts) != 1 or not _WANTS.search(parts[0].around) or not _MISSING.search(t.question.frame):
        return None
    missing = parts[0].value - inside
    tank.assume()
    line = f"{shown(parts[0].value)} - {shown(inside)} gal = {shown(missing)} gal"
    if missing <= 0:
        return _done("still to be put in", 0.0, "gal", t, (line,), f"Nothing more: {shown(inside)} gallons are in it.", figure("to spare", -missing, "gal"))  # fmt: skip
    over = "" if parts[0].value <= tank.capacity else "That is more than the tank holds."
    return _done("still to be put in", missing, "gal", t, (line,), over, figure("in it now", inside, "gal"))


def _changed(t: Told, tank: _Tank, last: Term) -> Estimate | None:
    """What went in or out between two readings of one tank, when no time is told with them."""
    first = t.one("before")
    if first is None or t.want.kind not in ("volume", "") or t.want.rate or not _MOVED.search(t.question.frame):
        return None
    a, b = tank.gallons(first), tank.gallons(last)
    if a is None or b is None or (first.kind != last.kind and "n" not in (first.kind, last.kind)):
        return None
    if t.has("elapsed", "needed"):
        return None
    t.all("elapsed"), t.all("needed")
    tank.assume()
    return _done("went in" if b > a else "went out", abs(b - a), "gal", t, (f"{shown(max(a, b))} - {shown(min(a, b))} gal = {shown(abs(b - a))} gal",))  # fmt: skip


_EVERY = Lazy(r"\b(?:every|each|per) (hour|day|minute|night) (?:\w+ ){0,5}?# ")


_BY_HEADS = Lazy(r"<people> (?:[a-z]+ ){0,3}?# |# <people>|\b(?:each|apiece|everybody|everyone)\b")


def _used(t: Told, tank: _Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour that those aboard use, with the working."""
    use, people = t.one("use"), t.total("people")
    beside = t.one("rate") if t.has("rate") else None
    if beside is not None and (beside.kind != "volume/time" or beside.per in ("min", "s") or beside.unit in _MINUTELY):
        return None
    if use is not None and not use.each and use.per == "h" and not _BY_HEADS.search(use.around):
        return None  # so much an hour, told apart from the people, is what all of them use
    if use is None or people is None or t.has("bucket") or use.per in ("min", "s") or use.unit in _MINUTELY:
        return None  # nobody is told to use so much a minute: that is a hose
    hourly = people * per_hour(use) * (tank.factor if use.kind == "n/time" else 1.0)
    if beside is not None:  # a leak, or the galley, on top of what each uses
        both = hourly + per_hour(beside)
        return both, f"{shown(hourly)} + {shown(per_hour(beside))} gal an hour = {shown(both)} gal an hour", False
    return hourly, f"{shown(people)} x {_told(use)} = {shown(_per(use, hourly))} gal {_span(use)}", False


def _rate(t: Told, tank: _Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour with the working, and whether it is a hose."""
    if t.has("use"):
        return _used(t, tank)
    if t.has("rate"):
        rate = t.one("rate")
        if rate is None or t.has("bucket"):
            return None
        if rate.per in ("min", "s") or rate.unit in _MINUTELY:
            if all(one.kind == "people" for one in t.roles.get("people", [])):
                t.all("people")  # who is aboard changes nothing about a hose
        if rate.kind == "volume/time" and any(x.kind == "people" for x in t.roles.get("beside", [])):
            t.doubt += 1.0
        if rate.kind == "n/time" and not tank.bare and not _FILLING.search(t.question.frame) and not t.has("level"):
            return None
        if rate.kind == "length/time":
            if tank.shape != "rectangular":
                return None
            tank.used_capacity = True
            hourly = rate.value / tank.height * tank.capacity
            return (
                hourly,
                f"{shown(rate.value)} in an hour of {shown(tank.height)} in = {shown(hourly)} gal an hour",
                False,
            )
        share = rate.kind == "share/time" or (
            rate.kind == "n/time" and tank.bare == "share" and rate.per in ("h", "day")
        )
        if rate.kind == "n/time" and tank.bare == "length":
            return None
        plain = tank.factor if rate.kind == "n/time" else 1.0
        hourly = per_hour(rate) * (tank.capacity / (100 if rate.kind == "n/time" else 1) if share else plain)
        tank.used_capacity = tank.used_capacity or share
        return (
            hourly,
            f"{shown(_per(rate, hourly))} gal {_span(rate)}",
            rate.per in ("min", "s") or rate.unit in _MINUTELY,
        )
    if t.has("bucket", "bucket_time"):
        size, took = t.value("bucket"), t.value("bucket_time")
        if not size or not took:
            return None
        return (
            size / took,
            f"{shown(size)} gal in {shown(took * 3600)} s = {shown(size / took / 60)} gal a minute",
            True,
        )
    if t.has("moved") and not t.has("elapsed") and (span := _EVERY.search(t.roles["moved"][0].around)):
        moved_by = t.one("moved")
        gallons = None if moved_by is None else tank.gallons(moved_by)
        factor, name = _IN_H[{"hour": "h", "day": "day", "minute": "min", "night": "day"}[span[1]]]
        return None if not gallons else (gallons / factor, f"{shown(gallons)} gal {name}", name == "a minute")
    if t.has("moved", "elapsed"):
        moved_by, hours = t.one("moved"), t.value("elapsed")
        gallons = None if moved_by is None else tank.gallons(moved_by)
        if not gallons or not hours:
            return None
        return (
            gallons / hours,
            f"{shown(gallons)} gal in {shown(hours)} h = {shown(gallons / hours)} gal an hour",
            False,
        )
    if t.has("before", "level") and (t.has("elapsed") or t.has("clock_before", "now")):
        return _between(t, tank)
    return None


def _between(t: Told, tank: _Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour from two readings."""
    first, last = t.one("before"), t.one("level")
    if first is None or last is None or first.kind != last.kind and "n" not in (first.kind, last.kind):
        return None
    hours = t.value("elapsed")
    if hours is None:
        start, end = t.one("clock_before"), t.one("now")
        forward = _place(t, "before") < _place(t, "level")
        alike = (_place(t, "clock_before") < _place(t, "now")) is forward
        beside = _AT_CLOCK.search(first.around)  # "88, down from a hundred at seven, its eleven now"
        if start is None or end is None or not (alike or beside or _READ_NOW.search(last.around)):
            return None
        hours = hours_until(start.amount, end.amount)
    a, b = tank.gallons(first), tank.gallons(last)
    if a is None or b is None or not hours:
        return None
    if tank.waste and a > b and _DRAINING.search(t.question.frame):
        tank.rising, tank.dumped = False, True
        a, b = b, a
    goal = _first_in(t, tank, "target")
    filled = _FILLING.search(t.question.frame) or FULL_ASKED.search(t.question.frame) or (goal is not None and goal > b)  # fmt: skip
    moved = b - a if tank.waste or (filled and b > a) else a - b
    if moved <= 0:
        return None
    return (
        moved / hours,
        f"{shown(moved)} gal in {shown(hours)} h = {shown(moved / hours)} gal an hour",
        b > a and not tank.waste,
    )


_AT_CLOCK = Lazy(r"\b(?:down|up) from # (?:full |percent )?at <clock>")
_READ_NOW = Lazy(r"# (?:\w+ ){0,3}?now\b|\bnow (?:(?:it|is|at|reads|the \w+) ){0,3}# ")
"""Such a level belongs to the time it is, wherever the two times stand."""


_IN_H = {"h": (1.0, "an hour"), "day": (24.0, "a day"), "min": (1 / 60, "a minute")}


_RATES = {"h": "gal/h", "day": "gal/day", "min": "gal/min"}


_DUMPED_IN_H = 1.0
"""A waste tank that is emptied in less is dumped, not used up."""


def _clock_now(t: Told) -> float | None:
    """The hour it is: "two" after "seven this morning" is in the afternoon."""
    now = t.value("now")
    if (
        now is None
        or not t.has("clock_before")
        or (t.roles["now"][0].kind == "clock" and not t.roles["now"][0].amount.pieces)
    ):
        return now
    before = t.roles["clock_before"][0]
    passed = hours_until(before.amount, t.roles["now"][0].amount)
    return now if passed is None else (before.value + passed) % 24


def _needed(t: Told) -> float | None:
    """Hours it has to last: told as such, or until a deadline from now; None when neither was told."""
    needed = t.value("needed")
    if needed is not None or not t.has("deadline"):
        return needed
    start, end = t.value("now"), t.one("deadline")
    begin = Amount(t.now.hour + t.now.minute / 60, "clock") if start is None else t.roles["now"][0].amount
    return None if end is None else hours_until(begin, end.amount)


def _inverse(t: Told, tank: _Tank) -> Estimate | None:
    """How many people a level is enough for, or how much may be used in a time, so that it lasts."""
    needed = _needed(t)
    if tank.waste and needed and needed < _DUMPED_IN_H and _DRAINING.search(t.question.frame):
        tank.rising = False
    change = _change(t, tank, False)
    if change is None or not change[0] or change[0] < 0 or not needed or t.has("rate"):
        return None
    gallons = change[0]
    tank.assume()
    if t.want.kind == "people":
        use = t.one("use")
        if use is None or not use.value:
            return None
        people = gallons / (per_hour(use) * needed)
        line = f"{shown(gallons)} gal ÷ ({_told(use)} {_span(use)} x {shown(needed)} h) = {shown(people)}"
        return _done("people it is enough for", float(int(people + 1e-9)), "persons", t, (line,))
    factor, span = _IN_H[t.want.rate]
    aboard = t.total("people")
    total = gallons / needed * factor
    work = (f"{shown(gallons)} gal ÷ {shown(needed)} h = {shown(total)} gal {span}",)
    if aboard:
        each = total / aboard
        return _done("each may use", each, _RATES[t.want.rate], t, (*work, f"÷ {shown(aboard)} = {shown(each)} gal each"), f"{shown(each)} gallons each {span}.", figure("all together", total, _RATES[t.want.rate]), figure("each", each, "gal"))  # fmt: skip
    return _done("flow", total, _RATES[t.want.rate], t, work)


def _place(t: Told, name: str) -> int:
    return t.roles[name][0].amount.start


def _told(term: Term) -> str:
    return f"{shown(term.amount.value)} gal"


def _span(term: Term) -> str:
    return {"h": "an hour", "day": "a day", "min": "a minute", "week": "a week", "s": "a second"}.get(term.per, "a minute" if term.unit in _MINUTELY else "an hour")  # fmt: skip


def _per(term: Term, hourly: float) -> float:
    return hourly * {"h": 1.0, "day": 24.0, "min": 1 / 60, "week": 168.0, "s": 1 / 3600}.get(term.per, 1 / 60 if term.unit in _MINUTELY else 1.0)  # fmt: skip


_STARTS_FULL = Lazy(r"\b(?:full (?:fresh|clean|water|tank)|(?:tank|fresh|water)(?: tank)? (?:is )?(?:brim )?full|starts? full|with a full|topped (?:off|up))\b(?! in| by| at)")  # fmt: skip
_STARTS_EMPTY = Lazy(r"\b(?:from (?:bone |dead )?(?:empty|dry|scratch|zero)|(?:is|was|just|tank) (?:bone )?(?:empty|dry|dumped|emptied)|empty (?:waste|tank|fresh|black|(?:\w+ )?<gal> tank))\b")  # fmt: skip
_EMPTY_NOW = Lazy(r"\b(?:an empty|empty now|now empty|starts? empty|starting empty|it is empty and|just (?:been )?(?:dumped|emptied))\b|\bempty (?:\w+ )?<(?:gal|L)>")  # fmt: skip
_ASKED_END = Lazy(r"\b(?:till|until|to|before|when|how long|when is|when it|time to|hours to|runs?) (?:\w+ ){0,4}?(?:is |it )?(?:full|empty|dry)\b")  # fmt: skip


_AND = Lazy(r"\b(?:another|plus|and|then)(?: \w+)? # ")
_INSIDE = Lazy(
    r"# (?:\w+ ){0,2}?(?:in|already|now|left|aboard)\b|\b(?:has|have|had|got|at|is|reads?|with|from|holding) (?:about |only )?# "
)


def _change(t: Told, tank: _Tank, filling: bool) -> tuple[float | None, str] | None:
    """The gallons that flow until the end, and what the end is; (None, "") when no level was told; None when it fits nothing."""
    frame = t.question.frame
    rising = (tank.waste and tank.rising) or filling
    if t.has("room"):
        room = t.one("room")
        return None if room is None or t.has("level") else (tank.gallons(room), "full")
    level = None
    if t.has("level"):
        term = t.one("level")
        level = None if term is None else tank.gallons(term)
        if term is None or level is None or (rising and level and _EMPTY_NOW.search(frame)):
            return None
        if filling and term.kind == "volume" and not _INSIDE.search(term.around):
            t.doubt += 2.0  # "fill 75 gallons" is what goes in, not what is in already
    elif rising and (_STARTS_EMPTY.search(frame) or _EMPTY_NOW.search(frame)):
        level = 0.0
    elif _STARTS_FULL.search(frame) and not rising:
        level, tank.used_capacity = tank.capacity, True
    if t.has("add"):
        parts = t.all("add")
        if level is not None or t.has("target", "capacity") or (tank.rising and not filling):
            return None
        if t.want.kind != "time" and not (
            t.want.judged and any(name in t.roles for name in ("needed", "elapsed", "deadline"))
        ):
            return None
        if any(not _AND.search(term.around) for term in parts[1:]):
            return None
        put = [tank.gallons(term, flows=True) for term in parts]
        return None if any(one is None for one in put) else (sum(one or 0.0 for one in put), "in")
    goal = t.one("target") or t.one("reserve")
    end = None if goal is None else tank.gallons(goal)
    if goal is not None and end is None:
        return None
    if level is None:
        if t.want.kind == "time" and filling and goal is None and t.has("capacity"):
            tank.used_capacity = True
            return tank.capacity, "full"
        return (None, "") if goal is None else None
    if rising:
        tank.used_capacity = tank.used_capacity or end is None
        return (end if end is not None else tank.capacity) - level, _goal(goal, "full")
    if goal is not None and goal in t.roles.get("target", []) and filling:
        return None
    return level - (end or 0.0), _goal(goal, "empty")


def _goal(goal: Term | None, otherwise: str) -> str:
    if goal is None:
        return otherwise
    return f"at {shown(100 * goal.value, 3)} %" if goal.kind == "share" else f"at {shown(goal.value)}"


def _time(t: Told, tank: _Tank, gallons: float, goal: str, hourly: float, line: str, needed: float | None, filling: bool) -> Estimate | None:  # fmt: skip
    if hourly <= 0 or t.want.kind in ("times", "people"):
        return None
    tank.assume()
    now = _clock_now(t)
    if gallons <= 0:
        return None  # it is past: likelier an amount was taken for another
    hours = gallons / hourly - (t.value("early") or 0.0)
    if hours <= 0:
        return None  # that hour is past
    work = (line, f"{shown(gallons)} gal ÷ {shown(hourly)} gal an hour = {shown(hours)} h")
    if needed is not None and tank.waste and _TO_DUMP.search(t.question.frame):
        much = hourly * needed - gallons
        lines = (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(hourly * needed)} gal", f"- {shown(gallons)} gal of room = {shown(much)} gal")  # fmt: skip
        return _done("to be dumped", max(0.0, much), "gal", t, lines, "" if much > 0 else "Nothing: there is room enough.")  # fmt: skip
    if needed is not None:
        if t.want.kind in ("", "volume") and not t.want.judged and _USED.search(t.question.frame):
            used, over = hourly * needed, "" if hours >= needed else "There is not as much."
            return _done("flows in that time", used, "gal", t, (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(used)} gal"), over, figure("lasts", hours, "h"))  # fmt: skip
        if t.want.kind == "" and not t.want.judged and not t.want.difference and goal in ("full", "empty") and _THEN.search(t.question.frame):  # fmt: skip
            return _level_then(t, tank, tank.capacity - gallons if goal == "full" else gallons, hourly, line, needed, filling)  # fmt: skip
        if t.want.kind == "volume" and (filling or tank.waste) and goal == "full" and _IN_IT.search(t.question.frame):
            return _level_then(t, tank, tank.capacity - gallons, hourly, line, needed, filling)
        if t.want.kind == "share":
            if goal not in ("full", "empty"):
                return None
            inside = tank.capacity - gallons if goal == "full" else gallons
            then = inside + (hourly if tank.waste or filling else -hourly) * needed
            share = 100 * then / tank.capacity
            moved = f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(hourly * needed)} gal"
            over = "That is more than full." if share > 100 else "It is empty before." if share < 0 else ""
            return _done("full then", share, "percent", t, (line, moved, f"{shown(then)} ÷ {shown(tank.capacity)} gal = {shown(share, 3)} %"), over, figure("in the tank then", then, "gal"))  # fmt: skip
        if t.want.kind == "volume" or t.want.difference:
            left = gallons - hourly * needed
            word = "left over" if left >= 0 else "short"
            used = hourly * needed
            return _done(
                word, abs(left), "gal", t,
                (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(used)} gal", f"{shown(gallons)} - {shown(used)} = {shown(left)} gal"),
                f"{'Yes' if (left >= 0) is not asks_end(t.question, tank.waste) else 'No'}, {'with ' if left >= 0 else ''}{shown(abs(left))} gallons {'to spare' if left >= 0 else 'short'}.",
                figure("flows in that time", used, "gal"), figure("lasts", hours, "h"),
            )  # fmt: skip
        enough = hours <= needed if filling or tank.dumped else hours >= needed
        verdict = _judged(t, enough, hours, needed, filling or tank.dumped, tank.waste)
        return _done("lasts", hours, "h", t, work, verdict, figure("flows in that time", hourly * needed, "gal"), figure("needed", needed, "h"))  # fmt: skip
    if t.want.kind != "time" and (t.want.kind or _THEN.search(t.question.frame)):
        return None
    word = {"empty": "lasts", "full": "until it is full"}.get(goal, f"until it is {goal}")
    verdict = ""
    if t.want.clock or now is not None:
        start = t.now if now is None else t.now.replace(hour=int(now) % 24, minute=round(now % 1 * 60) % 60)
        verdict = at_clock(start, hours)
    minutes = filling and t.want.unit in ("", "min")
    also = (figure("days", hours / 24, "days"),) if not minutes else ()
    return _done("filling takes" if minutes else word, hours * 60 if minutes else hours, "min" if minutes else "h", t, work, verdict, *also)  # fmt: skip


_USED = Lazy(
    r"\bhow (?:much|many (?:gallons|liters|litres))(?: of it| water)? (?:will|do|would|are|is|get|gets) (?:\w+ ){0,2}?(?:use|used|using|go through|going through|put in|putting in|drink|drunk)\b"
)
_TO_DUMP = Lazy(r"\bhow (?:much|many gallons) (?:\w+ ){0,4}?(?:dump|empty|let out|drain|pump out)\b")
FEARED = Lazy(
    r"\b(?:do|will|would|does|are|is|am) (?:we|i|it|she|he|they|you|(?:the|our|my) \w+(?: tank)?)(?: going to)? (?:run(?:ning)? (?:dry|out|short|low)|be (?:dry|empty|out)|go dry|overflow|fill up|be full|full|empty|dry)\b"
    r"|(?<!not )(?<!never )\bgoing to (?:run (?:dry|out|short|low)|be (?:dry|empty|out|short)|go (?:dry|over(?! to\b))|overflow|spill)\b"
)
"""Asks whether what nobody wants comes before: the yes and the no change places."""
_ASKED_OF = r"\b(?:will|would|does|do|is|are|am|can|could|has|have|gonna)\b(?:(?!\b(?:last|lasts|hold|make|stays?|still|enough|keep|cover|ok|okay|good|fine|safe|alright|not|never|without|how|when|what|or|fits?)\b)(?:[^,.?<]|<(?:gal|L)> (?=(?:\w+ )?tank))){0,40}?"
_THE_AMOUNT = r" (?:(?:the|about|our|my|a) ){0,2}<(?:gal|L|percent|part|in|n)>"
_RISEN = Lazy(
    rf"{_ASKED_OF}\b(?:overflow\w*|spill\w*|(?:run(?:ning)?|go(?:es)?) over(?! to\b)|(?:reach\w*|hits?|pass(?:es)?|past|over|above|beyond|be at|gets? to|up to){_THE_AMOUNT})"
)
_FALLEN = Lazy(
    rf"{_ASKED_OF}\b(?:run (?:out|dry|short)|be (?:out|dry|gone|short)|(?:reach\w*|hits?|under|below|down to|be at|gets? to){_THE_AMOUNT})"
)
_TOO_MUCH = Lazy(r"\b(?:is|are|was|be) (?:\w+ ){0,3}?too (?:much|many|long)\b")
_LEFT_ON = Lazy(
    r"\bleave (?:it|her|the \w+)(?: \w+)? on\b|\bwalk away\b|\bwill (?:it|that|the \w+) (?:hold|fit)\b|\broom for\b"
)
_WITHOUT = Lazy(r"\bwithout (?:\w+ ){0,2}?(?:overflow\w*|spill\w*|running over|going over)\b")


def asks_end(question: Question, rising: bool) -> bool:
    """Whether it is asked if a tank comes so far: that it overflows, passes a limit, runs dry; not if it lasts, or stays under it."""
    found = (pattern.search(question.frame) for pattern in (FEARED, _TOO_MUCH, _RISEN if rising else _FALLEN))
    return any(one is not None and not question.frame[: one.start()].endswith(" or ") for one in found)


def verdict_of(question: Question, enough: bool, hours: float, needed: float, filling: bool, feared: bool = False) -> str:  # fmt: skip
    """The yes or no, with both times."""
    times = f"{duration(hours)} against {duration(needed)}"
    if not filling and (feared or asks_end(question, False)):
        return f"{'No, it lasts' if enough else 'Yes, it does not last'}: {times}."
    return f"{'Yes, it lasts' if enough and not filling else 'Yes' if enough else 'No'}: {times}."


def _judged(t: Told, enough: bool, hours: float, needed: float, filling: bool, waste: bool) -> str:
    start, frame = t.value("now") if t.has("now") else None, t.question.frame
    left_on = _LEFT_ON.search(frame) and not (asks_end(t.question, True) or re.search(r"\b(?:full|done)\b", frame))
    if filling and (_WITHOUT.search(frame) or left_on):
        enough = not enough  # whether a hose may be on so long
    verdict = verdict_of(t.question, enough, hours, needed, filling, asks_end(t.question, waste))
    if filling and start is not None:
        return f"{verdict} Done at {_clock(start + hours)}."
    if t.want.kind != "time" or not t.want.clock:
        return verdict
    begin = t.now if start is None else t.now.replace(hour=int(start) % 24, minute=round(start % 1 * 60) % 60)
    return f"{verdict} {at_clock(begin, hours)}"


def _clock(hour: float) -> str:
    minutes = round(hour * 60) % (24 * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


_THEN = Lazy(
    r"\b(?:what|how (?:much|full|many))\b.*\b(?:will|would|have|be|is|in|after|then|left)\b|\bwhere (?:will|would|is)\b|\bwhat (?:is|does)\b"
)
_IN_IT = Lazy(r"\b(?:will|would) (?:be|there be|it (?:be|have|hold)|i have|we have)\b|\bin (?:it|the tank|there)\b|\bdo (?:i|we) have\b|\bend up\b")  # fmt: skip


def _level_then(t: Told, tank: _Tank, inside: float, hourly: float, line: str, needed: float, filling: bool) -> Estimate:  # fmt: skip
    """What is in the tank after a time; in percent when it was told so."""
    rising = filling or tank.waste
    moved = hourly * needed
    then = inside + moved if rising else inside - moved
    tank.used_capacity = True
    tank.assume()
    work = (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(moved)} gal", f"{shown(inside)} {'+' if rising else '-'} {shown(moved)} = {shown(then)} gal")  # fmt: skip
    over = ""
    if then > tank.capacity:
        over = f"It is full before, {shown(then - tank.capacity)} gallons too many."
        then = tank.capacity
    elif then < 0:
        over = f"It is empty before, {shown(-then)} gallons short."
        then = 0.0
    share = 100 * then / tank.capacity
    told = {term.kind for name in ("level", "before") for term in t.roles.get(name, [])} - {"n"}
    if told == {"share"} and t.want.kind == "" and not filling:
        return _done("full then", share, "percent", t, work, over, figure("in the tank then", then, "gal"))
    return _done("in the tank then", then, "gal", t, work, over, figure("full then", share, "percent"), figure("flows in that time", moved, "gal"))  # fmt: skip


def _amount_in(t: Told, tank: _Tank, hourly: float, line: str, needed: float | None, filling: bool) -> Estimate | None:
    """What flows in a time that was told."""
    hours = t.value("elapsed") if needed is None and filling else needed
    if hours is None or t.want.kind not in ("volume", "", "share"):
        return None
    total = hourly * hours
    if t.want.kind == "share":
        tank.used_capacity = True
        tank.assume()
        line = f"{shown(total)} ÷ {shown(tank.capacity)} gal = {shown(100 * total / tank.capacity, 3)} %"
        return _done("of the tank", 100 * total / tank.capacity, "percent", t, (line,), "", figure("gallons", total, "gal"))  # fmt: skip
    work = (line, f"{shown(hourly)} gal an hour x {shown(hours)} h = {shown(total)} gal")
    return _fits(t, tank, total, work) if t.has("capacity") else _done("flows in that time", total, "gal", t, work)


def _for_a_day(t: Told, tank: _Tank) -> Estimate | None:
    """ "Sixty gallons for 25 people for a day at two gallons apiece": the share is for the one day that is told."""
    people, each, day = t.total("people"), t.value("per_event"), t.one("needed")
    if people is None or each is None or day is None or day.unit not in ("day", "night") or day.amount.value != 1:
        return None
    change = _change(t, tank, False)
    if change is None:
        return None
    total = people * each
    line = f"{shown(people)} x {shown(each)} gal = {shown(total)} gal a day"
    if change[0] is None:
        return _done("flows in that time", total, "gal", t, (line,)) if t.want.kind in ("volume", "") else None
    return _time(t, tank, change[0], change[1], total / 24, line, 24.0, False)


_DAILY = Lazy(r"\b(?:times|flushes|showers|trips) (?:a|per|each|every) day\b|\bdaily\b")


def _how_many(t: Told, tank: _Tank, each: float, work: tuple[str, ...]) -> Estimate | None:
    """How many showers there is water for, or how many flushes still fit."""
    if t.has("people" if t.want.kind == "people" else "times"):
        return None
    have = _stock(t, tank)
    if have is None or have <= 0 or not each:
        return None
    tank.assume()
    count = have / each
    line = f"{shown(have)} gal ÷ {shown(each)} gal = {shown(count)}"
    return _done(
        f"{t.want.unit} it is enough for",
        float(int(count + 1e-9)),
        "persons" if t.want.kind == "people" else t.want.unit,
        t,
        (*work, line),
    )


def _stock(t: Told, tank: _Tank) -> float | None:
    """The water there is to use, or the room there is for it; None when neither was told."""
    frame = t.question.frame
    if t.has("room"):
        return tank.gallons(t.roles["room"][0]) if t.one("room") else None
    goal = t.one("reserve") or t.one("target")
    kept = None if goal is None else tank.gallons(goal)
    level = t.one("level")
    inside = None if level is None else tank.gallons(level)
    if (level is not None and inside is None) or (goal is not None and kept is None):
        return None
    if inside is None and (tank.waste and (_STARTS_EMPTY.search(frame) or _EMPTY_NOW.search(frame))):
        inside = 0.0
    elif inside is None and (t.has("capacity") or _STARTS_FULL.search(frame)):
        inside, tank.used_capacity = 0.0 if tank.waste else tank.capacity, True
    if inside is None:
        return None
    tank.used_capacity = tank.used_capacity or (tank.waste and kept is None)
    return (tank.capacity if kept is None else kept) - inside if tank.waste else inside - (kept or 0.0)


_AGAIN = Lazy(r"\b(?:twice|once)\b")


_ONE_EACH = Lazy(r"\b(?:showers?|showering|each|apiece|per|every|rinse|rinses|wash\w*|a head)\b|/each>")


def _events(t: Told, tank: _Tank) -> Estimate | None:
    """People x times x amount: what flushes and showers come to."""
    people = t.total("people") if t.has("people") else 1.0
    if t.has("use") or (t.has("rate") and not t.has("minutes_each")):
        return None
    if not (t.has("people") or t.has("times") or t.want.kind in ("times", "people")):
        return None
    bare = [term for name in ("per_event",) for term in t.roles.get(name, []) if term.kind == "n"]
    if any(
        not (t.want.kind in ("people", "times") and term.each and term in t.roles.get("per_event", [])) for term in bare
    ):
        return None
    times = t.one("times")
    again = {"twice": 2.0, "once": 1.0}.get(next(iter(_AGAIN.findall(t.question.frame)), ""), 0.0)
    if again and times is not None:
        return None
    count = again or 1.0 if times is None else 24 * per_hour(times) if times.per else times.value
    if t.has("minutes_each"):
        if not _ONE_EACH.search(t.question.frame):
            return None
        flow, minutes = t.one("rate"), t.value("minutes_each")
        if flow is None or minutes is None or not (flow.per in ("min", "s") or flow.unit in _MINUTELY):
            return None
        each = flow.value * minutes
        line = f"{shown(minutes * 60)} min x {shown(flow.value / 60)} gal a minute = {shown(each)} gal each"
    else:
        term = t.one("per_event")
        if term is None:
            return None
        each, line = term.value, ""
    if people is None:
        return None
    daily = _DAILY.search(t.question.frame) is not None or (times is not None and times.per in ("day", "h"))
    needed = _needed(t)
    if daily and (t.want.kind == "time" or needed is not None):
        hourly = people * count * each / 24
        told = f"{shown(people)} x {shown(count)} x {shown(each)} gal = {shown(24 * hourly)} gal a day"
        change = _change(t, tank, False)
        if change is None:
            return None
        if change[0] is None:
            return _amount_in(t, tank, hourly, told, needed, False)
        return _time(t, tank, change[0], change[1], hourly, told, needed, False)
    total = people * count * each
    parts = [shown(n) for n in (people, count) if n != 1]
    work = (*((line,) if line else ()), f"{' x '.join((*parts, shown(each)))} gal = {shown(total)} gal")
    if t.want.kind in ("times", "people"):
        return _how_many(t, tank, total, work)
    if t.want.kind not in ("volume", ""):
        return None
    return _fits(t, tank, total, work)


def _fits(t: Told, tank: _Tank, total: float, work: tuple[str, ...]) -> Estimate | None:
    """A total beside the room or the water there is for it."""
    have = _stock(t, tank)
    then: tuple[Figure, ...] = ()
    if have is None and any(name in t.roles for name in ("level", "room", "reserve", "target")):
        return None
    if have is None:
        return _done("comes to", total, "gal", t, work)
    if tank.waste and t.has("level"):
        inside = tank.gallons(t.roles["level"][0])
        then = () if inside is None else (figure("in the tank then", inside + total, "gal"),)
    tank.assume()
    fits = total <= have
    over = abs(total - have)
    yes = fits is not asks_end(t.question, tank.waste)
    verdict = f"{'Yes' if yes else 'No'}: {shown(total)} gallons against {shown(have)}, {shown(over)} {'to spare' if fits else ('over' if tank.waste else 'short')}."  # fmt: skip
    if t.want.difference or _LEFT.search(t.question.frame):
        return _done("to spare" if fits else "short", over, "gal", t, work, verdict, figure("comes to", total, "gal"))
    if then and t.want.judged and t.want.kind == "":
        return _done("in the tank then", then[0].value, "gal", t, work, verdict, figure("comes to", total, "gal"))
    return _done(
        "comes to", total, "gal", t, work, verdict, figure("to spare" if fits else "short", over, "gal"), *then
    )


_LEFT = Lazy(
    r"\bhow (?:much|many gallons) (?:\w+ )?(?:is |are |do we have |have we got )?left\b|\bwhat (?:is |are )?left\b"
)


def _done(name: str, value: float, unit: str, t: Told, work: tuple[str, ...], verdict: str = "", *also: Figure) -> Estimate:  # fmt: skip
    return exact(name, value, unit, working=tuple(line for line in work if line), assumptions=tuple(t.assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


def _calculation(question: Question) -> str:
    if WASTE.search(question.frame) and not (FRESH.search(question.frame) and not _says_waste(question.frame)):
        return "waste-hours"
    return (
        "fill-time"
        if _FILLING.search(question.frame) or re.search(r"<(?:gpm|[^>]+/min)>", question.frame)
        else "fresh-hours"
    )


WATER = Family("water", _calculation, applies, ROLES, solve)
