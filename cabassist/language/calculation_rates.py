"""What an amount is a rate of, and amounts of one: "a minute", "per person", "a gallon takes thirty seconds"."""

from __future__ import annotations

from cabassist.language.calculation_people import EACH
from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import FACTORS, TEMPERATURE_SCALES, unit_phrases
from cabassist.language.numbers import number_at

_ARTICLE_UNITS = frozenset("gal L cup h min day mi in ft lb kg week floz qt pt tbsp tsp ton".split())


PER = {
    "minute": "min", "min": "min", "second": "s", "sec": "s", "hour": "h", "hr": "h", "h": "h", "day": "day", "night": "day",
    "degree": "deg", "deg": "deg", "°": "deg", "k": "degC", "kelvin": "degC", "c": "degC", "f": "degF", "gallon": "gallon", "gal": "gallon",
    "m": "min", "s": "s", "d": "day", "week": "week", "minutes": "min",
}  # fmt: skip


KM_L_IN_MPG = FACTORS["km"][1] / 1000 * FACTORS["mi"][1] / 1000 / FACTORS["gal"][1]
"""Kilometres to the litre of one mile to the gallon."""
_LITRE = frozenset("l liter litre".split())


def to_a_litre(texts: list[str], end: int) -> int:
    """The end of "per litre", "/L", "to the litre" behind kilometres, or 0."""
    size = 1 + (texts[end : end + 2] in (["to", "the"], ["to", "a"]))
    per = texts[end : end + 1] in (["per"], ["/"], ["a"]) or size > 1
    return end + size + 1 if per and texts[end + size : end + size + 1] and texts[end + size] in _LITRE else 0


_EVERY = frozenset("gal L qt pt cup lb kg percent in cm".split())
_SHORT_MIN = 15.0
_SEVERAL = 2.0


def _every_so_long(texts: list[str], amount: Amount) -> Amount | None:
    """ "A gallon every three hours", "two pounds every half hour"; "nine gallons every two hours" stays what is used in a time."""
    at = amount.end + 1
    one = texts[amount.start] in ("a", "an") and amount.value < _SEVERAL
    if amount.unit not in _EVERY or not (one or amount.unit in ("lb", "kg")):
        return None
    if amount.per or texts[amount.end] != "every" or at >= len(texts):
        return None
    span = number_at(texts, at)
    behind = span.end if span is not None else at + (texts[at : at + 1] == ["other"])
    behind += span is not None and span.kind == "fraction" and texts[behind : behind + 1] in (["a"], ["an"])
    count = 2.0 if span is None else span.value
    unit = PER.get(texts[behind].removesuffix("s")) if behind < len(texts) and len(texts[behind]) > 1 else None
    if behind == at or unit not in ("h", "min", "s", "day", "week") or count <= 0:
        return None
    if unit == "min" and count >= _SHORT_MIN:
        count, unit = count / 60, "h"
    return amount._replace(value=amount.value / count, per=unit, end=behind + 1)


def rate(texts: list[str], amount: Amount) -> Amount:
    """The amount with "a minute", "per person", "each" and the like taken in."""
    if amount.end < len(texts):
        amount = _every_so_long(texts, amount) or amount
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
        if word in ("each", "apiece") and ((after not in PER and after not in EACH) or _counts(texts, end + 1)):
            each, end = True, end + 1
        elif word == "daily":
            per, end = "day", end + 1
        elif word == "hourly":
            per, end = "h", end + 1
        elif not per and (spoken := _unarticled(texts, end, amount)):
            per, end = spoken, end + 2
        elif word in ("a", "an", "per", "each", "every", "/") and after in EACH and not each:
            each, end = True, end + 2
        elif (
            word in ("a", "an", "per", "each", "every", "/")
            and after in PER
            and not per
            and not (PER[after] == "gallon" and amount.unit not in ("mi", "km"))
        ):
            if (len(after) == 1 and word != "/" and after != "°") or texts[end + 2 : end + 3] == ["ago"]:
                break
            if amount.unit in ("h", "min", "day", "s") and PER[after] != "day":
                break
            per, end = PER[after], end + 2
            if per == "deg" and end < len(texts) and texts[end] in TEMPERATURE_SCALES:
                per, end = f"deg{TEMPERATURE_SCALES[texts[end]]}", end + 1
        elif (
            word in ("a", "an", "per", "every", "in", "in a")
            and texts[end + 1 : end + 3] in (["24", "hours"], ["twenty", "four"])
            and not per
        ):
            per, end = "day", end + (4 if after == "twenty" and texts[end + 3 : end + 4] == ["hours"] else 3)
        else:
            break
    return amount._replace(per=per, each=each, end=end)


