"""The trip ahead: every supply followed hour by hour to the end, thousands of times, with what is not known drawn anew.

What is drawn: how much is there and how fast it goes (together, as the readings leave them), weather that strays from
its forecast for a day or two, hours of heavier and lighter use, and whether the plan of who is aboard holds. Use does
not depend on what is left, so one simulation answers for every choice of service stops: a service only sets the level
afresh. That is what makes searching for the smallest set of stops quick (`service_plan.py`).

Amounts are SI (kg, m³; amp-hours for the battery), temperatures kelvin, times hours from the start. Needs numpy; the
random generator is handed in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from cabassist.estimate.amounts import gal, lb, percent
from cabassist.estimate.clock import day_clock, later
from cabassist.estimate.furnaces import PERSON_W
from cabassist.estimate.learning import FORECAST_SPREAD, LOWEST_RATE, Belief, Supply, person_hours
from cabassist.estimate.quantities import figure, ranged, shown, withheld
from cabassist.estimate.types import Estimate, Figure

Floats = NDArray[np.floating[Any]]
Single = NDArray[np.float32]
Service = Literal["water", "dump", "propane", "diesel", "shore"]
Driver = Literal["cold", "people", "road", "house"]

TRAJECTORIES = 10_000
WEATHER_SD_K, WEATHER_MEMORY_H = 2.5, 36.0
"""How far the air strays from its forecast, and for how long. Common practice, no source."""
MILE_M = 1609.344
CHARGE_HOURS = 3
"""Hours on shore power or on the road after which the house battery counts as full. Common practice, no source."""
CHUNK = 2_500
"""Trajectories followed together: few enough for the processor's cache, many enough for numpy."""
SHOWN_PATHS = 2_000
"""Trajectories from which the range of the level is drawn; chances use all of them."""


@dataclass(frozen=True)
class Stock:
    """One supply on this trip."""

    supply: Supply
    belief: Belief
    """Amount and rate now, from readings or from the profile alone."""
    limit: float
    """Level at which it has failed: 0 for a supply, nine tenths of a waste tank."""
    driver: Driver
    """What uses it: the cold, the people, the road, or hours without a charger."""
    service: Service | None = None
    """What a stop must offer to set it afresh."""

    @property
    def full_room(self) -> float:
        """How much can be used after a service before the limit."""
        return self.limit if self.supply.rising else self.supply.capacity - self.limit

    @property
    def failing(self) -> str:
        """What happens at its limit, in words: "propane runs out", "waste is at 90 %"."""
        name, share = self.supply.name, self.limit / self.supply.capacity
        if self.supply.rising:
            return f"{name} is at {percent(share)}"
        return f"{name} is down to {percent(share)}" if share else f"{name} runs out"


@dataclass(frozen=True)
class Visit:
    """A stop on the way."""

    name: str
    hour: int
    """Whole hours from the start at arrival; services count from then."""
    leave: int
    services: frozenset[Service] = frozenset()
    """What it offers."""
    planned: frozenset[Service] = frozenset()
    """What is planned to be done there."""


@dataclass(frozen=True)
class Itinerary:
    """A trip hour by hour."""

    start: datetime
    aboard: Floats
    """People aboard in each hour."""
    inside_k: Floats
    """Cabin temperature held in each hour."""
    outside_k: Floats
    """Forecast of each hour."""
    road_m: Floats
    """Distance driven in each hour, metres."""
    visits: tuple[Visit, ...] = ()

    @property
    def hours(self) -> int:
        """Length of the trip."""
        return len(self.aboard)

    def charging(self) -> NDArray[np.bool_]:
        """Hours in which the house battery is charged: on the road, or on shore power."""
        on = self.road_m > 0
        for visit in self.visits:
            if "shore" in visit.services:
                on[visit.hour : visit.leave] = True
        return on


@dataclass(frozen=True)
class Heat:
    """What the cabin loses and the furnaces can give."""

    loss_w_per_k: float
    most_w: float | None = None
    """Heat all furnaces together deliver at most."""


@dataclass(frozen=True)
class Run:
    """A simulated trip: what each supply used, in every trajectory, up to every hour."""

    itinerary: Itinerary
    stocks: tuple[Stock, ...]
    heat: Heat
    used: Mapping[str, Single]
    """Cumulative use by supply, hours + 1 rows, one column a trajectory."""
    room: Mapping[str, Single]
    """What could be used at the start before the limit, by trajectory."""

    def stock(self, name: str) -> Stock:
        """The supply of that name.

        Raises:
            KeyError: it was not simulated.
        """
        for stock in self.stocks:
            if stock.supply.name == name:
                return stock
        raise KeyError(name)

    def planned(self, stock: Stock) -> tuple[int, ...]:
        """Hours at which the plan sets this supply afresh."""
        if stock.driver == "house":
            return _charged(self.itinerary.charging())
        return tuple(v.hour for v in self.itinerary.visits if stock.service in v.planned)


