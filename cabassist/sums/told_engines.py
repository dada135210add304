"""Generators and engines that run: amps of a derated generator, hours down to its pickup, miles that an idling engine burns."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_GENERATOR = Lazy(r"\b(?:generator|genny|genset|gen ?set|gen)\b")
_AMPS = Lazy(r"\b(?:how many|what|real|usable|total) (?:\w+ )?amps\b|\bamps (?:is|does|do|can|have|will|left|at|on|really)\b|\bin amps\b|\bhow (?:much|many) (?:current|amps)\b")  # fmt: skip
_LOSES = Lazy(r"\b(?:los(?:e|es|ing|t)|derat\w* (?:it )?by|less|down|drop(?:s|ped)?(?: it)? by|off|minus|cuts?|takes?|costs?|knocks?)(?: (?:us|me|it|off|about|around|some|away|roughly))* $")  # fmt: skip
_LOSES_AFTER = Lazy(r"^ (?:of (?:it|that) )?(?:less|lost|off|gone|down|loss|derat\w*)\b")
_LOADS = Lazy(
    r"\b(?:heater|microwave|charger|coffee|water heater|loads?|breaker|spare|already|left over|battery|bank|inverter)\b"
)
_MAINS = (100.0, 250.0)


def generator_amps(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Amps that a generator gives at its voltage when height or heat leave it only a share of its plate."""
    if not _GENERATOR.search(q.frame) or not (want.unit == "A" or _AMPS.search(q.frame)) or _LOADS.search(q.frame):
        return None
    power = [one for one in q.amounts if one.unit in ("W", "kW")]
    volts = [one for one in q.amounts if one.unit == "V" or (one.unit == "n" and one.value in (115, 120, 230, 240))]
    shares = [one for one in q.amounts if one.unit in ("percent", "part")]
    beside = [one for one in q.amounts if one not in (*power, *volts, *shares)]
    if [len(power), len(volts)] != [1, 1] or len(shares) > 1 or any(one.unit not in ("ft", "m", "people") for one in beside):  # fmt: skip
        return None
    if not shares and beside:
        return None  # what the height takes is not told
    if not _MAINS[0] <= volts[0].value <= _MAINS[1] or any(one.per or one.each for one in q.amounts):
        return None
    share = shares[0].value / (100 if shares[0].unit == "percent" else 1) if shares else 1.0
    if shares:
        tag = q.frame.index(f"<{shares[0].tag}>")
        left, right = q.frame[:tag], q.frame[tag + len(shares[0].tag) + 2 :]
        if _LOSES.search(left) or _LOSES_AFTER.search(right):
            share = 1 - share
    if not 0.2 < share <= 1:
        return None
    watts = power[0].value * (1000 if power[0].unit == "kW" else 1)
    amps = watts * share / volts[0].value
    line = f"{shown(watts)} W × {shown(share)} ÷ {shown(volts[0].value)} V = {shown(amps)} A"
    return exact("generator amps", amps, "A", working=(line,), source="watts = volts × amps", also=(figure("power", watts * share, "W"),))  # fmt: skip


_PICKUP = Lazy(
    r"\b(?:pick ?up|draw tube|dip tube|suction|stand ?pipe|sucks? air|quits?|cuts? (?:out|off)|shuts? (?:off|down)|stops?|dies|starves?)\b"
)
_RUN = Lazy(r"\b(?:run ?time|how (?:long|many (?:more )?hours)|hours|time left)\b")
_OF_SIZE = r"({part|percent}) (?:full )?(?:of|on) (?:the |our |a |my |its )?({gal|n})"
_MARK_AT = r"\b(?:at|below|under|to|with|leaves?|reserves?|holds? back) (?:about |the (?:last |bottom )?|a )?({part|percent|gal})"
_NOT_DIESEL = Lazy(r"\b(?:propane|water|waste|fresh|battery|people|miles|mpg)\b")


