"""Sums over a heat pad under a tank: watts to hold it at a temperature, the air in which a pad holds it, whether it is enough."""

from __future__ import annotations

import math

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import ASIDE, FREEZING_F, MARKED, OTHERS, degrees_f, result

_ROLES = (
    role("pad", "watts", 0.5, never=r"# (?:for |per |a |an )?(?:each|every|per|a|for each|for every)? ?degree"),
    role("loss", "watts", -1.6, (4.6, r"# (?:for |per |an? )?(?:each|every|per|a|for each|for every)? ?(?:degree|deg)\b")),
    role("loss", "loss", 1.0),
    role("hold", "temperature", 0.0, (2.5, r"\b(?:held?|hold|keep|stay|stays|kept|above|want|maintain|to|like|needs?)(?: \w+){0,4} # ")),
    role("hold", "n", -1.6, (3.2, r"\b(?:held?|hold|keep|stay|stays|kept|above|maintain|to)(?: \w+){0,4} # ")),
    role("air", "temperature", 0.0, (2.5, r"\b(?:outside|out|air|when|it is|its|at|in)(?: \w+){0,2} # |# (?:outside|out|air|night|weather)\b")),
    role("air", "n", -1.6, (3.2, r"\b(?:outside|air|when it is)(?: \w+){0,1} # |# (?:outside|out)\b")),
    OTHERS,
    role("beside", "people|clock|volume", -0.8, many=True),
    role("pads", "n", MARKED),  # how many of the pad there are
    role("volts", "volts|n", MARKED),
    role("spare", "share|n", MARKED),  # the share to add for safety
    role("span", "time|n", MARKED),  # hours over which its amp hours are counted
    role("pad", "n", MARKED),
    role("loss", "n", MARKED),
    ASIDE,
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    warm = want.kind in ("watts", "temperature", "power")
    return warm and any(one.kind in ("watts", "loss") for one in terms) and question.has(r"\b(?:degree|deg)\b|<W/deg")


def _solve(t: Told) -> Estimate | None:
    """Watts that hold a tank at a temperature, or the coldest air in which a pad holds it: loss a degree times the degrees.

    By the pad, the loss and the air also how warm it holds, whether that is enough, or what a degree may lose.
    """
    pad, loss, hold, air = t.value("pad"), t.value("loss"), degrees_f(t, "hold"), degrees_f(t, "air")
    pads, volts, extra = t.value("pads"), t.value("volts"), _extra(t)
    if pad is not None:
        pad *= pads or 1
    if t.want.kind in ("time", "volts") or (t.want.kind == "charge" and "span" not in t.roles):
        return None
    if "span" in t.roles and (t.want.kind == "current" or (t.want.kind != "charge" and pad is None)):
        return None
    drawn = t.want.kind in ("current", "charge") or "span" in t.roles
    if drawn and volts is None:
        volts = float(t.coach.house_battery.volts)
        t.assumed.append(f"{shown(volts)} V (profile)")
    if drawn or {"pads", "volts", "spare"} & {*t.roles} or (pad is not None and air is not None):
        return _pad_marked(t, pad, loss, hold, air, volts, extra)
    if loss is None or loss <= 0 or hold is None or not 0 <= hold <= 90:
        return None
    source = "heat balance"
    celsius = t.question.scale == "C"
    degrees = 1.8 if celsius else 1.0  # a loss told by the degree Celsius
    if pad is None:
        if air is None or air >= hold or t.want.kind == "temperature":
            return None
        watts = loss * (hold - air) / degrees
        return result(t, "pad needed", watts, "W", (f"{shown(loss)} W x {shown((hold - air) / degrees)} degrees = {shown(watts)} W",), source=source)  # fmt: skip
    if air is not None or t.want.kind != "temperature":
        return None
    coldest = hold - pad / loss * degrees
    shown_as = converted(coldest, "F", "C") if celsius else coldest
    return result(t, "coldest air", shown_as, "C" if celsius else "F", (f"{shown(pad)} W ÷ {shown(loss)} W = {shown(pad / loss)} degrees",), source=source)  # fmt: skip


_FREEZES = Lazy(
    r"\b(?:will|would|does|do|is|are)\b(?:(?!\b(?:from|without|not|never|keep|keeps|stop|above|enough|hold|holds)\b)[^,.?<]){0,24}?\b(?:freez\w*|frozen|ice up)\b"
)


def _extra(t: Told) -> float:
    """What to multiply the watts by for a spare share."""
    term = t.one("spare")
    return 1.0 if term is None else 1 + (term.value / 100 if term.kind == "n" else term.value)


def _pad_marked(t: Told, pad: float | None, loss: float | None, hold: float | None, air: float | None, volts: float | None, extra: float) -> Estimate | None:  # fmt: skip
    """Pads beside the air: enough or not, how warm they hold, how much of the time they are on, how many amps or pads it takes."""
    celsius = t.question.scale == "C"
    degrees, source = 1.8 if celsius else 1.0, "heat balance"
    if pad is not None and volts and loss is None and hold is None and air is None:
        return _drawn(t, pad, volts, ())
    if pad is not None and loss is None:
        if hold is None or air is None or hold <= air or volts is not None:
            return None
        each = pad / extra / ((hold - air) / degrees)
        return result(t, "loss a degree", each, "W", (f"{shown(pad / extra)} W ÷ {shown((hold - air) / degrees)} degrees = {shown(each)} W",), source=source)  # fmt: skip
    if loss is None or loss <= 0:
        return None
    if hold is None or air is None:
        known = hold if air is None else air
        if pad is None or known is None or volts is not None:
            return None
        step = pad / extra / loss * degrees
        found = known - step if air is None else known + step
        name = "coldest air" if air is None else "it holds"
        return result(t, name, (found - 32) / 1.8 if celsius else found, "C" if celsius else "F", (f"{shown(pad)} W ÷ {shown(loss)} W = {shown(pad / loss)} degrees",), source=source)  # fmt: skip
    if hold <= air:
        return None
    gap = (hold - air) / degrees
    watts = loss * gap * extra
    line = f"{shown(loss)} W x {shown(gap)} degrees{f' x {shown(extra)}' if extra != 1 else ''} = {shown(watts)} W"
    needed = figure("needed", watts, "W")
    if pad is None:
        if volts and t.want.kind == "watts":
            amps = figure("current", watts / volts, "A")
            return result(t, "pad needed", watts, "W", (line,), also=(amps,), source=source)
        if volts:
            return _drawn(t, watts, volts, (line,), (needed,))
        return result(t, "pad needed", watts, "W", (line,), source=source)
    if t.question.has(r"\bhow many (?:of (?:them|the|those|these) ?|such )?(?:<W> )?(?:pads?|mats?|blankets?|heaters?|them)\b") and "pads" not in t.roles:  # fmt: skip
        count = math.ceil(watts / pad - 1e-9)
        return result(t, "pads", float(count), "", (line, f"{shown(watts)} W ÷ {shown(pad)} W = {shown(watts / pad)}"), also=(needed,), source=source)  # fmt: skip
    if t.question.has(r"\b(?:of the time|percent|duty|share|part)\b"):
        return result(t, "on", watts / pad * 100, "percent", (line, f"÷ {shown(pad)} W"), also=(needed,), source=source)
    holds = pad >= watts - 1e-6
    short = figure("to spare" if holds else "short", abs(pad - watts), "W")
    verdict = f"{'Yes, it holds' if holds else 'No, it is too weak'}: {shown(watts)} W are needed."
    if _FREEZES.search(t.question.frame):
        warm = air + pad / extra / loss * degrees
        verdict = (
            f"{'Yes, it freezes' if warm < FREEZING_F else 'No, it does not freeze'}: {shown(watts)} W are needed."
        )
    elif t.question.has(r"\btoo (?:weak|small|little)\b"):
        verdict = f"{'No, it holds' if holds else 'Yes, it is too weak'}: {shown(watts)} W are needed."
    if volts:
        return _drawn(t, pad, volts, (line,), (needed, short), verdict)
    if t.question.has(r"\bhow (?:much|many)\b[^?]*\b(?:short|over|spare|extra|left|more)\b"):
        return result(t, short.name, short.value, "W", (line,), verdict, (needed,), source)
    return result(t, "pad needed", watts, "W", (line,), verdict, (short,), source)


def _drawn(t: Told, watts: float, volts: float, lines: tuple[str, ...], also: tuple[Figure, ...] = (), verdict: str = "") -> Estimate:  # fmt: skip
    """Amps that so many watts draw, or their amp hours when hours are told with them."""
    amps, hours = watts / volts, t.value("span")
    lines = (*lines, f"{shown(watts)} W ÷ {shown(volts)} V = {shown(amps)} A")
    if hours is None:
        return result(t, "current", amps, "A", lines, verdict, also, "heat balance")
    lines = (*lines, f"{shown(amps)} A x {shown(hours)} h = {shown(amps * hours)} Ah")
    return result(
        t, "amp hours", amps * hours, "Ah", lines, verdict, (figure("current", amps, "A"), *also), "heat balance"
    )


PAD = Family("pad", lambda _q: "heat-pad-watts", _applies, _ROLES, _solve)
