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
_PARTNER = r"(?:my |the |our )?(?:partner|buddy|mate|other (?:one|guy)|teammate|co-?pilot|night man|day man|last driver|first driver)"
_COMES = r"(?:'s| is| has| just|'ve| are| finally| now)*(?: (?:here|(?:just )?(?:showed|shown|turned|walked|pulled|come|came|climbed) (?:up|in|on|aboard)|arrived|got here|on(?: (?:duty|now|board))?|up|ready|taking over|taking the (?:wheel|coach|bus)|waiting|aboard|in))"
_LEAVES = r"(?:(?:and|so|then|now) )*(?:i'm|i am|i'll|i|me) (?:(?:just|now|finally|all|gonna|going to|about to) )*(?:going|go|off|heading|head|hitting|hit|turning|turn|done|through|finished|handing|hand|getting|get|climbing|bunking|clocking|signing|sleep|out|rest|crash|crashing)(?: (?:to|in|off|down|the|my|for|some|out|over|up|a|of|get|back|bunk|bed|sleep|rest|hay|sack|nap|night|day|shift|tonight|now|here|wheel|it|down))*"
_COMES_ON = Lazy(
    rf"^(?:(?:ok|okay|so|and|right|alright|well|good|hey|now|finally|great) )*(?:{_WHO}{_COMES}(?: (?:now|here|already|to take over|early|late|for me|finally))*(?: {_LEAVES})?|{_LEAVES} {_WHO}{_COMES}|(?:we're |i'm )?(?:swapping|switching|changing) drivers(?: (?:now|here))?(?: {_LEAVES})?)$"
)


FIRST = "pre-trip-inspection"
_GIVES = r"(?:handed|gave|given|passed|tossed|turned|left|threw)"
_TAKEN = Lazy(
    rf"\b(?:{_WHO}|{_PARTNER}|he|she)\b(?: (?:just|has|finally|already|'s))* (?:{_GIVES} (?:(?:me|over) )?(?:(?:over|the|his|her|me) )*(?:keys?|wheel|coach|bus|rig|it)|handed over|(?:went|gone|is|'s|turned|headed|off) (?:\w+ )?(?:to bed|to (?:his|her|the) bunk|to sleep|asleep|in (?:his|her|the) bunk|in bed|in|sleeping))"
    r"|\b(?:i|i'm|i've|we)(?: (?:am|have|just|now))* (?:tak(?:e|ing|en)|took|got|swapped|switched|changed|came|come|coming|am|up|the) (?:\w+ )?(?:over|the (?:wheel|keys?|coach|bus)|drivers|on (?:duty|shift)|new driver|relief driver|up now|fresh driver|next driver)\b"
)
_CHECKS = Lazy(
    r"\b(?:what(?:'s| is| all)?|which things)\b(?: [\w']+){0,5}? (?:check|look at|look over|inspect|be checked|be looked at|do|go over|verify)\b(?: [\w']+){0,2}? (?:before|first|ahead of)\b(?: (?:i|we|you|it|she|the (?:coach|bus|wheels)))?(?: [\w']+){0,5}$"
)


def takes_over(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What the driver who takes over looks at before he moves off (49 CFR 396.13); None for anything else.

    That the other one went to bed says nothing of parking for the night.
    """
    said = plain(text)
    if not names_any(said, ("before", "first", "ahead of")) or FIRST not in mind.knowledge.ids:
        return None
    if not _CHECKS.search(said) or not _TAKEN.search(said):
        return None
    if any(walk.topic == FIRST or walk.topic in mind.knowledge.hazards for walk in state.walks):
        return None
    return walking.open_walk(FIRST, replace(state, asking=None), mind, now, 0.9, text)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The hand-over opened; None in a danger, in the hand-over itself, and for anything else."""
    said = plain(text)
    if "?" in text or not names_any(said, _CUES) or not _COMES_ON.match(said) or TOPIC not in mind.knowledge.ids:
        return None
    if any(walk.topic == TOPIC or walk.topic in mind.knowledge.hazards for walk in state.walks):
        return None
    return walking.open_walk(TOPIC, replace(state, asking=None), mind, now, 0.9, text)


_SHOOK = Lazy(r"\b(?:(?:i|we) )?(?:shook (?:on it|hands|(?:his|her|their|the (?:\w+ )?driver's) hand)(?: with (?:him|her|them|the (?:\w+ )?driver))?|(?:a )?hand ?shakes?)\b")  # fmt: skip


def without_handshake(text: str) -> str:
    """The text with a handshake as what it is at a hand-over, which sounds like a shock: "shook his hand, he's got her"."""
    return _SHOOK.sub("handed over", text.lower()) if _SHOOK.search(text.lower()) else text
