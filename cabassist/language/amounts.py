"""Finding the amounts in a report: numbers with their units, words for a level, and how vaguely they were told.

An amount is found by place among the words; what it is an amount of is settled later (`pairing`).
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

from cabassist.language.numbers import ONES, PARTS, WRITTEN_PARTS, Number, number_at, pieces
from cabassist.language.reading_parts import (
    LENGTHS,
    PUNCTUATION,
    STRONG_PUNCTUATION,
    TEMPERATURE_UNITS,
    WEIGHTS,
    Amount,
    Reader,
    is_side,
)

ARTICLE_UNITS = frozenset({"ft", "cm", "in", "gal", "L", "lb", "kg"})
SINGULAR = frozenset(
    {"gallon", "pound", "volt", "amp", "inch", "foot", "liter", "litre", "passenger", "watt", "psi", "lb", "gal"}
)
"""Units that, said of more than one before a noun, describe it: "the eighty gallon tank"."""
ABBREVIATED = frozenset({"psi", "lb", "gal"})
"""Of these, the ones that are also said after a number in a plain report: "70 gal fresh"."""
DETERMINERS = frozenset({"the", "a", "our", "my", "your", "this", "that"})
PLURAL_NOUNS = frozenset(
    "cylinders bottles tanks tires tyres batteries fronts rears duals gauges needles drives tags steers sides furnaces axles".split()
)
LAMPS = frozenset("lights light bars bar leds dots segments ticks lines lamps blocks".split())
"""What some gauges show instead of a needle: "two bars of four"."""
LIT_UP = frozenset({"lit", "showing", "glowing"})
"""What is told of lamps after their number."""
NO_SAME = frozenset("side bay time place day thing way one as corner axle wheel end position tire".split())
"""After "the same" these make it no amount."""
OPINIONS = frozenset(
    "say says said think thinks thought do does did tell tells told ask asks asked feel feels felt want wants wanted would reckon reckons".split()
)
SPEAKERS = frozenset(
    "he she they i we you wife husband partner mate buddy boss guy guys man coach trainer kid kids boy boys girl girls everyone everybody somebody someone nobody others people friend mechanic dispatcher driver drivers mom mother dad father brother sister son daughter doctor manager captain player players team".split()
)
"""Who says or does "the same" tells no level by it."""
LOW_LAMPS = ("warning light", "warning lamp", "level light", "light", "lamp", "warning", "indicator")
LIT = (" is on", " has come on", " came on", " just came on", " on", " is lit", " lit", " is showing", " has lit up")
LOOSE_COUNTS = frozenset({"ish", "odd", "something", "plus", "some"})
"""Words between a number and its unit that make it vague: "ninety odd gallons"."""
CLOCK_BEFORE = frozenset({"by", "until", "till", "since", "before", "after"})
CLOCK_AFTER = (
    "am",
    "pm",
    "oclock",
    "tonight",
    "this morning",
    "in the morning",
    "this afternoon",
    "this evening",
    "last night",
    "in the afternoon",
)
ROUND_THE_CLOCK = frozenset({"at", "by", "around", "about", "since", "of"})
PERIODS = frozenset("day hour minute night week head person flush shower mile trip second time stop".split()) | {""}
FEW = 12
"""Up to this, a number before a noun is more likely a count of things than a reading."""


def find_amounts(reader: Reader) -> list[Amount]:
    """Every amount and level word, in order. Their words are marked as taken, and other numbers counted as skipped."""
    found: list[Amount] = []
    i = 0
    while i < len(reader.texts):
        amount = _amount_at(reader, i)
        if amount is None:
            i += 1
            continue
        if amount.kind == "none":
            reader.skipped += 1
        else:
            found.append(amount)
        reader.take(amount.start, amount.end)
        i = max(amount.end, i + 1)
    hedged = _with_ranges(reader, [_with_hedge(reader, amount) for amount in found])
    kept = [amount for amount in hedged if not _counts_things(reader, amount)]
    reader.skipped += len(hedged) - len(kept)
    return kept


def _amount_at(reader: Reader, i: int) -> Amount | None:
    for find in (_nobody, _relative, _number, _one_of_a_unit, _freezing, _run_out, _red, _level):
        amount = find(reader, i)
        if amount:
            return amount
    return None


def _skipped(start: int, end: int) -> Amount:
    """A number that is no amount of ours."""
    return Amount(start, end, None, kind="none")


# Numbers


def _number(reader: Reader, i: int) -> Amount | None:
    number = number_at(reader.texts, i)
    if number is None or _is_pronoun(reader, i, number) or reader.text(number.end) in PLURAL_NOUNS:
        return None
    if _names_something(reader, number) or _lost_its_whole(reader, i):
        return _skipped(i, number.end)
    if below := _below_a_line(reader, number):
        whole_parts, stop = below
        share = number.value / whole_parts if whole_parts else math.inf
        return _with_share(reader, Amount(i, stop, share, kind="fraction"))
    whole, end = _out_of(reader, number)
    vague = reader.text(end) in LOOSE_COUNTS and _unit(reader, end + 1)[1] not in ("", None)
    end, unit, factor = _unit(reader, end + vague, number.kind == "fraction")
    labelled = reader.text(i - 1) in reader.vocabulary.labels and number.kind in ("integer", "pieces")
    if unit is None or (labelled and not unit):
        return _skipped(i, end)
    value, end = _and_a_half(reader, number.value, unit, end)
    signed = reader.text(i - 1) == "minus" or (reader.text(i - 1) == "-" and reader.words[i].glued)
    amount = Amount(
        i - signed,
        end,
        -value * factor if signed else value * factor,
        unit,
        number.kind,
        pieces(reader.texts[number.start : number.end]),
        "about" if vague else "",
        of=whole,
        after_place=reader.text(i - 1) in ("outside", "inside", "side", "spare", "other", "the"),
    )
    if _describes_a_noun(reader, amount, number.end):
        return _skipped(i, end)
    return _with_tail(reader, amount)


def _is_pronoun(reader: Reader, i: int, number: Number) -> bool:
    """Whether "one" stands for a thing: "the outside one's at half"."""
    if reader.text(i) != "one":
        return False
    if reader.words[i].owner:
        return True
    before, after = reader.text(i - 1), reader.text(i + 1)
    if before in _SIDED and (beside := number_at(reader.texts, i + 1) if after else None) is not None:
        # "the inside one three quarters" is no one and three quarters
        return beside.kind == "fraction" and number.end > i + 1
    if number.end == i + 1 and before in reader.vocabulary.pointing:
        return reader.vocabulary.units.at(reader.texts, i + 1) is None and after != "below"
    if number.end == i + 1 and reader.text(i - 2) in ("the", "that", "this", "only", "other") and before.isalpha():
        # "the galley is the dry one"; "the fresh one degree" is told by nobody
        bare = after == "" or after in PUNCTUATION
        return bare and before not in ("is", "at", "was", "reads", "says", "shows", "to", "minus", "of", "on")
    return before == "no" and after in ("aboard", "on", "else", "is", "has", "here")


_SIDED = frozenset(
    "outside inside outer inner spare other front rear left right first second curb street near far".split()
)
"""Words that tell one thing from its like, after which "one" is the thing."""


def _lost_its_whole(reader: Reader, i: int) -> bool:
    """Whether a point stands after a word that may be its mangled whole number: "to wall point five"."""
    if reader.text(i) not in ("point", "dot"):
        return False
    before, vocabulary = reader.text(i - 1), reader.vocabulary
    sound = (
        before in PUNCTUATION or before in vocabulary.reporting or before in ("", "a", "minus", "about", "=", "just")
    )
    named = any(vocabulary.clues.end(reader.texts, k) == i for k in range(max(0, i - 3), i))
    return not (sound or named)


def _names_something(reader: Reader, number: Number) -> bool:
    """Whether a number is a time, a place in a row or a part of something that is no tank."""
    after, before = reader.text(number.end), reader.text(number.start - 1)
    if number.kind == "fraction" and not _is_share(reader, number):
        return True
    if number.value == 0 and before in ("below", "under", "above", "sub", "past"):
        return True
    return after in ("st", "nd", "rd", "th") or _is_clock(reader, number.start, number.end)


def _is_share(reader: Reader, number: Number) -> bool:
    """Whether a fraction can be a share of a tank: not "half frozen", "quarter past six" or "eighth graders"."""
    after, before, end = reader.text(number.end), reader.text(number.start - 1), number.end
    if after in reader.vocabulary.not_shares or any(
        reader.phrase(end, tail) for tail in reader.vocabulary.not_share_tails
    ):
        return False
    if after in ("past", "to") and reader.number_at(end + 1):
        return after == "to" and before not in ("at", "by") and reader.text(number.start) != "quarter"
    denominator = reader.text(end - 1)
    ordinal = denominator in PARTS and denominator not in ("half", "halves", "quarter", "quarters")
    if not ordinal:
        return True
    alone = end == number.start + 1
    if (alone or reader.text(number.start) in ("a", "an")) and not _ends_share(reader, end):
        return False
    return not (alone and before in ("the", "on", "in", "every", "step", "bay"))


def _ends_share(reader: Reader, end: int) -> bool:
    after = reader.text(end)
    vocabulary = reader.vocabulary
    if (
        after in vocabulary.after_bare
        or after in PUNCTUATION
        or after in ("", "of", "tank", "bottle", "cylinder", "an", "inch", "inches", "is")
    ):
        return True
    found = (
        vocabulary.clues,
        vocabulary.hedges,
        vocabulary.corrections,
        vocabulary.remaining,
        vocabulary.missing,
        vocabulary.units,
    )
    return any(phrases.at(reader.texts, end) for phrases in found)


def _is_clock(reader: Reader, i: int, end: int) -> bool:
    before = reader.text(i - 1)
    if before == "at" and reader.text(i - 2) in ("boarded", "boarding", "board"):
        return True
    if before in CLOCK_BEFORE and not _unit(reader, end)[1] and reader.text(i - 2) not in ("just", "from"):
        return True
    return before in ROUND_THE_CLOCK and bool(reader.phrase(end, *CLOCK_AFTER))


def _out_of(reader: Reader, number: Number) -> tuple[float | None, int]:
    """The whole and the end of "three of four" and "two lights out of five"."""
    end = number.end
    at = end + 1 if reader.text(end) in LAMPS else end
    stop = reader.phrase(at, "out of the", "out of", "of the", "of")
    more = reader.number_at(stop) if stop and number.kind == "integer" else None
    if more is None or more.kind != "integer" or not more.value >= number.value > 0:
        return None, end
    stop = more.end + (reader.text(more.end) in LAMPS)
    return more.value, stop + (reader.text(stop) in LIT_UP)


def _below_a_line(reader: Reader, number: Number) -> tuple[float, int] | None:
    """What stands below the line of "three over four", or of "3/0", which no level is, with its end; else None."""
    line = reader.text(number.end)
    parts = reader.number_at(number.end + 1) if line in ("/", "over") and number.kind == "integer" else None
    if parts is None or parts.kind != "integer" or _unit(reader, parts.end)[1]:
        return None
    fits = parts.value == 0 if line == "/" else parts.value in WRITTEN_PARTS and number.value <= parts.value
    return (parts.value, parts.end) if fits else None


def _and_a_half(reader: Reader, value: float, unit: str, end: int) -> tuple[float, int]:
    """The value and end with a part said after the unit: "a foot and a half"."""
    for phrase, part in (
        ("and a half", 0.5),
        ("and a quarter", 0.25),
        ("and three quarters", 0.75),
        ("and a third", 1 / 3),
    ):
        stop = reader.phrase(end, phrase)
        if unit and unit != "percent" and stop:
            return value + part, stop
    return value, end


def _describes_a_noun(reader: Reader, amount: Amount, number_end: int) -> bool:
    """Whether an amount only describes what follows: "the eighty gallon waste tank", "a forty pound cylinder"."""
    unit_word, before, after = reader.text(amount.end - 1), reader.text(amount.start - 1), reader.text(amount.end)
    if amount.end <= number_end or unit_word not in SINGULAR or amount.number == 1:
        return False
    if before in reader.vocabulary.reporting:
        return False
    if after in reader.vocabulary.belongings or after in reader.vocabulary.described:
        return True
    return (
        unit_word not in ABBREVIATED
        and before in DETERMINERS
        and reader.vocabulary.clues.at(reader.texts, amount.end) is not None
    )


def _one_of_a_unit(reader: Reader, i: int) -> Amount | None:
    """ "a foot", "an inch and a half", "a couple of inches"."""
    if reader.text(i) not in ("a", "an"):
        return None
    couple = reader.phrase(i + 1, "couple of", "couple")
    found = reader.vocabulary.units.at(reader.texts, couple or i + 1)
    # "four dollars a gallon" is a rate.
    if found is None or (i and reader.taken[i - 1] and reader.vocabulary.units.at(reader.texts, i - 1)):
        return None
    end, (unit, factor) = found
    if unit not in ARTICLE_UNITS and not (unit == "degrees" and reader.phrase(end, "below", "above", "under")):
        return None
    value, end = _and_a_half(reader, 2.0 if couple else 1.0, unit, end)
    return _with_tail(reader, Amount(i, end, value * factor, unit, "article", hedge="about" if couple else ""))


def _nobody(reader: Reader, i: int) -> Amount | None:
    """ "nobody aboard", "no passengers on board": a count of none."""
    end = reader.phrase(i, "nobody", "no one", "noone", "no passengers", "no people", "no players", "no kids")
    if not end or not reader.phrase(end, "aboard", "on board", "onboard", "on the bus", "on the coach", "on yet"):
        return None
    return Amount(i, end, 0.0, "persons")


def _relative(reader: Reader, i: int) -> Amount | None:
    """ "half of that", "the same": an amount told by another."""
    found = reader.vocabulary.relative.at(reader.texts, i)
    if found:
        return Amount(i, found[0], found[1], kind="relative")
    end = reader.phrase(i, "the same", "same", "ditto", "likewise", "identical")
    if end and reader.text(i - 1) in OPINIONS and reader.text(i - 2) in SPEAKERS:
        return None  # "my wife says the same"
    if end and reader.text(i - 1) != "the" and reader.text(end) not in NO_SAME:
        return Amount(i, end, 1.0, kind="same")
    return None


# Units


def _unit(reader: Reader, end: int, share: bool = False) -> tuple[int, str | None, float]:
    """The end, the unit ("" when none is said, None for a foreign one) and its factor after a number."""
    texts, none = reader.texts, (end, "", 1.0)
    at = end
    if reader.text(at) in ("a", "per", "each", "every") and reader.text(at + 1) in ("flush", "shower"):
        return at, None, 1.0  # "one point six a flush" is no level
    if reader.phrase(at, "of a") or reader.text(at) in ("a", "an", "per"):
        step = 2 if reader.text(at) == "of" else 1
        if not share and step == 1 and reader.vocabulary.units.at(texts, at + 1):
            return at + 2, None, 1.0  # a price or a rate: "three eighty a gallon"
        if reader.text(at + step) in ("inch", "foot", "gallon", "pound", "percent", "volt", "degree"):
            at += step  # "half an inch"
    letter = _letter_unit(reader, at)
    if letter is not None:
        return (at + 1, letter, 1.0) if letter else none
    found = reader.vocabulary.units.at(texts, at)
    if found is None:
        return none
    stop, (unit, factor) = found
    if (unit == "persons" and reader.text(stop) == "side") or (not unit and reader.text(at) == "gauge"):
        return none
    if unit == "degrees":
        scale = reader.vocabulary.units.at(texts, stop)
        return (scale[0], scale[1][0], 1.0) if scale and scale[1][0] in ("F", "C") else (stop, "degrees", 1.0)
    rate = reader.text(stop) in ("a", "an", "per", "each", "every", "apiece") and reader.text(stop + 1) in PERIODS
    foreign = not unit or rate or reader.text(stop) in ("wind", "drop", "difference", "spread")
    return stop, None if foreign else unit, factor


def _letter_unit(reader: Reader, at: int) -> str | None:
    """The unit of a short word that is mostly no unit: "in", "a", a quote mark; "" when it is none here, None for others."""
    word, following = reader.text(at), reader.text(at + 1)
    figures = reader.text(at - 1)[-1:].isdigit()
    if word == "in":
        measured = reader.words[at].glued or following in (
            "",
            "deep",
            "down",
            "up",
            "off",
            "from",
            ",",
            ".",
            "below",
            "above",
        )
        return "in" if figures and measured else ""
    if word == "a":
        return "A" if figures and reader.words[at].glued else ""
    if word in ("'", '"'):
        return ("ft" if word == "'" else "in") if figures else ""
    return "" if word == "c" and following == "o" else None


# What follows an amount


def _with_tail(reader: Reader, amount: Amount) -> Amount:
    """The amount with what follows it: below zero, from the top, gone, or left."""
    if amount.unit in TEMPERATURE_UNITS or not amount.unit:
        turned = _from_zero(reader, amount)
        if turned:
            return turned
    if amount.unit in LENGTHS:
        return _with_direction(reader, amount)
    if amount.unit in WEIGHTS:
        gross = reader.phrase(amount.end, *reader.vocabulary.gross)
        if gross:
            return replace(amount, end=gross)
        return _skipped(amount.start, amount.end) if reader.text(amount.end) in ("gone", "used", "short") else amount
    if amount.unit in ("psi", "A", "V", "") and reader.text(amount.start - 1) == "down":
        # "down five psi" is a difference.
        return _skipped(amount.start, amount.end)
    return _with_share(reader, amount)


def _from_zero(reader: Reader, amount: Amount) -> Amount | None:
    """ "twelve below", "four degrees above freezing", "ten degrees of frost"; None when it is none of these."""
    end, number, unit = amount.end, abs(amount.number or 0.0), amount.unit
    frost = reader.phrase(end, "of frost")
    if frost and unit:
        return replace(amount, end=frost, freezing=-number, below_zero=True)
    word = reader.text(end)
    if word not in ("below", "under", "above") and not (word == "over" and reader.text(end + 1) in ("zero", "0")):
        return None
    below = word not in ("above", "over")
    at, unit = _scale(reader, end + 1, unit)
    freezing = reader.phrase(
        at, "the freezing point", "the freezing mark", "freezing point", "freezing mark", "freezing", "freeze"
    )
    zero = reader.phrase(at, "zero", "0", "oh", "nothing", "the zero mark")
    if freezing or zero:
        stop, unit = _scale(reader, freezing or zero, unit)
    else:
        stop = at
        if word == "under" or reader.text(at) in reader.vocabulary.limits or reader.number_at(at):
            return None
        if not below and reader.text(at) not in reader.vocabulary.after_above:
            return None
    signed = -number if below else number
    if freezing:
        return replace(amount, end=stop, unit=unit or "degrees", freezing=signed, below_zero=below)
    return replace(amount, end=stop, unit=unit or "degrees", number=signed, below_zero=below)


def _scale(reader: Reader, at: int, unit: str) -> tuple[int, str]:
    """The end and the unit when a temperature scale stands at `at`: "below zero degrees celsius"."""
    found = reader.vocabulary.units.at(reader.texts, at)
    if found and found[1][0] == "degrees":
        at = found[0]
        found = reader.vocabulary.units.at(reader.texts, at)
    return (found[0], found[1][0]) if found and found[1][0] in ("F", "C") else (at, unit)


def _with_direction(reader: Reader, amount: Amount) -> Amount:
    """A length with the end it is counted from."""
    texts, at = reader.texts, amount.end
    found = reader.vocabulary.counted_from.at(texts, at)
    while found is None and at < min(amount.end + 5, len(texts)) and texts[at] not in PUNCTUATION:
        at += 1
        if reader.text(at) in ("from", "off", "below", "down", "deep", "shy", "short", "under", "beneath", "away"):
            found = reader.vocabulary.counted_from.at(texts, at)
    if found is None:
        down = reader.text(amount.start - 1) == "down" or reader.phrase(amount.start - 2, "down by", "down about")
        return replace(amount, counted_from="top") if down else amount
    stop, side = found
    longer = reader.vocabulary.counted_from.at(texts, stop) if texts[at] in ("down", "up") else None
    stop, side = longer or (stop, side)
    if at == amount.end:
        return replace(amount, end=stop, counted_from=side)
    reader.take(at, stop)
    return replace(amount, counted_from=side)


def _with_share(reader: Reader, amount: Amount) -> Amount:
    """A share with "gone" turned round, "left" taken in, and "short of full" left out."""
    end = amount.end
    gone = reader.phrase(
        end,
        "of it gone",
        "of it is gone",
        "is gone",
        "of it used",
        "of the way gone",
        "of the way empty",
        "of the way down",
    )
    short = reader.vocabulary.short_of_full.end(reader.texts, end)
    missing = gone or short or reader.vocabulary.missing.end(reader.texts, end)
    turned = reader.phrase(end, "down from", "down the", "down to") and not short
    if missing and amount.number is not None and not turned:
        if amount.kind == "fraction" and not amount.unit:
            return replace(amount, number=1 - amount.number, end=missing)
        if amount.unit == "percent":
            return replace(amount, number=100 - amount.number, end=missing)
        if amount.unit in ("gal", "L") and reader.phrase(end, "down", "empty") != missing:
            return _skipped(amount.start, missing)
    part = reader.phrase(end, "of the way full", "of the way up", "of the way", "way full")
    remaining = part or reader.vocabulary.remaining.end(reader.texts, end)
    side = reader.text(end) == "left" and is_side(reader, end)
    if remaining and not side and reader.text(end) != "to":
        return replace(amount, end=remaining)
    if reader.phrase(
        end, "short of", "shy of", "to go", "from full", "to spare", "below full", "off full", "before full"
    ):
        return _skipped(amount.start, end + 1)
    return amount


def _counts_things(reader: Reader, amount: Amount) -> bool:
    """Whether a bare number counts other things: "two dials", "one of the players", "bottle two"."""
    if amount.unit or amount.kind not in ("integer", "pieces") or amount.number is None:
        return False
    vocabulary, size = reader.vocabulary, abs(amount.number)
    before, after = reader.text(amount.start - 1), reader.text(amount.end)
    if before in ("bus", "coach", "team") or (before in ("bottle", "cylinder") and size <= 4):
        return True
    if before == "the" and reader.text(amount.start - 2) not in ("at", "of", "to", "is", "on"):
        return size <= FEW
    clue = vocabulary.clues.at(reader.texts, amount.end)
    owner = vocabulary.clues.at(reader.texts, amount.start - 1)
    if clue and owner and owner[1].kind in ("subject", "place") and clue[1].kind != "noun":
        # "waste ten fresh ninety": each has its own.
        return False
    if clue and size <= FEW and clue[1].kind in ("subject", "loose", "noun") and amount.number >= 0:
        return clue[1].name not in ("outside_temp", "inside_temp", "passengers")
    if clue or after in vocabulary.after_bare or after in PUNCTUATION or after == "":
        return False
    return not (
        vocabulary.hedges.at(reader.texts, amount.end)
        or vocabulary.corrections.at(reader.texts, amount.end)
        or reader.number_at(amount.end)
    )


# Words for a level


def _freezing(reader: Reader, i: int) -> Amount | None:
    """ "right at freezing", "just above freezing"."""
    end = reader.phrase(
        i, "around freezing", "about freezing", "near freezing", "close to freezing", "at freezing", "right at freezing", "on freezing", "at the freezing mark", "at the freezing point", "above freezing", "below freezing",
        "under freezing", "freezing point", "freezing mark",
    )  # fmt: skip
    if not end:
        return None
    if reader.text(i) in ("around", "about", "near", "close"):
        return Amount(i, end, None, "degrees", "freezing", freezing=0.0, hedge="about")
    hedge = {"above": "over", "below": "under", "under": "under"}.get(reader.text(i), "")
    near = reader.text(i - 1) in ("just", "barely", "slightly", "hair", "bit", "touch", "right")
    return None if hedge and not near else Amount(i, end, None, "degrees", "freezing", freezing=0.0, hedge=hedge)


def _run_out(reader: Reader, i: int) -> Amount | None:
    """ "we're out of diesel". Out of propane tells nothing without the cylinder: there may be another."""
    if not reader.phrase(i, "out of") or reader.text(i - 1) not in reader.vocabulary.before_out_of:
        return None
    found = reader.vocabulary.clues.at(reader.texts, i + 3 if reader.text(i + 2) in ("the", "our") else i + 2)
    if found is None or found[1].kind not in ("subject", "loose"):
        return None
    placed = {"outside", "inside", "curb", "street", "spare"} & set(reader.texts)
    return Amount(i, i + 2, 0.0, "", "fraction", level=True) if placed or found[1].name != "propane" else None


def _red(reader: Reader, i: int) -> Amount | None:
    """The red of a changeover's indicator."""
    if (
        reader.text(i) != "red"
        or reader.text(i - 1) in ("the", "a")
        or reader.text(i + 1) in ("tool", "light", "cap", "one", "box", "handle", "lamp")
    ):
        return None
    return Amount(i, i + 1, None, kind="red", flag="low", level=True)


