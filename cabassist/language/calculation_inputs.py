"""The amounts in a calculation question, and the question's frame around them.

"how long to fill a hundred gallons at four and a half gallons a minute" becomes the amounts 100 gal and 4.5 gal/min and
the frame " how long to fill <gal> at <gal/min> ". What an amount is for is then told by patterns over the frame, in
which `{vol}`, `{flow}`, `{temp}` and the like stand for any amount of that kind. Pure: text in, amounts out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

from cabassist.language.numbers import Number, Word, number_at, pieces, words_of


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


_UNITS: dict[str, str] = {
    "gal": "gallon gallons gal gals galons galon",
    "L": "liter liters litre litres l ltr ltrs",
    "mL": "ml milliliter milliliters millilitre millilitres cc",
    "floz": "ounce ounces oz fluid_ounce fluid_ounces fl_oz",
    "cup": "cup cups cupful cupfuls",
    "tbsp": "tablespoon tablespoons tbsp",
    "tsp": "teaspoon teaspoons tsp",
    "qt": "quart quarts qt",
    "pt": "pint pints",
    "drop": "drop drops",
    "percent": "percent",
    "A": "amp amps ampere amperes",
    "Ah": "amp_hour amp_hours ah amphour amphours amp_hr amp_hrs ampere_hours",
    "V": "volt volts",
    "W": "watt watts",
    "kW": "kilowatt kilowatts kw",
    "Wh": "watt_hour watt_hours wh",
    "kWh": "kilowatt_hour kilowatt_hours kwh",
    "BTU": "btu btus b_t_u",
    "BTU/h": "btuh btu/h",
    "ft": "foot feet ft footer footers",
    "in": "inch inches inchs",
    "cm": "centimeter centimeters centimetre centimetres cm",
    "mm": "millimeter millimeters millimetre millimetres mm mil",
    "m": "meter meters metre metres",
    "yd": "yard yards",
    "mi": "mile miles",
    "km": "kilometer kilometers kilometre kilometres km kms klicks",
    "mph": "mph",
    "km/h": "kph kmh",
    "kn": "knots knot kts",
    "psi": "psi pounds_per_square_inch pounds_of_air pounds_of_pressure psig pounds_pressure",
    "kPa": "kpa kilopascal kilopascals",
    "bar": "bar bars",
    "lb": "pound pounds lb lbs pounder pounders",
    "kg": "kilo kilos kilogram kilograms kg kgs",
    "ton": "ton tons",
    "h": "hour hours hr hrs hour_s",
    "min": "minute minutes min mins",
    "s": "second seconds sec secs",
    "day": "day days",
    "night": "night nights",
    "week": "week weeks",
    "month": "month months",
    "year": "year years yrs",
    "awg": "gauge gage awg guage",
    "ppm": "ppm parts_per_million",
    "mg/L": "milligrams_per_liter milligrams_a_liter mg/l milligrams_per_litre milligrams_a_litre",
    "cfm": "cfm",
    "ohm": "ohm ohms",
    "lb-ft": "foot_pounds foot_pound ft_lb ft_lbs pound_feet lb_ft foot_lbs",
    "N·m": "newton_meters newton_metres newton_meter newton_metre nm",
    "mpg": "mpg",
    "gpm": "gpm",
    "gph": "gph",
    "deg": "degree degrees deg degs °",
    "furnace": "furnace furnaces",
    "cylinder": "cylinder cylinders bottle bottles",
    "shower": "shower showers",
    "flush": "flush flushes",
    "heater": "heater heaters",
    "driver": "driver drivers",
    "cord": "cord cords",
    "bag": "bag bags",
}
_PEOPLE = frozenset(
    "people persons person passengers passenger guys kids players riders aboard souls heads folks men women girls boys travelers"
    " travellers skaters bodies humans pax athletes teammates adults students occupants folk guests fellas lads".split()
)
_PEOPLE_PHRASES = (("on", "board"), ("of", "us"), ("of", "them"), ("on", "the", "coach"), ("on", "the", "bus"), ("with", "us"), ("hockey", "players"))  # fmt: skip
_EACH = frozenset("person head passenger man guy kid player soul body capita rider individual human one member".split())
_PER = {
    "minute": "min", "min": "min", "second": "s", "sec": "s", "hour": "h", "hr": "h", "h": "h", "day": "day", "night": "day",
    "degree": "deg", "deg": "deg", "k": "degC", "kelvin": "degC", "c": "degC", "f": "degF", "gallon": "gallon", "gal": "gallon",
    "m": "min", "s": "s", "d": "day", "week": "week", "minutes": "min",
}  # fmt: skip
_ARTICLE_UNITS = frozenset("gal L cup h min day mi in ft lb kg week floz qt pt tbsp tsp ton".split())
_LETTERS = {"v": "V", "w": "W", "f": "F", "c": "C", "g": "gal"}
_SCALES = {"f": "F", "fahrenheit": "F", "c": "C", "celsius": "C", "centigrade": "C", "celcius": "C"}
_NOT_BELOW = frozenset("the a an that full it sea my those this ground half ninety fifty forty deck".split())
_PRONOUN_BEFORE = frozenset(
    "which the this that other outside inside first second last each no any every right left good new old big small fresh waste"
    " black clean dirty spare full another rear front".split()
)
_POINTS = frozenset("cloud set freezing boiling dew pour what this that melting".split())
"""Before "point" these make it no decimal point: "cloud point twelve"."""
_COUNTED = re.compile(r"(?:heater|furnace|cord|load|bottle|cylinder|batterie|tank|shower|bulb|lamp|cable|extension|footer|pounder|circuit|breaker|outlet)s")
_WORDS = {"(": "", ")": "", "?": "", "!": "", '"': "", "“": "", "”": "", ";": ",", ":": ",", "…": ","}


@cache
def _units() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for unit, names in _UNITS.items():
        for name in names.split():
            phrase = tuple(part for part in re.split(r"_|(/)", name) if part)
            found.setdefault(phrase[0], []).append((phrase, unit))
    for listed in found.values():
        listed.sort(key=lambda pair: -len(pair[0]))
    return found


@dataclass(frozen=True)
class Question:
    """A text as amounts in a frame of words."""

    text: str
    words: tuple[str, ...]
    amounts: tuple[Amount, ...]
    frame: str
    scale: str
    """F or C, for degrees whose scale is not said."""
    metric: bool
    """Whether the coach's driver thinks metric."""

    def has(self, pattern: str) -> bool:
        """Whether the pattern stands anywhere in the frame."""
        return compiled(pattern).search(self.frame) is not None

    def amount_at(self, character: int) -> Amount:
        """The amount whose tag starts at that character of the frame."""
        return self.amounts[self.frame.count("<", 0, character)]

    def find(self, *patterns: str) -> tuple[Amount, ...]:
        """The amounts in the groups of the first pattern that fits, or none."""
        for pattern in patterns:
            match = compiled(pattern).search(self.frame)
            if match:
                return tuple(
                    self.amount_at(match.start(i))
                    for i in range(1, (match.re.groups or 0) + 1)
                    if match.group(i) and match.group(i).startswith("<")
                )
        return ()

    def every(self, pattern: str) -> list[Amount]:
        """The amount in the first group of each place where the pattern fits."""
        return [self.amount_at(match.start(1)) for match in compiled(pattern).finditer(self.frame) if match.group(1)]

    def one(self, *patterns: str) -> Amount | None:
        """The first amount found by these patterns."""
        found = self.find(*patterns)
        return found[0] if found else None

    def of(self, kind: str) -> list[Amount]:
        """Every amount of a kind, in order."""
        return self.every(f"({{{kind}}})")


