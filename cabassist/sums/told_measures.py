"""Measures of other countries and trades: stones, kilowatts as BTU, propane at so many kilowatts, flushes of so much, hours at the wheel in bad weather."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_STONE_LB = 14.0
_STONES = r"({n}|{n/each}) stones?\b(?: (?:and )?({n|lb}))?"
_KIT = Lazy(r"\b(?:kit|gear|bags?|luggage)\b")


def stones(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds of people told in stones, with what each carries."""
    told = q.find(_STONES)
    if not told or not q.has(r"\b(?:pounds?|lbs?|kilos?|kg)\b|<(?:lb|kg)>") or told[0].value > 40:
        return None
    each = told[0].value * _STONE_LB + (told[1].value if len(told) == 2 else 0.0)
    lines = [f"{shown(told[0].value)} × 14{f' + {shown(told[1].value)}' if len(told) == 2 else ''} = {shown(each)} lb"]
    rest = [one for one in q.amounts if one not in told]
    people = [one for one in rest if one.unit == "people"]
    kit = [one for one in rest if one.unit in ("lb", "kg")]
    if len(people) > 1 or len(kit) > 1 or len(people) + len(kit) != len(rest):
        return None
    if kit:
        if not _KIT.search(q.frame) or not (kit[0].each or q.has(r"\b(?:each|apiece|a head)\b")):
            return None
        each += converted(kit[0].value, kit[0].unit, "lb")
        lines.append(f"with {shown(kit[0].value)} {kit[0].unit} of kit {shown(each)} lb")
    total = each * (people[0].value if people else 1.0)
    if people:
        lines.append(f"{shown(people[0].value)} × {shown(each)} = {shown(total)} lb")
    metric = asked_unit(q) == "kg"
    value, unit = (converted(total, "lb", "kg"), "kg") if metric else (total, "lb")
    return exact("weight", value, unit, working=tuple(lines), source="1 stone = 14 lb")


