"""Amounts among words: a number, its unit, what it is a rate of, whether it is for each person."""

from __future__ import annotations

import re

from cabassist.language.calculation_clock import clock_written
from cabassist.language.calculation_degrees import temperature
from cabassist.language.calculation_joined import merged, split_count
from cabassist.language.calculation_people import EACH, of_us, people_at
from cabassist.language.calculation_rates import KM_L_IN_MPG, PER, a_flush, article, counted_off, rate, to_a_litre
from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import COUNTS, LETTERS, TEMPERATURE_SCALES, unit_phrases
from cabassist.language.numbers import ONES, TEENS, TENS, Number, Word, number_at, pieces

__all__ = ["MARKS", "Amount", "amounts_among", "merged", "unmended"]

_MOST_BAGS = 1000
_SOLD_BY = frozenset("gallon gal pound lb kilo kg litre liter".split())
_ARTICLE_WORDS = frozenset("gallon pound kilo kilogram litre liter cup quart pint".split())
"""Of these "point two a" is a part, not so many of them in each."""


_PRONOUN_BEFORE = frozenset(
    "which the this that other outside inside first second last each no any every right left good new old big small fresh waste"
    " black clean dirty spare full another rear front".split()
)


_COUNTING = frozenset({*ONES, *TEENS, *TENS}) - {"oh", "o"}
_SIDES_OF = frozenset("left right front rear outside inside other".split())
_POINTS = frozenset(
    "cloud set freezing boiling dew pour what this that melting dump drain drop fuel water check meeting rest service way view".split()
)
"""Before "point" these make it no decimal point: "cloud point twelve"."""


_OF_A_CUP = frozenset("whole full measuring level heaping heaped kitchen big good entire".split())
_CUPS = frozenset("cup cupful capful tablespoon teaspoon tbsp tsp".split())
"""Measures that are said to be whole, or what they are for."""
MARKS = {"(": "", ")": "", "?": "", "!": "", '"': "", "“": "", "”": "", ";": ",", ":": ",", "…": ","}


def unmended(words: list[Word], i: int, text: str) -> Word:
    """ "convert pounds to gallons", "draw for hours on end": a "to" or "for" is no number in a question."""
    said = text[words[i].start : words[i].end].lower()
    before = words[i - 1].text if i else ""
    if (
        said in ("to", "for", "too")
        and words[i].text != said
        and before not in ("at", "is", "about", "only", "just", "got", "been")
    ):
        return words[i]._replace(text=said)
    if (
        said.endswith("eight")
        and words[i].text == "eighth"
        and i + 1 < len(words)
        and (words[i + 1].text in unit_phrases() or words[i + 1].text in ("gage", "hundred", "thousand"))
    ):
        return words[i]._replace(text="eight")
    if said == "have" and words[i].text == "half" and (i + 1 == len(words) or words[i + 1].text in (",", "?", "of")):
        return words[i]._replace(text=said)
    return words[i]


def amounts_among(words: list[Word], texts: list[str]) -> list[Amount]:
    """Every amount of a text, in order."""
    found: list[Amount] = []
    i = 0
    while i < len(texts):
        if (texts[i] == "point" and i and texts[i - 1] in _POINTS) or _ordinal(texts, i):
            i += 1
            continue
        made = (
            _tread(texts, i)
            or _wire(texts, i)
            or clock_written(texts, i)
            or _number(words, texts, i)
            or article(texts, i, found)
            or counted_off(texts, i)
        )
        if made is None:
            i += 1
            continue
        made = _in_dollars(made, texts)
        thing = made.end + (texts[made.end : made.end + 1] != [] and texts[made.end] in _LOOKS)
        beside = made.unit == "n" and not made.per and texts[thing : thing + 1] and texts[thing] in _OTHER_THINGS
        if beside and not _stops_of_a_length(made, texts):
            i = made.end  # "2 buses ahead of me", "40 pages": nothing that a sum is about
            continue
        if made.unit == "n" and _labelled(words, texts, made.end):
            i = made.end + 1  # "bunk 2B"
            continue
        if made.unit == "clock" and made.value == 24:
            made = made._replace(value=0.0)
        counted = split_count(made, texts)
        found += counted
        i = counted[-1].end
    return found


