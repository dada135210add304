"""A plain command with a second thought or a question before it: "never mind, go back one", "is it off? which step was I on"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import coach_asked, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.routing import Decision
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells
from cabassist.record.defect_words import told_fault

_LEAVES = Lazy(
    r"^(?:(?:ah|oh|no|nope|nah|ok|okay|wait|sorry|well|right|actually|hang on|hold on|yeah) )*"
    r"(?:never ?mind(?: (?:that|it|this))?|forget (?:that|it|this|about (?:that|it|this))|not (?:that|this)(?: (?:one|list))?|wrong (?:one|list|thing)|(?:that's|thats|that is) not (?:it|what i (?:meant|wanted|asked(?: for)?))"
    r"|i (?:didn't|did not|don't|do not) (?:ask for|want|mean|need) (?:that|this)(?: (?:one|list))?) (?:(?:just|and|so|then|but|please|i said|i meant|let's|can we|could we|can you) )*(?P<rest>\w.*)$"
)
"""What was opened is not what was meant, and a command after it."""
_MOVES = frozenset({"back", "next", "resume", "repeat"})
_NEXT = Lazy(r"\b(?:next|done|finished)\b")
"""To carry on with a walk left is to take it up at its step."""


def left_for(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Never mind, go back one", right after another walk was opened: that one is left, and the one under it obeys; else None."""
    last, found = state.last, _LEAVES.match(plain(text))
    if found is None or last is None or last.kind != "procedure" or len(state.walks) < 2:
        return None
    opened, under = state.walks[-1], state.walks[-2]
    if opened.at or last.topic != opened.topic or {opened.topic, under.topic} & mind.knowledge.hazards:
        return None
    steer = mind.steering.find(found["rest"])
    if steer is None or steer.verb not in _MOVES:
        return None
    timers = tuple(timer for timer in state.timers if timer.topic != opened.topic)
    state = replace(walking.remembered(state, "going back"), walks=state.walks[:-1], timers=timers, asking=None)
    state = replace(state, failures=0, topic=under.topic)
    moves = steer.verb == "back" or (steer.verb == "next" and _NEXT.search(found["rest"]))
    if moves and not under.paused:
        return walking.HANDLERS[steer.verb](state, mind, now, steer)
    return walking.move_to(under.at, state, mind, now, "return")


_THEN_WHERE = Lazy(r"^(?P<first>[^.,;!?]+)[.,;!?]+ *(?:(?:and|so|also|oh|wait|sorry) )*(?P<where>[^.,;!?]+)[.!?]*$")
_YES_OR_NO = Lazy(
    r"^(?:(?:and|so|oh|wait|ok|okay) )*(?:is|are|was|were|did|do|does|have|has|am)\b(?!.*\b(?:safe|ok|okay|allowed)\b)"
)
_ASKS_PLACE = frozenset({"repeat", "how-many"})
_MOST_WORDS = 6


def place_asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Is the pump off? Which step was I on": where the walk stands, which says what was done; else None."""
    found = _THEN_WHERE.match(text.strip()) if state.walk is not None else None
    if found is None:
        return None
    first, steer = bare(found["first"]), mind.steering.find(found["where"])
    if steer is None or steer.verb not in _ASKS_PLACE or len(first.split()) > _MOST_WORDS:
        return None
    if not _YES_OR_NO.match(first) or _smells_of_trouble(first):
        return None
    return walking.HANDLERS[steer.verb](replace(state, failures=0), mind, now, Steer(steer.verb))


_REMARK_WHERE = Lazy(
    r"^(?P<first>[^?]{2,60}?)[,;.] *(?:(?:wait|hang on|hold on|but|and|so|oh|ok|okay|hey),? )*(?P<where>where(?:'s|'d| is| are| did| does| do| would)\b[^,;.]*)$"
)
"""A remark, and where a thing is: "three lights, wait, where's that tester live"."""


def thing_asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where a carried thing is, asked behind a remark on the walk in hand, which stays; None where the place is not known."""
    found = _REMARK_WHERE.match(text.lower().strip()) if state.walk is not None else None
    if found is None or told_fault(found["first"], mind.defect_words) is not None:
        return None
    return coach_asked.asked(state, found["where"], Decision("unknown", (), 0.0), mind)


_THINGS = Lazy(
    r"\b(?:gas|propane|red|wet|hot)\b(?= (?:off|on|shut|closed|tank|light|one|bottle|cylinder|line|side|done)\b)"
)


def _smells_of_trouble(first: str) -> bool:
    """Whether a short question tells of more than whether something is done: "is the propane off" does not."""
    return tells(_THINGS.sub("it", first))
