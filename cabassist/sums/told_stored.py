"""Amp hours told as a story: what a load on the inverter takes out, what a bank holds in kilowatt hours, an average current.

The family of banks (`told_bank.py`) knows how long a bank lasts and charges; here stands what it leaves: a part of the charge
that the cold takes, a load beside the charger, watts for some minutes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.battery import CHARGE_EFFICIENCY
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.plugged import all_put, counted_things
from cabassist.sums.working_sheet import quantity

_BANK = Lazy(r"<Ah>|\b(?:batter\w+|bank|amp ?hours?|ah|inverter)\b")
_NOT_HERE = Lazy(
    r"<(?:gal|lb|kg|psi|mpg|BTU|BTU/h|awg|ft|furnace|clock)[/>]|\b(?:cranking|freez\w*|peukert|propane|diesel|breaker|shore|series|parallel|each of|generator)\b"
)
_COLD = Lazy(r"\b(?:cold|frost|winter|freeze|age|old|worn)\b")
_LOST = Lazy(r"\b(?:los(?:es?|ing|t)|less|down|gone|off|takes?|eats?|robs?|steals?|cuts?)\b")
_STOP = Lazy(
    r"\b(?:stop\w*|down to|to|until|till?|above|below|under|at|floor|keep|leave|reserve|only|use) (?:it |at |about |a |the |of )*$"
)
_LEFT_TO = Lazy(r"\bto (?:about |only |just |around )*$")
""" "Knocks it down to 70 percent": what is left, not what is lost."""
_HALF_STOP = Lazy(r"\b(?:stop\w*|down|not below|never below|no lower than|floor|above|leave|keep)\b")
_USABLE = Lazy(r"^(?:of (?:it|that|them) )?(?:is |are )?(?:usable|useable|to use)\b|^(?:usable|useable)\b")
_USABLE_BEFORE = Lazy(r"\b(?:usable|useable|use only|only use) (?:is |about )?$")
_EFFICIENT = Lazy(r"\beffic\w*|\bconver(?:ts|sion)\b")
_INVERTER_AT = Lazy(r"\binverter (?:is |at |of |about )*$")
_WASTES = Lazy(r"\b(?:los(?:es?|ing)|wastes?|wasting)\b")
_BACK = Lazy(r"\b(?:back|needs?|owes?|replace|put (?:in|back)|recover|down|short|missing)\b")
_CHARGES = Lazy(r"\b(?:charg(?:er|ing|es?)|alternator|engine|idling|puts? (?:in|out|back)|gives?|makes?|in)\b")
_TAKES = Lazy(r"\b(?:takes?|draws?|pulls?|eats?|uses?|fridge|lights?|fans?|loads?|steals?|less|minus)\b")
_AVERAGE = Lazy(r"\b(?:average|avg|mean|steady|amps)\b")
_OUT = Lazy(r"\b(?:came out|went out|used|taken|took|drew|drawn|pulled|gone|burned|burnt|out of)\b")


_LEAST_EFFICIENCY = 0.6
"""No inverter is told to give less of what it takes."""


@dataclass
class _Told:
    """What was told of a bank."""

    charge: list[Said] = field(default_factory=list)
    amps: list[Said] = field(default_factory=list)
    watts: float = 0.0
    volts: float | None = None
    hours: list[float] = field(default_factory=list)
    efficiency: float | None = None
    cold: float | None = None
    stop: float | None = None
    usable: float | None = None
    level: float | None = None


def stored(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the amp hours come to; None when an amount has no place or nothing follows."""
    frame = question.frame
    want = wanted(question) or want
    if not _BANK.search(frame) or _NOT_HERE.search(frame):
        return None
    told = _told(question)
    if told is None:
        return None
    if told.watts:
        return _taken_out(told, want, coach)
    if told.efficiency is not None:
        return None
    if want.kind == "energy":
        return _energy(told, want, coach)
    if told.cold is not None:
        return _in_the_cold(told, want)
    if len(told.charge) == 1 and len(told.hours) == 1 and not told.amps and want.unit == "A":
        return _average(told, frame)
    return _beside(told, want, frame)


