"""The ledger of one supply: readings in; how much is there now, how fast it goes, how long it lasts and by when to act out.

The filter of `learning.py` walks through the readings; every number it makes is written down as a sum whose parts stand
in an earlier line, in a reading, in the profile or among the assumptions. "Give or take" is always one standard
deviation; the range runs from where one in ten is worse to where one in ten is better, 1.2816 of it either way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal, NamedTuple

from cabassist.estimate.amounts import percent
from cabassist.estimate.clock import clock
from cabassist.estimate.courses import Stretch, squares, total, upto, written
from cabassist.estimate.learning import (
    DRIFT,
    LOWEST_RATE,
    SURPRISING,
    Belief,
    Supply,
    advance,
    level_after,
    observe,
    refill,
    start,
)
from cabassist.estimate.quantities import duration, figure, ranged, shown, withheld
from cabassist.estimate.tanks import RANGE_Z
from cabassist.estimate.types import Estimate

AGAINST_USE = 2.0
"""Standard deviations against its use from which a reading is taken for a fill or a dump."""
AGAINST_LEAST = 0.1
"""The same as a share of full, and the least: needles wander."""
MOST_READINGS = 30
"""Readings of a supply that are walked through; older ones change nothing worth the time."""
MOST_FORECASTS = 12
SOURCE = "Kalman filter over the coach's own readings, physics or habit as prior (textbook form, from memory)"
TINY = 1e-9


class Written(NamedTuple):
    """The units in which a ledger is written, and how many of them make one SI unit."""

    amount: str
    per_amount: float
    exposure: str
    """person-hours, °F-hours, miles, hours."""
    per_exposure: float
    span: str = "h"
    """What is ahead is counted in: hours, or miles where only the road uses it up."""


@dataclass(frozen=True)
class Seen:
    """A reading."""

    at: datetime
    amount: float
    """In kg, m³ or amp-hours."""
    sd: float
    words: str
    """How it was read, with its sum: "40 %: 0.4 x 80 = 32"."""
    sd_words: str
    """The sum of its standard deviation: "0.04 x 80"."""
    afresh: bool = False
    """Known to have been filled, dumped or swapped just before, or nothing is known of what was used since."""


Course = Callable[[datetime, datetime, datetime], tuple[Stretch, ...]]
"""(from, to, known until) to what used the supply, as it was known then."""


@dataclass(frozen=True)
class Account:
    """One supply with everything its ledger needs."""

    supply: Supply
    written: Written
    prior: str
    """Where the rate before any reading comes from, as a sum: "2 ÷ 24 = 0.08333"."""
    seen: tuple[Seen, ...]
    """Oldest first, at least one."""
    past: Course
    ahead: Callable[[datetime, datetime], Iterator[Stretch]]
    """(from, known until) to what lies ahead, as far as anybody looks."""
    limit: float
    """Amount at which it is over."""
    margin: float | None
    """In hand before the early end: hours, or miles; None when nobody has to act."""
    forecast_spread: float
    assumptions: tuple[str, ...] = ()
    source: str = ""
    notes: tuple[str, ...] = ()
    """Sums that the courses rest on."""


@dataclass(frozen=True)
class Entry:
    """What the ledger says of one supply at one moment."""

    level: float
    """Amount now, never below nothing or above full."""
    belief: Belief
    left: Estimate
    """Hours (or miles) until the limit."""
    rate: Estimate
    """Amount for each unit of exposure."""
    act: float | None
    """Hours (or miles) until the early end less the margin, never below 0; None when nobody has to, or not soon."""
    forecasts: tuple[tuple[datetime, float], ...]
    """Moment of each reading, hours left as forecast then."""
    odd: Literal["", "against", "fast"]
    """Whether the last reading goes against the use, as after a fill, or moved far faster than expected."""
    moved: float
    """How much the last reading moved the level as it was believed at the one before; 0 for the first."""
    due: float
    """How much it was expected to move."""


def entry(account: Account, now: datetime) -> Entry:
    """The ledger of a supply at a moment, not before its last reading.

    Raises:
        ValueError: no reading at all.
    """
    if not account.seen:
        raise ValueError(f"I need at least one reading of the {account.supply.name}.")
    seen = account.seen[-MOST_READINGS:]
    book = _Book(account)
    forecasts: list[tuple[datetime, float]] = []
    for index, one in enumerate(seen):
        book.read(one)
        if index >= len(seen) - MOST_FORECASTS:
            middle = _reached(account, book.belief, account.ahead(one.at, one.at), account.limit, 0.0)
            forecasts += [(one.at, middle)] if middle is not None else []
    history, belief = book.lines, book.carried(now)
    ahead = _Tape(account.ahead(now, now))
    level = min(max(belief.level, 0.0), account.supply.capacity)
    lines, left = _left(account, belief, ahead, now)
    left = _with_lines(left, (*lines, *book.since, *account.notes, *history), account)
    act = None if left.low is None or account.margin is None else max(left.low - account.margin, 0.0)
    return Entry(level, belief, left, _rate(account, belief), act, tuple(forecasts), book.odd, book.moved, book.due)


class _Tape:
    """What lies ahead, drawn only as far as it is needed, and kept."""

    def __init__(self, source: Iterator[Stretch]) -> None:
        self._source = source
        self._kept: list[Stretch] = []

    def __iter__(self) -> Iterator[Stretch]:
        yield from self._kept
        for one in self._source:
            self._kept.append(one)
            yield one


class _Book:
    """Walks through the readings and writes every step down."""

    def __init__(self, account: Account) -> None:
        self.account = account
        self.belief = start(account.supply)
        self.at: datetime | None = None
        self.lines = _prior_lines(account)
        self.since: tuple[str, ...] = ()
        self.odd: Literal["", "against", "fast"] = ""
        self.moved, self.due = 0.0, 0.0

    def read(self, one: Seen) -> None:
        """Take a reading in."""
        account, supply = self.account, self.account.supply
        when = f"{one.at:%a %H:%M}"
        unit, per = account.written.amount, account.written.per_amount
        head = (
            f"{when} read: {one.words} {unit}",
            f"{when} reading, its give or take: {one.sd_words} = {shown(one.sd * per)} {unit}",
        )
        self.odd, self.moved, self.due = "", 0.0, 0.0
        if self.at is None or one.afresh:
            how = "taken as it is" if self.at is None else "starts afresh, rate kept"
            self.lines += (*head, f"{when} {how}; tie of level and rate 0")
            self.belief, self.at = refill(supply, self.belief, one.amount, one.sd), one.at
            return
        course = account.past(self.at, one.at, one.at)
        hours = _hours(self.at, one.at)
        expected = advance(supply, self.belief, hours, total(course))
        lines = _advance_lines(account, self.belief, expected, course, hours, when)
        off, sd = one.amount - expected.level, (expected.level_var + one.sd**2) ** 0.5
        self.moved, self.due = one.amount - self.belief.level, expected.level - self.belief.level
        against = (
            -supply.sign * self.moved >= AGAINST_LEAST * supply.capacity and -supply.sign * off >= AGAINST_USE * sd
        )
        if against:
            self.odd = "against"
            self.belief = refill(supply, expected, one.amount, one.sd)
            self.lines += (
                *head,
                *lines,
                f"{when} goes against its use: taken as a fill or a dump, rate kept; tie of level and rate 0",
            )
        else:
            made = observe(supply, expected, one.amount, one.sd)
            self.lines += (*head, *lines, *_observe_lines(account, expected, one, made, when))
            if supply.sign * off >= SURPRISING * sd:
                # Further than uneven use explains: a tap left open, a leak, a reading of before that was wrong. What the
                # driver has just seen stands then, on the side on which it runs out sooner.
                self.odd = "fast"
                made = refill(supply, made, one.amount, one.sd)
                self.lines += (f"{when} further than use explains: level taken as read; tie of level and rate 0",)
            self.belief = made
        self.at = one.at

    def carried(self, now: datetime) -> Belief:
        """The belief now, with no reading since."""
        assert self.at is not None
        hours = max(_hours(self.at, now), 0.0)
        course = self.account.past(self.at, now, now) if hours else ()
        made = advance(self.account.supply, self.belief, hours, total(course))
        if hours:
            self.since = _advance_lines(self.account, self.belief, made, course, hours, "now")
        return made


def _hours(first: datetime, last: datetime) -> float:
    return (last - first).total_seconds() / 3600


def _prior_lines(account: Account) -> tuple[str, ...]:
    """Rate and its width before any reading."""
    supply, (_, of_rate) = account.supply, _scales(account)
    rate, sd = shown(supply.rate * of_rate), shown(supply.rate_spread * supply.rate * of_rate)
    return (
        f"rate before any reading: {account.prior} {account.written.amount} for each of the {account.written.exposure}",
        f"rate before any reading, its give or take: {shown(supply.rate_spread)} x {rate} = {sd}",
    )


def _scales(account: Account) -> tuple[float, float]:
    """Factors from SI: of an amount, and of a rate."""
    per = account.written.per_amount
    return per, per / account.written.per_exposure


def _advance_lines(
    account: Account, before: Belief, after: Belief, course: Sequence[Stretch], hours: float, when: str
) -> tuple[str, ...]:
    """How level and widths are carried on without a reading."""
    per, of_rate = _scales(account)
    supply, unit, exposed = account.supply, account.written.amount, total(course) * account.written.per_exposure
    sign, e, rate = "+" if supply.rising else "-", shown(exposed), shown(before.rate * of_rate)
    rate_sd, tie = before.rate_sd * of_rate, before.covariance * per * of_rate
    width = f"{shown(before.level_sd * per)}² {sign} 2 x {e} x {_signed(tie)} + ({e} x {shown(rate_sd)})²"
    if supply.noise:
        width += f" + ({shown(supply.noise)} x {rate} x {e})² ÷ {shown(hours)}"
    return (
        f"{when} used since: {written(course)} = {e} {account.written.exposure}",
        f"{when} expected: {shown(before.level * per)} {sign} {e} x {rate} = {shown(after.level * per)} {unit}",
        f"{when} its give or take: √({width}) = {shown(after.level_sd * per)} {unit}",
        f"{when} tie of level and rate: {_signed(tie)} {sign} {e} x {shown(rate_sd)}² = {_signed(after.covariance * per * of_rate)}",
        f"{when} rate, its give or take: √({shown(rate_sd)}² + ({shown(DRIFT)} x {shown(supply.rate * of_rate)})² x {shown(hours)} ÷ 24)"
        f" = {shown(after.rate_sd * of_rate)}",
    )


def _observe_lines(account: Account, expected: Belief, one: Seen, made: Belief, when: str) -> tuple[str, ...]:
    """How a reading pulls the level and the rate."""
    per, of_rate = _scales(account)
    unit, sd, wide = account.written.amount, one.sd * per, expected.level_sd * per
    read, level = shown(one.amount * per), shown(expected.level * per)
    off = f"({read} - {_signed(expected.level * per)})"
    trust = expected.level_var / (expected.level_var + one.sd**2)
    tie, rate_sd = expected.covariance * per * of_rate, expected.rate_sd * of_rate
    pull = expected.covariance / (expected.level_var + one.sd**2) * of_rate / per
    lines = [
        f"{when} trust in the reading: {shown(wide)}² ÷ ({shown(wide)}² + {shown(sd)}²) = {shown(trust)}",
        f"{when} level: {level} + {shown(trust)} x {off} = {shown(made.level * per)} {unit}",
        f"{when} its give or take: √(1 - {shown(trust)}) x {shown(wide)} = {shown(made.level_sd * per)} {unit}",
        f"{when} pull on the rate: {_signed(tie)} ÷ ({shown(wide)}² + {shown(sd)}²) = {_signed(pull)}",
    ]
    free = expected.rate * of_rate + pull * (one.amount - expected.level) * per
    sum_ = f"{shown(expected.rate * of_rate)} + {_signed(pull)} x {off}"
    if free < LOWEST_RATE * account.supply.rate * of_rate:
        lines.append(f"{when} rate: {sum_} would be too little; kept at {shown(made.rate * of_rate)}")
    else:
        lines.append(f"{when} rate: {sum_} = {shown(made.rate * of_rate)}")
    return (
        *lines,
        f"{when} rate, its give or take: √({shown(rate_sd)}² - {_signed(pull)} x {_signed(tie)}) = {shown(made.rate_sd * of_rate)}",
        f"{when} tie of level and rate: (1 - {shown(trust)}) x {_signed(tie)} = {_signed(made.covariance * per * of_rate)}",
    )


def _signed(value: float) -> str:
    """A number that may be negative, safe behind another sign."""
    return shown(value) if value >= 0 else f"({shown(value)})"


def _ends(
    account: Account, belief: Belief, ahead: _Tape, limit: float
) -> tuple[float | None, float | None, float | None]:
    """Hours until the limit is reached with a chance of 10, 50 and 90 %; None beyond what lies ahead."""
    early, middle, late = (_reached(account, belief, ahead, limit, z) for z in (-RANGE_Z, 0.0, RANGE_Z))
    return early, middle, late


def _reached(account: Account, belief: Belief, ahead: Iterable[Stretch], limit: float, z: float) -> float | None:
    """The first moment at which the level is that many standard deviations past the limit."""
    supply = account.supply

    def past(exposure: float, square: float) -> bool:
        mean, sd = level_after(supply, belief, exposure, square, forecast_spread=account.forecast_spread)
        return supply.sign * (mean - limit) >= z * sd - TINY

    hours = exposure = square = 0.0
    if past(0.0, 0.0):
        return 0.0
    for one in ahead:
        if past(exposure + one.pace * one.hours, square + one.pace**2 * one.hours):
            low, high = 0.0, one.hours
            while high - low > 1e-6:
                middle = (low + high) / 2
                if past(exposure + one.pace * middle, square + one.pace**2 * middle):
                    high = middle
                else:
                    low = middle
            return hours + high
        hours, exposure, square = hours + one.hours, exposure + one.pace * one.hours, square + one.pace**2 * one.hours
    return None


def _left(account: Account, belief: Belief, ahead: _Tape, now: datetime) -> tuple[tuple[str, ...], Estimate]:
    """Time left with its sums, and the time to act."""
    supply, span = account.supply, account.written.span
    per, of_rate = _scales(account)
    early, middle, late = _ends(account, belief, ahead, account.limit)
    name = f"{supply.name} lasts"
    level, limit = belief.level * per, account.limit * per
    gap = f"{shown(limit)} - {_signed(level)}" if supply.rising else f"{shown(level)} - {shown(limit)}"
    togo = supply.sign * (account.limit - belief.level)
    unit, exposed = account.written.amount, account.written.exposure
    if togo <= 0:
        lines: tuple[str, ...] = (f"to go: {gap} = {shown(togo * per)} {unit}, so it is there now",)
        return lines, ranged(name, 0.0, span, 0.0, late, verdict="It is there now.")
    rate = belief.rate * of_rate
    lines = (
        f"to go: {gap} = {shown(togo * per)} {unit}",
        f"that is: {shown(togo * per)} ÷ {shown(rate)} = {shown(togo / belief.rate * account.written.per_exposure)} {exposed}",
    )
    if middle is None:
        horizon = sum(one.hours for one in ahead)
        lines += (
            f"the {shown(horizon)} {span} ahead: {written(ahead, span=span)} = {shown(total(ahead) * account.written.per_exposure)} {exposed}",
        )
        verdict = f"More than {_length(horizon, span)}, as far as I look ahead."
        estimate = withheld(name, span, verdict, low=early)
    else:
        part = upto(ahead, middle)
        lines += (
            f"in {shown(middle)} {span}: {written(part, span=span)} = {shown(total(part) * account.written.per_exposure)} {exposed}",
        )
        estimate = ranged(name, middle, span, early, late)
    for label, end, z in (("early end", early, -1), ("late end", late, 1)):
        if end is not None and end > 0:
            lines += _end_lines(account, belief, upto(ahead, end), label, end, z)
    if early is not None and account.margin is not None:
        act = max(early - account.margin, 0.0)
        when = f": {clock(now, act)}" if span == "h" else ""
        held = f"{shown(early)} - {shown(account.margin)}"
        lines += (
            (f"act by: {held} = {shown(act)} {span}{when}",)
            if early > account.margin
            else (f"act by: {held} is no time left, so now",)
        )
    return lines, estimate


def _end_lines(
    account: Account, belief: Belief, course: Sequence[Stretch], label: str, end: float, z: int
) -> tuple[str, ...]:
    """Why the range ends there: at that hour one in ten is past the limit, or nine in ten are."""
    per, of_rate = _scales(account)
    supply, unit, wide = account.supply, account.written.amount, account.written.per_exposure
    exposed, square = total(course), squares(course)
    mean, sd = level_after(supply, belief, exposed, square, forecast_spread=account.forecast_spread)
    sign, e, rate = "+" if supply.rising else "-", shown(exposed * wide), shown(belief.rate * of_rate)
    tie = _signed(belief.covariance * per * of_rate)
    width = f"{shown(belief.level_sd * per)}² {sign} 2 x {e} x {tie} + ({e} x {shown(belief.rate_sd * of_rate)})²"
    uneven: tuple[str, ...] = ()
    if supply.noise:
        width += f" + ({shown(supply.noise)} x {rate})² x {shown(square * wide**2)}"
        uneven = (f"{label}, its hours squared: {written(course, squared=True)} = {shown(square * wide**2)}",)
    width += f" + ({shown(account.forecast_spread)} x {rate} x {e})²"
    # One in ten lies 1.2816 standard deviations past the middle; at this end of the range that is just the limit.
    plus = (z < 0) == supply.rising
    reached = mean + (RANGE_Z if plus else -RANGE_Z) * sd
    sum_ = f"{_signed(mean * per)} {'+' if plus else '-'} 1.2816 x {shown(sd * per)}"
    return (
        f"{label}, in {shown(end)} {account.written.span}: {written(course, span=account.written.span)} = {e} {account.written.exposure}",
        *uneven,
        f"{label}, level: {shown(belief.level * per)} {sign} {e} x {rate} = {shown(mean * per)} {unit}",
        f"{label}, its give or take: √({width}) = {shown(sd * per)} {unit}",
        f"{label}, where one in ten is {'sooner' if z < 0 else 'later'}: {sum_} = {shown(round(reached * per, 3))} {unit}",
    )


def _length(value: float, span: str) -> str:
    return duration(value) if span == "h" else f"{shown(value, 3)} {span}"


def _rate(account: Account, belief: Belief) -> Estimate:
    _, of_rate = _scales(account)
    half = RANGE_Z * belief.rate_sd * of_rate
    value = belief.rate * of_rate
    unit = f"{account.written.amount}/{account.written.exposure}"
    weight = min(belief.rate_var / (account.supply.rate_spread * account.supply.rate) ** 2, 1.0)
    return ranged(
        f"{account.supply.name} rate",
        value,
        unit,
        max(value - half, 0.0),
        value + half,
        source=SOURCE,
        also=(figure("weight of the prior", weight, "fraction"),),
    )


def _with_lines(estimate: Estimate, lines: tuple[str, ...], account: Account) -> Estimate:
    assumptions = (
        *account.assumptions,
        f"what lies ahead may be off by {percent(account.forecast_spread)} (common practice, no source)",
        "the rate may drift by 4 % of the prior a day; readings may be off as their gauge is",
    )
    source = "; ".join(part for part in (account.source, SOURCE) if part)
    return replace(estimate, working=lines, assumptions=assumptions, source=source)
