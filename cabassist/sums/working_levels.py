"""What questions about tanks and time have in common: which level belongs to which tank, who is aboard, how long it must last."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import timedelta

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_clock import spans
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.sums.working_sheet import Sheet

NOUNS: Mapping[str, frozenset[str]] = {
    "fresh": frozenset("fresh frsh clean drinking potable freshwater".split()),
    "waste": frozenset(
        "waste wste black gray grey sewage holding dirty septic poo toilet sewer effluent crap greywater blackwater".split()
    ),
}
_LEVEL_UNITS = frozenset({"part", "percent", "gal", "L", "qt", "n", "in", "cm"})
_CLOSE = frozenset(
    "of in on the our my left for into is at was it s reads reading tank tanks has have holds got about around now down up with sits sitting showing level full a just only".split()
)
MORNING_H = 7.0


def clock_hours(first: Amount, last: Amount) -> float:
    """Hours from one time of day to a later one, both as said; what is not said is taken to be the shortest way."""

    def choices(amount: Amount) -> list[float]:
        sure = amount.unit == "clock" and not amount.pieces
        return [amount.value] if sure or amount.value > 12 else [amount.value % 12, amount.value % 12 + 12]

    found = spans(choices(first), choices(last), last.tomorrow and not first.tomorrow)
    return min(one or 24.0 for one in found)


def hours_until_clock(s: Sheet, at: Amount) -> float:
    """Hours from now until a time of day."""
    now = Amount(s.now.hour + s.now.minute / 60, "clock")
    return clock_hours(now, at)


def people_said(s: Sheet) -> None:
    """Note how many are aboard; "and two drivers" counts."""
    said = s.q.of("people")
    if said:
        s.note("people", sum(a.value for a in said if a.value < 1000), "people")
        return
    bare = s.q.one(r"({n}) (?:hockey|skaters|of 'em|with)\b", r"\b(?:with|for) ({n}) (?:aboard|on|using|of)\b")
    s.say("people", bare, "people")


_NEEDED = (
    r"\b(?:for|last|lasts|hold|holds|hold out|do us|take|sit|go|stand|another|the next|need|carry us|enough for|good for|leave it|wait|make it|see us through|get us through|through) (?:us |them |it |another |the |about |for |a |an |out |at least |through |in there )*({h})",
    r"\b({h}) (?:drive|run|trip|stop|night|more|leg|too long|unplugged|without|of room|be ok|enough)\b",
    r"\b(?:is|are|will) ({h}) (?:too long|ok|okay|enough|unplugged)\b",
)


LEVEL_AT = r"<(?:gal|L|percent|part)> (?:(?:fresh|waste|of|water|full|in|it|the|tank) ){0,3}at <clock>"
"""A level with the time it was read at: "33 gallons at 8 pm" says nothing of how long it must last."""


def needed_hours(s: Sheet) -> None:
    """Note how long something must last as `needed`, in hours, if the text says it."""
    found = s.q.one(*_NEEDED)
    if found is not None and not found.per:
        s.note("needed", converted(found.value, found.unit, "h"), "h")
        return
    more = re.search(r"<n> more (hour|day|night|minute)", s.q.frame)
    if more:
        amount = s.q.amount_at(more.start())
        s.note("needed", amount.value * {"hour": 1.0, "day": 24.0, "night": 24.0, "minute": 1 / 60}[more[1]], "h")
        return
    named = re.search(
        r"\b(?:until|till|by|before|leave it|wait) (tomorrow (?:night|morning|evening)|tonight)\b", s.q.frame
    )
    if named:
        hour = {"tomorrow night": 44, "tomorrow evening": 42, "tomorrow morning": 32, "tonight": 22}[named[1]]
        s.note("needed", max(0.5, hour - s.now.hour - s.now.minute / 60), "h")
        return
    at = (
        None
        if s.q.has(LEVEL_AT)
        else s.q.one(
            r"\b(?:till|until|til|by|before|to|at|through to) (?:the hotel at |the rink at |about |tomorrow )?({clock})",
            r"\b(?:hotel|rink|arena|there|home) (?:at|by) ({n})\b",
        )
    )
    if at is not None:
        s.note("needed", hours_until_clock(s, at), "h")
        return
    if s.q.has(
        r"\b(?:overnight|through the night|all night|till morning|until morning|by morning|for the night|to morning|see morning)\b"
    ):
        until = (MORNING_H - s.now.hour - s.now.minute / 60) % 24
        s.note("needed", until if 4 <= until <= 14 else 10.0, "h")
        return
    day = re.search(
        r"\b(?:till|until|to|by|make it to|good until|through|wait till|before|last|is) (?:the )?(monday|tuesday|wednesday|thursday|friday|saturday|sunday|weekend|tomorrow)\b",
        s.q.frame,
    )
    if day:
        s.note("needed", _hours_to_day(s, day[1]), "h")


def _hours_to_day(s: Sheet, name: str) -> float:
    """Hours from now until noon of a day; the weekend lasts until Monday morning."""
    names = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    if name == "tomorrow":
        ahead = 1
    elif name == "weekend":
        ahead = (0 - s.now.weekday()) % 7 or 7
    else:
        ahead = (names.index(name) - s.now.weekday()) % 7 or 7
    noon = (s.now + timedelta(days=ahead)).replace(
        hour=12 if name != "weekend" else 8, minute=0, second=0, microsecond=0
    )
    return max(0.5, (noon - s.now).total_seconds() / 3600)


# -- levels ---------------------------------------------------------------------------------------


def _tokens(question: Question) -> list[tuple[str, Amount | None]]:
    amounts = iter(question.amounts)
    return [(word, next(amounts) if word.startswith("<") else None) for word in question.frame.split()]


def by_tank(question: Question, used: Iterable[Amount] = ()) -> dict[str, list[Amount]]:
    """Level-like amounts by the tank whose name stands nearest: "" when no tank is named.

    "fresh 70 waste 60" goes by the name before, "seventy gallons of fresh" by the name after.
    """
    tokens = _tokens(question)
    spent = {(a.start, a.end) for a in used}
    places = [
        (i, tank)
        for i, (word, _) in enumerate(tokens)
        for tank, nouns in NOUNS.items()
        if word in nouns and not (word == "holding" and tokens[i + 1 : i + 2] and tokens[i + 1][0] != "tank")
    ]
    found: dict[str, list[Amount]] = {"fresh": [], "waste": [], "": []}
    for i, (_, amount) in enumerate(tokens):
        if (
            amount is None
            or amount.unit not in _LEVEL_UNITS
            or amount.per
            or amount.each
            or (amount.start, amount.end) in spent
        ):
            continue
        if (
            amount.unit == "n"
            and tokens[i + 1 : i + 2]
            and tokens[i + 1][0] in ("more", "tanks", "times", "of", "lane")
        ):
            continue
        best = ("", 1e9)
        for place, tank in places:
            low, high = sorted((i, place))
            between = [word for word, _ in tokens[low + 1 : high]]
            cost = float(
                sum(
                    0 if word in _CLOSE else 6 if word in (",", "and", ".") else 3 if word.startswith("<") else 1
                    for word in between
                )
            )
            if place > i and any(word.startswith("<") for word in between):
                cost += 5
            if place > i:
                cost += 0.5 if cost == 0 and not between else 0.75
                if between[:1] == ["tank"] or any(word in ("is", "at", "was", "reads") for word in between):
                    cost += 4
            elif not between:
                cost += 0.25
            if cost < best[1]:
                best = (tank, cost)
        found[best[0] if best[1] < 30 else ""].append(amount)
    return found


def is_capacity(question: Question, amount: Amount) -> bool:
    """Whether an amount says how big a tank is: "the eighty gallon waste tank", "tank holds 120 gallons"."""
    return (
        amount
        in question.every(
            r"({vol}) (?:fresh |waste |black |gr[ae]y |holding |water |clean |sewage |septic |dirty |drinking |potable |plastic |fuel |diesel )*(?:water )?tank\b"
        )
        and (amount.describes or question.has(r"\b(?:a|the|our|an) <(?:gal|L)> (?:\w+ )?tank\b"))
        or amount
        in question.every(
            r"\b(?:tank|it|which|that) (?:holds|takes|is a|has a capacity of|capacity is|that holds) (?:about )?({vol})"
        )
    )


def tank_levels(s: Sheet, tanks: tuple[str, ...], used: Iterable[Amount] = ()) -> None:
    """Note the capacity and level of each tank that the text speaks of; a nameless one belongs to the first."""
    used = list(used)
    for share, whole in zip(
        s.q.every(r"({percent}|{part}) of (?:a |the )?(?:{n}|{water})(?! )?"),
        s.q.every(r"(?:{percent}|{part}) of (?:a |the )?({n}|{water})"),
        strict=False,
    ):
        tank = next(
            (name for name, amounts in by_tank(s.q, used).items() if share in amounts and name in tanks), tanks[0]
        )
        if whole.unit != "n" or whole.value >= 20:
            s.say(f"{tank}_capacity", whole, "gal")
            used.append(whole)
    groups = by_tank(s.q, used)
    groups[tanks[0]] = [*groups[tanks[0]], *groups[""]]
    for tank in tanks:
        shared = any(a.unit in ("part", "percent") for a in groups[tank])
        for amount in groups[tank]:
            if amount.unit in ("gal", "L", "qt") and (
                is_capacity(s.q, amount)
                or (shared and amount.describes is False and s.q.has(r"\btank (?:is |of |with |holds )*<(?:gal|L)>"))
                or (shared and abs(converted(amount.value, amount.unit, "gal") - s.tank(tank).capacity_gal) < 0.5)
            ):
                s.say(f"{tank}_capacity", amount)
            elif amount.unit in ("in", "cm"):
                s.drop(f"{tank}_share", f"{tank}_gal", f"{tank}_room")
                s.say(f"{tank}_depth", amount)
                top = s.q.has(
                    r"\b(?:from|off|below|shy of|under) the top\b|\bdown from\b|\bto the sewage\b|\bof room\b|\bleft at the top\b"
                )
                s.note(f"{tank}_from", "top" if top else "bottom")
            elif amount.unit in ("gal", "L", "qt"):
                s.drop(f"{tank}_share", f"{tank}_depth", f"{tank}_room")
                room = s.q.has(r"<(?:gal|L)> (?:of )?(?:room|space|left to fill|to go)\b")
                s.say(f"{tank}_{'room' if room else 'gal'}", amount)
            elif not any(a in s.fresh for a in (f"{tank}_gal", f"{tank}_depth", f"{tank}_room", f"{tank}_share")):
                _share(s, tank, amount)
    if len(tanks) == 1:
        _words_for_levels(s, tanks)


_IN_VOLUMES = Lazy(r"<(?:gal|L|qt|gpm|gph|L/min)[/>]")


def _share(s: Sheet, tank: str, amount: Amount) -> None:
    if amount.unit == "n" and s.q.has(r"<n> (?:left|remaining|in it)\b") and (s.q.of("gal") or s.q.of("rate")):
        s.note(f"{tank}_gal", amount.value, "gal")
        return
    if amount.unit == "n" and not 0 <= amount.value <= 100:
        if 100 < amount.value <= s.tank(tank).capacity_gal * 1.02:
            s.note(f"{tank}_gal", amount.value, "gal")
            s.assumed.append(f"{amount.value:g} taken as gallons")
        return
    s.drop(f"{tank}_gal", f"{tank}_depth", f"{tank}_room")
    if amount.unit == "n" and (amount.value <= 1 or (_IN_VOLUMES.search(s.q.frame) and not s.q.of("percent"))):
        return  # beside gallons it is hardly percent; as nothing it is asked about
    value = amount.value
    if amount.unit != "part" and value > 100:
        raise ValueError(f"{value:g} percent can't be. Say a level between empty and full.")
    if s.q.has(r"<part> empty|<percent> empty|<part> gone|\bdown <part>|<part> used"):
        value = (1 if amount.unit == "part" else 100) - value
    s.say(f"{tank}_share", amount._replace(value=value), "percent")
    if amount.unit == "n":
        s.assumed.append(f"{amount.value:g} taken as percent")


def _words_for_levels(s: Sheet, tanks: tuple[str, ...]) -> None:
    """ "fresh is full", "started empty": levels in words, unless they are what is asked for."""
    known = ("_share", "_gal", "_depth", "_room")
    for tank in tanks:
        if any(f"{tank}{ending}" in s.fresh for ending in known):
            continue
        names = "|".join(NOUNS[tank]) + "|tank|water"
        level: float | None = None
        if s.q.has(_FULL.replace("NAMES", names)) and not s.q.has(_ASKED_FULL.replace("NAMES", names)):
            level = 1.0
        elif s.q.has(r"\bempty (?:now|right now|to begin)\b") or (
            s.q.has(_EMPTY.replace("NAMES", names)) and not s.q.has(_ASKED_EMPTY)
        ):
            level = 0.0
        if level is not None:
            s.drop(f"{tank}_gal", f"{tank}_depth", f"{tank}_room")
            s.note(f"{tank}_share", level, "part")


_FULL = (
    r"\b(?:NAMES)(?: water)?(?: tank)?(?: is| at| it)? (?:brim )?full\b(?! in)|\bfrom full\b"
    r"|\bfull (?:NAMES)(?: tank)?\b(?! by)|\bwith a full tank\b"
)
_ASKED_FULL = (
    r"\b(?:till|til|until|to|before|when|whether|how long|when it) (?:the |it |it is |we are )?(?:\w+ )?(?:tank )?(?:is |it )?full\b"
    r"|\b(?:when|how long)\b.*\b(?:NAMES) full"
)
_EMPTY = (
    r"\bfrom (?:dead |bone )?(?:empty|dry|nothing|zero)\b|\b(?:NAMES)(?: tank)? (?:is |was )?(?:bone )?(?:empty|dry)\b"
    r"|\bempty (?:NAMES)(?: tank)?\b|\bfrom <n> percent\b"
)
_ASKED_EMPTY = r"\b(?:till|until|to|before|when|how long)\b.{0,25}\b(?:empty|dry)\b"


_TWO = (
    r"\bfrom ({part}|{n}|{water}) to ({part}|{n}|{water}) (?:full )?(?:between|from) ({clock}|{n}) (?:and|to|till|until) ({clock}|{n})",
    r"({part}|{n}|{water}) (?:\w+ ){0,2}?at ({clock}|{n}) .*?({part}|{n}|{water}) (?:\w+ ){0,2}?at ({clock}|{n})",
    r"\bat ({clock}|{n}) (?:\w+ ){0,6}?({part}|{water}) .*?\bat ({clock}|{n}) (?:\w+ ){0,6}?({part}|{water})",
)
_TWO_NOW = r"({part}|{n}|{water}) (?:\w+ ){0,3}?at ({clock}|{n}) .*?({part}|{n}|{water})"
_TWO_SPAN = (
    r"\b(full|empty)\b(?:(?!<)[^,]){0,30}\bat ({clock}|{n}) .*?({part}|{n}|{water}) (?:\w+ ){0,3}?at ({clock}|{n})",
    r"\bfrom ({part}|{n}|{water}|full|empty) to ({part}|{n}|{water}|empty|full) (?:full )?(?:in|over|within|during) (?:the last |just |about )?({h})",
    r"\b(?:in|over) (?:the last |the past )?({h}) .*?\bfrom ({part}|{n}|{water}|full|empty) (?:down |up )?to ({part}|{n}|{water}|empty|full)",
    r"({h}) ago .*?({part}|{water}) .*?\bnow\b.*?({part}|{n}|{water})",
    r"({part}|{water}) ({h}) ago .*?({part}|{water}|{n})",
    r"({part}|{water}) .*?\b(?:and )?({h}) later .*?({part}|{water}|{n})",
)
_CLOCK_ORDER = ((0, 2, 1, 3), (0, 1, 2, 3), (1, 0, 3, 2))
"""Which groups of each pattern are the first level, its time, the last level, its time."""
_SPAN_ORDER = ((), (0, 1, 2), (1, 2, 0), (1, 2, 0), (0, 2, 1), (0, 2, 1))
"""Which groups of each pattern are the first level, the last and the hours."""
_WORD_LEVELS = {"full": 1.0, "empty": 0.0}


def change_over_time(s: Sheet) -> tuple[Amount, float, list[Amount]] | None:
    """How much a level moved and in how many hours: "dropped fifteen in the last five hours"."""
    found = s.q.find(
        r"({part}|{water}|{n}) (?:(?:of|the|fresh|water|waste|percent) ){0,4}(?:gone|used|lost|down|drunk|used up) (?:in|over|within) (?:the )?(?:last |past )?({h})",
        r"\b(?:dropped|drops|went down|gone down|lost|used|burned|rose|risen|went up|gone up|gained|came up|climbed|filled|up|down) (?:by |about |another )*({part}|{water}|{n}) (?:\w+ ){0,3}?(?:in|over|within|during) (?:the |these )?(?:last |past )?({h})",
        r"\b(?:in|over) the (?:last|past) ({h}) .*?\b(?:dropped|lost|used|rose|gained|went (?:up|down)|climbed) (?:by |about )*({part}|{water}|{n})",
    )
    if len(found) != 2:
        return None
    moved, span = (
        (found[1], found[0]) if found[0].unit in ("h", "min", "day", "night", "week") else (found[0], found[1])
    )
    if moved.unit == "n":
        unit = next((a.unit for a in s.q.amounts if a.unit in ("gal", "L", "percent")), "gal")
        moved = moved._replace(unit=unit)
    return moved, converted(span.value, span.unit, "h"), [found[0], found[1]]


class TwoLevels:
    """Two levels some hours apart, and the amounts that said so."""

    def __init__(self, first: float, last: float, hours: float, unit: str, used: list[Amount]) -> None:
        self.first, self.last, self.hours, self.unit, self.used = first, last, hours, unit, used


def two_levels(s: Sheet) -> TwoLevels | None:
    """Two levels said in the question, with the hours between them; as shares, or in gallons."""
    q = s.q
    for i, pattern in enumerate(_TWO):
        found = q.find(pattern)
        if len(found) == 4:
            a, at_a, b, at_b = (found[k] for k in _CLOCK_ORDER[i])
            return _paired(a, b, clock_hours(at_a, at_b), [*found])
    for i, pattern in enumerate(_TWO_SPAN):
        match = _search(q, pattern)
        if match is None:
            continue
        groups = match
        if i == 0:
            at, later = groups[1], groups[3]
            if isinstance(at, Amount) and isinstance(later, Amount):
                return _paired(
                    groups[0], groups[2], clock_hours(at, later), [g for g in groups if isinstance(g, Amount)]
                )
            continue
        first, last, hours = (groups[k] for k in _SPAN_ORDER[i])
        if isinstance(hours, Amount):
            return _paired(
                first, last, converted(hours.value, hours.unit, "h"), [g for g in groups if isinstance(g, Amount)]
            )
    found = q.find(_TWO_NOW)
    if len(found) == 3 and q.has(r"\bnow\b|\bit <|\bis <") and found[1].unit == "clock":
        said = next((a for a in q.every(r"\b(?:it|now|it is) ({clock})") if a not in found), None)
        now = said or Amount(s.now.hour + s.now.minute / 60, "clock")
        return _paired(found[0], found[2], clock_hours(found[1], now), [*found])
    return None


def _search(q: Question, pattern: str) -> list[Amount | str] | None:
    from cabassist.language.calculation_inputs import compiled

    match = compiled(pattern).search(q.frame)
    if match is None:
        return None
    return [
        q.amount_at(match.start(i)) if match[i].startswith("<") else match[i] for i in range(1, match.re.groups + 1)
    ]


def _paired(first: Amount | str, last: Amount | str, hours: float, used: list[Amount]) -> TwoLevels | None:
    """Both in one unit: a bare number takes the other's."""
    units = {a.unit for a in (first, last) if isinstance(a, Amount) and a.unit != "n"}
    if "gal" in units or "L" in units:
        if not (isinstance(first, Amount) and isinstance(last, Amount)):
            return None
        unit = "gal" if "gal" in units else "L"
        return TwoLevels(converted(first.value, unit, "gal"), converted(last.value, unit, "gal"), hours, "gal", used)
    if not units <= {"part", "percent"}:
        return None

    def share(level: Amount | str) -> float:
        if isinstance(level, str):
            return _WORD_LEVELS[level]
        return level.value if level.unit == "part" else level.value / 100

    pair = (share(first), share(last))
    return TwoLevels(*pair, hours, "part", used) if max(pair) <= 1 else None
