"""Whether a report is of the step in hand: what it names, what it shows of "done when", and what is only being done."""

from __future__ import annotations

import re

from cabassist.dialogue import phrases
from cabassist.dialogue.types import Mind, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import beginnings
from cabassist.procedures.library import Knowledge

_SMALL = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two it's i've we've i'm we're they're that's"
    " coach bus side part step thing place when what see make sure done ready got get put set is are on in it of to a at by be or no so if as we i still just here there back down over okay yes yeah been just".split()
)
_STATE = r"(?:on|off|in|out|up|down|shut|closed|open|tight|clear|clean|dry|connected|locked|unlocked|ready|set|stowed|latched|lit|plugged|hooked|capped|drained|rinsed|washed|emptied|filled|fitted|cleaned|chocked|unplugged|unhooked|tightened|torqued|loaded|strapped|secured|fastened|parked|held|away|good|fine|ok|okay|done)"
_STANDS = Lazy(
    rf"^(?:(?:the|my|our|both|all|that|those|these|two|got) )*(?P<thing>[a-z]+(?: [a-z]+){{0,3}}?)(?:'s|'re| is| are| has been| have been)(?: (?:all|now|both|nice and|back|still))* {_STATE}\b"
)
_DID = Lazy(
    r"^(?:(?:i|we|he|she|they|i've|we've|just|have|also|my partner) )*[a-z]+(?:ed|ugh|ut) (?:(?:the|my|our|both|all|that|those|on|off|out|up|down|in|over|round) )+(?P<thing>[a-z]+(?: [a-z]+)?)(?: (?:out|off|up|down|in|on|away|back|clean|now|already|too))*$"
)
_STATES = Lazy(rf"^{_STATE}(?: and {_STATE})+$")
_PRONOUN = frozenset({"it", "that", "this", "they", "them", "those", "these", "everything", "all", "one", "both", "she", "he", "i", "we", "you"})  # fmt: skip


def _stems(words: str) -> set[str]:
    return beginnings(words, _SMALL)


def _words_of(walk: Walk, at: int, mind: Mind) -> str:
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[at]]
    return phrases.filled(f"{step.do} {step.done_when or ''}", mind.facts)


_KNOWN: dict[str, frozenset[str]] = {}


def _known(knowledge: Knowledge) -> frozenset[str]:
    """The beginnings of all words of all steps."""
    if knowledge.fingerprint not in _KNOWN:
        texts = (str(step["do"]) for raw in knowledge.raw_procedures.values() for step in raw["steps"])
        _KNOWN[knowledge.fingerprint] = frozenset(_stems(" ".join(texts)))
    return _KNOWN[knowledge.fingerprint]


def is_known(word: str, knowledge: Knowledge) -> bool:
    """Whether a word stands in any step."""
    return bool(_stems(word) & _known(knowledge))


