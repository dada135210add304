"""What a level did over a span, and where it stands now: how long until it is full or out at that pace.

"In the last three hours the waste rose nine gallons, it's sixty five now": the pace is told in a unit, so the bare level beside it
is in the same one. A tank that was full or emptied at some time has its first level in that word.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import HOURS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted
from cabassist.sums.families import at_clock, today_at

_UNITS = {"gal": "gal", "L": "gal", "lb": "lb", "kg": "lb"}
_NAMES = {"gal": "gallons", "L": "liters", "lb": "pounds", "kg": "kilos"}
_SPANS = frozenset({"h", "min", "day"})
_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")
_FRESH = Lazy(r"\b(?:fresh|clean|drinking|potable)\b")
_FUEL = Lazy(r"\b(?:diesel|fuel|def|oil|coolant|battery|batteries|amps?|tires?|hoses?|fill\w*|showers?|flush\w*)\b")
_BY = r"(?: (?:us|by|about|around|maybe|only|just|another|it|the|some))* $"
_UP_BEFORE = Lazy(
    rf"\b(?:rose|risen|rises|rising|gained|gaining|climbed|climbs|went up|gone up|goes up|came up|come up|crept up|grew|grown|took in|taken in|picked up|has gone up|added|(?<!gave )(?<!given )(?<!give )up){_BY}"
)
_DOWN_BEFORE = Lazy(
    rf"\b(?:gave up|given up|lost|dropped|fell|fallen|sank|went down|gone down|goes down|came down|come down|used|drew|drawn|burned|burnt|ate|eaten|drank|went through|gone through|took|is down|are down|shed|parted with){_BY}"
)
_OF_IT = r"(?:(?:of|the|our|fresh|clean|waste|black|gr[ae]y|water|propane|gas|lp|it|that|is|are|was|were|has|have|been|got|all) ){0,5}"
_DOWN_AFTER = Lazy(
    rf"^{_OF_IT}(?:gone|left us|left the tank|used|burned|burnt|drained|drunk|out of it|down the drain|went|disappeared)\b"
)
_UP_AFTER = Lazy(rf"^{_OF_IT}(?:came in|come in|went in|gone into|went into|ran into|came into|added)\b")
_NOW_BEFORE = Lazy(
    r"\b(?:now|it is|it|currently|stands? at|standing at|is at|sits? at|sitting at|reads?|shows?|leaves|still (?:has|holds|got)|have|has|there is|there are|down to|up to|still|and)(?: (?:at|about|around|only|just|has|holds|is|it|reads|shows|the|tank|fresh|waste|says|got|with))* $"
)
_NOW_AFTER = Lazy(
    r"^(?:gallons |pounds )?(?:(?:is|are) )?(?:now|still|left|remain\w*|to go on|in (?:it|there|the|that|both)|at the moment|right now)\b"
)
_ROOM = Lazy(
    r"^(?:gallons )?(?:of )?(?:room|space|to spare|free|empty|short|off|shy|left (?:before|till|until|to fill)|to go)\b"
)
_MORE_ASKED = Lazy(
    r"\bhow (?:long|much (?:longer|time|more time)|many (?:more )?(?:hours|hrs)|soon)\b|\bwhen\b|\bwhat time\b|\b(?:hours|hrs) (?:to|till?|until|left)\b"
)
_NOT_ASKED = Lazy(r"\bhow (?:long|many hours) (?:did|has|have|was|were|ago)\b|\bdown to\b[^<]*$|\bwhen did\b")
_OTHER_PACE = Lazy(
    r"\b(?:if|twice|double|half|instead|slower|faster|reserve|keep|leave|save|suppose|people|us|each)\b(?! long)"
)


def moved(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours until a tank is full, or a supply out, from what came in or went in a span and from where it stands now."""
    if len(q.amounts) != 3 or not _MORE_ASKED.search(q.frame) or _NOT_ASKED.search(q.frame) or _FUEL.search(q.frame):
        return None
    found = placed(q)
    if found is None or any(one.amount.per or one.amount.each for one in found):
        return None
    spans = [one for one in found if one.unit in _SPANS]
    ways = [(one, way) for one in found if (way := _way(one)) is not None]
    if len(spans) != 1 or len(ways) != 1 or _OTHER_PACE.search(q.frame.replace("left us", "left")):
        return None
    step, up = ways[0]
    level = next(one for one in found if one not in (spans[0], step))
    hours = spans[0].value * HOURS[spans[0].unit]
    stands = level.unit in ("n", step.unit) and (_NOW_BEFORE.search(level.left) or _NOW_AFTER.search(level.right))
    if not stands or _ROOM.search(level.right) or hours <= 0 or step.value <= 0:
        return None
    unit = _UNITS[step.unit]
    in_it, gone = converted(level.value, step.unit, unit), converted(step.value, step.unit, unit)
    pace = gone / hours
    told = f"{shown(gone)} {unit} ÷ {shown(hours)} h = {shown(pace)} {unit} an hour"
    taken = (f"{shown(level.value)} taken as {_NAMES[step.unit]}",) if level.unit == "n" else ()
    return _until(q, want, now, coach, in_it, pace, up, unit, (told,), taken)


