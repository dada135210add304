"""Dangers without a procedure: what is to be done comes at once, and what was in hand stays."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.language.danger_network import Judged
from cabassist.language.routing import reported


@pytest.mark.parametrize(
    ("text", "topic", "first"),
    [
        ("Pete is lying under the axle and the jack is sinking", "jack-the-coach", "out from under"),
        ("the coach is rolling down the lot with nobody at the wheel", "check-air-brakes", "away from its path"),
        ("water is pouring into the inverter", "find-water-leak", "Touch nothing electric"),
    ],
)
def test_what_to_do_comes_first(mind: Mind, now: datetime, text: str, topic: str, first: str):
    outcome = take_turn(State(), text, mind=mind, now=now)
    assert (outcome.reply.kind, outcome.reply.topic) == ("hazard", topic)
    assert outcome.reply.show[0].startswith("DANGER:")
    assert first in outcome.reply.show[0]
    assert first in outcome.reply.say


def test_what_was_in_hand_stays_and_yes_opens_the_procedure(mind: Mind, now: datetime):
    opened = take_turn(State(), "how do I fill the fresh tank", mind=mind, now=now)
    told = take_turn(opened.state, "water is pouring into the inverter", mind=mind, now=now)
    assert told.state.walk is not None
    assert told.state.walk.topic == "fill-fresh-water"
    assert any(event.kind == "hazard" for event in told.events)
    yes = take_turn(told.state, "yes", mind=mind, now=now)
    assert yes.reply.topic == "find-water-leak"


def test_somebody_hurt_is_sent_to_the_emergency_services(mind: Mind, now: datetime):
    text = "the trainer slipped on the step and her leg looks all wrong, she can't stand on it"
    reply = take_turn(State(), text, mind=mind, now=now).reply
    assert "emergency services" in reply.say


def _judged(**chances: float) -> Judged:
    return Judged({name.replace("_", "-"): chance for name, chance in chances.items()}, 0.0)


def test_signs_and_network_are_weighed(mind: Mind):
    hazards = mind.knowledge.hazards

    def found(sign: str | None, judged: Judged, *, supposed: bool = False) -> str | None:
        return reported(None, sign, judged, hazards, supposed=supposed)

    calm, sure = _judged(propane_smell=0.01, smoke_or_fire=0.01), _judged(propane_smell=0.97, smoke_or_fire=0.05)
    assert found("smoke-or-fire", calm) is None
    assert found(None, sure) == "propane-smell"
    assert found("smoke-or-fire", sure) == "propane-smell"
    assert found("smoke-or-fire", _judged(propane_smell=0.5, smoke_or_fire=0.3)) == "smoke-or-fire"
    assert found(None, _judged(propane_smell=0.7)) is None  # not without likeness to what is said of it
    assert found(None, _judged(under=0.98, propane_smell=0.96)) is None


def test_a_danger_being_dealt_with_is_not_raised_anew_by_its_progress(mind: Mind, now: datetime):
    opened = take_turn(State(), "I got a shock from the door handle", mind=mind, now=now)
    on = take_turn(opened.state, "breaker's off and nobody is touching it", mind=mind, now=now)
    assert on.reply.kind == "step"


def test_who_asks_to_be_led_reports_nothing(mind: Mind, now: datetime):
    reply = take_turn(State(), "walk me through unplugging the shore power", mind=mind, now=now).reply
    assert (reply.kind, reply.topic) == ("procedure", "disconnect-shore-power")
