"""Finding what a report is about: words that belong together are gathered into one subject.

"the outside propane cylinder", "temperature in the cabin" and "left drive outer" are runs of clues. A run ends
where a further clue would be about something else: "inside" after "outside", "waste" after "fresh".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cabassist.language.reading_parts import Reader, Subject, is_side
from cabassist.language.reading_terms import Clue

LINKS = frozenset({"the", "a", "an", "on", "in", "of", "for", "our", "my", "this", "that", "at", "to"})
"""Words that may stand between the clues of one subject."""
PAUSES = frozenset({",", "the", "on", "at", "of", ":", "-", "–", "—"})
"""What may stand between the halves of a subject said in two goes."""
SIDES = frozenset({"driver-side", "passenger-side", "curb-side", "street-side"})
TIRE_GROUPS = ({"left", "right"}, {"front", "rear", "drive", "tag"}, {"outer", "inner"})
TIRES_BY_NAME = frozenset({"fronts", "steers", "rears", "drives", "duals", "tags", "inners", "outers"})
PLACED = frozenset({"propane", "tire_pressure", "outside_temp", "inside_temp", "air_pressure", "fresh", "waste"})
"""Subjects that a place or a side may stand before."""


def find_subjects(reader: Reader) -> list[Subject]:
    """Every subject an amount may have, in order; words of amounts are left out."""
    found: list[Subject] = []
    i = 0
    while i < len(reader.texts):
        if reader.taken[i] or _clue(reader, i) is None:
            i += 1
            continue
        end, subject = _run(reader, i)
        if subject:
            found.append(subject)
        i = max(end, i + 1)
    return _completed(reader, found)


def _completed(reader: Reader, subjects: Sequence[Subject]) -> list[Subject]:
    """The subjects with those joined that one pause tore apart: "outer dual, right rear", "propane, curb side"."""
    out: list[Subject] = []
    for subject in subjects:
        between = reader.texts[out[-1].end : subject.start] if out else []
        paused = bool({",", ":"} & set(between)) and all(word in PAUSES for word in between)
        whole = _whole(reader, out[-1], subject) if paused else None
        if whole:
            out[-1] = whole
        else:
            out.append(subject)
    return out


def _whole(reader: Reader, first: Subject, second: Subject) -> Subject | None:
    """The one subject that two make, each of which tells what the other leaves open; None when they are two."""
    if first.both or second.both or first.pronoun or second.pronoun:
        return None
    joined = replace(
        first,
        end=second.end,
        which=first.which or second.which,
        place=first.place or second.place,
        loose=first.loose and second.loose,
        hint=first.hint or second.hint,
        tire={**first.tire, **second.tire},
    )
    kinds = {first.what, second.what}
    one, other = _parts(first), _parts(second)
    if kinds & {"tire_pressure", "side"} and kinds <= {"tire_pressure", "side", "place"}:
        named = "axle" in one | other or {"side", "dual"} <= one | other or (first.what == "tire_pressure" and not one)
        return replace(joined, what="tire_pressure") if named and not one & other and other else None
    if "propane" in kinds and kinds <= {"propane", "place", "side"}:
        # "we are parked outside, propane is low" tells of no cylinder.
        led = first.what == "propane" or reader.text(first.start - 1) in ("", "the", *PAUSES)
        return (
            replace(joined, what="propane") if led and bool(first.place or one) != bool(second.place or other) else None
        )
    if kinds == {"temperature", "place"} and bool(first.place) != bool(second.place):
        return replace(joined, what="temperature")
    named_twice = first.what == second.what and first.what not in ("place", "tank", "pair", "other", "elsewhere")
    return joined if named_twice and None in (first.which, second.which) and first.place == second.place else None


def _parts(subject: Subject) -> set[str]:
    """Which parts of a tire's position a subject tells."""
    place = "side" if subject.place in SIDES else "dual" if subject.place in ("inside", "outside") else ""
    return {*subject.tire, *filter(None, [place])}