def _level(reader: Reader, i: int) -> Amount | None:
    found = reader.vocabulary.levels.at(reader.texts, i)
    if found is None:
        return _low_lamp(reader, i)
    end, meaning = found
    if meaning == "pegged":
        if reader.text(end) in ("at", "on", "to", "in", "against"):
            return None  # where it is pegged follows
        return Amount(i, end, None, "", "pegged", flag="high", level=True)
    if meaning in ("low", "high"):
        return Amount(i, end, None, "", "flag", flag=meaning, level=True)
    if _is_other_sense(reader, i, end, meaning):
        return None
    if reader.text(i) == "full" and _is_slip_of_part(reader, i - 1):
        return _skipped(i, end)
    end = reader.vocabulary.remaining.end(reader.texts, end) or end if reader.text(i) in ("full", "empty") else end
    near = reader.text(i) == "to" and reader.text(i - 1) in ("close", "next", "near", "closer")
    hedge = "about" if near else ""
    return Amount(i - near, end, 1.0 if meaning == "full" else 0.0, "", "fraction", hedge=hedge, level=True)


def _is_slip_of_part(reader: Reader, i: int) -> bool:
    """Whether a word that nobody knows stands where a part would: "a thdir full" is not full."""
    word, before = reader.text(i), reader.text(i - 1)
    return word.isalpha() and word not in reader.vocabulary.known and (before in ("a", "an") or before in ONES)


