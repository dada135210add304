"""Back to a walk or a step by its name, and who or what calls a driver away. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.called_away import called_away
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "words",
    ["the shore power again", "and now the shore power again, where was I", "shore power, which step was I on"],
)
def test_a_walk_is_named_to_go_on_with_it(talk: Conversation, words: str):
    """It comes to the top at its step; the other waits under it."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("how do I check the tires")
    reply = talk.say(words)

    assert reply.topic == "connect-shore-power"
    assert reply.step is not None
    assert reply.step.index == 2
    assert [walk.topic for walk in talk.state.walks] == ["check-tires", "connect-shore-power"]


def test_a_walk_is_named_to_end_it(talk: Conversation):
    """The other stays, whichever is on top."""
    talk.say("how do I connect shore power")
    talk.say("how do I check the tires")
    talk.say("stop the shore power one")

    assert [walk.topic for walk in talk.state.walks] == ["check-tires"]


@pytest.mark.parametrize(
    ("words", "step"),
    [
        ("step six of the pre trip", 6),
        ("what's step three of the pre trip inspection again", 3),
        ("second step of the pre trip", 2),
    ],
)
def test_a_step_of_a_walk_by_its_name(talk: Conversation, words: str, step: int):
    """ "The pre trip" is the one in hand, not another inspection."""
    talk.say("how do I do the pre trip inspection")
    reply = talk.say(words)

    assert reply.topic == "pre-trip-inspection"
    assert reply.step is not None
    assert reply.step.index == step


def test_a_step_beyond_the_last_is_said_to_be_none(talk: Conversation):
    """Numbers are read to the end: ninety nine is not ninety."""
    talk.say("how do I check the tires")
    reply = talk.say("go to step ninety nine")

    assert reply.kind == "control"
    assert reply.say.startswith("There are ")


@pytest.mark.parametrize(
    "words",
    [
        "dispatch is on the line",
        "hang about, one of the lads needs me",
        "sorry, someone at the door",
        "my phone's buzzing",
        "the night clerk wants a word",
        "pause, I've to sign for a parcel",
        "let's park that one for now",
    ],
)
def test_a_walk_waits_for_who_is_called_away(talk: Conversation, words: str):
    """And goes on where it was."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say(words)

    assert talk.state.walk is not None
    assert talk.state.walk.paused

    reply = talk.say("right, I'm back, which step was that")
    assert reply.step is not None
    assert reply.step.index == 2


@pytest.mark.parametrize(
    "form",
    ["somebody needs water", "the guy wants us to move the coach", "someone is hurt at the door", "call the office"],
)
def test_what_asks_for_something_calls_nobody_away(form: str):
    """Need and trouble are looked at by others."""
    assert not called_away(form)


def test_work_told_as_done_with_next_after_it(talk: Conversation):
    """Few words without trouble, whatever the step calls the thing."""
    talk.say("how do I connect shore power")
    assert talk.say("all nice and dry, next").step.index == 2  # type: ignore[union-attr]


def test_the_timer_named_is_taken_back(talk: Conversation):
    """Not the one set last."""
    talk.say("remind me in twenty minutes to look at the hose")
    talk.say("set a ten minute timer")
    talk.say("cancel the hose reminder")

    assert [timer.announce for timer in talk.state.timers] == ["Ten minutes are over."]


def test_the_other_choice_is_named_after_the_wrong_one(talk: Conversation):
    """It takes the place of the walk just opened."""
    offered = talk.say("it won't open").options
    talk.say("the third one")
    talk.say("no, I meant the bay latch")

    assert "work-a-bay-latch" in offered
    assert [walk.topic for walk in talk.state.walks] == ["work-a-bay-latch"]


def test_what_is_to_be_done_before_the_request(talk: Conversation):
    """ "Take me through" at the end asks for what was named before it."""
    assert talk.say("I'm about to check the tires, take me through").topic == "check-tires"


@pytest.mark.parametrize("words", ["so what's fresh now", "where does that leave the fresh", "fresh is what now"])
def test_a_level_is_asked_back_in_few_words(talk: Conversation, words: str):
    """The reading that stands is said, and no procedure opens."""
    talk.say("fresh at forty percent")
    reply = talk.say(words)

    assert reply.kind == "control"
    assert "40 %" in reply.say


def test_a_reminder_is_named_to_end_it(talk: Conversation):
    """By what it is for."""
    talk.say("remind me in an hour to call the hotel")
    talk.say("set a ten minute timer")
    talk.say("kill the hotel one")

    assert [timer.announce for timer in talk.state.timers] == ["Ten minutes are over."]


def test_two_readings_told_the_wrong_way_round(talk: Conversation):
    """ "Those two" are the readings, and no amount."""
    talk.say("waste at seventy percent and fresh at thirty")
    reply = talk.say("swap those two")

    assert [(r.what, r.value) for r in reply.readings] == [("waste", 30.0), ("fresh", 70.0)]


def test_the_heads_told_are_asked_for_in_a_walk(talk: Conversation):
    """No step is said again in answer."""
    talk.say("how do I check the tires")
    talk.say("thirty one people aboard")
    assert talk.say("how many people did I say").kind == "control"


@pytest.mark.parametrize("lead", ["", "how do i ", "i want to "])
def test_a_title_said_word_for_word_opens_its_procedure(lead: str, mind: Mind):
    """Whatever words stand in it: "stop", "level", "look after". In a walk too, and while a sum waits for an amount."""
    for topic in mind.knowledge.ids:
        talk = Conversation(mind)
        talk.say("how much propane for 3 nights")
        if topic != "park-for-the-night":
            talk.say("park the coach for the night")
        reply = talk.say(f"{lead}{mind.knowledge.title(topic).lower()}")
        assert (reply.topic, reply.kind in ("procedure", "hazard", "clarify")) == (topic, True) or (
            lead and topic in mind.knowledge.hazards
        ), reply.show


def test_not_while_a_danger_is_open(talk: Conversation):
    talk.say("i smell gas in the galley")
    assert talk.say("park the coach for the night").topic == "propane-smell"
