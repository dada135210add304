"""What was meant: the decision for a text, in the context of the walk in hand, and its answer."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import framing, phrases, walking
from cabassist.dialogue.cold_inside import is_chilled, only_cold_inside
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.danger_network import Judged
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.language.routing import BOUNDS, Decision, decide
from cabassist.language.wishes import asks_leave
from cabassist.record.defect_words import told_fault

NAME_WORDS = 3
"""So few words name a thing ("the sewage handle") rather than report a danger, unless they hold a sign of one."""


LEAST_DANGER = 0.35
"""A danger less likely than this is put as a question, not opened: "and if it's twenty people" names none."""
NAMED_WORDS, NAMED_WISH = 4, 0.9
"""So few words that ask nothing hold a wish only where they hold a sign of it, or where it is this likely: "jump to the brakes"."""
LAMP_HAZARD = 0.9
"""A danger likelier than this is believed even where a lamp alone is spoken of."""
_LAMP_OUT = Lazy(
    r"^(?:(?:the|a|my|our|one of the|that|also|and|so|oh|hey|by the way) )*(?:[\w']+ ){0,5}(?:lamp|light|bulb|led|marker|headlight|taillight|tail light|blinker)s?(?: (?:over|by|in|at|on|above)(?: \w+){1,4}?)?(?:'s| is| are| has| have|'ve)?"
    r"(?: (?:just|gone|completely|all|now|again))*(?: (?:flicker\w*|burn(?:t|ed|s)? out|burnt|out|dead|blown|blew|dim|dark|gone|not (?:working|on)|(?:won't|doesn't|does not|will not) (?:work|light|come on)|keeps? (?:flickering|blinking|going out|cutting out)))(?: (?:again|now|too|as well|log it|note it))*$"
)
"""A lamp that fails, and nothing else."""


_DOSED = Lazy(r"\bhow (?:many|much)\b.*\b(?:add|adds|put|puts|mix|pour|dose|throw|dump|blend|use)\b")
"""Asks how much of something is put in: the network, which knows many such sums, hears no wish in it."""


def decided(text: str, ranking: Ranking, sign: str | None, mind: Mind, open_dangers: Collection[str] = ()) -> Decision:
    """What to do with a text, by its ranking and the signs in it, and by the dangers that are being dealt with."""
    if sign is None and (
        (ranking.hazard < BOUNDS.hazard and told_fault(text, mind.defect_words) is not None)
        or (ranking.hazard < LAMP_HAZARD and _LAMP_OUT.match(plain(text)))
        or only_cold_inside(text)
    ):
        # "a brake hose is leaking air" holds a cue of escaping gas, and "the step light burnt out" one of fire
        calm = tuple((name, chance) for name, chance in ranking.procedures if name not in mind.knowledge.hazards)
        ranking = replace(ranking, procedures=calm, hazard=0.0)
    ranking, signs = _reported(ranking, mind), mind.wishes.find(text)
    names = len(text.split()) <= NAMED_WORDS and "?" not in text and not asks_leave(text)
    if names and not signs and ranking.wish < NAMED_WISH:
        ranking = replace(ranking, wish=0.0)
    sign = sign or next((mind.knowledge.reporting[name] for name in signs if name in mind.knowledge.reporting), None)
    options = tuple(mind.knowledge.vague.get(ranking.vague_like, ()))
    speaks = len(text.split()) > NAME_WORDS
    judged = judged_beside(text, open_dangers, ranking, mind)
    if judged is not None and signs and ranking.wish >= BOUNDS.wish and _DOSED.search(plain(text)):
        judged = replace(judged, wish=max(judged.wish, BOUNDS.judged_sure_wish))
    if judged is not None and sign is None and _plainly_wished(text, signs, judged):
        lessened = {name: 0.0 if name in _ALSO_WISHED else chance for name, chance in judged.dangers.items()}
        judged = replace(judged, wish=max(judged.wish, BOUNDS.judged_sure_wish), dangers=lessened)
    elif judged is not None and not _SURE_SIGNS.isdisjoint(signs):
        judged = replace(judged, wish=max(judged.wish, BOUNDS.judged_sure_wish))
    decision = decide(
        ranking,
        sign,
        hazards=mind.knowledge.hazards,
        vague_options=options,
        homes=mind.knowledge.homes,
        wish_signs=[name for name in signs if name not in mind.knowledge.reporting],
        cues=mind.hazards.cued(text) if judged is None and speaks and ranking.hazard >= BOUNDS.hazard_with_cue else (),
        judged=judged,
        supposed=asks_leave(text),
    )
    first = decision.topics[0] if decision.verdict == "answer" else ""
    if first in mind.knowledge.hazards and (
        judged is not None or dict(ranking.procedures).get(first, 0.0) < LEAST_DANGER
    ):
        return Decision("clarify", decision.topics, decision.confidence)  # asked about, and not reported
    return decision


_SURE_SIGNS = frozenset({"idle-in-garage"})
"""Wishes whose signs are so plain, and so deadly, that the network cannot talk them away: the engine left on all night for heat."""


_ASKS_LEAVE = Lazy(
    r"^(?:(?:so|and|but|hey|well|um|uh) )*(?:(?:can|may|could) (?:i|we) |(?:is it |it's )?(?:ok|okay|safe|legal|alright|all right|fine)(?: for (?:me|us))? (?:to|if (?:i|we)) )"
)
_TURNED = Lazy(r"\b(?:not|\w+n't|instead|unplug\w*|stop\w*|switch off|turn off)\b")
_ALSO_WISHED = frozenset({"clean-up-waste-spill"})
"""Dangers that somebody may ask leave to make, so that a wish spoken like one is no report of it: "can I let it drip out as we go"."""
_SAME_WISH = 0.6
"""How likely the network must hold the very wish whose signs stand in the text."""


def _plainly_wished(text: str, signs: Sequence[str], judged: Judged) -> bool:
    """Whether leave is asked in so many words for the wish that both the signs and the network name.

    How politely it is asked ("is it ok to drive with the bay door open") must not make it a question of how it is done.
    """
    if not signs or not judged.which or (judged.danger >= BOUNDS.judged_danger and judged.worst not in _ALSO_WISHED):
        return False
    name, chance = judged.which[0]
    said = bare(text)
    return name in signs and chance >= _SAME_WISH and _ASKS_LEAVE.match(said) is not None and not _TURNED.search(said)


def only_wished(text: str, judged: Judged, mind: Mind) -> bool:
    """Whether a danger that a text seems to report is one that leave is asked to make, and nothing that is there."""
    return judged.worst in _ALSO_WISHED and _plainly_wished(text, mind.wishes.find(text), judged)


def in_hand(state: State) -> set[str]:
    """What is being dealt with: every walk, and the danger that is asked to be over."""
    asked = state.asking.options if state.asking is not None and state.asking.what == "out" else ()
    return {*asked, *(walk.topic for walk in state.walks)}


_LED = Lazy(r"\b(?:walk|take|lead|talk|guide|run|bring) (?:me|us) through\b")
"""Asks to be led through a procedure, and reports nothing."""


_COUNTED = rf"(?:(?:about|around|only|just|exactly|like|and|a|\d+|{'|'.join(sorted(NUMBER_WORDS))}) )+"
COUNTS_HEADS = Lazy(
    rf"^(?:(?:ok|okay|right|so|and|well|now) )*(?:(?:there are|there's|we are|we're|we have|we've got|we got|that makes|that's) )?(?:now )?{_COUNTED}(?:of us|people|persons|passengers|heads|kids|players|souls)(?: (?:on|in|all|told|total|here|aboard|board|now|today|tonight))*$"
)
"""Tells how many are aboard and nothing else; no danger, whatever it is like."""
_ALL_THERE = Lazy(
    rf"^(?!.*\b(?:not|n't|but|except|missing|sick|hurt|dizzy|head|headache\w*|alarm|smell\w*|smoke|fire)\b)(?=.*(?:\d|\b(?:{'|'.join(sorted(NUMBER_WORDS))}|all|every\w*)\b)).*\b(?:counted|count's right|accounted for|all (?:inside|here|present|there|back|aboard|accounted)|all (?:\w+,? )?(?:in|into|at|to) (?:the |their |our )?(?:lobby|hotel|motel|rooms?|rink|arena|gym|restaurant|diner|bar|building|beds?|bunks?|seats?))\b"
)
"""Says that everybody is where they should be."""


def asks_place(text: str) -> bool:
    """Whether a short text asks for the place in the walk, whatever of the walk it tells before: "back at the hose, where was I"."""
    return len(text.split()) <= _PLACE_WORDS and _ASKS_PLACE.search(bare(text)) is not None


_PLACE_WORDS = 12
_ASKS_PLACE = Lazy(r"\b(?:(?:which|what) step (?:was|am|were|are) (?:i|we) (?:on|at)|where (?:was|were) (?:i|we))$")


def judged_beside(text: str, open_dangers: Collection[str], ranking: Ranking, mind: Mind) -> Judged | None:
    """What the network makes of a text. Of a danger that is being dealt with, only a plain report counts anew."""
    judged = mind.judge(text)
    if judged is None:
        return None
    led = (
        _LED.search(plain(text)) is not None
        or COUNTS_HEADS.match(bare(text)) is not None
        or _ALL_THERE.match(plain(text)) is not None
        or asks_place(text)
        or only_cold_inside(text)
        or is_chilled(text)
    )
    calm = {name for name in judged.dangers if led or (name in open_dangers and ranking.hazard < BOUNDS.hazard)}
    return replace(judged, dangers={name: 0.0 if name in calm else chance for name, chance in judged.dangers.items()})


def _reported(ranking: Ranking, mind: Mind) -> Ranking:
    """The ranking with the wishes that report a danger counted as reports of it: "can it wait until the next stop"."""
    reports = [
        (mind.knowledge.reporting[name], chance) for name, chance in ranking.wishes if name in mind.knowledge.reporting
    ]
    if not reports:
        return ranking
    procedures = dict(ranking.procedures)
    for hazard, chance in reports:
        procedures[hazard] = procedures.get(hazard, 0.0) + chance
    moved = sum(chance for _, chance in reports)
    return replace(
        ranking,
        procedures=tuple(sorted(procedures.items(), key=lambda row: -row[1])),
        wishes=tuple(row for row in ranking.wishes if row[0] not in mind.knowledge.reporting),
        wish=ranking.wish - moved,
        hazard=ranking.hazard + moved,
    )


CORRECTS = re.compile(
    r"^(?:(?:oh|no|wait|hang on|hold on|sorry|actually|my (?:mistake|bad)|correction|scratch that|i was wrong) )+(?:it's|it is|that's|that is|there's|there are|make (?:it|that)|it was|it should be)\b"
)
"""What was told before put right; no wish, whatever the walk in hand."""
_POINTS = re.compile(r"\b(?:it|that|this|them|these|those|one|ones|there|him|her)\b")


def in_context(text: str, ranking: Ranking, decision: Decision, state: State, mind: Mind) -> Decision:
    """The decision once the walk in hand is taken into account: "can I tape it so it stays in", "it's frozen"."""
    walk = state.walk
    if (
        walk is None
        or decision.verdict in ("hazard", "refuse")
        or (decision.verdict == "answer" and decision.confidence > 0.85)
    ):
        return decision
    if _POINTS.search(plain(text)) and not CORRECTS.match(plain(text)):
        whole = f"{mind.knowledge.title(walk.topic)}: {text}"
        joined = decided(whole, mind.ranked(whole), None, mind)
        if (
            joined.verdict == "refuse"
            and joined.wish
            and walk.topic
            in {
                mind.knowledge.wish(joined.wish).caution_topic,
                *mind.knowledge.wish(joined.wish).also,
            }
        ):
            return joined
    if decision.verdict == "clarify":
        procedure = mind.knowledge.procedure(walk.topic)
        near = [name for name in decision.topics if name in (*procedure.related, *procedure.then)]
        if len(near) == 1 and walk.topic not in decision.topics:
            return Decision("answer", (near[0],), dict(ranking.procedures).get(near[0], 0.5))
    return decision


def _asked_afresh(state: State, decision: Decision, text: str) -> bool:
    """Whether a walk that has not moved from its first step is asked for in so many words."""
    walk = state.walk
    return walk is not None and walk.at == 0 and walk.topic == decision.topics[0] and framing.unframed(text) is not None


def answered(state: State, decision: Decision, text: str, mind: Mind, now: datetime) -> Outcome:
    """The answer to a question by its decision: a procedure, a no, a question back, or that nothing fits."""
    payload = {
        "said": text,
        "verdict": decision.verdict,
        "topics": list(decision.topics),
        "confidence": round(decision.confidence, 3),
    }
    event = EventDraft("asked", payload)
    if decision.verdict == "refuse":
        outcome = _refused(state, decision, mind)
    elif decision.verdict == "answer" and _asked_afresh(state, decision, text):
        walk = state.walks[-1]
        reply = phrases.opening(mind.knowledge.procedure(walk.topic), walk, mind, decision.confidence)
        outcome = Outcome(replace(state, asking=None, failures=0), reply)
    elif decision.verdict == "answer":
        outcome = walking.open_walk(decision.topics[0], state, mind, now, decision.confidence, text)
    elif decision.verdict == "clarify":
        reply = phrases.choices("Which do you mean?", decision.topics, mind, decision.confidence)
        if decision.topics[0] in mind.knowledge.hazards:
            first = f"If that is there now: {phrases.escape(decision.topics[0], mind)}"
            reply = replace(reply, say=f"{first} {reply.say}", show=(first, *reply.show))
        outcome = Outcome(
            replace(state, asking=Asking("choice", decision.topics), question=text), standing(reply, state, mind)
        )
    else:
        reply = phrases.unknown(decision.topics, mind, decision.confidence, state.failures + 1)
        asking = Asking("choice", decision.topics)
        outcome = Outcome(
            replace(state, asking=asking, question=text, failures=state.failures + 1), standing(reply, state, mind)
        )
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


def standing(reply: Reply, state: State, mind: Mind) -> Reply:
    """The reply with the walk in hand named, so that nobody thinks it is gone."""
    walk = state.walk
    if walk is None:
        return reply
    return replace(
        reply,
        show=(
            *reply.show,
            f"You are still at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.",
        ),
        step=phrases.mark(walk),
    )


def _refused(state: State, decision: Decision, mind: Mind) -> Outcome:
    if not decision.wish:
        topic = decision.topics[0]
        reply = phrases.plain_refusal(topic, mind, decision.confidence)
        event = EventDraft("refused", {"wish": "", "topic": topic})
        after = replace(state, asking=Asking("choice", (topic,)), topic=topic)
        return Outcome(after, standing(reply, state, mind), (event,))
    wish = mind.knowledge.wish(decision.wish)
    topic = wish.caution_topic
    walk = state.walk
    if walk is not None and walk.topic in wish.also:
        topic = walk.topic
    reply = phrases.refusal(wish, mind, decision.confidence, topic)
    asking = Asking("choice", (topic,))
    event = EventDraft("refused", {"wish": wish.id, "topic": topic})
    return Outcome(replace(state, asking=asking, topic=topic), standing(reply, state, mind), (event,))
