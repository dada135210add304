"""What the coach's own readings teach about how fast each supply goes.

How it works. Two numbers are followed together for each supply: how much is there, and how fast it goes for each
unit of what drives it — a degree-hour of cold for propane, a person-hour aboard for water and waste. Before any reading
the rate is what physics or habit says (heat loss over efficiency, gallons a person), with an honest width around it.
Between readings the amount is carried forward by rate x exposure and both become less sure: use is never quite even,
and the rate may drift. A reading then pulls the amount toward what the gauge shows, in proportion to how much the gauge
can be trusted against what was expected; and since a tank lower than expected means a faster rate, it pulls the rate
as well. This is the Kalman filter with two states, which for errors of normal shape is exact conjugate Bayes: the
physics is the prior, each reading a likelihood, and after many readings physics hardly counts. A fill or a dump starts
the amount afresh and keeps the rate. Ranges therefore shrink with each reading and widen with its age. The time left
comes from the same numbers: for each hour ahead, the chance that the level has reached its limit; the range runs from
the hour at which that chance passes 10 % to the hour at which it passes 90 %.

Amounts are kg or m³; exposures are kelvin-hours or person-hours, as the names say. Needs numpy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from cabassist.estimate.furnaces import PERSON_W
from cabassist.estimate.propane import HEAT_J_PER_KG
from cabassist.estimate.tanks import RANGE_Z

Floats = NDArray[np.floating[Any]]
Number = TypeVar("Number", float, NDArray[np.floating[Any]])

GAUGE_SD = 0.04
"""Standard deviation of a needle or of a level judged by eye, as a share of full. Common practice, no source."""
FILLED_SD = 0.01
"""The same right after a fill to the overflow or a dump to the last drop."""
# The widths below are common practice with no source, set so that ranges on simulated trips hold what they promise
# (tests/bench/estimates.py prints it). Heat is wider than the loss alone: what people warm is taken off a doubtful sum.
HEAT_RATE_SPREAD, PEOPLE_RATE_SPREAD = 0.38, 0.28
"""Standard deviation of the rate before any reading, as a share of it."""
HEAT_NOISE, PEOPLE_NOISE = 0.8, 0.65
"""How uneven use is: standard deviation of one hour's use as a share of it, as if each hour were by itself."""
DRIFT = 0.04
"""How much a rate may change in a day, as a share."""
FORECAST_SPREAD = 0.1
"""Standard deviation of the whole exposure ahead, as a share: the forecast, or who is aboard."""
LOWEST_RATE = 0.05
"""A rate never falls below this share of the prior one: nothing uses less than nothing."""
SURPRISING = 3.0
"""A reading further than this many standard deviations from what was expected is worth a question."""

_PATTERN = np.array([0.35] * 6 + [0.9, 1.6, 1.6, 1.2] + [1.0] * 7 + [1.4, 1.6, 1.6, 1.5, 1.5, 1.1, 0.6])
DAY_PATTERN: Floats = _PATTERN / _PATTERN.mean()
"""Use of water by hour of the day, mean 1: little at night, most morning and evening. Common practice, no source."""


@dataclass(frozen=True)
class Supply:
    """One supply, and what is believed of it before any reading."""

    name: str
    capacity: float
    """When full, in kg, m³ or amp-hours."""
    unit: Literal["kg", "m^3", "A*h"]
    rate: float
    """Used (or filled) for each unit of exposure: kg per K·h, m³ per person-hour, m³ per metre, amps."""
    rate_spread: float
    """Standard deviation of that rate, as a share."""
    noise: float
    """Unevenness of use, see `HEAT_NOISE`."""
    rising: bool = False
    """True for waste, which fills."""

    @property
    def sign(self) -> float:
        """+1 for a level that rises with use, -1 for one that falls."""
        return 1.0 if self.rising else -1.0


@dataclass(frozen=True)
class Step:
    """A reading, and what happened since the one before."""

    level: float
    """In kg or m³."""
    level_sd: float
    """Standard deviation of the reading, in kg or m³."""
    hours: float = 0.0
    """Since the reading before."""
    exposure: float = 0.0
    """Kelvin-hours or person-hours since the reading before."""
    refilled: bool = False
    """Filled or dumped since the reading before."""


