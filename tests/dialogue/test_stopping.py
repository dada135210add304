"""Walks that end before their last step: by a step that says so, all at once, and a danger left early."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize("said", ["yes it's lit", "the light is glowing", "it's on", "yes", "yep, lit"])
def test_a_step_that_ends_the_walk_ends_it(talk: Conversation, said: str):
    talk.say("check the heat tape")
    talk.until_step(4)
    reply = talk.say(said)
    assert talk.state.walk is None
    assert "ends here" in reply.say


@pytest.mark.parametrize("said", ["it's dark", "no", "it's not lit", "no the light is off"])
def test_it_goes_on_when_that_is_not_so(talk: Conversation, said: str):
    talk.say("check the heat tape")
    talk.until_step(4)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == 5


def test_a_plain_next_says_when_to_go_on(talk: Conversation):
    talk.say("check the heat tape")
    talk.until_step(4)
    assert "only if that is not so" in talk.say("next").say


def test_the_look_before_it_tells_as_much(talk: Conversation):
    talk.say("check the heat tape")
    talk.until_step(3)
    talk.say("it's lit")
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    ["stop everything", "cancel all of it", "leave all that", "close the whole lot", "I'm done with all of this"],
)
def test_everything_is_left_at_once(talk: Conversation, said: str):
    for walk in ("how do I fill the fresh tank", "how do I connect shore power", "check the tires"):
        talk.say(walk)
    reply = talk.say(said)
    assert talk.state.walks == ()
    assert "Connect shore power at step 1" in reply.say
    talk.say("undo")
    assert len(talk.state.walks) == 3


def test_a_danger_stays(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("I smell gas")
    reply = talk.say("cancel everything")
    assert [walk.topic for walk in talk.state.walks] == ["propane-smell"]
    assert "Still open" in reply.say


def test_whether_everybody_is_out_is_asked_once(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("I smell gas")
    assert talk.say("stop").say.endswith("Is everybody out?")
    assert "say resume" in talk.say("yes everybody's out").say
    assert talk.say("resume").topic == "fill-fresh-water"


@pytest.mark.parametrize("said", ["no", "not yet", "two are still inside"])
def test_a_no_takes_the_danger_up_again(talk: Conversation, said: str):
    talk.say("the carbon monoxide alarm is going off")
    talk.say("stop")
    assert talk.say(said).kind == "hazard"


def test_next_after_a_danger_takes_nothing_up_silently(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("next")
    talk.say("there is sewage all over the ground")
    while "last step" not in talk.say("next").say:
        pass
    reply = talk.say("next")
    assert "waits at step 2" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2


# -- each danger asks its own question --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said", ["yes", "the cord is dead", "breaker's off and nobody is touching it", "yes, all sitting still inside"]
)
def test_a_shock_asks_for_the_cord(talk: Conversation, said: str):
    talk.say("the coach body gave me a shock")
    assert talk.say("stop").say.endswith("Is the cord dead, and does nobody touch the coach?")
    assert talk.say(said).say == "Good."


@pytest.mark.parametrize("said", ["is the cord dead?", "are they clear of it"])
def test_a_question_back_is_no_yes(talk: Conversation, said: str):
    talk.say("the coach body gave me a shock")
    talk.say("stop")
    assert talk.say(said).say != "Good."


def test_people_who_sit_inside_are_half_an_answer(talk: Conversation):
    talk.say("the coach body gave me a shock")
    talk.say("stop")
    assert talk.say("they are all sitting still inside").say.startswith("Is the cord dead")


@pytest.mark.parametrize("said", ["no", "not yet", "one has his hand on the rail"])
def test_a_cord_that_is_not_dead_takes_it_up_again(talk: Conversation, said: str):
    talk.say("the coach body gave me a shock")
    talk.say("stop")
    assert talk.say(said).topic == "shock-from-coach-body"
    assert talk.state.walk is not None


# -- a walk that was not meant ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("said", ["no", "nope", "no, not that one"])
def test_a_no_closes_what_a_question_just_opened(talk: Conversation, said: str):
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say("how do I fill the fresh tank")
    reply = talk.say(said)
    assert "Fill the fresh tank is closed. Back to step 2" in reply.say
    assert talk.say("resume").topic == "dump-waste-tank"


def test_a_no_with_nothing_under_it_closes_too(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    assert "closed" in talk.say("no").say
    assert talk.state.walks == ()


def test_a_no_later_in_a_walk_closes_nothing(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("next")
    talk.say("no")
    assert talk.state.walk is not None


@pytest.mark.parametrize(
    "said",
    [
        "stop, I need to pull out now",
        "quit this, the girls are waiting",
        "stop we gotta get going",
        "drop it we're running late",
        "forget the list, I have to drive",
        "bags are all in, that's us done",
        "hose is stowed thats me finished",
        "that's us all done",
    ],
)
def test_a_walk_is_left_for_something_else(talk: Conversation, said: str):
    """With its reason, or told to be done as a whole."""
    talk.say("loading bags what's the rule")
    talk.say("next")
    reply = talk.say(said)

    assert reply.kind == "control"
    assert "Stopped at step 2" in reply.say
    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["is that us done", "I don't think that's us done", "hold on I gotta move the bus"])
def test_a_walk_is_not_left_by_a_question_or_a_wait(talk: Conversation, said: str):
    """Neither ends it."""
    talk.say("loading bags what's the rule")
    talk.say("next")
    talk.say(said)

    assert talk.state.walk is not None


@pytest.mark.parametrize(
    "said",
    ["never mind all those", "forget them all", "close both of them", "drop all of these", "forget about all that"],
)
def test_all_of_them_are_left(talk: Conversation, said: str):
    for walk in ("how do I fill the fresh tank", "how do I connect shore power"):
        talk.say(walk)
    talk.say(said)
    assert talk.state.walks == ()


@pytest.mark.parametrize(
    "said",
    [
        "hang on, stop, my partner did it last night",
        "stop, the shop checked them this morning",
        "no, cancel that, it's been done",
        "ok quit, no need any more",
    ],
)
def test_somebody_has_done_it(talk: Conversation, said: str):
    """The whole walk ends; without the "stop" only the step in hand is skipped."""
    talk.say("check the tires")
    talk.say(said)
    assert talk.state.walk is None


def test_stopping_a_thing_ends_no_walk(talk: Conversation):
    talk.say("check the tires")
    talk.say("stop, I haven't finished it")
    assert talk.state.walk is not None


@pytest.mark.parametrize("said", ["filling fresh at the truck stop, steps please", "check the tires at the next stop"])
def test_a_stop_on_the_road_ends_nothing(talk: Conversation, said: str):
    assert talk.say(said).kind in ("procedure", "clarify")


@pytest.mark.parametrize("said", ["drop all the others", "cancel the other one", "forget everything but this one", "stop the rest", "clear the waiting ones"])  # fmt: skip
def test_the_others_are_left_and_the_one_in_hand_stays(talk: Conversation, said: str):
    talk.say("park for the night")
    talk.say("how do I dump the waste tank")
    reply = talk.say(said)
    assert "You are still at step 1" in reply.say
    assert [walk.topic for walk in talk.state.walks] == ["dump-waste-tank"]
    talk.say("undo")
    assert len(talk.state.walks) == 2


def test_a_danger_that_waits_is_not_left_with_the_others(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("set the warning triangles")
    hazards = {walk.topic for walk in talk.state.walks} & talk.mind.knowledge.hazards
    talk.say("drop all the others")
    assert {walk.topic for walk in talk.state.walks} & talk.mind.knowledge.hazards == hazards


def test_stop_all_where_nothing_is_open_stores_nothing(talk: Conversation):
    talk.say("inside cylinder is full")
    talk.say("outside cylinder is at ten percent")
    reply = talk.say("stop all of them")
    assert "Nothing is open" in reply.say
    assert not reply.readings
