"""The house battery read once more without its name: "it's twelve flat now", after "house bank twelve point two".

After a sum a bare number would be put into it. Volts are told by how they are said, flat or with tenths, and by lying near those
that were told; what may be the clock's or the weather's is asked back elsewhere.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import telling
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number

_WORD = "|".join(sorted(NUMBER_WORDS))
_AGAIN = Lazy(
    r"^(?:(?:ok|okay|so|and|well|now|right|hey|oh|uh|um|but|huh|damn|great) )*(?P<lead>(?:(?:it's|its|it is|it|she's|she is|that's|they're|we're|the (?:meter|gauge|display|needle|bank|battery)(?:'s)?|meter(?:'s)?|gauge(?:'s)?|voltage(?:'s)?|volts) )?(?:(?:is|are|at|on|to|down|up|back|only|just|already|reads?|reading|says?|shows?|showing|sitting|dropped|gone|sagged|fell|fallen|come|came|about|around|like|still) )*)"
    rf"(?P<number>\d{{2}}(?:\.\d{{1,2}})?|(?:{_WORD})(?: (?:point )?(?:{_WORD})){{0,4}})(?P<how> (?:flat|even|dead|exactly|on the nose|on the dot|volts?|v))*(?P<now> (?:now|already|again|at the moment|right now|here))*$"
)
_HOW = Lazy(r"\b(?:flat|even|dead|exactly|on the nose|volts?|v)\b|\d\.\d|\bpoint\b")
_MOVED = Lazy(r"\b(?:down|up|dropped|sagged|fell|fallen|voltage|volts|meter|bank|battery)\b")
SWING_V = 1.5
"""A 12 V bank moves no further between two looks, unless it is charged."""


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The volts stored; None where the battery was not the last thing read, or the number may be of something else."""
    if not state.stored or state.pending is not None or state.asking is not None or "?" in text:
        return None
    last = state.stored[-1].reading
    if last.what != "house_battery" or last.unit != "V" or last.value is None:
        return None
    said = plain(text)
    found = _AGAIN.match(said)
    value = parse_number(found["number"]) if found is not None else None
    if found is None or value is None:
        return None
    nominal = mind.coach.house_battery.volts
    if abs(value - last.value) > SWING_V * nominal / 12:
        return None
    summed = state.last is not None and state.last.kind == "calculation"
    tells_now = bool(found["now"]) or _MOVED.search(said) is not None
    if not (_HOW.search(said) or _MOVED.search(found["lead"])) or (summed and not tells_now):
        return None
    heard = mind.readings_in(f"house battery {found['number']} volts")
    if [(one.what, one.unit) for one in heard.readings] != [("house_battery", "V")]:
        return None
    flat = any(telling.is_flat(one, mind.coach) for one in heard.readings)
    topic = "house-battery-low" if flat else None
    return telling.told(heard, text, replace(state, failures=0), mind, now, topic)
