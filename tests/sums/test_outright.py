"""Calculations asked for outright, in drivers' words. Expected values by hand from the source named above each group."""

from __future__ import annotations

import math

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from tests.dialogue.conversation import NOON, Conversation


def said(mind: Mind, text: str) -> Reply:
    return take_turn(State(), text, mind=mind, now=NOON).reply


# Lumped cooling (Incropera): hours to 32 °F = m c ÷ loss x ln((start - air) ÷ (32 - air)); the demo coach's fresh tank holds
# 120 gal in bay 3 and loses 4.5 W/K, its waste tank 80 gal in bay 4 and 4.0 W/K; 40 °F to begin with is common practice, no source.
GALLON_KG = 3.785411784


def cooling(gallons: float, loss: float, start: float, air: float, limit: float = 32.0) -> float:
    return gallons * GALLON_KG * 4186.8 / loss / 3600 * math.log((start - air) / (limit - air))


FREEZING = (
    ("how long until the water in bay 3 freezes at minus 20 with the heat off", cooling(60, 4.5, 40, -20)),
    ("heat's out in bay four and it's minus 29 celsius, when does the water in there freeze", cooling(40, 4.0, 40, -20.2)),
    ("bay 3 at 8 celsius, minus 29 celsius outside, how long until the bay freezes", cooling(60, 4.5, 8, -29, 0)),
    ("furnace is dead and it's ten below, how long till the fresh tank freezes", cooling(60, 4.5, 40, -10)),
    ("fresh tank at 60 percent, 4 celsius water, minus 25 c outside and unplugged, hours until it freezes", cooling(72, 4.5, 4, -25, 0)),
    # a bay of its own loss: 80 ÷ 20 h x ln(55 ÷ 37)
    ("the bay loses 20 btu an hour per degree and holds 80 btu per degree, it's at 50 and 5 below outside, when does the bay freeze", 4 * math.log(55 / 37)),
)  # fmt: skip


@pytest.mark.parametrize(("text", "hours"), FREEZING)
def test_hours_until_water_freezes(mind: Mind, text: str, hours: float):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(hours, rel=0.01), "h")


def test_a_tank_nobody_has_read_has_a_wide_range(mind: Mind):
    """The time goes with the water: a quarter to full, and the loss right within 20 %."""
    estimate = said(mind, "how long until bay 3 freezes at minus 20 with no heat").estimate

    assert estimate is not None
    assert estimate.low is not None
    assert estimate.high is not None
    assert estimate.low < cooling(30, 4.5, 40, -20) < cooling(120, 4.5, 40, -20) < estimate.high
    assert any("nobody has read" in line for line in estimate.assumptions)


def test_a_hose_freezes_alike_at_every_length(mind: Mind):
    short = said(mind, "ten foot of half inch hose at 40 degrees, five below, how long until the hose freezes").estimate
    long = said(mind, "50 foot of half inch hose at 40 degrees, five below, how long until the hose freezes").estimate

    assert short is not None
    assert long is not None
    assert short.value == long.value


def test_a_bay_without_water_gets_no_number(mind: Mind):
    estimate = said(mind, "bay 5, minus 10, how long until it freezes").estimate

    assert estimate is not None
    assert estimate.value is None
    assert "no tank in bay 5" in estimate.verdict


def test_which_bay_is_asked(mind: Mind):
    talk = Conversation(mind)

    assert talk.say("the bays are at 45 and it's 10 below, heat's off, when do the bays freeze").say.startswith(
        "Which bay?"
    )
    estimate = talk.say("bay 3").estimate
    assert estimate is not None
    assert estimate.value == pytest.approx(cooling(60, 4.5, 45, -10), rel=0.01)


# 49 CFR 395.1(g)(3): two periods in the berth of 8 hours in all, neither under 2; driving before and after a rest 10 hours at most,
# on duty 15 (how to count is from memory); 395.5(a): 8 hours in a row begin anew.
SPLITS = (
    ("seven in the berth, drove four before and three after, how long can I drive", 3, "with another of at least 2"),
    ("berth 6 and 2, drove 5 before the two and 2 after, on duty 7 before and 3 after, how much driving left", 3, "A valid split"),
    ("drove 4 hours, 5 in the sleeper, drove 3 hours, 3 in the sleeper, how much driving do I have left", 7, "end of the first rest"),
    ("2 in the bunk and 6 in the bunk with 5 hours driving between and 2 after, what can I still drive", 3, "A valid split"),
    ("nine hours in the berth, drove 6 before, 2 after, how long can I still drive", 8, ""),
    ("split sleeper 4 and 3, drove 3 before and 2 after, how much left", 5, "Not a valid split: 7 hours"),
    ("6.5 in the berth and 1.5 in the berth, drove 3 before and 4 after, how much driving left", 3, "1.5 hours is under 2"),
    ("seven hours in the sleeper berth with four driving before it and two after it how long may i drive", 4, ""),
    ("on duty ten before and four after a six hour berth, drove 5 before and 2 after, how much driving is left", 1, ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "hours", "word"), SPLITS)