def _low_lamp(reader: Reader, i: int) -> Amount | None:
    """ "low fuel light is on": the lamp tells of the thing between."""
    found = reader.vocabulary.clues.at(reader.texts, i + 1) if reader.text(i) == "low" else None
    if found is None or found[1].kind not in ("subject", "loose") or found[1].name == "air_pressure":
        return None
    end = reader.phrase(found[0], *(f"{lamp}{tail}" for lamp in LOW_LAMPS for tail in LIT))
    if not end:
        return None
    reader.take(found[0], end)
    return Amount(i, i + 1, None, "", "lamp", flag="low", level=True)


_HOLDS = frozenset(
    "it there them tank tanks cylinder cylinders bottle bottles one either both outside inside fresh waste".split()
)


def _nothing_in_one(reader: Reader, end: int) -> bool:
    """Whether "nothing" tells what is left in a tank: "nothing in it", "nothing left", and not "nothing in the vents"."""
    after = reader.text(end)
    if after == "left":
        return reader.text(end + 1) in ("in", "")
    return after == "in" and not _HOLDS.isdisjoint(reader.texts[end + 1 : end + 3])


def _is_other_sense(reader: Reader, i: int, end: int, meaning: str) -> bool:
    """Whether "full", "dry" or "ran out" tells something other than a level: "empty the tank", "water ran out over my shoes"."""
    vocabulary = reader.vocabulary
    word, before, after = reader.text(i), reader.text(i - 1), reader.text(end)
    if after in vocabulary.after_verb and not (word == "full" and after == "tank"):
        return True
    if word == "empty" and before in ("to", "please", "we", "i", "you", "need", "should", "they", "just", "let", "and"):
        return True
    if word in vocabulary.acts and (
        before in ("i", "we", "they", "he", "she", "you", "to", "who")
        or (before == "" and word not in ("dry", "spent", "ran", "run"))
    ):
        return True
    if word in ("ran", "run") and after in (
        "over",
        "from",
        "the",
        "onto",
        "under",
        "into",
        "my",
        "across",
        "down",
        "through",
        "for",
    ):
        return True
    if word == "nothing" and not _nothing_in_one(reader, end):
        return True
    return (
        meaning == "full"
        and after == "of"
        and reader.text(end + 1) not in ("propane", "water", "fuel", "diesel", "gas", "fresh")
    )


