"""Readings told before put right by their name or value: "scratch the battery one", "inside was fifty five not seventy five".

What `readings.hear` takes back leans on the sentence before; here the entry is looked for among all that stand, and why it was
wrong may follow: "delete the forty, that gauge is stuck". The entry meant must be clear, or nothing is done.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cabassist.language.amounts import find_amounts
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.numbers import words_of
from cabassist.language.reading_names import cylinder, tire
from cabassist.language.reading_parts import Amount, Reader, Subject
from cabassist.language.reading_terms import Terms, mended
from cabassist.language.reading_types import Heard, Reading
from cabassist.language.readings import hear
from cabassist.language.subjects import find_subjects

if TYPE_CHECKING:
    from cabassist.coach import Coach

_LEAD = r"(?:(?:no|nope|nah|wait|sorry|actually|oops|whoops|hang on|hold on|oh|uh|um|hm+|ah|ok|okay|please|can you|could you|you can|just|and|well|hey|my mistake|my bad|correction) )*"
_TAKES_BACK = re.compile(
    rf"^{_LEAD}(?P<verb>scratch|strike|delete|erase|remove|scrap|cancel|ignore|disregard|forget|drop|undo|lose|bin|wipe|rub out|cross out|pull|void|discard|get rid of|throw out|take out|take back|ditch|nix|toss)(?: about)? (?P<what>.+)$"
)
_TAKES = Lazy(
    rf"^{_LEAD}(?:i |i'll |i'd like to |let me |let's )?(?:take|pull|call) (?P<what>.+?) (?P<way>back|out|off)(?: again)?(?: of (?:there|it|the (?:list|log|record|book)))?(?: (?P<why>.+))?$"
)
_TOO = re.compile(r"(?: (?:too|as well|also|while you're at it|with it|again))+$")
"""Said of another entry, right after one was taken back."""
_WHAT_TOLD = re.compile(
    r"\b(?:what|whatever|everything|anything|all) (?:that )?(?:i|we) (?:said|told you|gave you|logged|reported|had|put(?: down)?) (?:about|for|on|of) (?:the |my |our )?(?P<of>[a-z]+(?: [a-z]+)?)"
)
_CARRIED = re.compile(r"\b(?:bottles?|cylinders?|tanks?|gas|propane)\b")
"""Things that are taken back with two hands."""
_OF_ENTRIES = re.compile(r"\b(?:one|ones|reading|readings|entry|figure|number|value|count|mileage|level)\b")
_PLAINLY = frozenset({"scratch", "strike", "delete", "erase", "rub out", "cross out", "void"})
"""Verbs that are said of entries only; "drop" and "clear" are said of things too."""
_WHY = frozenset("i i'm i'd i've we we're it it's its that that's the my because cause cuz since as he she they somebody someone there there's gauge meter misread miscounted misjudged mistyped read got looked forgot missed wrong bad one two a was".split())  # fmt: skip
"""How the reason of a correction begins."""
_UNSEEN = Lazy(
    r"\b(?:(?:didn't|haven't|never|did not|have not|hadn't)(?: \w+)? (?:look|looked|check|checked|see|seen|saw|read|measure|measured|been there)|(?:not|wasn't|ain't|aren't) (?:\w+ )?(?:sure|certain|right|true|correct)|guess\w*|mis(?:read|heard|counted|took|judged|typed)|made (?:it|that) up|wrong|mistake|(?:gauge|meter|sender|needle|float)(?:'s|s| is| was)? (?:\w+ )?(?:stuck|broken|dead|off|lying|bad|no good|busted)|from (?:yesterday|memory|this morning|last \w+)|old one)\b"
)
"""A reason that speaks of a reading, so that the thing named is the entry and not the thing itself."""
_SMALL = frozenset(
    "the that this my our last latest previous first other one ones reading readings entry figure number value level report change about of for from on in a it i gave told you just".split()
)
_LAST = re.compile(
    r"^(?:that|this|it|the|my|last|latest|previous|one|reading|entry|change|figure|number|value|bit| )+$"
)


def takes_back(text: str) -> bool:
    """Whether a text may take an entry back; a cheap look before the reader of reports is loaded."""
    said = plain(text)
    return bool(_TAKES_BACK.match(said) or _TAKES.match(said))


def carries(text: str) -> bool:
    """Whether something is taken or pulled back or out, which tells no level: "take the bottle back too"."""
    return _TAKES.match(plain(text)) is not None


def taken_back(
    text: str,
    coach: Coach,
    vocabulary: Terms,
    standing: Sequence[Reading],
    told: Sequence[Reading],
    *,
    going_on: bool = False,
) -> tuple[tuple[Reading, ...], str] | None:
    """The entries that a text takes back, and why; None when it takes none back or is not clear about which.

    Args:
        text: what was said.
        coach: the profile.
        vocabulary: the words of readings on this coach.
        standing: the readings that stand, newest last.
        told: those of the last telling, which "that" means; empty when something else was spoken of since.
        going_on: whether an entry was taken back in the turn before, so that a thing named in the same way is another one.
    """
    said = _WHAT_TOLD.sub(r"the \g<of> reading", _TOO.sub("", plain(text)))
    too = said != plain(text) or going_on
    found, other = _TAKES_BACK.match(said), _TAKES.match(said)
    if other is not None:
        what, verb = f"{other['what']} {other['why'] or ''}".split(), "take"
    elif found is not None:
        what, verb = found["what"].split(), found["verb"]
    else:
        return None
    behind = {plain(text[comma.end() :]) for comma in re.finditer(r"[,;.] ", text)}
    for end in range(len(what), 0, -1):
        thing, why = " ".join(what[:end]), what[end:]
        told_apart = " ".join(why) in behind and (verb in _PLAINLY or bool(_UNSEEN.search(" ".join(why))))
        if why and why[0] not in _WHY and not told_apart and not _UNSEEN.match(" ".join(why)):
            continue
        if _LAST.match(thing):
            # "scratch that" alone is left to the command of that name
            return (tuple(told), " ".join(why)) if told and why else None
        back = (other is not None and other["way"] == "back") or verb == "take back"
        back = back and not why and not _CARRIED.search(thing)
        surely = (
            verb in _PLAINLY
            or back
            or (too and not why and (going_on or not _CARRIED.search(thing)))
            or bool(_OF_ENTRIES.search(thing))
            or bool(_UNSEEN.search(" ".join(why)))
        )
        gone = _meant(thing, coach, vocabulary, standing, surely=surely)
        if gone:
            return gone, " ".join(why)
    return None


def _meant(
    thing: str, coach: Coach, vocabulary: Terms, standing: Sequence[Reading], *, surely: bool
) -> tuple[Reading, ...]:
    """The newest standing reading that a few words name by its subject or its value; nothing when they hold more."""
    reader = Reader(mended(words_of(thing), vocabulary), vocabulary)
    subjects = find_subjects(reader)
    numbers = [amount for amount in find_amounts(reader) if reader.texts[amount.start : amount.end] != ["one"]]
    spans = [(one.start, one.end) for one in subjects] + [(one.start, one.end) for one in numbers]
    named = {i for start, end in spans for i in range(start, end)}
    if any(word not in _SMALL for i, word in enumerate(reader.texts) if i not in named):
        return ()
    if len(subjects) > 1 or len(numbers) > 1 or not (subjects or numbers) or not surely:
        return ()
    fitting = [
        reading
        for reading in standing
        if (not subjects or _is_of(reading, subjects[0], coach)) and (not numbers or _is(reading, numbers[0]))
    ]
    return tuple(fitting[-1:])


def named(
    thing: str, coach: Coach, vocabulary: Terms, standing: Sequence[Reading]
) -> tuple[tuple[str, ...], tuple[Reading, ...] | None]:
    """The words of a text that name no reading, and the standing readings that fit the one named; None when none is named."""
    reader = Reader(mended(words_of(thing), vocabulary), vocabulary)
    subjects = [one for one in find_subjects(reader) if one.what not in ("pair", "other", "tank")]
    within = {i for one in subjects for i in range(one.start, one.end)}
    others = tuple(word for i, word in enumerate(reader.texts) if i not in within)
    if len(subjects) != 1:
        return (*others, *(reader.texts[one.start] for one in subjects)), None
    return others, tuple(reading for reading in standing if _is_of(reading, subjects[0], coach))


def tire_named(text: str, coach: Coach, vocabulary: Terms) -> str | None:
    """The tire that a text names by its place, or None."""
    subjects = find_subjects(Reader(mended(words_of(text), vocabulary), vocabulary))
    places = [where for one in subjects if (where := tire(one, coach))]
    return places[0] if len(places) == 1 else None


def names_unit(text: str, vocabulary: Terms, *, alone: bool = False) -> bool:
    """Whether a unit is named in a text, or with `alone` whether a text is nothing but one."""
    texts = [word.text for word in mended(words_of(text), vocabulary)]
    if alone:
        return vocabulary.units.end(texts, 0) == len(texts) > 0
    amounts = find_amounts(Reader(mended(words_of(text), vocabulary), vocabulary))
    return any(amount.unit for amount in amounts)


def _is(reading: Reading, amount: Amount) -> bool:
    """Whether a reading has the value of an amount."""
    if reading.value is None or amount.number is None or (amount.unit and amount.unit != reading.unit):
        return False
    return abs(reading.value - amount.number) < 0.005


def _is_of(reading: Reading, subject: Subject, coach: Coach) -> bool:
    """Whether a reading may be meant by a subject; a place alone is a cylinder or a temperature."""
    if subject.what == "place" and reading.what in ("outside_temp", "inside_temp"):
        return subject.place is not None and reading.what == f"{subject.place}_temp"
    if subject.what == "temperature":
        return reading.what == f"{subject.place or 'outside'}_temp"
    if subject.what in ("place", "propane") and reading.what == "propane":
        which = cylinder(subject)
        return which is None or which == reading.which
    if subject.what in ("tire_pressure", "side", "place") and reading.what == "tire_pressure":
        where = set((tire(subject, coach) or "").split())
        return where <= set((reading.which or "").split())
    return reading.what == subject.what and (subject.which is None or subject.which == reading.which)


_OF_NAMING = frozenset(
    "the that that's this it it's its was is were be for of on from my our belongs belong to meant i really actually tank gauge gauges reading level number figure one in fact should have been after all no sorry".split()
)
"""Words that may stand beside the name of what an amount is of."""


_ALIKE = (
    frozenset({"fresh", "waste", "diesel", "def", "propane"}),
    frozenset({"outside_temp", "inside_temp"}),
    frozenset({"house_battery", "shore_voltage"}),
)
"""Readings that are taken for one another."""


def renamed(said: str, told: Sequence[Reading], coach: Coach, vocabulary: Terms) -> Heard | None:
    """The reading just told put down as one of something else: "forty was fresh", of a waste tank at forty; else None.

    Args:
        said: what the amount was of, and the amount itself where it is said again.
        told: the reading that was told.
        coach: the profile.
        vocabulary: the words of readings on this coach.
    """
    if len(told) != 1 or told[0].value is None:
        return None
    reader = Reader(mended(words_of(said), vocabulary), vocabulary)
    subjects = [one for one in find_subjects(reader) if one.what not in ("pair", "other", "tank", "elsewhere")]
    amounts = find_amounts(reader)
    named = {i for one in subjects for i in range(one.start, one.end)}
    named |= {i for one in amounts for i in range(one.start, one.end)}
    if len(subjects) != 1 or len(amounts) > 1 or any(not _is(told[0], one) for one in amounts):
        return None
    if any(word not in _OF_NAMING for i, word in enumerate(reader.texts) if i not in named and word.isalpha()):
        return None
    name = " ".join(reader.texts[subjects[0].start : subjects[0].end])
    heard = hear(f"no that was {name}", coach, vocabulary, tuple(told))
    other = [one for one in heard.readings if (one.what, one.which) != (told[0].what, told[0].which)]
    same = len(heard.readings) == 1 and bool(other) and other[0].value == told[0].value
    same = same and any({told[0].what, other[0].what} <= alike for alike in _ALIKE)
    return replace(heard, readings=(replace(other[0], said=said),)) if same and heard.withdrawn else None


_NOT = frozenset({"not", "instead", "rather"})
_PUTS_RIGHT = re.compile(
    r"^(?:no|nope|nah|wait|sorry|actually|oops|whoops|hang on|hold on|correction|my mistake|my bad|make|change|fix|correct|amend|i meant|i said)\b|\b(?:not|instead of|rather than)\b|\bshould (?:be|have been|read)\b"
    r"|\b(?:mis(?:read|heard|counted|typed|spoke|judged|took)|(?:read|got|had|put|said|told you|typed|counted|wrote|gave you) (?:it|that|this|them|the \w+) (?:all )?(?:wrong|wrongly|incorrectly|backwards|upside down)|(?:looked at|read) the wrong \w+|wrong (?:number|figure|one)|my (?:mistake|bad|fault|error))\b"
)


def puts_right(text: str) -> bool:
    """Whether a text may put an earlier entry right."""
    return _PUTS_RIGHT.search(plain(text)) is not None


def replaced(heard: Heard, standing: Sequence[Reading]) -> Heard:
    """What was heard as a correction, with the entries of the same name that it replaces taken back."""
    gone = list(heard.withdrawn)
    for reading in heard.readings:
        same = next((old for old in reversed(standing) if (old.what, old.which) == (reading.what, reading.which)), None)
        if same is not None and not any(old.what == reading.what for old in heard.withdrawn):
            gone.append(same)
    return replace(heard, withdrawn=tuple(gone))


def put_right(
    text: str, coach: Coach, vocabulary: Terms, standing: Sequence[Reading], told: Sequence[Reading]
) -> Heard | None:
    """The reading that stands in the place of an earlier one, or None when it is not clear which.

    The earlier one is known by its name ("no wait, waste was ten"), by its value ("fifty five not seventy five") or as the
    last told ("no, thirty three, one was in the washroom").
    """
    if not puts_right(text) or "?" in text:
        return None
    words = plain(text).split()
    for end in range(len(words), 1, -1):
        if end < len(words) and not _begins_reason(words, end):
            continue
        heard = _in_place(" ".join(words[:end]), coach, vocabulary, standing, told, cut=end < len(words))
        if heard is not None:
            return heard
    return None


def _begins_reason(words: Sequence[str], at: int) -> bool:
    """Whether a reason begins there: "thirty four, two went by car"; "forty three" is one number."""
    if words[at] in _COUNTS:
        return words[at - 1] not in _TENS
    return words[at] in _WHY


_COUNTS = frozenset("one two three four five six seven eight nine".split())
_TENS = frozenset("twenty thirty forty fifty sixty seventy eighty ninety hundred point".split())


def _in_place(
    said: str, coach: Coach, vocabulary: Terms, standing: Sequence[Reading], told: Sequence[Reading], *, cut: bool
) -> Heard | None:
    reader = Reader(mended(words_of(said), vocabulary), vocabulary)
    subjects, amounts = find_subjects(reader), find_amounts(reader)
    subjects = [subject for subject in subjects if subject.what not in ("pair", "other", "tank", "elsewhere")]
    old = [amount for amount in amounts if _instead(reader, amount)]
    new = [amount for amount in amounts if amount not in old]
    if len(new) != 1 or len(old) > 1 or len(subjects) > 1 or not reader.few_others(0, subjects):
        return None
    if subjects:
        fitting = [reading for reading in standing if _is_of(reading, subjects[0], coach)]
    else:
        # without a name a mere amount belongs to what was told last, and more words than it must tell why
        fitting = list(standing) if old else list(told) if cut else []
    fitting = [reading for reading in fitting if not old or _is(reading, old[0])]
    if not fitting or (not subjects and not old and len(told) != 1):
        return None
    amount = " ".join(reader.texts[new[0].start : new[0].end])
    heard = hear(f"no {amount}", coach, vocabulary, (fitting[-1],))
    same = [one for one in heard.readings if (one.what, one.which) == (fitting[-1].what, fitting[-1].which)]
    return replace(heard, readings=tuple(replace(one, said=said) for one in same)) if same else None


def _instead(reader: Reader, amount: Amount) -> bool:
    """Whether an amount is the one that was wrong."""
    before = reader.text(amount.start - 1)
    return before == "not" or (before in ("of", "than") and reader.text(amount.start - 2) in _NOT)
