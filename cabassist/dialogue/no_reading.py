"""A figure told of something that is no reading was stored as one: "that's wrong, 62 is the thermostat" takes it back."""

from __future__ import annotations

from datetime import datetime, timedelta

from cabassist.dialogue import telling
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard

LATELY = timedelta(minutes=15)
_THINGS = r"(?:thermostat|heat(?:er|ing)?(?: setting)?|furnace(?: setting)?|setting|set ?point|dial|cabin(?: temp\w*)?|inside temp\w*|indoors?|room(?: temp\w*)?|bunks?|speed|speedometer|bunk number|room number|steps?|page|breaker)"
_CUES = ("thermostat", "heat", "furnace", "setting", "set point", "setpoint", "dial", "cabin", "inside temp", "indoor", "room", "bunk", "speed", "step", "page", "breaker")  # fmt: skip
_IS_ELSE = Lazy(
    rf"(?P<value>(?:minus |-)?\d+(?:\.\d+)?)(?: degrees?| f| fahrenheit| volts?)?(?:'s| is| was) (?:just |only |what |how )?(?:the |my |our |for the |on the |of the |in the )?{_THINGS}\b"
    rf"|\b(?:that|it)(?:'s| is| was) (?:just |only )?(?:the |my |our |for the |on the |of the )?{_THINGS}\b(?P<not>.*\bnot (?:the )?(?:outside|air|weather)\b)?"
)
_WRONG = Lazy(
    r"\b(?:no|nope|nah|wrong|not right|mistake|sorry|wait|not (?:the )?(?:outside|air|weather)|i meant|mixed up)\b"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading taken back whose figure belongs to something else; None for anything else."""
    said = plain(text)
    if not state.stored or "?" in text or not names_any(said, _CUES) or not _WRONG.search(said):
        return None
    found = _IS_ELSE.search(said)
    if found is None:
        return None
    value = found["value"].replace("minus ", "-") if found["value"] else None
    lately = [one for one in state.stored if now - one.at <= LATELY]
    if value is None:  # "that's the thermostat": only of what was told last
        lately = lately[-1:] if state.last is not None and state.last.kind == "reading" else []
    meant = [one.reading for one in lately if value is None or one.reading.value == float(value)]
    if not meant:
        return None
    return telling.told(Heard(withdrawn=(meant[-1],)), text, state, mind, now)
