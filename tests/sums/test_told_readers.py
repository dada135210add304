"""What the readers alone make of a question, before the network looks at it too; the formulas stand in the comments."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.summing import summed
from cabassist.sums.told_sums import told_sum
from cabassist.sums.working import work_out

EVENING = datetime(2026, 12, 1, 20, 0, tzinfo=UTC)

TOLD = (
    # Amp hours that the cold leaves, times what is used of them, by the amps.
    ("bank two hundred amp hours, the cold takes thirty percent of it and we only use half, ten amps, how many hours", 7, "h", ""),
    ("House bank 220 Ah warm, gives 70 percent in this cold, we use half of that at 5.5 A. How long?", 14, "h", ""),
    ("Bank 200 Ah, cold knocks it down to 70 %. Only half of that is usable. 8 A load, hours?", 8.75, "h", ""),
    # Watts of both legs: 2 x 0.8 x 50 A x 120 V.
    ("we get fifty amps on two legs of one twenty, at eighty percent how many watts is that", 9600, "W", ""),
    ("30 amp post, 2 legs of 120 V. Total watts?", 7200, "W", ""),
    # Everything plugged into a generator, in amps, beside whether it carries it.
    ("3 kw genny with a 9 amp converter and 1800 watt heater what's the total in amps and can it take that", 24, "A", "Yes"),
    ("5500 W generator, 120 V, AC at 12.5 A and a 1,200 W kettle: total amps? does it hold?", 22.5, "A", "Yes"),
    # 49 CFR 395.5: eight hours off, whatever was driven before.
    ("drove nine and a half hours and knocked off at quarter past one in the morning when can i drive again", 8, "h", "Not before 09:15"),
    ("Shut down 10:20 pm with 10 h driven. Earliest I can drive again?", 8, "h", "Not before 06:20"),
    # The absolute pressure stays: 100 + 14.7 - 12.1.
    ("tires 100 psi cold at 14.7 psi air, what pressure up on the summit with air of 12.1", 102.6, "psi", ""),
    ("tires at 100 psi with 14.2 psi outside, how much does the gauge gain up on the pass at 11 psi outside, same temperature", 3.2, "psi", "More"),
    # Diesel by two readings: 39 gal in 5 h.
    ("Diesel at 8 am 160 gal, at 1 pm 121. What's the burn per hour?", 7.8, "gal/h", ""),
    # Whole rows: 4 x 3 x 2; 4 x 3 x 2.
    ("Luggage bay 96 x 48 x 30 in. How many boxes 24 x 16 x 15 in fit?", 24, "boxes", ""),
    ("how many crates of 18 by 12 by 12 inches go into a compartment that's six feet by three feet by two feet", 24, "crates", ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), TOLD)
def test_every_amount_has_its_place(text: str, value: float, unit: str, verdict: str, coach: Coach) -> None:
    made = told_sum(read_question(text), coach, EVENING)
    assert made is not None
    assert made[1].value == pytest.approx(value, rel=0.005)
    assert made[1].unit == unit
    assert made[1].verdict.startswith(verdict)


def test_two_boxes_without_a_bay_are_no_sum(coach: Coach) -> None:
    text = "how many boxes 24 x 16 x 15 in go with boxes of 20 x 10 x 10 in"
    assert told_sum(read_question(text), coach, EVENING) is None


@pytest.mark.parametrize(
    ("text", "nights"),
    [
        # 60 lb x 21,548 BTU ÷ 10,000 BTU/h = 129.3 h (NFPA 58 Annex B)
        ("how many nights of ten hours does 60 lb of propane give with a 30000 btu furnace running a third of the time", 12.93),
        ("40 lb of propane, burner at 20,000 btu half the time, how many eight hour nights", 10.77),
        ("How many nights of ten hours will a 300 Ah bank do at 6 A down to 50%?", 2.5),  # 150 Ah ÷ 6 A = 25 h
        ("45 gallons of diesel, the engine idles at 0.9 gal an hour, how many 10 hour nights", 5),
    ],
)  # fmt: skip
def test_nights_of_so_many_hours_are_told_in_nights(text: str, nights: float, coach: Coach) -> None:
    worked = work_out(text, (("propane-hours", 0.5), ("battery-hours", 0.2)), coach=coach, stored=(), now=EVENING)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.unit == "nights"
    assert worked.estimate.value == pytest.approx(nights, rel=0.005)


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("Fresh at 80 gal, 12 gal an hour, does it last until 10:00?", "14 h"),
        ("Fresh at 80 gal, 12 gal an hour, does it last until 10:00 pm?", "2 h"),
        ("Fresh at 80 gal, 12 gal an hour, it is 8 pm, does it last until 10:00?", "2 h"),
    ],
)
def test_ten_with_its_minutes_is_by_24_hours_where_no_other_time_is_told(text: str, hours: str, coach: Coach) -> None:
    made = summed(read_question(text), coach, EVENING)
    assert made is not None
    assert made[1].verdict.endswith(f"against {hours}.")


def test_two_amounts_of_a_hose_are_no_two_readings(coach: Coach) -> None:
    # 3 gal in 40 s: no tank goes from 3 to 75 gal in that time
    text = "hose gives me three gallons in forty seconds how long to put seventy five gallons in the fresh"
    question = read_question(text)
    made = summed(question, coach, EVENING) or told_sum(question, coach, EVENING)
    assert made is not None
    assert made[1].unit == "min"
    assert made[1].value == pytest.approx(16.67, rel=0.01)


def test_the_passengers_of_a_rule_are_nobody_aboard() -> None:
    question = read_question("seventy in eight passenger carrier, sixty two hours so far")
    assert [one.unit for one in question.amounts][:2] == ["n", "n"]
