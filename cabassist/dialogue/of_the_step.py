"""What is told of the step in hand, and was heard as a word to the assistant: a stop, a skip, the sources, or a defect to be kept.

"That's everything that was mended" stops nothing, "they've got it" leaves nothing out, and "put down both volts and times" reports
no defect. Words of stopping with a report around them are no stop, for somebody who ends a walk says so. Where the report network
reads a report, the step in hand is gone on from; else the walk stays where it is, which loses less than a walk that is gone.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, told_ahead, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.record.defect_words import told_trouble

REPORTS, SURELY = 0.6, 0.85
"""From this chance on, what is said is a report at the step; and where something else must be overruled."""
MOST_COMMAND = 0.35
"""Above this chance of a command, the walk is stopped."""
DONE = 0.5
_LOOSE = Lazy(
    r"\b(?:that's|thats|that is|that was|so that's) (?:it|all|everything|the lot|all of (?:it|them)|about it)\b|\bany ?more\b|\bleave (?:that|this|the|it|those|them|these)\b(?: one| ones)?(?: \w+)? off\b|\bno need\b"
)
"""What may stop a walk, and as well tells that something is all, over or not wanted."""
_LEFT_OFF = Lazy(
    r"\bleave (?:(?:that|this|the) (?:other )?one|(?:those|these)(?: ones| two)?|the (?:other|rest)\w*) off\b"
)
_STOPS = Lazy(
    r"\b(?:stop|quit|cancel|end|close|exit|abort|drop|scrap|forget|never ?mind|call it|we're done|i'm done|were done|all done|done|finished|through|enough|later|tomorrow|tonight|changed my mind|rest|go on|going on|resume"
    r"|needed|wanted|(?:was|were) after|came for|taking over|takes? over|took over|procedure|walk|list|steps?|home|for now|for today|bye|thanks|thank you|cheers|not (?:doing|going|playing|following|bothering)|don't want|of this|with this|with you|you)\b"
)
"""What stops a walk in so many words."""
_FILLS = Lazy(r"\b(?:ok|okay|right|well|and|so|there|good|great|fine|alright|yeah|yes|yep|no|nope|then|now|that|this|it|just|i|we|me|us|oh|thing|things)\b|[^\w\s]")  # fmt: skip
_LAST = Lazy(
    r"[,;. ]+(?:and |so |but )?(?:that's|thats|that is|that was) (?:it|all|everything|the lot|about it)[.! ]*$"
)
_NO_NEED = Lazy(r"\bno need\b(?! (?:for|of) (?:the rest|all)\b)")
_OTHERS = Lazy(
    r"\b(?:partner|driver|co ?driver|mechanic|shop|guys?|staff|he|she|they|somebody|someone)(?:'s|s| is| has| have|'ve)? (?:already )?(?:did|done|doing|took|takes|taking|got|handled|handling|does|seen)\b"
)
_NONE_NEEDED = Lazy(r"\w+ no need(?: (?:now|then|any ?more|here))*$")
_UNDERSTOOD = Lazy(
    r"^(?:(?:ok|okay|yeah|yes|yep|right|good|so|and|i think|now|looks like|seems) )*(?:they|everyone|everybody|all of them|the (?:kids|folks|passengers|lads|guys|crew|players|team)|he|she|my partner|the other driver)(?:'ve|'s| have| has| all| both| now| finally)* (?:got|gets?|understood|understands?|heard|know|knows) (?:it|that|this|them|me|the (?:idea|point|picture|message))(?: (?:all|now|already|fine|too|down))*$"
)
_TOLD_TO = Lazy(
    r"^(?:(?:i|we|i've|we've|just|already|ok|yeah|yes|have) )*(?:told|showed|shown|named|mentioned|pointed|warned|briefed|gave|went over|gone over|ran (?:him|her|them)|explained|read) (?:(?:it|that|this|all of it|everything) (?:to )?)?(?:him|her|them|the (?:next |other |relief |new )?(?:driver|man|guy|one|kids|folks|passengers|crew|coach))\b"
)
_TELLS_SOMEBODY = Lazy(r"^(?:tell|name|show|say|hand|give|ask|explain|point|warn|brief|read|remind|go over)\b")
_PUT_DOWN = Lazy(r"^(?:(?:i|we|i've|we've|all|both|just|already|ok|okay|yes|yeah|have) )*(?:put|wrote|written|noted|logged|entered|set|jotted|marked|recorded)\b")  # fmt: skip
_TO_WRITE = Lazy(r"^(?:write|note|log|enter|put|record|mark|jot|fill in)\b|\bin the log\b")
_GOES_OUT = Lazy(r"\b(?:light|lamp|led)s?\b[^.]{0,24}\b(?:off|out|dark|dies)\b")
_WENT_OUT = Lazy(r"\b(?:light|lamp|led)s?\b[^,.]{0,24}\b(?:off|out|dark|died)\b")
_STILL_LIT = Lazy(r"\b(?:not|won't|didn't|doesn't|stays?|still|should|marker|head(?:light|lamp)|tail)\b")


_STAYS = ("Still at step", "Good. Still at step", "Not done, then", "You are in this one")
_HOW_MANY = Lazy(r"\bhow many (?P<unit>[a-z]+)\b")
_FIRST = Lazy(r"[,;.](?!\d)| and | but | with ")
_AMOUNT_TOLD = Lazy(
    rf"^(?:(?:ok|okay|yes|so|and|well|they|he|she|staff|the \w+|it|it's|that's|there's|says?|said|told me|reckons?|is|are|has|a|an|i|we|you|know|got|asked|about|around|only|just|at|for) )*(?:\d+(?:\.\d+)?|(?:(?:{'|'.join(sorted(NUMBER_WORDS))}) ?){{1,3}}) (?P<unit>[a-z]+)(?: (?:breaker|one|each|he says|she says|they say|they said|it says|by the label|on the label|breakers?))*$"
)


def held(state: State, text: str, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """The outcome, or the walk gone on with where what was said only tells of its step."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or mind.report_network is None or "?" in text:
        return outcome
    if mind.knowledge.procedure(walk.topic).kind == "hazard" or mind.hazards.find(text) or mind.hurt.find(text):
        return outcome
    move = _move(outcome, walk)
    if move == "stop" and _LOOSE.search(plain(text)):
        return _stopped(state, text, outcome, walk, mind, now)
    if move == "skip" and _UNDERSTOOD.match(plain(text)) and _TELLS_SOMEBODY.match(_ordered(walk, mind)):
        return walking.told_done(state, text, mind, now)
    if outcome.reply.kind == "control" and outcome.reply.show[0] == "Sources:":
        here = phrases.heard_here(text, walk, mind)
        return walking.told_done(state, text, mind, now) if here.done >= SURELY <= here.acts["report"] else outcome
    if _not_taken(outcome, mind) and _tells_amount(text, phrases.words_at(walk, walk.at, mind)):
        return walking.told_done(state, text, mind, now)
    if _not_taken(outcome, mind) and _NONE_NEEDED.search(plain(text)):
        here = phrases.heard_here(text, walk, mind)
        told = here.acts["report"] + here.acts["trouble"] >= SURELY
        return walking.skipped(replace(state, failures=0), mind, now, text) if told else outcome
    if outcome.reply.kind == "defect" and state.asking is None and any(e.kind == "defect" for e in outcome.events):
        return _no_defect(state, text, outcome, walk, mind, now)
    return outcome


