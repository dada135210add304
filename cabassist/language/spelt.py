"""Numbers as thumbs spell them: "haff", "thre", "sevn", "ninetyfive", "threequarters", "7 8ths".

Words of five letters and more that are one slip away from one of the vocabulary are put right with it
(`reading_terms.mended`). Here are the short ones, which have too many neighbours to be guessed from, those that are two
slips away, and numbers written in one word.
"""

from __future__ import annotations

import re
from functools import cache

_SHORT = {
    "half": "haff haf halff haalf hallf hafl hlaf ahlf harf halfe hafe halv haulf hawf hallff halfs hlf",
    "third": "thrid therd tird terd thid thirdd thrd", "thirds": "thrids tirds terds thirdds thrds",
    "fourth": "fouth fourht", "fourths": "forths fourts fouths foruths fourhts",
    "quarter": "qrtr qurtr quartre qtr", "quarters": "qrtrs qurtrs quartres qtrs", "eighths": "eigths eightths eigthts aiths",
    "three": "thre htree trhee threee therr thriee", "four": "foru fuor foour fourr fiur fuour", "five": "fve fivve fivee fiev ifve fiv",
    "six": "sxi siix sixx sics", "seven": "sevn seevn sevven sevun sevne seve", "eight": "eigt eght eihgt egiht eigght eigh",
    "nine": "nien niine nnine ninee nyne", "two": "twoo", "one": "oen onne",
    "ten": "tenn", "twelve": "twlve twleve", "fifty": "fify fity fivty", "sixty": "sixy siksty sikty", "forty": "fory frty",
    "twenty": "twnty", "ninety": "ninty nintey", "percent": "prcnt prct percnt percet perecnt prcent pecent percen pcnt",
}  # fmt: skip
_OF_TWO = {"mid way": "half", "a eigth": "a eighth", "an eigth": "an eighth", "one eigth": "one eighth", "1 eigth": "1 eighth"}  # fmt: skip
SLIPS: dict[tuple[str, ...], tuple[str, ...]] = {
    tuple(slip.split()): tuple(meant.split())
    for slip, meant in [
        *((slip, meant) for meant, slips in _SHORT.items() for slip in slips.split()),
        *_OF_TWO.items(),
    ]
}
"""Slips that mean a number wherever they stand."""

_WHOLE = frozenset(
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety"
    " hundred half third thirds quarter quarters fourth fourths fifth fifths sixth sixths eighth eighths tenth tenths".split()
)
_SLIPPED = frozenset(
    "fourty fourtey ninty eigths qtr qtrs quater quaters qarter qarters quarer forths thre sevn eigt eights tree free".split()
)
_BESIDE = frozenset("minus percent percnt full empty tank point volts gallons pounds left".split())
_SHORTEST = 6
_OF_PARTS = re.compile(r"(?<=\d) (?=\d{1,2}(?:ths|rds)\b)")


def with_parts(text: str) -> str:
    """The text, of the same length, with "7 8ths" as "7/8ths"."""
    return _OF_PARTS.sub("/", text) if "ths" in text or "rds" in text else text


@cache
def apart(word: str) -> tuple[str, ...]:
    """The words that one is written together from, the first a number or the last one: "ninetyfive", "halffull"; else none."""
    if len(word) < _SHORTEST or word in _WHOLE:
        return ()
    found = _apart(word)
    numbers = [one for one in found if one in _WHOLE or one in _SLIPPED]
    return found if len(found) > 1 and numbers else ()


def _apart(word: str) -> tuple[str, ...]:
    if word in _WHOLE or word in _SLIPPED or word in _BESIDE:
        return (word,)
    for cut in range(len(word) - 3, 2, -1):
        first = word[:cut]
        if first in _WHOLE or first in _SLIPPED or first in _BESIDE:
            rest = _apart(word[cut:])
            if rest:
                return (first, *rest)
    return ()
