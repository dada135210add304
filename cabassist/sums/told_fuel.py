"""Fuel told as a story: hours of idling and what they burn, exhaust fluid beside diesel, mileage from the odometer, range, what it costs."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, parts, spans_between
from cabassist.sums.working_sheet import in_unit

_SOURCE = "arithmetic"
_OTHER = Lazy(
    r"\b(?:propane|furnace\w*|cylinders?|fresh|waste|bleach|shower\w*|flush\w*|hose|torque\w*|nuts?|tread|axle|scale|humid\w*|gel\w*|cloud)\b"
    r"|<(?:psi|lb|kg|A|Ah|V|W|BTU|BTU/h|awg|cylinder|furnace|lb-ft|N·m|32nds|ppm|floz|gpm|shower|flush)(?:/\w+)*>|/each"
)
_KEPT = Lazy(
    r"\b(?:keep\w*|kept|hang(?:ing)? on ?to|hold(?:ing)?(?: back| on ?to)?|held|reserve|leave|leaving|not (?:draw|go|run)(?:ning)? (?:it )?(?:below|under|down (?:past|below|to))|below|draw below|untouched|spare|need|save|saving)(?: \w+){0,4} $"
)
_KEPT_AFTER = Lazy(
    r"^ (?:\w+ )?(?:kept|held|back|in reserve|reserve|spare|to spare|left (?:in|over)|untouched|for (?:tomorrow|the|getting|driving))\b"
)
_OF = Lazy(r"^ (?:full )?(?:of|a tank of|tank of)(?: a| the| its| it| our| my)?(?: ' s)? $")


# -- idling ---------------------------------------------------------------------------------------

_RUNS = Lazy(r"\b(?:idl\w*|generator|genny|genset|gen ?set|gen|apu|big engine|engine|burns?|sips?|heater)\b|<gph>")
_SAVES = Lazy(r"\b(?:save|saving|saved|difference|less|more|cheaper|versus|vs|instead|compared)\b")
_NIGHTS = Lazy(r"\b(?:nights?|days?|times|stops?|mornings)\b")
_HOW_MUCH = Lazy(r"\b(?:gallons?|gal|litres?|liters?|fuel|diesel|how much|burn\w*)\b")


def idling(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons that an engine burns standing, what one saves against another, or the hours that the tank lasts it."""
    if _OTHER.search(q.frame) or not _RUNS.search(q.frame):
        return None
    found = parts(q)
    if any(part.kind in ("speed", "mileage") for part in found):
        return None
    price = _price(q, found)
    if price is not None:
        found = [part for part in found if part is not price and not (part.kind == "volume" and part.value == 1 and part.before.rstrip().endswith("<n>"))]  # fmt: skip
    rates = [part for part in found if part.kind == "volume/time" or (part.kind == "n" and _RATE_TOO.search(part.left) and part.value < 5)]  # fmt: skip
    if not rates and price is None and _RATE_ASKED.search(q.frame):
        return _burnt_an_hour(q, found)
    rates = rates or [
        part
        for part in found
        if part.value < 5
        and (
            (part.kind in ("volume", "n/time") and _AT.search(part.left))
            or (part.kind == "n" and _IDLES.search(part.left))
        )
    ]
    if not 1 <= len(rates) <= 2 or (rates[0].kind == "n" and len(rates) == 1 and not _IDLES.search(rates[0].left)):
        return None
    tank = [part for part in found if part not in rates and (part.kind in ("volume", "share") or _had(part))]  # fmt: skip
    if len(rates) == 1 and tank and _NIGHTS_ASKED.search(q.frame):
        return _idle_nights([part for part in found if part not in rates], rates[0].value, coach)
    spells = [part for part in found if part.kind == "time" and part.unit in ("h", "min")]
    if len(rates) == 1 and tank and len(spells) == 1:
        return _idled(q, want, [part for part in found if part not in rates], rates[0].value, spells[0], coach)
    if len(rates) == 1 and tank and want.kind == "time":
        return _idle_hours([part for part in found if part not in rates], rates[0].value, coach)
    if tank or not (_HOW_MUCH.search(q.frame) or price is not None):
        return None
    hours = _hours(q, found, rates)
    if hours is None:
        return None
    span, lines = hours
    if len(rates) == 2:
        if not _SAVES.search(q.frame):
            return None
        high, low = max(part.value for part in rates), min(part.value for part in rates)
        value = (high - low) * span
        lines.append(f"({shown(high)} - {shown(low)}) gal an hour x {shown(span)} h = {shown(value)} gal")
        return _volume(q, "saved", value, lines)
    if want.kind in ("time", "distance", "share", "mileage"):
        return None
    value = rates[0].value * span
    lines.append(f"{shown(rates[0].value)} gal an hour x {shown(span)} h = {shown(value)} gal")
    if price is not None:
        cost = value * price.value
        lines.append(f"{shown(value)} gal x {shown(price.value)} = {shown(cost)} dollars")
        said = f"{shown(value)} gallons are burned." if q.has(BURNED_TOO) else ""
        return exact("fuel cost", cost, "dollars", working=tuple(lines), source=_SOURCE, verdict=said, also=(figure("fuel", value, "gal"),))  # fmt: skip
    return _volume(q, "fuel", value, lines)


