"""The smallest set of service stops that keeps every chance of a shortfall under a bound.

A service never makes things worse, so more stops never raise a chance: sets are tried from the smallest up, and the
first size at which any set is good enough is the answer; of the sets of that size the safest is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import combinations
from math import comb

from cabassist.estimate.amounts import percent
from cabassist.estimate.clock import day_clock
from cabassist.estimate.quantities import exact, figure, withheld
from cabassist.estimate.trip import ASSUMPTIONS, Run, Service, Stock, Visit, failed
from cabassist.estimate.types import Estimate

MOST_TRIED = 150_000
"""Sets of one size beyond which the search strips stops one by one instead."""
Chosen = frozenset[int]
Chance = Callable[[Stock, Iterable[int]], float]


@dataclass(frozen=True)
class ServiceStop:
    """A stop to make, and what to do there."""

    visit: Visit
    services: tuple[Service, ...]
    """Only what is needed to keep under the bound."""


@dataclass(frozen=True)
class ServicePlan:
    """The stops to make and what remains of the chances."""

    stops: tuple[ServiceStop, ...]
    chances: dict[str, float]
    """Chance of running short of each supply with these stops."""
    bound: float
    smallest: bool = True
    """False when there were too many stops to prove that no smaller set would do."""

    @property
    def enough(self) -> bool:
        """Whether every chance is under the bound."""
        return all(chance <= self.bound for chance in self.chances.values())


def smallest_service(run: Run, bound: float) -> ServicePlan:
    """Find the stops.

    Args:
        run: a simulated trip.
        bound: highest chance of a shortfall that is accepted for any supply, above 0 and below 1.

    Returns:
        The plan; when even every stop is not enough, the plan with every stop that helps, and `enough` is false.

    Raises:
        ValueError: the bound is no chance.
    """
    if not 0 < bound < 1:
        raise ValueError("The chance that is accepted lies between 0 and 1, for example 0.1.")
    kinds = {stock.service for stock in run.stocks}
    useful = [i for i, v in enumerate(run.itinerary.visits) if v.services & kinds]
    chance = _chances(run)

    def good(chosen: Chosen) -> bool:
        return all(chance(stock, chosen) <= bound for stock in run.stocks)

    everything = frozenset(useful)
    if not good(everything):
        return _plan(run, chance, everything, bound)
    for size in range(len(useful) + 1):
        if comb(len(useful), size) > MOST_TRIED:
            return _plan(run, chance, _stripped(everything, good), bound, smallest=False)
        fitting = [frozenset(c) for c in combinations(useful, size) if good(frozenset(c))]
        if fitting:
            safest = min(fitting, key=lambda c: (max((chance(s, c) for s in run.stocks), default=0.0), sorted(c)))
            return _plan(run, chance, safest, bound)
    return _plan(run, chance, everything, bound)


def _chances(run: Run) -> Chance:
    """Chance of a shortfall of one supply with a set of stops, each distinct case counted once."""
    seen: dict[tuple[str, tuple[int, ...]], float] = {}
    visits = run.itinerary.visits

    def chance(stock: Stock, chosen: Iterable[int]) -> float:
        name = stock.supply.name
        if stock.service is None or stock.driver == "house":
            hours = run.planned(stock)
        else:
            hours = tuple(sorted(visits[i].hour for i in chosen if stock.service in visits[i].services))
        if (name, hours) not in seen:
            seen[name, hours] = float(failed(run, name, hours).mean())
        return seen[name, hours]

    return chance


def _stripped(everything: Chosen, good: Callable[[Chosen], bool]) -> Chosen:
    """A set from which no stop can be left out, found by leaving out one after the other."""
    kept = everything
    for one in sorted(everything):
        if good(kept - {one}):
            kept -= {one}
    return kept


def _needed(chance: Chance, stock: Stock, offered: Chosen, bound: float) -> Chosen:
    """Those of the chosen stops at which this supply must be served."""
    allowed = max(bound, chance(stock, offered))
    return _stripped(offered, lambda fewer: chance(stock, fewer) <= allowed)


def _plan(run: Run, chance: Chance, chosen: Chosen, bound: float, *, smallest: bool = True) -> ServicePlan:
    """The chosen stops with what must be done at each: services that are not needed are left out."""
    visits = run.itinerary.visits
    at: dict[str, Chosen] = {}
    for stock in run.stocks:
        mine = frozenset(i for i in chosen if stock.service in visits[i].services)
        at[stock.supply.name] = _needed(chance, stock, mine, bound)
    stops = []
    for i in sorted(chosen):
        needed = tuple(s.service for s in run.stocks if s.service is not None and i in at[s.supply.name])
        if needed:
            stops.append(ServiceStop(visits[i], needed))
    chances = {s.supply.name: chance(s, at[s.supply.name]) for s in run.stocks}
    return ServicePlan(tuple(stops), chances, bound, smallest)


def service_stops(run: Run, bound: float) -> Estimate:
    """How many service stops the trip needs, which, and what to do at each.

    Args:
        run, bound: as in `smallest_service`.

    Returns:
        The number of stops; None when even all of them are not enough.

    Raises:
        ValueError: the bound is no chance.

    Source: simulation and exhaustive search.
    """
    plan = smallest_service(run, bound)
    start = run.itinerary.start
    lines = tuple(f"{s.visit.name}, {day_clock(start, s.visit.hour)}: {_listed(s.services)}" for s in plan.stops)
    risks = tuple(f"chance that {run.stock(name).failing}: {percent(c)}" for name, c in plan.chances.items())
    also = tuple(figure(f"chance {name}", chance, "fraction") for name, chance in plan.chances.items())
    name = "service stops"
    if not plan.enough:
        weak = [supply for supply, chance in plan.chances.items() if chance > bound]
        verdict = f"Even every stop on the way is not enough for the {_listed(weak)}. Add a stop or use less."
        return withheld(
            name, "stops", verdict, working=(*lines, *risks), assumptions=ASSUMPTIONS, source=SOURCE, also=also
        )
    verdict = "; ".join(lines) if lines else "No service stop is needed"
    return exact(
        name,
        float(len(plan.stops)),
        "stops",
        working=(*lines, *risks, f"accepted chance of each: {percent(bound)}"),
        assumptions=ASSUMPTIONS
        if plan.smallest
        else (*ASSUMPTIONS, "a smaller set may exist: too many stops to try all"),
        source=SOURCE,
        verdict=f"{verdict}.",
        also=also,
    )


SOURCE = "simulation of the trip, all sets of stops tried from the smallest up"


def _listed(words: Iterable[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last
