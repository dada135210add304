"""Trouble and amounts told without what they are of: "heater's not right", "how much is left". They are asked back, with what may be meant.

A guess would send the driver the wrong way, and "all right" would leave him without help.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, deciding, phrases, telling
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|oh|uh|um|hm+|i think|seems like|looks like|something about) )*"
_VAGUE = r"(?:not (?:quite |really |working |running |doing |behaving |sounding |feeling |looking )*(?:right|good|great|well|happy|itself|normal|like it should)|(?:acting|playing|being) (?:up|funny|weird|odd|strange|strangely|silly|different|wonky)|(?:a bit |kind of |sort of |a little )?(?:funny|weird|odd|strange|wonky|iffy|messed up|screwed up|goofy|temperamental|not ok|not okay)|giving (?:me|us) (?:trouble|grief|problems)|(?:in|having) (?:trouble|problems)|isn't right|ain't right|misbehaving|(?:a bit|a little|kind of|sort of|slightly|way) off)"
_IS = r"(?:'s|s|'re)?(?: (?:is|are|seems?|looks?|feels?|sounds?|has been|keeps|isn't|aren't|ain't|doesn't seem|doesn't feel|don't feel))?(?: (?:just|still|again|really|been))*"
_THINGS = (
    (r"(?:furnaces?|heaters?|heat|heating)", ("furnace-will-not-light", "keep-cabin-warm", "read-propane-gauges")),
    (r"(?:toilet|bathroom|head|loo|john)", ("toilet-trouble", "check-waste-level", "no-water-at-tap")),
    (r"(?:water|taps?|faucets?|sinks?|shower)", ("no-water-at-tap", "find-water-leak", "thaw-frozen-water-line")),
    (r"(?:water )?pump", ("pump-keeps-running", "no-water-at-tap", "find-water-leak")),
    (r"(?:shore )?(?:power|electric\w*|electrics)", ("no-shore-power", "shore-breaker-trips", "house-battery-low")),
    (r"(?:plug|cord|outlet)s?", ("no-shore-power", "shore-breaker-trips", "shock-from-coach-body")),
    (r"(?:house )?batter(?:y|ies)", ("house-battery-low", "no-shore-power")),
    (r"heat tape", ("check-heat-tape", "no-shore-power")),
    (r"(?:bay |cabin )?lights", ("house-battery-low", "no-shore-power", "bay-lights")),
    (r"(?:waste|sewage|dump) (?:valve|hose|tank)", ("frozen-waste-valve", "free-collapsed-waste-hose", "check-waste-level")),
    (r"(?:bay )?(?:latch(?:es)?|doors?)", ("work-a-bay-latch", "adjust-a-latch", "lock-and-unlock-bay")),
    (r"(?:generator|genny|gen ?set)", ("look-after-generator", "house-battery-low")),
)  # fmt: skip
"""Things, and the procedures one of which is mostly meant when such a thing is not as it should be."""
_FORMS = tuple(
    (
        Lazy(
            rf"{_LEAD}(?:(?:the|my|our|this|that|both|one of the|back|rear|front) )*{thing}{_IS} {_VAGUE}(?: (?:again|tonight|today|now|back here|somehow|on me|lately))*$"
            rf"|{_LEAD}(?:something(?:'s|s| is)? (?:wrong|off|up|not right|funny|weird)|(?:there's |there is |i have |i've got |we have |got )?(?:a |some )?(?:trouble|problems?|issues?)) with (?:(?:the|my|our|this|that|both|one of the|back|rear|front) )*{thing}(?: (?:again|tonight|today|now|back here))*$"
        ),
        topics,
    )
    for thing, topics in _THINGS
)
_VAGUE_CUES = ("right", "acting", "playing", "funny", "weird", "odd", "strange", " off", "wonky", "messed", "wrong", "trouble", "problem", "issue", "up", "normal", "itself", "iffy", "good", "well", "happy", "should", "goofy", "misbehav", "ok")  # fmt: skip
_HOW_MUCH = Lazy(
    _LEAD
    + r"how much(?: of (?:it|that|everything))?(?: (?:is|do|does|have|has|we|i|there|got|it|still|have we|we've))*(?:'s)?(?: (?:left|remaining|got|have|still|now|in there|in it|over))*(?: (?:right now|at the moment|tonight|now|then|again))*$|"
    + _LEAD[1:]
    + r"what (?:have we|do we have|have i|do i have) (?:got )?left(?: now)?$"
)
_OF = ("check-fresh-level", "check-waste-level", "read-propane-gauges")
OF_WHAT = "How much of what? Say its name: fresh water, waste, propane, diesel or house battery."


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The question what is meant; None for anything else, in a danger, and where what was said before tells it."""
    said = plain(text)
    if "?" in text.rstrip(" ?") or danger_first.danger(state, mind) is not None or state.pending is not None:
        return None
    if state.asking is not None and state.asking.what not in ("choice", "resume"):
        return None
    if said.startswith(("how much", "what ", "so ", "and ", "ok", "well", "now")) and _HOW_MUCH.match(said):
        return _how_much(state, mind, now)
    if not names_any(said, _VAGUE_CUES):
        return None
    topics = next((topics for form, topics in _FORMS if form.match(said)), ())
    known = tuple(topic for topic in topics if topic in mind.knowledge.ids)
    if len(known) < 2 or (state.walk is not None and state.walk.topic in known):
        return None
    reply = phrases.choices("What is it doing?", known, mind, 0.5)
    asking = Asking("choice", known)
    after = replace(state, asking=asking, question=text, offered=known, failures=0)
    return Outcome(after, deciding.standing(reply, state, mind))


def _how_much(state: State, mind: Mind, now: datetime) -> Outcome | None:
    """All levels told, newest of each, else the question of what; None in a walk and right after a number, which it is of."""
    if state.walk is not None or (state.last is not None and state.last.kind in ("reading", "calculation")):
        return None
    if state.stored:
        return telling.read_back(None, state, mind, now)
    known = tuple(topic for topic in _OF if topic in mind.knowledge.ids)
    reply = Reply("clarify", OF_WHAT, (OF_WHAT,), options=known, confidence=0.5)
    return Outcome(replace(state, asking=Asking("choice", known), question="how much is left", failures=0), reply)
