"""The parts of a report: amounts, and what they may be the amount of.

Both are found by place among the words, without deciding yet which belongs to which.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from cabassist.language.numbers import NUMBER_WORDS, PARTS, Number, Word, number_at, pieces
from cabassist.language.reading_terms import Terms

LENGTHS = frozenset({"in", "cm", "ft"})
LINKS = frozenset({"the", "a", "an", "on", "in", "of", "for", "our", "my", "this", "that", "at", "to"})
SINGULAR = frozenset({"gallon", "pound", "volt", "amp", "inch", "foot", "liter", "litre", "passenger", "watt", "psi", "lb", "gal"})
"""Units that, said of more than one before a noun, describe it: "the eighty gallon tank"."""
ARTICLE_UNITS = frozenset({"ft", "in", "gal", "L", "lb", "kg", "cm"})
NOT_A_SHARE = frozenset(
    "hour hours mile miles frozen open closed shut asleep past time price day decent dead hearted turn moon step gear bay wheel row"
    " night floor stop trip game period place degree shift sleep crew team bus coach people players kids lights step an wave".split()
)
"""After "half" or "third" these make it no share of a tank: "half frozen", "the third bay"."""
COUNTABLE_AFTER = ("or so", "ish", "or thereabouts", "thereabouts", "give or take", "more or less", "i think", "i guess", "i reckon",
    "roughly", "approx", "approximately", "maybe", "about", "at a guess", "or something", "or something like that", "or near enough",
    "ballpark", "i would say", "probably", "odd", "plus or minus", "near enough", "by eye", "plus", "and some", "something",
    "a couple either way", "as far as i can tell", "looks like", "and change", "around", "guessing", "i suppose", "i figure",
    "pretty much", "at least", "at most", "estimate", "rough")  # fmt: skip
GROSS_TAILS = ("with the bottle", "with bottle", "with the cylinder", "with cylinder", "with the tare", "with tare", "bottle and all", "cylinder and all",
    "including the bottle", "including the cylinder", "including tare", "including the tare", "tare included", "gross weight", "gross", "all up", "total weight", "on the scale", "on the scales")  # fmt: skip
PLURAL_NOUNS = frozenset("cylinders bottles tanks tires tyres batteries fronts rears duals gauges needles drives tags steers sides furnaces axles".split())
LAMPS = frozenset("lights light bars bar leds dots segments ticks lines lamps blocks".split())
"""What some gauges show instead of a needle: "two bars of four"."""
CLOCK_BEFORE = frozenset({"by", "until", "till", "since", "before", "after"})
CLOCK_AFTER = ("am", "pm", "oclock", "tonight", "this morning", "in the morning", "this afternoon", "this evening", "last night", "in the afternoon")
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
    said: tuple[str, ...] = ()
    """The pieces of a number spoken in pieces."""
    hedge: str = ""
    low: float | None = None
    high: float | None = None
    counted_from: str | None = None
    flag: str | None = None
    level: bool = False
    below_zero: bool = False
    freezing: float | None = None
    """Degrees from freezing, when counted from there."""
    gross: bool = False
    of: float | None = None
    """The whole, in "three of four"."""
    after_place: bool = False
    """It stands right after "inside" or "outside" or the like."""


@dataclass(frozen=True)
class Subject:
    """What an amount may be about."""

    start: int
    end: int
    what: str
    """The subject's name; or tank, cylinder, place, temperature, tire, elsewhere, other."""
    which: str | None = None
    place: str | None = None
    loose: bool = False
    hint: str = ""
    """The unit that the words imply: "battery amps"."""
    both: bool = False
    tire: dict[str, str] = field(default_factory=dict)
    pronoun: bool = False
    """"the inside one": a thing, not the inside."""


class Reader:
    """The words of one utterance, and what has been found among them."""

    def __init__(self, words: Sequence[Word], vocabulary: Terms) -> None:
        self.words = words
        self.texts = [word.text for word in words]
        self.vocabulary = vocabulary
        self.taken = [False] * len(words)
        self.skipped = 0
        """Numbers that are no amount of ours: times, names, rates."""
        self.joined = " ".join(self.texts)
        self.joined_at: list[int] = []
        place = 0
        for text in self.texts:
            self.joined_at.append(place)
            place += len(text) + 1

    def text(self, i: int) -> str:
        """The word at `i`, or "" outside."""
        return self.texts[i] if 0 <= i < len(self.texts) else ""

    def phrase(self, i: int, *phrases: str) -> int:
        """The end of the first of these phrases that stands at `i`, or 0."""
        for candidate in phrases:
            parts = candidate.split()
            if self.texts[i : i + len(parts)] == parts:
                return i + len(parts)
        return 0

    def take(self, start: int, end: int) -> None:
        """Mark words as belonging to an amount."""
        for i in range(start, end):
            self.taken[i] = True

    def index_at(self, character: int) -> int:
        """The word that covers a character of the joined text."""
        for i in range(len(self.joined_at) - 1, -1, -1):
            if self.joined_at[i] <= character:
                return i
        return 0


