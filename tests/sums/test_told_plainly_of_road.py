"""Sums whose words leave nothing open: prices, limits that are named, leave-by times, cords by their ohms, jacks, bars, axles.

Every figure is worked out by hand (arithmetic); one that no question gives alone must be asked for or left to other readers.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_plainly import plainly_asked, told_plainly
from cabassist.sums.working import say, work_out

NOW = datetime(2026, 1, 15, 10, 0, tzinfo=UTC)


def told(text: str, coach: Coach) -> Estimate | None:
    found = told_plainly(read_question(text), coach, NOW)
    return None if found is None else found[1]


ROWS = (
    # 2 x 60 ft x 2.5 ohm / 1,000 x 10 A; 1.6 and 2.5 ohm: 2 x 50 / 1,000 x 10 x 0.9.
    ("sixty foot cord at two and a half ohms per thousand feet with ten amps, out and back, volts lost", 3.0, "V", ""),
    ("the thin cord is two and a half ohms per thousand feet, the heavy one one point six, fifty feet, ten amps, how many volts better is the heavy one", 0.9, "V", ""),
    ("one eighteen at the outlet and the cord loses five percent, what volts reach the coach", 112.1, "V", ""),
    ("the cord drops four volts at eight amps, what does it drop at twelve", 6.0, "V", ""),
    # (1.2 - 0.5) x 10 = 7 gal x 4.
    ("genny burns half a gallon an hour, idling the engine 1.2, ten hours, fuel four dollars a gallon, which is cheaper and by how much", 28.0, "dollars", "generator is cheaper"),
    ("generator half a gallon an hour against the engine idling at one gallon an hour, nine hours, how many gallons less", 4.5, "gal", "generator is cheaper"),
    # 0.5 x 12 x 4.50 = 27 against 40.
    ("shore plug is forty dollars a night or the genny for twelve hours at half a gallon an hour, four fifty a gallon, which is cheaper", 13.0, "dollars", "generator is cheaper, by 13 dollars"),
    ("diesel four fifty here, four twenty nine in the next town, buying a hundred gallons, what do i save", 21.0, "dollars", "4.29 is cheaper"),
    ("i have two hundred dollars to spend and diesel is four dollars, how many gallons do i get", 50.0, "gal", ""),
    ("paid three hundred fifteen for seventy five gallons, what was that a gallon", 4.2, "dollars", ""),
    ("tank holds a hundred sixty gallons and is at a quarter, cost to fill it at four dollars even", 480.0, "dollars", "120 gallons"),
    ("burned fifty gallons over three hundred twenty miles, what is she getting", 6.4, "mpg", ""),
    ("driven five and a quarter of my ten, how much driving is left", 4.75, "h", "4 h 45 min of driving left"),
    ("drove four hours, sat an hour at the rink, drove two more, ten hour limit, driving left", 4.0, "h", ""),
    ("ive driven four hours of my eleven hour rule, how much driving is left", 7.0, "h", "With passengers the rule is 10 hours"),
    ("bus rules fifteen on duty, been on nine and a half straight, duty hours left", 5.5, "h", ""),
    ("passenger rule ten hours driving, trip is six hours, drove two hours already, can i finish it", 8.0, "h", "Yes"),
    ("fourteen hour window, started at six am, when does it shut", 14.0, "h", "20:00"),
    ("shut down at ten thirty pm, need eight hours, when is the earliest i can roll", 8.0, "h", "06:30"),
    ("me four hours left, my partner three thirty, total driving we have got", 7.5, "h", ""),
    ("gotta be at the rink by five pm, six hours ten with the stops in, same time zone, when do we leave", 6 + 1 / 6, "h", "10:50"),
    ("be there by six pm, five hours, one hour sit down in it already, when do we leave", 5.0, "h", "13:00"),
    ("doors at eight pm eastern and we start from central, seven hours all in, what time on my central clock must we leave", 7.0, "h", "12:00"),
    ("bus call is seven am, nine hours to go, one hour for food, arrive when", 10.0, "h", "17:00"),
    ("run fifty instead of sixty over three hundred miles, how much longer", 1.0, "h", "longer"),
    ("charger six amps, fridge two n a half, tape three, what does it all come to in amps", 11.5, "A", ""),
    ("need ninety amp hours tonight and there is a hundred ten usable, enough", 20.0, "Ah", "Yes"),
    ("axle is eighteen thousand, i lift one side, how many tons of jack do i need", 9000.0, "lb", "4.5 tons"),
    ("how many pounds is a twelve ton jack good for", 24000.0, "lb", ""),
    # 500 lb-ft = 677.9 N·m (NIST Handbook 44).
    ("nuts want five hundred foot pounds, my wrench stops at six hundred newton meters, will it reach", 677.9, "N·m", "No"),
    ("four foot bar and i need five hundred foot pounds, how hard do i pull", 125.0, "lb", ""),
    ("i weigh two hundred, standing on a two foot bar, foot pounds", 400.0, "lb-ft", ""),
    ("placard one ten, flat means under eighty percent, what psi is that", 88.0, "psi", ""),
    ("front axle fourteen two, drive axle twenty one six, tag nine four, all thousands of pounds, total", 45200.0, "lb", ""),
    ("steers thirteen two, drives nineteen four, tag eight six, total on the scale", 41200.0, "lb", ""),
    ("axles read fourteen thousand, twenty one thousand five hundred and nine thousand, drive included, total for steer drive and tag", 44500.0, "lb", ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), ROWS)
def test_each_amount_has_its_place(text: str, value: float, unit: str, verdict: str, coach: Coach) -> None:
    found = told(text, coach)
    assert found is not None
    assert (found.value, found.unit) == (pytest.approx(value, rel=0.002), unit)
    assert verdict in found.verdict


@pytest.mark.parametrize(
    "text",
    [
        # What was worked is no limit, and rest is none either.
        "fifteen hours on duty only eight of it driving, can i still drive",
        "drove six on duty nine since my eight off, hours of driving left",
        # Whether a rest counts on duty is another question.
        "fifteen hour duty limit, on duty ten hours with two hours off in the middle, duty hours left",
        # A detour costs what nobody told.
        "four fifty here and four twenty nine ten miles off, eighty gallons, what do i save",
        # One engine, or nothing to set it against.
        "generator half a gallon an hour, ten hours, how many gallons less",
        "scale says thirty four thousand four hundred on the tandem, limit thirty four thousand, how many gallons of waste do i dump",
        # So many of them.
        "two fans at three amps and a charger at six amps, total amps",
        "leave at seven averaging sixty, what time do we get in",
    ],
)
def test_what_lacks_a_place_is_left_to_others(text: str, coach: Coach) -> None:
    assert told(text, coach) is None


def test_an_hour_without_its_half_of_the_day_is_told_both_ways(coach: Coach) -> None:
    found = told("we leave at half past six and it's five hours straight, what time do we get in", coach)
    assert found is not None
    assert "11:30" in found.verdict
    assert "23:30" in found.verdict


def test_hours_driven_are_asked_for(coach: Coach) -> None:
    text = "came on at five this morning how many more hours can i drive under the ten hour rule"
    assert plainly_asked(read_question(text)) == ("driving-hours", "How many hours have you driven since then?")


def test_the_way_is_asked_for_where_only_the_speed_is_told() -> None:
    found = plainly_asked(read_question("how many hours to the rink at sixty"))
    assert found == ("driving-hours", "How far is it, in miles?")
    assert plainly_asked(read_question("how many hours to the rink at sixty, it is ninety miles")) is None


@pytest.mark.parametrize(
    ("text", "value", "unit", "verdict"),
    [
        (
            "put fifty gallons in at four ten a gallon and another twenty at three ninety, what did i spend",
            283.0,
            "dollars",
            "",
        ),
        ("genny burns half a gallon an hour, ten hours, what does it cost at four even", 20.0, "dollars", "5 gallons"),
        ("ten amps for six hours then five amps for four hours, how many amp hours", 80.0, "Ah", ""),
        (
            "charger ten amps, fridge four, microwave twelve, can they all run on a thirty at eighty percent",
            26.0,
            "A",
            "No",
        ),
        ("one twenty two at the post and one fifteen in the coach, how many volts gone", 7.0, "V", ""),
        (
            "ten hour passenger limit and i drove two forty before the rink and five ten after, how much driving is left",
            10 - 7 - 50 / 60,
            "h",
            "",
        ),
    ],
)
def test_lists_and_two_of_a_kind(text: str, value: float, unit: str, verdict: str, coach: Coach) -> None:
    found = told(text, coach)
    assert found is not None
    assert (found.value, found.unit) == (pytest.approx(value, rel=0.002), unit)
    assert verdict in found.verdict


def test_a_strict_answer_is_not_called_doubtful(coach: Coach) -> None:
    found = work_out("diesel three ninety nine, taking eighty gallons, four nineteen next door, what do i save", (), coach=coach, stored=(), now=NOW)  # fmt: skip
    assert found is not None
    assert say(found).startswith("16 dollars. 3.99 is cheaper")


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("its a fifteen no a twenty amp breaker, seven amps on", [20, 7]),
        ("twenty amp outlet, make that thirty, seven amps on", [30, 7]),
        ("three hundred miles at sixty no call it fifty", [300, 50]),
        ("forty bags at fifty no make that thirty six bags at fifty pounds", [36, 50]),
        ("forty pounds, no twenty pound bottle", [40, 20]),
        ("need eighty gallons at four nineteen, what does it cost", [80, 4.19]),
        ("from four fifteen to six thirty on the genny, what does it cost at four ten a gallon", [415, 630, 4.1, 1]),
    ],
)
def test_what_is_put_right_and_prices_in_words(text: str, values: list[float]) -> None:
    assert [one.value for one in read_question(text).amounts] == pytest.approx(values)


def test_fifteen_hours_on_duty_are_no_fifteen_at_the_wheel(coach: Coach) -> None:
    """49 CFR 395.5: ten hours of driving, none after the fifteenth on duty."""
    worked = work_out(
        "how many hours can i drive if i came on duty at four this afternoon", (), coach=coach, stored=(), now=NOW
    )
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == 10.0
    assert "none after 07:00" in worked.estimate.verdict
