"""What leans on the turn before: units alone, rates told anew, answers that pick nothing, moves told in passing. No source: own wordings."""

from __future__ import annotations

import pytest

from cabassist.dialogue.restating import restated
from cabassist.dialogue.types import Mind
from cabassist.record.defects import open_defects
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind):
    return Conversation(mind)


def test_a_unit_alone_is_no_reading(talk):
    talk.say("diesel is at five eighths")
    reply = talk.say("in liters")
    assert (
        "473 litres" in reply.say
    )  # five eighths of the profile's 200 gallons, 3.785411784 L each: NIST Handbook 44 App. C
    assert reply.readings == ()
    assert talk.state.stored[-1].reading.unit == "fraction"


def test_a_unit_alone_turns_the_last_reading_but_stores_nothing(talk):
    talk.say("diesel is 50 gallons")
    reply = talk.say("and in litres")
    assert "189 litres" in reply.say  # 50 × 3.785411784, NIST Handbook 44 App. C
    assert reply.readings == ()


def test_the_last_number_in_another_unit(talk):
    talk.say("how many litres is 30 gallons")
    reply = talk.say("what's that in quarts")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(120, rel=0.001)  # four quarts a gallon


PAD = "how many watts does a heater need to hold a tank at 4 c when it's minus ten, it loses six watts a degree"


@pytest.mark.parametrize(
    ("said", "watts"),
    [
        ("what if it drops to minus thirty", 204),  # 34 degrees of 6 W, by hand
        ("make it minus five", 54),
        ("and if we wrap it so it only loses three a degree", 42),
        ("what if it loses eight watts a degree", 112),
    ],
)
def test_a_rate_or_the_cold_changed(talk, said, watts):
    talk.say(PAD)
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(watts)


def test_the_weather_told_after_a_sum_is_a_reading(talk):
    talk.say(PAD)
    reply = talk.say("it's minus twelve celsius outside right now")
    assert [(one.what, one.value) for one in reply.readings] == [("outside_temp", -12.0)]


def test_another_scale_is_left_to_the_calculation():
    assert restated(PAD, "what if it's minus four fahrenheit") is None


def test_for_all_of_us(talk):
    talk.say("80 gallons of water, 20 people, 2 gallons each a day, how long")
    reply = talk.say("and for all 40")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(24)  # 80 gallons at 80 a day, by hand


def test_what_is_told_while_choices_stand_picks_nothing(talk):
    assert talk.say("no power").kind == "clarify"
    reply = talk.say("it's fifty one degrees in here by the way")
    assert [(one.what, one.value) for one in reply.readings] == [("inside_temp", 51.0)]


def test_a_choice_by_a_word_that_two_share(talk):
    talk.say("no power")
    assert talk.say("the shore one").topic == "no-shore-power"


def test_a_part_in_order_and_the_next_asked_for(talk):
    talk.say("the furnace clicks but never lights")
    assert talk.say("thermostat looks okay, what's next").step.index == 2


def test_a_danger_over_and_back_in_one_breath(talk):
    talk.say("walk me through dumping the waste tank")
    talk.say("next")
    talk.say("sewage is all over the ground")
    reply = talk.say("that's all mopped up so back to the dumping")
    assert (reply.topic, reply.step.index) == ("dump-waste-tank", 2)


def test_a_refusal_taken_and_on(talk):
    talk.say("how do i thaw a frozen water line")
    assert talk.say("can i use a blowtorch on it").kind == "refuse"
    assert talk.say("fine, no blowtorch, now what").step.index == 2


def test_a_defect_put_down(talk):
    assert talk.say("the left mirror glass is cracked, put that down").kind == "defect"


def test_an_amount_put_right_after_a_supposition(talk):
    talk.say("how far on 40 gallons at six miles a gallon")
    assert talk.say("what if it's 60 gallons").estimate.value == pytest.approx(360)
    reply = talk.say("i mean 50 gallons")
    assert reply.readings == ()
    assert reply.estimate.value == pytest.approx(300)


