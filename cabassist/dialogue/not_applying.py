"""Why a step of the walk in hand does not apply: "no slope here", "it's level, no need", at or before "If the ground slopes, ...".

"Doesn't apply", "can't, there's none" and "none left, no need" are of the step in hand, when that has an "if".

Such a reason is neither a skip nor work done. At its step the walk goes on; before it, the reason is kept and the step passed
when it is reached.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, told_ahead, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

MOST_WORDS = 14
TAIL = told_ahead.TAIL
NOT_SO = "does not apply"
"""What is kept in the record with such a step."""
_FLAT = Lazy(
    r"^(?:(?:ok|okay|yeah|yep|no|nope|so|and|well|right|the|we|we're|we are|parked up|pulled in|it|it's|its|it is|she's|coach|bus|ground|lot|parking lot|pad|site|slab|gravel|asphalt|pavement|pitch|place|spot|this|here|is|'s|pretty|dead|nice|all|perfectly|totally|fairly|quite|parked|on|a|already|sitting|standing|stands|ground's|lot's|spot's|that's) )*(?:level|flat|even)(?: (?:ground|here|lot|spot|surface|pad|enough|as a pancake|as can be|tonight|already|where we are|out here))*(?: (?:so )?(?:no need|no chocks?|don't need|doesn't need|nothing to chock|skip)\b.{0,30})?$"
    r"|^(?:(?:ok|okay|yeah|no|so|well|there's|there is|there isn't|we have|we've got|got|isn't|not) )*(?:no|any|on a|a|much of a|not a) (?:real )?(?:slope|hill|incline|grade|tilt|slant)(?: (?:here|at all|to speak of|tonight|in this lot|on this lot))*(?: (?:so )?(?:no need|no chocks?|don't need|skip)\b.{0,30})?$"
    r"|^(?:it |the (?:ground|lot) )?(?:doesn't|does not|isn't|is not|not) (?:slope|sloped|sloping|tilted|on a (?:slope|hill))(?: (?:here|at all))*$"
)
_SLOPES = Lazy(r"\bslop(?:e|es|ing)\b")
_ON_LEVEL = Lazy(r"\b[Ll]evel (?:ground|spot|place)\b")
_PARKED = Lazy(r"^(?:(?:ok|okay|yeah|so|and|well|right|we're|we are|all|it's|she's) )*(?:parked|pulled in)\b")
_NONE_OF = Lazy(
    rf"^(?:(?:ok|okay|well|so|and|there's|there is|there are|we have|we've got|i see|got|see) )*(?:no|not any|none of|not a) (?P<thing>[a-z]+(?: [a-z]+){{0,3}}?)(?: (?:here|there|anywhere|at all|on (?:it|us|board)|aboard|up there|today|needed|to speak of))*(?: (?:so )?(?:no need|skip|don't need)\b.{{0,20}})?{TAIL}"
)
_IS_NOT = Lazy(
    rf"^(?:(?:ok|okay|well|so|and|the|our|my|it|it's|its|that|they|they're|we|we're|i|i'm) )*(?P<what>(?:[a-z]+ ){{0,3}}?)(?:is |are |was |does |do |has |'s )?(?:not|isn't|aren't|won't|doesn't|don't|hasn't|haven't|wasn't|didn't)(?: (?:going to|gonna|really|even|at all))* (?P<how>[a-z]+(?: [a-z]+){{0,3}}?){TAIL}"
)
_IF = Lazy(r"^if (?P<cond>[^,]+),")
_IF_ANY = Lazy(r"\bif (?:there (?:is|are)|you have|you carry|the site has) (?:one|any|some)\b")
"""The condition of a step that ends with it: "Bring the coach into a heated building if there is one."."""
_SO_WHAT = Lazy(
    r"[ ,.;]+(?:so |and |then )*(?:what else|what now|now what|what then|what's next|next|go on|carry on|move on)$"
)
_LEADS = r"^(?:(?:ok|okay|no|nope|nah|well|so|and|but|yeah|sorry|that|this|it|that one|this one|can't|cannot|can not|i can't|we can't|can't do|can't do that|there's|there is|there are|there isn't|there aren't|there|we|i|we have|we've got|we've|i have|haven't got|don't have|got|just|simply|really|here) )*"
_NEAR = Lazy(r"(?: (?:around|nearby|near|close by|in town|for miles|in sight))+$")
_OUTRIGHT = Lazy(
    _LEADS
    + r"(?:(?:doesn't|does not|don't|didn't) apply|not applicable|n ?a|not (?:the case|so|true)|isn't (?:the case|so)|isn't one|aren't any|isn't any|not relevant|irrelevant|doesn't (?:matter|count)|not (?:our|my|the) case)(?: (?:here|to us|to me|this time|today|now|then|in our case))*(?: (?!but\b).*)?$"
)
"""Says that the case is not so, and may say why."""
_NONE = Lazy(
    _LEADS
    + r"(?:none|not any|isn't any|aren't any|isn't one|nothing)(?: (?:left|here|there|around|anywhere|nearby|to be had|at all|aboard|of (?:it|them|that|those)|in town|on site))*(?: (?:so )?(?:no need|skip|nothing to \w+|it's|it is|they're|all|everything's)\b(?!.*\b(?:but|except|not|\w+n't)\b).{0,30})?$"
)
_NO_NEED = Lazy(
    _LEADS
    + r"(?:no need|not needed|isn't needed|not necessary|needn't)(?: (?:to|for) .{1,30})?(?: (?:here|now|then|today|tonight))*$"
)
_NEGATIVE = Lazy(r"\b(?:no|not|nobody|none|never|cannot|without|less|silent|dry|dark|stuck)\b")


def _not_so(text: str, walk: Walk, mind: Mind) -> int | None:
    """The place of the step, in hand or later, whose condition is told not to hold: "no slope here", at "If the ground slopes"."""
    said = plain(text)
    steps = mind.knowledge.procedure(walk.topic).steps
    flat = _FLAT.match(said) is not None
    none, is_not = _NONE_OF.match(said), _IS_NOT.match(said)
    if not (flat or none or is_not):
        return None
    for at in range(walk.at, len(walk.plan)):
        found = _IF.match(phrases.filled(steps[walk.plan[at]].do, mind.facts).lower())
        if found is None or _NEGATIVE.search(found["cond"]):
            continue
        if flat and _SLOPES.search(found["cond"]):
            return at
        cond = told_ahead.stems(found["cond"])
        named = (
            told_ahead.stems(none["thing"])
            if none
            else told_ahead.stems(f"{is_not['what']} {is_not['how']}")
            if is_not
            else set()
        )
        if named and named <= cond and (none or at == walk.at or len(named) > 1):
            return at
    return None


def _outright(text: str, walk: Walk, mind: Mind) -> bool:
    """Whether the step in hand has a condition, and a text says that it is not so, or that there is none."""
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    do = phrases.filled(step.do, mind.facts).lower()
    found, any_of = _IF.match(do), _IF_ANY.search(do)
    if found is None and any_of is None:
        return False
    said = plain(_SO_WHAT.sub("", text.strip(" .!").lower()))
    if _OUTRIGHT.match(said):
        return True
    if found is not None and _NEGATIVE.search(found["cond"]):
        return not step.cautions and _NO_NEED.match(said) is not None  # "there's none" says there that it is so
    none = _NONE_OF.match(_NEAR.sub("", said)) if any_of is not None else None
    if none is not None and told_ahead.stems(none["thing"]) and told_ahead.stems(none["thing"]) <= told_ahead.stems(do):
        return True
    return _NONE.match(said) is not None or (not step.cautions and _NO_NEED.match(said) is not None)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A step "if ..." passed because its condition is told not to hold, now or when it is reached; None for anything else."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or "?" in text or len(text.split()) > MOST_WORDS:
        return None
    if mind.knowledge.procedure(walk.topic).kind == "hazard" or mind.wishes.find(text):
        return None
    if state.asking is not None and state.asking.what not in ("reading", "resume", "skip-reason"):
        return None
    at = walk.at if _outright(text, walk, mind) else _not_so(text, walk, mind)
    if at is None:
        return None
    if at == walk.at:
        event = EventDraft("told-done", {"topic": walk.topic, "step": at + 1, "said": text, "when": NOT_SO})
        free = replace(state, asking=None, failures=0)
        outcome = walking.forward(free, mind, now, f"Step {walk.number} does not apply.")
        return Outcome(outcome.state, outcome.reply, (event, *outcome.events))
    kept = told_ahead.kept(state, (at,), text, NOT_SO, f"Then step {at + 1} does not apply.")
    here = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if _PARKED.match(plain(text)) and _FLAT.match(plain(text)) and _ON_LEVEL.search(here.do) and not here.reading:
        # "parked, it's dead level here" tells the parking done as well, and that nothing is to be chocked
        done = walking.told_done(kept.state, text, mind, now)
        return Outcome(done.state, done.reply, (*kept.events, *done.events))
    return kept
