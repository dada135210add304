"""What a question about driving, power, weight or warmth wants, and its amounts as terms in one unit a kind.

`wanted` knows what is asked of tanks and propane; this knows miles, speeds, mileages, amps, amp hours, volts, degrees,
pressures and weights. The kind decides which formula may answer: hours are no answer to "how many amps".
"""

from __future__ import annotations

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted, bare_unit

_OF_UNIT = {
    "A": "current", "Ah": "charge", "V": "volts", "W": "watts", "kW": "watts", "mi": "distance", "km": "distance", "mph": "speed", "km/h": "speed",
    "mpg": "mileage", "gal": "volume", "L": "volume", "lb": "mass", "kg": "mass", "ton": "mass", "h": "time", "min": "time", "psi": "pressure", "bar": "pressure", "kPa": "pressure",
    "percent": "share", "F": "temperature", "C": "temperature", "ft": "length", "m": "length", "32nds": "tread", "bag": "bags",
}  # fmt: skip
_CONSUMED = Lazy(r"\b(?:l|lit(?:er|re)s?) (?:/|per|for|a) (?:<km>|<n>|hundred)")
"""Liters for a hundred kilometers."""
_ASKED = (
    ("tread", Lazy(r"\bhow many <s>|\bin <s> $")),
    ("bags", Lazy(r"\bhow many (?:more )?(?:<\w+> )?(?:\w+ )?(?:bags?|duffels?|trunks?|cases|sticks|players|people|passengers)\b")),
    ("speed", Lazy(r"\b(?:what|average|avg|mean|rolling) (?:\w+ )?speed\b|\bhow fast\b|\bwhat (?:must|do|should|would) (?:i|we) (?:have to |need to )?average\b|\bwhat average\b|\baverage (?:for|over|of|on) the (?:whole|trip|day|run)\b")),
    ("mileage", Lazy(r"\b(?:what|which|our|my|the|rolling|true|real) (?:\w+ )?(?:mpg|mileage)\b|\bmpg $|\bmileage\b(?! is)|\bmiles (?:per|a|to the|to a) gallon $|\bto the gallon $")),
    ("money", Lazy(r"\b(?:what|how much)\b[^,.]*\bcosts?\b|\bhow much (?:money|cash)\b|\bhow many (?:dollars|bucks)\b|\bcost (?:me|us)? ?\$?$|\bfuel (?:cost|bill)\b")),
    ("distance", Lazy(r"\bhow (?:much )?(?:far(?:ther)?|further)\b(?! (?:above|below|over|under|off|down|back|behind|apart|from(?! (?:full|here)\b)))|\bwhat (?:distance|range)\b|\brange\b|\bhow many (?:more )?(?:miles|km|kilomet\w+)\b|\bmiles (?:left|between|past|over|to go|till?|until|can)\b|\b(?:what|how much) (?:miles|distance)\b|\bhow much of <(?:mi|km)> (?:is |' s )?(?:left|still)\b")),
    ("distance", _REACHED := Lazy(r"\bmake it\b|\bget (?:us )?there\b")),
    ("temperature", Lazy(r"\bhow (?:warm|cold|hot|chilly)\b|\bwhat (?:temp\w*|will it be|is it (?:inside|in here) at)\b|\btemp\w* (?:inside|at|after|by|will)\b|\bfeels? like\b|\bhow many degrees\b|\b(?:roughly )?where (?:after|at|will (?:it|we) be)\b|\bwhat (?:does|will|would) it feel\b|\bwind ?chill\b|\bstill (?:be )?(?:above|over|under|below)\b|\bcoldest\b|\bhow much cold\b")),
    ("charge", Lazy(r"\bhow many amp ?hours\b|\bwhat .*\bin amp ?hours\b|\b(?:ah|amp ?hours) (?:used|needed|gone|do|will|would|is that|left) ?$|[,.] (?:ah|amp ?hours?) $")),
    ("current", Lazy(r"\bhow (?:many|much) (?:amps|current)\b|\b(?:most|biggest|max\w*|average|avg|highest|largest|how big an?) (?:current|draw|load|amps|drain|amp)\b|\bwhat (?:does|will|do) (?:it|they|that) (?:pull|draw)\b|\bwhat (?:current|draw|amps|charger)\b|\bwhat size charger\b|\bhow big a charger\b|\bamps $")),
    ("time", Lazy(r"\bhow (?:long|soon|much (?:longer|time|more driving|driving))\b|\bhow many (?:more |driving )*(?:hours|minutes|days)\b|\b(?:earliest|soonest) (?:i|we|he|she|time|hour|clock|that|may|can)\b|\b(?:hours|minutes) (?:left|late|later|early|to go)\b|\bwhen (?:will|do|does|is|can|am|are|would|should|must)\b|\bwhen (?:it|that|this|we|they) (?:' s |are )?(?:done|full|charged|over|there|ready|empty|up)\b|\bwhen $|\bwhat time\b|\b(?:arrive|arrival|latest departure|depart\w*|eta)\b|\bby what time\b|\bhow late\b|\bdriving (?:hours |time )?(?:left|remaining)\b|(?<!amp )(?<!and )(?<!for )\bhours $")),
    ("mass", Lazy(r"\bhow (?:heavy|much (?:weight|heavier|lighter))\b|\bweigh(?:s|t)?\b|\b(?:heavier|lighter)\b|\bhow many (?:pounds|kilos|kg)\b|\bto spare\b|\b(?:how much|left|room|over|under)\b.*\blimit\b|\bhow much (?:under|over)\b")),
    ("mass", _TOTAL := Lazy(r"\b(?:total|in all|altogether|added|add up|comes? to)\b")),
    ("volume", Lazy(r"\bhow (?:much|many gallons of) (?:more |extra )?(?:fuel|diesel)\b|\bextra gallons\b|\bgallons (?:extra|more|for|to|needed|left)\b|\bhow much (?:\w+ )?of <(?:gal|L)>|\bhow much (?:fuel|diesel)\b|\bgallons $")),
    ("share", Lazy(r"\b(?:what|how many|which) (?:percent\w*|share|charge)\b|\bpercent(?:age)? (?:drop|loss|lost|am i|is that|left|will)\b|\bhow full\b|\bpercent $|\bstate of charge\b")),
    ("volts", Lazy(r"\bhow many volts\b|\bvolts? (?:lost|saved|do i|do we|dropped|drop|difference)\b|\bvolts? $")),
    ("pressure", Lazy(r"\bwhat (?:should|will|would|do|must) (?:it|they|i|we) (?:read|show|be|set|pump|fill|put)\b|\bwhat (?:psi|pressure|bar)\b|\bgauge (?:reads?|shows?|says?) ?$|\b(?:what|how much) (?:will|would|does|should) (?:the|my|our) (?:tire |tyre )?gauge\b|\bhow many psi\b|\b(?:just|only) (?:the )?cold\b|\bleak\w*\b|\bset (?:them|it)? ?(?:to|at)? ?(?:in the shop|indoors|here)?\b")),
)  # fmt: skip
"""What is asked, with the words that ask for it; the last one in the text counts when a unit is named by none."""
_ROAD = Lazy(r"<(?:mi|km|mph|km/h|mpg)[/>]|<mi/|\bmiles\b|\b(?:drive|driving|road|town|diesel|fuel)\b")
_MORE = Lazy(
    r"\b(?:how (?:much|many)|what) (?:\w+ ){0,2}(?:more|longer|extra|further|farther|later|sooner|colder|warmer|heavier|lighter|difference)\b|\b(?:do|would|will) (?:i|we) (?:gain|save|lose)\b"
    r"|\b(?:extra|saved?|gained?)\b|\binstead of\b|\brather than\b|\bdifference\b|\b(?:heavier|lighter|later|sooner|colder|warmer)\b|\b(?:vs|versus)\b|\bwhich (?:\w+ )?(?:loses|drops|is better)\b"
)
_YES_NO = Lazy(
    r"\b(?:make it|makes it|enough|over or under|or not|just the cold|just cold|still (?:be )?(?:above|over|below|under))\b|\b(?:hold|last)(?: out)? (?:till?|until|to|us)\b|\b(?:will|can|do|does) (?:\S+ ){1,6}?(?:hold|last|reach|make|get there|carry|cover)\b"
)
_YES_NO_IF_UNASKED = Lazy(
    r"\b(?:will|can|could|would|do|does|is|are|am|just) (?:it|they|that|we|i|this|the|there|those|our|my|he|she|both|a)\b"
)
_ASKS = Lazy(
    r"\b(?:how|what|which|where)\b|\bhow(?:many|much)\b|\bwhen (?:will|do|does|is|can|am|are|would)\b|\bwhen $"
)
_LEFT = Lazy(r"\bwhat (?:is |' s )?left\b|\bhow much (?:more|room|is left)\b|\bto spare\b")
_CLOCK = Lazy(
    r"\b(?:what time|what oclock|when|by when|earliest|soonest|eta|clock|arriv\w+|latest departure|depart by|leave by|what hour|how late)\b"
)


