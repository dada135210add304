"""A relief driver comes on: "relief just showed up, I'm going to my bunk" opens the hand-over.

Who says so goes to bed rested or not and reports no danger; what the next driver must know comes first.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

TOPIC = "hand-over-coach"
_CUES = ("relief", "replacement", "driver", "taking over", "swapping")
_WHO = r"(?:(?:my|the|our) )?(?:relief(?: driver)?|replacement(?: driver)?|co-?driver|co driver|codriver|(?:other|next|new|second|night|day|morning) driver|(?:other|next|new) guy)"
_COMES = r"(?:'s| is| has| just|'ve| are| finally| now)*(?: (?:here|(?:just )?(?:showed|shown|turned|walked|pulled|come|came|climbed) (?:up|in|on|aboard)|arrived|got here|on(?: (?:duty|now|board))?|up|ready|taking over|taking the (?:wheel|coach|bus)|waiting|aboard|in))"
_LEAVES = r"(?:(?:and|so|then|now) )*(?:i'm|i am|i'll|i|me) (?:(?:just|now|finally|all|gonna|going to|about to) )*(?:going|go|off|heading|head|hitting|hit|turning|turn|done|through|finished|handing|hand|getting|get|climbing|bunking|clocking|signing|sleep|out|rest|crash|crashing)(?: (?:to|in|off|down|the|my|for|some|out|over|up|a|of|get|back|bunk|bed|sleep|rest|hay|sack|nap|night|day|shift|tonight|now|here|wheel|it|down))*"
_COMES_ON = Lazy(
    rf"^(?:(?:ok|okay|so|and|right|alright|well|good|hey|now|finally|great) )*(?:{_WHO}{_COMES}(?: (?:now|here|already|to take over|early|late|for me|finally))*(?: {_LEAVES})?|{_LEAVES} {_WHO}{_COMES}|(?:we're |i'm )?(?:swapping|switching|changing) drivers(?: (?:now|here))?(?: {_LEAVES})?)$"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The hand-over opened; None in a danger, in the hand-over itself, and for anything else."""
    said = plain(text)
    if "?" in text or not names_any(said, _CUES) or not _COMES_ON.match(said) or TOPIC not in mind.knowledge.ids:
        return None
    if any(walk.topic == TOPIC or walk.topic in mind.knowledge.hazards for walk in state.walks):
        return None
    return walking.open_walk(TOPIC, replace(state, asking=None), mind, now, 0.9, text)
