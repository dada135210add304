"""Pulls what was heard towards the words of the domain: "die sell" to "diesel", "gelld" to "gelled".

Only words that the domain does not have are touched, and only when one of its words sounds nearly the same. Numbers
and denials are never made: a repair must not turn one reading into another, or a no into a yes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from cabassist.language.numbers import NUMBER_WORDS
from cabassist.voice.language_files import read_dictionary

LEAST_LIKENESS = 79.0
"""Likeness in sound, 0 to 100, from which on a word counts as misheard."""
LEAST_SPELLING = 80.0
"""The same for the spelling of a word that no dictionary knows."""
LEAST_LEAD = 4.0
"""By how much the likest word must stand clear of the next."""
_SHORTEST = 3
"""Sounds; shorter words have too many neighbours."""
_NEVER = frozenset(
    "no not none never don't can't won't isn't nothing nope yes off on open shut closed left right".split()
)
_VOWELS = {"AA", "AE", "AH", "AO", "EH", "IH", "UH", "ER", "IY", "UW"}


@dataclass(frozen=True)
class Repaired:
    """A text, and what it was before."""

    text: str
    original: str

    @property
    def changed(self) -> bool:
        """Whether anything was repaired."""
        return self.text != self.original


class Repairer:
    """Repairs texts towards a vocabulary. `dictionary` maps words to their phones in ARPAbet, `beyond` gives those of others."""

    def __init__(
        self,
        vocabulary: Iterable[str],
        dictionary: Mapping[str, str],
        beyond: Callable[[str], str | None] = lambda _: None,
    ) -> None:
        self._vocabulary = frozenset(vocabulary)
        self._dictionary, self._beyond = dictionary, beyond
        sounds = {word: _letters(dictionary[word]) for word in self._vocabulary if word in dictionary}
        self._targets = {
            word: sound
            for word, sound in sounds.items()
            if len(sound) >= _SHORTEST and word not in NUMBER_WORDS and word not in _NEVER and "'" not in word
        }
        self._nearest = lru_cache(maxsize=4096)(self._found)

    @classmethod
    def from_files(cls, domain: Path, wide: Path) -> Repairer:
        """From the dictionary of the domain and the recogniser's own."""
        own, body = read_dictionary(domain), b"\n" + wide.read_bytes() + b"\n"

        def beyond(word: str) -> str | None:
            # Of a hundred thousand words few are ever asked for: as a dictionary they would take 30 MB.
            found = body.find(f"\n{word} ".encode())
            if found < 0:
                return None
            return body[found + 1 : body.find(b"\n", found + 1)].decode().partition(" ")[2].strip()

        return cls(own, own, beyond)

    def _phones(self, word: str) -> str | None:
        return self._dictionary.get(word) or self._beyond(word)

    def repair(self, text: str) -> Repaired:
        """The text with its misheard words replaced; unchanged when there is none."""
        words = text.split()
        out: list[str] = []
        at = 0
        while at < len(words):
            pair = self._joined(words[at : at + 2])
            if pair is not None:
                out.append(pair)
                at += 2
                continue
            word = words[at]
            out.append(word if word in self._vocabulary or word in NUMBER_WORDS else self._nearest(word) or word)
            at += 1
        return Repaired(" ".join(out), text)

    def _joined(self, pair: list[str]) -> str | None:
        """The one word that two together sound like, when neither belongs to the domain by itself."""
        if len(pair) < 2 or any(word in NUMBER_WORDS or word in _NEVER for word in pair):
            return None
        if all(word in self._vocabulary for word in pair):
            return None
        whole = "".join(pair)
        if whole in self._vocabulary:
            return whole
        sounds = [self._phones(word) for word in pair]
        if None in sounds:
            return None
        wanted = "".join(_letters(sound or "") for sound in sounds)
        exact = [word for word, sound in self._targets.items() if sound == wanted]
        return exact[0] if len(exact) == 1 else None

    def _found(self, word: str) -> str | None:
        from rapidfuzz import fuzz, process

        phones = self._phones(word)
        found: list[tuple[str, float]]
        if phones is None:
            near = process.extract(word, list(self._targets), scorer=fuzz.ratio, limit=2, score_cutoff=LEAST_SPELLING)
            found = [(target, score) for target, score, _ in near]
        else:
            sound = _letters(phones)
            if len(sound) < _SHORTEST:
                return None
            alike = process.extract(sound, self._targets, scorer=fuzz.ratio, limit=2, score_cutoff=LEAST_LIKENESS)
            found = [(target, score) for _, score, target in alike]
        if not found or (len(found) > 1 and found[0][1] - found[1][1] < LEAST_LEAD and found[0][1] < 100):
            return None
        return found[0][0]


def _letters(phones: str) -> str:
    """Phones as one character each; vowels that are easily taken for each other share one, so do voiced pairs."""
    return "".join("a" if phone in _VOWELS else _ONE[phone] for phone in phones.split() if phone in _ONE)


_ONE = {
    **dict.fromkeys(_VOWELS, "a"),
    "AW": "w", "AY": "y", "EY": "e", "OW": "o", "OY": "O", "B": "b", "CH": "c", "D": "d", "DH": "D", "F": "f", "G": "g", "HH": "h",
    "JH": "j", "K": "k", "L": "l", "M": "m", "N": "n", "NG": "N", "P": "p", "R": "r", "S": "s", "SH": "S", "T": "t", "TH": "T", "V": "v",
    "W": "W", "Y": "Y", "Z": "z", "ZH": "Z",
}  # fmt: skip
