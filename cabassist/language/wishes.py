"""Signs of unsafe or illegal wishes: words that together ask for something this assistant must refuse.

The signs are data (`knowledge/wish-signs.yaml`). A wish is said in any order ("in the ditch, can I just let the black
tank go"), so its signs are groups of words that must all occur near each other, not patterns. That also makes the
screen cheap: a text is looked up word by word, and nothing has to be compiled. What speaks of the same things without
wishing it ("why must I not", "what happens if") is told apart by the words under `safe`.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any, NamedTuple

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

NEAR_WORDS = 32
"""Words of one wish stand no further apart than this; a longer text is looked at in overlapping parts."""
END = "."
"""Stands for the end of what was said, so that "ok?" at the end differs from "ok" within."""
SAFE = "safe"

_LEAVE = Lazy(
    r"\b(?:(?:can|could|may|shall) (?:i|we)|can (?:he|she|they|you)|is it (?:ok|okay|fine|all ?right|safe|legal)|(?:ok|okay|fine) (?:to|if)"
    r"|i'?ll|we'?ll|i'?d|i'?m (?:gonna|going to|thinking)|i am going to|gonna|thinking of|let me|let'?s|any (?:reason|harm|problem)|why (?:not|bother)"
    r"|just|anyway|skip|trick|no need|no point|easiest|instead of|without)\b"
    r"|\b(?:no|right|yeah|yes|ok|okay|fine|eh|innit|isn't it)\?$"
)


def asks_leave(text: str) -> bool:
    """Whether a text asks leave, says what its speaker is about to do, or cuts a corner, whatever it is about."""
    return _LEAVE.search(text.lower().replace("’", "'").strip()) is not None


Groups = Mapping[str, Sequence[str]]


class Rule(NamedTuple):
    """A wish and the groups of words that make it together, each set of groups as the bits of one number."""

    wish: str
    all_of: tuple[int, ...]
    """One group of each set must occur."""
    none_of: int


class WishScreen:
    """Finds wishes by their words."""

    def __init__(self, data: Mapping[str, Any], known: Collection[str] | None = None) -> None:
        """`data` as in `wish-signs.yaml`; signs of wishes that are not `known` are left out, for nothing answers them.

        Raises ValueError when a sign names a group of words that is not there, and KeyError when a list is missing.
        """
        words: Groups = {SAFE: data["safe"], **data["words"]}
        fixed: Groups = data["fixed"]
        bits = {name: 1 << at for at, name in enumerate(dict.fromkeys((*words, *fixed)))}
        self._safe = bits[SAFE]
        self._words = _Index(words, bits)
        self._fixed = _Index(fixed, bits)
        self._rules = tuple(
            _rule(wish, line, bits)
            for wish, lines in data["signs"].items()
            if known is None or wish in known
            for line in lines
        )

    def find(self, text: str) -> tuple[str, ...]:
        """The wishes whose signs stand in the text, in the order of the file; none for a question about safety."""
        words = [*_words(plain(text)), END]
        half = NEAR_WORDS // 2
        starts = range(0, max(1, len(words) - half), half)
        return tuple(dict.fromkeys(wish for at in starts for wish in self._wishes(words[at : at + NEAR_WORDS])))

    def _wishes(self, words: list[str]) -> list[str]:
        found = 0
        left: list[str] = []
        at = 0
        while at < len(words):
            begun = self._fixed.begun(words, at)
            longest = max((length for length, _ in begun), default=0)
            for length, bit in begun:
                if length == longest:
                    found |= bit
            if not longest:
                left.append(words[at])
            at += longest or 1
        for place in range(len(left)):
            for _, bit in self._words.begun(left, place):
                found |= bit
        if found & self._safe:
            return []
        return [
            wish
            for wish, all_of, none_of in self._rules
            if all_of[0] & found and not none_of & found and all(groups & found for groups in all_of)
        ]


class _Node:
    """A place in the tree of expressions: what may follow, and the groups of the expression that ends here."""

    __slots__ = ("bits", "stems", "words")

    def __init__(self) -> None:
        self.bits = 0
        self.words: dict[str, _Node] = {}
        self.stems: dict[str, _Node] = {}

    def add(self, entry: Sequence[str], bit: int) -> None:
        """Write an expression of one or more words below this place; a trailing star stands for any ending."""
        node = self
        for word in entry:
            branches, key = (node.stems, word[:-1]) if word.endswith("*") else (node.words, word)
            node = branches.setdefault(key, _Node())
        node.bits |= bit


class _Index:
    """Words and expressions of all groups, by their first words; a first word's tree grows when it is first said."""

    def __init__(self, groups: Groups, bits: Mapping[str, int]) -> None:
        self._entries: dict[str, list[tuple[str, int]]] = {}
        for name, entries in groups.items():
            bit = bits[name]
            for entry in entries:
                self._entries.setdefault(_word(entry.partition(" ")[0]), []).append((entry, bit))
        self._lengths = sorted({len(first) for first in self._entries if first.endswith("*")})
        self._grown: dict[str, _Node] = {}

    def _first(self, first: str) -> list[_Node]:
        """What may follow a first word or stem; none when no expression begins with it."""
        if first not in self._entries:
            return []
        node = self._grown.get(first)
        if node is None:
            node = self._grown[first] = _Node()
            for entry, bit in self._entries[first]:
                node.add(_words(entry)[1:], bit)
        return [node]

    def begun(self, words: list[str], at: int) -> list[tuple[int, int]]:
        """Length in words and groups of every expression that begins at this place."""
        first = words[at]
        nodes = [] if first.endswith("*") else self._first(first)
        for length in self._lengths:  # the star counts
            if len(first) >= length - 1:
                nodes += self._first(first[: length - 1] + "*")
        found = []
        length = 1
        while nodes:
            found += [(length, node.bits) for node in nodes if node.bits]
            if at + length == len(words):
                break
            nodes = _next(nodes, words[at + length])
            length += 1
        return found


def _words(text: str) -> list[str]:
    """The words of a plain text; "the jack's" and "the jack is" read alike."""
    return [_word(word) for word in text.split()]


def _word(word: str) -> str:
    return word.removesuffix("'s")


def _next(nodes: list[_Node], word: str) -> list[_Node]:
    following = [node.words[word] for node in nodes if word in node.words]
    for node in nodes:
        if node.stems:
            following += [branch for stem, branch in node.stems.items() if word.startswith(stem)]
    return following


def _rule(wish: str, line: str, bits: Mapping[str, int]) -> Rule:
    all_of: list[int] = []
    none_of = 0
    for term in line.split():
        try:
            groups = sum(bits[name] for name in term.removeprefix("-").split("|"))
        except KeyError as error:
            raise ValueError(f"the sign {line!r} of {wish} names {error}, a group of words that is not there") from None
        if term.startswith("-"):
            none_of |= groups
        else:
            all_of.append(groups)
    if not all_of:
        raise ValueError(f"a sign of {wish} names no words that must occur")
    return Rule(wish, tuple(all_of), none_of)
