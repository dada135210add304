"""A danger closed on the word of those who may clear it; a leak told as mended. Sentences are our own."""

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
        "fire dept came and tightened a fitting on the rear locker, they say it's safe now",
        "fire guys were here, fixed a loose nut, we can go back in",
        "gas company tech replaced the regulator, no more leak",
        "firemen gave us the all clear",
        "fire chief says ok to go in",
        "technician did a leak test, all tight, he opened the valves again",
        "they measured, zero gas, we may go back in",
    ],
)
def test_gas_is_left(talk: Conversation, said: str):
    talk.say("I smell gas in the coach")
    talk.say("go to step 7")
    reply = talk.say(said)

    assert "is closed" in reply.say
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    [
        "i fixed the leak myself, it's fine now",
        "my buddy tightened it, all good",
        "fire service is here and they found a leak",
        "fire service says we must wait",
        "the technician will fix it, then it's safe",
        "fire service is on the way",
        "the electrician says it's safe",
        "fire guys say it's not safe yet",
    ],
)
def test_less_than_that_leaves_nothing(talk: Conversation, said: str):
    talk.say("I smell gas in the coach")
    talk.say("go to step 7")
    talk.say(said)

    assert talk.state.walk is not None
    assert talk.state.walk.topic == "propane-smell"


@pytest.mark.parametrize("raised", ["I smell gas in the coach", "the CO alarm is going off"])
@pytest.mark.parametrize(
    "said",
    [
        "fire service is on the way",
        "the fire department is coming",
        "fire truck is ten minutes out",
        "they're on their way",
    ],
)
def test_help_on_its_way_is_no_report_of_fire(talk: Conversation, raised: str, said: str):
    talk.say(raised)
    topic = talk.state.topic
    talk.say("everyone is out")
    reply = talk.say(said)

    assert reply.kind == "step"
    assert talk.state.walk is not None
    assert talk.state.walk.topic == topic


@pytest.mark.parametrize(
    "said",
    [
        "the fire service fixed the leak, the gas is back on. set heat for the night",
        "we had a gas leak last night, the technician repaired it",
        "gas guy replaced the hose that leaked, are we good",
        "the gas smell was cleared by the fire service an hour ago",
    ],
)
def test_a_leak_mended_in_the_past_is_asked_about(talk: Conversation, said: str):
    reply = talk.say(said)

    assert reply.say.startswith("What was cleared, and by whom?")
    assert talk.state.walks == ()


def test_the_heat_asked_for_in_the_same_breath_waits_for_a_yes(talk: Conversation):
    talk.say("the fire service fixed the leak. set heat for the night")
    talk.say("yes")
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "keep-cabin-warm"


@pytest.mark.parametrize("said", ["the technician fixed the leak but it smells of gas again", "fire service fixed the leak and it is hissing again"])  # fmt: skip
def test_a_smell_now_is_a_danger_now(talk: Conversation, said: str):
    assert talk.say(said).kind == "hazard"
