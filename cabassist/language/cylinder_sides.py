"""Levels of the two cylinders told in one breath with the level first: "half on the street side and full on the curb side".

The pairing takes the nearest place, and behind "and" that may be the other cylinder's. A swapped pair sends the driver to change
the full one, so such a report is put into the order that is read surely, name first. Where the words leave open which level
is of which cylinder, it is asked, and nothing is stored.
"""

from __future__ import annotations

import re
from itertools import pairwise

from cabassist.language.lazy import Lazy, names_any

UNPLACED = "Which level is of which cylinder? Say the side first, such as curb side half."
"""Asks back what could not be placed."""
_CUES = ("curb", "kerb", "street", "driver", "passenger", "outside", "inside")
_NOUN = r"(?:bottle|cylinder|tank|one)"
_SIDE = rf"(?:(?:curb|kerb|street|driver'?s?|passenger)(?:[- ]side)?|outside|inside)(?:'s)?(?: {_NOUN})?(?:'s)?"
_OTHER = rf"other(?:'s)?(?: (?:side|{_NOUN}))?(?:'s)?"
_FRACTION = r"(?:(?:(?:a|one|three|two) )?(?:quarters?|thirds?|eighths?|fifths?)|(?:five|seven) eighths|(?:a )?half|[1-7]/[2-8])(?: (?:full|empty))?(?: of a tank)?|full|empty"
_TENS = r"(?:ten|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[- ]five)?|fifteen|a hundred"
_NUMBER = rf"(?:\d{{1,3}}|{_TENS})(?: ?(?:%|percent|pounds|lbs?|kilos|kg)(?![a-z]))?"
_PART = Lazy(rf"(?<![\w/.])(?:(?P<side>{_SIDE})|(?P<other>{_OTHER})|(?P<level>{_FRACTION}|{_NUMBER}))(?![\w/]|\.\d)")
_BETWEEN = frozenset(
    "a an the is are it's its at on in of and but with while about around roughly nearly reads reading shows showing says has sitting there"
    " side bottle bottles cylinder cylinders tank tanks one propane gas our my now left still , ; - . we have we've got i've i".split()
)  # fmt: skip
"""Words that may stand between a level and its cylinder, or between the two reports."""
_FEW = 2
"""So many other words between leave in doubt what is told of what; more are of another matter."""
_SUPPOSES = re.compile(
    r"(?:(?:and|so|but|ok|okay) )*(?:how|what|when|where|why|which|who|if|is|are|do|does|can|could|should|will|would|say)\b"
)
_WORDS = re.compile(r"[\w'%/]+|[^\w\s]")
_OF_PROPANE = re.compile(r"\b(?:propane|gas|bottles?|cylinders?|lpg?)\b")
_STRICT = re.compile(r"[%/a-z]*(?:%|percent|pounds|lbs?|kilos|kg|quarter|third|eighth|fifth|half|full|empty|/)")
_PLACED = {"LSLS": ((0, 1), (2, 3)), "LSSL": ((0, 1), (3, 2)), "SLLS": ((1, 0), (2, 3))}
"""Which level is of which cylinder, in the orders that are sure; the fourth, name first, is read as it is."""


def in_order(text: str) -> str | None:
    """The text with each of two cylinders before its level; "" where it must be asked which is which; None for anything else."""
    said = " ".join(text.lower().replace("\u2019", "'").split())
    if "?" in said or not names_any(said, _CUES) or _SUPPOSES.match(said):
        return None
    parts = list(_PART.finditer(said))
    sides = [one for one in parts if not one["level"]]
    if len(sides) != 2 or len(parts) < 4:
        return None
    names = _names(sides[0], sides[1])
    if names is None:
        return None
    last4 = parts[-4:]
    kinds = "".join("L" if one["level"] else "S" for one in last4)
    if kinds.count("S") != 2 or not _of_cylinders(said, last4):
        return None
    gaps = [said[a.end() : b.start()] for a, b in pairwise(last4)]
    foreign = sum(word not in _BETWEEN for gap in gaps for word in _WORDS.findall(gap))
    if foreign:
        return "" if foreign <= _FEW and kinds == "LSLS" and len(parts) == 4 else None
    if kinds == "LLSS" and len(parts) == 4:
        return ""
    if kinds not in _PLACED or (len(parts) > 4 and kinds != "LSLS"):
        return None
    if kinds == "SLLS" and not _apart(gaps[1]):
        return None
    told = [
        f"{names[sides.index(last4[place])]} cylinder {_level(last4[level]['level'])}"
        for level, place in _PLACED[kinds]
    ]
    return f"{said[: last4[0].start()]}{', '.join(told)}{said[last4[3].end() :]}"


def _names(first: re.Match[str], second: re.Match[str]) -> tuple[str, str] | None:
    """The names of two different cylinders; the other one is that across from the first."""
    if first["other"]:
        return None
    one = _name(first["side"])
    two = _ACROSS[one] if second["other"] else _name(second["side"])
    return (one, two) if two != one else None


_ACROSS = {
    "curb side": "street side",
    "street side": "curb side",
    "driver side": "passenger side",
    "passenger side": "driver side",
    "outside": "inside",
    "inside": "outside",
}


def _name(side: str) -> str:
    word = side.replace("kerb", "curb")
    return next(name for name in _ACROSS if word.startswith(name.split()[0]))


def _of_cylinders(said: str, parts: list[re.Match[str]]) -> bool:
    """Whether the levels are of cylinders: by name, or because all of them are shares or weights, as no temperature or pressure is."""
    if _OF_PROPANE.search(said):
        return True
    return all(_STRICT.search(one["level"]) for one in parts if one["level"])


def _apart(gap: str) -> bool:
    """Whether two levels side by side are parted, so that each is of its own cylinder."""
    return any(word in ("and", "but", ",", ";", "while", "with") for word in _WORDS.findall(gap))


def _level(level: str) -> str:
    return "half" if level.startswith(("half", "a half")) else level.removesuffix(" of a tank")