def _charged(charging: NDArray[np.bool_]) -> tuple[int, ...]:
    """The hours at which the battery has been charged long enough in one go."""
    run, made = 0, []
    for hour, on in enumerate(charging):
        run = run + 1 if on else 0
        if run >= CHARGE_HOURS:
            made.append(hour + 1)
    return tuple(made)


def simulate(
    itinerary: Itinerary,
    stocks: Sequence[Stock],
    heat: Heat,
    rng: np.random.Generator,
    *,
    trajectories: int = TRAJECTORIES,
) -> Run:
    """Follow every supply to the end of the trip.

    Args:
        itinerary: the trip.
        stocks: the supplies.
        heat: of the cabin.
        rng: where chance comes from; the same seed gives the same answer.
        trajectories: how many times.

    Raises:
        ValueError: no hours, no trajectories, or parts of the trip of different length.
    """
    lengths = {len(x) for x in (itinerary.aboard, itinerary.inside_k, itinerary.outside_k, itinerary.road_m)}
    if itinerary.hours < 1 or len(lengths) > 1 or trajectories < 1:
        raise ValueError("The trip needs at least one hour, and as many temperatures as hours.")
    names = [stock.supply.name for stock in stocks]
    used = {name: np.zeros((itinerary.hours + 1, trajectories), dtype=np.float32) for name in names}
    room = {name: np.zeros(trajectories, dtype=np.float32) for name in names}
    edges = [*range(0, trajectories, CHUNK), trajectories]
    # Each chunk has its own stream, so the answer does not depend on which thread is first.
    parts = list(zip(pairwise(edges), rng.spawn(len(edges) - 1), strict=True))

    def follow(part: tuple[tuple[int, int], np.random.Generator]) -> None:
        (begin, end), stream = part
        unevenness = _normals(stream, itinerary.hours, end - begin)
        holds = np.maximum(1 + FORECAST_SPREAD * stream.standard_normal(end - begin, dtype=np.float32), 0)
        for stock in stocks:
            name = stock.supply.name
            level, rate = _draw(stock, stream, end - begin)
            room[name][begin:end] = stock.supply.sign * (stock.limit - level)
            hourly = _hourly(itinerary, stock, heat, stream, unevenness)
            np.cumsum(hourly, axis=0, out=used[name][1:, begin:end])
            used[name][:, begin:end] *= rate * holds if stock.driver == "people" else rate

    with ThreadPoolExecutor(max_workers=2) as pool:
        list(pool.map(follow, parts))
    return Run(itinerary, tuple(stocks), heat, used, room)


def _hourly(itinerary: Itinerary, stock: Stock, heat: Heat, rng: np.random.Generator, unevenness: Single) -> Single:
    """What drives a supply in each hour: kelvin, person-hours, metres, or hours without a charger."""
    if stock.driver == "cold":
        cold = _cold(itinerary, heat, rng, unevenness.shape[1])
        cold *= _uneven(stock.supply.noise, _normals(rng, *unevenness.shape))
        return cold
    if stock.driver == "people":
        plan = person_hours(itinerary.aboard, itinerary.start.hour).astype(np.float32)
        return plan[:, None] * _uneven(stock.supply.noise, unevenness)
    exposure = itinerary.road_m if stock.driver == "road" else ~itinerary.charging()
    return np.broadcast_to(exposure.astype(np.float32)[:, None], unevenness.shape)


def _normals(rng: np.random.Generator, hours: int, trajectories: int) -> Single:
    return rng.standard_normal((hours, trajectories), dtype=np.float32)


def _uneven(noise: float, normal: Single) -> Single:
    """Factors of mean 1 and standard deviation `noise`, never below 0 (log-normal)."""
    width = np.float32(np.sqrt(np.log1p(noise**2)))
    made = width * normal
    made -= width**2 / 2
    return np.asarray(np.exp(made, out=made))


def _draw(stock: Stock, rng: np.random.Generator, trajectories: int) -> tuple[Floats, Single]:
    """Amount and rate at the start, drawn together."""
    belief, supply = stock.belief, stock.supply
    first, second = rng.standard_normal((2, trajectories))
    level = belief.level + belief.level_sd * first
    tie = belief.covariance / (belief.level_sd * belief.rate_sd) if belief.level_sd * belief.rate_sd > 0 else 0.0
    tie = min(max(tie, -1.0), 1.0)
    rate = belief.rate + belief.rate_sd * (tie * first + np.sqrt(1 - tie**2) * second)
    rate = np.maximum(rate, LOWEST_RATE * belief.rate)
    return np.clip(level, 0.0, supply.capacity), np.asarray(rate, dtype=np.float32)


