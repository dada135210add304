"""One amount in another unit, whatever else is told beside it, and a wheel nut's torque with what it must be."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_rates import KM_L_IN_MPG
from cabassist.language.calculation_units import UNIT_WORDS, converted, same_kind
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.degrees_apart import degrees_apart, in_other_scale
from cabassist.sums.working_sheet import quantity

_SOURCE = "exact definitions (NIST Handbook 44 App. C)"
_WRITTEN = {"floz": "fl oz", "igal": "imp gal", "gpm": "gal/min", "32nds": "1/32 in"}
_OF_RATES = {"gal/min": "gpm", "mi/h": "mph", "km/h": "km/h", "gal/h": "gal/h", "L/min": "L/min", "BTU/h": "BTU/h"}
_TORQUE = Lazy(r"\b(?:nuts?|lugs?|studs?|torqu\w*|wheels?|wrench|hub|flange)\b")
_SPUN_FAR = Lazy(r"<(?:mi|km)>|\bmiles\b|\bre ?check|\bre ?torque\b")
_JUDGED = Lazy(
    r"\b(?:tight enough|too (?:tight|much|low|loose|high|little)|enough|okay|ok|good|right|fine|correct|inside|within|in (?:the )?(?:range|spec|window)|in spec|out of spec|pass|safe|acceptable)\b"
)
_IMPERIAL = Lazy(r"\b(?:imperial|canadian gallons?|uk gallons?|british gallons?)\b")
_US = Lazy(r"\b(?:us|u s|american) (?:gallons?|gal|ones?)\b|\b(?:in|to|into) (?:our |the )?(?:us|u s|american)\b|<gal>")
_MEANT = Lazy(
    r"<gal>.*\b(?:that(?: is| will be| ' s)?|they are|they were|those are|meaning|i mean|is in|it is) (?:in )?(?:imperial|uk|british|canadian)\b"
)
_THEIRS = Lazy(
    r"\b(?:how many|in) (?:of )?(?:theirs|those|imperial|canadian)\b|\bhow many imperial\b|\bimperial(?: gallons)?(?: is| are| do| would| should)? (?:that|i|it|we)\b"
)
_FROM_THEIRS = Lazy(
    r"\b(?:what|how (?:many|much))\b.*\b(?:in|to|into|many|is that|are) (?:our |ours|of our |your |proper |plain )*(?:us|u s|american)\b|\b(?:us|u s|american) gallons (?:is|are|does|do|would|will) (?:that|it|they|those|<(?:n|people)>)"
)
_TURNS = Lazy(
    r"\b(?:in|into|to|as) (?:us |u s |fluid |metric )?(?:\w+ ){1,2}$|\b(?:what|how much|how (?:many|fast|far|long|heavy)) (?:' ?s |is |are |would )?(?:that|it|this|those|<[^>]+>|(?:many )?\w+(?: \w+)? (?:is|are|in|does))\b|\b(?:in|to|into|as) (?:\w+ ){1,2}(?:and|\?|,|please|equals?)|\bhow many (?:\w+ ){1,2}$|\bconvert\b|\bequals?\b|^ <[^>]+> (?:in|to|=) "
)


_ONLY = Lazy(r"\bonly (?:does|reads?|shows?|has|knows?|goes|marked|speaks?)(?: in)? (?P<unit>psi|bar|kpa|pounds|kilos|gallons|liters|litres|fahrenheit|celsius|miles|kilometers|kilometres|feet|meters|metres)\b")  # fmt: skip
"""A gauge in another unit than the chart: "my gauge only does psi"."""


_KM_TO_A_LITRE = Lazy(r"\b(?:km|kms|kilomet\w+) ?(?:/|per|an?|to (?:the|a)) ?(?:l|lit(?:er|re))\b")


def turned(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """An amount in another unit; None when more than the turning is asked, or two amounts could be meant."""
    imperial = _imperial_gallons(q)
    if imperial is not None:
        return imperial
    only = _ONLY.search(q.frame)
    to = UNIT_WORDS.get(only["unit"], "") if only is not None else asked_unit(q)
    if to == "mpg" and (told := of_litres(q)) is not None:
        return told
    if not to or not (only or _TURNS.search(q.frame)) or want.judged or want.rate:
        return None
    if (apart := degrees_apart(q, to)) is not None:
        return in_other_scale(*apart) if len(q.amounts) == 1 else None
    have = _the_amount(q, to)
    if have is None or _more_than_turned(q, have, to):
        return None
    unit = ("F" if to == "C" else "C") if have.unit == "temp" else _OF_RATES.get(have.tag, have.unit)
    value = converted(have.value, unit, to)
    return _told(have.value, unit, value, to)


def of_litres(q: Question) -> Estimate | None:
    """Kilometers to the liter, which are read as miles to the gallon, in these; None when no such amount is told alone."""
    metric = _KM_TO_A_LITRE.search(q.text.lower())
    if metric is None or len(q.amounts) != 1 or q.amounts[0].tag != "mpg":
        return None
    value = q.amounts[0].value
    line = f"{shown(value * KM_L_IN_MPG)} {metric[0]} ÷ {shown(KM_L_IN_MPG)} = {shown(value)} mpg"
    return exact("conversion", value, "mpg", working=(line,), source=_SOURCE)


def _told(amount: float, unit: str, value: float, to: str) -> Estimate:
    if {unit, to} == {"F", "C"}:
        line = f"({shown(amount)} - 32) ÷ 1.8 = {shown(value)}" if to == "C" else f"{shown(amount)} x 1.8 + 32 = {shown(value)}"  # fmt: skip
    else:
        line = f"{shown(amount)} {_WRITTEN.get(unit, unit)} = {shown(value)} {_WRITTEN.get(to, to)}"
    return exact("conversion", value, _WRITTEN.get(to, to), working=(line,), source=_SOURCE)


def _the_amount(q: Question, to: str) -> Amount | None:
    """The one amount of the question that measures what the wanted unit does, told once or again without its unit."""
    fitting = [one for one in q.amounts if _fits(one, to)]
    values = {one.value for one in fitting}
    return fitting[0] if len(values) == 1 else None


def _fits(amount: Amount, to: str) -> bool:
    unit = _OF_RATES.get(amount.tag, amount.tag)
    if amount.unit == "temp":
        return to in ("F", "C")
    return unit != to and same_kind(unit, to)


def _more_than_turned(q: Question, have: Amount, to: str) -> bool:
    """Whether other amounts stand in the question that are not the same one again: it may be a sum then."""
    others = [one for one in q.amounts if one is not have and one.value != have.value]
    if have.unit == "temp" or have.per:
        return bool(others)
    if same_kind(have.unit, "psi") and sum(one.unit in ("temp", "F", "C") for one in others) > 1:
        return True  # a tire that was set at one temperature and is read at another
    return any(one.unit not in ("people", "clock", "temp", "F", "C") for one in others)


def torque(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A torque in the other unit, or whether it is inside the window, or both."""
    told = [one for one in q.amounts if one.unit in ("lb-ft", "N·m")]
    if len({one.value for one in told}) != 1 or _SPUN_FAR.search(q.frame):
        return None
    others = [one for one in q.amounts if one not in told and one.value != told[0].value and one.unit != "n"]
    if others:
        return None
    from cabassist.estimate.wheels import nut_torque

    have = told[0]
    lower = [
        one
        for one in q.amounts
        if one.unit == "n" and one.end < have.start and q.has(r"<n> (?:to|-|and) <(?:lb-ft|N·m)>")
    ]
    if lower and lower[-1].value < have.value:
        return _span_of_torque(lower[-1].value, have)
    other = "N·m" if have.unit == "lb-ft" else "lb-ft"
    to = other if q.has(_NAMED_UNIT[other]) else asked_unit(q)
    judged = _JUDGED.search(q.frame) is not None
    if not judged:
        if to != other and not (to == "" and _TURNS_TORQUE.search(q.frame)):
            return None
        return _told(have.value, have.unit, converted(have.value, have.unit, other), other)
    if not _TORQUE.search(q.frame):
        return None
    found = nut_torque(quantity(have.value, have.unit))
    fine = found.verdict.startswith("Inside")
    head = "Yes" if fine != (_TOO.search(q.frame) is not None) else "No"
    if _TOO.search(q.frame) and not fine:
        tight = (found.value or 0.0) > 0
        head = "Yes" if tight == (_TOO_TIGHT.search(q.frame) is not None) else "No"
    verdict = f"{head}. {found.verdict}"
    value = converted(have.value, have.unit, other)
    if to == other or _TURNS_TORQUE.search(q.frame):
        told_both = _told(have.value, have.unit, value, other)
        return replace(told_both, verdict=verdict, also=found.also, assumptions=found.assumptions, source=found.source)
    return replace(found, verdict=verdict, also=(*found.also, figure("in the other unit", value, other)))