def _told(question: Question) -> _Told | None:
    found = placed(question)
    if found is None:
        return None
    told = _Told()
    whole = all_put(found, told, lambda _, one: _put(told, one, question.frame), counted_things)
    return told if whole else None


def _put(told: _Told, one: Said, frame: str) -> bool:
    """Give an amount its place; False when it has none."""
    value, unit = one.value, one.unit
    if one.amount.per or (one.amount.each and unit != "W"):
        return False
    if unit == "Ah":
        told.charge.append(one)
        return len(told.charge) == 1
    if unit == "A" or (unit == "n" and one.before == "A" and _TAKES.search(one.left) and 0 < value < 100):
        told.amps.append(one)
        return len(told.amps) <= 2
    if unit in ("W", "kW"):
        told.watts += value * (1000 if unit == "kW" else 1)
        return True
    if unit == "V":
        told.volts, fresh = value, told.volts is None
        return fresh and 9 <= value <= 60
    if unit in ("h", "min"):
        told.hours.append(value / (60 if unit == "min" else 1))
        return len(told.hours) == 1
    if unit in ("percent", "part"):
        return _share(told, one, value / (100 if unit == "percent" else 1), frame)
    return unit in ("people", "F", "C", "temp", "night")


def _share(told: _Told, one: Said, share: float, frame: str) -> bool:
    """A percent or a fraction: a loss to the cold, an efficiency, a floor, what is usable, or a charge."""
    near = f"{one.left} {one.right}"
    name = "level"
    if (_LOST.search(one.left[-24:]) or _LOST.search(one.right)) and _COLD.search(near):
        name = "cold"
        if _LEFT_TO.search(one.left):
            share = 1 - share
    elif (
        _EFFICIENT.search(one.right)
        or _EFFICIENT.search(one.left)
        or _INVERTER_AT.search(one.left)
        or "inverter" in frame
        and "<Ah>" not in frame
        and one.unit == "percent"
        and share >= _LEAST_EFFICIENCY
    ):
        name = "efficiency"
    elif _WASTES.search(one.left) and "inverter" in frame:
        name, share = "efficiency", 1 - share
    elif _USABLE.search(one.right) or _USABLE_BEFORE.search(one.left):
        name = "usable"
    elif _HALF_STOP.search(one.left) and _STOP.search(one.left):
        name = "stop"
    if not 0 < share <= 1 or getattr(told, name) is not None:
        return False
    setattr(told, name, share)
    return True


def _volts(told: _Told, coach: Coach) -> tuple[float, tuple[str, ...]]:
    if told.volts is not None:
        return told.volts, ()
    own = float(coach.house_battery.volts)
    return own, (f"a {shown(own)} V bank (profile)",)


def _taken_out(told: _Told, want: Wanted, coach: Coach) -> Estimate | None:
    """Amp hours that watts take out of the bank in a time, or the amps they draw."""
    if told.charge or told.amps or told.cold or told.stop or told.usable or told.level:
        return None
    volts, assumed = _volts(told, coach)
    efficiency = told.efficiency or 1.0
    amps = told.watts / (efficiency * volts)
    line = f"{shown(told.watts)} W ÷ ({shown(volts)} V × {shown(efficiency)}) = {shown(amps)} A"
    if want.unit == "A" and not told.hours:
        return exact("drawn from the bank", amps, "A", working=(line,), assumptions=assumed, source="watts = volts × amps")  # fmt: skip
    if want.unit != "Ah" or not told.hours:
        return None
    charge = amps * told.hours[0]
    more = f"× {shown(told.hours[0])} h = {shown(charge)} Ah"
    return exact("amp hours", charge, "Ah", working=(line, more), assumptions=assumed, source="watts = volts × amps", also=(figure("amps", amps, "A"),))  # fmt: skip


