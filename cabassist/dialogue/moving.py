"""Moves through a walk that name what they mean: a skip with its reason, back to a walk left, on to a part of this one."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, progress, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.normalise import bare, beginnings
from cabassist.language.steering import Steer

_STEP = r"(?:it|that|this|(?:that|this|the) (?:one|bit|part|step|thing)(?: too)?)"
_SKIP_WHY = (
    re.compile(
        rf"^(?:let's |we can |we'll |i'll |just )?(?:skip|pass on|leave out|miss out) {_STEP}(?: out)?(?: because| since| as| for)? (?P<why>\w+ .+)$|^skip because (?P<only>.+)$"
    ),
    re.compile(
        rf"^(?P<why>(?!i |we |who |what |that |it |this )(?:[\w'-]+ ){{1,3}}?(?:has |have |had |'s )?(?:already )?(?:did|done|got|checked|handled|finished|took care of|taken care of|seen to) {_STEP}(?: (?:already|earlier|before|today|this morning|last night|for me|for us))*)"
        r"(?: (?:skip|next|go on|move on|move along|carry on).{0,12})?$"
    ),
    re.compile(
        rf"^(?P<why>(?:{_STEP}(?:'s| is| has|'s already| has already| was)? |already )?been (?:done|checked|handled|taken care of|seen to|sorted)(?: (?:already|earlier|before|today|this morning|by \w+(?: \w+)?))*)"
        r"(?: (?:skip|next|go on|move on|move along|carry on).{0,12})?$"
    ),
    re.compile(
        rf"^(?P<why>no need(?: (?:for|to do) {_STEP})?|(?:we |i )?(?:don't|do not) (?:need|have) (?:to do )?(?:{_STEP}|one|one of (?:those|them)|any of (?:that|those))|{_STEP} (?:doesn't|does not|don't) apply(?: (?:to (?:us|me|this coach)|here|today))*"
        r"|(?:that's |it's )?not (?:needed|necessary|applicable)(?: (?:here|today|tonight))?)(?: (?:skip|next|go on|move on).{0,12})?$"
    ),
)
"""A skip with its reason: "skip that, Dale did it", "somebody did that already", "no need for that"."""


def skip_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A skip with its reason in one breath, or None."""
    if state.walk is None:
        return None
    form = _YES.sub("", bare(text))
    for pattern in _SKIP_WHY:
        found = pattern.match(form)
        if found is not None:
            reason = found["why"] if "only" not in pattern.groupindex else found["why"] or found["only"]
            return walking.skipped(state, mind, now, reason)
    return None


_YES = re.compile(r"^(?:(?:yeah|yep|yup|yes|no(?! need)|nah|oh|fine) )+(?=\w)")
_RETURN = re.compile(
    r"^(?:(?:forget|leave|drop|never mind|enough of|done with) (?:about )?(?:the |that |this )?\w+ (?:and |then |now )?)?(?:(?:let's|lets|let us|can we|could we|i want to|we can|time to|ready to) )*(?:(?:get |go |come |head )?back (?:to|on|onto)|(?:carry|get|go|move) on with|(?:continue|proceed|keep going)(?: on)? with"
    r"|resume|pick up|where (?:were we|was i) (?:with|on|in)) (?:the |that |this |my |our )?(?P<what>.+)$"
)
_UNNAMED = re.compile(
    r"^(?:it|that|this|where (?:we|i) (?:were|was|left off)|what (?:we|i) (?:were|was) (?:doing|on|at)|work)(?: (?:before|again|please))*$"
)
_LITTLE = frozenset(
    "the a an of on to with for it that this thing part bit again please now stuff procedure list walk steps job up in and".split()
)


def _stems(words: str) -> set[str]:
    return beginnings(words, _LITTLE)


def _mentions(said: set[str], walk: Walk, mind: Mind) -> int:
    """How many steps of a walk name one of the things said."""
    steps = mind.knowledge.procedure(walk.topic).steps
    return sum(bool(said & _stems(phrases.filled(steps[index].do, mind.facts))) for index in walk.plan)