def asked_for(question: Question) -> Wanted | None:
    """What the question wants, as a kind of `terms_of`; None when nothing that can be told in numbers."""
    frame = question.frame
    more, yes_no, clock = (pattern.search(frame) is not None for pattern in (_MORE, _YES_NO, _CLOCK))
    yes_no = yes_no or (_YES_NO_IF_UNASKED.search(frame) is not None and _ASKS.search(frame) is None)
    if _CONSUMED.search(frame):
        return Wanted("mileage")
    named, rate = bare_unit(question)
    asked = asked_unit(question)
    if asked in _OF_UNIT:
        named, rate = asked, ""
    kind = _OF_UNIT.get(named, "")
    off = {_TOTAL} if kind else set()
    off |= set() if _ROAD.search(frame) else {_REACHED}  # "make it" to the morning is no distance
    spoken = [(found.start(), one) for one, pattern in _ASKED if pattern not in off for found in [*pattern.finditer(frame)][-1:]]  # fmt: skip
    counted = Lazy(r"\b(?:how many|howmany|what) (?:more |extra |driving )*(\w+)").search(frame)
    if (
        kind
        and not rate
        and (not spoken or asked == named or counted is not None or kind in {one for _, one in spoken})
    ):
        return Wanted(kind, named, "", yes_no, more, clock and kind == "time")
    if spoken:
        kind = next(one for at, one in spoken if at == max(spoken)[0]) if len(spoken) > 1 else spoken[0][1]
        return Wanted(kind, "", "", yes_no, more, clock and kind == "time")
    open_ended = yes_no or more or _LEFT.search(frame) is not None
    return Wanted("", "", "", yes_no, more, clock) if open_ended else None