KINDS: dict[str, str] = {
    "vol": "gal|L|qt|pt|mL|floz|cup|tbsp|tsp|drop",
    "water": "gal|L|qt",
    "flow": r"(?:gal|L|qt|cup|n)/(?:min|s)|gpm",
    "rate": r"(?:gal|L|qt|n|percent)/(?:h|day|week)|gph",
    "use": r"(?:gal|L|qt|n|cup|pt)(?:/(?:day|h|week))?/each",
    "part": "percent|part",
    "percent": "percent",
    "temp": "F|C|temp",
    "n": "n",
    "time": "h|min|s|day|night|week",
    "h": "h|min|day|night|week",
    "A": "A",
    "V": "V",
    "W": "W|kW",
    "load": "A|W|kW",
    "Ah": "Ah",
    "btu": r"BTU/h|BTU|kW",
    "len": "ft|in|cm|m|yd|mm",
    "short": "in|cm|mm",
    "long": "ft|m|yd",
    "way": "mi|km",
    "speed": r"mph|km/h|kn|(?:mi|km)/h|m/s",
    "psi": "psi|kPa|bar",
    "lb": "lb|kg|ton",
    "people": "people",
    "awg": "awg",
    "ppm": r"ppm|mg/L",
    "mpg": r"mpg|(?:mi|km)/gallon",
    "perdeg": r"(?:W|BTU|BTU/h|kW)/deg[CF]?",
    "torque": "lb-ft|N·m",
    "clock": "clock",
    "any": r"[^<>]+",
    "count": "furnace|cylinder|shower|flush|heater|driver|cord|bag",
    "furnace": "furnace|heater",
    "cylinder": "cylinder",
    "shower": "shower",
    "flush": "flush(?:/day)?(?:/each)?",
}


