"""Sums whose words leave nothing open, tried before cues, families and the network: each reader is strict and places every amount.

Each knows one kind (a rule of so much for every so much, a price, a burner that is on and off, water in and out together, a limit
that is named, leave-by over two zones, ohms of a cord) or says nothing; what it tells, nobody need look at twice.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for
from cabassist.language.calculation_inputs import Question
from cabassist.language.wanted import Wanted
from cabassist.sums.told_amps import amp_hours_of, amp_hours_there, amps_added, amps_fit
from cabassist.sums.told_axles import axles
from cabassist.sums.told_bleach_left import water_for
from cabassist.sums.told_charged import charge_of_many, in_cycles, legs, made_up, watts_over
from cabassist.sums.told_clock_apart import clock_apart
from cabassist.sums.told_cost import cost
from cabassist.sums.told_drawn import drawn
from cabassist.sums.told_filled import in_named, in_set, topped
from cabassist.sums.told_from_top import from_top
from cabassist.sums.told_gas_night import bottles_for, burn_from_full, loss_between, weighed_together
from cabassist.sums.told_heated import heated
from cabassist.sums.told_leaving import leaving, other_speed, way_untold
from cabassist.sums.told_lifts import (
    half_lifted,
    pull_needed,
    share_of_pressure,
    stood_on,
    tons_in_pounds,
    wrench_reach,
)
from cabassist.sums.told_limit import both_left, limit_left, rested_at, undriven_of
from cabassist.sums.told_mileage import mileage_by_tank
from cabassist.sums.told_mix import by_rule, for_each
from cabassist.sums.told_money import got_a_gallon, money, paid_each
from cabassist.sums.told_moved import moved, since_full, since_pounds
from cabassist.sums.told_needed import gas_needed, water_needed
from cabassist.sums.told_on_and_off import claimed_lighter, moved_off, on_and_off
from cabassist.sums.told_on_off import on_off
from cabassist.sums.told_pads import pads
from cabassist.sums.told_scaled import doubled, heat_of, on_scale
from cabassist.sums.told_shared import metered, nightly_cost, shared_bill
from cabassist.sums.told_showering import showering
from cabassist.sums.told_stretches import late_by, stretches, within_limit
from cabassist.sums.told_tank_asked import above_water, flow_of, room_after, whole_showers
from cabassist.sums.told_tank_short import (
    box_holds,
    by_stick,
    enough_for,
    first_by_hours,
    flow_wanted,
    from_gauge,
    goes,
    later_full,
    takes_more,
)
from cabassist.sums.told_wire import ohms, other_amps, percent_lost, volts_gone

Reader = Callable[[Question, Wanted, datetime, Coach], Estimate | None]


def _any(read: Callable[[Question, Coach, datetime], Estimate | None]) -> Reader:
    """A reader for which it does not matter what kind of answer is wanted."""
    return lambda question, _, now, coach: read(question, coach, now)


READERS: tuple[tuple[str, Reader], ...] = (
    ("idle-hours", money),
    ("idle-hours", paid_each),
    ("unit-conversion", shared_bill),
    ("shore-load", metered),
    ("propane-weight", nightly_cost),
    ("fresh-hours", whole_showers),
    ("fill-time", flow_of),
    ("waste-hours", above_water),
    ("waste-hours", room_after),
    ("driving-hours", limit_left),
    ("driving-hours", rested_at),
    ("driving-hours", both_left),
    ("driving-hours", clock_apart),
    ("driving-hours", leaving),
    ("driving-hours", other_speed),
    ("driving-hours", stretches),
    ("driving-hours", late_by),
    ("driving-hours", within_limit),
    ("diesel-range", got_a_gallon),
    ("diesel-range", mileage_by_tank),
    ("shore-load", amps_added),
    ("shore-load", amps_fit),
    ("battery-hours", amp_hours_of),
    ("battery-hours", charge_of_many),
    ("battery-hours", made_up),
    ("battery-hours", in_cycles),
    ("shore-load", legs),
    ("shore-load", watts_over),
    ("voltage-drop", volts_gone),
    ("voltage-drop", ohms),
    ("voltage-drop", percent_lost),
    ("voltage-drop", other_amps),
    ("battery-hours", amp_hours_there),
    ("jack-rating", half_lifted),
    ("jack-rating", tons_in_pounds),
    ("wheel-torque", wrench_reach),
    ("wheel-torque", pull_needed),
    ("wheel-torque", stood_on),
    ("tire-pressure", share_of_pressure),
    ("axle-load", axles),
    ("axle-load", on_and_off),
    ("axle-load", moved_off),
    ("axle-load", claimed_lighter),
    ("bleach-dose", _any(by_rule)),
    ("fill-time", _any(for_each)),
    ("propane-weight", _any(cost)),
    ("propane-hours", _any(on_off)),
    ("waste-hours", _any(from_top)),
    ("fill-time", _any(drawn)),
    ("fresh-hours", _any(showering)),
    ("propane-hours", _any(doubled)),
    ("propane-hours", _any(gas_needed)),
    ("fresh-hours", _any(water_needed)),
    ("propane-weight", _any(on_scale)),
    ("propane-hours", _any(heat_of)),
    ("heat-pad-watts", _any(pads)),
    ("unit-conversion", _any(heated)),
    ("bleach-dose", water_for),
    ("fresh-hours", moved),
    ("fresh-hours", since_full),
    ("propane-hours", since_pounds),
    ("propane-weight", topped),
    ("propane-weight", in_named),
    ("propane-weight", in_set),
    ("propane-hours", bottles_for),
    ("propane-hours", weighed_together),
    ("propane-hours", loss_between),
    ("propane-hours", burn_from_full),
    ("fill-time", flow_wanted),
    ("fill-time", from_gauge),
    ("waste-hours", goes),
    ("waste-hours", takes_more),
    ("waste-hours", later_full),
    ("waste-hours", first_by_hours),
    ("fresh-hours", enough_for),
    ("fresh-hours", by_stick),
    ("unit-conversion", box_holds),
)
"""Each reader with the calculation that takes up a follow-up; each looks for its cues in the text before anything else."""


def told_plainly(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the first reader that has a place for every amount makes of the question."""
    if not question.amounts and "$" not in question.text and not any(w in ("dollars", "bucks") for w in question.words):
        return None
    want = asked_for(question) or Wanted()
    for calculation, read in READERS:
        found = read(question, want, now, coach)
        if found is not None:
            return calculation, found
    return None


def plainly_asked(question: Question) -> tuple[str, str] | None:
    """The calculation and the one thing it lacks, where the words leave no doubt of both."""
    asked = undriven_of(question) or way_untold(question)
    return ("driving-hours", asked) if asked else None
