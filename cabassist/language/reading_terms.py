"""The vocabulary of reports, from `knowledge/reading-terms.yaml`, made ready for looking up.

Phrases are found by their first word, longest first. What a phrase tells about the subject of a report is a
`Clue`: a subject by name, a word that may also mean something else, a place, a tire's position.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Generic, NamedTuple, TypeVar

from cabassist.language.numbers import NUMBER_WORDS, Word
from cabassist.places import knowledge_folder

T = TypeVar("T")
Phrase = tuple[str, ...]

SHORTEST_MISSPELT = 5
"""Shorter words have too many neighbours to be guessed from."""
SWAPPED = {"tnak": "tank", "hlaf": "half", "hafl": "half", "fulll": "full", "ful": "full", "tyer": "tire", "fule": "fuel", "wtaer": "water"}
SHORT_FOR = {
    "lf": ("left", "front"), "rf": ("right", "front"), "ldo": ("left", "drive", "outer"), "ldi": ("left", "drive", "inner"),
    "rdo": ("right", "drive", "outer"), "rdi": ("right", "drive", "inner"),
}  # fmt: skip
"""Tire positions as they are jotted down."""
NOT_MISSPELT = frozenset(
    "thanks talks there these threw short share store score block blank lever print paint frost space spark tries taken other water"
    " later wants waits tests house hours mouse round found sound their thing think third right night light might eight front"
    " close shows other under never every after about still start state stand stood plate place please plenty quiet quite write"
    " white while where which whose with twenty fifth sixth forth being below begin better bigger bottom button broke"
    " bring drive driver dirty doubt doing going gone great green group inches insert level listen little middle minute mostly"
    " outer paste point power pretty price prime proper quick ready really reach reads seems seven shall sharp sheet shift shirt"
    " shoot should since sleep slope small smell smoke snows south speed spent spill sport stuff style sunny super sweet table"
    " taste teeth tight times title total touch tough tower track train treat truck trust twice footy forties fifties sixties seventies eighties nineties sevens threes fourths until upper usual visit voice"
    " watch wheel whole world worse worst worth would wrong young battle bottles shoes finish figure forget french friend frozen"
    " further garden gasket ground guest heard heavy house leave leaves lounge lower lunch maybe metal month morning mount"
    " mouth move music noise north nurse ocean offer often order paper party phone photo piece plain plane plant player"
    " quarterback present percent person persons pleasure pressing messages passage package outsider insider dozen tired wasted faster water"
    " waited wasting pasted tasted letter latter litter lighter lifter easter filter cabinet cabins second secondly resting".split()
)
"""Common words that lie one slip from a word of the vocabulary."""


class Clue(NamedTuple):
    """What a phrase tells about the subject of a report."""

    kind: str
    """subject, loose, noun, place, tire, circuit, elsewhere, both or other."""
    name: str


class Phrases(Generic[T]):
    """Phrases with what they stand for."""

    def __init__(self, pairs: Iterable[tuple[str, T]]) -> None:
        self._by_first: dict[str, list[tuple[Phrase, T]]] = {}
        seen: set[Phrase] = set()
        for text, meaning in pairs:
            phrase = tuple(text.split())
            if phrase not in seen:
                seen.add(phrase)
                self._by_first.setdefault(phrase[0], []).append((phrase, meaning))
        for listed in self._by_first.values():
            listed.sort(key=lambda pair: -len(pair[0]))
        self.words = frozenset(word for phrase in seen for word in phrase)

    def at(self, words: Sequence[str], i: int) -> tuple[int, T] | None:
        """The end of the longest phrase that starts at word `i` and its meaning, or None."""
        if i >= len(words):
            return None
        for phrase, meaning in self._by_first.get(words[i], ()):
            end = i + len(phrase)
            if tuple(words[i:end]) == phrase:
                return end, meaning
        return None


@dataclass(frozen=True)
class Signs:
    """Patterns over the words, joined by spaces, that tell a report from other talk."""

    record: re.Pattern[str]
    everything: re.Pattern[str]
    clause: re.Pattern[str]
    part: re.Pattern[str]
    rest: re.Pattern[str]
    present: re.Pattern[str]
    overflow: re.Pattern[str]
    low_light: re.Pattern[str]


@dataclass(frozen=True)
class Terms:
    """The vocabulary for one coach."""

    clues: Phrases[Clue]
    belongings: frozenset[str]
    units: Phrases[tuple[str, float]]
    """Unit and how many of it one is; the unit "" is none of ours."""
    hedges: Phrases[str]
    sentence_hedges: Phrases[str]
    levels: Phrases[str]
    missing: Phrases[str]
    remaining: Phrases[str]
    counted_from: Phrases[str]
    labels: frozenset[str]
    corrections: Phrases[str]
    swap: Phrases[str]
    same: Phrases[str]
    relative: Phrases[float]
    signs: Signs
    known: frozenset[str]
    targets: Mapping[str, tuple[str, ...]]
    """Words a misspelt one may be meant for, by first letter."""


@cache
def _file() -> Mapping[str, Any]:
    import yaml

    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    text = (knowledge_folder() / "reading-terms.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.load(text, loader)  # noqa: S506 - a safe loader
    return loaded


def _pairs(table: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, str]]:
    for name, listed in table.items():
        for phrase in listed:
            yield phrase, name


def _clues(data: Mapping[str, Any], tanks: Sequence[str]) -> Iterator[tuple[str, Clue]]:
    # A further tank of the profile takes its name, and "gray" for "grey", away from the waste tank.
    for name in tanks:
        if name not in ("fresh", "waste"):
            said = name.replace("_", " ")
            for spelling in {said, said.replace("grey", "gray"), said.replace("gray", "grey")}:
                for tail in ("", " tank", " water", "water"):
                    yield spelling + tail, Clue("subject", name)
    for phrase, name in _pairs(data["subjects"]):
        yield phrase, Clue("subject", name)
    for key, kind in (("loose", "loose"), ("nouns", "noun"), ("places", "place"), ("tires", "tire"), ("circuits", "circuit")):
        for phrase, name in _pairs(data[key]):
            yield phrase, Clue(kind, name)
    for phrase in data["elsewhere"]:
        yield phrase, Clue("elsewhere", "")
    for key in ("both", "other"):
        for phrase in data[key]:
            yield phrase, Clue(key, "")


def _units(data: Mapping[str, Any]) -> Iterator[tuple[str, tuple[str, float]]]:
    for phrase, unit in _pairs(data["units"]):
        yield phrase, (unit, 1.0)
    for phrase, unit, factor in data["converted"]:
        yield phrase, (unit, float(factor))
    for phrase in data["foreign_units"]:
        yield phrase, ("", 1.0)


def _either(patterns: Sequence[str]) -> re.Pattern[str]:
    return re.compile("|".join(f"(?:{pattern})" for pattern in patterns))


def _signs(data: Mapping[str, Any]) -> Signs:
    signs = data["signs"]
    return Signs(
        record=re.compile(signs["record"]),
        everything=_either(signs["everything"]),
        clause=_either(signs["clause"]),
        part=_either(signs["part"]),
        rest=_either(signs["rest"]),
        present=re.compile(data["present"]),
        overflow=re.compile(data["overflow"]),
        low_light=re.compile(data["low_light"]),
    )


@cache
def terms(tanks: tuple[str, ...]) -> Terms:
    """The vocabulary of a coach with these tanks."""
    data = _file()
    clues = Phrases(_clues(data, tanks))
    units = Phrases(_units(data))
    hedges = Phrases(_pairs(data["hedges"]))
    levels = Phrases(_pairs(data["levels"]))
    corrections = Phrases(_pairs(data["corrections"]))
    counted_from = Phrases([(p, "top") for p in data["from_top"]] + [(p, "bottom") for p in data["from_bottom"]])
    flat = {key: Phrases((phrase, phrase) for phrase in data[key]) for key in ("sentence_hedges", "missing", "remaining", "swap", "same")}
    belongings, labels = frozenset(data["belongings"]), frozenset(data["labels"])
    sign_words = re.findall(r"[a-z]{3,}", repr(data["signs"]))
    known = frozenset().union(
        clues.words, units.words, hedges.words, levels.words, corrections.words, counted_from.words, belongings, labels,
        NUMBER_WORDS, sign_words, NOT_MISSPELT, *(found.words for found in flat.values()),
    )  # fmt: skip
    return Terms(
        clues=clues,
        belongings=belongings,
        units=units,
        hedges=hedges,
        sentence_hedges=flat["sentence_hedges"],
        levels=levels,
        missing=flat["missing"],
        remaining=flat["remaining"],
        counted_from=counted_from,
        labels=labels,
        corrections=corrections,
        swap=flat["swap"],
        same=flat["same"],
        relative=Phrases((phrase, float(factor)) for phrase, factor in data["relative"].items()),
        signs=_signs(data),
        known=known,
        targets=_targets(data, tanks),
    )


def _targets(data: Mapping[str, Any], tanks: Sequence[str]) -> Mapping[str, tuple[str, ...]]:
    phrases = [phrase for key in ("subjects", "loose", "nouns", "places", "units") for phrase, _ in _pairs(data[key])]
    # The slips among them are no goal of a misspelling; only words that are right themselves are.
    right = {
        "fresh", "waste", "water", "propane", "battery", "batteries", "diesel", "temperature", "outside", "inside", "shore", "voltage", "pressure",
        "odometer", "mileage", "passengers", "aboard", "carbon", "monoxide", "generator", "cylinder", "cylinders", "bottle", "tires", "gauge", "needle",
        "street", "spare", "percent", "gallons", "gallon", "liters", "litres", "pounds", "inches", "volts", "degrees", "celsius", "fahrenheit", "hours",
        "miles", "kilometers", "holding", "potable", "drinking", "minus", "empty", "quarter", "quarters", "thirds", "thirty", "forty", "fifty",
        "sixty", "seventy", "eighty", "ninety", "twenty", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
        "eighteen", "nineteen", "hundred", "thousand", "eighths", "fifths", "primary", "secondary", "headcount", "cabin", "house", "seven", "three",
        "below", "freezing", "zero", "reading", "level", "front", "right", "outer", "inner", "drive",
    }  # fmt: skip
    right |= {name for name in tanks if len(name) >= SHORTEST_MISSPELT}
    assert all(phrase for phrase in phrases)
    by_first: dict[str, list[str]] = {}
    for word in sorted(right):
        if len(word) >= SHORTEST_MISSPELT:
            by_first.setdefault(word[0], []).append(word)
    return {first: tuple(listed) for first, listed in by_first.items()}


def mended(words: Sequence[Word], vocabulary: Terms) -> list[Word]:
    """The words with misspelt ones put right, where one slip or two lead to a word of the vocabulary."""
    out: list[Word] = []
    for word in words:
        text = word.text
        if text in SHORT_FOR:
            out += [word._replace(text=part) for part in SHORT_FOR[text]]
        elif text in SWAPPED:
            out.append(word._replace(text=SWAPPED[text]))
        elif len(text) < SHORTEST_MISSPELT or text in vocabulary.known or not text.isalpha():
            out.append(word)
        else:
            out.append(word._replace(text=_nearest(text, vocabulary)))
    return out


def _nearest(text: str, vocabulary: Terms) -> str:
    from rapidfuzz.distance import OSA

    allowed = 1 if len(text) <= 6 else 2
    best, least = text, allowed + 1
    for first in dict.fromkeys(text[:2]):
        for target in vocabulary.targets.get(first, ()):
            # The right letters in a wrong order are believed at a greater distance.
            shuffled = sorted(text) == sorted(target)
            distance = OSA.distance(text, target, score_cutoff=2 if shuffled else allowed) - shuffled
            # Another first letter is believed only when the first two changed places.
            if distance < least and (first == text[0] or text[1] + text[0] == target[:2]):
                best, least = target, distance
    return best