BURNED_TOO = r"\bhow (?:much|many)\b[^.?]*\b(?:use|burn|go through|gone|burned|used)\b"


_RATE_ASKED = Lazy(r"\b(?:rate|an hour|per hour|each hour|hourly|gph)\b")


def _burnt_an_hour(q: Question, found: list[Part]) -> Estimate | None:
    """Gallons an hour from gallons and the hours they took."""
    burnt = [part for part in found if part.kind == "volume"]
    hours = _hours(q, [part for part in found if part not in burnt], [])
    if len(burnt) != 1 or hours is None or not q.has(r"\b(?:used|burn\w*|burnt|drank|took|went through|consumed)\b"):
        return None
    rate = burnt[0].value / hours[0]
    return exact("rate", rate, "gal/h", working=(f"{shown(burnt[0].value)} gal ÷ {shown(hours[0])} h = {shown(rate)} gal an hour",), source=_SOURCE)  # fmt: skip


_OUT_OF = Lazy(r"\b(?:from|out of|with) $")
_REMAINS = Lazy(r"\b(?:left|remain\w*)\b")
_IDLES = Lazy(r"\bidl(?:es?|ing)(?: at| is| takes| burns)?(?: about| around)? $")
_NIGHTS_ASKED = Lazy(r"\bhow many (?:nights|days|evenings) (?:of|at|like)\b")
_AT = Lazy(
    r"\b(?:at|drink(?:s|ing)?|burn(?:s|ing)?|us(?:es?|ing)|takes?|taking|sips?|sipping|through)(?: about| around| roughly)? $"
)


def _price(q: Question, found: list[Part]) -> Part | None:
    """The price of a gallon, when money is asked for."""
    if not _PRICED.search(q.frame):
        return None
    told = [part for part in found if part.kind == "n" and 1.5 <= part.value <= 12 and (_PRICE.search(part.left) or _A_GALLON.search(part.after))]  # fmt: skip
    return told[0] if len(told) == 1 else None


_RATE_TOO = Lazy(r"\b(?:generator|genny|gen|apu|engine|other|one|does|burns|uses|takes)(?: \w+){0,2} $")


def _volume(q: Question, name: str, gallons: float, lines: list[str]) -> Estimate:
    litres = asked_unit(q) == "L" or (asked_unit(q) == "" and {"L"} & {one.unit for one in q.amounts} and not {"gal"} & {one.unit for one in q.amounts})  # fmt: skip
    found = exact(name, gallons, "gal", working=tuple(lines), source=_SOURCE)
    return in_unit(found, "L") if litres else found


_LONG_H = 48.0
"""From here on hours are said as days, and are said once more as they were asked for."""


def _idle_hours(found: list[Part], rate: float, coach: Coach) -> Estimate | None:
    """Hours that what is in the tank lasts, less what is kept of it."""
    kept = [part for part in found if part.kind in ("volume", "n") and (_KEPT.search(part.left) or _KEPT_AFTER.search(part.right))]  # fmt: skip
    rest = [part for part in found if part not in kept and part.kind in ("volume", "share", "n", "clock", "time")]
    have = _in_tank(rest, float(coach.diesel.capacity_gal))
    left = 0.0 if have is None else have - sum(part.value for part in kept)
    if have is None or left <= 0 or rate <= 0:
        return None
    hours = left / rate
    return exact("hours", hours, "h", working=(f"({shown(have)} - {shown(have - left)}) gal ÷ {shown(rate)} gal an hour = {shown(hours)} h",), source=_SOURCE, verdict=f"That is {shown(hours, 3)} hours." if hours >= _LONG_H else "")  # fmt: skip


