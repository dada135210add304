"""Moves, timers, defects and hours in words of their own. Sentences are our own; the numbers are worked out beside them."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("before", "said", "value"),
    [
        # 40 lb × 21,548 BTU ÷ 20,000, and of the half full one
        (["outside bottle's full", "inside one's half"], "a 20,000 btu furnace flat out, how many hours do i get from the outside one", 43.1),
        (["outside bottle's full", "inside one's half"], "one 20,000 btu furnace, how many hours will the inside bottle last", 21.55),
        # 80 gal less a quarter, at two gallons
        (["waste's at a quarter", "when is the waste full at six an hour"], "and if half of them are at the hotel, so two an hour", 30),
        (["200 miles at fifty, how long"], "it's snowing up there, call it forty", 5),
        (["generator hours 2,200", "service is due at 2,300, how many hours to go"], "how many days is that if it runs five hours a day", 20),
        (["generator hours 2,200", "service is due at 2,300, how many hours to go", "how many days is that if it runs five hours a day"], "ten hours a day?", 10),
        # 10 + 2 - 7 (49 CFR 395.1(b)(1))
        (["driven seven, on duty nine, how much driving have i got left"], "and then we run into a blizzard nobody had forecast", 5),
        # the gas law: (100 + 14.696) × 459.67 ÷ 519.67 - 14.696 = 86.8
        (["set at 100 at sixty degrees and it's zero now, what should they read"], "if one of em reads seventy at zero", -16.8),
        (["lost three psi in a minute with the pedal down, is that a pass"], "second go it was three and a half", 3.5),
        (["odometer is 61,000 miles"], "when are the wheel nuts due a recheck", 61050),
    ],
)  # fmt: skip
def test_sums_that_go_on(talk: Conversation, before: list[str], said: str, value: float):
    for words in before:
        talk.say(words)
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(value, rel=0.01)
    assert talk.state.walk is None


@pytest.mark.parametrize("said", ["bin the ten minute one, i've seen to it", "get rid of the ten minute timer"])
def test_a_timer_named_by_its_length(talk: Conversation, said: str):
    talk.say("set a timer for ten minutes")
    talk.say("and another one for half an hour for the fill")
    talk.say(said)
    assert [timer.announce for timer in talk.state.timers] == ["Reminder: the fill."]


def test_a_reminder_taken_off_with_the_reason(talk: Conversation):
    talk.say("remind me at half past eleven to look at the vents")
    talk.say("what reminders have i got")
    talk.say("bin that, my partner's on it")
    assert talk.state.timers == ()


def test_how_something_is_done_is_no_sum(talk: Conversation):
    talk.say("outside bottle's full")
    talk.say("a 20,000 btu furnace flat out, how many hours do i get from the outside one")
    assert talk.say("how do i turn it over to the inside bottle").topic == "change-over-cylinders"


def test_something_given_up_for_another(talk: Conversation):
    talk.say("the school's breaker keeps tripping")
    assert talk.say("never mind that, we're going, how do i unplug").topic == "disconnect-shore-power"


def test_skipped_for_a_reason_told_first(talk: Conversation):
    talk.say("brief the passengers")
    assert "skipped" in talk.say("they've heard it already, skip to the next").say


def test_a_figure_out_of_its_limit_is_a_grave_defect(talk: Conversation):
    """49 CFR 393.75: 4/32 on a front tire of a bus."""
    reply = talk.say("front right tread is three thirty seconds, put that down as a defect")
    assert (reply.kind, "must not move" in reply.say) == ("defect", True)
    other = talk.say("rear left tread is six thirty seconds, log it as a defect")
    assert (other.kind, "must not move" in other.say) == ("defect", False)


def test_a_level_told_after_a_report(talk: Conversation):
    talk.say("we have a flat, what now")
    reply = talk.say("wheel's back on, odometer's fifty one thousand two hundred miles")
    assert (reply.kind, reply.readings[0].value) == ("reading", 51200)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "change-a-tire"
