"""What a calculation question wants: a length of time, a time of day, an amount and its unit, a yes or no.

A driver in a hurry writes the unit that is wanted and no more: "64 gal, 30 people, 1.5 each a day - hours". A unit that
belongs to no number is what is asked for, unless a word before it makes it a rate or a thing.
"""

from __future__ import annotations

from dataclasses import dataclass

from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, unit_phrases
from cabassist.language.lazy import Lazy
from cabassist.language.numbers import ONES, TEENS, TENS


@dataclass(frozen=True)
class Wanted:
    """What is to be told."""

    kind: str = ""
    """time, volume, mass, which, length, energy, power, share, strength, people, times, money or ""."""
    unit: str = ""
    """As it was said: gal, lb, h, ...; "" when none was."""
    rate: str = ""
    """h, day, min: an amount in that time is wanted."""
    judged: bool = False
    """Whether a yes or no is wanted as well: is it enough, does it fit."""
    difference: bool = False
    """Whether what is left, short or over is wanted."""
    clock: bool = False
    """Whether a time of day is wanted."""


_KINDS = {"ppm": "strength", "mg/L": "strength", "percent": "share", "F": "temperature", "C": "temperature"}
_NO_WANT = frozenset(
    "a an per each every the this that last next one another <n> his her our my same whole few some all last half".split()
)
"""Before a unit these make it part of a rate or of a span that is told, not what is wanted."""
_THINGS = frozenset("tank tanks bottle bottles cylinder cylinders bucket pail jug cord furnace each apiece a".split())
"""After a unit these make it describe a thing."""
_SMALL = frozenset({"s", "m", "in", "min", "h", "a", "c", "f", "l", "second", "bar", "bars", "night", "day", "week", "feet", "foot", "degree", "degrees", "deg", "drop", "drops", "cup", "ton", "mil", "nm", "meter", "metre", "seconds", "sec"})  # fmt: skip
"""Unit names that are other words too: they count only after "how many" or "in"."""
_ASKS_UNIT = frozenset("many manny much in of = > as total what what's whats which into to equals".split())
_LONG = Lazy(
    r"\bhow (?:long|soon|much (?:longer|time|more time))\b|\b(?:time|long) (?:to|till|until|left|before)\b|\bhow far off\b"
    r"|\bwhen (?:will|would|does|do|is|are|am|did|it|the|we|i)\b|\bwhen$|\btime $|\b(?:full|empty|dry) in $|\bburn time\b|\brun ?time\b"
)
_CLOCK = Lazy(
    r"\bwhat (?:time|hour|o ?' ?clock|oclock)\b|\bby (?:when|what)\b|\bwhen by\b|\b(?:latest|the clock)\b|\bwhen (?:do|does|must|should|will|would|is|are|it|the|we|i)\b|\bwhen $|\b(?:full|empty|dry|out|done) (?:at|by) $"
)
_JUDGED = Lazy(
    r"\b(?:enough|fit|fits|suffice|make it|makes it|last (?:us|till|until|the|through|for|<)|will (?:it|that|this|they) (?:all )?(?:last|do|hold|make|go in|fit)|will (?:\S+ ){1,3}(?:do|hold|last|fit|cover|carry)|hold (?:it|that|out|till|until|to)|get <(?:h|day|night)> (?:out of|from)|going to do it|gonna do it|cover it|keep up|feed|be done|run (?:dry|out)|be (?:full|dry|empty) (?:by|before)"
    r"|go in\b(?= $| ,)|all go\b|too (?:much|many|little)|overflow\w*|is (?:it|that) (?:ok|okay|legal|safe|alright|all right)|do us|see us|get us|run out before|okay|ok)\b"
)
_DIFFERENCE = Lazy(
    r"\bhow (?:much|many)(?: \w+){0,3} (?:over|under|short|left over|spare|extra)\b|\b(?:over|short|under) by\b|\bby how (?:much|many)\b|\bhow (?:much|many \w+) (?:over|short|under)\b"
    r"|\b(?:heavier|lighter)\b|\bleft over\b|\bhow (?:much|many gallons)(?: \w+){0,3} (?:take on|add|load|top up)\b|\bleaves? (?:us |me )?(?:what|how)\b|\bhow much (?:\w+ ){0,3}(?:left|remains?)\b|\bwhat (?:is |' s )?(?:left|remains)\b|\bto spare\b|\bdifference\b"
)
_HOURLY = Lazy(
    r"\b(?:what|whats|which)(?: is| was)?(?: the| our)?(?: hose| water)? (?:flow|rate)(?: rate)?(?: (?:an|per|a|each) (?:hour|day|minute))?|\b(?:hourly|daily) (?:rate|use|usage)\b|\brate (?:an|per|a) (?:hour|day)\b|[,.] rate $"
)
_QUANTITY = Lazy(
    r"\bhow (?:much|many|big)\b|\b(?:needed|required)\b|\btotal\b|\bhow full\b|\bhow deep\b|\bmost\b|\bmaximum\b|\bmax\b|\bwhat (?:is|'s|does|that|do|would)\b|\bwhat (?:' s |is |are )?(?:left|in (?:there|it))\b|^ bleach\b|\bwhat (?:will|would) (?:it|that|we|i|the \w+)\b|\bdose\b|\badd up\b|\bcome to\b"
)
_PEOPLE = Lazy(
    r"\bhow many (?:of )?(?:us|them|the \w+) (?:get|gets|can|could|may)\b|\b(?:how many (?:(?:more|<[^>]+>) ){0,2}|max(?:imum)? (?:number of )?)(?:people|persons|guys|boys|girls|lads|men|women|players|skaters|students|travell?ers|passengers|riders|kids|folks|heads|of us|showers|flushes|times|uses|bottles|cylinders|buckets|trips|furnaces|heaters)\b|\b(?:max(?:imum)?|biggest|largest|most) (?:head ?count|crew|group|party|team)\b|\bhead ?count (?:max(?:imum)?|limit)\b|\bhow (?:big|large) an? (?:crowd|crew|group|party|team|squad|bunch|headcount|head count|roster|load of people) "
)
_THINGS_EACH = Lazy(r"\b(?:showers?|flush\w*|uses|bags?|cases?|trunks?|loads?)\b")
_CARRIED = Lazy(
    r"\bhow many (?:can|could|may) (?:i|we|you|he|it|the coach) (?:let|carry|take|have|bring|allow|seat|get)\b"
)
_WORDS = (
    ("share", Lazy(r"\bhow full\b|\b(?:what|which) (?:percent|percentage|share|fraction)\b|\bpercent(?:age)? full\b|\bhow many percent\b")),
    ("length", Lazy(r"\bhow far (?:does|will|did|would) (?:it|that|the \w+) (?:drop|fall|rise|go (?:up|down)|come up)\b|\bhow (?:deep|high up|high is|high does|far down)\b|\bwhat depth\b|\bdepth (?:of|for|at)\b|\bwhat (?:mark|level) on the (?:stick|dipstick|tape)\b")),
    ("mass", Lazy(r"\bhow heavy\b|\bweigh(?:s|t)?\b|\bheavier\b|\blighter\b|\bhow much load\b")),
    ("strength", Lazy(r"\bhow strong\b|\bwhat (?:strength|concentration)\b")),
    ("power", Lazy(r"\bvapou?r\w* (?:rate|capacity)\b|\bbtus? (?:an|per) hour\b|\bhow much vapou?r\b")),
    ("energy", Lazy(r"\bhow much (?:heat|energy)\b|\b(?:heat|energy) (?:in|of) <")),
)  # fmt: skip


