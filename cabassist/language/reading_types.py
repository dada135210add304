"""What comes out of listening to a report: readings, refusals and what no longer stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Reading:
    """One value somebody read off, with value and unit as said."""

    what: str
    which: str | None
    value: float | None
    """None when only a position was told: a needle on E, an indicator in the red."""
    unit: str | None
    approx: bool = False
    low: float | None = None
    high: float | None = None
    """Plausible range in `unit` when `approx`."""
    flag: str | None = None
    """"low" or "high"."""
    counted_from: str | None = None
    """"top" or "bottom" for depths."""
    said: str = ""


@dataclass(frozen=True)
class Refusal:
    """A value that cannot be, and what to say instead."""

    what: str
    which: str | None
    reason: str
    """out_of_range, negative, not_whole or unit."""
    message: str
    choices: tuple[str, ...] = ()
    """Values that may have been meant, as words for a question."""


@dataclass(frozen=True)
class Heard:
    """What one utterance told."""

    readings: tuple[Reading, ...] = ()
    refused: tuple[Refusal, ...] = ()
    withdrawn: tuple[Reading, ...] = ()
    """Earlier readings that no longer stand because of this utterance."""
    ask: str = ""
    """A clarifying question instead of a guess."""
