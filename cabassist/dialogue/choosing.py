"""Which of the offered procedures an answer means: its number, its name, or a few words that tell it from the others."""

from __future__ import annotations

import re

import numpy as np

from cabassist.dialogue import framing
from cabassist.dialogue.types import Mind
from cabassist.language.lazy import Lazy
from cabassist.language.matching import FIT_NEIGHBOURS
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.record.defect_words import wants_record

MAX_WORDS = 12
NEAR = 0.66
"""Least likeness, -1 to 1, of an answer with its question to the wordings of the option it means."""
CLEAR, CLEAR_ASKED = 0.05, 0.09
"""How far it is ahead of the next option, and how far when the answer is itself put as a question."""
OWN, OWN_ASKED = 0.8, 0.5
"""Probability from which on the words are about something that was not offered, and the same when they are put as a question."""
_FIGURE = re.compile(
    r"\d|\b(?:\w+ty|\w+teen|ten|eleven|twelve|hundred|half|quarters?|thirds?|zero|full|empty|low|out)\b"
)
_AMOUNT = Lazy(r"\d|\b(?:\w+ty|\w+teen|ten|eleven|twelve|hundred|half|quarters?|thirds?|eighths?|zero|minus)\b")
_AROUND = re.compile(
    r"^(?:(?:no|yes|yeah|oh|it's|its|it is|that's|that'd be|i mean|i meant|i want|i'd like|i need|i'm talking about|talking about|i'm asking about|about|for|with|in|on) )*(?:the |a |my |our )?(?:one (?:with|about|for|in|on) (?:the )?)?| (?:one|thing|please|of course|i mean|i think)$"
)


_ASKS = re.compile(r"^(?:how|what|what's|where|why|when|which|who|can|could|should|is|are|do|does|will)\b")

_REQUESTS = Lazy(
    r"^(?:(?:and|so|ok|okay|hey|actually|no|wait|well|oh|also) )*(?:how|what|what's|where|where's|why|when|which|who|can|could|should|is|are|do|does|will|show me|tell me|walk me|take me|lead me|give me|talk me)\b"
)
_POINTS = Lazy(r"\b(?:it|that|this|them|these|those|one|ones|there|first|second|third|last|other)\b")
"""Leans on what was offered or asked before."""


def named(text: str, question: str, options: tuple[str, ...], mind: Mind, among: bool = False) -> str | None:
    """The option that the words name, when one stands clear of the others; None when they name none, or something else.

    Args:
        text: the answer.
        question: what was asked when the options were offered; "the shore one" makes sense only after "no power".
        mind: what the turn knows.
        among: whether one of the options is meant, however like the words are to something else.
    """
    from rapidfuzz import fuzz

    if framing.gives_up(text):
        return None  # "forget it, how do I unplug" is a new matter
    words = _AROUND.sub("", bare(text)) or bare(text)
    if title_named(text, mind, options):
        return None  # a procedure that was not offered, by its whole title
    if _AMOUNT.search(words) and any(one.value is not None and not one.flag for one in mind.readings_in(text).readings):
        return None  # "house battery twelve four" tells how it stands, and what to do may come later
    titles = {option: plain(mind.knowledge.title(option)) for option in options}
    scores = sorted(
        (
            (max(fuzz.token_set_ratio(words, title), fuzz.token_set_ratio(words, option.replace("-", " "))), option)
            for option, title in titles.items()
        ),
        reverse=True,
    )
    if scores[0][0] >= 75 and (len(scores) == 1 or scores[0][0] - scores[1][0] >= 10):
        return scores[0][1]
    if scores[0][0] >= 75:  # "the shore one" names two, and "no power" before it tells which
        whole = sorted(
            ((fuzz.token_sort_ratio(f"{bare(question)} {words}", one.replace("-", " ")), one) for one in options),
            reverse=True,
        )
        if whole[0][1] in [one for score, one in scores if score >= 75] and whole[0][0] - whole[1][0] >= 10:
            return whole[0][1]
    if wants_record(text) or len(options) == 1:
        return None  # one procedure that is offered is taken by yes, by its number or by its name
    if _FIGURE.search(words) and mind.readings_in(text).readings:
        return None  # "it's 48 degrees in here" tells something, and picks nothing
    ranking = mind.ranked(text)
    own = OWN_ASKED if _ASKS.match(bare(text)) else OWN
    if not among and ranking.best not in options and ranking.procedures[0][1] > own:
        return None
    apart = _REQUESTS.match(bare(text)) is not None and not (
        _POINTS.search(bare(text)) or spoken_of(text, options, mind)
    )
    if apart and not among and ranking.best not in options and not beginnings(bare(text), _LITTLE) & beginnings(bare(question), _LITTLE):  # fmt: skip
        return None  # a question that speaks of none of them is a new one: "how do I chain up"
    if not among and _stands_alone(text, words, options, mind):
        return None
    alone = _by_words(words, options, mind)
    if alone is not None:
        return alone
    vague = mind.knowledge.vague.get(ranking.vague_like, ())
    if ranking.ambiguous > OWN and not set(vague) & set(options):
        return None  # a new complaint, as vague as the first: "no power" after "it won't open"
    near = nearness(f"{bare(text)} {question}" if question else words, options, mind)
    ahead = CLEAR_ASKED if _ASKS.match(bare(text)) else CLEAR
    if near[0][1] in mind.knowledge.hazards:
        return None  # no danger is opened because a remark is somewhat like it
    if near[0][0] >= NEAR and (len(near) == 1 or near[0][0] - near[1][0] >= ahead):
        return near[0][1]
    return None