# Vague words and ranges


def _with_hedge(reader: Reader, amount: Amount) -> Amount:
    """The amount with the vague words before or after it."""
    hedge = amount.hedge or _hedge_before(reader, amount.start)
    found = reader.vocabulary.after_hedges.at(reader.texts, amount.end)
    end = amount.end
    if found and not any(reader.taken[end : found[0]]) and not (_may_lead(reader, end) and _leads_on(reader, found[0])):
        hedge = hedge or found[1]
        reader.take(end, found[0])
        end = found[0]
    if not hedge and not amount.level:
        hedge = _sentence_hedge(reader, amount)
    return replace(amount, hedge=hedge, end=end)


def _may_lead(reader: Reader, i: int) -> bool:
    """Whether a vague phrase here may also stand before an amount: "about", but not "or so"."""
    return reader.text(i) not in (
        "or",
        "and",
        "give",
        "more",
        "less",
        "ish",
        "thereabouts",
        "odd",
    ) and not reader.phrase(i, "plus or", "minus a")


def _leads_on(reader: Reader, at: int) -> bool:
    for j in range(at, min(at + 4, len(reader.texts))):
        if reader.texts[j] in PUNCTUATION:
            return False
        if number_at(reader.texts, j) or reader.vocabulary.clues.at(reader.texts, j):
            return True
    return False


