"""Fuel by the hundred miles, down to a mark or a reserve; which of two supplies gives out first; a shower's share of the tank."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted

_BY_HUNDRED = r"({gal|L}) (?:of (?:diesel|fuel) )?(?:for|per|to|on|each|every|/|in) ({mi|km})"
_ENOUGH = Lazy(r"\b(?:enough|make it|do it|suffice|get (?:us )?there|last)\b")


def by_hundred(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Fuel for a distance at so much for a hundred miles or kilometres, and whether what is in the tank is enough."""
    pair = q.find(_BY_HUNDRED)
    if len(pair) != 2 or pair[1].value != 100 or not 3 <= len(q.amounts) <= 4:
        return None
    rest = [one for one in q.amounts if one not in pair]
    ways = [one for one in rest if one.unit in ("mi", "km") and not one.per]
    held = [one for one in rest if one.unit in ("gal", "L") and not one.per]
    if len(ways) + len(held) != len(rest) or len(held) > 1 or q.has(r"\b(?:propane|water|fresh|waste)\b"):
        return None
    each, unit = pair[0].value, pair[0].unit
    if len(ways) != 1:
        if len(held) != 1 or ways:
            return None
        far = converted(held[0].value, held[0].unit, unit) / each * 100
        if not q.has(r"\bhow (?:far|many (?:miles|kilomet\w+|km))\b|\brange\b"):
            return None
        return exact("range", far, pair[1].unit, working=(f"{shown(held[0].value)} ÷ {shown(each)} × 100 = {shown(far)} {pair[1].unit}",), source="arithmetic")  # fmt: skip
    need = each * converted(ways[0].value, ways[0].unit, pair[1].unit) / 100
    line = f"{shown(each)} × {shown(ways[0].value)} ÷ 100 = {shown(need)} {unit}"
    if not held:
        return exact("fuel for the trip", need, unit, working=(line,), source="arithmetic")
    have = converted(held[0].value, held[0].unit, unit)
    verdict = f"{'Yes' if have >= need else 'No'}: {shown(need)} are needed, {shown(have)} are there."
    return exact("fuel for the trip", need, unit, working=(line,), source="arithmetic", verdict=verdict, also=(figure("left over" if have >= need else "short", abs(have - need), unit),))  # fmt: skip