def find_amounts(reader: Reader) -> list[Amount]:
    """Every amount and level word, in order."""
    found: list[Amount] = []
    i = 0
    while i < len(reader.texts):
        amount = _nobody(reader, i) or _derived(reader, i) or _number_amount(reader, i) or _article_amount(reader, i) or _level(reader, i)
        if amount is None:
            i += 1
            continue
        if amount.kind != "none":
            found.append(amount)
        else:
            reader.skipped += 1
        reader.take(amount.start, amount.end)
        i = max(amount.end, i + 1)
    hedged = _with_ranges(reader, [_with_hedge(reader, amount) for amount in found])
    kept = [amount for amount in hedged if not _counts_things(reader, amount)]
    reader.skipped += len(hedged) - len(kept)
    return kept


AFTER_BARE = frozenset(
    "and but or in on at for from inside outside out now right today currently here there so then i it we thanks please by as up down above below"
    " under aboard with while plus also left remaining sorry make wait uh um er hmm no not too both yeah okay ok the my our that's what she he"
    " this presently again coach about full empty exactly even ish sharp dead flat total charging charged climbing dropping falling rising steady holding should can could do does what how where when will would mate buddy pal boss eh"
    " guys folks over sir dude bud chief cheers ta again well".split()
)
"""After these a number without a unit still stands for itself; before another word it counts something."""


def _counts_things(reader: Reader, amount: Amount) -> bool:
    """Whether a bare number counts other things: "two dials", "one of the players", "bottle two"."""
    if amount.unit or amount.kind not in ("integer", "pieces") or amount.number is None:
        return False
    before, after = reader.text(amount.start - 1), reader.text(amount.end)
    if before in ("bottle", "cylinder", "bus", "coach", "team") and (before in ("bus", "coach", "team") or abs(amount.number) <= 4):
        return True
    if before == "the" and reader.text(amount.start - 2) not in ("at", "of", "to", "is", "on"):
        return abs(amount.number) <= 12
    clue = reader.vocabulary.clues.at(reader.texts, amount.end)
    if clue and abs(amount.number) <= 12 and clue[1].kind in ("subject", "loose", "noun") and not amount.below_zero and amount.number >= 0:
        return clue[1].name not in ("outside_temp", "inside_temp", "passengers")
    if after == "" or after in AFTER_BARE or after in PUNCTUATION or clue:
        return False
    vocabulary = reader.vocabulary
    return not (vocabulary.hedges.at(reader.texts, amount.end) or vocabulary.corrections.at(reader.texts, amount.end) or number_at(reader.texts, amount.end))


def _skipped(start: int, end: int) -> Amount:
    return Amount(start, end, None, kind="none")


def _nobody(reader: Reader, i: int) -> Amount | None:
    """ "nobody aboard", "no passengers on board": a count of none."""
    end = reader.phrase(i, "nobody", "no one", "noone", "no passengers", "no people", "no players", "no kids")
    if not end or not reader.phrase(end, "aboard", "on board", "onboard", "on the bus", "on the coach", "on yet"):
        return None
    return Amount(i, end, 0.0, "persons")


def _derived(reader: Reader, i: int) -> Amount | None:
    """ "half of that", "the same": an amount told relative to another."""
    found = reader.vocabulary.relative.at(reader.texts, i)
    if found:
        return Amount(i, found[0], found[1], kind="relative")
    end = reader.phrase(i, "the same", "same", "ditto", "likewise", "identical")
    if end and reader.text(i - 1) != "the" and reader.text(end) not in ("side", "bay", "time", "place", "day", "thing", "way", "one", "as"):
        return Amount(i, end, 1.0, kind="same")
    return None


def _number_amount(reader: Reader, i: int) -> Amount | None:
    texts = reader.texts
    number = number_at(texts, i)
    if number is None or _is_pronoun(reader, i, number):
        return None
    if number.kind == "fraction" and not _is_share(reader, number):
        return _skipped(i, number.end)
    before, end = reader.text(i - 1), number.end
    if reader.text(end) in ("st", "nd", "rd", "th"):
        return _skipped(i, end + 1)
    if _is_clock(reader, i, end):
        return _skipped(i, end)
    if reader.text(end) in PLURAL_NOUNS:
        return None
    if number.value == 0 and before in ("below", "under", "above", "sub", "past"):
        return _skipped(i, end)
    whole = None
    lamps = end + 1 if reader.text(end) in LAMPS else end
    if reader.text(lamps) == "of" or reader.phrase(lamps, "out of"):
        at = lamps + (2 if reader.text(lamps) == "out" else 1)
        at += reader.text(at) == "the"
        more = number_at(texts, at) if at < len(texts) else None
        if more and number.kind == "integer" and more.kind == "integer" and more.value >= number.value > 0:
            whole, end = more.value, more.end + (reader.text(more.end) in LAMPS)
    vague = reader.text(end) == "ish" and _unit(reader, end + 1)[1] not in ("", None)
    end, unit, factor = _unit(reader, end + vague)
    if unit is None:
        return _skipped(i, end)
    if before in reader.vocabulary.labels and not unit and number.kind in ("integer", "pieces"):
        return _skipped(i, end)
    value = number.value
    value, end = _and_a_half(reader, value, unit, end)
    signed = before == "minus" or (before == "-" and reader.words[i].glued)
    if signed:
        value = -value
    amount = Amount(i - signed, end, value * factor, unit, number.kind, pieces(texts[number.start : number.end]), "about" if vague else "", of=whole)
    if _describes_a_noun(reader, amount, number.end):
        return _skipped(i, end)
    amount = replace(amount, after_place=reader.text(i - 1) in ("outside", "inside", "side", "spare", "other", "the"))
    return _with_direction(reader, amount)


