"""Those who may clear a danger have cleared it: a danger in hand is closed, and told as a thing of the past it raises no new one.

The fire service clears the air, a technician the gas, an electrician the cord. What was cleared by whom decides what may be
done next, so after a leak that is told as mended it is asked.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, over_asked, progress, walking, well_in_danger
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

MOST_WORDS = 40
GAS = "propane-smell"
_FIRE = r"(?:fire (?:department|dept|service|crew|brigade|fighters?|guys?|men|man|people|chief|captain|officer|truck|engine)|firefighters?|firem[ae]n)"
_GAS = r"(?:(?:propane |gas |licensed |qualified |certified )*(?:technicians?|tech|gas fitter|engineer|serviceman)|gas (?:man|men|guys?|company|people|board)|propane (?:man|guys?|company|people))"
_WHO = {
    GAS: rf"{_FIRE}|{_GAS}",
    "carbon-monoxide-alarm": rf"{_FIRE}|{_GAS}",
    "smoke-or-fire": _FIRE,
    "shock-from-coach-body": r"electricians?",
}
"""Who may clear it, by the danger."""
_HELPERS = {topic: Lazy(rf"\b(?:{who})\b") for topic, who in _WHO.items()}
_THEY = Lazy(r"\bthey\b")
_CLEARS = Lazy(
    r"\b(?:safe|all[- ]clear|cleared|(?:it's|it is|air's|air is|she's|that's|coach is|coach's|bus is|we're|all) clear|in the clear|signed (?:it |us |the coach )?off|(?:gave|given|got) (?:us |me )?(?:the )?(?:ok|okay|go[- ]ahead|green light)"
    r"|(?:can|may|could|ok(?:ay)? to|clear to|free to|allowed to|let (?:us|everyone|everybody|them)) (?:all |now )*(?:go|get|come|head|move)? ?(?:back (?:in|inside|aboard|on)|in|inside|aboard)"
    r"|(?:no|zero|not any) (?:more )?(?:gas|leaks?|propane|co|carbon monoxide|smoke|fire|current)(?: (?:left|found|any ?more|now|at all))*$|(?:measured|read|reads|got|gets|shows?|showed|found) (?:it )?(?:all )?(?:zero|0|nothing|none|clear|clean|no (?:gas|co|leaks?))"
    r"|(?:fixed|repaired|mended|replaced|tightened|sealed|changed|sorted)|(?:leak|pressure|soap|bubble) test\w*\b.*\b(?:tight|passed|fine|good|ok|okay|clean|clear|held|no (?:bubbles|leaks?))|all tight)\b"
)
_MENDS = Lazy(r"\b(?:fixed|repaired|mended|replaced|tightened|sealed|changed|sorted|cleared)\b")
_NOT_CLEAR = Lazy(
    r"\?|\b(?:not|\w+n't|cannot|never|wait|waiting|stay|keep|kept|hold|still|(?:smells?|leaks?|hisse?s?|beeps?|burns?|back|is|it's|comes?|came|gone|going|off) again|again and again|until|till|unless|if|when|once|before|tomorrow|coming|on (?:the|their|his) way|called (?:them|him|it)?$|will|going to|gonna|but|except|though|however|maybe|might|should|probably|i think|hope|wants? to|needs? to|trying|busy|about to|must|have to|too high|almost|nearly|half)\b"
)
_OWN_HANDS = Lazy(r"\b(?:i|we|my (?:buddy|mate|friend|partner|co-?driver)|myself) (?:\w+ )?(?:fixed|repaired|mended|tightened|sealed|sorted)\b")  # fmt: skip
_CUES = ("fire", "tech", "gas", "propane", "fitter", "engineer", "serviceman", "electrician", "they", "clear")


def is_cleared(state: State, text: str, mind: Mind) -> bool:
    """Whether those who may clear the danger in hand are told to have done so; anything less is none."""
    danger = danger_first.danger(state, mind)
    said = plain(text)
    if danger is None or danger.topic not in _HELPERS or not names_any(said, _CUES) or len(said.split()) > MOST_WORDS:
        return False
    they = danger.topic != "shock-from-coach-body" and _came(state, danger.topic) and _THEY.search(said)
    if not (_HELPERS[danger.topic].search(said) or they):
        return False
    if _NOT_CLEAR.search(said) or not _CLEARS.search(said) or _OWN_HANDS.search(said) or well_in_danger.is_ill(text):
        return False
    other = mind.hazards.find(_HELPERS[danger.topic].sub("they", said))
    return other is None or other == danger.topic


def closes(state: State, text: str, mind: Mind) -> Outcome | None:
    """The danger in hand closed on their word; None for anything else."""
    danger = danger_first.danger(state, mind)
    if danger is None or not is_cleared(state, text, mind):
        return None
    return over_asked.closed(state, danger, text, mind, cleared=True)


_COMING = Lazy(
    rf"^(?:(?:ok|okay|so|and|good|yes|yeah|the|called them|i called|we called) )*(?:{_FIRE}|ambulance|medics?|paramedics?|police|{_GAS}|electrician|they|help|someone|tow truck)(?:'s|'re| is| are| say(?:s)? (?:they're|they are|he's)| will be|'ll be)? (?:now |just |all |already )*(?:on (?:the|their|his|its) way|coming|called|been called|here(?: now| soon)?|arriving|arrived|just arrived|(?:about |in )?(?:\w+ )?(?:\w+ )?minutes? (?:out|away)|(?:here )?in (?:\w+ )?\w+ minutes)(?: (?:now|already|too|soon))*$"
)


def coming(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """That help was called or is there: the call is made, and the walk through the danger goes on; None for anything else.

    The fire service on its way to a smell of gas is no report of fire.
    """
    if danger_first.danger(state, mind) is None or "?" in text or not _COMING.match(plain(text)):
        return None
    return progress.danger_told(state, "we called the fire service", mind, now)


def _came(state: State, topic: str) -> bool:
    """Whether help was called for in this walk, so that "they" are those who came."""
    return any(walk.topic == topic and walk.at >= _CALLED for walk in state.walks)


_CALLED = 3
_ABOUT = Lazy(r"\b(?:gas|propane|leak\w*|smell|regulator|hose|fitting|cylinder|bottle)\b")
_PRESENT = Lazy(
    r"\b(?:smells|smelling|reeks?|stinks?|(?:can|i|we|they|you) smell|hiss\w*|again|still|(?:is|are) (?:\w+ )?leaking|leaks|dizzy|sick|headaches?|beeping|going off|alarm)\b"
)
_ASKS = Lazy(r"^(?:(?:and|so|but|ok|okay) )*(?:is|are|did|do|does|has|have|who|when|can|should|what|how|if|where)\b")
_LAST = Lazy(
    r"[.;!?,]+ +(?=\S)|\b(?:so|and|now|then) (?=(?:set|keep|warm|start|light|turn|put|get|run|plug|connect)\b)"
)
_SURE = 0.8


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """A gas leak told as mended by others while no danger is open: asked what was cleared by whom; None for anything else."""
    said = plain(text)
    if danger_first.danger(state, mind) is not None or not names_any(said, _CUES) or len(said.split()) > MOST_WORDS:
        return None
    if not (_HELPERS[GAS].search(said) and _MENDS.search(said) and _ABOUT.search(_HELPERS[GAS].sub("they", said))):
        return None
    if _PRESENT.search(said) or _NOT_CLEAR.search(said.replace("?", "")) or _ASKS.match(said) or _WATER.search(said):
        return None
    lines = [
        "What was cleared, and by whom? The fire service clears the air. Only a licensed propane technician clears the gas.",
        "Did he test for leaks, and is there no smell? Then the valves may be open.",
        "Was there no test? Close the cylinder valves and tell me.",
        "If you smell gas now, get everyone out and tell me.",
    ]
    topic = _asked_for(text, mind)
    asking = state.asking
    if topic is not None:
        lines.append(f"Once he has tested, say yes to begin: {mind.knowledge.title(topic)}.")
        asking = Asking("choice", (topic,))
    outcome = walking.control(replace(state, failures=0, asking=asking), " ".join(lines[:2]), lines=tuple(lines))
    return outcome._replace(reply=replace(outcome.reply, options=(topic,) if topic else ()))


_WATER = Lazy(r"\b(?:water|diesel|fuel|oil|coolant|waste|sewage|air) (?:leak|line|hose|fitting|pump|tank)\b|\b(?:tire|sink|toilet|faucet|tap)\b")  # fmt: skip


def _asked_for(text: str, mind: Mind) -> str | None:
    """The procedure that the last clause asks for, or None."""
    clauses = [part.strip() for part in _LAST.split(text) if part.strip()]
    if len(clauses) < 2 or _MENDS.search(plain(clauses[-1])):
        return None
    topic, chance = mind.ranked(clauses[-1]).procedures[0]
    return topic if chance >= _SURE and topic not in mind.knowledge.hazards else None
