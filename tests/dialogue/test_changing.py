"""Changes of the last sum that name a thing, and a change put right. Sentences are our own; the numbers are worked out beside them."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _value(talk: Conversation, words: str) -> float | None:
    estimate = talk.say(words).estimate
    return estimate.value if estimate is not None else None


def test_a_load_is_added_by_its_name_and_taken_off_again(talk: Conversation):
    """1,200 W and 600 W at 120 V: 10 A, 15 A; against 80 % of a 20 A breaker; and 10 A once the kettle is off."""
    assert _value(talk, "what does a twelve hundred watt microwave draw at 120 volts") == pytest.approx(10)
    assert _value(talk, "and with a six hundred watt kettle on top") == pytest.approx(15)
    against = talk.say("will a twenty amp breaker hold that all night")
    assert against.say.startswith("Yes.")
    assert _value(talk, "what if I leave the kettle off") == pytest.approx(10)


def test_what_is_too_much_for_a_breaker_is_said(talk: Conversation):
    """1,500 W and 700 W at 120 V are 18.3 A; 16 A are allowed on a 20 A breaker for hours on end."""
    talk.say("what does a 1500 watt heater pull on 120 volts")
    talk.say("plus a 700 watt toaster")
    assert talk.say("can a 20 amp breaker take it all night").say.startswith("No.")


def test_two_of_them_take_half_as_long(talk: Conversation):
    """30 lb × 21,548 BTU/lb ÷ 40,000 BTU/h = 16.2 h; two furnaces 8.1 h, half the time 16.2 h again; 40 lb more 37.7 h."""
    talk.say("inside bottle's at three quarters")
    assert _value(talk, "how long does that run one forty thousand BTU furnace flat out") == pytest.approx(
        16.16, rel=0.01
    )
    assert _value(talk, "and two of them?") == pytest.approx(8.08, rel=0.01)
    assert _value(talk, "what if they only run half the time") == pytest.approx(16.16, rel=0.01)
    talk.say("outside cylinder is full")
    assert _value(talk, "how long on both bottles then") == pytest.approx(37.7, rel=0.01)


def test_showers_told_as_a_list_and_for_other_heads(talk: Conversation):
    """15 × 2 min × 2 gal/min = 60 gal; for 20, 80 gal; a quarter of 120 gal is aboard, so 50 gal more."""
    talk.say("fresh is at a quarter")
    assert _value(talk, "fifteen showers, two minutes each, two gallons a minute") == pytest.approx(60)
    assert _value(talk, "and if it's twenty people?") == pytest.approx(80)
    assert _value(talk, "so how much do I have to put in") == pytest.approx(50)


@pytest.mark.parametrize(
    ("question", "change", "correction", "value"),
    [
        ("driven five hours, on duty nine, how long can I still drive", "and if I'd driven six?", "no wait, it was seven", 3.0),
        ("80 gallons of diesel at 6 miles a gallon, how far", "what if it's five and a half", "no, five", 400.0),
    ],
)  # fmt: skip
def test_a_change_is_put_right(talk: Conversation, question: str, change: str, correction: str, value: float):
    """The amount just changed is meant, whatever else is of its kind. 10 - 7 hours; 80 × 5 miles."""
    talk.say(question)
    talk.say(change)
    assert _value(talk, correction) == pytest.approx(value)


def test_a_correction_of_a_change_stores_no_reading(talk: Conversation):
    """ "Sorry, twenty six" means the heads of the sum, not the level told before it."""
    talk.say("waste is at forty percent")
    talk.say("thirty people, a gallon and a half each a day, when's it full")
    talk.say("what if it's twenty four people")
    reply = talk.say("sorry, twenty six")

    assert reply.kind == "calculation"
    assert reply.readings == ()
    assert reply.withdrawn == ()


@pytest.mark.parametrize("words", ["turn the furnace off", "both", "no, five", "two of them are asleep"])
def test_without_a_sum_nothing_is_changed(talk: Conversation, words: str):
    """They are looked at by others."""
    assert talk.say(words).kind != "calculation"


def test_what_was_worked_out_is_poured_not_the_whole_tank(talk: Conversation):
    """38 × 2 = 76 gal; for 30 people 60 gal, which take 10 minutes at 6 a minute; a full tank would take 20."""
    assert _value(talk, "thirty eight showers at two gallons each") == pytest.approx(76)
    assert _value(talk, "what if only thirty of them shower") == pytest.approx(60)
    assert _value(talk, "how long does that take to put in at six a minute") == pytest.approx(10)


def test_a_dose_for_half_a_tank(talk: Conversation):
    """Half the water takes half the bleach."""
    whole = _value(talk, "120 gallons at 50 ppm, how much five percent bleach")
    half = _value(talk, "and for half of that")

    assert whole is not None
    assert half == pytest.approx(whole / 2, rel=0.01)


@pytest.mark.parametrize("words", ["and a hundred and ten", "with forty gallons more", "both of those together"])
def test_what_goes_on_with_a_sum_is_stored_as_no_level(talk: Conversation, words: str):
    """A wrong level on record is worse than a question."""
    talk.say("fresh at eighty gallons and waste at twenty gallons")
    talk.say("what do eighty gallons of water weigh")

    assert talk.say(words).readings == ()
    assert [held.reading.value for held in talk.state.stored] == [80.0, 20.0]


def test_the_speed_of_a_trip_is_changed_and_its_end_told(talk: Conversation):
    """240 mi ÷ 60 = 4 h, ÷ 50 = 4.8 h; from seven that is 11:48."""
    assert _value(talk, "leaving at seven, two hundred forty miles at sixty") == pytest.approx(4)
    assert _value(talk, "make it fifty miles an hour") == pytest.approx(4.8)
    assert "11:48" in talk.say("what time does that get us in").say


def test_a_rate_is_put_right_before_anything_was_changed(talk: Conversation):
    """30 ÷ 3 = 10 h."""
    talk.say("how long will thirty gallons last at two an hour")
    assert _value(talk, "no sorry, three an hour") == pytest.approx(10)


def test_the_tank_changes_and_not_the_rule(talk: Conversation):
    """A quarter cup for every 15 gallons: 1 cup for 60, 1.5 for 90."""
    assert _value(
        talk, "mix is a quarter cup of bleach for every fifteen gallons, tank holds sixty. how many cups"
    ) == pytest.approx(1)
    assert _value(talk, "make it ninety gallons") == pytest.approx(1.5)


def test_a_price_and_a_furnace_that_cycles_are_asked_again_with_another_amount(talk: Conversation):
    """9 and 10 gallons at $4.20; 30,000 BTU/h a third of the time for 10 and 12 hours."""
    assert _value(talk, "propane's four twenty a gallon here and i need nine gallons, what do i pay") == pytest.approx(
        37.8
    )
    assert _value(talk, "what about ten gallons") == pytest.approx(42)
    assert _value(
        talk, "furnace on nine minutes off eighteen, thirty thousand btu, how many pounds in ten hours"
    ) == pytest.approx(4.641, rel=1e-3)
    assert _value(talk, "what if it's twelve hours") == pytest.approx(5.569, rel=1e-3)
