"""A light that a step looks for: told lit it is done, told dark it says what that means and offers the procedure."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.record.defects import open_defects
from tests.dialogue.conversation import Conversation


def at_light(mind: Mind) -> Conversation:
    """At the step of the night round that looks for the heat tape's light."""
    talk = Conversation(mind)
    talk.say("park the coach for the night")
    talk.say("go to step 14")
    return talk


@pytest.mark.parametrize("said", ["red light isn't on", "no light at all", "it's dark", "the light is out"])
def test_dark_offers_the_check_and_logs_nothing(said: str, mind: Mind):
    talk = at_light(mind)
    reply = talk.say(said)
    assert reply.show[0] == "Then the heat tape has no power, and the waste can freeze."
    assert reply.options == ("check-heat-tape",)
    assert not open_defects(talk.state.record)
    assert talk.say("yes").topic == "check-heat-tape"


def test_next_leaves_the_offer(mind: Mind):
    talk = at_light(mind)
    talk.say("it's dark")
    reply = talk.say("next")
    assert reply.step is not None
    assert reply.step.index == 15


@pytest.mark.parametrize("said", ["red light is on", "it's lit", "the light's glowing red"])
def test_lit_is_the_step_done(said: str, mind: Mind):
    reply = at_light(mind).say(said)
    assert reply.step is not None
    assert reply.step.index == 15


def test_the_pilot_light_of_the_plug(mind: Mind):
    talk = Conversation(mind)
    talk.say("connect shore power")
    talk.say("go to step 11")
    assert talk.say("the pilot light is dark").options == ("no-shore-power",)


@pytest.mark.parametrize(("step", "said"), [(10, "scene lights off"), (10, "the scene lights are all off now")])
def test_what_is_switched_off_is_told_off(step: int, said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("make the last round before departure")
    talk.say(f"go to step {step}")
    reply = talk.say(said)
    assert reply.step is not None
    assert reply.step.index == step + 1


def test_air_is_not_passed_without_a_reason(mind: Mind):
    """A second next asks why, as the step carries a warning."""
    talk = Conversation(mind)
    talk.say("make the last round before departure")
    talk.say("go to step 21")
    talk.say("next")
    assert "Tell me why you skip it" in talk.say("next").say


def test_what_is_supposed_to_be_is_asked_in_passing(mind: Mind):
    talk = Conversation(mind)
    talk.say("make the last round before departure")
    talk.say("next")
    reply = talk.say("is the propane supposed to be off on the road")
    assert talk.state.walk is not None
    assert (talk.state.walk.topic, talk.state.walk.number) == ("prepare-to-depart", 2)
    assert reply.options == ("shut-off-propane",)