_EDGE = r"(?:\b|(?<= )(?=<)|(?<=>)(?= ))"


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern with `{kind}` standing for an amount of that kind; `{gal|L}` names tags themselves.

    A word boundary also lies at the edge of an amount.
    """
    pattern = pattern.replace(r"\b", _EDGE)
    return re.compile(re.sub(r"\{([A-Za-z|/·-]+|32nds)\}", lambda m: f"<(?:{KINDS.get(m[1], m[1])})>", pattern))


def read_question(text: str, *, metric: bool = False) -> Question:
    """The amounts of a text and its frame. `metric` says what degrees and the like mean when no scale is said."""
    words = [w._replace(text=_WORDS.get(w.text, w.text)) for w in words_of(text)]
    words = [_unmended(words, i, text) for i, w in enumerate(words)]
    words = [w for w in words if w.text]
    texts = [w.text for w in words]
    found = _merged(_amounts(words, texts), texts)
    scales = {a.unit for a in found if a.unit in ("F", "C")}
    said = "C" if scales == {"C"} or (not scales and re.search(r"\bcel[sc]ius\b|\bcentigrade\b", text.lower())) else "F" if scales else ""
    scale = said or ("C" if metric else "F")
    frame: list[str] = []
    at = 0
    for amount in found:
        frame += [*texts[at : amount.start], f"<{amount.tag}>"]
        at = amount.end
    frame += texts[at:]
    return Question(text, tuple(texts), tuple(found), f" {' '.join(frame)} ", scale, metric)


def _unmended(words: list[Word], i: int, text: str) -> Word:
    """"convert pounds to gallons", "draw for hours on end": a "to" or "for" is no number in a question."""
    said = text[words[i].start : words[i].end].lower()
    before = words[i - 1].text if i else ""
    if said in ("to", "for", "too") and words[i].text != said and before not in ("at", "is", "about", "only", "just", "got", "been"):
        return words[i]._replace(text=said)
    if said == "eight" and words[i].text == "eighth" and i + 1 < len(words) and words[i + 1].text in ("gauge", "gage", "awg", "amp", "gallon", "hour", "inch", "foot"):
        return words[i]._replace(text=said)
    if said == "have" and words[i].text == "half" and (i + 1 == len(words) or words[i + 1].text in (",", "?", "of")):
        return words[i]._replace(text=said)
    return words[i]


def _amounts(words: list[Word], texts: list[str]) -> list[Amount]:
    found: list[Amount] = []
    i = 0
    while i < len(texts):
        if texts[i] == "point" and i and texts[i - 1] in _POINTS:
            i += 1
            continue
        made = _tread(texts, i) or _wire(texts, i) or _clock_written(texts, i) or _number(words, texts, i) or _article(texts, i, found)
        if made is None:
            i += 1
            continue
        if made.unit == "clock" and made.value == 24:
            made = made._replace(value=0.0)
        counted = _split_count(made, texts)
        found += counted
        i = counted[-1].end
    return found


def _tread(texts: list[str], i: int) -> Amount | None:
    """"three thirty seconds", "4/32", "5 32nds"."""
    joined = " ".join(texts[i : i + 4])
    match = re.match(r"(\w+) (?:(?:thirty|30) (?:seconds?|2nds?|2)\b|/ 32(?: nds)?|32 ?nds?)(?: of an inch)?", joined)
    if not match:
        return None
    number = number_at(texts[i : i + 1], 0)
    if number is None or not 0 < number.value < 33 or number.value % 1:
        return None
    if "thirty" in match[0] and not re.search(r"\btread|\bsteer|\bdrive|\btag|\btire|\btyre|\bfront|\brear|\bdual|\bgroove|\blegal|\bpass|\bmm\b", " ".join(texts)):
        return None
    return Amount(number.value, "32nds", start=i, end=i + len(match[0].split()))


def _wire(texts: list[str], i: int) -> Amount | None:
    """"14/3" of a cord, "number ten wire", "#12"."""
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
    r"|tonight|at night|last night|yesterday (?:evening|afternoon|night)|tomorrow night)|o'?clock"
)


def _clock_written(texts: list[str], i: int) -> Amount | None:
    """A time of day: "7:10", "8 am", "seven thirty tonight", "noon"."""
    if texts[i] in ("noon", "midday", "midnight"):
        return Amount(12.0 if texts[i] != "midnight" else 24.0, "clock", start=i, end=i + 1)
    written = re.fullmatch(r"(\d{1,2}):(\d{2})", texts[i])
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
    if match is None and not written:
        return None
    if texts[max(0, i - 2) : i] in (["going", "to"], ["down", "to"], ["drops", "to"], ["hits", "about"]) and not written:
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
    return Amount(hour, "clock", "" if known or hour >= 13 else "", start=i, end=end, pieces=() if known else ("?",))


def _past(texts: list[str], i: int, number: Number | None) -> Amount | None:
    """"ten past nine", "quarter to six", "half past eight"."""
    if number is None or number.end + 1 >= len(texts) or texts[number.end] not in ("past", "after", "to", "till"):
        return None
    share = {0.25: 15.0, 0.5: 30.0}.get(number.value) if number.kind == "fraction" else number.value
    hour = number_at(texts, number.end + 1)
    if share is None or hour is None or hour.kind != "integer" or not (0 < hour.value <= 12 and 0 < share < 60):
        return None
    if texts[number.end] in ("to", "till", "after") and number.kind != "fraction":
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
    written = re.fullmatch(r"(\d+)/(\d+)", texts[i])
    if written and number.value > 1:
        return None
    amount = _measured(words, texts, number)
    if amount.unit == "n" and texts[i] in ("one", "oh", "o") and number.end == i + 1:
        if texts[i] != "one" or before in _PRONOUN_BEFORE or after in ("of", "and") or (before == "in" and after in ("", ",")):
            return None
    return amount


def _measured(words: list[Word], texts: list[str], number: Number) -> Amount:
    """The number with the unit and the rate that follow it."""
    i, end, value = number.start, number.end, number.value
    said = pieces(texts[i:end]) if number.kind == "pieces" else ()
    before = texts[i - 1] if i else ""
    share = number.kind == "fraction"
    minus = before in ("minus", "negative") or texts[i].startswith("-")
    if share and texts[end : end + 1] and texts[end] in ("a", "an", "of", "the"):
        skip = end + (2 if texts[end] == "of" and texts[end + 1 : end + 2] == ["a"] else 1)
        unit = _unit_at(words, texts, skip)
        if unit and unit[1] not in ("cylinder", "furnace", "cord", "night", "shower", "percent"):
            return _rate(texts, Amount(value, unit[1], start=i, end=unit[0]))
    unit = _unit_at(words, texts, end)
    if share and unit and unit[1] in _COUNTS and unit[1] != "deg":
        unit = None
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
        return _rate(texts, Amount(value, "n", start=i, end=end, pieces=said))
    end, name = unit
    if name in ("mi", "km") and texts[end : end + 3] in (["to", "the", "gallon"], ["to", "a", "gallon"]):
        return Amount(value, name, "gallon", start=i, end=end + 3)
    if name in ("mi", "km") and texts[end : end + 1] and texts[end] in ("wind", "winds", "gusts", "gust", "breeze", "blow", "gale"):
        return Amount(value, name, "h", start=i, end=end)
    if texts[end : end + 3] == ["and", "a", "half"] and value == int(value):
        value, end = value + 0.5, end + 3
    singular = texts[end - 1] in ("gallon", "gal", "liter", "litre", "pound", "lb", "foot", "ft", "amp", "watt", "btu", "volt", "inch", "hour", "w", "v", "a", "l")
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
    if i and word in ("fluid", "us", "usable", "available", "spare", "extra") and texts[i + 1 : i + 2]:
        return _unit_at(words, texts, i + 1)
    for phrase, unit in _units().get(word, ()):
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
    if word == "a" and glued and (words[i].glued or (texts[i - 1][-1:].isdigit() and after not in _PER and after not in _EACH)):
        return i + 1, "A"
    if word == "h" and glued:
        return i + 1, "h"
    if word == "m" and (words[i].glued or (texts[i - 1][-1:].isdigit() and after in ("", "in", "of", "is", "cord", "to", ","))):
        return i + 1, "m"
    if word == "in" and glued and (words[i].glued or after in ("in", "of", "deep", "down", "up", "from", "high", "long", "wide", "tall", "equals", "waste", "fresh", "")):
        return i + 1, "in"
    return None


def _temperature(texts: list[str], i: int, end: int, value: float, minus: bool, degrees: bool, share: bool) -> Amount | None:
    """A temperature: "ten below f", "minus twelve", "sixty degrees", "zero out"."""
    unit, known = "temp", degrees or minus

    def scale(at: int) -> tuple[str, int]:
        return (_SCALES[texts[at]], at + 1) if at < len(texts) and texts[at] in _SCALES else ("temp", at)

    unit, end = scale(end)
    known = known or unit != "temp"
    word = texts[end] if end < len(texts) else ""
    after = texts[end + 1] if end + 1 < len(texts) else ""
    if word in ("below", "under", "above") and (after not in _NOT_BELOW or after == "zero"):
        if after in ("zero", "0", "freezing"):
            if after == "freezing":
                off = value if word == "above" else -value
                cold = unit == "C"
                return Amount(off if cold else 32 + off, unit if unit != "temp" else "F", start=i, end=end + 2)
            value, end, known = (value if word == "above" else -value), end + 2, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
        elif word != "under" and not share and not re.fullmatch(r"\d+|[a-z]*(?:teen|ty|hundred)|one|two|three|four|five|six|seven|eight|nine|ten", after):
            value, end, known = (value if word == "above" else -value), end + 1, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
    elif word in ("out", "outside", "outdoors") and not share and after not in ("of", "a", "put", "at") and not known:
        known = True
        end += 0
    if not known or share:
        return None
    if minus and value > 0:
        value = -value
    start = i - 1 if i and texts[i - 1] in ("minus", "negative") else i
    return Amount(value, unit, start=start, end=end)


def _people_at(texts: list[str], i: int) -> int:
    """The end of the words for people at a place, or 0."""
    if texts[i : i + 2] == ["of", "them"] and texts[i + 2 : i + 3] and re.match(r"driv|behind|was|were|off|rest|full|on|half|empty|spent", texts[i + 2]):
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
        elif word in ("a", "an", "per", "each", "every", "/") and after in _PER and not per and not (_PER[after] == "gallon" and amount.unit not in ("mi", "km")):
            if len(after) == 1 and word != "/":
                break
            if amount.unit in ("h", "min", "day", "s") and _PER[after] != "day":
                break
            per, end = _PER[after], end + 2
            if per == "deg" and end < len(texts) and texts[end] in _SCALES:
                per, end = f"deg{_SCALES[texts[end]]}", end + 1
        elif word in ("a", "an", "per", "every", "in", "in a") and texts[end + 1 : end + 3] in (["24", "hours"], ["twenty", "four"]) and not per:
            per, end = "day", end + (4 if after == "twenty" and texts[end + 3 : end + 4] == ["hours"] else 3)
        else:
            break
    return amount._replace(per=per, each=each, end=end)


def _article(texts: list[str], i: int, found: list[Amount]) -> Amount | None:
    """"a gallon takes thirty seconds", "an hour and a half"."""
    if texts[i] not in ("a", "an") or i + 1 >= len(texts) or (found and found[-1].end > i):
        return None
    for phrase, unit in _units().get(texts[i + 1], ()):
        end = i + 1 + len(phrase)
        before = texts[i - 1] if i else ""
        if unit not in _ARTICLE_UNITS or tuple(texts[i + 1 : end]) != phrase or texts[i + 1].endswith("s"):
            continue
        if before in _units() or before in ("times", "much", "psi", "many", "it", "pays", "drops", "%"):
            return None
        value = 1.0
        if texts[end : end + 3] == ["and", "a", "half"]:
            value, end = 1.5, end + 3
        return _rate(texts, Amount(value, unit, start=i, end=end))
    return None


def _split_count(amount: Amount, texts: list[str]) -> list[Amount]:
    """"two fifty foot cords" as two of fifty feet; "one thirty five thousand BTU furnace" as one of 35,000."""
    near = [w for w in texts[amount.end : amount.end + 4] if w.isalpha()]
    noun = next((w for w in near if _COUNTED.fullmatch(w)), near[0] if near else "")
    one = noun in ("furnace", "cylinder", "bottle", "circuit", "breaker", "outlet", "receptacle", "plug") and texts[amount.start] == "one"
    many = _COUNTED.fullmatch(noun) is not None or one
    kinds = ("ft", "lb", "W", "BTU", "m", "min", "Ah", "V", "BTU/h", "A")
    if not many or amount.unit not in kinds or texts[amount.start] not in ("one", "two", "three", "four", "five", "six", "2", "3", "4"):
        return [amount]
    rest = number_at(texts, amount.start + 1) if amount.start + 1 < amount.end else None
    count = number_at(texts[amount.start : amount.start + 1], 0)
    if rest is None or count is None or rest.end > amount.end - 1 or rest.value < 5:
        return [amount]
    first = Amount(count.value, "n", start=amount.start, end=amount.start + 1)
    return [first, amount._replace(value=rest.value, start=amount.start + 1, pieces=())]


def _merged(found: list[Amount], texts: list[str]) -> list[Amount]:
    """Hours and minutes, feet and inches, as one; a bare number before a rate's "each" gets it."""
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        between = texts[last.end : amount.start] if last else ["x"]
        if last and between in ([], ["and"]):
            if (last.unit, amount.unit) == ("h", "min") and not (last.per or amount.per):
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
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
    r"\b(?:each|apiece|per (?:person|head)|a (?:person|head|player)|every (?:person|passenger|player|kid|man)"
    r"|(?:everyone|everybody) (?:uses?|drinks?|puts?|gets?|takes?|needs?|goes))\b"
)


