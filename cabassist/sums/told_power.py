"""Sums over cords: what one wire loses, or several in a row, what one loses less than another, how long one may be."""

from __future__ import annotations

from typing import NamedTuple

from cabassist.estimate.cords import ADVICE, TABLE_SOURCE, ohm_per_foot, voltage_drop
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import result
from cabassist.sums.working_sheet import quantity

_CORD_ROLES = (
    role("gauge", "awg", 1.0, many=True),
    role("gauge", "n", -2.0, (3.0, r"\b(?:of|a|with|in|to|or|vs|versus|than|and) (?:a )?# (?:gauge|wire|cord|at|or|,|instead)"), many=True),
    role("length", "length", 0.5, many=True),
    role("amps", "current", 0.5, many=True),
    role("amps", "watts", -1.6, many=True),
    role("count", "n", -1.6, many=True),
    role("limit", "share|volts", -1.6),
    role("volts", "volts", 0.3),
    role("near", "volts|n", -9.0),  # read at the pedestal, and at the coach
    role("far", "volts|n", -9.0),
    role("beside", "people|time|clock|temperature|n|length|current|watts|distance", -9.0, many=True),
    role("volts", "n", -1.6, (2.6, r"<A> (?:at |, |on )?# |\bat # (?:volts|v)\b")),
)  # fmt: skip