def names_other(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a report tells how something stands that the step in hand is not about: "keys are on the hook", at the outlet."""
    found = _STANDS.match(said)
    here = _stems(_words_of(walk, walk.at, mind))
    if found is None and (deed := _DID.match(said)) is not None:
        named = _stems(deed["thing"])
        elsewhere = {
            stem for at in range(len(walk.plan)) if at != walk.at for stem in _stems(_words_of(walk, at, mind))
        }
        return bool(named) and not _stems(said) & here and named <= elsewhere  # "rinsed the hose", at another step
    if found is None:  # "locked and lit"
        return _STATES.match(said) is not None and not _stems(said) & here
    named = _stems(found["thing"] if not set(found["thing"].split()) <= _PRONOUN else said[found.end() :])
    if walk.at == 0 and named & _stems(" ".join(mind.knowledge.procedure(walk.topic).needs).replace("-", " ")):
        return False  # who says at the beginning that the gloves are on is ready to go on
    return bool(named) and not named & here and bool(named & _known(mind.knowledge))


_NEGATED = Lazy(r"\b(?:no|not|\w+n't|nobody|nothing|none|never|without|free|stray|less|know)\b")
_CONTRARY = Lazy(
    r"\b(?:no|not|\w+n't|never|nothing|none|without|hardly|barely|but|except|still|only|cold|cool|lukewarm|weak\w*|faint\w*|stuck|broke\w*|dead|dark|red|amber|wrong|odd|strange|weird|smell\w*|smok\w*|burn\w*|hiss\w*|leak\w*|drip\w*|stopp\w*|quit\w*|died|cuts?|cycl\w*|click\w*|again|if|when|should|will|would|may|might|maybe|think|hope|almost|nearly|need\w*|want\w*|try\w*|trying|before|until|after|how|what|why|where|which|who|can|could|is the|is there)\b|\d"
)
_LEAST = 2
_FEEL = Lazy(r"^Feel\b")
_WARM = Lazy(r"\bwarm|\bless cold\b")
_IS_WARM = Lazy(r"\b(?:warm|warmer|warming|toasty|less cold)\b")


def shown(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a text tells in its own words what the step in hand is done by: "furnace is running, warm air coming"."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[walk.at]]
    if held(said, walk, mind) or _switched(said, walk, mind) or _lit(said, walk, mind):
        return True
    if step.reading or _CONTRARY.search(said):
        return False
    if _FEEL.match(step.do) and _WARM.search(f"{step.do} {step.done_when or ''}".lower()) and _IS_WARM.search(said):
        return True  # "I feel it warm", where a hand tells that it works
    if not step.done_when or _NEGATED.search(step.done_when.lower()):
        return False
    met = _stems(phrases.filled(step.done_when, mind.facts))
    return len(_stems(said) & met) >= _LEAST


_OFF_STEP = re.compile(r"^(?:Switch|Turn|Shut) off (?:the |both |all |every )?(?P<thing>[^,.]+)")
_IS_OFF = Lazy(
    r"^(?:(?:the|my|our|both|all|all the|all of the) )*(?P<thing>[a-z]+(?: [a-z]+){0,3}?)(?:'s|'re| is| are)?(?: (?:all|both|now|already))* (?:off|out|dark|switched off|turned off|shut off)(?: (?:now|too|again|already|all))*$"
)


def _switched(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether what the step in hand switches off is told to be off: "scene lights off"."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[walk.at]]
    ordered, found = _OFF_STEP.match(phrases.filled(step.do, mind.facts)), _IS_OFF.match(said)
    if ordered is None or found is None or step.reading:
        return False
    named = _stems(found["thing"])
    return bool(named) and named <= _stems(ordered["thing"])


_IS_LIT = Lazy(
    r"^(?:(?:the|that|its|my|both|a|i see (?:a|the|it)|there's|there is) )*(?:[a-z]+ ){0,3}?(?:lights?|lamps?|led|indicator|it|it's)(?:'s| is| are)?(?: (?:still|both|all|nice and|clearly|definitely))* (?:on|lit|glowing|burning|shining|showing)(?: (?:red|green|amber|bright|fine|now|too|good|nicely|steady))*$"
)


def _lit(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a light that the step in hand looks for is told to be lit: "red light is on"."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[walk.at]]
    looks = step.do.startswith("Look") and " light" in step.do and " lit" in (step.done_when or "")
    return looks and _IS_LIT.match(said) is not None


_NO_TRIP = Lazy(r"\b(?:(?:didn't|hasn't|haven't|doesn't|don't|won't|did not|has not|does not|never|not) (?:\w+ )?(?:trip\w*|pop\w*|move\w*|roll\w*|budge\w*|drop\w*|fall\w*|fell|go (?:off|out))|no trips?|without tripping)\b")  # fmt: skip
"""Trouble that is said not to have come."""
_HOLDS = Lazy(r"\b(?:stays?|holds?|stands?|remains?|does not|do not|keeps?)\b")
_HELD = Lazy(r"\b(?:held|holds|holding|stays|stayed|staying|stood|stands|standing|remained|steady|solid|rock solid|still on|still up)\b")  # fmt: skip


def held(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a text tells that something held, where the step in hand is done when it does: "all on, breaker held"."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[walk.at]]
    calm = _NO_TRIP.sub("held", said)
    if step.reading or not step.done_when or not _HOLDS.search(step.done_when.lower()) or not _HELD.search(calm):
        return False
    if _CONTRARY.search(_STILL_SO.sub("", calm)):
        return False
    spoken = _words_of(walk, walk.at, mind)
    named = _stems(calm) - {"held"}
    return not named or bool(named & _stems(spoken)) or bool(_PRONOUN & set(calm.split()))


_WELL = Lazy(r"\b(?:held|holds|holding|stayed|stays|works?|worked|working|fine|good|ok|okay|great|perfect|steady|solid|normal|no (?:\w+ )?(?:trips?|leaks?|drips?|trouble|problems?|issues?|noise|smell)|(?:came|come|popped|fired|lit) (?:right |straight |back |all )*(?:on|up|back)|caught|first (?:try|time))\b")  # fmt: skip
_NO_FAULT = Lazy(r"\bno (?:\w+ )?(?:trips?|leaks?|drips?|trouble|problems?|issues?|noise)\b|\b(?:didn't|hasn't|doesn't) (?:\w+ )?(?:leak|drip|trip|move|drop)\w*\b")  # fmt: skip
_MOST_WELL = 10


def well(said: str) -> bool:
    """Whether a few words tell that something is as it should be, and nothing else: "all lights work", "no trips"."""
    if len(said.split()) > _MOST_WELL or not (_WELL.search(said) or _NO_TRIP.search(said)):
        return False
    return not _CONTRARY.search(_STILL_SO.sub("", _NO_FAULT.sub("well", _NO_TRIP.sub("held", said))))


_STILL_SO = Lazy(r"\bstill(?= (?:on|up|holding|steady)\b)")

_GOING_ON = Lazy(
    r"(?<=\w)(?: and| now)? (?:the |my |our )?(?:[a-z]+ )?[a-z]+s?(?:'s|'re| is| are)? (?:going|coming) (?:in|on|out|down|up|under|back)(?: (?:now|next|too))*$"
)
"""What is begun after what is done: "brake is set, chocks going in"."""


def without_begun(said: str) -> str:
    """A report without what is only being begun behind it."""
    return _GOING_ON.sub("", said)


_DOING = Lazy(
    r"^(?:(?:ok|okay|so|and|right|yeah|yep|well|now|just) )*(?:i'm |we're |i am |we are |he's |she's )?(?:just |now )?(?P<verb>[a-z]{3,}ing)(?: (?:in|on|out|off|up|down|back))? (?:the |my |our |it |that |both )?(?P<thing>[a-z]+)(?: [a-z]+){0,4}(?: (?:now|right now|as we speak|at the moment))+$"
)


def being_done(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether the step in hand is told to be under way: "plugging the cord in now"."""
    found = _DOING.match(said)
    if found is None:
        return False
    here = _stems(_words_of(walk, walk.at, mind))
    return bool(_stems(f"{found['verb']} {found['thing']}") & here)
