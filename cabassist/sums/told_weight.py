"""Weight told as a story: what the scale shows and what is allowed, water and fuel aboard, bags and people, what still goes on or must come off."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_loads import SWAPPED
from cabassist.sums.told_parted import Part, parts
from cabassist.sums.working_sheet import in_unit

WATER_LB_PER_GAL = 8.337
"""Water at 60 °F in vacuum (CoolProp); 8.328 weighed in air, WAC 296-307-40029."""
_OTHER = Lazy(
    r"\b(?:propane|furnace\w*|cylinders?|bottles?|bleach|freez\w*|jack\w*|tongue|wheelbase|overhang|behind the|ahead of the|btu|torque\w*|tread|nuts?|pounders?|tare|shower\w*|flush\w*|an hour|per hour|a day|each day)\b"
    r"|<(?:h|psi|mph|mpg|V|A|Ah|W|BTU|BTU/h|awg|cylinder|furnace|lb-ft|N·m|32nds|ppm|floz|cup|day|percent|part|gpm|gph|shower|flush)(?:/\w+)*>|<gal/|<L/|<lb/(?!each)|<lb> (?:/|per|a) (?:gal|gallon)\b"
)
_LIMIT = Lazy(
    r"\b(?:limit\w*|max\w*|legal|may (?:carry|weigh|be)|allowed|allows|plate(?:d)?(?: says| is)?|placard\w*|sticker|label|posted|sign (?:says|reads)|rated|rating|law says|good for|capacity|gawr|gvwr|carries up to|up to|can (?:carry|take|hold)|takes|holds?|not over|no more than|cap)\b[^<]*$"
)
_LIMIT_AFTER = Lazy(
    r"^ (?:\w+ )?(?:limit|max|maximum|allowed|legal|rating|capacity|cap|plate|tops)\b(?!(?: is| of| at| ' s|,)* <(?:n|lb|kg)>)"
)
_SCALE = Lazy(
    r"\b(?:scale\w*|weigh\w*|ticket|gross|axles?(?: ' s| is)?(?: at)?|reads?|sits at|sitting at|is at|put my|rolled|tips?|steers? (?:at|is)|drives? (?:at|is)|comes? in at|came in at|currently|now|empty|unloaded)\b[^<]*$"
)
_SCALE_AFTER = Lazy(
    r"^ (?:\w+ )?(?:on the (?:scale|ticket|rear|front|drive|steer)|now|already|right now|in it|in there|loaded)\b"
)
_THING = Lazy(
    r"^ (?:more |extra |full |empty |of (?:the|those|them|our) |big |small |wet |heavy |hockey |gear |stick |duffel |equipment |kit |team |goalie |goalies ' |player |skate |large |cubic foot )*"
    r"(?:bags?|duffels?|trunks?|cases?|sticks?|bundles?|boxes|sets?|players?|passengers?|people|kids|guys|men|women|coaches|skaters|pads|crates|totes|coolers|goalies|suitcases|packs?|barrels?|jugs?|tubs)\b"
)
_EACH = Lazy(r"\b(?:at|of|about|call it|around|averag\w*|@|x|runs?|run|weigh\w*|is|are|times|say)(?: \w+){0,2} $|^ $")
_EACH_AFTER = Lazy(
    r"^ (?:\w+ ){0,3}(?:each|apiece|a (?:piece|bag|man|head|player|person|kid|set)|per (?:bag|person|player|man|head))\b|^ bags?\b"
)
_OF_EACH = Lazy(r"\b(?:bags?|duffels?|trunks?|cases?|each|a bag|a duffel|gear|per bag)(?: \w+){0,4} $")
_FLUID = Lazy(r"^ (?:more |extra )?(?:of )?(?:the )?(?P<what>fresh|clean|water|waste|black|gr[ae]y|diesel|fuel)\b")
_FUEL = Lazy(r"\b(?:diesel|fuel)\b")
_WATERY = Lazy(r"\b(?:water|fresh|waste|tanks?)\b")
_OFF = Lazy(
    r"\b(?:dump\w*|drain\w*|take off|took off|unload\w*|remov\w*|get off|off ?load\w*|minus|less|without|burn\w*|empt\w+|lighter)\b"
)
_MAYBE_GAS = r"\b(?:paid|bought|pumped|filler|fill station|took in|guy put)\b"
"""Gallons that were bought may be of propane."""
_PASSING = Lazy(r"\b(?:alone (?:was|weighed)|last (?:year|season|week|time))\b")
_CUBIC = Lazy(r"^ cubic (?:feet|foot|ft)\b|^ cu ?\.? ?ft\b")
_HOW_MANY_BAGS = Lazy(
    r"\bhow many (?:more |of (?:them|those) )?(?:(?!gallons|pounds|litres|liters|kilos)\w+ ){0,3}(?:bags?|duffels?|trunks?|cases?|sets?|fit|go|can|will|may)\b|\bhow many $|\bhow many more $|\bhow many (?:more )?<lb> (?:bags?|cases?|trunks?|duffels?)\b|, how many\b(?! (?:gallons|pounds|lbs?|kilos))"
)
_GALLONS = Lazy(r"\bhow many (?:more )?(?:us )?(?:gallons|gal|litres|liters)\b|\bhow much (?:more )?(?:water|fresh)\b")
_LEFT = Lazy(
    r"\b(?:left|over|under|spare|room|more can|how much more|within|fit|fits|go|legal|ok|okay|allowed|too (?:much|heavy)|below|above)\b"
)
_TOTAL = Lazy(
    r"\b(?:how (?:much|many pounds|heavy)|weighs?|weight|total|in all|altogether|together|what (?:is|does|do|' s)|pounds|how many kilos|add)\b"
)


@dataclass
class _Load:
    limit: Part | None = None
    scale: Part | None = None
    counts: list[Part] = field(default_factory=list)
    each: list[Part] = field(default_factory=list)
    items: list[tuple[float, float]] = field(default_factory=list)
    fluids: list[tuple[float, float, str]] = field(default_factory=list)
    other: list[float] = field(default_factory=list)


def weight(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds in all, left under a limit, gallons or bags that still may come aboard or must come off."""
    if _OTHER.search(q.frame):
        return None
    found = [part for part in parts(q) if part.kind not in ("clock", "temperature", "distance") and not _PASSING.search(part.before)]  # fmt: skip
    if any(_CUBIC.search(part.right) for part in found):
        return _packed(q, found)
    if not (
        any(part.kind in ("mass", "bags") for part in found)
        or q.has(r"\b(?:axles?|scale|gross|ticket|pounds?|lbs?|weigh\w*|kilos)\b")
    ):
        return None
    if sum(part.kind not in ("people",) for part in found) == 0:
        return None
    load = _told(q, found)
    if load is None:
        return None
    if load.limit is not None:
        return _limited(q, load, want)
    if load.each and len(load.other) == 1 and not (load.items or load.fluids or load.scale):
        return _number_of(q, load.each[0].value, load.other[0])
    if len(load.other) == 1 and not (load.items or load.fluids or load.each or load.scale) and _GALLONS.search(q.frame):
        return _gallons_of(q, abs(load.other[0])) if _OFF.search(q.frame) and _WATERY.search(q.frame) else None
    return _total(q, load, want) if load.scale is None else None


