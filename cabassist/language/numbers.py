"""Numbers as drivers say and type them: "one oh five", "eight and three quarter", "a hundred and ten", "1,212".

Text becomes a list of words first, with contractions opened ("isn't" is "is not") and the number words that
recognisers mangle put right ("for tea percent", "to thirds"). Numbers are then found by position in that list.
What a number stands for is not decided here: "twelve six" is 126 on a tire and 12.6 on a battery, so a number
spoken in pieces keeps its pieces (`pieces`, `as_decimal`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from cabassist.language.spelt import SLIPS, apart, with_parts


class Word(NamedTuple):
    """One word, number or mark of a text, in lower case, with its place in the text."""

    text: str
    start: int
    end: int
    glued: bool = False
    """No space before it, as the unit in "12v"."""
    owner: bool = False
    """It ended in an apostrophe and s, as in "the outside one's"."""


class Number(NamedTuple):
    """A number among words: words[start:end] say it."""

    start: int
    end: int
    value: float
    kind: str
    """integer, decimal, fraction, mixed, or pieces (said digit by digit or pair by pair)."""


ONES = {
    "zero": 0, "oh": 0, "o": 0, "nought": 0, "naught": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
SCALES = {"thousand": 1_000, "million": 1_000_000, "k": 1_000}
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4, "fifth": 5,
    "fifths": 5, "sixth": 6, "sixths": 6, "seventh": 7, "sevenths": 7, "eighth": 8, "eighths": 8, "ninth": 9, "ninths": 9,
    "tenth": 10, "tenths": 10, "twelfth": 12, "twelfths": 12, "sixteenth": 16, "sixteenths": 16,
    "hundredth": 100, "hundredths": 100,
}  # fmt: skip
WRITTEN_PARTS = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16})
"""Denominators that are taken for a fraction in figures; "40/60" is two numbers."""
NUMBER_WORDS = frozenset({*ONES, *TEENS, *TENS, *SCALES, *PARTS, "hundred", "dozen", "point"})
LONGEST = 7
"""Most figures a number spoken in pieces may have: an odometer needs seven."""

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6",
    "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_SAME_LENGTH = str.maketrans({"’": "'", "‘": "'", "`": "'", "−": "-", "‐": "-", "‑": "-", "“": '"', "”": '"', "″": '"', "′": "'", "º": "°"})  # fmt: skip
_TOKEN = re.compile(
    r"(?P<name>(?:h2o|co2)\b)"
    r"|(?P<time>\d{1,2}:\d{2})"
    r"|(?P<fraction>\d+\s?/\s?\d+(?!\d|/))"
    r"|(?P<number>(?:(?<![\w.)%'])[-+](?=[\d.]))?(?:\d{1,3}(?:,\d{3})+(?!\d|,\d)(?:\.\d+)?|\d+\.\d+|\d+,\d{1,2}(?!\d)|\.\d+|\d+))"
    r"|(?P<vulgar>[¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])"
    r"|(?P<word>[^\W\d_]+(?:'[^\W\d_]+)*'?)"
    r"|(?P<mark>[^\w\s])"
)
_INITIALS = re.compile(r"(?<=\b[a-z])\.")
_HYPHEN = re.compile(r"(?<=[^\W\d_])-(?=[^\W\d_])|(?<=\d)-(?=\d/\d)|(?<=[^\W\d_])-(?=\d+(?:st|nd|rd|th)\b)")
_ORDINAL = re.compile(r"st|nd|rd|th")
_CONTRACTED = {"ll": "will", "re": "are", "m": "am", "ve": "have", "d": "would"}
_OPENED: dict[str, tuple[str, ...]] = {
    "can't": ("can", "not"), "cannot": ("can", "not"), "won't": ("will", "not"), "ain't": ("is", "not"),
    "isnt": ("is", "not"), "arent": ("are", "not"), "dont": ("do", "not"), "doesnt": ("does", "not"),
    "wont": ("will", "not"), "cant": ("can", "not"), "hasnt": ("has", "not"), "wasnt": ("was", "not"),
    "its": ("it",), "thats": ("that",), "whats": ("what",), "hows": ("how",), "theres": ("there",), "weve": ("we", "have"),
    "ive": ("i", "have"), "im": ("i", "am"), "youre": ("you", "are"), "gonna": ("going", "to"), "wanna": ("want", "to"),
    "gotta": ("have", "to"), "lets": ("let",), "dunno": ("do", "not", "know"), "&": ("and",), "~": ("about",),
    "≈": ("about",), "haft": ("half",),
}  # fmt: skip

_SLIPS: dict[tuple[str, ...], tuple[str, ...]] = SLIPS | {
    ("fort", "tea"): ("forty",), ("fort", "tee"): ("forty",), ("sick", "sty"): ("sixty",), ("six", "tea"): ("sixty",), ("fifth", "tea"): ("fifty",),
    ("dead", "center"): ("half",), ("dead", "centre"): ("half",), ("needle", "straight", "up"): ("needle", "half"),
    ("nearly", "fuel"): ("nearly", "full"), ("almost", "fuel"): ("almost", "full"),
    ("per", "cent"): ("percent",), ("per", "sent"): ("percent",), ("per", "scent"): ("percent",),
    ("purr", "cent"): ("percent",), ("purse", "cent"): ("percent",), ("pur", "cent"): ("percent",), ("per", "cents"): ("percent",),
    ("pct",): ("percent",), ("precent",): ("percent",), ("persent",): ("percent",), ("%",): ("percent",),
    ("percentage",): ("percent",), ("percents",): ("percent",), ("a", "m"): ("am",), ("p", "m"): ("pm",), ("p", "p", "m"): ("ppm",),
    ("fourty",): ("forty",), ("fourtey",): ("forty",), ("forte",): ("forty",), ("ninty",): ("ninety",),
    ("sicks",): ("six",), ("fiddy",): ("fifty",), ("wun",): ("one",), ("niner",): ("nine",), ("tree",): ("three",),
    ("qtr",): ("quarter",), ("qtrs",): ("quarters",), ("quater",): ("quarter",), ("quaters",): ("quarters",),
    ("quarta",): ("quarter",), ("quota",): ("quarter",), ("halve",): ("half",), ("thurd",): ("third",), ("halfway",): ("half",), ("half", "way"): ("half",),
    ("midway",): ("half",), ("half", "weigh"): ("half",),
    ("pint", "five"): ("point", "five"), ("hun", "dread"): ("hundred",), ("hundreds",): ("hundred",),
    ("hunderd",): ("hundred",), ("thou",): ("thousand",), ("thousands",): ("thousand",), ("grand",): ("thousand",),
    ("mine", "us"): ("minus",), ("my", "ness"): ("minus",), ("neg",): ("minus",),
    ("be", "low"): ("below",), ("bellow",): ("below",), ("free", "quarters"): ("three", "quarters"),
    ("free", "quarter"): ("three", "quarter"), ("free", "fifths"): ("three", "fifths"),
    ("free", "eighths"): ("three", "eighths"), ("a", "couple", "hundred"): ("two", "hundred"), ("no", "point"): ("zero", "point"),
    ("thirdy",): ("thirty",), ("thirtey",): ("thirty",), ("twenny",): ("twenty",), ("twinty",): ("twenty",), ("fordy",): ("forty",),
    ("fitty",): ("fifty",), ("sixdy",): ("sixty",), ("sevendy",): ("seventy",), ("aidy",): ("eighty",), ("eighdy",): ("eighty",),
    ("nighty",): ("ninety",), ("nindy",): ("ninety",), ("hunnerd",): ("hundred",), ("hunnert",): ("hundred",), ("hundreth",): ("hundred",),
    ("purse", "sent"): ("percent",), ("purr", "sent"): ("percent",), ("perscent",): ("percent",), ("e", "leven"): ("eleven",),
    ("leven",): ("eleven",), ("elven",): ("eleven",), ("twelf",): ("twelve",), ("twelth",): ("twelve",), ("court", "hers"): ("quarters",),
    ("court", "her"): ("quarter",), ("courter",): ("quarter",), ("corters",): ("quarters",), ("sem", "tea"): ("seventy",),
    ("couple", "of", "hundred"): ("two", "hundred"), ("an", "eight"): ("an", "eighth"),
}  # fmt: skip
_SLIPS_BEFORE_A_NUMBER: dict[tuple[str, ...], str] = {
    ("to", "well"): "twelve", ("too", "well"): "twelve", ("two", "well"): "twelve", ("tu", "well"): "twelve",
    ("tell", "of"): "twelve", ("two", "of"): "twelve", ("to", "of"): "twelve", ("shelve",): "twelve", ("twelves",): "twelve",
    ("my", "nest"): "minus", ("my", "nurse"): "minus", ("mine", "as"): "minus", ("mind", "us"): "minus", ("mine", "its"): "minus",
    ("minis",): "minus", ("minas",): "minus", ("miners",): "minus", ("minors",): "minus", ("menace",): "minus", ("mynas",): "minus",
}  # fmt: skip
"""What these stand for when a point, or for a sign a number, follows them."""
_POINTS = frozenset({"paint", "joint", "pint", "points", "pointe", "appoint"})
"""What recognisers write for a point between two numbers."""
_BROKEN_TENS = {
    "twen": "twenty", "twin": "twenty", "thir": "thirty", "for": "forty", "four": "forty", "fore": "forty", "fif": "fifty",
    "fifth": "fifty", "six": "sixty", "sick": "sixty", "seven": "seventy", "eight": "eighty", "ate": "eighty", "nine": "ninety",
}  # fmt: skip
_BROKEN_TEENS = {
    "thir": "thirteen", "for": "fourteen", "four": "fourteen", "fif": "fifteen", "fifth": "fifteen", "six": "sixteen",
    "sick": "sixteen", "seven": "seventeen", "eight": "eighteen", "ate": "eighteen", "nine": "nineteen",
}  # fmt: skip
_MISHEARD = {
    "to": "two", "too": "two", "tu": "two", "for": "four", "fore": "four", "won": "one", "ate": "eight",
    "sick": "six", "dirty": "thirty", "thirsty": "thirty", "tin": "ten", "teen": "ten", "tan": "ten", "sevent": "seventy",
    "sixt": "sixty", "free": "three", "fife": "five", "nein": "nine", "heaven": "eleven", "fort": "forty", "forth": "fourth",
}  # fmt: skip
_MISHEARD_PARTS = {
    "eights": "eighths", "ates": "eighths", "aids": "eighths", "fits": "fifths", "fists": "fifths", "fifs": "fifths",
    "thirst": "thirds", "sirds": "thirds", "turds": "thirds", "birds": "thirds", "words": "thirds", "corners": "quarters", "corner": "quarter", "eight": "eighths",
}  # fmt: skip
_OF_PEOPLE = frozenset({"dirty", "thirsty", "sick", "free"})
"""What people aboard can be: "thirsty passengers" are no thirty."""
_BEFORE_BELOW = frozenset(
    "it is are at about around outside out now reads says shows temp temperature minus".split()
) | {""}
"""What stands before a temperature; "we won below" is none."""
_AFTER_A_NUMBER = frozenset(
    {
        "percent", "gallons", "gallon", "gal", "gals", "liters", "litres", "liter", "litre", "inches", "inch", "centimeters",
        "centimetres", "cm", "pounds", "pound", "lbs", "kilos", "kilograms", "kg", "volts", "volt", "amps", "amp", "psi", "bar",
        "degrees", "miles", "kilometers", "kilometres", "hours", "below", "celsius", "fahrenheit", "feet", "foot", "ppm",
        "point", "passengers", "aboard", "gallon's",
    }
)  # fmt: skip
_SMALL = {**{k: v for k, v in ONES.items() if k not in ("o", "oh")}, **TEENS, **TENS}
_DIGITS = re.compile(r"\d+")
_FIGURES = re.compile(r"[-+]?[\d.,]+")


def words_of(text: str) -> list[Word]:
    """The words of a text, opened, mended and in lower case; marks are words of their own."""
    even = text.translate(_SAME_LENGTH).lower()
    # Lowering a few letters of other scripts changes their number; places would then not fit the text.
    even = even if len(even) == len(text) else text.translate(_SAME_LENGTH)
    even = with_parts(_HYPHEN.sub(" ", _INITIALS.sub(" ", even)))
    words: list[Word] = []
    last_end = -1
    for match in _TOKEN.finditer(even):
        words.extend(_opened(match.group(), match.start(), match.end(), match.start() == last_end))
        last_end = match.end()
    return _mended(words)


def _opened(token: str, start: int, end: int, glued: bool) -> list[Word]:
    if token in _OPENED:
        return [Word(part, start, end, glued) for part in _OPENED[token]]
    if token in _VULGAR:
        return [Word(_VULGAR[token], start, end, glued)]
    if token[0].isdigit() and "/" in token:
        top, bottom = (int(part) for part in token.split("/"))
        if bottom not in WRITTEN_PARTS:
            cut = start + len(str(top))
            return [Word(str(top), start, cut, glued), Word("/", cut, cut), Word(str(bottom), cut + 1, end)]
        return [Word(f"{top}/{bottom}", start, end, glued)]
    if "'" not in token:
        return _parted(token, start, end, glued)
    if token.endswith("n't"):
        return [Word(token[:-3], start, end, glued), Word("not", start, end)]
    stem, _, tail = token.partition("'")
    if not stem:
        return [Word(token, start, end, glued)]
    if tail in _CONTRACTED:
        return [Word(stem, start, end, glued), Word(_CONTRACTED[tail], start, end)]
    return [Word(stem, start, end, glued, tail in ("s", ""))]


def _parted(token: str, start: int, end: int, glued: bool) -> list[Word]:
    """The word, or the words of a number written together: "ninetyfive"."""
    parts: list[Word] = []
    for part in apart(token):
        parts.append(Word(part, start, start + len(part), glued and not parts))
        start += len(part)
    return parts or [Word(token, start, end, glued)]


def _joined(words: Sequence[Word], texts: Sequence[str]) -> list[Word]:
    first, last = words[0], words[-1]
    return [Word(text, first.start, last.end, first.glued, last.owner) for text in texts]


def _mended(words: list[Word]) -> list[Word]:
    """The words with what recognisers make of numbers put right."""
    out: list[Word] = []
    i = 0
    while i < len(words):
        text = words[i].text
        following = words[i + 1].text if i + 1 < len(words) else ""
        for size in (3, 2, 1):
            mended = _SLIPS.get(tuple(word.text for word in words[i : i + size]))
            if mended and i + size <= len(words):
                out += _joined(words[i : i + size], mended)
                break
        else:
            size = 1
            if text == "negative":
                size = _signed(out, words, i)
            elif (slip := _before_a_number(words, i)) is not None:
                size, mended_word = slip
                out += _joined(words[i : i + size], [mended_word])
            elif following in ("tea", "tee", "ty", "t") and text in _BROKEN_TENS:
                out += _joined(words[i : i + 2], [_BROKEN_TENS[text]])
                size = 2
            elif following in ("teen", "tean") and text in _BROKEN_TEENS:
                out += _joined(words[i : i + 2], [_BROKEN_TEENS[text]])
                size = 2
            elif text == "k" and (not words[i].glued or words[i].owner):
                # "306k" is thousands, "200 k's" are kilometers.
                out += _joined(words[i : i + 1], ["km"])
            elif len(text) > 5 and text.endswith("ish") and text[:-3] in NUMBER_WORDS:
                out += _joined(words[i : i + 1], [text[:-3], "ish"])
            else:
                out.append(words[i])
        i += size
    return [word._replace(text=_in_context(out, k)) for k, word in enumerate(out)]


def _signed(out: list[Word], words: Sequence[Word], i: int) -> int:
    """Write "negative" as the sign it is, or leave it as the word that takes back what was said; the words used up.

    It takes back at the beginning, before a comma, and after an amount that has been told in full.
    """
    paused = i + 1 < len(words) and words[i + 1].text in ",.;:!?…—–"
    told = any(word.text in NUMBER_WORDS or word.text[0].isdigit() for word in out)
    unit = bool(out) and (out[-1].text in _AFTER_A_NUMBER or out[-1].text in PARTS)
    if (paused and (told or not any(word.text.isalpha() for word in out))) or (unit and not paused):
        out.append(words[i])
        return 1
    # "outside, negative, five" is a sign with a pause behind it.
    out += _joined(words[i : i + 1], ["minus"])
    return 2 if paused else 1


def _before_a_number(words: Sequence[Word], i: int) -> tuple[int, str] | None:
    """How many words from `i` are a slip for one, and which, judged by what follows."""
    for size in (2, 1):
        meant = _SLIPS_BEFORE_A_NUMBER.get(tuple(word.text for word in words[i : i + size]))
        after = words[i + size].text if i + size < len(words) else ""
        point = after in ("point", "dot", "decimal") or after in _POINTS
        number = after in _SMALL or after[:1].isdigit()
        if meant == "twelve" and (point or after in ("volts", "volt")):
            return size, meant
        before = words[i - 1].text if i else ""
        if meant == "minus" and number and before not in _SMALL and not before[:1].isdigit():
            return size, meant
    return None


def _in_context(words: Sequence[Word], k: int) -> str:
    """The word at `k`, or the number word it stands for between its neighbours."""
    text = words[k].text
    before = words[k - 1].text if k else ""
    after = words[k + 1].text if k + 1 < len(words) else ""
    if text in _MISHEARD_PARTS and (before in _SMALL or before in ("a", "an", "to", "too", "for", "free")):
        # "eight" is a part only after a small number and at the end of it: "five eight" may be 58.
        return text if text == "eight" and before != "an" else _MISHEARD_PARTS[text]
    if text in _POINTS and (before in _SMALL or before[:1].isdigit()) and (after in _SMALL or after[:1].isdigit()):
        return "point"
    if (
        text == "have"
        and after in ("a", "tank", "full", "empty", "way", "of", "")
        and before not in ("i", "we", "you", "they", "to", "that", "do", "still", "all", "and", "")
    ):
        # "fresh have a tank": the verb would follow a person.
        further = words[k + 2].text if k + 2 < len(words) else ""
        return "half" if after != "a" or further in ("tank", "bottle", "cylinder", "charge") else text
    if text not in _MISHEARD or (text in _OF_PEOPLE and after in ("passengers", "aboard")):
        return text
    part_next = after in PARTS or (after in _MISHEARD_PARTS and after != "eight")
    if part_next and text in ("to", "too", "for", "free", "won", "sick", "ate"):
        # "up to half" keeps its "to"; "to thirds" does not.
        return _MISHEARD[text] if after.endswith("s") or text in ("won", "free", "ate") else text
    if after in ("hundred", "thousand", "oh") or (after in _AFTER_A_NUMBER and after not in ("below",)):
        if text in ("to", "for") and before in ("down", "up", "close", "next", "gone", "dropped", "got", "went", "set"):
            return text
        return _MISHEARD[text]
    if before in TENS and text in ("to", "too", "for", "won", "ate", "sick", "free") and not after:
        return _MISHEARD[text]
    if before == "minus" or (before in ("point", "oh") and text in ("for", "to", "too", "won", "ate")):
        return _MISHEARD[text]
    if text in ("too", "won", "ate", "sick") and before in _SMALL and after in _SMALL:
        return _MISHEARD[text]
    if text in ("for", "ate", "won") and after == "below" and before in _BEFORE_BELOW:
        return _MISHEARD[text]
    if (
        text == "won"
        and (after in _SMALL or not after)
        and before not in ("we", "they", "i", "team", "who", "it", "have")
    ):
        return "one"
    if text == "too" and before in ("at", "about") and after in ("and", ""):
        return "two"
    return text


def _texts(words: Sequence[Word] | Sequence[str]) -> list[str]:
    return [word.text if isinstance(word, Word) else word for word in words]


def _piece(words: Sequence[str], i: int) -> tuple[int, str] | None:
    """The end and the figures of one spoken piece below a hundred: "twelve", "twenty five", "oh five", "7"."""
    if i >= len(words):
        return None
    word = words[i]
    if word in ("oh", "o", "zero", "nought", "naught"):
        after = words[i + 1] if i + 1 < len(words) else ""
        if word in ("oh", "o") and ONES.get(after, 0):
            return i + 2, f"0{ONES[after]}"
        return (i + 1, "0") if word != "o" else None
    if word in TENS:
        after = words[i + 1] if i + 1 < len(words) else ""
        if ONES.get(after, 0):
            return i + 2, str(TENS[word] + ONES[after])
        return i + 1, str(TENS[word])
    if word in _SMALL:
        return i + 1, str(_SMALL[word])
    if _DIGITS.fullmatch(word) and len(word) <= 2:
        return i + 1, word
    return None


LEAST_OF_HUNDREDS = 10
""" "Twelve hundred" and more is told of one thing; before it a digit counts things."""


def _group(words: Sequence[str], i: int) -> tuple[int, float, list[str]] | None:
    """The end, the value and the pieces of a number up to a scale word such as "thousand"."""
    word = words[i] if i < len(words) else ""
    after = words[i + 1] if i + 1 < len(words) else ""
    start, hundreds = i, 0
    if word in ("a", "an", "one") and after == "hundred":
        start, hundreds = i + 2, 100
    elif word in ("a", "an") and after in ("thousand", "million", "dozen"):
        return i + 1, 1, []
    elif word == "hundred":
        start, hundreds = i + 1, 100
    elif word in ("thousand", "million") and i == 0:
        return None
    elif _DIGITS.fullmatch(word) and len(word) > 2:
        end, figures = i + 1, word
        # Typed thousands set apart by a space: "306 012".
        while (
            len(word) <= 3 and end < len(words) and re.fullmatch(r"\d{3}", words[end]) and not figures.startswith("0")
        ):
            figures += words[end]
            end += 1
        if end < len(words) and words[end] == "hundred":
            return end + 1, int(figures) * 100, []
        return end, int(figures), [figures]
    else:
        first = _piece(words, i)
        if first is None or word in ("o", "oh") or (len(word) > 1 and word[0] == "0"):
            return None
        if first[0] < len(words) and words[first[0]] == "hundred" and int(first[1]) > 0:
            start, hundreds = first[0] + 1, int(first[1]) * 100
    if hundreds:
        j = start + 1 if start < len(words) and words[start] == "and" else start
        rest = _piece(words, j)
        if rest and not _is_part(words, rest[0]) and not rest[1].startswith("0"):
            return rest[0], hundreds + int(rest[1]), []
        return start, hundreds, []
    figures_list: list[str] = []
    while (piece := _piece(words, i)) and sum(map(len, figures_list)) + len(piece[1]) <= LONGEST:
        if figures_list and _is_part(words, piece[0]) and int(piece[1]) < 10:
            break
        counted = len(figures_list) == 1 and len(figures_list[0]) == 1 and int(piece[1]) >= LEAST_OF_HUNDREDS
        if counted and piece[0] < len(words) and words[piece[0]] == "hundred":
            break  # so many of so much: "two fifteen hundred watt heaters"
        figures_list.append(piece[1])
        i = piece[0]
    return i, int("".join(figures_list)), figures_list


def _is_part(words: Sequence[str], i: int) -> bool:
    return i < len(words) and words[i] in PARTS and words[i] not in ("half",)


def _whole(words: Sequence[str], i: int) -> tuple[int, float, list[str]] | None:
    """The end, the value and the pieces of a whole number, with scale words."""
    group = _group(words, i)
    if group is None:
        return None
    end, value, pieces_said = group
    total = 0.0
    scaled = False
    while end < len(words) and words[end] in SCALES:
        if words[end] == "k" and (end == 0 or not words[end - 1][-1].isdigit()):
            break
        scale = SCALES[words[end]]
        total += value * scale
        end, value, scaled = end + 1, 0, True
        j = end + 1 if end < len(words) and words[end] == "and" else end
        more = _group(words, j)
        if more is None or _is_part(words, more[0]):
            break
        if more[0] < len(words) and SCALES.get(words[more[0]], 0) >= scale:
            break  # "thirty thousand and twenty thousand" are two numbers
        end, value, _ = more
    if end < len(words) and words[end] == "dozen":
        return end + 1, value * 12, []
    return end, total + value, [] if scaled else pieces_said


def _part_after(words: Sequence[str], i: int) -> tuple[int, float] | None:
    """The end and value of a fraction that follows "and" or a whole number: "a half", "three quarter", "1/4"."""
    if i >= len(words):
        return None
    word = words[i]
    after = words[i + 1] if i + 1 < len(words) else ""
    written = re.fullmatch(r"(\d+)/(\d+)", word)
    if written and int(written[1]) < int(written[2]):
        return i + 1, int(written[1]) / int(written[2])
    if word in ("a", "an", "one") and after in PARTS:
        return i + 2, 1 / PARTS[after]
    if word == "half":
        return i + 1, 0.5
    if word in ("quarter", "quarters"):
        return i + 1, 0.25
    top = ONES.get(word) or (int(word) if word.isdigit() and len(word) == 1 else 0)
    if top and after in PARTS and top < PARTS[after]:
        return i + 2, top / PARTS[after]
    return None


def number_at(words: Sequence[str], i: int) -> Number | None:
    """The longest number that starts at word `i`, or None."""
    word = words[i]
    after = words[i + 1] if i + 1 < len(words) else ""
    written = re.fullmatch(r"(\d+)/(\d+)", word)
    if written:
        return Number(i, i + 1, int(written[1]) / int(written[2]), "fraction")
    article = word in ("a", "an")
    if article and after in PARTS:
        return _scaled_part(words, Number(i, i + 2, 1 / PARTS[after], "fraction"))
    if word in PARTS and not word.endswith("s"):
        # "Eighths" alone has lost its number.
        return _scaled_part(words, Number(i, i + 1, 1 / PARTS[word], "fraction"))
    if word in ("point", "dot") and (tail := _decimals(words, i + 1)):
        return Number(i, tail[0], float(f"0.{tail[1]}"), "decimal")
    if _FIGURES.fullmatch(word) and not _DIGITS.fullmatch(word):
        return _figures(words, i)
    whole = _whole(words, i)
    if whole is None:
        return None
    end, value, said = whole
    if article and end == i + 1:
        return None
    if end < len(words) and words[end] in ("point", "dot", "decimal") and (tail := _decimals(words, end + 1)):
        shown = f"{int(value)}.{tail[1]}"
        if tail[0] < len(words) and words[tail[0]] in SCALES:
            return Number(i, tail[0] + 1, float(shown) * SCALES[words[tail[0]]], "integer")
        return Number(i, tail[0], float(shown), "decimal")
    if end < len(words) and words[end] in PARTS and value >= 1:
        return _fraction(words, i, end, value, said)
    if end + 1 < len(words) and words[end] == "over" and words[end + 1] in ONES and value < 10:
        bottom = ONES[words[end + 1]]
        if bottom in WRITTEN_PARTS:
            return Number(i, end + 2, value / bottom, "fraction")
    joined_by_and = end < len(words) and words[end] == "and"
    part = _part_after(words, end + 1 if joined_by_and else end)
    if part and (joined_by_and or part[0] - end > 1 or words[part[0] - 1] not in ("half", "quarter", "quarters")):
        return Number(i, part[0], value + part[1], "mixed")
    return Number(i, end, value, "pieces" if len(said) > 1 else "integer")


def _figures(words: Sequence[str], i: int) -> Number | None:
    """A number written with a sign, a point or commas."""
    word = words[i]
    shown = word.replace(",", "") if re.search(r",\d{3}(?!\d)", word) else word.replace(",", ".")
    try:
        value = float(shown)
    except ValueError:
        return None
    kind = "decimal" if "." in shown else "integer"
    end = i + 1
    if kind == "integer" and end < len(words) and words[end] == "and" and (part := _part_after(words, end + 1)):
        return Number(i, part[0], value + part[1] * (-1 if value < 0 else 1), "mixed")
    if end < len(words) and words[end] in SCALES:
        return Number(i, end + 1, value * SCALES[words[end]], "integer")
    return Number(i, end, value, kind)


def _decimals(words: Sequence[str], i: int) -> tuple[int, str] | None:
    """The end and the figures after a spoken point."""
    figures, single = "", False
    while i < len(words) and len(figures) < 4:
        if words[i].isdigit() and words[i].isascii():
            figures += words[i]
            i += 1
            continue
        piece = _piece(words, i)
        if piece is None or (figures and single and len(piece[1]) > 1):
            break  # "one point two two, twenty hours": nobody says tens behind single figures
        figures, single = figures + piece[1], len(piece[1]) == 1
        i = piece[0]
    return (i, figures) if figures else None


def _fraction(words: Sequence[str], i: int, end: int, value: float, said: list[str]) -> Number:
    """A number that ends in a part: "seven eighths", "twenty two thirds", "eight three quarter"."""
    bottom = PARTS[words[end]]
    if len(said) == 1 and value > bottom and value % 10 and value > 20:
        # "twenty two thirds" is said of 20 and two thirds, never of 22 thirds.
        return Number(i, end + 1, value - value % 10 + (value % 10) / bottom, "mixed")
    if words[end] == "half" and value > 1:
        return Number(i, end, value, "pieces" if len(said) > 1 else "integer")
    return Number(i, end + 1, value / bottom, "fraction")


def _scaled_part(words: Sequence[str], found: Number) -> Number:
    """The fraction itself, or "half a million" and "half a dozen" worked out."""
    end = found.end + 1 if found.end < len(words) and words[found.end] in ("a", "of") else found.end
    scale = {**SCALES, "dozen": 12, "hundred": 100}.get(words[end], 0) if end < len(words) else 0
    return Number(found.start, end + 1, found.value * scale, "integer") if scale else found


def find_numbers(text: str | Sequence[Word] | Sequence[str]) -> list[Number]:
    """Every number of a text as (start, end, value, kind), by place in `words_of(text)`.

    Signs and "below zero" belong to the reading, not to the number, unless a minus is written before figures.
    """
    words = _texts(words_of(text) if isinstance(text, str) else text)
    found: list[Number] = []
    i = 0
    while i < len(words):
        number = number_at(words, i)
        if number is None or (number.end < len(words) and _ORDINAL.fullmatch(words[number.end])):
            i += 1
            continue
        found.append(number)
        i = number.end
    return found


def parse_number(text: str) -> float | None:
    """The value of a text that is one number and nothing else, or None. "minus twelve" and "twelve below" are negative."""
    words = _texts(words_of(text))
    minus = bool(words) and words[0] in ("minus", "-")
    words = words[1:] if minus else words
    if words and words[-1] == "below":
        minus, words = True, words[:-1]
    number = number_at(words, 0) if words else None
    if number is None or number.end != len(words):
        return None
    return -number.value if minus else number.value


def pieces(words: Sequence[str]) -> tuple[str, ...]:
    """The figures of each piece of a number spoken in pieces: "twelve six" gives ("12", "6")."""
    found: list[str] = []
    i = 0
    while i < len(words):
        piece = _piece(words, i)
        if piece is None:
            return ()
        found.append(piece[1])
        i = piece[0]
    return tuple(found)


def as_decimal(said: Sequence[str], low: float, high: float) -> float | None:
    """The number between `low` and `high` that two or more pieces give with a point after the first two figures.

    "twelve six" is 12.6 and "one two six" too, but "one twenty six" is not: nobody says a point that way.
    """
    if len(said) < 2:
        return None
    whole = said[0] if len(said[0]) == 2 else said[0] + said[1] if len(said[0]) == len(said[1]) == 1 else ""
    if not whole:
        return None
    rest = "".join(said)[len(whole) :]
    if not rest or len(rest) > 2:
        return None
    value = float(f"{whole}.{rest}")
    return value if low <= value <= high else None
