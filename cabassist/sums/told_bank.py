"""Sums over a battery bank: how long, how many amp hours, what charger, what draw, what is gained by switching off."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.battery import CHARGE_EFFICIENCY, CRANKING, CRANKING_SOURCE
from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import duration, figure, interpolated, shown, withheld
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import (
    ENDS,
    EVEN,
    MARKED,
    OTHERS,
    STARTS,
    asks_lack,
    between,
    degrees_f,
    hour_now,
    hour_of,
    lasting,
    listed,
    now_term,
    result,
)
from cabassist.sums.working_sheet import quantity

_BANK = Lazy(r"<Ah>|\b(?:batter\w+|bank|amp ?hours?|ah)\b.*<(?:A|n/h)>|<A>.*\b(?:batter\w+|bank|amp ?hours?|ah)\b")
_CHARGES = Lazy(
    r"\b(?:re ?)?charg(?:e|es|er|ers|ing|ed)\b|\balternator\b|\bput(?:ting)? (?:\w+ ){0,3}back\b|\bhook ?up\b"
)
STAYS_IN = r"(?:of (?:it|that|them|the \w+) )?(?:\w+ )?(?:sticks?|stays?|go(?:es|ing) in|gets? in|getting in|(?:gets |is )?stored|is kept|kept|counts)\b"
"""After a share of what a charger gives."""
_LEVEL = r"\b(?:at|is|it is|from|now|full|starting at|sits at|sitting at|sitting|started at|begin\w* at|was at|shows|reads|bank|batter\w+|charge of) (?:about |around |only )?# "
_COLD = r"(?:cold|frost|freez\w*|chill|temperature|weather|minus|below)"
_IN_THE_COLD = (
    rf"\b(?:gives?|giving|delivers?|holds?|good for|makes?|leaves?|down to|cut to|to|only|at)(?: (?:us|me|you|about|only|maybe|just))* # (?:of (?:it|that|its \w+|what \w+ \w+|the \w+) )?(?:when |in |at |because of |with |under )+(?:it ' s |it is |this |the |that |such )*{_COLD}\b"
    rf"|\b(?:{_COLD}|cold (?:soaked|soak|through)|froze\w*|winter)(?: [^#<]\S*){{0,6}} (?:figure|figuring|call|calling|say|reckon|count|counting|assume|take|plan)(?: (?:it|them|that|on|with|only|just|about|maybe|for|is|at|good|the bank))* # (?:of (?:it|that|them|its|their|what|(?:the |our |my )?<Ah>)|on (?:it|them))\b"
    rf"|\b{_COLD}\b(?: \S+){{0,5}} (?:only|just) (?:has|have|holds?|gives?|got) (?:about )?# of (?:it|its|the|their)\b"
    rf"|\b{_COLD}\b(?: (?:it|they|she|the bank|knocks?|cuts?|brings?|takes?|drops?|gives?|delivers?|holds?|leaves?|only|just|about|makes?|them|that|us|down|has|is))+ (?:to |at )?# "
)
_COLD_LEAVES = Lazy(_IN_THE_COLD)
_OFF_BY_COLD = rf"\b{_COLD} (?:(?:eats|steals|takes|robs|costs|knocks off|shaves off|cuts off)(?: away| off| us| me| about)*) # |\blos(?:es|ing|e) (?:about )?# (?:\w+ ){{0,3}}(?:in|to|from|because of) (?:this |the |that )*{_COLD}\b|# (?:less|lost|gone|off) (?:in|to|from|because of) (?:this |the |that )*{_COLD}\b"
"""What cold leaves of the amp hours, and what it takes of them."""
_ROLES = (
    role("capacity", "charge", 0.5, (1.0, r"# (?:house |battery )?(?:bank|batter\w+|lithium\w*|agm\w*)\b|\b(?:bank|batter\w+)(?: is| of| holds| has)?(?: a| about)? # "), never=r"usable #"),
    role("usable", "charge", -0.5, (3.5, r"# (?:\w+ )?(?:usable|useable|available|left|remaining|in (?:it|them|there)|to (?:use|play|work|spare)\w*)\b(?! <(?:part|percent)>)|\b(?:usable|useable|available)(?: \w+)? # ")),
    role("missing", "charge", -1.6, (4.1, r"\b(?:down|short|missing|replace|back|put|used|took(?: out)?|drew|pulled|owe(?: (?:the|my|our) \w+)?|deficit|out|burned|burnt)(?: by| about| of| the| around| some| is)* # |# (?:\w+ )?(?:down|short|missing|back|out|gone|used|light|under|deficit|to (?:put|go|replace|get back)\b)")),
    role("missing", "n", -2.5, (5.5, r"\bput (?:the |those |that |them )*# back\b")),
    role("load", "current|watts", 0.5, (0.5, r"\b(?:draw\w*|pull\w*|load\w*|us(?:e|es|ing)|tak\w+|fans?|lights?|pump)\b[^#]{0,12}# |# (?:\w+ )?(?:load|draw|all told|in all|total)\b"), many=True),
    role("load", "n", -1.6, (2.6, r"\b(?:draw\w*|pull\w*|lights?|pump|fans?|fridge|heater|load of) (?:is |of |at |about )?# "), never=r"# of (?:them|those)\b", many=True),
    role("load", "current/time", -9.0, many=True),  # "sixteen amps an hour" is said of a current
    role("charger", "current", -0.3, (2.5, r"# (?:\w+ )?(?:charger|alternator|charg\w*)\b|\b(?:charger|alternator)\b[^#<]{0,20} # |\bcharg\w+ (?:it |them )?(?:at|with) (?:an? )?# |\b(?:going in|puts? in|giv\w+|put\w* out|makes?) (?:at )?# |# (?:going )?in\b")),
    role("off", "current", -1.6, (4.6, r"\b(?:(?:turn|shut|switch|kill|knock)\w* (?:off|down)|without|unplug|drop(?:ping)?|lose|kill)(?: the| my| that| a| just)* # |\b(?:turn|shut|switch)\w* (?:the |that |my )?# (?:\w+ ){0,2}off\b"), never=r"# (?:\w+ )?charger\b"),
    role("before", "current|n", -1.6, (4.0, r"\b(?:out of|instead of|rather than|down from|vs|versus|not) (?:a |the |my )?# "), bare=0.3),
    role("efficiency", "share", -1.6, (5.1, r"# (?:\w+ )?effic|\beffic\w* (?:of |is |at |about )*# |# inverter|\bcharger at (?:about )?# |\binverter (?:at|is|of) # |# " + STAYS_IN), (3.1, r"\binverter\b[^#]*<W>[^#]{0,20} # |<W>[^#]{0,30}\binverter\b[^#]{0,16} # "), (4.0, r"<A> (?:\w+ )?(?:charger )?(?:at|,|with) (?:about |around |roughly |say |maybe )?# ")),
    role("lost", "share", -1.6, (5.6, r"\b(?:los(?:es|ing|s|e)|wast(?:es|ing|e)|lost)(?: of| about| roughly| around| is| me)* # |# (?:of (?:it|that) )?(?:(?:gets?|is|are|gone|being) )?(?:loss(?:es)?|lost|wasted|goes up)\b")),
    role("count", "n", -1.6, many=True),
    role("count", "people", -9.0, many=True),  # "there's two of them", of the fans: only the network hands it out
    role("duty", "share", -1.6, (5.1, r"# (?:of|out of) (?:the |that |every )?(?:time|clock|hour|night)\b|# the time\b|# duty\b|\bduty (?:cycle )?(?:of |is )?# "), many=True),
    role("charge", "share", 0.0, (1.5, _LEVEL + r"|# (?:now|full|charged?|soc|in it)\b"), (1.0, r"<Ah> (?:\w+ ){0,3}(?:at |, )?# |<Ah> # "), bare=0.6),
    role("charge", "n", -1.8, (3.5, r"\bfrom # (?:percent )?(?:up |down )?to\b|\b(?:was|bank|sitting|sits|sat) at # ")),
    role("stop", "share", -0.5, (2.5, r"\b(?:to|down to|till?|until|floor|stop(?: at)?|stopping at|below|under|leave|leaving|keep|beneath|past|reserve|minimum|cut ?off|quit at|back to|hit|at)(?: of| is| at| it at)* # |# (?:floor|cut ?off|minimum|min|reserve)\b")),
    role("stop", "n", -1.8, (3.5, r"\b(?:below|under|past|down to|floor|stop at|<clock> and|<percent> (?:up |down )?to|<part> to)(?: of| is)? # |\b(?:like|want|need) (?:it at |about )?# (?:percent )?(?:before|by|when)\b")),
    role("derated", "share", -1.6, (6.6, _IN_THE_COLD)),
    role("derated_by", "share", -1.6, (6.9, _OFF_BY_COLD)),
    role("usable_share", "share", -1.6, (4.1, r"# (?:of (?:it|that|them) )?(?:is |are )?(?:usable|useable|dod|depth)\b|\b(?:only use|use only|use|using|usable is|usable) (?:just |about )?# ")),
    role("hours", "time", 0.3),
    role("batteries", "n", -1.6, (4.6, r"# (?:x |<V> )?(?:volt )?<Ah(?:/each)?>|# (?:<V> )?(?:volt |\w+ )?batter\w+"), never=r"\bto # |# of "),
    role("volts", "volts", -0.2),
    role("start", "clock", 0.0, *STARTS, (1.2, r"\b(?:from|at|it is|it|started|off at|stop\w* at|park\w* at|since|now|plug\w* in at|begin\w*|off|down at|up at|get on\b.* at) # |# (?:now|till?|until|to|,)")),
    role("start", "n", -1.8, (3.2, r"\b(?:stop|park|off|quit|shut|switch|from)\w*(?: down| up| off)?(?: at)? # |\b(?:lights|heads|everyone) (?:out|down) at # "), never=r"\bstop at # (?:percent|$)"),
    role("end", "clock", 0.0, *ENDS, (1.5, r"\b(?:to|till?|until|by|hold to|before|(?:start|engine|fire)\w*(?: up| the engine| it| again| up)* at|engine at) # |\b<clock>(?: and| ,)?(?: \w+){0,4} (?:at )?# "), never=r"\b(?:down from|stop\w*) at # "),
    role("end", "n", -1.8, (3.4, r"\b(?:engine|generator|up|rolling)(?: again| up)? at # "), (2.5, r"\bat # $|\b(?:till?|until|by|to) # ")),
    OTHERS,
    role("beside", "people|temperature|distance", -0.5, many=True),
    role("capacity", "n", MARKED),
    role("usable", "n", MARKED),
    role("charger", "n", MARKED),
    role("efficiency", "n", MARKED),
    role("lost", "n", MARKED),
    role("derated", "n", MARKED),
    role("derated_by", "n", MARKED),
    role("usable_share", "n", MARKED),
    role("hours", "n", MARKED),
    role("volts", "n", MARKED),
    role("rated", "current|n", MARKED),  # the cranking amps of a starting battery
    role("engine", "current|n", MARKED),  # those that the engine needs
    role("cold", "temperature|n", MARKED),  # how cold the starting battery is
    role("rested", "volts|n", MARKED),  # what the bank reads at rest, which tells its charge
    role("rested_at", "temperature|n", MARKED),  # how warm it is then
    role("claimed", "time|current|charge|watts|share|n", MARKED),  # what somebody says comes out
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    known = {"time", "current", "charge", "share", ""}
    return (
        want.kind in known
        and _BANK.search(question.frame) is not None
        and not question.has(r"\b(?:peukert|diesel|propane|generator burns|awg)\b|<awg>|<(?:mpg|gal|lb|psi)>")
    )


def _draw(t: Told) -> tuple[float, list[float]] | None:
    """Amps of the loads, each through the bank's voltage when it is told in watts."""
    loads = t.all("load")
    if not loads:
        return None
    efficiency = _efficiency(t) if any(one.kind == "watts" for one in loads) else 1.0
    volts = _volts(t, any(one.kind == "watts" for one in loads))
    times = {one.amount.start: 1.0 for one in loads}
    if any(_NO_COUNT.search(one.around) for one in t.roles.get("count", [])):
        return None
    for many in t.all("count"):
        times[_nearest(many, loads, after=not _BEHIND.search(many.around))] *= many.value
    duties = t.all("duty")
    if duties and len(loads) > 1 and _ALL_OF_IT.search(t.question.frame):
        return None  # of which load?
    for duty in duties:
        times[_nearest(duty, loads, after=False)] *= duty.value
    each = [
        times[one.amount.start] * (one.value / (volts * efficiency) if one.kind == "watts" else one.value)
        for one in loads
    ]
    return sum(each), each


