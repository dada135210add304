"""A cylinder is not filled past its legal fill: refused with the limit, however the amount was told."""

from __future__ import annotations

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from tests.dialogue.conversation import NOON

# A cylinder named by its pounds is named by its legal fill; 80 % of the volume (29 CFR 1910.110, published).
PAST = {
    "is it alright to fill the 30 lb cylinder to 34 lb": 30.0,
    "can they get 11 gallons into a forty pounder": 40.0,
    "top my hundred pound bottle up to 92 percent": 100.0,
    "squeeze another 4 pounds in a full 20 lb cylinder": 20.0,
    "would two 30 pound cylinders take 65 pounds": 60.0,
    "bottle with wc 71.4 lb, can it hold 35 lb of propane": 29.99,
    "fill a twenty pound cylinder right up to the brim how many gallons": 20.0,
}
WITHIN = {"can i put 25 lb in a 30 lb cylinder": 25.0, "will 4 gallons go in a 20 pounder": 16.96}


@pytest.mark.parametrize(("said", "most"), PAST.items())
def test_a_fill_past_the_limit_is_refused_with_the_limit(mind: Mind, said: str, most: float):
    reply = take_turn(State(), said, mind=mind, now=NOON).reply

    assert reply.kind == "refuse"
    assert reply.topic == "swap-or-refill-cylinder"
    assert reply.estimate is None or reply.estimate.value is None
    if reply.estimate is not None:
        assert reply.estimate.also[0].value == pytest.approx(most, abs=0.05)
        assert "80 percent" in reply.say


@pytest.mark.parametrize(("said", "pounds"), WITHIN.items())
def test_a_fill_within_it_is_answered_with_a_yes(mind: Mind, said: str, pounds: float):
    reply = take_turn(State(), said, mind=mind, now=NOON).reply

    assert reply.kind == "calculation"
    assert reply.say.startswith("Yes")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(pounds, abs=0.05)
