"""Sums of plain arithmetic; every figure here is worked out by hand (arithmetic, no source needed) unless one is named."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.sums.working import work_out

NOW = datetime(2026, 1, 15, 10, 0, tzinfo=UTC)


def worked(text: str, coach: Coach) -> tuple[float, str]:
    found = work_out(text, (), coach=coach, stored=(), now=NOW)
    assert found is not None
    assert found.estimate is not None
    assert found.estimate.value is not None
    return found.estimate.value, found.estimate.unit


def asked(text: str, coach: Coach) -> str:
    found = work_out(text, (), coach=coach, stored=(), now=NOW)
    assert found is not None
    assert found.estimate is None
    return found.question or found.refused


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("how many kwh is 12 amps at 120 volts for 5 hours", 7.2, "kWh"),
        # What is allowed is no driving.
        ("3 hours 30 driven, 10 allowed, how much longer can I drive", 6.5, "h"),
        ("driven 2 hours 15, limit is 10 hours, how long have I left", 7.75, "h"),
        # Gross less empty, for each.
        ("each bottle weighs 58 lb gross and 29 lb empty, how many pounds of gas in two", 58.0, "lb"),
        ("gross weight 70 lb, empty 31, two of those, how many pounds of gas in all", 78.0, "lb"),
        ("three quarters of a tank of 160 gallons, 0.8/h idling, hours before a half", 50.0, "h"),
        ("two 1500 watt heaters for 8 hours, kilowatt hours?", 24.0, "kWh"),
        ("a 900 watt kettle for ten minutes how many watt hours", 150.0, "Wh"),
        ("fan draws 4 amps on 12 volts and runs 90 minutes a day how many watts is that and how many amp hours", 48.0, "W"),
        ("microwave 1200 watts through the inverter at 80 percent on 12 volts how many dc amps", 125.0, "A"),
        ("generator makes 7.5 kw carrying 3800 watts now add two 1500 watt heaters how many watts in reserve", 700.0, "W"),
        ("swap twelve 50 pound bags for twelve 35 pound bags how many pounds do we save", 180.0, "lb"),
        ("how much heavier with 16 bags at 30 lb instead of 10 bags at 60 lb", 120.0, "lb"),
        ("6000 pounds of payload left, 190 a head plus a 45 pound bag, how many people can i take", 25.0, "persons"),
        ("how many 6 gallon jugs to carry 40 gallons of water", 7.0, "jugs"),
        ("3 gallon urn of coffee how many 8 oz cups do we get", 48.0, "cups"),
        ("steer 13,200 drive 21,000 tag 9,100 plate 48,000 gross how much room left", 4700.0, "lb"),
        ("the coach loses 400 btu an hour per degree, 65 inside, minus 10 outside, furnace 40000 input 80 percent, what share of the time does it burn", 93.75, "percent"),
        ("350 btu an hour per degree, hold 66 with zero outside, one 30,000 btu furnace at 80 percent, can it keep up", 23100.0, "BTU/h"),
        # 1.08 BTU/h for a cubic foot a minute and a degree: common practice.
        ("vent is blowing out 60 cubic feet a minute 70 inside and 10 outside how many btu an hour do we lose", 3888.0, "BTU/h"),
        # 91,502 BTU/gal: NFPA 58 Annex B, secondary.
        ("cabin needs 20000 btu an hour for 8 hours furnace is 80 percent efficient how many gallons of propane", 200000 / 91502, "gal"),
        ("filling at 6 gpm, someone's using 1 gpm, fresh is at a quarter, how long till it's full", 18.0, "min"),
        # 0.4335 psi a foot: 62.43 lb/ft³ ÷ 144.
        ("filler is 9 feet above the tap how much psi do i lose to the lift", 3.9015, "psi"),
        ("fresh was at 90 at 6 and 72 at 9 how fast is it going", 6.0, "gal/h"),
        ("waste sensor in millimetres, tank depth 500 mm, 9:00 it showed 150, 12:00 it showed 240, when is it full", 26 / 3, "h"),
        # 500 × (LN ÷ (N − 1) + 12 N + 36): FHWA Bridge Formula Weights.
        ("bridge law, four axles, 36 feet first to last, what's allowed", 66000.0, "lb"),
        ("4 foot cheater bar and i lean 120 pounds on the end how many foot pounds is that and is it in the 450 to 500 range", 480.0, "lb-ft"),
        # 1 lb-ft = 1.3558 N·m.
        ("torque wrench set to 620 newton meters, spec is 450 to 500 foot pounds, am i inside", 620 / 1.35582, "lb-ft"),
        ("held the brake pedal and the air went from 118 to 114 in two minutes what is that a minute and does it pass", 2.0, "psi/min"),
        # 236.6 mL × 10 × 6 ÷ 302.8 L.
        ("he poured a whole cup of 6 percent bleach into 80 gallons how many ppm is that", 46.875, "mg/L"),
        ("coach takes 40 liters for 100 km, 600 km to go and there's 200 liters in it, how much for the trip and is it enough", 240.0, "L"),
        ("generator burns 0.8 gallons an hour, pickup sucks air at a quarter of the 200 gallon tank, we're at half, how long will it run", 62.5, "h"),
        ("90 gallons remaining burning 8 an hour i want one hour in reserve whats my endurance before the reserve", 10.25, "h"),
        ("1,300 miles on 200 gallons, what's my mpg and how far will the 150 i got left take me", 6.5, "mpg"),
        ("fresh 90 gallons 30 people 2 gallons a day each, propane 40 lb at 0.8 lb per hour, what runs out first", 36.0, "h"),
        ("fifty five in fresh thirty in waste using six gallons an hour which gives out first", 50 / 6, "h"),
        ("25 players three minutes each at 1.5 gallons a minute, 80 gallons in the fresh, how much does it take and is it enough", 112.5, "gal"),
        # 49 CFR 395.5: ten hours of driving for each driver.
        ("two fresh drivers how long can they drive", 20.0, "h"),
        ("two rested drivers at 55 mph how far can we go", 1100.0, "mi"),
        # 1 stone = 14 lb, 1 kg = 2.20462 lb.
        ("26 players averaging twelve stone six plus 20 kilos of kit each, total in pounds", 26 * (174 + 20 * 2.20462), "lb"),
        # 1 W = 3.412142 BTU/h, 1 bar = 14.5038 psi, 1 imperial gallon = 1.20095 US gallons: exact definitions.
        ("heater nameplate 3 kW how many btu per hour", 10236.4, "BTU/h"),
        ("tire chart says 7.5 bar and the gauge only reads psi", 108.778, "psi"),
        ("we want 40 gallons of fresh, that's imperial, what is it in us gallons", 48.038, "gal"),
        # 21,548 BTU/lb: NFPA 58 Annex B, secondary.
        ("15 kg of propane in the bottle, burner takes 5 kW running all the time, how many hours", 33.0693 * 21548 / 17060.7, "h"),
        ("toilet uses 0.4 gallon a flush 28 people 5 flushes each a day how many gallons a day and will the 80 gallon tank hold a day", 56.0, "gal/day"),
        # 49 CFR 395.1(b)(1): two hours more in adverse conditions that nobody could know of.
        ("snow nobody called came down after i left, 9 hours at the wheel, 11 on duty, with adverse conditions how much more can i drive", 3.0, "h"),
        ("fresh on a half, hose 6 gpm, min to full", 10.0, "min"),
        ("how many pounds lighter if i leave with the fresh at a quarter of 120 instead of full", 90 * 8.337, "lb"),
        # 2 × 20 ft × 15 A × 0.778 ohm per 1,000 ft: NEC chapter 9 table 8, secondary.
        ("12 volt line, 8 awg copper, 20 feet one way, 15 amps, how many volts drop on the wire", 0.467, "V"),
        ("24 players at 195 instead of 28 at 195 how much lighter in pounds", 780.0, "lb"),
        ("the coach burned 35 gallons over 210 miles, what's that per hundred miles", 35 / 2.1, "gal"),
        ("fresh 70 gal going 7 an hour, propane 15 lb at 1 lb an hour, which gives out first", 10.0, "h"),
        # US NWS wind chill formula, 20 knots = 23.02 mph.
        ("wind is 20 knots and it's minus 5 fahrenheit wind chill", -29.94, "F"),
    ],
)  # fmt: skip
def test_plain_sums(text: str, value: float, unit: str, coach: Coach) -> None:
    got = worked(text, coach)
    assert got[0] == pytest.approx(value, rel=1e-3)
    assert got[1] == unit


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("how many kwh does the heater use, 1500 watts", "hours"),
        ("10 amps for 3 hours in kwh", "volts"),
        ("we burned 60 gallons what's that per hundred miles", "miles"),
        ("two fresh drivers how far can we go", "speed"),
        ("how many amps is the heater", "watts"),
        (
            "25 aboard and the waste is coming up six gallons an hour since we left at 7:15, how long before it's full",
            "full is the waste",
        ),
        ("how long to fill the fresh? it's on a half and i just hooked up the hose", "gallons a minute"),
    ],
)
def test_what_is_missing_is_asked(text: str, wanted: str, coach: Coach) -> None:
    assert wanted in asked(text, coach)


def test_everything_aboard_is_held_against_the_post(coach: Coach) -> None:
    """All loads of the profile: 4,930 W ÷ 120 V = 41.1 A, and 24 A are allowed for hours on end (NEC 210.20, secondary)."""
    found = work_out("will everything hold on the 30 amp post", (), coach=coach, stored=(), now=NOW)
    assert found is not None
    assert found.estimate is not None
    assert found.estimate.value == pytest.approx(41.083, abs=0.01)
    assert found.estimate.verdict.startswith("No.")


def test_volts_under_load_tell_no_charge(coach: Coach) -> None:
    text = "meter shows 11.9 volts with the inverter pulling 70 amps right now what percent charge is that"
    found = work_out(text, (), coach=coach, stored=(), now=NOW)
    assert found is not None
    assert found.estimate is not None
    assert found.estimate.value is None
    assert "rest" in found.estimate.verdict