_OTHER_THINGS = frozenset(
    "bus buses stop stops game games room rooms page pages bucks dollars cities towns seats teams rinks cars trucks hotels periods goals goalies coffees pizzas sandwiches wins losses"
    " states arenas schools doors windows lanes songs movies tickets".split()
)
_LOOKS = frozenset("blue red white black green yellow grey gray silver old new big little".split())
"""Between a number and a thing of which no sum is: "two blue trucks"."""
_DOLLARS = frozenset({"dollars", "dollar", "bucks"})
_A_DOLLAR = 100.0
"""Cents in one."""
_LASTS = frozenset({"of", "at", "@", "x", "lasting", "averaging"})
_CLOCKED = frozenset("minute minutes min mins hour hours hr hrs".split())
_WHOLE = frozenset("full whole straight more further".split())
_DAYS = frozenset({*_CLOCKED, "day", "days", "nights", "night"})
_STRAIGHT = frozenset("full solid straight whole clear good long consecutive".split())
"""Between a number and its hours these tell no more: "two full hours"."""


def _in_dollars(amount: Amount, texts: list[str]) -> Amount:
    """ "3 dollars a gallon" as "$3 a gallon": the word for the money belongs to the price."""
    bare = amount.unit == "n" and not amount.per and not amount.each
    if bare and texts[amount.end : amount.end + 1] and texts[amount.end] in _DOLLARS and amount.value % 1 == 0:
        cents = number_at(texts, amount.end + 1) if amount.end + 1 < len(texts) else None
        sold = texts[cents.end : cents.end + 2] if cents is not None else []
        told = cents is not None and 0 < cents.value < _A_DOLLAR and cents.value % 1 == 0 and cents.kind != "fraction"
        if (
            cents is not None
            and told
            and len(sold) == 2
            and sold[0] in ("a", "per", "the", "/")
            and sold[1] in _SOLD_BY
        ):
            return amount._replace(
                value=amount.value + cents.value / _A_DOLLAR, end=cents.end
            )  # "four dollars twenty a gallon"
    priced = texts[amount.end + 1 : amount.end + 2] in (["a"], ["per"], ["/"]) and texts[amount.end] in _DOLLARS
    sold = texts[amount.end + 2 : amount.end + 3]
    return amount._replace(end=amount.end + 1) if bare and priced and sold and sold[0] in _SOLD_BY else amount


def _labelled(words: list[Word], texts: list[str], end: int) -> bool:
    """Whether a letter behind a number makes it a name, as of "bunk 2B"; "2x 6V" counts."""
    if end >= len(texts) or not words[end].glued or texts[end] not in _LABELS:
        return False
    return texts[end] != "x" or end + 1 == len(texts) or number_at(texts, end + 1) is None


def _stops_of_a_length(amount: Amount, texts: list[str]) -> bool:
    """ "Three stops of 20 minutes", "2 stops, half an hour each": how many there are is of the sum."""
    if texts[amount.end] != "stops":
        return False
    lasts = texts[amount.end + 1 : amount.end + 2] and texts[amount.end + 1] in _LASTS
    at = amount.end + (2 if lasts or texts[amount.end + 1 : amount.end + 2] in ([","], ["for"]) else 1)
    at += texts[at : at + 1] in (["about"], ["around"], ["roughly"])
    length = number_at(texts, at) if at < len(texts) else None
    behind = length.end if length is not None else at
    behind += texts[behind : behind + 1] in (["a"], ["an"])
    if behind == at or behind >= len(texts) or texts[behind] not in _CLOCKED:
        return False
    return bool(lasts) or texts[behind + 1 : behind + 2] in (["each"], ["apiece"])


_LABELS = frozenset("bdeijopqrtuxyz")
_ORDINALS = frozenset("third fourth fifth sixth seventh eighth ninth tenth".split())
_COUNTED_OFF = frozenset(
    "night day week hour city town game stop trip time period driver leg run season tournament bottle cylinder furnace rink hotel arena morning evening shift coffee".split()
)


