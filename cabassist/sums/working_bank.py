"""A battery bank as a driver tells it: batteries in parallel and in series, the share that is used, what it feeds.

Taken only when every amount of the question has its role; otherwise the patterns of `working_battery` read it.
"""

from __future__ import annotations

from typing import NamedTuple

from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Sheet

_BATTERIES = r"(?:batter(?:y|ies)|bats?|agms?|cells?|blocks?|lithiums?|golf cart\w*|deep cycles?)"
_GAP = r"(?:(?!and |at |from |off )\w+ ){0,2}"


def _share(amount: Amount) -> bool:
    return amount.unit in ("percent", "part") or 10 <= amount.value <= 100


LEVELS = (
    Role(
        "usable",
        "part",
        r"(?:only |just )?(?:use|using|usable|take|taking|draw|run)(?: only| just| the top| out| up)?|depth of discharge|dod|discharge(?: to)?",
        r"(?:of (?:it|that|them|the (?:bank|capacity)) )?(?:is |are )?(?:usable|useable|use|used|only)|of (?:it|that|them|the capacity)|depth of discharge|dod|can be used",
    ),
    Role(
        "efficiency",
        "part",
        r"eff(?:icien\w*)?(?: of| at| is)?|inverter(?: is| at| that| that is)?",
        r"eff(?:icien\w*)?|inverter|charge efficien\w*|charging efficien\w*",
    ),
    Role(
        "stop",
        "part|n",
        r"(?:(?:going|go|dropping|falling|get|getting) )?(?:under|below)|down to|to|till?|until|stop(?:ping)?(?: at)?|hits?|reach(?:es)?|-|leave|leaving|keep|above|quit at|cut off at",
        r"cut ?off|floor|left at the end",
        _share,
    ),
    Role(
        "charge",
        "part",
        r"(?:it |sits |sitting |is |are |now |still |bank |batter(?:y|ies) |house )*(?:at|@|is|from|reads?|shows?|bank|batter(?:y|ies)|now|starting at|house|full)",
        r"now|charged?|full|left|soc|state of charge|in it|remaining",
    ),
)
"""Shares of a bank: how much of it may be used, what a charger or inverter wastes, where to stop, how full it is."""


_LEAST_EFFICIENCY = 60.0
"""In percent: a charger's or inverter's efficiency is not told lower."""
_DRAW = Role(
    "load",
    "n",
    r"(?:amp |current )?(?:draw|drain)(?:ing|s)?(?: is| of)?|amp load(?: is| of)?|pull(?:ing|s)?|amps",
    fits=lambda a: a.value <= 400,
)


def share_of(amount: Amount) -> float:
    """A level as a share of full."""
    return amount.value / (1 if amount.unit == "part" else 100)


class Bank(NamedTuple):
    """What the question says of the batteries."""

    hours: float
    """Amp hours together."""
    volts: float | None
    """Of the whole bank, when batteries of a voltage stand in series."""
    used: tuple[Amount, ...]
    line: str
    """How it was added up, or ""."""