_ALL_OF_IT = Lazy(r"\b(?:both|all of (?:it|them|that)|everything|the lot)\b")


_NO_COUNT = Lazy(r"\b(?:pump|lights?|fans?|fridge|heater|radio|inverter) # (?:and|,|plus|$)")
"""Behind what draws, a number that no thing follows is a load: "pump 2 and heater fans 7.5 amps"."""
_BEHIND = Lazy(
    r"# of (?:them|em|those|these)\b|<(?:A|W)> (?:apiece|each|a piece)\b(?: (?:and|there|there is|' s|is|with|,|we have|got))* #"
)
"""A count behind its load: "the fans draw 3.5 amps apiece and there's two of them"."""


def _nearest(term: Term, loads: list[Term], *, after: bool) -> int:
    """The load a count or a share of the time belongs to: "two fans at 3 A", "9 A a third of the time"."""
    starts = [one.amount.start for one in loads]
    if after:
        return next((one for one in starts if one > term.amount.start), starts[-1])
    return next((one for one in reversed(starts) if one < term.amount.start), starts[0])


def _volts(t: Told, asked: bool) -> float:
    """Volts of the bank: as told, those of its batteries in series, or the coach's."""
    told, coach = t.value("volts"), float(t.coach.house_battery.volts)
    if told is None:
        if asked:
            t.assumed.append(f"a {shown(coach)} V bank (profile)")
        return coach
    many = t.value("batteries")
    if many is None:
        return told
    return told * many if _in_series(t) else max(told, coach)