def terms_of(question: Question) -> tuple[Term, ...] | None:
    """Every amount as a term of a kind that `asked_for` knows; None when one of them is of no such kind."""
    tokens = question.frame.split()
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    if len(places) != len(question.amounts):
        return None
    found: list[Term] = []
    for place, amount in zip(places, question.amounts, strict=True):
        if amount.unit == "n" and _told_elsewhere(question, amount):
            continue
        if (
            amount.unit == "A"
            and amount.value > _MOST_AMPS
            and amount.pieces == ("20", "20")
            and question.words[amount.start - 1] == "one"
        ):
            around = " ".join(
                (*tokens[max(0, place - _REACH) : place], "#", "<A>", *tokens[place + 1 : place + _REACH])
            )
            found.append(Term(amount, "volts", 120.0, f" {around} "))  # "one twenty twenty amp": 120 volts, 20 amps
            amount = amount._replace(value=20.0)
        measured = kind_of(amount, question.scale)
        if (amount.value, amount.unit) == (30, "s") and {"<32nds>", "<mm>"} & {*tokens}:
            measured = ("depth", 1 / 32)  # "a thirty-second every five thousand miles"
        if measured is None:
            return None
        last = found[-1] if found else None
        if (
            last is not None
            and amount.unit == "n"
            and amount.value < 60
            and (last.unit, last.amount.end) == ("h", amount.start)
        ):
            found[-1] = last._replace(value=last.value + amount.value / 60, around=last.around.replace("# <n>", "#"))
            continue  # "4 h 45"
        inside = question.words[amount.start : amount.end]
        usable = ("usable",) if {"usable", "available"} & {*inside} else ()
        before, after = tokens[max(0, place - _REACH) : place], tokens[place + 1 : place + 1 + _REACH]
        found.append(Term(amount, *measured, f" {' '.join((*before, *usable, '#', *after))} "))
    return tuple(found)


