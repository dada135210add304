"""The sentences a driver may say, made from the knowledge, for engines that hear best what they expect.

What stands in the language model is heard far better than what does not. So every wording is taken, with its numbers in words and its misspellings mended, and readings are made up from
the terms they are told in.
"""

from __future__ import annotations

import itertools
import random
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cabassist.coach import Coach
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.language.reading_names import allowed_units
from cabassist.procedures.library import Knowledge
from cabassist.voice.words import cardinal, in_words, ordinal

STEERING_WEIGHT = 8
"""How often each command counts: commands are said far more often than any one question."""
TRIGGERED_EVERY = 20
"""One sentence in so many is also expected after the trigger words."""
READINGS_EACH = 700
"""Made-up readings for each thing that is read."""
NAMES_EACH = 5
"""Names taken for each thing that is read; the terms list the usual ones first, mishearings last."""
READING_WEIGHT = 2
"""How often each way to tell a reading is counted; the wordings beside them have become many."""
KEPT_FROM = 6
"""An unknown word that is used at least so often is a word of the trade, not a slip of the keyboard."""
RARER_BY = 5
"""How many times as usual the other spelling must be."""
CORRECT_FROM = 4
"""A known word is only taken for the right spelling of another when it is used at least so often."""

_BREAK = re.compile(r"[,;:.?!]+(?:\s|$)|\s[-–—]\s|[()\"“”]")
_WRITTEN = re.compile(r"[^A-Za-z' ,;:.?!\-]|[A-Z]{2}")
"""What is written otherwise than it is said."""
_GAPS = str.maketrans("-/.", "   ")
_WORD = re.compile(r"[a-z]+(?:'[a-z]+)*")
_LINKS = (
    "",
    "is",
    "is at",
    "at",
    "reads",
    "reading",
    "shows",
    "is down to",
    "is about",
    "says",
    "now at",
    "looks like",
)
_LEADS = ("", "", "the", "our", "okay", "log", "put down", "we have", "i make the")
_TAILS = ("", "", "", "", "full", "now", "left", "outside", "inside")
_SHARES = (
    "empty", "full", "half", "a half", "half full", "one half", "a quarter", "one quarter", "quarter full", "three quarters",
    "three quarters full", "a third", "one third", "two thirds", "one eighth", "an eighth", "three eighths", "five eighths",
    "seven eighths", "one fifth", "two fifths", "three fifths", "four fifths", "one sixth", "five sixths", "nearly full",
    "nearly empty", "almost full", "almost empty", "just over half", "just under half", "a bit over half", "a hair under a quarter",
)  # fmt: skip


@dataclass(frozen=True)
class Domain:
    """Sentences with their weight, in words of a to z and apostrophes, and the words that no dictionary knew.

    `core` are those that must be heard in noise too: commands, readings and reports of hazards. They are few enough
    to be told apart where all sentences together are not.
    """

    sentences: Mapping[str, int]
    core: Mapping[str, int]
    unknown: tuple[str, ...]

    @property
    def vocabulary(self) -> frozenset[str]:
        """Every word of the sentences."""
        return frozenset(word for sentence in self.sentences for word in sentence.split())


