"""Whether what was read will do.

Air: commercial driver's manual, section 5 (warning before 60 psi, governor about 100 to 125). The span of volts is checked against ANSI C84.1, utilization voltage, range A: 110 to 126 V of 120 (from memory).
"""

from __future__ import annotations

import pytest

from cabassist.dialogue import will_do
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
    talk = Conversation(mind)
    assert talk.say("is 12.1 volts ok").kind == "calculation"
    talk.say("house battery 12.4 volts")
    reply = talk.say("is that ok")
    assert reply.kind == "calculation"
    assert "percent" in reply.say


def test_the_span_is_of_the_rated_voltage():
    assert will_do.odd(109.9, 120) == will_do.LOW
    assert will_do.odd(110, 120) == will_do.odd(126, 120) == ""
    assert will_do.odd(127, 120) == will_do.HIGH
    assert will_do.odd(230, 230) == ""
    assert will_do.odd(12.4, 120) == ""


@pytest.mark.parametrize(
    ("told", "verdict"),
    [
        ("air is at 110", "Yes: 110 psi"),
        ("air is at 80", "Not yet: 80 psi"),
        ("air pressure 45", "No: 45 psi"),
        ("front tires 95 psi", "No: 95 psi is 15 below the 110 of a cold front tire"),
        ("rear tire 102 psi", "Yes: 102 psi"),
        ("waste at 70", "About "),
        ("fresh at a third", "About "),
    ],
)
def test_what_was_told_is_held_against_what_belongs_there(told: str, verdict: str, mind: Mind):
    talk = Conversation(mind)
    assert talk.say(told).kind == "reading"
    assert talk.say("is that ok").say.startswith(verdict)
    assert talk.state.walk is None
