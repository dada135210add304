"""Bags beside bags, two tanks at two moments, engines that idle, a bank in the cold, what is left for tomorrow: told in a driver's words.

Expected values are worked out by hand from the formula in the comment above them.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.marked import marked
from cabassist.sums.working import Worked, work_out
from tests.sums.test_marked_wordings import BY_NAME, trouble

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def worked(text: str, coach: Coach, after: Worked | None = None) -> Worked:
    """What becomes of a question."""
    found = work_out(text, (), stored=(), coach=coach, now=NOW, pending=None if after is None else after.pending)
    assert found is not None, text
    return found


CASES = (
    # 1,600 - 18 x 58 = 556 lb; 22 kg x 2.20462 = 48.5 lb: 11.46, so 11 whole bags.
    ("The bay may carry 1,600 lb, 18 bags at 58 lb are in, the rest weigh 22 kg apiece, how many of them still go in?", 11, "count", ""),
    # 1,000 - 12 x 62 = 256 lb, ÷ 40 = 6.4.
    ("the bay takes 1000 pounds, there are 12 bags of 62 in it, each of the others is 40 lb, how many more", 6, "count", ""),
    # 100 - (30 + 52) = 18 gal x 8.337 lb/gal (CoolProp) = 150.1 lb.
    ("We left with 100 fresh and an empty waste tank, now it's 30 fresh and 52 waste. How many pounds lighter are we?", 150.066, "lb", "lighter"),
    # 9,000 W x 0.85 ÷ 120 V = 63.75 A; less 20 percent 60 A.
    ("generator rated 9 kW at 120 volts, up here it makes 85 percent of that, how many amps", 63.75, "A", ""),
    ("generator plate says 9 kW, 120 volts, but the height takes 20 percent off. What amps?", 60, "A", ""),
    # (76 - 160 ÷ 4) ÷ 0.8 = 45 h.
    ("the genset quits at a quarter of the 160, we show 76 gallons and it burns 0.8 gal an hour, how many hours left", 45, "h", ""),
    # 9 h x 0.8 gal x 6.5 mpg = 46.8 mi.
    ("idled from 21:00 to 06:00 at 0.8 gal an hour, how many miles would that have been at 6.5 mpg", 46.8, "mi", ""),
    # 900 W ÷ 0.9 ÷ 12.5 V = 80 A; 300 Ah ÷ 2 ÷ 80 A = 1.875 h.
    ("kettle 900 watts on the inverter, it is 90 percent efficient and the bank sags to twelve point five, 300 amp hours and only half of it ours, how many amps and how long", 80, "A", "1 h 52 min"),
    # UL 817 Tables 114-115: a set of 16 gauge over 50 ft carries 10 A.
    ("60 ft of 16/3 cord with 11 amps on it, is that cord big enough?", 10, "A", "No"),
    # 240 Ah x 0.7 x 0.5 ÷ 6 A = 14 h.
    ("240 Ah bank frozen through, count on 70 percent of it and stop at half, drawing 6 amps, how many hours", 14, "h", ""),
    # (100 + 14.696) x 524.67 ÷ 449.67 - 14.696 = 119.13 psi.
    ("I want 100 psi in the tires when it is 10 below out. The shop is at 65 degrees. What do I pump to?", 119.13, "psi", "up"),
    # (9 + 1.01325) x 253.15 ÷ 293.15 - 1.01325 = 7.634 bar.
    ("Set to 9 bar in a 20 C barn, parked out at minus 20 C: what does the tire read in bar?", 7.634, "bar", ""),
    # 49 CFR 395.5(b): tomorrow the 10 of the oldest day is out: 70 - (9 + 11 + 8 + 12 + 6 + 7 + 5) = 12.
    ("70 in 8: 10, 9, 11, 8, 12, 6, 7, and today I will do 5. How many hours have I got for tomorrow?", 12, "h", ""),
    ("70 in 8: 10, 9, 11, 8, 12, 6, 7, and today 5 so far. How many hours are left?", 2, "h", ""),
    # Of a sum nobody knows what drops out: 70 - 62 = 8 at least.
    ("I've got 62 hours in the last 7 days on the 70 in 8. What is left tomorrow?", 8, "h", "At least"),
    # 49 CFR 395.5 knows no restart: 70 - (11 + 12 + 10 + 13 + 11 + 5) = 8.
    ("We run 70 in 8: 11, 12, 10, 13, 11, 5, 0. Thirty six hours off and it's now 7 monday morning, so a clean slate? How many hours have I got today?", 8, "h", "does not reset"),
    # (88 - 72) gal in the 8 h from 21:30 to 05:30.
    ("At half past nine last night the fresh gauge said 88 gallons and when I woke at half past five this morning it was 72. What do we use per hour?", 2, "gal/h", ""),
    ("fresh is 72 at 6 this morning, it was 88 at 10 last night. gallons per hour?", 2, "gal/h", ""),
    # NFPA 58 Annex B, 21,548 BTU/lb: 5 lb in 10 h.
    ("the bottle was 66 lb on the scale at nine last night and 61 at seven this morning, what BTU an hour did the furnaces average", 10774, "BTU/h", ""),
    # (90 - 10) ÷ (2 days x 2 gal) = 20.
    ("Next fill is two full days off. Fresh is full at 90 gallons, I want 10 still in there, two gallons a head each day. How big a crowd can I take?", 20, "persons", ""),
    # 4,800 ÷ 300 = 16 h; 16 x ln(78 ÷ 55) = 5.59 h (lumped cooling).
    ("the coach loses 300 BTU an hour per degree and holds 4,800 BTU per degree, 68 in here, 10 below outside, how long till it's 45", 5.59, "h", ""),
    # 42 lb x 21,548 ÷ (25,000 x 10 + 6,000 x 14) = 2.71 days.
    ("30 lb in one cylinder and 12 lb in the other. 25,000 BTU an hour for ten hours at night and 6,000 for the other fourteen. How many days?", 2.7096, "days", ""),
    # 58 x 21,548 ÷ (20,000 x 12 + 9,000 x 8) = 4.006 days.
    ("58 lb of propane, furnaces average 20,000 BTU an hour for 12 hours, 9,000 for eight hours by day, and nothing the other four. How many days does it last?", 4.0057, "days", ""),
    # 62 + 6 x 2.5 = 77 gal; 19:00 + 2:30 = 21:30, half an hour after nine.
    ("waste 62 of 80 gallons, dump site 2 hours 30 away closes at 9 pm, it's 7 pm, 6 gallons an hour going in. What's in it when I get there, and do I make it?", 77, "gal", "No, you are there at 21:30"),
    # 1,200 BTU/h ÷ 3.412 = 351.7 W, ÷ 120 V = 2.93 A.
    ("What watts of heat tape make up for a loss of 1,200 BTU an hour, and how many amps on 120 volts?", 351.69, "W", "2.93 amps"),
    # (20 - 5) gal x 4 qt ÷ 1.25 qt = 48.
    ("Pedal gives a quart and a quarter each. 20 gallons of room in the waste, keep 5 for the sink. How many flushes?", 48, "flushes", ""),
    # CDL manual 5.3: 3 psi a minute with the brakes applied, one vehicle; 2 with them released.
    ("engine off, parking brake off, standing on the pedal, no trailer. 112 psi, a minute later 109.5. Is that a pass?", 2.5, "psi/min", "Yes. Pass"),
    ("engine off, brakes released, no trailer, 112 psi, a minute later 109.5. Is that a pass?", 2.5, "psi/min", "No. Fail"),
    # 49 CFR 173.304a(d)(1): the name of a cylinder is its legal fill, 42 percent of its water already.
    ("My buddy says a 60 lb bottle only gets 48 lb because of the 80 percent rule. Legal fill in pounds?", 60, "lb", "No: 60"),
    # OSHA chemical data 563: propane boils at -44 °F.
    ("how cold does it get before a propane cylinder won't make gas, will there be any at minus fifty", -44, "F", "No gas at -50"),
    # NWS 2001 formula, 35.74 + 0.6215 x 36 - 35.75 x 20^0.16 + 0.4275 x 36 x 20^0.16 = 25.23 °F.
    ("36 degrees and a 20 mph wind. What is the wind chill, and will it freeze the drain pipe?", 25.23, "F", "No, it does not freeze"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), CASES)
def test_every_amount_has_its_place(text: str, value: float, unit: str, verdict: str, coach: Coach):
    found = worked(text, coach)
    assert found.estimate is not None, (found.question, found.refused)
    assert found.estimate.value == pytest.approx(value, rel=2e-3)
    assert found.estimate.unit == unit
    assert verdict in found.estimate.verdict


MARKED = (
    # Water 8.337 lb a gallon (CoolProp): 19,500 + 70 x 8.337 = 20,083.6 lb.
    ("weight", "limit {limit=20,000 lb}, drive axle scaled {weighs=19,500 lb} with the fresh tank {off=70 gal} short of full, if I topped it off would I be over -> yes, 20083.6 lb"),
    # What is let out still comes off: 19,500 - 40 x 8.337 = 19,166.5 lb.
    ("weight", "drive axle scaled {weighs=19,500 lb}, I dump {off=40 gal}, what does it weigh then -> 19166.5 lb"),
)  # fmt: skip


@pytest.mark.parametrize(("family", "line"), MARKED)
def test_what_is_missing_in_a_tank_is_put_on(family: str, line: str, coach: Coach):
    assert trouble(BY_NAME[family], marked(line), coach) == ""


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("three quarters of one fifty seven point two to the gallon", [(0.75, "part"), (150, "n"), (7.2, "mi")]),
        ("five eighths of two hundred six point four to the gallon", [(0.625, "part"), (200, "n"), (6.4, "mi")]),
        ("twelve point five to the gallon", [(12.5, "mi")]),
        ("coach alone, no trailer. 118 on the gauge", [(118, "n")]),
        ("the tires were 115 this morning", [(115, "n")]),
        ("three full days", [(3, "day")]),
    ],
)
def test_numbers_said_in_a_row_stay_apart(text: str, amounts: list[tuple[float, str]]):
    assert [(one.value, one.unit) for one in read_question(text).amounts] == amounts


def test_the_month_of_a_stamp_is_asked_for_and_keeps_its_letter(coach: Coach):
    first = worked("The stamp on the propane bottle ends in an E. When is it due?", coach)
    assert first.estimate is None
    assert first.question == "What month and year stand before that letter?"
    # 49 CFR 180.209(g): five years after an external visual.
    then = worked("June 2022", coach, first)
    assert then.estimate is not None
    assert "June 2027" in then.estimate.verdict


def test_how_warm_a_tire_was_is_asked_for(coach: Coach):
    first = worked("The tires were 112 this morning. What will they read at five below?", coach)
    assert first.estimate is None
    assert first.question.startswith("How warm was it")
    then = worked("50 degrees", coach, first)
    # (112 + 14.696) x 454.67 ÷ 509.67 - 14.696 = 98.33 psi.
    assert then.estimate is not None
    assert then.estimate.value == pytest.approx(98.33, rel=2e-3)


@pytest.mark.parametrize(
    "text",
    [
        "the genset quits at a quarter tank, how long does 0.8 gal an hour last",  # what is in it is not told
        "generator 9 kW at 120 volts, 6,000 ft up, how many amps",  # nor what the height takes
        "we left with 100 fresh, now it's 30 fresh and 52 waste, how many pounds lighter",  # nor the waste then
    ],
)
def test_what_is_not_told_is_not_guessed(text: str, coach: Coach):
    found = work_out(text, (), stored=(), coach=coach, now=NOW)
    assert found is None or found.estimate is None or found.calculation == "idle-hours"


def test_a_pickup_may_be_told_behind_what_the_tank_shows(coach: Coach):
    """By hand: (5/8 - 1/4) of 160 gal is 60 gal, at 0.8 gal an hour 75 h."""
    text = "tank shows five eighths of the 160 gallons, the genset's pickup sucks air at a quarter, 0.8 gallons an hour, how many hours"
    found = work_out(text, (), stored=(), coach=coach, now=NOW)
    assert found is not None
    assert found.estimate is not None
    assert found.estimate.value == pytest.approx(75, rel=1e-3)