def _had(part: Part) -> bool:
    """Whether a bare number is what the tank holds: "from 95"; "from 9 to 6" are hours."""
    return part.kind == "n" and _OUT_OF.search(part.left) is not None and not part.after.startswith((" to ", " till ", " until "))  # fmt: skip


def _idled(q: Question, want: Wanted, found: list[Part], rate: float, spell: Part, coach: Coach) -> Estimate | None:
    """What is left after so many hours, or whether what there is lasts them."""
    told = [part._replace(kind="volume") if _had(part) else part for part in found if part is not spell]  # fmt: skip
    whole = _idle_hours(told, rate, coach)
    if whole is None or whole.value is None:
        return None
    spare = whole.value - spell.value
    if want.judged or q.has(r"\benough\b"):
        verdict = (
            f"{'Yes' if spare >= 0 else 'No'}: {shown(spell.value)} hours asked, {shown(whole.value)} hours there."
        )
        return replace(whole, verdict=verdict)
    if not _REMAINS.search(q.frame) or want.kind not in ("volume", "") or spare < 0:
        return None
    left = spare * rate
    return exact("left", left, "gal", working=(*whole.working, f"({shown(whole.value)} - {shown(spell.value)}) h x {shown(rate)} = {shown(left)} gal"), source=_SOURCE)  # fmt: skip


def _idle_nights(found: list[Part], rate: float, coach: Coach) -> Estimate | None:
    """How many nights of so many hours the tank lasts."""
    spells = [part for part in found if part.kind == "time" and part.unit in ("h", "min")]
    whole = _idle_hours([part for part in found if part not in spells], rate, coach)
    if len(spells) != 1 or whole is None or whole.value is None or spells[0].value <= 0:
        return None
    nights = whole.value / spells[0].value
    line = f"{shown(whole.value)} h ÷ {shown(spells[0].value)} h a night = {shown(nights)}"
    return exact("nights", nights, "nights", working=(*whole.working, line), source=_SOURCE, also=(figure("hours", whole.value, "h"),))  # fmt: skip


_SIZE = Lazy(r"\b(?:tank|holds?|capacity|size)(?: (?:is|of|holds?|' s|a|the))* $")
_SIZE_AFTER = Lazy(r"^ (?:\w+ )?(?:tank|capacity)\b")


def _in_tank(told: list[Part], capacity: float) -> float | None:
    """Gallons there are: a volume, a share of the tank's size that is told, or one of the coach's own tank."""
    shares = [part for part in told if part.kind == "share"]
    shared_of = bool(shares) and _OF.search(f" {shares[0].right.strip()} ") is not None
    sizes = [part for part in told if part.kind == "volume" or (part.kind == "n" and shares and (shared_of or _SIZE.search(part.left) or _SIZE_AFTER.search(part.right)))]  # fmt: skip
    if len(shares) > 1 or len(sizes) > 1 or len(told) != len(shares) + len(sizes):
        return None
    if not shares:
        return sizes[0].value if sizes else None
    of = not sizes or shared_of or _SIZE.search(sizes[0].left) or _SIZE_AFTER.search(sizes[0].right)  # fmt: skip
    return shares[0].value * (sizes[0].value if sizes else capacity) if of else None


def _hours(q: Question, found: list[Part], rates: list[Part]) -> tuple[float, list[str]] | None:
    """Hours of running: told, or between two times of day, on each of some nights."""
    spans = [part for part in found if part.kind in ("time", "time/time") and part.unit not in ("day", "night", "week")]
    nights = [part for part in found if part.kind == "time" and part.unit in ("day", "night")]
    clocks = [part for part in found if part.kind == "clock" or (part.kind == "n" and part not in rates and _CLOCK.search(part.left) and _is_hour(part.value))]  # fmt: skip
    rest = [part for part in found if part.kind == "n" and part not in rates and part not in clocks]
    if rest or len(nights) > 1 or len(spans) > 1:
        return None
    many = nights[0].amount.value if nights else 1.0
    if spans:
        hours = spans[0].amount.value / 60 if spans[0].unit == "min" else spans[0].amount.value
        if clocks and not (len(clocks) == 2 and _same_span(clocks, hours)):
            return None
    elif len(clocks) == 2:
        hours = _between(*clocks)
    else:
        return None
    if not 0 < hours <= 48:
        return None
    lines = [f"{shown(hours)} h x {shown(many)} = {shown(hours * many)} h"] if many != 1 else []
    return hours * many, lines


