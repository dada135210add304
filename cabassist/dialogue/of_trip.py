"""A trip or a range just worked out, asked on: "leaving half past seven tonight, when do we roll in", "next stop's 340 miles, how much will that burn"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import worked_anew
from cabassist.dialogue.of_last import asks_when, is_trip
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking

_LEAVE = r"(?:leav(?:e|es|ing)|depart(?:s|ing)?|set(?:ting)? (?:off|out)|head(?:ing)? out|pull(?:ing)? out|roll(?:ing)? (?:out|off)|start(?:ing)?(?: out| off)?|go(?:ing)?|get(?:ting)? (?:going|away|off))"
_ARRIVE = r"(?:when|what time)(?:'s| is| are| do| does| will| would| should| can|'ll|'d)?(?: (?:we|i|us|the coach|that (?:put|get|bring|have|land)))*(?: (?:be|get|roll|pull|come|make|arrive|land|hit|reach|there|in|it|to|us|the|rink|hotel|arena|home|town|back|gonna|going))+"
_LEAVES_WHEN = Lazy(rf"\b{_LEAVE}\b.*\b{_ARRIVE}$|\b{_ARRIVE} (?:if|when) (?:we|i) .*\b{_LEAVE}\b.*$|^(?:(?:and|so|ok|okay|say) )*(?:if|when) (?:we|i) {_LEAVE}\b[^?]*\b(?:when|what time)$")  # fmt: skip
_MILES_BURN = Lazy(
    r"\b(?:how (?:much|many gallons)|what)(?: (?:fuel|diesel))?(?:'s| is| does| do| will| would|'ll)?(?: (?:that|it|we|i|she|this))?(?: (?:gonna|going to|have to|need to))? (?:burn|use|take|need|cost me in (?:fuel|diesel)|eat|go through|drink)\b"
)
_MPG = re.compile(r"([\d.]+) (?:mpg|mi/gal)\b")


def asked(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """When a trip told gets there that leaves at an hour, or what so many miles burn at the mileage told; else None."""
    worked = reckoning.standing(state)
    if worked is None or worked.estimate is None or worked.estimate.value is None:
        return None
    if is_trip(worked):
        if _LEAVES_WHEN.search(said):
            return _arrives(state, text)
        left = [float(one.value) for known in (worked, state.earlier) if known for one in known.inputs if one.name == _LEAVES and not isinstance(one.value, str)]  # fmt: skip
        return _there(state, left[0]) if left and asks_when(worked, text) else None
    if worked.calculation == "diesel-range" and _MILES_BURN.search(said):
        return _burns(state, text, ranking, mind, now)
    return None


_LEAVES = "leaves"


def _arrives(state: State, text: str) -> Outcome | None:
    """The hour of arrival, for the hour of leaving that a text tells."""
    from cabassist.language.calculation_inputs import read_question

    amounts = read_question(text).amounts
    if len(amounts) != 1 or amounts[0].unit != "clock" or amounts[0].pieces:
        return None  # or it may be in the morning or in the evening
    return _there(state, amounts[0].value)


def _there(state: State, start: float) -> Outcome | None:
    """The hour of arrival, with the hours of the trip told before."""
    from cabassist.sums.working_sheet import Input

    worked, last = state.worked, state.last
    if worked is None or worked.estimate is None or last is None:
        return None
    hours = worked.estimate.value
    if hours is None or worked.estimate.unit not in _HOURS:
        return None
    leaves = datetime(2000, 1, 1) + timedelta(hours=start)
    there = leaves + timedelta(hours=hours * _HOURS[worked.estimate.unit])
    later = (there.date() - leaves.date()).days
    day = "" if not later else ", the next day" if later == 1 else f", {later} days later"
    line = f"Leaving at {leaves:%H:%M}, there at about {there:%H:%M}{day}."
    timed = replace(worked.estimate, verdict=line)
    reply = replace(last, kind="calculation", say=line, show=(line,), topic=worked.topic, options=(), nearest=(), readings=(), withdrawn=(), estimate=timed)  # fmt: skip
    inputs = (*(one for one in worked.inputs if one.name != _LEAVES), Input(_LEAVES, start, "clock"))
    known = replace(worked, estimate=timed, inputs=inputs)
    return Outcome(replace(state, asking=None, worked=known), reply)


_HOURS = {"h": 1.0, "min": 1 / 60}


def _burns(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """What a distance burns at the mileage that the range was worked out with."""
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question

    worked, amounts = state.worked, read_question(text).amounts
    if worked is None or worked.estimate is None or [one.unit for one in amounts] != ["mi"] or amounts[0].per:
        return None
    told = [float(one.value) for one in worked.inputs if one.name == "economy" and not isinstance(one.value, str)]
    shown = [float(found) for line in worked.estimate.working for found in _MPG.findall(line)]
    mileage = next(iter([*shown[-1:], *told]), 0.0)
    if not mileage:
        return None
    whole = f"{amounts[0].value:g} miles at {mileage:g} miles per gallon, how many gallons"
    again = worked_anew(whole, state, mind, now)
    if again is None or again.estimate is None or again.estimate.unit != "gal" or not uses(again, amounts[0].value):
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


__all__ = ["asked"]