def _gallons_of(q: Question, pounds: float) -> Estimate:
    """How much water or waste weighs so much."""
    gallons = pounds / WATER_LB_PER_GAL
    found = exact("gallons", gallons, "gal", working=(f"{shown(pounds)} lb ÷ {WATER_LB_PER_GAL} = {shown(gallons)} gal",), source="water 8.337 lb/gal (CoolProp)")  # fmt: skip
    return in_unit(found, "L") if asked_unit(q) == "L" else found


_SHED = Lazy(r"\b(?:come|comes|take|taken|get|got|leave|left|go|pull\w*|unload\w*) (?:off|behind|out)\b")


def _number_of(q: Question, each: float, total: float) -> Estimate | None:
    """How many bags of one weight make a weight that is told."""
    if not _HOW_MANY_BAGS.search(q.frame) or not 0 < each <= total:
        return None
    off = _SHED.search(q.frame) is not None
    many = math.ceil(total / each - 1e-9) if off else int(total / each + 1e-9)
    return exact("that many", float(many), "count", working=(f"{shown(total)} ÷ {shown(each)} lb = {shown(total / each)}",), source="arithmetic", verdict=f"{many} weigh {shown(many * each)} lb.")  # fmt: skip


def _told(q: Question, found: list[Part]) -> _Load | None:
    load = _Load()
    waiting: list[Part] = []
    for part in found:
        part = _thousands(part)
        heavy = part.kind == "mass" or (part.kind == "n" and part.value >= 1000)
        fluid = _FLUID.search(part.right)
        counted = part.kind in ("people", "bags") or (part.kind == "n" and part.value < 1000 and _THING.search(part.right) is not None)  # fmt: skip
        stands = part.kind == "n" and _STANDS.search(part.right) is not None and _WATERY.search(q.frame) is not None
        if (
            part.kind == "volume"
            or stands
            or (part.kind == "n" and load.fluids and (fluid is not None or _INSTEAD.search(part.left)))
        ):
            _pour(q, load, part)
        elif counted and part.value == int(part.value):
            if not (part.kind == "people" and _ABOARD.search(part.left)):
                waiting.append(part)
        elif heavy and load.limit is None and (_LIMIT.search(part.left) or _LIMIT_AFTER.search(part.after)):
            load.limit = part
        elif heavy and load.scale is None and part.value >= 1000 and (_SCALE.search(part.left) or _SCALE_AFTER.search(part.right)):  # fmt: skip
            load.scale = part
        elif part.kind in ("mass", "n") and not part.amount.per and 0 < part.value < 1000 and (waiting or part.amount.each or _OF_EACH.search(part.left) or _is_each(part)):  # fmt: skip
            if not _weigh(load, waiting, part):
                return None
        elif part.kind == "mass" and not part.amount.per:
            load.other.append(-part.value if _OFF.search(part.left) else part.value)
        elif part.kind == "people":
            continue
        else:
            return None
    if _INSTEAD.search(q.frame) and len(load.fluids) == 2 and load.fluids[0][1] == load.fluids[1][1]:
        load.fluids = [(abs(load.fluids[0][0] - load.fluids[1][0]), *load.fluids[0][1:])]
    for part in waiting:
        if part.kind != "people":
            return None
    return None if any(part.kind == "people" for part in waiting) and not load.items and not load.fluids else load


