"""A bare figure beside the battery that can only be volts, with its unit put in: "battery says 12.2, how long at 20 amps".

Without it the figure is free to be put down as a share of the charge or as amps, and the hours come out wrong.
"""

from __future__ import annotations

import re

from cabassist.dialogue.types import Mind
from cabassist.language.lazy import Lazy
from cabassist.language.plausibility import BATTERY_V

_BESIDE = Lazy(
    r"\b(?P<lead>(?:batter(?:y|ies)|(?:battery |house )?bank)(?:'s|s)?(?: (?:meter|gauge|monitor|voltage))?(?: (?:is|are|was|says?|said|reads?|reading|shows?|showing|at|sits?|sitting|only|now|down|to|still|about|around)){1,4} )(?P<volts>\d{2}\.\d{1,2})"
    r"(?!\d|\.\d| ?(?:%|v\b|volts?|amps?|a\b|ah\b|amp|hours?|per ?cent|degrees|percent|feet|k?w))",
)


_ASKED = Lazy(r"\bhow (?:long|many|much)\b|\bwill (?:it|that|they) last\b|\bwhen (?:is|will)\b", re.IGNORECASE)


def spoken_out(text: str, mind: Mind) -> str:
    """The text with "volts" behind such a figure."""
    low, high = BATTERY_V[mind.coach.house_battery.volts]
    found = _BESIDE.search(text.lower())
    if found is None or _ASKED.search(text) is None or not low <= float(found["volts"]) <= high:
        return text
    return f"{text[: found.end()]} volts{text[found.end() :]}"
