"""What follows from a reading at once: time left, questions, deadlines; and the whole when it is asked for."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cabassist.dialogue.board_words import moment_words
from cabassist.dialogue.deadlines import renewed
from cabassist.dialogue.types import Mind

from .conversation import NOON, Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind, "2026-01-15T08:00:00-06:00")


def deadlines(talk: Conversation) -> list[str]:
    return sorted(timer.about for timer in talk.state.timers if timer.about)


# -- time left ----------------------------------------------------------------------------------------------------


def test_a_reading_is_answered_with_the_time_left_and_when_to_act(talk: Conversation):
    """Two cylinders and the cold: echo first, then how long and by when."""
    talk.say("outside bottle's down to a quarter, inside one full")
    reply = talk.say("twelve below outside")

    assert reply.kind == "reading"
    assert reply.show[0] == "Outside -12 °F."
    assert reply.show[1].startswith("About ")
    assert "of heat, between" in reply.show[1]
    assert "fill by" in reply.show[1]
    assert reply.say == " ".join(reply.show)


def test_without_the_cold_it_asks_for_it(talk: Conversation):
    """Nothing is guessed."""
    assert talk.say("outside bottle's at a quarter").show[-1].startswith("Tell me the outside temperature")


def test_a_cylinder_that_nobody_read_is_named(talk: Conversation):
    """So that ten hours are not taken for all there is."""
    reply = talk.say("outside bottle's down to a quarter, minus twelve out")

    assert reply.show[-2].endswith("Without the inside cylinder, which nobody has read.")


def test_the_first_forecast_of_heat_says_whom_it_counts_and_who_sleeps_here_renews_it(talk: Conversation):
    """An empty coach burns more than one full of people: 24 are counted where nobody has told."""
    first = talk.say("outside 5 below, both bottles at 60")
    assert first.show[-1] == "That counts 24 people aboard, who warm it. Tell me how many sleep here."
    many = min(timer.due for timer in talk.state.timers)

    reply = talk.say("just me")

    assert reply.show[0] == "1 person aboard."
    assert "of heat" in reply.show[1]
    assert min(timer.due for timer in talk.state.timers) < many
    assert "Tell me how many" not in talk.say("both bottles at 55 now").say


def test_a_waste_level_that_use_cannot_explain_stands_as_it_was_read(talk: Conversation):
    """80 after 60 a minute before: the time left is that of 80, and water left running is asked about."""
    talk.say("waste is at 60")
    reply = talk.say("waste is at 80 now")

    assert "look for water left running" in reply.say
    left = talk.state.worked
    assert left is not None
    assert left.estimate is not None
    # 8 gallons of room to 90 % at 24 x 1.6 ÷ 24 = 1.6 gal an hour is five hours by day; what ran in so fast makes it no more
    assert left.estimate.value is not None
    assert 2.5 <= left.estimate.value <= 5.5


def test_why_after_a_reading_gives_the_working(talk: Conversation):
    """And the source, and the plain number."""
    talk.say("waste at forty percent")
    why = talk.say("why")

    assert why.show[0] == "Working:"
    assert any("72 - 32 = 40 gal" in line for line in why.show)
    assert talk.say("how do you know").say.startswith("From: ")
    assert talk.say("just the number").say.endswith(" h")


def test_why_in_a_walk_is_about_the_step(talk: Conversation):
    """A number told on the way does not get in between."""
    talk.say("how do I connect shore power")
    talk.say("waste at forty percent")

    assert talk.say("why").kind == "step"


def test_only_two_supplies_are_spoken_and_all_are_shown(talk: Conversation):
    """The ear gets the most urgent ones."""
    reply = talk.say("fresh half, waste at forty percent, diesel three quarters")
    told = [line for line in reply.show if line.startswith("About ")]

    assert len(told) == 3
    assert sum(line in reply.say for line in told) == 2
    assert "dump by" in told[0]


# -- deadlines ----------------------------------------------------------------------------------------------------


def test_a_newer_reading_moves_the_one_deadline(talk: Conversation):
    """Never two for a tank."""
    talk.say("waste at thirty percent")
    first = talk.state.timers
    talk.say("waste at forty five percent", 60)

    assert deadlines(talk) == ["waste"]
    assert talk.state.timers[0].due < first[0].due


def test_a_deadline_is_announced_once(talk: Conversation):
    """At the time that was said."""
    reply = talk.say("waste at seventy percent")
    due = talk.state.timers[0].due
    assert "dump by" in reply.say

    assert talk.wait((due - talk.now).total_seconds() / 60 - 1) == ()
    assert talk.wait(2) == ("Dump by now: in an hour the waste tank may be at 90 percent.",)
    assert talk.wait(600) == ()


def test_what_is_due_already_is_said_and_no_timer_is_set(talk: Conversation):
    """Waste at 88 percent."""
    assert "dump now" in talk.say("waste at eighty eight percent").say
    assert deadlines(talk) == []


def test_undo_takes_the_deadline_back(talk: Conversation):
    """The one that stood before stands again."""
    talk.say("waste at thirty percent")
    before = talk.state.timers
    talk.say("waste at sixty percent")
    talk.say("undo")

    assert talk.state.timers == before


def test_a_correction_moves_the_deadline_too(talk: Conversation):
    """ "No, make that fifty" counts from fifty."""
    talk.say("waste at eighty eight percent")
    talk.say("no, make that fifty")

    assert deadlines(talk) == ["waste"]


def test_colder_air_moves_the_fill_by_time(talk: Conversation):
    """The propane was not read again, but it goes faster."""
    talk.say("outside bottle half, inside full, twenty above out")
    before = talk.state.timers[0].due
    talk.say("outside temp is minus twenty", 30)

    assert deadlines(talk) == ["propane"]
    assert talk.state.timers[0].due < before


def test_timers_are_told_in_hours_when_they_are_far_off(talk: Conversation):
    """Nobody counts 1,558 minutes."""
    talk.say("waste at ten percent")

    assert " hours to go, then: Dump by now" in talk.say("what timers are running").say


def test_a_new_conversation_sets_the_deadlines_of_what_is_known(talk: Conversation, mind: Mind):
    """From the readings alone."""
    talk.say("waste at thirty percent, fresh at half")
    timers = talk.state.timers
    again = renewed(talk.state, mind, talk.now)

    assert sorted(t.about for t in again.timers) == ["fresh", "waste"]
    assert len(again.timers) == len(timers)


# -- readings that do not fit -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("first", "second", "asked"),
    [
        ("fresh at forty percent", "fresh at seventy percent", "up from 40 %, and no fill was told. Was it filled?"),
        ("waste at sixty percent", "waste at twenty percent", "down from 60 %, and no dump was told. Was it dumped?"),
        ("diesel at a half", "diesel at three quarters", "up from 50 %, and no fill was told. Was it filled?"),
        ("outside bottle a quarter", "outside bottle three quarters", "Was it filled or swapped?"),
        ("waste at twenty percent", "waste at sixty percent", "look for water left running"),
    ],
)
def test_a_reading_that_does_not_fit_is_recorded_and_questioned(
    talk: Conversation, first: str, second: str, asked: str
):
    """In one short line; it stands until it is taken back."""
    talk.say(first)
    reply = talk.say(second, 30)

    assert len(talk.state.stored) == 2
    assert sum(asked in line for line in reply.show) == 1
    assert asked in reply.say


def test_propane_falling_five_times_too_fast_may_be_a_leak(talk: Conversation):
    """Three quarters of a cylinder in an hour: flat out two furnaces burn a sixth of that."""
    talk.say("outside bottle full, inside full, ten above out")
    reply = talk.say("outside bottle a quarter", 60)

    assert any("as far as expected" in line and "check for a leak" in line for line in reply.show)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("fresh at forty percent", "fresh is full"),
        ("waste at sixty percent", "waste is empty"),
        ("fresh at forty percent", "filled up, fresh at eighty percent"),
        ("waste at sixty percent", "just dumped, waste at fifteen percent"),
        ("outside bottle a quarter", "swapped it, outside bottle at ninety percent"),
        ("fresh at forty percent", "fresh at forty three percent"),
        ("waste at forty percent", "waste at forty five percent"),
    ],
)
def test_what_fits_is_not_questioned(talk: Conversation, first: str, second: str):
    """A fill to the brim, a dump that was told, a needle that wanders."""
    talk.say(first)
    reply = talk.say(second, 90)

    assert not any("?" in line for line in reply.show)


def test_in_a_fill_a_rising_level_is_no_surprise(talk: Conversation):
    """Nobody asks whether it was filled while it is being filled."""
    talk.say("fresh at forty percent")
    talk.say("how do I fill the fresh water")

    assert not any("Was it filled" in line for line in talk.say("fresh at seventy percent", 10).show)


# -- the whole ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "question",
    ["how are we doing", "what's the outlook?", "what's the board", "how do we stand", "anything running low"],
)
def test_the_whole_is_answered_from_the_board(talk: Conversation, question: str):
    """A calculation; the most urgent first for the ear, every supply for the eye."""
    talk.say("fresh half, waste at forty percent")
    reply = talk.say(question)

    assert reply.kind == "calculation"
    assert reply.say.startswith("Waste: dump by ")
    assert [line.partition(":")[0] for line in reply.show[:2]] == ["Fresh water", "Waste"]
    assert reply.show[2].startswith("Not read yet: outside cylinder")
    assert reply.estimate is not None
    assert reply.estimate.working
    assert talk.say("why").show[0] == "Working:"


def test_the_whole_of_one_supply(talk: Conversation):
    """Only what is named."""
    talk.say("fresh half, waste at forty percent")

    assert len(talk.say("how are we doing on fresh water overall").show) == 1


def test_nothing_told_nothing_known(talk: Conversation):
    """It says what to tell."""
    reply = talk.say("how are we doing")

    assert reply.say == "No level is known yet. Tell me the tanks, the cylinders and how cold it is outside."
    assert reply.estimate is None


def test_the_whole_inside_a_walk_comes_back_to_it(talk: Conversation):
    """The step in hand is named."""
    talk.say("how do I connect shore power")
    reply = talk.say("how are we doing")

    assert reply.step is not None
    assert reply.show[-1].startswith("You are at step 1 of ")


@pytest.mark.parametrize(
    "said", ["so what gives out first", "which one do I have to look after first", "what's most urgent", "which of them will run out first"]
)  # fmt: skip
def test_what_comes_first_is_said_first(talk: Conversation, said: str):
    talk.say("waste is two thirds")
    talk.say("fresh is half")
    reply = talk.say(said)
    assert reply.kind == "calculation"
    assert reply.show[0].startswith("Waste first: dump by ")
    assert reply.say.startswith("Waste first")


def test_weather_is_no_outlook_of_ours(talk: Conversation):
    """Nobody forecasts the weather here."""
    assert talk.say("what's the weather outlook").kind != "calculation"


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (2.1, "14:05 today"),
        (9.6, "21:35 tonight"),
        (1.99, "13:55 today"),
        (14.5, "02:30 tonight"),
        (20.02, "08:00 tomorrow morning"),
        (26.9, "14:00 tomorrow afternoon"),
        (39.2, "early Saturday, 03:00"),
        (54.9, "Saturday evening, 18:00"),
        (24 * 9.0, "Saturday 24 January, 12:00"),
    ],
)
def test_clock_times_are_said_on_the_safe_side(hours: float, words: str):
    """Cut down, never up; the small hours are never put to the wrong day."""

    assert moment_words(NOON + timedelta(hours=hours), NOON) == words