_INSTEAD = Lazy(r"\b(?:instead of|rather than)\b")
_STANDS = Lazy(r"^ (?:gallons )?(?:in )?(?:the )?(?:fresh|waste|black|gr[ae]y|clean)\b(?! (?:tank|bags))")


def _thousands(part: Part) -> Part:
    """A weight said short, "fourteen six" for 14,600, beside the words of a limit or a scale."""
    pieces = part.amount.pieces
    short = part.kind == "n" and len(pieces) == 2 and all(map(str.isdigit, pieces)) and len(pieces[0]) == 2 and len(pieces[1]) == 1  # fmt: skip
    if not short or not (_LIMIT.search(part.left) or _SCALE.search(part.left)):
        return part
    return part._replace(value=1000.0 * int(pieces[0]) + 100.0 * int(pieces[1]))


_ABOARD = Lazy(r"\bwith(?: all| our)? $")


def _is_each(part: Part) -> bool:
    """Whether a weight is told of each thing: "42 lb apiece", "how many 42 lb bags"."""
    return _EACH_AFTER.search(part.right) is not None or (_COUNTS.search(part.left) is not None and _THING.search(part.right) is not None)  # fmt: skip


_COUNTS = Lazy(r"\bhow many (?:more )?$")


def _weigh(load: _Load, waiting: list[Part], part: Part) -> bool:
    """Pair a weight with what was counted before it; without a count it is the weight of each bag to be counted."""
    said_each = part.amount.each or _is_each(part)
    if waiting and (_EACH.search(part.left) or said_each):
        load.items.append((waiting.pop(0 if len(waiting) == 1 else -1).value, part.value))
        return True
    if not waiting and load.items and said_each:
        load.items.append((load.items[-1][0], part.value))  # "35 players at 195 with 50 of gear apiece"
        return True
    if not waiting and not load.items and (said_each or _OF_EACH.search(part.left)):
        load.each.append(part)
        return len(load.each) == 1
    if part.kind == "mass" and not waiting:
        load.other.append(part.value)
        return True
    return False