def _counts(texts: list[str], at: int) -> bool:
    """Whether "one" begins a longer number: "two flushes each one point three gallons"."""
    number = number_at(texts, at) if texts[at : at + 1] == ["one"] else None
    return number is not None and number.end > at + 1


_A_FLUSH = frozenset({"flush"})
_MOST_A_FLUSH = 7.0
"""No toilet takes as many gallons a flush; a bare number of less is gallons."""


def a_flush(texts: list[str], amount: Amount) -> Amount:
    """ "One point six a flush" is gallons, though no unit is named."""
    end = amount.end
    per = texts[end : end + 1] and texts[end] in ("a", "per", "each", "every") and texts[end + 1 : end + 2]
    if amount.unit != "n" or not per or texts[end + 1] not in _A_FLUSH or not 0 < amount.value < _MOST_A_FLUSH:
        return amount
    return amount._replace(unit="gal")


_NO_ARTICLE = frozenset({"for", "by", "in"})
_FLOWS = frozenset("gal L qt lb kg BTU percent".split())


def _unarticled(texts: list[str], end: int, amount: Amount) -> str:
    """The time of "two gallon for minute", "40 liter by hour", as they say who learned English late; "" when it is none."""
    if texts[end] not in _NO_ARTICLE or amount.unit not in _FLOWS or amount.per or end + 1 >= len(texts):
        return ""
    if texts[end + 1] not in ("minute", "hour", "day") or (end + 2 < len(texts) and number_at(texts, end + 2)):
        return ""
    return PER[texts[end + 1]]


_LASTING = frozenset("in after for within about of takes took lasts is only another than".split())
_WHOLE = frozenset({"full", "whole", "solid"})
_TIMES = frozenset({"h", "min", "day", "week"})
_ASKED_BEFORE = frozenset({"times", "much", "psi", "many", "%"})
_FALLS = frozenset({"drop", "drops"})
_TAKEN = frozenset({"used", "burned", "burnt", "needed", "drawn"})


def _asked_rate(texts: list[str], i: int, end: int) -> bool:
    """ "What is it making an hour": the end of the question tells what the number is to be of, no time."""
    if texts[end : end + 1] and texts[end] not in (".", "?", ",", "if", "is", "was", "does", "when", "with", "while"):
        return False
    asked = [k for k in range(max(0, i - 8), i) if texts[k] in ("what", "how")]
    return bool(asked) and not any(number_at(texts, k) for k in range(asked[-1], i))


def _share_of_time(texts: list[str], i: int, found: list[Amount]) -> bool:
    """ "Per person a day", "gallons used an hour": what an answer is to be of, no time."""
    before = texts[max(0, i - 2) : i]
    if len(before) < 2 or (found and found[-1].end >= i - 1):
        return False
    each = before[1] in EACH and before[0] in ("per", "each", "every")
    return each or (before[1] in _TAKEN and before[0] in unit_phrases())


_SPENDS = frozenset("use burn spend have get draw drink eat".split())
_BURNS = frozenset("use burn draw drink eat using burning drawing drinking eating".split())
_HOLDS = frozenset({"have", "spend", "got"})
_ASKING = frozenset("what how much most can may could should might does each".split())
_SO_LONG = frozenset({"first", "last", "past", "next"})
_WITHIN = frozenset("in during over for within after".split())