def _clue(reader: Reader, i: int) -> tuple[int, Clue] | None:
    """The end and the clue at `i`, unless the words mean something else there."""
    found = reader.vocabulary.clues.at(reader.texts, i)
    if reader.text(i) in ("driver", "passenger", "drivers") and not reader.taken[i]:
        beside = reader.vocabulary.clues.at(reader.texts, i + 1)
        if beside and beside[1].kind == "tire":
            # "the driver's front"
            return i + 1, Clue("place", f"{reader.text(i).removesuffix('s')}-side")
    if found is None or any(reader.taken[i : found[0]]):
        return None
    end, clue = found
    word, after = reader.text(i), reader.text(end)
    if clue.kind == "tire":
        if clue.name in ("left", "right") and end == i + 1 and not is_side(reader, i):
            return None
        if word in ("driving", "steering", "drives") and after not in ("axle", "tire", "tires"):
            return None
    if clue.kind == "both" and word in ("all", "each", "either") and reader.text(i - 1) == "at":
        return None
    if clue == Clue("loose", "outside_temp") and not _is_out(reader, i):
        return None
    if clue == Clue("loose", "air_pressure") and _pumped(reader, i):
        return None
    if clue == Clue("subject", "generator_hours") and _started(reader, i):
        return None
    if word == "holding" and end == i + 1 and reader.text(i - 1) not in ("", "the", "our", "my", "and", ","):
        # "the cabin's holding at sixty" tells nothing of the holding tank.
        return None
    if word == "co" and clue.name == "co_ppm" and after in ("driver", "pilot", "worker", "drivers", "pilots", "2"):
        return None
    return found


def _is_out(reader: Reader, i: int) -> bool:
    """Whether "out" is the open air: it follows an amount, or ends a statement of one."""
    after = reader.text(i + 1)
    if reader.text(i) == "out" and after in ("of", "here", "there", "to", "the"):
        return after in ("here", "there")
    return i > 0 and (reader.taken[i - 1] or reader.text(i - 1) in ("it", "is", "cold", "degrees"))


PUMPED = frozenset(
    "put putting added add adding pumped gave give giving shot threw squirted blew needs needed wants wanted took let took".split()
)
STARTED = frozenset("ran run running started starting start fired firing cranked turned had".split())


def _pumped(reader: Reader, i: int) -> bool:
    """Whether "air" is what went into a tire: "put some air in", "added a bit of air"."""
    if reader.text(i + 1) in ("pressure", "tank", "tanks", "gauge"):
        return False
    at = i - 1
    while reader.text(at) in (
        "some",
        "more",
        "the",
        "a",
        "bit",
        "little",
        "of",
        "it",
        "them",
        "him",
        "her",
        "in",
        "touch",
        "out",
    ):
        at -= 1
    return reader.text(at) in PUMPED


def _started(reader: Reader, i: int) -> bool:
    """Whether the generator is only what was started: "ran the generator, twelve eight now"."""
    at = i - 1
    while reader.text(at) in ("the", "our", "up", "on"):
        at -= 1
    return reader.text(at) in STARTED


def _run(reader: Reader, start: int) -> tuple[int, Subject | None]:
    """The end of the clues that belong together from `start`, and the subject they make."""
    clues: list[Clue] = []
    i = end = start
    pronoun = False
    while i < len(reader.texts) and not reader.taken[i]:
        found = _clue(reader, i)
        if found and _clashes(clues, found[1], linked=i > end) and not _of_dual(reader, clues, found):
            break
        word = reader.text(i)
        if found:
            clues.append(found[1])
            i = end = found[0]
        elif word == "one" and clues and clues[-1].kind in ("place", "tire", "circuit", "other"):
            pronoun = True
            i = end = i + 1
        elif word in ("side", "hand", "axle", "dual", "duals") and clues:
            i = end = i + 1
        elif word in LINKS and i - end < 2 and _leads_to_clue(reader, i):
            i += 1
        else:
            break
    belonging = reader.text(end)
    if belonging in ("detector", "alarm", "monitor", "sensor") and Clue("subject", "co_ppm") in clues:
        return end + 1, _subject(reader, start, end + 1, clues, pronoun)
    if belonging in WARNING_LAMPS and (lit := reader.phrase(end + 1, *LIT_AT)) and _level_follows(reader, lit):
        return lit, _subject(reader, start, end, clues, pronoun)  # "DEF light's on at a tenth"
    verb = belonging in ("line", "fill", "stop", "cover") and reader.text(end + 1) in ("at", "is")
    if belonging in reader.vocabulary.belongings and not reader.taken[end] and not verb:
        return end + 1, Subject(start, end + 1, "elsewhere")
    return end, _subject(reader, start, end, clues, pronoun)