def _is_hour(value: float) -> bool:
    return 1 <= value <= 12.99 or (100 <= value < 2400 and value % 100 < 60 and value % 1 == 0)


_CLOCK = Lazy(r"\b(?:from|to|till|until|at|between|and|-)(?: about| around)? $")


def _same_span(clocks: list[Part], hours: float) -> bool:
    return abs(_between(*clocks) - hours) < 0.1


def _between(first: Part, last: Part) -> float:
    """Hours from one time of day to the next; an unsaid half of the day is the one that makes it shortest."""
    return min((one for one in spans_between(first, last) if one > 0.01), default=24.0)


# -- exhaust fluid ----------------------------------------------------------------------------------

_DEF = Lazy(r"\b(?:def|exhaust fluid|ad ?blue|urea)\b")
_DEF_NEAR = Lazy(r"\b(?:def|exhaust fluid|urea)\b")
_DIESEL_NEAR = Lazy(r"\b(?:diesel|fuel)\b")
_FIRST = Lazy(r"\bwhich\b|\bfirst\b|\bbefore the other\b|\bruns? out (?:sooner|first)\b")
_FULL_DEF = Lazy(
    r"\bfull (?:def|exhaust fluid)\b|\bdef (?:tank )?(?:is |' s )?(?:full|topped|brim\w*)\b|\b(?:def|our def) tank last\b"
)


