"""What is asked about a number told before, without a new amount: how it came about, how sure it is, in another unit, once more."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_LOSS = "eighty feet of fourteen gauge cord with twelve amps on it at 120 volts, how many volts do I lose"
_WATER = "eighteen people at two gallons each, what does that come to"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "how did you come up with that",
        "how was that worked out",
        "show me the math",
        "how'd ya figure that",
        "explain that number",
        "walk me through the math on that",
        "how does that work out",
    ],
)
def test_the_working_is_told(talk: Conversation, said: str):
    talk.say(_WATER)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "18" in reply.say
    assert "36" in reply.say


@pytest.mark.parametrize(
    "said",
    [
        "how sure is that number",
        "how certain are you of that",
        "can I rely on that",
        "is that a guess",
        "give or take how much",
        "how far off could that be",
        "are you really sure about that",
        "how accurate is that",
    ],
)
def test_how_far_it_can_be_trusted_is_told_with_its_range(talk: Conversation, said: str):
    told = talk.say(_LOSS).estimate
    assert told is not None
    assert told.low is not None
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "probably between" in reply.say


def test_no_number_no_trust(talk: Conversation):
    talk.say("how do I dump the waste tank")
    reply = talk.say("how sure is that number")
    assert "probably between" not in reply.say


@pytest.mark.parametrize("between", [[], ["show me the math"], ["purple monkey lamp"], ["remind me in ten minutes"]])
def test_the_number_stays_at_hand(talk: Conversation, between: list[str]):
    """36 US gallons are 136.27 litres, a gallon of water weighs 8.34 pounds."""
    for said in (_WATER, *between):
        talk.say(said)
    turned = talk.say("and in litres")
    assert turned.estimate is not None
    assert turned.estimate.value == pytest.approx(136.27, rel=0.001)
    weighed = talk.say("what's that weigh")
    assert weighed.estimate is not None
    assert (weighed.estimate.value, weighed.estimate.unit) == (pytest.approx(300, rel=0.005), "lb")


@pytest.mark.parametrize("said", ["how heavy's that", "in kilos", "what's the weight of that in kilograms"])
def test_weighed_in_other_words(talk: Conversation, said: str):
    talk.say(_WATER)
    estimate = talk.say(said).estimate
    assert estimate is not None
    assert estimate.value == pytest.approx(300 if "heavy" in said else 136.1, rel=0.005)


def test_hours_are_told_in_minutes_when_asked_for(talk: Conversation):
    talk.say("60 gallons at 10 gallons an hour, how long does it last")
    assert talk.say("in minutes").say == "360 minutes."


@pytest.mark.parametrize("said", ["what's that in percent", "how much is that as a percentage", "what percent is that"])
def test_a_share(talk: Conversation, said: str):
    loss = talk.say(_LOSS).estimate
    share = talk.say(said).estimate
    assert loss is not None
    assert loss.value is not None
    assert share is not None
    assert (share.value, share.unit) == (pytest.approx(loss.value / 1.2, rel=0.01), "percent")


def test_a_share_of_the_tank_says_so(talk: Conversation):
    talk.say(_WATER)
    assert talk.say("what's that in percent").say == "36 gallons is 30 percent of the fresh tank's 120 gallons."


@pytest.mark.parametrize("said", ["then run that sum again", "work it out again", "redo the math", "do those numbers over again"])  # fmt: skip
def test_the_sum_again_with_what_stands_now(talk: Conversation, said: str):
    """The demo coach's waste tank holds 80 gallons: 40 at twenty a day, then 20."""
    talk.say("waste's at fifty percent")
    talk.say("we put in about twenty gallons a day, when's it full")
    told = talk.say("no sorry, waste is seventy five percent")
    assert told.readings[0].value == 75
    estimate = talk.say(said).estimate
    assert estimate is not None
    assert estimate.value == pytest.approx(24, rel=0.01)


def test_a_number_told_before_is_told_again(talk: Conversation):
    first = talk.say(_LOSS).estimate
    second = talk.say("and with ten gauge").estimate
    talk.say(_WATER)
    assert first is not None
    assert second is not None
    for said, meant in (
        ("what was that cord loss number you gave me first", first),
        ("what did you get for the cord at first", first),
        ("what was it with the ten gauge again", second),
    ):
        reply = talk.say(said)
        assert reply.estimate is not None, said
        assert (reply.kind, reply.estimate.value) == ("calculation", meant.value), said


def test_a_level_named_is_stored_and_not_put_into_the_last_sum(talk: Conversation):
    talk.say("waste's at fifty percent")
    talk.say("we put in about twenty gallons a day, when's it full")
    reply = talk.say("waste is at seventy percent")
    assert [(one.what, one.value) for one in reply.readings] == [("waste", 70)]


def test_small_talk_after_a_sum_is_no_sum(talk: Conversation):
    talk.say(_WATER)
    talk.say("purple monkey lamp")
    assert talk.say("ha, did you watch the hockey last night").kind != "calculation"


@pytest.mark.parametrize(
    ("said", "value"),
    [("five gallons each for half of them, what does that come to", 50), ("what does it come to at four gallons each if it's half of them, call it twelve", 48)],
)  # fmt: skip
def test_a_part_of_those_aboard(talk: Conversation, said: str, value: float):
    talk.say("twenty aboard")
    estimate = talk.say(said).estimate
    assert estimate is not None
    assert estimate.value == value
