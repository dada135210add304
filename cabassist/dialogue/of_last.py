"""What the last number comes to: "so when is that" after hours, "what does that weigh" after gallons."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain

if TYPE_CHECKING:
    from cabassist.sums.working import Worked


def is_trip(worked: Worked) -> bool:
    """Whether the hours worked out are those of a trip, not those that may still be driven."""
    door = worked.estimate is not None and worked.estimate.name == "door to door"
    return door or any((one.name, one.value) == ("ask", "trip") for one in worked.inputs)


_NOW = r"(?: (?:if|when) (?:i|we) (?:start|begin|leave|go|pull out|set off|head out|roll out|roll|plug it in|turn it on)(?: it)?)?(?: (?:right )?(?:now|this minute|straight away))?$"
_WHEN_THERE = Lazy(
    rf"^(?:(?:and|so|ok|okay|then) )*(?:when|what time) (?:are|do|will|would|should|can) (?:we|i|you) (?:be |get |make it |arrive|in|there|pull in| )+{_NOW}"
)
_WHEN_DONE = Lazy(
    rf"^(?:(?:and|so|ok|okay|then) )*(?:when's|when is|when will|what time is|what time will) (?:that|it|this)(?: be)?(?: (?:done|over|full|empty|up|finished|ready|out|gone))?{_NOW}"
)
_WHAT_TIME = Lazy(
    r"^(?:(?:and|so|ok|okay) )*(?:what (?:clock )?time|when|what o'?clock|(?:what|which) day) (?:is|will|would|does) (?:that|it|this)(?: (?:be|make it|happen|come to|then))*$|^(?:(?:and|so|ok|okay) )*(?:when(?:'s| is| would| will) (?:that|it)(?: be)?(?: (?:and |as in |i mean )?(?:what|which) (?:day|time|day and time))?|what day(?:'s| is| would) (?:that|it)(?: be)?)$|^(?:(?:and|so|ok|okay) )*(?:what time|when) (?:does|will|would) (?:that|it|this) (?:get|put|bring|have|land) us (?:in|there|home|back|at the \w+)$|^(?:(?:and|so) )*by what (?:clock )?time(?: is that)?$"
)
_WEIGHT = r"(?:weight|pounds|lbs?|kilos|kilograms|kg)"
_IT = r"(?:that|it|this|those|all (?:of )?(?:that|it|this)|(?:that|the|all that|all the|so) (?:much )?(?:water|fuel|diesel|much|lot|load|amount)(?: water)?)"
_WEIGHS = Lazy(
    r"^(?:(?:and|so|ok|okay|but|well|now|then|wait|hey) )*(?:"
    rf"(?:what|how much)(?:'s|'d|'ll| does| do| would| will| is| did)? {_IT}(?: (?:much|water|all))? (?:weigh|weighing|come to in weight)|how heavy(?:'s|'d| is| are| would| will)? {_IT}(?: be)?"
    rf"|(?:what|how much|how many)(?:'s| is| would| does)? (?:that|it|this)(?: (?:be|come to|make))? in {_WEIGHT}|(?:what about |how about |give me |put it )?in {_WEIGHT}|how many (?:pounds|lbs?|kilos|kilograms|kg)(?:'s| is| are| would| does)? (?:that|it|this|those)(?: (?:be|weigh|come to|make))?"
    rf"|(?:(?:what|what's|what is|and|give me) )*(?:the|its) weight(?: of {_IT}| then)?|(?:what|how much) weight (?:is|are|would) (?:that|it|this)(?: be)?)(?: (?:then|all|altogether|in total|roughly|about|in {_WEIGHT}))*$"
)
_KILOS = Lazy(r"\b(?:kilos|kilograms|kg)\b")
_TOLD_TIME = Lazy(r"\b\d{1,2}:\d\d\b")
_HOURS = {"h": 1.0, "min": 1 / 60, "s": 1 / 3600, "day": 24.0, "days": 24.0, "hours": 1.0, "minutes": 1 / 60}


def asks_when(worked: Worked, text: str) -> bool:
    """Whether a text asks at what time the number of hours told is over."""
    said = plain(text)
    if is_trip(worked) and _WHEN_THERE.match(said):
        return True
    return _WHAT_TIME.match(bare(text)) is not None or _WHEN_DONE.match(said) is not None


def of_last(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """What the last number comes to: "what time is that" after hours, "what does that weigh" after gallons; else None."""
    worked = reckoning.standing(state)
    if worked is None or worked.estimate is None or state.last is None or worked.estimate.value is None:
        return None
    if state.last.kind == "reading":
        return None  # what was told is meant
    estimate = worked.estimate
    value = worked.estimate.value
    when = asks_when(worked, text)
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
    if _WEIGHS.match(plain(text)) and estimate.unit in ("gal", "L"):
        from cabassist.sums.working import work_out

        thing = (
            "diesel" if "diesel" in worked.calculation else "propane" if "propane" in worked.calculation else "water"
        )
        asked = f"how much do {value:.6g} {'gallons' if estimate.unit == 'gal' else 'liters'} of {thing} weigh"
        if _KILOS.search(plain(text)):
            asked = f"{asked} in kilograms"
        found = work_out(asked, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
        if found is not None and found.estimate is not None:
            return reckoning.answer(state, found, asked, ranking, mind)
    return None
