"""Readings told by how far they are from the one that stands, and people who get on or off."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        ("shore voltage 121", "three less than that, the needle had not settled", 118),
        ("waste at 48 percent", "make that four more than I told you", 52),
        ("waste at 48 percent", "this float hangs, call it eight lower than what i said", 40),
        ("fresh 11 inches from the bottom", "half an inch over what i said, there was glare", 11.5),
        ("left rear outer 101", "knock three off that", 98),
        ("left rear outer 101", "that was two too low", 103),
        ("fresh half", "ten percent less than that", 40),
        ("air at 118 psi", "no, four higher", 122),
    ],
)
def test_the_one_that_was_wrong_goes(talk: Conversation, before: str, said: str, value: float):
    """The difference is never stored as the reading itself."""
    first = talk.say(before).readings
    reply = talk.say(said)

    assert [one.value for one in reply.readings] == [value]
    assert reply.withdrawn == first


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        ("twelve below outside", "dropped another three since", -15),
        ("inside it's 61", "it's two degrees warmer now", 63),
        ("diesel 90 gallons", "it's fallen five more", 85),
        ("outside it's 20", "outside has gone up another six", 26),
    ],
)
def test_what_has_changed_since_leaves_the_one_before(talk: Conversation, before: str, said: str, value: float):
    """It was right when it was told."""
    talk.say(before)
    reply = talk.say(said)

    assert [one.value for one in reply.readings] == [value]
    assert reply.withdrawn == ()


@pytest.mark.parametrize(
    ("said", "aboard"),
    [
        ("another two hopped on", 24),
        ("a couple more just boarded", 24),
        ("three of the kids got off at the rink", 19),
        ("one went home with her dad", 21),
        ("picked up two more players", 24),
        ("and one stepped off again", 21),
    ],
)
def test_heads_go_up_and_down(talk: Conversation, said: str, aboard: int):
    """With a count that stands, whoever gets on or off changes it."""
    talk.say("twenty two aboard")

    assert [(one.what, one.value) for one in talk.say(said).readings] == [("passengers", aboard)]


@pytest.mark.parametrize(
    "said",
    ["two got off the ice late", "one left her skates inside", "what if it's two less than that", "everybody got off", "five more minutes", "two less than that last night"],
)  # fmt: skip
def test_other_talk_changes_no_count(talk: Conversation, said: str):
    """A question, another time, or getting off something else."""
    talk.say("twenty two aboard")
    reply = talk.say(said)

    assert reply.readings == ()
    assert [one.reading.value for one in talk.state.stored] == [22]


@pytest.mark.parametrize("said", ["a bit under that", "up ten since this morning", "down two", "thirty gallons less than that"])  # fmt: skip
def test_what_leaves_the_figure_open_is_asked(talk: Conversation, said: str):
    """A little less has no figure, and "up ten since" may be said of the figure just told."""
    talk.say("fresh at 70 percent")
    reply = talk.say(said)

    assert reply.kind == "clarify"
    assert "70" in reply.say
    assert [one.reading.value for one in talk.state.stored] == [70]


def test_of_two_the_one_meant_must_be_named(talk: Conversation):
    """ "That" may be either; a name tells which."""
    talk.say("fresh 60 percent and waste 30 percent")

    assert talk.say("five less than that").kind == "clarify"
    assert [(one.what, one.value) for one in talk.say("the waste is five less than what i said").readings] == [
        ("waste", 25)
    ]


def test_more_than_the_coach_carries_is_refused(talk: Conversation, mind: Mind):
    """The sum must be possible too."""
    most = mind.coach.people.max_passengers
    talk.say(f"{most} aboard")

    assert talk.say("two more got on").readings == ()


def test_in_a_sum_it_is_no_reading(talk: Conversation):
    """After a number was worked out "that" is this number."""
    talk.say("waste is at 40 percent")
    talk.say("how long for 120 miles at sixty")

    assert talk.say("five less than that").readings == ()
