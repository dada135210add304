"""What is said at a step in any words: done, of another step, trouble, a question. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at, number


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("dump the waste tank", 5, "got my rubber hands on"),
        ("dump the waste tank", 9, "screwed it down hard again"),
        ("oil the latches, locks and door springs", 2, "hands covered"),
        ("fill the fresh tank", 1, "the janitor showed me the drinking tap"),
        ("connect shore power", 6, "it's all unrolled"),
        ("dump the waste tank", 17, "shoved it in until it met the stop"),
        ("fill the fresh tank", 20, "closed, and the hose is limp as a noodle"),
        ("I have a flat tire", 6, "all three of them are standing out there behind us"),
    ],
)
def test_a_step_told_done_in_own_words_moves_the_walk(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    reply = talk.say(said)
    assert reply.kind == "step"
    assert number(talk) == step + 1


def test_what_is_told_is_on_record(mind: Mind):
    talk = at(mind, "dump the waste tank", 5)
    talk.say("got my rubber hands on")
    told = [event for event in talk.events if event.kind == "told-done"]
    assert told[-1].payload == {"topic": "dump-waste-tank", "step": 5, "said": "got my rubber hands on"}


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("dump the waste tank", 6, "handle will not go in, it sticks halfway"),
        ("dump the waste tank", 9, "still screwing it down"),
        ("oil the latches, locks and door springs", 2, "who on earth took the gloves"),
        ("dump the waste tank", 8, "how far do I crack it"),
    ],
)
def test_trouble_and_questions_do_not_move_it(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    talk.say(said)
    walk = next(walk for walk in talk.state.walks if walk.plan)
    assert walk.number == step


@pytest.mark.parametrize(
    "said", ["there's smoke coming out of the bay", "I can smell gas here", "somebody is down and not breathing"]
)
def test_a_danger_at_a_step_is_a_danger(mind: Mind, said: str):
    talk = at(mind, "oil the latches, locks and door springs", 2)
    reply = talk.say(said)
    assert reply.kind in ("hazard", "unknown")
    assert "step 3" not in " ".join(reply.show).lower()


def test_a_wish_with_a_sign_at_a_step_is_refused(mind: Mind):
    talk = at(mind, "dump the waste tank", 12)
    assert talk.say("I just let it run into the ditch").kind == "refuse"


def test_a_reading_is_not_told_by_words(mind: Mind):
    """The step that asks for a figure waits for one."""
    talk = at(mind, "read the propane gauges", 9)
    talk.say("had a good look at the needle")
    assert number(talk) == 9


def test_what_is_like_another_matter_is_only_offered(mind: Mind):
    """Something told at a step loses nobody the place; a yes opens what it is like."""
    talk = at(mind, "fill the fresh tank", 20)
    reply = talk.say("the hose is frozen flat")
    assert reply.kind == "control"
    assert [walk.topic for walk in talk.state.walks] == ["fill-fresh-water"]
    if reply.options:
        assert talk.say("yes").topic == reply.options[0]


def test_nothing_is_skipped_or_stopped_without_a_word_of_leaving(mind: Mind):
    talk = at(mind, "connect shore power", 9)
    talk.say("hey mind your boots on that cord lad")
    assert (number(talk), talk.state.walk is not None and talk.state.walk.skipped) == (9, ())


@pytest.mark.parametrize(
    "said", ["it's spraying all over the ground", "the cap let go and I am wearing it", "brown water is coming up in the shower tray"]
)  # fmt: skip
def test_waste_that_gets_out_during_the_work_is_a_danger(mind: Mind, said: str):
    assert at(mind, "dump the waste tank", 15).say(said).kind == "hazard"


def test_a_smell_that_is_denied_where_it_is_looked_for_ticks_the_step(mind: Mind):
    talk = at(mind, "take out, fill and refit a propane cylinder", 6)
    talk.say("no gas smell down there")
    assert number(talk) == 7
    again = at(mind, "take out, fill and refit a propane cylinder", 6)
    assert again.say("yes it smells of gas down there").kind == "hazard"


def test_a_number_told_in_a_report_takes_no_reading_back(mind: Mind):
    """ "Three in it" is of the triangles in their box, not of the odometer that was told before."""
    talk = Conversation(mind)
    talk.say("odometer 214300")
    talk.say("set out the warning triangles")
    talk.until_step(3)
    talk.say("grabbed the box, three in it")
    assert number(talk) == 4
    assert [one.reading.value for one in talk.state.stored] == [214300]


def test_a_wait_that_is_told_over_is_not_announced_any_more(mind: Mind):
    talk = at(mind, "the furnace will not light", 3)
    assert [timer.topic for timer in talk.state.timers] == ["furnace-will-not-light"]
    talk.say("fan's strong and it blows nice and hot")
    assert number(talk) == 4
    assert not talk.state.timers


def test_who_goes_on_from_a_case_that_is_not_there_waits_for_nothing(mind: Mind):
    talk = at(mind, "start the engine after a night of deep cold", 11)
    assert talk.state.timers
    talk.say("next")
    assert not talk.state.timers


def test_a_wait_that_is_only_passed_is_still_announced(mind: Mind):
    talk = at(mind, "connect shore power", 11)
    while not talk.state.timers:
        talk.say("next")
    assert "I still tell you" in talk.say("next").say
    assert talk.state.timers


def test_things_that_stand_out_there_are_no_weather(mind: Mind):
    talk = at(mind, "I have a flat tire", 6)
    talk.say("three out, the first at ten feet")
    assert not talk.state.stored


def test_trouble_that_a_caution_of_the_step_speaks_of_brings_it_again(mind: Mind):
    talk = at(mind, "load the luggage", 5)
    reply = talk.say("one has a camp stove with a gas cartridge")
    assert number(talk) == 5
    assert "Refuse them." in reply.say


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("inspect the coach before a trip", 22, "we did the brake test already, it all passed"),
        ("inspect the coach before a trip", 7, "she's started, outside and all, pressure is good and no red lights"),
        ("I have a flat tire", 15, "they're all off but the one at the top"),
        ("fill the fresh tank", 10, "let it run on the ground till it ran clear"),
    ],
)
def test_what_holds_a_word_of_something_else_is_told_of_the_step(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    talk.say(said)
    assert number(talk) == step + 1
    assert not talk.state.stored


def test_a_number_in_a_sentence_about_the_work_puts_no_level_right(mind: Mind):
    talk = at(mind, "the toilet will not flush", 8)
    talk.say("the waste is at half")
    talk.say("held it down for a count of five and the flap opens, no water though")
    assert [one.reading.value for one in talk.state.stored if one.reading.what == "waste"] == [0.5]


def test_undo_with_a_remark_takes_back_and_stores_nothing(mind: Mind):
    talk = at(mind, "hand the coach over", 16)
    talk.say("the fresh tank is half full")
    reply = talk.say("no, undo that, I meant we have eleven hours left")
    assert reply.show[0].startswith("Undone")
    assert not talk.state.stored


def test_the_words_that_a_step_tells_to_say_open_their_procedure(mind: Mind):
    talk = at(mind, "make the last round before departure", 18)
    assert talk.say("cold start").topic == "cold-start"


def test_no_more_questions_ends_the_talk(mind: Mind):
    talk = at(mind, "brief the passengers", 23)
    assert "That was the last step" in talk.say("no more questions").say


def test_who_asks_to_be_led_has_not_done_the_step(mind: Mind):
    talk = at(mind, "inspect the coach before a trip", 22)
    reply = talk.say("walk me through the air brake test")
    assert reply.topic == "check-air-brakes"
    assert not [walk for walk in talk.state.walks if walk.topic == "pre-trip-inspection" and walk.number > 22]
