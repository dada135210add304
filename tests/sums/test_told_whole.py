"""Questions in free words that one reader places whole; every figure here is worked out by hand (arithmetic, no source needed)."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_plainly import told_plainly
from cabassist.sums.working import work_out

NOW = datetime(2026, 1, 15, 10, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        # Water warmed, ice melted, a pot boiled dry.
        ("how many btu to bring two gallons of water at 60 to a boil", 2 * 8.34 * 152, "BTU"),
        ("gallon of fifty degree water in a 1200 watt kettle, minutes to get to 180", 8.34 * 130 / (1200 * 3.412) * 60, "min"),
        ("how long does a 1.5 kilowatt element take to heat 6 gallons from 50 to 120", 6 * 8.34 * 70 / 5118 * 60, "min"),
        ("eight pounds of ice under a 300 watt lamp, how many hours to melt it if nothing gets lost", 8 * 144 / (300 * 3.412), "h"),
        ("pot boils with a quart in it on 5000 btu an hour, 970 btu to boil off a pound, how many minutes till it's boiled dry", 0.25 * 8.34 * 970 / 5000 * 60, "min"),
        # Several of one thing, loads a share of the time, a charge less what is used.
        ("tablet charger pulls two amps, five of them, for three hours. how many amp hours", 30.0, "Ah"),
        ("a fan of 30 watts, four of em, six hours, twelve volts. amp hours in all", 60.0, "Ah"),
        ("blower 8 amps fifteen minutes of every hour, radio two amps all the time, how many amp hours in ten hours", 40.0, "Ah"),
        ("fridge five amps half an hour out of every hour, lights 3 amps, 110 amp hours to use, how long", 20.0, "h"),
        ("bank is down 90 amp hours, alternator gives 60 amps and the fridge and lights take 15. how long till it's back", 2.0, "h"),
        ("thirty amp post with both legs 120 volts, how many watts total", 7200.0, "W"),
        ("coffee 900 watts, space heater 1500, 20 amp outlet at 80 percent 120 volts, how many watts over", 480.0, "W"),
        ("121 at the post and 112 inside with twelve amps on, how many volts gone and what percent of the 121", 9.0, "V"),
        # The road.
        ("240 miles in all, first 80 miles at 40 and the rest at 64, how long does it take", 4.5, "h"),
        ("schedule figured 260 miles at 65 but we're only making 52 all the way. how late are we", 60.0, "min"),
        ("can i do 520 miles at 65 by myself, the limit is ten hours", 8.0, "h"),
        # Money.
        ("supper bill is 400 with 20 percent tip, 24 of us, what does each pay", 20.0, "dollars"),
        ("three rooms at 110 plus ten percent tax, six of us, what does each pay", 60.5, "dollars"),
        ("lot charges 20 cents a kilowatt hour, we drew 1500 watts for ten hours, what do we owe", 3.0, "dollars"),
        ("three gallons of propane a night, 3.50 a gallon, four nights, what does that cost", 42.0, "dollars"),
        # Tanks.
        ("50 gallons, shower gives 1.5 gallons a minute, four minutes each, how many showers", 8.0, "showers"),
        ("it took 12 minutes to put 42 gallons in, what is the flow rate", 3.5, "gal/min"),
        ("3 inches of room at the top of the fresh tank, how many gallons will it still take", 15.0, "gal"),
        ("waste is half, 30 people at 1.2 gallons each a day, 18 hours to the dump. how much room is left then", 13.0, "gal"),
        ("two hoses one gives 4 and the other 3.5 gallons a minute, 60 gallons to go, how long", 8.0, "min"),
    ],
)  # fmt: skip
def test_a_question_told_whole_is_worked_out(text: str, value: float, unit: str, coach: Coach) -> None:
    found = told_plainly(read_question(text), coach, NOW)
    assert found is not None
    assert found[1].value == pytest.approx(value, rel=0.002)
    assert found[1].unit == unit


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("640 miles at 58, one driver, ten hour limit, can i do it alone", "No: 11 h 2 min"),
        ("can i do 520 miles at 65 by myself, the limit is ten hours", "Yes: 8 h"),
        ("waste is half, 30 people at 1.2 gallons each a day, 40 hours to the dump. how much room is left then", "No: 20 gallons too many"),
    ],
)  # fmt: skip
def test_a_verdict_is_told_with_it(text: str, said: str, coach: Coach) -> None:
    found = told_plainly(read_question(text), coach, NOW)
    assert found is not None
    assert said in found[1].verdict


@pytest.mark.parametrize(
    "text",
    [
        "how long to heat the water from 50 to 120",
        "how many minutes to heat 5 gallons to 120 with 1500 watts",  # from what
        "how long until 40 gallons of water in the tank freeze at 10 degrees with a 100 watt pad",
        "schedule figured 260 miles at 65, we made 52 for the first two hours. how late are we",
        "supper bill is 400, 24 of us, 3 of them only had coffee, what does each pay",
        "bank is down 90 amp hours, charger at 60 amps and 85 percent efficient, how long",
        "3 inches of room at the top, how many gallons will it still take",  # of which tank
    ],
)
def test_what_is_not_told_whole_is_left_to_others(text: str, coach: Coach) -> None:
    from cabassist.sums import told_charged, told_heated, told_shared, told_stretches, told_tank_asked

    mine = {m.__name__ for m in (told_charged, told_heated, told_shared, told_stretches, told_tank_asked)}
    from cabassist.language.asked_for import asked_for
    from cabassist.language.wanted import Wanted
    from cabassist.sums.told_plainly import READERS

    question = read_question(text)
    want = asked_for(question) or Wanted()
    told = [read for _, read in READERS if read.__module__ in mine and read(question, want, NOW, coach) is not None]
    assert told == []
    assert told_heated.heated(question, coach, NOW) is None


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("waist tank is at half, 32 fellas, gallon n a quarter each goes down the drain in a day. how many hours till it's full", 24.0, "h"),
        ("inverter is 90 percent good and runs a 900 wats kettle, how many amps off the 12 volt side", 900 / 0.9 / 12, "A"),
        ("leaving with a full tank, diesel, 6 mpg, how many miles until we're down to an eighth", 200 * 7 / 8 * 6, "mi"),
        ("bridge posted fifteen tons, we scale at 34,500 pounds. how many pounds over", 4500.0, "lb"),
    ],
)  # fmt: skip
def test_words_as_they_are_written(text: str, value: float, unit: str, coach: Coach) -> None:
    worked = work_out(text, (), coach=coach, stored=(), now=NOW)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(value, rel=0.005)
    assert worked.estimate.unit == unit


def test_a_number_told_again_is_no_second_amount() -> None:
    question = read_question(
        "keep 15 gallons back. 90 in the fresh, 20 people at 1.25 a day each. how long before we are into our 15"
    )
    assert [one.value for one in question.amounts] == [15, 90, 20, 1.25]
