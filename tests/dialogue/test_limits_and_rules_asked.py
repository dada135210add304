"""Limits, rules, lone chirps, odd noises, supposed cold and the way to a reading, told in passing. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at

DUMP = "dump the waste tank"


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("how much the waste tank holds", "80 gallons"),
        ("fresh water capacity", "120 gallons"),
        ("how much does the propane tank hold", "40 pounds"),
        ("heaviest load on the drive axle", "does not hold the axle limits"),
        ("bay 2 weight limit", "no weight limit for a bay"),
        ("how soon do i retighten the lug nuts", "50 miles"),
        ("minimum tread on the front", "4 thirty-seconds"),
        ("what amperage is the genset", "62 amps"),
        ("what's a bad co reading", "No number is safe"),
        ("is 11.9 volts bad", "Too low"),
        ("can i go all night on battery at 12.2", "do not count on it"),
        ("is idling allowed in this city", "I do not hold them"),
        ("can i use the split sleeper with passengers on board", "neither under 2 hours"),
        ("what's the driving limit in canada", "13 hours of driving"),
        ("am i legal with a clearance lamp dead", "must all work"),
        ("can i drive with the propane on", "no rule against it"),
        ("is propane allowed on the ferry", "cylinders closed"),
    ],
)
def test_a_limit_or_a_rule_is_told_and_the_walk_stays(mind: Mind, said: str, told: str):
    talk = at(mind, DUMP, 2)
    reply = talk.say(said)
    assert told in " ".join(reply.show)
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("dump-waste-tank", 2)
    assert "defect" not in talk.kinds()
    assert "hazard" not in talk.kinds()


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("a rear tire went down to 85 pounds, is that too low to drive", "15 below the 100"),
        ("left front at 80 psi, can i still drive", "run flat"),
        ("right rear reads 98, ok to go?", "as near as a gauge tells"),
        ("battery's at 11.9, is that bad", "Too low"),
    ],
)
def test_what_is_told_is_stored_and_judged(mind: Mind, said: str, told: str):
    talk = Conversation(mind)
    assert told in " ".join(talk.say(said).show)
    assert talk.kinds() == ["reading"]


@pytest.mark.parametrize(
    "said",
    [
        "the co number is bad",
        "co reads 40 is that bad",
        "the co alarm is chirping",
        "the co alarm chirps four times every minute",
        "co alarm chirps once a minute and I have a headache",
        "co alarm beeping every few seconds",
        "smoke alarm chirps every minute and it smells of burning",
        "sewage splashed on my hands and they smell",
        "i smell gas, can i drive with the propane on",
    ],
)
def test_a_danger_is_not_talked_down(mind: Mind, said: str):
    assert Conversation(mind).say(said).kind == "hazard"


@pytest.mark.parametrize(
    "said",
    [
        "one chirp a minute from the smoke alarm",
        "co detector gives one short chirp now and then",
        "the alarm on the ceiling chirps every thirty seconds",
    ],
)
def test_a_lone_chirp_is_told_with_what_an_alarm_sounds_like(mind: Mind, said: str):
    shown = " ".join(Conversation(mind).say(said).show)
    assert "low battery" in shown
    assert "four loud beeps" in shown
    assert "everyone out" in shown


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("there's a green puddle under the front", "do not drive on"),
        ("bright green liquid dripping from under the bumper", "do not drive on"),
        ("the engine squeals when it's cold", "belt"),
        ("grinding noise when i brake", "carry nobody further"),
        ("there's a weird noise from the back", "cannot tell from a noise"),
    ],
)
def test_noises_and_coolant_offer_a_report(mind: Mind, said: str, told: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert told in reply.say
    assert "report-a-defect" in reply.options
    assert "defect" not in talk.kinds()


def test_the_smell_of_waste_on_hands_is_washed_off(mind: Mind):
    talk = at(mind, DUMP, 2)
    assert "soap and running water" in talk.say("my hands still stink of poop").say
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "dump-waste-tank"


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("how many hours is that at thirty-four below", "With -34 °F outside"),
        ("will sixty-two hold on one tank till six in the morning", "one cylinder at sixty two percent"),
        ("two bottles, half and full, minus thirty-four, does that do till seven", "half and full and -34 °F"),
        ("what does that give us at thirty below", "With -30 °F outside"),
    ],
)
def test_heat_in_a_supposed_cold_stores_nothing(mind: Mind, said: str, told: str):
    talk = Conversation(mind)
    for level in ("outside cylinder 62 percent", "inside cylinder full", "it is 20 below outside"):
        talk.say(level)
    before = talk.state.stored
    reply = talk.say(said)
    assert reply.kind == "calculation"
    assert told in reply.say
    assert talk.state.stored == before


def test_a_cold_that_slows_the_gas_is_told(mind: Mind):
    reply = Conversation(mind).say("one full bottle at 34 below, will that do till seven")
    assert "too slowly" in " ".join(reply.show)


@pytest.mark.parametrize(
    ("request_", "said", "told"),
    [
        ("house battery is low", "how do i read that one", "multimeter"),
        ("cold start", "where do i see the temperature", "thermometer"),
        ("check the tires", "how do i take the pressure", "tire gauge"),
        ("read the propane gauges", "where's the gauge", "on the cylinder"),
    ],
)
def test_how_a_reading_is_taken(mind: Mind, request_: str, said: str, told: str):
    talk = Conversation(mind)
    talk.say(request_)
    assert told in talk.say(said).say
    assert talk.state.walk is not None
    assert talk.state.walk.number == 1
