"""What the last number comes to: "so when is that" after hours, "what does that weigh" after gallons."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain

if TYPE_CHECKING:
    from cabassist.sums.working import Worked


def is_trip(worked: Worked) -> bool:
    """Whether the hours worked out are those of a trip, not those that may still be driven."""
    return any((one.name, one.value) == ("ask", "trip") for one in worked.inputs)


_NOW = r"(?: (?:if|when) (?:i|we) (?:start|begin|leave|go|pull out|set off|head out|roll out|roll|plug it in|turn it on)(?: it)?)?(?: (?:right )?(?:now|this minute|straight away))?$"
_WHEN_THERE = re.compile(
    rf"^(?:(?:and|so|ok|okay|then) )*(?:when|what time) (?:are|do|will|would|should|can) (?:we|i|you) (?:be |get |make it |arrive|in|there|pull in| )+{_NOW}"
)
_WHEN_DONE = re.compile(
    rf"^(?:(?:and|so|ok|okay|then) )*(?:when's|when is|when will|what time is|what time will) (?:that|it|this)(?: be)?(?: (?:done|over|full|empty|up|finished|ready|out|gone))?{_NOW}"
)
_WHAT_TIME = re.compile(
    r"^(?:(?:and|so|ok|okay) )*(?:what (?:clock )?time|when|what o'?clock) (?:is|will|would|does) (?:that|it|this)(?: (?:be|make it|happen|come to|then))*$|^(?:(?:and|so) )*when's that$|^(?:(?:and|so|ok|okay) )*(?:what time|when) (?:does|will|would) (?:that|it|this) (?:get|put|bring|have|land) us (?:in|there|home|back|at the \w+)$|^(?:(?:and|so) )*by what (?:clock )?time(?: is that)?$"
)
_WEIGHS = re.compile(
    r"^(?:(?:and|so|ok|okay) )*(?:what|how much) (?:does|do|would|will) (?:that|it|this|those)(?: (?:much|water|all))? weigh$|^(?:(?:and|so) )*how heavy (?:is|are) (?:that|it|this|those)$|^(?:(?:and|so) )*(?:what|how much) is (?:that|it|this) in (?:weight|pounds|lbs?|kilos|kg)$"
)
_TOLD_TIME = re.compile(r"\b\d{1,2}:\d\d\b")
_HOURS = {"h": 1.0, "min": 1 / 60, "s": 1 / 3600, "day": 24.0, "days": 24.0, "hours": 1.0, "minutes": 1 / 60}


def of_last(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """What the last number comes to: "what time is that" after hours, "what does that weigh" after gallons; else None."""
    worked, short = state.worked, bare(text)
    if worked is None or worked.estimate is None or state.last is None or worked.estimate.value is None:
        return None
    if state.last.kind not in ("calculation", "control"):
        return None
    estimate = worked.estimate
    value = worked.estimate.value
    when = (
        _WHAT_TIME.match(short) or _WHEN_DONE.match(plain(text)) or (is_trip(worked) and _WHEN_THERE.match(plain(text)))
    )
    if when and is_trip(worked) and _TOLD_TIME.search(estimate.verdict):  # by when it leaves, not from now
        timed = replace(estimate, value=None, low=None, high=None)
        say = estimate.verdict
        return Outcome(
            state,
            replace(state.last, kind="calculation", say=say, show=(say,), estimate=timed, readings=(), withdrawn=()),
        )
    if when and estimate.unit in _HOURS:
        from cabassist.estimate.clock import clock

        line = f"That is at {clock(now, value * _HOURS[estimate.unit])}."
        timed = replace(estimate, verdict=line)
        reply = replace(
            state.last, kind="calculation", say=line, show=(line,), estimate=timed, readings=(), withdrawn=()
        )
        return Outcome(state, reply)
    if _WEIGHS.match(short) and estimate.unit in ("gal", "L"):
        from cabassist.sums.working import work_out

        thing = (
            "diesel" if "diesel" in worked.calculation else "propane" if "propane" in worked.calculation else "water"
        )
        asked = f"how much do {value:.6g} {'gallons' if estimate.unit == 'gal' else 'liters'} of {thing} weigh"
        found = work_out(asked, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
        if found is not None and found.estimate is not None:
            return reckoning.answer(state, found, asked, ranking, mind)
    return None
