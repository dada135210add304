"""The walk left because somebody else does its work: "never mind the other guy's doing it", also said without a pause.

"Skip that, my partner did it" leaves out one step and no more.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.steering import Steer

_LEAVES = Lazy(
    r"^(?:(?:nah|no|nope|ok|okay|oh|ah|actually|well|right|sorry|wait|yeah|so|you know what|hm+|alright) )*"
    r"(?:(?:skip(?= (?:the rest|all|it all)\b)|never ?mind|forget|leave|scrap|drop|stop|cancel|quit|end)(?: (?:it|this|that|about it|the rest|all (?:this|that)))*|don't bother|no need|not needed|we're good|i'm good|it's (?:ok|okay|fine|alright)|that's (?:ok|okay|fine|alright|it))(?: (?:then|now|nah|because|cause|since|so|turns out|looks like|seems|apparently))*"
    r" (?:(?:the|my|our|some|a|that) (?:[a-z]+ ){0,2}?(?:guy|guys|driver|co-?driver|codriver|co driver|partner|mechanic|shop|crew|team|staff|tech|fellow|man|woman|lady|mate|buddy|attendant|host|relief|porter|electrician|plumber|tow truck|kid|boss|carrier|dealer|garage|hotel|rink|site|people)|he|she|they|someone(?: else)?|somebody(?: else)?|relief)"
    r"(?:(?:'s|'re|'ll|'ve| is| are| was| will| has| have| wants to| said he'd| said they'd| just| already| gonna| going to)*)"
    r" ?(?:(?:doing|do|handling|handle|got|getting|take|taking|taken|took|looking after|look after|dealing with|deal with|seeing to|see to|sorting|sort|sorted|finishing|finish|fix|fixing|on) (?:it|this|that|them|these|the rest|the lot|all (?:of )?(?:it|this|that)|care of (?:it|this|that|them)|over|out)|did (?:it|this|that)|has it|have it|got this)"
    r"(?: (?:for me|for us|now|already|instead|right now|himself|herself|themselves|tomorrow|tonight|later|out|over|himself now|on his own|anyway))*$"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk in hand is left; a walk through a danger is not left by that. None for anything else."""
    walk = state.walk
    if walk is None or walk.topic in mind.knowledge.hazards or "?" in text or not _LEAVES.match(plain(text)):
        return None
    if mind.hazards.find(text) is not None or mind.wishes.find(text):
        return None
    return walking.HANDLERS["stop"](replace(state, asking=None, failures=0), mind, now, Steer("stop"))
