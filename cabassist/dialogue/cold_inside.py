"""What the cold explains is no peril of the air, however like one it is found: a furnace that lags, somebody chilled to the bone.

To send a team out into deep cold for a furnace is a peril of its own; who has stopped shivering needs warmth and the emergency services.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_COLD_INSIDE = Lazy(
    r"\b(?:thermostat|dial|furnaces?|heat(?:er|ers|ing)?|cabin|bunks?|bunk area|inside|in here|back there|in the back|set (?:it )?(?:for|to|at))\b"
)
_HOW_COLD = Lazy(
    r"\b(?:only|just|down to|dropp(?:ed|ing)|fell|falling|still|but(?: it's)?|barely|cold|freezing|chilly|says?|reads?|shows?)\b.*\b\d{1,2}\b|\b\d{1,2}\b.*\b(?:only|just|but|cold|freezing|chilly)\b"
)
_ILL = Lazy(
    r"\b(?:sick|dizz\w*|head\w*|ill|sleepy|drows\w*|groggy|faint\w*|nause\w*|vomit\w*|throw\w*|puk\w*|pass(?:ed|ing) out|alarm\w*|detector\w*|beep\w*|chirp\w*|smell\w*|smok\w*|gas|fumes?|exhaust|co|monoxide|ppm|won't wake|can't wake|confus\w*|weird|funny|woozy|yawn\w*|tired|queasy|green|pale|cherry|blue|burn\w*|hot|melt\w*|spark\w*|shock\w*|hurt\w*|sting\w*|tingl\w*|zap\w*|buzz\w*|prick\w*|bit(?:e|es|ing)?)\b"
)


_IN_BUNKS = Lazy(
    r"^(?:(?:so|ok|and|it's|there's|there are|we have|about|only|just|had a look) )*(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?: (?:degrees|people|kids|players|guys|asleep|sleeping|lying|still|of us|of them))* (?:back )?in the bunks?(?: (?:area|now|tonight|back there))*$"
)
"""How many lie in the bunks, or how warm it is there, and nothing else."""


def only_cold_inside(text: str) -> bool:
    """Whether a text says how cold it is inside, or how many lie in the bunks, and nothing of anybody ill, an alarm, a smell or heat."""
    said = plain(text)
    if _IN_BUNKS.match(said):
        return True
    return _COLD_INSIDE.search(said) is not None and _HOW_COLD.search(said) is not None and _ILL.search(said) is None


_CHILLED = Lazy(
    r"\b(?:stopped|stops|quit|no longer|not even|isn't even) shivering\b|\bshiver\w*\b.{0,60}\b(?:outside|out there|snow|socks|cold|wet|lake|creek|walked?)\b|\b(?:outside|out there|snow|socks|cold|wet|lake|creek)\b.{0,60}\bshiver\w*\b"
)
_OF_AIR = Lazy(
    r"\b(?:alarm\w*|detector\w*|beep\w*|smell\w*|smok\w*|gas|fumes?|exhaust|co|monoxide|ppm|headaches?|head hurts|everyone|everybody|all of (?:us|them)|several|half of)\b"
)


def is_chilled(text: str) -> bool:
    """Whether somebody is told to be too cold to shiver, or shivers from outside, and nothing of the air is told."""
    said = plain(text)
    return _CHILLED.search(said) is not None and _OF_AIR.search(said) is None
