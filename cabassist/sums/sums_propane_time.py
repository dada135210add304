"""How long propane lasts, whether that is long enough, and what is left or burned after a time."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE
from cabassist.estimate.quantities import duration, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told, at_clock, done, today_at
from cabassist.sums.sums_propane_held import capacity_lb, pounds_of
from cabassist.sums.sums_propane_weight import amount_wanted
from cabassist.sums.told_parts import EVEN, asks_lack


def lasts(t: Told, pounds: float, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate:  # fmt: skip
    """How long what is there lasts, until when, and whether that is long enough."""
    hours = pounds / hourly
    work = (*lines, line, f"{shown(pounds)} lb ÷ {shown(hourly)} lb an hour = {shown(hours)} h")
    verdict = ""
    if needed is not None and t.want.difference:
        left = pounds - hourly * needed
        word = "to spare" if left >= 0 else "short"
        verdict = f"{'Yes' if (left >= -EVEN) != asks_lack(t.question) else 'No'}: {shown(abs(left))} pounds {word}."
        used = f"{shown(hourly)} lb an hour x {shown(needed)} h = {shown(hourly * needed)} lb"
        return done(word, abs(left), "lb", t, (*lines, line, used), verdict, figure("lasts", hours, "h"), figure("days", hours / 24, "days"))  # fmt: skip
    if needed is not None:
        verdict = _enough(t, hours, needed)
    elif t.want.judged and (until := _until(t)) is not None:
        verdict = _enough(t, hours, until)
    if t.want.clock or (t.has("now") and needed is None and not t.has("before")):
        verdict = f"{verdict} {at_clock(today_at(t.now, t.value('now')), hours)}".strip()
    days = figure("days", hours / 24, "days")
    return done("lasts", hours, "h", t, work, verdict, days, source=HEAT_SOURCE)


def _enough(t: Told, hours: float, needed: float) -> str:
    """Whether it lasts, as a yes or no to what was asked."""
    spans, lacks = f"{duration(hours)} against {duration(needed)}.", asks_lack(t.question)
    if hours >= needed - EVEN:
        return f"{'No' if lacks else 'Yes'}, it lasts: {spans}"
    return f"Yes, it runs out: {spans}" if lacks else f"No: {spans}"


_REMAINS = Lazy(r"\b(?:left|remain\w*|still|full)\b")


def share_left(t: Told, pounds: float | None, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate | None:  # fmt: skip
    """How full the cylinders are, now or after the time told."""
    told = any(t.has(name) for name in ("left", "share", "gross", "filled"))
    if pounds is None or (not told and needed and hourly > 0 and not _REMAINS.search(t.question.frame)):
        if not needed or hourly <= 0 or not t.has("size"):
            return None
        size = capacity_lb(t)
        part = hourly * needed / size
        return done(
            "burns",
            part * 100,
            "percent",
            t,
            (line, f"{shown(hourly)} x {shown(needed)} h ÷ {shown(size)} lb = {shown(part * 100, 3)} %"),
            source=HEAT_SOURCE,
        )
    if (
        bool(needed) is not (hourly > 0)
        or not (t.has("size") or t.has("share"))
        or (needed is None and t.has("share") and len(t.roles["share"]) == 1)
    ):
        return None
    size = capacity_lb(t)
    left = pounds - hourly * (needed or 0.0)
    if left < 0:
        return done(
            "full",
            0.0,
            "percent",
            t,
            (*lines, line),
            f"It runs out before: {duration(pounds / hourly)}.",
            source=HEAT_SOURCE,
        )
    used = f"{shown(pounds)} - {shown(hourly)} lb an hour x {shown(needed)} h = {shown(left)} lb" if needed else ""
    work = (*lines, line, used, f"{shown(left)} ÷ {shown(size)} lb = {shown(left / size * 100, 3)} %")
    return done("full", left / size * 100, "percent", t, work, "", figure("pounds", left, "lb"))


def left_after(t: Told, pounds: float, lines: tuple[str, ...], hourly: float, line: str, needed: float) -> Estimate:
    """What is left after the time told, or short of it."""
    used = hourly * needed
    left = pounds - used
    work = (*lines, line, f"{shown(hourly)} lb an hour x {shown(needed)} h = {shown(used)} lb")
    verdict = f"{'Yes' if (left >= -EVEN) != asks_lack(t.question) else 'No'}: {shown(abs(left))} pounds {'to spare' if left >= 0 else 'short'}."
    found = amount_wanted(t, abs(left), work, "to spare" if left >= 0 else "short")
    return replace(found, verdict=verdict)


_DAY = Lazy(
    r"\b(?:to|till|until|through|by) (?:the )?(monday|tuesday|wednesday|thursday|friday|saturday|sunday)(?: (night|evening|morning|noon))?\b"
)
_TODAY = Lazy(r"\b(?:it is|it|today is|its|now) (?:' s )?(monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b")
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def _until(t: Told) -> float | None:
    """Hours until the day that it must last to, from the day and time told or from now."""
    goal, said = _DAY.search(t.question.frame), _TODAY.search(t.question.frame)
    if goal is None:
        return None
    at = t.value("now")
    hour = t.now.hour + t.now.minute / 60 if at is None else at
    today = _DAYS.index(said[1]) if said else t.now.weekday()
    end = {"night": 22.0, "evening": 20.0, "morning": 7.0, "noon": 12.0}.get(goal[2] or "", 12.0)
    return ((_DAYS.index(goal[1]) - today) % 7 or 7) * 24 + end - hour


def burned_within(t: Told, hourly: float, line: str, needed: float | None, held: float = 0.0) -> Estimate | None:
    """What burns in a time."""
    hours = needed if needed is not None else t.value("elapsed")
    if hours is None or t.want.kind not in ("volume", "mass", "", "energy"):
        return None
    pounds = hourly * hours + held
    kept = f" + {shown(held)} lb kept" if held else ""
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h{kept} = {shown(pounds)} lb")
    return amount_wanted(t, pounds, work, "burns")


WHICH_LASTS = Lazy(r"\b(?:which|who|outlasts?|longer|longest|sooner|first)\b")
"""Two lots of gas with a burner each are set against each other."""
_SOONER = Lazy(r"\b(?:first|sooner|soonest|shorter)\b")


def of_two(t: Told) -> Estimate | None:
    """Which of two lots of propane, each on a burner of its own, lasts longer, or is gone first."""
    left, burners = t.all("left"), t.all("burner")
    if {*t.roles} - {"left", "burner", "beside"} or any(one.kind not in ("mass", "volume", "n") for one in left):
        return None
    order = sorted((*((one.amount.start, "l") for one in left), *((one.amount.start, "b") for one in burners)))
    if "".join(kind for _, kind in order) not in ("lblb", "blbl"):
        return None  # whose burner is which?
    hours = [pounds_of(one) * BTU_PER_LB / burner.value for one, burner in zip(left, burners, strict=True)]
    if any(burner.kind == "n" and burner.value < _LEAST_BTU for burner in burners) or not all(hours):
        return None
    sooner = _SOONER.search(t.question.frame) is not None
    best = min((0, 1), key=lambda k: hours[k] if sooner else -hours[k])
    gap = abs(hours[0] - hours[1])
    lines = tuple(
        f"{shown(pounds_of(one))} lb x {BTU_PER_LB:,.0f} BTU ÷ {shown(burner.value)} BTU/h = {shown(span)} h"
        for one, burner, span in zip(left, burners, hours, strict=True)
    )
    word = "first" if sooner else "longer"
    name = f"{shown(left[best].amount.value)} {left[best].unit if left[best].unit != 'n' else 'lb'} on {shown(burners[best].value)} BTU/h"
    verdict = f"The {name} {'is gone' if sooner else 'lasts'} {word}: {duration(hours[best])} against {duration(hours[1 - best])}."
    return done(f"{'gone' if sooner else 'lasts'} {word}", hours[best], "h", t, lines, verdict, figure("difference", gap, "h"), figure("the other", hours[1 - best], "h"), source=HEAT_SOURCE)  # fmt: skip


_LEAST_BTU = 3000.0
