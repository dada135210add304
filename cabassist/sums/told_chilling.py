"""Sums over water that cools by the heat it loses: when it is so cold, how cold it is after a time, what it lost."""

from __future__ import annotations

import re

from cabassist.estimate.clock import time_of_day
from cabassist.estimate.cold import FUSION_J_PER_KG, FUSION_SOURCE
from cabassist.estimate.quantities import BTU_J, LB_KG, duration, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
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
        if loss is not None and end is None and start >= FREEZING_F and _SOLID.search(t.question.frame):
            return _solid_by(t, gallons, loss, start, span)
        return _chilled(t, gallons, loss, start, end, span)
    if loss is None:
        return None
    if end is None:
        if not t.question.has(r"\b(?:freez\w*|froze|frozen|ic(?:e|ed|es|ing|y)|slush\w*|solid)\b"):
            return None
        end = FREEZING_F
    if end == FREEZING_F and start >= end and _SOLID.search(t.question.frame):
        return _through(t, gallons, loss, start, None if begun is None else hour_of(begun))
    if not start > end >= FREEZING_F:
        return None
    hours = gallons * WATER_LB * (start - end) / loss  # a BTU warms a pound of water by a degree Fahrenheit
    work = f"{shown(gallons)} gal x {WATER_LB} lb x {shown(start - end)} °F ÷ {shown(loss)} BTU/h = {shown(hours)} h"
    verdict = "Ice begins then; it is not frozen through." if end == FREEZING_F else ""
    if begun is not None or t.want.clock:
        at = hour_of(begun) if begun is not None else hour_now(t)
        verdict = f"That is at {time_of_day(at + hours)}. {verdict}".strip()
    return result(t, "hours to that temperature", hours, "h", (work,), verdict, source="heat balance")


FUSION_BTU_LB = FUSION_J_PER_KG * LB_KG / BTU_J
"""What a pound of water gives off while it turns to ice."""
_SOLID = Lazy(
    r"\b(?:solid\w*|(?:froz\w*|freez\w*|frozen|ice|iced|clean|right|clear|all the way) (?:\w+ )?through|blocks?|all (?:of it )?(?:ice|frozen|froze)|(?:fully|completely|entirely|wholly) (?:frozen|froze|ice|iced)|rock hard|brick)\b"
)
_BEGINS = Lazy(
    r"\b(?:begin\w*|start(?:s|ing|ed)?|starts to|first|skin|skim|sets? in|slush\w*|ice (?:forms?|shows?|up)|(?:to|till?|until|before|for|of|sees?|get) (?:the |any |some )?(?:ice|freezing|32)|ice (?:and|then|,)|frozen through too)\b"
)
_BEFORE = Lazy(r"\b(?:before|safe|ok|okay|fine|alright|without|not|never|still|left|short of)\b")


def _until_solid(gallons: float, loss: float, start: float) -> tuple[float, float]:
    """Hours until ice begins, and until all of it is ice."""
    held = gallons * WATER_LB
    return held * (start - FREEZING_F) / loss, held * (start - FREEZING_F + FUSION_BTU_LB) / loss


def _through(t: Told, gallons: float, loss: float, start: float, begun: float | None) -> Estimate:
    """Hours until water is frozen through, beside those until ice begins, whichever is asked first."""
    begins, solid = _until_solid(gallons, loss, start)
    first = _BEGINS.search(t.question.frame) is not None and begins > 0
    work = f"{shown(gallons * WATER_LB)} lb x ({shown(start - FREEZING_F)} + {shown(FUSION_BTU_LB)}) ÷ {shown(loss)} BTU/h = {shown(solid)} h"
    verdict = f"Ice begins after {duration(begins)}, frozen through after {duration(solid)}."
    if begun is not None or t.want.clock:
        at = hour_now(t) if begun is None else begun
        verdict = f"Ice begins at {time_of_day(at + begins)}, frozen through at {time_of_day(at + solid)}."
    figures = figure("ice begins", begins, "h"), figure("frozen through", solid, "h")
    name, value = ("ice begins", begins) if first else ("frozen through", solid)
    return result(t, name, value, "h", (work,), verdict, figures[1:] if first else figures[:1], FUSION_SOURCE)


def _solid_by(t: Told, gallons: float, loss: float, start: float, hours: float) -> Estimate:
    """Whether water is frozen through after so many hours; yes says that it is, or that it is not where it may not be."""
    begins, solid = _until_solid(gallons, loss, start)
    through = hours >= solid
    clauses = [one for one in re.split(r"[,.;?]", t.question.frame) if _SOLID.search(one)]
    wished = _BEFORE.search(clauses[-1]) is not None
    verdict = f"{'Yes' if through != wished else 'No'}: ice begins after {duration(begins)}, frozen through after {duration(solid)}."
    return result(t, "frozen through", solid, "h", (f"{shown(gallons * WATER_LB)} lb x ({shown(start - FREEZING_F)} + {shown(FUSION_BTU_LB)}) ÷ {shown(loss)} BTU/h",), verdict, (figure("ice begins", begins, "h"),), FUSION_SOURCE)  # fmt: skip


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
        asks_below = _claims_ice(t.question.frame) if _CLAIMED.search(t.question.frame) else asks_if_below(t.question.frame)  # fmt: skip
        verdict = f"{'No' if above == asks_below else 'Yes'}, it is {'above' if above else 'not above'} {shown(limit, 3)} °F then."
    also = () if limit is None or not start > limit else (figure("until then", held * (start - limit) / loss, "h"),)
    celsius = t.question.scale == "C"
    return result(t, "temperature then", (then - 32) / 1.8 if celsius else then, "C" if celsius else "F", (line,), verdict, also, "heat balance")  # fmt: skip


_CLAIMED = Lazy(
    r"\b(?:says|said|reckons?|claims?|swears?|thinks?|figures|bets?|insists?|told (?:me|us))\b.*\b(?:right|correct|true|wrong|agree|believe|buy (?:it|that))\b"
)
_KEPT = Lazy(
    r"\b(?:before|till?|until|safe|ok|okay|fine|stays?|above|without|not|never|holds?|left|liquid|no ice|clear of)\b"
)


def _claims_ice(frame: str) -> bool:
    """Whether somebody claims that it gets so cold in that time, and not that it takes longer."""
    return _KEPT.search(frame) is None


CHILLING = Family("chilling", lambda _q: "freeze-time", _applies, _ROLES, _solve)