def _cords_apply(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return question.has(r"<awg>") and (want.difference or want.kind in ("volts", "share", "length", "current"))


def _cords(t: Told) -> Estimate | None:
    """Volts that one cord, or several in a row, lose; how much less one loses than another; how long or loaded one may be."""
    if t.has("near", "far"):
        return _between_readings(t)
    if not t.has("gauge"):
        return None
    volts = t.value("volts")
    if volts is None:
        volts = float(t.coach.shore.volts)
        t.assumed.append(f"{shown(volts)} V (profile)")
    gauges, lengths = [int(one.value) for one in t.all("gauge")], [one.value for one in t.all("length")]
    amps, frame = _amps(t, volts), t.question.frame
    compared = (t.want.difference or bool(_COMPARED.search(frame))) and not _END_TO_END.search(frame)
    if len(gauges) > 1 or len(lengths) > 1 or not compared:
        amps = [sum(amps)] if amps else []
    if lengths and amps and t.want.kind not in ("volts", "share", ""):
        return None
    if not lengths or not amps:
        return _allowed(t, volts, gauges, lengths, amps)
    many = max(len(gauges), len(lengths), len(amps))
    if any(len(one) not in (1, many) for one in (gauges, lengths, amps)):
        return None
    each = [
        _Lost(gauge, feet, load, _volts_lost(volts, gauge, feet, load))
        for gauge, feet, load in zip(*(one * (many // len(one)) for one in (gauges, lengths, amps)), strict=True)
    ]
    if any(one.volts is None for one in each):
        return None
    if many > 1 and compared:
        return _less(t, volts, each) if many == 2 else None
    if many > 1 and not _JOINED.search(frame):
        return None
    return _lost(t, volts, each)


_LEAST_VOLTS = 60.0
"""Less no pedestal gives, nor does a coach read in use."""


def _between_readings(t: Told) -> Estimate | None:
    """What is lost between two meters, in volts and as a share of the first, and whether that is within a limit."""
    near, far, limit = t.value("near"), t.value("far"), t.one("limit")
    if near is None or far is None or not _LEAST_VOLTS <= far < near or {*t.roles} - {"near", "far", "limit", "beside"}:
        return None
    lost, share = near - far, 100 * (near - far) / near
    line = f"({shown(near)} - {shown(far)}) V ÷ {shown(near)} V = {shown(share)} %"
    verdict = ""
    if limit is not None:
        most = limit.value * (near if limit.kind == "share" else 1.0)
        over = t.question.has(
            r"\b(?:more than|over|exceed\w*|above|past) (?:the |my |our |about |that )?<(?:V|percent)>"
        )
        fits = (lost if most <= near / 2 else -far) <= (most if most <= near / 2 else -most)
        verdict = f"{'Yes' if fits != over else 'No'}: {shown(lost, 3)} volts lost, {shown(share, 2)} percent."
    also = (figure("voltage drop", lost, "V"), figure("share lost", share, "percent"))
    if t.want.kind in ("volts", "volume", "other") or (
        t.want.kind != "share" and not t.question.has(r"\bper ?cent\w*|%|<percent>|\bshare\b")
    ):
        return result(t, also[0].name, lost, "V", (line,), verdict, also[1:])
    return result(t, also[1].name, share, "percent", (line,), verdict, also[:1])


def _amps(t: Told, volts: float) -> list[float]:
    """Amps of each load; a count goes with the load after it: "two 8 amp heaters"."""
    counts, found = t.all("count"), []
    for load in t.all("amps"):
        amps = load.value / (volts if load.kind == "watts" else 1.0)
        before = [one for one in counts if one.amount.start < load.amount.start]
        for one in before:
            amps *= one.value
        counts = [one for one in counts if one not in before]
        found.append(amps)
    return found


class _Lost(NamedTuple):
    gauge: int
    feet: float
    amps: float
    volts: float | None

    @property
    def line(self) -> str:
        return f"{self.gauge} gauge, {shown(self.feet)} ft, {shown(self.amps)} A: {shown(self.volts or 0.0)} V"


_COMPARED = Lazy(
    r"\b(?:less|more|than|vs|versus|against|instead|rather|gain\w*|sav\w+|which|better|get back|difference|or)\b"
)
_END_TO_END = Lazy(r"\b(?:join\w*|splic\w*|together|in a row|end to end|daisy|onto|plugged into)\b")
_JOINED = Lazy(r"\b(?:and|plus|then|into|with)\b|" + _END_TO_END.pattern)


def _volts_lost(volts: float, gauge: int, feet: float, amps: float) -> float | None:
    return voltage_drop(quantity(volts, "V"), quantity(amps, "A"), quantity(feet, "ft"), gauge).value


def _less(t: Told, volts: float, each: list[_Lost]) -> Estimate:
    """What one of two loses less than the other."""
    low, high = sorted(each, key=lambda one: one.volts or 0.0)
    saved = (high.volts or 0.0) - (low.volts or 0.0)
    name = f"{low.gauge} gauge, {shown(low.feet)} ft" + (f", {shown(low.amps)} A" if low.amps != high.amps else "")
    limit = t.one("limit")
    verdict = f"{name} loses less: {shown(saved, 3)} volts."
    if limit is not None:
        most = limit.value * (volts if limit.kind == "share" else 1.0)
        verdict = f"{'Yes' if saved >= most else 'No'}: {verdict}"
    lines = tuple(one.line for one in each)
    share = figure("share saved", 100 * saved / volts, "percent")
    if t.want.kind == "share":
        return result(t, "share saved", 100 * saved / volts, "percent", lines, verdict, (figure("volts saved", saved, "V"),), TABLE_SOURCE)  # fmt: skip
    return result(t, "volts saved", saved, "V", lines, verdict, (share,), TABLE_SOURCE)


def _lost(t: Told, volts: float, each: list[_Lost]) -> Estimate:
    """What the cords lose together, in volts and as a share, and what arrives."""
    lost = sum(one.volts or 0.0 for one in each)
    figures = {
        "volts": figure("voltage drop", lost, "V"),
        "share": figure("share lost", 100 * lost / volts, "percent"),
        "end": figure("at the end", volts - lost, "V"),
    }
    limit, verdict = t.one("limit"), ""
    if limit is not None:
        most = limit.value * (volts if limit.kind == "share" else 1.0)
        fits = lost <= most if most <= volts / 2 else volts - lost >= most  # "no less than 115 volts" at the end
        past = "more than|over|exceed|above|past" if most <= volts / 2 else "less than|under|below|lower than"
        passes = rf"\b(?:{past}) (?:about )?<(?:V|percent)>"
        if t.question.has(passes) and not t.question.has(rf"\b(?:no|not|never|without|from|can ' t|won ' t|t)\b(?: \w+){{0,3}}? {passes}"):  # fmt: skip
            fits = not fits  # "will it lose more than six volts", "will i see less than 110"
        verdict = f"{'Yes' if fits else 'No'}: {shown(lost, 3)} volts lost, {shown(100 * lost / volts, 2)} percent."
    at_end = t.question.has(r"\b(?:at|reach\w*|left|arriv\w*|see|get|gets|have)\b[^.?]{0,24}\b(?:coach|bus|inlet|end|panel|plug|volts)\b|\bvolts (?:left|arrive|at)\b")  # fmt: skip
    at_end = at_end and not t.question.has(_LOSS_ASKED)
    first = "share" if t.want.kind == "share" else "end" if at_end else "volts"
    told = figures.pop(first)
    return result(t, told.name, told.value or 0.0, told.unit, tuple(one.line for one in each), verdict, tuple(figures.values()), TABLE_SOURCE)  # fmt: skip


_LOSS_ASKED = r"\b(?:how (?:many|much)|what)\b(?:(?!see|get|have|read|left|arriv|reach)[^.?,<]){0,24}\b(?:los(?:e|es|ing|s|t)|drop\w*|gone|eats?|wast\w+)\b"
""" "At 120 volts how many volts do i lose": what is lost, not what arrives."""
_HOW_LONG = Lazy(r"\b(?:how (?:long|far|many (?:feet|meters|metres|yards)|much (?:cord|wire|cable))|longest|furthest|farthest|(?:max\w*|most|what) (?:\w+ )?(?:length|feet|run|distance|cord))\b")  # fmt: skip
_HOW_MANY_AMPS = Lazy(r"\b(?:how (?:many|much)|what|most|max\w*|biggest|largest|heaviest) (?:\w+ ){0,3}?(?:amps?|current|load|draw|pull|carry|run)\b")  # fmt: skip


def _allowed(t: Told, volts: float, gauges: list[int], lengths: list[float], amps: list[float]) -> Estimate | None:
    """How long a cord may be, or how many amps it may carry, for a drop."""
    if len(gauges) != 1 or len(lengths) + len(amps) != 1:
        return None
    asked = _HOW_MANY_AMPS if lengths else _HOW_LONG
    if t.want.kind not in (("", "current") if lengths else ("", "length", "distance")) or not (t.want.kind or asked.search(t.question.frame)):  # fmt: skip
        return None  # the volts lost need both
    limit = t.one("limit")
    if limit is None and not amps:
        return None  # what a cord may carry is no matter of volts
    if limit is None:
        t.assumed.append(f"{shown(100 * ADVICE)} percent may be lost")
    most = ADVICE * volts if limit is None else limit.value * (volts if limit.kind == "share" else 1.0)
    each = 2 * ohm_per_foot(gauges[0])
    found = most / (each * (lengths or amps)[0])
    name, unit = ("most amps", "A") if lengths else ("longest cord", "ft")
    given = f"{shown(lengths[0])} ft" if lengths else f"{shown(amps[0])} A"
    work = f"{shown(most)} V ÷ (2 x {shown(each / 2)} ohm a foot x {given}) = {shown(found)} {unit}"
    return result(t, name, found, unit, (work,), source=TABLE_SOURCE)


CORDS = Family("cords", lambda _q: "voltage-drop", _cords_apply, _CORD_ROLES, _cords)