def bank_of(q: Question, nominal: float) -> Bank | None:
    """The bank told in a question, or None when no amp hours are told.

    Batteries in parallel add their amp hours, in series their volts; when it is not said, they make up the bank's voltage.
    """
    capacity = q.every(r"({Ah|Ah/each})")
    if len(capacity) != 1 or capacity[0].per:
        return None
    one = capacity[0]
    count = q.one(
        rf"({{n}}) {_GAP}(?:<V> )?{_GAP}<Ah>(?:/each)? {_GAP}{_BATTERIES}\b",
        rf"({{n}}) {_GAP}(?:<V> )?{_GAP}{_BATTERIES}\b[^<]*<Ah",
        rf"({{n}}) {_GAP}(?:<V> )?{_GAP}{_BATTERIES}\b[^<]*<V>[^<]*<Ah",
        r"({n}) x <Ah>",
        r"({n}) <Ah>(?:/each)? (?:in |wired )?(?:parallel\w*|series)",
    )
    each = q.one(rf"({{V}}) {_GAP}<Ah>", rf"({{V}}) {_GAP}{_BATTERIES}\b", r"<Ah>[^<]{0,10}({V}) (?:each|batter)")
    told = count.value if count is not None else 0.0
    apart = next(
        (a for a in (each, one) if a is not None and len(a.pieces) == 2 and all(map(str.isdigit, a.pieces))), None
    )
    if count is None and apart is not None and q.has(rf"\b{_BATTERIES}\b"):
        # "four 6 volt batteries": the count and the volts were heard as one number.
        told, size = (float(piece) for piece in apart.pieces)
        each, one = (apart._replace(value=size), one) if apart is each else (each, apart._replace(value=size))
    if not (told == int(told) and 1 < told <= 24):
        return Bank(one.value, None, (one,), "")
    many = round(told)
    rail = next(
        (v.value for v in q.of("V") if (each is None or v.start != each.start) and v.value in (12, 24, 36, 48)), None
    )
    volts = each.value if each is not None and each.value in (2, 4, 6, 8, 12, 24) else nominal if rail is None else rail
    parallel, series = q.has(r"\bpar(?:allel\w*)?\b"), q.has(r"\bseries\b")
    strings = (
        many if series and not parallel else 1 if parallel and not series else max(1, round((rail or nominal) / volts))
    )
    if many % strings:
        return None
    rows = many // strings
    line = f"{rows} x {shown(one.value)} Ah = {shown(rows * one.value)} Ah"
    if strings > 1:
        line += f", {strings} x {shown(volts)} V in series = {shown(strings * volts)} V"
    starts = {a.start for a in (one, count, each) if a is not None}
    used = tuple(a for a in q.amounts if a.start in starts)
    return Bank(rows * one.value, strings * volts if each is not None or rail is not None else None, used, line)


def _levels(s: Sheet, spent: tuple[Amount, ...]) -> tuple[Amount, ...] | None:
    """Note the shares by their roles; None when one of them is unclear."""
    span = s.q.find(r"\bfrom ({n}) (?:percent )?(?:up |down )?to ({percent})")
    if len(span) == 2 and span[0] not in spent:  # "from 50 to 80 percent"
        rest = _levels(s, (*spent, *span))
        s.note("charge", span[0].value / 100)
        s.note("stop", span[1].value / 100)
        return None if rest is None else (*rest, *span)
    lossy = next((a for a in s.q.every(r"<A> (?:charger )?at ({percent})") if a.value >= _LEAST_EFFICIENCY), None)
    if lossy is not None and lossy not in spent:  # "45 amps at 85 percent"
        s.note("efficiency", share_of(lossy))
        rest = _levels(s, (*spent, lossy))
        return None if rest is None else (*rest, lossy)
    found = placed(s.q, LEVELS, spent)
    left = [a for a in s.q.of("part") if a not in found.values() and a not in spent]
    if len(left) == 1 and not {"charge", "usable"} & found.keys() and "stop" in found:
        found["charge"] = left.pop()
    if left:
        return None
    for name, amount in found.items():
        if name != "usable":
            s.note(name, share_of(amount))
    if "usable" in found:
        s.note("stop", max(0.0, 1 - share_of(found["usable"])))
    return tuple(found.values())


def _all_placed(q: Question, used: tuple[Amount, ...]) -> bool:
    return all(a in used or a.unit in ("people", "clock", "F", "C", "temp") for a in q.amounts)


