"""A danger raised falsely ends when it is denied and explained; doubt and other dangers leave it open. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("raised", "denied"),
    [
        ("I smell gas in the coach", "no no, no alarm, we're all fine"),
        ("I smell gas in the coach", "sorry, no gas, that's somebody's hair spray, everybody is okay"),
        ("there is smoke in the cabin", "no smoke, it's only the kettle steaming"),
        ("there is sewage on the ground", "my mistake, that's not sewage, it's slush off the wheels"),
        ("the CO alarm is going off", "no alarm, it's just the low battery chirp"),
        ("I got a tingle off the door", "no shock, it was only static"),
    ],
)
def test_a_denied_danger_is_closed(talk: Conversation, raised: str, denied: str):
    """What it interrupted is offered, and who must clear it is still said."""
    talk.say("how do I fill the fresh tank")
    assert talk.say(raised).kind == "hazard"
    reply = talk.say(denied)
    assert reply.kind == "control"
    assert "If it comes back" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "fill-fresh-water"


@pytest.mark.parametrize(
    ("raised", "said"),
    [
        ("I smell gas in the coach", "no gas at the back"),
        ("I smell gas in the coach", "no gas, but two are dizzy"),
        ("I smell gas in the coach", "no alarm yet, everyone's fine"),
        ("there is smoke in the cabin", "no fire, just smoke"),
        ("there is smoke in the cabin", "no flames, it's under the dash"),
        ("the CO alarm is going off", "no fumes in here, everybody's fine"),
        ("there is sewage on the ground", "maybe no spill, it might be slush"),
    ],
)
def test_it_stays_open(talk: Conversation, raised: str, said: str):
    """Nobody sees carbon monoxide, and a "but" or "maybe" denies nothing."""
    assert talk.say(raised).kind == "hazard"
    talk.say(said)
    assert talk.state.walks
    assert any(walk.topic in talk.mind.knowledge.hazards for walk in talk.state.walks)
