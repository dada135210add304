"""How much sooner or later something runs out when more are aboard, or when less is drawn: the difference of two times."""

from __future__ import annotations

from cabassist.estimate.propane import BTU_PER_LB
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, per_hour
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role

_COMPARED = Lazy(
    r"\b(?:much|many \w+) (?:sooner|earlier)\b|\b(?:do|would|will|does) (?:i|we|that|it) (?:gain|save|buy|cost)\b|\bhow many extra\b|\bvs\b|\bversus\b|\bgain(?:ed)? (?:if|by|when)\b|\bcompared (?:to|with)\b"
)
"""These ask for the difference of two sums."""
_LONGER = Lazy(r"\bhow (?:much longer|many more (?:hours|days|nights)|much more time|much extra time)\b")
_CHANGE = Lazy(
    r"\b(?:instead|rather than|shut|turn|turned|switch|without|(?:only|just|on) one|if (?:only )?(?:one|i shut|we shut)|more get on|join|joins|leave|leaves|get off|gets off|fly home|stay behind)\b|\b(?:only|just) <n>|<percent> (?:less|more)"
)
_MORE = r"(?:(?:more|extra|additional|others?|new) ?)"
_ROLES = (
    role("level", "volume|mass", 0.6, each=False, bare=1.0),
    role("rate", "volume/time|mass/time|n/time", 1.0, each=False, many=True),
    role("rate", "n", -1.5, (4.0, r"\b(?:or|and|but|to|against|it is|is|one(?: furnace)? (?:only )?(?:uses|burns|takes|draws)|<n> (?:uses|burns|takes|draws)|with (?:only )?(?:the )?(?:\w+ )?(?:one|<n>)(?: it(?: is)?)?) (?:only |about )?# "), each=False, many=True),
    role("use", "volume/time|mass/time|n/time", 1.0, each=True),
    role("use", "volume/time", -0.5, (2.0, r"<people> (?:\w+ )?(?:each|apiece|at) (?:\w+ ){0,2}?# |# <people>"), each=False),
    role("people", "people", 1.0, (-2.0, rf"\b(?:another|extra|additional) # |# {_MORE}|# (?:get|gets|come|comes|hop|join\w*|climb|board|leave|leaves|fly|stay)\b"), many=True),
    role("more", "people", -0.5, (2.0, rf"\b(?:another|extra|additional|if|plus|take on|pick up) # |# {_MORE}|# (?:get on|come|comes|join\w*|climb|board|hop)\b"), never=r"# (?:\w+ )?(?:leave|get off|fly|stay)"),
    role("more", "n", -0.5, (2.0, rf"# {_MORE}|\b(?:another|extra) # |# (?:get on|join\w*|come|hop on|climb)\b")),
    role("fewer", "people|n", -1.5, (4.0, r"# (?:\w+ ){0,2}?(?:leave|leaves|get off|gets off|fly|flies|stay behind|go home|fewer|less)\b|\bwithout # ")),
    role("level", "share", -9.0),
    role("size", "volume|mass", -9.0),
    role("inside", "volume|share", -9.0),
    role("reserve", "volume|mass|share", -9.0),
    role("burners", "count furnace|count heater|n", -9.0, many=True),
    role("burner", "power", -9.0),
    role("cut", "share|volume/time|mass/time", -9.0),
    role("beside", "clock", -1.0, many=True),
)  # fmt: skip
_ONE_OFF = Lazy(
    r"\b(?:shut|turn|switch)\w* (?:off )?(?:<n>|one)|\bwithout (?:<n>|one)\b|(?:<n>|\bone) (?:\w+ )?(?:off|fails|quits|dies|less)\b"
)
_UP = Lazy(
    r"# (?:\w+ )?(?:more|extra|up|higher|faster)\b|\b(?:up|rises?|climbs?|grows?|increases?|add|adds)(?: by)? # "
)
_TANK = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")


def compares(question: Question) -> bool:
    """Whether the difference of two sums is asked for, which none of the other families gives."""
    if _COMPARED.search(question.frame):
        return True
    rates = sum(bool(one.per) and one.unit != "n" for one in question.amounts)
    return _LONGER.search(question.frame) is not None and (rates > 1 or _CHANGE.search(question.frame) is not None)


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return want.kind in ("time", "")


