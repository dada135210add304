"""What stands on record of a supply or of several, asked back in any words: "what've you got for diesel", "read me both tanks back",
"where are my tanks at", "give me the bottles again".

Each word must be of the asking or name a reading, so that a question about anything else is left alone, and only what was told can
answer: without a reading the question may be how to take one.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Reading

MAX_WORDS = 12
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|now|hey|wait|well|sorry|um|uh|oh|again|quick|alright|hang on|just|please|can you|could you|would you|will you|go ahead and) )*"
_WHO = r"(?:you|we|i|they|he|she)"
_RECORDED = Lazy(
    _LEAD
    + rf"(?:what(?:'s|s| does| do) ?(?:{_WHO} )?(?:got|have|hold|holding|show|showing|say|recorded|logged|noted|written)"
    rf"|what(?:'ve|'s|'d|'re|ve|s| have| has| did| had)? ?(?:{_WHO}(?:'ve| have| had| did)? )?(?:got|get|have|give|gave|given|say|said|put down|tell|told|hold|holding|show|showing|read|hear|heard|log|logged|note|noted|write|written)(?: (?:you|me|us))?(?: (?:down|written|logged|noted|on record|recorded|stored|in there|there|it as|as))*(?: (?:for|on|about|in|of|with|at|as))?"
    r"|(?:read|say|run|play|call|tell|give|show|list|recap)(?: (?:off|out|over|through))*(?: (?:me|us|back|over))*(?: (?:what (?:you(?:'ve)?|we(?:'ve)?|i(?:'ve)?) (?:have|got|said|told you)(?: (?:for|on|in|about))?|back))?"
    r"|remind me(?: (?:of|about|what(?:'s| is| was| were| are)?|where))*) (?P<of>.+)$"
)
"""Asks for what was told, in words that a gauge could not answer; what is asked for stands behind it."""
_STANDS = Lazy(
    _LEAD
    + r"(?:what(?:'s|s|'re| is| are| was| were)|where(?:'s|s|'re| is| are| was| were| do| does)|how(?:'s|s|'re| is| are| was| were| do| does)|which is) (?P<of>.+)$|"
    + _LEAD
    + r"(?P<alone>.+ (?:again|once more|what (?:are they|is it|was it|were they)(?: at)?|back))$"
)
"""Asks how something stands, which what was told may answer."""
_SMALL = frozenset(
    "the a my our your their of both all each every and or two three four one ones them those these tank tanks level levels reading readings gauge gauges number numbers figure figures is are was were at on in to for it they again back please now then right currently standing stand stands sitting sit looking doing reading down up me us you i we have got had said told say gave give as was what so far tonight today this morning last earlier before record logged noted written with once more by thing things together full how much too also".split()
)
_GROUPS = {
    "tanks": ("fresh", "waste", "diesel", "def"),
    "levels": ("fresh", "waste", "diesel", "def", "propane"),
    "bottles": ("propane",),
}
_WATER = frozenset({"fresh", "waste"})
_WORDS = {
    "fresh": "fresh", "clean": "fresh", "drinking": "fresh", "potable": "fresh", "waste": "waste", "black": "waste", "holding": "waste",
    "sewage": "waste", "grey": "waste", "gray": "waste", "propane": "propane", "gas": "propane", "bottle": "propane", "bottles": "propane",
    "cylinder": "propane", "cylinders": "propane", "diesel": "diesel",
    "fuel": "diesel", "def": "def", "battery": "house_battery", "batteries": "house_battery", "house": "house_battery", "bank": "house_battery",
    "odometer": "odometer", "mileage": "odometer", "heads": "passengers", "headcount": "passengers", "passengers": "passengers", "tires": "tire_pressure",
    "tyres": "tire_pressure",
}  # fmt: skip
_MODIFIES = frozenset({"water", "voltage", "volts", "count", "pressures", "percentage"})
_CUES = (*_WORDS, "tank", "level", "water")
_PLACES = frozenset({"inside", "outside", "spare"})
"""Of a cylinder, beside its name; by themselves they are of the weather too."""
_GAUGE = frozenset({"gauge", "gauges"})
_STANDING = frozenset({"at", "stand", "standing", "stands", "sit", "sits", "sitting"})
_OF_RECORD = Lazy(
    r"\bwhat(?:'ve| have|'s| did| do) (?:you|we|i)?(?:'ve)? ?(?:got|have|down|logged|noted|recorded|written)?\b.*\b(?:for|down|on record|logged|noted|recorded|written)\b"
)
_AGAIN = frozenset({"back", "again", "more"})


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The readings that are asked for, each with its age; None where none is asked for, or none of them stands."""
    said = plain(text)
    if state.pending is not None or len(said.split()) > MAX_WORDS or not names_any(said, _CUES):
        return None
    recorded = _RECORDED.match(said)
    found = recorded or _STANDS.match(said)
    if found is None:
        return None
    of = next(part for part in found.groups() if part)
    words = of.split()
    if set(words) & _GAUGE and not set(said.split()) & _AGAIN:
        return None  # "read me the propane gauges" may be the wish to read them
    if said.split(" ")[0].startswith("where") and not set(words) & _STANDING:
        return None  # where a tank is, and not how full
    kinds = _kinds(words, state)
    if not state.stored and recorded is not None and "back" in said.split() and {"tanks", "levels"} & set(words):
        return telling.read_back(None, state, mind, now)
    if not kinds or (recorded is None and kinds == {"house_battery"}):
        return None
    which = telling.which_named(of, mind) if kinds == {"propane"} else None
    standing = [one.reading for one in state.stored if one.reading.what in kinds]
    if not standing:  # told of the record itself, that nothing stands is the answer
        plainly = recorded is not None and len(kinds) == 1 and _OF_RECORD.search(said) is not None
        return telling.read_back(next(iter(kinds)), state, mind, now, which) if plainly else None
    if len(kinds) == 1:
        return telling.read_back(standing[0].what, state, mind, now, which)
    return _several(standing, state, mind, now)


def _kinds(words: list[str], state: State) -> set[str]:
    """The kinds of readings that the words name; none when a word is of something else."""
    kinds: set[str] = {"propane"} if "one" in words and _PLACES & set(words) else set()
    stands = {one.reading.what for one in state.stored}
    wide = ""
    for word in (one.removesuffix("'s").removesuffix("'re") for one in words):
        if word in _WORDS:
            kinds.add(_WORDS[word])
        elif word in ("tanks", "levels"):
            wide = word
        elif word not in _SMALL and word not in _MODIFIES and word not in _PLACES:
            return set()
    if kinds != {"propane"} and _PLACES & set(words):
        return set()
    if kinds or not wide and "water" not in words:
        return kinds
    if "water" in words:
        return set(_WATER) & stands
    both = "both" in words and stands >= _WATER
    return set(_WATER if both else _GROUPS[wide]) & stands


def _several(standing: list[Reading], state: State, mind: Mind, now: datetime) -> Outcome:
    """The newest reading of each kind, in the order in which the kinds were first told."""
    kinds = tuple(dict.fromkeys(one.what for one in standing))
    lines = tuple(line for what in kinds for line in telling.read_back(what, state, mind, now).reply.show)
    return walking.control(state, " ".join(lines), lines=lines)
