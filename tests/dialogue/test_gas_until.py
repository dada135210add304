"""Whether the propane lasts until a time of day: by the board, and yes only where its early end says so."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    "said",
    ["will the propane last til 8", "is the gas enough until 8 in the morning", "do we have enough propane for the night", "will the heat last till morning on this gas"],
)  # fmt: skip
def test_whether_it_lasts_is_told_by_the_board(said: str, mind: Mind):
    """Yes only where the early end of the board is later than the time that was said."""
    talk = Conversation(mind)
    talk.say("minus 25 outside, 6 aboard")
    talk.say("outside bottle half, inside bottle full")
    reply = talk.say(said)
    assert reply.say.startswith("Yes: it is ")
    assert reply.estimate is not None
    assert reply.estimate.unit == "h"


def test_what_may_not_last_is_no_yes(mind: Mind):
    talk = Conversation(mind)
    talk.say("minus 25 outside, 6 aboard")
    talk.say("outside bottle a quarter, inside bottle empty")
    reply = talk.say("will the propane last til 8")
    assert reply.say.startswith(("Not surely: ", "No: "))
    assert reply.show[1] == "Fill before the night, or have other warmth ready."


def test_amounts_in_the_question_are_a_sum_of_their_own(mind: Mind):
    reply = Conversation(mind).say("we have 9 pounds of gas and burn 2 pounds an hour, will the gas last till 8")
    assert reply.estimate is not None
    assert "it is" not in reply.say
