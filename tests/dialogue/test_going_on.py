"""Follow-ups of a sum whose words alone do not tell which amount they change."""

from __future__ import annotations

from datetime import datetime

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State


def last_of(said: str, mind: Mind, now: datetime) -> Reply:
    state = State()
    for text in said.split(" // "):
        outcome = take_turn(state, text, mind=mind, now=now)
        state = outcome.state
    return outcome.reply


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("sixty gallons to go in and the hose gives me six a minute, how long // this one's slow, more like four a minute", 15.0),  # 60 / 4
        ("waste's at fifty percent // we put in about sixteen gallons a day, when's it full // and if it's more like twenty a day", 48.0),  # 40 gal / 20 a day
        ("diesel's at three quarters // how far's that get me at six to the gallon // five and a half in this wind", 825.0),  # 150 gal x 5.5
        ("we have forty gallons left and use three an hour, how long // and at four // what if we had sixty", 15.0),  # 60 / 4
    ],
)  # fmt: skip
def test_a_follow_up_changes_the_amount_that_is_meant(mind: Mind, now: datetime, said: str, value: float):
    reply = last_of(said, mind, now)
    assert reply.kind == "calculation"
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)


def test_a_new_question_is_none(mind: Mind, now: datetime):
    said = "sixty gallons to go in and the hose gives me six a minute, how long // what size are the propane bottles"
    assert last_of(said, mind, now).kind != "calculation"
