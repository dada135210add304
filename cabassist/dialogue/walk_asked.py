"""What is asked at a step in no way that is known: told by a sum, by the lines of the walk, or said not to be known.

Who asks "what pressure should it come up to" and gets the same step again was not heard. A number that can be worked out without
the walk is worked out; else the line of the procedure that speaks of the same is read, the nearest first; else it is said
that nothing more is known. The step in hand stays.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from cabassist.dialogue import coach_asked, deciding, phrases, step_asked, told_at_step
from cabassist.dialogue.types import Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import beginnings, plain
from cabassist.language.routing import Decision

ASKS = 0.6
"""From this chance on the network hears a question."""
MOST_WORDS = 20
_AGAIN = "You are in this one"
_NO_ANSWER = "I have no answer to that."
_NO_PLACE = "I do not know where that is: the profile does not say."
_KNOWS_STEP = "I know only what the step says."
_QUESTION = Lazy(
    r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|wait|hang on|oh|sorry|yeah|also|again|by the way) )*(?:how|what|which|when|where|why|who|is|are|does|do|did|will|would|can|could|should|may|must|has|have)\b(?! (?:was i|were we|am i|are we|step|now|next|else)\b)|^[^?]{3,40}[,;] (?:what|which|how|can|could|will|may|is)\b"
)
_HOW_DONE = Lazy(r"\bhow (?:do|can|should|would) (?:i|we|you)\b(?! (?:know|tell|see|make sure))|\bhow to\b|\b(?:walk|take) (?:me|us)\b")  # fmt: skip
_FIRST_AMOUNT = Lazy(r"^(?P<amount>(?:it's |it is |the breaker is |it's a |a |only )*\d[\d.]* ?[a-z]+(?: breaker)?)[,;.] *(?:so |and |then )*(?P<asks>(?:what|which|how|can|could|will|may)\b.*?) (?:on|with|from|off|at) (?:that|it|this)(?P<end>\b.*)$")  # fmt: skip
"""An amount, and a question that points at it: "15 amps, what can I run on that"."""
_AT_ONCE = Lazy(
    r"^(?:(?:so|and|but|ok|okay|hey|wait) )*(?:can|could|may|will|would) (?:(?:i|we|you) (?:run|use|have) (?P<run>.+? and .+?)|(?P<things>.+? and .+?) (?:both )?(?:run|be on|go|work))(?: on)?(?: (?:together|at once|at the same time|at one time|side by side))+(?: (?:here|then|now|on this))*$"
)
_JOINED = re.compile(r" and | or |, ")
_POINTS = Lazy(r"\b(?:this|that)\b|\b(?:do|doing|does|did) it\b")
_WHAT_IF = Lazy(r"\bwhat (?:if|happens (?:if|when))\b")
_KNOWN_BY = Lazy(r"\bhow (?:do|will|would|can|could|should|did) (?:i|we|you) (?:know|tell|see|make sure|be sure)\b|\bwhen (?:is|am|are) (?:it|this|that) (?:done|ready|enough)\b")  # fmt: skip
_WHERE = Lazy(r"\b(?:where|which)\b")
_REASON = Lazy(r"\bwhy\b|\bhow come\b|\bwhat for\b")
_FIGURE = re.compile(r"\d|\b(?:half|quarters?|two|three|four|five|six|ten|some|hours?|minutes?)\b")
_WANTS_FIGURE = Lazy(r"\bhow (?:many|much|long|far|high|low|cold|hot|warm|fast|deep|big|often|hard)\b|\b(?:what|which) (?:pressure|temperature|voltage|level|reading|number|amount|volume|speed|height|time)\b")  # fmt: skip
_MEASURES = {"pres": r"\bpsi\b", "volt": r"\bvolts?\b", "long": r"\b(?:hours?|minutes?|seconds?)\b", "time": r"\b(?:hours?|minutes?|seconds?)\b", "cold": r"°|\bdegrees?\b", "temp": r"°|\bdegrees?\b"}  # fmt: skip
"""What a figure that is asked for is counted in, by the beginning of the word that asks."""
_SMALL = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two what which how why when those these ones where who will would can could should does did isn't won't don't there here"
    " again still just about some really know tell enough long much many far coach bus side part step thing make sure done get got put set come turn need must may might only want gonna going else like use used take before after".split()
)


def answered(state: State, text: str, outcome: Outcome, mind: Mind, afresh: Callable[[str], Outcome]) -> Outcome:
    """The outcome, or the answer to a question about the walk in hand that would have brought the same step or a choice.

    `afresh` answers a text as if no walk were in hand.
    """
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or walk.topic in mind.knowledge.hazards:
        return outcome
    if (line := _wished(walk, text, outcome, mind)) is not None:
        return _said(state, walk, text, line, outcome, mind)
    if told_at_step.RECORDS.search(plain(text)):
        return outcome
    if _leads_off(state, outcome, mind) and not mind.wishes.find(text) and (thing := coach_asked.place_wanted(text)):
        line = _line(walk, plain(text), mind)
        whole = beginnings(thing, _SMALL) <= beginnings(line, _SMALL)  # "heater switch" is none of the lights' switches
        return _said(state, walk, text, line if whole else "", outcome, mind, _NO_PLACE)
    if (meant := _meaning(state, walk, text, outcome, mind)) is not None:
        return meant
    if len(text.split()) > MOST_WORDS or not _unanswered(outcome, walk, mind) or not _asks(text, walk, mind):
        return outcome
    if (worked := _together(text, mind, afresh) or _worked(text, afresh)) is not None:
        return _beside(state, worked, mind)
    if outcome.reply.show[0] == _NO_ANSWER:
        return outcome  # with the procedure that may help
    if outcome.reply.show[0] == _KNOWS_STEP and not _WANTS_FIGURE.search(plain(text)):
        return outcome
    line = _line(walk, plain(text), mind)
    points = outcome.reply.kind == "clarify" and _POINTS.search(plain(text)) is not None
    if not line and outcome.reply.kind != "step" and not points:
        return outcome
    return _said(state, walk, text, line, outcome, mind)


_WISHES = Lazy(
    r"^(?:(?:no|but|well|hey|wait|oh|actually|and|so|ok) )*(?:i|we|they) (?:still )?(?:want|need|would like|'d like|meant?) (?:it|them|those|these|that|(?:the |my |our )?[a-z]+(?: [a-z]+)?) (?:turned |switched )?(?P<how>on|off)\b"
)
_TURNS = {"on": re.compile(r"\b(?:switch|turn|put)\b[^.,]*\bon\b", re.I), "off": re.compile(r"\b(?:switch|turn)\b[^.,]*\boff\b", re.I)}  # fmt: skip


def _wished(walk: Walk, text: str, outcome: Outcome, mind: Mind) -> str | None:
    """The step that turns on or off what is wished so, where the wish would have been taken for trouble or for nothing."""
    found, reply = _WISHES.match(plain(text)), outcome.reply
    unheard = reply.kind in ("unknown", "clarify") or reply.show[0].startswith((_AGAIN, "Not done, then", "Still at"))
    if found is None or not unheard or reply.topic not in (walk.topic, None):
        return None
    orders = {at: mind.knowledge.procedure(walk.topic).steps[index].do for at, index in enumerate(walk.plan)}
    places = [at for at, do in orders.items() if _TURNS[found["how"]].search(do)]
    if walk.at in places or not places:
        return None
    at = next((one for one in places if one > walk.at), places[-1])
    return f"Step {at + 1} says: {phrases.filled(orders[at], mind.facts)}"


_MEANS = Lazy(
    r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|wait|oh|sorry|also|by the way) )*(?:what(?:'s| is| are|'re|s)\b.*\b(?:for|mean|about|the point(?: of \w+(?: \w+)?)?|supposed to (?:mean|do|be(?: for)?))|what (?:do|does|did|would|will)\b.*\b(?:mean|do|for|keep in \w+|in (?:it|them|there)|touch|need\b.*))(?: (?:anyways?|anyhow|then|exactly|again|really|here|at all|in the first place))*$"
)
"""Asks what a thing or a step is for or means."""
_NORMAL = Lazy(
    r"^(?:(?:so|and|but|ok|okay|right|well|hey|wait|oh) )*(?:is|are|was|were) (?:that|this|it|they|those|these|one|two|an?|some|the|all|my|only|just|both)\b.*\b(?:normal|usual|typical|expected|supposed to|meant to|how it should be|a bad sign|a good sign|to be expected)\b(?! be\b)"
)
"""Asks whether what is seen is as it should be."""


def _meaning(state: State, walk: Walk, text: str, outcome: Outcome, mind: Mind) -> Outcome | None:
    """What a step is for, what if, and whether it is normal, where that opened something else or brought a menu: the step stays; else None.

    The procedure that it was like is only offered.
    """
    said = plain(text)
    if len(said.split()) > MOST_WORDS or not _leads_off(state, outcome, mind) or outcome.reply.kind == "defect":
        return None
    means, asks = _MEANS.match(said), _WHAT_IF.search(said) or _NORMAL.match(said)
    if not (means or asks) or mind.wishes.find(text) or _HOW_DONE.search(said) or _WHAT_TO_DO.search(said):
        return None
    line = _purpose(walk, said, mind) if means else ""
    line = line or _line(walk, said, mind)
    opened = outcome.state.walk if outcome.reply.kind == "procedure" else None
    if opened is None or means:
        return _said(state, walk, text, line, outcome, mind)
    decision = Decision("unknown", (opened.topic,), outcome.reply.confidence)
    return step_asked.answered(state, walk, text, line, opened.topic, decision, mind)


_WHAT_TO_DO = Lazy(r"\bwhat (?:do|should|must|can|shall) (?:i|we) do\b|\bwhat to do\b")


_OF_ASKING = frozenset("anyway anyways anyhow point mean keep supposed exactly again".split())


def _purpose(walk: Walk, said: str, mind: Mind) -> str:
    """The reason of the step in hand, where that is asked and nothing is named that it does not speak of."""
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    named = beginnings(said, _SMALL | _OF_ASKING)
    if not step.why or not named <= beginnings(phrases.filled(step.do, mind.facts), _SMALL):
        return ""
    return f"The reason for this step: {phrases.filled(step.why, mind.facts)}"


def _leads_off(state: State, outcome: Outcome, mind: Mind) -> bool:
    """Whether the outcome opened another procedure on top, logged a defect, or asks what harmless thing is meant."""
    reply, after = outcome.reply, outcome.state.walk
    opened = reply.kind == "procedure" and after is not None and all(one.topic != after.topic for one in state.walks)
    logged = reply.kind == "defect" or any(event.kind == "defect" for event in outcome.events)
    asked = reply.kind == "clarify" and not set(reply.options) & mind.knowledge.hazards
    return (opened and reply.topic not in mind.knowledge.hazards) or logged or asked


def _unanswered(outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether the outcome is the same step again, a choice of harmless things, or that nothing is known."""
    reply = outcome.reply
    if reply.kind == "step":
        return reply.show[0].startswith(_AGAIN) and reply.topic == walk.topic
    unknown = reply.kind in ("unknown", "clarify") or reply.show[0] == _NO_ANSWER
    return unknown and not set(reply.options) & mind.knowledge.hazards