def _stock(t: Told) -> tuple[float, str, float] | None:
    """Gallons or pounds that are used up or filled, which of them, and what a number without a unit is in that."""
    level, inside, reserve = t.one("level"), t.one("inside"), t.one("reserve")
    size = t.one("size")
    found = level or inside
    if found is None or (level is not None and inside is not None):
        return None
    if found.kind == "n":  # in what the rates are told in
        kinds = {term.kind.partition("/")[0] for name in ("rate", "use") for term in t.roles.get(name, [])} - {"n"}
        if len(kinds) != 1:
            return None
        found = found._replace(kind=kinds.pop())
    if found.kind not in ("share", "volume", "mass"):
        return None
    whole = size.value if size is not None else 0.0
    kind = size.kind if size is not None else "volume" if found.kind == "share" else found.kind
    if not whole and (inside is not None or found.kind == "share"):
        waste = inside is not None or _TANK.search(t.question.frame) is not None
        whole = t.coach.tank("waste" if waste else "fresh").capacity_gal
        t.assumed.append(f"{'waste' if waste else 'fresh'} tank {shown(whole)} gal (profile)")
    have = found.value * whole if found.kind == "share" else found.value
    if inside is not None:
        have = whole - have
    if reserve is not None:
        have -= reserve.value * whole if reserve.kind == "share" else reserve.value
    return (have, kind, found.factor) if have > 0 else None


def _heads(t: Told, counted: list[Term]) -> list[float]:
    """How many use it, the one way and the other."""
    heads = [term.value for term in counted]
    more, fewer = t.value("more"), t.value("fewer")
    if len(heads) == 1 and (more is None) is not (fewer is None):
        heads.append(heads[0] + (more or 0.0) - (fewer or 0.0))
    elif more is not None or fewer is not None:
        return []
    if len(heads) == 1 and t.has("burners") and "one" in t.question.words:
        heads.append(heads[0] - 1.0 if _ONE_OFF.search(t.question.frame) else 1.0)
    return heads


def _changed(t: Told, flow: float) -> float | None:
    """The flow when it is cut by so much, or more by so much."""
    cut = t.one("cut")
    if cut is None:
        return None
    by = flow * cut.value if cut.kind == "share" else per_hour(cut)
    return flow + by if _UP.search(cut.around) else flow - by


def _solve(t: Told) -> Estimate | None:
    held = _stock(t)
    if held is None:
        return None
    stock, kind, plain = held
    unit = "lb" if kind == "mass" else "gal"
    flows: list[tuple[float, str]] = []
    rates, uses, burner = t.all("rate"), t.all("use"), t.one("burner")
    people, burners = t.all("people"), t.all("burners")
    if any(term.kind not in (f"{kind}/time", "n/time", "n") for term in (*rates, *uses)) or (people and burners):
        return None
    if (uses and rates) or (burner is not None and (uses or rates or kind != "mass")):
        return None
    each = per_hour(uses[0]) * (plain if uses[0].kind == "n/time" else 1.0) if len(uses) == 1 else None
    if burner is not None:
        each = burner.value / BTU_PER_LB
    counted, named = people or burners, "people" if people else "burning"
    if each is not None and not t.has("cut"):
        heads = _heads(t, counted)
        if len(heads) != 2:
            return None
        flows = [(count * each, f"{shown(count)} {named}") for count in heads]
    elif len(rates) == 1 and counted and not t.has("cut"):
        heads = _heads(t, counted)
        if len(heads) != 2:
            return None
        hourly = per_hour(rates[0]) * (plain if rates[0].kind == "n/time" else 1.0)
        flows = [(hourly * count / heads[0], f"{shown(count)} {named}") for count in heads]
    elif len(rates) == 2 and not counted:
        spans = {one.per for one in rates if one.kind != "n"}
        if len(spans) != 1 and any(one.kind == "n" for one in rates):
            return None
        rates = [one._replace(kind="n/time", amount=one.amount._replace(per=next(iter(spans)))) if one.kind == "n" else one for one in rates]  # fmt: skip
        hourly_both = [per_hour(one) * (plain if one.kind == "n/time" else 1.0) for one in rates]
        flows = [(one, f"{shown(one)} {unit} an hour") for one in hourly_both]
    elif t.has("cut"):
        if each is not None and len(counted) != 1:
            return None
        now = (
            each * counted[0].value
            if each is not None
            else per_hour(rates[0])
            if len(rates) == 1 and not counted
            else 0.0
        )
        then = _changed(t, now)
        if then is None:
            return None
        flows = [(flow, f"{shown(flow)} {unit} an hour") for flow in (now, then)]
    if len(flows) != 2 or any(flow <= 0 for flow, _ in flows):
        return None
    (first, name), (second, other) = flows
    before, after = stock / first, stock / second
    gap = abs(after - before)
    work = (
        f"{name}: {shown(stock)} {unit} ÷ {shown(first)} an hour = {shown(before)} h",
        f"{other}: {shown(stock)} {unit} ÷ {shown(second)} an hour = {shown(after)} h",
        f"{shown(max(before, after))} - {shown(min(before, after))} = {shown(gap)} h",
    )
    verdict = f"{duration(before)} with {name}, {duration(after)} with {other}."
    return exact("difference", gap, "h", working=work, source="arithmetic", verdict=verdict, also=(figure("first way", before, "h"), figure("second way", after, "h")))  # fmt: skip