def _cold(itinerary: Itinerary, heat: Heat, rng: np.random.Generator, trajectories: int) -> Single:
    """Kelvin the furnaces must cover in each hour, with weather that strays from its forecast."""
    keep = np.float32(np.exp(-1 / WEATHER_MEMORY_H))
    shock = np.float32(WEATHER_SD_K * np.sqrt(1 - keep**2))
    need = itinerary.inside_k - itinerary.outside_k - itinerary.aboard * PERSON_W / heat.loss_w_per_k
    stray = _normals(rng, itinerary.hours, trajectories)
    stray *= shock
    for hour in range(1, itinerary.hours):
        stray[hour] += keep * stray[hour - 1]
    stray += np.asarray(need, dtype=np.float32)[:, None]
    most = None if heat.most_w is None else heat.most_w / heat.loss_w_per_k
    return np.clip(stray, 0.0, most, out=stray)


def _stretches(run: Run, stock: Stock, services: Sequence[int]) -> list[tuple[int, int, Single]]:
    """From–to in hours, with the room at the beginning of each stretch between services."""
    marks = sorted({hour for hour in services if 0 <= hour < run.itinerary.hours})
    room = run.room[stock.supply.name]
    afresh = np.full_like(room, stock.full_room)
    edges = [0, *marks, run.itinerary.hours]
    return [(begin, end, afresh if index else room) for index, (begin, end) in enumerate(pairwise(edges))]


def failed(run: Run, name: str, services: Sequence[int]) -> NDArray[np.bool_]:
    """Which trajectories run short of a supply when it is set afresh at those hours."""
    stock, used = run.stock(name), run.used[name]
    short = np.zeros(used.shape[1], dtype=bool)
    for begin, end, room in _stretches(run, stock, services):
        short |= used[end] - used[begin] >= room
    return short


def first_hours(run: Run, name: str, services: Sequence[int]) -> Floats:
    """The hour in which each trajectory first runs short; infinite where it does not."""
    stock, used = run.stock(name), run.used[name]
    first = np.full(used.shape[1], np.inf)
    for begin, end, room in _stretches(run, stock, services):
        new = (used[end] - used[begin] >= room) & np.isinf(first)
        if new.any():
            reached = used[begin : end + 1, new] >= used[begin, new] + room[new]
            first[new] = begin + np.where(reached.any(axis=0), np.argmax(reached, axis=0), end - begin)
    return first


def levels(run: Run, name: str, services: Sequence[int]) -> Floats:
    """10, 50 and 90 % of the level as a share of full at every hour, three rows."""
    stock, used = run.stock(name), run.used[name][:, :SHOWN_PATHS]
    left = np.empty_like(used)
    for begin, end, room in _stretches(run, stock, services):
        left[begin : end + 1] = room[:SHOWN_PATHS] - (used[begin : end + 1] - used[begin])
    level = np.clip((stock.limit - stock.supply.sign * left) / stock.supply.capacity, 0, 1)
    ranked = np.sort(level, axis=1)
    rows = [ranked[:, int(part * (ranked.shape[1] - 1))] for part in (0.1, 0.5, 0.9)]
    return np.asarray(rows)


@dataclass(frozen=True)
class StockOutlook:
    """How one supply fares to the end of the trip under the plan."""

    name: str
    chance: float
    """Of running short at all."""
    early_h: float | None
    """Hour by which one in ten trajectories has run short; None when fewer ever do."""
    middle_h: float | None
    """The same for half of them."""
    levels: Floats
    """See `levels`."""


def outlook(run: Run) -> tuple[StockOutlook, ...]:
    """Every supply under the plan, the likeliest to run short first."""
    made = []
    for stock in run.stocks:
        name, services = stock.supply.name, run.planned(stock)
        first = np.sort(first_hours(run, name, services))
        early, middle = (float(first[int(part * (len(first) - 1))]) for part in (0.1, 0.5))
        made.append(
            StockOutlook(
                name,
                float(np.isfinite(first).mean()),
                early if np.isfinite(early) else None,
                middle if np.isfinite(middle) else None,
                levels(run, name, services),
            )
        )
    return tuple(sorted(made, key=lambda one: (-one.chance, one.early_h or 1e9)))


