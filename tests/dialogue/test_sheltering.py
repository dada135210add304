"""Where people go who freeze outside during a danger. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

GAS, CO, FIRE, SHOCK = "I smell gas in the coach", "the CO alarm is going off", "smoke from the rear bunks", "I felt a tingle on the door handle"  # fmt: skip


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize("raised", [GAS, CO, FIRE])
@pytest.mark.parametrize(
    "said",
    [
        "can they sit in the coach till help comes",
        "it's minus 25, can the kids wait inside with the door open",
        "they are freezing, can we warm up in the bunks for a bit",
        "is it ok if they wait by the doorway",
        "the boys want to get back on the bus",
    ],
)
def test_nobody_waits_in_the_coach_and_another_place_is_named(talk: Conversation, raised: str, said: str):
    talk.say(raised)
    reply = talk.say(said)

    assert reply.kind == "refuse"
    assert reply.show[0].startswith("No. Nobody goes back in")
    assert any("nearest building" in line for line in reply.show)
    assert reply.show[-1].startswith("Step 1 of")
    assert talk.state.walk is not None


@pytest.mark.parametrize(
    "said",
    ["where can they go", "they're in t-shirts out here", "what do i do with the kids out here", "everyone's shivering", "some are barefoot in the snow", "it's too cold to stand out here"],
)  # fmt: skip
def test_where_they_go(talk: Conversation, said: str):
    talk.say(GAS)
    reply = talk.say(said)

    assert any("nearest building" in line for line in reply.show)
    assert any("Start no engine near the gas" in line for line in reply.show)


def test_with_a_live_body_nobody_climbs_on_or_off(talk: Conversation):
    """Whoever is aboard is safe there; one foot on the ground is what kills."""
    talk.say(SHOCK)
    reply = talk.say("the kids outside are freezing, can they get on")

    assert reply.show[0].startswith("No. Nobody climbs on or off")
    assert "stays in" in reply.show[0]


@pytest.mark.parametrize("said", ["he's shivering and passed out", "they are freezing and there are flames in the galley"])  # fmt: skip
def test_a_worse_thing_in_the_same_breath_is_answered_first(talk: Conversation, said: str):
    talk.say(GAS)
    assert talk.say(said).kind == "hazard"


@pytest.mark.parametrize("said", ["the kids are freezing in the back", "where can they go"])
def test_without_a_danger_nothing_is_refused(talk: Conversation, said: str):
    assert talk.say(said).kind != "refuse"


def test_pipes_that_freeze_are_no_people(talk: Conversation):
    talk.say(GAS)
    assert "building" not in talk.say("is the waste pipe frozen").say
