"""Sums said in one breath: parts of a unit, times of day by 24 hours, levels that are waited for, what is missing.

Values are worked out by hand in the comments; propane 4.24 lb/gal and 21,548 BTU/lb (NFPA 58 Annex B, repeated by suppliers),
water 8.337 lb/gal (CoolProp), 3.412 BTU/h a watt.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.language.calculation_inputs import read_question
from cabassist.sums.working import Worked, work_out
from tests.sums.test_working import COACH

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def ask(text: str) -> Worked:
    worked = work_out(text, (), coach=COACH, stored=(), now=NOW)
    assert worked is not None
    return worked


NUMBERS = (
    # parts of a unit, and of a gallon for each: 24 x 0.25 = 6 an hour, 48 / 6
    ("twenty four aboard each using point two five of a gallon an hour fresh at forty eight how many hours", 8.0, "h", ""),
    ("bottle has twenty seven pounds and it burns point nine of a pound an hour how many hours", 30.0, "h", ""),
    # (27 gal of room) / (0.3 x 9 h) = 10
    ("how many people can go nine hours on twenty seven gallons of fresh at point three a gallon each an hour", 10.0, "persons", ""),
    # two levels by 24 hours: 18 gal in 4 h
    ("waste was 21 gal at 0840 and 39 at 1240. How much an hour?", 4.5, "gal/h", ""),
    ("fresh 99 gal @ 1005, 75 gal @ 1405 – gph?", 6.0, "gal/h", ""),
    ("waste 20% at 0900, 50% at 1500, %/h?", 5.0, "percent/h", ""),
    # 24 in 3 h = 8; (68 - 20) / 8 = 6 h after noon
    ("fresh was ninety two at nine and sixty eight at noon when is it down to twenty", 6.0, "h", "18:00"),
    # 9 lb in 12 h; 24 / 0.75 = 32 h after 08:00
    ("propane was 33 lb at 2000 and 24 lb at 0800, when is it empty", 32.0, "h", "16:00"),
    # to last until: 25 x 0.2 = 5; 30 / 5
    ("its three pm thirty gallons fresh and twenty five people using point two each an hour does it last till eight", 6.0, "h", "Yes"),
    ("it's 1300, 15 gal fresh, 20 aboard at 0.25 gal/h each – will it make 1700?", 3.0, "h", "No"),
    # what the hose has to put in
    ("spigot gives four and a half gallons a minute and the fresh wants fifty four more how long", 12.0, "min", ""),
    ("opened the tap at 1410, 5 gpm, 60 gal to go. Full at what time?", 12.0, "min", "14:22"),
    ("what hose flow do I need to put 96 gallons in within 16 minutes", 6.0, "gal/min", ""),
    ("hang on to twenty gallons, fresh is at ninety two and we use six an hour how many hours", 12.0, "h", ""),
    ("fill from 35 to 110 gal @ 5 gpm – min?", 15.0, "min", ""),
    ("righto hose is on and it's doing five and three quarter gallons a minute, sixty nine wanted, how many minutes", 12.0, "min", ""),
    ("tank half full, 120 gal, hose 4 gal/min, full in?", 15.0, "min", ""),
    ("waste can take another thirty three gallons, we're putting in five and a half an hour, hours?", 6.0, "h", ""),
    ("waste went up from twenty two to forty in four and a half hours what's that an hour", 4.0, "gal/h", ""),
    ("fresh level 0715: 102 gal. 1315: 66 gal. When does it hit 24?", 7.0, "h", "20:15"),
    ("fresh has 60 at 5 an hour, waste is 20 off full at 2.5 an hour, which one first", 8.0, "h", "Waste"),
    # a cylinder on the scale
    ("empty it weighs twenty four pounds and now it's thirty nine and a half, what propane have I got", 15.5, "lb", ""),
    ("tank's twenty gallon water capacity, gauge says sixty percent, how many gallons of propane in it", 12.0, "gal", ""),
    ("12.5 kg propane at 0.5 kg/h?", 25.0, "h", ""),
    ("scale says fifty one and a half pounds tare on the collar is twenty nine how much propane in it in pounds", 22.5, "lb", ""),
    ("gross 38 lb, tare 24.6 lb, lb of gas?", 13.4, "lb", ""),
    ("tank's fifteen gallons water size filled to eighty percent how many gallons of propane", 12.0, "gal", ""),
    # 10 lb x 21,548 / 12 h / 30,000; 40 lb x 21,548 / 20 h
    ("what duty can a thirty thousand btu furnace run for twelve hours on ten pounds of propane", 59.86, "percent", ""),
    ("how big a furnace can forty pounds of propane keep going for twenty hours flat out", 43096.0, "BTU/h", ""),
    # the drive against the hours there are: 168 / 56
    ("waste full in 4.1 h, dump station 168 mi ahead, doing 56 – make it?", 3.0, "h", "Yes"),
    # cooling by two readings: ln(60/30) / ln(60/50) = 3.802 h
    ("furnace quit at seventy inside and ten out an hour later it was sixty how long from when it quit till forty", 3.802, "h", ""),
    # the air, not the wind chill
    ("air's twelve above and the wind chill is ten below how cold can the waste pipe get", 12.0, "F", "not the wind chill"),
    ("its nine degrees out with a chill of minus fifteen can the hose get colder than nine", 9.0, "F", "No"),
    ("will it freeze at thirty six with a wind chill of twenty four", 36.0, "F", "No"),
    # 22 C to 10 C at -11 C: ln(33/21) / ln(33/30) = 4.742 h
    ("twenty two inside, minus eleven out, heater off, an hour on nineteen, how long from the start till ten", 4.742, "h", ""),
    ("loses four hundred and fifty btu an hour, what pad in watts", 131.9, "W", ""),
    ("how many btu to warm 50 gallons from 40 to 60 degrees", 8337.0, "BTU", ""),
    # 600 / 3.412
    ("waste tank is losing 600 BTU/h in this cold, how many W of heat pad just holds it", 175.8, "W", ""),
    # (20,000 - 17,600) / 50, (14,600 - 12,940), 103 x 8.337
    ("drive axle is at seventeen thousand six hundred limit's twenty thousand bags weigh fifty pounds how many more", 48.0, "count", ""),
    ("rear axle's at eighteen four hundred, limit's nineteen five hundred, bags are forty four pounds, how many more go on", 25.0, "count", ""),
    ("steer axle's at twelve nine forty and the limit is fourteen six how many pounds have i got", 1660.0, "lb", ""),
    ("loading 72 gal fresh while 31 gal already sits in waste, combined weight lb?", 858.7, "lb", ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "said"), NUMBERS)
def test_a_sum_said_in_one_breath_is_worked_out(text: str, value: float, unit: str, said: str) -> None:
    estimate = ask(text).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(value, rel=3e-3), unit)
    assert said in estimate.verdict


MISSING = (
    ("waste is at fifty and it was at twenty when we set out, how long till it's full", "How many hours"),
    ("fresh read seventy when we set off and its forty now how much is that an hour", "How many hours"),
    ("waste was at fifteen and now its thirty one when will it be full", "How many hours"),
    ("two furnaces twenty five thousand each wide open how long till the gas is gone", "How much propane"),
)


@pytest.mark.parametrize(("text", "asked"), MISSING)
def test_the_input_that_is_missing_is_asked_for(text: str, asked: str) -> None:
    worked = ask(text)

    assert worked.estimate is None
    assert asked in worked.question


CLOCKS = (
    ("waste 30 gal at 1100, 45 gal at 1400", [11.0, 14.0]),
    ("drive 2130-0600 tonight", [21.5, 6.0]),
    ("started filling at five past three this afternoon at six a minute", [15 + 5 / 60]),
    ("heaters at 1500 and 1200 watts", []),
    ("paid for a hundred since 2009", []),
)


@pytest.mark.parametrize(("text", "hours"), CLOCKS)
def test_four_figures_are_a_time_of_day_where_they_can_be(text: str, hours: list[float]) -> None:
    found = [one.value for one in read_question(text).amounts if one.unit == "clock"]

    assert found == pytest.approx(hours)


@pytest.mark.parametrize(
    ("said", "gallons"),
    [
        ("twenty two people two flushes each one point six gallons a flush how much is that", 70.4),  # 22 x 2 x 1.6
        ("thirty kids three flushes each one point two a flush how much does that come to", 108.0),  # 30 x 3 x 1.2
        ("eighteen players two flushes each at 1.5 a flush how many gallons", 54.0),  # 18 x 2 x 1.5
    ],
)
def test_each_before_one_point_something(said: str, gallons: float):
    """The "one" belongs to the number, and a bare number a flush is gallons."""
    estimate = ask(said).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(gallons), "gal")
