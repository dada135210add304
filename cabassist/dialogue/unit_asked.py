"""The unit of a level told as a bare number, of a tank that was told in gallons before: "def is seven", after "def nine gallons".

A bare number is usually percent, but whoever speaks in gallons goes on to. Seven percent and seven gallons of a small tank are
far apart, so the unit is asked, and nothing is stored until it is known. A correction keeps the unit of the entry it replaces.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import telling
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard, Reading

_UNITS = {"gal": "gallons", "L": "liters", "lb": "pounds"}
_SAYS_UNIT = Lazy(
    r"%|\b(?:per ?cent|out of|gal(?:lon)?s?|galons|lit(?:er|re)s?|pounds|lbs?|half|halves|thirds?|quarters?|fourths?|fifths?|eighths?|full|empty)\b"
)
OPENS = "Is that "
"""Begins the question."""
KEPT = timedelta(hours=12)
"""So long a unit that was used is still the one that may be meant."""
_PICKS = Lazy(
    r"^(?:(?:no|oh|it's|its|that's|it is|i mean|i meant|in|the|sorry|yeah|yes|um|uh|well|of course|make it) )*(?:[a-z0-9.]+ )?(?P<unit>gal(?:lon)?s?|galons|lit(?:er|re)s?|pounds|lbs|per ?cent|%)(?: (?:please|i mean|of course|now|left))*$"
)


def settled(heard: Heard, text: str, mind: Mind) -> Heard:
    """What was heard, a correction without a unit in that of the entry that it takes back: "no wait, diesel's eighty", of gallons."""
    if not heard.withdrawn or not heard.readings or _SAYS_UNIT.search(plain(text)):
        return heard
    kept = []
    for one in heard.readings:
        old = next((gone for gone in heard.withdrawn if (gone.what, gone.which) == (one.what, one.which)), None)
        unit = _UNITS.get(old.unit or "") if old is not None and one.unit == "percent" else None
        kept.append(_as(one, unit, text, mind) or one if unit else one)
    return replace(heard, readings=tuple(kept))


def _as(reading: Reading, unit: str, said: str, mind: Mind) -> Reading | None:
    """The same number in a unit; None where the tank cannot hold that."""
    name = " ".join(part for part in (reading.which, reading.what.replace("_", " ")) if part)
    again = mind.readings_in(f"{name} {reading.value:g} {unit}").readings if reading.value is not None else ()
    same = len(again) == 1 and (again[0].what, again[0].which) == (reading.what, reading.which)
    return replace(again[0], said=said) if same else None


def asked(state: State, text: str, heard: Heard, mind: Mind, now: datetime) -> Outcome | None:
    """The question in what unit a bare number is; None where it is told, or was never another than percent."""
    if len(heard.readings) != 1 or heard.withdrawn or heard.refused or (state.asking and state.asking.what != "resume"):
        return None
    one = heard.readings[0]
    unit = _unit_before(state, one, now)
    if one.unit != "percent" or one.value is None or not unit or _SAYS_UNIT.search(plain(text)):
        return None
    if _as(one, unit, text, mind) is None:
        return None
    amount = f"{one.value:g}"
    line = f"{OPENS}{amount} {unit} or {amount} percent?"
    lines = (line, f"  1. {unit}", "  2. percent")
    names = f"{one.which or ''} {one.what.replace('_', ' ')} {amount}|{unit}".strip()
    reply = Reply("clarify", line, lines, topic=state.walk.topic if state.walk else None, confidence=0.5)
    return Outcome(replace(state, asking=Asking("level", (), names, text), failures=0), reply)


def _unit_before(state: State, reading: Reading, now: datetime) -> str:
    """The unit other than percent in which this was told last, also where that entry has been taken back since."""
    told = {held.at: held.reading for note in state.undo for held in note.stored if _of(held.reading, reading)}
    told |= {held.at: held.reading for held in state.stored if _of(held.reading, reading)}
    newest = max(told, default=None)
    return _UNITS.get(told[newest].unit or "", "") if newest is not None and now - newest <= KEPT else ""


def _of(one: Reading, other: Reading) -> bool:
    return (one.what, one.which) == (other.what, other.which)


def answered(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The unit named right after the question, before "percent" is taken for a wish about the last number; else None."""
    asks = state.last is not None and state.last.kind == "clarify" and state.last.say.startswith(OPENS)
    return picked(state, text, None, mind, now) if asks and len(text.split()) <= _WORDS else None


_WORDS = 6


def picked(state: State, text: str, number: int | None, mind: Mind, now: datetime) -> Outcome | None:
    """The level in the unit that is named, right after the question; None for anything else."""
    asking = state.asking
    if asking is None or "|" not in asking.reading:
        return None
    level, _, unit = asking.reading.partition("|")
    named = _PICKS.match(plain(text))
    if number is not None:
        unit = {1: unit, 2: "percent"}.get(number, "")
    elif named is not None:
        unit = named["unit"]
    else:
        return None
    heard = mind.readings_in(f"{level} {unit}") if unit else Heard()
    if not heard.readings:
        return None
    return telling.told(heard, f"{asking.said}, {text}", replace(state, asking=None), mind, now)