def size_told(s: Sheet) -> bool:
    """Note what a bank or charger is to be sized by: amps from amp hours and hours, or amp hours from amps and hours."""
    q = s.q
    capacity, spans = q.every(r"({Ah})"), [a for a in q.of("h") if a.unit in ("h", "min") and not a.per]
    loads = [a for a in q.of("A") if not a.per]
    if len(spans) != 1 or s.follows:
        return False
    wants_amps = q.has(
        r"\bhow many amps\b|\bwhat (?:size )?charger\b|\bamps (?:can|do|does|from)\b|\bhow big (?:a|of a) charger\b"
    )
    wants_bank = q.has(
        r"\bhow (?:many amp hours|big a (?:bank|battery))\b|\bwhat size (?:bank|battery)\b|\bamp hours (?:do|of|needed|to)\b"
    )
    if wants_amps and len(capacity) == 1 and not loads:
        given, kind = capacity[0], "charger" if q.has(r"\bcharg\w*\b|\bback\b") else "draw"
    elif wants_bank and len(loads) == 1 and not capacity:
        given, kind = loads[0], "bank"
    else:
        return False
    levels = placed(q, LEVELS, (given, *spans))
    if not _all_placed(q, (given, spans[0], *levels.values())) or {"charge", "stop"} & levels.keys():
        return False
    if kind == "bank" and not levels and not q.has(r"\bhalf\b"):
        return False
    s.note("size", kind)
    s.note("capacity" if kind != "bank" else "load", given.value, given.unit)
    s.note("hours", converted(spans[0].value, spans[0].unit, "h"), "h")
    for name, amount in levels.items():
        s.note(name, share_of(amount))
    return True


def size(s: Sheet) -> Estimate:
    """Amps that a bank gives for so long, amps of a charger, or amp hours of a bank. Source: arithmetic."""
    kind, hours = s.text("size"), s.number("hours", "h")
    usable = s.number("usable") if s.has("usable") else 1.0
    efficiency = s.number("efficiency") if s.has("efficiency") else 1.0
    if kind == "bank":
        value = s.number("load") * hours / (usable * efficiency)
        line = f"{shown(s.number('load'))} A x {shown(hours)} h ÷ {shown(usable * efficiency)} = {shown(value)} Ah"
        return exact("bank needed", value, "Ah", working=(line,), source="arithmetic")
    given = s.number("capacity")
    if kind == "charger":
        value = given / (hours * efficiency)
        line = f"{shown(given)} Ah ÷ ({shown(hours)} h x {shown(efficiency)}) = {shown(value)} A"
        return exact(
            "charger needed",
            value,
            "A",
            working=(line,),
            source="arithmetic",
            verdict="Somewhat more near full, where it takes less.",
        )
    value = given * usable * efficiency / hours
    line = f"{shown(given)} Ah x {shown(usable * efficiency)} ÷ {shown(hours)} h = {shown(value)} A"
    return exact("draw for that long", value, "A", working=(line,), source="arithmetic")


def hours_told(s: Sheet) -> bool:
    """Inputs of how long a bank lasts, when every amount has its role; the sheet is left alone when not."""
    q = s.q
    before = dict(s.inputs), set(s.fresh), list(s.assumed)
    bank = bank_of(q, float(s.coach.house_battery.volts))
    loads = [a for a in q.of("load") if not a.per]
    draw = placed(q, (_DRAW,)).get("load") if not loads else None
    if draw is not None:
        loads = [draw]
    if len(loads) > 1 and q.has(r"\b(?:turn\w* off|shut\w* (?:off|down)|without|instead|out of|less)\b"):
        return False
    if bank is None or not loads or q.has(r"\bcharg(?:er|ing)\b|\bpeukert\b|\bhow many amp hours\b"):
        return False
    rails = [v for v in q.of("V") if v not in bank.used and v.value in (12, 24, 36, 48)]
    spans = [a for a in q.of("h") if a.unit in ("h", "min")]
    levels = _levels(s, (*bank.used, *loads, *rails, *spans))
    charging = s.number_or("stop", 0.0) > s.number_or("charge", 1.0)
    placed_all = levels is not None and not charging and _all_placed(q, (*bank.used, *loads, *rails, *spans, *levels))
    if not placed_all or len(spans) > 1 or (q.has(r"\bhow many amps\b|\bhow much can\b") and spans):
        s.inputs, s.fresh, s.assumed = before
        return False
    s.note("capacity", bank.hours, "Ah")
    if bank.line:
        s.assumed.append(bank.line)
    if bank.volts is not None or rails:
        s.note("system", rails[0].value if rails else bank.volts or 0.0, "V")
    usable = q.has(
        r"<Ah> (?:left|remaining|usable|useable|available|to use|in it|good)\b|\b(?:left|usable|available) <Ah>"
    )
    usable = usable or bool({"usable", "available"} & {word for a in bank.used for word in q.words[a.start : a.end]})
    s.note("whole", 0.0 if usable and "stop" not in s.fresh else 1.0)
    _loads(s, loads)
    if spans:
        s.note("needed", converted(spans[0].value, spans[0].unit, "h"), "h")
    if "stop" not in s.fresh:
        if q.has(r"\b(?:half gone|to half|hits half|only half|half of it|use half)\b"):
            s.note("stop", 0.5)
        elif q.has(r"\b(?:flat|dead|empty|run out|runs out|all of it|to zero|die|dies)\b"):
            s.note("stop", 0.0)
    if "charge" not in s.fresh and q.has(r"\bfrom full\b|\bfull(?:y charged)?\b"):
        s.note("charge", 1.0)
    return True


