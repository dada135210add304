"""Calculation questions in further families of phrasing, each with its answer worked out by hand."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.sums.test_working import COACH, NOW, Held, ask, value

# fmt: off
ANSWERED = [
    # A bare limit after "til" is in percent when the levels are: (90 - 40) % ÷ ((40 - 28) % ÷ 4 h).
    ("waste went from 28 to 40 percent in four hours, how long til ninety", "waste-hours", 50 / 3, "h"),
    # A bare rate beside a level in percent is percent: (90 - 60) ÷ 5.
    ("waste is at 60 percent climbing 5 an hour, how many hours until it hits 90 percent", "waste-hours", 6.0, "h"),
    # A volume beside a share is the tank's size: half of 120 gal ÷ 10 gal/h.
    ("fresh is half full, 120 gallons, and we draw ten gallons an hour, how long til it's empty", "fresh-hours", 6.0, "h"),
    # What is to go in, not the whole tank: 36 ÷ 6.
    ("need 36 more gallons and the hose gives six a minute, how long", "fill-time", 6.0, "min"),
    # 12 fl oz = 354.9 mL; x 82.5 ÷ 378.5 L = 77.3 mg/L (dose = L x mg/L ÷ (10 x %)).
    ("what ppm do we get if 12 ounces of 8.25 percent goes in 100 gallons", "bleach-dose", 77.3, "mg/L"),
    # 302.8 L x 50 ÷ 60 = 252.4 mL = 8.53 fl oz.
    ("bleach for an 80 gallon tank, 50 ppm, it's 6 percent", "bleach-dose", 8.53, "fl oz"),
    # 3 x 700 W ÷ 120 V.
    ("three heaters 700 each on one 20 amp circuit?", "breaker-limit", 17.5, "A"),
    # 2 x 900 W ÷ 120 V.
    ("two heaters 900 watts each on one 20 amp circuit?", "breaker-limit", 15.0, "A"),
    # 50 to 100 miles on (wheel article, Trucknews): 8,450.
    ("nuts done to 475 foot pounds at 8,400 miles, when's the recheck", "wheel-recheck", 8450.0, "mi"),
    # 30 gal x 8.337 lb x 13 °F ÷ 650 BTU/h, ice from 32 °F.
    ("30 gallons of water at 45 degrees losing 650 btu an hour, how long before it starts to freeze", "freeze-time", 5.0, "h"),
    # 60 W x 3.412.
    ("60 watt pad and the tank loses 150 btu an hour, will that keep up", "heat-pad-watts", 204.7, "BTU/h"),
    # External visual, five years (49 CFR 180.209(g)): May 2028, 28 months from January 2026.
    ("requalified 05-23 E, when does it run out", "requalification", 28.0, "months"),
    # NWS 2001: 10 °F and 25 mph feel like -11 °F on the chart.
    ("wind chill at ten and twenty five", "wind-chill", -11.0, "F"),
    # Forecast less cloud point.
    ("cloud point is 5 and tonight's low is 20, will the diesel be all right", "gel-risk", 15.0, "F"),
]
# fmt: on


@pytest.mark.parametrize("row", ANSWERED, ids=lambda row: row[0][:50])
def test_a_family_of_phrasing_is_worked_out(row: tuple[str, str, float, str]):
    """Every number that is said goes into the sum."""
    question, calculation, expected, unit = row
    worked = ask(question)

    assert worked is not None
    assert worked.calculation == calculation
    assert value(worked) == pytest.approx(expected, rel=0.02, abs=0.5 if unit == "F" else 0)
    assert worked.estimate is not None
    assert worked.estimate.unit == unit


def test_a_tank_past_the_limit_has_no_time_left():
    """A positive number of hours would be believed."""
    worked = ask("waste is at 94 percent and gaining 3 percent an hour, how long til 90")

    assert value(worked) == 0
    assert worked is not None
    assert worked.estimate is not None
    assert "already" in worked.estimate.verdict


def test_the_time_of_day_told_sets_the_clock():
    """(90 - 55) % ÷ 5 % an hour = 7 h after 05:30, whatever the clock of the cab says; an hour is kept in hand."""
    worked = ask(
        "it's 5:30 in the morning, waste at 55 percent gaining 5 an hour, when do we have to dump by, 90 is our limit"
    )

    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.verdict == "Dump before 11:30 today; the limit is at 12:30."


def test_a_proof_pressure_mark_beside_the_date_gives_no_number():
    """The interval after an S is unsettled (7 or 10 years); it was once taken for the month of manufacture."""
    worked = ask("cylinder stamped 04-19 S, when's it due")

    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value is None
    assert "unsettled" in worked.estimate.verdict


def test_a_number_that_goes_into_no_sum_is_named():
    """No answer is given that leaves it out."""
    worked = ask("what does 80 gallons of water weigh with 17 of something")

    assert worked is not None
    assert worked.estimate is None
    assert "17" in worked.refused


def test_the_room_of_a_tank_named_by_its_size_is_no_extra_number():
    """The profile's own sizes may be told beside: 80 of 120 gallons at 4 gal/min."""
    worked = ask("how long to put 80 gallons in the 120 gallon tank at four gallons a minute")

    assert value(worked) == pytest.approx(20.0)
    assert next(t for t in COACH.tanks if t.name == "fresh").capacity_gal == 120