def _is_pronoun(reader: Reader, i: int, number: Number) -> bool:
    """Whether "one" stands for a thing: "the outside one's at half"."""
    if reader.text(i) != "one":
        return False
    if reader.words[i].owner:
        return True
    if number.end == i + 1 or number.kind == "pieces":
        before = reader.text(i - 1)
        pointing = before in ("outside", "inside", "side", "spare", "this", "that", "other", "which", "left", "right", "front", "good", "last", "first")
        if pointing and number.end == i + 1:
            return reader.text(i + 1) not in ("percent", "gallon", "gallons", "degree", "degrees", "below", "inch", "pound", "pounds", "volts")
        return reader.text(i - 1) == "no" and reader.text(i + 1) in ("aboard", "on", "else", "is", "has", "here")
    return False


def _is_share(reader: Reader, number: Number) -> bool:
    after, before, word = reader.text(number.end), reader.text(number.start - 1), reader.text(number.start)
    if after in NOT_A_SHARE and not (after == "an" and reader.text(number.end + 1) == "inch"):
        return False
    if after in ("past", "to") and number_at(reader.texts, number.end + 1) if number.end + 1 < len(reader.texts) else False:
        return after != "past" and before not in ("at", "by") and word != "quarter"
    if after in ("of", "the") and reader.phrase(number.end, "of the people", "of the lights", "of them", "of us", "the lights", "the time", "the team", "of the team", "the people", "of an hour", "of the hour", "of an inch of", "of the way there", "of the way home", "of the trip", "of the bags"):
        return False
    bare_ordinal = (number.end == number.start + 1 or word in ("a", "an")) and reader.text(number.end - 1) in PARTS and reader.text(number.end - 1) not in ("half", "halves", "quarter", "quarters")
    if bare_ordinal and not _ends_share(reader, number.end):
        return False
    bare_ordinal = bare_ordinal and number.end == number.start + 1
    return not (bare_ordinal and (before in ("the", "on", "in", "every") or number_at(reader.texts, number.start - 1) is None and before in ("step", "bay")))


def _ends_share(reader: Reader, end: int) -> bool:
    """Whether what follows "third" or "eighth" lets it be a part; "eighth graders" does not."""
    after = reader.text(end)
    vocabulary = reader.vocabulary
    if after == "" or after in AFTER_BARE or after in PUNCTUATION or after in ("of", "tank", "bottle", "cylinder", "an", "inch", "inches", "is"):
        return True
    found = (vocabulary.clues, vocabulary.hedges, vocabulary.corrections, vocabulary.remaining, vocabulary.missing, vocabulary.units)
    return any(phrases.at(reader.texts, end) for phrases in found)


def _is_clock(reader: Reader, i: int, end: int) -> bool:
    if reader.text(i - 1) in CLOCK_BEFORE and not _unit(reader, end)[1] and reader.text(i - 2) not in ("just", "from"):
        return True
    return any(reader.phrase(end, tail) for tail in CLOCK_AFTER) and reader.text(i - 1) in ("at", "by", "around", "about", "since", "of")


def _unit(reader: Reader, end: int) -> tuple[int, str | None, float]:
    """The end, the unit ("" when none is said, None for a foreign one) and its factor after a number."""
    texts = reader.texts
    at = end
    if reader.phrase(at, "of a") or reader.text(at) in ("a", "an"):
        step = 2 if reader.text(at) == "of" else 1
        if reader.text(at + step) in ("inch", "foot", "gallon", "pound", "percent", "volt", "degree"):
            at += step
    after = reader.text(at)
    previous = reader.text(end - 1)
    figures = previous[-1:].isdigit()
    if after == "in":
        following = reader.text(at + 1)
        inches = figures and (reader.words[at].glued or following in ("", "deep", "down", "up", "off", "from", ",", ".", "below", "above"))
        return (at + 1, "in", 1.0) if inches else (end, "", 1.0)
    if after == "a":
        return (at + 1, "A", 1.0) if figures and reader.words[at].glued else (end, "", 1.0)
    if after in ("f", "c") and reader.text(at + 1) == "o":
        return end, "", 1.0
    if after == "'" or after == '"':
        return (at + 1, "ft" if after == "'" else "in", 1.0) if figures else (end, "", 1.0)
    found = reader.vocabulary.units.at(texts, at)
    if found is None:
        return end, "", 1.0
    stop, (unit, factor) = found
    if unit == "persons" and reader.text(stop) == "side":
        return end, "", 1.0
    if unit == "" and after in ("others", "more", "gauge"):
        return (end, "", 1.0) if after == "gauge" else (stop, None, 1.0)
    if unit == "" and after == "am" and reader.text(at - 2) != "at":
        return end, None, 1.0
    if unit == "degrees":
        scale = reader.vocabulary.units.at(texts, stop)
        if scale and scale[1][0] in ("F", "C"):
            return scale[0], scale[1][0], 1.0
        return stop, "degrees", 1.0
    rate = reader.text(stop) in ("a", "an", "per", "each", "every", "apiece") and reader.text(stop + 1) in (
        "day", "hour", "minute", "night", "week", "head", "person", "flush", "shower", "mile", "trip", "second", "time", "", "stop",
    )  # fmt: skip
    return stop, None if unit == "" or rate or reader.text(stop) in ("wind", "drop", "difference", "spread") else unit, factor


