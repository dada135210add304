"""Sums over propane: how long it lasts, how much is burned, pounds and gallons, what a stamp allows.

Everything is put into pounds: gallons by the trade weight, heat by what a pound gives.
"""

from __future__ import annotations

from dataclasses import replace
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
from cabassist.sums.told_parts import EVEN, asks_lack

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
    role("size", "mass|volume", -0.5,
        (2.5, r"# (?:propane |steel |aluminum |full )?(?:pounders?|cylinders?|bottles?|tanks?)\b|\b(?:both|two|<n>|full) (?:full )?# (?:s )?(?:at|,|is|are|and|pounders)\b"),
        (2.5, r"\beach (?:cylinder|bottle|tank) (?:(?:is|holds|has) )?# |\b(?:cylinders|bottles) (?:are|hold) # "),
        (1.5, r"\bfull # |# (?:bottle|cylinder)s? full\b"),
        bare=1.0, many=True, each=None),
    role("share", "share", 0.3,
        (1.5, r"# (?:full|left|of a (?:bottle|cylinder|tank))\b|\b(?:at|is|gauge|reads?|shows?|other|one) (?:at |is |about )?# "),
        never=r"# (?:of )?(?:the |that )?time\b|# efficien", many=True),
    role("share", "n", -1.5, (4.0, r"<percent> (?:and )?(?:one|the other|other|inside|outside|street|curb)(?: one| side)?(?: is)? at # |<(?:percent|part)> (?:at <clock> )?(?:and|,|now|then|to|but) (?:\w+ ){0,2}?# (?:at|now|this|$)"), many=True),
    role("duty", "share", -1.5,
        (4.0, r"# (?:of )?(?:the |that )?(?:time|hour|night|day)\b|# duty\b|\bduty (?:cycle )?(?:of |is )?# "),
        (3.0, r"<BTU(?:/h)?> (?:\w+ )?at # "),
        (1.5, r"\b(?:on|runs?|running|going|burning|burns|cycl\w+|fires?|firing|lit) (?:about |maybe |around |only |for )?# "),
        many=True),
    role("duty", "n", -9.0, many=True),  # "0.4 duty"
    role("burner", "n/time", -9.0),  # "thirty thousand an hour"
    role("bottles", "people", -9.0),  # "two of them"
    role("efficiency", "share", -2.5, (5.0, r"# efficien|\befficien\w* (?:of |is |at )?# ")),
    role("burner", "power|energy|count furnace|count heater", 0.8, bare=1.5, many=True, never=r"\b(?:loses?|losing|loss(?: of| is)?|needs|takes) # "),
    role("loss", "power|energy", -1.5, (4.0, r"\b(?:loses?|losing|loss(?: of| is)?|needs|takes|heat demand) (?:about )?# ")),
    role("burners", "count furnace|count heater", 1.0),
    role("burners", "n", -2.0, (4.0, r"# <(?:BTU|BTU/h|n)(?:/each)?> (?:furnaces|heaters|burners)?|# (?:furnaces|heaters|burners)\b")),
    role("burners", "people", -2.0, (4.5, r"\b(?:furnaces?|heaters?)\b[^#]{0,30} # ")),  # "three of them"
    role("bottles", "count cylinder", 0.5),
    role("bottles", "n", -2.0, (4.0, r"# (?:full )?<lb> (?:\w+ )?(?:pounders|bottles|cylinders|,|both)|# <lb>|# (?:full )?(?:bottles|cylinders)\b")),
    role("rate", "mass/time|volume/time|share/time|n/time", 1.0, each=False),
    role("rate", "share", -9.0, each=False),  # "a quarter every night": only the network hands it out
    role("moved", "mass|volume|share", -2.5,
        (4.0, r"\b(?:burned|burnt|burns?|burning|used|use|using|went through|go through|goes through|lost|drops?|dropped|down) (?:up |about |by |thru |through )?# "),
        (1.0, r"# (?:\w+ ){0,2}?(?:last night|overnight|yesterday|a night|every night|in <|per night|each night|the first night)"),
        bare=0.7, each=False),
    role("before", "mass|volume|share", -0.6,
        (2.0, r"\b(?:was|were|from|started|began|had) (?:at |with |out |about )*# |# (?:\w+ ){0,4}?(?:last nite|last night|yesterday|<h> ago|ago|earlier|at bedtime)|# at <clock>"),
        bare=0.8),
    role("elapsed", "time", 0.1, (1.5, r"\b(?:in|over|after|took|within|past|last) (?:the |about |last )*# |# (?:ago|later|earlier)\b")),
    role("reserve", "mass|volume|share", -2.5, (5.0, r"\b(?:keep|keeping|leave|leaving|save|saving|reserve(?: of)?|hold back|never below|not below|down to|spare) (?:\w+ ){0,2}?# |# (?:(?:in|as|for) )?(?:a )?(?:reserve|spare)\b"), bare=0.7, each=False),
    role("reserve", "length", -9.0),  # "leave five in" is heard as inches
    role("needed", "time", 0.2, (1.5, r"\b(?:for|last|lasts|next|another|through|need|night is|run|runs|burn|in) (?:\w+ ){0,2}?# |# (?:night|trip|of heat|straight|run)\b")),
    role("nights", "time", -2.0, (4.5, r"# (?:of|at|x|times) <(?:h|min)>")),
    role("nightly", "time|time/time", -2.5, (4.0, r"# (?:of heat |of burning |on )?(?:a|per|each|every) (?:night|day)\b"), bare=0.7),
    role("on", "time", -2.5, (4.5, r"# on (?:, )?(?:and |then )?<(?:min|n)> off\b"), bare=0.7),
    role("off", "time", -2.5, (4.5, r"<min> on (?:, )?(?:and |then )?# off\b"), bare=0.7),
    role("cycle", "time", -2.5, (4.5, r"<min> (?:on |out |burning )?(?:of|in) every # "), bare=0.7),
    role("clock_before", "clock", 0.0, (0.5, r"<[^>]+> (?:\w+ ){0,2}?at # ")),
    role("deadline", "clock", -1.5, (3.0, r"\b(?:till|until|to|by|before|through) (?:about |around |the morning |morning )?# ")),
    role("deadline", "n", -2.0, (4.5, r"\b(?:till|until|to|by|before) (?:about )?# (?! ?(?:degrees|percent|lb))")),
    role("clock_before", "n", -2.0, (4.5, r"<(?:lb|percent|part)> (?:left )?at # (?:,|and|this|last|then|now|o)")),
    role("now", "n", -2.5, (4.5, r"<(?:lb|percent|part)> (?:left )?(?:now )?at # ")),
    role("now", "clock", 0.3, (1.0, r"<[^>]+> (?:\w+ ){0,2}?at # ")),
    role("gross", "mass", -2.0, (4.0, r"\b(?:scale|scales|weighs?|weighed|weighing|gross)\b(?: \w+| ,){0,3} # |# (?:on the (?:\w+ )?scale|total|gross|on it)\b"), bare=1.0, many=True),
    role("tare", "mass", -2.0, (4.5, r"\b(?:tare|tw|empty)(?: weight| is| of| stamped| stamp| mark| says| on| the| its| collar| reads)* # |# (?:tare|empty|tw)\b(?! (?:is|on|of|says|reads|weight|<))"), bare=0.7, many=True),
    role("water_capacity", "mass|volume", -2.0, (5.0, r"\b(?:wc|water capacity)\b(?: \w+){0,3} # |# (?:\w+ )?(?:water capacity|wc|of water capacity)\b"), bare=0.3),
    role("filled", "volume|mass", -0.8,
        (2.5, r"\b(?:put|pumped|filled|filler|took|takes?|bought|got|paid for|dispensed|meter\w*|pump\w*) (?:(?:in|it|with|about|said|says|reads|us|up|me) ){0,3}# |# (?:went )?in(?:to it)?(?: altogether)? (?:,|how|what)"), many=True),
    role("filled", "n", -9.0, many=True),
    role("price", "n", -2.5, (4.5, r"# (?:dollars |bucks )?(?:a|per) (?:gallon|pound|<gal|<lb)|# <(?:gal|lb)>")),
    role("priced", "volume|mass", -2.5, (4.5, r"\b(?:at|is|charge|charges|asks?|for) <n> (?:a |per )?#")),
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


