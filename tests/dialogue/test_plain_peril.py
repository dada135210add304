"""Perils that plain words tell: shut in a bay, fading brakes, falling asleep; and what the cold explains. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    [
        "one of the players is trapped in bay 4",
        "i can hear somebody banging inside the luggage bay",
        "there's a child in the cargo hold",
        "she's shut in the left bay",
    ],
)
def test_who_is_shut_in_a_bay_is_let_out_first(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert (reply.kind, reply.topic) == ("procedure", "lock-and-unlock-bay")
    assert reply.show[0] == "DANGER: Open that bay now. The coach does not move."


@pytest.mark.parametrize(
    "said",
    [
        "somebody is loading bags in the bay",
        "the bay doors are all locked",
        "a kid was locked in the bay last year",
        "something is stuck in the bay door",
    ],
)
def test_other_things_in_bays_are_none(said: str, mind: Mind):
    assert "DANGER: Open that bay" not in Conversation(mind).say(said).show[0]


@pytest.mark.parametrize(
    "said", ["the pedal sinks further each time", "brakes are getting mushy", "the brake pedal goes to the floor"]
)
def test_brakes_that_fade_stop_the_coach(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.topic == "check-air-brakes"
    assert "stop now" in reply.show[0]


def test_on_the_road_the_orders_stand_alone(mind: Mind):
    """A procedure would be kept for the stop."""
    talk = Conversation(mind)
    talk.say("we are rolling")
    reply = talk.say("brakes are getting mushy")
    assert (reply.kind, reply.topic) == ("hazard", "check-air-brakes")
    assert "stop now" in reply.say


def test_the_pedal_of_the_toilet_is_no_brake(mind: Mind):
    assert Conversation(mind).say("toilet pedal goes down but nothing flushes").topic == "toilet-trouble"


@pytest.mark.parametrize("said", ["i can barely keep my eyes open", "i think i nodded off", "i can't remember the last few miles"])  # fmt: skip
def test_who_falls_asleep_at_the_wheel_stops(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.topic == "plan-driving-hours"
    assert "stop at the first safe place now" in reply.show[0]
    assert "carbon monoxide" in reply.show[1]


@pytest.mark.parametrize(
    "said", ["it's only 51 in the bunks and the thermostat is set to 68", "dial says 70 but it reads 54 back there"]
)
def test_a_cold_cabin_sends_nobody_out(said: str, mind: Mind):
    assert Conversation(mind).say(said).kind != "hazard"


def test_with_somebody_ill_it_does(mind: Mind):
    reply = Conversation(mind).say("it's only 51 in the bunks, heater is on and two of them have headaches")
    assert (reply.kind, reply.topic) == ("hazard", "carbon-monoxide-alarm")


@pytest.mark.parametrize(
    "said", ["he was out in the snow and has stopped shivering", "the girl shivers from the cold outside and mumbles"]
)
def test_who_is_chilled_is_for_the_emergency_services(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.kind != "hazard"
    assert "Call the emergency services" in reply.say


@pytest.mark.parametrize(
    "said", ["our headcount is 27, should be 28", "i have 27, one's missing", "a kid missed the count"]
)
def test_who_is_missing_holds_the_coach(said: str, mind: Mind):
    assert "do not move the coach" in Conversation(mind).say(said).show[0]


def test_no_driving_on_with_nuts_missing(mind: Mind):
    reply = Conversation(mind).say("can i keep driving on the two remaining lug nuts")
    assert reply.kind == "refuse"
    assert "all nuts" in reply.say


@pytest.mark.parametrize(
    "said", ["left rear tire just blew out", "we had a blowout", "the tread is peeling off", "the wheel shakes and something is slapping the fender"]
)  # fmt: skip
def test_a_tire_that_comes_apart_is_held_and_not_braked(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.topic == "change-a-tire"
    assert "stay off the brake" in reply.show[0]


@pytest.mark.parametrize(
    "said", ["we're skidding on the ramp", "black ice ahead on the bridge", "the coach is fishtailing", "the truck ahead just jackknifed"]
)  # fmt: skip
def test_ice_under_the_wheels_is_met_by_easing_off(said: str, mind: Mind):
    assert "ease off" in Conversation(mind).say(said).show[0]


@pytest.mark.parametrize(
    "said", ["there is ice on the steps", "how do I change a blown tire", "one of the boys slid on the ice", "the parking lot is sheer ice", "we expect black ice on the bridge tomorrow"]
)  # fmt: skip
def test_other_ice_and_other_tires_are_none(said: str, mind: Mind):
    first = Conversation(mind).say(said).show[0]
    assert "ease off" not in first
    assert "stay off the brake" not in first


@pytest.mark.parametrize(
    "said", ["the shore plug feels hot", "our cord is really warm at the outlet", "is it ok that the plug gets warm", "I can barely hold the plug, can't touch it, too hot plug"]
)  # fmt: skip
def test_a_hot_plug_is_switched_off_before_it_is_pulled(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.topic == "no-shore-power"
    assert reply.show[0].startswith("DANGER: Switch off the breaker at the outlet, then unplug.")


def test_a_plug_that_smokes_is_a_fire(mind: Mind):
    assert Conversation(mind).say("the shore plug is hot and smoking").kind == "hazard"


@pytest.mark.parametrize("said", ["the plug should not get hot", "the water outlet is warm", "plugged in and nice and warm inside"])  # fmt: skip
def test_other_warmth_is_none(said: str, mind: Mind):
    assert "Switch off the breaker" not in Conversation(mind).say(said).show[0]


@pytest.mark.parametrize(
    "said", ["the engine just died on the highway", "we're coasting to the shoulder", "she stalled in the left lane, trucks behind us"]
)  # fmt: skip
def test_an_engine_that_quits_on_the_road_is_rolled_aside(said: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.topic == "set-warning-triangles"
    assert "steer well off the road" in reply.show[0]


def test_an_engine_that_quits_at_the_rink_is_none(mind: Mind):
    assert "steer well off" not in Conversation(mind).say("engine died while parked at the rink last night").show[0]