def _and_a_half(reader: Reader, value: float, unit: str, end: int) -> tuple[float, int]:
    """The value and end with a part said after the unit: "a foot and a half"."""
    for phrase, part in (("and a half", 0.5), ("and a quarter", 0.25), ("and three quarters", 0.75), ("and a third", 1 / 3)):
        stop = reader.phrase(end, phrase)
        if unit and unit != "percent" and stop:
            return value + part, stop
    return value, end


def _describes_a_noun(reader: Reader, amount: Amount, number_end: int) -> bool:
    unit_word = reader.text(amount.end - 1)
    if amount.end <= number_end or unit_word not in SINGULAR or amount.number == 1:
        return False
    if reader.text(amount.start - 1) in ("at", "is", "about", "has", "got", "around", "reads", "says", "under", "over", "with", "shows"):
        return False
    after = reader.text(amount.end)
    noun = after in reader.vocabulary.belongings or after in ("tank", "tanks", "cylinder", "cylinders", "bottle", "bottles", "battery", "batteries", "bank", "coach", "bus", "system", "capacity")
    clue = reader.vocabulary.clues.at(reader.texts, amount.end)
    described = noun or (clue is not None and unit_word not in ("psi", "lb", "gal") and reader.text(amount.start - 1) in ("the", "a", "our", "my", "your", "this", "that"))
    return described


def _article_amount(reader: Reader, i: int) -> Amount | None:
    """ "a foot", "an inch and a half", "a couple of inches"."""
    if reader.text(i) not in ("a", "an"):
        return None
    at = reader.phrase(i + 1, "couple of", "couple")
    count = 2.0 if at else 1.0
    found = reader.vocabulary.units.at(reader.texts, at or i + 1)
    # "four dollars a gallon" is a rate.
    if found is None or (i and reader.taken[i - 1] and reader.vocabulary.units.at(reader.texts, i - 1)):
        return None
    end, (unit, factor) = found
    if unit not in ARTICLE_UNITS and not (unit == "degrees" and reader.phrase(end, "below", "above", "under")):
        return None
    value, end = _and_a_half(reader, count, unit, end)
    return _with_direction(reader, Amount(i, end, value * factor, unit, "article", hedge="about" if at else ""))


def _with_direction(reader: Reader, amount: Amount) -> Amount:
    """The amount with what follows it: below zero, from the top, gone, or left."""
    texts, end = reader.texts, amount.end
    frost = reader.phrase(end, "of frost")
    if frost and amount.unit in ("degrees", "F", "C"):
        return replace(amount, end=frost, freezing=-abs(amount.number or 0), below_zero=True)
    if amount.unit in ("", "degrees", "F", "C") and reader.text(end) in ("below", "under", "above"):
        turned = _from_zero(reader, amount)
        if turned:
            return turned
    if amount.unit in ("lb", "kg"):
        gross = reader.phrase(end, *GROSS_TAILS)
        return replace(amount, end=gross, gross=True) if gross else amount if reader.text(end) not in ("gone", "used", "short") else _skipped(amount.start, end)
    if amount.unit in LENGTHS:
        direction = reader.vocabulary.counted_from.at(texts, end)
        at = end
        while direction is None and at < min(end + 5, len(texts)) and texts[at] not in PUNCTUATION:
            at += 1
            if reader.text(at) in ("from", "off", "below", "down", "deep"):
                direction = reader.vocabulary.counted_from.at(texts, at)
        if direction:
            stop, side = direction
            longer = reader.vocabulary.counted_from.at(texts, stop)
            if longer and texts[at] in ("down", "up"):
                stop, side = longer
            if at == end:
                return replace(amount, end=stop, counted_from=side)
            reader.take(at, stop)
            return replace(amount, counted_from=side)
        if reader.text(amount.start - 1) == "down" or reader.phrase(amount.start - 2, "down by", "down about"):
            return replace(amount, counted_from="top")
        return amount
    if amount.unit == "psi" or (amount.unit in ("", "A", "V") and reader.text(amount.start - 1) == "down"):
        if reader.text(amount.start - 1) == "down":
            return _skipped(amount.start, amount.end)
        return amount
    gone = reader.phrase(end, "of it gone", "of it is gone", "is gone", "of it used", "of the way gone", "of the way empty", "of the way down")
    missing = (gone, "") if gone else reader.vocabulary.missing.at(texts, end)
    if missing and amount.number is not None and not reader.phrase(end, "down from", "down the", "down to"):
        if amount.kind == "fraction" and amount.unit == "":
            return replace(amount, number=1 - amount.number, end=missing[0])
        if amount.unit == "percent":
            return replace(amount, number=100 - amount.number, end=missing[0])
        if amount.unit in ("gal", "L", "lb", "kg") and reader.text(end) not in ("down", "empty"):
            return _skipped(amount.start, missing[0])
    gone = reader.phrase(end, "of the way full", "of the way up", "of the way", "way full")
    remaining = (gone, "") if gone else reader.vocabulary.remaining.at(texts, end)
    if remaining and reader.text(end) == "left" and _is_side(reader, end):
        remaining = None
    if remaining and reader.text(end) != "to":
        return replace(amount, end=remaining[0])
    if reader.phrase(end, "short of", "shy of", "to go", "from full", "to spare", "below full", "off full", "before full"):
        return _skipped(amount.start, end + 1)
    return amount


