"""What comes in between a walk, and short words around its commands."""

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    return talk


@pytest.mark.parametrize(
    "said",
    [
        "a fella just knocked",
        "somebody's tapping the window",
        "security just pulled up",
        "hold on a lady walked up to the step",
        "wait the assistant coach wants a word",
        "another driver is waiting outside",
    ],
)
def test_a_visitor_pauses_the_walk(talk: Conversation, said: str):
    reply = talk.say(said)

    assert reply.kind == "control"
    assert talk.state.walk is not None
    assert talk.state.walk.paused


@pytest.mark.parametrize("said", ["the pump is knocking", "a guy outside is hurt", "the kids outside are sick"])
def test_trouble_is_no_visitor(talk: Conversation, said: str):
    talk.say(said)

    assert talk.state.walk is not None
    assert not talk.state.walk.paused


@pytest.mark.parametrize(
    "said", ["lovely evening. next", "my lamp is lit, next one", "cold old night. next step, captain"]
)
def test_a_command_after_a_remark_is_obeyed(talk: Conversation, said: str):
    reply = talk.say(said)

    assert reply.step is not None
    assert reply.step.index == 3


def test_a_spill_before_a_command_comes_first(talk: Conversation):
    assert talk.say("it leaked all over my boots, next").kind == "hazard"


@pytest.mark.parametrize("said", ["reconnect the power", "plug her back in"])
def test_what_is_connected_again_is_not_unplugged(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("how do I unplug from shore power")

    assert talk.say(said).topic == "connect-shore-power"


@pytest.mark.parametrize(
    ("said", "what", "value"),
    [("the sewage tank is all empty", "waste", 0.0), ("ok the fresh tank is topped up now", "fresh", 1.0)],
)
def test_a_tank_seen_to_is_told(mind: Mind, said: str, what: str, value: float):
    reply = Conversation(mind).say(said)

    assert reply.kind == "reading"
    assert [(one.what, one.value) for one in reply.readings] == [(what, value)]


def test_what_is_kept_back_leaves_the_level(mind: Mind):
    """90 gallons less 30 at 2 x 5 = 10 gallons a shower."""
    talk = Conversation(mind)
    talk.say("fresh is ninety gallons")
    talk.say("two gallons a minute, five minutes each, how many can shower")
    reply = talk.say("and we want thirty gallons left after")

    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(6.0)


def test_hours_of_both_drivers(mind: Mind):
    """10 hours at the wheel after 8 off, 49 CFR 395.5(a) (published)."""
    talk = Conversation(mind)
    talk.say("i've driven six and a half and been on duty nine, how long can i drive")
    his = talk.say("and my partner, fresh off his eight, only drove three")
    assert his.estimate is not None
    assert his.estimate.value == pytest.approx(7.0)
    both = talk.say("what's that between the two of us")
    assert both.estimate is not None
    assert both.estimate.value == pytest.approx(10.5)


@pytest.mark.parametrize(
    "said", ["that's us done with it", "cheers, we're all done", "i think i'll leave it there and call the shop"]
)
def test_who_is_done_with_all_of_it_ends_the_walk(talk: Conversation, said: str):
    talk.say(said)

    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["that's done", "i'll stop the engine now"])
def test_a_step_that_is_done_ends_no_walk(talk: Conversation, said: str):
    talk.say(said)

    assert talk.state.walk is not None


def test_what_was_told_is_asked_back_in_a_walk(talk: Conversation):
    talk.say("it's fifty five in the cabin")
    reply = talk.say("what did i say it was in here")

    assert reply.kind == "control"
    assert "55" in reply.say


@pytest.mark.parametrize("said", ["whats it come to for thirty of us", "whats the total with forty of them"])
def test_a_level_is_not_multiplied_by_heads(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("waste is at twenty gallons")
    reply = talk.say(said)

    assert reply.estimate is None or reply.kind == "reading"


def test_one_cylinder_told_last_is_not_both(mind: Mind):
    """20 lb and 32 lb at 21,548 BTU/lb (common practice) over 30,000 BTU/h: 37.3 h."""
    talk = Conversation(mind)
    talk.say("outside cylinder twenty pounds")
    talk.say("inside one thirty two pounds")
    reply = talk.say("how long do the pair of them last with one thirty thousand btu furnace flat out")

    assert reply.estimate is None or reply.estimate.value == pytest.approx(37.3, abs=0.3)
