"""Taking up a conversation where it ended."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from cabassist.dialogue.resuming import RESUME_WITHIN, take_up
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from tests.dialogue.conversation import NOON

SHORE = "how do I plug in at the hotel"


@pytest.fixture
def journal() -> Iterator[Journal]:
    with Journal(IN_MEMORY) as made:
        yield made


def spoken(mind: Mind, journal: Journal, *texts: str) -> Session:
    """A session in which these were said, a minute apart from noon on."""
    session = Session(mind, journal)
    take_up(session, NOON)
    for minute, text in enumerate(texts):
        session.hear(text, NOON + timedelta(minutes=minute))
    return session


def again(mind: Mind, journal: Journal, hours: float) -> tuple[Session, str]:
    """A new session, some hours after noon."""
    session = Session(mind, journal)
    return session, take_up(session, NOON + timedelta(hours=hours))


def test_a_walk_is_offered_at_its_step(mind: Mind, journal: Journal):
    old = spoken(mind, journal, SHORE, "next", "next")
    session, offer = again(mind, journal, 1)

    assert offer == "You were at step 3 of 15: Connect shore power. Say resume, stop, or ask something else."
    assert session.state == old.state
    assert session.name == old.name
    assert session.hear("resume", NOON + timedelta(hours=1)).show[0].startswith("Step 3 of 15")


def test_a_walk_of_another_day_is_not(mind: Mind, journal: Journal):
    old = spoken(mind, journal, SHORE)
    session, offer = again(mind, journal, RESUME_WITHIN / timedelta(hours=1) + 0.1)

    assert offer == ""
    assert session.state.walk is None
    assert session.name != old.name


def test_a_timer_runs_on_to_its_own_time(mind: Mind, journal: Journal):
    """Also without a walk; over the gap it is neither lost nor started afresh."""
    spoken(mind, journal, "remind me in 90 minutes to check the cord")
    session, offer = again(mind, journal, 1)

    assert offer == ""
    assert [timer.due for timer in session.state.timers] == [NOON + timedelta(minutes=90)]
    assert session.announcements(NOON + timedelta(minutes=90)) == ("Reminder: check the cord.",)


def test_a_timer_that_ran_out_in_between_is_still_said(mind: Mind, journal: Journal):
    spoken(mind, journal, "remind me in 90 minutes to check the cord")
    session, _ = again(mind, journal, 2)

    assert session.announcements(NOON + timedelta(hours=2)) == ("Reminder: check the cord.",)


def test_an_announced_timer_is_not_announced_again(mind: Mind, journal: Journal):
    """It was said in silence, between two turns."""
    old = spoken(mind, journal, SHORE, "remind me in 10 minutes to check the cord")
    old.announcements(NOON + timedelta(minutes=30))
    session, _ = again(mind, journal, 1)

    assert session.state.timers == ()
    assert session.announcements(NOON + timedelta(hours=1)) == ()


def test_readings_are_known_on_the_next_day(mind: Mind, journal: Journal):
    """Without going on with the old conversation."""
    old = spoken(mind, journal, "fresh at two thirds", "waste at forty percent")
    session, _ = again(mind, journal, 40)

    assert [stored.reading.what for stored in session.state.stored] == ["fresh", "waste"]
    assert session.name != old.name


def test_deadlines_hold_on_the_next_day(mind: Mind, journal: Journal):
    """What was told yesterday still says until when to act today."""
    old = spoken(mind, journal, "outside cylinder full", "twenty five degrees outside")
    session, _ = again(mind, journal, RESUME_WITHIN / timedelta(hours=1) + 1)

    due = {timer.about: timer.due for timer in session.state.timers}
    assert due.keys() == {timer.about for timer in old.state.timers} == {"propane"}
    assert due["propane"] > NOON + RESUME_WITHIN


def test_readings_told_before_shape_the_same_walk_again(mind: Mind, journal: Journal):
    """The frost told yesterday gives the walk its winter steps, today and when it is taken up."""
    first = Session(mind, journal)
    first.hear("minus twenty out", NOON - timedelta(hours=2))
    old = spoken(mind, journal, "how do I drain the fresh tank")
    session, _ = again(mind, journal, 1)

    assert session.state == old.state


def test_it_still_rolls(mind: Mind, journal: Journal):
    """A restart on the road does not unlock the keys."""
    spoken(mind, journal, "how do I dump the waste tank", "stop", "we're rolling")
    session, _ = again(mind, journal, 0.1)

    assert session.state.rolling


def test_nothing_is_written(mind: Mind, journal: Journal):
    spoken(mind, journal, SHORE, "next")
    count = journal.count()
    again(mind, journal, 1)

    assert journal.count() == count


def test_another_coach_takes_up_nothing(mind: Mind, journal: Journal):
    spoken(mind, journal, SHORE)
    other = replace(mind, coach=mind.coach.model_copy(update={"id": "other"}))
    session, offer = again(other, journal, 1)

    assert offer == ""
    assert session.state.walk is None
