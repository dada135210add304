"""What moves, leaves or takes up a walk in a driver's own words. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

SHORE = "how do I connect shore power"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize("words", ["good", "yeah good", "very good"])
def test_a_step_approved_is_done(talk: Conversation, words: str):
    """Right after it was said; said of anything else, it moves no walk."""
    talk.say(SHORE)
    reply = talk.say(words)
    assert reply.step is not None
    assert reply.step.index == 2
    talk.say("what's the fresh at")
    talk.say(words)
    assert talk.state.walks[-1].number == 2


def test_a_danger_is_not_approved(talk: Conversation):
    talk.say("I smell gas in here")
    talk.say("good")
    assert talk.state.walks[-1].at == 0


@pytest.mark.parametrize(
    "words",
    [
        "leave it, I'll do it tomorrow",
        "nah drop it, the other driver will do it in the morning",
        "never mind, somebody switched it off",
        "never mind we'll ask the hotel, close it",
        "forget it, no time now",
    ],
)
def test_a_walk_given_up(talk: Conversation, words: str):
    talk.say(SHORE)
    talk.say("next")
    talk.say(words)
    assert not talk.state.walks


@pytest.mark.parametrize(
    "words",
    ["never mind the gloves, I'll go without", "leave it on", "never mind, next"],
)
def test_a_walk_kept(talk: Conversation, words: str):
    """What is done without, or fails, gives nothing up."""
    talk.say(SHORE)
    talk.say(words)
    assert "connect-shore-power" in {walk.topic for walk in talk.state.walks}


def test_a_danger_is_not_given_up(talk: Conversation):
    talk.say("I smell gas in here")
    talk.say("never mind, someone turned it off")
    assert talk.state.walks


@pytest.mark.parametrize(
    "words",
    [
        "not now, on with the dumping",
        "that can wait, back to the dump",
        "we'll do that later, carry on with the dumping",
    ],
)
def test_back_from_what_was_opened_in_between(talk: Conversation, words: str):
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say("how do I check the tires")
    reply = talk.say(words)
    assert (reply.topic, reply.step.index if reply.step else 0) == ("dump-waste-tank", 2)


def test_back_to_a_walk_by_what_is_done(talk: Conversation):
    """ "Right" before "back" asks nobody to wait."""
    talk.say("how do I load the luggage")
    talk.say("how do I check the tires")
    assert talk.say("right, back to the loading").topic == "load-luggage"
    assert not talk.state.walks[-1].paused


@pytest.mark.parametrize(
    "words",
    ["that's it, hose is stowed, all done", "okay that's everything, tap's shut and the hose is away, we're done"],
)
def test_the_walk_that_is_finished(talk: Conversation, words: str):
    """It is the one whose steps speak of what is told, though another is on top."""
    talk.say("how do I fill the fresh tank")
    talk.say("how do I check the tires")
    talk.say(words)
    assert [walk.topic for walk in talk.state.walks] == ["check-tires"]


@pytest.mark.parametrize(
    "then", ["pick up the parking where we stopped", "resume the parking", "pick the parking up again"]
)
def test_a_danger_over_and_the_walk_under_it_taken_up(talk: Conversation, then: str):
    talk.say("how do I park for the night")
    talk.say("next")
    talk.say("the carbon monoxide alarm is going off")
    talk.say(f"fire crew checked it, all clear. {then}")
    assert [walk.topic for walk in talk.state.walks] == ["park-for-the-night"]
    reply = talk.say("next")
    assert reply.step is not None
    assert reply.step.index == 3


@pytest.mark.parametrize("words", ["everyone's off. next", "got it, go on", "okay next"])
def test_what_a_no_offers_is_taken_up(talk: Conversation, words: str):
    talk.say("can the team stay in while I jack it")
    assert talk.say(words).topic == "jack-the-coach"
    assert talk.state.walks


def test_a_no_is_only_taken(talk: Conversation):
    talk.say("can the team stay in while I jack it")
    talk.say("okay")
    assert not talk.state.walks


@pytest.mark.parametrize("words", ["no back", "wait, back", "oops back"])
def test_no_back(talk: Conversation, words: str):
    talk.say(SHORE)
    talk.say("next")
    reply = talk.say(words)
    assert reply.step is not None
    assert reply.step.index == 1


@pytest.mark.parametrize(("words", "number"), [("the previous one please", 2), ("go back one", 2), ("back", 3)])
def test_back_in_a_walk_that_waits(talk: Conversation, words: str, number: int):
    """Who is back goes on; who wants the step before gets it."""
    talk.say(SHORE)
    talk.say("next")
    talk.say("next")
    talk.say("hold on a sec")
    reply = talk.say(words)
    assert reply.step is not None
    assert reply.step.index == number


@pytest.mark.parametrize("words", ["fan's running. next", "the heater's on, next"])
def test_a_machine_that_runs_is_a_step_done(talk: Conversation, words: str):
    talk.say("how do I thaw a frozen water line")
    assert talk.say(words).kind == "step"
    assert talk.state.walks[-1].number == 2


@pytest.mark.parametrize(
    "words", ["go to the part about the exits", "jump to the bit with the exits", "take me to the section on exits"]
)
def test_a_part_by_what_it_is_about(talk: Conversation, words: str):
    talk.say("how do I brief the passengers")
    assert "exit" in talk.say(words).say
    assert talk.state.walks[-1].number > 3


@pytest.mark.parametrize("said", ["thermostat's set to sixty six, that bit's fine", "heat's turned up to seventy"])
def test_a_setting_told_at_another_step_is_noted(mind: Mind, said: str):
    """No reading is stored, and nothing else opens."""
    talk = Conversation(mind)
    talk.say("a furnace will not light")
    reply = talk.say(said)
    assert reply.kind in ("control", "step")
    assert not talk.state.stored
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "furnace-will-not-light"


@pytest.mark.parametrize("said", ["so the dose for what's in there", "how long does that take at six a minute", "redo that sum with the real number"])  # fmt: skip
def test_a_sum_moves_no_walk(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("sanitize the fresh tank")
    talk.say("next")
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == 2


@pytest.mark.parametrize("said", ["how do I chain up", "who should I phone about a dead radio"])
def test_an_open_choice_is_not_made_by_another_question(mind: Mind, said: str):
    talk = Conversation(mind)
    assert len(talk.say("the heat").options) > 1
    talk.say(said)
    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["sink tap drips, little thing, write it down for her", "bunk 2 curtain rail is loose, note that for the other driver"])  # fmt: skip
def test_for_whom_a_defect_is_kept(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "defect"
    assert " for " not in reply.say.split(".")[0]


def test_an_open_choice_is_not_made_by_a_level_asked_back(mind: Mind):
    talk = Conversation(mind)
    talk.say("we have twenty two passengers aboard")
    assert len(talk.say("the tank").options) > 1
    assert talk.say("how many have we got aboard").say.startswith("22 people aboard")


def test_the_waste_one_is_not_the_last_one(mind: Mind):
    talk = Conversation(mind)
    assert talk.say("the tank").options[-1] == "fill-fresh-water"
    assert talk.say("the waste one").topic == "check-waste-level"