def _from_zero(reader: Reader, amount: Amount) -> Amount | None:
    """ "twelve below", "four degrees above freezing"; None when "below" means something else."""
    end = amount.end
    below = reader.text(end) in ("below", "under")
    sign = -1.0 if below else 1.0
    at = end + 1
    scale = reader.vocabulary.units.at(reader.texts, at)
    unit = amount.unit
    if scale and scale[1][0] in ("F", "C"):
        unit, at = scale[1][0], scale[0]
    point = reader.phrase(at, "the freezing point", "the freezing mark", "freezing point", "freezing", "the freezing", "freeze")
    zero = reader.phrase(at, "zero", "0", "oh", "nothing", "the zero mark")
    if point or zero:
        stop = point or zero
        scale = reader.vocabulary.units.at(reader.texts, stop)
        if scale and scale[1][0] in ("F", "C", "degrees"):
            more = reader.vocabulary.units.at(reader.texts, scale[0]) if scale[1][0] == "degrees" else None
            unit, stop = (more[1][0], more[0]) if more else (scale[1][0] if scale[1][0] != "degrees" else unit, scale[0])
        if point:
            return replace(amount, end=stop, unit=unit or "degrees", freezing=sign * abs(amount.number or 0), below_zero=below)
        return replace(amount, end=stop, unit=unit or "degrees", number=sign * abs(amount.number or 0), below_zero=below)
    if reader.text(end) == "under" or reader.text(at) in ("the", "a", "an", "full", "capacity", "normal", "average", "what", "that", "half", "it", "where", "spec", "usual"):
        return None
    if not below and reader.text(at) not in ("", "out", "outside", "inside", ",", ".", "and", "in", "today", "now", "here", "this", "right"):
        return None
    if number_at(reader.texts, at) if at < len(reader.texts) else None:
        return None
    return replace(amount, end=at, unit=unit or "degrees", number=sign * abs(amount.number or 0), below_zero=below)


def _level(reader: Reader, i: int) -> Amount | None:
    freezing = reader.phrase(i, "at freezing", "right at freezing", "on freezing", "at the freezing mark", "at the freezing point", "above freezing", "below freezing", "freezing point", "freezing mark", "under freezing")
    if freezing:
        hedge = {"above": "over", "below": "under", "under": "under"}.get(reader.text(i), "")
        near = reader.text(i - 1) in ("just", "barely", "slightly", "hair", "bit", "touch", "right")
        if hedge and not near:
            return None
        return Amount(i, freezing, None, "degrees", "freezing", freezing=0.0, hedge=hedge)
    if reader.text(i) == "out" and reader.text(i + 1) == "of" and reader.text(i - 1) in ("is", "are", "am", "we", "completely", "all", "totally", "now", "ran", "run", "right", "plumb", "clean", ""):
        at = i + 3 if reader.text(i + 2) in ("the", "our") else i + 2
        found = reader.vocabulary.clues.at(reader.texts, at)
        if found and found[1].kind in ("subject", "loose") and (found[1].name != "propane" or {"outside", "inside", "curb", "street", "spare"} & set(reader.texts)):
            return Amount(i, i + 2, 0.0, "", "fraction", level=True)
    if reader.text(i) == "red" and reader.text(i - 1) not in ("the", "a") and reader.text(i + 1) not in ("tool", "light", "cap", "one", "box", "handle", "lamp"):
        return Amount(i, i + 1, None, kind="red", flag="low", level=True)
    found = reader.vocabulary.levels.at(reader.texts, i)
    if found is None:
        return None
    end, meaning = found
    word, before, after = reader.text(i), reader.text(i - 1), reader.text(end)
    if word == "e" and (before == "d" or after == "f"):
        return None
    if meaning in ("full", "empty"):
        if after in ("the", "it", "them", "that", "this", "those", "my", "your", "load", "time", "size", "speed", "service", "house", "stop", "hookup", "hookups", "cord", "weight", "run", "day", "ice", "snow", "our", "with", "by", "tank") and not (word == "full" and after == "tank"):
            return None
        if word == "empty" and before in ("to", "please", "we", "i", "you", "need", "should", "they", "just", "let", "and"):
            return None
        if word in ("drained", "emptied", "filled", "topped", "pumped", "dumped") and before == "":
            return None
        if word in ("dry", "drained", "emptied", "filled", "topped", "pumped", "spent", "ran", "run") and before in ("i", "we", "they", "he", "she", "you", "to", "who"):
            return None
        if word in ("ran", "run") and after in ("over", "from", "the", "onto", "under", "into", "my", "across", "down", "through", "for"):
            return None
        if word == "nothing" and not (after == "in" or reader.phrase(end, "left in", "left") and reader.text(end + 1) in ("in", "")):
            return None
        if meaning == "full" and after == "of" and reader.text(end + 1) not in ("propane", "water", "fuel", "diesel", "gas", "fresh"):
            return None
        tail = reader.vocabulary.remaining.at(reader.texts, end) if word in ("full", "empty") else None
        # "nothing" hides in "nothing is wrong with"; "half full" was already read as a number.
        return Amount(i, tail[0] if tail else end, 1.0 if meaning == "full" else 0.0, "", "fraction", level=True)
    return Amount(i, end, None, "", "flag", flag=meaning, level=True)


