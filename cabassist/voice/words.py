"""Text as it is said: numbers, units, times, ids and abbreviations in words that no engine can misread.

What an engine makes of "12 V", "-25 °F" or "1/4" differs from engine to engine and is sometimes wrong, so the words
are chosen here and the engine gets nothing but `ALPHABET`. Numbers are said the American way, without "and".
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from datetime import date

from cabassist.units import SPOKEN_UNITS

ALPHABET = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ .,?!;:'-")
"""All that is left in a text for the ear."""

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
    " eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_SCALES = ((10**12, "trillion"), (10**9, "billion"), (10**6, "million"), (10**3, "thousand"))
_ORDINALS = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth", "twelve": "twelfth",
}  # fmt: skip
_LARGEST = 10**15
"""From here on a number is said digit by digit."""

UNITS: dict[str, tuple[str, str]] = {
    **{unit: said for unit, said in SPOKEN_UNITS.items() if unit.isalpha()},
    "psi": ("P S I", "P S I"), "kPa": ("kilopascal", "kilopascals"), "ppm": ("part per million", "parts per million"),
    "L": ("liter", "liters"), "mL": ("milliliter", "milliliters"), "gals": ("gallon", "gallons"), "qt": ("quart", "quarts"),
    "oz": ("ounce", "ounces"), "fl oz": ("fluid ounce", "fluid ounces"), "tbsp": ("tablespoon", "tablespoons"), "tsp": ("teaspoon", "teaspoons"),
    "inch": ("inch", "inches"), "cm": ("centimeter", "centimeters"), "mm": ("millimeter", "millimeters"), "m": ("meter", "meters"), "km": ("kilometer", "kilometers"),
    "yd": ("yard", "yards"), "lbs": ("pound", "pounds"), "g": ("gram", "grams"), "mg": ("milligram", "milligrams"),
    "kW": ("kilowatt", "kilowatts"), "kWh": ("kilowatt hour", "kilowatt hours"), "Wh": ("watt hour", "watt hours"),
    "mA": ("milliamp", "milliamps"), "mV": ("millivolt", "millivolts"), "Hz": ("hertz", "hertz"),
    "BTU": ("B T U", "B T U"), "Btu": ("B T U", "B T U"), "cfm": ("cubic foot a minute", "cubic feet a minute"),
    "mins": ("minute", "minutes"), "hr": ("hour", "hours"), "hrs": ("hour", "hours"), "s": ("second", "seconds"), "sec": ("second", "seconds"),
    "K": ("kelvin", "kelvins"), "%": ("percent", "percent"), "°": ("degree", "degrees"),
    "°F": ("degree", "degrees"), "F": ("degree", "degrees"), "degF": ("degree", "degrees"),
    "°C": ("degree Celsius", "degrees Celsius"), "C": ("degree Celsius", "degrees Celsius"), "degC": ("degree Celsius", "degrees Celsius"),
    "rpm": ("R P M", "R P M"), "AWG": ("gauge", "gauge"), "ft-lb": ("foot-pound", "foot-pounds"), "lb-ft": ("foot-pound", "foot-pounds"),
    "ft_lb": ("foot-pound", "foot-pounds"), "N·m": ("newton meter", "newton meters"), "N_m": ("newton meter", "newton meters"),
    "km/h": ("kilometer an hour", "kilometers an hour"), "mph": ("mile an hour", "miles an hour"),
    "1/32 in": ("thirty second of an inch", "thirty seconds of an inch"), "ft^3": ("cubic foot", "cubic feet"),
}  # fmt: skip
"""How each written unit is said, for one and for many."""

_NOUNS = (
    "adapter alternator bank batter(?:y|ies) bottle breaker cable charger circuit cord cylinder extension feed fuse heater hose inlet jug"
    " lamp light line outlet pad plug pump receptacle restart rule service shore socket supply system tank tape wire wrench"
).replace(" ", "s?|")
"""After a quantity these make it an adjective: "a 60 A plug" is a sixty amp plug."""

_NUMBER = r"(?:\d{1,3}(?:,\d{3})++(?!\d)(?:\.\d++)?|\d++(?:\.\d++)?|\.\d++)"
_ONE_UNIT = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True) if unit != "in")
_UNIT = rf"(?:{_ONE_UNIT}|in(?=$|[.,;:)/]|\s+(?:deep|long|wide|high|of)\b))(?![A-Za-z°])(?:/(?:{_ONE_UNIT}|in)(?![A-Za-z°]))?"
_QUANTITY = re.compile(rf"({_NUMBER})( |-)?({_UNIT})(?= ?(?:({_NOUNS})s?\b)?)")
_FRACTION = re.compile(rf"(?<![\d./])(?:(\d+) )?(\d+(?:\.\d+)?)/(\d+)(?![\d/])(?:-| )?(?:({_UNIT}))?")
_LONE_UNIT = re.compile(
    r"(?<![A-Za-z\d/])((?:°?F|BTU|Btu|W|ft|g|gal|km|lb|mg|mi|psi)/(?:°[CF]|F|K|L|gal|hr?|lb|min|s)|°[FC]|psi|ppm|mph|cfm|lbs?|gal|ft|kWh|Ah|AWG)(?![A-Za-z/])"
)
_SAID_UNIT = "|".join(
    sorted(
        {
            *(said for pair in UNITS.values() for said in pair),
            "degrees? Fahrenheit",
            "days?",
            "weeks?",
            "months?",
            "years?",
            "people",
        },
        key=len,
        reverse=True,
    )
)
_MEASURED = re.compile(rf"(?<![\w.,])-?{_NUMBER}(?:[ -]?{_UNIT}| (?:{_SAID_UNIT})\b)?")

_RULES = {
    "49": "the federal transport rules", "29": "the federal workplace rules", "21": "the federal health rules",
    "40": "the federal environment rules", "23": "the federal highway rules",
}  # fmt: skip
_PARAGRAPH = r"§? ?\d(?:[\w.\-]*\w)?(?:\(\w+\))*"
_MORE_PARAGRAPHS = (
    rf"(?:(?:, | and |, and | to |; )(?:{_PARAGRAPH}(?:\(\w+\))|\d+\.\d(?:[\w.]*\w)?|\(\w+\))(?:\(\w+\))*(?![\w%]))*"
)
_CITATIONS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str]], ...] = (
    (re.compile(rf"\b(\d+) CFR(?: [Pp]arts?)?(?: {_PARAGRAPH}{_MORE_PARAGRAPHS})?"), lambda m: _RULES.get(m[1], "the federal rules")),
    (re.compile(rf"\b\d+ U\.?S\.?C\.? {_PARAGRAPH}{_MORE_PARAGRAPHS}"), lambda m: "federal law"),
    (re.compile(r"\b\d+ (?:FR|Fed\. Reg\.) \d+\b"), lambda m: "the Federal Register"),
    (re.compile(r"\bWAC \d[\d-]*(?:\(\w+\))*"), lambda m: "the Washington state rules"),
    (re.compile(r"\bCOMAR \d(?:[\d.]*\d)?"), lambda m: "the Maryland state rules"),
    (
        re.compile(rf"\b(NFPA|TM|UL|ASTM|ASHRAE|SAE|API|ANSI|ISO|IEC|FMVSS|BCI|NEC|TMC|RP|IAPWS|OSHA|Manual)[ -](?:No\. )?[A-Z]{{0,3}}-?{_PARAGRAPH}"
                   rf"{_MORE_PARAGRAPHS}(?: S\d(?:[\d.]*\d)?)?"),
        lambda m: m[1],
    ),
    (re.compile(rf"§ ?{_PARAGRAPH}|\b\d+\.\d+(?:\([a-z0-9]{{1,4}}\))+"), lambda m: "its paragraph"),
)  # fmt: skip
"""Rules and standards are named by what they are; nobody can use their paragraph numbers by ear."""

_MONTHS = "January February March April May June July August September October November December".split()
_SYMBOLS = {
    "%": " percent ", "°": " degrees ", "&": " and ", "+": " plus ", "=": " is ", "×": " times ", "÷": " divided by ", "±": " plus or minus ",
    "≠": " is not ", "≈": " about ", "~": " about ", "→": " to ", "<": " less than ", ">": " more than ", "≤": " at most ", "≥": " at least ", "#": " number ",
    "@": " at ", "$": " dollars ", "^": " to the power of ", "Δ": " delta ", "µ": " micro ", "μ": " micro ", "·": " ", "/": " or ",
    "(": ", ", ")": ", ", "[": ", ", "]": ", ", "—": ", ", "–": ", ", "²": " squared ", "³": " cubed ", "’": "'", "‘": "'", "_": " ",
}  # fmt: skip
_SHORT = {
    r"\be\.g\.": "for example", r"\bi\.e\.": "that is", r"\betc\.": "and so on", r"\bvs\.?(?!\w)": "versus", r"\bapprox\.": "about",
    r"\bw/(?= ?\w)": "with ", r"\bw/o\b": "without", r"(?<=[a-z,] )[Nn]o\. ?(?=\d)": "number ",
    r"(?<=\d) ?([ap])(?:\.m\.|m\b)": r" \1 m", r"\bU\.S\.(?=\W)": "U S", r"\bCO2\b": "C O two",
}  # fmt: skip
_CAPITALS = {
    "OK": "okay", "CO": "carbon monoxide", "OSHA": "osha", "NIOSH": "nigh osh", "ASHRAE": "ash ray", "AM": "a m", "PM": "p m", "II": "two", "III": "three",
}  # fmt: skip
_SHOUTED = frozenset(
    "DANGER WARNING CAUTION NOTICE A I NO NOT ON OFF STOP DO IF IN IT IS TO OR OF AT BY BE WE AN AS UP GO SO MY ME AND THE NEVER NOW OUT GAS FIRE FULL"
    " OPEN SHUT MUST ALL ANY TANK LEFT RIGHT HOT COLD LOW HIGH ONLY KEEP WATER VALVE EMPTY CLOSED DOWN BOTH YES YOU FOR ARE CAN HAS HAD WAS HIS HER"
    " ONE TWO SIX TEN DRY WET RUN SET PUT LET OLD NEW TOP HELP WAIT CALL LOOK READ TURN SAY SAID LEAK SMELL HAVE WITH FROM THAT THIS WHEN".split()
)
"""Words that are also written in capitals; other short words in capitals are spelled."""


def cardinal(number: int) -> str:
    """A whole number in words, American style: 1234 is "one thousand two hundred thirty four".

    From 10¹⁵ on its digits are said one by one.
    """
    if number < 0:
        return f"minus {cardinal(-number)}"
    if number >= _LARGEST:
        return digits(str(number))
    if number < 20:
        return _SMALL[number]
    if number < 100:
        return _TENS[number // 10 - 2] + (f" {_SMALL[number % 10]}" if number % 10 else "")
    if number < 1000:
        return f"{_SMALL[number // 100]} hundred" + (f" {cardinal(number % 100)}" if number % 100 else "")
    size, name = next(pair for pair in _SCALES if number >= pair[0])
    return f"{cardinal(number // size)} {name}" + (f" {cardinal(number % size)}" if number % size else "")


def ordinal(number: int) -> str:
    """The ordinal of a whole number: 32 is "thirty second"."""
    *head, last = cardinal(number).split()
    last = _ORDINALS.get(last, f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th")
    return " ".join([*head, last])


def digits(text: str) -> str:
    """Each digit of a text as a word, other characters left out."""
    return " ".join(_SMALL[int(c)] for c in text if c in "0123456789")


def number(text: str) -> str:
    """A written number in words: "12.60" is "twelve point six zero". Leading zeros are said, as they are in an id."""
    whole, _, part = text.replace(",", "").partition(".")
    if len(whole) > 1 and whole.startswith("0") or whole == "911" and not part:
        said = digits(whole)
    else:
        said = cardinal(int(whole or 0))
    return f"{said} point {digits(part)}" if part else said


def measured_in(text: str) -> list[str]:
    """The numbers of a text with their units, as written."""
    return _MEASURED.findall(text)


def in_words(text: str) -> str:
    """A text for the ear, in the characters of `ALPHABET`.

    >>> in_words("12.6 V, 40 %, -25 °F, 1/4 tank by 21:40, 2.1–2.9 days")
    'twelve point six volts, forty percent, minus twenty five degrees, a quarter tank by twenty one forty, two point one to two point nine days'
    """
    text = _uniform(text)
    for pattern, said in _CITATIONS:
        text = pattern.sub(said, text)
    for short, long in _SHORT.items():
        text = re.sub(short, long, text)
    return _tidy(_symbols(_capitals(_numbers(text))))


def _uniform(text: str) -> str:
    """One way of writing: no control characters, fractions with a slash, one kind of minus and of space."""
    text = re.sub(r"(?<=\d)(?=[¼½¾⅓⅔⅛⅜⅝⅞])", " ", text)
    text = "".join(c if c in "²³≠" else unicodedata.normalize("NFKD", c) for c in text).replace("⁄", "/")
    text = "".join(c for c in text if not unicodedata.combining(c))
    text = "".join(" " if unicodedata.category(c)[0] in "CZ" else c for c in text)
    return re.sub(" +", " ", re.sub("[−‐‑]", "-", text)).strip()


def _numbers(text: str) -> str:
    text = re.sub(r"\d{16,}", lambda m: f" {digits(m[0])} ", text)
    text = re.sub(rf"\$ ?({_NUMBER})", r"\1 dollars", text)
    text = re.sub(rf"({_NUMBER})e([+-]?\d{{1,3}})\b", _scientific, text)
    text = re.sub(
        r"(?<![\w-])(?:\d-)?\d{3}-\d{3}-\d{4}(?![\w-])", lambda m: ", ".join(map(digits, m[0].split("-"))), text
    )
    text = re.sub(r"(?<![\w-])(\d{4})-(\d\d)-(\d\d)(?![\w-])", _day, text)
    text = re.sub(r"(?<![\w-])\d+(?:-\d+){2,}(?![\w-])", lambda m: ", ".join(map(digits, m[0].split("-"))), text)
    text = re.sub(r"(?<![\w.])\d+(?:\.\d+){2,}", lambda m: " point ".join(map(number, m[0].split("."))), text)
    text = re.sub(
        r"(?<![\d:.,])([01]?\d|2[0-3]):([0-5]\d)(?::[0-5]\d)?(?![\d:])", lambda m: _clock(int(m[1]), int(m[2])), text
    )
    text = re.sub(r"(?<=\d):(?=\d)", " to ", text)
    text = re.sub(r"(?<=[\d%]) ?– ?(?=[-+]?[\d.])|(?<=[\d%])-(?=\d)", " to ", text)
    text = re.sub(r"(?<=[\d)%°FCVAh]) - (?=[\d(])", " minus ", text)
    text = re.sub(r"(?<![\w.)])([-+]) ?(?=\.?\d)", lambda m: "minus " if m[1] == "-" else "plus ", text)
    text = re.sub(r"(?<=[\d)]) ?[x×] ?(?=[\d(])|(?<=[\w)%]) x (?=[-\d(])", " times ", text)
    text = re.sub(r"(?<=\d/)(8|16|32|64) in\b(?! (?:the|a|an|each)\b)", r"\1 inch", text)
    text = _FRACTION.sub(_fraction, text)
    celsius = re.search(r"\d ?°?C\b|Celsius", text) is not None
    text = _QUANTITY.sub(lambda m: _quantity(m, celsius), text)
    text = re.sub(r"\b(\d+)(?:st|nd|rd|th)(s?)\b", lambda m: ordinal(int(m[1][:15])) + m[2], text)
    text = _LONE_UNIT.sub(lambda m: _unit(m[1], True, celsius), text)
    text = re.sub(rf"\b({'|'.join(_MONTHS)}|of|since|until)( \d{{1,2}},?)? ((?:19|20)\d\d)\b(?!,\d)", _year, text)
    text = re.sub(r"\b(?=[A-Za-z]*\d)(?=\d*[A-Za-z])[A-Za-z\d]+\b", lambda m: _letters(m[0]), text)
    return re.sub(_NUMBER, lambda m: f" {number(m[0])} ", text)


def _scientific(match: re.Match[str]) -> str:
    power = int(match[2])
    if abs(power) > 15:
        return f"{match[1]} times ten to the power of {power}"
    return f"{float(match[1].replace(',', '') + 'e' + match[2]):.15f}".rstrip("0").rstrip(".")


def _day(match: re.Match[str]) -> str:
    try:
        day = date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        return ", ".join(digits(part) for part in match[0].split("-"))
    return f"{_MONTHS[day.month - 1]} {ordinal(day.day)} {_year_said(match[1])}"


def _year(match: re.Match[str]) -> str:
    return f"{match[1]}{match[2] or ''} {_year_said(match[3])}"


def _year_said(text: str) -> str:
    century, rest = int(text[:2]), int(text[2:])
    if rest == 0:
        return "two thousand" if century == 20 else f"{cardinal(century)} hundred"
    if century == 20 and rest < 10:
        return f"two thousand {_SMALL[rest]}"
    return f"{cardinal(century)} {'oh ' if rest < 10 else ''}{cardinal(rest)}"


def _clock(hour: int, minute: int) -> str:
    """A time on the 24 hour clock."""
    if minute == 0:
        if hour == 0:
            return "midnight"
        return f"{cardinal(hour)} o'clock" if hour <= 12 else f"{cardinal(hour)} hundred"
    return f"{cardinal(hour)} {'oh ' if minute < 10 else ''}{cardinal(minute)}"


def _fraction(match: re.Match[str]) -> str:
    whole, above, below, unit = match[1], match[2], int(match[3]), match[4]
    share = float(above)
    if not 2 <= below <= 100 or share >= below or share == 0:
        return f"{whole or ''} {above} over {below} {unit or ''} ".replace("  ", " ")
    one = share == 1
    name = {2: "half", 4: "quarter"}.get(below, ordinal(below))
    said = f"a {name}" if one else f"{number(above)} {'halves' if below == 2 else name + 's'}"
    said = said.replace("a eigh", "an eigh")
    if whole:
        return f"{number(whole)} and {said}" + (f" {_unit(unit, True)}" if unit else " ")
    if unit is None:
        return f"{said} "
    word = _unit(unit, False)
    article = "an" if word[0] in "aeiou" else "a"
    return f"{'half' if below == 2 and one else said + ' of'} {article} {word}"


def _quantity(match: re.Match[str], celsius: bool) -> str:
    value, joint, unit, noun = match.groups()
    adjective = joint == "-" or noun is not None
    # 12 and 24 volt are names of systems more often than measurements
    nominal = unit == "V" and value in ("12", "24")
    many = not (adjective or nominal or value.replace(",", "") in ("1", "1.0"))
    return f"{number(value)} {_unit(unit, many, celsius)}"


def _unit(unit: str, many: bool, celsius: bool = False) -> str:
    """A written unit in words; one with a slash is so much "an hour"."""
    written, _, per = unit.partition("/")
    if unit in UNITS:
        written, per = unit, ""
    one, more = UNITS[written] if written != "in" else ("inch", "inches")
    said = more if many else one
    if celsius and written in ("°F", "F", "degF"):
        said += " Fahrenheit"
    if not per:
        return said
    below = UNITS[per][0] if per != "in" else "inch"
    return f"{said} {'an' if below[0] in 'aeiou' or per in ('h', 'hr') else 'a'} {below}"


def _letters(token: str) -> str:
    """An id of letters and digits, character by character; its whole parts in lower case stay words."""
    parts = re.findall(r"[A-Z]+|[a-z]+|\d+", token)
    said = []
    for part in parts:
        if part.isdigit():
            said.append(number(part) if len(part) <= 2 else digits(part))
        elif len(part) > 3 and part.islower():
            said.append(part)
        else:
            said.append(" ".join(part.upper()))
    return f" {' '.join(said)} "


def _capitals(text: str) -> str:
    def said(match: re.Match[str]) -> str:
        word = match[1]
        if word in _CAPITALS:
            return _CAPITALS[word]
        if word in _SHOUTED or len(word) > 5:
            return word.capitalize() if word in ("DANGER", "WARNING", "CAUTION", "NOTICE") else word.lower()
        return " ".join(word) + (" s" if match[2] else "")

    return re.sub(r"\b([A-Z]{2,})(s?)\b", said, text)


def _symbols(text: str) -> str:
    text = re.sub(r" [-–—] ", ", ", text)
    text = re.sub(r"\band/or\b", "or", text)
    text = "".join(_SYMBOLS.get(c, c) for c in text)
    return "".join(c if c in ALPHABET else " " for c in text)


def _tidy(text: str) -> str:
    text = re.sub(r"\b(per|each|an?) degrees\b", r"\1 degree", text)
    text = re.sub(r"(?<![A-Za-z])[-']+|[-']+(?![A-Za-z])", " ", text)
    text = re.sub(r"\s+", " ", text)
    text = re.sub(r" (?=[.,?!;:])", "", text)
    text = re.sub(r"[,;:](?:[,;: ]*)(?=[.?!,;:])", "", text)
    text = re.sub(r"([.?!])[.,?!;: ]*(?=[.,?!;:])", "", text)
    text = re.sub(r"(?<=[.,?!;:])(?=[A-Za-z])", " ", text)
    return re.sub(r"\s+", " ", text).strip(" ,;:")
