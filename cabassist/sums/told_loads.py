"""Sums over weight: people, bags, water and fuel that come aboard or leave, and what is left under a limit."""

from __future__ import annotations

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import WATER_LB, result

_DIESEL_LB = 7.1
"""A gallon of diesel in pounds, common practice, no source."""
_GONE = Lazy(
    r"\b(?:minus|less|dump\w*|drain\w*|took off|taken off|take off|unload\w*|remov\w*|left behind|get(?:ting)? off|got off|without|empt\w+|pump\w* out|off ?load\w*|burn\w*) (?:\w+ ){0,4}# "
    r"|# (?:\w+ ){0,3}(?:dumped|drained|removed|unloaded|get off|got off|left behind|came off)\b"
)
_DENSITY = r"(?:<(?:gal|L)>|gallon|gal|water|diesel|fuel|liter|litre)"
_ROLES = (
    role("count", "people|bags", 0.8, many=True),
    role("count", "n", -1.6, (2.8, r"# (?:more |extra |hockey |gear |big |kit |duffel |stick |full |equipment )*(?:players|lads|kids|men|people|bags|trunks|cases|duffels|sticks|boxes|passengers|coaches|sets|bundles|skaters|guys|girls|of (?:them|us|those))\b|# (?:x|of|@|at|times) <"), many=True),
    role("each", "mass", 0.3, (1.5, r"\b(?:at|of|@|x|weigh\w*|averag\w*|bags?|their|<bag>|<people>|plus|and)(?: about| around| say| with)* # |# (?:of \w+ )?(?:\w+ )?(?:each|apiece|a (?:piece|head|bag|man|player|person|kid|lad)|per)\b"), never=r"# (?:per|a|/) " + _DENSITY + r"|# (?:to spare|in hand|spare|of room)\b", many=True),
    role("each", "n", -1.6, (2.2, r"\b(?:at|of|@|x|<bag> (?:of|at)|averag\w*) (?:about )?# "), many=True),
    role("density", "mass", -1.6, (5.1, r"\b<(?:gal|L)>[^#]{0,30} # (?:per |a |/ ?|each\b)|\b(?:water|diesel|fuel) (?:is |at |weighs )*# (?:per|a|/|each)|# (?:per|a|/) (?:gallon|gal|<gal>)")),
    role("liquid", "volume", 0.5, never=r"<lb> (?:per|a|/) # ", many=True),
    role("a gallon", "volume", -1.6, (4.6, r"<lb> (?:per|a|/) # ")),
    role("scale", "mass|n", -1.6, (4.2, r"\b(?:scale\w*|ticket|weigh ?bridge|weighed|weighs|weighing|rolled|come in at|came in at|reads?|gross|now at|tips?)(?: \w+){0,3}? # |# (?:on the (?:scale|ticket)|now)\b"), bare=0.3),
    role("limit", "mass|n", -1.6, (4.2, r"\b(?:limit\w*|allowed|max\w*|rat(?:ed|ing)|gvwr|gawr|legal|cap|may be|permitted)(?: \w+| ' s)?(?: \w+)? # |# (?:\w+ )?(?:limit|maximum|max|allowed|rating|gvwr|gawr)\b"), bare=0.3),
    role("spare", "mass", -1.6, (4.6, r"# (?:\w+ )?(?:to spare|spare|in hand|of room|left|of (?:payload|margin)|under)\b|\b(?:room for|spare|margin of|only) # ")),
    role("moved", "mass", -0.2, (1.5, r"# (?:of )?(?:gear|luggage|bags|stuff|kit|spares|tools|food|equipment|freight|more|extra)\b"), never=r"# (?:of \w+ )?(?:each|apiece|per|an? (?:head|man|person|player|piece|bag|kid|lad|trunk|case))\b|\btheir # ", many=True, each=False),
    role("beside", "volume", -1.6, (4.4, r"# (?:\w+ ){0,5}already\b|\balready (?:\w+ ){0,3}# "), many=True),
    role("beside", "temperature|clock|time", -0.5, many=True),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    other = r"\b(?:propane|furnace\w*|cylinders?|bottles?|axle load|wheelbase|overhang|behind the|bleach|freez\w*|jack|tongue|hours?|pounders?|tare|tank (?:is|holds))\b|<(?:h|psi|mph|mpg|V|A|ft|in|cylinder|awg|furnace)(?:/\w+)?>|/day"
    if want.kind not in ("mass", "bags", "volume", "") or question.has(other):
        return False
    return any(one.kind == "mass" for one in terms)


def _density(t: Told) -> tuple[float, str]:
    """Pounds a gallon of what is spoken of."""
    told = t.value("density")
    t.all("a gallon")
    if told is not None:
        return told, ""
    if t.question.has(r"\b(?:diesel|fuel)\b") and not t.question.has(r"\bwater\b|\bwaste\b|\bfresh\b"):
        return _DIESEL_LB, "diesel 7.1 lb/gal"
    return WATER_LB, "water 8.34 lb/gal"


_MOST_COUNTED = 400
"""More things than these no coach carries: "9,200 of 10,000 allowed" counts none."""


def _gone(term: Term) -> bool:
    return term.value < 0 or _GONE.search(term.around) is not None


def _items(t: Told) -> tuple[float, list[str]] | None:
    """What all counted things weigh: each weight goes with the count before it, the people's bags with the people."""
    counts, each = t.all("count"), t.all("each")
    if any(one.value > _MOST_COUNTED for one in counts):
        return None
    if not each:
        return None if counts else (0.0, [])
    total, lines = 0.0, []
    unpaired = {one.amount.start for one in counts}
    for weight in each:
        before = [one for one in counts if one.amount.start < weight.amount.start]
        after = [
            one
            for one in counts
            if one.amount.start > weight.amount.start and one.amount.start - weight.amount.end <= 3
        ]
        if before and before[-1].amount.start in unpaired:
            one = before[-1]
        elif after and after[0].amount.start in unpaired:
            one = after[0]
        elif before and (
            weight.each
            or Lazy(
                r"\b(?:plus|and|with|their)\b[^#]{0,20} # (?:\w+ )?(?:a head|a man|a player|apiece|bags?|kit|gear|trunks?|of (?:kit|gear)|each)\b|\bbags?\b[^#]{0,14} # "
            ).search(weight.around)
        ):
            one = before[-1]
        else:
            return None
        unpaired.discard(one.amount.start)
        sign = -1.0 if _gone(one) else 1.0
        total += sign * one.value * weight.value
        lines.append(
            f"{'- ' if sign < 0 else ''}{shown(one.value)} x {shown(weight.value)} lb = {shown(one.value * weight.value)} lb"
        )
    return None if unpaired else (total, lines)


def _solve(t: Told) -> Estimate | None:
    kg = any(one.unit == "kg" for one in t.question.amounts)
    if kg and any(one.kind == "n" for name in ("each", "scale", "limit", "spare") for one in t.roles.get(name, [])):
        return None
    spare = t.value("spare")
    if spare is not None:
        return _fitting(t, spare)
    if t.has("count") and SWAPPED.search(t.question.frame):
        return None  # what is left behind for it comes off
    items = _items(t)
    if items is None:
        return None
    total, lines = items
    liquids = t.all("liquid")
    if liquids:
        density, said = _density(t)
        if said:
            t.assumed.append(said)
        for one in liquids:
            sign, gallons = -1.0 if _gone(one) else 1.0, abs(one.value)
            total += sign * gallons * density
            lines.append(
                f"{'- ' if sign < 0 else ''}{shown(gallons)} gal x {shown(density)} lb = {shown(gallons * density)} lb"
            )
    for one in t.all("moved"):
        total += -one.value if _gone(one) else one.value
        lines.append(f"{'- ' if _gone(one) else ''}{shown(one.value)} lb")
    scale, limit = t.value("scale"), t.value("limit")
    if limit is not None:
        if scale is None:
            return None
        left = limit - scale - total
        lines.append(f"{shown(limit)} - {shown(scale)} - {shown(total)} = {shown(left)} lb")
        verdict = (
            f"{shown(left)} pounds under the limit." if left >= 0 else f"No: {shown(-left)} pounds over the limit."
        )
        return result(t, "left under the limit" if left >= 0 else "over the limit", abs(left), "lb", tuple(lines), verdict, (figure("weight", scale + total, "lb"), figure("added", total, "lb"))) if t.want.kind in ("mass", "") else None  # fmt: skip
    if scale is None and t.question.has(r"\b(?:how much|what) (?:is |' s )?(?:left|still)\b|\broom\b"):
        return None  # a limit that was not told as one
    if t.want.kind not in ("mass", "") or not lines or t.want.judged and scale is None and not t.want.difference:
        return None
    if scale is not None:
        return result(
            t, "weight", scale + total, "lb", (*lines, f"{shown(scale)} + {shown(total)} = {shown(scale + total)} lb")
        )
    if t.want.difference or any(line.startswith("-") for line in lines):
        verdict = f"{shown(abs(total))} lb {'heavier' if total >= 0 else 'lighter'}."
        return result(t, "change of weight", abs(total), "lb", tuple(lines), verdict)
    return result(t, "weight", total, "lb", tuple(lines))


def _fitting(t: Told, spare: float) -> Estimate | None:
    """How many bags, or gallons, a weight that is to spare allows."""
    each = t.all("each")
    if t.has("count") or t.has("liquid") or t.has("scale") or t.has("limit") or t.has("moved"):
        return None
    if t.want.kind == "volume" and not each:
        density, said = _density(t)
        gallons = spare / density
        if said:
            t.assumed.append(said)
        return result(
            t, "that much may be added", gallons, "gal", (f"{shown(spare)} ÷ {shown(density)} = {shown(gallons)} gal",)
        )
    if t.want.kind == "bags" and len(each) == 1 and each[0].value > 0:
        many = int(spare / each[0].value + 1e-9)
        return result(t, "that many fit", float(many), "bags", (f"{shown(spare)} ÷ {shown(each[0].value)} = {shown(spare / each[0].value)}",))  # fmt: skip
    return None


SWAPPED = Lazy(r"\b(?:instead of|swap\w*|trad(?:e|es|ed|ing)|replac\w*|in place of|rather than)\b")
"""One load goes for another, so that they are not added up."""

LOADS = Family("loads", lambda _q: "axle-load", _applies, _ROLES, _solve)
