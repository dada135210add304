"""Amounts as drivers say them in a calculation question, and what is no amount there."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question


def tags(text: str) -> list[tuple[float, str]]:
    return [(round(one.value, 4), one.tag) for one in read_question(text).amounts]


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        # so much more time
        ("what will it be after nine more hours", [(9, "h")]),
        ("can we sit here two more nights", [(2, "night")]),
        ("forty more miles on this", [(40, "mi")]),
        # one of something in a time
        ("the level falls an inch an hour", [(1, "in/h")]),
        ("waste drops an inch an hour", [(1, "in/h")]),
        ("it burns a pound an hour", [(1, "lb/h")]),
        ("and it a quart a minute", [(1, "qt/min")]),
        ("figure gallon and a half a minute", [(1.5, "gal/min")]),
        ("say pound and a quarter an hour", [(1.25, "lb/h")]),
        ("twelve hundredths of a gallon an hour", [(0.12, "gal/h")]),
        # ago
        ("it was 61 an hour ago", [(61, "n"), (1, "h")]),
        ("read ninety gallons a day ago", [(90, "gal"), (1, "day")]),
        ("that is less than a full day", [(1, "day")]),
        # wind and degrees
        ("wind 11 m/s", [(11, "m/s")]),
        ("wind six meters a second", [(6, "m/s")]),
        ("feels like fourteen below the gauge reads five above", [(-14, "temp"), (5, "temp")]),
        # lengths
        ("a bay 2 m long by 1 m by 60 cm", [(2, "m"), (1, "m"), (60, "cm")]),
        ("a drum 22 in dia and 34 in long", [(22, "in"), (34, "in")]),
        ("it went from 14 in to 9 in", [(14, "in"), (9, "in")]),
        ("floor is 40 in by 18 in", [(40, "in"), (18, "in")]),
        ("2 foot 5 on the stick", [(2 + 5 / 12, "ft")]),
        ("five thirty seconds of an inch", [(5, "32nds")]),
        # figures
        ("a 40 000 btu furnace", [(40000, "BTU")]),
        ("a 35 mbtu furnace", [(35000, "BTU")]),
        ("two 20# bottles", [(2, "n"), (20, "lb")]),
        ("after seven hundred and twelve miles", [(712, "mi")]),
        ("since two hundred sixty miles ago", [(260, "mi")]),
        # which one it is
        ("the right one three eighths", [(0.375, "part")]),
        ("black one third", [(0.3333, "part")]),
        ("before one of them is empty", []),
        ("which of the two", []),
        ("one three gallon shower", [(3, "gal")]),
        # one after the other
        ("a quarter at six and a half at two pm", [(0.25, "part"), (6, "n"), (0.5, "part"), (14, "clock")]),
        ("at fifty five hour and a half of stops", [(55, "n"), (1.5, "h")]),
        ("from half eight tonight to half seven tomorrow morning", [(20.5, "clock"), (7.5, "clock")]),
        # what an answer is to be of
        ("per person a day how much is that", []),
        ("95 gal then 71 gal; gallons used an hour?", [(95, "gal"), (71, "gal")]),
        # things with a weight of their own
        ("eighteen pairs of boots at four pounds", [(18, "n"), (4, "lb")]),
        ("the next lot is sixteen and heavier", [(16, "n")]),
        # several of one length, draw or size
        ("420 miles at 58 mph, four stops of 15 minutes", [(420, "mi"), (58, "mph"), (4, "n"), (15, "min")]),
        ("three stops, 25 min each", [(3, "n"), (25, "min/each")]),
        ("two stops of half an hour", [(2, "n"), (0.5, "h")]),
        ("averaging fifty four three fuel stops of ten minutes", [(54, "n"), (3, "n"), (10, "min")]),
        ("two pumps at 4.5 amps and lights 6 amps", [(2, "n"), (4.5, "A"), (6, "A")]),
        ("three fans, 2 amps each", [(3, "n"), (2, "A")]),
        ("two 3 amp chargers", [(2, "n"), (3, "A")]),
        ("three two and a half amp fans", [(3, "n"), (2.5, "A")]),
        ("thirty pounds in each of three hundred pound bottles", [(30, "lb"), (3, "n"), (100, "lb")]),
        ("two hundred foot cords", [(2, "n"), (100, "ft")]),
        ("4 6 V 210 Ah in series", [(4, "n"), (6, "V"), (210, "Ah")]),
        ("4x 6V 210Ah", [(4, "n"), (6, "V"), (210, "Ah")]),
        ("two cords end to end, 30 ft and 75 ft", [(30, "ft"), (75, "ft")]),
        # one of something every so often
        ("it drinks a gallon every four hours", [(0.25, "gal/h")]),
        ("three pounds every half hour", [(6, "lb/h")]),
        ("a quart every thirty minutes", [(2, "qt/h")]),
        # hours
        ("we have an hour and a quarter left", [(1.25, "h")]),
        ("i have an hour left", [(1, "h")]),
        ("went from 66 to 59 in the first hour", [(66, "n"), (59, "n"), (1, "h")]),
        ("did 70 miles in the first hour and a half", [(70, "mi"), (1.5, "h")]),
        ("what do we burn in an hour", []),
        ("what are we burning an hour with two furnaces", [(2, "furnace")]),
        # which one it is
        ("how much less does the long one drop", []),
        ("the left one thirty four and the right one nine pounds", [(34, "n"), (9, "lb")]),
        # a voltage, no milepost
        ("post 118, 80 ft, 12 amps, how many volts inside", [(118, "n"), (80, "ft"), (12, "A")]),
    ],
)
def test_spoken_amounts_are_read(text: str, amounts: list[tuple[float, str]]) -> None:
    assert tags(text) == [(pytest.approx(value, abs=1e-3), tag) for value, tag in amounts]


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("put 30 in, how full is it", [(30, "n")]),
        ("fresh has 90 in, is that enough", [(90, "n")]),
        ("the waste stick says 12 in, how many gallons", [(12, "in")]),
        ("six foot one tall", [(6 + 1 / 12, "ft")]),
        ("12 500 watt heaters", [(12, "n"), (500, "W")]),
        ("sixty gallons a day each", [(60, "gal/day/each")]),
        ("two gallons an hour", [(2, "gal/h")]),
        ("26 of them aboard", [(26, "people")]),
        ("left at six two hundred forty miles", [(6, "n"), (240, "mi")]),
        ("seven and a third gallons", [(7.3333, "gal")]),
        ("six below the floor", [(6, "n")]),
        ("one fifty", [(150, "n")]),
        ("two stops, 50 minutes altogether", [(50, "min")]),
        ("30 gallons three stops back", [(30, "gal")]),
        ("nine gallons every two hours", [(9, "gal"), (2, "h")]),
        ("a two hundred pound bottle", [(200, "lb")]),
        ("both two hundred foot cords", [(200, "ft")]),
        ("two forty volts to the fans", [(240, "V")]),
        ("two fans came along and the lights draw 4 amps", [(4, "A")]),
        ("two cords of 40 ft for 75 ft", [(2, "cord"), (40, "ft"), (75, "ft")]),
        ("what may they have an hour", []),
        ("use one drop of it", [(1, "drop")]),
        ("post 118 is 9 miles on", [(9, "mi")]),
    ],
)
def test_what_only_looks_alike_stays(text: str, amounts: list[tuple[float, str]]) -> None:
    assert tags(text) == [(pytest.approx(value, abs=1e-3), tag) for value, tag in amounts]


@pytest.mark.parametrize(
    "text",
    [
        "diesel is $4.19 a gallon, how far on 70 gallons at 5 mpg",
        "they charge four twenty nine a gallon, how far on 70 gallons at 5 mpg",
        "paid 4.29 per gallon, how far on 70 gallons at 5 mpg",
        "diesel is 4 dollars a gallon, how far on 70 gallons at 5 mpg",
    ],
)
def test_a_price_plays_no_part_where_no_money_is_asked_for(text: str) -> None:
    assert tags(text) == [(70, "gal"), (5, "mpg")]


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("what is the bill for 70 gallons at $4.19 a gallon", 4.19),
        ("cost of putting in 70 gallons at $4.19", 4.19),
        ("they charge four twenty nine a gallon, how much is that for 70 gallons", 4.29),
        ("propane is 1.25 a pound, cost of 70 pounds", 1.25),
        ("paid 3.79 there and here it is 4.19, 70 gallons", 3.79),
        ("what will 70 gallons cost at 3 dollars a gallon", 3),
        ("propane is two bucks a pound, cost of 70 pounds", 2),
    ],
)
def test_a_price_is_read_where_money_is_asked_for(text: str, price: float) -> None:
    assert (price, "n") in tags(text)
    assert not any(tag == "A" for _, tag in tags(text))


def test_more_time_keeps_its_more() -> None:
    assert read_question("six more hours").frame == read_question("six hours more").frame


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("slept three full hours by the gate", [(3, "h")]),
        ("drove four straight hours", [(4, "h")]),
        ("M22 lugs done up to 560 Nm", [(560, "N·m")]),
        ("m 22 studs, the wrench says 440 ft lb", [(440, "lb-ft")]),
        ("a hose 22 m long and the nuts", [(22, "m")]),
    ],
)
def test_full_hours_are_hours_and_a_thread_is_no_amount(text: str, amounts: list[tuple[float, str]]) -> None:
    assert tags(text) == amounts


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("be there by half past five Friday evening", [(17.5, "clock")]),
        ("at one o'clock Tuesday afternoon it was full", [(13, "clock")]),
        ("we leave at seven Sunday morning", [(7, "clock")]),
        ("by ten Saturday night", [(22, "clock")]),
        ("at one Saturday night", [(1, "clock")]),
        ("slept six hours fifteen last night", [(6.25, "h")]),
        ("2 hours 45 this afternoon in the bunk", [(2.75, "h")]),
        ("slept six hours ten pm to four", [(6, "h"), (22, "clock"), (4, "n")]),
        ("on the ninth I put 95 psi in", [(95, "psi")]),
        ("a ninth of the tank", [(0.1111, "part")]),
        ("the man with the two blue trucks pulled 480 lb ft", [(480, "lb-ft")]),
        ("1.265 in every one of the six cells", [(1.265, "n")]),
    ],
)
def test_days_minutes_and_things_beside_a_number(text: str, amounts: list[tuple[float, str]]) -> None:
    assert tags(text) == amounts
