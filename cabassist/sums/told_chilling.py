"""Sums over water that cools by the heat it loses: when it is so cold, how cold it is after a time, what it lost."""

from __future__ import annotations

from cabassist.estimate.clock import time_of_day
from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_cabin import asks_if_below
from cabassist.sums.told_parts import (
    ASIDE,
    FREEZING_F,
    MARKED,
    OTHERS,
    WATER_LB,
    between,
    degrees_f,
    hour_now,
    hour_of,
    now_term,
    result,
)
from cabassist.sums.told_units import as_spoken

_ROLES = (
    role("water", "volume", 0.8),
    role("loss", "heat", 0.8),
    role("start", "temperature", 0.4, (1.0, r"\b(?:at|is|from|now|water)(?: now| at| about)* # "), never=r"\b(?:to|till?|until|hits?|reach\w*|down to) # "),
    role("start", "n", -1.6, (2.8, r"\b(?:at|is|from|water)(?: now| at| about)* # "), never=r"\b(?:to|till?|until|hits?|reach\w*|down to) # "),
    role("end", "temperature", 0.0, (2.0, r"\b(?:to|till?|until|hits?|reach\w*|down to)(?: it| it hits| it is| it gets to)* # ")),
    role("end", "n", -1.6, (3.2, r"\b(?:to|till?|until|hits?|reach\w*|down to)(?: it| it hits| it is| it gets to)* # ")),
    OTHERS,
    role("beside", "people|clock", -0.8, many=True),
    role("size", "volume|n", MARKED),  # of the tank, where its level is a share
    role("level", "share", MARKED),
    role("loss", "watts|n", MARKED),
    role("heater", "watts|heat", MARKED),  # what a pad or heater puts back
    role("span", "time", MARKED),  # after how long its temperature is asked, or in which it cooled so far
    role("from", "clock|n", MARKED),
    role("by", "clock|n", MARKED),  # until when it must stay above the end
    role("water", "mass|n", MARKED),
    ASIDE,
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    kinds = {one.kind for one in terms}
    return (
        want.kind == "time"
        and {"volume", "heat"} <= kinds
        and not question.has(r"\b(?:propane|furnace|solid|burn\w*)\b")
    )


def _solve(t: Told) -> Estimate | None:
    """Hours until water has cooled to a temperature, at the heat that it loses an hour; or its temperature after some hours, or the loss."""
    as_spoken(t, "volume", "size")
    gallons, loss, start, end = _gallons(t), _btu(t, "loss"), degrees_f(t, "start"), degrees_f(t, "end")
    heater, span, begun, by = _btu(t, "heater"), t.value("span"), t.one("from"), t.one("by")
    if loss is not None and heater is not None:
        loss -= heater
    if by is not None:
        if span is not None:
            return None
        span = between(now_term(t) if begun is None else begun, by)
    if gallons is None or start is None or (loss is not None and loss <= 0):
        return None
    if span is not None:
        return _chilled(t, gallons, loss, start, end, span)
    if loss is None:
        return None
    if end is None:
        if not t.question.has(r"\b(?:freez\w*|frozen|ice)\b"):
            return None
        end = FREEZING_F
    if not start > end >= FREEZING_F:
        return None
    hours = gallons * WATER_LB * (start - end) / loss  # a BTU warms a pound of water by a degree Fahrenheit
    work = f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(loss)} BTU/h = {shown(hours)} h"
    verdict = "Ice begins then; it is not frozen through." if end == FREEZING_F else ""
    if begun is not None or t.want.clock:
        at = hour_of(begun) if begun is not None else hour_now(t)
        verdict = f"That is at {time_of_day(at + hours)}. {verdict}".strip()
    return result(t, "hours to that temperature", hours, "h", (work,), verdict, source="heat balance")


def _gallons(t: Told) -> float | None:
    """The water, told outright, by its weight, or as a share of the tank."""
    water, size, level = t.one("water"), t.value("size"), t.value("level")
    if water is None:
        return None if size is None else size * (1.0 if level is None else level)
    if size is not None or level is not None:
        return None
    return water.value / WATER_LB if water.kind == "mass" else water.value


_BTU_IN_WATT = 3.412142


def _btu(t: Told, name: str) -> float | None:
    """A flow of heat in BTU/h."""
    term = t.one(name)
    if term is None:
        return None
    return term.value * _BTU_IN_WATT if term.kind == "watts" else term.value


def _chilled(t: Told, gallons: float, loss: float | None, start: float, end: float | None, hours: float) -> Estimate | None:  # fmt: skip
    """Water that cools so long: its temperature then and whether that is above a limit, or the heat that it lost an hour."""
    held = gallons * WATER_LB
    if loss is None:
        if end is None or not start > end >= FREEZING_F or hours <= 0:
            return None
        found = held * (start - end) / hours
        return result(t, "loss", found, "BTU/h", (f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(hours)} h = {shown(found)} BTU/h",), source="heat balance")  # fmt: skip
    then = start - loss * hours / held
    if then < FREEZING_F:
        if end is None and not t.want.judged:
            return None
        then = FREEZING_F
    line = f"{shown(start)} - {shown(loss)} BTU/h x {shown(hours)} h ÷ {shown(held)} lb = {shown(then)} °F"
    limit = end if end is not None else FREEZING_F if t.want.judged else None
    verdict = ""
    if limit is not None:
        above = then >= limit and not (end is None and then <= FREEZING_F)
        asks_below = asks_if_below(t.question.frame)
        verdict = f"{'No' if above == asks_below else 'Yes'}, it is {'above' if above else 'not above'} {shown(limit, 3)} °F then."
    celsius = t.question.scale == "C"
    return result(t, "temperature then", (then - 32) / 1.8 if celsius else then, "C" if celsius else "F", (line,), verdict, source="heat balance")  # fmt: skip


CHILLING = Family("chilling", lambda _q: "freeze-time", _applies, _ROLES, _solve)