def _in_series(t: Told) -> bool:
    return t.question.has(r"\bseries\b") and not t.question.has(r"\bparallel\b")


def _capacity(t: Told) -> float | None:
    """Amp hours of the whole bank: as told, those of its batteries side by side, or the coach's."""
    told, many = t.value("capacity"), t.value("batteries")
    if told is None:
        if many is not None:
            return None
        t.assumed.append(f"{shown(t.coach.house_battery.capacity_ah)} Ah (profile)")
        return float(t.coach.house_battery.capacity_ah) * _in_cold(t)
    if many is None or _in_series(t):
        return told * _in_cold(t)
    volts, bank = t.value("volts"), float(t.coach.house_battery.volts)
    return told * many * (volts / bank if volts is not None and volts < bank else 1.0) * _in_cold(t)


def _in_cold(t: Told) -> float:
    """The share of its amp hours that a cold bank still gives."""
    gives, less = _share(t.one("derated")), _share(t.one("derated_by"))
    return (1.0 if gives is None else gives) * (1.0 if less is None else 1 - less)


def _efficiency(t: Told) -> float:
    lost = _share(t.one("lost"))
    if lost is not None:
        return 1 - lost
    told = _share(t.one("efficiency"))
    return 1.0 if told is None else told


def _share(term: Term | None) -> float | None:
    return None if term is None else term.value / (100 if term.kind == "n" else 1)