def test_what_an_amount_was_before_is_not_a_second_amount(talk):
    talk.say("60 gallons, 20 people, 2 gallons each a day, how long does the water last")
    reply = talk.say("wait, it's twenty five people not twenty")
    assert reply.estimate.value == pytest.approx(28.8)  # 60 gallons at 50 a day, by hand


def test_the_reading_told_last_put_right_without_its_name(talk):
    talk.say("waste is at a quarter")
    reply = talk.say("my mistake, it's three quarters")
    assert [(one.what, one.value) for one in reply.readings] == [("waste", 0.75)]
    assert reply.withdrawn


@pytest.mark.parametrize("said", ["filling the water up again", "need to dump the tank"])
def test_the_deed_named_is_not_asked_back(talk, said):
    assert talk.say(said).kind == "procedure"


def test_a_complaint_is_asked_back_all_the_same(talk):
    assert talk.say("the water won't fill").kind != "procedure" or talk.state.walk.topic != "fill-fresh-water"


def test_an_amount_question_in_its_own_walk_is_worked_out(talk):
    talk.say("how do i check the tires")
    reply = talk.say("set to 100 at 60 degrees and now it's 10, what should it read")
    assert (reply.kind, reply.step.index) == ("calculation", 1)


def test_a_defect_is_recorded_while_choices_stand(talk):
    talk.say("no power")
    assert talk.say("the bay light needs a new cover, write that up").kind == "defect"


def test_what_an_amount_was_before_is_no_level(talk):
    talk.say("hang on, it's twenty four people not twenty")
    reply = talk.say("how long till the waste is full then")
    assert reply.estimate is None  # no level was told


def test_a_whole_question_after_a_like_one_is_worked_out_alone(talk):
    talk.say("how long will 30 lb of propane last at 2 lb an hour")
    reply = talk.say("40 lb of propane at 2 lb an hour, how many hours")

    assert reply.estimate is not None
    assert (reply.estimate.value, reply.estimate.unit) == (pytest.approx(20), "h")  # 40 / 2, by hand


def test_an_amount_of_the_same_kind_is_never_added_to_the_last_sum(talk):
    talk.say("40 lb of propane at 2 lb an hour, how many hours")
    reply = talk.say("50 lb then")

    assert reply.estimate is None or reply.estimate.value == pytest.approx(25)  # 50 / 2, never (40 + 50) / 2


def test_who_set_off_an_alarm_asks_for_no_timer(talk):
    reply = talk.say("set off the smoke alarm cooking bacon, all clear now")

    assert "minutes" not in reply.say


def test_a_question_about_another_supply_is_no_answer_to_what_a_sum_waits_for(mind: Mind):
    """Three quarters of waste are not three quarters of propane, above all not with a yes in front."""
    talk = Conversation(mind)
    talk.say("it's 24 below")
    assert talk.say("how long will the propane last").kind == "clarify"
    reply = talk.say("is waste three quarters ok till morning")

    assert reply.topic != "read-propane-gauges"
    assert reply.estimate is None or "propane" not in reply.estimate.name


def test_the_deadline_of_the_water_is_not_given_for_the_propane(mind: Mind):
    """Without the outside temperature there is no time for the propane, and the water's is not said in its place."""
    talk = Conversation(mind)
    for told in ("fresh at two thirds", "outside bottle at a quarter, inside three quarters", "24 aboard"):
        talk.say(told)
    reply = talk.say("when do I have to fill propane")

    assert "Fill fresh" not in reply.say


def test_yes_takes_none_of_several_choices(mind: Mind):
    """It is asked which one."""
    talk = Conversation(mind)
    offered = talk.say("no power")
    assert len(offered.options) > 1
    reply = talk.say("yes")

    assert reply.kind == "control"
    assert talk.state.walk is None
    assert talk.say("2").topic == offered.options[1]


def test_back_after_a_pause_takes_up_the_step_that_was_left(mind: Mind):
    """Who says back is back."""
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say("pause")
    assert talk.say("ok back").step.index == 2


def test_stop_ends_the_walk_and_grades_no_defect(mind: Mind):
    """The grade is that it stops the coach; the bare word is a command."""
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("log a cracked lamp in bay three, left side")
    talk.say("stop")

    assert not any(defect.stops for defect in open_defects(talk.state.record))
