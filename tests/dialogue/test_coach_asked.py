"""A fact of the coach that is asked for: one line, and the procedure is only offered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

KIT = "find-tools-and-spares"


@pytest.mark.parametrize(
    ("said", "told", "topic"),
    [
        ("where do they stow the booster cables", "the crate in bay 5", KIT),
        ("which cabinet is the blow dryer in", "the bathroom cupboard", KIT),
        ("any idea where the zip ties are", "the red tool box in bay 5", KIT),
        ("have we got a spare bulb on board", "the red tool box in bay 5", KIT),
        ("trash bags, which drawer", "the galley drawer", KIT),
        ("where's the wheel wedges kept on this rig", "the rear of bay 5", None),
        ("where is the sewer gate valve", "deep inside bay 4", "dump-waste-tank"),
        ("where's the drinking water filler", "the blue cap in bay 3", "fill-fresh-water"),
        ("where does the sewer hose ride", "bay 4 on the right side", "stow-waste-hose"),
        ("where is the pilot light of the heat tape", "the small window", "check-heat-tape"),
        ("where is the power inlet", "bay 6 on the left side", "connect-shore-power"),
        ("where can we read the water level", "the bare tank wall in bay 3", "check-fresh-level"),
        ("where's the switch for the marker lamps", "the left side of the dash", "outside-lights"),
        ("what side is the sewer cap on", "right side", "dump-waste-tank"),
        ("which side do we take on diesel", "right front wheel", None),
        ("which side is the pump switch on", "does not name a side", "no-water-at-tap"),
        ("how many gas bottles does she run on", "2 propane cylinders in use and 1 spare", "read-propane-gauges"),
        ("how many heaters have we got", "2 propane furnaces", "keep-cabin-warm"),
        ("how many people may ride with us", "at most 40 passengers", "brief-passengers"),
        ("how many fire bottles are there and where", "The profile gives no number", KIT),
        ("how many berths are there", "The profile does not say how many berths", None),
        ("how many amps is our shore plug rated for", "30 amps at 120 volts", "connect-shore-power"),
        ("what psi do the steers take", "The front tires take 110 psi", "check-tires"),
        ("what should the rears be at", "The rear tires take 100 psi", "check-tires"),
        ("fuel tank capacity", "200 gallons", None),
        ("how big is the fresh tank", "120 gallons", "check-fresh-level"),
        ("how wide is the bus", "The profile does not say how wide the bus is", None),
        ("what's the ground clearance", "The profile does not say the ground clearance", None),
    ],
)
def test_one_line_and_the_offer(mind: Mind, said: str, told: str, topic: str | None):
    """The figures and places are those of the demo coach."""
    talk = Conversation(mind)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert told in reply.show[0] or told in reply.show[0].lower()
    assert talk.state.walk is None
    if topic is not None:
        assert reply.topic == topic
        assert reply.options == (topic,)
        assert reply.say.endswith(f"Say yes for: {mind.knowledge.title(topic)}.")
        assert talk.say("yes").topic == topic
        assert talk.state.walk is not None


def test_several_are_told_at_once(mind: Mind):
    talk = Conversation(mind)
    said = talk.say("where are the vests, the ice scraper and the log book").say
    assert all(place in said for place in ("behind the driver's seat", "the crate in bay 5", "the door pocket"))
    said = talk.say("where's the dog bone and how many amps is the shore inlet").say
    assert "the pouch on the bay 6 door" in said
    assert "30 amps" in said


def test_one_more_is_asked_for_shortly(mind: Mind):
    talk = Conversation(mind)
    talk.say("where is the torch")
    assert "the galley drawer" in talk.say("and the bin bags").say
    assert "the crate in bay 3" in talk.say("what about the funnel").say
    talk.say("how big is the waste tank")
    assert "120 gallons" in talk.say("and the fresh one").say
    assert "200 gallons" in talk.say("and the diesel").say
    assert talk.state.asking is None  # what was offered with the fresh tank is offered no more


def test_thanks_open_nothing(mind: Mind):
    talk = Conversation(mind)
    for said in ("where is the multimeter", "ok thanks", "where is the mop", "got it"):
        talk.say(said)
    assert talk.state.walk is None


@pytest.mark.parametrize(
    ("walk", "said", "told"),
    [
        ("how do I dump the waste tank", "where are the gloves", "the door pocket in bay 4"),
        ("how do I dump the waste tank", "where's the valve", "deep inside bay 4"),
        ("how do I fill the fresh tank", "where's the hose", "Fresh water hose: bay 3"),
        ("connect shore power", "which bay is the cord in", "bay 6"),
    ],
)
def test_a_walk_stays_at_its_step(mind: Mind, walk: str, said: str, told: str):
    talk = Conversation(mind)
    topic = talk.say(walk).topic
    talk.say("next")
    reply = talk.say(said)
    assert told in reply.say
    assert "Still at step 2" in reply.say
    assert talk.state.asking is None or not talk.state.asking.options
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == (topic, 2)


@pytest.mark.parametrize(
    "said",
    [
        "where do I find out if the tank is full",
        "where do I dump",
        "where do I put the gloves after",
        "how do I find the jack points",
        "where do the triangles go on a bend",
        "where's the fire extinguisher, the curtain is burning",
        "where's the cord, the steps tingle",
        "how many people are aboard",
        "how much water is left",
        "how many days of propane have we got",
        "how many gallons is nine inches",
        "what pressure will 110 drop to at minus twenty",
        "where does the water come from in the bay",
        "where's the jack and how do I use it",
        "can't find the torque wrench",
    ],
)
def test_what_is_no_such_question(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert "Say yes for" not in reply.say
    assert "profile" not in reply.say.lower()


def test_in_danger_the_danger_stays(mind: Mind):
    talk = Conversation(mind)
    hazard = talk.say("flames are coming out of the galley stove")
    assert hazard.kind == "hazard"
    reply = talk.say("where are the wheel chocks")
    assert "Say yes for" not in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.topic == hazard.topic


def test_what_is_on_record_as_missing_is_said(mind: Mind):
    talk = Conversation(mind)
    talk.say("the torque wrench is missing")
    assert "On record as missing: torque wrench." in talk.say("where is the torque wrench").say


def test_a_place_nobody_wrote_down(mind: Mind):
    diesel = mind.coach.diesel.model_copy(update={"block_heater_place": "none"})
    other = replace(mind, coach=mind.coach.model_copy(update={"diesel": diesel}))
    reply = Conversation(other).say("where is the block heater plug")
    assert reply.show[0] == "The profile does not say where the block heater plug is."