_HALF = Lazy(r"\b(?:to half|half of it|only half|at half|half gone|under half|below half|less than half)\b")


def _span(t: Told) -> tuple[float | None, float | None]:
    """Hours that are told or lie between two times of day, and the time from which they run: now when only the end is told."""
    start, end, hours = t.one("start"), t.one("end"), t.value("hours")
    if end is None:
        return hours, None if start is None else hour_of(start)
    if hours is not None:
        return None, None
    start = now_term(t) if start is None else start
    return between(start, end), hour_of(start)


_LEAST_BARE = 5.0
"""A charge told without "percent" is not less."""


_RATED = Lazy(
    r"\b(?:peukert\w*|exponent|c ?/ ?\d+)\b|<h> (?:discharge )?(?:rate|rating)\b|\b(?:20|twenty|hour|hr) (?:hour )?(?:rate|rating)\b"
)
"""What a bank gives at another current than it is rated for is worked out elsewhere."""
_EFFICIENT = Lazy(
    r"\binverter\b[^#]* <W> (?:at )?<V> (?:, |and )?# |# (?:\w+ )?effic|\beffic\w* (?:(?:of|is|at|about) )*# "
)


def _solve(t: Told) -> Estimate | None:
    """What comes out, and whether it is what somebody says."""
    said = t.one("claimed")
    if said is not None and not t.want.kind and said.kind != "n":
        t.want = replace(t.want, kind=said.kind)  # "she wrote six amps, is that right"
    found = _worked(t)
    if said is None or found is None or found.value is None:
        return found
    kinds = {"h": "time", "A": "current", "Ah": "charge", "W": "watts", "percent": "share"}
    if said.kind not in ("n", kinds.get(found.unit)):
        return None
    claim = said.value * (100 if said.kind == "share" else 1)
    right = abs(claim - found.value) <= max(_ROUNDED * found.value, EVEN)
    rest = found.verdict.removeprefix("Yes, ").removeprefix("No, ")
    told = f"{'Yes' if right else 'No'}, it is {shown(found.value)} {found.unit}, not {shown(claim)}."
    if right:
        told = f"Yes, it is {shown(found.value)} {found.unit}."
    return replace(found, verdict=f"{told} {rest[:1].upper()}{rest[1:]}".strip())


_ROUNDED = 0.05
"""So far off may be what somebody says from what comes out."""


def _worked(t: Told) -> Estimate | None:
    if {"rated", "engine"} & {*t.roles}:
        return _cranks(t)
    if _RATED.search(t.question.frame) or any(
        _EFFICIENT.search(one.around)
        for name in ("charge", "stop", "duty", "usable_share")
        for one in t.roles.get(name, [])
    ):
        return None
    if any(_COLD_LEAVES.search(one.around) for name in ("charge", "usable_share") for one in t.roles.get(name, [])):
        return None  # what the cold leaves of the bank is not how full it is
    charges = bool(_CHARGES.search(t.question.frame)) or t.has("charger")
    if any(one.kind == "n" and not (one.value <= 24 or 100 <= one.value < 2400) for name in ("start", "end") for one in t.roles.get(name, [])):  # fmt: skip
        return None
    at, to = t.one("charge"), t.one("stop")
    charge, stop = _share(at), _share(to)
    if t.has("rested"):
        charge = _by_rest(t) if charge is None else None
        if charge is None:
            return None
    elif any(_READS.search(one.around) for one in t.roles.get("volts", [])):
        return None  # a voltage that is read tells the charge, and not what bank it is
    if any(one is not None and one.kind == "n" and one.value < _LEAST_BARE for one in (at, to)):
        return None  # "a fan at 3" is no charge
    if any(one is not None and not 0 <= one <= 1 for one in (charge, stop)):
        return None
    rises = charge is not None and stop is not None and stop > charge
    if t.has("charger", "load") and not rises and not t.has("missing"):
        drawn = _draw(t)
        if drawn is not None and drawn[0] > t.all("charger")[0].value:
            return _discharging(t, charge, stop)
    if t.has("charger") or t.has("missing") or rises:
        return _charging(t, charge, stop) if charges or rises or t.has("missing") else None
    return _discharging(t, charge, stop)


