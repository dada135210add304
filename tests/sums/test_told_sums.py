"""Sums over batteries, power, trips, duty, loads, tires and warmth: every amount placed, the kind that is asked for, or no number.

Expected values are worked out by hand from the formula in the comment above them.
"""

from __future__ import annotations

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from tests.dialogue.conversation import NOON


def said(mind: Mind, text: str) -> Reply:
    return take_turn(State(), text, mind=mind, now=NOON).reply


NUMBERS = (
    # Ohm's law and amp hours: arithmetic.
    ("It's 10 pm and I've 150 usable amp hours. Drawing 17 amps. Will the batteries hold till 6:30 am?", 8.8235, "h", "Yes"),
    ("the house bank is 90 Ah short, 30 A charger, loses 10 percent. Hours?", 90 / 27, "h", ""),
    ("From 40 percent to 90 of a 300 amp hour bank with a 50 amp charger that wastes 10 percent, plugged in at 9 pm, done when?", 150 / 45, "h", "00:20"),
    ("240 Ah bank, half usable, engine off 8 pm to 5 am. what's the biggest draw I can leave on", 120 / 9, "A", ""),
    ("if i shut off the 5 amp fan out of 15 amps how many more hours from 150 usable amp hours", 5, "h", ""),
    ("lights 3 amps, pump 2 and heater fans 7.5 amps all night nine hours, how many amp hours do I need", 112.5, "Ah", ""),
    ("inverter running a 600 watt microwave off 12 volts, 88 percent efficient, how many amps out of the battery", 600 / 12 / 0.88, "A", ""),
    # NEC 210.20(A): 80 percent of a breaker for hours on end.
    ("can i run the 1000 watt heater and 300 watt tape on one 15 amp 120 breaker all night", 1300 / 120, "A", "Yes"),
    ("what's left for a second heater on a 30 amp 120 volt supply if I already draw 14 amps continuous", 10, "A", ""),
    # Distance, speed, mileage: arithmetic.
    ("tank holds 180, want 25 left on arrival, 6.4 mpg, how far from full", 155 * 6.4, "mi", ""),
    ("She does 34 litres per 100 km, tank 600 litres at 50 percent, how far in km?", 300 / 0.34, "km", ""),
    ("we usually get 7 to the gallon but 6.2 with this wind, 434 miles, extra gallons?", 8, "gal", ""),
    ("rest stop is 140 miles on, 55 mph, is that before 4 pm if it's 1:40 now", 140 / 55, "h", "No"),
    ("idle 9 hours at 0.8 gallons an hour how much of 40 gallons is left", 32.8, "gal", ""),
    ("7 mpg in litres per hundred", 235.2146 / 7, "L/100 km", ""),
    # 49 CFR 395.5: ten hours of driving.
    ("came on at 6 after ten hours off, an hour loading, drove 4 hours, an hour off for lunch, drove 3 more. driving hours left?", 3, "h", ""),
    ("I drove 6 and have 280 miles left at 62 mph, enough hours?", 280 / 62, "h", "No, not enough"),
    ("two drivers, I've got 4 hours left and she has 9, at 55 mph how many miles between us", 715, "mi", ""),
    # Water 8.34 lb a gallon (WAC 296-307-40029, rounded).
    ("scale 47,800 limit 52,000 add 60 gallons of water and 20 bags at 50 lb, how much under", 4200 - 500.4 - 1000, "lb", "under"),
    ("we take off nine trunks at 70 pounds and pump out 45 gallons of waste how much lighter", 630 + 375.3, "lb", "lighter"),
    ("sixteen players seventy eight kilos each plus gear thirty kilos a head what do they weigh", 16 * 108, "kg", ""),
    # Gas law, standard atmosphere.
    ("want 105 psi at 0 degrees, shop is at 70, what do I set", 123.23, "psi", ""),
    ("tread 8/32 on the steers, loses 1/32 every 5000 miles, miles till 4/32", 20000, "mi", ""),
    ("wheel on at 98,450, now 98,575, how many miles over the 100 mile recheck", 25, "mi", ""),
    # Newton's cooling: T = out + (in - out) e^(-t/tau).
    ("will it still be above 45 in here at 6 am if it's 70 now at 1 am, outside 10, time constant 11 hours", 48.084, "F", "Yes"),
    ("inside 21 c outside minus 19 c time constant ten hours what after six hours", 2.952, "C", ""),
    ("pad loses 5 watts per degree f want 38 when it's minus 12 how big a pad", 250, "W", ""),
    ("200 watt pad, 5 watts per degree, hold 36, how cold can it get", -4, "F", ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), NUMBERS)
def test_a_sum_is_answered_in_the_kind_that_is_asked_for(mind: Mind, text: str, value: float, unit: str, verdict: str):
    reply = said(mind, text)

    assert reply.estimate is not None, reply.say
    assert (reply.estimate.unit, reply.estimate.value) == (unit, pytest.approx(value, rel=2e-3))
    assert verdict in " ".join((reply.say, *reply.show))


@pytest.mark.parametrize(
    "text",
    [
        "how many extra gallons to 590 miles at 6.6 and a tank of 200",
        "how much sooner at 9 amps with 5 amps and a 200 amp hour bank at 70 percent and 4 volts",
        "what speed for 120 amps over 60 percent",
        "how many amps can i use on it overnight",
        "how much longer can i drive today, been up since six",
    ],
)
def test_no_number_is_given_for_what_can_not_be_placed(mind: Mind, text: str):
    assert said(mind, text).estimate is None


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("20 amp breaker and 1900 watts on it at 120, the plug is smoking, is that too much", "smoke-or-fire"),
        ("nine players at 180 each and it reeks of gas by the bunks, how much weight", "propane-smell"),
    ],
)
def test_a_danger_among_the_amounts_is_no_sum(mind: Mind, text: str, topic: str):
    reply = said(mind, text)

    assert (reply.kind in ("hazard", "refuse"), reply.topic, reply.estimate) == (True, topic, None)