def _span_of_torque(low: float, have: Amount) -> Estimate:
    """A range of torques in the other unit."""
    other = "N·m" if have.unit == "lb-ft" else "lb-ft"
    found = _told(low, have.unit, converted(low, have.unit, other), other)
    high = converted(have.value, have.unit, other)
    return replace(found, verdict=f"To {shown(high)} {other}.", also=(figure("to", high, other),))


_NAMED_UNIT = {
    "N·m": r"\b(?:newton (?:meters?|metres?)|n m|nm|n · m)\b",
    "lb-ft": r"\b(?:(?:foot|ft) (?:pounds?|lbs?)|(?:pounds?|lbs?) (?:feet|foot|ft))\b",
}
"""A unit that is named without a number: "600 Nm. lb-ft?"."""
_TURNS_TORQUE = Lazy(r"\b(?:in|to|into) (?:n · m|n m|ft lb|ft|foot|newton\w*|nm|lb)\b|\bhow many (?:newton|foot)")
_TOO = Lazy(r"\btoo (?:tight|much|high|low|loose|little)\b")
_TOO_TIGHT = Lazy(r"\btoo (?:tight|much|high)\b")


def _imperial_gallons(q: Question) -> Estimate | None:
    """US gallons in imperial ones, or the other way round."""
    if not _IMPERIAL.search(q.frame) and not any(one.unit == "igal" for one in q.amounts):
        return None
    said = [one for one in q.amounts if one.unit == "igal"]
    us = [one for one in q.amounts if one.unit == "gal" and not one.per]
    if _US.search(q.frame) is None:
        return None
    if len(us) == 1 and not said and _THEIRS.search(q.frame):
        value = converted(us[0].value, "gal", "igal")
        return exact("conversion", value, "imp gal", working=(f"{shown(us[0].value)} US gal x 3.78541 ÷ 4.54609 = {shown(value)} imperial gallons",), source=_SOURCE)  # fmt: skip
    if len(us) == 1 and not said and _MEANT.search(q.frame) and q.has(r"\b(?:in|to|many|into) (?:us|u s|american)\b"):
        value = converted(us[0].value, "igal", "gal")
        return exact("conversion", value, "gal", working=(f"{shown(us[0].value)} imperial gallons x 4.54609 ÷ 3.78541 = {shown(value)} US gal",), source=_SOURCE)  # fmt: skip
    bare = {one.value for one in q.amounts if one.unit in ("n", "people")}
    if len(bare) == 1 and not us and not said and all(one.unit in ("n", "people") for one in q.amounts):
        value = next(iter(bare))  # "by the imperial gallon, fifty of them: what is that in ours"
        if _FROM_THEIRS.search(q.frame) and not q.has(r"\b(?:how many|to|into) (?:of )?(?:theirs|imperial)\b"):
            turned_to = converted(value, "igal", "gal")
            return exact("conversion", turned_to, "gal", working=(f"{shown(value)} imperial gallons x 4.54609 ÷ 3.78541 = {shown(turned_to)} US gal",), source=_SOURCE)  # fmt: skip
    if len(said) == 1 and not us and q.has(r"\b(?:us|u s|american)\b"):
        value = converted(said[0].value, "igal", "gal")
        return exact("conversion", value, "gal", working=(f"{shown(said[0].value)} imperial gallons x 4.54609 ÷ 3.78541 = {shown(value)} US gal",), source=_SOURCE)  # fmt: skip
    return None
