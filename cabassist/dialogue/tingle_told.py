"""After a tingle the coach stays off shore power until an electrician has cleared it, whoever calls it static.

A hand on the metal is no test, for the next touch can kill. And once the danger is closed as none, no step may say to push the
plug in: what waits is left, and whoever asks for shore power anew is told what stands.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, phrases, walking
from cabassist.dialogue.still_shut import TINGLED
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

SHOCK = "shock-from-coach-body"
ON_SHORE = frozenset({"connect-shore-power", "no-shore-power", "shore-breaker-trips"})
"""Procedures whose steps put the plug in."""
_CUES = ("touch", "tried", "try", "felt", "feel", "grab", "held", "hold", "hand on", "put my", "poke")
_BY_HAND = Lazy(
    r"\b(?:touch\w*|tried|trying|try|grabbed|held|hold|poked|tapped|brushed|put (?:my|his|a|the) (?:hand|finger|palm)\w*|felt (?:it|the (?:door|handle|rail|step|body|side)))\b.*\b(?:again|nothing|no (?:more )?(?:tingle|shock|buzz|zap|current)|not any ?more|fine|gone|twice|once more|another time|no problem|ok|okay|any ?more|a second time)\b"
    r"|\b(?:nothing|no (?:more )?(?:tingle|shock|buzz|zap)) (?:\w+ ){0,3}?(?:when|if|while) (?:i|we|he|she) (?:touch\w*|tr(?:y|ied)|h[eo]ld|grab\w*)\b|\b(?:don't|didn't|can't|couldn't|do not|did not) feel (?:it|anything|a thing|any)\b|\bfelt nothing\b"
)
_CLEARED = Lazy(
    r"\belectricians?\b.*\b(?:check\w*|clear\w*|said|says?|measured|tested|safe|fine|ok|okay|fixed|repaired|mended|replaced)\b|\b(?:checked|cleared|measured|fixed|repaired|tested) by (?:an? |the )?(?:\w+ )?electrician\b"
)
_NOT_YET = Lazy(
    r"\?|\b(?:not|\w+n't|no|until|till|before|if|when|once|unless|will|coming|going to|called|need|tomorrow)\b"
)


def by_hand(state: State, text: str, mind: Mind) -> Outcome | None:
    """Somebody touched it again to see: never, and why; None for anything else."""
    danger, said = danger_first.danger(state, mind), plain(text)
    if danger is None or danger.topic != SHOCK or not names_any(said, _CUES) or "?" in text:
        return None
    if not _BY_HAND.search(said) or _BITES.search(said) or electrician(text) or mind.hurt.find(text) is not None:
        return None
    step = phrases.step_of(mind.knowledge.procedure(SHOCK), danger)
    lines = (
        "Do not touch it again. The next touch can kill.",
        "A dry hand may feel nothing where a wet one is held fast. That is no test, and no proof of static.",
        f"Step {danger.number} of {len(danger.plan)}: {phrases.filled(step.do, mind.facts)}",
    )
    outcome = walking.control(replace(state, failures=0), " ".join(lines), lines=lines, topic=SHOCK)
    return outcome._replace(reply=replace(outcome.reply, kind="refuse", step=phrases.mark(danger)))


_BITES = Lazy(
    r"\b(?:thrown|knocked|jolt\w*|bit(?:es|ten)?|zapped|shocked|stuck|hurt\w*|fell|burn\w*|still (?:tingl\w+|there|buzz\w+))\b|\b(?:got|felt|feel|had) (?:a |another |the )(?:\w+ )?(?:tingle|shock|buzz|zap|jolt)\b"
)
"""The touch was felt: a report of the danger, which stays."""


def electrician(said: str) -> bool:
    """Whether an electrician is told to have cleared it."""
    words = plain(said)
    return "electrician" in words and _CLEARED.search(words) is not None and not _NOT_YET.search(words)


def after(before: State, outcome: Outcome, said: str, mind: Mind, now: datetime) -> Outcome:
    """The outcome, whose state holds since when the coach stays off shore power; said where a step would plug it in."""
    tingled = before.tingled
    was, still = (any(walk.topic == SHOCK for walk in one.walks) for one in (before, outcome.state))
    if electrician(said):
        tingled = None
    elif was and not still and outcome.reply.kind != "hazard":
        tingled = now
        outcome = _left(outcome, mind)
    if tingled != outcome.state.tingled:
        event = EventDraft(TINGLED, {"on": tingled is not None})
        outcome = Outcome(replace(outcome.state, tingled=tingled), outcome.reply, (*outcome.events, event))
    reply, walk = outcome.reply, outcome.state.walk
    if tingled is None or walk is None or walk.topic not in ON_SHORE or reply.kind not in ("step", "procedure"):
        return outcome
    line = f"DANGER: A tingle was told at {tingled:%H:%M}. Do not plug in until a qualified electrician has cleared it. Then tell me."
    reply = replace(reply, show=(line, *reply.show), say=f"Danger. {line.removeprefix('DANGER: ')} {reply.say}")
    return outcome._replace(reply=reply)


def _left(outcome: Outcome, mind: Mind) -> Outcome:
    """The end of the danger, with what would plug the coach in left as well, and that said in place of the way back to it."""
    state, reply, events = outcome
    left = [walk for walk in state.walks if walk.topic in ON_SHORE]
    if not left:
        return outcome
    rest = tuple(walk for walk in state.walks if walk not in left)
    topics = {walk.topic for walk in left}
    names = " and ".join(mind.knowledge.title(walk.topic) for walk in left)
    lines = [line for line in reply.show if not line.startswith("Back to step")]
    asked = [lines.pop()] if state.asking is not None and state.asking.what == "out" and lines else []
    lines.append(
        f"{names}: stopped. The coach stays off shore power; if the plug is in, have that breaker switched off first."
    )
    lines.append("Ask for it anew once an electrician has cleared the cord and the coach.")
    if rest:
        lines.append(phrases.back_to(rest[-1], mind))
    lines += asked
    asking = state.asking if asked else Asking("resume") if rest else None
    timers = tuple(timer for timer in state.timers if timer.topic not in topics)
    stops = tuple(
        EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
        for walk in left
    )
    state = replace(state, walks=rest, timers=timers, asking=asking)
    return Outcome(state, replace(reply, say=" ".join(lines), show=tuple(lines)), (*events, *stops))
