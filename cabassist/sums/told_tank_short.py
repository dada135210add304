"""Questions of one tank in few words: the flow that is wanted by a time, goes of a toilet, whether so much more fits in, two paces.

A level without a unit beside an amount in gallons is in gallons too.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.coach import Tank as CoachTank
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import PER_H
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.told_moved import halves

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")
_FRESH = Lazy(r"\b(?:fresh|clean|drinking|potable)\b")


def _named(q: Question, coach: Coach) -> CoachTank | None:
    """The tank that is named; None when none is, or both are."""
    waste, fresh = _WASTE.search(q.frame) is not None, _FRESH.search(q.frame) is not None
    return None if waste == fresh else coach.tank("waste" if waste else "fresh")


def _inside(one: Amount, tank: CoachTank) -> float | None:
    """Gallons that a level comes to in a tank; None when it can be none."""
    gallons = {"gal": 1.0, "n": 1.0, "part": tank.capacity_gal, "percent": tank.capacity_gal / 100}.get(one.unit)
    if gallons is None or one.per or one.each or not 0 <= one.value * gallons <= tank.capacity_gal:
        return None
    return one.value * gallons


_FLOW_ASKED = Lazy(
    r"\b(?:what|how much|how fast|how many gallons)\b(?: \w+){0,4} (?:flow|rate|gpm|a minute|per minute)\b|\bgallons (?:a|per) minute (?:do|must|should|does|would|will|needed)\b|\bhow fast (?:must|should|does|do|has|would)\b"
)
_TARGET = Lazy(
    r"\b(?:need|want|get|wants|needs|have|has|must|should|reach)\b[^<]*\b(?:at|to|up to|reach|be) (?:be )?(?:at |about )?$|\breach $"
)
_NOW = Lazy(r"\b(?:it is|it|now|clock says|time is)(?: (?:is|now|already|just|only))* $")
_FULL = Lazy(r"\b(?:full|topped|brimming)\b")
_LEVEL = Lazy(
    r"\b(?:at|has|with|and|holds|is|shows?|reads?|on|only|it|have|now|got|about|from)(?: (?:at|about|only|just|now))* $"
)


def flow_wanted(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons a minute that bring the fresh tank from what is in it to a level, or to full, between two times of day."""
    if len(q.amounts) not in (3, 4) or not _FLOW_ASKED.search(q.frame) or _WASTE.search(q.frame):
        return None
    found = placed(q)
    if found is None:
        return None
    clocks = [one for one in found if one.unit == "clock"]
    levels = [one for one in found if one.unit in ("gal", "n", "percent", "part")]
    if len(clocks) != 2 or len(levels) != len(found) - 2 or any(one.amount.per or one.amount.each for one in levels):
        return None
    starts = [one for one in clocks if _NOW.search(one.left)]
    tank = coach.tank("fresh")
    targets = [one for one in levels if _TARGET.search(one.left)]
    rest = [one for one in levels if one not in targets]
    full = len(levels) == 1 and _FULL.search(q.frame) is not None and not targets
    if len(starts) != 1 or len(rest) != 1 or (len(targets) != 1 and not full) or not _LEVEL.search(rest[0].left):
        return None
    goal = tank.capacity_gal if full else _inside(targets[0].amount, tank)
    inside = _inside(rest[0].amount, tank)
    if goal is None or inside is None or goal <= inside:
        return None
    by = next(one for one in clocks if one is not starts[0])
    minutes = 60 * min({(b - a) % 24 for a in halves(starts[0]) for b in halves(by)} - {0.0}, default=0.0)
    if not minutes:
        return None
    flow = (goal - inside) / minutes
    lines = (f"({shown(goal)} - {shown(inside)}) gal ÷ {shown(minutes)} min = {shown(flow)} gal a minute",)
    size = (f"fresh tank {shown(tank.capacity_gal)} gal (profile)",) if full else ()
    return exact("flow", flow, "gal/min", working=lines, assumptions=size, source="arithmetic", also=(figure("to fill", goal - inside, "gal"),))  # fmt: skip


