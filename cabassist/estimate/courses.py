"""What uses a supply, hour by hour: people by the clock, cold by thermostat and outside air, miles by the odometer.

A course is cut into stretches in which nothing changes, so that its sum can be written out and added up by hand:
"24 x 1.013 x 7 h + 24 x 0.3544 x 6 h". What is known are values that hold from the moment they were read until the
next one; before the first, the first holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from cabassist.estimate.clock import later
from cabassist.estimate.furnaces import PERSON_W
from cabassist.estimate.learning import DAY_PATTERN
from cabassist.estimate.quantities import Scale, shown

NIGHT_FROM, NIGHT_TO = 22, 7
"""Local hours between which the thermostat is at its night setting. Common practice, no source."""
Known = Sequence[tuple[datetime, float]]
"""Moments and the value that holds from then on, oldest first."""


@dataclass(frozen=True)
class Stretch:
    """Some hours in which what uses a supply stays the same."""

    hours: float
    pace: float
    """Exposure an hour, in the supply's own unit: persons, kelvin, metres."""
    words: str
    """The pace as a sum a driver can follow, in the unit it is shown in."""


def total(course: Iterable[Stretch]) -> float:
    """Exposure of a course."""
    return sum(one.pace * one.hours for one in course)


def squares(course: Iterable[Stretch]) -> float:
    """Exposure with each hour's pace squared, for uneven use."""
    return sum(one.pace**2 * one.hours for one in course)


def written(course: Iterable[Stretch], *, squared: bool = False, span: str = "h") -> str:
    """The sum of a course written out, like stretches put together; `span` is what its length is counted in."""
    hours: dict[str, float] = {}
    for one in course:
        hours[one.words] = hours.get(one.words, 0.0) + one.hours
    parts = [f"{f'({words})²' if squared else words} x {shown(h)} {span}" for words, h in hours.items()]
    return " + ".join(parts) or "0"


def upto(course: Iterable[Stretch], hours: float) -> tuple[Stretch, ...]:
    """The first hours of a course."""
    kept: list[Stretch] = []
    for one in course:
        if hours <= 0:
            break
        kept.append(Stretch(min(one.hours, hours), one.pace, one.words))
        hours -= one.hours
    return tuple(kept)


def at(known: Known, moment: datetime) -> float:
    """The value that holds at a moment.

    Raises:
        ValueError: nothing is known.
    """
    if not known:
        raise ValueError("Nothing is known yet. Tell a reading first.")
    return next((value for since, value in reversed(known) if since <= moment), known[0][1])


def _cuts(start: datetime, end: datetime, moments: Iterable[datetime], hours: Iterable[int]) -> list[datetime]:
    """Both ends and every moment or full local hour between them at which something may change."""
    found = {start, end, *(moment for moment in moments if start < moment < end)}
    wanted = set(hours)
    tick = start.replace(minute=0, second=0, microsecond=0)
    while (tick := later(tick, 1)) < end:
        if tick.hour in wanted:
            found.add(tick)
    return sorted(found)


def _hours(first: datetime, last: datetime) -> float:
    return (last - first) / timedelta(hours=1)


def people_course(start: datetime, end: datetime, aboard: Known) -> tuple[Stretch, ...]:
    """Person-hours from `start` to `end`, weighted by how much is used at that time of day.

    Args:
        start, end: in the local zone.
        aboard: people aboard.
    """
    found = []
    for first, last in pairwise(_cuts(start, end, (since for since, _ in aboard), range(24))):
        weight, people = float(DAY_PATTERN[first.hour]), at(aboard, first)
        found.append(Stretch(_hours(first, last), people * weight, f"{shown(people)} x {shown(weight)}"))
    return tuple(found)


@dataclass(frozen=True)
class House:
    """What the cabin holds and loses."""

    setpoint_k: float
    night_setpoint_k: float
    loss_w_per_k: float
    most_w: float
    """Heat that all furnaces together deliver at most."""


def cold_course(
    start: datetime, end: datetime, outside_k: Known, aboard: Known, house: House, scale: Scale
) -> tuple[Stretch, ...]:
    """Kelvin-hours from `start` to `end` that the furnaces must cover: what people warm is taken off.

    Args:
        start, end: in the local zone.
        outside_k: outside air.
        aboard: people aboard.
        house: the cabin.
        scale: in which the sums are written.
    """
    moments = [since for since, _ in (*outside_k, *aboard)]
    most = house.most_w / house.loss_w_per_k
    found = []
    for first, last in pairwise(_cuts(start, end, moments, (NIGHT_FROM, NIGHT_TO))):
        inside = house.night_setpoint_k if night(first) else house.setpoint_k
        outside, warmth = at(outside_k, first), at(aboard, first) * PERSON_W / house.loss_w_per_k
        needed = inside - outside - warmth
        pace = min(max(needed, 0.0), most)
        sign = "+" if scale.degrees(outside) < 0 else "-"
        words = f"({shown(scale.degrees(inside))} {sign} {shown(abs(scale.degrees(outside)))} - {shown(scale.span(warmth))})"
        if pace != needed:
            words = shown(scale.span(pace))
        found.append(Stretch(_hours(first, last), pace, words))
    return tuple(found)


def night(moment: datetime) -> bool:
    """Whether the thermostat is at its night setting."""
    return moment.hour >= NIGHT_FROM or moment.hour < NIGHT_TO


def road_course(start: datetime, end: datetime, odometer_m: Known, unit_m: float) -> tuple[Stretch, ...]:
    """Metres driven from `start` to `end`; between two readings of the odometer the road is spread evenly.

    Args:
        start, end: both within the odometer's readings; what lies outside counts as standing still.
        odometer_m: as read.
        unit_m: length of the unit in which the sums are written.
    """
    found = []
    for (since, before), (until, after) in pairwise(odometer_m):
        first, last = max(since, start), min(until, end)
        if first >= last:
            continue
        pace = (after - before) / _hours(since, until)
        found.append(Stretch(_hours(first, last), pace, shown(pace / unit_m)))
    return tuple(found)


def even_course(hours: float, pace: float = 1.0, words: str = "1") -> tuple[Stretch, ...]:
    """One stretch."""
    return (Stretch(hours, pace, words),) if hours > 0 else ()
