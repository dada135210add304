"""Sums asked among chatter, by the clock, the other way round, in rates and in liters; the numbers are worked out by hand."""

from __future__ import annotations

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from tests.dialogue.conversation import NOON

# Arithmetic; propane at 21,548 BTU a pound and 4.24 lb a gallon (trade figures, published), water at 8.337 lb a gallon (CoolProp).
ANSWERS = [
    ("fifth night out, 21 aboard, minus six outside. 24 lb of propane between both bottles, furnaces eat 1.6 lb an hour. It's 10 pm, will it last till 7 am", 15.0, "h", "Yes"),
    ("there's a dump point 120 miles on and we average 60, waste is an eighty at 85 percent rising five percent an hour while everyone's awake, do I make it before it's full", 3.0, "h", "Yes"),
    ("16 gallons in the fresh, the galley takes 1.25 gallons an hour, it's nine at night and no hose before 8 am. do we run dry", 12.8, "h", "No, it lasts"),
    ("I get the hose for nine minutes, another bus with fifty kids is waiting, six gallons a minute, tank is the 120 and stands at a quarter. what will I have when I pull off", 84.0, "gal", ""),
    ("88 gal at 7 am, 67 gal at 2 pm. dry when", 22.333, "h", "12:20 pm"),
    ("we need 75 gallons for tomorrow, the 120 tank is at a third, how much more must I put in", 35.0, "gal", ""),
    ("waste stick said 3 inches this morning, now 8, tank is 80 gal and 20 in deep, how many gallons went in", 20.0, "gal", ""),
    ("27 lb must last from 9 pm to 6 am what's the most I may burn an hour", 3.0, "lb/h", ""),
    ("75 percent at eight last night and 55 at four this morning, forty pound bottle, how many pounds an hour", 1.0, "lb/h", ""),
    ("furnace 30,000 btu runs twenty minutes of every hour, pounds an hour?", 0.464, "lb/h", ""),
    ("72 gal, 18 people, 2 days: allowance per head per day?", 2.0, "gal/day", ""),
    ("180 litres left and thirty of us at three litres a day each, if six more get on how much sooner are we out", 8.0, "h", ""),
    ("36 lb left, 2 lb an hour with both furnaces, with only the rear one it's 1.5. how many more hours do I gain if I shut the front one off", 6.0, "h", ""),
    ("we went from 320 to 260 litres in four hours, how many litres an hour", 15.0, "L/h", ""),
    ("440 L tank from 50% to full in 20 min, what flow in L/min", 11.0, "L/min", ""),
    ("fresh 240 L, waste has 60 L of room, 12 people, 8 L/day used each, 5 L/day to waste. first to stop us?", 24.0, "h", "Waste"),
    ("yesterday 30 people used 45 gallons, eight left so it's 22. same use per head, how many gallons today", 33.0, "gal", ""),
    ("heating uses 16 lb of propane a night, how many 40 lb cylinders for four nights", 1.6, "cylinders", "Take 2"),
    ("i have 500 pounds to spare on that axle how many gallons of water is that", 60.0, "gal", ""),
    ("minus 30 c in fahrenheit", -22.0, "F", ""),
    ("ten imperial gallons in us gallons", 12.01, "gal", ""),
]  # fmt: skip
ASKED = {
    "when is the waste full if we're 26 and it takes two gallons each a day": "How full",
    "fresh is at fifty gallons and waste at 40 percent, which one stops us first": "How many are aboard",
}


@pytest.mark.parametrize(("said", "value", "unit", "verdict"), ANSWERS)
def test_the_number_is_worked_out(mind: Mind, said: str, value: float, unit: str, verdict: str):
    reply = take_turn(State(), said, mind=mind, now=NOON).reply

    assert reply.kind == "calculation", reply.say
    assert reply.estimate is not None
    assert reply.estimate.unit == unit
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert verdict in reply.say


@pytest.mark.parametrize(("said", "question"), ASKED.items())
def test_what_is_missing_is_asked_for(mind: Mind, said: str, question: str):
    reply = take_turn(State(), said, mind=mind, now=NOON).reply

    assert reply.kind == "clarify"
    assert question in reply.say


def test_a_second_hose_of_numbers_is_not_swallowed(mind: Mind):
    """An amount without a place gives no number."""
    reply = take_turn(State(), "hose gives 5 gallons a minute, 64 of something, how long for 30 gallons", mind=mind, now=NOON).reply  # fmt: skip

    assert reply.estimate is None or "64" in " ".join(reply.estimate.working)


# Confident numbers that answered another question: forward for inverse, a level for its size, a part left out.
NOT = [
    ("guy gave me 20 minutes with a 3 gpm hose, 4 buses behind me, how many gallons is that", 60.0),
    ("10 percent gone, how many more hours if we use 15 percent less of 60 gallons at 4 an hour", None),
    ("spoon of 6 percent bleach in 90 gallons what ppm", None),
    ("25 lb left want 4 lb in reserve burning 1.5 an hour how many hours", 14.0),
    ("how much propane is gone from a 30 lb bottle at 40 percent", 18.0),
    ("we have 30 aboard and 90 gallons using 1.5 gallons an hour all told, how long", 60.0),
    ("each inch is 4 gallons stick went down 6 inches how many gallons used", 24.0),
    ("20 people flush 5 times a day with a quarter gallon each how long till an empty 60 gallon waste is full", 57.6),
]


@pytest.mark.parametrize(("said", "value"), NOT)
def test_no_number_answers_another_question(mind: Mind, said: str, value: float | None):
    estimate = take_turn(State(), said, mind=mind, now=NOON).reply.estimate

    if value is None:
        assert estimate is None or estimate.value is None
    else:
        assert estimate is not None
        assert estimate.value == pytest.approx(value, rel=0.01)