def _way(one: Said) -> bool | None:
    """Whether an amount is what came in (True) or went (False); None when it is neither, or both may be."""
    if one.unit not in _UNITS:
        return None
    up = _UP_BEFORE.search(one.left) is not None or _UP_AFTER.search(one.right) is not None
    down = _DOWN_BEFORE.search(one.left) is not None or _DOWN_AFTER.search(one.right) is not None
    return up if up != down else None


def _until(
    q: Question, want: Wanted, now: datetime, coach: Coach, in_it: float, pace: float, up: bool, unit: str,
    lines: tuple[str, ...], taken: tuple[str, ...], start: float | None = None,
) -> Estimate | None:  # fmt: skip
    """The answer: hours until full, where it rises, or out, where it goes down."""
    waste, fresh = _WASTE.search(q.frame) is not None, _FRESH.search(q.frame) is not None
    if (waste and fresh) or pace <= 0:
        return None
    rest = in_it
    if up:
        if unit == "lb" or not (waste or fresh):
            return None  # which tank fills is not told
        tank = coach.tank("waste" if waste else "fresh")
        rest = tank.capacity_gal - in_it
        lines = (*lines, f"{shown(tank.capacity_gal)} - {shown(in_it)} = {shown(rest)} gal of room")
        taken = (*taken, f"{tank.name} tank {shown(tank.capacity_gal)} gal (profile)")
    elif waste:
        return None  # nobody asks when the waste is empty
    elif unit == "gal" and fresh and in_it > coach.tank("fresh").capacity_gal:
        return None
    if rest <= 0:
        return None
    hours = rest / pace
    begin = today_at(now, start)
    when = at_clock(begin, hours) if want.clock or start is not None else ""
    heard = " ".join(f"I took {one.replace(' taken as', ' as')}." for one in taken if " taken as " in one)
    return exact(
        "until it is full" if up else "lasts",
        60 * hours if hours < 1 else hours,
        "min" if hours < 1 else "h",
        working=(*lines, f"{shown(rest)} {unit} ÷ {shown(pace)} = {shown(hours)} h"),
        assumptions=taken,
        source="arithmetic",
        verdict=" ".join(part for part in (when, heard) if part),
        also=(figure("rate", pace, f"{unit}/h"),),
    )


_FULL_AT = Lazy(
    r"\b(?:full|topped (?:up|off)|brimming|filled(?: up| it)?|filled to the top)\b(?: (?:tank|of|water|fresh|it|was|up|the|we|had|about|exactly))* at $"
)
_EMPTY_AT = Lazy(
    r"\b(?:emptied|dumped|pumped out|drained|empty)\b(?: (?:it|tank|the|was|waste|about|exactly|out))* at $"
)
_THIRD_NOW = Lazy(r"\b(?:left|full|now|shows?|reads?|says|at|is|it|down to|has|the glass|holds)\b")


