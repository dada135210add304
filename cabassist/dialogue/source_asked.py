"""Where a rule or a figure comes from, asked in a driver's own words: "who says it's got to be like that", "where'd you get eighty percent".

Where water or smoke comes from is another matter, so the question must name a rule or a figure. The last sum answers for its own.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, reckoning, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:ok|okay|so|and|but|well|wait|hey|hm+|huh|yeah|right|no|oh) )*"
_FIGURE = r"(?:numbers?|figures?|rules?|limits?|values?|ratings?|percent|per cent|percentage|tables?|advice|amounts?|steps?|instructions?|procedure|\d+(?:\.\d+)?|ten|fifteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred)"
_WHO_SAYS = Lazy(
    _LEAD
    + r"(?:who|where does it) (?:says?|said|decided|decides|makes? (?:up )?(?:that|this|these|the) rules?)(?: (?:that|so|it|this|i|we|you|they|it's|its|that's|there|the)\b.{0,60}?)?(?: (?:has|have|had|got|gotta|must|needs?|should|can't|cannot|not|like that|like this|that way|this way|so)\b.{0,40})?$"
)
_FROM = Lazy(
    _LEAD
    + rf"where(?:'d|'s|'re|s| did| do| does| are| is)? (?:you |they |we )?(?:get |getting |got |pull |find |take |have )?(?:(?:that|this|those|these|the|your|all) )*(?:[a-z]+ ){{0,2}}?{_FIGURE}(?: [a-z]+){{0,2}}?(?: (?:come|coming|taken|out of|from|rule|in))*$"
)
_OUT = Lazy(r"\b(?:from|out of|you get|you got|you pull|you find|come)\b")
_WHO_HAS = Lazy(r"\b(?:has|have|got|gotta|must|needs?|should|can't|cannot|like that|like this|that way|rules?)\b")


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The source of the last number, else of the walk in hand or the last topic; None for anything else, and in a danger."""
    said = plain(text)
    if not names_any(said, ("who ", "where")) or danger_first.danger(state, mind) is not None:
        return None
    if not ((_WHO_SAYS.match(said) and _WHO_HAS.search(said)) or (_FROM.match(said) and _OUT.search(said))):
        return None
    worked = reckoning.standing(state)
    if worked is not None and worked.estimate is not None and worked.estimate.source:
        note = "Rules change: check that it is current." if "CFR" in worked.estimate.source else "Makers' figures come first."  # fmt: skip
        return walking.control(state, f"From: {worked.estimate.source}. {note}", topic=worked.topic)
    topic = state.walk.topic if state.walk is not None else state.topic
    return walking.source_of(topic, state, mind) if topic is not None and topic in mind.knowledge.ids else None
