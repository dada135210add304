"""Perils that a few plain words tell and that are no procedure of the coach: somebody shut in a bay, brakes that fade, a driver about to sleep.

They are few and their words are sure, so no network need weigh them; each is told what to do at once.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import deciding, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

BAY, BRAKES, HOURS = "lock-and-unlock-bay", "check-air-brakes", "plan-driving-hours"

_PERSON = r"(?:some ?body|some ?one|a (?:kid|child|boy|girl|player|passenger|guy|man|woman|person|teammate)|(?:the |my |our )?(?:kid|child|boy|girl|player|passenger|goalie|lad|trainer|assistant|driver|other driver|mechanic)|(?:one|two) of (?:the|our|my) (?:kids|boys|girls|players|lads|guys|passengers|team)|(?:two|three) (?:kids|boys|girls|players|lads)|he|she|they|i)"
_STUCK = r"(?:locked|shut|stuck|trapped|caught|closed|latched|knocking|banging|pounding|yelling|shouting|screaming|crying|tapping|kicking)"
_IN_BAY = r"(?:(?:up )?(?:in|inside|into|from inside|from in|from|out of|within|down in)(?: (?:of|one of))? (?:(?:the|a|that|this|one of the|our) )*(?:(?:luggage|cargo|baggage|big|rear|front|side|gear|storage|empty|left|right|street side|curb side) )*(?:bays?|luggage hold|hold|luggage compartment|compartment|boot|belly|underfloor)(?: (?:number )?(?:\d+|one|two|three|four|five|six))?)"
_SHUT_IN = Lazy(
    rf"\b{_PERSON}(?:'s|'re|'m| is| are| am| got| has been| have been| been| has got)? (?:gone and got |got |been |still |now |apparently )?{_STUCK} (?:in )?{_IN_BAY}\b"
    rf"|\b(?:there's|there is|we have|i hear|i can hear|hear|think there's) (?:maybe )?{_PERSON} (?:{_STUCK} )?{_IN_BAY}\b"
    rf"|\b{_STUCK} {_PERSON} {_IN_BAY}\b|\b(?:knocking|banging|voices?|yelling|screaming|pounding) (?:coming )?{_IN_BAY}\b"
)
_NOT_SHUT_IN = Lazy(
    r"\b(?:if|could|might|would|can(?! hear)|want|wants|love|let|lets|ride|riding|used to|last (?:year|week|trip|month)|yesterday|was|were|drill|never|how (?:do|to) (?:i|we) (?:keep|stop|prevent)|so (?:that )?no|nobody|no one|out now|got (?:him|her|them) out|is out|load\w*|work\w*|fix\w*|look\w*|lights?|loose|rattl\w*|something|bag|bags)\b"
)
_PEDAL = Lazy(
    r"\b(?:brake )?pedal(?:'s|s| is| just| keeps?)?(?: [a-z]+){0,2}? (?:sink(?:s|ing)|drop(?:s|ping)|go(?:es|ing) (?:lower|down|to the floor|all the way|soft|further)|get(?:s|ting) (?:lower|softer|longer)|to the floor|soft|spongy|mushy|longer and longer)\b"
    r"|\bbrakes?(?: pedal)?(?: (?:feels?|are|is|'re|seems?|getting|gone|went|going|feeling|a bit|kinda|really|all|so|getting))+ (?:soft|spongy|mushy|fading|weak|weaker|like mush)\b|\bbrakes? (?:fade|fading|faded)\b|\bno (?:brakes|brake pedal)\b|\bbarely (?:slows?|stops?|brakes?|braking)\b"
)
_NOT_PEDAL = Lazy(
    r"\b(?:toilet|flush|bowl|foot flush|if|in case|when should|why do|how do brakes|what makes|would|last (?:week|month|trip|year)|yesterday|fixed|replaced|used to|chat|exam|quiz|report|write|written|log|logged|note|not moving|isn't moving|tagged|parked)\b"
)
_ASLEEP = Lazy(
    r"\b(?:i|i'm|im|i am|driver|he|she|my eyes|eyes)\b.{0,30}\b(?:can't|cannot|can not|can hardly|can barely|could hardly|struggling to|fighting to|trouble|hard to) (?:stay|staying|keep|keeping) (?:my eyes (?:open)|awake|(?:his|her) eyes open)\b"
    r"|^(?:(?:so|and|ok|okay|well|man|honestly|help|guys) )*(?:i )?(?:can't|cannot|can barely|can hardly) (?:stay awake|keep my eyes open|keep awake)\b"
    r"|\bi (?:just |nearly |almost |keep |kept |think i |must have |may have )*(?:nodded off|nodding off|dozed off|dozing off|fell asleep|falling asleep|drifted off|micro ?sleeps?|microslept|dropped off)\b"
    r"|\b(?:i )?(?:don't|do not|can't|cannot) (?:even )?(?:remember|recall) (?:driving )?(?:the |these |those |any of the )?(?:last|past) (?:few |couple of |couple |\w+ )?(?:miles?|kilomet(?:er|re)s|exits?|towns?|stretch|hour|half hour|minutes?)\b"
)
_NOT_ASLEEP = Lazy(
    r"\b(?:last night|yesterday|at the (?:hotel|motel)|in (?:the|my) bunk|in bed|movie|film|meeting|if|used to|the (?:kids?|boys|girls|team|players)|alarm|headaches?|dizz\w*|sick|fumes?|parked|partner (?:is |will )?(?:takes|taking|drives|driving)|pulled over)\b"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What to do about such a peril; None for anything else."""
    said = plain(text)
    if names_any(said, ("bay", "hold", "compartment", "boot", "belly", "underfloor")):
        if _SHUT_IN.search(said) and not _NOT_SHUT_IN.search(said):
            return _at_once(state, text, mind, now, BAY, _OPEN, "common practice, no source")
    if names_any(said, ("pedal", "brake", "barely")) and _PEDAL.search(said) and not _NOT_PEDAL.search(said):
        return _at_once(
            state, text, mind, now, BRAKES, _STOP, "AAMVA commercial driver's manual, section 2 (from memory)"
        )
    if names_any(
        said, ("awake", "eyes", "nod", "doz", "asleep", "drift", "sleep", "dropped off", "remember", "recall")
    ):
        if _ASLEEP.search(said) and not _NOT_ASLEEP.search(said):
            return _at_once(state, text, mind, now, HOURS, _REST, "49 CFR 392.3")
    return None


