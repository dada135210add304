"""The readers of questions told as a story, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.wanted import Wanted
from cabassist.sums.told_air import brake_air, damp_air
from cabassist.sums.told_arrival import on_arrival
from cabassist.sums.told_bags import bags_left
from cabassist.sums.told_bleach import bleach
from cabassist.sums.told_burned import (
    by_hundred,
    down_to,
    endurance,
    fresh_or_waste,
    mileage_and_range,
    per_hundred,
    showers,
    unmeasured,
    water_or_propane,
)
from cabassist.sums.told_cabin import cooled
from cabassist.sums.told_cold import pipe, skin
from cabassist.sums.told_cords import cords
from cabassist.sums.told_engines import generator_amps, idled_miles, to_pickup
from cabassist.sums.told_flows import coach_loss, delivered, net_fill, static_head, vented
from cabassist.sums.told_fuel import exhaust_fluid, fuel, idling, undosed
from cabassist.sums.told_gas import ungassed
from cabassist.sums.told_journey import journey, undistanced
from cabassist.sums.told_lacking import (
    low_volt_wire,
    part_for_full,
    under_load,
    unflowed,
    unlevelled,
)
from cabassist.sums.told_levers import both_units, bridge, leaked, lever, rested_volts, torque_range
from cabassist.sums.told_lumped import by_capacity
from cabassist.sums.told_measures import at_the_wheel, flushed, gas_at_power, in_btu, pad_for_loss, stones
from cabassist.sums.told_packed import packed
from cabassist.sums.told_pair import pair, rested_pair, unhurried
from cabassist.sums.told_proportion import flowing, part, proportion
from cabassist.sums.told_rates import fresh_times, fuel_times, waste_times
from cabassist.sums.told_reach import reach
from cabassist.sums.told_roadside import (
    clearance,
    cranking,
    people_warmth,
    recheck,
    road_distance,
    tread_least,
    triangle_at_crest,
)
from cabassist.sums.told_shift import berth, no_break, shift
from cabassist.sums.told_split import around_berth
from cabassist.sums.told_stored import by_peukert, stored
from cabassist.sums.told_swaps import boarded, jugs, swapped, ticket, unlike
from cabassist.sums.told_tanks import untimed
from cabassist.sums.told_turned import torque, turned
from cabassist.sums.told_two_tanks import water_gone
from cabassist.sums.told_warmth import warmth
from cabassist.sums.told_watts import energy, generator_left, pumped, through_inverter, unhoured
from cabassist.sums.told_week import other_zone, rested, undriven, week_story
from cabassist.sums.told_weight import weight
from cabassist.sums.told_wheels import tires, tires_unset

Reader = Callable[[Question, Wanted, datetime, Coach], Estimate | None]

STORIES: tuple[tuple[str, Reader], ...] = (
    ("shore-load", energy),
    ("shore-load", pumped),
    ("battery-hours", through_inverter),
    ("shore-load", generator_left),
    ("shore-load", generator_amps),
    ("idle-hours", to_pickup),
    ("diesel-range", idled_miles),
    ("axle-load", bags_left),
    ("cabin-cool-down", by_capacity),
    ("waste-hours", on_arrival),
    ("heat-pad-watts", pad_for_loss),
    ("water-weight", water_gone),
    ("axle-load", swapped),
    ("axle-load", boarded),
    ("axle-load", packed),
    ("axle-load", ticket),
    ("unit-conversion", jugs),
    ("heat-loss", coach_loss),
    ("heat-loss", vented),
    ("propane-hours", delivered),
    ("fill-time", net_fill),
    ("unit-conversion", static_head),
    ("fresh-hours", fresh_times),
    ("waste-hours", waste_times),
    ("idle-hours", fuel_times),
    ("diesel-range", by_hundred),
    ("diesel-range", per_hundred),
    ("diesel-range", down_to),
    ("diesel-range", endurance),
    ("diesel-range", mileage_and_range),
    ("which-first", water_or_propane),
    ("which-first", fresh_or_waste),
    ("fresh-hours", showers),
    ("axle-load", stones),
    ("unit-conversion", in_btu),
    ("propane-hours", gas_at_power),
    ("waste-of-one", flushed),
    ("driving-hours", at_the_wheel),
    ("battery-state", under_load),
    ("water-weight", part_for_full),
    ("voltage-drop", low_volt_wire),
    ("axle-load", bridge),
    ("wheel-torque", lever),
    ("wheel-torque", torque_range),
    ("air-brake-verdict", leaked),
    ("battery-state", rested_volts),
    ("water-weight", both_units),
    ("wheel-torque", torque),
    ("unit-conversion", turned),
    ("air-brake-verdict", brake_air),
    ("cabin-cool-down", damp_air),
    ("cabin-cool-down", cooled),
    ("wind-chill", skin),
    ("freeze-time", pipe),
    ("voltage-drop", cords),
    ("bleach-dose", bleach),
    ("heat-pad-watts", warmth),
    ("battery-hours", by_peukert),
    ("battery-hours", stored),
    ("tire-pressure", tires),
    ("idle-hours", idling),
    ("diesel-range", exhaust_fluid),
    ("diesel-range", fuel),
    ("tread-limit", tread_least),
    ("wheel-recheck", recheck),
    ("triangle-distances", triangle_at_crest),
    ("unit-conversion", clearance),
    ("waste-hours", reach),
    ("driving-hours", road_distance),
    ("heat-loss", people_warmth),
    ("battery-state", cranking),
    ("driving-hours", around_berth),
    ("driving-hours", week_story),
    ("driving-hours", rested),
    ("driving-hours", other_zone),
    ("driving-hours", no_break),
    ("driving-hours", berth),
    ("driving-hours", rested_pair),
    ("driving-hours", pair),
    ("driving-hours", shift),
    ("driving-hours", journey),
)
"""Each reader with the calculation that takes up a follow-up."""


LATER: tuple[tuple[str, Reader], ...] = (
    ("axle-load", weight),
    ("unit-conversion", flowing),
    ("unit-conversion", part),
    ("unit-conversion", proportion),
)
"""Readers that are only tried when no family of sums has a place for every amount."""
ASKS: tuple[tuple[str, Callable[[Question], str]], ...] = (
    ("tire-pressure", tires_unset),
    ("driving-hours", undriven),
    ("fresh-hours", untimed),
    ("propane-hours", ungassed),
    ("driving-hours", undistanced),
    ("diesel-range", undosed),
    ("shore-load", unhoured),
    ("axle-load", unlike),
    ("diesel-range", unmeasured),
    ("driving-hours", unhurried),
    ("waste-hours", unlevelled),
    ("fill-time", unflowed),
)
"""Readers that know which one input a question lacks."""


def story_asked(question: Question) -> tuple[str, str] | None:
    """The calculation a question belongs to and the one thing that is missing for it."""
    for calculation, read in ASKS:
        asked = read(question)
        if asked:
            return calculation, asked
    return None


def story_told(
    question: Question, want: Wanted | None, coach: Coach, now: datetime, later: bool = False
) -> tuple[str, Estimate] | None:
    """What the first reader that has a place for every amount makes of the question."""
    for calculation, read in LATER if later else STORIES:
        found = read(question, want or Wanted(), now, coach)
        if found is not None:
            return calculation, found
    return None
