"""How much sooner or later something runs out when more are aboard, or when less is drawn: the difference of two times."""

from __future__ import annotations

from cabassist.dialogue.sums import Family, Told, role
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, per_hour
from cabassist.language.wanted import Wanted

_COMPARED = Lazy(
    r"\b(?:much|many \w+) (?:sooner|earlier)\b|\b(?:do|would|will|does) (?:i|we|that|it) (?:gain|save|buy|cost)\b|\bhow many extra\b|\bvs\b|\bversus\b|\bgain(?:ed)? (?:if|by|when)\b|\bcompared (?:to|with)\b"
)
"""These ask for the difference of two sums."""
_LONGER = Lazy(r"\bhow (?:much longer|many more (?:hours|days|nights)|much more time|much extra time)\b")
_CHANGE = Lazy(
    r"\b(?:instead|rather than|shut|turn|turned|switch|without|(?:only|just|on) one|if (?:only )?(?:one|i shut|we shut)|more get on|join|joins|leave|leaves|get off|gets off|fly home|stay behind)\b|\b(?:only|just) <n>"
)
_MORE = r"(?:(?:more|extra|additional|others?|new) ?)"
_ROLES = (
    role("level", "volume|mass", 0.6, each=False, bare=1.0),
    role("rate", "volume/time|mass/time|n/time", 1.0, each=False, many=True),
    role("rate", "n", -1.5, (4.0, r"\b(?:or|and|but|to|against|it is|is|one(?: furnace)? (?:only )?(?:uses|burns|takes|draws)|<n> (?:uses|burns|takes|draws)|with (?:only )?(?:the )?(?:\w+ )?(?:one|<n>)(?: it is)?) (?:only |about )?# "), each=False, many=True),
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
    flows: list[tuple[float, str]] = []
    people, more, fewer = t.all("people"), t.value("more"), t.value("fewer")
    rates = [*t.all("rate"), *t.all("use")]
    if any(term.kind not in (f"{stock}/time", "n/time", "n") for term in rates):
        return None
    if t.has("use"):
        use = per_hour(t.roles["use"][0])
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
        flows = [(per_hour(rates[0]), f"{shown(now)} people"), (per_hour(rates[0]) * then / now, f"{shown(then)} people")]  # fmt: skip
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


def _calculation(question: Question) -> str:
    return "propane-days-left" if any(one.unit in ("lb", "kg") for one in question.amounts) else "fresh-hours"


COMPARED = Family(_calculation, _applies, _ROLES, _solve)
