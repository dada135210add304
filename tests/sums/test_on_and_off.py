"""What comes on and goes off, gear moved off an axle, mileage by the tank, the clock of another place, loads on a generator."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_plainly import told_plainly

NOW = datetime(2026, 1, 15, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    ("said", "value", "verdict"),
    [
        ("four guys at two ten got off and two hundred pounds of skates came on, heavier or lighter", 640, "lighter"),
        ("five players at 190 came on and 300 pounds of bags went off, how much heavier", 650, "heavier"),
        ("two kids at 120 pounds left and 100 pounds of groceries came aboard, how much lighter", 140, "lighter"),
        ("move 400 pounds of sticks off the tag, it's at 10,900, with half on it, what's it read then", 10700, ""),
        ("shift 300 pounds of kit from the drives, they weigh 20,100, under 20,000?", 19800, "Yes"),
        ("we let 25 gallons of grey out, are we lighter by 200 pounds", 208.4, "No"),
        ("lighter by 400 pounds when 48 gallons of black are gone, right?", 400.2, "Yes"),
        ("started with one sixty gallons, down to forty five over 690 miles, what's she getting", 6, ""),
        ("left with 170 gallons, now 60 left, 715 miles, mpg?", 6.5, ""),
        ("slowing from 62 mph to 55 over 200 miles, minutes lost", 0.4106, "longer"),
        ("speeding up from 55 to 62 over 200 miles, minutes saved", 0.4106, "saved"),
        ("it's an hour later over there, leaving seven am, 240 miles at 60, what time do we get there", 4, "12:00 by the clock there"),
        ("puck drop 7 pm there, they're an hour ahead there, 300 miles at 60, latest we can leave", 5, "13:00"),
    ],
)  # fmt: skip
def test_every_amount_has_its_place(coach: Coach, said: str, value: float, verdict: str) -> None:
    found = told_plainly(read_question(said), coach, NOW)
    assert found is not None
    assert found[1].value == pytest.approx(value, rel=0.01)
    assert verdict in found[1].verdict


@pytest.mark.parametrize(
    "said",
    [
        "four guys at 210 got off and two stayed, heavier or lighter",
        "move 400 lb off the tag onto the drives, the drives are at 18,900, what do they read",
        "started with 160 gallons, range over 690 miles",
        "they left an hour earlier, leaving 7 am, 240 miles at 60, when do we get there",
        "the rink is an hour ahead, game at half past six there, 240 miles at 60, when do we leave",
    ],
)
def test_what_is_not_placed_is_left_to_others(coach: Coach, said: str) -> None:
    assert told_plainly(read_question(said), coach, NOW) is None
