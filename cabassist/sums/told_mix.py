"""So much for every so much, or for each: the bleach that a card tells, antifreeze for each tap."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import FACTORS, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed

_DOSED = frozenset("cup tbsp tsp floz pt qt mL".split())
_WATER = frozenset({"gal", "L"})
_BLEACH = Lazy(
    r"\b(?:bleach|clorox|chlorox|chlorine|saniti\w+|disinfect\w*|shock\w*|mix|dose|card|rule|sheet|recipe|label)\b"
)
_FUEL = Lazy(r"\b(?:diesel|fuel|additive|anti ?gel|def|propane|coffee|soup|juice)\b")
_BY_SPOON = frozenset({"cup", "tbsp", "tsp"})
"""So much of these for so many gallons is bleach, also where it is not named."""
_RULE = Lazy(
    r"^(?:(?:of (?:the )?)?(?:\w+ )?(?:bleach|clorox|chlorine|stuff) )?(?:(?:goes|does|treats|is|good) )?"
    r"(?:per|for|to|in|into|with|every|each|on)(?: (?:every|each|a|the))? $|^(?:(?:of )?bleach )?(?:does|treats|is good for|will do) $"
)
_ASIDE = Lazy(r"\b(?:beat|won|lost|tied|thermometer|degrees?|outside|temperature|temp|people|aboard|riders|miles)\b")
_PART = Lazy(r"^(?:full|of (?:it|that|a tank)|there|left|up|in it|now|,|\.|$)|^(?:of )?(?:the |a )?tank\b")
_HOLDS = Lazy(r"\b(?:for|holds?|takes?|is|has|tank|have|got|in|s|with|on|of)(?: (?:a|about|only|the|tank|it))* $")
_ASKS = Lazy(
    r"\bhow (?:much|many)\b|\bwhat (?:do|does|is|dose)\b|[,.] (?:cups?|ounces?|tablespoons?|quarts?|gallons?)(?: of \w+)?(?: (?:needed|total|in all|then))? $"
)
_MASS_OF_RULE = "the rule as you told it; it knows nothing of how strong the bleach is"


def by_rule(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Bleach for a tank by a rule told in the question: a quarter cup for every fifteen gallons."""
    if len(q.amounts) < 3 or not _ASKS.search(q.frame) or _FUEL.search(q.frame):
        return None
    found = placed(q)
    if found is None:
        return None
    k = next((i for i, one in enumerate(found[:-1]) if _is_rule(one, found[i + 1])), -1)
    if k < 0:
        return None
    if not _BLEACH.search(q.frame) and found[k].unit not in _BY_SPOON:
        return None
    dose, water = found[k].amount, found[k + 1].amount
    rest = [one for one in (*found[:k], *found[k + 2 :]) if not _beside(one)]
    asked = asked_unit(q)
    gallons = converted(water.value, water.unit, "gal")
    if gallons <= 0:
        return None
    if len(rest) == 1 and rest[0].unit in _DOSED and asked in _WATER:
        have = converted(rest[0].value, rest[0].unit, dose.unit)
        value = converted(gallons * have / dose.value, "gal", asked)
        line = f"{shown(have)} ÷ {shown(dose.value)} × {shown(water.value)} {water.unit} = {shown(value)} {asked}"
        return exact("water", value, asked, working=(line,), assumptions=(_MASS_OF_RULE,), source="the rule you told")
    tank = _tank(rest, water.unit)
    if tank is None:
        return None
    unit = asked if asked in _DOSED else dose.unit
    value = converted(dose.value * tank / gallons, dose.unit, unit)
    line = f"{shown(tank)} gal ÷ {shown(gallons)} gal × {shown(dose.value)} {dose.unit} = {shown(value)} {unit}"
    also = () if unit == dose.unit else (figure("or", dose.value * tank / gallons, dose.unit),)
    return exact("bleach", value, unit, working=(line,), assumptions=(_MASS_OF_RULE,), source="the rule you told", also=also)  # fmt: skip


def _is_rule(dose: Said, water: Said) -> bool:
    """Whether two amounts are a dose and the water it is for."""
    if dose.unit not in _DOSED or dose.amount.per or dose.amount.each or dose.value <= 0:
        return False
    return water.unit in _WATER and not water.amount.per and _RULE.search(water.left) is not None


def _beside(one: Said) -> bool:
    """Whether it is told in passing: how cold it is, who is aboard."""
    if one.unit in ("F", "C", "temp", "people", "mi"):
        return True
    return one.unit == "n" and (_ASIDE.search(one.left) is not None or Lazy(r"^(?:degrees?|people|riders)\b").search(one.right) is not None)  # fmt: skip


