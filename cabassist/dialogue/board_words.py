"""The board in words: levels, times left, when to act, and what does not fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.coach import Coach
from cabassist.estimate.clock import later
from cabassist.estimate.ledger import Account, Entry
from cabassist.estimate.quantities import roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.plausibility import capacity
from cabassist.language.plausibility import shown as said_as
from cabassist.sums.working_words import number_said, range_said

IN_DAYS_FROM_H = 48
OF_WHAT = {
    "fresh": " of water",
    "waste": " until the waste tank is at 90 %",
    "propane": " of heat",
    "house_battery": " to half, with nothing charging",
    "diesel": " of diesel",
    "def": " of DEF",
}
"""What the time left is of, behind the number."""
ACTS = {"fresh": "fill", "waste": "dump", "propane": "fill", "house_battery": "charge", "diesel": "fill", "def": "fill", "changeover": "change over"}  # fmt: skip
PARTS = ((5, "night"), (12, "morning"), (17, "afternoon"), (22, "evening"), (24, "night"))
"""Parts of the day by the hour at which they end."""


_EMPTY = 0.005


def amount_words(what: str, which: str | None, level: float, coach: Coach) -> str:
    """A level with its amount: "52 %, 62 gallons"; "empty" where less than half a percent is left."""
    if level < _EMPTY:
        return "empty"
    unit = "%"
    if what != "house_battery":
        metric = coach.units == "metric"
        unit = ("kg" if metric else "lb") if what == "propane" else ("L" if metric else "gal")
        full = capacity(what, which, unit, coach)
        if full:
            return f"{shown(100 * level, 2 if level < 0.995 else 3)} %, {said_as(round(full * level), unit)}"
    return f"{shown(100 * level, 2 if level < 0.995 else 3)} %"


def _in_its_unit(left: Estimate) -> Estimate:
    """Hours as days where days are what one speaks of."""
    reach = left.value if left.value is not None else left.low
    if left.unit != "h" or reach is None or reach < IN_DAYS_FROM_H:
        return replace(left, unit={"miles": "mi"}.get(left.unit, left.unit))
    value, low, high = (None if end is None else end / 24 for end in (left.value, left.low, left.high))
    return replace(left, unit="days", value=value, low=low, high=high)


def left_words(what: str, left: Estimate) -> str:
    """The time left with its range: "about 26 hours of water, between 18 and 40 hours"."""
    of = OF_WHAT.get(what, "")
    if left.value == 0:
        return "none left" if what != "waste" else "full enough to dump"
    said = _in_its_unit(left)
    if said.value is None:
        return f"more than two weeks{of}" if left.unit == "h" else f"further than I look{of}"
    if said.unit == "mi":
        said = replace(said, value=_tens(said.value), low=_tens(said.low or 0.0), high=_tens(said.high or 0.0))
    number = number_said(said.value or 0.0, said.unit)
    if said.high is None:
        least = f", at least {number_said(said.low, said.unit)}" if said.low else ""
        return f"about {number}{of}{least}"
    return f"about {number}{of}{range_said(said)}"


def _tens(value: float) -> float:
    """Miles to the ten below: no gauge knows them better."""
    return (value + 0.01) // 10 * 10


def act_words(what: str, act: float | None, now: datetime, span: str) -> str:
    """By when to act: "dump by 05:05 tomorrow morning"; nothing when that is too far off."""
    verb = ACTS.get(what, "act")
    if act is None:
        return ""
    if act <= 0:
        return f"{verb} now"
    if span != "h":
        return f"{verb} within {said_as(_tens(act), 'mi' if span == 'miles' else span)}"
    return f"{verb} by {moment_words(later(now, act), now)}"


def moment_words(moment: datetime, now: datetime) -> str:
    """A clock time on the safe side: within a day to the five minutes before, later to the full hour before."""
    near = moment - now < timedelta(hours=24)
    moment = moment.replace(minute=moment.minute // 5 * 5 if near else 0, second=0, microsecond=0)
    days = (moment.date() - now.date()).days
    part = next(name for end, name in PARTS if moment.hour < end)
    if days == 0:
        return f"{moment:%H:%M} {'tonight' if part in ('evening', 'night') and moment.hour >= 12 else 'today'}"
    if days == 1:
        return f"{moment:%H:%M} tomorrow {part}" if moment.hour >= 5 else f"{moment:%H:%M} tonight"
    if days < 7:
        # "Friday night, 03:00" would be taken for the night after Friday.
        day = f"early {moment:%A}" if moment.hour < 5 else f"{moment:%A} {part}"
        return f"{day}, {moment:%H:%M}"
    return f"{moment:%A} {moment.day} {moment:%B}, {moment:%H:%M}"


def _rate_unit(account: Account) -> tuple[float, str]:
    """Factor and unit in which one can picture a rate."""
    amount = account.written.amount
    return {
        "person-hours": (24.0, f"{amount} a day for each person"),
        "°F-hours": (100.0, f"{amount} for 100 degree-hours (°F)"),
        "°C-hours": (100.0, f"{amount} for 100 degree-hours (°C)"),
        "miles": (100.0, f"{amount} for 100 miles"),
        "km": (100.0, f"{amount} for 100 km"),
    }.get(account.written.exposure, (1.0, "A"))


def rate_words(account: Account, rate: Estimate) -> str:
    """How fast it goes, with its range, in a unit one can picture."""
    factor, unit = _rate_unit(account)
    if rate.value is None or rate.low is None or rate.high is None:
        return ""
    return f"{shown(rate.value * factor, 3)} {unit}, between {shown(rate.low * factor, 3)} and {shown(rate.high * factor, 3)}"


def rate_lines(account: Account, rate: Estimate, sd: float) -> tuple[str, ...]:
    """The sums behind `rate_words`; `sd` is the rate's standard deviation in its SI unit."""
    factor, unit = _rate_unit(account)
    value, width = rate.value or 0.0, sd * account.written.per_amount / account.written.per_exposure
    made = [(f"{shown(value)} x {shown(factor)}", value)]
    made += [
        (f"({shown(value)} {sign} 1.2816 x {shown(width)}) x {shown(factor)}", end or 0.0)
        for sign, end in (("-", rate.low), ("+", rate.high))
    ]
    return tuple(
        f"rate, {name}: {sum_} = {shown(end * factor)} {unit}"
        for name, (sum_, end) in zip(("in words", "one in ten is less", "one in ten is more"), made, strict=True)
        if end > 0
    )


