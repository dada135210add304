"""What the readings told come to together, and what they differ by."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _value(talk: Conversation, said: str) -> float | None:
    estimate = talk.say(said).estimate
    return estimate.value if estimate is not None else None


@pytest.mark.parametrize("said", ["so how many seats are left", "how many spots does that leave us", "how many more can we take"])  # fmt: skip
def test_places_left(talk: Conversation, mind: Mind, said: str):
    """The profile tells how many may ride."""
    talk.say("eighteen aboard")
    talk.say("four more got on")

    assert _value(talk, said) == mind.coach.people.max_passengers - 22


@pytest.mark.parametrize("said", ["how much did it drop", "so how many psi have we lost"])
def test_the_last_two_readings_of_a_thing(talk: Conversation, said: str):
    """Only of the same thing, and only the way that was asked."""
    talk.say("air is at 119 psi")
    talk.say("air is at 114 psi")

    assert _value(talk, said) == 5


def test_one_reading_differs_from_nothing(talk: Conversation):
    """Nothing is made up."""
    talk.say("air is at 119 psi")

    assert _value(talk, "how much did it drop") is None


@pytest.mark.parametrize("said", ["how many pounds is that together", "so how many pounds have we got between the two of them"])  # fmt: skip
def test_two_cylinders_together(talk: Conversation, said: str):
    """Forty pounds each: 10 and 30."""
    talk.say("outside cylinder a quarter, inside cylinder three quarters")

    assert _value(talk, said) == pytest.approx(40)


def test_where_it_goes_is_no_other_question(talk: Conversation):
    """The demo coach's waste tank holds 80 gallons; the walk in hand stays."""
    talk.say("lead me through dumping the waste tank")
    talk.say("waste is at half")

    assert _value(talk, "how many gallons is that going into the sewer") == pytest.approx(40)
    assert [walk.topic for walk in talk.state.walks] == ["dump-waste-tank"]


@pytest.mark.parametrize("said", ["how warm did I say it was", "how cold did we say it was in here"])
def test_a_reading_is_asked_back_by_how_it_is_measured(talk: Conversation, said: str):
    """Without its name too."""
    talk.say("inside it's 58")

    assert "58" in talk.say(said).say


def test_the_one_before(talk: Conversation):
    """It stands in the record still."""
    talk.say("waste at thirty percent")
    talk.say("waste at forty percent")

    assert "30" in talk.say("what was it before that").say


def test_what_follows_on_it_is_answered_or_asked_back(talk: Conversation):
    """The next question leans on it like on any number."""
    talk.say("outside cylinder a quarter, inside cylinder three quarters")
    talk.say("how many pounds is that together")

    assert talk.say("how long will those pounds last at thirty thousand btu an hour").say
    assert talk.say("and at sixty thousand").say


def test_in_another_unit_puts_down_no_reading(talk: Conversation):
    """Forty pounds of propane are about 9.5 gallons; the levels told stay as they were."""
    talk.say("outside cylinder a quarter, inside cylinder three quarters")
    talk.say("how many pounds is that together")

    assert _value(talk, "in gallons") == pytest.approx(40 / 4.2, rel=0.03)
    assert _value(talk, "and in pounds") == pytest.approx(40)
    assert [one.reading.value for one in talk.state.stored] == [0.25, 0.75]


def test_a_unit_after_a_time_left_puts_down_no_reading(talk: Conversation):
    """ "In gallons" is no amount."""
    talk.say("waste three quarters")
    talk.say("how long till it's full")
    talk.say("in gallons")

    assert [one.reading.value for one in talk.state.stored] == [0.75]