def to_pickup(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours that a generator runs from what the main tank holds down to where its pickup ends."""
    if not _GENERATOR.search(q.frame) or not _PICKUP.search(q.frame) or not _RUN.search(q.frame) or _NOT_DIESEL.search(q.frame):  # fmt: skip
        return None
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "n/h")]
    pair = q.find(_OF_SIZE)
    mark, size = q.one(_MARK_AT), None
    if len(pair) == 2:  # "five eighths of the 200 ... at a quarter", or "at a quarter of the 200"
        mark, size = mark if mark not in (None, pair[0]) else pair[0], pair[1]
    held = [one for one in q.amounts if one not in (*rates, mark, size)]
    if len(rates) != 1 or mark is None or mark.per or not rates[0].value > 0:
        return None
    if size is None and len(held) == 2:  # "the 200 gallon tank"
        size = max(held, key=lambda one: one.value)
        held.remove(size)
        if size.unit != "gal" or not size.describes:
            return None
    if len(held) != 1 or held[0].tag not in ("gal", "part", "percent", "n"):
        return None
    whole = size.value if size is not None else coach.diesel.capacity_gal
    assumed = () if size is not None else (f"diesel tank {shown(whole)} gal (profile)",)
    have, low = (one.value if one.unit in ("gal", "n") else whole * one.value / (100 if one.unit == "percent" else 1) for one in (held[0], mark))  # fmt: skip
    if not 0 <= low < whole or not 0 < have <= whole:
        return None
    usable = have - low
    line = f"{shown(have)} − {shown(low)} = {shown(usable)} gal above the pickup"
    if usable <= 0:
        return exact("run time", 0.0, "h", working=(line,), assumptions=assumed, source="arithmetic", verdict="The pickup is dry already.")  # fmt: skip
    hours = usable / rates[0].value
    return exact("run time", hours, "h", working=(line, f"{shown(usable)} ÷ {shown(rates[0].value)} = {shown(hours)} h"), assumptions=assumed, source="arithmetic", verdict=f"About {duration(hours)}.", also=(figure("usable", usable, "gal"),))  # fmt: skip


_IDLED = Lazy(r"\bidl(?:e|ed|es|ing)\b|\b(?:engine|ran|running|left it on|kept it running)\b")
_MILES = Lazy(r"\b(?:in|of|how many|what) miles\b|\bmiles (?:is|was|of|did|would|lost|gone)\b|\bhow far\b|\brange\b")


def idled_miles(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The miles that the fuel of an idling engine would have taken the coach."""
    if (
        not _IDLED.search(q.frame)
        or not _MILES.search(q.frame)
        or q.has(r"\b(?:still|remaining|tank|reserve|(?:is|have|miles|range|got|fuel) left|left (?:in|on))\b")
    ):
        return None
    rates = [one for one in q.amounts if one.tag in ("gal/h", "gph", "L/h")]
    mileage = [one for one in q.amounts if one.tag in ("mpg", "mi/gallon")]
    clocks = [one for one in q.amounts if one.unit == "clock"]
    spans = [one for one in q.amounts if one.unit in ("h", "min") and not one.per]
    beside = [one for one in q.amounts if one not in (*rates, *mileage, *clocks, *spans)]
    if [len(rates), len(mileage)] != [1, 1] or (len(clocks), len(spans)) not in ((2, 0), (0, 1)):
        return None
    if any(one.unit not in ("people", "F", "C", "temp") and not (one.unit == "n" and _BUNKS.match(" ".join(q.words[one.end : one.end + 2]))) for one in beside):  # fmt: skip
        return None
    if spans:
        hours = spans[0].value / (60 if spans[0].unit == "min" else 1)
    else:
        start, end = clocks
        hours = (end.value - start.value) % 24
        if (start.pieces or end.pieces) and hours > 12:
            return None  # which half of the day is not known
    hourly = converted(rates[0].value, "L", "gal") if rates[0].unit == "L" else rates[0].value
    gallons = hours * hourly
    miles = gallons * mileage[0].value
    lines = (
        f"{shown(hours)} h × {shown(hourly)} gal = {shown(gallons)} gal",
        f"{shown(gallons)} gal × {shown(mileage[0].value)} mpg = {shown(miles)} mi",
    )
    return exact("miles", miles, "mi", working=lines, source="arithmetic", verdict=f"{shown(gallons, 3)} gallons, about {shown(miles, 3)} miles.", also=(figure("fuel", gallons, "gal"),))  # fmt: skip


_BUNKS = Lazy(r"^(?:bunks?|aboard|asleep|souls|heads|on board|kids|players|guys|seats)\b")