def _told_elsewhere(question: Question, amount: Amount) -> bool:
    """A "one" that counts nothing, or the hour of a time of day that is told in full as well: "before seven ... at 7 am"."""
    if question.words[amount.start : amount.end] == ("one",):
        return True
    before = question.words[amount.start - 1] if amount.start else ""
    hours = {one.value % 12 for one in question.amounts if one.unit == "clock"}
    return before in ("before", "by", "till", "until", "at") and amount.value in hours


_REACH = 7
_MOST_AMPS = 400.0
"""More than this no bank, breaker or cord here carries; it is two numbers said in a row."""
_KINDS = {
    "mi": ("distance", "mi"), "km": ("distance", "mi"), "gal": ("volume", "gal"), "L": ("volume", "gal"), "lb": ("mass", "lb"), "kg": ("mass", "lb"), "ton": ("mass", "lb"),
    "h": ("time", "h"), "min": ("time", "h"), "s": ("time", "h"), "day": ("time", "h"), "night": ("time", "h"), "mph": ("speed", "mph"), "km/h": ("speed", "mph"), "kn": ("speed", "mph"), "m/s": ("speed", "mph"),
    "W": ("watts", "W"), "kW": ("watts", "W"), "psi": ("pressure", "psi"), "bar": ("pressure", "psi"), "kPa": ("pressure", "psi"), "ft": ("length", "ft"), "m": ("length", "ft"), "yd": ("length", "ft"),
    "in": ("depth", "in"), "mm": ("depth", "in"), "cm": ("depth", "in"), "32nds": ("depth", "in"), "lb-ft": ("torque", "lb-ft"), "N·m": ("torque", "lb-ft"),
}  # fmt: skip
_SELF = {
    "A": "current", "Ah": "charge", "V": "volts", "n": "n", "people": "people", "clock": "clock", "mpg": "mileage", "awg": "awg", "bag": "bags", "driver": "drivers",
    "heater": "n", "furnace": "n",
}  # fmt: skip
_AN_HOUR = {"h": 1.0, "min": 60.0, "day": 1 / 24, "night": 1 / 24}


def kind_of(amount: Amount, scale: str) -> tuple[str, float] | None:
    """The kind and the value of an amount in the unit of its kind."""
    value, unit = amount.value, amount.unit
    if amount.per in ("deg", "degF", "degC") and unit == "W":
        return "loss", value
    if unit == "BTU/h" or (unit == "BTU" and amount.per == "h"):
        return "heat", value
    if amount.per == "gallon":
        return ("mileage", converted(value, unit, "mi")) if unit in ("mi", "km") else None
    if unit in ("percent", "part"):
        kind, value = "share", value / (100 if unit == "percent" else 1)
    elif unit in ("F", "C", "temp"):
        celsius = unit == "C" or (unit == "temp" and scale == "C")
        kind, value = "temperature", converted(value, "C", "F") if celsius else value
    elif unit == "gph":
        return "volume/time", value
    elif unit in _SELF:
        kind = _SELF[unit]
    elif unit in _KINDS:
        kind, base = _KINDS[unit]
        value = converted(value, unit, base)
    else:
        return None
    if not amount.per:
        return kind, value
    if amount.per not in _AN_HOUR:
        return None
    value *= _AN_HOUR[amount.per]
    if kind == "distance":
        return "speed", value
    if kind == "n" and amount.per == "h":
        return "n/time", value
    return f"{kind}/time", value
