"""Sums over weight: people, bags, water and fuel that come aboard or leave, and what is left under a limit."""

from __future__ import annotations

import math
from typing import NamedTuple

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_axle import OFF_IT, on_axle
from cabassist.sums.told_boxes import boxes_into
from cabassist.sums.told_parts import WATER_LB, result
from cabassist.sums.told_units import as_spoken

_DIESEL_LB = 7.1
"""A gallon of diesel in pounds, common practice, no source."""
_GONE = Lazy(
    r"\b(?:minus|less|dump\w*|drain\w*|took off|taken off|take off|unload\w*|remov\w*|left behind|get(?:ting)? off|got off|without|empt\w+|pump\w* out|off ?load\w*|burn\w*) (?:\w+ ){0,4}# "
    r"|# (?:at|of|@|x) <(?:lb|n|kg)> (?:each )?(?:got off|get off|came off|went off|stayed behind|unloaded|removed)\b"
    r"|# (?:\w+ ){0,3}(?:dumped|drained|removed|unloaded|get off|got off|left behind|came off)\b"
)
_COMES_ON = Lazy(
    r"\b(?:dumped|drained|removed|unloaded|off|out|gone|minus <(?:lb|gal|L|kg)>(?: \w+){0,2}) (?:and|but|then|plus|,)(?: then| we| i| put| took| with| plus)* # (?:at|of|@|x)? ?(?:<lb>|<n>|<kg>)?(?: each| apiece)? ?(?:(?:of )?(?:\w+ ){1,2})?(?:on|added|aboard|loaded|put on|came on|go(?:es)? on|more|in)\b"
    r"|\b(?:and|then|but|plus) (?:put(?:ting)?|add(?:ed|ing)?|load(?:ed|ing)?|took|taking) (?:\w+ )?(?:on )?# "
)
"""Behind what went off, something that is put on."""
_DENSITY = r"(?:<(?:gal|L)>|gallon|gal|water|diesel|fuel|liter|litre)"
_OF_SOMETHING = r"# of \w+ (?:\w+ )?(?:came|went|comes|goes|got|gets|coming|going|was|were|is|are) (?:put |loaded |taken )?(?:on|aboard|off|in|out)\b"
""" "Two hundred pounds of skates came on": one weight, whatever is counted before it."""
_ROLES = (
    role("count", "people|bags", 0.8, many=True),
    role("count", "n", -1.6, (2.8, r"# (?:more |extra |hockey |gear |big |kit |duffel |stick |full |equipment )*(?:players|lads|kids|men|people|bags|trunks|cases|duffels|sticks|boxes|passengers|coaches|sets|bundles|skaters|guys|girls|of (?:them|us|those))\b|# (?:x|of|@|at|times) <"), many=True),
    role("each", "mass", 0.3, (1.5, r"\b(?:at|of|@|x|weigh\w*|averag\w*|bags?|their|<bag>|<people>|plus|and)(?: about| around| say| with)* # |# (?:of \w+ )?(?:\w+ )?(?:each|apiece|a (?:piece|head|bag|man|player|person|kid|lad)|per)\b"), never=r"# (?:per|a|/) " + _DENSITY + r"|# (?:to spare|in hand|spare|of room)\b|" + _OF_SOMETHING, many=True),
    role("each", "n", -1.6, (2.2, r"\b(?:at|of|@|x|<bag> (?:of|at)|averag\w*) (?:about )?# "), many=True),
    role("density", "mass", -1.6, (5.1, r"\b<(?:gal|L)>[^#]{0,30} # (?:per |a |/ ?|each\b)|\b(?:water|diesel|fuel) (?:is |at |weighs )*# (?:per|a|/|each)|# (?:per|a|/) (?:gallon|gal|<gal>)")),
    role("liquid", "volume", 0.5, never=r"<lb> (?:per|a|/) # ", many=True),
    role("a gallon", "volume", -1.6, (4.6, r"<lb> (?:per|a|/) # ")),
    role("scale", "mass|n", -1.6, (4.2, r"\b(?:scale\w*|ticket|weigh ?bridge|weighed|weighs|weighing|rolled|come in at|came in at|reads?|gross|now at|tips?)(?: \w+){0,3}? # |# (?:on the (?:scale|ticket)|now)\b"), bare=0.3),
    role("scale", "mass|n", -9.0, many=True),  # of each axle
    role("limit", "mass|n", -1.6, (4.2, r"\b(?:limit\w*|posted|allowed|max\w*|rat(?:ed|ing)|gvwr|gawr|legal|cap|may be|permitted)(?: \w+| ' s)?(?: \w+)? # |# (?:\w+ )?(?:limit|maximum|max|allowed|rating|gvwr|gawr)\b"), bare=0.3),
    role("spare", "mass", -1.6, (4.6, r"# (?:\w+ )?(?:to spare|spare|in hand|of room|left|of (?:payload|margin)|under)\b|\b(?:room for|spare|margin of|only) # ")),
    role("moved", "mass", -0.2, (1.5, r"# (?:of )?(?:gear|luggage|bags|stuff|kit|spares|tools|food|equipment|freight|more|extra)\b"), (2.6, _OF_SOMETHING), never=r"# (?:of \w+ )?(?:each|apiece|per|an? (?:head|man|person|player|piece|bag|kid|lad|trunk|case))\b|\btheir # ", many=True, each=False),
    role("moved", "n", -9.0, many=True, each=False),  # "there's four fifty in it already"
    role("count off", "people|bags|n", -1.6, many=True),
    role("liquid off", "volume", -1.6, many=True),
    role("moved off", "mass", -1.6, many=True),
    role("full", "share", -1.6),
    role("share", "share", -9.0),  # how much of what comes aboard rests on that axle
    role("bay", "length|depth|n", -9.0, many=True),  # length, width and height of a bay
    role("box", "length|depth|n", -9.0, many=True),
    role("beside", "mass|people|bags|length|depth|share|n|distance", -9.0, many=True),
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


_MOST_EACH = 500.0
"""No bag or person weighs more."""
_ASKS_OVER = Lazy(
    r"\b(?:put|push|make|take|would|will|does|do|is|are|am)\b(?:(?!\b(?:left|without|not|never|stay|keep|under|how|or)\b)[^,.?<]){0,30}?\b(?:over|exceed\w*|overload\w*|overweight|bust\w*|break\w*|past|above)\b|\btoo (?:much|heavy)\b"
)
"""Asks whether it is more than the limit: the yes and the no change places."""


_TOO_MUCH = Lazy(
    r"# (?:too (?:heavy|much)|overweight|over(?! (?:it|them|or under|the (?:front|rear|drive|steer|tag|axles?|wheels))\b))|\b(?:overweight|over|too heavy) by # "
)
"""So much over the limit, and no room under it."""


def _gone(term: Term) -> bool:
    gone = _GONE.search(term.around) is not None or OFF_IT.search(term.around) is not None
    return term.value < 0 or (gone and _COMES_ON.search(term.around) is None)


_AFTER_IT = Lazy(
    r"\b(?:plus|and|with|their)\b[^#]{0,20} # (?:\w+ )?(?:a head|a man|a player|apiece|bags?|kit|gear|trunks?|of (?:kit|gear)|each)\b|\bbags?\b[^#]{0,14} # "
)


class _Load(NamedTuple):
    """What comes aboard, less what leaves."""

    total: float
    lines: list[str]
    spare: list[Term]
    """Weights of one thing each whose number is not told: "how many more bags at 55"."""

    def add(self, pounds: float, line: str, *, off: bool) -> _Load:
        """With a further weight."""
        return self._replace(
            total=self.total + (-pounds if off else pounds), lines=[*self.lines, f"{'- ' if off else ''}{line}"]
        )


def _items(t: Told) -> _Load | None:
    """What all counted things weigh: each weight goes with the count before it, the people's bags with the people."""
    off = {one.amount.start for one in t.all("count off")}
    counts = sorted([*t.all("count"), *t.all("count off")], key=lambda one: one.amount.start)
    if any(one.value > _MOST_COUNTED for one in counts):
        return None
    counted = t.want.kind in ("bags", "people")  # a weight may then be that of what is counted
    load, unpaired = _Load(0.0, [], []), {one.amount.start for one in counts}
    for weight in t.all("each"):
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
        elif before and (t.want.kind == "mass" or sum((weight.each, bool(_AFTER_IT.search(weight.around)))) > counted):
            one = before[-1]
        elif len(counts) == 1 and not counted and weight.amount.start < counts[0].amount.start:
            one = counts[0]  # "each man 200, his bag 60, and 18 of them"
        else:
            load.spare.append(weight)
            continue
        unpaired.discard(one.amount.start)
        line = f"{shown(one.value)} x {shown(weight.value)} lb = {shown(one.value * weight.value)} lb"
        load = load.add(one.value * weight.value, line, off=one.amount.start in off or _gone(one))
    return None if unpaired else load


def _with_liquids(t: Told, load: _Load) -> _Load | None:
    """With the water or fuel; a share is that of a tank whose size is told."""
    liquids, off = t.all("liquid"), t.all("liquid off")
    if not liquids and not off:
        return load if not t.has("full") else None
    density, said = _density(t)
    if said:
        t.assumed.append(said)
    part = t.value("full") if t.has("full") else 1.0
    if part is None or (part != 1.0 and len(liquids) + len(off) != 1):
        return None
    for one in (*liquids, *off):
        gallons = abs(one.value) * part
        line = f"{shown(gallons)} gal x {shown(density)} lb = {shown(gallons * density)} lb"
        load = load.add(gallons * density, line, off=one in off or _gone(one))
    return load


def _averaged(t: Told) -> Estimate | None:
    """What one of several things weighs that weigh so much together."""
    many, total = t.one("count"), t.one("moved")
    if many is None or total is None or not many.value or not t.question.has(r"\b(?:each|apiece|average|per)\b"):
        return None
    return result(t, "each", total.value / many.value, "lb", (f"{shown(total.value)} lb ÷ {shown(many.value)} = {shown(total.value / many.value)} lb",))  # fmt: skip


_FOR_EACH = Lazy(
    r"\b(?:each|every (?:one|man|player|kid|body)|apiece|everybody|everyone|all)(?: of (?:them|us|whom))? (?:with|has|have|carries|carrying|brings|bringing|lugs|gets|plus|and)(?: a| an| about| another| around| his| their)* # (?!(?:of )?(?:\w+ )?(?:all told|in all|altogether|together|total|combined)\b)"
)
"""A weight that each of those counted brings."""


def _solve(t: Told) -> Estimate | None:
    if t.has("bay", "box"):
        return boxes_into(t)
    if t.has("share"):
        t.roles = {{"scale": "weighs", "liquid": "on", "liquid off": "off"}.get(name, name): found for name, found in t.roles.items()}  # fmt: skip
        return on_axle(t)
    as_spoken(t, "mass", "moved")
    if t.has("count") and any(_FOR_EACH.search(one.around) for one in t.roles.get("moved", [])):
        return None  # "each with 25 kilos of gear" comes so many times over
    kg = any(one.unit == "kg" for one in t.question.amounts)
    if kg and any(one.kind == "n" for name in ("each", "scale", "limit", "spare") for one in t.roles.get(name, [])):
        return None
    told_off = t.has("count off") or t.has("moved off")
    if t.has("count") and not told_off and SWAPPED.search(t.question.frame):
        return None  # what is left behind for it comes off
    if {*t.roles} - {"beside"} == {"count", "moved"}:
        return _averaged(t)
    load = _items(t)
    load = load and _with_liquids(t, load)
    if load is None:
        return None
    off = t.all("moved off")
    for one in (*t.all("moved"), *off):
        load = load.add(one.value, f"{shown(one.value)} lb", off=one in off or _gone(one))
    scale = t.total("scale")
    if t.has("limit") or t.has("spare"):
        return _under(t, load, scale)
    if load.spare or not (load.lines or scale is not None):
        return None
    if scale is None and len(t.question.amounts) == 1:
        return None  # one weight alone adds up to nothing
    if scale is None and t.question.has(r"\b(?:how much|what) (?:is |' s )?(?:left|still)\b|\broom\b"):
        return None  # a limit that was not told as one
    if t.want.kind not in ("mass", "") or not load.lines or t.want.judged and scale is None and not t.want.difference:
        return None
    total, lines = load.total, load.lines
    if scale is not None:
        return result(
            t, "weight", scale + total, "lb", (*lines, f"{shown(scale)} + {shown(total)} = {shown(scale + total)} lb")
        )
    if t.want.difference or told_off or any(line.startswith("-") for line in lines):
        verdict = f"{shown(abs(total))} lb {'heavier' if total >= 0 else 'lighter'}."
        return result(t, "change of weight", abs(total), "lb", tuple(lines), verdict)
    return result(t, "weight", total, "lb", tuple(lines))


def _under(t: Told, load: _Load, scale: float | None) -> Estimate | None:
    """What a limit, or the weight that is to spare, leaves: in pounds, in things of one weight, or in gallons."""
    limit, spare = t.value("limit"), t.value("spare")
    if spare is not None and any(_TOO_MUCH.search(one.around) for one in t.roles.get("spare", [])):
        spare = -spare
    room = spare if limit is None else limit
    if room is None or (limit is not None and spare is not None) or (spare is not None and scale is not None):
        return None
    if limit is not None and scale is None and not load.lines:
        scale = 0.0 if load.spare or t.want.kind == "volume" else None
        if scale is None:
            return None
    there = scale or 0.0
    left = room - there - load.total
    lines = (*load.lines, " - ".join(map(shown, [room, *([there] if there else []), *([load.total] if load.total else [])])) + f" = {shown(left)} lb")  # fmt: skip
    if load.spare or t.want.kind in ("bags", "people"):
        return _fitting(t, left, load.spare[0].value, lines) if len(load.spare) == 1 else None
    if t.want.kind == "volume":
        density, said = _density(t)
        if said and said not in t.assumed:
            t.assumed.append(said)
        gallons = abs(left) / density
        name = "that much may be added" if left >= 0 else "that much must be drained"
        return result(t, name, gallons, "gal", (*lines, f"{shown(abs(left))} ÷ {shown(density)} = {shown(gallons)} gal"))  # fmt: skip
    if t.want.kind not in ("mass", ""):
        return None
    plain = f"{shown(abs(left))} pounds {'under' if left >= 0 else 'over'} the limit."
    if t.question.has(r"\bover or under\b|\bunder or over\b"):
        plain = f"{'Under' if left >= 0 else 'Over'}: {plain}"
    asks_over = _ASKS_OVER.search(t.question.frame) is not None
    no = "Yes: " if asks_over is (left < 0) else "No: "
    if t.question.has(r"\bover or under\b|\bunder or over\b") or (not t.want.judged and (asks_over or left >= 0)):
        no = ""
    verdict = no + plain
    return result(t, "left under the limit" if left >= 0 else "over the limit", abs(left), "lb", lines, verdict, (figure("weight", there + load.total, "lb"), figure("added", load.total, "lb")))  # fmt: skip


def _fitting(t: Told, left: float, each: float, lines: tuple[str, ...]) -> Estimate | None:
    """How many things of one weight still fit, or must come off."""
    if not 0 < each <= _MOST_EACH or t.want.kind not in ("bags", "people", ""):
        return None
    many = int(left / each + 1e-9) if left >= 0 else math.ceil(-left / each - 1e-9)
    name = "that many fit" if left >= 0 else "that many must come off"
    return result(t, name, float(many), "count", (*lines, f"{shown(abs(left))} ÷ {shown(each)} = {shown(abs(left) / each)}"))  # fmt: skip


SWAPPED = Lazy(r"\b(?:instead of|swap\w*|trad(?:e|es|ed|ing)|replac\w*|in place of|rather than)\b")
"""One load goes for another, so that they are not added up."""

LOADS = Family("loads", lambda _q: "axle-load", _applies, _ROLES, _solve)