def title_named(text: str, mind: Mind, without: tuple[str, ...] = ()) -> str:
    """The procedure whose whole title stands in a text, the longest of several; nothing when none does, or only one of those `without`."""
    said = f" {plain(text)} "
    titles = {topic: f" {plain(mind.knowledge.title(topic))} " for topic in mind.knowledge.ids}
    found = max((topic for topic in titles if titles[topic] in said), key=lambda topic: len(titles[topic]), default="")
    return "" if found in without else found


_STATES = Lazy(
    r"^(?!(?:it|that|this)(?:'s| is| was)\b|(?:[a-z]+ ){0,3}ones?\b)(?:[\w']+ ){1,4}?(?:is|are|was|were|isn't|aren't|has|have|[a-z]+'s)\b"
)
"""Tells how something stands, which picks nothing: "kids are off"."""
REPORT_WORDS = 4
"""So many words that state something are a report of the work in hand, not a choice."""
_REPORTS = Lazy(
    r"^(?:(?:and|so|ok|okay|well|alright|right|now|then|yep|yeah|i think|i guess|looks like) )*(?!(?:it's|its|it is|that's|that is|the one|this one)\b(?! (?:in|on|off|out|up|down|done|shut|closed|open|tight|all)\b)|(?:i|we) (?:mean|meant|want|need|would|wanted|think|'d)\b|i'd\b)"
    r"(?:[a-z]+ing (?:it|the|that|my|them|both|this|on)\b|(?:i|we|he|she|they)(?:'ve|'m|'re)? (?:have |am |are |just |already )*(?:[a-z]+ed|[a-z]+ing|got|put|shut|set|took|went|did|found|held|laid|hung|swung|let|cut|came|ran|put)\b|(?:[\w']+ ){1,5}?(?:is|are|was|were|isn't|aren't|has|have|went|swung|came|fell|goes|comes|sits|stands|hangs|holds)\b|(?!what's|where's|how's|who's|let's|there's one)[a-z]+'s (?:\w+ )?(?:in|on|off|out|up|down|done|shut|closed|open|tight|laid|back|set|gone|full|empty|clear)\b)"
)


def reports(text: str) -> bool:
    """Whether a text of some words tells how the work stands: "chocks are in bay 5". In a walk it picks nothing that was offered before."""
    said = plain(text)
    if len(said.split()) < REPORT_WORDS or "?" in text or _REQUESTS.match(said):
        return False
    return _REPORTS.match(said) is not None


_ON_IT = Lazy(r"^\w+ (?:\w+ ){0,2}?(?:it|that|them|this|one)\b")
STEERS = 0.5
"""How like a command an answer is that picks nothing."""
_DOING = Lazy(r"\b([a-z]{3,})ing\b")
_VERBS: dict[str, frozenset[str]] = {}


def _verbs(mind: Mind) -> frozenset[str]:
    """The words with which steps and titles begin: what may be done aboard."""
    knowledge = mind.knowledge
    if knowledge.fingerprint not in _VERBS:
        begins = [str(step["do"]) for raw in knowledge.raw_procedures.values() for step in raw["steps"]]
        begins += [knowledge.title(topic) for topic in knowledge.ids]
        _VERBS[knowledge.fingerprint] = frozenset(one.split(maxsplit=1)[0].lower() for one in begins)
    return _VERBS[knowledge.fingerprint]