def _tank(rest: list[Said], unit: str) -> float | None:
    """Gallons that are in the tank: told, or its size and how full it is."""
    shares = [one for one in rest if one.unit in ("part", "percent") and not one.amount.per]
    sizes = [one for one in rest if one.unit in _WATER or (one.unit == "n" and _HOLDS.search(one.left))]
    if len(sizes) != 1 or len(shares) > 1 or len(sizes) + len(shares) != len(rest) or sizes[0].amount.per:
        return None
    one = sizes[0]
    gallons = converted(one.value, unit if one.unit == "n" else one.unit, "gal")
    if not shares:
        return gallons
    if not _PART.search(shares[0].right):
        return None
    share = shares[0].value / (100 if shares[0].unit == "percent" else 1)
    return gallons * share if 0 < share <= 1 else None


_PINK = Lazy(r"\b(?:anti ?freeze|pink|rv (?:stuff|juice))\b")
_THING = r"(?:taps?|faucets?|traps?|p ?traps?|drains?|fixtures?|sinks?|showers?|toilets?|lines?|valves?|outlets?|basins?|heads?|bowls?|points?)"
_THINGS = Lazy(rf"^(?:of them )?(?:\w+ )?{_THING}\b")
_OF_EACH = Lazy(
    rf"^(?:of (?:the |rv |that )?)?(?:\w+ ){{0,3}}?(?:each|apiece|per|a|every|in each|for each|for every|down each|into each)\b(?: of)?(?: (?:the )?{_THING})?"
)
_AT_EACH = Lazy(r"\b(?:at|take|takes|taking|need|needs|gets?|want|wants)(?: (?:about|around|a))* $")
_MORE = Lazy(r"\b(?:and|plus|another|,)(?: (?:about|another|a))* $")
_FOR_ONE = Lazy(r"^(?:of (?:it |pink |antifreeze )?)?(?:more )?(?:for|in|into|down) (?:the|a|my|our)\b")
_JUGS = Lazy(r"^(?:jugs?|bottles?|containers?|cans?|pails?)\b")
_JUGS_ASKED = Lazy(r"\bhow many (?:jugs|bottles|containers|cans|pails)\b")


def for_each(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Antifreeze at so much for each tap or drain, with what the pump or the heater takes beside."""
    if not _PINK.search(q.frame) or not _ASKS.search(q.frame) or len(q.amounts) < 2:
        return None
    found = placed(q)
    if found is None:
        return None
    each: list[Amount] = []
    more: list[Amount] = []
    jugs: list[Amount] = []
    many: list[float] = []
    for one in found:
        amount = one.amount
        volume = amount.unit in FACTORS and FACTORS[amount.unit][0] == "volume" and not amount.per
        if volume and _JUGS.search(one.right):
            jugs.append(amount)
        elif (
            volume
            and not amount.each
            and _FOR_ONE.search(one.right)
            and not Lazy(r"^for the (?:taps|drains|traps)").search(one.right)
        ):
            more.append(amount)
        elif volume and (amount.each or _OF_EACH.search(one.right) or (_AT_EACH.search(one.left) and many)):
            each.append(amount)
        elif amount.unit in ("n", "shower") and not amount.per and amount.value % 1 == 0 and (_THINGS.search(one.right) or amount.unit == "shower"):  # fmt: skip
            many.append(amount.value)
        else:
            return None
    if len(each) != 1 or not many or len(jugs) > 1 or (jugs and not _JUGS_ASKED.search(q.frame)):
        return None
    asked = asked_unit(q)
    unit = asked if asked in FACTORS and FACTORS[asked][0] == "volume" else each[0].unit
    total = sum(many) * converted(each[0].value, each[0].unit, unit) + sum(
        converted(one.value, one.unit, unit) for one in more
    )
    line = f"{shown(sum(many))} × {shown(each[0].value)} {each[0].unit}{''.join(f' + {shown(one.value)} {one.unit}' for one in more)} = {shown(total)} {unit}"
    if not _JUGS_ASKED.search(q.frame):
        return exact("antifreeze", total, unit, working=(line,), source="arithmetic")
    size = converted(jugs[0].value, jugs[0].unit, unit) if jugs else converted(1.0, "gal", unit)
    number = math.ceil(total / size - 1e-9)
    assumed = () if jugs else ("jugs of a gallon",)
    return exact("jugs", number, "jugs", working=(line, f"÷ {shown(size)} {unit} a jug, up to a whole one = {number}"), assumptions=assumed, source="arithmetic", also=(figure("antifreeze", total, unit),))  # fmt: skip
