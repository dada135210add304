"""The yes or no of a sum over water: whether it lasts, or whether what nobody wants comes before."""

from __future__ import annotations

import re

from cabassist.estimate.quantities import duration
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told, at_clock, today_at

FEARED = Lazy(
    r"\b(?:do|will|would|does|are|is|am) (?:we|i|it|she|he|they|you|(?:the|our|my) \w+(?: tank)?)(?: going to)? (?:run(?:ning)? (?:dry|out|short|low)|be (?:dry|empty|out)|go dry|overflow|fill up|be full|full|empty|dry)\b"
    r"|(?<!not )(?<!never )\bgoing to (?:run (?:dry|out|short|low)|be (?:dry|empty|out|short)|go (?:dry|over(?! to\b))|overflow|spill)\b"
    r"|(?:^|[.,;?] )(?:so |will it be |and )?(?:full|dry|empty|overflowing) before (?:we|i|it|the|then|that)\b"
)
"""Asks whether what nobody wants comes before: the yes and the no change places."""
_ASKED_OF = r"\b(?:will|would|does|do|is|are|am|can|could|has|have|gonna)\b(?:(?!\b(?:last|lasts|hold|make|stays?|still|enough|keep|cover|ok|okay|good|fine|safe|alright|not|never|without|how|when|what|or|fits?)\b)(?:[^,.?<]|<(?:gal|L)> (?=(?:\w+ )?tank))){0,40}?"
_THE_AMOUNT = r" (?:(?:the|about|our|my|a) ){0,2}<(?:gal|L|percent|part|in|n)>"
_RISEN = Lazy(
    rf"{_ASKED_OF}\b(?:overflow\w*|spill\w*|(?:run(?:ning)?|go(?:es)?) over(?! to\b)|(?:reach\w*|hits?|pass(?:es)?|past|over|above|beyond|be at|gets? to|up to){_THE_AMOUNT})"
)
_FALLEN = Lazy(
    rf"{_ASKED_OF}\b(?:run (?:out|dry|short)|be (?:out|dry|gone|short)|(?:reach\w*|hits?|under|below|down to|be at|gets? to){_THE_AMOUNT})"
)
_TOO_MUCH = Lazy(r"\b(?:is|are|was|be) (?:\w+ ){0,3}?too (?:much|many|long)\b")
_LEFT_ON = Lazy(
    r"\bleave (?:it|her|the \w+)(?: \w+)? on\b|\bwalk away\b|\bwill (?:it|that|the \w+) (?:hold|fit)\b|\broom for\b"
)
_WITHOUT = Lazy(r"\bwithout (?:\w+ ){0,2}?(?:overflow\w*|spill\w*|running over|going over)\b")


def asks_end(question: Question, rising: bool) -> bool:
    """Whether it is asked if a tank comes so far: that it overflows, passes a limit, runs dry; not if it lasts, or stays under it."""
    found = (pattern.search(question.frame) for pattern in (FEARED, _TOO_MUCH, _RISEN if rising else _FALLEN))
    return any(one is not None and not question.frame[: one.start()].endswith(" or ") for one in found)


def verdict_of(question: Question, enough: bool, hours: float, needed: float, filling: bool, feared: bool = False) -> str:  # fmt: skip
    """The yes or no, with both times."""
    times = f"{duration(hours)} against {duration(needed)}"
    if not filling and (feared or asks_end(question, False)):
        return f"{'No, it lasts' if enough else 'Yes, it does not last'}: {times}."
    return f"{'Yes, it lasts' if enough and not filling else 'Yes' if enough else 'No'}: {times}."


def verdict_at(t: Told, enough: bool, hours: float, needed: float, filling: bool, waste: bool) -> str:
    """The yes or no, with the time of day at which it is full or over."""
    start, frame = t.value("now") if t.has("now") else None, t.question.frame
    left_on = _LEFT_ON.search(frame) and not (asks_end(t.question, True) or re.search(r"\b(?:full|done)\b", frame))
    if filling and (_WITHOUT.search(frame) or left_on):
        enough = not enough  # whether a hose may be on so long
    verdict = verdict_of(t.question, enough, hours, needed, filling, asks_end(t.question, waste))
    if filling and start is not None:
        return f"{verdict} Done at {_clock(start + hours)}."
    if t.want.kind != "time" or not t.want.clock:
        return verdict
    return f"{verdict} {at_clock(today_at(t.now, start), hours)}"


def _clock(hour: float) -> str:
    minutes = round(hour * 60) % (24 * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"