WARNING_LAMPS = frozenset({"light", "lamp", "warning"})
LIT_AT = tuple(f"{lit} at" for lit in ("is on", "on", "came on", "just came on", "has come on", "is lit", "lit"))


def _level_follows(reader: Reader, at: int) -> bool:
    """Whether the level at which a lamp is lit was found at `at`."""
    return any(reader.taken[at : at + 2])


def _of_dual(reader: Reader, clues: Sequence[Clue], found: tuple[int, Clue]) -> bool:
    """Whether a side behind "inside" or "outside" is that of the dual meant: "the inside one on the curb side duals"."""
    placed = all(clue.kind == "place" and clue.name in ("inside", "outside") for clue in clues)
    at = found[0] + (reader.text(found[0]) in ("rear", "drive", "hand", "side"))
    return placed and found[1].name in SIDES and reader.text(at) in DUALS


DUALS = frozenset({"dual", "duals"})


def _leads_to_clue(reader: Reader, i: int) -> bool:
    for j in (i + 1, i + 2):
        if j >= len(reader.texts) or reader.taken[j]:
            return False
        if _clue(reader, j):
            return True
        if reader.texts[j] not in LINKS:
            return False
    return False


def _clashes(clues: Sequence[Clue], clue: Clue, linked: bool) -> bool:
    """Whether a further clue starts another subject."""
    names = {c.name for c in clues if c.kind == "subject"}
    if clue.kind == "subject":
        return _subject_clashes(clues, clue.name, names)
    if clue.kind == "place":
        places = {c.name for c in clues if c.kind == "place"}
        if places - {clue.name}:
            return not (Clue("noun", "tire") in clues or {"driver-side", "passenger-side"} & places)
        return bool(names - {"propane", "outside_temp", "inside_temp", "tire_pressure"})
    if clue.kind == "tire":
        group = next(group for group in TIRE_GROUPS if clue.name in group)
        others = {c.name for c in clues if c.kind == "tire" and c.name in group} - {clue.name}
        if others:
            # The drive axle is at the rear: "right rear drive outer".
            return not {clue.name, *others} <= {"rear", "drive"}
        return bool(names - {"tire_pressure", "propane"})
    if clue.kind == "loose":
        if clue.name == "outside_temp":
            return bool(clues) and Clue("noun", "temperature") not in clues
        loose = {c.name for c in clues if c.kind == "loose"}
        return bool(loose - {clue.name}) or (linked and bool(names - {clue.name}))
    if clue.kind == "circuit":
        return bool(names - {"air_pressure"}) or any(c.kind == "circuit" and c.name != clue.name for c in clues)
    return False


def _subject_clashes(clues: Sequence[Clue], name: str, names: set[str]) -> bool:
    kinds = {c.kind for c in clues}
    if names and name not in names:
        return not (name == "propane" and Clue("noun", "cylinder") in clues)
    if ("place" in kinds or "tire" in kinds) and name not in PLACED:
        return True
    if "place" in kinds and name in ("outside_temp", "inside_temp"):
        return Clue("place", name.removesuffix("_temp")) not in clues and "noun" not in kinds
    return False