def per_hundred(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What was burned over a distance, as so much for a hundred miles or kilometres."""
    if not _CONSUMES.search(q.frame) or q.has(r"\b(?:water|fresh|waste|propane|left|range|enough|how far)\b"):
        return None
    burned = [one for one in q.amounts if one.tag in ("gal", "L")]
    ways = [one for one in q.amounts if one.tag in ("mi", "km")]
    hundred = [one for one in ways if one.value == 100]
    driven = [one for one in ways if one.value != 100]
    if not hundred and len(driven) == 1 and _BY_BARE_HUNDRED.search(q.frame):
        hundred = [one._replace(unit=driven[0].unit) for one in q.amounts if one.tag == "n" and one.value == 100]
    if [len(burned), len(driven), len(hundred)] != [1, 1, 1] or len(q.amounts) != 3 or driven[0].value <= 0:
        return None
    if hundred[0].start < burned[0].start:
        return None
    way = converted(driven[0].value, driven[0].unit, hundred[0].unit)
    value = burned[0].value / way * 100
    line = f"{shown(burned[0].value)} ÷ {shown(way)} × 100 = {shown(value)} {burned[0].unit}"
    mpg = converted(driven[0].value, driven[0].unit, "mi") / converted(burned[0].value, burned[0].unit, "gal")
    unit = "L/100 km" if (burned[0].unit, hundred[0].unit) == ("L", "km") else burned[0].unit
    return exact("for a hundred", value, unit, working=(line,), source="arithmetic", also=(figure("mileage", mpg, "mpg"),))  # fmt: skip


_CONSUMES = Lazy(r"\b(?:per|a|each|every|by the|to the|for a) (?:hundred|100|<n>|<(?:mi|km)>)|<[^>]+> (?:per|a|each|every|for) <(?:mi|km)>|\bl / 100\b")  # fmt: skip


_BY_BARE_HUNDRED = Lazy(r"\b(?:lit(?:er|re)s?|l|gallons?|gal) (?:per|a|to the|for each|every|for every|/) <n>")
""" "Litres per hundred": of what the distance is told in."""


def unmeasured(q: Question) -> str:
    """Consumption over a hundred miles or kilometres lacks the distance for what was burned."""
    burned = [one for one in q.amounts if one.unit in ("gal", "L") and not one.per]
    ways = [one for one in q.amounts if one.unit in ("mi", "km") and not one.per and one.value != 100]
    if len(burned) != 1 or ways or not q.has(r"\b(?:burn\w*|used?|took|went through|consum\w*|drank)\b"):
        return ""
    if not q.has(r"\b(?:what|how (?:much|many))\b") or not _CONSUMES.search(q.frame):
        return ""
    hundred = any(one.value == 100 for one in q.amounts) or q.has(r"\bhundred\b")
    return "Over how many miles?" if hundred else ""


_FUEL = Lazy(r"\b(?:diesel|fuel|tank|generator|genny|genset|pickup|burn\w*)\b")
_FROM_FULL = Lazy(
    r"\b(?:start\w*|leav\w*|left|began|begin\w*|from|with|on|topped|tank is|tank) (?:out |off |with |up |a |out with )*full\b|\bfull tank\b"
)
_MARK = Lazy(r"\b(?:down to|until|till?|before|reserve|sucks? air|pickup|not below|no lower|stop at|leave|keep)\b")


def down_to(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours or miles that a diesel tank lasts from one share of it down to another."""
    if (
        not (_FUEL.search(q.frame) or q.has(r"<(?:mpg|mi/gallon)>"))
        or not _MARK.search(q.frame)
        or q.has(r"\b(?:propane|water|waste|fresh|battery)\b")
    ):
        return None
    shares = [one for one in q.amounts if one.unit in ("part", "percent")]
    if (
        len(shares) == 1
        and _FROM_FULL.search(q.frame)
        and q.has(r"\bdown to (?:a |an |about |around )*<(?:part|percent)>")
    ):
        shares.append(shares[0]._replace(value=1.0, unit="part"))
        told = len(q.amounts) + 1
    else:
        told = len(q.amounts)
    sizes = [one for one in q.amounts if one.tag in ("gal",)]
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "mpg", "mi/gallon")]
    bare = [one for one in q.amounts if one.tag == "n"]
    if not rates and len(bare) == 1 and 3 <= bare[0].value <= 12 and q.has(r"<n> (?:to|miles to|on|per) (?:the |a )?(?:us )?gallon\b"):  # fmt: skip
        rates, bare = bare, []
    if len(shares) != 2 or len(sizes) > 1 or len(rates) != 1 or bare or len(shares) + len(sizes) + 1 != told:
        return None
    parts = sorted((one.value / (100 if one.unit == "percent" else 1) for one in shares), reverse=True)
    size = sizes[0].value if sizes else coach.diesel.capacity_gal
    gallons = size * (parts[0] - parts[1])
    if gallons <= 0 or rates[0].value <= 0 or parts[0] > 1:
        return None
    lines = f"{shown(size)} × ({shown(parts[0])} − {shown(parts[1])}) = {shown(gallons)} gal"
    if rates[0].tag in ("gal/h", "gph"):
        if not q.has(r"\bhow (?:long|many (?:more )?hours)\b|\bhours\b"):
            return None
        hours = gallons / rates[0].value
        return exact("time left", hours, "h", working=(lines, f"{shown(gallons)} ÷ {shown(rates[0].value)} = {shown(hours)} h"), source="arithmetic", verdict=f"About {duration(hours)}.")  # fmt: skip
    if not q.has(r"\bhow (?:far|many (?:more )?miles)\b|\brange\b|\bmiles\b"):
        return None
    far = gallons * rates[0].value
    return exact("range", far, "mi", working=(lines, f"{shown(gallons)} × {shown(rates[0].value)} = {shown(far)} mi"), source="arithmetic")  # fmt: skip


_ENDURES = Lazy(r"\b(?:endurance|how long|how many hours|hours)\b")
_RESERVE = Lazy(r"^ (?:hours? )?(?:of |in |for |held )?(?:in )?(?:reserve|in hand|spare|back)\b|^ reserve\b")


