"""Sums over tanks, propane and bleach in many orders and wordings, each worked out by hand beside it."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.sums.summing import summed
from tests.sums.test_working import COACH, NOW

# fmt: off
WORKED = [
    # water ÷ use, arithmetic
    ("100 gallons fresh 40 kids 1.5 gal per kid per day hours??", 40.0, "h"),  # 100 ÷ 60 x 24
    ("the crew of 26 goes through two and a half gallons apiece every day, fresh is brim full at 120, days", 120 / 65, "days"),
    ("we burn thru 9 gal of water an hour and theres 63 left hrs left?", 7.0, "h"),
    ("fresh 96 gallons. reserve of 20. we use 8 an hour. hours?", 9.5, "h"),  # 76 ÷ 8
    ("fresh is at 80 gal and drops 15 gal every 2 hours, when are we out", 80 / 7.5, "h"),
    ("each day we use 40 gallons fresh and have 100 left how many days", 2.5, "days"),
    ("waste 40 gal now 8 pm was 28 gal at 2 pm, tank 80. what time is it full", 20.0, "h"),  # 40 ÷ 2
    ("waste rises half an inch an hour, it's at 11 of 20 inches, how many hours until full", 18.0, "h"),
    ("black tank half full coming up 5 percent an hour how long to 85 percent", 7.0, "h"),
    ("drain rate 9 gpm, waste has 70 gal. minutes to drain", 70 / 9, "min"),
    ("hose gives 6 gpm, tank 120 gal has 30 in it, minutes to full", 15.0, "min"),
    ("two gallon bucket fills in 20 seconds how long for 90 gal", 15.0, "min"),
    # the same balance, another unknown
    ("30 people 2 gallons each a day for a 12 hour run, how many gallons do we need", 30.0, "gal"),
    ("how many people can i carry for two days on 100 gallons at 2 gallons each per day", 25.0, "persons"),
    ("how many gallons an hour can we use to make 90 gallons last 18 hours", 5.0, "gal/h"),
    ("what percent will the waste be after 6 hours if its 35 percent now and gains 4 percent an hour", 59.0, "percent"),
    ("how much room is left in the waste at 65 percent of 80 gallons", 28.0, "gal"),
    ("22 people 2 showers each 2.5 gal a shower total gallons and is 120 enough", 110.0, "gal"),
    ("how many 4 minute showers at 1.5 gpm from 90 gallons", 15.0, "showers"),
    ("120 gallons fresh going down 8 an hour, waste at half of 80 going up 7 an hour which is first", 40 / 7, "h"),
    # NFPA 58 Annex B as suppliers repeat it: 21,548 BTU/lb; 4.24 lb/gal (trade figure)
    ("26 pounds of propane, furnace 35000 btu an hour a third of the time, hours?", 26 * 21548 / 35000 * 3, "h"),
    ("both 40 pounders full and two 35k furnaces running half the time. how many days", 80 * 21548 / 35000 / 24, "days"),
    ("each furnace 25k btu, three of them, running a third of the time, hours from 50 lb", 50 * 21548 / 25000, "h"),
    ("outside bottle 80% at 10 pm and 55% at 6 am. it's a 40 pounder. hours left", 17.6, "h"),  # 22 ÷ 1.25
    ("used 12 lb in 9 hrs overnight, 30 lb left, how many hours", 22.5, "h"),
    ("two 30 lb bottles one at half one full, burning 8 pounds a day, days left", 45 / 8, "days"),
    ("how many lbs to fill a 40 lb cylinder that has 13 lb in it", 27.0, "lb"),
    ("what's 28 lb lp in gals", 28 / 4.24, "gal"),
    # 42 % of the water's weight (29 CFR 1910.110 example)
    ("water capacity stamped 95.4, pounds of propane?", 0.42 * 95.4, "lb"),
    # trade table for a 100-lb cylinder, Flame Engineering
    ("100 lb cylinder 70 lb left 40 F how many btu an hour can it make", 160_000.0, "BTU/h"),
    # geometry, 231 in³ a gallon
    ("40 by 24 by 16 inch tank how many gallons is that", 40 * 24 * 16 / 231, "gal"),
    ("9 inches of water in a tank 40 long 20 wide 15 high, gallons", 9 * 40 * 20 / 231, "gal"),
    ("how far down is the water if 80 gallons are in a 120 gallon 24 inch tank", 8.0, "in"),
    ("how many gallons to fill it if the stick reads 10 inches, tank 24 inches 120 gal", 70.0, "gal"),
    # 8.337 lb/gal (CoolProp)
    ("net change: plus 100 gal fresh minus 60 gal waste, lbs", 40 * 8.337, "lb"),
    # mL = L x mg/L ÷ (10 x %)
    ("5.25 bleach 60 gal 100 ppm ml", 60 * 3.785412 * 100 / 52.5, "mL"),
    ("how much bleach for 50 ppm in half of a 120 gallon tank with 6 percent", 60 * 3.785412 * 50 / 60 / 29.5735, "fl oz"),
]
# fmt: on


@pytest.mark.parametrize(("question", "value", "unit"), WORKED, ids=[row[0][:50] for row in WORKED])
def test_every_amount_goes_into_the_sum(question: str, value: float, unit: str):
    """Order, units and words differ; what the amounts are for does not."""
    found = summed(read_question(question), COACH, NOW)

    assert found is not None
    assert found[1].unit == unit
    assert found[1].value == pytest.approx(value, rel=0.005)


@pytest.mark.parametrize(
    ("question", "verdict"),
    [
        ("i have 30 minutes and need 100 gallons, is 3 gpm enough", "No"),  # 33 min
        ("35 lb left going thru 1.5 lb an hour will it last 20 hours", "Yes"),  # 23.3 h
        ("waste has 50 gallons in it, 30 people flush three times each at 0.5 gallon, does it fit", "No"),  # 45 > 30
        ("100 lb bottle 80 lb left at 5 degrees can it feed three 40,000 btu furnaces", "No"),  # 104,750 < 120,000
        ("is 8 oz of 6% bleach in 60 gal enough for 50 ppm", "Yes"),  # 62.5
    ],
)
def test_a_yes_or_no_is_said(question: str, verdict: str):
    """It stands at the head of the verdict."""
    found = summed(read_question(question), COACH, NOW)

    assert found is not None
    assert found[1].verdict.startswith(verdict)


@pytest.mark.parametrize(
    "question",
    [
        "waste at 40 percent and 30 aboard",  # tells, wants nothing
        "how long does 60 gallons last",  # no rate
        "30 gal water vs 30 gal propane which weighs more",  # two things
        "both bottles have 22 lb and we burn 2 lb an hour, hours",  # each, or together?
        "what does 80 gallons of water weigh with 17 of something",
        "how many amps does the 1500 watt heater draw for 3 hours",
    ],
)
def test_what_has_no_sure_place_makes_no_sum(question: str):
    """A wrong number is worse than none."""
    assert summed(read_question(question), COACH, NOW) is None
