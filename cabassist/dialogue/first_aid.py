"""Somebody is hurt or ill: there is no first aid here, and the driver is sent to those who have it."""

from __future__ import annotations

from cabassist.dialogue import deciding
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.dialogue.urgent import PAST
from cabassist.dialogue.well_in_danger import is_down
from cabassist.journal.events import EventDraft
from cabassist.language.danger_network import Judged
from cabassist.language.hurt import POISON
from cabassist.language.normalise import plain
from cabassist.language.routing import BOUNDS

HURT = "hurt"
"""What the danger network calls somebody hurt or ill."""
KIT = "first-aid"
"""The first aid kit among the carried kit."""


def told(state: State, text: str, judged: Judged | None, mind: Mind) -> Outcome | None:
    """Whom to call, and where the first aid kit is; what is in hand stays in hand. None for anything else."""
    if _somebody_down(text, mind):
        return _called(state, text, mind, "the emergency services", (_AIR,))
    sign = mind.hurt.find(text)
    if sign is None and judged is not None and judged.worst == HURT and not mind.hurt.leaves(text):
        sign = HURT if judged.danger >= BOUNDS.judged_hurt and judged.wish < BOUNDS.judged_sure_wish else None
    if sign is None:
        return None
    call = "poison control or the emergency services" if sign == POISON else "the emergency services"
    return _called(state, text, mind, call, ())


_AIR = "If the air may be bad, or more than one is ill: get everyone out into fresh air first."


def _somebody_down(text: str, mind: Mind) -> bool:
    """Whether one is told or asked of who has passed out, where nothing makes a danger of it: help is called all the same."""
    return is_down(text) and mind.hazards.find(text) is not None and PAST.search(plain(text)) is None


def _called(state: State, text: str, mind: Mind, call: str, beside: tuple[str, ...]) -> Outcome:
    """Whom to call, what goes first, and where the first aid kit is."""
    lines = ["I have no first aid.", f"Call {call} now and do what they say.", *beside]
    if state.walk is None or state.walk.topic not in mind.knowledge.hazards:  # nobody goes back in for it
        lines += [f"The first aid kit is at {item.place}." for item in mind.coach.kit if item.id == KIT]
    reply = deciding.standing(Reply("unknown", " ".join(lines), tuple(lines), confidence=0.0), state, mind)
    event = EventDraft("asked", {"said": text, "verdict": "unknown", "topics": [], "confidence": 0.0})
    return Outcome(state, reply, (event,))
