"""A danger that is explained away is closed after one question; reports of people in it keep the step. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

GAS, CO = "I smell gas in the coach", "the CO alarm is going off"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("raised", "said", "asks"),
    [
        (GAS, "wait it was the toilet vent not gas", "Has the smell gone"),
        (GAS, "turned out to be somebody's perfume", "Has the smell gone"),
        (CO, "it was just a truck idling next to us, he left", "Is the alarm silent"),
    ],
)
def test_an_explanation_is_asked_about_once(talk: Conversation, raised: str, said: str, asks: str):
    talk.say(raised)
    reply = talk.say(said)
    assert asks in reply.say
    assert talk.state.walk is not None
    assert "is closed" in talk.say("yes").say
    assert talk.state.walk is None


@pytest.mark.parametrize("answer", ["no", "not yet", "no I still smell it", "everybody is well"])
def test_a_no_or_half_an_answer_keeps_it_open(talk: Conversation, answer: str):
    talk.say(GAS)
    talk.say("it was the toilet vent, not gas")
    talk.say(answer)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "propane-smell"


@pytest.mark.parametrize(
    ("raised", "said"),
    [
        (GAS, "false alarm"),
        (GAS, "it was only a skunk, the smell is gone and everybody is fine"),
        (CO, "the fire department checked, it was a truck"),
    ],
)
def test_what_is_plainly_over_is_closed_at_once(talk: Conversation, raised: str, said: str):
    talk.say(raised)
    assert "is closed" in talk.say(said).say


@pytest.mark.parametrize(
    "said",
    ["nobody has a headache", "everyone feels fine", "no one is dizzy or sick", "lead driver is out of his bunk and outside with me", "two are out now"],
)  # fmt: skip
def test_reports_of_people_are_taken_and_the_step_stays(talk: Conversation, said: str):
    talk.say(CO)
    talk.say("next")
    reply = talk.say(said)
    assert reply.say.startswith("Good.")
    assert "Wake every sleeper" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2


@pytest.mark.parametrize("said", ["nobody is well", "everyone is fine but one has a headache"])
def test_ills_are_no_good_report(talk: Conversation, said: str):
    talk.say(CO)
    assert not talk.say(said).say.startswith("Good.")