def _ordinal(texts: list[str], i: int) -> bool:
    """ "our third night out", "the fourth city": which one it is, no share of anything."""
    before = texts[i - 1] if i else ""
    dated = texts[max(0, i - 2) : i] in (["on", "the"], ["since", "the"], ["by", "the"], ["until", "the"])
    if texts[i] in _ORDINALS and dated and texts[i + 1 : i + 2] not in (["of"], ["part"]):
        return True  # "on the ninth"
    counted = texts[i] in _ORDINALS and texts[i + 1 : i + 2] and texts[i + 1] in _COUNTED_OFF
    return bool(counted) and before not in ("a", "one") and number_at([before], 0) is None


def _tread(texts: list[str], i: int) -> Amount | None:
    """ "three thirty seconds", "4/32", "5 32nds"."""
    joined = " ".join(texts[i : i + 7])
    match = re.match(r"(\w+) (?:(?:thirty|30) (?:seconds?|2nds?|2)\b|/ 32(?: nds)?|32 ?nds?)(?: of an inch)?", joined)
    if not match:
        return None
    number = number_at(texts[i : i + 1], 0)
    if number is None or not 0 < number.value < 33 or number.value % 1:
        return None
    if "thirty" in match[0] and not re.search(
        r" of an inch\b|\btread|\bsteer|\bdrive|\btag|\btire|\btyre|\bfront|\brear|\bdual|\bgroove|\blegal|\bpass|\bmm\b",
        " ".join(texts),
    ):
        return None
    return Amount(number.value, "32nds", start=i, end=i + len(match[0].split()))


def _wire(texts: list[str], i: int) -> Amount | None:
    """ "14/3" of a cord, "number ten wire", "#12"."""
    match = re.fullmatch(r"(18|16|14|12|10|8|6)/[234]", texts[i])
    if match:
        return Amount(float(match[1]), "awg", start=i, end=i + 1)
    before = texts[i - 1] if i else ""
    if before == "#" or (before == "number" and " ".join(texts[i + 1 : i + 2]) in ("wire", "cord", "cable")):
        number = number_at(texts, i)
        if number and number.value in (18, 16, 14, 12, 10, 8, 6, 4, 2):
            return Amount(number.value, "awg", start=i, end=number.end)
    return None


_SINGULAR = frozenset("gallon gal liter litre pound lb amp watt btu volt inch".split())
"""Units said of one, as before a noun: "the forty pound bottle"."""
_ONCE = frozenset({"bath", "bucket", "wash", "rinse"})
"""Of these "one" is no amount of a sum: "everybody gets one bucket bath of two gallons"."""
_ONE_DOES = frozenset({"gives", "puts"})
"""Behind "one" these make it a word for a thing: "one gives three, the other four"."""
_HELD_BY = frozenset("shower bath jug can bucket pail pot flush container bottle tank bag".split())


def _part_follows(texts: list[str], i: int) -> bool:
    number = number_at(texts, i) if i < len(texts) else None
    return number is not None and number.kind == "fraction"


def _a_price(texts: list[str], number: Number) -> Number:
    """ "Three ninety nine a gallon" as 3.99: nothing else comes so many hundred in a gallon, said in two pieces."""
    said = pieces(texts[number.start : number.end]) if number.kind == "pieces" else ()
    priced = [len(one) for one in said] == [1, 2] and texts[number.end : number.end + 1] in (["a"], ["per"])
    if priced and texts[number.end + 1 : number.end + 2] and texts[number.end + 1] in _ARTICLE_WORDS:
        return number._replace(value=number.value / 100, kind="decimal")
    return number


def _which_one(texts: list[str], amount: Amount) -> bool:
    """ "How much less does the short one drop": which one it is, and what it does."""
    i = amount.start
    told = {"the", "that", "this", "which", "each"} & {*texts[max(0, i - 4) : i]}
    return amount.unit == "drop" and texts[i : amount.end] == ["one", "drop"] and bool(told)


def _first_of_two(texts: list[str], number: Number) -> Number:
    """The hour of "at seven and a third at one pm"; the size in "one two gallon shower"."""
    i = number.start
    if number.kind == "mixed" and texts[i - 1 : i] == ["at"] and texts[number.end : number.end + 1] == ["at"]:
        if "and" in texts[i : number.end] and number_at(texts, number.end + 1 if number.end + 1 < len(texts) else i):
            hour = number_at(texts[: texts.index("and", i)], i)
            return hour if hour is not None and hour.value <= 12 else number
    following = texts[number.end : number.end + 2]
    if texts[i] == "one" and pieces(texts[i : number.end])[1:] and number.end == i + 2 and len(following) == 2:
        size = number_at(texts, i + 1)
        if size is not None and size.value < 10 and following[0] in _SINGULAR and following[1] in _HELD_BY:
            return size
    return number


