"""A danger that was raised by likeness alone ends with its plain denial; one of which a sign was told does not. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue import unfounded, walking
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

CO, FIRE, SPILL, GAS = "carbon-monoxide-alarm", "smoke-or-fire", "clean-up-waste-spill", "propane-smell"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def raised(talk: Conversation, topic: str, said: str) -> None:
    """A danger put on top of the walk in hand by words that hold no sign, whatever the networks make of them today."""
    talk.state = walking.open_walk(topic, talk.state, talk.mind, talk.now, 0.6, said).state


@pytest.mark.parametrize(
    ("topic", "said", "denied"),
    [
        (FIRE, "the tap comes on with a blast", "there's no fire, the water just runs hard"),
        (FIRE, "the tap comes on with a blast", "it's over, there never was any fire"),
        (SPILL, "wiped the cap and the lever", "nothing got spilled, I was only cleaning up"),
        (SPILL, "wiped the cap and the lever", "false alarm, it hasn't leaked"),
        (GAS, "had my nose at the bottles", "no smell at all, carry on with it"),
        (CO, "the heat is set to seventy", "no alarm and nobody feels ill, back to it"),
    ],
)
def test_it_goes_back_to_the_walk(talk: Conversation, topic: str, said: str, denied: str):
    """With what to do if it is there after all, and without keeping anybody out."""
    talk.say("how do I fill the fresh tank")
    talk.say("next")
    raised(talk, topic, said)
    reply = talk.say(denied)
    assert [walk.topic for walk in talk.state.walks] == ["fill-fresh-water"]
    assert reply.topic == "fill-fresh-water"
    assert reply.step is not None
    assert reply.step.index == 2
    assert "If it is there after all" in reply.say
    assert "out until" not in reply.say
    assert talk.say("next").step is not None


def test_without_a_walk_what_was_meant_is_offered(talk: Conversation):
    raised(talk, SPILL, "where can I dump the waste tank")
    reply = talk.say("nothing has spilled, I only want to empty it")
    assert talk.state.walks == ()
    assert reply.options == ("dump-waste-tank",)
    assert talk.say("yes").topic == "dump-waste-tank"


@pytest.mark.parametrize(
    ("sign", "denied"),
    [
        ("there is smoke in the cabin", "there's no fire"),
        ("I smell gas in the coach", "no gas, nobody smells it"),
        ("there is sewage on the ground", "nothing spilled"),
    ],
)
def test_a_danger_of_which_a_sign_was_told_stays(talk: Conversation, sign: str, denied: str):
    topic = talk.say(sign).topic
    talk.say(denied)
    assert [walk.topic for walk in talk.state.walks] == [topic]


def test_a_sign_told_later_counts(talk: Conversation):
    raised(talk, GAS, "had my nose at the bottles")
    talk.say("now I smell gas as well")
    assert talk.state.signed == (GAS,)
    talk.say("no gas at all")
    assert [walk.topic for walk in talk.state.walks] == [GAS]


@pytest.mark.parametrize(
    ("topic", "said"),
    [
        (CO, "no alarm"),
        (CO, "no alarm, but two have a headache"),
        (CO, "nobody is ill"),
        (GAS, "no smell now"),
        (GAS, "no gas at the back"),
        (FIRE, "no fire, just smoke"),
        (FIRE, "no fire yet"),
        (FIRE, "is there no fire?"),
        (SPILL, "nothing spilled but it drips"),
        (SPILL, "not much spilled"),
    ],
)
def test_doubt_and_half_a_denial_deny_nothing(mind: Mind, topic: str, said: str):
    """Nobody sees carbon monoxide, so for that one the people must be told to be well too."""
    assert not unfounded.denies(topic, said, mind)


def test_a_denial_raises_no_danger_anew(talk: Conversation):
    talk.say("the CO alarm is going off")
    reply = talk.say("nobody has a headache and no alarm is going, back to the furnace")
    assert reply.kind == "control"
    assert reply.say.endswith("Say yes, and I close it.")


def test_a_limp_hose_is_nobody_down(talk: Conversation):
    talk.say("there is sewage on the ground")
    talk.say("it went quiet and the hose is limp")
    assert talk.state.ill_in == ""
