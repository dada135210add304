"""The trip ahead with what this coach's readings say: from trip file, profile and readings to a simulation."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from cabassist.coach import Coach
from cabassist.dialogue.accounts import Accounts, figures_of
from cabassist.dialogue.types import Stored
from cabassist.estimate.amounts import percent
from cabassist.estimate.learning import GAUGE_SD, Belief, Supply, refill
from cabassist.estimate.ledger import entry
from cabassist.estimate.quantities import GALLON_M3, roughly
from cabassist.estimate.stocks import belief_from_level, stocks
from cabassist.estimate.trip import TRAJECTORIES, Itinerary, Run, simulate

if TYPE_CHECKING:
    from cabassist.estimate.tripfile import TripFile

SEED = 20260115
"""The same trip and readings give the same answer."""


def simulated(
    trip: TripFile,
    coach: Coach,
    stored: Sequence[Stored],
    now: datetime,
    read_table: Callable[[str], str] | None = None,
    *,
    trajectories: int = TRAJECTORIES,
) -> tuple[Run, tuple[str, ...]]:
    """A trip followed from now (or from its start, when that is ahead) to its end.

    Args:
        trip: the checked file.
        coach: the profile.
        stored: readings that stand.
        now: the clock.
        read_table: gives the text of a table of temperatures that the file names.
        trajectories: how many times.

    Returns:
        The run, and from where each supply's level and rate were taken.

    Raises:
        ValueError: the forecast does not cover the trip, a table cannot be read, or the trip is over.
    """
    from cabassist.estimate.tripfile import itinerary, remaining

    figures = replace(
        figures_of(coach),
        fresh_m3_per_person_day=trip.fresh_per_person_day * GALLON_M3,
        waste_m3_per_person_day=trip.waste_per_person_day * GALLON_M3,
    )
    ahead: Itinerary = remaining(itinerary(trip, figures, read_table), now)
    accounts = Accounts(coach, stored, now)
    beliefs, origins = {}, []
    for name, supply in figures.supplies().items():
        given = getattr(trip.levels, name, None)
        beliefs[name], origin = _belief(name, supply, accounts, given)
        origins.append(f"{name}: {origin}")
    wait = (ahead.start - now).total_seconds() / 3600
    if wait > 0.5:
        origins.append(f"levels as they are now: what is used in the {roughly(wait)} before the start is not taken off")
    run = simulate(
        ahead, stocks(figures, beliefs), figures.heat(), np.random.default_rng(SEED), trajectories=trajectories
    )
    return run, tuple(origins)


def _belief(name: str, supply: Supply, accounts: Accounts, given: float | None) -> tuple[Belief, str]:
    """Level and rate of a supply at the start, and where they come from in words."""
    account, _ = accounts.account(name)
    if account is None or len(account.seen) < 2:
        level = given if given is not None else _read(name, supply, accounts)
        if level is None:
            return belief_from_level(supply, None), "level unknown, anything from empty to full; tell me a reading"
        origin = "from the trip file" if given is not None else "as read"
        return belief_from_level(supply, level), f"{percent(level)} {origin}, rate before any reading"
    made = entry(account, accounts.now)
    learned = f"rate learned from {len(account.seen)} readings"
    if given is None:
        return made.belief, f"{percent(made.level / supply.capacity)} by the readings, {learned}"
    return (
        refill(supply, made.belief, given * supply.capacity, GAUGE_SD * supply.capacity),
        f"{percent(given)} from the trip file, {learned}",
    )


def _read(name: str, supply: Supply, accounts: Accounts) -> float | None:
    """The level as last read, of all cylinders together for propane."""
    if name != "propane":
        history = accounts.history(name)
        return history[-1][1] if history else None
    cylinders = accounts.cylinders()
    held = sum(cylinders.shares[role] * accounts.size_kg(role) for role in cylinders.order)
    return min(held / supply.capacity, 1.0) if cylinders.order else None


__all__ = ["SEED", "simulated"]