def in_btu(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Kilowatts or watts as BTU an hour."""
    if len(q.amounts) != 1 or q.amounts[0].unit not in ("kW", "W") or q.amounts[0].per:
        return None
    if not q.has(r"\bbtus?\b") or not q.has(r"\b(?:how many|what|in btus?|per hour|an hour)\b"):
        return None
    if q.has(r"\b(?:propane|gas|pounds?|gallons?|degree|effic\w*|how long|loses?|amps?)\b"):
        return None
    watts = q.amounts[0].value * (1000 if q.amounts[0].unit == "kW" else 1)
    value = watts * 3.412142
    return exact("heat", value, "BTU/h", working=(f"{shown(watts)} W × 3.412 = {shown(value)} BTU/h",), source="exact definitions (NIST Handbook 44 App. C)")  # fmt: skip


_PAD = Lazy(r"\b(?:pads?|heat tapes?|heaters?|elements?|blankets?|bulbs?)\b")
_WATTS_ASKED = Lazy(r"\b(?:watts?|wattage|how big|what size|amps)\b")
_SMALL_LOSS = 10_000.0


def pad_for_loss(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Watts that make up for a loss in BTU an hour, with the amps at a voltage that is told."""
    losses = [one for one in q.amounts if one.tag in ("BTU/h", "BTU")]
    volts = [one for one in q.amounts if one.unit == "V" and not one.per]
    if not _PAD.search(q.frame) or not _WATTS_ASKED.search(q.frame) or len(losses) != 1 or len(volts) > 1:
        return None
    if len(losses) + len(volts) != len(q.amounts) or q.has(
        r"\b(?:propane|furnaces?|degrees?|gallons?|hours|how long)\b"
    ):
        return None
    if not q.has(r"\b(?:los(?:e|es|ing|s)|leaks?|gives? (?:up|off)|bleeds?|sheds?|needs?|holds?|make up|hold|loss)\b"):
        return None
    if losses[0].per != "h" and losses[0].unit != "BTU/h" or not 0 < losses[0].value <= _SMALL_LOSS:
        return None
    watts = losses[0].value / 3.412142
    lines = [f"{shown(losses[0].value)} BTU/h ÷ 3.412 = {shown(watts)} W"]
    if not volts:
        return exact("pad", watts, "W", working=tuple(lines), source="exact definitions (NIST Handbook 44 App. C)")
    amps = watts / volts[0].value
    lines.append(f"{shown(watts)} W ÷ {shown(volts[0].value)} V = {shown(amps)} A")
    return exact("pad", watts, "W", working=tuple(lines), source="exact definitions (NIST Handbook 44 App. C)", verdict=f"{shown(watts, 3)} watts, {shown(amps, 3)} amps at {shown(volts[0].value)} volts.", also=(figure("amps", amps, "A"),))  # fmt: skip


_GAS = Lazy(r"\b(?:propane|gas|lpg?|bottle|cylinder)\b")


def gas_at_power(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours that propane lasts a burner told in kilowatts."""
    if not _GAS.search(q.frame) or not q.has(r"\bhow (?:long|many (?:more )?hours)\b|\bhours\b"):
        return None
    gas = [one for one in q.amounts if one.tag in ("kg", "lb")]
    burner = [one for one in q.amounts if one.tag in ("kW", "W")]
    shares = [one for one in q.amounts if one.tag in ("part", "percent")]
    if [len(gas), len(burner)] != [1, 1] or len(shares) > 1 or 2 + len(shares) != len(q.amounts):
        return None
    if shares and not q.has(r"<(?:part|percent)> (?:of )?(?:the |of )*(?:time|an hour|every hour|each hour|duty)\b"):
        return None
    if q.has(r"\b(?:tare|weighs|scale|full|effic\w*|electric)\b"):
        return None
    watts = burner[0].value * (1000 if burner[0].unit == "kW" else 1)
    share = 1.0 if not shares else shares[0].value / (100 if shares[0].unit == "percent" else 1)
    pounds = converted(gas[0].value, gas[0].unit, "lb")
    if watts < 500 or not 0 < share <= 1:
        return None
    rate = watts * 3.412142 * share
    hours = pounds * BTU_PER_LB / rate
    working = (f"{shown(pounds)} lb × {BTU_PER_LB:,.0f} BTU/lb = {shown(pounds * BTU_PER_LB, 6)} BTU", f"{shown(watts)} W × 3.412 × {shown(share)} = {shown(rate, 6)} BTU/h")  # fmt: skip
    return exact("burn time", hours, "h", working=working, source="NFPA 58 Annex B (secondary)", verdict=f"About {duration(hours)}.")  # fmt: skip


_A_FLUSH = Lazy(r"<gal> (?:a|per|each|every) flush\b|<gal/flush>")


def flushed(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons a day that the toilet takes, and whether the waste tank holds a day of it."""
    if not _A_FLUSH.search(q.frame):
        return None
    people = [one for one in q.amounts if one.unit == "people"]
    times = [one for one in q.amounts if one.unit == "flush" and (one.each or one.per == "day")]
    gallons = [one for one in q.amounts if one.unit == "gal"]
    days = [one for one in q.amounts if one.unit == "day" and one.value == 1]
    if [len(people), len(times)] != [1, 1] or not 1 <= len(gallons) <= 2 or len(days) > 1:
        return None
    if 2 + len(gallons) + len(days) != len(q.amounts) or not q.has(r"\bhow (?:many gallons|much)\b"):
        return None
    each = next((one for one in gallons if one.value <= 2), None)
    tank = next((one for one in gallons if one is not each), None)
    if each is None or (tank is not None and tank.value < 10):
        return None
    daily = each.value * people[0].value * times[0].value
    line = f"{shown(each.value)} × {shown(people[0].value)} × {shown(times[0].value)} = {shown(daily)} gal a day"
    if tank is None:
        return exact("a day", daily, "gal/day", working=(line,), source="arithmetic", also=(figure("in one day", daily, "gal"),))  # fmt: skip
    holds = daily <= tank.value
    verdict = f"{'Yes' if holds else 'No'}: {shown(daily)} gallons a day against {shown(tank.value)}."
    return exact("a day", daily, "gal/day", working=(line,), source="arithmetic", verdict=verdict, also=(figure("in one day", daily, "gal"),))  # fmt: skip


_WHEEL = r"({clock|h|n}) (?:hours? )?(?:(?:on|at|behind) the wheel|of driving|driving|driven)\b"
_DUTY = r"({clock|h|n}) (?:hours? )?(?:on duty|on the clock)\b"
_WEATHER = Lazy(r"\b(?:adverse|blizzard|snow\w*|ice storm|fog|storm)\b")


def at_the_wheel(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Driving left from hours at the wheel and on duty, with the two hours of adverse conditions met on the way."""
    if not _WEATHER.search(q.frame) or not q.has(r"\b(?:how (?:much|many|long)|left|more)\b"):
        return None
    wheel, duty = q.one(_WHEEL), q.one(_DUTY)
    if wheel is None or duty is None or len(q.amounts) != 2 or not q.has(r"\badverse\b|\bexception\b"):
        return None
    unforeseen = q.has(r"\b(?:nobody (?:called|knew|forecast)|not forecast|unforeseen|surprise\w*|after i (?:would |had )?(?:already )?(?:left|started)|came down after|was not (?:called|forecast))\b")  # fmt: skip
    if not unforeseen or wheel.value > 12 or duty.value > 17 or wheel.value > duty.value:
        return None
    from cabassist.estimate.driving_hours import hours_left

    return hours_left(wheel.value, duty.value, adverse="met on the way")