_READS = Lazy(r"\b(?:rest\w*|reads?|reading|shows?|showing|meter\w*|sitting)(?: (?:at|is|was|says|about|a|it))* # ")


def _by_rest(t: Told) -> float | None:
    """The charge by the voltage at rest, corrected for the temperature where it is told."""
    from cabassist.estimate.battery import state_of_charge

    volts, warm = t.value("rested"), degrees_f(t, "rested_at")
    if volts is None or not 10 <= volts <= 28:
        return None
    bank = 24.0 if volts > _MOST_OF_12 else 12.0
    try:
        found = state_of_charge(
            quantity(volts, "V"),
            battery_temperature=None if warm is None else quantity(warm, "F"),
            nominal=quantity(bank, "V"),
        )
    except ValueError:
        return None
    if found.value is None:
        return None
    t.assumed.append(f"{shown(volts, 4)} V at rest is {shown(found.value, 3)} percent (BCI table)")
    return found.value / 100


_MOST_OF_12 = 16.0


def _cranks(t: Told) -> Estimate | None:
    """Cranking amps of a charged battery in the cold, whether they turn the engine, or what it must be rated for to do so.

    Below 0 °F, where the Army's figures end, only that it has less.
    """
    rated, engine, cold = t.value("rated"), t.value("engine"), degrees_f(t, "cold")
    if cold is None or (rated is None and engine is None):
        return None
    warm = min(cold, CRANKING[-1][0])
    part = interpolated(CRANKING, warm)
    if part is None:
        least = CRANKING[0][1]
        if rated is None:
            return None
        few = engine is not None and least * rated <= engine
        verdict = f"{'No: it' if few else 'It'} has less than {shown(100 * least)} percent, {shown(least * rated)} A: use the block heater."
        return withheld("cranking amps", "A", verdict, high=least * rated, source=CRANKING_SOURCE)
    t.assumed.append("rated at 80 °F and fully charged")
    if rated is None:
        assert engine is not None
        needed = engine / part
        return result(t, "cranking amps needed", needed, "A", (f"{shown(engine)} A ÷ {shown(100 * part)} % = {shown(needed)} A",), source=CRANKING_SOURCE)  # fmt: skip
    has = rated * part
    line = f"{shown(100 * part)} % of {shown(rated)} A at {shown(cold)} °F = {shown(has)} A"
    share = figure("of the full power", 100 * part, "percent")
    verdict = "" if engine is None else f"{'Yes' if has >= engine else 'No'}: {shown(has)} A against {shown(engine)} A."
    if t.want.kind == "share" and engine is None:
        return result(t, share.name, 100 * part, "percent", (line,), also=(figure("cranking amps", has, "A"),), source=CRANKING_SOURCE)  # fmt: skip
    return result(t, "cranking amps", has, "A", (line,), verdict, (share,), CRANKING_SOURCE)


NO_LOSSES = r"\b(?:no|never mind(?: the)?|ignor\w*(?: the| any)?|forget(?: about)?(?: the)?|without(?: any| the)?|not counting(?: the)?|leav\w* out(?: the)?|disregard\w*(?: the| any)?) loss(?:es)?\b|\b(?:leav\w*|set\w*|put\w*|tak\w*) (?:the |any |all |its |charging )*loss(?:es)? (?:aside|out|off|apart)\b|\bloss(?:es)? (?:aside|apart|left out)\b|\b(?:nothing|none) (?:of (?:it|that) )?(?:(?:is|gets|goes|being) )?(?:lost|wasted)\b|\b(?:loses?|wastes?) nothing\b|\bno(?:thing)? (?:goes )?to waste\b"
"""All that goes in stays in."""
_LOADED = Lazy(
    r"<A> (?:of )?(?:load|draw)\b|\b(?:load|draw)(?: of| is| at)? (?:about )?<A>|\b(?:while|but|with|fridge|lights?|fans?|furnaces?|heaters?|pumps?|inverter|loads?|rest) (?:\w+ ){0,4}?(?:takes?|draws?|pulls?|eats?|uses?|steals?) (?:about )?<(?:A|n)>"
)
"""A load beside the charger takes a part of what it gives."""