_SAME = Lazy(
    r"\bsame (?:use|usage|rate|amount|thing)?\b.{0,12}\b(?:per|a|each|every) (?:head|person|man|player|body)\b|\b(?:same|that) (?:use|usage|rate|pace)\b|\bif (?:everybody|everyone|they) (?:uses?|keeps?) (?:on )?the same\b|\bin proportion\b|\b(?:if|when) <people> (?:use|used|need|needed|drink|drank|take|took|go through)\b"
)
_SCALED_ROLES = (
    role("used", "volume|mass", 0.6, (1.5, r"\b(?:used|use|went through|burned|burnt|drank|took|took in|put in|made) (?:about |up )?# "), bare=0.0, each=False),
    role("then", "people", 0.0, (3.0, r"\b(?:do|does|will|would|for) (?:about )?# ")),
    role("used", "n", -0.5, (3.0, r"\b(?:used|went through|burned|burnt|drank|took) (?:about |up )?# "), each=False),
    role("first", "people", 0.5, (1.5, r"\b(?:yesterday|were|was|had|with|last night)\b(?: [^<# ]+){0,4} # ")),
    role("then", "people", 0.5, (1.5, r"\b(?:today|tomorrow|tonight|now|so it|it is|leaves?|leaving|only|for|with|will)\b(?: [^<# ]+){0,3} # ")),
    role("then", "n", -1.0, (3.0, r"\b(?:do|does|will|would|for|so it|it is|it|leaves?|now|makes it|that leaves|only) # ")),
    role("changed", "people|n", -0.5, (2.5, r"# (?:\w+ ){0,2}?(?:left|leave|leaves|flown|flew|gone|home|got off|joined|more|stayed|stay)\b|\b(?:minus|without|another|plus) # ")),
    role("used", "share|volume/time|mass/time", -9.0),
    role("have", "volume|mass|share", -9.0),
    role("elapsed", "time", -9.0),
    role("needed", "time", -9.0),
    role("beside", "volume", -0.8, (1.5, r"\b(?:carry|holds?|tank is|tank|have) # |# tank\b")),
    role("beside", "clock", -1.0, many=True),
)  # fmt: skip


def _scales(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return _SAME.search(question.frame) is not None and want.kind in ("volume", "mass", "") and not want.rate


def _scaled(t: Told) -> Estimate | None:
    """What so many use when as many others used so much, or how many what there is would do for."""
    used, first, then, have = t.one("used"), t.value("first"), t.value("then"), t.one("have")
    if used is None or not first or (used.kind == "n" and t.want.kind not in ("volume", "mass")):
        return None
    changed = t.one("changed")
    if changed is not None:
        gone = _GONE.search(changed.around) is not None
        left = first - changed.value if gone else first + changed.value
        if then is not None and then != left:
            return None
        then = left
    kind, _, rated = (used.kind if used.kind != "n" else t.want.kind).partition("/")
    span = 24.0 if used.per == "day" else 1.0
    spent = used.value * span if rated else used.value
    unit = {"mass": "lb", "share": "percent"}.get(kind, "gal")
    spent *= 100 if kind == "share" else 1
    needed, elapsed = t.value("needed"), t.value("elapsed")
    if elapsed is None and needed is not None:
        elapsed = span if rated else 24.0  # "yesterday"
    longer = (needed or elapsed or 1.0) / (elapsed or 1.0)
    if have is not None and have.kind not in (kind, "n"):
        return None
    there = 0.0 if have is None else have.value * (100 if kind == "share" and have.kind == "share" else 1)
    if then is None and have is not None:
        count = there / (spent * longer / first)
        line = f"{shown(there)} {unit} ÷ {shown(spent * longer / first)} each = {shown(count)}"
        return exact("enough for", float(int(count + 1e-9)), "people", working=(line,), source="arithmetic", also=(figure("each", spent * longer / first, unit),))  # fmt: skip
    if not then or then <= 0:
        return None
    found = spent * longer * then / first
    longer_text = "" if longer == 1 else f" x {shown(longer)}"
    line = f"{shown(spent)} {unit} x {shown(then)} ÷ {shown(first)}{longer_text} = {shown(found)} {unit}"
    also, verdict = [figure("each", spent * longer / first, unit)], ""
    if have is not None:
        also.append(figure("left over" if there >= found else "short", abs(there - found), unit))
        verdict = f"{'Yes' if there >= found else 'No'}: it comes to {shown(found)} {unit}, of {shown(there)} there."
    return exact("comes to", found, unit, working=(line,), source="arithmetic", verdict=verdict, also=tuple(also))


_GONE = Lazy(r"# (?:\w+ ){0,3}?(?:left|leave|leaves|flown|flew|gone|home|got off|fewer|less|stay|stayed)\b|\b(?:minus|without) # ")  # fmt: skip
SCALED = Family("scaled", lambda _question: "fresh-hours", _scales, _SCALED_ROLES, _scaled)


def _calculation(question: Question) -> str:
    return "propane-days-left" if any(one.unit in ("lb", "kg") for one in question.amounts) else "fresh-hours"


COMPARED = Family("compared", _calculation, _applies, _ROLES, _solve)