def _energy(told: _Told, want: Wanted, coach: Coach) -> Estimate | None:
    """Kilowatt hours in a bank, whole or at its charge."""
    if len(told.charge) != 1 or told.amps or told.hours or told.cold or told.stop or want.unit not in ("kWh", "Wh"):
        return None
    if told.usable is not None and told.level is not None:
        return None
    volts, assumed = _volts(told, coach)
    part = told.usable or told.level or 1.0
    energy = told.charge[0].value * volts * part / 1000
    line = f"{shown(told.charge[0].value)} Ah × {shown(volts)} V × {shown(part)} = {shown(energy)} kWh"
    return exact("energy", energy, "kWh", working=(line,), assumptions=assumed, source="watts = volts × amps")


def _in_the_cold(told: _Told, want: Wanted) -> Estimate | None:
    """How long a bank lasts of which the cold has taken a part."""
    if want.kind != "time" or want.difference or len(told.charge) != 1 or len(told.amps) != 1 or told.hours or told.volts not in (None, 12.0):  # fmt: skip
        return None
    if told.cold is None or told.level is not None or (told.stop is None) == (told.usable is None):
        return None
    part = told.usable if told.usable is not None else 1 - (told.stop or 0.0)
    there = told.charge[0].value * (1 - told.cold)
    usable = there * part
    hours = usable / told.amps[0].value
    lines = (
        f"{shown(told.charge[0].value)} Ah × {shown(1 - told.cold)} = {shown(there)} Ah in the cold",
        f"× {shown(part)} = {shown(usable)} Ah ÷ {shown(told.amps[0].value)} A = {shown(hours)} h",
    )
    return exact("lasts", hours, "h", working=lines, assumptions=("the bank was full",), source="amp hours ÷ amps")


def _average(told: _Told, frame: str) -> Estimate | None:
    """The average current of amp hours that came out in a time."""
    if not (_AVERAGE.search(frame) and _OUT.search(frame)) or told.level or told.stop or told.usable or told.cold:
        return None
    amps = told.charge[0].value / told.hours[0]
    line = f"{shown(told.charge[0].value)} Ah ÷ {shown(told.hours[0])} h = {shown(amps)} A"
    return exact("average current", amps, "A", working=(line,), source="amp hours ÷ hours")


def _beside(told: _Told, want: Wanted, frame: str) -> Estimate | None:
    """How long amp hours take to come back while a load takes a part of what the charger gives."""
    if want.kind != "time" or len(told.charge) != 1 or len(told.amps) != 2 or told.hours or told.volts:
        return None
    if told.level or told.stop or told.usable or not _BACK.search(f"{told.charge[0].left} {told.charge[0].right}"):
        return None
    first, second = told.amps
    if not _CHARGES.search(first.left) or not _TAKES.search(second.left) or second.value >= first.value:
        return None
    net = first.value - second.value
    plain = Lazy(r"\b(?:no loss(?:es)?|without loss(?:es)?)\b").search(frame) is not None
    share = 1.0 if plain else CHARGE_EFFICIENCY
    hours = told.charge[0].value / (net * share)
    lines = (f"{shown(first.value)} - {shown(second.value)} = {shown(net)} A", f"{shown(told.charge[0].value)} Ah ÷ ({shown(net)} A × {shown(share)}) = {shown(hours)} h")  # fmt: skip
    notes = () if plain else (f"{shown(100 * share)} percent of the current is stored",)
    return exact("charging time", hours, "h", working=lines, assumptions=notes, source="amp hours ÷ amps", verdict=f"{duration(hours)}. Longer if it is charged quite full.", also=(figure("without losses", told.charge[0].value / net, "h"),))  # fmt: skip


_EXPONENT = (1.0, 1.6)
_RATE = Lazy(r"\b(?:rat(?:e|ed|ing|ings)|rated (?:at|for|over))\b")
_AT_HOURS = Lazy(r"^(?:bank |battery )?(?:at|over|for|on|/)(?: a| the)? $")
_C_RATE = Lazy(r"\bc(?: /)? $")