_ASKED_TWO = frozenset(
    "readings numbers times mileages odometers temperatures pressures levels hours dates values figures".split()
)


def _known_already(texts: list[str], amount: Amount) -> bool:
    """ "Which of the two", "these two": things told before."""
    before, after = texts[max(0, amount.start - 2) : amount.start], texts[amount.end : amount.end + 1]
    cells = texts[amount.end : amount.end + 1] == ["cells"] and before in (["of", "the"], ["in", "all"], ["of", "its"])
    if cells or (texts[amount.end : amount.end + 1] == ["cells"] and before[-1:] == ["all"]):
        return True  # "in every one of the six cells"
    few = texts[amount.start] in ("two", "three", "four") and amount.end == amount.start + 1
    if few and before[-1:] in (["what"], ["which"]) and after and after[0] in _ASKED_TWO:
        return True  # "between what two readings"
    return few and before in (["of", "the"], ["of", "these"], ["of", "those"]) and after in ([], [","], ["."], ["is"], ["will"], ["lasts"], ["goes"])  # fmt: skip


def _number(words: list[Word], texts: list[str], i: int) -> Amount | None:
    number = number_at(texts, i)
    if number is None:
        return None
    before = texts[i - 1] if i else ""
    after = texts[number.end] if number.end < len(texts) else ""
    if re.fullmatch(r"st|nd|rd|th", after):
        return None
    if texts[i] == "one" and number.end > i + 1 and texts[i + 1][:1].isdigit():
        return None  # "one empty, one 70 %" names two things
    if after == "full" and "and" in texts[i + 1 : number.end]:  # "an eighty and a quarter full" are a size and a level
        whole = number_at(texts[: texts.index("and", i)], i)
        if whole is not None:
            number, after = whole, "and"
    written = re.fullmatch(r"(\d+)/(\d+)", texts[i])
    if written and number.value > 1:
        return None
    if texts[i] == "one" and number.kind != "fraction" and before in _PRONOUN_BEFORE and _part_follows(texts, i + 1):
        return None  # "the right one five eighths"
    if texts[i] == "one" and before in _SIDES_OF and texts[i - 2 : i - 1] == ["the"] and texts[i + 1 : i + 2] and texts[i + 1] in _COUNTING:  # fmt: skip
        return None  # "the left one twenty six"
    number = _first_of_two(texts, _a_price(texts, number))
    amount = _measured(words, texts, number)
    if (amount.unit == "n" and _known_already(texts, amount)) or _which_one(texts, amount):
        return None
    if amount.unit == "n" and texts[i] in ("one", "oh", "o") and number.end == i + 1:
        if (
            texts[i] != "one"
            or before in _PRONOUN_BEFORE
            or after in _ONCE
            or after in _ONE_DOES
            or after in ("of", "and")
            or (before == "in" and after in ("", ","))
        ):
            return None
    return amount