def _charging(t: Told, charge: float | None, stop: float | None) -> Estimate | None:
    missing = t.value("missing")
    charger, (needed, start) = _put_in(t), _span(t)
    line: tuple[str, ...] = ()
    if missing is not None:
        if charge is not None or stop is not None:
            return None
        missing = abs(missing)  # a monitor shows "minus 64 amp hours"
        if t.has("capacity") and missing > (_capacity(t) or 0.0):
            return None  # more than there is in all
    elif t.want.kind in ("share", "charge") and charger is not None and needed:
        return _stored(t, charge, charger, needed) if stop is None else None
    elif charge is not None:
        capacity, full = _capacity(t), 1.0 if stop is None else stop
        if capacity is None:
            return None
        missing = capacity * (full - charge)
        line = (f"{shown(capacity)} Ah x ({shown(100 * full)} - {shown(100 * charge)} %) = {shown(missing)} Ah",)
    else:
        return None
    if missing <= 0 or (_LOADED.search(t.question.frame) and not t.has("load")):
        return None
    efficiency = _kept(t)
    if not 0.4 <= efficiency <= 1:
        return None
    if charger is None:
        if t.has("charger") or t.want.kind != "current" or not needed:
            return None
        if not _CHARGES.search(t.question.frame):
            efficiency, t.assumed = 1.0, []  # "45 amp hours used in nine hours": what was drawn
        drawn = _draw(t)
        amps = missing / (needed * efficiency) + (drawn[0] if drawn else 0.0)
        name = "charger needed" if _CHARGES.search(t.question.frame) else "average draw"
        beside = f" + {listed(drawn[1])} A" if drawn else ""
        work = f"{shown(missing)} Ah ÷ ({shown(needed)} h x {shown(efficiency)}){beside} = {shown(amps)} A"
        return result(t, name, amps, "A", (*line, work))
    if t.want.kind not in ("time", "") or (t.want.kind == "" and needed is None):
        return None
    hours = missing / (charger * efficiency)
    other = t.value("before")
    if other is not None:
        if needed is not None or other <= 0 or t.has("load"):
            return None
        longer = missing / (other * efficiency)
        work = f"{shown(missing)} Ah ÷ {shown(efficiency)}: ÷ {shown(other)} A = {shown(longer)} h, ÷ {shown(charger)} A = {shown(hours)} h"
        also = (figure("with the one", hours, "h"), figure("with the other", longer, "h"))
        return result(t, "difference", abs(longer - hours), "h", (*line, work), f"{duration(abs(longer - hours))} {'sooner' if hours <= longer else 'later'}.", also)  # fmt: skip
    verdict = ""
    if needed is not None:
        done = hours <= needed + EVEN
        verdict = (
            f"{'Yes' if done != asks_lack(t.question) else 'No'}: {duration(hours)} needed, {duration(needed)} there."
        )
    if start is not None or t.want.clock:
        begun = hour_now(t) if start is None else start
        verdict = f"{verdict} Done at {time_of_day(begun + hours)}.".strip()
    work = f"{shown(missing)} Ah ÷ ({shown(charger)} A x {shown(efficiency)}) = {shown(hours)} h"
    return result(
        t, "charging time", hours, "h", (*line, work), f"{verdict} Longer if it is charged quite full.".strip()
    )


def _put_in(t: Told) -> float | None:
    """Amps that reach the bank: the charger's less what the loads take of them; None when nothing is left."""
    charger, drawn = t.value("charger"), _draw(t)
    if charger is None or drawn is None:
        return charger
    return charger - drawn[0] if charger > drawn[0] else None


def _kept(t: Told) -> float:
    """Share of the current that is stored."""
    if t.has("lost") or t.has("efficiency"):
        return _efficiency(t)
    if t.question.has(NO_LOSSES):
        return 1.0
    t.assumed.append(f"{shown(100 * CHARGE_EFFICIENCY)} percent of the current is stored")
    return CHARGE_EFFICIENCY


def _stored(t: Told, charge: float | None, charger: float, hours: float) -> Estimate | None:
    """What a charger has put in after some hours, in amp hours or as the charge it comes to."""
    efficiency = _kept(t)
    put = charger * hours * efficiency
    line = f"{shown(charger)} A x {shown(hours)} h x {shown(efficiency)} = {shown(put)} Ah"
    if t.want.kind == "charge":
        return result(t, "amp hours stored", put, "Ah", (line,)) if charge is None else None
    capacity = _capacity(t)
    if charge is None or capacity is None:
        return None
    full = min(1.0, charge + put / capacity)
    return result(t, "charge reached", 100 * full, "percent", (line, f"{shown(100 * charge)} % + {shown(put)} ÷ {shown(capacity)} Ah = {shown(100 * full)} %"))  # fmt: skip