def endurance(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours that gallons last at so many an hour, less hours that are kept in reserve."""
    if not _ENDURES.search(q.frame) or not q.has(r"\breserve\b|\bin hand\b") or len(q.amounts) != 3:
        return None
    if q.has(r"\b(?:propane|battery|people|driv\w+)\b"):
        return None
    stock = [one for one in q.amounts if one.tag in ("gal", "L")]
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "n/h", "L/h")]
    kept = [one for one in q.amounts if one.tag in ("h", "min")]
    if [len(stock), len(rates), len(kept)] != [1, 1, 1] or rates[0].value <= 0:
        return None
    if "L" in (stock[0].unit, rates[0].unit) and stock[0].unit != rates[0].unit:
        return None
    whole = stock[0].value / rates[0].value
    reserve = kept[0].value / (60 if kept[0].unit == "min" else 1)
    left = whole - reserve
    if left <= 0:
        return exact("endurance", left, "h", source="arithmetic", verdict="You are in the reserve already.")
    line = f"{shown(stock[0].value)} ÷ {shown(rates[0].value)} − {shown(reserve)} = {shown(left)} h"
    return exact("endurance before the reserve", left, "h", working=(line,), source="arithmetic", verdict=f"{duration(left)} before the reserve.", also=(figure("in all", whole, "h"),))  # fmt: skip


def mileage_and_range(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Miles to the gallon of what was burned, and how far what is left takes the coach."""
    if not q.has(r"\b(?:mpg|mileage|miles (?:per|to the|a) gallon)\b") or not q.has(r"\bhow far\b|\brange\b|\bhow many (?:more )?miles\b"):  # fmt: skip
        return None
    pair = q.find(r"({mi}) (?:on|with|from|for|and burned|burned|took|used) ({gal|n})")
    left = [one for one in q.amounts if one not in pair]
    if len(pair) != 2 or len(left) != 1 or left[0].tag not in ("gal", "n"):
        return None
    if pair[1].value <= 0 or not q.has(
        r"<(?:gal|n)> (?:\w+ ){0,3}left\b|\bleft (?:is |are )?<(?:gal|n)>|\bremaining\b"
    ):
        return None
    mpg = pair[0].value / pair[1].value
    far = mpg * left[0].value
    lines = (f"{shown(pair[0].value)} ÷ {shown(pair[1].value)} = {shown(mpg)} mpg", f"{shown(mpg)} × {shown(left[0].value)} = {shown(far)} mi")  # fmt: skip
    return exact("mileage", mpg, "mpg", working=lines, source="arithmetic", verdict=f"{shown(mpg, 3)} miles to the gallon, {shown(far, 3)} miles on what is left.", also=(figure("range", far, "mi"),))  # fmt: skip


_FIRST = Lazy(r"\bfirst\b|\bsooner\b")
_WATER = Lazy(r"\b(?:fresh|water)\b")
_PROPANE = Lazy(r"\b(?:propane|gas|lp|lpg)\b")


def water_or_propane(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Which of fresh water and propane gives out first, each told with what goes of it."""
    frame = q.frame
    if not (_FIRST.search(frame) and _WATER.search(frame) and _PROPANE.search(frame)) or q.has(r"\b(?:waste|black|diesel)\b"):  # fmt: skip
        return None
    water = [one for one in q.amounts if one.tag in ("gal", "L")]
    bare = [one for one in q.amounts if one.tag == "n/h"]
    used = [one for one in q.amounts if one.tag in ("gal/h", "gal/day", "L/h", "L/day", "gal/day/each")]
    gas = [one for one in q.amounts if one.tag in ("lb", "kg")]
    burned = [one for one in q.amounts if one.tag in ("lb/h", "kg/h", "lb/day", "BTU/h")]
    people = [one for one in q.amounts if one.unit == "people"]
    for one in bare:  # "70 gal going 7 an hour"
        before = q.amounts[: q.amounts.index(one)]
        if before and before[-1] in water:
            used.append(one._replace(unit=water[0].unit))
        elif before and before[-1] in gas:
            burned.append(one._replace(unit=gas[0].unit))
        else:
            return None
    counts = [len(water), len(used), len(gas), len(burned)]
    if counts != [1, 1, 1, 1] or sum(counts) + len(people) != len(q.amounts) or len(people) > 1:
        return None
    if water[0].unit != used[0].unit or (burned[0].unit != "BTU" and gas[0].unit != burned[0].unit):
        return None
    if used[0].each != bool(people):
        return None
    hourly = used[0].value / (24 if used[0].per == "day" else 1) * (people[0].value if people else 1)
    pounds = converted(gas[0].value, gas[0].unit, "lb") if burned[0].unit.startswith("BTU") else gas[0].value
    rate = burned[0].value / (BTU_PER_LB if burned[0].unit.startswith("BTU") else 24 if burned[0].per == "day" else 1)
    if hourly <= 0 or rate <= 0:
        return None
    dry, out = water[0].value / hourly, pounds / rate
    first, name, other = (dry, "Water", out) if dry < out else (out, "Propane", dry)
    working = (f"water {shown(water[0].value)} ÷ {shown(hourly)} = {shown(dry)} h", f"propane {shown(pounds)} ÷ {shown(rate)} = {shown(out)} h")  # fmt: skip
    return exact("first out", first, "h", working=working, source="arithmetic", verdict=f"{name} first, in about {duration(first)}; the other in {duration(other)}.", also=(figure("the other", other, "h"),))  # fmt: skip


_LEVEL = r"({gal|n}) (?:gallons? )?(?:in|of|on|at)? ?(?:the |our |my )?"
_IN_FRESH = _LEVEL + r"(?:fresh|clean)\b"
_IN_WASTE = _LEVEL + r"(?:waste|black|gr[ae]y|holding)\b"


def fresh_or_waste(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Which gives out first of a fresh and a waste level told beside each other, where something is told in gallons."""
    if not q.has(r"\bfirst\b|\bsooner\b") or not any(one.unit == "gal" for one in q.amounts):
        return None
    fresh, waste = q.one(_IN_FRESH), q.one(_IN_WASTE)
    rates = [one for one in q.amounts if one.tag in ("gal/h", "n/h")]
    if fresh is None or waste is None or len(rates) != 1 or len(q.amounts) != 3 or fresh is waste:
        return None
    if q.has(r"\b(?:percent|room|free|tank (?:is|of|holds))\b"):
        return None
    return _first(fresh, waste, rates[0], coach)


def _first(fresh: Amount, waste: Amount, rate: Amount, coach: Coach) -> Estimate | None:
    size = coach.tank("waste").capacity_gal
    if rate.value <= 0 or waste.value > size or fresh.value > coach.tank("fresh").capacity_gal:
        return None
    dry, full = fresh.value / rate.value, (size - waste.value) / rate.value
    name, first = ("Fresh empty", dry) if dry < full else ("Waste full", full)
    working = (f"fresh {shown(fresh.value)} ÷ {shown(rate.value)} = {shown(dry)} h", f"waste ({shown(size)} − {shown(waste.value)}) ÷ {shown(rate.value)} = {shown(full)} h")  # fmt: skip
    assumed = ("all that is used ends up in the waste tank", f"waste tank {shown(size)} gal (profile)")
    return exact("first", first, "h", working=working, assumptions=assumed, source="arithmetic", verdict=f"{name} first, in about {duration(first)}.", also=(figure("the other", max(dry, full), "h"),))  # fmt: skip


_SHOWERS = Lazy(r"\b(?:shower\w*|players?|each|minutes|muddy|rinse\w*|wash\w*)\b|<[^>]*each>")


def showers(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Water that so many showers take at a flow, against what is in the tank."""
    if not _SHOWERS.search(q.frame) or q.has(r"\b(?:waste|each hour|reserve|keep|flush\w*|hose|fill\w*)\b"):
        return None
    counts = [one for one in q.amounts if one.tag in ("people", "n", "shower")]
    spans = [one for one in q.amounts if one.tag in ("min/each", "min")]
    flows = [one for one in q.amounts if one.tag in ("gal/min", "gpm")]
    held = [one for one in q.amounts if one.tag == "gal"]
    if [len(counts), len(spans), len(flows)] != [1, 1, 1] or len(held) > 1 or 3 + len(held) != len(q.amounts):
        return None
    many = counts[0].value
    if many != int(many) or not (spans[0].each or q.has(r"\b(?:each|apiece|a (?:head|player|person|man|shower))\b")):
        return None
    want = wanted(q) or want
    if not q.has(r"\bhow (?:much|many gallons)\b|\bgallons\b") or want.kind in ("time", "people", "times"):
        return None
    need = many * spans[0].value * flows[0].value
    line = f"{shown(many)} × {shown(spans[0].value)} min × {shown(flows[0].value)} = {shown(need)} gal"
    if not held:
        return exact("water", need, "gal", working=(line,), source="arithmetic")
    enough = held[0].value >= need
    verdict = f"{'Yes' if enough else 'No, not enough'}: {shown(need)} gallons against {shown(held[0].value)}."
    return exact("water", need, "gal", working=(line,), source="arithmetic", verdict=verdict, also=(figure("left" if enough else "short", abs(held[0].value - need), "gal"),))  # fmt: skip
