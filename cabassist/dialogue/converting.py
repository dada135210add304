"""The last number in another unit: "in litres", "what's that in fluid ounces".

A unit by itself holds no amount, and must never be taken for a reading: a tank told as three eighths does not hold
0.375 litres, and who says "in litres" after 40 gallons rather wants 151 than 40. "No, litres" is another matter.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.estimate.quantities import shown
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.units import SPOKEN_UNITS

_UNIT = re.compile(
    r"^(?:(?:and|so|ok|okay|now|then|what about|how about) )*"
    r"(?:(?:what(?:'s| is| would be)?|whats|how'?s|how is|how (?:much|many|long|far) is|say|tell me|give me|give|put|make|convert|turn) )?"
    r"(?:(?:that|it|this|those|the same)(?: (?:be|come to|make))? )?(?:in|into|as) (?P<unit>[a-z]+(?: [a-z]+)?)$"
)
_ALONE = re.compile(
    r"^(?:(?:and|so|ok|okay|now|then) )*(?P<unit>gallons?|lit(?:er|re)s?|pounds?|lbs|kilos?|kilograms?|kilomet(?:er|re)s?|miles?|fahrenheit|celsius|minutes|hours|days|watts|amps|ounces|cups|inches|cent[a-z]+)$"
)
"""Nothing but a unit."""
_NO_NUMBER = "I have no number to turn into that. Say the amount with its unit."
_SHARES = ("fraction", "percent")
_TIMES = ("s", "min", "h", "days")
_WRITTEN = {"floz": "fl oz", "day": "days"}
"""Units that estimates write otherwise than the reader of questions."""


def in_unit(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last number worked out, in the unit that the text names; asked back when there is no number for it; else None."""
    short = bare(text)
    alone = _ALONE.match(short)
    if state.pending is not None or not (_UNIT.match(short) or alone):
        return None
    if alone:  # "kilometers?" is a request only while there is a number to be turned
        if state.last is None or state.last.kind != "calculation":
            return None
        if state.asking is not None and state.asking.what == "reading":
            return None
        short = f"in {alone['unit']}"
        text = short
    from cabassist.language.calculation_inputs import asked_unit, read_question
    from cabassist.language.calculation_units import converted, same_kind

    unit = asked_unit(read_question(text)) or asked_unit(read_question(f"what is that {short}"))
    unit = _WRITTEN.get(unit, unit) if unit else unit
    if not unit:
        return None
    last = state.last
    worked = state.worked
    stands = reckoning.standing(state)
    if stands is not None and worked is not None and last is not None and last.kind != "reading":
        estimate = worked.estimate
        if estimate is None:
            return None
        if alone and unit in ("lb", "kg") and estimate.unit in ("gal", "L"):
            from cabassist.dialogue.of_last import of_last

            return of_last(state, f"what does that weigh in {alone['unit']}", ranking, mind, now)
        if alone and not same_kind(estimate.unit, unit):
            from cabassist.dialogue.following import put_back

            return put_back(_NO_NUMBER, state, mind)
        if estimate.value is None or unit in ("F", "C") or not same_kind(estimate.unit, unit):
            return None  # a difference in temperature turns otherwise than a temperature
        value, low, high = (
            None if one is None else converted(one, estimate.unit, unit)
            for one in (estimate.value, estimate.low, estimate.high)
        )
        again = replace(estimate, value=value, low=low, high=high, unit=unit, verdict="", also=())
        reply = reckoning.answer(state, replace(worked, estimate=again), text, ranking, mind).reply
        if unit in _TIMES and value is not None:  # which are else told as hours and days
            line = f"{shown(value, 3)} {_said(unit)}."
            reply = replace(reply, say=line, show=(line, *reply.show))
        if last.kind in (
            "clarify",
            "unknown",
        ):  # what was said since changed nothing, and the driver may think that it did
            from cabassist.sums.working_words import number_said

            line = f"The last number, {number_said(estimate.value, estimate.unit)}: {reply.say}"
            reply = replace(reply, say=line, show=(line, *reply.show))
        return Outcome(state, reply)
    if last is not None and last.kind == "reading" and last.readings and last.readings[-1].unit not in _SHARES:
        level, told = last.readings[-1].value, last.readings[-1].unit or ""
        if level is None or not same_kind(told, unit):
            return None
        turned = converted(level, told, unit)
        line = f"{shown(level)} {_said(told)} is {shown(turned, 3)} {_said(unit)}."
        wrong = "If the unit was wrong, say the reading once more with the right one."
        return Outcome(state, Reply("calculation", f"{line} {wrong}", (line, wrong)))
    supposed = _in_question(state.question, unit)
    if supposed is not None and last is not None and last.kind in ("procedure", "step", "clarify"):
        return _turned(state, *supposed, unit)
    if state.asking is not None and state.asking.what == "reading":
        return None
    return Outcome(state, Reply("clarify", _NO_NUMBER, (_NO_NUMBER,)))