def return_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Back to the inspection", "carry on with the dumping": the walk that is meant comes to the top at its step, or None.

    Without a name the walk under a hazard is meant, since that is what was interrupted.
    """
    found = _RETURN.match(_YES.sub("", bare(text))) if state.walk is not None else None
    if found is None:
        return None
    what = found["what"]
    ordinary = [walk for walk in reversed(state.walks) if mind.knowledge.procedure(walk.topic).kind != "hazard"]
    if _UNNAMED.match(what):
        meant = next(iter(ordinary), state.walks[-1])
    else:
        said = _stems(what)
        shared = [(len(said & _stems(f"{w.topic} {mind.knowledge.title(w.topic)}")), w) for w in reversed(state.walks)]
        if not any(count for count, _ in shared):
            shared = [(_mentions(said, walk, mind), walk) for walk in reversed(ordinary)]
        best = max((count for count, _ in shared), default=0)
        if not best:
            open_topics = {walk.topic for walk in ordinary}
            ranked = (*mind.matcher.rank(what).procedures[:5], *mind.matcher.rank(text).procedures[:5])
            near = [name for name, _ in ranked if name in open_topics]
            if not near:
                return None
            meant = next(walk for walk in ordinary if walk.topic == near[0])
        else:
            meant = next(walk for count, walk in shared if count == best)
    left = [w for w in state.walks if w.topic != meant.topic]
    danger = next((w for w in reversed(left) if mind.knowledge.procedure(w.topic).kind == "hazard"), None)
    remark = f"Still open: {mind.knowledge.title(danger.topic)}." if danger is not None else ""
    if meant is state.walks[-1]:
        return walking.move_to(meant.at, state, mind, now, "resume", remark)
    state = replace(walking.remembered(state, "going back"), walks=(*left, meant))
    return walking.move_to(meant.at, state, mind, now, "return", remark)


_THEN_BACK = re.compile(
    r"^(?P<over>.+?) (?:(?:so|and|then|now|ok|okay|alright|right|let's|lets|can we|we can|go|get) )*(?P<back>back (?:to|on|onto) .+|(?:carry on|get on|go on|continue) with .+)$"
)


def over_and_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "That's mopped up, back to the dumping": the danger is over and the walk under it goes on, in one breath; or None."""
    found = _THEN_BACK.match(bare(text)) if len(state.walks) > 1 else None
    over = progress.over_told(state, found["over"], mind, now) if found is not None else None
    if found is None or over is None:
        return None
    back = return_told(replace(over.state, asking=None), found["back"], mind, now)
    if back is None:
        return None
    lines = tuple(line for line in over.reply.show if not line.startswith("You were"))
    reply = replace(back.reply, show=(*lines, *back.reply.show), say=f"{lines[0]} {back.reply.say}")
    return Outcome(back.state, reply, (*over.events, *back.events))


_PART = re.compile(
    r"^(?:(?:can we|let's|can you|please) )*(?:jump|skip|go|move|take me|get|go straight|skip ahead|jump ahead|go forward|fast forward)(?: (?:ahead|on|forward|down|straight|right))? to (?:the |where )?(?P<what>.+?)(?P<part> (?:part|bit|step|section|one|piece|stuff))?$"
)
_END = re.compile(r"^(?:very )?(?:last|end|final)$|^last (?:one|step)$|^end of (?:it|this|the list)$")


def part_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Jump to the tread part", "skip to the last one": the step whose words say so, or None."""
    walk = state.walk
    found = _PART.match(bare(text)) if walk is not None else None
    if walk is None or found is None:
        return None
    what = found["what"]
    steps = mind.knowledge.procedure(walk.topic).steps
    if _END.match(what):
        return walking.jump(state, mind, now, Steer("jump", len(walk.plan)))
    if found["part"] is None and not bare(text).startswith(("jump", "skip")):
        return None
    said = _stems(what)
    where = [
        at for at, index in enumerate(walk.plan) if said and said <= _stems(phrases.filled(steps[index].do, mind.facts))
    ]
    ahead = [at for at in where if at > walk.at] or where
    if not ahead and found["part"] is not None and bare(text).startswith(("jump", "skip")):
        return walking.control(
            state, f"No step here speaks of {what}. You are at step {walk.number} of {len(walk.plan)}."
        )
    return walking.jump(state, mind, now, Steer("jump", ahead[0] + 1)) if ahead else None


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The move that the text asks for, or None when it asks for none or no walk is open."""
    for move in (skip_told, return_told, part_told, progress.done_told):
        outcome = move(state, text, mind, now)
        if outcome is not None:
            return outcome
    return None
