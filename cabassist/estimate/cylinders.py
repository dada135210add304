"""The propane cylinder itself: its legal fill, the order of use, and when it is due for requalification.

How fast it gives gas in the cold is in `boil_off.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.amounts import btu, btu_per_h, gal, lb
from cabassist.estimate.clock import clock
from cabassist.estimate.propane import LB_PER_GAL, WEIGHT_SOURCE, heat_of
from cabassist.estimate.quantities import (
    duration,
    exact,
    figure,
    positive,
    shown,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

FILLING_DENSITY = 0.42
FILL_BAND = (0.504, 0.510)
"""Specific gravities for which 42 % holds (49 CFR 173.304a(d)(1) table; the band is from memory)."""


YEARS_AFTER_E, YEARS_FIRST, YEARS_PROOF = 5, 12, (7, 10)
REQUALIFY_SOURCE = "49 CFR 180.209(e) and (g), HM-219B 85 FR 68790 (30 Oct 2020), published, secondary"


def fill_from_water_capacity(water_capacity: Quantity[Any]) -> Estimate:
    """Pounds of propane a cylinder may hold, from its WC stamp.

    Args:
        water_capacity: the WC mark [mass].

    Raises:
        ValueError: not above zero.

    Source: propane lb = 0.42 x water capacity (dispenser training text, secondary; 29 CFR 1910.110 example).
    """
    water_lb = lb(positive(water_capacity, "kg", "the water capacity"))
    fill = FILLING_DENSITY * water_lb
    return exact(
        "legal fill",
        fill,
        "lb",
        working=(
            f"{FILLING_DENSITY} x {shown(water_lb)} lb of water = {shown(fill)} lb of propane",
            f"{shown(fill)} lb ÷ {LB_PER_GAL} lb/gal = {shown(fill / LB_PER_GAL)} gal",
        ),
        assumptions=("propane of specific gravity 0.504 to 0.510", "this is the whole fill; no 80 % comes off it"),
        source=f"42 % of water weight (29 CFR 1910.110 example); {WEIGHT_SOURCE}",
        also=(figure("gallons", fill / LB_PER_GAL, "gal"),),
    )


def maximum_fill(
    container: Quantity[Any], *, specific_gravity: float = 0.504, volume_correction: float = 1.0
) -> Estimate:
    """Gallons of liquid a container may be filled with at the liquid's temperature.

    Args:
        container: its whole water volume [volume].
        specific_gravity: of the liquid at 60 °F.
        volume_correction: Table H-29 factor from the liquid's temperature to 60 °F (1.031 at 40 °F, 1 at 60 °F).

    Returns:
        Gallons; None for a specific gravity whose filling density is not known here.

    Raises:
        ValueError: a number not above zero.

    Source: 29 CFR 1910.110(b)(19) formula and example.
    """
    whole = gal(positive(container, "m^3", "the container"))
    if specific_gravity <= 0 or volume_correction <= 0:
        raise ValueError("The specific gravity and the correction must be more than zero.")
    source = "29 CFR 1910.110(b)(19), formula of its example (official)"
    if not FILL_BAND[0] <= specific_gravity <= FILL_BAND[1]:
        verdict = f"I know the filling density for a specific gravity of {FILL_BAND[0]} to {FILL_BAND[1]:.3f} only."
        return withheld("most that may be filled", "gal", verdict, source=source)
    most = whole * FILLING_DENSITY / (specific_gravity * volume_correction)
    return exact(
        "most that may be filled",
        most,
        "gal",
        working=(
            f"{shown(whole)} gal x {FILLING_DENSITY} ÷ ({specific_gravity} x {volume_correction}) = {shown(most)} gal",
        ),
        assumptions=("filled by volume at the temperature the correction is for",),
        source=source,
    )


@dataclass(frozen=True)
class CylinderLevel:
    """One cylinder in the order of use."""

    role: str
    """What drivers call it: outside, inside, spare."""
    propane: Quantity[Any]
    """What is left [volume or mass]."""
    feeding: bool = False
    """Whether it feeds now."""
    connected: bool = True
    """False for a spare on its rack."""


def order_of_use(
    cylinders: Sequence[CylinderLevel],
    burn: Quantity[Any] | None,
    *,
    automatic_changeover: bool,
    now: datetime | None = None,
) -> Estimate:
    """Which cylinder to run from, when it changes over, and how long the rest lasts.

    The one that feeds goes on; otherwise the connected one with least left goes first, so that there is always
    one to take for filling and one to run from. A spare on its rack comes last.

    Args:
        cylinders: what is left in each.
        burn: fuel burned, averaged over time [power]; None when it is not known.
        automatic_changeover: whether the valve switches by itself.
        now: the clock with its zone, to name the changeover's time.

    Returns:
        Hours to the changeover, or until empty when only one is left; beside it the hours in all and of each. None
        for an unknown burn: then there is the order only.

    Raises:
        ValueError: no cylinder, nothing burned, or an impossible number.

    Source: heat ÷ burn; the order is common practice, no source.
    """
    if not cylinders:
        raise ValueError("Say how much is left in each cylinder.")
    heats = {id(one): heat_of(one.propane) for one in cylinders}
    queue = sorted(
        (one for one in cylinders if heats[id(one)][0] > 0),
        key=lambda one: (not one.connected, not one.feeding, heats[id(one)][0]),
    )
    source = f"heat ÷ burn; {WEIGHT_SOURCE}; the order is common practice, no source"
    if not queue:
        return exact("hours to the changeover", 0.0, "h", source=source, verdict="Every cylinder is empty.")
    roles, all_connected = [one.role for one in queue], queue[-1].connected
    if burn is None:
        lines = tuple(f"{one.role}: {heats[id(one)][1]}" for one in queue)
        verdict = _order_words(roles, [], all_connected, automatic_changeover, None)
        return withheld("hours to the changeover", "h", verdict, working=lines, source=source)
    burn_btu_per_h = btu_per_h(positive(burn, "W", "the burn"))
    hours = [btu(heats[id(one)][0]) / burn_btu_per_h for one in queue]
    working = tuple(
        f"{one.role}: {heats[id(one)][1]}; ÷ {shown(burn_btu_per_h)} BTU/h = {shown(h)} h"
        for one, h in zip(queue, hours, strict=True)
    )
    return exact(
        "hours to the changeover",
        hours[0],
        "h",
        working=(*working, f"in all {shown(sum(hours))} h"),
        assumptions=("the same burn all the time", "one cylinder feeds at a time"),
        source=source,
        verdict=_order_words(roles, hours, all_connected, automatic_changeover, now),
        also=(
            figure("hours in all", sum(hours), "h"),
            *(figure(one.role, h, "h") for one, h in zip(queue, hours, strict=True)),
        ),
    )


def _order_words(
    roles: Sequence[str], hours: Sequence[float], all_connected: bool, automatic: bool, now: datetime | None
) -> str:
    when = f", at {clock(now, hours[0])}" if now and hours else ""
    lasts = f" in about {duration(hours[0])}{when}" if hours else ""
    if len(roles) == 1:
        left = f": empty{lasts}. Have" if hours else ". Have"
        return f"Only the {roles[0]} cylinder is left{left} one filled now."
    turn = "it changes over by itself" if automatic else "turn the lever over"
    if len(roles) == 2 and not all_connected:
        turn = "it must be swapped by hand"
    then = f"I{lasts[2:]}, {turn}" if hours else f"When it is empty, {turn}"
    rest = f" Then the {', then the '.join(roles[2:])}." if len(roles) > 2 else ""
    total = f" In all about {duration(sum(hours))}." if hours else ""
    return (
        f"Run from the {roles[0]} cylinder. {then} to the {roles[1]}.{rest}{total}"
        " Have the first one filled as soon as it is empty."
    )


def requalification(made: date, on: date, *, last: date | None = None, mark: Literal["", "E", "S"] = "") -> Estimate:
    """When a cylinder is due for requalification, by the month stamped on it.

    Args:
        made: month of manufacture.
        on: the day asked about.
        last: month of the last requalification, if any.
        mark: letter after it: "E" external visual, none water jacket, "S" proof pressure.

    Returns:
        Months left to the due month, negative when it is past; None after a proof-pressure test, whose interval
        is unsettled (7 or 10 years).

    Raises:
        ValueError: dates out of order.

    Source: 49 CFR 180.209(e), (g); HM-219B 85 FR 68790 (secondary). Proof-pressure interval: unsettled.
    """
    if made > on or (last is not None and not made <= last <= on):
        raise ValueError("These dates can't be in that order. Read the stamps again.")
    from_when, years, rule = (made, YEARS_FIRST, "first time, 12 years after manufacture")
    if last is not None:
        from_when, years, rule = last, YEARS_FIRST, "12 years after a water-jacket test"
        if mark == "E":
            years, rule = YEARS_AFTER_E, "5 years after an external visual check, mark E"
        elif mark == "S":
            return _proof_tested(last, on)
    months = (from_when.year + years - on.year) * 12 + from_when.month - on.month
    due = date(from_when.year + years, from_when.month, 1)
    verdict = f"Due {due:%B %Y}."
    if months == 0:
        verdict = f"Due this month, {due:%B %Y}. Have it done before the next fill."
    elif months < 0:
        verdict = f"Overdue since {due:%B %Y}. It may not be filled until it is requalified."
    return exact(
        "months to requalification",
        float(months),
        "months",
        working=(f"{from_when:%B %Y} + {years} years = {due:%B %Y}", rule),
        assumptions=("a 4-series cylinder in clean gas", "the stamp is read right; the law may have changed since"),
        source=REQUALIFY_SOURCE,
        verdict=verdict,
        also=(figure("due year", float(due.year), "year"), figure("due month", float(due.month), "month")),
    )


def _proof_tested(last: date, on: date) -> Estimate:
    early, late = (date(last.year + years, last.month, 1) for years in YEARS_PROOF)
    today = on.replace(day=1)
    verdict = f"The rule here is unsettled: due {early:%B %Y} or {late:%B %Y}. Ask a requalifier."
    if today > late:
        verdict = f"Overdue on either reading of the rule, at the latest since {late:%B %Y}."
    elif today < early:
        verdict = f"In date. The rule here is unsettled: next due {early:%B %Y} or {late:%B %Y}. Ask a requalifier."
    return withheld(
        "months to requalification",
        "months",
        verdict,
        working=(f"{last:%B %Y} S + 7 years = {early:%B %Y}", f"{last:%B %Y} S + 10 years = {late:%B %Y}"),
        source="49 CFR 180.209(e); 7 years in older text (secondary), 10 years later (from memory): unsettled",
    )
