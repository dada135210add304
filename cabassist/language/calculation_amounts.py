"""Amounts among words: a number, its unit, what it is a rate of, whether it is for each person."""

from __future__ import annotations

import re
from typing import NamedTuple

from cabassist.language.calculation_units import COUNTS, unit_phrases
from cabassist.language.lazy import Lazy
from cabassist.language.numbers import Number, Word, number_at, pieces


class Amount(NamedTuple):
    """A number with what it measures, as it stands among the words."""

    value: float
    unit: str
    """gal, L, percent, part (a fraction), F, C, temp (degrees, scale not said), n (bare), ..."""
    per: str = ""
    """min, s, h, day, deg or gallon when it is a rate."""
    each: bool = False
    """For each person."""
    start: int = 0
    end: int = 0
    describes: bool = False
    """Said in the singular before a noun: "the eighty gallon tank"."""
    pieces: tuple[str, ...] = ()

    @property
    def tag(self) -> str:
        """How it stands in the frame."""
        return f"{self.unit}{'/' + self.per if self.per else ''}{'/each' if self.each else ''}"


_PEOPLE = frozenset(
    "people persons person passengers passenger guys kids players riders aboard souls heads folks men women girls boys travelers"
    " travellers skaters bodies humans pax ppl peeps crew athletes teammates adults students occupants folk guests fellas lads sleepers coaches trainers staff chaperones parents".split()
)


_PEOPLE_PHRASES = (("on", "board"), ("of", "us"), ("of", "them"), ("on", "the", "coach"), ("on", "the", "bus"), ("with", "us"), ("hockey", "players"), ("breathing", "bodies"))  # fmt: skip


_EACH = frozenset("person head passenger man guy kid player soul body capita rider individual human one member".split())


_ARTICLE_UNITS = frozenset("gal L cup h min day mi in ft lb kg week floz qt pt tbsp tsp ton".split())
_MOST_BAGS = 1000
_ARTICLE_WORDS = frozenset("gallon pound kilo kilogram litre liter cup quart pint".split())
"""Of these "point two a" is a part, not so many of them in each."""
_PER = {
    "minute": "min", "min": "min", "second": "s", "sec": "s", "hour": "h", "hr": "h", "h": "h", "day": "day", "night": "day",
    "degree": "deg", "deg": "deg", "k": "degC", "kelvin": "degC", "c": "degC", "f": "degF", "gallon": "gallon", "gal": "gallon",
    "m": "min", "s": "s", "d": "day", "week": "week", "minutes": "min",
}  # fmt: skip


_LETTERS = {"v": "V", "w": "W", "f": "F", "c": "C", "g": "gal"}


_SCALES = {"f": "F", "fahrenheit": "F", "c": "C", "celsius": "C", "centigrade": "C", "celcius": "C"}


_NOT_BELOW = frozenset("the a an that full it sea my those this ground half ninety fifty forty deck".split())


_IT_DOES = frozenset("loses sheds is will needs takes drops gets falls".split())
"""After "six below it" these begin what the next clause says of it."""


_PRONOUN_BEFORE = frozenset(
    "which the this that other outside inside first second last each no any every right left good new old big small fresh waste"
    " black clean dirty spare full another rear front".split()
)


_POINTS = frozenset(
    "cloud set freezing boiling dew pour what this that melting dump drain drop fuel water check meeting rest service way view".split()
)
"""Before "point" these make it no decimal point: "cloud point twelve"."""


_COUNTED = re.compile(
    r"(?:heater|furnace|cord|load|bottle|cylinder|batterie|tank|shower|bulb|lamp|cable|extension|footer|pounder|circuit|breaker|outlet|stop|break)s"
)


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
            or _clock_written(texts, i)
            or _number(words, texts, i)
            or _article(texts, i, found)
        )
        if made is None:
            i += 1
            continue
        if made.unit == "n" and not made.per and texts[made.end : made.end + 1] and texts[made.end] in _OTHER_THINGS:
            i = made.end  # "2 buses ahead of me", "40 pages": nothing that a sum is about
            continue
        if made.unit == "n" and texts[made.end : made.end + 1] and words[made.end].glued and texts[made.end] in _LABELS:
            i = made.end + 1  # "bunk 2B"
            continue
        if made.unit == "clock" and made.value == 24:
            made = made._replace(value=0.0)
        counted = _split_count(made, texts)
        found += counted
        i = counted[-1].end
    return found