def _usable(t: Told, charge: float | None, stop: float | None) -> tuple[float, str] | None:
    """Amp hours that may be drawn."""
    usable, share = t.value("usable"), _share(t.one("usable_share"))
    if usable is not None:
        return (
            None if t.has("capacity") or charge is not None or stop is not None or share is not None else (usable, "")
        )
    if not t.has("capacity") and charge is None:
        return None
    capacity = _capacity(t)
    if capacity is None:
        return None
    full = t.question.has(r"\bfull\b(?! of)")
    if share is None and charge is None and not full and stop is None:
        return None
    if share is not None:
        if stop is not None:
            return None
        part = share if charge is None else charge - (1 - share)
        if part <= 0:
            return None
        return capacity * part, f"{shown(capacity)} Ah x {shown(100 * part)} % = {shown(capacity * part)} Ah"
    if stop is None:
        if t.question.has(r"\b(?:flat|dead|empty|run out|runs out|zero)\b"):
            stop = 0.0
        elif _HALF.search(t.question.frame):
            stop = 0.5
        else:
            return None
    top = 1.0 if charge is None else charge
    part = top - stop
    if part <= 0:
        return None
    return (
        capacity * part,
        f"{shown(capacity)} Ah x ({shown(100 * top)} - {shown(100 * stop)} %) = {shown(capacity * part)} Ah",
    )


_GIVES = Lazy(
    r"\b(?:solar|panels?|alternator|charger|converter|sun|generator)\b[^.,]{0,24}\b(?:gives?|puts?|makes?|adds?|brings?|of|at)\b[^.,<]{0,14}<(?:A|W|n)>|<(?:A|W)> (?:of |from )?(?:the )?(?:solar|panels?|alternator)\b"
)


def _discharging(t: Told, charge: float | None, stop: float | None) -> Estimate | None:
    if _GIVES.search(t.question.frame) and not t.has("charger"):
        return None  # what comes in meanwhile is no load
    kind = t.want.kind
    drawn = _draw(t)
    comes_in = t.value("charger")
    if drawn is not None and comes_in is not None:
        drawn = drawn[0] - comes_in, [*drawn[1], -comes_in]
    needed, start = _span(t)
    if kind == "charge":
        return _amp_hours(t, charge, stop, drawn, needed, start)
    if kind == "share":
        if drawn is None or needed is None or stop is not None:
            return None
        if charge is None and not t.question.has(r"\bfull\b"):
            return None
        capacity = _capacity(t)
        if capacity is None:
            return None
        end = (1.0 if charge is None else charge) - drawn[0] * needed / capacity
        return result(t, "charge left", 100 * end, "percent", (f"{shown(drawn[0])} A x {shown(needed)} h ÷ {shown(capacity)} Ah = {shown(100 * drawn[0] * needed / capacity)} %",)) if 0 <= end <= 1 else None  # fmt: skip
    if kind == "current" and drawn is not None and needed is None and not t.has("charger"):
        bank = {"capacity", "usable", "charge", "stop", "off", "before"} & {*t.roles}
        if bank or not all(one.kind == "watts" for one in t.all("load")):
            return None
        return result(t, "draw", drawn[0], "A", (f"{listed(drawn[1])} A at {shown(_volts(t, False))} V",))
    found = _usable(t, charge, stop)
    if found is None:
        return None
    usable, line = found
    before_it = (line,) if line else ()
    if kind in ("current", "watts"):
        return None if not needed or t.has("charger") else _may_be_drawn(t, usable, needed, drawn, before_it)
    off, before = t.value("off"), t.value("before")
    gains = t.want.difference or t.question.has(r"\b(?:more|longer)\b")
    if drawn is None and off is not None and before is not None and gains:
        drawn = before - off, [before, -off]  # "turn off 3 amps out of 15": what is left on is not told otherwise
        off = None
    if drawn is None:
        return None
    if off is not None or before is not None:
        if before is not None and not gains:
            return None
        less, most = (drawn[0], before) if off is None else (drawn[0] - off if before is None else before - off, drawn[0] if before is None else before)  # fmt: skip
        if most is None or not 0 < less < most or needed is not None:
            return None
        if not gains:
            return result(t, "lasts", usable / less, "h", (*before_it, f"{shown(usable)} Ah ÷ {shown(less)} A = {shown(usable / less)} h"), lasting(t, usable / less, None, start))  # fmt: skip
        gained = usable / less - usable / most
        work = f"{shown(usable)} Ah ÷ {shown(less)} A - {shown(usable)} Ah ÷ {shown(most)} A = {shown(gained)} h"
        return result(t, "gained", gained, "h", (*before_it, work), f"{duration(gained)} more.", (figure("lasts", usable / less, "h"),))  # fmt: skip
    if t.want.difference or kind not in ("time", "") or drawn[0] <= 0:
        return None
    hours = usable / drawn[0]
    work = f"{shown(usable)} Ah ÷ {shown(drawn[0])} A = {shown(hours)} h"
    return result(t, "lasts", hours, "h", (*before_it, work), lasting(t, hours, needed, start))