def test_driving_left_around_the_berth(mind: Mind, text: str, hours: float, word: str):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert estimate.value == pytest.approx(hours)
    assert word in estimate.verdict


def test_one_of_several_stretches_is_not_changed_by_itself(mind: Mind):
    talk = Conversation(mind)
    talk.say("seven in the berth, drove four before and three after, how long can I drive")

    assert talk.say("what if I drove five before").estimate is None


# 29 CFR 1910.244(a): the rating must be marked and enough; a short ton is 2,000 lb.
JACKS = (
    ("can a 12 ton jack lift an axle of 22,000 pounds", 24000, 2000, "Yes, by its rating."),
    ("jack says 10 tons, axle weighs 24000 lb", 20000, -4000, "One side is about half, 12,000 lb: within the rating."),
    ("is a 5 ton jack enough for one side of a 13000 lb axle", 10000, 3500, "the whole axle at once is too much"),
    ("will a six ton jack pick up one side of the tag axle, axle scales 11,400", 12000, 6300, "Yes, by its rating."),
    ("my jack's rated 4 tons and there's 9000 pounds on that corner, ok?", 8000, -1000, "No."),
)


@pytest.mark.parametrize(("text", "rated", "left", "word"), JACKS)
def test_what_a_jack_may_lift(mind: Mind, text: str, rated: float, left: float, word: str):
    reply = said(mind, text)
    estimate = reply.estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(rated), "lb")
    assert estimate.also[0].value == pytest.approx(left)
    assert word in estimate.verdict
    assert "Never go under a load on jacks alone." in reply.say


def test_a_jack_without_its_rating_is_not_used(mind: Mind):
    estimate = said(mind, "jack has no mark, can I lift with it").estimate

    assert estimate is not None
    assert estimate.value is None
    assert estimate.verdict.startswith("Do not use it")


def test_who_goes_under_gets_no_number(mind: Mind):
    assert said(mind, "can I crawl under with the 12 ton jack holding a 20,000 pound axle").estimate is None


def test_the_weight_of_the_axle_is_asked(mind: Mind):
    talk = Conversation(mind)

    assert talk.say("can a 12 ton jack lift the drive axle").kind == "clarify"
    estimate = talk.say("23,500").estimate
    assert estimate is not None
    assert estimate.also[0].value == pytest.approx(500)


def test_a_jack_is_inspected_every_six_months(mind: Mind):
    """29 CFR 1910.244(a)(2)(vi); NOON is in January 2026."""
    estimate = said(mind, "the jack was inspected on october 10 2025, when is it due").estimate

    assert estimate is not None
    assert "10 April 2026" in estimate.verdict


# The order is common practice, no source: least left first, the spare on its rack last.
ORDERS = (
    ("outside is a quarter and inside is half, which bottle do I run first", "Run from the outside cylinder."),
    ("which bottle should I burn from first, curb side's full and street side is at a third", "Run from the street-side cylinder."),
    ("what order should I run the propane bottles in, outside 12 pounds, inside 30 pounds, spare 5 pounds", "Then the spare."),
    ("which cylinder do I use first", "The one with least left first"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "word"), ORDERS)
def test_the_order_of_the_cylinders(mind: Mind, text: str, word: str):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert estimate.value is None
    assert word in estimate.verdict


def test_the_order_has_hours_when_the_cold_is_known(mind: Mind):
    """10 lb x 21,548 BTU/lb (NFPA 58) over the coach's burn at -10 °F, as the propane sums have it."""
    talk = Conversation(mind)
    talk.say("outside bottle quarter, inside half, ten below")
    first = talk.say("which cylinder do I use first").estimate

    assert first is not None
    assert first.value is not None
    assert {one.name: one.value for one in first.also}["inside"] == pytest.approx(2 * first.value)


