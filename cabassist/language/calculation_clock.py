"""Times of day in a calculation question: "7:10", "8 am", "ten past nine", "2130"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import LETTERS, unit_phrases
from cabassist.language.lazy import Lazy
from cabassist.language.numbers import Number, number_at, pieces

_DAYTIME = re.compile(
    r"(?:o'?clock )?(?P<am>am\b|in the morning|this morning|tomorrow morning)|(?:o'?clock )?(?P<pm>pm\b|(?:this|tomorrow|in the) (?:evening|afternoon)"
    r"|tonight|tonite|at night|last night|last nite|yesterday (?:evening|afternoon|night)|tomorrow night)|o'?clock|sharp\b|on the (?:dot|nose)\b"
)


_OF_A_DAY = Lazy(
    r"(?:on )?(?:mon|tues|wednes|thurs|fri|satur|sun)day (?:(?P<am>morning)|(?P<pm>afternoon|evening|night))\b"
)
""" "half past five friday evening": the day stands between the hour and its half of the day."""
_TIMED_BEFORE = frozenset({"at", "by", "until", "till", "since", "from", "before", "after", "around"})


_DAYTIME_BEFORE = re.compile(
    r"(?:last (?:night|nite|evening)|yesterday (?:evening|afternoon)|tonight|this (?:evening|afternoon)"
    r"|(?P<am>this morning|yesterday morning|tomorrow morning)) at$"
)
""" "last night at nine": the half of the day stands before the hour."""


_LEAVES = frozenset({"leaving", "leave", "departing", "depart", "departure", "starting", "by", "until", "till"})


_HALF_DAY_H, _DAY_H = 12.0, 24.0
_SMALL_HOURS = 1.0
"""Until then "tomorrow" is still the day that has just begun."""


def spans(firsts: Iterable[float], lasts: Iterable[float], next_day: bool = False) -> list[float]:
    """Hours from each time of day on to each later one, of the next day if that was said."""
    return [
        (last - first) % _DAY_H + (_DAY_H if next_day and last % _DAY_H >= first % _DAY_H >= _SMALL_HOURS else 0.0)
        for first in firsts
        for last in lasts
    ]


_BY_24 = re.compile(r"(?:1[3-9]|2[0-3]|0\d):\d\d")


_TWO_FIGURES = Lazy(r"1[0-2]:\d\d")
_TIMED = Lazy(r"\d{1,2}:\d\d|am|pm|a\.m\.?|p\.m\.?|o'?clock|noon|midday|midnight|tonight|tonite|evening|afternoon")
""" "Until 10:00" is told by 24 hours where nothing else tells a time of day, or its half."""


def clock_written(texts: list[str], i: int) -> Amount | None:
    """A time of day: "7:10", "8 am", "seven thirty tonight", "noon", "until 11 tomorrow".

    The half of the day is known from thirteen on, of "10:00" where no other time is told, and of "9:00" where another is told by 24 hours.
    """
    found = _clock_at(texts, i) or _hour_of_tomorrow(texts, i) or _hour_it_is(texts, i) or _one_of_a_span(texts, i)
    if found is None:
        return None
    around = texts[max(0, i - 2) : i]
    tomorrow = "tomorrow" in texts[i : found.end + 1] or around[1:] == ["tomorrow"] or around == ["tomorrow", "at"]
    tomorrow = tomorrow or texts[max(0, i - 3) : i] == ["tomorrow", "morning", "at"]
    by_24 = ":" in texts[i] and (found.value < 1 or any(_BY_24.fullmatch(text) for text in texts))
    by_24 = by_24 or (_TWO_FIGURES.fullmatch(texts[i]) is not None and not any(_TIMED.fullmatch(text) for k, text in enumerate(texts) if k != i))  # fmt: skip
    sure = by_24 or found.value > _HALF_DAY_H + 1 - 1e-9 or (tomorrow and found.value >= _HALF_DAY_H)
    return found._replace(pieces=() if sure else found.pieces, tomorrow=tomorrow)


_UNTIL = frozenset({"until", "till", "til", "by", "before"})


def _hour_of_tomorrow(texts: list[str], i: int) -> Amount | None:
    """ "Before 11 tomorrow"."""
    number = number_at(texts, i) if i and texts[i - 1] in _UNTIL else None
    if number is None or number.kind != "integer" or texts[number.end : number.end + 1] != ["tomorrow"]:
        return None
    return Amount(number.value, "clock", start=i, end=number.end, pieces=("?",)) if 1 <= number.value <= 12 else None


_IT_IS = Lazy(r"\b(?:it|time)(?: ' s| is| now| right| already)*$|\bnow(?: it)?(?: is| ' s)?$")
_NOW = Lazy(r"^(?:right now|just now|now|already|at the moment|as we speak)\b")
_NO_CLOCK = Lazy(r"\b(?:psi|bar|volts?|v|volt\w*|tires?|tyres?|pressure|battery|batteries|amps?|watts?|tanks?|gauge|percent|axles?|scales?|pounds?|lbs?|miles|odometer|rpm|hydrant|bottle|cylinder|gallons?|fresh|waste|black|grey|gray)\b")  # fmt: skip
"""Beside these "it's one ten now" may be a pressure, a voltage or a weight."""
_OFF_OR_ON = Lazy(
    r"\b(?:off|duty|shift|asleep|sleep\w*|slept|bunk|berth|nap\w*|rest\w*|breaks?|drove|driving|driven|wheel|parked|worked|loading|loaded|waiting|waited|closed|open|shut|quiet hours)(?: \w+){0,3}$"
)
_HOURS_AFTER = frozenset({"to", "till", "until"})


def _hour_and_minutes(texts: list[str], i: int) -> tuple[float, int] | None:
    """The time that "eleven thirty", "one oh five" or "seven" tells, and its end; None where a unit follows."""
    number = number_at(texts, i)
    if number is None or number.kind not in ("integer", "pieces") or (number.end < len(texts) and _measures(texts[number.end])):  # fmt: skip
        return None
    said = pieces(texts[i : number.end])
    if len(said) == 1 and 1 <= int(said[0]) <= _HALF_DAY_H:
        return float(said[0]), number.end
    if len(said) != 2 or not 1 <= int(said[0]) <= _HALF_DAY_H or len(said[1]) != 2 or int(said[1]) >= 60:
        return None
    return int(said[0]) + int(said[1]) / 60, number.end


def _hour_it_is(texts: list[str], i: int) -> Amount | None:
    """ "It's eleven thirty now": hour and minutes beside "now"; "it's one oh five now" of a tire is none."""
    told = _hour_and_minutes(texts, i) if i else None
    if told is None or told[0] % 1 == 0 or _NO_CLOCK.search(" ".join(texts)):
        return None
    before = " ".join(texts[max(0, i - 4) : i])
    now = "now" in texts[max(0, i - 4) : i] or _NOW.search(" ".join(texts[told[1] : told[1] + 3]))
    if not _IT_IS.search(before) or not now:
        return None
    return Amount(told[0], "clock", start=i, end=told[1], pieces=("?",))


def _one_of_a_span(texts: list[str], i: int) -> Amount | None:
    """Either end of "off duty from one till four", where the words before tell that it is a time on or off duty."""
    told = _hour_and_minutes(texts, i) if i else None
    if told is None:
        return None
    if texts[i - 1] == "from":
        start = i - 1
        last = told[1] + 1
        if last >= len(texts) or texts[last - 1] not in _HOURS_AFTER:
            return None
        if _clock_at(texts, last):
            return Amount(told[0], "clock", start=i, end=told[1], pieces=("?",))
        if _hour_and_minutes(texts, last) is None:
            return None
    elif texts[i - 1] in _HOURS_AFTER:
        start = next((k for k in range(i - 2, max(-1, i - 9), -1) if texts[k] == "from"), -1)
        first = _hour_and_minutes(texts, start + 1) if start >= 0 else None
        if first is None or first[1] != i - 1:
            return None
    else:
        return None
    if not _OFF_OR_ON.search(" ".join(texts[max(0, start - 5) : start])):
        return None
    return Amount(told[0], "clock", start=i, end=told[1], pieces=("?",))


def _clock_at(texts: list[str], i: int) -> Amount | None:
    """A time of day as it is written at a place."""
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
    if match is not None and not written and hour % 1 and texts[i].isdigit() and _OF_TIRES.search(" ".join(texts[max(0, i - 6) : i])):  # fmt: skip
        return None  # "the tires were 115 this morning"
    noon_said = match is not None and match[0].startswith(("am", "pm"))
    # by 24 hours: "0600 tonight" is past midnight
    if written and not noon_said and (written[1][0] == "0" or written[0].isdigit()):
        end += len(match[0].split()) if match else 0
        return Amount(hour, "clock", start=i, end=end) if hour < 24 else None
    degrees = texts[end : end + 1] and texts[end] in ("below", "above", "degrees", "under")
    told = None if match or degrees else _DAYTIME_BEFORE.search(" ".join(texts[max(0, i - 3) : i]))
    if told is not None and 1 <= hour < 13 and not (texts[end : end + 1] and _measures(texts[end])):
        return Amount(hour % 12 + (0 if told["am"] else 12), "clock", start=i, end=end)
    of_day = _OF_A_DAY.match(" ".join(texts[end + len(match[0].split()) if match else end :][:4]))
    if match is None and not written and (of_day is None or not i or texts[i - 1] not in _TIMED_BEFORE):
        return None
    if match and not noon_said and not written and _READ_BEFORE.search(" ".join(texts[max(0, i - 16) : i])):
        return None  # "was eighteen inches this morning and eleven tonight"
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
    if match and not noon_said and not written and _in_hours(texts, i):
        return None
    if match:
        end += len(match[0].split())
        known = bool(match["am"] or match["pm"])
        if match["pm"] and hour < 12 and not (match["pm"] in ("tonight", "at night", "last night") and hour < 4):
            hour += 12
        if match["am"] and hour >= 12:
            hour -= 12
    if of_day is not None and not known:
        known, hour = True, _in_half(hour, of_day)
    if hour >= 24:
        return None
    return Amount(hour, "clock", start=i, end=end, pieces=() if known else ("?",))


_READ_BEFORE = Lazy(
    r"\b(?:inches|inch|gallons|percent|pounds|psi)\b.*\b(?:this morning|yesterday(?: \w+)?|last night|this afternoon|at noon|at breakfast)(?: ,)?(?: (?:and|but|then|now|is|it|only|just|about|down to))+$"
)
"""Before an hour these make it a second reading, the part of the day told behind as behind the first."""


def _in_hours(texts: list[str], i: int) -> bool:
    """Whether a number stands behind so many hours and tells their minutes: "six hours fifteen last night"."""
    return i > 1 and texts[i - 1] in ("hours", "hour", "hrs", "hr") and number_at(texts[: i - 1], i - 2) is not None


def _in_half(hour: float, day: re.Match[str]) -> float:
    """An hour of the clock in the half of the day that stands behind its day."""
    if day["am"]:
        return hour % _HALF_DAY_H if hour < _HALF_DAY_H + 1 else hour
    small = day["pm"] == "night" and (hour < 4 or hour >= _HALF_DAY_H)
    return hour + _HALF_DAY_H if hour < _HALF_DAY_H and not small else hour


_OF_TIRES = Lazy(
    r"\b(?:tires?|tyres?|fronts|rears|duals?|steers?|drives|tags?|psi|pressures?|inner|outer)(?: (?:tires?|tyres?|all|both|was|were|is|are|at|read|reads|showed|shows|had|about|around))* $|\b(?:tires?|tyres?|fronts|rears|duals?|steers?|drives|tags?|psi|pressures?|inner|outer)(?: (?:tires?|tyres?|all|both|was|were|is|are|at|read|reads|showed|shows|had|about|around))*$"
)
"""Before three figures these make them a pressure, also where the time of day is told behind."""
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
    return word in unit_phrases() or word in LETTERS or word in ("a", "an", "per", "%", "/")


_AT_AN_HOUR = frozenset({"it", "at", "until", "till", "by", "since", "around", "before", "about", "clock"})
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
    known = match is not None and bool(match["am"] or match["pm"])
    of_day = None if known else _OF_A_DAY.match(" ".join(texts[end : end + 4]))
    if of_day is not None:
        known, value = True, _in_half(value, of_day)
    return Amount(value, "clock", start=i, end=end, pieces=() if known else ("?",))
