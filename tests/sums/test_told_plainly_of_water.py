"""Questions whose words place every amount; every figure here is worked out by hand (arithmetic, no source needed) unless one is named."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB, LB_PER_GAL
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.told_plainly import told_plainly
from cabassist.sums.working import work_out

NOW = datetime(2026, 1, 15, 10, 0, tzinfo=UTC)


def told(text: str, coach: Coach) -> tuple[float, str, str]:
    found = told_plainly(read_question(text), coach, NOW)
    assert found is not None
    assert found[1].value is not None
    return found[1].value, found[1].unit, found[1].verdict


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        # So much for every so much.
        ("mix is a quarter cup of bleach for every fifteen gallons, tank holds sixty. how many cups", 1.0, "cup"),
        ("rule's half a cup per thirty gallons, the hundred twenty gallon tank is three quarters full, how much bleach", 1.5, "cup"),
        ("card says an ounce of bleach for eight gallons, it's minus ten out, ninety six gallons in her. how many ounces", 12.0, "floz"),
        ("half a gallon of the pink stuff per trap and there's seven traps, how many gallons", 3.5, "gal"),
        ("eight taps at a quarter gallon of rv antifreeze and two gallons for the pump. how many gallons", 4.0, "gal"),
        ("pink stuff comes in one gallon jugs, i need a quarter gallon for each of eleven taps. how many jugs", 3.0, "jugs"),
        # Prices.
        ("propane's four twenty a gallon here and i need nine gallons, what do i pay", 37.8, "dollars"),
        ("we need fourteen gallons of propane at three sixty five, what's the bill", 51.1, "dollars"),
        ("two bottles twenty pounds short each, propane is four ten a gallon. what does the fill cost", 40 / LB_PER_GAL * 4.1, "dollars"),
        ("thirty pounds of propane at a dollar ten a pound, what's that cost", 33.0, "dollars"),
        ("propane here 3.89 down the road 4.29, i need fourteen gallons, how much do i save here", 5.6, "dollars"),
        # Minutes on and off.
        ("furnace runs twelve minutes out of every hour, what percent of the time is it on", 20.0, "percent"),
        ("burner on nine minutes then off six, what's the duty in percent", 60.0, "percent"),
        ("runs ten minutes of every twenty five what percent is that for the furnace", 40.0, "percent"),
        ("thirty thousand btu furnace, on ten minutes off twenty, how many pounds in a twelve hour night", 120_000 / BTU_PER_LB, "lb"),
        # From the top down.
        ("six inches of air above the waste, tank is twenty four deep and holds a hundred gallons. it rises three gallons an hour. how many hours left", 25 / 3, "h"),
        ("fresh tank is thirty inches deep and holds ninety, the water's ten inches down from the top. how many gallons in it", 60.0, "gal"),
        ("three inches of room left in the waste, it's fifteen deep and fifty gallons, how many gallons before it's full", 10.0, "gal"),
        ("nine inches of space on top, tank thirty six inches hundred twenty gallons, hose gives five a minute, how long to fill", 6.0, "min"),
        # In and out together.
        ("fresh has thirty gallons of a hundred twenty. hose runs five a minute but somebody is using one a minute. how long till it's full", 22.5, "min"),
        ("120 gallon tank, 30 gallons in it, 4 gal/min hose, 0.5 gal/min leak, minutes to full", 90 / 3.5, "min"),
        ("two hoses at three gallons a minute each, hundred and twenty gallons, how long to fill from empty", 20.0, "min"),
        # Showers.
        ("how long can we run the shower on forty two gallons at one point four a minute", 30.0, "min"),
        ("shower runs a gallon and a half a minute, how many gallons is a six minute shower", 9.0, "gal"),
        ("seventy two gallons and twelve people, shower is one and a half a minute, how long can each one stand in it", 4.0, "min"),
        ("we got ninety gallons for eighteen people how much is that each", 5.0, "gal"),
        # The scale.
        ("empty weight thirty four, scale says fifty two, holds forty full. how many pounds will it take to fill", 22.0, "lb"),
        ("tare is 35, it weighs 55 now, and a full one has forty pounds in it. how many gallons to fill it", 20 / LB_PER_GAL, "gal"),
        ("bottle's thirty four empty and fifty four now, full is forty pounds. what percent full", 50.0, "percent"),
        ("two cylinders, seventy and fifty one on the scale, both thirty five empty. how many pounds of propane altogether", 51.0, "lb"),
        # Twice as fast.
        ("we burn a pound and a half an hour, if the cold doubles it how many hours do sixty pounds last", 20.0, "h"),
        ("at zero we burn one pound an hour and at twenty below it's double. thirty six pounds left. how many fewer hours at twenty below", 18.0, "h"),
        ("we burn one pound an hour at zero and double at minus twenty. forty pounds. how many hours at zero", 40.0, "h"),
        ("we burn one pound an hour at zero and double at minus twenty. forty pounds. how many hours at minus twenty", 20.0, "h"),
        ("how many pounds of propane for six hundred thousand btu", 600_000 / BTU_PER_LB, "lb"),
        # Pads and tapes.
        ("how many watts is three sixty watt pads and a hundred watt tape", 280.0, "W"),
        ("two heat tapes six watts a foot, twelve feet each, how many watts", 144.0, "W"),
    ],
)  # fmt: skip
def test_the_words_place_every_amount(text: str, value: float, unit: str, coach: Coach) -> None:
    found = told(text, coach)

    assert found[1] == unit
    assert found[0] == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "value", "verdict"),
    [
        ("thirty pounds left, sixteen hours to go, we burn 1.5 pounds an hour. how much will we use and is it enough", 24.0, "Yes"),
        ("we burn two pounds an hour, fifteen hours before the fill, twenty five pounds aboard. pounds needed and do we make it", 30.0, "No"),
        ("tank needs ninety watts and i've two pads of fifty. is that enough and how much over", 100.0, "Yes"),
        ("will two forty watt pads be enough if the tank needs a hundred watts", 80.0, "No"),
        ("forty people two gallons a day, fresh is a hundred fifty. is that enough for two days and how much do we need", 160.0, "No"),
    ],
)  # fmt: skip
def test_the_need_is_told_with_the_verdict(text: str, value: float, verdict: str, coach: Coach) -> None:
    found = told(text, coach)

    assert found[0] == pytest.approx(value)
    assert found[2].startswith(verdict)


def test_as_much_out_as_in_never_fills(coach: Coach) -> None:
    text = (
        "forty gallons to go, hose gives two a minute and the shower takes two a minute, how long till the tank is full"
    )

    assert told(text, coach)[2].startswith("It never fills")


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("how many btu in twenty five pounds of propane at 21,500 a pound", 25 * BTU_PER_LB, "BTU"),
        ("a thirty thousand btu furnace running flat out, how many pounds an hour does it use at 21,591 btu a pound", 30_000 / BTU_PER_LB, "lb/h"),
        ("how many gallons is sixty pounds of propane at four point two four pounds to the gallon", 60 / LB_PER_GAL, "gal"),
        ("a gallon of propane weighs 4.24 pounds so how many pounds in six and a half gallons", 6.5 * LB_PER_GAL, "lb"),
    ],
)  # fmt: skip
def test_a_figure_of_a_rule_is_no_amount(text: str, value: float, unit: str, coach: Coach) -> None:
    found = work_out(text, (), coach=coach, stored=(), now=NOW)

    assert found is not None
    assert found.estimate is not None
    assert found.estimate.value is not None
    assert (found.estimate.unit, found.estimate.value) == (unit, pytest.approx(value, rel=1e-3))


def test_a_burner_that_was_not_told_is_said_to_burn_all_the_time(coach: Coach) -> None:
    found = work_out(
        "bottle's at half how many hours of heat is that", (("propane-hours", 0.9),), coach=coach, stored=(), now=NOW
    )

    assert found is not None
    assert found.estimate is not None
    assert "burning all the time" in found.estimate.verdict


def test_a_price_is_no_figure_of_a_rule() -> None:
    prices = [
        one.value for one in read_question("propane's 4.24 a gallon, i need eleven gallons, what do i pay").amounts
    ]

    assert 4.24 in prices


@pytest.mark.parametrize(
    "text",
    [
        "quarter cup of bleach in, is it enough for ninety gallons",  # no rule
        "furnace on ten minutes, how long till it's warm",  # no off
        "propane's four twenty a gallon, how much is left",  # nothing bought
        "we burn one pound an hour with the door shut, twice that with it open. forty pounds. how many hours with it shut",
        "sixty gallons, hose four a minute, how long",  # nothing runs out
        "bottle weighs fifty five pounds, how much propane",  # no tare
        "ninety gallons and twelve people, how many days",  # no use
    ],
)
def test_what_is_not_all_told_is_left_to_others(text: str, coach: Coach) -> None:
    assert told_plainly(read_question(text), coach, NOW) is None


def test_one_of_several_burners_is_counted_by_its_own_heat() -> None:
    text = "two furnaces, one thirty thousand btu and one twenty five thousand, both on half the time"

    assert [one.value for one in read_question(text).amounts][1:3] == [30_000, 25_000]
