"""A question in passing while a walk is in hand: answered in one line where the walk knows it, and no other procedure opens for it.

Who asks whether the coach stands level enough wants to know that and go on. A procedure that opens instead loses the driver's
place, so the nearest one is only offered, and the step in hand stays. Who asks how something is done, or tells of a trouble,
is not asking in passing.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import choosing, framing, phrases, step_told, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.routing import Decision
from cabassist.language.steering_families import tells

MOST_WORDS = 16
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|alright|well|then|now|hey|wait|hang on|please|oh|hm+|um|uh|sorry|no|yeah|also|again|just|quick question|one question|question|by the way|tell me|remind me|do you know|any idea|i wonder|i'm wondering|wondering) )*"
_ASKS = Lazy(
    _LEAD
    + r"(?:is|are|was|were|isn't|aren't|wasn't|will|won't|would|wouldn't|does|doesn't|do|don't|did|didn't|has|hasn't|have|haven't|can|can't|could|couldn't|should|shouldn't|shall|must|may|might|need i|which|what's|what is|what are|what was|what does|what do|what will|what would|what kind|what sort|what size|what colou?r|what|how [a-z]+|how (?:do|will|would|can|could|should|did) (?:i|we|you) (?:know|tell|see|make sure|be sure)|how come|why|where|when|who|whose|if)\b"
)
_ASKS_AFTER = Lazy(
    r"[,.;:] *(?:(?:so|and|but|ok|okay) )*(?:does (?:it|that|this) matter|do(?:es)? (?:it|that) (?:count|do|hold)|is (?:that|it|this) (?:(?:really|still|all) )?(?:ok|okay|fine|bad|good|good enough|enough|a problem|normal|right|alright|all right|too \w+|supposed to be)|(?:what|which|why|how|will|can|should|is|are|do|does)\b[^.?!]{3,60}\?)[^.?!]{0,20}\??$"
    r"|[,.;:] *(?:so |and |but )?(?:should|must|may|can|do) (?:i|we)(?: really)?(?: have to| need to| now| yet)?(?=[,.;]|$)"
    r"|\?\s*$"
)
_WANTS_WALK = Lazy(
    r"\bhow (?:do|can|should|would|could|must|did) (?:i|we|you)\b(?! (?:know|tell if|tell when|tell whether|tell that|see if|make sure|be sure))|\bhow to\b|\bwhat (?:do|should|must|can|could|would|shall|am|are|else) (?:i|we) (?:\w+ )?(?:do|try|supposed to do)\b|\bwhat to do\b|\bwhat(?:'s| is| are) the (?:steps|procedure|right way|best way|proper way|way|drill|checklist|list|fix|cure)\b"
    r"|\b(?:walk|take|talk|lead|guide|help|run|step) (?:me|us)\b|\bshow (?:me|us) how\b|\b(?:can|could|will|would) you (?:open|start|begin|do|help|give|show)\b|\b(?:the )?(?:procedure|checklist|steps)(?: (?:for|to|of))\b|\b(?:can|could) (?:i|we) (?:do|have|start|see|open|hear|get) the\b"
)
"""Asks for the steps of something, which is what a procedure is for."""
_POINTS = Lazy(
    r"^(?!(?:and |so |but )?(?:the |our |my )[a-z]+ (?:do|does|is|are|can|should|will)\b).*\b(?:it|it's|its|they|them|ones?|(?:that|this|these|those)(?= (?:is|are|was|be|ok|okay|one|enough|right|go|matter|mean|count|to|for|in|on|at)\b|$))"
)
"""Points at what is in hand, and not at a thing named in the same breath: "and the propane, do I leave it open"."""
_YES_OR_NO = Lazy(
    _LEAD
    + r"(?:will|won't|would|wouldn't|can|can't|could|should|shouldn't|must|may|do (?:i|we) (?:really |still |even )?(?:need|have)|did (?:i|we)|(?:is|are) (?:the |my |our |it |that |this |they |both )?(?:[a-z]+ ){0,3}?(?:supposed|meant|allowed|ok|okay|safe) to|(?:should|must) (?:the |my |our |it |that |they |both ))\b"
)
"""Whether one may, should or need do something. Whether a thing works, "is the tape doing anything", is told by its own procedure."""
_SUPPOSED = Lazy(r"\b(?:supposed|meant|allowed) to\b")
_HOW_KNOWN = Lazy(
    r"\bhow (?:do|will|would|can|could|should|did) (?:i|we|you) (?:know|tell|see|make sure|be sure)\b|\bwhat (?:should|will|do|would) (?:i|we|it) (?:see|hear|feel|show|look)\b|\bwhen (?:is|am|are) (?:it|i|that|this|we) (?:done|finished|ready|good)\b"
)
_JUDGED = Lazy(
    r"\benough\b|\bdo(?:es)? (?:it|that|this) (?:really )?matter\b|\b(?:is|are) (?:it|that|this|they|those) (?:\w+ )?(?:ok|okay|fine|bad|good|right|alright|all right|normal|a problem|too \w+|supposed)\b|\b(?:should|supposed to|meant to|ought to)\b.* (?:be|sound|look|feel|show)\b|\bdo(?:es)? (?:it|that) count\b"
)
"""Asks whether what was found is as it should be."""
_ENOUGH = Lazy(r"\benough\b")
"""What is asked to be enough may be told by the reason of the step; whether a thing seen is good never is."""
HOW_LONG = Lazy(r"\bhow (?:long|many (?:minutes|hours))\b")
_WHICH = Lazy(r"\b(?:which|where|what one)\b")
_REASON = Lazy(
    r"\bdoes (?:it|that|this) (?:really )?matter\b|\bwhy\b|\bhow come\b|\bdo (?:i|we) (?:really |even |still )?(?:have to|need to|need)\b|\bmust (?:i|we)\b|\bis (?:that|it|this) (?:really |even )?(?:needed|necessary|important)\b|\bwhat(?:'s| is) (?:that|it|this) (?:good )?for\b|\bwhat (?:if|happens)\b"
)
_SMALL = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two what which how why when where who will would can could should does did isn't won't don't"
    " there here again still just about some really know tell enough long much many far coach bus side part step thing make sure done get got put set turn need must may might matter mean means right okay fine good".split()
)
LEAST_SHARED = 3
"""A sentence of the walk that shares so many words with a question, and most of the question's, answers it."""


