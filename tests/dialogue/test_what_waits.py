"""What waits, what was skipped and what is open, asked for as a whole. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "words",
    [
        "what's waiting",
        "what is open",
        "what else is open",
        "which procedures are still waiting",
        "two more waiting, what are they",
        "is anything still unfinished",
        "list the open procedures",
        "what do I still have to do before I turn in",
        "anything left to do tonight",
        "heading to bed, anything I missed?",
        "going to bed",
    ],
)
def test_the_walks_that_wait_are_listed_with_their_steps(talk: Conversation, words: str):
    talk.say("park the coach for the night")
    talk.say("next")
    talk.say("check the heat tape on the waste tank")
    before = talk.state.walks
    reply = talk.say(words)

    assert any(line.startswith("In hand: Check the heat tape on the waste tank, step 1 of") for line in reply.show)
    assert any(line.startswith("Waits: Park the coach for the night, step 2 of 22: Set the") for line in reply.show)
    assert talk.state.walks == before


@pytest.mark.parametrize(
    "words", ["what have I skipped tonight", "what did I skip", "did I miss anything", "turning in now, did I skip anything", "which steps were left out"]
)  # fmt: skip
def test_steps_skipped_are_told_after_their_walk_is_stopped(talk: Conversation, words: str):
    talk.say("park the coach for the night")
    talk.say("go to step 4")
    talk.say("skip it, the other driver wants it running")
    talk.say("stop")
    reply = talk.say(words)

    assert "Skipped in Park the coach for the night: Stop the engine." in reply.say
    assert "Stopped: Park the coach for the night, step 5" in reply.say


def test_defects_and_timers_are_in_the_list(talk: Conversation):
    talk.say("the left mirror is cracked, note that down")
    talk.say("it is held, I can see the whole side")
    talk.say("remind me in ten minutes to look at the gauge")
    reply = talk.say("what's still open")

    assert "Open defect 1" in reply.say
    assert "9 minutes to go" in reply.say


def test_nothing_open_is_said_with_what_it_rests_on(talk: Conversation):
    reply = talk.say("what's waiting")

    assert reply.show[0].startswith("Nothing is open")
    assert "I only know what was told to me." in reply.show


def test_whats_left_in_a_walk_asks_for_its_steps(talk: Conversation):
    talk.say("park the coach for the night")

    assert "21 more after this one" in talk.say("what's left").say


def test_good_night_stays_short_when_nothing_waits(talk: Conversation):
    assert talk.say("good night").show == ("Good night.",)


@pytest.mark.parametrize("words", ["going to bed with the engine on", "he is going to sleep and won't wake up"])
def test_a_danger_or_a_wish_beside_bed_is_heard(talk: Conversation, words: str):
    assert talk.say(words).kind in ("refuse", "hazard")
