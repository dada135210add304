"""A procedure that opened on top of the walk in hand though nobody asked for it: closed when it is denied, and never in the way.

A report may be like another procedure, and that one then stands on top with the driver still at the work below. "Not triangles
yet, the flat tire one" closes it and goes on with the walk that is meant. One that was opened by likeness and left at its first
step is dropped when the walk below goes on; it does not catch reports of that walk, and is not opened by likeness again.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import choosing, framing, phrases, told_ahead, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.steering import Steer

MOST_WORDS = 20
DONE, REPORTS, TROUBLE = 0.6, 0.6, 0.85
"""From these chances on, a report is of the walk below; a text reports; and trouble was told, for which its procedure stays."""
_REQUESTED = Lazy(
    r"^(?:(?:so|and|then|now|ok|okay|right|alright|please|well|hey|wait|hang on|hold on|actually|first|no|oh|but) )*(?:how|what|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|am|will|would|i(?:'d| would)? (?:want|need|like|have) to|we (?:want|need|have) to|i (?:want|need)|let's|lets|help|walk me|take me|talk me|lead me|guide me|show me|tell me|give me|open|start|begin|go to|switch to|time to|going to|gonna|i'm going to|i'm gonna|about to)\b"
)
"""Asks for something, in whatever words."""
_CLAUSES = re.compile(r"\s*(?:[,;:!?…]+|\.+(?!\d)|\s-+\s|\bbut\b|\band (?=(?:i|we|back|go|resume|carry|keep)\b))\s*", re.IGNORECASE)  # fmt: skip
_NO = Lazy(r"\b(?:no|not|nope|isn't|aren't|wasn't|ain't|don't|didn't|doesn't|never|without|wrong|forget|enough of|nothing|none|cancel|close|drop|scrap|lose)\b")  # fmt: skip
_MERE_NO = Lazy(
    r"^(?:(?:oh|ok|okay|hey|sorry|wait|well|argh|ugh|no|nope|nah|wrong|hang on|hold on|please|really|now|yet|i said|listen|look) )*(?:no|nope|nah|not (?:that|this|it|yet|now|these|those)(?: (?:one|list|now|yet|again))?|wrong (?:one|list|thing|procedure)|(?:(?:that's|that is|this is|it's) not|this isn't|that isn't|that's wrong|this is wrong)(?: (?:it|the one|what i (?:meant|want|wanted|asked(?: for)?|said)))?|(?:that's|this is|it's) the wrong (?:one|list|thing)|(?:i )?(?:didn't|don't|did not|do not) (?:ask for|want|mean|need|say) (?:that|this|it)(?: one)?)$"
)
_STEERS = Lazy(
    r"\b(?:resume|back (?:to|on|at)|go on|going on|carry on|continue|keep (?:on|to|at|going|with)|want|need|mean|meant|stay|stick|still (?:on|at|doing|with|in)|finish|doing|(?:i'm|we're|i am|we are) (?:on|at|in|with)|asked (?:about|for)|talking about|get on with)\b|\b(?:one|thing|list|job|procedure|walk)$"
)
_DONE_WITH = Lazy(r"\b(?:done|finished|through) with (?:the |my |this |that |our )?(?P<what>[a-z][\w' ]{2,30})$")
_LITTLE = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one thing job list procedure walk step yet again here there want need meant mean back resume keep going still doing"
    " just done finish please there's isn't don't didn't wrong already coach bus deal use check look after".split()
)
_MOVES = ("next", "resume", "repeat", "back")


def _names(walk: Walk, mind: Mind) -> set[str]:
    """The beginnings of the words by which a walk may be called."""
    return beginnings(f"{walk.topic.replace('-', ' ')} {mind.knowledge.title(walk.topic)}", _LITTLE)


def is_stray(walk: Walk) -> bool:
    """Whether a walk was opened by likeness and no step of it was done."""
    return walk.likened and not walk.at and not walk.skipped and not walk.done


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The procedure just opened on top of another is denied or steered away from: closed, and the walk meant goes on; else None.

    Args:
        state: where the conversation stands.
        text: what was said, without any sign of danger.
        mind: what the turn knows.
        now: the clock.
    """
    if len(state.walks) < 2 or "?" in text or len(text.split()) > MOST_WORDS or state.pending is not None:
        return None
    here, below = state.walks[-1], state.walks[:-1]
    if here.at or here.topic in mind.knowledge.hazards or mind.wishes.find(text):
        return None
    parts = [part for part in (plain(one) for one in _CLAUSES.split(text)) if part]
    meant = _meant(parts, here, below, mind)
    names = _names(meant, mind)
    own, other = _names(here, mind) - names, names - _names(here, mind)
    denied = steered = False
    rest: list[str] = []
    done_with = next((found for part in parts if (found := _DONE_WITH.search(part)) is not None), None)
    if done_with is not None and not _NO.search(done_with.string):
        over = beginnings(done_with["what"], _LITTLE)
        return _finished(state, here, meant, text, mind, now) if over & other else None
    for part in parts:
        said = beginnings(part, _LITTLE)
        of_meant = bool(said & other)
        if _MERE_NO.match(part) or (_NO.search(part) and said & own and not of_meant):
            denied = True
        elif of_meant and not _NO.search(part) and (_STEERS.search(part) or said <= other):
            steered = True
        elif (steer := mind.steering.find(part)) is not None and steer.verb in _MOVES and steer.sure >= 0.8:
            steered = steered or denied
            rest += [] if denied else [part]
        elif said & own:
            return None  # it is spoken of, and not denied
        else:
            rest.append(part)
    if not (denied or (steered and is_stray(here))) or (denied and not steered and (rest or not is_stray(here))):
        return None
    if any(_ails(part, meant, mind) for part in rest):
        return None
    return _gone_back(state, here, meant, " ".join(rest), text, mind, now)