def since_full(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours until the fresh is out since it was full, or until the waste is full since it was emptied, at two times of day."""
    if len(q.amounts) != 3 or not _MORE_ASKED.search(q.frame) or _NOT_ASKED.search(q.frame):
        return None
    found = placed(q)
    if found is None or _OTHER_PACE.search(q.frame.replace(" us ", " ")):
        return None
    clocks = [one for one in found if one.unit == "clock"]
    levels = [one for one in found if one.unit in ("gal", "part", "percent") and not one.amount.per]
    if [len(clocks), len(levels)] != [2, 1]:
        return None
    first, second = clocks
    full, emptied = _FULL_AT.search(first.left) is not None, _EMPTY_AT.search(first.left) is not None
    level = levels[0]
    if full == emptied or level.amount.start < first.amount.start or _ROOM.search(level.right):
        return None
    if not (_THIRD_NOW.search(level.left) or _THIRD_NOW.search(level.right)):
        return None
    waste, fresh = _WASTE.search(q.frame) is not None, _FRESH.search(q.frame) is not None
    if (waste and fresh) or (full and waste) or (emptied and not waste) or _GAS.search(q.frame) or (full and not (fresh or _OF_WATER.search(q.frame))):  # fmt: skip
        return None
    spans = {(b - a) % 24 for a in halves(first) for b in halves(second)} - {0.0}
    if not spans:
        return None
    span = min(spans)
    tank = coach.tank("waste" if waste else "fresh")
    share = {"part": 1.0, "percent": 0.01}.get(level.unit)
    in_it = level.value if share is None else level.value * share * tank.capacity_gal
    change = in_it if emptied else tank.capacity_gal - in_it
    if change <= 0 or in_it > tank.capacity_gal:
        return None
    lines = (f"{shown(change)} gal ÷ {shown(span)} h = {shown(change / span)} gal an hour",)
    end = second.value if not second.amount.pieces else (first.value + span) % 24
    size = () if emptied else (f"fresh tank {shown(tank.capacity_gal)} gal (profile)",)
    return _until(q, want, now, coach, in_it, change / span, emptied, "gal", lines, size, end)


_GAS = Lazy(r"\b(?:propane|gas|lp|bottles?|cylinders?|pounders?|diesel|fuel|batter\w+)\b")
_OF_WATER = Lazy(r"\b(?:water|sight|glass)\b")


def halves(one: Said) -> tuple[float, ...]:
    """The times of day that one may be: both halves where none was said."""
    return (one.value % 12, one.value % 12 + 12) if one.amount.pieces else (one.value,)


_IS_NOW = Lazy(r"\b(?:it is|it|now|woke up|woke|got up|up|clock says|clock is|time is)(?: (?:now|at|about|just))* $")
_PROPANE_OUT = Lazy(r"\b(?:out|empty|dry|gone|last|lasts|cold|run)\b")


def since_pounds(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """When the propane is out, from pounds at one time of day and pounds at another, the second level without its unit."""
    if len(q.amounts) != 4 or not _PROPANE_OUT.search(q.frame) or not _MORE_ASKED.search(q.frame):
        return None
    found = placed(q)
    if found is None or _OTHER_PACE.search(q.frame.replace(" us ", " ")):
        return None
    clocks = [one for one in found if one.unit == "clock"]
    levels = [one for one in found if one.unit in ("lb", "kg", "gal", "n") and not one.amount.per]
    if [len(clocks), len(levels)] != [2, 2] or not [one for one in levels if one.unit != "n"]:
        return None
    nows = [one for one in clocks if _IS_NOW.search(one.left)]
    if len(nows) != 1 or _WASTE.search(q.frame):
        return None
    then = next(one for one in clocks if one is not nows[0])
    earlier = [one for one in levels if one.after == "clock" and one.right in ("at", "at about", "around", "in it at", "left at", "in there at")]  # fmt: skip
    earlier = [one for one in earlier if found[found.index(one) + 1] is then]
    if len(earlier) != 1:
        return None
    before = earlier[0]
    after = next(one for one in levels if one is not before)
    unit = _UNITS[(before if before.unit != "n" else after).unit]
    spoken = (before if before.unit != "n" else after).unit
    if {before.unit, after.unit} - {"n", spoken} or not (_NOW_BEFORE.search(after.left) or _NOW_AFTER.search(after.right)):  # fmt: skip
        return None
    spans = {(b - a) % 24 for a in halves(then) for b in halves(nows[0])} - {0.0}
    gone = converted(before.value - after.value, spoken, unit)
    if gone <= 0 or not spans:
        return None
    span = min(spans)
    lines = (f"{shown(gone)} {unit} ÷ {shown(span)} h = {shown(gone / span)} {unit} an hour",)
    taken = tuple(f"{shown(one.value)} taken as {_NAMES[spoken]}" for one in (before, after) if one.unit == "n")
    in_it = converted(after.value, spoken, unit)
    known = not nows[0].amount.pieces
    return _until(q, want, now, coach, in_it, gone / span, False, unit, lines, taken, nows[0].value if known else None)