_EACH_GO = (
    r"\b(?:each|every|a|one|per) (?:time|go|visit|trip|flush|use)\b(?: (?!<)[^ .?,]+){0,3},? (?:is |that is |that |takes |it is |costs |puts in |uses |means |about |=)*({gal|qt|L})"
    r"|({gal|qt|L}) (?:(?:of water|goes in|in|down) )*(?:each|every|a|per) (?:time|go|visit|trip)\b"
)
_GOES_ASKED = Lazy(r"\bhow many (?:more )?(?:goes|times|visits|trips|uses|of those|flushes|can go)\b")


def goes(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many more goes of a toilet the waste tank has room for."""
    if len(q.amounts) != 2 or not _GOES_ASKED.search(q.frame) or not _WASTE.search(q.frame) or _FRESH.search(q.frame):
        return None
    each = q.find(_EACH_GO)
    if len(each) != 1:
        return None
    level = next((one for one in q.amounts if one is not each[0]), None)
    tank = coach.tank("waste")
    inside = None if level is None else _inside(level, tank)
    gallons = each[0].value * {"gal": 1.0, "qt": 0.25, "L": 1 / 3.785411784}[each[0].unit]
    if inside is None or gallons <= 0 or _NO_LEVEL.search(q.frame):
        return None
    many = (tank.capacity_gal - inside) / gallons
    lines = (f"({shown(tank.capacity_gal)} - {shown(inside)}) gal ÷ {shown(gallons)} gal = {shown(many)}",)
    return exact("times", float(int(many + 1e-9)), "times", working=lines, assumptions=(f"waste tank {shown(tank.capacity_gal)} gal (profile)",), source="arithmetic")  # fmt: skip


_NO_LEVEL = Lazy(
    r"<(?:gal|n|part|percent)> (?:of )?(?:room|space|free|empty|left|to go|short|to spare)\b|\broom (?:for|of)\b"
)
_TAKES_MORE = (
    r"\b(?:can|could|will|would|does|do|may)(?: (?:i|we|you))?(?: (?:put|get|dump|pour|add))?(?: (?:the|our|my|this|that))?(?: (?:waste|black|gr[ae]y|holding|fresh|clean))?(?: (?:tank|water|one))*"
    r"(?: (?:still|also|even))? (?:take|hold|swallow|handle|stand|manage|fit)(?: (?:on|in))? (?:about |another |a further |maybe )*({gal}|{n} more(?= ,| \.| $| with\b| if\b| when\b))"
)
_STANDS = r"\b(?:at|has|with|stands? (?:at|on)|reads?|shows?|is|on|got|holds)(?: (?:already|about|now|only|just))* ({n|gal})(?! (?:more|of room|to go|free|empty|left))"


def takes_more(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether a tank takes so many gallons more, with what stands in it."""
    tank = _named(q, coach)
    more, level = q.find(_TAKES_MORE), q.find(_STANDS)
    if tank is None or len(q.amounts) != 2 or len(more) != 1 or not level or _GAS.search(q.frame):
        return None
    added = more[0]
    stands = next((one for one in q.amounts if one is not added), None)
    if stands is None or stands not in level or "gal" not in (added.unit, stands.unit):
        return None
    inside = _inside(stands, tank)
    if inside is None or added.per or added.each:
        return None
    then = inside + added.value
    fits = then <= tank.capacity_gal
    room = abs(tank.capacity_gal - then)
    verdict = f"{'Yes' if fits else 'No'}: {shown(then)} gallons of {shown(tank.capacity_gal)}, {shown(room)} {'to spare' if fits else 'too many'}."
    lines = (f"{shown(inside)} + {shown(added.value)} = {shown(then)} gal against {shown(tank.capacity_gal)} gal",)
    return exact("in it then", then, "gal", working=lines, assumptions=(f"{tank.name} tank {shown(tank.capacity_gal)} gal (profile)",), source="arithmetic", verdict=verdict, also=(figure("to spare" if fits else "too much", room, "gal"),))  # fmt: skip


_GAS = Lazy(r"\b(?:propane|gas|lp|bottles?|cylinders?|diesel|fuel|batter\w+|people|hours?|days?)\b")
_LONGER = Lazy(r"\bhow (?:much|many (?:more )?hours|many hours) (?:later|longer)\b|\bhow much (?:more )?time (?:do|does|would|will) (?:we|that|it|i) (?:gain|win|buy|get|give)\b|\bhow many (?:more )?hours (?:does|would|will|do) (?:that|it|we|i) (?:gain|win|buy|get|give|add)\b")  # fmt: skip
_IF = Lazy(r"\b(?:if|with|when|suppose)\b")


def later_full(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours by which a tank is full, or out, later at another pace than now."""
    if len(q.amounts) not in (3, 4) or not _LONGER.search(q.frame):
        return None
    tank = _named(q, coach)
    found = placed(q)
    if tank is None or found is None or _GAS_ONLY.search(q.frame):
        return None
    paces = [one for one in found if one.amount.tag in ("gal/h", "gph", "n/h", "gal/day")]
    bare = [one for one in found if one.amount.tag == "n" and _TO.search(one.left)]
    if len(paces) == 1 and len(bare) == 1:
        paces = sorted([*paces, *bare], key=lambda one: one.amount.start)
    rest = [one for one in found if one not in paces]
    if len(paces) != 2 or not 1 <= len(rest) <= 2 or not _IF.search(f"{paces[1].left} "):
        return None
    size = tank.capacity_gal
    if len(rest) == 2:
        if rest[1].unit not in ("gal", "n") or not _OF.search(rest[1].left):
            return None
        size = rest[1].value
    inside = rest[0].value * {"gal": 1.0, "n": 1.0, "part": size, "percent": size / 100}.get(rest[0].unit, 0.0)
    if not 0 < inside <= size or rest[0].amount.per or _NO_LEVEL.search(q.frame):
        return None
    hourly = [one.value * PER_H[one.amount.per or paces[0].amount.per or "h"] for one in paces]
    if min(hourly) <= 0:
        return None
    gallons = inside if tank.name == "fresh" else size - inside
    first, second = (gallons / one for one in hourly)
    lines = (f"{shown(gallons)} ÷ {shown(hourly[0])} = {shown(first)} h", f"{shown(gallons)} ÷ {shown(hourly[1])} = {shown(second)} h", f"{shown(second)} - {shown(first)} = {shown(second - first)} h")  # fmt: skip
    word = "longer" if second >= first else "sooner"
    verdict = f"{shown(abs(second - first), 3)} hours {word}: {shown(second, 3)} for {shown(first, 3)}."
    return exact(word, abs(second - first), "h", working=lines, source="arithmetic", verdict=verdict, also=(figure("then", second, "h"), figure("as it is", first, "h")))  # fmt: skip


_TO = Lazy(r"\b(?:to|at|only|just|down to|on|use|used|take|make it)(?: (?:only|just|about))* $")
_OF = Lazy(r"^(?:full |gallons |in it )?(?:out )?of (?:the |a |an |its )?$")
_GAS_ONLY = Lazy(r"\b(?:propane|gas|lp|bottles?|cylinders?|diesel|fuel|batter\w+)\b")
_ENOUGH_FOR = (
    r"\b(?:is|are|will|would) ({gal|L})(?: of water| fresh)? (?:be )?(?:enough|do|going to do|good) for ({n|people})(?: of us| people)?\b[^.?]*\b(?:if|when|as|since|because|given)\b(?: (?:the|last night|that))* "
    r"({n|people})(?: of us| people)?(?: (?:had|have))? (?:used|use|drank|drink|needed|need|took|take|got through|went through|go through) (?:up )?(?:about )?({n|gal|L})"
)


def enough_for(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many gallons are enough for another crew that uses as much a head."""
    found = q.find(_ENOUGH_FOR) if len(q.amounts) == 4 else ()
    if len(found) != 4:
        return None
    held, many, fewer, used = found
    if any(one.per or one.each for one in found) or used.unit not in ("n", held.unit) or fewer.value <= 0:
        return None
    need = used.value * many.value / fewer.value
    fits = need <= held.value + 1e-9
    spare = abs(held.value - need)
    names = {"gal": "gallons", "L": "liters"}[held.unit]
    lines = (f"{shown(used.value)} ÷ {shown(fewer.value)} x {shown(many.value)} = {shown(need)} {held.unit}",)
    verdict = f"{'Yes' if fits else 'No'}: {shown(need)} {names} of {shown(held.value)}, {shown(spare)} {'to spare' if fits else 'short'}."
    return exact("needed", need, held.unit, working=lines, source="arithmetic", verdict=verdict, also=(figure("to spare" if fits else "short", spare, held.unit),))  # fmt: skip


_LASTS_TOLD = r"\b(waste|black|gr[ae]y|fresh)(?: (?:water|tank|is|will be|gets|goes|should be|that is))* (full|empty|out|dry|gone)(?: in)? (?:about )?({h})"
_FIRST = Lazy(r"\b(?:which|what|who|first|sooner)\b")


def first_by_hours(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Which tank stops the coach first, where one is told in hours and the other in gallons and gallons an hour."""
    if len(q.amounts) != 3 or not q.has(r"\bfirst\b|\bsooner\b") or not _FIRST.search(q.frame):
        return None
    match = compiled(_LASTS_TOLD).search(q.frame)
    paces = [one for one in q.amounts if one.tag in ("gal/h", "gph")]
    stock = [one for one in q.amounts if one.tag in ("gal", "n", "percent", "part")]
    if match is None or len(paces) != 1 or len(stock) != 1 or paces[0].value <= 0 or _NO_LEVEL.search(q.frame):
        return None
    told_fresh = match[1] == "fresh"
    if told_fresh is (match[2] == "full") or not (_WASTE if told_fresh else _FRESH).search(q.frame):
        return None
    tank = coach.tank("waste" if told_fresh else "fresh")
    inside = _inside(stock[0], tank)
    if inside is None:
        return None
    gallons = tank.capacity_gal - inside if told_fresh else inside
    told, other = q.amount_at(match.start(3)), gallons / paces[0].value
    hours = told.value / 60 if told.unit == "min" else told.value
    if told.unit not in ("h", "min"):
        return None
    mine, its = ("Fresh empty", "waste full") if told_fresh else ("Waste full", "fresh empty")
    first = min(hours, other)
    verdict = f"{mine if hours < other else its.capitalize()} first, in {shown(first, 3)} hours, then {its if hours < other else mine.lower()} in {shown(max(hours, other), 3)}."
    if abs(hours - other) <= 0.02 * other:
        verdict = f"{mine} and {its} at about the same time, in {shown(first, 3)} hours."
    lines = (f"{shown(gallons)} gal ÷ {shown(paces[0].value)} gal an hour = {shown(other)} h", f"{shown(hours)} h, as told")  # fmt: skip
    return exact("which comes first", first, "h", working=lines, source="arithmetic", verdict=verdict, also=(figure(its, other, "h"),))  # fmt: skip


_POINT = Lazy(
    r"\b(?:gauge|glass|needle|sight|level|tank|fresh|it)\b[^<.?]*\b(?:says?|reads?|shows?|is at|at|on|is)(?: (?:about|only))* $"
)
_TO_FULL = Lazy(
    r"\b(?:till?|until|to) (?:it is |the tank is |we are )?full\b|\bto fill\b|\btop (?:it )?(?:up|off)\b|\bfull\b"
)
_FLOWS = frozenset({"gpm", "gal/min", "n/min"})


def from_gauge(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Minutes until the fresh tank is full, its level a bare "point four" of the gauge."""
    if len(q.amounts) != 2 or not _TO_FULL.search(q.frame) or _WASTE.search(q.frame) or _GAS_ONLY.search(q.frame):
        return None
    found = placed(q)
    flows = [one for one in found or () if one.amount.tag in _FLOWS]
    parts = [one for one in found or () if one.amount.tag == "n" and 0 < one.value < 1 and _POINT.search(one.left)]
    if len(flows) != 1 or len(parts) != 1 or flows[0].value <= 0 or want.kind not in ("time", ""):
        return None
    size = coach.tank("fresh").capacity_gal
    gallons = size * (1 - parts[0].value)
    minutes = gallons / flows[0].value
    lines = (f"{shown(size)} gal x (1 - {shown(parts[0].value)}) = {shown(gallons)} gal", f"÷ {shown(flows[0].value)} gal a minute = {shown(minutes)} min")  # fmt: skip
    return exact("filling takes", minutes, "min", working=lines, assumptions=(f"fresh tank {shown(size)} gal (profile)",), source="arithmetic")  # fmt: skip


_USED = Lazy(r"\b(?:used?|use up|gone|went|lost|lose|drew|drink|drank|get through|go through|go)\b")
_THEN = Lazy(r"\b(?:this morning|yesterday|last night|earlier|before|at noon|at breakfast|was|were)\b")


def by_stick(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons that went out of one of the coach's own tanks between two readings of the stick, the second without its unit."""
    if len(q.amounts) != 2 or not _USED.search(q.frame) or not _THEN.search(q.frame) or want.kind not in ("volume", ""):
        return None
    tank = _named(q, coach)
    first, second = q.amounts
    if tank is None or tank.shape != "rectangular" or first.unit != "in" or second.unit not in ("in", "n"):
        return None
    if not tank.depth_in >= first.value > second.value >= 0 or first.per or second.per or tank.name == "waste":
        return None
    gone = (first.value - second.value) * tank.capacity_gal / tank.depth_in
    lines = (f"({shown(first.value)} - {shown(second.value)}) in x {shown(tank.capacity_gal)} gal ÷ {shown(tank.depth_in)} in = {shown(gone)} gal",)  # fmt: skip
    return exact("used", gone, "gal", working=lines, assumptions=(f"the {tank.name} tank of the profile",), source="arithmetic")  # fmt: skip


_SIDES = r"({ft|in}) (?:long|in length) (?:, |by |x |and )?({ft|in}) (?:wide|across|in width) (?:, |by |x |and )?({n}) (?:deep|high|tall|in depth)"
_HOLDS = Lazy(r"\bhold\w*\b|\bhow (?:many gallons|much)\b|\bcapacity\b|\bvolume\b|\bgallons\b")
_CUBIC_IN_A_GALLON = 231.0


def box_holds(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons that a box holds whose last side has no unit: it is in that of the side before it."""
    found = q.find(_SIDES) if len(q.amounts) == 3 and _HOLDS.search(q.frame) else ()
    if len(found) != 3 or want.unit not in ("", "gal"):
        return None
    factors = {"ft": 12.0, "in": 1.0}
    sides = [found[0].value * factors[found[0].unit], found[1].value * factors[found[1].unit], found[2].value * factors[found[1].unit]]  # fmt: skip
    gallons = sides[0] * sides[1] * sides[2] / _CUBIC_IN_A_GALLON
    line = f"{' x '.join(shown(one) for one in sides)} in ÷ {shown(_CUBIC_IN_A_GALLON)} = {shown(gallons)} gal"
    return exact("holds", gallons, "gal", working=(line,), source="arithmetic", assumptions=(f"{shown(found[2].value)} taken as {'feet' if found[1].unit == 'ft' else 'inches'}",))  # fmt: skip