def _meant(parts: list[str], here: Walk, below: tuple[Walk, ...], mind: Mind) -> Walk:
    """The walk below that is named outside of a denial; the one right below when none is."""
    said = {stem for part in parts if not _NO.search(part) for stem in beginnings(part, _LITTLE)} - _names(here, mind)
    best = max(reversed(below), key=lambda walk: len(said & _names(walk, mind)))
    return best if said & _names(best, mind) else below[-1]


def _judged(text: str, walk: Walk, mind: Mind) -> tuple[float, dict[str, float]]:
    """How likely a text tells the step in hand of a walk done, and what else it may do."""
    if mind.report_network is None or not text:
        return 0.0, {}
    judged = phrases.heard_here(text, walk, mind)
    return judged.done, judged.acts


def _ails(text: str, walk: Walk, mind: Mind) -> bool:
    return _judged(text, walk, mind)[1].get("trouble", 0.0) >= REPORTS


def _closed(state: State, here: Walk, meant: Walk) -> tuple[State, tuple[EventDraft, ...]]:
    """The state with the procedure on top closed and the walk that is meant in its place."""
    others = tuple(walk for walk in state.walks[:-1] if walk is not meant)
    marked = replace(meant, paused=False, not_meant=tuple(dict.fromkeys((*meant.not_meant, here.topic))))
    timers = tuple(timer for timer in state.timers if timer.topic != here.topic)
    left = walking.remembered(state, "closing that")
    after = replace(left, walks=(*others, marked), timers=timers, asking=None, failures=0, topic=meant.topic)
    return after, (_stopped(here),)


def _stopped(walk: Walk) -> EventDraft:
    return EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})


def _gone_back(state: State, here: Walk, meant: Walk, rest: str, text: str, mind: Mind, now: datetime) -> Outcome:
    """On with the walk that is meant, at its step, or past it where the same breath tells it done."""
    after, events = _closed(state, here, meant)
    remark = f"{mind.knowledge.title(here.topic)} is closed."
    done, acts = _judged(rest, meant, mind)
    step = phrases.step_of(mind.knowledge.procedure(meant.topic), meant)
    if done >= TROUBLE and acts["report"] >= REPORTS and not step.reading and meant.topic not in mind.knowledge.hazards:
        events = (*events, EventDraft("told-done", {"topic": meant.topic, "step": meant.number, "said": text}))
        outcome = walking.forward(after, mind, now, remark)
    else:
        outcome = walking.move_to(meant.at, after, mind, now, "return", remark)
    return Outcome(outcome.state, outcome.reply, (*events, *outcome.events))


