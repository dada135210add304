"""Carried kit that is missing: heard in passing, kept until it is back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from cabassist.coach import Coach, KitItem
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain
from cabassist.record.entries import KIT, Entry, Record, made

Where = Literal["missing", "back"]
REQUIRED = {"extinguisher": "the extinguisher", "triangles": "the warning triangles", "spare-fuses": "the spare fuses"}
"""Kit that must be aboard before a bus may drive."""
REQUIRED_RULE = "49 CFR 392.8, 393.95"
_MISSING = (
    Lazy(
        r"^(?:there(?:'s| is) )?(?:the |our |a |one |both )*(?P<item>.+?)(?:'s|'re| is| are| has| have)? (?:still )?(?:missing|gone missing|been lost|not aboard|not on board|not in (?:its|their) place|nowhere to be found)(?: again| now| from .{1,40})?$"
    ),
    Lazy(
        r"^(?:i|we|he|she|they|somebody|someone)(?:'ve| have| has)? (?:lost|can't find|cannot find|left behind|broke|used up|ran out of|are out of) (?:the |our |all the |a |all )*(?P<item>.+?)(?: aboard| anywhere)?$"
    ),
    Lazy(r"^(?:we're |we are )?out of (?:the )?(?P<item>.+)$"),
)
_BACK = Lazy(
    r"^(?:(?:(?:i|we|he|she)(?:'ve| have)? )?(?:found|replaced|restocked|bought|got|put back) (?:the |our |a |new |some )*(?P<found>.+?)(?: again| back)?|(?:the |our )?(?P<item>.+?)(?:'s|'re| is| are) (?:back|found|restocked|replaced)(?: again| aboard| in (?:its|their) place)?)$"
)
_ASKS = Lazy(r"^(?:how|what|where|why|when|which|who|can|could|should|do|does|did|is|are)\b")
_HINTS = (
    "missing", "lost", "find", "found", "out of", "left behind", "broke", "used up", "back", "replaced", "restocked", "bought",
    "got", "aboard", "on board", "place",
)  # fmt: skip
LIKE = 88.0
"""Least likeness, 0 to 100, of the words to an item's name."""


@dataclass(frozen=True)
class Missing:
    """One item that is not where it belongs."""

    item: KitItem
    by: str
    at: datetime

    @property
    def stops(self) -> bool:
        """Whether the coach may not drive without it."""
        return self.item.id in REQUIRED


def kit_in(text: str, coach: Coach) -> tuple[KitItem, Where] | None:
    """The item of the carried kit that a text says is missing or back, or None."""
    said = bare(text)
    if not names_any(said, _HINTS) or _ASKS.match(said) or text.rstrip().endswith("?"):
        return None
    for pattern in _MISSING:
        found = pattern.match(said)
        item = _item(found["item"], coach.kit) if found else None
        if item is not None:
            return item, "missing"
    back = _BACK.match(said)
    item = _item(back["found"] or back["item"], coach.kit) if back else None
    return (item, "back") if item is not None else None


def _item(words: str, kit: Sequence[KitItem]) -> KitItem | None:
    """The one item that the words name; None when none or several do."""
    from rapidfuzz import fuzz

    if len(words.split()) > 5:
        return None
    scores = sorted(
        ((max(fuzz.ratio(words, name) for name in _names(item)), number) for number, item in enumerate(kit)),
        reverse=True,
    )
    if not scores or scores[0][0] < LIKE or (len(scores) > 1 and scores[1][0] == scores[0][0]):
        return None
    return kit[scores[0][1]]


def _names(item: KitItem) -> list[str]:
    whole = plain(item.name)
    return [whole, re.split(r" and | in | for ", whole)[0], item.id.replace("-", " "), item.id.replace("-", " ") + "s"]


def moved(item: KitItem, where: Where, at: datetime, by: str, said: str) -> Entry:
    """The entry of an item that is missing or back."""
    return made(KIT, at, by, {"item": item.id, "where": where, "said": said})


def missing(coach: Coach, record: Record) -> list[Missing]:
    """What is missing, what the coach may not drive without first."""
    last = {entry.text("item"): entry for entry in record.of(KIT)}
    found = [
        Missing(item, last[item.id].by, last[item.id].at)
        for item in coach.kit
        if item.id in last and last[item.id].text("where") == "missing"
    ]
    return sorted(found, key=lambda row: not row.stops)
