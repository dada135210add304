"""Sums over cords: what one wire loses less than another."""

from __future__ import annotations

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import result

_CORD_ROLES = (
    role("gauge", "awg", 1.0, many=True),
    role("gauge", "n", -2.0, (3.0, r"\b(?:of|a|with|in|to|or|vs|versus|than|and) (?:a )?# (?:gauge|wire|cord|at|or|,|instead)"), many=True),
    role("length", "length", 0.5, many=True),
    role("amps", "current", 0.5),
    role("volts", "volts", 0.3),
    role("volts", "n", -1.6, (2.6, r"<A> (?:at |, |on )?# |\bat # (?:volts|v)\b")),
)  # fmt: skip


def _cords_apply(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return question.has(r"<awg>") and want.difference


def _cords(t: Told) -> Estimate | None:
    """Volts that one cord loses less than another at the same load."""
    from cabassist.estimate.cords import voltage_drop
    from cabassist.sums.working_sheet import quantity

    gauges, lengths, amps, volts = t.all("gauge"), t.all("length"), t.value("amps"), t.value("volts")
    if amps is None or len({*(one.value for one in gauges), *(one.value for one in lengths)}) < 3 or len(lengths) > 2:
        return None
    if len(gauges) != 2:
        return None
    if volts is None:
        volts = float(t.coach.shore.volts)
        t.assumed.append(f"{shown(volts)} V (profile)")
    ends = lengths if len(lengths) == 2 else lengths * 2
    each = [
        (one.value, long.value, voltage_drop(quantity(volts, "V"), quantity(amps, "A"), quantity(long.value, "ft"), int(one.value)))
        for one, long in zip(gauges, ends, strict=True)
    ]  # fmt: skip
    drops = [found.value for _, _, found in each]
    if None in drops:
        return None
    first, second = (float(drop or 0.0) for drop in drops)
    low = 0 if first <= second else 1
    names = [f"{shown(gauge)} gauge, {shown(long)} ft" for gauge, long, _ in each]
    lines = tuple(f"{name}: {shown(drop or 0.0)} V" for name, drop in zip(names, drops, strict=True))
    saved = abs(first - second)
    return result(t, "volts saved", saved, "V", lines, f"{names[low]} loses less: {shown(saved, 3)} volts.", source=each[0][2].source)  # fmt: skip


CORDS = Family(lambda _q: "voltage-drop", _cords_apply, _CORD_ROLES, _cords)
