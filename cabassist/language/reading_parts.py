"""The parts a report is read from: its words, the amounts among them, and what they may be amounts of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from cabassist.language.numbers import Number, Word, number_at
from cabassist.language.reading_terms import Terms

LENGTHS = frozenset({"in", "cm", "ft"})
WEIGHTS = frozenset({"lb", "kg"})
TEMPERATURE_UNITS = frozenset({"F", "C", "degrees"})
PUNCTUATION = frozenset(",.;:?!…()—–|/-")
STRONG_PUNCTUATION = frozenset(".;?!…")


@dataclass(frozen=True)
class Amount:
    """A number with its unit, or a word for a level, as it stands among the words."""

    start: int
    end: int
    number: float | None
    unit: str = ""
    kind: str = "integer"
    """A kind of number, or: article, freezing, flag, red, same, relative."""
    said: tuple[str, ...] = ()
    """The pieces of a number spoken in pieces."""
    hedge: str = ""
    """about, under, over or range."""
    low: float | None = None
    high: float | None = None
    counted_from: str | None = None
    flag: str | None = None
    level: bool = False
    """A word for a level, not a number."""
    below_zero: bool = False
    freezing: float | None = None
    """Degrees from freezing, when counted from there."""
    of: float | None = None
    """The whole, in "three of four"."""
    after_place: bool = False
    """It stands right after "inside" or the like, so that a leading "one" may be a pronoun."""


@dataclass(frozen=True)
class Subject:
    """What an amount may be about."""

    start: int
    end: int
    what: str
    """The name of a reading; or tank, place, temperature, side, other, pair, elsewhere."""
    which: str | None = None
    place: str | None = None
    loose: bool = False
    """The word may also stand in the name of something else."""
    hint: str = ""
    """The unit that the words imply: "battery amps"."""
    both: bool = False
    tire: dict[str, str] = field(default_factory=dict)
    """Parts of a tire's position: side, axle, dual."""
    pronoun: bool = False
    """A thing, not a place: "the inside one"."""


class Reader:
    """The words of one utterance, and which of them belong to amounts."""

    def __init__(self, words: Sequence[Word], vocabulary: Terms) -> None:
        self.words = words
        self.texts = [word.text for word in words]
        self.joined = " ".join(self.texts)
        self.vocabulary = vocabulary
        self.taken = [False] * len(words)
        self.skipped = 0
        """Numbers that are no amount of ours: times, names, rates."""

    def text(self, i: int) -> str:
        """The word at `i`, or "" outside."""
        return self.texts[i] if 0 <= i < len(self.texts) else ""

    def phrase(self, i: int, *phrases: str) -> int:
        """The end of the first of these phrases that stands at `i`, or 0."""
        for candidate in phrases:
            parts = candidate.split()
            if i >= 0 and self.texts[i : i + len(parts)] == parts:
                return i + len(parts)
        return 0

    def number_at(self, i: int) -> Number | None:
        """The number that starts at `i`, or None, also outside."""
        return number_at(self.texts, i) if 0 <= i < len(self.texts) else None

    def take(self, start: int, end: int) -> None:
        """Mark words as belonging to an amount."""
        for i in range(max(0, start), end):
            self.taken[i] = True

    def few_others(self, allowed: int, named: Sequence[Subject] = (), around: int | None = None) -> bool:
        """Whether at most `allowed` words are left that nothing here understands; those of `named` are understood.

        With `around` only the sentence in which that word stands is looked at.
        """
        vocabulary = self.vocabulary
        others = 0
        ends = [i for i, word in enumerate(self.texts) if word in STRONG_PUNCTUATION]
        first = 0 if around is None else max((i for i in ends if i < around), default=0)
        last = len(self.texts) if around is None else min((i for i in ends if i > around), default=len(self.texts))
        for i, word in enumerate(self.texts[:last]):
            if i < first:
                continue
            known = (
                self.taken[i]
                or any(subject.start <= i < subject.end for subject in named)
                or word in vocabulary.common
                or word in PUNCTUATION
                or word in vocabulary.corrections.words
            )
            others += not (known or vocabulary.clues.at(self.texts, i))
        return others <= allowed


_OPENS = frozenset("and the but so ok okay now then".split())


def is_side(reader: Reader, i: int) -> bool:
    """Whether "left" or "right" at `i` is a side, not what remains or a way of speaking."""
    clues, after = reader.vocabulary.clues, reader.text(i + 1)
    for j in (i + 1, i + 2):
        found = clues.at(reader.texts, j)
        if found and found[1].kind == "tire" and after not in ("in", "at", "now", "on", "about"):
            return True
        if after not in ("and", "side", "hand", "the"):
            break
    if after in ("tire", "tires", "tyre", "tyres", "side", "one", "hand", "dual", "duals", "cylinder", "bottle"):
        return True
    other = "right" if reader.text(i) == "left" else "left"
    if reader.number_at(i + 1) and any(
        word == other and reader.number_at(k + 1) for k, word in enumerate(reader.texts)
    ):
        # "steers, left one oh eight, right one ten"
        return True
    if reader.phrase(i + 1, "and right", "and left", "and the right", "and the left"):
        return True
    if reader.phrase(i - 2, "on the", "for the", "with the") and after == "" and "same" in reader.texts:
        return True
    if all(word in _OPENS for word in reader.texts[:i]) and (after == "is" or reader.words[i].owner):
        # "and the right is ninety eight", after the left
        return any(reader.number_at(k) for k in range(i + 1, i + 4))
    if reader.text(i - 1) == reader.text(i + 1) == ",":
        # "outer dual, left, ninety eight"
        return any(
            found is not None and found[1].kind == "tire" for found in (clues.at(reader.texts, k) for k in range(i))
        )
    if any(word == other and _ends_number(reader, k) for k, word in enumerate(reader.texts)) and _ends_number(
        reader, i
    ):
        # "steers are one oh eight left and one ten right"
        return any(
            found is not None and found[1].kind == "tire" for found in (clues.at(reader.texts, k) for k in range(i))
        )
    if reader.phrase(i - 2, "on the") and (
        after in ("", "is", "and", "at") or after in PUNCTUATION or reader.number_at(i + 1)
    ):
        return any(
            found is not None and found[1].kind == "tire" for found in (clues.at(reader.texts, k) for k in range(i - 2))
        )
    return reader.text(i - 1) in (
        "front",
        "rear",
        "drive",
        "tag",
        "steer",
        "axle",
        "tire",
        "tires",
        "back",
        "outer",
        "inner",
        "tyre",
    )


def _ends_number(reader: Reader, i: int) -> bool:
    """Whether a number ends right before a word."""
    return any((found := reader.number_at(k)) is not None and found.end == i for k in range(max(0, i - 4), i))
