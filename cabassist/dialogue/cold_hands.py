"""Hands, feet and faces that are cold are no equipment: "hands are frozen, will do it inside"."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import deciding, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.steering import Steer

_BODY = Lazy(
    r"^(?:(?:so|and|but|man|god|oh|ugh|brr+|sorry|damn|jeez|wow|hang on|wait|ok|okay) )*(?:(?:my|our|his|her|both|all|the) )*(?:hands?|fingers?|thumbs?|feet|foot|toes|nose|face|ears?|cheeks?|beard|mustache|moustache|eyelashes|knees|butt|bum|ass|body)(?:'s|'re| is| are| feel| feels| have gone| has gone| went| going| getting)?(?: (?:so|all|totally|completely|absolutely|half|a bit|too|really|like ice|and|just|pretty|dead))*"
    r" (?:frozen|freezing|cold|numb|icy|iced up|froze|stiff|blue|ice)\b|^(?:(?:so|and|but|man|god|oh|sorry|damn) )*(?:i'm|i am|we're|we are|he's|she's) (?:so |absolutely |totally |half |just |bloody )?(?:freezing|frozen|cold|frozen stiff|an icicle|shivering)\b"
)
_ELSE = Lazy(
    r"\b(?:valve|pipe|line|tank|hose|lock|latch|key|door|engine|diesel|water|furnace|heater|cabin|bunks?|inside here|in here|burn\w*|blister\w*|bleed\w*|cut|shock\w*|tingl\w*|zap\w*|spill\w*|propane|gas|stuck to|kids|team|players|passengers|everyone|tonight|night|dizzy|sick|headache\w*|faint\w*|can't feel|white|black)\b|\?"
)
_LATER = Lazy(
    r"\b(?:will|i'll|we'll|gonna|going|be back|back in|do (?:it|that|this) (?:inside|later|after|tomorrow|when)|later|inside|warm up|warming|in a (?:bit|minute|sec)|break|give me|hold on|hang on|wait)\b"
)
_MOST_WORDS = 16


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Somebody is cold: the walk waits, and it is said to get warm; None for anything else, and for whatever may be an injury."""
    said = bare(text)
    if len(said.split()) > _MOST_WORDS or not _BODY.search(said) or _ELSE.search(text.lower()):
        return None
    walk = state.walk
    if walk is None:
        return walking.control(state, "Get warm first. Then ask what you need.")
    if walk.topic in mind.knowledge.hazards:
        line = "Keep warm somewhere else, away from the coach. The danger stays open."
        outcome = walking.control(state, line, topic=walk.topic)
        return outcome._replace(reply=deciding.standing(outcome.reply, state, mind))
    if _LATER.search(said):
        return walking.HANDLERS["pause"](state, mind, now, Steer("pause"))
    outcome = walking.control(state, f"Get warm first. Still at step {walk.number}.", topic=walk.topic)
    return outcome._replace(reply=deciding.standing(outcome.reply, state, mind))
