"""Hours driven and on duty told in few words: "four driven, nine on duty", and one of them changed: "if I'd already driven seven".

Both together ask for what is left, whatever the order. One alone changes the last sum of that kind, and says nothing without it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, put_plainly
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number

CALCULATION = "driving-hours"
TOPIC = "plan-driving-hours"
MAX_WORDS = 20
_CUES = ("driv", "drove", "wheel", "duty", "clock", "shift", " on ")
_WORD = "|".join(sorted(NUMBER_WORDS - {"thousand", "million", "k", "hundred", "dozen"}))
_NUMBER = rf"(?:\d{{1,2}}(?:\.\d+)?|(?:{_WORD})(?: (?:{_WORD}))?(?: and a (?:half|quarter))?|an)"
_H = r"(?: (?:hours?|hrs?|h)(?! off))?"
_BE = r"(?:(?:'s|'d|'ve| is| was| still| really| actually| now| been| for| about| stays| like| at| only| just| already| today| so far| should be| should have been| would be| comes to| hours?| time| were) ?)*"
_DROVE = r"(?:driven|drove|driving|drive time|wheel time|behind the wheel|at the wheel)"
_ON = r"(?:on (?:duty|the clock|shift|the job)|duty|shift|been on|worked)"
_LINK = r"(?: (?:and|but|i've|i|been|with|have|then|my|so|the))*"
_PAIRS = tuple(
    Lazy(rf"\b{pattern}(?![\w'])")
    for pattern in (
        rf"{_DROVE}{_BE} (?P<driven>{_NUMBER}){_H}{_LINK} (?:{_ON}|on for){_BE} (?P<duty>{_NUMBER}){_H}",
        rf"(?:{_ON}|on for){_BE} (?P<duty>{_NUMBER}){_H}{_LINK} {_DROVE}{_BE} (?P<driven>{_NUMBER}){_H}",
        rf"(?P<driven>{_NUMBER}){_H} (?:of )?{_DROVE}{_LINK} (?P<duty>{_NUMBER}){_H} (?:been )?on(?: (?:duty|the clock|shift|the job))?",
        rf"(?P<duty>{_NUMBER}){_H} (?:been )?on(?: (?:duty|the clock|shift|the job))?{_LINK} (?P<driven>{_NUMBER}){_H} (?:of )?{_DROVE}",
        rf"(?P<driven>{_NUMBER}){_H} (?:of )?{_DROVE}{_LINK} {_ON}{_BE} (?P<duty>{_NUMBER}){_H}",
        rf"(?:{_ON}|on for){_BE} (?P<duty>{_NUMBER}){_H}{_LINK} (?P<driven>{_NUMBER}){_H} (?:of )?{_DROVE}",
        rf"{_DROVE}{_BE} (?P<driven>{_NUMBER}){_H}{_LINK} (?P<duty>{_NUMBER}){_H} (?:been )?on(?: (?:duty|the clock|shift|the job))?",
    )
)
"""Both, each with its name before it or each with its name behind: whichever begins first."""
_DRIVEN = Lazy(rf"\b(?:{_DROVE}{_BE} (?P<a>{_NUMBER}){_H}|(?P<b>{_NUMBER}){_H} (?:of )?{_DROVE})(?![\w'])")
_DUTY = Lazy(
    rf"\b(?:{_ON}{_BE} (?P<a>{_NUMBER}){_H}|on for {_BE}(?P<c>{_NUMBER}){_H}|(?P<b>{_NUMBER}){_H} (?:been )?on(?: (?:duty|the clock|shift|the job))?)(?![\w'])"
)
_SMALL = frozenset(
    "ok okay fine so and but yeah yes no i i've i'm i'd we we've have had has still now so far today in total that's that's with my the it it's say said right well actually really what if was were already only then altogether all up been be of sorry wait oops make made it's just about is for me he he's she they suppose let's like hang wrong meant mean should would hours hour duty".split()
)
_SUPPOSES = Lazy(
    r"\b(?:if|say|suppose|make|actually|really|sorry|wrong|meant|mean|should|would|wait|oops|instead|what about|how about|with)\b|^(?:and|no)\b"
)
_MOST_H = 30.0


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The hours left by what was told; None where hours are told of something else, or one alone without a sum that it changes."""
    said = plain(text)
    if state.pending is not None or len(said.split()) > MAX_WORDS or not names_any(f" {said} ", _CUES):
        return None
    driven, duty, rest = _hours(said)
    if (driven is None and duty is None) or any(word not in _SMALL for word in rest.split()):
        return None
    before = _before(state)
    if driven is None or duty is None:
        summed = state.last is not None and state.last.kind == "calculation"
        if before is None or not (summed or _SUPPOSES.search(said)):
            return None
        driven, duty = (before[0] if driven is None else driven), (before[1] if duty is None else duty)
    if not 0 <= driven <= _MOST_H or not 0 <= duty <= _MOST_H:
        return None
    if driven > duty:
        return _cannot(state, driven, duty)
    question = f"how long can I drive, {driven:g} hours driven and {duty:g} hours on duty"
    freed = replace(state, asking=None) if state.asking is not None and state.asking.what == "choice" else state
    return put_plainly.worked_for(freed, question, CALCULATION, mind, now)


def _hours(said: str) -> tuple[float | None, float | None, str]:
    """The hours driven and on duty that a text tells, and what else it says."""
    pairs = [found for pattern in _PAIRS if (found := pattern.search(said)) is not None]
    if pairs:
        first = min(pairs, key=lambda found: found.start())
        return _number(first["driven"]), _number(first["duty"]), f"{said[: first.start()]} {said[first.end() :]}"
    for pattern, driven in ((_DRIVEN, True), (_DUTY, False)):
        one = pattern.search(said)
        if one is not None:
            hours = _number(next(part for part in one.groups() if part))
            rest = f"{said[: one.start()]} {said[one.end() :]}"
            return (hours, None, rest) if driven else (None, hours, rest)
    return None, None, said


def _number(said: str) -> float | None:
    return 1.0 if said == "an" else parse_number(said)


def _before(state: State) -> tuple[float, float] | None:
    """The hours of the last sum of this kind, while it may be spoken of: it is the last number told."""
    worked = state.given[-1].worked if state.given else None
    if worked is None or worked.calculation != CALCULATION or state.worked is not worked:
        return None
    hours = {one.name: one.value for one in worked.inputs if not isinstance(one.value, str)}
    if set(hours) != {"driven", "duty"}:
        return None  # of two drivers, of a week
    return hours["driven"], hours["duty"]


def _cannot(state: State, driven: float, duty: float) -> Outcome:
    """Driving is on duty too: the hours are asked once more."""
    line = f"{driven:g} hours driven of {duty:g} on duty can't be: driving counts as on duty. Tell me both hours again."
    step = phrases.mark(state.walk) if state.walk is not None else None
    return Outcome(state, Reply("clarify", line, (line,), topic=TOPIC, confidence=0.5, step=step))
