"""What is plainly asked for is no unsafe wish, however like one it sounds; and what is unsafe stays so."""

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("let's top up the fresh tank", "fill-fresh-water"),
        ("walk me through draining the waste tank", "dump-waste-tank"),
        ("time to do the pre trip", "pre-trip-inspection"),
        ("let's check the tires", "check-tires"),
        ("we'll hook up the shore power now", "connect-shore-power"),
        ("lets light the furnace again", "furnace-will-not-light"),
    ],
)
def test_a_deed_by_its_name_opens_its_walk(talk: Conversation, said: str, topic: str):
    reply = talk.say(said)

    assert (reply.kind, reply.topic) == ("procedure", topic)


@pytest.mark.parametrize(
    "said",
    [
        "let's leave out the walk round today",
        "let's warm the dump valve with the blowtorch",
        "i'll run the generator inside the barn",
        "let's let the waste go in the ditch",
        "we'll fill up with the furnaces going",
    ],
)
def test_an_unsafe_deed_is_refused(talk: Conversation, said: str):
    assert talk.say(said).kind in ("refuse", "hazard")


@pytest.mark.parametrize("said", ["step light burnt out", "the lamp over bunk two keeps flickering"])
def test_a_lamp_that_fails_is_no_fire(talk: Conversation, said: str):
    assert talk.say(said).kind != "hazard"


def test_a_lamp_that_smells_burnt_is(talk: Conversation):
    assert talk.say("the lamp over bunk two flickers and smells burnt").kind == "hazard"


@pytest.mark.parametrize("said", ["eighteen pounds", "about 18 lb", "we've got eighteen pounds left"])
def test_the_amount_that_was_asked_back_completes_the_sum(talk: Conversation, said: str):
    """18 lb at 21,548 BTU/lb (common practice) over 25,000 BTU/h: 15.5 h."""
    talk.say("how long will the propane last with a 25,000 btu furnace running flat out")
    reply = talk.say(said)

    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(15.5, abs=0.1)
    half = talk.say("and if it's only on half the time")
    assert half.estimate is not None
    assert half.estimate.value == pytest.approx(31.0, abs=0.2)


def test_a_wish_after_a_sum_is_no_part_of_it(talk: Conversation):
    """3 psi a minute are allowed with the brakes applied, 49 CFR 393 and the state tests (common practice)."""
    talk.say("lost two psi in a minute with my foot on it is that ok")

    assert talk.say("now it lost six. ill drive it anyway its only forty minutes").kind == "refuse"
