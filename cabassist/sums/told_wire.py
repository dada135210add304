"""What a cord loses by what is told of it: ohms of a thousand feet, a share of the volts, or what it lost with other amps."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted

_OF_THOUSAND = r"<ohm>(?: \w+){0,2}? (?:(?:per|a|every|each|for a|to the|in a) )?(?:<n> |one )?(?:thousand|<n>|<ft>)(?: (?:foot|feet|ft))?\b"
_VOLTS = Lazy(r"\blost\b|\blose\b|\bpercent\b|\bvolts?\b|\bdrop\w*\b|\bloss\b")
_ONE_WAY = Lazy(r"\b(?:one way only|one conductor|single conductor|just one way)\b")
_BOTH = Lazy(r"\b(?:better|differ\w*|less|more|save\w*|gain\w*|versus|vs)\b")
_SECOND = Lazy(
    r"\b(?:other|heavy|heavier|fat|fatter|thick|thicker|thin|thinner|light|second|big|good)(?: (?:one|<n>|cord|wire|is|at|' s|has))* $"
)
_PER_FEET = 1000.0


def ohms(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Volts lost out and back in a cord of so many ohms a thousand feet, or by how many one of two cords is better."""
    if not names_any(q.text.lower(), ("ohm",)) or not q.has(_OF_THOUSAND) or not _VOLTS.search(q.frame):
        return None
    told = [one for one in q.amounts if q.words[one.start : one.end] != ("one",) and one.unit not in ("cord", "awg")]
    lengths = [one for one in told if one.unit in ("ft", "m") and one.value != _PER_FEET]
    amps = [one for one in told if one.unit == "A"]
    each = [one for one in told if one.unit == "ohm"]
    thousands = [one for one in told if one.value == _PER_FEET and one.unit in ("ft", "n")]
    volts = [one for one in told if one.unit == "V" or (one.unit == "n" and 100 <= one.value <= 250)]
    rest = [one for one in told if one not in (*lengths, *amps, *each, *thousands, *volts)]
    each += [
        _without_which(q, one)
        for one in rest
        if one.unit == "n" and 0 < one.value < 20 and _SECOND.search(_before(q, one))
    ]
    if [len(lengths), len(amps)] != [1, 1] or not 1 <= len(each) <= 2 or len(volts) > 1:
        return None
    if lengths[0].unit == "m" or len(told) != len(lengths) + len(amps) + len(each) + len(thousands) + len(volts):
        return None
    ways = 1 if _ONE_WAY.search(q.frame) else 2
    feet, current = lengths[0].value * ways, amps[0].value
    drops = [feet * one.value / _PER_FEET * current for one in each]
    lines = tuple(
        f"{ways} x {shown(lengths[0].value)} ft x {shown(one.value)} ohm ÷ 1,000 x {shown(current)} A = {shown(drop)} V"
        for one, drop in zip(each, drops, strict=True)
    )
    assumed = () if ways == 1 else ("the current goes out and back, so twice the length",)
    if len(drops) == 1:
        also = (figure("lost", 100 * drops[0] / volts[0].value, "percent"),) if volts else ()
        return exact("drop", drops[0], "V", working=lines, assumptions=assumed, source="volts = amps x ohms", also=also)
    if volts or not _BOTH.search(q.frame):
        return None
    gap = abs(drops[0] - drops[1])
    verdict = f"{shown(min(drops))} volts lost against {shown(max(drops))}."
    return exact(
        "difference", gap, "V", working=lines, assumptions=assumed, source="volts = amps x ohms", verdict=verdict
    )


def _without_which(q: Question, amount: Amount) -> Amount:
    """ "The heavy one one point six" is of 1.6 ohms, not of 11.6."""
    which = q.words[amount.start] == "one" and amount.value >= 10 and amount.value % 1 != 0
    return amount._replace(value=amount.value - 10) if which else amount


def _before(q: Question, amount: Amount) -> str:
    return f" {' '.join(q.words[max(0, amount.start - 5) : amount.start])} "


_LOST = Lazy(r"\b(?:lose|losing|lost|loses|loss|drop\w*|down|less|eats?|eating|gone)\b")
_ARRIVING = Lazy(
    r"\b(?:what|how many)\b[^.?]*\b(?:volts?|voltage)\b|\bvolts? (?:at|reach|left|get)\b|\bwhat (?:reaches|gets to|is left|do i (?:have|get))\b"
)
_CORD = Lazy(r"\b(?:cords?|wires?|cable|extension|lead|run)\b")
_LOW, _HIGH = 100.0, 260.0


def percent_lost(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The volts that arrive when a cord loses so many percent of those at the outlet."""
    if not names_any(q.text.lower(), ("percent", "%")) or len(q.amounts) != 2 or not _CORD.search(q.frame):
        return None
    if not (_LOST.search(q.frame) and _ARRIVING.search(q.frame)) or q.has(r"\b(?:percent|how much) (?:is|am|are|do)\b"):
        return None
    volts = [one for one in q.amounts if one.unit in ("V", "n") and _LOW <= one.value <= _HIGH and not one.per]
    shares = [one for one in q.amounts if one.unit == "percent" and 0 < one.value < 50]
    if [len(volts), len(shares)] != [1, 1]:
        return None
    lost = volts[0].value * shares[0].value / 100
    left = volts[0].value - lost
    line = f"{shown(volts[0].value)} V x (1 - {shown(shares[0].value)} %) = {shown(left)} V"
    return exact(
        "volts that arrive", left, "V", working=(line,), source="arithmetic", also=(figure("lost", lost, "V"),)
    )


_SAME = Lazy(r"\b(?:what|how (?:much|many))\b")


def other_amps(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The volts the same cord loses at other amps: as many times more as there are more amps."""
    if not names_any(q.text.lower(), ("amp", " a ")) or len(q.amounts) != 3 or not _LOST.search(q.frame):
        return None
    if not _CORD.search(q.frame) or not _SAME.search(q.frame):
        return None
    found = q.find(
        r"({V})(?: \w+){0,4}? (?:at|with|on|pulling|under) ({A})\b.*\b(?:at|with|on|pulling|under|for|to|of) ({A|n})"
    )
    if len(found) != 3 or not 0 < found[0].value < 30 or found[1].value <= 0 or found[2].per:
        return None
    drop = found[0].value * found[2].value / found[1].value
    line = f"{shown(found[0].value)} V x {shown(found[2].value)} ÷ {shown(found[1].value)} A = {shown(drop)} V"
    return exact(
        "drop", drop, "V", working=(line,), source="volts = amps x ohms", assumptions=("the same cord and length",)
    )


_GONE = Lazy(r"\b(?:how many|what) volts? (?:gone|lost|missing|dropped|lower|down|less|(?:am i|are we|do i|do we) (?:los(?:e|ing)|down|missing))\b|\bvolts? (?:gone|lost|missing)\b")  # fmt: skip


def volts_gone(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Volts between those at the outlet and those in the coach."""
    told = [one for one in q.amounts if one.unit != "A"]  # what is drawn meanwhile changes nothing
    if len(told) != 2 or len(q.amounts) > 3 or not names_any(q.text.lower(), ("volt",)) or not _GONE.search(q.frame):
        return None
    if any(one.unit not in ("V", "n") or one.per or not _LOW <= one.value <= _HIGH for one in told):
        return None
    high, low = max(one.value for one in told), min(one.value for one in told)
    line = f"{shown(high)} - {shown(low)} = {shown(high - low)} V"
    return exact("lost", high - low, "V", working=(line,), source="arithmetic", also=(figure("lost", 100 * (high - low) / high, "percent"),))  # fmt: skip
