"""Whether a voltage at the shore connection will do.

The span is checked against ANSI C84.1, utilization voltage, range A: 110 to 126 V of 120 (from memory).
"""

from __future__ import annotations

import pytest

from cabassist.dialogue import volts_asked
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("is 108 volts ok", "No: 108 volts is too low"),
        ("is 108 volts too low", "No: 108 volts is too low"),
        ("is 131 v safe for the coach", "No: 131 volts is too high"),
        ("118 volts at the pedestal, is that enough", "Yes: 118 volts is good"),
    ],
)
def test_a_voltage_that_is_named_is_judged(said: str, verdict: str, mind: Mind):
    reply = Conversation(mind).say(said)
    assert reply.show[0].startswith(verdict)
    assert reply.show[-1] == "Source: ANSI C84.1, utilization voltage, range A (from memory)"


def test_the_one_that_was_told_is_judged(mind: Mind):
    talk = Conversation(mind)
    assert "switch off heavy loads" in talk.say("shore power 108 volts").say
    assert talk.say("is that enough").show[0].startswith("No: 108 volts")


def test_a_battery_is_not(mind: Mind):
    """Twelve volts are told of a battery: its charge is worked out."""
    reply = Conversation(mind).say("is 12.1 volts ok")
    assert reply.kind == "calculation"


def test_the_span_is_of_the_rated_voltage():
    assert volts_asked.odd(109.9, 120) == volts_asked.LOW
    assert volts_asked.odd(110, 120) == volts_asked.odd(126, 120) == ""
    assert volts_asked.odd(127, 120) == volts_asked.HIGH
    assert volts_asked.odd(230, 230) == ""
    assert volts_asked.odd(12.4, 120) == ""
