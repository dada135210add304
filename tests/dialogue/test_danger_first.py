"""A danger that is not over keeps other procedures waiting, and they are offered once it is."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("danger", "asked"),
    [
        ("there's a smell of propane by the bunks", "how do I hook up shore power"),
        ("the CO alarm is going off", "how do I relight the furnace"),
        ("smoke is coming out of the galley", "how do I empty the waste tank"),
        ("I get a shock off the door handle", "how do I plug in the shore cord"),
    ],
)
def test_a_question_leads_away_from_no_danger(talk: Conversation, danger: str, asked: str):
    hazard = talk.say(danger).topic
    second = talk.say("next").show[0]
    reply = talk.say(asked)
    assert [walk.topic for walk in talk.state.walks] == [hazard]
    assert reply.say.startswith("This comes first: ")
    assert reply.say.endswith("Say when it is over, and I come back to that.")
    assert second in reply.show
    assert reply.step is not None
    assert reply.step.index == 2
    assert talk.say("next").topic == hazard


def test_a_walk_that_waits_under_it_is_put_off_too(talk: Conversation):
    talk.say("how do I fill the fresh tank")
    talk.say("I smell gas")
    talk.say("how do I fill the fresh tank")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "propane-smell"


def test_another_danger_opens(talk: Conversation):
    talk.say("I smell gas")
    talk.say("there is smoke in the bunks")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "smoke-or-fire"


def test_shutting_off_the_gas_sends_nobody_inside(talk: Conversation):
    """The procedure begins at a switch inside, so only the danger's own step at the cylinders is said."""
    talk.say("I smell gas")
    reply = talk.say("how do I shut off the propane")
    assert [walk.topic for walk in talk.state.walks] == ["propane-smell"]
    assert "If there is no hiss" in reply.say
    assert "wall beside the galley" not in reply.say


def test_it_comes_back_once_the_danger_is_over(talk: Conversation):
    talk.say("I smell gas")
    talk.say("how do I fill the fresh tank")
    reply = talk.say("it was a false alarm")
    assert reply.options == ("fill-fresh-water",)
    assert reply.say.endswith("Once it is safe, say yes to begin.")
    assert talk.say("yes").topic == "fill-fresh-water"
    assert talk.state.put_off == ""


def test_left_early_it_comes_back_when_everybody_is_out(talk: Conversation):
    talk.say("I smell gas")
    talk.say("how do I fill the fresh tank")
    assert talk.say("stop").say.endswith("Is everybody out?")
    assert talk.say("yes, all out").options == ("fill-fresh-water",)


def test_left_early_the_answer_is_asked_for_once_more(talk: Conversation):
    talk.say("I smell gas")
    talk.say("stop")
    assert talk.say("how do I fill the fresh tank").say == "This comes first: Is everybody out?"
    assert talk.state.walks == ()
    assert talk.say("yes").options == ("fill-fresh-water",)


def test_the_answer_is_not_asked_for_twice(talk: Conversation):
    talk.say("I smell gas")
    talk.say("stop")
    talk.say("how do I fill the fresh tank")
    assert talk.say("how do I fill the fresh tank").topic == "fill-fresh-water"


def test_after_the_last_step_it_is_one_of_the_choices(talk: Conversation):
    talk.say("I smell gas")
    talk.say("how do I fill the fresh tank")
    talk.until_step(10)
    reply = talk.say("next")
    assert reply.options[-1] == "fill-fresh-water"
    assert talk.say(str(len(reply.options))).topic == "fill-fresh-water"


def test_undo_takes_back_nothing_of_the_danger(talk: Conversation):
    talk.say("I smell gas")
    talk.say("next")
    talk.say("how do I fill the fresh tank")
    talk.say("undo")
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("propane-smell", 1)


@pytest.mark.parametrize("said", ["no that's wrong", "undo", "wrong", "scratch that", "oops"])
def test_a_vague_wrong_takes_back_no_danger(talk: Conversation, said: str):
    talk.say("I smell gas in the coach")
    reply = talk.say(said)

    assert "stays open" in reply.say
    assert "false alarm" in reply.say
    assert talk.state.walk is not None


def test_readings_are_put_right_in_a_danger(talk: Conversation):
    talk.say("minus 25 outside")
    talk.say("I smell gas in the coach")
    reply = talk.say("no wait that's wrong, outside is minus 19")

    assert "Taken back: Outside -25" in " ".join(reply.show)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "propane-smell"
    assert [one.reading.value for one in talk.state.stored] == [-19.0]


@pytest.mark.parametrize("danger", ["", "I smell gas in the coach"])
@pytest.mark.parametrize(
    "said", ["no that's wrong, 62 is the thermostat", "sorry, that was the thermostat, not outside"]
)
def test_a_figure_of_no_reading_is_taken_back(talk: Conversation, danger: str, said: str):
    talk.say("minus 25 outside")
    if danger:
        talk.say(danger)
    talk.say("outside 62 degrees")
    talk.say(said)

    assert [one.reading.value for one in talk.state.stored] == [-25.0]
    assert (talk.state.walk is not None) == bool(danger)