def asked(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """What the walk in hand says to a question in passing, with the procedure it is like only offered; None where that may open.

    Args:
        state: where the conversation stands.
        text: what was said, without any sign of danger.
        decision: what it was taken for, when no walk is in hand.
        mind: what the turn knows.
    """
    walk = state.walk
    if walk is None or decision.verdict not in ("answer", "clarify", "unknown") or len(text.split()) > MOST_WORDS:
        return None
    if walk.topic in mind.knowledge.hazards or not decision.topics:
        return None
    topic = decision.topics[0]
    dangerous = topic in mind.knowledge.hazards
    if dangerous and decision.verdict != "unknown" or not _in_passing(text, walk, mind):
        return None
    known = _known(walk, plain(text), mind)
    if decision.verdict != "answer" or topic == walk.topic:
        return answered(state, walk, text, known, "", decision, mind) if known else None
    return answered(state, walk, text, known, topic if decision.confidence >= OFFERED_FROM else "", decision, mind)


def well_told(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """A report that something is as it should be, which opens no procedure for the trouble that it is like; None for anything else."""
    walk = state.walk
    if walk is None or decision.verdict != "answer" or "?" in text or decision.topics[0] == walk.topic:
        return None
    if {walk.topic, decision.topics[0]} & mind.knowledge.hazards or mind.wishes.find(text):
        return None
    said = bare(text)
    if not step_told.well(said) or choosing.begins_deed(said, mind) or _ASKS.match(plain(text)) or _WANTS_WALK.search(said):  # fmt: skip
        return None
    line = f"Good. Still at step {walk.number}. Say next when it is done."
    return walking.control(replace(state, failures=0), line, topic=walk.topic)


OFFERED_FROM = 0.6
"""A procedure that is less likely than this is not offered either."""


def _in_passing(text: str, walk: Walk, mind: Mind) -> bool:
    """Whether a text only asks about what is being done, and asks for no procedure and tells of no trouble elsewhere."""
    said = plain(text)
    if not (_ASKS.match(said) or _ASKS_AFTER.search(text.lower().replace("’", "'"))):
        return False
    if _WANTS_WALK.search(said) or framing.unframed(text) is not None:
        return False
    if _of_step(said, walk, mind):
        return True
    # of other things only a yes or no on what to do is wanted in passing: "is the pump stuck" wants its own procedure
    return _YES_OR_NO.match(said) is not None and (not tells(said) or _SUPPOSED.search(said) is not None)


def _stems(words: str) -> set[str]:
    return beginnings(words, _SMALL)


def _of_step(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a question names a thing of the step in hand, or nothing of its own."""
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    words = phrases.filled(f"{step.do} {step.done_when or ''}", mind.facts)
    named = _stems(said)
    return bool(named & _stems(words)) or not named or _POINTS.search(said) is not None


def answered(state: State, walk: Walk, text: str, known: str, topic: str, decision: Decision, mind: Mind) -> Outcome:
    """What is known, or that nothing is; the procedure that may help, if any; and the step in hand."""
    lines = offering(known or "I have no answer to that.", topic, walk, mind)
    options = (topic,) if topic else ()
    reply = Reply(
        "step" if known else "control" if topic else "unknown",
        " ".join(lines),
        lines,
        topic=walk.topic,
        options=options,
        nearest=options,
        confidence=decision.confidence,
        step=phrases.mark(walk),
    )
    payload = {
        "said": text,
        "verdict": "in-passing",
        "topics": list(options),
        "confidence": round(decision.confidence, 3),
    }
    asking = Asking("choice", options, said=IN_PASSING) if topic else state.asking
    after = replace(state, asking=asking, question=text, failures=0)
    return Outcome(after, reply, (EventDraft("asked", payload),))


def offering(first: str, topic: str, walk: Walk, mind: Mind) -> tuple[str, ...]:
    """What is answered, the procedure that is offered beside it, if any, and the step that stays in hand."""
    do = phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts)
    offered = (f"Say yes to open: {mind.knowledge.title(topic)}.",) if topic else ()
    return (first, *offered, f"Still at step {walk.number} of {len(walk.plan)}: {do}")


IN_PASSING = "in passing"
"""What `Asking.said` holds where a procedure is only offered beside an answer: only a yes or its number takes it."""


def _known(walk: Walk, said: str, mind: Mind) -> str:
    """One line of the walk that answers: what the step is done when, why it is done, or a sentence that speaks of the same; or nothing."""
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    named = _stems(said)
    done, why, do = (phrases.filled(part or "", mind.facts) for part in (step.done_when, step.why, step.do))
    if done and _HOW_KNOWN.search(said) and (not named or named & _stems(f"{do} {done}")):
        return f"Done when: {done}"
    if step.wait and HOW_LONG.search(said):
        return f"Wait {phrases.wait_words(step, mind)}."
    judged = _JUDGED.search(said) is not None
    cautions = (phrases.caution_line(one, mind.facts) for one in step.cautions if named & _stems(phrases.filled(one.text, mind.facts)))  # fmt: skip
    warned = next(cautions, "")
    if judged and warned:  # "a brown mark, is that ok"
        return warned
    shared_done, shared_why = len(named & _stems(done)), len(named & _stems(why))
    if (judged and shared_done and shared_done > shared_why) or shared_done > 1:
        return f"Done when: {done}"
    wants_reason = _REASON.search(said) is not None or (_ENOUGH.search(said) is not None and shared_why > 0)
    if wants_reason and why and (not named or named & _stems(f"{do} {why}")):
        return f"The reason for this step: {why}"
    if _WHICH.search(said) and named and named <= _stems(do):
        return "I know no more of it than the step says."
    best, line = 0, ""
    for place, index in enumerate(walk.plan):
        one = procedure.steps[index]
        parts = [part for part in ("" if place == walk.at else one.do, one.done_when, one.why) if part]
        for text in (*parts, *(caution.text for caution in one.cautions)):
            sentence = phrases.filled(text, mind.facts)
            shared = len(named & _stems(sentence))
            if shared > best:
                best, line = shared, f"Step {place + 1} says: {sentence}"
    if best >= LEAST_SHARED and best * 2 > len(named):
        return line
    return warned


__all__ = ["IN_PASSING", "answered", "asked", "offering", "well_told"]
