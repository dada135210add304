"""Watts over a time, watts through an inverter, and what a generator has left: plain arithmetic, every amount placed."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_ENERGY = Lazy(r"\b(?:kilo ?watt ?hours?|kwh|kw hours?|watt ?hours?|wh)\b|<kW> hours?\b")
_KILO = Lazy(r"\b(?:kilo ?watt ?hours?|kwh|kw hours?)\b")
_BANK = Lazy(r"\b(?:bank|batter\w+|left|full|empty|inverter|charge\w*)\b|<Ah>")
_WATTS_ASKED = Lazy(r"\b(?:how many watts|what wattage|how much power|in watts|watts is|wattage)\b")
_DC_ASKED = Lazy(r"\b(?:dc|battery(?: side)?|bank|12 volt side|low side|inverter)\b")
_AMPS_ASKED = Lazy(r"\b(?:how many|what|dc|which|battery|bank) (?:dc |battery )?amps\b|\bdc amps\b|\bamps (?:on|at|from|out of)\b|\bwhat (?:current|does (?:it|that) (?:pull|draw|take))\b")  # fmt: skip
_GENERATOR = Lazy(r"\b(?:generator|genny|genset|gen ?set|gen)\b")
_LEFT = Lazy(r"\b(?:reserve|left|spare|room|remain\w*|to go|hold\w*|handle|carry|enough|margin|headroom)\b")
_PLATE = Lazy(r"\b(?:plate|plated|rated|rating|generator|genny|genset|gen|good for|puts? out|makes|max\w*)\b[^<]*$")
_SAGS_TO = r"\b(?:bank|batter\w+)(?: (?:and|is|are|it|sags?|sagging|drops?|falls?|pulls?|pulled|holds?|holding|reads?|sits?|to|at|down|about|around))* ({n})(?! percent)"
_OURS = r"\b(?:only|just|use|using|can use|take|taking|stop at|down to|to) (?:about |the )?({percent|part})|({percent|part}) (?:of (?:it|that|them) )?(?:is |are )?(?:ours|usable|useable|to use|for us|mine)\b"
"""What of the bank may be used: "only half of it ours"."""
_MAINS = (110.0, 115.0, 120.0, 125.0, 230.0, 240.0)
_LEAST_W, _MOST_COUNT = 100.0, 12.0


def _watts(one: Amount) -> float:
    return one.value * (1000.0 if one.unit == "kW" else 1.0)


def _hours(one: Amount) -> float:
    return one.value / (60.0 if one.unit == "min" else 1.0)


def _loads(amounts: list[Amount]) -> float | None:
    """Watts in all: "two 1500 watt heaters and 900 watts"; None when an amount is neither a power nor how many of it."""
    total, many = 0.0, 1.0
    for one in amounts:
        if one.per:
            return None
        if one.unit in ("W", "kW") or (one.unit == "n" and one.value >= _LEAST_W):
            total, many = total + many * _watts(one), 1.0
        elif one.unit in ("n", "heater") and one.value == int(one.value) <= _MOST_COUNT and many == 1.0:
            many = one.value
        else:
            return None
    return total if total and many == 1.0 else None


def energy(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Kilowatt hours of watts, or of amps and volts, over a time."""
    if not _ENERGY.search(q.frame) or _BANK.search(q.frame):
        return None
    spans = [one for one in q.amounts if one.unit in ("h", "min") and one.per in ("", "day")]
    amps = [one for one in q.amounts if one.unit == "A" and not one.per]
    volts = [one for one in q.amounts if one.unit == "V"]
    if amps and not volts:  # "12 amps on 120"
        volts = [one for one in q.every(r"\b(?:on|at) ({n})") if one.value in _MAINS]
    rest = [one for one in q.amounts if one not in (*spans, *amps, *volts)]
    if len(spans) != 1:
        return None
    if len(amps) == len(volts) == 1 and not rest:
        watts = amps[0].value * volts[0].value
        line = f"{shown(amps[0].value)} A × {shown(volts[0].value)} V = {shown(watts)} W"
    elif not amps and len(volts) <= 1 and (told := _loads(rest)) is not None:
        watts, line = told, f"{shown(told)} W in all"
    else:
        return None
    hours = _hours(spans[0])
    used = watts * hours / 1000
    kilo = _KILO.search(q.frame) is not None
    value, unit = (used, "kWh") if kilo else (used * 1000, "Wh")
    working = (line, f"{shown(watts)} W × {shown(hours)} h = {shown(used)} kWh")
    return exact("energy", value, unit, working=working, source="arithmetic")


def unhoured(q: Question) -> str:
    """What kilowatt hours lack: the time, or the power."""
    if not _ENERGY.search(q.frame) or _BANK.search(q.frame) or not q.amounts:
        return ""
    powers = any(one.unit in ("W", "kW", "A") for one in q.amounts)
    spans = any(one.unit in ("h", "min", "day", "night") for one in q.amounts)
    if powers and not spans:
        return "For how many hours?"
    if spans and not powers:
        return "How many watts does it draw?"
    volts = any(one.unit == "V" for one in q.amounts)
    return "At how many volts?" if not volts and all(one.unit in ("A", "h", "min") for one in q.amounts) else ""


