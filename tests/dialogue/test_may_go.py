"""Whether the coach may leave with what is open on record."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    [
        "are we allowed to leave with those two things",
        "what was that about the mud flap, can i still drive",
        "is it legal to roll with that",
        "can we keep driving with the mud flap off",
        "ok to pull out with it like this?",
        "so we can't go?",
        "can we head out with both of those",
        "may we set off with these defects",
        "do you think we can hit the road like this",
        "is it ok to drive with the marker lamp out",
    ],
)
def test_a_plain_no_with_what_holds(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("left rear mud flap is torn off")
    talk.say("the marker lamp on the right is out")
    reply = talk.say(said)
    assert reply.kind == "refuse"
    assert reply.say.startswith("No.")
    assert "mud flap" in reply.say
    assert "marker lamp" in reply.say
    assert "49 CFR" in reply.say


@pytest.mark.parametrize(
    "said",
    ["does that ground us", "is the mud flap keeping us here", "which one is holding us up", "do we have to stay put"],
)
def test_asked_the_other_way_round(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("left rear mud flap is torn off")
    reply = talk.say(said)
    assert reply.say.startswith("The coach stays parked.")
    assert "49 CFR" in reply.say


@pytest.mark.parametrize(
    "said", ["can we leave with that", "is it ok to drive with the reading light out", "does it stop the coach"]
)
def test_what_need_not_stop_it(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("reading light over bunk 4 is out")
    reply = talk.say(said)
    assert (reply.kind, reply.say.startswith("Nothing on record keeps the coach parked.")) == ("defect", True)
    assert "need not stop the coach as it was told" in reply.say


def test_a_named_one_comes_first(mind: Mind):
    talk = Conversation(mind)
    talk.say("the horn is dead")
    talk.say("left rear mud flap is torn off")
    reply = talk.say("can we go with the mud flap like that")
    assert reply.say.index("mud flap") < reply.say.index("horn")


@pytest.mark.parametrize("said", ["can we leave with those two things", "can i still drive", "does that ground us"])
def test_without_a_record_nothing_is_told_of_it(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind not in ("refuse", "defect")


def test_other_matters_are_no_defects(mind: Mind):
    """What nobody reported is none of the record, a wish stays refused, and a walk goes on."""
    talk = Conversation(mind)
    talk.say("reading light over bunk 4 is out")
    assert "Nothing on record" not in talk.say("is it ok to drive with the scene lights on").say
    talk.say("pre trip inspection")
    assert talk.say("can we go on").kind == "step"


@pytest.mark.parametrize("said", ["can i go to the toilet", "can we run the water pump", "can we go over the list"])
def test_going_elsewhere_is_not_driving(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("the horn is dead")
    assert talk.say(said).kind != "refuse"


def test_to_the_shop_is_driving(mind: Mind):
    talk = Conversation(mind)
    talk.say("the horn is dead")
    assert talk.say("can we drive to the shop with that").say.startswith("No.")
