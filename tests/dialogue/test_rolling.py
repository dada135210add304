"""On the road: short answers, hands-on work put off, hazards as ever."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.dialogue import duty, rolling
from cabassist.dialogue.types import Kept, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from tests.dialogue.conversation import NOON, Conversation

DUMP = "how do I dump the waste tank"
SHORE = "how do I plug in at the hotel"


@pytest.fixture
def driver(mind: Mind) -> Conversation:
    return Conversation(mind)


def test_the_limit_is_twelve_seconds_of_speech():
    """12 s is the whole of a task at the wheel (NHTSA visual-manual guidelines, 78 FR 24817, 2013); 150 words a minute is
    a usual pace of speech (common practice, no source). By hand: 12 / 60 * 150 = 30 words."""
    assert rolling.MAX_WORDS == 30


@pytest.mark.parametrize(
    "words", ["we're rolling", "We are rolling now.", "okay, we're on the move", "we are under way"]
)
def test_words_set_it_rolling(driver: Conversation, words: str):
    driver.say(words)

    assert driver.state.rolling
    assert EventDraft("rolling", {"on": True}) in driver.events


@pytest.mark.parametrize("words", ["parked", "we're parked", "okay we are parked up now"])
def test_words_say_that_it_stands(driver: Conversation, words: str):
    driver.say("we're rolling")
    driver.say(words)

    assert not driver.state.rolling
    assert EventDraft("rolling", {"on": False}) in driver.events


@pytest.mark.parametrize(
    "words",
    [
        "how do I test the service brakes once we're rolling slowly",
        "we are packed",  # near to a command is not enough
        "how do I stop the water freezing while we're parked outside the hotel",
    ],
)
def test_what_only_mentions_it_changes_nothing(driver: Conversation, words: str):
    driver.say(words)

    assert not driver.state.rolling
    assert "rolling" not in driver.kinds()


def test_a_procedure_is_put_off_and_offered_at_the_stop(driver: Conversation):
    """In the order in which they were asked for; the number opens it."""
    driver.say("we're rolling")
    reply = driver.say(DUMP)

    assert reply.kind == "control"
    assert reply.say == "I keep that for when you are parked. Dump the waste tank."
    assert driver.state.walks == ()
    assert "walk" not in driver.kinds()
    driver.say(SHORE)
    driver.say(DUMP)  # asked twice, kept once
    parked = driver.say("we're parked")
    assert parked.options == ("dump-waste-tank", "connect-shore-power")
    assert "  2. Connect shore power" in parked.show
    assert driver.say("2").topic == "connect-shore-power"
    assert driver.state.walk is not None
    assert driver.state.kept == ()


def test_the_walk_in_hand_waits(driver: Conversation):
    """Neither next nor resume moves it while rolling."""
    driver.say(SHORE)
    driver.say("next")
    driver.say("we're rolling")
    for words in ("next", "resume", "repeat", "go to step 5"):
        assert driver.say(words).say == "I keep that for when you are parked. Connect shore power."
        assert driver.state.walk is not None
        assert driver.state.walk.number == 2
    assert "Connect shore power waits at step 2: say resume." in driver.say("parked").show
    assert driver.say("resume").show[-2].startswith("Step 2 of ")


def test_a_hazard_still_speaks_first(driver: Conversation):
    """Its escape line, whole, and its steps."""
    driver.say("we're rolling")
    reply = driver.say("it smells of rotten eggs back here")

    assert reply.kind == "hazard"
    assert reply.say == driver.mind.knowledge.procedure("propane-smell").escape
    assert reply.show == (reply.say,)
    assert driver.say("next").step.index == 2  # type: ignore[union-attr]


def test_every_hazard_escapes_in_one_breath(mind: Mind):
    """No escape line is cut at the wheel."""
    for name in mind.knowledge.hazards:
        escape = mind.knowledge.procedure(name).escape
        assert rolling.shortened(escape) == escape, name


def test_a_hazard_is_said_before_a_timer_and_the_timer_is_not_lost(driver: Conversation):
    driver.say("remind me in 5 minutes to check the cord")
    driver.say("we're rolling")
    reply = driver.say("there is smoke coming from the back", minutes=10)

    assert reply.say == driver.mind.knowledge.procedure(reply.topic or "").escape
    assert "  Timer: Reminder: check the cord." in driver.say("we're parked").show


def test_a_timer_comes_before_another_answer(driver: Conversation):
    driver.say("remind me in 5 minutes to check the cord")
    driver.say("we're rolling")

    assert driver.say("thanks", minutes=10).say == "Reminder: check the cord. You are welcome."


@pytest.mark.parametrize(
    "words",
    [
        "can I just dump it in the ditch",
        "how many days does 120 gallons last 12 people",
        "fresh at two thirds, waste at forty percent, outside bottle a quarter, minus twelve out",
        "what's the capital of Peru",
        "help",
        "what readings do we have",
        "it won't open",
        "log a defect: " + "the rear bench squeaks and " * 12,
        "water " * 400,
    ],
)
def test_no_answer_is_longer_than_twelve_seconds(driver: Conversation, words: str):
    driver.say(
        "fresh at two thirds, waste at forty percent, outside bottle a quarter, minus twelve out, house 12.4 volts"
    )
    driver.say("we're rolling")
    reply = driver.say(words)

    assert 0 < len(reply.say.split()) <= rolling.MAX_WORDS
    assert reply.show == (reply.say,)


def test_a_number_is_still_worked_out(driver: Conversation):
    """Nothing to look at or to handle in it."""
    driver.say("we're rolling")
    reply = driver.say("how many days does 120 gallons last 12 people")

    assert reply.kind == "calculation"
    assert reply.estimate is not None


def test_a_reading_is_kept_without_moving_the_walk(driver: Conversation):
    driver.say("how do I fill the fresh tank")
    at = driver.state.walk
    assert at is not None
    driver.say("we're rolling")
    reply = driver.say("the fresh tank is full")

    assert reply.readings[0].what == "fresh"
    assert "Step" not in reply.say
    assert driver.state.walk is not None


def test_the_rest_of_a_cut_answer_is_there_at_the_stop(driver: Conversation):
    driver.say(
        "fresh at two thirds, waste at forty percent, outside bottle a quarter, minus twelve out, house 12.4 volts"
    )
    driver.say("we're rolling")
    cut = driver.say("what readings do we have")
    assert cut.say.endswith(rolling.MORE)
    driver.say("parked")

    assert len(driver.say("what readings do we have").show) == 5


def status(state: State, text: str, mind: Mind, minutes: int = 0) -> Outcome:
    """A duty status told, and what follows from it for the coach."""
    now = NOON + timedelta(minutes=minutes)
    told = duty.told(state, text, mind, now)
    assert told is not None
    return rolling.held(state, told, mind, now)


def test_the_duty_status_moves_the_coach(mind: Mind):
    """Driving sets it rolling, with its own answer; another status of the same driver parks it."""
    driving = status(State(kept=(Kept("", "dump-waste-tank"),)), "I'm driving", mind)
    parked = status(driving.state, "I'm off duty", mind, 60)

    assert driving.state.rolling
    assert EventDraft("rolling", {"on": True}) in driving.events
    assert not parked.state.rolling
    assert "  1. Dump the waste tank" in parked.reply.show
    assert EventDraft("rolling", {"on": False}) in parked.events


def test_a_co_driver_who_goes_to_bed_does_not_park_it(mind: Mind):
    rolls = status(State(actor="Bo"), "driver Ann is driving", mind)

    assert status(rolls.state, "I'm off duty", mind, 5).state.rolling


def test_a_change_at_the_wheel_keeps_it_rolling(mind: Mind):
    """Safer than to believe that the stop in between was long enough to type."""
    rolls = status(State(actor="Bo"), "driver Ann is driving", mind)
    both = status(rolls.state, "I'm driving", mind, 60)

    assert status(both.state, "driver Ann is off duty", mind, 61).state.rolling


def test_a_status_told_while_rolling_by_words_does_not_park_it(mind: Mind):
    """Who never was at the wheel cannot leave it."""
    assert status(State(rolling=True), "I'm off duty", mind).state.rolling


def test_nothing_changes_for_a_parked_coach(mind: Mind):
    turn = Outcome(State(), Reply("procedure", "word " * 99, ("line",)))

    assert rolling.held(State(), turn, mind, NOON) is turn


@given(st.lists(st.text("ab.,;:! ", min_size=1, max_size=60), max_size=12).map(" ".join), st.integers(3, 40))
def test_a_shortened_text_never_says_what_was_not_there(text: str, room: int):
    """At most the room, and a beginning of the text."""
    cut = rolling.shortened(text, room)

    assert len(cut.split()) <= room
    if cut != text:
        assert cut.endswith(rolling.MORE)
        kept = cut.removesuffix(rolling.MORE).rstrip(" .")
        assert " ".join(text.split()).startswith(" ".join(kept.split()))


def test_a_sentence_is_cut_only_where_it_pauses():
    """A number is never parted from its unit."""
    text = "Fresh lasts 2.5 days, between 2 and 3, if 12 people use 4 gallons each a day and nobody showers at all."

    assert rolling.shortened(text, 12) == "Fresh lasts 2.5 days, between 2 and 3. More when parked."


def test_announcements_without_room_are_handed_back():
    reply, left = rolling.short(Reply("control", "Fine.", ("Fine.",)), ["one " * 20, "two " * 20])

    assert reply.say.startswith("one one")
    assert left == ("two " * 20,)


# -- what is on record against it -------------------------------------------------------------


def test_a_defect_that_keeps_the_coach_is_said_at_once(driver: Conversation):
    driver.say("log the left rear wheel nut is missing")
    driver.say("it stops the coach")
    reply = driver.say("we're rolling")

    assert reply.say.startswith("STOP: defect 1. The coach must not move: ")
    assert driver.state.rolling


def test_one_that_nobody_has_looked_at_as_well(driver: Conversation):
    driver.say("log the bay 3 latch sticks")

    assert driver.say("we are under way").say.startswith("STOP: defect 1. The coach stays until you know: ")


def test_a_defect_that_can_wait_says_nothing(driver: Conversation):
    driver.say("log a cracked lamp at bay 4")
    driver.say("next service")

    assert driver.say("we're rolling").say.startswith("Rolling.")


def plugged_in(driver: Conversation) -> None:
    driver.say(SHORE)
    driver.until_step(12)


@pytest.mark.parametrize("told", ["the cord is plugged in", "we're plugged in", "I plugged in the shore cord"])
def test_a_cord_told_to_be_in(driver: Conversation, told: str):
    driver.state = State()
    driver.say(told)

    assert driver.state.cord_in


def test_a_cord_past_its_step_is_in(driver: Conversation):
    plugged_in(driver)
    reply = driver.say("we're rolling")

    assert reply.say.startswith("STOP: cord in.")
    assert len(reply.say.split(".")[0].split()) <= 6
    assert driver.state.rolling


@pytest.mark.parametrize(
    "told", ["unplugged the cord", "cord's off and stowed", "I've pulled the plug", "we're unplugged"]
)
def test_a_cord_told_to_be_off(driver: Conversation, told: str):
    plugged_in(driver)
    driver.say("stop")
    driver.say(told)

    assert not driver.state.cord_in
    assert driver.say("we're rolling").say.startswith("Rolling.")


@pytest.mark.parametrize(
    "told", ["the cord is not unplugged", "don't roll until the cord is unplugged", "is the cord off?"]
)
def test_a_cord_that_is_not_off_stays_in(driver: Conversation, told: str):
    plugged_in(driver)
    driver.say("stop")
    driver.say(told)

    assert driver.state.cord_in


def test_driving_on_record_says_it_too(driver: Conversation):
    plugged_in(driver)
    reply = driver.say("I'm driving now")
    if not driver.state.rolling:
        reply = driver.say("driving")

    assert driver.state.rolling
    assert "STOP: cord in." in reply.say


def test_a_danger_typed_while_rolling_is_answered(driver: Conversation):
    driver.say("we're rolling")

    assert driver.say("we smell gas").kind == "hazard"