def _measured(words: list[Word], texts: list[str], number: Number) -> Amount:
    """The number with the unit and the rate that follow it."""
    i, end, value = number.start, number.end, number.value
    said = pieces(texts[i:end]) if number.kind == "pieces" else ()
    before = texts[i - 1] if i else ""
    share = number.kind == "fraction"
    small = number.kind == "decimal" and value < 1 and texts[end : end + 1]
    parted = share or bool(small and (texts[end] == "of" or (texts[end] == "a" and texts[end + 1 : end + 2] and texts[end + 1] in _ARTICLE_WORDS)))  # fmt: skip
    minus = before in ("minus", "negative") or texts[i].startswith("-")
    if parted and texts[end : end + 1] and texts[end] in ("a", "an", "of", "the"):  # "point six of a gallon"
        skip = end + (2 if texts[end] == "of" and texts[end + 1 : end + 2] in (["a"], ["an"]) else 1)
        unit = _unit_at(words, texts, skip)
        if unit and unit[1] not in ("cylinder", "furnace", "cord", "night", "shower", "percent"):
            return rate(texts, Amount(value, unit[1], start=i, end=unit[0]))
    unit = _unit_at(words, texts, end)
    if unit is None and texts[end : end + 1] and texts[end] in _STRAIGHT and texts[end + 1 : end + 2] and texts[end + 1] in (_DAYS if texts[end] in _WHOLE else _CLOCKED):  # fmt: skip
        unit = _unit_at(words, texts, end + 1)
    if share and unit and unit[1] in COUNTS and unit[1] != "deg":
        unit = None
    if (
        unit
        and unit[1] == "A"
        and texts[end] == "a"
        and texts[unit[0] : unit[0] + 1] in (["flush"], ["shower"], ["head"])
    ):
        unit = None  # "1.5 a flush" is no current
    if unit and unit[1] == "bag" and value >= _MOST_BAGS:
        unit = None  # "the limit's twenty thousand bags weigh fifty"
    if unit and minus and unit[1] in ("F", "C", "day", "night", "week"):
        unit = None
    if unit is None or unit[1] == "deg":
        degrees = unit is not None
        temp = temperature(texts, i, unit[0] if unit else end, value, minus, degrees, share)
        if temp:
            return temp
    if unit is None:
        if share:
            return Amount(value, "part", start=i, end=end)
        people = people_at(texts, end, value)
        if people:
            return Amount(value, "people", start=i, end=people)
        if texts[end : end + 3] == ["to", "the", "gallon"]:
            return Amount(value, "mi", "gallon", start=i, end=end + 3)
        if of_us(texts, i, end) and 1 < value <= 80 and value % 1 == 0:
            return Amount(value, "people", start=i, end=end)
        return rate(texts, a_flush(texts, Amount(value, "n", start=i, end=end, pieces=said)))
    end, name = unit
    if name in ("mi", "km") and texts[end : end + 3] in (["to", "the", "gallon"], ["to", "a", "gallon"]):
        return Amount(value, name, "gallon", start=i, end=end + 3)
    if name == "km" and (litre := to_a_litre(texts, end)):
        return Amount(value / KM_L_IN_MPG, "mpg", start=i, end=litre)
    if (
        name in ("mi", "km")
        and texts[end : end + 1]
        and texts[end] in ("wind", "winds", "gusts", "gust", "breeze", "blow", "gale")
    ):
        return Amount(value, name, "h", start=i, end=end)
    part = (
        number_at(texts, end + 1)
        if texts[end : end + 1] == ["and"] and end + 1 < len(texts) and value == int(value)
        else None
    )
    if (
        part is not None
        and part.kind == "fraction"
        and _unit_at(words, texts, part.end) is None
        and part.value in (0.25, 0.5, 0.75)
        and texts[part.end : part.end + 1] != ["full"]
    ):
        value, end = value + part.value, part.end
    singular = texts[end - 1] in _SINGULAR or texts[end - 1] in ("foot", "ft", "hour", "w", "v", "a", "l")
    noun = texts[end] if end < len(texts) else ""
    made = Amount(value, name, start=i, end=end, describes=singular and value > 1 and noun.isalpha(), pieces=said)
    if minus and name not in ("deg",):
        made = made._replace(value=-value)
    return rate(texts, made)


_SOME_MORE = frozenset({"gal", "L", "lb", "qt", "kg", "h", "min", "day", "night", "week", "mi", "km", "A", "Ah", "percent", "in"})  # fmt: skip


