"""Sums over propane: how long it lasts, how much is burned, pounds and gallons, what a stamp allows.

Everything is put into pounds: gallons by the trade weight, heat by what a pound gives.
"""

from __future__ import annotations

from math import ceil

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, hours_until, per_hour
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, at_clock, role
from cabassist.sums.sums_fill import MOST_OF_VOLUME

_PROPANE = Lazy(
    r"\b(?:propane|propain|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?|cilinders?|heater|burners?|water capacity|wc|tare|tw)\b|<BTU(?:/h)?(?:/each)?>"
)
ELSEWHERE = Lazy(
    r"\b(?:diesel|mpg|batter\w*|bank|amps?|tires?|axles?|luggage|bags?|vs|versus|water(?! capacity)|miles|chill|freez\w*|fro[sz]e\w*|ice|idle|generator|bleach|fresh|waste|showers?|hose|fan|per degree|cabin|due|retest\w*|requal\w*|space heaters?|vapou?r\w*|feeds?|keep up)\b"
)
ROLES = (
    role("left", "mass|volume", 0.6,
        (1.5, r"# (?:of (?:propane|gas|lp) )?(?:\w+ ){0,2}?(?:left|remaining|in it|in there|aboard|in (?:the|a|one|each|both|that|my))\b"),
        (1.0, r"\b(?:has|have|got|with|there is|down to|only|holds?|holding|still|is|at) (?:(?:about|only|maybe|down|to|still) ){0,2}# "),
        (0.5, r"# (?:of )?(?:propane|gas|lp)\b"),
        never=r"# (?:propane |steel |aluminum )?(?:pounders?|cylinders?|bottles?)\b|\b(?:down )?from # |# (?:(?:in|as|for) )?(?:a )?reserve\b|\b(?:keep|keeping|leave|leaving|reserve(?: of)?) (?:\w+ ){0,2}?# ",
        bare=0.7, many=True, each=False),
    role("size", "mass", -0.5,
        (2.5, r"# (?:propane |steel |aluminum |full )?(?:pounders?|cylinders?|bottles?|tanks?)\b|\b(?:both|two|<n>|full) (?:full )?# (?:s )?(?:at|,|is|are|and|pounders)\b"),
        (2.5, r"\beach (?:cylinder|bottle|tank) (?:(?:is|holds|has) )?# |\b(?:cylinders|bottles) (?:are|hold) # "),
        (1.5, r"\bfull # |# (?:bottle|cylinder)s? full\b"),
        bare=1.0, each=None),
    role("share", "share", 0.3,
        (1.5, r"# (?:full|left|of a (?:bottle|cylinder|tank))\b|\b(?:at|is|gauge|reads?|shows?|other|one) (?:at |is |about )?# "),
        never=r"# (?:of )?(?:the |that )?time\b|# efficien", many=True),
    role("share", "n", -1.5, (4.0, r"<percent> (?:and )?(?:one|the other|other|inside|outside|street|curb)(?: one| side)?(?: is)? at # |<(?:percent|part)> (?:at <clock> )?(?:and|,|now|then|to|but) (?:\w+ ){0,2}?# (?:at|now|this|$)"), many=True),
    role("duty", "share", -1.5,
        (4.0, r"# (?:of )?(?:the |that )?(?:time|hour|night|day)\b|# duty\b|\bduty (?:cycle )?(?:of |is )?# "),
        (3.0, r"<BTU(?:/h)?> (?:\w+ )?at # "),
        (1.5, r"\b(?:on|runs?|running|going|burning|burns|cycl\w+|fires?|firing|lit) (?:about |maybe |around |only |for )?# "),
        many=True),
    role("efficiency", "share", -2.5, (5.0, r"# efficien|\befficien\w* (?:of |is |at )?# ")),
    role("burner", "power|energy", 0.8, bare=1.5, many=True, never=r"\b(?:loses?|losing|loss(?: of| is)?|needs|takes) # "),
    role("loss", "power|energy", -1.5, (4.0, r"\b(?:loses?|losing|loss(?: of| is)?|needs|takes|heat demand) (?:about )?# ")),
    role("burners", "count furnace|count heater", 1.0),
    role("burners", "n", -2.0, (4.0, r"# <(?:BTU|BTU/h|n)(?:/each)?> (?:furnaces|heaters|burners)?|# (?:furnaces|heaters|burners)\b")),
    role("burners", "people", -2.0, (4.5, r"\b(?:furnaces?|heaters?)\b[^#]{0,30} # ")),  # "three of them"
    role("bottles", "count cylinder", 0.5),
    role("bottles", "n", -2.0, (4.0, r"# (?:full )?<lb> (?:\w+ )?(?:pounders|bottles|cylinders|,|both)|# <lb>|# (?:full )?(?:bottles|cylinders)\b")),
    role("rate", "mass/time|volume/time|share/time|n/time", 1.0, each=False),
    role("moved", "mass|volume|share", -2.5,
        (4.0, r"\b(?:burned|burnt|burns?|burning|used|use|using|went through|go through|goes through|lost|drops?|dropped|down) (?:up |about |by |thru |through )?# "),
        (1.0, r"# (?:\w+ ){0,2}?(?:last night|overnight|yesterday|a night|every night|in <|per night|each night|the first night)"),
        bare=0.7, each=False),
    role("before", "mass|share", -0.6,
        (2.0, r"\b(?:was|were|from|started|began|had) (?:at |with |out |about )*# |# (?:\w+ ){0,4}?(?:last nite|last night|yesterday|<h> ago|ago|earlier|at bedtime)|# at <clock>"),
        bare=0.8),
    role("elapsed", "time", 0.1, (1.5, r"\b(?:in|over|after|took|within|past|last) (?:the |about |last )*# |# (?:ago|later|earlier)\b")),
    role("reserve", "mass|volume", -2.5, (5.0, r"\b(?:keep|keeping|leave|leaving|save|saving|reserve(?: of)?|hold back|never below|not below|down to|spare) (?:\w+ ){0,2}?# |# (?:(?:in|as|for) )?(?:a )?(?:reserve|spare)\b"), bare=0.7, each=False),
    role("needed", "time", 0.2, (1.5, r"\b(?:for|last|lasts|next|another|through|need|night is|run|runs|burn|in) (?:\w+ ){0,2}?# |# (?:night|trip|of heat|straight|run)\b")),
    role("nights", "time", -2.0, (4.5, r"# (?:of|at|x|times) <(?:h|min)>")),
    role("clock_before", "clock", 0.0, (0.5, r"<[^>]+> (?:\w+ ){0,2}?at # ")),
    role("deadline", "clock", -1.5, (3.0, r"\b(?:till|until|to|by|before|through) (?:about |around |the morning |morning )?# ")),
    role("deadline", "n", -2.0, (4.5, r"\b(?:till|until|to|by|before) (?:about )?# (?! ?(?:degrees|percent|lb))")),
    role("clock_before", "n", -2.0, (4.5, r"<(?:lb|percent|part)> (?:left )?at # (?:,|and|this|last|then|now|o)")),
    role("now", "n", -2.5, (4.5, r"<(?:lb|percent|part)> (?:left )?(?:now )?at # ")),
    role("now", "clock", 0.3, (1.0, r"<[^>]+> (?:\w+ ){0,2}?at # ")),
    role("gross", "mass", -2.0, (4.0, r"\b(?:scale|scales|weighs?|weighed|weighing|gross)\b(?: \w+| ,){0,3} # |# (?:on the (?:\w+ )?scale|total|gross|on it)\b"), bare=1.0),
    role("tare", "mass", -2.0, (4.5, r"\b(?:tare|tw|empty)(?: weight| is| of| stamped| stamp| mark| says| on| the| its| collar| reads)* # |# (?:tare|empty|tw)\b(?! (?:is|on|of|says|reads|weight|<))"), bare=0.7),
    role("water_capacity", "mass|volume", -2.0, (5.0, r"\b(?:wc|water capacity)\b(?: \w+){0,3} # |# (?:\w+ )?(?:water capacity|wc|of water capacity)\b"), bare=0.3),
    role("filled", "volume|mass", -0.8,
        (2.5, r"\b(?:put|pumped|filled|filler|took|takes?|bought|got|paid for|dispensed|meter\w*|pump\w*) (?:(?:in|it|with|about|said|says|reads|us|up|me) ){0,3}# |# (?:went )?in(?:to it)?(?: altogether)? (?:,|how|what)"), many=True),
    role("beside", "clock|people", -1.0, many=True),
    role("beside", "temperature", -0.8, many=True),
    role("beside", "n", -2.0, (3.8, r"\b(?:between|of|all) (?:the )?# |\bboth # "),
        (2.5, r"\bthe # |# (?:is |at |was )?(?:full|<part>|<percent>|half)\b|# (?:is|at) <"), many=True),
)  # fmt: skip


def applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    """Whether the sum is about propane."""
    frame = question.frame
    counted = want.kind == "times" and want.unit in ("cylinders", "bottles")
    if not (counted or want.kind in ("time", "volume", "mass", "energy", "power", "share", "")) or ELSEWHERE.search(
        frame
    ):
        return False
    burned = any(term.kind == "mass" for term in terms) and (
        _BURNED.search(frame) or _PASSED.search(frame) or want.rate
    )
    return _PROPANE.search(frame) is not None or bool(_FILLER.search(frame) or burned)


_PASSED = Lazy(r"<lb> (?:left )?at <clock>")
_BURNED = Lazy(r"\b(?:burn\w*|burnt|used|using|left|go(?:ing|es)? th\w+|went th\w+)\b")
_FILLER = Lazy(r"\b(?:filler|pump guy|the guy pumped|guy put|fill station)\b")


def _pounds(term: Term) -> float:
    """A weight or volume of propane in pounds."""
    return term.value * LB_PER_GAL if term.kind.startswith("volume") else term.value


def solve(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    if any(term.kind == "n" for term in t.roles.get("share", [])):  # "eighty percent at six and fifty now"
        shares = [one._replace(kind="share", value=one.value / 100) if one.kind == "n" else one for one in t.roles["share"]]  # fmt: skip
        t.roles = {**t.roles, "share": shares}
    if any(term.kind == "temperature" for term in t.roles.get("beside", [])) and not (t.has("rate") or t.has("moved")):
        return None  # how cold it is changes nothing about a rate that is told, but much about what is not
    if t.has("water_capacity"):
        return _stamped(t)
    if t.has("gross"):
        return _weighed(t)
    content = _content(t) if t.want.kind != "times" else (None, ())
    if content is None:
        return None
    pounds, lines = content
    burn = _burn(t)
    if burn is None:
        return None
    hourly, line = burn
    kept = t.one("reserve")
    if kept is not None:
        held = _pounds(kept)
        if pounds is None or held >= pounds or hourly == 0.0:
            return None
        lines = (*lines, f"{shown(pounds)} - {shown(held)} lb kept = {shown(pounds - held)} lb")
        pounds -= held
    needed = t.value("needed")
    nights = t.value("nights")
    if nights is not None:
        if needed is None:
            return None
        needed *= nights / 24
    if needed is None and t.has("deadline"):
        needed = _to_deadline(t)
        if needed is None:
            return None
    if t.want.kind == "times":
        return _cylinders(t, hourly, line, needed)
    if t.want.rate and t.want.kind in ("mass", "volume", "energy", ""):
        return _rated(t, pounds, lines, hourly, line, needed)
    if hourly == 0.0:
        return _converted(t, pounds, lines) if needed is None and pounds is not None else None
    if pounds is None:
        return _needed(t, hourly, line, needed)
    if t.want.kind not in ("time", "") or (t.want.kind == "" and needed is None and not t.want.judged):
        return None
    hours = pounds / hourly
    work = (*lines, line, f"{shown(pounds)} lb ÷ {shown(hourly)} lb an hour = {shown(hours)} h")
    verdict = ""
    if needed is not None and t.want.difference:
        left = pounds - hourly * needed
        word = "to spare" if left >= 0 else "short"
        verdict = f"{'Yes' if left >= 0 else 'No'}: {shown(abs(left))} pounds {word}."
        used = f"{shown(hourly)} lb an hour x {shown(needed)} h = {shown(hourly * needed)} lb"
        return _done(word, abs(left), "lb", t, (*lines, line, used), verdict, figure("lasts", hours, "h"), figure("days", hours / 24, "days"))  # fmt: skip
    if needed is not None:
        verdict = f"{'Yes, it lasts' if hours >= needed else 'No'}: {duration(hours)} against {duration(needed)}."
    elif t.want.judged and (until := _until(t)) is not None:
        verdict = f"{'Yes, it lasts' if hours >= until else 'No'}: {duration(hours)} against {duration(until)}."
    if t.want.clock:
        now = t.value("now")
        begin = t.now if now is None else t.now.replace(hour=int(now) % 24, minute=round(now % 1 * 60) % 60)
        verdict = f"{verdict} {at_clock(begin, hours)}".strip()
    days = figure("days", hours / 24, "days")
    return _done("lasts", hours, "h", t, work, verdict, days, source=HEAT_SOURCE)


def _to_deadline(t: Told) -> float | None:
    """Hours from the time told, or from now, to the time it must last to."""
    now, end = t.one("now"), t.one("deadline")
    if end is None:
        return None
    start = Amount(t.now.hour + t.now.minute / 60, "clock") if now is None else now.amount
    return hours_until(start, end.amount)


_SPANS = {"h": (1.0, "h", "an hour"), "day": (24.0, "day", "a day"), "min": (1 / 60, "min", "a minute")}


def _rated(t: Told, pounds: float | None, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate | None:  # fmt: skip
    """What is burned in an hour or a day, or may be, so that it lasts as long as it must."""
    factor, per, said = _SPANS[t.want.rate]
    work: tuple[str, ...] = (line,)
    name = "burns"
    if hourly == 0.0:
        if pounds is None or not needed:
            return None
        hourly, name = pounds / needed, "may burn"
        work = (*lines, f"{shown(pounds)} lb ÷ {shown(needed)} h = {shown(hourly)} lb an hour")
    elif needed is not None or (pounds is not None and not t.has("before")):
        return None
    by_span = hourly * factor
    work = work if factor == 1 else (*work, f"= {shown(by_span)} lb {said}")
    pound, gallon = (by_span, f"lb/{per}"), (by_span / LB_PER_GAL, f"gal/{per}")
    if t.want.kind == "energy":
        heat = by_span * BTU_PER_LB
        return _done(name, heat, "BTU/h" if per == "h" else "BTU", t, (*work, f"x {shown(BTU_PER_LB)} BTU/lb = {shown(heat)}"), "", figure("pounds", *pound), source=HEAT_SOURCE)  # fmt: skip
    first, other = (gallon, pound) if t.want.kind == "volume" else (pound, gallon)
    return _done(name, *first, t, work, "", figure("or", *other), source=f"{HEAT_SOURCE}; {WEIGHT_SOURCE}")


_DAY = Lazy(
    r"\b(?:to|till|until|through|by) (?:the )?(monday|tuesday|wednesday|thursday|friday|saturday|sunday)(?: (night|evening|morning|noon))?\b"
)
_TODAY = Lazy(r"\b(?:it is|it|today is|its|now) (?:' s )?(monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b")
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def _until(t: Told) -> float | None:
    """Hours until the day that it must last to, from the day and time told or from now."""
    goal, said = _DAY.search(t.question.frame), _TODAY.search(t.question.frame)
    if goal is None:
        return None
    at = t.value("now")
    hour = t.now.hour + t.now.minute / 60 if at is None else at
    today = _DAYS.index(said[1]) if said else t.now.weekday()
    end = {"night": 22.0, "evening": 20.0, "morning": 7.0, "noon": 12.0}.get(goal[2] or "", 12.0)
    return ((_DAYS.index(goal[1]) - today) % 7 or 7) * 24 + end - hour


def _many(t: Told) -> float:
    """How many cylinders are spoken of."""
    count = t.one("bottles")
    if Lazy(r"\b(?:the|and) other\b").search(t.question.frame):
        return 2.0
    if count is not None:
        return count.value
    return 2.0 if Lazy(r"\bboth\b").search(t.question.frame) else 1.0


_EACH = Lazy(r"<lb(?:/each)?> (?:\w+ )?(?:each|apiece)\b")
_BOTH = Lazy(
    r"\b(?:both|two) (?:of (?:the|them) )?(?:bottles|cylinders|tanks|have|has|got|are|together)\b|\b<cylinder>\b"
)
_TOGETHER = Lazy(r"\b(?:together|total|in all|between|combined|altogether|each|apiece)\b|\bin <cylinder>")


_SIDES = Lazy(
    r"\b(?:outside|outer|curb|left)\b.*\b(?:inside|inner|street|right)\b|\b(?:inside|inner|street|right)\b.*\b(?:outside|outer|curb|left)\b"
)


_TO_FILL = Lazy(
    r"\bto (?:fill|top)\b|\bshort of\b|\b(?:it take|fits?|can i (?:add|put in|get in)|room|more (?:can|will|does|to))\b"
)


_GONE = Lazy(
    r"\bhow much (?:\w+ ){0,2}(?:is|has been|have i|have we|did we|did i)? ?(?:gone|used|missing|burned|burnt|short)\b"
)


def _to_fill(t: Told, size: float | None, left: list[Term]) -> tuple[float, tuple[str, ...]] | None:
    """What still goes into a cylinder up to its legal fill, which is what it is called by."""
    if size is None or len(left) != 1 or t.has("rate") or t.has("moved") or t.has("burner"):
        return None
    room = size - _pounds(left[0])
    return (room, (f"{shown(size)} - {shown(_pounds(left[0]))} lb = {shown(room)} lb",)) if room > 0 else None


_NAMED = Lazy(
    r"# (?:\w+ )?(?:pounders?|cylinders?|bottles?|tanks?)\b|\b(?:cylinders?|bottles?) (?:of|is|are|hold|holds) # "
)


_EMPTY = Lazy(r"\b(?:one|the other|other one|other)(?: is)? empty\b")


def _left(t: Told, left: list[Term]) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds left in all cylinders with the working; None when the amounts fit nothing."""
    if all(term.kind == "n" for term in left) and not (t.has("rate") or t.has("moved")):
        return None
    gallons = any(term.kind == "volume" for term in left)
    pounds = sum(term.value * LB_PER_GAL if gallons and term.kind == "n" else _pounds(term) for term in left)
    size = t.value("size")
    if _TO_FILL.search(t.question.frame) and not t.has("filled"):
        return _to_fill(t, size, left)
    both = _BOTH.search(t.question.frame)
    if both and len(left) == 1 and not _TOGETHER.search(t.question.frame):
        return None  # in each, or in both together?
    if len(left) > 1:
        t.all("bottles")
    if len(left) == 1 and t.has("bottles"):
        if not Lazy(r"<lb> (?:\w+ )?(?:left )?(?:in )?each\b").search(t.question.frame):
            t.all("bottles")
        else:
            pounds *= _many(t)
    if t.has("filled") and left[0].each:
        pounds *= _many(t)
    if both and len(left) == 1 and _EACH.search(t.question.frame):
        pounds *= 2
    line = f"{' + '.join(shown(_pounds(term)) for term in left)} lb" if len(left) > 1 else ""
    gal = (
        f"{shown(left[0].value)} gal x {LB_PER_GAL} lb/gal = {shown(pounds)} lb"
        if left[0].kind == "volume" and len(left) == 1
        else ""
    )
    return pounds, tuple(one for one in (line, gal) if one)


def _content(t: Told) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds in all cylinders with the working; (None, ()) when none were told; None when they fit nothing."""
    left = t.all("left")
    if t.has("filled"):
        if left or t.has("size", "share"):
            return None
        left = t.all("filled")
    shares = [term.value for term in t.all("share")]
    if left:
        return None if shares else _left(t, left)
    if len(shares) == 1 and (_TO_FILL.search(t.question.frame) or _GONE.search(t.question.frame)):
        size = t.value("size")
        if size is None or t.has("bottles") or any(t.has(name) for name in ("rate", "moved", "burner")):
            return None
        room = size * (1 - shares[0])
        return room, (f"{shown(size)} lb x (1 - {shown(shares[0], 3)}) = {shown(room)} lb",)
    named = t.has("size") and _NAMED.search(t.roles["size"][0].around) is not None
    size = t.value("size")
    sides = _SIDES.search(t.question.frame)
    if size is None and shares and (sides or t.has("before")):
        size = t.coach.propane.cylinders[0].nominal_lb
        t.assumed.append(f"a {shown(size)} lb cylinder (profile)")
    if size is None:
        return None if shares or t.has("bottles") else (None, ())
    many = 2.0 if sides else _many(t)
    full = len(Lazy(r"\b(?:full|<n> full)\b(?! (?:of|at|time|blast|on|bore))").findall(t.question.frame))
    if not shares:
        shares = [1.0] * (round(many) if full else 0)
        if (
            not full
            and named
            and (
                t.has("left") or t.has("burner", "duty") or t.want.kind in ("energy", "volume", "mass") or t.has("rate")
            )
        ):
            shares = [1.0] * round(many)
        if not shares:
            return None
    elif len(shares) + 1 == many and not full and _EMPTY.search(t.question.frame):
        shares = [*shares, 0.0]
    elif len(shares) < many:
        shares = (
            [*shares, *([1.0] * full)]
            if full and len(shares) + full == many
            else shares * round(many)
            if len(shares) == 1
            else shares
        )
    if len(shares) != round(many):
        return None
    pounds = size * sum(shares)
    parts = " + ".join(f"{shown(size)} x {shown(one, 3)}" for one in shares)
    return pounds, (f"{parts} = {shown(pounds)} lb",)


_OVER_CLOCKS = Lazy(r"<(?:n|lb|kg|gal|percent)> (?:\w+ ){0,3}?(?:from|between) <clock> (?:to|till?|until|and) <clock>")


def _burn(t: Told) -> tuple[float, str] | None:
    """Pounds an hour with the working; 0 when none was told; None when what was told does not fit together."""
    rate = t.one("rate")
    if rate is not None:
        if rate.kind == "share/time" or t.has("burner", "moved"):
            return None
        kinds = {term.kind for term in t.roles.get("left", [])}
        plain = next((term.factor for term in t.roles.get("left", []) if term.kind == "mass"), 1.0)
        if rate.kind == "n/time":
            rate = rate._replace(value=rate.value * plain)
        if rate.kind == "n/time" and kinds not in ({"mass"}, {"volume"}):
            return None
        hourly = per_hour(rate) * (
            LB_PER_GAL if rate.kind == "volume/time" or (rate.kind == "n/time" and kinds == {"volume"}) else 1.0
        )
        span = {"day": (24.0, "a day"), "week": (168.0, "a week")}.get(rate.per, (1.0, "an hour"))
        return hourly, f"{shown(hourly * span[0])} lb {span[1]}"
    if t.has("moved"):
        moved = t.one("moved")
        if moved is None or moved.kind == "share" or t.has("before", "burner"):
            return None
        if t.has("needed") and _IN_TIME.search(moved.around):
            return None
        if not t.has("elapsed") and _OVER_CLOCKS.search(t.question.frame):
            return None  # burned between two times of day: in those hours, not in a night and day
        hours = t.value("elapsed") if t.has("elapsed") else 24.0 if _NIGHTLY.search(t.question.frame) else None
        if not hours:
            return None
        pounds = _pounds(moved)
        return (
            pounds / hours,
            f"{shown(pounds)} lb in {'a night, one each day' if not t.has('elapsed') else shown(hours) + ' h'}",
        )
    if t.has("before"):
        return _between(t)
    powers = [*t.all("burner"), *t.all("loss")]
    if not powers:
        return (0.0, "") if not t.has("duty", "efficiency") else None
    if any(term.kind == "n" and term.value < 3000 for term in powers):
        return None
    duties = [term.value for term in t.all("duty")] or [1.0]
    count = t.value("burners")
    if count is None and len(powers) == 1:
        count = 2.0 if Lazy(r"\bboth (?:\w+ )?(?:furnaces|heaters|<BTU)").search(t.question.frame) else 1.0
    if len(powers) > 1 and (count or len(powers)) != len(powers):
        return None
    if len(duties) not in (1, len(powers)):
        return None
    if len(duties) == 1:
        duties = duties * len(powers)
    efficiency = t.value("efficiency")
    if t.has("loss") and efficiency is None:
        return None
    heat = sum(term.value * duty for term, duty in zip(powers, duties, strict=True)) * (
        count if count and len(powers) == 1 else 1.0
    )
    if efficiency and t.has("loss"):
        heat /= efficiency
    hourly = heat / BTU_PER_LB
    parts = " + ".join(
        f"{shown(term.value)}{'' if duty == 1 else f' x {shown(duty, 3)}'}"
        for term, duty in zip(powers, duties, strict=True)
    )
    parts += f" x {shown(count)}" if count and count > 1 and len(powers) == 1 else ""
    parts += f" ÷ {shown(efficiency)}" if efficiency and t.has("loss") else ""
    return hourly, f"{parts} = {shown(heat)} BTU/h ÷ {shown(BTU_PER_LB)} = {shown(hourly)} lb an hour"


def _between(t: Told) -> tuple[float, str] | None:
    """Pounds an hour from two levels and the time between them."""
    first, last = t.one("before"), t.roles.get("left") or t.roles.get("share") or []
    if first is None or len(last) != 1 or t.has("burner", "moved"):
        return None
    hours = t.value("elapsed")
    if hours is None:
        start, end = t.one("clock_before"), t.one("now")
        forward = first.amount.start < last[0].amount.start
        if start is None or end is None:
            return None
        if (t.roles["clock_before"][0].amount.start < t.roles["now"][0].amount.start) is not forward:
            return None
        hours = hours_until(start.amount, end.amount)
    if (first.kind == "share") is not (last[0].kind == "share"):
        return None
    size = 1.0
    if first.kind == "share":
        size = t.roles["size"][0].value if t.has("size") else t.coach.propane.cylinders[0].nominal_lb
    fall = (_pounds(first) - _pounds(last[0])) * size
    if fall <= 0 or not hours:
        return None
    return fall / hours, f"{shown(fall)} lb in {shown(hours)} h = {shown(fall / hours)} lb an hour"


_IN_TIME = Lazy(r"# (?:\w+ )?(?:in|over) (?:the last |the |about )?<")
_NIGHTLY = Lazy(r"\b(?:last night|overnight|a night|every night|per night|each night|yesterday|nights? like that)\b")


def _cylinders(t: Told, hourly: float, line: str, needed: float | None) -> Estimate | None:
    """How many cylinders a time takes."""
    size = t.value("size")
    hours = needed if needed is not None else t.value("elapsed")
    if not size or not hours or hourly <= 0:
        return None
    pounds = hourly * hours
    count = pounds / size
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h = {shown(pounds)} lb", f"{shown(pounds)} ÷ {shown(size)} lb = {shown(count, 3)}")  # fmt: skip
    whole = ceil(count - 1e-9)
    return _done("cylinders", count, "cylinders", t, work, f"Take {whole} full one{'s' if whole > 1 else ''}.", figure("pounds", pounds, "lb"))  # fmt: skip


def _needed(t: Told, hourly: float, line: str, needed: float | None) -> Estimate | None:
    """What burns in a time."""
    hours = needed if needed is not None else t.value("elapsed")
    if hours is None or t.want.kind not in ("volume", "mass", "", "energy"):
        return None
    pounds = hourly * hours
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h = {shown(pounds)} lb")
    return _amount(t, pounds, work, "burns")


def _converted(t: Told, pounds: float, lines: tuple[str, ...]) -> Estimate | None:
    """An amount of propane in what it is wanted in."""
    gone = t.want.kind == "" and _GONE.search(t.question.frame) is not None
    if (t.want.kind not in ("mass", "volume", "energy") and not gone) or t.want.rate:
        return None
    said = {term.kind for name in ("left", "filled") for term in t.roles.get(name, [])} or {"mass"}
    same = {term.unit for name in ("left", "filled") for term in t.roles.get(name, [])} & {t.want.unit}
    if t.want.kind in said and len(t.question.amounts) == 1 and (same or not t.want.unit):
        return None
    return _amount(t, pounds, lines, "propane")


def _amount(t: Told, pounds: float, work: tuple[str, ...], name: str) -> Estimate:
    gallons = pounds / LB_PER_GAL
    by_weight = t.want.kind == "mass" or (t.want.kind == "" and True)
    if t.want.kind == "energy":
        heat = pounds * BTU_PER_LB
        line = f"{shown(pounds)} lb x {shown(BTU_PER_LB)} BTU/lb = {shown(heat)} BTU"
        return _done(name, heat, "BTU", t, (*work, line), "", figure("pounds", pounds, "lb"), source=HEAT_SOURCE)
    line = f"{shown(pounds)} lb ÷ {LB_PER_GAL} lb/gal = {shown(gallons)} gal"
    value, unit = (pounds, "lb") if by_weight else (gallons, "gal")
    other = figure("gallons", gallons, "gal") if by_weight else figure("pounds", pounds, "lb")
    return _done(name, value, unit, t, (*work, line), "", other, source=WEIGHT_SOURCE)


_WEIGHS = Lazy(r"\b(?:weigh|weighs|gross|on the scale)\b")


def _stamped(t: Told) -> Estimate | None:
    """What the water capacity on the collar allows."""
    from cabassist.estimate.cylinders import fill_from_water_capacity
    from cabassist.sums.working_sheet import quantity

    stamp = t.one("water_capacity")
    tare = t.value("tare")  # stamped beside it
    if stamp is None:
        return None
    if tare is not None and stamp.kind != "volume" and _WEIGHS.search(t.question.frame):
        fill = fill_from_water_capacity(quantity(stamp.value, "lb"))
        pounds = fill.value or 0.0
        line = f"{shown(pounds)} + {shown(tare)} lb = {shown(pounds + tare)} lb"
        return _done("weighs when filled", pounds + tare, "lb", t, (*fill.working, line), "", figure("propane", pounds, "lb"), source=fill.source)  # fmt: skip
    if stamp.kind != "volume":
        found = fill_from_water_capacity(quantity(stamp.value, "lb"))
        if t.want.kind == "volume":
            from cabassist.sums.working_sheet import in_unit

            return in_unit(found, "gal")
        return found
    most = MOST_OF_VOLUME * stamp.value
    return _done(
        "most that may be filled", most, "gal", t, (f"80 % of {shown(stamp.value)} gal = {shown(most)} gal",),
        "80 percent at most, the outage gauge decides.", figure("pounds", most * LB_PER_GAL, "lb"), source=f"80 % fill rule (NFPA 58, from memory); {WEIGHT_SOURCE}",
    )  # fmt: skip


def _weighed(t: Told) -> Estimate | None:
    """What the scale says without the tare."""
    gross, tare = t.value("gross"), t.value("tare")
    if gross is None or tare is None or gross <= tare or t.has("left"):
        return None
    size = t.value("size")
    pounds = gross - tare
    work = (f"{shown(gross)} - {shown(tare)} lb = {shown(pounds)} lb",)
    if size and _TO_FILL.search(t.question.frame):
        room = size - pounds
        if room <= 0 or t.has("rate"):
            return None
        return _done("room", room, "lb", t, (*work, f"{shown(size)} - {shown(pounds)} = {shown(room)} lb"), "", figure("gallons", room / LB_PER_GAL, "gal"))  # fmt: skip
    if t.want.kind == "time":
        burn = _burn(t)
        if burn is None or burn[0] <= 0 or t.has("needed"):
            return None
        line = f"{shown(pounds)} lb ÷ {shown(burn[0])} lb an hour = {shown(pounds / burn[0])} h"
        return _done("lasts", pounds / burn[0], "h", t, (*work, burn[1], line), "", figure("days", pounds / burn[0] / 24, "days"), source=HEAT_SOURCE)  # fmt: skip
    if size:
        share = figure("of its fill", pounds / size * 100, "percent")
        if t.want.kind == "share":
            return _done("full", pounds / size * 100, "percent", t, (*work, f"÷ {shown(size)} lb = {shown(pounds / size * 100, 3)} %"), "", figure("pounds", pounds, "lb"))  # fmt: skip
        return _done("propane left", pounds, "lb", t, work, "", figure("gallons", pounds / LB_PER_GAL, "gal"), share)
    return None if t.want.kind == "share" else _done("propane left", pounds, "lb", t, work, "", figure("gallons", pounds / LB_PER_GAL, "gal"))  # fmt: skip


def _done(name: str, value: float, unit: str, t: Told, work: tuple[str, ...], verdict: str = "", *also: Figure, source: str = "arithmetic") -> Estimate:  # fmt: skip
    return exact(name, value, unit, working=tuple(line for line in work if line), assumptions=tuple(t.assumed), source=source, verdict=verdict, also=also)  # fmt: skip


def _calculation(question: Question) -> str:
    if Lazy(r"\b(?:how long|days?|nights?|hours?|hrs|burn|last)\b|<BTU").search(question.frame):
        return "propane-hours" if "<BTU" in question.frame else "propane-days-left"
    return "propane-weight"


PROPANE = Family(_calculation, applies, ROLES, solve)
