"""Numbers that stand one after the other without a mark between them, as a recogniser writes them, set apart.

"left at six two hundred forty miles at fifty five two stops of twenty" tells an hour, a distance, a speed and a count of
stops. Read on, they would be 6, 2 and 240, or 552. A comma goes where the one must end for the other to make sense.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from cabassist.language.lazy import Lazy
from cabassist.language.numbers import ONES, TEENS, TENS, Word, number_at

_HOUR_BEFORE = frozenset({"at", "by", "until", "till", "since", "before", "about", "around", "after", "past", "left", "leave", "leaving", "off", "to", "from"})  # fmt: skip
_HOURS = {**{name: value for name, value in ONES.items() if value}, "ten": 10, "eleven": 11, "twelve": 12}
_MINUTES = (("oh", "five"), ("twenty", "five"), ("thirty", "five"), ("forty", "five"), ("fifty", "five"), ("five",), ("ten",), ("fifteen",), ("twenty",), ("thirty",), ("forty",), ("fifty",))  # fmt: skip
_FAR = frozenset("mile miles mi km kms kilometers kilometres klicks".split())
_MOST_FAR = 1600.0
"""No leg of a trip is longer; a distance above it is an hour and a distance read as one."""
_HALTS = frozenset("stop stops break breaks halts drivers legs".split())
_HALTED_FOR = frozenset("fuel rest meal lunch food coffee bathroom short quick long pit".split())
_MINUTE = frozenset("minute minutes min mins hour hours hr".split())
_FEW = frozenset(name for name, value in ONES.items() if 0 < value < 7)
_SMALL = frozenset({*ONES, *TEENS, *TENS})


def set_apart(words: Sequence[Word]) -> list[Word]:
    """The words with a comma wherever two numbers have run together."""
    texts = [one.text for one in words]
    if not any((a in _SMALL and b in _SMALL) or (a, b) == ("thousand", "hundred") for a, b in pairwise(texts)):
        return list(words)
    cuts = _between_hours(texts) | {cut for i in range(len(texts)) for cut in (_after_an_hour(texts, i), _before_halts(texts, i), _before_hundred(texts, i), _thousand_again(texts, i)) if cut}  # fmt: skip
    out: list[Word] = []
    for i, word in enumerate(words):
        if i in cuts:
            out.append(Word(",", word.start, word.start))
        out.append(word)
    return out


_NUMBER_WORDS = frozenset({*ONES, *TEENS, *TENS, "hundred"})


def _thousand_again(texts: Sequence[str], i: int) -> int:
    """The place of "and" between two numbers of thousands: "twenty one thousand five hundred and nine thousand"."""
    if texts[i] != "and" or not i or texts[i - 1] != "hundred":
        return 0
    back = i - 1
    while back >= 0 and texts[back] in _NUMBER_WORDS:
        back -= 1
    ahead = i + 1
    while ahead < len(texts) and texts[ahead] in _NUMBER_WORDS:
        ahead += 1
    twice = back >= 0 and texts[back] == "thousand" and i + 1 < ahead < len(texts) and texts[ahead] == "thousand"
    return i if twice else 0


_A_LIST = Lazy(r"\b(?:drove|driven|driving|worked|working|on duty|duty|hours?|hrs|days?|week|today|logged|logs?)\b")
_NO_LIST = Lazy(
    r"\b(?:odometer|odo|miles?|mi|km|kilomet\w+|mileage|meter|axles?|scales?|tires?|tyres?|psi|volts?|unit|serial|code|phone|dial|zip)\b"
)
"""Beside these a run of numbers is one that is read out."""
_LISTED = frozenset({name for name, value in {**ONES, **TEENS}.items() if value and value <= 16} | {"zero"})
_AND_A_PART = (("and", "a", "half"), ("and", "a", "quarter"), ("and", "three", "quarters"))
_SHORTEST, _SURELY = 3, 5


def _between_hours(texts: Sequence[str]) -> set[int]:
    """The places between the hours of "eight ten nine eleven seven ten and nine", which no number has for its pieces."""
    said = " ".join(texts)
    if _NO_LIST.search(said):
        return set()
    cuts: set[int] = set()
    at = 0
    while at < len(texts):
        starts: list[int] = []
        end = at
        while end < len(texts) and texts[end] in _LISTED:
            starts.append(end)
            end += 1
            end += 3 if tuple(texts[end : end + 3]) in _AND_A_PART else 0
        teens = any(texts[one] in TEENS for one in starts[1:])
        enough = _SURELY if not teens or not _A_LIST.search(said) else _SHORTEST
        hour = at > 0 and texts[at - 1] in _HOUR_BEFORE
        told = teens or _A_LIST.search(said) is not None
        if len(starts) >= enough and told and (not hour or len(starts) >= _SURELY):
            cuts.update(starts[1:])
        at = max(end, at + 1)
    return cuts


def _after_an_hour(texts: Sequence[str], i: int) -> int:
    """Where the distance begins in "at six two hundred forty miles" and "at five thirty three ten miles"; 0 for nowhere."""
    if texts[i] not in _HOURS or not i or texts[i - 1] not in _HOUR_BEFORE:
        return 0
    starts = [i + 1]
    starts += [i + 1 + len(minutes) for minutes in _MINUTES if tuple(texts[i + 1 : i + 1 + len(minutes)]) == minutes]
    for start in sorted(starts):
        if start == i + 1 and texts[start : start + 1] == ["hundred"]:
            continue  # "after six hundred and seven miles" tells no hour
        number = number_at(texts, start) if start < len(texts) else None
        far = number is not None and number.end < len(texts) and texts[number.end] in _FAR
        if number is not None and far and 15 <= number.value <= _MOST_FAR:
            return start
    return 0


def _before_halts(texts: Sequence[str], i: int) -> int:
    """Where the count begins in "fifty five two stops" and "sixty two fuel stops"; 0 for nowhere."""
    if texts[i] not in _FEW or not i or texts[i - 1] not in _SMALL:
        return 0
    following = texts[i + 1 : i + 5]
    named = following[1:] if following[:1] and following[0] in _HALTED_FOR else following
    if named[:1] and named[0] in _HALTS:
        return i
    length = number_at(texts, i + 1) if i + 1 < len(texts) else None
    if length is None:
        return 0
    after = texts[length.end : length.end + 2]
    return i if len(after) == 2 and after[0] in _MINUTE and after[1] in _HALTS else 0


def _before_hundred(texts: Sequence[str], i: int) -> int:
    """Where the second number begins in "six two hundred forty": what stands before a "two hundred" belongs to another."""
    if texts[i] == "hundred" and i and texts[i - 1] == "thousand":
        return i  # "furnace forty thousand, hundred pounder at a third"
    if texts[i] not in ONES or texts[i + 1 : i + 2] != ["hundred"] or not i:
        return 0
    before = texts[i - 1]
    return i if (before in ONES and before not in ("oh", "o", "zero")) or before in TEENS else 0