def _sized(t: Told) -> float | None:
    """Pounds that the one cylinder spoken of holds."""
    size = t.one("size")
    return None if size is None else _pounds(size)


def solve(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    if any(term.kind == "n" for term in t.roles.get("share", [])):  # "eighty percent at six and fifty now"
        shares = [one._replace(kind="share", value=one.value / 100) if one.kind == "n" else one for one in t.roles["share"]]  # fmt: skip
        t.roles = {**t.roles, "share": shares}
    for name in ("before", "reserve"):
        if t.has("share", name) and all(term.kind == "n" for term in t.roles[name]):
            t.roles = {**t.roles, name: [one._replace(kind="share", value=one.value / 100) for one in t.roles[name]]}
    if not _bare_fit(t):
        return None
    warm = any(term.kind == "temperature" for term in t.roles.get("beside", []))
    if warm and not any(t.has(name) for name in ("rate", "moved", "before", "duty", "on", "loss")):
        return None  # how cold it is changes nothing about a rate that is told, but much about what is not
    if not _shares_fit(t):
        return None
    asked = _HOW_MANY.search(t.question.frame)
    if asked:
        t.want = replace(t.want, kind="times", unit="furnaces" if asked[1][0] in "fh" else "cylinders")
    if t.has("price"):
        return None if t.want.kind in ("time", "share", "power", "energy") else _cost(t)
    if t.has("water_capacity"):
        return None if t.want.kind in ("time", "share", "power", "energy") else _stamped(t)
    if t.has("tare") and not t.has("gross"):
        return _heavy(t)
    if t.has("gross") and not any(t.has(name) for name in _SPENDING):
        return _weighed(t)
    if _asks_duty(t):
        return _duty_of(t)
    if t.has("before") and not any(t.has(name) for name in ("moved", "elapsed", "clock_before", "now", "needed")):
        return _gone(t)
    content = _content(t) if t.want.kind != "times" or t.has("left") or t.has("share") else (None, ())
    if content is None:
        return None
    pounds, lines = content
    burn = _burn(t)
    if burn is None:
        return None
    hourly, line = burn
    held = _held(t)
    if held and pounds is not None:
        if held >= pounds:
            return None
        lines = (*lines, f"{shown(pounds)} - {shown(held)} lb kept = {shown(pounds - held)} lb")
        pounds -= held
    span = _span(t)
    if span is None:
        return None
    needed = span or None
    if t.want.kind == "times":
        return _counted(t, pounds, hourly, line, needed)
    if (
        hourly == 0.0
        and pounds is not None
        and needed
        and (t.want.kind == "power" or (t.want.kind == "energy" and t.has("duty")))
    ):
        return _may_burn(t, pounds, lines, needed)
    if t.want.kind == "share":
        return _share_left(t, pounds, lines, hourly, line, needed)
    allowed = _PER.search(t.question.frame) if hourly == 0.0 and needed and not t.want.rate else None
    if allowed and t.want.kind in ("mass", "volume"):
        t.want = replace(t.want, rate="h" if allowed[1] == "hour" else "day")
    asked_per = _BURNS_PER.search(t.question.frame)
    if asked_per and not t.want.rate and pounds is None and needed is None and t.want.kind in ("mass", "volume", ""):
        t.want = replace(t.want, rate="h" if asked_per[1] == "hour" else "day")
    if t.want.rate and t.want.kind in ("mass", "volume", "energy", "") and not (t.has("nightly") and needed):
        return _rated(t, pounds, lines, hourly, line, needed)
    if hourly == 0.0:
        return _converted(t, pounds, lines) if needed is None and pounds is not None else None
    if pounds is None:
        return _needed(t, hourly, line, needed, held or 0.0)
    if needed is not None and (
        t.want.kind in ("mass", "volume") or (t.want.kind == "" and _BUY.search(t.question.frame))
    ):
        return _over(t, pounds, lines, hourly, line, needed)
    if t.want.kind not in ("time", "") or (t.want.kind == "" and needed is None and not t.want.judged):
        return None
    return _lasts(t, pounds, lines, hourly, line, needed)


_EVERY = Lazy(r"# (?:of (?:it|that|the \w+) )?(?:a|an|per|each|every) (hour|night|day)\b")


def _bare_fit(t: Told) -> bool:
    """Put what is left or kept without a unit into the unit told beside it, and a share "every night" into one an hour."""
    if any(one.kind == "n" and not 0 < one.value <= 1 for one in t.roles.get("duty", [])):
        return False
    rates = t.roles.get("rate", [])
    if len(rates) == 1 and "/" not in rates[0].kind:
        every = _EVERY.search(rates[0].around)
        if every is None or rates[0].kind == "n":
            return False
        hourly = rates[0].value / (1.0 if every[1] == "hour" else 24.0)
        rates = [rates[0]._replace(kind=f"{rates[0].kind}/time", value=hourly)]
        t.roles = {**t.roles, "rate": rates}
    kept = [one._replace(kind="n", value=one.amount.value) if one.unit == "in" else one for one in t.roles.get("reserve", [])]  # fmt: skip
    if any(one.kind == "length" for one in kept):
        return False
    t.roles = {**t.roles, "reserve": kept} if kept else t.roles
    told = [one for name in ("left", "reserve", "filled", "before") for one in t.roles.get(name, []) if one.kind in ("mass", "volume")]  # fmt: skip
    told += [one._replace(kind=one.kind.partition("/")[0], value=one.amount.value) for one in rates if one.unit in ("lb", "gal")]  # fmt: skip
    if told:
        for name in ("left", "reserve"):
            if name in t.roles:
                t.roles = {**t.roles, name: [_like(one, told[0]) for one in t.roles[name]]}
    return True


_IS_EFFICIENCY = Lazy(
    r"# (?:\w+ )?effic|\beffic\w* (?:(?:of|is|at|about|around) )*# |\b(?:burns|burning) at (?:about )?# (?!(?:of )?(?:the |that )?(?:time|hour|night|day|duty)|duty)"
)
_IS_DUTY = Lazy(
    r"# (?:of )?(?:the |that |each |every |an? )?(?:time|hour|night|day|clock)\b|# duty\b|\bduty (?:cycle )?(?:(?:of|is|at|about) )*# "
)
_LEAST_EFFICIENT = 0.5
"""No furnace gets less of its heat into the air; what is told below that is something else."""
_BURNS_WELL = 0.7


def _shares_fit(t: Told) -> bool:
    """Whether no efficiency was taken for a share of the time, and no share of the time for an efficiency."""
    for one in t.roles.get("duty", []):
        if _IS_EFFICIENCY.search(one.around) and (one.value >= _BURNS_WELL or "effic" in one.around):
            return False
    return all(one.value >= _LEAST_EFFICIENT and not _IS_DUTY.search(one.around) for one in t.roles.get("efficiency", []))  # fmt: skip


def _lasts(t: Told, pounds: float, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate:  # fmt: skip
    """How long what is there lasts, until when, and whether that is long enough."""
    hours = pounds / hourly
    work = (*lines, line, f"{shown(pounds)} lb ÷ {shown(hourly)} lb an hour = {shown(hours)} h")
    verdict = ""
    if needed is not None and t.want.difference:
        left = pounds - hourly * needed
        word = "to spare" if left >= 0 else "short"
        verdict = f"{'Yes' if (left >= -EVEN) != asks_lack(t.question) else 'No'}: {shown(abs(left))} pounds {word}."
        used = f"{shown(hourly)} lb an hour x {shown(needed)} h = {shown(hourly * needed)} lb"
        return _done(word, abs(left), "lb", t, (*lines, line, used), verdict, figure("lasts", hours, "h"), figure("days", hours / 24, "days"))  # fmt: skip
    if needed is not None:
        verdict = _enough(t, hours, needed)
    elif t.want.judged and (until := _until(t)) is not None:
        verdict = _enough(t, hours, until)
    if t.want.clock:
        now = t.value("now")
        begin = t.now if now is None else t.now.replace(hour=int(now) % 24, minute=round(now % 1 * 60) % 60)
        verdict = f"{verdict} {at_clock(begin, hours)}".strip()
    days = figure("days", hours / 24, "days")
    return _done("lasts", hours, "h", t, work, verdict, days, source=HEAT_SOURCE)


def _enough(t: Told, hours: float, needed: float) -> str:
    """Whether it lasts, as a yes or no to what was asked."""
    spans, lacks = f"{duration(hours)} against {duration(needed)}.", asks_lack(t.question)
    if hours >= needed - EVEN:
        return f"{'No' if lacks else 'Yes'}, it lasts: {spans}"
    return f"Yes, it runs out: {spans}" if lacks else f"No: {spans}"


_SPENDING = ("burner", "loss", "rate", "moved", "before", "needed", "deadline", "nightly")
"""Roles that make more of a weight than what is in the cylinder."""


def _span(t: Told) -> float | None:
    """How long it must last, in hours; 0 when that was not told, None when what was told does not fit together."""
    needed, nights = t.value("needed"), t.value("nights")
    if nights is not None:
        return None if needed is None else needed * nights / 24
    if needed is None and t.has("deadline"):
        return _to_deadline(t)
    return needed or 0.0


def _capacity(t: Told) -> float:
    """Pounds that all cylinders together hold."""
    sizes = t.all("size")
    if len(sizes) > 1:
        return sum(_pounds(term) for term in sizes)
    one = _pounds(sizes[0]) if sizes else t.coach.propane.cylinders[0].nominal_lb
    if not sizes:
        t.assumed.append(f"a {shown(one)} lb cylinder (profile)")
    return one * max(_many(t), float(len(t.roles.get("share", []))))


def _held(t: Told) -> float | None:
    """Pounds that are to stay in."""
    kept = t.one("reserve")
    if kept is None:
        return None
    return kept.value * _capacity(t) if kept.kind == "share" else _pounds(kept)


_HOW_MANY = Lazy(
    r"\bhow many (?:(?:of those|of these|of the|more|full|fresh|new|spare|extra|such|<lb>|propane|big|little) ){0,3}(furnaces|heaters|bottles|cylinders|<lb>(?= (?:do|does|would|will|should|must|for|to|is|are|at)))(?![\w])"
)
_BY_POUND = Lazy(r"<n> (?:dollars |bucks )?(?:a|per|the|/) (?:pound|lb)\b")
_REMAINS = Lazy(r"\b(?:left|remain\w*|still|full)\b")
_MINUTES = Lazy(r"\bhow many minutes (?:of|in|out of|an|per|each|every) (?:(?:the|an|each|every) )?hour\b")
_PER = Lazy(r"\b(?:an|a|per|each|every) (hour|day|night)\b")
_BURNS_PER = Lazy(
    r"\b(?:what|how (?:much|many))\b[^,.]* (?:do|does|will|would|did|is)\b[^,.]* (?:burn|burns|use|uses|eat|drink|consume|take|takes|go through|burned|used)(?: \w+){0,2}? (?:a|an|per|each|every|in an|in a) (hour|day|night)\b"
)
""" "What do they burn an hour, in gallons": a rate, though the unit stands alone."""
_BUY = Lazy(r"\bhow much (?:more|extra|propane|gas|lp|fuel|(?:\w+ ){0,3}(?:buy|get|fetch|put in))\b")
_DUTY = Lazy(
    r"\b(?:(?:of|in) (?:the|that|each|every|an) (?:time|hour|clock)|of time|duty|how (?:often|hard)|(?:how much|what (?:share|part|percent|percentage|fraction)) of (?:the|each|every|a) (?:time|hour|night|day))\b"
)


def _asks_duty(t: Told) -> bool:
    """Whether it is asked how much of the time the furnace burns, or may."""
    if not t.has("burner") or t.has("duty") or t.has("on"):
        return False
    if t.want.kind == "time":
        return bool(t.want.rate) or _MINUTES.search(t.question.frame) is not None
    return t.want.kind in ("share", "") and not t.want.judged and _DUTY.search(t.question.frame) is not None


def _duty_of(t: Told) -> Estimate | None:
    """What share of the time the furnace burns: what is or may be burned over what it burns when it is always on."""
    heat = _heat(t)
    if heat is None:
        return None
    full, line = heat
    lines: tuple[str, ...]
    if any(t.has(name) for name in ("rate", "moved", "before")):
        burn = _burn(t)
        if burn is None:
            return None
        hourly, lines = burn[0], (burn[1],)
    else:
        content, span = _content(t), _span(t)
        if content is None or content[0] is None or not span:
            return None
        pounds = content[0] - (_held(t) or 0.0)
        hourly, lines = (
            pounds / span,
            (*content[1], f"{shown(pounds)} lb ÷ {shown(span)} h = {shown(pounds / span)} lb an hour"),
        )
    part = hourly / full if full else 0.0
    if part <= 0:
        return None
    work = (*lines, line, f"{shown(hourly)} ÷ {shown(full)} = {shown(part * 100, 3)} %")
    minutes, daily = figure("an hour", part * 60, "min"), figure("a day", part * 24, "h")
    verdict = "It can burn all the time." if part >= 1 else ""
    if t.want.kind == "time" and t.want.rate != "day":
        return _done(
            "burning in each hour",
            part * 60,
            "min",
            t,
            work,
            verdict,
            figure("of the time", part * 100, "percent"),
            source=HEAT_SOURCE,
        )
    return _done("of the time", part * 100, "percent", t, work, verdict, minutes, daily, source=HEAT_SOURCE)


def _heavy(t: Told) -> Estimate | None:
    """What a cylinder weighs with what is in it."""
    content, tare = _content(t), t.value("tare")
    if content is None or not content[0] or tare is None or t.want.kind not in ("mass", ""):
        return None
    many = _many(t)
    whole = content[0] + tare * many
    work = (
        *content[1],
        f"{shown(content[0])} lb + {shown(tare)} lb{'' if many == 1 else f' x {shown(many)}'} = {shown(whole)} lb",
    )
    return _done("weighs", whole, "lb", t, work, "", figure("propane", content[0], "lb"))


def _cost(t: Told) -> Estimate | None:
    """What a fill costs at a price for a gallon or a pound."""
    price, unit = t.value("price"), t.one("priced")
    content, burn, span = _content(t), _burn(t), _span(t)
    if price is None or content is None or burn is None or span is None:
        return None
    pounds = burn[0] * span if burn[0] else content[0]
    if not pounds or (burn[0] and content[0] is not None):
        return None
    name = "lb" if (unit.kind == "mass" if unit else _BY_POUND.search(t.question.frame)) else "gal"
    count = pounds / (_pounds(unit) if unit else LB_PER_GAL if name == "gal" else 1.0)
    work = (*content[1], burn[1], f"{shown(count)} {name} x {shown(price)} = {shown(count * price)}")
    return _done("cost", count * price, "dollars", t, work, source=WEIGHT_SOURCE)


def _gone(t: Told) -> Estimate | None:
    """What is gone between two readings."""
    fall = _fall(t)
    if fall is None or t.want.kind not in ("mass", "volume", "energy", "") or t.want.rate:
        return None
    return _amount(t, fall[0], (fall[1],), "gone")


def _counted(t: Told, pounds: float | None, hourly: float, line: str, needed: float | None) -> Estimate | None:
    """How many cylinders a time takes beside what is there, or how many furnaces what is there can feed."""
    if t.want.unit not in ("furnaces", "heaters"):
        return _cylinders(t, hourly, line, needed, pounds or 0.0)
    if pounds is None or not needed or hourly <= 0 or t.has("burners"):
        return None
    count = pounds / needed / hourly
    work = (line, f"{shown(pounds)} lb ÷ {shown(needed)} h ÷ {shown(hourly)} = {shown(count, 3)}")
    return _done(t.want.unit, count, t.want.unit, t, work, f"That feeds {int(count)}.", source=HEAT_SOURCE)


def _may_burn(t: Told, pounds: float, lines: tuple[str, ...], needed: float) -> Estimate | None:
    """How large a furnace may be, so that what is there lasts as long as it must."""
    duty = t.value("duty") if t.has("duty") else _cycled(t) or 1.0
    count = t.value("burners") or 1.0
    if not duty:
        return None
    heat = pounds * BTU_PER_LB / needed / duty / count
    over = "".join(f" ÷ {shown(one, 3)}" for one in (duty, count) if one != 1)
    work = (*lines, f"{shown(pounds)} lb x {shown(BTU_PER_LB)} BTU/lb ÷ {shown(needed)} h{over} = {shown(heat)} BTU/h")
    return _done("may burn", heat, "BTU/h", t, work, source=HEAT_SOURCE)


def _share_left(t: Told, pounds: float | None, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate | None:  # fmt: skip
    """How full the cylinders are, now or after the time told."""
    told = any(t.has(name) for name in ("left", "share", "gross", "filled"))
    if pounds is None or (not told and needed and hourly > 0 and not _REMAINS.search(t.question.frame)):
        if not needed or hourly <= 0 or not t.has("size"):
            return None
        size = _capacity(t)
        part = hourly * needed / size
        return _done(
            "burns",
            part * 100,
            "percent",
            t,
            (line, f"{shown(hourly)} x {shown(needed)} h ÷ {shown(size)} lb = {shown(part * 100, 3)} %"),
            source=HEAT_SOURCE,
        )
    if (
        bool(needed) is not (hourly > 0)
        or not (t.has("size") or t.has("share"))
        or (needed is None and t.has("share") and len(t.roles["share"]) == 1)
    ):
        return None
    size = _capacity(t)
    left = pounds - hourly * (needed or 0.0)
    if left < 0:
        return _done(
            "full",
            0.0,
            "percent",
            t,
            (*lines, line),
            f"It runs out before: {duration(pounds / hourly)}.",
            source=HEAT_SOURCE,
        )
    used = f"{shown(pounds)} - {shown(hourly)} lb an hour x {shown(needed)} h = {shown(left)} lb" if needed else ""
    work = (*lines, line, used, f"{shown(left)} ÷ {shown(size)} lb = {shown(left / size * 100, 3)} %")
    return _done("full", left / size * 100, "percent", t, work, "", figure("pounds", left, "lb"))


def _over(t: Told, pounds: float, lines: tuple[str, ...], hourly: float, line: str, needed: float) -> Estimate:
    """What is left after the time told, or short of it."""
    used = hourly * needed
    left = pounds - used
    work = (*lines, line, f"{shown(hourly)} lb an hour x {shown(needed)} h = {shown(used)} lb")
    verdict = f"{'Yes' if (left >= -EVEN) != asks_lack(t.question) else 'No'}: {shown(abs(left))} pounds {'to spare' if left >= 0 else 'short'}."
    found = _amount(t, abs(left), work, "to spare" if left >= 0 else "short")
    return replace(found, verdict=verdict)


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
    frame = of_cylinders(t.question.frame)
    if Lazy(r"\b(?:the|and) other\b").search(frame):
        return 2.0
    if count is not None:
        return count.value
    return 2.0 if Lazy(r"\bboth\b").search(frame) else 1.0


def of_cylinders(frame: str) -> str:
    """The words without the "both" and "the other" that are said of furnaces."""
    return _BOTH_BURN.sub(" ", _OTHER_BURNS.sub(" ", frame))


_BOTH_BURN = Lazy(
    r"\bboth (?:of (?:them|the|those) )?(?:(?!bottles|cylinders|tanks|full|at\b)\w+ )?(?:furnaces|heaters|burners|burning|running|firing|going|lit|on|run|burn|fire|<BTU(?:/h)?(?:/each)?>|<furnace>|<heater>)"
    r"|<(?:BTU|BTU/h|furnace|heater)(?:/each)?> (?:(?:furnaces|heaters|burners) )?both\b"
)
""" "Both" of the furnaces, which says nothing of cylinders."""
_OTHER_BURNS = Lazy(
    r"\b(?:the|and) other (?:furnace|heater|burner)\b|\b(?:the|and) other(?: one)?(?: (?:is|at|a|of|burns|does))* <(?:BTU|BTU/h)>"
    r"|<(?:BTU|BTU/h)>(?: \w+| ,){0,2} the other(?: one)?(?: (?:is|at|a|of|burns|does))* <n>"
)


_EACH = Lazy(r"<lb(?:/each)?> (?:\w+ )?(?:each|apiece)\b")
_BOTH = Lazy(
    r"\b(?:both|two) (?:of (?:the|them) )?(?:bottles|cylinders|tanks|have|has|got|are|together)\b|\b<cylinder>\b"
)
_TOGETHER = Lazy(r"\b(?:together|total|in all|between|combined|altogether|each|apiece)\b|\bin <cylinder>")


_SIDES = Lazy(
    r"\b(?:outside|outer|curb|left)\b.*\b(?:inside|inner|street|right)\b|\b(?:inside|inner|street|right)\b.*\b(?:outside|outer|curb|left)\b"
)


_TO_FILL = Lazy(
    r"\bto (?:fill|top)\b|\btop(?:ping)? (?:up|off)\b|\bshort of\b|\b(?:it take|fits?|can i (?:add|put in|get in)|room|more (?:can|will|does|to))\b"
)


_GONE = Lazy(
    r"\bhow (?:much|many(?= (?:pounds|lbs?|gallons|gal|kilos|kg)\b)) (?:\w+ ){0,2}(?:is|are|has been|have been|have i|have we|did we|did i)? ?(?:gone|used|missing|burned|burnt|short)\b"
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


_PLURAL = Lazy(r"\b(?:cylinders|bottles|tanks|ones|pounders) (?:\w+ ){0,3}?<(?:n|percent|part)> and\b")
_EMPTY = Lazy(r"\b(?:one|the other|other one|other)(?: is)? empty\b")


def _left(t: Told, left: list[Term]) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds left in all cylinders with the working; None when the amounts fit nothing."""
    if all(term.kind == "n" for term in left) and not any(t.has(name) for name in ("rate", "moved", "before")):
        return None
    gallons = any(term.kind == "volume" for term in left)
    pounds = sum(term.value * LB_PER_GAL if gallons and term.kind == "n" else _pounds(term) for term in left)
    size = _sized(t)
    spent = any(t.has(name) for name in _SPENDING)
    if _TO_FILL.search(t.question.frame) and not t.has("filled") and not spent and not t.has("price"):
        return _to_fill(t, size, left)
    both = _BOTH.search(t.question.frame)
    if both and len(left) == 1 and not _TOGETHER.search(t.question.frame):
        return None  # in each, or in both together?
    if len(left) > 1:
        t.all("bottles")
    if len(left) == 1 and t.has("bottles"):
        if not Lazy(
            r"<(?:lb|kg|gal|L)(?:/each)?> (?:\w+ ){0,3}?(?:each|apiece|every)\b|\beach (?:\w+ ){1,3}?<(?:lb|kg|gal)"
        ).search(t.question.frame):
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
    if t.has("gross"):
        return _on_scale(t)
    if t.has("before", "moved"):
        return _since(t)
    left = t.all("left")
    if t.has("filled"):
        if left or t.has("size", "share"):
            return None
        left = t.all("filled")
    shares = [term.value for term in t.all("share")]
    if left:
        return _beside_full(t, left, shares) if shares else _left(t, left)
    if len(shares) == 1 and (_TO_FILL.search(t.question.frame) or _GONE.search(t.question.frame)):
        size = _sized(t)
        if size is None or t.has("bottles") or any(t.has(name) for name in ("rate", "moved", "burner")):
            return None
        room = size * (1 - shares[0])
        return room, (f"{shown(size)} lb x (1 - {shown(shares[0], 3)}) = {shown(room)} lb",)
    if len(t.roles.get("size", [])) > 1:
        return _unlike(t, shares)
    named = t.has("size") and _NAMED.search(t.roles["size"][0].around) is not None
    size = _sized(t)
    sides = _SIDES.search(t.question.frame)
    if size is None and shares and (sides or t.has("before")):
        size = t.coach.propane.cylinders[0].nominal_lb
        t.assumed.append(f"a {shown(size)} lb cylinder (profile)")
    if size is None:
        return None if shares or t.has("bottles") else (None, ())
    many = 2.0 if sides else _many(t)
    if len(shares) == 1 and many == 1 and _AND_ONE.search(t.question.frame):
        many = 2.0  # "one forty pounder full and one at three eighths"
    full = len(
        Lazy(r"(?<!<part> )(?<!<percent> )(?<!when )\b(?:full|<n> full)\b(?! (?:of|at|time|blast|on|bore))").findall(
            t.question.frame
        )
    )
    if len(shares) > 1 and many == 1 and not full and not t.has("bottles") and _PLURAL.search(t.question.frame):
        many = float(len(shares))  # "cylinders at 70 and 20 percent, forty pounds each"
    if not shares and not full and t.has("moved") and t.roles["moved"][0].kind == "share":
        return None, ()
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


def _beside_full(t: Told, left: list[Term], shares: list[float]) -> tuple[float, tuple[str, ...]] | None:
    """Pounds told of one cylinder, with the share that another one of a size is full."""
    size = _sized(t)
    if len(left) != 1 or left[0].kind == "n" or len(shares) != 1 or size is None:
        return None
    if not Lazy(r"\b(?:other|another|second)\b|\band <n> <lb>").search(t.question.frame):
        return None
    t.all("bottles")
    pounds = _pounds(left[0]) + size * shares[0]
    return pounds, (f"{shown(_pounds(left[0]))} + {shown(size)} x {shown(shares[0], 3)} = {shown(pounds)} lb",)


def _like(one: Term, other: Term) -> Term:
    """An amount told without a unit in that of the other."""
    if one.kind != "n" or other.kind not in ("mass", "volume", "share"):
        return one
    return one._replace(kind=other.kind, value=one.amount.value * other.factor)


def _since(t: Told) -> tuple[float, tuple[str, ...]] | None:
    """Pounds left of what there was, without what was burned of it."""
    first, moved = t.one("before"), t.one("moved")
    if first is None or moved is None or any(t.has(name) for name in ("left", "share", "gross", "filled")):
        return None
    first, moved = _like(first, moved), _like(moved, first)  # "started at eighteen kilos and used nine"
    had, gone = (one.value * _capacity(t) if one.kind == "share" else _pounds(one) for one in (first, moved))
    t.all("size")
    return (had - gone, (f"{shown(had)} - {shown(gone)} lb = {shown(had - gone)} lb",)) if had > gone else None


def _unlike(t: Told, shares: list[float]) -> tuple[float, tuple[str, ...]] | None:
    """Pounds in cylinders of different sizes, full ones when nothing else was told."""
    sizes = [_pounds(term) for term in t.all("size")]
    t.all("bottles")
    if shares and len(shares) not in (1, len(sizes)):
        return None
    parts = _one_share(t) if len(shares) == 1 else shares or [1.0] * len(sizes)
    if parts is None:
        return None
    pounds = sum(size * part for size, part in zip(sizes, parts, strict=True))
    return pounds, (
        f"{' + '.join(f'{shown(size)} x {shown(part, 3)}' for size, part in zip(sizes, parts, strict=True))} = {shown(pounds)} lb",
    )


_AND_ONE = Lazy(
    r"(?:<n>|<cylinder>|\bone\b)(?: (?:<lb>|is|one|bottle|cylinder|pounder|,))* full\b(?! of)(?: \S+){0,4}? (?:and|,) (?:one|<n>|the other|another)\b"
)
_ALL_ALIKE = Lazy(r"\b(?:both|each|all|every|apiece|they)\b")
_ONE_FULL = Lazy(
    r"(?:<n>|<cylinder>|\b(?:one|other|spare|second|first|another)\b)(?: \w+){0,2} full\b(?! of)|\bfull (?:<n>|<lb>|one)|<lb> (?:\w+ ){0,2}full\b(?! of)|\bfull (?:forty|hundred)"
)


def _one_share(t: Told) -> list[float] | None:
    """How full cylinders of different sizes are when one share is told: all the same, or one of them with the other full or empty."""
    frame, share = t.question.frame, t.roles["share"][0]
    sizes = t.roles["size"]
    if _ALL_ALIKE.search(frame):
        return [share.value] * len(sizes)
    rest = 1.0 if _ONE_FULL.search(frame) else 0.0 if _EMPTY.search(frame) else None
    ahead = [k for k, one in enumerate(sizes) if one.amount.start < share.amount.start]
    if rest is None or not ahead:
        return None
    return [share.value if k == ahead[-1] else rest for k in range(len(sizes))]


def _on_scale(t: Told) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds in the cylinders on a scale, without their tare; (None, ()) when no tare was told, so that only a fall is known."""
    gross, tare = [term.value for term in t.all("gross")], [term.value for term in t.all("tare")]
    if t.has("left") or t.has("share"):
        return None
    t.all("size")
    if not tare:
        return (None, ()) if t.has("before") else None
    if len(tare) not in (1, len(gross)):
        return None
    parts = [
        one - empty for one, empty in zip(gross, tare * (1 if len(tare) == len(gross) else len(gross)), strict=True)
    ]
    if min(parts) <= 0:
        return None
    many = _many(t) if len(parts) == 1 else 1.0
    t.all("bottles")
    pounds = sum(parts) * many
    return pounds, (
        f"{' + '.join(shown(one) for one in gross)} lb on the scale less the tare{'' if many == 1 else f', x {shown(many)}'} = {shown(pounds)} lb",
    )


_OVER_CLOCKS = Lazy(r"<(?:n|lb|kg|gal|percent)> (?:\w+ ){0,3}?(?:from|between) <clock> (?:to|till?|until|and) <clock>")


def _burn(t: Told) -> tuple[float, str] | None:
    """Pounds an hour with the working; 0 when none was told; None when what was told does not fit together."""
    rate = t.one("rate")
    if rate is not None:
        if (t.has("moved") and not t.has("before")) or (t.has("burner") and not _asks_duty(t)):
            return None
        if rate.kind == "share/time":
            hourly = rate.value * _capacity(t) * _cycled(t)
            return hourly, f"{shown(hourly)} lb an hour"
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
        part = _cycled(t) * (t.value("duty") or 1.0)
        hourly *= part
        return hourly, f"{shown(hourly * span[0])} lb {span[1]}"
    if t.has("moved"):
        moved = t.one("moved")
        if moved is None:
            return None
        if t.has("burner") and not _asks_duty(t):
            return _heat(t) if _spent_before(t, moved) else None
        if t.has("needed") and not t.has("elapsed") and _IN_TIME.search(moved.around):
            return None
        if not t.has("elapsed") and _OVER_CLOCKS.search(t.question.frame):
            return None  # burned between two times of day: in those hours, not in a night and day
        daily = _NIGHTLY.search(_ASKED_RATE.sub("", t.question.frame)) or _DAILY.search(moved.around)
        hours = t.value("elapsed") if t.has("elapsed") else 24.0 if daily else None
        if not hours:
            return (0.0, "") if t.has("before") and not t.has("burner") else None
        pounds = moved.value * _capacity(t) if moved.kind == "share" else _pounds(moved)
        return (
            pounds / hours,
            f"{shown(pounds)} lb in {'a night, one each day' if not t.has('elapsed') else shown(hours) + ' h'}",
        )
    if t.has("before"):
        return _between(t)
    return _heat(t)


def _spent_before(t: Told, moved: Term) -> bool:
    """Whether what was burned of what there was only tells what is left, the furnaces burning on from there."""
    at_once = not (_NIGHTLY.search(t.question.frame) or _DAILY.search(moved.around) or _EVERY.search(moved.around))
    took = Lazy(r"\bhow long (?:did|was|were|has|have|had|ago|it took)\b").search(t.question.frame)
    return t.has("before") and not t.has("elapsed") and at_once and took is None


def _cycled(t: Told) -> float:
    """The share of the time a furnace burns by its minutes on and off, or its hours each night."""
    part, on, off, cycle, nightly = 1.0, t.one("on"), t.one("off"), t.one("cycle"), t.one("nightly")
    if on is not None and (off is not None or cycle is not None):
        burning = on.value if on.kind == "time" else on.value / 60
        other = off or cycle
        assert other is not None
        rest = other.value if other.kind == "time" else other.value * (on.factor if on.kind == "time" else 1 / 60)
        part = burning / (burning + rest if off is not None else rest)
    if nightly is not None:
        part *= nightly.value if nightly.kind == "time/time" else nightly.value / 24
    return part


def _heat(t: Told) -> tuple[float, str] | None:
    """Pounds an hour of the furnaces with the working; 0 when none was told; None when what was told does not fit together."""
    powers = [*t.all("burner"), *t.all("loss")]
    if not powers:
        return (0.0, "")
    if any(term.kind not in ("power", "energy") and term.value < 3000 for term in powers):
        return None
    duties = [term.value for term in t.all("duty")] or [1.0]
    count = t.value("burners")
    if count is None and len(powers) == 1:
        count = 2.0 if _BOTH_BURN.search(t.question.frame) else 1.0
    if len(powers) > 1 and count not in (None, 1.0, float(len(powers))):  # "one furnace is 30,000 and the other ..."
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
    cycled = _cycled(t)
    heat *= cycled
    hourly = heat / BTU_PER_LB
    parts = " + ".join(
        f"{shown(term.value)}{'' if duty == 1 else f' x {shown(duty, 3)}'}"
        for term, duty in zip(powers, duties, strict=True)
    )
    parts += f" x {shown(count)}" if count and count > 1 and len(powers) == 1 else ""
    parts += f" x {shown(cycled, 3)}" if cycled != 1 else ""
    parts += f" ÷ {shown(efficiency)}" if efficiency and t.has("loss") else ""
    return hourly, f"{parts} = {shown(heat)} BTU/h ÷ {shown(BTU_PER_LB)} = {shown(hourly)} lb an hour"


def _between(t: Told) -> tuple[float, str] | None:
    """Pounds an hour from two levels and the time between them."""
    hours = t.value("elapsed")
    first, last = t.one("before"), _last(t)
    if first is None or len(last) != 1:
        return None
    if hours is None:
        start, end = t.one("clock_before"), t.one("now")
        forward = first.amount.start < last[0].amount.start
        if start is None or end is None:
            return None
        if (t.roles["clock_before"][0].amount.start < t.roles["now"][0].amount.start) is not forward:
            return None
        hours = hours_until(start.amount, end.amount)
    fall = _fall(t)
    if fall is None or not hours:
        return None
    return fall[0] / hours, f"{fall[1]} in {shown(hours)} h = {shown(fall[0] / hours)} lb an hour"


def _last(t: Told) -> list[Term]:
    """The later reading."""
    return t.all("gross") or t.all("left") or t.all("share")


def _fall(t: Told) -> tuple[float, str] | None:
    """Pounds burned between two readings."""
    first, last = t.one("before"), _last(t)
    if first is None or len(last) != 1 or t.has("moved") or (t.has("burner") and not _asks_duty(t)):
        return None
    if (first.kind == "share") is not (last[0].kind == "share"):
        return None
    size = _capacity(t) if first.kind == "share" else 1.0
    if first.kind != "share":
        t.all("size")
    fall = (_pounds(first) - _pounds(last[0])) * size
    return (fall, f"{shown(fall)} lb") if fall > 0 else None


_IN_TIME = Lazy(r"# (?:\w+ )?(?:in|over) (?:the last |the |about )?<")
_ASKED_RATE = Lazy(
    r"\b(?:how (?:many|much)|what)(?: (?!is |was |did )\S+){0,5}? (?:a|per|an|each|every) (?:day|night)\b"
)
""" "How many pounds a night": the span that is asked for, not that of what was burned."""
_DAILY = Lazy(
    r"# (?:(?:of|the|a|our|my|its|that|propane|gas|bottle|cylinder|tank|full|<lb>) ){0,6}(?:per|each|every|a) day\b"
)
_NIGHTLY = Lazy(r"\b(?:last night|overnight|a night|every night|per night|each night|yesterday|nights? like that)\b")


def _cylinders(t: Told, hourly: float, line: str, needed: float | None, there: float = 0.0) -> Estimate | None:
    """How many cylinders a time takes."""
    size = _sized(t)
    hours = needed if needed is not None else t.value("elapsed")
    if not size or not hours or hourly <= 0:
        return None
    pounds = hourly * hours
    count = max(pounds - there, 0.0) / size
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h = {shown(pounds)} lb", f"{shown(pounds)} ÷ {shown(size)} lb = {shown(count, 3)}")  # fmt: skip
    whole = ceil(count - 1e-9)
    return _done("cylinders", count, "cylinders", t, work, f"Take {whole} full one{'s' if whole > 1 else ''}.", figure("pounds", pounds, "lb"))  # fmt: skip


def _needed(t: Told, hourly: float, line: str, needed: float | None, held: float = 0.0) -> Estimate | None:
    """What burns in a time."""
    hours = needed if needed is not None else t.value("elapsed")
    if hours is None or t.want.kind not in ("volume", "mass", "", "energy"):
        return None
    pounds = hourly * hours + held
    kept = f" + {shown(held)} lb kept" if held else ""
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h{kept} = {shown(pounds)} lb")
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
    if len(t.roles["gross"]) > 1 or (t.has("bottles") and t.value("bottles") != 1) or t.want.kind == "energy":
        content = _on_scale(t)
        return _amount(t, content[0], content[1], "propane left") if content and content[0] else None
    gross, tare = t.value("gross"), t.value("tare")
    if gross is None or tare is None or gross <= tare or t.has("left"):
        return None
    size = _sized(t)
    pounds = gross - tare
    work = (f"{shown(gross)} - {shown(tare)} lb = {shown(pounds)} lb",)
    gone = _GONE.search(t.question.frame) is not None
    if gone and size is None:
        return None
    if size and (gone or _TO_FILL.search(t.question.frame)):
        room = size - pounds
        if room <= 0 or t.has("rate"):
            return None
        if t.want.kind == "share":
            return None
        return _done("gone" if gone else "room", room, "lb", t, (*work, f"{shown(size)} - {shown(pounds)} = {shown(room)} lb"), "", figure("gallons", room / LB_PER_GAL, "gal"))  # fmt: skip
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


PROPANE = Family("propane", _calculation, applies, ROLES, solve)