def _each_before(amount: Amount, texts: list[str], last: Amount | None) -> Amount:
    """"each uses two gallons a day": the share is said before the amount."""
    if amount.each or amount.unit not in ("gal", "L", "n", "flush", "qt", "cup") or texts[amount.end : amount.end + 1] == ["times"]:
        return amount
    before = " ".join(texts[max(last.end if last else 0, amount.start - 7) : amount.start])
    if _SHARED_OUT.search(before) or (last and last.unit == "people" and re.fullmatch(r"(?:who )?each(?: \w+){0,2}", before)):
        return amount._replace(each=True)
    after = " ".join(texts[amount.end : amount.end + 3])
    if amount.per and re.match(r"(?:by|for|from|in) (?:each|every|everybody|everyone)\b", after):
        return amount._replace(each=True)
    return amount


_COUNTS = frozenset({"deg", "furnace", "cylinder", "shower", "flush", "heater", "driver", "cord", "bag"})
UNIT_WORDS = {
    **{name.replace("_", " "): unit for unit, names in _UNITS.items() for name in names.split() if len(name) > 2 and unit not in _COUNTS},
    "celsius": "C", "celcius": "C", "centigrade": "C", "fahrenheit": "F", "c": "C", "f": "F", "lb": "lb", "kg": "kg", "ml": "mL", "gal": "gal",
    "galons": "gal", "inchs": "in", "ours": "h", "cm": "cm", "ft": "ft", "km": "km", "wats": "W", "kilometers an hour": "km/h", "kilometres an hour": "km/h",
    "miles an hour": "mph", "miles per hour": "mph", "miles per gallon": "mpg", "psi": "psi", "kpa": "kPa", "steps": "pace", "paces": "pace", "ah": "Ah",
    "btu an hour": "BTU/h", "btus an hour": "BTU/h", "btu per hour": "BTU/h", "gallons a minute": "gpm", "gallons per minute": "gpm", "gallons an hour": "gal/h",
    "gallons a day": "gal/day", "gallons per inch": "gal/in", "gallons an inch": "gal/in", "wattage": "W", "tonnes": "ton", "months": "month", "mm": "mm",
}  # fmt: skip
del UNIT_WORDS["drop"]
_NAME = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
_WANTED = (
    re.compile(rf"\b(?:how|hom|howm?any) (?:many|manny|much) (?:more |whole |us |fluid |of the )?({_NAME})\b"),
    re.compile(rf"\b(?:in|to|into|as) (?:us |fluid )?({_NAME})(?= |$)(?! (?:of (?:the|a)|tank|water|cord|on hand))"),
    re.compile(rf"^ (?:what (?:the )?|give me |work out |tell me |total |max |longest |howmany )?(?:the )?({_NAME}) (?:in|of|to|is|for|per|needed|left|until|till|on|off|at)\b"),
    re.compile(rf"\b(?:what|which|wat) ({_NAME})\b"),
)


