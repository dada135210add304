"""What one line answers and no procedure does: the driver gets the fact, and a procedure is at most offered."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "told", "offered"),
    [
        ("how do i start the generator", "the engine drives it", "cold-start"),
        ("where's the starter for the genset", "Never idle in a closed building", "cold-start"),
        ("fire up the generator", "no starter", "cold-start"),
        ("is the generator on", "runs when the engine runs", ""),
        ("turn the generator off", "stop the engine", ""),
        ("can we leave the generator running all night", "kills sleepers", "connect-shore-power"),
        ("how cold does it have to be before the waste valve freezes", "32 °F (0 °C)", "check-heat-tape"),
        ("at what temperature do the pipes freeze", "Lines and hoses may freeze before", "protect-water-from-freezing"),
        ("the shower drains slowly and gurgles", "waste tank that is full", "check-waste-level"),
        ("water stands in the sink", "ice in its vent or line", "check-waste-level"),
        ("we hit a deer", "under the coach", "report-a-defect"),
        ("backed into a pole at the rink", "each thing that is broken", "report-a-defect"),
        ("we bumped a parked car", "stay there", "report-a-defect"),
        ("we're in a drift and the wheels only spin", "Dig the exhaust pipe free", "set-warning-triangles"),
        ("bus is stuck in a snowbank, what now", "call a heavy tow", "set-warning-triangles"),
        ("the player in seat 9 keeps puking", "carbon monoxide", ""),
        ("one of the girls is carsick", "next safe stop", ""),
        ("one of the kids won't wear his belt", "belted where belts are fitted", "brief-passengers"),
        ("can they eat in the bunks on the road", "no rule on food", "brief-passengers"),
        ("two guys sharing a bunk, is that ok", "made for one", "brief-passengers"),
        ("can i stop on the shoulder to pee", "49 CFR 392.22", "set-warning-triangles"),
    ],
)
def test_the_fact_is_told(mind: Mind, said: str, told: str, offered: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert told in reply.say
    assert (reply.topic or "") == offered
    assert talk.state.walk is None
    if offered:
        assert talk.say("yes").topic == offered


def test_the_tape_is_looked_at(mind: Mind):
    """No more is promised than the profile's heat loss gives at its worst."""
    reply = Conversation(mind).say("what temp does the waste tank freeze at")
    assert "holds the waste tank down to about -2 °F (-19 °C), with power on" in reply.say
    assert "red" in reply.say


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("how do I clean the generator screens", "look-after-generator"),
        ("the waste valve is frozen", "frozen-waste-valve"),
        ("how do I keep the fresh tank from freezing", "protect-water-from-freezing"),
        ("we have smoke from the generator", "smoke-or-fire"),
        ("turn off the scene lights", "outside-lights"),
        ("cabin lights are dim", "house-battery-low"),
        ("the stove is on fire", "smoke-or-fire"),
        ("hot water smells like gas", "propane-smell"),
        ("we hit a deer and the headlight is smashed", "report-a-defect"),
        ("backed into a post and now I smell diesel", "propane-smell"),
        ("fridge and microwave trip the breaker", "shore-breaker-trips"),
        ("water pump won't turn off", "pump-keeps-running"),
        ("can I use the oven to heat the cabin", "keep-cabin-warm"),
        ("run the portable generator inside", "carbon-monoxide-alarm"),
        ("the bay door is stuck in the snow", "work-a-bay-latch"),
        ("the waste hose is stuck in its tube", "free-collapsed-waste-hose"),
        ("two of them are throwing up", "carbon-monoxide-alarm"),
        ("he feels sick and his head aches", "carbon-monoxide-alarm"),
    ],
)
def test_neighbours_stay(mind: Mind, said: str, topic: str):
    assert Conversation(mind).say(said).topic == topic


def test_somebody_struck_is_an_emergency(mind: Mind):
    assert "Call the emergency services" in Conversation(mind).say("I hit a kid with the coach").say


@pytest.mark.parametrize(
    "said",
    [
        "turn off the bunk lights",
        "how do you switch the hall lights off",
        "where's the switch for the reading lights",
        "water heater stays cold",
        "no hot water",
        "how do I put the chains on",
        "the windshield keeps fogging up",
        "how do I turn on the tv",
        "the retarder won't come on",
        "how do I set the heated mirrors",
    ],
)
def test_what_is_not_in_the_knowledge(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert (reply.kind, reply.say.startswith("I do not have that.")) == ("unknown", True)
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    [
        "waste gauge says full, where am i allowed to empty it at 2 in the morning",
        "is there a place around here that takes sewage at night where we may dump",
    ],
)
def test_where_waste_may_go(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert (reply.kind, reply.topic) == ("procedure", "dump-waste-tank")
    assert "I know no places by name." in " ".join(reply.show)


@pytest.mark.parametrize(
    "said",
    [
        "the other driver gave me the keys and is asleep, what do i look at before i pull out",
        "i just took over the coach, what should i check before we leave",
        "my partner went to bed, what do i check before we roll",
    ],
)
def test_who_takes_over_inspects(mind: Mind, said: str):
    assert Conversation(mind).say(said).topic == "pre-trip-inspection"


@pytest.mark.parametrize(
    "said",
    [
        "how do I get past the interlock so it rolls with the door open",
        "how do we bypass the door interlock and roll with it open",
        "can I drive with the front door open a crack",
    ],
)
def test_the_interlock_stays(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind == "refuse"


@pytest.mark.parametrize(
    "said", ["is it ok to drive with the bay door open", "can I dump the waste on the ground at night"]
)
def test_a_wish_politely_asked_is_refused(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind == "refuse"


@pytest.mark.parametrize(
    "said", ["can I plug the heat tape in", "is it ok to open the bay door", "can I use bleach in the fresh tank"]
)
def test_leave_that_is_given(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind == "procedure"
