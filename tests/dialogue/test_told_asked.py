"""What is on record asked back in any words: levels of one tank, of both, of the bottles; what is wrong with the coach."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "what've you got for diesel",
        "what have you got down for diesel",
        "what's diesel",
        "give me the diesel again",
        "what did I give you for fuel",
        "remind me what the diesel was",
        "say diesel again",
        "how's the diesel",
        "tell me what you've got for the diesel",
        "where's the diesel at",
    ],
)
def test_one_level_is_read_back(talk: Conversation, said: str):
    talk.say("diesel's at ninety gallons")
    talk.say("def nine gallons")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert reply.say.startswith("Diesel 90 gallons")
    assert "DEF" not in reply.say
    assert len(talk.state.stored) == 2


@pytest.mark.parametrize(
    "said",
    [
        "read me both tanks back",
        "read back both tanks",
        "what are the tanks at",
        "both tanks, what are they",
        "where are my tanks at",
        "what've I got in the tanks",
        "read me fresh and waste",
        "what've you got down for water",
        "give me the tanks again",
        "how are the tanks",
    ],
)
def test_both_tanks_are_read_back(talk: Conversation, said: str):
    talk.say("fresh is three quarters")
    talk.say("waste at twenty percent")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "Fresh" in reply.say
    assert "Waste 20" in reply.say
    assert not talk.state.walks


@pytest.mark.parametrize("said", ["read me both bottles back", "give me the propane again", "what are the cylinders at", "both cylinders again"])  # fmt: skip
def test_both_bottles_are_read_back(talk: Conversation, said: str):
    talk.say("outside bottle's a quarter")
    talk.say("inside one's full")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "Outside cylinder a quarter" in reply.say
    assert "Inside cylinder full" in reply.say


def test_nothing_told_is_said_so(talk: Conversation):
    assert talk.say("what've you got for diesel").say.startswith("No diesel reading stands")
    assert talk.say("read me both tanks back").say.startswith("No readings stand")


@pytest.mark.parametrize(
    "said",
    ["what do I put in the waste tank", "where's the waste tank", "how do I read the waste", "read the fresh gauge", "what's the waste tank made of"],
)  # fmt: skip
def test_a_question_about_the_tank_is_no_question_of_its_level(talk: Conversation, said: str):
    talk.say("waste half")
    talk.say("fresh full")
    assert "Said" not in talk.say(said).say


@pytest.mark.parametrize(
    "said",
    [
        "so what's wrong with this bus",
        "what's broken on here",
        "anything wrong with her",
        "what's the damage list",
        "what's busted",
        "any open write ups",
        "what needs fixing on this thing",
        "what's still broke",
        "is there anything the matter with the bus",
        "what's not working on her",
        "what's up with this coach",
    ],
)
def test_what_is_wrong_with_the_coach_lists_the_open_defects(talk: Conversation, said: str):
    talk.say("log a defect, left mirror arm is loose")
    reply = talk.say(said)
    assert reply.kind == "defect"
    assert "left mirror arm is loose" in reply.say
    assert not talk.state.walks


def test_without_a_defect_none_is_said_and_a_thing_is_no_coach(talk: Conversation):
    assert "No open defects" in talk.say("what's wrong with this bus").say
    talk.say("log a defect, left mirror arm is loose")
    assert talk.say("what's wrong with it").kind != "defect"