def begins_deed(words: str, mind: Mind) -> bool:
    """Whether words begin with what may be done aboard, as a request does."""
    return bool(words) and words.split(maxsplit=1)[0] in _verbs(mind)


def _stands_alone(text: str, words: str, options: tuple[str, ...], mind: Mind) -> bool:
    """Whether an answer that names none of the options is a request, a report or a command of its own, however like it is to one of them.

    "The sewage" leans on the question; "set the brake", "kids are off" and "parking" do not.
    """
    if spoken_of(text, options, mind):
        return False
    said = bare(text)
    steering = mind.ranked(text).steering
    if (steering and steering[0][1] >= STEERS) or _STATES.match(said):
        return True
    if begins_deed(words, mind) and len(words.split()) > 1 and not _ON_IT.match(words):
        return True
    names = beginnings(_DOING.sub(r"\1", words), _LITTLE)
    of_name = [topic for topic in mind.knowledge.ids if names <= beginnings(f"{topic} {mind.knowledge.title(topic)}", _LITTLE)]  # fmt: skip
    return bool(names) and len(of_name) == 1 and of_name[0] not in options


_ONE_AND_DEED = re.compile(r"^(?:(?:no|oh|yes|yeah|sorry|well) )*(?P<thing>(?:the )?(?P<which>[a-z]+) (?:one|tank|side|bottle|cylinder)) (?:(?:i|we|and|want|need|to|please|can you|let's) )*(?P<verb>[a-z]+) (?:it|that|them)(?P<rest>(?: \w+){0,3})$")  # fmt: skip
SURE = 0.6
"""Probability from which on a thing and a deed told together name a procedure."""


def deed_told(text: str, question: str, mind: Mind) -> str | None:
    """The procedure that an answer names by the thing and what to do with it: "the waste one, empty it"; or None."""
    found = _ONE_AND_DEED.match(plain(text))
    if found is None:
        return None
    noun = bare(question).split()[-1:] or ["one"]
    thing = re.sub(r"\bone\b", noun[0], found["thing"])
    best, chance = mind.ranked(f"how do i {found['verb']} {thing}{found['rest']}").procedures[0]
    return best if chance >= SURE and best not in mind.knowledge.hazards else None


_LITTLE = frozenset(
    "the and for with that this one ones them please want mean need how what can you coach bus out off".split()
)


def _by_words(words: str, options: tuple[str, ...], mind: Mind) -> str | None:
    """The one option in whose name stand all the words that any option's name holds; of several the likeliest deed."""
    said = beginnings(words, _LITTLE)
    names = {option: beginnings(f"{option} {mind.knowledge.title(option)}", _LITTLE) for option in options}
    known = said & set().union(*names.values())
    fitting = [option for option in options if known and known <= names[option]]
    if len(fitting) == 1:
        return fitting[0]
    ranked = [name for name, chance in mind.ranked(words).procedures[:LIKELIEST] if name in fitting and chance > 0.1]
    return ranked[0] if len(ranked) == 1 or (ranked and fitting and len(words.split()) > 2) else None


def spoken_of(text: str, options: tuple[str, ...], mind: Mind) -> bool:
    """Whether a word of the name of one of the options stands in a text."""
    names = [beginnings(f"{option.replace('-', ' ')} {mind.knowledge.title(option)}", _LITTLE) for option in options]
    return bool(beginnings(bare(text), _LITTLE) & set().union(*names))


LIKELIEST = 4
"""An option counts as likely among so many of the likeliest procedures for an answer."""


def nearness(text: str, options: tuple[str, ...], mind: Mind) -> list[tuple[float, str]]:
    """How like a text is to the nearest wordings of each option, -1 to 1, nearest first."""
    matcher = mind.matcher
    vector = matcher.encoder.encode([text.lower()])[0]
    found = []
    for option in options:
        rows = np.flatnonzero(matcher.label_of == matcher.labels.index(option))
        own = np.sort(matcher.cosines(rows, vector))
        found.append((float(own[-FIT_NEIGHBOURS:].mean()), option))
    return sorted(found, reverse=True)