def counted_off(texts: list[str], i: int) -> Amount | None:
    """ "In the first hour", "over the last hour and a half"."""
    if texts[i] not in ("the", "this") or not i or texts[i - 1] not in _WITHIN or texts[i + 2 : i + 3] != ["hour"]:
        return None
    if texts[i + 1] not in _SO_LONG:
        return None
    part = number_at(texts, i + 4) if texts[i + 3 : i + 4] == ["and"] and i + 4 < len(texts) else None
    if part is not None and part.kind == "fraction":
        return Amount(1 + part.value, "h", start=i, end=part.end)
    return Amount(1.0, "h", start=i, end=i + 3)


_BARE_UNITS = {"gallon": "gal", "quart": "qt", "pound": "lb", "pint": "pt"}
_CLAUSE = frozenset({",", ".", "and", "got", "with", "at"})


def _unsaid(texts: list[str], i: int, found: list[Amount]) -> bool:
    """ "Gallon and a quarter each", "gallon of cold water": one of it, though nobody said "a"."""
    if texts[i] not in _BARE_UNITS or (i and texts[i - 1] not in _CLAUSE) or (found and found[-1].end >= i):
        return False
    if texts[i + 1 : i + 2] == ["of"]:
        return not i or texts[i - 1] != "and"
    if texts[i + 1 : i + 3] not in (["and", "a"], ["and", "one"]) or i + 2 >= len(texts):
        return False
    part = number_at(texts, i + 2)
    return part is not None and part.kind == "fraction"


def article(texts: list[str], i: int, found: list[Amount]) -> Amount | None:
    """ "a gallon takes thirty seconds", "an hour and a half"."""
    if _unsaid(texts, i, found):
        part = number_at(texts, i + 2) if texts[i + 1] == "and" else None
        if part is None:
            return Amount(1.0, _BARE_UNITS[texts[i]], start=i, end=i + 1)
        return rate(texts, Amount(1 + part.value, _BARE_UNITS[texts[i]], start=i, end=part.end))
    if texts[i] not in ("a", "an") or i + 1 >= len(texts) or (found and found[-1].end > i):
        return None
    before = texts[i - 1] if i else ""
    first = i + 2 if texts[i + 1] in _WHOLE and before in _LASTING else i + 1
    for phrase, unit in unit_phrases().get(" ".join(texts[first : first + 1]), ()):
        end = first + len(phrase)
        if unit not in _ARTICLE_UNITS or tuple(texts[first:end]) != phrase or texts[first].endswith("s"):
            continue
        if first > i + 1 and (unit not in _TIMES or texts[end : end + 1] == ["of"]):
            continue
        one = Amount(1.0, unit, start=i, end=end)
        if unit in _TIMES and texts[end : end + 1] == ["ago"]:
            return one
        if unit in _TIMES and _share_of_time(texts, i, found):
            return None
        if unit not in _TIMES and (before not in unit_phrases() or before in _FALLS) and before not in _ASKED_BEFORE:
            rated = rate(texts, one)
            if rated.per:
                return rated  # "it drops an inch an hour"
        value = 1.0
        part = number_at(texts, end + 1) if texts[end : end + 1] == ["and"] and end + 1 < len(texts) else None
        if part is not None and part.kind == "fraction":
            value, end = 1 + part.value, part.end
        if unit in _TIMES and before in _HOLDS and not _ASKING & {*texts[max(0, i - 6) : i]}:
            return Amount(value, unit, start=i, end=end)  # "i have an hour and a half left"
        if unit in ("h", "day", "min", "week") and before in _SPENDS:
            return None  # "the most we may burn an hour"
        if unit == "h" and value == 1 and before == "in" and texts[i - 2] in _BURNS and _asked_rate(texts, i, end):
            return None  # "what do we burn in an hour"
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
        if before in unit_phrases() or before in _ASKED_BEFORE or before in ("it", "pays", "drops"):
            return None
        return rate(texts, Amount(value, unit, start=i, end=end))
    return None
