"""Sums asked in a conversation: what a follow-up changes, and when it is asked back. Numbers: by hand beside each."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

LB_PER_GAL = 8.337
"""Water at 60 °F (CoolProp)."""


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def value(talk: Conversation, said: str) -> float | None:
    estimate = talk.say(said).estimate
    return None if estimate is None else estimate.value


def test_a_use_by_head_and_day_stays_one(talk: Conversation):
    assert value(
        talk, "72 gallons, eighteen people at a gallon and a half each a day, how long does the water last"
    ) == (
        pytest.approx(64)  # 72 / (18 x 1.5) days
    )
    assert value(talk, "what if they drink like fish and use two") == pytest.approx(48)  # 72 / 36 days
    assert value(talk, "and with twenty four of em") == pytest.approx(36)  # 72 / 48 days


@pytest.mark.parametrize(
    ("first", "then", "after"),
    [
        ("240 miles at 55 how long", "make it sixty, the road is dry", 4.0),
        ("fill eighty four gallons at seven a minute, how many minutes", "and if i stop at forty two gallons", 6.0),
        ("been driving six hours, how much driving do i have left", "sorry, five not six", 5.0),  # 49 CFR 395.5: ten
        ("how many hours does 30 gallons last at 5 gallons an hour", "how long if it's only three an hour", 10.0),
        ("charge back eighty amp hours at thirty two amps, no losses, how long", "and with the twenty amp one", 4.0),
    ],
)
def test_the_amount_meant_is_changed(talk: Conversation, first: str, then: str, after: float):
    talk.say(first)
    assert value(talk, then) == pytest.approx(after)


def test_a_stop_makes_the_trip_longer_and_the_clock_is_told(talk: Conversation):
    talk.say("150 miles at fifty, how long")
    assert value(talk, "plus a half hour stop") == pytest.approx(3.5)
    assert ":" in talk.say("so when are we there if we leave now").say


def test_what_is_missing_to_full_is_not_what_is_there(talk: Conversation):
    talk.say("fresh is at fifty five percent")
    assert value(talk, "how many gallons short of full is that") == pytest.approx(54)  # 45 % of 120 gallons
    assert value(talk, "how many gallons is that") == pytest.approx(66)


def test_a_share_of_what_is_named(talk: Conversation):
    percent = value(talk, "12.45 volts rested at eighty degrees, what percent is the battery")
    assert percent is not None
    assert value(talk, "out of three hundred amp hours how many is that") == pytest.approx(3 * percent)


def test_bags_by_head_are_counted_for_all(talk: Conversation):
    talk.say("twenty six passengers")
    assert value(talk, "two bags each at thirty pounds, what does that come to") == pytest.approx(1560)
    assert value(talk, "make it three bags") == pytest.approx(2340)


def test_the_other_tank(talk: Conversation):
    talk.say("what does a full waste tank weigh")
    assert value(talk, "same for the other tank") == pytest.approx(120 * LB_PER_GAL, rel=0.001)


@pytest.mark.parametrize(
    "turns",
    [
        ("fresh is at seventy five gallons", "make it three minutes"),
        ("forty duffels at forty two pounds each, what does that come to", "make it fifty"),
        ("fifteen bags at thirty pounds, total", "plus ten more bags"),
    ],
)
def test_what_has_no_sure_place_gives_no_number(talk: Conversation, turns: tuple[str, ...]):
    for said in turns[:-1]:
        talk.say(said)
    reply = talk.say(turns[-1])
    assert reply.kind == "clarify"
    assert reply.estimate is None


def test_a_change_is_not_made_on_top_of_one_that_was_not(talk: Conversation):
    talk.say("forty duffels at forty two pounds each, what does that come to")
    talk.say("make it fifty")
    assert "The last number, 1,680 pounds" in talk.say("and in kilos").say


def test_same_for_another_tank_tells_its_own_level(talk: Conversation):
    talk.say("fresh is two thirds")
    reply = talk.say("same for the waste, it's at a quarter")
    assert [(one.what, one.value) for one in reply.readings] == [("waste", 0.25)]