def _may_be_drawn(t: Told, usable: float, hours: float, drawn: tuple[float, list[float]] | None, before_it: tuple[str, ...]) -> Estimate | None:  # fmt: skip
    """Amps or watts that may be drawn so long, and whether what is drawn is no more."""
    amps = usable / hours
    if t.want.kind == "watts":
        if drawn is not None:
            return None
        volts = _volts(t, True)
        watts = amps * volts * _efficiency(t)
        return result(t, "most that may be drawn", watts, "W", (*before_it, f"{shown(usable)} Ah ÷ {shown(hours)} h x {shown(volts)} V = {shown(watts)} W"))  # fmt: skip
    name = "average draw" if t.question.has(r"\baverage\b") else "most that may be drawn"
    verdict = ""
    if drawn is not None:
        verdict = f"{'Yes' if drawn[0] <= amps + EVEN else 'No'}: {shown(drawn[0])} A against {shown(amps)} A."
    return result(t, name, amps, "A", (*before_it, f"{shown(usable)} Ah ÷ {shown(hours)} h = {shown(amps)} A"), verdict)


def _amp_hours(t: Told, charge: float | None, stop: float | None, drawn: tuple[float, list[float]] | None, needed: float | None, start: float | None) -> Estimate | None:  # fmt: skip
    """Amp hours that are drawn or left, that a bank must have for them, or that it really gives."""
    if (
        drawn is not None
        and needed
        and charge is None
        and not (t.has("capacity") or t.has("usable") or t.has("stop", "usable_share"))
    ):
        efficiency = 1.0 if any(one.kind == "watts" for one in t.all("load")) else _efficiency(t)
        total = drawn[0] * needed / efficiency
        lines = (f"({listed(drawn[1])}) A x {shown(needed)} h = {shown(total)} Ah",)
        left = _in_cold(t) * ((_share(t.one("usable_share")) or 1.0) if stop is None else 1 - stop)
        return result(t, "amp hours", total / left, "Ah", lines) if left > 0 else None
    if drawn is not None and needed:
        if not (t.has("capacity") or t.has("usable") or t.question.has(r"\b(?:left|remain\w*|short|still)\b")):
            return None  # what is drawn is asked for, not what it leaves in a bank that nobody spoke of
        return _remaining(t, charge, stop, drawn[0] * needed)
    if drawn is None and needed is None and start is None:
        told = {"charge", "stop", "usable_share", "derated", "derated_by"} & {*t.roles}
        share = _share(t.one("usable_share"))
        if not told or (charge is None and not t.has("capacity")) or (share is not None and stop is not None):
            return None
        left = _capacity(t) or 0.0
        part = (1.0 if charge is None else charge) - ((stop or 0.0) if share is None else 1 - share)
        if part <= 0:
            return None
        return result(t, "amp hours left", left * part, "Ah", (f"{shown(left)} Ah x {shown(100 * part)} % = {shown(left * part)} Ah",))  # fmt: skip
    return None


def _remaining(t: Told, charge: float | None, stop: float | None, used: float) -> Estimate | None:
    """Amp hours that are left, or lacking, when so many are drawn from what the bank may give."""
    found = _usable(t, charge, 0.0 if stop is None and not (t.has("usable") or t.has("usable_share")) else stop)
    if found is None:
        return None
    left = found[0] - used
    name, verdict = ("left", "") if left >= 0 else ("lacking", f"No: {shown(-left)} amp hours short.")
    if not verdict and _ENOUGH.search(t.question.frame):
        verdict = f"Yes: {shown(left)} amp hours to spare."
    return result(t, f"amp hours {name}", abs(left), "Ah", (*([found[1]] if found[1] else []), f"{shown(found[0])} - {shown(used)} = {shown(left)} Ah"), verdict, (figure("drawn", used, "Ah"),))  # fmt: skip


_ENOUGH = Lazy(
    r"\b(?:enough|ok|okay|alright|will (?:it|that|they) (?:do|last|hold)|does (?:it|that) (?:do|last|hold))\b"
)


_CRANKS = Lazy(r"\bcrank\w*\b(?! (?:it|her|that|them|up|to|at)\b)|\bcca\b|\bstart(?:ing|er)? batter\w+")


def _calculation(q: Question) -> str:
    if _CRANKS.search(q.frame):
        return "battery-state"
    return "battery-charge-time" if _CHARGES.search(q.frame) else "battery-hours"


BANK = Family("bank", _calculation, _applies, _ROLES, _solve)