def implied(question: Question) -> Wanted | None:
    """What amounts without a question can only be told for: "80 gallons, 30 people, 1.5 each a day" asks how long."""
    amounts = question.amounts
    stock = any(one.unit in ("gal", "L", "lb", "kg") and not one.per and not one.each for one in amounts)
    shared = any(one.each and one.per for one in amounts) and any(one.unit == "people" for one in amounts)
    burned = any(one.unit in ("BTU", "BTU/h") for one in amounts) and any(one.unit in ("lb", "kg") for one in amounts)
    cold = any(one.unit in ("F", "C", "temp") for one in amounts)
    rated = [one for one in amounts if one.per in ("h", "day") and one.unit in ("gal", "L", "lb", "kg")]
    shared = shared or (len(amounts) == 2 and len(rated) == 1)
    return Wanted("time") if stock and (shared or burned) and not cold else None


def wanted(question: Question) -> Wanted | None:
    """What the question wants, or None when it wants nothing that can be told in numbers."""
    frame = _MEANWHILE.sub(r"\1 ", question.frame)
    judged, difference = _JUDGED.search(frame) is not None, _DIFFERENCE.search(frame) is not None
    clock = _CLOCK.search(frame) is not None
    unit, rate = bare_unit(question)
    rated = _RATED.search(frame)
    if unit in _FLOWS:
        unit, rate = _FLOWS[unit]
    elif rated and not rate and unit not in ("ppm", "mg/L", "F", "C"):
        rate = {"h": "h", "m": "min", "d": "day", "n": "day"}[rated["per"][0]]
        if not unit and not _TIME_TOO.search(frame):
            return Wanted("", "", rate, judged, difference)
        rate = rate if unit else ""
    if unit and not (clock and "what time" in frame):
        kind = _KINDS.get(unit) or FACTORS.get(unit, ("other",))[0]
        return Wanted(kind, unit, rate, judged, difference, clock)
    for kind, words in _WORDS:
        if words.search(frame):
            return Wanted(kind, "", "", judged, difference, clock)
    counted = _PEOPLE.search(frame)
    if counted is None and "/each>" in frame and not _THINGS_EACH.search(frame) and _CARRIED.search(frame):
        return Wanted("people", "people", "", judged, difference)
    if counted:
        if "head" in counted[0] or counted[0].split()[-1] in (
            "crew",
            "group",
            "party",
            "team",
            "crowd",
            "squad",
            "bunch",
            "headcount",
            "count",
            "roster",
            "people",
        ):
            return Wanted("people", "people", "", judged, difference)
        if " of " in counted[0] or counted[0].split()[-1] in ("get", "gets", "can", "could", "may"):
            return Wanted("times", "showers" if "shower" in frame else "times", "", judged, difference)
        return Wanted("people" if counted[0].rsplit(" ", 1)[-1] not in _TIMES else "times", counted[0].rsplit(" ", 1)[-1], "", judged, difference)  # fmt: skip
    spent = _SPENT.search(frame)
    if spent:
        return Wanted(
            "", "", {"hour": "h", "day": "day", "minute": "min"}[spent[1] or spent["span"] or "day"], judged, difference
        )
    hourly = _HOURLY.search(frame)
    if hourly:
        return Wanted(
            "",
            "",
            "day"
            if "da" in hourly[0]
            else "min"
            if "minute" in hourly[0] or ("flow" in hourly[0] and "hour" not in hourly[0])
            else "h",
            judged,
            difference,
        )
    if clock or _LONG.search(frame):
        return Wanted("time", "", "", judged, difference, clock)
    if _QUANTITY.search(frame):
        return Wanted("", "", "", judged, difference)
    if _WHICH.search(frame):
        return Wanted("which")
    return Wanted("", "", "", judged, difference) if judged or difference else None