def _asks(text: str, walk: Walk, mind: Mind) -> bool:
    """Whether a text asks for something that is no way of doing it."""
    said = plain(text)
    if _HOW_DONE.search(said):
        return False
    if "?" in text or _QUESTION.match(said):
        return True
    if mind.report_network is None:
        return False
    return phrases.heard_here(text, walk, mind).acts["asks"] >= ASKS


def _together(text: str, mind: Mind, afresh: Callable[[str], Outcome]) -> Outcome | None:
    """Whether two loads may run at once on the coach's own inlet; None where not both of them are known."""
    found = _AT_ONCE.match(plain(text))
    if found is None or not any("shore" in name for name in mind.facts):
        return None
    things = found["things"] or found["run"]
    outcome = afresh(f"can {things} run together on {mind.facts['shore.amps']}")
    worked = outcome.state.worked
    if outcome.reply.kind != "calculation" or outcome.reply.estimate is None or worked is None:
        return None
    loads = next((str(one.value) for one in worked.inputs if one.name == "loads"), "")
    if len(loads.split(";")) != len(_JOINED.split(things)):
        return None
    rest = f"On the coach's inlet of {mind.facts['shore.amps']}, with nothing else on."
    reply = replace(outcome.reply, say=f"{outcome.reply.say} {rest}", show=(*outcome.reply.show, rest))
    return outcome._replace(reply=reply)


