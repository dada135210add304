"""Loads, supplies and volts told in any order, each worked out by hand beside it; 80 % for hours is NEC 210.20(A)."""

from __future__ import annotations

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_shore import shore_sum
from cabassist.sums.told_sums import told_sum
from tests.sums.test_working import COACH, NOW

# fmt: off
WORKED = [
    ("we've got a 30 amp post, 120 volts, space heater at 1500, charger at 600 and the fridge at 180, overnight. how many amps are left", 5.0, "A", ""),
    ("three 500 watt heat lamps on a 15 amp breaker overnight ok?", 12.5, "A", "No"),
    ("20A breaker, 9A charger + 700W heater, 120V, all night. ok?", 9 + 700 / 120, "A", "Yes"),
    ("block heater draws 1000 watts and the two bay heaters 500 each, all on a 20 amp outlet all night, 34 aboard, minus 20 out. too much?", 2000 / 120, "A", "No"),
    ("can the fifteen amp outlet in the hall feed a 1,800 watt kettle for a minute", 15.0, "A", "Yes"),
    ("battery charger pulls eight and a half amps and the water heater twelve and a half on a thirty amp plug how much room is left all night", 3.0, "A", ""),
    ("most i can pull all night off a 50 amp hookup in watts at 120", 4800.0, "W", ""),
    ("how big a breaker for 16 amps all night", 20.0, "A", ""),
    ("1500 watt heater at 115 volts how many amps", 1500 / 115, "A", ""),
    ("what does a nine amp converter come to in watts on one twenty", 1080.0, "W", ""),
    ("4 x 60 W pads, 12 V. A?", 20.0, "A", ""),
    ("My generator's good for 6.5 kilowatts. Two roof units at 13 amps each at 120 volts and a 1,000 watt kettle. How many watts are left?", 2380.0, "W", "Yes"),
    ("the outlet shows 108 volts, heater label says 1500 watts at 120, what is it really putting out", 1215.0, "W", ""),  # 1500 x 0.9²
    # A breaker alone: what it carries for hours.
    ("what may we draw for hours on end from a 40 amp breaker at 120 volts", 32.0, "A", ""),
    ("fifty amp post at 120, sustained load in watts?", 4800.0, "W", ""),
    ("25 amp circuit. what can stay on till breakfast", 20.0, "A", ""),
    ("how hard can i lean on a sixty amp breaker for hours and hours", 48.0, "A", ""),
    # What a plug or heater is rated for is no load beside its watts.
    ("three 20 amp heaters at 1200 watts on a 30 amp outlet", 30.0, "A", "No"),
    ("can a 15 amp plug heater of 1300 watts run all night on a 20 amp breaker", 1300 / 120, "A", "Yes"),
    ("cooker with a 20 amp plug, it draws 900 watts, on a 15 amp circuit all night, ok", 7.5, "A", "Yes"),
    ("two of the 1200 watt heaters plus a 3 amp charger on the thirty amp post overnight ok", 23.0, "A", "Yes"),
    ("on thirty amps can i have both 1500 watt heaters on until morning", 25.0, "A", "No"),
    ("wall says 120 coach says 111 what percent is the cord eating", 7.5, "percent", "More than 5"),
    ("i've only got fifteen amps at the wall, i need 9 for the heater and 4 for the charger till dawn, does that work", 13.0, "A", "No"),
    # "All three" are those just told.
    ("30 A post at 120 V. dryer 7 A, lamp 2.5 A, 1,440 W heater. Can all three stay on overnight?", 21.5, "A", "Yes"),
    ("15 A, 120 V, all night: heater 1000, block heater 800, charger 360. total amps?", 18.0, "A", "No"),
    ("122 at the wall and 115 in the coach what percent is lost", 700 / 122, "percent", "More than 5"),
]
SHED = [
    ("15 amp outlet, block heater 1,000 W, coffee machine 1,000 W, will it hold", "Switch off the coffee machine"),
    ("coffee maker 1000 watts and block heater 1000 watts on a 15 amp breaker overnight ok", "Switch off the coffee maker"),
    ("15 amp breaker all night, space heater 900 W, kettle 900 W, is that ok", "Switch off the kettle"),
]
LEFT = [
    "how many watts is thirteen amps",  # no volts
    "30 amp breaker, 1500 watt heater and 17 of something, how many amps left",
    "how long does a 200 amp hour bank run a 10 amp fridge",
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), WORKED)
def test_loads_and_supplies_are_placed(text: str, value: float, unit: str, verdict: str) -> None:
    made = shore_sum(read_question(text), COACH)
    assert made is not None
    assert made[1].unit == unit
    assert made[1].value == pytest.approx(value, rel=1e-3)
    assert made[1].verdict.startswith(verdict)


@pytest.mark.parametrize("text", LEFT)
def test_an_amount_without_a_place_leaves_it_to_others(text: str) -> None:
    assert shore_sum(read_question(text), COACH) is None


# fmt: off
BANKS = [
    ("converter puts back thirty amps at about eighty five percent, we used 90 amp hours, how long", 90 / (30 * 0.85), "h"),
    ("charger gives forty amps, have to put back eighty amp hours and 20 percent gets lost, how many hours", 80 / (40 * 0.8), "h"),
    ("blower is six amps with the furnace on half the time for ten hours how many amp hours is that", 30.0, "Ah"),
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit"), BANKS)
def test_a_share_is_of_the_time_or_of_the_charge(text: str, value: float, unit: str) -> None:
    made = told_sum(read_question(text), COACH, NOW)
    assert made is not None
    assert (made[1].unit, made[1].value) == (unit, pytest.approx(value, rel=1e-3))


@pytest.mark.parametrize(
    ("text", "shed"),
    [
        # 13.5 A of 12: without the charger 11.5; without the heater less than that, but more is given up.
        ("fifteen amp outlet all night, heater 9 amps, fridge 2.5 amps, charger 2 amps, what has to come off", "the charger"),
        # 30 A of 16: no single one is enough, and the heater stays.
        ("20 amp breaker all night, heater 12 amps, kettle 10 amps, dryer 8 amps, which has to come off", "the kettle and the dryer"),
    ],
)  # fmt: skip
def test_what_to_switch_off_is_named(text: str, shed: str) -> None:
    made = shore_sum(read_question(text), COACH)
    assert made is not None
    assert f"Switch off {shed}:" in made[1].verdict
    assert all(one.value >= 0 for one in made[1].also), "over by so much, never minus so much left"


@pytest.mark.parametrize(("text", "advice"), SHED)
def test_comfort_comes_off_before_the_heater(text: str, advice: str) -> None:
    """The profile's order counts for loads that are named in the question too, whichever was named first."""
    found = shore_sum(read_question(text), COACH)
    assert found is not None
    assert advice in found[1].verdict