_OTHER_THINGS = frozenset(
    "bus buses stop stops game games room rooms page pages bucks dollars cities towns seats teams rinks cars trucks hotels periods goals goalies coffees pizzas sandwiches wins losses"
    " states arenas schools doors windows lanes songs movies tickets".split()
)
_LABELS = frozenset("bdeijopqrtuxyz")
_ORDINALS = frozenset("third fourth fifth sixth seventh eighth ninth tenth".split())
_COUNTED_OFF = frozenset(
    "night day week hour city town game stop trip time period driver leg run season tournament bottle cylinder furnace rink hotel arena morning evening shift coffee".split()
)


def _ordinal(texts: list[str], i: int) -> bool:
    """ "our third night out", "the fourth city": which one it is, no share of anything."""
    before = texts[i - 1] if i else ""
    counted = texts[i] in _ORDINALS and texts[i + 1 : i + 2] and texts[i + 1] in _COUNTED_OFF
    return bool(counted) and before not in ("a", "one") and number_at([before], 0) is None


def _tread(texts: list[str], i: int) -> Amount | None:
    """ "three thirty seconds", "4/32", "5 32nds"."""
    joined = " ".join(texts[i : i + 4])
    match = re.match(r"(\w+) (?:(?:thirty|30) (?:seconds?|2nds?|2)\b|/ 32(?: nds)?|32 ?nds?)(?: of an inch)?", joined)
    if not match:
        return None
    number = number_at(texts[i : i + 1], 0)
    if number is None or not 0 < number.value < 33 or number.value % 1:
        return None
    if "thirty" in match[0] and not re.search(
        r"\btread|\bsteer|\bdrive|\btag|\btire|\btyre|\bfront|\brear|\bdual|\bgroove|\blegal|\bpass|\bmm\b",
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


_DAYTIME = re.compile(
    r"(?:o'?clock )?(?P<am>am\b|in the morning|this morning|tomorrow morning)|(?:o'?clock )?(?P<pm>pm\b|(?:this|tomorrow|in the) (?:evening|afternoon)"
    r"|tonight|tonite|at night|last night|last nite|yesterday (?:evening|afternoon|night)|tomorrow night)|o'?clock"
)


_DAYTIME_BEFORE = re.compile(
    r"(?:last (?:night|nite|evening)|yesterday (?:evening|afternoon)|tonight|this (?:evening|afternoon)"
    r"|(?P<am>this morning|yesterday morning|tomorrow morning)) at$"
)
""" "last night at nine": the half of the day stands before the hour."""


_LEAVES = frozenset({"leaving", "leave", "departing", "depart", "departure", "starting", "by", "until", "till"})


def _clock_written(texts: list[str], i: int) -> Amount | None:
    """A time of day: "7:10", "8 am", "seven thirty tonight", "noon"."""
    if texts[i] in ("noon", "midday", "midnight"):
        return Amount(12.0 if texts[i] != "midnight" else 24.0, "clock", start=i, end=i + 1)
    if " ".join(texts[max(0, i - 1) : i]) in _LEAVES and re.fullmatch(r"(?:[01]?\d|2[0-3]) h [0-5]\d", " ".join(texts[i : i + 3])):  # fmt: skip
        return Amount(int(texts[i]) + int(texts[i + 2]) / 60, "clock", start=i, end=i + 3)  # "leaving 13 h 30"
    written = re.fullmatch(r"(\d{1,2}):(\d{2})", texts[i]) or _by_24_hours(texts, i)
    if written:
        hour, end, known = int(written[1]) + int(written[2]) / 60, i + 1, False
    else:
        number = number_at(texts, i)
        if number is None or number.kind not in ("integer", "pieces"):
            return _past(texts, i, number)
        past = _past(texts, i, number)
        if past is not None:
            return past
        hour, end, known = number.value, number.end, False
        if hour > 24:
            if not (100 <= hour < 2400 and hour % 100 < 60):
                return None
            hour = hour // 100 + hour % 100 / 60
    match = _DAYTIME.match(" ".join(texts[end : end + 4]))
    noon_said = match is not None and match[0].startswith(("am", "pm"))
    # by 24 hours: "0600 tonight" is past midnight
    if written and not noon_said and (written[1][0] == "0" or written[0].isdigit()):
        end += len(match[0].split()) if match else 0
        return Amount(hour, "clock", start=i, end=end) if hour < 24 else None
    degrees = texts[end : end + 1] and texts[end] in ("below", "above", "degrees", "under")
    told = None if match or degrees else _DAYTIME_BEFORE.search(" ".join(texts[max(0, i - 3) : i]))
    if told is not None and 1 <= hour < 13 and not (texts[end : end + 1] and _measures(texts[end])):
        return Amount(hour % 12 + (0 if told["am"] else 12), "clock", start=i, end=end)
    if match is None and not written:
        return None
    if (
        not written
        and i
        and (
            texts[i - 1] in ("minus", "negative", "hit", "hits", "low", "lows")
            or texts[max(0, i - 2) : i] == ["low", "of"]
        )
    ):
        return None  # "minus ten tonight" is a forecast
    if (
        texts[max(0, i - 2) : i] in (["going", "to"], ["down", "to"], ["drops", "to"], ["hits", "about"])
        and not written
    ):
        return None  # "it's going to five tonight" is a forecast
    if match:
        end += len(match[0].split())
        known = bool(match["am"] or match["pm"])
        if match["pm"] and hour < 12 and not (match["pm"] in ("tonight", "at night", "last night") and hour < 4):
            hour += 12
        if match["am"] and hour >= 12:
            hour -= 12
    if hour >= 24:
        return None
    return Amount(hour, "clock", start=i, end=end, pieces=() if known else ("?",))


_AT_A_TIME = frozenset("at @ by till until since from it around about before after now".split())
_TO_A_TIME = frozenset("make to and do last through - – reach is , .".split())
"""Before four figures these make them a time of day only where another one is told."""
_NO_TIMES = Lazy(
    r"\b(?:watts?|w|amps?|heaters?|furnaces?|btus?|rpm|ppm|axles?|bags?|limit|cca|cranks?|odometer|scales?|ft|feet|altitude|elevation)\b"
)


def _by_24_hours(texts: list[str], i: int) -> re.Match[str] | None:
    """ "at 1420": four figures without a unit, where nothing is told that comes in thousands."""
    written = re.fullmatch(r"(1\d|2[0-3])([0-5]\d)", texts[i])
    if written is None or not i or (texts[i + 1 : i + 2] and _measures(texts[i + 1])):
        return None
    others = any(re.fullmatch(r"\d{1,2}:\d{2}|[12]\d{3}", text) for k, text in enumerate(texts) if k != i)
    if written[0] < "2040" and texts[i - 1] not in ("at", "@", "till", "until") and not others and written[0] > "1940":
        return None  # "since 2009"
    timed = texts[i - 1] in _AT_A_TIME or (others and texts[i - 1] in _TO_A_TIME)
    return written if timed and not _NO_TIMES.search(" ".join(texts)) else None


def _measures(word: str) -> bool:
    """Whether a word behind a number makes it an amount: its unit, or "a" of "six a minute"."""
    return word in unit_phrases() or word in _LETTERS or word in ("a", "an", "per", "%", "/")


_AT_AN_HOUR = frozenset({"it", "at", "until", "till", "by", "since", "around", "before", "about"})
"""Before "ten to nine" these make it a time of day, not a span or a score."""


def _past(texts: list[str], i: int, number: Number | None) -> Amount | None:
    """ "ten past nine", "quarter to six", "half past eight"."""
    if number is None or number.end + 1 >= len(texts) or texts[number.end] not in ("past", "after", "to", "till"):
        return None
    share = {0.25: 15.0, 0.5: 30.0}.get(number.value) if number.kind == "fraction" else number.value
    # only the next word: "quarter to seven two hundred forty miles" tells an hour and a distance
    hour = number_at(texts[: number.end + 2], number.end + 1)
    if share is None or hour is None or hour.kind != "integer" or not (0 < hour.value <= 12 and 0 < share < 60):
        return None
    if texts[number.end] in ("to", "till", "after") and number.kind != "fraction":
        before = texts[i - 1] if i else ""
        if before not in _AT_AN_HOUR or share not in (5, 10, 20, 25) or not texts[number.end + 1].isalpha():
            return None
    value = (hour.value + (share if texts[number.end] in ("past", "after") else -share) / 60) % 24
    match = _DAYTIME.match(" ".join(texts[hour.end : hour.end + 4]))
    end = hour.end + (len(match[0].split()) if match else 0)
    if match and match["pm"] and value < 12:
        value += 12
    return Amount(value, "clock", start=i, end=end, pieces=() if match and (match["am"] or match["pm"]) else ("?",))


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
    amount = _measured(words, texts, number)
    if amount.unit == "n" and texts[i] in ("one", "oh", "o") and number.end == i + 1:
        if (
            texts[i] != "one"
            or before in _PRONOUN_BEFORE
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
            return _rate(texts, Amount(value, unit[1], start=i, end=unit[0]))
    unit = _unit_at(words, texts, end)
    if share and unit and unit[1] in COUNTS and unit[1] != "deg":
        unit = None
    if unit and unit[1] == "bag" and value >= _MOST_BAGS:
        unit = None  # "the limit's twenty thousand bags weigh fifty"
    if unit and minus and unit[1] in ("F", "C", "day", "night", "week"):
        unit = None
    if unit is None or unit[1] == "deg":
        degrees = unit is not None
        temp = _temperature(texts, i, unit[0] if unit else end, value, minus, degrees, share)
        if temp:
            return temp
    if unit is None:
        if share:
            return Amount(value, "part", start=i, end=end)
        people = _people_at(texts, end)
        if people:
            return Amount(value, "people", start=i, end=people)
        if texts[end : end + 3] == ["to", "the", "gallon"]:
            return Amount(value, "mi", "gallon", start=i, end=end + 3)
        if _of_us(texts, i, end) and 1 < value <= 80 and value % 1 == 0:
            return Amount(value, "people", start=i, end=end)
        return _rate(texts, Amount(value, "n", start=i, end=end, pieces=said))
    end, name = unit
    if name in ("mi", "km") and texts[end : end + 3] in (["to", "the", "gallon"], ["to", "a", "gallon"]):
        return Amount(value, name, "gallon", start=i, end=end + 3)
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
    singular = texts[end - 1] in (
        "gallon",
        "gal",
        "liter",
        "litre",
        "pound",
        "lb",
        "foot",
        "ft",
        "amp",
        "watt",
        "btu",
        "volt",
        "inch",
        "hour",
        "w",
        "v",
        "a",
        "l",
    )
    noun = texts[end] if end < len(texts) else ""
    made = Amount(value, name, start=i, end=end, describes=singular and value > 1 and noun.isalpha(), pieces=said)
    if minus and name not in ("deg",):
        made = made._replace(value=-value)
    return _rate(texts, made)


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
    if i and word in ("more", "other", "additional") and texts[i + 1 : i + 2]:
        further = _unit_at(words, texts, i + 1)
        return further if further is not None and further[1] in ("gal", "L", "lb", "qt") else None
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
    if word in _SCALES:
        return (i + 1, _SCALES[word])
    if word in _LETTERS and glued:
        return i + 1, _LETTERS[word]
    if (
        word == "a"
        and glued
        and (words[i].glued or (texts[i - 1][-1:].isdigit() and after not in _PER and after not in _EACH))
    ):
        return i + 1, "A"
    if word in ("h", "s") and glued:
        return i + 1, word
    if word == "m" and (
        words[i].glued or (texts[i - 1][-1:].isdigit() and after in ("", "in", "of", "is", "cord", "to", ","))
    ):
        return i + 1, "m"
    if (
        word == "in"
        and glued
        and (
            words[i].glued
            or after
            in (
                "in",
                "of",
                "deep",
                "down",
                "up",
                "from",
                "high",
                "long",
                "wide",
                "tall",
                "equals",
                "waste",
                "fresh",
                "at",
                "now",
                "mark",
                "/",
                ",",
                ".",
                "",
            )
        )
    ):
        return i + 1, "in"
    return None


def _temperature(
    texts: list[str], i: int, end: int, value: float, minus: bool, degrees: bool, share: bool
) -> Amount | None:
    """A temperature: "ten below f", "minus twelve", "sixty degrees", "zero out"."""
    unit, known = "temp", degrees or minus

    def scale(at: int) -> tuple[str, int]:
        return (_SCALES[texts[at]], at + 1) if at < len(texts) and texts[at] in _SCALES else ("temp", at)

    unit, end = scale(end)
    known = known or unit != "temp"
    word = texts[end] if end < len(texts) else ""
    after = texts[end + 1] if end + 1 < len(texts) else ""
    verb = texts[end + 2] if after == "it" and end + 2 < len(texts) else ""
    dated = after == "this" and texts[end + 2 : end + 3] in (["morning"], ["evening"], ["afternoon"], ["week"])
    if word in ("below", "under", "above") and (
        after not in _NOT_BELOW or after == "zero" or verb in _IT_DOES or dated
    ):
        if after in ("zero", "0", "freezing"):
            if after == "freezing":
                off = value if word == "above" else -value
                cold = unit == "C"
                return Amount(off if cold else 32 + off, unit if unit != "temp" else "F", start=i, end=end + 2)
            value, end, known = (value if word == "above" else -value), end + 2, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
        elif (
            word != "under"
            and not share
            and not re.fullmatch(
                r"\d+|[a-z]*(?:teen|ty|hundred)|one|two|three|four|five|six|seven|eight|nine|ten", after
            )
        ):
            value, end, known = (value if word == "above" else -value), end + 1, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
    elif (
        word in ("out", "outside", "outdoors")
        and not share
        and value == int(value)
        and after not in ("of", "a", "put", "at")
        and not known
    ):
        known = True
    if not known or share:
        return None
    if minus and value > 0:
        value = -value
    start = i - 1 if i and texts[i - 1] in ("minus", "negative") else i
    return Amount(value, unit, start=start, end=end)


def _of_us(texts: list[str], i: int, end: int) -> bool:
    """ "If we're thirty and each uses": who is aboard, though no word for people follows; "were" as a recogniser writes it."""
    said, after = texts[max(0, i - 3) : i], texts[end : end + 1]
    ours = said[-2:] == ["we", "are"] or said[-3:-1] == ["we", "'"] or (said[-1:] == ["were"] and said[-2:-1] in (["if"], ["when"], ["since"], ["because"], ["and"], ["now"], ["that"], ["so"], [","]))  # fmt: skip
    return ours and after in ([], ["and"], [","], ["."], ["with"], ["who"], ["each"], ["so"], ["using"], ["now"])


def _people_at(texts: list[str], i: int) -> int:
    """The end of the words for people at a place, or 0."""
    if (
        texts[i : i + 2] == ["of", "them"]
        and texts[i + 2 : i + 3]
        and re.match(r"driv|behind|was|were|off|rest|full|on|half|empty|spent", texts[i + 2])
    ):
        return 0
    for phrase in _PEOPLE_PHRASES:
        if tuple(texts[i : i + len(phrase)]) == phrase:
            return i + len(phrase)
    if texts[i : i + 1] and texts[i] in _PEOPLE:
        return i + 2 if texts[i + 1 : i + 2] == ["aboard"] else i + 1
    return 0


def _rate(texts: list[str], amount: Amount) -> Amount:
    """The amount with "a minute", "per person", "each" and the like taken in."""
    end, per, each = amount.end, amount.per, amount.each
    while end < len(texts):
        word = texts[end]
        after = texts[end + 1] if end + 1 < len(texts) else ""
        if (
            word == "of"
            and not per
            and texts[end + 2 : end + 3]
            and texts[end + 2] in ("a", "an", "per", "every", "each", "apiece")
            and texts[end + 3 : end + 4]
            and texts[end + 3] in ("day", "hour", "minute", "night", "a", "per")
        ):
            end += 2
            continue
        if (
            word in ("used", "water", "each", "in")
            and not per
            and not each
            and texts[end + 1 : end + 2] == ["each"]
            and texts[end + 2 : end + 4] in (["a", "day"], ["per", "day"], ["an", "hour"], ["every", "day"])
        ):
            end += 1
            continue
        if word in ("each", "apiece") and amount.unit in ("BTU", "BTU/h", "W", "kW", "lb", "ft", "A"):
            break
        if word in ("each", "apiece") and after not in _PER and after not in _EACH:
            each, end = True, end + 1
        elif word == "daily":
            per, end = "day", end + 1
        elif word == "hourly":
            per, end = "h", end + 1
        elif word in ("a", "an", "per", "each", "every", "/") and after in _EACH and not each:
            each, end = True, end + 2
        elif (
            word in ("a", "an", "per", "each", "every", "/")
            and after in _PER
            and not per
            and not (_PER[after] == "gallon" and amount.unit not in ("mi", "km"))
        ):
            if len(after) == 1 and word != "/":
                break
            if amount.unit in ("h", "min", "day", "s") and _PER[after] != "day":
                break
            per, end = _PER[after], end + 2
            if per == "deg" and end < len(texts) and texts[end] in _SCALES:
                per, end = f"deg{_SCALES[texts[end]]}", end + 1
        elif (
            word in ("a", "an", "per", "every", "in", "in a")
            and texts[end + 1 : end + 3] in (["24", "hours"], ["twenty", "four"])
            and not per
        ):
            per, end = "day", end + (4 if after == "twenty" and texts[end + 3 : end + 4] == ["hours"] else 3)
        else:
            break
    return amount._replace(per=per, each=each, end=end)


_LASTING = frozenset("in after for within about of takes took lasts is only another".split())


def _asked_rate(texts: list[str], i: int, end: int) -> bool:
    """ "What is it making an hour": the end of the question tells what the number is to be of, no time."""
    if texts[end : end + 1] and texts[end] not in (".", "?", ",", "if", "is", "was", "does", "when"):
        return False
    asked = [k for k in range(max(0, i - 8), i) if texts[k] in ("what", "how")]
    return bool(asked) and not any(number_at(texts, k) for k in range(asked[-1], i))


_SPENDS = frozenset("use burn spend have get draw drink eat".split())


def _article(texts: list[str], i: int, found: list[Amount]) -> Amount | None:
    """ "a gallon takes thirty seconds", "an hour and a half"."""
    if texts[i] not in ("a", "an") or i + 1 >= len(texts) or (found and found[-1].end > i):
        return None
    for phrase, unit in unit_phrases().get(texts[i + 1], ()):
        end = i + 1 + len(phrase)
        before = texts[i - 1] if i else ""
        if unit not in _ARTICLE_UNITS or tuple(texts[i + 1 : end]) != phrase or texts[i + 1].endswith("s"):
            continue
        if unit in ("h", "day", "min", "week") and before in _SPENDS:
            return None  # "the most we may burn an hour"
        if unit in ("h", "day", "min") and texts[max(0, i - 2) : i] in (["put", "in"], ["puts", "in"], ["goes", "in"], ["go", "in"], ["comes", "in"]):  # fmt: skip
            return None  # "what can they put in an hour"
        if unit in ("h", "day", "min") and texts[max(0, i - 2) : i] in (
            ["is", "that"],
            ["s", "that"],
            ["what", "that"],
        ):
            return None  # "what is that a minute"
        if unit in ("h", "day", "min") and before not in _LASTING and _asked_rate(texts, i, end):
            return None
        if before in unit_phrases() or before in ("times", "much", "psi", "many", "it", "pays", "drops", "%"):
            return None
        value = 1.0
        part = number_at(texts, end + 1) if texts[end : end + 1] == ["and"] and end + 1 < len(texts) else None
        if part is not None and part.kind == "fraction":
            value, end = 1 + part.value, part.end
        return _rate(texts, Amount(value, unit, start=i, end=end))
    return None


_LONG_MIN, _LONG_H = 600.0, 100.0


_OF_THINGS = frozenset({"lb", "kg", "gal", "L", "W", "BTU", "BTU/h", "ft"})
_A_SCORE = 20


def _split_count(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "two fifty foot cords" as two of fifty feet; "one thirty five thousand BTU furnace" as one of 35,000."""
    if len(amount.pieces) > 1 and amount.value > {"min": _LONG_MIN, "h": _LONG_H}.get(amount.unit, amount.value):
        return _in_a_row(amount, texts)
    if (
        amount.unit in _OF_THINGS
        and texts[amount.start].isalpha()
        and texts[amount.start + 1 : amount.start + 2]
        and texts[amount.start + 1].isdigit()
    ):
        spelt, digits = (
            number_at(texts[: amount.start + 1], amount.start),
            number_at(texts[: amount.end], amount.start + 1),
        )
        if (
            spelt is not None
            and digits is not None
            and amount.value != digits.value
            and (spelt.value < _A_SCORE or amount.unit in ("lb", "kg"))
        ):  # "twelve 50 pound bags"
            return [Amount(spelt.value, "n", start=amount.start, end=amount.start + 1), amount._replace(value=digits.value, start=amount.start + 1, pieces=())]  # fmt: skip
    near = [w for w in texts[amount.end : amount.end + 4] if w.isalpha()]
    noun = next((w for w in near if _COUNTED.fullmatch(w)), near[0] if near else "")
    one = (
        noun
        in (
            "furnace",
            "cylinder",
            "bottle",
            "circuit",
            "breaker",
            "outlet",
            "receptacle",
            "plug",
            "stop",
            "break",
            "halt",
            "layover",
        )
        and texts[amount.start] == "one"
    )
    if texts[amount.end - 1] == "pounder":
        one = texts[amount.start] == "one"  # "one forty pounder" has no 140 pounds
    if _COUNTED.fullmatch(texts[amount.end - 1]):
        noun = texts[amount.end - 1]  # "two forty pounders", "two 40k furnaces"
    many = _COUNTED.fullmatch(noun) is not None or one
    kinds = ("ft", "lb", "W", "BTU", "m", "min", "Ah", "V", "BTU/h", "A", "furnace", "heater")
    if (
        not many
        or amount.unit not in kinds
        or texts[amount.start] not in ("one", "two", "three", "four", "five", "six", "2", "3", "4")
    ):
        return [amount]
    if texts[amount.start + 1 : amount.start + 2] in (["hundred"], ["thousand"]):
        return [amount]  # "six hundred watt heaters" are not six of a hundred
    rest = number_at(texts, amount.start + 1) if amount.start + 1 < amount.end else None
    count = number_at(texts[amount.start : amount.start + 1], 0)
    if rest is None or count is None or rest.end > amount.end - 1 or rest.value < 5:
        return [amount]
    first = Amount(count.value, "n", start=amount.start, end=amount.start + 1)
    unit = "BTU" if amount.unit in ("furnace", "heater") else amount.unit  # "two 40k furnaces"
    if unit != amount.unit and rest.value < 1000:
        return [amount]
    return [first, amount._replace(value=rest.value, unit=unit, start=amount.start + 1, pieces=())]


def _in_a_row(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "Averaging fifty two forty minutes of stops" as 52 and 40 minutes: no trip takes 5,240."""
    for at in range(amount.start + 1, amount.end):
        first, last = number_at(texts[:at], amount.start), number_at(texts[: amount.end], at)
        if first is None or last is None or (first.end, last.value) != (at, float(amount.pieces[-1])):
            continue
        return [Amount(first.value, "n", start=amount.start, end=at), amount._replace(value=last.value, start=at, pieces=())]  # fmt: skip
    return [amount]


def _minutes_alone(hours: Amount, amount: Amount, texts: list[str], joined: bool) -> bool:
    """Whether a bare number behind hours tells their minutes: "nine hours fifteen so far", "2 hours 20 to the arena"."""
    bare = amount.unit == "n" and not amount.per and not amount.each and amount.value % 5 == 0 and 0 < amount.value < 60
    after = texts[amount.end : amount.end + 1]
    return bare and hours.unit == "h" and not hours.per and hours.value % 1 == 0 and (hours.end == amount.start or (joined and after[:1] == ["off"])) and (not after or after[0] in _MINUTES_END)  # fmt: skip


def _inches_alone(feet: Amount, amount: Amount, texts: list[str]) -> bool:
    """Whether a bare number behind feet tells their inches: "13 foot 2 tall"."""
    bare = amount.unit == "n" and not amount.per and not amount.each and amount.value % 1 == 0 and 0 < amount.value < 12
    after = texts[amount.end : amount.end + 1]
    into = after == ["in"] and texts[amount.end + 1 : amount.end + 2] and texts[amount.end + 1] in unit_phrases()
    return (
        bare
        and feet.unit == "ft"
        and not feet.per
        and feet.end == amount.start
        and (not after or after[0] in _INCHES_END or bool(into))
    )


_SCALES_OF = frozenset("axle axles limit scale scales ticket gross steer steers drives".split())


def _thousands(last: Amount, amount: Amount, texts: list[str]) -> bool:
    """Whether a weight is said short: "eighteen four hundred" for 18,400."""
    bare = last.unit == "n" and not last.per and not last.each and 10 <= last.value <= 99 and last.value % 1 == 0
    spoken = texts[amount.start + 1 : amount.start + 2] == ["hundred"] and texts[last.start].isalpha()
    return (
        bare
        and spoken
        and bool(_SCALES_OF & {*texts})
        and amount.unit in ("n", "lb")
        and not amount.per
        and 100 <= amount.value < 1000
    )


_INCHES_END = frozenset(", . tall high wide long deep and is so overall do will can to".split())
_MINUTES_END = frozenset(
    ", . to of so at and now left driving driven already today behind since on from is before then for until till but with in away out off".split()
)


def merged(found: list[Amount], texts: list[str]) -> list[Amount]:
    """Hours and minutes, feet and inches, as one; a bare number before a rate's "each" gets it."""
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        between = texts[last.end : amount.start] if last else ["x"]
        if last and between in ([], [","]) and _thousands(last, amount, texts):
            out[-1] = amount._replace(value=1000 * last.value + amount.value, start=last.start)
            continue
        if last and between in ([], ["and"]):
            if _minutes_alone(last, amount, texts, bool(between)):
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("h", "min") and not (last.per or amount.per):
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
            if _inches_alone(last, amount, texts):
                out[-1] = last._replace(value=last.value + amount.value / 12, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("ft", "in") and not between and not last.per:
                out[-1] = last._replace(value=last.value + amount.value / 12, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("min", "s") and not last.per:
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
        out.append(_each_before(amount, texts, last))
    return out


_SHARED_OUT = re.compile(
    r"\b(?:each(?! (?:day|hour|night|minute|time))|apiece|per (?:person|head)|a (?:person|head|player)|every (?:person|passenger|player|kid|man)"
    r"|(?:everyone|everybody) (?:uses?|drinks?|puts?|gets?|takes?|needs?|goes))\b"
)


def _each_before(amount: Amount, texts: list[str], last: Amount | None) -> Amount:
    """ "each uses two gallons a day": the share is said before the amount."""
    if (
        amount.each
        or amount.unit not in ("gal", "L", "n", "flush", "qt", "cup")
        or texts[amount.end : amount.end + 1] == ["times"]
        or texts[max(0, amount.start - 2) : amount.start] == ["for", "each"]
    ):
        return amount
    said = texts[max(last.end if last else 0, amount.start - 7) : amount.start]
    shared = last is not None and last.unit != "people" and said[:1] in (["each"], ["apiece"])
    before = " ".join(said[1:] if shared else said)  # "38 lb each plus 6 more"
    if _SHARED_OUT.search(before) or (
        last and last.unit == "people" and re.fullmatch(r"(?:who )?each(?: \w+){0,2}", before)
    ):
        return amount._replace(each=True)
    after = " ".join(texts[amount.end : amount.end + 3])
    if amount.per and re.match(r"(?:by|for|from|in) (?:each|every|everybody|everyone)\b", after):
        return amount._replace(each=True)
    return amount