def moved_lines(forecasts: Sequence[tuple[datetime, float]], span: str) -> tuple[str, ...]:
    """How the forecast has moved from reading to reading."""
    if len(forecasts) < 2:
        return ()
    if span != "h":
        return tuple(f"forecast of {at:%a %H:%M}: {shown(left, 3)} {span}" for at, left in forecasts)
    return tuple(
        f"forecast of {at:%a %H:%M}: {roughly(left)}, until {later(at, left):%a %H:%M}" for at, left in forecasts
    )


def odd_words(what: str, made: Entry, before: float | None) -> str:
    """A short question about a last reading that does not fit, or nothing."""
    was = f" from {shown(100 * before, 3)} %" if before is not None else ""
    if not made.odd or what == "house_battery":
        return ""
    if made.odd == "against":
        if what == "waste":
            return f"down{was}, and no dump was told. Was it dumped?"
        return f"up{was}, and no fill was told. Was it filled?"
    times = made.moved / made.due if made.due else 0.0
    much = f"moved {times:.0f} times as far as expected" if 1.5 <= times < 100 else "moved far more than expected"
    look = {
        "waste": "look for water left running",
        "propane": "check for a leak, with your nose and soap solution, no flame",
        "diesel": "look under the coach for a leak",
        "def": "look under the coach for a leak",
    }.get(what, "look for a leak or a tap left open")
    return f"{much}. If it is right, {look}."
