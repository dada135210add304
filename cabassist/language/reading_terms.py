"""The vocabulary of reports, from `knowledge/reading-terms.yaml`, made ready for looking up.

Phrases are found by their first word, longest first. What a phrase tells about the subject of a report is a
`Clue`: a subject by name, a word that may also mean something else, a place, a tire's position.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, NamedTuple, TypeVar

from cabassist.language.needles import by_marks
from cabassist.language.numbers import NUMBER_WORDS, Word, number_at

T = TypeVar("T")
Phrase = tuple[str, ...]

SHORTEST_MISSPELT = 5
"""Shorter words have too many neighbours to be guessed from."""
SHORTEST_JOINED = 8
"""From this length on a name of several words is known in one as well."""


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
        if not 0 <= i < len(words):
            return None
        for phrase, meaning in self._by_first.get(words[i], ()):
            end = i + len(phrase)
            if tuple(words[i:end]) == phrase:
                return end, meaning
        return None

    def end(self, words: Sequence[str], i: int) -> int:
        """The end of the longest phrase that starts at word `i`, or 0."""
        found = self.at(words, i)
        return found[0] if found else 0

    def anywhere(self, words: Sequence[str]) -> bool:
        """Whether one of the phrases stands anywhere among the words."""
        return any(self.at(words, i) for i in range(len(words)))


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
    withdrawal: tuple[re.Pattern[str], ...]
    """A whole sentence that takes the last report back: plainly, by the name of a reading, or judged wrong."""


@dataclass(frozen=True)
class Terms:
    """The vocabulary for one coach. What each list is for stands in the file it comes from."""

    clues: Phrases[Clue]
    units: Phrases[tuple[str, float]]
    """Unit and how many of it one is; the unit "" is none of ours."""
    hedges: Phrases[str]
    after_hedges: Phrases[str]
    sentence_hedges: Phrases[str]
    levels: Phrases[str]
    missing: Phrases[str]
    remaining: Phrases[str]
    counted_from: Phrases[str]
    short_of_full: Phrases[str]
    corrections: Phrases[str]
    swap: Phrases[str]
    same: Phrases[str]
    relative: Phrases[float]
    gross: tuple[str, ...]
    not_share_tails: tuple[str, ...]
    belongings: frozenset[str]
    labels: frozenset[str]
    not_shares: frozenset[str]
    pointing: frozenset[str]
    reporting: frozenset[str]
    described: frozenset[str]
    limits: frozenset[str]
    after_above: frozenset[str]
    before_out_of: frozenset[str]
    after_verb: frozenset[str]
    acts: frozenset[str]
    after_bare: frozenset[str]
    between: frozenset[str]
    common: frozenset[str]
    signs: Signs
    known: frozenset[str]
    """Words that are no misspellings."""
    targets: Mapping[str, tuple[str, ...]]
    """Words a misspelt one may be meant for, by first letter."""
    short_for: Mapping[str, tuple[str, ...]]
    """Jottings and the words they stand for."""


def _pairs(table: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, str]]:
    for name, listed in table.items():
        for phrase in listed:
            yield phrase, name


def _clues(data: Mapping[str, Any], tanks: Sequence[str]) -> Iterator[tuple[str, Clue]]:
    # A further tank of the profile takes its name, and "gray" for "grey", away from the waste tank.
    for name in tanks:
        if name not in ("fresh", "waste"):
            said = name.replace("_", " ")
            for spelling in dict.fromkeys((said, said.replace("grey", "gray"), said.replace("gray", "grey"))):
                for tail in ("", " tank", " water", "water"):
                    yield spelling + tail, Clue("subject", name)
    for phrase, name in _pairs(data["subjects"]):
        yield phrase, Clue("subject", name)
        joined = phrase.replace(" ", "")
        if len(joined) >= SHORTEST_JOINED and joined != phrase:
            yield joined, Clue("subject", name)  # "shorepower", "airpressure"
    for key, kind in (
        ("loose", "loose"),
        ("nouns", "noun"),
        ("places", "place"),
        ("tires", "tire"),
        ("circuits", "circuit"),
    ):
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


def _linked(data: Mapping[str, Any], links: str, marks: str) -> list[str]:
    """Every link before every mark: "shy of" and "the rim" give "shy of the rim"."""
    return [f"{link} {mark}" for link in data[links] for mark in data[marks]]


def _levels(data: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    yield from _pairs(data["levels"])
    for name in ("low", "high"):
        for phrase in _linked(data, "needle_links", f"{name}_marks"):
            yield phrase, name


def _ends(data: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The phrases that count a depth from one end of a tank, with that end."""
    for end in ("top", "bottom"):
        for phrase in [*data[f"from_{end}"], *_linked(data, f"{end}_links", f"{end}_marks")]:
            yield phrase, end


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
        withdrawal=tuple(re.compile(data["withdrawal"][key]) for key in ("plainly", "named", "judged")),
    )