@dataclass(frozen=True)
class Belief:
    """Amount and rate as they are believed now, with their covariance."""

    level: float
    rate: float
    level_var: float
    rate_var: float
    covariance: float = 0.0

    @property
    def level_sd(self) -> float:
        """Standard deviation of the amount."""
        return float(self.level_var**0.5)

    @property
    def rate_sd(self) -> float:
        """Standard deviation of the rate."""
        return float(self.rate_var**0.5)


def propane_supply(capacity_kg: float, loss_w_per_k: float, efficiency: float) -> Supply:
    """Propane of the cylinders that feed, with the burn for each degree-hour that the heat loss implies.

    Args:
        capacity_kg: of the cylinders together, at their legal fill.
        loss_w_per_k: heat lost for each kelvin, shell and leaking air together.
        efficiency: share of the fuel's heat that reaches the cabin.

    Raises:
        ValueError: a number not above zero.
    """
    if min(capacity_kg, loss_w_per_k, efficiency) <= 0:
        raise ValueError("The cylinders' size, the heat loss and the efficiency must be more than zero.")
    rate = loss_w_per_k * 3600 / efficiency / HEAT_J_PER_KG
    return Supply("propane", capacity_kg, "kg", rate, HEAT_RATE_SPREAD, HEAT_NOISE)


def people_supply(name: str, capacity_m3: float, m3_per_person_day: float, *, rising: bool = False) -> Supply:
    """Fresh or waste water, with the use of a person that habit suggests.

    Raises:
        ValueError: a number not above zero.
    """
    if min(capacity_m3, m3_per_person_day) <= 0:
        raise ValueError("The tank's size and the use of a person must be more than zero.")
    return Supply(name, capacity_m3, "m^3", m3_per_person_day / 24, PEOPLE_RATE_SPREAD, PEOPLE_NOISE, rising)


def degree_hours(
    inside_k: Floats | float,
    outside_k: Floats,
    aboard: Floats | float,
    loss_w_per_k: float,
    *,
    most_w: float | None = None,
) -> Floats:
    """Kelvin-hours of each hour that the furnaces must cover: what people warm is taken off, never below 0.

    Args:
        inside_k, outside_k, aboard: of each hour.
        loss_w_per_k: heat lost for each kelvin.
        most_w: heat the furnaces can deliver at most; caps the hour.
    """
    needed = np.asarray(inside_k) - np.asarray(outside_k) - np.asarray(aboard) * PERSON_W / loss_w_per_k
    return np.clip(needed, 0.0, None if most_w is None else most_w / loss_w_per_k)


def person_hours(aboard: Floats | Sequence[float], first_hour: int) -> Floats:
    """Person-hours of each hour, weighted by how much is used at that time of day.

    Args:
        aboard: people aboard in each hour.
        first_hour: hour of the day of the first one, local time, 0–23.
    """
    people = np.asarray(aboard, dtype=float)
    return people * DAY_PATTERN[(first_hour + np.arange(len(people))) % 24]


def start(supply: Supply) -> Belief:
    """What is believed before any reading: nothing about the amount, the prior about the rate."""
    middle = supply.capacity / 2
    return Belief(middle, supply.rate, supply.capacity**2, (supply.rate_spread * supply.rate) ** 2)


def advance(supply: Supply, belief: Belief, hours: float, exposure: float) -> Belief:
    """The belief some hours later, with that exposure in between and no reading.

    Raises:
        ValueError: time or exposure runs backwards.
    """
    if hours < 0 or exposure < 0:
        raise ValueError("Time and exposure can't be less than zero.")
    if hours == 0:
        return belief
    moved = supply.sign * exposure
    uneven = (supply.noise * belief.rate * exposure) ** 2 / hours
    return Belief(
        level=belief.level + moved * belief.rate,
        rate=belief.rate,
        level_var=belief.level_var + 2 * moved * belief.covariance + moved**2 * belief.rate_var + uneven,
        rate_var=belief.rate_var + (DRIFT * supply.rate) ** 2 * hours / 24,
        covariance=belief.covariance + moved * belief.rate_var,
    )