_OTHER_LOAD = Lazy(
    r"\b(?:instead of|rather than|versus|vs|compared (?:to|with)|against|down from|not|or|and)(?: about| at)? $"
)
_GAINS = Lazy(r"\b(?:gain\w*|longer|more|extra|difference|lose|shorter|sav\w+)\b")


def _gained(question: Question, capacity: float, loads: list[Said], exponent: float, rated: float) -> Estimate | None:
    """What one current lasts longer than another, by Peukert's law."""
    from cabassist.estimate.battery import PEUKERT_SOURCE, peukert_hours

    if not _GAINS.search(question.frame) or question.has(r"\b(?:half|series|parallel|down to)\b"):
        return None
    if any(one.unit not in ("A", "n") for one in loads) or any(one.value <= 0 for one in loads):
        return None
    first, second = (peukert_hours(capacity, one.value, exponent, rated) for one in loads)
    line = " and ".join(
        f"{shown(rated)} h x ({shown(capacity)} ÷ ({shown(one.value)} A x {shown(rated)}))^{shown(exponent)} = {shown(hours)} h"
        for one, hours in zip(loads, (first, second), strict=True)
    )
    gap = abs(first - second)
    verdict = f"{duration(gap)} {'more' if first >= second else 'less'}: {duration(first)} at {shown(loads[0].value)} A, {duration(second)} at {shown(loads[1].value)}."
    also = (figure("at the first", first, "h"), figure("at the other", second, "h"))
    return exact("difference", gap, "h", working=(line,), assumptions=("until it is flat",), source=PEUKERT_SOURCE, verdict=verdict, also=also)  # fmt: skip


def by_peukert(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How long a full bank carries a load by Peukert's law, when the exponent is told; None when an amount has no place."""
    from cabassist.estimate.battery import house_battery_hours

    found = placed(question)
    if not found or not Lazy(r"\bpeukert\w*|\bexponent\b|\bkm? (?:=|of|is) <n>").search(question.frame):
        return None
    charge: list[Said] = []
    loads: list[Said] = []
    exponents: list[float] = []
    rated: list[float] = []
    for one in found:
        unit, value = one.unit, one.value
        if unit == "n" and value == 20 and _C_RATE.search(one.left) or unit == "h" and ((one.before == "Ah" and _AT_HOURS.search(one.left)) or _RATE.search(one.right) or _RATE.search(one.left)):  # fmt: skip
            rated.append(value)
        elif unit == "n" and _EXPONENT[0] <= value <= _EXPONENT[1] and not one.amount.per:
            exponents.append(value)
        elif unit == "n" and loads and _OTHER_LOAD.search(one.left) and not one.amount.per:
            loads.append(one)
        elif unit in ("Ah", "A", "W") and not one.amount.per:
            (charge if unit == "Ah" else loads).append(one)
        elif unit not in ("people", "V") or (unit == "V" and value not in (12, 24, 48)):
            return None
    if len(charge) == 1 == len(exponents) and len(loads) == 2 and len(rated) <= 1:
        return _gained(question, charge[0].value, loads, exponents[0], rated[0] if rated else 20.0)
    if [len(charge), len(loads), len(exponents)] != [1, 1, 1] or len(rated) > 1:
        return None
    if (wanted(question) or want).kind not in ("time", "") or question.has(r"\b(?:half|series|parallel|down to)\b"):
        return None
    volts = next((one.value for one in found if one.unit == "V"), float(coach.house_battery.volts))
    load = quantity(loads[0].value, loads[0].unit)
    made = house_battery_hours(quantity(charge[0].value, "Ah"), load, nominal=quantity(volts, "V"), charge=1.0, stop_at=0.0, exponent=exponents[0], rated_time=quantity(rated[0] if rated else 20.0, "h"))  # fmt: skip
    return replace(made, verdict="Until it is flat; half of that is kinder to the battery.")