def _pour(q: Question, load: _Load, part: Part) -> None:
    if (_ALREADY.search(part.right) or _ALREADY.search(part.left)) and not _ALL.search(q.frame):
        return  # it is on the scale, or stands beside what is asked
    fluid = _FLUID.search(part.right)
    said = fluid["what"] if fluid is not None else ""
    diesel = said in ("diesel", "fuel") or (
        not said and _FUEL.search(q.frame) is not None and not _WATERY.search(q.frame)
    )
    gallons = part.value if part.kind == "volume" else _as_before(q, part.value)
    load.fluids.append((-gallons if _OFF.search(part.left) else gallons, DIESEL_LB_PER_GAL if diesel else WATER_LB_PER_GAL, "diesel" if diesel else "water"))  # fmt: skip


_ALL = Lazy(r"\b(?:total|combined|both|altogether|in all|the lot|together|all (?:of )?(?:that|this|the|it))\b")
_ALREADY = Lazy(r"\balready\b")


def _as_before(q: Question, value: float) -> float:
    """A bare amount of a fluid in the unit of the one before it."""
    return converted(value, "L", "gal") if any(one.unit == "L" for one in q.amounts) else value


def _sum(load: _Load) -> tuple[float, list[str]]:
    lines = [f"{shown(many)} x {shown(each)} lb = {shown(many * each)} lb" for many, each in load.items]
    lines += [f"{shown(gallons)} gal of {what} x {shown(density)} lb = {shown(gallons * density)} lb" for gallons, density, what in load.fluids]  # fmt: skip
    lines += [f"{shown(one)} lb" for one in load.other]
    total = sum(many * each for many, each in load.items) + sum(
        gallons * density for gallons, density, _ in load.fluids
    )
    return total + sum(load.other), lines


def _limited(q: Question, load: _Load, want: Wanted) -> Estimate | None:
    assert load.limit is not None
    added, lines = _sum(load)
    weighed = load.scale.value if load.scale is not None else 0.0
    left = load.limit.value - weighed - added
    lines = [*lines, f"{shown(load.limit.value, 6)} - {shown(weighed, 6)} - {shown(added, 6)} = {shown(left, 6)} lb"]
    if load.each:
        if not _HOW_MANY_BAGS.search(q.frame) or left == 0 or load.each[0].value <= 0:
            return None
        if left < 0:
            return _number_of(q, load.each[0].value, -left) if _SHED.search(q.frame) else None
        many = int(left / load.each[0].value + 1e-9)
        lines.append(f"{shown(left)} ÷ {shown(load.each[0].value)} lb = {shown(left / load.each[0].value)}")
        return exact("that many fit", float(many), "count", working=tuple(lines), source="arithmetic", verdict=f"{many} fit, {shown(many * load.each[0].value)} lb in all.")  # fmt: skip
    if _GALLONS.search(q.frame) or want.kind == "volume":
        if load.scale is None or any(density != WATER_LB_PER_GAL for _, density, _ in load.fluids):
            return None
        density = DIESEL_LB_PER_GAL if _FUEL.search(q.frame) and not _WATERY.search(q.frame) else WATER_LB_PER_GAL
        gallons = left / density
        over = gallons < 0
        if over != (_OFF.search(q.frame) is not None) and over:
            return exact("over the limit", -left, "lb", working=tuple(lines), source="arithmetic", verdict=f"None: {shown(-left)} pounds over the limit already.")  # fmt: skip
        lines.append(f"{shown(abs(left))} lb ÷ {shown(density)} = {shown(abs(gallons))} gal")
        verdict = (
            "That much must come off." if over else "That much may still be added, if all of it sits on that axle."
        )
        found = exact("gallons", abs(gallons), "gal", working=tuple(lines), source="23 USC 127 for axle limits; water 8.337 lb/gal", verdict=verdict)  # fmt: skip
        return in_unit(found, "L") if asked_unit(q) == "L" else found
    if load.scale is None and not (load.items or load.fluids or load.other):
        return None
    if not (_LEFT.search(q.frame) or _WHETHER.search(q.frame) or want.kind in ("mass", "") and _TOTAL.search(q.frame)):
        return None
    judged = want.judged or _WHETHER.search(q.frame) is not None
    head = ("Yes, it goes. " if left >= 0 else "No. ") if judged else ""
    if _OVER.search(q.frame) and not _UNDER.search(q.frame):
        head = "No. " if left >= 0 else "Yes. "  # "over?" asks the other way round
    verdict = f"{head}Under the limit, {left:,.0f} pounds left." if left >= 0 else f"{head}Too heavy, {-left:,.0f} pounds over the limit."  # fmt: skip
    return exact("left under the limit" if left >= 0 else "over the limit", abs(left), "lb", working=tuple(lines), source="arithmetic", verdict=verdict, also=(figure("weight in all", weighed + added, "lb"),))  # fmt: skip