_OPEN = (
    "Open that bay now. The coach does not move.",
    "Bring them inside to the warm. If they are hurt, very cold or do not answer, call the emergency services.",
)
_STOP = (
    "If you are driving: stop now, while there are brakes. Shift down, flashers on, to the side, parking brake.",
    "Chock the wheels. Do not drive on before the carrier's maintenance has looked at them.",
)
_REST = (
    "If you are driving: stop at the first safe place now. Nobody drives who fights sleep.",
    "Are others drowsy, or does a head ache? Then it may be carbon monoxide: get everyone out.",
)


def _at_once(
    state: State, text: str, mind: Mind, now: datetime, topic: str, orders: tuple[str, ...], source: str
) -> Outcome | None:
    """The orders, with the procedure that belongs to them below; on the road the orders alone."""
    if topic not in mind.knowledge.ids:
        return None
    lines = (f"DANGER: {orders[0]}", *orders[1:])
    if not state.rolling and not any(walk.topic == topic for walk in state.walks):
        opened = walking.open_walk(topic, state, mind, now, 0.95, text)
        show = (*lines, f"Source: {source}", *opened.reply.show)
        say = f"Danger. {' '.join(orders)} {opened.reply.say}"
        asked = EventDraft("asked", {"said": text, "verdict": "answer", "topics": [topic], "confidence": 0.95})
        return opened._replace(reply=replace(opened.reply, show=show, say=say), events=(asked, *opened.events))
    reply = Reply("hazard", f"Danger. {' '.join(orders)}", (*lines, f"Source: {source}"), topic=topic, confidence=0.95)
    event = EventDraft("hazard", {"topic": topic, "said": text, "confidence": 0.95})
    return Outcome(replace(state, failures=0), deciding.standing(reply, state, mind), (event,))
