"""Does the sums of a working as a driver would with a pocket calculator: nothing is taken from the program but its text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import sqrt

NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")
_UNITS = re.compile(r"\b(?:h|miles|km)\b")


@dataclass(frozen=True)
class Sum:
    """One line of a working that has a sum: its label, what is added up, and what is said to come out."""

    label: str
    written: str
    result: float

    @property
    def worked(self) -> float:
        """What comes out when the sum is done."""
        text = _UNITS.sub("", self.written).replace(",", "")
        text = text.replace("√", "sqrt").replace("²", "**2").replace("÷", "/").replace(" x ", " * ")
        assert not re.search(r"[A-Za-z]", text.replace("sqrt", "")), f"no plain sum: {self.written}"
        return float(eval(text, {"__builtins__": {}, "sqrt": sqrt}))

    @property
    def parts(self) -> list[str]:
        """The numbers that go into it, as written."""
        return NUMBER.findall(self.written)


def sums(why: tuple[str, ...]) -> list[Sum]:
    """Every sum of a working, top to bottom."""
    found = []
    for line in why:
        left, equals, right = line.rpartition(" = ")
        if equals:
            label, _, written = left.rpartition(": ")
            found.append(Sum(label, written, _first(right)))
    return found


def _first(text: str) -> float:
    match = re.match(r"\(?(-?[\d,]+(?:\.\d+)?)", text)
    assert match, text
    return float(match[1].replace(",", ""))


def comes_out(one: Sum) -> bool:
    """Whether a sum is right to the figures that are shown.

    Each part shows four figures, so what is left of two that nearly cancel is good to a thousandth of the larger.
    """
    largest = max([abs(float(part.replace(",", ""))) for part in one.parts] + [abs(one.result)])
    return abs(one.worked - one.result) <= max(4e-3 * abs(one.result), 1.5e-3 * min(largest, 1000))
