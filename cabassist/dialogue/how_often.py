"""How often work on the coach is due, told from the profile: "how often do I need to grease the latches".

Without that the question names the work and opens its procedure, which says how and not how often.
"""

from __future__ import annotations

from cabassist.coach import Upkeep
from cabassist.dialogue import properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import beginnings, plain
from cabassist.record.upkeep import interval

_ASKED = Lazy(
    r"^(?:(?:so|and|hey|ok|well|um) )*(?:how (?:often|frequently|many (?:days|weeks|miles) between)|every how (?:many (?:days|weeks|miles|trips)|often)|what(?:'s| is) the interval (?:for|on|between))\b"
)
_SMALL = frozenset("the and how often frequently have has need needs should must got does get gets done you they our for this that what interval between many days weeks miles every new again".split())  # fmt: skip
_LEAST = 2
"""Beginnings of words, of the deed and of its thing, that must be named."""


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The interval of the profile for the work that is named; None for anything else, and for work that is not in it."""
    said = plain(text)
    if not _ASKED.match(said) or mind.hazards.find(text) is not None or mind.wishes.find(text):
        return None
    named = beginnings(_ASKED.sub("", said), _SMALL)
    fits = [(len(named & _deeds(item)), item) for item in mind.coach.upkeep if named & _things(item)]
    best = max(fits, key=lambda row: row[0], default=None)
    if best is None or best[0] < 1 or sum(count == best[0] for count, _ in fits) != 1 or len(named) > best[0] + _LEAST:
        return None
    item = best[1]
    every = interval(item)
    return properties.told(state, f"{item.name}: {every}.", mind, topic=item.topic, said=text)


def _deeds(item: Upkeep) -> set[str]:
    return beginnings(f"{item.verbs} {item.name}", _SMALL)


def _things(item: Upkeep) -> set[str]:
    return beginnings(item.things, _SMALL)
