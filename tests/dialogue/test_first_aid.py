"""Somebody is hurt or ill: the driver is sent to the emergency services, and the walk in hand stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

HURT = [
    "a kid tripped on the step and is bleeding from the forehead",
    "one of the guys slid on the ice and broke his wrist",
    "a passenger isn't breathing",
    "the man in seat six stopped breathing",
    "I think our trainer is having a heart attack",
    "a fan has a stroke, his mouth hangs",
    "somebody's having a seizure on the sidewalk",
    "Grandpa went down with chest pain",
    "she's clutching her chest",
    "one of the players slipped on the ice and hurt his wrist",
    "frostbite on three toes",
    "the goalie has frostbite, what now",
    "her ear is bad, it's frostbitten",
    "he burned his hand on the stove",
    "a boy scalded his arm with hot tea",
    "a girl is choking on a grape",
    "he's choking!",
    "allergic to nuts, she can't breathe",
    "she's having an allergic reaction",
    "where's her EpiPen, she needs it",
    "I cut my hand open on the tool box",
    "the cut needs stitches",
    "a kid got hit by a car in the lot",
    "he fell off the steps and can't move",
    "someone needs an ambulance",
    "his leg won't stop bleeding",
    "our forward has a dislocated shoulder",
    "she has trouble breathing, asthma attack",
    "a player is seriously hurt",
    "the driver's diabetic and crashing",
    "she slammed her fingers in the luggage door",
]
POISONED = ["a child drank some windshield washer fluid", "my son swallowed a button battery", "he swallowed bleach"]
NOT_HURT = [
    "our winger broke his arm last season",
    "we're bleeding goals tonight",
    "they choked in the third period",
    "the seat has a broken arm rest",
    "my heart stopped when she slid on the ice",
    "his knee is bruised",
    "he's out with a broken foot",
    "the captain had a concussion three weeks ago",
    "nearly had a heart attack at the fuel price",
    "that bill gave me a heart attack",
    "he broke his hand in college",
    "I'm bleeding the brakes",
    "I can't find the bleeding key",
    "the generator is choking on diesel",
    "is it a two stroke or a four stroke engine",
    "how long until frostbite at minus twenty",
    "can you get frostbite in this wind chill",
    "what if somebody has a seizure on the road",
    "nobody is bleeding, just a flat tire",
    "the kid has a nosebleed",
    "she broke my back window",
    "the brake caliper had a seizure",
    "they choked on the power play",
    "where is the first aid kit, he cut his thumb",
    "the engine drank a gallon of coolant",
    "is the pink antifreeze safe for drinking lines",
    "he almost broke his neck on those steps",
    "the pipe burst and the tap is broken",
    "CPR training is on Monday",
    "my hands are frozen",
    "he once broke his leg in overtime",
]
COACH_DANGERS = [
    ("I smell gas and one player is bleeding from the head", "propane-smell"),
    ("there's smoke in the bunks and he can't breathe", "smoke-or-fire"),
    ("the CO alarm is going off and she has chest pain", "carbon-monoxide-alarm"),
    ("a player fainted in the coach", "carbon-monoxide-alarm"),
    ("everyone has a headache and feels sick", "carbon-monoxide-alarm"),
    ("got a shock from the bay door and burned his hand", "shock-from-coach-body"),
]


@pytest.mark.parametrize("said", HURT)
def test_who_is_hurt_is_sent_to_the_emergency_services(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert (reply.kind, reply.topic) == ("unknown", None)
    assert reply.say.startswith("I have no first aid. Call the emergency services now and do what they say.")
    assert "The first aid kit is at the shelf above the driver." in reply.say
    assert talk.events[-1].kind == "asked"


@pytest.mark.parametrize("said", POISONED)
def test_what_was_swallowed_is_for_poison_control(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert (reply.kind, reply.topic) == ("unknown", None)
    assert "Call poison control or the emergency services now" in reply.say


@pytest.mark.parametrize("said", NOT_HURT)
def test_old_stories_and_talk_of_the_game_are_no_reports(mind: Mind, said: str):
    assert mind.hurt.find(said) is None
    assert "first aid. Call" not in Conversation(mind).say(said).say


@pytest.mark.parametrize(("said", "topic"), COACH_DANGERS)
def test_a_danger_of_the_coach_comes_first(mind: Mind, said: str, topic: str):
    reply = Conversation(mind).say(said)
    assert (reply.kind, reply.topic) == ("hazard", topic)


def test_the_walk_in_hand_stays(mind: Mind):
    talk = Conversation(mind)
    talk.say("how do I dump the waste tank")
    talk.say("next")
    reply = talk.say("a kid broke her ankle")
    assert reply.kind == "unknown"
    assert reply.show[-1].startswith("You are still at step 2 of ")
    assert reply.step is not None
    assert talk.say("next").step is not None
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("dump-waste-tank", 3)


def test_in_a_danger_nobody_is_sent_in_for_the_kit(mind: Mind):
    talk = Conversation(mind)
    talk.say("I smell gas")
    reply = talk.say("one of them broke his leg")
    assert "Call the emergency services now" in reply.say
    assert "kit" not in reply.say
    assert "You are still at step 1" in reply.show[-1]


def test_while_rolling_it_is_said_at_once(mind: Mind):
    talk = Conversation(mind)
    talk.say("we're rolling")
    assert "Call the emergency services now" in talk.say("a passenger is having a seizure").say


def test_a_coach_without_a_kit_names_none(mind: Mind):
    bare = replace(mind, coach=mind.coach.model_copy(update={"kit": []}))
    assert Conversation(bare).say("he broke his arm").say == (
        "I have no first aid. Call the emergency services now and do what they say."
    )


@pytest.mark.parametrize(
    "said",
    [
        "anna fainted",
        "my co-driver is unconscious",
        "nobody feels bad but the trainer passed out",
        "no headaches, only one who will not wake",
        "everybody is out, one has slurred speech",
    ],
)
def test_somebody_ill_in_a_danger_is_for_the_emergency_services_at_once(said: str, mind: Mind):
    """The walk stays where it is, and nobody goes back in."""
    talk = Conversation(mind)
    talk.say("the co alarm is going off")
    reply = talk.say(said)
    assert reply.kind == "hazard"
    assert reply.say.startswith("Call the emergency services now")
    assert "Go back in for nobody" in reply.say
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.at) == ("carbon-monoxide-alarm", 0)


@pytest.mark.parametrize("said", ["nobody has a headache", "no one is sick", "everybody is fine"])
def test_that_nobody_is_ill_is_no_call_for_help(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("the co alarm is going off")
    assert "emergency services" not in talk.say(said).say


@pytest.mark.parametrize(
    "said", ["what do I do for a player who fainted", "the trainer fainted, does anyone have salts"]
)
def test_asked_of_somebody_who_is_down_help_is_called_and_the_air_thought_of(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.say.startswith("I have no first aid. Call the emergency services now")
    assert "get everyone out into fresh air first" in reply.say


def test_an_old_story_of_somebody_down_calls_nobody(mind: Mind):
    assert "emergency" not in Conversation(mind).say("a kid passed out two years ago on my old bus").say
