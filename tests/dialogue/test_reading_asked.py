"""Readings asked back by name, and what heating costs in propane."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize("said", ["what is the shore voltage", "what did i say the volts were", "whats the voltage", "what was the shore voltage"])  # fmt: skip
def test_the_shore_voltage_is_what_was_told(said: str, mind: Mind):
    talk = Conversation(mind)
    assert "use another outlet" in talk.say("shore volts 102").say
    talk.say("no i misread, 118 volts")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert reply.say.startswith("Shore power 118 volts. Said")


def test_without_a_reading_no_load_is_invented(mind: Mind):
    reply = Conversation(mind).say("what is the shore voltage")
    assert reply.say.startswith("No shore voltage reading stands.")


@pytest.mark.parametrize("said", ["whats the outside temp", "what's the temperature outside", "outside temperature?"])
def test_the_temperature_outside_is_asked_back(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 19 outside")
    assert talk.say(said).say.startswith("Outside -19 °F. Said")


@pytest.mark.parametrize("said", ["how many did i have last night", "how many people slept aboard last night", "how many were we yesterday"])  # fmt: skip
def test_head_counts_of_the_night_before(said: str, mind: Mind):
    talk = Conversation(mind)
    assert talk.say(said).say.startswith("No head count stands.")
    talk.say("34 people aboard")
    talk.say("make the last round before departure")
    talk.say("6 aboard", minutes=600)
    reply = talk.say(said)
    assert [line.partition(".")[0] for line in reply.show] == ["6 people aboard", "34 people aboard"]


@pytest.mark.parametrize(
    ("said", "until"),
    [
        ("whats the cost in propane of running the heat all night", "08:00"),
        ("what does that cost in propane", "08:00"),
        ("how much propane do we burn tonight", "08:00"),
        ("how much propane do the furnaces burn until 7", "07:00"),
        ("how much will the heat use in propane till morning", "08:00"),
        ("what will it cost in propane till 6 am", "06:00"),
    ],
)
def test_what_heating_costs_in_propane(said: str, until: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside")
    talk.say("outside bottle half, inside bottle full")
    reply = talk.say(said)
    assert reply.kind == "calculation"
    assert f"pounds of propane until {until}, of your 60." in reply.say


def test_a_time_of_day_is_no_amount_of_propane(mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside")
    talk.say("outside bottle half, inside bottle full")
    assert "left at 08:00, of 60 now" in talk.say("how much propane will be left by 8").say


def test_what_the_cost_needs_is_asked_for(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("what does the heat cost in propane until morning")
    assert reply.kind == "clarify"
    assert "Tell me the propane level" in reply.say


def test_too_little_for_the_night_is_said_first(mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside")
    talk.say("outside bottle an eighth, inside bottle empty")
    assert talk.say("what will the heat cost in propane until 8").say.startswith(
        "All 5 pounds may be gone before 08:00."
    )