def _unit_at(words: list[Word], texts: list[str], i: int) -> tuple[int, str] | None:
    """The end and name of the unit that starts at a word."""
    if i >= len(texts):
        return None
    word = texts[i]
    if (
        i
        and word == "-"
        and words[i].glued
        and texts[i + 1 : i + 2]
        and texts[i + 1].isalpha()
        and len(texts[i + 1]) > 1
    ):
        return _unit_at(words, texts, i + 1)  # "a 40-lb bottle"
    if i and word in ("fluid", "us", "usable", "available", "spare", "extra") and texts[i + 1 : i + 2]:
        return _unit_at(words, texts, i + 1)
    if i and word in _OF_A_CUP and texts[i + 1 : i + 2] and texts[i + 1].removesuffix("s") in _CUPS:
        return _unit_at(words, texts, i + 1)  # "one whole cup", "two measuring cups"
    if i and word in ("more", "other", "additional") and texts[i + 1 : i + 2]:
        further = _unit_at(words, texts, i + 1)
        return further if further is not None and further[1] in _SOME_MORE else None
    for phrase, unit in unit_phrases().get(word, ()):
        if tuple(texts[i : i + len(phrase)]) == phrase:
            after = texts[i + len(phrase)] if i + len(phrase) < len(texts) else ""
            if unit == "s" and word == "second" and texts[i - 1] in ("a", "the", "1", "one"):
                return None
            if unit == "lb" and after in ("per", "of") and texts[i + 2 : i + 4] in (["square", "inch"],):
                return i + 4, "psi"
            if unit == "gal" and len(phrase) == 1 and word == "l" and not words[i].glued and not texts[i - 1].isdigit():
                return None
            return i + len(phrase), unit
    glued = words[i].glued or texts[i - 1][-1:].isdigit()
    after = texts[i + 1] if i + 1 < len(texts) else ""
    if word in TEMPERATURE_SCALES:
        return (i + 1, TEMPERATURE_SCALES[word])
    if word in LETTERS and glued:
        return i + 1, LETTERS[word]
    if (
        word == "a"
        and glued
        and (
            words[i].glued
            or (
                texts[i - 1][-1:].isdigit()
                and after not in PER
                and (after not in EACH or (after == "one" and texts[i - 2 : i - 1] in (["the"], ["that"])))
                and after not in _ARTICLE_WORDS
            )
        )
    ):
        return i + 1, "A"
    if word in ("h", "s") and glued:
        return None if _stamped(texts, i) else (i + 1, word)
    if word == "#" and texts[i - 1][-1:].isdigit() and not after[:1].isdigit():
        return i + 1, "lb"  # "a 30# bottle"
    if word == "m" and (
        words[i].glued
        or (texts[i - 1][-1:].isdigit() and (after in _METERS_END or after in _SIDES or _another_side(texts, i)))
    ):
        return i + 1, "m"
    if (
        word == "in"
        and glued
        and not _put_in(texts, i)
        and (words[i].glued or after in _INCHES_END or after in _SIDES or _another_side(texts, i))
    ):
        return i + 1, "in"
    return None


def _stamped(texts: list[str], i: int) -> bool:
    """Whether the letter belongs to a stamp of month and year: "05-19 S", "11/2017 s"."""
    month = texts[i - 3] if i >= 3 and texts[i - 2] in ("-", "/", "–") else ""
    return re.fullmatch(r"0?[1-9]|1[0-2]", month) is not None and re.fullmatch(r"\d\d|20\d\d", texts[i - 1]) is not None


_SIDES = frozenset("long wide deep high tall across thick dia diameter x ×".split())
"""Behind a length these tell which side of a thing it is."""
_METERS_END = frozenset({"", "in", "of", "is", "cord", "to", ","})
_INCHES_END = frozenset("in of down up from equals waste fresh at now mark / , .".split()) | {""}
_PUTS = frozenset("put putting poured pumped added".split())
_HOLDS = frozenset("has have had".split())
_DEEPEST_IN = 60.0


def _another_side(texts: list[str], i: int) -> bool:
    """Whether another length in the same unit follows: "50 in by 20 in", "from 17 in to 12 in"."""
    if i + 2 >= len(texts) or texts[i + 1] not in ("by", "to"):
        return False
    other = number_at(texts, i + 2)
    same = (
        ("in", "inch", "inches")
        if texts[i] == "in"
        else ("m", "meter", "meters", "metre", "metres", "cm", "centimeters")
    )
    return other is not None and other.end < len(texts) and texts[other.end] in same


def _put_in(texts: list[str], i: int) -> bool:
    """ "Fresh has 90 in", "I put 30 in": what was put in or is in it, no inches."""
    if texts[i + 1 : i + 2] not in ([], [","], ["."]) or i < 2:
        return False
    number = number_at(texts, i - 1)
    return texts[i - 2] in _PUTS or (texts[i - 2] in _HOLDS and number is not None and number.value > _DEEPEST_IN)