_MEANWHILE = Lazy(r"(\b(?:what|how (?:much|many|full|deep))\b.*?) when (?:i|we|they|it) .*")
""" "What will I have when I pull off" does not ask when."""
_WHICH = Lazy(r"\b(?:which|wich|first)\b")
_SPENT = Lazy(
    r"\b(?:what|how much|most (?:i|we)) (?:can|may|should|could|am i allowed to|are we allowed to) (?:\S+ ){0,5}?(?:use|have|burn|spend|get|draw|drink)\b.{0,25}\b(?:an|per|a|each|every) (hour|day|minute)\b"
    r"|\b(?:what|how much) (?:can|may|could) (?:each|every) (?:\S+ ){0,4}?(?P<whole>use|have|drink|take|get)\b"
    r"|\b(?:allowance|ration|rations|share|quota)\b.{0,30}\b(?:an|per|a|each|every) (?P<span>hour|day)\b"
)


_RATED = Lazy(
    r"\b(?:what|whats|how (?:much|many|fast))\b(?: (?!when|if|for|to|until|till|before|will|left|can|could|may|should)[\w']+){0,7}? (?:(?:an|per|a|each|every) (?P<per>hour|day|minute|night)\b)(?! (?:ago|and|before|later|earlier|from|long|old|drive))"
)
""" "What are we using an hour": a rate is wanted, whatever it is of."""
_TIME_TOO = Lazy(r"\bwhat time\b|\bhow long\b|\bwhen (?:is|will|does|do|are|it)\b")
_FLOWS = {"gph": ("gal", "h"), "gpm": ("gal", "min"), "L/min": ("L", "min")}
"""Flows that are one word, as the volume and the time."""
_TIMES = frozenset(
    {"showers", "flushes", "times", "uses", "bottles", "cylinders", "buckets", "trips", "furnaces", "heaters"}
)