def pumped(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Watts of amps at volts, with the amp hours of a time that is told beside."""
    amps = [one for one in q.amounts if one.unit == "A" and not one.per]
    volts = [one for one in q.amounts if one.unit == "V"]
    spans = [one for one in q.amounts if one.unit in ("h", "min") and one.per in ("", "day")]
    days = [one for one in q.amounts if one.unit == "day" and one.value == 1 and not one.per]
    if not _WATTS_ASKED.search(q.frame) or len(amps) != 1 or len(volts) != 1 or len(spans) != 1:
        return None
    if len(days) > 1 or len(q.amounts) != 3 + len(days) or q.has(r"\b(?:breaker|trip|charger|bank|percent)\b"):
        return None
    watts, hours = amps[0].value * volts[0].value, _hours(spans[0])
    charge = amps[0].value * hours
    return exact(
        "power",
        watts,
        "W",
        working=(
            f"{shown(amps[0].value)} A × {shown(volts[0].value)} V = {shown(watts)} W",
            f"{shown(amps[0].value)} A × {shown(hours)} h = {shown(charge)} Ah",
        ),
        source="arithmetic",
        verdict=f"{shown(watts)} watts, {shown(charge, 3)} amp hours.",
        also=(figure("charge", charge, "Ah"), figure("energy", watts * hours, "Wh")),
    )


def through_inverter(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Amps on the battery's side of an inverter whose efficiency is told, with the amp hours of a time."""
    frame = q.frame
    if "inverter" not in frame or not _DC_ASKED.search(frame) or not (_AMPS_ASKED.search(frame) or want.unit == "A"):
        return None
    shares = [one for one in q.amounts if one.unit in ("percent", "part")]
    volts = [one for one in q.amounts if one.unit == "V"] or q.every(_SAGS_TO)
    banks = [one for one in q.amounts if one.unit == "Ah" and not one.per]
    usable = [one for one in shares if banks and one in q.every(_OURS)]
    shares = [one for one in shares if one not in usable]
    low = [one for one in volts if 9 <= one.value <= 60]
    spans = [one for one in q.amounts if one.unit in ("h", "min") and not one.per]
    rest = [one for one in q.amounts if one not in (*shares, *volts, *spans, *banks, *usable)]
    watts = _loads(rest)
    if len(banks) > 1 or len(usable) > 1 or (banks and spans):
        return None
    if watts is None or len(shares) != 1 or len(low) > 1 or len(volts) - len(low) > 1 or len(spans) > 1:
        return None
    share = shares[0].value / (100 if shares[0].unit == "percent" else 1)
    side = low[0].value if low else coach.house_battery.volts
    if not 0.5 <= share <= 1 or not side:
        return None
    amps = watts / share / side
    charge = amps * _hours(spans[0]) if spans else None
    working = [f"{shown(watts)} W ÷ {shown(share)} ÷ {shown(side)} V = {shown(amps)} A"]
    if charge is not None:
        working.append(f"{shown(amps)} A × {shown(_hours(spans[0]))} h = {shown(charge)} Ah")
    if banks:
        part = usable[0].value / (100 if usable[0].unit == "percent" else 1) if usable else 1.0
        lasts = banks[0].value * part / amps
        working.append(f"{shown(banks[0].value)} Ah × {shown(part)} ÷ {shown(amps)} A = {shown(lasts)} h")
        return exact("amps from the bank", amps, "A", working=tuple(working), assumptions=("the bank was full",), source="arithmetic", verdict=f"For {duration(lasts)}.", also=(figure("lasts", lasts, "h"),))  # fmt: skip
    return exact(
        "amps from the bank",
        amps,
        "A",
        working=tuple(working),
        source="arithmetic",
        verdict=f"{shown(amps, 3)} amps from the bank{'' if charge is None else f', {shown(charge, 3)} amp hours'}.",
        also=() if charge is None else (figure("charge", charge, "Ah"),),
    )


def generator_left(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Watts that a generator has left beside loads that are told, and whether it carries them."""
    if not _GENERATOR.search(q.frame) or not _LEFT.search(q.frame) or len(q.amounts) < 2:
        return None
    if not any(one.unit in ("W", "kW") for one in q.amounts):
        return None
    first, *others = q.amounts
    if first.unit not in ("W", "kW") or not _PLATE.search(q.frame[: q.frame.index("<")]):
        return None
    loads = _loads(others)
    if loads is None:
        return None
    left = _watts(first) - loads
    verdict = f"{shown(left)} watts are left." if left >= 0 else f"No, {shown(-left)} watts too many."
    return exact("watts left", left, "W", working=(f"{shown(_watts(first))} − {shown(loads)} = {shown(left)} W",), source="arithmetic", verdict=verdict)  # fmt: skip