def _with_hedge(reader: Reader, amount: Amount) -> Amount:
    """The amount with the vague words before or after it."""
    hedge = amount.hedge
    end = amount.end
    before = _hedge_before(reader, amount.start)
    hedge = hedge or before
    for tail in (*COUNTABLE_AFTER, "and a bit", "and a little", "and a bit more", "plus a bit", "plus change", "and a smidge", "and a tad", "and a hair",
                 "and a touch", "and a smidgen", "and a wee bit", "and a skosh", "or more", "or better", "or a bit more", "or a little more", "and then some",
                 "or less", "or a bit less", "less a bit", "minus a bit", "minus a hair", "minus a little"):  # fmt: skip
        stop = reader.phrase(end, tail)
        if not stop or any(reader.taken[end:stop]):
            continue
        # "or so", but not "about" that belongs to the next amount.
        leads_on = tail in ("about", "around", "maybe", "roughly", "approx", "approximately", "probably", "i think", "i guess", "i reckon", "at least", "at most", "looks like", "i would say", "something", "i figure", "i suppose", "plus")
        if leads_on and _leads_to_number(reader, stop):
            continue
        kind = "over" if tail.startswith(("and", "plus a", "plus ch", "or mo", "or be", "or a bit m", "or a little", "odd")) else "under" if "less" in tail or tail.startswith("minus") else "about"
        hedge = hedge or ("about" if tail == "more or less" else kind)
        reader.take(end, stop)
        end = stop
        break
    if not hedge and not amount.level:
        hedge = _sentence_hedge(reader, amount)
    return replace(amount, hedge=hedge, end=end)


def _leads_to_number(reader: Reader, at: int) -> bool:
    for j in range(at, min(at + 4, len(reader.texts))):
        if reader.texts[j] in PUNCTUATION:
            return False
        if number_at(reader.texts, j) or reader.vocabulary.clues.at(reader.texts, j):
            return True
    return False


def _hedge_before(reader: Reader, start: int) -> str:
    """The kind of vague phrase that ends right before a word, articles and "at" aside."""
    stop = start
    while stop > 0 and reader.text(stop - 1) in ("a", "an", "the", "at", "like", "only", "on", ",", "is", "it", "be", "to", "what"):
        stop -= 1
    for end in {start, stop}:
        for size in range(6, 0, -1):
            at = end - size
            if at < 0 or any(reader.taken[at:end]):
                continue
            found = reader.vocabulary.hedges.at(reader.texts, at)
            if found and found[0] == end:
                # "just under" is under, whatever stands before; "up from" is none of ours.
                reader.take(at, end)
                return found[1]
    return ""


def _sentence_hedge(reader: Reader, amount: Amount) -> str:
    for at in range(amount.start - 1, -1, -1):
        if reader.taken[at] and number_at(reader.texts, at) or reader.texts[at] in STRONG_PUNCTUATION:
            return ""
        if reader.vocabulary.sentence_hedges.at(reader.texts, at):
            return "about"
    return ""


def _with_ranges(reader: Reader, amounts: list[Amount]) -> list[Amount]:
    """Amounts with "forty to fifty" and "between a quarter and a half" joined into one."""
    out: list[Amount] = []
    i = 0
    while i < len(amounts):
        first = amounts[i]
        second = amounts[i + 1] if i + 1 < len(amounts) else None
        joined = _joined_range(reader, first, second) if second else None
        if joined:
            out.append(joined)
            i += 2
        else:
            out.append(first)
            i += 1
    return out


def _joined_range(reader: Reader, first: Amount, second: Amount) -> Amount | None:
    link = " ".join(reader.texts[first.end : second.start])
    link = re.sub(r" ?\b(?:minus|a|the|about|maybe|around)\b", "", link).strip()
    if first.number is None or second.number is None or first.flag or second.flag or first.level or second.level:
        return None
    if first.unit and second.unit and first.unit != second.unit:
        return None
    if (first.kind == "fraction") != (second.kind == "fraction"):
        return None
    before = " ".join(reader.texts[max(0, first.start - 3) : first.start])
    moved = re.search(r"\bfrom(?: about| the| a)?$", before)
    low, high = sorted((first.number, second.number))
    unit = second.unit or first.unit
    if link in ("to", "down to", "up to") and moved:
        return replace(second, unit=unit, start=first.start)
    between = re.search(r"\bbetween(?: about| the| a| like)?$", before) and link == "and"
    spread = link in ("to", "-", "or", "or maybe", "–", "—") and 0 < high - low <= max(0.5 * abs(high), 0.26 if unit == "" and first.kind == "fraction" else 0)
    if not (between or spread) or low == high:
        return None
    return replace(second, start=first.start, number=(low + high) / 2, low=low, high=high, unit=unit, hedge="range", said=())