# A cylinder is called by its legal fill, 42 % of its water weight (29 CFR 1910.110); 4.24 lb/gal (trade figure).
FILLS = (
    ("how much can I legally put in a 40 pound cylinder", 40, "lb"),
    ("what's the maximum fill for a 30 lb propane bottle in gallons", 30 / 4.24, "gal"),
    ("80 percent of a 40 pound cylinder, is that all they can put in", 40, "lb"),
    ("how much propane may legally go in one of our cylinders", 40, "lb"),
    # 100 x 42 ÷ (0.510 x 1.031 x 100), the example of 29 CFR 1910.110(b)(19)
    ("100 gallon propane container, gravity .510, liquid at 40 degrees, what's the most I can fill", 79.88, "gal"),
)


@pytest.mark.parametrize(("text", "value", "unit"), FILLS)
def test_the_legal_fill(mind: Mind, text: str, value: float, unit: str):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(value, rel=0.002), unit)


def test_propane_runs_out_over_a_changing_forecast(mind: Mind):
    """By hand: 30 lb x 21,548 BTU/lb, from noon at -5 °F until 06:00, then at -20 °F; 283.2 BTU/h for each °F to 66 °F inside
    (240 + 1.08 x 40 cfm), less 70 W a person, over 0.78."""
    people = mind.coach.people.usual_passengers * 70 * 3.412142
    tonight, tomorrow = (((66 - air) * 283.2 - people) / 0.78 for air in (-5, -20))
    hours = 18 + (30 * 21548 - 18 * tonight) / tomorrow

    found = said(mind, "minus 5 tonight and minus 20 tomorrow, 30 pounds left, when does it run out").estimate

    assert found is not None
    assert found.value == pytest.approx(hours, rel=0.01)


def test_colder_ahead_never_lasts_longer(mind: Mind):
    mild, cold = (
        said(mind, f"30 pounds of propane, 10 above today and {air} below tomorrow, how long does it last").estimate
        for air in (5, 25)
    )

    assert mild is not None
    assert cold is not None
    assert mild.value is not None
    assert cold.value is not None
    assert cold.value < mild.value


# EIA 2021: 137,381 BTU/gal of diesel; NFPA 58: 91,502 BTU/gal and 21,548 BTU/lb of propane.
HEATS = (
    ("how many btu in 5 gallons of diesel", 5 * 137381, "BTU"),
    ("btu in a gallon of diesel", 137381, "BTU"),
    ("how much heat is in 9 gallons of propane", 9 * 91502, "BTU"),
    ("how much heat in 20 pounds of propane", 20 * 21548, "BTU"),
    ("kwh in 20 litres of diesel", 20 / 3.785411784 * 137381 * 1055.056 / 3.6e6, "kWh"),
    # 24,000 ÷ 0.78
    ("furnace 78 percent efficient and we lose 24,000 btu an hour, what does it burn", 30769, "BTU/h"),
    # 675 x 24 x 5,000 (article using EIA factors)
    ("the coach loses 675 btu an hour per degree and the winter has 5000 degree days, how many btu is that", 81e6, "BTU"),
    ("loss is 675 btu/h per degree, 40 degree days, 78 percent furnace, how many gallons of propane", 675 * 24 * 40 / 0.78 / 91502, "gal"),
    # 5 x 0.25 + 0.5
    ("everybody flushes 5 times a day at a quarter gallon and uses half a gallon at the basin, how much waste does one person make a day", 1.75, "gal/day"),
    # 35 x 28.01 ÷ 24.45
    ("35 ppm in mg per cubic meter", 40.1, "mg/m³"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit"), HEATS)
def test_heat_and_habits(mind: Mind, text: str, value: float, unit: str):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (pytest.approx(value, rel=0.002), unit)


# EPA 2017: a minute, three above 5,000 ft (1,524 m).
BOILS = (
    ("how long do I boil water to drink it", 1),
    ("town has a boil order, how many minutes do I boil it", 1),
    ("how long to boil drinking water at 7000 feet", 3),
    ("boil water notice here, altitude 1,900 m, how long must it boil", 3),
    ("how many minutes do I boil tap water to make it safe at 900 metres", 1),
)


@pytest.mark.parametrize(("text", "minutes"), BOILS)
def test_minutes_of_boiling(mind: Mind, text: str, minutes: float):
    estimate = said(mind, text).estimate

    assert estimate is not None
    assert (estimate.value, estimate.unit) == (minutes, "min")


NOT_ASKED = (
    "how do I keep the hose from freezing",
    "where is the 12 ton jack kept",
    "which cylinder do I fill first",
    "how do I jack up the coach",
    "which tank do i dump first",
)


@pytest.mark.parametrize("text", NOT_ASKED)
def test_what_asks_for_no_number_gets_none(mind: Mind, text: str):
    assert said(mind, text).kind != "calculation"