def first_shortfall(run: Run) -> Estimate:
    """What runs short first on this trip under the plan, when, and with what chance.

    Returns:
        Hours from the start at which the likeliest shortfall comes in half of the trajectories that have it; beside
        it the chance of each supply. None when no supply runs short in one trajectory of a hundred.

    Source: simulation; its assumptions are named.
    """
    stocks = outlook(run)
    count = run.used[stocks[0].name].shape[1] if stocks else 0
    also: tuple[Figure, ...] = tuple(figure(f"chance {one.name}", one.chance, "fraction") for one in stocks)
    lines = tuple(
        f"{one.name}: short in {round(one.chance * count):,} of {count:,} = {percent(one.chance)};"
        f" level at the end {percent(float(one.levels[1, -1]))} in the middle"
        for one in stocks
    )
    common: dict[str, Any] = {"working": lines, "assumptions": ASSUMPTIONS, "source": "simulation of the trip"}
    name = "first shortfall"
    if not stocks or stocks[0].chance < 0.01:
        return withheld(name, "h", "Nothing runs short on this trip.", also=also, **common)
    worst = _earliest(run, stocks)
    hours = first_hours(run, worst.name, run.planned(run.stock(worst.name)))
    low, middle, high = (float(np.quantile(hours[np.isfinite(hours)], q)) for q in (0.1, 0.5, 0.9))
    when = day_clock(run.itinerary.start, middle)
    failing = run.stock(worst.name).failing
    verdict = f"First, {failing}: chance {percent(worst.chance)}, most likely about {when}."
    return ranged(name, middle, "h", low, high, verdict=verdict, also=also, **common)


def _earliest(run: Run, stocks: Sequence[StockOutlook]) -> StockOutlook:
    """Of the supplies that may run short, the one that is first in most trajectories."""
    likely = [one for one in stocks if one.chance >= 0.01]
    first = np.stack([first_hours(run, one.name, run.planned(run.stock(one.name))) for one in likely])
    winners = np.argmin(first, axis=0)[np.isfinite(first).any(axis=0)]
    return likely[int(np.bincount(winners, minlength=len(likely)).argmax())]


ASSUMPTIONS = (
    f"the air strays from its forecast by {WEATHER_SD_K} K (4.5 °F), for a day or two at a time",
    f"the plan of who is aboard holds within {percent(FORECAST_SPREAD)}",
    "a service sets a supply quite full, or the waste tank quite empty, on arrival",
    "these widths are common practice, no source",
)


def supply_to_end(run: Run, name: str) -> Estimate:
    """How one supply stands at the end of the trip under the plan, and its chance of running short before.

    Returns:
        Share of full at the end; beside it the chance, and the hour by which one trajectory in ten has run short.

    Raises:
        KeyError: it was not simulated.

    Source: simulation; its assumptions are named.
    """
    one = next(o for o in outlook(run) if o.name == run.stock(name).supply.name)
    low, middle, high = (float(one.levels[row, -1]) for row in range(3))
    stock = run.stock(name)
    end = later(run.itinerary.start, run.itinerary.hours)
    also = [figure("chance of running short", one.chance, "fraction")]
    if one.early_h is not None:
        also.append(figure("early shortfall", one.early_h, "h"))
    done = run.planned(stock)
    at = ", ".join(day_clock(run.itinerary.start, hour) for hour in done) or "never"
    return ranged(
        f"{name} at the end",
        middle,
        "fraction",
        low,
        high,
        working=(
            *_by_hand(run, stock),
            f"set afresh {len(done)} times: {at}",
            f"at the end, {end:%A %H:%M}: {percent(low)} to {percent(high)}, middle {percent(middle)}",
        ),
        assumptions=ASSUMPTIONS,
        source="simulation of the trip",
        verdict=f"Chance that {stock.failing}: {percent(one.chance)}.",
        also=tuple(also),
    )


def _by_hand(run: Run, stock: Stock) -> tuple[str, ...]:
    """The use of the whole trip by the forecast and the middle rate, in a driver's units."""
    trip, supply = run.itinerary, stock.supply
    exposure, per_unit, unit, what = float(np.sum(~trip.charging())), stock.belief.rate, "Ah", "hours without a charger"
    if stock.driver == "cold":
        most = None if run.heat.most_w is None else run.heat.most_w / run.heat.loss_w_per_k
        need = trip.inside_k - trip.outside_k - trip.aboard * PERSON_W / run.heat.loss_w_per_k
        exposure = float(np.sum(np.clip(need, 0, most))) * 1.8
        per_unit, unit, what = lb(stock.belief.rate) / 1.8, "lb", "°F-hours of heating"
    elif stock.driver == "people":
        exposure = float(np.sum(person_hours(trip.aboard, trip.start.hour)))
        per_unit, unit, what = gal(stock.belief.rate), "gal", "person-hours"
    elif stock.driver == "road":
        exposure = float(np.sum(trip.road_m)) / MILE_M
        per_unit, unit, what = gal(stock.belief.rate) * MILE_M, "gal", "miles"
    full = {"lb": lb, "gal": gal}.get(unit, float)(supply.capacity)
    total = exposure * per_unit
    return (
        f"whole trip by forecast: {shown(exposure)} {what} x {shown(per_unit)} {unit} = {shown(total)} {unit}",
        f"{shown(total)} ÷ {shown(full)} {unit} = {shown(total / full, 3)} times full",
    )
