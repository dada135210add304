"""How much sooner or later something runs out when more are aboard, or when less is drawn: the difference of two times."""

from __future__ import annotations

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
    role("beside", "clock", -1.0, many=True),
)  # fmt: skip


def compares(question: Question) -> bool:
    """Whether the difference of two sums is asked for, which none of the other families gives."""
    if _COMPARED.search(question.frame):
        return True
    rates = sum(bool(one.per) and one.unit != "n" for one in question.amounts)
    return _LONGER.search(question.frame) is not None and (rates > 1 or _CHANGE.search(question.frame) is not None)


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return want.kind in ("time", "")


def _solve(t: Told) -> Estimate | None:
    level = t.one("level")
    if level is None or not level.value:
        return None
    stock = level.kind
    plain = level.factor  # numbers without a unit are in that of the level
    flows: list[tuple[float, str]] = []
    people, more, fewer = t.all("people"), t.value("more"), t.value("fewer")
    rates = [*t.all("rate"), *t.all("use")]
    if any(term.kind not in (f"{stock}/time", "n/time", "n") for term in rates):
        return None
    if t.has("use"):
        use = per_hour(t.roles["use"][0]) * (plain if t.roles["use"][0].kind == "n/time" else 1.0)
        if t.has("rate"):
            return None
        heads = [term.value for term in people]
        if len(heads) == 1 and (more is None) is not (fewer is None):
            heads.append(heads[0] + (more or 0.0) - (fewer or 0.0))
        if len(heads) != 2 or (len(people) == 2 and (more is not None or fewer is not None)):
            return None
        flows = [(count * use, f"{shown(count)} people") for count in heads]
    elif len(rates) == 1 and len(people) == 1 and (more is None) is not (fewer is None):
        now = people[0].value
        then = now + (more or 0.0) - (fewer or 0.0)
        hourly = per_hour(rates[0]) * (plain if rates[0].kind == "n/time" else 1.0)
        flows = [(hourly, f"{shown(now)} people"), (hourly * then / now, f"{shown(then)} people")]  # fmt: skip
    elif len(rates) == 2 and not people:
        if more is not None or fewer is not None:
            return None
        unit = "lb" if stock == "mass" else "gal"
        spans = {one.per for one in rates if one.kind != "n"}
        if len(spans) != 1:
            return None
        rates = [one._replace(kind="n/time", amount=one.amount._replace(per=next(iter(spans)))) if one.kind == "n" else one for one in rates]  # fmt: skip
        flows = [(per_hour(one), f"{shown(per_hour(one))} {unit} an hour") for one in rates]
    if len(flows) != 2 or any(flow <= 0 for flow, _ in flows):
        return None
    (first, name), (second, other) = flows
    before, after = level.value / first, level.value / second
    gap = abs(after - before)
    unit = "lb" if stock == "mass" else "gal"
    work = (
        f"{name}: {shown(level.value)} {unit} ÷ {shown(first)} an hour = {shown(before)} h",
        f"{other}: {shown(level.value)} {unit} ÷ {shown(second)} an hour = {shown(after)} h",
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
    role("beside", "volume", -0.8, (1.5, r"\b(?:carry|holds?|tank is|tank|have) # |# tank\b")),
    role("beside", "clock", -1.0, many=True),
)  # fmt: skip


def _scales(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return _SAME.search(question.frame) is not None and want.kind in ("volume", "mass", "") and not want.rate


def _scaled(t: Told) -> Estimate | None:
    """What so many use when as many others used so much."""
    used, first, then = t.one("used"), t.value("first"), t.value("then")
    if used is None or not first or (used.kind == "n" and t.want.kind not in ("volume", "mass")):
        return None
    changed = t.one("changed")
    if changed is not None:
        gone = _GONE.search(changed.around) is not None
        left = first - changed.value if gone else first + changed.value
        if then is not None and then != left:
            return None
        then = left
    if not then or then <= 0:
        return None
    kind = used.kind if used.kind != "n" else t.want.kind
    unit = "lb" if kind == "mass" else "gal"
    found = used.value * then / first
    line = f"{shown(used.value)} {unit} x {shown(then)} ÷ {shown(first)} = {shown(found)} {unit}"
    return exact("comes to", found, unit, working=(line,), source="arithmetic", also=(figure("each", used.value / first, unit),))  # fmt: skip


_GONE = Lazy(r"# (?:\w+ ){0,3}?(?:left|leave|leaves|flown|flew|gone|home|got off|fewer|less|stay|stayed)\b|\b(?:minus|without) # ")  # fmt: skip
SCALED = Family(lambda _question: "fresh-hours", _scales, _SCALED_ROLES, _scaled)


def _calculation(question: Question) -> str:
    return "propane-days-left" if any(one.unit in ("lb", "kg") for one in question.amounts) else "fresh-hours"


COMPARED = Family(_calculation, _applies, _ROLES, _solve)
