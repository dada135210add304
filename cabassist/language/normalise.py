"""Cleaning what came in: control characters out, one line, a bounded length, plain lower case for matching."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

MAX_CHARACTERS = 600
"""Longer than anyone says in one breath; what follows is cut off and the driver is told."""

_ESCAPES = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)?|[@-_])?")
"""Sequences that a terminal obeys (ECMA-48)."""
_FILLERS = re.compile(
    r"^(?:(?:uh+|um+|er+|ah+|hmm+|so|well|hey|please|okay|ok|right|now|alright|all right|and|but|just|actually|hi|hello|mate|buddy|then|oh)[ ,]+)+"
)
_TAIL = re.compile(
    r"(?:[ ,]+(?:please|then|now|thanks|thank you|mate|buddy|again please|for me|will you|would you|ok|okay))+$"
)
_POLITE = re.compile(
    r"^(?:can|could|would|will) you (?:please )?|^(?:let's|lets|i want to|i'd like to|i would like to|let me|we need to|i need to) "
)


def literal(text: str) -> str:
    """A text that a terminal only prints: other characters than line ends that steer it are written out."""
    breaks = ("Zl", "Zp")  # some terminals break a line there
    return "".join(
        repr(c)[1:-1] if c != "\n" and (unicodedata.category(c)[0] == "C" or unicodedata.category(c) in breaks) else c
        for c in text
    )


def clean(text: str) -> str:
    """What was said, as one line without control, format or private-use characters."""
    text = _ESCAPES.sub(" ", text)
    kept = (" " if unicodedata.category(c) in ("Cc", "Zl", "Zp", "Zs") else c for c in text)
    return " ".join("".join(c for c in kept if unicodedata.category(c)[0] != "C").split())


_DROPPED_G = re.compile(r"\b([a-z]{2,}in)['’](?![a-z])", re.IGNORECASE)
_WORN = ((re.compile(r"(?<!\w)['’]em\b", re.IGNORECASE), "them"), (re.compile(r"\boutta\b", re.IGNORECASE), "out of"), (re.compile(r"\bgimme\b", re.IGNORECASE), "give me"))  # fmt: skip


def spelled_out(text: str) -> str:
    """The text with what is dropped in talk written out: "runnin'" as "running", "'em" as "them"."""
    text = _DROPPED_G.sub(r"\1g", text)
    for worn, whole in _WORN:
        text = worn.sub(whole, text)
    return text


_RUN_ON = re.compile(
    r"\b(?:(how|what|when|where|who|that|there)s|(i)m|(i|we|they|you)ve|(they|you)re|(do|ca|wo|did|does|is|was|has|have|could|should|would|are|were)nt)\b"
)
"""Short forms without their apostrophe, as recognisers and thumbs write them. "Its", "were" and "ill" are words of their own."""


def _with_apostrophe(found: re.Match[str]) -> str:
    word = found.group()
    short = {"s": 1, "m": 1, "e": 2, "t": 1}[word[-1]]
    return f"{word[:-short]}'{word[-short:]}"


@lru_cache(128)  # every reader of one utterance asks for it again
def plain(text: str) -> str:
    """Lower case, straight apostrophes, also where they were left out, no punctuation but what numbers need."""
    lowered = text.lower().replace("’", "'").replace("‘", "'")
    spaced = re.sub(r"[^\w\s'%.\-/]|(?<!\d)[.\-/](?!\d)|\.(?!\d)|(?<=[^\W\d])[\-/]|[\-/](?=[^\W\d])", " ", lowered)
    return _RUN_ON.sub(_with_apostrophe, " ".join(spaced.split()))


@lru_cache(128)
def bare(text: str) -> str:
    """Plain text without the fillers people put around what they mean."""
    shorter = _TAIL.sub("", _FILLERS.sub("", plain(text) + " ").strip())
    return shorter or plain(text)


def without_politeness(text: str) -> str:
    """Bare text without "can you" and "I want to"."""
    return _POLITE.sub("", bare(text))


def beginnings(words: str, without: frozenset[str]) -> set[str]:
    """The beginnings of the words that name something: all of three letters or more but those `without`."""
    return {word[:4] for word in re.findall(r"[a-z]+", words.lower()) if len(word) > 2 and word not in without}


def has_words(text: str) -> bool:
    """Whether anything in it can be a word or a number."""
    return any(c.isalnum() for c in text)
