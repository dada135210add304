"""Wordings of sums in which every amount is marked with what it is for.

`how long to fill {add=a hundred gallons} at {rate=4.5 gallons a minute} -> 22.2 min` stands in `knowledge/roles/water.txt`:
the file names the family, each mark a role of it, and behind the arrow stands what comes out. The network that hands out the
roles learns from these lines, and a test works each of them out.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from cabassist.language.role_network import kind_of_unit

_MARK = re.compile(r"\{(\w+(?: \w+)?)=([^{}=]+)\}")


class Marked(NamedTuple):
    """One wording."""

    text: str
    roles: tuple[str, ...]
    """The role of each amount, in order."""
    marks: tuple[str, ...]
    """The words of each amount."""
    answer: str
    """As it was written: "22.2 min", "14:15", "yes", parted by commas when there are several."""


def marked(line: str) -> Marked:
    """Read a line. Raises ValueError that says what is wrong with it."""
    wording, arrow, answer = line.rpartition(" -> ")
    if not arrow or not answer.strip():
        raise ValueError("no ' -> answer' at its end")
    found = _MARK.findall(wording)
    text = _MARK.sub(lambda match: match[2], wording).strip()
    if any(c in text for c in "{}="):
        raise ValueError("a mark is not sound: write {role=the amount in words}")
    if not found:
        raise ValueError("no amount is marked")
    return Marked(text, tuple(role for role, _ in found), tuple(words for _, words in found), answer.strip())


def answer_kind(answer: str) -> str:
    """What the first part of an answer tells: "time", "clock", "yes-no", a kind of unit, or "word"."""
    first = answer.split(",", maxsplit=1)[0].strip()
    if first in ("yes", "no"):
        return "yes-no"
    if re.fullmatch(r"\d\d?:\d\d", first):
        return "clock"
    number, _, unit = first.partition(" ")
    return (kind_of_unit(unit) if unit else "count") if re.fullmatch(r"-?[\d.]+", number) else "word"