def _subject(reader: Reader, start: int, end: int, clues: Sequence[Clue], pronoun: bool) -> Subject | None:
    """The subject that a run of clues names, or None when they name none."""
    words = reader.texts[start:end]
    places = [c.name for c in clues if c.kind == "place"]
    tire = {position(c.name): c.name for c in clues if c.kind == "tire"}
    if (
        DUALS & set(words)
        and "dual" not in tire
        and (within := [one for one in places if one in ("inside", "outside")])
    ):
        tire["dual"] = "inner" if within[0] == "inside" else "outer"
        places = [one for one in places if one not in within]
    made = Subject(
        start,
        end,
        "",
        place=places[0] if places else None,
        hint=_hint(words),
        both=any(c.kind == "both" for c in clues),
        tire=tire,
        pronoun=pronoun,
    )
    if any(c.kind == "elsewhere" for c in clues):
        return replace(made, what="elsewhere")
    circuit = next((c.name for c in clues if c.kind == "circuit"), None)
    named = next((c.name for c in clues if c.kind == "subject"), None)
    if Clue("noun", "tire") in clues or named == "tire_pressure" or _is_tire(tire, places, words):
        return replace(made, what="tire_pressure")
    if named:
        return replace(made, what=named, which=circuit if named == "air_pressure" else None)
    return _unnamed(reader, clues, made, circuit, words)


def _unnamed(
    reader: Reader, clues: Sequence[Clue], made: Subject, circuit: str | None, words: Sequence[str]
) -> Subject | None:
    """The subject of a run in which nothing is called by its own name."""
    nouns = {c.name for c in clues if c.kind == "noun"}
    loose = next((c.name for c in clues if c.kind == "loose"), None)
    if "cylinder" in nouns or ("tank" in nouns and made.place and not loose):
        return replace(made, what="propane")
    if "temperature" in nouns:
        if not made.place and _says_whose(reader, made.start - 1):
            return replace(made, what="elsewhere")
        return replace(made, what="temperature" if made.place or "air" not in words else "outside_temp")
    if circuit and loose in (None, "air_pressure"):
        return replace(made, what="air_pressure", which=circuit)
    if loose:
        if made.place in ("outside", "inside") and loose == "air_pressure":
            return replace(made, what=f"{made.place}_temp")
        return (
            replace(made, what="place")
            if made.place and loose == "outside_temp"
            else replace(made, what=loose, loose=True)
        )
    if any(c.kind == "other" for c in clues):
        return replace(made, what="other")
    if "tank" in nouns or (made.both and not made.place):
        return replace(made, what="tank" if "tank" in nouns else "pair")
    if made.place and not made.tire:
        return replace(made, what="place")
    if made.tire and (made.pronoun or {"left", "right", "outer", "inner"} & set(made.tire.values())):
        return replace(made, what="side")
    return replace(made, what="propane") if "changeover" in words else None


def _hint(words: Sequence[str]) -> str:
    if any(word.startswith("kilom") for word in words):
        return "km"
    if {"amps", "amperage", "current", "amp"} & set(words):
        return "A"
    return "V" if {"volts", "voltage"} & set(words) else ""


def _says_whose(reader: Reader, i: int) -> bool:
    """Whether the word before "temp" says whose: "sleep temp", "tire temp"."""
    word = reader.text(i)
    plain = (
        word in LINKS
        or word in reader.vocabulary.after_bare
        or word in reader.vocabulary.reporting
        or word in ("current", "present", "air", "hey", "log")
    )
    return word.isalpha() and not plain and not reader.taken[i]


def position(name: str) -> str:
    """Which part of a tire's position a word tells: side, axle or dual."""
    return "side" if name in ("left", "right") else "dual" if name in ("outer", "inner") else "axle"


def _is_tire(tire: dict[str, str], places: Sequence[str], words: Sequence[str]) -> bool:
    """Whether positions alone name a tire: a side with an axle, a tag, a dual, or "fronts"."""
    side = "side" in tire or bool(SIDES & set(places))
    if "axle" in tire and (side or "dual" in tire or tire["axle"] == "tag"):
        return True
    return bool(TIRES_BY_NAME & set(words)) or (side and "dual" in tire)
