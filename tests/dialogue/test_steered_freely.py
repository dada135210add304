"""Ended, steered and handed over in own words; in a danger of the air nobody stays in with a window open."""

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
        "never mind the other guy's doing it",
        "leave it he's doing it",
        "skip the rest, someone else is handling it",
        "scrap that the mechanic's taking over",
        "nah leave it the shop's doing it tomorrow",
        "forget it my co-driver's got it",
        "never mind, they're doing it for me",
        "no need, my partner took care of it",
        "don't bother the rink guy did it already",
    ],
)
def test_the_walk_is_left_to_somebody_else(talk: Conversation, said: str):
    talk.say("how do I connect shore power")
    talk.say("next")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert not talk.state.walks


def test_a_danger_is_not_left_to_somebody_else(talk: Conversation):
    talk.say("I smell gas by the bunks")
    talk.say("never mind the other guy's doing it")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "propane-smell"


@pytest.mark.parametrize("said", ["ok go", "right go", "okay got it by hand. go on", "had to use both hands, next"])
def test_the_next_step_in_own_words(talk: Conversation, said: str):
    talk.say("how do I connect shore power")
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == 2


@pytest.mark.parametrize(
    "said",
    [
        "hmm the one before that, read it again",
        "read the one before again",
        "the previous one, say it again",
        "one before this once more",
        "the step before that one please",
        "say the one before",
    ],
)
def test_the_step_before_is_read_again(talk: Conversation, said: str):
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("next")
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == 2


def test_another_of_the_offered_may_follow_a_no(talk: Conversation):
    talk.say("it won't budge")
    talk.say("number one")
    assert talk.say("no, not that").kind == "control"
    assert talk.state.asking is not None
    assert talk.say("the second one").kind == "procedure"
    talk.say("forget it")
    assert not talk.state.walks


@pytest.mark.parametrize(
    "said",
    [
        "relief just showed up, I'm going to my bunk",
        "relief driver's here, I'm turning in",
        "the other driver's taking over, I'm off to bed",
        "relief's on, I'm done for the night",
        "my replacement showed up",
        "co-driver's up, I'm going to sleep",
        "night driver's here",
        "swapping drivers now, I'm hitting the bunk",
        "new driver just got here",
    ],
)
def test_a_relief_that_comes_on_opens_the_hand_over(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "procedure"
    assert reply.topic == "hand-over-coach"


@pytest.mark.parametrize(
    "said", ["my relief is sick", "the other driver's asleep at the wheel", "relief driver's drunk"]
)
def test_a_relief_who_cannot_drive_opens_no_hand_over(talk: Conversation, said: str):
    assert talk.say(said).topic != "hand-over-coach"


@pytest.mark.parametrize(
    "said", ["it says C O on it", "the label says carbon monoxide", "it reads CO on the front", "says CO"]
)
def test_the_label_of_the_alarm_keeps_the_escape_line(talk: Conversation, said: str):
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say(said)
    assert reply.kind == "hazard"
    assert reply.topic == "carbon-monoxide-alarm"


@pytest.mark.parametrize("danger", ["the carbon monoxide alarm is going off", "I smell gas by the bunks"])
@pytest.mark.parametrize(
    "said",
    [
        "they're all sleeping can't I just crack a window",
        "can I let them sleep and open the vents",
        "do I have to wake the kids",
        "what if I open all the windows",
        "isn't it enough to crack the hatch",
        "can't I just air it out",
    ],
)
def test_nobody_stays_in_with_a_window_open(talk: Conversation, danger: str, said: str):
    talk.say(danger)
    reply = talk.say(said)
    assert reply.kind == "refuse"
    assert "out now" in reply.say


@pytest.mark.parametrize(
    "said", ["purr pane smell in the hallway", "I smell per pain back here", "pro pain leak by the door"]
)
def test_propane_by_ear_is_a_danger(talk: Conversation, said: str):
    assert talk.say(said).topic == "propane-smell"


@pytest.mark.parametrize(
    "said",
    [
        "so which should I be running off",
        "which one do I use first",
        "which side should I be on",
        "which bottle should we be drawing from",
        "off which one",
        "which one first",
    ],
)
def test_which_cylinder_to_run_from_is_told(talk: Conversation, said: str):
    talk.say("outside bottle's a quarter")
    talk.say("and the other one's full")
    reply = talk.say(said)
    assert "outside" in reply.say.lower()
    assert not talk.state.walks
    assert len(talk.state.stored) == 2