def _loads(s: Sheet, loads: list[Amount]) -> None:
    """The load, added up; amps and watts together need the bank's voltage."""
    loads = [a._replace(unit="A") if a.unit == "n" else a for a in loads]
    units = {"A" if a.unit == "A" else "W" for a in loads}
    if len(units) == 1:
        unit = units.pop()
        s.note("load", sum(converted(a.value, a.unit, unit) for a in loads), unit)
        return
    volts = s.number("system") if s.has("system") else float(s.coach.house_battery.volts)
    total = sum(a.value * volts if a.unit == "A" else converted(a.value, a.unit, "W") for a in loads)
    s.note("load", total, "W")


def charge_told(s: Sheet) -> bool:
    """Inputs of how long charging takes, when every amount has its role; the sheet is left alone when not."""
    q = s.q
    before = dict(s.inputs), set(s.fresh), list(s.assumed)
    bank = bank_of(q, float(s.coach.house_battery.volts))
    amps = q.of("A")
    put = q.one(r"\bput (?:the |those |that |them )*({n}) back\b")
    if bank is None and put is not None:  # "put the two hundred back"
        bank = Bank(put.value, None, (put,), "")
    if bank is None or len(amps) != 1 or q.has(r"\bhow much charge\b|\bhow many (?:amp hours|percent)\b"):
        return False
    spent = (*bank.used, *amps)
    rails = tuple(v for v in q.of("V") if v not in bank.used and v.value in (12, 24, 36, 48))
    rest = tuple(v for v in q.of("V") if v not in (*bank.used, *rails) and 10.4 <= v.value <= 15)
    if len(rest) == 1:
        s.say("volts", rest[0])
        rails = (*rails, *rest)
    levels = _levels(s, (*spent, *rails))
    if levels is None or not _all_placed(q, (*spent, *rails, *levels)):
        s.inputs, s.fresh, s.assumed = before
        return False
    if "stop" in s.fresh:
        s.note("target", s.number("stop"))
        s.inputs.pop("stop")
    if s.fresh & {"charge", "volts"} or q.has(r"\b(?:dead|flat|empty)\b"):
        if not s.fresh & {"charge", "volts"}:
            s.note("charge", 0.0)
        s.note("capacity", bank.hours, "Ah")
    else:
        missing = put is not None or q.has(
            r"<Ah> (?:down|short|used|gone|out|missing|low|deficit|back|to (?:put|go))|\b(?:put|down|used|took|took out|take out|missing|replace|back|short|pulled|drew|burned)\b(?: \w+){0,3} <Ah>"
        )
        if not missing:
            s.inputs, s.fresh, s.assumed = before
            return False
        s.note("missing", bank.hours, "Ah")
    s.say("amps", amps[0])
    return True
