"""Times and amounts as drivers jot them down, written out so that they are read like spoken ones.

"2130-0600" is from 21:30 to 6:00, "6h45" six hours and 45 minutes, "40->85%" from 40 to 85 percent, "a couple of hours"
two, "at half ten" half past ten.
"""

from __future__ import annotations

import re

from cabassist.language.lazy import Lazy

_HOUR = r"(?:[01]\d|2[0-3])"
_SPAN = Lazy(rf"(?<![\d.,:])({_HOUR})([0-5]\d) ?(?:-|–|to|till|until|thru|through) ?({_HOUR})([0-5]\d)(?![\d.,]*\d| ?(?:miles|mi|km|lb|lbs|pounds|btu|watts|w|gal)\b)", re.IGNORECASE)  # fmt: skip
_ZEROED = Lazy(r"(?<![\d.,:-])0(\d)([0-5]\d)(?![\d.,:]*\d)")
_OTHER_TIME = Lazy(rf"(?<![\d.,:])({_HOUR})([0-5]\d)(?= +\d|,? *(?:now|$))")
_HOURS_MINUTES = Lazy(r"\b(\d{1,2}) ?h ?([0-5]\d)\b(?! ?(?:gal|lb|a\b|v\b|w\b))", re.IGNORECASE)
_ARROW = Lazy(r" ?(?:->|→|=>) ?")
_STAMPS = Lazy(
    r"\b([wt])\.? ?([cw])\b\.?(?= (?:\d|is|of|[a-z]+ (?:\w+ )?(?:point|and|pounds|lb)|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety))",
    re.IGNORECASE,
)
_OCLOCK = Lazy(r"\bo ?['’]? ?clock\b", re.IGNORECASE)
_COUPLE = Lazy(
    r"\b(?:a |the |another |last )?couple (?:of )?(?=(?:more |good )?(?:hours?|hrs|days|nights|minutes|mins|gallons|gals|pounds|lbs|amps|feet|weeks|heaters|furnaces|bottles|cylinders|showers|flushes|cords|guys|people)\b)", re.IGNORECASE
)  # fmt: skip
_HALF = Lazy(
    r"\b(at|from|by|till|until|since|around|before|after) half (two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d{1,2})\b(?! (?:full|gallon|hour|pound|day|percent|inch|hundred|thousand))", re.IGNORECASE
)  # fmt: skip
_BARE_HOUR = Lazy(
    r"(^|[,.;:] ?|\b(?:and|plus|be|at|in|about|after|for|there|with|by|is|another) )hour and a (half|quarter)\b",
    re.IGNORECASE,
)


def _sub(pattern: Lazy, text: str, written: str) -> str:
    return re.sub(pattern.pattern, written, text, flags=re.IGNORECASE) if pattern.search(text) else text


def written_out(text: str) -> str:
    """The text with its shorthand for times and amounts in full."""
    said = text
    if any(mark in said for mark in "0123456789"):
        said = _sub(_ARROW, said, " to ")
        said = _sub(_SPAN, said, r" from \1:\2 to \3:\4")
        if _ZEROED.search(said):
            said = _sub(_ZEROED, said, r"0\1:\2")
            said = _sub(_OTHER_TIME, said, r"\1:\2")
        said = _sub(_HOURS_MINUTES, said, r"\1 h \2 min")
    lowered = said.lower()
    if "c " in lowered or "t" in lowered:
        said = _sub(_STAMPS, said, r"\1\2")
    if "clock" in lowered:
        said = _sub(_OCLOCK, said, "oclock")
    if "couple" in lowered:
        said = _sub(_COUPLE, said, "two ")
    if "half" in lowered:
        said = _sub(_HALF, said, r"\1 half past \2")
    if "hour and a" in lowered:
        said = _sub(_BARE_HOUR, said, r"\1an hour and a \2")
    return said