def domain_of(
    knowledge: Knowledge,
    steering: Mapping[str, Sequence[str]],
    terms: Mapping[str, Any],
    coach: Coach,
    phones: Callable[[str], str | None],
    trigger: str = "",
) -> Domain:
    """The domain of a knowledge base and a coach.

    `steering` and `terms` are the word lists `steering.yaml` and `reading-terms.yaml`; `phones` gives the
    pronunciation of a word, None when the recogniser does not know it; `trigger` may be said before anything. The same input always gives the same domain.
    """
    told = Counter(_parts(phrase.text for phrase in knowledge.phrases))
    danger = Counter(_parts(phrase.text for phrase in knowledge.phrases if phrase.label in knowledge.hazards))
    steered = Counter(_parts(_commands(steering)))
    read = Counter(_parts(_readings(terms, coach)))
    for row in knowledge.raw_procedures.values():
        told.update(_parts([str(row["title"])]))
    counts: Counter[str] = Counter()
    for sentence, number in told.items():
        for word in sentence.split():
            counts[word] += number
    spelling = _spelling(counts, phones)
    sentences: Counter[str] = Counter()
    core: Counter[str] = Counter()
    for source, weight, most in (
        (told, 1, 3),
        (danger, 1, 1),
        (steered, STEERING_WEIGHT, STEERING_WEIGHT),
        (read, READING_WEIGHT, READING_WEIGHT),
    ):
        for sentence, number in source.items():
            words = [spelling.get(word, word) for word in sentence.split()]
            # Commands and names of readings are also listed the way recognisers mishear them; that must not be learnt.
            if (
                source is not told
                and source is not danger
                and not all(counts[word] >= KEPT_FROM or word in NUMBER_WORDS for word in words)
            ):
                continue
            if all(phones(word) is not None or counts[word] >= KEPT_FROM for word in words):
                sentences[" ".join(words)] += min(number * weight, most)
                if source is not told:
                    core[" ".join(words)] += min(number * weight, most)
    for sentence in list(sentences)[::TRIGGERED_EVERY] if trigger else ():
        sentences[f"{trigger} {sentence}"] += 1
    for sentence in list(core)[::TRIGGERED_EVERY] if trigger else ():
        sentences[f"{trigger} {sentence}"] += 1
        core[f"{trigger} {sentence}"] += 1
    if trigger:
        sentences[trigger] += STEERING_WEIGHT
        core[trigger] += STEERING_WEIGHT
    used = {word for sentence in sentences for word in sentence.split()}
    return Domain(sentences, core, tuple(sorted(word for word in used if phones(word) is None)))


def _parts(texts: Iterable[str]) -> Iterator[str]:
    """Each clause of the texts, and each whole text, in plain words."""
    for text in texts:
        spoken = in_words(text) if _WRITTEN.search(text) else text
        for part in dict.fromkeys([plain(spoken), *(plain(clause) for clause in _BREAK.split(spoken))]):
            words = part.replace("%", " percent ").translate(_GAPS).split()
            if words and all(_WORD.fullmatch(word) for word in words):
                yield " ".join(words)


def _commands(steering: Mapping[str, Sequence[str]]) -> Iterator[str]:
    for phrases in steering.values():
        for phrase in phrases:
            if "{n}" not in phrase:
                yield phrase
                continue
            for number in range(1, 21):
                said = ordinal(number) if re.search(r"the \{n\}", phrase) else cardinal(number)
                yield phrase.replace("{n}", said)