def _not_taken(outcome: Outcome, mind: Mind) -> bool:
    """Whether what was said was taken for nothing: asked back, not known, or the walk left where it stands."""
    reply = outcome.reply
    if not mind.knowledge.hazards.isdisjoint(reply.options):
        return False  # a danger was asked about
    return reply.kind in ("clarify", "unknown") or reply.show[0].startswith(_STAYS)


def _tells_amount(text: str, words: str) -> bool:
    """Whether the amount that a step asks for is told by number and unit, in its first part: "the breaker is 15 amps, ice machine's on it too"."""
    asked = _HOW_MANY.search(words.lower())
    if asked is None:
        return False
    unit = asked["unit"].rstrip("s")
    found = _AMOUNT_TOLD.match(plain(_FIRST.split(text.lower())[0]))
    return found is not None and found["unit"].rstrip("s") == unit


def _move(outcome: Outcome, walk: Walk) -> str:
    """How the walk in hand was moved, if it was."""
    if any(event.kind == "skip" for event in outcome.events):
        return "skip"
    moves = (event.payload for event in outcome.events if event.kind == "walk")
    return next((str(one.get("move", "")) for one in moves if one.get("topic") == walk.topic), "")


def _stopped(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind, now: datetime) -> Outcome:
    """A stop, unless a report stands around its words."""
    said = plain(text)
    around = _LOOSE.sub(" ", said)
    names = _FILLS.sub(" ", around).split() or _LEFT_OFF.search(said)
    if _STOPS.search(around) or not names:
        return outcome
    here = phrases.heard_here(text, walk, mind)
    if here.acts["command"] > MOST_COMMAND or max(here.acts["report"], here.acts["trouble"]) < REPORTS:
        return outcome
    if _NO_NEED.search(said):
        if _OTHERS.search(said):
            return outcome
        return walking.skipped(replace(state, failures=0), mind, now, text)
    calm = not told_trouble(text, mind.defect_words)
    reported = here.acts["report"] >= REPORTS and here.done >= DONE
    ends = walk.at + 1 == len(walk.plan) and _LAST.search(text.lower()) is not None
    if calm and (reported or ends):
        return walking.told_done(state, text, mind, now)
    return told_ahead.stays(state, walk)


def _no_defect(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind, now: datetime) -> Outcome:
    """A defect, unless the step in hand is told done in these words: what is written down, told to somebody, or went out as it should."""
    said, order = plain(text), _ordered(walk, mind)
    here = phrases.heard_here(text, walk, mind)
    if here.acts["report"] < REPORTS:
        return outcome
    if _TO_WRITE.search(order) and _PUT_DOWN.match(said) and not told_trouble(text, mind.defect_words):
        return walking.told_done(state, text, mind, now) if here.done >= SURELY else outcome
    if _TELLS_SOMEBODY.match(order) and _TOLD_TO.match(said):
        return walking.told_done(state, text, mind, now)
    wanted = _GOES_OUT.search(phrases.words_at(walk, walk.at, mind).lower()) is not None
    if wanted and _WENT_OUT.search(said) and not _STILL_LIT.search(said) and here.done >= SURELY:
        return walking.told_done(state, text, mind, now)
    return outcome


def _ordered(walk: Walk, mind: Mind) -> str:
    """What the step in hand orders, in plain words."""
    return plain(phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts))