def terms(data: Mapping[str, Any], tanks: tuple[str, ...]) -> Terms:
    """The vocabulary of a coach with these tanks, from the content of `reading-terms.yaml`."""

    def table(key: str) -> Phrases[str]:
        return Phrases(_pairs(data[key]))

    def phrases(key: str) -> Phrases[str]:
        return Phrases((phrase, phrase) for phrase in data[key])

    def words(key: str) -> frozenset[str]:
        listed = data[key]
        return frozenset(listed.split() if isinstance(listed, str) else listed)

    return Terms(
        clues=Phrases(_clues(data, tanks)),
        units=Phrases(_units(data)),
        hedges=table("hedges"),
        after_hedges=table("after_hedges"),
        sentence_hedges=phrases("sentence_hedges"),
        levels=Phrases(_levels(data)),
        missing=phrases("missing"),
        remaining=phrases("remaining"),
        counted_from=Phrases(_ends(data)),
        short_of_full=Phrases((phrase, phrase) for phrase in _linked(data, "short_links", "short_marks")),
        corrections=table("corrections"),
        swap=phrases("swap"),
        same=phrases("same"),
        relative=Phrases((phrase, float(factor)) for phrase, factor in data["relative"].items()),
        gross=tuple(data["gross"]),
        not_share_tails=tuple(data["not_share_tails"]),
        belongings=words("belongings"),
        labels=words("labels"),
        not_shares=words("not_shares"),
        pointing=words("pointing"),
        reporting=words("reporting"),
        described=words("described"),
        limits=words("limits"),
        after_above=words("after_above"),
        before_out_of=words("before_out_of"),
        after_verb=words("after_verb"),
        acts=words("acts"),
        after_bare=words("after_bare"),
        between=words("between"),
        common=words("common"),
        signs=_signs(data),
        known=_known(data),
        targets=_targets(words("spelling") | set(tanks)),
        short_for={short: tuple(meant.split()) for short, meant in data["short_for"].items()},
    )


def _known(data: Mapping[str, Any]) -> frozenset[str]:
    """Every word of the file: none of them is a misspelling of another."""
    found: set[str] = set(NUMBER_WORDS)
    waiting: list[Any] = [value for key, value in data.items() if key != "short_for"]
    while waiting:
        value = waiting.pop()
        if isinstance(value, str):
            found.update(re.findall(r"[a-z]+", value))
        else:
            waiting.extend(value.values() if isinstance(value, dict) else value if isinstance(value, list) else ())
    return frozenset(found)


def _targets(right: Iterable[str]) -> Mapping[str, tuple[str, ...]]:
    by_first: dict[str, list[str]] = {}
    for word in sorted(right):
        if len(word) >= SHORTEST_MISSPELT:
            by_first.setdefault(word[0], []).append(word)
    return {first: tuple(listed) for first, listed in by_first.items()}


def mended(words: Sequence[Word], vocabulary: Terms) -> list[Word]:
    """The words with misspelt ones put right, where one slip or two lead to a word of the vocabulary."""
    out: list[Word] = []
    texts = [word.text for word in words]
    for i, word in enumerate(words):
        text = word.text
        if _is_owner(texts, i, vocabulary):
            out.append(word._replace(text=text[:-1], owner=True))
        elif text in vocabulary.short_for:
            out += [word._replace(text=part) for part in vocabulary.short_for[text]]
        elif cut := _run_on(text, vocabulary):
            out += [word._replace(text=text[:cut], end=word.start + cut), Word(text[cut:], word.start + cut, word.end)]
        elif len(text) < SHORTEST_MISSPELT or text in vocabulary.known or not text.isalpha():
            out.append(word)
        else:
            out.append(word._replace(text=_nearest(text, vocabulary)))
    return by_marks(out)


RUN_ON = NUMBER_WORDS | {"full", "empty", "tank", "cylinder", "bottle", "level", "gauge", "at", "is"}
"""What thumbs run on to a name: "wastehalf", "freshtank"."""
SHORTEST_RUN_ON = 7


def _run_on(text: str, vocabulary: Terms) -> int:
    """Where a name ends in a word to which the next one was run on; 0 for nowhere."""
    if len(text) < SHORTEST_RUN_ON or text in vocabulary.known or not text.isalpha():
        return 0
    for cut in range(len(text) - 2, 2, -1):
        found = vocabulary.clues.at([text[:cut]], 0) if text[cut:] in RUN_ON else None
        named = found is not None and (found[1].kind in ("subject", "place") or (found[1].kind == "loose" and cut > 3))
        if named:
            return cut
    return 0


LEADS_ON = frozenset(
    "at about around roughly reading reads showing sitting holding down up still only just now".split()
)
"""What may stand between "airs", written for "air's", and its amount."""


def _is_owner(texts: Sequence[str], i: int, vocabulary: Terms) -> bool:
    """Whether a word is a subject or place with "is" run on to it: "fuels at three eighths", "spares full"."""
    text = texts[i]
    if len(text) < 4 or not text.endswith("s") or vocabulary.clues.at(texts, i) or vocabulary.units.at(texts, i):
        return False
    found = vocabulary.clues.at([text[:-1]], 0)
    if found is None or found[1].kind not in ("subject", "loose", "place", "circuit"):
        return False
    after = next((k for k in range(i + 1, len(texts)) if texts[k] not in LEADS_ON), len(texts))
    return after < len(texts) and (bool(number_at(texts, after)) or vocabulary.levels.at(texts, after) is not None)


def _nearest(text: str, vocabulary: Terms) -> str:
    """The word of the vocabulary that is a slip or two away, or the text itself."""
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