def asked_unit(question: Question) -> str:
    """The unit an answer is wanted in, or "": "how many days", "in liters", "what percent"."""
    for pattern in _WANTED:
        match = pattern.search(question.frame)
        if match and not (match[1] in ("c", "f") and match.re is _WANTED[2]):
            return UNIT_WORDS[match[1]]
    return ""


FACTORS: dict[str, tuple[str, float]] = {
    "gal": ("volume", 3.785411784), "L": ("volume", 1.0), "mL": ("volume", 0.001), "qt": ("volume", 0.946352946), "pt": ("volume", 0.473176473),
    "floz": ("volume", 0.0295735295625), "fl oz": ("volume", 0.0295735295625), "cup": ("volume", 0.2365882365), "tbsp": ("volume", 0.01478676478125),
    "tsp": ("volume", 0.00492892159375), "drop": ("volume", 0.00005), "igal": ("volume", 4.54609),
    "ft": ("length", 0.3048), "in": ("length", 0.0254), "cm": ("length", 0.01), "mm": ("length", 0.001), "m": ("length", 1.0), "yd": ("length", 0.9144),
    "mi": ("length", 1609.344), "km": ("length", 1000.0), "32nds": ("length", 0.0254 / 32), "32nds in": ("length", 0.0254 / 32), "pace": ("length", 0.762),
    "lb": ("mass", 0.45359237), "kg": ("mass", 1.0), "ton": ("mass", 907.18474), "psi": ("pressure", 6.894757293168), "kPa": ("pressure", 1.0), "bar": ("pressure", 100.0),
    "h": ("time", 3600.0), "min": ("time", 60.0), "s": ("time", 1.0), "day": ("time", 86400.0), "days": ("time", 86400.0), "night": ("time", 86400.0), "week": ("time", 604800.0),
    "W": ("power", 1.0), "kW": ("power", 1000.0), "BTU/h": ("power", 0.29307107), "BTU": ("energy", 1055.056), "Wh": ("energy", 3600.0), "kWh": ("energy", 3.6e6),
    "mph": ("speed", 0.44704), "km/h": ("speed", 1 / 3.6), "kn": ("speed", 0.514444), "m/s": ("speed", 1.0), "lb-ft": ("torque", 1.3558179483314), "N·m": ("torque", 1.0),
    "gpm": ("flow", 3.785411784), "L/min": ("flow", 1.0), "gal/h": ("flow", 3.785411784 / 60), "gph": ("flow", 3.785411784 / 60), "month": ("time", 2629746.0), "months": ("time", 2629746.0), "years": ("time", 31556952.0), "year": ("time", 31556952.0),
}  # fmt: skip
"""Each unit's kind and size, for plain conversions; temperatures are apart. NIST Handbook 44 App. C."""


def same_kind(a: str, b: str) -> bool:
    """Whether two units measure the same."""
    if {a, b} <= {"F", "C"}:
        return True
    return a in FACTORS and b in FACTORS and FACTORS[a][0] == FACTORS[b][0]


def converted(value: float, unit: str, wanted: str) -> float:
    """A value in another unit of the same kind.

    Raises:
        KeyError: a unit nobody knows.
    """
    if unit == wanted:
        return value
    if {unit, wanted} == {"F", "C"}:
        return (value - 32) / 1.8 if wanted == "C" else value * 1.8 + 32
    return value * FACTORS[unit][1] / FACTORS[wanted][1]