def _spelling(counts: Mapping[str, int], phones: Callable[[str], str | None]) -> dict[str, str]:
    """The usual spelling of words that are a slip of the keyboard away from it, or that only sound like it."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    usual: dict[str, str] = {}
    for word, number in counts.items():
        sound = phones(word)
        if sound is not None and number > counts.get(usual.get(sound, ""), 0):
            usual[sound] = word
    right = [word for word in usual.values() if counts[word] >= CORRECT_FROM and len(word) > 2]
    found: dict[str, str] = {}
    for word, number in counts.items():
        sound = phones(word)
        if word in NUMBER_WORDS:
            continue
        if sound is not None:
            if counts[usual[sound]] > RARER_BY * number:
                found[word] = usual[sound]
        elif len(word) > 2 and "'" not in word:
            allowed = 1 if len(word) < 7 else 2
            near = process.extract(word, right, scorer=OSA.distance, score_cutoff=allowed, limit=None)
            fitting = [
                (-distance, counts[other], other)
                for other, distance, _ in near
                if other[0] == word[0]
                and counts[other] > RARER_BY * number
                and not _inflected(word, other)
                # Three letters have too many neighbours, unless they are the same three.
                and (len(word) > 3 or sorted(word) == sorted(other))
            ]
            if fitting:
                found[word] = max(fitting)[2]
    return found


def _inflected(word: str, other: str) -> bool:
    """Whether two words differ by an ending only: "amps" is no misspelt "amp"."""
    longer, shorter = sorted((word, other), key=len, reverse=True)
    return longer.startswith(shorter) and longer[len(shorter) :] in ("s", "d", "r", "y", "ed", "er", "es", "ly")


# -- readings -----------------------------------------------------------------------------------


def _readings(terms: Mapping[str, Any], coach: Coach) -> Iterator[str]:
    """Made-up readings: each subject with amounts in the units it is told in."""
    dice = random.Random(20)  # the same sentences at every build
    names = {what: list(listed[:NAMES_EACH]) for what, listed in terms["subjects"].items()}
    for what, extra in terms.get("loose", {}).items():
        names.setdefault(what, []).extend(extra[:3])
    for tank in coach.tanks:
        names.setdefault(tank.name, []).extend([tank.name, f"{tank.name} tank"])
    names["propane"] = [
        *names.get("propane", []),
        *(
            f"{place} {noun}"
            for place in ("outside", "inside")
            for noun in ("bottle", "cylinder", "propane", "tank", "")
        ),
        *("both bottles", "both cylinders", "both propane bottles"),
    ]
    names["tire_pressure"] = [*names.get("tire_pressure", []), *_tires()]
    names["air_pressure"] = [*names.get("air_pressure", []), "primary air", "secondary air", "primary", "secondary"]
    for what, listed in names.items():
        amounts = list(itertools.chain.from_iterable(_amounts(what, unit) for unit in allowed_units(what, coach)))
        if not amounts:
            continue
        for _ in range(READINGS_EACH):
            lead, link, tail = dice.choice(_LEADS), dice.choice(_LINKS), dice.choice(_TAILS)
            yield " ".join(f"{lead} {dice.choice(listed)} {link} {dice.choice(amounts)} {tail}".split())
    yield from (f"it's {amount} outside" for amount in _amounts("outside_temp", "F"))
    yield from (f"it is {amount} inside" for amount in _amounts("inside_temp", "F"))
    yield from (f"{amount} out" for amount in _amounts("outside_temp", "F"))
    yield from (f"we have {amount} on board" for amount in _amounts("passengers", "persons"))
    yield from _SHARES


def _tires() -> Iterator[str]:
    for side in ("left", "right"):
        for place in ("front", "rear", "drive outer", "drive inner", "tag", "steer"):
            yield f"{side} {place}"
            yield f"{side} {place} tire"


def _amounts(what: str, unit: str) -> list[str]:
    """Amounts as they are said in a unit."""
    if unit == "fraction":
        return list(_SHARES)
    return [text for number in _NUMBERS.get(unit, ()) for text in _said(number, unit, what)]


_NUMBERS: dict[str, Sequence[int]] = {
    "percent": [*range(1, 101)],
    "gal": [*range(1, 31), *range(35, 131, 5)],
    "L": [*range(20, 501, 20)],
    "lb": [*range(5, 101, 5)],
    "in": [*range(1, 37)],
    "V": [*range(100, 131), *range(210, 250, 5)],
    "psi": [*range(60, 131)],
    "F": [*range(-40, 100)],
    "C": [*range(-40, 36)],
    "mi": [*range(98_700, 420_000, 4_321)],
    "persons": [*range(1, 61)],
    "ppm": [*range(0, 101, 5)],
    "h": [*range(120, 6_000, 137)],
}
_UNIT_WORDS = {
    "percent": ("percent",),
    "gal": ("gallons",),
    "L": ("liters", "litres"),
    "lb": ("pounds",),
    "in": ("inches",),
    "V": ("volts", ""),
    "psi": ("p s i", "pounds", ""),
    "F": ("degrees", "", "fahrenheit"),
    "C": ("celsius", "degrees"),
    "mi": ("miles", ""),
    "persons": ("passengers", "people", ""),
    "ppm": ("p p m", "parts per million"),
    "h": ("hours", ""),
}


def _said(number: int, unit: str, what: str) -> Iterator[str]:
    size = cardinal(abs(number))
    forms = [size]
    if "hundred " in size and "thousand" not in size:
        forms += [size.replace("hundred ", "hundred and "), size.replace("one hundred", "a hundred")]
        if abs(number) < 200:
            forms.append(size.replace("one hundred ", "one "))
    if what == "house_battery" and unit == "V":
        forms = [f"{a} point {b}" for a in ("eleven", "twelve", "thirteen") for b in map(cardinal, range(10))]
    for form in forms:
        for word in _UNIT_WORDS[unit]:
            if number < 0:
                yield f"minus {form} {word}".strip()
                yield f"{form} {word if word == 'degrees' else ''} below".replace("  ", " ")
            else:
                yield f"{form} {word}".strip()