def find_subjects(reader: Reader) -> list[Subject]:
    """Every subject an amount may have, in order; words of amounts are left out."""
    found: list[Subject] = []
    i = 0
    while i < len(reader.texts):
        clue = None if reader.taken[i] else _clue(reader, i)
        if clue is None:
            i += 1
            continue
        end, subject = _run(reader, i)
        if subject:
            found.append(subject)
        i = max(end, i + 1)
    return found


def _clue(reader: Reader, i: int) -> tuple[int, str, str] | None:
    """The end, kind and name of the clue at `i`."""
    found = reader.vocabulary.clues.at(reader.texts, i)
    if found is None or any(reader.taken[i : found[0]]):
        return None
    end, (kind, name) = found
    word = reader.text(i)
    if kind == "tire" and name in ("left", "right") and end == i + 1 and not _is_side(reader, i):
        return None
    if kind == "tire" and word in ("driving", "steering", "drives") and reader.text(end) not in ("axle", "tire", "tires"):
        return None
    if kind == "both" and word in ("all", "each", "either") and reader.text(i - 1) == "at":
        return None
    if kind == "loose" and name == "outside_temp" and not _is_out(reader, i):
        return None
    if (name, word) == ("co_ppm", "co") and reader.text(end) in ("driver", "pilot", "worker", "drivers", "pilots", "2"):
        return None
    return end, kind, name


def _is_side(reader: Reader, i: int) -> bool:
    """Whether "left" or "right" is a side, not what remains or a way of speaking."""
    tires = reader.vocabulary.clues
    for j in (i + 1, i + 2):
        found = tires.at(reader.texts, j)
        if found and found[1].kind == "tire" and reader.text(i + 1) not in ("in", "at", "now", "on", "about"):
            return True
        if reader.text(i + 1) not in ("and", "side", "hand", "the"):
            break
    if reader.text(i + 1) in ("tire", "tires", "tyre", "tyres", "side", "one", "hand", "dual", "duals", "cylinder", "bottle"):
        return True
    if reader.phrase(i + 1, "and right", "and left", "and the right", "and the left"):
        return True
    if reader.phrase(i - 2, "on the") and i > 2 and reader.text(i + 1) in ("", *PUNCTUATION, "is", "and", "at"):
        return any(found is not None and found[1].kind == "tire" for found in (tires.at(reader.texts, k) for k in range(i - 2)))
    return reader.text(i - 1) in ("front", "rear", "drive", "tag", "steer", "axle", "tire", "tires", "back", "outer", "inner", "tyre")


def _is_out(reader: Reader, i: int) -> bool:
    """Whether "out" is the open air: it follows an amount, or ends a statement of one."""
    if reader.text(i) == "out" and reader.text(i + 1) in ("of", "here", "there", "to", "the"):
        return reader.text(i + 1) in ("here", "there")
    return i > 0 and (reader.taken[i - 1] or reader.text(i - 1) in ("it", "is", "cold", "degrees"))


def _run(reader: Reader, start: int) -> tuple[int, Subject | None]:
    """The end of the clues that belong together from `start`, and the subject they make."""
    clues: list[tuple[str, str]] = []
    i = end = start
    pronoun = False
    while i < len(reader.texts) and not reader.taken[i]:
        clue = _clue(reader, i)
        if clue and not _clashes(clues, clue[1], clue[2], linked=i > end):
            clues.append((clue[1], clue[2]))
            i = end = clue[0]
            continue
        if clue:
            break
        word = reader.text(i)
        if word == "one" and clues and clues[-1][0] in ("place", "tire", "circuit", "other"):
            pronoun = True
            i = end = i + 1
        elif word in ("side", "hand", "axle", "dual", "duals") and clues:
            i = end = i + 1
        elif word in LINKS and i - end < 2 and _next_is_clue(reader, i):
            i += 1
        else:
            break
    belonging = reader.text(end)
    if belonging in ("detector", "alarm", "monitor", "sensor") and ("subject", "co_ppm") in clues:
        return end + 1, _subject(reader, start, end + 1, clues, pronoun)
    if belonging in reader.vocabulary.belongings and not reader.taken[end] and not (belonging in ("line", "fill", "stop", "cover") and _is_verb(reader, end)):
        return end + 1, Subject(start, end + 1, "elsewhere")
    return end, _subject(reader, start, end, clues, pronoun)


def _is_verb(reader: Reader, i: int) -> bool:
    return reader.text(i + 1) in ("at", "is")


def _next_is_clue(reader: Reader, i: int) -> bool:
    for j in (i + 1, i + 2):
        if j >= len(reader.texts) or reader.taken[j]:
            return False
        if _clue(reader, j):
            return True
        if reader.texts[j] not in LINKS:
            return False
    return False


TANKLIKE = ("propane", "tire_pressure", "air_pressure")


