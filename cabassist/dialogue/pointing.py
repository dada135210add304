"""Questions that point at what was spoken of before: "what do I do about it", "how do you oil it"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.reading_types import Reading
from cabassist.language.routing import Decision
from cabassist.record.defects import all_defects

SURE = 0.6
"""Probability from which on a question with what it points at names a procedure."""
MAX_WORDS = 9
LATELY = timedelta(minutes=10)
_JUDGES = Lazy(
    r"^(?:(?:so|and|ok|okay|well|but) )*(?:is|was|isn't|would) (?:that|it|this) (?:be )?(?:a lot|bad|good|okay|ok|fine|all right|alright|high|low|enough|normal|safe|legal|a problem|any good|serious|dangerous|too (?:much|low|high|little|cold|hot)|not (?:much|enough|bad)|a worry|something to worry about)(?: (?:or not|then|now|for (?:a|this|us|the) \w+))*$"
)
_REMEDY = Lazy(
    r"^(?:(?:then|well|so|and|but|god|jeez|damn|great) )*(?:what (?:do|should|can|shall|would|could) (?:i|we|you) do (?:about|with|for|to fix) (?:it|that|this|them)(?: (?:now|then))?"
    r"|what (?:do|should|can|shall) (?:i|we) do(?: (?:now|then|next))?|how (?:do|can|should|would) (?:i|we|you) (?:fix|sort|solve|handle|deal with|cure|mend|change|get around|raise|lower|bring (?:up|down)) (?:it|that|this)(?: (?:up|down|out|now))?"
    r"|what(?:'s| is) the (?:fix|remedy|cure|next move|plan)(?: (?:for|with) (?:it|that|this))?|(?:walk|take|run|talk) me through (?:it|that|this|fixing it)|help me (?:with|fix|sort) (?:it|that|this)(?: out)?|(?:can you )?help(?: me)? with (?:that|it)"
    r"|what (?:am i|are we) supposed to do(?: (?:about|with) (?:it|that|this))?|now what do (?:i|we) do|so now what|what now then)$"
)
_INSTEAD = Lazy(
    r"^(?:(?:then|well|so|and|but|fine|great) )*(?:what (?:do|should|can|could) (?:i|we) do instead|what else (?:can|could|should) (?:i|we) do|(?:what(?:'s| is)|show me|tell me|give me) (?:the )?(?:proper|right|correct|safe|legal|better|other|approved) way(?: (?:then|to do (?:it|that)))?"
    r"|how (?:should|do|can) (?:i|we) do (?:it|that)(?: (?:then|properly|right|safely|legally|instead))*|what(?:'s| is) the alternative|how then|how else)$"
)
"""After a no: asks for the right way."""
_POINTS = re.compile(r"\b(?:it|that|this|them|these|those|there)\b")
_ASKS = re.compile(
    r"^(?:how (?:do|can|should|would|does|to)|where (?:do|can|should|is|are|would)|what (?:do|does|if|about|tool|size|kind)|can|do|should|is|show me|walk me|take me|help me|i need to|i want to|we need to|let's|fix|oil|open|close|clean|fill|drain|empty|check|test|change|move|lift|tighten|thaw|unplug|plug)\b"
)
_REMEDIES: dict[str, str] = {
    "waste": "dump-waste-tank",
    "fresh": "fill-fresh-water",
    "propane": "swap-or-refill-cylinder",
    "house_battery": "house-battery-low",
    "tire_pressure": "check-tires",
    "air_pressure": "check-air-brakes",
    "shore_voltage": "no-shore-power",
    "outside_temp": "protect-water-from-freezing",
    "inside_temp": "keep-cabin-warm",
    "diesel": "check-fluids",
    "def": "check-fluids",
    "generator_hours": "look-after-generator",
}
"""What is done about a level of that kind."""


def remedy_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "What do I do about it" after a reading or a number: the procedure that mends it opens; None when nothing of the kind was told.

    In a walk the question is about the step in hand, unless a reading was the last thing told.
    """
    last, walk = state.last, state.walk
    offered = state.asking is not None and len(state.asking.options) == 1 and walk is None
    refused = last is not None and (last.kind == "refuse" or (last.kind == "control" and offered))
    if last is not None and refused and last.topic and (_REMEDY.match(bare(text)) or _INSTEAD.match(bare(text))):
        if walk is not None:
            return walking.move_to(walk.at, state, mind, now, "same")
        return walking.open_walk(last.topic, state, mind, now, last.confidence, text)
    if last is None or not _REMEDY.match(bare(text)):
        return None
    if last.kind == "procedure" and walk is not None and walk.topic == last.topic and walk.at == 0:
        return Outcome(state, phrases.opening(mind.knowledge.procedure(walk.topic), walk, mind, last.confidence))
    topic = last.topic if last.topic in mind.knowledge.ids else None
    if last.kind == "reading":
        topic = _remedy(state.told) or topic
    elif last.kind == "calculation" and topic is None and _fresh(state, now):
        topic = _remedy(state.told)
    elif last.kind == "calculation" and topic is not None:
        topic = _remedy(state.told) if _checks(topic) and state.told else topic
    elif last.kind in ("clarify", "unknown") and _fresh(state, now):
        topic = _remedy(state.told)
    elif last.kind != "control" or state.walk is not None:
        return None
    if topic is None or topic not in mind.knowledge.ids or (state.walk is not None and state.walk.topic == topic):
        return None
    return walking.open_walk(topic, state, mind, now, 0.8, text)