def observe(supply: Supply, belief: Belief, level: float, level_sd: float) -> Belief:
    """The belief after a reading.

    Raises:
        ValueError: the reading's error is not above zero.
    """
    if level_sd <= 0:
        raise ValueError("A reading is never exact: its error must be more than zero.")
    total = belief.level_var + level_sd**2
    trust, pull = belief.level_var / total, belief.covariance / total
    off = level - belief.level
    return Belief(
        level=belief.level + trust * off,
        rate=max(belief.rate + pull * off, LOWEST_RATE * supply.rate),
        level_var=(1 - trust) * belief.level_var,
        rate_var=belief.rate_var - pull * belief.covariance,
        covariance=(1 - trust) * belief.covariance,
    )


def refill(supply: Supply, belief: Belief, level: float, level_sd: float) -> Belief:
    """The belief after a fill or a dump: the amount starts afresh, the rate is kept."""
    return replace(belief, level=level, level_var=level_sd**2, covariance=0.0)


def learn(supply: Supply, history: Sequence[Step]) -> Belief:
    """The belief after a history of readings, oldest first."""
    belief = start(supply)
    for step in history:
        belief = advance(supply, belief, step.hours, step.exposure)
        change = refill if step.refilled else observe
        belief = change(supply, belief, step.level, step.level_sd)
    return belief


def level_after(
    supply: Supply, belief: Belief, total: Number, squares: Number, *, forecast_spread: float = FORECAST_SPREAD
) -> tuple[Number, Number]:
    """Mean and standard deviation of the level after some exposure ahead.

    Args:
        supply, belief: what is believed now.
        total: exposure from now on.
        squares: the same with each hour's exposure squared: uneven use adds up by hours, not by exposure.
        forecast_spread: see `FORECAST_SPREAD`.
    """
    moved = supply.sign * total
    variance = (
        belief.level_var
        + 2 * moved * belief.covariance
        + moved**2 * belief.rate_var
        + (supply.noise * belief.rate) ** 2 * squares
        + (forecast_spread * belief.rate * total) ** 2
    )
    return belief.level + moved * belief.rate, variance**0.5


def level_ahead(
    supply: Supply, belief: Belief, exposures: Floats, *, forecast_spread: float = FORECAST_SPREAD
) -> tuple[Floats, Floats]:
    """Mean and standard deviation of the level after each coming hour, the present first."""
    total = np.concatenate(([0.0], np.cumsum(exposures)))
    squares = np.concatenate(([0.0], np.cumsum(np.square(exposures))))
    mean, sd = level_after(supply, belief, total, squares, forecast_spread=forecast_spread)
    return mean, np.maximum(sd, 1e-9)


def hours_to(
    supply: Supply,
    belief: Belief,
    exposures: Floats,
    limit: float,
    *,
    forecast_spread: float = FORECAST_SPREAD,
) -> tuple[float | None, float | None, float | None]:
    """Hours until the level has reached `limit` with a chance of 10, 50 and 90 %; None beyond the hours given.

    Args:
        supply, belief: what is believed now.
        exposures: of each coming hour.
        limit: level in kg or m³.
        forecast_spread: see `FORECAST_SPREAD`.
    """
    mean, sd = level_ahead(supply, belief, exposures, forecast_spread=forecast_spread)
    reached = np.maximum.accumulate(supply.sign * (mean - limit) / sd)
    return _crossing(reached, -RANGE_Z), _crossing(reached, 0.0), _crossing(reached, RANGE_Z)


def _crossing(rising: Floats, level: float) -> float | None:
    """Where a never falling curve reaches a level, straight between its hours."""
    if rising[0] >= level:
        return 0.0
    after = int(np.searchsorted(rising, level))
    if after >= len(rising):
        return None
    before = float(rising[after - 1])
    return after - 1 + (level - before) / (float(rising[after]) - before)
