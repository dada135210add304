"""Measures of plain wording: sentences, syllables, reading ease, seconds of speech.

Rules: ASD-STE100 5.1 (one instruction a sentence), 5.2 (at most 20 words), 5.3 (imperative).
Reading ease: Flesch, 206.835 - 1.015 words/sentence - 84.6 syllables/word (as printed by the VA
HSR&D page on readability). Speech: 150 words a minute.
"""

from __future__ import annotations

import re
from functools import cache

WORDS_A_MINUTE = 150.0
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9'’.%-]*")


def sentences(text: str) -> list[str]:
    """The sentences of a text, in order, without empty ones."""
    return [part.strip() for part in _SENTENCE_END.split(text) if part.strip()]


def words(text: str) -> list[str]:
    """The words of a text; a hyphenated word counts once, as STE100 counts it."""
    return _WORD.findall(text)


@cache
def _hyphenator() -> object:
    import pyphen

    return pyphen.Pyphen(lang="en_US", left=1, right=1)


@cache
def syllables(word: str) -> int:
    """Syllables of one English word, at least 1: the larger of two simple counts.

    Hyphenation patterns miss breaks that printers avoid, vowel groups miss hiatus; each errs low.
    """
    lower = re.sub(r"[^a-z]", "", word.lower())
    if not lower:
        return 1
    broken = _hyphenator().inserted(lower).count("-") + 1  # type: ignore[attr-defined]
    groups = len(re.findall(r"[aeiouy]+", lower))
    if lower.endswith("e") and not lower.endswith(("le", "ee")) and groups > 1:
        groups -= 1
    if re.search(r"[^td]ed$", lower) and groups > 1:
        groups -= 1
    return max(1, broken if groups < broken <= groups + 1 else groups)


def reading_ease(text: str) -> float:
    """Flesch reading ease; higher is easier, 60 and up is plain English.

    Raises:
        ValueError: the text has no words.
    """
    found = words(text)
    if not found:
        raise ValueError("a text without words has no reading ease")
    per_sentence = len(found) / max(1, len(sentences(text)))
    per_word = sum(syllables(word) for word in found) / len(found)
    return 206.835 - 1.015 * per_sentence - 84.6 * per_word


def speech_seconds(text: str) -> float:
    """How long a text takes to say at 150 words a minute."""
    return len(words(text)) / WORDS_A_MINUTE * 60
