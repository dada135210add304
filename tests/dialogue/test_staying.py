"""A walk in hand holds its ground: a no stays a no, a danger is not left by asking leave, a remark opens nothing. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("walk", "wish"),
    [
        ("how do I dump the waste tank", "could I just run it out over the gravel"),
        ("how do I dump the waste tank", "what if I let it go into the ditch over there"),
        ("how do I take out and refill a propane cylinder", "should I get him to top it right up"),
        ("how do I thaw a frozen waste valve", "I'll warm it with a heat gun on full"),
        ("the diesel has gelled in the cold, what do I do", "I'm going to hold a blowtorch under the tank"),
    ],
)
def test_what_is_unsafe_because_of_the_walk_is_refused(talk: Conversation, walk: str, wish: str):
    """The waste is not named again by who is dumping it; the no comes all the same, and the walk stays where it was."""
    talk.say(walk)
    before = talk.state.walk
    reply = talk.say(wish)

    assert reply.kind == "refuse"
    assert talk.state.walk == before


@pytest.mark.parametrize(
    "words",
    ["it's mostly dishwater", "nobody's looking", "just this once", "even half of it?", "come on, who'd know", "the other crew always does it"],
)  # fmt: skip
def test_haggling_gets_the_same_no(talk: Conversation, words: str):
    """Also after the reason was asked for."""
    talk.say("how do I dump the waste tank")
    first = talk.say("can I let the waste tank run into that ditch")
    talk.say("why not")
    again = talk.say(words)

    assert (first.kind, again.kind) == ("refuse", "refuse")
    assert again.say.startswith("Still no.")
    assert again.topic == first.topic


@pytest.mark.parametrize("words", ["next", "okay where were we", "waste is at thirty percent", "how do I do it then"])
def test_what_goes_on_after_a_no_is_no_haggling(talk: Conversation, words: str):
    """The talk goes on as if nothing had been asked."""
    talk.say("how do I dump the waste tank")
    talk.say("can I let the waste tank run into that ditch")

    assert talk.say(words).kind != "refuse"


@pytest.mark.parametrize(
    "words",
    [
        "can we drive on with the vents open",
        "let's just crack a hatch and keep sleeping",
        "is it ok to run the furnace in the meantime",
        "could they go back to bed now",
    ],
)
def test_a_danger_is_not_left_by_asking_leave(talk: Conversation, words: str):
    """Who must clear it is said in answer."""
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say(words)

    assert reply.kind == "refuse"
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "carbon-monoxide-alarm"


def test_what_makes_a_danger_safer_is_no_wish(talk: Conversation):
    """ "Should I keep everyone outside" is answered by the step in hand, not by a no, and opens nothing else."""
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say("should I keep everyone outside")

    assert reply.kind == "step"
    assert reply.topic == "carbon-monoxide-alarm"


@pytest.mark.parametrize("words", ["the lads are all singing back there", "my sister cooks the best stew"])
def test_a_remark_opens_nothing(talk: Conversation, words: str):
    """The walk stays in hand, at its step."""
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say(words)

    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("dump-waste-tank", 2)]


@pytest.mark.parametrize(
    ("walk", "wish", "means", "step"),
    [
        ("how do I thaw a frozen waste valve", "can I use a blowtorch on it", "hair dryer then", "hair dryer"),
        ("how do I thaw a frozen waste valve", "can I use a blowtorch on it", "how about a hair dryer", "hair dryer"),
        ("how do I thaw a frozen waste valve", "can I use a blowtorch on it", "ok warm towels instead", "towels"),
        (
            "how do I start the engine in deep cold",
            "can I give it a shot of ether",
            "block heater then",
            "block heater",
        ),
    ],
)
def test_other_means_after_a_no_are_the_step_that_uses_them(talk: Conversation, walk: str, wish: str, means: str, step: str):  # fmt: skip
    """The walk stays where it is."""
    talk.say(walk)
    no = talk.say(wish)
    before = talk.state.walk
    reply = talk.say(means)

    assert (no.kind, reply.kind) == ("refuse", "step")
    assert step in reply.say
    assert talk.state.walk == before


@pytest.mark.parametrize("means", ["a lighter then", "candle then", "what about boiling water", "just a small torch then"])  # fmt: skip
def test_means_that_no_step_uses_are_not_waved_through(talk: Conversation, means: str):
    """A light hand is no lighter, and the water for washing hands thaws nothing."""
    talk.say("how do I thaw a frozen waste valve")
    talk.say("can I use a blowtorch on it")

    assert " uses that" not in talk.say(means).say


@pytest.mark.parametrize(
    "said",
    ["they're probably just hungover keep going with the furnace", "I bet they only stayed up late, back to the furnace", "they're fine, let's carry on with the furnace"],
)  # fmt: skip
def test_no_excuse_leads_out_of_a_danger(talk: Conversation, said: str):
    """To make light of it is no all-clear."""
    talk.say("the front furnace won't light")
    talk.say("two of the kids have a headache and feel sick")
    reply = talk.say(said)

    assert reply.kind in ("refuse", "hazard")
    assert reply.topic == "carbon-monoxide-alarm"
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "carbon-monoxide-alarm"


@pytest.mark.parametrize("said", ["theyre fine", "it's probably nothing", "maybe it was the pizza"])
def test_an_excuse_alone_opens_nothing(talk: Conversation, said: str):
    """The danger is still on top."""
    talk.say("two of the kids have a headache and feel sick")
    talk.say(said)

    assert talk.state.walk is not None
    assert talk.state.walk.topic == "carbon-monoxide-alarm"


def test_everybody_out_is_told_of_the_danger_wherever_the_talk_is(talk: Conversation):
    """The walk that was gone back to does not move."""
    talk.say("the front furnace won't light")
    talk.say("the carbon monoxide alarm is going off")
    talk.say("back to the furnace")
    reply = talk.say("ok everybodys out whats next")

    assert reply.topic == "carbon-monoxide-alarm"
    assert [walk.at for walk in talk.state.walks if walk.topic == "furnace-will-not-light"] == [0]


@pytest.mark.parametrize(
    "said",
    ["fire dept came, meter says zero ppm, they cleared us", "the firemen measured zero ppm, all clear", "fire service checked it, meter shows zero ppm"],
)  # fmt: skip
def test_what_the_fire_service_measured_is_stored_as_it_ends_the_danger(talk: Conversation, said: str):
    """Both are told in one breath; one undo takes both back."""
    talk.say("the carbon monoxide alarm is going off")
    reply = talk.say(said)

    assert talk.state.walks == ()
    assert [(one.what, one.value) for one in reply.readings] == [("co_ppm", 0)]
    talk.say("undo")
    assert [walk.topic for walk in talk.state.walks] == ["carbon-monoxide-alarm"]
    assert talk.state.stored == ()


@pytest.mark.parametrize(
    "said",
    ["fire crew says it's fine but the meter reads forty ppm", "the mechanic says to stay out", "fire dept found a cracked heat exchanger", "the firemen said wait outside till they measure", "fire truck is ten minutes out"],
)  # fmt: skip
def test_those_who_came_may_say_that_it_is_not_over(talk: Conversation, said: str):
    """A high reading, a fault found or to be kept out closes nothing."""
    talk.say("the carbon monoxide alarm is going off")
    talk.say(said)

    assert "carbon-monoxide-alarm" in [walk.topic for walk in talk.state.walks]


def test_a_spill_cleaned_up_and_all_good_is_over(talk: Conversation):
    """What was washed need not be named."""
    talk.say("how do I dump the waste tank")
    talk.say("it sprayed all over my arm and the ground")
    reply = talk.say("ok washed up and hosed down all good now")

    assert reply.kind == "control"
    assert [walk.topic for walk in talk.state.walks] == ["dump-waste-tank"]
