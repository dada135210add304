"""What holds beyond the end of a conversation: valves that were shut, and a coach kept off shore power after a tingle.

A terminal that is started anew in the morning must know it: the night's driver may be asleep.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue.types import State, ValvesShut
from cabassist.journal import Event, Journal

VALVES, TINGLED = "valves", "tingled"
"""Kinds of the events that tell it."""


def restored(state: State, journal: Journal, coach: str, before: str = "") -> State:
    """The state with what the journal last told of them, up to the event named `before`."""
    valves, tingle = (_last(journal, kind, coach, before) for kind in (VALVES, TINGLED))
    shut = valves is not None and bool(valves.payload.get("shut"))
    on = tingle is not None and bool(tingle.payload.get("on"))
    return replace(
        state,
        valves_shut=ValvesShut(valves.at, bool(valves.payload.get("leak"))) if valves is not None and shut else None,
        tingled=tingle.at if tingle is not None and on else None,
    )


def _last(journal: Journal, kind: str, coach: str, before: str) -> Event | None:
    """The newest event of a kind, of this coach; one that was erased tells nothing."""
    told = [event for event in journal.read(kind=kind) if event.coach == coach and (not before or event.id < before)]
    return told[-1] if told else None