_COUNTED = frozenset({*ONES, *TEENS, *TENS, "couple", "few", "several"})
"""Behind one of these a unit tells something: "been here two years"."""


def bare_unit(question: Question) -> tuple[str, str]:
    """The unit that stands without a number, with "h", "day" or "min" when it is to be told in that time; "" when none does.

    The one after "how many" outweighs the others, and of these the last counts.
    """
    tokens = question.frame.split()
    best, best_rate, weight = "", "", 0
    i = 0
    while i < len(tokens):
        found = next(
            (
                (len(phrase), unit)
                for phrase, unit in unit_phrases().get(tokens[i], ())
                if tuple(tokens[i : i + len(phrase)]) == phrase
            ),
            None,
        )
        if found is None and i and tokens[i - 1] == "many" and tokens[i] in _LETTERS:
            found = (1, _LETTERS[tokens[i]])
        if found is None:
            i += 1
            continue
        size, unit = found
        before = tokens[i - 1] if i else ""
        more = tokens[i - 2] if i > 1 and before in ("more", "us", "fluid", "total", "whole", "extra") else before
        after = tokens[i + size] if i + size < len(tokens) else ""
        asked = more in ("many", "manny") or (more == "in" and not after.startswith("<"))
        counts = 3 if more in ("many", "manny") else 2 if more in _ASKS_UNIT else 1
        rate = _rate_after(tokens, i + size)
        named = tokens[i] not in _SMALL or (rate and tokens[i + size] == "/")
        spans = counts == 1 and after in ("is", "are") or unit in _SPANS and (before == "for" or tokens[i + 1 : i + 3] == ["on", "end"] or tokens[max(0, i - 2) : i] == [tokens[i], "and"])  # fmt: skip
        if (
            unit not in _NOT_WANTED
            and not spans
            and not (before in _COUNTED or before.isdigit())
            and (asked or (before not in _NO_WANT and after not in _THINGS - {"a"} and named))
        ):
            if not (counts < 3 and after == "a" and not rate):
                if counts >= weight:
                    best, best_rate, weight = unit, rate, counts
        i += size
    return best, best_rate


_LETTERS = {"w": "W", "v": "V", "l": "L"}
"""Units of one letter, which are words of their own but after "how many"."""
_SPANS = frozenset({"h", "min", "day", "night", "week"})
"""Of these "for hours", "hours on end" and "hours and hours" only say that it is long."""
_NOT_WANTED = frozenset({"awg", "deg", "furnace", "cylinder", "shower", "flush", "heater", "driver", "cord", "bag"})


def _rate_after(tokens: list[str], at: int) -> str:
    if tokens[at : at + 1] and tokens[at] in ("a", "an", "per", "each", "every", "/") and len(tokens) > at + 1:
        return {"hour": "h", "hr": "h", "h": "h", "d": "day", "day": "day", "night": "day", "minute": "min", "min": "min"}.get(tokens[at + 1], "")  # fmt: skip
    return ""