def _hedge_before(reader: Reader, start: int) -> str:
    """The kind of the vague phrase that ends right before a word, articles and "at" aside."""
    stop = start
    while stop > 0 and reader.text(stop - 1) in (
        "a",
        "an",
        "the",
        "at",
        "like",
        "only",
        "on",
        ",",
        "is",
        "it",
        "be",
        "to",
        "what",
    ):
        stop -= 1
    for end in (start, stop):
        for at in range(max(0, end - 6), end):
            found = reader.vocabulary.hedges.at(reader.texts, at)
            if found and found[0] == end and not any(reader.taken[at:end]):
                reader.take(at, end)
                return found[1]
    return ""


def _sentence_hedge(reader: Reader, amount: Amount) -> str:
    """ "about" when "I think" or the like stands before, with no other amount between."""
    for at in range(amount.start - 1, -1, -1):
        if (reader.taken[at] and number_at(reader.texts, at)) or reader.texts[at] in STRONG_PUNCTUATION:
            return ""
        if reader.vocabulary.sentence_hedges.at(reader.texts, at):
            return "about"
    return ""


def _with_ranges(reader: Reader, amounts: list[Amount]) -> list[Amount]:
    """The amounts with "forty to fifty" and "between a quarter and a half" joined into one."""
    out: list[Amount] = []
    for amount in amounts:
        joined = _range(reader, out[-1], amount) if out else None
        if joined:
            out[-1] = joined
        else:
            out.append(amount)
    return out


