"""Work that is told done while no walk is in hand: "cord's coiled and back in its bay", "handed her over at six, told him everything".

It is like the wordings that ask for that work, so the matcher would open the procedure for what is done already. The report network is
asked whether it tells a step of that procedure done; then it is only acknowledged, and the procedure is offered. What has a word of
trouble in it, asks, or names a thing in telegram style ("hours left, two drivers") is left to the matcher.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import choosing, following, phrases, step_asked
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.report_network import words_of_step
from cabassist.record.defect_words import wants_record

DONE, REPORTS = 0.75, 0.7
"""From these chances on, of a step told done and of a report at all, work is taken as done."""
LEAST_WORDS, MOST_WORDS = 4, 24
_TELLS = Lazy(
    r"\b(?:(?:i|we|he|she|they|[a-z]+)(?:'s|'ve|'re)|is|are|was|were|got|did|gave|put|went|came|took|ran|told|made|hung|swept|shut|done|back|away|all (?:in|out|off|on|set|shut|down|locked)|[a-z]{2,}(?:ed|pped|nned))\b"
)
_TROUBLE = Lazy(
    r"\?|^(?:(?:ok|okay|so|right|well|and|now|alright) )*(?:let's|lets|let me|let us|i'll|we'll|time to|gonna|going to)\b|\b(?:not|\w+n't|no|never|nothing|nowt|none|cannot|but|except|still|stuck|dead|low|red|out of|need\w*|want\w*|how|what|which|where|when|why|who|what'?s|whats|(?:take|walk|talk|lead|show|tell|run|guide|get|give) (?:me|us)|first thing|through|should|could|would|can|if|please|help|again|keeps?|won't|looking|just (?:got|pulled|arrived)|full|brim|empty|dry|froz\w*|freez\w*|leak\w*|smell\w*|br[oe]k\w*|busted|crack\w*|trip\w*|beep\w*|hiss\w*|gone|lost|flat|left)\b"
)


def acknowledged(state: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The outcome, or the acknowledgment of work told done where a procedure for it would have opened."""
    reply = outcome.reply
    opened = reply.kind == "procedure" and outcome.state.walk is not None and outcome.state.walk.at == 0
    if state.walk is not None or state.asking is not None or state.pending is not None or not opened:
        return outcome
    topic, said = reply.topic or "", plain(text)
    if topic in mind.knowledge.hazards or reply.readings or mind.report_network is None:
        return outcome
    if not LEAST_WORDS <= len(said.split()) <= MOST_WORDS or not _TELLS.search(said) or _TROUBLE.search(text.lower()):
        return outcome
    if choosing.begins_deed(bare(text), mind) or wants_record(text) or mind.hazards.find(text) is not None:
        return outcome
    if following.AMOUNT.search(bare(text)):
        return outcome
    steps = mind.knowledge.procedure(topic).steps
    words = [phrases.filled(words_of_step(step.do, step.done_when), mind.facts) for step in steps]
    if mind.report_network.judge(text, (words[0],))[0].acts["report"] < REPORTS:
        return outcome
    judged = mind.report_network.judge(text, tuple(words))
    if max(told.done for told in judged) < DONE:
        return outcome
    title = mind.knowledge.title(topic)
    lines = ("Good, that is done.", f"Say yes to open: {title}.")
    asking = Asking("choice", (topic,), said=step_asked.IN_PASSING)
    event = EventDraft("asked", {"said": text, "verdict": "in-passing", "topics": [topic], "confidence": round(reply.confidence, 3)})  # fmt: skip
    after = replace(state, asking=asking, question=text, failures=0)
    return Outcome(after, Reply("control", " ".join(lines), lines, options=(topic,), nearest=(topic,)), (event,))
