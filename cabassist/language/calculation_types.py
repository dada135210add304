"""What the amounts of a calculation question are made of."""

from __future__ import annotations

from typing import NamedTuple


class Amount(NamedTuple):
    """A number with what it measures, as it stands among the words."""

    value: float
    unit: str
    """gal, L, percent, part (a fraction), F, C, temp (degrees, scale not said), n (bare), ..."""
    per: str = ""
    """min, s, h, day, deg or gallon when it is a rate."""
    each: bool = False
    """For each person."""
    start: int = 0
    end: int = 0
    describes: bool = False
    """Said in the singular before a noun: "the eighty gallon tank"."""
    pieces: tuple[str, ...] = ()
    tomorrow: bool = False
    """Of a time of day: that of the next day."""

    @property
    def tag(self) -> str:
        """How it stands in the frame."""
        return f"{self.unit}{'/' + self.per if self.per else ''}{'/each' if self.each else ''}"