def _range(reader: Reader, first: Amount, second: Amount) -> Amount | None:
    if first.number is None or second.number is None or first.level or second.level or first.hedge == "range":
        return None
    if (first.unit and second.unit and first.unit != second.unit) or (first.kind == "fraction") != (
        second.kind == "fraction"
    ):
        return None
    link = re.sub(
        r" ?\b(?:minus|a|the|about|maybe|around)\b", "", " ".join(reader.texts[first.end : second.start])
    ).strip()
    before = " ".join(reader.texts[max(0, first.start - 3) : first.start])
    unit = second.unit or first.unit
    if link in ("to", "down to", "up to") and re.search(r"\bfrom(?: about| the| a)?$", before):
        # "it went from forty to thirty": thirty is the state now.
        return replace(second, unit=unit, start=first.start)
    low, high = sorted((first.number, second.number))
    between = link == "and" and re.search(r"\bbetween(?: about| the| a| like)?$", before)
    close = high - low <= max(0.5 * abs(high), 0.26 if first.kind == "fraction" and not unit else 0.0)
    if low == high or not (between or (close and link in ("to", "-", "or", "or maybe", "–", "—"))):
        return None
    return replace(
        second, start=first.start, number=(low + high) / 2, low=low, high=high, unit=unit, hedge="range", said=()
    )
