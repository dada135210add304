"""What a meter has to go until a mark, and how long the last number goes at so many a night."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.reading_types import Reading

if TYPE_CHECKING:
    from cabassist.language.calculation_types import Amount

_DUE = Lazy(
    r"\b(?:due|service|change|check|comes up|next one)\b.*?\b(?:at|by|every) (?:.+?) (?:how (?:many|long|far)|what's left|when)\b"
)
_TILL = Lazy(
    r"^(?:(?:and|so|ok|okay|then|now) )*(?:how (?:many|far|long)|what's left|what is left)(?: more)?(?: (?:hours?|hrs|miles?))?(?: more)?(?: (?:left|to go|is it|is that|is there|are there|do i have|do we have|have i got|have we got|does it have|has it got))*"
    r" (?:till|until|til|to|before|from|short of|off)(?: (?:it|she|he|that|this|the meter|the generator|the odometer|the clock|we|i)(?:'s| is)?(?: (?:hits?|reach\w*|gets? to|turns?(?: over)?|shows?|reads?|says?|at|over|past|passes))?| (?:hitting|reaching|reading))? (?:the )?[\w.,]+(?: [\w.,]+){0,4}$"
)
""" "How many till a thousand"."""
_PAST = Lazy(r"\b(?:did|was|were|done|finished|took|been)\b")
_METERS = {"generator_hours": ("h", re.compile(r"\b(?:hours?|hrs?)\b")), "odometer": ("mi", re.compile(r"\bmiles?\b"))}


def asks_until_due(said: str) -> bool:
    """Whether it is asked how far a meter is from a mark, which is no reading of it: "oil change at 1200, how long have I got"."""
    return _DUE.search(said) is not None and _PAST.search(said) is None


def until_due(state: State, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "Service is due at five hundred, how many hours is that": what the meter has to go, by its reading that stands."""
    till = _TILL.match(said) is not None
    if not (till or asks_until_due(said)):
        return None
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import Worked

    amounts = [
        _as_figure(one)
        for one in read_question(text).amounts
        if one.unit in ("n", "h", "mi", "clock") and not one.per and not one.tomorrow
    ]
    meter = _meter(state, said, till)
    if len(amounts) != 1 or meter is None or meter.value is None:
        return None
    unit = meter.unit or ""
    if amounts[0].value <= meter.value or amounts[0].unit not in ("n", unit):
        return None
    left = round(amounts[0].value - meter.value, 3)
    line = f"{shown(amounts[0].value, 7)} - {shown(meter.value, 7)} = {shown(left, 7)}"
    estimate = exact("until-due", left, unit, working=(line,), source="arithmetic on the reading")
    outcome = reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), text, ranking, mind)
    say = f"{shown(left, 7)} {'hours' if unit == 'h' else 'miles'} to go from {shown(meter.value, 7)}."
    return outcome._replace(reply=replace(outcome.reply, say=say, show=(say, *outcome.reply.show[1:])))


def _as_figure(amount: Amount) -> Amount:
    """A figure of a meter that was read as a time of day: 1250 is no ten to one here."""
    hours, rest = divmod(amount.value, 1)
    return amount._replace(value=100 * hours + round(rest * 60), unit="n") if amount.unit == "clock" else amount


def _meter(state: State, said: str, till: bool) -> Reading | None:
    """The reading of the meter that is named by its unit or, where only "until" a number is asked, was told last."""
    named = [name for name, (_, words) in _METERS.items() if words.search(said)]
    if not named and len(state.told) == 1 and state.last is not None and state.last.kind in _AFTER:
        named = [state.told[0].what]
    if len(named) != 1 or named[0] not in _METERS:
        return None
    unit = _METERS[named[0]][0]
    stands = [held.reading for held in state.stored if held.reading.what == named[0] and held.reading.unit == unit]
    return stands[-1] if stands else None


_AFTER = ("reading", "calculation", "control", "clarify", "unknown")

