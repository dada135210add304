"""A number told of nothing by name is the setting of the step in hand, renews what was just told, or is asked back."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize("said", ["its at 62", "yep it's on 62", "ok set to sixty two", "done it's at 62 now", "62"])
def test_a_number_that_the_step_names_is_its_setting(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside")
    talk.say("keep the cabin warm for the night")
    reply = talk.say(said)
    assert [(one.reading.what, one.reading.value) for one in talk.state.stored] == [("outside_temp", -25)]
    assert reply.step is not None
    assert reply.step.index == 2


def test_another_number_is_not_the_setting_yet(mind: Mind):
    talk = Conversation(mind)
    talk.say("keep the cabin warm for the night")
    reply = talk.say("it's at 55")
    assert reply.say.startswith("Not yet: Set the heat to 62")
    assert talk.state.walk is not None
    assert talk.state.walk.number == 1


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (["minus 25 outside"], "there are 20 left"),
        (["minus 25 outside"], "its 40 now"),
        (["minus 25 outside", "check the tires"], "its at 62"),
        (["minus 25 outside", "brief the passengers"], "we're at 40"),
        ([], "its 40 now"),
    ],
)
def test_what_it_may_not_be_of_is_asked_back_and_nothing_stored(before: list[str], said: str, mind: Mind):
    talk = Conversation(mind)
    for words in before:
        talk.say(words)
    reply = talk.say(said)
    assert reply.kind == "clarify"
    assert reply.say.startswith("What is that number of?")
    assert [one.reading.value for one in talk.state.stored] == [-25] * bool(before)


def test_its_name_alone_answers(mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside")
    talk.say("its 40 now")
    (reading,) = talk.say("the fresh").readings
    assert (reading.what, reading.value) == ("fresh", 40)


def test_of_two_cylinders_it_is_asked_which(mind: Mind):
    talk = Conversation(mind)
    talk.say("outside bottle half, inside bottle full")
    assert talk.say("its 40 now").say == "Which cylinder is that?"
    (reading,) = talk.say("the outside one").readings
    assert (reading.what, reading.which, reading.value) == ("propane", "outside", 40)


@pytest.mark.parametrize(
    ("before", "said", "what", "value"),
    [
        (["fresh at 60"], "its 40 now", "fresh", 40),
        (["inside is 60"], "its 62 now", "inside_temp", 62),
        (["its 62 degrees in here"], "its 64 now", "inside_temp", 64),
        (["minus 25 outside"], "it's minus 10 now", "outside_temp", -10),
        (["34 aboard, minus 25 out"], "we're 33 now", "passengers", 33),
        (["how do i fill the fresh tank", "fresh at 20", "next"], "its at 40 now", "fresh", 40),
    ],
)
def test_what_it_can_be_of_is_stored(before: list[str], said: str, what: str, value: float, mind: Mind):
    talk = Conversation(mind)
    for words in before:
        talk.say(words)
    talk.say(said)
    last = talk.state.stored[-1].reading
    assert (last.what, last.value) == (what, value)


def test_going_back_to_the_temperature_before_is_no_question(mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 19 outside")
    assert "Is that right?" in talk.say("33 outside").say
    assert "Is that right?" not in talk.say("outside is minus 19").say


@pytest.mark.parametrize(
    ("opened", "said", "what", "value"),
    [
        ("protect water from freezing", "-25", "outside_temp", -25),
        ("start the engine in deep cold", "minus twelve", "outside_temp", -12),
        ("start the engine in deep cold", "14 f", "outside_temp", 14),
        ("the house battery is low", "it says 12.1", "house_battery", 12.1),
    ],
)
def test_a_number_alone_is_the_reading_that_the_step_asks_for(
    opened: str, said: str, what: str, value: float, mind: Mind
):
    """However cold it is: a number reports no danger."""
    talk = Conversation(mind)
    assert talk.say(opened).kind == "procedure"
    reply = talk.say(said)
    assert reply.kind == "reading"
    assert [(one.reading.what, one.reading.value) for one in talk.state.stored] == [(what, value)]
    assert reply.step is not None
    assert reply.step.index == 2


def test_after_a_question_in_between_it_still_is(mind: Mind):
    talk = Conversation(mind)
    talk.say("keep the fresh water from freezing")
    talk.say("why")
    talk.say("minus 8")
    assert [(one.reading.what, one.reading.value) for one in talk.state.stored] == [("outside_temp", -8)]
