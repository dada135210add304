"""Asked in passing whether something stands on record: "did you get the wipers too", "is there anything about the toilet"."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.record.defects import all_defects, open_defects, which

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|alright|now|hey|wait|well|oh|yeah|good|also|by the way|then) )*"
_THING = r"(?:the |my |our |that |this )?(?P<what>(?!it\b|that\b|this\b|them\b|all\b|me\b|you\b)[a-z][\w'-]*(?: (?!too\b|as\b|down\b|in\b|on\b|logged\b|noted\b|already\b|yet\b|also\b)[\w'-]+){0,3}?)"
_END = r"(?: (?:too|as well|also|already|yet|down|in|then|now|there|logged|noted|written down|on (?:the|your) list|on record|in the (?:log|book|report|record)))*$"
_KEPT = Lazy(
    _LEAD
    + rf"(?:did|have|do) (?:you|we) (?:also )?(?:get|got|log|logged|note|noted|keep|kept|record|recorded|catch|write|put|have|take|hear)(?: (?:down|in))? {_THING}{_END}"
)
"""Whether what was reported was kept."""
_LISTED = Lazy(
    _LEAD
    + rf"(?:is|are|was|were|has|have) {_THING} (?:(?:been|also|already) )*(?:on (?:the|your|my) (?:list|record|log|sheet)|on record|in (?:the|your) (?:log|book|report|record|records|defects|list)|logged|noted|written (?:down|up)|recorded|reported|put down|listed)(?: (?:too|as well|also|already|yet|now))*$"
)
_ANYTHING = Lazy(
    _LEAD
    + rf"(?:(?:is|was) there |have (?:you|we) (?:got )?|do (?:you|we) have |did (?:he|she|they|anyone|anybody|somebody|the (?:other|last) (?:driver|crew)) (?:\w+ ){{1,2}}?|you got |got )?(?P<any>anything|any (?:defects?|faults?|notes?|reports?|trouble|problems?|word|entry|entries)|something) (?P<on>(?:(?:logged|noted|reported|written(?: down)?|recorded|known|open|on record|in the (?:log|book|record|records|report)|on the list|wrong|said|down|left|still) )*)(?:about|on|with|for|of|regarding|concerning) {_THING}{_END}"
)
_RECORD = Lazy(
    r"\b(?:log\w*|noted?|notes|report\w*|written|record\w*|book|list|defects?|faults?|entry|entries|open|said|say|mention\w*|wr(?:i|o)te)\b"
)
_OF_RECORD = frozenset({"hand-over-coach", "post-trip-report", "report-a-defect"})
"""Walks in which "anything about the toilet" asks for what was written down."""
_MOST = 3


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The defects on record that the words name, or that there are none; None when the record is not asked."""
    said = plain(text)
    kept = _KEPT.match(said) or _LISTED.match(said)
    found = kept or _ANYTHING.match(said)
    if found is None or (level := telling.named_in(found["what"])) is not None and kept is None:
        return None
    about = state.walk is not None and state.walk.topic in _OF_RECORD
    about = about or (state.last is not None and state.last.kind == "defect")
    named = which(found["what"], open_defects(state.record)) or which(found["what"], all_defects(state.record))
    if level is not None and not named:
        return telling.read_back(level, state, mind, now)
    if not ((about and kept is None) or _RECORD.search(said) or (kept is not None and named)):
        return None
    if not named:
        still = open_defects(state.record)
        first = f"No defect on record names the {found['what']}."
        rest = tuple(f"Open: {defect.words()}." for defect in still)
        spoken = (first, *rest) if len(rest) <= _MOST else (first, f"{len(rest)} others are open, on the screen.")
        return walking.control(state, " ".join(spoken), lines=(first, *rest))
    lines = tuple(f"Defect {defect.words()}: {defect.state}, by {defect.stages[-1].by}." for defect in named[:_MOST])
    return walking.control(state, " ".join(("Yes.", *lines)), lines=("Yes.", *lines))