def _worked(text: str, afresh: Callable[[str], Outcome]) -> Outcome | None:
    """What is worked out when the walk is left aside; None when that gives no number."""
    found = _FIRST_AMOUNT.match(text.strip(" ?.!").lower())
    forms = [text] if found is None else [f"{found['asks']} on {found['amount']}{found['end']}", text]
    for form in forms:
        outcome = afresh(form)
        if outcome.reply.kind == "calculation" and outcome.reply.estimate is not None:
            return outcome
    return None


def _beside(state: State, worked: Outcome, mind: Mind) -> Outcome:
    """A number that was worked out, with the walk as it stands."""
    after = replace(worked.state, walks=state.walks, asking=state.asking, timers=state.timers, topic=state.topic)
    return Outcome(after, deciding.standing(worked.reply, after, mind), worked.events)


def _line(walk: Walk, said: str, mind: Mind) -> str:
    """The line of the walk that answers best: of the step in hand or of another that names what is asked; nothing when none does."""
    procedure = mind.knowledge.procedure(walk.topic)
    named = beginnings(said, _SMALL)
    wants, here = _WANTS_FIGURE.search(said), walk.plan[walk.at]
    measure = next((re.compile(one) for word, one in _MEASURES.items() if wants and word in beginnings(wants[0], frozenset())), None)  # fmt: skip
    step = procedure.steps[here]
    if _KNOWN_BY.search(said) and step.done_when:
        return f"Done when: {phrases.filled(step.done_when, mind.facts)}"
    if _REASON.search(said) and step.why:
        return f"The reason for this step: {phrases.filled(step.why, mind.facts)}"
    if step.wait and step_asked.HOW_LONG.search(said):
        return f"Wait {phrases.wait_words(step, mind)}."
    least = LEAST_SHARED if len(named) > 2 or not _WHERE.search(said) else LEAST_WHERE
    best, line = 0.0, ""
    for place, index in enumerate(walk.plan):
        one = procedure.steps[index]
        opens = "" if index == here else f"Step {place + 1} says: "
        whole = beginnings(phrases.filled(f"{one.do} {one.done_when or ''}", mind.facts), _SMALL)
        order = one.do if opens else ""
        if order and wants and one.done_when and (measure or _FIGURE).search(one.done_when):
            order = f"{one.do} Done when: {one.done_when}"
        for part in (order, one.done_when, one.why, *(caution.text for caution in one.cautions)):
            sentence = phrases.filled(part or "", mind.facts)
            figure = bool(sentence) and (measure or _FIGURE).search(sentence) is not None
            if not sentence or (wants and not figure):
                continue
            shared = len(named & beginnings(sentence, _SMALL)) + 0.5 * len(named & whole)
            nearer = (1.0 if not opens and wants and measure else 0.0) + (0.2 if index == here else 0.0)
            if shared + nearer > best and (shared >= least or nearer >= 1.0):
                best, line = shared + nearer, f"{opens}{sentence}"
    ends = [f"Stop when: {one}" for one in procedure.stop_when] + list(procedure.never)
    for sentence in () if wants else (phrases.filled(one, mind.facts) for one in ends):
        count = len(named & beginnings(sentence, _SMALL))
        if count > best and count >= (1 if _WHAT_IF.search(said) else LEAST_SHARED):
            best, line = count, sentence
    return line


