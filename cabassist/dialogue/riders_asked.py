"""What riders may do while the coach moves, where the safety talk has a word on it, and a stop of the driver's own on the shoulder.

On food or on two in a bunk there is no rule here, which is said; what the talk does say of sitting and lying is said with it.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

TALK = "brief-passengers"
_RIDER = r"(?:one|ones|some ?one|somebody|kids?|child|children|boys?|girls?|players?|passengers?|riders?|guys?|lads?|he|she|they|people|team|goalie|trainer|skaters?|a few|some|half|person|teenagers?)"
_BELT = r"(?:(?:seat ?|bunk |lap )?(?:belts?|straps?|harness)|buckles?)"
_UNBELTED = Lazy(
    rf"\b{_RIDER}\b(?: (?:of (?:them|the \w+)|in (?:the )?\w+(?: \w+)?|back there))?(?: (?:is|are|just|still|keeps?|has|have|always))* (?:won't|wont|will not|refus\w*(?: to)?|doesn't|don't|does not|do not|isn't|aren't|not|never|unbuckl\w*|tak(?:es?|ing)|hates?|without)\b(?: [\w']+){{0,4}}? (?:{_BELT}|buckled?(?: up)?|belted)\b"
)
_NOT_RIDER = Lazy(
    r"\b(?:driver|driver's|i|i'm|my|me|broken|latch\w*|jammed|stuck|torn|frayed|won't (?:buckle|fasten|click|close|retract)|can i|may i|let|allow\w*)\b"
)
_BUNK = r"(?:bunks?|berths?|beds?)"
_EATS = Lazy(
    rf"\b(?:eat\w*|foods?|snack\w*|meals?|dinner|lunch|supper|breakfast|pizza|sandwich\w*)\b(?: [\w']+){{0,4}}? (?:in|on) (?:(?:the|their|his|her|a|our) )?{_BUNK}\b"
)
_SHARES = Lazy(
    rf"\b(?:(?:two|2|three|couple|both|pair)\b(?: [\w']+){{0,4}}? (?:in|to|shar\w+|doubl\w+ up in) (?:(?:a|one|the same|each|the) )+{_BUNK}|(?:share|sharing|double up in|doubled up in) (?:(?:a|one|the same|each|the) )*{_BUNK})\b"
)
_SHOULDER = Lazy(
    r"\b(?:stop|stopping|pull(?:ing)? (?:over|off|in)|park|parking|sit|halt)\b(?: [\w']+){0,4}? (?:(?:on|onto|at|by) (?:the )?)?(?:shoulder|(?:side|edge) of (?:the )?(?:road|highway|interstate|freeway))\b"
)
_ASKS = Lazy(r"\b(?:can|may|could|am|are|is it|allowed|legal\w*|ok|okay|should)\b")
_BROKEN = Lazy(
    r"\b(?:broke|broken|breakdown|flat|dead|died|triangle\w*|flares?|emergency|smoke|fire|hurt|sick|engine|blow ?out|how far|ramp)\b"
)
_BELTED = "People sit down, belted where belts are fitted, and fasten the bunk straps. Do not move off until they have."
_LIES = "While the coach moves people sit belted, or lie in the bunks with the feet to the front."
_NO_FOOD = f"I have no rule on food in the bunks. {_LIES}"
_NO_SHARING = f"I have no rule on two in a bunk: ask the carrier. A belt or strap is made for one. {_LIES}"
_OWN_STOP = "I do not have that: the states have their own rules for the shoulder. If you do stop there, flashers at once, and triangles out within ten minutes (49 CFR 392.22)."


_MOST_WORDS = 12


def unbelted(state: State, text: str, mind: Mind) -> Outcome | None:
    """A rider who will not wear the belt and nothing told beside it, which reports no danger; None for anything else."""
    said = plain(text)
    if not names_any(said, _BELTS) or len(said.split()) > _MOST_WORDS or _BESIDE.search(text.lower()):
        return None
    if danger_first.danger(state, mind) is not None or not _UNBELTED.search(said) or _NOT_RIDER.search(said):
        return None
    return properties.told(state, _BELTED, mind, topic=TALK, said=text)


_BELTS = ("belt", "strap", "buckle", "harness")
_BESIDE = Lazy(
    r"[,.;:](?=.)| and | but | because |\b(?:hurt|sick|fell|fallen|blood|bleeding|stuck|trapped|chok\w*|smok\w*|burn\w*|shock\w*|tingl\w*)\b"
)


def asked(state: State, text: str, mind: Mind, wished: bool) -> Outcome | None:
    """What the talk says of it, or that there is no rule; None for anything else."""
    said = plain(text)
    if names_any(said, _BELTS) and _UNBELTED.search(said) and not _NOT_RIDER.search(said):
        return properties.told(state, _BELTED, mind, topic=TALK, said=text)
    if wished:
        return None
    if names_any(said, ("bunk", "berth", "bed")) and (_EATS.search(said) or _SHARES.search(said)):
        return properties.told(state, _NO_FOOD if _EATS.search(said) else _NO_SHARING, mind, topic=TALK, said=text)
    if names_any(said, ("shoulder", "side of", "edge of")) and _SHOULDER.search(said) and _ASKS.search(said):
        if not _BROKEN.search(said):
            return properties.told(state, _OWN_STOP, mind, topic="set-warning-triangles", said=text)
    return None
