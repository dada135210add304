"""The board: every supply with its level, the age of that, the time left, when to act, and why.

One frozen value for the terminal, for programs and for the screen; the numbers come from `estimate/ledger.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from cabassist.dialogue import phrases
from cabassist.dialogue.types import Mind, State, Stored
from cabassist.journal.events import Event
from cabassist.language.plausibility import fraction_of_full, label, shown
from cabassist.language.reading_types import Reading

REMEMBERED = timedelta(days=14)
"""How long readings of earlier conversations count."""


@dataclass(frozen=True)
class BoardLine:
    """One supply as it stands. What is not known is None, and its words say what to tell."""

    what: str
    """Name of the reading: fresh, waste, propane, house_battery, diesel, def, or another tank's name."""
    which: str | None
    """The cylinder's role, else None."""
    name: str
    """What a driver calls it: "Fresh water", "Outside cylinder"."""
    level: float | None
    """Share of full now, 0–1: the last reading carried on by what is used."""
    level_words: str
    said_at: datetime | None
    """When the latest reading was said."""
    age_words: str
    left_h: float | None
    """Hours from `Board.at` until it is empty, or the waste tank at its limit; in the middle."""
    left_low_h: float | None
    """The same with a chance of one in ten that it comes sooner."""
    left_high_h: float | None
    """The same with a chance of one in ten that it comes later; None when it is beyond the hours looked at."""
    left_words: str
    """The time left in words, with its range; or what must be told to know it."""
    act_by: datetime | None
    """Fill or dump by then: the early end less a margin."""
    act_words: str
    history: tuple[tuple[datetime, float], ...] = ()
    """Levels as they were read, oldest first: moment, share of full."""
    forecasts: tuple[tuple[datetime, float], ...] = ()
    """How the forecast has moved: moment of each reading, hours left as forecast then."""
    why: tuple[str, ...] = ()
    """Working lines, results first; then what was assumed, and the source."""
    rate_words: str = ""
    """How fast it goes, with its range."""


@dataclass(frozen=True)
class Board:
    """Everything at one moment."""

    at: datetime
    lines: tuple[BoardLine, ...]


def board_of(state: State, mind: Mind, now: datetime) -> Board:
    """The board from the readings that stand."""
    return Board(now, tuple(_line(what, which, state, mind, now) for what, which in _supplies(mind)))


def stored_from(events: Iterable[Event], *, coach: str, since: datetime, until: datetime) -> tuple[Stored, ...]:
    """The readings of a coach that stand, from the journal's events, oldest first.

    Args:
        events: in the order in which they were added; kinds other than reading and withdrawn are passed over.
        coach: whose.
        since, until: both ends included.
    """
    standing: list[Stored] = []
    for event in events:
        if event.coach != coach or event.kind not in ("reading", "withdrawn"):
            continue
        reading = _reading_from(event.payload)
        if reading is None:
            continue
        if event.kind == "withdrawn":
            last = next((held for held in reversed(standing) if alike(held.reading, reading)), None)
            if last is not None:
                standing.remove(last)
        elif since <= event.at <= until:
            standing.append(Stored(reading, event.at))
    return tuple(standing)


def alike(a: Reading, b: Reading) -> bool:
    """Whether two readings are the same entry, however they were worded."""
    return (a.what, a.which, a.value, a.unit, a.flag) == (b.what, b.which, b.value, b.unit, b.flag)


def _reading_from(payload: Mapping[str, Any]) -> Reading | None:
    """A reading from its event; None when the event is not of the shape we know."""
    what, value = payload.get("what"), payload.get("value")
    if not isinstance(what, str) or not (value is None or isinstance(value, (int, float))):
        return None
    return Reading(
        what,
        payload.get("which"),
        None if value is None else float(value),
        payload.get("unit"),
        approx=bool(payload.get("approx")),
        flag=payload.get("flag"),
        counted_from=payload.get("from"),
        said=str(payload.get("said", "")),
    )


def _supplies(mind: Mind) -> list[tuple[str, str | None]]:
    """What this coach has, in the order of the board."""
    coach = mind.coach
    found: list[tuple[str, str | None]] = [(tank.name, None) for tank in coach.tanks]
    found += [("propane", c.role) for c in coach.propane.cylinders if c.role != "spare"]
    found += [("house_battery", None), ("diesel", None)]
    return [*found, ("def", None)] if coach.diesel.def_capacity_gal else found


def _line(what: str, which: str | None, state: State, mind: Mind, now: datetime) -> BoardLine:
    history = tuple(
        (held.at, share)
        for held in state.stored
        if held.reading.what == what and (which is None or held.reading.which == which)
        if (share := fraction_of_full(held.reading, mind.coach)) is not None
    )
    name = label(what, which)
    if not history:
        return BoardLine(what, which, name, None, "not read yet", None, "", None, None, None, "", None, "")
    at, level = history[-1]
    words = shown(round(100 * level), "percent")
    return BoardLine(what, which, name, level, words, at, phrases.ago(at, now), None, None, None, "", None, "", history)
