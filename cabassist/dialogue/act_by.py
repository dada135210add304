"""By when to fill, dump or charge, and how long a supply lasts, as the board has it: "by when must I fill the outside bottle".

Spoken answer and board come from one forecast, so that they never name two times for one supply. Without a level, or
without the temperature that the heat depends on, that is asked for.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import phrases, reckoning, whose_level
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare

if TYPE_CHECKING:
    from cabassist.dialogue.board import BoardLine

_FILL = r"(?:re)?fill(?: up)?|top(?: up| off)?|take on|get|buy|pick up|find|load|swap|change|exchange|need|want"
_WHEN = Lazy(
    r"^(?:(?:and|so|ok|okay|then|but|now|hey|tell me|any idea|do you know) )*(?:by |until )?(?:when|what time|how (?:long|soon|late))(?:'s|'ll| is| are| do| does| must| should| will| would| can| could| have| has| till| until| before)*\b"
    r"|^(?:(?:and|so|ok|okay|then) )*(?:what(?:'s| is) )?the latest (?:time |that )?(?:i|we)\b|^(?:(?:and|so|ok|okay|then) )*deadline (?:for|to)\b"
)
_MUST = Lazy(
    r"\b(?:i|we|you|they)(?:'ll|'d|'ve)? (?:(?:next|really|absolutely|gotta|got to|have to|has to|need to|must|should|can|could|wait|to|go|and|for|until|till|before|gonna|going|be|be able) )*"
    rf"(?:{_FILL}|dump|empty|drain|pump out|charge|fuel(?: up)?|refuel)\b|\bneed(?:s)? (?:to be )?(?:dump\w*|empty\w*|fill\w*|charg\w*|drain\w*|swapp\w*|chang\w*)|\bdue\b|\bdeadline\b|\b(?:have|has|need|must|got|latest) .*\b(?:dump\w*|empt\w*|fill\w*|charg\w*|drain\w*|swap\w*)"
)
_LASTS = Lazy(
    r"\b(?:last|lasts|be enough|hold out|good for|run out|runs out|running out|run dry|runs dry|be (?:empty|out|gone)|is (?:\w+ )?(?:empty|gone)|out of)\b"
)
_SUPPLIES = (
    ("waste", Lazy(r"\b(?:waste|black|sewage|grey|gray|holding|dump\w*)\b")),
    ("propane", Lazy(r"\b(?:propane|gas|heat|bottles?|cylinders?|lpg|lp)\b")),
    ("house_battery", Lazy(r"\b(?:batter\w+|charge)\b")),
    ("diesel", Lazy(r"\b(?:diesel|fuel|refuel)\b")),
    ("fresh", Lazy(r"\b(?:fresh|water|drinking)\b")),
)
_TOPICS = {
    "waste": "dump-waste-tank",
    "fresh": "refill-during-stop",
    "propane": "swap-or-refill-cylinder",
    "house_battery": "house-battery-low",
    "diesel": "check-fluids",
}
_CHECKS = {"fresh": "check-fresh-level", "propane": "read-propane-gauges"}
_ASKS = {
    "waste": "how long until the waste tank is full",
    "fresh": "how long will the fresh water last",
    "propane": "how long will the propane last",
    "house_battery": "how long will the house battery last",
}
"""The question by which the level is asked back."""
_OTHERWISE = Lazy(
    r"\b(?:if|how do i|where|which|full|takes?(?! on)|took|open|hours?|minutes?|remind|engine|alarm|warning|smell\w*|leak\w*|frozen|freeze\w*|hot|warm|sanitiz\w*|bleach|each|a head|per)\b|\d"
)


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The time left of one supply and by when to act, from the board; what is missing for it is asked; else None."""
    said = bare(text)
    if not _WHEN.search(said) or _OTHERWISE.search(said):
        return None
    acts, lasts = _MUST.search(said) is not None, _LASTS.search(said) is not None
    named = [what for what, words in _SUPPLIES if words.search(said)]
    if not (acts or lasts) or not named:
        return None
    what, state = named[0], replace(state, pending=None)
    from cabassist.dialogue.board import lines_of

    lines = lines_of(what, state, mind, now)
    if not any(line.history for line in lines):
        return _level_asked(state, what, text, ranking, mind, now) if acts else None
    role = next((line for line in lines if line.which and line.which in said.split()), None)
    topic = _TOPICS[what] if acts else _CHECKS.get(what, _TOPICS[what])
    return _told(state, text, lines, role, topic, ranking, mind)


def _level_asked(state: State, what: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The question for the level, and what waits for it."""
    if what not in _ASKS:
        return whose_level.how_much(replace(state, failures=0), what, mind)
    from cabassist.sums.working import work_out

    worked = work_out(_ASKS[what], (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or not worked.question:
        return None
    return reckoning.answer(state, replace(worked, topic=_TOPICS[what]), text, ranking, mind)


def _told(
    state: State,
    text: str,
    lines: tuple[BoardLine, ...],
    role: BoardLine | None,
    topic: str,
    ranking: Ranking,
    mind: Mind,
) -> Outcome | None:
    from cabassist.dialogue.deadlines import as_worked, sentence

    known = [line for line in lines if line.estimate is not None]
    walk = state.walk
    if not known:
        words = next((line.left_words for line in lines if line.left_words), "")
        if not words:
            return None
        reply = Reply("clarify", words, (words,), topic=topic, step=phrases.mark(walk) if walk else None)
        return Outcome(replace(state, topic=topic), reply)
    whole = max(known, key=lambda line: line.left_low_h or 0.0)
    shown = [role] if role is not None and role.estimate is not None and role is not whole else []
    said = " ".join(f"{line.name}: {sentence(line)}" if shown else sentence(line) for line in (*shown, whole))
    line = shown[0] if shown else whole
    if line.estimate is None:
        return None
    estimate = replace(line.estimate, verdict=said)
    reply = Reply(
        "calculation",
        said,
        (said, *(f"  {one}" for one in line.why)),
        topic=topic,
        confidence=max(ranking.work_out, 0.5),
        estimate=estimate,
        step=phrases.mark(walk) if walk else None,
    )
    event = EventDraft("worked-out", {"said": text, "calculation": "act-by", "value": estimate.value, "asked": ""})
    state = replace(state, worked=as_worked(line, state), topic=topic, question=text, failures=0)
    return Outcome(state, reply, (event,))