def test_now_stays_the_clock_when_no_time_is_told():
    """Twelve hours to 90 %, less the hour in hand, from the clock."""
    worked = ask("waste is at 30 percent gaining 5 percent an hour, by when must we dump")

    assert worked is not None
    assert worked.estimate is not None
    assert f"{NOW + timedelta(hours=11):%H:%M}" in worked.estimate.verdict


@pytest.mark.parametrize(
    ("what", "percent", "question", "hours"),
    [
        ("waste", 40.0, "it's going up six percent an hour, how long have I got", 10.0),  # (100 - 40) % ÷ 6
        ("waste", 40.0, "climbing five percent an hour, when's it at 90 percent", 10.0),  # (90 - 40) % ÷ 5
        ("fresh", 50.0, "at four gallons an hour how much longer is that", 15.0),  # 60 gal ÷ 4
    ],
)
def test_a_rate_without_a_name_belongs_to_the_tank_just_told(what: str, percent: float, question: str, hours: float):
    """Nothing in the question names the tank."""
    worked = ask(question, stored=[Held(what, percent, "percent")])

    assert value(worked) == pytest.approx(hours, rel=0.01)


def test_a_rate_without_a_name_belongs_to_nothing_told_long_ago():
    """After an hour nobody means that tank any more."""
    worked = ask(
        "it's going up six percent an hour, how long have I got", stored=[Held("waste", 40.0, "percent", None, 1.0)]
    )

    assert worked is None or worked.estimate is None


def test_how_many_gallons_is_asked_of_the_tank_just_told():
    """8 of the waste tank's 20 inches are 32 of its 80 gallons."""
    worked = ask("so that's how many gallons", stored=[Held("waste", 8.0, "in")])

    assert value(worked) == pytest.approx(32.0)


@pytest.mark.parametrize(
    ("question", "clock"),
    [
        ("fresh is 36 gallons at 7 pm and we use four an hour, what time is it dry", "04:00"),  # 9 h after 19:00
        (
            "waste was 30 percent at 10 am and 45 percent at 1 pm, what time does it hit 90",
            "22:00",
        ),  # 45 ÷ 5 = 9 h after 13:00
    ],
)
def test_what_time_is_answered_with_a_time(question: str, clock: str):
    """It counts from the last time that was told."""
    worked = ask(question)

    assert worked is not None
    assert worked.estimate is not None
    assert f"at {clock}" in worked.estimate.verdict


@pytest.mark.parametrize(
    "question",
    [
        "70 pounds left in a 100 pound cylinder at 20 degrees, how many gallons of water",
        "can a 100 pound cylinder do 50,000 btu at 30 below with 90 pounds in it",  # the table ends at 0 °F
    ],
)
def test_no_number_answers_another_question(question: str):
    """What cannot be placed is asked about."""
    worked = ask(question)

    assert worked is None or worked.estimate is None or worked.estimate.value is None


def test_the_day_asked_about_is_no_requalification():
    """Made June 2013 and never tested: overdue since June 2025, whatever date the question ends with."""
    worked = ask("cylinder made in 06-2013 and never tested, still legal in january 2026")

    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.verdict.startswith("No. Overdue since June 2025.")


def test_hours_driven_before_the_word_are_the_hours_driven():
    """ "Ten hours driven, four other" once counted the four as driven and left six."""
    assert value(ask("ten hours driven four other, can I drive")) == 0


def test_a_loss_for_each_degree_is_no_loss_in_all():
    """400 BTU/h x (68 - 8) °F."""
    assert value(
        ask("coach loses 400 btu an hour per degree, 68 inside and 8 outside, how many btu an hour")
    ) == pytest.approx(24_000)


def test_showers_are_counted_by_their_water():
    """12 people x 5 min x 2 gal/min = 120 gal, more than 100; it once gave the time to fill 100 gallons."""
    worked = ask("12 people take 5 minute showers at 2 gallons a minute, is 100 gallons enough")

    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.verdict.startswith("No")
    assert value(worked) == pytest.approx(120)


def test_a_tank_that_may_freeze_is_told_to_keep_its_heat_on():
    """The figure is of a tank without its heat; where the power is told to be off there is none to keep on."""
    cold = ask("will the waste tank freeze tonight at 25 below, how long does it take")
    assert cold.estimate is not None
    assert cold.estimate.verdict.endswith("keep the heat tape on, and look for its red light.")
    fresh = ask("how long can the fresh tank sit at minus ten before it freezes")
    assert fresh.estimate is not None
    assert fresh.estimate.verdict.endswith("keep the heat pad on.")
    off = ask("power is off, minus 25, waste at half, how long til it freezes")
    assert off.estimate is not None
    assert "keep the heat" not in off.estimate.verdict
