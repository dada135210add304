"""Cords, bleach, warmth, amp hours and plain proportions, every amount in its place; worked out by hand."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.dialogue.session import load_mind
from cabassist.language.calculation_units import converted, same_kind
from cabassist.places import demo_coach
from cabassist.sums.working import Worked, work_out

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def ask(question: str) -> Worked | None:
    return work_out(question, (), coach=load_mind(demo_coach()).coach, stored=(), now=NOW)


ANSWERED: list[tuple[str, float, str]] = [
    # NEC Ch. 9 Table 8: 12 AWG 1.98, 14 AWG 3.14, 10 AWG 1.24 ohm per 1000 ft; both wires count
    ("The post is 75 feet away, I've a 50 and a 25 foot cord, both 12 gauge, screwed together, 13 amps of heaters on 120. How many volts do I lose?", 3.861, "V"),
    ("14 gauge, hundred footer plus a thirty footer, 11 amps, what percent of 120 gets lost", 7.484, "percent"),
    ("Two cords, 40 feet of 10 gauge then 25 feet of 14 gauge, 12 amps, volts lost in all?", 3.074, "V"),
    ("how many amps can i pull over 80 feet of 12 gauge if i won't lose more than 4 volts", 12.63, "A"),
    ("I lose 5.5 volts through the cord at 12 amps, 114.5 at the coach. How many watts is the cord warming up?", 66, "W"),
    ("cord is 80 feet of 12 gauge, 2 heaters at 750 watts each plus a 3 amp charger at 118 volts, what do I have at the coach", 113.02, "V"),
    ("what gauge do i need for 100 feet and 15 amps so the drop stays under 3 percent at 120", 8, "AWG"),
    # mL = L x mg/L / (10 x percent)
    ("two coaches, tanks of 100 and 120 gallons, 50 parts per million, 8.25 percent: cups of bleach altogether", 2.133, "cup"),
    ("I've used 10 oz of bleach in 100 gallons and the strip said 60 ppm. how strong was the bleach?", 7.68, "percent"),
    ("strip reads 15 ppm, want 50 in 110 gallons, bleach is 6 percent, ounces?", 8.213, "fl oz"),
    ("how many gallons can i treat at 50 ppm with a quart of six percent", 300, "gal"),
    # 8.337 lb/gal, 1 BTU/lb·°F, 143.35 BTU/lb of fusion, 1 W = 3.412 BTU/h
    ("a pipe bay holds 4 gallons at 50 F and outside is 5, loses 8 BTU per hour per degree. hours till 32?", 2.129, "h"),
    ("what watts hold 40 gallons at 40 when the tank loses 500 btu an hour", 146.5, "W"),
    ("two 150 watt pads on the 40 gal waste tank, bay loses 1,400 BTU/h, how much still goes out", 376.4, "BTU/h"),
    ("tank pad 200 watts how long to warm 60 gallons from 34 to 45, no losses", 8.063, "h"),
    ("how many BTU to freeze 12 gallons solid from 45", 15642, "BTU"),
    ("15 feet of heat tape at 6 watts a foot on a 15 amp breaker at 120 volts, amps?", 0.75, "A"),
    ("two 100 watt tank pads, 120 volts, 14 hours, kWh?", 2.8, "kWh"),
    # amp hours = watts / volts / efficiency x hours
    ("The inverter feeds a 900 watt coffee maker for 20 minutes and is 85 percent efficient, bank 12 volt. Amp hours gone?", 29.41, "Ah"),
    ("460 amp hours, 30 percent lost to the cold, we stop at half, load 14 amps. hours?", 11.5, "h"),
    ("charger 50 amps, fridge pulls 6, bank needs 120 Ah, hours with no losses", 2.727, "h"),
    ("bank's 12 volt 400 Ah. how many kWh is that at 50 percent", 2.4, "kWh"),
    # rule of three
    ("It took 4 minutes to fill 10 gallons, how long for 85?", 34, "min"),
    ("five bottles of hand soap last 9 days, how many for a 30 day trip?", 16.67, "bottles"),
    ("12 rolls of paper for 34 people over 6 days. how many for 26 people over 10 days?", 15.29, "rolls"),
    ("Player 17 broke the tap; it drips a cup every 3 minutes. Gallons overnight, 9 hours?", 11.25, "gal"),
    ("how full is the 120 tank with 45 in it, percent", 37.5, "percent"),
]  # fmt: skip


@pytest.mark.parametrize(("question", "value", "unit"), ANSWERED, ids=[one[0][:50] for one in ANSWERED])
def test_every_amount_has_its_place(question: str, value: float, unit: str):
    worked = ask(question)
    assert worked is not None
    assert worked.estimate is not None, worked.refused or worked.question
    figures = [(worked.estimate.value, worked.estimate.unit), *((one.value, one.unit) for one in worked.estimate.also)]
    found = [converted(one, of, unit) for one, of in figures if of == unit or same_kind(of, unit)]

    assert any(one == pytest.approx(value, rel=0.003) for one in found), figures


NO_NUMBER = [
    "the coach is 90 feet from the outlet and I only have 60 feet of 12 gauge, 10 amps, how much drop",  # it does not reach
    "50 feet of 12 gauge and 25 feet more of something else, 15 amps, drop?",  # of what gauge?
    "100 foot cord, 12 amps, voltage drop at 120?",
    "I poured 8 oz of bleach into 70 gallons, what ppm",  # of what strength?
    "300 Ah bank lost 20 percent in the cold, load 12 amps, hours?",  # down to what?
    "400 Ah, 80 percent, 20 amps of load while the charger gives 45, how long to 100?",
    "waste rises 4 gallons every 30 minutes, 36 in it, 80 holds, full when?",  # is 80 a size or a level?
    "it dropped 12 degrees in 2 hours, how long for 30 degrees",  # cooling slows down
    "time constant 11 hours, 66 inside, how long till 40",
    "2 helpers clean the coach in 90 minutes, how long with 3 helpers",  # more hands need less time
    "bank 400 Ah at 50 percent, solar gives 8 amps, load 14 amps, hours to 20 percent",  # what comes in is no load
    "we put in 60 gallons in 15 minutes yesterday, 110 gallons to go, hose is half as fast today, minutes",
    "charge from 50 to 90 percent took 4 hours at 40 amps, how big is the bank",
    "fresh 100 gallons and 20 people use 2 gallons a day but 5 of them only 1, how many days",
    "pressure dropped 4 psi in 2 minutes, how many minutes for 10 psi",
]


@pytest.mark.parametrize("question", NO_NUMBER, ids=[one[:50] for one in NO_NUMBER])
def test_what_is_not_all_told_gets_no_number(question: str):
    worked = ask(question)

    assert worked is None or worked.estimate is None, worked.estimate