_OURS = Lazy(
    r"^(?:(?:and|so|ok|okay|now|then|hey) )*(?:what(?:'s|s| is| would)?|how (?:much|many|cold|hot|far|long|heavy) is|say|give me|put|turn|make|what about|how about)? ?(?P<amount>.+?)(?: (?:be|come to|make))?"
    r" (?:in|into|to) (?:ours|our (?:money|units?|terms|numbers|measure)|american(?: money| units| terms)?|u ?s(?: units| money| terms)|(?:proper|normal|real|good old) (?:money|units|numbers|american))$"
)
_TWINS = {"C": "F", "km": "mi", "kg": "lb", "L": "gal", "cm": "in", "m": "ft", "bar": "psi", "km/h": "mph"}


def in_ours(state: State, text: str, mind: Mind) -> Outcome | None:
    """ "What's minus twenty celsius in ours": an amount in the unit that this coach's profile has for it; else None."""
    found = _OURS.match(bare(text)) if state.pending is None else None
    if found is None:
        return None
    from cabassist.language.calculation_inputs import read_question

    amounts = read_question(found["amount"]).amounts
    twins = {ours: theirs for theirs, ours in _TWINS.items()} if mind.coach.units == "metric" else _TWINS
    if len(amounts) != 1 or amounts[0].per or amounts[0].unit not in twins:
        return None
    return _turned(state, amounts[0].value, amounts[0].unit, twins[amounts[0].unit])


def _in_question(question: str, unit: str) -> tuple[float, str] | None:
    """The one amount of a question that can be told in another unit: of "out all night at minus twenty two Celsius"."""
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.calculation_units import same_kind

    fitting = [
        one for one in read_question(question).amounts if not one.per and one.unit != unit and same_kind(one.unit, unit)
    ]
    return (fitting[0].value, fitting[0].unit) if len(fitting) == 1 else None


def _turned(state: State, value: float, unit: str, into: str) -> Outcome:
    from cabassist.language.calculation_units import converted

    line = f"{shown(value)} {_said(unit)} is {shown(converted(value, unit, into), 3)} {_said(into)}."
    return Outcome(state, Reply("calculation", line, (line,)))


_TURNED = re.compile(r"^-?[\d,.]+ (?P<unit>.+) is -?[\d,.]+ (?P<into>.+?)\.(?: |$)")
_NEXT_ONE = re.compile(r"^(?:and|what about|how about|and what about|then)(?: for| if it's| at)? (?P<amount>.+)$")


def another(state: State, text: str) -> Outcome | None:
    """ "And minus thirty", after a number was turned into another unit: that one turned likewise; else None."""
    found, last = _NEXT_ONE.match(plain(text)), state.last
    before = _TURNED.match(last.say) if last is not None and last.kind == "calculation" else None
    if found is None or before is None or state.pending is not None:
        return None
    from cabassist.language.calculation_inputs import read_question

    units = {_said(one): one for one in ("F", "C", *SPOKEN_UNITS)}
    question = read_question(found["amount"])
    unit, into = units.get(before["unit"]), units.get(before["into"])
    if unit is None or into is None or len(question.amounts) != 1 or len(question.words) > 4:
        return None
    amount = question.amounts[0]
    if amount.per or amount.unit not in ("n", "temp", unit):
        return None
    return _turned(state, amount.value, unit, into)


def _said(unit: str) -> str:
    """The unit's name for many."""
    return SPOKEN_UNITS.get(unit, (unit, unit))[1]