def _clashes(clues: Sequence[tuple[str, str]], kind: str, name: str, linked: bool) -> bool:
    """Whether a further clue starts another subject."""
    kinds = {k for k, _ in clues}
    names = {n for k, n in clues if k == "subject"}
    if kind == "subject":
        if names and name not in names:
            return not (name == "propane" and "cylinder" in kinds)
        if ("place" in kinds or "tire" in kinds) and name not in ("propane", "tire_pressure", "outside_temp", "inside_temp", "air_pressure", "fresh", "waste"):
            return True
        if "place" in kinds and name in ("outside_temp", "inside_temp"):
            return ("place", name.removesuffix("_temp")) not in clues and "noun" not in kinds
        return "elsewhere" in kinds and linked is False and False
    if kind == "place":
        if any(k == "place" and n != name for k, n in clues):
            return not (("noun", "tire") in clues or {"driver-side", "passenger-side"} & {n for k, n in clues if k == "place"})
        return bool(names - {"propane", "outside_temp", "inside_temp", "tire_pressure"})
    if kind == "tire":
        groups = ({"left", "right"}, {"front", "rear", "drive", "tag"}, {"outer", "inner"})
        for group in groups:
            if name in group and any(k == "tire" and n in group and n != name for k, n in clues):
                # The drive axle is at the rear: "right rear drive outer".
                return not {name, *(n for k, n in clues if k == "tire" and n in group)} <= {"rear", "drive"}
        return bool(names - {"tire_pressure", "propane"})
    if kind == "loose":
        loose = {n for k, n in clues if k == "loose"}
        if name == "outside_temp":
            return bool(clues) and not ({n for k, n in clues if k == "noun"} & {"temperature"})
        return bool(loose - {name}) or (bool(names - {name}) and linked)
    if kind == "circuit":
        return bool(names - {"air_pressure"}) or any(k == "circuit" and n != name for k, n in clues)
    return False


def _subject(reader: Reader, start: int, end: int, clues: Sequence[tuple[str, str]], pronoun: bool) -> Subject | None:
    """The subject that a run of clues names, or None when they name none."""
    kinds = {k for k, _ in clues}
    nouns = {n for k, n in clues if k == "noun"}
    named = [n for k, n in clues if k == "subject"]
    loose = [n for k, n in clues if k == "loose"]
    places = [n for k, n in clues if k == "place"]
    tire = {_group(n): n for k, n in clues if k == "tire"}
    words = reader.texts[start:end]
    both = "both" in kinds
    place = places[0] if places else None
    hint = "km" if any(w.startswith("kilom") for w in words) else "A" if any(w in ("amps", "amperage", "current", "amp") for w in words) else "V" if any(w in ("volts", "voltage") for w in words) else ""

    def made(what: str, which: str | None = None, **more: object) -> Subject:
        return replace(Subject(start, end, what, which, place, both=both, hint=hint, tire=tire, pronoun=pronoun), **more)  # type: ignore[arg-type]

    if "elsewhere" in kinds:
        return made("elsewhere")
    circuit = next((n for k, n in clues if k == "circuit"), None)
    if "tire" in nouns or (named and named[0] == "tire_pressure") or _is_tire_run(tire, places, words):
        return made("tire_pressure")
    if named:
        what = named[0]
        if what == "propane":
            return made("propane")
        return made(what, circuit if what == "air_pressure" else None)
    if "cylinder" in nouns:
        return made("propane")
    if "temperature" in nouns and not place and start and reader.text(start - 1) not in LINKS and _names_another(reader, start - 1):
        return made("elsewhere")
    if "temperature" in nouns:
        return made("temperature") if "air" not in words or place else made("outside_temp")
    if circuit and (not loose or loose == ["air_pressure"]):
        return made("air_pressure", circuit)
    if loose:
        if place in ("outside", "inside") and loose[0] in ("outside_temp", "air_pressure"):
            return made(f"{place}_temp" if loose[0] == "air_pressure" else "place")
        return made(loose[0], loose=True)
    if "other" in kinds:
        return made("other")
    if "tank" in nouns and places:
        return made("propane")
    if "tank" in nouns:
        return made("tank")
    if both and not places:
        return made("pair")
    if places and not tire:
        return made("place")
    if tire and (pronoun or {"left", "right", "outer", "inner"} & set(tire.values())):
        return made("side")
    if "changeover" in words:
        return made("propane")
    return None


def _names_another(reader: Reader, i: int) -> bool:
    """Whether the word before "temp" says whose: "sleep temp", "tire temp"."""
    word = reader.text(i)
    return word.isalpha() and word not in AFTER_BARE and word not in ("is", "it", "current", "present", "air", "was", "got", "reads", "hey", "so", "log") and not reader.taken[i]


def _group(name: str) -> str:
    return "side" if name in ("left", "right") else "dual" if name in ("outer", "inner") else "axle"


def _is_tire_run(tire: dict[str, str], places: Sequence[str], words: Sequence[str]) -> bool:
    """Whether positions alone name a tire: a side with an axle, or "fronts", or a drive dual."""
    side = "side" in tire or any(p in ("driver-side", "passenger-side", "curb-side", "street-side") for p in places)
    if "axle" in tire and (side or "dual" in tire or tire["axle"] == "tag"):
        return True
    if {"fronts", "steers", "rears", "drives", "duals", "tags", "inners", "outers"} & set(words):
        return True
    return side and "dual" in tire


def number_words_only(texts: Sequence[str]) -> bool:
    """Whether every word is part of a number."""
    return all(text in NUMBER_WORDS or text[:1].isdigit() for text in texts)
