"""What a driver asks in the night beside the walks: back inside, what to look at, the time, the world outside, parting words, short answers."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

NIGHT_WALK = "how do I park for the night"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def levels(talk: Conversation) -> None:
    talk.say("outside cylinder at 30 percent")
    talk.say("inside cylinder at 60 percent")
    talk.say("it is minus 20 out")


# -- back inside ------------------------------------------------------------------------------

BACK_IN = [
    "can we go back in",
    "may the team come back aboard now",
    "is it ok to get back on the bus",
    "when can they go back to their bunks",
    "ok to go back inside yet?",
    "can I let the kids back in",
    "is it safe in there now",
    "how long before we can go back in",
    "are we allowed to go in again",
]


@pytest.mark.parametrize("said", BACK_IN)
def test_after_a_danger_nobody_goes_in_on_our_word(talk: Conversation, said: str):
    talk.say("the CO alarm is going off")
    talk.until_step(9)
    talk.say("next")
    assert not talk.state.walks
    reply = talk.say(said)
    assert (reply.kind, reply.topic) == ("refuse", "carbon-monoxide-alarm")
    assert "fire service" in reply.say
    assert not talk.state.walks


def test_in_the_danger_it_is_not_yet(talk: Conversation):
    talk.say("I smell propane by the locker")
    assert talk.say("can everyone come back inside").kind == "refuse"


def test_without_a_danger_it_is_asked_whether_there_was_one(talk: Conversation):
    reply = talk.say("can we go back in")
    assert reply.kind == "control"
    assert "alarm" in reply.say


@pytest.mark.parametrize("said", ["how do I back in at night", "can we put the bags back in the bay"])
def test_what_goes_back_otherwise_is_no_such_question(talk: Conversation, said: str):
    assert "stay out" not in talk.say(said).say.lower()


# -- the night --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "what should i look at during the night",
        "what do I keep an eye on overnight",
        "what should I check when I wake up",
        "anything to watch while they sleep",
        "what needs checking in the night",
        "what is left to check tonight",
        "what else is left to do before I sleep",
    ],
)
def test_what_to_look_at_in_the_night(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "control"
    for thing in ("CO alarm", "cylinder gauges", "Heat tape", "Shore power", "Common practice"):
        assert thing in reply.say
    assert talk.state.walk is None


def test_what_is_left_of_the_walk_in_hand(talk: Conversation):
    talk.say(NIGHT_WALK)
    talk.say("next")
    assert "more after this one" in talk.say("what's left to check tonight").say


def test_whether_it_is_safe_to_sleep_cannot_be_seen_from_here(talk: Conversation):
    reply = talk.say("is it safe to sleep in here tonight")
    assert reply.say.startswith("I cannot see that")


def test_in_a_danger_no_list_leads_away_from_it(talk: Conversation):
    talk.say("the CO alarm is going off")
    assert "look at this" not in talk.say("is it safe to sleep in here").say


# -- the clock --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said", ["what time is it now", "what's the time", "I need to know what time it is", "how late is it"]
)
def test_the_time_is_that_of_the_clock(talk: Conversation, said: str):
    talk.say("remind me at 23:30 to look at the tape")
    assert talk.say(said).say.startswith(f"It is {talk.now:%H:%M} on Thursday")


@pytest.mark.parametrize("said", ["its 20:15 now", "no, it's 11:05 pm", "my watch says 8 15 pm", "the time is 4 am"])
def test_a_time_told_otherwise_is_answered_with_the_clock(talk: Conversation, said: str):
    assert talk.say(said).say.startswith("My clock has 21:4")


def test_the_same_time_is_confirmed(talk: Conversation):
    assert talk.say("it's 21:41").say.startswith("Yes")


@pytest.mark.parametrize("said", ["it's 12 degrees out", "it's 20 below now", "the fresh is at 40"])
def test_other_numbers_are_no_time(talk: Conversation, said: str):
    assert "clock" not in talk.say(said).say


# -- the world outside, and parting words -----------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "is it going to snow tonight",
        "what's the forecast",
        "will it rain tomorrow",
        "how cold will it get tonight",
        "what room is the coach captain in",
        "what time is breakfast",
        "what's the hotel wifi password",
        "is the pass open",
        "who won the game",
    ],
)
def test_what_nobody_can_know_here_is_said_to_be_so(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "unknown"
    assert reply.say.startswith("I can't know that")


@pytest.mark.parametrize("said", ["thanks, good night", "good night all", "okay I'm off to bed", "night night"])
def test_good_night(talk: Conversation, said: str):
    talk.say(NIGHT_WALK)
    reply = talk.say(said)
    assert reply.say.startswith("Good night.")
    assert talk.state.walk is not None


@pytest.mark.parametrize(
    "said",
    ["i didnt ask for that", "no, I never asked for this list", "that's not what I asked", "that's the wrong list"],
)
def test_what_was_not_asked_for_is_closed_again(talk: Conversation, said: str):
    talk.say(NIGHT_WALK)
    talk.say("next")
    talk.say("the waste valve is frozen")
    assert len(talk.state.walks) == 2
    talk.say(said)
    assert [walk.topic for walk in talk.state.walks] == ["park-for-the-night"]


def test_a_danger_is_not_closed_by_it(talk: Conversation):
    talk.say("the CO alarm is going off")
    talk.say("I didn't ask for that")
    assert [walk.topic for walk in talk.state.walks] == ["carbon-monoxide-alarm"]


# -- short answers ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("what is the outside cylinder level", "Outside cylinder 30"),
        ("inside cylinder?", "Inside cylinder 60"),
        ("what's the inside bottle reading", "Inside cylinder 60"),
        ("give me the outside bottle level", "Outside cylinder 30"),
    ],
)
def test_a_level_that_was_told_is_read_back(talk: Conversation, said: str, name: str):
    levels(talk)
    assert talk.say(said).say.startswith(name)
    assert talk.state.walk is None


def test_a_level_nobody_told_is_looked_at(talk: Conversation):
    assert talk.say("what is the waste level").kind == "procedure"


@pytest.mark.parametrize(
    ("said", "opens"),
    [
        ("will the outside bottle make it to morning", ("Yes", "No", "Probably")),
        ("do i need to change the bottle over before i sleep", ("Yes, open", "No, it lasts")),
        ("should I switch cylinders tonight", ("Yes, open", "No, it lasts")),
        ("will both bottles last till breakfast", ("Yes", "No", "Probably")),
    ],
)
def test_whether_the_gas_lasts_till_morning(talk: Conversation, said: str, opens: tuple[str, ...]):
    levels(talk)
    reply = talk.say(said)
    assert reply.kind == "calculation"
    assert reply.say.startswith(opens)
    assert "07:00" in reply.say


def test_without_levels_they_are_asked_for(talk: Conversation):
    assert talk.say("will the inside bottle make it to morning").kind == "clarify"
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    [
        "if the furnace quits how long till the pipes freeze",
        "how long before the pipes freeze if the heat goes out",
        "when the propane runs out how soon do the lines freeze",
    ],
)
def test_how_long_the_pipes_have(talk: Conversation, said: str):
    talk.say("it is minus 20 out")
    reply = talk.say(said)
    assert reply.estimate is not None
    assert reply.estimate.unit == "h"
    assert reply.estimate.value is not None
    assert 3 < reply.estimate.value < 12
    assert "pipes" in reply.say


def test_how_cold_it_gets_by_morning(talk: Conversation):
    """From 04:00 to 07:00 are 3 hours."""
    talk.say("it is minus 20 out")
    reply = talk.say("what temp does it drop to inside if the propane runs out at 4 am")
    assert reply.estimate is not None
    assert reply.estimate.unit == "F"
    assert "after 3 hours" in reply.say


def test_a_timer_that_does_not_run_opens_nothing(talk: Conversation):
    assert talk.say("cancel the heat tape timer").say == "No timer is running."
    talk.say("set a timer for 30 minutes for the heat tape")
    assert "No timer is for that" in talk.say("cancel the noodles timer").say
    assert talk.say("cancel the heat tape timer").say.startswith("Timer off")
    assert talk.state.walk is None


# -- reminders at another time ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("cancel the 2 am alarm, make it 3", "03:00"),
        ("move the 2 o'clock reminder to 4", "04:00"),
        ("change the reminder to half past one", "01:30"),
        ("wake me at 5 instead of 2", "05:00"),
        ("instead of 2 wake me at 6", "06:00"),
        ("drop the 2 am one and make it 1", "01:00"),
    ],
)
def test_a_reminder_is_moved(talk: Conversation, said: str, at: str):
    talk.say("remind me at 2 am to look at the gauge")
    talk.say(said)
    (timer,) = talk.state.timers
    assert f"{timer.due:%H:%M}" == at
    assert timer.announce == "Reminder: look at the gauge."
    assert timer.due - talk.now < timedelta(hours=12)


def test_the_time_after_a_sum_is_that_of_the_clock(talk: Conversation):
    talk.say("how long to dump 60 gallons at 12 gallons a minute")
    assert talk.say("what time is it now").say.startswith("It is 21:42")


def test_one_of_several_is_taken_off_by_its_time(talk: Conversation):
    talk.say("remind me at 2 am to look at the gauge")
    talk.say("remind me at 3 am to wake Bob")
    talk.say("cancel the 2 am one")
    assert [f"{timer.due:%H:%M}" for timer in talk.state.timers] == ["03:00"]


def test_the_one_just_set_keeps_its_half_of_the_day(mind: Mind):
    talk = Conversation(mind, "2026-01-15T12:00:00+00:00")
    talk.say("remind me at 2 am to look at the gauge")
    assert talk.say("make that 3").say == "I remind you at Friday 03:00."
    assert talk.state.timers[0].announce == "Reminder: look at the gauge."


def test_one_that_is_not_set_is_said_not_to_be(talk: Conversation):
    talk.say("remind me at 2 am to look at the gauge")
    reply = talk.say("move the 5 am alarm to 6")
    assert "No reminder is set for 5 am" in reply.say
    assert len(talk.state.timers) == 1


@pytest.mark.parametrize(
    ("said", "at"), [("wake me at 2", "02:00"), ("wake me at 2 tonight", "02:00"), ("wake me at 12 tonight", "00:00")]
)
def test_two_at_night_is_two_in_the_morning(talk: Conversation, said: str, at: str):
    talk.say(said)
    assert f"{talk.state.timers[0].due:%H:%M}" == at


def test_at_noon_it_says_which_two_it_took(mind: Mind):
    talk = Conversation(mind, "2026-01-15T12:00:00+00:00")
    assert "For 02:00 say: make it 2 am." in talk.say("wake me at 2").say
    talk.say("make it 2 am")
    assert f"{talk.state.timers[0].due:%H:%M}" == "02:00"


# -- duty -------------------------------------------------------------------------------------


@pytest.mark.parametrize("said", ["when can i drive again", "what time am I legal again", "when is my rest over"])
def test_when_one_may_drive_again_is_a_time_of_day(talk: Conversation, said: str):
    """Off duty at 20:00 + 8 h (49 CFR 395.5) = 04:00."""
    talk.say("driving since 14:00")
    talk.say("I went off duty at 20:00")
    reply = talk.say(said)
    assert "At 04:00 on Friday" in reply.say
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(6.3, abs=0.1)


def test_when_one_must_stop_is_a_time_of_day(talk: Conversation):
    """On duty at 09:00 + 15 h (49 CFR 395.5) = 00:00."""
    talk.say("on duty since 09:00")
    assert "after 00:00 on Friday" in talk.say("what time do i have to be off duty").say


def test_a_shift_told_in_one_breath(talk: Conversation):
    """10 - 8 h of driving are 2 h, and 15 - 8.7 on duty more: 2 h."""
    reply = talk.say("came on duty at 13:00, drove 8 hours")
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(2.0)
    assert talk.say("how long can I still drive").estimate == reply.estimate
