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
_YEAR = Lazy(r"(?<=\bsince )['’]\d\d\b|(?<=\bsince )(?:19[5-9]|20[0-3])\d\b(?! ?(?:hours|miles|mi|km|lbs?|pounds|btu|watts|w|gal|psi)\b)|(?<=\b(?:in|of) )['’]\d\d\b(?!['’])", re.IGNORECASE)  # fmt: skip
"""A year told in passing: "hauling hockey since '94"."""
_OCLOCK = Lazy(r"\bo ?['’]? ?clock\b", re.IGNORECASE)
_COUPLE = Lazy(
    r"\b(?:a |the |another |last )?couple (?:of )?(?=(?:more |good )?(?:hours?|hrs|days|nights|minutes|mins|gallons|gals|pounds|lbs|amps|feet|weeks|heaters|furnaces|bottles|cylinders|showers|flushes|cords|guys|people)\b)", re.IGNORECASE
)  # fmt: skip
_HALF = Lazy(
    r"\b(at|from|by|till|until|since|around|before|after) half (two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d{1,2})\b(?! (?:full|gallon|hour|pound|day|percent|inch|hundred|thousand))", re.IGNORECASE
)  # fmt: skip
_HALF_TOO = Lazy(
    r"\b(?<=to )half (two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b(?= (?:am|pm|tomorrow|tonight|tonite|this (?:morning|evening|afternoon)|in the|at night|next morning)\b)",
    re.IGNORECASE,
)
""" "From half nine to half eight tomorrow": behind "to" only where the time of day is told."""
_BARE_ONE = Lazy(
    r"(^|[,.;:] ?|\b(?:and|plus|be|at|in|about|after|for|there|with|by|is|another|figure|figuring|say|maybe|use|uses|using|burns?|burning|of|its|it's) )(hour|gallon|pound|inch|quart|litre|liter|mile|minute) and a (half|quarter)\b",
    re.IGNORECASE,
)
_SPEED_THEN_HOUR = Lazy(
    r"\b(at|averag\w+|doing|making|run|running|do) ((?:twenty|thirty|forty|fifty|sixty|seventy)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?|[2-7]\d) hour and a (half|quarter)\b",
    re.IGNORECASE,
)
_AND_A_HALF = Lazy(r"(?<=\w) (?:'?n'?|an|an') (?=(?:a (?:half|quarter|third)|half|three quarters?)\b)", re.IGNORECASE)
""" "Two n a half", "three an a half"."""
_SPACED_THOUSANDS = Lazy(r"(?<![\d.,:/])(?<!\d )(\d{1,3}) (000|\d00(?= ?btu))(?![\d.,:]*\d)", re.IGNORECASE)
_THOUSAND_BTU = Lazy(r"\b(\d+) ?(?:mbtuh?|mbh)\b", re.IGNORECASE)
"""The trade's M is a thousand."""


def _sub(pattern: Lazy, text: str, written: str) -> str:
    return re.sub(pattern.pattern, written, text, flags=re.IGNORECASE) if pattern.search(text) else text


def _one_and(found: re.Match[str]) -> str:
    """ "Figure gallon and a half": one and the part of it."""
    return f"{found[1]}{'an' if found[2][0] in 'hiHI' else 'a'} {found[2]} and a {found[3]}"


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
        said = _sub(_SPACED_THOUSANDS, said, r"\1,\2")
        said = _sub(_THOUSAND_BTU, said, r"\1k btu")
        said = _sub(_YEAR, said, "then")
    lowered = said.lower()
    if "c " in lowered or "t" in lowered:
        said = _sub(_STAMPS, said, r"\1\2")
    if "clock" in lowered:
        said = _sub(_OCLOCK, said, "oclock")
    if "couple" in lowered:
        said = _sub(_COUPLE, said, "two ")
    if "n" in lowered and ("half" in lowered or "quarter" in lowered or "third" in lowered):
        said = _sub(_AND_A_HALF, said, " and ")
    if "half" in lowered:
        said = _sub(_HALF, said, r"\1 half past \2")
        said = _sub(_HALF_TOO, said, r"half past \1")
    if "hour and a" in lowered:
        said = _sub(_SPEED_THEN_HOUR, said, r"\1 \2, an hour and a \3")
    if " and a " in lowered and _BARE_ONE.search(said):
        said = re.sub(_BARE_ONE.pattern, _one_and, said, flags=re.IGNORECASE)
    return said
