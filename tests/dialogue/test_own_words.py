"""Questions and reports in drivers' own words that lead nowhere else: sources, workings, levels back, a window in a danger. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said", ["who says it has to be like that", "who says we must do that", "where did you get that rule from"]
)
def test_the_source_in_own_words(talk: Conversation, said: str):
    talk.say("test the air brakes")
    reply = talk.say(said)
    assert reply.show[0] == "Sources:"
    assert talk.state.walk is not None


@pytest.mark.parametrize("said", ["where is the water coming from", "where's that drip coming from"])
def test_where_water_comes_from_is_no_source(talk: Conversation, said: str):
    talk.say("test the air brakes")
    assert "Sources:" not in talk.say(said).show


@pytest.mark.parametrize("said", ["how d'you get that", "how do you figure", "how'd you figure that"])
def test_the_working_in_own_words(talk: Conversation, said: str):
    talk.say("how long do 60 gallons last 20 people at 2 gallons a day each")
    assert talk.say(said).show[0] == "Working:"


def test_what_was_assumed(talk: Conversation):
    talk.say("how long does half a tank of fresh last 20 people at 2 gallons a day each")
    assert any(line.startswith("Assumed:") for line in talk.say("which of those numbers are guesses").show)


@pytest.mark.parametrize(
    "said", ["read me both tanks back", "read all the levels back to me", "give me the numbers again"]
)
def test_all_levels_back(talk: Conversation, said: str):
    talk.say("waste at 25")
    talk.say("fresh is half")
    shown = " ".join(talk.say(said).show)
    assert "Waste 25 %" in shown
    assert "Fresh water half" in shown


def test_one_level_taken_back_too(talk: Conversation):
    talk.say("diesel at 90 gallons")
    talk.say("def at 9 gallons")
    talk.say("scratch that")
    assert talk.say("and take the diesel back too").say.startswith("Taken back: Diesel 90 gallons")
    assert talk.state.stored == ()


def test_a_level_that_is_supposed_is_not_stored(talk: Conversation):
    talk.say("inside cylinder is full")
    talk.say("how long does a full 40 pound cylinder last at 30000 btu an hour")
    talk.say("and with only half a cylinder")
    assert [one.reading.value for one in talk.state.stored] == [1.0]


def test_a_meter_shows_what_the_walk_measures(talk: Conversation):
    talk.say("connect shore power")
    reply = talk.say("meter's showing one seventeen")
    assert [(one.what, one.value) for one in reply.readings] == [("shore_voltage", 117.0)]


@pytest.mark.parametrize("said", ["never mind the other guy's doing it", "never mind, my partner has it done"])
def test_somebody_else_does_it(talk: Conversation, said: str):
    talk.say("connect shore power")
    talk.say(said)
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    ["relief just showed up, i'm going to my bunk", "the relief driver's here", "my relief is here so I'm off to bed"],
)
def test_who_is_relieved_hands_over(talk: Conversation, said: str):
    assert talk.say(said).topic == "hand-over-coach"


def test_what_is_wrong_with_the_coach(talk: Conversation):
    talk.say("log the left mirror is cracked")
    assert "left mirror is cracked" in talk.say("so what's wrong with this bus").say


@pytest.mark.parametrize("alarm", ["the co alarm is going off", "I smell gas"])
@pytest.mark.parametrize(
    "said",
    [
        "they're all asleep can't I just crack a window",
        "should we just open the vents",
        "do I really have to wake them all",
    ],
)
def test_a_window_is_not_enough(talk: Conversation, alarm: str, said: str):
    talk.say(alarm)
    reply = talk.say(said)
    assert reply.kind == "refuse"
    assert "get them all out" in reply.say
    assert talk.state.walk is not None


def test_what_is_not_known_in_a_danger_is_met_with_its_step(talk: Conversation):
    talk.say("the co alarm is going off")
    reply = talk.say("it has a little blue sticker")
    assert reply.say.startswith("This comes first.")


@pytest.mark.parametrize("said", ["purr pane smell in the hallway", "i got a pro payne smell by the bunks"])
def test_propane_not_heard_right(talk: Conversation, said: str):
    assert talk.say(said).topic == "propane-smell"
