"""What every calculation returns."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """A further number that belongs to an estimate."""

    name: str
    value: float
    unit: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Estimate:
    """A number, its 10–90 % range, and everything needed to check it by hand.

    `value` is None when no number may be given (outside a table or a formula's validity); `verdict`
    then says why. `unit` is written as the scripting contract writes it where it has a name for it.
    `low` and `high` are equal to `value` where the arithmetic is exact.
    """

    name: str
    value: float | None
    unit: str
    low: float | None = None
    high: float | None = None
    working: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    source: str = ""
    verdict: str = ""
    also: tuple[Figure, ...] = ()
