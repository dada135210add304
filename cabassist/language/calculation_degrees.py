"""Temperatures in a calculation question: "ten below f", "minus twelve", "sixty degrees"."""

from __future__ import annotations

import re

from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import TEMPERATURE_SCALES

_NOT_BELOW = frozenset("the a an that full it sea my those this ground half ninety fifty forty deck".split())


_IT_DOES = frozenset("loses sheds is will needs takes drops gets falls".split())
"""After "six below it" these begin what the next clause says of it."""
_FELT = re.compile(r"\b(?:feels?(?: more)? like|felt like|wind ?chill|outside|out there|forecast|overnight|thermometer)(?: (?:is|was|of|at|says|said|reads|shows|about|around|for))*$")  # fmt: skip
"""Before "eleven below the ..." these tell degrees, and "the" begins something else."""
_FELT_WORDS = 4
_WARMED = re.compile(r"\b(?:pads?|heaters?|furnaces?|burners?|cabin|coach|bus|heat|tape|watt|watts|btu|inside|holds?|keeps?|loses|leaks?)\b")  # fmt: skip
""" "At five below the two hundred watt pad holds thirty five": what is warmed begins behind "below"."""
_COLDEST = 60
"""So many degrees below zero it may be outside; more is no weather."""


def temperature(
    texts: list[str], i: int, end: int, value: float, minus: bool, degrees: bool, share: bool
) -> Amount | None:
    """A temperature: "ten below f", "minus twelve", "sixty degrees", "zero out"."""
    unit, known = "temp", degrees or minus

    def scale(at: int) -> tuple[str, int]:
        return (
            (TEMPERATURE_SCALES[texts[at]], at + 1)
            if at < len(texts) and texts[at] in TEMPERATURE_SCALES
            else ("temp", at)
        )

    unit, end = scale(end)
    known = known or unit != "temp"
    word = texts[end] if end < len(texts) else ""
    after = texts[end + 1] if end + 1 < len(texts) else ""
    verb = texts[end + 2] if after == "it" and end + 2 < len(texts) else ""
    dated = after == "this" and texts[end + 2 : end + 3] in (["morning"], ["evening"], ["afternoon"], ["week"])
    felt = after in ("the", "my", "our") and (
        _FELT.search(" ".join(texts[max(0, i - _FELT_WORDS) : i]))
        or (texts[i - 1 : i] == ["at"] and value <= _COLDEST and _WARMED.search(" ".join(texts[end + 1 : end + 9])))
    )
    if word in ("below", "under", "above") and (
        after not in _NOT_BELOW or after == "zero" or verb in _IT_DOES or dated or felt
    ):
        if after in ("zero", "0", "freezing"):
            if after == "freezing":
                off = value if word == "above" else -value
                cold = unit == "C"
                return Amount(off if cold else 32 + off, unit if unit != "temp" else "F", start=i, end=end + 2)
            value, end, known = (value if word == "above" else -value), end + 2, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
        elif (
            word != "under"
            and not share
            and not re.fullmatch(
                r"\d+|[a-z]*(?:teen|ty|hundred)|one|two|three|four|five|six|seven|eight|nine|ten", after
            )
        ):
            value, end, known = (value if word == "above" else -value), end + 1, True
            unit, end = scale(end) if unit == "temp" else (unit, end)
    elif (
        word in ("out", "outside", "outdoors")
        and not share
        and value == int(value)
        and after not in ("of", "a", "put", "at")
        and not known
    ):
        known = True
    if not known or share:
        return None
    if minus and value > 0:
        value = -value
    start = i - 1 if i and texts[i - 1] in ("minus", "negative") else i
    return Amount(value, unit, start=start, end=end)