LEAST_SHARED, LEAST_WHERE = 2.0, 1.5
"""So much of a line must be of what is asked: a word in the line itself counts one, the same in its step a half; where a thing goes needs less."""


def _said(
    state: State, walk: Walk, text: str, line: str, outcome: Outcome, mind: Mind, unknown: str = _NO_ANSWER
) -> Outcome:
    """A line of the walk, or that nothing more is known, and the step in hand."""
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    known = [line] if line else [unknown]
    if not line and step.done_when and unknown == _NO_ANSWER:
        known.append(f"Done when: {phrases.filled(step.done_when, mind.facts)}")
    if not line and _WHAT_IF.search(plain(text)):
        known.append(f"Call: {phrases.filled(mind.knowledge.procedure(walk.topic).call, mind.facts)}")
    do = phrases.filled(step.do, mind.facts)
    lines = (*known, f"Still at step {walk.number} of {len(walk.plan)}: {do}")
    reply = Reply(
        "step" if line else "unknown", " ".join(lines), lines, topic=walk.topic, step=phrases.mark(walk),
        confidence=outcome.reply.confidence,
    )  # fmt: skip
    payload = {"said": text, "verdict": "in-passing", "topics": [], "confidence": round(outcome.reply.confidence, 3)}
    return Outcome(replace(state, question=text, failures=0), reply, (EventDraft("asked", payload),))
