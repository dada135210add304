"""Which calculation a question asks for: cue words over its frame first, what the matcher thinks second.

Each calculation has cues with weights. They are added up; a hint of the matcher adds a little. Below `ENOUGH` the
text is no question for a calculation.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from cabassist.language.calculation_inputs import Question, asked_unit, compiled
from cabassist.language.calculation_units import same_kind
from cabassist.language.wanted import bare_unit
from cabassist.sums.working_cues import CUES, MUSTS, NUMBERLESS, YES_OR_NO, expanded

ENOUGH = 3.0
HINT_WEIGHT = 2.0
LEAN = 1.5
"""With a hint of one half or more, this much from the cues is enough."""

_ASKED = re.compile(
    r"\b(?:how|hom|what|whats|wat|when|wen|which|wich|where|who|will|would|can|could|does|do|did|should|am|work out|calculate|figure out|convert|verdict"
    r"|tell me|give me|set me|add up|run me|reckon|equals?|versus|vs|howmany)\b"
    r"|^ (?:so |and |okay |but )?(?:is|enough|are|was|were|am|would|max|maximum|longest|minutes|hours|days|pounds|gallons|watts|amps|feet|miles|total|percent|range|weight|wieght|days|latest|bleach|dose)\b|[?]"
    r"|^ (?:\S+ ){0,3}(?:torque|distances?|time|spacing|capacity|drop|rating|loss|demand|limit|state of charge|days left|hours left|risk|dose) (?! at)"
    r"|^ (?:we |i )?need(?:s)? to (?:put|charge|replace)\b|\bput back <"
    r"|\b(?:hours|minutes|days|time) (?:to|until|till|left)\b|\bbetween us\b|\ball driving except\b"
    r"|<(?:psi|bar|kPa)> at <(?:F|C|temp|n)>.* (?:at|now|now it|it) <(?:F|C|temp)>"
    r"|\b(?:is|are) (?:it|that|the|a|an|we|this|there|my|our|under|over)\b|\b(?:right|okay|ok|safe|legal|fine|pass|fail|allowed|enough|due|good|over)(?: or \w+)? $"
)
"""Words that make a question. Without any, the cues must be strong and the text no statement."""
_STATED = re.compile(
    r"\b(?:is|was|are|were|at|reads?|reading|shows?|have|has|got|now|down|up|looks|sits|sitting|showing|on|about|around|roughly|note|log|put)\b"
)
_STRONG = 4.5
_SURE_HINT = 0.5
_DOUBT, _DESPITE = 0.05, 5.0
"""When no hint is likelier than the first, the cues must reach the second, with amounts in the text."""


@cache
def _pattern(written: str) -> re.Pattern[str]:
    """A pattern of the cues, made when it is first needed: compiling them all takes longer than an answer."""
    return compiled(expanded(written))


def scores(question: Question, hints: Mapping[str, float] = {}) -> dict[str, float]:
    """What the cues say for each calculation that can be meant; a sure hint stands in for what must be said."""
    found: dict[str, float] = {}
    frame = question.frame
    numeric = _pattern(NUMBERLESS).search(frame) is not None
    for name, cues in CUES.items():
        if hints.get(name, 0.0) < _SURE_HINT and not (
            (numeric or name in YES_OR_NO) and all(_pattern(must).search(frame) for must in MUSTS[name])
        ):
            continue
        found[name] = sum(weight for weight, cue in cues if _pattern(cue).search(frame))
    return found


def chosen(question: Question, hints: Sequence[tuple[str, float]]) -> str | None:
    """The calculation asked for, or None."""
    if doubted(hints) and not any(a.unit != "n" for a in question.amounts):
        return None
    hint = {name: chance for name, chance in hints if name in CUES}
    by_cue = scores(question, hint)
    if "unit-conversion" in by_cue and _converts(question):
        by_cue["unit-conversion"] += 5.0
    if not by_cue:
        return None
    total = {name: score + HINT_WEIGHT * hint.get(name, 0.0) for name, score in by_cue.items()}
    best = max(total, key=total.__getitem__)
    if hint.get(best, 0.0) >= _SURE_HINT:
        return best if by_cue[best] >= LEAN else None
    if doubted(hints):
        amounts = sum(a.unit != "n" for a in question.amounts)
        enough = by_cue[best] >= _DESPITE - min(2, max(0, amounts - 1))
        return best if enough and amounts and asks_something(question) else None
    needed = ENOUGH
    if not asks_something(question) and not (best == "unit-conversion" and _converts(question)):
        needed = _STRONG if not _STATED.search(question.frame.replace(" at <", " <")) else 99.0
    return best if by_cue[best] >= needed else None


def doubted(hints: Sequence[tuple[str, float]]) -> bool:
    """Whether the matcher thinks that the text asks for no calculation."""
    return bool(hints) and max(chance for _, chance in hints) < _DOUBT


def _converts(question: Question) -> bool:
    """Whether it asks for one amount in another unit of the same kind."""
    wanted = asked_unit(question)
    measured = [a for a in question.amounts if a.unit not in ("n", "part", "percent", "people")]
    if not wanted or len(measured) > 1 or (not measured and len(question.amounts) != 1):
        return False
    if not measured:
        return question.has(r"\bto\b") and not question.has(r"\b(?:from|fill|full)\b")
    tag = (
        measured[0].tag.replace("gal/min", "gpm").replace("mi/h", "mph").replace("temp", "F" if wanted == "C" else "C")
    )
    return tag != wanted and same_kind(tag, wanted)


def asks_something(question: Question) -> bool:
    """Whether the text has the shape of a question."""
    return _ASKED.search(question.frame) is not None or "?" in question.text or bool(bare_unit(question)[0])