_OVER = Lazy(
    r"\b(?:over|too heavy|overweight|overloaded)(?: the limit| it)? $|\b(?:am|are|is) (?:i|we|it|she|that) (?:over|too heavy|overweight)\b"
)
_UNDER = Lazy(r"\b(?:under|left|fits?|goes?|ok|okay|legal|within|how much|how many)\b")
_LEFT_OVER = Lazy(r"\b(?:left|room|spare|more can|under the|over the)\b")
_WHETHER = Lazy(
    r"\b(?:does|do|will|can|may) (?:it|they|that|we|i|the \w+|all)(?: of it| of them)?(?: all)? (?:go|fit|load|take|carry|get)\b|\b(?:am|are|is) (?:i|we|it|that) (?:over|under|legal|ok|okay|within|too)\b|\b(?:under|over|within) the limit $|\b(?:ok|okay|legal) $|\bover or under\b|\btoo heavy\b"
)


def _total(q: Question, load: _Load, want: Wanted) -> Estimate | None:
    if any(abs(one) >= 1000 for one in load.other) or _LEFT_OVER.search(q.frame):
        return None  # a weight that may be a limit, or a limit that was not read
    if load.each or not (load.items or load.fluids) or not (_TOTAL.search(q.frame) or want.kind == "mass"):
        return None
    if want.kind not in ("mass", "") or _GALLONS.search(q.frame) or _HOW_MANY_BAGS.search(q.frame):
        return None
    if load.fluids and (
        not (_WATERY.search(q.frame) or _FUEL.search(q.frame) or q.has(r"\baxles?\b")) or q.has(_MAYBE_GAS)
    ):
        return None
    if not load.items and not q.has(r"\b(?:weigh\w*|heav\w*|light\w*|pounds?|lbs?|kilos?|kg|weight|load)\b"):
        return None
    if load.items and SWAPPED.search(q.frame):
        return None
    total, lines = _sum(load)
    if load.fluids and not load.items and len(load.fluids) == 1:
        total = abs(total)
    found = exact("weight", total, "lb", working=tuple(lines), source="arithmetic; water 8.337, diesel 7.09 lb/gal")
    return in_unit(found, "kg") if asked_unit(q) == "kg" else found


def _packed(q: Question, found: list[Part]) -> Estimate | None:
    """How many bags of a volume fill a bay of three measures."""
    cubic = [part for part in found if _CUBIC.search(part.right)]
    sides = [part for part in found if part not in cubic and part.kind in ("length", "n")]
    if not _HOW_MANY_BAGS.search(q.frame) or cubic[0].value <= 0:
        return None
    if len(cubic) == 2 and not sides:
        small, large = sorted(part.value for part in cubic)
        volume, line = large, f"{shown(large)} ft³"
    elif len(cubic) == 1 and len(sides) == 3 and any(part.kind == "length" for part in sides):
        small = cubic[0].value
        volume = sides[0].value * sides[1].value * sides[2].value
        line = " x ".join(shown(part.value) for part in sides) + f" = {shown(volume)} ft³"
    else:
        return None
    many = int(volume / small + 1e-9)
    return exact("that many fit", float(many), "count", working=(line, f"{shown(volume)} ÷ {shown(small)} = {shown(volume / small)}"), source="arithmetic", verdict=f"{many} at most, packed without a gap.")  # fmt: skip
