"""A few words that change the sum before: which amount they change, and what it comes to then."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.calculation_inputs import read_question
from cabassist.sums.going_on import GoneOn, gone_on
from cabassist.sums.handing import handed_out

FILL = "how long to put 80 gallons in at 5 gallons a minute"
LASTS = "48 gallons in the fresh, twelve people at two gallons a day each, how long does it last"


def changed(mind: Mind, now: datetime, before: str, text: str) -> GoneOn | None:
    network = mind.role_network
    assert network is not None
    first = handed_out(read_question(before), network, mind.coach, now)
    assert first is not None, before
    return gone_on(before, first.estimate, text, network=network, coach=mind.coach, now=now, least=0.6)


@pytest.mark.parametrize(
    ("before", "text", "value"),
    [
        (FILL, "this hose is slower, more like four a minute", 20.0),  # 80 / 4 min
        (FILL, "and with sixty gallons", 12.0),  # 60 / 5 min
        (LASTS, "and with twenty four people", 24.0),  # 48 / (24 x 2) days
        (LASTS, "and at one gallon each", 96.0),  # 48 / 12 days
        ("150 gallons of diesel at six to the gallon, how far does that get us", "five and a half in this wind", 825.0),
        ("what's the wind chill at zero with a wind of fifteen miles an hour", "and if it picks up to twenty", -21.99),
    ],
)
def test_the_amount_that_is_meant_is_changed(mind: Mind, now: datetime, before: str, text: str, value: float):
    made = changed(mind, now, before, text)
    assert made is not None
    assert made.found.estimate.value == pytest.approx(value, rel=0.005)


def test_the_changed_question_can_be_changed_again(mind: Mind, now: datetime):
    once = changed(mind, now, FILL, "more like four a minute")
    assert once is not None
    twice = changed(mind, now, once.question, "and forty gallons")
    assert twice is not None
    assert twice.found.estimate.value == pytest.approx(10.0)  # 40 / 4 min


def test_what_the_network_does_not_come_to_itself_is_not_changed(mind: Mind, now: datetime):
    network = mind.role_network
    assert network is not None
    first = handed_out(read_question(FILL), network, mind.coach, now)
    other = handed_out(read_question(LASTS), network, mind.coach, now)
    assert first is not None
    assert other is not None
    text = "more like four a minute"
    assert gone_on(FILL, other.estimate, text, network=network, coach=mind.coach, now=now, least=0.6) is None


@pytest.mark.parametrize("text", ["and now", "it is the red one", ""])
def test_words_without_an_amount_change_nothing(mind: Mind, now: datetime, text: str):
    assert changed(mind, now, FILL, text) is None
