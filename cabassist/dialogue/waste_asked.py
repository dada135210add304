"""Drains that are slow or gurgle, and where the waste may be emptied: both are about the waste tank without asking how it is done.

A full tank, or ice in a vent or a line, holds the water in a sink or shower back; no procedure is opened on that guess, the level is
looked at first. Where a dump station is nobody aboard can know, but what kind of place takes waste is always said.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import properties, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_DRAINS = r"(?:sinks?|showers?|basins?|drains?|(?:shower )?(?:tray|pan|stall|floor)|wash ?basin|plug ?hole|tub)"
_CUES = ("sink", "shower", "basin", "drain", "tray", "tub", "plughole", "plug hole")
_SLOW = Lazy(
    rf"\b{_DRAINS}\b(?: [\w']+){{0,5}}? (?:gurgl\w*|glug\w*|burp\w*|bubbl\w*|back(?:s|ed|ing)? up|(?:drain|empt|clear)\w*(?: \w+)? (?:slow\w*|bad\w*)|slow(?:ly)?(?: to drain)?|won't (?:drain|empty|clear|go down)|(?:isn't|not|barely|hardly|doesn't|does not|never|stopped) (?:drain|empty|clear|going down|go down)\w*|(?:is|are|stays?|still)? ?(?:full of|holding|holds|standing) (?:\w+ )?water|clogged|blocked)\b"
    rf"|\b(?:gurgl\w*|glug\w*|burp\w*|bubbles|slow) (?:\w+ ){{0,4}}?{_DRAINS}\b|\bwater (?:\w+ )?(?:stands|sits|stays|comes up|won't go down|backs up|rises|pools)(?: \w+){{0,4}} {_DRAINS}\b"
)
_OTHER = Lazy(
    r"\b(?:how (?:do|can|should) (?:i|we)|bleach|winteri\w*|antifreeze|freez\w*|frozen|hose|valve|gas|smoke|bay|overflow\w*|spill\w*|floor is wet)\b"
)
_SLOW_LINE = "A waste tank that is full does that, or ice in its vent or line (common practice). Use no water there until you have looked."
_PLACE = (
    r"(?:where|what (?:kind of |sort of )?places?|which places?|is there (?:a|any) (?:place|spot)s?|any(?:place|where))"
)
_MAY_DUMP = Lazy(
    rf"\b{_PLACE}(?:'s|s)?(?: [\w']+){{0,6}}? (?:dump(?:ed|ing)?|empt(?:y|ied|ying)|discharge|get rid of|let (?:it )?out|drain(?:ed)?|offload)\b(?: [\w'/:]+){{0,10}}$"
)
_ALLOWED = Lazy(
    r"\b(?:allow\w*|legal\w*|permit\w*|may|can|could|lets?|takes?|accepts?|open|around here|near(?:by|est)?|close(?:st)?|do (?:i|we))\b"
)
_WASTE = ("waste", "sewage", "black", "holding", "toilet", "dump", "gray water", "grey water", "septic")
_KINDS = "I know no places by name. A dump station, RV park or truck stop that takes coach waste may (common practice); ask its staff first."


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What a slow drain may mean, or where waste may go with the way to do it; None for anything else."""
    said = plain(text)
    if names_any(said, _CUES) and _SLOW.search(said) and not _OTHER.search(said):
        return properties.told(state, _SLOW_LINE, mind, topic="check-waste-level", said=text)
    if not names_any(said, _WASTE) or not _MAY_DUMP.search(said) or not _ALLOWED.search(said):
        return None
    topic = "dump-waste-tank"
    if topic not in mind.knowledge.ids or any(walk.topic == topic for walk in state.walks):
        return properties.told(state, _KINDS, mind)
    outcome = walking.open_walk(topic, replace(state, asking=None), mind, now, 0.9, text)
    reply = outcome.reply
    return outcome._replace(reply=replace(reply, say=f"{_KINDS} {reply.say}", show=(_KINDS, *reply.show)))