def _finished(state: State, here: Walk, meant: Walk, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk below over, as its speaker is done with it; None of a danger, which is over only when it is cleared."""
    if meant.topic in mind.knowledge.hazards:
        return None
    after, events = _closed(state, here, meant)
    if meant.at + 1 == len(meant.plan):
        events = (*events, EventDraft("told-done", {"topic": meant.topic, "step": meant.number, "said": text}))
        outcome = walking.forward(after, mind, now)
    else:
        outcome = walking.HANDLERS["stop"](after, mind, now, Steer("stop"))
    return Outcome(outcome.state, outcome.reply, (*events, *outcome.events))


def below(state: State, text: str, mind: Mind, understood: Callable[[State], Outcome]) -> Outcome | None:
    """What the walk below makes of a report while a procedure that nobody asked for stands on it; None when it is not of that walk.

    `understood` answers the text from a state.
    """
    if len(state.walks) < 2 or not is_stray(state.walks[-1]) or "?" in text or state.pending is not None:
        return None
    here, under = state.walks[-1], state.walks[-2]
    if under.topic in mind.knowledge.hazards or under.paused or mind.hazards.find(text) is not None:
        return None
    if (len(text.split()) <= 3 and mind.steering.find(text) is not None) or _REQUESTED.match(plain(text)):
        return None
    step = phrases.step_of(mind.knowledge.procedure(under.topic), under)
    done, acts = _judged(text, under, mind)
    reads = bool(step.reading) and any(one.what == step.reading for one in mind.readings_in(text).readings)
    reports = done >= DONE and acts.get("report", 0.0) >= REPORTS and done > _judged(text, here, mind)[0]
    if not (reads or reports):
        return None
    lower, events = _closed(state, here, under)
    asking = Asking("reading", reading=step.reading) if step.reading else None
    outcome = understood(replace(lower, asking=asking))
    after = outcome.state.walks
    gone = all(walk.topic != under.topic for walk in after)
    moved = bool(after) and after[-1].topic == under.topic and after[-1].at > under.at
    if not (gone or moved or (reads and outcome.reply.kind == "reading")) or outcome.reply.kind == "hazard":
        return None
    return Outcome(outcome.state, outcome.reply, (*events, *outcome.events))


def gone_below(before: State, outcome: Outcome) -> bool:
    """Whether one of the walks below is in hand now, by its name or as the one above it was closed."""
    walks = outcome.state.walks
    return bool(walks) and any(walk.topic == walks[-1].topic for walk in before.walks[:-1])


def after(before: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The outcome with a procedure that opened by likeness marked as such, and those dropped that the walk below went on without."""
    walks = outcome.state.walks
    if not walks:
        return outcome
    top, open_before = walks[-1], {walk.topic for walk in before.walks}
    if top.topic not in open_before:
        return _without_left(before, text, _marked(before, text, outcome, mind), mind)
    return _without(outcome, top, [walk for walk in walks[:-1] if is_stray(walk)], mind)


_DENIES_LAST = Lazy(
    r"^(?:(?:oh|oops|whoops|wait|ok|okay|sorry|hey|hang on|hold on|argh|ugh|well|shit|damn|please) )*(?:no|nope|nah|not (?:that|this|it|the|those|these)|never ?mind|wrong|forget|scratch|cancel|drop|scrap)\b|\b(?:i (?:only |just |actually |really )?(?:meant|mean|said|wanted|asked for)|not what i|didn't (?:ask|want|mean|say))\b"
)


def _without_left(before: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The outcome without the procedure that was opened a turn ago and is left at its first step for another: it was not meant.

    One that was asked for waits, unless it is denied in the same breath.
    """
    walks, here, last = outcome.state.walks, before.walk, before.last
    if here is None or last is None or len(walks) < 2 or walks[-2].topic != here.topic or outcome.reply.kind != "procedure":  # fmt: skip
        return outcome
    opened_now = last.kind == "procedure" and last.topic == here.topic and not (here.at or here.skipped or here.done)
    if not opened_now or here.topic in mind.knowledge.hazards or here.paused:
        return outcome
    if not (here.likened or _DENIES_LAST.search(plain(text))):
        return outcome
    return _without(outcome, walks[-1], [walks[-2]], mind)


def _without(outcome: Outcome, top: Walk, dropped: list[Walk], mind: Mind) -> Outcome:
    """The outcome with procedures below the one in hand dropped that nobody asked for, and no word of their waiting."""
    if not dropped:
        return outcome
    walks = outcome.state.walks
    topics = {walk.topic for walk in dropped}
    top = replace(top, not_meant=tuple(dict.fromkeys((*top.not_meant, *topics))))
    timers = tuple(timer for timer in outcome.state.timers if timer.topic not in topics)
    rest = tuple(walk for walk in walks[:-1] if walk not in dropped)
    reply = outcome.reply
    for walk in dropped:
        waits = phrases.waits(walk, mind)
        show = tuple(line.replace(waits, "").strip() for line in reply.show)
        reply = replace(reply, say=" ".join(reply.say.replace(waits, "").split()), show=tuple(line for line in show if line))  # fmt: skip
    state = replace(outcome.state, walks=(*rest, top), timers=timers)
    return Outcome(state, reply, (*outcome.events, *(_stopped(walk) for walk in dropped)))


_POSTED = Lazy(
    r"^(?:(?:ok|okay|so|and|yeah|right|well) )*(?:(?:my|the|our|one of the) )?(?:[a-z]+ ){0,2}?[a-z]+(?:'s| is| has|'s got| has got) (?:now |already |got )*(?:on|at|by|minding|watching|guarding|covering|holding) (?:the|that|his|her|their|my|our) (?:(?:entry|front|back|bay|side|left|right|team|rear) )*(?:doors?|bays?|bags|kids|line|curb|luggage|hatch|gate|steps?|exit)(?: (?:now|already|side|for me|for us))*$"
    r"|^(?:(?:ok|okay|so|and|yeah|right|well) )*(?:(?:my|the|our|one of the) )?(?:[a-z]+ ){0,2}?[a-z]+(?:'s| is) (?:now |already |just )*(?:doing|handling|bringing|fetching|seeing to|looking after) (?:[a-z']+ ?){1,6}$"
)
"""Somebody is where he is needed or does his part, which opens nothing."""


def _marked(before: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The procedure just opened marked as opened by likeness; one that was denied in this walk is not opened so again."""
    top, under = outcome.state.walks[-1], before.walk
    if outcome.reply.kind != "procedure" or top.topic in mind.knowledge.hazards or _asked_for(before, text, top, mind):
        return outcome
    if under is not None and under.topic not in mind.knowledge.hazards and _POSTED.match(plain(text)):
        return walking.control(replace(before, failures=0), told_ahead.still(under), topic=under.topic)
    if (
        under is not None
        and top.topic in under.not_meant
        and not under.paused
        and under.topic not in mind.knowledge.hazards
    ):
        return walking.control(replace(before, failures=0), told_ahead.still(under), topic=under.topic)
    walks = (*outcome.state.walks[:-1], replace(top, likened=True))
    return Outcome(replace(outcome.state, walks=walks), outcome.reply, outcome.events)


def _asked_for(before: State, text: str, walk: Walk, mind: Mind) -> bool:
    """Whether a procedure was asked for in so many words, chosen, or opened for a trouble that was plainly told."""
    said = bare(text)
    chosen = before.asking is not None and walk.topic in before.asking.options
    if chosen or walk.topic in before.offered or "?" in text or _REQUESTED.match(plain(text)):
        return True
    if framing.unframed(text) is not None or framing.parted(text) is not None or choosing.begins_deed(said, mind):
        return True
    if told_ahead.stems(mind.knowledge.title(walk.topic)) <= told_ahead.stems(text):
        return True
    if before.walk is None:
        return True  # nothing was in hand that it could have been a report of
    acts = _judged(text, before.walk, mind)[1]
    return acts.get("trouble", 0.0) >= TROUBLE or acts.get("asks", 0.0) >= TROUBLE or acts.get("command", 0.0) >= TROUBLE  # fmt: skip
