"""A smell of sewage: the toilet's procedure with a word on airing, and on the gas that smells alike."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import deciding, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.odour import of_sewage
from cabassist.language.routing import BOUNDS

TOPIC, SPILL = "toilet-trouble", "clean-up-waste-spill"
AIR = (
    "Open a vent or a door. If it is like rotten eggs, or you are not sure, get everyone out and tell me you smell gas."
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What to do about a smell of sewage; in a walk that handles sewage or a danger it stays a remark. None for other smells."""
    if not of_sewage(text) or TOPIC not in mind.knowledge.ids or mind.wishes.find(text):
        return None
    judged = mind.judge(text)
    if judged is not None and judged.dangers.get(SPILL, 0.0) >= BOUNDS.judged_sure:
        return None  # "they trod it up the aisle, it stinks"
    walk = state.walk
    if walk is None:
        return walking.open_walk(TOPIC, state, mind, now, 0.7, text, AIR)
    if walk.topic in mind.knowledge.hazards:
        return None
    if mind.knowledge.procedure(walk.topic).system == "waste":
        outcome = walking.control(state, AIR, topic=walk.topic)
        return outcome._replace(reply=deciding.standing(outcome.reply, state, mind))
    return walking.open_walk(TOPIC, state, mind, now, 0.7, text, AIR)