SPENT = "spent-by"
_HOW_LONG = Lazy(
    r"\bhow (?:long|many (?:more |such |whole |full )*(?P<span>nights|evenings|days|hours|minutes|weeks|shifts|trips))\b"
)
_THAT = Lazy(r"\b(?:that|it|this|those|they)\b")
_IF = Lazy(r"\bif\b")
_IF_SPENT = Lazy(
    r"\bif (?:it|she|we|i|they|you|he|the \w+) (?:only |just |'ll |will |would )*(?:runs?|ran|drives?|drove|do(?:es)?|did|puts? on|go(?:es)?|burns?|uses?|used|gets?|averages?) (?:about |around |only |like )*[a-z0-9.]+(?: [a-z0-9.]+){0,3} (?:a|an|per|each|every) (?:day|night|week|shift|trip)\b"
)
""" "If it runs six hours a day": how much of the last number goes at a time."""
_ANEW = Lazy(
    r"^(?:(?:and|so|ok|okay|or|but|what about|how about|what if it's|if it's|at|with|say|make it|only|just|no|if it runs|if we do|if i do|it's more like|more like) )*(?P<rate>[a-z0-9.]+(?: [a-z0-9.]+){0,3} (?:a|an|per|each|every) (?:day|night|week))(?: (?:then|instead|now))*$"
)
"""Another pace, right after the days that the last number goes."""
_STOCKS = frozenset({"h", "mi", "km", "gal", "L", "lb", "kg", "kWh", "Ah", "fl oz"})
_SPANS = {"nights": "day", "evenings": "day", "days": "day", "hours": "h", "minutes": "min", "weeks": "week"}
_PERIODS = ("min", "h", "day", "week")
_NAMES = {"day": "days", "week": "weeks"}


def at_so_many(state: State, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "At seven a night how many nights is that", after a number of hours, gallons or pounds: the one by the other."""
    found, standing = _HOW_LONG.search(said), reckoning.standing(state)
    last = standing.estimate if standing is not None else None
    anew = _ANEW.match(said) if last is not None and last.name == SPENT and state.earlier is not None else None
    if anew is not None and last is not None and state.earlier is not None:
        kind = "nights" if last.unit == "nights" else last.unit
        said = text = f"how many {kind} is that at {anew['rate']}"
        held = next((one.worked.estimate for one in reversed(state.given) if one.worked.estimate and one.worked.estimate.name != SPENT), None)  # fmt: skip
        found, last = _HOW_LONG.search(said), held
    if found is None or last is None or not last.value or last.unit not in _STOCKS:
        return None
    if not _THAT.search(said) or (_IF.search(said) and not _IF_SPENT.search(said)):
        return None  # that changes an amount of the last sum
    from cabassist.estimate.quantities import shown
    from cabassist.estimate.types import Estimate
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.calculation_units import PER_H, converted, same_kind
    from cabassist.sums.working import Worked

    amounts = read_question(text).amounts
    span = _SPANS.get(found["span"] or "", amounts[0].per if amounts else "")
    if len(amounts) != 1 or amounts[0].per not in _PERIODS or span not in _PERIODS or amounts[0].value <= 0:
        return None
    rate = amounts[0]
    if last.unit == "h" and rate.per in ("h", "min"):
        return None
    if rate.each or not (rate.unit == "n" or rate.unit == last.unit or same_kind(rate.unit, last.unit)):
        return None
    each = rate.value if rate.unit in ("n", last.unit) else converted(rate.value, rate.unit, last.unit)
    scale = PER_H[span] / PER_H[rate.per] / each
    value, low, high = (None if one is None else round(one * scale, 4) for one in (last.value, last.low, last.high))
    unit = found["span"] if found["span"] == "nights" else _NAMES.get(span, span)
    line = f"{shown(last.value)} {last.unit} ÷ {shown(each)} {last.unit} {'a night' if unit == 'nights' else f'per {rate.per}'} = {shown(last.value / each)}"
    estimate = Estimate(SPENT, value, unit, low=low, high=high, working=(line,), source="arithmetic on the last number")
    return reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), text, ranking, mind)