def exhaust_fluid(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How far the exhaust fluid reaches, how much goes with some diesel, what share it is, whether it or the diesel ends first."""
    if not _DEF.search(q.frame) or _OTHER.search(q.frame):
        return None
    found = [part for part in parts(q) if part.kind not in ("people", "temperature", "clock")]
    used = _used_over(found)
    fluid, diesel, rate, mileage = _fluid(found, coach), _diesel(found, coach), _rate(found, used), _mileage(found)
    if _FULL_DEF.search(q.frame) and fluid is None:
        fluid = float(coach.diesel.def_capacity_gal) or None
    if used is not None and fluid is not None and rate is None and (ahead := _ahead(found, used)) is not None:
        miles = fluid / used[0] * used[1]
        enough = miles >= ahead
        said = f"{'Yes' if enough else 'No'}: {shown(miles)} miles of exhaust fluid, {shown(abs(miles - ahead))} miles {'to spare' if enough else 'short'}."
        return _miles(
            "miles of exhaust fluid",
            miles,
            (f"{shown(fluid)} gal ÷ {shown(used[0])} gal x {shown(used[1])} mi = {shown(miles)} mi",),
            said,
        )
    if used is not None and fluid is not None and rate is None:
        per_mile = used[0] / used[1]
        miles = fluid / per_mile if per_mile > 0 else 0.0
        return _miles("miles of exhaust fluid", miles, (f"{shown(used[0])} gal ÷ {shown(used[1])} mi, {shown(fluid)} gal ÷ that = {shown(miles)} mi",), "") if want.kind == "distance" and len(found) == 3 else None  # fmt: skip
    if want.kind == "share" and rate is None:
        both = [part for part in found if part.kind == "volume" or (part.kind == "n" and _near(part) == "def")]
        if len(both) != 2 or len(found) != 2:
            return None
        small, large = sorted(part.value for part in both)
        return exact("share", 100 * small / large, "percent", working=(f"{shown(small)} ÷ {shown(large)} = {shown(100 * small / large)} %",), source=_SOURCE)  # fmt: skip
    if rate is None or not 0.005 <= rate <= 0.12:
        return None
    if want.kind in ("volume", "") and diesel is not None and fluid is None and mileage is None:
        value = diesel * rate
        return exact("exhaust fluid", value, "gal", working=(f"{shown(diesel)} gal x {shown(100 * rate)} % = {shown(value)} gal",), source=_SOURCE)  # fmt: skip
    if want.judged and diesel is not None and fluid is not None and mileage is None and want.kind in ("volume", "distance", ""):  # fmt: skip
        return _doses_diesel(q, fluid, diesel, rate)
    miles_told = [part.value for part in found if part.kind == "distance"]
    if want.kind in ("volume", "") and len(miles_told) == 1 and mileage and fluid is None and diesel is None:
        burnt = miles_told[0] / mileage
        lines = (f"{shown(miles_told[0])} mi ÷ {shown(mileage)} mpg = {shown(burnt)} gal of diesel", f"x {shown(100 * rate)} % = {shown(burnt * rate)} gal")  # fmt: skip
        return exact("exhaust fluid", burnt * rate, "gal", working=lines, source=_SOURCE, also=(figure("diesel", burnt, "gal"),))  # fmt: skip
    if fluid is None:
        return None
    gallons = fluid / rate
    line = f"{shown(fluid)} gal ÷ {shown(100 * rate)} % = {shown(gallons)} gal of diesel"
    if want.kind == "volume" and mileage is None:
        return exact("diesel", gallons, "gal", working=(line,), source=_SOURCE)
    if mileage is None or mileage <= 0:
        return None
    miles = gallons * mileage
    lines = (line, f"x {shown(mileage)} mpg = {shown(miles)} mi")
    if diesel is None or not _FIRST.search(q.frame):
        return (
            _miles("miles of exhaust fluid", miles, lines, "")
            if want.kind in ("distance", "") and diesel is None
            else None
        )
    of_diesel = diesel * mileage
    first = "DEF runs out first" if miles < of_diesel else "Diesel runs out first"
    least = min(miles, of_diesel)
    of_both = (*lines, f"diesel: {shown(diesel)} gal x {shown(mileage)} mpg = {shown(of_diesel)} mi")
    found_last = _miles(
        "miles to the first",
        least,
        of_both,
        f"{first}, after {shown(least)} miles; the other lasts {shown(max(miles, of_diesel))}.",
    )
    return replace(
        found_last, also=(figure("miles of exhaust fluid", miles, "mi"), figure("miles of diesel", of_diesel, "mi"))
    )


def _doses_diesel(q: Question, fluid: float, diesel: float, rate: float) -> Estimate:
    """Whether the exhaust fluid there is goes with all the diesel that is to be burned."""
    from cabassist.sums.told_parts import asks_lack

    need = diesel * rate
    enough = need <= fluid
    line = f"{shown(diesel)} gal x {shown(100 * rate)} % = {shown(need)} gal, {shown(fluid)} gal there"
    yes = enough is not asks_lack(q)
    gap = figure("left" if enough else "short", abs(fluid - need), "gal")
    said = f"{'Yes' if yes else 'No'}: {shown(need)} gallons of DEF needed, {shown(fluid)} there, {shown(gap.value)} {'to spare' if enough else 'short'}."
    return exact("exhaust fluid", need, "gal", working=(line,), source=_SOURCE, verdict=said, also=(gap, figure("there", fluid, "gal")))  # fmt: skip


def undosed(q: Question) -> str:
    """What is asked back when only the miles are told for which exhaust fluid is wanted; "" when that is not so."""
    found = [part for part in parts(q) if part.kind not in ("people", "temperature", "clock")]
    if not (_DEF.search(q.frame) and q.has(r"\bhow (?:much|many gallons)\b")) or [part.kind for part in found] != [
        "distance"
    ]:
        return ""
    return "How many miles to the gallon, and how many percent of exhaust fluid does it take?"


def _miles(name: str, miles: float, lines: tuple[str, ...], verdict: str) -> Estimate:
    return exact(name, miles, "mi", working=lines, source=_SOURCE, verdict=verdict)


def _near(part: Part) -> str:
    """Which fluid an amount is of: by the word right behind it, else the last one before it."""
    after = " ".join(part.right.split()[:3])
    if _DEF_NEAR.search(f" {after} "):
        return "def"
    if _DIESEL_NEAR.search(f" {after} "):
        return "diesel"
    place = {"def": part.left.rfind(" def"), "diesel": max(part.left.rfind(" diesel"), part.left.rfind(" fuel"))}
    best = max(place, key=lambda one: place[one])
    return best if place[best] >= 0 else ""


def _fluid(found: list[Part], coach: Coach) -> float | None:
    """Gallons of exhaust fluid there are."""
    return _level(found, "def", float(coach.diesel.def_capacity_gal))


def _diesel(found: list[Part], coach: Coach) -> float | None:
    """Gallons of diesel there are."""
    return _level(found, "diesel", float(coach.diesel.capacity_gal))


def _level(found: list[Part], fluid: str, capacity: float) -> float | None:
    """Gallons of a fluid, by what is told of it or of its tank."""
    told: list[Part] = []
    for k, part in enumerate(found):
        level = part.kind == "share" and (part.value >= _MOST_DOSED or part.unit == "part")
        unnamed = fluid == "def" and level and not _near(part)
        last = found[k - 1] if k else None
        size = last is not None and last in told and last.kind == "share" and _OF.search(f" {last.right.strip()} ")
        if not (size or unnamed or _near(part) == fluid) or _PER_100.search(part.after) or _EVERY.search(part.left):
            continue
        if level or (part.kind == "volume" or (size and part.kind == "n")) and not _USED.search(part.left):
            told.append(part)
    dosed = _dosed(found)
    return _in_tank([part for part in told if part not in dosed], capacity)


_MOST_DOSED = 0.12
"""No engine takes more exhaust fluid than this share of its diesel; a larger share is a level."""
_PER_100 = Lazy(
    r"^ (?:gallons )?(?:of (?:def|diesel|fuel|it|that) )?(?:per|(?:to|for|in|on|with)(?: every| each)?|every|each|a) (?:the )?(?:<n>|<gal>|hundred)"
)
_EVERY = Lazy(r"\b(?:every|each|per) $")
_USED = Lazy(r"\b(?:used|uses|using|went through|burned|takes)(?: \w+){0,2} $")


def _rate(found: list[Part], used: tuple[float, float] | None) -> float | None:
    """Exhaust fluid as a share of the diesel: a small percentage, or gallons for each hundred."""
    shares = [
        part.value for part in found if part.kind == "share" and part.unit == "percent" and part.value < _MOST_DOSED
    ]
    if len(shares) == 1:
        return shares[0]
    if shares:
        return None
    dosed = _dosed(found)
    return dosed[0].value / dosed[1].value if dosed else None


def _dosed(found: list[Part]) -> list[Part]:
    """The gallons of exhaust fluid, and the gallons of diesel that they go with: "three to every hundred of diesel"."""
    for first, second in pairwise(found):
        if not {first.kind, second.kind} <= {"volume", "n"}:
            continue
        if _PER_100.search(first.after) and second.value in (50, 100, 200, 1000):
            return [first, second]
        if _EVERY.search(first.left) and first.value in (50, 100, 200, 1000):
            return [second, first]
    return []


def _mileage(found: list[Part]) -> float | None:
    told = [part for part in found if part.kind == "mileage" or (part.kind == "n" and _MPG.search(part.left) and 2 <= part.value <= 15)]  # fmt: skip
    return told[0].value if len(told) == 1 else None


_MPG = Lazy(r"\b(?:mpg|mileage|gets?|doing|does|averag\w*)(?: \w+){0,2} $")


_AHEAD = Lazy(r"^ (?:miles )?(?:to go|left|ahead|to do|away|still|more|to the|to cover)\b")


def _ahead(found: list[Part], used: tuple[float, float]) -> float | None:
    """Miles that are still to go, told beside what is used over others."""
    told = [part for part in found if part.kind == "distance" and _AHEAD.search(part.right) and part.value != used[1]]
    return told[0].value if len(told) == 1 and len(found) == 4 else None


def _used_over(found: list[Part]) -> tuple[float, float] | None:
    """Gallons used over some miles."""
    ahead = [part for part in found if part.kind == "distance" and _AHEAD.search(part.right)]
    if len(ahead) == 1 and len(found) == 4:
        found = [part for part in found if part is not ahead[0]]
    used = [part for part in found if part.kind in ("volume", "n") and _USED.search(part.left)]
    miles = [part for part in found if part.kind == "distance"]
    return (used[0].value, miles[0].value) if len(used) == 1 and len(miles) == 1 and miles[0].value > 0 else None


# -- mileage, range, price --------------------------------------------------------------------------

_ODOMETER = 1000.0
_MPG_ASKED = Lazy(r"\b(?:mpg|to the gallon|per gallon|a gallon|mileage|economy)\b")
_RANGE_ASKED = Lazy(r"\bhow (?:far|many miles|many more miles)\b|\brange\b|\bmake (?:it|the)\b|\breach\b|\bmiles (?:left|can|have|will)\b|\bget (?:us )?there\b|\bhow many miles\b|\bmiles to burn\b")  # fmt: skip
_FULL = Lazy(r"\bfull(?: tank(?: of)?)? $")
_FUELED = Lazy(
    r"\b(?:used|took|takes|burn\w*|filled|fill\w*|put (?:in|back)|pumped|bought|went through|on)(?: \w+){0,2} $"
)
_PRICED = Lazy(r"\b(?:price\w*|bill|cost\w*|how much (?:money|is that|to (?:put|fill|pay))|dollars?|bucks|pay)\b|\$")
_PRICE = Lazy(
    r"\b(?:price(?: at the pump)?|diesel|fuel|it|cost\w*|at|pump)(?: is| ' s| costs| runs| at| of| now)*(?: \$)? $|\$ $"
)


def fuel(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Miles a gallon between two readings of the odometer, and how far what is in the tank goes."""
    if _OTHER.search(q.frame) or _DEF.search(q.frame):
        return None
    found = [part for part in parts(q) if part.kind not in ("people", "temperature", "clock")]
    if any(part.kind in ("speed", "volume/time", "time") for part in found):
        return None
    readings = [
        part for part in found if part.kind in ("n", "distance") and part.value >= _ODOMETER and part.value % 1 == 0
    ]
    if len(readings) == 2:
        return _by_odometer(q, found, readings)
    if _PRICED.search(q.frame):
        return _bill(q, found)
    if want.kind == "volume":
        return _needed(q, found)
    if not _RANGE_ASKED.search(q.frame):
        return None
    return _reach(q, want, found, coach)


_BESIDES = Lazy(r"\b(?:plus|and|another|with|for)(?: a| about)? $")


def _needed(q: Question, found: list[Part]) -> Estimate | None:
    """Gallons for a distance, and those for something beside it: "680 miles at 6.4 plus 15 for the generator"."""
    miles = [part for part in found if part.kind == "distance"]
    mileage = _mileage(found) or next((part.value for part in found if part.kind == "n" and 2 <= part.value <= 15 and part.left == " at "), None)  # fmt: skip
    more = [part for part in found if part.kind == "volume" or (part.kind == "n" and part.value != mileage)]
    if len(miles) != 1 or mileage is None or len(more) != 1 or not q.has(r"\b(?:plus|and (?:another|i want|keep)|with <|extra|reserve|spare|for the generator)\b"):  # fmt: skip
        return None
    extra = more[0]
    if not (_BESIDES.search(extra.left) or _KEPT.search(extra.left) or _KEPT_AFTER.search(extra.right)) or _HAVE.search(
        extra.left
    ):
        return None
    gallons = miles[0].value / mileage + extra.value
    line = f"{shown(miles[0].value)} mi ÷ {shown(mileage)} mpg + {shown(extra.value)} = {shown(gallons)} gal"
    return exact("fuel", gallons, "gal", working=(line,), source=_SOURCE)


_HAVE = Lazy(r"\b(?:have|has|got|there (?:is|are)|holds?|tank|aboard)(?: \w+){0,2} $")


def _by_odometer(q: Question, found: list[Part], readings: list[Part]) -> Estimate | None:
    done = abs(readings[1].value - readings[0].value)
    fills = [part for part in found if part.kind == "volume"]
    if len(fills) != 1 or not _MPG_ASKED.search(q.frame) or not 10 <= done <= 5000 or fills[0].value <= 0:
        return None
    mpg = done / fills[0].value
    if not 1.5 <= mpg <= 40:
        return None
    lines = [f"{shown(readings[1].value, 7)} - {shown(readings[0].value, 7)} = {shown(done)} mi", f"{shown(done)} mi ÷ {shown(fills[0].value)} gal = {shown(mpg)} mpg"]  # fmt: skip
    rest = [part for part in found if part not in readings and part not in fills]
    if not rest:
        return exact("mileage", mpg, "mpg", working=tuple(lines), source=_SOURCE)
    full = [part for part in rest if _FULL.search(part.left)]
    kept = [part for part in rest if part not in full and (_KEPT.search(part.left) or _KEPT_AFTER.search(part.right))]
    if len(full) != 1 or len(kept) > 1 or len(rest) != len(full) + len(kept) or not _RANGE_ASKED.search(q.frame):
        return None
    usable = full[0].value - sum(part.value for part in kept)
    lines.append(f"{shown(usable)} gal x {shown(mpg)} mpg = {shown(usable * mpg)} mi")
    return exact("mileage", mpg, "mpg", working=tuple(lines), source=_SOURCE, verdict=f"That is {shown(usable * mpg)} miles on {shown(usable)} gallons.", also=(figure("range", usable * mpg, "mi"),))  # fmt: skip


def _bill(q: Question, found: list[Part]) -> Estimate | None:
    told = _price(q, found)
    prices = [told] if told is not None else []
    a_gallon = [
        part for part in found if part.kind == "volume" and part.value == 1 and part.before.rstrip().endswith("<n>")
    ]
    rest = [part for part in found if part not in prices and part not in a_gallon]
    if len(prices) != 1:
        return None
    price = prices[0].value
    volumes = [part for part in rest if part.kind == "volume"]
    miles = [part for part in rest if part.kind == "distance"]
    mileage = _mileage(rest)
    if len(volumes) == 1 and len(rest) == 1:
        gallons, line = volumes[0].value, ""
    elif len(miles) == 1 and mileage and len(rest) == 2:
        gallons = miles[0].value / mileage
        line = f"{shown(miles[0].value)} mi ÷ {shown(mileage)} mpg = {shown(gallons)} gal"
    else:
        return None
    cost = gallons * price
    lines = tuple(one for one in (line, f"{shown(gallons)} gal x {shown(price)} = {shown(cost)} dollars") if one)
    return exact("fuel cost", cost, "dollars", working=lines, source=_SOURCE)


_A_GALLON = Lazy(r"^ (?:dollars? |\$ )?(?:a gallon|per gallon|the gallon|<gal>|/ gal)")


def _reach(q: Question, want: Wanted, found: list[Part], coach: Coach) -> Estimate | None:
    mileage = _mileage(found) or next((part.value for part in found if part.kind == "n" and part.left == " at " and 3 <= part.value <= 12), None)  # fmt: skip
    shares = [part for part in found if part.kind == "share"]
    if mileage is None or len(shares) > 1:
        return None
    have, kept, far, lines = 0.0, 0.0, None, []
    k = 0
    while k < len(found):
        part = found[k]
        if part.kind == "share":
            following = found[k + 1] if k + 1 < len(found) else None
            of = (
                following is not None
                and following.kind in ("n", "volume")
                and _OF.search(f" {part.right.strip()} ") is not None
            )
            whole = following.value if of and following is not None else float(coach.diesel.capacity_gal)
            have = part.value * whole
            lines.append(f"{shown(part.value)} of {shown(whole)} gal = {shown(have)} gal")
            k += 1 + of
            continue
        if part.kind == "distance":
            if far is not None:
                return None
            far = part.value
        elif part.kind in ("volume", "n") and part.value != mileage:
            if _KEPT.search(part.left) or _KEPT_AFTER.search(part.right):
                kept += part.value
            elif part.kind == "volume" and not have:
                have = part.value
            else:
                return None
        k += 1
    if have <= kept:
        return None
    reach = (have - kept) * mileage
    lines.append(f"({shown(have)} - {shown(kept)}) gal x {shown(mileage)} mpg = {shown(reach)} mi")
    verdict = ""
    if far is not None:
        if not (want.judged or _JUDGED.search(q.frame)):
            return None
        fits = reach >= far
        gap = abs(reach - far)
        verdict = f"Yes, {shown(gap)} miles to spare." if fits else f"No, {shown(gap)} miles short."
    found_miles = exact("range", reach, "mi", working=tuple(lines), source=_SOURCE, verdict=verdict)
    return in_unit(found_miles, "km") if asked_unit(q) == "km" else found_miles


_JUDGED = Lazy(r"\b(?:make (?:it|the)|reach|enough|get (?:us )?there|can we|will (?:it|that|we))\b")