def _fresh(state: State, now: datetime) -> bool:
    """Whether a reading was told so lately that the talk is still about it."""
    return bool(state.told) and bool(state.stored) and now - state.stored[-1].at < LATELY


def judged_told(state: State, text: str) -> Outcome | None:
    """ "Is that bad", after a reading or a number: what was said of it, once more with how it came about; else None."""
    last, worked = state.last, state.worked
    if last is None or worked is None or worked.estimate is None or not _JUDGES.match(bare(text)):
        return None
    if last.kind == "calculation":
        estimate = last.estimate or worked.estimate
    elif last.kind == "reading" and state.walk is None:
        estimate = worked.estimate
    else:
        return None
    said = estimate.verdict or last.say
    reply = replace(last, kind="calculation", say=said, show=(said,), readings=(), withdrawn=(), estimate=estimate)
    return Outcome(state, reply)


def _checks(topic: str) -> bool:
    """Whether a procedure only finds out how a level is."""
    return topic.startswith(("check-", "read-"))


def _remedy(told: tuple[Reading, ...]) -> str | None:
    return next((_REMEDIES[reading.what] for reading in reversed(told) if reading.what in _REMEDIES), None)


def pointed(state: State, text: str, decision: Decision, mind: Mind) -> Decision | None:
    """What a question means together with what was spoken of before, when alone it means nothing sure."""
    said = bare(text)
    if decision.verdict not in ("clarify", "unknown") or len(said.split()) > MAX_WORDS:
        return None
    if not _POINTS.search(said) or not _ASKS.match(said):
        return None
    for about in spoken_of(state, mind):
        ranking = mind.ranked(f"{text} ({about})")
        best, chance = ranking.procedures[0]
        if chance >= SURE and best not in mind.knowledge.hazards:
            return Decision("answer", (best, *decision.topics[:2]), chance)
    return None


def spoken_of(state: State, mind: Mind) -> list[str]:
    """What "it" may be, the likeliest first: the defect, the walk, the topic, the last question."""
    found = []
    defect = next((d for d in all_defects(state.record) if d.key == state.defect), None)
    if defect is not None and state.last is not None and state.last.kind == "defect":
        found.append(defect.words())
    told = (
        _remedy(state.told) if state.walk is None and state.last is not None and state.last.kind == "reading" else None
    )
    if told is not None and told in mind.knowledge.ids:
        found.append(mind.knowledge.title(told))
    topic = state.walk.topic if state.walk is not None else state.topic
    if topic is not None and topic in mind.knowledge.ids:
        found.append(mind.knowledge.title(topic))
    if defect is not None and not found:
        found.append(defect.words())
    return [*found, state.question] if state.question else found
